package begin

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"kitmuster/lint/load"
	"kitmuster/lint/rewrite"
)

// thing is something that a pack usually holds, as the rules of the base standard want it. What only the family knows, such as an amount,
// is left out of is.
type thing struct {
	key, is string
	// halted: it may lie where a hand gets in only when the pack is off.
	halted bool
	// once: one for the household, in the first pack.
	once bool
}

var things = []thing{
	{key: "whistle", is: `can: signal: "whistle"`},
	{key: "headlamp", is: `can: light: "headlamp", device: {}`},
	{key: "lighter", is: `can: fire: "gas-lighter"`},
	{key: "matches", is: `can: fire: "matches"`},
	{key: "water_bottle", is: `container: {}`},
	{key: "first_aid_pouch", is: `can: first_aid: "kit", firstAid: {}`},
	{key: "paper_map", is: `can: navigate: "map"`},
	{key: "identity_papers", is: `documents: ["identity"]`},
	{key: "small_notes", is: `cash: {amount: "not counted yet", smallNotes: true}`},
	{key: "pressure_bandage", is: `can: bleeding: "pressure-bandage"`, once: true},
	{key: "knife", is: `can: cut: "knife"`, once: true},
	{key: "radio", is: `can: communicate: "receiver", radio: {}, device: {}`, once: true},
	{key: "ready_food", is: `food: {}`, halted: true},
	{key: "water_filter", is: `treat: method: "filter"`, halted: true},
	{key: "sleeping_bag", is: `can: warmth: "sleeping-bag", insulation: kind: "sleeping-bag"`, halted: true},
	{key: "foam_pad", is: `can: ground: "foam-pad"`, halted: true},
	{key: "rain_jacket", is: `can: rain: "jacket"`, halted: true},
	{key: "hat", is: `can: sun: "hat", insulation: kind: "hat"`, halted: true},
	{key: "respirator", is: `can: breathe: "ffp2"`, halted: true},
	{key: "soap", is: `can: hygiene: "soap"`, halted: true},
	{key: "toilet_paper", is: `can: hygiene: "toilet-paper"`, halted: true},
	{key: "work_gloves", is: `can: gloves: "work"`, halted: true},
	{key: "power_bank", is: `cells: {size: "usb", chemistry: "lithium-ion"}`, halted: true},
	{key: "tarp", is: `can: shelter: "tarp"`, halted: true, once: true},
	{key: "cord", is: `can: repair: "cord"`, halted: true, once: true},
	{key: "can_opener", is: `can: open_cans: "can-opener"`, halted: true, once: true},
}

// named is someone, or a medicine, by the key of the question and the key in the kit.
type named struct{ q, key, name string }

// all are the entries that were given under a question.
func (a Answers) all(prefix string) (out []named) {
	for i := 1; i <= most; i++ {
		q := prefix + " " + strconv.Itoa(i)
		v, ok := a[q]
		if !ok || v == none {
			break
		}
		word := prefix[strings.LastIndex(prefix, " ")+1:] + "_" + strconv.Itoa(i)
		key := word
		if v != unknown {
			key = cmp.Or(load.PlainName(v), word)
		} else {
			v = ""
		}
		if slices.ContainsFunc(out, func(n named) bool { return n.key == key }) {
			key = word
		}
		out = append(out, named{q, key, v})
	}
	return out
}

// text writes lines of CUE.
type text struct{ strings.Builder }

func (t *text) line(format string, args ...any) { fmt.Fprintf(t, format+"\n", args...) }

// field writes a quantity or a word, or, where it is not known, a comment that says what to write. why is what it is for.
func (t *text) field(a Answers, q, field, like string) {
	if v := a.known(q); v != "" {
		t.line("%s: %s", field, quoted(v))
		return
	}
	t.line("// Not known yet: %s, written like %s.", field, like)
}

// open begins an entry, with its name where the key does not say it.
func (t *text) open(n named) {
	t.line("%s: {", rewrite.Label(n.key))
	if n.name != "" && n.name != n.key {
		t.line("name: %s", quoted(n.name))
	}
}

// Files are the first files of a kit, by name: the household, each pack, and what several packs hold alike. A thing that is still to be
// packed is a comment, so that nothing counts it.
func Files(a Answers) (map[string][]byte, error) {
	people, animals := a.all("person"), a.all("animal")
	texts := map[string]string{"household.cue": household(a, people, animals)}
	var carriers []named
	for _, p := range people {
		if a[p.q+" pack"] == "yes" {
			carriers = append(carriers, p)
		}
	}
	for i, p := range carriers {
		texts["pack_"+p.key+".cue"] = pack(a, p, i == 0, len(carriers) > 1, people, animals)
	}
	if len(carriers) > 1 {
		texts["catalogue.cue"] = catalogue()
	}
	out := map[string][]byte{}
	for name, s := range texts {
		b, err := rewrite.Format([]byte(s))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		out[name] = b
	}
	return out, nil
}

func household(a Answers, people, animals []named) string {
	t := &text{}
	t.line("// Begun with kitmuster new. What is not known yet stands in a comment: write it below the comment, and take the comment out.")
	t.line("package kit\n")
	t.line("household: %s\n", quoted(cmp.Or(a.known("household"), "Our household")))
	t.line("people: {")
	for _, p := range people {
		t.open(p)
		switch v := a.known(p.q + " age"); {
		case len(v) == len("2006-01-02") && v[4] == '-':
			t.line("born: %s", quoted(v))
		default:
			t.field(a, p.q+" age", "age", `"42 y"`)
		}
		t.field(a, p.q+" weight", "bodyMass", `"68 kg"`)
		switch a[p.q+" pack"] {
		case "no":
			t.line("carries: false")
		case unknown:
			t.line("// Not known yet: a pack of its own, or carries: false.")
		}
		t.medications(a, p)
		t.line("}")
	}
	t.line("}")
	t.animals(a, animals)
	t.plan(a)
	return t.String()
}

func (t *text) medications(a Answers, p named) {
	ms := a.all(p.q + " medicine")
	if len(ms) == 0 {
		return
	}
	t.line("medications: {")
	for _, m := range ms {
		t.open(m)
		switch v := a.known(m.q + " doses"); v {
		case "":
			t.line("// Not known yet: doses a day, written like perDay: 2, or asNeeded: true.")
		case "as needed":
			t.line("asNeeded: true")
		default:
			n, _ := strconv.ParseFloat(v, 64) // take has read it
			t.line("perDay: %s", strconv.FormatFloat(n, 'f', -1, 64))
		}
		t.line("}")
	}
	t.line("}")
}

// animals writes those whose kind and weight are known; the others stand in comments, since no animal is read without them.
func (t *text) animals(a Answers, animals []named) {
	var lacking []string
	open := false
	for _, n := range animals {
		if a.known(n.q+" kind") == "" || a.known(n.q+" weight") == "" {
			lacking = append(lacking, fmt.Sprintf("// Not in the kit yet: %s. Write it once kind and weight are known, like\n// animals: %s: {species: \"dog\", bodyMass: \"24 kg\"}", cmp.Or(n.name, "an animal"), rewrite.Label(n.key)))
			continue
		}
		if !open {
			t.line("\nanimals: {")
			open = true
		}
		t.open(n)
		t.line("species: %s", quoted(a[n.q+" kind"]))
		t.line("bodyMass: %s", quoted(a[n.q+" weight"]))
		t.medications(a, n)
		t.line("}")
	}
	if open {
		t.line("}")
	}
	for _, l := range lacking {
		t.line("\n%s", l)
	}
}

func (t *text) plan(a Answers) {
	t.line("\nplan: {")
	t.field(a, "duration", "duration", `"72 h"`)
	list := func(q, field string) {
		if v := a.known(q); v != "" {
			var all []string
			for _, w := range strings.Split(v, ", ") {
				all = append(all, quoted(w))
			}
			t.line("%s: [%s]", field, strings.Join(all, ", "))
		}
	}
	list("hazards", "hazards")
	list("settings", "settings")
	t.field(a, "latitude", "latitude", `"47.5 N"`)
	season := cmp.Or(load.PlainName(a.known("season")), "first")
	if a.known("day") != "" && a.known("night") != "" {
		t.line("season: %s", quoted(season))
		t.line("// These figures are from: %s.", cmp.Or(strings.TrimRight(a.known("weather from"), ". "), "not said yet"))
		t.line("seasons: %s: {", rewrite.Label(season))
		t.field(a, "day", "day", "")
		t.field(a, "night", "night", "")
		t.line("// Not known yet: humidity, wind and the last day of it, written like humidity: \"60 %%\", wind: \"20 km/h\", until: \"2027-03-31\".")
		t.line("}")
	} else {
		t.line("// Not known yet: how warm day and night are, of which Kitmuster makes up nothing. Write what your weather service publishes, like")
		t.line("// season: %s", quoted(season))
		t.line("// seasons: %s: {day: %s, night: %s}", rewrite.Label(season), quoted(cmp.Or(a.known("day"), "31 °C")), quoted(cmp.Or(a.known("night"), "17 °C")))
	}
	if a.known("distance") != "" {
		t.line("legs: walk: {\norder: 1")
		t.field(a, "distance", "distance", "")
		t.field(a, "climb", "climb", `"120 m"`)
		t.line("}")
	} else {
		t.line("// Not known yet: the way, written like legs: walk: {order: 1, distance: \"6.5 km\"}.")
	}
	if v := a.known("destination"); v != "" {
		t.line("// What awaits you there: add water: true, food: true, beds: true where that is sure.")
		t.line("destination: kind: %s", quoted(v))
	}
	if v := a.known("meeting point"); v != "" {
		t.line("meetingPoints: first: where: %s", quoted(v))
	} else {
		t.line("// Not known yet: where you meet, written like meetingPoints: first: where: \"the north door of the school\".")
	}
	if v := a.known("contact"); v != "" {
		t.line("contacts: first: {\nname: %s", quoted(v))
		t.field(a, "contact phone", "phone", `"555 0100"`)
		if a["contact far"] == "yes" {
			t.line("outOfArea: true")
		}
		t.line("}")
	} else {
		t.line("// Not known yet: whom to call, written like contacts: first: {name: \"Ines\", phone: \"555 0100\", outOfArea: true}.")
	}
	t.line("}")
}

// pack is a pack with nothing in it: what is still to be packed stands in comments.
func pack(a Answers, p named, first, shared bool, people, animals []named) string {
	t := &text{}
	t.line("// Still to be packed, as the standard wants it: everything that stands behind // here. Nothing of it counts until you take the // away.")
	t.line("// Do so when the thing lies in the pack; leave out what you have not got. kitmuster check then says what is not recorded of it, and kitmuster weigh writes its mass.")
	t.line("package kit\n")
	t.line("packs: %s: {", rewrite.Label(p.key))
	if p.name != "" {
		t.line("name: %s", quoted(p.name+"'s pack"))
	}
	t.line("carrier: %s", quoted(p.key))
	t.field(a, p.q+" pack weight", "mass", `"1.2 kg"`)
	for _, halted := range []bool{false, true} {
		place, reach := "lid", "walking"
		if halted {
			place, reach = "main", "halted"
		}
		t.line("\ncompartments: %s: {\nreach: %q\nitems: {", place, reach)
		for _, th := range things {
			switch {
			case th.halted != halted || th.once && !first:
			case shared && !th.once:
				t.line("// %s: _catalogue.%s", th.key, th.key)
			default:
				t.line("// %s: {%s}", th.key, th.is)
			}
		}
		if !halted {
			t.supplies(a, p, first, people, animals)
		}
		t.line("}\n}")
	}
	t.line("}")
	return t.String()
}

// supplies are medicines and what leads an animal. Each person's medicine goes into their own pack, everything else into the first.
func (t *text) supplies(a Answers, p named, first bool, people, animals []named) {
	of := func(n named) {
		for _, m := range a.all(n.q + " medicine") {
			t.line("// %s: {medicine: {person: %q, of: %q, doses: number}} // count the doses and write them for number; add the last day by the label: expires", rewrite.Label(m.key), n.key, m.key)
		}
	}
	for _, n := range people {
		if n.key == p.key || first && a[n.q+" pack"] != "yes" {
			of(n)
		}
	}
	if !first {
		return
	}
	for _, n := range animals {
		if kind := a.known(n.q + " kind"); kind != "" && a.known(n.q+" weight") != "" {
			of(n)
			lead := map[string]string{"cat": "carrier", "horse": "halter"}
			t.line("// %s: {can: lead: %q, owner: %q}", rewrite.Label(n.key+"_lead"), cmp.Or(lead[kind], "lead"), n.key)
			t.line("// %s: {food: for: %q}", rewrite.Label(n.key+"_food"), n.key)
		}
	}
}

// catalogue holds what several packs hold alike, said once.
func catalogue() string {
	t := &text{}
	t.line("// What several packs hold alike is said here once. Being here packs nothing: a thing counts where a pack names it.")
	t.line("package kit\n\n_catalogue: {")
	for _, th := range things {
		if !th.once {
			t.line("%s: {%s}", th.key, th.is)
		}
	}
	t.line("}")
	return t.String()
}
