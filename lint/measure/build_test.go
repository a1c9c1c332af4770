package measure

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

const (
	gram = unit.Mass(1_000_000)
	kilo = 1000 * gram
	lit  = unit.Volume(1_000_000)
	km   = unit.Length(1_000_000_000)
	hour = unit.Duration(3600)
)

var audit = must(unit.ParseDate("2026-05-01"))

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func mass(s string) unit.Mass { return must(unit.ParseMass(s)) }

func day(s string) kit.Opt[unit.Date] { return kit.Some(must(unit.ParseDate(s))) }

func years(n int64) kit.Opt[unit.Duration] {
	return kit.Some(must(unit.ParseDuration(fmt.Sprintf("%d y", n))))
}

// anItem is a weighed item; place sets its spot.
func anItem(key string, m unit.Mass, change ...func(*kit.Item)) kit.Item {
	it := kit.Item{Key: key, Name: key, Count: 1, Mass: m, Weighed: day("2026-04-01"), Worth: 3}
	for _, c := range change {
		c(&it)
	}
	return it
}

func times(n int64) func(*kit.Item) { return func(it *kit.Item) { it.Count = n } }

func holds(water unit.Volume) func(*kit.Item) {
	return func(it *kit.Item) { it.Water = kit.Some(water) }
}

func vessel(v unit.Volume, fireSafe bool) func(*kit.Item) {
	return func(it *kit.Item) { it.Container = kit.Some(kit.Container{Capacity: v, FireSafe: fireSafe}) }
}

func eaten(f kit.Food) func(*kit.Item) { return func(it *kit.Item) { it.Food = kit.Some(f) } }

func method(name string, litres unit.Volume) func(*kit.Item) {
	return func(it *kit.Item) {
		t := kit.Treat{Method: name}
		if litres > 0 {
			t.Litres = kit.Some(litres)
		}
		it.Treat = kit.Some(t)
	}
}

func fuelled(kind string, m unit.Mass) func(*kit.Item) {
	return func(it *kit.Item) { it.Fuel = kit.Some(kit.Fuel{Kind: kind, Mass: m}) }
}

func stove(burns ...string) func(*kit.Item) {
	return func(it *kit.Item) { it.Stove = kit.Some(kit.Stove{Burns: burns}) }
}

func able(name kinds.Capability, means string) func(*kit.Item) {
	return func(it *kit.Item) { it.Can = append(it.Can, kit.Capability{Name: name, Means: means}) }
}

func fed(size string, cells int64, run unit.Duration) func(*kit.Item) {
	return func(it *kit.Item) {
		it.Device = kit.Some(kit.Device{Size: size, Cells: cells, RunTime: kit.Some(run)})
	}
}

func spare(size string, cells int64) func(*kit.Item) {
	return func(it *kit.Item) {
		it.Cells = kit.Some(kit.Cells{Size: size, Chemistry: "alkaline", Cells: cells})
	}
}

func supplyOf(person, med string, doses unit.Count) func(*kit.Item) {
	return func(it *kit.Item) {
		it.Medicine = kit.Some(kit.Medicine{Person: person, Medication: med, Doses: doses})
	}
}

// spotted gives every entry its spot, as the loader does.
func spotted(h *kit.Household) *kit.Household {
	item := func(it *kit.Item, at string) {
		it.Spot = at + it.Key
		for i := range it.Can {
			it.Can[i].Spot = it.Spot + "/can/" + string(it.Can[i].Name)
		}
		for i := range it.FirstAid {
			it.FirstAid[i].Spot = it.Spot + "/firstAid/" + it.FirstAid[i].Kind
		}
	}
	for i := range h.People {
		p := &h.People[i]
		p.Spot = "people/" + p.Key
		for j := range p.Medications {
			p.Medications[j].Spot = p.Spot + "/medications/" + p.Medications[j].Key
		}
		for j := range p.Consumables {
			p.Consumables[j].Spot = p.Spot + "/consumables/" + p.Consumables[j].Key
		}
		for j := range p.Devices {
			p.Devices[j].Spot = p.Spot + "/devices/" + p.Devices[j].Key
		}
		for j := range p.Allergies {
			p.Allergies[j].Spot = p.Spot + "/allergies/" + p.Allergies[j].Key
		}
		for j := range p.Licences {
			p.Licences[j].Spot = p.Spot + "/licences/" + p.Licences[j].Key
		}
		for j := range p.Needs {
			p.Needs[j].Spot = p.Spot + "/needs/" + p.Needs[j].Key
		}
		for j := range p.OnBody {
			item(&p.OnBody[j], p.Spot+"/onBody/")
		}
	}
	for i := range h.Animals {
		a := &h.Animals[i]
		a.Spot = "animals/" + a.Key
		for j := range a.Medications {
			a.Medications[j].Spot = a.Spot + "/medications/" + a.Medications[j].Key
		}
	}
	for i := range h.Packs {
		p := &h.Packs[i]
		p.Spot = "packs/" + p.Key
		for j := range p.Compartments {
			c := &p.Compartments[j]
			c.Spot = p.Spot + "/compartments/" + c.Key
			for k := range c.Items {
				item(&c.Items[k], c.Spot+"/items/")
			}
		}
	}
	pl := &h.Plan
	for i := range pl.Seasons {
		pl.Seasons[i].Spot = "plan/seasons/" + pl.Seasons[i].Key
	}
	for i := range pl.Legs {
		pl.Legs[i].Spot = "plan/legs/" + pl.Legs[i].Key
	}
	for i := range pl.WaterSources {
		pl.WaterSources[i].Spot = "plan/waterSources/" + pl.WaterSources[i].Key
	}
	for i := range pl.MeetingPoints {
		pl.MeetingPoints[i].Spot = "plan/meetingPoints/" + pl.MeetingPoints[i].Key
	}
	for i := range pl.Contacts {
		pl.Contacts[i].Spot = "plan/contacts/" + pl.Contacts[i].Key
	}
	for i := range h.Record.Shakedowns {
		h.Record.Shakedowns[i].Spot = "record/shakedowns/" + h.Record.Shakedowns[i].Key
	}
	return h
}

// onePack is a household of one grown person with one pack of one compartment.
func onePack(items ...kit.Item) *kit.Household {
	return spotted(&kit.Household{
		Name:   "Otter",
		People: []kit.Person{{Key: "ana", Name: "Ana", Age: years(42), BodyMass: 60 * kilo, Carries: true}},
		Packs: []kit.Pack{{Key: "rust", Name: "Rust", Carrier: "ana", Mass: kilo, MassWeighed: day("2026-04-01"), Compartments: []kit.Compartment{
			{Key: "main", Name: "Main", Reach: "halted", Items: items},
		}}},
	})
}

// family is a household that uses everything, different for each seed.
func family(seed uint64) *kit.Household {
	r := rand.New(rand.NewPCG(seed, 1))
	some := func(n int) bool { return r.IntN(n) == 0 }
	serial := 0
	item := func() kit.Item {
		serial++
		it := anItem(fmt.Sprintf("thing%03d", serial), unit.Mass(r.Int64N(900_000_000)), times(r.Int64N(4)))
		it.Estimated = some(5)
		it.QuickShed = some(8)
		if some(6) {
			it.Weighed = kit.Opt[unit.Date]{}
		}
		if some(4) {
			vessel(unit.Volume(r.Int64N(3_000_000)), some(2))(&it)
			holds(unit.Volume(r.Int64N(1_500_001)))(&it)
		}
		if some(3) {
			f := kit.Food{Energy: unit.Energy(r.Int64N(4_000_000)), For: []string{"", "ana", "rex"}[r.IntN(3)]}
			if some(2) {
				f.Protein, f.Allergens = kit.Some(unit.Mass(r.Int64N(9_000_000))), []string{"milk"}
				f.Sodium, f.NetMass = kit.Some(unit.Mass(r.Int64N(900_000))), kit.Some(it.Mass/2)
			}
			if some(3) {
				f.CookWater, f.Cook = unit.Volume(r.Int64N(500_000)), true
			}
			eaten(f)(&it)
		}
		if some(6) {
			method(treatments[r.IntN(len(treatments))].method, unit.Volume(r.Int64N(2)*r.Int64N(50_000_000)))(&it)
		}
		if some(6) {
			fuelled(fuels[r.IntN(len(fuels))].name, it.Mass/3)(&it)
		}
		if some(8) {
			stove(fuels[r.IntN(len(fuels))].name)(&it)
		}
		if some(3) {
			able("fire", []string{"matches", "gas-lighter", "ferro-rod"}[r.IntN(3)])(&it)
		}
		if some(4) {
			able("light", "headlamp")(&it)
			fed([]string{"AA", "AAA"}[r.IntN(2)], 1+r.Int64N(3), unit.Duration(r.Int64N(90))*hour)(&it)
		}
		if some(5) {
			spare([]string{"AA", "AAA"}[r.IntN(2)], 1+r.Int64N(6))(&it)
		}
		if some(5) {
			supplyOf("ana", "insulin", unit.Count(r.Int64N(40_000)))(&it)
			it.OutOfCold = kit.Some(audit - unit.Date(r.Int64N(60)))
		}
		if some(5) {
			it.FirstAid = []kit.FirstAid{{Kind: "plasters", Count: r.Int64N(9)}}
		}
		if some(3) {
			it.Expires = kit.Some(audit + unit.Date(r.Int64N(400)) - 100)
		}
		if some(5) {
			it.Opened, it.OpenedLife = kit.Some(audit-unit.Date(r.Int64N(99))), kit.Some(60*24*hour)
		}
		if some(5) {
			it.Insulation = kit.Some(kit.Insulation{Kind: "quilt", Comfort: kit.Some(unit.Temperature(r.Int64N(9000)))})
			it.Radio = kit.Some(kit.Radio{Receives: []string{"fm", "am"}, Service: "frs"})
			it.Cash = kit.Some(kit.Cash{Amount: "200 in notes", SmallNotes: true})
			it.Colour, it.Visibility, it.Owner, it.Pinned = "red", "loud", "ana", true
		}
		it.Documents = []string{"map", "identity"}
		return it
	}
	items := func(n int) (out []kit.Item) {
		for range n {
			out = append(out, item())
		}
		return out
	}
	pack := func(key, carrier string) kit.Pack {
		return kit.Pack{Key: key, Name: key, Carrier: carrier, Mass: unit.Mass(r.Int64N(2_000_000_000)), Estimated: some(3), Colours: []string{"grey", "black"}, Compartments: []kit.Compartment{
			{Key: "lid", Name: "Lid", Reach: "walking", QuickShed: some(2), Mass: kit.Some(unit.Mass(r.Int64N(100_000_000))), Items: items(6)},
			{Key: "main", Name: "Main", Reach: "halted", Budget: kit.Some(9 * kilo), Items: items(8)},
		}}
	}
	return spotted(&kit.Household{
		Name: "Otter",
		People: []kit.Person{
			{
				Key: "ana", Name: "Ana", Born: day("1984-05-02"), Sex: "female", Height: kit.Some(unit.Length(1_720_000)), BodyMass: 68 * kilo, Carries: true, Glasses: true,
				Medications: []kit.Medication{{Key: "insulin", Name: "Insulin", PerDay: 2500, ColdChain: true}},
				Allergies:   []kit.Allergy{{Key: "nuts", Severe: true}, {Key: "milk"}},
				Licences:    []kit.Licence{{Key: "gmrs", Service: "gmrs", Until: day("2027-01-01")}},
				Needs:       []kit.Need{{Key: "hearing", Text: "reads lips"}},
				Cap:         kit.Some(kit.CapOverride{Share: 120_000, Reason: "knee"}),
				OnBody:      items(3),
			},
			{Key: "ben", Name: "Ben", Age: years(9), BodyMass: 30 * kilo, OnBody: items(2)},
			{Key: "cleo", Name: "Cleo", Age: years(44), BodyMass: 80 * kilo, Carries: true},
		},
		Animals: []kit.Animal{{Key: "rex", Name: "Rex", Species: "dog", BodyMass: 24 * kilo, Age: years(4), Neutered: true, Carries: true}},
		Packs:   []kit.Pack{pack("birch", "rex"), pack("cedar", "cleo"), pack("rust", "ana"), pack("sage", "ana")},
		Plan: kit.Plan{
			Duration: 72 * hour, DurationSet: true, Season: "summer", Settings: []string{"woodland", "town"},
			Seasons: []kit.Season{{Key: "summer", Day: 31_000, Night: 12_000, Daylight: 15 * hour, DaylightSet: true}, {Key: "winter", Day: 2000, Night: -9000, Daylight: 8 * hour, DaylightSet: true}},
			Legs:    []kit.Leg{{Key: "one", Order: 1, Distance: 6 * km, Climb: km / 5}, {Key: "two", Order: 2, Distance: 4 * km, Pace: kit.Some(15 * unit.Duration(60))}},
			WaterSources: []kit.WaterSource{
				{Key: "brook", Quality: "clear", Leg: "two"}, {Key: "tap", Quality: "tap", Litres: kit.Some(40 * lit)},
			},
			MeetingPoints: []kit.MeetingPoint{{Key: "hill", Where: "bench", Altitude: kit.Some(235 * km / 1000)}, {Key: "school", Where: "gate"}},
			Contacts:      []kit.Contact{{Key: "aunt", Name: "Aunt", OutOfArea: true}, {Key: "hut", Name: "Hut"}},
		},
		Record: kit.Record{Weighed: day("2026-04-01"), Shakedowns: []kit.Shakedown{{Key: "march", On: audit - 40, Distance: 8 * km, Load: kit.Some(9 * kilo)}}, Waivers: []kit.Waiver{{Key: "knee", Spot: "record/waivers/knee", Rule: "load/imbalance", Until: audit}}},
	})
}

func of1(t *testing.T, h *kit.Household) *facts.Facts {
	t.Helper()
	f, _ := Of(h, Options{On: audit})
	return f
}
