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
	page.WriteString("What the vocabulary makes of lists of names: of what it says, how much is right (precision); of what is right, how much it\nsays (recall). What is in doubt is suggested and stands for nothing. Names answered otherwise than wanted follow.\n\n")
	for _, list := range append([]string{"house", "home", "fresh"}, files...) {
		title := map[string]string{"house": "Things of a home", "home": "More things of a home", "fresh": "Things of a home, no word added for them"}[list]
		if title == "" {
			title = languages()[slices.Index(files, list)].Name
			list = strings.TrimSuffix(list, ".json")
		}
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
		right, said, all, exact, sure, wrong := 0, 0, 0, 0, 0, 0
		var bad []string
		for i, g := range Guesses(names, make([]string, len(names)), nil, nil) {
			got := told(g.May)
			if g.Sure && len(got) > 0 {
				sure++
				if !slices.Equal(got, wanted[i]) {
					wrong++
				}
			}
			doubt := ""
			if g.OK && !g.Sure {
				doubt = ", in doubt"
			}
			for _, m := range got {
				if slices.Contains(wanted[i], m) {
					right++
				}
			}
			said, all = said+len(got), all+len(wanted[i])
			if slices.Equal(got, wanted[i]) {
				exact++
			} else {
				bad = append(bad, fmt.Sprintf("  %q: wanted [%s], got [%s]%s\n", names[i], strings.Join(wanted[i], " "), strings.Join(got, " "), doubt))
			}
		}
		fmt.Fprintf(&page, "%s: %d names, precision %.2f, recall %.2f, exact %d %%; %d of %d that are sure are wrong\n", title, len(names), float64(right)/float64(said), float64(right)/float64(all), exact*100/len(names), wrong, sure)
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
		"water bottle":        `container: capacity: "…", water: "…"`,
		"water_bottle_500ml":  `container: capacity: "500 ml", water: "500 ml"`,
		"empty bottle 1 L":    `container: capacity: "1 L"`,
		"2_bottles_1_l":       `container: capacity: "1 L", water: "1 L"`,
		"2_bottles_1l":        `container: capacity: "1 L", water: "1 L"`,
		"3 bottles, 1 L, 2 L": `container: capacity: "…", water: "…"`,
		"water":               `water: "…"`,
		"water_2l":            `water: "2 L"`,
		"water_1_5_litre":     `water: "1.5 L"`,
		"water_2_1l":          `water: "1 L"`,
		"water 0,75 Liter":    `water: "0.75 L"`,
		"water 33 cl":         `water: "330 ml"`,
		"water 0 l":           `water: "…"`,
		"pot":                 `container: {capacity: "…", fireSafe: true}`,
		"pot, 2 litres":       `container: {capacity: "2 L", fireSafe: true}`,
		"batteries AAA":       `cells: {size: "AAA", chemistry: "alkaline"}`,
		"spare batteries":     `cells: {size: "AA", chemistry: "alkaline"}`,
		"rice 500 g":          `food: {energy: "…", cookWater: "…", cookTime: "…"}`,
		"camping stove":       `can: cook: "gas-stove", stove: burns: ["gas-mix"]`,
		"dog food":            `food: for: "…"`,
		"formula powder":      `food: {formula: "powder", for: "…"}`,
		"ready made formula":  `food: {formula: "ready", for: "…"}`,
		"rubbish bags":        `can: hygiene: "rubbish-bag"`,
		"dust masks":          `can: breathe: "ffp2"`,
		"head torch":          `can: light: "headlamp", device: {size: "…", runTime: "…"}`,
		"folder with passports and insurance papers":   `documents: ["identity", "insurance"]`,
		"passports, insurance policy, passport copies": `documents: ["identity", "insurance"]`,
		"documents, insurance policy and passports":    `documents: ["identity", "insurance"]`,
		"passports and a whistle":                      `documents: ["identity"]`,
		"whistle, passports and insurance papers":      `can: signal: "whistle"`,
	} {
		g := Guesses([]string{name}, []string{""}, nil, nil)[0]
		if !g.OK || g.Write != want {
			t.Errorf("%s: %q (%t), want %q", name, g.Write, g.OK, want)
		}
	}
	for _, name := range []string{"", "thingamajig", "(whistle)", "\xff\xfe", strings.Repeat("of ", 500)} {
		if g := Guesses([]string{name}, []string{""}, nil, nil)[0]; g.OK {
			t.Errorf("%q leads to %q", name, g.May)
		}
	}
}

// A guess says for whom food is and what else only the family knows.
func TestMeant(t *testing.T) {
	for name, want := range map[string][2]string{
		"cat food": {"cat", ""}, "pet food": {"animal", ""}, "baby food jars": {"infant", ""}, "bread": {}, "rice": {"", "it is eaten cooked; its pack says how much energy it has, and with how much water and how long it cooks"},
		"bottle": {"", "whether it is filled is not recorded: leave water out where it is empty"},
	} {
		if g := Guesses([]string{name}, []string{""}, nil, nil)[0]; g.For != want[0] || g.Ask != want[1] {
			t.Errorf("%s: for %q, asks %q", name, g.For, g.Ask)
		}
	}
}

// The key of a thing speaks where its name leads nowhere, in the languages in which the household writes.
func TestKeys(t *testing.T) {
	names, keys := []string{"200 in small notes", "Hubert", "matches", "daypack"}, []string{"cash", "plane", "whistle", "whistle"}
	want := []string{`cash: amount: "…"`, "", `can: fire: "matches"`, ""}
	for i, g := range Guesses(names, keys, nil, nil) {
		if g.Write != want[i] {
			t.Errorf("%s (%s): %q, want %q", names[i], keys[i], g.Write, want[i])
		}
	}
	if g := Guesses([]string{"Hubert"}, []string{"whistle"}, nil, nil)[0]; g.Write != `can: signal: "whistle"` {
		t.Errorf("a key alone: %q", g.Write)
	}
}

// What another word of the name may make something else of is suggested in doubt; a name of the household's is no such word.
func TestDoubt(t *testing.T) {
	for name, sure := range map[string]bool{
		"whistle": true, "red whistle": true, "2 whistles": true, "lio's whistle": true, "lios_whistle": true, "whistle for the kids": true,
		"steam whistle": false, "whistle blower": false, "pet whistle": false,
		"cherry jam": true, "Notfallpfeife": true, "Orgelpfeife": false,
	} {
		if g := Guesses([]string{name}, []string{""}, nil, []string{"lio", "Tuft"})[0]; !g.OK || g.Sure != sure {
			t.Errorf("%s: known %t, sure %t; want %t", name, g.OK, g.Sure, sure)
		}
	}
}

// Words that are something else in another language are not taken from it where the household's other things tell its language.
func TestFurtherNames(t *testing.T) {
	if g := Guesses([]string{"plane"}, []string{""}, []string{"whistle", "matches", "rain jacket"}, nil)[0]; g.OK {
		t.Errorf("plane among English names is %q", g.May)
	}
	if g := Guesses([]string{"laundry_basket"}, []string{""}, nil, nil)[0]; len(g.May) > 0 {
		t.Errorf("a basket is %q", g.May)
	}
}

// TestChanceWord: a word of another language counts only where the household writes in it.
func TestChanceWord(t *testing.T) {
	english := []string{"whistle", "matches", "rain jacket", "plane"}
	if g := Guesses(english, make([]string, len(english)), nil, nil)[3]; g.OK {
		t.Errorf("plane among English names is %q", g.May)
	}
	german := []string{"Trillerpfeife", "Streichhölzer", "Regenjacke", "Plane"}
	if g := Guesses(german, make([]string, len(german)), nil, nil)[3]; !slices.Contains(g.May, "shelter:tarp") {
		t.Errorf("Plane among German names is %q", g.May)
	}
}

// TestLongNames: names are strangers'; the longest that are read, in every script, take no time to speak of.
func TestLongNames(t *testing.T) {
	names := make([]string, 3000)
	for i := range names {
		names[i] = strings.Repeat([]string{"マッチ用", "match of ", "streichholzhülle", "de la boîte "}[i%4], 100)
	}
	Guesses(names, make([]string, len(names)), nil, nil)
}
