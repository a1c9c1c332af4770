package vocabulary

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite testdata/golden.txt")

// told is what of a guess the lists name: means, and what no capability says.
func told(may []string) (out []string) {
	for _, m := range may {
		if strings.Contains(m, ":") || !slices.ContainsFunc(may, func(o string) bool { return strings.HasPrefix(o, m+":") }) {
			out = append(out, m)
		}
	}
	return out
}

// TestMeasured holds precision and recall for each language, and every name that is answered otherwise than wanted.
func TestMeasured(t *testing.T) {
	var page strings.Builder
	page.WriteString("What the vocabulary makes of lists of names: of what it says, how much is right (precision); of what is right, how much it\nsays (recall). Names answered otherwise than wanted follow.\n\n")
	for _, file := range files {
		list := strings.TrimSuffix(file, ".json")
		b, err := os.ReadFile(filepath.Join("testdata", list+".txt"))
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		var wanted [][]string
		for _, line := range strings.Split(string(b), "\n") {
			if name, want, ok := strings.Cut(line, " | "); ok {
				w := strings.Fields(want)
				if want == "-" {
					w = nil
				}
				slices.Sort(w)
				names, wanted = append(names, name), append(wanted, w)
			}
		}
		right, said, all, exact := 0, 0, 0, 0
		var bad []string
		for i, g := range Guesses(names, make([]string, len(names))) {
			got := told(g.May)
			for _, m := range got {
				if slices.Contains(wanted[i], m) {
					right++
				}
			}
			said, all = said+len(got), all+len(wanted[i])
			if slices.Equal(got, wanted[i]) {
				exact++
			} else {
				bad = append(bad, fmt.Sprintf("  %q: wanted [%s], got [%s]\n", names[i], strings.Join(wanted[i], " "), strings.Join(got, " ")))
			}
		}
		fmt.Fprintf(&page, "%s: %d names, precision %.2f, recall %.2f, exact %d %%\n", languages()[slices.Index(files, file)].Name, len(names), float64(right)/float64(said), float64(right)/float64(all), exact*100/len(names))
		slices.Sort(bad)
		page.WriteString(strings.Join(bad, ""))
	}
	golden := filepath.Join("testdata", "golden.txt")
	if *update {
		if err := os.WriteFile(golden, []byte(page.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if page.String() != string(want) {
		t.Errorf("the measures differ from testdata/golden.txt (rewrite it with -update after a wanted change):\n%s", page.String())
	}
}

func TestWrite(t *testing.T) {
	for name, want := range map[string]string{
		"whistle":             `can: signal: "whistle"`,
		"rain poncho":         `can: {rain: "poncho", shelter: "poncho"}`,
		"water filter":        `treat: method: "filter"`,
		"rucksack":            "",
		"box of matches":      `can: fire: "matches"`,
		"waterproof matches":  `can: fire: "matches", waterproof: true`,
		"water proof matches": `can: fire: "matches", waterproof: true`,
		"防水マッチ":               `can: fire: "matches", waterproof: true`,
		"waterproof map":      `documents: ["map"]`, // water does it no harm, and no rule asks
		"water bottle":        `container: capacity: "1 L", water: "1 L"`,
		"pot":                 `container: {capacity: "1 L", fireSafe: true}`,
		"camping stove":       `can: cook: "gas-stove", stove: burns: ["gas-mix"]`,
		"dog food":            `food: for: "…"`,
		"formula powder":      `food: {formula: "powder", for: "…"}`,
		"ready made formula":  `food: {formula: "ready", for: "…"}`,
		"rubbish bags":        `can: hygiene: "rubbish-bag"`,
		"dust masks":          `can: breathe: "ffp2"`,
		"head torch":          `can: light: "headlamp", device: {size: "AAA", runTime: "20 h"}`,
		"folder with passports and insurance papers":   `documents: ["identity", "insurance"]`,
		"passports, insurance policy, passport copies": `documents: ["identity", "insurance"]`,
		"documents, insurance policy and passports":    `documents: ["identity", "insurance"]`,
		"passports and a whistle":                      `documents: ["identity"]`,
		"whistle, passports and insurance papers":      `can: signal: "whistle"`,
	} {
		g := Guesses([]string{name}, []string{""})[0]
		if !g.OK || g.Write != want {
			t.Errorf("%s: %q (%t), want %q", name, g.Write, g.OK, want)
		}
	}
	for _, name := range []string{"", "thingamajig", "(whistle)", "\xff\xfe", strings.Repeat("of ", 500)} {
		if g := Guesses([]string{name}, []string{""})[0]; g.OK {
			t.Errorf("%q leads to %q", name, g.May)
		}
	}
}

// A guess says for whom food is and what else only the family knows.
func TestMeant(t *testing.T) {
	for name, want := range map[string][2]string{
		"cat food": {"cat", ""}, "pet food": {"animal", ""}, "baby food jars": {"infant", ""}, "rice": {},
		"bottle": {"", "whether it is filled is not recorded: leave water out where it is empty"},
	} {
		if g := Guesses([]string{name}, []string{""})[0]; g.For != want[0] || g.Ask != want[1] {
			t.Errorf("%s: for %q, asks %q", name, g.For, g.Ask)
		}
	}
}

// The key of a thing speaks where its name leads nowhere, in the languages in which the household writes.
func TestKeys(t *testing.T) {
	names, keys := []string{"200 in small notes", "Hubert", "matches", "daypack"}, []string{"cash", "plane", "whistle", "whistle"}
	want := []string{`cash: amount: "…"`, "", `can: fire: "matches"`, ""}
	for i, g := range Guesses(names, keys) {
		if g.Write != want[i] {
			t.Errorf("%s (%s): %q, want %q", names[i], keys[i], g.Write, want[i])
		}
	}
	if g := Guesses([]string{"Hubert"}, []string{"whistle"})[0]; g.Write != `can: signal: "whistle"` {
		t.Errorf("a key alone: %q", g.Write)
	}
}

// TestChanceWord: a word of another language counts only where the household writes in it.
func TestChanceWord(t *testing.T) {
	english := []string{"whistle", "matches", "rain jacket", "plane"}
	if g := Guesses(english, make([]string, len(english)))[3]; g.OK {
		t.Errorf("plane among English names is %q", g.May)
	}
	german := []string{"Trillerpfeife", "Streichhölzer", "Regenjacke", "Plane"}
	if g := Guesses(german, make([]string, len(german)))[3]; !slices.Contains(g.May, "shelter:tarp") {
		t.Errorf("Plane among German names is %q", g.May)
	}
}

// TestLongNames: names are strangers'; the longest that are read, in every script, take no time to speak of.
func TestLongNames(t *testing.T) {
	names := make([]string, 3000)
	for i := range names {
		names[i] = strings.Repeat([]string{"マッチ用", "match of ", "streichholzhülle", "de la boîte "}[i%4], 100)
	}
	Guesses(names, make([]string, len(names)))
}
