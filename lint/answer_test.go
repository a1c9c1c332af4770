package lint

import (
	"strconv"
	"testing"

	"kitmuster/lint/finding"
)

// Whatever a household says, and however much, what was packed is unpacked again.
func TestPacking(t *testing.T) {
	out := Outcome{Findings: make([]finding.Finding, 200_000)}
	for i := range out.Findings {
		out.Findings[i] = finding.Finding{Rule: "input/value", Level: finding.Error, Message: "\xff\xfe", Spot: strconv.Itoa(i)}
	}
	a := out.Pack()
	got, err := a.Findings()
	if err != nil || len(got) != len(out.Findings) || got[0].Message != "\xff\xfe" {
		t.Errorf("%d findings of %d: %v", len(got), len(out.Findings), err)
	}
}
