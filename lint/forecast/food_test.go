package forecast

import (
	"slices"
	"strings"
	"testing"

	"kitmuster/lint/kinds"
)

// Each time one food's worth is eaten; what was eaten is taken out and the rest asked again.
func TestOrderOfFood(t *testing.T) {
	foods := []Food{
		{ID: "plain", EnergyJ: 100_000},
		{ID: "later", EnergyJ: 100_000, Until: 20},
		{ID: "over", EnergyJ: 100_000, Until: 5, Cook: true, Opened: true, Past: true},
		{ID: "another", EnergyJ: 100_000},
		{ID: "cooked-open", EnergyJ: 100_000, Cook: true, Opened: true},
		{ID: "sooner", EnergyJ: 100_000, Until: 10},
		{ID: "cooked", EnergyJ: 100_000, Cook: true, CookML: 10, Until: 30},
		{ID: "open", EnergyJ: 100_000, Opened: true, Until: 30},
	}
	b := grown(0)
	b.RestJ = 100_000 * 24 / campFactor
	var order []string
	for len(foods) > 0 {
		for i := range foods {
			foods[i].For, foods[i].Carrier = Everybody, Nobody
		}
		r := simulate(&Input{Minutes: 60, Start: 12 * 60, Bodies: []Body{b}, Foods: foods, FuelML: 1000}, 60)
		i := slices.IndexFunc(r.food, func(left float64) bool { return left < 1 })
		if i < 0 {
			t.Fatalf("nothing was eaten up: %v", r.food)
		}
		order = append(order, foods[i].ID)
		foods = slices.Delete(foods, i, i+1)
	}
	same(t, "order", strings.Join(order, " "), "cooked-open cooked open sooner later another plain over")
}

// 420 kJ an hour awake. From nine o'clock nothing is eaten in camp until noon, whose hour stills four of them; 19 o'clock
// stills seven; the end of the plan the last two.
func TestMeals(t *testing.T) {
	in := &Input{Minutes: 13 * 60, Start: 9 * 60, Bodies: []Body{grown(0)}, Foods: []Food{{ID: "bread", For: Everybody, Carrier: Nobody, EnergyJ: 9_000_000}}}
	r := Of(in)
	for i, h := range r.Hours {
		eaten := int64(0)
		for _, at := range []struct {
			hour  int
			hours int64
		}{{3, 4}, {10, 7}, {12, 2}} {
			if i >= at.hour {
				eaten += at.hours * 420_000
			}
		}
		if h.FoodJ != 9_000_000-eaten {
			t.Errorf("hour %d: %d J left, want %d", i, h.FoodJ, 9_000_000-eaten)
		}
	}
	same(t, "stock", of(t, r, kinds.StockEnergy, Everybody, ""), Stock{Kind: kinds.StockEnergy, Body: Everybody, Lasts: 13, Have: 9_000_000, Need: 13 * 420_000, Lowest: 9_000_000 - 13*420_000})

	// 3 MJ: at 19 o'clock 4,620 kJ have been spent, 1,620 of them are lacking; at the end two hours more.
	in.Foods[0].EnergyJ = 3_000_000
	r = Of(in)
	same(t, "short", of(t, r, kinds.StockEnergy, Everybody, ""), Stock{Kind: kinds.StockEnergy, Body: Everybody, Lasts: 10, First: 1_620_000, Short: 2_460_000, Have: 3_000_000, Need: 13 * 420_000})
	same(t, "eaten", r.Days[0].EatenJ, 3_000_000)
}

// Walking, ready food is eaten each hour and none is cooked; at noon too. What could be cooked is no want of food.
func TestReadyFoodOnTheWay(t *testing.T) {
	in := &Input{Minutes: 180, Start: 11 * 60, Legs: []Leg{stroll("way", 150)}, Bodies: []Body{grown(0)}, FuelML: 1000, Foods: []Food{
		{ID: "bar", For: Everybody, Carrier: Nobody, EnergyJ: 1_000_000},
		{ID: "stew", For: Everybody, Carrier: Nobody, EnergyJ: 9_000_000, Cook: true, CookML: 900},
	}}
	r := simulate(in, 60)
	near(t, "bar", r.food[0], 0, 0)
	near(t, "stew", r.food[1], 9_000_000, 0)
	same(t, "short", of(t, r.res, kinds.StockEnergy, Everybody, "").Short, 0)
	if left := r.res.Hours[0].FoodJ; left != 10_000_000-r.res.Hours[0].SpentJ {
		t.Errorf("%d J left after the first hour of %d", left, r.res.Hours[0].SpentJ)
	}
	in.Foods = in.Foods[:1]
	if s := of(t, Of(in), kinds.StockEnergy, Everybody, ""); s.Short != s.Need-1_000_000 || s.Lasts != 1 {
		t.Errorf("without the stew: %+v", s)
	}
}

// An animal and an infant eat their own, at meals only, and are short alone; the common food is not theirs.
func TestOwnEaters(t *testing.T) {
	in := &Input{Minutes: 240, Start: 11 * 60, Legs: []Leg{stroll("way", 50)}, Bodies: []Body{
		grown(0),
		{ID: "dog", Animal: true, Walks: true, Mass: 20, RestJ: 2_400_000, Eats: Own},
		{ID: "babe", Mass: 8, RestJ: 2_400_000, Eats: Own},
	}, Foods: []Food{
		{ID: "bread", For: Everybody, Carrier: Nobody, EnergyJ: 9_000_000, SodiumMG: 10},
		{ID: "kibble", For: 1, Carrier: Nobody, EnergyJ: 250_000, SodiumMG: 1000},
		{ID: "mash", For: 2, Carrier: Nobody, EnergyJ: 500_000, SodiumMG: 10},
	}}
	r := simulate(in, 60)
	// The dog: 100 kJ an hour, two by noon, and at the end two more, of which one and a half lack.
	same(t, "dog", of(t, r.res, kinds.StockEnergy, 1, ""), Stock{Kind: kinds.StockEnergy, Body: 1, Lasts: 3, First: 150_000, Short: 150_000, Have: 250_000, Need: 400_000})
	// The babe: awake in camp 140, four times; of 500 kJ, 60 lack.
	same(t, "babe", of(t, r.res, kinds.StockEnergy, 2, ""), Stock{Kind: kinds.StockEnergy, Body: 2, Lasts: 3, First: 60_000, Short: 60_000, Have: 500_000, Need: 560_000})
	same(t, "told", events(r.res, Short)[2], Event{Hour: 3, Until: 3, Kind: Short, Stock: kinds.StockEnergy, Body: 1, Amount: 150_000})
	same(t, "people's food", r.res.Hours[0].FoodJ, 9_500_000-of(t, simulateWith(&Input{Minutes: 60, Start: 11 * 60, Legs: in.Legs, Bodies: in.Bodies[:1]}, 60, &preview{}).res, kinds.StockEnergy, Everybody, "").Need)
	same(t, "people's sodium", of(t, r.res, kinds.StockSodium, Everybody, "").Have, 20)
	same(t, "common", of(t, r.res, kinds.StockEnergy, Everybody, "").Short, 0)
	if got := r.res.Days[0].EatenJ - of(t, r.res, kinds.StockEnergy, Everybody, "").Need; got < 499_999 || got > 500_001 {
		t.Errorf("people ate %d J beside the common need, want the babe's 500 kJ", got)
	}

	// In their first hour on the way nobody's own is touched.
	in.Minutes, in.Start = 61, 8*60
	r = simulateWith(in, 60, &preview{})
	near(t, "at the end", r.food[1], 250_000-100_000-100_000/60.0, 1e-6)
	in.Minutes = 120
	in.Legs = []Leg{stroll("way", 100)}
	if h := simulate(in, 60).res.Hours; h[0].FoodJ == 9_500_000 || h[0].FoodJ < 8_000_000 {
		t.Errorf("%d J of people's food left after the first hour", h[0].FoodJ)
	}
}

// A breastfed infant is never short of food, and its need is nobody's.
func TestBreastfed(t *testing.T) {
	in := &Input{Minutes: day, Start: 0, Bodies: []Body{{ID: "babe", Mass: 5, RestJ: 1_000_000, Eats: Nothing}}}
	r := Of(in)
	same(t, "stock", of(t, r, kinds.StockEnergy, Everybody, ""), Stock{Kind: kinds.StockEnergy, Body: Everybody, Lasts: 24})
	same(t, "events", len(r.Events), 0)
}

// Food for one of them is eaten by them only: 420 kJ each; of 300 for the first 300 are eaten, of 900 for all 540.
func TestFoodForOne(t *testing.T) {
	in := &Input{Minutes: 60, Start: 12 * 60, Bodies: []Body{grown(0), grown(0)}, Foods: []Food{
		{ID: "a", For: 0, Carrier: Nobody, EnergyJ: 300_000}, {ID: "b", For: Everybody, Carrier: Nobody, EnergyJ: 900_000}, {ID: "c", For: 1, Carrier: Nobody, EnergyJ: 100_000, Until: 1},
	}}
	r := simulate(in, 60)
	// c ends first, then by id: 100, 300, and of the common 840 - 400 = 440.
	near(t, "a", r.food[0], 0, 0)
	near(t, "b", r.food[1], 460_000, 1e-6)
	near(t, "c", r.food[2], 0, 0)
	in.Foods = in.Foods[:1]
	same(t, "the other starves", of(t, Of(in), kinds.StockEnergy, Everybody, "").Short, 540_000)
}

// 100 ml to boil for each 100 kJ, fuel for 250: of the two stews, 250 kJ are eaten, and what the rest would ask is lacking,
// told once. Tea has no energy, and asks nothing.
func TestFuel(t *testing.T) {
	in := &Input{Minutes: 12 * 60, Start: 12 * 60, Bodies: []Body{grown(0)}, FuelML: 250, Foods: []Food{
		{ID: "stew", For: Everybody, Carrier: Nobody, EnergyJ: 200_000, Cook: true, CookML: 200},
		{ID: "soup", For: Everybody, Carrier: Nobody, EnergyJ: 400_000, Cook: true, CookML: 400},
		{ID: "tea", For: Everybody, Carrier: Nobody, Cook: true, CookML: 300},
		{ID: "bread", For: Everybody, Carrier: Nobody, EnergyJ: 9_000_000},
	}}
	r := simulate(in, 60)
	same(t, "fuel", of(t, r.res, kinds.StockFuel, Everybody, ""), Stock{Kind: kinds.StockFuel, Body: Everybody, Lasts: 0, First: 350, Short: 350, Have: 250, Need: 600})
	same(t, "told once", len(slices.DeleteFunc(events(r.res, Short), func(e Event) bool { return e.Stock != kinds.StockFuel })), 1)
	// By id, soup before stew.
	near(t, "soup", r.food[1], 150_000, 1e-6)
	near(t, "stew", r.food[0], 200_000, 0)
	same(t, "energy is not short", of(t, r.res, kinds.StockEnergy, Everybody, "").Short, 0)

	in.FuelML = 5000
	same(t, "enough", of(t, Of(in), kinds.StockFuel, Everybody, ""), Stock{Kind: kinds.StockFuel, Body: Everybody, Lasts: 12, Have: 5000, Need: 600, Lowest: 4400})
	// What must be prepared without boiling needs no fuel.
	in.FuelML, in.Foods = 0, []Food{{ID: "pancake", For: Everybody, Carrier: Nobody, EnergyJ: 9_000_000, Cook: true}}
	same(t, "no water", of(t, Of(in), kinds.StockFuel, Everybody, ""), Stock{Kind: kinds.StockFuel, Body: Everybody, Lasts: 12})
}

// Where food is short, what of it stays is told apart: 300 kJ are for the other, 200 of the soup cannot be cooked, the
// grown one's own and what is of another stock are not named.
func TestUneaten(t *testing.T) {
	in := &Input{Minutes: 60, Start: 12 * 60, Bodies: []Body{grown(0), {ID: "babe", RestJ: 240_000, Eats: Own}, {ID: "nursed", Eats: Nothing}}, FuelML: 50, Foods: []Food{
		{ID: "bread", For: Everybody, Carrier: Nobody, EnergyJ: 100_000},
		{ID: "rusk", For: 2, Carrier: Nobody, EnergyJ: 300_000},
		{ID: "soup", For: Everybody, Carrier: Nobody, EnergyJ: 250_000, Cook: true, CookML: 250},
		{ID: "mash", For: 1, Carrier: Nobody, EnergyJ: 900_000},
		{ID: "gruel", For: 0, Carrier: Nobody, EnergyJ: 70_000, Cook: true, CookML: 10},
	}}
	r := Of(in)
	// 420 kJ: by id the gruel, burning 10 ml, of the soup 40 kJ, the bread; 210 are lacking.
	same(t, "short", of(t, r, kinds.StockEnergy, Everybody, "").Short, 210_000)
	if want := []Uneaten{{Stock: Everybody, For: 2, J: 300_000}, {Stock: Everybody, For: Uncooked, J: 210_000}}; !slices.Equal(r.Uneaten, want) {
		t.Errorf("%+v, want %+v", r.Uneaten, want)
	}
	// Where nothing is short, what is left is left over.
	in.Foods[0].EnergyJ = 9_000_000
	same(t, "enough", len(Of(in).Uneaten), 0)
	// The babe's own, raw.
	in.FuelML, in.Foods = 0, []Food{{ID: "mash", For: 1, Carrier: Nobody, EnergyJ: 900_000, Cook: true, CookML: 100}, {ID: "rusk", For: 2, Carrier: Nobody, EnergyJ: 1}}
	if got, want := Of(in).Uneaten, []Uneaten{{Stock: Everybody, For: 2, J: 1}, {Stock: 1, For: Uncooked, J: 900_000}}; !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// What grazes lacks nothing; food packed for it is eaten, and then it grazes.
func TestGrazes(t *testing.T) {
	in := &Input{Minutes: day, Start: 0, Bodies: []Body{{ID: "star", Animal: true, Walks: true, Mass: 400, RestJ: 2_400_000, Eats: Own, Grazes: true}}}
	r := Of(in)
	same(t, "stocks", len(r.Stocks), 5)
	same(t, "events", len(r.Events), 0)
	in.Foods = []Food{{ID: "oats", For: 0, Carrier: Nobody, EnergyJ: 1_000_000}}
	r = Of(in)
	same(t, "oats", of(t, r, kinds.StockEnergy, 0, ""), Stock{Kind: kinds.StockEnergy, Lasts: 24, Have: 1_000_000, Need: 2_400_000})
	same(t, "events", len(r.Events), 0)
}

// 420 kJ of 2,100 eaten: a fifth of the food's 500 g leaves its carrier's pack. Who bears no food keeps their load.
func TestFoodLeavesThePack(t *testing.T) {
	in := &Input{Minutes: 60, Start: 12 * 60, Bodies: []Body{grown(5), grown(3)}, Foods: []Food{{ID: "bread", For: Everybody, Carrier: 0, EnergyJ: 4_200_000, NetMG: 500_000}}}
	r := Of(in)
	same(t, "first", r.Bodies[0].FirstMG, 5_000_000)
	same(t, "last", r.Bodies[0].LastMG, 4_900_000)
	same(t, "the other", r.Bodies[1].LastMG, 3_000_000)
	in.Bodies[0].Load = 0.01 // whatever was written, no load is below nothing
	same(t, "never below nothing", Of(in).Bodies[0].LastMG, 0)
}

// 300 kJ an hour asleep, from midnight to six, and 420 awake until eight; seven o'clock and the end are meals. What is past its
// date is begun in the hour of the second meal, or never.
func TestFoodPastItsDate(t *testing.T) {
	bread := Food{ID: "bread", For: Everybody, Carrier: Nobody, EnergyJ: 2_640_000}
	in := &Input{Minutes: 9 * 60, Bodies: []Body{grown(0)}, Foods: []Food{bread, {ID: "tin", For: Everybody, Carrier: Nobody, EnergyJ: 5_000_000, Past: true}}}
	s := of(t, Of(in), kinds.StockEnergy, Everybody, "")
	same(t, "stock", s, Stock{Kind: kinds.StockEnergy, Body: Everybody, Lasts: 9, Have: 7_640_000, Need: 3_060_000, Lowest: 4_580_000, Past: 5_000_000, Good: 8})
	in.Foods[0].EnergyJ = 3_060_000
	same(t, "good to the end", of(t, Of(in), kinds.StockEnergy, Everybody, "").Good, 9)
	in.Foods[0].EnergyJ, in.Foods[1].EnergyJ = 100_000, 100_000
	s = of(t, Of(in), kinds.StockEnergy, Everybody, "")
	if s.Lasts != 7 || s.Good != 7 {
		t.Errorf("both gone at the first meal: %+v", s)
	}
	in.Foods[1].Cook, in.Foods[1].CookML = true, 100
	s = of(t, Of(in), kinds.StockEnergy, Everybody, "")
	if s.Good != s.Lasts {
		t.Errorf("what stays raw is not eaten: %+v", s)
	}
}

// Who has come to the end of the way is fed there; the hours of the way are their own, and animals eat what is theirs.
func TestFedAtTheEnd(t *testing.T) {
	in := &Input{Minutes: day, Start: 8 * 60, Fed: true, Bodies: []Body{grown(0), {ID: "dog", Animal: true, Walks: true, RestJ: 2_400_000, Eats: Own}}}
	r := Of(in)
	same(t, "at once", of(t, r, kinds.StockEnergy, Everybody, "").Need, 0)
	same(t, "sodium", of(t, r, kinds.StockSodium, Everybody, "").Need, 0)
	same(t, "dog", of(t, r, kinds.StockEnergy, 1, "").Need, 2_400_000)
	if s := of(t, r, kinds.StockWater, Everybody, ""); s.Need != 2400 {
		t.Errorf("who is fed drinks all the same: %+v", s)
	}
	in.Legs = []Leg{stroll("way", 100)}
	r = Of(in)
	var walked int64
	for _, h := range r.Hours[:2] {
		walked += h.SpentJ
	}
	if s := of(t, r, kinds.StockEnergy, Everybody, ""); s.Need != walked || walked == 0 {
		t.Errorf("needs %d, of which %d walking", s.Need, walked)
	}
	// 1440 mg a day in two hours, and a quarter of a litre of sweat an hour walked.
	near(t, "sodium of the way", float64(of(t, r, kinds.StockSodium, Everybody, "").Need), 120+100.0/60*0.25*43.2*22.99, 1)
}
