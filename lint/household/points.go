package household

import (
	"cmp"
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
)

// CapOf is the most load that someone may carry, in permille of body mass.
func (m *Measured) CapOf(rulebook *judge.Rulebook, c *facts.Carrier) int64 {
	limit := func(name string) int64 { n, _ := rulebook.InForce("load", name, m.Facts.Limits); return n }
	_, unfit := rulebook.InForce("load", "unfit", m.Facts.Limits)
	adult := func() int64 {
		most := limit("adult_cap")
		if slices.Contains(unfit, c.Fitness) {
			most = min(most, limit("unfit_cap"))
		}
		if c.AgeKnown && c.AgeMonths >= limit("elder_months") {
			most = min(most, limit("elder_cap"))
		}
		return most
	}
	switch {
	case c.CapKnown:
		return c.CapP
	case c.Kind == "animal":
		return limit("animal_cap")
	case c.Adult:
		return adult()
	}
	return limit("child_cap")
}

// Points finds the items whose loss takes a capability from someone.
func (m *Measured) Points(rulebook *judge.Rulebook) (out []finding.Point) {
	f := m.Facts
	at := map[string]int{}
	single := func(s *facts.Supply, add func(item string, capability kinds.Capability)) {
		for i := range s.Can {
			if id := m.OnlyThing(&s.Can[i]); id != "" {
				add(id, s.Can[i].Capability)
			}
		}
	}
	loss := func(item string, capability kinds.Capability) *finding.Loss {
		i, ok := at[item]
		if !ok {
			i = len(out)
			at[item] = i
			e, _ := m.Ledger.Entry(item)
			out = append(out, finding.Point{Item: item, Name: e.Label, At: m.Place(e.Spots).At})
		}
		p := &out[i]
		if j := slices.IndexFunc(p.Losses, func(l finding.Loss) bool { return l.Capability == capability }); j >= 0 {
			return &p.Losses[j]
		}
		p.Losses = append(p.Losses, finding.Loss{Capability: capability})
		return &p.Losses[len(p.Losses)-1]
	}
	single(&f.Household.Supply, func(item string, capability kinds.Capability) { loss(item, capability).All = true })
	for i := range f.People {
		p := &f.People[i]
		single(&p.Alone, func(item string, capability kinds.Capability) {
			l := loss(item, capability)
			l.Who = append(l.Who, p.Name)
		})
	}
	_, asked := rulebook.InForce("separation", "alone", f.Limits)
	rank := func(p finding.Point) (all, heavy, one int) {
		for _, l := range p.Losses {
			if l.All {
				all++
			}
			if slices.Contains(asked, string(l.Capability)) { // what the standard asks of everyone alone
				heavy += max(1, len(l.Who))
			}
			one += len(l.Who)
		}
		return all, heavy, one
	}
	slices.SortFunc(out, func(a, b finding.Point) int {
		aa, ah, ao := rank(a)
		ba, bh, bo := rank(b)
		return cmp.Or(cmp.Compare(ba, aa), cmp.Compare(bh, ah), cmp.Compare(bo, ao), cmp.Compare(a.Item, b.Item))
	})
	for i := range out {
		slices.SortFunc(out[i].Losses, func(a, b finding.Loss) int { return cmp.Compare(a.Capability, b.Capability) })
	}
	return out
}

// OnlyThing is the ID of the one thing that a capability hangs on, "" where there are several.
func (m *Measured) OnlyThing(c *facts.Can) string {
	if len(c.Items) == 1 {
		if it := m.Item(c.Items[0]); it != nil && it.Count == 1 {
			return it.ID
		}
	}
	return ""
}

// Item is the item of an ID, nil where it is of something else.
func (m *Measured) Item(id string) *facts.Item {
	items := m.Facts.Items
	if i, ok := slices.BinarySearchFunc(items, id, func(i facts.Item, id string) int { return cmp.Compare(i.ID, id) }); ok {
		return &items[i]
	}
	return nil
}

// stockOf is the kind of a stock as outputs tell it: they tell the food of animals from that of people.
func StockOf(f *facts.Facts, s *facts.Lasting) kinds.Stock {
	if slices.ContainsFunc(f.Animals, func(a facts.Animal) bool { return a.ID == s.Body }) {
		return kinds.StockAnimalFood
	}
	return s.Kind
}

// MayHold reports whether the standard lets a carrier have an item: fire, blades, fuel and chemicals are not for a child below
// the age of hands.
func (m *Measured) MayHold(rulebook *judge.Rulebook, key string, it *kit.Item) bool {
	own := m.Facts.Limits
	hands, _ := rulebook.InForce("people", "hand_months", own)
	if !slices.ContainsFunc(m.Facts.People, func(p facts.Person) bool { return p.Key == key && p.AgeKnown && p.AgeMonths < hands }) {
		return true
	}
	_, means := rulebook.InForce("safety", "not_for_children", own)
	_, fuels := rulebook.InForce("safety", "child_fuels", own)
	never := func(name kinds.Capability, of string) bool { return slices.Contains(means, string(name)+":"+of) }
	return !slices.ContainsFunc(it.Can, func(c kit.Capability) bool { return never(c.Name, c.Means) }) &&
		!(it.Treat.Set && never(kinds.CanTreatWater, it.Treat.Value.Method)) &&
		!(it.Fuel.Set && slices.Contains(fuels, it.Fuel.Value.Kind))
}
