package measure

import (
	"slices"
	"strconv"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// waterDensity: one microlitre of water is taken for 1000 µg, that is 1.000
// kg/L. At 20 °C it is 0.9982 kg/L (CIPM 2001, Tanaka et al., Metrologia 38:301,
// coefficients from memory), 0.18 % less, which no household scale shows.
const waterDensity = 1000

// place says where an item is.
type place struct {
	pack, compartment, person, carrier string
	where                              string // the compartment's name
	reach                              kinds.Reach
	// With its compartment.
	quick, waterproof, cooled bool
}

// The amounts of an item that every Supply sums, in base units, of all Count.
const (
	sumWater = iota
	sumContainer
	sumFireSafe
	sumFoodEnergy
	sumNoCook
	sumPast
	sumFoodMass
	sumSodium
	sumProtein
	sumCookWater
	sumFuel
	sums
)

// thing is an item as measured. Amounts are of all Count, in base units.
type thing struct {
	it *kit.Item // only while Of runs
	place
	id, name   string
	count      int64
	mass, base unit.Mass  // with water; less water, food and fuel
	unknown    bool       // its mass; then mass is at least so much
	least      [sums]bool // the amount is at least so much
	dry        unit.Mass  // without the water
	weighed    bool       // on a scale, not guessed
	quickSelf  bool
	waterproof bool
	amounts    [sums]int64
	can        []offer
	fuel       fuel
	burns      fuel // a set
	method     string
	treats     unit.Volume
	endless    bool   // no end of treats is stated
	raw        bool   // food that is cooked by its name alone
	eater      string // key of the animal that the food is meant for, or ""
}

// offer is a capability of an item and its means; spot is where it is written.
type offer struct {
	name              kinds.Capability
	means, spot, item string
}

// item measures one item: its facts, its ledger entries, its amounts.
func (m *measurer) item(it *kit.Item, at place) {
	m.things = append(m.things, thing{it: it, place: at, id: it.Spot, name: it.Name, count: max(0, it.Count)})
	t := &m.things[len(m.things)-1]
	n := t.count
	t.quickSelf, t.raw = it.QuickShed, m.raw[it]
	t.weighed = !it.MassUnknown && !it.Estimated && (it.Weighed.Set || m.h.Record.Weighed.Set)
	t.waterproof = it.Waterproof || at.waterproof

	each, eachDry := it.Mass, it.Mass
	water := unit.Mass(it.Water.Value) * waterDensity
	if t.unknown = it.MassUnknown && n > 0; it.MassUnknown {
		eachDry = it.Food.Value.NetMass.Value + it.Fuel.Value.Mass // at least
		each = eachDry + water
	} else if it.MassIncludesWater {
		eachDry = max(0, it.Mass-water)
	} else {
		each += water
	}
	t.mass, t.dry = each*unit.Mass(n), eachDry*unit.Mass(n)

	f := facts.Item{
		ID: it.Spot, Name: it.Name, Pack: at.pack, Compartment: at.compartment, Person: at.person, Carrier: at.carrier, Reach: at.reach,
		Count: n, MassMG: t.mass.Milligrams(), EachMG: each.Milligrams(), MassKnown: !t.unknown, Weighed: t.weighed,
		Owner: m.idOf(it.Owner), Shared: it.Shared,
		QuickShed: it.QuickShed || at.quick, Pinned: it.Pinned, Worth: it.Worth, Waterproof: t.waterproof, LastMinute: it.LastMinute, Noisy: it.Noisy,
		Colour: it.Colour, Visibility: it.Visibility,
	}

	m.l.Add(facts.Posting{ID: it.Spot, What: it.Name, Amount: facts.AmountOf(kinds.QuantityMass, t.mass).AtLeast(t.unknown), Account: itemAccount(it, n)})
	m.l.Add(facts.Posting{ID: it.Spot + "/mass", What: "mass of", Of: it.Name, Amount: facts.AmountOf(kinds.QuantityMass, it.Mass).AtLeast(it.MassUnknown), Account: oneOf(n)})
	l := itemLedger{m.l, it, n}
	if n != 1 {
		l.leaf("count", "count of", facts.CountOf(n))
	}
	if it.Weighed.Set {
		l.leaf("weighed", "last weighing of", facts.AmountOf(kinds.QuantityDate, it.Weighed.Value))
	}
	if it.Estimated {
		l.leaf("estimated", "guess of", facts.Amount{})
	}
	t.base = m.stocks(t, l, eachDry) * unit.Mass(n)
	f.WaterML = unit.Volume(t.amounts[sumWater]).WholeMillilitres()
	m.offers(t, &f)
	l.gear()
	l.marks()
	m.f.Items = append(m.f.Items, f)
}

// itemLedger adds the ledger entries of what is written of an item and its count.
type itemLedger struct {
	*facts.Ledger
	it *kit.Item
	n  int64
}

// leaf adds what is written once, however many there are.
func (l itemLedger) leaf(name, what string, a facts.Amount) {
	l.Add(facts.Posting{ID: l.it.Spot + "/" + name, What: what, Of: l.it.Name, Amount: a})
}

// times adds an amount of all Count.
func (l itemLedger) times(name, what string, a facts.Amount) {
	l.Add(facts.Posting{ID: l.it.Spot + "/" + name, What: what, Of: l.it.Name, Amount: a, Account: allOf(l.n)})
}

// stocks measures what an item holds and makes: water, food, fuel, heat, safe water. dry is the mass of one without its
// water; the result is that without food and fuel too.
func (m *measurer) stocks(t *thing, l itemLedger, dry unit.Mass) unit.Mass {
	it, n, base := t.it, t.count, dry
	if it.Water.Set {
		t.amounts[sumWater] = int64(it.Water.Value) * n
		l.times("water", "water in", facts.AmountOf(kinds.QuantityVolume, unit.Volume(t.amounts[sumWater])))
	}
	if c := it.Container.Value; it.Container.Set {
		t.amounts[sumContainer] = int64(max(c.Capacity, it.Water.Value)) * n
		t.least[sumContainer] = c.CapacityUnknown && n > 0
		if c.FireSafe {
			t.amounts[sumFireSafe], t.least[sumFireSafe] = t.amounts[sumContainer], t.least[sumContainer]
		}
		l.leaf("container", "container of", facts.Amount{})
		l.times("container/capacity", "capacity of", facts.AmountOf(kinds.QuantityVolume, unit.Volume(t.amounts[sumContainer])).AtLeast(t.least[sumContainer]))
	}
	if it.Food.Set {
		base = m.food(t, dry)
	}
	if fu := it.Fuel.Value; it.Fuel.Set {
		t.fuel = fuelOf(fu.Kind)
		t.amounts[sumFuel], t.least[sumFuel] = int64(fu.Mass)*n, fu.MassUnknown && n > 0
		base -= fu.Mass
		l.leaf("fuel", "fuel in", facts.TextOf(fu.Kind))
		l.times("fuel/mass", "fuel in", facts.AmountOf(kinds.QuantityMass, unit.Mass(t.amounts[sumFuel])).AtLeast(t.least[sumFuel]))
	}
	if it.Stove.Set {
		l.leaf("stove", "fuels of", facts.Amount{})
	}
	if n > 0 {
		t.burns = burnsOf(it)
	}
	if tr := it.Treat.Value; it.Treat.Set {
		t.method, t.endless = tr.Method, !tr.Litres.Set
		t.treats = tr.Litres.Value * unit.Volume(n)
		l.leaf("treat", "water treatment by", facts.TextOf(tr.Method))
		if tr.Wetted {
			l.leaf("treat/wetted", "water that has been through", facts.Amount{})
		}
		if tr.Litres.Set {
			l.times("treat/litres", "water that can be treated by", facts.AmountOf(kinds.QuantityVolume, t.treats))
		}
	}
	return max(0, base)
}

// gear adds the entries of what an item is: cells, devices, warmth, radios, first aid, papers, money.
func (l itemLedger) gear() {
	it, n := l.it, l.n
	if it.Cells.Set {
		l.leaf("cells", "cells in", facts.TextOf(it.Cells.Value.Size))
	}
	if it.Device.Set {
		l.leaf("device", "cells that are needed by", facts.TextOf(it.Device.Value.Size))
	}
	if i := it.Insulation.Value; it.Insulation.Set {
		a := facts.Amount{}
		if i.Comfort.Set {
			a = facts.AmountOf(kinds.QuantityTemperature, i.Comfort.Value)
		}
		l.leaf("insulation", "warmth of", a)
	}
	if it.Radio.Set {
		l.leaf("radio", "radio of", facts.TextOf(it.Radio.Value.Service))
	}
	if len(it.FirstAid) > 0 {
		l.leaf("firstAid", "first aid in", facts.Amount{})
	}
	for _, fa := range it.FirstAid {
		l.Add(facts.Posting{ID: fa.Spot, What: fa.Kind + " in", Of: it.Name, Amount: facts.CountOf(fa.Count * n), Account: allOf(n)})
	}
	if md := it.Medicine.Value; it.Medicine.Set {
		l.times("medicine", "doses in", facts.AmountOf(kinds.QuantityCount, md.Doses*unit.Count(n)))
		if md.ForMass.Set {
			l.leaf("medicine/forMass", "body weight for the dose in", facts.AmountOf(kinds.QuantityMass, md.ForMass.Value))
		}
	}
	if c := it.Care.Value; it.Care.Set {
		l.times("care", "uses in", facts.AmountOf(kinds.QuantityCount, c.Uses*unit.Count(n)))
	}
	if len(it.Documents) > 0 {
		l.leaf("documents", "papers in", facts.CountOf(int64(len(it.Documents))))
	}
	if it.Cash.Set {
		l.leaf("cash", "money in", facts.Amount{})
	}
}

// marks adds the entries of what is said of an item: how it looks, whose it is, how it is handled.
func (l itemLedger) marks() {
	it := l.it
	if it.Colour != "" {
		l.leaf("colour", "colour of", facts.TextOf(it.Colour))
	}
	if it.Visibility != "" {
		l.leaf("visibility", "visibility of", facts.TextOf(it.Visibility))
	}
	if it.Owner != "" {
		l.leaf("owner", "owner of", facts.TextOf(it.Owner))
	}
	if it.SizeSeen.Set {
		l.leaf("sizeSeen", "last fitting of", facts.AmountOf(kinds.QuantityDate, it.SizeSeen.Value))
	}
	if it.QuickShed {
		l.leaf("quickShed", "quick release of", facts.Amount{})
	}
	if it.Noisy {
		l.leaf("noisy", "noise of", facts.Amount{})
	}
	if it.Opened.Set {
		l.leaf("opened-day", "day of opening of", facts.AmountOf(kinds.QuantityDate, it.Opened.Value))
	}
	if it.OutOfCold.Set {
		l.leaf("out-of-cold-day", "day out of the cold of", facts.AmountOf(kinds.QuantityDate, it.OutOfCold.Value))
	}
	if it.Pinned {
		l.leaf("pinned", "decision to keep", facts.Amount{})
	}
}

// used reports whether a family wrote what an item can do or what it holds.
func used(it *kit.Item) bool {
	return len(it.Can) > 0 || it.Food.Set || it.Water.Set || it.Container.Set || it.Treat.Set || it.Fuel.Set || it.Stove.Set || it.Cells.Set ||
		it.Device.Set || it.Insulation.Set || it.Radio.Set || len(it.FirstAid) > 0 || it.Medicine.Set || it.Care.Set || len(it.Documents) > 0 || it.Cash.Set
}

// purposeful reports whether a family wrote what an item is for: its use, or whose it is. What keeps itself dry keeps other
// things dry.
func purposeful(it *kit.Item) bool { return used(it) || it.Owner != "" || it.Waterproof }

func itemAccount(it *kit.Item, n int64) string {
	switch {
	case it.Water.Set && !it.MassIncludesWater:
		return timesText(n) + "its mass and the water in it, at 1.000 kg a litre"
	case n != 1:
		return timesText(n) + "its mass"
	}
	return ""
}

func timesText(n int64) string {
	if n == 1 {
		return ""
	}
	return strconv.FormatInt(n, 10) + " times "
}

func oneOf(n int64) string {
	if n == 1 {
		return ""
	}
	return "of one; there are " + strconv.FormatInt(n, 10)
}

func allOf(n int64) string {
	if n == 1 {
		return ""
	}
	return "of all " + strconv.FormatInt(n, 10) + " together"
}

// implied lists what an item can do by what is written of it in other words: first-aid
// contents treat wounds, a pad insulates from the ground, a map shows the way. What the
// family also wrote under can is not doubled.
func implied(t *thing) (out []offer) {
	it := t.it
	add := func(is bool, name kinds.Capability, means, leaf string) {
		if is && !slices.ContainsFunc(it.Can, func(c kit.Capability) bool { return c.Name == name }) {
			out = append(out, offer{name, means, t.id + "/" + leaf, t.id})
		}
	}
	// A treatment that is used up treats nothing.
	add(t.method != "" && (t.method == methodBoil || t.endless || t.treats > 0), kinds.CanTreatWater, t.method, "treat")
	add(len(it.FirstAid) > 0, kinds.CanFirstAid, "dressings", "firstAid")
	blanket := slices.ContainsFunc(it.FirstAid, func(f kit.FirstAid) bool { return f.Kind == "rescueBlanket" && f.Count > 0 })
	add(blanket, kinds.CanShelter, "emergency-blanket", "firstAid")
	add(blanket, kinds.CanWarmth, "emergency-blanket", "firstAid")
	scissors := slices.ContainsFunc(it.FirstAid, func(f kit.FirstAid) bool { return f.Kind == "scissors" && f.Count > 0 })
	add(scissors, kinds.CanCut, "scissors", "firstAid")
	add(it.Insulation.Value.Kind == "pad", kinds.CanGround, "foam-pad", "insulation")
	add(slices.Contains(it.Documents, "map"), kinds.CanNavigate, "map", "documents")
	return out
}

// beddings are the means of warmth that are things to sleep in, by the kind of insulation that they are.
var beddings = map[string]string{"sleeping-bag": "sleeping-bag", "quilt": "quilt", "wool-blanket": "blanket"}

// offers lists what an item can do. Nothing is offered by none of an item.
func (m *measurer) offers(t *thing, f *facts.Item) {
	f.Can = []kinds.Capability{}
	for _, c := range t.it.Can {
		m.l.Add(facts.Posting{ID: c.Spot, What: string(c.Name) + " by", Of: t.name, Amount: facts.TextOf(c.Means)})
		if t.count > 0 {
			t.can = append(t.can, offer{c.Name, c.Means, c.Spot, t.id})
		}
	}
	if t.count > 0 {
		t.can = append(t.can, implied(t)...)
	}
	for _, c := range t.can {
		f.Can = append(f.Can, c.name)
	}
	slices.Sort(f.Can)
}
