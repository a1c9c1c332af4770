// Package remedy works out a small change of a household after which the rules are silent, proves it, and makes the files that
// say it.
//
// What may change is where things lie (moves.go): from one compartment, pack, carrier or pocket to another, left at home, taken from what is
// kept at home, water filled in or poured out. Nothing pinned moves, medicine stays with whom it is for, fire and blades go to no
// child, animals carry their own. Decisions of people, such as a new date or a prescription, are never proposed.
//
// The search (search.go) knows no rule. It tries changes, has each measured and judged anew in memory, and goes on from the best few.
// So it finds a good change and often the smallest, but proves no change to be the smallest, and says so. It counts judgings, not time: the
// same kit gives the same proposal on every machine.
//
// What is proposed was written into the family's files (package rewrite), loaded, measured and judged again (make.go), by all rules of
// all standards in force. No finding of any level may stand there that did not before.
package remedy

import (
	"kitmuster/lint/finding"
	"kitmuster/lint/rewrite"
	"kitmuster/lint/source"
)

// Remedied is what a remedy of one household is.
type Remedied struct {
	Household finding.Household
	// Until is the level from which findings are to be cleared.
	Until finding.Level
	// Steps is the change, in order; empty where nothing is to be done or nothing was found.
	Steps []Step
	// Before and After are the household as it is and as it would be with the steps.
	Before, After State
	// Remains are the findings from Until on that the steps do not clear.
	Remains []finding.Finding
	// Trade is a change that clears more and brings something milder, which is the household's to weigh; nil where none was met.
	Trade *Trade
	// Refused are changes that would have served, of lines that are changed by hand only.
	Refused []Refused
	// Files are the household's files with the steps in them.
	Files []rewrite.File
	// Tried is how many changes were judged; Ended says that the search ended at its bound.
	Tried int
	Ended bool
}

// Step is one change in words.
type Step struct {
	// Act is "move", "leave", "take", "fill", "empty" or "hand".
	Act  string
	Text string
	// Spot is the thing as it is written now, At its line.
	Spot string
	At   source.Span
	// To is the spot that the thing has after the step, or which the step made; "" where it stays.
	To     string
	MassMG int64
	// Clears are the findings that are gone with this step and all before it.
	Clears []Cleared
}

// Cleared is a finding that a step takes away.
type Cleared struct {
	Rule, Title, Spot string
	Level             finding.Level
	At                source.Span
}

// State is how a household stands.
type State struct {
	Errors, Warnings, Notes int
	Carriers                []Carrier
	Stocks                  []finding.Stock
	PlanHours               int64
}

// Carrier is somebody's load against their cap. Known is false where a mass is not recorded: the load is then at least what it says.
type Carrier struct {
	Name          string
	LoadMG        int64
	SharePermille int64
	CapPermille   int64
	Known         bool
}

// Refused is a change of the thing at a spot that no program should write, and where a hand can.
type Refused struct {
	Spot string
	Text string
	At   source.Span
	Why  string
}

// Trade is a change that is not written, as it brings findings that were not there.
type Trade struct {
	Steps  []string
	Left   int // findings from Until on that it leaves
	Brings []Brought
}

// Brought is a finding that a change brings.
type Brought struct {
	Rule  string
	Level finding.Level
	Text  string
}
