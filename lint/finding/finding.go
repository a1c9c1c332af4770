// Package finding holds what is said about a kit: plain values that every
// output reads and no output changes.
package finding

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
)

// Level is how grave a finding is; the words are those of SARIF 2.1.0.
type Level string

// The levels, gravest first.
const (
	Error   Level = "error"
	Warning Level = "warning"
	Note    Level = "note"
)

// ParseLevel reads one of the three words.
func ParseLevel(s string) (Level, error) {
	switch l := Level(s); l {
	case Error, Warning, Note:
		return l, nil
	}
	return "", fmt.Errorf("%q is not a level; write error, warning or note", s)
}

// Rank orders levels: the higher, the graver.
func (l Level) Rank() int {
	switch l {
	case Error:
		return 3
	case Warning:
		return 2
	case Note:
		return 1
	}
	return 0
}

// Because is one reason under a finding. At may be unknown.
type Because struct {
	_       struct{} `cbor:",toarray"`
	Message string
	At      source.Span
}

// Limit is a value of the standard that a rule compared with.
type Limit struct {
	_ struct{} `cbor:",toarray"`
	// Name is area.name, as the rulebook lists it.
	Name string
	// Value is the value with its unit, for people.
	Value string
	// List says that the value is a list of words, which pages for people leave out.
	List bool
	// Source is where the value comes from.
	Source string
	// Layer is who set it: a standard with its version, base, or the household.
	Layer string
	// At is where it is written: in the household, or in a standard that came along; unknown for the base.
	At source.Span
}

// Shortfall is by how much a finding misses what is asked, in what can be added up over households: to buy, to carry, or to leave behind.
type Shortfall struct {
	_ struct{} `cbor:",toarray"`
	// What says in a few words of the rule what lacks or is too much, never in words of a family.
	What string
	// Unit is that of Amount: one of kinds.Lacks.
	Unit   kinds.Unit
	Amount int64
}

// Waiver is the household's own reason to live with a finding.
type Waiver struct {
	_      struct{} `cbor:",toarray"`
	Reason string
	Until  string
	// Agreed says who agreed, or "".
	Agreed string
	At     source.Span
}

// Finding is one verdict, or one fault of the input, about one spot.
type Finding struct {
	_ struct{} `cbor:",toarray"`
	// Rule is area/rule-name; faults of the input have the area "input".
	Rule  string
	Level Level
	// Title states what the rule wants; "" where it is not known.
	Title     string
	Message   string
	Household string
	// Path is the household's folder, relative to the tree that was read.
	Path string
	// Spot names the thing that the finding is about; see source.Spot.
	Spot    string
	At      source.Span
	Because []Because
	Limits  []Limit
	Remedy  string
	Caution string
	// Lack is nil where the rule states no amount.
	Lack *Shortfall
	// MayDo: things that are there may be what is missing, as what they can do is not recorded.
	MayDo bool
	// Waived is set where a waiver of the household covers the finding.
	Waived *Waiver
	// State says how the finding stands against an earlier state of the kits; "" where none is compared with.
	State State
	// Causes are the changes of what several households read that made the finding new or fixed, where nothing else can have; see
	// CauseWords for several. None where that is not certain.
	Causes []Cause
	// Edit is the one change of a file that puts a slip right, where it makes up no value; nil where there is none.
	Edit *Edit
}

// Edit says what shall stand in a file in the place of what stands there; at an empty place it is put in.
type Edit struct {
	_   struct{} `cbor:",toarray"`
	At  source.Span
	New string
}

// State is how a finding stands against an earlier state of the kits.
type State string

// Word is how people are told of it.
func (s State) Word() string {
	if s == Mended {
		return "fixed"
	}
	return string(s)
}

// The states. A mended finding is one of the earlier state that is there no longer.
const (
	New       State = "new"
	Unchanged State = "unchanged"
	Mended    State = "mended"
)

// Compare orders findings for every output: by household, then by place,
// then gravest first, then by rule, spot and message.
func Compare(a, b Finding) int {
	return cmp.Or(
		cmp.Compare(a.Path, b.Path),
		source.Compare(a.At, b.At),
		cmp.Compare(b.Level.Rank(), a.Level.Rank()),
		cmp.Compare(a.Rule, b.Rule),
		cmp.Compare(a.Spot, b.Spot),
		cmp.Compare(a.Message, b.Message),
	)
}

// OfInput reports whether the finding says that something could not be read or judged, and so not what a standard's rule found.
// A rule that broke counts, a limit that is looser than the standard's does not.
func (f *Finding) OfInput() bool { return strings.HasPrefix(f.Rule, "input/") }

// Sort sorts and drops doubles: one rule says one thing about one spot once.
func Sort(fs []Finding) []Finding {
	slices.SortFunc(fs, Compare)
	return slices.CompactFunc(fs, func(a, b Finding) bool { return Compare(a, b) == 0 })
}
