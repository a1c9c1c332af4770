// Package kit says what a household is: plain values, with no file, no line
// and no library in them. Every entry carries its spot (see source.Spot), which
// the loader's Locate leads to a line; the spot of a leaf is the entry's spot
// with the field's name, such as packs/rust/compartments/lid/items/lamp/mass.
//
// Spots instead of positions are what lets a kit be copied, changed and measured
// again: that is how package drill answers what-if questions.
package kit

import (
	"cmp"
	"slices"

	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
)

// Opt is a value that a family may leave out.
type Opt[T any] struct {
	Value T
	Set   bool
}

// Some makes an Opt that is set.
func Some[T any](v T) Opt[T] { return Opt[T]{Value: v, Set: true} }

// Household is everything that one family wrote. All slices are sorted by key.
type Household struct {
	Name    string
	People  []Person
	Animals []Animal
	Packs   []Pack
	// Vehicles take people or things part of the way.
	Vehicles []Vehicle
	// AtHome is what the household owns and has not packed: nothing of it counts for anything.
	AtHome []Item
	Plan   Plan
	Record Record
	Limits []OwnLimit
	// Units are those in which most masses are written.
	Units unit.System
}

// OwnLimit is a limit that the household makes stricter than the standard.
type OwnLimit struct {
	Spot       string
	Area, Name string
	Value      string   // with its unit, as written; "" where Values holds
	Values     []string // for a limit that is a list
	ValuesSet  bool     // Values is written, if only as an empty list
	Reason     string
}

// Person is a member of the household.
type Person struct {
	Key, Spot string
	Name      string // as shown; the key where the family gives none
	Born      Opt[unit.Date]
	// Age is written instead of Born by families who do not want to write a birth date.
	Age      Opt[unit.Duration]
	Sex      string    // "female", "male" or "": only energy formulas ask
	BodyMass unit.Mass // 0 where BodyMassUnknown
	// BodyMassUnknown: nobody wrote it; measuring takes a planning figure.
	BodyMassUnknown bool
	Height          Opt[unit.Length]
	Fitness         string // "good", "fair", "poor", "unwell" or ""
	Carries         bool   // false: carries nothing, by choice or because they cannot
	Cap             Opt[CapOverride]
	Medications     []Medication
	Allergies       []Allergy
	Licences        []Licence
	Needs           []Need
	Diets           []string
	Breastfed       bool     // also where Fed is "breast"
	Fed             string   // "breast", "formula", "mixed", "solids" or ""
	Nursing         []string // keys of infants
	Pregnant        Opt[Pregnancy]
	Acclimatised    bool
	NoNappies       bool   // needs none, though the age says so
	CarriedBy       string // key of a person, or ""
	Glasses         bool
	Conditions      []string
	MustNot         []string // ways to treat water: "iodine", "chlorine"
	Consumables     []Consumable
	Devices         []PoweredDevice
	Moves           string // "alone", "cane", "frame", "crutches", "prosthesis", "wheelchair", "power-chair", "carried" or ""
	HelpedBy        string // key of a person, or ""
	Hears           string // "no", "badly" or ""
	Sees            string // "no", "badly" or ""
	HearingAids     Opt[HearingAids]
	OnBody          []Item
	// With are the keys of people who are always beside this one.
	With []string
}

// Pregnancy is that of a woman.
type Pregnancy struct {
	Due Opt[unit.Date]
}

// CapOverride replaces the standard's share of body mass for one carrier.
type CapOverride struct {
	Share  unit.Share
	Reason string
}

// Medication is something a person takes.
type Medication struct {
	Key, Spot string
	Name      string
	PerDay    unit.Count // doses a day; zero with AsNeeded
	AsNeeded  bool
	ColdChain bool
	// ColdLife is how long the label allows it out of the cold; unset: the standard decides.
	ColdLife Opt[unit.Duration]
	// Rescue: it must be at hand within a minute. Unset: its name may say so.
	Rescue Opt[bool]
	// KeepFrom and KeepTo are the temperatures between which its label says to keep it.
	KeepFrom, KeepTo Opt[unit.Temperature]
	Pressurised      bool
	Original         bool // must stay in the package it is sold in
}

// Consumable is what someone's care uses up.
type Consumable struct {
	Key, Spot string
	Name      string
	PerDay    unit.Count
}

// PoweredDevice is a medical device that needs power.
type PoweredDevice struct {
	Key, Spot   string
	Name        string
	Power       unit.Power
	HoursPerDay unit.Duration
}

// HearingAids are those someone wears.
type HearingAids struct {
	Spot  string
	Count int64
	Size  string // "usb" where they are charged
}

// Allergy is what a person must not meet.
type Allergy struct {
	Key, Spot string
	Severe    bool
	// To is "food", "medicine", "insect", "contact", "other" or "".
	To string
	// Medication is the key of the person's medication against it, or "".
	Medication string
	Note       string
}

// Licence is a permission held by a person, such as one to use a radio service.
type Licence struct {
	Key, Spot string
	Service   string
	Until     Opt[unit.Date]
}

// Need is a special need in the family's own words.
type Need struct {
	Key, Spot, Text string
}

// Animal goes with the household.
type Animal struct {
	Key, Spot string
	Name      string
	Species   string // "dog", "cat", "horse", "other"
	BodyMass  unit.Mass
	Age       Opt[unit.Duration]
	Born      Opt[unit.Date]
	Neutered  bool
	Fitness   string
	Carries   bool
	CarriedBy string // key of a person, or ""
	Cap       Opt[CapOverride]
	// Energy and Water per day replace the published formula.
	Energy      Opt[unit.Energy]
	Water       Opt[unit.Volume]
	Medications []Medication
	Chip        string
}

// Vehicle takes people or things part of the way.
type Vehicle struct {
	Key, Spot  string
	Name       string
	Kind       string         // "car", "van", "motorcycle", "bicycle", "train", "bus", "cart" or "pushchair"
	Payload    Opt[unit.Mass] // of people, animals and goods together; of a bicycle without its rider
	Seats      int64          // 0 where not written
	ChildSeats Opt[int64]     // of these
	TakesChair Opt[bool]      // a wheelchair finds room
	Range      Opt[unit.Length]
}

// Ridden reports whether people go in or on it; beside a cart and a pushchair they walk.
func (v *Vehicle) Ridden() bool { return v.Kind != "cart" && v.Kind != "pushchair" }

// Pack is one load of a carrier.
type Pack struct {
	Key, Spot    string
	Name         string
	Carrier      string    // key of a person or an animal; "" for what never leaves its vehicle
	Vehicle      string    // key of the vehicle it rides in, or ""
	Kept         string    // "home", "door", "car", "shed", "school" or ""
	Mass         unit.Mass // of the empty pack; 0 where MassUnknown
	MassUnknown  bool      // nobody wrote it
	MassWeighed  Opt[unit.Date]
	Estimated    bool
	Colours      []string
	Style        string
	Frame        bool
	HipBelt      bool
	Compartments []Compartment
}

// Compartment is a part of a pack.
type Compartment struct {
	Key, Spot  string
	Name       string
	Reach      kinds.Reach
	Layer      int64 // 1 is outermost; 0 where not written
	For        string
	Mass       Opt[unit.Mass] // of a pouch that is not part of the pack's own mass
	Budget     Opt[unit.Mass]
	QuickShed  bool
	Waterproof bool
	Cooled     bool
	Items      []Item
}

// Called is what a pack is called among people: one without a name has the key of its carrier often enough.
func Called(p *Pack) string {
	if p.Name == p.Key {
		return "pack “" + p.Key + "”"
	}
	return p.Name
}

// OutsideIn orders a pack's compartments as hands meet them: those with a layer by it, then the others, what can be reached while
// walking before what needs a halt, what comes off in seconds before what does not.
func OutsideIn(a, b *Compartment) int {
	first := func(is bool) int {
		if is {
			return 0
		}
		return 1
	}
	return cmp.Or(
		cmp.Compare(first(a.Layer > 0), first(b.Layer > 0)), cmp.Compare(a.Layer, b.Layer),
		cmp.Compare(first(a.Reach == kinds.ReachWalking), first(b.Reach == kinds.ReachWalking)), cmp.Compare(first(a.QuickShed), first(b.QuickShed)),
	)
}

// Item is one thing, or Count alike things.
type Item struct {
	Key, Spot string
	Name      string
	Count     int64
	Uncounted bool      // nobody wrote how many there are, and Count is 1
	Mass      unit.Mass // of one, as the family weighs it; 0 where MassUnknown
	// MassUnknown: nobody wrote it, so every sum that it is part of is at least what it says.
	MassUnknown bool
	// MassIncludesWater: Mass was weighed with Water inside; otherwise Water is added to it.
	MassIncludesWater bool
	Weighed           Opt[unit.Date]
	Estimated         bool
	Owner             string
	Size              string // by its label
	Fits              string // key of the person whom it fits
	SizeSeen          Opt[unit.Date]
	Place             string // "bed", "door" or ""
	Shared            bool
	Can               []Capability
	Food              Opt[Food]
	Water             Opt[unit.Volume] // carried in it now, each
	Container         Opt[Container]
	Treat             Opt[Treat]
	Fuel              Opt[Fuel]
	Stove             Opt[Stove]
	Cells             Opt[Cells]
	Device            Opt[Device]
	Insulation        Opt[Insulation]
	Radio             Opt[Radio]
	FirstAid          []FirstAid
	Medicine          Opt[Medicine]
	Care              Opt[CareSupply]
	Documents         []string
	Cash              Opt[Cash]
	Colour            string
	Visibility        string // "loud", "plain", "reflective" or ""
	Expires           Opt[unit.Date]
	Opened            Opt[unit.Date]
	OpenedLife        Opt[unit.Duration]
	Rotate            Opt[unit.Date]
	OutOfCold         Opt[unit.Date]
	QuickShed         bool
	Waterproof        bool
	LastMinute        bool
	Noisy             bool
	Covers            []string // the settings that a map shows
	// Unread are the fields that are written and could not be read, such as "food/energy" or "can/fire", sorted by their place.
	Unread []string
	Pinned bool
	Worth  int64 // 1 to 5; 3 where not said
}

// Capability is something an item can do, and the physical way it does it.
type Capability struct {
	Spot  string
	Name  kinds.Capability
	Means string // such as "gas-lighter"
}

// Food is what is eaten; every amount is for one of the item's Count.
type Food struct {
	Spot   string
	Energy unit.Energy // 0 where EnergyUnknown
	// EnergyUnknown: nobody wrote it.
	EnergyUnknown bool
	Sodium        Opt[unit.Mass]
	Protein       Opt[unit.Mass]
	NetMass       Opt[unit.Mass] // without packaging; unset: the item's mass
	CookWater     unit.Volume
	CookWritten   bool // water or minutes to prepare it are written, if only as none
	CookMinutes   unit.Duration
	Cook          bool   // must be cooked, or have hot water poured on it
	For           string // key of the person or animal it is meant for; "": everyone
	Allergens     []string
	// AllergensSet: the family wrote the allergens, if only that there are none.
	AllergensSet bool
	Canned       bool
	Suits        []string
	Formula      string   // "ready", "powder" or ""
	Harms        []string // species
}

// Container holds water.
type Container struct {
	Spot     string
	Capacity unit.Volume // 0 where CapacityUnknown
	// CapacityUnknown: nobody wrote it; it holds at least the water that is in it.
	CapacityUnknown bool
	Rigid           bool // its walls do not give
	FireSafe        bool // may be put on a fire
}

// Treat makes water safe.
type Treat struct {
	Spot   string
	Method string
	Litres Opt[unit.Volume] // that one of the item can still treat; unset: as long as fuel or light lasts
	Wait   Opt[unit.Duration]
	// PerHour is how much one of the item can treat in an hour, more than zero where set.
	PerHour Opt[unit.Volume]
	// Wetted: water has been through it. MayFreeze: its label says that it may freeze while wet.
	Wetted, MayFreeze bool
}

// Fuel is burnt in a stove; Mass is the fuel alone and is part of the item's mass.
type Fuel struct {
	Spot string
	Kind string
	Mass unit.Mass // 0 where MassUnknown
	// MassUnknown: nobody wrote it.
	MassUnknown bool
}

// Stove burns fuel.
type Stove struct {
	Spot  string
	Burns []string
	// Inverts: its label allows a gas can upside down.
	Inverts bool
}

// Cells are loose cells or a power bank: what a device is fed with.
type Cells struct {
	Spot      string
	Size      string
	Chemistry string
	Cells     int64 // in one of the item
	Capacity  Opt[unit.Charge]
	Energy    Opt[unit.Energy]
	For       string // key of a medical device, or ""
}

// Device uses cells.
type Device struct {
	Spot    string
	Size    string // "" where nobody wrote it
	Cells   int64
	RunTime Opt[unit.Duration]
	// BuiltIn: its cell cannot be changed, it is charged instead.
	BuiltIn bool
	// SelfPowered: wound by hand, or charged by the sun.
	SelfPowered bool
	// Empty: no cells are in it, or its own cell is empty.
	Empty bool
}

// Insulation keeps a body warm.
type Insulation struct {
	Spot    string
	Kind    string
	Comfort Opt[unit.Temperature]
}

// Radio hears or speaks.
type Radio struct {
	Spot     string
	Receives []string
	Service  string // spoken on: "", "frs", "gmrs", "amateur", "pmr446", "cb", "marine"
}

// FirstAid is a count of one kind of first-aid content in one of the item.
type FirstAid struct {
	Spot, Kind string
	Count      int64
}

// Medicine is a supply of a person's or an animal's medication.
type Medicine struct {
	Spot       string
	Person     string // key of a person or an animal
	Medication string
	Doses      unit.Count
	Repacked   bool           // not in the package it is sold in
	Dose       string         // what one dose is, in the family's words
	ForMass    Opt[unit.Mass] // of the body for which the dose was worked out
}

// CareSupply is a supply of what someone's care uses up.
type CareSupply struct {
	Spot       string
	Person     string
	Consumable string
	Uses       unit.Count
}

// Cash is money in notes and coins, as written.
type Cash struct {
	Spot       string
	Amount     string
	SmallNotes bool
}

// Plan is what the packs must be enough for.
type Plan struct {
	Duration      unit.Duration
	DurationSet   bool
	Start         Opt[unit.Clock] // the hour of the day at which the household leaves
	Season        string          // key of the season planned for
	Seasons       []Season
	Settings      []string
	Lists         []string // official lists that the kit is held against
	Altitude      Opt[unit.Length]
	Latitude      Opt[unit.Latitude]
	Legs          []Leg // by Order, then Key
	WaterSources  []WaterSource
	WaterSaid     bool // waterSources is written, be it empty
	MeetingPoints []MeetingPoint
	Contacts      []Contact
	LowProfile    bool
	Hazards       []string // the dangers of the place
	Destination   Opt[Destination]
	Shade         bool               // the heat of the day can be waited out in the shade or in a cool place
	Warning       Opt[unit.Duration] // before a danger is there
	Ways          int64              // out of the place; 0 where not written
	Home          Home
	// Unread are the fields that are written and could not be read, such as "duration", sorted.
	Unread []string
}

// Home is where the household lives.
type Home struct {
	Altitude Opt[unit.Length] // above the sea
	Floor    Opt[int64]       // 0 at the ground
	Lift     bool
}

// Destination is what awaits the household at the end of the last leg.
type Destination struct {
	Spot              string
	Kind              string // "house", "shelter" or "camp"
	Water, Food, Beds bool
}

// Season is the weather to plan for.
type Season struct {
	Key, Spot string
	Day       unit.Temperature
	Night     unit.Temperature
	Humidity  Opt[unit.Share]
	Wind      Opt[unit.Speed] // mean
	// Daylight of one day, where DaylightSet; otherwise it follows from the plan's
	// Latitude and from Date, or the audit date where that is not set.
	Daylight    unit.Duration
	DaylightSet bool
	Date        Opt[unit.Date] // a typical day
	Until       Opt[unit.Date]
}

// Leg is one walk or ride of the route.
type Leg struct {
	Key, Spot string
	Order     int64
	Distance  unit.Length
	Climb     unit.Length
	Descent   unit.Length
	Ground    string
	Pace      Opt[unit.Duration] // for one kilometre
	By        string             // key of a vehicle; "" on foot
	Stairs    int64              // steps
}

// WaterSource is water on the way.
type WaterSource struct {
	Key, Spot string
	Litres    Opt[unit.Volume]
	Quality   string // "tap", "clear", "turbid", "foul"
	Leg       string
	// After is how far along Leg it lies, at most the leg's distance; unset: at its end.
	After Opt[unit.Length]
	// NeedsKey: a tap without a handle.
	NeedsKey bool
}

// MeetingPoint is where the household finds itself again.
type MeetingPoint struct {
	Key, Spot, Where string
	Altitude         Opt[unit.Length] // above the sea
	SafeFrom         []string         // dangers that do not reach it
}

// Contact is someone to call.
type Contact struct {
	Key, Spot string
	Name      string
	Phone     string
	OutOfArea bool
}

// Record is what was practised and looked at.
type Record struct {
	Weighed    Opt[unit.Date]
	Audited    Opt[unit.Date]
	Shakedowns []Shakedown
	Waivers    []Waiver
}

// Shakedown is a practice walk with the packs.
type Shakedown struct {
	Key, Spot string
	On        unit.Date
	Distance  unit.Length
	Load      Opt[unit.Mass]
}

// Waiver is a household's decision to live with a finding for a time.
type Waiver struct {
	Key, Spot string
	Rule      string
	At        string // spot the waiver is for; "": any spot of the rule
	Reason    string
	Until     unit.Date
	Agreed    string
}

// Clone copies a household as far as a what-if changes it: people and what they wear, animals, packs and all things.
func (h *Household) Clone() *Household {
	c := *h
	c.People = slices.Clone(h.People)
	for i := range c.People {
		c.People[i].OnBody = slices.Clone(c.People[i].OnBody)
	}
	c.Animals = slices.Clone(h.Animals)
	c.AtHome = slices.Clone(h.AtHome)
	c.Packs = slices.Clone(h.Packs)
	for i := range c.Packs {
		c.Packs[i].Compartments = slices.Clone(c.Packs[i].Compartments)
		for j := range c.Packs[i].Compartments {
			c.Packs[i].Compartments[j].Items = slices.Clone(c.Packs[i].Compartments[j].Items)
		}
	}
	return &c
}

// waterMass is that of one microlitre, in micrograms: 1.000 kg/L, as package measure has it.
const waterMass = 1000

// Each is what one of an item weighs with the water in it, at 1.000 kg/L.
func (it *Item) Each() unit.Mass {
	if it.MassIncludesWater {
		return it.Mass
	}
	return it.Mass + unit.Mass(it.Water.Value)*waterMass
}

// All is what all of an item weigh with the water in them.
func (it *Item) All() unit.Mass { return it.Each() * unit.Mass(max(0, it.Count)) }
