package page

import (
	"testing"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// Food that lasts only with what is past its date never reads as complete; others hear nothing of it.
func TestFoodPastItsDateIsTold(t *testing.T) {
	s := &audit.Sheet{Minutes: 72 * 60, Stocks: []finding.Stock{{Kind: kinds.StockEnergy, Known: true, Lasts: 72, Have: 41_840_000, Need: 8_368_000, Past: 20_920_000, Good: 40}}}
	for shared, want := range map[bool]string{false: "to the end; 5000 kcal of it has expired, and the rest lasts 40 hours", true: "to the end"} {
		b := &book{Audit: &audit.Audit{Run: &finding.Run{}}}
		if shared {
			b.Run.Shared = "others"
		}
		if got := b.endurance(s).Stocks[0].Lasts; got != want {
			t.Errorf("shared %v: %q, want %q", shared, got, want)
		}
	}
}
