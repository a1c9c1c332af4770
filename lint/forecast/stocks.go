package forecast

import (
	"cmp"
	"math"
	"slices"

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

// stock is the tally of a kind and of whose or what it is.
func (r *run) stock(kind kinds.Stock, who int, id string) *tally {
	k := key{kind, who, id}
	i, ok := r.index[k]
	if !ok {
		i = len(r.tally)
		r.index[k] = i
		r.tally = append(r.tally, tally{Stock: Stock{Kind: kind, Body: who, ID: id, Lasts: -1, Lowest: math.MaxInt64}})
	}
	return &r.tally[i]
}

// expect makes the tallies that a plan has, so that what is never short is told too. None is
// added later, as pointers into them are at work.
func (r *run) expect() {
	have := func(kind kinds.Stock, who int, id string, n int64) {
		t := r.stock(kind, who, id)
		t.Have, t.Lowest = n, n
	}
	have(kinds.StockWater, -1, "", whole(r.water.total()))
	have(kinds.StockEnergy, -1, "", 0)
	have(kinds.StockSodium, -1, "", r.in.SaltsMG)
	have(kinds.StockLight, -1, "", r.in.Lamps.Minutes)
	have(kinds.StockFuel, -1, "", r.in.FuelML)
	for i := range r.in.Bodies {
		if b := &r.in.Bodies[i]; b.Eats == Own && !b.Grazes {
			have(kinds.StockEnergy, i, "", 0)
		}
	}
	for i := range r.in.Foods {
		f := &r.in.Foods[i]
		t := r.stock(kinds.StockEnergy, r.pool(f), "")
		t.Have += f.EnergyJ
		t.Lowest = t.Have
		if r.forPeople(i) {
			r.stock(kinds.StockSodium, -1, "").Have += f.SodiumMG
		}
	}
	for _, m := range r.in.Medications {
		if m.PerDay > 0 {
			have(kinds.StockDoses, m.Body, m.ID, m.Have)
		}
	}
}

// pool is whose stock a food belongs to: one body's that eats its own, or everybody's.
func (r *run) pool(f *Food) int {
	if f.For >= 0 && r.in.Bodies[f.For].Eats == Own {
		return f.For
	}
	return -1
}

// lack notes that a stock is short by an amount in this step.
func (r *run) lack(t *tally, amount float64) {
	if amount < 0.5 {
		return
	}
	hour := int(r.from / 60)
	if t.Lasts < 0 {
		t.Lasts, t.event = hour, len(r.res.Events)
		r.tell(Event{Hour: hour, Kind: Short, ID: t.ID, Stock: t.Kind, Body: t.Body})
	}
	if t.Lasts == hour {
		t.first += amount
		t.First = whole(t.first)
		r.res.Events[t.event].Amount = t.First
	}
	t.lacking += amount
}

// tell adds an event; water collected again from one source is one, until the household leaves or arrives.
func (r *run) tell(e Event) {
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

// water is what the vessels hold.
type water struct {
	in      []float64 // ml, safe to drink, of each vessel
	waiting []batch   // treated, and not yet to be drunk
	treats  []float64 // left of each treatment
	hourly  []float64 // what each treatment can still do in this step
	sources []float64 // left of each source; -1: no end
	order   []int     // of treatments, those that wait least first
	springs []int     // of sources, clean ones first
	// Over the whole plan, so that rounding adds up.
	drunk, collected float64
}

// batch waits in its vessel, apart from what may be drunk.
type batch struct {
	ready  int64 // minute of the plan
	vessel int
	ml     float64
}

func (w *water) total() (sum float64) {
	for _, ml := range w.in {
		sum += ml
	}
	return sum
}

// unready is what waits in all vessels, and no longer than to a minute of the plan.
func (w *water) unready(until int64) (sum float64) {
	for _, b := range w.waiting {
		if b.ready <= until {
			sum += b.ml
		}
	}
	return sum
}

// held is what waits in a vessel.
func (w *water) held(vessel int) (sum float64) {
	for _, b := range w.waiting {
		if b.vessel == vessel {
			sum += b.ml
		}
	}
	return sum
}

// wait sets an amount aside; what is ready at the same time in the same vessel is one.
func (w *water) wait(b batch) {
	for i := range w.waiting {
		if x := &w.waiting[i]; x.ready == b.ready && x.vessel == b.vessel {
			x.ml += b.ml
			return
		}
	}
	w.waiting = append(w.waiting, b)
}

func (r *run) startWater() {
	w := &r.water
	for _, v := range r.in.Vessels {
		w.in = append(w.in, float64(v.WaterML))
	}
	for i, t := range r.in.Treatments {
		w.treats = append(w.treats, float64(t.ML))
		w.order = append(w.order, i)
	}
	w.hourly = make([]float64, len(w.treats))
	for i, s := range r.in.Sources {
		w.sources = append(w.sources, float64(s.ML))
		if s.Clean {
			w.springs = append(w.springs, i)
		}
	}
	for i, s := range r.in.Sources {
		if !s.Clean {
			w.springs = append(w.springs, i)
		}
	}
	slices.SortFunc(w.order, func(a, b int) int {
		x, y := &r.in.Treatments[a], &r.in.Treatments[b]
		return cmp.Or(cmp.Compare(x.WaitMin, y.WaitMin), cmp.Compare(x.ID, y.ID))
	})
}

// ready turns what has waited long enough into water to drink.
func (r *run) ready() {
	w := &r.water
	w.waiting = slices.DeleteFunc(w.waiting, func(b batch) bool {
		if b.ready <= r.from {
			w.in[b.vessel] += b.ml
			return true
		}
		return false
	})
}

// drink takes water out of the fullest vessel on, and gives what is lacking. The water that food is
// cooked with is drunk with it, and so is part of this.
func (r *run) drink(ml float64) float64 {
	w, t := &r.water, r.stock(kinds.StockWater, -1, "")
	left := ml
	for left > 1e-9 {
		best := -1
		for i, in := range w.in {
			if in > 0 && (best < 0 || in > w.in[best]) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		n := min(left, w.in[best])
		w.in[best] -= n
		left -= n
	}
	r.day.NeedML += whole(t.need+ml) - whole(t.need)
	t.need += ml
	if r.ahead == nil {
		r.scout.drink[len(r.scout.drink)-1] += ml
	}
	drunk := whole(w.drunk+ml-left) - whole(w.drunk)
	w.drunk += ml - left
	r.day.DrunkML += drunk
	r.hour.DrunkML += drunk
	return left
}

// open begins a step of drinking and treating.
func (r *run) open() {
	if r.ahead == nil {
		r.scout.drink = append(r.scout.drink, 0)
	}
	for i, t := range r.in.Treatments {
		r.water.hourly[i] = math.Inf(1)
		if t.PerHour > 0 {
			r.water.hourly[i] = float64(t.PerHour) * r.minutes() / 60
		}
	}
}

// collect fills the vessels at the water that the household is at; on the way, before it has
// walked, only at what is there all the time. Where more is to be walked, it takes what brings it to
// the next water and a quarter more. What is drunk from the minute since on is still to be drunk.
func (r *run) collect(leaving bool, since int64) {
	for _, i := range r.water.springs {
		s := &r.in.Sources[i]
		if r.water.sources[i] == 0 || leaving && s.Leg >= 0 || !r.at(s) {
			continue
		}
		if r.ahead == nil {
			r.scout.met[i] = append(r.scout.met[i], r.to)
			continue
		}
		want, pour := math.Inf(1), math.Inf(1)
		if r.walk.next < len(r.in.Legs) {
			pour = portion
			want = reserve*r.ahead.need(r, i, since) - r.water.total()
			if s.Clean { // what waits for long stills no thirst on the way
				want -= r.water.unready(r.to)
			} else {
				want -= r.water.unready(math.MaxInt64)
			}
		}
		got := 0.0
		full := make([]bool, len(r.in.Vessels))
		for v := r.lightest(full); v >= 0 && got < want; v = r.lightest(full) {
			ml := r.fill(i, v, min(pour, want-got))
			got += ml
			full[v] = ml == 0
		}
		n := whole(r.water.collected+got) - whole(r.water.collected)
		if r.water.collected += got; n > 0 {
			r.day.CollectedML += n
			r.tell(Event{Hour: int(r.from / 60), Kind: Collect, ID: s.ID, Body: -1, Amount: n})
		} else if want > 0 && !r.passed[i] {
			r.pass(i)
		}
	}
}

// pass tells, once for each source, that water is left behind for want of a treatment.
func (r *run) pass(source int) {
	s := &r.in.Sources[source]
	room := false
	for i := range r.in.Vessels {
		room = room || float64(r.in.Vessels[i].CapacityML)-r.water.in[i]-r.water.held(i) > 0.5
	}
	if s.Clean || !room || r.in.BoilTreats && r.fuel > 0.5 {
		return
	}
	e := Event{Hour: int(r.from / 60), Kind: Pass, ID: s.ID, Body: -1}
	for c := range passes(s.Turbid) {
		e.Leaves[c] = true
		for i := range r.in.Treatments {
			if r.clears(i, c) && r.water.treats[i] > 0.5 {
				e.Leaves[c] = false
			}
		}
		r.passed[source] = r.passed[source] || e.Leaves[c]
	}
	if r.passed[source] {
		r.tell(e)
	}
}

// portion is what is poured at once on the way, our own figure: so what is to be walked with is shared out over the carriers.
const portion = 500.0

// lightest is the vessel that is not full and whose carrier bears the smallest share of body mass, what is
// worn first; -1 where all are full.
func (r *run) lightest(full []bool) int {
	best, least := -1, 0.0
	for i := range r.in.Vessels {
		if full[i] {
			continue
		}
		share := 0.0
		if who := r.in.Vessels[i].Carrier; who >= 0 {
			share = r.load(who) / max(1, r.in.Bodies[who].Mass)
		}
		if best < 0 || share < least {
			best, least = i, share
		}
	}
	return best
}

// fill fills one vessel at a source, up to an amount and as far as there is room, water and treatment.
func (r *run) fill(source, vessel int, most float64) float64 {
	w, s := &r.water, &r.in.Sources[source]
	ml := min(most, float64(r.in.Vessels[vessel].CapacityML)-w.in[vessel]-w.held(vessel))
	if w.sources[source] >= 0 {
		ml = min(ml, w.sources[source])
	}
	if !s.Clean {
		ml = min(ml, r.treatable(s.Turbid))
	}
	if ml < 1e-6 {
		return 0
	}
	if w.sources[source] >= 0 {
		w.sources[source] -= ml
	}
	wait := int64(0)
	if !s.Clean {
		wait = r.treat(ml, s.Turbid)
	}
	if wait == 0 {
		w.in[vessel] += ml
	} else {
		w.wait(batch{r.to + wait, vessel, ml})
	}
	return ml
}

// fit reports whether a treatment is any good for water of this kind now: what does not filter takes
// clear water, or a filter before it.
func (r *run) fit(treatment int, turbid bool) bool {
	if !turbid || r.in.Treatments[treatment].Filters {
		return true
	}
	for i, t := range r.in.Treatments {
		if t.Filters && r.able(i) > 0 {
			return true
		}
	}
	return false
}

// able is what a treatment can still treat in this step.
func (r *run) able(treatment int) float64 {
	return min(r.water.treats[treatment], r.water.hourly[treatment])
}

// treatable is the water that can be cleared of every class in this step.
func (r *run) treatable(turbid bool) float64 {
	least := math.Inf(1)
	for c := range passes(turbid) {
		sum := 0.0
		for i := range r.in.Treatments {
			if r.clears(i, c) && r.fit(i, turbid) {
				sum += r.able(i)
			}
		}
		if r.in.BoilTreats {
			sum += r.fuel
		}
		least = min(least, sum)
	}
	return least
}

// passes counts what must be done to water: each class is cleared and, where it is turbid, the mud filtered out.
func passes(turbid bool) int {
	if turbid {
		return Classes + 1
	}
	return Classes
}

// clears reports whether a treatment does one of the passes.
func (r *run) clears(treatment, pass int) bool {
	t := &r.in.Treatments[treatment]
	if pass == Classes {
		return t.Filters
	}
	return t.Clears[pass]
}

// treat uses up treatments for an amount of water, the fuel last, and gives the minutes to wait.
func (r *run) treat(ml float64, turbid bool) (wait int64) {
	boiled := 0.0
	used := make([]float64, len(r.in.Treatments)) // of each, over all passes
	for c := range passes(turbid) {
		left := ml
		for _, i := range r.water.order {
			if n := min(left, r.able(i)); r.clears(i, c) && n > 0 && r.fit(i, turbid) {
				used[i] = max(used[i], n)
				left -= n
				wait = max(wait, r.in.Treatments[i].WaitMin)
			}
		}
		boiled = max(boiled, left)
	}
	for i, n := range used {
		r.water.treats[i] -= n
		r.water.hourly[i] -= n
	}
	r.burn(min(boiled, r.fuel))
	return wait
}

// burn uses fuel to boil an amount.
func (r *run) burn(ml float64) {
	r.fuel -= ml
	r.stock(kinds.StockFuel, -1, "").need += ml
}

// scout is what a walk through the plan without drinking sees: neither the way nor what is drunk on
// it depends on the water that is there.
type scout struct {
	drink []float64 // ml of each step
	met   [][]int64 // of each source: the ends of the steps in which it is at hand
}

// need is what is drunk from a minute on until the next water after this step is ready to drink, or the plan
// ends. Water that is counted out, or that the treatments cannot clear until the end, is no next water.
func (s *scout) need(r *run, here int, since int64) (sum float64) {
	first := int((since + r.step - 1) / r.step) // the last step may be a short one
	left := 0.0                                 // until the end
	for k := first; k < len(s.drink); k++ {
		left += s.drink[k]
	}
	until := r.in.Minutes
	for i := range r.in.Sources {
		src := &r.in.Sources[i]
		if src.ML >= 0 && i != here {
			continue
		}
		wait := int64(0)
		if !src.Clean {
			if r.lasting(src.Turbid) < left {
				continue
			}
			for _, t := range r.in.Treatments {
				wait = max(wait, t.WaitMin)
			}
		}
		for _, at := range s.met[i] {
			if at > r.to {
				until = min(until, at+wait)
				break
			}
		}
	}
	for k := first; k < len(s.drink) && int64(k)*r.step < until; k++ {
		sum += s.drink[k]
	}
	return sum
}

// lasting is the water that can be cleared of every class in all.
func (r *run) lasting(turbid bool) float64 {
	hourly := slices.Clone(r.water.hourly)
	for i := range r.water.hourly {
		r.water.hourly[i] = math.Inf(1)
	}
	ml := r.treatable(turbid)
	r.water.hourly = hourly
	return ml
}

// limit finds why water is short, by trying what would mend it.
func limit(in *Input) kinds.WaterLimit {
	mended := func(vessels, treatment bool) bool {
		try := *in
		if vessels {
			try.Vessels = append(slices.Clone(in.Vessels), Vessel{Carrier: -1, CapacityML: 1e9})
		}
		if treatment {
			all := [Classes]bool{true, true, true, true}
			try.Treatments = append(slices.Clone(in.Treatments), Treatment{ML: 1e9, Clears: all, Filters: true})
		}
		return walked(&try, 60).stock(kinds.StockWater, -1, "").lacking < 0.5
	}
	switch {
	case len(in.Sources) == 0:
		return kinds.LimitSources
	case mended(false, true):
		return kinds.LimitTreat
	case mended(true, false):
		return kinds.LimitVessels
	case mended(true, true):
		return kinds.LimitBoth
	}
	return kinds.LimitSources
}

// feed eats until the hunger is stilled: of one body that eats its own, or of everybody else for who -1.
// What is hot is eaten where it can be cooked.
func (r *run) feed(who int, cook, meal bool) {
	for {
		best := -1
		for i := range r.in.Foods {
			if r.eaters(i, who) > 0.5 && r.edible(i, who, cook) && (best < 0 || r.before(i, best)) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		r.swallow(best, who)
	}
	hunger := r.hunger(who)
	if !meal || hunger < 0.5 {
		return
	}
	for i := range r.in.Foods { // what could still be eaten at a later halt is no want of food
		if r.eaters(i, who) > 0.5 && r.edible(i, who, true) {
			return
		}
	}
	if who < 0 || !r.in.Bodies[who].Grazes {
		r.lack(r.stock(kinds.StockEnergy, who, ""), hunger)
	}
	for i := range r.in.Bodies {
		if r.shares(i, who) {
			r.hungry[i] = 0
		}
	}
}

// shares reports whether a body is who, or eats common food where who is -1.
func (r *run) shares(body, who int) bool {
	return body == who || who < 0 && r.in.Bodies[body].Eats == Common
}

// hunger is what a body, or everybody who eats common food, has spent and not eaten, in J.
func (r *run) hunger(who int) (sum float64) {
	for i := range r.in.Bodies {
		if r.shares(i, who) {
			sum += max(0, r.hungry[i])
		}
	}
	return sum
}

// eaters is the hunger that a food may still.
func (r *run) eaters(food, who int) float64 {
	if f := r.in.Foods[food].For; f >= 0 {
		return max(0, r.hungry[f])
	}
	return r.hunger(who)
}

// edible reports whether a food of this stock is left and can be eaten now; fuel that lacks is noted.
func (r *run) edible(food, who int, cook bool) bool {
	f := &r.in.Foods[food]
	if r.food[food] < 0.5 || r.pool(f) != who {
		return false
	}
	if !f.Cook {
		return true
	}
	if !cook {
		return false
	}
	if f.CookML == 0 || r.fuel > 0.5 {
		return true
	}
	t := r.stock(kinds.StockFuel, -1, "")
	if t.Lasts < 0 {
		var rest float64
		for i := range r.in.Foods {
			if x := &r.in.Foods[i]; x.CookML > 0 && x.EnergyJ > 0 {
				rest += float64(x.CookML) * r.food[i] / float64(x.EnergyJ)
			}
		}
		r.lack(t, rest)
	}
	return false
}

// before orders food: what is cooked first, then what was opened, then what ends soonest, then by id.
func (r *run) before(a, b int) bool {
	x, y := &r.in.Foods[a], &r.in.Foods[b]
	first := func(yes bool) int {
		if yes {
			return 0
		}
		return 1
	}
	end := func(f *Food) int64 {
		if f.Until == 0 {
			return math.MaxInt64
		}
		return f.Until
	}
	return cmp.Or(first(x.Cook)-first(y.Cook), first(x.Opened)-first(y.Opened), cmp.Compare(end(x), end(y)), cmp.Compare(x.ID, y.ID)) < 0
}

// swallow eats of one food as much as hunger and fuel allow; common food is shared by hunger.
func (r *run) swallow(food, who int) {
	f := &r.in.Foods[food]
	want := r.eaters(food, who)
	joules := min(want, r.food[food])
	if f.CookML > 0 {
		perJ := float64(f.CookML) / float64(f.EnergyJ)
		joules = min(joules, r.fuel/perJ)
		r.burn(joules * perJ)
		if r.fuel < 1e-6 {
			r.fuel = 0
		}
	}
	before := r.food[food]
	r.food[food] -= joules
	if r.food[food] < 0.5 {
		joules, r.food[food] = before, 0
	}
	t := r.stock(kinds.StockEnergy, who, "")
	t.need += joules
	if r.forPeople(food) {
		r.day.EatenJ += whole(before) - whole(r.food[food])
		eaten := func(left float64) int64 { return whole(float64(f.SodiumMG) * (1 - left/float64(f.EnergyJ))) }
		r.day.SodiumMG += eaten(r.food[food]) - eaten(before)
	}
	for i := range r.in.Bodies {
		if f.For == i || f.For < 0 && r.shares(i, who) {
			r.hungry[i] -= joules * max(0, r.hungry[i]) / want
		}
	}
}

// salt counts the sodium that is asked; it is short from the hour on in which more was asked than all food holds.
func (r *run) salt(mg float64) {
	t := r.stock(kinds.StockSodium, -1, "")
	before := t.need
	t.need += mg
	r.day.SodiumNeedMG += whole(t.need) - whole(before)
	r.lack(t, t.need-max(before, float64(t.Have)))
	t.Lowest = max(0, t.Have-whole(t.need))
}

// finish closes the tallies.
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
				if r.shares(j, t.Body) {
					t.need += r.bodies[j].spent
				}
			}
		case kinds.StockFuel:
			t.need += t.lacking
		case kinds.StockSodium:
			t.Short = max(0, whole(t.need)-t.Have)
		}
		t.Need = whole(t.need)
		if t.Lasts < 0 {
			t.Lasts = hours
		}
		r.res.Stocks = append(r.res.Stocks, t.Stock)
		if t.Kind == kinds.StockEnergy && t.Short > 0 {
			r.uneaten(t.Body)
		}
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

// uneaten notes what is left of a stock of food that others may not eat, or that nobody can cook.
func (r *run) uneaten(stock int) {
	left := make([]float64, len(r.in.Bodies)+1) // for each; last, what is raw
	raw := len(r.in.Bodies)
	for i := range r.in.Foods {
		f := &r.in.Foods[i]
		switch {
		case r.pool(f) != stock:
		case f.CookML > 0 && r.fuel <= 0.5:
			left[raw] += r.food[i]
		case f.For >= 0 && f.For != stock:
			left[f.For] += r.food[i]
		}
	}
	for i := range left {
		if j := whole(left[i]); j > 0 {
			u := Uneaten{Stock: stock, For: i, J: j}
			if i == raw {
				u.For = -1
			}
			r.res.Uneaten = append(r.res.Uneaten, u)
		}
	}
}
