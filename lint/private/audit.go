package private

import (
	"slices"

	"kitmuster/lint/finding"
)

// Audit is the audit without what is private. Of the sheets there is left what Measured leaves of the facts, dates and waivers aside.
func (m *Mask) Audit(a *finding.Audit) *finding.Audit {
	out := &finding.Audit{Run: m.Run(a.Run), Standards: slices.Clone(a.Standards), Season: a.Season, Until: a.Until, OnDay: a.OnDay, UntilDay: a.UntilDay}
	out.Run.Rules = a.Run.Rules
	out.Households = func(yield func(*finding.Audited, error) bool) {
		for h, err := range a.Households {
			if err != nil {
				yield(nil, err)
				return
			}
			if !yield(&finding.Audited{Household: m.Household(h.Household), Summary: h.Summary, Findings: m.Findings(h.Findings), Sheet: sheet(h.Sheet)}, nil) {
				return
			}
		}
	}
	return out
}

// sheet keeps hours, the heaviest load as a whole percentage, and what the household as a whole can do.
func sheet(s *finding.Sheet) *finding.Sheet {
	if s == nil {
		return nil
	}
	out := &finding.Sheet{Minutes: s.Minutes, LoadP: (s.LoadP + 5) / 10 * 10, WaterHours: s.WaterHours, WaterKnown: s.WaterKnown}
	var kept []finding.SharedStock
	for _, x := range s.Stocks {
		k := x.Kind
		if k == "animal food" {
			k = "energy"
		}
		kept = least(kept, finding.SharedStock{Kind: k, Hours: int(x.Lasts), Known: x.Known})
	}
	for _, x := range kept {
		out.Stocks = append(out.Stocks, finding.Stock{Kind: x.Kind, Known: x.Known, Lasts: int64(x.Hours)})
	}
	for _, c := range s.Abilities {
		if slices.Contains(capabilities, c.Capability) {
			out.Abilities = append(out.Abilities, finding.Ability{Capability: c.Capability})
		}
	}
	return out
}
