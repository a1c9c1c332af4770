package measure

import (
	"testing"

	"kitmuster/lint/facts"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

func yearsOld(years float64) kit.Opt[unit.Duration] {
	return kit.Some(unit.Duration(years * 31_556_952))
}

// needsOf is what a day needs of each person, by key.
func needsOf(t *testing.T, change func(*kit.Household)) (map[string]facts.Person, *facts.Facts) {
	t.Helper()
	h := plain()
	change(h)
	f := of1(t, spotted(h))
	out := map[string]facts.Person{}
	for _, p := range f.People {
		out[p.Key] = p
	}
	return out, f
}

func TestNeedsByAgeAndState(t *testing.T) {
	got, f := needsOf(t, func(h *kit.Household) {
		h.People[0].Pregnant = kit.Some(kit.Pregnancy{Due: kit.Some(unit.Date(21_000))})
		h.People = append(h.People,
			kit.Person{Key: "old", Name: "Old", Age: yearsOld(80.1), Sex: "male", BodyMass: 70_000_000_000},
			kit.Person{Key: "kid", Name: "Kid", Age: yearsOld(8.1), Sex: "female", BodyMass: 26_000_000_000},
			kit.Person{Key: "big", Name: "Big", Age: yearsOld(40.1), Sex: "male", BodyMass: 200_000_000_000},
			kit.Person{Key: "tot", Name: "Tot", Age: yearsOld(0.55), Sex: "male", BodyMass: 7_000_000_000, Fed: "formula"},
			kit.Person{Key: "who", Name: "Who", BodyMass: 60_000_000_000},
		)
	})
	for key, want := range map[string][3]int64{ // ml, kcal, mg
		"ana": {2300, 1990 + 285, 1500},
		"old": {3000, 2010, 1500},
		"kid": {1200, 1730, 1000},
		"big": {3000, 3168, 1500}, // at rest: 11.472 × 200 + 873.1
		"tot": {700, 81 * 7, 0},
		"who": {2600, 2100, 1500}, // no age: a head of the population
	} {
		p := got[key]
		if p.WaterML != want[0] || (p.EnergyJ+2092)/4184 != want[1] || p.SodiumMG != want[2] {
			t.Errorf("%s needs %d ml, %d kcal, %d mg; want %v", key, p.WaterML, (p.EnergyJ+2092)/4184, p.SodiumMG, want)
		}
	}
	if a := got["ana"]; !a.Pregnant || !a.DueKnown || a.DueDay != 21_000 || a.DueDays != 21_000-f.Audit.OnDay {
		t.Errorf("pregnancy %+v", a)
	}
	var ml, joules int64
	for _, p := range got {
		ml, joules = ml+p.WaterML, joules+p.EnergyJ
	}
	if f.Household.NeedML != ml || f.Household.NeedJ != joules {
		t.Errorf("household needs %d ml, %d J; its people %d, %d", f.Household.NeedML, f.Household.NeedJ, ml, joules)
	}
}

// An infant at the breast costs whoever nurses it: as written, or the one grown woman, or else the infant stands for its mother.
func TestWhoNurses(t *testing.T) {
	pip := kit.Person{Key: "pip", Name: "Pip", Age: yearsOld(0.3), BodyMass: 6_000_000_000, Breastfed: true}
	woman := kit.Person{Key: "eva", Name: "Eva", Age: yearsOld(60.5), Sex: "female", BodyMass: 60_000_000_000}
	for name, c := range map[string]struct {
		people             []kit.Person
		nursing            []string // of Ana
		ana, eva, pip, all int64    // ml
	}{
		"the one woman":    {[]kit.Person{pip}, nil, 3100, 0, 0, 3100},
		"one of two":       {[]kit.Person{pip, woman}, []string{"pip"}, 3100, 2200, 0, 5300},
		"nobody is said":   {[]kit.Person{pip, woman}, nil, 2200, 2200, 900, 5300},
		"said twice":       {[]kit.Person{pip, woman}, []string{"pip", "pip"}, 3100, 2200, 0, 5300},
		"nobody's infant":  {[]kit.Person{pip}, []string{"nix"}, 3100, 0, 0, 3100},
		"no longer infant": {[]kit.Person{{Key: "pip", Name: "Pip", Age: yearsOld(1.1), BodyMass: 9_000_000_000, Breastfed: true}}, nil, 2200, 0, 900, 3100},
		"mixed":            {[]kit.Person{{Key: "pip", Name: "Pip", Age: yearsOld(0.3), BodyMass: 6_000_000_000, Fed: "mixed"}}, nil, 3100, 0, 350, 3450},
		"mixed, two women": {[]kit.Person{{Key: "pip", Name: "Pip", Age: yearsOld(0.3), BodyMass: 6_000_000_000, Fed: "mixed"}, woman}, nil, 2200, 2200, 350, 4750},
		"solids, nursed":   {[]kit.Person{{Key: "pip", Name: "Pip", Age: yearsOld(0.3), BodyMass: 6_000_000_000, Fed: "solids"}}, []string{"pip"}, 3100, 0, 350, 3450},
		"solids":           {[]kit.Person{{Key: "pip", Name: "Pip", Age: yearsOld(0.3), BodyMass: 6_000_000_000, Fed: "solids"}}, nil, 2200, 0, 700, 2900},
		"formula":          {[]kit.Person{{Key: "pip", Name: "Pip", Age: yearsOld(0.3), BodyMass: 6_000_000_000, Fed: "formula"}}, nil, 2200, 0, 700, 2900},
	} {
		got, f := needsOf(t, func(h *kit.Household) {
			h.People = append(h.People, c.people...)
			h.People[0].Nursing = c.nursing
		})
		if got["ana"].WaterML != c.ana || got["eva"].WaterML != c.eva || got["pip"].WaterML != c.pip || f.Household.NeedML != c.all {
			t.Errorf("%s: Ana %d, Eva %d, Pip %d, all %d ml; want %+v", name, got["ana"].WaterML, got["eva"].WaterML, got["pip"].WaterML, f.Household.NeedML, c)
		}
		var drink int64
		for _, b := range f.Endurance.Bodies {
			drink += b.DrinkML
		}
		if drink != c.all {
			t.Errorf("%s: the forecast drinks %d ml in the day, the people need %d", name, drink, c.all)
		}
	}
}

// Formula that is ready to drink is an infant's drink, and half of it where the infant is nursed as well.
func TestFormula(t *testing.T) {
	for name, c := range map[string]struct {
		fed         string
		kg, months  float64
		formula     string
		feed, water int64
	}{
		"powder":   {"formula", 4, 2.1, "powder", 660, 700},
		"ready":    {"formula", 4, 2.1, "ready", 660, 300}, // 2 × 400 g in 48 h
		"at most":  {"formula", 8, 7.1, "powder", 960, 600},
		"mixed":    {"mixed", 4, 2.1, "ready", 330, 0},
		"solids":   {"solids", 8, 8.1, "ready", 0, 600},
		"a child":  {"formula", 10, 13.1, "ready", 0, 900},
		"not said": {"formula", 4, 2.1, "", 660, 700},
	} {
		got, f := needsOf(t, func(h *kit.Household) {
			h.Plan.Duration = 48 * 3600
			h.People = append(h.People, kit.Person{Key: "tot", Name: "Tot", Age: kit.Some(unit.Duration(c.months * 31_556_952 / 12)), BodyMass: unit.Mass(c.kg * 1e9), Fed: c.fed})
			items := &h.Packs[0].Compartments[0].Items
			*items = append(*items,
				kit.Item{Key: "feed", Name: "feed", Count: 2, Mass: 500_000_000, Food: kit.Some(kit.Food{Energy: 1_000_000, NetMass: kit.Some(unit.Mass(400_000_000)), For: "tot", Formula: c.formula})},
				kit.Item{Key: "other", Name: "other", Count: 2, Mass: 500_000_000, Food: kit.Some(kit.Food{Energy: 1_000_000, Formula: "ready"})})
		})
		if p := got["tot"]; p.FeedML != c.feed || p.WaterML != c.water {
			t.Errorf("%s: %d ml of formula, %d ml of water a day; want %d, %d", name, p.FeedML, p.WaterML, c.feed, c.water)
		}
		for _, food := range f.Foods {
			if want := map[string]int64{"feed": 800, "other": 1000}[food.Name]; (food.Formula == "ready") != (food.DrinkML > 0) || food.DrinkML > 0 && food.DrinkML != want {
				t.Errorf("%s: %+v", name, food)
			}
		}
	}
}

// Two grown people and a dog at 46 °C by day and 32 by night: a mean of 39 °C nearly doubles what they drink.
func TestNeedsInTheHeat(t *testing.T) {
	hot := func(h *kit.Household) {
		h.Plan.Season, h.Plan.Seasons = "summer", []kit.Season{{Key: "summer", Day: 46_000, Night: 32_000, Daylight: 14 * 3600, DaylightSet: true}}
		h.People = append(h.People, kit.Person{Key: "ben", Name: "Ben", Age: yearsOld(40.1), Sex: "male", BodyMass: 80_000_000_000})
		h.Animals = []kit.Animal{
			{Key: "rex", Name: "Rex", Species: "dog", BodyMass: 20_000_000_000, Energy: kit.Some(unit.Energy(4_184_000))},
			{Key: "tip", Name: "Tip", Species: "dog", BodyMass: 20_000_000_000, Water: kit.Some(unit.Volume(1_000_000))},
			{Key: "star", Name: "Star", Species: "horse", BodyMass: 400_000_000_000},
		}
	}
	got, f := needsOf(t, hot)
	if got["ana"].WaterML != 4290 || got["ben"].WaterML != 5850 { // 2.2 and 3.0 L × 1.95
		t.Errorf("Ana %d, Ben %d", got["ana"].WaterML, got["ben"].WaterML)
	}
	if f.Household.NeedML != 4290+5850+1950+1000 { // 1 ml a kcal × 1.95; as written; the horse finds its own
		t.Errorf("household %d", f.Household.NeedML)
	}
	// The trial's case: 72 hours, 19.2 L for two people.
	_, f = needsOf(t, func(h *kit.Household) {
		hot(h)
		h.Animals, h.Plan.Duration = nil, 72*3600
		h.Packs[0].Compartments[0].Items[0] = kit.Item{Key: "can", Name: "can", Count: 2, Mass: 100_000_000, Water: kit.Some(unit.Volume(9_600_000)), Container: kit.Some(kit.Container{Capacity: 9_600_000})}
	})
	if w := stockOf(t, f, "endurance/water"); w.Need != 30_420 || w.Short != 30_420-19_200 {
		t.Errorf("water %+v", w)
	}
}

func TestNoSaltIsAskedOfWhoWasToldToEatLittle(t *testing.T) {
	for _, n := range []kit.Need{{Key: "diet", Text: "Low-salt diet"}, {Key: "kidneys", Text: "stage 3"}, {Key: "x", Text: "Heart failure"}, {Key: "x", Text: "high Blood Pressure"}} {
		got, _ := needsOf(t, func(h *kit.Household) { h.People[0].Needs = []kit.Need{n} })
		if got["ana"].SodiumMG != 0 {
			t.Errorf("%v: %d mg", n, got["ana"].SodiumMG)
		}
	}
	for condition, want := range map[string]int64{"heart": 0, "kidney": 0, "low-salt": 0, "thyroid": 1500} {
		if got, _ := needsOf(t, func(h *kit.Household) { h.People[0].Conditions = []string{condition} }); got["ana"].SodiumMG != want {
			t.Errorf("%s: %d mg", condition, got["ana"].SodiumMG)
		}
	}
	if got, _ := needsOf(t, func(h *kit.Household) { h.People[0].Needs = []kit.Need{{Key: "x", Text: "hearing aid"}} }); got["ana"].SodiumMG != 1500 {
		t.Errorf("%d mg", got["ana"].SodiumMG)
	}
}

// What water on the way is to be taken for after each danger.
func TestTapsAfterADanger(t *testing.T) {
	for hazard, want := range map[string][3]string{
		"flood": {"clear", "clear", "turbid"}, "quake": {"clear", "clear", "turbid"}, "tsunami": {"clear", "clear", "turbid"}, "fire": {"foul", "clear", "turbid"},
		"industrial": {"foul", "foul", "foul"}, "storm": {"tap", "clear", "turbid"},
	} {
		_, f := needsOf(t, func(h *kit.Household) {
			h.Plan.Hazards = []string{hazard}
			h.Plan.WaterSources = []kit.WaterSource{{Key: "a", Quality: "tap"}, {Key: "b", Quality: "clear"}, {Key: "c", Quality: "turbid"}}
		})
		for i, s := range f.Plan.Sources {
			if s.Quality != want[i] || s.Written != []string{"tap", "clear", "turbid"}[i] {
				t.Errorf("%s: %+v, want %s", hazard, s, want[i])
			}
		}
		// Nothing is packed that makes water safe.
		if w := stockOf(t, f, "endurance/water"); (w.Short == 0) != (hazard == "storm") {
			t.Errorf("%s: %+v", hazard, w)
		}
	}
}

func TestWhatAwaits(t *testing.T) {
	for name, c := range map[string]struct {
		d           kit.Destination
		legs        bool
		water, food bool // needed of the packs to the end
	}{
		"water":           {kit.Destination{Kind: "house", Water: true}, true, false, true},
		"food":            {kit.Destination{Kind: "shelter", Food: true}, true, true, false},
		"a bed":           {kit.Destination{Kind: "camp", Beds: true}, true, true, true},
		"water, no way":   {kit.Destination{Kind: "house", Water: true}, false, false, true},
		"food, no way":    {kit.Destination{Kind: "house", Food: true}, false, true, false},
		"water in a flat": {kit.Destination{Kind: "house", Water: true, Food: true}, true, false, false},
	} {
		_, f := needsOf(t, func(h *kit.Household) {
			c.d.Spot = "plan/destination"
			h.Plan.Destination = kit.Some(c.d)
			h.Plan.Duration = 72 * 3600
			if c.legs {
				h.Plan.Legs = []kit.Leg{{Key: "one", Order: 1, Distance: 4_000_000_000}}
			}
		})
		water, energy := stockOf(t, f, "endurance/water"), stockOf(t, f, "endurance/energy")
		if (water.Short > 0) != c.water || (energy.Short > 0) != c.food {
			t.Errorf("%s: water %+v, energy %+v", name, water, energy)
		}
		if d := f.Plan.Destination; !d.Known || d.Kind != c.d.Kind || d.Water != c.d.Water || d.Food != c.d.Food || d.Beds != c.d.Beds {
			t.Errorf("%s: %+v", name, d)
		}
	}
}

func TestFoodPastItsDateStandsApart(t *testing.T) {
	_, f := needsOf(t, func(h *kit.Household) {
		items := &h.Packs[0].Compartments[0].Items
		*items = append(*items,
			kit.Item{Key: "tin", Name: "tin", Count: 2, Mass: 100_000_000, Food: kit.Some(kit.Food{Energy: 500_000}), Expires: kit.Some(audit - 1)},
			kit.Item{Key: "jar", Name: "jar", Count: 1, Mass: 100_000_000, Food: kit.Some(kit.Food{Energy: 300_000}), Opened: kit.Some(audit - 9), OpenedLife: kit.Some(unit.Duration(5 * 86400))},
			kit.Item{Key: "new", Name: "new", Count: 1, Mass: 100_000_000, Food: kit.Some(kit.Food{Energy: 100_000}), Expires: kit.Some(audit)},
		)
	})
	s := stockOf(t, f, "endurance/energy")
	if f.Household.Supply.PastEnergyJ != 1_300_000 || f.Household.Supply.FoodEnergyJ != 9_400_000 || s.PastJ != 1_300_000 || s.Have != 9_400_000 {
		t.Errorf("supply %+v, stock %+v", f.Household.Supply, s)
	}
	if s.LastsGood >= s.Lasts {
		t.Errorf("the good food lasts %d h, all of it %d", s.LastsGood, s.Lasts)
	}
}
