package rules.base.tools_test

import data.lib.testing_test as t
import data.rules.base.tools

offers(capability, list) := {
	"household": t.household({}),
	"people": [t.person({})],
	"capabilities": [t.capability(capability, list)],
}

test_cutting_each_means if {
	every means in ["knife", "multi-tool"] {
		count(tools.finding.cutting) == 0 with input as offers("cut", [t.offer(means, {})])
	}
}

test_cutting_missing if {
	every means in ["scissors", "saw"] {
		tools.finding.cutting == {{
			"at": "people/ana",
			"text": "Ana has none of these to cut with: knife, multi-tool; 1 is asked, 1 too few",
		}} with input as offers("cut", [t.offer(means, {})])
	}
}

test_cutting_with_somebody_else if {
	count(tools.finding.cutting) == 1 with input as offers("cut", [t.offer("knife", {"carrier": "people/mia"})])
}

test_cutting_asked_with_two_packs if {
	facts := object.union(offers("cut", []), {"people": [t.person({"pack_count": 2})]})
	count(tools.finding.cutting) == 1 with input as facts
}

test_cutting_not_asked_of_children if {
	facts := object.union(offers("cut", []), {"people": [t.person({"adult": false})]})
	count(tools.finding.cutting) == 0 with input as facts
}

test_cutting_not_asked_without_a_pack if {
	facts := object.union(offers("cut", []), {"people": [t.person({"pack_count": 0})]})
	count(tools.finding.cutting) == 0 with input as facts
}

test_mending_all_there if {
	count(tools.finding.mending) == 0 with input as offers("repair", [t.offer("cord", {}), t.offer("needle", {}), t.offer("tape", {})])
}

test_mending_each_missing if {
	every missing in ["cord", "tape", "needle"] {
		tools.finding.mending == {{
			"at": "household",
			"text": sprintf("the household has none of these to mend with: %s; of the 3 asked 2 are there, 1 too few", [missing]),
		}} with input as offers("repair", [t.offer(m, {}) | some m in ["cord", "tape", "needle"]; m != missing])
	}
}

test_mending_all_missing if {
	tools.finding.mending == {{
		"at": "household",
		"text": "the household has none of these to mend with: cord, tape and needle; of the 3 asked 0 are there, 3 too few",
	}} with input as offers("repair", [t.offer("glue", {})])
}

test_work_gloves_at_the_limit if {
	count(tools.finding.work_gloves) == 0 with input as offers("gloves", [t.offer("work", {"count": 2})])
}

test_work_gloves_one_too_few if {
	tools.finding.work_gloves == {{
		"at": "household",
		"because": ["packs/rust/work"],
		"text": "the household has 1 pair of work gloves for 2 adults: 1 pair too few",
	}} with input as offers("gloves", [t.offer("nitrile", {"count": 10}), t.offer("work", {})])
}

test_work_gloves_none if {
	tools.finding.work_gloves == {{
		"at": "household",
		"because": [],
		"text": "the household has 0 pairs of work gloves for 2 adults: 2 pairs too few",
	}} with input as offers("gloves", [])
}

test_work_gloves_not_asked_without_adults if {
	facts := object.union(offers("gloves", []), {"household": t.household({"adult_count": 0})})
	count(tools.finding.work_gloves) == 0 with input as facts
}

test_cutting_not_recorded if {
	thing := {"id": "packs/rust/x", "name": "pocket knife", "pack": "packs/rust", "carrier": "people/ana", "may": ["cut", "cut:knife"], "count": 1}
	facts := object.union(offers("cut", []), {"unrecorded": [thing]})
	[f.level | some f in tools.finding.cutting] == ["note"] with input as facts
}
