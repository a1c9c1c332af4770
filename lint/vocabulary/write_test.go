package vocabulary

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"kitmuster/lint/load"
)

// What a family is told to write is right as it stands, but for what only they know.
func TestWhatIsToBeWrittenIsRead(t *testing.T) {
	languages() // reads the senses
	senses := map[string]*sense{}
	decode("senses.json", &senses)
	var items strings.Builder
	for _, id := range sortedKeys(senses) {
		s := senses[id]
		s.finish()
		if (s.guess.Write == "") != (len(s.guess.May) == 0) {
			t.Errorf("%s may be %q and is written %q", id, s.guess.May, s.guess.Write)
		}
		text := strings.NewReplacer(`person: "…"`, `person: "ana"`, `of: "…"`, `of: "pills"`, `for: "…"`, `for: "ana"`, `amount: "…"`, `amount: "200 in notes"`, `comfort: "…"`, `comfort: "5 °C"`, `capacity: "…"`, `capacity: "1 L"`, `water: "…"`, `water: "1 L"`, `energy: "…"`, `energy: "900 kcal"`,
			`cookWater: "…"`, `cookWater: "0.5 L"`, `cookTime: "…"`, `cookTime: "9 min"`, `size: "…"`, `size: "AA"`, `runTime: "…"`, `runTime: "20 h"`).Replace(s.guess.Write)
		fmt.Fprintf(&items, "\t%q: {%s}\n", "x-"+id, text)
	}
	kit := `package kit

household: "All"
people: ana: {age: "42 y", bodyMass: "68 kg", medications: pills: perDay: 1}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: main: {reach: "halted", items: {
` + items.String() + "}}}\n"
	l := load.Household(fstest.MapFS{"kit.cue": {Data: []byte(kit)}}, ".", load.Options{})
	if l.Kit == nil {
		t.Fatal(l.Faults)
	}
	for _, f := range l.Faults {
		t.Errorf("%s: %s", f.Spot, f.Message)
	}
	for _, it := range l.Kit.Packs[0].Compartments[0].Items {
		s := senses[strings.TrimPrefix(it.Key, "x-")]
		if len(s.Holds) == 0 && len(it.Can) != len(s.Can) {
			t.Errorf("%s: %d capabilities are written, the sense has %d", it.Key, len(it.Can), len(s.Can))
		}
	}
}

// A sense has words in English at least: it is the language that is whole.
func TestEnglishIsWhole(t *testing.T) {
	senses := map[string]*sense{}
	decode("senses.json", &senses)
	for _, id := range sortedKeys(senses) {
		if len(languages()[0].Words[id]) == 0 {
			t.Errorf("no English word leads to %s", id)
		}
	}
}
