package measure

import (
	"cmp"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// Each thing stands in the list of its kind, under its own id, with the amounts of all its count.
func TestThingsOfEachKind(t *testing.T) {
	const at = "packs/rust/compartments/main/items/"
	set := func(change func(*kit.Item)) func(*kit.Item) { return change }
	h := onePack(
		anItem("stove", 90*gram, able("cook", "gas-stove"), set(func(it *kit.Item) { it.Stove = kit.Some(kit.Stove{Burns: []string{"propane", "butane"}}) })),
		anItem("gas", 200*gram, times(2), set(func(it *kit.Item) { it.Fuel = kit.Some(kit.Fuel{Kind: "butane", Mass: 100 * gram}) })),
		anItem("tablets", 9*gram, times(3), set(func(it *kit.Item) {
			it.Treat = kit.Some(kit.Treat{Method: "chlorine", Litres: kit.Some(10 * lit), Wait: kit.Some(unit.Duration(1800))})
		})),
		anItem("lamp", 9*gram, set(func(it *kit.Item) { it.Treat = kit.Some(kit.Treat{Method: "uv"}) })),
		anItem("quilt", 700*gram, set(func(it *kit.Item) {
			it.Insulation, it.Owner = kit.Some(kit.Insulation{Kind: "quilt", Comfort: kit.Some(unit.Temperature(2000))}), "ana"
		})),
		anItem("set", 190*gram, set(func(it *kit.Item) {
			it.Radio = kit.Some(kit.Radio{Receives: []string{"weather", "am"}, Service: "gmrs"})
		})),
		anItem("map", 60*gram, able("navigate", "map"), set(func(it *kit.Item) { it.Covers, it.Waterproof = []string{"woodland", "town"}, true })),
		anItem("purse", 60*gram, set(func(it *kit.Item) {
			it.Documents, it.Cash = []string{"keys", "identity"}, kit.Some(kit.Cash{Amount: "20", SmallNotes: true})
		})),
		anItem("beans", 500*gram, times(2), eaten(kit.Food{
			Energy: 1000, Canned: true, Allergens: []string{"soy"}, AllergensSet: true, Suits: []string{"vegan"}, Harms: []string{"dog", "cat"}, CookMinutes: 300, NetMass: kit.Some(400 * gram), For: "ana",
		}), set(func(it *kit.Item) { it.Rotate = day("2027-01-01") })),
		anItem("none", gram, times(0), eaten(kit.Food{Energy: 1})),
	)
	h.People[0].Medications = []kit.Medication{{Key: "pen", Name: "Pen", AsNeeded: true, ColdChain: true}}
	h.People[0].Allergies = []kit.Allergy{{Key: "nuts", Severe: true, To: "food", Medication: "pen"}, {Key: "dust"}}
	h.People[0].OnBody = []kit.Item{anItem("pen", 60*gram, supplyOf("ana", "pen", 2000), set(func(it *kit.Item) { it.OutOfCold, it.LastMinute = day("2026-04-20"), true }))}
	f := of1(t, spotted(h))

	check := func(what string, want, got any) {
		t.Helper()
		if d := gocmp.Diff(want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", what, d)
		}
	}
	const pack, part, who = "packs/rust", "packs/rust/compartments/main", "people/ana"
	check("stoves", []facts.StoveItem{{ID: at + "stove", Name: "stove", Pack: pack, Compartment: part, Carrier: who, Burns: []string{"butane", "propane"}, Cooks: true}}, f.Stoves)
	check("fuels", []facts.FuelItem{{ID: at + "gas", Name: "gas", Pack: pack, Compartment: part, Carrier: who, Kind: "butane", MassMG: 200_000, MassKnown: true}}, f.Fuels)
	check("treatments", []facts.Treatment{
		{ID: at + "lamp", Name: "lamp", Pack: pack, Carrier: who, Method: "uv", ML: facts.NoEnd, Works: true},
		{ID: at + "tablets", Name: "tablets", Pack: pack, Carrier: who, Method: "chlorine", ML: 30_000, WaitKnown: true, WaitMin: 30, Works: true},
	}, f.Treatments)
	check("insulation", []facts.Insulation{{ID: at + "quilt", Name: "quilt", Pack: pack, Carrier: who, Owner: who, Whose: who, Count: 1, Kind: "quilt", ComfortKnown: true, ComfortMC: 2000}}, f.Insulation)
	check("radios", []facts.RadioItem{{ID: at + "set", Name: "set", Pack: pack, Carrier: who, Receives: []string{"am", "weather"}, Service: "gmrs", Works: true}}, f.Radios)
	check("papers", []facts.Paper{
		{ID: at + "map", Name: "map", Pack: pack, Carrier: who, Reach: "halted", Documents: []string{}, Map: true, Covers: []string{"town", "woodland"}, Waterproof: true},
		{ID: at + "purse", Name: "purse", Pack: pack, Carrier: who, Reach: "halted", Documents: []string{"identity", "keys"}, Cash: true, SmallNotes: true, Covers: []string{}},
	}, f.Papers)
	check("foods", []facts.FoodItem{{
		ID: at + "beans", Name: "beans", Pack: pack, Compartment: part, Carrier: who, Reach: "halted", For: who, EnergyJ: 2000, MassMG: 1_000_000, NetMassMG: 800_000, NetKnown: true, MassKnown: true, EnergyKnown: true,
		Cook: true, CookMin: 5, Canned: true, Allergens: []string{"soy"}, AllergensKnown: true, Suits: []string{"vegan"}, Harms: []string{"cat", "dog"}, Dated: true,
	}}, f.Foods)
	check("medicines", []facts.MedicineItem{{
		ID: who + "/onBody/pen", Name: "pen", Carrier: who, Reach: "on-body", Medication: who + "/medications/pen", Person: who, DosesMilli: 2000,
		Usable: true, ColdChain: true, OutOfColdKnown: true, LastMinute: true,
	}}, f.Medicines)
	check("allergies", []facts.Allergy{
		{ID: who + "/allergies/dust", Person: who, PersonName: "Ana", Key: "dust"},
		{ID: who + "/allergies/nuts", Person: who, PersonName: "Ana", Key: "nuts", Severe: true, To: "food", Medication: who + "/medications/pen", OwnUsableMilli: 2000},
	}, f.Allergies)
	check("words", []string{
		"can:cook", "can:cook:gas-stove", "can:navigate", "can:navigate:map", "can:treat-water", "can:treat-water:chlorine", "can:treat-water:uv", "cash", "cash:small-notes",
		"document:identity", "document:keys", "food", "food:canned", "food:chosen", "insulation:quilt", "medicine", "needs:diet",
		"radio", "radio:am", "radio:two-way", "radio:weather",
	}, f.Household.Has)
}

func TestSlipsOfThePen(t *testing.T) {
	const at = "packs/rust/compartments/main/items/"
	named := func(name string) func(*kit.Item) { return func(it *kit.Item) { it.Name = name } }
	h := onePack(
		anItem("a", 30*gram, named("cord"), able("repair", "cord")),
		anItem("b", 30*gram, named("cord"), able("repair", "cord")),
		anItem("c", 31*gram, named("cord"), able("repair", "cord")),
		anItem("d", 30*gram, named("cord"), able("repair", "cord"), func(it *kit.Item) { it.Expires = day("2027-01-01") }),
		anItem("e", 30*gram, named("cord"), able("repair", "cord"), func(it *kit.Item) { it.Owner = "ana" }),
		anItem("f", 30*gram, named("cord"), able("repair", "cord"), func(it *kit.Item) { it.Food.Value.For = "ana" }),
		anItem("nothing", gram, times(0)),
		anItem("thing", gram),
		anItem("cane", gram, named("walking stick")),
		anItem("hers", gram, named("storm matches"), func(it *kit.Item) { it.Owner = "ana" }),
		anItem("sheet", gram, func(it *kit.Item) { it.Waterproof = true }),
		anItem("new", gram, func(it *kit.Item) {
			it.Weighed, it.Opened, it.OutOfCold = day("2026-05-02"), day("2026-05-03"), day("2026-05-04")
		}),
		anItem("drop", 2*gram, able("sun", "hat"), func(it *kit.Item) { it.QuickShed = true }),
	)
	h.Record = kit.Record{Weighed: day("2026-05-11"), Audited: day("2026-05-01"), Shakedowns: []kit.Shakedown{{Key: "hill", On: audit + 1}}}
	f := of1(t, spotted(h))
	want := &facts.Facts{
		Twins: []facts.Twin{{ID: at + "b", Name: "cord", EachMG: 30_000, Count: 2, Others: []string{at + "a"}}},
		Idle:  []facts.Named{{ID: at + "new", Name: "new"}, {ID: at + "thing", Name: "thing"}},
		Unrecorded: []facts.Unrecorded{
			{ID: at + "hers", Name: "storm matches", Where: "Main", Pack: "packs/rust", Carrier: "people/ana", Count: 1, May: []string{"fire", "fire:matches"}, Write: `can: fire: "matches"`},
		},
		Absent: []facts.Absent{{ID: at + "nothing/count", Name: "nothing"}},
		Future: []facts.Future{
			{ID: at + "new/opened-day", What: "the opening of new", Days: 2},
			{ID: at + "new/out-of-cold-day", What: "the day out of the cold of new", Days: 3},
			{ID: at + "new/weighed", What: "the weighing of new", Days: 1},
			{ID: "record/shakedowns/hill", What: "a practice walk", Days: 1},
			{ID: "record/weighed", What: "the weighing of everything", Days: 10},
		},
		QuickItems: []facts.QuickItem{{ID: at + "drop/quickShed", Name: "drop", Reach: "halted", MassMG: 2000}},
	}
	got := &facts.Facts{Twins: f.Twins, Idle: f.Idle, Unrecorded: f.Unrecorded, Absent: f.Absent, Future: f.Future, QuickItems: f.QuickItems}
	if d := gocmp.Diff(want, got); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}

// A carried person is no load, but weighs on the person who carries them.
func TestCarriedPeople(t *testing.T) {
	h := onePack()
	h.People = append(h.People, kit.Person{Key: "lin", Name: "Lin", Age: years(1), BodyMass: 10 * kilo, CarriedBy: "ana"}, kit.Person{Key: "mo", Name: "Mo", Age: years(2), BodyMass: 12 * kilo, CarriedBy: "ana"})
	f, l := Of(spotted(h), Options{On: audit})
	for _, c := range f.Carriers {
		if c.Key == "ana" && (c.CarriedMG != 22_000_000 || !gocmp.Equal(c.CarriedIDs, []string{"people/lin", "people/mo"}) || c.LoadMG != 1_000_000) {
			t.Errorf("%+v", c)
		}
	}
	if e, ok := l.Entry("people/ana/carried"); !ok || e.AmountText() != "22.00 kg" || len(e.Inputs) != 2 {
		t.Errorf("%+v", e)
	}
}

// What is written in other words is offered too, once.
func TestImpliedOffers(t *testing.T) {
	set := func(change func(*kit.Item)) func(*kit.Item) { return change }
	f := of1(t, onePack(
		anItem("aid", gram, set(func(it *kit.Item) {
			it.FirstAid = []kit.FirstAid{{Kind: "plasters", Count: 3}, {Kind: "rescueBlanket", Count: 1}, {Kind: "scissors", Count: 1}}
		})),
		anItem("kit", gram, able("first_aid", "kit"), set(func(it *kit.Item) { it.FirstAid = []kit.FirstAid{{Kind: "plasters", Count: 3}, {Kind: "scissors"}} })),
		anItem("pad", gram, set(func(it *kit.Item) { it.Insulation = kit.Some(kit.Insulation{Kind: "pad"}) })),
		anItem("papers", gram, set(func(it *kit.Item) { it.Documents = []string{"map"} })),
		anItem("empty", gram, set(func(it *kit.Item) { it.Treat = kit.Some(kit.Treat{Method: "filter", Litres: kit.Some(unit.Volume(0))}) })),
		anItem("bag", gram, able("warmth", "sleeping-bag")),
	))
	var got []string
	for _, c := range f.Capabilities {
		for _, o := range c.Offers {
			got = append(got, string(c.Capability)+" "+o.Means+" "+o.Name)
		}
	}
	want := []string{
		"cut scissors aid", "first_aid dressings aid", "first_aid kit kit", "ground foam-pad pad", "navigate map papers", "shelter emergency-blanket aid",
		"warmth emergency-blanket aid", "warmth sleeping-bag bag",
	}
	if d := gocmp.Diff(want, got); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	if len(f.Insulation) != 2 || f.Insulation[0].Kind != "sleeping-bag" || f.Insulation[0].ComfortKnown {
		t.Errorf("%+v", f.Insulation)
	}
}

// A liner keeps all dry that lies in its compartment, one that is not there nothing.
func TestLiner(t *testing.T) {
	for n, want := range map[int64]bool{0: false, 1: true} {
		f := of1(t, onePack(anItem("purse", gram, func(it *kit.Item) { it.Documents = []string{"identity"} }), anItem("liner", gram, times(n), able("cover", "liner"))))
		if len(f.Papers) != 1 || f.Papers[0].Waterproof != want {
			t.Errorf("%d liners: %+v", n, f.Papers)
		}
	}
	f := of1(t, onePack(anItem("purse", gram, func(it *kit.Item) { it.Documents = []string{"identity"} }), anItem("sheet", gram, able("cover", "sheeting"))))
	if f.Papers[0].Waterproof {
		t.Error("a sheet lines a compartment")
	}
}

// A thing is for whom it fits, else its owner, else its wearer; what a child outgrows is listed with its size and the day it
// was seen, but no coat that is worn, nor nappies.
func TestWhoseAndSized(t *testing.T) {
	set := func(change func(*kit.Item)) func(*kit.Item) { return change }
	h := onePack(
		anItem("shoes", gram, able("footwear", "shoes"), set(func(it *kit.Item) { it.Fits, it.Owner, it.Size = "ben", "ana", "29" })),
		anItem("coat", gram, set(func(it *kit.Item) {
			it.Insulation, it.Owner, it.SizeSeen = kit.Some(kit.Insulation{Kind: "jacket"}), "ben", day("2026-03-01")
		})),
		anItem("cape", gram, able("rain", "jacket"), set(func(it *kit.Item) { it.SizeSeen = day("2027-01-01") })),
		anItem("poncho", gram, able("rain", "poncho")),
		anItem("nappies", gram, able("hygiene", "nappies")),
		anItem("soap", gram, able("hygiene", "soap"), set(func(it *kit.Item) { it.Size = "9" })),
		anItem("trousers", gram, set(func(it *kit.Item) { it.Insulation = kit.Some(kit.Insulation{Kind: "trousers"}) })),
		anItem("none", gram, times(0), able("footwear", "boots")),
	)
	h.People = append(h.People, kit.Person{Key: "ben", Name: "Ben", Age: years(4), BodyMass: 18 * kilo})
	h.People[0].OnBody = []kit.Item{
		anItem("boots", gram, able("footwear", "boots"), set(func(it *kit.Item) { it.Place = "door" })),
		anItem("worn", gram, able("rain", "jacket")),
	}
	f := of1(t, spotted(h))
	const at, ana, ben = "packs/rust/compartments/main/items/", "people/ana", "people/ben"
	want := []facts.Sized{
		{ID: "people/ana/onBody/boots", Name: "boots", Kind: "shoes", Whose: ana},
		{ID: at + "cape", Name: "cape", Kind: "jacket", SeenKnown: true, SeenDay: int64(day("2027-01-01").Value)},
		{ID: at + "coat", Name: "coat", Kind: "jacket", Whose: ben, SeenKnown: true, SeenDay: int64(day("2026-03-01").Value)},
		{ID: at + "shoes", Name: "shoes", Kind: "shoes", Whose: ben, SizeKnown: true},
	}
	slices.SortFunc(f.Sized, func(a, b facts.Sized) int { return cmp.Compare(a.Name, b.Name) })
	if d := gocmp.Diff(want, f.Sized); d != "" {
		t.Errorf("sized (-want +got):\n%s", d)
	}
	for _, i := range f.Insulation {
		if want := map[string]string{"coat": ben}[i.Name]; i.Whose != want {
			t.Errorf("insulation %s is for %q, want %q", i.Name, i.Whose, want)
		}
	}
	got := map[string]string{}
	for _, c := range f.Capabilities {
		for _, o := range c.Offers {
			got[o.Name] = o.Whose + " " + o.Place
		}
	}
	for name, want := range map[string]string{"shoes": ben + " ", "boots": ana + " door", "poncho": " ", "soap": " "} {
		if got[name] != want {
			t.Errorf("%s is for %q, want %q", name, got[name], want)
		}
	}
	if d := gocmp.Diff([]facts.Future{{ID: at + "cape/sizeSeen", What: "the trying on of cape", Days: 245}}, f.Future); d != "" {
		t.Errorf("future (-want +got):\n%s", d)
	}
}

// Whom and what lines of official lists are for, by the household's own words.
func TestWordsOfNeeds(t *testing.T) {
	needs := func(change func(h *kit.Household)) (out []string) {
		h := onePack()
		change(h)
		for _, w := range of1(t, spotted(h)).Household.Has {
			if strings.HasPrefix(w, "needs:") || strings.Contains(w, "medicine") || strings.Contains(w, "care") || strings.Contains(w, "device") || strings.HasPrefix(w, "plan:") || strings.Contains(w, ":can:") {
				out = append(out, w)
			}
		}
		return out
	}
	person := func(change func(p *kit.Person)) func(h *kit.Household) {
		return func(h *kit.Household) { change(&h.People[0]) }
	}
	aged := func(months int64, change func(p *kit.Person)) func(h *kit.Household) {
		return person(func(p *kit.Person) { p.Age = kit.Some(unit.Duration(months*month + 1)); change(p) })
	}
	for _, c := range []struct {
		what string
		kit  func(h *kit.Household)
		want []string
	}{
		{"nothing", func(*kit.Household) {}, nil},
		{"infant", aged(23, func(*kit.Person) {}), []string{"needs:child", "needs:infant", "needs:infant-food", "needs:nappies"}},
		{"nursed", aged(23, func(p *kit.Person) { p.Breastfed = true }), []string{"needs:child", "needs:infant", "needs:nappies"}},
		{"small child", aged(35, func(*kit.Person) {}), []string{"needs:child", "needs:nappies"}},
		{"child", aged(36, func(*kit.Person) {}), []string{"needs:child"}},
		{"girl", aged(132, func(p *kit.Person) { p.Sex = "female" }), []string{"needs:child", "needs:period"}},
		{"younger girl", aged(131, func(p *kit.Person) { p.Sex = "female" }), []string{"needs:child"}},
		{"spare glasses", func(h *kit.Household) {
			h.Packs[0].Compartments[0].Items = []kit.Item{anItem("glasses", gram, able("see", "glasses")), anItem("matches", gram, able("fire", "matches"), func(it *kit.Item) { it.Waterproof = true })}
			h.People[0].OnBody = []kit.Item{anItem("lenses", gram, able("see", "lenses")), anItem("lighter", gram, able("fire", "gas-lighter"))}
		}, []string{"packed:can:see:glasses", "waterproof:can:fire:matches"}},
		{"woman", aged(660, func(p *kit.Person) { p.Sex = "female" }), []string{"needs:period"}},
		{"older woman", aged(661, func(p *kit.Person) { p.Sex = "female" }), nil},
		{"man", aged(400, func(p *kit.Person) { p.Sex = "male" }), nil},
		{"diet", person(func(p *kit.Person) { p.Diets = []string{"vegan"} }), []string{"needs:diet"}},
		{"allergy", person(func(p *kit.Person) { p.Allergies = []kit.Allergy{{Key: "nuts"}} }), []string{"needs:diet"}},
		{"chair", person(func(p *kit.Person) { p.Moves = "wheelchair" }), []string{"needs:aid", "needs:wheels"}},
		{"power chair", person(func(p *kit.Person) { p.Moves = "power-chair" }), []string{"needs:aid", "needs:wheels"}},
		{"cane", person(func(p *kit.Person) { p.Moves = "cane" }), []string{"needs:aid"}},
		{"alone", person(func(p *kit.Person) { p.Moves = "alone" }), nil},
		{"carried", person(func(p *kit.Person) { p.Moves = "carried" }), nil},
		{"deaf", person(func(p *kit.Person) { p.Hears = "no" }), []string{"needs:deaf"}},
		{"hears badly", person(func(p *kit.Person) { p.Hears = "badly" }), nil},
		{"hearing aids", person(func(p *kit.Person) { p.HearingAids = kit.Some(kit.HearingAids{Count: 2, Size: "312"}) }), []string{"needs:hearing"}},
		{"charged hearing aids", person(func(p *kit.Person) { p.HearingAids = kit.Some(kit.HearingAids{Count: 2, Size: "usb"}) }), nil},
		{"car", func(h *kit.Household) { h.Vehicles = []kit.Vehicle{{Key: "car", Name: "car", Kind: "car"}} }, []string{"needs:car"}},
		{"bicycle", func(h *kit.Household) { h.Vehicles = []kit.Vehicle{{Key: "bike", Name: "bike", Kind: "bicycle"}} }, nil},
		{"two packs", func(h *kit.Household) { h.Packs = append(h.Packs, kit.Pack{Key: "moss", Name: "Moss", Carrier: "ana"}) }, []string{"needs:two-packs"}},
		{"meeting point", func(h *kit.Household) { h.Plan.MeetingPoints = []kit.MeetingPoint{{Key: "oak"}} }, []string{"plan:meeting-points"}},
		{"care", person(func(p *kit.Person) { p.Consumables = []kit.Consumable{{Key: "strips", Name: "strips", PerDay: 1000}} }), []string{"needs:care-supplies"}},
		{"device", person(func(p *kit.Person) { p.Devices = []kit.PoweredDevice{{Key: "cpap", Name: "cpap"}} }), []string{"needs:device"}},
		{"animal's medicine", func(h *kit.Household) {
			h.Animals = []kit.Animal{{Key: "bo", Name: "Bo", Species: "dog", BodyMass: 20 * kilo, Medications: []kit.Medication{{Key: "pills", Name: "pills", PerDay: 1000}}}}
		}, []string{"needs:animal", "needs:animal-medicine"}},
		{"animal's medicine there", func(h *kit.Household) {
			h.Animals = []kit.Animal{{Key: "bo", Name: "Bo", Species: "dog", BodyMass: 20 * kilo, Medications: []kit.Medication{{Key: "pills", Name: "pills", PerDay: 1000}}}}
			h.Packs[0].Compartments[0].Items = []kit.Item{anItem("pills", gram, supplyOf("bo", "pills", 2000))}
		}, []string{"medicine", "medicine:animal", "needs:animal", "needs:animal-medicine"}},
	} {
		if got := needs(c.kit); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.what, got, c.want)
		}
	}
}
