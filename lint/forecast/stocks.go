package forecast

import (
	"math"

	"kitmuster/lint/kinds"
)

// tally is a stock while it is counted.
type tally struct {
	Stock
	need, lacking float64
	// first is what is lacking in the hour of the first shortage, which event tells.
	first float64
	event int
}

// tallyOf is the tally of a kind and of whose or what it is.
func (r *run) tallyOf(kind kinds.Stock, who int, id string) *tally {
	k := tallyKey{kind, who, id}
	i, ok := r.index[k]
	if !ok {
		i = len(r.tally)
		r.index[k] = i
		r.tally = append(r.tally, tally{Stock: Stock{Kind: kind, Body: who, ID: id, Lasts: Never, Good: Never, Lowest: math.MaxInt64}})
	}
	return &r.tally[i]
}

// addTallies makes the tallies that a plan has, so that what is never short is told too. None is
// added later, as pointers into them are at work.
func (r *run) addTallies() {
	have := func(kind kinds.Stock, who int, id string, n int64) {
		t := r.tallyOf(kind, who, id)
		t.Have, t.Lowest = n, n
	}
	have(kinds.StockWater, Everybody, "", whole(r.water.total()))
	have(kinds.StockEnergy, Everybody, "", 0)
	have(kinds.StockSodium, Everybody, "", r.in.SaltsMG)
	have(kinds.StockLight, Everybody, "", r.in.Lamps.Minutes)
	have(kinds.StockFuel, Everybody, "", r.in.FuelML)
	for i := range r.in.Bodies {
		if b := &r.in.Bodies[i]; b.Eats == Own && !b.Grazes {
			have(kinds.StockEnergy, i, "", 0)
		}
	}
	for i := range r.in.Foods {
		f := &r.in.Foods[i]
		t := r.tallyOf(kinds.StockEnergy, r.ownerOf(f), "")
		t.Have += f.EnergyJ
		t.Lowest = t.Have
		if f.Past {
			t.Past += f.EnergyJ
		}
		if r.forPeople(i) {
			r.tallyOf(kinds.StockSodium, Everybody, "").Have += f.SodiumMG
		}
	}
	for _, m := range r.in.Medications {
		if m.PerDay > 0 {
			have(kinds.StockDoses, m.Body, m.ID, m.Have)
		}
	}
}

// addShortage counts what is lacking of a stock in this step; the first time is an event. Less than half a unit is rounding.
func (r *run) addShortage(t *tally, amount float64) {
	if amount < 0.5 {
		return
	}
	hour := int(r.from / 60)
	if t.Lasts == Never {
		t.Lasts, t.event = hour, len(r.res.Events)
		r.addEvent(Event{Hour: hour, Kind: Short, ID: t.ID, Stock: t.Kind, Body: t.Body})
	}
	if t.Lasts == hour {
		t.first += amount
		t.First = whole(t.first)
		r.res.Events[t.event].Amount = t.First
	}
	t.lacking += amount
}

// addEvent adds an event; water collected again from one source is one, until the household leaves or arrives.
func (r *run) addEvent(e Event) {
	e.Until = e.Hour
	for i := len(r.res.Events) - 1; i >= 0 && e.Kind == Collect; i-- {
		last := &r.res.Events[i]
		if last.Kind == Leave || last.Kind == Arrive {
			break
		}
		if last.Kind == Collect && last.ID == e.ID {
			last.Until, last.Amount = e.Hour, last.Amount+e.Amount
			return
		}
	}
	r.res.Events = append(r.res.Events, e)
}

// burnFuel uses fuel to boil an amount.
func (r *run) burnFuel(ml float64) {
	r.fuel -= ml
	r.tallyOf(kinds.StockFuel, Everybody, "").need += ml
}

// finish rounds what was counted and writes it into the result.
func (r *run) finish() {
	hours := len(r.res.Hours)
	for i := range r.tally {
		t := &r.tally[i]
		t.Short = whole(t.lacking)
		switch t.Kind {
		case kinds.StockEnergy:
			t.Lowest = t.Have - whole(t.need)
			t.need = 0
			for j := range r.bodies {
				if r.sharesFood(j, t.Body) {
					t.need += r.bodies[j].spent
				}
			}
		case kinds.StockFuel:
			t.need += t.lacking
		case kinds.StockSodium:
			t.Short = max(0, whole(t.need)-t.Have)
		}
		t.Need = whole(t.need)
		if t.Lasts == Never {
			t.Lasts = hours
		}
		switch {
		case t.Past == 0:
			t.Good = 0
		case t.Good == Never || t.Good > t.Lasts:
			t.Good = t.Lasts
		}
		r.res.Stocks = append(r.res.Stocks, t.Stock)
		if t.Kind == kinds.StockEnergy && t.Short > 0 {
			r.noteUneaten(t.Body)
		}
	}
	if r.asleep > 0 {
		r.res.NightCelsius = r.warmth / r.asleep
	}
	for i := range r.bodies {
		b, s := &r.res.Bodies[i], &r.bodies[i]
		b.SpentJ, b.DrinkML, b.SweatML, b.SodiumMG = whole(s.spent), whole(s.drink), whole(s.sweat), whole(s.sodium)
		b.LastMG = milligrams(r.load(i))
	}
	for i := range r.res.Days {
		d := &r.res.Days[i]
		d.FindML = max(0, d.NeedML-whole(r.carried[i]))
	}
}

// useLight uses up light: everyone with a pack walks by their own, in camp one lamp is lit.
func (r *run) useLight(dark, walked float64) {
	t := r.tallyOf(kinds.StockLight, Everybody, "")
	need := 0.0
	switch r.activity {
	case Walk:
		for i := range r.in.Bodies {
			if b := &r.in.Bodies[i]; b.CarriesPack && b.Walks && !b.Animal {
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
	r.addShortage(t, need-got)
}

// firstDose is the minute of the day from which doses are counted: our own line.
const firstDose = 8 * 60

// takeDoses counts the doses of the step: as many times a day as there are doses in it, rounded up, from
// eight o'clock on and evenly around the clock.
func (r *run) takeDoses() {
	for i := range r.in.Medications {
		m := &r.in.Medications[i]
		if m.PerDay <= 0 {
			continue
		}
		t := r.tallyOf(kinds.StockDoses, m.Body, m.ID)
		since := (r.clock(r.from) - firstDose + day) % day
		until := since + r.to - r.from
		dose := m.dosesBefore(min(until, day)) - m.dosesBefore(since) + m.dosesBefore(max(0, until-day))
		got := min(dose, r.have[i])
		r.have[i] -= got
		t.need += float64(dose)
		t.Lowest = min(t.Lowest, r.have[i])
		r.addShortage(t, float64(dose-got))
	}
}

// dosesBefore is what is taken in so many minutes from the first dose of a day on. It is worked out and not
// counted up, as a kit may say a million doses a day.
func (m *Medication) dosesBefore(minutes int64) int64 {
	times := (m.PerDay + 999) / 1000
	return m.PerDay * ((minutes*times + day - 1) / day) / times
}
