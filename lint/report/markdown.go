package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/words"
)

// A summary is read on one page and may take 1 MiB (GitHub Docs, "Workflow commands", job summaries): how many households its table
// holds, how many get findings below it, how many each gets, and how long a text may be are our own figures.
const (
	mostRows     = 200
	mostSections = 50
	mostBullets  = 12
	longestText  = 600
)

// Markdown writes a check as CommonMark with tables (GitHub Flavored Markdown, tables extension), for the summary of a job: how many
// findings there are, a table of the households that have some, and the gravest findings of each. With an earlier state to compare with
// it tells what is new and fixed, and what a change of a shared file did to many households once, at that change. It is bounded, and says what it leaves out.
func Markdown(w io.Writer, run *finding.Run, _ Options) error {
	b := bufio.NewWriter(w)
	s := run.Summary
	if run.Since == "" {
		fmt.Fprintf(b, "## Evacuation kits: %s, %s, %s\n", words.Count(s.Errors, "error"), words.Count(s.Warnings, "warning"), words.Count(s.Notes, "note"))
	} else {
		fmt.Fprintf(b, "## Evacuation kits: %d new, %d fixed, %d unchanged\n", s.New, s.Mended, s.Unchanged)
	}
	fmt.Fprintf(b, "\n%s\n", mark(Count(run)))
	x, err := effectsOf(run)
	if err != nil {
		return err
	}
	markdownEffects(b, x.list)
	for _, r := range remarks(run) {
		fmt.Fprintf(b, "\n%s\n", mark(r))
	}
	var sections strings.Builder
	rows, listed, unlisted := 0, 0, 0
	for fs, err := range run.Shown().ByPath() {
		if err != nil {
			return err
		}
		said := told(x.rest(fs))
		if len(said) == 0 {
			continue
		}
		if rows++; rows == 1 {
			fmt.Fprint(b, "\n| household | errors | warnings | notes | fixed |\n|---|--:|--:|--:|--:|\n")
		}
		name := mark(finding.Title(said[0].Household, said[0].Path))
		if rows <= mostRows {
			n := count(said)
			fmt.Fprintf(b, "| %s | %d | %d | %d | %d |\n", name, n.Errors, n.Warnings, n.Notes, n.Mended)
		}
		if listed == mostSections {
			unlisted++
			continue
		}
		listed++
		bullets(&sections, name, said)
	}
	if rows > mostRows {
		fmt.Fprintf(b, "\nand %d more %s.\n", rows-mostRows, words.Noun(rows-mostRows, "household"))
	}
	fmt.Fprint(b, sections.String())
	if unlisted > 0 {
		fmt.Fprintf(b, "\nThe findings of %d more %s are not listed here.\n", unlisted, words.Noun(unlisted, "household"))
	}
	return b.Flush()
}

// told are the findings of a household that someone should hear of.
func told(fs []finding.Finding) (out []finding.Finding) {
	for i := range fs {
		if fs[i].Waived == nil && fs[i].State != finding.Unchanged {
			out = append(out, fs[i])
		}
	}
	return out
}

// bullets writes a household's findings, gravest first and what is fixed last.
func bullets(b *strings.Builder, name string, fs []finding.Finding) {
	fmt.Fprintf(b, "\n### %s\n\n", name)
	written := 0
	write := func(only func(f *finding.Finding) bool) {
		for i := range fs {
			f := &fs[i]
			if !only(f) {
				continue
			}
			if written++; written > mostBullets {
				continue
			}
			kind := string(f.Level)
			if f.State == finding.Mended {
				kind = "fixed"
			}
			fmt.Fprintf(b, "- **%s** %s (%s, %s)%s\n", kind, mark(shortened(f.Message)), mark(f.Rule), mark(place(f.At)), aside(f))
		}
	}
	for _, l := range []finding.Level{finding.Error, finding.Warning, finding.Note} {
		write(func(f *finding.Finding) bool { return f.Level == l && f.State != finding.Mended })
	}
	write(func(f *finding.Finding) bool { return f.State == finding.Mended })
	if written > mostBullets {
		fmt.Fprintf(b, "- and %d more %s\n", written-mostBullets, words.Noun(written-mostBullets, "finding"))
	}
}

// aside is what caused a finding, after all else that is said of it.
func aside(f *finding.Finding) string {
	if s := since(f); s != "" {
		return ", " + mark(s)
	}
	return ""
}

// shortened cuts a text that is longer than a summary can hold.
func shortened(s string) string {
	r := []rune(s)
	if len(r) <= longestText {
		return s
	}
	return string(r[:longestText]) + " …"
}
