package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
)

// nasty is what someone might write into a kit to break a table, a page or a calendar.
var nasty = []string{
	"=cmd|' /C calc'!A0", "+1+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "a\r\nEND:VEVENT\r\nBEGIN:VEVENT", "a;b,c\\d:e", `"quoted", and "more"`, "<script>alert(1)</script>",
	"\u202eevil\u202c", strings.Repeat("é水🔦", 60), "", "\x00\x1b[31m", "\xff\xfe",
}

// audited is an audit of households with hostile names, due dates and findings.
func audited(t *testing.T, names ...string) *audit.Audit {
	t.Helper()
	day := func(s string) int64 {
		d, err := unit.ParseDate(s)
		if err != nil {
			t.Fatal(err)
		}
		return int64(d)
	}
	a := &audit.Audit{
		Run: &finding.Run{Version: "1", On: "2026-11-01"}, Until: "2027-03-01", OnDay: day("2026-11-01"), UntilDay: day("2027-03-01"),
		Standards: []audit.StandardID{{Name: "base", Version: "1.0.0", Digest: "sha256:0"}},
	}
	var all []*audit.Audited
	var hs []finding.Household
	var fs []finding.Finding
	for i, n := range names {
		at := source.Span{File: n + "/kit.cue", Start: source.Point{Line: 3, Col: 2}, End: source.Point{Line: 3, Col: 9}}
		h := finding.Household{Name: n, Path: fmt.Sprintf("%s/%d", n, i), Judged: true}
		f := finding.Finding{Rule: "dates/expired", Level: finding.Error, Message: n, Household: h.Name, Path: h.Path, Spot: "packs/" + n, At: at, Remedy: n}
		one := &audit.Audited{Household: h, Findings: []finding.Finding{f}, Sheet: &audit.Sheet{LoadP: 172, WaterKnown: true, WaterHours: 40, Minutes: 72 * 60, Due: []audit.Due{
			{Spot: "packs/a/items/x/expires", Name: n, Where: "pack", Kind: "expires", Day: day("2026-10-20"), Medicine: true, At: at},
			{Spot: "packs/a/items/y/rotate", Name: n, Kind: "rotate", Day: day("2027-03-01")},
			{Spot: "record/audited", Kind: "audit", Day: day("2027-03-02")},
		}}}
		one.Summary.Finding(&f)
		all, hs, fs = append(all, one), append(hs, h), append(fs, f)
	}
	a.Run.Count(hs, fs...)
	a.Households = func(yield func(*audit.Audited, error) bool) {
		for _, h := range all {
			if !yield(h, nil) {
				return
			}
		}
	}
	return a
}

func auditFile(t *testing.T, a *audit.Audit, write func(io.Writer, *audit.Audit) error) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b, a); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTablesOfAnAudit(t *testing.T) {
	a := audited(t, nasty...)
	for name, c := range map[string]struct {
		write func(io.Writer, *audit.Audit) error
		rows  int
		head  string
	}{
		"households": {AuditHouseholds, len(nasty), "household,path,standing,errors,warnings,notes,waived,load_percent,water_hours,carried_water_hours,due,load,"},
		"findings":   {AuditFindings, len(nasty), "household,path,level,rule,message,file,line,column,"},
		"due":        {AuditDue, 2 * len(nasty), "household,path,day,days_left,kind,what,file,line,column\r\n"},
	} {
		text := auditFile(t, a, c.write)
		if !strings.HasPrefix(text, c.head) || !utf8.ValidString(text) {
			t.Errorf("%s: %.100q", name, text)
		}
		rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil || len(rows) != c.rows+1 {
			t.Fatalf("%s: %d rows, %v", name, len(rows), err)
		}
		for _, r := range rows {
			for _, cell := range r {
				// OWASP, CSV Injection: no cell begins with one of these; numbers below nought are our own.
				if cell != "" && strings.ContainsRune("=+@\t\r", rune(cell[0])) || strings.HasPrefix(cell, "-2+") {
					t.Errorf("%s: a cell %q", name, cell)
				}
				if strings.ContainsAny(cell, "\x00\x1b\u202e\r\n") {
					t.Errorf("%s: a cell %q", name, cell)
				}
			}
		}
	}
	if text := auditFile(t, audited(t, "Fen"), AuditDue); !strings.Contains(text, "Fen,Fen/0,2026-10-20,-12,expires,medicine: Fen (pack): last day by its label,Fen/kit.cue,3,2\r\n") {
		t.Error(text)
	}
}

// unfold undoes the folding of RFC 5545, section 3.1, and holds each line to it.
func unfold(t *testing.T, text string) []string {
	t.Helper()
	if !strings.HasSuffix(text, "\r\n") || strings.Contains(strings.ReplaceAll(text, "\r\n", ""), "\n") || strings.Contains(strings.ReplaceAll(text, "\r\n", ""), "\r") {
		t.Error("lines do not end with CRLF")
	}
	for line := range strings.SplitSeq(text, "\r\n") {
		if len(line) > 75 || !utf8.ValidString(line) {
			t.Errorf("a line of %d octets: %q", len(line), line)
		}
	}
	return strings.Split(strings.TrimSuffix(strings.ReplaceAll(text, "\r\n ", ""), "\r\n"), "\r\n")
}

// What RFC 5545 asks of a calendar (sections 3.1, 3.3.11, 3.6, 3.6.1, 3.6.6, 3.8.2.7), whatever names the families choose.
func TestCalendarFollowsTheStandard(t *testing.T) {
	lines := unfold(t, auditFile(t, audited(t, nasty...), Calendar))
	count := func(line string) (n int) {
		for _, l := range lines {
			if l == line {
				n++
			}
		}
		return n
	}
	events := 2 * len(nasty) // the third date is after the last day
	for line, want := range map[string]int{
		"BEGIN:VCALENDAR": 1, "END:VCALENDAR": 1, "VERSION:2.0": 1, "BEGIN:VEVENT": events, "END:VEVENT": events, "BEGIN:VALARM": 2 * events, "END:VALARM": 2 * events,
		"TRANSP:TRANSPARENT": events, "DTSTAMP:20261101T000000Z": events, "ACTION:DISPLAY": 2 * events, "CLASS:PRIVATE": events,
		"DTSTART;VALUE=DATE:20261101": len(nasty), "DTEND;VALUE=DATE:20261102": len(nasty), "DTSTART;VALUE=DATE:20270301": len(nasty), // overdue: on the day of the audit
	} {
		if got := count(line); got != want {
			t.Errorf("%s stands there %d times, not %d", line, got, want)
		}
	}
	uids := map[string]bool{}
	for _, l := range lines {
		if id, ok := strings.CutPrefix(l, "UID:"); ok {
			if uids[id] || len(id) != 36 {
				t.Errorf("UID %s", id)
			}
			uids[id] = true
		}
		if strings.HasPrefix(l, "METHOD") {
			t.Error(l)
		}
	}
	if len(uids) != events {
		t.Errorf("%d identifiers of %d events", len(uids), events)
	}
	if !slices.Contains(lines, `SUMMARY:a\;b\,c\\d:e: overdue: medicine: a\;b\,c\\d:e (pack): last day by its label`) {
		t.Error("text is not escaped as section 3.3.11 asks")
	}
}

// The day before which an alarm goes off, at nine in the morning: 30 days before 20 October is 20 September, so 29 days and 15 hours
// before its midnight (section 3.8.6.3).
func TestAlarmsGoOffInTheMorning(t *testing.T) {
	lines := unfold(t, auditFile(t, audited(t, "Fen"), Calendar))
	for _, want := range []string{"TRIGGER:-P29DT15H", "TRIGGER:-P6DT15H", "TRIGGER:-P13DT15H", "TRIGGER:-P2DT15H"} {
		if !slices.Contains(lines, want) {
			t.Errorf("no %s", want)
		}
	}
}

// Read in again later, a calendar changes what it brought in and doubles nothing: the identifiers stay, the sequence grows
// (sections 3.8.4.7 and 3.8.7.4), also where a family is audited alone, and what falls due on a day has another name.
func TestCalendarChangesWhatItBroughtIn(t *testing.T) {
	of := func(a *audit.Audit) (uids []string, sequence string) {
		for _, l := range unfold(t, auditFile(t, a, Calendar)) {
			if id, ok := strings.CutPrefix(l, "UID:"); ok {
				uids = append(uids, id)
			}
			if n, ok := strings.CutPrefix(l, "SEQUENCE:"); ok {
				sequence = n
			}
		}
		return uids, sequence
	}
	group := audited(t, "Fen", "Weir")
	before, was := of(group)
	alone := audited(t, "Fen")
	alone.OnDay++
	for h := range alone.Households {
		h.Household.Path = "elsewhere"
		for i := range h.Sheet.Due {
			h.Sheet.Due[i].Name = "another"
		}
	}
	after, is := of(alone)
	if !slices.Equal(before[:2], after) || !(was < is) {
		t.Errorf("%v then %v, %s then %s", before, after, was, is)
	}
	if both, _ := of(audited(t, "Fen", "Fen")); !slices.Equal(both[:2], before[:2]) {
		t.Error("a second family of the name changes the events of the first", both, before)
	}
	if twins, _ := of(audited(t, "Fen", "Fen")); len(twins) != 4 || twins[0] == twins[2] {
		t.Error("two families of one name share their events", twins)
	}
}

// A household has one event a day, which names what falls due, the first three in its line, and one of what is overdue on the day of the audit.
func TestCalendarPutsADayTogether(t *testing.T) {
	a := audited(t, "Fen")
	for h := range a.Households {
		h.Sheet.Due = nil
		for i, day := range []int64{-30, -2, 0, 5, 5, 5, 5, 5, a.UntilDay - a.OnDay + 1} {
			h.Sheet.Due = append(h.Sheet.Due, audit.Due{Spot: fmt.Sprint(i), Name: fmt.Sprintf("bar %d", i/2), Kind: "expires", Day: a.OnDay + day})
		}
		h.Sheet.Due = append(h.Sheet.Due, audit.Due{Spot: "record/audited", Kind: "audit", Day: a.OnDay})
	}
	var got []string
	for _, l := range unfold(t, auditFile(t, a, Calendar)) {
		if strings.HasPrefix(l, "SUMMARY") || strings.HasPrefix(l, "DTSTART") {
			got = append(got, l)
		}
	}
	want := []string{"DTSTART;VALUE=DATE:20261101", `SUMMARY:overdue: 3 dates: bar 0\, inspect the kits again`, "DTSTART;VALUE=DATE:20261101", `SUMMARY:bar 1: last day by its label`, "DTSTART;VALUE=DATE:20261106", `SUMMARY:5 dates: bar 1\, bar 2\, bar 3`}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// A calendar without events is one all the same (section 3.6 asks for a component).
func TestCalendarOfNothing(t *testing.T) {
	lines := unfold(t, auditFile(t, audited(t), Calendar))
	if !slices.Contains(lines, "BEGIN:VTIMEZONE") || lines[len(lines)-1] != "END:VCALENDAR" {
		t.Error(lines)
	}
}

func TestAuditJSON(t *testing.T) {
	a := audited(t, append(nasty, "Fen")...)
	text := auditFile(t, a, AuditJSON)
	var any map[string]any
	if err := json.Unmarshal([]byte(text), &any); err != nil {
		t.Fatal(err)
	}
	on, shared, lines, err := ReadAudit([]byte(text))
	if err != nil || on != "2026-11-01" || shared != "" || len(lines) != len(nasty)+1 {
		t.Fatal(on, shared, len(lines), err)
	}
	i := 0
	for h := range a.Households {
		want := h.Trend()
		want.Name, want.Under = lines[i].Name, "each household's season, base 1.0.0"
		if utf8.ValidString(h.Household.Name) {
			want.Name = h.Household.Name
		}
		want.Day, want.Path = "2026-11-01", strings.ToValidUTF8(want.Path, "\uFFFD")
		if lines[i].Path = strings.ToValidUTF8(lines[i].Path, "\uFFFD"); lines[i] != want && utf8.ValidString(h.Household.Path) {
			t.Errorf("%+v came back as %+v", want, lines[i])
		}
		i++
	}
	for _, bad := range []string{"", "{}", `{"tool":"kitmuster","on":"soon"}`, `{"tool":"other","on":"2026-11-01"}`, "[]", `{"households":3}`,
		`{"tool":"kitmuster","on":"2026-11-01","partial":"interrupted","households":[]}`, `{"tool":"kitmuster","on":"2026-11-01","households":[null]}`,
		`{"tool":"kitmuster","on":"2026-11-01","households":[{"path":"a","standing":"splendid"}]}`,
		`{"tool":"kitmuster","on":"2026-11-01","households":[{"path":"a","standing":"not ready","errors":-9}]}`,
		`{"tool":"kitmuster","on":"2026-11-01","households":[{"path":"a","standing":"ready","sheet":{"load_permille":9223372036854775807}}]}`,
	} {
		if _, _, _, err := ReadAudit([]byte(bad)); err == nil {
			t.Errorf("%s is read as an audit", bad)
		}
	}
}
