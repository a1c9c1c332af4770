package lint_test

import (
	"io/fs"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"kitmuster/lint/household"
	"kitmuster/lint/testkit"
)

// quotedValue is a text in quotes that is a value of a family's file.
var quotedValue = regexp.MustCompile(`: ("[^"\n]*")`)

// Whatever value of a household is exchanged for one that cannot be read, the rest is measured and a fault says where; nothing
// breaks, and what was judged of others stays.
func TestOneValueThatCannotBeRead(t *testing.T) {
	t.Parallel()
	root := os.DirFS("../examples/harrow-valley")
	tree := fstest.MapFS{}
	if err := fs.WalkDir(root, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(root, path)
		tree[path] = &fstest.MapFile{Data: b}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	type change struct {
		file     string
		from, to int
		with     string
	}
	var changes []change
	for _, name := range slices.Sorted(maps.Keys(tree)) {
		if !strings.HasPrefix(name, "birch/") || !strings.HasSuffix(name, ".cue") {
			continue
		}
		for _, at := range quotedValue.FindAllSubmatchIndex(tree[name].Data, -1) {
			for _, with := range []string{`"?"`, "7", "{}", "string", `"a" & "b"`} {
				changes = append(changes, change{name, at[2], at[3], with})
			}
		}
	}
	if len(changes) < 500 {
		t.Fatalf("only %d values", len(changes))
	}
	good := household.Measure(tree, "birch", household.Options{On: day(t)})
	if !good.Household.Judged {
		t.Fatal(good.Findings)
	}
	said := 0
	for _, c := range testkit.Spread(t, 40, changes) {
		old := tree[c.file]
		text := string(old.Data[:c.from]) + c.with + string(old.Data[c.to:])
		tree[c.file] = &fstest.MapFile{Data: []byte(text)}
		m := household.Measure(tree, "birch", household.Options{On: day(t)})
		tree[c.file] = old
		if m.Facts == nil {
			t.Errorf("%s: %s for %s: nothing was measured: %v", c.file, c.with, old.Data[c.from:c.to], m.Findings)
			continue
		}
		if m.Household.Judged != (len(m.Findings) == 0) {
			t.Errorf("%s: %s for %s: wholly read: %t, with %d faults", c.file, c.with, old.Data[c.from:c.to], m.Household.Judged, len(m.Findings))
		}
		if !m.Household.Judged {
			said++
		}
		if n := len(good.Facts.People); len(m.Facts.People) != n || len(m.Facts.Packs) != len(good.Facts.Packs) || len(m.Facts.Items) < len(good.Facts.Items)-1 {
			t.Errorf("%s: %s for %s: %d people, %d packs, %d items", c.file, c.with, old.Data[c.from:c.to], len(m.Facts.People), len(m.Facts.Packs), len(m.Facts.Items))
		}
	}
	if said == 0 {
		t.Error("no value was faulted")
	}
}
