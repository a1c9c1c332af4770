package lint_test

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
	"kitmuster/lint/testkit"
)

// A real repository, from its log to the households' courses; what was judged once is remembered on later days.
func TestHistoryOfARepository(t *testing.T) {
	home, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(home, "village")
	env := testkit.GitEnv(home)
	git := func(date string, args ...string) {
		t.Helper()
		testkit.Git(t, dir, []string{"HOME=" + home, "GIT_COMMITTER_DATE=" + date + "T12:00:00Z"}, args...)
	}
	commit := func(date string, texts map[string]string) {
		t.Helper()
		testkit.Write(t, dir, texts)
		git(date, "add", "-A")
		git(date, "commit", "-q", "-m", "as of "+date)
	}
	const lamp = "packs: rust: compartments: lid: items: lamp: _lamp\n"
	shared := func(mass string) map[string]string {
		return map[string]string{"shared.cue": "package kit\n\n_lamp: {name: \"lamp\", mass: \"" + mass + "\"}\n"}
	}
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	git("2026-01-01", "init", "-q")
	commit("2026-01-01", map[string]string{"cue.mod/module.cue": "module: \"valley.example/kits\"\nlanguage: version: \"v0.17.0\"\n", "shared.cue": "package kit\n\n_lamp: {name: \"lamp\", mass: \"700 g\"}\n", "old/a/kit.cue": frame + lamp})
	for i := range 5 {
		commit(fmt.Sprintf("2026-02-%02d", 1+i), shared(fmt.Sprintf("%d g", 1400+700*i)))
	}
	commit("2026-03-01", map[string]string{"b/kit.cue": strings.Replace(frame, "Example", "Other", 1)})
	git("2026-04-01", "mv", "old/a", "a")
	commit("2026-04-01", nil)
	commit("2026-05-01", map[string]string{"README": "no kit"})

	r, err := repo.OpenRepository(t.Context(), dir, env)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	disk, err := repo.NewDisk(dir, dir)
	if err != nil {
		t.Fatal(err)
	}
	top, err := disk.Path(dir)
	if err != nil {
		t.Fatal(err)
	}
	pattern := func(p string) []string { return []string{top + "/" + p} }
	tree := func(ctx context.Context, commit string) (fs.FS, error) {
		if commit == "" {
			return disk.FS, nil
		}
		return r.Tree(ctx, commit)
	}
	b, store := rulebook(t), t.TempDir()
	follow := func(today string, n int, patterns []string) (map[string][]string, int64) {
		t.Helper()
		cached := openCache(t, store)
		o := lint.Options{Patterns: patterns, Options: household.Options{On: dayOf(t, today), Show: disk.Show}, Workers: 2}
		m := &lint.Cache{Store: cached, On: o.On, Root: top, Show: disk.Show, Tree: func(commit string) (fs.FS, error) { return tree(t.Context(), commit) }}
		var judged atomic.Int64
		o.Run = m.Run(func(ctx context.Context, j lint.Job) lint.Answer {
			judged.Add(1)
			at, err := tree(ctx, j.Commit)
			if err != nil {
				t.Error(err)
				return lint.Answer{}
			}
			reads := repo.Record(load.NewViewer(at).Of(j.Dir, j.Given))
			own := o.Options
			own.On = j.Day(o.On)
			a := lint.Pack(household.Judge(ctx, reads, b, j.Dir, own))
			a.Reads = reads.Reads()
			return a
		})
		commits, remarks, err := r.Log(t.Context(), n, lint.Reach(disk.FS, patterns)...)
		if err != nil || len(remarks) > 0 {
			t.Fatal(err, remarks)
		}
		h := lint.History(t.Context(), disk.FS, o, lint.Past{Commits: commits, Tree: tree, Changed: r.Changed})
		if h.Partial != "" || len(h.Remarks) > 0 || cached.Err() != nil {
			t.Errorf("%q %q %v", h.Partial, h.Remarks, cached.Err())
		}
		out := map[string][]string{}
		for _, c := range h.Households {
			for _, p := range c.Points {
				out[c.Path] = append(out[c.Path], line(p))
			}
		}
		return out, judged.Load()
	}
	// The pack of 1 kg and the lamp on 70 kg, in permille and rounded up, by hand.
	want := map[string][]string{
		"a": {"05-01 a 75", "04-01 a 75", "03-01 old/a 75", "02-05 old/a 75", "02-04 old/a 65", "02-03 old/a 55", "02-02 old/a 45", "02-01 old/a 35", "01-01 old/a 25"},
		"b": {"05-01 b 15", "04-01 b 15", "03-01 b 15", "02-05 gone", "02-04 gone", "02-03 gone", "02-02 gone", "02-01 gone", "01-01 gone"},
	}
	for i, today := range []string{"2026-11-01", "2026-11-02"} {
		got, judged := follow(today, 20, pattern("..."))
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("on %s (-want +got):\n%s", today, diff)
		}
		if all := int64(9 + 3); i == 0 && judged != all || i > 0 && judged != 0 {
			t.Errorf("on %s: %d were judged", today, judged)
		}
	}
	// One household alone: what is shared above it counts, its neighbour and what is no kit do not.
	got, _ := follow("2026-11-01", 3, pattern("b"))
	if diff := cmp.Diff(map[string][]string{"b": {"03-01 b 15", "02-05 gone", "02-04 gone"}}, got); diff != "" {
		t.Error(diff)
	}
}

// line is a point in short: its day, where the household was, and the heaviest load.
func line(p finding.Trend) string {
	if !p.Judged {
		return p.Day[5:] + " gone"
	}
	return fmt.Sprintf("%s %s %d", p.Day[5:], p.Path, p.LoadPermille)
}
