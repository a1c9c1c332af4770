package forecast

import (
	"math"
	"math/rand/v2"
	"reflect"
	"strconv"
	"testing"

	"kitmuster/lint/kinds"
)

// trials is how many inputs each property is tried on.
const trials = 300

// maker makes inputs of any kind within what a household may write.
type maker struct{ *rand.Rand }

func seeded(n int) maker { return maker{rand.New(rand.NewPCG(7, uint64(n)))} }

func (m maker) span(low, high float64) float64 { return low + m.Float64()*(high-low) }

func (m maker) count(low, high int64) int64 { return low + m.Int64N(high-low+1) }

func (m maker) yes(share float64) bool { return m.Float64() < share }

func (m maker) carrier(bodies int) int { return m.IntN(bodies+1) - 1 }

// input is anything.
func (m maker) input() *Input {
	in := &Input{Minutes: m.count(1, 5*day), Start: m.count(0, day-1), FuelML: m.count(0, 20_000), BoilTreats: m.yes(0.3), Lamps: Lamps{Minutes: m.count(0, 3000), Endless: m.yes(0.2)}}
	if m.yes(0.8) {
		low := m.span(-20, 35)
		in.Weather = &Weather{Day: low + m.span(0, 12), Night: low, Humidity: m.Float64(), Wind: m.span(0, 15), Daylight: m.count(0, day)}
	}
	for i := range m.IntN(4) {
		l := Leg{ID: "leg" + strconv.Itoa(i), Distance: m.span(0, 30_000), Climb: m.span(0, 800), Descent: m.span(0, 800), Ground: []string{"road", "grass", "sand", "bog", ""}[m.IntN(5)]}
		if m.yes(0.3) {
			l.Pace = m.span(600, 2000)
		}
		in.Legs = append(in.Legs, l)
	}
	for i := range 1 + m.IntN(4) {
		b := Body{ID: "b" + strconv.Itoa(i), Walks: m.yes(0.9), CarriesPack: m.yes(0.8), Mass: m.span(50, 100), Extra: m.span(0, 10), DrinkML: m.span(500, 3700), SodiumMG: m.span(300, 1500)}
		switch m.IntN(6) {
		case 0:
			b.Animal, b.Eats, b.SodiumMG = true, Own, 0
		case 1:
			b.Eats, b.Mass = []Eats{Common, Own, Nothing}[m.IntN(3)], m.span(3, 50)
		default:
			b.Adult = true
		}
		b.RestJ = b.Mass * m.span(80e3, 110e3)
		in.Bodies = append(in.Bodies, b)
	}
	n := len(in.Bodies)
	bear := func(carrier int, kg float64) {
		if carrier != Nobody {
			in.Bodies[carrier].Load += kg
		}
	}
	for i := range in.Bodies {
		bear(i, m.span(0, 10))
	}
	for i := range m.IntN(12) {
		f := Food{ID: "food" + strconv.Itoa(i), Carrier: m.carrier(n), For: Everybody, EnergyJ: m.count(0, 6_000_000), SodiumMG: m.count(0, 3000), Cook: m.yes(0.5), Opened: m.yes(0.2), Until: m.count(0, 3)}
		f.NetMG = f.EnergyJ / 15 // 15 kJ a gram
		if m.yes(0.3) {
			f.For = m.IntN(n)
		}
		if f.Cook {
			f.CookML = m.count(0, 1500)
		}
		bear(f.Carrier, float64(f.NetMG)/1e6)
		in.Foods = append(in.Foods, f)
	}
	for i := range m.IntN(6) {
		v := Vessel{ID: "v" + strconv.Itoa(i), Carrier: m.carrier(n), CapacityML: m.count(0, 5000)}
		v.WaterML = m.count(0, v.CapacityML)
		bear(v.Carrier, float64(v.WaterML)/1000)
		in.Vessels = append(in.Vessels, v)
	}
	for i := range m.IntN(4) {
		t := Treatment{ID: "t" + strconv.Itoa(i), ML: m.count(0, 20_000), Filters: m.yes(0.5)}
		for c := range t.Clears {
			t.Clears[c] = m.yes(0.8)
		}
		if m.yes(0.4) {
			t.WaitMin = m.count(1, 240)
		}
		if m.yes(0.4) {
			t.PerHour = m.count(100, 3000)
		}
		in.Treatments = append(in.Treatments, t)
	}
	for i := range m.IntN(4) {
		s := Source{ID: "s" + strconv.Itoa(i), Leg: m.IntN(len(in.Legs)+1) - 1, ML: NoEnd, Clean: m.yes(0.4)}
		if m.yes(0.4) {
			s.ML = m.count(0, 9000)
		}
		if s.Leg != NoLeg {
			s.Along = m.span(0, in.Legs[s.Leg].Distance)
		}
		s.Turbid = !s.Clean && m.yes(0.5)
		in.Sources = append(in.Sources, s)
	}
	for i := range m.IntN(3) {
		in.Medications = append(in.Medications, Medication{ID: "m" + strconv.Itoa(i), Body: m.IntN(n), PerDay: m.count(0, 6000), Have: m.count(0, 20_000)})
	}
	return in
}

// copied is the same input with nothing shared.
func copied(in *Input) *Input {
	c := *in
	if in.Weather != nil {
		w := *in.Weather
		c.Weather = &w
	}
	c.Legs, c.Sources, c.Bodies = append([]Leg(nil), in.Legs...), append([]Source(nil), in.Sources...), append([]Body(nil), in.Bodies...)
	c.Foods, c.Vessels = append([]Food(nil), in.Foods...), append([]Vessel(nil), in.Vessels...)
	c.Treatments, c.Medications = append([]Treatment(nil), in.Treatments...), append([]Medication(nil), in.Medications...)
	return &c
}

func TestSameAnswerAndInputUntouched(t *testing.T) {
	for n := range trials {
		in := seeded(n).input()
		before := copied(in)
		first := Of(in)
		if !reflect.DeepEqual(in, before) {
			t.Fatalf("input %d was changed", n)
		}
		if !reflect.DeepEqual(first, Of(in)) {
			t.Fatalf("input %d has two answers", n)
		}
	}
}

// What goes in comes out: at the start and gathered, against used up and left.
func TestConservation(t *testing.T) {
	collects, waits, boils := 0, 0, 0
	for n := range trials {
		in := seeded(n).input()
		b := balance{t, n, in, simulate(in, 60)}
		if b.water() > 0 {
			collects++
		}
		b.energy()
		used := b.food()
		if b.stocks(used) {
			boils++
		}
		if b.r.water.waitingUntil(math.MaxInt64) > 0 {
			waits++
		}
	}
	if collects < trials/4 || waits < 1 || boils < trials/40 {
		t.Errorf("too few inputs collect (%d), wait (%d) or boil (%d) to tell anything", collects, waits, boils)
	}
}

// balance holds one simulation against its input.
type balance struct {
	t  *testing.T
	n  int
	in *Input
	r  *run
}

// same wants two amounts to differ by no more than rounding.
func (b balance) same(what string, x, y float64) {
	if !(math.Abs(x-y) <= 1) {
		b.t.Errorf("input %d: %s %v against %v", b.n, what, x, y)
	}
}

// water checks vessels, sources and treatments, and returns what was collected.
func (b balance) water() (collected float64) {
	w := &b.r.water
	start, drunk, need := 0.0, 0.0, 0.0
	for _, v := range b.in.Vessels {
		start += float64(v.WaterML)
	}
	for _, d := range b.r.res.Days {
		collected, drunk, need = collected+float64(d.CollectedML), drunk+float64(d.DrunkML), need+float64(d.NeedML)
	}
	b.same("water", start+collected, drunk+w.total()+w.waitingUntil(math.MaxInt64))
	b.same("drink", need, drunk+float64(of(b.t, b.r.res, kinds.StockWater, Everybody, "").Short))
	told, gave := 0.0, 0.0
	for _, e := range events(b.r.res, Collect) {
		told += float64(e.Amount)
		if e.Until < e.Hour {
			b.t.Errorf("input %d: %+v ends before it begins", b.n, e)
		}
	}
	b.same("told", told, collected)
	for i, s := range b.in.Sources {
		if s.ML == NoEnd {
			gave = math.NaN()
			continue
		}
		gave += float64(s.ML) - w.sources[i]
		if w.sources[i] < -1e-6 {
			b.t.Errorf("input %d: source %s gave more than it had", b.n, s.ID)
		}
	}
	if !math.IsNaN(gave) {
		b.same("sources", gave, collected)
	}
	for i, v := range b.in.Vessels {
		if full := w.in[i] + w.waitingIn(i); full > float64(v.CapacityML)+1e-6 || w.in[i] < 0 {
			b.t.Errorf("input %d: %v ml in %+v", b.n, full, v)
		}
	}
	for i, left := range w.treats {
		if left < -1e-6 || left > float64(b.in.Treatments[i].ML) {
			b.t.Errorf("input %d: treatment %d has %v left", b.n, i, left)
		}
	}
	return collected
}

// energy checks what people spend by the day against by the person, and who walks.
func (b balance) energy() {
	spent, walk := 0.0, int64(0)
	for _, d := range b.r.res.Days {
		spent, walk = spent+float64(d.SpentJ), walk+d.WalkMin
	}
	for i := range b.in.Bodies {
		x := &b.r.res.Bodies[i]
		if !b.in.Bodies[i].Animal {
			spent -= float64(x.SpentJ)
		}
		if b.in.Bodies[i].Walks && x.WalkMin != walk || !b.in.Bodies[i].Walks && x.WalkMin != 0 {
			b.t.Errorf("input %d: body %d walked %d of %d minutes", b.n, i, x.WalkMin, walk)
		}
	}
	b.same("energy of people", spent, 0)
}

// food checks what is eaten and left, and returns the fuel used for it.
func (b balance) food() (used float64) {
	had, eaten, left := 0.0, 0.0, 0.0
	for _, d := range b.r.res.Days {
		eaten += float64(d.EatenJ)
	}
	for i, f := range b.in.Foods {
		if b.r.forPeople(i) {
			had += float64(f.EnergyJ)
			left += math.Round(b.r.food[i])
		}
		if f.EnergyJ > 0 {
			used += float64(f.CookML) * (1 - b.r.food[i]/float64(f.EnergyJ))
		}
		if b.r.food[i] < 0 || b.r.food[i] > float64(f.EnergyJ) {
			b.t.Errorf("input %d: %v J left of %+v", b.n, b.r.food[i], f)
		}
	}
	b.same("food", had, eaten+left)
	return used
}

// stocks checks what each stock had, needed, lacked and kept; used is the fuel for food. It reports whether water was
// boiled.
func (b balance) stocks(used float64) (boiled bool) {
	for _, s := range b.r.res.Stocks {
		if s.Kind == kinds.StockEnergy && s.Short > s.Need+1 {
			b.t.Errorf("input %d: %+v", b.n, s)
		}
		if s.Kind == kinds.StockDoses && s.Need != s.Have-s.Lowest+s.Short {
			b.t.Errorf("input %d: %+v", b.n, s)
		}
		if s.Kind == kinds.StockLight && !b.in.Lamps.Endless {
			b.same("light", float64(s.Have)+float64(s.Short), float64(s.Need)+float64(s.Lowest))
		}
		if s.Kind == kinds.StockFuel {
			burnt := float64(s.Need - s.Short)
			b.same("fuel", float64(s.Have), burnt+b.r.fuel)
			if boiled = b.in.BoilTreats && burnt > used+1; !b.in.BoilTreats {
				b.same("fuel for food", burnt, used)
			}
		}
	}
	return boiled
}

// Every number of the result, found by its type, so that a new one is held too.
func TestNothingNegative(t *testing.T) {
	negative := map[string]bool{"Chill": true, "RestCelsius": true, "NightCelsius": true, "Celsius": true, "Leg": true, "Begin": true, "End": true, "Body": true, "Stock": true, "For": true}
	var look func(name string, v reflect.Value)
	bad := ""
	look = func(name string, v reflect.Value) {
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				look(v.Type().Field(i).Name, v.Field(i))
			}
		case reflect.Slice:
			for i := range v.Len() {
				look(name, v.Index(i))
			}
		case reflect.Int, reflect.Int64:
			if v.Int() < 0 && !(negative[name] && v.Int() == -1) {
				bad = name + " is " + strconv.FormatInt(v.Int(), 10)
			}
		case reflect.Float64:
			if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) || x < 0 && !negative[name] {
				bad = name + " is " + strconv.FormatFloat(x, 'g', -1, 64)
			}
		}
	}
	for n := range trials {
		in := seeded(n).input()
		if n%10 == 0 { // the ends of what may be written
			in.FuelML, in.Legs = 0, append(in.Legs, Leg{ID: "nowhere"}, Leg{ID: "up", Climb: 500})
			in.Bodies[0].Mass, in.Bodies[0].RestJ, in.Bodies[0].DrinkML = 0, 0, 0
		}
		look("Result", reflect.ValueOf(Of(in)).Elem())
		if bad != "" {
			t.Fatalf("input %d: %s", n, bad)
		}
		for _, s := range Of(in).Stocks {
			if s.Lasts > int((in.Minutes+59)/60) || (s.Short == 0) != (s.First == 0) && s.Short != 0 || s.First > s.Short {
				t.Errorf("input %d: %+v", n, s)
			}
		}
	}
}

// More water in the vessels, in the same packs, never brings the first shortage forward.
//
// Boiling is left out, as who carries more boils less at first, and a stew may have burnt the fuel by the time
// they would. So is waiting: who carries more takes the batch later that is then not yet ready. Where no water on the way
// can be made safe, what is carried is walked with; it would hurt who by a litre more comes into a harder class of work in
// the heat, whom none of these inputs has.
func TestMoreWaterNeverHurts(t *testing.T) {
	later := 0
	for n := range trials {
		m := seeded(n)
		in := m.input()
		in.BoilTreats = false
		for i := range in.Treatments {
			in.Treatments[i].WaitMin = 0
		}
		more := copied(in)
		for i := range more.Vessels {
			v := &more.Vessels[i]
			extra := m.count(0, v.CapacityML-v.WaterML)
			v.WaterML += extra
			if v.Carrier != Nobody {
				more.Bodies[v.Carrier].Load += float64(extra) / 1000
			}
		}
		a, b := of(t, Of(in), kinds.StockWater, Everybody, ""), of(t, Of(more), kinds.StockWater, Everybody, "")
		if b.Lasts < a.Lasts {
			t.Errorf("input %d: %+v, with more water %+v", n, a, b)
		}
		if b.Lasts > a.Lasts {
			later++
		}
	}
	if later < trials/10 {
		t.Errorf("only %d inputs gain anything", later)
	}
}

// A pack that is lighter by something dead never costs its carrier more where the way ends within the plan: of one
// walker on one leg, and of several on three at the family's own pace.
//
// One walker on several legs is left out: who arrives sooner may begin the next leg on the same evening, and walk in
// hours of sleep or of frost. So is one walker in the heat: the faster pace may be of a harder class, which rests more.
func TestLighterPackCostsNoMore(t *testing.T) {
	less := 0
	for n := range trials {
		m := seeded(n)
		in := m.input()
		in.Minutes = 10 * day
		b := &in.Bodies[0]
		b.Walks, b.Animal, b.Adult, b.Eats, b.Mass, b.RestJ = true, false, true, Common, 70, 7e6
		if n%2 == 0 {
			alone(in)
			m.mild(in)
		} else {
			for i := range in.Legs {
				in.Legs[i].Pace = m.span(600, 2000)
			}
		}
		in.Bodies[0].Load += 10
		light := copied(in)
		light.Bodies[0].Load -= m.span(1, 10)
		a, c := Of(in), Of(light)
		if k := len(in.Legs); k == 0 || a.Legs[k-1].End == Never {
			continue
		}
		heavy, eased := a.Bodies[0].SpentJ, c.Bodies[0].SpentJ
		if eased > heavy {
			t.Errorf("input %d: %d J, lighter %d J", n, heavy, eased)
		}
		if eased < heavy {
			less++
		}
	}
	if less < trials/3 {
		t.Errorf("only %d inputs gain anything", less)
	}
}

// mild makes weather without heat or frost: 20 °C of damp air have a WBGT of 76 °F, and the army's table begins at 78.
// Day begins and ends on the hour.
func (m maker) mild(in *Input) {
	low := m.span(1, 16)
	in.Weather = &Weather{Day: low + m.span(0, 4), Night: low, Humidity: m.Float64(), Daylight: m.count(0, 12) * 120}
}

// alone leaves the first body and the first leg.
func alone(in *Input) {
	in.Bodies, in.Legs = in.Bodies[:1], in.Legs[:min(1, len(in.Legs))]
	for i := range in.Foods {
		in.Foods[i].Carrier, in.Foods[i].For = min(0, in.Foods[i].Carrier), Everybody
	}
	for i := range in.Vessels {
		in.Vessels[i].Carrier = min(0, in.Vessels[i].Carrier)
	}
	for i := range in.Sources {
		in.Sources[i].Leg = min(0, in.Sources[i].Leg)
	}
	for i := range in.Medications {
		in.Medications[i].Body = 0
	}
}

// Steps of half an hour tell what steps of an hour tell, where the way ends within the plan and the hour itself decides
// nothing: no heat or frost, whose lines the middle of a step may cross, and light and plan that change on the hour. What
// is walked, drunk, asked of salt and taken is then the same but for rounding. Energy may differ by one percent, as a
// leg may begin half an hour sooner and food is eaten and water drunk off the load sooner; light by half an hour for
// each body and leg. Where the half hour decides on which day a leg begins, neither is compared.
func TestHalfHoursAgree(t *testing.T) {
	tried := 0
	for n := range trials {
		m := seeded(n)
		in := m.input()
		in.Minutes, in.Start = 10*day, m.count(0, 23)*60
		m.mild(in)
		a, b := simulate(in, 60).res, simulate(in, 30).res
		if k := len(in.Legs); k > 0 && (a.Legs[k-1].End == Never || b.Legs[k-1].End == Never) {
			continue
		}
		tried++
		late := false // by which leg
		for i := range a.Legs {
			late = late || a.Legs[i].Begin-b.Legs[i].Begin > 1 || b.Legs[i].Begin > a.Legs[i].Begin
		}
		agree := func(what string, x, y int64, tolerance float64) {
			if !(math.Abs(float64(x-y)) <= tolerance) {
				t.Errorf("input %d: %s %d by the hour, %d by the half", n, what, x, y)
			}
		}
		for i := range in.Bodies {
			x, y := &a.Bodies[i], &b.Bodies[i]
			if !late {
				agree("spent", x.SpentJ, y.SpentJ, 0.01*float64(x.SpentJ))
			}
			agree("drink", x.DrinkML, y.DrinkML, 1)
			agree("sodium", x.SodiumMG, y.SodiumMG, 1)
			agree("walked", x.WalkMin, y.WalkMin, 0)
		}
		for i := range a.Stocks {
			x, y := &a.Stocks[i], &b.Stocks[i]
			switch x.Kind {
			case kinds.StockWater, kinds.StockSodium:
				agree(string(x.Kind), x.Need, y.Need, 1)
			case kinds.StockDoses:
				agree(string(x.Kind), x.Need, y.Need, 0)
			case kinds.StockLight:
				if !late {
					agree(string(x.Kind), x.Need, y.Need, 30*float64(len(in.Bodies)*len(in.Legs)))
				}
			}
		}
	}
	if tried < trials/2 {
		t.Errorf("only %d ways ended", tried)
	}
}
