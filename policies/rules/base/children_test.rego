package rules.base.children_test

import data.lib.testing_test as t
import data.rules.base.children

mia(more) := t.person(object.union({"id": "people/mia", "name": "Mia", "age_months": 108, "adult": false}, more))

lin(more) := t.person(object.union(
	{"id": "people/lin", "name": "Lin", "age_months": 14, "adult": false, "pack_count": 0, "packs": []},
	more,
))

own_limit(name, value) := {"limits": [{"area": "children", "name": name, "list": false, "value": value, "values": []}]}

tagged(child, offers) := {
	"people": [t.person({}), mia(child)],
	"capabilities": [t.capability("identify", [t.offer("name-tag", o) | some o in offers])],
}

test_identity_fine[why] if {
	some why, offer in {
		"on the body, nobody's": {"carrier": "people/mia", "person": "people/mia", "pack": ""},
		"in the own pack, the child's": {"carrier": "people/mia", "owner": "people/mia"},
	}
	count(children.finding.identity) == 0 with input as tagged({}, [offer])
}

test_identity_missing if {
	children.finding.identity == {{
		"at": "people/mia",
		"text": "Mia has nothing on them that says who they are; 1 is asked: 1 too few",
	}} with input as tagged({"age_months": 143}, [
		{"carrier": "people/ana", "owner": "people/mia"},
		{"carrier": "people/mia", "owner": "people/ana"},
	])
}

test_identity_not_asked[why] if {
	some why, child in {
		"from twelve years on": {"age_months": 144},
		"of unknown age": {"age_known": false, "age_months": 0},
	}
	count(children.finding.identity) == 0 with input as tagged(child, [])
}

comforted(people, offers) := {
	"household": t.household({}),
	"people": people,
	"capabilities": [t.capability("comfort", [t.offer("toy", o) | some o in offers])],
}

test_comfort_at_the_limit if {
	count(children.finding.comfort) == 0 with input as comforted([mia({}), lin({})], [{"count": 2}])
}

test_comfort_one_too_few if {
	children.finding.comfort == {{
		"at": "household",
		"because": ["packs/rust/toy"],
		"text": "the household has 1 thing of comfort for Mia and Lin; 2 asked: 1 too few",
	}} with input as comforted([mia({"age_months": 143}), lin({})], [{"count": 1}])
}

test_comfort_by_the_households_own_limit if {
	facts := object.union(comforted([mia({}), lin({})], [{"count": 3}]), own_limit("comforts", 3))
	children.finding.comfort == {{
		"at": "household",
		"because": ["packs/rust/toy"],
		"text": "the household has 3 things of comfort for Mia and Lin; 6 asked: 3 too few",
	}} with input as facts
}

test_comfort_not_asked[why] if {
	some why, child in {
		"from twelve years on": {"age_months": 144},
		"of unknown age": {"age_known": false, "age_months": 0},
	}
	count(children.finding.comfort) == 0 with input as comforted([mia(child)], [])
}

bears(more) := {"carriers": [
	t.carrier({}),
	t.carrier(object.union({"id": "people/mia", "name": "Mia", "age_months": 71, "packs": ["packs/kite"]}, more)),
]}

test_bears_too_young_at_the_limit if {
	count(children.finding.bears_too_young) == 0 with input as bears({"age_months": 72})
}

test_bears_too_young_one_too_few if {
	children.finding.bears_too_young == {{
		"at": "people/mia",
		"because": ["packs/kite"],
		"text": "Mia bears 1 pack and is 5 years and 11 months old; 6 years are asked: 1 month too few",
	}} with input as bears({})
}

test_bears_too_young_in_words if {
	children.finding.bears_too_young == {{
		"at": "people/mia",
		"because": ["packs/kite", "packs/moss"],
		"text": "Mia bears 2 packs and is 5 years old; 6 years are asked: 12 months too few",
	}} with input as bears({"age_months": 60, "packs": ["packs/kite", "packs/moss"]})
}

test_bears_too_young_not_asked[why] if {
	some why, more in {
		"an animal": {"kind": "animal"},
		"no pack": {"packs": []},
		"of unknown age": {"age_known": false, "age_months": 0},
	}
	count(children.finding.bears_too_young) == 0 with input as bears(more)
}

test_carried_by_somebody if {
	count(children.finding.carried) == 0 with input as {"people": [lin({"carried_by": "people/ana"})]}
}

test_carried_by_nobody if {
	children.finding.carried == {{
		"at": "people/lin",
		"text": "Lin is 2 years and 11 months old, below 3 years, and it is not written who carries them",
	}} with input as {"people": [t.person({}), lin({"age_months": 35})]}
}

test_carried_not_asked[why] if {
	some why, more in {
		"from three years on": {"age_months": 36},
		"of unknown age": {"age_known": false, "age_months": 0},
	}
	count(children.finding.carried) == 0 with input as {"people": [lin(more)]}
}

# Ana of 70 kg may bear 21 kg in all.
laden(load_mg, carried_mg) := {"carriers": [t.carrier({
	"load_mg": load_mg,
	"carried_mg": carried_mg,
	"carried_ids": ["people/lin"],
})]}

test_carried_load_at_the_limit if {
	count(children.finding.carried_load) == 0 with input as laden(7000000, 14000000)
}

test_carried_load_one_too_many if {
	children.finding.carried_load == {{
		"at": "people/ana/load",
		"because": ["people/lin", "packs/rust"],
		"text": "Ana bears 7.00 kg in packs and carries 14.00 kg of people, 30.0 % of body mass; the most is 30.0 % or 21.00 kg: 1 mg too much",
	}} with input as laden(7000001, 14000000)
}

test_carried_load_in_words if {
	children.finding.carried_load == {{
		"at": "people/ana/load",
		"because": ["people/lin", "packs/rust"],
		"text": "Ana bears 21.00 kg in packs and carries 1.00 kg of people, 31.4 % of body mass; the most is 30.0 % or 21.00 kg: 1.00 kg too much",
	}} with input as laden(21000000, 1000000)
}

test_carried_load_by_the_households_own_limit if {
	facts := object.union(laden(28001500, 14000000), own_limit("carried_cap", 600))
	children.finding.carried_load == {{
		"at": "people/ana/load",
		"because": ["people/lin", "packs/rust"],
		"text": "Ana bears 28.00 kg in packs and carries 14.00 kg of people, 60.0 % of body mass; the most is 60.0 % or 42.00 kg: 2 g too much",
	}} with input as facts
}

# 33.3 % of this body mass is a millionth of a gram below the whole milligram borne.
test_carried_load_is_not_rounded if {
	light := {"carriers": [t.carrier({"body_mass_mg": 70000003, "load_mg": 23310000, "carried_mg": 1})]}
	facts := object.union(light, own_limit("carried_cap", 333))
	count(children.finding.carried_load) == 1 with input as facts
}

test_carried_load_not_asked_of_those_who_carry_nobody if {
	count(children.finding.carried_load) == 0 with input as laden(30000000, 0)
}

packed(owned) := {
	"packs": [t.pack({})],
	"people": [t.person({}), lin({"owned_count": owned})],
}

test_own_things_present if {
	count(children.finding.own_things) == 0 with input as packed(1)
}

test_own_things_missing if {
	children.finding.own_things == {{
		"at": "people/lin",
		"text": "Lin bears no pack, and 0 things in the packs name Lin as owner; 1 is asked: 1 too few",
	}} with input as packed(0)
}

test_own_things_not_asked_without_packs if {
	facts := object.union(packed(0), {"packs": []})
	count(children.finding.own_things) == 0 with input as facts
}

test_carried_load_keeps_a_lower_own_cap if {
	facts := {"carriers": [t.carrier({"body_mass_mg": 70000000, "load_mg": 0, "carried_mg": 10000001, "carried_ids": ["people/lin"], "cap_known": true, "cap_permille": 100})]}
	{f.text | some f in children.finding.carried_load} == {"Ana bears 0.00 kg in packs and carries 10.00 kg of people, 14.3 % of body mass; the most is 10.0 % or 7.00 kg: 3.00 kg too much"} with input as facts
}

test_carried_load_is_not_raised_by_an_own_cap if {
	facts := {"carriers": [t.carrier({"body_mass_mg": 70000000, "load_mg": 21000001, "carried_mg": 1, "carried_ids": ["people/lin"], "cap_known": true, "cap_permille": 900})]}
	count(children.finding.carried_load) == 1 with input as facts
}

carrying(more) := {"carriers": [t.carrier(object.union({"carried_mg": 1, "carried_ids": ["people/lin"]}, more))]}

test_carrier_fit if {
	count(children.finding.carrier) == 0 with input as carrying({})
}

test_carrier_not_fit[words] if {
	some words, more in {
		"under 18": {"adult": false},
		"poor": {"fitness": "poor"},
		"unwell": {"fitness": "unwell"},
		"written to carry nothing": {"carries": false},
		"under 18 and unwell": {"adult": false, "fitness": "unwell"},
	}
	children.finding.carrier == {{
		"at": "people/ana",
		"because": ["people/lin"],
		"text": sprintf("Ana is to carry 1 person, and is %s", [words]),
	}} with input as carrying(more)
}

test_carrier_not_asked_of_those_who_carry_nobody if {
	count(children.finding.carrier) == 0 with input as carrying({"carried_mg": 0, "adult": false})
}

nappied(people, minutes, offers) := {
	"household": t.household({}),
	"plan": t.plan({"minutes": minutes}),
	"people": people,
	"capabilities": [t.capability("hygiene", [t.offer(o.means, {"count": o.count}) | some o in offers])],
}

test_nappies_at_the_limit if {
	count(children.finding.nappies) == 0 with input as nappied([lin({})], 4320, [{"means": "nappies", "count": 18}])
}

test_nappies_one_too_few if {
	children.finding.nappies == {{
		"at": "household",
		"because": ["packs/rust/nappies"],
		"text": "the household has 17 nappies for Lin; 72 h at 6 a day each take 18: 1 too few",
	}} with input as nappied([lin({"age_months": 29})], 4320, [{"means": "nappies", "count": 17}, {"means": "wipes", "count": 9}])
}

test_nappies_of_two_over_part_of_a_day if {
	children.finding.nappies == {{
		"at": "household",
		"because": ["packs/rust/nappies"],
		"text": "the household has 12 nappies for Lin and Oda; 24 h 1 min at 6 a day each take 13: 1 too few",
	}} with input as nappied([lin({}), lin({"id": "people/oda", "name": "Oda"})], 1441, [{"means": "nappies", "count": 12}])
}

test_nappies_not_asked[why] if {
	some why, case in {
		"from thirty months on": nappied([lin({"age_months": 30})], 4320, []),
		"of unknown age": nappied([lin({"age_known": false, "age_months": 0})], 4320, []),
		"a plan without a duration": nappied([lin({})], 0, []),
	}
	count(children.finding.nappies) == 0 with input as case
}
