package report

import (
	"bufio"
	"cmp"
	"crypto/sha256"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/google/uuid"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// space is the name space of the events' identifiers: a UUID of our own, drawn once.
var space = uuid.MustParse("6c1d8f0e-5a57-4b0b-9d3a-2f1a8c7e4b96")

// newLine ends the lines of a calendar (RFC 5545, section 3.1).
const newLine = "\r\n"

// Calendar writes what falls due in the households of an audit until its last day as a calendar (RFC 5545): an event for each
// household and day, with alarms ahead of it, and one for what is overdue, on the day of the audit. An event is known again by its
// household's name and its day, or as the overdue one (a UUID of version 8, RFC 9562), so that reading a later calendar in changes it and
// never doubles it; its sequence is the day of the audit. Of several households of one name, the folder tells the second from the first.
func Calendar(w io.Writer, a *audit.Audit) error {
	b := bufio.NewWriter(w)
	fmt.Fprint(b, "BEGIN:VCALENDAR", newLine, "VERSION:2.0", newLine, "PRODID:-//Kitmuster//kit audit//EN", newLine, "CALSCALE:GREGORIAN", newLine)
	names := names{}
	several := len(a.Run.Households) > 1
	empty := true
	for h, err := range a.Households {
		if err != nil {
			return err
		}
		if h.Sheet == nil {
			continue
		}
		who := h.Household.Name
		if names[who]++; names[who] > 1 || who == "" {
			who += "\x00" + h.Household.Path
		}
		for _, due := range byDay(a, h.Sheet) {
			e := event(a, due, h, who, several)
			if err := e.SerializeTo(b, &ics.SerializationConfiguration{MaxLength: 75, PropertyMaxLength: 75, NewLine: newLine}); err != nil {
				return err
			}
			empty = false
		}
	}
	if empty { // a calendar holds something (section 3.6)
		fmt.Fprint(b, "BEGIN:VTIMEZONE", newLine, "TZID:Etc/UTC", newLine, "BEGIN:STANDARD", newLine, "DTSTART:19700101T000000", newLine,
			"TZOFFSETFROM:+0000", newLine, "TZOFFSETTO:+0000", newLine, "END:STANDARD", newLine, "END:VTIMEZONE", newLine)
	}
	fmt.Fprint(b, "END:VCALENDAR", newLine)
	return b.Flush()
}

// overdue says that it is past its day, or that the kits should have been looked through, which an audit puts on its own day.
func overdue(a *audit.Audit, d *audit.Due) bool {
	return d.Day < a.OnDay || d.Day == a.OnDay && d.Kind == kinds.DateAudit
}

// byDay puts what falls due in a household until the last day of the audit together: what is overdue, then day by day.
func byDay(a *audit.Audit, s *audit.Sheet) (out [][]audit.Due) {
	due, _ := s.DueWithin(a.OnDay, a.UntilDay)
	slices.SortStableFunc(due, func(x, y audit.Due) int {
		switch p, q := overdue(a, &x), overdue(a, &y); {
		case p == q:
			return cmp.Compare(x.Day, y.Day)
		case p:
			return -1
		}
		return 1
	})
	for i := range due {
		last := len(out) - 1
		if i > 0 && overdue(a, &due[i-1]) == overdue(a, &due[i]) && (overdue(a, &due[i]) || due[i-1].Day == due[i].Day) {
			out[last] = append(out[last], due[i])
			continue
		}
		out = append(out, []audit.Due{due[i]})
	}
	return out
}

const (
	// inSummary is how many things the line of a day names, inEvent how many its description tells; the others are counted. Our own figures.
	inSummary = 3
	inEvent   = 50
)

// event is what falls due in a household on a day, or is overdue; there is at least one thing.
func event(a *audit.Audit, due []audit.Due, h *audit.Audited, who string, several bool) *ics.VEvent {
	on, known, late := due[0].Day, unit.Date(due[0].Day).String(), overdue(a, &due[0])
	if late {
		on, known = a.OnDay, "overdue"
	}
	id := uuid.NewHash(sha256.New(), space, []byte(who+"\x00"+known), 8)
	e := ics.NewEvent(id.String())
	day := func(n int64) time.Time { return time.Unix(n*24*60*60, 0).UTC() }
	text := dayText(due)
	if late {
		text = "overdue: " + text
	}
	if several {
		text = finding.Title(h.Household.Name, h.Household.Path) + ": " + text
	}
	e.SetDtStampTime(day(a.OnDay))
	e.SetSequence(int(max(0, a.OnDay)))
	e.SetAllDayStartAt(day(on))
	e.SetAllDayEndAt(day(on + 1)) // exclusive (section 3.6.1)
	e.SetSummary(text)
	var lines []string
	for i := range due {
		d := &due[i]
		if i == inEvent {
			lines = append(lines, fmt.Sprintf("And %d more.", len(due)-inEvent))
			break
		}
		line := audit.DueText(d)
		if d.Day < on {
			line += ", " + unit.Date(d.Day).String()
		}
		if d.At.Known() {
			line += " (" + place(d.At) + ")"
		}
		lines = append(lines, line+". "+d.Kind.Row().Why+".")
	}
	e.SetDescription(strings.Join(append(lines, fmt.Sprintf("Audited as of %s.", unit.Date(a.OnDay))), "\n"))
	e.SetTimeTransparency(ics.TransparencyTransparent)
	e.SetClass(ics.ClassificationPrivate)
	var alarms []int
	for i := range due {
		alarms = append(alarms, due[i].Kind.Row().Alarms...)
	}
	slices.Sort(alarms)
	alarms = slices.Compact(alarms)
	for _, before := range slices.Backward(alarms) {
		al := e.AddAlarm()
		al.SetAction(ics.ActionDisplay)
		al.SetDescription(text)
		al.SetTrigger(fmt.Sprintf("-P%dDT15H", before-1))
	}
	return e
}

// dayText says in a line what falls due on a day.
func dayText(due []audit.Due) string {
	if len(due) == 1 {
		return audit.DueText(&due[0])
	}
	var names []string
	for i := range due {
		d := &due[i]
		name := words.Clean(d.Name)
		switch {
		case d.Medicine:
			name = "medicine: " + name
		case d.Kind == kinds.DateAudit || name == "":
			name = audit.DueText(d)
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	more := ""
	if n := len(names); n > inSummary {
		names, more = names[:inSummary], fmt.Sprintf(" and %d more", n-inSummary)
	}
	return words.Count(len(due), "date") + ": " + strings.Join(names, ", ") + more
}
