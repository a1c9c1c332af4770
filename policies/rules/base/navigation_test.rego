package rules.base.navigation_test

import data.lib.testing_test as t
import data.rules.base.navigation

# Ana on the way through these settings, with papers.
way(settings, papers) := {
	"household": t.household({"pack_count": 1}),
	"plan": t.plan({"settings": settings}),
	"people": [t.person({})],
	"papers": papers,
}

map(covers) := t.paper({"name": "Map", "map": true, "covers": covers})

test_map_for_settings_covers_all if {
	papers := [map(["town"]), map(["coast", "woodland"])]
	count(navigation.finding.map_for_settings) == 0 with input as way(["town", "woodland"], papers)
}

test_map_for_settings_one_missing if {
	papers := [map(["town"]), t.paper({"id": "packs/rust/notes", "covers": ["woodland"]})]
	navigation.finding.map_for_settings == {{
		"at": "plan/settings",
		"because": ["packs/rust/papers"],
		"text": "the household's maps show 1 of the 2 kinds of country planned for; missing: woodland, 1 too few",
	}} with input as way(["town", "woodland"], papers)
}

test_map_for_settings_names_a_map_that_does_not_say if {
	papers := [map(["desert"]), object.union(map([]), {"id": "packs/rust/old", "name": "Old map"})]
	navigation.finding.map_for_settings == {{
		"at": "plan/settings",
		"because": ["packs/rust/papers", "packs/rust/old"],
		"text": "the household's maps show 0 of the 2 kinds of country planned for; missing: town and woodland, 2 too few; not written what it shows: Old map",
	}} with input as way(["town", "woodland"], papers)
}

test_map_for_settings_not_asked_without_settings if {
	count(navigation.finding.map_for_settings) == 0 with input as way([], [])
}

test_map_for_settings_not_asked_without_packs if {
	facts := object.union(way(["town"], []), {"household": t.household({"pack_count": 0})})
	count(navigation.finding.map_for_settings) == 0 with input as facts
}

finders(settings, means) := object.union(way(settings, []), {"capabilities": [t.capability("navigate", [t.offer(m, {}) | some m in means])]})

test_compass_there if {
	count(navigation.finding.compass) == 0 with input as finders(["woodland"], ["phone", "compass"])
}

test_compass_missing if {
	navigation.finding.compass == {{
		"at": "household",
		"because": ["plan/settings"],
		"text": "the way leads through desert and snow and the household has 0 compasses; 1 is asked: 1 too few",
	}} with input as finders(["desert", "snow", "town"], ["phone"])
}

test_compass_asked_in_each_country if {
	every setting in ["woodland", "desert", "snow", "coast"] {
		count(navigation.finding.compass) == 1 with input as finders([setting], [])
	}
}

test_compass_not_asked_in_town if {
	count(navigation.finding.compass) == 0 with input as finders(["town"], [])
}

test_compass_not_asked_without_packs if {
	facts := object.union(finders(["woodland"], []), {"household": t.household({"pack_count": 0})})
	count(navigation.finding.compass) == 0 with input as facts
}

test_map_each_there if {
	count(navigation.finding.map_each) == 0 with input as way([], [map([])])
}

test_map_each_missing if {
	navigation.finding.map_each == {{
		"at": "people/ana",
		"text": "Ana has 0 maps on paper; 1 is asked: 1 too few",
	}} with input as way([], [])
}

test_map_each_with_another_or_no_map if {
	every paper in [t.paper({}), object.union(map([]), {"carrier": "people/ben"})] {
		count(navigation.finding.map_each) == 1 with input as way([], [paper])
	}
}

test_map_each_not_asked_of_children_and_people_without_packs if {
	every more in [{"adult": false}, {"pack_count": 0}] {
		count(navigation.finding.map_each) == 0 with input as object.union(way([], []), {"people": [t.person(more)]})
	}
}

agreed(people, points, contacts, far) := {
	"household": t.household({"people_count": people}),
	"plan": t.plan({"meeting_points": points, "contacts": contacts, "contacts_out_of_area": far}),
}

test_meeting_points_at_the_limit if {
	count(navigation.finding.meeting_points) == 0 with input as agreed(2, 2, 0, 0)
}

test_meeting_points_one_too_few if {
	navigation.finding.meeting_points == {{
		"at": "plan/meetingPoints",
		"text": "the plan of 2 people names 1 meeting point; 2 are asked: 1 too few",
	}} with input as agreed(2, 1, 0, 0)
}

test_meeting_points_without_any if {
	navigation.finding.meeting_points == {{
		"at": "plan/meetingPoints",
		"text": "the plan of 3 people names 0 meeting points; 2 are asked: 2 too few",
	}} with input as agreed(3, 0, 0, 0)
}

test_meeting_points_not_asked_of_one_person if {
	count(navigation.finding.meeting_points) == 0 with input as agreed(1, 0, 0, 0)
}

test_out_of_area_at_the_limit if {
	count(navigation.finding.out_of_area) == 0 with input as agreed(1, 0, 1, 1)
}

test_out_of_area_one_too_few if {
	navigation.finding.out_of_area == {{
		"at": "plan/contacts",
		"text": "the plan has 1 contact, 0 of them far away; 1 asked: 1 too few",
	}} with input as agreed(1, 0, 1, 0)
}

test_out_of_area_of_more_contacts if {
	navigation.finding.out_of_area == {{
		"at": "plan/contacts",
		"text": "the plan has 2 contacts, 0 of them far away; 1 asked: 1 too few",
	}} with input as agreed(2, 0, 2, 0)
}

test_out_of_area_not_asked_without_people if {
	count(navigation.finding.out_of_area) == 0 with input as agreed(0, 0, 0, 0)
}

test_map_for_settings_asked_of_each_but_snow if {
	every setting in ["town", "woodland", "desert", "coast"] {
		count(navigation.finding.map_for_settings) == 1 with input as way([setting], [])
	}
	count(navigation.finding.map_for_settings) == 0 with input as way(["snow"], [])
}
