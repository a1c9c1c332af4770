package kinds

// Drill is a kind of what-if; package drill makes them.
type Drill string

// The drills.
const (
	DrillPackLost    Drill = "pack-lost"
	DrillAlone       Drill = "alone"
	DrillPair        Drill = "pair"
	DrillUnable      Drill = "unable"
	DrillSeason      Drill = "season"
	DrillLate        Drill = "late"
	DrillDry         Drill = "dry"
	DrillShed        Drill = "shed"
	DrillPacksLost   Drill = "packs-lost"
	DrillVehicleLost Drill = "vehicle-lost"
)

// DrillRow is what outputs need to know of a kind of drill.
type DrillRow struct {
	Kind Drill
	// Told is under what others hear of it, None where they hear nothing.
	Told ToldDrill
	// HandsOver says that packs are handed over, and so that it is told whether everything was.
	HandsOver bool
}

// Drills are all kinds of drill.
var Drills = []DrillRow{
	{Kind: DrillPackLost, Told: ToldPackLost},
	{Kind: DrillVehicleLost, Told: ToldVehicleLost},
	{Kind: DrillAlone, Told: ToldApart},
	{Kind: DrillPair, Told: ToldApart},
	{Kind: DrillUnable, Told: ToldUnable, HandsOver: true},
	{Kind: DrillSeason, Told: ToldSeason},
	{Kind: DrillLate, Told: ToldLate},
	{Kind: DrillDry, Told: ToldDry},
	{Kind: DrillShed, Told: ToldShed},
	{Kind: DrillPacksLost, Told: None}, // that there are any says how many packs there are
}

// Row is the row of a kind; its Kind is "" where there is no such kind.
func (d Drill) Row() DrillRow { return row(Drills, func(r *DrillRow) Drill { return r.Kind }, d) }

// ToldDrill is a kind of drill as others hear of it: drills that would tell how many people and carriers there are count as one.
type ToldDrill string

// What others hear of drills.
const (
	ToldPackLost    ToldDrill = "pack-lost"
	ToldApart       ToldDrill = "apart"
	ToldUnable      ToldDrill = "unable"
	ToldSeason      ToldDrill = "season"
	ToldLate        ToldDrill = "late"
	ToldDry         ToldDrill = "dry"
	ToldShed        ToldDrill = "shed"
	ToldVehicleLost ToldDrill = "vehicle-lost"
)

// ToldDrillRow is what outputs need to know of it.
type ToldDrillRow struct {
	Kind ToldDrill
	// Words names it for people.
	Words string
	// Always says that it is told of every household, also of one where there is no such drill, as nobody can be apart from anyone.
	Always bool
}

// ToldDrills are all of them, in the order in which they are told.
var ToldDrills = []ToldDrillRow{
	{ToldPackLost, "a pack lost", true},
	{ToldVehicleLost, "the vehicle lost", false},
	{ToldApart, "one person, or two, apart from the others", true},
	{ToldUnable, "a carrier cannot carry", true},
	{ToldSeason, "another season", false},
	{ToldLate, "help comes 24 h later", false},
	{ToldDry, "no water on the way", false},
	{ToldShed, "without what is quick to drop", false},
}

// Row is the row of a kind; its Kind is "" where there is no such kind.
func (d ToldDrill) Row() ToldDrillRow {
	return row(ToldDrills, func(r *ToldDrillRow) ToldDrill { return r.Kind }, d)
}
