package rules.base.pregnancy_test

import data.lib.testing_test as t
import data.rules.base.pregnancy

# Ana, due in so many days, with what is packed.
due(days, documents, things, more) := {
	"people": [t.person({"id": "people/ben"}), t.person(object.union({"pregnant": true, "due_known": true, "due_days": days}, more))],
	"papers": [t.paper({"documents": documents})],
	"capabilities": [t.capability("care", [t.offer(m, {}) | some m in things])],
}

test_papers_before_the_first_examination if {
	count(pregnancy.finding.papers) == 0 with input as due(211, [], [], {})
}

test_papers_from_the_first_examination_on if {
	pregnancy.finding.papers == {{
		"at": "packs/rust",
		"because": ["people/ana"],
		"text": "Ana is due in 210 days, and no maternity notes are packed",
	}} with input as due(210, ["medical"], [], {})
	count(pregnancy.finding.papers) == 0 with input as due(68, ["maternity"], [], {})
}

test_papers_from_the_eighth_month_on if {
	{f.text | some f in pregnancy.finding.papers} == {"Ana is due in 67 days, and no birth kit is packed"} with input as due(67, ["maternity"], ["glucose"], {})
	{f.text | some f in pregnancy.finding.papers} == {"Ana is due tomorrow, and no maternity notes and no birth kit are packed"} with input as due(1, [], [], {})
	count(pregnancy.finding.papers) == 0 with input as due(1, ["maternity"], ["birth-kit"], {})
}

test_papers_past_the_day if {
	{f.text | some f in pregnancy.finding.papers} == {"Ana is due today, and no birth kit is packed"} with input as due(-3, ["maternity"], [], {})
}

test_papers_without_a_day if {
	pregnancy.finding.papers == {{
		"at": "people/ana",
		"because": [],
		"level": "note",
		"text": "the due date of Ana is not recorded, and no maternity notes are packed",
	}} with input as due(1, [], [], {"due_known": false})
	{f.text | some f in pregnancy.finding.papers} == {"the due date of Ana is not recorded"} with input as due(1, ["maternity"], [], {"due_known": false})
}

test_papers_not_asked_of_others if {
	count(pregnancy.finding.papers) == 0 with input as due(1, [], [], {"pregnant": false})
	count(pregnancy.finding.papers) == 0 with input as due(1, [], [], {"pregnant": false, "due_known": false})
}
