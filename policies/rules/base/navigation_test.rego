package rules.base.navigation_test

import data.lib.testing_test as t
import data.rules.base.navigation

# Ana on the way through these settings, with papers.
way(settings, papers) := {
	"household": t.household({}),
	"plan": t.plan({"settings": settings}),
	"people": [t.person({})],
	"papers": papers,
	"capabilities": [],
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
		"text": "no map is recorded as covering woodland",
		"level": "warning",
	}} with input as way(["town", "woodland"], papers)
}

test_map_for_settings_stands_at_a_map_that_does_not_say if {
	papers := [map(["desert"]), object.union(map([]), {"id": "packs/rust/old", "name": "Old map"})]
	navigation.finding.map_for_settings == {{
		"at": "packs/rust/old",
		"because": ["packs/rust/papers", "packs/rust/old"],
		"text": "no map is recorded as covering town and woodland; what is covered is not recorded: Old map",
		"level": "note",
	}} with input as way(["town", "woodland"], papers)
}

test_map_for_settings_on_a_known_way[mm] if {
	some mm, level in {0: "warning", 1: "note", 2000000: "note", 2000001: "warning"}
	facts := object.union(way(["town"], []), {"plan": t.plan({"settings": ["town"], "distance_mm": mm})})
	{f.level | some f in navigation.finding.map_for_settings} == {level} with input as facts
}

test_map_for_settings_not_without_settings if {
	count(navigation.finding.map_for_settings) == 0 with input as way([], [])
}

finders(settings, means) := object.union(
	way(settings, [map(["town", "woodland", "desert", "coast"])]),
	{"capabilities": [t.capability("navigate", [t.offer(m, {}) | some m in means])]},
)

test_compass_there if {
	count(navigation.finding.compass) == 0 with input as finders(["woodland"], ["phone", "compass"])
}

test_compass_missing if {
	navigation.finding.compass == {{
		"at": "household",
		"because": ["plan/settings"],
		"text": "the way goes through desert and snow, and the household has no compass",
		"level": "note",
	}} with input as finders(["desert", "snow", "town"], ["phone"])
}

test_compass_off_the_path[ground] if {
	some ground in ["bog", "brush", "heavy-brush", "sand", "snow"]
	facts := object.union(finders([], []), {"plan": t.plan({"legs": [{"id": "plan/legs/a", "ground": "road"}, {"id": "plan/legs/b", "ground": ground}]})})
	navigation.finding.compass == {{
		"at": "household",
		"because": ["plan/settings", "plan/legs/b"],
		"text": "the way goes off road and path, and the household has no compass",
		"level": "warning",
	}} with input as facts
}

test_compass_in_each_country if {
	every setting in ["woodland", "desert", "snow", "coast"] {
		count(navigation.finding.compass) == 1 with input as finders([setting], [])
	}
}

test_compass_not_where_hardly_anyone_walks if {
	ride := {"plan": {"legs": [{"id": "plan/legs/a", "ground": "road"}], "foot_mm": 500000, "unread": []}}
	count(navigation.finding.compass) == 0 with input as object.union(finders(["woodland"], []), ride)
	count(navigation.finding.compass) == 1 with input as object.union(finders(["woodland"], []), {"plan": object.union(ride.plan, {"foot_mm": 500001})})
}

test_compass_not_in_town_and_after_the_map if {
	count(navigation.finding.compass) == 0 with input as finders(["town"], [])
	count(navigation.finding.compass) == 0 with input as way(["woodland"], [])
}

test_map_each_there if {
	count(navigation.finding.map_each) == 0 with input as way([], [map([])])
}

test_map_each_missing if {
	navigation.finding.map_each == {{
		"at": "packs/rust",
		"because": ["people/ana"],
		"text": "no paper map: Ana",
	}} with input as way([], [t.paper({}), object.union(map([]), {"carrier": "people/ben"})])
}

test_map_each_not_for_children_who_is_beside_another_and_after_the_map if {
	ben := t.person({"id": "people/ben", "with": ["people/ana"]})
	every more in [{"people": [t.person({"adult": false})]}, {"people": [ben], "papers": [map([])]}] {
		count(navigation.finding.map_each) == 0 with input as object.union(way([], []), more)
	}
	count(navigation.finding.map_each) == 0 with input as way(["town"], [])
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
		"text": "the plan names 1 meeting point and needs 2",
	}} with input as agreed(2, 1, 0, 0)
}

test_meeting_points_without_any if {
	navigation.finding.meeting_points == {{
		"at": "plan/meetingPoints",
		"text": "the plan names no meeting point and needs 2",
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
		"text": "the plan names no contact far away and needs 1",
	}} with input as agreed(1, 0, 1, 0)
}

test_out_of_area_of_more_contacts if {
	navigation.finding.out_of_area == {{
		"at": "plan/contacts",
		"text": "the plan names no contact far away and needs 1",
	}} with input as agreed(2, 0, 2, 0)
}

test_out_of_area_where_more_are_needed if {
	[f.text | some f in navigation.finding.out_of_area] == ["the plan names 1 contact far away and needs 2"] with input as agreed(1, 0, 1, 1)
		with data.limits.base.navigation.out_of_area.value as 2
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
