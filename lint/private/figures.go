package private

import (
	"cmp"
	"slices"

	"kitmuster/lint/compare"
	"kitmuster/lint/drill"
	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
	"kitmuster/lint/trial"
)

// told reports whether others may hear of a capability.
func told(c kinds.Capability) bool { return c.Row().Told == kinds.Tell }

// Measured is what the facts of a household may say; nil facts say nothing.
func (m *Mask) Measured(h finding.Household, f *facts.Facts) Shared {
	out := Shared{Household: m.Household(h)}
	if f == nil {
		return out
	}
	e := &f.Endurance
	out.Read, out.Hours, out.WaterLimit, out.Heat = true, int(e.Hours), e.WaterLimit, e.Category
	for i := range f.Carriers {
		if c := &f.Carriers[i]; len(c.Packs) > 0 {
			out.Load = max(out.Load, (c.ShareP+9)/10)
		}
	}
	for _, c := range f.Household.Supply.Can {
		if told(c.Capability) {
			out.Can = append(out.Can, c.Capability)
		}
	}
	for i := range e.Stocks {
		s := &e.Stocks[i]
		out.Stocks = least(out.Stocks, s.Kind, s.Known && !s.Unrecorded, s.Lasts)
	}
	return out
}

// least adds how long a stock lasts, in the order of kinds.Stocks and under the kind that others hear of: of several of a kind, the
// first to be short counts, and that of which it is not known is left to the others.
func least(all []finding.Stock, kind kinds.Stock, known bool, lasts int64) []finding.Stock {
	s := finding.Stock{Kind: kind.Row().Told, Known: known, Lasts: lasts}
	rank := func(k kinds.Stock) int {
		return slices.IndexFunc(kinds.Stocks, func(r kinds.StockRow) bool { return r.Kind == k })
	}
	if rank(s.Kind) < 0 { // of which nothing is told
		return all
	}
	i := slices.IndexFunc(all, func(o finding.Stock) bool { return o.Kind == s.Kind })
	switch {
	case i < 0:
		all = append(all, s)
		slices.SortFunc(all, func(a, b finding.Stock) int { return cmp.Compare(rank(a.Kind), rank(b.Kind)) })
	case s.Known && (!all[i].Known || s.Lasts < all[i].Lasts):
		all[i] = s
	}
	return all
}

// Drilled is what the drills of a household may say: of all of a kind, the worst.
func (m *Mask) Drilled(d *drill.Drilled) Shared {
	out := Shared{Household: m.Household(d.Household)}
	if d.Base.Hours == 0 {
		return out
	}
	base := m.fate("", []*drill.Fate{&d.Base})
	out.Read, out.Hours, out.Stocks = true, base.Hours, base.Stocks
	for _, k := range kinds.ToldDrills {
		var of []*drill.Fate
		for j := range d.Drills {
			if d.Drills[j].Kind.Row().Told == k.Kind {
				of = append(of, &d.Drills[j])
			}
		}
		switch {
		case len(of) > 0:
			out.Fates = append(out.Fates, m.fate(k.Kind, of))
		case k.Always:
			same := base
			same.Kind = k.Kind
			out.Fates = append(out.Fates, same)
		}
	}
	for _, p := range d.Points {
		for _, l := range p.Losses {
			if l.All && told(l.Capability) {
				out.Single = append(out.Single, l.Capability)
			}
		}
	}
	slices.Sort(out.Single)
	out.Single = slices.Compact(out.Single)
	return out
}

// fate is the worst of several.
func (m *Mask) fate(kind kinds.ToldDrill, of []*drill.Fate) SharedFate {
	out := SharedFate{Kind: kind}
	for _, f := range of {
		out.Hours = max(out.Hours, f.Hours)
		for _, l := range f.Lasts {
			out.Stocks = least(out.Stocks, l.Kind, l.Known, l.Lasts)
		}
		for _, l := range f.Lost {
			if l.All && told(l.Capability) {
				out.Gone = append(out.Gone, l.Capability)
			}
		}
		for i := range f.New {
			n := m.finding(&f.New[i])
			if n.Spot = ""; !slices.ContainsFunc(out.New, func(o finding.Finding) bool { return o.Rule == n.Rule }) {
				out.New = append(out.New, n)
			}
		}
	}
	slices.Sort(out.Gone)
	out.Gone = slices.Compact(out.Gone)
	slices.SortFunc(out.New, finding.Compare)
	return out
}

// Comparison keeps of the changes those of the hours that stocks of everyone last, and of what the household can do.
func (m *Mask) Comparison(c *compare.Comparison) *compare.Comparison {
	out := &compare.Comparison{Run: Fewer(m.Run(c.Run)), Households: make([]compare.Compared, len(c.Households))}
	few := few(c.Run)
	for i := range c.Households {
		h := &c.Households[i]
		o := compare.Compared{Household: m.Household(h.Household)}
		if h.Was != "" {
			o.Was = m.Folder(h.Was)
		}
		for _, ch := range h.Changes {
			before, now := figure(ch.Before), figure(ch.Now)
			if few {
				before, now = wholeDays(before), wholeDays(now)
			}
			if (before != nil || now != nil) && (before == nil || now == nil || before.Value != now.Value) {
				o.Changes = append(o.Changes, compare.Change{Before: before, Now: now})
			}
		}
		out.Households[i] = o
	}
	return out
}

// figure is a figure that may be told of, or nil. Which it is, its label alone says: others of its group name people.
func figure(f *compare.Figure) *compare.Figure {
	if f == nil {
		return nil
	}
	var told []string
	after := ""
	switch f.Group {
	case "capabilities":
		after = ", for the household"
		for _, c := range kinds.Capabilities {
			if c.Told == kinds.Tell {
				told = append(told, string(c.Kind))
			}
		}
	case "endurance":
		after = " lasts"
		for _, s := range kinds.Stocks {
			if s.Told == s.Kind {
				told = append(told, string(s.Kind))
			}
		}
	}
	for _, w := range told {
		if f.Label == w+after {
			return &compare.Figure{Group: f.Group, ID: f.Group + "/" + w, Label: w + after, Unit: f.Unit, Value: f.Value}
		}
	}
	return nil
}

// wholeDays is a figure of hours rounded down, or nil for any other.
func wholeDays(f *compare.Figure) *compare.Figure {
	if f == nil || f.Unit != kinds.FigureHours {
		return nil
	}
	out := *f
	out.Value -= out.Value % day
	return &out
}

// Trial is the trial without what is private. Sums go with the amounts that they are of: of few households they would tell each.
// Where a limit is written in the standard's files goes too, since folders have names.
func (m *Mask) Trial(t *trial.Trial) *trial.Trial {
	out := &trial.Trial{Version: t.Version, On: t.On, Shared: m.Key(), Old: t.Old, New: t.New, Partial: t.Partial, Rules: t.Rules, Failed: t.Failed}
	for _, h := range t.Households {
		o := h
		o.Household, o.Findings, o.Changed = m.Household(h.Household), m.Findings(h.Findings), nil
		for _, c := range h.Changed {
			o.Changed = append(o.Changed, trial.Shift{Old: m.finding(&c.Old), New: m.finding(&c.New)})
		}
		slices.SortStableFunc(o.Changed, func(a, b trial.Shift) int { return finding.Compare(a.New, b.New) })
		out.Households = append(out.Households, o)
	}
	slices.SortFunc(out.Households, func(a, b trial.Tried) int { return cmp.Compare(a.Household.Path, b.Household.Path) })
	for _, l := range t.Limits {
		l.Now.At = source.Span{}
		out.Limits = append(out.Limits, l)
	}
	return out
}
