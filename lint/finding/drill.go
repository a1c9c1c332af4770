package finding

import (
	"fmt"
	"slices"
	"strings"

	"kitmuster/lint/source"
	"kitmuster/lint/words"
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
	Key, Kind, Text string
	// Hours is how long the plan lasts, begun ones counted whole; Minutes is how long it is.
	Hours   int
	Minutes int64
	// Lasts is how long each kind of stock lasts, in the order of their names.
	Lasts []Lasting
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

// Lasting is how long a kind of stock lasts, in hours begun, and how many minutes less than as it is; of what lasts to the
// end of the plan as it is, how many less than to the end of this one.
type Lasting struct {
	Stock string
	// Of names whose or what it is where the household has several of the kind: it is that which loses most, or of those that
	// lose as much the first to be short.
	Of      string
	Hours   int
	LostMin int64
	// Known is false where it is not known what the plan asks.
	Known bool
}

// Uncarried is somebody whom nobody carries; who does not walk either is in nobody's load.
type Uncarried struct {
	Name   string
	MassMG int64
	Walks  bool
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

// Words say whose and what only means the item is, first what everybody loses. They hold names as written: clean them before they are shown.
func (x *Point) Words() string {
	var all, some []string
	for _, l := range x.Losses {
		if l.All {
			all = append(all, l.Capability)
		} else {
			some = append(some, fmt.Sprintf("%s of %s alone", AsWords(l.Capability), words.List(l.Who)))
		}
	}
	if len(all) > 0 {
		for i, c := range all {
			all[i] = toDo(c)
		}
		some = append([]string{"the household's only means " + words.And(all)}, some...)
	}
	return strings.Join(some, "; ")
}

// verbs are the capabilities that are named by what one does; the others are by what one has.
var verbs = []string{
	"breathe", "charge", "communicate", "cook", "cut", "defend", "eat", "extinguish", "identify", "lead", "navigate", "open_cans", "open_taps", "repair", "see", "signal", "treat-water", "write",
}

// AsWords writes a capability as words.
func AsWords(capability string) string {
	return strings.NewReplacer("_", " ", "-", " ").Replace(capability)
}

// toDo continues "means": to cook, of light.
func toDo(capability string) string {
	if slices.Contains(verbs, capability) {
		return "to " + AsWords(capability)
	}
	return "of " + AsWords(capability)
}
