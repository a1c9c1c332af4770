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
	some name in ["light", "doses", "load_share", "route", "long_day"]
	f := endurance.finding[name]
}

test_nothing_is_said_where_all_lasts if {
	every _, f in all_findings { count(f) == 0 } with input as facts([
		{},
		{"kind": "energy"},
		{"kind": "sodium"},
		{"kind": "light"},
		{"kind": "doses"},
		{"kind": "fuel"},
	])
}

test_light_one_minute_too_little if {
	endurance.finding.light == {{
		"at": "endurance/light",
		"text": "light ends after 31 h of 72 h; the lamps run 20 h and the dark hours ask 20 h 1 min: 1 min too little",
	}} with input as facts([{
		"id": "endurance/light",
		"kind": "light",
		"have": 1200,
		"need": 1201,
		"short": 1,
		"lasts": 31,
	}])
}

test_light_an_hour_too_little if {
	some f in endurance.finding.light with input as facts([{"kind": "light", "have": 1, "need": 60, "short": 60, "lasts": 0}])
	f.text == "light ends in the first hour of 72 h; the lamps run 1 min and the dark hours ask 1 h: 1 h too little"
}

test_light_not_asked_without_a_lamp if {
	count(endurance.finding.light) == 0 with input as facts([{"kind": "light", "have": 0, "short": 60}])
	count(endurance.finding.light) == 1 with input as facts([{"kind": "light", "have": 1, "short": 60}])
}

test_doses_one_too_few if {
	endurance.finding.doses == {{
		"at": "people/ana/medications/thyroid/endurance",
		"text": "doses of thyroid (Ana) run out after 49 h of 72 h; the plan asks 3 doses and 2.5 are usable: 0.5 too few",
	}} with input as facts([{
		"id": "people/ana/medications/thyroid/endurance",
		"kind": "doses",
		"body": "people/ana",
		"body_name": "Ana",
		"name": "thyroid",
		"have": 2500,
		"need": 3000,
		"short": 500,
		"lasts": 49,
	}])
}

test_doses_not_asked_where_none_are_packed if {
	count(endurance.finding.doses) == 0 with input as facts([{"kind": "doses", "have": 0, "short": 3000}])
	count(endurance.finding.doses) == 1 with input as facts([{"kind": "doses", "have": 1, "short": 3000}])
}

# Ana of 70 kg sets out with 10 kg and bears so much on the way.
borne(carrier, most) := object.union(
	but({"bodies": [
		{"id": "people/ben", "most_mg": 99000000, "most_hour": 1},
		{"id": "people/ana", "most_mg": most, "most_hour": 7},
	]}),
	{"carriers": [t.carrier(object.union({"load_mg": 6000000}, carrier))]},
)

test_load_share_at_the_limit if {
	count(endurance.finding.load_share) == 0 with input as borne({}, 10500000)
}

test_load_share_one_too_many if {
	endurance.finding.load_share == {{
		"at": "people/ana/load",
		"text": "Ana sets out with 6.00 kg and bears 10.50 kg in hour 7 of the plan, with water collected on the way, 15.0 % of body mass; the cap is 15.0 %: 1 mg too much",
	}} with input as borne({}, 10500001)
}

test_load_share_by_each_cap if {
	every c in [
		{"carrier": {"adult": false}, "most": 7000000},
		{"carrier": {"kind": "animal"}, "most": 7000000},
		{"carrier": {"cap_known": true, "cap_permille": 120}, "most": 8400000},
		{"carrier": {"fitness": "unwell"}, "most": 7000000},
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
		"text": "when the plan of 72 h ends, this walk is under way since hour 0 and not done, nor 1 walk after it",
	}} with input as legs([
		{"id": "plan/legs/one", "arrives": true, "begin_hour": 0},
		{"id": "plan/legs/two", "arrives": false, "begin_hour": 0},
		{"id": "plan/legs/three", "arrives": false, "begin_hour": -1},
	])
	endurance.finding.route == {{
		"at": "plan/legs/one",
		"text": "when the plan of 72 h ends, this walk has not begun",
	}} with input as legs([{"id": "plan/legs/one", "arrives": false, "begin_hour": -1}])
}

test_long_day if {
	endurance.finding.long_day == {{
		"at": "endurance/day-2",
		"text": "on day 2 of the plan 8 h 1 min are walked; the most is 8 h: 1 min too much",
	}} with input as but({"days": [
		{"id": "endurance/day-1", "day": 1, "walk_min": 480},
		{"id": "endurance/day-2", "day": 2, "walk_min": 481},
		{"id": "endurance/day-3", "day": 3, "walk_min": 481},
	]})
}
