// Package forecast says what happens hour by hour on a plan: who walks how far
// under which load, what they spend, drink and eat, and when a stock runs out. It
// is arithmetic over plain inputs: the same input gives the same answer.
//
// The way does not depend on the water that is drunk. From the first water on that
// can be made safe, pace and work go by the heaviest load (vessels full), before it
// by the load at the start. So the forecast may first walk the plan without
// drinking, to learn where the next water is, and a fuller bottle never brings a
// shortage forward. One exception is left: someone in the heat whom a litre more
// brings into a harder class of the army's table, on a way without water.
//
// Its figures are averages of healthy people, by the published formulas of package
// body; Assumptions says what else is taken for granted. It ranks and warns, it
// promises nothing, and it is no medical advice.
package forecast

import "kitmuster/lint/kinds"

// What stands in the place of an index, an amount or an hour where there is none.
const (
	// Everybody, for an index of Bodies: not of one alone, but of all who share it.
	Everybody = -1
	// Nobody, for an index of Bodies: it weighs on no one's load.
	Nobody = -1
	// Uncooked, for an index of Bodies: food that stays because it cannot be cooked, for anyone.
	Uncooked = -1
	// NoLeg, for an index of Legs: not on the way.
	NoLeg = -1
	// NoEnd, for an amount of water: no end is stated.
	NoEnd = -1
	// Never, for an hour: not before the plan ends. The facts of a leg have it as this number.
	Never = -1
)

// Input is what one household brings to one plan.
type Input struct {
	// Minutes is how long the plan lasts.
	Minutes int64
	// Start is the minute of the day at which it begins.
	Start int64
	// Weather is nil where no season is planned for.
	Weather *Weather
	// Legs are walked in their order, the first at once.
	Legs        []Leg
	Sources     []Source
	Bodies      []Body
	Foods       []Food
	Vessels     []Vessel
	Treatments  []Treatment
	Medications []Medication
	Lamps       Lamps
	// Fed: people are fed at the end of the last leg, or at once where there is none, and need nothing of the packs then, but
	// for those who eat their own food only.
	Fed bool
	// SaltsMG is the sodium of rehydration salts, which counts beside that of the food.
	SaltsMG int64
	// FuelML is the water that the fuel can boil in the stoves at hand.
	FuelML int64
	// BoilTreats: the household means to boil water, and has a vessel for it.
	BoilTreats bool
}

// Weather is that of the season, the same every day.
type Weather struct {
	Day, Night float64 // °C
	// Humidity is the mean relative humidity, as a fraction.
	Humidity float64
	Wind     float64 // m/s; 0 where not written
	Daylight int64   // minutes of one day, around noon
}

// Leg is one walk or ride of the route.
type Leg struct {
	ID                       string
	Distance, Climb, Descent float64 // m
	Ground                   string
	Pace                     float64 // s for one kilometre, the family's own; 0: by formula
	// Ride is the speed in m/s of a leg that is ridden, by a vehicle that carries all; 0 on foot. A Pace stands in its place.
	Ride float64
	// Work is, ridden, how many times what it spends at rest a body spends; 0: as awake in camp.
	Work float64
	// Off is what of each body's Load is not carried on the leg, in kg; nil for nothing.
	Off []float64
}

// Source is water on the way.
type Source struct {
	ID     string
	Leg    int     // index of Legs; NoLeg: there all the time
	Along  float64 // m from the start of its leg
	ML     int64   // may be NoEnd
	Clean  bool    // needs no treatment
	Turbid bool
}

// Body is a person or an animal.
type Body struct {
	ID, Name string
	Animal   bool
	Adult    bool
	// Walks is false for those who are carried.
	Walks bool
	// CarriesPack: carries a pack, and so needs a light to walk by.
	CarriesPack bool
	// Pace is the most that they walk at, in m/s; 0: what the formulas say.
	Pace float64
	// Mass of the body, Load of its packs at the start, Extra of what else it carries: what is
	// worn, other people. In kg.
	Mass, Load, Extra float64
	// Of one day: energy at rest (of an animal: all that it spends), what is drunk at rest, sodium.
	RestJ, DrinkML, SodiumMG float64
	// Eats says what feeds it.
	Eats Eats
	// Grazes: finds on the way what it lacks of food.
	Grazes bool
}

// Eats is where a body's food comes from.
type Eats int

// Common food is shared by all who eat of it; an infant or an animal eats its own only; a breastfed
// infant needs none.
const (
	Common Eats = iota
	Own
	Nothing
)

// Food is one entry of food with its whole count; it may be eaten in parts.
type Food struct {
	ID string
	// Carrier is the index of Bodies of whose load it is; Nobody where it is worn or in no pack.
	Carrier int
	// For is the index of the only one who eats it, or Everyone.
	For                      int
	EnergyJ, SodiumMG, NetMG int64
	// CookML is the water to boil for all of it; Cook: it must be prepared, if with none.
	CookML int64
	Cook   bool
	Opened bool
	// Until is the last day that it is good, in days; 0 where not written. Past: that day is over when the plan begins.
	Until int64
	Past  bool
}

// Vessel holds water.
type Vessel struct {
	ID                  string
	Carrier             int // as in Food
	WaterML, CapacityML int64
}

// Treatment makes water safe.
type Treatment struct {
	ID string
	// ML that it can still treat.
	ML int64
	// PerHour is how much it treats in an hour, in ml; 0 where not written.
	PerHour int64
	WaitMin int64
	// Clears tells for each class of organisms whether it counts against it.
	Clears [Classes]bool
	// Filters clears turbid water too; the others need clear or filtered water.
	Filters bool
}

// Classes of organisms: bacteria, viruses, Giardia, Cryptosporidium.
const Classes = 4

// Lamps are all of the household together, with their spare cells.
type Lamps struct {
	Minutes int64
	// Endless: the hours of some lamp are not written, or it needs no cells.
	Endless bool
}

// Medication is taken by the day, in thousandths of a dose.
type Medication struct {
	ID, Name     string
	Body         int
	PerDay, Have int64
}

// Result is what comes of it. Amounts are in ml, J, mg, minutes of light,
// thousandths of a dose and, of fuel, ml brought to the boil.
type Result struct {
	Hours  []Hour
	Events []Event
	// Stocks: one of water, energy, sodium, light and fuel; energy again for each who eats
	// their own food, doses for each medication.
	Stocks []Stock
	Days   []Day
	// Bodies and Legs are as in the input.
	Bodies []BodyResult
	Legs   []LegResult
	// WaterLimit is why water is short; "" where it is not.
	WaterLimit kinds.WaterLimit
	// Uneaten is food that stays where food is short, because it cannot be eaten by those who lack it.
	Uneaten []Uneaten
	// Category is the highest heat category of the US Army's table in the hours walked, and the hour in which it
	// is first reached; 0 for none.
	Category, CategoryHour int
	// HottestHour is the hottest of the hours walked in a heat category, and HeatIndex how hot its air feels in the
	// shade, in °C. HeatBeyond: it is hotter than the heat index is made for, and HeatIndex is 0.
	HottestHour int
	HeatIndex   float64
	HeatBeyond  bool
	// WalkCelsius is the air of that hour, 0 for none.
	WalkCelsius float64
	// RestCategory is the highest heat category in the hours in which nobody walks, and the hour in which it is first reached;
	// RestCelsius the hottest air of these hours, RestBeyond: some are hotter than the heat index is made for.
	RestCategory, RestCategoryHour int
	RestCelsius                    float64
	RestBeyond                     bool
	// NightCelsius is the mean of the hours asleep; Sleeps: there are any, and their weather is known.
	NightCelsius float64
	Sleeps       bool
	// Chill is the lowest wind chill in °C, and its hour; both 0 without weather.
	Chill     float64
	ChillHour int
}

// Hour is one hour of the plan; the last may be a part of one.
type Hour struct {
	Clock    int64 // minute of the day at which it begins
	Activity string
	Leg      int // index, or NoLeg
	WalkMin  int64
	DarkMin  int64
	Celsius  float64
	// At its end: safe water, food for people, what the fuel can still boil, light left.
	WaterML, FoodJ, FuelML, LightMin int64
	SpentJ, DrunkML                  int64 // people; everyone
	LoadMG                           []int64
}

// The activities of an hour; one in which anyone walks is a walk, one in which all else ride a ride.
const (
	Walk  = "walk"
	Halt  = "halt"
	Sleep = "sleep"
	Ride  = "ride"
)

// The kinds of event.
const (
	Leave   = "leave"
	Arrive  = "arrive"
	Collect = "collect"
	Pass    = "pass"
	Short   = "short"
)

// Event is something worth telling.
type Event struct {
	Hour int
	// Until is the last hour of a Collect that goes on.
	Until int
	Kind  string
	// ID is of the leg, the source, or the medication; for other stocks "".
	ID    string
	Stock kinds.Stock // for Short: its kind
	Body  int         // for Short: whose it is, or Everyone
	// Amount is minutes of walking or riding for Leave, ml for Collect, what is lacking in that hour for Short.
	Amount int64
	// Leaves, for Pass, tells for each class of organisms, and last for mud, whether nothing carried clears it.
	Leaves [Classes + 1]bool
}

// Uneaten is food of one stock that stays: for the index of Bodies of the only one who eats it, or Uncooked
// where no fuel is left or no stove burns it.
type Uneaten struct {
	Stock, For int // Stock: as Body of Stock
	J          int64
}

// Stock is how long something lasts.
type Stock struct {
	Kind kinds.Stock
	Body int // index of Bodies for what is one's own, or Everyone
	// ID is the medication's; "" else.
	ID string
	// Lasts is the whole hours until it is first short; all of the plan's where it never is.
	Lasts int
	// First is what is lacking in the hour of the first shortage, Short in the whole plan.
	First, Short int64
	// Have is what there is at the start, Need what the plan needs, Lowest the least left at
	// the end of an hour.
	Have, Need, Lowest int64
	// Of energy: Past is what of Have is past its date and so eaten last; Good, where there is any, is the whole hours until it is
	// begun, those of Lasts where it never is.
	Past int64
	Good int
}

// Day sums one day of the plan: energy and sodium of people, water of everyone.
type Day struct {
	SpentJ, EatenJ int64
	// NeedML is drunk or lacking, FindML what of it is not carried when the day begins.
	NeedML, DrunkML, FindML, CollectedML int64
	SodiumNeedMG, SodiumMG               int64
	WalkMin                              int64
}

// BodyResult is what comes of one person or animal.
type BodyResult struct {
	// MostMG is the heaviest load of packs walked with, at least that of the first walk, or, with no route, of the start; and its hour.
	MostMG            int64
	MostHour          int
	FirstMG, LastMG   int64 // load at the start and at the end
	SpentJ            int64
	DrinkML, SweatML  int64 // needed in the whole plan; lost walking
	SodiumMG, WalkMin int64
}

// LegResult is when a leg was walked; hours are of the plan, or Never.
type LegResult struct {
	Begin, End int
	// WalkMin is the walking that it takes, rests aside; 0 where it was never begun, and of a ride.
	WalkMin int64
	// RideMin is the riding that it takes; 0 where it was never begun, and of a walk.
	RideMin int64
}

// Assumptions are what a reader must know of every forecast.
var Assumptions = []string{
	"Averages of healthy adults by published formulas, not medical advice. Children, old, pregnant and unwell people need more care and often more water: ask a doctor.",
	"Pace: the slower of Naismith's rule in its metric form and Tobler's function of the slope, times the ground, slowed so that a walker tires under the load as fast as without; as fast as the slowest; or the family's own pace. The load is that of the start, and from the first water on that can be made safe that with all containers full, so the same whatever is poured. People under 12, people from 65 on unless in good fitness, and people who are in poor health or walk with an aid go no faster than 1.96 km/h, as people with children or old people did before the tsunami of 2011 (survey of a ministry, 2012, seen second-hand). Fifty minutes of an hour are walked, fewer in the heat; nobody walks longer than twelve hours without eight hours' rest.",
	"The first leg begins at once, each other one by day after an hour's halt; people who ride, or come from a ride, go on at once and by night. A leg by car, van or motorcycle is ridden at 30 km/h, at 9 km/h where a quake or a tsunami is a danger, by bicycle at 12 km/h: planning figures, roads may be shut. People who ride carry nothing. Where nobody walks, people sleep from 22 to 6 o'clock.",
	"Energy: in camp that of a day of light activity by age and sex (UNHCR/WFP 1997), 1.4 times as much an hour awake as asleep; and walking by Pandolf's equation with the load of the hour (downhill by Santee's); a tenth more below freezing. Shivering is not counted.",
	"Drink: the fluids of the daily intake of the US Institute of Medicine, more in a pregnancy and for an infant nursed; in the heat the US Army's work, rest and fluid table for adults who walk, with its caps, and five to nine ounces every 20 minutes for children; half a litre of sweat an hour walked from 25 °C on, a quarter below. At rest it is that intake up to a mean of the day of 20 °C, half as much more at 30 °C and twice as much at 40 °C, for children as well, of whom no figure was found; dry food alone takes up to a quarter more. Water that food is cooked with is part of the drink.",
	"The weather is the season's: coldest at 6, warmest at 15 o'clock, the same every day. Water sources give what is written; foul water is never drunk; treated water waits apart from what may be drunk.",
	"Water that is not from a tap counts as safe only if bacteria, viruses, Giardia and Cryptosporidium are all cleared from it, and where it is turbid the mud too: by one treatment or by several one after the other, each as the CDC grades it, or by boiling. By its grades a filter alone leaves viruses and some bacteria, tablets alone leave Cryptosporidium: if you have one you need the other, or a way to boil, not a second of the same kind.",
	"Food: what is cooked first at meals (7, 12, 19 o'clock), ready food on the way; what was opened or ends soonest first, and what is past its date last of all. Animals eat their own; those that graze, such as horses, find food and water on the way.",
	"Light: everyone with a pack walks by their own light in the dark, and in camp one lamp burns for half of the dark time awake; all lamps and their batteries are one stock, no matter who carries them. On nights below freezing spare alkaline and zinc-carbon batteries give half their hours.",
	"Doses are taken from 8 o'clock on and evenly around the clock; the label and the prescriber decide on the real times.",
}
