package rules.base.heat_test

import data.lib.testing_test as t
import data.rules.base.heat

facts(endurance, more) := object.union(
	{
		"people": [t.person({})],
		"plan": t.plan({}),
		"endurance": object.union(
			{
				"id": "endurance",
				"rest_category": 0,
				"rest_hour": 0,
				"rest_mc": 32000,
				"rest_beyond": false,
				"night_known": true,
				"night_mc": 24000,
			},
			endurance,
		),
	},
	more,
)

shade := {"plan": t.plan({"shade": true})}

test_rest_at_the_limits if {
	count(heat.finding.rest) == 0 with input as facts({"rest_category": 4}, {})
	count(heat.finding.rest) == 0 with input as facts({"night_known": false, "night_mc": 30000}, {})
}

test_rest_by_day if {
	heat.finding.rest == {{
		"at": "plan/seasons/autumn",
		"text": "people rest in air of 32.1 °C, and the plan names no shade or cool place; without one, 32 °C is the limit",
		"level": "warning",
	}} with input as facts({"rest_mc": 32100}, {})
}

test_night if {
	heat.finding.night == {{
		"at": "plan/seasons/autumn",
		"text": "the hours of sleep average 24.1 °C; a body cools down at 24 °C or less",
	}} with input as facts({"night_mc": 24100}, {})
	count(heat.finding.night) == 0 with input as facts({}, {})
	count(heat.finding.night) == 0 with input as facts({"night_known": false, "night_mc": 30000}, {})
	count(heat.finding.rest) == 0 with input as facts({"night_mc": 24100}, {})
}

test_night_where_beds_await[kind] if {
	some kind, n in {"house": 0, "shelter": 0, "camp": 1}
	count(heat.finding.night) == n with input as facts({"night_mc": 24100}, {"plan": t.plan({"destination": {"kind": kind, "beds": true}})})
	count(heat.finding.night) == 1 with input as facts({"night_mc": 24100}, {"plan": t.plan({"destination": {"kind": kind, "beds": false}})})
}

test_night_names_the_frail if {
	facts_of := facts({"night_mc": 24100}, {"people": [t.person({}), t.person({"name": "Kit", "age_months": 47})]})
	{f.text | some f in heat.finding.night} == {"the hours of sleep average 24.1 °C; a body cools down at 24 °C or less; most in danger: Kit"} with input as facts_of
}

test_rest_in_the_worst if {
	heat.finding.rest == {{
		"at": "plan/seasons/autumn",
		"text": "from hour 6 of the plan people rest in heat category 5 of the five of the work-rest table, and the plan names no shade or cool place",
		"level": "error",
	}} with input as facts({"rest_category": 5, "rest_hour": 6, "night_mc": 27000}, {})
	heat.finding.rest == {{
		"at": "plan/seasons/autumn",
		"text": "people rest in air of 44 °C, hotter than the heat index covers, where shade alone is not enough",
		"level": "error",
	}} with input as facts({"rest_category": 5, "rest_mc": 44000, "rest_beyond": true}, {})
	{f.level | some f in heat.finding.rest} == {"error"} with input as facts({"rest_category": 3, "rest_mc": 44000, "rest_beyond": true}, {})
}

test_rest_shade_answers_the_day[why] if {
	some why, answer in {
		"shade": shade,
		"a house": {"plan": t.plan({"destination": {"kind": "house"}})},
		"a shelter": {"plan": t.plan({"destination": {"kind": "shelter"}})},
	}
	count(heat.finding.rest) == 0 with input as facts({"rest_category": 5, "rest_mc": 42000}, answer)
	count(heat.finding.rest) == 0 with input as facts({"rest_category": 5, "rest_mc": 42000, "night_mc": 25000}, answer)
	{f.level | some f in heat.finding.rest} == {"warning"} with input as facts({"rest_category": 5, "rest_mc": 44000, "rest_beyond": true}, answer)
}

test_rest_a_camp_is_no_shade if {
	count(heat.finding.rest) == 1 with input as facts({"rest_mc": 34000}, {"plan": t.plan({"destination": {"kind": "camp"}})})
}

warm := {"rest_mc": 34000, "night_mc": 25000}

test_rest_of_the_frail[why] if {
	some why, p in {
		"a small child": {"age_months": 47},
		"old": {"age_months": 780},
		"unwell": {"fitness": "unwell"},
		"pregnant": {"pregnant": true},
	}
	frail := {"people": [t.person({}), t.person(object.union({"id": "people/kit", "name": "Kit"}, p))]}
	heat.finding.rest == {{
		"at": "plan/seasons/autumn",
		"text": "people rest in air of 34 °C, and the plan names no shade or cool place; without one, 32 °C is the limit; most in danger: Kit",
		"level": "error",
	}} with input as facts(warm, frail)
	{f.level | some f in heat.finding.rest} == {"warning"} with input as facts(object.union(warm, {"night_mc": 24000}), frail)
	{f.level | some f in heat.finding.rest} == {"warning"} with input as facts(object.union(warm, {"night_known": false}), frail)
	count(heat.finding.rest) == 0 with input as facts(object.union(warm, {"rest_mc": 32000}), frail)
}

test_rest_of_the_strong[why] if {
	some why, p in {
		"a child": {"age_months": 48},
		"not yet old": {"age_months": 779},
		"fair": {"fitness": "fair"},
	}
	{f.level | some f in heat.finding.rest} == {"warning"} with input as facts(warm, {"people": [t.person(p)]})
}
