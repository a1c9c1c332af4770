package measure

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

func careOf(person, of string, uses unit.Count) func(*kit.Item) {
	return func(it *kit.Item) { it.Care = kit.Some(kit.CareSupply{Person: person, Consumable: of, Uses: uses}) }
}

func batteryFor(device string, energy kit.Opt[unit.Energy]) func(*kit.Item) {
	return func(it *kit.Item) {
		it.Cells = kit.Some(kit.Cells{Size: "usb", Chemistry: "lithium-ion", Energy: energy, For: device})
	}
}

// What care uses up is counted over the household, what is past its date is not; a device is fed by its own batteries only.
func TestCare(t *testing.T) {
	const at, who = "packs/rust/compartments/main/items/", "people/ana"
	h := onePack(
		anItem("box", 9*gram, careOf("ana", "strips", 50_000), times(2)),
		anItem("old", 9*gram, careOf("ana", "strips", 50_000), func(it *kit.Item) { it.Expires = day("2026-04-30") }),
		anItem("sets", 9*gram, careOf("ana", "sets", 3_000)),
		anItem("none", 9*gram, careOf("ana", "strips", 50_000), times(0)),
		anItem("brick", kilo, batteryFor("cpap", kit.Some(unit.Energy(300*3600))), times(2)),
		anItem("spare", kilo, batteryFor("cpap", kit.Opt[unit.Energy]{})),
		anItem("bank", kilo, batteryFor("", kit.Some(unit.Energy(37*3600)))),
		anItem("gone", kilo, batteryFor("cpap", kit.Some(unit.Energy(300*3600))), times(0)),
	)
	p := &h.People[0]
	p.Consumables = []kit.Consumable{{Key: "sets", Name: "Sets", PerDay: 500}, {Key: "strips", Name: "Strips", PerDay: 4_000}}
	p.Devices = []kit.PoweredDevice{{Key: "cpap", Name: "CPAP", Power: 40_000, HoursPerDay: 8 * hour}}
	p.Conditions, p.MustNot = []string{"thyroid", "insulin"}, []string{"iodine"}
	p.Moves, p.HelpedBy, p.Hears, p.Sees = "wheelchair", "ana", "no", "badly"
	p.HearingAids = kit.Some(kit.HearingAids{Count: 2, Size: "312"})
	f := of1(t, spotted(h))

	check := func(what string, want, got any) {
		t.Helper()
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", what, d)
		}
	}
	check("consumables", []facts.Consumable{
		{ID: who + "/consumables/sets", Name: "Sets", Person: who, PersonName: "Ana", PerDayMilli: 500, HaveMilli: 3_000, Items: []string{at + "sets"}},
		{ID: who + "/consumables/strips", Name: "Strips", Person: who, PersonName: "Ana", PerDayMilli: 4_000, HaveMilli: 100_000, Items: []string{at + "box"}},
	}, f.Consumables)
	check("devices", []facts.CareDevice{{
		ID: who + "/devices/cpap", Name: "CPAP", Person: who, PersonName: "Ana", PowerMW: 40_000, MinPerDay: 480, StoredMWH: 600_000,
		Unknown: []string{at + "spare"}, Items: []string{at + "brick", at + "spare"},
	}}, f.CareDevices)
	got := &f.People[0]
	check("conditions", []string{"insulin", "thyroid"}, got.Conditions)
	check("must not", []string{"iodine"}, got.MustNot)
	check("words", []string{"wheelchair", who, "no", "badly", "312"}, []string{got.Moves, got.HelpedBy, got.Hears, got.Sees, got.AidSize})
	check("aids", int64(2), got.AidCount)
}

// An animal's medication is counted as a person's is, and stands in a list of its own.
func TestAnimalMedications(t *testing.T) {
	h := onePack(
		anItem("pills", 9*gram, supplyOf("rex", "pill", 6_000), func(it *kit.Item) {
			it.Medicine.Value.Repacked, it.Medicine.Value.Dose, it.Medicine.Value.ForMass = true, "half", kit.Some(20*kilo)
		}),
		anItem("old", 9*gram, supplyOf("rex", "pill", 2_000), func(it *kit.Item) { it.Expires = day("2026-04-30") }),
	)
	h.Packs[0].Compartments[0].Cooled = true
	h.Animals = []kit.Animal{{Key: "rex", Name: "Rex", Species: "dog", BodyMass: 20 * kilo, Chip: "9 4", Medications: []kit.Medication{{
		Key: "pill", Name: "Pill", PerDay: 500, ColdChain: true, Rescue: kit.Some(true), Pressurised: true, Original: true,
		KeepFrom: kit.Some(unit.Temperature(2_000)), KeepTo: kit.Some(unit.Temperature(8_000)),
	}}}}
	f := of1(t, spotted(h))
	const id, at = "animals/rex/medications/pill", "packs/rust/compartments/main/items/"
	want := []facts.Medication{{
		ID: id, Name: "Pill", Person: "animals/rex", PersonKey: "rex", PersonName: "Rex", ColdChain: true, PerDayMilli: 500, DosesMilli: 8_000, UsableMilli: 6_000,
		PeopleUsableMilli: 6_000, DaysMilli: 12_000, Items: []string{at + "old", at + "pills"}, RescueKnown: true, Rescue: true,
		KeepFromKnown: true, KeepFromMC: 2_000, KeepToKnown: true, KeepToMC: 8_000, Pressurised: true, Original: true,
	}}
	if d := cmp.Diff(want, f.AnimalMedications); d != "" {
		t.Errorf("medications (-want +got):\n%s", d)
	}
	if len(f.Medications) != 0 || !f.Animals[0].Chip {
		t.Errorf("people's medications %v, chip %v", f.Medications, f.Animals[0].Chip)
	}
	m := f.Medicines[1]
	if m.Medication != id || m.Person != "animals/rex" || !m.Cooled || !m.Repacked || !m.DoseKnown || !m.ForMassKnown || m.ForMassMG != 20_000_000 || !m.ColdChain {
		t.Errorf("medicine: %+v", m)
	}
}
