package lint

import (
	"fmt"

	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/unit"
)

// waive marks the findings that the household's waivers cover, and says which
// waivers are wrong, past their day or without anything to cover.
func (m *Measured) waive(bench *judge.Bench, on unit.Date, out *Outcome) {
	judged := len(out.Findings)
	say := func(rule string, level finding.Level, spot, text string) {
		out.Findings = append(out.Findings, finding.Finding{
			Rule: rule, Level: level, Message: text, Household: m.Household.Name, Path: m.Household.Path, Spot: spot, At: m.Locate(spot).At,
		})
	}
	for _, w := range m.Kit.Record.Waivers {
		if _, ok := bench.Rule(w.Rule); !ok {
			say("input/reference", finding.Error, w.Spot+"/rule", bench.NoRule(w.Rule))
			out.Household.Judged = false
			continue
		}
		if w.Until < on {
			say("waiver/past", finding.Warning, w.Spot+"/until", fmt.Sprintf("the waiver of %s ended on %s and covers nothing any more; mend the finding or agree on a new day", w.Rule, w.Until))
			continue
		}
		covered := false
		for i := range out.Findings[:judged] {
			f := &out.Findings[i]
			if f.Rule != w.Rule || w.At != "" && f.Spot != w.At {
				continue
			}
			covered = true
			f.Waived = &finding.Waiver{Reason: w.Reason, Until: w.Until.String(), At: m.Locate(w.Spot).At}
		}
		if !covered {
			text := fmt.Sprintf("the waiver of %s covers no finding; take it out", w.Rule)
			if w.At != "" {
				text = fmt.Sprintf("the waiver of %s for %s covers no finding; take it out, or write the spot as check --format json names it", w.Rule, w.At)
			}
			say("waiver/unused", finding.Note, w.Spot, text)
		}
	}
}
