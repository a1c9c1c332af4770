package unit

import (
	"strconv"
	"strings"
)

// String writes the duration for people and in full: "72 h", "1 h 30 min",
// "42 min". One that is a whole number of months is written as an age:
// "8 months", "3 y 6 months".
func (d Duration) String() string {
	if d == 0 {
		return "0 min"
	}
	parts := []struct {
		size      uint64
		one, many string
	}{{3600, " h", " h"}, {60, " min", " min"}, {1, " s", " s"}}
	if d%month == 0 {
		parts = parts[:2]
		parts[0].size, parts[0].one, parts[0].many = year, " y", " y"
		parts[1].size, parts[1].one, parts[1].many = month, " month", " months"
	}
	rest, sign := uint64(d), ""
	if d < 0 {
		rest, sign = -rest, "-"
	}
	var words []string
	for _, p := range parts {
		n := rest / p.size
		rest %= p.size
		switch n {
		case 0:
		case 1:
			words = append(words, "1"+p.one)
		default:
			words = append(words, strconv.FormatUint(n, 10)+p.many)
		}
	}
	return sign + strings.Join(words, " ")
}
