package unit

import (
	"math/big"
	"strings"
	"unicode/utf8"
)

const latitudeExample = `"47.5 N"`

// latitudeDim lends its number reader; what follows the number is no unit.
var latitudeDim = dimension{noun: "a latitude", first: "N", sample: "47.5"}.index()

// ParseLatitude reads a latitude in degrees with its side of the equator: "47.5 N",
// "33.9° S", "47.5 north". It is kept to the thousandth of a degree, which is about
// 100 m. Minutes of a degree and a sign in place of N or S are refused.
func ParseLatitude(s string) (Latitude, error) {
	if err := readable("a latitude", latitudeExample, s); err != nil {
		return 0, err
	}
	from := skip(s, 0)
	to := back(s, from, len(s))
	switch r, w := utf8.DecodeRuneInString(s[from:]); r {
	case '-', '\u2212':
		return 0, failf(from, from+w, "a minus sign before the latitude: write N for north or S for south of the equator after the number, such as %s", `"33.9 S"`)
	case 'N', 'n', 'S', 's':
		if next := skip(s, from+w); digitAt(s, next) {
			return 0, failf(from, from+w, "%s before the number: write it after, such as %s", quote(s[from:from+w]), offer(s[next:to]+" "+strings.ToUpper(s[from:from+w])))
		}
	}
	if cut := digitsEnd(s, from); cut > from && cut < to {
		next := skip(s, cut)
		if s[cut] == ':' || next > cut && digitAt(s, next) && slashAt(s, digitsEnd(s, next)) == 0 {
			return 0, noMinutes(next, to, s)
		}
	}
	v, end, err := latitudeDim.number(s, from)
	if err != nil {
		return 0, err
	}
	number := s[from:end]
	side := skip(s, end)
	for _, degree := range []string{"°", "º", "degrees", "degree", "deg"} {
		if len(s)-side >= len(degree) && strings.EqualFold(s[side:side+len(degree)], degree) {
			side = skip(s, side+len(degree))
			break
		}
	}
	if side >= to {
		return 0, failf(from, to, "no N or S after %s: write %s north of the equator, %s south of it", number, offer(number+" N"), offer(number+" S"))
	}
	if digitAt(s, side) {
		return 0, noMinutes(side, to, s)
	}
	switch strings.ToLower(s[side:to]) {
	case "n", "north":
	case "s", "south":
		v.Neg(v)
	case "e", "w", "east", "west":
		return 0, failf(side, to, "%s is of a longitude: write the latitude, which ends in N or S", quote(s[side:to]))
	default:
		return 0, failf(side, to, "%s after the number is not understood: write N or S, such as %s", quote(s[side:to]), offer(number+" N"))
	}
	n, fits := round(v.Mul(v, big.NewRat(1000, 1)))
	if !fits || n > int64(MaxLatitude) || n < -int64(MaxLatitude) {
		return 0, failf(from, to, "%s is beyond the pole: write 0 to 90 degrees", quote(s[from:to]))
	}
	return Latitude(n), nil
}

func noMinutes(from, to int, s string) *Error {
	return failf(from, to, "%s is in minutes, which are not read: write the degrees with decimals, such as %s for 47° 30′", quote(s[from:to]), latitudeExample)
}

// String writes the latitude for people: "47.5 N", "33.868 S".
func (l Latitude) String() string {
	side := " N"
	size := new(big.Rat).SetFrac64(int64(l), 1000)
	if l < 0 {
		side = " S"
		size.Neg(size)
	}
	return trimZeros(size.FloatString(3)) + side
}

// Degrees returns the latitude in degrees, north positive.
func (l Latitude) Degrees() float64 { return float64(l) / 1000 }
