package lint_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"kitmuster/lint/household"
)

// What a household has that answers every list, by name: a family of an adult, a child and an infant with a dog.
var answersAll = map[string]string{
	"water":      `water: "9 L", container: capacity: "9 L", count: 6`,
	"biscuits":   `food: {energy: "9000 kcal", allergens: [], suits: ["vegan"]}, count: 4`,
	"porridge":   `food: {energy: "900 kcal", for: "pip"}`,
	"kibble":     `food: {energy: "900 kcal", for: "bo"}`,
	"opener":     `can: {open_cans: "multi-tool", cut: "multi-tool"}`,
	"wrench":     `can: tool: "wrench"`,
	"shovel":     `can: tool: "shovel"`,
	"set":        `radio: {receives: ["am", "fm", "weather"], service: "pmr446"}`,
	"torch":      `can: light: "torch", count: 2`,
	"candle":     `can: light: "candle"`,
	"batteries":  `cells: {size: "AA", chemistry: "lithium", cells: 4}`,
	"bank":       `cells: {size: "usb", chemistry: "lithium-ion", energy: "37 Wh"}`,
	"aid_cells":  `cells: {size: "312", chemistry: "silver-oxide"}`,
	"kit":        `firstAid: {plasters: 9, bandages: 2, antiseptic: 1, tweezers: 1, scissors: 1, painRelief: 4, stomachRemedy: 4, thermometer: 1, rescueBlanket: 1, guide: 1}`,
	"whistle":    `can: signal: "whistle"`,
	"masks":      `can: breathe: "ffp2", count: 2`,
	"sheet":      `can: cover: "sheeting"`,
	"tape":       `can: repair: "tape"`,
	"rope":       `can: repair: "cord"`,
	"wipes":      `can: hygiene: "wipes"`,
	"bags":       `can: hygiene: "rubbish-bag"`,
	"toilet":     `can: hygiene: "toilet-bag"`,
	"paper":      `can: hygiene: "toilet-paper"`,
	"bucket":     `can: hygiene: "bucket"`,
	"soap":       `can: hygiene: "soap"`,
	"gel":        `can: hygiene: "hand-gel"`,
	"towel":      `can: hygiene: "towel"`,
	"brush":      `can: hygiene: "toothbrush"`,
	"repellent":  `can: hygiene: "insect-repellent"`,
	"pads":       `can: hygiene: "menstrual"`,
	"nappies":    `can: hygiene: "nappies"`,
	"map":        `documents: ["map"]`,
	"phone":      `can: communicate: "phone"`,
	"cable":      `can: charge: "cable"`,
	"folder":     `waterproof: true, documents: ["identity", "insurance", "medical", "prescription", "contacts", "bank", "cards", "plan", "animal-papers", "animal-photo", "photos"]`,
	"keys":       `documents: ["keys"]`,
	"purse":      `cash: {amount: "60", smallNotes: true}`,
	"pills":      `medicine: {person: "ana", of: "pills", doses: 30}`,
	"pet_pills":  `medicine: {person: "bo", of: "pills", doses: 30}`,
	"glasses":    `can: see: "glasses"`,
	"blankets":   `insulation: kind: "blanket", can: warmth: "wool-blanket", count: 3`,
	"jacket":     `insulation: kind: "jacket"`,
	"trousers":   `insulation: kind: "trousers"`,
	"underwear":  `insulation: kind: "base-layer"`,
	"shoes":      `can: footwear: "shoes", count: 3`,
	"warm_hat":   `insulation: kind: "hat"`,
	"sun_hat":    `can: sun: "hat"`,
	"sunscreen":  `can: sun: "sunscreen"`,
	"gloves":     `can: gloves: "work"`,
	"helmet":     `can: protect: "helmet"`,
	"poncho":     `can: rain: "poncho"`,
	"matches":    `can: fire: "matches", waterproof: true`,
	"stove":      `can: cook: "gas-stove", fuel: {kind: "gas-mix", mass: "100 g"}`,
	"plates":     `can: eat: "mess-kit"`,
	"pen":        `can: write: "marker"`,
	"notebook":   `can: write: "notebook"`,
	"game":       `can: comfort: "game"`,
	"hose":       `can: extinguish: "extinguisher"`,
	"tag":        `can: identify: "name-tag"`,
	"lead":       `can: lead: "lead"`,
	"bowl":       `can: animal_care: "bowl"`,
	"litter":     `can: animal_care: "litter"`,
	"cane":       `can: mobility: "cane"`,
	"tube":       `can: mobility: "tube"`,
	"strips":     `care: {of: "strips", person: "ana", uses: 50}`,
	"cpap_cells": `cells: {size: "usb", chemistry: "lithium-ion", energy: "300 Wh", for: "cpap"}`,
	"filter":     `treat: method: "filter"`,
	"compass":    `can: navigate: "compass"`,
	"tent":       `can: shelter: "tent"`,
}

const askedOf = `package kit

household: "Asked"
people: {
	ana: {
		age: "40 y", bodyMass: "70 kg", sex: "female", glasses: true, moves: "wheelchair", hears: "no", diets: ["vegan"]
		medications: pills: perDay: 2
		consumables: strips: perDay: 4
		devices: cpap: {power: "40 W", hoursPerDay: "8 h"}
		hearingAids: size: "312"
		onBody: worn: {mass: "30 g", can: see: "glasses"}
	}
	mia: {age: "9 y", bodyMass: "30 kg"}
	pip: {age: "8 months", bodyMass: "8 kg", carries: false}
}
animals: bo: {species: "dog", bodyMass: "20 kg", medications: pills: perDay: 1}
vehicles: car: kind: "car"
packs: moss: {carrier: "mia", mass: "1 kg"}
plan: meetingPoints: oak: where: "the oak"
`

// asked judges a household by a list and gives the lines that it does not answer, with what they say.
func asked(t *testing.T, list, kit string, items map[string]string) map[string]string {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "%s\npacks: rust: {carrier: \"ana\", mass: \"1 kg\", compartments: main: {reach: \"halted\", items: {\n", kit)
	for _, name := range slices.Sorted(maps.Keys(items)) {
		fmt.Fprintf(&b, "\t%s: {mass: \"1 kg\", %s}\n", name, items[name])
	}
	b.WriteString("}}}\n")
	tree, err := txtar.FS(&txtar.Archive{Files: []txtar.File{{Name: "kit/kit.cue", Data: []byte(b.String())}}})
	if err != nil {
		t.Fatal(err)
	}
	out := household.Judge(t.Context(), tree, rulebook(t), "kit", household.Options{On: day(t), Against: []string{list}})
	lines := map[string]string{}
	for _, f := range out.Findings {
		switch {
		case f.OfInput():
			t.Fatalf("%s: %s", list, f.Message)
		case f.Rule == "lists/asked-for":
			lines[f.Spot[strings.LastIndex(f.Spot, "/")+1:]] = f.Message
		}
	}
	return lines
}

// A household that has all of it answers every line of every list.
func TestEveryListCanBeAnswered(t *testing.T) {
	for _, l := range rulebook(t).Lists() {
		if got := asked(t, l.Key, askedOf, answersAll); len(got) > 0 {
			t.Errorf("%s: %v", l.Key, got)
		}
	}
}

// A line is answered by what its page names and by nothing less, and it is silent for who does not need it.
func TestLinesAsTheirPagesSay(t *testing.T) {
	for _, c := range []struct {
		list, line string
		// Items in the place of others, "" for none.
		items map[string]string
		// From and to, where the household itself is another.
		from, to string
		want     string // in the finding; "" where the line is answered or silent
	}{
		{"ready-basic", "wrench", map[string]string{"wrench": "", "opener": ""}, "", "", "nothing"},
		{"ready-basic", "wrench", map[string]string{"wrench": ""}, "", "", ""},
		{"ready-basic", "sheeting", map[string]string{"sheet": ""}, "", "", "no plastic sheeting"},
		{"ready-basic", "sheeting", map[string]string{"sheet": `can: shelter: "tarp"`}, "", "", ""},
		{"ready-basic", "bags", map[string]string{"toilet": ""}, "", "", ""},
		{"ready-basic", "water", map[string]string{"water": `water: "11 L"`}, "", "", "0.355 L short"},
		{"ready-additional", "masks", map[string]string{"masks": `can: breathe: "n95"`}, "", "", "1 for 2 people"},
		{"ready-additional", "clothing", map[string]string{"trousers": "", "underwear": "", "shoes": "", "jacket": `can: sun: "long-sleeves"`}, "", "", "no pair of sturdy shoes, there is no pair of trousers and there is no underwear"},
		{"ready-additional", "matches", map[string]string{"matches": `can: fire: "matches"`}, "", "", "nothing"},
		{"ready-additional", "period", map[string]string{"pads": ""}, "", "", "nothing"},
		{"ready-additional", "period", map[string]string{"pads": ""}, `sex: "female", `, "", ""},
		{"ready-additional", "pet-food", map[string]string{"kibble": ""}, "", "", "nothing"},
		{"ready-additional", "pet-water", map[string]string{"water": `water: "0.9 L"`}, "", "", "the animals need"},
		{"ready-additional", "non-prescription", map[string]string{"kit": `firstAid: painRelief: 4`}, "", "", "no medicine for the stomach"},
		{"ready-additional", "documents", map[string]string{"folder": `documents: ["identity", "insurance", "bank"]`}, "", "", "no bank record kept dry"},
		{"ready-additional", "sleeping", map[string]string{"blankets": `insulation: kind: "blanket", can: warmth: "wool-blanket", count: 2`}, "", "", "2 for 3 people"},
		{"red-cross-us", "medical-items", map[string]string{"strips": ""}, "", "", "nothing"},
		{"red-cross-us", "two-way-radios", map[string]string{"set": `radio: receives: ["fm"]`}, "", "", "nothing"},
		{"red-cross-us", "games", map[string]string{"game": "", "pen": "", "notebook": ""}, "", "", "nothing"},
		{"red-cross-us", "games", map[string]string{"game": "", "porridge": ""}, `mia: {age: "9 y", bodyMass: "30 kg"}
	pip: {age: "8 months", bodyMass: "8 kg", carries: false}`, `mia: {age: "19 y", bodyMass: "30 kg"}`, ""},
		{"cal-fire", "glasses", map[string]string{"glasses": ""}, "", "", "nothing"},
		{"cal-fire", "car-keys", map[string]string{"keys": ""}, "", "", "nothing"},
		{"cal-fire", "car-keys", map[string]string{"keys": ""}, `kind: "car"`, `kind: "bicycle"`, ""},
		{"cal-fire", "cards", map[string]string{"folder": `documents: ["identity"]`}, "", "", "nothing"},
		{"cal-fire", "bags", nil, `packs: moss: {carrier: "mia", mass: "1 kg"}`, "", "no pack for mia"},
		{"nyc-go-bag", "contacts", nil, `plan: meetingPoints: oak: where: "the oak"`, "", "no meeting place in the plan"},
		{"nyc-go-bag", "tyres", map[string]string{"tube": ""}, "", "", "nothing"},
		{"nyc-go-bag", "tyres", map[string]string{"tube": ""}, `moves: "wheelchair"`, `moves: "cane"`, ""},
		{"nyc-go-bag", "writing", map[string]string{"notebook": "", "pen": `can: comfort: "book"`}, "", "", "no notepad and there is no pen"},
		{"bbk-pack", "gloves", map[string]string{"gloves": `can: gloves: "warm"`}, "", "", "nothing"},
		{"bbk-pack", "rain", map[string]string{"poncho": `can: rain: "umbrella"`}, "", "", "nothing"},
		{"bbk-pack", "insurance-card", map[string]string{"folder": `documents: ["identity"]`}, "", "", "nothing"},
		{"bbk-pack", "pet-medicine", map[string]string{"pet_pills": ""}, "", "", "nothing"},
		{"nz-grab-bag", "hat", map[string]string{"warm_hat": ""}, "", "", ""},
		{"nz-grab-bag", "hat", map[string]string{"warm_hat": "", "sun_hat": ""}, "", "", "nothing"},
		{"nz-grab-bag", "diet", map[string]string{"biscuits": `food: energy: "9000 kcal"`}, "", "", "nothing"},
		{"nz-supplies", "toilet", map[string]string{"bucket": ""}, "", "", "no bucket"},
		{"canada-72-hours-recommended", "tools", map[string]string{"wrench": "", "shovel": ""}, "", "", "nothing"},
		{"cdc-personal-needs", "water", map[string]string{"water": `water: "45 L"`}, "", "", "3 people and 1 animal"},
		{"cdc-personal-needs", "first-aid", map[string]string{"kit": `firstAid: {bandages: 1, scissors: 1}`}, "", "", "no thermometer and there is no tweezers"},
		{"himeji-japan", "light", map[string]string{"torch": `can: light: "torch"`}, "", "", "1 for 2 people"},
		{"himeji-japan", "helmet", map[string]string{"helmet": ""}, "", "", "nothing"},
		{"australia-abc", "period", map[string]string{"pads": ""}, "", "", "nothing"},
	} {
		items := maps.Clone(answersAll)
		maps.Copy(items, c.items)
		maps.DeleteFunc(items, func(_, text string) bool { return text == "" })
		text := strings.Replace(askedOf, c.from, c.to, 1)
		if c.from != "" && text == askedOf {
			t.Fatalf("%s %s: nothing was exchanged", c.list, c.line)
		}
		got, is := asked(t, c.list, text, items)[c.line]
		if is != (c.want != "") || !strings.Contains(got, c.want) {
			t.Errorf("%s, %s, with %v and %q: %q, want %q", c.list, c.line, c.items, c.to, got, c.want)
		}
	}
}
