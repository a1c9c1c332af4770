package lint_test

import (
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/testkit"
	"kitmuster/lint/valley"
)

// presence names the rules that speak against a thing being there, being old or being written as it is: what they object to may be
// mended by taking it out, so their findings are not counted when something is left out. A name that ends in / is a whole area.
var presence = []string{
	"data/", "dates/", "load/", "low-profile/", "safety/", "waiver/",
	// The load of someone, by another area's name.
	"animals/unfit-bearer", "children/bears-too-young", "children/carrier", "endurance/load-share", "vehicle/bicycle", "vehicle/payload",
	// A thing that harms where it lies.
	"animals/harmful-food", "documents/dry", "food/allergens", "food/set-aside", "food/severe-nearby", "infant/harmful-food", "medication/allergens", "medication/child-dose", "medication/child-reach", "radio/licence", "vehicle/storage",
	// A filter in which nobody should trust; what treats water without it is another rule's question.
	"water/filter-frost",
	// The state or the label of a medicine; how much of it can be used is another rule's question.
	"medication/cold-chain", "medication/dated", "medication/expired", "medication/forbidden", "medication/frost", "medication/heat", "medication/original-package", "medication/within-plan",
}

// against reports whether a rule speaks against something being there.
func against(rule string) bool {
	return slices.ContainsFunc(presence, func(p string) bool { return p == rule || strings.HasSuffix(p, "/") && strings.HasPrefix(rule, p) })
}

// named fails where no rule has a name.
func named(t *testing.T, b *judge.Rulebook, name string) {
	t.Helper()
	if _, ok := b.Rule(name); !ok {
		t.Error(b.NoRule(name))
	}
}

// A removal leaves something out of a kit.
type removal struct {
	what string // as a person says it
	from *kit.Household
}

// removals are all that can be left out of a kit one at a time: each thing in a pack or worn, each pack, and the share of each person,
// which is what they wear, their packs and what is theirs in the packs of others. The person stays.
func removals(h *kit.Household) (out []removal) {
	add := func(what string, keepPack func(*kit.Pack) bool, keepItem func(*kit.Item) bool) {
		c := *h
		c.People = slices.Clone(h.People)
		for i := range c.People {
			c.People[i].OnBody = kept(c.People[i].OnBody, keepItem)
		}
		c.Packs = nil
		for _, p := range h.Packs {
			if !keepPack(&p) {
				continue
			}
			p.Compartments = slices.Clone(p.Compartments)
			for i := range p.Compartments {
				p.Compartments[i].Items = kept(p.Compartments[i].Items, keepItem)
			}
			c.Packs = append(c.Packs, p)
		}
		out = append(out, removal{what, &c})
	}
	every := func(*kit.Pack) bool { return true }
	all := func(*kit.Item) bool { return true }
	for _, it := range things(h) {
		add(it.Spot, every, func(i *kit.Item) bool { return i.Spot != it.Spot })
	}
	for _, p := range h.Packs {
		add(p.Spot, func(q *kit.Pack) bool { return q.Key != p.Key }, all)
	}
	for _, p := range h.People {
		add("all that is "+p.Name+"'s", func(q *kit.Pack) bool { return q.Carrier != p.Key }, func(i *kit.Item) bool { return i.Owner != p.Key && !strings.HasPrefix(i.Spot, p.Spot+"/") })
	}
	return out
}

// things are all items of a kit.
func things(h *kit.Household) (out []*kit.Item) {
	for i := range h.People {
		for j := range h.People[i].OnBody {
			out = append(out, &h.People[i].OnBody[j])
		}
	}
	for i := range h.Packs {
		for j := range h.Packs[i].Compartments {
			for k := range h.Packs[i].Compartments[j].Items {
				out = append(out, &h.Packs[i].Compartments[j].Items[k])
			}
		}
	}
	return out
}

func kept(items []kit.Item, keep func(*kit.Item) bool) (out []kit.Item) {
	for i := range items {
		if keep(&items[i]) {
			out = append(out, items[i])
		}
	}
	return out
}

// objections are the errors and warnings about a kit of rules that do not speak against things.
func objections(t *testing.T, b *judge.Rulebook, m *household.Measured, h *kit.Household) (errors, warnings []string) {
	t.Helper()
	changed := *m
	changed.Kit = h
	changed.Facts, changed.Ledger = measure.Of(h, measure.Options{On: day(t), Limits: m.Facts.Limits, Asked: m.Facts.Asked})
	verdicts, faults := changed.Verdicts(t.Context(), b, finding.Warning, day(t))
	for _, f := range faults {
		t.Errorf("%s: rule %s broke: %s", h.Name, f.Rule.Name, f.Problem)
	}
	for _, v := range verdicts {
		f := changed.Finding(v)
		if against(f.Rule) {
			continue
		}
		switch said := f.Rule + " " + f.Spot; f.Level {
		case finding.Error:
			errors = append(errors, said)
		case finding.Warning:
			warnings = append(warnings, said)
		}
	}
	return errors, warnings
}

// A breach is a removal that made a kit look better.
type breach struct{ household, what, which string }

func (b breach) String() string { return b.household + " without " + b.what + ": " + b.which }

// leaveOut takes things out of a household and gives the breaches of the law.
func leaveOut(t *testing.T, b *judge.Rulebook, tree fs.FS, dir string, some func([]removal) []removal) (tried int, out []breach) {
	t.Helper()
	m := household.MeasureFor(tree, dir, b, household.Options{On: day(t)})
	if m.Facts == nil {
		t.Fatalf("%s cannot be measured: %v", dir, m.Findings)
	}
	errors, warnings := objections(t, b, m, m.Kit)
	for _, r := range some(removals(m.Kit)) {
		tried++
		e, w := objections(t, b, m, r.from)
		if len(e) < len(errors) || len(e)+len(w) < len(errors)+len(warnings) {
			was, is := slices.Concat(errors, warnings), slices.Concat(e, w)
			out = append(out, breach{dir, r.what, fmt.Sprintf("errors %d → %d, with warnings %d → %d; gone: %s; new: %s",
				len(errors), len(e), len(was), len(is), strings.Join(minus(was, is), ", "), strings.Join(minus(is, was), ", "))})
		}
	}
	return tried, out
}

// minus are those of a that b does not hold.
func minus(a, b []string) (out []string) {
	b = slices.Clone(b)
	for _, s := range a {
		if i := slices.Index(b, s); i >= 0 {
			b = slices.Delete(b, i, i+1)
			continue
		}
		out = append(out, s)
	}
	return out
}

// Leaving things out never makes a kit look better: whatever is taken out of a household, the count of errors does not fall, and the
// count of errors and warnings together does not, the rules aside that speak against a thing being there. The default run leaves out a
// sample; the long corpus every thing, pack and share of the examples, of the corpus of the trade and of some households of a valley.
func TestLeavingOutNeverHelps(t *testing.T) {
	t.Parallel()
	b, valleys := rulebook(t), 3
	if testkit.Whole(t) {
		valleys = 6
	}
	trees := []struct {
		name string
		tree fs.FS
		some int // removals of each household in the default run
	}{
		{"examples", os.DirFS("../examples/harrow-valley"), 6},
		{"the corpus of the trade", tradeTree(t), 1},
		{"a valley", inValley(valleys), 3},
	}
	for _, p := range presence {
		if !strings.HasSuffix(p, "/") {
			named(t, b, p)
		}
	}
	tried := 0
	for _, c := range trees {
		dirs, faults := load.Find(c.tree, []string{"..."}, load.Options{})
		if len(dirs) < 3 || len(faults) > 0 {
			t.Fatal(c.name, dirs, faults)
		}
		for _, dir := range dirs {
			n, breaches := leaveOut(t, b, c.tree, dir, func(all []removal) []removal { return testkit.Spread(t, c.some, all) })
			tried += n
			for _, x := range breaches {
				t.Errorf("%s: %s", c.name, x)
			}
		}
	}
	t.Logf("left out, one at a time: %d things, packs and shares", tried)
}

// inValley is a tree of made-up households.
func inValley(n int) fstest.MapFS {
	out := fstest.MapFS{}
	for name, text := range valley.Files(valley.Options{Households: n, Items: 60, Seed: 11}) {
		out[name] = &fstest.MapFile{Data: text}
	}
	return out
}
