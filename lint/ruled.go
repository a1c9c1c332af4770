package lint

import (
	"context"
	"maps"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/source"
)

// A change of the standard is the cause of a finding where the household, as it is, would stand otherwise by the standard as it was: so
// each is judged by both. Which of the changes of the standard it was follows from the rule that the finding is of.

// Then is the standard as it was in an earlier state, where it has changed since.
type Then struct {
	// Run works on a household of either state by that standard.
	Run func(ctx context.Context, j Job) Answer
	// Rulings are what has changed of it, and File is the file that is named where these say nothing of a rule.
	Rulings []Ruling
	File    string
}

// whole is its change as a whole.
func (t *Then) whole() finding.Cause {
	at := source.Span{File: t.File}
	return finding.Cause{Kind: finding.CauseFile, Was: at, At: at}
}

// Ruling is a change of the standard, with the rules that it concerns.
type Ruling struct {
	finding.Cause
	Rules []string
}

// Rulings lists what differs between a standard as it was and as it is: values of limits, levels of rules, and rules that came, went, or
// are switched off or on again.
func Rulings(was, is *judge.Rulebook) (out []Ruling) {
	users := map[string]map[string]bool{}
	for _, b := range []*judge.Rulebook{was, is} {
		for _, r := range b.Rules() {
			for _, l := range r.Limits {
				if users[l.Name] == nil {
					users[l.Name] = map[string]bool{}
				}
				users[l.Name][r.Name] = true
			}
			if c, changed := ruled(was, is, r.Name); changed && (b == is || !has(is, r.Name)) {
				out = append(out, Ruling{c, []string{r.Name}})
			}
		}
	}
	for _, l := range is.Limits() {
		if old, ok := was.Limit(l.Name); ok && (old.Value != l.Value || old.Unit != l.Unit) {
			c := finding.Cause{Kind: finding.CauseValue, What: "limit " + l.Name, Before: old.Value, Now: l.Value, Was: limitAt(old), At: limitAt(l)}
			out = append(out, Ruling{c, slices.Sorted(maps.Keys(users[l.Name]))})
		}
	}
	return out
}

func has(b *judge.Rulebook, rule string) bool {
	_, ok := b.Rule(rule)
	return ok
}

// ruled says what has become of a rule that one of two standards has.
func ruled(was, is *judge.Rulebook, name string) (c finding.Cause, changed bool) {
	old, inOld := was.Rule(name)
	now, inNew := is.Rule(name)
	c = finding.Cause{Kind: finding.CauseValue, What: "rule " + name, Was: ruleAt(old), At: ruleAt(now)}
	switch {
	case inOld && inNew:
		c.What, c.Before, c.Now = "the level of rule "+name, string(old.Level), string(now.Level)
		return c, old.Level != now.Level
	case inNew && was.Off(name) != "":
		c.Before, c.Now = "switched off", "in force"
	case inNew:
		c.Kind = finding.CauseNew
	case is.Off(name) != "":
		c.Before, c.Now = "in force", "switched off"
	default:
		c.Kind = finding.CauseGone
	}
	return c, true
}

// ruleAt is where a rule of a group's own stands; the base is part of the program.
func ruleAt(r *judge.Rule) source.Span {
	if r == nil || !strings.Contains(r.Name, ":") {
		return source.Span{}
	}
	at := source.Point{Line: r.Line, Col: 1}
	return source.Span{File: r.File, Start: at, End: at}
}

// limitAt is where a group sets a limit; unknown where the base states it.
func limitAt(l *judge.Limit) source.Span {
	if l.Layer == judge.BaseLayer {
		return source.Span{}
	}
	return l.At.Span()
}

// causes are the changes that can have made findings of a rule new or fixed; the change as a whole where none is known to concern it, as
// when the wording of a rule has changed.
func (t *Then) causes(rule string) (out []finding.Cause) {
	for i := range t.Rulings {
		r := &t.Rulings[i]
		if r.What == "rule "+rule { // it came or went, so that what else changed of it is nothing to it
			out = []finding.Cause{r.Cause}
			break
		}
		if slices.Contains(r.Rules, rule) {
			out = append(out, r.Cause)
		}
	}
	if len(out) == 0 || len(out) > finding.MostCauses {
		out = []finding.Cause{t.whole()}
	}
	if len(out) == 1 {
		out[0].Sure = true
	}
	return out
}

// all is the change as it is told of households in which nothing else has changed.
func (t *Then) all() []difference {
	if len(t.Rulings) == 1 {
		return []difference{{Cause: t.Rulings[0].Cause}}
	}
	return []difference{{Cause: t.whole()}}
}

// blame names the standard as the cause of what would stand otherwise by the standard as it was: before are the findings of the
// household as it is by that standard, now those by the standard as it is, states those of both states. It reports whether there are any.
func (t *Then) blame(before, now, states []finding.Finding) (any bool) {
	by := map[stand]int{}
	for _, f := range finding.States(before, now) {
		if stirred(&f) {
			by[standing(&f)]++
		}
	}
	for i := range states {
		f := &states[i]
		if !stirred(f) {
			continue
		}
		if by[standing(f)]--; by[standing(f)] >= 0 {
			f.Causes, any = t.causes(f.Rule), true
		}
	}
	return any
}
