package load

import (
	"encoding/json"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// village is a repository with packages of its own and under cue.mod, and a household that imports one.
func village(imports, more string, files map[string]string) fstest.MapFS {
	all := map[string]string{
		"cue.mod/module.cue":                         "module: \"village.example/kits@v0\"\nlanguage: version: \"v0.17.0\"\n",
		"cue.mod/pkg/kits.example/schema/schema.cue": "package schema\n\n#Person: {age!: string, bodyMass?: string, ...}\n",
		"cue.mod/pkg/gear.example/lamps/red.cue":     "package lamps\n\n#Red: {mass: \"80 g\", can: light: \"headlamp\", ...}\n",
		"cue.mod/usr/gear.example/lamps/blue.cue":    "package lamps\n\n#Blue: {mass: \"90 g\", can: light: \"torch\", ...}\n",
		"cue.mod/gen/gear.example/lamps/heavy.cue":   "package lamps\n\n#Heavy: #Red & {count: 2}\n",
		"cue.mod/gen/gear.example/lamps/other.cue":   "package other\n\n#Red: {mass: \"1 g\", ...}\n",
		"cue.mod/gen/gear.example/lamps/tagged.cue":  "@if(winter)\n\npackage lamps\n\n#Red: mass: \"1 g\"\n",
		"cue.mod/gen/gear.example/lamps/x_tool.cue":  "package lamps\n\n#Red: mass: \"1 g\"\n",
		"cue.mod/usr/gear.example/above.cue":         "package lamps\n\n#Above: #Blue & {name: \"from above\"}\n",
		"own/own.cue":                                "package own\n\nimport \"gear.example/lamps\"\n\n#Lamp: lamps.#Red & {name: \"own lamp\"}\n",
		"alder/kit.cue": "package kit\n\n" + imports + "\n\nhousehold: \"Alder\"\npeople: ana: {age: \"42 y\", bodyMass: \"68 kg\"}\n" +
			"packs: rust: {carrier: \"ana\", compartments: lid: {reach: \"walking\", items: {" + more + "}}}\n",
	}
	maps.Copy(all, files)
	tree := fstest.MapFS{}
	for name, text := range all {
		tree[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return tree
}

var vendoredCases = []struct {
	name, imports, items string
	files                map[string]string
	want                 string // part of the fault; "" is none
}{
	{"a package of one folder", `import "kits.example/schema"`, `}}}
people: ben: schema.#Person & {age: "3 y"}
packs: rust: {compartments: lid: {items: {`, nil, ""},
	{"a package of three folders", `import "gear.example/lamps"`, "a: lamps.#Red, b: lamps.#Blue, c: lamps.#Heavy", nil, ""},
	{"what lies above a package is not of it", `import "gear.example/lamps"`, "a: lamps.#Above", nil, "#Above"},
	{"a field more than a definition has", `import "kits.example/schema"`, `}}}
people: ben: schema.#Diver & {age: "30 y", glasses: true}
packs: rust: {compartments: lid: {items: {`, map[string]string{"cue.mod/pkg/kits.example/schema/closed.cue": "package schema\n\n#Diver: age!: string\n"}, "glasses cannot be added here"},
	{"through a package of the repository", `import "village.example/kits/own"`, "a: own.#Lamp", nil, ""},
	{"what lies in another package is not of it", `import "gear.example/lamps:other"`, "a: other.#Red & {count: 3}", nil, ""},
	{"a name that the package does not have", `import "gear.example/lamps"`, "a: lamps.#Green", nil, "#Green"},
	{"a package that is nowhere", "import (\n\"gear.example/lamps\"\n\"gear.example/tents\"\n)", "a: lamps.#Red, b: tents.#Red", nil, `there is no package "gear.example/tents" in this repository`},
	{"two that import each other", `import "gear.example/lamps"`, "a: lamps.#Red", map[string]string{
		"cue.mod/pkg/gear.example/lamps/circle.cue": "package lamps\n\nimport \"gear.example/cells\"\n\n#Cells: cells.#AA\n",
		"cue.mod/pkg/gear.example/cells/cells.cue":  "package cells\n\nimport \"gear.example/lamps\"\n\n#AA: lamps.#Red\n",
	}, "leads back to itself"},
	{"a file that cannot be read", `import "gear.example/lamps"`, "a: lamps.#Red", map[string]string{"cue.mod/pkg/gear.example/lamps/red.cue": "package lamps\n\n#Red: {mass: 40 g}\n"}, `red.cue:3:14: a number with its unit stands in quotes; write mass: "40 g"`},
	{"a file that is too large", `import "gear.example/lamps"`, "a: lamps.#Red", map[string]string{"cue.mod/pkg/gear.example/lamps/red.cue": "package lamps\n\n#Red: {mass: \"40 g\"}\n// " + strings.Repeat("x", maxFile)}, "at most 1 MiB"},
}

// Packages under cue.mod are read from a tree as from the disk, and through the same door.
func TestVendored(t *testing.T) {
	for _, c := range vendoredCases {
		l := Household(village(c.imports, c.items, c.files), "alder", Options{Given: "."})
		got := strings.Join(told(l), "\n")
		if c.want == "" && (got != "" || l.Kit == nil) || c.want != "" && !strings.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	l := Household(village(`import "gear.example/lamps"`, "a: lamps.#Heavy", nil), "alder", Options{Given: "."})
	if l.Kit == nil || len(l.Kit.Packs[0].Compartments[0].Items) != 1 || l.Kit.Packs[0].Compartments[0].Items[0].Count != 2 {
		t.Fatalf("%+v", l.Kit)
	}
	if at := l.Locate("packs/rust/compartments/lid/items/a/mass").At; at.File != "cue.mod/pkg/gear.example/lamps/red.cue" || at.Start.Line != 3 {
		t.Errorf("its mass stands at %v", at)
	}
}

// What a package under cue.mod is a link to must lie in the repository, as everything else.
func TestVendoredStaysInside(t *testing.T) {
	top := t.TempDir()
	inside, outside := filepath.Join(top, "repo"), filepath.Join(top, "secret")
	write := func(dir, name, text string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for name, f := range village(`import "gear.example/lamps"`, "a: lamps.#Red", nil) {
		write(inside, name, string(f.Data))
	}
	write(inside, ".git/HEAD", "ref: refs/heads/main\n")
	write(outside, "red.cue", "package lamps\n\n#Red: {mass: \"1 g\", name: \"secret\"}\n")
	lamps := filepath.Join(inside, "cue.mod/pkg/gear.example/lamps")
	if err := os.RemoveAll(lamps); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, lamps); err != nil {
		t.Fatal(err)
	}
	l := Household(os.DirFS(top), "repo/alder", Options{Given: "repo/alder"})
	if got := strings.Join(told(l), "\n"); l.Kit != nil || !strings.Contains(got, "a link that leads out of the repository") || strings.Contains(got, "secret: ") {
		t.Errorf("%q", got)
	}
}

// Stock cue reads the same of these packages as the program does.
func TestStockVendored(t *testing.T) {
	stock := os.Getenv("KITMUSTER_CUE")
	if stock == "" {
		t.Skip("KITMUSTER_CUE names no stock cue; .ci/run builds one")
	}
	for _, c := range vendoredCases {
		if strings.Contains(c.want, "MiB") {
			continue // the bound is the program's own
		}
		top := t.TempDir()
		tree := village(c.imports, c.items, c.files)
		for _, name := range slices.Sorted(maps.Keys(tree)) {
			at := filepath.Join(top, name)
			if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(at, tree[name].Data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		cmd := exec.Command(stock, "export", ".")
		cmd.Dir = filepath.Join(top, "alder")
		out, err := cmd.CombinedOutput()
		if (err == nil) != (c.want == "") {
			t.Errorf("%s: stock cue says %v\n%s", c.name, err, out)
			continue
		}
		if err != nil {
			continue
		}
		l := Household(tree, "alder", Options{Given: "."})
		ours, err := l.places.root.MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		if compact(t, out) != compact(t, ours) {
			t.Errorf("%s: stock cue reads\n%s\nand the program\n%s", c.name, out, ours)
		}
	}
}

// compact is JSON with its fields sorted and nothing between them.
func compact(t *testing.T, b []byte) string {
	t.Helper()
	var v any
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatal(err)
	}
	out, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}
