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
	some name in ["water", "energy", "sodium", "light", "doses", "fuel", "load_share", "route", "long_day", "heat", "cold"]
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

test_a_household_without_packs_is_told_by_other_rules if {
	short := {"short": 9000, "lasts": 1, "have": 1}
	bare := object.union(
		facts([object.union(short, {"kind": k}) | some k in ["water", "energy", "sodium", "light", "doses", "fuel"]]),
		{"household": {"pack_count": 0}},
	)
	every _, f in all_findings { count(f) == 0 } with input as bare
}

test_water_one_too_little if {
	endurance.finding.water == {{
		"at": "endurance/water",
		"because": [],
		"text": "water runs out after 30 h of 72 h: 1 ml is lacking in that hour, 1 ml of 10 L in the whole plan, and the sources on the way do not give it; on the worst day 3 L is to be found",
	}} with input as facts([{"short": 1, "first_short": 1, "lasts": 30}])
}

test_water_in_words if {
	every limit, words in {
		"vessels": "the vessels do not hold enough to the next water",
		"treatment": "the treatment packed does not clear enough in time",
		"vessels and treatment": "neither vessels nor treatment keep up",
	} {
		short := object.union(facts([{"short": 4000, "first_short": 500, "lasts": 0}]), {"endurance": {"water_limit": limit}})
		some f in endurance.finding.water with input as short
		f.text == sprintf("water runs out in the first hour of 72 h: 500 ml is lacking in that hour, 4 L of 10 L in the whole plan, and %s; on the worst day 3 L is to be found", [words])
	}
}

# The brook and a pool are left behind.
dry(limit) := object.union(facts([{"short": 4000, "first_short": 500, "lasts": 1}]), {"endurance": {
	"minutes": 4350,
	"water_limit": limit,
	"passed": [
		{"id": "plan/waterSources/brook", "name": "brook", "leaves": ["viruses"]},
		{"id": "plan/waterSources/pool", "name": "pool", "leaves": ["bacteria", "viruses", "mud"]},
	],
}})

test_water_that_nothing_makes_safe if {
	clears := "nothing carried clears viruses from brook; nothing carried clears bacteria, viruses and mud from pool"
	both := ["plan/waterSources/brook", "plan/waterSources/pool"]
	every c in [
		{"limit": "treatment", "why": clears, "because": both},
		{"limit": "vessels and treatment", "why": sprintf("the vessels do not hold enough to the next water; %s", [clears]), "because": both},
		{"limit": "vessels", "why": "the vessels do not hold enough to the next water", "because": []},
		{"limit": "sources", "why": "the sources on the way do not give it", "because": []},
	] {
		endurance.finding.water == {{
			"at": "endurance/water",
			"because": c.because,
			"text": sprintf("water runs out after 1 h of 72 h 30 min: 500 ml is lacking in that hour, 4 L of 10 L in the whole plan, and %s; on the worst day 3 L is to be found", [c.why]),
		}} with input as dry(c.limit)
	}
}

test_water_where_the_plan_names_none_to_drink if {
	every sources in [[], [{"id": "plan/waterSources/ditch", "quality": "foul"}]] {
		some f in endurance.finding.water with input as object.union(dry("sources"), {"plan": {"water_sources": sources}})
		contains(f.text, "and the plan names no water on the way that may be drunk; on")
	}
	some f in endurance.finding.water with input as object.union(dry("sources"), {"plan": {"water_sources": [
		{"id": "plan/waterSources/ditch", "quality": "foul"},
		{"id": "plan/waterSources/tap", "quality": "tap"},
	]}})
	contains(f.text, "and the sources on the way do not give it; on")
}

test_energy_at_the_limit if {
	count(endurance.finding.energy) == 0 with input as facts([{"kind": "energy", "need": 10000000, "short": 1000000}])
}

test_energy_one_too_little if {
	endurance.finding.energy == {{
		"at": "endurance/energy",
		"text": "the food is gone after 60 h of 72 h and covers 2151 kcal, 90.0 % of the 2390 kcal that the plan asks; 90.0 % is asked: less than 1 kcal too little",
	}} with input as facts([{
		"id": "endurance/energy",
		"kind": "energy",
		"need": 10000000,
		"short": 1000001,
		"lasts": 60,
	}])
}

test_energy_of_a_kilocalorie if {
	some f in endurance.finding.energy with input as facts([{"kind": "energy", "need": 10000000, "short": 1002092}])
	endswith(f.text, "90.0 % is asked: 1 kcal too little")
	some g in endurance.finding.energy with input as facts([{"kind": "energy", "need": 10000000, "short": 1002091}])
	endswith(g.text, "90.0 % is asked: less than 1 kcal too little")
}

test_energy_that_stays if {
	endurance.finding.energy == {{
		"at": "endurance/energy",
		"text": "what can be eaten of the food is gone in the first hour of 72 h and covers 1195 kcal, 50.0 % of the 2390 kcal that the plan asks; 90.0 % is asked: 956 kcal too little; 478 kcal more cannot be cooked, as there is no fuel left or no stove that burns it; 239 kcal more is for Bib alone",
	}} with input as facts([{
		"id": "endurance/energy",
		"kind": "energy",
		"need": 10000000,
		"short": 5000000,
		"lasts": 0,
		"raw_j": 2000000,
		"for_one": [{"body": "people/bib", "name": "Bib", "j": 1000000}],
	}])
	some f in endurance.finding.energy with input as facts([{"kind": "energy", "need": 10000000, "short": 5000000, "raw_j": 1}])
	endswith(f.text, "; less than 1 kcal more cannot be cooked, as there is no fuel left or no stove that burns it")
	some g in endurance.finding.energy with input as facts([{"kind": "energy", "need": 10000000, "short": 5000000, "for_one": [{"body": "people/bib", "name": "Bib", "j": 1}]}])
	endswith(g.text, "; less than 1 kcal more is for Bib alone")
}

test_energy_of_an_own_eater if {
	endurance.finding.energy == {{
		"at": "animals/rex/endurance-energy",
		"text": "the food of Rex is gone after 4 h of 72 h and covers 1195 kcal, 50.0 % of the 2390 kcal that the plan asks; 90.0 % is asked: 956 kcal too little",
	}} with input as facts([{
		"id": "animals/rex/endurance-energy",
		"kind": "energy",
		"body": "animals/rex",
		"body_name": "Rex",
		"need": 10000000,
		"short": 5000000,
		"lasts": 4,
	}])
}

test_energy_not_asked_of_what_grazes if {
	short := {"id": "animals/star/endurance-energy", "kind": "energy", "body": "animals/star", "body_name": "Star", "short": 9000}
	count(endurance.finding.energy) == 0 with input as object.union(facts([short]), {"animals": [t.animal({"id": "animals/star", "species": "horse"})]})
	count(endurance.finding.energy) == 1 with input as object.union(facts([short]), {"animals": [t.animal({"id": "animals/star", "species": "dog"})]})
	count(endurance.finding.energy) == 1 with input as object.union(facts([short]), {"animals": [t.animal({"id": "animals/dusk", "species": "horse"})]})
}

test_energy_not_asked_where_there_is_no_food if {
	count(endurance.finding.energy) == 0 with input as facts([{"kind": "energy", "have": 0, "short": 9000}])
	count(endurance.finding.energy) == 1 with input as facts([{"kind": "energy", "have": 1, "short": 9000}])
}

salted(more) := facts([{"kind": "energy"}, object.union({"id": "endurance/sodium", "kind": "sodium", "have": 9999}, more)])

test_sodium_at_the_limit if {
	count(endurance.finding.sodium) == 0 with input as salted({"have": 10000})
}

test_sodium_one_too_little if {
	endurance.finding.sodium == {{
		"at": "endurance/sodium",
		"text": "all food holds 9999 mg of sodium; hour by hour the plan asks 10000 mg of everybody, sweat included: 1 mg too little",
	}} with input as salted({})
}

test_sodium_not_written if {
	every n, words in {
		1: "sweat included: 1 mg too little; 1 food has no sodium written and counts as none",
		2: "sweat included: 1 mg too little; 2 foods have no sodium written and count as none",
	} {
		some f in endurance.finding.sodium with input as salted({"unwritten": n})
		endswith(f.text, words)
	}
}

test_sodium_asked_only_of_common_food if {
	count(endurance.finding.sodium) == 0 with input as facts([{"kind": "energy", "have": 0}, {"kind": "sodium", "have": 1}])
	count(endurance.finding.sodium) == 1 with input as facts([{"kind": "energy", "have": 1}, {"kind": "sodium", "have": 1}])
	count(endurance.finding.sodium) == 0 with input as facts([{"kind": "energy", "body": "animals/rex"}, {"kind": "sodium", "have": 1}])
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
		"text": "light ends after 31 h of 72 h; the lamps run 20 h and the dark hours need 20 h 1 min: short by 1 min",
	}} with input as lit({}, lamp, {
		"have": 1200,
		"need": 1201,
		"short": 1,
		"lasts": 31,
	})
}

test_light_an_hour_too_little if {
	some f in endurance.finding.light with input as lit({}, lamp, {"have": 0, "need": 60, "short": 60, "lasts": 0})
	f.text == "light ends in the first hour of 72 h; the lamps run 0 h and the dark hours need 1 h: short by 1 h"
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

test_fuel_one_too_little if {
	endurance.finding.fuel == {{
		"at": "endurance/fuel",
		"text": "the fuel ends after 35 h of 72 h: it boils 2 L, and 1 ml more is to be boiled",
	}} with input as facts([{
		"id": "endurance/fuel",
		"kind": "fuel",
		"have": 2000,
		"need": 2001,
		"short": 1,
		"lasts": 35,
	}])
}

test_fuel_not_asked_where_there_is_none if {
	count(endurance.finding.fuel) == 0 with input as facts([{"kind": "fuel", "have": 0, "short": 500}])
	count(endurance.finding.fuel) == 1 with input as facts([{"kind": "fuel", "have": 1, "short": 500}])
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
		"text": "Ana sets out with 6.00 kg and carries 10.50 kg in hour 7 of the plan, with water collected on the way, just over 15.0 % of body weight; the cap is 15.0 %: over by 1 mg; nobody else has room",
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
		"text": "when the plan of 72 h ends, this leg is under way since hour 0 and not done, nor 1 leg after it",
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
		"text": "on day 2 of the plan 8 h 1 min are walked; the most is 8 h: over by 1 min",
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
		"text": "on day 1 of the plan 4 h are walked; the most for Mia is 3 h: over by 1 h",
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

test_heat_below_the_limit if {
	count(endurance.finding.heat) == 0 with input as but({"heat_category": 3})
}

test_heat_at_the_limit if {
	hot := object.union(but({"heat_category": 4, "heat_hour": 6}), {"plan": {"legs": [{"id": "plan/legs/one", "arrives": true}]}})
	endurance.finding.heat == {{
		"at": "endurance",
		"because": ["plan/legs/one"],
		"text": "from hour 6 of the plan on people walk in heat category 4 of the army's five; the hottest in which anybody should walk is category 3",
	}} with input as hot
}

test_heat_beyond_the_index if {
	plan := {"plan": {"legs": [{"id": "plan/legs/one", "arrives": true}]}}
	every c in [
		{"category": 4, "text": "from hour 1 of the plan on people walk in heat category 4 of the army's five; the hottest in which anybody should walk is category 3; hour 7 is hotter than the heat index is made for: do not walk in it"},
		{"category": 3, "text": "people walk in heat category 3 of the army's five; hour 7 is hotter than the heat index is made for: do not walk in it"},
	] {
		endurance.finding.heat == {{
			"at": "endurance",
			"because": ["plan/legs/one"],
			"text": c.text,
		}} with input as object.union(but({"heat_category": c.category, "heat_hour": 1, "hottest_hour": 7, "heat_beyond": true}), plan)
	}
}

test_heat_worse if {
	some f in endurance.finding.heat with input as but({"heat_category": 5})
	f.text == "from hour 0 of the plan on people walk in heat category 5 of the army's five; the hottest in which anybody should walk is category 3"
}

test_cold_above_the_limit if {
	count(endurance.finding.cold) == 0 with input as but({"chill_mc": -27999})
}

test_cold_at_the_limit if {
	endurance.finding.cold == {{
		"at": "endurance",
		"text": "in hour 22 of the plan the wind chill is -28 °C; bare skin freezes from -28 °C on",
	}} with input as but({"chill_mc": -28000, "chill_hour": 22})
}

test_cold_not_asked_without_weather if {
	count(endurance.finding.cold) == 0 with input as but({"chill_known": false, "chill_mc": -40000})
}

test_one_pack_is_enough if {
	one := object.union(facts([{"short": 1}]), {"household": {"pack_count": 1}})
	count(endurance.finding.water) == 1 with input as one
}
