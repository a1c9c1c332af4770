package forecast

import (
	"kitmuster/lint/body"
	"kitmuster/lint/kinds"
)

// spend counts the energy, drink and sodium that everyone needs in the step, and drinks.
func (r *run) spend(walked float64) {
	part := r.minutes() / day
	wanting := 0.0
	for i := range r.in.Bodies {
		b, s := &r.in.Bodies[i], &r.bodies[i]
		joules, ml, sweat := b.RestJ*part, b.DrinkML*part, 0.0
		if !b.Animal {
			switch {
			case r.activity == Ride && r.in.Legs[r.walk.on].Work > 0 && b.Walks:
				joules *= r.in.Legs[r.walk.on].Work
			case r.activity != Sleep:
				joules *= campFactor
			}
			if walked > 0 && b.Walks {
				joules = joules*(1-walked/r.minutes()) + r.walkingPower(i)*walked*60
				ml, sweat = r.drinkAndSweat(i, walked)
			}
			if w := r.in.Weather; w != nil && body.WindChill(r.celsius(), w.Wind) < coldBelow {
				joules *= coldFactor
			}
			ordinary := b.SodiumMG * part
			if walked == 0 && r.fed() && b.Eats != Own { // a host has no food for an infant
				joules, ordinary = 0, 0
			}
			if b.Adult {
				ml = min(ml, body.HourCap*1000*r.minutes()/60, max(0, body.DayCap*1000-r.drunk[i]))
			}
			salt := ordinary + body.SweatSodium(sweat/1000)
			s.sodium += salt
			r.useSodium(salt)
			spent := whole(s.spent+joules) - whole(s.spent)
			r.day.SpentJ += spent
			r.hour.SpentJ += spent
		}
		r.drunk[i] += ml
		r.hungry[i] += joules
		s.spent += joules
		s.drink += ml
		s.sweat += sweat
		wanting += r.drinkWater(ml)
	}
	r.addShortage(r.tallyOf(kinds.StockWater, Everybody, ""), wanting)
}

// fed reports whether people are fed by others, having come to the end of their way.
func (r *run) fed() bool { return r.in.Fed && r.walk.next == len(r.in.Legs) }

// walkingPower is what walking costs one body on the leg at hand, up and down, in W. For those who are
// no adults the formula is carried on, as no published one was found.
func (r *run) walkingPower(who int) float64 {
	b, l := &r.in.Bodies[who], &r.walk.legs[r.walk.on]
	borne, terrain := r.borne(who)+b.Extra, body.Terrain(r.in.Legs[r.walk.on].Ground)
	up := body.Walk(b.Mass, borne, terrain, l.speed, l.rise)
	if l.up == 1 {
		return up
	}
	return l.up*up + (1-l.up)*body.Walk(b.Mass, borne, terrain, l.speed, l.fall)
}

// heatLimits is the work and drink of the army's table for an adult for the leg at hand, by the heaviest load on the way.
func (r *run) heatLimits(who int) body.Hour {
	l := &r.walk.legs[r.walk.on]
	return body.Fluid(r.wbgt(), body.WorkClass(l.speed, l.loads[who], r.in.Legs[r.walk.on].Ground))
}

// drinkAndSweat is what one body drinks in a step with a walk in it, and what of it is lost as sweat, in ml.
func (r *run) drinkAndSweat(who int, walked float64) (drink, sweat float64) {
	b := &r.in.Bodies[who]
	hours := r.minutes() / 60
	rest := b.DrinkML / 24 * hours
	if r.in.Weather == nil {
		sweat = 1000 * sweatMild * b.Mass / sweatBody * walked / 60
		return rest + sweat, sweat
	}
	h := r.heatLimits(who)
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
