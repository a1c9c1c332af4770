package trial

import (
	"slices"
	"strings"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
)

// Make says what a new standard would mean for the households that both have judged: old and now are the results of checking
// the same paths as of the same day by the benches was and is.
func Make(old, now *lint.Result, was, is *judge.Rulebook) (*Trial, error) {
	t, err := Try(&old.Run, &now.Run)
	if err != nil {
		return nil, err
	}
	t.Rules, t.Limits = changedRules(was, is), changedLimits(was, is)
	failed := map[string]bool{}
	for i := range t.Households {
		for _, f := range t.Households[i].Findings {
			if f.State == finding.New {
				failed[f.Rule] = true
			}
		}
		for _, c := range t.Households[i].Changed {
			failed[c.New.Rule] = true
		}
	}
	for _, r := range household.Rules(is) {
		if failed[r.Name] {
			t.Failed = append(t.Failed, r)
		}
	}
	return t, nil
}

// changedRules lists the rules that are not the same in two benches.
func changedRules(was, is *judge.Rulebook) (out []RuleChange) {
	names := map[string]bool{}
	for _, b := range []*judge.Rulebook{was, is} {
		for _, r := range b.Rules() {
			names[r.Name] = true
		}
	}
	for name := range names {
		a, inOld := was.Rule(name)
		b, inNew := is.Rule(name)
		c := RuleChange{Name: name}
		if inOld {
			c.Title, c.Old = a.Title, a.Level
		}
		if inNew {
			c.Title, c.New = b.Title, b.Level
		}
		switch {
		case inOld && inNew && a.Level == b.Level:
			continue
		case inOld && inNew:
			c.Change = "level"
		case inNew && was.Off(name) != "":
			c.Change, c.Why = "in force again", was.Off(name)
		case inNew:
			c.Change = "added"
		case is.Off(name) != "":
			c.Change, c.Why = "switched off", is.Off(name)
		default:
			c.Change = "gone"
		}
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b RuleChange) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// changedLimits lists the limits that are not the same in two benches.
func changedLimits(was, is *judge.Rulebook) (out []LimitChange) {
	for _, l := range is.Limits() {
		old, ok := was.Limit(l.Name)
		now := *l
		c := LimitChange{Name: l.Name, New: l.Value, Now: finding.Limit{Name: l.Name, Value: l.Value, Source: l.Source, Layer: l.Layer}}
		if l.Layer != judge.BaseLayer {
			c.Now.At = l.At.Span()
		}
		now.Before = nil
		if ok {
			c.Old, now.Before = old.Value, old
		}
		switch c.Change = now.Change(); {
		case ok && (old.Unit != l.Unit || old.Stricter != l.Stricter):
			c.Change = "redefined"
		case c.Change == "restated":
			continue
		}
		out = append(out, c)
	}
	for _, l := range was.Limits() {
		if _, ok := is.Limit(l.Name); !ok {
			out = append(out, LimitChange{Name: l.Name, Change: "gone", Old: l.Value, Now: finding.Limit{Name: l.Name}})
		}
	}
	slices.SortFunc(out, func(a, b LimitChange) int { return strings.Compare(a.Name, b.Name) })
	return out
}
