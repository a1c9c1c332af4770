package measure

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

const main = "packs/rust/compartments/main/items/"

func atNight(h *kit.Household, mc int64) *kit.Household {
	h.Plan.Season, h.Plan.Seasons = "frost", []kit.Season{{Key: "frost", Day: 12_000, Night: unit.Temperature(mc), Daylight: 9 * hour, DaylightSet: true}}
	return spotted(h)
}

func treat(t kit.Treat) func(*kit.Item) { return func(it *kit.Item) { it.Treat = kit.Some(t) } }

func device(d kit.Device) func(*kit.Item) { return func(it *kit.Item) { it.Device = kit.Some(d) } }

func cells(size string, n int64) func(*kit.Item) {
	return func(it *kit.Item) { it.Cells = kit.Some(kit.Cells{Size: size, Chemistry: "alkaline", Cells: n}) }
}

func until(d string) func(*kit.Item) { return func(it *kit.Item) { it.Expires = day(d) } }

// Each thing is told with the first reason why it is of no use, at the very limit too.
func TestUseless(t *testing.T) {
	wet := kit.Treat{Method: "filter", Wetted: true}
	filter, tablets := anItem("it", 90*gram, treat(wet)), anItem("it", 9*gram, method("chlorine", 20*lit), until("2026-04-30"))
	pot := anItem("it", 200*gram, vessel(lit, true), method("boil", 0))
	plain := func(burns string) kit.Item { return anItem("ring", 90*gram, stove(burns)) }
	burner := func(burns ...string) kit.Item {
		return anItem("it", 90*gram, able("cook", "gas-stove"), stove(burns...))
	}
	gas := func(kind string) kit.Item { return anItem("gas", 200*gram, fuelled(kind, 100*gram)) }
	upside := burner("gas-mix", "butane")
	upside.Stove.Value.Inverts = true
	lighter := anItem("lighter", 20*gram, able("fire", "gas-lighter"))
	lamp := func(d kit.Device) kit.Item { return anItem("it", 80*gram, able("light", "headlamp"), device(d)) }
	empty := kit.Device{Size: "AAA", Cells: 3, Empty: true}
	can := anItem("it", 400*gram, eaten(kit.Food{Energy: 4184, Canned: true}))

	for name, c := range map[string]struct {
		night int64
		items []kit.Item
		want  kinds.Useless
	}{
		"a wet filter in frost":                    {-1, []kit.Item{filter}, kinds.UselessFrozen},
		"a wet filter at the limit":                {0, []kit.Item{filter}, ""},
		"a wet purifier":                           {-1, []kit.Item{anItem("it", gram, treat(kit.Treat{Method: "purifier", Wetted: true}))}, kinds.UselessFrozen},
		"a wet filter that may freeze":             {-1, []kit.Item{anItem("it", gram, treat(kit.Treat{Method: "filter", Wetted: true, MayFreeze: true}))}, ""},
		"a new filter":                             {-1, []kit.Item{anItem("it", gram, treat(kit.Treat{Method: "filter"}))}, ""},
		"wet light":                                {-1, []kit.Item{anItem("it", gram, treat(kit.Treat{Method: "uv", Wetted: true}))}, ""},
		"old tablets":                              {9000, []kit.Item{tablets}, kinds.UselessExpired},
		"tablets on their last day":                {9000, []kit.Item{anItem("it", gram, method("iodine", lit), until("2026-05-01"))}, ""},
		"tablets opened long ago":                  {9000, []kit.Item{anItem("it", gram, method("chlorine-dioxide", lit), func(it *kit.Item) { it.Opened, it.OpenedLife = day("2026-01-01"), kit.Some(90*24*hour) })}, kinds.UselessExpired},
		"a filter's date":                          {9000, []kit.Item{anItem("it", gram, method("filter", lit), until("2026-04-30"))}, ""},
		"boiling in a bottle":                      {9000, []kit.Item{anItem("it", gram, vessel(lit, false), method("boil", 0)), plain("ethanol"), gas("ethanol")}, kinds.UselessNoVessel},
		"boiling with no stove":                    {9000, []kit.Item{pot, lighter, gas("ethanol")}, kinds.UselessNoStove},
		"boiling with no fuel":                     {9000, []kit.Item{pot, plain("ethanol"), gas("methanol")}, kinds.UselessNoFuel},
		"boiling in the cold":                      {4999, []kit.Item{pot, plain("butane"), gas("butane")}, kinds.UselessColdFuel},
		"boiling":                                  {9000, []kit.Item{pot, plain("ethanol"), gas("ethanol")}, ""},
		"a stove with no fuel":                     {9000, []kit.Item{burner("butane")}, kinds.UselessNoFuel},
		"a stove with an empty can":                {9000, []kit.Item{burner("butane"), anItem("gas", gram, fuelled("butane", 0))}, kinds.UselessNoFuel},
		"a stove of which no fuel is told":         {9000, []kit.Item{anItem("it", gram, able("cook", "gas-stove")), gas("gas-mix")}, ""},
		"the same without fuel":                    {9000, []kit.Item{anItem("it", gram, able("cook", "alcohol-stove")), gas("gas-mix")}, kinds.UselessNoFuel},
		"butane at the limit":                      {5000, []kit.Item{burner("butane"), gas("butane")}, ""},
		"butane below it":                          {4999, []kit.Item{burner("butane"), gas("butane")}, kinds.UselessColdFuel},
		"butane upside down":                       {0, []kit.Item{upside, gas("butane")}, ""},
		"butane upside down in frost":              {-1, []kit.Item{upside, gas("butane")}, kinds.UselessColdFuel},
		"a mix at the limit":                       {-7000, []kit.Item{burner("gas-mix"), gas("gas-mix")}, ""},
		"a mix below it":                           {-7001, []kit.Item{burner("gas-mix"), gas("gas-mix")}, kinds.UselessColdFuel},
		"a mix upside down":                        {-20_000, []kit.Item{upside, gas("gas-mix")}, ""},
		"a mix upside down in great cold":          {-20_001, []kit.Item{upside, gas("gas-mix")}, kinds.UselessColdFuel},
		"propane":                                  {-37_000, []kit.Item{burner("propane"), gas("propane")}, ""},
		"propane in the greatest cold":             {-37_001, []kit.Item{burner("propane"), gas("propane")}, kinds.UselessColdFuel},
		"spirit in the cold":                       {-30_000, []kit.Item{burner("ethanol"), gas("ethanol")}, ""},
		"warm fuel beside a cold one":              {-30_000, []kit.Item{burner("butane", "ethanol"), gas("butane"), anItem("spirit", kilo, fuelled("ethanol", gram))}, ""},
		"fuel for no stove":                        {9000, []kit.Item{anItem("ring", gram, stove("ethanol")), anItem("spirit", gram, fuelled("ethanol", gram)), anItem("it", kilo, fuelled("butane", gram))}, kinds.UselessNoBurner},
		"none of it is left":                       {9000, []kit.Item{anItem("ring", gram, stove("ethanol")), anItem("spirit", gram, fuelled("ethanol", gram)), anItem("it", kilo, fuelled("butane", 0))}, ""},
		"sticks for no stove":                      {9000, []kit.Item{anItem("ring", gram, stove("ethanol")), anItem("spirit", gram, fuelled("ethanol", gram)), anItem("it", kilo, fuelled("wood", gram))}, ""},
		"a stove for wood":                         {9000, []kit.Item{burner("wood"), lighter}, ""},
		"a stove for wood and nothing to light it": {9000, []kit.Item{burner("wood")}, kinds.UselessNoFuel},
		"an empty lamp":                            {9000, []kit.Item{lamp(empty), anItem("two", gram, cells("AAA", 2)), anItem("other", gram, cells("AA", 9))}, kinds.UselessEmpty},
		"its cells beside it":                      {9000, []kit.Item{lamp(empty), anItem("three", gram, cells("AAA", 3))}, ""},
		"a lamp of which nothing is told":          {9000, []kit.Item{lamp(kit.Device{Size: "AAA", Cells: 3})}, ""},
		"an empty lamp with a crank":               {9000, []kit.Item{lamp(kit.Device{Size: "AAA", Cells: 3, Empty: true, SelfPowered: true})}, ""},
		"an empty phone":                           {9000, []kit.Item{anItem("it", gram, able("communicate", "phone"), device(kit.Device{Size: "usb", BuiltIn: true, Empty: true}))}, kinds.UselessEmpty},
		"an empty lamp to be charged":              {9000, []kit.Item{lamp(kit.Device{Size: "usb", Empty: true})}, kinds.UselessEmpty},
		"the same with a bank":                     {9000, []kit.Item{lamp(kit.Device{Size: "18650", BuiltIn: true, Empty: true}), anItem("bank", gram, cells("usb", 1))}, ""},
		"a can":                                    {9000, []kit.Item{can}, kinds.UselessNoOpener},
		"a can with an opener":                     {9000, []kit.Item{can, anItem("opener", gram, able("open_cans", "can-opener"))}, ""},
		"a can with a multi-tool":                  {9000, []kit.Item{can, anItem("tool", gram, able("cut", "multi-tool"))}, ""},
		"a can with a knife":                       {9000, []kit.Item{can, anItem("tool", gram, able("cut", "knife"))}, kinds.UselessNoOpener},
		"none of a helper":                         {9000, []kit.Item{can, anItem("opener", gram, times(0), able("open_cans", "can-opener"))}, kinds.UselessNoOpener},
	} {
		h := onePack(slices.Clone(c.items)...)
		f := of1(t, atNight(h, c.night))
		var got kinds.Useless
		for _, u := range f.Useless {
			if u.Name == "it" {
				got = u.Why
			}
			if u.Words == "" || !u.Household || u.Carrier != "people/ana" || u.Pack != "packs/rust" {
				t.Errorf("%s: %+v", name, u)
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
		// What counts as absent stands in no supply and in no list of offers.
		for _, s := range []facts.Supply{f.Household.Supply, f.Packs[0].Supply, f.People[0].Alone} {
			for _, can := range s.Can {
				if c.want != "" && slices.Contains(can.Items, main+"it") {
					t.Errorf("%s: it still counts: %+v", name, can)
				}
			}
			if c.want == kinds.UselessNoOpener && s.FoodEnergyJ+s.NoCookEnergyJ != 0 {
				t.Errorf("%s: %d J of food", name, s.FoodEnergyJ)
			}
			if (c.want == kinds.UselessFrozen || c.want == kinds.UselessExpired) && treatedBy(s) != [classes]int64{} {
				t.Errorf("%s: treats %v", name, treatedBy(s))
			}
		}
		for _, can := range f.Capabilities {
			for _, o := range can.Offers {
				if c.want != "" && o.Name == "it" {
					t.Errorf("%s: it is still offered: %+v", name, o)
				}
			}
		}
		for _, tr := range f.Treatments {
			if tr.Name == "it" && tr.Works != (c.want == "") {
				t.Errorf("%s: works: %v", name, tr.Works)
			}
		}
		for _, fd := range f.Foods {
			if fd.Opens != (c.want == "") {
				t.Errorf("%s: opens: %v", name, fd.Opens)
			}
		}
	}
}

// Without a season nothing is said of the cold; a filter on the body stays warm.
func TestUselessWhereItIs(t *testing.T) {
	wet := anItem("straw", 60*gram, treat(kit.Treat{Method: "filter", Wetted: true}))
	if got := of1(t, onePack(wet, anItem("stove", gram, stove("butane")), anItem("gas", kilo, fuelled("butane", gram)))).Useless; len(got) != 0 {
		t.Errorf("without a season: %+v", got)
	}
	h := onePack()
	h.People[0].OnBody = []kit.Item{wet}
	if got := of1(t, atNight(h, -9000)).Useless; len(got) != 0 {
		t.Errorf("on the body: %+v", got)
	}
}

// Who has the stove but not the fuel cannot cook alone; the household can.
func TestUselessAlone(t *testing.T) {
	h := onePack(anItem("fuel", kilo, fuelled("butane", 50*gram)), anItem("opener", gram, able("open_cans", "can-opener")))
	h.People = append(h.People, kit.Person{Key: "ben", Name: "Ben", Age: years(40), BodyMass: 80 * kilo})
	h.Packs = append(h.Packs, kit.Pack{Key: "sage", Name: "Sage", Carrier: "ben", Compartments: []kit.Compartment{{Key: "main", Items: []kit.Item{
		anItem("stove", 90*gram, stove("butane")), anItem("beans", kilo, eaten(kit.Food{Energy: 4184, Canned: true})),
	}}}})
	f := of1(t, atNight(h, 9000))
	const sage = "packs/sage/compartments/main/items/"
	one := facts.Useless{Pack: "packs/sage", Carrier: "people/ben"}
	beans, burner := one, one
	beans.ID, beans.Item, beans.Name, beans.Why, beans.Words = sage+"beans/food", sage+"beans", "beans", kinds.UselessNoOpener, "has no can opener with it"
	burner.ID, burner.Item, burner.Name, burner.Capability, burner.Why, burner.Words = sage+"stove/stove", sage+"stove", "stove", kinds.CanCook, kinds.UselessNoFuel, "has no fuel with it"
	if d := cmp.Diff([]facts.Useless{beans, burner}, f.Useless); d != "" {
		t.Error(d)
	}
	if got := []int64{f.People[0].Alone.FoodEnergyJ, f.People[1].Alone.FoodEnergyJ, f.Household.Supply.FoodEnergyJ}; !slices.Equal(got, []int64{0, 0, 4184}) {
		t.Errorf("food energy %v", got)
	}

	// In the cold it is the can of gas that is to be changed, nearest first.
	h.Packs[1].Compartments[0].Items = append(h.Packs[1].Compartments[0].Items, anItem("more", kilo, fuelled("butane", 50*gram)))
	f = of1(t, atNight(h, 1000))
	burner.Why, burner.Words, burner.Household, burner.Cause, burner.CauseName = kinds.UselessColdFuel, "does not burn at night, as it is too cold for its gas", true, sage+"more", "more"
	if d := cmp.Diff([]facts.Useless{beans, burner}, f.Useless); d != "" {
		t.Error(d)
	}
	h.Packs[1].Compartments[0].Items = h.Packs[1].Compartments[0].Items[:1]
	if u := of1(t, atNight(h, 1000)).Useless; len(u) != 1 || u[0].Cause != main+"fuel" || !u[0].Household {
		t.Errorf("%+v", u)
	}
}

// A stove for wood burns sticks, of which there is no end. A pot and a lighter alone do not count: there may be no dry wood, or
// no fire may be lit.
func TestBoilingOnSticks(t *testing.T) {
	for _, it := range []kit.Item{anItem("stove", gram, stove("wood")), anItem("stove", gram, able("cook", "wood-stove"))} {
		h := onePack(anItem("pot", 200*gram, vessel(lit, true), method("boil", 0)), anItem("lighter", 20*gram, able("fire", "gas-lighter")), it)
		if f := of1(t, h); f.Household.Supply.BoilableML != facts.NoEnd || f.Household.Supply.TreatCryptoML != facts.NoEnd || len(f.Useless) != 0 {
			t.Errorf("%+v: boils %d, treats %d", f.Useless, f.Household.Supply.BoilableML, f.Household.Supply.TreatCryptoML)
		}
	}
	h := onePack(anItem("pot", 200*gram, vessel(lit, true), method("boil", 0)), anItem("lighter", 20*gram, able("fire", "gas-lighter")))
	h.Plan.Settings = []string{"woodland"}
	if got := of1(t, h).Useless; len(got) != 1 || got[0].Why != kinds.UselessNoStove {
		t.Errorf("%+v", got)
	}
}

// Spare cells fill an empty lamp first.
func TestEmptyLampRuns(t *testing.T) {
	d := kit.Device{Size: "AAA", Cells: 3, RunTime: kit.Some(10 * hour)}
	run := func(empty bool) int64 {
		d.Empty = empty
		return of1(t, onePack(anItem("lamp", 80*gram, able("light", "headlamp"), device(d)), anItem("spares", gram, cells("AAA", 3)))).Devices[0].RunTotalMin
	}
	if full, empty := run(false), run(true); full != 1200 || empty != 600 {
		t.Errorf("%d and %d min, want 1200 and 600", full, empty)
	}
}
