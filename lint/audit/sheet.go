package audit

import (
	"fmt"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Sheet is what an audit shows of one household beside its findings, as it also stands in the audit's JSON. Masses are in mg,
// water in ml, energy in J, light in minutes, doses in thousandths, shares in permille, days since 1970-01-01. What has no name in
// JSON is there for the pages only, and has one for the packing, which else would leave it out too.
type Sheet struct {
	// Season is the season planned for, "" where none is; DayMC and NightMC its temperatures in thousandths of a degree Celsius.
	Season  string `json:"season,omitempty"`
	DayMC   int64  `json:"day_mc,omitempty"`
	NightMC int64  `json:"night_mc,omitempty"`
	// Units are those in which amounts are said first; "" is metric, as all figures are.
	Units unit.System `cbor:"units" json:"-"`
	// Minutes is how long the plan lasts, Start the minute of the day at which it begins.
	Minutes int64 `json:"minutes"`
	Start   int64 `json:"start_min"`
	// Assumed says that the plan does not say how long it lasts.
	Assumed bool     `json:"minutes_assumed,omitempty"`
	People  []string `json:"people,omitempty"`
	// LoadP is the heaviest load as a share of its bearer's body mass.
	LoadP int64 `json:"load_permille"`
	// WaterHours is whole hours that water lasts, where WaterKnown.
	WaterHours int64 `json:"water_hours"`
	WaterKnown bool  `json:"water_known"`
	// WaterLeast: there may be more water, which is not recorded.
	WaterLeast bool `json:"water_least,omitempty"`
	// FoundML is the water that is taken on the way; CarriedHours is how many whole hours water lasts where none is, where WaterKnown.
	FoundML      int64 `json:"found_ml,omitempty"`
	CarriedHours int64 `json:"carried_hours"`
	// RoomMG is what all carriers could still take below their caps.
	RoomMG int64 `json:"room_mg,omitempty"`
	// UnweighedP is the share of what is carried and worn that was never weighed.
	UnweighedP int64 `json:"unweighed_permille,omitempty"`
	// FoodMG is the packed mass of the food for people, FoodJ its energy.
	FoodMG    int64           `json:"food_mg,omitempty"`
	FoodJ     int64           `json:"food_j,omitempty"`
	Bearers   []Bearer        `json:"bearers,omitempty"`
	Hours     Hours           `json:"hours,omitzero" bound:"-"` // as many as the plan has hours, which the schema bounds
	Stocks    []finding.Stock `json:"stocks,omitempty"`
	Abilities []Ability       `json:"abilities,omitempty"`
	Points    []finding.Point `cbor:"points" json:"-"`
	// Due are in the order of their days.
	Due      []Due        `json:"due,omitempty"`
	Waivers  []WaiverLine `json:"waivers,omitempty"`
	Practice Practice     `json:"practice,omitzero"`
	// Things are what the things of each capability weigh, for what such a thing usually weighs in a group.
	Things []Thing `cbor:"things" json:"-"`
}

// Bearer is a person or an animal that carries packs.
type Bearer struct {
	Name   string `json:"name"`
	BodyMG int64  `json:"body_mg"`
	LoadMG int64  `json:"load_mg"`
	BaseMG int64  `json:"base_mg"`
	// LoadLeast: a mass in the load is not known, so it is at least so much. BodyAssumed: BodyMG is a figure to plan with.
	LoadLeast   bool `json:"load_at_least,omitempty"`
	BodyAssumed bool `json:"body_assumed,omitempty"`
	// CapMG is the most load that is allowed, CapP the same as a share of body mass; Own says that the household set it.
	CapMG int64 `json:"cap_mg"`
	CapP  int64 `json:"cap_permille"`
	Own   bool  `json:"own_cap"`
	// MostMG is the heaviest load on the way, in hour MostHour of the plan.
	MostMG   int64 `json:"most_mg"`
	MostHour int64 `json:"most_hour"`
	OnBodyMG int64 `json:"on_body_mg"`
	// Animals are those in the load that are carried.
	Animals []BorneAnimal `json:"animals,omitempty"`
	Packs   []PackLoad    `json:"packs"`
}

// BorneAnimal is an animal that someone carries. Assumed: nobody wrote who, and its carrier lies in that person's pack.
type BorneAnimal struct {
	Name    string `json:"name"`
	MassMG  int64  `json:"mass_mg"`
	Assumed bool   `json:"assumed,omitempty"`
}

// PackLoad is a pack with its parts.
type PackLoad struct {
	Name    string     `json:"name"`
	MassMG  int64      `json:"mass_mg"`
	EmptyMG int64      `json:"empty_mg"`
	Parts   []PartLoad `json:"parts"`
}

// PartLoad is a compartment.
type PartLoad struct {
	Name   string      `json:"name"`
	Reach  kinds.Reach `json:"reach"`
	MassMG int64       `json:"mass_mg"`
}

// Hours are the hours of the plan, one value each.
type Hours struct {
	// Doing has a letter for each hour: w walk, h halt, z sleep, r ride. Dark has # for an hour dark for half of it or more, else a dot;
	// it is empty where no season is planned for.
	Doing string `json:"doing"`
	Dark  string `json:"dark,omitempty"`
	// At the end of each hour: safe water, food for people, what the fuel can still boil, light left.
	WaterML  []int64 `json:"water_ml"`
	FoodJ    []int64 `json:"food_j"`
	FuelML   []int64 `json:"fuel_ml"`
	LightMin []int64 `json:"light_min"`
}

// Ability is a capability, and who has it.
type Ability struct {
	Capability kinds.Capability `json:"capability"`
	// Means are the different physical ways of the household; By counts those that each person has alone, in the order of People.
	Means []string `json:"means,omitempty"`
	By    []int64  `json:"by_person,omitempty"`
	// Hangs is whether the household's hangs on a single thing, HangsBy whether each person's alone does.
	Hangs   bool   `json:"single"`
	HangsBy []bool `json:"single_by_person,omitempty"`
}

// Due is a date that matters.
type Due struct {
	// Spot names it.
	Spot string `json:"spot"`
	Name string `json:"name,omitempty"`
	// Where names the pack that it is in, or who wears it.
	Where string     `json:"where,omitempty"`
	Kind  kinds.Date `json:"kind"`
	Day   int64      `json:"day"`
	// Medicine says that it is a person's medication.
	Medicine bool        `json:"medicine,omitempty"`
	At       source.Span `cbor:"at" json:"-"`
}

// WaiverLine is a waiver as written, whether it covers something or not.
type WaiverLine struct {
	Rule   string      `json:"rule"`
	Spot   string      `json:"spot,omitempty"`
	Reason string      `json:"reason"`
	Agreed string      `json:"agreed,omitempty"`
	Until  int64       `json:"until_day"`
	At     source.Span `cbor:"at" json:"-"`
}

// Practice is when the kits were last weighed and looked through, and the walks with them.
type Practice struct {
	WeighedKnown bool           `json:"weighed_known"`
	Weighed      int64          `json:"weighed_day,omitempty"`
	AuditedKnown bool           `json:"audited_known"`
	Audited      int64          `json:"audited_day,omitempty"`
	Walks        []PracticeWalk `json:"walks,omitempty"`
}

// PracticeWalk is a walk with the packs.
type PracticeWalk struct {
	Day        int64 `json:"day"`
	DistanceMM int64 `json:"distance_mm"`
	LoadKnown  bool  `json:"load_known"`
	LoadMG     int64 `json:"load_mg,omitempty"`
}

// Thing is what the things of a capability weigh in a household, each.
type Thing struct {
	Capability kinds.Capability
	EachMG     []int64
}

// DueText says what falls due.
func DueText(d *Due) string {
	name := words.Clean(d.Name)
	if d.Where != "" {
		name += " (" + words.Clean(d.Where) + ")"
	}
	if d.Medicine {
		name = "medicine: " + name
	}
	return fmt.Sprintf(d.Kind.Row().Due, name)
}

// RowNouns says what the lists of a sheet hold, by the names of their fields.
func (*Sheet) RowNouns() map[string]string {
	return map[string]string{
		"Due": "dates", "Waivers": "waivers", "People": "people", "Bearers": "people who carry a pack", "Packs": "packs", "Parts": "compartments",
		"Stocks": "stocks", "Walks": "practice walks", "Means": "means", "Points": "single points of failure", "EachMG": "things of one kind",
		"By": "people", "HangsBy": "people",
	}
}
