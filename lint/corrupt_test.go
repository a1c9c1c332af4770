package lint_test

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/testkit"
)

// writtenValue is a plain value of a family's file: a text in quotes, a number, true or false.
var writtenValue = regexp.MustCompile(`: ("[^"\n]*"|-?[0-9]+|true|false)[\s,}]`)

// spoken counts what rules that do not speak against things say of a household, by rule: errors and warnings, and notes; and
// whether it was checked whole.
func spoken(t *testing.T, b *judge.Rulebook, tree fs.FS, dir string) (grave, all map[string]int, judged bool) {
	t.Helper()
	grave, all = map[string]int{}, map[string]int{}
	answer := household.Judge(t.Context(), tree, b, dir, household.Options{On: day(t)})
	for _, f := range answer.Findings {
		if f.OfInput() || against(f.Rule) {
			continue
		}
		all[f.Rule]++
		if f.Level != finding.Note {
			grave[f.Rule]++
		}
	}
	return grave, all, answer.Household.Judged
}

// weather is a figure of a season, before its value. Without it nothing that rests on it can be judged, and the household is only partly
// checked.
var weather = regexp.MustCompile(`\b(day|night|daylight): *$`)

// A value that cannot be read never makes a kit look better: what was an error or a warning is one still, or a note that says what is
// not known; the count of these does not fall. Faults of the input are not counted.
func TestAMistakeNeverHelps(t *testing.T) {
	t.Parallel()
	b := rulebook(t)
	for _, c := range []struct {
		name string
		tree fs.FS
		some int
	}{{"examples", os.DirFS("../examples/harrow-valley"), 3}, {"the corpus of the trade", tradeTree(t), 1}} {
		dirs, faults := load.Find(c.tree, []string{"..."}, load.Options{})
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		tree := fstest.MapFS{}
		if err := fs.WalkDir(c.tree, ".", func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := fs.ReadFile(c.tree, path)
			tree[path] = &fstest.MapFile{Data: data}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		tried := 0
		for _, dir := range dirs {
			was, _, _ := spoken(t, b, tree, dir)
			type change struct {
				file     string
				from, to int
				with     string
			}
			var changes []change
			for _, name := range slices.Sorted(maps.Keys(tree)) {
				if !strings.HasPrefix(name, dir+"/") || !strings.HasSuffix(name, ".cue") {
					continue
				}
				for _, at := range writtenValue.FindAllSubmatchIndex(tree[name].Data, -1) {
					with := []string{`"?"`, "-7", "{}"}[len(changes)%3] // by turns
					changes = append(changes, change{name, at[2], at[3], with})
				}
			}
			for _, x := range testkit.Spread(t, c.some, changes) {
				old := tree[x.file]
				tree[x.file] = &fstest.MapFile{Data: []byte(string(old.Data[:x.from]) + x.with + string(old.Data[x.to:]))}
				_, all, judged := spoken(t, b, tree, dir)
				tree[x.file] = old
				tried++
				before, after, gone := 0, 0, []string{}
				for rule, n := range was {
					before += n
					after += all[rule]
					if all[rule] < n {
						gone = append(gone, rule)
					}
				}
				for rule, n := range all {
					if was[rule] == 0 {
						after += n
					}
				}
				if after < before && !(weather.Match(old.Data[:x.from]) && !judged) {
					line := 1 + strings.Count(string(old.Data[:x.from]), "\n")
					t.Errorf("%s: %s:%d: %s for %s: %d errors and warnings, then %d; gone: %s", c.name, x.file, line, x.with, old.Data[x.from:x.to], before, after, fmt.Sprint(gone))
				}
			}
		}
		t.Logf("%s: %d values made unreadable", c.name, tried)
	}
}
