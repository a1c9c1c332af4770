package rules.base.medication_test

import data.lib.testing_test as t
import data.rules.base.medication

facts(more) := {
	"people": [{"id": "people/ana", "name": "Ana"}, {"id": "people/ben", "name": "Ben"}],
	"medications": [object.union(
		{
			"id": "people/ana/medications/thyroid",
			"name": "Thyroid tablets",
			"person": "people/ana",
			"as_needed": false,
			"per_day_milli": 1500,
			"doses_milli": 10500,
			"usable_milli": 10500,
			"items": ["packs/rust/tablets"],
		},
		more,
	)],
}

test_days_at_the_limit if {
	count(medication.finding.days) == 0 with input as facts({})
}

test_days_one_too_few if {
	medication.finding.days == {{
		"at": "people/ana/medications/thyroid",
		"because": ["packs/rust/tablets"],
		"text": "Thyroid tablets (Ana): usable doses packed 10.499; 7 days at 1.5 a day take 10.5: 0.001 too few",
		"lack": 1,
	}} with input as facts({"doses_milli": 10499, "usable_milli": 10499})
}

test_days_counts_no_expired_doses if {
	medication.finding.days == {{
		"at": "people/ana/medications/thyroid",
		"because": ["packs/rust/tablets"],
		"text": "Thyroid tablets (Ana): usable doses packed 6; 7 days at 1.5 a day take 10.5: 4.5 too few; past their date: 14",
		"lack": 4500,
	}} with input as facts({"doses_milli": 20000, "usable_milli": 6000})
}

test_days_names_the_least_expired_dose if {
	some f in medication.finding.days with input as facts({"doses_milli": 10500, "usable_milli": 10499})
	endswith(f.text, "0.001 too few; past their date: 0.001")
}

test_days_not_asked_when_taken_as_needed if {
	count(medication.finding.days) == 0 with input as facts({"as_needed": true, "doses_milli": 0, "usable_milli": 0})
}

dated(medicine, left) := {"dates": [{
	"id": "packs/rust/tablets/expires",
	"name": "Tablets",
	"kind": "expires",
	"medicine": medicine,
	"on": "2026-10-31",
	"days_left": left,
}]}

test_expired_on_its_last_day if {
	count(medication.finding.expired) == 0 with input as dated(true, 0)
}

test_expired_a_day_later if {
	medication.finding.expired == {{
		"at": "packs/rust/tablets/expires",
		"text": "Tablets: good until 2026-10-31; that was 1 day ago",
	}} with input as dated(true, -1)
}

test_expired_not_asked_of_other_things if {
	count(medication.finding.expired) == 0 with input as dated(false, -1)
}

mia(more) := object.union({"id": "people/mia", "name": "Mia", "key": "mia", "age_months": 108, "adult": false}, more)

owned(more) := {"people": [t.person({})], "medications": [t.medication(more)]}

test_own_days_at_the_limit if {
	count(medication.finding.own_days) == 0 with input as owned({"per_day_milli": 1500, "own_usable_milli": 4500})
}

test_own_days_one_too_few if {
	medication.finding.own_days == {{
		"at": "people/ana/medications/thyroid",
		"because": ["packs/rust/tablets"],
		"text": "thyroid tablets (Ana): usable doses with Ana 4.499; 3 days at 1.5 a day take 4.5: 0.001 too few",
	}} with input as owned({"per_day_milli": 1500, "own_usable_milli": 4499})
}

test_own_days_not_asked[why] if {
	some why, more in {
		"taken as needed": {"as_needed": true},
		"no pack": {"person_packs": 0},
	}
	count(medication.finding.own_days) == 0 with input as owned(object.union({"own_usable_milli": 0}, more))
}

test_own_days_asked_of_one_pack if {
	count(medication.finding.own_days) == 1 with input as owned({"person_packs": 1, "own_usable_milli": 0})
}

# Beside an owner of a given age, a child of nine.
aged(more) := {
	"people": [t.person(more), t.person(mia({}))],
	"medications": [t.medication({"own_usable_milli": 0})],
}

test_own_days_not_asked_of_young_children if {
	count(medication.finding.own_days) == 0 with input as aged({"age_months": 143})
}

test_own_days_asked[why] if {
	some why, more in {
		"from twelve years on": {"age_months": 144},
		"of unknown age": {"age_known": false, "age_months": 0},
	}
	count(medication.finding.own_days) == 1 with input as aged(more)
}

severe(allergy, med) := {
	"allergies": [t.allergy(object.union({"severe": true, "medication": "people/ana/medications/pen"}, allergy))],
	"medications": [
		t.medication({"own_usable_milli": 0, "usable_milli": 0}),
		t.medication(object.union({"id": "people/ana/medications/pen", "name": "pen", "items": ["packs/rust/pen"]}, med)),
	],
}

test_allergy_twice_at_the_limit if {
	count(medication.finding.allergy_twice) == 0 with input as severe({}, {"own_usable_milli": 2000, "usable_milli": 0})
}

test_allergy_twice_one_too_few if {
	medication.finding.allergy_twice == {{
		"at": "people/ana/allergies/nuts",
		"because": ["packs/rust/pen"],
		"text": "Ana's severe allergy (nuts): usable doses of pen with Ana 1.999; 2 asked: 0.001 too few",
	}} with input as severe({}, {"own_usable_milli": 1999, "usable_milli": 9000})
}

test_allergy_twice_without_a_pack_at_the_limit if {
	count(medication.finding.allergy_twice) == 0 with input as severe({}, {"person_packs": 0, "own_usable_milli": 0, "people_usable_milli": 2000})
}

test_allergy_twice_without_a_pack_one_too_few if {
	medication.finding.allergy_twice == {{
		"at": "people/ana/allergies/nuts",
		"because": ["packs/rust/pen"],
		"text": "Ana's severe allergy (nuts): usable doses of pen with people 1.999; 2 asked: 0.001 too few",
	}} with input as severe({}, {"person_packs": 0, "own_usable_milli": 0, "people_usable_milli": 1999})
}

test_allergy_twice_not_asked_of_mild_allergies if {
	count(medication.finding.allergy_twice) == 0 with input as severe({"severe": false}, {"own_usable_milli": 0})
}

test_allergy_twice_not_asked_without_a_medication if {
	count(medication.finding.allergy_twice) == 0 with input as severe({"medication": ""}, {"own_usable_milli": 0})
}

test_allergy_named_present if {
	count(medication.finding.allergy_named) == 0 with input as severe({}, {})
}

test_allergy_named_missing if {
	medication.finding.allergy_named == {{
		"at": "people/ana/allergies/nuts",
		"text": "Ana's severe allergy (nuts) names no medication; 1 is asked: 1 too few",
	}} with input as severe({"medication": ""}, {})
}

test_allergy_named_asked_of_each_kind_but_medicine if {
	every to in ["food", "insect", "contact", "other"] {
		count(medication.finding.allergy_named) == 1 with input as severe({"medication": "", "to": to}, {})
	}
	count(medication.finding.allergy_named) == 0 with input as severe({"medication": "", "to": "medicine"}, {})
}

test_allergy_named_not_asked_of_mild_allergies if {
	count(medication.finding.allergy_named) == 0 with input as severe({"severe": false, "medication": ""}, {})
}

cold(more) := {"medicines": [t.medicine(object.union({"cold_chain": true}, more))]}

test_cold_chain_cannot_be_counted if {
	medication.finding.cold_chain == {{
		"at": "packs/rust/tablets",
		"text": "Tablets must be kept cold and is packed, but no day is written on which it left the cold: its days cannot be counted",
	}} with input as cold({})
}

test_cold_chain_fine[why] if {
	some why, more in {
		"in the cold to the last minute": {"last_minute": true},
		"the day is written": {"out_of_cold_known": true},
		"needs no cold": {"cold_chain": false},
	}
	count(medication.finding.cold_chain) == 0 with input as cold(more)
}

test_dated_present if {
	count(medication.finding.dated) == 0 with input as {"medicines": [t.medicine({})]}
}

test_dated_missing if {
	medication.finding.dated == {{
		"at": "packs/rust/tablets",
		"text": "Tablets has no last day written",
	}} with input as {"medicines": [t.medicine({"dated": false})]}
}

ends(minutes, more) := {
	"plan": t.plan({"minutes": minutes}),
	"dates": [t.date(object.union({"id": "packs/rust/tablets/expires", "name": "Tablets", "medicine": true, "on": "2026-11-03"}, more))],
}

test_within_plan_at_the_limit if {
	count(medication.finding.within_plan) == 0 with input as ends(2880, {"days_left": 2})
}

test_within_plan_one_too_few if {
	medication.finding.within_plan == {{
		"at": "packs/rust/tablets/expires",
		"text": "Tablets: good until 2026-11-03; 2 days left, 3 days asked: 1 day too few",
	}} with input as ends(2881, {"days_left": 2})
}

test_within_plan_on_the_last_day if {
	count(medication.finding.within_plan) == 1 with input as ends(2880, {"days_left": 0})
}

test_within_plan_not_asked[why] if {
	some why, more in {
		"past already": {"days_left": -1},
		"day of exchange": {"kind": "rotate"},
		"no medicine": {"medicine": false},
	}
	count(medication.finding.within_plan) == 0 with input as ends(4320, object.union({"days_left": 0}, more))
}

taken(medications, documents) := {
	"household": t.household({}),
	"medications": [t.medication(m) | some m in medications],
	"papers": [t.paper({"documents": d}) | some d in documents],
}

test_prescription_copy_present if {
	count(medication.finding.prescription_copy) == 0 with input as taken([{}], [["identity"], ["identity", "prescription"]])
}

test_prescription_copy_missing if {
	medication.finding.prescription_copy == {{
		"at": "household",
		"because": ["people/ben/medications/heart", "people/ana/medications/thyroid", "people/ana/medications/iron"],
		"text": "medication is taken daily (Ana and Ben) and no paper holds a prescription; 1 is asked: 1 too few",
	}} with input as taken(
		[
			{"id": "people/ben/medications/heart", "person_name": "Ben"},
			{},
			{"id": "people/ana/medications/iron"},
			{"id": "people/cleo/medications/inhaler", "person_name": "Cleo", "as_needed": true},
		],
		[["medical"]],
	)
}

test_prescription_copy_asked_of_one_medication if {
	count(medication.finding.prescription_copy) == 1 with input as taken([{}], [])
}

test_prescription_copy_not_asked_when_taken_as_needed if {
	count(medication.finding.prescription_copy) == 0 with input as taken([{"as_needed": true}], [])
}

seeing(person, offers) := {
	"people": [t.person(object.union({"glasses": true}, person))],
	"capabilities": [t.capability("see", [t.offer("glasses", o) | some o in offers])],
}

test_spare_glasses_at_the_limit[why] if {
	some why, offer in {
		"own, in another's pack": {"owner": "people/ana", "carrier": "people/ben"},
		"nobody's, in an own pack": {},
	}
	count(medication.finding.spare_glasses) == 0 with input as seeing({}, [offer])
}

test_spare_glasses_one_too_few if {
	medication.finding.spare_glasses == {{
		"at": "people/ana/glasses",
		"because": [],
		"text": "Ana needs glasses and has 0 spare pairs in a pack; 1 asked: 1 too few",
	}} with input as seeing({}, [
		{"pack": "", "compartment": "", "person": "people/ana", "owner": "people/ana"},
		{"owner": "people/ben"},
		{"carrier": "people/ben"},
	])
}

test_spare_glasses_named_in_a_finding if {
	own := [{"area": "medication", "name": "glasses", "list": false, "value": 3, "values": []}]
	facts := object.union(seeing({}, [{"count": 2}]), {"limits": own})
	medication.finding.spare_glasses == {{
		"at": "people/ana/glasses",
		"because": ["packs/rust/glasses"],
		"text": "Ana needs glasses and has 2 spare pairs in a pack; 3 asked: 1 too few",
	}} with input as facts
}

test_spare_glasses_not_asked_of_those_who_see if {
	count(medication.finding.spare_glasses) == 0 with input as seeing({"glasses": false}, [])
}

# Tablets of Ana, borne by a child.
reached(child, medicine) := {
	"people": [t.person({}), t.person(mia(child))],
	"medications": [t.medication({}), t.medication({"id": "people/ana/medications/pen", "as_needed": true})],
	"medicines": [t.medicine(object.union({"id": "packs/kite/tablets", "pack": "packs/kite", "carrier": "people/mia"}, medicine))],
	"allergies": [t.allergy({"medication": "people/ana/medications/drops"})],
}

test_child_reach_one_too_young if {
	medication.finding.child_reach == {{
		"at": "packs/kite/tablets",
		"text": "Tablets is with Mia, who is 11 years and 11 months old; 12 years are asked: 1 month too few",
	}} with input as reached({"age_months": 143}, {})
}

test_child_reach_of_another_persons_medicines[why] if {
	some why, id in {
		"taken as needed": "people/ana/medications/pen",
		"named at an allergy": "people/ana/medications/drops",
	}
	count(medication.finding.child_reach) == 1 with input as reached({}, {"medication": id})
}

test_child_reach_fine[why] if {
	some why, case in {
		"at the limit": reached({"age_months": 144}, {}),
		"of unknown age": reached({"age_known": false, "age_months": 0}, {}),
		"with an adult": reached({}, {"carrier": "people/ana"}),
	}
	count(medication.finding.child_reach) == 0 with input as case
}

# Mia's own medicine, with Mia.
own(medications, allergies) := object.union(
	reached({}, {"person": "people/mia", "medication": "people/mia/medications/drops"}),
	{
		"medications": [t.medication(object.union({"person": "people/mia"}, m)) | some m in medications],
		"allergies": [t.allergy(object.union({"person": "people/mia"}, a)) | some a in allergies],
	},
)

test_child_reach_of_the_childs_own_daily_medicine if {
	facts := own(
		[
			{"id": "people/mia/medications/drops"},
			{"id": "people/mia/medications/pen", "as_needed": true},
		],
		[{"medication": "people/mia/medications/pen"}],
	)
	count(medication.finding.child_reach) == 1 with input as facts
}

test_child_reach_not_asked_of_the_childs_own_for_emergencies[why] if {
	some why, case in {
		"taken as needed": own([{"id": "people/mia/medications/drops", "as_needed": true}], []),
		"named at an allergy": own([{"id": "people/mia/medications/drops"}], [{"medication": "people/mia/medications/drops"}]),
	}
	count(medication.finding.child_reach) == 0 with input as case
}

relief(child, content) := {"people": [t.person(mia(object.union(
	{"alone": t.supply({"first_aid": [{"kind": "plasters", "count": 8}, object.union({"kind": "painRelief", "count": 1}, content)]})},
	child,
)))]}

test_child_reach_of_pain_relief if {
	medication.finding.child_reach == {{
		"at": "people/mia",
		"text": "pain relief (1) is with Mia, who is 9 years old; 12 years are asked: 3 years too few",
	}} with input as relief({}, {})
}

test_child_reach_not_asked_of_pain_relief[why] if {
	some why, case in {
		"none there": relief({}, {"count": 0}),
		"other contents": relief({}, {"kind": "tape"}),
		"with somebody older": relief({"age_months": 144}, {}),
	}
	count(medication.finding.child_reach) == 0 with input as case
}

test_when_needed_there if {
	count(medication.finding.when_needed) == 0 with input as {"medications": [t.medication({"as_needed": true, "people_usable_milli": 1})]}
}

test_when_needed_missing if {
	medication.finding.when_needed == {{
		"at": "people/ana/medications/thyroid",
		"because": ["packs/rust/tablets"],
		"text": "thyroid tablets (Ana) is taken when needed, and no usable dose of it is with people",
	}} with input as {"medications": [t.medication({"as_needed": true, "people_usable_milli": 0})]}
}

test_when_needed_not_asked_of_what_is_taken_daily if {
	count(medication.finding.when_needed) == 0 with input as {"medications": [t.medication({"people_usable_milli": 0})]}
}

test_cold_life_missing if {
	medication.finding.cold_life == {{
		"at": "people/ana/medications/thyroid",
		"text": "thyroid tablets (Ana) must be kept cold, and how long its label allows it out of the cold is not written",
	}} with input as {"medications": [t.medication({"cold_chain": true})]}
}

test_cold_life_not_asked if {
	count(medication.finding.cold_life) == 0 with input as {"medications": [t.medication({"cold_chain": true, "cold_life_known": true}), t.medication({})]}
}

frosty(plan, medicine) := {"plan": t.plan(object.union({"night_mc": 0}, plan)), "medicines": [t.medicine(object.union({"cold_chain": true}, medicine))]}

test_frost_at_the_limit if {
	medication.finding.frost == {{
		"at": "packs/rust/tablets",
		"text": "Tablets must not freeze, nights are 0 °C, and it is in a pack",
	}} with input as frosty({}, {})
}

test_frost_not_asked[why] if {
	some why, case in {
		"no frost": frosty({"night_mc": 1}, {}),
		"no season": frosty({"season_known": false}, {}),
		"on the body": frosty({}, {"reach": "on-body"}),
		"needs no cold": frosty({}, {"cold_chain": false}),
	}
	count(medication.finding.frost) == 0 with input as case
}

test_child_reach_of_a_toddlers_own_when_needed if {
	facts := own([{"id": "people/mia/medications/drops", "as_needed": true}], [])
	toddler := {"people": [object.union(p, {"age_months": 83}) | some p in facts.people; p.id == "people/mia"]}
	schoolchild := {"people": [object.union(p, {"age_months": 84}) | some p in facts.people; p.id == "people/mia"]}
	count(medication.finding.child_reach) == 1 with input as object.union(facts, toddler)
	count(medication.finding.child_reach) == 0 with input as object.union(facts, schoolchild)
}

kid(months) := {"people": [t.person({"age_months": months})], "medications": [t.medication({"own_usable_milli": 0})]}

test_own_days_age_of_the_owner if {
	count(medication.finding.own_days) == 1 with input as kid(144)
	count(medication.finding.own_days) == 0 with input as kid(143)
}
