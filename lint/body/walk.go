package body

import "math"

// Pandolf is what walking costs, in W: the body's mass and the load in kg, the
// factor of the terrain (see Terrain), the speed in m/s and the grade in percent,
// rise over run.
//
// Pandolf, Givoni & Goldman, J Appl Physiol 1977;43(4):577-581, second-hand. It
// holds on the level and uphill, up to about 2 m/s and for loads of 0 to 70 kg
// (second-hand, a trade's page); above these it is carried on. Below the level it
// answers too little, even less than nothing: Walk corrects that. It is known to
// under-predict heavy modern loads by 12 to 33 % (Richmond et al. 2017, Gait &
// Posture, second-hand). A negative load or speed counts as none, a body below one
// kilogram as one kilogram.
//
// The Load Carriage Decision Aid (Looney et al. 2019 and 2022) is newer, but no worked
// example by its authors was found and copies of it disagree; Pandolf's has printed ones.
func Pandolf(body, load, terrain, speed, grade float64) float64 {
	body, load, speed = max(1, body), max(0, load), max(0, speed)
	share := load / body
	return 1.5*body + 2*(body+load)*share*share + terrain*(body+load)*(1.5*speed*speed+0.35*speed*grade)
}

// steepest is the grade in percent at which the field data for loaded walking downhill
// end: J. Human-Environ. System 6(2):69, abstract on its own page, year not seen.
const steepest = -12

// Walk is Pandolf with Santee's correction downhill, in the same units, and never
// less than standing costs under the load.
//
// Santee et al., Aviat Space Environ Med 2001;72:562-566 (citation from memory,
// formula second-hand; one copy dates it 2003). Copies disagree on the sign of the
// grade. The signed grade is used in both terms: with its absolute value 10 % down
// would cost twice what the level costs. A grade below -12 % counts as -12 %, where
// the field data end; nobody who stands is corrected.
//
// The correction is not nought at the level. Just below it Walk is higher than
// on it by terrain × ((body + load) × 36 / body - 25 + speed²), about 5 %; the
// published formula is kept as it is and used below the level only.
func Walk(body, load, terrain, speed, grade float64) float64 {
	body, load, speed, grade = max(1, body), max(0, load), max(0, speed), max(steepest, grade)
	w := Pandolf(body, load, terrain, speed, grade)
	if grade < 0 && speed > 0 {
		total := body + load
		w -= terrain * (grade*total*speed/3.5 - total*(grade+6)*(grade+6)/body + 25 - speed*speed)
	}
	return max(w, Pandolf(body, load, terrain, 0, 0))
}

// Terrain is the factor on the cost of moving over a ground, for Pandolf and Walk: the list of
// Soule & Goldman, J Appl Physiol 1972;32(5):706-708, second-hand. Where lists
// disagree (a hard road 1.2, dunes 1.8) theirs is kept, as Pandolf's was made for it.
// Snow is the row for hard-packed snow in Herzog's list of 2020 (second-hand); soft
// snow costs far more, up to 4.1 at 35 cm in a list nobody confirmed. A ground that
// is not written, or is none of the schema's, counts as a road.
func Terrain(ground string) float64 {
	switch ground {
	case "dirt", "grass":
		return 1.1
	case "brush": // light brush
		return 1.2
	case "heavy-brush":
		return 1.5
	case "snow":
		return 1.6
	case "bog": // swampy bog
		return 1.8
	case "sand": // loose sand
		return 2.1
	}
	return 1 // blacktop
}

// GroundTime is the factor on the time a walk takes over a ground: Herzog's list of 2020
// for functions of time, second-hand. It is another list than Terrain's and never goes
// into a cost. A ground that is not written, or is none of the schema's, counts as a road.
func GroundTime(ground string) float64 {
	switch ground {
	case "grass": // lawn
		return 1.03
	case "sand": // loose beach sand
		return 1.19
	case "brush": // off the path
		return 1.67
	case "snow": // the list has no snow: our own line puts it with what is off the path
		return 1.67
	case "bog":
		return 1.79
	case "heavy-brush": // our own line: the row of woods and heath off the path, below the tree line
		return 2
	}
	return 1 // blacktop roads and improved dirt paths
}

// slowest is the pace below which no load brings a walker, in m/s, and halvings how often
// Speed halves the span, which is below 1e-11 m/s then: our own lines.
const (
	slowest  = 0.3
	halvings = 40
)

// Speed is the pace under a load, in m/s: that at which a walker spends with the load
// what they would spend without it at the unloaded pace, both by Pandolf on the level of
// that ground. Who tires as fast as before walks slower: our own line. It is never
// above the unloaded pace, and below 0.3 m/s only where that pace is.
func Speed(body, load float64, ground string, unloaded float64) float64 {
	unloaded = max(0, unloaded)
	terrain := Terrain(ground)
	budget := Pandolf(body, 0, terrain, unloaded, 0)
	if Pandolf(body, load, terrain, unloaded, 0) <= budget {
		return unloaded
	}
	low, high := min(slowest, unloaded), unloaded
	for range halvings {
		middle := (low + high) / 2
		if Pandolf(body, load, terrain, middle, 0) <= budget {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// Tobler is the pace in m/s on a slope, rise over run and below nought downhill:
// 6 km/h × exp(-3.5 × |slope + 0.05|), Tobler, NCGIA Technical Report 93-1, February
// 1993, second-hand. It is for a footpath and a walker without load; a steep slope
// brings it towards nought, never below.
func Tobler(slope float64) float64 {
	return 6 / 3.6 * math.Exp(-3.5*math.Abs(slope+0.05))
}

// Naismith is the time in s for a distance and a climb in metres: 5 km an hour and one hour
// more for each 600 m of climb, the metric form of the rule of 1892 (three miles an hour and an
// hour for each 2000 feet), second-hand. Other printed variants differ by some minutes
// for 20 km; this one is what the plan's walks are measured by. Descent counts nothing;
// a negative distance or climb counts as none.
func Naismith(distance, climb float64) float64 {
	return max(0, distance)*0.72 + max(0, climb)*6
}
