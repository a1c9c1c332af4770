package upkeep

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"kitmuster/lint/unit"
)

var (
	compact   = regexp.MustCompile(`^([0-9]{4})([0-9]{2})([0-9]{2})$`)
	yearMonth = regexp.MustCompile(`^([0-9]{4})[-./]([0-9]{1,2})$`)
	yearFirst = regexp.MustCompile(`^([0-9]{4})[-./]([0-9]{1,2})[-./]([0-9]{1,2})$`)
	monthYear = regexp.MustCompile(`^([0-9]{1,2})[-./ ]([0-9]{4}|[0-9]{2})$`)
	threeNums = regexp.MustCompile(`^([0-9]{1,2})([-./])([0-9]{1,2})[-./]([0-9]{4}|[0-9]{2})$`)
	dayWord   = regexp.MustCompile(`^(?:([0-9]{1,2})(?:st|nd|rd|th|\.)? ?(?:of )?)?([a-z]{3,9})\.?(?: ([0-9]{1,2})(?:st|nd|rd|th)?(?:, ?| ))? ?([0-9]{4}|[0-9]{2})$`)
)

// ParseDay reads a day as labels and people write it. Of a month alone the last day counts, as a label that names a month means its end
// (Regulation (EU) No 1169/2011, Annex X, from memory). Where the numbers leave open which is the month, both days are given: as
// the day comes first, and as the month does; else other is the same day.
func ParseDay(text string) (on, other unit.Date, err error) {
	t := strings.ToLower(strings.Join(strings.Fields(text), " "))
	one := func(y, m, d string) (unit.Date, unit.Date, error) {
		on, err := day(year(y), m, d)
		return on, on, err
	}
	if f := compact.FindStringSubmatch(t); f != nil {
		return one(f[1], f[2], f[3])
	}
	if f := yearFirst.FindStringSubmatch(t); f != nil {
		return one(f[1], f[2], f[3])
	}
	if f := yearMonth.FindStringSubmatch(t); f != nil {
		return one(f[1], f[2], "")
	}
	if f := monthYear.FindStringSubmatch(t); f != nil {
		return one(f[2], f[1], "")
	}
	if f := threeNums.FindStringSubmatch(t); f != nil {
		dayFirst, err1 := day(year(f[4]), f[3], f[1])
		monthFirst, err2 := day(year(f[4]), f[1], f[3])
		switch {
		case err1 != nil && err2 != nil:
			return 0, 0, err1
		case err1 != nil:
			return monthFirst, monthFirst, nil
		case err2 != nil, f[2] == ".": // with points the day comes first everywhere; common practice, no source
			return dayFirst, dayFirst, nil
		}
		return dayFirst, monthFirst, nil
	}
	if f := dayWord.FindStringSubmatch(t); f != nil && (f[1] == "" || f[3] == "") {
		for m := time.January; m <= time.December; m++ {
			if name := strings.ToLower(m.String()); strings.HasPrefix(name, f[2]) || f[2] == "sept" && m == time.September {
				return one(f[4], strconv.Itoa(int(m)), f[1]+f[3])
			}
		}
	}
	return 0, 0, fmt.Errorf("%q is no day; type it as 2027-05-31, or a month as 2027-05", text)
}

// year is one of two or four digits; a label's two are of this century.
func year(y string) string {
	if len(y) == 2 {
		return "20" + y
	}
	return y
}

// day is a day of a calendar, of no day the last of its month.
func day(y, m, d string) (unit.Date, error) {
	if len(m) == 1 {
		m = "0" + m
	}
	if len(d) == 1 {
		d = "0" + d
	}
	if d != "" {
		return unit.ParseDate(y + "-" + m + "-" + d)
	}
	first, err := unit.ParseDate(y + "-" + m + "-01")
	if err != nil {
		return 0, err
	}
	last := first.AddDays(27)
	for last.AddDays(1).String()[:7] == first.String()[:7] {
		last = last.AddDays(1)
	}
	return last, nil
}

// InWords is a day as nobody reads it in two ways: 31 May 2027.
func InWords(d unit.Date) string {
	t, err := time.Parse(time.DateOnly, d.String())
	if err != nil {
		return d.String()
	}
	return t.Format("2 January 2006")
}
