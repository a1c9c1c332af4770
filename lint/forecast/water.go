package forecast

import (
	"cmp"
	"math"
	"slices"

	"kitmuster/lint/kinds"
)

// water is what the vessels hold.
type water struct {
	in      []float64 // ml, safe to drink, of each vessel
	waiting []batch   // treated, and not yet to be drunk
	treats  []float64 // left of each treatment
	hourly  []float64 // what each treatment can still do in this step
	sources []float64 // left of each source, or NoEnd
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

// waitingUntil is the water that waits in all vessels and may be drunk by a minute of the plan.
func (w *water) waitingUntil(until int64) (sum float64) {
	for _, b := range w.waiting {
		if b.ready <= until {
			sum += b.ml
		}
	}
	return sum
}

// waitingIn is what waits in a vessel.
func (w *water) waitingIn(vessel int) (sum float64) {
	for _, b := range w.waiting {
		if b.vessel == vessel {
			sum += b.ml
		}
	}
	return sum
}

// setAside puts an amount aside; what is ready at the same time in the same vessel is one.
func (w *water) setAside(b batch) {
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

// releaseTreated turns what has waited long enough into water to drink.
func (r *run) releaseTreated() {
	w := &r.water
	w.waiting = slices.DeleteFunc(w.waiting, func(b batch) bool {
		if b.ready <= r.from {
			w.in[b.vessel] += b.ml
			return true
		}
		return false
	})
}

// drinkWater drinks from the fullest vessels and returns what is lacking, in ml. The water that food is
// cooked with is drunk with it, and so is part of this.
func (r *run) drinkWater(ml float64) float64 {
	w, t := &r.water, r.tallyOf(kinds.StockWater, Everybody, "")
	left := ml
	for left > 1e-9 {
		best := none
		for i, in := range w.in {
			if in > 0 && (best == none || in > w.in[best]) {
				best = i
			}
		}
		if best == none {
			break
		}
		n := min(left, w.in[best])
		w.in[best] -= n
		left -= n
	}
	r.day.NeedML += whole(t.need+ml) - whole(t.need)
	t.need += ml
	if r.ahead == nil {
		r.seen.drink[len(r.seen.drink)-1] += ml
	}
	drunk := whole(w.drunk+ml-left) - whole(w.drunk)
	w.drunk += ml - left
	r.day.DrunkML += drunk
	r.hour.DrunkML += drunk
	return left
}

// resetTreatments lets each treatment do again what it can do in a step.
func (r *run) resetTreatments() {
	if r.ahead == nil {
		r.seen.drink = append(r.seen.drink, 0)
	}
	for i, t := range r.in.Treatments {
		r.water.hourly[i] = math.Inf(1)
		if t.PerHour > 0 {
			r.water.hourly[i] = float64(t.PerHour) * r.minutes() / 60
		}
	}
}

// collectWater fills the vessels at the water that the household is at; on the way, before it has
// walked, only at what is there all the time. Where more is to be walked, it takes what brings it to
// the next water and a quarter more. What is drunk from the minute since on is still to be drunk.
func (r *run) collectWater(leaving bool, since int64) {
	for _, i := range r.water.springs {
		s := &r.in.Sources[i]
		if r.water.sources[i] == 0 || leaving && s.Leg != NoLeg || !r.atSource(s) {
			continue
		}
		if r.ahead == nil {
			r.seen.met[i] = append(r.seen.met[i], r.to)
			continue
		}
		want, pour := math.Inf(1), math.Inf(1)
		if r.walk.next < len(r.in.Legs) {
			pour = portion
			want = reserve*r.ahead.drinkUntilNextWater(r, i, since) - r.water.total()
			if s.Clean { // what waits for long stills no thirst on the way
				want -= r.water.waitingUntil(r.to)
			} else {
				want -= r.water.waitingUntil(math.MaxInt64)
			}
		}
		got := 0.0
		full := make([]bool, len(r.in.Vessels))
		for v := r.lightestVessel(full); v != none && got < want; v = r.lightestVessel(full) {
			ml := r.fillVessel(i, v, min(pour, want-got))
			got += ml
			full[v] = ml == 0
		}
		n := whole(r.water.collected+got) - whole(r.water.collected)
		if r.water.collected += got; n > 0 {
			r.day.CollectedML += n
			r.addEvent(Event{Hour: int(r.from / 60), Kind: Collect, ID: s.ID, Body: Everybody, Amount: n})
		} else if want > 0 && !r.passed[i] {
			r.notePassed(i)
		}
	}
}

// notePassed tells, once for each source, that water is left behind for want of a treatment.
func (r *run) notePassed(source int) {
	s := &r.in.Sources[source]
	room := false
	for i := range r.in.Vessels {
		room = room || float64(r.in.Vessels[i].CapacityML)-r.water.in[i]-r.water.waitingIn(i) > 0.5
	}
	if s.Clean || !room || r.in.BoilTreats && r.fuel > 0.5 {
		return
	}
	e := Event{Hour: int(r.from / 60), Kind: Pass, ID: s.ID, Body: Everybody}
	for c := range treatmentPasses(s.Turbid) {
		e.Leaves[c] = true
		for i := range r.in.Treatments {
			if r.clears(i, c) && r.water.treats[i] > 0.5 {
				e.Leaves[c] = false
			}
		}
		r.passed[source] = r.passed[source] || e.Leaves[c]
	}
	if r.passed[source] {
		r.addEvent(e)
	}
}

// portion is what is poured at once on the way, our own figure: so what is to be walked with is shared out over the carriers.
const portion = 500.0

// lightestVessel is the vessel that is not full and whose carrier has the smallest load for its body mass, what is
// worn first; none where all are full.
func (r *run) lightestVessel(full []bool) int {
	best, least := none, 0.0
	for i := range r.in.Vessels {
		if full[i] {
			continue
		}
		share := 0.0
		if who := r.in.Vessels[i].Carrier; who != Nobody {
			share = r.load(who) / max(1, r.in.Bodies[who].Mass)
		}
		if best == none || share < least {
			best, least = i, share
		}
	}
	return best
}

// fillVessel fills one vessel at a source, up to an amount and as far as there is room, water and treatment.
func (r *run) fillVessel(source, vessel int, most float64) float64 {
	w, s := &r.water, &r.in.Sources[source]
	ml := min(most, float64(r.in.Vessels[vessel].CapacityML)-w.in[vessel]-w.waitingIn(vessel))
	if w.sources[source] != NoEnd {
		ml = min(ml, w.sources[source])
	}
	if !s.Clean {
		ml = min(ml, r.treatable(s.Turbid))
	}
	if ml < 1e-6 {
		return 0
	}
	if w.sources[source] != NoEnd {
		w.sources[source] -= ml
	}
	wait := int64(0)
	if !s.Clean {
		wait = r.treat(ml, s.Turbid)
	}
	if wait == 0 {
		w.in[vessel] += ml
	} else {
		w.setAside(batch{r.to + wait, vessel, ml})
	}
	return ml
}

// usable reports whether a treatment works on this water now: only a filter takes turbid water, the others
// need one before them.
func (r *run) usable(treatment int, turbid bool) bool {
	if !turbid || r.in.Treatments[treatment].Filters {
		return true
	}
	for i, t := range r.in.Treatments {
		if t.Filters && r.capacity(i) > 0 {
			return true
		}
	}
	return false
}

// capacity is what a treatment can still treat in this step.
func (r *run) capacity(treatment int) float64 {
	return min(r.water.treats[treatment], r.water.hourly[treatment])
}

// treatable is the water that can be cleared of every class in this step.
func (r *run) treatable(turbid bool) float64 {
	least := math.Inf(1)
	for c := range treatmentPasses(turbid) {
		sum := 0.0
		for i := range r.in.Treatments {
			if r.clears(i, c) && r.usable(i, turbid) {
				sum += r.capacity(i)
			}
		}
		if r.in.BoilTreats {
			sum += r.fuel
		}
		least = min(least, sum)
	}
	return least
}

// treatmentPasses counts what must be done to water: each class is cleared and, where it is turbid, the mud filtered out.
func treatmentPasses(turbid bool) int {
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

// treat uses up treatments for an amount of water, the fuel last, and returns the minutes to wait.
func (r *run) treat(ml float64, turbid bool) (wait int64) {
	boiled := 0.0
	used := make([]float64, len(r.in.Treatments)) // of each, over all passes
	for c := range treatmentPasses(turbid) {
		left := ml
		for _, i := range r.water.order {
			if n := min(left, r.capacity(i)); r.clears(i, c) && n > 0 && r.usable(i, turbid) {
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
	r.burnFuel(min(boiled, r.fuel))
	return wait
}

// preview is what a run that takes no water on the way notes: neither the way nor what is drunk on
// it depends on the water that is there.
type preview struct {
	drink []float64 // ml of each step
	met   [][]int64 // of each source: the ends of the steps in which it is at hand
}

// drinkUntilNextWater is what is drunk, in ml, from a minute on until water found after this step is ready to drink, or
// until the plan ends. Water of a stated amount does not count, nor what the treatments cannot clear to the end.
func (s *preview) drinkUntilNextWater(r *run, here int, since int64) (sum float64) {
	first := int((since + r.step - 1) / r.step) // the last step may be a short one
	left := 0.0                                 // until the end
	for k := first; k < len(s.drink); k++ {
		left += s.drink[k]
	}
	until := r.in.Minutes
	for i := range r.in.Sources {
		src := &r.in.Sources[i]
		if src.ML != NoEnd && i != here {
			continue
		}
		wait := int64(0)
		if !src.Clean {
			if r.treatableInPlan(src.Turbid) < left {
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

// treatableInPlan is the water that can be cleared of every class in the rest of the plan.
func (r *run) treatableInPlan(turbid bool) float64 {
	hourly := slices.Clone(r.water.hourly)
	for i := range r.water.hourly {
		r.water.hourly[i] = math.Inf(1)
	}
	ml := r.treatable(turbid)
	r.water.hourly = hourly
	return ml
}

// waterLimit finds why water is short, by trying what would help.
func waterLimit(in *Input) kinds.WaterLimit {
	solvedBy := func(vessels, treatment bool) bool {
		try := *in
		if vessels {
			try.Vessels = append(slices.Clone(in.Vessels), Vessel{Carrier: Nobody, CapacityML: 1e9})
		}
		if treatment {
			all := [Classes]bool{true, true, true, true}
			try.Treatments = append(slices.Clone(in.Treatments), Treatment{ML: 1e9, Clears: all, Filters: true})
		}
		return simulate(&try, 60).tallyOf(kinds.StockWater, Everybody, "").lacking < 0.5
	}
	switch {
	case len(in.Sources) == 0:
		return kinds.LimitSources
	case solvedBy(false, true):
		return kinds.LimitTreat
	case solvedBy(true, false):
		return kinds.LimitVessels
	case solvedBy(true, true):
		return kinds.LimitBoth
	}
	return kinds.LimitSources
}
