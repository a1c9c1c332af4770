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
	var r Run
	r.Count([]Household{{Judged: true}, {}}, Finding{Level: Error, Waived: &Waiver{}}, Finding{Level: Warning}, Finding{Level: Note})
	if diff := cmp.Diff(Summary{Households: 2, Unjudged: 1, Warnings: 1, Notes: 1, Waived: 1, Worst: Warning, ByRank: [4]int{0, 1, 1, 1}}, r.Summary); diff != "" {
		t.Error(diff)
	}
}

// Against an earlier state, only what is new is the worst; what is mended is no longer there; what is not shown is counted.
func TestStatesAreCounted(t *testing.T) {
	r := Run{Least: Warning}
	r.Count(nil, Finding{Level: Error, State: Mended}, Finding{Level: Error, State: Unchanged}, Finding{Level: Warning, State: New}, Finding{Level: Note, State: New})
	if diff := cmp.Diff(Summary{Errors: 1, Warnings: 1, Notes: 1, New: 2, Unchanged: 1, Mended: 1, Worst: Warning, ByRank: [4]int{0, 1, 1, 2}}, r.Summary); diff != "" {
		t.Error(diff)
	}
	shown, err := r.Shown().All()
	if len(shown) != 3 || r.Hidden() != 1 || err != nil {
		t.Errorf("%d shown, %d hidden, %v", len(shown), r.Hidden(), err)
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

// Adding summaries is counting the findings of both.
func TestSummariesAdd(t *testing.T) {
	a := []Finding{{Level: Error, State: New}, {Level: Note, State: Unchanged}, {Level: Error, Waived: &Waiver{}}}
	b := []Finding{{Level: Warning, State: New}, {Level: Error, State: Mended}}
	var one, two, both Run
	one.Count([]Household{{}, {Judged: true}}, a...)
	two.Count([]Household{{Judged: true}}, b...)
	both.Count([]Household{{}, {Judged: true}, {Judged: true}}, append(a, b...)...)
	for _, sum := range [][2]Summary{{one.Summary, two.Summary}, {two.Summary, one.Summary}} {
		sum[0].Add(sum[1])
		if diff := cmp.Diff(both.Summary, sum[0]); diff != "" {
			t.Error(diff)
		}
	}
}
