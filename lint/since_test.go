package lint_test

import (
	"context"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/compare"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
	"kitmuster/lint/valley"
)

// files makes a tree of texts by path.
func files(texts map[string]string) fstest.MapFS {
	tree := fstest.MapFS{}
	for name, text := range texts {
		tree[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return tree
}

// changed lists what differs between two trees, without renames.
func changed(before, now fstest.MapFS) (out []repo.Change) {
	names := slices.Sorted(maps.Keys(before))
	for n := range now {
		if before[n] == nil {
			names = append(names, n)
		}
	}
	for _, n := range names {
		switch {
		case before[n] == nil:
			out = append(out, repo.Change{New: n})
		case now[n] == nil:
			out = append(out, repo.Change{Old: n})
		case string(before[n].Data) != string(now[n].Data):
			out = append(out, repo.Change{Old: n, New: n})
		}
	}
	return out
}

// since checks now against before; judged lists the jobs that were run.
func since(t *testing.T, b *judge.Rulebook, before, now fstest.MapFS, changes []repo.Change, all bool) (res *lint.Result, judged []string) {
	t.Helper()
	trees := map[string]fs.FS{"": now, "old": before}
	o := lint.Options{Patterns: []string{"..."}, Options: household.Options{On: day(t)}, Want: &compare.Product, Since: &lint.Since{Name: "old", Commit: "old", Tree: before, Changes: changes, All: all}}
	o.Run = func(ctx context.Context, j lint.Job) lint.Answer {
		judged = append(judged, strings.TrimPrefix(j.Commit+":"+j.Dir, ":"))
		return lint.Pack(compare.Product.Make(ctx, j.Edit.Of(trees[j.Commit]), b, j.Dir, o.Options))
	}
	res = lint.Check(context.Background(), now, o)
	t.Cleanup(res.Close)
	return res, judged
}

// What a household reads, and what would be there if someone put it there, is a change that touches it; its neighbour's folder is none.
func TestWhatIsReadTouches(t *testing.T) {
	t.Parallel()
	trees := map[string]fstest.MapFS{"examples": examples(t), "valley": fstest.MapFS{}, "imports": files(map[string]string{
		"cue.mod/module.cue":       "module: \"valley.example/kits\"\nlanguage: version: \"v0.17.0\"\n",
		"shared/things/things.cue": "package things\n\nlamp: {name: \"lamp\", mass: \"50 g\"}\n",
		"a/kit.cue":                strings.Replace(frame, "package kit\n", "package kit\n\nimport \"valley.example/kits/shared/things\"\n\npacks: rust: compartments: lid: items: lamp2: things.lamp\n", 1),
		"b/kit.cue":                frame,
	})}
	for name, text := range valley.Files(valley.Options{Households: 20, Items: 40, Seed: 5}) {
		trees["valley"][name] = &fstest.MapFile{Data: text}
	}
	for name, tree := range trees {
		dirs, _ := load.Find(tree, []string{"..."}, load.Options{})
		if len(dirs) < 2 {
			t.Fatalf("%s: %d households", name, len(dirs))
		}
		for _, dir := range dirs {
			reads := repo.Record(load.NewViewer(tree).Of(dir, "."))
			if m := household.Measure(reads, dir, household.Options{On: day(t)}); m.Kit == nil {
				t.Fatalf("%s: %s cannot be read: %v", name, dir, m.Findings)
			}
			n := 0
			for _, r := range reads.Reads() {
				p := r.Name
				switch {
				case r.Kind == repo.ReadList:
					p = strings.TrimPrefix(p+"/new.cue", "./")
				case strings.HasSuffix(p, "cue.mod"):
					p += "/module.cue"
				case r.Kind == repo.ReadStat && r.Sum == "folder":
					continue // that a folder is there changes only with what is in it
				}
				n++
				s := &lint.Since{Tree: tree, Changes: []repo.Change{{Old: p, New: p}}}
				if !s.Touches(tree, dir) {
					t.Errorf("%s: a change of %s does not touch %s, which reads %v", name, p, dir, r)
				}
			}
			if n < 3 {
				t.Errorf("%s reads %d things", dir, n)
			}
			for _, other := range dirs {
				s := &lint.Since{Tree: tree, Changes: []repo.Change{{Old: other + "/x.cue", New: other + "/x.cue"}}}
				if imports := name == "imports" && dir == "a"; s.Touches(tree, dir) != (other == dir || imports) {
					t.Errorf("%s: a change in %s: touches %s is %v", name, other, dir, other != dir)
				}
			}
		}
	}
}

// Only what a change touches is judged; what is new, mended and unchanged is told by rule and spot.
func TestSince(t *testing.T) {
	b := rulebook(t)
	before := files(map[string]string{"a/kit.cue": frame, "b/kit.cue": frame, "c/kit.cue": frame})
	now := maps.Clone(before)
	heavy := strings.Replace(frame, "mass:", "mass:   ", 1) // other columns, the same kit
	now["a/kit.cue"] = &fstest.MapFile{Data: []byte("\n\n" + heavy)}
	now["b/kit.cue"] = &fstest.MapFile{Data: []byte(frame + "\npacks: rust: compartments: lid: items: anvil: {name: \"anvil\", mass: \"40 kg\", weighed: \"2026-10-01\"}\n")}
	res, judged := since(t, b, before, now, changed(before, now), false)
	if diff := cmp.Diff([]string{"a", "old:a", "b", "old:b"}, judged); diff != "" {
		t.Error(diff)
	}
	if res.Run.Untouched != 1 || len(res.Run.Households) != 2 || res.Unfit {
		t.Errorf("%d untouched, %d households", res.Run.Untouched, len(res.Run.Households))
	}
	fresh := map[string]bool{}
	for _, f := range found(t, res) {
		if f.Path == "a" && f.State != finding.Unchanged {
			t.Errorf("%s [%s] is %s, and only moved", f.Message, f.Rule, f.State)
		}
		if f.State == finding.New {
			fresh[f.Rule] = true
		}
	}
	if !fresh["load/body-mass-cap"] {
		t.Errorf("new are only %v", fresh)
	}
	if res.Run.Summary.Worst != finding.Error {
		t.Errorf("worst is %q", res.Run.Summary.Worst)
	}
	var mass []string
	told, err := compare.Make(res)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range told.Households[1].Changes {
		if c.Group() == "mass" {
			mass = append(mass, c.Label())
		}
	}
	if len(told.Households[0].Changes) != 0 || !slices.Contains(mass, "all packs") {
		t.Errorf("%v, %v", told.Households[0].Changes, mass)
	}
	// The other way round, the same is mended, and fails nobody.
	back, _ := since(t, b, now, before, changed(now, before), true)
	if s, r := back.Run.Summary, res.Run.Summary; s.Mended != r.New || s.New != r.Mended || back.Run.Untouched != 0 || len(back.Run.Households) != 3 {
		t.Errorf("there %+v, back %+v", r, s)
	}
	// With everything judged, what no change touches is unchanged.
	for _, f := range found(t, back) {
		if f.Path == "c" && f.State != finding.Unchanged {
			t.Errorf("%s is %s", f.Rule, f.State)
		}
	}
}

// A household is followed where it moves, is renamed, or both; one that is gone or could not be judged is told.
func TestSinceFollowsHouseholds(t *testing.T) {
	b := rulebook(t)
	named := func(name string) *fstest.MapFile {
		return &fstest.MapFile{Data: []byte(strings.Replace(frame, `household: "`, `household: "`+name+" ", 1))}
	}
	before := fstest.MapFS{"old/alder/kit.cue": named("Alder"), "birch/kit.cue": named("Birch"), "cedar/kit.cue": named("Cedar"), "dogwood/kit.cue": named("Dogwood"), "elm/kit.cue": {Data: []byte("package kit\n\nhousehold: 3\n")}, "twin-a/kit.cue": named("Twin"), "twin-b/kit.cue": named("Twin")}
	now := fstest.MapFS{"alder/kit.cue": named("Alder"), "birch/kit.cue": named("Bramble"), "cypress/kit.cue": named("Cypress"), "elm/kit.cue": named("Elm"), "fir/kit.cue": {Data: []byte("package kit\n\nhousehold: 3\n")}, "twin-c/kit.cue": named("Twin")}
	changes := append(changed(before, now), repo.Change{Old: "cedar/kit.cue", New: "cypress/kit.cue"})
	res, _ := since(t, b, before, now, changes, false)
	want := []string{
		"the household at alder was at old/alder", "the household at cypress was at cedar", "the household at dogwood is gone",
		"the household at elm could not be judged before: what shows now counts as new", "the household at twin-a is gone", "the household at twin-b is gone",
	}
	if diff := cmp.Diff(want, res.Run.Remarks); diff != "" {
		t.Error(diff)
	}
	states := map[string]map[finding.State]bool{}
	for _, f := range found(t, res) {
		if states[f.Path] == nil {
			states[f.Path] = map[finding.State]bool{}
		}
		states[f.Path][f.State] = true
	}
	for path, state := range map[string]finding.State{"alder": finding.Unchanged, "birch": finding.Unchanged, "cypress": finding.Unchanged, "elm": finding.New, "fir": finding.New, "twin-c": finding.New} {
		if state == finding.New && path == "elm" {
			if !states[path][finding.New] || !states[path][finding.Mended] {
				t.Errorf("%s: %v", path, states[path])
			}
		} else if len(states[path]) != 1 || !states[path][state] {
			t.Errorf("%s: %v, want only %s", path, states[path], state)
		}
	}
	if !res.Unfit {
		t.Error("a new household that cannot be read is no failure")
	}
	// What could not be judged before either fails nobody; what was judged before mends nothing by breaking.
	broken := fstest.MapFS{"a/kit.cue": {Data: []byte("package kit\n\nhousehold: 3\n")}}
	worse := fstest.MapFS{"a/kit.cue": {Data: []byte("package kit\n\nhousehold: 3 // still\n")}}
	if res, _ := since(t, b, broken, worse, changed(broken, worse), false); res.Unfit || res.Run.Summary.New > 0 {
		t.Errorf("%+v", res.Run.Summary)
	}
	good := fstest.MapFS{"a/kit.cue": named("A")}
	if res, _ := since(t, b, good, broken, changed(good, broken), false); !res.Unfit || res.Run.Summary.Mended > 0 || len(res.Run.Remarks) != 1 {
		t.Errorf("%+v %v", res.Run.Summary, res.Run.Remarks)
	}
}

// Parts are disjoint and together everything, whoever else is there.
func TestParts(t *testing.T) {
	tree := fstest.MapFS{}
	for i := range 40 {
		tree[fmt.Sprintf("h%d/kit.cue", i)] = &fstest.MapFile{Data: []byte("package kit\n\nhousehold: 3\n")}
	}
	in := func(part string) (out []string) {
		p, err := lint.ParseShard(part)
		if err != nil {
			t.Fatal(err)
		}
		o := lint.Options{Patterns: []string{"..."}, Part: p}
		o.Run = func(_ context.Context, j lint.Job) lint.Answer {
			return lint.Pack(household.Outcome{Household: finding.Household{Path: j.Dir}})
		}
		res := lint.Check(context.Background(), tree, o)
		defer res.Close()
		for _, h := range res.Run.Households {
			out = append(out, h.Path)
		}
		return out
	}
	parts := map[string][]string{}
	var all []string
	for _, p := range []string{"1/3", "2/3", "3/3"} {
		parts[p] = in(p)
		if len(parts[p]) < 5 {
			t.Errorf("part %s has %d of 40", p, len(parts[p]))
		}
		all = append(all, parts[p]...)
	}
	slices.Sort(all)
	if diff := cmp.Diff(in("1/1"), all); diff != "" {
		t.Error(diff)
	}
	tree["another/kit.cue"] = tree["h1/kit.cue"]
	for p, before := range parts {
		if now := slices.DeleteFunc(in(p), func(h string) bool { return h == "another" }); !slices.Equal(before, now) {
			t.Errorf("part %s was %v and is %v with another household", p, before, now)
		}
	}
	for _, bad := range []string{"", "0/3", "4/3", "3", "a/b", "1/0", "-1/3", "1/99999", "1/3 "} {
		if _, err := lint.ParseShard(bad); err == nil {
			t.Errorf("%q is a part", bad)
		}
	}
}
