// Package table reads the tables that people keep: CSV in its dialects and encodings, XLSX, ODS, JSON and YAML.
//
// What comes out is cells with the text that stands in them, nothing interpreted. No formula is run: the value that the program kept
// last is taken, and a formula without one is marked. No link is followed and nothing outside of the file is read.
//
// A file is a stranger's. Each part of a workbook is unpacked once before anything is read of it, so that a damaged one is an error and
// never an empty sheet; what it may unpack to, its rows, columns, cells, merges and depth are bounded. The readers of XLSX and ODS are
// our own, as both Go libraries that were tried give wrong values without an error on damaged files and need minutes for some of 100 kB.
package table

import (
	"bytes"
	"errors"
	"fmt"
	"path"
	"strings"
)

// The limits. Our own figures: a household's table has some hundred rows.
const (
	// MostBytes is the most that a file may have.
	MostBytes = 16 << 20

	mostUnpacked = 64 << 20
	mostParts    = 2000
	mostRows     = 20_000
	mostColumns  = 200
	mostCells    = 500_000
	mostMerges   = 10_000
	mostDepth    = 64
	mostSheets   = 100
	mostText     = 8 << 20 // of all cells
	mostCell     = 32_767  // of one, as spreadsheet programs have it
)

// Cell is what stands in one cell.
type Cell struct {
	Text string
	// Number: the file says that it is a number, and Text has a decimal point.
	Number bool
	// NoValue: there is a formula whose last value the file does not hold.
	NoValue bool
	// Formula: the text is the last value of a formula.
	Formula bool
}

// Sheet is one table. Rows and columns are counted from 0, as in the file.
type Sheet struct {
	Name string // "" where the file has one table without a name
	Rows [][]Cell
}

// Book is a file of tables.
type Book struct {
	// Kind is what the file is, for people: CSV with ";" between cells, Windows-1252.
	Kind   string
	Sheets []Sheet
	// Notes say what was left out, such as hidden sheets.
	Notes []string
}

// Read reads a file. The name serves to tell YAML from CSV, all else is told from what stands in it.
func Read(name string, b []byte) (*Book, error) {
	if len(b) > MostBytes {
		return nil, fmt.Errorf("it is larger than %d MB", MostBytes>>20)
	}
	ext := strings.ToLower(path.Ext(name))
	switch {
	case len(bytes.TrimSpace(b)) == 0:
		return nil, errors.New("it is empty")
	case bytes.HasPrefix(b, []byte("PK")):
		return workbook(b)
	case bytes.HasPrefix(b, []byte("\xd0\xcf\x11\xe0")):
		return nil, errors.New("it is an old spreadsheet (.xls) or locked with a password; save it as .xlsx without one")
	case bytes.HasPrefix(b, []byte("%PDF")):
		return nil, errors.New("it is a PDF; save the table as .csv or .xlsx")
	case ext == ".json":
		return fromJSON(b)
	case ext == ".yaml", ext == ".yml":
		return fromYAML(b)
	case ext == ".xlsx", ext == ".ods", ext == ".xlsm":
		return nil, fmt.Errorf("it is no %s file, or damaged", ext)
	}
	return fromCSV(b)
}

// At is how people call a cell: C7, with its sheet where it has a name.
func (s *Sheet) At(row, column int) string {
	name := fmt.Sprintf("%s%d", Letters(column), row+1)
	if s.Name != "" {
		return s.Name + "!" + name
	}
	return name
}

// Letters is the name of a column: A, B, … AA.
func Letters(column int) string {
	name := ""
	for c := column; c >= 0; c = c/26 - 1 {
		name = string(rune('A'+c%26)) + name
	}
	return name
}

// bounds counts what was read of a book.
type bounds struct{ cells, text int }

// put sets a cell, or says why there may be no more.
func (n *bounds) put(s *Sheet, row, column int, c Cell) error {
	switch {
	case row >= mostRows:
		return fmt.Errorf("%s has more than %d rows", called(s), mostRows)
	case column >= mostColumns:
		return fmt.Errorf("%s has more than %d columns", called(s), mostColumns)
	case len(c.Text) > mostCell:
		return fmt.Errorf("%s holds more than %d characters", s.At(row, column), mostCell)
	}
	if n.cells++; n.cells > mostCells {
		return fmt.Errorf("it has more than %d cells", mostCells)
	}
	if n.text += len(c.Text); n.text > mostText {
		return fmt.Errorf("it holds more than %d MB of text", mostText>>20)
	}
	for len(s.Rows) <= row {
		s.Rows = append(s.Rows, nil)
	}
	for len(s.Rows[row]) <= column {
		s.Rows[row] = append(s.Rows[row], Cell{})
	}
	s.Rows[row][column] = c
	return nil
}

func called(s *Sheet) string {
	if s.Name == "" {
		return "it"
	}
	return fmt.Sprintf("sheet %q", s.Name)
}
