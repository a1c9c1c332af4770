// Package table makes a kit of the table in which a family keeps its things: a file of a spreadsheet program, saved as CSV.
//
// read.go makes cells of bytes, columns.go finds what each column holds by its head, things.go makes things of rows, sums.go
// holds them against the table's own sums, write.go makes files, and preview.go says all that to people. Nothing is guessed
// silently: what a name or a column is taken for is said, and what is not understood is named with its cell.
package table

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// Bounds on a table. Our own figures: a village's kits fit many times.
const (
	MostBytes = 4 << 20
	mostRows  = 5_000
	mostCols  = 200
	mostCell  = 2_000
)

// A Sheet is a table as it was read.
type Sheet struct {
	// Encoding and Delimiter are what the file was taken to be written in, for people.
	Encoding, Delimiter string
	// Rows are all rows, as wide as they are written; blanks around a cell are cut off.
	Rows [][]string
}

// Read reads a table that is saved as CSV: parted by commas, semicolons, tabs or bars, in UTF-8, UTF-16 with a byte-order mark, or
// Windows-1252. The error says what is wrong, with its line.
func Read(b []byte) (*Sheet, error) {
	if len(b) > MostBytes {
		return nil, fmt.Errorf("it is larger than %d MiB, the most that is read", MostBytes>>20)
	}
	if why := notText(b); why != "" {
		return nil, errors.New(why)
	}
	s := &Sheet{}
	text, name, err := decoded(b)
	if err != nil {
		return nil, err
	}
	s.Encoding = name
	comma := delimiter(text)
	s.Delimiter = delimiters[comma]
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.LazyQuotes, r.FieldsPerRecord = comma, true, -1
	lines, read := 0, 0 // of the text so far
	for {
		row, err := r.Read()
		if err == io.EOF {
			break
		}
		var pe *csv.ParseError
		if errors.As(err, &pe) {
			return nil, fmt.Errorf("line %d: %w", pe.Line, pe.Err)
		} else if err != nil {
			return nil, err
		}
		line, _ := r.FieldPos(0)
		for ; lines+1 < line && len(s.Rows) < mostRows; lines++ { // empty lines are rows of a spreadsheet too
			s.Rows = append(s.Rows, nil)
		}
		to := int(r.InputOffset())
		lines += strings.Count(strings.TrimLeft(text[read:to], "\r\n"), "\n")
		read = to
		if len(s.Rows) >= mostRows {
			return nil, fmt.Errorf("it has more than %d rows, the most that are read", mostRows)
		}
		if len(row) > mostCols {
			return nil, fmt.Errorf("row %d has more than %d columns, the most that are read", len(s.Rows)+1, mostCols)
		}
		for i, c := range row {
			if len(c) > mostCell {
				return nil, fmt.Errorf("cell %s is longer than %d bytes, the most that is read; is a quotation mark missing?", Cell(len(s.Rows), i), mostCell)
			}
			row[i] = strings.Join(strings.Fields(c), " ")
		}
		s.Rows = append(s.Rows, row)
	}
	if !slices.ContainsFunc(s.Rows, func(row []string) bool { return !blank(row) }) {
		return nil, errors.New("it is empty")
	}
	return s, nil
}

// notText says why bytes are no table in text.
func notText(b []byte) string {
	const save = "; open it in its program and save the sheet as CSV (in UTF-8)"
	switch {
	case bytes.HasPrefix(b, []byte("PK\x03\x04")):
		return "it is a spreadsheet or another packed file (XLSX, ODS or the like)" + save
	case bytes.HasPrefix(b, []byte("\xd0\xcf\x11\xe0")):
		return "it is an old spreadsheet (XLS) or one with a password" + save
	case bytes.HasPrefix(b, []byte("%PDF")):
		return "it is a PDF" + save
	case bytes.HasPrefix(bytes.TrimSpace(b), []byte("<")):
		return "it is a web page or XML" + save
	case bytes.IndexByte(b, 0) >= 0 && !bytes.HasPrefix(b, []byte("\xff\xfe")) && !bytes.HasPrefix(b, []byte("\xfe\xff")):
		return "it is no text" + save
	}
	return ""
}

// decoded is a text in UTF-8, and what it was written in.
func decoded(b []byte) (text, name string, err error) {
	from := func(e encoding.Encoding, name string) (string, string, error) {
		out, err := e.NewDecoder().Bytes(b)
		return string(out), name, err
	}
	switch {
	case bytes.HasPrefix(b, []byte("\xff\xfe")), bytes.HasPrefix(b, []byte("\xfe\xff")):
		return from(unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM), "UTF-16")
	case bytes.HasPrefix(b, []byte("\xef\xbb\xbf")):
		return from(unicode.UTF8BOM, "UTF-8")
	case utf8.Valid(b):
		return string(b), "UTF-8", nil
	}
	return from(charmap.Windows1252, "Windows-1252, as it is no UTF-8: look whether names have the right letters")
}

// delimiters part cells; of two that fit as well, the former is taken.
var delimiters = map[rune]string{';': "semicolons", '\t': "tabs", '|': "bars", ',': "commas"}

// delimiter is what parts the cells: the sign that stands as often in most of the lines.
func delimiter(text string) rune {
	best, most := ',', 0
	lines := strings.SplitN(text, "\n", 201)
	for _, d := range []rune{';', '\t', '|', ','} {
		times := map[int]int{}
		for _, l := range lines[:min(len(lines), 200)] {
			if n := outside(l, d); n > 0 {
				times[n]++
			}
		}
		for n, lines := range times {
			if score := lines * (n + 1); score > most {
				best, most = d, score
			}
		}
	}
	return best
}

// outside counts a sign outside of quotation marks.
func outside(line string, d rune) (n int) {
	quoted := false
	for _, r := range line {
		switch {
		case r == '"':
			quoted = !quoted
		case r == d && !quoted:
			n++
		}
	}
	return n
}

func blank(row []string) bool {
	return !slices.ContainsFunc(row, func(c string) bool { return c != "" })
}

// Cell names a cell as spreadsheet programs do, such as B7; row and col count from 0.
func Cell(row, col int) string { return Letters(col) + fmt.Sprint(row+1) }

// Letters names a column as spreadsheet programs do: A, B, … Z, AA.
func Letters(col int) string {
	s := ""
	for col++; col > 0; col = (col - 1) / 26 {
		s = string(rune('A'+(col-1)%26)) + s
	}
	return s
}
