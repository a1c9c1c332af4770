package finding

import (
	"slices"

	"kitmuster/lint/kinds"
)

// Work is the kind of work that settles a finding.
type Work string

// The kinds of work.
const (
	// ToWrite puts down, or puts right, what is true already. Nothing moves.
	ToWrite Work = "write"
	// ToDecide chooses or agrees on something, such as a meeting point or a waiver.
	ToDecide Work = "decide"
	// ToMove puts what is there into another pack, pocket or bag. The mass stays.
	ToMove Work = "move"
	// ToLeave takes something out. The mass falls.
	ToLeave Work = "leave"
	// ToCheck weighs, looks through, tests, learns or practises. It takes time and adds no mass.
	ToCheck Work = "check"
	// ToExchange puts one thing in the place of another, such as fresh for expired. The mass stays, or nearly.
	ToExchange Work = "exchange"
	// ToAdd gets something more and carries it. The mass rises.
	ToAdd Work = "add"
)

// Works are the kinds of work, from the lightest to the heaviest.
var Works = []Work{ToWrite, ToDecide, ToMove, ToLeave, ToCheck, ToExchange, ToAdd}

// Words says for people what is done.
func (w Work) Words() string {
	switch w {
	case ToWrite:
		return "write down what is true already"
	case ToDecide:
		return "decide or agree on something"
	case ToMove:
		return "move or repack what is there"
	case ToLeave:
		return "leave something behind"
	case ToCheck:
		return "weigh, inspect, test or practise"
	case ToExchange:
		return "replace one thing with another"
	case ToAdd:
		return "add something and carry it"
	}
	return ""
}

// Brings reports whether something comes along that was not there.
func (w Work) Brings() bool { return w == ToExchange || w == ToAdd }

// Fix is what settles the findings of a rule.
type Fix struct {
	Work Work
	// Thing is a capability that the thing brought has, "" where no one thing of a capability settles a finding. Where
	// the rule states a lack in whole things, it is each of these. One of Stuffs is brought by the amount that lacks.
	Thing string
	// Get says in a few words of the rule what is brought, as it stands on a shopping list, such as "rain jacket or poncho"; "" where
	// the rule does not say.
	Get string
}

// Stuffs are what may be brought by amount, with the unit of the lack that says how much: a litre of water weighs a kilogram, and
// food is as dense as that of the kits it is for.
var Stuffs = map[string]kinds.Unit{"water": kinds.UnitVolume, "food": kinds.UnitEnergy}

// Words says for people what is done and, where one thing settles a finding, what that can do, in the word that a kit has for it.
func (m Fix) Words() string {
	if m.Thing == "" {
		return m.Work.Words()
	}
	if Stuffs[m.Thing] != "" {
		return m.Work.Words() + " (" + m.Thing + ")"
	}
	return m.Work.Words() + " (can: " + m.Thing + ")"
}

// Rank is the place among Works, from the lightest to the heaviest; work that is not known comes last.
func (w Work) Rank() int {
	if i := slices.Index(Works, w); i >= 0 {
		return i
	}
	return len(Works)
}
