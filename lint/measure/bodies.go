package measure

import (
	"slices"

	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// references are bodies to plan with where a family writes no mass: the reference weights of
// the Dietary Reference Intakes (Institute of Medicine, 2005, table of reference heights and
// weights; from memory), up to an age in months, in kg. Of the sexes, the lighter one serves
// where none is written: it allows the smaller load. Under two months nothing is published
// there; 4 kg is common practice.
var references = []struct{ under, female, male int64 }{
	{2, 4, 4}, {7, 6, 6}, {12, 9, 9}, {4 * 12, 12, 12}, {9 * 12, 20, 20}, {14 * 12, 37, 36}, {19 * 12, 54, 61},
}

// Grown bodies of the same table.
const (
	grownFemale = 57
	grownMale   = 70
)

// referenceBody is the mass of a body to plan with.
func referenceBody(months int64, ageKnown bool, sex string) unit.Mass {
	female, male := int64(grownFemale), int64(grownMale)
	for _, r := range references {
		if ageKnown && months < r.under {
			female, male = r.female, r.male
			break
		}
	}
	kg := min(female, male)
	switch sex {
	case "female":
		kg = female
	case "male":
		kg = male
	}
	return unit.Mass(kg) * 1_000_000_000
}

// planned is the household with a planning figure in the place of each body mass that is not written; h itself where all are.
func planned(h *kit.Household, on unit.Date) *kit.Household {
	if !slices.ContainsFunc(h.People, func(p kit.Person) bool { return p.BodyMassUnknown }) {
		return h
	}
	out := *h
	out.People = slices.Clone(h.People)
	for i := range out.People {
		if p := &out.People[i]; p.BodyMassUnknown {
			months, known := age(p.Born, p.Age, on)
			p.BodyMass = referenceBody(months, known, p.Sex)
		}
	}
	return &out
}

func bodyAccount(p *kit.Person) string {
	if p.BodyMassUnknown {
		return "not recorded; a planning figure for this age and sex (Institute of Medicine, Dietary Reference Intakes, 2005; from memory)"
	}
	return ""
}
