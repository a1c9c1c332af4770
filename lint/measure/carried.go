package measure

import (
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
)

// carried is how an animal comes along that does not walk.
type carried struct {
	by      string // key of the person who carries it; "" for an animal that walks, and where nothing says who
	written bool   // the family says so; else its carrier lies in that person's pack
	vehicle string // key of the vehicle in which what it is carried in rides, or ""
}

// carriage finds who carries each animal: whom the family names, else who carries the pack in which its carrier lies. A crate in
// a car or at an animal's back makes nobody carry it.
func (m *measurer) carriage() {
	m.borneBy = make([]carried, len(m.h.Animals))
	for i := range m.h.Animals {
		a := &m.h.Animals[i]
		c := &m.borneBy[i]
		p := m.crateOf(a)
		if c.by = a.CarriedBy; c.by != "" {
			c.written = true
		} else if p != nil && !m.led(a) {
			c.by = p.Carrier
		}
		if b := m.bearer(c.by); b == nil || b.kind != person {
			*c = carried{} // a drill may have taken the person out
		} else if p != nil && p.Carrier == c.by {
			c.vehicle = p.Vehicle
		}
	}
}

// crateOf is the pack in which the carrier of an animal lies: its own, or, where no animal but one of its kind could be meant, one
// that no animal owns. nil where there is none, or several whose packs differ in who carries them.
func (m *measurer) crateOf(a *kit.Animal) (found *kit.Pack) {
	for i := range m.h.Packs {
		p := &m.h.Packs[i]
		for j := range p.Compartments {
			for n := range p.Compartments[j].Items {
				it := &p.Compartments[j].Items[n]
				if !onLead(it, "carrier") || it.Owner != a.Key && (m.bearerKind(it.Owner) == animal || !m.onlyOne(a)) {
					continue
				}
				if found != nil && found.Carrier != p.Carrier {
					return nil
				}
				found = p
			}
		}
	}
	return found
}

// rides reports whether a carrier that may be an animal's lies in a vehicle or cart, or on another animal's back. One that no animal owns may
// hold several.
func (m *measurer) rides(a *kit.Animal) bool {
	if m.led(a) {
		return false
	}
	for i := range m.h.Packs {
		p := &m.h.Packs[i]
		if p.Vehicle == "" && (p.Carrier == a.Key || m.bearerKind(p.Carrier) != animal) {
			continue
		}
		for j := range p.Compartments {
			for n := range p.Compartments[j].Items {
				if it := &p.Compartments[j].Items[n]; onLead(it, "carrier") && (it.Owner == a.Key || a.Species != "dog" && m.bearerKind(it.Owner) != animal) {
					return true
				}
			}
		}
	}
	return false
}

// onLead reports whether an item is there and holds an animal by one of these means.
func onLead(it *kit.Item, means ...string) bool {
	return it.Count > 0 && slices.ContainsFunc(it.Can, func(c kit.Capability) bool {
		return c.Name == kinds.CanLead && slices.Contains(means, c.Means)
	})
}

func (m *measurer) bearerKind(key string) string {
	if b := m.bearer(key); b != nil {
		return b.kind
	}
	return ""
}

// onlyOne reports whether an animal is the only one that goes into a carrier.
func (m *measurer) onlyOne(a *kit.Animal) bool {
	return !slices.ContainsFunc(m.h.Animals, func(o kit.Animal) bool { return o.Key != a.Key && o.Species != "horse" })
}

// led reports whether an animal walks though it has a carrier: a horse, and a dog for which there is a lead or a harness.
func (m *measurer) led(a *kit.Animal) bool {
	if a.Species != "dog" {
		return a.Species == "horse"
	}
	return slices.ContainsFunc(m.things, func(t thing) bool {
		return onLead(t.it, "lead", "harness") && (t.it.Owner == a.Key || m.bearerKind(t.it.Owner) != animal)
	})
}

// takeAnimals adds the animals that a person carries to their load.
func (m *measurer) takeAnimals(b *bearer) {
	for i := range m.h.Animals {
		a, c := &m.h.Animals[i], &m.borneBy[i]
		if c.by != b.key {
			continue
		}
		b.load += a.BodyMass
		b.animals += a.BodyMass
		b.animalIDs = append(b.animalIDs, a.Spot)
		b.loads = append(b.loads, &load{pack: &kit.Pack{Carrier: c.by, Vehicle: c.vehicle}, mass: a.BodyMass})
		b.parts = append(b.parts, facts.Input{ID: a.Spot + "/bodyMass", Amount: facts.AmountOf(kinds.QuantityMass, a.BodyMass)})
	}
}
