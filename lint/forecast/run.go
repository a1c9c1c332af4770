package forecast

import (
	"math"
	"slices"

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

// run is a walk through the plan in steps.
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
	scout   scout
	ahead   *scout    // nil: this run only looks
	passed  []bool    // of each source: it was told why nothing is taken
	hottest float64   // °C of the hottest hour walked
	hungry  []float64 // J that each body has spent and not eaten
	food    []float64 // J left of each food
	fuel    float64   // ml
	light   float64   // minutes
	have    []int64   // of each medication
	drunk   []float64 // ml of each body since the day began
	carried []float64 // water at the beginning of each day, what still waits too, ml
	tally   []tally
	index   map[key]int
	bodies  []sums
}

// sums are those of one body.
type sums struct{ spent, drink, sweat, sodium float64 }

type key struct {
	kind kinds.Stock
	body int
	id   string
}

// Of walks through the hours of a plan.
func Of(in *Input) *Result {
	r := walked(in, 60)
	if t := r.stock(kinds.StockWater, -1, ""); t.lacking > 0 {
		r.res.WaterLimit = limit(in)
	}
	return r.res
}

// walked walks through a plan in steps of some minutes that an hour is a multiple of, knowing
// where water is.
func walked(in *Input, step int64) *run {
	if len(in.Sources) == 0 {
		return through(in, step, &scout{})
	}
	bare := *in
	bare.Foods, bare.Medications, bare.Lamps = nil, nil, Lamps{}
	return through(in, step, &through(&bare, step, nil).scout)
}

// through walks through a plan; without a look ahead it only looks.
func through(in *Input, step int64, ahead *scout) *run {
	r := &run{in: in, res: &Result{}, step: step, ahead: ahead, fuel: float64(in.FuelML), light: float64(in.Lamps.Minutes), hottest: math.Inf(-1), index: map[key]int{}}
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
	r.scout.met = make([][]int64, len(in.Sources))
	r.expect()
	for i := range in.Bodies {
		mg := milligrams(in.Bodies[i].Load)
		r.res.Bodies = append(r.res.Bodies, BodyResult{FirstMG: mg, MostMG: mg})
	}
	r.res.Hours = make([]Hour, 0, (in.Minutes+59)/60)
	for r.to < in.Minutes {
		r.from, r.to = r.to, min(r.to+step, in.Minutes)
		r.next()
	}
	r.finish()
	return r
}

func milligrams(kg float64) int64 { return int64(math.Round(kg * 1e6)) }

func whole(x float64) int64 { return int64(math.Round(x)) }

// clock is the minute of the day of a minute of the plan.
func (r *run) clock(minute int64) int64 { return (r.in.Start + minute) % day }

// now is the minute of the day of the middle of the step.
func (r *run) now() float64 { return math.Mod(float64(r.in.Start)+float64(r.from+r.to)/2, day) }

// minutes is the length of the step.
func (r *run) minutes() float64 { return float64(r.to - r.from) }

// celsius is the air of the step; only where the weather is known.
func (r *run) celsius() float64 {
	return body.Temperature(r.now()/60, r.in.Weather.Day, r.in.Weather.Night)
}

// dark is how many minutes of the step lie outside the daylight around noon.
func (r *run) dark() float64 {
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
	return body.Fahrenheit(body.WBGT(r.celsius(), body.Humidity(r.now()/60, w.Humidity, w.Day, w.Night)))
}

// next is one step.
func (r *run) next() {
	n := int(r.from / 60)
	if n == len(r.res.Hours) {
		r.res.Hours = append(r.res.Hours, Hour{Clock: r.clock(r.from), Leg: -1})
	}
	r.hour = &r.res.Hours[n]
	if d := int(r.from / day); d == len(r.res.Days) {
		r.res.Days = append(r.res.Days, Day{})
		clear(r.drunk)
		r.carried = append(r.carried, r.water.total()+r.water.unready(math.MaxInt64))
	}
	r.day = &r.res.Days[len(r.res.Days)-1]
	dark := r.dark()
	r.ready()
	walked := r.move(dark)
	r.air(n, walked)
	r.open()
	r.collect(walked > 0, r.from)
	if walked > 0 {
		r.bear(n)
	}
	r.spend(walked)
	if walked > 0 {
		r.collect(false, r.to)
	}
	r.eat()
	r.shine(dark, walked)
	r.take()

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
		t := r.stock(s.kind, -1, "")
		t.Lowest = min(t.Lowest, s.left)
	}
}

// bear notes the loads that are walked with in the step.
func (r *run) bear(hour int) {
	for i := range r.in.Bodies {
		b := &r.res.Bodies[i]
		if mg := milligrams(r.load(i)); r.in.Bodies[i].Walks && mg > b.MostMG {
			b.MostMG, b.MostHour = mg, hour
		}
	}
}

// forPeople reports whether a food is not an animal's.
func (r *run) forPeople(food int) bool {
	f := r.in.Foods[food].For
	return f < 0 || !r.in.Bodies[f].Animal
}

// load is what somebody's packs weigh now, in kg.
func (r *run) load(who int) float64 {
	kg := r.in.Bodies[who].Load
	for i := range r.in.Foods {
		if f := &r.in.Foods[i]; f.Carrier == who && f.EnergyJ > 0 {
			kg -= float64(f.NetMG) / 1e6 * (1 - r.food[i]/float64(f.EnergyJ))
		}
	}
	for i := range r.in.Vessels {
		if v := &r.in.Vessels[i]; v.Carrier == who {
			kg += (r.water.in[i] + r.water.held(i) - float64(v.WaterML)) / 1000
		}
	}
	return max(0, kg)
}

// air notes the heat and the cold of the step.
func (r *run) air(hour int, walked float64) {
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
	if walked == 0 {
		return
	}
	c := body.Fluid(r.wbgt(), body.Easy).Category
	if c > r.res.Category {
		r.res.Category, r.res.CategoryHour = c, hour
	}
	if c > 0 && r.hour.Celsius > r.hottest { // the vapour is the same all day, so the hottest air feels hottest too
		r.hottest, r.res.HottestHour = r.hour.Celsius, hour
		t, damp := body.Fahrenheit(r.hottest), body.Humidity(r.now()/60, w.Humidity, w.Day, w.Night)
		if r.res.HeatBeyond = !body.HeatIndexHolds(t, damp); r.res.HeatBeyond {
			r.res.HeatIndex = 0
		} else {
			r.res.HeatIndex = (body.HeatIndex(t, damp) - 32) / 1.8
		}
	}
}

// spend is energy, drink and salt of everybody in the step.
func (r *run) spend(walked float64) {
	part := r.minutes() / day
	wanting := 0.0
	for i := range r.in.Bodies {
		b, s := &r.in.Bodies[i], &r.bodies[i]
		joules, ml, sweat := b.RestJ*part, b.DrinkML*part, 0.0
		if !b.Animal {
			if r.activity != Sleep {
				joules *= campFactor
			}
			if walked > 0 && b.Walks {
				joules = joules*(1-walked/r.minutes()) + r.watts(i)*walked*60
				ml, sweat = r.sweat(i, walked)
			}
			if w := r.in.Weather; w != nil && body.WindChill(r.celsius(), w.Wind) < coldBelow {
				joules *= coldFactor
			}
			if b.Adult {
				ml = min(ml, body.HourCap*1000*r.minutes()/60, max(0, body.DayCap*1000-r.drunk[i]))
			}
			salt := b.SodiumMG*part + body.SweatSodium(sweat/1000)
			s.sodium += salt
			r.salt(salt)
			spent := whole(s.spent+joules) - whole(s.spent)
			r.day.SpentJ += spent
			r.hour.SpentJ += spent
		}
		r.drunk[i] += ml
		r.hungry[i] += joules
		s.spent += joules
		s.drink += ml
		s.sweat += sweat
		wanting += r.drink(ml)
	}
	r.lack(r.stock(kinds.StockWater, -1, ""), wanting)
}

// watts is what walking costs somebody, up and down on the leg at hand. For who is no adult
// the formula is carried on, as no published one was found.
func (r *run) watts(who int) float64 {
	b, l := &r.in.Bodies[who], &r.walk.legs[r.walk.on]
	borne, terrain := r.load(who)+b.Extra, body.Terrain(r.in.Legs[r.walk.on].Ground)
	up := body.Walk(b.Mass, borne, terrain, l.speed, l.rise)
	if l.up == 1 {
		return up
	}
	return l.up*up + (1-l.up)*body.Walk(b.Mass, borne, terrain, l.speed, l.fall)
}

// heat is what the army's table asks of an adult for the leg at hand, by the heaviest load on the way.
func (r *run) heat(who int) body.Hour {
	l := &r.walk.legs[r.walk.on]
	return body.Fluid(r.wbgt(), body.WorkClass(l.speed, l.borne[who], r.in.Legs[r.walk.on].Ground))
}

// sweat is what somebody drinks in a step with a walk in it, and what of it is lost as sweat, in ml.
func (r *run) sweat(who int, walked float64) (drink, sweat float64) {
	b := &r.in.Bodies[who]
	hours := r.minutes() / 60
	rest := b.DrinkML / 24 * hours
	if r.in.Weather == nil {
		sweat = 1000 * sweatMild * b.Mass / sweatBody * walked / 60
		return rest + sweat, sweat
	}
	h := r.heat(who)
	switch {
	case h.Category > 0 && b.Adult:
		// The table's litres are of a whole hour, its rests included.
		share := walked / (min(walkOfHour, float64(h.Work)) * hours)
		sweat = 1000 * h.Litres * hours * share
		return rest*(1-share) + sweat, sweat
	case h.Category > 0:
		ounces := childOunces
		if b.Mass >= bigChild {
			ounces = bigChildOunces
		}
		sweat = 1000 * float64(ounces) * ounce * walked / 60
		return rest*(1-walked/r.minutes()) + sweat, sweat
	}
	rate := sweatMild
	if r.celsius() >= hotFrom {
		rate = sweatHot
	}
	sweat = 1000 * rate * b.Mass / sweatBody * walked / 60
	return rest + sweat, sweat
}

// eat feeds everybody: at meals, of what is hot first; walking, a little of what is ready to eat.
func (r *run) eat() {
	meal := r.to == r.in.Minutes || slices.ContainsFunc(meals, func(m int64) bool {
		wait := (m - r.clock(r.from) + day) % day
		return wait < r.to-r.from
	})
	for i := range r.in.Bodies {
		if r.in.Bodies[i].Eats == Own && meal {
			r.feed(i, r.activity != Walk, meal)
		}
	}
	if meal || r.activity == Walk {
		r.feed(-1, r.activity != Walk, meal)
	}
}

// shine uses up light: everybody with a pack walks by their own, in camp one lamp is lit.
func (r *run) shine(dark, walked float64) {
	t := r.stock(kinds.StockLight, -1, "")
	need := 0.0
	switch r.activity {
	case Walk:
		for i := range r.in.Bodies {
			if b := &r.in.Bodies[i]; b.Bears && b.Walks && !b.Animal {
				need += dark * walked / r.minutes()
			}
		}
		need = max(need, dark*campLight)
	case Halt:
		need = dark * campLight
	}
	t.need += need
	if r.in.Lamps.Endless {
		return
	}
	got := min(need, r.light)
	r.light -= got
	r.lack(t, need-got)
}

// firstDose is the minute of the day from which doses are counted: our own line.
const firstDose = 8 * 60

// take counts the doses of the step: as many times a day as there are doses in it, rounded up, from
// eight o'clock on and evenly around the clock.
func (r *run) take() {
	for i := range r.in.Medications {
		m := &r.in.Medications[i]
		if m.PerDay <= 0 {
			continue
		}
		t := r.stock(kinds.StockDoses, m.Body, m.ID)
		since := (r.clock(r.from) - firstDose + day) % day
		until := since + r.to - r.from
		dose := m.before(min(until, day)) - m.before(since) + m.before(max(0, until-day))
		got := min(dose, r.have[i])
		r.have[i] -= got
		t.need += float64(dose)
		t.Lowest = min(t.Lowest, r.have[i])
		r.lack(t, float64(dose-got))
	}
}

// before is what is taken in so many minutes from the first dose of a day on. It is worked out and not
// counted up, as somebody may write a million doses a day.
func (m *Medication) before(minutes int64) int64 {
	times := (m.PerDay + 999) / 1000
	return m.PerDay * ((minutes*times + day - 1) / day) / times
}
