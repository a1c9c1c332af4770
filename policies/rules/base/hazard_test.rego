package rules.base.hazard_test

import data.lib.testing_test as t
import data.rules.base.hazard

place(key, more) := object.union({"id": sprintf("plan/meetingPoints/%s", [key]), "key": key, "altitude_known": true, "altitude_mm": 9000, "safe_from": []}, more)

# Home at 12 m, floods.
wet(places, more) := {"plan": t.plan(object.union({"hazards": ["flood"], "home_altitude_known": true, "home_altitude_mm": 12000, "meeting_places": places}, more))}

test_meeting_point_below_home if {
	hazard.finding.meeting_point == {{
		"at": "plan/meetingPoints/mill/altitude",
		"because": ["plan/home/altitude", "plan/hazards"],
		"text": "meeting point “mill” lies at 9 m and home at 12 m: a flood reaches both",
		"level": "error",
	}} with input as wet([place("mill", {})], {})
	{f.level | some f in hazard.finding.meeting_point} == {"error"} with input as wet([place("mill", {"altitude_mm": 12000})], {})
	count(hazard.finding.meeting_point) == 0 with input as wet([place("mill", {"altitude_mm": 12001})], {})
}

test_meeting_point_with_a_better_one_is_a_warning if {
	{[f.at, f.level] | some f in hazard.finding.meeting_point} == {["plan/meetingPoints/mill/altitude", "warning"]} with input as wet([place("hill", {"altitude_mm": 12001}), place("mill", {})], {})
	{[f.at, f.level] | some f in hazard.finding.meeting_point} == {["plan/meetingPoints/mill/altitude", "warning"]} with input as wet([place("dam", {"altitude_known": false, "safe_from": ["flood"]}), place("mill", {})], {})
}

test_meeting_point_of_several_dangers if {
	{[f.text, f.level] | some f in hazard.finding.meeting_point; f.level != "note"} == {["meeting point “mill” lies at 9 m and home at 12 m: a tsunami reaches both", "error"]} with input as wet([place("mill", {"safe_from": ["flood"]})], {"hazards": ["fire", "flood", "tsunami"]})
	{f.text | some f in hazard.finding.meeting_point} == {"meeting point “mill” lies at 9 m and home at 12 m: a flood or tsunami reaches both"} with input as wet([place("mill", {})], {"hazards": ["flood", "tsunami"]})
}

test_meeting_point_below_home_that_is_written_safe if {
	hazard.finding.meeting_point == {{
		"at": "plan/meetingPoints/mill/altitude",
		"because": ["plan/home/altitude", "plan/hazards"],
		"text": "meeting point “mill” is recorded as safe from flood, and at 9 m it lies lower than home at 12 m: make sure that the authority's map shows it dry",
		"level": "note",
	}} with input as wet([place("mill", {"safe_from": ["flood"]})], {"hazards": ["flood", "frost"]})
	[[f.level, contains(f.text, "safe from flood and tsunami, and")] | some f in hazard.finding.meeting_point] == [["warning", true]] with input as wet([place("mill", {"safe_from": ["tsunami", "flood"]})], {"hazards": ["flood", "tsunami"]})
	count(hazard.finding.meeting_point) == 1 with input as wet([place("mill", {"safe_from": ["flood"], "altitude_mm": 11999})], {})
	count(hazard.finding.meeting_point) == 0 with input as wet([place("mill", {"safe_from": ["flood"], "altitude_mm": 12000})], {})
	count(hazard.finding.meeting_point) == 0 with input as wet([place("mill", {"safe_from": ["flood"], "altitude_known": false})], {})
	count(hazard.finding.meeting_point) == 0 with input as wet([place("mill", {"safe_from": ["flood"]})], {"home_altitude_known": false})
	count(hazard.finding.meeting_point) == 0 with input as wet([place("mill", {"safe_from": ["flood"]})], {"hazards": ["frost"]})
}

test_meeting_point_of_which_nothing_is_known if {
	every more in [{"home_altitude_known": false, "home_altitude_mm": 0}, {"places": [place("mill", {"altitude_known": false})]}] {
		places := object.get(more, "places", [place("mill", {}), place("oak", {})])
		some f in hazard.finding.meeting_point with input as wet(places, more)
		f == {
			"at": "plan/meetingPoints/mill",
			"because": [p.id | some p in places],
			"text": "it is not recorded whether any meeting point is safe from flood: write home: altitude and the points' altitude, or safeFrom",
			"level": "note",
		}
	}
}

test_meeting_point_at_the_sea_of_a_home_that_is_not_written if {
	{f.level | some f in hazard.finding.meeting_point} == {"note"} with input as wet([place("pier", {"altitude_mm": 0})], {"home_altitude_known": false, "home_altitude_mm": 0})
}

test_meeting_point_one_danger_is_clear if {
	{f.text | some f in hazard.finding.meeting_point} == {"it is not recorded whether any meeting point is safe from tsunami: write home: altitude and the points' altitude, or safeFrom"} with input as wet([place("oak", {"altitude_known": false, "safe_from": ["flood"]})], {"hazards": ["flood", "tsunami"]})
}

test_meeting_point_not_asked[what] if {
	some what, facts in {
		"no water": wet([place("mill", {})], {"hazards": ["quake"]}),
		"no meeting points": wet([], {}),
		"“all” is known": wet([place("hill", {"altitude_mm": 20000}), place("oak", {"altitude_known": false})], {}),
	}
	count(hazard.finding.meeting_point) == 0 with input as facts
}

test_two_ways if {
	hazard.finding.two_ways == {{
		"at": "plan/hazards",
		"text": "a fire or flood may shut the way out, and 1 way out is recorded; 2 are needed",
	}} with input as {"plan": t.plan({"hazards": ["fire", "flood", "frost"], "ways": 1})}
	{f.text | some f in hazard.finding.two_ways} == {"a volcano may shut the way out, and no way out is recorded; 2 are needed"} with input as {"plan": t.plan({"hazards": ["volcano"]})}
	every h in ["industrial", "tsunami"] {
		count(hazard.finding.two_ways) == 1 with input as {"plan": t.plan({"hazards": [h]})}
	}
	count(hazard.finding.two_ways) == 0 with input as {"plan": t.plan({"hazards": ["fire"], "ways": 2})}
	count(hazard.finding.two_ways) == 0 with input as {"plan": t.plan({"hazards": ["frost"], "ways": 1})}
	strict := {"limits": [{"area": "hazard", "name": "ways", "list": false, "value": 3, "values": []}], "plan": t.plan({"hazards": ["fire"], "ways": 2})}
	{f.text | some f in hazard.finding.two_ways} == {"a fire may shut the way out, and 2 ways out are recorded; 3 are needed"} with input as strict
}

# 444 m: 10 minutes at 44.4 m a minute, and 6 to start.
late(min, plan, people) := {
	"plan": t.plan(object.union({"warning_known": true, "warning_min": min, "legs": [leg({}), leg({"distance_mm": 900000})]}, plan)),
	"people": [t.person(p) | some p in people],
}

leg(more) := object.union({"id": "plan/legs/one", "ridden": false, "ride_min": 0, "distance_mm": 444000}, more)

test_in_time if {
	count(hazard.finding.in_time) == 0 with input as late(16, {}, [{}])
	hazard.finding.in_time == {{
		"at": "plan/legs/one",
		"because": ["plan/warning"],
		"text": "the danger arrives 15 min after the warning; starting and going the first leg takes 16 min: 1 min too long",
		"level": "warning",
	}} with input as late(15, {}, [{}])
	{f.level | some f in hazard.finding.in_time} == {"error"} with input as late(15, {"hazards": ["tsunami"]}, [{}])
	count(hazard.finding.in_time) == 1 with input as late(16, {"legs": [leg({"distance_mm": 444001})]}, [{}])
}

# 14 minutes at 32.4 m a minute, rounded up.
test_in_time_with_the_slow if {
	every more in [{"age_months": 143}, {"age_months": 780, "fitness": "fair"}, {"fitness": "poor"}, {"fitness": "unwell"}, {"moves": "cane"}, {"moves": "frame"}, {"moves": "crutches"}, {"moves": "prosthesis"}, {"moves": "wheelchair"}] {
		slow := object.union(more, {"id": "people/mia", "name": "Mia"})
		count(hazard.finding.in_time) == 0 with input as late(20, {}, [{}, slow])
		{f.text | some f in hazard.finding.in_time} == {"the danger arrives 19 min after the warning; starting and going the first leg takes 20 min with Mia: 1 min too long"} with input as late(19, {}, [{}, slow])
		{f.text | some f in hazard.finding.in_time} == {"the danger arrives 8 min after the warning; starting and going the first leg takes 9 min: 1 min too long"} with input as late(8, {"legs": [leg({"ridden": true, "ride_min": 3})]}, [{}, slow])
	}
	mia := {"age_months": 100}
	count(hazard.finding.in_time) == 0 with input as late(20, {"legs": [leg({"distance_mm": 453600})]}, [mia])
	count(hazard.finding.in_time) == 1 with input as late(20, {"legs": [leg({"distance_mm": 453601})]}, [mia])
	every more in [{"age_months": 144}, {"age_months": 779, "fitness": "fair"}, {"age_months": 780, "fitness": "good"}, {"age_months": 143, "age_known": false}, {"moves": "power-chair"}] {
		count(hazard.finding.in_time) == 0 with input as late(16, {}, [more])
	}
}

test_in_time_not_asked[what] if {
	some what, plan in {"no warning time": {"warning_known": false}, "no route": {"legs": []}}
	count(hazard.finding.in_time) == 0 with input as late(1, plan, [{}])
}

# Ana, and Ben of an age.
gear(hazards, months, offers) := {
	"plan": t.plan({"hazards": hazards}),
	"household": t.household({}),
	"people": [t.person({}), t.person({"id": "people/ben", "name": "Ben", "age_months": months})],
	"capabilities": [t.capability("protect", offers)],
	"radios": [],
}

test_eyes if {
	hazard.finding.eyes == {{
		"at": "household",
		"because": ["people/ana", "people/ben"],
		"text": "ash: Ana and Ben have no goggles",
		"level": "warning",
		"lack": 2,
	}} with input as gear(["volcano"], 24, [t.offer("helmet", {})])
	hazard.finding.eyes == {{
		"at": "packs/rust",
		"because": ["people/ben"],
		"text": "smoke: Ben has no goggles",
		"level": "note",
		"lack": 1,
	}} with input as gear(["fire"], 24, [t.offer("goggles", {})])
	{f.text | some f in hazard.finding.eyes} == {"ash: Ana has no goggles"} with input as gear(["fire", "volcano"], 23, [])
	count(hazard.finding.eyes) == 0 with input as gear(["volcano"], 24, [t.offer("goggles", {"count": 2})])
	count(hazard.finding.eyes) == 0 with input as gear(["flood"], 24, [])
}

test_quake_head if {
	hazard.finding.quake_head == {{
		"at": "household",
		"text": "a quake is a danger here, and nobody has a helmet or a padded hood",
	}} with input as gear(["quake"], 480, [t.offer("goggles", {})])
	count(hazard.finding.quake_head) == 0 with input as gear(["quake"], 480, [t.offer("helmet", {})])
	count(hazard.finding.quake_head) == 0 with input as gear(["flood"], 480, [])
}

stay(radios, means) := object.union(gear(["industrial"], 480, []), {"radios": radios, "capabilities": [t.capability("repair", [t.offer(means, {})])]})

test_stay_in if {
	hazard.finding.stay_in == {{
		"at": "household",
		"text": "to stay indoors after an industrial accident the household has no tape to seal a room and no radio for the news",
	}} with input as stay([t.radio({})], "cord")
	{f.text | some f in hazard.finding.stay_in} == {"to stay indoors after an industrial accident the household has no tape to seal a room"} with input as stay([t.radio({"receives": ["am"]})], "cord")
	{f.text | some f in hazard.finding.stay_in} == {"to stay indoors after an industrial accident the household has no radio for the news"} with input as stay([], "tape")
	count(hazard.finding.stay_in) == 0 with input as stay([t.radio({"receives": ["am"]})], "tape")
	count(hazard.finding.stay_in) == 0 with input as object.union(stay([], "cord"), {"plan": {"hazards": ["flood"]}})
}

# Two meeting points, safe from these.
points(hazards, near, far) := {"plan": t.plan({"hazards": hazards, "meeting_places": [place("near", {"safe_from": near}), place("far", {"safe_from": far})]})}

test_meeting_point_that_is_not_safe_where_another_is if {
	hazard.finding.meeting_point == {{
		"at": "plan/meetingPoints/near",
		"because": ["plan/hazards", "plan/meetingPoints/far"],
		"text": "meeting point “near” is not recorded as safe from quake or industrial, and “far” is: write safeFrom there, or do not count on it then",
		"level": "warning",
	}} with input as points(["quake", "fire", "industrial"], ["fire"], ["quake", "fire", "industrial"])
	{f.level | some f in hazard.finding.meeting_point} == {"note"} with input as points(["volcano"], [], ["volcano"])
	{f.text | some f in hazard.finding.meeting_point; f.level == "warning"} == {"meeting point “near” is not recorded as safe from quake, and “far” is: write safeFrom there, or do not count on it then"} with input as points(["quake", "industrial"], ["fire"], ["quake"])
}

test_meeting_point_names_what_another_is_safe_from if {
	[f.text | some f in hazard.finding.meeting_point] == ["meeting point “near” is not recorded as safe from quake, and “far” is: write safeFrom there, or do not count on it then"] with input as points(["quake", "frost"], [], ["quake"])
}

# Of fire, from which no place is safe, another finding speaks.
test_meeting_point_names_no_danger_that_no_place_is_safe_from if {
	{f.text | some f in hazard.finding.meeting_point} == {
		"meeting point “near” is not recorded as safe from quake, and “far” is: write safeFrom there, or do not count on it then",
		"no meeting point is recorded as safe from fire: write safeFrom where the map of the authority, or bare ground, says so",
	} with input as points(["quake", "fire"], [], ["quake"])
}

test_meeting_point_of_several_that_are_safe if {
	facts := points(["fire"], [], ["fire"])
	three := object.union(facts, {"plan": object.union(facts.plan, {"meeting_places": array.concat(facts.plan.meeting_places, [place("hill", {"safe_from": ["fire"]})])})})
	[f.text | some f in hazard.finding.meeting_point] == ["meeting point “near” is not recorded as safe from fire, and “far” and “hill” are: write safeFrom there, or do not count on it then"] with input as three
}

test_meeting_point_safe_or_unsaid_everywhere[why] if {
	some why, facts in {
		"both": points(["fire"], ["fire"], ["fire"]),
		"neither": points(["quake"], [], []),
		"another danger": points(["frost"], ["quake"], ["quake"]),
		"no meeting points": {"plan": t.plan({"hazards": ["fire"]})},
		"frost comes everywhere": points(["frost"], [], ["frost"]),
	}
	count(hazard.finding.meeting_point) == 0 with input as facts
}

test_meeting_point_of_which_none_is_written_safe if {
	hazard.finding.meeting_point == {{
		"at": "plan/meetingPoints/near",
		"because": ["plan/hazards", "plan/meetingPoints/near", "plan/meetingPoints/far"],
		"text": "no meeting point is recorded as safe from fire or volcano: write safeFrom where the map of the authority, or bare ground, says so",
		"level": "note",
	}} with input as points(["fire", "quake", "volcano"], [], ["flood"])
}
