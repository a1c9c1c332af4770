package drill

import (
	"cmp"
	"fmt"
	"slices"

	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// carrier is a person or an animal that carries a pack.
type carrier struct{ key, name string }

// carriers are the people, then the animals, who carry a pack.
func carriers(h *kit.Household) (out []carrier) {
	add := func(key, name string) {
		if slices.ContainsFunc(h.Packs, func(p kit.Pack) bool { return p.Carrier == key }) {
			out = append(out, carrier{key, name})
		}
	}
	for i := range h.People {
		add(h.People[i].Key, h.People[i].Name)
	}
	for i := range h.Animals {
		add(h.Animals[i].Key, h.Animals[i].Name)
	}
	return out
}

// weight is what a pack weighs with everything in it.
func weight(p *kit.Pack) unit.Mass {
	sum := p.Mass
	for i := range p.Compartments {
		c := &p.Compartments[i]
		sum += c.Mass.Value
		for j := range c.Items {
			sum += c.Items[j].All()
		}
	}
	return sum
}

// handed is the key of the compartment that what was handed over goes into.
const handed = "handed-over"

// handOver gives what is in one carrier's packs to the others who carry one, as far as each may carry more. The
// empty packs and their pouches stay behind, and so does what nobody can take. Pinned items go first, then medicine,
// then what is worth most, then the lightest, so that as many as possible go along; each goes to the one with most room,
// piece by piece where it does not fit whole, and fire, blades and chemicals to nobody who may not have them. A person whom they carried is carried by nobody then: a calculation cannot
// say who else could.
func handOver(h *kit.Household, who string, most func(string) unit.Mass, may func(string, *kit.Item) bool) (changed *kit.Household, left []kit.Item, others int) {
	c := h.Clone()
	var items []kit.Item
	c.Packs = slices.DeleteFunc(c.Packs, func(p kit.Pack) bool {
		if p.Carrier != who {
			return false
		}
		for i := range p.Compartments {
			items = append(items, p.Compartments[i].Items...)
		}
		return true
	})
	for i := range c.People {
		if c.People[i].Key == who {
			c.People[i].Carries = false
		}
		if c.People[i].CarriedBy == who {
			c.People[i].CarriedBy = ""
		}
	}
	for i := range c.Animals {
		if c.Animals[i].Key == who {
			c.Animals[i].Carries = false
		}
		if c.Animals[i].CarriedBy == who {
			c.Animals[i].CarriedBy = ""
		}
	}
	takers := carriers(c)
	room := make([]unit.Mass, len(takers))
	first := make([]int, len(takers)) // pack that takes it
	for i, t := range takers {
		room[i] = most(t.key)
		for j := range c.Packs {
			if c.Packs[j].Carrier == t.key {
				room[i] -= weight(&c.Packs[j])
			}
		}
		for j := range c.Animals {
			if c.Animals[j].CarriedBy == t.key {
				room[i] -= c.Animals[j].BodyMass
			}
		}
		first[i] = slices.IndexFunc(c.Packs, func(p kit.Pack) bool { return p.Carrier == t.key })
	}
	rank := func(it *kit.Item) int {
		switch {
		case it.Pinned:
			return 0
		case it.Medicine.Set:
			return 1
		}
		return 2
	}
	slices.SortFunc(items, func(a, b kit.Item) int {
		return cmp.Or(rank(&a)-rank(&b), cmp.Compare(b.Worth, a.Worth), cmp.Compare(a.All(), b.All()), cmp.Compare(a.Spot, b.Spot))
	})
	for _, it := range items {
		one := it.Each()
		it.QuickShed = false // it is dug out of another's pack
		for n := 1; it.Count > 0; n++ {
			best := -1
			for i := range room {
				if room[i] >= one && may(takers[i].key, &it) && (best < 0 || room[i] > room[best]) {
					best = i
				}
			}
			if best < 0 {
				left = append(left, it)
				break
			}
			part := it
			if n > 1 { // a spot of its own within the item's
				part.Key, part.Spot = fmt.Sprintf("%s-%d", it.Key, n), fmt.Sprintf("%s/part-%d", it.Spot, n)
			}
			if one > 0 {
				part.Count = min(it.Count, int64(room[best]/one))
			}
			it.Count -= part.Count
			room[best] -= one * unit.Mass(part.Count)
			take(&c.Packs[first[best]], part)
		}
	}
	return c, left, len(takers)
}

// take puts an item that was handed over into a pack.
func take(p *kit.Pack, it kit.Item) {
	i := slices.IndexFunc(p.Compartments, func(x kit.Compartment) bool { return x.Key == handed })
	if i < 0 {
		i = len(p.Compartments)
		p.Compartments = append(p.Compartments, kit.Compartment{Key: handed, Spot: p.Spot + "/compartments/" + handed, Name: "handed over", Reach: kinds.ReachHalted})
	}
	p.Compartments[i].Items = append(p.Compartments[i].Items, it)
}
