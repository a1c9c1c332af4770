package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"regexp"
	"sync"
	"sync/atomic"
	"time"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/term"

	"kitmuster/lint/words"
)

// stream stands before standard output and standard error, so that nothing which came from a kit, a path, a settings file, a
// registry or a rule can act on the one who shows the lines. Control characters and marks that are invisible or reorder text are
// shown as escapes; so is the first character of what a CI service would take for a command: "::" at the beginning of a line, and
// "##[", "##vso[" and the like anywhere. The escapes are those of JSON, so that JSON keeps its meaning.
//
// Only the tab, the line end ("\n" and "\r\n") and, on a terminal, colours pass as they are. A stream may be written to by
// several goroutines, each Write whole.
type stream struct {
	to io.Writer
	// colours says that the sequences of report for colours pass.
	colours bool
	// commands says that "::" at the beginning of a line passes: the one who writes has escaped what is not its own.
	commands bool

	mu      sync.Mutex
	inLine  bool   // something other than white space stands in this line already
	pending []byte // the beginning of what may become one of the above
	err     error
}

// lastWrite is when a stream or a file last took something, in nanoseconds since 1970; see endIdle.
var lastWrite atomic.Int64

func newStream(to *os.File) *stream { return &stream{to: to, colours: wantsColour(to)} }

// commanding is a stream to the same place through which the commands of a format pass. What s holds back is written first.
func (s *stream) commanding() (*stream, error) {
	err := s.Close()
	return &stream{to: s.to, colours: s.colours, commands: true}, err
}

// mark is what some CI services take for a command wherever it stands in a line.
var mark = regexp.MustCompile(`^##[A-Za-z]{0,20}\[`)

// openMark is one that has not ended.
var openMark = regexp.MustCompile(`^#(#[A-Za-z]{0,20})?$`)

// sgr is a sequence that sets colours (ECMA-48, "select graphic rendition").
var (
	sgr     = regexp.MustCompile(`^\x1b\[[0-9;]{0,20}m`)
	openSGR = regexp.MustCompile(`^\x1b(\[[0-9;]{0,20})?$`)
)

// Write implements io.Writer.
func (s *stream) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.pending = append(s.pending, p...)
	s.send(false)
	if s.err != nil {
		return 0, s.err
	}
	return len(p), nil
}

// Close writes what still waits. The file stays open.
func (s *stream) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.send(true)
	return s.err
}

// send writes as much of what waits as is decided; all of it at the end.
func (s *stream) send(end bool) {
	b := s.pending
	out := bytes.NewBuffer(make([]byte, 0, len(b)+64))
	i := 0
	for i < len(b) {
		n, text := s.next(b[i:], end)
		if n == 0 {
			break
		}
		out.WriteString(text)
		i += n
	}
	s.pending = append(s.pending[:0], b[i:]...)
	if s.err == nil && out.Len() > 0 {
		_, s.err = s.to.Write(out.Bytes())
		lastWrite.Store(time.Now().UnixNano())
	}
}

// next says how many bytes come next and what is written for them; none where more must be known first.
func (s *stream) next(b []byte, end bool) (int, string) {
	switch c := b[0]; {
	case c == '\n':
		s.inLine = false
		return 1, "\n"
	case c == '\t' || c == ' ':
		return 1, string(c)
	case c == '\r' && len(b) > 1 && b[1] == '\n':
		s.inLine = false
		return 2, "\r\n"
	case c == '\r' && len(b) == 1 && !end:
		return 0, ""
	case c == 0x1b && s.colours:
		if m := sgr.Find(b); m != nil {
			return len(m), string(m)
		}
		if openSGR.Match(b) && !end {
			return 0, ""
		}
	case c == ':' && !s.inLine:
		if len(b) == 1 && !end {
			return 0, ""
		}
		s.inLine = true
		if len(b) > 1 && b[1] == ':' && !s.commands {
			return 1, escape(':')
		}
		return 1, ":"
	case c == '#':
		if openMark.Match(b) && !end {
			return 0, ""
		}
		s.inLine = true
		if mark.Match(b) {
			return 1, escape('#')
		}
		return 1, "#"
	case c > 0x20 && c < 0x7f:
		s.inLine = true
		n := 1
		for n < len(b) && b[n] > 0x20 && b[n] < 0x7f && b[n] != '#' {
			n++
		}
		return n, string(b[:n])
	}
	if !utf8.FullRune(b) && !end {
		return 0, ""
	}
	r, n := utf8.DecodeRune(b)
	s.inLine = s.inLine || !unicode.IsSpace(r) && !words.Unseen(r)
	if words.Unseen(r) {
		return n, escape(r)
	}
	return n, string(b[:n])
}

// escape is how JSON writes a character (RFC 8259, section 7).
func escape(r rune) string {
	if a, b := utf16.EncodeRune(r); a != utf8.RuneError {
		return fmt.Sprintf(`\u%04x\u%04x`, a, b)
	}
	return fmt.Sprintf(`\u%04x`, r)
}

// terminal is the terminal that a writer leads to; nil where it is none, or a dumb one.
func terminal(w io.Writer) *os.File {
	s, ok := w.(*stream)
	if !ok {
		return nil
	}
	f, ok := s.to.(*os.File)
	if !ok || os.Getenv("TERM") == "dumb" || !term.IsTerminal(int(f.Fd())) {
		return nil
	}
	return f
}

// colour says whether w is a terminal that wants colour.
func colour(w io.Writer) bool {
	s, ok := w.(*stream)
	return ok && s.colours
}

// wantsColour: NO_COLOR, see no-color.org's convention: any value but the empty one switches it off.
func wantsColour(f *os.File) bool {
	return os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && term.IsTerminal(int(f.Fd()))
}
