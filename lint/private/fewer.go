package private

import (
	"slices"
	"strings"

	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
)

// Few is the number of households below which a report says less of each. Disclosure control of official statistics holds
// back what fewer than some number of people make up, mostly one from 3 to 11 (from memory); the choice of 5 is ours.
const Few = 5

// What is said once in a report on few households.
const (
	fewFindings = "This report covers fewer than 5 households, so a finding says its level and subject and not its rule; of health, children, animals, papers, money and the home it says the level alone."
	fewFigures  = "This report covers fewer than 5 households: loads are rounded to 10 %, hours down to whole days, and what the household can do is left out."
)

// heldBack is what a rule is called that is not named, after its area; impersonal are the areas that tell neither of someone's
// health, age, animals, papers or money, nor of the home.
const heldBack = "/held-back"

var impersonal = []string{
	"clothing", "data", "dates", "endurance", "fire", "food", "hygiene", "light", "limit", "lists", "load", "navigation", "power", "practice", "radio", "safety", "separation",
	"shelter", "shoes", "signals", "tools", "vehicle", "waiver", "water",
}

// few reports whether a run covers so few households that less is said of each. Of none there is nothing to hold back.
func few(r *finding.Run) bool { return len(r.Households) > 0 && len(r.Households) < Few }

// Fewer is a masked run that says less where it covers fewer than Few households, and the run itself otherwise, as where it covers none. A part of a
// repository says what it has to say, since only the whole tells how many there are: use it on the merged run.
func Fewer(r *finding.Run) *finding.Run {
	if !few(r) || r.Shared == "" {
		return r
	}
	out := *r
	out.Remarks = append(slices.Clip(r.Remarks), fewFindings)
	out.Findings = byHousehold(r.Findings, fewer)
	return &out
}

// fewer are the findings without their rules. What the program itself says of the input stays: it is the same for everyone.
func fewer(fs []finding.Finding) []finding.Finding {
	out := make([]finding.Finding, len(fs))
	for i, f := range fs {
		if !strings.HasPrefix(f.Rule, "input/") {
			area, says := "personal", "a rule objects; which one, and about what, is held back"
			if a, _, _ := strings.Cut(f.Rule, "/"); slices.Contains(impersonal, a) {
				area, says = a, "a rule about "+a+" objects; which one is held back"
			}
			f = finding.Finding{Rule: area + heldBack, Level: f.Level, Message: says, Household: f.Household, Path: f.Path, State: f.State, Waived: f.Waived}
		}
		out[i] = f
	}
	return sorted(out)
}

// fewerFigures rounds the figures of a household and leaves its abilities out.
func fewerFigures(h Shared) Shared {
	h.Load, h.Can, h.Single = (h.Load+5)/10*10, nil, nil
	h.Stocks, h.Hours = inDays(h.Stocks, h.Hours)
	fates := slices.Clone(h.Fates)
	for i, f := range fates {
		fates[i].Gone, fates[i].New = nil, fewer(f.New)
		fates[i].Stocks, fates[i].Hours = inDays(f.Stocks, f.Hours)
	}
	h.Fates = fates
	return h
}

// fewerSheet is fewerFigures for what an audit shows of a household.
func fewerSheet(s *audit.Sheet) *audit.Sheet {
	if s == nil {
		return nil
	}
	out, plan := *s, (s.Minutes+59)/60
	round := func(hours int64) int64 {
		if hours >= plan {
			return (plan + day - 1) / day * day
		}
		return hours / day * day
	}
	out.LoadP, out.Abilities = (s.LoadP+50)/100*100, nil
	out.Minutes, out.WaterHours, out.CarriedHours = round(plan)*60, round(s.WaterHours), round(s.CarriedHours)
	out.Stocks = slices.Clone(s.Stocks)
	for i := range out.Stocks {
		out.Stocks[i].Lasts = round(out.Stocks[i].Lasts)
	}
	return &out
}

const day = 24

// inDays rounds down to whole days how long stocks last; what lasts as long as the plan, which is rounded up, still does.
func inDays(stocks []finding.Stock, plan int) ([]finding.Stock, int) {
	whole := (plan + day - 1) / day * day
	out := slices.Clone(stocks)
	for i, s := range out {
		if out[i].Lasts = s.Lasts / day * day; s.Lasts >= int64(plan) {
			out[i].Lasts = int64(whole)
		}
	}
	return out, whole
}

// FewerShared rounds the figures where there are those of fewer than Few households, and tells so in the remark, if there is a figure.
func FewerShared(hs []Shared) (out []Shared, remark string) {
	if len(hs) >= Few || len(hs) == 0 {
		return hs, ""
	}
	for _, h := range hs {
		if out = append(out, fewerFigures(h)); h.Read {
			remark = fewFigures
		}
	}
	return out, remark
}
