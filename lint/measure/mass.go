package measure

import (
	"cmp"
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// load is one pack while it is measured.
type load struct {
	pack         *kit.Pack
	mass, base   unit.Mass
	least        bool // a part of the mass is not known
	things       []*thing
	parts, bases []facts.Input // of its mass and of its base mass: the empty pack, pouches, items
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
			m.total.least = m.total.least || t.unknown
			b.alone = append(b.alone, t)
			b.worn = append(b.worn, facts.Input{ID: t.id, Amount: facts.AmountOf(kinds.QuantityMass, t.mass)})
			if t.count > 0 && !t.weighed {
				m.total.unweighed += t.dry
				m.total.guesses = append(m.total.guesses, facts.Input{ID: t.id, Amount: facts.AmountOf(kinds.QuantityMass, t.dry)})
			}
		}
	}
	m.f.Packs = make([]facts.Pack, 0, len(m.h.Packs))
	m.f.Compartments = []facts.Compartment{}
	m.loads = make([]load, len(m.h.Packs))
	m.ways()
	for i := range m.h.Packs {
		at = m.pack(&m.h.Packs[i], &m.loads[i], at)
	}
	m.f.Carriers = []facts.Carrier{}
	for i := range m.bearers {
		m.carrier(&m.bearers[i])
	}
	for i := range m.f.Packs {
		m.f.Packs[i].FootMG = m.onFoot([]*load{&m.loads[i]}).Milligrams()
	}
}

// unweighed is a mass that nobody put on a scale.
type unweighed struct {
	id   string
	mass unit.Mass
}

// packSums are what a pack weighs and what is in it, while it is added up.
type packSums struct {
	mass, base, water unit.Mass
	quick             unit.Mass // can be dropped in seconds
	quickParts        []facts.Input
	off               unit.Mass // not weighed
	guessed           []unweighed
	noMass            []facts.Named
}

// guess adds a mass that nobody put on a scale.
func (s *packSums) guess(id string, mass unit.Mass) {
	s.off += mass
	s.guessed = append(s.guessed, unweighed{id, mass})
}

// pack weighs one pack; at is its first item. It returns the first item of the next.
func (m *measurer) pack(p *kit.Pack, ld *load, at int) int {
	f := facts.Pack{
		ID: p.Spot, Key: p.Key, Name: p.Name, MassID: p.Spot + "/mass", EmptyMG: p.Mass.Milligrams(),
		Weighed: !p.MassUnknown && !p.Estimated && (p.MassWeighed.Set || m.h.Record.Weighed.Set), Frame: p.Frame, HipBelt: p.HipBelt, Style: p.Style, Colours: sorted(p.Colours),
	}
	s := &packSums{mass: p.Mass, base: p.Mass}
	emptyID := p.Spot + "/empty-mass"
	empty := facts.AmountOf(kinds.QuantityMass, p.Mass).AtLeast(p.MassUnknown)
	ld.parts = append(ld.parts, facts.Input{ID: emptyID, Amount: empty})
	ld.bases = append(ld.bases, ld.parts[0])
	m.l.Add(facts.Posting{ID: emptyID, Spot: p.Spot + "/mass", What: "empty mass of", Of: p.Name, Amount: empty})
	if p.MassUnknown {
		s.noMass = append(s.noMass, facts.Named{ID: emptyID, Name: "the empty pack"})
	}
	if !f.Weighed {
		s.guess(emptyID, p.Mass)
	}
	for j := range p.Compartments {
		c := &p.Compartments[j]
		n := len(c.Items)
		m.compartment(p, c, ld, s, m.things[at:at+n])
		at += n
	}
	ld.pack = p
	if b := m.bearer(p.Carrier); b != nil {
		f.Carrier, f.CarrierKind, f.CarrierName = b.id, b.kind, b.name
		f.CarrierAdult, f.CarrierAgeMonths = m.grown(b)
		b.take(p, ld, s)
	}
	ld.mass, ld.base, ld.least = s.mass, s.base, len(s.noMass) > 0
	m.total.least = m.total.least || ld.least
	slices.SortFunc(s.noMass, func(a, b facts.Named) int { return cmp.Compare(a.ID, b.ID) })
	f.MassKnown, f.NoMass = !ld.least, append([]facts.Named{}, s.noMass...)
	m.total.guesses = append(m.total.guesses, facts.Input{ID: p.Spot + "/unweighed", Amount: facts.AmountOf(kinds.QuantityMass, s.off)})
	m.total.load += s.mass
	m.total.base += s.base
	m.total.unweighed += s.off
	slices.SortFunc(s.guessed, func(a, b unweighed) int { return cmp.Or(cmp.Compare(b.mass, a.mass), cmp.Compare(a.id, b.id)) })
	f.Unweighed = make([]string, len(s.guessed))
	for i := range s.guessed {
		f.Unweighed[i] = s.guessed[i].id
	}
	f.MassMG, f.BaseMG, f.WaterMG = s.mass.Milligrams(), s.base.Milligrams(), s.water.Milligrams()
	f.Kept = p.Kept
	if v := m.vehicle(p.Vehicle); v != nil {
		f.Vehicle = v.Spot
	}
	f.UnweighedMG, f.QuickMG = s.off.Milligrams(), s.quick.Milligrams()
	m.f.Packs = append(m.f.Packs, f)
	m.packLedger(p, ld, s)
	return at
}

// compartment weighs one compartment with its items and adds it to its pack.
func (m *measurer) compartment(p *kit.Pack, c *kit.Compartment, ld *load, s *packSums, things []thing) {
	var inside unit.Mass
	unknown := len(s.noMass)
	var parts []facts.Input
	if c.Mass.Set {
		id := c.Spot + "/pouch-mass"
		m.l.Add(facts.Posting{ID: id, Spot: c.Spot + "/mass", What: "pouch of", Of: c.Name, Amount: facts.AmountOf(kinds.QuantityMass, c.Mass.Value)})
		parts = append(parts, facts.Input{ID: id, Amount: facts.AmountOf(kinds.QuantityMass, c.Mass.Value)})
		ld.bases = append(ld.bases, parts[0])
		inside += c.Mass.Value
		s.base += c.Mass.Value
	}
	for i := range things {
		t := &things[i]
		inside += t.mass
		if t.unknown {
			s.noMass = append(s.noMass, facts.Named{ID: t.id, Name: t.name})
		}
		s.base += t.base
		s.water += unit.Mass(t.amounts[sumWater]) * waterDensity
		parts = append(parts, facts.Input{ID: t.id, Amount: facts.AmountOf(kinds.QuantityMass, t.mass)})
		if t.base > 0 {
			ld.bases = append(ld.bases, facts.Input{ID: t.id, Amount: facts.AmountOf(kinds.QuantityMass, t.base)})
		}
		ld.things = append(ld.things, t)
		if t.count > 0 && !t.weighed {
			s.guess(t.id, t.dry)
		}
		if t.quickSelf && !c.QuickShed {
			s.quick += t.mass
			s.quickParts = append(s.quickParts, facts.Input{ID: t.id, Amount: facts.AmountOf(kinds.QuantityMass, t.mass)})
		}
	}
	if c.QuickShed {
		s.quick += inside
		s.quickParts = append(s.quickParts, facts.Input{ID: c.Spot, Amount: facts.AmountOf(kinds.QuantityMass, inside)})
		m.l.Add(facts.Posting{ID: c.Spot + "/quickShed", What: "quick release of", Of: c.Name, Amount: facts.AmountOf(kinds.QuantityMass, inside)})
	}
	s.mass += inside
	ld.parts = append(ld.parts, parts...)
	m.f.Compartments = append(m.f.Compartments, facts.Compartment{
		ID: c.Spot, Pack: p.Spot, Name: c.Name, Reach: c.Reach, For: c.For, MassID: c.Spot + "/mass", MassMG: inside.Milligrams(),
		MassKnown: unknown == len(s.noMass), BudgetKnown: c.Budget.Set, BudgetMG: c.Budget.Value.Milligrams(), QuickShed: c.QuickShed, Waterproof: c.Waterproof,
	})
	all := facts.AmountOf(kinds.QuantityMass, inside).AtLeast(unknown < len(s.noMass))
	m.l.Add(facts.Posting{ID: c.Spot, What: c.Name, Amount: all})
	m.l.Add(facts.Posting{ID: c.Spot + "/mass", Spot: c.Spot, What: "mass of", Of: c.Name, Amount: all, Account: "its pouch and its items, with the water in them", Inputs: facts.Listed(parts)})
	m.l.Add(facts.Posting{ID: c.Spot + "/reach", What: "reach of", Of: c.Name, Amount: facts.TextOf(string(c.Reach))})
	if c.Budget.Set {
		m.l.Add(facts.Posting{ID: c.Spot + "/budget", What: "budget of", Of: c.Name, Amount: facts.AmountOf(kinds.QuantityMass, c.Budget.Value)})
	}
}

// take gives a pack to the one who carries it.
func (b *bearer) take(p *kit.Pack, ld *load, s *packSums) {
	b.load += s.mass
	b.least = b.least || len(s.noMass) > 0
	b.base += s.base
	b.quick += s.quick
	b.quickParts = append(b.quickParts, s.quickParts...)
	b.bases = append(b.bases, ld.bases...)
	b.packs = append(b.packs, p.Spot)
	b.loads = append(b.loads, ld)
	b.alone = append(b.alone, ld.things...)
	b.parts = append(b.parts, ld.parts...)
}

// packLedger adds the ledger entries of a pack.
func (m *measurer) packLedger(p *kit.Pack, ld *load, s *packSums) {
	things, guessed := ld.things, s.guessed
	add := func(key, what string, v unit.Mass, account string, in func() []facts.Input) {
		amount := facts.AmountOf(kinds.QuantityMass, v).AtLeast(ld.least && (key == "mass" || key == "base-mass"))
		m.l.Add(facts.Posting{ID: p.Spot + "/" + key, Spot: p.Spot, What: what, Of: p.Name, Amount: amount, Account: account, Inputs: in})
	}
	m.l.Add(facts.Posting{ID: p.Spot, What: p.Name, Amount: facts.AmountOf(kinds.QuantityMass, s.mass).AtLeast(ld.least)})
	add("mass", "mass of", s.mass, "the empty pack, its pouches and its items, with water at 1.000 kg a litre", facts.Listed(ld.parts))
	add("base-mass", "base mass of", s.base, "without water, food and fuel; packaging and containers are in it", facts.Listed(ld.bases))
	add("water-mass", "mass of the water in", s.water, "1.000 kg a litre", func() (in []facts.Input) {
		for _, t := range things {
			if v := t.amounts[sumWater]; v != 0 {
				in = append(in, facts.Input{ID: t.id + "/water", Amount: facts.Amount{Kind: kinds.QuantityMass, Value: v * waterDensity}})
			}
		}
		return in
	})
	add("unweighed", "mass not weighed in", s.off, "entries with no day of weighing or marked as estimated, without the water in them", func() (in []facts.Input) {
		for _, g := range guessed {
			in = append(in, facts.Input{ID: g.id, Amount: facts.AmountOf(kinds.QuantityMass, g.mass)})
		}
		return in
	})
	add("quick-shed", "what can be dropped in seconds from", s.quick, "whole compartments and single items, none twice", facts.Listed(s.quickParts))
	leaf := func(key, what string, a facts.Amount) {
		m.l.Add(facts.Posting{ID: p.Spot + "/" + key, What: what, Of: p.Name, Amount: a})
	}
	leaf("carrier", "carrier of", facts.TextOf(p.Carrier))
	leaf("style", "style of", facts.TextOf(p.Style))
	leaf("colours", "colours of", facts.Amount{})
	leaf("hipBelt", "hip belt of", facts.Amount{})
	if p.MassWeighed.Set {
		leaf("weighed", "last weighing of", facts.AmountOf(kinds.QuantityDate, p.MassWeighed.Value))
	}
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

// carried sums the people that one person carries, with what they carry and wear, and
// with the people they carry in turn. In a circle each counts once.
func (m *measurer) carried(b *bearer, c *facts.Carrier) {
	var sum unit.Mass
	var in []facts.Input
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
			in = append(in, facts.Input{ID: p.Spot + "/bodyMass", Amount: facts.AmountOf(kinds.QuantityMass, all)})
			add(p.Key)
		}
	}
	add(b.key)
	slices.Sort(c.CarriedIDs)
	c.CarriedMG = sum.Milligrams()
	m.l.Add(facts.Posting{ID: b.id + "/carried", Spot: b.id, What: "people carried by", Of: b.name, Amount: facts.AmountOf(kinds.QuantityMass, sum), Account: "with what they carry and wear", Inputs: facts.Listed(in)})
}

// carrier sums what one person or animal carries.
func (m *measurer) carrier(b *bearer) {
	m.total.body += b.body
	m.takeAnimals(b)
	m.l.Add(facts.Posting{ID: b.id + "/load", Spot: b.id, What: "load of", Of: b.name, Amount: facts.AmountOf(kinds.QuantityMass, b.load).AtLeast(b.least), Account: "all packs carried, with everything in them, and animals that are carried; what is worn or pocketed is not load", Inputs: facts.Listed(b.parts)})
	m.l.Add(facts.Posting{ID: b.id + "/base-mass", Spot: b.id, What: "base mass of", Of: b.name, Amount: facts.AmountOf(kinds.QuantityMass, b.base), Account: "the packs carried, without water, food and fuel", Inputs: facts.Listed(b.bases)})
	if b.kind == person {
		m.l.Add(facts.Posting{ID: b.id + "/on-body", Spot: b.id, What: "worn or pocketed by", Of: b.name, Amount: facts.AmountOf(kinds.QuantityMass, b.body), Inputs: facts.Listed(b.worn)})
	}
	m.l.Add(facts.Posting{ID: b.id + "/quick-shed", Spot: b.id, What: "what can be dropped in seconds by", Of: b.name, Amount: facts.AmountOf(kinds.QuantityMass, b.quick), Account: "whole compartments and single items, none twice", Inputs: facts.Listed(b.quickParts)})

	c := facts.Carrier{
		ID: b.id, Kind: b.kind, Key: b.key, Name: b.name, LoadID: b.id + "/load", LoadMG: b.load.Milligrams(), OnBodyMG: b.body.Milligrams(),
		BaseMG: b.base.Milligrams(), CapID: b.id + "/cap", Packs: sorted(b.packs), QuickMG: b.quick.Milligrams(), QuickIDs: make([]string, len(b.quickParts)),
	}
	foot := m.onFoot(b.loads)
	c.FootUG, c.FootMG = int64(foot), foot.Milligrams()
	var gear, most unit.Mass
	for _, t := range b.alone {
		if t.pack == "" && !clothing(t) {
			gear += t.mass
			if t.mass > most {
				c.GearID, most = t.id, t.mass
			}
		}
	}
	c.GearMG = gear.Milligrams()
	for i := range b.quickParts {
		c.QuickIDs[i] = b.quickParts[i].ID
	}
	slices.Sort(c.QuickIDs)
	var body unit.Mass
	var override kit.Opt[kit.CapOverride]
	c.CarriedIDs = []string{}
	c.AnimalsMG, c.AnimalIDs = b.animals.Milligrams(), sorted(b.animalIDs)
	if b.kind == person {
		p := m.personOf(b.key)
		body, override = p.BodyMass, p.Cap
		c.Fitness, c.Carries, c.BodyMassKnown = p.Fitness, p.Carries, !p.BodyMassUnknown
		_, c.AgeKnown = age(p.Born, p.Age, m.on)
		m.carried(b, &c)
	} else {
		a := m.animalOf(b.key)
		body, override = a.BodyMass, a.Cap
		c.Fitness, c.Carries, c.Species, c.BodyMassKnown = a.Fitness, a.Carries, a.Species, true
		_, c.AgeKnown = age(a.Born, a.Age, m.on)
	}
	c.Adult, c.AgeMonths = m.grown(b)
	c.BodyMassMG, c.BodyUG, c.LoadKnown = body.Milligrams(), int64(body), !b.least
	// Rounded down: the facts never allow more than the family wrote.
	c.CapKnown, c.CapP = override.Set, int64(override.Value.Share)/1000
	share := facts.Amount{}
	if body > 0 {
		c.ShareP = unit.PermilleUp(c.FootUG, c.BodyUG)
		share = facts.AmountOf(kinds.QuantityShare, unit.Share(c.ShareP*1000))
	}
	m.l.Add(facts.Posting{ID: b.id + "/load-share", Spot: b.id, What: "load on foot as a share of the body weight of", Of: b.name, Amount: share, Inputs: facts.Listed([]facts.Input{
		{ID: c.LoadID, Amount: facts.AmountOf(kinds.QuantityMass, unit.Mass(c.FootUG))}, {ID: b.id + "/bodyMass", Amount: facts.AmountOf(kinds.QuantityMass, body)},
	})})
	limit := facts.TextOf("not recorded; the standard's")
	if override.Set {
		limit = facts.AmountOf(kinds.QuantityShare, override.Value.Share)
	}
	m.l.Add(facts.Posting{ID: c.CapID, What: "cap of", Of: b.name, Amount: limit, Account: override.Value.Reason})
	m.l.Add(facts.Posting{ID: b.id + "/cap/share", What: "cap of", Of: b.name, Amount: limit, Account: override.Value.Reason})
	if c.Carries || len(c.Packs) > 0 || c.CarriedMG > 0 || len(c.AnimalIDs) > 0 {
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
