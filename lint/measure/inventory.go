package measure

import (
	"cmp"
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// inventory fills the lists of what few items have: a rule about maps goes through
// the papers, not through every item.
func (m *measurer) inventory() {
	f := m.f
	f.Foods, f.Vessels, f.Treatments, f.Fuels, f.Stoves = []facts.FoodItem{}, []facts.Vessel{}, []facts.Treatment{}, []facts.FuelItem{}, []facts.StoveItem{}
	f.Insulation, f.Radios, f.Papers, f.Medicines, f.Capabilities = []facts.Insulation{}, []facts.RadioItem{}, []facts.Paper{}, []facts.MedicineItem{}, []facts.Capability{}
	f.Sized = []facts.Sized{}
	for i := range m.things {
		if t := &m.things[i]; t.count > 0 {
			m.stores(t)
			m.gear(t)
		}
	}
	var packed unit.Mass
	for i := range m.things {
		if t := &m.things[i]; t.it.Food.Set && t.eater == "" {
			packed += t.dry
		}
	}
	f.Household.FoodPackedMG = packed.Milligrams()
	m.offered()
	m.allergies()
}

// dated reports whether a last day or a day of exchange is written.
func dated(it *kit.Item) bool { return it.Expires.Set || it.Rotate.Set }

// stores lists what is eaten, drunk, burnt and taken.
func (m *measurer) stores(t *thing) {
	f, it, n := m.f, t.it, t.count
	if fd := &it.Food.Value; it.Food.Set {
		net := t.dry
		if fd.NetMass.Set {
			net = min(t.dry, fd.NetMass.Value*unit.Mass(n))
		}
		var drink int64
		if fd.Formula == formulaReady {
			drink = net.Milligrams() / 1000
		}
		f.Foods = append(f.Foods, facts.FoodItem{
			ID: t.id, Name: t.name, Pack: t.pack, Compartment: t.compartment, Carrier: t.carrier, Reach: t.reach,
			For: m.idOf(fd.For), ForAnimal: t.eater != "", EnergyJ: int64(fd.Energy) * n, EnergyKnown: !fd.EnergyUnknown,
			MassMG: t.dry.Milligrams(), NetMassMG: net.Milligrams(), NetKnown: fd.NetMass.Set, MassKnown: !t.unknown || fd.NetMass.Set,
			SodiumMG: (fd.Sodium.Value * unit.Mass(n)).Milligrams(), SodiumKnown: fd.Sodium.Set, ProteinMG: (fd.Protein.Value * unit.Mass(n)).Milligrams(),
			Cook: t.cooked(), CookWaterML: (fd.CookWater * unit.Volume(n)).Millilitres(), CookMin: fd.CookMinutes.Minutes(), Canned: fd.Canned, Opens: !closed(t, m.house),
			Allergens: sorted(fd.Allergens), AllergensKnown: fd.AllergensSet, Suits: sorted(fd.Suits), Harms: sorted(fd.Harms), Formula: fd.Formula, DrinkML: drink, Dated: dated(it), LastMinute: it.LastMinute,
		})
	}
	if it.Container.Set || it.Water.Value > 0 {
		f.Vessels = append(f.Vessels, facts.Vessel{
			ID: t.id, Name: t.name, Pack: t.pack, Compartment: t.compartment, Carrier: t.carrier, Reach: t.reach, Count: n,
			CapacityML: unit.Volume(t.amounts[sumContainer]).WholeMillilitres(), WaterML: unit.Volume(t.amounts[sumWater]).WholeMillilitres(),
			CapacityKnown: !it.Container.Value.CapacityUnknown, MassKnown: !t.unknown,
			MassMG: t.dry.Milligrams(), FireSafe: it.Container.Value.FireSafe, Rigid: it.Container.Value.Rigid, Dated: dated(it), LastMinute: it.LastMinute,
		})
	}
	if tr := &it.Treat.Value; it.Treat.Set {
		x := facts.Treatment{
			ID: t.id, Name: t.name, Pack: t.pack, Carrier: t.carrier, Method: tr.Method, ML: t.treats.WholeMillilitres(),
			WaitKnown: tr.Wait.Set, WaitMin: tr.Wait.Value.Minutes(), Works: m.untreated(t, m.house) == "",
		}
		if t.endless && tr.Method != methodBoil {
			x.ML = facts.NoEnd
		}
		f.Treatments = append(f.Treatments, x)
	}
	if it.Fuel.Set {
		f.Fuels = append(f.Fuels, facts.FuelItem{
			ID: t.id, Name: t.name, Pack: t.pack, Compartment: t.compartment, Carrier: t.carrier,
			Kind: it.Fuel.Value.Kind, MassMG: unit.Mass(t.amounts[sumFuel]).Milligrams(), MassKnown: !it.Fuel.Value.MassUnknown,
		})
	}
	if it.Stove.Set {
		f.Stoves = append(f.Stoves, facts.StoveItem{
			ID: t.id, Name: t.name, Pack: t.pack, Compartment: t.compartment, Carrier: t.carrier, Burns: sorted(it.Stove.Value.Burns),
			Cooks: slices.ContainsFunc(t.can, func(o offer) bool { return o.name == kinds.CanCook }),
		})
	}
	if s := &it.Medicine.Value; it.Medicine.Set {
		x := facts.MedicineItem{
			ID: t.id, Name: t.name, Pack: t.pack, Carrier: t.carrier, Reach: t.reach, Person: m.idOf(s.Person),
			DosesMilli: int64(s.Doses) * t.count, Dated: it.Expires.Set, OutOfColdKnown: it.OutOfCold.Set, LastMinute: it.LastMinute,
			Cooled: t.cooled, Repacked: s.Repacked, DoseKnown: s.Dose != "", ForMassKnown: s.ForMass.Set, ForMassMG: s.ForMass.Value.Milligrams(),
		}
		md := m.medication(it)
		x.Usable = m.usable(t, md)
		if md != nil {
			x.Medication, x.ColdChain = md.Spot, md.ColdChain
		}
		f.Medicines = append(f.Medicines, x)
	}
}

// gear lists what keeps warm, what hears and speaks, and papers.
func (m *measurer) gear(t *thing) {
	f, it := m.f, t.it
	if in := &it.Insulation.Value; it.Insulation.Set {
		f.Insulation = append(f.Insulation, facts.Insulation{
			ID: t.id, Name: t.name, Pack: t.pack, Carrier: t.carrier, Owner: m.idOf(it.Owner), Whose: m.whose(t), Count: t.count, Kind: in.Kind, Waterproof: t.waterproof,
			ComfortKnown: in.Comfort.Set, ComfortMC: int64(in.Comfort.Value),
		})
	}
	for _, o := range t.can {
		if kind := beddings[o.means]; o.name == kinds.CanWarmth && kind != "" && !it.Insulation.Set {
			f.Insulation = append(f.Insulation, facts.Insulation{ID: t.id, Name: t.name, Pack: t.pack, Carrier: t.carrier, Owner: m.idOf(it.Owner), Whose: m.whose(t), Count: t.count, Kind: kind, Waterproof: t.waterproof})
		}
	}
	if kind := sized(t); kind != "" {
		f.Sized = append(f.Sized, facts.Sized{
			ID: t.id, Name: t.name, Kind: kind, Whose: m.whose(t), SizeKnown: it.Size != "", SeenKnown: it.SizeSeen.Set, SeenDay: int64(it.SizeSeen.Value),
		})
	}
	if r := &it.Radio.Value; it.Radio.Set {
		f.Radios = append(f.Radios, facts.RadioItem{ID: t.id, Name: t.name, Pack: t.pack, Carrier: t.carrier, Receives: sorted(r.Receives), Service: r.Service, Works: dead(t, m.house) == ""})
	}
	isMap := slices.Contains(it.Documents, "map") || slices.ContainsFunc(t.can, func(o offer) bool { return o.name == kinds.CanNavigate && o.means == "map" })
	if len(it.Documents) > 0 || it.Cash.Set || isMap {
		f.Papers = append(f.Papers, facts.Paper{
			ID: t.id, Name: t.name, Pack: t.pack, Carrier: t.carrier, Owner: m.idOf(it.Owner), Reach: t.reach, Documents: sorted(it.Documents),
			Cash: it.Cash.Set, SmallNotes: it.Cash.Value.SmallNotes, Map: isMap, Covers: sorted(it.Covers), Waterproof: t.waterproof,
		})
	}
}

// whose is the id of whom a thing is for: whom it fits, its owner, its wearer; "" where it may be anyone's.
func (m *measurer) whose(t *thing) string {
	return cmp.Or(m.idOf(t.it.Fits), m.idOf(t.it.Owner), t.person)
}

// sized names what of a thing a child outgrows, "" where nothing is. A coat that is worn fits on the day.
func sized(t *thing) string {
	can := func(name kinds.Capability, means string) bool {
		return slices.ContainsFunc(t.can, func(o offer) bool { return o.name == name && (means == "" || o.means == means) })
	}
	switch {
	case can(kinds.CanFootwear, ""):
		return "shoes"
	case t.person == "" && (t.it.Insulation.Value.Kind == "jacket" || can(kinds.CanRain, "jacket")):
		return "jacket"
	}
	return ""
}

// offered groups all offers by capability, both in order.
func (m *measurer) offered() {
	type one struct {
		offer
		*thing
	}
	var all []one
	for i := range m.things {
		t := &m.things[i]
		for _, o := range t.can {
			if m.fails(t, &o, m.house) == "" {
				all = append(all, one{o, t})
			}
		}
	}
	slices.SortFunc(all, func(a, b one) int {
		return cmp.Or(cmp.Compare(a.offer.name, b.offer.name), cmp.Compare(a.offer.means, b.offer.means), cmp.Compare(a.id, b.id))
	})
	for _, o := range all {
		list := &m.f.Capabilities
		if n := len(*list); n == 0 || (*list)[n-1].Capability != o.offer.name {
			*list = append(*list, facts.Capability{Capability: o.offer.name})
		}
		c := &(*list)[len(*list)-1]
		c.Count += o.count
		c.Offers = append(c.Offers, facts.Offer{
			ID: o.id, Name: o.thing.name, Means: o.offer.means, Count: o.count, Pack: o.pack, Compartment: o.compartment,
			Person: o.thing.person, Carrier: o.carrier, Owner: m.idOf(o.it.Owner), Whose: m.whose(o.thing), Place: o.it.Place, Reach: o.reach, Waterproof: o.thing.waterproof,
		})
	}
}

// allergies lists what each person must not meet, with what is packed against it.
func (m *measurer) allergies() {
	m.f.Allergies = []facts.Allergy{}
	for i := range m.h.People {
		p := &m.h.People[i]
		for _, a := range p.Allergies {
			f := facts.Allergy{ID: a.Spot, Person: p.Spot, PersonName: p.Name, Key: a.Key, Severe: a.Severe, To: a.To}
			if i := slices.IndexFunc(p.Medications, func(md kit.Medication) bool { return md.Key == a.Medication }); i >= 0 {
				f.Medication = p.Medications[i].Spot
			}
			for j := range m.f.Medications {
				if md := &m.f.Medications[j]; md.ID == f.Medication {
					f.OwnUsableMilli = md.OwnUsableMilli
				}
			}
			m.f.Allergies = append(m.f.Allergies, f)
		}
	}
}
