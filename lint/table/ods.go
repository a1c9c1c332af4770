package table

import (
	"encoding/xml"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ods reads an OpenDocument spreadsheet (ISO/IEC 26300-1).
func (p parts) ods() (*Book, error) {
	if strings.Contains(string(p["meta-inf/manifest.xml"]), "encryption-data") {
		return nil, errors.New("it is locked with a password; save it without one")
	}
	if kind := string(p["mimetype"]); !strings.HasPrefix(kind, "application/vnd.oasis.opendocument.spreadsheet") {
		return nil, errors.New("it is an OpenDocument file, and no spreadsheet")
	}
	b, n := &Book{Kind: "ODS"}, &bounds{}
	var s *Sheet
	var c Cell
	var kind, value string
	var text strings.Builder
	var merges []merged
	row, column, times, again, span := 0, 0, 1, 1, 1
	inCell, aside, lines, tables := false, 0, 0, 0
	var line []Cell
	style, hidden := "", map[string]bool{}
	rep := func(v string) int {
		k, err := strconv.Atoi(v)
		if err != nil || k < 1 {
			return 1
		}
		return k
	}
	err := p.walk("content.xml", func(t xml.StartElement) error {
		switch t.Name.Local {
		case "style":
			style = attr(t, "name")
		case "table-properties":
			hidden[style] = hidden[style] || attr(t, "display") == "false"
		case "table":
			if tables++; tables > 1 {
				return nil
			}
			if s = nil; hidden[attr(t, "style-name")] {
				b.Notes = append(b.Notes, fmt.Sprintf("the hidden sheet %q is left out", attr(t, "name")))
				return nil
			}
			if len(b.Sheets) == mostSheets {
				return fmt.Errorf("it has more than %d sheets", mostSheets)
			}
			b.Sheets = append(b.Sheets, Sheet{Name: attr(t, "name")})
			s, row, merges = &b.Sheets[len(b.Sheets)-1], 0, nil
		case "table-row":
			line, column, times = nil, 0, rep(attr(t, "number-rows-repeated"))
		case "table-cell", "covered-table-cell":
			c, kind, value = Cell{Formula: attr(t, "formula") != ""}, attr(t, "value-type"), ""
			for _, name := range []string{"value", "date-value", "boolean-value"} {
				if v := attr(t, name); v != "" {
					value = v
				}
			}
			again, span = rep(attr(t, "number-columns-repeated")), rep(attr(t, "number-rows-spanned"))
			text.Reset()
			inCell, lines = true, 0
		case "annotation", "shapes", "frame":
			aside++
		case "p":
			if inCell && aside == 0 {
				if lines > 0 {
					text.WriteByte('\n')
				}
				lines++
			}
		case "s":
			if inCell && aside == 0 {
				text.WriteByte(' ')
			}
		case "tab", "line-break":
			if inCell && aside == 0 {
				text.WriteByte(' ')
			}
		}
		return nil
	}, func(b []byte) error {
		if inCell && aside == 0 && lines > 0 {
			if text.Len() > mostCell {
				return fmt.Errorf("a cell holds more than %d characters", mostCell)
			}
			text.Write(b)
		}
		return nil
	}, func(name string) error {
		switch name {
		case "table":
			if tables--; tables == 0 && s != nil {
				return n.fill(s, merges)
			}
		case "annotation", "shapes", "frame":
			aside--
		case "table-cell", "covered-table-cell":
			inCell = false
			if s == nil || tables != 1 {
				return nil
			}
			if c.Text = strings.TrimSpace(text.String()); value != "" {
				switch kind {
				case "float", "currency", "percentage":
					f, err := strconv.ParseFloat(value, 64)
					if err != nil || math.IsNaN(f) || math.IsInf(f, 0) {
						return fmt.Errorf("%s is the number %q", s.At(row, column), value)
					}
					c.Text, c.Number = number(f), true
				case "date":
					c.Text, _, _ = strings.Cut(value, "T")
				case "boolean":
					c.Text = value
				}
			}
			c.NoValue = c.Formula && kind == "" && c.Text == ""
			if span > 1 && c.Text != "" {
				if merges = append(merges, merged{row, column, span}); len(merges) > mostMerges {
					return fmt.Errorf("sheet %q has more than %d merged cells", s.Name, mostMerges)
				}
			}
			if c.Text == "" && !c.NoValue {
				column += min(again, math.MaxInt32) // an empty rest of a row is thousands of cells
				return nil
			}
			if column+again > mostColumns {
				return fmt.Errorf("sheet %q has more than %d columns", s.Name, mostColumns)
			}
			for len(line) < column {
				line = append(line, Cell{})
			}
			for range again {
				line = append(line, c)
			}
			column += again
		case "table-row":
			if s == nil || tables != 1 {
				return nil
			}
			if len(line) == 0 { // and an empty rest of a sheet a million rows
				row += min(times, mostRows)
				return nil
			}
			if times > mostRows {
				return fmt.Errorf("sheet %q has more than %d rows", s.Name, mostRows)
			}
			for range times {
				for k, c := range line {
					if c.Text == "" && !c.NoValue {
						continue
					}
					if err := n.put(s, row, k, c); err != nil {
						return err
					}
				}
				row++
			}
		}
		return nil
	})
	return b, err
}
