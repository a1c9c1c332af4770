package begin

import (
	"errors"
	"strings"

	"kitmuster/lint/lines"
)

// Talk puts the questions that a leaves open. keep is called with all answers after each one, before the next question; what it has done is
// on the disk. Talk reports whether everything was answered: false where the family stopped, or no answer comes any more.
func Talk(t *lines.Talk, a Answers, keep func(Answers) error) (bool, error) {
	t.Say("One answer a line. Enter alone: not known yet. back: the question before. quit: stop, and go on another day. Each answer is kept before the next question.")
	for q := next(a); q != nil; q = next(a) {
		typed, err := t.Ask("%s", q.ask)
		if errors.Is(err, lines.ErrEnded) {
			return false, nil
		}
		if err != nil {
			return false, err
		}
		switch strings.ToLower(typed) {
		case "quit", "q":
			return false, nil
		case "back", "b":
			last := ""
			for _, of := range questions(a) {
				if of.key == q.key {
					break
				}
				last = of.key
			}
			if last == "" {
				t.Say("This is the first question.")
				continue
			}
			t.Say("Taken back: %s", a[last])
			delete(a, last)
			if err := keep(a); err != nil {
				return false, err
			}
			continue
		case "?":
			t.Say("Type the answer, or Enter alone for: not known yet. back goes to the question before, quit stops; nothing is lost.")
			continue
		}
		if typed == "" && q.key == "person 1" {
			t.Say("A kit needs one person at least; type a name.")
			continue
		}
		text, err := take(a, q, typed)
		if err != nil {
			t.Say("Not taken: %s", err)
			continue
		}
		a[q.key] = text
		if err := keep(a); err != nil {
			return false, err
		}
		switch text {
		case unknown:
			t.Say("Kept: not known yet.")
		case none:
			t.Say("Kept: none.")
		default:
			t.Say("Kept: %s", text)
		}
	}
	return true, nil
}
