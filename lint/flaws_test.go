package lint_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"kitmuster/lint/testkit"
	"kitmuster/lint/words"
)

// examples is the tree of the example households, in memory.
func examples(t *testing.T) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	root := os.DirFS("..")
	err := fs.WalkDir(root, "examples/harrow-valley", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(root, p)
		out[p] = &fstest.MapFile{Data: b}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// flawed is the tree with edits made. An edit names its file after "@ ", the text to
// take away after "- " (it must stand there once; "~ " goes on with the next line of it)
// and the text to put in its place after "+ "; an edit that takes nothing away makes a
// new file.
func flawed(t *testing.T, tree fstest.MapFS, variant, edits string) fstest.MapFS {
	t.Helper()
	out := maps.Clone(tree)
	var file string
	var old, text []string
	flush := func() {
		if file == "" || len(old)+len(text) == 0 {
			return
		}
		from, to := strings.Join(old, "\n"), strings.Join(text, "\n")
		if len(old) == 0 {
			out[file] = &fstest.MapFile{Data: []byte(to + "\n")}
		} else {
			f := out[file]
			if f == nil || strings.Count(string(f.Data), from) != 1 {
				t.Fatalf("%s: %s does not hold once: %s", variant, file, from)
			}
			out[file] = &fstest.MapFile{Data: []byte(strings.Replace(string(f.Data), from, to, 1))}
		}
		old, text = nil, nil
	}
	for line := range strings.Lines(edits) {
		line = strings.TrimSuffix(line, "\n")
		mark, rest, _ := strings.Cut(line, " ")
		switch mark {
		case "@":
			flush()
			file = path.Join("examples/harrow-valley", rest)
		case "-":
			flush()
			old = []string{rest}
		case "~":
			old = append(old, rest)
		case "+":
			text = append(text, rest)
		default:
			t.Fatalf("%s: a line starts with @, -, ~ or +, not %q", variant, line)
		}
	}
	flush()
	return out
}

// What an experienced eye would notice is noticed: the example households and
// variants of them with flaws put in on purpose. The golden page says how often each
// rule objects to each; go test ./lint -update rewrites it.
func TestFlawedVariants(t *testing.T) {
	a, err := txtar.ParseFile("testdata/flaws/variants.txtar")
	if err != nil {
		t.Fatal(err)
	}
	b, tree := rulebook(t), examples(t)
	type column struct {
		name  string
		count map[string]int
	}
	var columns []column
	fired := map[string]bool{}
	add := func(name, family string, tree fstest.MapFS) {
		res := check(t, tree, b, "examples/harrow-valley/"+family)
		if res.Unfit {
			t.Fatalf("%s cannot be judged: %v", name, found(t, res))
		}
		c := column{name, map[string]int{}}
		for _, f := range found(t, res) {
			c.count[f.Rule]++
			fired[f.Rule] = true
		}
		columns = append(columns, c)
	}
	for _, family := range []string{"alder", "birch", "cedar"} {
		add(family, family, tree)
	}
	for _, f := range a.Files {
		family, _, ok := strings.Cut(f.Name, "/")
		if !ok {
			t.Fatalf("%s: a variant is called family/flaw", f.Name)
		}
		add(f.Name, family, flawed(t, tree, f.Name, string(f.Data)))
	}
	var page bytes.Buffer
	fmt.Fprintf(&page, "How often each rule objects to each household, as of %s.\n\n", on)
	for i, c := range columns {
		fmt.Fprintf(&page, "%3d  %s\n", i+1, c.name)
	}
	wide := 0
	for _, r := range b.Rules() {
		wide = max(wide, len(r.Name))
	}
	fmt.Fprintf(&page, "\n%-*s", wide, "rule")
	for i := range columns {
		fmt.Fprintf(&page, "%4d", i+1)
	}
	page.WriteString("\n")
	silent := []string{}
	for _, r := range b.Rules() {
		if !fired[r.Name] {
			silent = append(silent, r.Name)
			continue
		}
		fmt.Fprintf(&page, "%-*s", wide, r.Name)
		for _, c := range columns {
			if n := c.count[r.Name]; n > 0 {
				fmt.Fprintf(&page, "%4d", n)
			} else {
				page.WriteString("   .")
			}
		}
		page.WriteString("\n")
	}
	fmt.Fprintf(&page, "\n%d of %d rules object to some household here. Silent: %s.\n", len(b.Rules())-len(silent), len(b.Rules()), strings.Join(silent, ", "))
	if n := len(b.Rules()) - len(silent); n < 40 {
		t.Errorf("only %d rules object to some variant", n)
	}
	for _, c := range columns[3:] {
		if maps.Equal(c.count, columns[slices.IndexFunc(columns, func(x column) bool { return x.name == strings.Split(c.name, "/")[0] })].count) {
			t.Errorf("%s shows no flaw that %s does not have", c.name, strings.Split(c.name, "/")[0])
		}
	}
	const golden = "testdata/flaws/golden.txt"
	if *testkit.Update {
		if err := os.WriteFile(golden, page.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), page.String()); diff != "" {
		t.Errorf("the golden page differs; go test ./lint -update rewrites it (-page +now):\n%s", diff)
	}
}

// The first example family keeps nothing for a finding.
func TestOneFamilyIsClean(t *testing.T) {
	res := check(t, examples(t), rulebook(t), "examples/harrow-valley/alder")
	for _, f := range found(t, res) {
		t.Errorf("%s: %s: %s [%s]", f.At, f.Level, words.Clean(f.Message), f.Rule)
	}
}
