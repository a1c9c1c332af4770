package report

import (
	"bufio"
	"crypto/sha256"
	"fmt"
	"io"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/google/uuid"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/unit"
)

// space is the name space of the events' identifiers: a UUID of our own, drawn once.
var space = uuid.MustParse("6c1d8f0e-5a57-4b0b-9d3a-2f1a8c7e4b96")

// newLine ends the lines of a calendar (RFC 5545, section 3.1).
const newLine = "\r\n"

// Calendar writes what falls due in the households of an audit as a calendar (RFC 5545): a day for each thing, however far away,
// with alarms ahead of it. An event is known again by its household's name and the spot of its date (a UUID of version 8,
// RFC 9562), so that reading a later calendar in changes it and never doubles it; its sequence is the day of the audit. Of
// several households of one name, the folder tells the second from the first.
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
		for i := range h.Sheet.Due {
			e := event(a, &h.Sheet.Due[i], h, who, several)
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

func event(a *audit.Audit, d *audit.Due, h *audit.Audited, who string, several bool) *ics.VEvent {
	id := uuid.NewHash(sha256.New(), space, []byte(who+"\x00"+string(d.Kind)+"\x00"+d.Spot), 8)
	e := ics.NewEvent(id.String())
	day := func(n int64) time.Time { return time.Unix(n*24*60*60, 0).UTC() }
	text := audit.DueText(d)
	if several {
		text = finding.Title(h.Household.Name, h.Household.Path) + ": " + text
	}
	e.SetDtStampTime(day(a.OnDay))
	e.SetSequence(int(max(0, a.OnDay)))
	e.SetAllDayStartAt(day(d.Day))
	e.SetAllDayEndAt(day(d.Day + 1)) // exclusive (section 3.6.1)
	e.SetSummary(text)
	where := ""
	if d.At.Known() {
		where = " (" + place(d.At) + ")"
	}
	e.SetDescription(fmt.Sprintf("%s%s. Audited as of %s.", d.Kind.Row().Why, where, unit.Date(a.OnDay)))
	e.SetTimeTransparency(ics.TransparencyTransparent)
	e.SetClass(ics.ClassificationPrivate)
	for _, before := range d.Kind.Row().Alarms {
		al := e.AddAlarm()
		al.SetAction(ics.ActionDisplay)
		al.SetDescription(text)
		al.SetTrigger(fmt.Sprintf("-P%dDT15H", before-1))
	}
	return e
}
