package finding

// Shared is what the figures of a household may say to others; package private says why this and no more.
type Shared struct {
	Household Household
	// Read is false where it could not be read; then there is nothing else.
	Read bool
	// Hours is how long the plan is, begun ones counted whole.
	Hours int
	// Load is the heaviest load of packs, in whole percent of its bearer's body mass; 0 where nobody bears one.
	Load int64
	// Can are capabilities of the household as a whole.
	Can []string
	// Stocks are how long stocks last for whoever is first short.
	Stocks []SharedStock
	// WaterLimit is why water is short: see measure.Endurance. Heat is the worst heat category of the way, 0 for none.
	WaterLimit string
	Heat       int64
	// Fates are the drills by kind; Single are the capabilities that hang on one item.
	Fates  []SharedFate
	Single []string
}

// SharedStock is how long a kind of stock lasts, in hours begun; Known is false where it is not known what the plan asks.
type SharedStock struct {
	Kind  string
	Hours int
	Known bool
}

// SharedFate is the worst of all drills of a kind: "pack-lost", "apart", "unable", "season", "late", "dry" or "shed".
type SharedFate struct {
	Kind  string
	Hours int
	// Gone are the capabilities that nobody has any more.
	Gone   []string
	Stocks []SharedStock
	// New are the rules that object to it and not to the household as it is.
	New []Finding
}
