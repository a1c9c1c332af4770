package rewrite

import (
	"bytes"
	"cmp"

	"fmt"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/diff"

	"kitmuster/lint/load"
	"kitmuster/lint/testkit"
)

// Around the shapes stands a household with a second compartment and something worn.
const (
	around = `household: "H"
people: ana: {age: "42 y", bodyMass: "68 kg", onBody: coat: {mass: "900 g"}}
packs: p: {carrier: "ana", mass: "1 kg", compartments: a: {reach: "walking", items: knife: {mass: "90 g"}}}
`
	shared = "package kit\n\n_catalogue: {\n\tlamp: {name: \"lamp\", mass: \"82 g\"}\n\trope: {name: \"rope\", mass: \"1 kg\"}\n}\n"
)

func shapeTree(body string) fstest.MapFS {
	head := "package kit\n\n"
	if strings.Contains(body, "@embed") {
		head = "@extern(embed)\n\n" + head
	}
	if rest, ok := strings.CutPrefix(body, "import"); ok {
		line, after, _ := strings.Cut(rest, "\n")
		head, body = head+"import"+line+"\n\n", strings.TrimLeft(after, "\n")
	}
	return fstest.MapFS{
		"cue.mod/module.cue":  {Data: []byte("module: \"shapes.example/kits@v0\"\nlanguage: version: \"v0.17.0\"\n")},
		"catalogue.cue":       {Data: []byte(shared)},
		"shared/lamp.cue":     {Data: []byte("package shared\n\nlamp: mass: \"82 g\"\n")},
		"h/lamp.json":         {Data: []byte(`{"mass": "82 g", "count": 2}`)},
		"h/household.cue":     {Data: []byte(head + body + around)},
		"h/deep/readme.txt":   {Data: []byte("no kit\n")},
		"other/household.cue": {Data: []byte("package kit\n\nhousehold: \"O\"\npeople: bo: {age: \"50 y\", bodyMass: \"70 kg\"}\n")},
	}
}

// shapeSteps are tried on every shape.
var shapeSteps = []struct {
	name string
	do   []Step
}{
	{"set count", []Step{{Do: Set, Spot: "packs/p/compartments/b/items/lamp/count", Value: 3}}},
	{"set mass", []Step{{Do: Set, Spot: "packs/p/compartments/b/items/lamp/mass", Value: "80 g"}}},
	{"add worth", []Step{{Do: Set, Spot: "packs/p/compartments/b/items/lamp/worth", Value: 3}}},
	{"take count away", []Step{{Do: Remove, Spot: "packs/p/compartments/b/items/lamp/count"}}},
	{"add an entry", []Step{{Do: Set, Spot: "packs/p/compartments/b/items/radio-2", Value: Fields{{"name", "radio"}, {"mass", "210 g"}, {"can", Fields{{"hygiene", "soap"}}}}}}},
	{"add a long entry", []Step{{Do: Set, Spot: "packs/p/compartments/b/items/soup", Value: Fields{{"name", "soup of lentils and carrots in a pouch"}, {"mass", "410 g"}, {"expires", "2028-06-30"}, {"food", Fields{{"energy", "450 kcal"}, {"sodium", "900 mg"}}}}}}},
	{"remove", []Step{{Do: Remove, Spot: "packs/p/compartments/b/items/lamp"}}},
	{"move", []Step{{Do: Move, Spot: "packs/p/compartments/b/items/lamp", To: "people/ana/onBody/lamp"}}},
	{"a part of the count", []Step{
		{Do: Copy, Spot: "packs/p/compartments/b/items/lamp", To: "packs/p/compartments/a/items/lamp_2"},
		{Do: Set, Spot: "packs/p/compartments/b/items/lamp/count", Value: 1},
		{Do: Set, Spot: "packs/p/compartments/a/items/lamp_2/count", Value: 1},
	}},
}

// TestShapes tries the ways in which a family may write an entry. The golden file holds, of each, the lines that change or the refusal.
func TestShapes(t *testing.T) {
	b, err := os.ReadFile("testdata/shapes.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	for name, body := range shapes(string(b)) {
		fmt.Fprintf(&out, "== %s\n", name)
		for _, s := range shapeSteps {
			tree := shapeTree(body)
			d, err := Open(tree, "h", load.Options{})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			fmt.Fprintf(&out, "%s\n", s.name)
			if err := d.Do(s.do...); err != nil {
				if len(d.Files()) > 0 {
					t.Errorf("%s, %s: refused, and yet files are changed", name, s.name)
				}
				fmt.Fprintf(&out, "\tno: %v\n", err)
				continue
			}
			for _, f := range d.Files() {
				if clean(f.Old) && !clean(f.New) {
					t.Errorf("%s, %s: cue fmt would change it now", name, s.name)
				}
				out.WriteString(changed(string(f.Old), string(f.New)))
			}
		}
	}
	if *testkit.Update {
		if err := os.WriteFile("testdata/shapes.golden", out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile("testdata/shapes.golden")
	if err != nil {
		t.Fatal(err)
	}
	if got := out.String(); got != string(want) {
		t.Errorf("what shapes give differs from testdata/shapes.golden; read it, and write it with -update:\n%s", changed(string(want), got))
	}
}

// shapes reads the list of shapes: a name at the left edge, its lines below.
func shapes(text string) func(yield func(name, body string) bool) {
	return func(yield func(string, string) bool) {
		name, body := "", ""
		for line := range strings.Lines(text + "end\n") {
			if rest, ok := strings.CutPrefix(line, "\t"); ok || line == "\n" {
				body += cmp.Or(rest, line)
				continue
			}
			if name != "" && !yield(name, body) {
				return
			}
			name, body = strings.TrimSpace(line), ""
		}
	}
}

// changed shows the lines that only one of two texts has.
func changed(a, b string) string {
	var out strings.Builder
	for line := range strings.Lines(string(diff.Diff("a", []byte(a), "b", []byte(b)))) {
		if (line[0] == '-' || line[0] == '+') && !strings.HasPrefix(line, "--- ") && !strings.HasPrefix(line, "+++ ") {
			fmt.Fprintf(&out, "\t%c %s", line[0], line[1:])
		}
	}
	return out.String()
}
