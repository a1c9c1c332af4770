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
	"cmp"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/text/width"

	"kitmuster/lint/finding"
	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// Options say how a run looks.
type Options struct {
	// Colour paints levels in text, for a terminal.
	Colour bool
	// Long writes out everything: all findings and reasons, every limit with its source, and the spots that waivers name.
	Long bool
	// Quiet says of each household only how it stands, in text.
	Quiet bool
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

// textWidth is how many columns a line of text has at most, unless a place or a word is longer. Our own figure.
const textWidth = 80

// Lines writes one line for each finding in the GNU form file:line:column: level: message [rule] (GNU Coding Standards, 4.4), for
// editors and other programs, and a last line that counts.
func Lines(w io.Writer, run *finding.Run, o Options) error {
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
			line(b, f, o)
		}
	}
	same.end()
	x, err := effectsOf(run)
	if err != nil {
		return err
	}
	lineEffects(b, x.list)
	ending(b, run)
	return b.Flush()
}

func ending(w io.Writer, run *finding.Run) {
	for _, r := range remarks(run) {
		fmt.Fprintln(w, words.Clean(r))
	}
	fmt.Fprintln(w, Count(run))
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
		line(a.w, &a.first, a.o)
	}
	a.n = 0
}

// line writes one finding on one line.
func line(b io.Writer, f *finding.Finding, o Options) {
	fmt.Fprintf(b, "%s: %s: %s [%s]\n", spoken(f), o.level(f.Level, kind(f)), words.Clean(f.Message), f.Rule)
}

// notMet stands between the level of a finding and the title of its rule, which says what is required: without it the title would read
// as a fact.
func notMet(f *finding.Finding) string {
	if f.State == finding.Mended || f.Title == "" {
		return ""
	}
	return ", not met"
}

// kind says what a finding is: its level, whether it is waived, and how it stands against an earlier state.
func kind(f *finding.Finding) string {
	word := string(f.Level)
	if f.Waived != nil {
		word = "waived " + word
	}
	switch f.State {
	case finding.Mended:
		return "fixed " + word
	case finding.New:
		return "new " + word
	}
	return word
}

// Text writes findings for people: household by household, the gravest first, those of one rule together with what they have in common
// said once, in lines of at most textWidth columns. Of a household with many it writes out the gravest, and names or counts the rest. A
// last line counts.
func Text(w io.Writer, run *finding.Run, o Options) error {
	b := bufio.NewWriter(w)
	t := &text{b: b, o: o, run: run, names: newNames(run), mend: map[string]finding.Fix{}, remedy: map[string]string{}}
	for _, r := range run.Rules {
		t.mend[r.Name], t.remedy[r.Name] = r.Mend, r.Remedy
	}
	judged := map[string]bool{}
	for _, h := range run.Households {
		judged[h.Path] = h.Judged
	}
	if o.Quiet {
		return cmp.Or(t.quiet(judged), b.Flush())
	}
	x, err := effectsOf(run)
	if err != nil {
		return err
	}
	some := false
	for fs, err := range run.Shown().ByPath() {
		if err != nil {
			return err
		}
		if !o.Long {
			if fs = x.rest(fs); len(fs) == 0 {
				continue
			}
		}
		some = t.household(fs, judged[fs[0].Path]) || some
	}
	if len(x.list) > 0 {
		t.effects(x.list)
		some, t.folded = true, t.folded || !o.Long
	}
	switch {
	case !some || run.Shared != "":
	case run.Summary.Households == 0:
		t.wrapped("", "", "", "Next: name the folder of a household. kitmuster help kits says how to write one.")
	default:
		more := ""
		if t.folded {
			more = " --long writes out what is only named or counted here."
		}
		t.wrapped("", "", "", t.then()+more+" kitmuster rules NAME explains a rule and where its limits come from.")
	}
	ending(b, run)
	return b.Flush()
}

// quiet says of each household, in one line, how it stands, and of each path that leads to none.
func (t *text) quiet(judged map[string]bool) error {
	said := map[string]string{}
	var nowhere []string
	for fs, err := range t.run.Shown().ByPath() {
		if err != nil {
			return err
		}
		f := &fs[0]
		said[f.Path] = t.called(f.Household, f.Path) + ": " + standing(fs, judged[f.Path])
		if _, ok := judged[f.Path]; !ok {
			nowhere = append(nowhere, f.Path)
		}
	}
	for _, h := range t.run.Households {
		line, ok := said[h.Path]
		if !ok {
			line = t.called(h.Name, h.Path) + ": " + t.unsaid(h.Judged)
		}
		fmt.Fprintln(t.b, line)
	}
	for _, p := range nowhere {
		fmt.Fprintln(t.b, said[p])
	}
	ending(t.b, t.run)
	return nil
}

// unsaid is how a household stands of which nothing is shown.
func (t *text) unsaid(judged bool) string {
	switch {
	case !judged:
		return "only partly checked"
	case t.run.Since != "":
		return "nothing new or fixed"
	}
	return "ready"
}

// then says what to do next.
func (t *text) then() string {
	s := &t.run.Summary
	switch {
	case s.Unjudged > 0:
		return "Next: correct the input, then check again."
	case t.run.Since != "" && s.New > 0:
		return "Next: look at what is new, then check again."
	case t.started:
		return "Next: do what stands under “Start here”, then check again."
	case s.Errors > 0:
		return "Next: fix the errors, then check again."
	case s.Warnings > 0:
		return "Next: fix the warnings, or waive one for a time (kitmuster help waivers)."
	}
	return "Next: nothing is urgent."
}

type text struct {
	b     output
	o     Options
	run   *finding.Run
	names names
	// mend and remedy are those of the rules, by name, where the run lists them.
	mend   map[string]finding.Fix
	remedy map[string]string
	// started says that some household has steps to begin with, folded that of some not everything is written out.
	started, folded bool
	// fold is how far the report of the household under way is shortened.
	fold fold
}

// called is how a household is named at the head of its findings.
func (t *text) called(household, path string) string {
	name := finding.Title(household, path)
	if p := words.Clean(path); p != name && (t.run.Shared == "" || t.names[household] > 1) {
		name += ", " + p
	}
	return name
}

// household writes what there is to say of one; false where that is nothing.
func (t *text) household(fs []finding.Finding, judged bool) bool {
	said := slices.DeleteFunc(slices.Clone(fs), func(f finding.Finding) bool { return f.State == finding.Unchanged })
	if len(said) == 0 {
		return false
	}
	slices.SortStableFunc(said, func(a, b finding.Finding) int {
		return cmp.Or(order(&a)-order(&b), cmp.Compare(b.Level.Rank(), a.Level.Rank()))
	})
	var groups [][]finding.Finding // of one rule, level and kind, in the order of the first of each
	for len(said) > 0 {
		first := &said[0]
		var group, rest []finding.Finding
		for _, f := range said {
			if f.Rule == first.Rule && f.Level == first.Level && kind(&f) == kind(first) {
				group = append(group, f)
			} else {
				rest = append(rest, f)
			}
		}
		groups, said = append(groups, group), rest
	}
	head := fmt.Sprintf("%s: %s\n", t.called(fs[0].Household, fs[0].Path), standing(fs, judged))
	_, _ = t.b.WriteString(t.fitted(func() {
		_, _ = t.b.WriteString(head)
		if t.run.Shared == "" {
			t.started = t.begin(fs) || t.started
		}
	}, groups))
	return true
}

// unrecorded is the rule on things whose names say more than is recorded: much else may rest on it.
const unrecorded = "data/not-recorded"

// order puts first faults of the input, then errors, then what is not recorded, as other findings may rest on it, then what else counts,
// then what is waived, then what is fixed.
func order(f *finding.Finding) int {
	switch {
	case f.State == finding.Mended:
		return 4
	case f.Waived != nil:
		return 3
	case f.OfInput():
		return -1
	case f.Level == finding.Error:
		return 0
	case f.Rule == unrecorded:
		return 1
	}
	return 2
}

// standing says in a few words how a household stands by what is shown of it.
func standing(fs []finding.Finding, judged bool) string {
	var n [4]int
	var now, fixed, unchanged, waived int
	compared := false
	for i := range fs {
		f := &fs[i]
		compared = compared || f.State != ""
		switch {
		case f.State == finding.Mended:
			fixed++
			continue
		case f.State == finding.Unchanged:
			unchanged++
		default:
			now++
		}
		if f.Waived != nil {
			waived++
		} else {
			n[f.Level.Rank()]++
		}
	}
	var parts []string
	add := func(n int, noun string) {
		if n > 0 {
			parts = append(parts, words.Count(n, noun))
		}
	}
	if compared {
		return fmt.Sprintf("%d new, %d fixed, %d unchanged", now, fixed, unchanged)
	}
	add(n[finding.Error.Rank()], "error")
	add(n[finding.Warning.Rank()], "warning")
	add(n[finding.Note.Rank()], "note")
	if waived > 0 {
		parts = append(parts, fmt.Sprintf("%d waived", waived))
	}
	is := "ready"
	switch {
	case !slices.ContainsFunc(fs, func(f finding.Finding) bool { return f.Rule != "input/path" && f.Rule != "input/no-kit" }):
		is = "no household"
	case !judged:
		is = "only partly checked"
	case n[finding.Error.Rank()] > 0:
		is = "not ready"
	}
	return is + " (" + strings.Join(parts, ", ") + ")"
}

// group writes the findings of one rule, and once what they share.
func (t *text) group(fs []finding.Finding) {
	f := &fs[0]
	head := cmp.Or(f.Title, f.Rule)
	if !f.At.Known() { // with no place to name it beside
		head += " [" + f.Rule + "]"
	}
	t.wrapped("\n", t.o.level(f.Level, kind(f))+notMet(f)+": ", "  ", head)
	if t.run.Shared != "" { // nothing tells one from the next
		t.finding(f, len(fs))
	} else {
		few := t.few(f, len(fs))
		for i := range few {
			t.finding(&fs[i], 1)
		}
		if more := len(fs) - few; more > 0 {
			t.wrapped("", "  ", "  ", fmt.Sprintf("and %d more; --format lines has a line for each", more))
		}
	}
	t.limits(f)
	if f.Waived != nil || f.State == finding.Mended {
		return
	}
	t.wrapped("", "  Fix: ", "    ", f.Remedy)
	t.wrapped("", "  Caution: ", "    ", f.Caution)
}

// mostLimits are how many limits of the base stand under a rule with their sources; more are one line. Our own figure.
const mostLimits = 6

// limits writes what the rule of a finding compares with: what a standard or the household has set, and with --long also what
// everyone has from the base, whose figure the message tells.
func (t *text) limits(f *finding.Finding) {
	var base []finding.Limit
	for _, l := range f.Limits {
		text := fmt.Sprintf("%s = %s (%s)", l.Name, l.Value, l.Layer)
		switch {
		case !l.At.Known():
			base = append(base, l)
			continue
		case t.o.Long:
			text += fmt.Sprintf(": %s (%s)", l.Source, place(l.At))
		}
		t.wrapped("", "  Limit: ", "    ", text)
	}
	if !t.o.Long {
		return
	}
	if len(base) > mostLimits {
		var all []string
		for _, l := range base {
			all = append(all, l.Name+" = "+l.Value)
		}
		t.wrapped("", "  Limits: ", "    ", fmt.Sprintf("%s (%s); kitmuster rules %s tells their sources", strings.Join(all, "; "), base[0].Layer, f.Rule))
		return
	}
	for _, l := range base {
		t.wrapped("", "  Limit: ", "    ", fmt.Sprintf("%s = %s (%s): %s", l.Name, l.Value, l.Layer, l.Source))
	}
}

// alone writes all that there is to say of one finding.
func alone(w io.Writer, run *finding.Run, f *finding.Finding) {
	b := bufio.NewWriter(w)
	(&text{b: b, o: Options{Long: true}, run: run}).group([]finding.Finding{*f})
	_ = b.Flush() // what is written to is memory
}

// mostReasons are how many reasons stand under a finding where not all are asked for. Our own figure.
const mostReasons = 3

func (t *text) finding(f *finding.Finding, times int) {
	if f.At.Known() {
		fmt.Fprintf(t.b, "  %s [%s]", place(f.At), f.Rule)
		if t.o.Long && f.Spot != "" {
			fmt.Fprintf(t.b, " spot %s", words.Clean(f.Spot))
		}
		fmt.Fprintln(t.b)
	}
	message := f.Message
	if times > 1 {
		message += fmt.Sprintf(" (%d times)", times)
	}
	if message != f.Title {
		t.wrapped("", "    ", "    ", message)
	}
	shown := f.Because
	if !t.o.Long && len(shown) > mostReasons+1 {
		shown = shown[:mostReasons]
	}
	for _, c := range shown {
		text := "- " + c.Message
		if c.At.Known() {
			text += " (" + place(c.At) + ")"
		}
		t.wrapped("", "    ", "      ", text)
	}
	if n := len(f.Because) - len(shown); n > 0 {
		fmt.Fprintf(t.b, "    - and %d more (--long shows all)\n", n)
	}
	t.wrapped("", "    ", "      ", since(f))
	switch w := f.Waived; {
	case w == nil:
	case *w == finding.Waiver{}:
		t.wrapped("", "    ", "    ", "waived: "+justification(w))
	default:
		by := ""
		if w.Agreed != "" {
			by = ", agreed by " + w.Agreed
		}
		t.wrapped("", "    ", "    ", fmt.Sprintf("waived until %s%s: %s (%s)", w.Until, by, w.Reason, place(w.At)))
	}
}

// wrapped writes a text in lines: before stands before all, head before the first word, indent before each further line. Nothing
// is written of an empty text.
func (t *text) wrapped(before, head, indent, s string) {
	fields := strings.Fields(words.Clean(s))
	if len(fields) == 0 {
		return
	}
	_, _ = t.b.WriteString(before + head) // what keeps an error gives it when it is flushed
	at := across(head)
	for i, w := range fields {
		switch n := across(w); {
		case i == 0:
			at += n
		case at+1+n > textWidth:
			_, _ = t.b.WriteString("\n" + indent)
			at = across(indent) + n
		default:
			_ = t.b.WriteByte(' ')
			at += 1 + n
		}
		_, _ = t.b.WriteString(w)
	}
	_ = t.b.WriteByte('\n')
}

// across is how many columns of a terminal a text takes; what paints it takes none.
func across(s string) (n int) {
	if !strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r > '~' }) { // most text, soon told
		return len(s)
	}
	s = painted.ReplaceAllString(s, "")
	for _, r := range s {
		switch width.LookupRune(r).Kind() {
		case width.EastAsianWide, width.EastAsianFullwidth:
			n += 2
		default:
			n++
		}
	}
	return n
}

var painted = regexp.MustCompile("\x1b\\[[0-9]*m")

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
	if s.Households == 0 && s.Errors > 0 && run.Part == "" && run.Since == "" && run.Shared == "" {
		return "No household was found: " + words.Count(s.Errors, "error") + "."
	}
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
		fmt.Fprintf(&b, " Since %s: %d new, %d fixed, %d unchanged.", words.Clean(run.Since), s.New, s.Mended, s.Unchanged)
		if run.Untouched > 0 {
			fmt.Fprintf(&b, " %s, touched by no change, not judged.", words.Count(run.Untouched, "household"))
		}
	}
	if n := run.Hidden(); n > 0 {
		fmt.Fprintf(&b, " %s not shown.", words.Count(n, "finding"))
	}
	if s.Unjudged > 0 {
		fmt.Fprintf(&b, " %s only partly checked; once the input is corrected, more may show.", words.Count(s.Unjudged, "household"))
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
