package kinds

// Useless is why a thing that the kit holds cannot do what it is for, so that it counts as absent.
type Useless string

// The reasons; a thing of which several are true is given the first.
const (
	UselessExpired  Useless = "expired"   // chemicals past their last day
	UselessFrozen   Useless = "frozen"    // a filter that is wet inside, on a night of frost
	UselessEmpty    Useless = "empty"     // a device without cells
	UselessNoOpener Useless = "no-opener" // canned food
	UselessNoVessel Useless = "no-vessel" // to boil in
	UselessNoStove  Useless = "no-stove"  // to boil on
	UselessColdFuel Useless = "cold-fuel" // gas that does not burn in the cold
	UselessNoFuel   Useless = "no-fuel"   // of a stove
	UselessNoBurner Useless = "no-burner" // of a fuel
)

// UselessRow is what outputs need to know of it.
type UselessRow struct {
	Kind Useless
	// Words end a sentence that begins with the thing: "Filter" …
	Words string
}

// Uselesses are all of them, in the order in which they are looked for.
var Uselesses = []UselessRow{
	{UselessExpired, "is past its last day"},
	{UselessFrozen, "has been wet and freezes in the pack at night"},
	{UselessEmpty, "has no batteries"},
	{UselessNoOpener, "has no can opener with it"},
	{UselessNoVessel, "has no fire-safe pot or cup with it"},
	{UselessNoStove, "has no stove with it"},
	{UselessColdFuel, "does not burn at night, as it is too cold for its gas"},
	{UselessNoFuel, "has no fuel with it"},
	{UselessNoBurner, "has no stove that burns it"},
}

// Row is the row of a reason; its Kind is "" where there is no such reason.
func (u Useless) Row() UselessRow {
	return row(Uselesses, func(r *UselessRow) Useless { return r.Kind }, u)
}
