package measure

import (
	"cmp"
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
)

// summed describes the amounts of thing.amounts: where each stands in the
// ledger under a group's base id, and which leaf of an item gives it.
var summed = [sums]struct {
	key, label    string
	kind          kinds.Quantity
	leaf, account string
}{
	sumWater:      {"water", "water carried", kinds.QuantityVolume, "/water", ""},
	sumContainer:  {"containers", "capacity of the water containers", kinds.QuantityVolume, "/container/capacity", ""},
	sumFireSafe:   {"fire-safe", "capacity of the fire-safe containers", kinds.QuantityVolume, "/container/capacity", ""},
	sumFoodEnergy: {"food-energy", "food energy", kinds.QuantityEnergy, "/food/energy", "sum of the food for people by its labels; food for animals is counted at the animal"},
	sumNoCook:     {"no-cook-energy", "food energy that needs no cooking", kinds.QuantityEnergy, "/food/energy", "sum of the food for people that takes no water and no time to prepare"},
	sumPast:       {"past-energy", "food energy past its date", kinds.QuantityEnergy, "/food/energy", "of the food for people, what is past the date on its label or the days that it keeps once opened"},
	sumFoodMass:   {"food-mass", "mass of the food", kinds.QuantityMass, "/food/net", "without packaging where the family says so, otherwise as packed"},
	sumSodium:     {"sodium", "sodium in the food", kinds.QuantityMass, "/food/sodium", "sum of the labels; 39.34 % of salt is sodium (molar masses of Na and NaCl, 22.9898/58.443)"},
	sumProtein:    {"protein", "protein in the food", kinds.QuantityMass, "/food/protein", "sum of the labels; food without a figure counts nothing"},
	sumCookWater:  {"cook-water", "water that the food takes to prepare", kinds.QuantityVolume, "/food/cookWater", ""},
	sumFuel:       {"fuel", "fuel", kinds.QuantityMass, "/fuel/mass", "fuel alone, without its container"},
}

// group is a number of items whose supply is measured together.
type group struct {
	base, spot string // id under which its numbers stand; where its words stand
	of         string // such as "in Rust"
	things     []*thing
	reach      *reach // what helps them: for a pack, all that its carrier has
}

// supplies measures each pack, each person alone and the household. An item
// counts with each group that it is part of.
func (m *measurer) supplies() {
	all := make([]*thing, len(m.things))
	for i := range m.things {
		all[i] = &m.things[i]
	}
	m.house = m.reachOf(all)
	near := map[string]*reach{"": m.house}
	for i := range m.bearers {
		b := &m.bearers[i]
		b.reach = m.reachOf(b.alone)
		near[b.id] = b.reach
	}
	for i := range m.f.Packs {
		p := &m.f.Packs[i]
		p.Supply = m.supply(group{p.ID + "/supply", p.ID, "in " + p.Name, m.loads[i].things, near[p.Carrier]})
	}
	m.f.Household.Supply = m.supply(group{householdID, householdID, "in the household", all, m.house})
}

// supply measures one group.
func (m *measurer) supply(g group) facts.Supply {
	s := facts.Supply{Can: []facts.Can{}, FirstAid: []facts.Content{}}
	var total [sums]int64
	var least [sums]bool
	for _, t := range g.things {
		for i := range total {
			total[i] += g.amount(t, i)
			least[i] = least[i] || t.least[i]
		}
	}
	s.WaterML = unit.Volume(total[sumWater]).WholeMillilitres()
	s.ContainerML = unit.Volume(total[sumContainer]).WholeMillilitres()
	s.FireSafeML = unit.Volume(total[sumFireSafe]).WholeMillilitres()
	s.ContainerKnown, s.FoodEnergyKnown, s.FuelKnown = !least[sumContainer], !least[sumFoodEnergy], !least[sumFuel]
	s.FoodEnergyJ, s.NoCookEnergyJ, s.PastEnergyJ = total[sumFoodEnergy], total[sumNoCook], total[sumPast]
	s.FoodMassMG = unit.Mass(total[sumFoodMass]).Milligrams()
	s.SodiumMG = unit.Mass(total[sumSodium]).Milligrams()
	s.ProteinMG = unit.Mass(total[sumProtein]).Milligrams()
	s.CookWaterML = unit.Volume(total[sumCookWater]).Millilitres()
	s.FuelMassMG = unit.Mass(total[sumFuel]).Milligrams()
	for i := range summed {
		d := &summed[i]
		m.l.Add(facts.Posting{
			ID: g.base + "/" + d.key, Spot: g.spot, What: d.label, Of: g.of, Amount: facts.Amount{Kind: d.kind, Value: total[i], Least: least[i]}, Account: d.account,
			Inputs: func() (in []facts.Input) {
				for _, t := range g.things {
					if v := g.amount(t, i); v != 0 || t.least[i] {
						in = append(in, facts.Input{ID: t.id + summed[i].leaf, Amount: facts.Amount{Kind: summed[i].kind, Value: v, Least: t.least[i]}})
					}
				}
				return in
			},
		})
	}

	boils := m.boils(g)
	s.BoilableML = boils.WholeMillilitres()
	var treated [classes]int64
	for class := range treated {
		treated[class] = m.treated(g, class, max(0, boils-unit.Volume(total[sumCookWater])))
	}
	s.TreatBacteriaML, s.TreatVirusesML, s.TreatGiardiaML, s.TreatCryptoML = treated[bacteria], treated[viruses], treated[giardia], treated[crypto]
	m.capabilities(g, &s)
	m.contents(g, &s)
	return s
}

// amount is one of the sums' amounts of a thing; what cannot be eaten for want of an opener is no food.
func (g *group) amount(t *thing, sum int) int64 {
	switch sum {
	case sumFoodEnergy, sumNoCook, sumSodium, sumProtein, sumCookWater:
		if closed(t, g.reach) {
			return 0
		}
	}
	return t.amounts[sum]
}

// boils is the water that a group's fuel can boil in its own stoves, on the plan's nights.
func (m *measurer) boils(g group) (total unit.Volume) {
	own := m.reachOf(g.things)
	stoves, _ := m.feeds(own.stoves, own)
	if own.fire && stoves&wood != 0 {
		total = noEnd
	}
	var mass [16]int64
	for _, t := range g.things {
		for i := range fuels {
			if t.fuel == fuels[i].bit && t.fuel&stoves != 0 {
				mass[i] += t.amounts[sumFuel]
			}
		}
	}
	for i := range fuels {
		if mass[i] > 0 {
			total = min(noEnd, total+boilable(fuels[i].bit, unit.Mass(mass[i])))
		}
	}
	m.l.Add(facts.Posting{
		ID: g.base + "/boilable", Spot: g.spot, What: "water that the fuel can boil", Of: g.of, Amount: volume(total), Account: boilAccount,
		Inputs: func() (in []facts.Input) {
			for _, t := range g.things {
				if t.fuel&stoves != 0 && t.amounts[sumFuel] != 0 {
					in = append(in, facts.Input{ID: t.id + "/fuel/mass", Amount: facts.Amount{Kind: kinds.QuantityMass, Value: t.amounts[sumFuel]}})
				}
			}
			return in
		},
	})
	return total
}

func volume(v unit.Volume) facts.Amount {
	if v >= noEnd {
		return facts.TextOf("not recorded")
	}
	return facts.AmountOf(kinds.QuantityVolume, v)
}

// treated is the water, in millilitres, that a group can clear of a class.
// Boiling counts once, however many pots there are.
func (m *measurer) treated(g group, class int, boils unit.Volume) int64 {
	one := func(t *thing) (unit.Volume, bool) {
		switch {
		case t.count == 0 || !clears(t, class) || m.untreated(t, g.reach) != "":
			return 0, false
		case t.method == methodBoil:
			return boils, true
		case t.endless:
			return noEnd, true
		}
		return t.treats, true
	}
	var total unit.Volume
	boiled := false
	for _, t := range g.things {
		if t.method == "" {
			continue
		}
		v, ok := one(t)
		if !ok || t.method == methodBoil && boiled {
			continue
		}
		boiled = boiled || t.method == methodBoil
		total = min(noEnd, total+min(noEnd, v))
	}
	d := classKeys[class]
	m.l.Add(facts.Posting{
		ID: g.base + "/" + d.key, Spot: g.spot, What: d.label, Of: g.of, Amount: volume(total), Account: treatAccount,
		Inputs: func() (in []facts.Input) {
			for _, t := range g.things {
				if v, ok := one(t); ok {
					in = append(in, facts.Input{ID: t.id + "/treat", Amount: volume(v)})
				}
			}
			return in
		},
	})
	return total.WholeMillilitres()
}

// capabilities lists what a group can do; what cannot do it counts as absent, see useless.
func (m *measurer) capabilities(g group, s *facts.Supply) {
	n := 0
	for _, t := range g.things {
		n += len(t.can)
	}
	all := make([]offer, 0, n)
	for _, t := range g.things {
		for _, o := range t.can {
			if m.fails(t, &o, g.reach) == "" {
				all = append(all, o)
			}
		}
	}
	slices.SortFunc(all, func(a, b offer) int {
		return cmp.Or(cmp.Compare(a.name, b.name), cmp.Compare(a.means, b.means), cmp.Compare(a.item, b.item))
	})
	for len(all) > 0 {
		n := 1
		for n < len(all) && all[n].name == all[0].name {
			n++
		}
		same := all[:n]
		all = all[n:]
		c := facts.Can{ID: g.base + "/can/" + string(same[0].name), Capability: same[0].name, Items: make([]string, 0, n)}
		for i, o := range same {
			if i == 0 || o.means != same[i-1].means {
				c.Means = append(c.Means, o.means)
			}
			c.Items = append(c.Items, o.item)
		}
		c.Items = sorted(c.Items)
		c.MeansCount = int64(len(c.Means))
		s.Can = append(s.Can, c)
		m.l.Add(facts.Posting{
			ID: c.ID, Spot: g.spot, What: "means of " + string(c.Capability), Of: g.of, Amount: facts.CountOf(c.MeansCount),
			Account: "different physical ways; two things of one way count once",
			Inputs: func() (in []facts.Input) {
				for _, o := range same {
					in = append(in, facts.Input{ID: o.spot, Amount: facts.TextOf(o.means)})
				}
				return in
			},
		})
	}
}

// contents counts the first-aid contents of a group.
func (m *measurer) contents(g group, s *facts.Supply) {
	var parts [][]facts.Input // as s.FirstAid
	for _, t := range g.things {
		for _, fa := range t.it.FirstAid {
			if n := fa.Count * t.count; n > 0 {
				i, ok := slices.BinarySearchFunc(s.FirstAid, fa.Kind, func(c facts.Content, k string) int { return cmp.Compare(c.Kind, k) })
				if !ok {
					s.FirstAid = slices.Insert(s.FirstAid, i, facts.Content{Kind: fa.Kind})
					parts = slices.Insert(parts, i, nil)
				}
				s.FirstAid[i].Count += n
				parts[i] = append(parts[i], facts.Input{ID: fa.Spot, Amount: facts.CountOf(n)})
			}
		}
	}
	for i, c := range s.FirstAid {
		m.l.Add(facts.Posting{ID: g.base + "/first-aid/" + c.Kind, Spot: g.spot, What: c.Kind, Of: g.of, Amount: facts.CountOf(c.Count), Inputs: facts.Listed(parts[i])})
	}
}
