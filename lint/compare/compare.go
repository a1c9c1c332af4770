// Package compare says what changed of households between two states: masses, capabilities, days, dates, and findings.
//
// A figure is made of each state apart (figures.go), with the judging of that state, and waits packed as whatever a product makes. Make
// holds the two against each other. Which findings are new is told by lint, for every run with an earlier state.
package compare

import (
	"cmp"
	"slices"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// Figure is one number of a household, or one thing that is so, that can be held against that of another state.
type Figure struct {
	// Group is the heading it stands under: one of Groups.
	Group string
	// ID tells it across states; Label says it to people.
	ID, Label string
	// Unit is that of Value; "" where it simply is so.
	Unit  kinds.Figure
	Value int64
}

// Groups are the headings in the order in which people ask for them.
var Groups = []string{"mass", "capabilities", "food", "water", "endurance", "medication", "dates"}

// Change is a figure that differs; Before or Now is nil where it is only in one state.
type Change struct{ Before, Now *Figure }

// Label is that of the figure, as it is now where it is.
func (c Change) Label() string { return cmp.Or(c.Now, c.Before).Label }

// Group is the heading it stands under.
func (c Change) Group() string { return cmp.Or(c.Now, c.Before).Group }

// Changes holds the figures of two states against each other, in the order of Groups and within them as now.
func Changes(before, now []Figure) (out []Change) {
	old := map[string]*Figure{}
	for i := range before {
		old[before[i].ID] = &before[i]
	}
	for i := range now {
		f := &now[i]
		b := old[f.ID]
		delete(old, f.ID)
		if b == nil || b.Value != f.Value {
			out = append(out, Change{b, f})
		}
	}
	for i := range before {
		if b := old[before[i].ID]; b != nil {
			out = append(out, Change{Before: b})
		}
	}
	slices.SortStableFunc(out, func(a, b Change) int {
		return cmp.Compare(slices.Index(Groups, a.Group()), slices.Index(Groups, b.Group()))
	})
	return out
}

// Compared is a household in two states.
type Compared struct {
	Household finding.Household
	// Was is its folder before, "" where it is new.
	Was     string
	Changes []Change
	// Causes are what has changed of what it shares with others, where nothing of its own has.
	Causes []finding.Cause
}

// Alike are households in which the same has changed, and nothing of their own.
type Alike struct {
	Causes     []finding.Cause
	Households []*Compared
	// Differ is how many of them have a figure that differs, and Spans are those that do so in each of these, by how much least and most.
	Differ int
	Spans  []Span
}

// Span is by how much a figure differs in several households.
type Span struct {
	Figure      *Figure
	Least, Most int64
}

// Alike gathers households by what has changed, most households first. Households with changes of their own are left out.
func (c *Comparison) Alike() (out []Alike) {
	at := map[string]int{}
	for i := range c.Households {
		h := &c.Households[i]
		if len(h.Causes) == 0 {
			continue
		}
		why := finding.CauseWords(h.Causes)
		k, ok := at[why]
		if !ok {
			k = len(out)
			at[why] = k
			out = append(out, Alike{Causes: h.Causes})
		}
		out[k].Households = append(out[k].Households, h)
	}
	for i := range out {
		var differ []*Compared
		for _, h := range out[i].Households {
			if len(h.Changes) > 0 {
				differ = append(differ, h)
			}
		}
		out[i].Differ, out[i].Spans = len(differ), spans(differ)
	}
	slices.SortStableFunc(out, func(a, b Alike) int { return cmp.Compare(len(b.Households), len(a.Households)) })
	return out
}

// spans are the figures that differ in each of some households and are called the same there, in the order of the first.
func spans(hs []*Compared) (out []Span) {
	if len(hs) == 0 {
		return nil
	}
	type sum struct {
		Span
		n int
	}
	all := map[string]*sum{}
	for _, h := range hs {
		for _, ch := range h.Changes {
			if ch.Before == nil || ch.Now == nil || ch.Now.Unit.Row().Change == nil {
				continue
			}
			d := ch.Now.Value - ch.Before.Value
			x := all[ch.Now.ID]
			if x == nil {
				x = &sum{Span{ch.Now, d, d}, 0}
				all[ch.Now.ID] = x
			}
			if x.Figure.Label == ch.Now.Label {
				x.Least, x.Most = min(x.Least, d), max(x.Most, d)
				x.n++
			}
		}
	}
	for _, ch := range hs[0].Changes {
		if ch.Now != nil {
			if x := all[ch.Now.ID]; x != nil && x.n == len(hs) {
				out = append(out, x.Span)
			}
		}
	}
	return out
}

// Comparison is what changed between two states; the findings, with their states, are those of the run.
type Comparison struct {
	Run        *finding.Run
	Households []Compared
}
