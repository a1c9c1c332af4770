package lint_test

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/household"
	"kitmuster/lint/packing"
)

// listed is the packing list of the household fam of a tree.
func listed(t *testing.T, files map[string]string) *packing.PackingList {
	t.Helper()
	tree := fstest.MapFS{}
	for name, text := range files {
		tree["fam/"+name] = &fstest.MapFile{Data: []byte("package kit\n\n" + text)}
	}
	out := packing.List(t.Context(), tree, rulebook(t), "fam", household.Options{On: day(t)})
	if out.Extra == nil {
		t.Fatal(out.Findings)
	}
	return out.Extra.(*packing.PackingList)
}

const packer = `household: "Fam"
people: ana: {age: "42 y", bodyMass: "68 kg", name: "Ana"}
`

func names(parts []packing.PackedPart) (out []string) {
	for _, p := range parts {
		out = append(out, p.Name)
	}
	return out
}

// From the outside in: layers, then the reach, then what comes off in seconds, then as written.
func TestCompartmentsFromTheOutsideIn(t *testing.T) {
	for _, c := range []struct{ name, compartments, want string }{
		{"as written", `z: {reach: "halted"}, a: {reach: "halted"}`, "z a"},
		{"walking before halted", `z: {reach: "halted"}, a: {reach: "walking"}`, "a z"},
		{"quick before the rest", `z: {reach: "halted"}, a: {reach: "halted", quickShed: true}`, "a z"},
		{"reach before quick", `z: {reach: "halted", quickShed: true}, a: {reach: "walking"}`, "a z"},
		{"layer before reach", `z: {reach: "walking", layer: 2}, a: {reach: "halted", layer: 1}`, "a z"},
		{"a layer before none", `z: {reach: "walking"}, a: {reach: "halted", layer: 9}`, "a z"},
		{"one layer, by reach", `z: {reach: "halted", layer: 2}, a: {reach: "walking", layer: 2}, m: {reach: "halted", layer: 1}`, "m a z"},
		{"one layer, as written", `z: {reach: "walking", layer: 1}, a: {reach: "walking", layer: 1}`, "z a"},
		{"made in one place, by key", `for k in ["z", "a"] {(k): {reach: "halted"}}`, "a z"},
	} {
		l := listed(t, map[string]string{"kit.cue": packer + `packs: rust: {carrier: "ana", mass: "1 kg", compartments: {` + c.compartments + "}}\n"})
		if got := strings.Join(names(l.Packs[0].Parts), " "); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// Packs go by who carries them, though names be alike, people before animals; all of it in the order of files and lines.
func TestPacksAndItemsAsWritten(t *testing.T) {
	l := listed(t, map[string]string{
		"b.cue": packer + `people: abe: {name: "Ana", age: "40 y", bodyMass: "70 kg"}
animals: dog: {species: "dog", bodyMass: "26 kg", carries: true}
packs: aaa: {carrier: "dog", mass: "1 kg"}
packs: zed: {carrier: "ana", mass: "1 kg"}
packs: bag: {carrier: "abe", mass: "1 kg", compartments: main: {reach: "halted", items: {soap: mass: "9 g", cup: mass: "9 g"}}}
`,
		"a.cue": "packs: bag: compartments: main: items: axe: mass: \"9 g\"\npacks: red: {carrier: \"ana\", mass: \"1 kg\"}\n",
	})
	var got []string
	for _, p := range l.Packs {
		text := p.Name + " of " + p.Carrier
		if p.Again {
			text += " again"
		}
		got = append(got, text)
	}
	if diff := cmp.Diff([]string{"pack red of Ana", "pack zed of Ana again", "pack bag of Ana", "pack aaa of dog"}, got); diff != "" {
		t.Error(diff)
	}
	var items []string
	for _, it := range l.Packs[2].Parts[0].Items {
		items = append(items, it.Name)
	}
	if diff := cmp.Diff([]string{"axe", "soap", "cup"}, items); diff != "" {
		t.Error(diff)
	}
}

// Masses are those that measuring gives, with water and pouches; every gram of a pack stands in its list.
func TestPackingListAddsUp(t *testing.T) {
	for _, name := range []string{"alder", "birch", "cedar"} {
		tree := os.DirFS("../examples/harrow-valley")
		m := household.Measure(tree, name, household.Options{On: day(t)})
		l := packing.List(t.Context(), tree, rulebook(t), name, household.Options{On: day(t)}).Extra.(*packing.PackingList)
		var all int64
		for _, p := range l.Packs {
			sum := p.EmptyMG
			for _, c := range p.Parts {
				sum += c.MassMG
			}
			// Each is rounded to a milligram by itself.
			if d := sum - p.MassMG; d > int64(len(p.Parts)) || -d > int64(len(p.Parts)) {
				t.Errorf("%s: parts and empty pack of %s are %d mg, the pack %d mg", name, p.Name, sum, p.MassMG)
			}
			all += p.MassMG
		}
		if all != m.Facts.Household.LoadMG || l.LoadMG != all {
			t.Errorf("%s: packs are %d mg, the list says %d mg, measuring %d mg", name, all, l.LoadMG, m.Facts.Household.LoadMG)
		}
		var worn int64
		items := 0
		for _, w := range l.Worn {
			worn += w.MassMG
			items += len(w.Items)
		}
		if worn != l.WornMG || worn != m.Facts.Household.OnBodyMG {
			t.Errorf("%s: worn are %d mg, the list says %d mg, measuring %d mg", name, worn, l.WornMG, m.Facts.Household.OnBodyMG)
		}
		for _, p := range l.Packs {
			for _, c := range p.Parts {
				items += len(c.Items)
			}
		}
		if items != len(m.Facts.Items) {
			t.Errorf("%s: %d items are listed of %d", name, items, len(m.Facts.Items))
		}
	}
}

func TestItemsOfAPackingList(t *testing.T) {
	l := listed(t, map[string]string{"kit.cue": packer + `people: ana: medications: {pills: {name: "Pills", perDay: 1}, pen: {name: "Pen", perDay: 1, coldChain: true}}
people: bo: {age: "4 y", bodyMass: "17 kg", name: "Bo", medications: syrup: asNeeded: true}
packs: rust: {carrier: "ana", mass: "1 kg", colours: ["red", "blue"], compartments: lid: {name: "Lid", for: "rain", reach: "walking", layer: 3, quickShed: true, items: {
	bottle: {mass: "40 g", weighed: "2026-10-01", count: 2, container: capacity: "1 L", water: "1 L", rotate: "2026-10-31"}
	half: {mass: "4 g", weighed: "2026-10-01", medicine: {person: "ana", of: "pills", doses: 0.5}, expires: "2026-11-01"}
	one: {mass: "4 g", weighed: "2026-10-01", count: 2, medicine: {person: "ana", of: "pills", doses: 0.5}, opened: "2026-10-01", openedLife: "10 d", expires: "2026-12-01"}
	coat: {mass: "300 g", weighed: "2026-10-01", owner: "bo", estimated: true}
	syrup: {mass: "30 g", weighed: "2026-10-01", owner: "bo", medicine: {person: "bo", of: "syrup", doses: 3}}
	jam: {mass: "30 g", weighed: "2026-10-01", owner: "bo", food: {energy: "90 kcal", for: "bo"}}
	mine: {mass: "30 g", weighed: "2026-10-01", owner: "ana"}
	rope: {mass: "30 g", weighed: "2026-10-01", shared: true}
	gone: {mass: "30 g", count: 0}
	cheese: {mass: "30 g", weighed: "2026-10-01", lastMinute: true}
	warm: {mass: "30 g", weighed: "2026-10-01", medicine: {person: "ana", of: "pen", doses: 1}, outOfCold: "2026-10-01"}
}}}
`})
	part := packing.PackedPart{Name: "Lid", Reach: "walking", For: "rain", Layer: 3, QuickShed: true, MassMG: 2_080_000 + 4_000 + 8_000 + 300_000 + 6*30_000}
	item := func(name string, count, each int64, until string, notes ...string) {
		part.Items = append(part.Items, packing.PackedItem{Name: name, Count: count, MassMG: count * each, EachMG: each, Weighed: true, Until: until, Notes: notes})
	}
	item("bottle", 2, 1_040_000, "2026-10-31", "with 2 L of water")
	part.Items[0].WaterML, part.Items[0].Past = 2000, "PAST its day of replacement, 2026-10-31: replace it"
	item("half", 1, 4_000, "2026-11-01", "Pills for Ana, 0.5 doses", "expires 2026-11-01, today")
	item("one", 2, 4_000, "2026-10-11", "Pills for Ana, 1 dose")
	part.Items[2].Past = "PAST its last day once opened, 2026-10-11: replace it"
	item("coat", 1, 300_000, "", "for Bo", "mass estimated")
	part.Items[3].Weighed = false
	item("syrup", 1, 30_000, "", "syrup for Bo, 3 doses")
	item("jam", 1, 30_000, "", "for Bo")
	item("mine", 1, 30_000, "")
	item("rope", 1, 30_000, "", "for everyone")
	item("gone", 0, 30_000, "", "none is left")
	part.Items[8].Weighed = false
	item("cheese", 1, 30_000, "", "last minute: stays at home until you leave")
	part.Items[9].AtLast = "stays at home until you leave"
	item("warm", 1, 30_000, "2026-10-29", "Pen for Ana, 1 dose")
	part.Items[10].Past = "PAST its last day out of the cold, 2026-10-29: replace it"
	want := []packing.PackedPack{{Name: "pack rust", Carrier: "Ana", Colours: []string{"red", "blue"}, EmptyMG: 1_000_000, MassMG: 1_000_000 + part.MassMG, Parts: []packing.PackedPart{part}}}
	if diff := cmp.Diff(want, l.Packs); diff != "" {
		t.Error(diff)
	}
}

func TestLastMinute(t *testing.T) {
	const cold = "in the cold until you leave; then keep it as its label says"
	for _, c := range []struct {
		name, text string
		want       []packing.LastMinute
	}{
		{"nothing", "", nil},
		{"marked", `packs: rust: compartments: lid: items: cheese: {name: "Cheese", count: 2, mass: "9 g", lastMinute: true}`,
			[]packing.LastMinute{{What: "2 × Cheese", Why: "stays at home until you leave", Where: "pack rust, lid"}}},
		{"marked and worn", `people: ana: onBody: ring: {mass: "9 g", lastMinute: true}`,
			[]packing.LastMinute{{What: "ring", Why: "stays at home until you leave", Where: "worn by Ana"}}},
		{"cold and packed", `people: ana: medications: pen: {perDay: 1, coldChain: true}
packs: rust: compartments: lid: items: pens: {mass: "9 g", medicine: {person: "ana", of: "pen", doses: 9}}`,
			[]packing.LastMinute{{What: "pens", Why: cold, Where: "pack rust, lid"}}},
		{"cold and marked", `people: ana: medications: pen: {perDay: 1, coldChain: true}
packs: rust: compartments: lid: items: pens: {mass: "9 g", lastMinute: true, medicine: {person: "ana", of: "pen", doses: 9}}`,
			[]packing.LastMinute{{What: "pens", Why: "stays at home until you leave; then keep it as its label says", Where: "pack rust, lid"}}},
		{"cold and none left", `people: ana: medications: pen: {name: "Pen", perDay: 1, coldChain: true}
packs: rust: compartments: lid: items: pens: {count: 0, mass: "9 g", lastMinute: true, medicine: {person: "ana", of: "pen", doses: 9}}`,
			[]packing.LastMinute{{What: "Pen for Ana, all that is still in the cold", Why: cold}}},
		{"cold and nowhere", `people: ana: medications: pen: {name: "Pen", perDay: 1, coldChain: true}`,
			[]packing.LastMinute{{What: "Pen for Ana, all that is still in the cold", Why: cold}}},
		{"in use, and more in the cold", `people: ana: medications: pen: {name: "Pen", perDay: 1, coldChain: true}
people: ana: onBody: pen: {mass: "9 g", outOfCold: "2026-10-20", medicine: {person: "ana", of: "pen", doses: 9}}`,
			[]packing.LastMinute{{What: "Pen for Ana, all that is still in the cold", Why: cold}}},
		{"not cold", `people: ana: medications: pen: {perDay: 1}`, nil},
		{"glasses worn", "people: ana: {glasses: true, onBody: specs: {mass: \"9 g\", can: see: \"glasses\"}}",
			[]packing.LastMinute{{What: "specs of Ana", Why: "needed to see", Where: "worn by Ana"}}},
		{"glasses worn and marked", "people: ana: {glasses: true, onBody: specs: {mass: \"9 g\", lastMinute: true, can: see: \"glasses\"}}",
			[]packing.LastMinute{{What: "specs", Why: "stays at home until you leave; needed to see", Where: "worn by Ana"}}},
		{"past its day", `packs: rust: compartments: lid: items: cheese: {name: "Cheese", mass: "9 g", lastMinute: true, expires: "2026-10-31"}`,
			[]packing.LastMinute{{What: "Cheese", Why: "stays at home until you leave", Where: "pack rust, lid", Past: "PAST its last day by the label, 2026-10-31: replace it"}}},
		{"lenses past their day", "people: ana: {glasses: true, onBody: lenses: {mass: \"9 g\", can: see: \"glasses\", expires: \"2026-10-31\"}}",
			[]packing.LastMinute{{What: "lenses of Ana", Why: "needed to see", Where: "worn by Ana", Past: "PAST its last day by the label, 2026-10-31: replace it"}}},
		{"glasses in the pack are spare ones", `people: ana: glasses: true
packs: rust: compartments: lid: items: spare: {mass: "9 g", can: see: "glasses"}`,
			[]packing.LastMinute{{What: "glasses or lenses of Ana", Why: "needed to see"}}},
	} {
		text := packer + "packs: rust: {carrier: \"ana\", mass: \"1 kg\", compartments: lid: reach: \"walking\"}\n" + c.text + "\n"
		if diff := cmp.Diff(c.want, listed(t, map[string]string{"kit.cue": text}).LastMinute); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

func TestCards(t *testing.T) {
	l := listed(t, map[string]string{"kit.cue": `household: "Fam"
people: {
	ana: {
		name: "Ana", age: "42 y", bodyMass: "68 kg", glasses: true, diets: ["vegan"]
		medications: {pills: {name: "Pills", perDay: 2}, spray: {name: "Spray", asNeeded: true, coldChain: true}}
		allergies: {bees: {severe: true, to: "insect", medication: "spray", note: "stay calm"}, nuts: {}}
		needs: rest: "sits down often"
	}
	bo: {name: "Bo", age: "14 months", bodyMass: "10 kg", carries: false, carriedBy: "ana"}
}
animals: tuft: {name: "Tuft", species: "dog", bodyMass: "26 kg", age: "1 month", energyPerDay: "900 kcal", waterPerDay: "1 L"}
packs: rust: {name: "Rust", carrier: "ana", mass: "999.999 g", weighed: "2026-10-01", compartments: lid: {name: "Lid", reach: "walking", items: pills: {mass: "1 mg", medicine: {person: "ana", of: "pills", doses: 9}}}}
plan: {
	meetingPoints: {park: {where: "the park", altitude: "235.4 m"}, bench: where: "the bench"}
	contacts: {sis: {name: "Sis", phone: "555 0100", outOfArea: true}, bob: name: "Bob"}
}
`})
	section := func(title string, lines ...string) (s packing.CardSection) {
		s.Title = title
		for _, text := range lines {
			line := packing.CardLine{Text: strings.TrimPrefix(text, "  ")}
			line.Under = line.Text != text
			s.Lines = append(s.Lines, line)
		}
		return s
	}
	meet, call := section("We meet at", "the park, altitude 235 m", "the bench"), section("Call", "Sis, far away: 555 0100", "Bob: no number recorded")
	want := []packing.Card{
		{Name: "Ana", About: "42 years", Sections: []packing.CardSection{
			section("Carries", "Rust: 1.00 kg"), section("Carries a person", "Bo"), meet, call,
			section("Must avoid (allergies)", "bees (insect), can threaten life; medication: Spray; stay calm", "nuts"),
			section("Takes", "Pills, 2 a day", "  9 doses: Rust, Lid; no expiry date recorded",
				"Spray, as needed; none is packed", "  what is still at home, kept in the cold: take it along when you leave"),
			section("Needs", "sits down often", "glasses or lenses"), section("Eats", "vegan"),
		}},
		{Name: "Bo", About: "14 months, a child", Sections: []packing.CardSection{section("Belongs to", "Ana"), section("Is carried by", "Ana"), call, meet}},
		{Name: "Tuft", About: "dog, 1 month", Sections: []packing.CardSection{section("Needs each day", "900 kcal of food, as the family wrote", "1 L of water, as the family wrote"), meet, call}},
	}
	var minds [][]string
	for i := range l.Cards {
		c := &l.Cards[i]
		last := len(c.Sections) - 1
		if c.Sections[last].Title != "Mind" {
			t.Fatalf("%s is told nothing to mind", c.Name)
		}
		var mind []string
		for _, line := range c.Sections[last].Lines {
			word, _, _ := strings.Cut(line.Text, ":")
			mind = append(mind, word)
		}
		minds, c.Sections = append(minds, mind), c.Sections[:last]
	}
	if diff := cmp.Diff(want, l.Cards); diff != "" {
		t.Error(diff)
	}
	heads := [][]string{
		{"Carry with a carrier made for that mass and age, with the airway free; follow its label.", "Load", "An allergy that can threaten life", "Medicine"},
		{"Stay with the child, who is too small to be sent anywhere or to wait alone. Call the numbers here; if nobody answers, the emergency number. Give nothing that is named under allergies, and medicine only as its label and the prescriber say.",
			"Carry with a carrier made for that mass and age, with the airway free; follow its label."},
		{"Never let an animal go dry to save water, never tie it where water can rise, and never leave it in a closed car. Ask a veterinarian about food, water and load."},
	}
	if diff := cmp.Diff(heads, minds); diff != "" {
		t.Error(diff)
	}
}

// A caution stands on the card of whoever has the thing, and on no other.
func TestCautionsFitWhatIsHeld(t *testing.T) {
	has := func(c packing.Card, head string) bool {
		return slices.ContainsFunc(c.Sections, func(s packing.CardSection) bool {
			return s.Title == "Mind" && slices.ContainsFunc(s.Lines, func(l packing.CardLine) bool { return strings.HasPrefix(l.Text, head) })
		})
	}
	for head, item := range map[string]string{
		"Stoves and fuel":           `stove: burns: ["ethanol"]`,
		"Stoves and fuel: burn":     `fuel: {kind: "ethanol", mass: "5 g"}`,
		"Stoves":                    `can: cook: "wood-stove"`,
		"Water treatment":           `treat: method: "boil"`,
		"Knives and saws":           `can: cut: "knife"`,
		"Things for defence":        `can: defend: "spray"`,
		"Radio":                     `radio: service: "gmrs"`,
		"A flare":                   `can: signal: "flare"`,
		"Batteries and power banks": `cells: {size: "usb", chemistry: "lithium-ion", energy: "37 Wh"}`,
		"Medicine":                  `medicine: {person: "bo", of: "pills", doses: 1}`,
	} {
		base := packer + `people: bo: {age: "40 y", bodyMass: "70 kg", medications: pills: perDay: 1}
people: cy: {age: "40 y", bodyMass: "70 kg"}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: lid: {reach: "walking", items: x: {mass: "50 g", `
		l := listed(t, map[string]string{"kit.cue": base + item + "}}}\n"})
		if !has(l.Cards[0], head) || has(l.Cards[2], head) {
			t.Errorf("%s: %v", item, l.Cards)
		}
		l = listed(t, map[string]string{"kit.cue": base + "count: 0, " + item + "}}}\n"})
		if has(l.Cards[0], head) {
			t.Errorf("none of it: %s: %v", item, l.Cards[0])
		}
	}
	l := listed(t, map[string]string{"kit.cue": packer + `people: ana: onBody: {
	scissors: {mass: "50 g", can: cut: "scissors"}, whistle: {mass: "9 g", can: signal: "whistle"}
	cells: {mass: "9 g", cells: {size: "AA", chemistry: "alkaline"}}, receiver: {mass: "90 g", radio: receives: ["fm"]}
}
`})
	for _, s := range l.Cards[0].Sections {
		if s.Title == "Mind" {
			t.Errorf("nothing is to be minded: %v", s)
		}
	}
}

// A household that cannot be read has no list, and says why.
func TestNoListOfWhatCannotBeRead(t *testing.T) {
	out := packing.List(t.Context(), one("package kit\n\nhousehold: \"X\"\n"), rulebook(t), "fam", household.Options{On: day(t)})
	if out.Extra != nil || len(out.Findings) == 0 || out.Household.Judged {
		t.Errorf("%+v", out)
	}
	a := packing.List(t.Context(), os.DirFS("../examples/harrow-valley"), rulebook(t), "birch", household.Options{On: day(t), Season: "snow"})
	if a.Extra != nil || len(a.Findings) != 1 || a.Findings[0].Rule != "input/season" {
		t.Errorf("%+v", a)
	}
}
