package lint_test

import (
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/trial"
)

// layered compiles a standard over the base.
func layered(t *testing.T, fsys fs.FS, shown string) *judge.Rulebook {
	t.Helper()
	b, problems := judge.NewLayers(judge.Layer{FS: judge.Base()}, judge.Layer{FS: fsys, Shown: shown})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return b
}

// group is a standard with rules of these names and levels, these limits and these rules switched off.
func group(rules map[string]string, limits, off string) fstest.MapFS {
	text := "package rules.hill.area\n"
	names := make([]string, 0, len(rules))
	for n := range rules {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, n := range names {
		text += fmt.Sprintf(`
# METADATA
# title: Title of %[1]s
# description: Why.
# custom:
#   level: %[2]s
#   remedy: Mend.
#   mend: {work: move}
#   sources: [the circle]
#   limits: []
#   passes: a
#   fails: b
finding.%[1]s contains f if {
	input.household.pack_count > 0
	f := {"at": input.household.id, "text": "%[1]s of %[2]s"}
}
`, n, rules[n])
	}
	return fstest.MapFS{
		".manifest":             {Data: []byte(`{"revision": "1.0.0", "roots": ["rules/hill", "limits/hill"], "metadata": {"name": "hill", "off": {` + off + `}}}`)},
		"limits/hill/data.json": {Data: []byte("{" + limits + "}")},
		"rules/hill/area.rego":  {Data: []byte(text)},
	}
}

func limit(area, name, value, unit, stricter string) string {
	return fmt.Sprintf(`%q: {%q: {"value": %s, "unit": %q, "stricter": %q, "meaning": "m", "source": "s"}}`, area, name, value, unit, stricter)
}

// Every way in which rules and limits of two standards differ is told by its name.
func TestTrialOfStandards(t *testing.T) {
	was := layered(t, group(map[string]string{"goes": "note", "rises": "note", "stays": "error"},
		limit("load", "adult_cap", "120", "permille", "lower")+","+limit("water", "clears", `["boil", "filter"]`, "list", "fewer")+","+limit("hill", "redefined", "2", "count", "higher")+","+limit("goes", "limit", "3", "days", "higher"),
		`"practice/shakedown": "we walk"`), "old")
	is := layered(t, group(map[string]string{"comes": "warning", "rises": "error", "stays": "error"},
		limit("load", "adult_cap", "140", "permille", "lower")+","+limit("water", "clears", `["boil", "purifier"]`, "list", "fewer")+","+limit("hill", "redefined", "2", "days", "higher")+","+limit("medication", "days", "14", "days", "higher"),
		`"tools/work-gloves": "they lie in the store"`), "new")
	tree := fstest.MapFS{"a/kit.cue": {Data: []byte(frame)}, "b/kit.cue": {Data: []byte(strings.Replace(frame, "70 kg", "70 kgg", 1))}}
	old, now := check(t, tree, was, "..."), check(t, tree, is, "...")
	got, err := trial.Make(old, now, was, is)
	if err != nil {
		t.Fatal(err)
	}
	rules := []trial.RuleChange{
		{Name: "hill:area/comes", Title: "Title of comes", Change: "added", New: finding.Warning},
		{Name: "hill:area/goes", Title: "Title of goes", Change: "gone", Old: finding.Note},
		{Name: "hill:area/rises", Title: "Title of rises", Change: "level", Old: finding.Note, New: finding.Error},
	}
	for _, r := range got.Rules {
		if strings.HasPrefix(r.Name, "hill:") {
			continue
		}
		rules = append(rules, r)
		if r.Title == "" {
			t.Errorf("%s has no title", r.Name)
		}
	}
	if diff := cmp.Diff(rules, got.Rules); diff != "" {
		t.Error(diff)
	}
	var words []string
	for _, r := range got.Rules {
		words = append(words, strings.Join([]string{r.Name, r.Change, string(r.Old), string(r.New), r.Why}, "|"))
	}
	if diff := cmp.Diff([]string{
		"hill:area/comes|added||warning|", "hill:area/goes|gone|note||", "hill:area/rises|level|note|error|",
		"practice/shakedown|in force again||note|hill 1.0.0: we walk", "tools/work-gloves|switched off|warning||hill 1.0.0: they lie in the store",
	}, words); diff != "" {
		t.Error(diff)
	}
	words = nil
	for _, l := range got.Limits {
		words = append(words, strings.Join([]string{l.Name, l.Change, l.Old, l.New, l.Now.At.String()}, "|"))
	}
	if diff := cmp.Diff([]string{
		"goes.limit|gone|3 days||", "hill.redefined|redefined|2|2 days|new/limits/hill/data.json:1:242", "load.adult_cap|loosened|12 %|14 %|new/limits/hill/data.json:1:11",
		"medication.days|tightened|7 days|14 days|new/limits/hill/data.json:1:353", "water.clears|changed|boil, filter|boil, purifier|new/limits/hill/data.json:1:122",
	}, words); diff != "" {
		t.Error(diff)
	}
	if len(got.Households) != 2 || got.Households[0].Household.Path != "a" || got.Households[1].Household.Judged || len(got.Households[1].Findings) != 1 {
		t.Errorf("households: %+v", got.Households)
	}
	// A finding whose level alone has risen is another finding for who counts errors.
	if c := got.Households[0].Changed; len(c) != 1 || c[0].Old.Level != finding.Note || c[0].New.Level != finding.Error {
		t.Errorf("changed: %+v", c)
	}
	var failed []string
	for _, r := range got.Failed {
		failed = append(failed, r.Name)
	}
	if diff := cmp.Diff([]string{"hill:area/comes", "hill:area/rises", "practice/shakedown"}, failed); diff != "" {
		t.Error(diff)
	}
}

// The example's standards load, their examples are run for real, and the household that is ready by the base is ready by them.
func TestStandardsOfTheExample(t *testing.T) {
	for _, name := range []string{"harrow-valley", "harrow-valley-1.0"} {
		b := layered(t, os.DirFS("../examples/harrow-valley/standards/"+name), name)
		own := 0
		for _, r := range b.Rules() {
			if !strings.HasPrefix(r.Name, "harrow-valley:") {
				continue
			}
			own++
			for text, objects := range map[string]bool{r.Passes: false, r.Fails: true} {
				tree := fstest.MapFS{"kit/frame.cue": {Data: []byte(frame)}, "kit/example.cue": {Data: []byte("package kit\n\n" + text + "\n")}}
				res := check(t, tree, b, "kit")
				if res.Unfit {
					t.Fatalf("%v\n%v\n%s", res.Faults, found(t, res), text)
				}
				if got := slices.ContainsFunc(found(t, res), func(f finding.Finding) bool { return f.Rule == r.Name }); got != objects {
					t.Errorf("%s objects: %v, want %v, over\n%s", r.Name, got, objects, text)
				}
			}
		}
		if own < 3 {
			t.Errorf("%s has %d rules of its own", name, own)
		}
		if fs := found(t, check(t, os.DirFS("../examples/harrow-valley"), b, "alder")); len(fs) > 0 {
			t.Errorf("alder by %s: %v", name, fs)
		}
	}
}
