package lint_test

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/testkit"
)

// bareHouseholds have people, animals, dangers and needs of every kind, and nothing to meet them with.
var bareHouseholds = map[string]string{
	"on foot in the cold": `
people: {
	ana: {age: "42 y", sex: "female", bodyMass: "68 kg", glasses: {}, hearingAids: size: "312", medications: {pill: perDay: 1, pen: {name: "adrenaline pen", asNeeded: true, rescue: true}, drops: {name: "eye drops", asNeeded: true}}}
	ben: {age: "44 y", sex: "male", bodyMass: "80 kg", diets: ["vegetarian"], allergies: wasp: {severe: true, medication: "shot"}, medications: shot: {name: "adrenaline shot", asNeeded: true}}
	cy: {age: "70 y", sex: "male", bodyMass: "75 kg", moves: "cane", conditions: ["insulin"], hears: "no"}
	mia: {age: "7 y", bodyMass: "22 kg", with: ["ana"]}
	bo: {age: "5 months", bodyMass: "7 kg", carries: false, carriedBy: "ben", fed: "formula"}
}
animals: {
	rex: {species: "dog", bodyMass: "24 kg", medications: drug: perDay: 1}
	mimi: {species: "cat", bodyMass: "4 kg"}
}
plan: {
	duration: "48 h", season: "frost", seasons: frost: {day: "2 °C", night: "-6 °C", humidity: "70 %", wind: "10 km/h", daylight: "9 h"}
	settings: ["woodland", "snow"], hazards: ["flood", "quake", "industrial"]
	legs: road: {order: 1, distance: "6 km", ground: "snow"}
	waterSources: {tap: {quality: "tap", key: true, leg: "road"}, ditch: {quality: "turbid", leg: "road"}}
	meetingPoints: hill: where: "the hill"
}
`,
	"in the heat, and no way": `
people: {
	ana: {age: "42 y", sex: "female", bodyMass: "68 kg", conditions: ["epilepsy"], medications: pill: perDay: 1}
	ben: {age: "44 y", sex: "male", bodyMass: "80 kg", medications: shots: {name: "insulin", perDay: 2}}
	lil: {age: "2 y", bodyMass: "12 kg", carries: false, carriedBy: "ben", nappies: true}
}
plan: {
	duration: "72 h", season: "hot", seasons: hot: {day: "34 °C", night: "22 °C", humidity: "40 %", daylight: "14 h"}
	settings: ["town"], hazards: ["fire", "volcano"]
	lists: ["ready-basic"]
}
`,
}

// withThing is a household of which each person with a pack, or on the body, has one thing; what is written of it, or "".
func withThing(people, name, write string) fstest.MapFS {
	var b strings.Builder
	fmt.Fprintf(&b, "package kit\n\nhousehold: \"Test\"\n%s\n", people)
	carriers := []string{"ana", "ben"}
	if strings.Contains(people, "cy:") {
		carriers = append(carriers, "cy")
	}
	for _, who := range carriers {
		whose := strings.NewReplacer(`person: "…"`, fmt.Sprintf("person: %q", who), `of: "…"`, `of: "pill"`, `comfort: "…"`, `comfort: "-10 °C"`,
			`capacity: "…"`, `capacity: "1 L"`, `water: "…"`, `water: "1 L"`, `energy: "…"`, `energy: "1700 kcal"`, `cookWater: "…"`, `cookWater: "0.8 L"`, `cookTime: "…"`, `cookTime: "12 min"`, `size: "…"`, `size: "AA"`, `runTime: "…"`, `runTime: "20 h"`).Replace(write)
		fmt.Fprintf(&b, "packs: %s: {carrier: %q, mass: \"1 kg\", compartments: main: {reach: \"walking\", items: thing: {name: %q, count: 20, mass: \"50 g\"", "p"+who, who, name)
		if whose != "" {
			fmt.Fprintf(&b, ", %s", whose)
		}
		b.WriteString("}}}\n")
	}
	return fstest.MapFS{"a/kit.cue": {Data: []byte(b.String())}}
}

var figures = regexp.MustCompile(`[0-9.,]+`)

// saidOf is what rules say is missing, by rule and text without its figures. notRecorded counts what is said of things that are not recorded.
func saidOf(t *testing.T, b *judge.Rulebook, tree fstest.MapFS) (said []string, notRecorded int) {
	t.Helper()
	out := household.Judge(t.Context(), tree, b, "a", household.Options{On: day(t)})
	for _, f := range out.Findings {
		switch {
		case f.Rule == judge.NotRecorded:
			if strings.Contains(f.Spot, "/items/thing") {
				notRecorded++
			}
		case f.OfInput() || against(f.Rule): // as of a use that is written for someone else, or of what the thing weighs
		case !strings.Contains(f.Message, "not recorded"):
			said = append(said, f.Rule+": "+figures.ReplaceAllString(f.Message, "#"))
		}
	}
	return said, notRecorded
}

// What is only a name is not missing: whatever a thing answers that is written out, it answers by its name alone, and no rule says that it
// is not there. Each sense of the vocabulary is tried under one of its English words, so a new one is by itself.
func TestWhatIsOnlyANameIsNotMissing(t *testing.T) {
	t.Parallel()
	b := rulebook(t)
	var senses map[string]json.RawMessage
	var english struct{ Words map[string][]string }
	for file, into := range map[string]any{"senses": &senses, "en": &english} {
		data, err := os.ReadFile("vocabulary/" + file + ".json")
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(data, into); err != nil {
			t.Fatal(err)
		}
	}
	settled := 0
	for _, id := range testkit.Spread(t, 24, sortedNames(senses)) {
		word := english.Words[id][0]
		for _, kind := range sortedNames(bareHouseholds) {
			people := bareHouseholds[kind]
			named := withThing(people, word, "")
			write := toldToWrite(t, b, named)
			if write == "" || strings.Contains(write, `for: "…"`) { // a thing that is known and has no field, or that nobody here eats
				continue
			}
			without, _ := saidOf(t, b, withThing(people, "gismo", ""))
			with, _ := saidOf(t, b, withThing(people, word, write))
			only, spoken := saidOf(t, b, named)
			if spoken == 0 {
				t.Errorf("%s (%s), %s: nothing says that it is not recorded", id, word, kind)
			}
			for _, s := range only {
				if slices.Contains(without, s) && !slices.Contains(with, s) && !(id == "phone" && strings.HasPrefix(s, "light/")) { // a phone is no light to walk by
					t.Errorf("%s (%s), %s: said of the name alone, and not of %s: %s", id, word, kind, write, s)
				}
			}
			for _, s := range without {
				if !slices.Contains(only, s) {
					settled++
				}
			}
		}
	}
	if settled < 20 {
		t.Errorf("names settle %d findings, want at least 20: the households lack nothing", settled)
	}
}

// Where several people lack a thing, one who may have it by a name alone is not among those who are said to lack it: whom a rule no longer
// names once the thing is written out, it does not name for the name either.
func TestWhoMayHaveItIsNotSaidToLackIt(t *testing.T) {
	t.Parallel()
	b := rulebook(t)
	var english struct{ Words map[string][]string }
	data, err := os.ReadFile("vocabulary/en.json")
	if err == nil {
		err = json.Unmarshal(data, &english)
	}
	if err != nil {
		t.Fatal(err)
	}
	people := bareHouseholds["on foot in the cold"]
	// Only ana has the thing; the others have something else.
	of := func(name, write string) fstest.MapFS {
		tree := withThing(people, name, write)
		text := string(tree["a/kit.cue"].Data)
		for _, who := range []string{"ben", "cy"} {
			text = regexp.MustCompile(`(?m)^packs: p`+who+`: .*$`).ReplaceAllString(text, "packs: p"+who+`: {carrier: "`+who+`", mass: "1 kg", compartments: main: {reach: "walking", items: gismo: mass: "50 g"}}`)
		}
		return fstest.MapFS{"a/kit.cue": {Data: []byte(text)}}
	}
	names := func(tree fstest.MapFS) map[string]bool {
		out := map[string]bool{}
		for _, f := range household.Judge(t.Context(), tree, b, "a", household.Options{On: day(t)}).Findings {
			if !strings.Contains(f.Message, "not recorded") && regexp.MustCompile(`\bana\b`).MatchString(f.Message) {
				out[f.Rule] = true
			}
		}
		return out
	}
	without, apart := names(of("gismo", "")), 0
	for _, id := range testkit.Spread(t, 3, []string{"rain-jacket", "socks", "clothing", "boots", "contact-list", "map", "goggles", "menstrual", "n95", "shoes", "warm-gloves", "warm-hat", "water"}) {
		word := english.Words[id][0]
		tree := of(word, "")
		write := toldToWrite(t, b, tree)
		if write == "" || strings.Contains(write, `for: "…"`) {
			continue
		}
		written, only := names(of(word, write)), names(tree)
		for rule := range without {
			if !written[rule] && !against(rule) {
				apart++
				if only[rule] {
					t.Errorf("%s (%s): %s names ana, who may have it", id, word, rule)
				}
			}
		}
	}
	if apart == 0 {
		t.Error("no finding stops to name ana")
	}
}

// A name that may mean something else is suggested, and silences nothing: what is said with it is what is said without.
func TestDoubtfulNamesSilenceNothing(t *testing.T) {
	t.Parallel()
	b := rulebook(t)
	without := map[string][]string{}
	for kind, people := range bareHouseholds {
		without[kind], _ = saidOf(t, b, withThing(people, "gismo", ""))
	}
	for _, name := range testkit.Spread(t, 4, []string{"steam whistle", "laundry_basket", "dog_whistle", "matchbox_car", "carnival jacket", "fish_knife", "boots_tree"}) {
		for _, kind := range sortedNames(bareHouseholds) {
			with, _ := saidOf(t, b, withThing(bareHouseholds[kind], name, ""))
			for _, s := range without[kind] {
				if !slices.Contains(with, s) && !strings.HasPrefix(s, "data/") {
					t.Errorf("%s, %s: no longer said: %s", name, kind, s)
				}
			}
		}
	}
}

// toldToWrite is what data/not-recorded tells a family to write of its thing; "" where it says nothing.
func toldToWrite(t *testing.T, b *judge.Rulebook, tree fstest.MapFS) string {
	t.Helper()
	m := household.MeasureFor(tree, "a", b, household.Options{On: day(t)})
	for _, u := range m.Facts.Unrecorded {
		if strings.HasSuffix(u.ID, "/items/thing") && u.What == "" {
			return u.Write
		}
	}
	return ""
}

func sortedNames[V any](m map[string]V) (names []string) {
	for name := range m {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// A lack of what is only not recorded is one finding, at the thing, a level milder; where it is waived, or the thing is, nothing is graver.
func TestALackOfWhatIsNotRecordedIsOneFinding(t *testing.T) {
	t.Parallel()
	b := rulebook(t)
	const home = `package kit

household: "Test"
people: ana: {age: "42 y", bodyMass: "68 kg"}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: main: {reach: "walking", items: {
	lighter: mass: "20 g"
	steel: {name: "ferro rod", mass: "20 g"}
}}}
`
	const lighter, steel = "packs/rust/compartments/main/items/lighter", "packs/rust/compartments/main/items/steel"
	said := func(more string) (out []string) {
		answer := household.Judge(t.Context(), fstest.MapFS{"a/kit.cue": {Data: []byte(home + more)}}, b, "a", household.Options{On: day(t)})
		for _, f := range answer.Findings {
			if f.Rule == "fire/two-means" || f.Rule == judge.NotRecorded && (f.Spot == lighter || f.Spot == steel) {
				needs := ""
				if strings.HasSuffix(f.Message, "; fire/two-means needs it") {
					needs = " needed"
				}
				if f.Waived != nil {
					needs += " waived"
				}
				out = append(out, fmt.Sprintf("%s %s %s%s", f.Level, f.Rule, strings.TrimPrefix(f.Spot, "packs/rust/compartments/main/items/"), needs))
			}
		}
		slices.Sort(out)
		return out
	}
	waiver := func(rule, at string) string {
		return fmt.Sprintf("record: waivers: w: {rule: %q%s, reason: \"the circle knows\", until: \"2026-11-20\"}\n", rule, at)
	}
	for _, c := range []struct {
		name, more string
		want       []string
	}{
		{"as it is", "", []string{"note data/not-recorded steel needed", "warning data/not-recorded lighter needed"}},
		{"the lack is waived", waiver("fire/two-means", ""), []string{"note data/not-recorded lighter", "note data/not-recorded steel", "warning fire/two-means packs/rust waived"}},
		{"the first thing is waived", waiver(judge.NotRecorded, `, spot: "`+lighter+`"`), []string{"note data/not-recorded lighter waived", "warning data/not-recorded steel needed"}},
		{"all things are waived", waiver(judge.NotRecorded, ""), []string{"note data/not-recorded lighter waived", "note data/not-recorded steel waived", "warning fire/two-means packs/rust"}},
		{"something was not read", "packs: rust: compartments: main: items: {lighter: can: fire: 7, steel: can: fire: 7}\n", []string{"warning fire/two-means packs/rust"}},
	} {
		if got := said(c.more); !slices.Equal(got, c.want) {
			t.Errorf("%s:\n got %q\nwant %q", c.name, got, c.want)
		}
	}
}
