package report

import (
	"bufio"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/words"
)

// JUnit writes a check in the XML that build servers read test results from. It
// has no standard; what is written is valid under the two schemas most readers
// go by, Ant's and the xUnit plugin's: every attribute Ant asks for, elements in
// Ant's order.
//
// A household is a suite and a finding a test. A finding at or above
// Options.FailOn fails; where an earlier state is compared with, only a new one.
// One that says what could not be judged (area input) is an error, a waived one
// is skipped. All others pass, and the suite's output holds their text. A
// household without findings has one test that passes. Paths that lead to no
// household are a suite of their own, and so is what is to be said of the run:
// that it was cut short, and remarks on the comparison.
//
// There is no clock: a test takes no time, and the audit date, at midnight, is
// when it ran.
func JUnit(w io.Writer, run *finding.Run, o Options) error {
	b := bufio.NewWriterSize(w, 1<<16)
	j := &junit{b: b, run: run, o: o}
	b.WriteString(xml.Header + "<testsuites>\n")
	if whole := (test{class: "run", name: "run whole"}); run.Partial != "" || len(run.Remarks) > 0 {
		if run.Partial != "" {
			whole.kind, whole.rule, whole.message = failed, "partial", "not all households were judged: "+run.Partial
		}
		var out strings.Builder
		for _, r := range run.Remarks {
			out.WriteString(words.Clean(r) + "\n")
		}
		j.suite("run", "run", []test{whole}, out.String())
	}
	rest := run.Households
	var strays []finding.Finding // of paths that lead to no household
	for fs, err := range run.Shown().ByPath() {
		if err != nil {
			return err
		}
		path := fs[0].Path
		for len(rest) > 0 && rest[0].Path < path {
			j.household(rest[0], nil)
			rest = rest[1:]
		}
		switch {
		case len(rest) > 0 && rest[0].Path == path:
			j.household(rest[0], fs)
			rest = rest[1:]
		case fs[0].Household == "":
			strays = append(strays, fs...)
		default: // it is there no more, and neither are its findings
			j.household(finding.Household{Name: fs[0].Household, Path: path, Judged: true}, fs)
		}
	}
	for _, h := range rest {
		j.household(h, nil)
	}
	if len(strays) > 0 {
		j.findings("paths", "paths", strays, nil)
	}
	b.WriteString("</testsuites>\n")
	return b.Flush()
}

type junit struct {
	b   *bufio.Writer
	run *finding.Run
	o   Options
	id  int
}

// test is one test of a suite.
type test struct {
	class, name string
	kind        outcome
	rule        string // the type of a failure or an error
	message     string
	text        string
}

// outcome is what came of a test: the element that says so, or "" where it passed.
type outcome string

const (
	passed  outcome = ""
	failure outcome = "failure"
	failed  outcome = "error"
	skipped outcome = "skipped"
)

func (j *junit) household(h finding.Household, fs []finding.Finding) {
	var more []test
	lost := false
	for i := range fs {
		lost = lost || unjudgeable(&fs[i])
	}
	switch {
	case !h.Judged && !lost:
		more = []test{{class: "household", name: "household judged", kind: failed, rule: "unjudged", message: "only partly checked; once the input is corrected, more may show"}}
	case len(fs) == 0:
		more = []test{{class: "household", name: "nothing found"}}
	}
	j.findings(finding.Title(h.Name, h.Path), h.Path, fs, more)
}

// findings writes a suite of findings and of what else is to be said.
func (j *junit) findings(name, path string, fs []finding.Finding, tests []test) {
	var out bytes.Buffer // what passes and still has something to say
	seen := map[string]int{}
	for i := range fs {
		f := &fs[i]
		var text bytes.Buffer
		alone(&text, j.run, f)
		t := test{class: area(f.Rule), name: f.Rule, rule: f.Rule, kind: j.outcome(f), message: f.Message, text: text.String()}
		if f.Spot != "" {
			t.name += " " + f.Spot
		}
		if f.State == finding.Mended {
			t.name += " (fixed)"
		}
		if seen[t.name]++; seen[t.name] > 1 {
			t.name += fmt.Sprintf(" (%d)", seen[t.name])
		}
		switch {
		case t.kind == skipped:
			t.message = "waived: " + justification(f.Waived)
			out.WriteString(t.text)
		case t.kind == passed:
			out.WriteString(t.text)
		}
		tests = append(tests, t)
	}
	j.suite(name, path, tests, out.String())
}

func (j *junit) outcome(f *finding.Finding) outcome {
	switch {
	case f.State == finding.Mended:
		return passed
	case unjudgeable(f):
		return failed
	case f.Waived != nil:
		return skipped
	case j.o.FailOn != "" && f.Level.Rank() >= j.o.FailOn.Rank() && f.State != finding.Unchanged:
		return failure
	}
	return passed
}

func (j *junit) suite(name, path string, tests []test, out string) {
	n := map[outcome]int{}
	for _, t := range tests {
		n[t.kind]++
	}
	fmt.Fprintf(j.b, `  <testsuite name="%s" package="%s" id="%d" timestamp="%sT00:00:00" hostname="localhost" tests="%d" failures="%d" errors="%d" skipped="%d" time="0">`+"\n",
		attribute(name), attribute(path), j.id, attribute(j.run.On), len(tests), n[failure], n[failed], n[skipped])
	j.id++
	j.b.WriteString("    <properties>\n")
	for _, p := range [][2]string{{"version", j.run.Version}, {"on", j.run.On}, {"shareSafe", j.run.Shared}, {"standards", j.run.Standards}, {"since", j.run.Since}, {"part", j.run.Part}} {
		if p[1] != "" {
			fmt.Fprintf(j.b, "      <property name=\"%s\" value=\"%s\"/>\n", p[0], attribute(p[1]))
		}
	}
	j.b.WriteString("    </properties>\n")
	for _, t := range tests {
		fmt.Fprintf(j.b, `    <testcase name="%s" classname="%s" time="0"`, attribute(t.name), attribute(t.class))
		switch t.kind {
		case passed:
			j.b.WriteString("/>\n")
		case skipped:
			fmt.Fprintf(j.b, ">\n      <skipped message=\"%s\"/>\n    </testcase>\n", attribute(t.message))
		default:
			fmt.Fprintf(j.b, ">\n      <%s type=\"%s\" message=\"%s\">%s</%[1]s>\n    </testcase>\n", t.kind, attribute(t.rule), attribute(t.message), characters(t.text))
		}
	}
	fmt.Fprintf(j.b, "    <system-out>%s</system-out>\n    <system-err></system-err>\n  </testsuite>\n", characters(out))
}

// attribute is text inside quotes; what XML cannot hold is shown as an escape or replaced.
func attribute(s string) string { return escaped(words.Clean(s)) }

// characters is text between tags. It has been made clean line by line.
func characters(s string) string {
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = attribute(lines[i])
	}
	return strings.Join(lines, "\n")
}

func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a builder takes everything
	return b.String()
}

// unjudgeable reports whether a finding says that something could not be judged.
func unjudgeable(f *finding.Finding) bool {
	return f.OfInput() && f.State != finding.Mended
}
