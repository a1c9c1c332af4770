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
	some why, c in {
		"on the body, nobody's": [{"age_months": 71}, {"carrier": "people/mia", "person": "people/mia", "pack": ""}],
		"in the own pack, the child's": [{"age_months": 72}, {"carrier": "people/mia", "owner": "people/mia"}],
	}
	count(children.finding.identity) == 0 with input as tagged(c[0], [c[1]])
}

test_identity_missing if {
	children.finding.identity == {{
		"at": "people/mia",
		"text": "Mia wears or carries no identification",
	}} with input as tagged({"age_months": 143}, [
		{"carrier": "people/ana", "owner": "people/mia"},
		{"carrier": "people/mia", "owner": "people/ana"},
	])
}

test_identity_of_a_small_child_is_not_in_a_pack if {
	count(children.finding.identity) == 1 with input as tagged({"age_months": 71}, [{"carrier": "people/mia"}])
}

test_identity_not_asked[why] if {
	some why, child in {
		"from twelve years on": {"age_months": 144},
		"of unknown age": {"age_known": false, "age_months": 0},
	}
	count(children.finding.identity) == 0 with input as tagged(child, [])
}

comforted(people, offers) := {
	"people": people,
	"capabilities": [t.capability("comfort", [t.offer("toy", o) | some o in offers])],
}

test_comfort_at_the_limit if {
	count(children.finding.comfort) == 0 with input as comforted([mia({}), lin({})], [{"count": 2}])
}

test_comfort_one_too_few if {
	children.finding.comfort == {{
		"at": "people/mia",
		"because": ["packs/rust/toy"],
		"text": "the household has 1 comfort item for Mia and Lin: 1 short",
	}} with input as comforted([mia({"age_months": 143}), lin({"age_months": 12})], [{"count": 1}])
}

test_comfort_stands_at_the_child_without if {
	{f.at | some f in children.finding.comfort} == {"people/lin"} with input as comforted([mia({}), lin({"age_months": 20})], [{"owner": "people/mia", "whose": "people/mia"}])
}

test_comfort_by_the_households_own_limit if {
	facts := object.union(comforted([mia({})], []), own_limit("comforts", 3))
	children.finding.comfort == {{
		"at": "people/mia",
		"because": [],
		"text": "the household has no comfort item for Mia: 3 short",
	}} with input as facts
}

test_comfort_not_asked[why] if {
	some why, child in {
		"from twelve years on": {"age_months": 144},
		"an infant": {"age_months": 11},
		"of unknown age": {"age_known": false, "age_months": 0},
	}
	count(children.finding.comfort) == 0 with input as comforted([mia(child)], [])
}

bears(more) := {"carriers": [
	t.carrier({}),
	t.carrier(object.union({"id": "people/mia", "name": "Mia", "age_months": 71, "body_mass_mg": 20000000, "load_mg": 1500000, "packs": ["packs/kite", "packs/moss"]}, more)),
]}

test_bears_too_young_at_the_limit if {
	count(children.finding.bears_too_young) == 0 with input as bears({"age_months": 72})
}

test_bears_too_young if {
	children.finding.bears_too_young == {{
		"at": "packs/kite",
		"because": ["packs/kite", "packs/moss"],
		"text": "Mia is 5 years and 11 months old and carries 1.50 kg; the minimum age is 6 years",
	}} with input as bears({})
}

test_bears_too_young_an_animal if {
	{[f.at, f.because] | some f in children.finding.bears_too_young} == {["animals/bo", ["animals/bo"]]} with input as bears({"packs": [], "animal_ids": ["animals/bo"]})
}

test_bears_too_young_in_play[what] if {
	some what, c in {
		"light enough": [{"load_mg": 1000000}, 0],
		"a milligram more": [{"load_mg": 1000001, "body_mass_mg": 30000000}, 1],
		"a small child": [{"load_mg": 1000000, "body_mass_mg": 19999999}, 1],
		"old enough": [{"load_mg": 100, "age_months": 36}, 0],
		"too young": [{"load_mg": 100, "age_months": 35}, 1],
	}
	count(children.finding.bears_too_young) == c[1] with input as bears(c[0])
}

test_bears_too_young_not_asked[why] if {
	some why, more in {
		"an animal": {"kind": "animal"},
		"no pack": {"packs": []},
		"of unknown age": {"age_known": false, "age_months": 0},
	}
	count(children.finding.bears_too_young) == 0 with input as bears(more)
}

on_a_way(legs, mm, people) := {"plan": t.plan({"legs": legs, "foot_mm": mm}), "people": people}

test_carried_by_somebody if {
	count(children.finding.carried) == 0 with input as on_a_way([], 0, [lin({"carried_by": "people/ana"})])
}

test_carried_by_nobody if {
	children.finding.carried == {{
		"at": "people/lin",
		"text": "nobody is recorded as carrying Lin, who is 2 years and 11 months old",
	}} with input as on_a_way([], 0, [t.person({}), lin({"age_months": 35})])
}

test_carried_on_a_short_way if {
	count(children.finding.carried) == 0 with input as on_a_way([{}], 499999, [lin({})])
	count(children.finding.carried) == 1 with input as on_a_way([{}], 500000, [lin({})])
}

test_carried_not_asked[why] if {
	some why, more in {
		"from three years on": {"age_months": 36},
		"of unknown age": {"age_known": false, "age_months": 0},
	}
	count(children.finding.carried) == 0 with input as on_a_way([], 0, [lin(more)])
}

carrying(more) := {
	"people": [lin({})],
	"carriers": [t.carrier(object.union({"carried_mg": 1, "carried_ids": ["people/lin"]}, more))],
}

test_carrier_fit if {
	count(children.finding.carrier) == 0 with input as carrying({})
}

test_carrier_not_fit[words] if {
	some words, c in {
		"under 18": [{"adult": false, "age_months": 191}, "error"],
		"in poor health": [{"fitness": "poor"}, "error"],
		"unwell": [{"fitness": "unwell"}, "error"],
		"recorded as carrying nothing": [{"carries": false}, "error"],
		"under 18 and unwell": [{"adult": false, "age_months": 200, "fitness": "unwell"}, "error"],
	}
	children.finding.carrier == {{
		"at": "people/lin/carriedBy",
		"because": ["people/ana", "people/lin"],
		"text": sprintf("Ana is to carry Lin but is %s", [words]),
	}} with input as carrying(c[0])
}

test_carrier_a_well_youth if {
	children.finding.carrier == {{
		"at": "people/lin/carriedBy",
		"level": "note",
		"because": ["people/ana", "people/lin"],
		"text": "Ana is to carry Lin but is under 18",
	}} with input as carrying({"adult": false, "age_months": 192})
}

test_carrier_not_asked_of_those_who_carry_nobody if {
	count(children.finding.carrier) == 0 with input as carrying({"carried_mg": 0, "adult": false})
}

nappied(people, minutes, offers) := {
	"endurance": {"minutes": minutes},
	"people": people,
	"capabilities": [t.capability("hygiene", [t.offer(o.means, {"count": o.count}) | some o in offers])],
}

test_nappies_at_the_limit if {
	count(children.finding.nappies) == 0 with input as nappied([lin({})], 4320, [{"means": "nappies", "count": 18}])
}

test_nappies_one_too_few if {
	children.finding.nappies == {{
		"at": "packs/rust/nappies",
		"because": ["packs/rust/nappies"],
		"text": "the household has 17 nappies; Lin needs 18 for 72 h, at 6 a day: 1 short",
	}} with input as nappied([lin({"age_months": 35})], 4320, [{"means": "nappies", "count": 17}, {"means": "wipes", "count": 9}])
}

test_nappies_of_two_over_part_of_a_day if {
	children.finding.nappies == {{
		"at": "packs/rust/nappies",
		"because": ["packs/rust/nappies"],
		"text": "the household has 1 nappy; Lin and Oda need 16 for 24 h 1 min, at 15 a day: 15 short",
	}} with input as nappied([lin({"age_months": 12}), lin({"id": "people/oda", "name": "Oda", "age_months": 11})], 1441, [{"means": "nappies", "count": 1}])
}

test_nappies_by_age[months] if {
	some months, n in {"5": 10, "6": 9, "11": 9, "12": 6}
	facts := nappied([lin({"age_months": to_number(months)})], 1440, [])
	some f in children.finding.nappies with input as facts
	endswith(f.text, sprintf(": %d short", [n]))
}

test_nappies_none if {
	children.finding.nappies == {{
		"at": "people/lin",
		"because": [],
		"text": "the household has no nappies; Lin needs 6 for 24 h, at 6 a day: 6 short",
	}} with input as nappied([lin({})], 1440, [])
}

test_nappies_not_asked[why] if {
	some why, case in {
		"from three years on": nappied([lin({"age_months": 36})], 4320, []),
		"of unknown age": nappied([lin({"age_known": false, "age_months": 0})], 4320, []),
		"needs none": nappied([lin({"nappies": false})], 4320, []),
	}
	count(children.finding.nappies) == 0 with input as case
}

test_carrier_in_a_pregnancy[days] if {
	some days, words in {98: set(), 97: {"Ana is to carry Lin but is due in 97 days"}, -2: {"Ana is to carry Lin but is due today"}}
	facts := {"people": [lin({}), t.person({"pregnant": true, "due_known": true, "due_days": days}), t.person({"id": "people/ben", "pregnant": true, "due_known": true, "due_days": 1})]}
	{f.text | some f in children.finding.carrier} == words with input as object.union(carrying({}), facts)
}
