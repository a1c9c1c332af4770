package rules.base.hygiene_test

import data.lib.testing_test as t
import data.rules.base.hygiene

offers(list) := {
	"household": t.household({}),
	"plan": t.plan({"hazards": ["heat"]}),
	"people": [],
	"capabilities": [t.capability("hygiene", list)],
}

test_hands_each_means[means] if {
	some means in ["soap", "hand-gel", "wipes"]
	count(hygiene.finding.hands) == 0 with input as offers([t.offer("toothbrush", {}), t.offer(means, {})])
}

test_hands_missing if {
	every list in [[], [t.offer("toilet-paper", {})]] {
		hygiene.finding.hands == {{
			"at": "household",
			"text": "the household has no soap, hand gel or wipes",
		}} with input as offers(list)
	}
}

test_toilet_each_means[means] if {
	some means in ["toilet-paper", "toilet-bag"]
	count(hygiene.finding.toilet) == 0 with input as offers([t.offer(means, {})])
}

test_toilet_missing if {
	every list in [[], [t.offer("soap", {})]] {
		hygiene.finding.toilet == {{
			"at": "household",
			"text": "the household has no toilet paper or toilet bag",
			"level": "warning",
		}} with input as offers(list)
	}
}

test_toilet_in_a_house_with_water[what] if {
	some what, c in {"house": ["house", true, "note"], "dry house": ["house", false, "warning"], "shelter": ["shelter", true, "warning"]}
	facts := object.union(offers([]), {"plan": t.plan({"destination": {"kind": c[0], "water": c[1]}})})
	{f.level | some f in hygiene.finding.toilet} == {c[2]} with input as facts
}

quake := {"plan": t.plan({"hazards": ["quake"]})}

test_toilet_bags_for_a_quake if {
	hygiene.finding.toilet == {{
		"at": "packs/rust/toilet-paper",
		"text": "drains may break in a quake, and the household has no toilet bags",
		"level": "note",
	}} with input as object.union(offers([t.offer("toilet-paper", {})]), quake)
	count(hygiene.finding.toilet) == 0 with input as object.union(offers([t.offer("toilet-paper", {}), t.offer("toilet-bag", {})]), quake)
	count(hygiene.finding.toilet) == 1 with input as object.union(offers([]), quake)
}

people(list, offered) := object.union(offers(offered), {"people": [t.person(p) | some p in list]})

woman(months) := {"sex": "female", "age_months": months}

mia := object.union(woman(132), {"id": "people/mia", "name": "Mia", "packs": []})

pads(n) := t.offer("menstrual", {"count": n})

test_menstruation_supplies_there if {
	count(hygiene.finding.menstruation) == 0 with input as people([woman(660), mia], [pads(2)])
}

test_menstruation_of_one_without if {
	hygiene.finding.menstruation == {{
		"at": "people/mia",
		"because": ["people/mia"],
		"text": "Mia has no period supplies",
	}} with input as people([woman(660), mia], [pads(1)])
}

test_menstruation_no_supplies if {
	hygiene.finding.menstruation == {{
		"at": "household",
		"because": ["people/ana", "people/mia"],
		"text": "Ana and Mia have no period supplies",
	}} with input as people([woman(660), mia], [t.offer("soap", {})])
}

test_menstruation_not_for[who] if {
	some who, more in {
		"younger": woman(131),
		"older": woman(661),
		"male": {"sex": "male"},
		"pregnant": object.union(woman(480), {"pregnant": true}),
		"sex not written": {"sex": ""},
		"age not written": object.union(woman(480), {"age_known": false}),
	}
	count(hygiene.finding.menstruation) == 0 with input as people([more], [])
}

masks(ages, list, hazards) := {
	"household": t.household({}),
	"plan": t.plan({"hazards": hazards}),
	"people": [t.person({"id": sprintf("people/%d", [months]), "name": sprintf("P%d", [months]), "packs": [], "age_months": months}) | some months in ages],
	"capabilities": [t.capability("breathe", list)],
}

test_masks_at_the_limit if {
	count(hygiene.finding.masks) == 0 with input as masks([480, 84, 83], [t.offer("n95", {"count": 2})], ["fire"])
}

test_masks_of_one_missing if {
	hygiene.finding.masks == {{
		"at": "people/84",
		"because": ["people/84"],
		"text": "P84 has no filtering mask",
		"level": "note",
	}} with input as masks([480, 84], [t.offer("n95", {"whose": "people/480"})], ["heat"])
}

test_masks_by_danger[hazard] if {
	some hazard, level in {"fire": "warning", "industrial": "warning", "volcano": "warning", "flood": "note"}
	hygiene.finding.masks == {{
		"at": "household",
		"because": ["people/480", "people/90"],
		"text": "P480 and P90 have no filtering mask",
		"level": level,
	}} with input as masks([480, 90], [], [hazard])
}

test_masks_where_no_age_is_written if {
	facts := object.union(masks([], [], []), {"people": [t.person({"age_known": false, "age_months": 0})]})
	count(hygiene.finding.masks) == 1 with input as facts
}
