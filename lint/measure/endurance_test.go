package measure

import (
	"testing"

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

func stockOf(t *testing.T, f *Facts, id string) Lasting {
	t.Helper()
	for _, s := range f.Endurance.Stocks {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no stock %s among %v", id, f.Endurance.Stocks)
	return Lasting{}
}

// By hand: nobody walks. Drink is 2.7 L a day (Institute of Medicine 2005, women), 112.5 ml an hour, so two litres
// last 17 hours and 87.5 ml of the 18th. Energy is (8.126 × 70 + 845.6) kcal (Schofield 1985), 1.4 times in the 16 hours awake.
// Sodium is 1,500 mg a day (NASEM 2019), 62.5 mg an hour: 1,200 mg last 19 hours.
func TestEnduranceByHand(t *testing.T) {
	f := of1(t, plain())
	water := stockOf(t, f, "endurance/water")
	if water.Lasts != 17 || water.Have != 2000 || water.Need != 2700 || water.Short != 700 || water.FirstShort != 25 || water.Lowest != 0 {
		t.Errorf("water %+v", water)
	}
	if f.Endurance.WaterLimit != "sources" {
		t.Errorf("water is short for want of %q", f.Endurance.WaterLimit)
	}
	rest := int64(5_917_933) // 1414.42 kcal
	spent := (rest*8 + rest*14/10*16) / 24
	energy := stockOf(t, f, "endurance/energy")
	if energy.Have != 8_000_000 || energy.Need < spent-2 || energy.Need > spent+2 || energy.Lasts != 24 || energy.Short != 0 {
		t.Errorf("energy %+v, spent %d", energy, spent)
	}
	if d := f.Endurance.Days[0]; len(f.Endurance.Days) != 1 || d.NeedML != 2700 || d.DrunkML != 2000 || d.FindML != 700 || d.EatenJ < spent-30 || d.EatenJ > spent+30 || d.SodiumNeedMG != 1500 {
		t.Errorf("days %+v", f.Endurance.Days)
	}
	sodium := stockOf(t, f, "endurance/sodium")
	if sodium.Have != 1200 || sodium.Need != 1500 || sodium.Short != 300 || sodium.Lasts != 19 {
		t.Errorf("sodium %+v", sodium)
	}
	b := f.Endurance.Bodies[0]
	if b.FirstMG != 5_000_000 || b.MostMG != 5_000_000 || b.DrinkML != 2700 || b.SweatML != 0 {
		t.Errorf("body %+v", b)
	}
	// Two litres are drunk, and of the four bars what was spent.
	if want := 5_000_000 - 2_000_000 - spent*400_000/8_000_000; b.LastMG < want-2 || b.LastMG > want+2 {
		t.Errorf("the pack weighs %d at the end, want %d", b.LastMG, want)
	}
}

// A plan that begins at another hour begins its clock there; midnight is an hour too.
func TestForecastStartsWhenAsked(t *testing.T) {
	for _, start := range []int64{0, 18*60 + 30} {
		f, _, in, res := Forecast(plain(), Options{On: 20_000, Start: kit.Some(start)})
		if f.Endurance.StartMin != start || in.Start != start || res.Hours[0].Clock != start {
			t.Errorf("asked for minute %d, the plan begins at %d, %d, %d", start, f.Endurance.StartMin, in.Start, res.Hours[0].Clock)
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
