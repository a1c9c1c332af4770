package measure

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
	"kitmuster/lint/forecast"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// driven is a household with a bag of 5 kg on a back, a box of 12 kg that never leaves the car, and a chest of 3 kg that
// lies in the car and is carried from it.
func driven(legs ...kit.Leg) *kit.Household {
	pack := func(key, carrier, vehicle, kept string, m unit.Mass, items ...kit.Item) kit.Pack {
		return kit.Pack{Key: key, Name: key, Carrier: carrier, Vehicle: vehicle, Kept: kept, Mass: m, Compartments: []kit.Compartment{{Key: "main", Name: "main", Reach: "halted", Items: items}}}
	}
	h := &kit.Household{
		Name:   "Otter",
		People: []kit.Person{{Key: "ana", Name: "Ana", Age: years(40), BodyMass: 70 * kilo, Carries: true}},
		Packs: []kit.Pack{
			pack("bag", "ana", "", "", 5*kilo, anItem("lamp", 0, able(kinds.CanLight, "headlamp"))),
			pack("box", "", "car", "", 10*kilo, anItem("water", 0, holds(2*lit))),
			pack("chest", "ana", "car", keptInCar, 3*kilo),
		},
		Vehicles: []kit.Vehicle{
			{Key: "car", Name: "car", Kind: "car", Payload: kit.Some(400 * kilo), Seats: 5, Range: kit.Some(600 * km)},
			{Key: "cart", Name: "cart", Kind: "cart"},
			{Key: "bike", Name: "bike", Kind: "bicycle"},
		},
		Plan: kit.Plan{Duration: 24 * hour, DurationSet: true},
	}
	for i := range legs {
		legs[i].Order, legs[i].Key = int64(i+1), string(rune('a'+i))
	}
	h.Plan.Legs = legs
	h = spotted(h)
	for i := range h.Plan.Legs {
		h.Plan.Legs[i].Spot = "plan/legs/" + h.Plan.Legs[i].Key
	}
	for i := range h.Vehicles {
		h.Vehicles[i].Spot = "vehicles/" + h.Vehicles[i].Key
	}
	return h
}

func by(vehicle string) kit.Leg { return kit.Leg{Distance: 3 * km, By: vehicle} }

// A cap is asked of what is on a back while someone walks.
func TestLoadOnFoot(t *testing.T) {
	for _, c := range []struct {
		name string
		legs []kit.Leg
		want unit.Mass
	}{
		{"no route: what rides in the car is on nobody's back", nil, 5 * kilo},
		{"by car from door to door", []kit.Leg{by("car")}, 0},
		{"to the car and on by it", []kit.Leg{by(""), by("car")}, 5 * kilo},
		{"from the car on", []kit.Leg{by("car"), by("")}, 8 * kilo},
		{"beside a cart that another pack rides in", []kit.Leg{by("cart")}, 5 * kilo},
		{"the car is never gone by, and what is kept in it stays", []kit.Leg{by("")}, 5 * kilo},
	} {
		f, _ := Of(driven(c.legs...), Options{On: audit})
		if got := unit.Mass(f.Carriers[0].FootUG); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		if f.Carriers[0].BodyUG != int64(70*kilo) || f.Carriers[0].LoadMG != (8*kilo).Milligrams() {
			t.Errorf("%s: %+v", c.name, f.Carriers[0])
		}
	}
	h := driven(by("cart"))
	h.Packs[0].Vehicle = "cart"
	if f, _ := Of(h, Options{On: audit}); f.Carriers[0].FootUG != 0 {
		t.Errorf("%d µg are borne of what rides in the cart", f.Carriers[0].FootUG)
	}
	h.Packs[0].Vehicle = "car" // not kept in it: borne until the car is reached
	h.Plan.Legs[0].By = ""
	if f, _ := Of(h, Options{On: audit}); f.Carriers[0].FootUG != int64(5*kilo) {
		t.Errorf("%d µg are borne to the car", f.Carriers[0].FootUG)
	}
}

// Who rides a bicycle has on the back what does not hang on it.
func TestLoadOnTheBackByBicycle(t *testing.T) {
	for name, legs := range map[string][]kit.Leg{"all the way": {by("bike")}, "then by car": {by("bike"), by("car")}} {
		h := driven(legs...)
		h.Packs[2].Vehicle = "bike"
		if f, _ := Of(h, Options{On: audit}); unit.Mass(f.Carriers[0].FootUG) != 5*kilo || f.Packs[0].FootMG == 0 || f.Packs[2].FootMG != 0 {
			t.Errorf("%s: %s, %+v", name, unit.Mass(f.Carriers[0].FootUG), f.Packs)
		}
	}
}

// What hangs on a bicycle is pushed between two rides, and is on the back before the first and after the last.
func TestLoadOnAPushedBicycle(t *testing.T) {
	for _, c := range []struct {
		name string
		legs []kit.Leg
		want unit.Mass
	}{
		{"pushed between two rides", []kit.Leg{by("bike"), by(""), by("bike")}, 3 * kilo},
		{"pushed twice", []kit.Leg{by("bike"), by(""), by(""), by("bike")}, 3 * kilo},
		{"left behind", []kit.Leg{by("bike"), by("")}, 8 * kilo},
		{"walked to", []kit.Leg{by(""), by("bike")}, 8 * kilo},
		{"between rides in a car", []kit.Leg{by("car"), by(""), by("car")}, 8 * kilo},
	} {
		h := driven(c.legs...)
		h.Packs[0].Vehicle = "bike"
		h.Packs[2].Kept = ""
		if f, _ := Of(h, Options{On: audit}); unit.Mass(f.Carriers[0].FootUG) != c.want {
			t.Errorf("%s: %s, want %s", c.name, unit.Mass(f.Carriers[0].FootUG), c.want)
		}
	}
}

func TestVehicles(t *testing.T) {
	f, l := Of(driven(by("car"), by("")), Options{On: audit})
	want := []facts.Vehicle{
		{ID: "vehicles/bike", Key: "bike", Name: "bike", Kind: "bicycle", Ridden: true, Packs: []string{}, Only: []string{}},
		{
			ID: "vehicles/car", Key: "car", Name: "car", Kind: "car", Ridden: true, Used: true, UsedMM: 3_000_000, PayloadKnown: true, PayloadMG: 400_000_000, LoadMG: 15_000_000,
			Seats: 5, RangeKnown: true, RangeMM: 600_000_000, Packs: []string{"packs/box", "packs/chest"}, Only: []string{"drinking water"},
		},
		{ID: "vehicles/cart", Key: "cart", Name: "cart", Kind: "cart", Packs: []string{}, Only: []string{}},
	}
	if diff := cmp.Diff(want, f.Vehicles); diff != "" {
		t.Error(diff)
	}
	if e, ok := l.Entry("vehicles/car/load"); !ok || e.AmountText() != "15.00 kg" {
		t.Errorf("the ledger says %+v", e)
	}
	legs := f.Plan.Legs
	if f.Plan.Ridden || f.Plan.FootMM != 3_000_000 || f.Plan.FootMin != 38 || !legs[0].Ridden || legs[0].By != "vehicles/car" || legs[0].RideMin != 6 || legs[0].WalkMin != 0 || legs[1].Ridden || legs[1].RideMin != 0 {
		t.Errorf("plan %+v", f.Plan)
	}
	if legs[0].OnFootMin != 0 || legs[1].OnFootMin == 0 || !legs[0].Arrives || !legs[1].Arrives {
		t.Errorf("legs %+v", legs)
	}
	for _, p := range f.Packs {
		if want := map[string]int64{"bag": 5_000_000, "box": 12_000_000, "chest": 3_000_000}[p.Key]; p.FootMG != want {
			t.Errorf("%s: %d mg on foot, want %d", p.Key, p.FootMG, want)
		}
	}
}

// All bedding in the car is lost with it, which is said on nights of frost, unless beds await; a jacket is no bed.
func TestBeddingInAVehicle(t *testing.T) {
	bag := func(kind, means string) kit.Item {
		it := anItem("bag", kilo)
		if kind != "" {
			it.Insulation = kit.Some(kit.Insulation{Kind: kind})
		}
		if means != "" {
			it.Can = []kit.Capability{{Name: kinds.CanWarmth, Means: means}}
		}
		return it
	}
	for name, c := range map[string]struct {
		night unit.Temperature
		beds  bool
		boot  kit.Item // in the car
		worn  kit.Item
		want  bool
	}{
		"a sleeping bag":       {-1, false, bag("sleeping-bag", ""), bag("jacket", ""), true},
		"a quilt by its means": {-1, false, bag("", "quilt"), bag("jacket", ""), true},
		"a wool blanket":       {-1, false, bag("", "wool-blanket"), bag("jacket", ""), true},
		"a blanket":            {-1, false, bag("blanket", ""), bag("jacket", ""), true},
		"no frost":             {0, false, bag("sleeping-bag", ""), bag("jacket", ""), false},
		"beds await":           {-1, true, bag("sleeping-bag", ""), bag("jacket", ""), false},
		"one is carried":       {-1, false, bag("sleeping-bag", ""), bag("quilt", ""), false},
		"none at all":          {-1, false, bag("", ""), bag("jacket", ""), false},
		"foil":                 {-1, false, bag("", "emergency-blanket"), bag("jacket", ""), false},
	} {
		h := &kit.Household{
			Name:     "Otter",
			People:   []kit.Person{{Key: "ana", Name: "Ana", Age: years(40), BodyMass: 70 * kilo, Carries: true, OnBody: []kit.Item{c.worn}}},
			Packs:    []kit.Pack{{Key: "box", Name: "box", Vehicle: "car", Compartments: []kit.Compartment{{Key: "main", Name: "main", Items: []kit.Item{c.boot}}}}},
			Vehicles: []kit.Vehicle{{Key: "car", Name: "car", Kind: "car"}},
			Plan:     kit.Plan{Season: "frost", Seasons: []kit.Season{{Key: "frost", Night: c.night, DaylightSet: true}}, Destination: kit.Some(kit.Destination{Beds: c.beds})},
		}
		f, _ := Of(spotted(h), Options{On: audit})
		if got := slices.Contains(f.Vehicles[0].Only, "bedding for a night of frost"); got != c.want {
			t.Errorf("%s: %q", name, f.Vehicles[0].Only)
		}
	}
}

// 3 km: 6 min at 30 km/h, 20 min in a jam at 150 m/min, 15 min by bicycle at 12 km/h, 3 min at the family's own 1 min/km.
func TestRidesTakeTime(t *testing.T) {
	for _, c := range []struct {
		vehicle, hazard string
		pace            unit.Duration
		want            int64
	}{{"car", "flood", 0, 6}, {"car", "tsunami", 0, 20}, {"car", "quake", 0, 20}, {"bike", "quake", 0, 15}, {"car", "quake", 60, 3}} {
		leg := by(c.vehicle)
		if c.pace > 0 {
			leg.Pace = kit.Some(c.pace)
		}
		h := driven(leg)
		h.Plan.Hazards = []string{c.hazard}
		f, _ := Of(h, Options{On: audit})
		if got := f.Plan.Legs[0].RideMin; got != c.want || !f.Plan.Ridden || f.Plan.FootMin != 0 {
			t.Errorf("%+v: %d min, ridden %v", c, got, f.Plan.Ridden)
		}
	}
}

// Who rides neither walks nor bears; a bicycle takes more out of its rider than a seat does.
func TestRidesInTheForecast(t *testing.T) {
	spent := func(vehicle string, hazard ...string) int64 {
		leg := kit.Leg{Distance: 12 * km, By: vehicle} // one hour by bicycle
		h := driven(leg)
		h.Plan.Hazards = hazard
		f, _ := Of(h, Options{On: audit})
		b := f.Endurance.Bodies[0]
		if b.WalkMin != 0 || b.SweatML != 0 || b.MostMG != 0 && vehicle != "" {
			t.Errorf("%s: %+v", vehicle, b)
		}
		return b.SpentJ
	}
	car, bike := spent("car"), spent("bike")
	f, _ := Of(driven(), Options{On: audit})
	rest := int64(float64(f.People[0].EnergyJ) / forecast.CampDay) // an hour's rest times 24
	if f.Endurance.Bodies[0].SpentJ != car {
		t.Errorf("a ride costs %d J, a day in camp %d", car, f.Endurance.Bodies[0].SpentJ)
	}
	if want := rest * 26 / 10 / 24; bike-car < want-2 || bike-car > want+2 {
		t.Errorf("an hour by bicycle costs %d J more, want %d", bike-car, want)
	}
}

// What lightens a load: what is for nothing or there twice, then what serves on another back; never water, food, what is
// someone's own, what is pinned, or what may be of use by its name.
func TestWhatLightensALoad(t *testing.T) {
	h := spotted(&kit.Household{
		Name:   "Otter",
		People: []kit.Person{{Key: "ana", Name: "Ana", Age: years(40), BodyMass: 70 * kilo, Carries: true, OnBody: []kit.Item{anItem("coat", kilo, able(kinds.CanRain, "jacket")), anItem("radio", 300*gram), anItem("keys", 100*gram), anItem("chair", 9*kilo, able(kinds.CanMobility, "wheelchair"))}}},
		Packs: []kit.Pack{{Key: "bag", Name: "bag", Carrier: "ana", Compartments: []kit.Compartment{{Key: "main", Name: "main", Items: []kit.Item{
			anItem("idol", 2*kilo), anItem("pinned", 3*kilo, func(it *kit.Item) { it.Pinned = true }), anItem("none", 5*kilo, times(0)),
			anItem("saw", kilo, able(kinds.CanCut, "saw")), anItem("saw2", 900*gram, able(kinds.CanCut, "saw")), anItem("knife", 200*gram, able(kinds.CanCut, "knife")),
			anItem("water", 100*gram, holds(4*lit)), anItem("tarp", 600*gram, able(kinds.CanShelter, "tarp")), anItem("tarp2", 600*gram, able(kinds.CanShelter, "tarp")),
			anItem("stove", 300*gram, able(kinds.CanCook, "gas-stove")), anItem("own", 700*gram, func(it *kit.Item) { it.Owner, it.Shared = "ana", true }),
			anItem("rice", 800*gram, eaten(kit.Food{Energy: 1000})), anItem("tent", 2*kilo, func(it *kit.Item) { it.Shared = true }, able(kinds.CanShelter, "tent")),
			anItem("sleeping bag", 3*kilo), anItem("novel", 500*gram, able(kinds.CanComfort, "book")),
			anItem("mine", 900*gram, eaten(kit.Food{Energy: 1000, For: "ana"})), anItem("pills", 900*gram, supplyOf("ana", "x", 1000)),
		}}}}},
	})
	f, _ := Of(h, Options{On: audit})
	c := f.Carriers[0]
	names := func(s []facts.Burdensome) (out []string) {
		for _, x := range s {
			out = append(out, x.Name)
		}
		return out
	}
	if got := names(c.Spare); !slices.Equal(got, []string{"idol", "saw", "novel"}) {
		t.Errorf("no rule needs %v", got)
	}
	h.People = append(h.People, kit.Person{Key: "mia", Name: "Mia", Age: years(9), BodyMass: 30 * kilo})
	if f, _ := Of(h, Options{On: audit}); !slices.Equal(names(f.Carriers[0].Spare), []string{"idol", "saw"}) {
		t.Errorf("with a child no rule needs %v", names(f.Carriers[0].Spare))
	}
	if got := names(c.Movable); !slices.Equal(got, []string{"tent", "tarp2", "stove"}) {
		t.Errorf("%v can move", got)
	}
	if c.Spare[0].MassMG != 2_000_000 || c.GearMG != 400_000 || c.GearID != "people/ana/onBody/radio" {
		t.Errorf("carrier %+v", c)
	}
}
