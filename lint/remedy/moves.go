package remedy

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
)

// move is one change of where a thing lies, or of the water in it. Things keep the spots of the household as it is while changes
// are tried, so that findings about them are known again.
type move struct {
	act   string
	thing string // its spot as written
	count int64  // of a part; 0 is all
	to    string // the spot of a compartment, of a person who wears or pockets it, or home
}

// home is where things go that are left, in the words of the schema.
const home = "atHome"

// The acts.
const (
	actMove  = "move"
	actLeave = "leave"
	actTake  = "take"
	actFill  = "fill"
	actEmpty = "empty"
	actHand  = "hand" // a whole pack, to another carrier; the thing is then the pack
)

// place is where a thing lies: in a compartment of a pack, on a person, or at home.
type place struct {
	spot    string // of the compartment or the person; home
	carrier string // key of who carries or wears it; "" at home and of what rides along
	animal  bool
	reach   kinds.Reach
	pack    *kit.Pack
	name    string
}

// thing is an item with its place.
type thing struct {
	*kit.Item
	at place
}

// places lists where things of a household can lie.
func places(h *kit.Household) (out []place) {
	animals := map[string]bool{}
	for i := range h.Animals {
		animals[h.Animals[i].Key] = true
	}
	for i := range h.Packs {
		p := &h.Packs[i]
		for j := range p.Compartments {
			c := &p.Compartments[j]
			name := kit.Called(p)
			if c.Name != "" && len(p.Compartments) > 1 {
				name += ", " + c.Name
			}
			out = append(out, place{spot: c.Spot, carrier: p.Carrier, animal: animals[p.Carrier], reach: c.Reach, pack: p, name: name})
		}
	}
	for i := range h.People {
		p := &h.People[i]
		out = append(out, place{spot: p.Spot, carrier: p.Key, reach: kinds.ReachOnBody, name: p.Name + "'s pockets"})
	}
	return append(out, place{spot: home, name: "at home"})
}

// things lists all that a household has, in the order of places.
func things(h *kit.Household) (out []thing) {
	for _, p := range places(h) {
		its := itemsAt(h, p.spot)
		for i := range *its {
			out = append(out, thing{&(*its)[i], p})
		}
	}
	return out
}

// itemsAt is the list of things at a place; nil where there is no such place.
func itemsAt(h *kit.Household, spot string) *[]kit.Item {
	if spot == home {
		return &h.AtHome
	}
	for i := range h.People {
		if h.People[i].Spot == spot {
			return &h.People[i].OnBody
		}
	}
	for i := range h.Packs {
		for j := range h.Packs[i].Compartments {
			if c := &h.Packs[i].Compartments[j]; c.Spot == spot {
				return &c.Items
			}
		}
	}
	return nil
}

// partMark stands in the spot of a part that was split off.
const partMark = "/part-"

// whole is the spot of the thing that a part was split off from, or of which something is a field.
func whole(spot string) string { before, _, _ := strings.Cut(spot, partMark); return before }

// do makes a change; it reports false where that makes no sense of the household as it is.
func do(h *kit.Household, m move) bool {
	if m.act == actHand {
		p := slices.IndexFunc(h.Packs, func(p kit.Pack) bool { return p.Spot == m.thing })
		who := slices.IndexFunc(h.People, func(p kit.Person) bool { return p.Spot == m.to })
		if p < 0 || who < 0 || h.Packs[p].Carrier == h.People[who].Key {
			return false
		}
		h.Packs[p].Carrier = h.People[who].Key
		return true
	}
	ts := things(h)
	i := slices.IndexFunc(ts, func(t thing) bool { return t.Spot == m.thing })
	if i < 0 {
		return false
	}
	t := ts[i]
	switch m.act {
	case actFill:
		if !t.Container.Set || t.Container.Value.CapacityUnknown || t.Water.Value >= t.Container.Value.Capacity {
			return false
		}
		t.Water = kit.Some(t.Container.Value.Capacity)
		return true
	case actEmpty:
		if t.Water.Value == 0 {
			return false
		}
		t.Water = kit.Opt[unit.Volume]{}
		return true
	}
	from, to := itemsAt(h, t.at.spot), itemsAt(h, m.to)
	if to == nil || from == to || m.count < 0 || m.count >= t.Count {
		return false
	}
	it := *t.Item
	if m.count > 0 {
		t.Count -= m.count
		it.Count = m.count
		n := 2
		for slices.ContainsFunc(ts, func(t thing) bool { return t.Spot == fmt.Sprintf("%s%s%d", it.Spot, partMark, n) }) {
			n++
		}
		it.Spot = fmt.Sprintf("%s%s%d", it.Spot, partMark, n)
	} else {
		*from = slices.DeleteFunc(*from, func(o kit.Item) bool { return o.Spot == it.Spot })
	}
	*to = append(*to, it)
	return true
}

// may reports whether a thing may go to a place at all, whatever the rules say there.
func (s *searching) may(t thing, to place) bool {
	it := t.Item
	switch {
	case it.Pinned || to.spot == t.at.spot || strings.Contains(it.Spot, partMark):
		return false
	case t.at.reach == kinds.ReachOnBody && (it.All() > pocket || it.Owner != "" || it.Insulation.Set || worn(it)): // what is worn
		return false
	case t.at.reach == kinds.ReachOnBody || talks(it): // what is in somebody's pockets is theirs, and so is a phone
		return to.carrier == t.at.carrier && to.carrier != ""
	case t.at.animal || to.animal: // its own things stay with it, and nothing else goes to it
		return t.at.carrier == to.carrier
	case it.Medicine.Set:
		return to.carrier != "" && (to.carrier == it.Medicine.Value.Person || to.carrier == t.at.carrier)
	case it.Care.Set:
		return to.carrier != "" && (to.carrier == it.Care.Value.Person || to.carrier == t.at.carrier)
	case to.spot == home:
		return t.at.spot != home && len(it.Documents) == 0 && !it.Cash.Set && it.Owner == ""
	case to.reach == kinds.ReachOnBody:
		return it.All() <= pocket && it.All() > 0 && !it.Food.Set && !it.Water.Set && !it.Container.Set
	}
	return to.carrier == "" || s.m.MayHold(s.rulebook, to.carrier, it)
}

// mayHand reports whether a whole pack may go to a person: people hand packs to people, and nobody gets what they may not hold.
func (s *searching) mayHand(h *kit.Household, p *kit.Pack, to *kit.Person) bool {
	if p.Carrier == to.Key || p.Carrier == "" || slices.ContainsFunc(h.Animals, func(a kit.Animal) bool { return a.Key == p.Carrier }) {
		return false
	}
	for i := range p.Compartments {
		for j := range p.Compartments[i].Items {
			if it := &p.Compartments[i].Items[j]; !s.m.MayHold(s.rulebook, to.Key, it) || it.Medicine.Set && it.Medicine.Value.Person != to.Key {
				return false
			}
		}
	}
	return true
}

// pocket is the most that is proposed to go into a pocket: load is not made lighter by filling pockets. Our own figure.
const pocket = unit.Mass(150_000_000)

// worn reports whether a thing on the body is put on rather than pocketed.
func worn(it *kit.Item) bool {
	return slices.ContainsFunc(it.Can, func(c kit.Capability) bool {
		return slices.Contains([]kinds.Capability{kinds.CanFootwear, kinds.CanSee, kinds.CanIdentify, kinds.CanWarmth}, c.Name)
	})
}

// talks reports whether people are reached by a thing.
func talks(it *kit.Item) bool {
	return slices.ContainsFunc(it.Can, func(c kit.Capability) bool { return c.Name == kinds.CanCommunicate })
}

// shorten sorts moves and drops doubles.
func shorten(ms []move) []move {
	slices.SortStableFunc(ms, func(a, b move) int {
		return cmp.Or(cmp.Compare(a.thing, b.thing), cmp.Compare(a.act, b.act), cmp.Compare(a.to, b.to), cmp.Compare(a.count, b.count))
	})
	return slices.Compact(ms)
}

// keyOf is the last key of a spot.
func keyOf(spot string) string { keys := source.Keys(spot); return keys[len(keys)-1] }

// kindsOf names what a thing is good for, in words that two things share which serve alike.
func kindsOf(it *kit.Item) (out []string) {
	add := func(of string, more ...string) { out = append(out, of+":"+strings.Join(more, ":")) }
	for _, c := range it.Can {
		add("can", string(c.Name), c.Means)
	}
	if it.Food.Set {
		add("food", it.Food.Value.For, it.Food.Value.Formula)
	}
	if it.Container.Set {
		add("container")
	}
	if it.Water.Set {
		add("water")
	}
	if it.Treat.Set {
		add("treat", it.Treat.Value.Method)
	}
	if it.Fuel.Set {
		add("fuel", it.Fuel.Value.Kind)
	}
	if it.Stove.Set {
		add("stove", strings.Join(it.Stove.Value.Burns, ","))
	}
	if it.Cells.Set {
		add("cells", it.Cells.Value.Size, it.Cells.Value.For)
	}
	if it.Insulation.Set {
		add("insulation", it.Insulation.Value.Kind, it.Owner)
	}
	if it.Radio.Set {
		add("radio", it.Radio.Value.Service)
	}
	for _, f := range it.FirstAid {
		add("first-aid", f.Kind)
	}
	if it.Medicine.Set {
		add("medicine", it.Medicine.Value.Person, it.Medicine.Value.Medication)
	}
	for _, d := range it.Documents {
		add("document", d, it.Owner)
	}
	if it.Cash.Set {
		add("cash")
	}
	return out
}
