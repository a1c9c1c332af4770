package report

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/compare"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
)

// sixty is a run of sixty households in which one line of a catalogue made a load too heavy, and of one with a change of its own.
func sixty() *finding.Run {
	var hs []finding.Household
	var fs []finding.Finding
	cause := []finding.Cause{{Kind: finding.CauseValue, What: "mass of “lamp”", Before: "86 g", Now: "120 g", Was: spot("catalogue.cue", 38), At: spot("catalogue.cue", 38)}}
	add := func(name string, causes []finding.Cause, rule string, level finding.Level, state finding.State) {
		if len(hs) == 0 || hs[len(hs)-1].Path != strings.ToLower(name) {
			hs = append(hs, finding.Household{Name: name, Path: strings.ToLower(name), Judged: true})
		}
		fs = append(fs, finding.Finding{Rule: rule, Level: level, Title: "No load is too heavy", Message: name + " carries too much", Household: name, Path: strings.ToLower(name), At: spot(strings.ToLower(name)+"/kit.cue", 3), State: state, Causes: causes})
	}
	for i := range 60 {
		name := fmt.Sprintf("H%02d", i)
		add(name, cause, "load/cap", finding.Error, finding.New)
		if i%20 == 0 {
			add(name, cause, "load/share", finding.Warning, finding.New)
		}
		if i == 7 {
			add(name, cause, "load/other", finding.Note, finding.Mended)
			add(name, nil, "load/old", finding.Note, finding.Unchanged)
		}
	}
	add("Zed", nil, "load/cap", finding.Error, finding.New)
	r := made(func(r *finding.Run) {
		r.Households, r.Since = hs, "main"
		for i := range 5 {
			r.Remarks = append(r.Remarks, fmt.Sprintf("the household at x%d is gone", i))
		}
		r.Remarks = append(r.Remarks, "the household at y was at z")
	}, fs...)
	return r
}

// What one line did to sixty households is told once, at the line, on one screen; who has a change of their own is told as ever.
func TestOneLineFitsOnOneScreen(t *testing.T) {
	const screen = 40 // lines; our own figure
	got := written(t, Markdown, sixty())
	want := `## Evacuation kits: 64 new, 1 fixed, 1 unchanged

61 households checked as of 2026-11-01: 61 errors, 3 warnings, 1 note. Since main: 64 new, 1 fixed, 1 unchanged.

### mass of “lamp” at catalogue.cue\:38\:2 went from 86 g to 120 g

Something is new or fixed in 60 households:

- **new error** in 60 households: No load is too heavy (load/cap): H00, H01, H02, H03, H04, H05, H06, H07 and 52 more
- **new warning** in 3 households: No load is too heavy (load/share): H00, H20, H40
- **fixed note** in 1 household: No load is too heavy (load/other): H07

5 households are gone: x0, x1, x2, x3, x4

the household at y was at z

| household | errors | warnings | notes | fixed |
|---|--:|--:|--:|--:|
| Zed | 1 | 0 | 0 | 0 |

### Zed

- **error** Zed carries too much (load/cap, zed/kit.cue\:3\:2)
`
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	for name, write := range map[string]string{"text": written(t, Text, sixty()), "markdown": got} {
		if n := strings.Count(write, "\n"); n > screen {
			t.Errorf("%s has %d lines", name, n)
		}
	}
	lines := written(t, Lines, sixty())
	if !strings.Contains(lines, "\ncatalogue.cue:38:2: cause: mass of “lamp” at catalogue.cue:38:2 went from 86 g to 120 g: new error in 60 households: H00, ") || strings.Count(lines, ": new error: ") != 61 {
		t.Errorf("lines:\n%s", lines)
	}
	marks := written(t, Annotations, sixty())
	if strings.Count(marks, "\n::error ") != 1 || !strings.HasPrefix(marks, "::error file=catalogue.cue,line=38,") || !strings.Contains(marks, "\n::error file=zed/kit.cue") {
		t.Errorf("annotations:\n%s", marks)
	}
	var long strings.Builder
	if err := Text(&long, sixty(), Options{Long: true}); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(long.String(), "\n    since mass of “lamp” at catalogue.cue:38:2 went from 86 g to 120 g\n"); n != 64 {
		t.Errorf("--long names the cause %d times", n)
	}
}

// A comparison tells together who differs by one change.
func TestComparedByOneLine(t *testing.T) {
	r := sixty()
	c := &compare.Comparison{Run: r}
	for i, h := range r.Households {
		one := compare.Compared{Household: h, Was: h.Path}
		if i < 60 {
			one.Causes = []finding.Cause{{Kind: finding.CauseValue, What: "mass of “lamp”", Before: "86 g", Now: "120 g", Was: spot("catalogue.cue", 38), At: spot("catalogue.cue", 38)}}
		}
		if i%2 == 0 {
			one.Changes = []compare.Change{{
				Before: &compare.Figure{Group: "mass", ID: "mass/all", Label: "all packs", Unit: kinds.FigureMass, Value: 10_000_000},
				Now:    &compare.Figure{Group: "mass", ID: "mass/all", Label: "all packs", Unit: kinds.FigureMass, Value: 10_034_000 + int64(i)*1_000},
			}}
		}
		c.Households = append(c.Households, one)
	}
	for name, write := range map[string]func(*strings.Builder) error{
		"text":     func(w *strings.Builder) error { return CompareText(w, c, Options{}) },
		"markdown": func(w *strings.Builder) error { return CompareMarkdown(w, c, Options{}) },
	} {
		var b strings.Builder
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		got := strings.Join(strings.Fields(b.String()), " ")
		for _, want := range []string{"60 households read it and changed nothing of their own; figures differ in 30: all packs: +34 g to +92 g", "in 60 households: No load is too heavy", "Zed (zed)"} {
			if !strings.Contains(got, want) {
				t.Errorf("%s lacks %q:\n%s", name, want, b.String())
			}
		}
		if n := strings.Count(b.String(), "\n"); n > 40 || strings.Contains(got, "H17 (h17)") {
			t.Errorf("%s has %d lines:\n%s", name, n, b.String())
		}
	}
}

// Every kind of cause reads as a clause.
func TestCauseWords(t *testing.T) {
	file := func(name string) source.Span { return source.Span{File: name} }
	for _, c := range []struct {
		cause finding.Cause
		want  string
	}{
		{finding.Cause{Kind: finding.CauseNew, What: "“pot”", At: spot("c.cue", 3)}, "“pot” at c.cue:3:2 is new"},
		{finding.Cause{Kind: finding.CauseNew, What: "mass of “pot”", Now: "1 kg", At: spot("c.cue", 3)}, "mass of “pot” at c.cue:3:2 is new: 1 kg"},
		{finding.Cause{Kind: finding.CauseGone, What: "mass of “pot”", Before: "1 kg", Was: spot("c.cue", 3)}, "mass of “pot”, 1 kg, is gone from c.cue, where it stood in line 3"},
		{finding.Cause{Kind: finding.CauseRenamed, What: "“pot”", Before: "pot", Now: "kettle", Was: spot("c.cue", 3), At: spot("c.cue", 4)}, "“pot” at c.cue:4:2 is now called “kettle”"},
		{finding.Cause{Kind: finding.CauseFile, At: file("c.cue")}, "c.cue is new"},
		{finding.Cause{Kind: finding.CauseFile, Was: file("c.cue")}, "c.cue is gone"},
		{finding.Cause{Kind: finding.CauseFile, Was: file("c.cue"), At: file("d.cue")}, "c.cue is now d.cue"},
		{finding.Cause{Kind: finding.CauseFile, Was: file("c.cue"), At: file("c.cue")}, "c.cue changed"},
		{finding.Cause{Kind: finding.CauseFile, Was: file("c.cue"), At: file("c.cue"), Count: 12}, "12 places of c.cue changed"},
		{finding.Cause{Kind: finding.CauseFiles, Count: 12}, "12 files changed that several households read"},
	} {
		if got := c.cause.Words(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// What stands in a catalogue is a stranger's: it gives no command, no markup and no colour.
func TestHostileCauses(t *testing.T) {
	r := sixty()
	fs, err := r.Findings.All()
	if err != nil {
		t.Fatal(err)
	}
	for i := range fs {
		for k := range fs[i].Causes {
			c := &fs[i].Causes[k]
			c.What, c.Before, c.Now = "mass of “\n::error::x\x1b[31m”", "<b>|`", "[x](http://valley.example)\n::set-output name=a::b"
		}
	}
	r.Findings = finding.List(fs...)
	for name, text := range map[string]string{"text": written(t, Text, r), "lines": written(t, Lines, r), "markdown": written(t, Markdown, r), "annotations": written(t, Annotations, r)} {
		if strings.ContainsRune(text, '\x1b') {
			t.Errorf("%s passes a control character on", name)
		}
		for l := range strings.Lines(text) {
			if strings.HasPrefix(l, "::set-output") || strings.HasPrefix(l, "::error::x") || name == "markdown" && (strings.Contains(l, "<b>") || strings.Contains(l, "[x](")) {
				t.Errorf("%s: %s", name, l)
			}
		}
	}
}
