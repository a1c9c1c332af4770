package rules.base.tools_test

import data.lib.testing_test as t
import data.rules.base.tools

offers(capability, list) := {
	"household": t.household({}),
	"plan": t.plan({"hazards": ["quake"]}),
	"people": [t.person({}), t.person({"id": "people/ben", "name": "Ben"})],
	"capabilities": [t.capability(capability, list)],
}

with_people(facts, people) := object.union(facts, {"people": people})

test_cutting_each_means if {
	every means in ["knife", "multi-tool", "scissors"] {
		count(tools.finding.cutting) == 0 with input as offers("cut", [t.offer(means, {}), t.offer(means, {"carrier": "people/ben"})])
	}
}

test_cutting_nothing_at_all if {
	tools.finding.cutting == {{
		"at": "household",
		"text": "the household has nothing to cut with (knife, multi-tool or scissors)",
	}} with input as offers("cut", [t.offer("saw", {})])
}

test_cutting_one_without if {
	tools.finding.cutting == {{
		"at": "household",
		"level": "note",
		"because": ["packs/rust/knife"],
		"text": "Ben carries nothing to cut with",
	}} with input as offers("cut", [t.offer("knife", {})])
}

test_cutting_two_without if {
	tools.finding.cutting == {{
		"at": "household",
		"level": "note",
		"because": ["packs/rust/knife"],
		"text": "Ana and Ben carry nothing to cut with",
	}} with input as offers("cut", [t.offer("knife", {"carrier": "animals/bo"})])
}

test_cutting_by_age_and_who_is_beside[what] if {
	some what, c in {
		"at the age": [{"age_months": 192}, 1],
		"below": [{"age_months": 191}, 0],
		"never alone": [{"carries": false}, 0],
	}
	facts := with_people(offers("cut", [t.offer("knife", {})]), [t.person({}), t.person(object.union({"id": "people/ben"}, c[0]))])
	count(tools.finding.cutting) == c[1] with input as facts
}

test_mending_all_there if {
	count(tools.finding.mending) == 0 with input as offers("repair", [t.offer("cord", {}), t.offer("needle", {}), t.offer("tape", {})])
}

test_mending_each_missing if {
	every missing in ["cord", "tape", "needle"] {
		tools.finding.mending == {{
			"at": "household",
			"text": sprintf("the household has no %s for repairs", [missing]),
		}} with input as offers("repair", [t.offer(m, {}) | some m in ["cord", "tape", "needle"]; m != missing])
	}
}

test_mending_all_missing if {
	tools.finding.mending == {{
		"at": "household",
		"text": "the household has no cord, tape or needle for repairs",
	}} with input as offers("repair", [t.offer("glue", {})])
}

test_mending_not_asked_where_a_house_awaits[kind] if {
	some kind, bad in {"house": 0, "camp": 1}
	facts := object.union(offers("repair", []), {"plan": {"destination": {"kind": kind}}})
	count(tools.finding.mending) == bad with input as facts
	count(tools.finding.mending) == 0 with input as object.union(facts, {"plan": {"destination": {"beds": true}}})
}

test_work_gloves_at_the_limit if {
	count(tools.finding.work_gloves) == 0 with input as offers("gloves", [t.offer("work", {"count": 2})])
}

test_work_gloves_one_too_few if {
	tools.finding.work_gloves == {{
		"at": "household",
		"because": ["packs/rust/work"],
		"text": "quake: the household has 1 pair of work gloves for 2 people: 1 short",
		"level": "note",
	}} with input as offers("gloves", [t.offer("nitrile", {"count": 10}), t.offer("work", {})])
}

test_work_gloves_of_those_who_ride if {
	plan := {"hazards": ["quake"], "legs": [{}], "unread": [], "foot_mm": 500000}
	some_pairs := object.union(offers("gloves", [t.offer("work", {})]), {"plan": plan})
	count(tools.finding.work_gloves) == 0 with input as some_pairs
	count(tools.finding.work_gloves) == 1 with input as object.union(some_pairs, {"plan": {"foot_mm": 500001}})
	{f.text | some f in tools.finding.work_gloves} == {"quake: the household has no pair of work gloves for 2 people: 2 short"} with input as object.union(some_pairs, {"capabilities": []})
}

test_work_gloves_none if {
	tools.finding.work_gloves == {{
		"at": "household",
		"because": [],
		"text": "flood and fire: the household has no pair of work gloves for 2 people: 2 short",
	}} with input as object.union(offers("gloves", []), {"plan": {"hazards": ["flood", "frost", "fire"]}})
}

test_work_gloves_by_age if {
	facts := with_people(offers("gloves", []), [t.person({"age_months": 144}), t.person({"age_months": 143})])
	some f in tools.finding.work_gloves with input as facts
	endswith(f.text, "quake: the household has no pair of work gloves for 1 person: 1 short")
}

test_work_gloves_of_the_unwell if {
	every fitness in ["poor", "unwell"] {
		count(tools.finding.work_gloves) == 0 with input as with_people(offers("gloves", []), [t.person({"fitness": fitness})])
	}
}

test_work_gloves_by_hazard[hazard] if {
	some hazard, bad in {"quake": 1, "flood": 1, "fire": 1, "storm": 1, "heat": 0, "industrial": 0}
	count(tools.finding.work_gloves) == bad with input as object.union(offers("gloves", []), {"plan": {"hazards": [hazard]}})
}

test_cutting_not_recorded[what] if {
	some what, c in {
		"a knife": [t.unread(["cut", "cut:knife"], {}), ["not recorded"]],
		"a saw": [t.unread(["cut", "cut:saw"], {}), [""]],
		"an animal's": [t.unread(["cut", "cut:knife"], {"carrier": "animals/bo"}), ["not recorded"]],
	}
	t.levels(tools.finding.cutting) == c[1] with input as t.with_unread(offers("cut", []), [c[0]])
}

test_cutting_rides_along if {
	facts := with_people(offers("cut", [t.offer("knife", {})]), [t.person({}), t.person({"id": "people/ben", "name": "Ben"})])
	count(tools.finding.cutting) == 1 with input as facts
	count(tools.finding.cutting) == 0 with input as object.union(facts, {"plan": {"ridden": true}})
	count(tools.finding.cutting) == 1 with input as object.union(with_people(offers("cut", []), [t.person({})]), {"plan": {"ridden": true}})
}

test_cutting_not_recorded_of_one if {
	facts := offers("cut", [t.offer("knife", {})])
	count(tools.finding.cutting) == 0 with input as t.with_unread(facts, [t.unread(["cut", "cut:knife"], {"carrier": "people/ben"})])
	count(tools.finding.cutting) == 1 with input as t.with_unread(facts, [t.unread(["cut", "cut:knife"], {})])
}
