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
}

// Comparison is what changed between two states; the findings, with their states, are those of the run.
type Comparison struct {
	Run        *finding.Run
	Households []Compared
}
