package unit

import (
	"math/big"
	"strings"
)

const paceExamples = `"12 min/km", or a speed, such as "5 km/h"`

// kilometre is in the base unit of Length.
var kilometre = big.NewRat(1e9, 1)

// ParsePace reads a pace, the time that one kilometre takes, or a speed, and
// returns it as the time for one kilometre: "12 min/km", "20 min/mi",
// "5 km/h", "3 mph". It is more than zero and at most MaxPace.
func ParsePace(s string) (Duration, error) {
	v, err := pace(s)
	if err != nil {
		return 0, err
	}
	from := skip(s, 0)
	to := back(s, from, len(s))
	if v.Cmp(new(big.Rat).SetInt64(int64(MaxPace))) > 0 {
		return 0, failf(from, to, "%s takes more than 24 h for a kilometre, the slowest that is read: look for a slip in the number or the unit", quote(s[from:to]))
	}
	n, _ := round(v)
	if n == 0 {
		return 0, failf(from, to, "%s takes less than a second for a kilometre: look for a slip in the number or the unit", quote(s[from:to]))
	}
	return Duration(n), nil
}

// pace reads the seconds for one kilometre without rounding.
func pace(s string) (*big.Rat, *Error) {
	if err := readable("a pace", paceExamples, s); err != nil {
		return nil, err
	}
	cut, next := strings.LastIndexByte(s, '/'), 0
	if cut >= 0 {
		next = cut + 1
	} else if cut = strings.LastIndex(s, " per "); cut >= 0 {
		next = cut + len(" per ")
	}
	from := skip(s, 0)
	to := back(s, from, len(s))
	if cut < 0 || digitAt(s, skip(s, next)) {
		v, err := speedDim.sum(s)
		if err != nil {
			if err.Bare || !numeric(s, from) {
				return nil, err
			}
			return nil, failf(from, to, "%s is not a pace: write a time for a distance, such as %s", quote(s[from:to]), paceExamples)
		}
		return invert(s, v.Mul(v, big.NewRat(1000, 1)), big.NewRat(1, 1)) // mm to µm in one second
	}
	below := skip(s, next)
	if below >= to {
		return nil, failf(cut, to, "no unit after the stroke: write a pace such as %s", paceExamples)
	}
	if from >= cut {
		return nil, failf(from, to, "no number before %s: write a pace such as %s", quote(s[from:to]), paceExamples)
	}
	name := unitName(s[below:to])
	if u := durationDim.lookup(name); u != nil {
		v, err := paceDistanceDim.sum(s[:cut])
		if err != nil {
			return nil, err
		}
		return invert(s, v, u.factor)
	}
	u := lengthDim.lookup(name)
	if u == nil {
		return nil, failf(below, to, "%s is not a unit of length or of duration: write a pace such as %s", quote(name), paceExamples)
	}
	v, err := paceTimeDim.sum(s[:cut])
	if err != nil {
		return nil, err
	}
	if v.Sign() == 0 {
		return nil, failf(from, to, "a pace must be more than zero: write one such as %s", paceExamples)
	}
	return v.Mul(v, kilometre).Quo(v, u.factor), nil
}

// numeric tells whether a number can be read at s[at:].
func numeric(s string, at int) bool {
	_, _, err := speedDim.number(s, at)
	return err == nil
}

// invert turns a speed of v micrometres in a number of seconds into the
// seconds for one kilometre.
func invert(s string, v, seconds *big.Rat) (*big.Rat, *Error) {
	if v.Sign() == 0 {
		from := skip(s, 0)
		return nil, failf(from, back(s, from, len(s)), "a speed must be more than zero: write one such as %s", `"5 km/h"`)
	}
	p := new(big.Rat).Mul(seconds, kilometre)
	return p.Quo(p, v), nil
}
