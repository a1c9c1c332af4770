package rules.base.load_test

import data.lib.testing_test as t
import data.rules.base.load

carriers(list) := {"carriers": [t.carrier(c) | some c in list]}

test_body_mass_cap_at_the_limit if {
	count(load.finding.body_mass_cap) == 0 with input as carriers([{"load_mg": 10500000}])
}

test_body_mass_cap_one_too_many if {
	load.finding.body_mass_cap == {{
		"at": "people/ana/load",
		"text": "Ana's load is 10.50 kg (23.1 lb), 15.0 % of body mass; the cap is 15.0 % or 10.50 kg: 1 mg too much",
		"lack": 1,
	}} with input as carriers([{"load_mg": 10500001}])
}

test_body_mass_cap_in_words if {
	load.finding.body_mass_cap == {{
		"at": "people/ana/load",
		"text": "Ana's load is 14.20 kg (31.3 lb), 20.3 % of body mass; the cap is 15.0 % or 10.50 kg: 3.70 kg too much",
		"lack": 3700000,
	}} with input as carriers([{"load_mg": 14200000}])
}

test_body_mass_cap_own_at_the_limit if {
	facts := carriers([{"cap_known": true, "cap_permille": 200, "load_mg": 14000000}])
	count(load.finding.body_mass_cap) == 0 with input as facts
}

test_body_mass_cap_own_one_too_many if {
	load.finding.body_mass_cap == {{
		"at": "people/ana/load",
		"text": "Ana's load is 8.40 kg (18.5 lb), 12.0 % of body mass; the family's own cap is 12.0 % or 8.40 kg: 1 mg too much",
		"lack": 1,
	}} with input as carriers([{"cap_known": true, "cap_permille": 120, "load_mg": 8400001}])
}

test_body_mass_cap_not_asked_of_children_and_animals if {
	facts := carriers([
		{"adult": false, "load_mg": 20000000},
		{"kind": "animal", "load_mg": 20000000},
	])
	count(load.finding.body_mass_cap) == 0 with input as facts
}

mia(load_mg) := {"id": "people/mia", "name": "Mia", "adult": false, "body_mass_mg": 30000000, "load_id": "people/mia/load", "load_mg": load_mg}

test_child_cap_at_the_limit if {
	count(load.finding.child_cap) == 0 with input as carriers([mia(3000000)])
}

test_child_cap_one_too_many if {
	load.finding.child_cap == {{
		"at": "people/mia/load",
		"text": "Mia's load is 3.00 kg (6.6 lb), 10.0 % of body mass; the cap is 10.0 % or 3.00 kg: 1 mg too much",
		"lack": 1,
	}} with input as carriers([mia(3000001)])
}

test_child_cap_not_asked_of_adults_and_animals if {
	facts := carriers([
		{"load_mg": 20000000},
		{"kind": "animal", "adult": false, "load_mg": 20000000},
	])
	count(load.finding.child_cap) == 0 with input as facts
}

bo(load_mg) := {"id": "animals/bo", "kind": "animal", "name": "Bo", "adult": false, "body_mass_mg": 24000000, "load_id": "animals/bo/load", "load_mg": load_mg}

test_animal_cap_at_the_limit if {
	count(load.finding.animal_cap) == 0 with input as carriers([bo(2400000)])
}

test_animal_cap_one_too_many if {
	load.finding.animal_cap == {{
		"at": "animals/bo/load",
		"text": "Bo's load is 2.40 kg (5.3 lb), 10.0 % of body mass; the cap is 10.0 % or 2.40 kg: 1 mg too much",
		"lack": 1,
	}} with input as carriers([bo(2400001)])
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
		"text": "Ana's own cap is 15.1 % of body mass; the standard's is 15.0 %: 0.1 points too much",
	}} with input as capped({"cap_permille": 151})
}

test_own_cap_of_others if {
	every more in [{"adult": false}, {"kind": "animal"}, {"kind": "animal", "adult": false}] {
		{f.text | some f in load.finding.own_cap} == {"Ana's own cap is 10.1 % of body mass; the standard's is 10.0 %: 0.1 points too much"} with input as capped(object.union({"cap_permille": 101}, more))
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
		"text": "1.00 kg of the 10.00 kg in pack “Rust” was never weighed; at most 10.0 % may be a guess",
	}} with input as weighed(1000001, 10000000)
}

test_unweighed_unknown if {
	load.finding.unweighed == {{
		"at": "packs/rust/rice",
		"because": ["packs/rust/rice", "packs/rust/tarp"],
		"text": "pack “Rust” weighs at least 10.00 kg: no mass is recorded for “rice” and “tarp”",
	}} with input as {"packs": [t.pack({
		"mass_mg": 10000000,
		"unweighed_mg": 10000000,
		"unweighed_ids": ["packs/rust/rice", "packs/rust/tarp"],
		"mass_known": false,
		"no_mass": [{"id": "packs/rust/rice", "name": "rice"}, {"id": "packs/rust/tarp", "name": "tarp"}],
	})]}
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
		"text": "Ana carries 10.0 % of body mass and Ben 5.0 %, 5.1 points apart; the most is 5.0 points: 0.1 points too many",
	}} with input as carriers([{"load_mg": 7000001}, ben({})])
}

test_imbalance_names_the_ends_once if {
	load.finding.imbalance == {{
		"at": "people/cleo/load",
		"because": ["people/cleo/load", "people/ben/load"],
		"text": "Cleo carries 14.0 % of body mass and Ben 5.0 %, 9.0 points apart; the most is 5.0 points: 4.0 points too many",
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
	count(load.finding.imbalance) == 0 with input as carriers([{"load_mg": 14000000}, ben(other)])
}

test_quick_shed_at_the_limit if {
	count(load.finding.quick_shed) == 0 with input as carriers([{"load_mg": 10000000, "quick_shed_mg": 1000000}])
}

test_quick_shed_one_too_few if {
	load.finding.quick_shed == {{
		"at": "people/ana/load",
		"text": "Ana can drop 1.00 kg of a load of 10.00 kg in seconds, 10.0 % of it; 10.0 % is asked: 1 mg too little",
	}} with input as carriers([{"load_mg": 10000000, "quick_shed_mg": 999999}])
}

test_quick_shed_not_asked_without_load_or_of_animals if {
	facts := carriers([{"load_mg": 0, "quick_shed_mg": 0}, {"kind": "animal", "quick_shed_mg": 0}])
	count(load.finding.quick_shed) == 0 with input as facts
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
	load.finding.part_budget == part_budget("Lid weighs 0.40 kg; its budget allows 0.40 kg: 1 mg too much") with input as part(400001, 400000)
}

test_part_budget_in_words if {
	load.finding.part_budget == part_budget("Lid weighs 0.40 kg; its budget allows 0.40 kg: 2 g too much") with input as part(401500, 400000)
}

test_part_budget_a_hair_too_much if {
	load.finding.part_budget == part_budget("Lid weighs 1 mg; its budget allows 1 mg: 1 mg too much") with input as object.union(own("budget_share", 999), part(1, 1))
}

test_part_budget_not_asked_without_a_budget if {
	facts := {"compartments": [t.compartment({"mass_mg": 400000})]}
	count(load.finding.part_budget) == 0 with input as facts
}

single(more) := {"packs": [
	t.pack(object.union({"heaviest_id": "packs/rust/pot", "heaviest_name": "Pot"}, more)),
	t.pack({"id": "packs/moss"}),
]}

test_single_item_at_the_limit if {
	count(load.finding.single_item) == 0 with input as single({"heaviest_mg": 2000000})
}

test_single_item_one_too_many if {
	load.finding.single_item == {{
		"at": "packs/rust/pot",
		"text": "Pot weighs 2.00 kg, 20.0 % of Rust's 10.00 kg; one thing is at most 2.00 kg of it: 1 mg too much",
	}} with input as single({"heaviest_mg": 2000001})
}

test_single_item_not_asked[who] if {
	some who, pack in {
		"a child's pack": {"carrier_adult": false},
		"an animal's pack": {"carrier_kind": "animal"},
		"an empty pack": {"heaviest_id": "", "heaviest_mg": 0},
	}
	count(load.finding.single_item) == 0 with input as single(object.union({"heaviest_mg": 9000000}, pack))
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

test_unfit_carrier_at_the_limit[fitness] if {
	some fitness in ["poor", "unwell"]
	count(load.finding.unfit_carrier) == 0 with input as carriers([{"fitness": fitness, "load_mg": 7000000}])
}

test_unfit_carrier_one_too_many if {
	every fitness in ["poor", "unwell"] {
		load.finding.unfit_carrier == {{
			"at": "people/ana/load",
			"text": sprintf("Ana's fitness is written as %s and the load is 7.00 kg, 10.0 %% of body mass; the most for such a carrier is 7.00 kg: 1 mg too much", [fitness]),
		}} with input as carriers([{"fitness": fitness, "load_mg": 7000001}])
	}
}

test_unfit_carrier_in_words if {
	load.finding.unfit_carrier == {{
		"at": "people/ana/load",
		"text": "Ana's fitness is written as poor and the load is 7.00 kg, 10.0 % of body mass; the most for such a carrier is 7.00 kg: 2 g too much",
	}} with input as carriers([{"fitness": "poor", "load_mg": 7001500}])
}

test_unfit_carrier_a_hair_too_much if {
	load.finding.unfit_carrier == {{
		"at": "people/ana/load",
		"text": "Ana's fitness is written as poor and the load is 0.00 kg, 9.9 % of body mass; the most for such a carrier is 0.00 kg: 1 mg too much",
	}} with input as object.union(own("unfit_cap", 99), carriers([{"fitness": "poor", "load_mg": 10, "body_mass_mg": 101}]))
}

test_unfit_carrier_not_asked[who] if {
	some who, more in {
		"fit": {"fitness": "fair"},
		"a child": {"adult": false},
		"an animal": {"kind": "animal"},
	}
	count(load.finding.unfit_carrier) == 0 with input as carriers([object.union({"fitness": "poor", "load_mg": 7000001}, more)])
}

test_unfit_carrier_whatever_the_own_cap if {
	count(load.finding.unfit_carrier) == 1 with input as carriers([{"fitness": "poor", "load_mg": 7000001, "cap_known": true, "cap_permille": 150}])
}

# Ana, 70 kg, and Ben, 60 kg: 18 kg without what can be dropped. For a short way Ana could bear 21 kg and Ben 18 kg.
pair(ana, more) := carriers([
	object.union({"load_mg": 12000000, "quick_shed_mg": 2000000}, ana),
	ben(object.union({"load_mg": 8500000, "quick_shed_mg": 500000}, more)),
])

test_one_cannot_at_the_limit if {
	count(load.finding.one_cannot) == 0 with input as pair({}, {})
}

test_one_cannot_one_too_many if {
	load.finding.one_cannot == {{
		"at": "people/ana/load",
		"because": ["people/ana/load", "people/ben/load"],
		"text": "should Ana not be able to carry: all packs and who is carried weigh 18.00 kg without what is dropped in seconds, and the others can bear 18.00 kg for a short way (Ben 30.0 %): 1 mg too much",
	}} with input as pair({}, {"load_mg": 8500001})
}

test_one_cannot_for_each_adult if {
	{f.at | some f in load.finding.one_cannot} == {"people/ana/load", "people/ben/load"} with input as pair({}, {"load_mg": 11500001})
}

test_one_cannot_counts_each_of_the_others if {
	cleo := {"id": "people/cleo", "name": "Cleo", "load_id": "people/cleo/load", "load_mg": 1, "quick_shed_mg": 1, "body_mass_mg": 1000}
	facts := pair({}, {"load_mg": 8500301})
	three := {"carriers": array.concat(facts.carriers, [t.carrier(cleo)])}
	{f.text | some f in load.finding.one_cannot} == {"should Ana not be able to carry: all packs and who is carried weigh 18.00 kg without what is dropped in seconds, and the others can bear 18.00 kg for a short way (Ben 30.0 % and Cleo 30.0 %): 1 mg too much"} with input as three
}

test_one_cannot_spares_the_unfit if {
	every fitness in ["poor", "unwell"] {
		{f.text | some f in load.finding.one_cannot} == {"should Ana not be able to carry: all packs and who is carried weigh 18.00 kg without what is dropped in seconds, and the others can bear 6.00 kg for a short way (Ben 10.0 %): 12.00 kg too much"} with input as pair({}, {"fitness": fitness})
	}
}

test_one_cannot_counts_who_is_carried if {
	{f.text | some f in load.finding.one_cannot} == {"should Ana not be able to carry: all packs and who is carried weigh 18.00 kg without what is dropped in seconds, and the others can bear 18.00 kg for a short way (Ben 30.0 %): 1 mg too much"} with input as pair({"carried_mg": 1}, {})
}

test_one_cannot_keeps_a_childs_cap if {
	kid := {"id": "people/mia", "name": "Mia", "adult": false, "body_mass_mg": 30000000, "load_id": "people/mia/load", "load_mg": 3000001, "quick_shed_mg": 0}
	facts := carriers([{"load_mg": 5000000, "quick_shed_mg": 5000000}, kid])
	load.finding.one_cannot == {{
		"at": "people/ana/load",
		"because": ["people/ana/load", "people/mia/load"],
		"text": "should Ana not be able to carry: all packs and who is carried weigh 3.00 kg without what is dropped in seconds, and the others can bear 3.00 kg for a short way (Mia 10.0 %): 1 mg too much",
	}} with input as facts
}

test_one_cannot_asked_for_adults_only if {
	kid := {"id": "people/mia", "name": "Mia", "adult": false, "body_mass_mg": 30000000, "load_id": "people/mia/load", "load_mg": 25000000, "quick_shed_mg": 0}
	{f.at | some f in load.finding.one_cannot} == {"people/ana/load"} with input as carriers([{"load_mg": 5000000, "quick_shed_mg": 0}, kid])
}

test_one_cannot_keeps_an_own_cap if {
	{f.text | some f in load.finding.one_cannot} == {"should Ana not be able to carry: all packs and who is carried weigh 18.00 kg without what is dropped in seconds, and the others can bear 10.20 kg for a short way (Ben 17.0 %): 7.80 kg too much"} with input as pair({}, {"cap_known": true, "cap_permille": 170})
}

test_one_cannot_keeps_a_childs_own_cap if {
	kid := {"id": "people/mia", "name": "Mia", "adult": false, "cap_known": true, "cap_permille": 50, "body_mass_mg": 30000000, "load_id": "people/mia/load", "load_mg": 1500001, "quick_shed_mg": 0}
	count(load.finding.one_cannot) == 1 with input as carriers([{"load_mg": 5000000, "quick_shed_mg": 5000000}, kid])
}

test_one_cannot_not_asked_for_a_child if {
	kid := {"id": "people/mia", "adult": false, "load_id": "people/mia/load", "load_mg": 3000000, "quick_shed_mg": 0}
	{f.at | some f in load.finding.one_cannot} == {"people/ana/load"} with input as pair({"load_mg": 20000000}, kid)
}

test_one_cannot_not_asked_of_one_carrier[who] if {
	some who, other in {
		"an animal": {"kind": "animal"},
		"no pack": {"packs": []},
	}
	count(load.finding.one_cannot) == 0 with input as pair({"load_mg": 20000000}, other)
}

chair(more) := {"quick_items": [object.union({"id": "packs/rust/chair/quickShed", "name": "Chair", "mass_mg": 500000, "reach": "halted", "whole": false}, more)]}

test_quick_shed_reach_out_of_reach if {
	load.finding.quick_shed_reach == {{
		"at": "packs/rust/chair/quickShed",
		"text": "Chair (0.50 kg) is marked as dropped in seconds, but it lies where it is got at only when halted",
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

worn(on_body_mg) := carriers([{"on_body_mg": on_body_mg, "load_mg": 0}])

test_worn_at_the_limit if {
	count(load.finding.worn) == 0 with input as worn(4200000)
}

test_worn_one_too_much if {
	load.finding.worn == {{
		"at": "people/ana/on-body",
		"text": "Ana wears and pockets 4.20 kg, 6.0 % of body mass; at most 6.0 % is no second pack: 1 mg too much",
	}} with input as worn(4200001)
}

test_not_a_carrier_with_a_pack if {
	load.finding.not_a_carrier == {{
		"at": "people/ana/carries",
		"because": ["packs/rust"],
		"text": "Ana is written to carry nothing, and bears 1 pack",
	}} with input as carriers([{"carries": false}])
}

test_not_a_carrier_not_asked[who] if {
	some who, more in {
		"carries": {"carries": true},
		"bears no pack": {"carries": false, "packs": []},
		"an animal": {"carries": false, "kind": "animal"},
	}
	count(load.finding.not_a_carrier) == 0 with input as carriers([more])
}

belted(more) := {"packs": [t.pack(object.union({"hip_belt": false, "mass_mg": 10000001}, more))]}

test_hip_belt_at_the_limit if {
	count(load.finding.hip_belt) == 0 with input as belted({"mass_mg": 10000000})
}

test_hip_belt_one_too_many if {
	load.finding.hip_belt == {{
		"at": "packs/rust",
		"text": "Rust weighs 10.00 kg and has no hip belt; without one it is at most 10.00 kg: 1 mg too much",
	}} with input as belted({})
}

test_hip_belt_not_asked[what] if {
	some what, more in {
		"it has one": {"hip_belt": true},
		"an animal's": {"carrier_kind": "animal"},
	}
	count(load.finding.hip_belt) == 0 with input as belted(more)
}

test_one_cannot_of_an_unfit_carrier_with_an_own_cap if {
	{f.text | some f in load.finding.one_cannot} == {"should Ana not be able to carry: all packs and who is carried weigh 18.00 kg without what is dropped in seconds, and the others can bear 3.00 kg for a short way (Ben 5.0 %): 15.00 kg too much"} with input as pair({}, {"fitness": "poor", "cap_known": true, "cap_permille": 50})
}

test_one_cannot_of_an_unfit_child if {
	facts := object.union(own("unfit_cap", 50), pair({}, {"fitness": "poor", "adult": false}))
	{f.text | some f in load.finding.one_cannot} == {"should Ana not be able to carry: all packs and who is carried weigh 18.00 kg without what is dropped in seconds, and the others can bear 6.00 kg for a short way (Ben 10.0 %): 12.00 kg too much"} with input as facts
}
