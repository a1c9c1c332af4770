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
	}} with input as carriers([{"load_mg": 10500001}])
}

test_body_mass_cap_in_words if {
	load.finding.body_mass_cap == {{
		"at": "people/ana/load",
		"text": "Ana's load is 14.20 kg (31.3 lb), 20.3 % of body mass; the cap is 15.0 % or 10.50 kg: 3.70 kg too much",
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
	}} with input as carriers([bo(2400001)])
}

test_animal_cap_not_asked_of_people if {
	count(load.finding.animal_cap) == 0 with input as carriers([{"load_mg": 20000000}])
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
		"at": "packs/rust",
		"because": ["packs/rust/tarp", "packs/rust/cord"],
		"text": "1.00 kg of Rust's 10.00 kg was never weighed, 10.0 % of it; at most 10.0 % may be: 1 mg too much",
	}} with input as weighed(1000001, 10000000)
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
