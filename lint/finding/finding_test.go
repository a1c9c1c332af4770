package finding

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/source"
)

// Sorting puts a household's findings together, by place, and gravest first; swapping the arguments swaps the answer.
func TestCompare(t *testing.T) {
	at := func(line int) source.Span {
		return source.Span{File: "kit.cue", Start: source.Point{Line: line, Col: 1}, End: source.Point{Line: line, Col: 2}}
	}
	ordered := []Finding{
		{Path: "a", At: at(1), Level: Error, Rule: "x/b"},
		{Path: "a", At: at(1), Level: Warning, Rule: "x/a"},
		{Path: "a", At: at(1), Level: Note, Rule: "x/a"},
		{Path: "a", At: at(1), Level: Note, Rule: "x/c"},
		{Path: "a", At: at(1), Level: Note, Rule: "x/c", Spot: "packs"},
		{Path: "a", At: at(2), Level: Error},
		{Path: "b", At: at(1), Level: Error},
	}
	for i, a := range ordered {
		for j, b := range ordered {
			if got := Compare(a, b); (got < 0) != (i < j) || (got > 0) != (i > j) {
				t.Errorf("Compare(%d, %d) = %d", i, j, got)
			}
		}
	}
	mixed := []Finding{ordered[5], ordered[0], ordered[6], ordered[0], ordered[3]}
	if diff := cmp.Diff([]Finding{ordered[0], ordered[3], ordered[5], ordered[6]}, Sort(mixed)); diff != "" {
		t.Error(diff)
	}
}

func TestWaivedFindingsNeverCount(t *testing.T) {
	r := Run{Households: []Household{{Judged: true}, {}}, Findings: []Finding{{Level: Error, Waived: &Waiver{}}, {Level: Warning}, {Level: Note}}}
	if got := r.Worst(); got != Warning {
		t.Errorf("worst is %q", got)
	}
	if diff := cmp.Diff(Summary{Households: 2, Unjudged: 1, Warnings: 1, Notes: 1, Waived: 1}, r.Summary()); diff != "" {
		t.Error(diff)
	}
	if got := (&Run{}).Worst(); got != "" {
		t.Errorf("worst of nothing is %q", got)
	}
}

func TestClean(t *testing.T) {
	for in, want := range map[string]string{
		"Älder 🍎":             "Älder 🍎",
		"\x1b[31mred":         `\u001b[31mred`,
		"a\nb":                `a\u000ab`,
		"\u202Egnp.exe":       `\u202egnp.exe`,
		"\u2066x\u2069\u200F": `\u2066x\u2069\u200f`,
		"אבא":                 "אבא",
	} {
		if got := Clean(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

func TestParseLevel(t *testing.T) {
	for _, s := range []string{"error", "warning", "note"} {
		if l, err := ParseLevel(s); err != nil || string(l) != s {
			t.Errorf("%s: %v %v", s, l, err)
		}
	}
	if _, err := ParseLevel("info"); err == nil {
		t.Error("info is taken")
	}
}
