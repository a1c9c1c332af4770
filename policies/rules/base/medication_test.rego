package rules.base.medication_test

import data.lib.testing_test as t
import data.rules.base.medication

# Ana's tablets, three in two days, as the household has them.
facts(more) := {
	"plan": t.plan({}),
	"medications": [t.medication(object.union({"per_day_milli": 1500, "doses_milli": 10500, "usable_milli": 10500}, more))],
	"medicines": [t.medicine({"id": "packs/rust/old", "usable": false}), t.medicine({})],
}

counted(milli) := {"doses_milli": milli, "usable_milli": milli}

test_days_at_the_limit if {
	count(medication.finding.days) == 0 with input as facts({})
}

test_days_one_too_few if {
	medication.finding.days == {{
		"at": "packs/rust/tablets",
		"because": ["people/ana/medications/thyroid", "packs/rust/tablets"],
		"text": "Ana has 10.499 usable doses of thyroid tablets and needs 10.5 (1.5 a day for 7 days): 0.001 short",
		"lack": 1,
		"level": "warning",
	}} with input as facts(counted(10499))
}

# An error from what the plan takes on, which is three days here as well.
test_days_level[why] if {
	some why, case in {
		"three days": {"milli": 4500, "minutes": 0, "level": "warning"},
		"less than three days": {"milli": 4499, "minutes": 0, "level": "error"},
		"the plan": {"milli": 6000, "minutes": 5760, "level": "warning"},
		"less than the plan": {"milli": 5999, "minutes": 5760, "level": "error"},
	}
	{f.level | some f in medication.finding.days} == {case.level} with input as object.union(facts(counted(case.milli)), {"plan": t.plan({"minutes": case.minutes})})
}

long_plan(milli) := object.union(facts(counted(milli)), {"plan": t.plan({"minutes": 10081})})

test_days_of_a_long_plan if {
	count(medication.finding.days) == 0 with input as long_plan(10502)
	some f in medication.finding.days with input as long_plan(10501)
	f.text == "Ana has 10.501 usable doses of thyroid tablets and needs 10.502 (1.5 a day for the plan of 168 h 1 min): 0.001 short"
	f.level == "error"
}

test_days_names_a_week_where_the_plan_is_one if {
	some f in medication.finding.days with input as object.union(facts(counted(0)), {"plan": t.plan({"minutes": 10080})})
	f.text == "Ana has no usable dose of thyroid tablets and needs 10.5 (1.5 a day for 7 days): 10.5 short"
}

test_days_counts_no_expired_doses if {
	some f in medication.finding.days with input as facts({"doses_milli": 10499, "usable_milli": 1000})
	f.text == "Ana has 1 usable dose of thyroid tablets and needs 10.5 (1.5 a day for 7 days): 9.5 short; 9.499 more past their date"
	f.lack == 9500
}

test_days_left_to_the_date_that_is_past if {
	count(medication.finding.days) == 0 with input as facts({"doses_milli": 10500, "usable_milli": 0})
}

test_days_names_the_least_expired_dose if {
	some f in medication.finding.days with input as facts({"doses_milli": 10499, "usable_milli": 10498})
	endswith(f.text, "0.002 short; 0.001 more past their date")
}

test_days_at_the_medication_where_nothing_is_usable if {
	bare := object.union(facts(counted(0)), {"medicines": [t.medicine({"usable": false}), t.medicine({"medication": "people/ben/medications/iron"})]})
	{f.at | some f in medication.finding.days} == {"people/ana/medications/thyroid"} with input as bare
}

test_days_not_asked_when_taken_as_needed if {
	count(medication.finding.days) == 0 with input as facts({"as_needed": true, "doses_milli": 0, "usable_milli": 0})
}

past(date, med) := {
	"dates": [t.date(object.union({"id": "packs/rust/tablets/expires", "item": "packs/rust/tablets", "name": "Tablets", "medicine": true, "on": "2026-10-31", "days_left": -1}, date))],
	"medicines": [t.medicine({"id": "packs/rust/more", "medication": "people/ana/medications/none"}), t.medicine({})],
	"medications": [t.medication({"id": "people/ana/medications/none"}), t.medication(med)],
	"allergies": [],
}

test_expired_on_its_last_day if {
	count(medication.finding.expired) == 0 with input as past({"days_left": 0}, {})
}

test_expired_a_day_later if {
	medication.finding.expired == {{
		"at": "packs/rust/tablets/expires",
		"text": "Tablets: good until 2026-10-31, 1 day ago",
		"level": "error",
	}} with input as past({}, {})
}

test_expired_level[why] if {
	some why, case in {
		"when needed": {"date": {}, "med": {"as_needed": true}, "level": "warning"},
		"at hand at once": {"date": {}, "med": {"as_needed": true, "rescue_known": true, "rescue": true}, "level": "error"},
		"the family's own day": {"date": {"kind": "rotate"}, "med": {}, "level": "warning"},
		"another item": {"date": {"item": "packs/rust/none"}, "med": {}, "level": "warning"},
	}
	{f.level | some f in medication.finding.expired} == {case.level} with input as past(case.date, case.med)
}

test_expired_not_asked_of_other_things if {
	count(medication.finding.expired) == 0 with input as past({"medicine": false}, {})
}

mia(more) := object.union({"id": "people/mia", "name": "Mia", "key": "mia", "age_months": 108, "adult": false}, more)

# What Ana carries, and what Ben carries, of Ana's tablets.
owned(own, others, more) := object.union(
	{
		"plan": t.plan({}),
		"people": [t.person({}), t.person({"id": "people/ben", "name": "Ben", "key": "ben"})],
		"medications": [t.medication({"per_day_milli": 1500, "usable_milli": own + others, "doses_milli": own + others})],
		"medicines": [
			t.medicine({"doses_milli": own}),
			t.medicine({"id": "packs/rust/old", "usable": false, "doses_milli": 9000}),
			t.medicine({"id": "packs/rust/iron", "medication": "people/ana/medications/iron", "doses_milli": 9000}),
			t.medicine({"id": "packs/sage/old", "usable": false, "carrier": "people/ben", "doses_milli": 9000}),
			t.medicine({"id": "packs/sage/iron", "carrier": "people/ben", "medication": "people/ana/medications/iron", "doses_milli": 9000}),
			t.medicine({"id": "packs/sage/tablets", "carrier": "people/ben", "doses_milli": others}),
		],
	},
	more,
)

who(more) := {"people": [t.person(more), t.person({"id": "people/ben", "name": "Ben", "key": "ben"})]}

test_own_days_at_the_limit if {
	count(medication.finding.own_days) == 0 with input as owned(4500, 9000, {})
	count(medication.finding.own_days) == 0 with input as owned(20000, 0, {})
}

test_own_days_one_too_few if {
	medication.finding.own_days == {{
		"at": "packs/sage/tablets",
		"because": ["people/ana/medications/thyroid", "packs/rust/tablets"],
		"text": "Ana carries 4.499 usable doses of thyroid tablets, and 4.5 are needed (1.5 a day for 3 days); others carry the rest",
	}} with input as owned(4499, 9000, {})
}

# The household has as much as is needed, but for the week.
test_own_days_left_to_a_short_household if {
	count(medication.finding.own_days) == 0 with input as owned(4499, 6000, {})
	count(medication.finding.own_days) == 1 with input as owned(4499, 6001, {})
}

test_own_days_left_to_the_date_that_is_past if {
	late := {"medications": [t.medication({"per_day_milli": 1500, "usable_milli": 4499, "doses_milli": 20000})]}
	count(medication.finding.own_days) == 0 with input as owned(0, 4499, late)
	enough := {"medications": [t.medication({"per_day_milli": 1500, "usable_milli": 4500, "doses_milli": 20000})]}
	count(medication.finding.own_days) == 1 with input as owned(0, 4500, enough)
}

test_own_days_not_asked_when_taken_as_needed if {
	count(medication.finding.own_days) == 0 with input as owned(0, 20000, {"medications": [t.medication({"as_needed": true})]})
}

test_own_days_left_to_the_rule_of_rescue_medicine if {
	rescue := {"allergies": [], "medications": [t.medication({"per_day_milli": 1500, "usable_milli": 20000, "doses_milli": 20000, "rescue_known": true, "rescue": true})]}
	count(medication.finding.own_days) == 0 with input as owned(0, 20000, rescue)
	count(medication.finding.own_days) == 1 with input as owned(1, 20000, rescue)
}

test_own_days_of_a_plan_of_one_day if {
	day := {"plan": t.plan({"minutes": 1440})}
	count(medication.finding.own_days) == 0 with input as owned(1500, 9000, day)
	some f in medication.finding.own_days with input as owned(1499, 10000, day)
	f.text == "Ana carries 1.499 usable doses of thyroid tablets, and 1.5 are needed (1.5 a day for 1 day); others carry the rest"
	one := {"medications": [t.medication({"per_day_milli": 1000, "usable_milli": 10000, "doses_milli": 10000})]}
	some g in medication.finding.own_days with input as owned(0, 10000, object.union(day, one))
	g.text == "Ana carries no usable dose of thyroid tablets, and 1 is needed (1 a day for 1 day); others carry the rest"
	count(medication.finding.own_days) == 1 with input as owned(1500, 9000, {"plan": t.plan({"minutes": 1441})})
	count(medication.finding.own_days) == 1 with input as owned(1500, 9000, {"plan": t.plan({"minutes": 0, "minutes_known": false})})
}

test_own_days_age_of_the_owner if {
	count(medication.finding.own_days) == 1 with input as owned(0, 20000, who({"age_months": 144}))
	count(medication.finding.own_days) == 0 with input as owned(0, 20000, who({"age_months": 143}))
}

test_own_days_of_a_child_beside_somebody if {
	child := {"age_months": 143, "with": ["people/cleo"]}
	some f in medication.finding.own_days with input as owned(0, 20000, who(child))
	f.text == "Ana and the people beside them carry no usable dose of thyroid tablets, and 4.5 are needed (1.5 a day for 3 days); others carry the rest"
	count(medication.finding.own_days) == 0 with input as owned(0, 20000, who(object.union(child, {"with": ["people/ben"]})))
}

# Ana's pens: her own, and Ben's.
severe(own, others, allergy, person) := {
	"people": [t.person(person), t.person({"id": "people/ben", "name": "Ben", "key": "ben"})],
	"allergies": [t.allergy({"key": "dust"}), t.allergy(object.union({"severe": true, "medication": "people/ana/medications/pen"}, allergy))],
	"medications": [
		t.medication({}),
		t.medication({"id": "people/ana/medications/pen", "name": "pen", "as_needed": true, "usable_milli": own + others, "doses_milli": own + others, "items": ["packs/rust/pen"]}),
	],
	"medicines": array.concat(
		[t.medicine({"id": "packs/rust/pen", "medication": "people/ana/medications/pen", "doses_milli": own}) | own > 0],
		[t.medicine({"id": "packs/sage/pen", "medication": "people/ana/medications/pen", "carrier": "people/ben", "doses_milli": others}) | others > 0],
	),
}

test_allergy_twice_at_the_limit if {
	count(medication.finding.allergy_twice) == 0 with input as severe(2000, 0, {}, {})
}

test_allergy_twice_one_too_few if {
	medication.finding.allergy_twice == {{
		"at": "packs/sage/pen",
		"because": ["people/ana/allergies/nuts", "packs/rust/pen"],
		"text": "Ana needs 2 doses of pen at hand for a severe allergy (nuts) and has 1.999 usable doses; 9 more elsewhere",
	}} with input as severe(1999, 9000, {}, {})
}

test_allergy_twice_names_the_least_elsewhere if {
	some f in medication.finding.allergy_twice with input as severe(1000, 1, {}, {})
	endswith(f.text, "and has 1 usable dose; 0.001 more elsewhere")
}

test_allergy_twice_of_an_adult_beside_somebody if {
	count(medication.finding.allergy_twice) == 0 with input as severe(2000, 0, {}, {"with": ["people/ben"]})
	count(medication.finding.allergy_twice) == 1 with input as severe(0, 2000, {}, {"with": ["people/ben"]})
}

test_allergy_twice_stands_at_the_pen_to_add_to if {
	some f in medication.finding.allergy_twice with input as severe(1000, 0, {}, {})
	f.at == "packs/rust/pen"
	f.text == "Ana needs 2 doses of pen at hand for a severe allergy (nuts) and has 1 usable dose"
}

test_allergy_twice_with_none_at_all if {
	some f in medication.finding.allergy_twice with input as severe(0, 0, {}, {})
	f.at == "people/ana/allergies/nuts"
	f.text == "Ana needs 2 doses of pen at hand for a severe allergy (nuts) and has no usable dose"
}

test_allergy_twice_kept_by_whoever_is_beside[why] if {
	some why, person in {
		"a young child": {"age_months": 83},
		"a young child beside Ben": {"age_months": 83, "with": ["people/ben"]},
		"a dependant": {"carries": false},
		"carried": {"moves": "carried"},
		"without memory": {"conditions": ["memory"]},
	}
	count(medication.finding.allergy_twice) == 0 with input as severe(0, 2000, {}, person)
}

test_allergy_twice_kept_by_nobody_else[why] if {
	some why, person in {
		"a schoolchild": {"age_months": 84},
		"of unknown age": {"age_months": 0, "age_known": false},
		"a young child beside somebody else": {"age_months": 83, "with": ["people/cleo"]},
		"with another condition": {"conditions": ["heart"]},
		"on crutches": {"moves": "crutches"},
	}
	count(medication.finding.allergy_twice) == 1 with input as severe(0, 2000, {}, person)
}

test_allergy_twice_not_asked_of_mild_allergies if {
	count(medication.finding.allergy_twice) == 0 with input as severe(0, 0, {"severe": false}, {})
}

test_allergy_twice_not_asked_without_a_medication if {
	count(medication.finding.allergy_twice) == 0 with input as severe(0, 0, {"medication": ""}, {})
}

test_allergy_named_present if {
	count(medication.finding.allergy_named) == 0 with input as severe(0, 0, {}, {})
}

test_allergy_named_missing if {
	medication.finding.allergy_named == {{
		"at": "people/ana/allergies/nuts",
		"text": "no medication is named for a severe allergy of Ana (nuts)",
	}} with input as severe(0, 0, {"medication": ""}, {})
}

test_allergy_named_asked_of_each_kind_but_medicine if {
	every to in ["food", "insect", "contact", "other"] {
		count(medication.finding.allergy_named) == 1 with input as severe(0, 0, {"medication": "", "to": to}, {})
	}
	count(medication.finding.allergy_named) == 0 with input as severe(0, 0, {"medication": "", "to": "medicine"}, {})
}

test_allergy_named_not_asked_of_mild_allergies if {
	count(medication.finding.allergy_named) == 0 with input as severe(0, 0, {"severe": false, "medication": ""}, {})
}

test_rescue_on_owner_of_the_medication_named_alone if {
	facts := severe(2000, 0, {}, {})
	daily := {"medicines": array.concat(facts.medicines, [t.medicine({"carrier": "people/ben"})])}
	count(medication.finding.rescue_on_owner) == 0 with input as object.union(facts, daily)
}

test_rescue_on_owner_by_each_word if {
	every word in [
		"inhaler",
		"asthmaspray",
		"notfallspray",
		"inhalateur",
		"inhalador",
		"salbutamol",
		"albuterol",
		"adrenalin",
		"epinephrine",
		"auto-injector",
		"nitroglycerin",
		"glyceryl trinitrate",
		"nitrospray",
		"glucagon",
		"glukagon",
		"midazolam",
		"吸入",
		"アドレナリン",
	] {
		count(medication.finding.rescue_on_owner) == 1 with input as inhaler([bens], {"name": sprintf("my %s here", [word])}, {})
	}
}

# Ana's inhaler: each supply as given.
inhaler(supplies, med, person) := {
	"people": [t.person(person), t.person({"id": "people/ben", "name": "Ben", "key": "ben"})],
	"allergies": [t.allergy({"medication": "people/ana/medications/spray"})],
	"medications": [t.medication(object.union({"id": "people/ana/medications/spray", "name": "Relief INHALER", "as_needed": true}, med))],
	"medicines": [t.medicine(object.union({"id": "packs/rust/spray", "medication": "people/ana/medications/spray"}, m)) | some m in supplies],
}

bens := {"id": "packs/sage/spray", "carrier": "people/ben"}

test_rescue_on_owner_fine[why] if {
	some why, supplies in {
		"within reach while walking": [bens, {}],
		"on the body": [{"reach": "on-body"}],
		"one within reach, one deep": [{"id": "packs/rust/deep", "reach": "halted"}, {}],
	}
	count(medication.finding.rescue_on_owner) == 0 with input as inhaler(supplies, {}, {})
}

test_rescue_on_owner_in_anothers_pack if {
	medication.finding.rescue_on_owner == {{
		"at": "packs/sage/spray",
		"because": ["people/ana/medications/spray"],
		"text": "Relief INHALER for Ana must be at hand at once and is not with Ana",
	}} with input as inhaler([bens, {"usable": false}, {"medication": "people/ana/medications/thyroid"}], {}, {})
}

test_rescue_on_owner_deep_in_the_own_pack if {
	medication.finding.rescue_on_owner == {{
		"at": "packs/rust/spray",
		"because": ["people/ana/medications/spray"],
		"level": "warning",
		"text": "Relief INHALER for Ana must be at hand at once, and can be reached only at a halt",
	}} with input as inhaler([bens, {"reach": "halted"}], {}, {})
}

test_rescue_on_owner_nowhere if {
	medication.finding.rescue_on_owner == {{
		"at": "people/ana/medications/spray",
		"because": [],
		"text": "Relief INHALER for Ana must be at hand at once, and none is packed",
	}} with input as inhaler([], {"doses_milli": 0}, {})
}

test_rescue_on_owner_of_a_daily_one_left_to_the_doses if {
	daily := {"as_needed": false, "rescue_known": true, "rescue": true}
	count(medication.finding.rescue_on_owner) == 0 with input as inhaler([], object.union(daily, {"doses_milli": 0}), {})
}

test_rescue_on_owner_left_to_the_date_that_is_past if {
	count(medication.finding.rescue_on_owner) == 0 with input as inhaler([{"usable": false}], {"doses_milli": 1}, {})
}

test_rescue_on_owner_of_a_young_child if {
	some f in medication.finding.rescue_on_owner with input as inhaler([bens], {}, {"age_months": 83, "with": ["people/cleo"]})
	f.text == "Relief INHALER for Ana must be at hand at once and is not with anyone beside Ana"
	count(medication.finding.rescue_on_owner) == 0 with input as inhaler([bens], {}, {"age_months": 83, "with": ["people/ben"]})
}

test_rescue_on_owner_asked[why] if {
	some why, med in {
		"written": {"name": "drops", "rescue_known": true, "rescue": true},
		"written, daily": {"name": "drops", "rescue_known": true, "rescue": true, "as_needed": false},
		"by its name": {"name": "glucagon"},
	}
	count(medication.finding.rescue_on_owner) == 1 with input as inhaler([bens], med, {})
}

test_rescue_on_owner_not_asked[why] if {
	some why, med in {
		"written that it is none": {"rescue_known": true},
		"by another name": {"name": "hay fever tablets"},
		"a daily one of that name": {"as_needed": false},
		"a person who is not there": {"person": "people/none"},
	}
	count(medication.finding.rescue_on_owner) == 0 with input as inhaler([bens], med, {})
}

allergic(own, others) := severe(own, others, {}, {})

test_rescue_on_owner_left_to_the_severe_allergy if {
	count(medication.finding.rescue_on_owner) == 0 with input as allergic(0, 2000)
	buried := [object.union(m, {"reach": "halted"}) | some m in allergic(2000, 2000).medicines]
	{f.level | some f in medication.finding.rescue_on_owner} == {"warning"} with input as object.union(allergic(2000, 2000), {"medicines": buried})
	mild := {"allergies": [t.allergy({"medication": "people/ana/medications/pen"})]}
	count(medication.finding.rescue_on_owner) == 0 with input as object.union(allergic(0, 2000), mild)
}

cold(medicine, med, plan) := {
	"plan": t.plan(plan),
	"people": [t.person({})],
	"medications": [t.medication(object.union({"cold_chain": true, "cold_life_known": true}, med))],
	"animal_medications": [],
	"medicines": [t.medicine(object.union({"cold_chain": true}, medicine)), t.medicine({"id": "packs/rust/iron", "medication": "people/ana/medications/iron"})],
}

test_cold_chain_cannot_be_counted if {
	medication.finding.cold_chain == {{
		"at": "packs/rust/tablets",
		"because": ["people/ana/medications/thyroid", "packs/rust/tablets"],
		"text": "thyroid tablets for Ana must be kept cold, and the day on which it left the cold is not recorded",
	}} with input as cold({}, {}, {})
}

test_cold_chain_of_an_animal if {
	facts := cold({}, {}, {})
	count(medication.finding.cold_chain) == 1 with input as object.union(facts, {"medications": [], "animal_medications": facts.medications})
}

test_cold_chain_nor_how_long if {
	count(medication.finding.cold_chain) == 1 with input as cold({}, {"cold_life_known": false}, {})
	some f in medication.finding.cold_chain with input as cold({}, {"cold_life_known": false}, {})
	f.text == "thyroid tablets for Ana must be kept cold, and the day on which it left the cold is not recorded, nor how long its label allows it out"
}

test_cold_chain_only_how_long if {
	medication.finding.cold_chain == {{
		"at": "people/ana/medications/thyroid",
		"because": [],
		"level": "note",
		"text": "how long thyroid tablets for Ana keeps out of the cold is not recorded, so 28 days are assumed, as for insulin",
	}} with input as cold({"last_minute": true}, {"cold_life_known": false}, {})
}

test_cold_chain_fine[why] if {
	some why, case in {
		"in the cold to the last minute": cold({"last_minute": true}, {}, {}),
		"the day is written": cold({"out_of_cold_known": true}, {}, {}),
		"needs no cold": cold({}, {"cold_chain": false, "cold_life_known": false}, {}),
		"needs no cold, none out of it": cold({"last_minute": true}, {"cold_chain": false, "cold_life_known": false}, {}),
		"none packed": cold({"medication": "people/ana/medications/iron"}, {"cold_life_known": false, "items": []}, {}),
		"spoilt by heat": cold({}, {"cold_life_known": false}, {"day_mc": 30001}),
		"spoilt by frost": cold({}, {"cold_life_known": false}, {"night_mc": 0}),
		"counted, and spoilt": cold({"last_minute": true}, {"cold_life_known": false}, {"night_mc": 0}),
	}
	count(medication.finding.cold_chain) == 0 with input as case
}

undated(medicine, med) := {
	"plan": t.plan({}),
	"allergies": [],
	"medications": [t.medication({"id": "people/ana/medications/iron", "as_needed": true}), t.medication(med)],
	"medicines": [t.medicine(object.union({"dated": false}, medicine))],
}

test_dated_present if {
	count(medication.finding.dated) == 0 with input as undated({"dated": true}, {})
}

test_dated_missing if {
	medication.finding.dated == {{
		"at": "packs/rust/tablets",
		"text": "no expiry date is recorded for Tablets",
		"level": "warning",
	}} with input as undated({}, {})
}

test_dated_level_when_needed if {
	{f.level | some f in medication.finding.dated} == {"note"} with input as undated({}, {"as_needed": true})
	{f.level | some f in medication.finding.dated} == {"note"} with input as undated({"medication": "people/ana/medications/iron"}, {})
}

test_dated_left_to_a_short_household if {
	count(medication.finding.dated) == 0 with input as undated({}, {"usable_milli": 6999, "doses_milli": 6999})
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
		"text": "Tablets: good until 2026-11-03, in 2 days; at least 3 days must remain",
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
	count(medication.finding.prescription_copy) == 0 with input as taken([{}], [["identity", "insurance", "medical"], ["identity", "prescription"]])
}

test_prescription_copy_missing if {
	medication.finding.prescription_copy == {{
		"at": "people/ben/medications/heart",
		"because": ["people/ben/medications/heart", "people/ana/medications/thyroid", "people/ana/medications/iron"],
		"text": "no copy of a prescription is packed, and medication is taken daily (Ana and Ben)",
	}} with input as taken(
		[
			{"id": "people/ben/medications/heart", "person_name": "Ben"},
			{},
			{"id": "people/ana/medications/iron"},
			{"id": "people/cleo/medications/inhaler", "person_name": "Cleo", "as_needed": true},
		],
		[["identity", "insurance", "medical"]],
	)
}

test_prescription_copy_asked_of_one_medication if {
	count(medication.finding.prescription_copy) == 1 with input as taken([{}], [["identity", "insurance", "medical"]])
}

test_prescription_copy_left_to_the_lost_papers if {
	count(medication.finding.prescription_copy) == 0 with input as taken([{}], [])
	count(medication.finding.prescription_copy) == 0 with input as taken([{}], [["identity", "medical"]])
}

test_prescription_copy_not_asked_when_taken_as_needed if {
	count(medication.finding.prescription_copy) == 0 with input as taken([{"as_needed": true}], [["identity", "insurance", "medical"]])
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
		"text": "Ana needs glasses and has no spare pair in a pack",
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
		"text": "Ana needs glasses and has 2 spare pairs in a pack and needs 3",
	}} with input as facts
}

test_spare_glasses_one_of_more if {
	own := [{"area": "medication", "name": "glasses", "list": false, "value": 2, "values": []}]
	{f.text | some f in medication.finding.spare_glasses} == {"Ana needs glasses and has 1 spare pair in a pack and needs 2"} with input as object.union(seeing({}, [{}]), {"limits": own})
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
		"text": "Tablets is with Mia, who is 11 years and 11 months old; the minimum age to keep medicines is 12 years",
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
	beside := own([{"id": "people/mia/medications/drops"}, {"id": "people/mia/medications/pen", "rescue_known": true, "rescue": true}], [])
	count(medication.finding.child_reach) == 1 with input as beside
	syrup := own([{"id": "people/mia/medications/drops", "name": "fever syrup", "as_needed": true}], [])
	count(medication.finding.child_reach) == 1 with input as syrup
}

# A child who needs insulin carries it, from school age on; what is another's stays out of reach.
insulin(months, person) := object.union(own([{"id": "people/mia/medications/drops"}], []), {
	"people": [t.person(mia({"conditions": ["insulin"], "age_months": months}))],
	"medicines": [t.medicine({"pack": "packs/kite", "carrier": "people/mia", "person": person, "medication": "people/mia/medications/drops"})],
})

test_child_reach_of_insulin if {
	count(medication.finding.child_reach) == 0 with input as insulin(84, "people/mia")
	count(medication.finding.child_reach) == 1 with input as insulin(83, "people/mia")
	count(medication.finding.child_reach) == 1 with input as insulin(84, "people/ana")
}

test_child_reach_not_asked_of_the_childs_own_for_emergencies[why] if {
	some why, case in {
		"of that name": own([{"id": "people/mia/medications/drops", "name": "relief inhaler", "as_needed": true}], []),
		"named at an allergy": own([{"id": "people/mia/medications/drops"}], [{"medication": "people/mia/medications/drops"}]),
		"written to be at hand": own([{"id": "people/mia/medications/drops", "rescue_known": true, "rescue": true}], []),
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
		"text": "pain relief (1) is with Mia, who is 9 years old; the minimum age to keep medicines is 12 years",
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

test_child_reach_of_a_toddlers_own_when_needed if {
	facts := own([{"id": "people/mia/medications/drops", "rescue_known": true, "rescue": true}], [])
	toddler := {"people": [object.union(p, {"age_months": 83}) | some p in facts.people; p.id == "people/mia"]}
	schoolchild := {"people": [object.union(p, {"age_months": 84}) | some p in facts.people; p.id == "people/mia"]}
	count(medication.finding.child_reach) == 1 with input as object.union(facts, toddler)
	count(medication.finding.child_reach) == 0 with input as object.union(facts, schoolchild)
}

needed(med, supplies) := {
	"allergies": [],
	"medications": [t.medication(object.union({"as_needed": true, "people_usable_milli": 0, "usable_milli": 0, "doses_milli": 0}, med))],
	"medicines": [t.medicine(m) | some m in supplies],
}

test_when_needed_there if {
	count(medication.finding.when_needed) == 0 with input as needed({"people_usable_milli": 1}, [])
}

test_when_needed_missing if {
	medication.finding.when_needed == {{
		"at": "people/ana/medications/thyroid",
		"because": ["packs/rust/tablets"],
		"text": "Ana takes thyroid tablets when needed, and nobody carries a usable dose",
	}} with input as needed({}, [])
}

test_when_needed_on_an_animal if {
	{f.at | some f in medication.finding.when_needed} == {"packs/rust/tablets"} with input as needed({"usable_milli": 1, "doses_milli": 1}, [{"carrier": "animals/bo"}])
}

test_when_needed_left_to_others[why] if {
	some why, med in {
		"taken daily": {"as_needed": false},
		"at hand at once": {"rescue_known": true, "rescue": true},
		"only past its date": {"doses_milli": 1},
	}
	count(medication.finding.when_needed) == 0 with input as needed(med, [])
}

# Days of a heat, and Ana's medicine in a pack.
hot(day, med, medicine) := {
	"plan": t.plan({"day_mc": day}),
	"people": [t.person({"conditions": ["insulin"], "id": "people/ben"}), t.person({})],
	"medications": [t.medication(med)],
	"animal_medications": [],
	"medicines": [t.medicine({"id": "packs/rust/iron", "medication": "people/ana/medications/iron"}), t.medicine(medicine), t.medicine({"id": "packs/sage/tablets"})],
}

test_heat_of_each_kind[why] if {
	some why, case in {
		"cold": {"most": 30000, "med": {"cold_chain": true}},
		"cold, a label for the refrigerator": {"most": 30000, "med": {"cold_chain": true, "keep_to_known": true, "keep_to_mc": 8000}},
		"cold, a label for more": {"most": 33000, "med": {"cold_chain": true, "keep_to_known": true, "keep_to_mc": 33000}},
		"a can": {"most": 49000, "med": {"pressurised": true}},
		"a can with a label": {"most": 50000, "med": {"pressurised": true, "keep_to_known": true, "keep_to_mc": 50000}},
		"a label": {"most": 25000, "med": {"keep_to_known": true, "keep_to_mc": 25000}},
		"nothing written": {"most": 40000, "med": {}},
	}
	count(medication.finding.heat) == 0 with input as hot(case.most, case.med, {})
	count(medication.finding.heat) == 1 with input as hot(case.most + 1, case.med, {})
}

test_heat_of_a_cold_medicine if {
	medication.finding.heat == {{
		"at": "packs/rust/tablets",
		"because": ["people/ana/medications/thyroid", "plan/season", "packs/rust/tablets", "packs/sage/tablets"],
		"text": "thyroid tablets for Ana must stay below 30 °C for its days out of the cold to count, and days reach 42 °C",
		"level": "warning",
	}} with input as hot(42000, {"cold_chain": true}, {})
}

test_heat_of_all_others_once if {
	pair := [t.medication({}), t.medication({"id": "people/ana/medications/iron"}), t.medication({"id": "people/ana/medications/can", "pressurised": true})]
	facts := object.union(hot(42000, {}, {}), {"medications": pair})
	medication.finding.heat == {{
		"at": "packs/rust/iron",
		"because": ["plan/season", "packs/rust/iron", "packs/rust/tablets", "packs/sage/tablets"],
		"text": "days reach 42 °C, and medicines whose labels say nothing else stand 40 °C for a day at most",
		"level": "note",
	}} with input as facts
}

test_heat_by_a_label if {
	some f in medication.finding.heat with input as hot(26000, {"keep_to_known": true, "keep_to_mc": 25000}, {})
	f.text == "thyroid tablets for Ana must stay below 25 °C, and days reach 26 °C"
}

test_heat_level[why] if {
	some why, case in {
		"insulin by name": {"day": 37001, "med": {"cold_chain": true, "name": "Insulin pen"}, "level": "error"},
		"insulin by a name in Japanese": {"day": 37001, "med": {"cold_chain": true, "name": "インスリン"}, "level": "error"},
		"insulin, not so hot": {"day": 37000, "med": {"cold_chain": true, "name": "Insulin pen"}, "level": "warning"},
		"insulin of who has the condition": {"day": 37001, "med": {"cold_chain": true, "person": "people/ben"}, "level": "error"},
		"another's": {"day": 37001, "med": {"cold_chain": true}, "level": "warning"},
		"insulin that needs no cold": {"day": 42000, "med": {"name": "Insulin pen"}, "level": "note"},
		"a tablet of who has the condition": {"day": 42000, "med": {"person": "people/ben"}, "level": "note"},
		"a tablet with a label, of who has the condition": {"day": 42000, "med": {"person": "people/ben", "keep_to_known": true, "keep_to_mc": 25000}, "level": "warning"},
		"a label, above thirty": {"day": 30001, "med": {"keep_to_known": true, "keep_to_mc": 25000}, "level": "warning"},
		"a label, at thirty": {"day": 30000, "med": {"keep_to_known": true, "keep_to_mc": 25000}, "level": "note"},
		"a can": {"day": 49001, "med": {"pressurised": true}, "level": "warning"},
		"nothing written": {"day": 49001, "med": {}, "level": "note"},
	}
	{f.level | some f in medication.finding.heat} == {case.level} with input as hot(case.day, case.med, {})
}

# In a pack that is kept in the car vehicle/storage speaks, unless insulin is lost.
test_heat_in_a_car[why] if {
	some why, c in {
		"a tablet": [{}, {"kept": "car"}, {}, set()],
		"at home": [{}, {"kept": "home"}, {}, {"note"}],
		"another pack": [{}, {"id": "packs/moss", "kept": "car"}, {}, {"note"}],
		"taken at the last minute": [{}, {"kept": "car"}, {"last_minute": true}, {"note"}],
		"of the cold chain": [{"cold_chain": true}, {"kept": "car"}, {}, set()],
		"insulin": [{"cold_chain": true, "name": "Insulin pen"}, {"kept": "car"}, {}, {"error"}],
	}
	facts := object.union(hot(42000, c[0], {}), {"packs": [t.pack(c[1])], "medicines": [t.medicine(c[2])]})
	{f.level | some f in medication.finding.heat} == c[3] with input as facts
}

test_heat_beside_another_in_a_car if {
	facts := object.union(hot(42000, {}, {}), {
		"packs": [t.pack({"kept": "home"}), t.pack({"id": "packs/moss", "kept": "car"})],
		"medicines": [t.medicine({}), t.medicine({"id": "packs/moss/syrup", "pack": "packs/moss", "medication": "people/ben/medications/syrup"})],
	})
	{f.level | some f in medication.finding.heat} == {"note"} with input as facts
}

test_heat_in_a_car_that_a_standard_allows if {
	facts := object.union(hot(42000, {}, {}), {"packs": [t.pack({"kept": "car"})], "medicines": [t.medicine({})]})
	every mc, n in {64000: 1, 63999: 0} {
		limits := [{"area": "vehicle", "name": "medicine_mc", "list": false, "value": mc, "values": []}]
		count(medication.finding.heat) == n with input as object.union(facts, {"limits": limits})
	}
}

test_heat_of_what_is_cooled if {
	facts := hot(42000, {}, {"cooled": true})
	{f.at | some f in medication.finding.heat} == {"packs/sage/tablets"} with input as facts
	count(medication.finding.heat) == 0 with input as object.union(facts, {"medicines": [t.medicine({"cooled": true})]})
}

test_heat_without_a_season if {
	count(medication.finding.heat) == 0 with input as object.union(hot(42000, {}, {}), {"plan": t.plan({"day_mc": 42000, "season_known": false})})
}

test_heat_of_an_animals_medicine if {
	facts := hot(42000, {}, {})
	count(medication.finding.heat) == 1 with input as object.union(facts, {"medications": [], "animal_medications": facts.medications})
}

frosty(plan, med, supplies) := {
	"plan": t.plan(object.union({"night_mc": 0}, plan)),
	"medications": [t.medication(object.union({"cold_chain": true}, med))],
	"animal_medications": [],
	"medicines": array.concat([t.medicine({"id": "packs/rust/iron", "medication": "people/ana/medications/iron"})], [t.medicine(m) | some m in supplies]),
}

test_frost_at_the_limit if {
	medication.finding.frost == {{
		"at": "packs/rust/tablets",
		"because": ["people/ana/medications/thyroid", "plan/season", "packs/rust/tablets"],
		"text": "thyroid tablets for Ana must not freeze but is in a pack, and nights fall to 0 °C",
		"level": "error",
	}} with input as frosty({}, {}, [{}])
}

test_frost_of_what_is_insulated if {
	insulated := {"id": "packs/sage/tablets", "cooled": true}
	{f.level | some f in medication.finding.frost} == {"note"} with input as frosty({}, {}, [insulated])
	{f.level | some f in medication.finding.frost} == {"error"} with input as frosty({}, {}, [insulated, {}])
}

test_frost_where_the_way_ends_in_a_house if {
	house := {"destination": {"known": true, "kind": "house", "water": false, "food": false, "beds": false}, "legs": [{"arrives": true}]}
	{f.level | some f in medication.finding.frost} == {"warning"} with input as frosty(house, {}, [{}])
	{f.level | some f in medication.finding.frost} == {"note"} with input as frosty(house, {}, [{"cooled": true}])
}

test_frost_of_an_animals_medicine if {
	facts := frosty({}, {}, [{}])
	count(medication.finding.frost) == 1 with input as object.union(facts, {"medications": [], "animal_medications": facts.medications})
}

test_frost_not_asked[why] if {
	some why, case in {
		"no frost": frosty({"night_mc": 1}, {}, [{}]),
		"no season": frosty({"season_known": false}, {}, [{}]),
		"on the body": frosty({}, {}, [{"reach": "on-body"}]),
		"needs no cold": frosty({}, {"cold_chain": false}, [{}]),
	}
	count(medication.finding.frost) == 0 with input as case
}

labelled(night, more) := frosty({"night_mc": night}, object.union({"cold_chain": false, "keep_from_known": true, "keep_from_mc": 15000}, more), [{}, {"id": "packs/sage/tablets"}])

test_frost_by_a_label if {
	count(medication.finding.frost) == 0 with input as labelled(15000, {})
	medication.finding.frost == {{
		"at": "packs/rust/tablets",
		"because": ["people/ana/medications/thyroid", "plan/season", "packs/rust/tablets", "packs/sage/tablets"],
		"text": "thyroid tablets for Ana must be kept at 15 °C or warmer, and nights fall to 14.999 °C",
		"level": "note",
	}} with input as labelled(14999, {})
}

test_frost_by_a_label_of_a_cold_medicine if {
	chilled := {"cold_chain": true, "keep_from_mc": 2000}
	{f.level | some f in medication.finding.frost} == {"note"} with input as labelled(1000, chilled)
	{f.level | some f in medication.finding.frost} == {"error"} with input as labelled(0, chilled)
}

test_frost_by_a_label_not_asked[why] if {
	some why, case in {
		"not written": labelled(0, {"keep_from_known": false}),
		"no season": object.union(labelled(0, {}), {"plan": t.plan({"night_mc": 0, "season_known": false})}),
		"on the body or insulated": object.union(labelled(0, {}), {"medicines": [t.medicine({"reach": "on-body"}), t.medicine({"cooled": true})]}),
	}
	count(medication.finding.frost) == 0 with input as case
}

# Who drinks, and the ways to treat water: each a means and whose it is.
treated(people, ways) := {
	"people": [t.person(p) | some p in people],
	"medications": [t.medication({"person": "people/cleo"}), t.medication({"person": "people/dan", "name": "iron"})],
	"capabilities": [t.capability("treat-water", [t.offer(w.means, object.union({"id": sprintf("packs/%s", [w.means])}, w)) | some w in ways])],
}

iodine := {"means": "iodine"}

filter := {"means": "filter"}

test_forbidden_only_means if {
	medication.finding.forbidden == {{
		"at": "packs/iodine",
		"because": ["people/ana"],
		"text": "iodine is the only way to treat water and is not for Ana (thyroid disease)",
		"level": "error",
	}} with input as treated([{"conditions": ["thyroid"]}, {"id": "people/ben"}], [iodine])
}

test_forbidden_to[why] if {
	some why, case in {
		"an infant": {"person": {"age_months": 11}, "ways": [iodine], "level": "error"},
		"somebody pregnant": {"person": {"pregnant": true}, "ways": [iodine], "level": "error"},
		"as written": {"person": {"must_not": ["iodine"]}, "ways": [iodine], "level": "error"},
		"chlorine": {"person": {"must_not": ["chlorine"]}, "ways": [{"means": "chlorine"}, {"means": "chlorine-dioxide"}], "level": "error"},
		"both": {"person": {"must_not": ["chlorine"], "conditions": ["thyroid"]}, "ways": [{"means": "chlorine"}, iodine], "level": "error"},
		"by the name of a medication": {"person": {"id": "people/cleo"}, "ways": [iodine], "level": "warning"},
		"by both": {"person": {"id": "people/cleo", "conditions": ["thyroid"]}, "ways": [iodine], "level": "error"},
	}
	{f.level | some f in medication.finding.forbidden} == {case.level} with input as treated([case.person], case.ways)
}

test_forbidden_by_each_word if {
	every word in ["Thyroxin", "thyroid", "Schilddrüse", "tiroides", "甲状腺"] {
		facts := object.union(treated([{}], [iodine]), {"medications": [t.medication({"name": word})]})
		count(medication.finding.forbidden) == 1 with input as facts
	}
}

test_forbidden_names_them_all if {
	some f in medication.finding.forbidden with input as treated([{"id": "people/cleo", "name": "Cleo"}, {"must_not": ["iodine"]}, {"id": "people/pip", "name": "Pip", "age_months": 3}], [iodine])
	f.text == "iodine is the only way to treat water and is not for Cleo (a medication for the thyroid), Ana (as written) and Pip (an infant)"
	f.level == "error"
}

test_forbidden_not_asked[why] if {
	some why, case in {
		"another way": treated([{"conditions": ["thyroid"]}], [filter, iodine]),
		"another medication": treated([{"id": "people/dan"}], [iodine]),
		"another condition": treated([{"conditions": ["heart"]}], [iodine]),
		"a nursed infant": treated([{"age_months": 11, "breastfed": true}], [iodine]),
		"a year old": treated([{"age_months": 12}], [iodine]),
		"no way at all": treated([{"conditions": ["thyroid"]}], []),
		"only chlorine dioxide barred by iodine": treated([{"must_not": ["iodine"]}], [{"means": "chlorine"}]),
	}
	count(medication.finding.forbidden) == 0 with input as case
}

test_forbidden_at_hand if {
	ways := [{"means": "filter", "carrier": "people/ben"}, iodine]
	medication.finding.forbidden == {{
		"at": "packs/iodine",
		"because": ["people/ana"],
		"text": "iodine is the only way to treat water that Ana has at hand and is not for Ana (thyroid disease)",
		"level": "warning",
	}} with input as treated([{"conditions": ["thyroid"]}, {"id": "people/ben"}], ways)
	count(medication.finding.forbidden) == 0 with input as treated([{"conditions": ["thyroid"], "carries": false, "with": ["people/ben"]}], ways)
	count(medication.finding.forbidden) == 0 with input as treated([{"conditions": ["thyroid"], "id": "people/eve"}], ways)
}

glass(med, medicine) := {
	"medications": [t.medication(object.union({"name": "nitroglycerin", "original": true}, med))],
	"animal_medications": [],
	"medicines": [t.medicine(object.union({"repacked": true}, medicine))],
}

test_original_package_repacked if {
	medication.finding.original_package == {{
		"at": "packs/rust/tablets/medicine",
		"because": ["people/ana/medications/thyroid"],
		"text": "nitroglycerin for Ana must stay in its original package, and Tablets is repacked",
	}} with input as glass({}, {})
}

test_original_package_fine[why] if {
	some why, case in {
		"in its package": glass({}, {"repacked": false}),
		"may be repacked": glass({"original": false}, {}),
		"another's": glass({}, {"medication": "people/ana/medications/iron"}),
	}
	count(medication.finding.original_package) == 0 with input as case
}

# Mia's fever syrup.
syrup(child, med, medicine) := {
	"people": [t.person({}), t.person(mia(object.union({"age_months": 48, "body_mass_mg": 17600000}, child)))],
	"allergies": [],
	"medications": [t.medication(object.union({"id": "people/mia/medications/syrup", "person": "people/mia", "name": "fever syrup", "as_needed": true}, med))],
	"medicines": [t.medicine(object.union({"id": "packs/rust/syrup", "name": "Syrup", "person": "people/mia", "medication": "people/mia/medications/syrup", "for_mass_known": true, "for_mass_mg": 16000000}, medicine))],
}

test_child_dose_at_the_limit if {
	count(medication.finding.child_dose) == 0 with input as syrup({}, {}, {})
}

test_child_dose_outgrown if {
	medication.finding.child_dose == {{
		"at": "packs/rust/syrup/medicine/forMass",
		"because": ["people/mia/bodyMass"],
		"text": "the dose of Syrup is for 16.00 kg, and Mia weighs 17.60 kg",
	}} with input as syrup({"body_mass_mg": 17600001}, {}, {})
}

test_child_dose_for_somebody_heavier if {
	count(medication.finding.child_dose) == 0 with input as syrup({"body_mass_mg": 16000000}, {}, {"for_mass_mg": 17600000})
	{f.text | some f in medication.finding.child_dose} == {"the dose of Syrup is for 17.60 kg, and Mia weighs 16.00 kg"} with input as syrup({"body_mass_mg": 16000000}, {}, {"for_mass_mg": 17600001})
}

test_child_dose_below_eighteen if {
	count(medication.finding.child_dose) == 1 with input as syrup({"body_mass_mg": 30000000, "age_months": 215}, {}, {})
}

test_child_dose_outgrown_not_asked[why] if {
	some why, case in {
		"no mass written": syrup({"body_mass_mg": 30000000}, {}, {"for_mass_known": false, "for_mass_mg": 0}),
		"grown": syrup({"body_mass_mg": 30000000, "adult": true}, {}, {}),
		"the body mass is a guess": syrup({"body_mass_mg": 30000000, "body_mass_known": false}, {}, {}),
		"somebody else's": syrup({"body_mass_mg": 30000000}, {}, {"person": "people/ana"}),
	}
	count(medication.finding.child_dose) == 0 with input as case
}

test_child_dose_not_recorded if {
	medication.finding.child_dose == {{
		"at": "packs/rust/syrup/medicine",
		"because": ["people/mia/medications/syrup"],
		"text": "the dose of fever syrup for Mia is not recorded",
		"level": "note",
	}} with input as syrup({}, {}, {"dose_known": false})
}

test_child_dose_not_recorded_not_asked[why] if {
	some why, case in {
		"taken daily": syrup({}, {"as_needed": false}, {"dose_known": false}),
		"at hand at once": syrup({}, {"rescue_known": true, "rescue": true}, {"dose_known": false}),
		"old enough": syrup({"age_months": 144}, {}, {"dose_known": false}),
		"somebody else's": syrup({}, {"person": "people/ana"}, {"dose_known": false}),
		"another medicine": syrup({}, {}, {"dose_known": false, "medication": "people/mia/medications/iron"}),
	}
	count(medication.finding.child_dose) == 0 with input as case
}

# Where not enough are in date, but would be with those past it.
test_allergy_twice_left_to_the_date_that_is_past[why] if {
	some why, c in {
		"both past": [0, 2000, 0],
		"one past of two": [1000, 2000, 0],
		"one past, and one is not enough": [0, 1000, 1],
		"past, with one that is not": [1000, 1999, 1],
	}
	count(medication.finding.allergy_twice) == c[2] with input as pens(c[0], c[1])
}

# Usable doses of a pen, of doses that are there.
pens(usable, doses) := object.union(severe(usable, 0, {}, {}), {
	"medications": [t.medication({"id": "people/ana/medications/pen", "name": "pen", "as_needed": true, "usable_milli": usable, "doses_milli": doses, "items": ["packs/rust/pen"]})],
	"medicines": [t.medicine({"id": "packs/rust/pen", "medication": "people/ana/medications/pen", "doses_milli": max([1, usable]), "usable": usable > 0})],
	"dates": [object.union(stale, {"item": "packs/rust/pen"})],
})

stale := {"id": "packs/rust/pen/expires", "name": "pen", "item": "packs/rust/pen", "kind": "expires", "on": "2026-10-31", "days_left": -1, "medicine": true}

test_expired_is_said_once if {
	{f.text | some f in medication.finding.allergy_twice} == {"Ana needs 2 doses of pen at hand for a severe allergy (nuts) and has no usable dose; 1 more past their date"} with input as pens(0, 1000)
	count(medication.finding.expired) == 0 with input as pens(0, 1000)
	count(medication.finding.expired) == 1 with input as pens(0, 2000)
	count(medication.finding.expired) == 1 with input as pens(1000, 1999)
	count(medication.finding.expired) == 1 with input as object.union(pens(0, 1000), {"dates": [object.union(stale, {"kind": "rotate"})]})
	count(medication.finding.expired) == 1 with input as object.union(pens(0, 1000), {"dates": [object.union(stale, {"item": "packs/rust/x"})]})
	count(medication.finding.expired) == 1 with input as object.union(pens(0, 1000), {"allergies": []})
}

# Mia of nine years, always beside Ana, takes insulin; Ana carries it, and Ben is there.
vital(med, medicines, ben) := {
	"plan": t.plan({}),
	"people": [t.person({}), t.person(object.union({"id": "people/ben", "name": "Ben", "key": "ben"}, ben)), t.person(mia({"with": ["people/ana"]}))],
	"packs": [t.pack({}), t.pack({"id": "packs/moss", "carrier": "people/ben"})],
	"allergies": [],
	"medications": [t.medication(object.union({"id": "people/mia/medications/m", "person": "people/mia", "person_name": "Mia", "name": "Insulin", "per_day_milli": 1000, "usable_milli": 20000, "doses_milli": 20000}, med))],
	"medicines": [t.medicine(object.union({"medication": "people/mia/medications/m", "person": "people/mia", "doses_milli": 10000}, m)) | some m in medicines],
}

test_one_pack if {
	medication.finding.one_pack == {{
		"at": "packs/rust/tablets",
		"because": ["people/mia/medications/m", "packs/rust/tablets"],
		"text": "all Insulin for Mia is in one pack, and Ben could carry some",
		"level": "warning",
	}} with input as vital({}, [{}], {})
	every word in ["Hydrocortisone", "Levetiracetam", "Valproat", "carbamazepine", "Phenytoin", "hidrocortisona", "ヒドロコルチゾン", "インスリン"] {
		count(medication.finding.one_pack) == 1 with input as vital({"name": word}, [{}], {})
	}
	iron := {"id": "packs/moss/iron", "pack": "packs/moss", "medication": "people/mia/medications/iron"}
	{f.because | some f in medication.finding.one_pack} == {["people/mia/medications/m", "packs/rust/tablets"]} with input as vital({}, [{}, iron], {})
	{f.level | some f in medication.finding.one_pack} == {"note"} with input as object.union(vital({"person": "people/ana"}, [{}], {}), {})
	count(medication.finding.one_pack) == 1 with input as vital({}, [{"doses_milli": 3000}], {})
	count(medication.finding.one_pack) == 1 with input as vital({}, [{}, {"id": "packs/moss/old", "pack": "packs/moss", "carrier": "people/ben", "usable": false}], {"age_months": 144})
}

test_one_pack_fine[why] if {
	some why, facts in {
		"shared out": vital({}, [{}, {"id": "packs/moss/x", "pack": "packs/moss", "carrier": "people/ben"}], {}),
		"some on the body": vital({}, [{}, {"id": "people/mia/onBody/x", "pack": "", "carrier": "people/mia"}], {}),
		"all on the body": vital({}, [{"pack": ""}], {}),
		"no other who is grown": vital({}, [{}], {"age_months": 143}),
		"another medicine": vital({"name": "Iron"}, [{}], {}),
		"when needed": vital({"as_needed": true}, [{}], {}),
		"too little, which is said": vital({"usable_milli": 6000, "doses_milli": 6000}, [{}], {}),
		"not with her, which is said": vital({}, [{"doses_milli": 2999}], {}),
	}
	count(medication.finding.one_pack) == 0 with input as facts
}

# In an insulated part of a pack that is kept in the car vehicle/storage says that it freezes.
test_frost_in_the_car_is_said_once[what] if {
	some what, c in {
		"in the car": [{"cooled": true}, "car", -4000, 0],
		"no colder than the car's limit": [{"cooled": true}, "car", 0, 1],
		"at the last minute": [{"cooled": true, "last_minute": true}, "car", -4000, 1],
		"by the door": [{"cooled": true}, "door", -4000, 1],
		"not insulated": [{}, "car", -4000, 1],
		"another pack": [{"cooled": true, "pack": "packs/moss"}, "car", -4000, 1],
	}
	facts := object.union(vital({"cold_chain": true}, [c[0]], {}), {"animal_medications": [], "plan": t.plan({"season_known": true, "night_mc": c[2], "day_mc": 2000})})
	count(medication.finding.frost) == c[3] with input as object.union(facts, {"packs": [t.pack({"kept": c[1]}), t.pack({"id": "packs/moss", "kept": "home"})]})
}

# A thing that Ana may take or touch, and what she must not meet.
met(key, to, item, medicines) := {
	"allergies": [{"id": "people/ana/allergies/a", "person": "people/ana", "person_name": "Ana", "key": key, "severe": true, "to": to, "medication": "", "own_usable_milli": 0}],
	"items": [t.item(object.union({"id": "packs/rust/thing", "name": "Latex gloves (10)"}, item))],
	"medicines": [t.medicine(object.union({"id": "packs/rust/thing", "medication": "people/ana/medications/m"}, m)) | some m in medicines],
	"medications": [t.medication({"id": "people/ana/medications/m", "name": "Amoxicillin 500 mg"})],
	"animal_medications": [],
}

test_allergens_by_name if {
	facts := met("latex", "contact", {}, [])
	medication.finding.allergens == {{
		"at": "packs/rust/thing",
		"because": ["people/ana/allergies/a"],
		"text": "Latex gloves (10) is what Ana is allergic to by its name: latex",
		"level": "error",
	}} with input as facts
	{f.level | some f in medication.finding.allergens} == {"warning"} with input as object.union(facts, {"allergies": [object.union(facts.allergies[0], {"severe": false})]})
}

test_allergens_met[what] if {
	some what, facts in {
		"hers": met("latex", "contact", {"owner": "people/ana"}, []),
		"in a word": met("latex", "contact", {"name": "naturlatex-band"}, []),
		"in brackets": met("latex", "contact", {"name": "gloves (latex)"}, []),
		"before a comma": met("latex", "contact", {"name": "latex, thin"}, []),
		"two words": met("rubber_bands", "contact", {"name": "bands of rubber bands"}, []),
		"with a slash": met("ibu-profen", "medicine", {"name": "ibu/profen"}, []),
		"a penicillin": met("penicillin", "medicine", {"name": "Ampicillin"}, []),
		"by its medication": met("penicillin", "medicine", {"name": "tablets"}, [{"person": "people/ana"}]),
		"for nobody in particular": met("penicillin", "medicine", {"name": "Amoxicillin"}, [{"person": ""}]),
	}
	count(medication.finding.allergens) == 1 with input as facts
}

test_allergens_not_met[what] if {
	some what, facts in {
		"another thing": met("latex", "contact", {"name": "nitrile gloves"}, []),
		"free of it": met("latex", "contact", {"name": "gloves, latex-free"}, []),
		"not all words": met("rubber_bands", "contact", {"name": "rubber boots"}, []),
		"another's": met("latex", "contact", {"owner": "people/ben"}, []),
		"an allergy to food": met("latex", "food", {}, []),
		"another's medicine": met("penicillin", "medicine", {"name": "Amoxicillin"}, [{"person": "people/ben"}]),
		"no penicillin": met("penicillin", "medicine", {"name": "paracetamol"}, []),
		"another allergy": met("nickel", "contact", {"name": "Amoxicillin"}, []),
		"another's medication": met("penicillin", "medicine", {"name": "tablets"}, [{"person": "people/ana", "medication": "people/ana/medications/x"}]),
		"another thing's medication": met("penicillin", "medicine", {"name": "tablets"}, [{"id": "packs/rust/x", "person": "people/ana"}]),
	}
	count(medication.finding.allergens) == 0 with input as facts
}

test_allergens_of_each_penicillin[word] if {
	some word in ["cillin", "cilina", "ペニシリン", "アモキシシリン"]
	count(medication.finding.allergens) == 1 with input as met(sprintf("x%s", [word]), "medicine", {"name": sprintf("y%s 500 mg", [upper(word)])}, [])
}

test_allergens_not_met_by_each_word[word] if {
	some word in ["free", "without", "no", "non", "frei", "ohne", "sans", "sin"]
	count(medication.finding.allergens) == 0 with input as met("latex", "contact", {"name": sprintf("gloves %s latex", [upper(word)])}, [])
}

# Medicine by its name alone counts for whom it is with.
test_medicine_not_recorded[what] if {
	some what, c in {
		"with the keepers": ["people/ana", ["not recorded"]],
		"with another": ["people/ben", [""]],
	}
	pills := t.unread(["medicine"], {"name": "pills", "carrier": c[0]})
	t.levels(medication.finding.allergy_twice) == c[1] with input as object.union(t.with_unread(allergic(0, 0), [pills]), {"animal_medications": []})
}

test_spare_glasses_not_recorded[what] if {
	some what, c in {
		"in a pack": [{}, ["not recorded"]],
		"worn": [{"pack": ""}, [""]],
		"another's": [{"carrier": "people/ben"}, [""]],
	}
	t.levels(medication.finding.spare_glasses) == c[1] with input as t.with_unread(seeing({}, []), [t.unread(["see", "see:glasses"], c[0])])
}

# One more is needed of two, and one may be there.
test_spare_glasses_not_recorded_beside_one if {
	two := {"limits": [{"area": "medication", "name": "glasses", "list": false, "value": 2, "values": []}]}
	facts := object.union(seeing({}, [{}]), two)
	t.levels(medication.finding.spare_glasses) == ["not recorded"] with input as t.with_unread(facts, [t.unread(["see", "see:glasses"], {})])
}

test_child_reach_of_an_own_inhaler if {
	facts := own([{"id": "people/mia/medications/drops", "pressurised": true}], [])
	toddler := object.union(facts, {"people": [object.union(p, {"age_months": 40}) | some p in facts.people; p.id == "people/mia"]})
	count(medication.finding.child_reach) == 0 with input as toddler
	another := object.union(toddler, {"medicines": [object.union(m, {"person": "people/ana"}) | some m in toddler.medicines]})
	count(medication.finding.child_reach) == 1 with input as another
	drops := object.union(toddler, {"medications": array.concat([object.union(m, {"pressurised": false}) | some m in toddler.medications], [t.medication({"pressurised": true})])})
	count(medication.finding.child_reach) == 1 with input as drops
}
