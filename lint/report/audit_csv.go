package report

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"kitmuster/lint/audit"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// sheetWriter writes comma-separated values (RFC 4180), for people's spreadsheets.
type sheetWriter struct{ *csv.Writer }

func newSheet(w io.Writer, head ...string) sheetWriter {
	s := sheetWriter{csv.NewWriter(w)}
	s.UseCRLF = true
	_ = s.Write(head) // what fails is told by end
	return s
}

// row writes texts and numbers.
func (s sheetWriter) row(cells ...any) {
	out := make([]string, len(cells))
	for i, c := range cells {
		switch c := c.(type) {
		case string:
			out[i] = cell(c)
		case int64:
			out[i] = strconv.FormatInt(c, 10)
		default: // a kind, or a number
			out[i] = cell(fmt.Sprint(c))
		}
	}
	_ = s.Write(out)
}

func (s sheetWriter) end() error {
	s.Flush()
	return s.Error()
}

// cell makes a text safe for a spreadsheet: what would begin a formula there is led by an apostrophe, as OWASP's ASVS 5.0
// asks in 1.2.10 (= + - @ and tab, which is an escape already). Blanks before it are no protection, and wide signs are signs too.
func cell(s string) string {
	s = words.Clean(s)
	if strings.IndexAny(strings.TrimSpace(s), "=+-@＝＋－＠") == 0 {
		return "'" + s
	}
	return s
}

// begins are the line and column at which something stands, empty where that is not known.
func begins(s source.Span) (line, column any) {
	if !s.Known() {
		return "", ""
	}
	return s.Start.Line, s.Start.Col
}

// sharedHead and sharedCell say in a column of its own whose pseudonyms there are, in an audit that may be shown to others.
func sharedHead(a *audit.Audit) []string {
	if a.Run.Shared == "" {
		return nil
	}
	return []string{"share_safe"}
}

func sharedCell(a *audit.Audit) []any {
	if a.Run.Shared == "" {
		return nil
	}
	return []any{"pseudonyms of " + a.Run.Shared}
}

// AuditHouseholds writes a row for each household of an audit.
func AuditHouseholds(w io.Writer, a *audit.Audit) error {
	head := []string{"household", "path", "standing", "errors", "warnings", "notes", "waived", "load_percent", "water_hours", "carried_water_hours", "due"}
	for _, s := range audit.Subjects {
		head = append(head, strings.NewReplacer(" ", "_", "'", "").Replace(s.Name))
	}
	head = append(head, sharedHead(a)...)
	s := newSheet(w, head...)
	for h, err := range a.Households {
		if err != nil {
			return err
		}
		var load, water, carried, due any = "", "", "", ""
		if x := h.Sheet; x != nil {
			load = strconv.FormatFloat(float64(x.LoadP)/10, 'f', -1, 64)
			if x.WaterKnown {
				water, carried = x.WaterHours, x.CarriedHours
			}
			if a.Run.Shared == "" {
				within, _ := x.DueWithin(a.OnDay, a.UntilDay)
				due = len(within)
			}
		}
		n := h.Summary
		row := []any{h.Household.Name, h.Household.Path, string(h.Standing()), n.Errors, n.Warnings, n.Notes, n.Waived, load, water, carried, due}
		for _, t := range h.BySubject() {
			worst, _ := t.Worst()
			row = append(row, string(worst))
		}
		s.row(append(row, sharedCell(a)...)...)
	}
	return s.end()
}

// AuditFindings writes a row for each finding of an audit.
func AuditFindings(w io.Writer, a *audit.Audit) error {
	head := []string{"household", "path", "level", "rule", "message", "file", "line", "column", "spot", "lack_of", "lack_amount", "lack_unit", "remedy", "caution", "waived_until", "waived_because"}
	s := newSheet(w, append(head, sharedHead(a)...)...)
	for f, err := range a.Run.Findings {
		if err != nil {
			return err
		}
		line, column := begins(f.At)
		until, because := "", ""
		if f.Waived != nil {
			until, because = cmp.Or(f.Waived.Until, "yes"), f.Waived.Reason
		}
		var lack, amount, unit any = "", "", ""
		if l := f.Lack; l != nil {
			lack, amount, unit = l.What, l.Amount, l.Unit
		}
		row := []any{f.Household, f.Path, string(f.Level), f.Rule, f.Message, f.At.File, line, column, f.Spot, lack, amount, unit, f.Remedy, f.Caution, until, because}
		s.row(append(row, sharedCell(a)...)...)
	}
	return s.end()
}

// AuditDue writes a row for each date of an audit up to its last day.
func AuditDue(w io.Writer, a *audit.Audit) error {
	s := newSheet(w, "household", "path", "day", "days_left", "kind", "what", "file", "line", "column")
	for h, err := range a.Households {
		if err != nil {
			return err
		}
		if h.Sheet == nil {
			continue
		}
		within, _ := h.Sheet.DueWithin(a.OnDay, a.UntilDay)
		for _, d := range within {
			line, column := begins(d.At)
			s.row(h.Household.Name, h.Household.Path, unit.Date(d.Day).String(), d.Day-a.OnDay, d.Kind, audit.DueText(&d), d.At.File, line, column)
		}
	}
	return s.end()
}
