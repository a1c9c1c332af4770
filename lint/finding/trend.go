package finding

// Trend is how a household stood on one day, in a few figures that are held against those of other days: its line in an audit.
type Trend struct {
	// Commit is the id of the state, "" for files as they lie on the disk; Day is what it was judged as of, YYYY-MM-DD.
	Commit, Day string
	// Path is the household's folder in that state, as people see it, and Name its name in an earlier audit.
	Path, Name string
	// Under says by which season and standards it was judged then, where that was an earlier audit.
	Under string
	// There is false where the state has no such household, Judged where it could not be read or a rule broke on it. Without
	// Judged the counts say what was found, which is not all, and no other figure is known.
	There, Judged bool
	// Errors, Warnings and Notes count what is not waived, Waived what is.
	Errors, Warnings, Notes, Waived int
	// LoadPermille is the heaviest load at the start, of the body mass of who carries it; 0 where nobody carries a pack or no carrier's mass is known.
	LoadPermille int64
	// WaterHours is how many whole hours the water lasts, where that is known; the plan's own, PlanHours, where it is never short.
	WaterHours int64
	WaterKnown bool
	PlanHours  int64
}

// Course is one household over the days, newest first.
type Course struct {
	// Path is its folder now, as people see it.
	Path   string
	Points []Trend
}

// History is how the households of a run stood in the commits before.
type History struct {
	// Households are in the order of a run.
	Households []Course
	// Remarks say what could not be looked at, in order.
	Remarks []string
	// Partial says why the rest was not judged; "" where nothing is left out.
	Partial string
}
