package measure

import (
	"slices"
	"strings"
	"testing"

	"kitmuster/lint/facts"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// What is not written counts neither as nothing nor as fine: sums say "at least", and what is unknown is named.
func TestUnknownAmounts(t *testing.T) {
	const at = "packs/rust/compartments/main/items/"
	unweighed := func(it *kit.Item) { it.MassUnknown, it.Weighed = true, kit.Opt[unit.Date]{} }
	h := onePack(
		anItem("bar", 100*gram, eaten(kit.Food{Energy: 2000, NetMass: kit.Some(90 * gram)})),
		anItem("rice", 0, unweighed, eaten(kit.Food{EnergyUnknown: true, NetMass: kit.Some(500 * gram)})),
		anItem("bottle", 0, unweighed, holds(lit), func(it *kit.Item) {
			it.Container = kit.Some(kit.Container{CapacityUnknown: true, FireSafe: true})
			it.MassIncludesWater = true
		}),
		anItem("gas", 0, unweighed, func(it *kit.Item) { it.Fuel = kit.Some(kit.Fuel{Kind: "butane", MassUnknown: true}) }),
		anItem("lamp", 80*gram, able("light", "headlamp"), fed("", 3, hour)),
		anItem("aid", 90*gram, able("first_aid", "kit")),
		anItem("stew", 10*gram, eaten(kit.Food{EnergyUnknown: true}), func(it *kit.Item) { it.Unread = []string{"food/energy", "can/fire", "colour"} }),
		anItem("cells", 20*gram, spare("AAA", 3)),
		anItem("none", 0, unweighed, times(0), eaten(kit.Food{EnergyUnknown: true})),
	)
	h.People[0].BodyMass, h.People[0].BodyMassUnknown, h.People[0].Sex = 0, true, "male"
	f, l := Of(spotted(h), Options{On: audit})

	if h.People[0].BodyMass != 0 {
		t.Error("the household was changed")
	}
	var said []string
	for _, u := range f.Unrecorded {
		said = append(said, strings.TrimPrefix(u.ID, at)+" "+u.What+" "+strings.Join(u.May, ","))
	}
	if want := []string{"aid/can/first_aid list of contents first-aid-contents", "bottle/container capacity container", "gas/fuel mass of the fuel fuel", "lamp/device cell size cells", "rice/food energy food", "stew unreadable fire,food"}; !slices.Equal(said, want) {
		t.Errorf("not recorded: %q, want %q", said, want)
	}
	p, s := f.Packs[0], f.Packs[0].Supply
	// The empty pack of 1 kg, bar, lamp and cells, the water, and the rice without its packaging.
	if p.MassKnown || p.MassMG != 2_800_000 || p.UnweighedMG != 500_000 || !slices.Equal(p.NoMass, []facts.Named{{ID: at + "bottle", Name: "bottle"}, {ID: at + "gas", Name: "gas"}, {ID: at + "rice", Name: "rice"}}) {
		t.Errorf("pack: %t, %d mg, %d mg unweighed, no mass of %v", p.MassKnown, p.MassMG, p.UnweighedMG, p.NoMass)
	}
	if s.FoodEnergyKnown || s.ContainerKnown || s.FuelKnown || s.ContainerML != 1000 || s.FireSafeML != 1000 || s.FoodEnergyJ != 2000 {
		t.Errorf("supply: %+v", s)
	}
	if f.Household.MassKnown || f.Carriers[0].LoadKnown || f.Compartments[0].MassKnown {
		t.Error("a sum of unknown masses is said to be known")
	}
	if c := f.Carriers[0]; c.BodyMassKnown || c.BodyMassMG != 70_000_000 || f.People[0].BodyMassKnown || f.People[0].BodyMassMG != 70_000_000 {
		t.Errorf("body mass: %+v", c)
	}
	for _, c := range f.Cells {
		if c.FitDevices != 1 {
			t.Errorf("cells fit %d devices", c.FitDevices)
		}
	}
	for id, want := range map[string]string{
		"packs/rust/mass":               "at least 2.80 kg",
		"people/ana/load":               "at least 2.80 kg",
		"household/mass":                "at least 2.80 kg",
		"packs/rust/supply/containers":  "at least 1 L",
		"packs/rust/supply/food-energy": "at least 0.48 kcal",
		at + "gas/fuel/mass":            "mass not recorded",
		at + "rice/mass":                "mass not recorded",
		"packs/rust/supply/food-mass":   "600 g",
		"packs/rust/compartments/main":  "at least 1.80 kg",
		"packs/rust/empty-mass":         "1.00 kg",
		"packs/rust/supply/boilable":    "0 ml",
	} {
		if e, ok := l.Entry(id); !ok || e.AmountText() != want {
			t.Errorf("%s: %q, want %q", id, e.AmountText(), want)
		}
	}
}

// A suggestion names the one animal or infant that food may be for; where there are several, or none, that is left open.
func TestMeant(t *testing.T) {
	named := func(key, name string) kit.Item {
		return anItem(key, gram, func(it *kit.Item) { it.Name, it.Key = name, key })
	}
	h := onePack(named("a", "dog food"), named("b", "cat food"), named("c", "pet food"), named("d", "baby food"), named("e", "bottle"), named("cash", "for the bus"))
	said := func() (out []string) {
		f, _ := Of(spotted(h), Options{On: audit})
		for _, u := range f.Unrecorded {
			out = append(out, u.Write+" "+strings.Join(u.May, ","))
			if (u.Name == "bottle") != (u.Ask != "") {
				t.Errorf("%s asks %q", u.Name, u.Ask)
			}
		}
		return out
	}
	check := func(want ...string) {
		t.Helper()
		want = append(slices.Clone(want), `container: capacity: "…", water: "…" container`, `cash: amount: "…" cash`)
		if got := said(); !slices.Equal(sorted(got), sorted(want)) {
			t.Errorf("said %q, want %q", got, want)
		}
	}
	open := `food: for: "…" animal-food`
	check(open, open, open, `food: for: "…" food`)
	h.Animals = []kit.Animal{{Key: "rex", Name: "Rex", Species: "dog", BodyMass: 20 * kilo}}
	h.People = append(h.People, kit.Person{Key: "pip", Name: "Pip", Born: day("2023-05-02")})
	check(`food: for: "rex" animal-food`, open, `food: for: "rex" animal-food`, `food: for: "pip" food`)
	h.People[1].Born = day("2023-05-01") // three years before the audit
	h.Animals = append(h.Animals, kit.Animal{Key: "tom", Name: "Tom", Species: "cat", BodyMass: 4 * kilo})
	check(`food: for: "rex" animal-food`, `food: for: "tom" animal-food`, open, `food: for: "…" food`)
	h.People[1].Born = day("2025-06-01")
	check(`food: for: "rex" animal-food`, `food: for: "tom" animal-food`, open, `food: for: "pip" infant-food`)
}

// How long a lamp burns and how much a treatment clears is asked where it is not written.
func TestUnknownRunTimeAndCapacity(t *testing.T) {
	treat := func(method string, litres kit.Opt[unit.Volume]) func(*kit.Item) {
		return func(it *kit.Item) { it.Treat = kit.Some(kit.Treat{Method: method, Litres: litres}) }
	}
	runs := func(d kit.Device) func(*kit.Item) { return func(it *kit.Item) { it.Device = kit.Some(d) } }
	light := able("light", "torch")
	f, _ := Of(spotted(onePack(
		anItem("a", gram, light, runs(kit.Device{Size: "AA"})),
		anItem("b", gram, light, runs(kit.Device{BuiltIn: true})),
		anItem("c", gram, light, runs(kit.Device{Size: "AA", RunTime: kit.Some(hour)})),
		anItem("d", gram, light, runs(kit.Device{BuiltIn: true, SelfPowered: true})),
		anItem("e", gram, able("communicate", "receiver"), runs(kit.Device{Size: "AA"})),
		anItem("f", gram, light, runs(kit.Device{})),
		anItem("g", gram, light),
		anItem("h", gram, treat("filter", kit.Opt[unit.Volume]{})),
		anItem("i", gram, treat("chlorine", kit.Opt[unit.Volume]{})),
		anItem("j", gram, treat("filter", kit.Some(unit.Volume(1)))),
		anItem("k", gram, treat("boil", kit.Opt[unit.Volume]{})),
	)), Options{On: audit})
	var got []string
	for _, u := range f.Unrecorded {
		got = append(got, u.Name+" "+u.What+" "+strings.Join(u.May, ","))
	}
	if want := []string{"a run time run-time", "b run time run-time", "f cell size cells", "h capacity treat-capacity", "i capacity treat-capacity"}; !slices.Equal(got, want) {
		t.Errorf("not recorded: %q, want %q", got, want)
	}
}

// Food of unknown energy is said to be whose it is; fuel of unknown mass is fuel.
func TestUnknownOfOthers(t *testing.T) {
	h := onePack(
		anItem("a", gram, eaten(kit.Food{EnergyUnknown: true, For: "rex"})),
		anItem("b", gram, eaten(kit.Food{EnergyUnknown: true, For: "pip"})),
		anItem("c", gram, eaten(kit.Food{EnergyUnknown: true, For: "ana"})),
		anItem("d", gram, eaten(kit.Food{EnergyUnknown: true, For: "rex"}), func(it *kit.Item) { it.Unread = []string{"food/energy"} }),
		anItem("stove", gram, able("cook", "gas-stove"), func(it *kit.Item) { it.Stove = kit.Some(kit.Stove{Burns: []string{"gas-mix"}}) }),
		anItem("gas", gram, func(it *kit.Item) { it.Fuel = kit.Some(kit.Fuel{Kind: "gas-mix", MassUnknown: true}) }),
	)
	h.Animals = []kit.Animal{{Key: "rex", Name: "Rex", Species: "dog", BodyMass: 20 * kilo}}
	h.People = append(h.People, kit.Person{Key: "pip", Name: "Pip", Born: day("2025-06-01")})
	f, _ := Of(spotted(h), Options{On: audit})
	var got []string
	for _, u := range f.Unrecorded {
		got = append(got, u.May...)
	}
	if want := []string{"animal-food", "infant-food", "food", "animal-food", "fuel"}; !slices.Equal(got, want) {
		t.Errorf("may be %q, want %q", got, want)
	}
	if len(f.Useless) != 0 {
		t.Errorf("useless: %v", f.Useless)
	}
	h.Packs[0].Compartments[0].Items[5].Fuel.Value.Kind = "kerosene"
	f, _ = Of(spotted(h), Options{On: audit})
	var why []string
	for _, u := range f.Useless {
		why = append(why, string(u.Why))
	}
	if want := []string{"no-burner", "no-fuel"}; !slices.Equal(why, want) {
		t.Errorf("useless: %q, want %q", why, want)
	}
}

// What everything was weighed with counts where a thing says nothing else.
func TestWeighedTogether(t *testing.T) {
	bare := func(it *kit.Item) { it.Weighed = kit.Opt[unit.Date]{} }
	h := onePack(
		anItem("old", 10*gram, func(it *kit.Item) { it.Weighed = day("2025-01-01") }),
		anItem("bare", 20*gram, bare),
		anItem("guess", 40*gram, bare, func(it *kit.Item) { it.Estimated = true }),
		anItem("unknown", 0, bare, func(it *kit.Item) { it.MassUnknown = true }),
	)
	h.Packs[0].MassWeighed = kit.Opt[unit.Date]{}
	h.Record.Weighed = day("2026-04-20")
	f := of1(t, spotted(h))
	if p := f.Packs[0]; !p.Weighed || p.UnweighedMG != 40_000 {
		t.Errorf("pack weighed: %t, %d mg were not", p.Weighed, p.UnweighedMG)
	}
	const at = "packs/rust/compartments/main/items/"
	want := []facts.Weighing{{Pack: "packs/rust", Day: int64(day("2025-01-01").Value), Items: []string{at + "old"}}, {Pack: "packs/rust", Day: int64(day("2026-04-20").Value), Items: []string{at + "bare"}}}
	if !slices.EqualFunc(f.Weighings, want, func(a, b facts.Weighing) bool { return a.Day == b.Day && slices.Equal(a.Items, b.Items) }) {
		t.Errorf("weighings %v, want %v", f.Weighings, want)
	}
}

// Reference weights of the Dietary Reference Intakes (Institute of Medicine, 2005; from memory).
func TestReferenceBodies(t *testing.T) {
	for _, c := range []struct {
		months int64
		known  bool
		sex    string
		kg     int64
	}{
		{1, true, "", 4}, {2, true, "", 6}, {6, true, "", 6}, {7, true, "", 9}, {12, true, "", 12}, {47, true, "", 12}, {48, true, "", 20},
		{108, true, "female", 37}, {108, true, "male", 36}, {108, true, "", 36}, {168, true, "", 54}, {168, true, "male", 61},
		{228, true, "female", 57}, {228, true, "male", 70}, {228, true, "", 57}, {0, false, "male", 70}, {0, false, "", 57},
	} {
		if got := referenceBody(c.months, c.known, c.sex); got != unit.Mass(c.kg)*kilo {
			t.Errorf("%d months (%t) %q: %v, want %d kg", c.months, c.known, c.sex, got, c.kg)
		}
	}
}

// A date says what the rules on it must know of the thing.
func TestDatesOfFood(t *testing.T) {
	last := func(it *kit.Item) { it.Expires = day("2026-06-01") }
	h := onePack(
		anItem("can", 10*gram, last, eaten(kit.Food{Energy: 1, Canned: true})),
		anItem("milk", 10*gram, last, eaten(kit.Food{Energy: 1, For: "pip"})),
		anItem("milk-older", 10*gram, last, eaten(kit.Food{Energy: 1, For: "kit"})),
		anItem("toy", 10*gram, last, func(it *kit.Item) { it.Owner = "pip" }),
	)
	h.People = append(h.People, kit.Person{Key: "pip", Name: "Pip", Born: day("2025-05-02")}, kit.Person{Key: "kit", Name: "Kit", Born: day("2025-05-01")})
	f := of1(t, spotted(h))
	var got []string
	for _, d := range f.Dates {
		said := d.Name
		if d.Canned {
			said += " canned"
		}
		if d.Infant {
			said += " infant's"
		}
		got = append(got, said)
	}
	if want := []string{"can canned", "milk-older", "milk infant's", "toy"}; !slices.Equal(got, want) {
		t.Errorf("dates: %q, want %q", got, want)
	}
}

// Of what is short there may be more than is recorded, or nothing of it is recorded.
func TestStocksThatAreNotRecorded(t *testing.T) {
	of := func(kind string, items ...kit.Item) facts.Lasting {
		h := onePack(items...)
		h.Plan.Duration = 72 * hour
		f, _ := Of(spotted(h), Options{On: audit})
		for _, s := range f.Endurance.Stocks {
			if string(s.Kind) == kind && s.Body == "" {
				return s
			}
		}
		t.Fatalf("no stock of %s", kind)
		return facts.Lasting{}
	}
	rice := anItem("rice", 500*gram, eaten(kit.Food{EnergyUnknown: true}))
	bar := anItem("bar", 100*gram, eaten(kit.Food{Energy: 2000 * 4184}))
	plenty := anItem("lard", kilo, times(20), eaten(kit.Food{Energy: 9000 * 4184}))
	bottle := func(it *kit.Item) { it.Container = kit.Some(kit.Container{CapacityUnknown: true}) }
	for _, c := range []struct {
		name, kind        string
		items             []kit.Item
		least, unrecorded bool
	}{
		{"nothing", "energy", nil, false, false},
		{"rice", "energy", []kit.Item{rice}, true, true},
		{"rice by its name", "energy", []kit.Item{anItem("rice", 500*gram)}, true, true},
		{"rice and a bar", "energy", []kit.Item{rice, bar}, true, false},
		{"a bar", "energy", []kit.Item{bar}, false, false},
		{"enough beside it", "energy", []kit.Item{rice, plenty}, false, false},
		{"a bottle", "water", []kit.Item{anItem("b", 100*gram, bottle)}, true, true},
		{"rice is no water", "water", []kit.Item{rice}, false, false},
	} {
		if s := of(c.kind, c.items...); s.Least != c.least || s.Unrecorded != c.unrecorded {
			t.Errorf("%s: least %t, unrecorded %t", c.name, s.Least, s.Unrecorded)
		}
	}
}

// A can whose name says that it has a ring takes no opener.
func TestCansOpenedByHand(t *testing.T) {
	for name, opens := range map[string]bool{"Tuna, ring-pull": true, "Beans (easy open)": true, "Soup pouch": true, "Tuna": false} {
		f, _ := Of(spotted(onePack(anItem("can", kilo, func(it *kit.Item) { it.Name = name }, eaten(kit.Food{Energy: 4184, Canned: true})))), Options{On: audit})
		if f.Foods[0].Opens != opens {
			t.Errorf("%s opens: %t", name, f.Foods[0].Opens)
		}
	}
}

// What is suggested for a medicine names the medication that it is by its name, else how to write that someone takes it; what is cooked
// by its name is not ready to eat.
func TestMedicineAndRawFoodByName(t *testing.T) {
	h := kit.Household{
		Name: "Otter",
		People: []kit.Person{
			{Key: "ana", Name: "Ana", Age: years(40), BodyMass: 70 * kilo, Carries: true, Medications: []kit.Medication{{Key: "hay_fever", Name: "hay fever", AsNeeded: true}}},
			{Key: "ben", Name: "Ben", Age: years(41), BodyMass: 80 * kilo, Carries: true},
		},
		Packs: []kit.Pack{{Key: "rust", Name: "rust", Carrier: "ana", Mass: kilo, Compartments: []kit.Compartment{{Key: "main", Name: "main", Reach: "halted", Items: []kit.Item{
			anItem("hay_fever_tablets", gram), anItem("heart_tablets", gram),
			anItem("rice", gram, eaten(kit.Food{Energy: kcal})), anItem("pasta", gram, eaten(kit.Food{Energy: kcal, CookWritten: true})), anItem("bar", gram, eaten(kit.Food{Energy: kcal})), anItem("oat and nut bar", gram, eaten(kit.Food{Energy: kcal})),
		}}}}},
	}
	said := func(f *facts.Facts) (out []string) {
		for _, u := range f.Unrecorded {
			out = append(out, u.Name+": "+u.Write+"; "+u.Ask)
		}
		return out
	}
	f, _ := Of(spotted(&h), Options{On: audit})
	want := []string{
		`hay_fever_tablets: medicine: {person: "ana", of: "hay_fever", doses: 1}; 1 stands for the doses in it: count them`,
		`heart_tablets: medicine: {person: "…", of: "heart_tablets", doses: 1}; 1 stands for the doses in it: count them; under who takes it, write medications: heart_tablets: asNeeded: true, or perDay: 1 where it is taken every day`,
		`rice: food: {cookWater: "1 L", cookTime: "12 min"}, or cookTime: "0 min" where it is eaten as it is; `,
	}
	if got := said(f); !slices.Equal(got, want) {
		t.Errorf("said %q", got)
	}
	cooked := map[string]bool{}
	for _, food := range f.Foods {
		cooked[food.Name] = food.Cook
	}
	if !cooked["rice"] || cooked["pasta"] || cooked["bar"] || cooked["oat and nut bar"] {
		t.Errorf("to cook: %v", cooked)
	}
	h.People, h.Animals = h.People[1:], nil
	h.Packs[0].Carrier = "ben"
	f, _ = Of(spotted(&h), Options{On: audit})
	if got := said(f); !strings.HasPrefix(got[0], `hay_fever_tablets: medicine: {person: "ben", of: "hay_fever_tablets", doses: 1};`) {
		t.Errorf("said %q", got)
	}
}
