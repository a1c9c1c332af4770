package rules.base.medication_test

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
	}} with input as facts({"doses_milli": 10499, "usable_milli": 10499})
}

test_days_counts_no_expired_doses if {
	medication.finding.days == {{
		"at": "people/ana/medications/thyroid",
		"because": ["packs/rust/tablets"],
		"text": "Thyroid tablets (Ana): usable doses packed 6; 7 days at 1.5 a day take 10.5: 4.5 too few; past their date: 14",
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
