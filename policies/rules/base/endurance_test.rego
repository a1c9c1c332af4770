package rules.base.endurance_test

import data.lib.testing_test as t
import data.rules.base.endurance

# A plan of 72 hours in which nothing is short.
stock(more) := object.union(
	{
		"id": "endurance/water",
		"kind": "water",
		"body": "",
		"body_name": "",
		"name": "",
		"known": true,
		"lasts": 72,
		"first_short": 0,
		"short": 0,
		"have": 10000,
		"need": 10000,
		"lowest": 0,
		"raw_j": 0,
		"for_one": [],
		"unwritten": 0,
	},
	more,
)

facts(stocks) := {
	"household": t.household({}),
	"plan": t.plan({"water_sources": [{"id": "plan/waterSources/brook", "quality": "clear"}]}),
	"carriers": [],
	"animals": [],
	"endurance": {
		"id": "endurance",
		"hours": 72,
		"minutes": 4320,
		"passed": [],
		"water_limit": "sources",
		"heat_category": 0,
		"heat_hour": 0,
		"hottest_hour": 0,
		"heat_beyond": false,
		"walk_mc": 0,
		"chill_known": true,
		"chill_mc": 4000,
		"chill_hour": 0,
		"stocks": [stock(s) | some s in stocks],
		"days": [
			{"id": "endurance/day-1", "day": 1, "find_ml": 200, "walk_min": 480},
			{"id": "endurance/day-2", "day": 2, "find_ml": 3000, "walk_min": 0},
			{"id": "endurance/day-3", "day": 3, "find_ml": 1000, "walk_min": 0},
		],
		"bodies": [],
	},
}

# The same with a part of the forecast replaced.
but(more) := object.union(facts([]), {"endurance": object.union(facts([]).endurance, more)})

all_findings := {name: f |
	some name in ["light", "load_share", "route", "long_day"]
	f := endurance.finding[name]
}

test_nothing_is_said_where_all_lasts if {
	every _, f in all_findings { count(f) == 0 } with input as facts([
		{},
		{"kind": "energy"},
		{"kind": "sodium"},
		{"kind": "light"},
		{"kind": "fuel"},
	])
}

# Ana with a lamp, or what else she has, and the stock of light.
lit(person, lights, stock) := object.union(
	facts([object.union({"id": "endurance/light", "kind": "light"}, stock)]),
	{"people": [t.person(person)], "capabilities": [t.capability("light", lights)]},
)

lamp := [t.offer("headlamp", {})]

test_light_one_minute_too_little if {
	endurance.finding.light == {{
		"at": "endurance/light",
		"text": "light runs out after 31 h of 72 h; the lamps run 20 h and the dark hours take 20 h 1 min: 1 min short",
	}} with input as lit({}, lamp, {
		"have": 1200,
		"need": 1201,
		"short": 1,
		"lasts": 31,
	})
}

# It stands at the lamp that ends first, or in frost at the weak batteries of a lamp.
test_light_stands_at_the_lamp[why] if {
	some why, c in {
		"no lamp's hours are known": [[{"run_known": false}], [], 0, "endurance/light"],
		"no lamp": [[{"light": false}], [], 0, "endurance/light"],
		"the first to end": [[{}, {"id": "packs/moss/lamp", "run_total_min": 59}], [], 0, "packs/moss/lamp"],
		"weak in frost": [[{}], [{}], -1, "packs/rust/cells"],
		"weak too": [[{}], [{"chemistry": "zinc-carbon"}], -1, "packs/rust/cells"],
		"strong in frost": [[{}], [{"chemistry": "lithium"}], -1, "packs/rust/lamp"],
		"no frost": [[{}], [{}], 0, "packs/rust/lamp"],
		"another size": [[{}], [{"size": "D"}], -1, "packs/rust/lamp"],
		"of a radio": [[{"light": false}], [{}], -1, "endurance/light"],
	}
	facts := object.union(lit({}, lamp, {"have": 0, "need": 60, "short": 60}), {
		"devices": [t.device(object.union({"id": "packs/rust/lamp", "size": "AAA", "light": true, "run_known": true, "run_total_min": 60}, d)) | some d in c[0]],
		"cells": [t.cells(object.union({"id": "packs/rust/cells", "size": "AAA", "chemistry": "alkaline"}, x)) | some x in c[1]],
		"plan": t.plan({"season_known": true, "night_mc": c[2]}),
	})
	{f.at | some f in endurance.finding.light} == {c[3]} with input as facts
}

test_light_in_frost_without_a_season if {
	facts := object.union(lit({}, lamp, {"have": 0, "need": 60, "short": 60}), {
		"devices": [t.device({"id": "packs/rust/lamp", "size": "AAA", "light": true, "run_known": true})],
		"cells": [t.cells({"size": "AAA", "chemistry": "alkaline"})],
		"plan": t.plan({"season_known": false, "night_mc": -5000}),
	})
	{f.at | some f in endurance.finding.light} == {"packs/rust/lamp"} with input as facts
}

test_light_an_hour_too_little if {
	some f in endurance.finding.light with input as lit({}, lamp, {"have": 0, "need": 60, "short": 60, "lasts": 0})
	f.text == "light runs out in the first hour of 72 h; the lamps run 0 h and the dark hours take 1 h: 1 h short"
}

test_light_is_left_to_another_rule_where_nobody_has_any[what] if {
	phone := {"alone": t.supply({"can": [t.can("communicate", ["phone"])]})}
	some what, c in {
		"nobody": [{}, [], 0],
		"a candle": [{}, [t.offer("candle", {})], 0],
		"somebody else's": [{}, [t.offer("headlamp", {"carrier": "animals/bo"})], 0],
		"too young": [{"age_months": 59}, lamp, 0],
		"old enough": [{"age_months": 60}, lamp, 1],
		"a phone": [phone, [], 1],
	}
	count(endurance.finding.light) == c[2] with input as lit(c[0], c[1], {"have": 1, "short": 60})
}

# Ana of 70 kg sets out with 10 kg and bears so much on the way.
borne(carrier, most) := object.union(
	but({"bodies": [
		{"id": "people/ben", "most_mg": 99000000, "most_hour": 1},
		{"id": "people/ana", "most_mg": most, "most_hour": 7},
	]}),
	{"carriers": [t.carrier(object.union({"load_mg": 6000000}, carrier))], "vessels": []},
)

test_load_share_at_the_limit if {
	count(endurance.finding.load_share) == 0 with input as borne({}, 10500000)
}

test_load_share_one_too_many if {
	endurance.finding.load_share == {{
		"at": "people/ana/load",
		"because": ["people/ana/load"],
		"text": "Ana starts with 6.00 kg and carries 10.50 kg in hour 7 of the plan, with water collected on the way, 15.1 % of body weight; the cap is 15 %: over by 1 mg; nobody else has room",
		"level": "note",
	}} with input as borne({}, 10500001)
}

# It stands at the vessel that takes most, of those in the carrier's packs.
test_load_share_at_the_vessel if {
	vessels := {"vessels": [
		t.vessel({"id": "packs/rust/a", "capacity_ml": 3000, "water_ml": 2000}),
		t.vessel({"id": "packs/rust/b", "capacity_ml": 2000, "water_ml": 0}),
		t.vessel({"id": "packs/rust/c", "capacity_ml": 9000, "pack": ""}),
		t.vessel({"id": "packs/moss/d", "capacity_ml": 9000, "carrier": "people/ben"}),
	]}
	{f.at | some f in endurance.finding.load_share} == {"packs/rust/b"} with input as object.union(borne({}, 10500001), vessels)
}

test_load_share_of_the_weak_is_a_warning if {
	every more in [{"adult": false}, {"kind": "animal"}, {"fitness": "poor"}, {"age_months": 780}] {
		{f.level | some f in endurance.finding.load_share} == {"warning"} with input as borne(more, 10500001)
	}
	loose := {"limits": [{"area": "load", "name": n, "list": false, "value": 150, "values": []} | some n in ["child_cap", "animal_cap"]]}
	every more in [{"adult": false}, {"kind": "animal"}] {
		{f.level | some f in endurance.finding.load_share} == {"warning"} with input as object.union(loose, borne(more, 10500001))
	}
	{f.level | some f in endurance.finding.load_share} == {"warning"} with input as borne({"kind": "animal", "cap_known": true, "cap_permille": 150}, 10500001)
}

test_load_share_by_each_cap if {
	every c in [
		{"carrier": {"adult": false}, "most": 7000000},
		{"carrier": {"kind": "animal"}, "most": 7000000},
		{"carrier": {"cap_known": true, "cap_permille": 120}, "most": 8400000},
		{"carrier": {"fitness": "unwell"}, "most": 7000000},
		{"carrier": {"age_months": 780}, "most": 7000000},
		{"carrier": {"fitness": "unwell", "cap_known": true, "cap_permille": 90}, "most": 6300000},
		{"carrier": {"fitness": "unwell", "kind": "animal", "cap_known": true, "cap_permille": 120}, "most": 8400000},
		{"carrier": {"fitness": "unwell", "adult": false, "cap_known": true, "cap_permille": 120}, "most": 8400000},
	] {
		count(endurance.finding.load_share) == 0 with input as borne(c.carrier, c.most)
		count(endurance.finding.load_share) == 1 with input as borne(c.carrier, c.most + 1)
	}
}

test_load_share_too_heavy_at_the_start_is_the_load_rules if {
	count(endurance.finding.load_share) == 1 with input as borne({"load_mg": 10500000}, 10500001)
	count(endurance.finding.load_share) == 0 with input as borne({"load_mg": 10500001}, 10500001)
}

legs(list) := object.union(facts([]), {"plan": {"legs": list}})

test_route_that_is_walked if {
	count(endurance.finding.route) == 0 with input as legs([{"id": "plan/legs/one", "arrives": true, "begin_hour": 0}])
}

test_route_that_is_not if {
	endurance.finding.route == {{
		"at": "plan/legs/two",
		"text": "when the plan of 72 h ends, this leg, begun in hour 0, is not finished, and 1 more leg follows",
	}} with input as legs([
		{"id": "plan/legs/one", "arrives": true, "begin_hour": 0},
		{"id": "plan/legs/two", "arrives": false, "begin_hour": 0},
		{"id": "plan/legs/three", "arrives": false, "begin_hour": -1},
	])
	endurance.finding.route == {{
		"at": "plan/legs/one",
		"text": "when the plan of 72 h ends, this leg has not begun",
	}} with input as legs([{"id": "plan/legs/one", "arrives": false, "begin_hour": -1}])
}

days(list, people, bodies) := object.union(
	but({"days": [{"id": sprintf("endurance/day-%d", [i + 1]), "day": i + 1, "walk_min": m} | some i, m in list], "bodies": bodies}),
	{"people": [t.person(p) | some p in people]},
)

walker(id) := {"id": id, "walk_min": 1}

test_long_day if {
	endurance.finding.long_day == {{
		"at": "endurance/day-2",
		"because": [],
		"text": "day 2 of the plan has 8 h 1 min of walking; the most is 8 h: over by 1 min",
		"level": "note",
	}} with input as days([480, 481, 481], [{}], [walker("people/ana")])
	count(endurance.finding.long_day) == 0 with input as days([480], [{}], [walker("people/ana")])
}

test_long_day_of_the_weakest if {
	mia := {"id": "people/mia", "name": "Mia"}
	every c in [[83, 180], [84, 300], [143, 300], [780, 300]] {
		person := object.union(mia, {"age_months": c[0]})
		count(endurance.finding.long_day) == 0 with input as days([c[1]], [person], [walker("people/mia")])
		{f.level | some f in endurance.finding.long_day} == {"warning"} with input as days([c[1] + 1], [person], [walker("people/mia")])
	}
	every months in [144, 779] {
		count(endurance.finding.long_day) == 0 with input as days([480], [object.union(mia, {"age_months": months})], [walker("people/mia")])
	}
	endurance.finding.long_day == {{
		"at": "endurance/day-1",
		"because": ["people/mia"],
		"text": "day 1 of the plan has 4 h of walking; the most for Mia is 3 h: over by 1 h",
		"level": "warning",
	}} with input as days([240], [{"age_months": 800}, object.union(mia, {"age_months": 60})], [walker("people/ana"), walker("people/mia")])
}

test_long_day_not_of_those_who_do_not_walk[who] if {
	some who, facts in {
		"carried": days([400], [{"age_months": 60}], [{"id": "people/ana", "walk_min": 0}]),
		"of unknown age": days([400], [{"age_months": 60, "age_known": false}], [walker("people/ana")]),
		"somebody else walks": days([400], [{"age_months": 60}], [walker("people/ben")]),
	}
	count(endurance.finding.long_day) == 0 with input as facts
}

test_load_share_by_kilograms if {
	some f in endurance.finding.load_share with input as borne({}, 20500000)
	contains(f.text, "over by 10.00 kg")
}

test_load_share_not_recorded if {
	some f in endurance.finding.load_share with input as borne({"fitness": "poor", "body_mass_known": false, "load_known": false}, 10500001)
	f.level == "note"
	startswith(f.text, "Ana starts with at least 6.00 kg and carries")
	endswith(f.text, "(body weight is not recorded; 70 kg is assumed)")
}

# What is not recorded: containers by so much each, treatment where that is what fails.
test_water_not_recorded[what] if {
	bottle := {"what": "capacity", "name": "bottle"}
	some what, c in {
		"just enough": ["sources", 4000, [t.unread(["container"], object.union(bottle, {"count": 2}))], "not recorded", ""],
		"too little": ["sources", 4001, [t.unread(["container"], object.union(bottle, {"count": 2}))], "error", "; what “bottle” holds is not recorded"],
		"two names": ["sources", 9000, [t.unread(["container"], bottle), t.unread(["water"], {"name": "can"})], "error", "; what “can” and “bottle” hold is not recorded"],
		"treatment": ["treatment", 9000, [t.unread(["treat-water"], {})], "not recorded", ""],
		"treatment that does not help": ["vessels", 9000, [t.unread(["treat-water"], {})], "error", ""],
		"nothing that holds or treats": ["treatment", 9000, [t.unread(["fire"], {})], "error", ""],
	}
	dry := facts([{"short": c[1], "need": 10000, "lasts": 5, "first_short": 1}])
	thirsty := object.union(dry, {"endurance": object.union(dry.endurance, {"water_limit": c[0]}), "plan": t.plan({"water_named": true, "water_sources": [{"id": "plan/waterSources/brook", "quality": "clear"}]})})
	got := {f | some f in endurance.finding.water} with input as t.with_unread(thirsty, c[2])
	[[object.get({"": "error"}, t.level_of(f), t.level_of(f)), endswith(f.text, c[4]), contains(f.text, "is not recorded") == (c[4] != "")] | some f in got; not f.unrecorded] == [["error", true, true] | c[3] == "error"]
	t.levels(got) == [c[3]]
}

test_light_not_recorded[what] if {
	some what, c in {
		"a lamp": [["light", "light:torch"], "not recorded"],
		"batteries": [["cells"], "not recorded"],
		"a candle": [["light", "light:candle"], ""],
	}
	dim := lit({}, lamp, {"short": 60, "need": 600, "have": 540, "lasts": 9})
	t.levels(endurance.finding.light) == [c[1]] with input as t.with_unread(object.union(dim, {"devices": [], "cells": []}), [t.unread(c[0], {})])
}
