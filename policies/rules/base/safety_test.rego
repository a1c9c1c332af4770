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
			"text": sprintf("Fuel (%s) is in one compartment with “Bars”", [kind]),
		}} with input as beside(kind, {}, [{}])
	}
}

test_fuel_beside_food_names_the_foods_beside if {
	safety.finding.fuel_beside_food == {{
		"at": "packs/rust/fuel",
		"because": ["packs/rust/bars", "packs/rust/oats"],
		"text": "Fuel (ethanol) is in one compartment with “Bars” and “Oats”",
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
	"at": ids[0],
	"because": ids,
	"text": sprintf("Mia is 11 years and 11 months old and carries %s; the minimum age for that is 12 years", [things]),
}}

test_not_for_children_each_means if {
	cases := [
		["cut", "knife"],
		["cut", "multi-tool"],
		["cut", "saw"],
		["defend", "spray"],
		["defend", "other"],
		["fire", "electric-lighter"],
		["fire", "ferro-rod"],
		["fire", "fire-piston"],
		["fire", "fluid-lighter"],
		["fire", "gas-lighter"],
		["fire", "matches"],
		["treat-water", "chlorine"],
		["treat-water", "chlorine-dioxide"],
		["treat-water", "iodine"],
	]
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
		"a lens": child({}, [], [t.capability("fire", [hers("lens")])]),
		"a filter": child({}, [], [t.capability("treat-water", [hers("filter")])]),
		"wood": child({}, [t.fuel("wood", {"carrier": "people/mia"})], []),
		"somebody else's": child({}, [t.fuel("butane", {})], [t.capability("cut", [t.offer("knife", {})])]),
	}
	count(safety.finding.not_for_children) == 0 with input as facts
}

test_not_for_children_where_a_group_sets_no_age if {
	count(safety.finding.not_for_children) == 0 with input as child({"age_months": 0}, [], [t.capability("cut", [hers("knife")])]) with data.limits.base.people.hand_months.value as 0
}
