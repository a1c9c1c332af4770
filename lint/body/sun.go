package body

import "math"

// sunAtEdge is how far below the horizon the sun's centre stands, in degrees, when its upper
// edge is just seen: 0.8333, for the sun's own radius and the bending of its light.
const sunAtEdge = 0.8333

// Daylight is the hours from sunrise to sunset, 0 to 24, at a latitude in degrees, north
// positive and clamped to 90 either way, on a day of the year, 1 being the first of January.
//
// The CBM model of Forsythe et al. 1995, Ecological Modelling 80:87-95, with its 0.8333°,
// second-hand. Where the sun never sets it answers 24, where it never rises 0, also at
// the poles. Published times are met within three minutes up to 46° and within five up
// to 61°; between 65° and the polar day, where a little height of the sun is a long time, it is up
// to half an hour out. It knows an open horizon only: a valley has less.
func Daylight(latitude float64, day int) float64 {
	const degree = math.Pi / 180
	l := min(90, max(-90, latitude)) * degree
	theta := 0.2163108 + 2*math.Atan(0.9671396*math.Tan(0.00860*float64(day-186)))
	phi := math.Asin(0.39795 * math.Cos(theta))
	// At a pole the divisor is next to nothing and the quotient is clamped all the same.
	c := (math.Sin(sunAtEdge*degree) + math.Sin(l)*math.Sin(phi)) / (math.Cos(l) * math.Cos(phi))
	return 24 - 24/math.Pi*math.Acos(min(1, max(-1, c)))
}
