package measure

import (
	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
	"kitmuster/lint/vocabulary"
)

// cooked reports whether the food in a thing must be prepared with heat or water: as it is written, or by its name where nothing is.
func (t *thing) cooked() bool {
	fd := &t.it.Food.Value
	return fd.Cook || fd.CookWater > 0 || fd.CookMinutes > 0 || t.raw
}

// rawFoods finds the things that are rice, pasta and the like by their names, and of which nothing is written on cooking.
func (m *measurer) rawFoods() {
	var names, keys []string
	var foods []*kit.Item
	for i := range m.h.Packs {
		for j := range m.h.Packs[i].Compartments {
			items := m.h.Packs[i].Compartments[j].Items
			for k := range items {
				it := &items[k]
				if fd := &it.Food.Value; it.Food.Set && !fd.CookWritten && !fd.Cook && fd.CookWater == 0 && !fd.Canned && fd.For == "" {
					names, keys, foods = append(names, it.Name), append(keys, it.Key), append(foods, it)
				}
			}
		}
	}
	m.raw = map[*kit.Item]bool{}
	for i, g := range vocabulary.Guesses(names, keys, nil, nil) {
		if g.Raw && g.Sure {
			m.raw[foods[i]] = true
		}
	}
}

// food measures what is eaten of an item, and returns the mass of one of it
// that is left in the base mass: its packaging.
//
// Food past its date still counts, as a tin is eaten when there is nothing else; what of the energy it is stands apart.
func (m *measurer) food(t *thing, eachDry unit.Mass) unit.Mass {
	fd, n := &t.it.Food.Value, t.count
	net := eachDry
	if fd.NetMass.Set {
		net = min(eachDry, fd.NetMass.Value)
	}
	energy := int64(fd.Energy) * n
	sodium, protein := fd.Sodium.Value*unit.Mass(n), fd.Protein.Value*unit.Mass(n)

	if b := m.bearer(fd.For); fd.For != "" && b != nil && b.kind == animal {
		t.eater = b.key
	} else {
		t.amounts[sumFoodEnergy], t.least[sumFoodEnergy] = energy, fd.EnergyUnknown && n > 0
		if !t.cooked() {
			t.amounts[sumNoCook], t.least[sumNoCook] = energy, t.least[sumFoodEnergy]
		}
		if m.past(t.it) {
			t.amounts[sumPast] = energy
		}
		t.least[sumFoodMass] = t.unknown && !fd.NetMass.Set
		t.amounts[sumFoodMass] = int64(net) * n
		t.amounts[sumSodium] = int64(sodium)
		t.amounts[sumProtein] = int64(protein)
		t.amounts[sumCookWater] = int64(fd.CookWater) * n
	}

	add := func(leaf, alt, what string, a facts.Amount) {
		m.l.Add(facts.Posting{ID: t.id + "/food" + leaf, Alt: alt, What: what, Of: t.name, Amount: a, Account: allOf(n)})
	}
	eaten := facts.AmountOf(kinds.QuantityEnergy, unit.Energy(energy)).AtLeast(fd.EnergyUnknown)
	add("", "", "food in", eaten)
	add("/energy", "", "food energy of", eaten)
	add("/net", t.id+"/mass", "food mass of", facts.AmountOf(kinds.QuantityMass, net*unit.Mass(n)))
	if fd.Sodium.Set {
		// The family may have written salt; the loader has turned it into sodium.
		m.l.Add(facts.Posting{
			ID: t.id + "/food/sodium", Alt: t.id + "/food/salt", What: "sodium in", Of: t.name, Amount: facts.AmountOf(kinds.QuantityMass, sodium),
			Account: "as written, or 39.34 % of the salt written (molar masses of Na and NaCl, 22.9898/58.443)",
		})
	}
	if fd.Protein.Set {
		add("/protein", "", "protein in", facts.AmountOf(kinds.QuantityMass, protein))
	}
	if fd.CookWater > 0 {
		add("/cookWater", "", "water to prepare", facts.AmountOf(kinds.QuantityVolume, fd.CookWater*unit.Volume(n)))
	}
	if fd.AllergensSet {
		add("/allergens", "", "allergens in", facts.Amount{})
	}
	if fd.For != "" {
		add("/for", "", "who eats", facts.TextOf(fd.For))
	}
	return eachDry - net
}
