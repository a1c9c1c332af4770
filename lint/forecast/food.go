package forecast

import (
	"cmp"
	"math"
	"slices"

	"kitmuster/lint/kinds"
)

// ownerOf is whose stock a food belongs to: one body's that eats its own, or everyone's.
func (r *run) ownerOf(f *Food) int {
	if f.For != Everybody && r.in.Bodies[f.For].Eats == Own {
		return f.For
	}
	return Everybody
}

// eat feeds everyone: at meals, of what is hot first; walking, a little of what is ready to eat.
func (r *run) eat() {
	meal := r.to == r.in.Minutes || slices.ContainsFunc(meals, func(m int64) bool {
		wait := (m - r.clock(r.from) + day) % day
		return wait < r.to-r.from
	})
	for i := range r.in.Bodies {
		if r.in.Bodies[i].Eats == Own && meal {
			r.feed(i, r.halted(), meal)
		}
	}
	if meal || !r.halted() {
		r.feed(Everybody, r.halted(), meal)
	}
}

// halted reports whether food can be cooked in the step: not on the way.
func (r *run) halted() bool { return r.activity != Walk && r.activity != Ride }

// forPeople reports whether a food is not an animal's.
func (r *run) forPeople(food int) bool {
	f := r.in.Foods[food].For
	return f == Everybody || !r.in.Bodies[f].Animal
}

// feed eats until the hunger is stilled: of one body that eats its own, or of all who eat common food for Everyone.
// What is hot is eaten where it can be cooked.
func (r *run) feed(who int, cook, meal bool) {
	for {
		best := none
		for i := range r.in.Foods {
			if r.hungerFor(i, who) > 0.5 && r.edible(i, who, cook) && (best == none || r.eatenBefore(i, best)) {
				best = i
			}
		}
		if best == none {
			break
		}
		r.eatFrom(best, who)
	}
	hunger := r.hunger(who)
	if !meal || hunger < 0.5 {
		return
	}
	for i := range r.in.Foods { // what could still be eaten at a later halt is no want of food
		if r.hungerFor(i, who) > 0.5 && r.edible(i, who, true) {
			return
		}
	}
	if who == Everybody || !r.in.Bodies[who].Grazes {
		r.addShortage(r.tallyOf(kinds.StockEnergy, who, ""), hunger)
	}
	for i := range r.in.Bodies {
		if r.sharesFood(i, who) {
			r.hungry[i] = 0
		}
	}
}

// sharesFood reports whether a body is who, or eats common food where who is Everyone.
func (r *run) sharesFood(body, who int) bool {
	return body == who || who == Everybody && r.in.Bodies[body].Eats == Common
}

// hunger is what a body, or everyone who eats common food, has spent and not eaten, in J.
func (r *run) hunger(who int) (sum float64) {
	for i := range r.in.Bodies {
		if r.sharesFood(i, who) {
			sum += max(0, r.hungry[i])
		}
	}
	return sum
}

// hungerFor is the hunger that a food may still.
func (r *run) hungerFor(food, who int) float64 {
	if f := r.in.Foods[food].For; f != Everybody {
		return max(0, r.hungry[f])
	}
	return r.hunger(who)
}

// edible reports whether a food of this stock is left and can be eaten now; missing fuel is counted as a shortage.
func (r *run) edible(food, who int, cook bool) bool {
	f := &r.in.Foods[food]
	if r.food[food] < 0.5 || r.ownerOf(f) != who {
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
	t := r.tallyOf(kinds.StockFuel, Everybody, "")
	if t.Lasts == Never {
		var rest float64
		for i := range r.in.Foods {
			if x := &r.in.Foods[i]; x.CookML > 0 && x.EnergyJ > 0 {
				rest += float64(x.CookML) * r.food[i] / float64(x.EnergyJ)
			}
		}
		r.addShortage(t, rest)
	}
	return false
}

// eatenBefore orders food: what is past its date last, what is cooked first, then what was opened, then what ends soonest,
// then by id.
func (r *run) eatenBefore(a, b int) bool {
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
	return cmp.Or(first(!x.Past)-first(!y.Past), first(x.Cook)-first(y.Cook), first(x.Opened)-first(y.Opened), cmp.Compare(end(x), end(y)), cmp.Compare(x.ID, y.ID)) < 0
}

// eatFrom eats of one food as much as hunger and fuel allow; common food is shared by hunger.
func (r *run) eatFrom(food, who int) {
	f := &r.in.Foods[food]
	want := r.hungerFor(food, who)
	joules := min(want, r.food[food])
	if f.CookML > 0 {
		perJ := float64(f.CookML) / float64(f.EnergyJ)
		joules = min(joules, r.fuel/perJ)
		r.burnFuel(joules * perJ)
		if r.fuel < 1e-6 {
			r.fuel = 0
		}
	}
	before := r.food[food]
	r.food[food] -= joules
	if r.food[food] < 0.5 {
		joules, r.food[food] = before, 0
	}
	t := r.tallyOf(kinds.StockEnergy, who, "")
	t.need += joules
	if f.Past && t.Good == Never {
		t.Good = int(r.from / 60)
	}
	if r.forPeople(food) {
		r.day.EatenJ += whole(before) - whole(r.food[food])
		eaten := func(left float64) int64 { return whole(float64(f.SodiumMG) * (1 - left/float64(f.EnergyJ))) }
		r.day.SodiumMG += eaten(r.food[food]) - eaten(before)
	}
	for i := range r.in.Bodies {
		if f.For == i || f.For == Everybody && r.sharesFood(i, who) {
			r.hungry[i] -= joules * max(0, r.hungry[i]) / want
		}
	}
}

// useSodium counts the sodium that is needed; it is short from the hour on in which more was needed than all food holds.
func (r *run) useSodium(mg float64) {
	t := r.tallyOf(kinds.StockSodium, Everybody, "")
	before := t.need
	t.need += mg
	r.day.SodiumNeedMG += whole(t.need) - whole(before)
	r.addShortage(t, t.need-max(before, float64(t.Have)))
	t.Lowest = max(0, t.Have-whole(t.need))
}

// noteUneaten notes what is left of a stock of food that others may not eat, or that nobody can cook.
func (r *run) noteUneaten(stock int) {
	left := make([]float64, len(r.in.Bodies)+1) // for each; last, what is raw
	raw := len(r.in.Bodies)
	for i := range r.in.Foods {
		f := &r.in.Foods[i]
		switch {
		case r.ownerOf(f) != stock:
		case f.CookML > 0 && r.fuel <= 0.5:
			left[raw] += r.food[i]
		case f.For != Everybody && f.For != stock:
			left[f.For] += r.food[i]
		}
	}
	for i := range left {
		if j := whole(left[i]); j > 0 {
			u := Uneaten{Stock: stock, For: i, J: j}
			if i == raw {
				u.For = Uncooked
			}
			r.res.Uneaten = append(r.res.Uneaten, u)
		}
	}
}
