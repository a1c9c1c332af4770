package forecast

import (
	"math"

	"kitmuster/lint/body"
	"kitmuster/lint/kinds"
)

// What the walk through the hours takes for granted, beside the formulas of package
// body. All are our own lines unless a source is named.
const (
	// Of an hour, 50 minutes are walked and 10 rested: US Army FM 21-18, 1990, second-hand.
	walkOfHour = 50
	// Nobody walks longer than twelve hours without eight hours' rest.
	stretch, longRest = 12 * 60, 8 * 60
	// A leg but the first begins after an hour's halt, by day; where days are
	// shorter than six hours, whenever one is awake.
	haltBetween, shortDay = 60, 6 * 60
	// Sleep is from 22 to 6 o'clock where nobody walks.
	sleepFrom, sleepTo = 22 * 60, 6 * 60
	// The night's low, as package body has it.
	coldest = 6 * 60
	// Awake in camp one spends 1.4 times what one spends at rest: the low end of light activity, FAO/WHO/UNU 2001, from memory.
	campFactor = 1.4
	// CampDay is a day in camp as a multiple of the resting energy: 16 hours awake and 8 asleep.
	CampDay = (16*campFactor + 8) / 24
	// Below freezing, wind counted, people spend a tenth more: the low end of 10 to 40 % in cold-weather
	// operations that PMC5586032 (2017, its own page; year from memory) states as known.
	coldFactor, coldBelow = 1.1, 0.0
	// On the way people take water to the next and a quarter more.
	reserve = 1.25
	// In camp a lamp burns half of the dark time awake.
	campLight = 0.5
	// Below the army's table a walker of 70 kg loses a quarter of a litre an hour, others by their mass; from an air of
	// 25 °C on half a litre, the low end of 0.5 to 2.0 L/h (ACSM 2007, rate from memory).
	sweatMild, sweatHot, hotFrom, sweatBody = 0.25, 0.5, 25.0, 70.0
	// In the heat a child drinks 5 US fl oz every 20 minutes, from 90 lb on 9: a youth sports body's guide, second-hand.
	childOunces, bigChildOunces, bigChild = 5 * 3, 9 * 3, 90 * 0.45359237
	ounce                                 = 0.0295735295625 // L
	day                                   = 24 * 60
)

// Meals are at these minutes of the day, and once more when the plan ends.
var meals = []int64{7 * 60, 12 * 60, 19 * 60}

// none is what a search gives, in the place of an index, that finds nothing.
const none = -1

// run is one simulation of the plan, in steps.
type run struct {
	in   *Input
	res  *Result
	step int64
	// Of the step at hand.
	from, to int64 // minutes of the plan
	hour     *Hour
	day      *Day
	activity string

	walk    walk
	water   water
	seen    preview
	ahead   *preview  // nil: this run only notes what is seen
	passed  []bool    // of each source: it was told why nothing is taken
	hottest float64   // °C of the hottest hour walked
	rested  int       // steps in which nobody walks
	asleep  float64   // minutes
	warmth  float64   // °C times the minutes asleep
	hungry  []float64 // J that each body has spent and not eaten
	food    []float64 // J left of each food
	fuel    float64   // ml
	light   float64   // minutes
	have    []int64   // of each medication
	drunk   []float64 // ml of each body since the day began
	carried []float64 // water at the beginning of each day, what still waits too, ml
	tally   []tally
	index   map[tallyKey]int
	bodies  []sums
}

// sums are one body's over the plan: J, ml, ml, mg.
type sums struct{ spent, drink, sweat, sodium float64 }

// tallyKey tells tallies apart.
type tallyKey struct {
	kind kinds.Stock
	body int
	id   string
}

// Of says what happens in the hours of a plan.
func Of(in *Input) *Result {
	r := simulate(in, 60)
	if t := r.tallyOf(kinds.StockWater, Everybody, ""); t.lacking > 0 {
		r.res.WaterLimit = waterLimit(in)
	}
	return r.res
}

// simulate goes through a plan in steps of so many minutes, of which an hour is a multiple. Where there is water on
// the way it first goes through it taking none, to know when the next water comes.
func simulate(in *Input, step int64) *run {
	if len(in.Sources) == 0 {
		return simulateWith(in, step, &preview{})
	}
	bare := *in
	bare.Foods, bare.Medications, bare.Lamps = nil, nil, Lamps{}
	return simulateWith(in, step, &simulateWith(&bare, step, nil).seen)
}

// simulateWith goes through a plan knowing what comes; where ahead is nil, it takes no water on the way and notes what comes.
func simulateWith(in *Input, step int64, ahead *preview) *run {
	r := &run{in: in, res: &Result{}, step: step, ahead: ahead, fuel: float64(in.FuelML), light: float64(in.Lamps.Minutes), hottest: math.Inf(-1), index: map[tallyKey]int{}}
	n := len(in.Bodies)
	r.hungry, r.drunk, r.bodies = make([]float64, n), make([]float64, n), make([]sums, n)
	for i := range in.Foods {
		r.food = append(r.food, float64(in.Foods[i].EnergyJ))
	}
	for _, m := range in.Medications {
		r.have = append(r.have, m.Have)
	}
	r.startWater()
	r.startWalk()
	r.passed = make([]bool, len(in.Sources))
	r.seen.met = make([][]int64, len(in.Sources))
	r.addTallies()
	for i := range in.Bodies {
		r.res.Bodies = append(r.res.Bodies, BodyResult{FirstMG: milligrams(in.Bodies[i].Load), MostMG: milligrams(r.firstBorne(i))})
	}
	r.res.Hours = make([]Hour, 0, (in.Minutes+59)/60)
	for r.to < in.Minutes {
		r.from, r.to = r.to, min(r.to+step, in.Minutes)
		r.simulateStep()
	}
	r.finish()
	return r
}

func milligrams(kg float64) int64 { return int64(math.Round(kg * 1e6)) }

func whole(x float64) int64 { return int64(math.Round(x)) }

// clock is the minute of the day of a minute of the plan.
func (r *run) clock(minute int64) int64 { return (r.in.Start + minute) % day }

// midStep is the minute of the day of the middle of the step.
func (r *run) midStep() float64 { return math.Mod(float64(r.in.Start)+float64(r.from+r.to)/2, day) }

// minutes is the length of the step.
func (r *run) minutes() float64 { return float64(r.to - r.from) }

// celsius is the air of the step; only where the weather is known.
func (r *run) celsius() float64 {
	return body.Temperature(r.midStep()/60, r.in.Weather.Day, r.in.Weather.Night)
}

// darkMinutes is how many minutes of the step lie outside the daylight around noon.
func (r *run) darkMinutes() float64 {
	if r.in.Weather == nil {
		return 0
	}
	half := float64(r.in.Weather.Daylight) / 2
	light := 0.0
	for d := r.from / day; d <= (r.in.Start+r.to)/day; d++ { // the noon of each day that the step may touch
		noon := float64(d*day + day/2 - r.in.Start)
		light += max(0, min(float64(r.to), noon+half)-max(float64(r.from), noon-half))
	}
	return r.minutes() - light
}

// wbgt is the wet bulb globe temperature of the step, in °F; only where the weather is known.
func (r *run) wbgt() float64 {
	w := r.in.Weather
	return body.Fahrenheit(body.WBGT(r.celsius(), body.Humidity(r.midStep()/60, w.Humidity, w.Day, w.Night)))
}

// simulateStep is what happens from one minute of the plan to another, in the order in which it matters.
func (r *run) simulateStep() {
	n := int(r.from / 60)
	if n == len(r.res.Hours) {
		r.res.Hours = append(r.res.Hours, Hour{Clock: r.clock(r.from), Leg: NoLeg})
	}
	r.hour = &r.res.Hours[n]
	if d := int(r.from / day); d == len(r.res.Days) {
		r.res.Days = append(r.res.Days, Day{})
		clear(r.drunk)
		r.carried = append(r.carried, r.water.total()+r.water.waitingUntil(math.MaxInt64))
	}
	r.day = &r.res.Days[len(r.res.Days)-1]
	dark := r.darkMinutes()
	r.releaseTreated()
	walked := r.walkOrRest(dark)
	r.noteWeather(n, walked)
	r.resetTreatments()
	r.collectWater(walked > 0, r.from)
	if walked > 0 {
		r.noteLoads(n)
	}
	r.spend(walked)
	if walked > 0 {
		r.collectWater(false, r.to)
	}
	r.eat()
	r.useLight(dark, walked)
	r.takeDoses()
	r.noteHour(dark)
}

// noteHour writes down what there is at the end of the step; the last step of an hour counts.
func (r *run) noteHour(dark float64) {
	h := r.hour
	h.DarkMin += whole(dark)
	h.WaterML, h.FuelML, h.LightMin, h.FoodJ = whole(r.water.total()), whole(r.fuel), whole(r.light), 0
	for i := range r.in.Foods {
		if r.forPeople(i) {
			h.FoodJ += whole(r.food[i])
		}
	}
	h.LoadMG = h.LoadMG[:0]
	for i := range r.in.Bodies {
		h.LoadMG = append(h.LoadMG, milligrams(r.load(i)))
	}
	for _, s := range []struct {
		kind kinds.Stock
		left int64
	}{{kinds.StockWater, h.WaterML}, {kinds.StockFuel, h.FuelML}, {kinds.StockLight, h.LightMin}} {
		t := r.tallyOf(s.kind, Everybody, "")
		t.Lowest = min(t.Lowest, s.left)
	}
}

// noteLoads keeps each walker's heaviest load and its hour.
func (r *run) noteLoads(hour int) {
	for i := range r.in.Bodies {
		b := &r.res.Bodies[i]
		if mg := milligrams(r.borne(i)); r.in.Bodies[i].Walks && mg > b.MostMG {
			b.MostMG, b.MostHour = mg, hour
		}
	}
}

// load is what one body's packs weigh now, in kg.
func (r *run) load(who int) float64 {
	kg := r.in.Bodies[who].Load
	for i := range r.in.Foods {
		if f := &r.in.Foods[i]; f.Carrier == who && f.EnergyJ > 0 {
			kg -= float64(f.NetMG) / 1e6 * (1 - r.food[i]/float64(f.EnergyJ))
		}
	}
	for i := range r.in.Vessels {
		if v := &r.in.Vessels[i]; v.Carrier == who {
			kg += (r.water.in[i] + r.water.waitingIn(i) - float64(v.WaterML)) / 1000
		}
	}
	return max(0, kg)
}

// noteRest keeps how hot it is where nobody walks.
func (r *run) noteRest(hour, category int) {
	if category > r.res.RestCategory {
		r.res.RestCategory, r.res.RestCategoryHour = category, hour
	}
	if r.rested == 0 || r.hour.Celsius > r.res.RestCelsius {
		r.res.RestCelsius = r.hour.Celsius
	}
	w := r.in.Weather
	if !body.HeatIndexHolds(body.Fahrenheit(r.hour.Celsius), body.Humidity(r.midStep()/60, w.Humidity, w.Day, w.Night)) {
		r.res.RestBeyond = true
	}
	r.rested++
	if r.activity == Sleep {
		r.res.Sleeps = true
		r.asleep += r.minutes()
		r.warmth += r.hour.Celsius * r.minutes()
	}
}

// noteWeather keeps the worst heat and cold, and their hours.
func (r *run) noteWeather(hour int, walked float64) {
	w := r.in.Weather
	if w == nil {
		return
	}
	r.hour.Celsius = r.celsius()
	note := func(minute int64) {
		t := body.Temperature(float64(r.clock(minute))/60, w.Day, w.Night)
		if chill := body.WindChill(t, w.Wind); chill < r.res.Chill || minute == 0 {
			r.res.Chill, r.res.ChillHour = chill, hour
		}
	}
	note(r.from)
	if low := r.from + (coldest-r.clock(r.from)+day)%day; low < r.to {
		note(low)
	}
	note(r.to)
	c := body.Fluid(r.wbgt(), body.Easy).Category
	if walked == 0 {
		r.noteRest(hour, c)
		return
	}
	if c > r.res.Category {
		r.res.Category, r.res.CategoryHour = c, hour
	}
	if c > 0 && r.hour.Celsius > r.hottest { // the vapour is the same all day, so the hottest air feels hottest too
		r.hottest, r.res.HottestHour, r.res.WalkCelsius = r.hour.Celsius, hour, r.hour.Celsius
		t, damp := body.Fahrenheit(r.hottest), body.Humidity(r.midStep()/60, w.Humidity, w.Day, w.Night)
		if r.res.HeatBeyond = !body.HeatIndexHolds(t, damp); r.res.HeatBeyond {
			r.res.HeatIndex = 0
		} else {
			r.res.HeatIndex = (body.HeatIndex(t, damp) - 32) / 1.8
		}
	}
}
