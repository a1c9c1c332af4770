// Package lines is a conversation in plain lines, which works over ssh, in a narrow window, with a screen reader and from a pipe.
package lines

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"kitmuster/lint/words"
)

// Talk asks and answers in lines.
type Talk struct {
	In  io.Reader
	Out io.Writer
	// Echo writes down each answer, where the input is no terminal that shows it.
	Echo bool
	// Width is how many columns a line may have; 0 is 80.
	Width int

	in *bufio.Reader
}

// ErrEnded says that no answer comes any more.
var ErrEnded = errors.New("the input ended")

// mostTyped is the most that one answer may hold; what is longer is no answer.
const mostTyped = 1000

// Say writes a paragraph.
func (t *Talk) Say(format string, args ...any) {
	fmt.Fprintln(t.Out, t.Wrap(fmt.Sprintf(format, args...)))
}

// Wrap breaks a text into lines, all but the first indented.
func (t *Talk) Wrap(text string) string {
	width := t.Width
	if width == 0 {
		width = 80
	}
	width = max(20, width) - 1
	var b strings.Builder
	at := 0
	for i, w := range strings.Fields(text) {
		n := utf8.RuneCountInString(w)
		switch {
		case i == 0:
		case at+1+n > width:
			b.WriteString("\n  ")
			at = 2
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(w)
		at += n
	}
	return b.String()
}

// Ask asks and waits for a line. The error is ErrEnded where none comes.
func (t *Talk) Ask(format string, args ...any) (string, error) {
	if t.in == nil {
		t.in = bufio.NewReader(t.In)
	}
	fmt.Fprint(t.Out, t.Wrap(fmt.Sprintf(format, args...)), " ")
	var line []byte
	for {
		part, err := t.in.ReadSlice('\n')
		if len(line) <= mostTyped {
			line = append(line, part...)
		}
		if errors.Is(err, bufio.ErrBufferFull) {
			continue
		}
		if err != nil { // half a line at the end was never sent off
			fmt.Fprintln(t.Out)
			return "", ErrEnded
		}
		break
	}
	text := words.Clean(words.Line(strings.ToValidUTF8(string(line[:min(len(line), mostTyped)]), "?")))
	if t.Echo {
		fmt.Fprintln(t.Out, text)
	}
	return text, nil
}
