package lint_test

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/repo"
)

// past is a history of trees, newest first; the first is the tree that is checked, of no commit.
type past struct {
	days  []string // of all but the first
	trees []fstest.MapFS
	// renames are what git says beside what the trees show, by the place of the older tree.
	renames map[int][]repo.Change
	lost    map[string]bool // commits that cannot be read
}

func (p past) index(commit string) int {
	for i, d := range p.days {
		if commit == "of "+d {
			return i + 1
		}
	}
	return 0
}

// follow judges the history, several households at once.
func (p past) follow(ctx context.Context, t *testing.T, b *judge.Rulebook, o lint.Options) *finding.History {
	t.Helper()
	h := lint.Past{
		Tree: func(_ context.Context, commit string) (fs.FS, error) {
			if p.lost[commit] {
				return nil, errors.New("it is damaged")
			}
			return p.trees[p.index(commit)], nil
		},
		Changed: func(_ context.Context, base, head string) ([]repo.Change, error) {
			i := p.index(base)
			return append(changed(p.trees[i], p.trees[p.index(head)]), p.renames[i]...), nil
		},
	}
	for _, d := range p.days {
		h.Commits = append(h.Commits, repo.Commit{ID: "of " + d, Day: d})
	}
	o.On, o.Workers = day(t), 3
	if o.Patterns == nil {
		o.Patterns = []string{"..."}
	}
	if o.Run == nil {
		o.Rules = b
	}
	return lint.History(ctx, p.trees[0], o, h)
}

// run is what a worker does.
func (p past) run(t *testing.T, b *judge.Rulebook, o lint.Options) func(context.Context, lint.Job) lint.Answer {
	return func(ctx context.Context, j lint.Job) lint.Answer {
		o := o.Options
		o.On = j.Day(day(t))
		return lint.Pack(household.Judge(ctx, p.trees[p.index(j.Commit)], b, j.Dir, o))
	}
}

// told is a history in short: each household's days with what became of it.
func told(h *finding.History) map[string][]string {
	out := map[string][]string{}
	for _, c := range h.Households {
		out[c.Path] = []string{}
		for _, p := range c.Points {
			what := "gone"
			switch {
			case p.There && p.Judged:
				what = p.Path
			case p.There:
				what = p.Path + " not judged"
			}
			out[c.Path] = append(out[c.Path], p.Day[5:]+" "+what)
		}
	}
	return out
}

// Each state is judged as of its day; its figures are those of the facts, its counts those of the findings.
func TestHistoryIsJudgedAsOfItsDays(t *testing.T) {
	const (
		bars  = "packs: rust: compartments: lid: items: bars: {mass: \"500 g\", expires: \"2026-08-31\", food: energy: \"2100 kcal\"}\n"
		water = "packs: rust: compartments: lid: items: bottle: {mass: \"100 g\", container: capacity: \"2 L\", water: \"2 L\"}\n"
		anvil = "packs: rust: compartments: lid: items: anvil: {mass: \"20 kg\"}\n"
		bo    = "people: bo: {age: \"30 y\", bodyMass: \"50 kg\"}\npacks: ash: {carrier: \"bo\", mass: \"2 kg\"}\n"
		plan  = "plan: duration: \"30 h\"\n"
		waive = "record: waivers: w: {rule: \"load/body-mass-cap\", until: \"2026-05-15\", reason: \"until the sledge is here\"}\n"
	)
	p := past{days: []string{"2026-10-01", "2026-07-01", "2026-06-01", "2026-05-01", "2026-04-01"}}
	for _, text := range []string{"", bars + plan, bars + plan, anvil + waive, anvil + waive + bo + water, "nonsense: 1\n"} {
		p.trees = append(p.trees, files(map[string]string{"a/kit.cue": frame + text}))
	}
	b := rulebook(t)
	h := p.follow(t.Context(), t, b, lint.Options{})
	if len(h.Households) != 1 || len(h.Remarks) > 0 || h.Partial != "" {
		t.Fatalf("%+v", h)
	}
	got := h.Households[0].Points
	if len(got) != len(p.days) {
		t.Fatalf("%+v", got)
	}
	for i, day := range p.days {
		tree := p.trees[i+1]
		o := household.Options{On: dayOf(t, day)}
		want := finding.Trend{Commit: "of " + day, Day: day, Path: "a", There: true}
		m := household.Measure(tree, "a", o)
		if want.Judged = m.Household.Judged; want.Judged {
			for _, c := range m.Facts.Carriers {
				want.LoadPermille = max(want.LoadPermille, (c.LoadMG*1000+c.BodyMassMG-1)/c.BodyMassMG)
			}
			for _, s := range m.Facts.Endurance.Stocks {
				if s.Kind == "water" {
					want.WaterHours, want.WaterKnown = s.Lasts, true
				}
			}
			want.PlanHours = m.Facts.Endurance.Hours
		}
		for _, f := range household.Judge(t.Context(), tree, b, "a", o).Findings {
			switch {
			case f.Waived != nil:
				want.Waived++
			case f.Level == finding.Error:
				want.Errors++
			case f.Level == finding.Warning:
				want.Warnings++
			default:
				want.Notes++
			}
		}
		if diff := cmp.Diff(want, got[i]); diff != "" {
			t.Errorf("%s: (-want +got):\n%s", day, diff)
		}
	}
	// By hand: 1.5 kg and 21 kg on 70 kg are 22 and 300 permille, rounded up; bars go off between July and October, the waiver between May and June.
	if got[0].LoadPermille != 22 || got[2].LoadPermille != 300 || got[0].PlanHours != 30 || got[2].PlanHours != 72 || got[0].Warnings != got[1].Warnings+1 || got[2].Waived != 0 || got[3].Waived != 1 {
		t.Errorf("%+v", got)
	}
	if got[2].WaterHours != 0 || got[3].WaterHours < 1 || got[3].WaterHours >= got[3].PlanHours || got[4].Judged || got[4].Errors == 0 {
		t.Errorf("%+v", got[2:])
	}
}

// A household is found where it was: by its path, its name, or where git says that its files went, and who is gone takes nobody's place.
func TestHistoryFollowsHouseholds(t *testing.T) {
	b := rulebook(t)
	tree := func(homes ...string) fstest.MapFS {
		out := fstest.MapFS{}
		for _, h := range homes {
			dir, name, _ := strings.Cut(h, "=")
			out[dir+"/kit.cue"] = &fstest.MapFile{Data: []byte(strings.Replace(frame, "Example", name, 1))}
		}
		return out
	}
	p := past{
		days: []string{"2026-05-01", "2026-04-01", "2026-03-01", "2026-02-01"},
		trees: []fstest.MapFS{
			tree("alder=Alder", "birch=Birch", "cedar=Cedar", "elm=Elm", "sub/fir=Fir"),
			tree("old/alder=Alder", "birch=Birch", "cypress=Cypress"),
			tree("old/alder=Alder", "elm=Birch", "cypress=Cypress"),
			tree("older/alder=Alder", "elm=Birch", "cypress=Cypress", "sub/fir=Fir"),
			tree("elm=Birch", "alder=Other"),
		},
		renames: map[int][]repo.Change{1: {{Old: "cypress/kit.cue", New: "cedar/kit.cue"}}},
	}
	h := p.follow(t.Context(), t, b, lint.Options{})
	want := map[string][]string{
		"alder":   {"05-01 old/alder", "04-01 old/alder", "03-01 older/alder", "02-01 gone"},
		"birch":   {"05-01 birch", "04-01 elm", "03-01 elm", "02-01 elm"},
		"cedar":   {"05-01 cypress", "04-01 cypress", "03-01 cypress", "02-01 gone"},
		"elm":     {"05-01 gone", "04-01 gone", "03-01 gone", "02-01 gone"},
		"sub/fir": {"05-01 gone", "04-01 gone", "03-01 sub/fir", "02-01 gone"},
	}
	if diff := cmp.Diff(want, told(h)); diff != "" || !slices.IsSortedFunc(h.Households, func(a, b finding.Course) int { return strings.Compare(a.Path, b.Path) }) {
		t.Errorf("(-want +got):\n%s", diff)
	}
	// A commit that cannot be read is left out, and the way goes on behind it.
	p.lost = map[string]bool{"of 2026-04-01": true}
	h = p.follow(t.Context(), t, b, lint.Options{})
	for path := range want {
		want[path] = slices.Delete(want[path], 1, 2)
	}
	if diff := cmp.Diff(want, told(h)); diff != "" || !slices.Equal(h.Remarks, []string{"the commit of 2026-04-01 is left out: it is damaged"}) {
		t.Errorf("%q (-want +got):\n%s", h.Remarks, diff)
	}
	// A folder that the run names outright is no household of states in which it held none.
	p = past{days: []string{"2026-05-01"}, trees: []fstest.MapFS{tree("alder=Alder"), files(map[string]string{"alder/README": "to come"})}}
	h = p.follow(t.Context(), t, b, lint.Options{Patterns: []string{"alder"}})
	if diff := cmp.Diff(map[string][]string{"alder": {"05-01 gone"}}, told(h)); diff != "" {
		t.Error(diff)
	}
}

// The history of a part is that of its households, in the order of a run, and every state is told as done.
func TestHistoryOfAPart(t *testing.T) {
	b := rulebook(t)
	p := past{days: []string{"2026-05-01", "2026-04-01"}}
	for range 3 {
		p.trees = append(p.trees, files(map[string]string{"a/kit.cue": frame, "b/kit.cue": frame, "c/kit.cue": frame, "d/kit.cue": frame}))
	}
	delete(p.trees[2], "c/kit.cue")
	last := map[string]string{"a": "3", "b": "1", "c": "2", "d": "0"}
	o := lint.Options{Options: household.Options{Show: func(p string) string { return p }}, Alias: func(p string) string { return last[p] }}
	all := 0
	for i := range 2 {
		var err error
		if o.Part, err = lint.ParseShard(fmt.Sprintf("%d/2", i+1)); err != nil {
			t.Fatal(err)
		}
		var mu sync.Mutex
		var dones []int
		o.Done = func(done, of int) {
			mu.Lock()
			defer mu.Unlock()
			dones = append(dones, done, of)
		}
		h := p.follow(t.Context(), t, b, o)
		n := len(h.Households)
		all += n
		var order []string
		for _, c := range h.Households {
			order = append(order, last[c.Path])
			if len(c.Points) != 2 || c.Points[1].There == (c.Path == "c") {
				t.Errorf("%+v", c)
			}
		}
		slices.Sort(dones)
		if len(dones) != 2*2*n || n > 0 && dones[len(dones)-1] != 2*n || !slices.IsSorted(order) {
			t.Errorf("%v %v", dones, order)
		}
	}
	if all != 4 {
		t.Errorf("%d households in both parts", all)
	}
}

// Stopped, a history gives what was judged, and says that this is not all.
func TestHistoryInterrupted(t *testing.T) {
	b := rulebook(t)
	p := past{days: []string{"2026-05-01", "2026-04-01", "2026-03-01"}}
	for range 4 {
		p.trees = append(p.trees, files(map[string]string{"a/kit.cue": frame, "b/kit.cue": frame}))
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	judge := p.run(t, b, lint.Options{})
	var asked atomic.Int64
	o := lint.Options{Run: func(ctx context.Context, j lint.Job) lint.Answer {
		if asked.Add(1) > 3 {
			stop()
			return lint.Pack(household.Outcome{Household: finding.Household{Path: j.Dir}}) // as the wall answers
		}
		return judge(ctx, j)
	}}
	h := p.follow(ctx, t, b, o)
	n := 0
	for _, c := range h.Households {
		for _, pt := range c.Points {
			n++
			if !pt.Judged {
				t.Errorf("a state that was interrupted is told: %+v", pt)
			}
		}
	}
	if want := fmt.Sprintf("interrupted after %d of 6 earlier states of households", n); len(h.Households) != 2 || n > 3 || h.Partial != want {
		t.Errorf("%q, want %q", h.Partial, want)
	}
}

// What a household reads lies within its reach.
func TestReach(t *testing.T) {
	kits := files(map[string]string{
		"home/valley/cue.mod/module.cue":  "module: \"valley.example/kits\"\nlanguage: version: \"v0.17.0\"\n",
		"home/valley/village/shared.cue":  "package kit\n",
		"home/valley/village/a/kit.cue":   frame,
		"home/valley/village/b/kit.cue":   strings.Replace(frame, "package kit\n", "package kit\n\nimport \"valley.example/kits/things\"\n", 1),
		"home/valley/things/things.cue":   "package things\n",
		"elsewhere/alone/kit.cue":         frame,
		"elsewhere/alone/not-a-household": "",
	})
	above := []string{"home/valley/village/*.cue", "home/valley/village/cue.mod", "home/valley/*.cue", "home/valley/cue.mod"}
	for pattern, want := range map[string][]string{
		"home/valley/...":               {"home/valley"},
		"home/valley/village/a":         append([]string{"home/valley/village/a"}, above...),
		"home/valley/village/a/kit.cue": append([]string{"home/valley/village/a"}, above...),
		"home/valley/village/b":         append(append([]string{"home/valley/village/b"}, above...), "home/valley"),
		"home/valley/village/...":       {"home/valley/village", "home/valley/*.cue", "home/valley/cue.mod", "home/valley"},
		"elsewhere/alone":               {"elsewhere/alone", "elsewhere/*.cue", "elsewhere/cue.mod", "*.cue", "cue.mod"},
		"...":                           {"."},
	} {
		if diff := cmp.Diff(want, lint.Reach(kits, []string{pattern})); diff != "" {
			t.Errorf("%s: (-want +got):\n%s", pattern, diff)
		}
	}
}
