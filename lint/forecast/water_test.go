package forecast

import (
	"testing"

	"kitmuster/lint/body"
	"kitmuster/lint/kinds"
)

const quart = 946.352946 // ml of a US liquid quart: NIST Handbook 44 (2024) App. C, second-hand

// The US Army's work and rest table as package body cites it: minutes of work and quarts an hour of each category and
// class. An hour walks those minutes, at most 50, and drinks the quarts. Pace and load put a walk into its class.
func TestDrinkInTheHeat(t *testing.T) {
	// At 50 % of humidity; the WBGT in °F that each gives is beside it.
	celsius := []float64{27, 29, 30.5, 32, 34} // 79.2, 82.9, 85.7, 88.6, 92.6
	work := [][3]int64{{50, 50, 40}, {50, 50, 30}, {50, 40, 30}, {50, 30, 20}, {50, 20, 10}}
	quarts := [][3]float64{{0.5, 0.75, 0.75}, {0.5, 0.75, 1}, {0.75, 0.75, 1}, {0.75, 0.75, 1}, {1, 1, 1}}
	for c, air := range celsius {
		for class, b := range []Body{grown(13), grown(18), grown(19)} { // kg; 30 lb are 13.6, 40 are 18.1
			pace := []float64{1000, 800, 800}[class]
			in := &Input{Minutes: 60, Start: 480, Weather: still(air, 0.5), Legs: []Leg{{Distance: 9000, Pace: pace}}, Bodies: []Body{b}}
			r := Of(in)
			same(t, "category", r.Category, c+1)
			same(t, "walked", r.Hours[0].WalkMin, work[c][class])
			near(t, "drink", float64(r.Bodies[0].DrinkML), quarts[c][class]*quart, 0.5)
			near(t, "sweat", float64(r.Bodies[0].SweatML), quarts[c][class]*quart, 0.5)
		}
	}
}

func TestCategoryHour(t *testing.T) {
	// 23 °C at 6, 34 at 15 o'clock: the hottest hour walked is the last, from 11.
	in := &Input{Minutes: 12 * 60, Start: 480, Weather: &Weather{Day: 34, Night: 23, Humidity: 0.6, Daylight: day}, Legs: []Leg{stroll("way", 200)}, Bodies: []Body{grown(0)}}
	r := Of(in)
	if r.Legs[0].End != 3 || r.CategoryHour != 3 || r.Category < 3 {
		t.Errorf("category %d in hour %d, leg %+v", r.Category, r.CategoryHour, r.Legs[0])
	}
	in.Legs = nil
	if r := Of(in); r.Category != 0 {
		t.Errorf("category %d where nobody walks", r.Category)
	}
}

// The same hours at rest: from 8 to 20 o'clock, warmest at 15, in the hour from 14; and the nights.
func TestHeatAtRest(t *testing.T) {
	in := &Input{Minutes: 12 * 60, Start: 480, Weather: &Weather{Day: 34, Night: 23, Humidity: 0.6, Daylight: day}, Bodies: []Body{grown(0)}}
	r := Of(in)
	if r.RestCategory < 4 || r.RestCategoryHour < 3 || r.RestCategoryHour > 7 || r.RestBeyond || r.Sleeps || r.NightCelsius != 0 {
		t.Errorf("%d from hour %d, beyond %v, night %v %v", r.RestCategory, r.RestCategoryHour, r.RestBeyond, r.Sleeps, r.NightCelsius)
	}
	near(t, "hottest", r.RestCelsius, 34, 0.1)
	in.Minutes, in.Weather = 2*day, still(26, 0.5)
	r = Of(in)
	near(t, "night", r.NightCelsius, 26, 1e-9)
	if !r.Sleeps {
		t.Error("nobody sleeps")
	}
	in.Weather = still(44, 0.3)
	if r := Of(in); !r.RestBeyond {
		t.Error("44 °C is beyond the chart, which ends at 43.3 °C")
	}
	in.Weather = still(-9, 0.3)
	near(t, "frost", Of(in).RestCelsius, -9, 1e-9)
	in.Legs, in.Minutes = []Leg{stroll("way", 50)}, 60
	if r := Of(in); r.RestCelsius != 0 || r.RestCategory != 0 || r.Sleeps {
		t.Errorf("an hour walked is no rest: %+v", r)
	}
}

// Category 3: the bearer of 20 kg works 30 minutes and drinks a quart. The other could work 40 and walks 30 of them:
// three quarters of three quarters of a quart, and a quarter of the 100 ml at rest.
func TestTheHardestWorkSetsTheRest(t *testing.T) {
	in := &Input{Minutes: 60, Start: 480, Weather: still(30.5, 0.5), Legs: []Leg{{Distance: 9000, Pace: 800}}, Bodies: []Body{grown(0), grown(20)}}
	r := Of(in)
	same(t, "walked", r.Hours[0].WalkMin, 30)
	near(t, "the other", float64(r.Bodies[0].DrinkML), 0.75*0.75*quart+25, 0.5)
	near(t, "the bearer", float64(r.Bodies[1].DrinkML), quart, 0.5)
}

// 1.5 quarts an hour and 12 a day; who asks 2 L an hour has the twelve after eight hours, and each day anew.
func TestCaps(t *testing.T) {
	b := grown(0)
	b.DrinkML = 48_000
	hours := func(n int64) int64 {
		return Of(&Input{Minutes: n * 60, Start: 480, Bodies: []Body{b}}).Bodies[0].DrinkML
	}
	near(t, "an hour", float64(hours(1)), 1.5*quart, 0.5)
	near(t, "eight hours", float64(hours(8)), 12*quart, 0.5)
	near(t, "a day", float64(hours(24)), 12*quart, 0.5)
	near(t, "the day after", float64(hours(25)), 13.5*quart, 0.5)
	b.Adult = false
	same(t, "the caps are for adults", hours(24), 48_000)
}

// In the heat a child walks 50 minutes and drinks 5 US fl oz (29.5735 ml) every 20 of them, from 90 lb (40.82 kg) on 9,
// and a sixth of the 100 ml at rest.
func TestChildren(t *testing.T) {
	for _, c := range []struct{ mass, want float64 }{
		{30, 15*29.5735*5/6 + 100.0/6},
		{40.8, 15*29.5735*5/6 + 100.0/6},
		{40.9, 27*29.5735*5/6 + 100.0/6},
	} {
		b := grown(0)
		b.Adult, b.Mass = false, c.mass
		r := Of(&Input{Minutes: 60, Start: 480, Weather: still(34, 0.5), Legs: []Leg{stroll("way", 90)}, Bodies: []Body{b}})
		near(t, "drink", float64(r.Bodies[0].DrinkML), c.want, 0.5)
		near(t, "sweat", float64(r.Bodies[0].SweatML), c.want-100.0/6, 0.5)
	}
}

// 70 kg: a quarter of a litre an hour, half from 25 °C on; half the body, half of it. 50 minutes are walked.
func TestSweat(t *testing.T) {
	for _, c := range []struct {
		weather    *Weather
		mass, rate float64
	}{
		{nil, 70, 250}, {nil, 35, 125},
		{still(24.9, 0.1), 70, 250}, {still(25, 0.1), 70, 500}, {still(25, 0.1), 35, 250},
	} {
		b := grown(0)
		b.Mass = c.mass
		r := Of(&Input{Minutes: 60, Start: 480, Weather: c.weather, Legs: []Leg{stroll("way", 90)}, Bodies: []Body{b}})
		same(t, "category", r.Category, 0)
		near(t, "sweat", float64(r.Bodies[0].SweatML), c.rate*50/60, 0.5)
		near(t, "drink", float64(r.Bodies[0].DrinkML), 100+c.rate*50/60, 0.5)
		// 43.2 mmol of 22.99 mg in a litre (Del Coso et al. 2016).
		near(t, "sodium", float64(r.Bodies[0].SodiumMG), 60+c.rate*50/60/1000*43.2*22.99, 0.5)
	}
}

// Two people, 120 mg an hour: 270 mg last two hours, of the third 90 are lacking, 30 of one and 60 of the other.
func TestSodium(t *testing.T) {
	in := &Input{Minutes: 240, Start: 480, Bodies: []Body{grown(0), grown(0)}, Foods: []Food{
		{ID: "bar", Carrier: Nobody, For: Everybody, EnergyJ: 1_000_000, SodiumMG: 270},
		{ID: "paste", Carrier: Nobody, For: Everybody, SodiumMG: 0},
	}}
	r := Of(in)
	same(t, "stock", of(t, r, kinds.StockSodium, Everybody, ""), Stock{Kind: kinds.StockSodium, Body: Everybody, Lasts: 2, First: 90, Short: 210, Have: 270, Need: 480})
	same(t, "event", events(r, Short)[1], Event{Hour: 2, Until: 2, Kind: Short, Stock: kinds.StockSodium, Body: Everybody, Amount: 90})
	same(t, "day", r.Days[0].SodiumNeedMG, 480)
	same(t, "eaten", r.Days[0].SodiumMG, 270)
	in.Foods[0].SodiumMG = 500
	same(t, "enough", of(t, Of(in), kinds.StockSodium, Everybody, ""), Stock{Kind: kinds.StockSodium, Body: Everybody, Lasts: 4, Have: 500, Need: 480, Lowest: 20})
}

// 100 ml an hour from 350 and 200: the first gives twice, leaving 150, and then the second.
func TestTheFullestFirst(t *testing.T) {
	in := &Input{Minutes: 180, Start: 480, Bodies: []Body{grown(0)}, Vessels: []Vessel{{ID: "a", WaterML: 350, CapacityML: 350, Carrier: Nobody}, {ID: "b", WaterML: 200, CapacityML: 200, Carrier: Nobody}}}
	r := simulate(in, 60)
	same(t, "a", r.water.in[0], 150)
	same(t, "b", r.water.in[1], 100)
	in.Minutes = 6 * 60
	r = simulate(in, 60)
	// 50 are lacking in the last hour.
	same(t, "stock", of(t, r.res, kinds.StockWater, Everybody, ""), Stock{Kind: kinds.StockWater, Body: Everybody, Lasts: 5, First: 50, Short: 50, Have: 550, Need: 600})
	same(t, "day", r.res.Days[0], Day{SpentJ: 2_520_000, NeedML: 600, DrunkML: 550, FindML: 50, SodiumNeedMG: 360})
}

var every = [Classes]bool{true, true, true, true}

// camp is one adult for some hours at one source, with empty vessels.
func camp(hours int64, s Source, treatments []Treatment, capacities ...int64) *Input {
	s.Leg = NoLeg
	in := &Input{Minutes: hours * 60, Start: 480, Bodies: []Body{grown(0)}, Sources: []Source{s}, Treatments: treatments}
	for i, ml := range capacities {
		in.Vessels = append(in.Vessels, Vessel{ID: string(rune('a' + i)), Carrier: Nobody, CapacityML: ml})
	}
	return in
}

func TestSources(t *testing.T) {
	tap := Source{ID: "s", ML: NoEnd, Clean: true}
	clear := Source{ID: "s", ML: NoEnd}
	mud := Source{ID: "s", ML: NoEnd, Turbid: true}
	counted := Source{ID: "s", ML: 450, Clean: true}
	filter := Treatment{ID: "f", ML: 600, Clears: [Classes]bool{true, false, true, true}, Filters: true}
	drops := Treatment{ID: "d", ML: 5000, Clears: every, WaitMin: 30}
	lamp := Treatment{ID: "u", ML: 5000, Clears: every}
	chlorine := Treatment{ID: "d", ML: 700, Clears: [Classes]bool{true, true, true, false}, WaitMin: 30}
	hourly := lamp
	hourly.PerHour = 60
	for _, c := range []struct {
		name       string
		source     Source
		treatments []Treatment
		fuel       int64
		boils      bool
		room       int64
		// After four hours, of which each asks 100 ml.
		collected, short int64
		limit            string
		treats           []float64
		fuelLeft         float64
	}{
		{name: "tap", source: tap, room: 500, collected: 800}, // 500 and 100 three times
		{name: "counted litres run out", source: counted, room: 500, collected: 450},
		{name: "fewer", source: Source{ID: "s", ML: 250, Clean: true}, room: 500, collected: 250, short: 150, limit: "sources"},
		{name: "none", source: Source{ID: "s", Clean: true}, room: 500, short: 400, limit: "sources"},
		{name: "no treatment", source: clear, room: 500, short: 400, limit: "treatment"},
		{name: "no fuel to boil with", source: clear, room: 500, boils: true, short: 400, limit: "treatment"},
		{name: "nobody boils", source: clear, room: 500, fuel: 1000, short: 400, limit: "treatment", fuelLeft: 1000},
		{name: "boiled, by fuel", source: clear, room: 500, boils: true, fuel: 350, collected: 350, short: 50, limit: "treatment"},
		{name: "mud boils too", source: mud, room: 500, boils: true, fuel: 900, collected: 800, fuelLeft: 100},
		{name: "a lamp in clear water", source: clear, room: 500, treatments: []Treatment{lamp}, collected: 800, treats: []float64{4200}},
		{name: "a lamp in mud", source: mud, room: 500, treatments: []Treatment{lamp}, short: 400, limit: "treatment", treats: []float64{5000}},
		{name: "a filter leaves viruses", source: clear, room: 500, treatments: []Treatment{filter}, short: 400, limit: "treatment", treats: []float64{600}},
		// Both are used up alike, and the lamp is no good for mud without the filter.
		{name: "a lamp behind a filter", source: mud, room: 500, treatments: []Treatment{filter, lamp}, collected: 600, treats: []float64{0, 4400}},
		{name: "a lamp that clears all uses up the filter too", source: mud, room: 500, treatments: []Treatment{lamp, {ID: "z", ML: 300, Filters: true}}, collected: 300, short: 100, limit: "treatment", treats: []float64{4700, 0}},
		// Waits half an hour: what is taken in hour 0 can be drunk from hour 2 on.
		{name: "drops wait", source: clear, room: 500, treatments: []Treatment{drops}, collected: 600, short: 200, limit: "treatment", treats: []float64{4400}},
		// The filter's three classes and the chlorine's viruses.
		{name: "classes of two", source: mud, room: 500, treatments: []Treatment{filter, chlorine}, collected: 600, short: 200, limit: "treatment", treats: []float64{0, 100}},
		{name: "by the hour", source: clear, room: 500, treatments: []Treatment{hourly}, collected: 240, short: 160, limit: "treatment", treats: []float64{4760}},
		// 400 by the lamp, the other 400 boiled.
		{name: "boiling comes last", source: clear, room: 500, treatments: []Treatment{{ID: "u", ML: 400, Clears: every}}, boils: true, fuel: 1000, collected: 800, treats: []float64{0}, fuelLeft: 600},
		{name: "little room", source: tap, room: 60, collected: 240, short: 160, limit: "vessels"},
		{name: "little room and no treatment", source: clear, room: 60, short: 400, limit: "vessels and treatment"},
	} {
		in := camp(4, c.source, c.treatments, c.room)
		in.FuelML, in.BoilTreats = c.fuel, c.boils
		r := simulate(in, 60)
		same(t, c.name+", collected", r.res.Days[0].CollectedML, c.collected)
		same(t, c.name+", short", of(t, r.res, kinds.StockWater, Everybody, "").Short, c.short)
		same(t, c.name+", limit", Of(in).WaterLimit, kinds.WaterLimit(c.limit))
		same(t, c.name+", fuel", r.fuel, c.fuelLeft)
		for i, want := range c.treats {
			near(t, c.name+", treatment", r.water.treats[i], want, 1e-6)
		}
		if n := len(events(r.res, Collect)); n > 1 {
			t.Errorf("%s: collected %d times, not merged", c.name, n)
		}
	}
	r := Of(camp(4, tap, nil, 500))
	same(t, "merged", r.Events[0], Event{Hour: 0, Until: 3, Kind: Collect, ID: "s", Body: Everybody, Amount: 800})
	same(t, "no sources", Of(&Input{Minutes: 60, Bodies: []Body{grown(0)}}).WaterLimit, "sources")
}

// What waits takes room, and is no water to drink; two vessels are filled one after the other.
func TestRoom(t *testing.T) {
	drops := []Treatment{{ID: "d", ML: 1000, Clears: every, WaitMin: 61}}
	r := simulate(camp(2, Source{ID: "s", ML: NoEnd}, drops, 300, 200), 60)
	same(t, "collected", r.res.Days[0].CollectedML, 500)
	same(t, "safe", r.res.Hours[1].WaterML, 0)
	same(t, "in a", r.water.waitingIn(0), 300)
	same(t, "in b", r.water.waitingIn(1), 200)
	in := camp(2, Source{ID: "s", ML: NoEnd, Clean: true}, nil, 300)
	in.Vessels[0].WaterML = 250
	same(t, "room for 50, then for 100", Of(in).Days[0].CollectedML, 150)
}

// Two taps: the second gives what the first cannot.
func TestTwoSources(t *testing.T) {
	in := camp(1, Source{ID: "a", ML: 120, Clean: true}, nil, 300)
	in.Sources = append(in.Sources, Source{ID: "b", Leg: NoLeg, ML: NoEnd, Clean: true})
	r := Of(in)
	same(t, "a", r.Events[0].Amount, 120)
	same(t, "b", r.Events[1].Amount, 180)
}

// Treated water that waits at the turn of the day is carried: 24 hours of 100 ml are drunk, 500 are in the vessel.
func TestFindCountsWhatWaits(t *testing.T) {
	in := camp(48, Source{ID: "s", ML: 500}, []Treatment{{ID: "d", ML: 1000, Clears: every, WaitMin: 24 * 60}}, 500)
	r := Of(in)
	same(t, "first day", r.Days[0].FindML, 2400)
	same(t, "second day", r.Days[1].FindML, 1900)
}

// Small amounts add up: 0.4 ml an hour, for ten hours, are four.
func TestSmallAmountsAddUp(t *testing.T) {
	in := camp(10, Source{ID: "s", ML: NoEnd, Clean: true}, nil, 100)
	in.Bodies[0].DrinkML = 9.6
	in.Vessels[0].WaterML = 100
	r := Of(in)
	near(t, "collected", float64(r.Days[0].CollectedML), 4, 1)
}

// Legs of 50 and of 200 minutes, a source at each end. In hour 0, 308.33 ml are drunk. In its end they take what hour 1
// atSource the halt asks, and a quarter more: 125. In hour 1 they take what that hour and the four of the second leg ask,
// and a quarter more: 1.25 × (100 + 4 × 308.33) = 1,666.67, less the 125.
func TestToTheNextWater(t *testing.T) {
	in := &Input{
		Minutes: 360, Start: 480, Legs: []Leg{stroll("one", 50), stroll("two", 200)}, Bodies: []Body{grown(1)},
		Vessels: []Vessel{{ID: "v", Carrier: 0, CapacityML: 5000, WaterML: 400}},
		Sources: []Source{{ID: "s", Leg: 0, Along: 3000, ML: NoEnd, Clean: true}, {ID: "t", Leg: 1, Along: 12000, ML: NoEnd, Clean: true}},
	}
	drunk := 100 + 250*50.0/60
	r := Of(in)
	near(t, "after hour 0", float64(r.Hours[0].WaterML), 125, 0.5)
	near(t, "after hour 1", float64(r.Hours[1].WaterML), 1.25*(100+4*drunk)-100, 0.5)
	near(t, "after hour 4", float64(r.Hours[4].WaterML), 1.25*(100+4*drunk)-100-3*drunk, 0.5)
	same(t, "full at the end of the way", r.Hours[5].WaterML, 5000)
	same(t, "short", of(t, r, kinds.StockWater, Everybody, "").Short, 0)
	near(t, "the most load is that of hour 2", float64(r.Bodies[0].MostMG), 1e6+1e3*(1.25*(100+4*drunk)-100-400), 1)
	same(t, "its hour", r.Bodies[0].MostHour, 2)

	// Without the second source, or where it is counted out or cannot be made safe, to the end of the plan.
	for _, s := range [][]Source{
		in.Sources[:1],
		{in.Sources[0], {ID: "t", Leg: 1, Along: 12000, ML: 9000, Clean: true}},
		{in.Sources[0], {ID: "t", Leg: 1, Along: 12000, ML: NoEnd}},
		{in.Sources[0], {ID: "t", Leg: 0, Along: 4000, ML: NoEnd, Clean: true}}, // never met
	} {
		in.Sources = s
		in.Minutes = 480 // two hours more of 100 ml
		near(t, "to the end", float64(Of(in).Hours[1].WaterML), 1.25*(300+4*drunk)-100, 0.5)
	}
	// A wait at the next one counts as way: half an hour is two hours later, since it is taken at the end of hour 5.
	in.Sources = []Source{in.Sources[0], {ID: "t", Leg: 1, Along: 12000, ML: NoEnd}}
	in.Treatments = []Treatment{{ID: "d", ML: 5000, Clears: every, WaitMin: 30}}
	near(t, "with the wait", float64(Of(in).Hours[1].WaterML), 1.25*(200+4*drunk)-100, 0.5)
}

// The last hour at water before one hour's walk: 308.33 ml are drunk on it, none is lacking.
func TestDrinkBeforeLeaving(t *testing.T) {
	in := &Input{
		Minutes: 240, Start: 480, Legs: []Leg{stroll("one", 50), stroll("two", 50)}, Bodies: []Body{grown(0)},
		Vessels: []Vessel{{ID: "v", Carrier: 0, CapacityML: 1000, WaterML: 400}},
		Sources: []Source{{ID: "s", Leg: 0, Along: 3000, ML: NoEnd, Clean: true}, {ID: "t", Leg: 1, Along: 3000, ML: NoEnd, Clean: true}},
	}
	same(t, "short", of(t, Of(in), kinds.StockWater, Everybody, "").Short, 0)
}

// In the middle of a leg, and at a long rest beside it.
func TestSourceOnTheWay(t *testing.T) {
	leg := stroll("way", 700) // twelve hours of 3 km, a rest of eight and two more
	at := func(along float64) []Event {
		in := &Input{
			Minutes: 24 * 60, Start: 480, Legs: []Leg{leg}, Bodies: []Body{grown(0)}, Vessels: []Vessel{{ID: "v", Carrier: 0, CapacityML: 3000}},
			Sources: []Source{{ID: "s", Leg: 0, Along: along, ML: NoEnd, Clean: true}},
		}
		return events(Of(in), Collect)
	}
	for _, c := range []struct {
		along       float64
		hour, until int
	}{
		{0, 0, 0}, {3000, 0, 0}, {3001, 1, 1},
		{36000, 11, 19}, // by the rest
		{42000, 21, 23}, // the end of the way
	} {
		got := at(c.along)
		if len(got) != 1 || got[0].Hour != c.hour || got[0].Until != c.until {
			t.Errorf("at %v m: %+v, want hours %d to %d", c.along, got, c.hour, c.until)
		}
	}
	if got := at(42001); got != nil {
		t.Errorf("beyond the end: %+v", got)
	}
}

// Water that is there all the time is taken before the walk too, so its load is walked with: the vessel of 1 L is filled
// up to 1.25 × 308.33 (there is no other water, and the plan ends).
func TestFilledUpBeforeTheWalk(t *testing.T) {
	in := &Input{
		Minutes: 60, Start: 480, Legs: []Leg{stroll("way", 100)}, Bodies: []Body{grown(5)}, Vessels: []Vessel{{ID: "v", Carrier: 0, CapacityML: 1000}},
		Sources: []Source{{ID: "s", Leg: NoLeg, ML: NoEnd, Clean: true}},
	}
	r := Of(in)
	took := 1.25 * (100 + 250*50.0/60)
	near(t, "the most", float64(r.Bodies[0].MostMG), 5e6+took*1000, 1000)
	near(t, "spent", float64(r.Bodies[0].SpentJ), body.Walk(70, 5+took/1000, 1, 1, 0)*3000+70_000, 1)
	same(t, "short", of(t, r, kinds.StockWater, Everybody, "").Short, 0)
}

// A vessel and a better treatment each alone do not mend it: room for the water of the way, none safe.
func TestWaterLimitOnTheWay(t *testing.T) {
	in := &Input{
		Minutes: 600, Start: 480, Legs: []Leg{stroll("way", 400)}, Bodies: []Body{grown(0)}, Vessels: []Vessel{{ID: "v", Carrier: 0, CapacityML: 1000, WaterML: 500}},
		Sources: []Source{{ID: "s", Leg: 0, Along: 3000, ML: NoEnd}},
	}
	same(t, "both", Of(in).WaterLimit, "vessels and treatment")
	in.Sources[0].Clean = true
	same(t, "vessels", Of(in).WaterLimit, "vessels")
	in.Sources[0] = Source{ID: "s", Leg: 0, Along: 20000, ML: NoEnd, Clean: true}
	same(t, "too far", Of(in).WaterLimit, "sources")
}

// Clean water first, whatever the order written; and what waits until tomorrow is no reason to pass a tap by.
func TestCleanWaterFirst(t *testing.T) {
	in := &Input{
		Minutes: 360, Start: 480, Legs: []Leg{stroll("one", 50), stroll("two", 200)}, Bodies: []Body{grown(1)},
		Vessels:    []Vessel{{ID: "v", Carrier: 0, CapacityML: 5000, WaterML: 400}},
		Treatments: []Treatment{{ID: "d", ML: 5000, Clears: every, WaitMin: day}},
		Sources:    []Source{{ID: "a", Leg: 0, Along: 3000, ML: NoEnd}, {ID: "b", Leg: 0, Along: 3000, ML: NoEnd, Clean: true}},
	}
	r := simulate(in, 60)
	same(t, "short", of(t, r.res, kinds.StockWater, Everybody, "").Short, 0)
	same(t, "treated", r.water.treats[0], 5000)

	// Pools before the tap, so that a whole batch waits when it is reached.
	in.Sources[0].Along = 2000
	in.Legs[0] = stroll("one", 90)
	in.Sources[1].Along = 90 * 60
	r = simulate(in, 60)
	if len(r.water.waiting) == 0 {
		t.Error("nothing waits")
	}
	in.Vessels[0].WaterML = 700
	same(t, "short of what waits", of(t, simulate(in, 60).res, kinds.StockWater, Everybody, "").Short, 0)
}

// Water that nothing carried makes safe is passed by, and it is told once why; the last of what it leaves is mud.
func TestPassesWaterBy(t *testing.T) {
	filters := Treatment{ID: "f", ML: 1000, Clears: [Classes]bool{true, false, true, true}, Filters: true}
	tablets := Treatment{ID: "t", ML: 1000, Clears: [Classes]bool{true, true, true, false}}
	brook, pool := Source{ID: "s", Leg: 0, Along: 3000, ML: NoEnd}, Source{ID: "s", Leg: 0, Along: 3000, ML: NoEnd, Turbid: true}
	none := [Classes + 1]bool{}
	for _, c := range []struct {
		name   string
		source Source
		treats []Treatment
		fuel   int64
		full   bool
		want   [Classes + 1]bool
	}{
		{"filter alone", brook, []Treatment{filters}, 0, false, [Classes + 1]bool{1: true}},
		{"two filters", brook, []Treatment{filters, filters}, 0, false, [Classes + 1]bool{1: true}},
		{"tablets alone", brook, []Treatment{tablets}, 0, false, [Classes + 1]bool{3: true}},
		{"tablets alone at a pool", pool, []Treatment{tablets}, 0, false, [Classes + 1]bool{3: true, Classes: true}},
		{"nothing", brook, nil, 0, false, [Classes + 1]bool{true, true, true, true, false}},
		{"both", brook, []Treatment{filters, tablets}, 0, false, none},
		{"both at a pool", pool, []Treatment{filters, tablets}, 0, false, none},
		{"used up", brook, []Treatment{filters, {ID: "t", Clears: tablets.Clears}}, 0, false, [Classes + 1]bool{1: true}},
		{"boils", brook, []Treatment{filters}, 1000, false, none},
		{"no room", brook, []Treatment{filters}, 0, true, none},
		{"a tap that is empty", Source{ID: "s", Leg: 0, Along: 3000, Clean: true}, nil, 0, false, none},
	} {
		in := &Input{
			Minutes: 240, Start: 480, Legs: []Leg{stroll("one", 50), stroll("two", 50)}, Bodies: []Body{grown(0)}, Sources: []Source{c.source}, Treatments: c.treats,
			Vessels: []Vessel{{ID: "v", Carrier: 0, CapacityML: 1000}}, FuelML: c.fuel, BoilTreats: c.fuel > 0,
		}
		if c.full { // filled again by what is there all the time
			in.Sources = append(in.Sources, Source{ID: "a", Leg: NoLeg, ML: NoEnd, Clean: true})
		}
		got := events(Of(in), Pass)
		switch {
		case c.want == none && len(got) == 0:
		case len(got) == 1 && got[0] == Event{Hour: 0, Until: 0, Kind: Pass, ID: "s", Body: Everybody, Leaves: c.want}:
		default:
			t.Errorf("%s: %+v, want %v", c.name, got, c.want)
		}
	}
}

// The highest category is reached before the hour is the hottest: air of 34 °C at 15 o'clock, walked from 12 on.
func TestHottestHour(t *testing.T) {
	in := &Input{Minutes: 600, Start: 12 * 60, Weather: &Weather{Day: 34, Night: 19, Humidity: 0.45, Daylight: day}, Legs: []Leg{stroll("way", 300)}, Bodies: []Body{grown(0)}}
	r := Of(in)
	same(t, "hottest", r.HottestHour, 3) // the air warms in 9 hours and cools in 15, so half past three is hotter than half past two
	if r.CategoryHour >= r.HottestHour || r.Category == 0 {
		t.Errorf("category %d first in hour %d, the hottest in hour %d", r.Category, r.CategoryHour, r.HottestHour)
	}
	high := body.Temperature(15.5, 34, 19)
	near(t, "index", r.HeatIndex, (body.HeatIndex(body.Fahrenheit(high), body.Humidity(15.5, 0.45, 34, 19))-32)/1.8, 1e-9)
	same(t, "within the chart", r.HeatBeyond, false)

	// Only hours walked count, and only those in a category.
	in.Legs[0] = stroll("way", 50)
	same(t, "the only hour", Of(in).HottestHour, 0)
	in.Weather.Day = 19
	r = Of(in)
	if r.HeatIndex != 0 || r.Category != 0 || r.HottestHour != 0 {
		t.Errorf("a mild day: %+v", r)
	}

	// 45 °C in damp air: no figure.
	in.Weather = still(45, 0.9)
	r = Of(in)
	if !r.HeatBeyond || r.HeatIndex != 0 || r.Category != 5 {
		t.Errorf("beyond the chart: %v %v, category %d", r.HeatBeyond, r.HeatIndex, r.Category)
	}
}
