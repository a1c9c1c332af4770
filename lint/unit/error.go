package unit

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// An Error says what in a written quantity cannot be read and what to write
// instead.
type Error struct {
	Offset int      // first byte that is wrong, in the string that was given
	Len    int      // number of bytes that are wrong; 0 only for an empty string
	Msg    string   // the full message, in plain words
	Bare   bool     // a number has no unit
	Offers []string // what Msg says to write instead of all that was given, or of its wrong part
	Near   string   // the unit that a misspelt one may be; "" where none is near
	Noun   string   // where nothing or a bare number was given: what is wanted, such as "a mass"
	Units  string   // where a bare number was given: the units that are read, such as "g, kg, oz or lb"
}

// Error returns Msg.
func (e *Error) Error() string { return e.Msg }

// An offer is a text to write instead; in a message it stands in quotation marks.
type offer string

func (o offer) String() string { return quote(string(o)) }

func failf(from, to int, format string, args ...any) *Error {
	e := &Error{Offset: from, Len: to - from, Msg: fmt.Sprintf(format, args...)}
	for _, a := range args {
		if o, ok := a.(offer); ok {
			e.Offers = append(e.Offers, string(o))
		}
	}
	return e
}

// maxShown is the most characters of the input that a message repeats.
const maxShown = 40

// quote shows a piece of the input in a message. Unlike %q it leaves quotation
// marks alone, which are inches here.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	n := 0
	for _, r := range s {
		if n == maxShown {
			b.WriteString("…")
			break
		}
		n++
		switch {
		case isSpace(r):
			b.WriteByte(' ')
		case unicode.IsPrint(r) && r != utf8.RuneError:
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "U+%04X", r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// isSpace tells the spaces that people type or paste between a number and its
// unit: space, tab, no-break, narrow no-break and thin space.
func isSpace(r rune) bool {
	switch r {
	case ' ', '\t', '\u00a0', '\u202f', '\u2009':
		return true
	}
	return false
}

// skip returns the offset of the first byte at or after at that is no space.
func skip(s string, at int) int {
	for at < len(s) {
		r, w := utf8.DecodeRuneInString(s[at:])
		if !isSpace(r) {
			break
		}
		at += w
	}
	return at
}

// back returns the end of s[from:to] without the spaces at its end.
func back(s string, from, to int) int {
	return from + len(strings.TrimRightFunc(s[from:to], isSpace))
}
