package table

import (
	"encoding/xml"
	"errors"
	"fmt"
	"math"
	"path"
	"strconv"
	"strings"
	"time"
)

// xlsx reads an Office Open XML workbook (ISO/IEC 29500-1, part SpreadsheetML).
func (p parts) xlsx() (*Book, error) {
	shared, err := p.sharedStrings()
	if err != nil {
		return nil, err
	}
	days, err := p.dayFormats()
	if err != nil {
		return nil, err
	}
	target := map[string]string{}
	err = p.walk("xl/_rels/workbook.xml.rels", func(t xml.StartElement) error {
		if t.Name.Local == "Relationship" && attr(t, "TargetMode") != "External" {
			to := attr(t, "Target")
			if !strings.HasPrefix(to, "/") {
				to = "/xl/" + to
			}
			target[attr(t, "Id")] = strings.TrimPrefix(path.Clean(to), "/")
		}
		return nil
	}, nil, nil)
	if err != nil {
		return nil, err
	}
	b, first := &Book{Kind: "XLSX"}, time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	type listed struct{ name, part string }
	var sheets []listed
	err = p.walk("xl/workbook.xml", func(t xml.StartElement) error {
		switch t.Name.Local {
		case "workbookPr":
			if v := attr(t, "date1904"); v == "1" || v == "true" {
				first = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
			}
		case "sheet":
			id := ""
			for _, a := range t.Attr {
				if a.Name.Local == "id" && a.Name.Space != "" {
					id = a.Value
				}
			}
			if attr(t, "state") != "" && attr(t, "state") != "visible" {
				b.Notes = append(b.Notes, fmt.Sprintf("the hidden sheet %q is left out", attr(t, "name")))
				return nil
			}
			if sheets = append(sheets, listed{attr(t, "name"), target[id]}); len(sheets) > mostSheets {
				return fmt.Errorf("it has more than %d sheets", mostSheets)
			}
		}
		return nil
	}, nil, nil)
	if err != nil {
		return nil, err
	}
	n := &bounds{}
	for _, l := range sheets {
		if !strings.Contains(l.part, "worksheets/") {
			continue // a chart
		}
		s := Sheet{Name: l.name}
		if err := p.worksheet(l.part, &s, n, shared, days, first); err != nil {
			return nil, err
		}
		b.Sheets = append(b.Sheets, s)
	}
	return b, nil
}

func (p parts) sharedStrings() (out []string, err error) {
	if p["xl/sharedstrings.xml"] == nil {
		return nil, nil
	}
	var s strings.Builder
	in, reading := false, 0
	err = p.walk("xl/sharedStrings.xml", func(t xml.StartElement) error {
		switch t.Name.Local {
		case "si":
			s.Reset()
		case "t":
			in = true
		case "rPh": // how it is read aloud
			reading++
		}
		return nil
	}, func(b []byte) error {
		if in && reading == 0 {
			s.Write(b)
		}
		return nil
	}, func(name string) error {
		switch name {
		case "t":
			in = false
		case "rPh":
			reading--
		case "si":
			out = append(out, s.String())
		}
		return nil
	})
	return out, err
}

// dayFormats are the styles whose numbers are days.
func (p parts) dayFormats() (map[string]bool, error) {
	days, own := map[string]bool{}, map[string]bool{}
	if p["xl/styles.xml"] == nil {
		return days, nil
	}
	in, at := false, 0
	err := p.walk("xl/styles.xml", func(t xml.StartElement) error {
		switch {
		case t.Name.Local == "numFmt":
			own[attr(t, "numFmtId")] = isDay(attr(t, "formatCode"))
		case t.Name.Local == "cellXfs":
			in = true
		case t.Name.Local == "xf" && in:
			id := attr(t, "numFmtId")
			n, _ := strconv.Atoi(id) // none is 0, which is no day
			days[strconv.Itoa(at)] = own[id] || n >= 14 && n <= 17 || n == 22 || n >= 27 && n <= 36 || n >= 50 && n <= 58
			at++
		}
		return nil
	}, nil, func(name string) error {
		if name == "cellXfs" {
			in = false
		}
		return nil
	})
	return days, err
}

// isDay looks for the letter of a day or a year outside of quotes and brackets.
func isDay(format string) bool {
	quoted, bracket := false, false
	for i := 0; i < len(format); i++ {
		switch c := format[i]; {
		case c == '\\':
			i++
		case c == '"':
			quoted = !quoted
		case c == '[':
			bracket = true
		case c == ']':
			bracket = false
		case !quoted && !bracket && strings.IndexByte("dyDY", c) >= 0:
			return true
		}
	}
	return false
}

func (p parts) worksheet(part string, s *Sheet, n *bounds, shared []string, days map[string]bool, first time.Time) error {
	row, column := -1, -1
	var c Cell
	var kind, style string
	var v strings.Builder
	in, has := false, false
	var merges []merged
	err := p.walk(part, func(t xml.StartElement) error {
		switch t.Name.Local {
		case "row":
			row, column = row+1, -1
			if r := attr(t, "r"); r != "" {
				k, err := strconv.Atoi(r)
				if err != nil || k < 1 {
					return fmt.Errorf("sheet %q has a row %q", s.Name, r)
				}
				row = k - 1
			}
		case "c":
			column++
			if r := attr(t, "r"); r != "" {
				at, k, err := address(r)
				if err != nil || at != row {
					return fmt.Errorf("sheet %q has a cell %q in row %d", s.Name, r, row+1)
				}
				column = k
			}
			c, kind, style, has = Cell{}, attr(t, "t"), attr(t, "s"), false
			v.Reset()
		case "f":
			c.Formula = true
		case "v", "t":
			in, has = true, true
		case "rPh":
			in = false
		case "mergeCell":
			from, to, _ := strings.Cut(attr(t, "ref"), ":")
			r, k, err := address(from)
			r2, _, err2 := address(to)
			if err = errors.Join(err, err2); err != nil {
				return err
			}
			if merges = append(merges, merged{r, k, r2 - r + 1}); len(merges) > mostMerges {
				return fmt.Errorf("sheet %q has more than %d merged cells", s.Name, mostMerges)
			}
		}
		return nil
	}, func(b []byte) error {
		if in {
			v.Write(b)
		}
		return nil
	}, func(name string) error {
		switch name {
		case "v", "t":
			in = false
		case "c":
			c.Text = strings.TrimSpace(v.String())
			switch {
			case c.Text == "" && c.Formula:
				c.NoValue = !has || kind != "str"
				if !c.NoValue {
					return nil
				}
			case c.Text == "":
				return nil
			case kind == "s":
				k, err := strconv.Atoi(c.Text)
				if err != nil || k < 0 || k >= len(shared) {
					return fmt.Errorf("%s is text number %s, which is not there", s.At(row, column), c.Text)
				}
				c.Text = strings.TrimSpace(shared[k])
			case kind == "b":
				c.Text = map[string]string{"1": "true", "0": "false"}[c.Text]
			case kind == "" || kind == "n":
				f, err := strconv.ParseFloat(c.Text, 64)
				if err != nil || math.IsNaN(f) || math.IsInf(f, 0) {
					return fmt.Errorf("%s is the number %q", s.At(row, column), c.Text)
				}
				if days[style] && f >= 1 && f < 2_958_466 {
					c.Text = first.AddDate(0, 0, int(f)).Format(time.DateOnly)
					break
				}
				c.Text, c.Number = number(f), true
			}
			return n.put(s, row, column, c)
		}
		return nil
	})
	if err != nil {
		return err
	}
	return n.fill(s, merges)
}

// number writes a number as programs show it, with 15 digits: 0.1+0.2 is kept as 0.30000000000000004 and shown as 0.3.
func number(f float64) string {
	f, _ = strconv.ParseFloat(strconv.FormatFloat(f, 'g', 15, 64), 64) // what was just written is read
	return strconv.FormatFloat(f, 'f', -1, 64)
}
