package upkeep

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"kitmuster/lint/rewrite"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Talk is a conversation about one household, in lines.
type Talk struct {
	In  io.Reader
	Out io.Writer
	// Echo writes down each answer, where the input is no terminal that shows it.
	Echo bool
	// Width is how many columns a line may have; 0 is 80.
	Width int
	On    unit.Date
	// Path is what the household is called on the command line.
	Path string
	// Write does orders and answers with the household as it then is. What it refuses is in Refused, with nothing done; an error ends
	// the talk.
	Write func([]Order) (*Kept, error)
	// Back puts back what files held before they were written, the last first.
	Back func([]rewrite.File) (*Kept, error)

	in   *bufio.Reader
	kept *Kept
	undo []undone
	// days are places that say a day of weighing for several things.
	days []string
}

// undone is what takes back an answer.
type undone struct {
	what  string
	files []rewrite.File
	spot  string
	// forget takes back what the talk itself counted.
	forget func()
}

// errEnded says that no answer comes any more.
var errEnded = errors.New("the input ended")

// mostTyped is the most that one answer may hold; what is longer is no answer.
const mostTyped = 1000

// say writes a paragraph.
func (t *Talk) say(format string, args ...any) {
	fmt.Fprintln(t.Out, t.wrap(fmt.Sprintf(format, args...)))
}

// wrap breaks a text into lines, all but the first indented.
func (t *Talk) wrap(text string) string {
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

// ask asks and waits for a line.
func (t *Talk) ask(format string, args ...any) (string, error) {
	fmt.Fprint(t.Out, t.wrap(fmt.Sprintf(format, args...)), " ")
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
			return "", errEnded
		}
		break
	}
	text := words.Clean(words.Line(strings.ToValidUTF8(string(line[:min(len(line), mostTyped)]), "?")))
	if t.Echo {
		fmt.Fprintln(t.Out, text)
	}
	return text, nil
}

// begin makes a talk ready, with the household as it is.
func (t *Talk) begin() error {
	t.in = bufio.NewReader(t.In)
	kept, err := t.Write(nil)
	if err != nil {
		return err
	}
	if kept.Unread != "" {
		return fmt.Errorf("nothing can be written into %s as it is: %s; kitmuster check %s says what to correct first", kept.Household.Path, kept.Unread, t.Path)
	}
	t.kept = kept
	return nil
}

// write does orders and keeps what takes them back; forget is then called too. It reports false where nothing was written, and has said
// why.
func (t *Talk) write(what, spot string, forget func(), orders ...Order) (bool, error) {
	now, err := t.Write(orders)
	if err != nil {
		return false, err
	}
	if len(now.Refused) > 0 {
		r := now.Refused[0]
		where := ""
		if r.At.Known() {
			where = r.At.String() + ": "
		}
		t.say("Not written: %s%s", where, r.Why)
		return false, nil
	}
	t.daysOf(now)
	t.undo = append(t.undo, undone{what, now.Files, spot, forget})
	t.kept = now
	return true, nil
}

// daysOf keeps the places where a day of weighing is still to be changed by hand.
func (t *Talk) daysOf(k *Kept) {
	for _, at := range k.DayKept {
		if s := at.String(); !slices.Contains(t.days, s) {
			t.days = append(t.days, s)
		}
	}
}

// saysDays tells of them.
func (t *Talk) saysDays() {
	if len(t.days) > 0 {
		t.say("The day of weighing stands there for several things; change it by hand once all are weighed: %s.", words.List(t.days))
	}
}

// back takes the last answer back and gives the spot that it was about.
func (t *Talk) back() (spot string, err error) {
	if len(t.undo) == 0 {
		t.say("There is nothing to take back.")
		return "", nil
	}
	last := t.undo[len(t.undo)-1]
	now, err := t.Back(last.files)
	if err != nil {
		return "", err
	}
	t.undo, t.kept = t.undo[:len(t.undo)-1], now
	last.forget()
	t.say("Taken back: %s.", last.what)
	return last.spot, nil
}

// keptSay says how many answers were kept.
func keptSay(n int, noun string) string {
	if n == 0 {
		return "Nothing was changed"
	}
	return words.Count(n, noun) + " kept"
}
