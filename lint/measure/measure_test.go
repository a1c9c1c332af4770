package measure

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/testkit"
	"kitmuster/lint/unit"
)

func TestWholeHousehold(t *testing.T) {
	h := onePack(
		anItem("bar", 100*gram, times(2), eaten(kit.Food{Energy: 450 * 4184, Sodium: kit.Some(mass("200 mg")), NetMass: kit.Some(90 * gram)})),
		anItem("bottle", 150*gram, vessel(lit, true), holds(lit)),
		anItem("rod", 30*gram, able("fire", "ferro-rod"), func(it *kit.Item) { it.Weighed = kit.Opt[unit.Date]{} }),
	)
	h.People[0].OnBody = []kit.Item{anItem("lighter", 20*gram, able("fire", "gas-lighter"))}
	spotted(h)

	const main = "packs/rust/compartments/main"
	supply := func(base string, means, items []string) facts.Supply {
		return facts.Supply{
			WaterML: 1000, ContainerML: 1000, ContainerKnown: true, FoodEnergyKnown: true, FuelKnown: true, FireSafeML: 1000, FoodEnergyJ: 900 * 4184, NoCookEnergyJ: 900 * 4184, FoodMassMG: 180_000, SodiumMG: 400,
			Can:      []facts.Can{{ID: base + "/can/fire", Capability: "fire", Means: means, MeansCount: int64(len(means)), Items: items}},
			FirstAid: []facts.Content{},
		}
	}
	both, pair := []string{"ferro-rod", "gas-lighter"}, []string{main + "/items/rod", "people/ana/onBody/lighter"}
	item := func(i facts.Item) facts.Item {
		i.Weighed = true
		i.Count, i.Worth = max(1, i.Count), 3
		if i.EachMG == 0 {
			i.EachMG = i.MassMG
		}
		if i.Person == "" {
			i.ID, i.Pack, i.Compartment, i.Reach = main+"/items/"+i.Name, "packs/rust", main, "halted"
		}
		i.Carrier, i.MassKnown = "people/ana", true
		if i.Can == nil {
			i.Can = []kinds.Capability{}
		}
		return i
	}
	rod := item(facts.Item{Name: "rod", MassMG: 30_000, Can: []kinds.Capability{"fire"}})
	rod.Weighed = false
	want := &facts.Facts{
		Audit: facts.Audit{On: "2026-05-01", OnDay: int64(audit), Units: unit.Metric},
		Household: facts.Household{
			ID: "household", Name: "Otter", PeopleCount: 1, AdultCount: 1, PackCount: 1, ItemCount: 4,
			MassMG: 2_400_000, MassKnown: true, LoadMG: 2_380_000, OnBodyMG: 20_000, BaseMG: 1_200_000, FoodPackedMG: 200_000, UnweighedMG: 30_000,
			NeedML: 2600, NeedJ: 2225 * 4184,
			RestEnergyJ: 6_055_461, // (11.472 × 60 + 873.1 + 8.126 × 60 + 845.6) / 2 = 1447.29 kcal
			Has:         []string{"can:fire", "can:fire:ferro-rod", "can:fire:gas-lighter", "food", "food:no-cook", "vessel", "water"},
			Supply:      supply("household", both, pair),
		},
		Plan: facts.Plan{ID: "plan", Unread: []string{}, Settings: []string{}, Sources: []facts.Source{}, Legs: []facts.Leg{}, Places: []facts.Place{}, Hazards: []string{}},
		People: []facts.Person{{
			ID: "people/ana", Key: "ana", Name: "Ana", AgeKnown: true, AgeMonths: 504, Adult: true, Carries: true, BodyMassMG: 60_000_000, BodyMassKnown: true, PackCount: 1, Packs: []string{"packs/rust"},
			RestEnergyJ: 6_055_461, RestBy: bySchofieldBoth, Alone: supply("people/ana/alone", both, pair),
			Allergies: []string{}, Severe: []string{}, Licences: []string{}, Needs: []string{}, Diets: []string{}, Conditions: []string{}, MustNot: []string{}, With: []string{}, Nappies: true, Nursing: []string{}, WaterML: 2600, EnergyJ: 2225 * 4184, SodiumMG: 1500,
		}},
		Animals: []facts.Animal{},
		Carriers: []facts.Carrier{{
			ID: "people/ana", Kind: "person", Key: "ana", Name: "Ana", Adult: true, AgeKnown: true, AgeMonths: 504, Carries: true, BodyMassMG: 60_000_000, BodyMassKnown: true, LoadKnown: true,
			LoadID: "people/ana/load", LoadMG: 2_380_000, OnBodyMG: 20_000, BaseMG: 1_200_000, ShareP: 40, CapID: "people/ana/cap", Packs: []string{"packs/rust"},
			FootUG: 2_380_000_000, FootMG: 2_380_000, BodyUG: 60_000_000_000, GearMG: 20_000, GearID: "people/ana/onBody/lighter", Spare: []facts.Burdensome{},
			Movable: []facts.Burdensome{}, QuickIDs: []string{}, CarriedIDs: []string{}, AnimalIDs: []string{},
		}},
		Packs: []facts.Pack{{
			ID: "packs/rust", Key: "rust", Name: "Rust", Carrier: "people/ana", CarrierKind: "person", CarrierName: "Ana", CarrierAdult: true, CarrierAgeMonths: 504, MassID: "packs/rust/mass",
			FootMG: 2_380_000, MassMG: 2_380_000, MassKnown: true, NoMass: []facts.Named{}, EmptyMG: 1_000_000, BaseMG: 1_200_000, WaterMG: 1_000_000, UnweighedMG: 30_000, Unweighed: []string{main + "/items/rod"}, Weighed: true, Colours: []string{},
			Supply: supply("packs/rust/supply", []string{"ferro-rod"}, []string{main + "/items/rod"}),
		}},
		Vehicles:     []facts.Vehicle{},
		Compartments: []facts.Compartment{{ID: main, Pack: "packs/rust", Name: "Main", Reach: "halted", MassID: main + "/mass", MassMG: 1_380_000, MassKnown: true}},
		Items: []facts.Item{
			item(facts.Item{Name: "bar", Count: 2, MassMG: 200_000, EachMG: 100_000}),
			item(facts.Item{Name: "bottle", MassMG: 1_150_000, WaterML: 1000}),
			rod,
			item(facts.Item{ID: "people/ana/onBody/lighter", Name: "lighter", Person: "people/ana", Reach: "on-body", MassMG: 20_000, Can: []kinds.Capability{"fire"}}),
		},
		Capabilities: []facts.Capability{{Capability: "fire", Count: 2, Offers: []facts.Offer{
			{ID: main + "/items/rod", Name: "rod", Means: "ferro-rod", Count: 1, Pack: "packs/rust", Compartment: main, Carrier: "people/ana", Reach: "halted"},
			{ID: pair[1], Name: "lighter", Means: "gas-lighter", Count: 1, Person: "people/ana", Carrier: "people/ana", Whose: "people/ana", Reach: "on-body"},
		}}},
		Useless: []facts.Useless{},
		Foods: []facts.FoodItem{{
			ID: main + "/items/bar", Name: "bar", Pack: "packs/rust", Compartment: main, Carrier: "people/ana", Reach: "halted",
			EnergyJ: 900 * 4184, MassMG: 200_000, NetMassMG: 180_000, NetKnown: true, MassKnown: true, EnergyKnown: true, SodiumMG: 400, SodiumKnown: true, Opens: true, Allergens: []string{}, Suits: []string{}, Harms: []string{},
		}},
		Vessels: []facts.Vessel{{
			ID: main + "/items/bottle", Name: "bottle", Pack: "packs/rust", Compartment: main, Carrier: "people/ana", Reach: "halted", Count: 1,
			CapacityML: 1000, WaterML: 1000, CapacityKnown: true, MassMG: 150_000, MassKnown: true, FireSafe: true,
		}},
		Treatments: []facts.Treatment{}, Fuels: []facts.FuelItem{}, Stoves: []facts.StoveItem{}, Insulation: []facts.Insulation{}, Sized: []facts.Sized{}, Radios: []facts.RadioItem{}, Papers: []facts.Paper{},
		Medicines: []facts.MedicineItem{}, Allergies: []facts.Allergy{}, Weighings: []facts.Weighing{{Pack: "packs/rust", Day: int64(audit) - 30, Items: []string{main + "/items/bar", main + "/items/bottle"}}},
		Twins: []facts.Twin{}, Idle: []facts.Named{}, Unrecorded: []facts.Unrecorded{}, Absent: []facts.Absent{}, Future: []facts.Future{}, QuickItems: []facts.QuickItem{}, Asked: []facts.Asked{}, Limits: []facts.OwnLimit{},
		Medications: []facts.Medication{}, AnimalMedications: []facts.Medication{}, Consumables: []facts.Consumable{}, CareDevices: []facts.CareDevice{}, Devices: []facts.Device{}, Cells: []facts.Cells{}, Dates: []facts.Dated{},
		Record: facts.Record{ID: "record", Shakedowns: []facts.Shakedown{}, Waivers: []facts.Waiver{}},
	}
	got := of1(t, h)
	got.Endurance = facts.Endurance{} // has a test of its own
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("facts (-want +got):\n%s", d)
	}
}

func TestHouseholdOfNothing(t *testing.T) {
	f, l := Of(&kit.Household{Name: "Empty"}, Options{On: audit, Season: "never"})
	if f.Plan.SeasonKnown || f.Plan.Season != "never" {
		t.Errorf("plan = %+v, want an unknown season", f.Plan)
	}
	checkIDs(t, reflect.ValueOf(f).Elem(), "", l)
}

// idFields are the fields that hold ids beside those that say so in their name.
var idFields = []string{"id", "cause", "packs", "items", "others", "pack", "compartment", "person", "carrier", "item", "owner", "for", "medication", "carried_by", "with", "leg", "needs"}

func isID(name string) bool {
	return slices.Contains(idFields, name) || strings.HasSuffix(name, "_id") || strings.HasSuffix(name, "_ids")
}

// checkIDs walks the facts: every id has an entry, and no list is nil.
func checkIDs(t *testing.T, v reflect.Value, name string, l *facts.Ledger) {
	t.Helper()
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			checkIDs(t, v.Field(i), v.Type().Field(i).Tag.Get("json"), l)
		}
	case reflect.Slice:
		if v.IsNil() {
			t.Errorf("the list %q is nil", name)
		}
		for i := range v.Len() {
			checkIDs(t, v.Index(i), name, l)
		}
	case reflect.String:
		if id := v.String(); isID(name) && id != "" {
			if e, ok := l.Entry(id); !ok || e.Label == "" || len(e.Spots) == 0 {
				t.Errorf("%s %q has no entry: %+v", name, id, e)
			}
		}
	}
}

func TestEveryIDHasAnEntry(t *testing.T) {
	for seed := range uint64(20) {
		f, l := Of(family(seed), Options{On: audit})
		checkIDs(t, reflect.ValueOf(f).Elem(), "", l)
		ids := l.IDs()
		if !slices.IsSorted(ids) || len(slices.Compact(slices.Clone(ids))) != len(ids) {
			t.Errorf("seed %d: the ids are not sorted or hold doubles: %v", seed, ids)
		}
	}
}

func TestInputsHaveEntriesAndSum(t *testing.T) {
	sumOf := []string{"/mass", "/load", "/on-body", "/unweighed", "/water-mass", "/water", "/containers", "/fire-safe", "/food-energy", "/no-cook-energy",
		"/base-mass", "/quick-shed", "/first-aid/plasters", "/food-mass", "/sodium", "/protein", "/cook-water", "/fuel", "/rest-energy", "/animal-need-energy", "/animal-need-water", "/doses"}
	checked := map[string]bool{}
	for seed := range uint64(20) {
		_, l := Of(family(seed), Options{On: audit})
		for _, id := range l.IDs() {
			e, _ := l.Entry(id)
			var sum int64
			for i, in := range e.Inputs {
				if _, ok := l.Entry(in.ID); !ok || in.Label == "" {
					t.Errorf("input %q of %q has no entry", in.ID, id)
				}
				if i > 0 {
					if p := e.Inputs[i-1]; p.Amount.Value < in.Amount.Value || p.Amount.Value == in.Amount.Value && p.ID >= in.ID {
						t.Errorf("inputs of %q are not sorted: %q before %q", id, p.ID, in.ID)
					}
				}
				if in.Amount.Kind == e.Amount.Kind {
					sum += in.Amount.Value
				}
			}
			for _, suffix := range sumOf {
				if strings.HasPrefix(id, enduranceID) { // hours, of sums
					continue
				}
				if strings.HasSuffix(id, suffix) && len(e.Inputs) > 0 && !strings.HasPrefix(e.Inputs[0].ID, id) {
					single := strings.Contains(id, "people/") && suffix == "/rest-energy"
					if !single && sum != e.Amount.Value {
						t.Errorf("seed %d: inputs of %q sum to %d, the entry says %d", seed, id, sum, e.Amount.Value)
					}
					checked[suffix] = true
				}
			}
		}
	}
	for _, s := range sumOf {
		if !checked[s] {
			t.Errorf("no entry %q was summed", s)
		}
	}
}

func TestLedgerIsSafeForManyReaders(t *testing.T) {
	_, l := Of(family(3), Options{On: audit})
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			if e, ok := l.Entry("packs/rust/mass"); !ok || len(e.Inputs) == 0 {
				t.Errorf("entry = %+v, %v", e, ok)
			}
		})
	}
	wg.Wait()
}

func TestLedgerEntries(t *testing.T) {
	h := onePack(anItem("bar", 100*gram, times(3), eaten(kit.Food{Energy: 450 * 4184, Sodium: kit.Some(mass("200 mg"))})))
	_, l := Of(h, Options{On: audit})
	const bar = "packs/rust/compartments/main/items/bar"
	for id, want := range map[string]facts.Entry{
		"packs/rust/mass": {
			Spots: []string{"packs/rust"}, Label: "mass of Rust", Amount: facts.Amount{Kind: "mass", Value: 1_300_000_000},
			Account: "the empty pack, its pouches and its items, with water at 1.000 kg a litre",
			Inputs: []facts.Input{
				{ID: "packs/rust/empty-mass", Label: "empty mass of Rust", Amount: facts.Amount{Kind: "mass", Value: 1_000_000_000}},
				{ID: bar, Label: "bar", Amount: facts.Amount{Kind: "mass", Value: 300_000_000}},
			},
		},
		"packs/rust/empty-mass": {Spots: []string{"packs/rust/mass"}, Label: "empty mass of Rust", Amount: facts.Amount{Kind: "mass", Value: 1_000_000_000}},
		bar + "/mass":           {Spots: []string{bar + "/mass"}, Label: "mass of bar", Amount: facts.Amount{Kind: "mass", Value: 100_000_000}, Account: "of one; there are 3"},
		bar + "/food/sodium": {
			Spots: []string{bar + "/food/sodium", bar + "/food/salt"}, Label: "sodium in bar", Amount: facts.Amount{Kind: "mass", Value: 600_000},
			Account: "as written, or 39.34 % of the salt written (molar masses of Na and NaCl, 22.9898/58.443)",
		},
	} {
		want.ID = id
		got, ok := l.Entry(id)
		if d := cmp.Diff(want, got); !ok || d != "" {
			t.Errorf("%s (-want +got):\n%s", id, d)
		}
	}
	if e, _ := l.Entry("people/ana/load"); e.AmountText() != "1.30 kg" {
		t.Errorf("load = %q, want 1.30 kg", e.AmountText())
	}
	if _, ok := l.Entry("packs/rust/no-such"); ok {
		t.Error("an id that does not exist has an entry")
	}
}

func TestAmountText(t *testing.T) {
	for want, a := range map[string]facts.Amount{
		"": {}, "matches": {Text: "matches"}, "850 g": facts.AmountOf(kinds.QuantityMass, 850*gram), "3 L": facts.AmountOf(kinds.QuantityVolume, 3*lit), "450 kcal": facts.AmountOf(kinds.QuantityEnergy, unit.Energy(450*4184)),
		"37 Wh": facts.AmountOf(kinds.QuantityStored, unit.Energy(37*3600)), "6 km": facts.AmountOf(kinds.QuantityLength, 6*km), "6 h 40 min": facts.AmountOf(kinds.QuantityDuration, 6*hour+2400),
		"31 °C": facts.AmountOf(kinds.QuantityTemperature, unit.Temperature(31_000)), "12 %": facts.AmountOf(kinds.QuantityShare, unit.Share(120_000)), "2026-05-01": facts.AmountOf(kinds.QuantityDate, audit), "0.5": facts.AmountOf(kinds.QuantityCount, unit.Count(500)),
	} {
		if got := a.String(); got != want {
			t.Errorf("%+v = %q, want %q", a, got, want)
		}
	}
}

// shuffled is the same household with every list in another order.
func shuffled(h *kit.Household, r *rand.Rand) {
	mix := func(n int, swap func(i, j int)) { r.Shuffle(n, swap) }
	mix(len(h.People), reflect.Swapper(h.People))
	mix(len(h.Packs), reflect.Swapper(h.Packs))
	mix(len(h.Plan.Legs), reflect.Swapper(h.Plan.Legs))
	mix(len(h.Plan.WaterSources), reflect.Swapper(h.Plan.WaterSources))
	mix(len(h.Plan.Seasons), reflect.Swapper(h.Plan.Seasons))
	for i := range h.People {
		mix(len(h.People[i].OnBody), reflect.Swapper(h.People[i].OnBody))
		mix(len(h.People[i].Allergies), reflect.Swapper(h.People[i].Allergies))
	}
	for i := range h.Packs {
		mix(len(h.Packs[i].Compartments), reflect.Swapper(h.Packs[i].Compartments))
		for j := range h.Packs[i].Compartments {
			items := h.Packs[i].Compartments[j].Items
			mix(len(items), reflect.Swapper(items))
			for k := range items {
				mix(len(items[k].Can), reflect.Swapper(items[k].Can))
				mix(len(items[k].Documents), reflect.Swapper(items[k].Documents))
			}
		}
	}
}

func TestOrderChangesNothing(t *testing.T) {
	for seed := range uint64(20) {
		want, wantLedger := Of(family(seed), Options{On: audit})
		h := family(seed)
		shuffled(h, rand.New(rand.NewPCG(seed, 2)))
		got, gotLedger := Of(h, Options{On: audit})
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("seed %d (-want +got):\n%s", seed, d)
		}
		if d := cmp.Diff(wantLedger.IDs(), gotLedger.IDs()); d != "" {
			t.Fatalf("seed %d, ledger (-want +got):\n%s", seed, d)
		}
		for _, id := range wantLedger.IDs() {
			w, _ := wantLedger.Entry(id)
			g, _ := gotLedger.Entry(id)
			if d := cmp.Diff(w, g); d != "" {
				t.Fatalf("seed %d, %s (-want +got):\n%s", seed, id, d)
			}
		}
	}
}

func TestOfChangesNothing(t *testing.T) {
	h := family(5)
	Of(h, Options{On: audit})
	if d := cmp.Diff(family(5), h); d != "" {
		t.Errorf("the household was changed (-before +after):\n%s", d)
	}
}

// A ledger answers for the kit as it was measured, whatever becomes of the kit.
func TestLedgerKeepsNothingOfTheKit(t *testing.T) {
	h := onePack(anItem("rod", 30*gram, able("fire", "ferro-rod")), anItem("bottle", 100*gram, holds(lit)))
	_, l := Of(h, Options{On: audit})
	items := h.Packs[0].Compartments[0].Items
	items[0].Can[0].Means, items[1].Water, items[0].Mass, items[0].Name = "lens", kit.Opt[unit.Volume]{}, kilo, "other"
	for id, want := range map[string]string{"household/can/fire": "ferro-rod", "household/water": "1 L", "packs/rust/mass": "1.10 kg"} {
		e, _ := l.Entry(id)
		if len(e.Inputs) == 0 || e.Inputs[0].AmountText() != want {
			t.Errorf("%s: inputs %+v, want first %s", id, e.Inputs, want)
		}
	}
}

func TestMassesAddUp(t *testing.T) {
	for seed := range uint64(50) {
		h := family(seed)
		_, l := Of(h, Options{On: audit})
		of := func(id string) int64 { e, _ := l.Entry(id); return e.Amount.Value }
		sum := of("people/ana/on-body") + of("people/ben/on-body") + of("people/cleo/on-body")
		for _, p := range h.Packs {
			sum += of(p.Spot + "/mass")
		}
		if got := of("household/mass"); got != sum {
			t.Errorf("seed %d: household %d, packs and bodies %d", seed, got, sum)
		}
		if got, want := of("people/ana/load"), of("packs/rust/mass")+of("packs/sage/mass"); got != want {
			t.Errorf("seed %d: load %d, packs %d", seed, got, want)
		}
	}
}

// Two of a thing, and two things of one each, are the same to every sum.
func TestSplittingChangesNoTotal(t *testing.T) {
	for seed := range uint64(30) {
		h := family(seed)
		items := &h.Packs[2].Compartments[1].Items
		for i := range *items {
			(*items)[i].Count = 2
			(*items)[i].Device = kit.Opt[kit.Device]{} // two devices of one entry run together, those of two one after the other
		}
		want, _ := Of(h, Options{On: audit})
		for i := range len(*items) {
			(*items)[i].Count = 1
			twin := (*items)[i]
			twin.Key += "-twin"
			twin.Can = slices.Clone(twin.Can)
			twin.FirstAid = slices.Clone(twin.FirstAid)
			*items = append(*items, twin)
		}
		got, _ := Of(spotted(h), Options{On: audit})
		for _, f := range []*facts.Facts{want, got} {
			f.Household.ItemCount = 0
			for _, s := range supplies(f) {
				for i := range s.Can {
					s.Can[i].Items = nil
				}
			}
			for i := range f.Packs {
				f.Packs[i].Unweighed = nil
			}
			for i := range f.Carriers {
				f.Carriers[i].QuickIDs, f.Carriers[i].Spare, f.Carriers[i].Movable, f.Carriers[i].GearID = nil, nil, nil, ""
			}
			for i := range f.Medications {
				f.Medications[i].Items = nil
			}
			for i := range f.Capabilities {
				f.Capabilities[i].Offers = nil
			}
			f.Items, f.Dates, f.Cells, f.Devices = nil, nil, nil, nil
			f.Twins, f.Idle, f.Unrecorded, f.QuickItems, f.Weighings, f.Useless = nil, nil, nil, nil, nil, nil
			f.Foods, f.Vessels, f.Treatments, f.Fuels, f.Stoves = nil, nil, nil, nil, nil
			f.Insulation, f.Radios, f.Papers, f.Medicines = nil, nil, nil, nil
			f.Endurance = facts.Endurance{} // which vessel is emptied first decides what is borne when
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("seed %d (-two of one +one of two):\n%s", seed, d)
		}
	}
}

func supplies(f *facts.Facts) []*facts.Supply {
	out := []*facts.Supply{&f.Household.Supply}
	for i := range f.Packs {
		out = append(out, &f.Packs[i].Supply)
	}
	for i := range f.People {
		out = append(out, &f.People[i].Alone)
	}
	return out
}

func TestSchema(t *testing.T) {
	file := filepath.Join("..", "..", "policies", "facts.schema.json")
	if *testkit.Update {
		if err := os.WriteFile(file, facts.Schema(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(want, facts.Schema()) {
		t.Errorf("%s is not what the types say; run go test ./lint/measure -update", file)
	}
}

// Every facts document fits the schema, member by member.
func TestFactsFitTheSchema(t *testing.T) {
	var root facts.Node
	if err := json.Unmarshal(facts.Schema(), &root); err != nil {
		t.Fatal(err)
	}
	for seed := range uint64(3) {
		f, _ := Of(family(seed), Options{On: audit})
		text, err := json.Marshal(f)
		if err != nil {
			t.Fatal(err)
		}
		var v any
		d := json.NewDecoder(bytes.NewReader(text))
		d.UseNumber()
		if err := d.Decode(&v); err != nil {
			t.Fatal(err)
		}
		if err := fits(v, &root, &root, "facts"); err != nil {
			t.Error(err)
		}
	}
}

func fits(v any, n, root *facts.Node, at string) error {
	if n.Ref != "" {
		n = root.Defs[strings.TrimPrefix(n.Ref, "#/$defs/")]
	}
	switch v := v.(type) {
	case string:
		if n.Type == "string" {
			return nil
		}
	case bool:
		if n.Type == "boolean" {
			return nil
		}
	case json.Number:
		if _, err := v.Int64(); err == nil && n.Type == "integer" {
			return nil
		}
	case []any:
		for i, e := range v {
			if err := fits(e, n.Items, root, fmt.Sprintf("%s[%d]", at, i)); err != nil {
				return err
			}
		}
		if n.Type == "array" {
			return nil
		}
	case map[string]any:
		if n.Type != "object" || n.Additional == nil || *n.Additional || len(v) != len(n.Required) || len(v) != len(n.Properties) {
			return fmt.Errorf("%s: an object of %d members does not fit", at, len(v))
		}
		for name, e := range v {
			if n.Properties[name] == nil || !slices.Contains(n.Required, name) {
				return fmt.Errorf("%s has no member %q", at, name)
			}
			if err := fits(e, n.Properties[name], root, at+"."+name); err != nil {
				return err
			}
		}
		return nil
	}
	return fmt.Errorf("%s: %T does not fit %q", at, v, n.Type)
}

// hundred is a household of a hundred items, as a family of four has.
func hundred() *kit.Household {
	h := family(1)
	for i := range h.Packs {
		for j := range h.Packs[i].Compartments {
			c := &h.Packs[i].Compartments[j]
			for k := range 5 {
				it := c.Items[k]
				it.Key = fmt.Sprintf("more%d", k)
				it.Can, it.FirstAid = slices.Clone(it.Can), slices.Clone(it.FirstAid)
				c.Items = append(c.Items, it)
			}
		}
	}
	return spotted(h)
}

func BenchmarkOf(b *testing.B) {
	h := hundred()
	f, l := Of(h, Options{On: audit})
	b.ReportAllocs()
	for b.Loop() {
		Of(h, Options{On: audit})
	}
	b.ReportMetric(float64(len(f.Items)), "items")
	b.ReportMetric(float64(len(l.IDs())), "entries")
}

func BenchmarkEntry(b *testing.B) {
	_, l := Of(hundred(), Options{On: audit})
	for b.Loop() {
		l.Entry("packs/rust/mass")
	}
}
