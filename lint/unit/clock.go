package unit

import (
	"fmt"
	"strings"
)

const clockExamples = `"18:00" or "6:30 pm"`

// ParseClock reads a time of day: "18:00", "6:30", "6:30 pm", "6 pm". It lies from 00:00 to
// 23:59. An hour alone is refused where am or pm does not follow.
func ParseClock(s string) (Clock, error) {
	if err := readable("a time of day", clockExamples, s); err != nil {
		return 0, err
	}
	from := skip(s, 0)
	to := back(s, from, len(s))
	hourEnd := digitsEnd(s, from)
	if hourEnd == from {
		return 0, failf(from, to, "%s is not a time of day: write hours and minutes, such as %s", quote(s[from:to]), clockExamples)
	}
	if hourEnd-from > 2 {
		return 0, failf(from, hourEnd, "%s is not an hour: write hours and minutes with a colon between them, such as %s", quote(s[from:hourEnd]), clockExamples)
	}
	hour, minute, at := atoi(s[from:hourEnd]), 0, hourEnd
	colon := strings.HasPrefix(s[at:], ":")
	if colon {
		at = digitsEnd(s, hourEnd+1)
		if digits := s[hourEnd+1 : at]; len(digits) != 2 || atoi(digits) > 59 {
			return 0, failf(from, at, "%s does not end in minutes: write two digits from 00 to 59 after the colon, such as %s", quote(s[from:at]), clockExamples)
		}
		minute = atoi(s[hourEnd+1 : at])
	}
	rest := skip(s, at)
	half := strings.ToLower(s[min(rest, to):to])
	switch half {
	case "a.m.":
		half = "am"
	case "p.m.":
		half = "pm"
	}
	switch {
	case half == "am" || half == "pm":
		if hour < 1 || hour > 12 {
			return 0, failf(from, hourEnd, "there is no hour %s before %s: write 1 to 12, or the time without %s, such as %s", s[from:hourEnd], half, half, `"18:00"`)
		}
		hour %= 12
		if half == "pm" {
			hour += 12
		}
	case len(half) == 3 && strings.ContainsRune(".,h", rune(half[0])) && onlyDigits(half[1:]) == half[1:] && hour < 24 && atoi(half[1:]) < 60:
		return 0, failf(from, to, "a colon stands between hours and minutes: write %s", offer(s[from:hourEnd]+":"+half[1:]))
	case half != "":
		return 0, failf(rest, to, "%s after the time is not understood: write only the time of day, such as %s", quote(s[rest:to]), clockExamples)
	case hour > 23:
		return 0, failf(from, hourEnd, "there is no hour %s: write 00 to 23, and 00:00 for midnight", s[from:hourEnd])
	case !colon:
		advice := fmt.Sprintf("%02d:00", hour)
		if hour >= 1 && hour < 12 {
			return 0, failf(from, to, "no minutes after %s: write %s for the morning, %s for the evening", s[from:to], offer(advice), offer(fmt.Sprintf("%02d:00", hour+12)))
		}
		return 0, failf(from, to, "no minutes after %s: write %s", s[from:to], offer(advice))
	}
	return Clock(hour*60 + minute), nil
}

// String writes the time of day as "18:00". What lies before or after the day is
// written as the time it is on the day before or after.
func (c Clock) String() string {
	const day = 24 * 60
	c = (c%day + day) % day
	return fmt.Sprintf("%02d:%02d", c/60, c%60)
}
