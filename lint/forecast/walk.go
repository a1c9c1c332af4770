package forecast

import (
	"math"
	"slices"

	"kitmuster/lint/body"
)

// walk is where the household is on its route.
type walk struct {
	legs []leg
	on   int // the leg being walked or walked last, or NoLeg
	// next is the leg to walk; begun, whether it is being walked.
	next  int
	begun bool
	// Minutes on the way without a long rest, and halted without a walk.
	onWay, halted int64
	// The metres of leg on between which the step went.
	since, until float64
}

// beforeStart is where a leg is walked from in its first step, so that water at its very start is met.
const beforeStart = -1

// leg is how a leg is walked.
type leg struct {
	left  float64 // minutes
	whole float64
	speed float64 // m/s
	up    float64 // share of the way that does not go down
	rise  float64 // grade of that part, percent
	fall  float64 // grade of the other part, percent, negative
	// loads is what pace and work go by, in kg of each body: all as at the start, with every vessel full from the
	// first water on that can be made safe, so that a bottle filled up slows nobody down.
	loads []float64
}

func (r *run) startWalk() {
	w := &r.walk
	w.on, w.halted = NoLeg, haltBetween
	start, full := make([]float64, len(r.in.Bodies)), make([]float64, len(r.in.Bodies))
	for i := range r.in.Bodies {
		start[i] = r.in.Bodies[i].Load + r.in.Bodies[i].Extra
		full[i] = start[i]
	}
	for i := range r.in.Vessels {
		if v := &r.in.Vessels[i]; v.Carrier != Nobody {
			full[v.Carrier] += float64(max(0, v.CapacityML-v.WaterML)) / 1000
		}
	}
	for i := range r.in.Legs {
		loads := start
		if r.waterBefore(i) {
			loads = full
		}
		if off := r.in.Legs[i].Off; off != nil {
			loads = slices.Clone(loads)
			for j := range loads {
				loads[j] = max(0, loads[j]-off[j])
			}
		}
		w.legs = append(w.legs, r.planLeg(&r.in.Legs[i], loads))
		r.res.Legs = append(r.res.Legs, LegResult{Begin: Never, End: Never})
	}
}

// waterBefore reports whether there is water, before the end of a leg, that can be made safe. Water that is
// carried does not count.
func (r *run) waterBefore(leg int) bool {
	for i := range r.in.Sources {
		s := &r.in.Sources[i]
		if s.ML != 0 && (s.Leg < leg || s.Leg == leg && s.Along < r.in.Legs[leg].Distance) && (s.Clean || r.treatableInPlan(s.Turbid) > 0) {
			return true
		}
	}
	return false
}

// planLeg works out how a leg is walked under these loads: as fast as its slowest walker.
func (r *run) planLeg(in *Leg, loads []float64) leg {
	l := leg{up: 1, loads: loads}
	if in.Distance > 0 && in.Climb+in.Descent > 0 {
		// One grade up and one down, each over its part of the way.
		l.up = in.Climb / (in.Climb + in.Descent)
		l.rise = 100 * (in.Climb + in.Descent) / in.Distance
		l.fall = -l.rise
	}
	if in.Pace > 0 {
		l.speed = 1000 / in.Pace
	} else if in.Ride > 0 {
		l.speed = in.Ride
	} else if in.Distance > 0 {
		// Naismith's rule counts no descent and Tobler's function does; where they differ, the slower is believed.
		slope := in.Distance * (l.up/body.Tobler(l.rise/100) + (1-l.up)/body.Tobler(l.fall/100))
		free := in.Distance / (max(body.Naismith(in.Distance, in.Climb), slope) * body.GroundTime(in.Ground))
		l.speed = free
		for i := range r.in.Bodies {
			if b := &r.in.Bodies[i]; b.Walks && !b.Animal {
				l.speed = min(l.speed, body.Speed(b.Mass, loads[i], in.Ground, free))
				if b.Pace > 0 {
					l.speed = min(l.speed, b.Pace)
				}
			}
		}
	}
	if l.speed > 0 {
		l.whole = in.Distance / l.speed / 60
	}
	l.left = l.whole
	return l
}

// walkOrRest decides what the household does in the step and returns the minutes walked.
func (r *run) walkOrRest(dark float64) float64 {
	w := &r.walk
	if w.next < len(w.legs) && r.walksNow(dark) {
		return r.walkStep()
	}
	clock := r.clock(r.from)
	r.activity = Halt
	if clock >= sleepFrom || clock < sleepTo {
		r.activity = Sleep
	}
	if r.hour.Activity != Walk {
		r.hour.Activity = r.activity
	}
	w.halted += r.to - r.from
	if w.halted >= longRest {
		w.onWay = 0
	}
	w.since = w.until
	return 0
}

// walksNow reports whether the household walks in this step.
func (r *run) walksNow(dark float64) bool {
	w := &r.walk
	switch {
	case w.onWay >= stretch:
		return false
	case w.begun || w.next == 0 || r.in.Legs[w.next].Ride > 0 || r.in.Legs[w.next-1].Ride > 0:
		return true
	case w.halted < haltBetween:
		return false
	case r.in.Weather != nil && r.in.Weather.Daylight >= shortDay:
		return dark == 0
	}
	clock := r.clock(r.from)
	return clock >= sleepTo && clock < sleepFrom
}

// walkStep walks on for one step and returns the minutes walked in it, rests aside.
func (r *run) walkStep() float64 {
	w := &r.walk
	hour := int(r.from / 60)
	w.on = w.next
	l, out := &w.legs[w.on], &r.res.Legs[w.on]
	ride := r.in.Legs[w.on].Ride > 0
	if !w.begun {
		w.begun, w.since, w.until = true, beforeStart, 0
		out.Begin, out.WalkMin = hour, whole(l.whole)
		r.addEvent(Event{Hour: hour, Kind: Leave, ID: r.in.Legs[w.on].ID, Body: Everybody, Amount: out.WalkMin})
		if ride {
			out.WalkMin, out.RideMin = 0, out.WalkMin
		}
	} else {
		w.since = w.until
	}
	if ride {
		l.left -= min(r.minutes(), l.left)
		r.activity, r.hour.Leg = Ride, w.on
		if r.hour.Activity != Walk {
			r.hour.Activity = Ride
		}
		r.goOn(l, out, hour)
		return 0
	}
	most := float64(walkOfHour)
	if r.in.Weather != nil {
		for i := range r.in.Bodies {
			if b := &r.in.Bodies[i]; b.Walks && b.Adult && !b.Animal {
				most = min(most, float64(r.heatLimits(i).Work))
			}
		}
	}
	walked := min(most*r.minutes()/60, l.left)
	l.left -= walked
	r.activity, r.hour.Activity, r.hour.Leg = Walk, Walk, w.on
	minutes := l.whole - l.left
	r.hour.WalkMin += whole(minutes) - whole(minutes-walked)
	r.day.WalkMin += whole(minutes) - whole(minutes-walked)
	for i := range r.in.Bodies {
		if r.in.Bodies[i].Walks {
			r.res.Bodies[i].WalkMin += whole(minutes) - whole(minutes-walked)
		}
	}
	r.goOn(l, out, hour)
	return walked
}

// goOn notes how far the leg at hand has come, and its end.
func (r *run) goOn(l *leg, out *LegResult, hour int) {
	w := &r.walk
	w.until = r.in.Legs[w.on].Distance
	if l.left > 1e-6 {
		w.until *= (l.whole - l.left) / l.whole
	} else {
		out.End = hour
		r.addEvent(Event{Hour: hour, Kind: Arrive, ID: r.in.Legs[w.on].ID, Body: Everybody})
		w.next, w.begun = w.next+1, false
	}
	w.onWay += r.to - r.from
	w.halted = 0
}

// borne is what one body carries of its packs on the leg at hand, in kg.
func (r *run) borne(who int) float64 {
	if w := &r.walk; w.on != NoLeg {
		if off := r.in.Legs[w.on].Off; off != nil {
			return max(0, r.load(who)-off[who])
		}
	}
	return r.load(who)
}

// firstBorne is what one body carries of its packs on the first walk, as at the start, in kg.
func (r *run) firstBorne(who int) float64 {
	kg := r.in.Bodies[who].Load
	for i := range r.in.Legs {
		switch l := &r.in.Legs[i]; {
		case l.Ride > 0:
			kg = 0
		case l.Off != nil:
			return max(0, r.in.Bodies[who].Load-l.Off[who])
		default:
			return r.in.Bodies[who].Load
		}
	}
	return kg
}

// atSource reports whether the household comes by a source in this step, or rests at it.
func (r *run) atSource(s *Source) bool {
	w := &r.walk
	switch {
	case s.Leg == NoLeg:
		return true
	case s.Leg != w.on:
		return false
	case s.Along > w.since && s.Along <= w.until:
		return true
	}
	return w.since == w.until && math.Abs(w.until-s.Along) < 1
}
