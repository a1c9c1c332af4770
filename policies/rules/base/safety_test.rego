package rules.base.safety_test

import data.lib.testing_test as t
import data.rules.base.safety

beside(kind, fuel, foods) := {
	"fuels": [t.fuel(kind, fuel)],
	"foods": [t.food(f) | some f in foods],
}

test_fuel_beside_food_each_kind if {
	every kind in ["ethanol", "methanol", "kerosene", "hexamine"] {
		safety.finding.fuel_beside_food == {{
			"at": "packs/rust/fuel",
			"because": ["packs/rust/bars"],
			"text": sprintf("Fuel (%s) shares its compartment with 1 food", [kind]),
		}} with input as beside(kind, {}, [{}])
	}
}

test_fuel_beside_food_names_the_foods_beside if {
	safety.finding.fuel_beside_food == {{
		"at": "packs/rust/fuel",
		"because": ["packs/rust/bars", "packs/rust/oats"],
		"text": "Fuel (ethanol) shares its compartment with 2 foods",
	}} with input as beside("ethanol", {}, [
		{},
		{"id": "packs/rust/oats", "name": "Oats", "for_animal": true},
		{"id": "packs/rust/nuts", "name": "Nuts", "compartment": "packs/rust/main"},
	])
}

test_fuel_beside_food_other_fuels[kind] if {
	some kind in ["butane", "propane", "gas-mix", "wood"]
	count(safety.finding.fuel_beside_food) == 0 with input as beside(kind, {}, [{}])
}

test_fuel_beside_food_apart if {
	count(safety.finding.fuel_beside_food) == 0 with input as beside("ethanol", {"compartment": "packs/rust/main"}, [{}])
}

test_fuel_beside_food_not_asked_of_pockets if {
	count(safety.finding.fuel_beside_food) == 0 with input as beside("ethanol", {"compartment": ""}, [{"compartment": ""}])
}

night(mc, more, insulation) := object.union(
	{
		"stoves": [t.stove(["ethanol"], {})],
		"plan": t.plan({"night_mc": mc}),
		"household": t.household({}),
		"insulation": insulation,
	},
	more,
)

bag(kind, more) := t.insulation(kind, object.union({"comfort_known": true, "comfort_mc": 4000}, more))

cold(text) := {{
	"at": "household",
	"because": ["packs/rust/stove"],
	"text": sprintf("the night is %s", [text]),
}}

test_stove_as_heater_everybody_warm[kind] if {
	some kind in ["sleeping-bag", "quilt", "blanket"]
	count(safety.finding.stove_as_heater) == 0 with input as night(4000, {}, [bag(kind, {"count": 2})])
}

test_stove_as_heater_one_too_few if {
	safety.finding.stove_as_heater == cold("4 °C and a stove is at hand; 1 thing to sleep in good for it, 0 more without a comfort figure, for 2 people: 1 too few") with input as night(4000, {}, [
		bag("quilt", {}),
		bag("blanket", {"comfort_mc": 4001}),
		bag("jacket", {"count": 5}),
	])
}

test_stove_as_heater_says_what_is_not_known if {
	safety.finding.stove_as_heater == cold("0 °C and a stove is at hand; 0 things to sleep in good for it, 5 more without a comfort figure, for 2 people: 2 too few") with input as night(0, {}, [
		t.insulation("sleeping-bag", {"count": 2, "comfort_mc": 0 - 9000}),
		t.insulation("quilt", {"count": 3}),
		t.insulation("jacket", {"count": 4}),
		bag("quilt", {}),
	])
}

test_stove_as_heater_below_zero if {
	safety.finding.stove_as_heater == cold("-6.5 °C and a stove is at hand; 0 things to sleep in good for it, 0 more without a comfort figure, for 2 people: 2 too few") with input as night(0 - 6500, {}, [])
}

test_stove_as_heater_a_hair_below_zero if {
	safety.finding.stove_as_heater == cold("-0.001 °C and a stove is at hand; 0 things to sleep in good for it, 0 more without a comfort figure, for 2 people: 2 too few") with input as night(0 - 1, {}, [])
}

test_stove_as_heater_on_the_warmest_cold_night if {
	safety.finding.stove_as_heater == cold("5 °C and a stove is at hand; 0 things to sleep in good for it, 0 more without a comfort figure, for 2 people: 2 too few") with input as night(5000, {}, [])
}

test_stove_as_heater_not_asked[when] if {
	some when, facts in {
		"a warmer night": night(5001, {}, []),
		"no season": night(4000, {"plan": t.plan({"season_known": false, "night_mc": 0})}, []),
		"no stove": night(4000, {"stoves": []}, []),
		"nobody": night(4000, {"household": t.household({"people_count": 0})}, []),
	}
	count(safety.finding.stove_as_heater) == 0 with input as facts
}

test_defensive_each if {
	safety.finding.defensive == {
		{
			"at": "packs/rust/spray",
			"text": "spray (spray) is for defence, which is regulated differently from place to place: check local law",
		},
		{
			"at": "packs/rust/alarm",
			"text": "alarm (alarm) is for defence, which is regulated differently from place to place: check local law",
		},
	} with input as {"capabilities": [t.capability("defend", [t.offer("spray", {}), t.offer("alarm", {})])]}
}

test_defensive_nothing_else if {
	count(safety.finding.defensive) == 0 with input as {"capabilities": [t.capability("cut", [t.offer("knife", {})])]}
}

child(person, fuels, capabilities) := {
	"people": [t.person(object.union({"id": "people/mia", "name": "Mia", "adult": false, "age_months": 143}, person))],
	"fuels": fuels,
	"capabilities": capabilities,
}

hers(means) := t.offer(means, {"carrier": "people/mia"})

mia(ids, things) := {{
	"at": "people/mia",
	"because": ids,
	"text": sprintf("Mia is 11 years and 11 months old and carries %s; 12 years are asked for that: 1 month too few", [things]),
}}

test_not_for_children_each_means if {
	cases := [["cut", "knife"], ["cut", "multi-tool"], ["cut", "saw"], ["defend", "spray"], ["defend", "other"]]
	every c in cases {
		safety.finding.not_for_children == mia([sprintf("packs/rust/%s", [c[1]])], c[1]) with input as child({}, [], [t.capability(c[0], [hers(c[1])])])
	}
}

test_not_for_children_each_fuel if {
	every kind in ["butane", "propane", "gas-mix", "ethanol", "methanol", "hexamine", "kerosene"] {
		safety.finding.not_for_children == mia(["packs/rust/fuel"], "Fuel") with input as child({}, [t.fuel(kind, {"carrier": "people/mia"})], [])
	}
}

test_not_for_children_together if {
	safety.finding.not_for_children == mia(["packs/rust/fuel", "packs/rust/knife"], "Fuel and knife") with input as child(
		{},
		[t.fuel("butane", {"carrier": "people/mia"})],
		[t.capability("cut", [hers("knife"), hers("scissors")])],
	)
}

test_not_for_children_at_the_limit if {
	count(safety.finding.not_for_children) == 0 with input as child({"age_months": 144}, [], [t.capability("cut", [hers("knife")])])
}

test_not_for_children_not_asked[what] if {
	some what, facts in {
		"age not written": child({"age_known": false, "age_months": 0}, [], [t.capability("cut", [hers("knife")])]),
		"scissors": child({}, [], [t.capability("cut", [hers("scissors")])]),
		"an alarm": child({}, [], [t.capability("defend", [hers("alarm")])]),
		"matches": child({}, [], [t.capability("fire", [hers("matches")])]),
		"wood": child({}, [t.fuel("wood", {"carrier": "people/mia"})], []),
		"somebody else's": child({}, [t.fuel("butane", {})], [t.capability("cut", [t.offer("knife", {})])]),
	}
	count(safety.finding.not_for_children) == 0 with input as facts
}
