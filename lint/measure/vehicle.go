package measure

import (
	"cmp"
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// Planning speeds of rides, in m/s: common practice, no source, except for the jam, the mean of cars in the tsunami of
// 2011 by a survey of a ministry (150 m/min; a reading of its file 000186474, seen second-hand).
const (
	rideSpeed    = 30 / 3.6
	jamSpeed     = 150.0 / 60
	bicycleSpeed = 12 / 3.6
	// bicycleWork is four times what one spends at rest: riding at leisure, Compendium of Physical Activities, from memory.
	bicycleWork = 4
)

// jams are the dangers at which everyone drives at once.
var jams = []string{"quake", "tsunami"}

// keptInCar is what a pack's kept says of one that lies in its vehicle before the household leaves.
const keptInCar = "car"

// Kinds of vehicle.
const kindBicycle = "bicycle"

// vehicle is the vehicle of a key; nil for none.
func (m *measurer) vehicle(key string) *kit.Vehicle {
	for i := range m.h.Vehicles {
		if v := &m.h.Vehicles[i]; key != "" && v.Key == key {
			return v
		}
	}
	return nil
}

// ridden is the vehicle in or on which people go a leg; nil where they walk.
func (m *measurer) ridden(l *kit.Leg) *kit.Vehicle {
	if v := m.vehicle(l.By); v != nil && v.Ridden() {
		return v
	}
	return nil
}

// speed is how fast a leg is ridden, in m/s.
func (m *measurer) speed(v *kit.Vehicle) float64 {
	switch {
	case v.Kind == kindBicycle:
		return bicycleSpeed
	case slices.ContainsFunc(jams, func(h string) bool { return slices.Contains(m.h.Plan.Hazards, h) }):
		return jamSpeed
	}
	return rideSpeed
}

// rideTime is the time for a ridden leg, in milliseconds.
func (m *measurer) rideTime(l *kit.Leg, v *kit.Vehicle) int64 {
	if l.Pace.Set {
		return walkTime(l)
	}
	return int64(metres(l.Distance) / m.speed(v) * 1000)
}

// pushed reports whether bicycles are taken along on a leg on foot, as they are ridden before it and after it.
func (m *measurer) pushed(l *kit.Leg) bool {
	before, after := false, false
	for _, other := range m.legs() {
		if v := m.vehicle(other.By); v != nil && v.Kind == kindBicycle {
			before = before || other.Order < l.Order
			after = after || other.Order > l.Order
		}
	}
	return before && after
}

// borne reports whether a pack is on its carrier's back on a leg. What rides in a vehicle is carried on the legs on foot, unless
// it lies in the car from the first and the car has not been left yet, or hangs on a bicycle that is pushed there.
func (m *measurer) borne(p *kit.Pack, l *kit.Leg) bool {
	if m.ridden(l) != nil {
		return false
	}
	v := m.vehicle(p.Vehicle)
	if v == nil {
		return true
	}
	if v.Kind == kindBicycle && m.pushed(l) {
		return false
	}
	if l.By == p.Vehicle {
		return false
	}
	if p.Kept == keptInCar {
		first, used := m.firstBy[p.Vehicle]
		return used && cmp.Or(cmp.Compare(first.Order, l.Order), cmp.Compare(first.Key, l.Key)) < 0
	}
	return true
}

// ways prepares what borne and onFoot go by: the first leg by each vehicle, and the last leg on foot with each or with none.
// Of legs alike the last has most on people's backs, as what lay in the car is borne once the car is left.
func (m *measurer) ways() {
	m.firstBy = map[string]*kit.Leg{}
	last := map[string]int{}
	for _, l := range m.legs() {
		if m.firstBy[l.By] == nil {
			m.firstBy[l.By] = l
		}
		if v := m.ridden(l); v != nil {
			m.cycled = m.cycled || v.Kind == kindBicycle
			continue
		}
		i, ok := last[l.By]
		if !ok {
			i = len(m.walks)
			last[l.By], m.walks = i, append(m.walks, nil)
		}
		m.walks[i] = l
	}
}

// onFoot is the most of some packs that is carried on one leg on foot, or on the back of who rides a bicycle; with no route,
// what is in no vehicle.
func (m *measurer) onFoot(loads []*load) unit.Mass {
	sum := func(borne func(p *kit.Pack) bool) (s unit.Mass) {
		for _, ld := range loads {
			if borne(ld.pack) {
				s += ld.mass
			}
		}
		return s
	}
	most := unit.Mass(0)
	if m.cycled || len(m.h.Plan.Legs) == 0 {
		most = sum(func(p *kit.Pack) bool { return m.vehicle(p.Vehicle) == nil })
	}
	for _, l := range m.walks {
		most = max(most, sum(func(p *kit.Pack) bool { return m.borne(p, l) }))
	}
	return most
}

// off is what of each body's packs is not carried on a leg, in kg, by the carrier's id.
func (m *measurer) off(l *kit.Leg) map[string]float64 {
	var out map[string]float64
	add := func(carrier string, mass unit.Mass) {
		if out == nil {
			out = map[string]float64{}
		}
		out[m.idOf(carrier)] += float64(mass) / 1e9
	}
	for i := range m.h.Packs {
		p := &m.h.Packs[i]
		if m.borne(p, l) {
			continue
		}
		add(p.Carrier, m.loads[i].mass)
	}
	for i, c := range m.borneBy {
		if c.by != "" && !m.borne(&kit.Pack{Vehicle: c.vehicle}, l) {
			add(c.by, m.h.Animals[i].BodyMass)
		}
	}
	return out
}

// vehicles measures what the household goes by.
func (m *measurer) vehicles() {
	m.f.Vehicles = make([]facts.Vehicle, 0, len(m.h.Vehicles))
	for i := range m.h.Vehicles {
		v := &m.h.Vehicles[i]
		f := facts.Vehicle{
			ID: v.Spot, Key: v.Key, Name: v.Name, Kind: v.Kind, Ridden: v.Ridden(), PayloadKnown: v.Payload.Set, PayloadMG: v.Payload.Value.Milligrams(),
			Seats: v.Seats, ChildSeats: v.ChildSeats.Value, ChildKnown: v.ChildSeats.Set, TakesChair: v.TakesChair.Value, ChairKnown: v.TakesChair.Set,
			RangeKnown: v.Range.Set, RangeMM: v.Range.Value.Millimetres(),
		}
		var used unit.Length
		for _, l := range m.legs() {
			if l.By == v.Key {
				f.Used = true
				used += l.Distance
			}
		}
		f.UsedMM = used.Millimetres()
		var mass unit.Mass
		var in []facts.Input
		for j := range m.h.Packs {
			if p := &m.h.Packs[j]; p.Vehicle == v.Key {
				mass += m.loads[j].mass
				f.Packs = append(f.Packs, p.Spot)
				in = append(in, facts.Input{ID: p.Spot + "/mass", Amount: facts.AmountOf(kinds.QuantityMass, m.loads[j].mass)})
			}
		}
		f.LoadMG, f.Packs = mass.Milligrams(), sorted(f.Packs)
		f.Only = m.onlyIn(v)
		m.f.Vehicles = append(m.f.Vehicles, f)
		m.l.Add(facts.Posting{ID: v.Spot, What: "vehicle", Of: v.Name})
		m.l.Add(facts.Posting{ID: v.Spot + "/load", Spot: v.Spot, What: "packs in", Of: v.Name, Amount: facts.AmountOf(kinds.QuantityMass, mass), Inputs: facts.Listed(in)})
		if v.Payload.Set {
			m.l.Add(facts.Posting{ID: v.Spot + "/payload", What: "payload of", Of: v.Name, Amount: facts.AmountOf(kinds.QuantityMass, v.Payload.Value)})
		}
		if v.Seats > 0 {
			m.l.Add(facts.Posting{ID: v.Spot + "/seats", What: "seats of", Of: v.Name, Amount: facts.CountOf(v.Seats)})
		}
		if v.ChildSeats.Set {
			m.l.Add(facts.Posting{ID: v.Spot + "/childSeats", What: "child seats of", Of: v.Name, Amount: facts.CountOf(v.ChildSeats.Value)})
		}
		if v.TakesChair.Set {
			m.l.Add(facts.Posting{ID: v.Spot + "/takesChair", What: "whether a wheelchair finds room in", Of: v.Name})
		}
		if v.Range.Set {
			m.l.Add(facts.Posting{ID: v.Spot + "/range", What: "range of", Of: v.Name, Amount: facts.AmountOf(kinds.QuantityLength, v.Range.Value)})
		}
	}
	slices.SortFunc(m.f.Vehicles, func(a, b facts.Vehicle) int { return cmp.Compare(a.ID, b.ID) })
}

// essentials are the needs that nobody should have to leave with the car, in the order in which they are told.
var essentials = []struct {
	words string
	is    func(t *thing) bool
}{
	{"drinking water", func(t *thing) bool { return t.amounts[sumWater] > 0 }},
	{"medication", func(t *thing) bool { return t.it.Medicine.Set }},
	{"papers", func(t *thing) bool { return len(t.it.Documents) > 0 }},
	{"warmth for the night", func(t *thing) bool {
		return slices.ContainsFunc(t.can, func(o offer) bool { return o.name == kinds.CanWarmth }) || t.it.Insulation.Set
	}},
	{"food", func(t *thing) bool { return t.amounts[sumFoodEnergy] > 0 && t.eater == "" }},
	{"light", func(t *thing) bool {
		return slices.ContainsFunc(t.can, func(o offer) bool { return o.name == kinds.CanLight })
	}},
}

// frost is the night from which people without anything to sleep in are in danger though they have jackets: our own line.
const frost = unit.Temperature(0)

// bedding reports whether people can sleep in a thing.
func bedding(t *thing) bool {
	for means, kind := range beddings {
		if t.it.Insulation.Value.Kind == kind || slices.ContainsFunc(t.can, func(o offer) bool { return o.name == kinds.CanWarmth && o.means == means }) {
			return true
		}
	}
	return false
}

// onlyIn lists the needs of which all that there is goes with a vehicle; on nights of frost bedding too, unless beds await.
func (m *measurer) onlyIn(v *kit.Vehicle) []string {
	lost := map[string]bool{}
	for i := range m.h.Packs {
		if p := &m.h.Packs[i]; p.Vehicle == v.Key && (m.idOf(p.Carrier) == "" || p.Kept == keptInCar) {
			lost[p.Spot] = true
		}
	}
	out := []string{}
	add := func(words string, is func(t *thing) bool) {
		there, left := false, false
		for i := range m.things {
			if t := &m.things[i]; t.count > 0 && is(t) {
				there, left = there || lost[t.pack], left || !lost[t.pack]
			}
		}
		if there && !left {
			out = append(out, words)
		}
	}
	for _, e := range essentials {
		add(e.words, e.is)
	}
	if p := &m.f.Plan; p.SeasonKnown && unit.Temperature(p.NightMC) < frost && !m.h.Plan.Destination.Value.Beds {
		add("bedding for a night of frost", bedding)
	}
	return out
}

// named is how many things a load finding may name.
const named = 3

// lone are capabilities of which a bearer needs each means once: a second thing of the same means adds nothing.
var lone = []kinds.Capability{
	kinds.CanFire, kinds.CanNavigate, kinds.CanCut, kinds.CanCook, kinds.CanOpenCans, kinds.CanRepair, kinds.CanExtinguish, kinds.CanOpenTaps, kinds.CanDefend,
}

// shareable are capabilities that serve as well on another's back.
var shareable = []kinds.Capability{kinds.CanCook, kinds.CanRepair, kinds.CanExtinguish, kinds.CanOpenTaps, kinds.CanOpenCans}

// burdens finds what makes each load lighter: what no rule needs, and what may move. Drinking water is never named, nor what the
// family will not give up, nor a thing whose name says what it may be: a tent of which no use is recorded is no surplus.
func (m *measurer) burdens() {
	may := map[string]bool{}
	for i := range m.f.Unrecorded {
		may[m.f.Unrecorded[i].ID] = true
	}
	for i := range m.bearers {
		b := &m.bearers[i]
		if n := slices.IndexFunc(m.f.Carriers, func(c facts.Carrier) bool { return c.ID == b.id }); n >= 0 {
			m.lighten(b, &m.f.Carriers[n], may)
		}
	}
}

func (m *measurer) lighten(b *bearer, c *facts.Carrier, may map[string]bool) {
	c.Spare, c.Movable = []facts.Burdensome{}, []facts.Burdensome{}
	has := map[offer]int{}
	for _, t := range b.alone {
		for _, o := range t.can {
			has[offer{name: o.name, means: o.means}]++
		}
	}
	keeps := lightestShelter(b.alone)
	for _, t := range b.alone {
		if t.pack == "" || t.count == 0 || t.it.Pinned || t.amounts[sumWater] > 0 || t.dry <= 0 || may[t.id] {
			continue
		}
		x := facts.Burdensome{ID: t.id, Name: t.name, MassMG: t.dry.Milligrams()}
		switch {
		case !purposeful(t.it), m.f.Household.ChildCount == 0 && comforts(t): // of comfort items rules want some for children
			c.Spare = append(c.Spare, x)
		case m.doubled(t, has):
			c.Spare = append(c.Spare, x)
			for _, o := range t.can { // so that the last of its kind stays
				has[offer{name: o.name, means: o.means}]--
			}
		case movable(t), shelters(t) && len(t.can) == 1 && t != keeps: // a family's tent, beside the carrier's own cover
			c.Movable = append(c.Movable, x)
		}
	}
	heaviest := func(s []facts.Burdensome) []facts.Burdensome {
		slices.SortFunc(s, func(a, b facts.Burdensome) int {
			return cmp.Or(cmp.Compare(b.MassMG, a.MassMG), cmp.Compare(a.ID, b.ID))
		})
		return slices.Clip(s[:min(named, len(s))])
	}
	c.Spare, c.Movable = heaviest(c.Spare), heaviest(c.Movable)
}

// comforts reports whether a thing gives comfort and does nothing else.
func comforts(t *thing) bool {
	bare := *t.it
	bare.Can = nil
	return !purposeful(&bare) && len(t.can) > 0 && !slices.ContainsFunc(t.can, func(o offer) bool { return o.name != kinds.CanComfort })
}

// doubled reports whether all that a thing does another thing of its carrier does by the same means.
func (m *measurer) doubled(t *thing, has map[offer]int) bool {
	bare := *t.it
	bare.Can, bare.Owner, bare.Waterproof = nil, "", false
	if purposeful(&bare) || t.count > 1 {
		return false
	}
	for _, o := range t.can {
		if !slices.Contains(lone, o.name) || has[offer{name: o.name, means: o.means}] < 2 {
			return false
		}
	}
	return len(t.can) > 0
}

// shelters reports whether a thing keeps rain and wind off.
func shelters(t *thing) bool {
	return slices.ContainsFunc(t.can, func(o offer) bool { return o.name == kinds.CanShelter })
}

// lightestShelter is what a bearer keeps of their shelters; nil where there is none.
func lightestShelter(things []*thing) *thing {
	var own []*thing
	for _, t := range things {
		if t.count > 0 && shelters(t) {
			own = append(own, t)
		}
	}
	if len(own) == 0 {
		return nil
	}
	return slices.MinFunc(own, func(a, b *thing) int { return cmp.Or(cmp.Compare(a.dry, b.dry), cmp.Compare(a.id, b.id)) })
}

// movable reports whether a thing serves as well on another's back. Food is not: how much of it is surplus, the rules say.
func movable(t *thing) bool {
	it := t.it
	if it.Medicine.Set || len(it.FirstAid) > 0 || it.Owner != "" || it.Food.Set {
		return false // someone's own, or part of what each person has to eat when parted
	}
	return it.Shared || it.Fuel.Set || it.Stove.Set ||
		len(t.can) > 0 && !slices.ContainsFunc(t.can, func(o offer) bool { return !slices.Contains(shareable, o.name) })
}

// clothes are the kinds of insulation, and worn the capabilities, that are worn to be worn: they are no gear.
var (
	clothes = []string{"jacket", "trousers", "hat", "gloves", "socks", "base-layer"}
	worn    = []kinds.Capability{kinds.CanFootwear, kinds.CanRain, kinds.CanSun, kinds.CanGloves, kinds.CanSee, kinds.CanIdentify, kinds.CanBreathe, kinds.CanMobility}
)

// clothing reports whether a worn thing is clothing, shoes or what a body needs on it or moves with, such as a wheelchair.
func clothing(t *thing) bool {
	if t.it.Insulation.Set {
		return slices.Contains(clothes, t.it.Insulation.Value.Kind)
	}
	return slices.ContainsFunc(t.can, func(o offer) bool {
		return slices.Contains(worn, o.name) || o.name == kinds.CanWarmth && o.means == "clothing"
	})
}
