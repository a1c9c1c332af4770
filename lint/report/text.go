// Package report writes what was found and measured: text, JSON, SARIF, JUnit, tables and a calendar, and it reads
// JSON and SARIF back. It decides nothing: order, levels and exit codes are settled before it is called.
//
// A run's findings are walked, one household in memory at a time; so is what a product made of each (Made). What JSON
// and SARIF write is read again by ReadJSON and ReadSARIF and written with the same bytes: a field that cannot come
// back breaks TestReadIsTheReverseOfWrite.
//
// In SARIF, what a family wrote is neither placeholder nor link: braces are doubled, as the standard wants, and "]("
// is broken. The fingerprint kitmuster/v1 is made of the household's name, rule and spot; only where households of one
// run share a name does the folder stand for the name. An event of the calendar is known again by the household's name
// and the spot of its date.
//
// .ci/run holds what is written against the SARIF schema, Ant's JUnit schema and their validators; without these
// (KITMUSTER_VALIDATORS) the tests named TestOutside are skipped. See testdata/README.md.
package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// Options say how a run looks.
type Options struct {
	// Colour paints levels in text, for a terminal.
	Colour bool
	// FailOn is the level from which findings fail, where a format tells what fails; "" is none.
	FailOn finding.Level
}

// The select-graphic-rendition codes of ECMA-48 that paint a level.
var paint = map[finding.Level]string{finding.Error: "\x1b[31m", finding.Warning: "\x1b[33m", finding.Note: "\x1b[36m"}

func (o Options) level(l finding.Level, word string) string {
	if !o.Colour {
		return word
	}
	return paint[l] + word + "\x1b[0m"
}

// Text writes findings in the GNU form file:line:column: level: message [rule]
// (GNU Coding Standards, 4.4), with what drives them indented below, and a last
// line that counts.
func Text(w io.Writer, run *finding.Run, o Options) error {
	b := bufio.NewWriter(w)
	same := alike{w: b, o: o, names: newNames(run)}
	for f, err := range run.Shown() {
		if err != nil {
			return err
		}
		switch {
		case f.State == finding.Unchanged: // what a change leaves as it was is only counted
		case run.Shared != "":
			same.add(f)
		default:
			write(b, f, o)
		}
	}
	same.end()
	for _, r := range run.Remarks {
		fmt.Fprintln(b, words.Clean(r))
	}
	fmt.Fprintln(b, Count(run))
	return b.Flush()
}

// alike writes findings of which nothing tells one from the next once, with their number.
type alike struct {
	w     io.Writer
	o     Options
	names names // what several households are called says of none which it is
	first finding.Finding
	n     int
}

func (a *alike) add(f *finding.Finding) {
	x := &a.first
	if a.n == 0 || x.Path != f.Path || x.Rule != f.Rule || x.Level != f.Level || x.State != f.State || (x.Waived == nil) != (f.Waived == nil) {
		a.end()
		if a.first = *f; a.names[f.Household] > 1 {
			a.first.Household += " (" + f.Path + ")"
		}
	}
	a.n++
}

func (a *alike) end() {
	if a.n > 1 {
		a.first.Message += fmt.Sprintf(" (%d times)", a.n)
	}
	if a.n > 0 {
		write(a.w, &a.first, a.o)
	}
	a.n = 0
}

// write writes one finding as text.
func write(b io.Writer, f *finding.Finding, o Options) {
	word := string(f.Level)
	if f.Waived != nil {
		word = "waived " + word
	}
	switch f.State {
	case finding.Mended:
		fmt.Fprintf(b, "%s: mended %s: %s [%s]\n", spoken(f), word, words.Clean(f.Message), f.Rule)
		return
	case finding.New:
		word = "new " + word
	}
	fmt.Fprintf(b, "%s: %s: %s [%s]\n", spoken(f), o.level(f.Level, word), words.Clean(f.Message), f.Rule)
	line := func(format string, args ...any) { fmt.Fprintf(b, "    "+format+"\n", args...) }
	for _, c := range f.Because {
		if c.At.Known() {
			line("%s (%s)", words.Clean(c.Message), place(c.At))
		} else {
			line("%s", words.Clean(c.Message))
		}
	}
	for _, l := range f.Limits {
		text := fmt.Sprintf("limit %s = %s (%s): %s", l.Name, words.Clean(l.Value), words.Clean(l.Layer), words.Clean(l.Source))
		if l.At.Known() {
			text += fmt.Sprintf(" (%s)", place(l.At))
		}
		line("%s", text)
	}
	switch {
	case f.Waived != nil && *f.Waived == finding.Waiver{}:
		line("waived: %s", justification(f.Waived))
		return
	case f.Waived != nil:
		by := ""
		if f.Waived.Agreed != "" {
			by = ", agreed by " + words.Clean(f.Waived.Agreed)
		}
		line("waived until %s%s: %s (%s)", f.Waived.Until, by, words.Clean(f.Waived.Reason), place(f.Waived.At))
		return
	}
	if f.Remedy != "" {
		line("remedy: %s", words.Clean(f.Remedy))
	}
	if f.Caution != "" {
		line("caution: %s", words.Clean(f.Caution))
	}
}

// spoken is the place of a finding, or its household where no place may be told.
func spoken(f *finding.Finding) string {
	if f.At.Known() {
		return place(f.At)
	}
	return finding.Title(f.Household, f.Path)
}

// place is a span; a file's name may hold anything, too.
func place(s source.Span) string { return words.Clean(s.String()) }

// Count is the last line of a check.
func Count(run *finding.Run) string {
	s := run.Summary
	var b strings.Builder
	which := words.Count(s.Households, "household")
	if run.Part != "" {
		which += " of part " + run.Part
	}
	day := run.On
	if run.Standards != "" {
		day += " by " + words.Clean(run.Standards)
	}
	fmt.Fprintf(&b, "%s checked as of %s: %s, %s, %s", which, day, words.Count(s.Errors, "error"), words.Count(s.Warnings, "warning"), words.Count(s.Notes, "note"))
	if s.Waived > 0 {
		fmt.Fprintf(&b, ", %d waived", s.Waived)
	}
	b.WriteString(".")
	if run.Since != "" {
		fmt.Fprintf(&b, " Since %s: %d new, %d mended, %d unchanged.", words.Clean(run.Since), s.New, s.Mended, s.Unchanged)
		if run.Untouched > 0 {
			fmt.Fprintf(&b, " %s, touched by no change, not judged.", words.Count(run.Untouched, "household"))
		}
	}
	if n := run.Hidden(); n > 0 {
		fmt.Fprintf(&b, " %s not shown.", words.Count(n, "finding"))
	}
	if s.Unjudged > 0 {
		fmt.Fprintf(&b, " %s not wholly judged; once the input is mended, more may show.", words.Count(s.Unjudged, "household"))
	}
	if run.Partial != "" {
		fmt.Fprintf(&b, " This is not all: %s.", run.Partial)
	}
	if run.Shared != "" {
		fmt.Fprintf(&b, " Share-safe: households have pseudonyms of %s.", run.Shared)
	}
	return b.String()
}

// verb is the form of a verb that goes with a number.
func verb[N int | int64](n N, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
