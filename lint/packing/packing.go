package packing

import (
	"iter"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/words"
)

// PackingList is what a household packs, wears and takes along, in the order in which it is ticked off. Texts are the
// family's own, to be cleaned (words.Clean) where they are shown; masses are as carried, with the drinking water.
type PackingList struct {
	Household finding.Household
	// Unread are the faults of what is written and could not be read, each with its file and line: what they stand at is left out, or
	// not known.
	Unread []string
	// Unweighed is how many entries have no day of weighing, where that is said once of all: else their notes say it, and it is 0.
	Unweighed int
	// Season is the weather planned for, in words; "" where none is described.
	Season string
	// LoadMG is all packs, WornMG all that is worn or pocketed, in milligrams.
	LoadMG, WornMG int64
	// Least: a mass in it is not known, so it is at least so much. So too where masses of packs, parts and items are.
	LoadLeast, WornLeast bool
	Packs                []PackedPack
	// Worn holds, for each person who wears or pockets something, one part that has the person's name.
	Worn       []PackedPart
	LastMinute []LastMinute
	// Cards are for cutting out: the people's, then the animals'.
	Cards []Card
}

// PackedPack is one pack; Parts stand from the outside in.
type PackedPack struct {
	Name, Carrier string
	Colours       []string
	// MassMG is the whole pack as carried, EmptyMG the pack alone, in milligrams.
	MassMG, EmptyMG       int64
	MassLeast, EmptyLeast bool
	// Again: the pack before it in the list is of the same carrier, who is handed both.
	Again bool
	// OnTop are the animals that its carrier carries too, each with its mass, at the first pack of that carrier.
	OnTop []string
	Parts []PackedPart
}

// PackedPart is a compartment of a pack, or what one person wears and pockets.
type PackedPart struct {
	Name string
	// Reach is "" for what is worn.
	Reach kinds.Reach
	For   string
	// Layer is 1 for the outermost; 0 where the family writes none.
	Layer     int64
	QuickShed bool
	// MassMG is all that is in it, with a pouch of its own, in milligrams.
	MassMG    int64
	MassLeast bool
	Items     []PackedItem
}

// PackedItem is one thing, or Count alike things.
type PackedItem struct {
	Name  string
	Count int64
	// MassMG is that of all Count, EachMG of one, in milligrams; WaterML the drinking water in all of them, in millilitres.
	MassMG, EachMG, WaterML int64
	MassLeast               bool
	// Weighed: on a scale, not guessed.
	Weighed bool
	// Until is the nearest of its last days and days of exchange, year-month-day; "" where none is written.
	Until string
	// AtLast says why it is taken at the last minute; "" where it lies packed.
	AtLast string
	// Past says which of its days is over on the day of the list, and what to do; "" where it is good. It is said with emphasis.
	Past string
	// Notes are what to mind, a few words each: AtLast is among them, and Until while it is to come.
	Notes []string
}

// LastMinute is one thing to take when the household leaves.
type LastMinute struct {
	What, Why string
	// Where it goes: a pack and a compartment, or who wears it; "" where the kit does not say.
	Where string
	// Past is as in PackedItem.
	Past string
}

// Card is what one member of the household has about them.
type Card struct {
	Name string
	// About tells a person's age, or what animal it is; "" where nothing is known.
	About    string
	Sections []CardSection
}

// CardSection is a few lines about one matter.
type CardSection struct {
	Title string
	Lines []CardLine
	// Missing: the household has not written what belongs here, which Lines say; there is room to fill it in by hand.
	Missing bool
}

// CardLine is one line. Under marks one that belongs to the nearest line above it without that mark.
type CardLine struct {
	Text string
	// Past is said with emphasis after Text: what is no longer good; "" where nothing is.
	Past  string
	Under bool
}

// PackingLists is a run that lists what to pack.
type PackingLists struct {
	// Version is the tool's, On the audit date, year-month-day.
	Version, On string
	// Lists walks the lists, one in memory at a time; it may be walked again, and an error ends the walk.
	Lists iter.Seq2[*PackingList, error]
	// Left are the paths of what could not be read.
	Left []string
}

// NeverWeighed says of so many entries that no day of weighing is recorded.
func NeverWeighed(n int) string {
	return words.Count(n, "thing") + " without a day of weighing"
}
