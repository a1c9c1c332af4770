package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
)

// rounds is how often a household is judged for its times; the least of them counts,
// since whatever else the machine does only ever adds.
const rounds = 25

// timing says how long each rule takes for one household, slowest first.
func timing(ctx context.Context, w io.Writer, b *judge.Rulebook, in *input, p *place, names []string) error {
	for _, n := range names {
		if _, ok := b.Rule(n); !ok {
			return fmt.Errorf("%s", b.NoRule(n))
		}
	}
	dirs, faults := load.Find(p.disk.FS, p.patterns, load.Options{Show: p.disk.Show})
	switch {
	case len(faults) > 0:
		return fmt.Errorf("--time %s: %s", in.paths[0], faults[0].Message)
	case len(dirs) != 1:
		return fmt.Errorf("--time %s: there are %d households; name one", in.paths[0], len(dirs))
	}
	m := household.Measure(p.disk.FS, dirs[0], in.one(p))
	if m.Facts == nil {
		return fmt.Errorf("--time %s: %s", in.paths[0], m.Findings[0].Message)
	}
	best := map[string]time.Duration{}
	var ready time.Duration
	for i := range rounds {
		last := time.Now()
		b.Each(ctx, m.Facts, func(r *judge.Rule) {
			now := time.Now()
			took := now.Sub(last)
			last = now
			switch {
			case r == nil && (i == 0 || took < ready):
				ready = took
			case r != nil && (i == 0 || took < best[r.Name]):
				best[r.Name] = took
			}
		})
	}
	var total time.Duration
	rules := b.Rules()
	for _, r := range rules {
		total += best[r.Name]
	}
	slices.SortStableFunc(rules, func(a, b *judge.Rule) int { return cmp.Compare(best[b.Name], best[a.Name]) })
	wide := 0
	for _, r := range rules {
		wide = max(wide, len(r.Name))
	}
	micro := func(d time.Duration) string { return fmt.Sprintf("%8.1f µs", float64(d.Nanoseconds())/1000) }
	for _, r := range rules {
		if len(names) == 0 || slices.Contains(names, r.Name) {
			fmt.Fprintf(w, "%-*s  %s  %5.1f %%\n", wide, r.Name, micro(best[r.Name]), 100*float64(best[r.Name])/float64(max(total, 1)))
		}
	}
	fmt.Fprintf(w, "%d rules over %d items: %s, and %s to hand the facts to the engine (least of %d rounds; a helper that several rules share counts at the first).\n",
		len(rules), len(m.Facts.Items), strings.TrimSpace(micro(total)), strings.TrimSpace(micro(ready)), rounds)
	return nil
}
