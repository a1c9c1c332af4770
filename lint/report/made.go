package report

import (
	"bufio"
	"io"
	"iter"

	"kitmuster/lint/finding"
)

// Made is a run that makes something of each household: T. It is walked one household at a time, so that many of them need no
// memory.
type Made[T any] struct {
	// Run has the version, the day, the households in order, and what could not be read.
	Run *finding.Run
	// Households walks all of them, in the order of Run.Households; it may be walked again, and an error ends the walk.
	Households iter.Seq2[*T, error]
}

// json writes it as one object; household is one household as it is written.
func (m *Made[T]) json(w io.Writer, household func(*T) any) error {
	o := object{b: bufio.NewWriterSize(w, 1<<16), indent: "  "}
	o.b.WriteByte('{')
	o.field("tool", Tool)
	o.field("version", m.Run.Version)
	o.field("on", m.Run.On)
	o.open("households")
	for h, err := range m.Households {
		if err != nil {
			return err
		}
		o.element(household(h))
	}
	o.close()
	o.open("findings")
	for f, err := range m.Run.Findings {
		if err != nil {
			return err
		}
		o.element(wire(f))
	}
	o.close()
	return o.end("\n}\n")
}

// text writes each household that has something to show, with a blank line between two, and then what could not be read.
func (m *Made[T]) text(w io.Writer, o Options, has func(*T) bool, one func(io.Writer, *T)) error {
	b := bufio.NewWriter(w)
	shown := false
	for h, err := range m.Households {
		if err != nil {
			return err
		}
		if !has(h) {
			continue
		}
		if shown {
			b.WriteByte('\n')
		}
		shown = true
		one(b, h)
	}
	if err := b.Flush(); err != nil {
		return err
	}
	x := &text{b: b, o: o, run: m.Run}
	some := false
	for f, err := range m.Run.Findings {
		if err != nil {
			return err
		}
		some = true
		x.wrapped("", spoken(f)+": "+o.level(f.Level, kind(f))+": ", "    ", f.Message+" ["+f.Rule+"]")
	}
	if some {
		ending(b, m.Run)
	}
	return b.Flush()
}
