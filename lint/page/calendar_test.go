package page_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The faults that the script must find, each put into a calendar that has none. Sections are those of RFC 5545.
func TestCalendarControls(t *testing.T) {
	browser(t)
	controls(t, "calendar.js", "testdata/right.ics", []control{
		{"BEGIN:VEVENT\r\n", "BEGIN:VEVENT\n", "lines text", "line 4"}, // 3.1
		{"END:VCALENDAR\r\n", "END:VCALENDAR", "lines", "last line"},
		{"SUMMARY:R", "SUMMARY:" + strings.Repeat("r", 60) + "R", "lines", "octets"},
		{"SUMMARY:Ration", "SUMMARY:Rat\x07ion", "lines", "control"},
		{"ü", "\xc3\r\n \xbc", "lines", "UTF-8"},
		{"VERSION:2.0\r\n", "", "version", "VCALENDAR"}, // 3.6
		{"VERSION:2.0", "VERSION:1.0", "version", "not 2.0"},
		{"PRODID:-//example//kit audit//EN\r\n", "", "prodid", "VCALENDAR"},
		{"PRODID", "METHOD:PUBLISH\r\nPRODID", "method", ""},
		{"UID:alder-0@example.org\r\n", "", "uid", "Ration bars"}, // 3.6.1
		{"UID:alder-0@", "UID:alder-1@", "uid", "another event"},
		{"DTSTAMP:20270801T000000Z\r\n", "", "dtstamp", "Ration bars"},
		{"DTSTAMP:20270801T000000Z", "DTSTAMP:20270801T000000", "dtstamp", "UTC"},
		{"DTSTART;VALUE=DATE:20270831", "DTSTART:20270831T000000Z", "dtstart", "not a day"},
		{"DTSTART;VALUE=DATE:20270831", "DTSTART;VALUE=DATE:20270832", "dtend dtstart", "not a day"},
		{"DTSTART;VALUE=DATE:20270831", "DTSTART;VALUE=DATE:2027-08-31", "dtend dtstart text", "not a day"},
		{"DTEND;VALUE=DATE:20270901", "DTEND;VALUE=DATE:20270831", "dtend", "day after"},
		{"DTEND;VALUE=DATE:20270901\r\n", "", "", ""},
		{"DTSTART;VALUE=DATE:20270831\r\nDTEND;VALUE=DATE:20270901", "DTSTART;VALUE=DATE:20270230", "dtstart", "not a day"}, // 3.3.4
		{"DTEND;VALUE=DATE:20270901", "DURATION:P1D", "duration", ""},
		{"TRANSP:TRANSPARENT", "TRANSP:OPAQUE", "transp", "takes up"},
		{"BEGIN:VALARM\r\nACTION:DISPLAY\r\nDESCRIPTION:Ration bars expire\r\nTRIGGER:-P30D\r\nEND:VALARM\r\n", "", "valarm", "none"}, // 3.6.6
		{"ACTION:DISPLAY", "ACTION:AUDIO", "valarm", "display"},
		{"DESCRIPTION:Ration bars expire\r\n", "", "description", ""},
		{"TRIGGER:-P30D", "TRIGGER:P30D", "trigger", "before"},
		{"SUMMARY:Ration bars", "SUMMARY:Ration, bars", "text", "comes back"}, // 3.3.11
		{"BEGIN:VEVENT", "BEGIN:VTODO", "parse text", "something else"},
		{"BEGIN:VALARM", "BEGIN:VALRM", "text valarm", ""},
	})
}

// A later calendar of the same household, imported over the first.
func TestCalendarAgainControls(t *testing.T) {
	browser(t)
	b, err := os.ReadFile("testdata/right.ics")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []control{
		{"DTSTAMP:20270801", "DTSTAMP:20270901", "", ""},
		{"SUMMARY:Ration bars", "SUMMARY:Rice", "", ""},
		{"DTSTART;VALUE=DATE:20270831\r\nDTEND;VALUE=DATE:20270901", "DTSTART;VALUE=DATE:20280831\r\nDTEND;VALUE=DATE:20280901", "", ""},
		{"UID:alder-0@", "UID:alder-9@", "again", "Ration bars expire is there twice"},
		{"alder-", "birch-", "again", "nothing of the older"},
	} {
		n := 1
		if c.old == "alder-" {
			n = -1
		}
		later := filepath.Join(t.TempDir(), "later.ics")
		if err := os.WriteFile(later, []byte(strings.Replace(string(b), c.old, c.new, n)), 0o600); err != nil {
			t.Fatal(err)
		}
		objects(t, run(t, "calendar.js", "--again", "testdata/right.ics", later)[0], c)
	}
}

// What the program wrote: every calendar, and that of a later day over that of an earlier one.
func TestCalendar(t *testing.T) {
	browser(t)
	files := written(t, "*.ics")
	for _, s := range run(t, "calendar.js", files...) {
		told(t, s)
		t.Logf("%s: %d events", s.File, len(s.UIDs))
	}
	pages := os.Getenv("KITMUSTER_PAGES")
	told(t, run(t, "calendar.js", "--again", filepath.Join(pages, "audit", "audit.ics"), filepath.Join(pages, "later", "audit.ics"))[0])
}
