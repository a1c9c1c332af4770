package drill

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/unit"
)

func no(string) unit.Mass { return 0 }

// feet: all can walk but mia.
func feet(key string) bool { return key != "mia" }

func anybody(string, *kit.Item) bool { return true }

// item is one thing of some grams.
func item(spot string, grams int64) kit.Item {
	return kit.Item{Key: spot, Spot: spot, Name: spot, Count: 1, Mass: unit.Mass(grams) * 1_000_000, Worth: 3}
}

func pack(key, carrier string, items ...kit.Item) kit.Pack {
	return kit.Pack{Key: key, Spot: "packs/" + key, Name: key, Carrier: carrier, Mass: 1_000_000_000, Compartments: []kit.Compartment{{Key: "main", Spot: "packs/" + key + "/compartments/main", Name: "main", Reach: "halted", Items: items}}}
}

func person(key string) kit.Person {
	return kit.Person{Key: key, Spot: "people/" + key, Name: key, Carries: true, BodyMass: 70_000_000_000}
}

// family: three who walk, one who is carried, a dog with a pack.
func family() *kit.Household {
	mia, ben := person("mia"), person("ben")
	mia.CarriedBy = "ana"
	ben.OnBody = []kit.Item{item("whistle", 20)}
	ben.OnBody[0].Owner, ben.OnBody[0].Can = "cleo", []kit.Capability{{Name: "signal"}, {Name: "see"}, {Name: "identify"}, {Name: "footwear"}}
	ben.OnBody[0].Documents = []string{"identity", "map", "medical", "prescription"}
	porridge, kibble := item("porridge", 100), item("kibble", 200)
	porridge.Food, kibble.Food = kit.Some(kit.Food{Energy: 1, For: "mia"}), kit.Some(kit.Food{Energy: 2, For: "rex"})
	porridge.Owner = "mia"
	bag := item("bag", 50)
	bag.QuickShed = true
	return &kit.Household{
		Name: "Otter", People: []kit.Person{person("ana"), ben, person("cleo"), mia}, Animals: []kit.Animal{{Key: "kit", Spot: "animals/kit", Name: "kit"}, {Key: "rex", Spot: "animals/rex", Name: "rex", Carries: true}},
		Packs: []kit.Pack{pack("blue", "ana", item("lamp", 80), bag), pack("rust", "ben", porridge), pack("saddle", "rex", kibble)},
		Plan: kit.Plan{
			Duration: 72 * 3600, Season: "cold", Seasons: []kit.Season{{Key: "cold"}, {Key: "hot"}}, WaterSources: []kit.WaterSource{{Key: "tap"}},
		},
	}
}

func keys(ds []Drill) (out []string) {
	for _, d := range ds {
		out = append(out, d.Key)
	}
	return out
}

func find(t *testing.T, ds []Drill, key string) Drill {
	t.Helper()
	i := slices.IndexFunc(ds, func(d Drill) bool { return d.Key == key })
	if i < 0 {
		t.Fatalf("no drill %s among %v", key, keys(ds))
	}
	return ds[i]
}

func people(h *kit.Household) (out []string) {
	for _, p := range h.People {
		out = append(out, p.Key)
	}
	return out
}

func packs(h *kit.Household) (out []string) {
	for _, p := range h.Packs {
		out = append(out, p.Key)
	}
	return out
}

func TestAll(t *testing.T) {
	ds := All(family(), no, feet, anybody)
	want := []string{
		"pack-lost/blue", "pack-lost/rust", "pack-lost/saddle", "alone/ana", "alone/ben", "alone/cleo", "pair/ana+ben", "pair/ana+cleo", "pair/ben+cleo",
		"unable/ana", "unable/ben", "unable/rex", "season/hot", "late", "dry", "shed",
	}
	if d := cmp.Diff(want, keys(ds)); d != "" {
		t.Errorf("drills (-want +got):\n%s", d)
	}
	for _, c := range []struct{ key, text string }{
		{"pack-lost/rust", "without pack “rust”"}, {"alone/ana", "ana alone"}, {"pair/ana+ben", "ana and ben alone together"}, {"unable/rex", "rex cannot carry"},
		{"season/hot", "season hot"}, {"late", "help comes 24 h later"}, {"dry", "no water on the way"}, {"shed", "without what is quick to drop"},
	} {
		if d := find(t, ds, c.key); d.Text != c.text || d.Key != string(d.Kind) && string(d.Kind)+"/" != d.Key[:len(d.Kind)+1] {
			t.Errorf("%s: kind %q, text %q", c.key, d.Kind, d.Text)
		}
	}
	if got := packs(find(t, ds, "pack-lost/rust").Household); !slices.Equal(got, []string{"blue", "saddle"}) {
		t.Errorf("without rust: packs %v", got)
	}
	if p := find(t, ds, "season/hot").Household.Plan; p.Season != "hot" {
		t.Errorf("season %s", p.Season)
	}
	if p := find(t, ds, "late").Household.Plan; p.Duration != 96*3600 || !p.DurationSet {
		t.Errorf("late: %v", p.Duration)
	}
	if p := find(t, ds, "dry").Household.Plan; len(p.WaterSources) > 0 {
		t.Errorf("dry: %v", p.WaterSources)
	}
	if c := find(t, ds, "shed").Household.Packs[0].Compartments[0]; len(c.Items) != 1 || c.Items[0].Key != "lamp" {
		t.Errorf("shed: %v", c.Items)
	}
}

// Whoever is carried goes with their carrier; animals and their food stay with the others, and food for
// someone who is not there is nobody's.
func TestAlone(t *testing.T) {
	ds := All(family(), no, feet, anybody)
	ana := find(t, ds, "alone/ana").Household
	if !slices.Equal(people(ana), []string{"ana", "mia"}) || !slices.Equal(packs(ana), []string{"blue"}) || len(ana.Animals) > 0 {
		t.Errorf("ana: %v %v", people(ana), packs(ana))
	}
	ben := find(t, ds, "alone/ben").Household
	porridge := ben.Packs[0].Compartments[0].Items[0]
	if !slices.Equal(people(ben), []string{"ben"}) || porridge.Food.Set {
		t.Errorf("ben: %v, %+v", people(ben), porridge)
	}
	if w := ben.People[0].OnBody[0]; len(w.Can) != 1 || w.Can[0].Name != "signal" || !slices.Equal(w.Documents, []string{"map"}) {
		t.Errorf("what serves only its owner: %+v", w)
	}
	if w := find(t, ds, "pair/ben+cleo").Household.People[0].OnBody[0]; len(w.Can) != 4 || len(w.Documents) != 4 {
		t.Errorf("with its owner: %+v", w)
	}
	both := find(t, ds, "pair/ana+ben").Household
	porridge = both.Packs[1].Compartments[0].Items[0]
	if !slices.Equal(people(both), []string{"ana", "ben", "mia"}) || !porridge.Food.Set || porridge.Owner != "mia" {
		t.Errorf("both: %v, %+v", people(both), porridge)
	}
}

// With 1 kg of pack and its things, and a cap of so much, by hand.
// What nobody carries and what lay in the car goes with it; the rest is borne, and its legs are walked.
func TestVehicleLost(t *testing.T) {
	h := family()
	h.Vehicles = []kit.Vehicle{{Key: "bike", Name: "bike"}, {Key: "car", Name: "the car", Kind: "car"}, {Key: "sled", Name: "sled"}}
	box, chest := pack("box", ""), pack("chest", "cleo")
	box.Vehicle, chest.Vehicle, chest.Kept = "car", "car", "car"
	h.Packs[0].Vehicle, h.Packs[1].Vehicle = "car", "bike"
	h.Packs = append(h.Packs, box, chest)
	h.Plan.Legs = []kit.Leg{{Key: "a", By: "car", Pace: kit.Some(unit.Duration(60))}, {Key: "b", Pace: kit.Some(unit.Duration(900))}}
	ds := All(h, no, feet, anybody)
	d := find(t, ds, "vehicle-lost/car")
	if d.Text != "without the car, on foot" || len(d.Household.Vehicles) != 2 {
		t.Errorf("%q, %v", d.Text, d.Household.Vehicles)
	}
	if got := packs(d.Household); !slices.Equal(got, []string{"blue", "rust", "saddle"}) {
		t.Errorf("packs %v are left", got)
	}
	if d.Household.Packs[0].Vehicle != "" || d.Household.Packs[1].Vehicle != "bike" {
		t.Errorf("packs %+v", d.Household.Packs)
	}
	want := []kit.Leg{{Key: "a"}, {Key: "b", Pace: kit.Some(unit.Duration(900))}}
	if diff := cmp.Diff(want, d.Household.Plan.Legs); diff != "" {
		t.Error(diff)
	}
	if h.Plan.Legs[0].By != "car" || h.Packs[0].Vehicle != "car" {
		t.Error("the household itself was changed")
	}
	find(t, ds, "vehicle-lost/bike")
	if slices.Contains(keys(ds), "vehicle-lost/sled") {
		t.Error("a vehicle that serves nobody is lost")
	}
}

func TestHandOver(t *testing.T) {
	h := family()
	water := item("water", 100)
	water.Water, water.Count = kit.Some(unit.Volume(400_000)), 3 // 500 g each
	pinned, pills, dear, cheap := item("pinned", 900), item("pills", 10), item("dear", 300), item("cheap", 20)
	pinned.Pinned, pinned.QuickShed, pills.Medicine, dear.Worth = true, true, kit.Some(kit.Medicine{}), 5
	h.Packs[0] = pack("blue", "ana", water, cheap, dear, pills, pinned)
	// Ben's pack weighs 1.1 kg, the dog's 1.2: room for 1.9 kg and for 0.5 kg.
	most := func(key string) unit.Mass {
		return map[string]unit.Mass{"ben": 3_000_000_000, "rex": 1_700_000_000}[key]
	}
	d := find(t, All(h, most, feet, anybody), "unable/ana")
	got := map[string][]string{}
	for _, p := range d.Household.Packs {
		for _, c := range p.Compartments {
			if c.Key == handed {
				for _, it := range c.Items {
					got[p.Key] = append(got[p.Key], fmt.Sprintf("%s×%d", it.Spot, it.Count))
				}
			}
		}
	}
	for _, p := range d.Household.Packs {
		for _, c := range p.Compartments {
			if slices.ContainsFunc(c.Items, func(it kit.Item) bool { return c.Key == handed && it.QuickShed }) {
				t.Error("what was handed over is not quick to shed")
			}
		}
	}
	// Without the hands of Ben for it, the pinned thing stays behind: it is too heavy for the dog.
	may := func(key string, it *kit.Item) bool { return key != "ben" || it.Key != "pinned" }
	if d := find(t, All(h, most, feet, may), "unable/ana"); len(d.Left) != 1 || d.Left[0].Spot != "pinned" {
		t.Errorf("left %+v", d.Left)
	}
	// The pinned 900 g to Ben, who then has 1000 g; the pills and the dear thing too: 690 g; the cheap one: 670 g; of
	// the water one each: 170 g and 0 g are left, and one stays behind.
	want := map[string][]string{"rust": {"pinned×1", "pills×1", "dear×1", "cheap×1", "water×1"}, "saddle": {"water/part-2×1"}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("handed over (-want +got):\n%s", diff)
	}
	if d.Fits || len(d.Left) != 1 || d.Left[0].Spot != "water" || d.Left[0].Count != 1 {
		t.Errorf("left %+v, fits %v", d.Left, d.Fits)
	}
	if ana := d.Household.People[0]; ana.Carries || !h.People[0].Carries {
		t.Error("Ana is to carry nothing, and only in the drill")
	}
	if d.Takers != 2 {
		t.Errorf("%d others bear a pack", d.Takers)
	}
	if rex := find(t, All(h, most, feet, anybody), "unable/rex").Household.Animals[1]; rex.Carries {
		t.Error("Rex is to carry nothing")
	}
	if d := find(t, All(h, func(string) unit.Mass { return 1 << 50 }, feet, anybody), "unable/ana"); !d.Fits || len(d.Left) > 0 {
		t.Errorf("with room for all, left %v", d.Left)
	}
	// What weighs nothing goes to anyone with no room, but not to one who is over the cap.
	h.Packs[0] = pack("blue", "ana", item("feather", 0))
	if d := find(t, All(h, func(string) unit.Mass { return 1_200_000_000 }, feet, anybody), "unable/ana"); !d.Fits {
		t.Errorf("left %v", d.Left)
	}
	if d := find(t, All(h, no, feet, anybody), "unable/ana"); d.Fits {
		t.Error("all are over their cap already")
	}
}

// Whom someone carried who cannot carry is carried by nobody, and only in the drill.
func TestUnableCarriesNoChild(t *testing.T) {
	h := &kit.Household{People: []kit.Person{person("ana"), person("ben"), person("bib"), person("cy")}, Packs: []kit.Pack{pack("blue", "ana")}}
	h.People[2].CarriedBy, h.People[3].CarriedBy = "ana", "ben"
	d := find(t, All(h, no, feet, anybody), "unable/ana")
	if p := d.Household.People; p[2].CarriedBy != "" || p[3].CarriedBy != "ben" || h.People[2].CarriedBy != "ana" || d.Takers != 0 {
		t.Errorf("%+v", d)
	}
}

func TestPairs(t *testing.T) {
	ds := Pairs(family(), 3)
	if want := []string{"packs-lost/blue+rust", "packs-lost/blue+saddle", "packs-lost/rust+saddle"}; !slices.Equal(keys(ds), want) {
		t.Errorf("%v", keys(ds))
	}
	if got := packs(ds[1].Household); !slices.Equal(got, []string{"rust"}) || ds[1].Text != "without pack “blue” and pack “saddle”" {
		t.Errorf("%v %s", got, ds[1].Text)
	}
	if ds := Pairs(family(), 2); ds != nil {
		t.Errorf("more packs than asked: %v", keys(ds))
	}
}

func TestOddHouseholds(t *testing.T) {
	for _, c := range []struct {
		name string
		h    *kit.Household
		want []string
	}{
		{"nothing", &kit.Household{}, []string{"late"}},
		{"one person, no pack", &kit.Household{People: []kit.Person{person("ana")}}, []string{"late"}},
		{"a pack nobody bears", &kit.Household{Packs: []kit.Pack{pack("blue", "nobody")}}, []string{"pack-lost/blue", "late"}},
		{"two people", &kit.Household{People: []kit.Person{person("ben"), person("ana")}}, []string{"alone/ana", "alone/ben", "late"}},
	} {
		ds := All(c.h, no, feet, anybody)
		if !slices.Equal(keys(ds), c.want) {
			t.Errorf("%s: %v", c.name, keys(ds))
		}
	}
	// No duration written is 72 hours.
	if d := find(t, All(&kit.Household{}, no, feet, anybody), "late").Household.Plan.Duration; d != 96*3600 {
		t.Errorf("%v", d)
	}
	// A whole compartment that comes off.
	h := &kit.Household{Packs: []kit.Pack{pack("blue", "ana", item("lamp", 80))}}
	h.Packs[0].Compartments[0].QuickShed = true
	if d := find(t, All(h, no, feet, anybody), "shed"); len(d.Household.Packs[0].Compartments) > 0 {
		t.Errorf("%v", d.Household.Packs[0].Compartments)
	}
}

// random is some household of the family's shape.
func random(seed uint64) *kit.Household {
	r := rand.New(rand.NewPCG(seed, 7))
	h := family()
	for i := range h.Packs {
		var items []kit.Item
		for j := range r.IntN(12) {
			it := item(fmt.Sprintf("packs/%s/compartments/main/items/i%d", h.Packs[i].Key, j), int64(r.IntN(900)))
			it.Count, it.Worth, it.Pinned, it.QuickShed = int64(r.IntN(4)), 1+int64(r.IntN(5)), r.IntN(5) == 0, r.IntN(5) == 0
			if r.IntN(3) == 0 {
				it.Water, it.MassIncludesWater = kit.Some(unit.Volume(r.IntN(1000)*1000)), r.IntN(2) == 0
			}
			items = append(items, it)
		}
		h.Packs[i].Compartments[0].Items = items
	}
	return h
}

func all(h *kit.Household) (sum unit.Mass) {
	each(h, func(it *kit.Item) { sum += it.All() })
	return sum
}

// Nothing is created, no cap is passed, no key is used twice, and the household stays as it was, whatever order it comes in.
func TestProperties(t *testing.T) {
	for seed := range uint64(30) {
		h := random(seed)
		cap := unit.Mass(1_000_000_000 * (1 + int64(seed%7)))
		most := func(string) unit.Mass { return cap }
		ds := append(All(h, most, feet, anybody), Pairs(h, 8)...)
		if d := cmp.Diff(random(seed), h); d != "" {
			t.Fatalf("seed %d: the household was changed (-before +after):\n%s", seed, d)
		}
		seen := map[string]bool{}
		for _, d := range ds {
			if seen[d.Key] {
				t.Errorf("seed %d: two drills %s", seed, d.Key)
			}
			seen[d.Key] = true
			keepsMass(t, seed, h, &d, cap)
		}
		mixed := random(seed)
		slices.Reverse(mixed.People)
		slices.Reverse(mixed.Packs)
		slices.Reverse(mixed.Animals)
		slices.Reverse(mixed.Plan.Seasons)
		if d := cmp.Diff(All(h, most, feet, anybody), All(mixed, most, feet, anybody)); d != "" {
			t.Fatalf("seed %d: another order, other drills (-want +got):\n%s", seed, d)
		}
	}
}

// keepsMass wants a drill to add nothing, and what is handed over to be there, within the cap, or left behind.
func keepsMass(t *testing.T, seed uint64, h *kit.Household, d *Drill, cap unit.Mass) {
	t.Helper()
	var left unit.Mass
	for i := range d.Left {
		left += d.Left[i].All()
	}
	if d.Kind != kinds.DrillUnable {
		if all(d.Household) > all(h) || left > 0 {
			t.Errorf("seed %d, %s: there is more than before", seed, d.Key)
		}
		return
	}
	if got := all(d.Household) + left; got != all(h) {
		t.Errorf("seed %d, %s: %v there and left, %v before", seed, d.Key, got, all(h))
	}
	for i := range d.Household.Packs {
		p := &d.Household.Packs[i]
		if slices.ContainsFunc(p.Compartments, func(c kit.Compartment) bool { return c.Key == handed }) && weight(p) > cap {
			t.Errorf("seed %d, %s: pack %s weighs %v, the cap is %v", seed, d.Key, p.Key, weight(p), cap)
		}
	}
}

// A pack weighs here what package measure says.
func TestWeightIsMeasures(t *testing.T) {
	for _, name := range []string{"alder", "birch", "cedar"} {
		l := load.Household(os.DirFS("../../examples/harrow-valley"), name, load.Options{})
		if l.Kit == nil {
			t.Fatal(l.Faults)
		}
		f, _ := measure.Of(l.Kit, measure.Options{})
		for i := range l.Kit.Packs {
			p := &l.Kit.Packs[i]
			for _, m := range f.Packs {
				if m.Key == p.Key && m.MassMG != weight(p).Milligrams() {
					t.Errorf("%s, %s: %d mg here, %d mg measured", name, p.Key, weight(p).Milligrams(), m.MassMG)
				}
			}
		}
	}
}

// Every kind of drill is made, and no other.
func TestEveryKindIsMade(t *testing.T) {
	made := map[kinds.Drill]bool{}
	h := family()
	h.Vehicles, h.Packs[0].Vehicle = []kit.Vehicle{{Key: "car"}}, "car"
	for _, d := range append(All(h, no, feet, anybody), Pairs(h, 8)...) {
		if made[d.Kind] = true; d.Kind.Row().Kind == "" {
			t.Errorf("%s is of kind %q, which has no row", d.Key, d.Kind)
		}
	}
	for _, k := range kinds.Drills {
		if !made[k.Kind] {
			t.Errorf("no drill is of kind %s", k.Kind)
		}
	}
}
