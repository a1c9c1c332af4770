package facts

import (
	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
)

// Facts is what is true of one kit, in numbers, in the shape the rules read:
// arrays of records with an id, whole numbers of the unit in the field's name
// (mg, ml, j for joules, min, days since 1970-01-01, permille of 1), no null, no
// map, an empty string or zero where nothing is written and a *_known flag where
// zero would lie. An id is a spot, see source.Spot; the ledger leads it to its lines.
type Facts struct {
	Audit        Audit          `json:"audit"`
	Household    Household      `json:"household"`
	Plan         Plan           `json:"plan"`
	People       []Person       `json:"people"`
	Animals      []Animal       `json:"animals"`
	Carriers     []Carrier      `json:"carriers"`
	Packs        []Pack         `json:"packs"`
	Vehicles     []Vehicle      `json:"vehicles"`
	Compartments []Compartment  `json:"compartments"`
	Items        []Item         `json:"items"`
	Capabilities []Capability   `json:"capabilities"`
	Useless      []Useless      `json:"useless"`
	Foods        []FoodItem     `json:"foods"`
	Vessels      []Vessel       `json:"vessels"`
	Treatments   []Treatment    `json:"treatments"`
	Fuels        []FuelItem     `json:"fuels"`
	Stoves       []StoveItem    `json:"stoves"`
	Insulation   []Insulation   `json:"insulation"`
	Sized        []Sized        `json:"sized"`
	Radios       []RadioItem    `json:"radios"`
	Papers       []Paper        `json:"papers"`
	Medicines    []MedicineItem `json:"medicines"`
	Medications  []Medication   `json:"medications"`
	// AnimalMedications are the same of animals; Person is then the animal.
	AnimalMedications []Medication `json:"animal_medications"`
	Consumables       []Consumable `json:"consumables"`
	CareDevices       []CareDevice `json:"care_devices"`
	Allergies         []Allergy    `json:"allergies"`
	Devices           []Device     `json:"devices"`
	Cells             []Cells      `json:"cells"`
	Dates             []Dated      `json:"dates"`
	Endurance         Endurance    `json:"endurance"`
	Record            Record       `json:"record"`
	Weighings         []Weighing   `json:"weighings"`
	// What looks like a slip of the pen, and what can be dropped in seconds.
	Twins []Twin `json:"twins"`
	// Idle are the things of which neither anything written nor their names say a use.
	Idle       []Named      `json:"idle"`
	Unrecorded []Unrecorded `json:"unrecorded"`
	Absent     []Absent     `json:"absent"`
	Future     []Future     `json:"future"`
	QuickItems []QuickItem  `json:"quick_items"`
	// Asked are the lines of official lists that the kit is held against.
	Asked []Asked `json:"asked"`
	// Limits are those that stand in the place of the base standard's or of a later one's: a later standard's, or the household's own stricter ones.
	Limits []OwnLimit `json:"limits"`
}

// Audit is the day that the kit is judged for.
type Audit struct {
	On    string `json:"on"`
	OnDay int64  `json:"on_day"`
	// Units are those in which amounts are said first; they change no verdict.
	Units unit.System `json:"units"`
}

// Supply is what a group of items holds. The same numbers are made for each
// pack, for each person alone (what they wear and the packs they carry) and for
// the whole household.
type Supply struct {
	WaterML     int64 `json:"water_ml"`     // carried at the start
	ContainerML int64 `json:"container_ml"` // containers' capacity
	// Known: no part is unknown. Where one is, the sum is at least what it says.
	ContainerKnown  bool  `json:"container_known"`
	FoodEnergyKnown bool  `json:"food_energy_known"`
	FuelKnown       bool  `json:"fuel_known"`
	FireSafeML      int64 `json:"fire_safe_ml"` // of containers that may be put on a fire
	// Food for people; food meant for an animal is counted at the animal.
	FoodEnergyJ   int64 `json:"food_energy_j"`
	NoCookEnergyJ int64 `json:"no_cook_energy_j"`
	PastEnergyJ   int64 `json:"past_energy_j"` // of this, food past its date
	FoodMassMG    int64 `json:"food_mass_mg"`
	SodiumMG      int64 `json:"sodium_mg"`
	ProteinMG     int64 `json:"protein_mg"`
	CookWaterML   int64 `json:"cook_water_ml"` // that the cooked food asks for
	FuelMassMG    int64 `json:"fuel_mass_mg"`
	// BoilableML is the water that the fuel can bring from 20 to 100 °C in the
	// stoves at hand; fuel that no stove burns counts nothing.
	BoilableML int64 `json:"boilable_ml"`
	// Litres treatable at CDC's grade "high" or better, by organism class; 1000000000 where no end is stated.
	TreatBacteriaML int64 `json:"treat_bacteria_ml"`
	TreatVirusesML  int64 `json:"treat_viruses_ml"`
	TreatGiardiaML  int64 `json:"treat_giardia_ml"`
	TreatCryptoML   int64 `json:"treat_crypto_ml"`
	// Can lists capabilities by name; a capability that nothing offers is not listed.
	Can []Can `json:"can"`
	// FirstAid lists first-aid contents by kind.
	FirstAid []Content `json:"first_aid"`
}

// Can is one capability within a Supply.
type Can struct {
	ID         string           `json:"id"`
	Capability kinds.Capability `json:"capability"`
	// Means are the different physical ways, sorted: two lighters are one means.
	Means      []string `json:"means"`
	MeansCount int64    `json:"means_count"`
	Items      []string `json:"items"`
}

// Content is a count of one kind of first-aid content.
type Content struct {
	Kind  string `json:"kind"`
	Count int64  `json:"count"`
}

// Household holds the totals.
type Household struct {
	ID           string `json:"id"`
	Name         string `json:"name"`
	PeopleCount  int64  `json:"people_count"`
	AdultCount   int64  `json:"adult_count"`
	ChildCount   int64  `json:"child_count"`
	AnimalCount  int64  `json:"animal_count"`
	PackCount    int64  `json:"pack_count"`
	ItemCount    int64  `json:"item_count"`
	MassMG       int64  `json:"mass_mg"`    // packs and on-body things together
	MassKnown    bool   `json:"mass_known"` // of everything; else the masses are at least what they say
	LoadMG       int64  `json:"load_mg"`    // packs alone
	OnBodyMG     int64  `json:"on_body_mg"`
	BaseMG       int64  `json:"base_mg"`        // packs less water, food and fuel
	FoodPackedMG int64  `json:"food_packed_mg"` // food for people with its packaging
	UnweighedMG  int64  `json:"unweighed_mg"`
	PlanMin      int64  `json:"plan_min"`
	NeedML       int64  `json:"need_ml"`        // water of everyone, people and animals that find none, one day in the season planned for
	NeedJ        int64  `json:"need_j"`         // food energy of all people, one day in camp
	RestEnergyJ  int64  `json:"rest_energy_j"`  // all people, one day at rest
	SweatMG      int64  `json:"sweat_mg"`       // sodium lost in sweat on the plan's walks, all walkers
	WalkMin      int64  `json:"walk_min"`       // of the plan's legs on foot, Naismith's rule
	AnimalFoodJ  int64  `json:"animal_food_j"`  // food meant for animals
	AnimalNeedJ  int64  `json:"animal_need_j"`  // all animals, one day
	AnimalNeedML int64  `json:"animal_need_ml"` // water, all animals, one day
	// Has names all that the household has, in words that lines of official lists use: see lint/measure/listwords.go.
	Has    []string `json:"has"`
	Supply Supply   `json:"supply"`
}

// Plan is what the packs must be enough for.
type Plan struct {
	ID             string      `json:"id"`
	Minutes        int64       `json:"minutes"`
	MinutesSet     bool        `json:"minutes_known"` // the family wrote how long
	Unread         []string    `json:"unread"`        // what is written and could not be read, as the family's fields
	Season         string      `json:"season"`
	SeasonKnown    bool        `json:"season_known"`
	DayMC          int64       `json:"day_mc"`   // thousandths of a degree Celsius
	NightMC        int64       `json:"night_mc"` // thousandths of a degree Celsius
	Humidity       int64       `json:"humidity_permille"`
	HumidityKnown  bool        `json:"humidity_known"`
	SeasonEndKnown bool        `json:"season_end_known"`
	SeasonEndDay   int64       `json:"season_end_day"`
	DarkMin        int64       `json:"dark_min"` // of one night
	DarkTotal      int64       `json:"dark_total_min"`
	Settings       []string    `json:"settings"`
	AltitudeMM     int64       `json:"altitude_mm"`
	LowProfile     bool        `json:"low_profile"`
	Hazards        []string    `json:"hazards"`
	Shade          bool        `json:"shade"` // the heat of the day can be waited out in a cool place
	Destination    Destination `json:"destination"`
	DistanceMM     int64       `json:"distance_mm"`
	ClimbMM        int64       `json:"climb_mm"`
	Sources        []Source    `json:"water_sources"`
	// WaterSaid: the plan names water on the way, or says that there is none.
	WaterSaid bool `json:"water_said"`
	// Thirsty: the season planned for is so hot that people drink more at rest.
	Thirsty bool `json:"thirsty"`
	// WaterNamed: the plan says where water comes from, by a source that may be drunk, a place where it awaits, or a route.
	WaterNamed     bool    `json:"water_named"`
	Legs           []Leg   `json:"legs"` // in the order walked
	Meetings       int64   `json:"meeting_points"`
	Places         []Place `json:"meeting_places"` // the same one by one
	Contacts       int64   `json:"contacts"`
	OutOfArea      int64   `json:"contacts_out_of_area"`
	WarningKnown   bool    `json:"warning_known"`
	WarningMin     int64   `json:"warning_min"` // before a danger is there
	Ways           int64   `json:"ways"`        // out of the place; 0 where not written
	HomeAltKnown   bool    `json:"home_altitude_known"`
	HomeAltMM      int64   `json:"home_altitude_mm"` // above the sea
	HomeFloorKnown bool    `json:"home_floor_known"`
	HomeFloor      int64   `json:"home_floor"` // 0 at the ground
	HomeLift       bool    `json:"home_lift"`
	// Ridden: there are legs, and none is on foot.
	Ridden bool `json:"ridden"`
	// Of the legs on foot; FootMin is 0 where none is written. The time is the forecast's, as fast as the slowest
	// walker under their load; of a leg that the plan does not reach, that by Naismith's rule.
	FootMM  int64 `json:"foot_mm"`
	FootMin int64 `json:"foot_min"`
}

// Leg is one walk or ride of the route.
type Leg struct {
	ID         string `json:"id"`
	By         string `json:"by"`     // the vehicle's id; "" on foot
	Ridden     bool   `json:"ridden"` // nobody walks on it
	Stairs     int64  `json:"stairs"` // steps
	RideMin    int64  `json:"ride_min"`
	DistanceMM int64  `json:"distance_mm"`
	ClimbMM    int64  `json:"climb_mm"`
	DescentMM  int64  `json:"descent_mm"`
	Ground     string `json:"ground"`
	WalkMin    int64  `json:"walk_min"` // 0 where it is ridden
	// As the forecast walks it, under the load and over the ground; hours of the plan, -1 for never.
	Arrives   bool  `json:"arrives"`
	BeginHour int64 `json:"begin_hour"`
	EndHour   int64 `json:"end_hour"`
	OnFootMin int64 `json:"on_foot_min"`
}

// Place is a meeting point.
type Place struct {
	ID            string `json:"id"`
	Key           string `json:"key"`
	AltitudeKnown bool   `json:"altitude_known"`
	AltitudeMM    int64  `json:"altitude_mm"` // above the sea
	// SafeFrom are the dangers of the place that do not reach it.
	SafeFrom []string `json:"safe_from"`
}

// Destination is what awaits the household at the end of the last leg.
type Destination struct {
	Known bool   `json:"known"`
	Kind  string `json:"kind"` // "house", "shelter", "camp" or ""
	Water bool   `json:"water"`
	Food  bool   `json:"food"`
	Beds  bool   `json:"beds"`
}

// Source is water on the way.
type Source struct {
	ID string `json:"id"`
	// Quality is what the water must be taken for: after a flood or a quake a tap is "clear", which is to be treated;
	// after a fire or an industrial accident all of it is "foul". Written is what the family wrote.
	Quality string `json:"quality"`
	Written string `json:"written"`
	ML      int64  `json:"ml"`
	MLKnown bool   `json:"ml_known"`
	Leg     string `json:"leg"` // the id of the leg that it lies on, or ""
	Key     bool   `json:"key"` // takes a tap key
}

// Person is a member of the household.
type Person struct {
	ID            string   `json:"id"`
	Key           string   `json:"key"`
	Name          string   `json:"name"`
	AgeKnown      bool     `json:"age_known"`
	AgeMonths     int64    `json:"age_months"`
	Adult         bool     `json:"adult"` // 18 or older on the audit date
	Sex           string   `json:"sex"`
	Fitness       string   `json:"fitness"`
	Carries       bool     `json:"carries"`
	Glasses       bool     `json:"glasses"`
	BodyMassMG    int64    `json:"body_mass_mg"`
	BodyMassKnown bool     `json:"body_mass_known"` // else BodyMassMG is a planning figure
	PackCount     int64    `json:"pack_count"`
	Packs         []string `json:"packs"`
	RestEnergyJ   int64    `json:"rest_energy_j"` // one day at rest
	RestBy        string   `json:"rest_by"`       // the formula used
	Alone         Supply   `json:"alone"`
	Allergies     []string `json:"allergies"`        // by the words food names them with
	Severe        []string `json:"severe_allergies"` // of these, those that can threaten life
	Licences      []string `json:"licences"`         // services of the licences valid on the audit date
	Needs         []string `json:"needs"`            // ids
	Diets         []string `json:"diets"`
	Breastfed     bool     `json:"breastfed"`
	Fed           string   `json:"fed"`     // "breast", "formula", "mixed", "solids" or ""
	Nursing       []string `json:"nursing"` // ids of the infants whom she nurses, those that count as hers too
	Pregnant      bool     `json:"pregnant"`
	DueKnown      bool     `json:"due_known"`
	DueDay        int64    `json:"due_day"`
	// DueDays are the days from the audit date to DueDay, less than 0 where it is past. Rules that ask how near it is read them and not
	// the day of the audit, so that for everyone else they have the same to say tomorrow.
	DueDays int64 `json:"due_days"`
	// Acclimatised: used to the heat, as the family says.
	Acclimatised bool `json:"acclimatised"`
	// What a day in camp needs in the season planned for: water to drink, in the heat of that season; food energy at light
	// activity; sodium. Of an infant who is nursed by nobody who is written, what its mother needs more.
	WaterML    int64    `json:"water_ml"`
	FeedML     int64    `json:"feed_ml"` // made-up formula that an infant drinks in a day; 0 where it is not fed with formula
	EnergyJ    int64    `json:"energy_j"`
	SodiumMG   int64    `json:"sodium_mg"`
	Nappies    bool     `json:"nappies"`    // false: needs none, whatever the age
	CarriedBy  string   `json:"carried_by"` // id of the person who carries this one, or ""
	Conditions []string `json:"conditions"`
	MustNot    []string `json:"must_not"`  // ways to treat water
	Moves      string   `json:"moves"`     // how they get about; "" where not written
	HelpedBy   string   `json:"helped_by"` // id of the person who pushes or guides this one, or ""
	Hears      string   `json:"hears"`     // "no", "badly" or ""
	Sees       string   `json:"sees"`
	AidCount   int64    `json:"hearing_aids"`
	AidSize    string   `json:"hearing_aid_size"` // of the cell that each takes, or "usb"; "" where there are none
	// With are the ids of the people of this household who are always beside this one.
	With []string `json:"with"`
}

// Animal goes with the household.
type Animal struct {
	ID         string `json:"id"`
	Key        string `json:"key"`
	Name       string `json:"name"`
	Species    string `json:"species"`
	BodyMassMG int64  `json:"body_mass_mg"`
	NeedJ      int64  `json:"need_j"`  // food energy, one day
	NeedML     int64  `json:"need_ml"` // water, one day in the season planned for
	Drinks     bool   `json:"drinks"`  // of what is carried: it finds none on the way
	FoodJ      int64  `json:"food_j"`  // packed for it
	AgeKnown   bool   `json:"age_known"`
	AgeMonths  int64  `json:"age_months"`
	Fitness    string `json:"fitness"`
	Carries    bool   `json:"carries"`
	Chip       bool   `json:"chip"` // the number of its chip is written
	// CarriedBy is the id of the person who carries it, or ""; where CarriedWritten is false, of the one in whose pack its carrier lies.
	CarriedBy      string `json:"carried_by"`
	CarriedWritten bool   `json:"carried_by_written"`
	// CrateRides: a carrier that may be its own lies in a vehicle or cart, or on another animal's back.
	CrateRides bool `json:"crate_rides"`
}

// Carrier is a person or an animal that carries at least one pack, or may.
type Carrier struct {
	ID            string `json:"id"`   // the person's or animal's
	Kind          string `json:"kind"` // "person" or "animal"
	Key           string `json:"key"`
	Name          string `json:"name"`
	Adult         bool   `json:"adult"`
	AgeKnown      bool   `json:"age_known"`
	AgeMonths     int64  `json:"age_months"`
	Species       string `json:"species"`
	Fitness       string `json:"fitness"`
	Carries       bool   `json:"carries"`
	BodyMassMG    int64  `json:"body_mass_mg"`
	BodyMassKnown bool   `json:"body_mass_known"` // else BodyMassMG is a planning figure
	LoadKnown     bool   `json:"load_known"`      // else the load is at least what it says
	LoadID        string `json:"load_id"`         // the ledger's entry of the load
	LoadMG        int64  `json:"load_mg"`         // all packs and the animals that are carried; what is worn or pocketed is not load
	OnBodyMG      int64  `json:"on_body_mg"`
	// FootUG and BodyUG are what load caps compare, in micrograms, so that nothing is rounded: the most of the load that is
	// carried on a leg on foot, all of it where there is no route; and the body's mass.
	FootUG int64 `json:"foot_ug"`
	FootMG int64 `json:"foot_mg"` // FootUG to the nearest, for words
	BodyUG int64 `json:"body_mass_ug"`
	// GearMG is what is worn or pocketed that is no clothing and no shoe; GearID is the heaviest entry of it.
	GearMG int64  `json:"gear_mg"`
	GearID string `json:"gear_id"`
	// Spare are things in the packs that no rule needs, Movable those that serve as well on
	// another back, without food and what is someone's own; heaviest first, a few.
	Spare    []Burdensome `json:"spare"`
	Movable  []Burdensome `json:"movable"`
	BaseMG   int64        `json:"base_mg"`
	ShareP   int64        `json:"share_permille"` // load on foot of body mass, rounded up, so that it exceeds a cap in permille where the load does
	CapKnown bool         `json:"cap_known"`      // the family overrides the standard's cap
	CapP     int64        `json:"cap_permille"`
	CapID    string       `json:"cap_id"`
	Packs    []string     `json:"packs"`
	QuickMG  int64        `json:"quick_shed_mg"` // of the load, can be dropped in seconds
	QuickIDs []string     `json:"quick_shed_ids"`
	// CarriedMG is the mass of the people who are carried, with what they carry and wear; it is not in LoadMG.
	CarriedMG  int64    `json:"carried_mg"`
	CarriedIDs []string `json:"carried_ids"` // the people's
	// AnimalsMG is the mass of the animals that are carried; it is in LoadMG.
	AnimalsMG int64    `json:"animals_mg"`
	AnimalIDs []string `json:"animal_ids"`
}

// Burdensome is a thing that makes a load lighter where it stays or goes to another.
type Burdensome struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	MassMG int64  `json:"mass_mg"` // of all its count, without drinking water
}

// Vehicle takes people or things part of the way.
type Vehicle struct {
	ID           string   `json:"id"`
	Key          string   `json:"key"`
	Name         string   `json:"name"`
	Kind         string   `json:"kind"`
	Ridden       bool     `json:"ridden"` // people go in or on it
	Used         bool     `json:"used"`   // a leg is gone by it
	UsedMM       int64    `json:"used_mm"`
	PayloadKnown bool     `json:"payload_known"`
	PayloadMG    int64    `json:"payload_mg"`
	LoadMG       int64    `json:"load_mg"` // of the packs that ride in it
	Seats        int64    `json:"seats"`   // 0 where not written
	ChildSeats   int64    `json:"child_seats"`
	ChildKnown   bool     `json:"child_seats_known"`
	TakesChair   bool     `json:"takes_chair"`
	ChairKnown   bool     `json:"takes_chair_known"`
	RangeKnown   bool     `json:"range_known"`
	RangeMM      int64    `json:"range_mm"`
	Packs        []string `json:"packs"`
	// Only are the needs of which all that the household has stays in it when it is lost: in packs that nobody carries or that
	// are kept in the car.
	Only []string `json:"only"`
}

// Pack is one load.
type Pack struct {
	ID               string   `json:"id"`
	Key              string   `json:"key"`
	Name             string   `json:"name"`
	Carrier          string   `json:"carrier"` // the carrier's id
	CarrierKind      string   `json:"carrier_kind"`
	CarrierName      string   `json:"carrier_name"`
	CarrierAdult     bool     `json:"carrier_adult"`
	CarrierAgeMonths int64    `json:"carrier_age_months"` // 0 where not known
	Vehicle          string   `json:"vehicle"`            // the id of the one it rides in, or ""
	Kept             string   `json:"kept"`               // where until the household leaves, or ""
	FootMG           int64    `json:"foot_mg"`            // its mass where it is carried on a leg on foot or on the back by bicycle, or there is no route; else 0
	MassID           string   `json:"mass_id"`
	MassMG           int64    `json:"mass_mg"` // as carried: empty pack, pouches, items, water
	EmptyMG          int64    `json:"empty_mg"`
	BaseMG           int64    `json:"base_mg"`
	WaterMG          int64    `json:"water_mg"`
	UnweighedMG      int64    `json:"unweighed_mg"`
	Unweighed        []string `json:"unweighed_ids"` // heaviest first
	MassKnown        bool     `json:"mass_known"`    // else it is at least what it says
	NoMass           []Named  `json:"no_mass"`       // of which no mass is written
	QuickMG          int64    `json:"quick_shed_mg"`
	Weighed          bool     `json:"weighed"` // the empty pack, on a scale
	Frame            bool     `json:"frame"`
	HipBelt          bool     `json:"hip_belt"`
	Style            string   `json:"style"`
	Colours          []string `json:"colours"`
	Supply           Supply   `json:"supply"`
}

// Compartment is a part of a pack.
type Compartment struct {
	ID          string      `json:"id"`
	Pack        string      `json:"pack"`
	Name        string      `json:"name"`
	Reach       kinds.Reach `json:"reach"`
	For         string      `json:"for"`
	MassID      string      `json:"mass_id"`
	MassMG      int64       `json:"mass_mg"`
	MassKnown   bool        `json:"mass_known"` // else it is at least what it says
	BudgetKnown bool        `json:"budget_known"`
	BudgetMG    int64       `json:"budget_mg"`
	QuickShed   bool        `json:"quick_shed"`
	Waterproof  bool        `json:"waterproof"`
}

// Item is one entry of a compartment, or one worn or pocketed by a person. What
// few items have stands in a list of its own, under the item's id.
type Item struct {
	ID          string             `json:"id"`
	Name        string             `json:"name"`
	Pack        string             `json:"pack"`        // "" when on a body
	Compartment string             `json:"compartment"` // "" when on a body
	Person      string             `json:"person"`      // the wearer's id; "" when in a pack
	Carrier     string             `json:"carrier"`     // who has it: the wearer, or the pack's carrier
	Reach       kinds.Reach        `json:"reach"`
	Count       int64              `json:"count"`
	MassMG      int64              `json:"mass_mg"` // of all Count, water included
	EachMG      int64              `json:"each_mg"`
	MassKnown   bool               `json:"mass_known"` // else its mass is that of the water, food and fuel in it
	WaterML     int64              `json:"water_ml"`
	Weighed     bool               `json:"weighed"`
	Can         []kinds.Capability `json:"can"`   // by name
	Owner       string             `json:"owner"` // the owner's id
	Shared      bool               `json:"shared"`
	QuickShed   bool               `json:"quick_shed"` // by itself or with its compartment
	Pinned      bool               `json:"pinned"`
	Worth       int64              `json:"worth"`
	Waterproof  bool               `json:"waterproof"`  // by itself or with its compartment
	LastMinute  bool               `json:"last_minute"` // stays at home until the household leaves
	Noisy       bool               `json:"noisy"`
	Colour      string             `json:"colour"`
	Visibility  string             `json:"visibility"`
}

// Capability is one thing that items of the household can do, with the items that do it.
type Capability struct {
	Capability kinds.Capability `json:"capability"`
	Count      int64            `json:"count"` // of all offers
	Offers     []Offer          `json:"offers"`
}

// Offer is an item with one capability.
type Offer struct {
	ID          string      `json:"id"` // the item's
	Name        string      `json:"name"`
	Means       string      `json:"means"`
	Count       int64       `json:"count"`
	Pack        string      `json:"pack"`
	Compartment string      `json:"compartment"`
	Person      string      `json:"person"`
	Carrier     string      `json:"carrier"`
	Owner       string      `json:"owner"`
	Whose       string      `json:"whose"` // id of whom it is for: whom it fits, its owner, its wearer; "" where it is anyone's
	Place       string      `json:"place"` // outside the packs: "bed", "door" or ""
	Reach       kinds.Reach `json:"reach"`
	Waterproof  bool        `json:"waterproof"`
}

// Useless is something that cannot do what it is for, and so counts as absent in every Supply of its
// carrier, and in the household's where Household says so.
type Useless struct {
	ID         string           `json:"id"` // where it is written what it is for
	Item       string           `json:"item"`
	Name       string           `json:"name"`
	Capability kinds.Capability `json:"capability"` // "" of food
	Means      string           `json:"means"`
	Pack       string           `json:"pack"`
	Carrier    string           `json:"carrier"`
	Why        kinds.Useless    `json:"why"`
	Words      string           `json:"words"` // the same as the end of a sentence that begins with the thing
	// Household: nothing of anyone helps; false where it is of no use to its carrier alone.
	Household bool `json:"household"`
	// Cause is what is to be changed where it is not the thing as a whole, or "": the gas that does not burn in the cold,
	// with its name, or a field.
	Cause     string `json:"cause"`
	CauseName string `json:"cause_name"`
}

// FoodItem is something to eat. Amounts are of all Count.
type FoodItem struct {
	ID             string      `json:"id"`
	Name           string      `json:"name"`
	Pack           string      `json:"pack"`
	Compartment    string      `json:"compartment"`
	Carrier        string      `json:"carrier"`
	Reach          kinds.Reach `json:"reach"`
	For            string      `json:"for"` // id of the person or animal it is meant for; "": everyone
	ForAnimal      bool        `json:"for_animal"`
	EnergyJ        int64       `json:"energy_j"`
	EnergyKnown    bool        `json:"energy_known"`
	MassMG         int64       `json:"mass_mg"`     // as packed, without drinking water
	NetMassMG      int64       `json:"net_mass_mg"` // without packaging; MassMG where not written
	NetKnown       bool        `json:"net_known"`
	MassKnown      bool        `json:"mass_known"` // as packed or without packaging
	SodiumMG       int64       `json:"sodium_mg"`
	SodiumKnown    bool        `json:"sodium_known"`
	ProteinMG      int64       `json:"protein_mg"`
	Cook           bool        `json:"cook"`
	CookWaterML    int64       `json:"cook_water_ml"`
	CookMin        int64       `json:"cook_min"` // of one
	Canned         bool        `json:"canned"`   // takes an opener
	Opens          bool        `json:"opens"`    // takes none, or the household has one
	Allergens      []string    `json:"allergens"`
	AllergensKnown bool        `json:"allergens_known"` // the family wrote them, if only that there are none
	Suits          []string    `json:"suits"`           // the diets it is right for
	Harms          []string    `json:"harms"`           // species
	Formula        string      `json:"formula"`         // "ready", "powder" or ""
	DrinkML        int64       `json:"drink_ml"`        // of ready formula, a gram for a millilitre; 0 else
	Dated          bool        `json:"dated"`           // a last day or a day of exchange is written
	LastMinute     bool        `json:"last_minute"`     // fresh: it stays at home until the household leaves
}

// Vessel holds water, or could. Amounts are of all Count.
type Vessel struct {
	ID            string      `json:"id"`
	Name          string      `json:"name"`
	Pack          string      `json:"pack"`
	Compartment   string      `json:"compartment"`
	Carrier       string      `json:"carrier"`
	Reach         kinds.Reach `json:"reach"`
	Count         int64       `json:"count"`
	CapacityML    int64       `json:"capacity_ml"`
	CapacityKnown bool        `json:"capacity_known"` // else it is the water in it
	WaterML       int64       `json:"water_ml"`
	MassMG        int64       `json:"mass_mg"` // without the water
	MassKnown     bool        `json:"mass_known"`
	FireSafe      bool        `json:"fire_safe"`
	Rigid         bool        `json:"rigid"`
	Dated         bool        `json:"dated"`       // a last day or a day of exchange is written
	LastMinute    bool        `json:"last_minute"` // fresh: it is filled when the household leaves
}

// Treatment makes water safe.
type Treatment struct {
	ID        string `json:"id"`
	Name      string `json:"name"`
	Pack      string `json:"pack"`
	Carrier   string `json:"carrier"`
	Method    string `json:"method"`
	ML        int64  `json:"ml"` // that all Count can still treat; 1000000000 where no end is stated, 0 for boil
	WaitKnown bool   `json:"wait_known"`
	WaitMin   int64  `json:"wait_min"`
	Works     bool   `json:"works"` // it is not listed as useless for the whole household
}

// FuelItem holds fuel.
type FuelItem struct {
	ID          string `json:"id"`
	Name        string `json:"name"`
	Pack        string `json:"pack"`
	Compartment string `json:"compartment"`
	Carrier     string `json:"carrier"`
	Kind        string `json:"kind"`
	MassMG      int64  `json:"mass_mg"` // of the fuel, of as many as Count says together
	MassKnown   bool   `json:"mass_known"`
}

// StoveItem burns fuel.
type StoveItem struct {
	ID          string   `json:"id"`
	Name        string   `json:"name"`
	Pack        string   `json:"pack"`
	Compartment string   `json:"compartment"`
	Carrier     string   `json:"carrier"`
	Burns       []string `json:"burns"`
	Cooks       bool     `json:"cooks"` // it also says that it can cook
}

// Sized is a thing that a child outgrows.
type Sized struct {
	ID        string `json:"id"`
	Name      string `json:"name"`
	Kind      string `json:"kind"`  // "shoes" or "jacket"
	Whose     string `json:"whose"` // as of Offer
	SizeKnown bool   `json:"size_known"`
	SeenKnown bool   `json:"seen_known"` // the day it was last tried on is written
	SeenDay   int64  `json:"seen_day"`
}

// Insulation keeps a body warm.
type Insulation struct {
	ID           string `json:"id"`
	Name         string `json:"name"`
	Pack         string `json:"pack"`
	Carrier      string `json:"carrier"`
	Owner        string `json:"owner"`
	Whose        string `json:"whose"` // as of Offer
	Count        int64  `json:"count"`
	Kind         string `json:"kind"`
	Waterproof   bool   `json:"waterproof"` // by itself or with its compartment
	ComfortKnown bool   `json:"comfort_known"`
	ComfortMC    int64  `json:"comfort_mc"` // thousandths of a degree Celsius
}

// RadioItem hears or speaks.
type RadioItem struct {
	ID       string   `json:"id"`
	Name     string   `json:"name"`
	Pack     string   `json:"pack"`
	Carrier  string   `json:"carrier"`
	Receives []string `json:"receives"`
	Service  string   `json:"service"` // spoken on, or ""
	Works    bool     `json:"works"`   // it has cells, as far as the kit says
}

// Paper holds documents, money or a map.
type Paper struct {
	ID         string      `json:"id"`
	Name       string      `json:"name"`
	Pack       string      `json:"pack"`
	Carrier    string      `json:"carrier"`
	Owner      string      `json:"owner"`
	Reach      kinds.Reach `json:"reach"`
	Documents  []string    `json:"documents"`
	Cash       bool        `json:"cash"`
	SmallNotes bool        `json:"small_notes"`
	Map        bool        `json:"map"`
	Covers     []string    `json:"covers"` // the settings that a map shows
	Waterproof bool        `json:"waterproof"`
}

// MedicineItem is a supply of a medication.
type MedicineItem struct {
	ID         string      `json:"id"`
	Name       string      `json:"name"`
	Pack       string      `json:"pack"`
	Carrier    string      `json:"carrier"`
	Reach      kinds.Reach `json:"reach"`
	Medication string      `json:"medication"` // its id, or ""
	Person     string      `json:"person"`     // id of who takes it, or ""
	DosesMilli int64       `json:"doses_milli"`
	Usable     bool        `json:"usable"` // not expired on the audit date
	Dated      bool        `json:"dated"`  // its label's last day is written
	ColdChain  bool        `json:"cold_chain"`
	// OutOfColdKnown: the day it left the cold is written.
	OutOfColdKnown bool  `json:"out_of_cold_known"`
	LastMinute     bool  `json:"last_minute"` // stays at home, in the cold, until the household leaves
	Cooled         bool  `json:"cooled"`      // its compartment stays cool on a hot day
	Repacked       bool  `json:"repacked"`    // not in the package it is sold in
	DoseKnown      bool  `json:"dose_known"`  // what one dose is, is written
	ForMassKnown   bool  `json:"for_mass_known"`
	ForMassMG      int64 `json:"for_mass_mg"` // of the body for which the dose was worked out
}

// Allergy is what a person must not meet, with the medication named for it.
type Allergy struct {
	ID         string `json:"id"`
	Person     string `json:"person"`
	PersonName string `json:"person_name"`
	Key        string `json:"key"`
	Severe     bool   `json:"severe"`
	To         string `json:"to"`         // "food", "medicine", ...; "" where not written, which may be food
	Medication string `json:"medication"` // its id, or "" where none is named
	// OwnUsableMilli are its usable doses with the person, in thousandths.
	OwnUsableMilli int64 `json:"own_usable_milli"`
}

// Consumable is what someone's care uses up, with what is packed of it.
type Consumable struct {
	ID          string `json:"id"`
	Name        string `json:"name"`
	Person      string `json:"person"`
	PersonName  string `json:"person_name"`
	PerDayMilli int64  `json:"per_day_milli"`
	// HaveMilli are the uses in the whole household of which no date has passed.
	HaveMilli int64    `json:"have_milli"`
	Items     []string `json:"items"`
}

// CareDevice is a medical device that needs power, with the batteries that are written as its own.
type CareDevice struct {
	ID         string `json:"id"`
	Name       string `json:"name"`
	Person     string `json:"person"`
	PersonName string `json:"person_name"`
	PowerMW    int64  `json:"power_mw"`
	MinPerDay  int64  `json:"min_per_day"`
	StoredMWH  int64  `json:"stored_mwh"` // in all its batteries whose energy is known
	// Unknown are those of its batteries whose energy is not written.
	Unknown []string `json:"unknown"`
	Items   []string `json:"items"`
}

// Weighing is a day on which things of one pack were last weighed.
type Weighing struct {
	Pack  string   `json:"pack"`
	Day   int64    `json:"day"`
	Items []string `json:"items"`
}

// Twin is an undated thing that is written more than once in one place.
type Twin struct {
	ID     string   `json:"id"` // the last of them
	Name   string   `json:"name"`
	EachMG int64    `json:"each_mg"`
	Count  int64    `json:"count"` // of the entries
	Others []string `json:"others"`
}

// Named is a thing with its name.
type Named struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Unrecorded is something that is not written though it may be there: a use that a thing's
// name tells, or how much a thing holds. It counts for nothing; where a rule misses what it
// may give, it says so.
type Unrecorded struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Where   string `json:"where"`   // the compartment's name; "" when on a body
	Pack    string `json:"pack"`    // "" when on a body
	Carrier string `json:"carrier"` // who has it: the wearer, or the pack's carrier
	Count   int64  `json:"count"`
	// What is not written, such as "energy"; "" where it is the use, and "unreadable" where something
	// is written and could not be read, which the fault at it says.
	What string `json:"what"`
	// May lists what it may do or hold: "signal" and "signal:whistle", "food"; see vocabulary.Guess. Empty where the name may mean
	// something else.
	May []string `json:"may"`
	// Write is what the family writes to say so.
	Write string `json:"write"`
	// Ask is what else only the family knows, as the end of a sentence, or "".
	Ask string `json:"ask"`
}

// Absent is an item whose count is 0.
type Absent struct {
	ID   string `json:"id"` // the count's
	Name string `json:"name"`
}

// Future is a day of something done that is after the audit day.
type Future struct {
	ID   string `json:"id"` // the day's
	What string `json:"what"`
	Days int64  `json:"days"` // after the audit day
}

// QuickItem is a single thing that can be dropped in seconds.
type QuickItem struct {
	ID     string      `json:"id"` // of the mark
	Name   string      `json:"name"`
	Reach  kinds.Reach `json:"reach"`
	MassMG int64       `json:"mass_mg"`
	Whole  bool        `json:"whole"` // its whole compartment comes off
}

// Asked is a line of an official list.
type Asked struct {
	ID   string `json:"id"`
	List string `json:"list"`
	Line string `json:"line"`
}

// OwnLimit is a limit in the place of one that a standard states.
type OwnLimit struct {
	Area   string   `json:"area"`
	Name   string   `json:"name"`
	List   bool     `json:"list"` // Values holds, not Value
	Value  int64    `json:"value"`
	Values []string `json:"values"`
}

// Medication is what a person takes, with what is packed of it.
type Medication struct {
	ID            string `json:"id"`
	Name          string `json:"name"`
	Person        string `json:"person"`
	PersonKey     string `json:"person_key"`
	PersonName    string `json:"person_name"`
	PersonPacks   int64  `json:"person_packs"` // how many packs the person carries
	AsNeeded      bool   `json:"as_needed"`
	ColdLifeKnown bool   `json:"cold_life_known"` // how long its label allows it out of the cold is written
	ColdChain     bool   `json:"cold_chain"`
	// Thousandths: half a tablet is 500.
	PerDayMilli int64 `json:"per_day_milli"`
	DosesMilli  int64 `json:"doses_milli"`  // in the whole household
	UsableMilli int64 `json:"usable_milli"` // of these, not expired on the audit date
	OwnMilli    int64 `json:"own_milli"`    // on the owner's body or in the owner's packs
	// OwnUsableMilli is what of OwnMilli is not expired on the audit date.
	OwnUsableMilli int64 `json:"own_usable_milli"`
	// PeopleUsableMilli is what of UsableMilli is with people, not on an animal.
	PeopleUsableMilli int64    `json:"people_usable_milli"`
	DaysMilli         int64    `json:"days_milli"` // UsableMilli for how many days, rounded down
	Items             []string `json:"items"`
	// Rescue, where RescueKnown: the family wrote whether it must be at hand within a minute.
	RescueKnown   bool  `json:"rescue_known"`
	Rescue        bool  `json:"rescue"`
	KeepFromKnown bool  `json:"keep_from_known"`
	KeepFromMC    int64 `json:"keep_from_mc"` // thousandths of a degree Celsius, by the label
	KeepToKnown   bool  `json:"keep_to_known"`
	KeepToMC      int64 `json:"keep_to_mc"`
	Pressurised   bool  `json:"pressurised"`
	Original      bool  `json:"original"` // must stay in the package it is sold in
}

// Device is something that needs cells.
type Device struct {
	ID          string `json:"id"`
	Name        string `json:"name"`
	Pack        string `json:"pack"`
	Carrier     string `json:"carrier"`
	Size        string `json:"size"`
	BuiltIn     bool   `json:"built_in"`
	CellsNeeded int64  `json:"cells_needed"` // for one filling of all Count
	// SpareCells of its size that the same carrier has; for a built-in cell, power banks.
	SpareCells  int64 `json:"spare_cells"`
	RunMin      int64 `json:"run_min"`       // of all Count, one after the other, on one filling each
	RunTotalMin int64 `json:"run_total_min"` // with the spare cells of the same carrier that no sum shares out twice
	RunKnown    bool  `json:"run_known"`
	Light       bool  `json:"light"`
	Phone       bool  `json:"phone"`
	SelfPowered bool  `json:"self_powered"` // wound by hand, or charged by the sun
	Empty       bool  `json:"empty"`        // holds no cells at the start
}

// Cells are spare cells or a power bank.
type Cells struct {
	ID         string `json:"id"`
	Name       string `json:"name"`
	Pack       string `json:"pack"`
	Carrier    string `json:"carrier"`
	Size       string `json:"size"`
	Chemistry  string `json:"chemistry"`
	Count      int64  `json:"count"`
	EnergyMWH  int64  `json:"energy_mwh"`
	FitDevices int64  `json:"fit_devices"` // devices of the household that take this size
}

// Dated is one date that matters.
type Dated struct {
	ID   string     `json:"id"`   // the date's own spot
	Item string     `json:"item"` // what it belongs to
	Name string     `json:"name"`
	Kind kinds.Date `json:"kind"`
	// Medicine: the item is someone's medication.
	Medicine bool   `json:"medicine"`
	Canned   bool   `json:"canned"` // it is food that takes a can opener
	Infant   bool   `json:"infant"` // it is food for someone in the first year of life
	On       string `json:"on"`
	Day      int64  `json:"day"`
	Left     int64  `json:"days_left"` // from the audit date; negative when past
}

// Record is what was weighed, looked at and practised.
type Record struct {
	ID           string      `json:"id"`
	WeighedKnown bool        `json:"weighed_known"`
	WeighedDay   int64       `json:"weighed_day"`
	AuditedKnown bool        `json:"audited_known"`
	AuditedDay   int64       `json:"audited_day"`
	Shakedowns   []Shakedown `json:"shakedowns"`
	Waivers      []Waiver    `json:"waivers"`
}

// Waiver is a decision of the household to live with a finding for a time.
type Waiver struct {
	ID          string `json:"id"`
	UntilID     string `json:"until_id"`
	Rule        string `json:"rule"`
	ReasonKnown bool   `json:"reason_known"`
	Until       string `json:"until"`
	UntilDay    int64  `json:"until_day"`
}

// Shakedown is a practice walk with the packs.
type Shakedown struct {
	ID         string `json:"id"`
	On         string `json:"on"`
	Day        int64  `json:"day"`
	DistanceMM int64  `json:"distance_mm"`
	LoadKnown  bool   `json:"load_known"`
	LoadMG     int64  `json:"load_mg"`
}

// Endurance is what the forecast says of the plan, see package forecast. Hours are of the plan, the first is 0.
type Endurance struct {
	ID       string `json:"id"`
	Hours    int64  `json:"hours"` // of the plan; the last may be a part of one
	Minutes  int64  `json:"minutes"`
	StartMin int64  `json:"start_min"` // minute of the day at which the plan begins
	// WaterLimit is why water is short; "" where it is not.
	WaterLimit kinds.WaterLimit `json:"water_limit"`
	// Passed are the sources of which nothing is taken, as nothing carried makes them safe, in the order of the way.
	Passed []Passed `json:"passed"`
	// Category is the highest heat category of the US Army's table in the hours walked, 0 for none; CategoryHour that in
	// which it is first reached.
	Category     int64 `json:"heat_category"`
	CategoryHour int64 `json:"heat_hour"`
	// HeatIndexMC is how hot the hottest of those hours feels in the shade, in thousandths of a degree Celsius, to the nearest
	// tenth of one; 0 where HeatBeyond says that it is hotter than the heat index is made for.
	HeatIndexMC int64 `json:"heat_index_mc"`
	HottestHour int64 `json:"hottest_hour"`
	HeatBeyond  bool  `json:"heat_beyond"`
	// WalkMC is the air of that hour in thousandths of a degree Celsius, to the nearest tenth of one; 0 where there is none.
	WalkMC int64 `json:"walk_mc"`
	// The same of the hours in which nobody walks: the highest category and its first hour, the hottest air, whether some are
	// hotter than the heat index is made for; and the mean of the hours asleep, where there are any whose weather is known.
	RestCategory int64     `json:"rest_category"`
	RestHour     int64     `json:"rest_hour"`
	RestMC       int64     `json:"rest_mc"`
	RestBeyond   bool      `json:"rest_beyond"`
	NightKnown   bool      `json:"night_known"`
	NightMC      int64     `json:"night_mc"`
	ChillKnown   bool      `json:"chill_known"`
	ChillMC      int64     `json:"chill_mc"` // the lowest wind chill, thousandths of a degree Celsius, to the nearest tenth of one
	ChillHour    int64     `json:"chill_hour"`
	Stocks       []Lasting `json:"stocks"`
	Days         []PlanDay `json:"days"`
	Bodies       []Burden  `json:"bodies"`
}

// Lasting is how long one stock lasts, as the facts say it: a contract with rules, and so a type apart from that of outputs,
// finding.Stock, which may change. Amounts are in ml (water; water that fuel boils), J, mg, minutes
// of light or thousandths of a dose.
type Lasting struct {
	ID   string      `json:"id"`
	Kind kinds.Stock `json:"kind"`
	// Body is the id of whose it is, "" where it is everyone's.
	Body     string `json:"body"`
	BodyName string `json:"body_name"`
	Name     string `json:"name"`  // of a medication
	Known    bool   `json:"known"` // whether what the plan asks is; of light it is not where no season is planned for
	Lasts    int64  `json:"lasts"` // whole hours until it is first short; the plan's hours where it never is
	// FirstShort is what lacks in the first hour that it is short, Short in the whole plan.
	FirstShort int64 `json:"first_short"`
	Short      int64 `json:"short"`
	Have       int64 `json:"have"`   // at the start
	Need       int64 `json:"need"`   // of the whole plan
	Lowest     int64 `json:"lowest"` // the least left
	// Of food that is short, what stays: RawJ because it must be cooked and there is no fuel left or no stove that burns
	// it, ForOne because it is one person's only.
	RawJ   int64    `json:"raw_j"`
	ForOne []ForOne `json:"for_one"`
	// PastJ is what of Have is food past its date, for energy only; it is eaten last, and LastsGood is the whole hours until
	// nothing else is left, those of Lasts where it never comes to that.
	PastJ     int64 `json:"past_j"`
	LastsGood int64 `json:"lasts_good"`
	// Unwritten is how many foods for people have no sodium written, and so hold none here; for sodium only.
	Unwritten int64 `json:"unwritten"`
	// Least: there may be more, which is not recorded, so Have is the least there is and Lasts the least it lasts; Unrecorded: nothing
	// of it is recorded, and Have, Lasts and Short say nothing. A stock that lasts to the end is neither.
	Least      bool `json:"least"`
	Unrecorded bool `json:"unrecorded"`
}

// ForOne is food that only one person eats.
type ForOne struct {
	Body string `json:"body"`
	Name string `json:"name"`
	J    int64  `json:"j"`
}

// Passed is water on the way that is not taken.
type Passed struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	// Leaves is what nothing carried clears from it: classes of organisms, and mud.
	Leaves []string `json:"leaves"`
}

// PlanDay sums one day of the plan: energy and sodium of people, water of everyone.
type PlanDay struct {
	ID           string `json:"id"`
	Day          int64  `json:"day"` // 1 is the first
	SpentJ       int64  `json:"spent_j"`
	EatenJ       int64  `json:"eaten_j"`
	NeedML       int64  `json:"need_ml"`
	DrunkML      int64  `json:"drunk_ml"`
	FindML       int64  `json:"find_ml"` // of the need, not carried when the day begins
	CollectedML  int64  `json:"collected_ml"`
	SodiumNeedMG int64  `json:"sodium_need_mg"`
	SodiumMG     int64  `json:"sodium_mg"`
	WalkMin      int64  `json:"walk_min"`
}

// Burden is what the plan asks of one person or animal.
type Burden struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	MostMG   int64  `json:"most_mg"` // the heaviest load walked with
	MostHour int64  `json:"most_hour"`
	FirstMG  int64  `json:"first_mg"`
	LastMG   int64  `json:"last_mg"`
	SpentJ   int64  `json:"spent_j"`
	DrinkML  int64  `json:"drink_ml"`
	SweatML  int64  `json:"sweat_ml"`
	SodiumMG int64  `json:"sodium_mg"` // that is asked, sweat included
	WalkMin  int64  `json:"walk_min"`
	// Uncarried: neither walks nor is written to be carried, and so is in nobody's load.
	Uncarried bool `json:"uncarried"`
}
