// Package measure says what is true of a kit, in numbers: the facts that rules
// read, and a ledger that says of every number how it was made and where its
// words stand. Sums are exact whole numbers of base units and are converted
// once, at the end, so the order of entries changes nothing. Floating point is
// used only inside published formulas that hold powers or decimals, and their
// result is rounded once.
package measure

import (
	"cmp"
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/forecast"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// Options say for which day and weather a kit is measured.
type Options struct {
	// On is the audit date: ages, expiry and days left are as of this day.
	On unit.Date
	// Season is a key of the plan's seasons; "" means the one the plan names.
	Season string
	// Start is the time of day at which the plan begins; unset, the plan's own.
	Start kit.Opt[unit.Clock]
	// Units are those in which amounts are said first; "" is as the kit writes.
	Units unit.System
	// Asked are the lines of official lists that the kit is held against.
	Asked []facts.Asked
	// Limits are those of later standards, and those that the household made stricter.
	Limits []facts.OwnLimit
}

// Of measures a household. It is pure: the same household and options give the
// same facts, and h is neither changed nor kept. A name that leads nowhere
// (the loader refuses those) counts as not written.
func Of(h *kit.Household, o Options) (*facts.Facts, *facts.Ledger) {
	m := measure(h, o)
	return m.f, m.l
}

// Forecast measures a household too, and gives the hours of its plan: what was
// taken for the forecast, and what came of it.
func Forecast(h *kit.Household, o Options) (*facts.Facts, *facts.Ledger, *forecast.Input, *forecast.Result) {
	m := measure(h, o)
	return m.f, m.l, m.planInput, m.planHours
}

func measure(h *kit.Household, o Options) *measurer {
	m := &measurer{h: planned(h, o.On), on: o.On, f: &facts.Facts{}, l: &facts.Ledger{}}
	m.f.Audit = facts.Audit{On: o.On.String(), OnDay: int64(o.On), Units: cmp.Or(o.Units, h.Units, unit.Metric)}
	m.rawFoods()
	m.collect()
	m.plan(o.Season)
	m.carriage()
	m.masses()
	m.vehicles()
	m.supplies()
	m.useless()
	m.people()
	m.animals()
	m.needs()
	m.medications()
	m.power()
	m.consumables()
	m.inventory()
	m.dates()
	m.record()
	m.household()
	m.slips()
	m.burdens()
	m.demands(o)
	m.listWords()
	m.sortLists()
	m.endurance(o)
	return m
}

// measurer holds what the subjects of one measuring share.
type measurer struct {
	h         *kit.Household
	on        unit.Date
	f         *facts.Facts
	l         *facts.Ledger
	things    []thing
	bearers   []bearer            // people, then animals
	loads     []load              // as the household's packs
	firstBy   map[string]*kit.Leg // the first leg by each vehicle
	walks     []*kit.Leg          // the last leg on foot beside each vehicle, and with none
	borneBy   []carried           // as the household's animals
	raw       map[*kit.Item]bool  // food that is cooked by its name alone
	cycled    bool                // a leg is ridden on a bicycle
	hot       bool                // the season's days are hot enough to count sweat
	walkMS    int64               // of all legs, milliseconds
	total     totals
	house     *reach           // of all things together
	planInput *forecast.Input  // what the forecast takes
	planHours *forecast.Result // what comes of it
}

type totals struct {
	mass, load, body, base, unweighed unit.Mass
	least                             bool // a part of the masses is not known
	rest, animalNeed                  unit.Energy
	animalWater                       unit.Volume
	guesses, drinks                   []facts.Input // of unweighed, of animalWater
}

// bearer is a person or an animal.
type bearer struct {
	id, key, kind, name string
	load, base, body    unit.Mass
	least               bool      // a part of the load is not known
	animals             unit.Mass // of the load
	animalIDs           []string
	quick               unit.Mass
	quickParts          []facts.Input
	packs               []string
	loads               []*load       // of these packs
	alone               []*thing      // what they wear and the packs they carry
	reach               *reach        // of these
	parts, bases        []facts.Input // of the load, of the base mass
	worn                []facts.Input
}

const (
	person = "person"
	animal = "animal"
)

// bearer finds a person or an animal by key; nil where there is none.
func (m *measurer) bearer(key string) *bearer {
	for i := range m.bearers {
		if m.bearers[i].key == key {
			return &m.bearers[i]
		}
	}
	return nil
}

// idOf is the id of a person or an animal; "" where there is none.
func (m *measurer) idOf(key string) string {
	if key == "" {
		return ""
	}
	if b := m.bearer(key); b != nil {
		return b.id
	}
	return ""
}

// collect lists the bearers and every item with its amounts.
func (m *measurer) collect() {
	n := 0
	for i := range m.h.People {
		p := &m.h.People[i]
		m.bearers = append(m.bearers, bearer{id: p.Spot, key: p.Key, kind: person, name: p.Name})
		n += len(p.OnBody)
	}
	for i := range m.h.Animals {
		a := &m.h.Animals[i]
		m.bearers = append(m.bearers, bearer{id: a.Spot, key: a.Key, kind: animal, name: a.Name})
	}
	slices.SortStableFunc(m.bearers, func(a, b bearer) int {
		return cmp.Or(-cmp.Compare(a.kind, b.kind), cmp.Compare(a.key, b.key)) // "person" before "animal"
	})
	for i := range m.h.Packs {
		for j := range m.h.Packs[i].Compartments {
			n += len(m.h.Packs[i].Compartments[j].Items)
		}
	}
	m.things = make([]thing, 0, n) // never grows: others point into it
	m.l.Grow(200 + 7*n + 48*(len(m.h.Packs)+len(m.h.People)))
	m.f.Items = make([]facts.Item, 0, n)
	for i := range m.h.People {
		p := &m.h.People[i]
		for j := range p.OnBody {
			m.item(&p.OnBody[j], place{person: p.Spot, carrier: p.Spot, reach: kinds.ReachOnBody})
		}
	}
	for i := range m.h.Packs {
		p := &m.h.Packs[i]
		carrier := m.idOf(p.Carrier)
		for j := range p.Compartments {
			c := &p.Compartments[j]
			dry := c.Waterproof || slices.ContainsFunc(c.Items, lines)
			for k := range c.Items {
				m.item(&c.Items[k], place{pack: p.Spot, compartment: c.Spot, where: c.Name, carrier: carrier, reach: c.Reach, quick: c.QuickShed, waterproof: dry, cooled: c.Cooled})
			}
		}
	}
}

// lines reports whether an item keeps all dry that lies in its compartment.
func lines(it kit.Item) bool {
	return it.Count > 0 && slices.ContainsFunc(it.Can, func(c kit.Capability) bool { return c.Name == kinds.CanCover && c.Means == "liner" })
}

// sortLists sorts every list whose order does not mean anything.
func (m *measurer) sortLists() {
	f := m.f
	slices.SortFunc(f.People, func(a, b facts.Person) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Animals, func(a, b facts.Animal) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Packs, func(a, b facts.Pack) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Compartments, func(a, b facts.Compartment) int { return cmp.Compare(a.ID, b.ID) })
	sortLarge(f.Items, func(i *facts.Item) string { return i.ID })
	slices.SortFunc(f.Foods, func(a, b facts.FoodItem) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Vessels, func(a, b facts.Vessel) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Treatments, func(a, b facts.Treatment) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Fuels, func(a, b facts.FuelItem) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Stoves, func(a, b facts.StoveItem) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Insulation, func(a, b facts.Insulation) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Radios, func(a, b facts.RadioItem) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Papers, func(a, b facts.Paper) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Medicines, func(a, b facts.MedicineItem) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Allergies, func(a, b facts.Allergy) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Medications, func(a, b facts.Medication) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.AnimalMedications, func(a, b facts.Medication) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Consumables, func(a, b facts.Consumable) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.CareDevices, func(a, b facts.CareDevice) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Cells, func(a, b facts.Cells) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Dates, func(a, b facts.Dated) int {
		return cmp.Or(cmp.Compare(a.ID, b.ID), cmp.Compare(a.Kind, b.Kind))
	})
}

// sortLarge sorts large records by id, moving each only once.
func sortLarge[T any](s []T, id func(*T) string) {
	at := make([]*T, len(s))
	for i := range s {
		at[i] = &s[i]
	}
	slices.SortFunc(at, func(a, b *T) int { return cmp.Compare(id(a), id(b)) })
	out := make([]T, len(s))
	for i := range at {
		out[i] = *at[i]
	}
	copy(s, out)
}

// sorted is a sorted copy without doubles, never nil: the facts hold no null.
func sorted(s []string) []string {
	if len(s) == 0 {
		return []string{}
	}
	out := slices.Clone(s)
	slices.Sort(out)
	return slices.Compact(out)
}
