package lint_test

import (
	"fmt"
	"os"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/tools/txtar"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
)

// One shortage is one finding: testdata/shortages holds kits with one thing amiss on which several rules could speak. The first line of
// each names them, an area with /*: "// one of: RULE RULE …" where just one of them speaks, once; "// none of: …" where all keep silent.
// Common.cue of that folder holds what a kit has unless it is left out.
func TestOneShortageIsOneFinding(t *testing.T) {
	t.Parallel()
	const dir = "testdata/shortages/"
	a, err := txtar.ParseFile(dir + "kits.txtar")
	if err != nil {
		t.Fatal(err)
	}
	common, err := os.ReadFile(dir + "common.cue")
	if err != nil {
		t.Fatal(err)
	}
	tree := fstest.MapFS{}
	for name, f := range corpus(t) {
		if !strings.HasSuffix(name, "/household.cue") {
			tree[name] = f
		}
	}
	tree["common.cue"] = &fstest.MapFile{Data: common}
	b := rulebook(t)
	for _, f := range a.Files {
		tree[f.Name] = &fstest.MapFile{Data: f.Data}
		kit := path.Dir(f.Name)
		known(t, tree, kit)
		how, rest, _ := strings.Cut(strings.TrimPrefix(strings.SplitN(string(f.Data), "\n", 2)[0], "// "), ": ")
		rules := strings.Fields(rest)
		want, ok := map[string]int{"one of": 1, "none of": 0}[how]
		if !ok || len(rules) < 2 {
			t.Fatalf("%s: the first line says one of or none of, and the rules", f.Name)
		}
		for _, r := range rules {
			if !strings.HasSuffix(r, "/*") {
				named(t, b, r)
			}
		}
		o := household.Judge(t.Context(), tree, b, kit, household.Options{On: day(t)})
		if len(o.Faults) > 0 {
			t.Fatal(o.Faults)
		}
		var said []string
		for _, f := range finding.Sort(o.Findings) {
			area, _, _ := strings.Cut(f.Rule, "/")
			if slices.Contains(rules, f.Rule) || slices.Contains(rules, area+"/*") {
				said = append(said, fmt.Sprintf("%s: %s %s: %s", f.Level, f.Rule, f.Spot, f.Message))
			}
		}
		if len(said) != want {
			t.Errorf("%s: %d findings, want %d:\n\t%s", kit, len(said), want, strings.Join(said, "\n\t"))
		}
	}
}
