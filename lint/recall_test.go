package lint_test

import (
	"context"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/cache"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
)

// openCache opens a cache that answers are remembered in.
func openCache(t *testing.T, dir string) *cache.Store {
	t.Helper()
	store, err := cache.Open(dir, make([]byte, cache.SecretSize), 1<<24, time.Date(2026, 11, 1, 12, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = store.Close() })
	return store
}

// remembering judges the household in folder dir of a tree, with a memory before it.
type remembering struct {
	t        *testing.T
	rulebook *judge.Rulebook
	dir      string // of the cache
	root     string // that paths are relative to
	salt     string
	verify   bool
	// run is the audit date, that of all tests where it is not given; job the day of the household, the audit date where it is not given.
	run, job string
}

// ask gives the findings, whether they had to be judged, and what the memory holds otherwise.
func (r remembering) ask(tree fstest.MapFS, dir string) (out []finding.Finding, judged bool, differs []string) {
	r.t.Helper()
	store := openCache(r.t, r.dir)
	show := func(p string) string { return strings.TrimPrefix(strings.TrimPrefix(p, r.root), "/") }
	if r.root != "" {
		show = func(p string) string {
			if rest, ok := strings.CutPrefix(p, r.root+"/"); ok {
				return rest
			}
			return strings.Repeat("../", strings.Count(r.root, "/")+1) + p
		}
	}
	today := day(r.t)
	if r.run != "" {
		today = dayOf(r.t, r.run)
	}
	j := lint.Job{Dir: dir}
	if r.job != "" {
		j.On = kit.Some(dayOf(r.t, r.job))
	}
	m := &lint.Cache{Store: store, Salt: []byte(r.salt), On: today, Root: r.root, Show: show, Verify: r.verify, Tree: func(string) (fs.FS, error) { return tree, nil }}
	run := m.Run(func(ctx context.Context, j lint.Job) lint.Answer {
		judged = true
		return lint.Work(ctx, load.NewViewer(tree).Of(j.Dir, j.Given), r.rulebook, j, household.Options{On: j.Day(today), Show: show}, nil)
	})
	a := run(context.Background(), j)
	out, err := a.Findings()
	if err != nil || store.Err() != nil {
		r.t.Fatal(err, store.Err())
	}
	return out, judged, m.Differs()
}

// An answer is found again if and only if nothing that was read for it has changed; found again, it is the same.
func TestMemory(t *testing.T) {
	base := files(map[string]string{
		"cue.mod/module.cue": "module: \"valley.example/kits\"\nlanguage: version: \"v0.17.0\"\n",
		"shared.cue":         "package kit\n\n_lamp: {name: \"lamp\", mass: \"50 g\"}\n",
		"a/kit.cue":          "@extern(embed)\n\n" + frame + "\npacks: rust: compartments: lid: items: lamp: _lamp\npacks: rust: compartments: lid: items: _ @embed(file=more.json)\n",
		"a/more.json":        `{"rope": {"name": "rope", "mass": "200 g"}}`,
		"b/kit.cue":          frame,
	})
	r := remembering{t: t, rulebook: rulebook(t), dir: t.TempDir()}
	first, judged, _ := r.ask(base, "a")
	if !judged || len(first) < 5 || first[0].Rule == "input/file" {
		t.Fatalf("judged %v: %v", judged, first)
	}
	for _, f := range first {
		if strings.HasPrefix(f.Rule, "input/") {
			t.Fatalf("%s: %s", f.At, f.Message)
		}
	}
	with := func(name, text string) fstest.MapFS {
		tree := maps.Clone(base)
		tree[name] = &fstest.MapFile{Data: []byte(text)}
		return tree
	}
	without := func(name string) fstest.MapFS {
		tree := maps.Clone(base)
		delete(tree, name)
		return tree
	}
	for _, c := range []struct {
		what   string
		tree   fstest.MapFS
		judged bool
	}{
		{"nothing", base, false},
		{"a neighbour's kit", with("b/kit.cue", frame+"\n// more\n"), false},
		{"a new neighbour", with("c/kit.cue", frame), false},
		{"a file that is no kit, above", with("README.md", "hello"), false},
		{"the kit", with("a/kit.cue", string(base["a/kit.cue"].Data)+"\n"), true},
		{"what is embedded", with("a/more.json", `{"rope": {"name": "rope", "mass": "300 g"}}`), true},
		{"what is embedded, gone", without("a/more.json"), true},
		{"a second file of the kit", with("a/more.cue", "package kit\n"), true},
		{"what is shared", with("shared.cue", "package kit\n\n_lamp: {name: \"lamp\", mass: \"60 g\"}\n"), true},
		{"a second file of what is shared", with("more.cue", "package kit\n"), true},
		{"the module", with("cue.mod/module.cue", "module: \"valley.example/kits2\"\nlanguage: version: \"v0.17.0\"\n"), true},
		{"a module nearer by", with("a/cue.mod/module.cue", "module: \"valley.example/a\"\nlanguage: version: \"v0.17.0\"\n"), true},
		{"nothing, after all this", base, false},
	} {
		got, judged, _ := r.ask(c.tree, "a")
		if judged != c.judged {
			t.Errorf("%s: judged %v", c.what, judged)
		}
		fresh := remembering{t: t, rulebook: r.rulebook, dir: t.TempDir()}
		want, _, _ := fresh.ask(c.tree, "a")
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s: remembered otherwise (-judged +remembered):\n%s", c.what, diff)
		}
	}
	// Another program, standard or option has answers of its own.
	other := r
	other.salt = "another"
	if _, judged, _ := other.ask(base, "a"); !judged {
		t.Error("an answer of another salt is taken")
	}
	// A repository that moves takes its cache along.
	moved := fstest.MapFS{}
	for name, f := range base {
		moved["home/ida/kits/"+name] = f
	}
	other = r
	other.root = "home/ida/kits"
	if got, judged, _ := other.ask(moved, "home/ida/kits/a"); judged {
		t.Error("moved, it is judged anew")
	} else if diff := cmp.Diff(first, got); diff != "" {
		t.Error(diff)
	}
}

// Each day has its own answers, whether it is the run's or the household's.
func TestMemoryKnowsDays(t *testing.T) {
	tree := files(map[string]string{"a/kit.cue": frame + "\npacks: rust: compartments: lid: items: bars: {mass: \"500 g\", expires: \"2026-08-31\", food: energy: \"2100 kcal\"}\n"})
	r := remembering{t: t, rulebook: rulebook(t), dir: t.TempDir()}
	for _, c := range []struct {
		run, job        string
		judged, expired bool
	}{
		{"2026-11-01", "", true, true},
		{"2026-11-01", "2026-08-01", true, false},
		{"2026-11-01", "1970-01-01", true, false},
		{"2026-11-01", "", false, true},
		{"2026-11-01", "2026-11-01", false, true},
		{"2026-12-01", "2026-11-01", false, true},
		{"2026-12-01", "2026-08-01", false, false},
		{"2026-08-01", "", false, false},
		{"2026-12-01", "", true, true},
	} {
		r.run, r.job = c.run, c.job
		found, judged, _ := r.ask(tree, "a")
		expired := slices.ContainsFunc(found, func(f finding.Finding) bool { return f.Rule == "dates/expired" })
		if judged != c.judged || expired != c.expired {
			t.Errorf("on %s, as of %q: judged %v, expired %v", c.run, c.job, judged, expired)
		}
	}
}

// Verifying judges anew and tells where the memory holds something else.
func TestVerifyMemory(t *testing.T) {
	tree := files(map[string]string{"a/kit.cue": frame})
	r := remembering{t: t, rulebook: rulebook(t), dir: t.TempDir(), verify: true}
	for range 2 {
		if _, judged, differs := r.ask(tree, "a"); !judged || len(differs) > 0 {
			t.Errorf("judged %v, differs %v", judged, differs)
		}
	}
	// A memory that was filled by another program under the same salt.
	r.dir = t.TempDir()
	store := openCache(t, r.dir)
	m := &lint.Cache{Store: store, On: day(t), Show: func(p string) string { return p }, Tree: func(string) (fs.FS, error) { return tree, nil }}
	m.Run(func(ctx context.Context, j lint.Job) lint.Answer {
		reads := repo.Record(load.NewViewer(tree).Of(j.Dir, j.Given))
		_ = household.Judge(ctx, reads, r.rulebook, j.Dir, household.Options{On: day(t)})
		a := lint.Pack(household.Outcome{Household: finding.Household{Name: "Nobody", Path: "a", Judged: true}})
		a.Reads = reads.Reads()
		return a
	})(context.Background(), lint.Job{Dir: "a"})
	if got, _, differs := r.ask(tree, "a"); len(differs) != 1 || differs[0] != "a" || len(got) == 0 {
		t.Errorf("differs %v, %d findings", differs, len(got))
	}
}

// What was stopped, and what a broken rule has to say, is not remembered.
func TestOnlyWholeAnswersAreRemembered(t *testing.T) {
	tree := files(map[string]string{"a/kit.cue": frame})
	r := remembering{t: t, rulebook: broken(t), dir: t.TempDir()}
	for range 2 {
		if _, judged, _ := r.ask(tree, "a"); !judged {
			t.Error("a broken rule's answer is remembered")
		}
	}
}
