package finding

import (
	"fmt"
	"strings"
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

// A finding that has become graver is new, and the milder one is not mended by it; one that has become milder is not.
func TestStatesOfLevels(t *testing.T) {
	of := func(levels ...Level) (out []Finding) {
		for _, l := range levels {
			out = append(out, Finding{Rule: "water/start", Spot: "household", Level: l})
		}
		return out
	}
	for _, c := range []struct {
		before, now []Level
		want        string
	}{
		{[]Level{Warning}, []Level{Warning}, "unchanged warning"},
		{[]Level{Note}, []Level{Error}, "new error"},
		{[]Level{Error}, []Level{Note}, "unchanged note"},
		{[]Level{Error, Note}, []Level{Error}, "unchanged error, mended note"},
		{[]Level{Error, Note}, []Level{Note}, "unchanged note, mended error"},
		{[]Level{Warning, Note}, []Level{Error, Note}, "new error, unchanged note"},
	} {
		var got []string
		for _, f := range States(of(c.before...), of(c.now...)) {
			got = append(got, fmt.Sprint(f.State, " ", f.Level))
		}
		if s := strings.Join(got, ", "); s != c.want {
			t.Errorf("%v, then %v: %s; want %s", c.before, c.now, s, c.want)
		}
	}
}

// A finding is told by rule and spot across edits; what was waived and is not any more is new.
func TestStates(t *testing.T) {
	at := func(rule, spot, text string, waived bool) Finding {
		f := Finding{Rule: rule, Spot: spot, Message: text}
		if waived {
			f.Waived = &Waiver{}
		}
		return f
	}
	before := []Finding{
		at("load/cap", "people/ana", "2 kg too much", false), at("water/days", "household", "", false), at("fire/two-means", "packs/rust", "", true),
		at("dates/expired", "items/a", "", false), at("dates/expired", "items/a", "", false), at("light/each", "packs/rust", "", false), at("gone/waived", "", "", true),
	}
	now := []Finding{
		at("load/cap", "people/ana", "1 kg too much", false), at("fire/two-means", "packs/rust", "", false), at("dates/expired", "items/a", "", false),
		at("load/cap", "people/bo", "", false), at("light/each", "packs/rust", "", true), at("water/new", "", "", true),
	}
	var got []string
	for _, f := range States(before, now) {
		got = append(got, fmt.Sprint(f.State, " ", f.Rule, " ", f.Spot, " ", f.Message))
	}
	want := []string{
		"unchanged load/cap people/ana 1 kg too much", "new fire/two-means packs/rust ", "unchanged dates/expired items/a ",
		"new load/cap people/bo ", "unchanged light/each packs/rust ", "new water/new  ",
		"mended water/days household ", "mended dates/expired items/a ",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Parts join to the whole, in whatever order they come; what is no whole set of parts is refused.
func TestMerge(t *testing.T) {
	run := func(part string, fs []Finding, hs ...Household) *Run {
		r := &Run{Version: "v0", On: "2026-11-01", Part: part}
		r.Count(hs, fs...)
		return r
	}
	a := run("1/2", []Finding{{Path: "a", Level: Error}, {Path: "c", Level: Note, Message: "first"}, {Path: "c", Level: Error, Message: "second"}}, Household{Path: "a", Judged: true}, Household{Path: "c"})
	b := run("2/2", []Finding{{Path: "b", Level: Warning}}, Household{Path: "b", Judged: true})
	whole := run("", []Finding{{Path: "a", Level: Error}, {Path: "b", Level: Warning}, {Path: "c", Level: Note, Message: "first"}, {Path: "c", Level: Error, Message: "second"}},
		Household{Path: "a", Judged: true}, Household{Path: "b", Judged: true}, Household{Path: "c"})
	for _, parts := range [][]*Run{{a, b}, {b, a}} {
		got, err := Merge(parts)
		if err != nil {
			t.Fatal(err)
		}
		gf, _ := got.Findings.All()
		wf, _ := whole.Findings.All()
		if diff := cmp.Diff(wf, gf); diff != "" {
			t.Error(diff)
		}
		if diff := cmp.Diff([]any{whole.Households, whole.Summary, whole.Part}, []any{got.Households, got.Summary, got.Part}); diff != "" {
			t.Error(diff)
		}
	}
	late := run("2/2", nil)
	late.On = "2026-12-01"
	shared := run("2/2", nil)
	shared.Shared = "key-bcdf"
	for want, parts := range map[string][]*Run{
		"nothing to merge": nil, "part 2/2 is missing": {a}, "part 1/2 is given twice": {a, a}, "check of everything": {a, whole},
		"audit date is 2026-11-01 in one and 2026-12-01": {a, late}, "share key is none in one and key-bcdf in the other": {a, shared}, "of is 2 in one and 3": {a, run("2/3", nil)}, "only parts": {run("3/2", nil)},
	} {
		if _, err := Merge(parts); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
	a.Partial = "interrupted after 2 of 3 households"
	if got, err := Merge([]*Run{a, b}); err != nil || got.Partial != "part 1/2: interrupted after 2 of 3 households" {
		t.Error(got, err)
	}
}

func TestOfInput(t *testing.T) {
	for rule, want := range map[string]bool{"input/rule": true, "input/no-kit": true, "limit/looser": false, "water/start": false, "inputs/x": false, "valley:input/x": false} {
		if f := (Finding{Rule: rule}); f.OfInput() != want {
			t.Errorf("%s: %v", rule, !want)
		}
	}
}
