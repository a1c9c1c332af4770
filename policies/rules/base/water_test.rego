package rules.base.water_test

import data.lib.testing_test as t
import data.rules.base.water

test_purification_at_the_limit if {
	count(water.finding.purification) == 0 with input as {"packs": [t.pack_with([t.can("treat-water", ["filter"])])]}
}

test_purification_one_too_few if {
	water.finding.purification == {{
		"at": "packs/rust",
		"because": [],
		"text": "Rust has no means of water treatment; 1 is asked: 1 too few",
	}} with input as {"packs": [t.pack_with([t.can("cook", ["gas-stove"])])]}
}

test_purification_not_asked_of_animals if {
	count(water.finding.purification) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}

start(water_ml, bearers) := {
	"household": t.household({"supply": t.supply({"water_ml": water_ml})}),
	"people": array.concat(
		[t.person({"id": "people/baby", "pack_count": 0})],
		[t.person({"id": sprintf("people/%d", [i])}) | some i in numbers.range(1, bearers)],
	),
}

test_start_litres_at_the_limit if {
	count(water.finding.start_litres) == 0 with input as start(4000, 2)
}

test_start_litres_one_too_few if {
	water.finding.start_litres == {{
		"at": "household",
		"because": ["household/water"],
		"text": "the household carries 3.999 L of water at the start; 2 people with a pack at 2 L each make 4 L: 0.001 L too little",
	}} with input as start(3999, 2)
}

test_start_litres_not_asked_without_bearers if {
	facts := object.union(start(0, 1), {"people": [t.person({"pack_count": 0})]})
	count(water.finding.start_litres) == 0 with input as facts
}

vessels(people, ml) := {"household": t.household({"people_count": people, "supply": t.supply({"container_ml": ml})})}

test_container_capacity_at_the_limit if {
	count(water.finding.container_capacity) == 0 with input as vessels(2, 6000)
}

test_container_capacity_one_too_few if {
	water.finding.container_capacity == {{
		"at": "household",
		"because": ["household/containers"],
		"text": "the household's vessels hold 5.999 L; one day of 2 people at 3 L each takes 6 L: 0.001 L too little",
	}} with input as vessels(2, 5999)
}

test_container_capacity_not_asked_without_people if {
	count(water.finding.container_capacity) == 0 with input as vessels(0, 0)
}

boiler(fire_safe_ml, treat, pack) := {
	"packs": [t.pack({"supply": t.supply({"fire_safe_ml": fire_safe_ml})})],
	"treatments": [t.treatment(treat, {"id": "packs/rust/pot", "name": "Pot", "pack": pack})],
}

test_fire_safe_vessel_present if {
	count(water.finding.fire_safe_vessel) == 0 with input as boiler(1, "boil", "packs/rust")
}

test_fire_safe_vessel_missing if {
	water.finding.fire_safe_vessel == {{
		"at": "packs/rust",
		"because": ["packs/rust/pot"],
		"text": "Rust counts on boiling (Pot) and has no vessel that may be put on a fire",
	}} with input as boiler(0, "boil", "packs/rust")
}

test_fire_safe_vessel_asked_of_animals if {
	facts := object.union(boiler(0, "boil", "packs/rust"), {"packs": [t.pack({"carrier_kind": "animal"})]})
	count(water.finding.fire_safe_vessel) == 1 with input as facts
}

test_fire_safe_vessel_not_asked_without_boiling if {
	count(water.finding.fire_safe_vessel) == 0 with input as boiler(0, "filter", "packs/rust")
}

test_fire_safe_vessel_not_asked_of_another_pack if {
	count(water.finding.fire_safe_vessel) == 0 with input as boiler(0, "boil", "packs/moss")
}
