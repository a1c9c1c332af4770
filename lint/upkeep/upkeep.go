// Package upkeep keeps a kit true: what of it can be weighed and what falls due, how readings and new days are written into the
// family's files, and the talks about it: beside the scale (weigh.go), through the dates (renew.go), and about things of which only
// the name is written (describe.go).
//
// The product (make.go) lists things and days, and does orders: it writes them into the files (package rewrite), which is proved, and gives
// the new files back. A talk asks in plain lines, one answer a line: no screen is redrawn, so it works over a slow line, in forty columns,
// with a screen reader and in a script. What is confirmed is on the disk already, so a talk can end anywhere.
package upkeep

import (
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/rewrite"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
)

// Kept is a household with what can be weighed and renewed.
type Kept struct {
	Household finding.Household
	// Things are what has a mass, in packing order: each pack empty, its pouches, what is in them, what people wear, what is at home.
	Things []Thing
	// Due are the days of things and licences, in the order of Things; those of the household's own come last.
	Due []Due
	// Unsaid are the things of which only the name tells what they are, in the order of Things.
	Unsaid []Unsaid
	// Refused are orders that were not done. Nothing is done where one of them stands.
	Refused []Refused
	// DayKept are places that say the day of weighing for several things, so that it was not written with a mass.
	DayKept []source.Span
	// Files are the household's files with the orders in them.
	Files []rewrite.File
	// Unread says why nothing can be written into this household, "" where it can.
	Unread string
}

// Thing is something that has a mass.
type Thing struct {
	Spot string
	// Short is a short form of the spot, for sheets: rust/lid/lamp.
	Short string
	Name  string
	// Where is the place in words; Place the spot whose entries it is one of: items of a compartment, what a person wears, what is at home.
	// A pack and a pouch have no Place.
	Where, Place string
	Count        int64
	// MassMG is of one, without water unless Wet; Known is false where it is not recorded. Text is as written.
	MassMG int64
	Known  bool
	Text   string
	// WaterMG is the water in one of it, Wet says that its mass holds the water.
	WaterMG int64
	Wet     bool
	// Weighed is the day, unset where none is recorded.
	Weighed   unit.Date
	IsWeighed bool
	// Shared is the file that says its mass, where several households may share that: it is weighed there, and not here.
	Shared string
	// Part is the spot of the compartment or the pack that a scale would show together.
	Part string
}

// All is the mass of all of it with the water in it, in milligrams.
func (t *Thing) All() int64 {
	one := t.MassMG
	if !t.Wet {
		one += t.WaterMG
	}
	return one * t.Count
}

// Due is a day of a thing, or of a licence.
type Due struct {
	Kind kinds.Date
	// Spot is the thing's, or the licence's.
	Spot, Name, Where string
	Count             int64
	On                unit.Date
	// Left is the days that are left, negative once it is past.
	Left int64
	// Group is what kind of thing it is, for a list of what to get.
	Group string
	// Medicine: a practitioner or the label decides. Opened: the thing says that it is open.
	Medicine, Opened bool
}

// Act is what an order does.
type Act string

// The acts.
const (
	SetMass  Act = "mass"     // Spot weighs Text, as weighed on the day
	SetCount Act = "count"    // there are Count of Spot
	Gone     Act = "gone"     // Spot is there no longer
	Add      Act = "add"      // there is one more thing in Spot, a Place, called Text; Mass may say what it weighs
	SetDay   Act = "day"      // the day Field of Spot is Text; Count of them, 0 for all
	NoDay    Act = "no day"   // the day Field of Spot is over, and there is no new one
	Describe Act = "describe" // Spot is what Said says
	Unopened Act = "unopened" // what was open is a new one
)

// Order is one thing to write.
type Order struct {
	Do    Act    `json:"do"`
	Spot  string `json:"spot"`
	Text  string `json:"text,omitempty"`
	Mass  string `json:"mass,omitempty"`
	Field string `json:"field,omitempty"`
	Count int64  `json:"count,omitempty"`
	// Wet: it was weighed with the water in it.
	Wet  bool   `json:"wet,omitempty"`
	Said []Said `json:"said,omitempty"`
	// NoDay: the day of weighing stays as it is.
	NoDay bool `json:"no_day,omitempty"`
}

// Refused is an order that a program should not write, and where a hand can.
type Refused struct {
	Order int
	At    source.Span
	Why   string
}
