package remedy

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path"
	"slices"
	"sync"
	"testing"
	"testing/fstest"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/rewrite"
	"kitmuster/lint/testkit"
	"kitmuster/lint/unit"
	"kitmuster/lint/valley"
)

var base = sync.OnceValue(func() *judge.Rulebook {
	b, problems := judge.New(judge.Base())
	if b == nil {
		panic(fmt.Sprint(problems))
	}
	return b
})

const day = "2026-11-01"

func options(t *testing.T, until finding.Level) household.Options {
	t.Helper()
	on, err := unit.ParseDate(day)
	if err != nil {
		t.Fatal(err)
	}
	return household.Options{On: on, From: until}
}

func remedyOf(t *testing.T, tree fs.FS, dir string, o household.Options) *Remedied {
	t.Helper()
	return Make(context.Background(), tree, base(), dir, o).Extra.(*Remedied)
}

// written is a tree with the files of a remedy in it.
func written(tree fstest.MapFS, r *Remedied) fstest.MapFS {
	out := fstest.MapFS{}
	for p, f := range tree {
		out[p] = f
	}
	for _, f := range r.Files {
		out[f.Path] = &fstest.MapFile{Data: f.New, Mode: 0o644}
	}
	return out
}

// promised holds a remedy to what a check of the written files says: the counts of each level, what remains, and nothing new.
func promised(t *testing.T, tree fstest.MapFS, dir string, o household.Options, r *Remedied) {
	t.Helper()
	was := household.Judge(context.Background(), tree, base(), dir, o)
	is := household.Judge(context.Background(), written(tree, r), base(), dir, o)
	var got State
	for _, f := range is.Findings {
		switch {
		case f.Waived != nil:
		case f.Level == finding.Error:
			got.Errors++
		case f.Level == finding.Warning:
			got.Warnings++
		default:
			got.Notes++
		}
	}
	if got.Errors != r.After.Errors || got.Warnings != r.After.Warnings || got.Notes != r.After.Notes {
		t.Errorf("%s: a check of the written files gives %d, %d and %d findings, and %d, %d and %d were promised", dir, got.Errors, got.Warnings, got.Notes, r.After.Errors, r.After.Warnings, r.After.Notes)
	}
	counts := map[string]int{}
	for _, f := range was.Findings {
		counts[f.Rule]++
	}
	for _, f := range is.Findings {
		if counts[f.Rule]--; counts[f.Rule] < 0 && f.Waived == nil {
			t.Errorf("%s: there are more findings of %s than before: at %s, %s", dir, f.Rule, f.Spot, f.Message)
		}
	}
}

func examples(t *testing.T) fstest.MapFS {
	t.Helper()
	const root = "../../examples/harrow-valley"
	out := fstest.MapFS{}
	err := fs.WalkDir(os.DirFS(root), ".", func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		b, err := os.ReadFile(path.Join(root, p))
		out[p] = &fstest.MapFile{Data: b, Mode: 0o644}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func valleyOf(t *testing.T, n int, seed uint64) (fstest.MapFS, []string) {
	t.Helper()
	out, dirs := fstest.MapFS{}, []string{}
	for p, b := range valley.Files(valley.Options{Households: n, Items: 80, Seed: seed}) {
		out[p] = &fstest.MapFile{Data: b, Mode: 0o644}
		if path.Base(p) == "household.cue" {
			dirs = append(dirs, path.Dir(p))
		}
	}
	slices.Sort(dirs)
	return out, dirs
}

// TestBroken breaks households that have no error by a few moves: the remedy needs no more moves than broke them, and what it
// promises is what a check of the written files says.
func TestBroken(t *testing.T) {
	n := 2
	if testkit.Whole(t) {
		n = 8
	}
	tree, dirs := valleyOf(t, 40, 3)
	o := options(t, finding.Error)
	r := rand.New(rand.NewPCG(4, 4))
	tried, cleared, worse := 0, 0, 0
	for tries := 0; tried < n && tries < 40*n; tries++ {
		dir := dirs[r.IntN(len(dirs))]
		if was := household.Judge(context.Background(), tree, base(), dir, o); count(was.Findings, finding.Error) > 0 {
			continue
		}
		broken, moves := breakUp(t, r, tree, dir, o)
		if broken == nil {
			continue
		}
		tried++
		got := remedyOf(t, broken, dir, o)
		promised(t, broken, dir, o, got)
		switch {
		case got.After.Errors > 0:
			t.Logf("%s: %d moves made %d errors, and %d steps leave %d: %+v", dir, moves, got.Before.Errors, len(got.Steps), got.After.Errors, got.Remains[0].Message)
		case len(got.Steps) > moves:
			worse++
			cleared++
		default:
			cleared++
		}
	}
	t.Logf("%d households broken, %d cleared, %d of these with more moves than broke them", tried, cleared, worse)
	if tried < n || cleared*10 < tried*8 || worse*10 > tried {
		t.Errorf("%d households broken, %d cleared, %d with more moves than needed", tried, cleared, worse)
	}
}

func count(fs []finding.Finding, l finding.Level) (n int) {
	for _, f := range fs {
		if f.Level == l && f.Waived == nil {
			n++
		}
	}
	return n
}

// breakUp moves one to three things of a household until there is an error.
func breakUp(t *testing.T, r *rand.Rand, tree fstest.MapFS, dir string, o household.Options) (fstest.MapFS, int) {
	t.Helper()
	m := household.MeasureFor(tree, dir, base(), o)
	s := &searching{ctx: context.Background(), m: m, rulebook: base(), o: o, until: finding.Error, start: m.Kit}
	all, spots := things(m.Kit), places(m.Kit)
	for range 60 {
		var ms []move
		for range 1 + r.IntN(3) {
			if th, to := all[r.IntN(len(all))], spots[r.IntN(len(spots))]; s.may(th, to) {
				ms = append(ms, moveTo(th, to, 0))
			}
		}
		x := s.try(ms, nil)
		if x == nil || len(x.open) == 0 {
			continue
		}
		d, err := openAll(tree, dir, s, ms)
		if err != nil {
			continue
		}
		out := fstest.MapFS{}
		for p, f := range tree {
			out[p] = f
		}
		for _, f := range d {
			out[f.Path] = &fstest.MapFile{Data: f.New, Mode: 0o644}
		}
		return out, len(ms)
	}
	return nil, 0
}

// TestAllOfSmall holds the search to every set of up to two changes of a small kit.
func TestAllOfSmall(t *testing.T) {
	o := options(t, finding.Error)
	for name, c := range small {
		t.Run(name, func(t *testing.T) {
			tree := fstest.MapFS{"h/household.cue": {Data: []byte(c), Mode: 0o644}, "cue.mod/module.cue": {Data: []byte("module: \"small.example/kits@v0\"\nlanguage: version: \"v0.17.0\"\n"), Mode: 0o644}}
			m := household.MeasureFor(tree, "h", base(), o)
			if m.Facts == nil || len(m.Findings) > 0 {
				t.Fatalf("%+v", m.Findings)
			}
			got := remedyOf(t, tree, "h", o)
			promised(t, tree, "h", o, got)
			s := &searching{ctx: context.Background(), m: m, rulebook: base(), o: o, until: finding.Error, start: m.Kit, banned: map[string]bool{}}
			best := exhaustive(s)
			if g, w := got.After.Errors, best.score.errors; g > w || g == w && len(got.Steps) > len(best.moves) {
				t.Errorf("%d steps leave %d errors; %v leaves %d", len(got.Steps), g, best.moves, w)
			}
		})
	}
}

// exhaustive tries every set of up to two changes that makes nothing new.
func exhaustive(s *searching) *tryout {
	best := s.begin()
	var every []move
	spots := places(s.start)
	for _, t := range things(s.start) {
		for _, p := range spots {
			if s.may(t, p) {
				every = append(every, moveTo(t, p, 0))
			}
		}
		every = append(every, move{act: actFill, thing: t.Spot}, move{act: actEmpty, thing: t.Spot})
	}
	see := func(ms ...move) {
		if x := s.try(ms, nil); x != nil && len(x.fresh) == 0 && (x.score.errors < best.score.errors || x.score.errors == best.score.errors && len(x.moves) < len(best.moves)) {
			best = x
		}
	}
	for i, a := range every {
		see(a)
		for _, b := range every[i+1:] {
			if a.thing != b.thing {
				see(a, b)
			}
		}
	}
	return best
}

// small are kits that a few changes of place help, and one that none does.
var small = map[string]string{
	"too heavy for one": `package kit

household: "Small"
people: {
	ana: {age: "42 y", bodyMass: "60 kg"}
	ben: {age: "44 y", bodyMass: "80 kg"}
}
packs: {
	rust: {carrier: "ana", mass: "1 kg", compartments: main: {reach: "halted", items: {
		books: {mass: "3 kg"}
		stones: {mass: "6 kg"}
	}}}
	moss: {carrier: "ben", mass: "1 kg", compartments: main: {reach: "halted", items: rope: {mass: "1 kg"}}}
}
`,
	"all the water with one": `package kit

household: "Small"
people: {
	ana: {age: "42 y", bodyMass: "60 kg"}
	ben: {age: "44 y", bodyMass: "80 kg"}
}
packs: {
	rust: {carrier: "ana", mass: "1 kg", compartments: main: {reach: "walking", items: {
		bottles: {mass: "100 g", count: 4, water: "1 L", container: capacity: "1 L"}
		tablets: {mass: "20 g", treat: {method: "chlorine-dioxide", litres: "20 L", wait: "4 h"}, expires: "2029-01-01"}
	}}}
	moss: {carrier: "ben", mass: "1 kg", compartments: main: {reach: "walking", items: filter: {mass: "90 g", treat: {method: "filter", litres: "1000 L"}}}}
}
`,
}

// TestSteps holds what is said of each step, and that a person's decisions are left to them.
func TestSteps(t *testing.T) {
	tree := examples(t)
	o := options(t, finding.Error)
	for _, dir := range testkit.Some(t, 1, []string{"cedar", "alder", "birch"}) {
		r := remedyOf(t, tree, dir, o)
		promised(t, tree, dir, o, r)
		again := remedyOf(t, tree, dir, o)
		a, _ := json.Marshal(r)
		b, err := json.Marshal(again)
		if err != nil || string(a) != string(b) {
			t.Errorf("%s: two remedies of one kit differ: %v", dir, err)
		}
		for _, s := range r.Steps {
			if !s.At.Known() || s.Text == "" {
				t.Errorf("%s: %+v says no line or no words", dir, s)
			}
		}
	}
}

// TestMay holds what never moves.
func TestMay(t *testing.T) {
	h := &kit.Household{
		People:  []kit.Person{{Key: "ana", Spot: "people/ana", Name: "Ana"}, {Key: "ben", Spot: "people/ben", Name: "Ben"}},
		Animals: []kit.Animal{{Key: "rex", Spot: "animals/rex"}},
		Packs: []kit.Pack{
			{Key: "a", Spot: "packs/a", Carrier: "ana", Compartments: []kit.Compartment{{Key: "m", Spot: "packs/a/compartments/m", Reach: "halted", Items: []kit.Item{
				{Key: "pinned", Spot: "packs/a/compartments/m/items/pinned", Count: 1, Mass: unit.Mass(1e6), Pinned: true},
				{Key: "pills", Spot: "packs/a/compartments/m/items/pills", Count: 1, Mass: unit.Mass(1e6), Medicine: kit.Some(kit.Medicine{Person: "ana"})},
				{Key: "card", Spot: "packs/a/compartments/m/items/card", Count: 1, Mass: unit.Mass(1e6), Documents: []string{"identity"}},
				{Key: "phone", Spot: "packs/a/compartments/m/items/phone", Count: 1, Mass: unit.Mass(1e6), Can: []kit.Capability{{Name: "communicate", Means: "phone"}}},
				{Key: "stone", Spot: "packs/a/compartments/m/items/stone", Count: 1, Mass: unit.Mass(900e6)},
			}}}},
			{Key: "b", Spot: "packs/b", Carrier: "ben", Compartments: []kit.Compartment{{Key: "m", Spot: "packs/b/compartments/m", Reach: "halted"}}},
			{Key: "r", Spot: "packs/r", Carrier: "rex", Compartments: []kit.Compartment{{Key: "m", Spot: "packs/r/compartments/m", Reach: "halted", Items: []kit.Item{
				{Key: "kibble", Spot: "packs/r/compartments/m/items/kibble", Count: 1, Mass: unit.Mass(1e9)},
			}}}},
		},
	}
	s := &searching{m: &household.Measured{}, rulebook: base(), start: h}
	for _, c := range []struct{ thing, to string }{
		{"pinned", "packs/b/compartments/m"}, {"pinned", home}, {"pills", "packs/b/compartments/m"}, {"pills", home}, {"card", home},
		{"stone", "people/ana"}, {"phone", "packs/b/compartments/m"}, {"phone", home}, {"coin", "packs/b/compartments/m"}, {"stone", "packs/r/compartments/m"}, {"kibble", "packs/a/compartments/m"},
	} {
		for _, th := range things(h) {
			for _, p := range places(h) {
				if th.Key == c.thing && p.spot == c.to && s.may(th, p) {
					t.Errorf("%s may go to %s", c.thing, c.to)
				}
			}
		}
	}
}

func openAll(tree fs.FS, dir string, s *searching, ms []move) ([]rewrite.File, error) {
	d, err := rewrite.Open(tree, dir, load.Options{})
	if err != nil {
		return nil, err
	}
	w := &writing{searching: s}
	for _, m := range ms {
		_, edits := w.step(d, m)
		if err := d.Do(edits...); err != nil {
			return nil, err
		}
	}
	return d.Files(), nil
}
