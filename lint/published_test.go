package lint_test

import (
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// The standard's limits against the figures that bodies publish.
func TestLimitsAgainstPublishedFigures(t *testing.T) {
	limits := map[string]string{}
	for _, r := range bench(t).Rules() {
		for _, l := range r.Limits {
			limits[l.Name] = l.Value
		}
	}
	for _, c := range []struct{ name, want, source string }{
		{"food.energy", "2100 kcal", "Sphere Handbook, food transfers standard 1, 2011: 2,100 kcal per person and day, a population mean"},
		{"food.sodium", "1.5 g", "NASEM 2019, adequate intake 1,500 mg a day from 14 years on; seen second-hand"},
		{"medication.days", "7 days", "American Red Cross, survival kit list: 7 days; seen second-hand, 2020"},
		{"water.capacity", "3 L", "Institute of Medicine, 2005 (NAP 10925): fluids of men 3.0 L a day"},
		{"water.start", "2 L", "Get Prepared (Canada), 2007: 2 L a day to drink"},
		{"load.adult_cap", "15 %", "common practice, no source"},
		{"load.child_cap", "10 %", "BMC Pediatrics 2019;19:157: gait changes above 10 % of body mass"},
		{"load.animal_cap", "10 %", "lay pages, the lowest figure; no veterinary standard found"},
	} {
		if diff := cmp.Diff(c.want, limits[c.name]); diff != "" {
			t.Errorf("%s (%s): %s", c.name, c.source, diff)
		}
	}
}

// printed is what is in print for a size and chemistry: mAh from low to high, and the mass of one cell.
type printed struct{ low, high, gram float64 }

// Cells of the examples against the capacities and masses in print for their
// IEC 60086 sizes: LR6 1,700 to 2,900 mAh and 23 g, FR6 3,000 mAh and 15 g, LR03
// 900 to 1,155 mAh and 11.5 g, FR03 1,100 mAh and 7.6 g (encyclopedia and trade
// pages; seen second-hand), each with a tenth to spare.
func TestCellsAgainstPrintedFigures(t *testing.T) {
	table := map[string]printed{
		"AA alkaline": {1700, 2900, 23}, "AA lithium": {3000, 3000, 15},
		"AAA alkaline": {900, 1155, 11.5}, "AAA lithium": {1100, 1100, 7.6},
	}
	checked := 0
	for _, dir := range []string{"alder", "birch", "cedar"} {
		m := lint.Measure(os.DirFS(".."), "examples/harrow-valley/"+dir, lint.Options{On: day(t)})
		for _, p := range m.Kit.Packs {
			for _, c := range p.Compartments {
				for _, it := range c.Items {
					if p, ok := table[it.Cells.Value.Size+" "+it.Cells.Value.Chemistry]; ok {
						checkCells(t, it, p)
						checked++
					}
				}
			}
		}
	}
	if checked == 0 {
		t.Error("no cell was checked")
	}
}

func checkCells(t *testing.T, it kit.Item, p printed) {
	t.Helper()
	cells := it.Cells.Value
	if mah := float64(cells.Capacity.Value) / 1000; cells.Capacity.Set && (mah < 0.9*p.low || mah > 1.1*p.high) {
		t.Errorf("%s: %v mAh, printed %v to %v", it.Spot, mah, p.low, p.high)
	}
	if each := float64(it.Mass) / float64(unit.Mass(1_000_000)) / float64(cells.Cells); each < 0.9*p.gram || each > 1.1*p.gram {
		t.Errorf("%s: %v g a cell, printed %v g", it.Spot, each, p.gram)
	}
}
