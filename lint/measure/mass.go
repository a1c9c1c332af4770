package measure

import (
	"cmp"
	"slices"

	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// load is one pack while it is measured.
type load struct {
	mass, base   unit.Mass
	things       []*thing
	parts, bases []Input // of its mass and of its base mass: the empty pack, pouches, items
}

// masses weighs compartments, packs, bodies and carriers. The base mass is
// without water, food and fuel; packaging, bottles and canisters stay in it
// (the definition long-distance walkers use; common practice, no source).
func (m *measurer) masses() {
	at := 0 // things on bodies come first, then those of the packs, in the household's order
	for i := range m.h.People {
		b := m.bearer(m.h.People[i].Key)
		for range m.h.People[i].OnBody {
			t := &m.things[at]
			at++
			b.body += t.mass
			b.alone = append(b.alone, t)
			b.worn = append(b.worn, Input{ID: t.id, Amount: amount(kinds.QuantityMass, t.mass)})
			if t.count > 0 && !t.weighed {
				m.total.unweighed += t.dry
				m.total.guesses = append(m.total.guesses, Input{ID: t.id, Amount: amount(kinds.QuantityMass, t.dry)})
			}
		}
	}
	m.f.Packs = make([]Pack, 0, len(m.h.Packs))
	m.f.Compartments = []Compartment{}
	m.loads = make([]load, len(m.h.Packs))
	for i := range m.h.Packs {
		at = m.pack(&m.h.Packs[i], &m.loads[i], at)
	}
	m.f.Carriers = []Carrier{}
	for i := range m.bearers {
		m.carrier(&m.bearers[i])
	}
}

// unweighed is a mass that nobody put on a scale.
type unweighed struct {
	id   string
	mass unit.Mass
}

// pack weighs one pack; at is its first item. It returns the first item of the next.
func (m *measurer) pack(p *kit.Pack, ld *load, at int) int {
	f := Pack{
		ID: p.Spot, Key: p.Key, Name: p.Name, MassID: p.Spot + "/mass", EmptyMG: p.Mass.Milligrams(),
		Weighed: p.MassWeighed.Set && !p.Estimated, Frame: p.Frame, HipBelt: p.HipBelt, Style: p.Style, Colours: sorted(p.Colours),
	}
	mass, base := p.Mass, p.Mass
	var water, quick, off unit.Mass
	var guessed []unweighed
	var quickParts []Input
	emptyID := p.Spot + "/empty-mass"
	ld.parts = append(ld.parts, Input{ID: emptyID, Amount: amount(kinds.QuantityMass, p.Mass)})
	ld.bases = append(ld.bases, ld.parts[0])
	m.l.add(record{id: emptyID, spot: p.Spot + "/mass", what: "empty mass of", of: p.Name, amount: amount(kinds.QuantityMass, p.Mass)})
	if !f.Weighed {
		off += p.Mass
		guessed = append(guessed, unweighed{emptyID, p.Mass})
	}
	for j := range p.Compartments {
		c := &p.Compartments[j]
		var inside unit.Mass
		var parts []Input
		if c.Mass.Set {
			id := c.Spot + "/pouch-mass"
			m.l.add(record{id: id, spot: c.Spot + "/mass", what: "pouch of", of: c.Name, amount: amount(kinds.QuantityMass, c.Mass.Value)})
			parts = append(parts, Input{ID: id, Amount: amount(kinds.QuantityMass, c.Mass.Value)})
			ld.bases = append(ld.bases, parts[0])
			inside += c.Mass.Value
			base += c.Mass.Value
		}
		for range c.Items {
			t := &m.things[at]
			at++
			inside += t.mass
			base += t.base
			water += unit.Mass(t.amounts[sumWater]) * waterDensity
			parts = append(parts, Input{ID: t.id, Amount: amount(kinds.QuantityMass, t.mass)})
			if t.base > 0 {
				ld.bases = append(ld.bases, Input{ID: t.id, Amount: amount(kinds.QuantityMass, t.base)})
			}
			ld.things = append(ld.things, t)
			if one := (t.dry / unit.Mass(max(1, t.count))).Milligrams(); t.count > 0 && (one > f.HeaviestMG || one == f.HeaviestMG && one > 0 && t.id < f.HeaviestID) {
				f.HeaviestID, f.HeaviestName, f.HeaviestMG = t.id, t.name, one
			}
			if t.count > 0 && !t.weighed {
				off += t.dry
				guessed = append(guessed, unweighed{t.id, t.dry})
			}
			if t.quickSelf && !c.QuickShed {
				quick += t.mass
				quickParts = append(quickParts, Input{ID: t.id, Amount: amount(kinds.QuantityMass, t.mass)})
			}
		}
		if c.QuickShed {
			quick += inside
			quickParts = append(quickParts, Input{ID: c.Spot, Amount: amount(kinds.QuantityMass, inside)})
			m.l.add(record{id: c.Spot + "/quickShed", what: "quick release of", of: c.Name, amount: amount(kinds.QuantityMass, inside)})
		}
		mass += inside
		ld.parts = append(ld.parts, parts...)
		m.f.Compartments = append(m.f.Compartments, Compartment{
			ID: c.Spot, Pack: p.Spot, Name: c.Name, Reach: c.Reach, For: c.For, MassID: c.Spot + "/mass", MassMG: inside.Milligrams(),
			BudgetKnown: c.Budget.Set, BudgetMG: c.Budget.Value.Milligrams(), QuickShed: c.QuickShed, Waterproof: c.Waterproof,
		})
		m.l.add(record{id: c.Spot, what: c.Name, amount: amount(kinds.QuantityMass, inside)})
		m.l.add(record{id: c.Spot + "/mass", spot: c.Spot, what: "mass of", of: c.Name, amount: amount(kinds.QuantityMass, inside), account: "its pouch and its items, with the water in them", inputs: listed(parts)})
		m.l.add(record{id: c.Spot + "/reach", what: "reach of", of: c.Name, amount: words(string(c.Reach))})
		if c.Budget.Set {
			m.l.add(record{id: c.Spot + "/budget", what: "budget of", of: c.Name, amount: amount(kinds.QuantityMass, c.Budget.Value)})
		}
	}
	if b := m.bearer(p.Carrier); b != nil {
		f.Carrier, f.CarrierKind, f.CarrierName = b.id, b.kind, b.name
		f.CarrierAdult, f.CarrierAgeMonths = m.grown(b)
		b.load += mass
		b.base += base
		b.quick += quick
		b.quickParts = append(b.quickParts, quickParts...)
		b.bases = append(b.bases, ld.bases...)
		b.packs = append(b.packs, p.Spot)
		b.alone = append(b.alone, ld.things...)
		b.parts = append(b.parts, ld.parts...)
	}
	ld.mass, ld.base = mass, base
	m.total.guesses = append(m.total.guesses, Input{ID: p.Spot + "/unweighed", Amount: amount(kinds.QuantityMass, off)})
	m.total.load += mass
	m.total.base += base
	m.total.unweighed += off
	slices.SortFunc(guessed, func(a, b unweighed) int { return cmp.Or(cmp.Compare(b.mass, a.mass), cmp.Compare(a.id, b.id)) })
	f.Unweighed = make([]string, len(guessed))
	for i := range guessed {
		f.Unweighed[i] = guessed[i].id
	}
	f.MassMG, f.BaseMG, f.WaterMG = mass.Milligrams(), base.Milligrams(), water.Milligrams()
	f.UnweighedMG, f.QuickMG = off.Milligrams(), quick.Milligrams()
	m.f.Packs = append(m.f.Packs, f)

	things := ld.things
	add := func(key, what string, v unit.Mass, account string, in func() []Input) {
		m.l.add(record{id: p.Spot + "/" + key, spot: p.Spot, what: what, of: p.Name, amount: amount(kinds.QuantityMass, v), account: account, inputs: in})
	}
	m.l.add(record{id: p.Spot, what: p.Name, amount: amount(kinds.QuantityMass, mass)})
	add("mass", "mass of", mass, "the empty pack, its pouches and its items, with water at 1.000 kg a litre", listed(ld.parts))
	add("base-mass", "base mass of", base, "without water, food and fuel; packaging and containers are in it", listed(ld.bases))
	add("water-mass", "mass of the water in", water, "1.000 kg a litre", func() (in []Input) {
		for _, t := range things {
			if v := t.amounts[sumWater]; v != 0 {
				in = append(in, Input{ID: t.id + "/water", Amount: Amount{Kind: kinds.QuantityMass, Value: v * waterDensity}})
			}
		}
		return in
	})
	add("unweighed", "mass not weighed in", off, "entries with no day of weighing or marked as estimated, without the water in them", func() (in []Input) {
		for _, g := range guessed {
			in = append(in, Input{ID: g.id, Amount: amount(kinds.QuantityMass, g.mass)})
		}
		return in
	})
	add("quick-shed", "what can be dropped in seconds from", quick, "whole compartments and single items, none twice", listed(quickParts))
	leaf := func(key, what string, a Amount) {
		m.l.add(record{id: p.Spot + "/" + key, what: what, of: p.Name, amount: a})
	}
	leaf("carrier", "carrier of", words(p.Carrier))
	leaf("style", "style of", words(p.Style))
	leaf("colours", "colours of", Amount{})
	leaf("hipBelt", "hip belt of", Amount{})
	if p.MassWeighed.Set {
		leaf("weighed", "last weighing of", amount(kinds.QuantityDate, p.MassWeighed.Value))
	}
	return at
}

// grown says whether a bearer is an adult or a grown animal, and its age in months, 0 where not known.
func (m *measurer) grown(b *bearer) (bool, int64) {
	if b.kind == person {
		p := m.personOf(b.key)
		months, known := age(p.Born, p.Age, m.on)
		return adult(months, known), months
	}
	a := m.animalOf(b.key)
	months, known := age(a.Born, a.Age, m.on)
	return !known || months >= grownAnimal, months
}

// carried sums the people that one person carries, with what they bear and wear, and
// with whoever they carry in turn. Who is met again in a circle counts once.
func (m *measurer) carried(b *bearer, c *Carrier) {
	var sum unit.Mass
	var in []Input
	met := map[string]bool{b.key: true}
	var add func(key string)
	add = func(key string) {
		for i := range m.h.People {
			p := &m.h.People[i]
			if p.CarriedBy != key || met[p.Key] {
				continue
			}
			met[p.Key] = true
			o := m.bearer(p.Key)
			all := p.BodyMass + o.load + o.body
			sum += all
			c.CarriedIDs = append(c.CarriedIDs, p.Spot)
			in = append(in, Input{ID: p.Spot + "/bodyMass", Amount: amount(kinds.QuantityMass, all)})
			add(p.Key)
		}
	}
	add(b.key)
	slices.Sort(c.CarriedIDs)
	c.CarriedMG = sum.Milligrams()
	m.l.add(record{id: b.id + "/carried", spot: b.id, what: "people carried by", of: b.name, amount: amount(kinds.QuantityMass, sum), account: "with what they bear and wear", inputs: listed(in)})
}

// carrier sums what one person or animal bears.
func (m *measurer) carrier(b *bearer) {
	m.total.body += b.body
	m.l.add(record{id: b.id + "/load", spot: b.id, what: "load of", of: b.name, amount: amount(kinds.QuantityMass, b.load), account: "all packs borne, with everything in them; what is worn or pocketed is not load", inputs: listed(b.parts)})
	m.l.add(record{id: b.id + "/base-mass", spot: b.id, what: "base mass of", of: b.name, amount: amount(kinds.QuantityMass, b.base), account: "the packs borne, without water, food and fuel", inputs: listed(b.bases)})
	if b.kind == person {
		m.l.add(record{id: b.id + "/on-body", spot: b.id, what: "worn or pocketed by", of: b.name, amount: amount(kinds.QuantityMass, b.body), inputs: listed(b.worn)})
	}
	m.l.add(record{id: b.id + "/quick-shed", spot: b.id, what: "what can be dropped in seconds by", of: b.name, amount: amount(kinds.QuantityMass, b.quick), account: "whole compartments and single items, none twice", inputs: listed(b.quickParts)})

	c := Carrier{
		ID: b.id, Kind: b.kind, Key: b.key, Name: b.name, LoadID: b.id + "/load", LoadMG: b.load.Milligrams(), OnBodyMG: b.body.Milligrams(),
		BaseMG: b.base.Milligrams(), CapID: b.id + "/cap", Packs: sorted(b.packs), QuickMG: b.quick.Milligrams(), QuickIDs: make([]string, len(b.quickParts)),
	}
	for i := range b.quickParts {
		c.QuickIDs[i] = b.quickParts[i].ID
	}
	slices.Sort(c.QuickIDs)
	var body unit.Mass
	var override kit.Opt[kit.CapOverride]
	c.CarriedIDs = []string{}
	if b.kind == person {
		p := m.personOf(b.key)
		body, override = p.BodyMass, p.Cap
		c.Fitness, c.Carries = p.Fitness, p.Carries
		_, c.AgeKnown = age(p.Born, p.Age, m.on)
		m.carried(b, &c)
	} else {
		a := m.animalOf(b.key)
		body, override = a.BodyMass, a.Cap
		c.Fitness, c.Carries, c.Species = a.Fitness, a.Carries, a.Species
		_, c.AgeKnown = age(a.Born, a.Age, m.on)
	}
	c.Adult, c.AgeMonths = m.grown(b)
	c.BodyMassMG = body.Milligrams()
	// Rounded down: the facts never allow more than the family wrote.
	c.CapKnown, c.CapP = override.Set, int64(override.Value.Share)/1000
	share := Amount{}
	if body > 0 {
		// Both whole milligrams, so that the products stay within 64 bits.
		load, of := b.load.Milligrams(), max(1, c.BodyMassMG)
		c.ShareP = (load*2000 + of) / (2 * of)
		share = amount(kinds.QuantityShare, unit.Share((load*2_000_000+of)/(2*of)))
	}
	m.l.add(record{id: b.id + "/load-share", spot: b.id, what: "load as a share of the body mass of", of: b.name, amount: share, inputs: listed([]Input{
		{ID: c.LoadID, Amount: amount(kinds.QuantityMass, b.load)}, {ID: b.id + "/bodyMass", Amount: amount(kinds.QuantityMass, body)},
	})})
	limit := words("not written; the standard's")
	if override.Set {
		limit = amount(kinds.QuantityShare, override.Value.Share)
	}
	m.l.add(record{id: c.CapID, what: "cap of", of: b.name, amount: limit, account: override.Value.Reason})
	m.l.add(record{id: b.id + "/cap/share", what: "cap of", of: b.name, amount: limit, account: override.Value.Reason})
	if c.Carries || len(c.Packs) > 0 || c.CarriedMG > 0 {
		m.f.Carriers = append(m.f.Carriers, c)
	}
}

func (m *measurer) personOf(key string) *kit.Person {
	i := slices.IndexFunc(m.h.People, func(p kit.Person) bool { return p.Key == key })
	return &m.h.People[i]
}

func (m *measurer) animalOf(key string) *kit.Animal {
	i := slices.IndexFunc(m.h.Animals, func(a kit.Animal) bool { return a.Key == key })
	return &m.h.Animals[i]
}
