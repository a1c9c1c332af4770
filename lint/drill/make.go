package drill

import (
	"cmp"
	"context"
	"io/fs"
	"slices"

	"kitmuster/lint"
	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/measure"
	"kitmuster/lint/unit"
)

// pairsOfPacks is up to how many packs every two are drilled: 8 make 28 pairs.
const pairsOfPacks = 8

// Product is what drills make of a household: a *Drilled.
var Product = lint.Product{Name: "drill", Make: Make}

// Make works on the household in folder dir: as it is, and in each what-if. Every what-if is the
// same move: the kit is changed, measured and judged again, and what is new is told, as far as rules of
// the level o.From and graver say it. The outcome's Extra is a *Drilled.
func Make(ctx context.Context, tree fs.FS, rulebook *judge.Rulebook, dir string, o household.Options) household.Outcome {
	m := household.MeasureFor(tree, dir, rulebook, o)
	all := m.Outcome()
	out := &Drilled{Household: m.Household}
	if all.Extra = out; m.Facts == nil {
		return all
	}
	d := &drills{m: m, rulebook: rulebook, least: o.From, o: o, out: out, lasts: map[string]int64{}}
	for i := range m.Facts.Endurance.Stocks {
		if s := &m.Facts.Endurance.Stocks[i]; s.Known {
			d.lasts[s.ID] = s.Lasts
		}
	}
	known, faults := d.judge(ctx, m)
	out.Base = d.fate(Drill{Text: "as it is", Fits: true}, m.Facts)
	d.before = known
	h := *m.Kit
	h.Plan.Season = cmp.Or(o.Season, h.Plan.Season)
	for _, x := range All(&h, d.cap, d.walks, func(key string, it *kit.Item) bool { return d.m.MayHold(rulebook, key, it) }) {
		changed := d.measure(x)
		f := d.fate(x, changed.Facts)
		var more []judge.Fault
		f.New, more = d.judge(ctx, changed)
		faults = append(faults, more...)
		out.Drills = append(out.Drills, f)
	}
	if len(h.Packs) > pairsOfPacks {
		out.PairsOf = pairsOfPacks
	}
	for _, x := range Pairs(&h, pairsOfPacks) {
		out.Pairs = append(out.Pairs, d.fate(x, d.measure(x).Facts))
	}
	out.Points = m.Points(rulebook)
	d.broken(faults, &all)
	out.Household = all.Household
	return all
}

// drills is one household being drilled.
type drills struct {
	m        *household.Measured
	rulebook *judge.Rulebook
	least    finding.Level
	o        household.Options
	out      *Drilled
	before   []finding.Finding
	lasts    map[string]int64 // hours of each stock as it is
}

// measure measures a what-if as the household itself was measured.
func (d *drills) measure(x Drill) *household.Measured {
	changed := *d.m
	changed.Kit = x.Household
	changed.Facts, changed.Ledger = measure.Of(x.Household, measure.Options{On: d.o.On, Limits: d.m.Facts.Limits, Asked: d.m.Facts.Asked})
	return &changed
}

// judge gives the findings that are not there as it is, and that no waiver covers.
func (d *drills) judge(ctx context.Context, m *household.Measured) ([]finding.Finding, []judge.Fault) {
	verdicts, faults := m.Verdicts(ctx, d.rulebook, d.least, d.o.On)
	var out household.Outcome
	for _, v := range verdicts {
		if !slices.ContainsFunc(d.before, func(f finding.Finding) bool {
			return f.Rule == v.Rule.Name && whose(d.m.Facts, f.Spot) == whose(m.Facts, v.At) && f.Level.Rank() >= v.Level.Rank()
		}) {
			out.Findings = append(out.Findings, m.Finding(v))
		}
	}
	n := len(out.Findings)
	m.Waive(d.rulebook, d.o.On, &out)
	out.Findings = slices.DeleteFunc(out.Findings[:n], func(f finding.Finding) bool { return f.Waived != nil })
	return finding.Sort(out.Findings), faults
}

// whose is the person of whom a finding at a pack may tell (lib.stands in the rules), or else its spot: where someone's only
// pack is left behind, what is missing was missing before, and only the spot moves.
func whose(f *facts.Facts, spot string) string {
	for i := range f.People {
		if p := &f.People[i]; len(p.Packs) == 1 && p.Packs[0] == spot {
			return p.ID
		}
	}
	return spot
}

// fate is what becomes of the household in one drill.
func (d *drills) fate(x Drill, f *facts.Facts) Fate {
	out := Fate{Key: x.Key, Kind: x.Kind, Text: x.Text, Hours: int(f.Endurance.Hours), Minutes: f.Endurance.Minutes, Handed: x.Fits, Takers: x.Takers, People: len(f.People)}
	for i := range x.Left {
		out.Left = append(out.Left, x.Left[i].Name)
		out.LeftMG += x.Left[i].All().Milligrams()
	}
	out.Lasts = d.lasting(f)
	out.Lost = losses(d.m.Facts, f)
	for i := range f.People {
		p := &f.People[i]
		carried := slices.ContainsFunc(d.m.Facts.People, func(b facts.Person) bool { return b.ID == p.ID && b.CarriedBy != "" })
		if walks := measure.Walks(p); p.CarriedBy == "" && (carried || !walks) {
			out.Uncarried = append(out.Uncarried, Uncarried{Name: p.Name, MassMG: p.BodyMassMG, Walks: walks})
		}
	}
	for i := range f.Animals {
		a := &f.Animals[i]
		carried := slices.ContainsFunc(d.m.Facts.Animals, func(b facts.Animal) bool { return b.ID == a.ID && b.CarriedBy != "" })
		if a.CarriedBy == "" && carried {
			out.Uncarried = append(out.Uncarried, Uncarried{Name: a.Name, MassMG: a.BodyMassMG})
		}
	}
	return out
}

// lasting is how long each kind of stock lasts, by the one of it that loses most against as it is, then the first to be short.
func (d *drills) lasting(f *facts.Facts) (out []finding.Stock) {
	several := map[kinds.Stock]bool{}
	for _, facts := range []*facts.Facts{d.m.Facts, f} {
		count := map[kinds.Stock]int{}
		for i := range facts.Endurance.Stocks {
			k := household.StockOf(facts, &facts.Endurance.Stocks[i])
			count[k]++
			several[k] = several[k] || count[k] > 1
		}
	}
	end := func(facts *facts.Facts, hours int64) int64 { return min(60*hours, facts.Endurance.Minutes) }
	for i := range f.Endurance.Stocks { // in the order of their IDs
		s := &f.Endurance.Stocks[i]
		l := finding.Stock{Kind: household.StockOf(f, s), Of: cmp.Or(s.BodyName, "everybody"), Lasts: s.Lasts, Known: s.Known, Least: s.Least, Unrecorded: s.Unrecorded}
		if s.Name != "" {
			l.Of = s.Name + " of " + s.BodyName
		}
		if had, ok := d.lasts[s.ID]; ok && s.Known {
			want := end(d.m.Facts, had)
			if had == d.m.Facts.Endurance.Hours { // to the end, so of a longer plan to its end
				want = f.Endurance.Minutes
			}
			l.LostMin = max(0, want-end(f, s.Lasts))
		}
		if !several[l.Kind] {
			l.Of = ""
		}
		i := slices.IndexFunc(out, func(o finding.Stock) bool { return o.Kind == l.Kind })
		switch {
		case i < 0:
			out = append(out, l)
		case cmp.Or(cmp.Compare(out[i].LostMin, l.LostMin), cmp.Compare(l.Lasts, out[i].Lasts)) < 0:
			out[i] = l
		}
	}
	slices.SortFunc(out, func(a, b finding.Stock) int { return cmp.Compare(a.Kind, b.Kind) })
	return out
}

// losses are the capabilities that the people of a drill no longer have, together or alone.
func losses(before, after *facts.Facts) (out []finding.Loss) {
	had := func(s *facts.Supply, capability kinds.Capability) bool {
		return slices.ContainsFunc(s.Can, func(c facts.Can) bool { return c.Capability == capability })
	}
	for _, c := range before.Household.Supply.Can {
		l := finding.Loss{Capability: c.Capability, All: !had(&after.Household.Supply, c.Capability)}
		for i := range after.People {
			p := &after.People[i]
			for j := range before.People {
				if b := &before.People[j]; b.ID == p.ID && (l.All || had(&b.Alone, c.Capability)) && !had(&p.Alone, c.Capability) {
					l.Who = append(l.Who, p.Name)
				}
			}
		}
		if l.All || len(l.Who) > 0 {
			out = append(out, l)
		}
	}
	return out
}

// cap is the most that someone may carry: an own cap, or the standard's.
func (d *drills) cap(key string) unit.Mass {
	for i := range d.m.Facts.Carriers {
		if c := &d.m.Facts.Carriers[i]; c.Key == key {
			return unit.Mass(c.BodyMassMG) * unit.Mass(d.m.CapOf(d.rulebook, c)) // mg × permille is µg
		}
	}
	return 0
}

// walks reports whether a person can be on their own two feet.
func (d *drills) walks(key string) bool {
	for i := range d.m.Facts.People {
		if p := &d.m.Facts.People[i]; p.Key == key {
			return measure.Walks(p)
		}
	}
	return false
}

// broken names the rules that broke; what they have to say is incomplete.
func (d *drills) broken(faults []judge.Fault, all *household.Outcome) {
	said := map[string]bool{}
	for _, f := range faults {
		if said[f.Rule.Name] {
			continue
		}
		said[f.Rule.Name] = true
		all.Household.Judged = false
		all.Findings = append(all.Findings, d.m.BrokenRule(f))
	}
}
