package private

import (
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// Shared is what the figures of a household may say to others; package private says why this and no more.
type Shared struct {
	Household finding.Household
	// Read is false where it could not be read; then there is nothing else.
	Read bool
	// Hours is how long the plan is, begun ones counted whole.
	Hours int
	// Load is the heaviest load of packs, in whole percent of its carrier's body mass; 0 where nobody carries one.
	Load int64
	// Can are capabilities of the household as a whole.
	Can []kinds.Capability
	// Stocks are how long stocks last for the first who is short.
	Stocks []finding.Stock
	// WaterLimit is why water is short. Heat is the worst heat category of the way, 0 for none.
	WaterLimit kinds.WaterLimit
	Heat       int64
	// Fates are the drills by kind; Single are the capabilities that hang on one item.
	Fates  []SharedFate
	Single []kinds.Capability
}

// SharedFate is the worst of all drills of a kind.
type SharedFate struct {
	Kind  kinds.ToldDrill
	Hours int
	// Gone are the capabilities that nobody has any more.
	Gone   []kinds.Capability
	Stocks []finding.Stock
	// New are the rules that object to it and not to the household as it is.
	New []finding.Finding
}
