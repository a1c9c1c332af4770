package household

import (
	"fmt"
	"slices"

	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// waiverArea is the area of the rules on waivers, which no waiver covers.
const waiverArea = "waiver"

// waive marks the findings that the household's waivers cover, and says which
// waivers have nothing to cover. The rules of area waiver say what else is wrong
// with one; here it then covers nothing.
func (m *Measured) Waive(rulebook *judge.Rulebook, on unit.Date, out *Outcome) {
	judged := len(out.Findings)
	say := func(rule string, level finding.Level, spot, text string) {
		out.Findings = append(out.Findings, finding.Finding{
			Rule: rule, Level: level, Title: TitleOf(rule), Message: text, Household: m.Household.Name, Path: m.Household.Path, Spot: spot, At: m.Locate(spot).At,
		})
	}
	for _, w := range m.Kit.Record.Waivers {
		rule, ok := rulebook.Rule(w.Rule)
		switch {
		case !ok && rulebook.Off(w.Rule) != "":
			say("waiver/unused", finding.Note, w.Spot, fmt.Sprintf("the waiver of %s covers nothing: the rule is switched off by %s", w.Rule, rulebook.Off(w.Rule)))
			continue
		case !ok:
			say("input/reference", finding.Error, w.Spot+"/rule", rulebook.NoRule(w.Rule))
			out.Household.Judged = false
			continue
		case rule.Area == waiverArea:
			say("input/reference", finding.Error, w.Spot+"/rule", fmt.Sprintf("%s judges waivers and cannot be waived", w.Rule))
			out.Household.Judged = false
			continue
		case !m.inForce(rulebook, w, on):
			continue
		}
		covered := false
		for i := range out.Findings[:judged] {
			f := &out.Findings[i]
			if !covers(&w, f.Rule, f.Spot) {
				continue
			}
			covered = true
			if f.Waived != nil && f.Waived.Until >= w.Until.String() { // of two, the one that lasts longer
				continue
			}
			f.Waived = &finding.Waiver{Reason: w.Reason, Until: w.Until.String(), Agreed: w.Agreed, At: m.Locate(w.Spot).At}
		}
		if !covered {
			text := fmt.Sprintf("the waiver of %s covers no finding", w.Rule)
			if w.At != "" {
				text = fmt.Sprintf("the waiver of %s for %s covers no finding", w.Rule, w.At)
			}
			text += "; take it out, unless it is for another season or list"
			if w.At != "" {
				text += ", or write the spot as check --format json names it"
			}
			say("waiver/unused", finding.Note, w.Spot, text)
		}
	}
}

// covers reports whether a waiver is one of a rule at a spot.
func covers(w *kit.Waiver, rule, spot string) bool {
	return w.Rule == rule && (w.At == "" || w.At == spot)
}

// Waives reports whether a waiver of the household covers what a rule says of a spot.
func (m *Measured) Waives(rulebook *judge.Rulebook, rule, spot string, on unit.Date) bool {
	return slices.ContainsFunc(m.Kit.Record.Waivers, func(w kit.Waiver) bool {
		return covers(&w, rule, spot) && m.inForce(rulebook, w, on)
	})
}

// inForce reports whether nothing is wrong with a waiver: it gives a reason, its
// day has not passed, and one of a heart rule ends soon.
func (m *Measured) inForce(rulebook *judge.Rulebook, w kit.Waiver, on unit.Date) bool {
	for _, f := range m.Facts.Record.Waivers {
		if f.ID == w.Spot && !f.ReasonKnown {
			return false
		}
	}
	_, heart := rulebook.InForce("waiver", "heart", m.Facts.Limits)
	days, _ := rulebook.InForce("waiver", "heart_days", m.Facts.Limits)
	return w.Until >= on && (!slices.Contains(heart, w.Rule) || int64(w.Until-on) <= days)
}
