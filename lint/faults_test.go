package lint_test

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/report"
)

// broken is the base standard with one more rule, which breaks.
func broken(t *testing.T) *judge.Rulebook {
	t.Helper()
	b, problems := judge.New(judge.Base(), fstest.MapFS{"rules/circle/odd.rego": {Data: []byte(`package rules.circle.odd

# METADATA
# title: Breaks
# description: It breaks.
# custom:
#   level: note
#   remedy: none
#   mend: {work: decide}
#   sources: ["common practice, no source"]
#   limits: []
#   passes: a
#   fails: b
finding.breaks contains f if {
	f := {"at": "household", "text": sprintf("%d", [1 / (input.household.people_count - 1)])}
}
`)}})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return b
}

// A rule that breaks is told at the household, and every other rule still judges it.
func TestABrokenRuleIsSeen(t *testing.T) {
	tree := fstest.MapFS{"a/kit.cue": {Data: []byte(frame)}}
	res := check(t, tree, broken(t), "...")
	seen, others := false, 0
	for _, f := range found(t, res) {
		if f.Rule == "input/rule" {
			seen = f.Level == finding.Error && strings.Contains(f.Message, "circle:odd/breaks broke") && f.At.File == "a/kit.cue"
		} else {
			others++
		}
	}
	if !seen || others < 5 || !res.Unfit {
		t.Errorf("seen %v, %d other findings, unfit %v", seen, others, res.Unfit)
	}
}

// A family's own names hide nothing, whatever they look like to a rule's text.
func TestNamesHideNothing(t *testing.T) {
	plain, odd := fstest.MapFS{"a/kit.cue": {Data: []byte(frame)}}, fstest.MapFS{"a/kit.cue": {Data: []byte(strings.Replace(frame, `packs: rust: {`, `packs: rust: {name: "100 %!d(x) %!(", `, 1))}}
	a, b := check(t, plain, rulebook(t), "..."), check(t, odd, rulebook(t), "...")
	count := func(fs []finding.Finding) (n int) {
		for _, f := range fs {
			if f.Rule != "input/rule" {
				n++
			}
		}
		return n
	}
	if count(found(t, a)) != count(found(t, b)) || count(found(t, a)) == 0 {
		t.Errorf("%d findings, and %d with an odd name", count(found(t, a)), count(found(t, b)))
	}
}

// What a group's rule says is text in every format: it moves no cursor, turns no line round, and is no HTML, whatever it holds.
func TestMessagesOfStrangers(t *testing.T) {
	b, problems := judge.New(judge.Base(), fstest.MapFS{"rules/circle/odd.rego": {Data: []byte(`package rules.circle.odd

# METADATA
# title: "Odd \e[31m"
# description: "It says odd things. <script>alert(1)</script>"
# custom:
#   level: error
#   remedy: "none \e]0;x\a"
#   mend: {work: decide}
#   sources: ["common practice, no source"]
#   limits: []
#   passes: a
#   fails: b
finding.odd contains f if {
	f := {"at": "household", "text": "\u001b[2J\u202egnp.exe\u0007 ]]> <script>alert(1)</script> [x](http://odd.example) {0}\r\nforged.cue:1:1: error: all is well"}
}
`)}})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	res := check(t, fstest.MapFS{"a/kit.cue": {Data: []byte(frame)}}, b, "...")
	res.Run.Rules = household.Rules(b)
	for _, f := range report.Formats {
		var out bytes.Buffer
		if err := f.Write(&out, &res.Run, report.Options{}); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(out.String(), "gnp.exe") {
			t.Errorf("%s does not say it", f.Name)
		}
		if i := strings.IndexFunc(out.String(), func(r rune) bool {
			return r < ' ' && r != '\n' && r != '\t' || r == 0x7F || r == 0x202E && f.Name != "json"
		}); i >= 0 { // JSON gives texts as they are, to programs
			t.Errorf("%s holds a control character: %q", f.Name, out.String()[max(0, i-40):i+20])
		}
		if f.Name == "junit" && strings.Contains(out.String(), "<script>") {
			t.Errorf("%s holds HTML", f.Name)
		}
		for _, line := range strings.Split(out.String(), "\n") {
			if strings.HasPrefix(line, "forged.cue") {
				t.Errorf("%s: a finding was forged", f.Name)
			}
		}
	}
}
