package packing

import (
	"fmt"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/words"
)

// soonDays is how near a day is named with the days left to it: our own line, no source. No plan is longer.
const soonDays = 30

// itemDays are the two days of a thing that its owner has to know: when it is no longer good, by whichever of its
// last days is first, and when to exchange it. nil where none is written.
type itemDays struct{ last, exchange *facts.Dated }

func (l *lister) datesOf() {
	for i := range l.m.Facts.Dates {
		d := &l.m.Facts.Dates[i]
		it := l.days[d.Item]
		switch {
		case d.Kind == kinds.DateRotate:
			it.exchange = d
		case d.Kind.Row().Ahead != kinds.None && (it.last == nil || d.Day < it.last.Day):
			it.last = d
		}
		l.days[d.Item] = it
	}
}

// until is the nearer of both days, year-month-day; "" where none is written.
func (d itemDays) until() string {
	switch {
	case d.last == nil && d.exchange == nil:
		return ""
	case d.exchange == nil || d.last != nil && d.last.Day <= d.exchange.Day:
		return d.last.On
	}
	return d.exchange.On
}

// good reports whether a thing may be used on the day of the list; a day of exchange does not decide that.
func (d itemDays) good() bool { return d.last == nil || d.last.Left >= 0 }

// past says which day is over on the day of the list; "" where the thing is good.
func (d itemDays) past() string {
	switch {
	case !d.good():
		return fmt.Sprintf("%s, %s: replace it", d.last.Kind.Row().Past, d.last.On)
	case d.exchange != nil && d.exchange.Left < 0:
		return fmt.Sprintf("PAST its day of replacement, %s: replace it", d.exchange.On)
	}
	return ""
}

// goodUntil says the days that are to come. What is past its last day has nothing to wait for.
func (l *lister) goodUntil(d itemDays) (out []string) {
	if d.last != nil && d.last.Left >= 0 {
		out = append(out, d.last.Kind.Row().Ahead+" "+l.near(d.last))
	}
	if d.exchange != nil && d.exchange.Left >= 0 && d.good() {
		out = append(out, "replace on "+l.near(d.exchange))
	}
	return out
}

// near is a day, with what is left to it where that is little. The hour of leaving is not known, so a plan of three days
// is taken to reach into a fourth; a thing is good on its last day.
func (l *lister) near(d *facts.Dated) string {
	text, plan := d.On, (l.m.Facts.Plan.Minutes+24*60-1)/(24*60)
	switch {
	case d.Left == 0:
		text += ", today"
	case d.Left <= soonDays:
		text += ", in " + words.Count(d.Left, "day")
	}
	if d.Left < plan {
		text += ", before the plan is over"
	}
	return text
}
