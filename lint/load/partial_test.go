package load

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"kitmuster/lint/kit"
)

// What cannot be read leaves a hole where it stands, whoever finds it, and no echo beside it.
func TestHoles(t *testing.T) {
	l := Household(fstest.MapFS{"kit.cue": {Data: []byte(`package kit

household: "Holes"
people: ana: {age: "forty", bodyMass: "9 t"}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: lid: {reach: "walking", items: {
	lamp: {mass: "80 g", can: {light: "headlamp", fire: "anything"}, device: size: "round"}
	bar: {mass: "60 g", food: {energy: "much", net: "90 g"}}
	milk: {mass: "60 g", mass: "70 g", food: energy: "300 kcal"}
	fine: {mass: "60 g", can: signal: "whistle"}
}}}
plan: {season: "hot", seasons: hot: {day: "warm", night: "18 °C", daylight: "15 h"}, legs: a: {order: 1, distance: "3 parsec"}}
plan: waterSources: tap: {quality: "tap", leg: "a"}
`)}}, ".", Options{})
	var spots []string
	for _, f := range l.Faults {
		spots = append(spots, f.Spot)
	}
	slices.Sort(spots)
	const at = "packs/rust/compartments/lid/items/"
	if want := []string{
		at + "bar/food/energy", at + "bar/food/net", at + "lamp/can/fire", at + "lamp/device/size", at + "milk/mass",
		"people/ana/age", "people/ana/bodyMass", "plan/legs/a/distance", "plan/seasons/hot/day",
	}; !slices.Equal(spots, want) {
		t.Fatalf("faults at %q, want %q", spots, want)
	}
	items := map[string]kit.Item{}
	for _, it := range l.Kit.Packs[0].Compartments[0].Items {
		items[it.Key] = it
	}
	for key, want := range map[string][]string{"lamp": {"can/fire", "device/size"}, "bar": {"food/energy", "food/net"}, "milk": {"mass"}, "fine": nil} {
		if got := items[key].Unread; !slices.Equal(got, want) {
			t.Errorf("%s: %q were not read, want %q", key, got, want)
		}
	}
	lamp, bar, milk := items["lamp"], items["bar"], items["milk"]
	if len(lamp.Can) != 1 || lamp.Can[0].Means != "headlamp" || lamp.Device.Value.Size != "" || lamp.Mass != 80_000_000 {
		t.Errorf("lamp: %+v", lamp)
	}
	if !bar.Food.Set || !bar.Food.Value.EnergyUnknown || bar.Food.Value.NetMass.Set || milk.Mass != 0 || !milk.MassUnknown || milk.Food.Value.Energy == 0 {
		t.Errorf("bar: %+v; milk: %+v", bar.Food, milk)
	}
	if p := l.Kit.People[0]; p.Age.Set || !p.BodyMassUnknown {
		t.Errorf("ana: %+v", p)
	}
	if p := l.Kit.Plan; len(p.Seasons) != 0 || len(p.Legs) != 1 || p.Legs[0].Distance != 0 || len(p.WaterSources) != 1 || !slices.Equal(p.Unread, []string{"legs", "seasons"}) {
		t.Errorf("plan: %+v", l.Kit.Plan)
	}
}

// What a mistake can only mean is judged in that sense, and what it may have said of a need is never judged as less.
func TestMistakesAreReadAsMeant(t *testing.T) {
	const text = `package kit

household: "Meant"
people: {
	ana:  {age: 40, bodyMass: "68 kg", medications: pill: perDay: "two", allergies: nuts: severe: "very"}
	ben:  "42 years"
	cleo: {age: "30 y", bodyMass: "60 kg", carries: "no", consumables: pads: perDay: {}}
}
animals: {rex: {species: "dog", bodyMass: "?"}, tom: "a cat"}
packs: {
	rust: {carrier: "Ana", mass: "1 kg", compartments: lid: {reach: "walking", items: {
		lamp:    {count: "2", can: {light: "Headlamp", fires: "matches"}}
		bottle:  {water: "5 L", container: capacity: "1 L"}
		papers:  {documents: "identity"}
		aid:     {firstAid: {plaster: 10, dressings: -2}}
		filter:  {treat: {method: "filter", litres: "many"}}
		pump:    {treat: {method: "filter", litres: "9 L", perHour: "0 L"}}
		magic:   {treat: {method: "magic"}}
		nuts:    {food: {energy: "500 kcal", allergens: ["milk", 3]}}
		bars:    {count: -6, food: energy: "200 kcal"}
		whistle: "20 g"
		Horn:    {can: signal: "horn"}
	}}}
	blue: {carrier: "nobody", mass: "1 kg"}
}
plan: {
	duration: 72
	seasons: hot: {day: "31", night: "18 °C", daylight: "15 h"}
	legs: a: {order: 1, distance: "3 km", climb: "4 km"}
	waterSources: {stream: {quality: "clear", litres: "some"}, tap: {quality: "tap", litres: "3 L"}}
	meetingPoints: {school: "school yard", oak: where: "at the oak"}
}
`
	l := Household(fstest.MapFS{"kit.cue": {Data: []byte(text)}}, ".", Options{})
	h := l.Kit
	if len(h.People) != 3 || len(h.Animals) != 2 || len(h.Packs) != 2 || len(h.Plan.MeetingPoints) != 2 {
		t.Fatalf("%d people, %d animals, %d packs, %d meeting points", len(h.People), len(h.Animals), len(h.Packs), len(h.Plan.MeetingPoints))
	}
	ana, cleo := h.People[0], h.People[2]
	if ana.Age.Set != true || ana.Age.Value.String() != "40 y" || ana.Medications[0].PerDay != leastPerDay || !ana.Allergies[0].Severe || cleo.Carries || cleo.Consumables[0].PerDay != leastPerDay {
		t.Errorf("ana: %+v; cleo: %+v", ana, cleo)
	}
	if h.Animals[0].BodyMass != heavyDog || h.Animals[1].BodyMass != heavyOther {
		t.Errorf("animals of %s and %s", h.Animals[0].BodyMass, h.Animals[1].BodyMass)
	}
	carriers := map[string]string{}
	items := map[string]kit.Item{}
	for _, p := range h.Packs {
		carriers[p.Key] = p.Carrier
		for _, c := range p.Compartments {
			for _, it := range c.Items {
				items[it.Key] = it
			}
		}
	}
	if carriers["rust"] != "ana" || carriers["blue"] != "ben" { // near in writing, and the only one without a pack who carries
		t.Errorf("carriers: %v", carriers)
	}
	if it := items["lamp"]; it.Count != 2 || len(it.Can) != 2 || it.Can[0].Name != "fire" || it.Can[1].Means != "headlamp" || it.Unread != nil {
		t.Errorf("lamp: %+v", it)
	}
	if it := items["bottle"]; it.Water.Value.String() != "1 L" || it.Container.Value.CapacityUnknown || it.Unread != nil {
		t.Errorf("bottle: %+v", it)
	}
	if it := items["papers"]; !slices.Equal(it.Documents, []string{"identity"}) {
		t.Errorf("papers: %+v", it)
	}
	if it := items["aid"]; len(it.FirstAid) != 2 || it.FirstAid[0].Count != 0 || it.FirstAid[1].Kind != "plasters" || !slices.Equal(it.Unread, []string{"firstAid/dressings"}) {
		t.Errorf("aid: %+v", it)
	}
	for _, key := range []string{"filter", "pump", "magic"} {
		if it := items[key]; it.Treat.Set || len(it.Unread) != 1 {
			t.Errorf("%s: %+v", key, it)
		}
	}
	if it := items["nuts"]; it.Food.Value.AllergensSet {
		t.Errorf("nuts: %+v", it)
	}
	if it := items["bars"]; it.Count != 0 || !slices.Equal(it.Unread, []string{"count"}) {
		t.Errorf("bars: %+v", it)
	}
	if it, ok := items["whistle"]; !ok || !it.MassUnknown {
		t.Errorf("whistle: %t %+v", ok, it)
	}
	if _, ok := items["horn"]; !ok {
		t.Errorf("items: %v", items)
	}
	p := h.Plan
	if p.Duration.String() != "72 h" || len(p.Seasons) != 1 || len(p.Legs) != 1 || p.Legs[0].Climb != 0 || len(p.WaterSources) != 1 || !slices.Equal(p.Unread, []string{"legs", "meetingPoints", "waterSources"}) {
		t.Errorf("plan: %+v", p)
	}
	if len(l.Faults) < 25 {
		t.Errorf("%d faults", len(l.Faults))
	}
}

// What the need is made of is judged as the message says to write it, and a device of which nothing can be read runs all day.
func TestNeedsAreNotMadeLess(t *testing.T) {
	const text = `package kit

household: "Needs"
people: ana: {age: "about 40 y", bodyMass: "60-70 kg", devices: {cpap: {power: "~40 W", hoursPerDay: "8"}, pump: {power: "strong", hoursPerDay: "all night"}}}
people: ben: {born: "13/05/2015", bodyMass: "30 kg"}
plan: {
	duration: "2-3 days"
	season: "hot"
	seasons: hot: {day: "-5", night: "-12 °C (wind)", daylight: "9,5 h", wind: "20"}
	legs: {a: {order: 1, distance: "3,5 km", climb: "approx 120 m"}, b: {distance: "2 km", order: 0}, c: {order: 2, distance: "far"}}
}
`
	l := Household(fstest.MapFS{"kit.cue": {Data: []byte(text)}}, ".", Options{})
	p, ana := l.Kit.Plan, l.Kit.People[0]
	if ana.Age.Value.String() != "40 y" || ana.BodyMass != 70_000_000_000 || l.Kit.People[1].Born.Value.String() != "2015-05-13" {
		t.Errorf("ana: %+v; ben: %+v", ana, l.Kit.People[1])
	}
	if d := ana.Devices; len(d) != 2 || d[0].Power.String() != "40 W" || d[0].HoursPerDay.String() != "8 h" || d[1].Power != leastPower || d[1].HoursPerDay != maxDay {
		t.Errorf("devices: %+v", ana.Devices)
	}
	if p.Duration.String() != "72 h" || len(p.Seasons) != 1 || p.Seasons[0].Day.String() != "-5 °C" || p.Seasons[0].Night.String() != "-12 °C" || p.Seasons[0].Wind.Value == 0 {
		t.Errorf("plan: %+v", p)
	}
	if len(p.Legs) != 3 || p.Legs[0].Distance.String() != "3.5 km" || p.Legs[0].Climb.String() != "120 m" || p.Legs[1].Key != "c" || p.Legs[1].Distance != 0 || p.Legs[2].Key != "b" || !slices.Equal(p.Unread, []string{"legs"}) {
		t.Errorf("legs: %+v, %q not read", p.Legs, p.Unread)
	}
}

// A slip that CUE reads in another sense takes out nothing but itself: everything else of the pack is there.
func TestASlipTakesOutNothingElse(t *testing.T) {
	for _, c := range []struct{ wrong, told string }{
		{"tent", "tent stands alone; write tent: {}"},
		{"tent:\n\ttorch:", "tent has nothing after its colon, so what follows on the next line counts as its value; write tent: {}|torch has nothing after its colon, so what follows on the next line counts as its value; write torch: {}"},
		{`tent: {can: shelter: tent}`, `a text stands in quotes; write shelter: "tent"`},
		{`tent: {documents: [tent]}`, ""},
	} {
		l := Household(fstest.MapFS{"kit.cue": {Data: []byte(`package kit

household: "Slip"
people: ana: {age: "40 y", bodyMass: "60 kg"}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: lid: {reach: "walking", items: {
	lamp: {mass: "80 g", can: light: "headlamp"}
	` + c.wrong + `
	fine: {mass: "60 g", can: signal: "whistle"}
}}}
`)}}, ".", Options{})
		var said []string
		for _, f := range l.Faults {
			said = append(said, f.Message)
		}
		if got := strings.Join(said, "|"); got != c.told && c.told != "" {
			t.Errorf("%s: it says %s", c.wrong, got)
		}
		items := map[string]bool{}
		for _, it := range l.Kit.Packs[0].Compartments[0].Items {
			items[it.Key] = true
		}
		if !items["lamp"] || !items["fine"] || !items["tent"] {
			t.Errorf("%s: %v is left", c.wrong, items)
		}
	}
}

// Many names that cannot be used are one fault, whose words are bounded.
func TestManyNamesAreOneFault(t *testing.T) {
	text := "package kit\n\nhousehold: \"Slip\"\npeople: ana: {age: \"40 y\", bodyMass: \"60 kg\"}\npacks: rust: {carrier: \"ana\", mass: \"1 kg\", compartments: lid: {reach: \"walking\", items: {\n"
	for _, c := range []struct {
		name string
		n    int
		told []string
	}{
		{`"red lamp %d"`, 3, []string{"red_lamp_0", "red_lamp_1", "red_lamp_2"}},
		{`"red lamp %d"`, 90, []string{"90 names here cannot be used"}},
		{`red lamp %d`, 90, []string{"90 names here cannot be used"}},
	} {
		all := text
		for i := range c.n {
			all += fmt.Sprintf("\t"+c.name+": {}\n", i)
		}
		l := Household(fstest.MapFS{"kit.cue": {Data: []byte(all + "}}}\n")}}, ".", Options{})
		if len(l.Faults) != len(c.told) {
			t.Fatalf("%s: %d faults", c.name, len(l.Faults))
		}
		for i, want := range c.told {
			if m := l.Faults[i].Message; !strings.Contains(m, want) || (c.n > 60) != strings.Contains(m, "more in the same way") || len(m) > 1000 {
				t.Errorf("%s: %s", c.name, m)
			}
		}
	}
}
