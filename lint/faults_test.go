package lint_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
)

// broken is the base standard with one more rule, which breaks.
func broken(t *testing.T) *judge.Bench {
	t.Helper()
	b, problems := judge.New(judge.Base(), fstest.MapFS{"rules/circle/odd.rego": {Data: []byte(`package rules.circle.odd

# METADATA
# title: Breaks
# description: It breaks.
# custom:
#   level: note
#   remedy: none
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
	a, b := check(t, plain, bench(t), "..."), check(t, odd, bench(t), "...")
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
