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
	o := &odsReader{b: &Book{Kind: "ODS"}, n: &bounds{}, hidden: map[string]bool{}}
	err := p.walk("content.xml", o.start, o.characters, o.end)
	return o.b, err
}

// odsReader is how far the content of an OpenDocument spreadsheet was read.
type odsReader struct {
	b *Book
	n *bounds
	// s is the sheet, nil in one that is hidden; tables counts those that are open, as one may lie in another's cell.
	s      *Sheet
	tables int
	merges []merged
	// line is the row with its number, and how often it stands there.
	line       []Cell
	row, times int
	// c is the cell with its type and value, column the next one; again is how often it stands there, span how many rows it takes.
	c                   Cell
	kind, value         string
	column, again, span int
	// text is that of a cell, in so many paragraphs; what lies aside of it, as a remark does, is none.
	text         strings.Builder
	inCell       bool
	lines, aside int
	style        string
	hidden       map[string]bool // styles of sheets
}

// repeated is how often something stands there.
func repeated(v string) int {
	k, err := strconv.Atoi(v)
	if err != nil || k < 1 {
		return 1
	}
	return k
}

func (o *odsReader) start(t xml.StartElement) error {
	written := o.inCell && o.aside == 0
	switch t.Name.Local {
	case "style":
		o.style = attr(t, "name")
	case "table-properties":
		o.hidden[o.style] = o.hidden[o.style] || attr(t, "display") == "false"
	case "table":
		return o.table(t)
	case "table-row":
		o.line, o.column, o.times = nil, 0, repeated(attr(t, "number-rows-repeated"))
	case "table-cell", "covered-table-cell":
		o.c, o.kind, o.value = Cell{Formula: attr(t, "formula") != ""}, attr(t, "value-type"), ""
		for _, name := range []string{"value", "date-value", "boolean-value"} {
			if v := attr(t, name); v != "" {
				o.value = v
			}
		}
		o.again, o.span = repeated(attr(t, "number-columns-repeated")), repeated(attr(t, "number-rows-spanned"))
		o.text.Reset()
		o.inCell, o.lines = true, 0
	case "annotation", "shapes", "frame":
		o.aside++
	case "p":
		if written {
			if o.lines > 0 {
				o.text.WriteByte('\n')
			}
			o.lines++
		}
	case "s", "tab", "line-break":
		if written {
			o.text.WriteByte(' ')
		}
	}
	return nil
}

// table begins a sheet.
func (o *odsReader) table(t xml.StartElement) error {
	if o.tables++; o.tables > 1 {
		return nil
	}
	if o.s = nil; o.hidden[attr(t, "style-name")] {
		o.b.Notes = append(o.b.Notes, fmt.Sprintf("the hidden sheet %q is left out", attr(t, "name")))
		return nil
	}
	if len(o.b.Sheets) == mostSheets {
		return fmt.Errorf("it has more than %d sheets", mostSheets)
	}
	o.b.Sheets = append(o.b.Sheets, Sheet{Name: attr(t, "name")})
	o.s, o.row, o.merges = &o.b.Sheets[len(o.b.Sheets)-1], 0, nil
	return nil
}

func (o *odsReader) characters(b []byte) error {
	if o.inCell && o.aside == 0 && o.lines > 0 {
		if o.text.Len() > mostCell {
			return fmt.Errorf("a cell holds more than %d characters", mostCell)
		}
		o.text.Write(b)
	}
	return nil
}

func (o *odsReader) end(name string) error {
	switch name {
	case "table":
		if o.tables--; o.tables == 0 && o.s != nil {
			return o.n.fill(o.s, o.merges)
		}
	case "annotation", "shapes", "frame":
		o.aside--
	case "table-cell", "covered-table-cell":
		if o.inCell = false; o.s != nil && o.tables == 1 {
			return o.cell()
		}
	case "table-row":
		if o.s != nil && o.tables == 1 {
			return o.rows()
		}
	}
	return nil
}

// cell puts a cell into its row.
func (o *odsReader) cell() error {
	if o.c.Text = strings.TrimSpace(o.text.String()); o.value != "" {
		switch o.kind {
		case "float", "currency", "percentage":
			f, err := strconv.ParseFloat(o.value, 64)
			if err != nil || math.IsNaN(f) || math.IsInf(f, 0) {
				return fmt.Errorf("%s is the number %q", o.s.At(o.row, o.column), o.value)
			}
			o.c.Text, o.c.Number = number(f), true
		case "date":
			o.c.Text, _, _ = strings.Cut(o.value, "T")
		case "boolean":
			o.c.Text = o.value
		}
	}
	o.c.NoValue = o.c.Formula && o.kind == "" && o.c.Text == ""
	if o.span > 1 && o.c.Text != "" {
		if o.merges = append(o.merges, merged{o.row, o.column, o.span}); len(o.merges) > mostMerges {
			return fmt.Errorf("sheet %q has more than %d merged cells", o.s.Name, mostMerges)
		}
	}
	if o.c.Text == "" && !o.c.NoValue {
		o.column += min(o.again, math.MaxInt32) // an empty rest of a row is thousands of cells
		return nil
	}
	if o.column+o.again > mostColumns {
		return fmt.Errorf("sheet %q has more than %d columns", o.s.Name, mostColumns)
	}
	for len(o.line) < o.column {
		o.line = append(o.line, Cell{})
	}
	for range o.again {
		o.line = append(o.line, o.c)
	}
	o.column += o.again
	return nil
}

// rows puts a row into the sheet, as often as it stands there.
func (o *odsReader) rows() error {
	if len(o.line) == 0 { // and an empty rest of a sheet a million rows
		o.row += min(o.times, mostRows)
		return nil
	}
	if o.times > mostRows {
		return fmt.Errorf("sheet %q has more than %d rows", o.s.Name, mostRows)
	}
	for range o.times {
		for k, c := range o.line {
			if c.Text == "" && !c.NoValue {
				continue
			}
			if err := o.n.put(o.s, o.row, k, c); err != nil {
				return err
			}
		}
		o.row++
	}
	return nil
}
