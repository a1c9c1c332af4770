package valley_test

import (
	"bytes"
	"context"
	"path"
	"strings"
	"testing"
	"testing/fstest"

	"kitmuster/lint"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/unit"
	"kitmuster/lint/valley"
)

func tree(o valley.Options) fstest.MapFS {
	t := fstest.MapFS{}
	for name, text := range valley.Files(o) {
		t[name] = &fstest.MapFile{Data: text}
	}
	return t
}

func TestSameSeedSameBytes(t *testing.T) {
	a, b := tree(valley.Options{Households: 60, Items: 100, Seed: 5}), tree(valley.Options{Households: 60, Items: 100, Seed: 5})
	if len(a) != len(b) {
		t.Fatalf("%d files and then %d", len(a), len(b))
	}
	longer := tree(valley.Options{Households: 90, Items: 100, Seed: 5})
	for name, f := range a {
		if b[name] == nil || !bytes.Equal(f.Data, b[name].Data) {
			t.Errorf("%s differs from one time to the next", name)
		}
		if longer[name] == nil || !bytes.Equal(f.Data, longer[name].Data) {
			t.Errorf("%s differs in a longer valley", name)
		}
	}
	other := tree(valley.Options{Households: 60, Items: 100, Seed: 6})
	for name, f := range other {
		if same := a[name]; strings.Count(name, "/") == 2 && same != nil && bytes.Equal(f.Data, same.Data) {
			t.Errorf("%s is the same for another seed", name)
		}
	}
}

// judged judges a whole valley, household by household, in the order of their folders.
func judged(t *testing.T, tr fstest.MapFS) *lint.Result {
	t.Helper()
	rulebook, problems := judge.New(judge.Base())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	on, err := unit.ParseDate(valley.On)
	if err != nil {
		t.Fatal(err)
	}
	o := lint.Options{Patterns: []string{"..."}, Options: household.Options{On: on}, Workers: 2}
	o.Run = func(ctx context.Context, j lint.Job) lint.Answer {
		return lint.Pack(household.Judge(ctx, tr, rulebook, j.Dir, o.Options))
	}
	res := lint.Check(context.Background(), tr, o)
	t.Cleanup(res.Close)
	return res
}

// Most households are in good order, and the flaws that were put in are found.
func TestHouseholdsArePlausible(t *testing.T) {
	res := judged(t, tree(valley.Options{Households: 60, Items: 100, Seed: 3}))
	if n := len(res.Run.Households); n != 60 || res.Unfit {
		t.Fatalf("%d households, unfit %v", n, res.Unfit)
	}
	findings, errors, waived := map[string]int{}, map[string]int{}, 0
	rules := map[string]bool{}
	for f, err := range res.Run.Findings {
		if err != nil {
			t.Fatal(err)
		}
		if f.Waived != nil {
			waived++
			continue
		}
		findings[f.Path]++
		rules[f.Rule] = true
		if f.Level == "error" {
			errors[f.Path]++
		}
	}
	few, none, grave := 0, 0, 0
	for _, h := range res.Run.Households {
		if findings[h.Path] < 12 {
			few++
		}
		if findings[h.Path] == 0 {
			none++
		}
		if errors[h.Path] > 3 {
			grave++
		}
	}
	if few < 56 || none < 5 || none > 40 || grave > 6 {
		t.Errorf("of 60 households %d have fewer than 12 findings, %d have none, %d have more than 3 errors", few, none, grave)
	}
	for _, r := range []string{"dates/expired", "fire/two-means", "load/body-mass-cap", "load/weighed-long-ago", "medication/days"} {
		if !rules[r] {
			t.Errorf("no household breaks %s", r)
		}
	}
	if waived == 0 {
		t.Error("nobody has waived anything")
	}
}

// About 100 things each, about half of them from the shared catalogue, in one to four files.
func TestSizes(t *testing.T) {
	tr := tree(valley.Options{Households: 200, Items: 100, Seed: 2})
	files, shared, own := map[string]int{}, 0, 0
	for name, f := range tr {
		if strings.Count(name, "/") < 2 {
			continue
		}
		files[path.Dir(name)]++
		shared += strings.Count(string(f.Data), "_catalogue.")
		own += strings.Count(string(f.Data), "_scale & {")
	}
	if len(files) != 200 {
		t.Errorf("%d households", len(files))
	}
	if all := (shared + own) / 200; all < 90 || all > 125 {
		t.Errorf("a household has %d things", all)
	}
	if share := 100 * shared / (shared + own); share < 40 || share > 60 {
		t.Errorf("%d %% are from the catalogue", share)
	}
	many := map[int]int{}
	for _, n := range files {
		many[n]++
	}
	for n := 1; n <= 4; n++ {
		if many[n] < 20 {
			t.Errorf("%d households have %d files: %v", many[n], n, many)
		}
	}
	if many[1]+many[2]+many[3]+many[4] != 200 {
		t.Errorf("files: %v", many)
	}
}

// About one household in 500 has a slip in a mass that nobody can read; it is named and hides nothing else.
func TestUnreadableHousehold(t *testing.T) {
	tr := tree(valley.Options{Households: 2000, Items: 100, Seed: 1})
	var slips []string
	for name, f := range tr {
		for _, wrong := range []string{"gramms", "1,2,5 kg", "12 onces"} {
			if strings.Contains(string(f.Data), wrong) {
				slips = append(slips, path.Dir(name))
			}
		}
	}
	if len(slips) < 1 || len(slips) > 12 {
		t.Fatalf("%d of 2000 households have a slip in a mass", len(slips))
	}
	for _, dir := range slips {
		l := load.Household(tr, dir, load.Options{})
		if l.Kit == nil || len(l.Faults) != 1 || l.Faults[0].Rule != "input/quantity" || !l.Faults[0].At.Known() {
			t.Errorf("%s: %v", dir, l.Faults)
		}
	}
}
