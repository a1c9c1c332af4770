package upkeep

import (
	"fmt"
	"slices"

	"kitmuster/lint/lines"
	"kitmuster/lint/rewrite"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Talk is a conversation about one household, in lines.
type Talk struct {
	lines.Talk
	On unit.Date
	// Path is what the household is called on the command line.
	Path string
	// Write does orders and answers with the household as it then is. What it refuses is in Refused, with nothing done; an error ends
	// the talk.
	Write func([]Order) (*Kept, error)
	// Back puts back what files held before they were written, the last first.
	Back func([]rewrite.File) (*Kept, error)

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

// begin makes a talk ready, with the household as it is.
func (t *Talk) begin() error {
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
		t.Say("Not written: %s%s", where, r.Why)
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
		t.Say("The day of weighing stands there for several things; change it by hand once all are weighed: %s.", words.List(t.days))
	}
}

// back takes the last answer back and gives the spot that it was about.
func (t *Talk) back() (spot string, err error) {
	if len(t.undo) == 0 {
		t.Say("There is nothing to take back.")
		return "", nil
	}
	last := t.undo[len(t.undo)-1]
	now, err := t.Back(last.files)
	if err != nil {
		return "", err
	}
	t.undo, t.kept = t.undo[:len(t.undo)-1], now
	last.forget()
	t.Say("Taken back: %s.", last.what)
	return last.spot, nil
}

// keptSay says how many answers were kept.
func keptSay(n int, noun string) string {
	if n == 0 {
		return "Nothing was changed"
	}
	return words.Count(n, noun) + " kept"
}
