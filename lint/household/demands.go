package household

import (
	"errors"
	"fmt"
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
)

// demands reads what a household asks of the standard. A stricter limit that
// cannot be read, or a list that is not there, leaves the household not wholly
// judged; a looser limit is a finding, and the standard's own stays in force.
func (m *Measured) demands(rulebook *judge.Rulebook, against []string, o *measure.Options) {
	fault := func(rule, spot, text string) {
		m.Findings = append(m.Findings, InputFinding(load.Fault{Rule: rule, Spot: spot, Message: text, At: m.Locate(spot).At}, m.Household.Name, m.Household.Path))
	}
	m.own = map[string]finding.Limit{}
	o.Limits = rulebook.Set() // what the household makes stricter takes their place
	for _, l := range m.Kit.Limits {
		own, words, err := rulebook.Stricter(l.Area, l.Name, l.Value, l.Values, l.ValuesSet)
		var looser *judge.LooserError
		switch {
		case errors.As(err, &looser):
			fault("limit/looser", l.Spot, err.Error())
			continue
		case err != nil:
			fault("input/limit", l.Spot, err.Error())
			m.Household.Judged = false
			continue
		}
		o.Limits = append(slices.DeleteFunc(o.Limits, func(x facts.OwnLimit) bool { return x.Area == own.Area && x.Name == own.Name }), own)
		name := l.Area + "." + l.Name
		standard, _ := rulebook.Limit(name)
		source := fmt.Sprintf("the household's own, where the standard says %s", standard.Value)
		if l.Reason != "" {
			source += " (" + l.Reason + ")"
		}
		m.own[name] = finding.Limit{Name: name, Value: words, Source: source, Layer: "household", At: m.Locate(l.Spot).At}
	}
	for _, key := range m.Kit.Plan.Lists {
		if _, ok := rulebook.List(key); !ok {
			fault("input/reference", "plan/lists", rulebook.NoList(key))
			m.Household.Judged = false
		}
	}
	lists := slices.Concat(m.Kit.Plan.Lists, against)
	slices.Sort(lists)
	for _, key := range slices.Compact(lists) {
		if list, ok := rulebook.List(key); ok {
			for _, line := range list.Lines {
				o.Asked = append(o.Asked, facts.Asked{ID: "plan/lists/" + key + "/" + line.Key, List: key, Line: line.Key})
			}
		}
	}
}
