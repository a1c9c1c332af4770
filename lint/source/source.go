// Package source says where words stand. It holds the one conversion from
// byte offsets to lines and columns: nobody else counts.
package source

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"unicode/utf8"
)

// Point is one place in a text. Line and Col count from 1; Col counts Unicode
// code points, as the JSON output and the text output show it. Offset counts
// bytes from 0.
type Point struct {
	_ struct{} `cbor:",toarray"` // packed without names, as thousands are

	Line, Col, Offset int
}

// Span is a range in one file: Start is its first character, End the place
// after its last. File is a slash path relative to the tree that was read.
// The zero Span means that no place is known.
type Span struct {
	_          struct{} `cbor:",toarray"`
	File       string
	Start, End Point
}

// Known reports whether s names a place.
func (s Span) Known() bool { return s.File != "" }

// String gives the GNU form file:line:column.
func (s Span) String() string {
	if s.Start.Line == 0 {
		return s.File
	}
	return fmt.Sprintf("%s:%d:%d", s.File, s.Start.Line, s.Start.Col)
}

// Inside reports whether s lies within o.
func (s Span) Inside(o Span) bool {
	return s.File == o.File && s.Start.Offset >= o.Start.Offset && s.End.Offset <= o.End.Offset
}

// Compare orders spans by file, start and end.
func Compare(a, b Span) int {
	return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Start.Line, b.Start.Line), cmp.Compare(a.Start.Col, b.Start.Col),
		cmp.Compare(a.End.Line, b.End.Line), cmp.Compare(a.End.Col, b.End.Col))
}

// InOrder puts entries into the order in which the family wrote them: files by name, then lines. What was made in one place, as by a
// comprehension, stays in the order that it has.
func InOrder[T any](xs []T, at func(*T) Span) []*T {
	out, places := make([]*T, len(xs)), map[*T]Span{}
	for i := range xs {
		out[i] = &xs[i]
		places[out[i]] = at(out[i])
	}
	slices.SortStableFunc(out, func(a, b *T) int { return Compare(places[a], places[b]) })
	return out
}

// Origin says how a value came to stand where it does.
type Origin int

const (
	// Written: the family wrote the value at the place given.
	Written Origin = iota
	// Absent: the family did not write the value; the place is the nearest entry around it that they wrote.
	Absent
	// Derived: the value comes from an expression, a template or a data file of the family's; the place is that expression.
	Derived
)

// Place answers where a spot was written.
type Place struct {
	At     Span
	Origin Origin
	// Used is where the value is used, when At lies in something shared such as a catalogue.
	Used Span
}

// Text is one file's bytes with its line starts.
type Text struct {
	File  string
	Bytes []byte
	lines []int
}

// NewText indexes the lines of b. Lines end at \n; a \r before it belongs to the line.
func NewText(file string, b []byte) *Text {
	t := &Text{File: file, Bytes: b, lines: []int{0}}
	for i, c := range b {
		if c == '\n' {
			t.lines = append(t.lines, i+1)
		}
	}
	return t
}

// Point converts a byte offset, which is first brought inside the text. A byte
// order mark at the start of the file takes no column.
func (t *Text) Point(offset int) Point {
	offset = max(0, min(offset, len(t.Bytes)))
	line := sort.SearchInts(t.lines, offset+1) - 1
	head := t.Bytes[t.lines[line]:offset]
	col := utf8.RuneCount(head) + 1
	if line == 0 && len(head) >= 3 && head[0] == 0xEF && head[1] == 0xBB && head[2] == 0xBF {
		col--
	}
	return Point{Line: line + 1, Col: col, Offset: offset}
}

// Span converts two byte offsets.
func (t *Text) Span(start, end int) Span {
	return Span{File: t.File, Start: t.Point(start), End: t.Point(max(start, end))}
}
