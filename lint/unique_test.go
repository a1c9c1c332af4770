package lint_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/load"
	"kitmuster/lint/private"
	"kitmuster/lint/valley"
)

// profiles are ways to say what a share-safe report tells of one household, from the finest to the coarsest.
var profiles = []struct {
	name string
	of   func(fs []finding.Finding) []string
}{
	{"rule, kind of spot and count", func(fs []finding.Finding) []string {
		return counted(fs, func(f *finding.Finding) string { return f.Rule + " " + f.Spot }, strconv.Itoa)
	}},
	{"rule and count: one, some, many", func(fs []finding.Finding) []string {
		return counted(fs, func(f *finding.Finding) string { return f.Rule }, some)
	}},
	{"rule", func(fs []finding.Finding) []string {
		return counted(fs, func(f *finding.Finding) string { return f.Rule }, nothing)
	}},
	{"as of fewer than five households: area, level and count", func(fs []finding.Finding) []string {
		few := private.Fewer(&finding.Run{Shared: "a key", Findings: finding.List(fs...)})
		all, _ := few.Findings.All() // a list has no errors
		return counted(all, func(f *finding.Finding) string { return f.Rule + " " + string(f.Level) }, strconv.Itoa)
	}},
	{"subject and worst level", func(fs []finding.Finding) []string { return subjects(fs, "note") }},
	{"subject and worst level, errors and warnings", func(fs []finding.Finding) []string { return subjects(fs, "warning") }},
	{"subjects with an error", func(fs []finding.Finding) []string { return subjects(fs, "error") }},
	{"levels and counts: one, some, many", func(fs []finding.Finding) []string {
		return counted(fs, func(f *finding.Finding) string { return string(f.Level) }, some)
	}},
	{"ready or not", func(fs []finding.Finding) []string {
		return subjects(fs, "error")[:min(1, len(subjects(fs, "error")))]
	}},
}

// counted says each kind once, with how often it is found.
func counted(fs []finding.Finding, kind func(*finding.Finding) string, say func(int) string) (out []string) {
	n := map[string]int{}
	for i := range fs {
		n[kind(&fs[i])]++
	}
	for k, c := range n {
		out = append(out, k+" "+say(c))
	}
	slices.Sort(out)
	return out
}

func nothing(int) string { return "" }

// some is a count in three bands.
func some(n int) string {
	switch {
	case n == 1:
		return "one"
	case n < 5:
		return "some"
	}
	return "many"
}

// subjects are the areas that rules of a level or a graver one object to, each with its worst level; the first, where there is an error,
// says so.
func subjects(fs []finding.Finding, least finding.Level) (out []string) {
	worst := map[string]finding.Level{}
	for i := range fs {
		area, _, _ := strings.Cut(fs[i].Rule, "/")
		if l := fs[i].Level; l.Rank() >= least.Rank() && l.Rank() > worst[area].Rank() {
			worst[area] = l
		}
	}
	for area, l := range worst {
		out = append(out, area+" "+string(l))
	}
	slices.Sort(out)
	if slices.ContainsFunc(out, func(s string) bool { return strings.HasSuffix(s, " error") }) {
		out = append([]string{"not ready"}, out...)
	}
	return out
}

// How many households of a made-up valley can be told apart by what a share-safe report says of them. KITMUSTER_UNIQUE is how many
// households there are, 40 where it is not set; the log says the rest. What is held is what package private says of it: by their
// findings many can be told apart, coarser words help little, and only whether each is ready leaves nobody alone.
func TestUniqueProfiles(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("judges 40 households")
	}
	n := 40
	if s := os.Getenv("KITMUSTER_UNIQUE"); s != "" {
		var err error
		if n, err = strconv.Atoi(s); err != nil {
			t.Fatal(err)
		}
	}
	dir := t.TempDir()
	for name, b := range valley.Files(valley.Options{Households: n, Items: 60, Seed: 4}) {
		p := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(p), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, b, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	tree, b := os.DirFS(dir), rulebook(t)
	mask := private.New([private.KeySize]byte{}, household.Rules(b), household.Limits(b), household.Said())
	dirs, faults := load.Find(tree, []string{"..."}, load.Options{})
	if len(dirs) != n || len(faults) > 0 {
		t.Fatalf("%d households, %v", len(dirs), faults)
	}
	all := make([][]finding.Finding, n)
	figures, bands := map[string]int{}, map[string]int{}
	for i, d := range dirs {
		all[i] = mask.Findings(household.Judge(context.Background(), tree, b, d, household.Options{On: day(t)}).Findings)
		m := household.Measure(tree, d, household.Options{On: day(t)})
		h := mask.Measured(m.Household, m.Facts)
		fine, coarse := fmt.Sprint(h.Load), fmt.Sprint(h.Load/10)
		for _, s := range h.Stocks {
			fine += fmt.Sprint(" ", s.Kind, s.Lasts, s.Known)
			coarse += fmt.Sprint(" ", s.Kind, min(int(s.Lasts), h.Hours)/24, s.Known)
		}
		figures[fine+fmt.Sprint(h.Hours, h.Can)]++
		bands[coarse]++
	}
	share := map[string]float64{}
	for _, p := range profiles {
		seen := map[string]int{}
		for _, fs := range all {
			seen[strings.Join(p.of(fs), "\n")]++
		}
		share[p.name] = alone(seen, n)
		t.Logf("%5d households, %-46s %5.1f %% unlike anybody else, %5.1f %% like fewer than four others", n, p.name, 100*share[p.name], 100*fewer(seen, n, 5))
	}
	t.Logf("%5d households, %-46s %5.1f %% unlike anybody else, %5.1f %% like fewer than four others", n, "figures of measure", 100*alone(figures, n), 100*fewer(figures, n, 5))
	t.Logf("%5d households, %-46s %5.1f %% unlike anybody else, %5.1f %% like fewer than four others", n, "load in tens, days, nothing of what they can do", 100*alone(bands, n), 100*fewer(bands, n, 5))
	if n == 40 && (share[profiles[0].name] < 0.25 || share[profiles[3].name] < 0.25) {
		t.Errorf("%.2f and %.2f of the households are alone: package private says that these profiles tell many apart, and that subjects do hardly better", share[profiles[0].name], share[profiles[3].name])
	}
	if s := share["ready or not"]; s*float64(n) >= 2 {
		t.Errorf("%.2f of the households are alone with the coarsest profile", s)
	}
	for i := 1; i < 3; i++ { // each says less than the one before
		if share[profiles[i].name] > share[profiles[i-1].name] {
			t.Errorf("%s tells more apart than %s", profiles[i].name, profiles[i-1].name)
		}
	}
}

// alone is the share of households whose profile nobody else has.
func alone(seen map[string]int, n int) float64 { return fewer(seen, n, 2) }

// fewer is the share of households whose profile fewer than k have, themselves counted.
func fewer(seen map[string]int, n, k int) float64 {
	out := 0
	for _, c := range seen {
		if c < k {
			out += c
		}
	}
	return float64(out) / float64(n)
}
