package measure

import (
	"cmp"
	"slices"
	"strings"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
)

// Temperatures, in thousandths of a degree Celsius, below which a fuel does not
// burn in an upright stove, and in one that takes the can upside down. Boiling
// points at sea level are −0.5 °C of butane, −11.7 °C of isobutane and −42 °C
// of propane (an outdoor forum's FAQ, year not seen; seen second-hand); a can
// cools itself as it burns, for which 5 °C are added: common practice, no
// source. Of a mix, isobutane is taken. Upside down the can gives liquid, so
// that cooling does not count and propane drives a mix: from memory.
var coldest = map[fuel]struct{ upright, inverted int64 }{
	butane:  {5_000, 0},
	gasMix:  {-7_000, -20_000},
	propane: {-37_000, -37_000},
}

// filterFrost is the night, in thousandths of a degree Celsius, below which a
// filter that is wet inside is not trusted any more, unless it is worn on the
// body: a maker's own answer (FAQ, year not seen; seen second-hand) says that
// only a laboratory could tell whether it still filters.
const filterFrost = 0

// reach is what a group of things offers to what needs more than itself.
type reach struct {
	fireSafe bool
	stoves   fuel // what they burn
	inverts  fuel // the same of those that take a can upside down
	fuels    fuel
	fire     bool
	opener   bool
	cells    map[string]int64 // by size
}

func (m *measurer) reachOf(things []*thing) *reach {
	r := &reach{cells: map[string]int64{}}
	for _, t := range things {
		if t.count == 0 {
			continue
		}
		r.fireSafe = r.fireSafe || t.amounts[sumFireSafe] > 0
		r.stoves |= t.burns
		if t.it.Stove.Value.Inverts {
			r.inverts |= t.burns
		}
		if t.fuelled() {
			r.fuels |= t.fuel
		}
		if c := &t.it.Cells.Value; t.it.Cells.Set {
			r.cells[c.Size] += max(1, c.Cells) * t.count
		}
		for _, o := range t.can {
			r.fire = r.fire || o.name == kinds.CanFire
			// Most multi-tools open cans, whether or not someone wrote it.
			r.opener = r.opener || o.name == kinds.CanOpenCans || o.name == kinds.CanCut && o.means == "multi-tool"
		}
	}
	return r
}

// fuelled reports whether fuel is in a thing, if only an unknown mass of it.
func (t *thing) fuelled() bool { return t.amounts[sumFuel] > 0 || t.least[sumFuel] }

// warmEnough reports whether a fuel burns on the plan's nights, in a stove that takes the can upside down or not.
func (m *measurer) warmEnough(f fuel, inverted bool) bool {
	least, ok := coldest[f]
	switch {
	case !ok || !m.f.Plan.SeasonKnown:
		return true
	case inverted:
		return m.f.Plan.NightMC >= least.inverted
	}
	return m.f.Plan.NightMC >= least.upright
}

// feeds is the set of fuels here that stoves for a set of fuels burn on the plan's nights, and that of those too cold for them.
func (m *measurer) feeds(burns fuel, r *reach) (warm, cold fuel) {
	for i := range fuels {
		f := fuels[i].bit
		if f&burns&r.fuels == 0 {
			continue
		}
		if m.warmEnough(f, f&burns&r.inverts != 0) {
			warm |= f
		} else {
			cold |= f
		}
	}
	// Sticks are found on the way: a stove for wood takes only something that lights them.
	if burns&wood != 0 && r.fire {
		warm |= wood
	}
	return warm, cold
}

// fails says why a thing does not do what it offers, with what is in reach; "" where it does.
func (m *measurer) fails(t *thing, o *offer, r *reach) kinds.Useless {
	switch o.name {
	case kinds.CanTreatWater:
		return m.untreated(t, r)
	case kinds.CanLight, kinds.CanCommunicate, kinds.CanNavigate:
		return dead(t, r)
	case kinds.CanCook:
		return m.unheated(t.burns, r)
	}
	return ""
}

// untreated says why a treatment of water does not count.
func (m *measurer) untreated(t *thing, r *reach) kinds.Useless {
	tr := &t.it.Treat.Value
	switch tr.Method {
	case "chlorine", "iodine", "chlorine-dioxide":
		if m.past(t.it) {
			return kinds.UselessExpired
		}
	case "filter", "purifier":
		if tr.Wetted && !tr.MayFreeze && t.reach != kinds.ReachOnBody && m.f.Plan.SeasonKnown && m.f.Plan.NightMC < filterFrost {
			return kinds.UselessFrozen
		}
	case methodBoil:
		if !r.fireSafe {
			return kinds.UselessNoVessel
		}
		if r.stoves == 0 {
			return kinds.UselessNoStove
		}
		return m.unheated(r.stoves, r)
	}
	return ""
}

// dead says why a device does not work: no cells are in it, and there are none to fill it with.
func dead(t *thing, r *reach) kinds.Useless {
	d := &t.it.Device.Value
	if !t.it.Device.Set || !d.Empty || d.SelfPowered {
		return ""
	}
	if charged(d) && r.cells[powerBank] > 0 || !charged(d) && r.cells[d.Size] >= max(1, d.Cells) {
		return ""
	}
	return kinds.UselessEmpty
}

// unheated says why stoves for a set of fuels heat nothing.
func (m *measurer) unheated(burns fuel, r *reach) kinds.Useless {
	warm, cold := m.feeds(burns, r)
	switch {
	case warm != 0:
		return ""
	case cold != 0:
		return kinds.UselessColdFuel
	}
	return kinds.UselessNoFuel
}

// openedByHand are words of a can's name that say that it takes no opener, whatever is written of it: a family that writes
// canned means the can.
var openedByHand = []string{"ring pull", "pull ring", "pull tab", "ring tab", "easy open", "pop top", "pouch", "aufreiß", "abre fácil", "ouverture facile"}

// closed reports whether a thing is canned food that nothing in reach opens.
func closed(t *thing, r *reach) bool {
	name := strings.ReplaceAll(strings.ToLower(t.name), "-", " ")
	return t.it.Food.Value.Canned && !r.opener && !slices.ContainsFunc(openedByHand, func(w string) bool { return strings.Contains(name, w) })
}

// useless lists what counts as absent, for its carrier alone or for everyone.
func (m *measurer) useless() {
	m.f.Useless = []facts.Useless{}
	alone := map[string]*reach{"": m.house}
	for i := range m.bearers {
		alone[m.bearers[i].id] = m.bearers[i].reach
	}
	for i := range m.things {
		t := &m.things[i]
		if t.count == 0 {
			continue
		}
		add := func(id string, capability kinds.Capability, means string, why func(*reach) kinds.Useless) {
			own := why(alone[t.carrier])
			if own == "" {
				return
			}
			f := facts.Useless{ID: id, Item: t.id, Name: t.name, Capability: capability, Means: means, Pack: t.pack, Carrier: t.carrier, Why: own}
			if all := why(m.house); all != "" {
				f.Why, f.Household = all, true
			}
			f.Words = f.Why.Row().Words
			switch f.Why {
			case kinds.UselessColdFuel:
				f.Cause, f.CauseName = m.coldFuel(t)
			case kinds.UselessFrozen:
				f.Cause = t.id + "/treat/wetted"
			}
			m.f.Useless = append(m.f.Useless, f)
		}
		for j := range t.can {
			o := &t.can[j]
			add(o.spot, o.name, o.means, func(r *reach) kinds.Useless { return m.fails(t, o, r) })
		}
		if t.burns != 0 && !slices.ContainsFunc(t.can, func(o offer) bool { return o.name == kinds.CanCook }) {
			add(t.id+"/stove", kinds.CanCook, "", func(r *reach) kinds.Useless { return m.unheated(t.burns, r) })
		}
		if t.fuelled() && t.fuel&wood == 0 {
			add(t.id+"/fuel", kinds.CanCook, t.it.Fuel.Value.Kind, func(*reach) kinds.Useless {
				if m.house.stoves&t.fuel == 0 {
					return kinds.UselessNoBurner
				}
				return ""
			})
		}
		if t.it.Food.Set {
			add(t.id+"/food", "", "", func(r *reach) kinds.Useless {
				if closed(t, r) {
					return kinds.UselessNoOpener
				}
				return ""
			})
		}
	}
	slices.SortFunc(m.f.Useless, func(a, b facts.Useless) int { return cmp.Compare(a.ID, b.ID) })
}

// coldFuel is the first gas that is too cold on the plan's nights, of the thing's carrier or else of anyone.
func (m *measurer) coldFuel(near *thing) (id, name string) {
	for i := range m.things {
		t := &m.things[i]
		if t.count == 0 || !t.fuelled() || m.warmEnough(t.fuel, false) {
			continue
		}
		if id == "" || t.carrier == near.carrier {
			id, name = t.id, t.name
		}
		if t.carrier == near.carrier {
			break
		}
	}
	return id, name
}
