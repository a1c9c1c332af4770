package private

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/audit"
	"kitmuster/lint/compare"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// A run of four households says of each finding its level and area, of personal ones the level, and counts the same; one of five,
// and one that is not for others, says everything.
func TestFewer(t *testing.T) {
	m := mask(0)
	fs := []finding.Finding{
		{Rule: "children/infant-formula", Level: finding.Error, Household: "Birch", Path: "birch", Spot: "people/ana", Message: "Ana has none"},
		{Rule: "group:water/more", Level: finding.Warning, Household: "Birch", Path: "birch"},
		{Rule: "water/too-little", Level: finding.Warning, Household: "Birch", Path: "birch", Waived: &finding.Waiver{}, State: finding.New},
		{Rule: "input/quantity", Level: finding.Error, Household: "Cedar", Path: "cedar", Spot: "packs/x"},
	}
	run := &finding.Run{Findings: finding.List(fs...), Households: make([]finding.Household, Few-1), Remarks: []string{"as before"}}
	run.Summary.Errors = 2
	masked := m.Run(run)
	got := Fewer(masked)
	all, err := got.Findings.All()
	if err != nil {
		t.Fatal(err)
	}
	birch, cedar := m.Household(finding.Household{Name: "Birch", Path: "birch"}), m.Household(finding.Household{Name: "Cedar", Path: "cedar"})
	want := []finding.Finding{
		{Rule: "personal/held-back", Level: finding.Error, Message: "a rule objects; which one, and about what, is held back", Household: birch.Name, Path: birch.Path},
		{Rule: "personal/held-back", Level: finding.Warning, Message: "a rule objects; which one, and about what, is held back", Household: birch.Name, Path: birch.Path},
		{Rule: "water/held-back", Level: finding.Warning, Message: "a rule about water objects; which one is held back", Household: birch.Name, Path: birch.Path, Waived: &finding.Waiver{}, State: finding.New},
		{Rule: "input/quantity", Level: finding.Error, Message: "a quantity", Household: cedar.Name, Path: cedar.Path, Spot: "packs/*"},
	}
	for i := range all {
		if all[i].Rule == "input/quantity" {
			all[i].Message = "a quantity" // the program's own words
		}
	}
	byPath := func(a, b finding.Finding) int { return finding.Compare(a, b) }
	slices.SortFunc(want, byPath)
	slices.SortFunc(all, byPath)
	if diff := cmp.Diff(want, all); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(masked.Summary, got.Summary); diff != "" {
		t.Error(diff)
	}
	if !slices.Equal(got.Remarks, []string{"as before", fewFindings}) || !slices.Equal(masked.Remarks, []string{"as before"}) {
		t.Errorf("%q, and before %q", got.Remarks, masked.Remarks)
	}
	run.Households = make([]finding.Household, Few)
	if whole := m.Run(run); Fewer(whole) != whole {
		t.Error("a run of five households says less")
	}
	if open := (&finding.Run{}); Fewer(open) != open {
		t.Error("a run that is not for others says less")
	}
}

// Each area of rules was looked at: it may be told of, or it is one of these.
func TestImpersonal(t *testing.T) {
	personal := []string{"access", "animals", "care", "children", "documents", "first-aid", "growth", "hazard", "heat", "infant", "low-profile", "medication", "mobility", "money", "people", "pregnancy"}
	for _, s := range audit.Subjects {
		for _, a := range s.Areas {
			if a != "input" && a != "personal" && slices.Contains(impersonal, a) == slices.Contains(personal, a) {
				t.Errorf("rules of the area %s: say whether others may see that one objects, in impersonal or here", a)
			}
		}
	}
}

// Hours are rounded down, but what lasts to the end of the plan still does; loads go to the nearest ten percent.
func TestFewerShared(t *testing.T) {
	hs := []Shared{{
		Read: true, Hours: 50, Load: 15, Can: []kinds.Capability{"fire"}, Single: []kinds.Capability{"fire"},
		Stocks: []finding.Stock{{Kind: "water", Lasts: 50, Known: true}, {Kind: "energy", Lasts: 47, Known: true}, {Kind: "light"}},
		Fates:  []SharedFate{{Kind: "late", Hours: 74, Gone: []kinds.Capability{"fire"}, Stocks: []finding.Stock{{Kind: "water", Lasts: 73, Known: true}}, New: []finding.Finding{{Rule: "money/none", Spot: "x"}}}},
	}}
	got, remark := FewerShared(hs)
	want := []Shared{{
		Read: true, Hours: 72, Load: 20,
		Stocks: []finding.Stock{{Kind: "water", Lasts: 72, Known: true}, {Kind: "energy", Lasts: 24, Known: true}, {Kind: "light"}},
		Fates:  []SharedFate{{Kind: "late", Hours: 96, Stocks: []finding.Stock{{Kind: "water", Lasts: 72, Known: true}}, New: []finding.Finding{{Rule: "personal/held-back", Message: "a rule objects; which one, and about what, is held back"}}}},
	}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if !strings.Contains(remark, "fewer than 5 households") || hs[0].Load != 15 || hs[0].Fates[0].New[0].Rule != "money/none" {
		t.Errorf("%q, and what came in is now %v", remark, hs)
	}
	if five, remark := FewerShared(make([]Shared, Few)); len(five) != Few || remark != "" {
		t.Error("figures of five households are rounded")
	}
}

// An audit's figures go the same way as those of measuring; a comparison keeps changes that are still seen in whole days.
func TestFewerSheetAndComparison(t *testing.T) {
	in := &audit.Sheet{Minutes: 50 * 60, LoadP: 149, WaterHours: 50, CarriedHours: 30, Stocks: []finding.Stock{{Kind: "water", Known: true, Lasts: 25}}, Abilities: []audit.Ability{{Capability: "fire"}}}
	want := &audit.Sheet{Minutes: 72 * 60, LoadP: 100, WaterHours: 72, CarriedHours: 24, Stocks: []finding.Stock{{Kind: "water", Known: true, Lasts: 24}}}
	if diff := cmp.Diff(want, fewerSheet(in)); diff != "" {
		t.Error(diff)
	}
	if fewerSheet(nil) != nil || in.Stocks[0].Lasts != 25 {
		t.Error("what came in was changed")
	}
	fig := func(label string, unit kinds.Figure, value int64) *compare.Figure {
		return &compare.Figure{Group: "endurance", Label: label, Unit: unit, Value: value}
	}
	c := &compare.Comparison{Run: &finding.Run{Findings: finding.List(), Households: make([]finding.Household, 1)}, Households: []compare.Compared{{Changes: []compare.Change{
		{Before: fig("water lasts", "hours", 20), Now: fig("water lasts", "hours", 50)},
		{Before: fig("sodium lasts", "hours", 25), Now: fig("sodium lasts", "hours", 30)},
		{Now: &compare.Figure{Group: "capabilities", Label: "fire, for the household", Value: 1}},
	}}}}
	changes := mask(0).Comparison(c).Households[0].Changes
	if len(changes) != 1 || changes[0].Before.Value != 0 || changes[0].Now.Value != 48 {
		t.Errorf("%v", changes)
	}
}

// Where no household is told of, nothing is held back, and nothing says that it is.
func TestFewerOfNone(t *testing.T) {
	none := mask(0).Run(&finding.Run{Findings: finding.List(finding.Finding{Rule: "input/no-kit", Path: "x"})})
	if Fewer(none) != none {
		t.Error("a run of no household says that it says less")
	}
	if hs, remark := FewerShared([]Shared{{}}); len(hs) != 1 || remark != "" {
		t.Errorf("a household that could not be read: %v, %q", hs, remark)
	}
}
