package intake

import (
	"fmt"
	"io"

	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// shown is how many things and cells a preview shows; of more it says how many.
const shown = 20

// meant is a field in words.
var meant = map[Field]string{
	Name: "the thing", Count: "how many", Mass: "mass of one", Total: "mass of all of the row", Lb: "pounds of the mass", Oz: "ounces of the mass", Pack: "pack",
	Compartment: "compartment", Section: "kind of thing, kept as a comment", Person: "who it belongs to", Expires: "last day", Weighed: "day of weighing",
	Energy: "food energy of one", Unit: "unit of the masses", Note: "kept as a comment", Number: "running number, left out", Nothing: "left out", "": "not known, kept as a comment",
}

// SumsDiffer is how many sums of the table do not come out.
func (p *Plan) SumsDiffer() int { return p.wrong() }

// Preview shows what was understood, and what would be written; w is nil where things are added to a kit that is there.
func (p *Plan) Preview(out io.Writer, w *Written) {
	say := func(format string, args ...any) { fmt.Fprintf(out, format+"\n", args...) }
	say("%s: %s", p.File, p.Kind)
	for _, n := range p.Notes {
		say("  %s", n)
	}
	say("\nColumns")
	last := ""
	for _, c := range p.Columns {
		if c.Sheet != last {
			say("  Sheet %q", c.Sheet)
			last = c.Sheet
		}
		what := meant[c.Field]
		if c.Unit != "" && c.Field != "" && c.Field != Nothing {
			what += ", in " + c.Unit
		}
		if c.Said {
			what += " (you said so)"
		}
		say("  %s %q: %s", c.At, c.Head, what)
	}
	head := words.Count(len(p.Things), "thing")
	if len(p.Things) > shown {
		head += fmt.Sprintf(", the first %d", shown)
	}
	say("\n%s", head)
	all := unit.Mass(0)
	unknown := 0
	for i, t := range p.Things {
		all += t.row
		if t.Mass.text == "" {
			unknown++
		}
		if i >= shown {
			continue
		}
		line := t.Name
		if t.Count != 1 {
			line = fmt.Sprintf("%d × %s", t.Count, t.Name)
		}
		mass := t.Mass.text
		if mass == "" {
			mass = "mass not known"
		} else if t.Mass.about {
			mass = "about " + mass
		}
		if say("  %s  %s, %s", t.At, line, mass); w != nil {
			say("      → %s", w.Lines[i])
		}
	}
	least, of := "", ""
	if unknown > 0 {
		least, of = "at least ", fmt.Sprintf(" (mass not known: %d)", unknown)
	}
	say("  All together: %s%s%s", least, all, of)
	if w != nil {
		say("  Use guessed from the name, said in a comment: %d", w.Guessed)
	}
	if w != nil && w.Unsaid > 0 {
		say("  Use not known: %d", w.Unsaid)
	}

	say("\nSums of the table")
	switch bad := p.wrong(); {
	case len(p.Sums) == 0:
		say("  It has none, so nothing but your eyes tells whether counts and masses were read as meant.")
	case bad == 0:
		say("  %s, and the things come to the same each time.", words.Count(len(p.Sums), "sum"))
	default:
		say("  %d of %s differ:", bad, words.Count(len(p.Sums), "sum"))
		n := 0
		for _, s := range p.Sums {
			if s.OK {
				continue
			}
			if n++; n > shown {
				say("  and %d more", bad-shown)
				break
			}
			say("  %s  %s: the table says %s, the things come to %s", s.At, s.What, grams(s.Said), grams(s.Found))
		}
	}
	if len(p.Doubts) > 0 {
		say("\nNot understood, or not for sure")
		for i, d := range p.Doubts {
			if i == shown {
				say("  and %d more", len(p.Doubts)-shown)
				break
			}
			say("  %s  %q: %s", d.At, d.Text, d.Why)
		}
	}
	if w == nil {
		say("")
		return
	}
	say("\nThe table does not say")
	for i, o := range w.Open {
		if i == shown {
			say("  and %d more", len(w.Open)-shown)
			break
		}
		say("  %s", o)
	}
	say("  what a hand reaches while walking, where a comment says so")
	var names []string
	for _, f := range w.Files {
		names = append(names, f.Name)
	}
	say("\nFiles: %s", words.And(names))
}
