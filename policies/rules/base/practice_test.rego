package rules.base.practice_test

import data.lib.testing_test as t
import data.rules.base.practice

recorded(more) := {"audit": {"on_day": 1000}, "record": t.record(more)}

test_audited_at_the_limit if {
	count(practice.finding.audited) == 0 with input as recorded({"audited_known": true, "audited_day": 817})
}

test_audited_one_too_many if {
	practice.finding.audited == {{
		"at": "record/audited",
		"text": "the packs were last inspected 184 days ago, 1 day more than the 183 days allowed",
	}} with input as recorded({"audited_known": true, "audited_day": 816})
}

test_audited_never if {
	practice.finding.audited == {{
		"at": "record",
		"text": "no inspection of the packs is recorded; the last should be at most 183 days ago",
		"level": "note",
	}} with input as recorded({})
}

walk(more) := object.union({"id": "record/shakedowns/hill", "day": 900, "load_known": true, "load_mg": 7000000}, more)

walked(walks) := object.union(
	recorded({"shakedowns": walks}),
	{"carriers": [t.carrier({}), t.carrier({"load_mg": 4000000}), t.carrier({"kind": "animal", "load_mg": 90000000})]},
)

told(ids, text) := {{"at": "record/shakedowns", "because": ids, "text": text}}

hill := ["record/shakedowns/hill"]

test_shakedown_at_the_limits if {
	count(practice.finding.shakedown) == 0 with input as walked([walk({"day": 635})])
}

test_shakedown_on_the_audit_day if {
	count(practice.finding.shakedown) == 0 with input as walked([walk({"day": 1000})])
}

test_shakedown_one_good_walk_is_enough if {
	count(practice.finding.shakedown) == 0 with input as walked([
		walk({"load_mg": 1000000}),
		walk({}),
		walk({"day": 1}),
		walk({"load_known": false, "load_mg": 0}),
	])
}

test_shakedown_none if {
	practice.finding.shakedown == told([], "no practice walk is recorded; one in the last 365 days is needed") with input as walked([])
}

test_shakedown_not_yet if {
	practice.finding.shakedown == told([], "no practice walk is recorded; one in the last 365 days is needed") with input as walked([walk({"day": 1001})])
}

test_shakedown_one_day_too_old if {
	practice.finding.shakedown == told(
		["record/shakedowns/hill", "record/shakedowns/lake"],
		"the last practice walk was 366 days ago; it should be at most 365 days",
	) with input as walked([walk({"day": 634}), walk({"id": "record/shakedowns/lake", "day": 600})])
}

test_shakedown_load_not_written if {
	practice.finding.shakedown == told(hill, "no load is recorded for the practice walks of the last 365 days") with input as walked([walk({"load_known": false})])
}

test_shakedown_a_heavy_walk_long_ago_does_not_count if {
	practice.finding.shakedown == told(
		["record/shakedowns/lake", "record/shakedowns/hill"],
		"the heaviest recent practice load is 6.00 kg short of 70 % of today's heaviest, 10.00 kg",
	) with input as walked([walk({"id": "record/shakedowns/lake", "day": 634}), walk({"load_mg": 1000000})])
}

test_shakedown_one_too_little if {
	practice.finding.shakedown == told(
		hill,
		"the heaviest recent practice load is 1 mg short of 70 % of today's heaviest, 10.00 kg",
	) with input as walked([walk({"load_mg": 6999999})])
}

test_shakedown_in_words if {
	practice.finding.shakedown == told(
		hill,
		"the heaviest recent practice load is 2 g short of 70 % of today's heaviest, 10.00 kg",
	) with input as walked([walk({"load_mg": 6998500})])
}

# 99.9 % of 999 mg is 998.001 mg.
test_shakedown_a_hair_too_little if {
	own := {"limits": [{"area": "practice", "name": "load_share", "list": false, "value": 999, "values": []}]}
	facts := object.union(walked([walk({"load_mg": 998})]), {"carriers": [t.carrier({"load_mg": 999})]})
	practice.finding.shakedown == told(
		hill,
		"the heaviest recent practice load is 1 mg short of 99.9 % of today's heaviest, 0.00 kg",
	) with input as object.union(own, facts)
}

test_shakedown_not_for_a_few_hundred_metres if {
	every mm, n in {500000: 0, 500001: 1} {
		facts := object.union(walked([]), {"plan": {"legs": [{"id": "plan/legs/out"}], "foot_mm": mm}})
		count(practice.finding.shakedown) == n with input as facts
	}
}

test_shakedown_asked_for_the_lightest_load if {
	facts := object.union(walked([]), {"carriers": [t.carrier({"load_mg": 1})]})
	count(practice.finding.shakedown) == 1 with input as facts
}

test_shakedown_not_asked[who] if {
	some who, carriers in {
		"no carrier": [],
		"no load": [t.carrier({"load_mg": 0})],
		"only an animal's load": [t.carrier({"kind": "animal"})],
	}
	facts := object.union(walked([]), {"carriers": carriers})
	count(practice.finding.shakedown) == 0 with input as facts
}
