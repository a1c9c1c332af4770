package rules.base.hygiene_test

import data.lib.testing_test as t
import data.rules.base.hygiene

test_hands_each_means if {
	every means in ["soap", "hand-gel", "wipes"] {
		count(hygiene.finding.hands) == 0 with input as {"packs": [t.pack_with([t.can("hygiene", ["toothbrush", means])])]}
	}
}

test_hands_missing if {
	every cans in [[], [t.can("hygiene", ["toilet-paper", "toothbrush"])]] {
		hygiene.finding.hands == {{
			"at": "packs/rust",
			"text": "Rust has none of these to clean hands with: soap, hand-gel, wipes; 1 is asked, 1 too few",
		}} with input as {"packs": [t.pack_with(cans)]}
	}
}

test_hands_not_asked_of_animals if {
	count(hygiene.finding.hands) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}

offers(list) := {
	"household": t.household({"plan_min": 1440}),
	"plan": t.plan({"settings": ["town"]}),
	"people": [],
	"capabilities": [t.capability("hygiene", list)],
}

test_toilet_each_means if {
	every means in ["toilet-paper", "toilet-bag"] {
		count(hygiene.finding.toilet) == 0 with input as offers([t.offer(means, {})])
	}
}

test_toilet_missing if {
	every list in [[], [t.offer("soap", {})]] {
		hygiene.finding.toilet == {{
			"at": "household",
			"text": "the household has none of these for the toilet: toilet-paper, toilet-bag; 1 is asked, 1 too few",
		}} with input as offers(list)
	}
}

# 2 people for 24 h at 5 uses.
# 7.5 uses a person are 8 for one, rounded up.
people(list, offered) := object.union(offers(offered), {"people": [t.person(p) | some p in list]})

woman(months) := {"sex": "female", "age_months": months}

test_menstruation_supplies_there if {
	count(hygiene.finding.menstruation) == 0 with input as people([woman(480)], [t.offer("menstrual", {})])
}

test_menstruation_no_supplies if {
	hygiene.finding.menstruation == {{
		"at": "household",
		"because": ["people/ana", "people/mia"],
		"text": "the household has no period supplies; 2 people may need them: Ana and Mia",
	}} with input as people(
		[woman(660), object.union(woman(120), {"id": "people/mia", "name": "Mia"})],
		[t.offer("soap", {})],
	)
}

test_menstruation_not_asked_outside_the_ages if {
	count(hygiene.finding.menstruation) == 0 with input as people([woman(119), woman(661)], [])
}

test_menstruation_not_asked_of_others if {
	count(hygiene.finding.menstruation) == 0 with input as people([{"sex": "male"}, {"sex": ""}], [])
}

test_menstruation_not_asked_where_no_age_is_written if {
	facts := people([object.union(woman(480), {"age_known": false})], [])
	count(hygiene.finding.menstruation) == 0 with input as facts
}

masks(ages, n) := {
	"household": t.household({}),
	"people": [t.person({"age_months": months}) | some months in ages],
	"capabilities": [t.capability("breathe", [t.offer("n95", {"count": n})])],
}

test_masks_at_the_limit if {
	count(hygiene.finding.masks) == 0 with input as masks([480, 72], 2)
}

test_masks_one_too_few if {
	hygiene.finding.masks == {{
		"at": "household",
		"because": ["packs/rust/n95"],
		"text": "the household has 1 filtering mask for 2 people of 6 years or more: 1 too few",
	}} with input as masks([480, 72], 1)
}

test_masks_none if {
	hygiene.finding.masks == {{
		"at": "household",
		"because": [],
		"text": "the household has 0 filtering masks for 1 person of 6 years or more: 1 too few",
	}} with input as {"household": t.household({}), "people": [t.person({})], "capabilities": []}
}

test_masks_not_asked_of_small_children if {
	count(hygiene.finding.masks) == 0 with input as masks([480, 71], 1)
}

test_masks_asked_where_no_age_is_written if {
	facts := object.union(masks([], 0), {"people": [t.person({"age_known": false, "age_months": 0})]})
	count(hygiene.finding.masks) == 1 with input as facts
}
