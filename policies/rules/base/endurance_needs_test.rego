package rules.base.endurance_needs_test

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
		"lasts": 72,
		"first_short": 0,
		"short": 0,
		"have": 10000,
		"need": 10000,
		"lowest": 0,
		"raw_j": 0,
		"for_one": [],
		"past_j": 0,
		"lasts_good": 0,
		"unwritten": 0,
	},
	more,
)

brook := {"id": "plan/waterSources/brook", "quality": "clear", "written": "clear"}

legs := [
	{"id": "plan/legs/one", "arrives": true, "begin_hour": 0, "end_hour": 2, "on_foot_min": 31},
	{"id": "plan/legs/two", "arrives": false, "begin_hour": 20, "end_hour": -1, "on_foot_min": 0},
	{"id": "plan/legs/three", "arrives": false, "begin_hour": -1, "end_hour": -1, "on_foot_min": 0},
]

facts(stocks) := {
	"household": t.household({"need_ml": 5200, "supply": t.supply({"water_ml": 6000})}),
	"plan": t.plan({"water_named": true, "water_sources": [brook]}),
	"people": [t.person({})],
	"insulation": [],
	"capabilities": [],
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
		"bodies": [{"id": "people/ana", "walk_min": 0}, {"id": "people/ben", "walk_min": 61}],
	},
}

with_plan(stocks, plan) := object.union(facts(stocks), {"plan": plan})

but(more) := object.union(facts([]), {"endurance": more})

test_nothing_is_said_where_all_lasts if {
	every name in ["water", "energy", "sodium", "heat", "cold"] {
		count(endurance.finding[name]) == 0 with input as facts([{}, {"kind": "energy"}, {"kind": "sodium"}])
	}
}

test_water_one_too_little if {
	endurance.finding.water == {{
		"at": "endurance/water",
		"because": [],
		"text": "water runs out after 30 h of 72 h: 1 ml of the 10 L needed is missing, 1 ml in that hour, because the sources on the way do not give enough",
		"level": "error",
	}} with input as facts([{"short": 1, "first_short": 1, "lasts": 30}])
}

test_water_stands_at_the_walk_of_the_hour if {
	every hour, at in {"1": "plan/legs/one", "2": "plan/legs/one", "3": "endurance/water", "19": "endurance/water", "20": "plan/legs/two", "40": "plan/legs/two"} {
		{f.at | some f in endurance.finding.water} == {at} with input as with_plan([{"short": 1, "first_short": 1, "lasts": to_number(hour)}], {"legs": legs})
	}
}

test_water_in_words if {
	every limit, words in {
		"vessels": "the containers do not hold enough to reach the next water",
		"treatment": "the treatment packed does not clear enough in time",
		"vessels and treatment": "neither containers nor treatment keep up",
	} {
		short := object.union(facts([{"short": 4000, "first_short": 500, "lasts": 0}]), {"endurance": {"water_limit": limit}})
		some f in endurance.finding.water with input as short
		f.text == sprintf("water runs out in the first hour of 72 h: 4 L of the 10 L needed is missing, 500 ml in that hour, because %s", [words])
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
	clears := "nothing packed clears viruses from brook; nothing packed clears bacteria, viruses and mud from pool"
	both := ["plan/waterSources/brook", "plan/waterSources/pool"]
	every c in [
		{"limit": "treatment", "why": clears, "at": "plan/waterSources/brook", "because": both},
		{"limit": "vessels and treatment", "why": sprintf("the containers do not hold enough to reach the next water; %s", [clears]), "at": "plan/waterSources/brook", "because": both},
		{"limit": "vessels", "why": "the containers do not hold enough to reach the next water", "at": "endurance/water", "because": []},
		{"limit": "sources", "why": "the sources on the way do not give enough", "at": "endurance/water", "because": []},
	] {
		endurance.finding.water == {{
			"at": c.at,
			"because": c.because,
			"text": sprintf("water runs out after 1 h of 72 h 30 min: 4 L of the 10 L needed is missing, 500 ml in that hour, because %s", [c.why]),
			"level": "error",
		}} with input as dry(c.limit)
	}
}

tap(quality) := {"id": "plan/waterSources/tap", "quality": quality, "written": "tap"}

ditch := {"id": "plan/waterSources/ditch", "quality": "foul", "written": "foul"}

test_water_of_a_tap_after_a_danger if {
	every hazards, words in {["quake"]: "quake", ["flood", "storm", "tsunami"]: "flood or tsunami"} {
		some f in endurance.finding.water with input as object.union(dry("treatment"), {
			"plan": {"water_sources": [tap("clear"), brook], "hazards": hazards},
			"endurance": {"passed": [{"id": "plan/waterSources/brook", "name": "brook", "leaves": ["viruses"]}, {"id": "plan/waterSources/tap", "name": "tap", "leaves": ["viruses"]}]},
		})
		endswith(f.text, sprintf("nothing packed clears viruses from brook; nothing packed clears viruses from tap, a tap that is not safe after a %s", [words]))
	}
}

test_water_where_no_treatment_helps if {
	every c in [
		{"plan": {"water_sources": [tap("foul"), ditch], "hazards": ["fire"]}, "why": "because after a fire no treatment makes a tap safe, and the plan names no other water"},
		{"plan": {"water_sources": [tap("foul"), brook], "hazards": ["fire"]}, "why": "because the sources on the way do not give enough"},
		{"plan": {"water_sources": [object.union(brook, {"quality": "foul"})], "hazards": ["industrial"]}, "why": "because no treatment makes water on the way safe after an industrial accident"},
		{"plan": {"water_sources": [object.union(brook, {"quality": "foul"})], "hazards": ["fire"]}, "why": "because the plan names no drinkable water on the way"},
		{"plan": {"water_sources": [ditch], "hazards": ["industrial"]}, "why": "because the plan names no drinkable water on the way"},
		{"plan": {"water_sources": []}, "why": "because the plan names no drinkable water on the way"},
		{"plan": {"water_sources": [], "destination": {"water": true}}, "why": "because the sources on the way do not give enough"},
		{"plan": {"water_sources": [ditch, tap("tap")]}, "why": "because the sources on the way do not give enough"},
	] {
		some f in endurance.finding.water with input as object.union(facts([{"short": 4000, "first_short": 500, "lasts": 1}]), {"plan": c.plan})
		endswith(f.text, c.why)
	}
}

# Where no water is named the first day is water/start-litres', and later days may be a matter of what is not written.
test_water_where_none_is_named if {
	every c in [[5199, set()], [5200, {"warning"}]] {
		unnamed := object.union(with_plan([{"short": 4000, "first_short": 500, "lasts": 30}], {"water_named": false}), {"household": {"supply": {"water_ml": c[0]}}})
		{f.level | some f in endurance.finding.water} == c[1] with input as unnamed
		count(endurance.finding.water) == 1 with input as object.union(unnamed, {"plan": {"water_named": true}})
	}
}

test_energy_at_the_limit if {
	count(endurance.finding.energy) == 0 with input as facts([{"kind": "energy", "need": 10000000, "short": 1000000}])
}

hungry(more) := facts([object.union({"id": "endurance/energy", "kind": "energy", "need": 10000000, "short": 1000001, "lasts": 60}, more)])

test_energy_one_too_little if {
	endurance.finding.energy == {{
		"at": "endurance/energy",
		"because": ["household/need-energy", "household/food-energy"],
		"text": "the food covers 2151 kcal of the 2390 kcal that the plan takes (89.9 %) and runs out after 60 h of 72 h: less than 1 kcal short of 90 %",
		"lack": 1,
		"level": "warning",
	}} with input as hungry({})
}

test_energy_less_than_half_is_an_error if {
	every c in [[5000000, "warning"], [5000001, "error"]] {
		{f.level | some f in endurance.finding.energy} == {c[1]} with input as hungry({"short": c[0]})
	}
}

test_energy_of_a_kilocalorie if {
	every c in [[1002092, "1 kcal short of 90 %"], [1002091, ": less than 1 kcal short of 90 %"]] {
		some f in endurance.finding.energy with input as hungry({"short": c[0]})
		endswith(f.text, c[1])
	}
}

test_energy_that_stays if {
	[f.text | some f in endurance.finding.energy] == ["of what can be eaten, the food covers 1195 kcal of the 2390 kcal that the plan takes (50.0 %) and runs out in the first hour of 72 h: 956 kcal short of 90 %; 478 kcal more cannot be cooked, as there is no fuel left or no stove that burns it; 239 kcal more is for Bib alone; 717 kcal of it is past its date, and without that it lasts 5 h"] with input as hungry({
		"short": 5000000,
		"lasts": 0,
		"raw_j": 2000000,
		"for_one": [{"body": "people/bib", "name": "Bib", "j": 1000000}],
		"past_j": 3000000,
		"lasts_good": 5,
	})
	some f in endurance.finding.energy with input as hungry({"short": 1100000, "raw_j": 1})
	endswith(f.text, "; less than 1 kcal more cannot be cooked, as there is no fuel left or no stove that burns it")
}

# Where all that lacks stays raw, food/cook-fuel speaks.
test_energy_left_to_cook_fuel if {
	count(endurance.finding.energy) == 0 with input as hungry({"short": 5000000, "raw_j": 4000000})
	count(endurance.finding.energy) == 1 with input as hungry({"short": 5000000, "raw_j": 3999999})
}

test_energy_of_no_food_at_all if {
	endurance.finding.energy == {{
		"at": "endurance/energy",
		"because": ["household/need-energy", "household/food-energy"],
		"text": "no food is recorded, and the plan takes 2390 kcal: 2151 kcal short of 90 %",
		"lack": 9000000,
		"level": "error",
	}} with input as hungry({"have": 0, "short": 10000000, "lasts": 0})
}

test_energy_of_very_little_food if {
	some f in endurance.finding.energy with input as hungry({"have": 1, "past_j": 1, "lasts_good": 5})
	f.text == "the food covers 2151 kcal of the 2390 kcal that the plan takes (89.9 %) and runs out after 60 h of 72 h: less than 1 kcal short of 90 %; less than 1 kcal of it is past its date, and without that it lasts 5 h"
}

# An infant's and an animal's own food are other rules'.
test_energy_of_common_food_only if {
	count(endurance.finding.energy) == 0 with input as hungry({"body": "animals/rex"})
}

head(j, more) := object.union(
	facts([object.union({"id": "endurance/energy", "kind": "energy", "need": 10000000, "short": 1000000}, more)]),
	{
		"household": {"people_count": 2, "supply": {"food_energy_j": j}},
		"endurance": {"minutes": 720},
		"limits": [{"area": "food", "name": "head", "list": false, "value": 8786400, "values": []}],
	},
)

test_energy_a_head_where_a_standard_asks if {
	count(endurance.finding.energy) == 0 with input as head(8786400, {})
	endurance.finding.energy == {{
		"at": "endurance/energy",
		"because": ["household/food-energy"],
		"text": "the food holds 2100 kcal; the standard requires 2100 kcal a day for each person, whatever the age, which is 2100 kcal for 2 people over 12 h: less than 1 kcal short",
		"lack": 1,
		"level": "warning",
	}} with input as head(8786399, {})
	count(endurance.finding.energy) == 0 with input as head(8786399, {"body": "people/bib"})
	[f.lack | some f in endurance.finding.energy] == [1] with input as head(8786399, {"short": 1000001})
}

# The base asks nothing a head: only less than nothing would be too little.
test_energy_a_head_is_not_asked_by_the_base if {
	none := facts([{"id": "endurance/energy", "kind": "energy"}])
	count(endurance.finding.energy) == 0 with input as object.union(none, {"household": {"supply": {"food_energy_j": 0}}})
	count(endurance.finding.energy) == 1 with input as object.union(none, {"household": {"supply": {"food_energy_j": -1}}})
}

# Sodium on a hot day on which somebody walks.
salted(more) := object.union(
	facts([{"kind": "energy", "have": 1}, object.union({"id": "endurance/sodium", "kind": "sodium", "have": 9999}, more)]),
	{"plan": {"day_mc": 25000}},
)

test_sodium_at_the_limit if {
	count(endurance.finding.sodium) == 0 with input as salted({"have": 10000})
}

test_sodium_one_too_little if {
	endurance.finding.sodium == {{
		"at": "endurance/sodium",
		"text": "food and rehydration salts hold 9999 mg of sodium, and the plan takes 10000 mg for everyone together, sweat included: 1 mg short",
	}} with input as salted({})
}

test_sodium_not_written if {
	every n, words in {
		"1": "sweat included: 1 mg short; 1 food has no sodium recorded and counts as none",
		"2": "sweat included: 1 mg short; 2 foods have no sodium recorded and count as none",
	} {
		some f in endurance.finding.sodium with input as salted({"unwritten": to_number(n)})
		endswith(f.text, words)
	}
}

test_sodium_not_asked[why] if {
	some why, more in {
		"cooler": {"plan": {"day_mc": 24999}},
		"no season": {"plan": {"season_known": false}},
		"a short way": {"endurance": {"bodies": [{"id": "people/ana", "walk_min": 60}]}},
		"no food": {"endurance": {"stocks": [stock({"kind": "energy", "have": 0}), stock({"kind": "sodium", "have": 1})]}},
		"food of the an animal": {"endurance": {"stocks": [stock({"kind": "energy", "body": "animals/rex"}), stock({"kind": "sodium", "have": 1})]}},
	}
	count(endurance.finding.sodium) == 0 with input as object.union(salted({}), more)
}

# The same people walk in such heat for 31 minutes.
walked(people, heat) := object.union(but(object.union({"heat_hour": 1}, heat)), {"people": [t.person(p) | some p in people], "plan": {"legs": legs}})

used := {"acclimatised": true}

test_heat_at_the_limit_of_each if {
	every c in [
		{"people": [used], "to": 3},
		{"people": [{}], "to": 2},
		{"people": [used, {"id": "people/kit", "acclimatised": true, "adult": false}], "to": 2},
		{"people": [used, {"id": "people/kit", "acclimatised": true, "age_months": 780}], "to": 2},
		{"people": [used, {"id": "people/kit", "acclimatised": true, "fitness": "unwell"}], "to": 2},
		{"people": [used, {"id": "people/kit", "acclimatised": true, "pregnant": true}], "to": 2},
		{"people": [used, {"id": "people/kit", "acclimatised": true, "nursing": ["people/pip"]}], "to": 2},
		{"people": [used, {"id": "people/kit", "acclimatised": true, "age_months": 779}], "to": 3},
		{"people": [used, {"id": "people/kit", "acclimatised": true, "carried_by": "people/ana", "age_months": 35}], "to": 1},
		{"people": [used, {"id": "people/kit", "acclimatised": true, "carried_by": "people/ana", "age_months": 36}], "to": 3},
		{"people": [used, {"id": "people/kit", "acclimatised": true, "age_months": 5}], "to": 3},
	] {
		count(endurance.finding.heat) == 0 with input as walked(c.people, {"heat_category": c.to})
		count(endurance.finding.heat) == 1 with input as walked(c.people, {"heat_category": c.to + 1})
	}
}

test_heat_in_words if {
	endurance.finding.heat == {{
		"at": "plan/legs/one",
		"because": ["plan/legs/one", "plan/legs/two", "plan/legs/three"],
		"text": "from hour 1 of the plan people walk in heat category 3 of the five of the work-rest table; the hottest for Ana and Ben is category 2",
		"level": "warning",
	}} with input as walked([{}, {"id": "people/ben", "name": "Ben"}], {"heat_category": 3})
	[f.text | some f in endurance.finding.heat] == ["from hour 1 of the plan people walk in heat category 4 of the five of the work-rest table; the hottest for people who are used to it is category 3; hour 7 is hotter than the heat index covers: do not walk in it"] with input as walked([used], {"heat_category": 4, "heat_beyond": true, "hottest_hour": 7})
	[f.text | some f in endurance.finding.heat] == ["from hour 1 of the plan people walk in heat category 2 of the five of the work-rest table; with an infant carried, the hottest is category 1"] with input as walked([used, {"carried_by": "people/ana", "age_months": 5}], {"heat_category": 2})
}

test_heat_names_who_stands_it_less if {
	[f.text | some f in endurance.finding.heat] == ["from hour 1 of the plan people walk in heat category 3 of the five of the work-rest table; the hottest for Ben is category 2; hour 7 is hotter than the heat index covers: do not walk in it"] with input as walked([used, {"id": "people/ben", "name": "Ben"}], {"heat_category": 3, "heat_beyond": true, "hottest_hour": 7})
}

test_heat_in_the_worst_is_an_error if {
	every c in [[4, false, "warning"], [5, false, "error"], [4, true, "error"]] {
		{f.level | some f in endurance.finding.heat} == {c[2]} with input as walked([used], {"heat_category": c[0], "heat_beyond": c[1]})
	}
}

test_heat_beyond_the_index_whatever_the_category if {
	endurance.finding.heat == {{
		"at": "plan/legs/one",
		"because": ["plan/legs/one", "plan/legs/two", "plan/legs/three"],
		"text": "people walk in heat category 2 of the five of the work-rest table; hour 7 is hotter than the heat index covers: do not walk in it",
	}} with input as walked([{}], {"heat_category": 2, "heat_beyond": true, "hottest_hour": 7})
}

# Ana, used to heat, walks in air of so many thousandths of a degree on a day of 35 °C.
hot(day, air, more) := object.union(walked([used], object.union({"heat_category": 3, "hottest_hour": 2, "walk_mc": air}, more)), {"plan": {"legs": legs, "day_mc": day}})

test_heat_in_the_hottest_hours if {
	endurance.finding.heat == {{
		"at": "plan/legs/one",
		"because": ["plan/legs/one", "plan/legs/two", "plan/legs/three"],
		"level": "warning",
		"text": "people walk in the hottest hours of a hot day: in hour 2 of the plan the air is 33 °C, and the day reaches 35 °C",
	}} with input as hot(35000, 33000, {})
	{f.at | some f in endurance.finding.heat} == {"endurance"} with input as hot(35000, 33000, {"hottest_hour": 9})
	count(endurance.finding.heat) == 0 with input as hot(35000, 32999, {})
	count(endurance.finding.heat) == 0 with input as hot(34999, 34999, {})
	count(endurance.finding.heat) == 0 with input as object.union(hot(35000, 35000, {}), {"plan": {"legs": [object.union(legs[0], {"on_foot_min": 30})]}})
}

test_heat_of_who_is_not_used_to_it_is_said_once if {
	count(endurance.finding.heat) == 1 with input as object.union(walked([used, {"id": "people/ben"}], {"heat_category": 3, "hottest_hour": 2, "walk_mc": 40000}), {"plan": {"legs": legs, "day_mc": 40000}})
}

test_heat_is_said_once if {
	count(endurance.finding.heat) == 1 with input as hot(40000, 40000, {"heat_category": 4})
	count(endurance.finding.heat) == 1 with input as hot(40000, 40000, {"heat_beyond": true})
}

test_heat_of_a_short_way if {
	short := [object.union(legs[0], {"on_foot_min": 30})]
	count(endurance.finding.heat) == 0 with input as object.union(walked([{}], {"heat_category": 5, "heat_beyond": true}), {"plan": {"legs": short}})
	count(endurance.finding.heat) == 0 with input as object.union(walked([{}], {"heat_category": 1, "heat_beyond": true}), {"plan": {"legs": short}})
}

test_cold_above_the_limit if {
	count(endurance.finding.cold) == 0 with input as but({"chill_mc": -27999})
}

# Two people, one of them carried.
bitter(insulation, capabilities, plan) := object.union(but({"chill_mc": -28000, "chill_hour": 22}), {
	"people": [t.person({}), t.person({"id": "people/kit", "carried_by": "people/ana"})],
	"insulation": insulation,
	"capabilities": capabilities,
	"plan": plan,
})

pair(id, n) := {"id": id, "kind": "gloves", "count": n}

jacket := t.capability("rain", [t.offer("jacket", {})])

test_cold_at_the_limit if {
	endurance.finding.cold == {{
		"at": "plan/seasons/autumn",
		"text": "in hour 22 of the plan the wind chill is -28 °C, and bare skin freezes at -28 °C or below; the household has 1 of the 2 pairs of warm gloves needed and none of the 1 windproof jackets or ponchos needed",
	}} with input as bitter([pair("mitts", 1), {"id": "hat", "kind": "hat", "count": 2}], [t.capability("rain", [t.offer("umbrella", {})]), t.capability("gloves", [t.offer("work", {"count": 3})])], {})
}

test_cold_answered if {
	count(endurance.finding.cold) == 0 with input as bitter([pair("mitts", 2)], [jacket], {})
	count(endurance.finding.cold) == 0 with input as bitter([pair("mitts", 1)], [t.capability("rain", [t.offer("poncho", {})]), t.capability("gloves", [t.offer("warm", {})])], {})

	# What is no pair of gloves as insulation hides none.
	count(endurance.finding.cold) == 0 with input as bitter([{"id": "mitts", "kind": "hat", "count": 1}], [jacket, t.capability("gloves", [t.offer("warm", {"id": "mitts", "count": 2})])], {})

	# Written both as insulation and as gloves, a pair is one.
	count(endurance.finding.cold) == 1 with input as bitter([pair("mitts", 1)], [jacket, t.capability("gloves", [t.offer("warm", {"id": "mitts"})])], {})
}

test_cold_indoors if {
	every c in [
		["house", [], 0], ["shelter", [], 0], ["camp", [], 1], ["", [], 1],
		["house", [{"arrives": true, "end_hour": 21}], 0], ["house", [{"arrives": true, "end_hour": 22}], 1], ["house", [{"arrives": false, "end_hour": -1}], 1],
	] {
		count(endurance.finding.cold) == c[2] with input as bitter([], [], {"destination": {"kind": c[0]}, "legs": c[1]})
	}
}

test_cold_not_asked_without_weather if {
	count(endurance.finding.cold) == 0 with input as but({"chill_known": false, "chill_mc": -40000})
}

# What is in cans that nothing opens: food/can-opener speaks where it would be enough, else it is named.
test_energy_in_closed_cans[j] if {
	some j, texts in {
		4000000: [],
		1: ["of what can be eaten, the food covers 1195 kcal of the 2390 kcal that the plan takes (50.0 %) and runs out after 5 h of 72 h: 956 kcal short of 90 %; less than 1 kcal more is in cans that nothing opens"],
		3999999: ["of what can be eaten, the food covers 1195 kcal of the 2390 kcal that the plan takes (50.0 %) and runs out after 5 h of 72 h: 956 kcal short of 90 %; 956 kcal more is in cans that nothing opens"],
	}
	closed := {"foods": [t.food({"opens": false, "energy_j": j})]}
	[f.text | some f in endurance.finding.energy] == texts with input as object.union(hungry({"short": 5000000, "lasts": 5}), closed)
}

test_energy_not_recorded[what] if {
	# 1 g of fat has 37.66 kJ.
	bars := t.unread(["food"], {"id": "packs/rust/bars/food", "name": "bars"})
	some what, c in {
		"enough": [[bars], {"mass_mg": 26557}, "not recorded"],
		"not enough": [[bars], {"mass_mg": 26556}, "warning"],
		"no mass": [[bars], {"mass_mg": 0, "mass_known": false}, "not recorded"],
		"no use": [[object.union(bars, {"id": "packs/rust/bars"})], {"mass_mg": 26557}, "not recorded"],
		"of another": [[object.union(bars, {"id": "packs/rust/oats"})], {"mass_mg": 26557}, "warning"],
	}
	items := {"items": [t.item(object.union({"id": "packs/rust/bars"}, c[1]))]}
	got := endurance.finding.energy with input as t.with_unread(object.union(hungry({"short": 2000000}), items), c[0])
	[t.level_of(f) | some f in got] == [c[2]]
	{f.text | some f in got; t.level_of(f) == "warning"; not endswith(f.text, "; the energy of “bars” is not recorded")} == set()
}

# A source that gives nothing to drink is what to change where no walk is.
test_water_stands_at_what_is_foul if {
	foul := [object.union(brook, {"id": "plan/waterSources/well"}), object.union(brook, {"quality": "foul", "id": "plan/waterSources/pond"})]
	{f.at | some f in endurance.finding.water} == {"plan/waterSources/pond"} with input as with_plan([{"short": 1, "first_short": 1, "lasts": 30}], {"water_sources": foul})
	{f.at | some f in endurance.finding.water} == {"plan/legs/two"} with input as with_plan([{"short": 1, "first_short": 1, "lasts": 30}], {"water_sources": foul, "legs": legs})
}

test_energy_not_recorded_just_enough if {
	bars := t.unread(["food"], {"id": "packs/rust/bars", "name": "bars"})
	items := {"items": [t.item({"id": "packs/rust/bars", "mass_mg": 26000})]}
	[t.level_of(f) | some f in endurance.finding.energy] == ["not recorded"] with input as t.with_unread(object.union(hungry({"short": 1979056}), items), [bars])
}
