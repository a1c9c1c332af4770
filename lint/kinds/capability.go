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
	// Means continues "means": "to cook", "of light".
	Means string
	// Told says whether others may hear whether a household has it.
	Told Telling
}

// Capabilities are all of them, in the order of their words.
var Capabilities = []CapabilityRow{
	{CanAnimalCare, "of animal care", Hide}, // an animal
	{CanBleeding, "to stop bleeding", Tell},
	{CanBreathe, "to breathe", Tell},
	{CanCare, "of care", Hide}, // health
	{CanCharge, "to charge", Tell},
	{CanComfort, "of comfort", Hide}, // a child
	{CanCommunicate, "to communicate", Tell},
	{CanCook, "to cook", Tell},
	{CanCover, "to cover", Tell},
	{CanCut, "to cut", Tell},
	{CanDefend, "to defend", Hide}, // weapons
	{CanEat, "to eat", Tell},
	{CanExtinguish, "to extinguish", Tell},
	{CanFire, "to make fire", Tell},
	{CanFirstAid, "of first aid", Tell},
	{CanFootwear, "of footwear", Tell},
	{CanGloves, "to protect hands", Tell},
	{CanGround, "to lie on", Tell},
	{CanHygiene, "to keep clean", Tell},
	{CanIdentify, "to identify", Hide}, // papers
	{CanLead, "to lead", Hide},         // an animal
	{CanLight, "of light", Tell},
	{CanMobility, "of mobility", Hide}, // health
	{CanNavigate, "to navigate", Tell},
	{CanOpenCans, "to open cans", Tell},
	{CanOpenTaps, "to open taps", Tell},
	{CanProtect, "to protect", Tell},
	{CanRain, "against rain", Tell},
	{CanRepair, "to repair", Tell},
	{CanSee, "to see", Hide}, // health
	{CanShelter, "of shelter", Tell},
	{CanSignal, "to signal", Tell},
	{CanSun, "against the sun", Tell},
	{CanTinder, "to light a fire", Tell},
	{CanTool, "to work on things", Tell},
	{CanTreatWater, "to treat water", Tell},
	{CanWarmth, "of warmth", Tell},
	{CanWrite, "to write", Tell},
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
