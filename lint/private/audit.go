package private

import (
	"slices"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
)

// Audit is the audit without what is private; masked says that its history has been that of an audit for others. Of the sheets there is left what Measured leaves of the facts, dates and waivers aside.
func (m *Mask) Audit(a *audit.Audit, masked bool) *audit.Audit {
	out := &audit.Audit{Run: m.Run(a.Run), Standards: slices.Clone(a.Standards), Season: a.Season, Against: a.Against, Until: a.Until, OnDay: a.OnDay, UntilDay: a.UntilDay}
	out.Run.Rules, out.Past = a.Run.Rules, a.Past
	few := few(a.Run)
	if out.Run, out.Brief = Fewer(out.Run), few; few {
		out.Run.Remarks = append(out.Run.Remarks, fewFigures)
	}
	if a.History != nil {
		out.History = m.history(a.History, masked)
	}
	out.Households = func(yield func(*audit.Audited, error) bool) {
		for h, err := range a.Households {
			if err != nil {
				yield(nil, err)
				return
			}
			one := &audit.Audited{Household: m.Household(h.Household), Nowhere: h.Nowhere, Summary: h.Summary, Findings: m.Findings(h.Findings), Sheet: sheet(h.Sheet)}
			if few {
				one.Findings, one.Sheet = fewer(one.Findings), fewerSheet(one.Sheet)
			}
			if !yield(one, nil) {
				return
			}
		}
	}
	return out
}

// history keeps of each state its day and figures; remarks may name folders and branches.
func (m *Mask) history(h *finding.History, masked bool) *finding.History {
	out := &finding.History{Partial: h.Partial}
	if len(h.Remarks) > 0 {
		out.Remarks = []string{"some earlier states could not be looked at"}
	}
	for _, c := range h.Households {
		course := finding.Course{Path: c.Path}
		if !masked {
			course.Path = m.Folder(c.Path)
		}
		for _, t := range c.Points {
			t.Commit, t.Path, t.Name, t.LoadPermille = "", "", "", wholePercent(t.LoadPermille)
			if !masked {
				t.Under = ""
			}
			course.Points = append(course.Points, t)
		}
		out.Households = append(out.Households, course)
	}
	return out
}

// wholePercent rounds permille up to whole percent, so that what exceeds a cap does not read as equal to it.
func wholePercent(p int64) int64 { return (p + 9) / 10 * 10 }

// sheet keeps hours, the heaviest load as a whole percentage, and what the household as a whole can do.
func sheet(s *audit.Sheet) *audit.Sheet {
	if s == nil {
		return nil
	}
	out := &audit.Sheet{Minutes: s.Minutes, LoadP: wholePercent(s.LoadP), WaterHours: s.WaterHours, WaterKnown: s.WaterKnown, CarriedHours: s.CarriedHours}
	if s.FoundML > 0 {
		out.FoundML = 1 // that some is found is told, not how much
	}
	for _, x := range s.Stocks {
		out.Stocks = least(out.Stocks, x.Kind, x.Known, x.Lasts)
	}
	for _, c := range s.Abilities {
		if told(c.Capability) {
			out.Abilities = append(out.Abilities, audit.Ability{Capability: c.Capability})
		}
	}
	return out
}
