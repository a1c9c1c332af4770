package forecast

import (
	"math"
	"testing"

	"kitmuster/lint/body"
	"kitmuster/lint/kinds"
)

// grown is an adult of 70 kg who asks round figures of an hour: at rest 300 kJ, 100 ml and 60 mg of sodium.
func grown(load float64) Body {
	return Body{ID: "a", Name: "Ada", Adult: true, Walks: true, CarriesPack: true, Mass: 70, Load: load, RestJ: 7_200_000, DrinkML: 2400, SodiumMG: 1440}
}

// stroll is a leg of so many minutes of walking at the family's own 1 m/s on a road.
func stroll(id string, minutes float64) Leg {
	return Leg{ID: id, Distance: minutes * 60, Pace: 1000}
}

// still is weather that never changes.
func still(celsius, humidity float64) *Weather {
	return &Weather{Day: celsius, Night: celsius, Humidity: humidity, Daylight: day}
}

func of(t *testing.T, r *Result, kind kinds.Stock, who int, id string) Stock {
	t.Helper()
	for _, s := range r.Stocks {
		if s.Kind == kind && s.Body == who && s.ID == id {
			return s
		}
	}
	t.Fatalf("no stock of %s %d %q in %+v", kind, who, id, r.Stocks)
	return Stock{}
}

func same[T comparable](t *testing.T, what string, got, want T) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, tolerance)
	}
}

func events(r *Result, kind string) (list []Event) {
	for _, e := range r.Events {
		if e.Kind == kind {
			list = append(list, e)
		}
	}
	return list
}

func TestPace(t *testing.T) {
	slow := grown(20)
	animal, carried := slow, slow
	animal.Animal, animal.Adult = true, false
	carried.Walks = false
	for _, c := range []struct {
		name    string
		leg     Leg
		bodies  []Body
		vessels []Vessel
		want    int64
	}{
		// Naismith: 5 km in 60 minutes, and 60 more for 600 m of climb.
		{"level", Leg{Distance: 5000}, []Body{grown(0)}, nil, 60},
		{"climb", Leg{Distance: 5000, Climb: 600}, []Body{grown(0)}, nil, 120},
		{"a gentle descent counts nothing", Leg{Distance: 5000, Descent: 250}, []Body{grown(0)}, nil, 60},
		// Tobler: 6 km/h × exp(-3.5 × |-0.12 + 0.05|) is 4.696 km/h, 63.9 minutes.
		{"a steep one slows down", Leg{Distance: 5000, Descent: 600}, []Body{grown(0)}, nil, 64},
		{"grass", Leg{Distance: 5000, Ground: "grass"}, []Body{grown(0)}, nil, 62}, // × 1.03 = 61.8
		// 20 kg at 70: 105 + 105 × 1.9290 = 307.55 W without. 105 + 180 × (2/7)² + 135 v² = 307.55 gives
		// v = 1.17962 m/s, so 70.64 minutes.
		{"load", Leg{Distance: 5000}, []Body{slow}, nil, 71},
		{"the slowest sets it", Leg{Distance: 5000}, []Body{grown(0), slow}, nil, 71},
		{"nobody goes faster than they can", Leg{Distance: 5000}, []Body{grown(0), {Walks: true, Mass: 70, Pace: 0.5}}, nil, 167},
		{"who could go faster goes no slower", Leg{Distance: 5000}, []Body{{Walks: true, Mass: 70, Pace: 5}}, nil, 60},
		{"who is carried and animals do not", Leg{Distance: 5000}, []Body{grown(0), animal, carried}, nil, 60},
		{"vessels that nothing fills count as they are", Leg{Distance: 5000}, []Body{grown(20)}, []Vessel{{Carrier: 0, CapacityML: 20_000, WaterML: 500}}, 71},
		{"others' vessels do not", Leg{Distance: 5000}, []Body{grown(0)}, []Vessel{{Carrier: Nobody, CapacityML: 20000}}, 60},
		// 900 s for 1 km is 75 minutes for 5, whatever is climbed and borne.
		{"the family's own", Leg{Distance: 5000, Climb: 600, Ground: "bog", Pace: 900}, []Body{slow}, nil, 75},
		{"no way", Leg{Climb: 100}, []Body{slow}, nil, 0},
		{"nobody walks", Leg{Distance: 5000}, []Body{carried}, nil, 60},
	} {
		r := Of(&Input{Minutes: 600, Start: 480, Legs: []Leg{c.leg}, Bodies: c.bodies, Vessels: c.vessels})
		if got := r.Legs[0]; got.WalkMin != c.want || got.Begin != 0 || got.End != int(max(0, c.want-1)/50) {
			t.Errorf("%s: %+v, want %d minutes", c.name, got, c.want)
		}
	}
}

// An empty vessel of 2 L beside 18 kg counts as full, so as 20 kg and 71 minutes (see TestPace), from the first water on
// that can be made safe; before it, 18 kg are 69.
func TestVesselsCountAsFullWhereTheyCanBeFilled(t *testing.T) {
	spring := Source{Leg: 0, Along: 4999, ML: NoEnd, Clean: true}
	with := func(change func(*Source)) []Source {
		s := spring
		change(&s)
		return []Source{s}
	}
	filter := []Treatment{{ML: 1, Clears: every, Filters: true}}
	for _, c := range []struct {
		name     string
		sources  []Source
		treats   []Treatment
		fuel     int64
		one, two int64
	}{
		{"no water", nil, nil, 0, 69, 69},
		{"before the end", []Source{spring}, nil, 0, 71, 71},
		{"at the end", with(func(s *Source) { s.Along = 5000 }), nil, 0, 69, 71},
		{"on the second leg", with(func(s *Source) { s.Leg = 1 }), nil, 0, 69, 71},
		{"all the time", with(func(s *Source) { s.Leg = NoLeg }), nil, 0, 71, 71},
		{"empty", with(func(s *Source) { s.ML = 0 }), nil, 0, 69, 69},
		{"not safe", with(func(s *Source) { s.Clean = false }), nil, 0, 69, 69},
		{"half safe", with(func(s *Source) { s.Clean = false }), []Treatment{{ML: 1000, Filters: true}}, 0, 69, 69},
		{"made safe", with(func(s *Source) { s.Clean = false }), filter, 0, 71, 71},
		{"boiled", with(func(s *Source) { s.Clean = false }), nil, 1, 71, 71},
	} {
		way := Leg{Distance: 5000}
		in := &Input{Minutes: 600, Start: 480, Legs: []Leg{way, way}, Bodies: []Body{grown(18)}, Vessels: []Vessel{{Carrier: 0, CapacityML: 2000}}, Sources: c.sources, Treatments: c.treats, FuelML: c.fuel, BoilTreats: c.fuel > 0}
		r := Of(in)
		if one, two := r.Legs[0].WalkMin, r.Legs[1].WalkMin; one != c.one || two != c.two {
			t.Errorf("%s: %d and %d minutes, want %d and %d", c.name, one, two, c.one, c.two)
		}
	}
}

// 120 minutes of walking: 50, 50 and 20 of three hours.
func TestFiftyMinutesOfAnHour(t *testing.T) {
	r := Of(&Input{Minutes: 300, Start: 480, Legs: []Leg{stroll("way", 120)}, Bodies: []Body{grown(0), {ID: "b", Mass: 10}}})
	for i, want := range []int64{50, 50, 20, 0, 0} {
		h := r.Hours[i]
		activity, leg := Halt, NoLeg
		if want > 0 {
			activity, leg = Walk, 0
		}
		if h.WalkMin != want || h.Activity != activity || h.Leg != leg || h.Clock != int64(480+60*i) {
			t.Errorf("hour %d: %+v", i, h)
		}
	}
	same(t, "day", r.Days[0].WalkMin, 120)
	same(t, "walker", r.Bodies[0].WalkMin, 120)
	same(t, "carried", r.Bodies[1].WalkMin, 0)
	same(t, "departure", r.Events[0], Event{Hour: 0, Until: 0, Kind: Leave, ID: "way", Body: Everybody, Amount: 120})
	// 60 mg of salt at rest and 206.9 sweated; 100 ml at rest and 250 × 50/60.
	same(t, "salt", r.Events[1], Event{Hour: 0, Until: 0, Kind: Short, Stock: kinds.StockSodium, Body: Everybody, Amount: 267})
	same(t, "water", r.Events[2], Event{Hour: 0, Until: 0, Kind: Short, Stock: kinds.StockWater, Body: Everybody, Amount: 308})
	same(t, "arrival", events(r, Arrive)[0], Event{Hour: 2, Until: 2, Kind: Arrive, ID: "way", Body: Everybody})
}

// 1,200 minutes are 24 hours on the way: 8 to 20 o'clock, rest until 4, and 12 hours more.
func TestStretch(t *testing.T) {
	r := Of(&Input{Minutes: 40 * 60, Start: 480, Legs: []Leg{stroll("way", 1200)}, Bodies: []Body{grown(0)}})
	for i, h := range r.Hours {
		walks := i < 12 || i >= 20 && i < 32
		if (h.Activity == Walk) != walks {
			t.Errorf("hour %d: %s", i, h.Activity)
		}
	}
	same(t, "end", r.Legs[0], LegResult{Begin: 0, End: 31, WalkMin: 1200})
}

// Two legs: the twelve hours run on over a short halt, so the second stops after the 12th hour on the way.
func TestShortHaltIsNoRest(t *testing.T) {
	r := Of(&Input{Minutes: 48 * 60, Start: 300, Legs: []Leg{stroll("one", 250), stroll("two", 500)}, Bodies: []Body{grown(0)}})
	// Hours 0 to 4; halt 5; 6 to 12 are seven more; rest 13 to 20; the last three.
	same(t, "one", r.Legs[0], LegResult{Begin: 0, End: 4, WalkMin: 250})
	same(t, "two", r.Legs[1], LegResult{Begin: 6, End: 23, WalkMin: 500})
	same(t, "hour 12", r.Hours[12].Activity, Walk)
	for i := 13; i < 21; i++ {
		if r.Hours[i].Activity == Walk {
			t.Errorf("hour %d is walked", i)
		}
	}
}

func TestSecondLeg(t *testing.T) {
	lit := func(daylight int64) *Weather { return &Weather{Day: 10, Night: 10, Humidity: 0.5, Daylight: daylight} }
	for _, c := range []struct {
		name    string
		start   int64
		weather *Weather
		begin   int
	}{
		{"an hour's halt", 480, nil, 2},
		{"not in the hours of sleep", 20 * 60, nil, 10},     // hour 0, halt from 21, asleep from 22 to 6
		{"by day", 17 * 60, lit(12 * 60), 13},               // dark from 18 to 6
		{"by day, in the morning", 4 * 60, lit(12 * 60), 2}, // light from 6, an hour's halt at 5
		{"six hours are a day", 13 * 60, lit(6 * 60), 20},   // light from 9 to 15: the hour from 15 is dark
		{"a short day", 13 * 60, lit(6*60 - 1), 2},          // awake is enough
		{"a short day, asleep", 20 * 60, lit(0), 10},
	} {
		in := &Input{Minutes: 30 * 60, Start: c.start, Weather: c.weather, Legs: []Leg{stroll("one", 50), stroll("two", 50)}, Bodies: []Body{grown(0)}}
		r := Of(in)
		if r.Legs[0].Begin != 0 || r.Legs[0].End != 0 || r.Legs[1].Begin != c.begin || r.Legs[1].End != c.begin {
			t.Errorf("%s: %+v, want hour %d", c.name, r.Legs, c.begin)
		}
	}
}

// The first leg is walked at once, in the dark: an hour of night, 50 minutes of it by the light of one who carries.
func TestFirstLegInTheDark(t *testing.T) {
	in := &Input{Minutes: 60, Start: 23 * 60, Weather: &Weather{Day: 10, Night: 10, Daylight: 720}, Legs: []Leg{stroll("one", 50)}, Bodies: []Body{grown(0)}}
	r := Of(in)
	if h := r.Hours[0]; h.Activity != Walk || h.DarkMin != 60 {
		t.Errorf("%+v", h)
	}
	same(t, "light", of(t, r, kinds.StockLight, Everybody, "").Need, 50)
}

// Never begun in the plan's time.
func TestUnbegunLeg(t *testing.T) {
	r := Of(&Input{Minutes: 120, Start: 480, Legs: []Leg{stroll("one", 50), stroll("two", 50)}, Bodies: []Body{grown(0)}})
	same(t, "leg", r.Legs[1], LegResult{Begin: Never, End: Never})
	r = Of(&Input{Minutes: 120, Start: 480, Legs: []Leg{stroll("one", 500)}, Bodies: []Body{grown(0)}})
	same(t, "unended", r.Legs[0], LegResult{Begin: 0, End: Never, WalkMin: 500})
}

// One grade up and one down: 100 m up and 300 m down over 4 km are 10 % over a quarter and the rest.
func TestGrades(t *testing.T) {
	for _, c := range []struct {
		climb, descent, distance, up, rise, fall float64
	}{
		{0, 0, 4000, 1, 0, 0},
		{100, 0, 4000, 1, 2.5, -2.5},
		{100, 300, 4000, 0.25, 10, -10},
		{0, 200, 4000, 0, 5, -5},
		{100, 100, 0, 1, 0, 0},
	} {
		in := &Input{Minutes: 60, Start: 480, Legs: []Leg{{Distance: c.distance, Climb: c.climb, Descent: c.descent, Pace: 1000, Ground: "grass"}}, Bodies: []Body{grown(10)}}
		r := simulate(in, 60)
		l := r.walk.legs[0]
		if l.up != c.up || l.rise != c.rise || l.fall != c.fall {
			t.Errorf("%+v: %+v", c, l)
		}
		if c.distance == 0 {
			continue
		}
		watts := c.up*body.Walk(70, 10, 1.1, 1, c.rise) + (1-c.up)*body.Walk(70, 10, 1.1, 1, c.fall)
		// 50 minutes walked, ten awake at 1.4 × 5 kJ a minute.
		near(t, "energy", float64(r.res.Bodies[0].SpentJ), watts*3000+70_000, 1)
	}
}

// Two hours walked under 10 kg, two of them water and the rest and a child carried on top.
func TestEnergyOfTheHoursLoad(t *testing.T) {
	b := grown(10)
	b.Extra = 12
	in := &Input{Minutes: 120, Start: 480, Legs: []Leg{stroll("way", 100)}, Bodies: []Body{b}, Vessels: []Vessel{{ID: "v", Carrier: 0, WaterML: 2000, CapacityML: 2000}}}
	r := Of(in)
	drunk := 100 + 250*50.0/60 // ml in the first hour
	first := body.Walk(70, 22, 1, 1, 0)*3000 + 70_000
	second := body.Walk(70, 22-drunk/1000, 1, 1, 0)*3000 + 70_000
	near(t, "first hour", float64(r.Hours[0].SpentJ), first, 1)
	near(t, "second hour", float64(r.Hours[1].SpentJ), second, 1)
	near(t, "load after the first", float64(r.Hours[0].LoadMG[0]), 10e6-drunk*1000, 1)
	near(t, "load after the second", float64(r.Bodies[0].LastMG), 10e6-2*drunk*1000, 1)
	same(t, "the most", r.Bodies[0].MostMG, 10e6)
	near(t, "day", float64(r.Days[0].SpentJ), first+second, 1)
}

// 300 kJ an hour at rest, 420 awake; a tenth more below freezing, wind counted.
func TestCamp(t *testing.T) {
	spent := func(w *Weather) (all []int64) {
		for _, h := range Of(&Input{Minutes: 600, Start: 20 * 60, Weather: w, Bodies: []Body{grown(0)}}).Hours {
			all = append(all, h.SpentJ)
		}
		return all
	}
	check := func(name string, got []int64, awake, asleep int64) {
		t.Helper()
		for i, j := range got { // 20 to 22 awake, 22 to 6 asleep
			want := asleep
			if i < 2 {
				want = awake
			}
			if j != want {
				t.Errorf("%s, hour %d: %d J, want %d", name, i, j, want)
			}
		}
	}
	check("no weather", spent(nil), 420_000, 300_000)
	check("0 °C", spent(still(0, 0.5)), 420_000, 300_000)
	check("-1 °C", spent(still(-1, 0.5)), 462_000, 330_000)
	windy := still(2, 0.5)
	windy.Wind = 10 // 36 km/h: 13.12 + 1.243 - 20.17 + 1.407 = -4.4 °C
	check("2 °C in the wind", spent(windy), 462_000, 330_000)
	r := Of(&Input{Minutes: 60, Weather: windy, Bodies: []Body{grown(0)}})
	near(t, "chill", r.Chill, -4.4, 0.05)

	// An animal's need is all that it spends, and is none of the people's.
	r = Of(&Input{Minutes: 60, Start: 480, Weather: still(-10, 0.5), Legs: []Leg{stroll("way", 50)}, Bodies: []Body{{Animal: true, Walks: true, Mass: 20, RestJ: 2_400_000, DrinkML: 1200, Eats: Own}}})
	same(t, "animal", r.Bodies[0], BodyResult{SpentJ: 100_000, DrinkML: 50, WalkMin: 50})
	same(t, "people", r.Hours[0].SpentJ, 0)
}

// The low is at 6 o'clock. The air rises in 9 hours and falls in 15, so half past five is colder than half past six.
func TestChillHour(t *testing.T) {
	r := Of(&Input{Minutes: day, Start: 0, Weather: &Weather{Day: 10, Night: 0, Daylight: 720}})
	same(t, "hour", r.ChillHour, 5)
	same(t, "from half past", Of(&Input{Minutes: day, Start: 30, Weather: &Weather{Day: 10, Night: 0, Daylight: 720}}).ChillHour, 5) // 05:30 to 06:30
	near(t, "noon", r.Hours[14].Celsius, body.Temperature(14.5, 10, 0), 1e-9)
}

// 90 minutes: the second hour is half of one.
func TestPartialLastHour(t *testing.T) {
	r := Of(&Input{Minutes: 90, Start: 480, Bodies: []Body{grown(0)}, Legs: []Leg{stroll("way", 100)}})
	same(t, "hours", len(r.Hours), 2)
	same(t, "walked", r.Hours[1].WalkMin, 25)
	near(t, "spent", float64(r.Bodies[0].SpentJ), body.Walk(70, 0, 1, 1, 0)*75*60+105_000, 1)
	near(t, "drink", float64(r.Bodies[0].DrinkML), 150+250*75.0/60, 1)
	same(t, "rest", Of(&Input{Minutes: 90, Start: 480, Bodies: []Body{grown(0)}}).Bodies[0].DrinkML, 150)
	if r := Of(&Input{}); len(r.Hours) != 0 || len(r.Days) != 0 || len(r.Stocks) != 5 {
		t.Errorf("a plan of no time: %+v", r)
	}
}

// 30 days and a quarter of an hour: 31 days, 721 hours; a dose each day at eight, the last of them in that quarter.
func TestLongPlan(t *testing.T) {
	in := &Input{
		Minutes: 30*day + 15, Start: 480, Bodies: []Body{grown(0)}, Sources: []Source{{ID: "tap", Leg: NoLeg, ML: NoEnd, Clean: true}},
		Vessels: []Vessel{{Carrier: Nobody, CapacityML: 1000}}, Medications: []Medication{{ID: "m", PerDay: 1000, Have: 40_000}},
	}
	r := Of(in)
	same(t, "hours", len(r.Hours), 721)
	same(t, "days", len(r.Days), 31)
	same(t, "drink", of(t, r, kinds.StockWater, Everybody, "").Need, 72_025)
	same(t, "short", of(t, r, kinds.StockWater, Everybody, "").Short, 0)
	same(t, "doses", of(t, r, kinds.StockDoses, 0, "m"), Stock{Kind: kinds.StockDoses, ID: "m", Lasts: 721, Have: 40_000, Need: 31_000, Lowest: 9000})
	same(t, "last day", r.Days[30].NeedML, 25)
}

func TestLight(t *testing.T) {
	night := &Weather{Day: 10, Night: 10, Daylight: 720} // light from 6 to 18
	mate := grown(0)
	pup := Body{Animal: true, Walks: true, CarriesPack: true, Mass: 20, Eats: Own}
	child := Body{Walks: true, Mass: 20}
	babe := Body{CarriesPack: true, Mass: 10}
	need := func(start, minutes int64, legs []Leg, who ...Body) int64 {
		return of(t, Of(&Input{Minutes: minutes, Start: start, Weather: night, Legs: legs, Bodies: who}), kinds.StockLight, Everybody, "").Need
	}
	same(t, "camp: 4 h awake in the dark, half of it", need(17*60, 12*60, nil, mate), 120)
	same(t, "morning: half an hour of dark before six asleep", need(5*60, 120, nil, mate), 0)
	same(t, "two who bear, 50 minutes each", need(19*60, 60, []Leg{stroll("a", 50)}, mate, mate, pup, child, babe), 100)
	same(t, "ten minutes walked, but half an hour of camp light", need(19*60, 60, []Leg{stroll("a", 10)}, mate), 30)
	same(t, "by day", need(10*60, 60, []Leg{stroll("a", 50)}, mate), 0)
	same(t, "half of the hour is dark", need(17*60+30, 60, []Leg{stroll("a", 50)}, mate), 25)

	in := &Input{Minutes: 240, Start: 18 * 60, Weather: night, Bodies: []Body{mate}, Lamps: Lamps{Minutes: 75}}
	// 30 minutes of each hour: 75 last two and half of the third.
	r := Of(in)
	same(t, "short", of(t, r, kinds.StockLight, Everybody, ""), Stock{Kind: kinds.StockLight, Body: Everybody, Lasts: 2, First: 15, Short: 45, Have: 75, Need: 120})
	same(t, "left", r.Hours[1].LightMin, 15)
	in.Lamps.Endless = true
	same(t, "endless", of(t, Of(in), kinds.StockLight, Everybody, ""), Stock{Kind: kinds.StockLight, Body: Everybody, Lasts: 4, Have: 75, Need: 120, Lowest: 75})
}

// Doses are at eight and evenly around the clock: of half a dose at 8; of one at 8; of two at 8 and 20; of two and a
// half at 8, 16 and 0, a third of it each, in whole thousandths.
func TestDoses(t *testing.T) {
	for _, c := range []struct {
		perDay int64
		at     map[int]int64 // hour of the day to thousandths
	}{
		{500, map[int]int64{8: 500}},
		{1000, map[int]int64{8: 1000}},
		{2000, map[int]int64{8: 1000, 20: 1000}},
		{2500, map[int]int64{8: 833, 16: 833, 0: 834}},
		{0, nil},
	} {
		for hour := range 24 {
			in := &Input{Minutes: 60, Start: int64(hour) * 60, Medications: []Medication{{ID: "m", PerDay: c.perDay, Have: 5000}}}
			if c.perDay == 0 {
				same(t, "no doses by the day", len(Of(in).Stocks), 5)
				continue
			}
			same(t, "need", of(t, Of(in), kinds.StockDoses, 0, "m").Need, c.at[hour])
		}
		for start := range int64(day) { // whatever the start, a day has its doses
			in := &Input{Minutes: day, Start: start, Medications: []Medication{{ID: "m", PerDay: c.perDay, Have: 5000}}}
			if c.perDay > 0 && of(t, Of(in), kinds.StockDoses, 0, "m").Need != c.perDay {
				t.Fatalf("%d a day from %d: %+v", c.perDay, start, Of(in).Stocks)
			}
		}
	}

	// Three of two a day from noon: 20, 8, 20 o'clock; the fourth is short, in hour 44, and a tenth of the third.
	in := &Input{Minutes: 48 * 60, Start: 12 * 60, Medications: []Medication{{ID: "m", Name: "drops", PerDay: 2000, Have: 2900}}}
	r := Of(in)
	same(t, "short", of(t, r, kinds.StockDoses, 0, "m"), Stock{Kind: kinds.StockDoses, ID: "m", Lasts: 32, First: 100, Short: 1100, Have: 2900, Need: 4000})
	same(t, "told", events(r, Short)[0], Event{Hour: 32, Until: 32, Kind: Short, ID: "m", Stock: kinds.StockDoses, Amount: 100})

	// The most that may be written: a million a day, 24 of 41,666 or 41,667 in each hour.
	in.Medications[0].PerDay = 1_000_000_000
	if s := of(t, Of(in), kinds.StockDoses, 0, "m"); s.Need != 2_000_000_000 || s.Lasts != 0 || s.First < 41_666_000-2900 || s.First > 41_667_000-2900 {
		t.Errorf("a million doses a day: %+v", s)
	}
}
