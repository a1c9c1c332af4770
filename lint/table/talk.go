package table

import (
	"errors"
	"fmt"
	"strings"

	"kitmuster/lint/lines"
	"kitmuster/lint/words"
)

// shown is how many things and how many remarks of a kind a preview writes out. Our own figures.
const (
	shownThings = 20
	shownTold   = 30
)

// roleWords say for people what a column holds.
var roleWords = map[Role]string{
	Item: "names of things", Count: "how many", Each: "mass of one", Total: "mass of all in the row", Pack: "pack", Place: "compartment",
	Carrier: "who carries the pack", Expires: "last day", Unit: "unit of the masses", Note: "a comment", Nothing: "left out",
}

// Preview says what a table was taken for: its columns, its first things, its sums, and what was not understood.
func (t *Table) Preview(out *lines.Talk) {
	s := t.Sheet
	out.Say("Read as %s, parted by %s: %s.", s.Encoding, s.Delimiter, words.Count(len(s.Rows), "row"))
	fmt.Fprintln(out.Out)
	fmt.Fprintln(out.Out, "Columns")
	for _, c := range t.Columns {
		is := roleWords[c.Role]
		if is == "" {
			if c.Head == "" {
				continue
			}
			is = "not known: it becomes a comment"
		}
		if c.Unit != "" && (c.Role == Each || c.Role == Total) {
			is += ", in " + c.Unit
		}
		head := ""
		if c.Head != "" {
			head = fmt.Sprintf(" %q", words.Clean(short(c.Head)))
		}
		out.Say("- %s%s: %s", Letters(c.At), head, is)
	}
	n := 0
	for _, b := range t.Bags {
		for _, p := range b.Places {
			if n < shownThings {
				fmt.Fprintln(out.Out)
				hand := ""
				if p.Walking() {
					hand = " [by its name reached while walking]"
				}
				out.Say("%s, %s%s", words.Clean(b.Name), words.Clean(p.Name), hand)
			}
			for _, th := range p.Things {
				if n++; n <= shownThings {
					out.Say("- %s", th.line())
				}
			}
		}
	}
	if n > shownThings {
		fmt.Fprintln(out.Out)
		out.Say("And %d more.", n-shownThings)
	}
	fmt.Fprintln(out.Out)
	total := fmt.Sprintf("%s, %s, %s: ", words.Count(len(t.Bags), "pack"), words.Count(int(t.Things), "row"), words.Count(int(t.Pieces), "piece"))
	switch {
	case t.Unknown == t.Things:
		total += "no mass is known"
	case t.Unknown > 0:
		total += fmt.Sprintf("at least %s, as the mass of %s is not known", show(t.Mass), words.Count(int(t.Unknown), "row"))
	default:
		total += show(t.Mass)
	}
	out.Say("%s.", total)
	told(out, "The table's own sums that come out", t.Checked)
	told(out, "SUMS THAT DO NOT COME OUT: look at them in the table", t.Wrong)
	told(out, "Taken so", t.Taken)
	told(out, "Not understood", t.Open)
}

// line is a thing as it is shown.
func (t *Thing) line() string {
	s := words.Clean(short(t.Name))
	if t.Count > 1 {
		s = fmt.Sprintf("%d × %s", t.Count, s)
	}
	if t.Mass != "" {
		s += ", " + t.Mass
	} else {
		s += ", mass not known"
	}
	if t.Expires != "" {
		s += ", until " + t.Expires
	}
	if t.Guess != "" {
		s += " [by its name " + t.Guess + "]"
	}
	return s
}

func told(out *lines.Talk, head string, all []Told) {
	if len(all) == 0 {
		return
	}
	fmt.Fprintln(out.Out)
	fmt.Fprintln(out.Out, head)
	for _, x := range all[:min(len(all), shownTold)] {
		out.Say("- %s", strings.TrimPrefix(x.At+": "+words.Clean(x.Text), ": "))
	}
	if len(all) > shownTold {
		out.Say("- and %d more", len(all)-shownTold)
	}
}

// ErrWrong says that the table's own sums do not come out, so that nothing is written without a person's word.
var ErrWrong = errors.New("sums of the table do not come out, so nothing is written; correct them, leave their column out (--map F=nothing), or answer yourself, without --yes")

// Agree asks who carries what and whether to write; sure answers yes to that, and leaves open what the table does not say. It reports
// false where nothing is to be written.
func (t *Table) Agree(out *lines.Talk, h *Household, folder string, sure bool) (bool, error) {
	if sure && len(t.Wrong) > 0 {
		return false, ErrWrong
	}
	h.Carriers = map[string]string{}
	fmt.Fprintln(out.Out)
	for _, b := range t.Bags {
		who := b.Carrier
		if who == "" && !sure {
			var err error
			if who, err = out.Ask("Who carries %q? A first name, or Enter to leave it open:", words.Clean(b.Name)); err != nil {
				return false, unwritten(out, err)
			}
		}
		if who != "" {
			h.Carriers[b.Key] = words.Clean(who)
		}
	}
	if sure {
		return true, nil
	}
	for {
		answer, err := out.Ask("Write this into %s? Type yes or no:", folder)
		if err != nil {
			return false, unwritten(out, err)
		}
		switch strings.ToLower(answer) {
		case "y", "yes":
			return true, nil
		case "n", "no", "q":
			out.Say("Nothing is written.")
			return false, nil
		}
	}
}

func unwritten(out *lines.Talk, err error) error {
	out.Say("Nothing is written.")
	if errors.Is(err, lines.ErrEnded) {
		return nil
	}
	return err
}
