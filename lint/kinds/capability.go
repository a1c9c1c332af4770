package kinds

import "strings"

// Capability is what a thing can do.
type Capability string

// The capabilities: those of the schema, and CanTreatWater, which an item's treatment gives.
const (
	CanAnimalCare  Capability = "animal_care"
	CanBleeding    Capability = "bleeding"
	CanBreathe     Capability = "breathe"
	CanCare        Capability = "care"
	CanCharge      Capability = "charge"
	CanComfort     Capability = "comfort"
	CanCommunicate Capability = "communicate"
	CanCook        Capability = "cook"
	CanCover       Capability = "cover"
	CanCut         Capability = "cut"
	CanDefend      Capability = "defend"
	CanEat         Capability = "eat"
	CanExtinguish  Capability = "extinguish"
	CanFire        Capability = "fire"
	CanFirstAid    Capability = "first_aid"
	CanFootwear    Capability = "footwear"
	CanGloves      Capability = "gloves"
	CanGround      Capability = "ground"
	CanHygiene     Capability = "hygiene"
	CanIdentify    Capability = "identify"
	CanLead        Capability = "lead"
	CanLight       Capability = "light"
	CanMobility    Capability = "mobility"
	CanNavigate    Capability = "navigate"
	CanOpenCans    Capability = "open_cans"
	CanOpenTaps    Capability = "open_taps"
	CanProtect     Capability = "protect"
	CanRain        Capability = "rain"
	CanRepair      Capability = "repair"
	CanSee         Capability = "see"
	CanShelter     Capability = "shelter"
	CanSignal      Capability = "signal"
	CanSun         Capability = "sun"
	CanTinder      Capability = "tinder"
	CanTool        Capability = "tool"
	CanTreatWater  Capability = "treat-water"
	CanWarmth      Capability = "warmth"
	CanWrite       Capability = "write"
)

// Telling says whether others may hear of something.
type Telling int

// Whether they may.
const (
	Tell Telling = iota + 1
	Hide
)

// CapabilityRow is what outputs need to know of a capability.
type CapabilityRow struct {
	Kind Capability
	// Only continues "the only": "way to cook", "light".
	Only string
	// Told says whether others may hear whether a household has it.
	Told Telling
}

// Capabilities are all of them, in the order of their words.
var Capabilities = []CapabilityRow{
	{CanAnimalCare, "thing for the care of animals", Hide}, // an animal
	{CanBleeding, "way to stop a heavy bleed", Tell},
	{CanBreathe, "mask", Tell},
	{CanCare, "care supply", Hide}, // health
	{CanCharge, "way to charge devices", Tell},
	{CanComfort, "comfort item", Hide}, // a child
	{CanCommunicate, "way to communicate", Tell},
	{CanCook, "way to cook", Tell},
	{CanCover, "sheeting or liner", Tell},
	{CanCut, "thing to cut with", Tell},
	{CanDefend, "thing for defence", Hide}, // weapons
	{CanEat, "thing to eat with", Tell},
	{CanExtinguish, "way to put out a fire", Tell},
	{CanFire, "way to make fire", Tell},
	{CanFirstAid, "first aid", Tell},
	{CanFootwear, "footwear", Tell},
	{CanGloves, "gloves", Tell},
	{CanGround, "thing to lie on", Tell},
	{CanHygiene, "thing to keep clean with", Tell},
	{CanIdentify, "identification", Hide},    // papers
	{CanLead, "way to hold an animal", Hide}, // an animal
	{CanLight, "light", Tell},
	{CanMobility, "mobility aid", Hide}, // health
	{CanNavigate, "way to navigate", Tell},
	{CanOpenCans, "can opener", Tell},
	{CanOpenTaps, "tap key", Tell},
	{CanProtect, "protective gear", Tell},
	{CanRain, "rain gear", Tell},
	{CanRepair, "repair supply", Tell},
	{CanSee, "aid to see", Hide}, // health
	{CanShelter, "shelter", Tell},
	{CanSignal, "way to signal", Tell},
	{CanSun, "sun protection", Tell},
	{CanTinder, "tinder", Tell},
	{CanTool, "tool", Tell},
	{CanTreatWater, "way to treat water", Tell},
	{CanWarmth, "warm thing", Tell},
	{CanWrite, "thing to write with", Tell},
}

// CapabilityList lists the capabilities.
func CapabilityList() []Capability {
	out := make([]Capability, len(Capabilities))
	for i := range Capabilities {
		out[i] = Capabilities[i].Kind
	}
	return out
}

// Row is the row of a capability; its Kind is "" where there is no such capability.
func (c Capability) Row() CapabilityRow {
	return row(Capabilities, func(r *CapabilityRow) Capability { return r.Kind }, c)
}

// Words writes a capability as words.
func (c Capability) Words() string { return spaced.Replace(string(c)) }

var spaced = strings.NewReplacer("_", " ", "-", " ")
