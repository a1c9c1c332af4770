package drill

import (
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// Drilled is what the drills of one household show.
type Drilled struct {
	Household finding.Household
	// Base is the household as it is, Drills each what-if, Pairs every two packs lost (not judged).
	Base          Fate
	Drills, Pairs []Fate
	// PairsOf is up to how many packs every two are drilled, where the household has more; 0 where it has not.
	PairsOf int
	// Points are the single points of failure, those that fail most first.
	Points []finding.Point
}

// Fate is what becomes of a household in one drill.
type Fate struct {
	// Key names the drill, such as "pack-lost/rust"; Kind is its first part; Text says it in words.
	Key, Text string
	Kind      kinds.Drill
	// Hours is how long the plan lasts, begun ones counted whole; Minutes is how long it is.
	Hours   int
	Minutes int64
	// Lasts is how long each kind of stock lasts, in the order of their names. Of several of a kind it is the one that loses most,
	// or of those that lose as much the first to be short, and Of names it; amounts are not told.
	Lasts []finding.Stock
	// Lost are the capabilities that people no longer have, and who.
	Lost []finding.Loss
	// New are the findings that the household does not have as it is.
	New []finding.Finding
	// Left is what stays behind because nobody can take it over, LeftMG its mass; Handed is whether everything was taken.
	// Takers is how many others carry a pack.
	Handed bool
	Left   []string
	LeftMG int64
	Takers int
	// People is how many there are.
	People int
	// Uncarried are those whom nobody carries (any more), by what is written.
	Uncarried []Uncarried
}

// Uncarried is a person whom nobody carries; one who does not walk either is in nobody's load.
type Uncarried struct {
	Name   string
	MassMG int64
	Walks  bool
}
