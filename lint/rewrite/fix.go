package rewrite

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"slices"

	"kitmuster/lint/load"
	"kitmuster/lint/source"
)

// Fixed is a slip that was put right: what stood there, and what stands there now.
type Fixed struct {
	At       source.Span
	Was, Now string
	// Message is what was said of it.
	Message string
}

// mostFixed is how many slips of one household are put right in one go. Our own figure.
const mostFixed = 300

// Fix puts right the slips of the household in folder dir that have one sure answer, as load.Fault.Sure has it: quotes that are
// missing, a name that is misspelt. No value is made up. After each the files are loaded again: the slip must be gone and nothing new
// be said, but of what could not be read before. What was done up to a line that cannot be read in the end is taken back. Files that several
// households may share are left alone.
func Fix(tree fs.FS, dir string, o load.Options) (files []File, done []Fixed) {
	d, err := read(tree, dir, o)
	if err != nil {
		return nil, nil // nothing of it can be read, which is told elsewhere
	}
	given, whole, sound := map[string]bool{}, 0, maps.Clone(d.now)
	l := load.Household(tree, dir, o)
	for len(done) < mostFixed {
		i := slices.IndexFunc(l.Faults, func(f load.Fault) bool {
			e, ok := f.Sure()
			return ok && !given[key(&f, &e)] && d.holds(&e)
		})
		if i < 0 {
			break
		}
		f := l.Faults[i]
		e, _ := f.Sure()
		given[key(&f, &e)] = true
		p := d.own(e.At.File)
		was, from := d.now[p], d.offset(&e)
		d.now[p] = slices.Concat(was[:from], []byte(e.New), was[from+len(e.Was):])
		next := load.Household(d.Tree(), dir, o)
		if !better(l, next, &f) {
			d.now[p] = was
			continue
		}
		done = append(done, Fixed{e.At, e.Was, e.New, f.Message})
		l = next
		if onLine(l, e.At) == 0 {
			whole, sound = len(done), maps.Clone(d.now)
		}
	}
	d.now = sound
	return d.Files(), done[:whole]
}

// syntaxFault is the kind of fault that hides others.
const syntaxFault = "input/syntax"

func key(f *load.Fault, e *load.Edit) string { return fmt.Sprint(f.Message, e.At, e.New) }

// own is the path in the tree of a file of the household that people see as shown; "" for any other.
func (d *Draft) own(shown string) string {
	for p := range d.now {
		if d.show(p) == shown {
			return p
		}
	}
	return ""
}

// holds reports whether a change lies in a file of the household that may be changed.
func (d *Draft) holds(e *load.Edit) bool {
	p := d.own(e.At.File)
	return p != "" && d.barred[p] == "" && d.offset(e) >= 0
}

// offset is where the bytes of a change stand, -1 where they do not. A text begins behind a byte order mark.
func (d *Draft) offset(e *load.Edit) int {
	b, from := d.now[d.own(e.At.File)], e.At.Start.Offset
	if bytes.HasPrefix(b, bom) {
		from += len(bom)
	}
	if from < 0 || from > len(b) || !bytes.HasPrefix(b[from:], []byte(e.Was)) {
		return -1
	}
	return from
}

// onLine is how much of the line that a place begins on cannot be read.
func onLine(l *load.Loaded, at source.Span) (n int) {
	for i := range l.Faults {
		if f := &l.Faults[i]; f.Rule == syntaxFault && f.At.File == at.File && f.At.Start.Line == at.Start.Line {
			n++
		}
	}
	return n
}

// better reports whether a fault is gone, with nothing new in its place; of what could not be read, more may be said.
func better(was, is *load.Loaded, f *load.Fault) bool {
	of := func(l *load.Loaded) map[string]int {
		n := map[string]int{}
		for i := range l.Faults {
			n[l.Faults[i].Message]++
		}
		return n
	}
	before, after := of(was), of(is)
	if after[f.Message] >= before[f.Message] {
		return false
	}
	if slices.ContainsFunc(was.Faults, func(o load.Fault) bool { return o.Rule == syntaxFault }) {
		return onLine(is, f.At) <= onLine(was, f.At)
	}
	for i := range is.Faults { // a name put right may show what is wrong with its value
		o := &is.Faults[i]
		if _, sure := o.Sure(); after[o.Message] > before[o.Message] && !(sure && o.At.File == f.At.File && o.At.Start.Line == f.At.Start.Line) {
			return false
		}
	}
	return true
}
