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

// mostAnnotated is how many annotations of each level a step of a workflow shows. Source: GitHub, actions/toolkit, "Problem Matchers".
const mostAnnotated = 10

// annotated names the workflow command of a level.
var annotated = map[finding.Level]string{finding.Error: "error", finding.Warning: "warning", finding.Note: "notice"}

// Annotations writes findings as workflow commands, which show them beside the lines of a change on forges that read such commands
// from what a step prints. Of each level the first ten are written, gravest level first, since no more are shown; with an earlier state to
// compare with only what is new, and what a change of a shared file did to many households once, at that change. The last line counts and is no command.
// Source: GitHub Docs, "Workflow commands for GitHub Actions".
func Annotations(w io.Writer, run *finding.Run, _ Options) error {
	x, err := effectsOf(run)
	if err != nil {
		return err
	}
	of := map[finding.Level][]finding.Finding{}
	more := 0
	for i := range x.list {
		e := &x.list[i]
		for k := range e.Rules {
			if r := &e.Rules[k]; r.State == finding.New && !r.Waived {
				of[r.Level] = append(of[r.Level], atChange(e, r))
			}
		}
	}
	for l := range of {
		if n := len(of[l]) - mostAnnotated; n > 0 {
			of[l], more = of[l][:mostAnnotated], more+n
		}
	}
	for f, err := range run.Shown() {
		switch {
		case err != nil:
			return err
		case !isOpen(f) || f.State == finding.Unchanged || x.tells(f):
		case len(of[f.Level]) == mostAnnotated:
			more++
		default:
			of[f.Level] = append(of[f.Level], *f)
		}
	}
	b := bufio.NewWriter(w)
	for _, l := range []finding.Level{finding.Error, finding.Warning, finding.Note} {
		for i := range of[l] {
			annotate(b, &of[l][i])
		}
	}
	last := Count(run)
	if more > 0 {
		last += fmt.Sprintf(" %d more %s not annotated: a step shows %d of each level.", more, words.Noun(more, "finding"), mostAnnotated)
	}
	for _, s := range append(remarks(run), last) {
		fmt.Fprintln(b, uncommanded(s))
	}
	return b.Flush()
}

// atChange is what a change of a shared file did by a rule, as one finding at the change.
func atChange(e *finding.Effect, r *finding.RuleEffect) finding.Finding {
	f := r.First
	f.At = e.Causes[0].At
	f.Household, f.Path = words.Count(r.Households, "household"), ""
	f.Message = fmt.Sprintf("%s: new in %s: %s; such as: %s", finding.CauseWords(e.Causes), r.Named(), titleOf(r), f.Message)
	f.Causes = nil
	return f
}

// annotate writes one finding as a command.
func annotate(b io.Writer, f *finding.Finding) {
	var with []string
	say := func(name, value string) { with = append(with, name+"="+property.Replace(words.Clean(value))) }
	if at := f.At; at.Known() {
		say("file", at.File)
		if at.Start.Line > 0 {
			with = append(with, region(at)...)
		}
	}
	say("title", finding.Title(f.Household, f.Path)+": "+f.Rule)
	text := []string{words.Clean(f.Message)}
	if s := since(f); s != "" {
		text = append(text, words.Clean(s))
	}
	if f.Remedy != "" {
		text = append(text, "To do: "+words.Clean(words.Line(f.Remedy)))
	}
	if f.Caution != "" {
		text = append(text, "Caution: "+words.Clean(words.Line(f.Caution)))
	}
	fmt.Fprintf(b, "::%s %s::%s\n", annotated[f.Level], strings.Join(with, ","), data.Replace(strings.Join(text, "\n")))
}

// region are the lines and columns of a place; columns may only be given on one line.
func region(at source.Span) []string {
	end := max(at.Start.Line, at.End.Line)
	out := []string{fmt.Sprintf("line=%d", at.Start.Line), fmt.Sprintf("endLine=%d", end)}
	if at.Start.Col > 0 && end == at.Start.Line {
		out = append(out, fmt.Sprintf("col=%d", at.Start.Col), fmt.Sprintf("endColumn=%d", max(at.Start.Col, at.End.Col)))
	}
	return out
}

// What a command's text and its properties may not hold as it is.
var (
	data     = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A")
	property = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C")
)

// uncommanded is a line that no runner takes for a command: those begin with two colons, or hold ##[ in an older form.
func uncommanded(s string) string {
	s = strings.ReplaceAll(words.Clean(s), "##[", "## [")
	if strings.HasPrefix(strings.TrimSpace(s), "::") {
		s = "- " + strings.TrimSpace(s)
	}
	return s
}
