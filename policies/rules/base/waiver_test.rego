package rules.base.waiver_test

import data.lib.testing_test as t
import data.rules.base.waiver

# A waiver on audit day 100.
facts(more) := {
	"audit": {"on_day": 100},
	"record": t.record({"waivers": [object.union(
		{
			"id": "record/waivers/fire",
			"until_id": "record/waivers/fire/until",
			"rule": "fire/two-means",
			"reason_known": true,
			"until": "2026-12-01",
			"until_day": 130,
		},
		more,
	)]}),
}

test_reason_given if {
	count(waiver.finding.reason) == 0 with input as facts({})
}

test_reason_missing if {
	waiver.finding.reason == {{
		"at": "record/waivers/fire",
		"text": "the waiver of fire/two-means gives no reason, so it covers nothing",
	}} with input as facts({"reason_known": false})
}

test_nothing_without_waivers if {
	facts := {"audit": {"on_day": 100}, "record": t.record({})}
	count(waiver.finding.reason) == 0 with input as facts
	count(waiver.finding.past) == 0 with input as facts
	count(waiver.finding.too_long) == 0 with input as facts
}

test_past_on_its_last_day if {
	count(waiver.finding.past) == 0 with input as facts({"until_day": 100})
}

test_past_a_day_later if {
	waiver.finding.past == {{
		"at": "record/waivers/fire/until",
		"text": "the waiver of fire/two-means ended on 2026-12-01, 1 day ago, and no longer covers anything",
	}} with input as facts({"until_day": 99})
}

test_too_long_at_the_limit if {
	count(waiver.finding.too_long) == 0 with input as facts({})
}

test_too_long_a_day_later if {
	waiver.finding.too_long == {{
		"at": "record/waivers/fire/until",
		"text": "the waiver of fire/two-means runs until 2026-12-01, for 31 days; this rule may be waived for 30 days at most, so the waiver covers nothing",
	}} with input as facts({"until_day": 131})
}

test_too_long_for_each_heart_rule if {
	every rule in ["fire/two-means", "water/purification", "load/body-mass-cap", "load/child-cap", "load/own-cap", "medication/days"] {
		count(waiver.finding.too_long) == 1 with input as facts({"until_day": 131, "rule": rule})
	}
}

test_too_long_not_asked_of_other_rules if {
	count(waiver.finding.too_long) == 0 with input as facts({"until_day": 500, "rule": "load/imbalance"})
}
