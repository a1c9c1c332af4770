package report

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/words"
)

// A kit that has just been begun has findings by the dozen. Written out, they would hide the few that come first: so a household's report
// has about mostLines lines. The gravest are written out, as many as fit, errors always. Each rule after them has a line that names its
// first finding; where warnings are among these, notes are counted only. --long writes out all.

// Our own figures: two screens of a terminal, and how many findings of one rule are shown where there are many.
const (
	mostLines  = 100
	mostAlike  = 3
	mostErrors = 10
)

// fold is how far a report is shortened.
type fold int

const (
	whole    fold = iota
	shorter       // of many findings of one rule the first few are shown, and notes are named from the last on
	shortest      // warnings are named so, notes are counted, and the steps to begin with have no remedies
)

// output is what a text is written to.
type output interface {
	io.Writer
	io.StringWriter
	io.ByteWriter
}

// apart gives what is written meanwhile.
func (t *text) apart(write func()) string {
	out, b := t.b, &bytes.Buffer{}
	t.b = b
	write()
	t.b = out
	return b.String()
}

// fitted is the report of a household under its first lines, which head writes, with as much written out as fits.
func (t *text) fitted(head func(), groups [][]finding.Finding) string {
	for t.fold = whole; ; t.fold++ {
		first := t.apart(head)
		out, named := make([]string, len(groups)), make([]string, len(groups))
		lines, must := strings.Count(first, "\n")+1, 0
		for i, g := range groups {
			out[i] = t.apart(func() { t.group(g) })
			named[i] = t.apart(func() { t.name(g) })
			lines += strings.Count(out[i], "\n")
			if firm(&g[0]) || t.fold == shorter && worth(&g[0]) == finding.Warning {
				must = i + 1
			}
		}
		n := len(groups)
		for ; t.fold != whole && n > must && lines > mostLines; n-- {
			lines -= strings.Count(out[n-1], "\n") - strings.Count(named[n-1], "\n")
		}
		if t.o.Long || t.fold == shortest || lines <= mostLines {
			t.folded = t.folded || t.fold != whole
			text := first + strings.Join(out[:n], "")
			if n < len(groups) {
				text += "\n" + strings.Join(named[n:], "")
			}
			return text + t.apart(func() { t.count(groups[n:]) }) + "\n"
		}
	}
}

// worth is the level by which a finding is shortened; what is waived or fixed is no more than worth knowing.
func worth(f *finding.Finding) finding.Level {
	if f.Waived != nil || f.State == finding.Mended {
		return finding.Note
	}
	return f.Level
}

// firm reports whether findings are written out always: errors, and what is not recorded, as much else rests on it.
func firm(f *finding.Finding) bool {
	return worth(f) == finding.Error || order(f) < 2
}

// few is how many of so many findings of one rule are written out.
func (t *text) few(f *finding.Finding, n int) int {
	most := mostAlike
	if f.Level == finding.Error {
		most = mostErrors
	}
	if t.fold == whole || t.o.Long || n <= most+1 {
		return n
	}
	return most
}

// counted reports whether findings that are not written out are not even named.
func (t *text) counted(f *finding.Finding) bool {
	return t.fold == shortest && worth(f) == finding.Note
}

// name gives the findings of one rule a line.
func (t *text) name(fs []finding.Finding) {
	f := &fs[0]
	if t.counted(f) {
		return
	}
	what := cmp.Or(f.Message, f.Title)
	switch n := len(fs) - 1; {
	case n > 0 && t.run.Shared != "": // nothing tells one from the next
		what += fmt.Sprintf(" (%d times)", n+1)
	case n > 0:
		what += fmt.Sprintf("; and %d more", n)
	}
	if f.At.Known() {
		what += " (" + place(f.At) + ")"
	}
	t.wrapped("", t.o.level(f.Level, kind(f))+": ", "  ", what+" ["+f.Rule+"]")
}

// count says how many findings of each kind, such as waived warnings, are not named.
func (t *text) count(groups [][]finding.Finding) {
	for len(groups) > 0 {
		f, rules, findings := &groups[0][0], 0, 0
		for len(groups) > 0 && kind(&groups[0][0]) == kind(f) {
			if t.counted(f) {
				rules, findings = rules+1, findings+len(groups[0])
			}
			groups = groups[1:]
		}
		if rules > 0 {
			t.wrapped("", t.o.level(f.Level, kind(f))+": ", "  ", words.Count(findings, "finding")+" of "+words.Count(rules, "rule"))
		}
	}
}
