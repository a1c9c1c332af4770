package unit

import (
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode"
)

// The years ParseDate reads; our own bounds.
const (
	minYear = 1900
	maxYear = 2200
)

const secondsPerDay = 24 * 60 * 60

// The dates that String can write with four digits of year.
var (
	firstDate = dateOf(1, 1, 1)
	lastDate  = dateOf(9999, 12, 31)
)

func dateOf(y, m, d int) Date {
	return Date(time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC).Unix() / secondsPerDay)
}

func (d Date) civil() (y, m, day int) {
	t := time.Unix(int64(min(max(d, firstDate), lastDate))*secondsPerDay, 0).UTC()
	return t.Year(), int(t.Month()), t.Day()
}

// ParseDate reads a date as year, month and day, "2027-03-01": the full-date of
// RFC 3339, section 5.6, in the years 1900 to 2200.
func ParseDate(s string) (Date, error) {
	const noun, example = "a date", `"2027-03-01"`
	if err := readable(noun, example, s); err != nil {
		return 0, err
	}
	from := skip(s, 0)
	to := back(s, from, len(s))
	t := s[from:to]
	if !fullDate(t) {
		advice, offers := dateAdvice(t)
		err := failf(from, to, "%s is not a date as year-month-day: write %s", quote(t), advice)
		err.Offers = offers
		return 0, err
	}
	y, m, d := atoi(t[:4]), atoi(t[5:7]), atoi(t[8:])
	switch {
	case y < minYear || y > maxYear:
		return 0, failf(from, from+4, "the year %s is outside %d to %d: look for a slip in it", t[:4], minYear, maxYear)
	case m < 1 || m > 12:
		return 0, failf(from+5, from+7, "there is no month %s: write year-month-day with a month from 01 to 12", t[5:7])
	}
	if last := daysIn(y, m); d < 1 || d > last {
		return 0, failf(from+8, to, "there is no day %s in %s, which ends on %s-%02d", t[8:], t[:7], t[:7], last)
	}
	return dateOf(y, m, d), nil
}

func fullDate(s string) bool {
	if len(s) != 10 {
		return false
	}
	for i := range len(s) {
		if hyphen := i == 4 || i == 7; hyphen && s[i] != '-' || !hyphen && !isDigit(s[i]) {
			return false
		}
	}
	return true
}

// atoi reads a few digits that are known to be digits.
func atoi(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

func daysIn(y, m int) int {
	return time.Date(y, time.Month(m)+1, 0, 0, 0, 0, 0, time.UTC).Day()
}

// dateAdvice says what to write for a date in another order or form, and gives the dates
// that it names: one only where one reading is possible.
func dateAdvice(s string) (advice string, offers []string) {
	if len(s) > 10 && fullDate(s[:10]) {
		return quote(s[:10]) + " without a time of day", []string{s[:10]}
	}
	if len(s) == 8 && onlyDigits(s) == s {
		offers = dates([3]string{s[:4], s[4:6], s[6:]})
	} else {
		p := strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("/.,-–−", r) || isSpace(r) })
		for i := range p {
			p[i] = monthNumber(p[i])
		}
		if last := lastOfMonth(p); last != "" {
			return "the day too, such as " + quote(last) + " for the last of that month", []string{last}
		}
		offers = dates(readings(s, p)...)
	}
	switch len(offers) {
	case 0:
		return `it like "2027-03-01"`, nil
	case 1:
		return quote(offers[0]), offers
	}
	return quote(offers[0]) + " or " + quote(offers[1]) + ", whichever is meant", offers
}

// lastOfMonth is the last day of a month that is written without a day, as labels have it; else "".
func lastOfMonth(p []string) string {
	if len(p) != 2 {
		return ""
	}
	year, month := p[0], p[1]
	if len(month) == 4 {
		year, month = month, year
	}
	y, m := atoi(year), atoi(month)
	if len(year) != 4 || onlyDigits(month) != month || m < 1 || m > 12 || y < minYear || y > maxYear {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", y, m, daysIn(y, m))
}

// readings are the parts of a date as year, month and day: twice where the numbers leave open which is the month.
func readings(s string, p []string) [][3]string {
	if len(p) != 3 {
		return nil
	}
	yearFirst, dayFirst, monthFirst := [3]string{p[0], p[1], p[2]}, [3]string{p[2], p[1], p[0]}, [3]string{p[2], p[0], p[1]}
	switch letter := strings.IndexFunc(s, unicode.IsLetter); {
	case letter == 0: // May 1, 2027
		return [][3]string{monthFirst}
	case letter > 0 && len(p[2]) == 4: // 1 May 2027
		return [][3]string{dayFirst}
	}
	for _, f := range p {
		if f == "" || len(f) > 4 || onlyDigits(f) != f {
			return nil
		}
	}
	switch {
	case len(p[0]) == 4:
		return [][3]string{yearFirst}
	case len(p[2]) != 4:
		return nil
	case atoi(p[0]) > 12 || p[0] == p[1]:
		return [][3]string{dayFirst}
	case atoi(p[1]) > 12:
		return [][3]string{monthFirst}
	}
	return [][3]string{dayFirst, monthFirst}
}

// dates are those of the parts that are days of the calendar.
func dates(of ...[3]string) (out []string) {
	for _, p := range of {
		y, m, d := atoi(p[0]), atoi(p[1]), atoi(p[2])
		if y >= minYear && y <= maxYear && m >= 1 && m <= 12 && d >= 1 && d <= daysIn(y, m) {
			out = append(out, fmt.Sprintf("%04d-%02d-%02d", y, m, d))
		}
	}
	return out
}

// monthNumber is the number of a month that is called by its English name or the first three letters of it; else the word itself.
func monthNumber(word string) string {
	if len(word) < 3 {
		return word
	}
	for m := time.January; m <= time.December; m++ {
		if name := m.String(); len(word) <= len(name) && strings.EqualFold(word, name[:len(word)]) {
			return strconv.Itoa(int(m))
		}
	}
	return word
}

// String writes the date as "2027-03-01". Dates outside the years 1 to 9999 are
// written as the nearest one inside.
func (d Date) String() string {
	y, m, day := d.civil()
	return fmt.Sprintf("%04d-%02d-%02d", y, m, day)
}

// AddDays returns the date n days later, or earlier for a negative n. It stops
// at 0001-01-01 and at 9999-12-31.
func (d Date) AddDays(n int64) Date {
	d = min(max(d, firstDate), lastDate)
	n = min(max(n, int64(firstDate-d)), int64(lastDate-d))
	return d + Date(n)
}

// YearDay returns the day of the year, 1 for the first of January.
func (d Date) YearDay() int {
	y, _, _ := d.civil()
	d = min(max(d, firstDate), lastDate)
	return int(d-dateOf(y, 1, 1)) + 1
}

// AgeMonths returns how many whole calendar months have passed from born to
// on. A month is complete on the same day of the month, or on the first day of
// the next where a month has no such day. It is negative before birth.
func AgeMonths(born, on Date) int64 {
	by, bm, bd := born.civil()
	oy, om, od := on.civil()
	months := int64(oy-by)*12 + int64(om-bm)
	if od < bd {
		months--
	}
	return months
}
