package report_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"kitmuster/lint/finding"
	"kitmuster/lint/report"
	"kitmuster/lint/source"
)

func spanOf(line int) source.Span {
	return source.Span{File: "a, b:%/kit.cue", Start: source.Point{Line: line, Col: 3}, End: source.Point{Line: line, Col: 9}}
}

func runOf(fs ...finding.Finding) *finding.Run {
	r := &finding.Run{Version: "v0", On: "2026-11-01"}
	r.Count([]finding.Household{{Name: "Alder", Path: "alder", Judged: true}}, fs...)
	return r
}

func written(t *testing.T, write func(*bytes.Buffer) error) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// Nothing that a kit says becomes a command of its own, whatever stands in a message, a name or a path; of each level no more are
// written than are shown, and what is waived or as it was is not. Escapes: GitHub Docs, "Workflow commands for GitHub Actions".
func TestAnnotations(t *testing.T) {
	var fs []finding.Finding
	for i := range 12 {
		fs = append(fs, finding.Finding{Rule: "x/a", Level: finding.Warning, Household: "Alder", Path: "alder", At: spanOf(i + 1), Message: "100 %\n::error::no\r##[error]no"})
	}
	fs = append(fs,
		finding.Finding{Rule: "x/b", Level: finding.Error, Household: "A::warning::\n,", Path: "alder", Message: "last"},
		finding.Finding{Rule: "x/c", Level: finding.Error, Path: "alder", Waived: &finding.Waiver{}},
		finding.Finding{Rule: "x/d", Level: finding.Error, Path: "alder", State: finding.Mended})
	run := runOf(fs...)
	run.Remarks = []string{"  ::error::no", "##[error]no"}
	got := written(t, func(b *bytes.Buffer) error { return report.Annotations(b, run, report.Options{}) })
	lines := strings.Split(strings.TrimSuffix(got, "\n"), "\n")
	if len(lines) != 1+10+3 {
		t.Fatalf("%d lines:\n%s", len(lines), got)
	}
	if want := `::error title=`; !strings.HasPrefix(lines[0], want) || strings.Count(lines[0], "::") != 2 || !strings.HasSuffix(lines[0], "::last") {
		t.Errorf("%q", lines[0])
	}
	if want := "::warning file=a%2C b%3A%25/kit.cue,line=1,endLine=1,col=3,endColumn=9,title=Alder%3A x/a::100 %25"; !strings.HasPrefix(lines[1], want) {
		t.Errorf("%q", lines[1])
	}
	for i, l := range lines {
		command := strings.HasPrefix(strings.TrimSpace(l), "::")
		if command != (i < 11) || strings.Contains(l, "##[") && i > 10 {
			t.Errorf("line %d: %q", i+1, l)
		}
	}
	if !strings.Contains(lines[13], "2 more findings not annotated: a step shows 10 of each level.") {
		t.Error(lines[13])
	}
}

// A summary is bounded, gravest first, and says what it leaves out.
func TestMarkdown(t *testing.T) {
	var fs []finding.Finding
	for h := range 260 {
		name := fmt.Sprintf("h%03d", h)
		for i := range 20 {
			fs = append(fs, finding.Finding{Rule: "x/a", Level: finding.Note, Household: name, Path: name, At: spanOf(i + 1), Message: "<b>" + strings.Repeat("long ", 400)})
		}
		fs = append(fs, finding.Finding{Rule: "x/b", Level: finding.Error, Household: name, Path: name, At: spanOf(30), Message: "grave | *really*"})
	}
	run := &finding.Run{Version: "v0", On: "2026-11-01"}
	run.Count(nil, fs...)
	got := written(t, func(b *bytes.Buffer) error { return report.Markdown(b, run, report.Options{}) })
	if len(got) > 1<<20 {
		t.Errorf("%d bytes", len(got))
	}
	for _, want := range []string{
		"| h199 | 1 | 0 | 20 | 0 |\n\nand 60 more households.\n", "### h049\n\n- **error** grave \\| \\*really\\* (x/b, ", "- and 9 more findings\n", "The findings of 210 more households are not listed here.\n", "&lt;b>",
	} {
		if !strings.Contains(got, want) && !strings.Contains(got, strings.ReplaceAll(want, ">", "\\>")) {
			t.Errorf("no %q in\n%.3000s", want, got)
		}
	}
	run = runOf(finding.Finding{Rule: "x/a", Level: finding.Error, Path: "alder", Household: "Alder", State: finding.Mended}, finding.Finding{Rule: "x/b", Level: finding.Error, Path: "alder", Household: "Alder", State: finding.Unchanged})
	run.Since = "main"
	got = written(t, func(b *bytes.Buffer) error { return report.Markdown(b, run, report.Options{}) })
	if !strings.Contains(got, "0 new, 1 fixed, 1 unchanged") || !strings.Contains(got, "- **fixed** ") || strings.Contains(got, "x/b") {
		t.Error(got)
	}
}

// A service stores no more than so many; the gravest are written, wherever they stand.
func TestOpenSARIFIsBounded(t *testing.T) {
	var fs []finding.Finding
	for i := range 6000 {
		fs = append(fs, finding.Finding{Rule: "x/a", Level: finding.Note, Household: "Alder", Path: "alder", At: spanOf(i + 1), Message: "note"})
	}
	fs = append(fs, finding.Finding{Rule: "x/b", Level: finding.Error, Household: "Alder", Path: "alder", At: spanOf(7000), Message: "grave"})
	got := written(t, func(b *bytes.Buffer) error { return report.OpenSARIF(b, runOf(fs...), report.Options{}) })
	if n := strings.Count(got, `"ruleId"`); n != 5000 || !strings.Contains(got, `"grave"`) || !strings.Contains(got, "1001 findings left out") {
		t.Errorf("%d results", n)
	}
}

// What is not of everything would close alerts that are true.
func TestWhole(t *testing.T) {
	if err := report.Whole(&finding.Run{}); err != nil {
		t.Error(err)
	}
	for _, r := range []finding.Run{{Part: "1/2"}, {Since: "main"}, {Partial: "out of time"}} {
		if report.Whole(&r) == nil {
			t.Errorf("%+v", r)
		}
	}
}
