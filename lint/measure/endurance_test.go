package measure

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"kitmuster/lint/facts"
	"kitmuster/lint/forecast"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// plain is one grown person of 70 kg with one pack of 5 kg: two litres, food of 8 MJ, a plan of 24 h.
func plain() *kit.Household {
	return spotted(&kit.Household{
		Name:   "Otter",
		People: []kit.Person{{Key: "ana", Name: "Ana", Age: kit.Some(unit.Duration(40 * 31_556_952)), Sex: "female", BodyMass: 70_000_000_000, Carries: true}},
		Packs: []kit.Pack{{Key: "rust", Name: "Rust", Carrier: "ana", Mass: 1_000_000_000, Compartments: []kit.Compartment{{Key: "main", Name: "main", Reach: "halted", Items: []kit.Item{
			{Key: "bottle", Name: "bottle", Count: 2, Mass: 100_000_000, Water: kit.Some(unit.Volume(1_000_000)), Container: kit.Some(kit.Container{Capacity: 1_000_000})},
			{Key: "bar", Name: "bar", Count: 4, Mass: 100_000_000, Food: kit.Some(kit.Food{Energy: 2_000_000, Sodium: kit.Some(unit.Mass(300_000))})},
			{Key: "rest", Name: "rest", Count: 1, Mass: 1_400_000_000},
		}}}}},
		Plan: kit.Plan{Duration: 24 * 3600, DurationSet: true},
	})
}

func stockOf(t *testing.T, f *facts.Facts, id string) facts.Lasting {
	t.Helper()
	for _, s := range f.Endurance.Stocks {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no stock %s among %v", id, f.Endurance.Stocks)
	return facts.Lasting{}
}

// By hand: nobody walks. Drink is 2.2 L a day (Institute of Medicine 2005, fluids of women), 91.67 ml an hour, so two litres
// last 21 hours and 75 ml of the 22nd. Energy is 1,990 kcal (UNHCR/WFP 1997), 1.4 times as much an hour in the 16 hours awake; the
// food lacks 326,160 J of them, which is the last meal's.
// Sodium is 1,500 mg a day (NASEM 2019), 62.5 mg an hour: 1,200 mg last 19 hours.
func TestEnduranceByHand(t *testing.T) {
	f := of1(t, plain())
	water := stockOf(t, f, "endurance/water")
	if water.Lasts != 21 || water.Have != 2000 || water.Need != 2200 || water.Short != 200 || water.FirstShort != 17 || water.Lowest != 0 {
		t.Errorf("water %+v", water)
	}
	if f.Endurance.WaterLimit != "sources" {
		t.Errorf("water is short for want of %q", f.Endurance.WaterLimit)
	}
	spent := int64(1990 * 4184)
	energy := stockOf(t, f, "endurance/energy")
	if energy.Have != 8_000_000 || energy.Need < spent-2 || energy.Need > spent+2 || energy.Lasts != 23 || energy.Short != energy.Need-8_000_000 {
		t.Errorf("energy %+v, spent %d", energy, spent)
	}
	if d := f.Endurance.Days[0]; len(f.Endurance.Days) != 1 || d.NeedML != 2200 || d.DrunkML != 2000 || d.FindML != 200 || d.EatenJ != 8_000_000 || d.SodiumNeedMG != 1500 {
		t.Errorf("days %+v", f.Endurance.Days)
	}
	sodium := stockOf(t, f, "endurance/sodium")
	if sodium.Have != 1200 || sodium.Need != 1500 || sodium.Short != 300 || sodium.Lasts != 19 {
		t.Errorf("sodium %+v", sodium)
	}
	b := f.Endurance.Bodies[0]
	if b.FirstMG != 5_000_000 || b.MostMG != 5_000_000 || b.DrinkML != 2200 || b.SweatML != 0 {
		t.Errorf("body %+v", b)
	}
	if want := int64(5_000_000 - 2_000_000 - 400_000); b.LastMG != want { // two litres are drunk, and the four bars eaten
		t.Errorf("the pack weighs %d at the end, want %d", b.LastMG, want)
	}
}

// A plan that begins at another hour begins its clock there; midnight is an hour too.
func TestForecastStartsWhenAsked(t *testing.T) {
	for _, start := range []unit.Clock{0, 18*60 + 30} {
		h := plain()
		h.Plan.Start = kit.Some(unit.Clock(60))
		f, _, in, res := Forecast(h, Options{On: 20_000, Start: kit.Some(start)})
		if f.Endurance.StartMin != int64(start) || in.Start != int64(start) || res.Hours[0].Clock != int64(start) {
			t.Errorf("asked for %s, the plan begins at %d, %d, %d", start, f.Endurance.StartMin, in.Start, res.Hours[0].Clock)
		}
	}
}

func TestEnduranceOfNoPlan(t *testing.T) {
	h := plain()
	h.Plan = kit.Plan{}
	f := of1(t, h)
	if f.Endurance.Hours != 72 || f.Endurance.StartMin != 480 || f.Endurance.ChillKnown {
		t.Errorf("%+v", f.Endurance)
	}
}

// What the plan and the things say of the way goes into the forecast in its units.
func TestForecastInput(t *testing.T) {
	h := plain()
	h.People[0].Medications = []kit.Medication{{Key: "pill", Name: "pill", PerDay: 1500}, {Key: "spray", Name: "spray", AsNeeded: true}}
	h.People = append(h.People, kit.Person{Key: "mia", Name: "Mia", Age: kit.Some(unit.Duration(4 * 31_556_952)), BodyMass: 16_000_000_000, CarriedBy: "ana"},
		kit.Person{Key: "tom", Name: "Tom", Age: kit.Some(unit.Duration(31_556_952 / 2)), BodyMass: 7_000_000_000},
		kit.Person{Key: "zoe", Name: "Zoe", Age: kit.Some(unit.Duration(31_556_952 / 4)), BodyMass: 6_000_000_000, Breastfed: true})
	h.Animals = []kit.Animal{{Key: "rex", Name: "Rex", Species: "dog", BodyMass: 20_000_000_000, Energy: kit.Some(unit.Energy(4_000_000)), Water: kit.Some(unit.Volume(900_000))}}
	items := &h.Packs[0].Compartments[0].Items
	*items = append(*items,
		kit.Item{Key: "filter", Name: "filter", Count: 2, Treat: kit.Some(kit.Treat{Method: "filter", Litres: kit.Some(unit.Volume(50_000_000)), PerHour: kit.Some(unit.Volume(20_000_000))})},
		kit.Item{Key: "tablets", Name: "tablets", Count: 1, Treat: kit.Some(kit.Treat{Method: "chlorine", Litres: kit.Some(unit.Volume(10_000_000))})},
		kit.Item{Key: "dioxide", Name: "dioxide", Count: 1, Treat: kit.Some(kit.Treat{Method: "chlorine-dioxide", Wait: kit.Some(unit.Duration(4 * 3600))})},
		kit.Item{Key: "lamp", Name: "lamp", Count: 1, Can: []kit.Capability{{Name: "light", Means: "torch"}}, Device: kit.Some(kit.Device{Size: "AAA", Cells: 3, RunTime: kit.Some(unit.Duration(10 * 3600))})},
		kit.Item{Key: "kibble", Name: "kibble", Count: 1, Mass: 500_000_000, Food: kit.Some(kit.Food{Energy: 4_000_000, For: "rex"}), Expires: kit.Some(audit + 9)},
		kit.Item{Key: "soup", Name: "soup", Count: 2, Mass: 100_000_000, Food: kit.Some(kit.Food{Energy: 1_000_000, NetMass: kit.Some(unit.Mass(80_000_000)), CookWater: 300_000}),
			Opened: kit.Some(audit - 1), OpenedLife: kit.Some(unit.Duration(4 * 86400)), Expires: kit.Some(audit + 90)},
		kit.Item{Key: "aid", Name: "aid", Count: 2, FirstAid: []kit.FirstAid{{Spot: "aid/rehydration", Kind: "rehydration", Count: 3}, {Spot: "aid/gloves", Kind: "gloves", Count: 4}}},
		kit.Item{Key: "none", Name: "none", Count: 0, Food: kit.Some(kit.Food{Energy: 1_000_000})},
	)
	h.Plan = kit.Plan{
		Duration: 48 * 3600, Season: "cold", Start: kit.Some(unit.Clock(18*60 + 30)),
		Seasons: []kit.Season{{Key: "cold", Day: 4000, Night: -6000, Humidity: kit.Some(unit.Share(700_000)), Wind: kit.Some(unit.Speed(5000)), Daylight: 9 * 3600, DaylightSet: true}},
		Legs:    []kit.Leg{{Key: "two", Order: 2, Distance: 3_000_000_000, Pace: kit.Some(unit.Duration(1200))}, {Key: "one", Order: 1, Distance: 2_000_000_000, Climb: 100_000_000, Descent: 50_000_000, Ground: "dirt"}},
		WaterSources: []kit.WaterSource{
			{Key: "a", Quality: "clear", Leg: "two", After: kit.Some(unit.Length(1_000_000_000))}, {Key: "b", Quality: "tap", Leg: "one", Litres: kit.Some(unit.Volume(9_000_000))},
			{Key: "c", Quality: "foul"}, {Key: "d", Quality: "turbid"},
		},
	}
	f, l, in, res := Forecast(spotted(h), Options{On: audit})
	main := "packs/rust/compartments/main/items/"
	want := &forecast.Input{
		Minutes: 2880, Start: 1110, Weather: &forecast.Weather{Day: 4, Night: -6, Humidity: 0.7, Wind: 5, Daylight: 540},
		Legs: []forecast.Leg{{ID: "plan/legs/one", Distance: 2000, Climb: 100, Descent: 50, Ground: "dirt"}, {ID: "plan/legs/two", Distance: 3000, Pace: 1200}},
		Sources: []forecast.Source{
			{ID: "plan/waterSources/a", Leg: 1, Along: 1000, ML: forecast.NoEnd}, {ID: "plan/waterSources/b", Leg: 0, Along: 2000, ML: 9000, Clean: true}, {ID: "plan/waterSources/d", Leg: -1, ML: forecast.NoEnd, Turbid: true},
		},
		Foods: []forecast.Food{
			{ID: main + "bar", For: forecast.Everybody, EnergyJ: 8_000_000, SodiumMG: 1200, NetMG: 400_000},
			{ID: main + "kibble", For: 4, EnergyJ: 4_000_000, NetMG: 500_000, Until: int64(audit) + 9},
			{ID: main + "soup", For: forecast.Everybody, EnergyJ: 2_000_000, NetMG: 160_000, CookML: 600, Cook: true, Opened: true, Until: int64(audit) + 3},
		},
		Vessels: []forecast.Vessel{{ID: main + "bottle", WaterML: 2000, CapacityML: 2000}},
		Treatments: []forecast.Treatment{
			{ID: main + "dioxide", ML: facts.NoEnd, WaitMin: 240, Clears: [4]bool{true, true, true, true}},
			{ID: main + "filter", ML: 100_000, PerHour: 40_000, Clears: [4]bool{false, false, true, true}, Filters: true},
			{ID: main + "tablets", ML: 10_000, WaitMin: 30, Clears: [4]bool{true, true, false, false}},
		},
		Medications: []forecast.Medication{{ID: "people/ana/medications/pill", Name: "pill", PerDay: 1500}, {ID: "people/ana/medications/spray", Name: "spray"}},
		Lamps:       forecast.Lamps{Minutes: 600},
		SaltsMG:     10_346, // six litres of 75 mmol of 22.99 mg (WHO and UNICEF 2003, second-hand)
	}
	if d := cmp.Diff(want, in, cmpopts.IgnoreFields(forecast.Input{}, "Bodies")); d != "" {
		t.Errorf("input (-want +got):\n%s", d)
	}
	type body struct {
		name                         string
		eats                         forecast.Eats
		adult, walks, carriesPack    bool
		extra, drink, sodium, energy float64
	}
	var got []body
	for _, b := range in.Bodies {
		got = append(got, body{b.Name, b.Eats, b.Adult, b.Walks, b.CarriesPack, b.Extra, b.DrinkML, b.SodiumMG, math.Round(b.RestJ)})
	}
	wantBodies := []body{
		{"Ana", forecast.Common, true, true, true, 16, 3100, 1500, 8_224_863},   // she nurses Zoe: 2.2 + 0.9 L, (1990 + 500) kcal / 1.2667
		{"Mia", forecast.Common, false, false, false, 0, 1200, 1000, 5_334_600}, // (1690 + 1540) / 2 kcal / 1.2667
		{"Tom", forecast.Own, false, false, false, 0, 700, 0, 1_596_890},
		{"Zoe", forecast.Nothing, false, false, false, 0, 0, 0, 0},
		{"Rex", forecast.Own, false, true, false, 0, 900, 0, 4_000_000},
	}
	for i := range wantBodies {
		if i < len(got) && wantBodies[i].name == "Tom" {
			wantBodies[i].energy = got[i].energy // an infant's energy has a test of its own
		}
	}
	if d := cmp.Diff(wantBodies, got, cmp.AllowUnexported(body{})); d != "" {
		t.Errorf("bodies (-want +got):\n%s", d)
	}
	if len(res.Hours) != 48 || f.Endurance.Hours != 48 || !f.Plan.Legs[0].Arrives || f.Plan.Legs[0].BeginHour != 0 || f.Plan.Legs[1].OnFootMin != 60 {
		t.Errorf("legs %+v", f.Plan.Legs)
	}
	for _, s := range f.Endurance.Stocks {
		e, ok := l.Entry(s.ID)
		bare := s.ID == "people/tom/endurance-energy" || s.ID == "endurance/fuel" || s.Kind == "doses"
		if !ok || e.Amount.String() == "" || (len(e.Inputs) == 0) != bare {
			t.Errorf("stock %+v has entry %+v", s, e)
		}
	}
	if pill := stockOf(t, f, "people/ana/medications/pill/endurance"); pill.Kind != "doses" || pill.Need != 3000 || pill.Short != 3000 || pill.BodyName != "Ana" || pill.Name != "pill" {
		t.Errorf("%+v", pill)
	}
	if rex := stockOf(t, f, "animals/rex/endurance-energy"); rex.Have != 4_000_000 || rex.Need != 8_000_000 {
		t.Errorf("%+v", rex)
	}
}

// Each stock leads to the entries that it is made of, and only to those.
func TestStocksLeadToTheirItems(t *testing.T) {
	h := plain()
	h.People[0].Medications = []kit.Medication{{Key: "pill", Name: "pill", PerDay: 1000}, {Key: "drop", Name: "drop", PerDay: 1000}}
	h.People = append(h.People, kit.Person{Key: "tom", Name: "Tom", Age: kit.Some(unit.Duration(31_556_952 / 2)), BodyMass: 7_000_000_000})
	items := &h.Packs[0].Compartments[0].Items
	*items = append(*items,
		kit.Item{Key: "milk", Name: "milk", Count: 1, Mass: 100_000_000, Food: kit.Some(kit.Food{Energy: 2_000_000, For: "tom"})},
		kit.Item{Key: "pills", Name: "pills", Count: 2, Mass: 1_000_000, Medicine: kit.Some(kit.Medicine{Person: "ana", Medication: "pill", Doses: 5000})},
		kit.Item{Key: "drops", Name: "drops", Count: 1, Mass: 1_000_000, Medicine: kit.Some(kit.Medicine{Person: "ana", Medication: "drop", Doses: 9000})},
		kit.Item{Key: "stove", Name: "stove", Count: 1, Stove: kit.Some(kit.Stove{Burns: []string{"gas-mix"}})},
		kit.Item{Key: "gas", Name: "gas", Count: 1, Mass: 200_000_000, Fuel: kit.Some(kit.Fuel{Kind: "gas-mix", Mass: 100_000_000})},
		kit.Item{Key: "lamp", Name: "lamp", Count: 1, Can: []kit.Capability{{Name: "light", Means: "torch"}}, Device: kit.Some(kit.Device{Size: "AAA", Cells: 3, RunTime: kit.Some(unit.Duration(36_000))})},
	)
	_, l := Of(spotted(h), Options{On: audit})
	main := "packs/rust/compartments/main/items/"
	for id, want := range map[string][]facts.Input{
		"endurance/water":                       {{ID: main + "bottle/water", Label: "water in bottle", Amount: facts.Amount{Kind: kinds.QuantityVolume, Value: 2_000_000}}},
		"endurance/energy":                      {{ID: main + "bar/food/energy", Label: "food energy of bar", Amount: facts.Amount{Kind: kinds.QuantityEnergy, Value: 8_000_000}}},
		"people/tom/endurance-energy":           {{ID: main + "milk/food/energy", Label: "food energy of milk", Amount: facts.Amount{Kind: kinds.QuantityEnergy, Value: 2_000_000}}},
		"endurance/sodium":                      {{ID: main + "bar/food/sodium", Label: "sodium in bar", Amount: facts.Amount{Kind: kinds.QuantityMass, Value: 1_200_000}}},
		"endurance/fuel":                        {{ID: main + "gas/fuel/mass", Label: "fuel in gas", Amount: facts.Amount{Kind: kinds.QuantityMass, Value: 100_000_000}}},
		"endurance/light":                       {{ID: main + "lamp/run-total", Label: "running time of lamp", Amount: facts.Amount{Kind: kinds.QuantityDuration, Value: 36_000}}},
		"people/ana/medications/pill/endurance": {{ID: main + "pills/medicine", Label: "doses in pills", Amount: facts.Amount{Kind: kinds.QuantityCount, Value: 10_000}}},
		"people/ana/medications/drop/endurance": {{ID: main + "drops/medicine", Label: "doses in drops", Amount: facts.Amount{Kind: kinds.QuantityCount, Value: 9000}}},
	} {
		e, ok := l.Entry(id)
		if d := cmp.Diff(want, e.Inputs); !ok || d != "" {
			t.Errorf("%s (-want +got):\n%s", id, d)
		}
	}
}

// A light whose hours nobody wrote has no known end; a candle gives none that one can walk by.
func TestForecastLamps(t *testing.T) {
	device := func(d kit.Device) kit.Opt[kit.Device] { return kit.Some(d) }
	for _, c := range []struct {
		name    string
		item    kit.Item
		bank    bool
		minutes int64
		endless bool
	}{
		{"ten hours", kit.Item{Device: device(kit.Device{Size: "AAA", Cells: 3, RunTime: kit.Some(unit.Duration(36_000))})}, false, 600, false},
		{"no hours", kit.Item{Device: device(kit.Device{Size: "AAA", Cells: 3})}, false, 0, true},
		{"wound by hand", kit.Item{Device: device(kit.Device{Size: "usb", SelfPowered: true, RunTime: kit.Some(unit.Duration(3600))})}, false, 60, true},
		{"charged", kit.Item{Device: device(kit.Device{Size: "usb", BuiltIn: true, RunTime: kit.Some(unit.Duration(3600))})}, false, 60, false},
		{"charged from a bank", kit.Item{Device: device(kit.Device{Size: "usb", BuiltIn: true, RunTime: kit.Some(unit.Duration(3600))})}, true, 60, true},
		{"no device", kit.Item{}, false, 0, true},
	} {
		h := plain()
		c.item.Key, c.item.Name, c.item.Count, c.item.Can = "lamp", "lamp", 1, []kit.Capability{{Name: "light", Means: "headlamp"}}
		items := &h.Packs[0].Compartments[0].Items
		*items = append(*items, c.item, kit.Item{Key: "candle", Name: "candle", Count: 1, Can: []kit.Capability{{Name: "light", Means: "candle"}}})
		if c.bank {
			*items = append(*items, kit.Item{Key: "bank", Name: "bank", Count: 1, Cells: kit.Some(kit.Cells{Size: "usb", Chemistry: "lithium-ion", Cells: 1})})
		}
		_, _, in, _ := Forecast(spotted(h), Options{On: audit})
		if in.Lamps.Minutes != c.minutes || in.Lamps.Endless != c.endless {
			t.Errorf("%s: %+v", c.name, in.Lamps)
		}
	}
}

// Spare cells give half their hours below freezing where their chemistry is weak: two of three fillings here, of ten hours each.
func TestForecastLampsInTheCold(t *testing.T) {
	for night, want := range map[unit.Temperature]int64{0: 2400, -1000: 1800} {
		h := plain()
		items := &h.Packs[0].Compartments[0].Items
		cells := func(key, chemistry string, n int64) kit.Item {
			return kit.Item{Key: key, Name: key, Count: 1, Cells: kit.Some(kit.Cells{Size: "AAA", Chemistry: chemistry, Cells: n})}
		}
		*items = append(*items,
			kit.Item{Key: "lamp", Name: "lamp", Count: 1, Can: []kit.Capability{{Name: "light", Means: "headlamp"}}, Device: kit.Some(kit.Device{Size: "AAA", Cells: 3, RunTime: kit.Some(unit.Duration(36_000))})},
			cells("a", "alkaline", 3), cells("b", "zinc-carbon", 3), cells("c", "lithium", 3))
		h.Plan.Season = "frost"
		h.Plan.Seasons = []kit.Season{{Key: "frost", Day: 0, Night: night, Daylight: 36_000, DaylightSet: true}}
		if _, _, in, _ := Forecast(spotted(h), Options{On: audit}); in.Lamps.Minutes != want {
			t.Errorf("night of %v: %d minutes of light, want %d", night, in.Lamps.Minutes, want)
		}
	}
}

// Thirst beside a brook that the filter packed does not make safe: viruses, and bacteria by the CDC's grade "moderate".
func TestPassedWater(t *testing.T) {
	h := plain()
	items := &h.Packs[0].Compartments[0].Items
	*items = append(*items, kit.Item{Key: "filter", Name: "filter", Count: 1, Treat: kit.Some(kit.Treat{Method: "filter"})})
	(*items)[0].Water = kit.Opt[unit.Volume]{}
	h.Plan.WaterSources = []kit.WaterSource{{Key: "brook", Quality: "clear"}, {Key: "pool", Quality: "foul"}}
	f := of1(t, spotted(h))
	want := []facts.Passed{{ID: "plan/waterSources/brook", Name: "brook", Leaves: []string{"bacteria", "viruses"}}}
	if d := cmp.Diff(want, f.Endurance.Passed); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	(*items)[0].Water = kit.Some(unit.Volume(1_000_000)) // full, and so of no use
	if f := of1(t, spotted(h)); len(f.Endurance.Passed) != 1 || f.Endurance.WaterLimit != "treatment" {
		t.Errorf("once there is room: %+v, %s", f.Endurance.Passed, f.Endurance.WaterLimit)
	}
}

// Of the food that is short, what is raw and what is one person's; and the foods whose sodium nobody wrote.
func TestFoodThatStays(t *testing.T) {
	h := plain()
	h.People = append(h.People, kit.Person{Key: "bib", Name: "Bib", Age: kit.Some(unit.Duration(20 * 31_556_952 / 12)), BodyMass: 11_000_000_000})
	h.Animals = []kit.Animal{{Key: "rex", Name: "Rex", Species: "dog", BodyMass: 20_000_000_000}}
	items := &h.Packs[0].Compartments[0].Items
	(*items)[1].Food.Value.Energy = 100_000
	*items = append(*items,
		kit.Item{Key: "stew", Name: "stew", Count: 2, Mass: 100_000_000, Food: kit.Some(kit.Food{Energy: 500_000, CookWater: 200_000})},
		kit.Item{Key: "rusk", Name: "rusk", Count: 1, Mass: 100_000_000, Food: kit.Some(kit.Food{Energy: 20_000_000, For: "bib"})},
		kit.Item{Key: "kibble", Name: "kibble", Count: 1, Mass: 100_000_000, Food: kit.Some(kit.Food{Energy: 700_000, For: "rex"})},
		kit.Item{Key: "tea", Name: "tea", Count: 1, Mass: 100_000_000, Food: kit.Some(kit.Food{})},
		kit.Item{Key: "none", Name: "none", Count: 0, Food: kit.Some(kit.Food{Energy: 700_000})},
	)
	f := of1(t, spotted(h))
	energy := stockOf(t, f, "endurance/energy")
	left := energy.Have - 1_000_000 - (energy.Need - energy.Short) // what was not eaten and could be
	if d := cmp.Diff([]facts.ForOne{{Body: "people/bib", Name: "Bib", J: left}}, energy.ForOne); d != "" || energy.RawJ != 1_000_000 {
		t.Errorf("%d J raw, (-want +got):\n%s", energy.RawJ, d)
	}
	if rex := stockOf(t, f, "animals/rex/endurance-energy"); rex.RawJ != 0 || len(rex.ForOne) != 0 || rex.Unwritten != 0 {
		t.Errorf("%+v", rex)
	}
	if s := stockOf(t, f, "endurance/sodium"); s.Unwritten != 2 { // stew and rusk
		t.Errorf("%+v", s)
	}
}

// A horse finds food and water on the way, unless the household says that it does not; its oats are eaten all the same.
func TestForecastOfWhatGrazes(t *testing.T) {
	h := plain()
	h.Animals = []kit.Animal{{Key: "star", Name: "Star", Species: "horse", BodyMass: 500_000_000_000}}
	f, _, in, _ := Forecast(spotted(h), Options{On: audit})
	if b := in.Bodies[1]; !b.Grazes || b.DrinkML != 0 {
		t.Errorf("%+v", b)
	}
	for _, s := range f.Endurance.Stocks {
		if s.Body != "" {
			t.Errorf("%+v", s)
		}
	}
	h.Limits = []kit.OwnLimit{{Area: "animals", Name: "finds_own", ValuesSet: true}}
	if _, _, in, _ := Forecast(h, Options{On: audit}); in.Bodies[1].Grazes || in.Bodies[1].DrinkML != 25_000 {
		t.Errorf("%+v", in.Bodies[1])
	}
	h.Limits[0].Values = []string{"horse"}
	if _, _, in, _ := Forecast(h, Options{On: audit}); !in.Bodies[1].Grazes {
		t.Errorf("%+v", in.Bodies[1])
	}
}

// A small child that nobody is written to carry is in no load, and is named; light without a season is not known.
func TestWhatTheForecastDoesNotKnow(t *testing.T) {
	h := plain()
	h.People = append(h.People, kit.Person{Key: "bib", Name: "Bib", Age: kit.Some(unit.Duration(20 * 31_556_952 / 12)), BodyMass: 11_000_000_000})
	for _, c := range []struct {
		by        string
		age       int64
		uncarried bool
	}{{"", 20, true}, {"ana", 20, false}, {"", 40, false}} {
		h.People[1].CarriedBy, h.People[1].Age = c.by, kit.Some(unit.Duration(c.age*31_556_952/12))
		f := of1(t, spotted(h))
		if b := f.Endurance.Bodies; b[0].Uncarried || b[1].Uncarried != c.uncarried {
			t.Errorf("carried by %q at %d months: %+v", c.by, c.age, b)
		}
	}
	h.Plan.Duration = 3600*24 + 1800
	f := of1(t, h)
	if f.Endurance.Hours != 25 || f.Endurance.Minutes != 1470 {
		t.Errorf("%d hours, %d minutes", f.Endurance.Hours, f.Endurance.Minutes)
	}
	if stockOf(t, f, "endurance/light").Known || !stockOf(t, f, "endurance/water").Known {
		t.Errorf("light without a season")
	}
	h.Plan.Season, h.Plan.Seasons = "dry", []kit.Season{{Key: "dry", Spot: "plan/seasons/dry", Day: 44_000, Night: 30_000, Humidity: kit.Some(unit.Share(700_000)), DaylightSet: true, Daylight: 36_000}}
	h.Plan.Legs = []kit.Leg{{Key: "one", Spot: "plan/legs/one", Order: 1, Distance: 20_000_000_000}}
	f = of1(t, h)
	if e := f.Endurance; !stockOf(t, f, "endurance/light").Known || !e.HeatBeyond || e.HeatIndexMC != 0 || e.Category != 5 || e.HottestHour == e.CategoryHour {
		t.Errorf("beyond the heat index: %+v", e)
	}
}

// Who walks slowly, and at the ages between slow and not.
func TestPace(t *testing.T) {
	const slow = 0.54
	grown := facts.Person{AgeKnown: true, AgeMonths: 144, Fitness: "fair"}
	with := func(change func(*facts.Person)) *facts.Person {
		p := grown
		change(&p)
		return &p
	}
	for name, c := range map[string]struct {
		p    *facts.Person
		want float64
	}{
		"twelve":         {&grown, 0},
		"under twelve":   {with(func(p *facts.Person) { p.AgeMonths = 143 }), slow},
		"of unknown age": {with(func(p *facts.Person) { p.AgeKnown, p.AgeMonths = false, 0 }), 0},
		"not yet old":    {with(func(p *facts.Person) { p.AgeMonths = 779 }), 0},
		"old":            {with(func(p *facts.Person) { p.AgeMonths = 780 }), slow},
		"old and fit":    {with(func(p *facts.Person) { p.AgeMonths, p.Fitness = 780, "good" }), 0},
		"unwell":         {with(func(p *facts.Person) { p.Fitness = "unwell" }), slow},
		"with a cane":    {with(func(p *facts.Person) { p.Moves, p.Fitness = "cane", "good" }), slow},
		"a power chair":  {with(func(p *facts.Person) { p.Moves = "power-chair" }), 0},
	} {
		if got := pace(c.p); got != c.want {
			t.Errorf("%s: %v m/s, want %v", name, got, c.want)
		}
	}
}
