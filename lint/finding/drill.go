package finding

import (
	"fmt"
	"strings"

	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
)

// Drilled is what the drills of one household show.
type Drilled struct {
	Household Household
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
	Key, Text string
	Kind      kinds.Drill
	// Hours is how long the plan lasts, begun ones counted whole; Minutes is how long it is.
	Hours   int
	Minutes int64
	// Lasts is how long each kind of stock lasts, in the order of their names. Of several of a kind it is the one that loses most,
	// or of those that lose as much the first to be short, and Of names it; amounts are not told.
	Lasts []Stock
	// Lost are the capabilities that somebody no longer has.
	Lost []Loss
	// New are the findings that the household does not have as it is.
	New []Finding
	// Left is what stays behind because nobody can take it over, LeftMG its mass; Handed is whether everything was taken.
	// Takers is how many others bear a pack.
	Handed bool
	Left   []string
	LeftMG int64
	Takers int
	// People is how many there are.
	People int
	// Uncarried are those whom nobody is written to carry any more, or never was.
	Uncarried []Uncarried
}

// Uncarried is somebody whom nobody carries; who does not walk either is in nobody's load.
type Uncarried struct {
	Name   string
	MassMG int64
	Walks  bool
}

// Loss is a capability and who no longer has it; nobody in the drill has it where All is set.
type Loss struct {
	Capability kinds.Capability
	All        bool
	Who        []string
}

// Point is one item whose loss takes capabilities from somebody.
type Point struct {
	Item, Name string
	At         source.Span
	Losses     []Loss
}

// Words say whose and what only means the item is, first what everybody loses. They hold names as written: clean them before they are shown.
func (x *Point) Words() string {
	var all, some []string
	for _, l := range x.Losses {
		if l.All {
			all = append(all, l.Capability.Row().Means)
		} else {
			some = append(some, fmt.Sprintf("%s of %s alone", l.Capability.Words(), ListOf(l.Who)))
		}
	}
	if len(all) > 0 {
		words := all[len(all)-1]
		if n := len(all) - 1; n > 0 {
			words = strings.Join(all[:n], ", ") + " and " + words
		}
		some = append([]string{"the household's only means " + words}, some...)
	}
	return strings.Join(some, "; ")
}

// ListOf joins names, by semicolons where one of them holds a comma.
func ListOf(names []string) string {
	for _, n := range names {
		if strings.Contains(n, ",") {
			return strings.Join(names, "; ")
		}
	}
	return strings.Join(names, ", ")
}
