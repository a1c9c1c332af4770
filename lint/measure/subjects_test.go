package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// near reports whether got lies within permille of want.
func near(got, want, permille float64) bool { return math.Abs(got-want) <= want*permille/1000 }

// 1 g of salt holds 393.4 mg of sodium, 1500 mg of sodium stand in 3.81 g of
// salt: 22.9898/58.443, reference value computed from the molar masses.
func TestSodiumOfSalt(t *testing.T) {
	for salt, want := range map[unit.Mass]int64{gram: 393, 3_812_900: 1500, 5_846_600: 2300} {
		f := of1(t, onePack(anItem("soup", 60*gram, eaten(kit.Food{Sodium: kit.Some(kit.SodiumOfSalt(salt))}))))
		if got := f.Household.Supply.SodiumMG; got != want {
			t.Errorf("%s of salt: %d mg of sodium, want %d", salt, got, want)
		}
	}
}

// Grams of fuel for one litre from 20 to 100 °C at 40 % and the lower heating
// value, from a table worked out apart from this code.
func TestBoilingALitre(t *testing.T) {
	for _, c := range []struct {
		kind  string
		grams unit.Mass // tenths
	}{{"hexamine", 298}, {"ethanol", 312}, {"propane", 180}, {"butane", 183}} {
		f := of1(t, onePack(anItem("fuel", kilo, fuelled(c.kind, c.grams*gram/10)), anItem("stove", 90*gram, stove(c.kind))))
		if got := f.Household.Supply.BoilableML; !near(float64(got), 1000, 3) {
			t.Errorf("%d.%d g of %s boil %d ml, want 1000", c.grams/10, c.grams%10, c.kind, got)
		}
	}
}

func TestWhichStoveBurnsWhat(t *testing.T) {
	for _, c := range []struct {
		fuel, stove string
		burns       bool
	}{
		{"gas-mix", "butane", true}, {"gas-mix", "propane", true}, {"gas-mix", "gas-mix", true}, {"gas-mix", "kerosene", false},
		{"butane", "gas-mix", false}, {"propane", "butane", false}, {"ethanol", "ethanol", true}, {"methanol", "ethanol", false},
		{"kerosene", "kerosene", true}, {"hexamine", "wood", false}, {"wood", "wood", false},
	} {
		s := of1(t, onePack(anItem("fuel", kilo, fuelled(c.fuel, 100*gram)), anItem("stove", 90*gram, stove(c.stove)))).Household.Supply
		if (s.BoilableML > 0) != c.burns || s.FuelMassMG != 100_000 {
			t.Errorf("%s in a stove for %s boils %d ml, want some: %v (fuel %d mg)", c.fuel, c.stove, s.BoilableML, c.burns, s.FuelMassMG)
		}
	}
}

// The stove must be in the same pack to boil there; the household has both.
func TestFuelAndStoveApart(t *testing.T) {
	h := onePack(anItem("fuel", kilo, fuelled("ethanol", 312*gram)))
	h.People = append(h.People, kit.Person{Key: "ben", Name: "Ben", Age: years(40), BodyMass: 80 * kilo})
	h.Packs = append(h.Packs, kit.Pack{Key: "sage", Name: "Sage", Carrier: "ben", Compartments: []kit.Compartment{{Key: "main", Items: []kit.Item{anItem("stove", 90*gram, stove("ethanol"))}}}})
	f := of1(t, spotted(h))
	if f.Packs[0].Supply.BoilableML != 0 || f.People[0].Alone.BoilableML != 0 || f.Household.Supply.BoilableML != 10001 {
		t.Errorf("boilable: pack %d, alone %d, household %d; want 0, 0, 10001", f.Packs[0].Supply.BoilableML, f.People[0].Alone.BoilableML, f.Household.Supply.BoilableML)
	}
}

func TestHugeFuelStaysWithinBounds(t *testing.T) {
	h := onePack(anItem("fuel", unit.MaxItemMass, times(10_000), fuelled("propane", unit.MaxItemMass)), anItem("stove", gram, stove("propane")))
	if got := of1(t, h).Household.Supply.BoilableML; got != facts.NoEnd {
		t.Errorf("boilable %d, want %d", got, int64(facts.NoEnd))
	}
}

// Rows of the CDC's table of methods and organisms, and the EPA's purifier.
func TestTreatment(t *testing.T) {
	const none, all = 0, 20_000
	for _, c := range []struct {
		method string
		want   [classes]int64
	}{
		{"filter", [classes]int64{none, none, all, all}},
		{"purifier", [classes]int64{all, all, all, all}},
		{"chlorine", [classes]int64{all, all, none, none}},
		{"iodine", [classes]int64{all, all, none, none}},
		{"chlorine-dioxide", [classes]int64{all, all, all, none}},
		{"uv", [classes]int64{all, all, all, all}},
	} {
		s := of1(t, onePack(anItem("it", 90*gram, times(2), method(c.method, 10*lit)))).Household.Supply
		if got := treatedBy(s); got != c.want {
			t.Errorf("%s: %v, want %v", c.method, got, c.want)
		}
		s = of1(t, onePack(anItem("it", 90*gram, method(c.method, 0)))).Household.Supply
		for class, got := range treatedBy(s) {
			if want := min(1, c.want[class]) * facts.NoEnd; got != want {
				t.Errorf("%s without an end: class %d %d, want %d", c.method, class, got, want)
			}
		}
	}
}

// Chlorine dioxide clears Cryptosporidium where it is given four hours.
func TestChlorineDioxideTakesTime(t *testing.T) {
	for wait, want := range map[unit.Duration]int64{4 * hour: 20_000, 4*hour - 1: 0} {
		for name, more := range map[string]int64{"chlorine-dioxide": want, "chlorine": 0} {
			s := of1(t, onePack(anItem("it", gram, method(name, 20*lit), func(it *kit.Item) { it.Treat.Value.Wait = kit.Some(wait) }))).Household.Supply
			if s.TreatCryptoML != more || s.TreatVirusesML != 20_000 {
				t.Errorf("%s, %v: %v", name, wait, treatedBy(s))
			}
		}
	}
}

func treatedBy(s facts.Supply) [classes]int64 {
	return [classes]int64{s.TreatBacteriaML, s.TreatVirusesML, s.TreatGiardiaML, s.TreatCryptoML}
}

func TestBoiling(t *testing.T) {
	pot, fuel, burner := anItem("pot", 200*gram, vessel(lit, true), method("boil", 0)), anItem("fuel", kilo, fuelled("ethanol", 312*gram)), anItem("burner", 50*gram, stove("ethanol"))
	bottle, twin, bare := anItem("bottle", 200*gram, vessel(lit, false), method("boil", 0)), anItem("twin", 200*gram, vessel(lit, true), method("boil", 5*lit)), anItem("bare", 200*gram, vessel(lit, true))
	for name, c := range map[string]struct {
		items []kit.Item
		ml    int64
		means bool
	}{
		"pot, fuel, stove":          {[]kit.Item{pot, fuel, burner}, 10001, true},
		"no vessel for a fire":      {[]kit.Item{bottle, fuel, burner}, 0, false},
		"the vessel is another":     {[]kit.Item{bottle, bare, fuel, burner}, 10001, true},
		"two pots boil once":        {[]kit.Item{pot, twin, fuel, burner}, 10001, true},
		"no fuel, no fire":          {[]kit.Item{pot, burner}, 0, false},
		"no fuel, a lighter":        {[]kit.Item{pot, burner, anItem("rod", gram, able("fire", "ferro-rod"))}, 0, false},
		"first the food is cooked":  {[]kit.Item{pot, fuel, burner, anItem("rice", kilo, eaten(kit.Food{Energy: 1, CookWater: 4 * lit}))}, 6001, true},
		"nobody said that it boils": {[]kit.Item{bare, fuel, burner}, 0, false},
	} {
		s := of1(t, onePack(slices.Clone(c.items)...)).Packs[0].Supply
		want := [classes]int64{c.ml, c.ml, c.ml, c.ml}
		if got := treatedBy(s); got != want {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
		var means []string
		for _, can := range s.Can {
			if can.Capability == kinds.CanTreatWater {
				means = can.Means
			}
		}
		if slices.Equal(means, []string{"boil"}) != c.means {
			t.Errorf("%s: means %v, want boil: %v", name, means, c.means)
		}
	}
}

func TestMethodsAddUpToNoEnd(t *testing.T) {
	s := of1(t, onePack(anItem("tabs", gram, method("chlorine", 20*lit)), anItem("straw", 60*gram, method("purifier", 0)), anItem("lamp", 60*gram, method("uv", 50*lit)))).Household.Supply
	if want := [classes]int64{facts.NoEnd, facts.NoEnd, facts.NoEnd, facts.NoEnd}; treatedBy(s) != want {
		t.Errorf("%v, want %v", treatedBy(s), want)
	}
	s = of1(t, onePack(anItem("tabs", gram, method("chlorine", 20*lit)), anItem("lamp", 60*gram, method("uv", 50*lit)))).Household.Supply
	if want := [classes]int64{70_000, 70_000, 50_000, 50_000}; treatedBy(s) != want {
		t.Errorf("%v, want %v", treatedBy(s), want)
	}
}

// Seven litres of water weigh 15.4 lb: common practice, no source.
func TestWaterWeighs(t *testing.T) {
	f := of1(t, onePack(anItem("bag", 0, holds(7*lit))))
	if got := unit.Mass(f.Packs[0].WaterMG * 1000).Pounds(); got != "15.4 lb" {
		t.Errorf("7 L weigh %s", got)
	}
}

func TestMassWithTheWaterInside(t *testing.T) {
	f := of1(t, onePack(anItem("bottle", 1150*gram, holds(lit), func(it *kit.Item) { it.MassIncludesWater, it.Weighed = true, kit.Opt[unit.Date]{} })))
	p := f.Packs[0]
	if f.Items[0].MassMG != 1_150_000 || p.WaterMG != 1_000_000 || p.BaseMG != 1_150_000 || p.UnweighedMG != 150_000 {
		t.Errorf("item %d, water %d, base %d, unweighed %d", f.Items[0].MassMG, p.WaterMG, p.BaseMG, p.UnweighedMG)
	}
}

// Packaging and the empty canister are base mass, what is in them is not.
func TestBaseMass(t *testing.T) {
	f := of1(t, onePack(
		anItem("bar", 100*gram, times(3), eaten(kit.Food{NetMass: kit.Some(95 * gram)})),
		anItem("rice", 200*gram, eaten(kit.Food{})),
		anItem("canister", 190*gram, fuelled("gas-mix", 100*gram)),
		anItem("dogfood", 400*gram, eaten(kit.Food{For: "rex", NetMass: kit.Some(390 * gram)})),
	))
	if got := f.Packs[0].BaseMG; got != 1_000_000+15_000+90_000+10_000 {
		t.Errorf("base mass %d", got)
	}
}

// 15 % of 190 lb is 28.5 lb.
func TestShareOfBodyMass(t *testing.T) {
	h := onePack()
	h.People[0].BodyMass, h.Packs[0].Mass = mass("190 lb"), mass("28.5 lb")
	h.People[0].Cap = kit.Some(kit.CapOverride{Share: 123_999, Reason: "knee"})
	f, l := Of(h, Options{On: audit})
	c := f.Carriers[0]
	if c.ShareP != 150 || !c.CapKnown || c.CapP != 123 || c.CapID != "people/ana/cap" {
		t.Errorf("carrier %+v", c)
	}
	if e, _ := l.Entry("people/ana/load-share"); e.AmountText() != "15 %" {
		t.Errorf("share %q, want 15 %%", e.AmountText())
	}
	if e, _ := l.Entry("people/ana/cap"); e.AmountText() != "12.4 %" || e.Account != "knee" {
		t.Errorf("cap %+v", e)
	}
}

func TestWhoIsACarrier(t *testing.T) {
	h := onePack()
	h.People = append(h.People, kit.Person{Key: "baby", Name: "Baby", Age: years(1), BodyMass: 9 * kilo}, kit.Person{Key: "zoe", Name: "Zoe", Age: years(30), BodyMass: 60 * kilo, Carries: true})
	h.People[0].Carries = false // and carries all the same
	h.Animals = []kit.Animal{{Key: "aro", Name: "Aro", Species: "dog", BodyMass: 20 * kilo, Carries: true}, {Key: "mau", Name: "Mau", Species: "cat", BodyMass: 5 * kilo}}
	var got []string
	for _, c := range of1(t, spotted(h)).Carriers {
		got = append(got, fmt.Sprint(c.ID, " ", c.Carries, " ", c.LoadMG))
	}
	if d := cmp.Diff([]string{"people/ana false 1000000", "people/zoe true 0", "animals/aro true 0"}, got); d != "" {
		t.Error(d)
	}
}

func TestUnweighed(t *testing.T) {
	guess := func(it *kit.Item) { it.Estimated = true }
	never := func(it *kit.Item) { it.Weighed = kit.Opt[unit.Date]{} }
	h := onePack(anItem("a", 20*gram, guess), anItem("b", 50*gram, never, times(2)), anItem("c", 20*gram, never), anItem("d", 90*gram), anItem("e", 90*gram, never, times(0)))
	h.Packs[0].MassWeighed = kit.Opt[unit.Date]{}
	p := of1(t, h).Packs[0]
	const at = "packs/rust/compartments/main/items/"
	if d := cmp.Diff([]string{"packs/rust/empty-mass", at + "b", at + "a", at + "c"}, p.Unweighed); d != "" || p.UnweighedMG != 1_140_000 {
		t.Errorf("unweighed %d mg\n%s", p.UnweighedMG, d)
	}
}

func TestQuickShedCountsNothingTwice(t *testing.T) {
	quick := func(it *kit.Item) { it.QuickShed = true }
	h := onePack(anItem("tent", 2*kilo, quick), anItem("rope", kilo))
	h.Packs[0].Compartments = append(h.Packs[0].Compartments, kit.Compartment{
		Key: "side", Name: "Side", Mass: kit.Some(100 * gram), QuickShed: true, Items: []kit.Item{anItem("bag", 500*gram, quick), anItem("tarp", 400*gram)},
	})
	f := of1(t, spotted(h))
	want := []string{"packs/rust/compartments/main/items/tent", "packs/rust/compartments/side"}
	if d := cmp.Diff(want, f.Carriers[0].QuickIDs); d != "" || f.Carriers[0].QuickMG != 3_000_000 || f.Packs[0].QuickMG != 3_000_000 {
		t.Errorf("quick %d, pack %d\n%s", f.Carriers[0].QuickMG, f.Packs[0].QuickMG, d)
	}
	for _, it := range f.Items {
		if want := it.Name != "rope"; it.QuickShed != want {
			t.Errorf("%s: quick %v, want %v", it.Name, it.QuickShed, want)
		}
	}
}

func TestMeansOfFire(t *testing.T) {
	h := onePack(anItem("a", gram, able("fire", "gas-lighter")), anItem("b", gram, able("fire", "gas-lighter"), times(2)), anItem("none", gram, able("fire", "lens"), times(0)))
	h.People[0].OnBody = []kit.Item{anItem("rod", gram, able("fire", "ferro-rod"))}
	h.People = append(h.People, kit.Person{Key: "ben", Name: "Ben", Age: years(40), BodyMass: 80 * kilo})
	f := of1(t, spotted(h))
	const at = "packs/rust/compartments/main/items/"
	if d := cmp.Diff([]facts.Can{{ID: "packs/rust/supply/can/fire", Capability: "fire", Means: []string{"gas-lighter"}, MeansCount: 1, Items: []string{at + "a", at + "b"}}}, f.Packs[0].Supply.Can); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]facts.Can{{ID: "people/ana/alone/can/fire", Capability: "fire", Means: []string{"ferro-rod", "gas-lighter"}, MeansCount: 2, Items: []string{at + "a", at + "b", "people/ana/onBody/rod"}}}, f.People[0].Alone.Can); d != "" {
		t.Error(d)
	}
	if len(f.People[1].Alone.Can) != 0 {
		t.Errorf("ben alone can %v", f.People[1].Alone.Can)
	}
}

func TestFirstAidContents(t *testing.T) {
	kind := func(k string, n int64) func(*kit.Item) {
		return func(it *kit.Item) { it.FirstAid = append(it.FirstAid, kit.FirstAid{Kind: k, Count: n}) }
	}
	f := of1(t, onePack(anItem("kit", 200*gram, times(2), kind("tape", 1), kind("plasters", 10)), anItem("pouch", gram, kind("plasters", 5), kind("guide", 0))))
	if d := cmp.Diff([]facts.Content{{Kind: "plasters", Count: 25}, {Kind: "tape", Count: 2}}, f.Household.Supply.FirstAid); d != "" {
		t.Error(d)
	}
}

func TestFoodForAnAnimalIsNotForPeople(t *testing.T) {
	h := onePack(
		anItem("bar", 100*gram, eaten(kit.Food{Energy: 1000, Protein: kit.Some(5 * gram)})),
		anItem("stew", 100*gram, eaten(kit.Food{Energy: 2000, Cook: true, CookWater: lit / 4, For: "ana"})),
		anItem("kibble", 100*gram, times(2), eaten(kit.Food{Energy: 4000, For: "rex"})),
	)
	h.Animals = []kit.Animal{{Key: "rex", Name: "Rex", Species: "dog", BodyMass: 24 * kilo}}
	f := of1(t, spotted(h))
	s := f.Household.Supply
	if s.FoodEnergyJ != 3000 || s.NoCookEnergyJ != 1000 || s.CookWaterML != 250 || s.ProteinMG != 5000 || s.FoodMassMG != 200_000 || f.Animals[0].FoodJ != 8000 || f.Household.AnimalFoodJ != 8000 {
		t.Errorf("supply %+v, animal %+v", s, f.Animals[0])
	}
}

// Printed or computed values: FAO/WHO/UNU 2001 §5.4.1 (women 20 to 30 y, 55 kg,
// 1302 kcal), the reference table of Schofield, Mifflin's rounded form.
func TestRestingEnergy(t *testing.T) {
	tall := func(cm int64) kit.Opt[unit.Length] { return kit.Some(unit.Length(cm * 10_000)) }
	for _, c := range []struct {
		years  int64
		sex    string
		kg     unit.Mass
		height kit.Opt[unit.Length]
		kcal   float64
		by     string
	}{
		{25, "female", 55, kit.Opt[unit.Length]{}, 1301.59, bySchofield},
		{9, "male", 25, kit.Opt[unit.Length]{}, 1071.95, bySchofield},
		{9, "female", 25, kit.Opt[unit.Length]{}, 993.775, bySchofield},
		{9, "", 25, kit.Opt[unit.Length]{}, 1032.8625, bySchofieldBoth},
		{12, "male", 50, tall(150), 1542.5, bySchofield},
		{12, "female", 50, kit.Opt[unit.Length]{}, 1361.8, bySchofield},
		{45, "male", 80, kit.Opt[unit.Length]{}, 1790.86, bySchofield},
		{45, "female", 80, kit.Opt[unit.Length]{}, 1495.68, bySchofield},
		{45, "", 80, tall(180), 1643.27, bySchofieldBoth},
		{70, "male", 80, kit.Opt[unit.Length]{}, 1524.58, bySchofield},
		{2, "male", 12, kit.Opt[unit.Length]{}, 683.744, bySchofield},
		{25, "female", 68, tall(178), 1506.5, byMifflin},
		{30, "male", 80, tall(180), 1780, byMifflin},
		{18, "male", 80, tall(180), 1896.76, bySchofield},
	} {
		j, by := restEnergy(c.years*12, true, c.sex, c.kg*kilo, c.height)
		if want := unit.Energy(math.Round(c.kcal * 4184)); j != want || by != c.by {
			t.Errorf("%d y, %q, %d kg: %d J by %s, want %d J by %s", c.years, c.sex, c.kg, j, by, want, c.by)
		}
	}
	if j, _ := restEnergy(0, true, "male", 400*gram, kit.Opt[unit.Length]{}); j != 0 {
		t.Errorf("a body outside the formula's range takes %d J, want 0", j)
	}
	if j, by := restEnergy(0, false, "male", 80*kilo, tall(180)); j != 7_492_958 || by != bySchofield {
		t.Errorf("age unknown: %d J by %s", j, by)
	}
}

// 70·kg^0.75 by the reference table, in kcal.
func TestPetEnergy(t *testing.T) {
	for kg, want := range map[unit.Mass]float64{2: 117.7, 4: 198.0, 5: 234.1, 10: 393.6, 15: 533.5, 20: 662.0, 25: 782.6, 30: 897.3, 45: 1216.2} {
		if got := float64(petEnergy(kg*kilo, 1)) / 4184; math.Abs(got-want) > 0.05 {
			t.Errorf("%d kg: %.2f kcal, want %.1f", kg, got, want)
		}
	}
}

// A 24 lb neutered dog: 671 ml; a 10 kg dog 630 ml; a 5 kg cat 280 ml (reference,
// section on pets: 24 lb is taken for 10.884 kg there).
func TestPetNeeds(t *testing.T) {
	for _, c := range []struct {
		species  string
		body     unit.Mass
		neutered bool
		ml       int64
		kcal     int64
	}{
		{"dog", 10_884 * gram, true, 671, 671}, {"dog", 10 * kilo, true, 630, 630}, {"cat", 5 * kilo, true, 281, 281},
		{"dog", 10 * kilo, false, 709, 709}, {"cat", 5 * kilo, false, 328, 328}, {"horse", 500 * kilo, false, 25_000, 7402},
	} {
		h := onePack()
		h.Animals = []kit.Animal{{Key: "pet", Name: "Pet", Species: c.species, BodyMass: c.body, Neutered: c.neutered}}
		a := of1(t, spotted(h)).Animals[0]
		if a.NeedML != c.ml || (a.NeedJ+2092)/4184 != c.kcal {
			t.Errorf("%s of %s: %d ml, %d kcal, want %d, %d", c.species, c.body, a.NeedML, (a.NeedJ+2092)/4184, c.ml, c.kcal)
		}
	}
	for _, c := range []struct {
		species string
		born    string
		kcal    int64 // of 10 kg; the resting requirement is 393.6
	}{{"dog", "2026-02-01", 1181}, {"dog", "2026-01-01", 787}, {"dog", "2025-05-01", 709}, {"cat", "2025-05-02", 984}, {"cat", "2025-05-01", 551}} {
		h := onePack()
		h.Animals = []kit.Animal{{Key: "pet", Name: "Pet", Species: c.species, BodyMass: 10 * kilo, Born: day(c.born)}}
		if a := of1(t, spotted(h)).Animals[0]; (a.NeedJ+2092)/4184 != c.kcal {
			t.Errorf("%s born %s: %d kcal, want %d", c.species, c.born, (a.NeedJ+2092)/4184, c.kcal)
		}
	}
	h := onePack()
	h.Animals = []kit.Animal{{Key: "pet", Name: "Pet", Species: "dog", BodyMass: 10 * kilo, Energy: kit.Some(unit.Energy(900 * 4184)), Water: kit.Some(lit)}}
	f := of1(t, spotted(h))
	if a := f.Animals[0]; a.NeedJ != 900*4184 || a.NeedML != 1000 || f.Household.AnimalNeedJ != 900*4184 || f.Household.AnimalNeedML != 1000 {
		t.Errorf("what the family wrote is not used: %+v", a)
	}
}

// 20 km with 1600 m of climb: 6 h 40 min by 5 km/h and 600 m an hour.
func TestWalkingTime(t *testing.T) {
	h := onePack()
	h.Plan.Legs = []kit.Leg{{Key: "one", Order: 1, Distance: 20 * km, Climb: km * 16 / 10}}
	if f := of1(t, spotted(h)); f.Household.WalkMin != 400 || f.Plan.Legs[0].WalkMin != 400 || f.Plan.DistanceMM != 20_000_000 || f.Plan.ClimbMM != 1_600_000 {
		t.Errorf("walk %d min, want 400; %+v", f.Household.WalkMin, f.Plan)
	}
	// Three legs of 10 min 20 s each: rounded once, not thrice.
	h.Plan.Legs = nil
	for i := range int64(3) {
		h.Plan.Legs = append(h.Plan.Legs, kit.Leg{Key: fmt.Sprint("l", i), Order: i, Distance: km, Pace: kit.Some(unit.Duration(620))})
	}
	if f := of1(t, spotted(h)); f.Household.WalkMin != 31 || f.Plan.Legs[2].WalkMin != 10 {
		t.Errorf("walk %d min, want 31; one leg %d, want 10", f.Household.WalkMin, f.Plan.Legs[2].WalkMin)
	}
}

// 0.5 L/h × 43.2 mmol/L × 22.99 mg/mmol = 496.584 mg an hour for each walker.
func TestSweatSodium(t *testing.T) {
	for _, c := range []struct {
		day  unit.Temperature
		want int64
	}{{24_999, 0}, {25_000, 1986}, {35_000, 1986}} {
		h := onePack()
		h.People = append(h.People, kit.Person{Key: "kid", Age: years(9), BodyMass: 30 * kilo}, kit.Person{Key: "tot", Age: years(2), BodyMass: 12 * kilo})
		h.Plan.Season, h.Plan.Seasons = "now", []kit.Season{{Key: "now", Day: c.day}}
		h.Plan.Legs = []kit.Leg{{Key: "one", Order: 1, Distance: 10 * km}}
		if got := of1(t, spotted(h)).Household.SweatMG; got != c.want {
			t.Errorf("at %s: %d mg, want %d (two walkers, two hours)", c.day, got, c.want)
		}
	}
}

func TestSeasonAndDarkness(t *testing.T) {
	h := onePack()
	h.Plan = kit.Plan{
		Duration: 72 * hour, DurationSet: true, Season: "winter",
		Seasons: []kit.Season{{Key: "summer", Day: 30_000, Daylight: 16 * hour, DaylightSet: true}, {Key: "winter", Day: 1000, Night: -8000, Daylight: 9*hour + 1800, DaylightSet: true, Humidity: kit.Some(unit.Share(600_000))}},
	}
	spotted(h)
	p := of1(t, h).Plan
	if p.Season != "winter" || !p.SeasonKnown || p.NightMC != -8000 || p.Humidity != 600 || !p.HumidityKnown || p.DarkMin != 870 || p.DarkTotal != 2610 || p.Minutes != 4320 {
		t.Errorf("winter: %+v", p)
	}
	f, l := Of(h, Options{On: audit, Season: "summer"})
	if p := f.Plan; p.Season != "summer" || p.DarkMin != 480 || p.DarkTotal != 1440 {
		t.Errorf("summer: %+v", p)
	}
	if e, _ := l.Entry("plan/dark"); e.AmountText() != "8 h" || e.Spots[0] != "plan/seasons/summer/daylight" {
		t.Errorf("plan/dark: %+v", e)
	}
	h.Plan.Duration = 36 * hour
	if p := of1(t, h).Plan; p.DarkTotal != 1305 {
		t.Errorf("36 h hold %d dark minutes, want 1305", p.DarkTotal)
	}
	h.Plan.Season = ""
	if p := of1(t, h).Plan; p.SeasonKnown || p.DarkTotal != 0 {
		t.Errorf("no season: %+v", p)
	}
}

// A meeting point's height counts where the family wrote it; none is no sea level.
func TestMeetingPlaces(t *testing.T) {
	f, l := Of(family(1), Options{On: audit})
	want := []facts.Place{{ID: "plan/meetingPoints/hill", Key: "hill", AltitudeKnown: true, AltitudeMM: 235_000, SafeFrom: []string{}}, {ID: "plan/meetingPoints/school", Key: "school", SafeFrom: []string{}}}
	if diff := cmp.Diff(want, f.Plan.Places); diff != "" {
		t.Error(diff)
	}
	if e, ok := l.Entry("plan/meetingPoints/hill/altitude"); !ok || e.AmountText() != "235 m" {
		t.Errorf("the ledger says %+v", e)
	}
	if _, ok := l.Entry("plan/meetingPoints/school/altitude"); ok {
		t.Error("the ledger holds a height that nobody wrote")
	}
}

// Saint John's shortest day of 2000 and its first of June, within what the model may be out: see
// the published table beside body.Daylight.
func TestDaylightFromLatitude(t *testing.T) {
	h := onePack()
	h.Plan = kit.Plan{
		Duration: 24 * hour, DurationSet: true, Season: "summer", Latitude: kit.Some(unit.Latitude(45_317)),
		Seasons: []kit.Season{
			{Key: "summer", Day: 20_000, Date: day("2000-06-01")}, {Key: "now", Day: 9000},
			{Key: "written", Day: 1000, Daylight: 9 * hour, DaylightSet: true, Date: day("2000-06-01")},
		},
	}
	spotted(h)
	minutes := func(l *facts.Ledger, key string) int64 {
		e, ok := l.Entry("plan/seasons/" + key + "/daylight")
		if !ok {
			t.Fatal("no entry for the daylight of ", key)
		}
		return e.Amount.Value / 60
	}
	on := day("2000-12-01").Value
	f, l := Of(h, Options{On: on})
	if got := minutes(l, "summer"); got < 15*60+26-3 || got > 15*60+26+3 || f.Plan.DarkMin != 24*60-got || f.Plan.DarkTotal != f.Plan.DarkMin {
		t.Errorf("on the first of June %d min of light, %d of darkness, want 926 within 3 and the rest of the day", got, f.Plan.DarkMin)
	}
	if got := minutes(l, "now"); got < 8*60+59-3 || got > 8*60+59+3 {
		t.Errorf("on the audit date %d min of light, want 539 within 3", got)
	}
	if got := minutes(l, "written"); got != 540 {
		t.Errorf("written: %d min, want 540", got)
	}
	for id, parts := range map[string][]string{
		"plan/seasons/summer/daylight":  {"Forsythe", "for 45.317 N on 2000-06-01, the day of the season"},
		"plan/seasons/now/daylight":     {"Forsythe", "for 45.317 N on 2000-12-01, the audit date"},
		"plan/dark":                     {"24 h less the daylight", "Forsythe", "45.317 N"},
		"plan/dark-total":               {"Forsythe", "by the share of days"},
		"plan/seasons/written/daylight": {""},
	} {
		e, _ := l.Entry(id)
		for _, part := range parts {
			if !strings.Contains(e.Account, part) || part == "" && e.Account != "" {
				t.Errorf("%s: account %q, want %q in it", id, e.Account, part)
			}
		}
	}
	e, _ := l.Entry("plan/seasons/summer/daylight")
	var from []string
	for _, in := range e.Inputs {
		from = append(from, in.Label+" "+in.AmountText())
	}
	if d := cmp.Diff([]string{"typical day of summer 2000-06-01", "latitude 45.317 N"}, from); d != "" {
		t.Error(d)
	}
	f, _ = Of(h, Options{On: on, Season: "written"})
	if f.Plan.DarkMin != 15*60 {
		t.Errorf("written: %d dark minutes, want 900", f.Plan.DarkMin)
	}
	h.Plan.Latitude = kit.Opt[unit.Latitude]{}
	if f := of1(t, h); f.Plan.DarkMin != 24*60 {
		t.Errorf("neither daylight nor latitude: %d dark minutes, want the whole day", f.Plan.DarkMin)
	}
}

func TestAges(t *testing.T) {
	h := onePack()
	h.People = []kit.Person{
		{Key: "a", Born: day("2008-05-01"), BodyMass: kilo}, {Key: "b", Born: day("2008-05-02"), BodyMass: kilo}, {Key: "c", Age: years(18), BodyMass: kilo}, {Key: "d", BodyMass: kilo},
	}
	h.Packs = nil
	f := of1(t, spotted(h))
	var got []string
	for _, p := range f.People {
		got = append(got, fmt.Sprint(p.Key, " ", p.AgeMonths, " ", p.Adult))
	}
	if d := cmp.Diff([]string{"a 216 true", "b 215 false", "c 216 true", "d 0 true"}, got); d != "" || f.Household.AdultCount != 3 || f.Household.ChildCount != 1 {
		t.Errorf("adults %d, children %d\n%s", f.Household.AdultCount, f.Household.ChildCount, d)
	}
}

func TestMedications(t *testing.T) {
	expired := func(it *kit.Item) { it.Expires = kit.Some(audit - 1) }
	today := func(it *kit.Item) { it.Expires = kit.Some(audit) }
	h := onePack(
		anItem("box", 20*gram, times(2), supplyOf("ana", "pill", 7000), today),
		anItem("old", 20*gram, supplyOf("ana", "pill", 14_000), expired),
		anItem("other", 20*gram, supplyOf("ben", "pill", 99_000)),
	)
	h.People[0].Medications = []kit.Medication{{Key: "pill", Name: "Pill", PerDay: 1500}, {Key: "spray", Name: "Spray", AsNeeded: true}}
	h.People = append(h.People, kit.Person{
		Key: "ben", Name: "Ben", Age: years(40), BodyMass: 80 * kilo, Medications: []kit.Medication{{Key: "pill", Name: "Pill", PerDay: 1000}},
		OnBody: []kit.Item{anItem("tin", 5*gram, supplyOf("ana", "pill", 500))},
	})
	f := of1(t, spotted(h))
	const at = "packs/rust/compartments/main/items/"
	want := []facts.Medication{
		{ID: "people/ana/medications/pill", Name: "Pill", Person: "people/ana", PersonKey: "ana", PersonName: "Ana", PersonPacks: 1, PerDayMilli: 1500, DosesMilli: 28_500, UsableMilli: 14_500, OwnMilli: 28_000, OwnUsableMilli: 14_000, PeopleUsableMilli: 14_500, DaysMilli: 9666, Items: []string{at + "box", at + "old", "people/ben/onBody/tin"}},
		{ID: "people/ana/medications/spray", Name: "Spray", Person: "people/ana", PersonKey: "ana", PersonName: "Ana", PersonPacks: 1, AsNeeded: true, Items: []string{}},
		{ID: "people/ben/medications/pill", Name: "Pill", Person: "people/ben", PersonKey: "ben", PersonName: "Ben", PerDayMilli: 1000, DosesMilli: 99_000, UsableMilli: 99_000, PeopleUsableMilli: 99_000, DaysMilli: 99_000, Items: []string{at + "other"}},
	}
	if d := cmp.Diff(want, f.Medications); d != "" {
		t.Error(d)
	}
}

func TestDates(t *testing.T) {
	opened := func(on string, days int64) func(*kit.Item) {
		return func(it *kit.Item) {
			it.Opened, it.OpenedLife = day(on), kit.Some(unit.Duration(days)*24*hour)
		}
	}
	until := func(s string) func(*kit.Item) { return func(it *kit.Item) { it.Expires = day(s) } }
	warm := func(s string) func(*kit.Item) { return func(it *kit.Item) { it.OutOfCold = day(s) } }
	h := onePack(
		anItem("bar", gram, until("2026-04-30"), func(it *kit.Item) { it.Rotate = day("2026-05-01") }),
		anItem("drops", gram, opened("2026-04-01", 28), until("2027-01-01")),
		anItem("gel", gram, opened("2026-04-01", 90), until("2026-05-02")),
		anItem("lard", gram, warm("2026-01-01")),
		anItem("pen", gram, warm("2026-04-03"), supplyOf("ana", "insulin", 1000)),
		anItem("vial", gram, warm("2026-04-03"), supplyOf("ana", "eye", 1000)),
		anItem("gone", gram, until("2026-01-01"), times(0)),
		anItem("jar", gram, func(it *kit.Item) { it.Opened = day("2020-01-01") }),
	)
	h.People[0].Medications = []kit.Medication{{Key: "eye", ColdChain: true, PerDay: 1000, ColdLife: kit.Some(10 * 24 * hour)}, {Key: "insulin", ColdChain: true, PerDay: 1000}}
	h.People[0].Licences = []kit.Licence{{Key: "hill", Service: "gmrs", Until: day("2026-04-30")}, {Key: "sea", Service: "marine", Until: day("2026-05-01")}, {Key: "life", Service: "amateur"}}
	f := of1(t, spotted(h))
	var got []string
	for _, d := range f.Dates {
		got = append(got, fmt.Sprint(strings.TrimPrefix(d.ID, "packs/rust/compartments/main/items/"), " ", d.Kind, " ", d.On, " ", d.Left, " ", d.Medicine))
	}
	if d := cmp.Diff([]string{
		"bar/expires expires 2026-04-30 -1 false",
		"bar/rotate rotate 2026-05-01 0 false",
		"drops/expires expires 2027-01-01 245 false",
		"drops/opened opened 2026-04-29 -2 false",
		"gel/expires expires 2026-05-02 1 false",
		"gel/opened opened 2026-05-02 1 false",
		"pen/outOfCold out-of-cold 2026-05-01 0 true",
		"vial/outOfCold out-of-cold 2026-04-13 -18 true",
		"people/ana/licences/hill/until licence 2026-04-30 -1 false",
		"people/ana/licences/sea/until licence 2026-05-01 0 false",
	}, got); d != "" {
		t.Error(d)
	}
	usable := map[string]int64{}
	for _, m := range f.Medications {
		usable[m.ID] = m.UsableMilli
	}
	if d := cmp.Diff(map[string]int64{"people/ana/medications/eye": 0, "people/ana/medications/insulin": 1000}, usable); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]string{"amateur", "marine"}, f.People[0].Licences); d != "" {
		t.Error(d)
	}
}

func TestSpareCellsAreSharedOut(t *testing.T) {
	const at = "packs/rust/compartments/main/items/"
	for name, c := range map[string]struct {
		spares int64
		want   map[string]int64 // minutes
	}{
		"none":                    {0, map[string]int64{"a": 600, "b": 1200}},
		"one round":               {4, map[string]int64{"a": 1200, "b": 2400}},
		"the first by id":         {3, map[string]int64{"a": 1200, "b": 1200}},
		"two rounds and a bit":    {11, map[string]int64{"a": 2400, "b": 3600}},
		"small change to a small": {2, map[string]int64{"a": 600, "b": 3600}},
	} {
		h := onePack(anItem("b", gram, fed("AA", 1, 20*hour)), anItem("a", gram, able("light", "headlamp"), fed("AA", 3, 10*hour)), anItem("spares", gram, spare("AA", c.spares)), anItem("wrong", gram, spare("AAA", 50)))
		if c.spares == 0 {
			h.Packs[0].Compartments[0].Items[2].Count = 0
		}
		f := of1(t, h)
		got := map[string]int64{}
		for _, d := range f.Devices {
			got[strings.TrimPrefix(d.ID, at)] = d.RunTotalMin
			if d.SpareCells != c.spares || d.Light != (d.Name == "a") || !d.RunKnown {
				t.Errorf("%s: %+v", name, d)
			}
		}
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
}

func TestCellsOfOthersDoNotCount(t *testing.T) {
	h := onePack(anItem("lamp", gram, fed("AA", 1, hour)))
	h.People = append(h.People, kit.Person{Key: "ben", Name: "Ben", Age: years(40), BodyMass: 80 * kilo, OnBody: []kit.Item{anItem("cells", gram, spare("AA", 8))}})
	f := of1(t, spotted(h))
	if d := f.Devices[0]; d.SpareCells != 0 || d.RunTotalMin != 60 {
		t.Errorf("device %+v", d)
	}
	if c := f.Cells[0]; c.FitDevices != 1 || c.Carrier != "people/ben" || c.Pack != "" {
		t.Errorf("cells %+v", c)
	}
}

func TestPowerBank(t *testing.T) {
	built := func(it *kit.Item) {
		it.Device = kit.Some(kit.Device{Size: "18650", Cells: 1, BuiltIn: true, RunTime: kit.Some(5 * hour)})
	}
	bank := func(it *kit.Item) {
		it.Cells = kit.Some(kit.Cells{Size: "usb", Chemistry: "lithium-ion", Cells: 1, Energy: kit.Some(unit.Energy(37 * 3600))})
	}
	f := of1(t, onePack(anItem("lamp", gram, built), anItem("phone", gram, fed("usb", 1, 20*hour)), anItem("bank", gram, times(2), bank), anItem("loose", gram, spare("18650", 3))))
	for _, d := range f.Devices {
		if d.SpareCells != 2 || d.CellsNeeded != 0 || d.RunTotalMin != d.RunMin {
			t.Errorf("device %+v", d)
		}
	}
	for _, c := range f.Cells {
		want := map[string]int64{"bank": 2, "loose": 0}[c.Name]
		if c.FitDevices != want {
			t.Errorf("%s fits %d devices, want %d", c.Name, c.FitDevices, want)
		}
		if c.Name == "bank" && c.EnergyMWH != 74_000 {
			t.Errorf("two banks of 37 Wh hold %d mWh", c.EnergyMWH)
		}
	}
}

// Energies of the reference table: 2500 mAh alkaline AA 3.75 Wh, 3000 mAh
// lithium AA 4.5 Wh, 2000 mAh NiMH AA 2.4 Wh, 1100 mAh lithium AAA 1.65 Wh.
func TestEnergyOfCells(t *testing.T) {
	for _, c := range []struct {
		size, chemistry string
		mah             unit.Charge
		mwh             int64
	}{
		{"AA", "alkaline", 2500, 3750}, {"AA", "lithium", 3000, 4500}, {"AA", "nimh", 2000, 2400}, {"AAA", "lithium", 1100, 1650},
		{"CR123A", "lithium", 1500, 4500}, {"18650", "lithium-ion", 3000, 11_100}, {"9V", "alkaline", 500, 4500}, {"9V", "nimh", 200, 1680}, {"CR2032", "silver-oxide", 100, 155}, {"D", "lithium", 100, 0},
	} {
		cells := kit.Cells{Size: c.size, Chemistry: c.chemistry, Cells: 2, Capacity: kit.Some(c.mah * 1000)}
		if got := energyOf(&cells, 3); got != 6*c.mwh {
			t.Errorf("6 × %d mAh %s %s: %d mWh, want %d", c.mah, c.chemistry, c.size, got, 6*c.mwh)
		}
	}
}

func TestNamesThatLeadNowhere(t *testing.T) {
	h := onePack(anItem("a", gram, supplyOf("nobody", "pill", 1000), eaten(kit.Food{Energy: 10, For: "nobody"}), func(it *kit.Item) { it.Owner = "nobody" }))
	h.Packs[0].Carrier = "nobody"
	f, l := Of(h, Options{On: audit})
	if f.Packs[0].Carrier != "" || f.Items[0].Owner != "" || f.Medicines[0].Medication != "" || f.Medicines[0].Person != "" || f.Foods[0].For != "" || f.Household.Supply.FoodEnergyJ != 10 || f.Household.LoadMG != 1_001_000 || f.Carriers[0].LoadMG != 0 {
		t.Errorf("pack %+v, item %+v", f.Packs[0], f.Items[0])
	}
	if _, ok := l.Entry("packs/rust/mass"); !ok {
		t.Error("the pack's mass has no entry")
	}
}
