package lint

import (
	"fmt"
	"slices"
	"testing"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
)

// What a household says is packed and unpacked again; of more than may be shown the gravest are, and the rest is counted.
func TestPacking(t *testing.T) {
	many := func(n int) household.Outcome {
		out := household.Outcome{Household: finding.Household{Name: "A", Path: "a", Judged: true}}
		for i := range n {
			f := finding.Finding{Rule: "input/value", Level: finding.Note, Message: "\xff\xfe", Path: "a", Household: "A", Spot: fmt.Sprintf("%06d", i)}
			if i >= n-3 {
				f.Level = finding.Error
			}
			out.Findings = append(out.Findings, f)
		}
		return out
	}
	for n, want := range map[int]int{0: 0, 1: 1, mostFindings: mostFindings, mostFindings + 1: mostFindings + 1, 200_000: mostFindings + 1} {
		a := Pack(many(n))
		got, err := a.Findings()
		if err != nil || len(got) != want {
			t.Errorf("%d findings of %d: %v", len(got), n, err)
		}
		if errors := min(n, 3); a.Summary.Errors != errors {
			t.Errorf("%d errors among %d findings, want %d", a.Summary.Errors, n, errors)
		}
		told := slices.ContainsFunc(got, func(f finding.Finding) bool {
			return f.Rule == "data/not-shown" && f.Message == "1,000 of "+thousands(n)+" findings are shown"
		})
		if told != (n > mostFindings) {
			t.Errorf("of %d findings it is told %v that some are left out", n, told)
		}
		if err := a.Believable("a", nil); err != nil {
			t.Errorf("%d findings: %v", n, err)
		}
	}
}
