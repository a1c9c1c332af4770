package load

import (
	"slices"
	"testing"
	"testing/fstest"

	"kitmuster/lint/kit"
)

// What cannot be read leaves a hole where it stands, whoever finds it, and no echo beside it.
func TestHoles(t *testing.T) {
	l := Household(fstest.MapFS{"kit.cue": {Data: []byte(`package kit

household: "Holes"
people: ana: {age: 40, bodyMass: "9 t"}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: lid: {reach: "walking", items: {
	lamp: {mass: "80 g", can: {light: "headlamp", fire: "match"}, device: size: "AAAA"}
	bar: {mass: "60 g", food: {energy: "much", net: "90 g"}}
	milk: {mass: "60 g", mass: "70 g", food: energy: "300 kcal"}
	fine: {mass: "60 g", can: signal: "whistle"}
}}}
plan: {season: "hot", seasons: hot: {day: "31", night: "18 °C", daylight: "15 h"}, legs: a: {order: 1, distance: "3 parsec"}}
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
	if len(l.Kit.Plan.Seasons) != 0 || len(l.Kit.Plan.Legs) != 0 || len(l.Kit.Plan.WaterSources) != 1 {
		t.Errorf("plan: %+v", l.Kit.Plan)
	}
}
