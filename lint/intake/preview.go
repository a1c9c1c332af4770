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
	v := preview{p, w, out}
	v.columns()
	v.things()
	v.sums()
	v.doubts()
	if w == nil {
		v.say("")
		return
	}
	v.say("\nThe table does not say")
	for i, o := range w.Open {
		if i == shown {
			v.say("  and %d more", len(w.Open)-shown)
			break
		}
		v.say("  %s", o)
	}
	v.say("  what a hand reaches while walking, where a comment says so")
	var names []string
	for _, f := range w.Files {
		names = append(names, f.Name)
	}
	v.say("\nFiles: %s", words.And(names))
}

// preview writes the parts of a preview.
type preview struct {
	*Plan
	w   *Written
	out io.Writer
}

func (p preview) say(format string, args ...any) { fmt.Fprintf(p.out, format+"\n", args...) }

func (p preview) columns() {
	p.say("%s: %s", p.File, p.Kind)
	for _, n := range p.Notes {
		p.say("  %s", n)
	}
	p.say("\nColumns")
	last := ""
	for _, c := range p.Columns {
		if c.Sheet != last {
			p.say("  Sheet %q", c.Sheet)
			last = c.Sheet
		}
		what := meant[c.Field]
		if c.Unit != "" && c.Field != "" && c.Field != Nothing {
			what += ", in " + c.Unit
		}
		if c.Said {
			what += " (you said so)"
		}
		p.say("  %s %q: %s", c.At, c.Head, what)
	}
}

func (p preview) things() {
	head := words.Count(len(p.Things), "thing")
	if len(p.Things) > shown {
		head += fmt.Sprintf(", the first %d", shown)
	}
	p.say("\n%s", head)
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
		p.say("  %s  %s, %s", t.At, line, mass)
		if p.w != nil {
			p.say("      → %s", p.w.Lines[i])
		}
	}
	least, of := "", ""
	if unknown > 0 {
		least, of = "at least ", fmt.Sprintf(" (mass not known: %d)", unknown)
	}
	p.say("  All together: %s%s%s", least, all, of)
	if p.w == nil {
		return
	}
	p.say("  Use guessed from the name, said in a comment: %d", p.w.Guessed)
	if p.w.Unsaid > 0 {
		p.say("  Use not known: %d", p.w.Unsaid)
	}
}

func (p preview) sums() {
	p.say("\nSums of the table")
	bad, n := p.wrong(), 0
	switch {
	case len(p.Sums) == 0:
		p.say("  It has none, so nothing but your eyes tells whether counts and masses were read as meant.")
	case bad == 0:
		p.say("  %s, and the things come to the same each time.", words.Count(len(p.Sums), "sum"))
	default:
		p.say("  %d of %s differ:", bad, words.Count(len(p.Sums), "sum"))
	}
	for _, s := range p.Sums {
		if s.OK {
			continue
		}
		if n++; n > shown {
			p.say("  and %d more", bad-shown)
			break
		}
		p.say("  %s  %s: the table says %s, the things come to %s", s.At, s.What, grams(s.Said), grams(s.Found))
	}
}

func (p preview) doubts() {
	if len(p.Doubts) == 0 {
		return
	}
	p.say("\nNot understood, or not for sure")
	for i, d := range p.Doubts {
		if i == shown {
			p.say("  and %d more", len(p.Doubts)-shown)
			break
		}
		p.say("  %s  %q: %s", d.At, d.Text, d.Why)
	}
}
