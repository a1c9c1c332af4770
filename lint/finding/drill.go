package finding

import "kitmuster/lint/source"

// Drilled is what the drills of one household show.
type Drilled struct {
	Household Household
	// Findings are faults of the input; without them the rest is filled.
	Findings []Finding
	// Base is the household as it is, Drills each what-if, Pairs every two packs lost (not judged).
	Base          Fate
	Drills, Pairs []Fate
	// PairsOf is up to how many packs every two are drilled, where the household has more; 0 where it has not.
	PairsOf int
	// Points are the single points of failure, those that fail most first.
	Points []Point
}

// Fate is what becomes of a household in one drill.
type Fate struct {
	// Key names the drill, such as "pack-lost/rust"; Kind is its first part; Text says it in words.
	Key, Kind, Text string
	// Hours is how long the plan lasts.
	Hours int
	// Lasts is how long each kind of stock lasts, in the order of Stocks.
	Lasts []Lasting
	// Lost are the capabilities that somebody no longer has.
	Lost []Loss
	// New are the findings that the household does not have as it is.
	New []Finding
	// Left is what stays behind because nobody can take it over, LeftMG its mass; Handed is whether everything was taken.
	Handed bool
	Left   []string
	LeftMG int64
}

// Lasting is how long a kind of stock lasts: hours, and how many fewer than as it is.
type Lasting struct {
	Stock       string
	Hours, Lost int
}

// Loss is a capability and who no longer has it; nobody in the drill has it where All is set.
type Loss struct {
	Capability string
	All        bool
	Who        []string
}

// Point is one item whose loss takes capabilities from somebody.
type Point struct {
	Item, Name string
	At         source.Span
	Losses     []Loss
}
