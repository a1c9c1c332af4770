package lint_test

import (
	"context"
	"io/fs"
	"runtime"
	"runtime/debug"
	"slices"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/audit"
	"kitmuster/lint/household"
	"kitmuster/lint/load"
	"kitmuster/lint/testkit"
	"kitmuster/lint/unit"
	"kitmuster/lint/valley"
)

// sixty are households that a year is gone through with: half of a valley, half of the corpus of the trade.
func sixty(t *testing.T) (tree fstest.MapFS, dirs []string) {
	tree = fstest.MapFS{}
	for name, text := range valley.Files(valley.Options{Households: 30, Items: 40, Seed: 7}) {
		tree["valley/"+name] = &fstest.MapFile{Data: text}
	}
	dirs, _ = load.Find(tree, []string{"..."}, load.Options{})
	corpus := tradeTree(t)
	all, _ := load.Find(corpus, []string{"..."}, load.Options{})
	for i := range 30 {
		dirs = append(dirs, "trade/"+all[i*len(all)/30])
	}
	for name, f := range corpus {
		tree["trade/"+name] = f
	}
	if slices.Sort(dirs); len(slices.Compact(dirs)) != 60 {
		t.Fatalf("%d households", len(dirs))
	}
	return tree, dirs
}

// TestAYearOfDays judges sixty households on each day of a year, with what is remembered of them from other days and without: the
// answers are the same bytes. Some are made an audit of as well. Few days read the files again, and the cache that verifies agrees.
func TestAYearOfDays(t *testing.T) {
	tree, dirs := sixty(t)
	rules, first := rulebook(t), day(t)
	var year []unit.Date
	for n := range 365 {
		year = append(year, first+unit.Date(n))
	}
	if !testkit.Whole(t) {
		dirs = slices.DeleteFunc(dirs, func(dir string) bool { return len(dir)%4 > 0 })
		year = []unit.Date{first, first + 1, first + 2, first + 150, first + 364}
	}
	viewer := load.NewViewer(tree)
	var evaluated, recalled atomic.Int64
	next := int64(0)
	store := openCache(t, t.TempDir())
	same := func(s string) string { return s }
	memory := func(on unit.Date, verify bool) (*lint.Cache, func(context.Context, lint.Job) lint.Answer) {
		m := &lint.Cache{Store: store, On: on, Show: same, Verify: verify, Tree: func(string) (fs.FS, error) { return tree, nil }, Product: product}
		return m, m.Run(func(ctx context.Context, j lint.Job) lint.Answer {
			a := lint.Work(ctx, viewer.Of(j.Dir, j.Given), rules, j, household.Options{On: on}, product(j.Want))
			if a.Recalled {
				recalled.Add(1)
			}
			if !a.Recalled || len(a.Reads) > 0 {
				evaluated.Add(1)
			}
			return a
		})
	}
	for n, on := range year {
		_, run := memory(on, false)
		before := evaluated.Load()
		overCores(0, len(dirs), func(i int) {
			j := lint.Job{Dir: dirs[i]}
			if i%4 == 0 {
				j.Want = audit.Product.Name
			}
			want := lint.Work(t.Context(), viewer.Of(j.Dir, ""), rules, j, household.Options{On: on}, product(j.Want))
			got := run(t.Context(), j)
			if want.Recalled = got.Recalled; !cmp.Equal(want, got) {
				a, _ := want.Findings()
				b, _ := got.Findings()
				t.Errorf("%s on %s (-anew +remembered):\n%s", j.Dir, on, cmp.Diff(a, b))
			}
		})
		if n > 0 && year[n-1] == on-1 {
			next += evaluated.Load() - before
		}
		if n == len(year)/2 {
			m, run := memory(on, true)
			for _, dir := range dirs[:len(dirs)/4] {
				run(t.Context(), lint.Job{Dir: dir})
			}
			if bad := m.Differs(); len(bad) > 0 {
				t.Errorf("on %s the cache holds other answers for %v", on, bad)
			}
		}
	}
	days, most := int64(len(year)), int64(len(dirs))
	t.Logf("%d households on %d days: %d answers from what was known, %d evaluations", most, days, recalled.Load(), evaluated.Load())
	if got := recalled.Load(); got < most*(days-1) {
		t.Errorf("only %d of %d answers came of what was known", got, most*(days-1))
	}
	if next > most*days/3 {
		t.Errorf("on days after one that was judged, files were evaluated %d times", next)
	}
}

func product(name string) *lint.Product {
	if name == audit.Product.Name {
		return &audit.Product
	}
	return nil
}

// BenchmarkNextDay works on households of about 100 items on one core: anew, anew with what is kept of it, and on the next day with what
// was kept. The metrics are shares of the first: keep-% and next-%.
func BenchmarkNextDay(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // as the program sets it
	tree := fstest.MapFS{}
	for name, text := range valley.Files(valley.Options{Households: 40, Items: 100, Seed: 3}) {
		tree[name] = &fstest.MapFile{Data: text}
	}
	dirs, _ := load.Find(tree, []string{"..."}, load.Options{})
	rules, viewer, on := rulebook(b), load.NewViewer(tree), dayOf(b, valley.On)
	work := func(dir string, keep bool, known lint.Kept, on unit.Date) lint.Answer {
		return lint.Work(b.Context(), viewer.Of(dir, ""), rules, lint.Job{Dir: dir, Keep: keep, Known: known}, household.Options{On: on}, nil)
	}
	var anew, keeping, next time.Duration
	for b.Loop() {
		for _, dir := range dirs {
			start := time.Now()
			work(dir, false, lint.Kept{}, on)
			anew += time.Since(start)
			start = time.Now()
			kept := work(dir, true, lint.Kept{}, on).Kept
			keeping += time.Since(start)
			start = time.Now()
			work(dir, true, kept, on+1)
			next += time.Since(start)
		}
	}
	b.ReportMetric(100*keeping.Seconds()/anew.Seconds(), "keep-%")
	b.ReportMetric(100*next.Seconds()/anew.Seconds(), "next-%")
	b.ReportMetric(0, "ns/op")
}
