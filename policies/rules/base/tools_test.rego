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
			"text": "Ana has nothing of this to cut with: knife, multi-tool; 1 is asked, 1 too few",
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

test_cord_there if {
	count(tools.finding.cord) == 0 with input as offers("repair", [t.offer("cord", {})])
}

test_cord_missing if {
	every list in [[], [t.offer("tape", {})]] {
		tools.finding.cord == {{
			"at": "household",
			"text": "the household carries no cord: 1 is asked, 1 too few",
		}} with input as offers("repair", list)
	}
}

test_mending_all_there if {
	count(tools.finding.mending) == 0 with input as offers("repair", [t.offer("needle", {}), t.offer("tape", {})])
}

test_mending_one_missing if {
	tools.finding.mending == {{
		"at": "household",
		"text": "the household has nothing of this to mend with: needle; of the 2 asked 1 are there, 1 too few",
	}} with input as offers("repair", [t.offer("tape", {})])
	tools.finding.mending == {{
		"at": "household",
		"text": "the household has nothing of this to mend with: tape; of the 2 asked 1 are there, 1 too few",
	}} with input as offers("repair", [t.offer("needle", {})])
}

test_mending_all_missing if {
	tools.finding.mending == {{
		"at": "household",
		"text": "the household has nothing of this to mend with: tape and needle; of the 2 asked 0 are there, 2 too few",
	}} with input as offers("repair", [t.offer("cord", {})])
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

test_writing_each_means if {
	every means in ["pencil", "marker"] {
		count(tools.finding.writing) == 0 with input as offers("write", [t.offer(means, {})])
	}
}

test_writing_missing if {
	every list in [[], [t.offer("notebook", {})]] {
		tools.finding.writing == {{
			"at": "household",
			"text": "the household has nothing of this to write with: pencil, marker; 1 is asked, 1 too few",
		}} with input as offers("write", list)
	}
}
