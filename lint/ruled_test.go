package lint_test

import (
	"context"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
)

// circle is the base below the circle's standard, with changes of its files.
func circle(t *testing.T, folder string, edits ...string) *judge.Rulebook {
	t.Helper()
	fsys := inMemory(t, "../examples/harrow-valley/standards/"+folder)
	for i := 0; i < len(edits); i += 3 {
		text := string(fsys[edits[i]].Data)
		if !strings.Contains(text, edits[i+1]) {
			t.Fatalf("%s has no %q", edits[i], edits[i+1])
		}
		fsys[edits[i]] = &fstest.MapFile{Data: []byte(strings.ReplaceAll(text, edits[i+1], edits[i+2]))}
	}
	b, problems := judge.NewLayers(judge.Layer{FS: judge.Base()}, judge.Layer{FS: fsys, Shown: "circle"})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return b
}

// inMemory reads a folder.
func inMemory(t *testing.T, dir string) fstest.MapFS {
	t.Helper()
	out, disk := fstest.MapFS{}, os.DirFS(dir)
	if err := fs.WalkDir(disk, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(disk, p)
		out[p] = &fstest.MapFile{Data: b}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return out
}

// What a change of the standard does is named with the change, what a household changed itself is not laid to it, and who is not
// concerned is not told of.
func TestAStandardIsTheCause(t *testing.T) {
	before := inMemory(t, "../examples/harrow-valley")
	const rule = "rules/harrow_valley/flood.rego"
	was, is := circle(t, "harrow-valley-1.0"), circle(t, "harrow-valley", rule, "level: error", "level: warning")
	runs := func(tree fstest.MapFS, by *judge.Rulebook) func(ctx context.Context, j lint.Job) lint.Answer {
		v := load.NewViewer(tree)
		return func(ctx context.Context, j lint.Job) lint.Answer {
			return lint.Work(ctx, v.Of(j.Dir, j.Given), by, j, household.Options{On: day(t)}, nil)
		}
	}
	check := func(now fstest.MapFS, changes []repo.Change, rulings []lint.Ruling) *lint.Result {
		t.Helper()
		then := &lint.Then{Rulings: rulings, File: "circle/standard.cue"}
		then.Run = func(ctx context.Context, j lint.Job) lint.Answer {
			tree := now
			if j.Commit == "then" {
				tree = before
			}
			return runs(tree, was)(ctx, j)
		}
		res := lint.Check(t.Context(), now, lint.Options{
			Options: household.Options{On: day(t)}, Patterns: []string{"..."}, Rules: is,
			Since: &lint.Since{Name: "then", Commit: "then", Tree: before, Changes: changes, Then: then},
		})
		t.Cleanup(res.Close)
		return res
	}
	rulings := lint.Rulings(was, is)
	var named []string
	for _, r := range rulings {
		named = append(named, r.Words())
	}
	slices.Sort(named)
	for _, want := range []string{
		"limit flood.safe_height at circle/standard.cue:47:3 went from 220 m to 225 m",
		"limit load.imbalance at circle/standard.cue:58:8 went from 5 % to 8 %",
		"the level of rule harrow-valley:flood/high-ground at circle/rules/harrow_valley/flood.rego:136:1 went from error to warning",
		"rule practice/shakedown went from switched off to in force",
		"rule tools/work-gloves went from in force to switched off",
		"rule harrow-valley:flood/dry-medicine at circle/rules/harrow_valley/flood.rego:69:1 is new",
	} {
		if !slices.Contains(named, want) {
			t.Errorf("not named: %s", want)
		}
	}

	// Nothing but the standard has changed.
	res := check(before, nil, rulings)
	sayings := func(res *lint.Result) map[string][]string {
		out := map[string][]string{}
		for f, err := range res.Run.Findings {
			if err != nil {
				t.Fatal(err)
			}
			if f.State != finding.Unchanged {
				out[f.Path] = append(out[f.Path], string(f.State)+" "+f.Rule+": "+finding.CauseWords(f.Causes))
			}
		}
		return out
	}
	alone := sayings(res)
	if diff := cmp.Diff(map[string][]string{
		"birch": {
			"new harrow-valley:flood/low-meeting-point: rule harrow-valley:flood/low-meeting-point at circle/rules/harrow_valley/flood.rego:182:1 is new",
			"new harrow-valley:flood/dry-medicine: rule harrow-valley:flood/dry-medicine at circle/rules/harrow_valley/flood.rego:69:1 is new",
			"new harrow-valley:flood/dry-medicine: rule harrow-valley:flood/dry-medicine at circle/rules/harrow_valley/flood.rego:69:1 is new",
		},
		"cedar": {
			"mended load/imbalance: limit load.imbalance at circle/standard.cue:58:8 went from 5 % to 8 %",
			"mended practice/audited: limit practice.audit_days at circle/standard.cue:74:12 went from 183 days to 220 days",
			"new practice/shakedown: rule practice/shakedown went from switched off to in force",
			"new harrow-valley:flood/dry-medicine: rule harrow-valley:flood/dry-medicine at circle/rules/harrow_valley/flood.rego:69:1 is new",
			"new medication/days: limit medication.days at circle/standard.cue:66:14 went from 10 days to 14 days",
		},
	}, alone); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if !slices.Contains(res.Run.Remarks, "the change of the standard makes no difference to 1 of the households") || len(res.Run.Households) != 2 {
		t.Errorf("%d households are told of: %v", len(res.Run.Households), res.Run.Remarks)
	}

	// One household has changed too: that is its own doing.
	now := fstest.MapFS{}
	for name, f := range before {
		now[name] = f
	}
	const file = "alder/household.cue"
	now[file] = &fstest.MapFile{Data: append(slices.Clone(before[file].Data), "\npeople: zoe: {age: \"40 y\", bodyMass: \"60 kg\"}\n"...)}
	res = check(now, []repo.Change{{Old: file, New: file}}, rulings)
	own := 0
	both := sayings(res)
	for _, s := range both["alder"] {
		if strings.HasSuffix(s, ": ") {
			own++
		}
	}
	if own == 0 {
		t.Errorf("all of alder's is laid to the standard: %v", both["alder"])
	}
	for _, s := range alone["alder"] {
		if !slices.Contains(both["alder"], s) {
			t.Errorf("alder, changed too: the standard's is not named: %s", s)
		}
	}
	if diff := cmp.Diff(alone["birch"], both["birch"]); diff != "" {
		t.Errorf("birch has changed nothing (-alone +beside a neighbour):\n%s", diff)
	}

	// Where nobody knows which change it was, the standard is named.
	for path, fs := range sayings(check(before, nil, nil)) {
		for _, s := range fs {
			if !strings.HasSuffix(s, ": circle/standard.cue changed") {
				t.Errorf("%s: %s", path, s)
			}
		}
	}
}
