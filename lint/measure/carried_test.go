package measure

import (
	"slices"
	"testing"

	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// crated is a household whose cat of 4 kg may lie in a carrier of 1 kg in a pack of that carrier.
func crated(change func(h *kit.Household, crate *kit.Item)) *kit.Household {
	crate := anItem("crate", kilo, able(kinds.CanLead, "carrier"))
	h := &kit.Household{
		Name:    "Otter",
		People:  []kit.Person{{Key: "ana", Name: "Ana", Age: years(40), BodyMass: 70 * kilo, Carries: true}, {Key: "ben", Name: "Ben", Age: years(41), BodyMass: 80 * kilo, Carries: true}},
		Animals: []kit.Animal{{Key: "puss", Name: "Puss", Species: "cat", BodyMass: 4 * kilo}},
		Packs:   []kit.Pack{{Key: "bag", Name: "bag", Carrier: "ana", Mass: 2 * kilo}},
		Plan:    kit.Plan{Duration: 24 * hour, DurationSet: true, Legs: []kit.Leg{{Key: "a", Spot: "plan/legs/a", Order: 1, Distance: 3 * km}}},
	}
	change(h, &crate)
	h.Packs[0].Compartments = []kit.Compartment{{Key: "main", Name: "main", Reach: "halted", Items: []kit.Item{crate}}}
	h = spotted(h)
	for i := range h.Vehicles {
		h.Vehicles[i].Spot = "vehicles/" + h.Vehicles[i].Key
	}
	return h
}

func second(species string) kit.Animal {
	return kit.Animal{Key: "rex", Name: "Rex", Species: species, BodyMass: 4 * kilo}
}

// A carried animal is a part of one person's load and walks nowhere; who carries it is written, or told by where its carrier lies.
func TestCarriedAnimals(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func(h *kit.Household, crate *kit.Item)
		by      string
		written bool
		foot    unit.Mass // of who carries the pack
	}{
		{"its carrier lies in a pack", func(*kit.Household, *kit.Item) {}, "people/ana", false, 7 * kilo},
		{"its own carrier", func(_ *kit.Household, crate *kit.Item) { crate.Owner = "puss" }, "people/ana", false, 7 * kilo},
		{"written", func(h *kit.Household, _ *kit.Item) { h.Animals[0].CarriedBy = "ben" }, "people/ben", true, 3 * kilo},
		{"another's carrier", func(h *kit.Household, crate *kit.Item) {
			h.Animals = append(h.Animals, second("cat"))
			crate.Owner = "rex"
		}, "", false, 7 * kilo},
		{"one carrier that no animal owns, two animals", func(h *kit.Household, _ *kit.Item) { h.Animals = append(h.Animals, second("dog")) }, "", false, 3 * kilo},
		{"no carrier there", func(_ *kit.Household, crate *kit.Item) { crate.Count = 0 }, "", false, 2 * kilo},
		{"a lead", func(_ *kit.Household, crate *kit.Item) { crate.Can[0].Means = "lead" }, "", false, 3 * kilo},
		{"a dog with a carrier alone", func(h *kit.Household, _ *kit.Item) { h.Animals[0].Species = "dog" }, "people/ana", false, 7 * kilo},
		{"a dog on a lead", func(h *kit.Household, _ *kit.Item) {
			h.Animals[0].Species = "dog"
			h.People[0].OnBody = []kit.Item{anItem("lead", 0, able(kinds.CanLead, "lead"))}
		}, "", false, 3 * kilo},
		{"a horse", func(h *kit.Household, _ *kit.Item) { h.Animals[0].Species = "horse" }, "", false, 3 * kilo},
		{"a pack of the animal's own", func(h *kit.Household, _ *kit.Item) { h.Packs[0].Carrier = "puss" }, "", false, 3 * kilo},
		{"in a cart all the way", func(h *kit.Household, _ *kit.Item) {
			h.Vehicles = []kit.Vehicle{{Key: "cart", Name: "cart", Kind: "cart"}}
			h.Packs[0].Vehicle, h.Plan.Legs[0].By = "cart", "cart"
		}, "people/ana", false, 0},
		{"on a ride", func(h *kit.Household, _ *kit.Item) {
			h.Vehicles = []kit.Vehicle{{Key: "car", Name: "car", Kind: "car"}}
			h.Plan.Legs[0].By = "car"
		}, "people/ana", false, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, _ := Of(crated(c.change), Options{On: audit})
			for _, a := range f.Animals {
				if a.ID == "animals/puss" && (a.CarriedBy != c.by || a.CarriedWritten != c.written) {
					t.Errorf("carried by %q, written: %t; want %q, %t", a.CarriedBy, a.CarriedWritten, c.by, c.written)
				}
			}
			walked := int64(0)
			for _, b := range f.Endurance.Bodies {
				if b.ID == "animals/puss" {
					walked = b.WalkMin
				}
				if b.Uncarried {
					t.Errorf("%s is said to be in nobody's load", b.Name)
				}
			}
			if rides := f.Plan.Ridden; (walked == 0) != (c.by != "" || rides) {
				t.Errorf("the animal walks %d minutes", walked)
			}
			for _, x := range f.Carriers {
				if len(x.Packs) > 0 && x.FootUG != int64(c.foot) {
					t.Errorf("%s carries %d g on foot, want %d", x.Name, x.FootUG/1e6, c.foot/1e6)
				}
				if held := x.ID == c.by; held != slices.Contains(x.AnimalIDs, "animals/puss") || held && x.AnimalsMG != 4_000_000 {
					t.Errorf("%s carries %d mg of animals, %v", x.Name, x.AnimalsMG, x.AnimalIDs)
				}
			}
		})
	}
}
