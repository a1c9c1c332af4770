package private

import (
	"cmp"
	"slices"

	"kitmuster/lint/finding"
	"kitmuster/lint/measure"
	"kitmuster/lint/source"
)

// stocks are the stocks that may be told of; doses are medicine.
var stocks = []string{"water", "energy", "sodium", "light", "fuel"}

// capabilities may be told of. Not among them: see (health), comfort (a child), lead (an animal), identify (papers), defend.
var capabilities = []string{
	"bleeding", "breathe", "charge", "communicate", "cook", "cut", "eat", "extinguish", "fire", "first_aid", "footwear", "gloves", "ground", "hygiene",
	"light", "navigate", "open_cans", "open_taps", "rain", "repair", "shelter", "signal", "sun", "tinder", "treat-water", "warmth", "write",
}

// Measured is what the facts of a household may say; nil facts say nothing.
func (m *Mask) Measured(h finding.Household, f *measure.Facts) finding.Shared {
	out := finding.Shared{Household: m.Household(h)}
	if f == nil {
		return out
	}
	e := &f.Endurance
	out.Read, out.Hours, out.WaterLimit, out.Heat = true, int(e.Hours), e.WaterLimit, e.Category
	for i := range f.Carriers {
		if c := &f.Carriers[i]; len(c.Packs) > 0 {
			out.Load = max(out.Load, (c.ShareP+5)/10)
		}
	}
	for _, c := range f.Household.Supply.Can {
		if slices.Contains(capabilities, c.Capability) {
			out.Can = append(out.Can, c.Capability)
		}
	}
	for i := range e.Stocks {
		s := &e.Stocks[i]
		out.Stocks = least(out.Stocks, finding.SharedStock{Kind: s.Kind, Hours: int(s.Lasts), Known: s.Known})
	}
	return out
}

// least adds a stock: of several of a kind, the first to be short counts, and that of which it is not known is left to the others.
func least(all []finding.SharedStock, s finding.SharedStock) []finding.SharedStock {
	if !slices.Contains(stocks, s.Kind) {
		return all
	}
	i := slices.IndexFunc(all, func(o finding.SharedStock) bool { return o.Kind == s.Kind })
	switch {
	case i < 0:
		all = append(all, s)
		slices.SortFunc(all, func(a, b finding.SharedStock) int {
			return cmp.Compare(slices.Index(stocks, a.Kind), slices.Index(stocks, b.Kind))
		})
	case s.Known && (!all[i].Known || s.Hours < all[i].Hours):
		all[i] = s
	}
	return all
}

// kindsOfDrill puts drills together that would else tell how many people and carriers there are. The first three are told
// of every household, also of one where nobody can be apart from anybody.
var kindsOfDrill = []struct {
	name string
	of   []string
}{
	{"pack-lost", []string{"pack-lost"}}, {"apart", []string{"alone", "pair"}}, {"unable", []string{"unable"}},
	{"season", []string{"season"}}, {"late", []string{"late"}}, {"dry", []string{"dry"}}, {"shed", []string{"shed"}},
}

// Drilled is what the drills of a household may say: of all of a kind, the worst.
func (m *Mask) Drilled(d *finding.Drilled) finding.Shared {
	out := finding.Shared{Household: m.Household(d.Household)}
	if d.Base.Hours == 0 {
		return out
	}
	base := m.fate("", []*finding.Fate{&d.Base})
	out.Read, out.Hours, out.Stocks = true, base.Hours, base.Stocks
	for i, k := range kindsOfDrill {
		var of []*finding.Fate
		for j := range d.Drills {
			if slices.Contains(k.of, d.Drills[j].Kind) {
				of = append(of, &d.Drills[j])
			}
		}
		switch {
		case len(of) > 0:
			out.Fates = append(out.Fates, m.fate(k.name, of))
		case i < 3:
			same := base
			same.Kind = k.name
			out.Fates = append(out.Fates, same)
		}
	}
	for _, p := range d.Points {
		for _, l := range p.Losses {
			if l.All && slices.Contains(capabilities, l.Capability) {
				out.Single = append(out.Single, l.Capability)
			}
		}
	}
	slices.Sort(out.Single)
	out.Single = slices.Compact(out.Single)
	return out
}

// fate is the worst of several.
func (m *Mask) fate(kind string, of []*finding.Fate) finding.SharedFate {
	out := finding.SharedFate{Kind: kind}
	for _, f := range of {
		out.Hours = max(out.Hours, f.Hours)
		for _, l := range f.Lasts {
			k := l.Stock
			if k == "animal food" {
				k = "energy"
			}
			out.Stocks = least(out.Stocks, finding.SharedStock{Kind: k, Hours: l.Hours, Known: l.Known})
		}
		for _, l := range f.Lost {
			if l.All && slices.Contains(capabilities, l.Capability) {
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

// Comparison keeps of the changes those of the hours that stocks of everybody last, and of what the household can do.
func (m *Mask) Comparison(c *finding.Comparison) *finding.Comparison {
	out := &finding.Comparison{Run: Fewer(m.Run(c.Run)), Households: make([]finding.Compared, len(c.Households))}
	few := len(c.Run.Households) < Few
	for i := range c.Households {
		h := &c.Households[i]
		o := finding.Compared{Household: m.Household(h.Household)}
		if h.Was != "" {
			o.Was = m.Folder(h.Was)
		}
		for _, ch := range h.Changes {
			before, now := figure(ch.Before), figure(ch.Now)
			if few {
				before, now = wholeDays(before), wholeDays(now)
			}
			if (before != nil || now != nil) && (before == nil || now == nil || before.Value != now.Value) {
				o.Changes = append(o.Changes, finding.Change{Before: before, Now: now})
			}
		}
		out.Households[i] = o
	}
	return out
}

// figure is a figure that may be told of, or nil. Which it is, its label alone says: others of its group name people.
func figure(f *finding.Figure) *finding.Figure {
	if f == nil {
		return nil
	}
	say := func(words []string, after string) *finding.Figure {
		for _, w := range words {
			if f.Label == w+after {
				return &finding.Figure{Group: f.Group, ID: f.Group + "/" + w, Label: w + after, Unit: f.Unit, Value: f.Value}
			}
		}
		return nil
	}
	switch f.Group {
	case "capabilities":
		return say(capabilities, ", for the household")
	case "endurance":
		return say(stocks, " lasts")
	}
	return nil
}

// wholeDays is a figure of hours rounded down, or nil for any other.
func wholeDays(f *finding.Figure) *finding.Figure {
	if f == nil || f.Unit != "hours" {
		return nil
	}
	out := *f
	out.Value -= out.Value % day
	return &out
}

// Trial is the trial without what is private. Sums go with the amounts that they are of: of few households they would tell each.
// Where a limit is written in the standard's files goes too, since folders bear names.
func (m *Mask) Trial(t *finding.Trial) *finding.Trial {
	out := &finding.Trial{Version: t.Version, On: t.On, Shared: m.Key(), Old: t.Old, New: t.New, Partial: t.Partial, Rules: t.Rules, Failed: t.Failed}
	for _, h := range t.Households {
		o := h
		o.Household, o.Findings, o.Changed = m.Household(h.Household), m.Findings(h.Findings), nil
		for _, c := range h.Changed {
			o.Changed = append(o.Changed, finding.Shift{Old: m.finding(&c.Old), New: m.finding(&c.New)})
		}
		slices.SortStableFunc(o.Changed, func(a, b finding.Shift) int { return finding.Compare(a.New, b.New) })
		out.Households = append(out.Households, o)
	}
	slices.SortFunc(out.Households, func(a, b finding.Tried) int { return cmp.Compare(a.Household.Path, b.Household.Path) })
	for _, l := range t.Limits {
		l.Now.At = source.Span{}
		out.Limits = append(out.Limits, l)
	}
	return out
}
