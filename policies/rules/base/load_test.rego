package rules.base.load_test

import data.lib.testing_test as t
import data.rules.base.load

carriers(list) := {"carriers": [t.carrier(c) | some c in list], "plan": t.plan({}), "vehicles": []}

# On legs on foot that take so many minutes.
walked(min, list) := object.union(carriers(list), {"plan": {"legs": [{"id": "plan/legs/one"}], "foot_min": min, "foot_mm": 500001}})

ana(level, text, lack) := {{
	"at": "people/ana/load",
	"because": ["people/ana/load"],
	"text": text,
	"level": level,
	"lack": lack,
}}

test_body_mass_cap_at_the_limit if {
	count(load.finding.body_mass_cap) == 0 with input as carriers([{"foot_ug": 10500000000}])
}

# What is compared was measured, not rounded; a figure beside its limit does not hide that it exceeds it.
test_body_mass_cap_one_too_many if {
	load.finding.body_mass_cap == ana("error", "Ana carries 10.51 kg, 15.1 % of body weight; the cap is 15 % or 10.50 kg: over by 10 g; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way", 10001) with input as carriers([{"foot_ug": 10510000001}])
	load.finding.body_mass_cap == ana("error", "Ana carries just over 10.50 kg, 15.1 % of body weight; the cap is 15 % or 10.50 kg: over by 1 mg; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way", 1) with input as carriers([{"foot_ug": 10500000001}])
}

test_body_mass_cap_in_words if {
	load.finding.body_mass_cap == ana("error", "Ana carries 14.20 kg, 20.3 % of body weight; the cap is 15 % or 10.50 kg: over by 3.70 kg; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way", 3700000) with input as carriers([{"load_mg": 14200000}])
}

things := {
	"spare": [{"id": "packs/rust/idol", "name": "idol", "mass_mg": 2000000}, {"id": "packs/rust/saw", "name": "saw", "mass_mg": 90000}],
	"movable": [{"id": "packs/rust/tent", "name": "tent", "mass_mg": 1900000}],
}

# What no rule needs comes first, and the finding stands there; then what can move, and who has most room.
test_body_mass_cap_says_what_to_do if {
	load.finding.body_mass_cap == {{
		"at": "packs/rust/idol",
		"because": ["people/ana/load", "packs/rust/idol", "packs/rust/saw", "packs/rust/tent"],
		"text": "Ana carries 14.20 kg, 20.3 % of body weight; the cap is 15 % or 10.50 kg: over by 3.70 kg; no rule needs idol (2.00 kg) and saw (90 g); tent (1.90 kg) can move; Ben has room for 6.00 kg",
		"level": "error",
		"lack": 3700000,
	}} with input as carriers([
		object.union(things, {"load_mg": 14200000}),
		ben({}),
		ben({"id": "people/cleo", "name": "Cleo", "load_mg": 4000000}),
	])
}

# It stands where something changes: at what no rule needs if that is enough, else at the heaviest of that and of what can move.
test_body_mass_cap_stands_at_what_changes_something[why] if {
	some why, c in {
		"it is enough": [12590000, "packs/rust/idol"],
		"it is not enough, but the heaviest": [12590001, "packs/rust/idol"],
		"what can move is heavier": [12590001, "packs/rust/tent"],
	}
	heavy := {"movable": [{"id": "packs/rust/pot", "name": "pot", "mass_mg": 1}, {"id": "packs/rust/tent", "name": "tent", "mass_mg": 2000001}]}
	more := {true: heavy, false: {}}[c[1] == "packs/rust/tent"]
	{f.at | some f in load.finding.body_mass_cap} == {c[1]} with input as carriers([object.union(things, object.union({"load_mg": c[0]}, more))])
}

test_body_mass_cap_stands_at_what_no_rule_needs_if_that_is_enough if {
	heavy := {"movable": [{"id": "packs/rust/tent", "name": "tent", "mass_mg": 9000000}]}
	{f.at | some f in load.finding.body_mass_cap} == {"packs/rust/idol"} with input as carriers([object.union(things, object.union({"load_mg": 12590000}, heavy))])
	{f.at | some f in load.finding.body_mass_cap} == {"packs/rust/tent"} with input as carriers([object.union(heavy, {"load_mg": 12590000})])
}

test_nobody_has_room[who] if {
	some who, other in {
		"laden": {"load_mg": 9000000},
		"a child": {"adult": false},
		"an animal": {"kind": "animal"},
		"carries nothing": {"carries": false, "packs": []},
		"carries somebody": {"carried_mg": 1},
		"own cap": {"cap_known": true, "cap_permille": 50},
	}
	some f in load.finding.body_mass_cap with input as carriers([{"load_mg": 14200000}, ben(other)])
	f.at == "people/ana/load"
	endswith(f.text, "; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way")
}

# What would move stays unsaid where nobody has room; what no rule needs is said all the same, and then not that nothing can go.
test_nothing_moves_to_nobody if {
	{[f.text, f.because] | some f in load.finding.body_mass_cap} == {[
		"Ana carries 14.20 kg, 20.3 % of body weight; the cap is 15 % or 10.50 kg: over by 3.70 kg; no rule needs idol (2.00 kg) and saw (90 g); nobody else has room",
		["people/ana/load", "packs/rust/idol", "packs/rust/saw"],
	]} with input as carriers([object.union(things, {"load_mg": 14200000})])
	{[f.text, f.because] | some f in load.finding.body_mass_cap} == {[
		"Ana carries 14.20 kg, 20.3 % of body weight; the cap is 15 % or 10.50 kg: over by 3.70 kg; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way",
		["people/ana/load"],
	]} with input as carriers([object.union(things, {"load_mg": 14200000, "spare": []})])
}

# What Ana's advice names as surplus, with so much water and food in the packs and so little of it idle.
surplus(more) := [part |
	stocks := [
		{"kind": "water", "body": "", "lowest": more.idle_water, "have": 12000},
		{"kind": "water", "body": "animals/bo", "lowest": 13000, "have": 13000},
		{"kind": "energy", "body": "", "lowest": more.idle_food, "have": 10000000},
		{"kind": "sodium", "body": "", "lowest": more.idle_sodium, "have": 1000},
		{"kind": "energy", "body": "animals/bo", "lowest": 0, "have": 9},
	]
	facts := object.union(carriers([{"load_mg": 14200000}]), {
		"plan": t.plan({"water_named": more.named}),
		"people": [t.person({"energy_j": more.day}), t.person({"id": "people/ben", "energy_j": 1})],
		"household": t.household({"supply": {"water_ml": 12000}, "need_ml": more.need}),
		"vessels": [
			t.vessel({"carrier": "people/ana", "pack": "packs/rust", "water_ml": more.water}),
			t.vessel({"carrier": "people/ana", "pack": "", "water_ml": 700}),
			t.vessel({"carrier": "people/ben", "pack": "packs/moss", "water_ml": 800}),
		],
		"foods": [
			t.food({"energy_j": more.food}),
			t.food({"energy_j": 77000000, "carrier": "people/ben"}),
			t.food({"energy_j": 77000000, "for": "people/mia"}),
			t.food({"energy_j": 77000000, "for_animal": true}),
		],
		"endurance": {"stocks": stocks},
	})
	some f in load.finding.body_mass_cap with input as facts
	part := substring(f.text, indexof(f.text, "3.70 kg") + 7, -1)
][0]

# Ana's load stands at the heaviest food that can stay whole, where it is heavier than what can move.
stays(food, more) := object.union(
	carriers([object.union(more, {"load_mg": 14200000})]),
	{
		"people": [t.person({"energy_j": 4000000})],
		"foods": [
			t.food({"energy_j": 2000000, "mass_mg": 9}),
			t.food({"energy_j": 1000000, "id": "packs/rust/crumbs", "mass_mg": 0}),
			t.food(object.union({"energy_j": 3000000, "id": "packs/rust/tins", "mass_mg": 10}, food)),
		],
		"endurance": {"stocks": [{"kind": "energy", "body": "", "lowest": 500, "have": 1000}]},
	},
)

test_load_stands_at_food_that_can_stay[what] if {
	some what, c in {
		"at the limit": [{}, {}, "packs/rust/tins"],
		"one joule more than can stay": [{"energy_j": 3000002}, {}, "packs/rust/bars"],
		"lighter": [{"mass_mg": 8}, {}, "packs/rust/bars"],
		"another's that could": [{"carrier": "people/ben", "energy_j": 1000000}, {}, "packs/rust/crumbs"],
		"for one, and could": [{"for": "people/mia", "energy_j": 1000000}, {}, "packs/rust/crumbs"],
		"holds next to nothing": [{"energy_j": 1}, {}, "packs/rust/tins"],
		"holds nothing": [{"energy_j": 0}, {}, "packs/rust/crumbs"],
		"in a pocket": [{"pack": ""}, {}, "packs/rust/bars"],
		"for one": [{"for": "people/mia"}, {}, "packs/rust/crumbs"],
		"another's": [{"carrier": "people/ben"}, {}, "packs/rust/crumbs"],
		"what can move is heavier": [{}, {"movable": [{"id": "packs/rust/tent", "name": "tent", "mass_mg": 11}]}, "packs/rust/tent"],
	}
	{f.at | some f in load.finding.body_mass_cap} == {c[2]} with input as stays(c[0], c[1])
}

none := "; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way"

plenty := {"named": false, "idle_water": 6000, "need": 6000, "water": 6000, "idle_food": 5000000, "idle_sodium": 500, "day": 4000000, "food": 6000000}

test_surplus[what] if {
	some what, c in {
		"half of both": [{}, "; 3 L of the water is more than the plan needs; food of 717 kcal is more than the plan needs; nobody else has room"],
		"a first day's water stays": [{"need": 8000, "food": 0}, "; 2 L of the water is more than the plan needs; nobody else has room"],
		"half a day's where water awaits": [{"named": true, "need": 16000, "food": 0}, "; 2 L of the water is more than the plan needs; nobody else has room"],
		"own water stays": [{"idle_water": 12000, "need": 0, "food": 0}, "; 5.75 L of the water is more than the plan needs; nobody else has room"],
		"least water": [{"idle_water": 598, "food": 0}, "; 0.25 L of the water is more than the plan needs; nobody else has room"],
		"just so much water": [{"idle_water": 500, "food": 0}, "; 0.25 L of the water is more than the plan needs; nobody else has room"],
		"no water is idle": [{"idle_water": 0}, "; food of 717 kcal is more than the plan needs; nobody else has room"],
		"too little water": [{"idle_water": 499, "food": 0}, none],
		"water on the body": [{"water": 0, "food": 0}, none],
		"salt is short": [{"idle_sodium": 0, "water": 0}, none],
		"some salt": [{"idle_sodium": 100, "water": 0}, "; food of 143 kcal is more than the plan needs; nobody else has room"],
		"half a day stays": [{"day": 10400000, "water": 0}, "; food of 191 kcal is more than the plan needs; nobody else has room"],
		"least food": [{"day": 11200000, "water": 0}, "; food of 96 kcal is more than the plan needs; nobody else has room"],
		"a part is rounded down": [{"day": 0, "water": 0, "idle_food": 9999000, "idle_sodium": 1000}, "; food of 1433 kcal is more than the plan needs; nobody else has room"],
		"too little food": [{"day": 11200002, "water": 0}, none],
	}
	surplus(object.union(plenty, c[0])) == c[1]
}

# To the milligram, rounded down: less is no room.
test_room_is_not_rounded_up if {
	every c in [[149999000, "Ben has room for 1 mg"], [149999001, "nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way"], [149998001, "Ben has room for 1 mg"], [149998000, "Ben has room for 2 mg"], [149000001, "Ben has room for 999 mg"]] {
		facts := carriers([{"load_mg": 14200000}, ben({"body_mass_ug": 1000000000, "foot_ug": c[0]})])
		some f in load.finding.body_mass_cap with input as facts
		f.at == "people/ana/load"
		endswith(f.text, sprintf("; %s", [c[1]]))
	}
}

test_body_mass_cap_own_at_the_limit if {
	facts := carriers([{"cap_known": true, "cap_permille": 200, "load_mg": 14000000}])
	count(load.finding.body_mass_cap) == 0 with input as facts
}

test_body_mass_cap_own_one_too_many if {
	load.finding.body_mass_cap == ana("error", "Ana carries just over 8.40 kg, 12.1 % of body weight; the family's own cap is 12 % or 8.40 kg: over by 1 mg; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way", 1) with input as carriers([{"cap_known": true, "cap_permille": 120, "load_mg": 8400001}])
}

# From 65 years on and in poor health the cap is lower; up to that of other adults it is a warning.
test_body_mass_cap_by_age_and_health if {
	every c in [
		{"more": {"age_months": 780}, "words": "the cap from 65 years on"},
		{"more": {"fitness": "poor"}, "words": "the cap in poor health"},
		{"more": {"fitness": "unwell", "age_months": 900}, "words": "the cap for someone unwell"},
	] {
		count(load.finding.body_mass_cap) == 0 with input as carriers([object.union(c.more, {"load_mg": 7000000})])
		light := carriers([object.union(c.more, {"load_mg": 10500000})])
		load.finding.body_mass_cap == ana("warning", sprintf("Ana carries 10.50 kg, 15.0 %% of body weight; %s is 10 %% or 7.00 kg: over by 3.50 kg; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way", [c.words]), 3500000) with input as light
		{f.level | some f in load.finding.body_mass_cap} == {"error"} with input as carriers([object.union(c.more, {"load_mg": 10500001})])
	}
}

test_body_mass_cap_not_of_the_old[who] if {
	some who, more in {"younger": {"age_months": 779}, "of unknown age": {"age_months": 780, "age_known": false}}
	count(load.finding.body_mass_cap) == 0 with input as carriers([object.union(more, {"load_mg": 10500000})])
}

test_body_mass_cap_of_the_old_with_an_own_cap if {
	own_cap := {"age_months": 780, "cap_known": true, "cap_permille": 50, "load_mg": 3500001}
	{f.level | some f in load.finding.body_mass_cap} == {"error"} with input as carriers([own_cap])
}

test_on_short_walks_a_warning if {
	heavy := {"load_mg": 14200000}
	{f.level | some f in load.finding.body_mass_cap} == {"warning"} with input as walked(60, [heavy])
	{f.level | some f in load.finding.body_mass_cap} == {"error"} with input as walked(61, [heavy])
	{f.level | some f in load.finding.child_cap} == {"warning"} with input as walked(60, [mia(3000001)])
	{f.level | some f in load.finding.animal_cap} == {"warning"} with input as walked(60, [bo(2400001)])
}

# So many millimetres on foot, to a vehicle.
near(mm, list) := object.union(carriers(list), {"plan": t.plan({"legs": [{"id": "plan/legs/out"}, {"id": "plan/legs/drive"}], "foot_mm": mm, "foot_min": 61})})

test_on_a_few_hundred_metres if {
	every heavy in [{"load_mg": 10500001}, {"load_mg": 21000000}] {
		count(load.finding.body_mass_cap) == 0 with input as near(500000, [heavy])
		{f.level | some f in load.finding.body_mass_cap} == {"error"} with input as near(500001, [heavy])
	}
	{f.level | some f in load.finding.body_mass_cap} == {"error"} with input as near(500000, [{"load_mg": 21000001}])
	count(load.finding.body_mass_cap) == 1 with input as object.union(near(0, [{"load_mg": 10500001}]), {"plan": t.plan({})})
}

# Any lower cap is a note there, up to what an adult may carry for another.
test_on_a_few_hundred_metres_of_the_others[who] if {
	some who, more in {"old": {"age_months": 780}, "poor": {"fitness": "poor"}, "own cap": {"cap_known": true, "cap_permille": 100}}
	{f.level | some f in load.finding.body_mass_cap} == {"note"} with input as near(500000, [object.union(more, {"load_mg": 21000000})])
	{f.level | some f in load.finding.body_mass_cap} == {"error"} with input as near(500000, [object.union(more, {"load_mg": 21000001})])
	{f.level | some f in load.finding.child_cap} == {"note"} with input as near(500000, [mia(3000001)])
	{f.level | some f in load.finding.animal_cap} == {"note"} with input as near(500000, [bo(2400001)])
}

# An animal's own cap holds even where a standard sets the same one for adults.
test_on_a_few_hundred_metres_of_an_animal if {
	same := {"limits": [{"area": "load", "name": "adult_cap", "list": false, "value": 100, "values": []}]}
	count(load.finding.animal_cap) == 1 with input as object.union(near(500000, [bo(2400001)]), same)
}

# Somebody with a pack and a bottle of so much water in it.
wet(ml, vessel, pack, carrier) := object.union(carriers([carrier]), {
	"packs": [t.pack(pack)],
	"vessels": [t.vessel(object.union({"water_ml": ml}, vessel))],
})

test_only_the_water_is_over if {
	heavy := {"load_mg": 16500000}
	{f.level | some f in load.finding.body_mass_cap} == {"warning"} with input as wet(6000, {}, {}, heavy)
	{f.level | some f in load.finding.body_mass_cap} == {"error"} with input as wet(5999, {}, {}, heavy)
	{f.level | some f in load.finding.body_mass_cap} == {"warning"} with input as wet(11000, {}, {}, {"load_mg": 21000000})
	{f.level | some f in load.finding.body_mass_cap} == {"error"} with input as wet(11000, {}, {}, {"load_mg": 21000001})
}

test_only_the_water_to_the_millilitre if {
	{f.level | some f in load.finding.body_mass_cap} == {"error"} with input as wet(6000, {}, {}, {"load_mg": 16500000, "foot_ug": 16500000001})
}

test_only_the_water_of_that_pack[what] if {
	some what, c in {
		"in another pack": [{"pack": "packs/moss"}, {}],
		"in somebody else's": [{}, {"carrier": "people/ben"}],
		"in a vehicle": [{}, {"vehicle": "vehicles/car"}],
	}
	{f.level | some f in load.finding.body_mass_cap} == {"error"} with input as wet(6000, c[0], c[1], {"load_mg": 16500000})
}

test_water_on_an_animal_is_no_excuse if {
	dog := object.union(bo(2400001), {"id": "animals/bo"})
	{f.level | some f in load.finding.animal_cap} == {"error"} with input as wet(6000, {}, {"carrier": "animals/bo"}, dog)
}

test_what_rides_is_no_load if {
	driven := object.union(carriers([{"load_mg": 14200000, "foot_ug": 10500000000}]), {"vehicles": [t.vehicle({})]})
	count(load.finding.body_mass_cap) == 0 with input as driven
	heavy := object.union(carriers([{"load_mg": 14200000, "foot_ug": 11000000000}]), {"vehicles": [t.vehicle({})]})
	{f.text | some f in load.finding.body_mass_cap} == {"Ana carries 11.00 kg on foot, 15.8 % of body weight; the cap is 15 % or 10.50 kg: over by 0.50 kg; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way"} with input as heavy
}

test_body_mass_cap_not_asked_of_children_and_animals if {
	facts := carriers([
		{"adult": false, "load_mg": 20000000},
		{"kind": "animal", "load_mg": 20000000},
		{"carries": false, "load_mg": 20000000},
	])
	count(load.finding.body_mass_cap) == 0 with input as facts
}

# Ana, 70 kg, with a child of 12 kg: together 21 kg at most.
mother(more) := object.union({"load_mg": 9000000, "carried_mg": 12000000, "carried_ids": ["people/pip"]}, more)

test_with_a_carried_person_at_the_limit if {
	count(load.finding.body_mass_cap) == 0 with input as carriers([mother({})])
}

test_with_a_carried_person_one_too_many if {
	load.finding.body_mass_cap == {{
		"at": "people/ana/load",
		"because": ["people/pip", "people/ana/load"],
		"text": "Ana carries 9.00 kg in packs and 12.00 kg of people, 30.1 % of body weight; the cap with a carried person is 30 % or 21.00 kg: over by 1 mg; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way",
		"level": "warning",
		"lack": 1,
	}} with input as carriers([mother({"foot_ug": 9000000001})])
}

test_with_a_carried_person_an_own_cap if {
	{f.lack | some f in load.finding.body_mass_cap} == {7000000} with input as carriers([mother({"cap_known": true, "cap_permille": 200})])
	count(load.finding.body_mass_cap) == 0 with input as carriers([mother({"cap_known": true, "cap_permille": 300})])
}

# A stricter cap with a carried person is none for those who carry nobody.
test_with_a_carried_person_a_stricter_cap if {
	strict := own("carried_cap", 100)
	count(load.finding.body_mass_cap) == 0 with input as object.union(strict, carriers([mother({"carried_mg": 0})]))
	count(load.finding.body_mass_cap) == 1 with input as object.union(strict, carriers([mother({"carried_mg": 1})]))
}

# The pack alone is too heavy as well: both together are said, as gravely as the pack; where only it is, the pack is.
test_with_a_carried_person_a_heavy_pack if {
	{[f.lack, f.level] | some f in load.finding.body_mass_cap} == {[2000000, "error"]} with input as carriers([mother({"load_mg": 11000000})])
	{[f.lack, f.level] | some f in load.finding.body_mass_cap} == {[1500000, "warning"]} with input as carriers([mother({"load_mg": 10500000})])
	{[f.lack, f.level] | some f in load.finding.body_mass_cap} == {[500000, "error"]} with input as carriers([mother({"load_mg": 11000000, "carried_mg": 10000000})])
	{[f.lack, f.level] | some f in load.finding.body_mass_cap} == {[2000000, "note"]} with input as near(500000, [mother({"load_mg": 11000000})])
}

test_with_a_carried_person_not_asked[who] if {
	some who, facts in {
		"carries nobody": carriers([mother({"carried_mg": 0})]),
		"carries nothing": carriers([mother({"carries": false, "carried_mg": 20000000})]),
		"rides": object.union(carriers([mother({"carried_mg": 30000000, "foot_ug": 0})]), {"plan": {"ridden": true}}),
	}
	count(load.finding.body_mass_cap) == 0 with input as facts
}

mia(load_mg) := {"id": "people/mia", "name": "Mia", "adult": false, "age_months": 108, "body_mass_mg": 30000000, "load_id": "people/mia/load", "load_mg": load_mg}

test_child_cap_at_the_limit if {
	count(load.finding.child_cap) == 0 with input as carriers([mia(3000000)])
}

test_child_cap_one_too_many if {
	load.finding.child_cap == {{
		"at": "people/mia/load",
		"because": ["people/mia/load"],
		"text": "Mia carries just over 3.00 kg, 10.1 % of body weight; the cap under 18 years is 10 % or 3.00 kg: over by 1 mg; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way",
		"level": "error",
		"lack": 1,
	}} with input as carriers([mia(3000001)])
}

test_child_cap_of_the_young if {
	every c in [[144, 3000001, "warning"], [144, 4500000, "warning"], [144, 4500001, "error"], [143, 3000001, "error"]] {
		{f.level | some f in load.finding.child_cap} == {c[2]} with input as carriers([object.union(mia(c[1]), {"age_months": c[0]})])
	}
}

test_child_cap_of_one_too_young_for_a_pack_is_another_rules if {
	count(load.finding.child_cap) == 0 with input as carriers([object.union(mia(9000000), {"age_months": 71})])
	count(load.finding.child_cap) == 1 with input as carriers([object.union(mia(9000000), {"age_months": 72})])
}

test_child_cap_not_asked_of_adults_and_animals if {
	facts := carriers([
		{"load_mg": 20000000},
		{"kind": "animal", "adult": false, "load_mg": 20000000},
	])
	count(load.finding.child_cap) == 0 with input as facts
}

bo(load_mg) := {"id": "animals/bo", "kind": "animal", "name": "Bo", "adult": false, "carries": false, "body_mass_mg": 24000000, "load_id": "animals/bo/load", "load_mg": load_mg}

test_animal_cap_at_the_limit if {
	count(load.finding.animal_cap) == 0 with input as carriers([bo(2400000)])
}

test_animal_cap_one_too_many if {
	load.finding.animal_cap == {{
		"at": "animals/bo/load",
		"because": ["animals/bo/load"],
		"text": "Bo carries just over 2.40 kg, 10.1 % of body weight; the cap for an animal is 10 % or 2.40 kg: over by 1 mg; nobody else has room",
		"level": "error",
		"lack": 1,
	}} with input as carriers([bo(2400001)])
}

# An animal's load is no warning for its age.
test_animal_cap_of_a_grown_animal if {
	{f.level | some f in load.finding.animal_cap} == {"error"} with input as carriers([object.union(bo(2400001), {"adult": true, "age_months": 900})])
}

test_animal_cap_not_asked_of_people if {
	count(load.finding.animal_cap) == 0 with input as carriers([{"load_mg": 20000000}])
}

capped(more) := carriers([object.union({"cap_known": true, "cap_permille": 150, "cap_id": "people/ana/cap"}, more)])

test_own_cap_at_the_limit if {
	count(load.finding.own_cap) == 0 with input as capped({})
	count(load.finding.own_cap) == 0 with input as capped({"adult": false, "cap_permille": 100})
	count(load.finding.own_cap) == 0 with input as capped({"kind": "animal", "cap_permille": 100})
}

test_own_cap_one_too_much if {
	load.finding.own_cap == {{
		"at": "people/ana/cap",
		"text": "the cap set for Ana is 15.1 % of body weight; the standard's is 15 %: over by 0.1 points",
	}} with input as capped({"cap_permille": 151})
}

test_own_cap_of_others if {
	every more in [{"adult": false}, {"kind": "animal"}, {"kind": "animal", "adult": false}, {"fitness": "poor"}, {"age_months": 780}] {
		{f.text | some f in load.finding.own_cap} == {"the cap set for Ana is 10.1 % of body weight; the standard's is 10 %: over by 0.1 points"} with input as capped(object.union({"cap_permille": 101}, more))
	}
}

test_own_cap_not_asked_where_none_is_written if {
	count(load.finding.own_cap) == 0 with input as capped({"cap_known": false, "cap_permille": 900})
}

weighed(unweighed_mg, mass_mg) := {"packs": [t.pack({
	"mass_mg": mass_mg,
	"unweighed_mg": unweighed_mg,
	"unweighed_ids": ["packs/rust/tarp", "packs/rust/cord"],
})]}

test_unweighed_at_the_limit if {
	count(load.finding.unweighed) == 0 with input as weighed(1000000, 10000000)
}

test_unweighed_one_too_many if {
	load.finding.unweighed == {{
		"at": "packs/rust/tarp",
		"because": ["packs/rust/tarp", "packs/rust/cord"],
		"text": "1.00 kg of the 10.00 kg in pack “Rust” was never weighed; at most 10 % may be a guess",
	}} with input as weighed(1000001, 10000000)
}

test_unweighed_unknown if {
	load.finding.unweighed == {{
		"at": "packs/rust/rice",
		"because": ["packs/rust/rice", "packs/rust/tarp"],
		"text": "pack “Rust” weighs at least 10.00 kg: no weight is recorded for “rice” and “tarp”",
	}} with input as {"packs": [t.pack({
		"mass_mg": 10000000,
		"unweighed_mg": 10000000,
		"unweighed_ids": ["packs/rust/rice", "packs/rust/tarp"],
		"mass_known": false,
		"no_mass": [{"id": "packs/rust/rice", "name": "rice"}, {"id": "packs/rust/tarp", "name": "tarp"}],
	})]}
}

test_unweighed_of_next_to_nothing_known if {
	{f.text | some f in load.finding.unweighed} == {"pack “Rust” weighs at least 1 mg: no weight is recorded for “rice”"} with input as {"packs": [t.pack({"mass_mg": 1, "unweighed_mg": 0, "mass_known": false, "no_mass": [{"id": "packs/rust/rice", "name": "rice"}]})]}
}

test_unweighed_not_asked_of_a_pack_without_mass if {
	count(load.finding.unweighed) == 0 with input as weighed(0, 0)
}

ben(more) := object.union({"id": "people/ben", "name": "Ben", "load_id": "people/ben/load", "load_mg": 3000000, "body_mass_mg": 60000000}, more)

# Ana at 10.0 % and Ben at 5.0 % of body mass.
test_imbalance_at_the_limit if {
	count(load.finding.imbalance) == 0 with input as carriers([{"load_mg": 7000000}, ben({})])
}

test_imbalance_one_too_many if {
	load.finding.imbalance == {{
		"at": "people/ana/load",
		"because": ["people/ana/load", "people/ben/load"],
		"text": "Ana carries 10.1 % of body weight and Ben 5.0 %, 5.1 points apart; at most 5.0 points is fair: over by 0.1 points",
	}} with input as carriers([{"load_mg": 7000001}, ben({})])
}

test_imbalance_names_the_ends_once if {
	load.finding.imbalance == {{
		"at": "people/cleo/load",
		"because": ["people/cleo/load", "people/ben/load"],
		"text": "Cleo carries 14.0 % of body weight and Ben 5.0 %, 9.0 points apart; at most 5.0 points is fair: over by 4.0 points",
	}} with input as carriers([
		ben({"id": "people/cleo", "name": "Cleo", "load_id": "people/cleo/load", "load_mg": 8400000}),
		{"load_mg": 7000000},
		ben({}),
		ben({"id": "people/fay", "name": "Fay", "load_id": "people/fay/load"}),
		{"id": "people/dov", "name": "Dov", "load_id": "people/dov/load", "load_mg": 9800000},
		{"id": "people/eve", "name": "Eve", "load_id": "people/eve/load", "load_mg": 7000000},
	])
}

test_imbalance_not_asked[who] if {
	some who, other in {
		"carries somebody": {"carried_mg": 1},
		"own cap": {"cap_known": true},
		"poor fitness": {"fitness": "poor"},
		"unwell": {"fitness": "unwell"},
		"a child": {"adult": false},
		"an animal": {"kind": "animal"},
		"no pack": {"packs": []},
	}
	count(load.finding.imbalance) == 0 with input as carriers([{"load_mg": 10000000}, ben(other)])
}

test_imbalance_not_between_helper_and_helped if {
	uneven := carriers([{"load_mg": 10000000}, ben({})])
	every helper, n in {"people/ana": 0, "people/cleo": 0, "": 1} {
		people := [t.person({}), t.person({"id": "people/ben", "helped_by": helper})]
		count(load.finding.imbalance) == n with input as object.union(uneven, {"people": people})
	}
}

test_little_is_asked_on_a_few_hundred_metres if {
	uneven := [{"load_mg": 10000000}, ben({})]
	count(load.finding.imbalance) == 0 with input as near(500000, uneven)
	count(load.finding.imbalance) == 1 with input as near(500001, uneven)
	light := [{"load_mg": 10500000, "quick_shed_mg": 0}, ben({"load_mg": 9000000, "quick_shed_mg": 0, "body_mass_mg": 60000000})]
	count(load.finding.one_cannot) == 0 with input as near(500000, light)
	count(load.finding.one_cannot) == 1 with input as near(500001, light)
	beltless := {"packs": [t.pack({"hip_belt": false, "foot_mg": 10000001})]}
	count(load.finding.hip_belt) == 0 with input as object.union(near(500000, [{}]), beltless)
	count(load.finding.hip_belt) == 1 with input as object.union(near(500001, [{}]), beltless)
}

test_imbalance_over_the_cap_is_the_caps if {
	count(load.finding.imbalance) == 1 with input as carriers([{"load_mg": 10500000}, ben({})])
	count(load.finding.imbalance) == 0 with input as carriers([{"load_mg": 10500001}, ben({})])
}

# A household's own, stricter value of a limit.
own(name, value) := {"limits": [{"area": "load", "name": name, "list": false, "value": value, "values": []}]}

part(mass_mg, budget_mg) := {"compartments": [t.compartment({"mass_mg": mass_mg, "budget_known": true, "budget_mg": budget_mg})]}

part_budget(text) := {{
	"at": "packs/rust/lid/budget",
	"because": ["packs/rust/lid/mass"],
	"text": text,
}}

test_part_budget_at_the_limit if {
	count(load.finding.part_budget) == 0 with input as part(400000, 400000)
}

test_part_budget_one_too_many if {
	load.finding.part_budget == part_budget("Lid weighs just over 0.40 kg; its budget allows 0.40 kg: over by 1 mg") with input as part(400001, 400000)
}

test_part_budget_in_words if {
	load.finding.part_budget == part_budget("Lid weighs just over 0.40 kg; its budget allows 0.40 kg: over by 2 g") with input as part(401500, 400000)
}

test_part_budget_a_hair_too_much if {
	load.finding.part_budget == part_budget("Lid weighs just over 1 mg; its budget allows 1 mg: over by 1 mg") with input as object.union(own("budget_share", 999), part(1, 1))
}

test_part_budget_not_asked_without_a_budget if {
	facts := {"compartments": [t.compartment({"mass_mg": 400000})]}
	count(load.finding.part_budget) == 0 with input as facts
}

weighings(record, list) := {
	"audit": {"on_day": 1000},
	"record": t.record(record),
	"packs": [t.pack({}), t.pack({"id": "packs/moss", "name": "Moss", "carrier_kind": "animal"})],
	"weighings": [object.union({"pack": "packs/rust", "items": ["packs/rust/pot"]}, w) | some w in list],
}

test_weighed_long_ago_at_the_limit if {
	count(load.finding.weighed_long_ago) == 0 with input as weighings({}, [{"day": 635}])
}

test_weighed_long_ago_one_too_many if {
	load.finding.weighed_long_ago == {{
		"at": "packs/rust/pot",
		"because": ["packs/rust/pot"],
		"text": "in pack “Rust”, 1 thing was last weighed more than 365 days ago, the longest 366 days ago",
	}} with input as weighings({}, [{"day": 634}, {"day": 635, "items": ["packs/rust/cup"]}])
}

test_weighed_long_ago_by_pack if {
	load.finding.weighed_long_ago == {
		{
			"at": "packs/rust/pot",
			"because": ["packs/rust/pot", "packs/rust/cup"],
			"text": "in pack “Rust”, 2 things were last weighed more than 365 days ago, the longest 400 days ago",
		},
		{
			"at": "packs/moss/cup",
			"because": ["packs/moss/cup"],
			"text": "in pack “Moss”, 1 thing was last weighed more than 365 days ago, the longest 370 days ago",
		},
	} with input as weighings({}, [
		{"day": 600},
		{"day": 630, "items": ["packs/rust/cup"]},
		{"day": 630, "pack": "packs/moss", "items": ["packs/moss/cup"]},
	])
}

test_weighed_long_ago_everything_weighed_lately if {
	count(load.finding.weighed_long_ago) == 0 with input as weighings({"weighed_known": true, "weighed_day": 635}, [{"day": 1}])
}

test_weighed_long_ago_everything_weighed_long_ago if {
	count(load.finding.weighed_long_ago) == 1 with input as weighings({"weighed_known": true, "weighed_day": 634}, [{"day": 1}])
}

# A day that is not written is no day, even where the days are small.
test_weighed_long_ago_without_a_record if {
	facts := object.union(weighings({}, [{"day": 0 - 200}]), {"audit": {"on_day": 200}})
	count(load.finding.weighed_long_ago) == 1 with input as facts
}

# Ana, 70 kg, and Ben, 60 kg: 18 kg without what can be dropped. For a short way Ana could bear 21 kg and Ben 18 kg.
pair(ana, more) := carriers([
	object.union({"load_mg": 10400000, "quick_shed_mg": 400000}, ana),
	ben(object.union({"load_mg": 8500000, "quick_shed_mg": 500000}, more)),
])

test_one_cannot_at_the_limit if {
	count(load.finding.one_cannot) == 0 with input as pair({}, {})
}

test_one_cannot_one_too_many if {
	load.finding.one_cannot == {{
		"at": "people/ana/load",
		"because": ["people/ana/load", "people/ben/load"],
		"text": "if Ana cannot carry, the others are 1 mg short of room for what must go on: just over 18.00 kg against 18.00 kg (Ben 30 %)",
	}} with input as pair({}, {"foot_ug": 8500000001})
}

# Who carries an animal and no pack is one of them; who carries nothing is none.
test_one_cannot_counts_an_animal if {
	text := "if Ana cannot carry, the others are 1 mg short of room for what must go on: just over 18.00 kg against 18.00 kg (Ben 30 %)"
	{f.text | some f in load.finding.one_cannot} == {text} with input as pair({}, {"packs": [], "animal_ids": ["animals/bo"], "foot_ug": 8500000001})
	count(load.finding.one_cannot) == 0 with input as pair({}, {"packs": [], "animal_ids": [], "foot_ug": 8500000001})
}

# So heavy that neither may take the other's: with an own cap nobody is over the cap.
test_one_cannot_for_each_adult if {
	strong := {"cap_known": true, "cap_permille": 200}
	{f.text | some f in load.finding.one_cannot} == {
		"if Ana cannot carry, the others are 12.00 kg short of room for what must go on: 24.00 kg against 12.00 kg (Ben 20 %)",
		"if Ben cannot carry, the others are 10.00 kg short of room for what must go on: 24.00 kg against 14.00 kg (Ana 20 %)",
	} with input as pair(object.union(strong, {"load_mg": 14000000, "quick_shed_mg": 0}), object.union(strong, {"load_mg": 10000000, "quick_shed_mg": 0}))
}

test_one_cannot_counts_each_of_the_others if {
	third := {"id": "people/cleo", "name": "Cleo", "load_id": "people/cleo/load", "load_mg": 1, "quick_shed_mg": 1, "body_mass_mg": 1000}
	facts := pair({}, {"load_mg": 8500301})
	three := object.union(facts, {"carriers": array.concat(facts.carriers, [t.carrier(third)])})
	{f.text | some f in load.finding.one_cannot} == {"if Ana cannot carry, the others are 1 mg short of room for what must go on: just over 18.00 kg against 18.00 kg (Ben 30 % and Cleo 30 %)"} with input as three
}

# Cleo, 30 kg, grown and well: she alone could help, and for a short way bears 9 kg.
cleo := {"id": "people/cleo", "name": "Cleo", "load_id": "people/cleo/load", "load_mg": 4000000, "quick_shed_mg": 0, "body_mass_mg": 30000000}

test_one_cannot_spares_the_old_and_the_unfit if {
	every more in [{"fitness": "poor"}, {"fitness": "unwell"}, {"age_months": 780}] {
		facts := pair({}, object.union({"load_mg": 6000000}, more))
		count(load.finding.one_cannot) == 0 with input as facts
		{f.text | some f in load.finding.one_cannot; f.at == "people/ana/load"} == {"if Ana cannot carry, the others are 4.50 kg short of room for what must go on: 19.50 kg against 15.00 kg (Ben 10 % and Cleo 30 %)"} with input as object.union(facts, {"carriers": array.concat(facts.carriers, [t.carrier(cleo)])})
	}
}

test_one_cannot_only_where_another_has_a_full_cap[why] if {
	some why, c in {
		"an own cap below the adults'": [{"cap_known": true, "cap_permille": 149}, 0],
		"an own cap like the adults'": [{"cap_known": true, "cap_permille": 150}, 1],
		"a youth": [{"adult": false, "age_months": 204, "cap_known": true, "cap_permille": 150}, 0],
	}
	facts := pair({"load_mg": 8000000, "quick_shed_mg": 0}, object.union({"load_mg": 4000000, "quick_shed_mg": 0}, c[0]))
	count([f | some f in load.finding.one_cannot; f.at == "people/ana/load"]) == c[1] with input as facts
}

test_one_cannot_counts_who_is_carried if {
	{f.text | some f in load.finding.one_cannot} == {"if Ana cannot carry, the others are 1 g short of room for what must go on: just over 18.00 kg against 18.00 kg (Ben 30 %)"} with input as pair({"carried_mg": 1000}, {})
	{f.text | some f in load.finding.one_cannot} == {"if Ana cannot carry, the others are 999 mg short of room for what must go on: just over 18.00 kg against 18.00 kg (Ben 30 %)"} with input as pair({"carried_mg": 999}, {})
}

kid(more) := object.union(
	{"id": "people/mia", "name": "Mia", "adult": false, "age_months": 108, "body_mass_mg": 30000000, "load_id": "people/mia/load", "load_mg": 3000000, "quick_shed_mg": 0},
	more,
)

test_one_cannot_keeps_a_childs_cap if {
	other := object.union(cleo, {"load_mg": 4000000})
	{f | some f in load.finding.one_cannot; f.at == "people/ana/load"} == {{
		"at": "people/ana/load",
		"because": ["people/ana/load", "people/cleo/load", "people/mia/load"],
		"text": "if Ana cannot carry, the others are 1 mg short of room for what must go on: just over 12.00 kg against 12.00 kg (Cleo 30 % and Mia 10 %)",
	}} with input as carriers([{"load_mg": 10000001, "quick_shed_mg": 5000000}, other, kid({})])
	count(load.finding.one_cannot) == 0 with input as carriers([{"load_mg": 10000000, "quick_shed_mg": 5000000}, other, kid({})])
	loose := object.union(own("child_cap", 150), carriers([{"load_mg": 10000000, "quick_shed_mg": 0}, other, kid({"load_mg": 2000000})]))
	{f.text | some f in load.finding.one_cannot; f.at == "people/ana/load"} == {"if Ana cannot carry, the others are 2.50 kg short of room for what must go on: 16.00 kg against 13.50 kg (Cleo 30 % and Mia 15 %)"} with input as loose
	unfit := object.union(own("unfit_cap", 50), carriers([{"load_mg": 10000000, "quick_shed_mg": 5000000}, other, kid({"fitness": "poor"})]))
	count(load.finding.one_cannot) == 0 with input as unfit
}

# A small child takes over nothing; what lies in a pack of theirs is borne by the others.
test_one_cannot_without_small_children if {
	facts := carriers([{"load_mg": 9000000, "quick_shed_mg": 5000000}, object.union(cleo, {"load_mg": 4000000}), kid({"age_months": 71})])
	{f.text | some f in load.finding.one_cannot; f.at == "people/ana/load"} == {"if Ana cannot carry, the others are 2.00 kg short of room for what must go on: 11.00 kg against 9.00 kg (Cleo 30 %)"} with input as facts
}

test_one_cannot_asked_for_adults_only if {
	{f.at | some f in load.finding.one_cannot} == {"people/ana/load", "people/cleo/load"} with input as carriers([
		object.union(cleo, {"id": "people/ana", "load_id": "people/ana/load", "cap_known": true, "cap_permille": 150}),
		object.union(cleo, {"cap_known": true, "cap_permille": 150}),
		kid({"body_mass_mg": 70000000, "load_mg": 7000000}),
	])
}

test_one_cannot_keeps_an_own_cap if {
	{f.text | some f in load.finding.one_cannot} == {"if Ana cannot carry, the others are 7.80 kg short of room for what must go on: 18.00 kg against 10.20 kg (Ben 17 %)"} with input as pair({}, {"cap_known": true, "cap_permille": 170})
}

# What is dropped may ride while nothing else is borne: it is no room for others.
test_one_cannot_drops_no_more_than_is_borne if {
	weak := {"foot_ug": 1, "cap_known": true, "cap_permille": 150, "body_mass_mg": 40000000}
	{f.at | some f in load.finding.one_cannot} == {"people/ben/load"} with input as pair(weak, {"load_mg": 7000001, "quick_shed_mg": 0})
}

test_one_cannot_not_asked[who] if {
	some who, facts in {
		"the other is an animal": pair({}, {"kind": "animal", "load_mg": 20000000, "body_mass_mg": 500000000}),
		"the other has no pack": pair({}, {"packs": [], "load_mg": 8500001}),
		"all that the other has rides": pair({}, {"foot_ug": 0, "body_mass_ug": 20000000000}),
		"somebody is over the cap": pair({}, {"load_mg": 9000001}),
	}
	count(load.finding.one_cannot) == 0 with input as facts
}

chair(more) := {"quick_items": [object.union({"id": "packs/rust/chair/quickShed", "name": "Chair", "mass_mg": 500000, "reach": "halted", "whole": false}, more)]}

test_quick_shed_reach_out_of_reach if {
	load.finding.quick_shed_reach == {{
		"at": "packs/rust/chair/quickShed",
		"text": "Chair (0.50 kg) is marked quick to drop but can be reached only at a halt",
	}} with input as chair({})
}

test_quick_shed_reach_not_asked[what] if {
	some what, more in {
		"within reach": {"reach": "walking"},
		"on the body": {"reach": "on-body"},
		"the whole compartment comes off": {"whole": true},
	}
	count(load.finding.quick_shed_reach) == 0 with input as chair(more)
}

worn(gear_mg) := carriers([{"gear_mg": gear_mg, "gear_id": "people/ana/onBody/vest", "load_mg": 0}])

test_worn_at_the_limit if {
	count(load.finding.worn) == 0 with input as worn(4200000)
}

test_worn_one_too_much if {
	load.finding.worn == {{
		"at": "people/ana/onBody/vest",
		"because": ["people/ana/on-body"],
		"text": "Ana wears or pockets 4.20 kg besides clothing and shoes, 6.1 % of body weight; above 6 % it is a second pack: over by 1 mg",
	}} with input as worn(4200001)
}

test_not_a_carrier_with_a_pack if {
	load.finding.not_a_carrier == {{
		"at": "people/ana/carries",
		"because": ["packs/rust"],
		"text": "Ana is recorded as carrying nothing but has 1 pack",
	}} with input as carriers([{"carries": false}])
}

test_not_a_carrier_with_an_animal if {
	load.finding.not_a_carrier == {{
		"at": "people/ana/carries",
		"because": ["animals/bo"],
		"text": "Ana is recorded as carrying nothing but is to carry Bo",
	}} with input as object.union(carriers([{"carries": false, "packs": [], "animal_ids": ["animals/bo"]}]), {"animals": [t.animal({}), t.animal({"id": "animals/kit", "name": "Kit"})]})
	{f.text | some f in load.finding.not_a_carrier} == {"Ana is recorded as carrying nothing but has 1 pack"} with input as carriers([{"carries": false, "animal_ids": ["animals/bo"]}])
}

# A cat in its carrier is a part of the load, and the finding says so, and where nobody wrote who carries it.
test_load_with_an_animal[why] if {
	some why, c in {
		"as written": [{}, ["animals/puss"], " with Puss (4.00 kg)"],
		"as its carrier lies there": [{"carried_by_written": false}, ["animals/puss"], " with Puss (4.00 kg, as Ana has its carrier)"],
		"two": [{}, ["animals/bo", "animals/puss"], " with Bo (20.00 kg) and Puss (4.00 kg)"],
		"on another's arm": [{}, [], ""],
	}
	puss := t.animal(object.union({"id": "animals/puss", "name": "Puss", "body_mass_mg": 4000000}, c[0]))
	facts := object.union(carriers([{"load_mg": 14200000, "animal_ids": c[1]}]), {"animals": [t.animal({}), puss]})
	{f.text | some f in load.finding.body_mass_cap} == {sprintf("Ana carries 14.20 kg%s, 20.3 %% of body weight; the cap is 15 %% or 10.50 kg: over by 3.70 kg; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way", [c[2]])} with input as facts
	{f.text | some f in load.finding.vehicle_left} == {sprintf("if the vehicle must be left, Ana carries 22.00 kg%s, 31.5 %% of body weight; for a short way 30 %% or 21.00 kg can be carried: over by 1.00 kg", [c[2]])} with input as object.union(driving({"load_mg": 22000000, "animal_ids": c[1]}), {"animals": [t.animal({}), puss]})
}

test_not_a_carrier_not_asked[who] if {
	some who, more in {
		"carries": {"carries": true},
		"carries an animal": {"carries": true, "packs": [], "animal_ids": ["animals/bo"]},
		"bears no pack": {"carries": false, "packs": []},
		"an animal": {"carries": false, "kind": "animal"},
	}
	count(load.finding.not_a_carrier) == 0 with input as carriers([more])
}

belted(more) := object.union(carriers([{}]), {"packs": [t.pack(object.union({"hip_belt": false, "foot_mg": 10000001}, more))]})

test_hip_belt_at_the_limit if {
	count(load.finding.hip_belt) == 0 with input as belted({"foot_mg": 10000000})
}

test_hip_belt_one_too_many if {
	load.finding.hip_belt == {{
		"at": "packs/rust",
		"text": "pack “Rust” weighs just over 10.00 kg and has no hip belt; without one it may weigh 10.00 kg at most: over by 1 mg",
	}} with input as belted({})
}

test_hip_belt_not_asked[what] if {
	some what, more in {
		"it has one": {"hip_belt": true},
		"an animal's": {"carrier_kind": "animal"},
	}
	count(load.finding.hip_belt) == 0 with input as belted(more)
}

test_hip_belt_over_the_cap_is_the_caps if {
	heavy := carriers([{"load_mg": 10500001}])
	count(load.finding.hip_belt) == 0 with input as object.union(heavy, {"packs": [t.pack({"hip_belt": false, "foot_mg": 10500001})]})
	count(load.finding.hip_belt) == 1 with input as object.union(heavy, {"packs": [t.pack({"carrier": "people/ben", "hip_belt": false, "foot_mg": 10500001})]})
}

# Ana carries 3.5 kg of her 70 kg and is due in so many days.
expecting(days, more) := object.union(carriers([object.union({"load_mg": 3500000}, more)]), {
	"people": [t.person({"pregnant": true, "due_known": true, "due_days": days}), t.person({"id": "people/ben"})],
})

test_cap_in_a_pregnancy[why] if {
	some why, c in {
		"late, at the limit": [128, 3500000, 0],
		"late, over it": [128, 3500001, 1],
		"early, over the later cap": [129, 3500001, 0],
		"early, at the limit": [129, 7000000, 0],
		"early, over it": [129, 7000001, 1],
		"overdue": [-3, 3500001, 1],
	}
	count(load.finding.body_mass_cap) == c[2] with input as expecting(c[0], {"load_mg": c[1]})
}

test_cap_in_a_pregnancy_is_a_warning if {
	load.finding.body_mass_cap == {{
		"at": "people/ana/load",
		"because": ["people/ana/load"],
		"text": "Ana carries 6.00 kg, 8.6 % of body weight; the cap in a pregnancy is 5 % or 3.50 kg: over by 2.50 kg; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way",
		"level": "warning",
		"lack": 2500000,
	}} with input as expecting(60, {"load_mg": 6000000})
}

test_cap_in_a_pregnancy_without_a_day_is_the_early_one if {
	facts := {"people": [t.person({"pregnant": true})], "audit": {"on_day": 1000}}
	count(load.finding.body_mass_cap) == 0 with input as object.union(carriers([{"load_mg": 7000000}]), facts)
	count(load.finding.body_mass_cap) == 1 with input as object.union(carriers([{"load_mg": 7000001}]), facts)
}

test_cap_of_a_pregnant_girl if {
	count(load.finding.child_cap) == 1 with input as expecting(60, {"load_mg": 3500001, "adult": false, "age_months": 204})
	count(load.finding.child_cap) == 0 with input as expecting(60, {"load_mg": 3500000, "adult": false, "age_months": 204})
}

test_animal_cap_names_who_should_bear_nothing if {
	{f.text | some f in load.finding.animal_cap} == {"Bo carries 2.00 kg, 20.0 % of body weight; the cap for an animal is 10 % or 1.00 kg: over by 1.00 kg; no pack suits Bo, who is 11 months old (12 months is the minimum) and unwell; nobody else has room"} with input as carriers([{
		"id": "animals/bo", "kind": "animal", "name": "Bo", "load_id": "animals/bo/load", "body_mass_mg": 10000000, "load_mg": 2000000,
		"age_months": 11, "fitness": "unwell",
	}])
}

test_own_cap_in_a_pregnancy[days] if {
	some days in [60, 200]
	count(load.finding.own_cap) == 0 with input as expecting(days, {"cap_known": true, "cap_id": "people/ana/cap", "cap_permille": 100})
	{f.text | some f in load.finding.own_cap} == {"the cap set for Ana is 10.1 % of body weight; the standard's is 10 %: over by 0.1 points"} with input as expecting(days, {"cap_known": true, "cap_id": "people/ana/cap", "cap_permille": 101})
}

test_caps_not_recorded[what] if {
	some what, c in {"a pack": {"load_mg": 14200000}, "with a child": {"load_mg": 7000000, "carried_mg": 20000000, "carried_ids": ["people/mia"]}}
	unknown := {"body_mass_known": false, "load_known": false}
	some f in load.finding.body_mass_cap with input as carriers([object.union(c, unknown)])
	f.level == "note"
	startswith(f.text, "Ana carries at least ")
	endswith(f.text, "plan another way (body weight is not recorded; 70 kg is assumed)")
}

test_unweighed_of_nothing_known if {
	load.finding.unweighed == {{
		"at": "packs/rust/rice",
		"because": ["packs/rust/rice"],
		"text": "what pack “Rust” weighs is not known: no weight is recorded for “rice”",
	}} with input as {"packs": [t.pack({"mass_mg": 0, "unweighed_mg": 0, "mass_known": false, "no_mass": [{"id": "packs/rust/rice", "name": "rice"}]})]}
}

# Ana, 70 kg, with a child of 12 kg, for so many minutes on foot: on a long way 14 kg at most.
far(minutes, more) := object.union(carriers([mother(object.union({"load_mg": 2000000}, more))]), {"plan": {"ridden": false, "foot_min": minutes, "legs": [{}]}})

test_with_a_carried_person_on_a_long_way if {
	count(load.finding.body_mass_cap) == 0 with input as far(121, {})
	count(load.finding.body_mass_cap) == 0 with input as far(120, {"foot_ug": 9000000000})
	{f.text | some f in load.finding.body_mass_cap} == {"Ana carries 2.00 kg in packs and 12.00 kg of people, 20.1 % of body weight; the cap with a carried person is 20 % or 14.00 kg: over by 1 mg; nobody else has room, and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way"} with input as far(121, {"foot_ug": 2000000001})
	{f.lack | some f in load.finding.body_mass_cap} == {7000000} with input as far(121, {"foot_ug": 2000000000, "cap_known": true, "cap_permille": 100})
}

# Ana, 2 kg over, with so much water that can stay.
watered(ml, vessel) := object.union(carriers([{"load_mg": 14200000, "spare": [{"id": "packs/rust/saw", "name": "saw", "mass_mg": 400000}]}]), {
	"plan": t.plan({"water_named": false}),
	"household": t.household({"need_ml": 0, "supply": t.supply({"water_ml": ml})}),
	"endurance": {"stocks": [{"kind": "water", "lowest": ml, "have": ml, "body": ""}]},
	"vessels": [
		t.vessel(object.union({"id": "packs/rust/canister", "water_ml": ml}, vessel)),
		t.vessel({"id": "packs/rust/empty", "water_ml": 0}),
	],
	"foods": [],
	"people": [t.person({})],
})

test_load_stands_at_water_that_can_stay[what] if {
	some what, c in {
		"most of it": [8000, {}, "packs/rust/canister"],
		"heavier than the saw": [651, {}, "packs/rust/canister"],
		"as light": [650, {}, "packs/rust/saw"],
		"on the body": [8000, {"pack": ""}, "packs/rust/saw"],
		"another's": [8000, {"carrier": "people/ben"}, "packs/rust/saw"],
	}
	{f.at | some f in load.finding.body_mass_cap} == {c[2]} with input as watered(c[0], c[1])
}

test_load_stands_at_no_other_vessel[where] if {
	some where, vessel in {
		"another's": {"id": "packs/sage/tank", "carrier": "people/ben", "water_ml": 9000},
		"on the body": {"id": "people/ana/onBody/tank", "pack": "", "water_ml": 9000},
	}
	facts := watered(1000, {})
	two := object.union(facts, {"vessels": array.concat(facts.vessels, [t.vessel(vessel)])})
	{f.at | some f in load.finding.body_mass_cap} == {"packs/rust/canister"} with input as two
}

test_load_stands_at_the_fullest_vessel if {
	facts := watered(2000, {})
	two := object.union(facts, {"vessels": [t.vessel({"id": "packs/rust/a", "water_ml": 1500}), t.vessel({"id": "packs/rust/b", "water_ml": 500})]})
	{f.at | some f in load.finding.body_mass_cap} == {"packs/rust/a"} with input as two
}

test_short_walks_of_unread_legs if {
	walk := {"legs": [{}], "foot_min": 0, "foot_mm": 0}
	{f.level | some f in load.finding.body_mass_cap} == {"warning"} with input as object.union(carriers([{"load_mg": 24200000}]), {"plan": t.plan(object.union(walk, {"foot_mm": 500001}))})
	{f.level | some f in load.finding.body_mass_cap} == {"error"} with input as object.union(carriers([{"load_mg": 24200000}]), {"plan": t.plan(object.union(walk, {"unread": ["legs"]}))})
}

test_load_does_not_stand_at_next_to_no_water if {
	light := {"carriers": [object.union(watered(499, {}).carriers[0], {"spare": [{"id": "packs/rust/saw", "name": "saw", "mass_mg": 90000}]})]}
	{f.at | some f in load.finding.body_mass_cap} == {"packs/rust/saw"} with input as object.union(watered(499, {}), light)
	{f.at | some f in load.finding.body_mass_cap} == {"packs/rust/canister"} with input as object.union(watered(500, {}), light)
}

# A litre and a millilitre is heavier than a saw of just over a kilogram.
test_load_stands_at_water_by_its_mass if {
	heavy := {"carriers": [object.union(watered(1251, {}).carriers[0], {"spare": [{"id": "packs/rust/saw", "name": "saw", "mass_mg": 1000500}]})]}
	{f.at | some f in load.finding.body_mass_cap} == {"packs/rust/canister"} with input as object.union(watered(1251, {}), heavy)
}

# Everyone drives all the way with 21 kg.
driving(more) := object.union(carriers([object.union({"load_mg": 21000001, "foot_ug": 0}, more)]), {"plan": {"ridden": true}})

test_vehicle_left if {
	load.finding.vehicle_left == {{
		"at": "people/ana/load",
		"because": ["packs/rust"],
		"text": "if the vehicle must be left, Ana carries just over 21.00 kg, 30.1 % of body weight; for a short way 30 % or 21.00 kg can be carried: over by 1 mg",
	}} with input as driving({})
	{f.text | some f in load.finding.vehicle_left} == {"if the vehicle must be left, Ana carries at least 22.00 kg, 31.5 % of body weight; for a short way 30 % or 21.00 kg can be carried: over by 1.00 kg"} with input as driving({"load_mg": 22000000, "load_known": false})
	count(load.finding.vehicle_left) == 0 with input as driving({"load_mg": 21000000})
}

test_vehicle_left_by_whom[who] if {
	some who, c in {
		"old": [{"age_months": 780}, 10500000],
		"unwell": [{"fitness": "unwell"}, 10500000],
		"twelve": [{"adult": false, "age_months": 144}, 14000000],
		"younger": [{"adult": false, "age_months": 143}, 10500000],
		"their own cap": [{"cap_known": true, "cap_permille": 50, "adult": false}, 3500000],
	}
	count(load.finding.vehicle_left) == 0 with input as driving(object.union(c[0], {"load_mg": c[1]}))
	count(load.finding.vehicle_left) == 1 with input as driving(object.union(c[0], {"load_mg": c[1] + 1}))
}

test_vehicle_left_in_a_pregnancy if {
	mothers := {"people": [t.person({"pregnant": true})]}
	count(load.finding.vehicle_left) == 0 with input as object.union(driving({"load_mg": 7000000}), mothers)
	count(load.finding.vehicle_left) == 1 with input as object.union(driving({"load_mg": 7000001}), mothers)
}

test_vehicle_left_not_asked[why] if {
	some why, facts in {
		"on foot": object.union(driving({}), {"plan": {"ridden": false}}),
		"by bicycle": object.union(driving({}), {"plan": {"legs": [{"by": "vehicles/bike"}]}, "vehicles": [{"id": "vehicles/bike", "kind": "bicycle"}]}),
		"an animal": driving({"kind": "animal"}),
		"who carries nothing": driving({"carries": false}),
	}
	count(load.finding.vehicle_left) == 0 with input as facts
}

test_body_mass_cap_on_the_back_by_bicycle if {
	bike := {"plan": {"legs": [{"id": "plan/legs/one", "by": "vehicles/bike"}], "foot_min": 0, "foot_mm": 0, "ridden": true}, "vehicles": [{"id": "vehicles/bike", "kind": "bicycle"}]}
	[[f.level, contains(f.text, "Ana carries 14.20 kg on the back, ")] | some f in load.finding.body_mass_cap] == [["warning", true]] with input as object.union(carriers([{"load_mg": 14200000}]), bike)
}
