package rules.base.water_amounts_test

import data.lib.testing_test as t
import data.rules.base.water

ana := t.person({"water_ml": 2200})

ben := t.person({"id": "people/ben", "name": "Ben", "water_ml": 3000, "packs": [], "pack_count": 0})

# Two people who drink 5.2 L a day and start with so much; nothing is short on the way, where more does not say so.
start(water_ml, more) := object.union(
	{
		"household": t.household({"need_ml": 5200, "supply": t.supply({"water_ml": water_ml, "container_ml": 9000})}),
		"people": [ana, ben],
		"animals": [],
		"plan": t.plan({}),
		"vessels": [
			t.vessel({"id": "packs/rust/a", "count": 2, "capacity_ml": 4000, "water_ml": 3500}),
			t.vessel({"id": "packs/rust/b", "count": 2, "carrier": "people/ben", "capacity_ml": 3000, "water_ml": 1000}),
			t.vessel({"id": "packs/rust/c", "capacity_ml": 500, "water_ml": 500}),
		],
		"endurance": {"minutes": 4320, "stocks": [{"kind": "energy", "short": 9}, {"kind": "water", "short": 0}]},
	},
	more,
)

runs_dry := {"endurance": {"stocks": [{"kind": "energy", "short": 0}, {"kind": "water", "short": 1}]}}

test_start_litres_at_the_limit if {
	count(water.finding.start_litres) == 0 with input as start(5200, {})
}

test_start_litres_one_too_few if {
	water.finding.start_litres == {{
		"at": "packs/rust/b",
		"because": ["household/water", "household/need-water"],
		"text": "the household starts with 5.199 L of water and needs 5.2 L for one day (a day takes 2.2 L for Ana and 3 L for Ben): 0.001 L short",
		"lack": 1,
		"level": "warning",
	}} with input as start(5199, {})
}

test_start_litres_less_than_half_is_an_error if {
	every c in [[2600, "warning"], [2599, "error"]] {
		{f.level | some f in water.finding.start_litres} == {c[1]} with input as start(c[0], {})
	}
}

# Animals that find water on the way, and infants at the breast, drink nothing of it.
test_start_litres_in_words if {
	water.finding.start_litres == {{
		"at": "household",
		"because": ["household/water", "household/need-water"],
		"text": "the household starts with no water and needs 5.2 L for one day (a day takes 2.2 L for Ana, 3 L for Ben and 1 L for Bo, with days of 36 °C and nights of 24 °C): 5.2 L short",
		"lack": 5200,
		"level": "error",
	}} with input as start(0, {
		"vessels": [t.vessel({"water_ml": 1000})],
		"people": [ana, ben, t.person({"name": "Pip", "water_ml": 0})],
		"animals": [t.animal({}), t.animal({"id": "animals/star", "name": "Star", "drinks": false})],
		"plan": t.plan({"thirsty": true, "day_mc": 36000, "night_mc": 24000}),
	})
}

# Water awaits, and the plan says no way to it.
near(more) := {"plan": t.plan(object.union({"water_named": true}, more))}

test_start_litres_near_to_water_is_half_a_day if {
	count(water.finding.start_litres) == 0 with input as start(2600, near({}))
	[f.text | some f in water.finding.start_litres] == ["the household starts with 2.599 L of water and needs 2.6 L for half a day (a day takes 2.2 L for Ana and 3 L for Ben): 0.001 L short"] with input as start(2599, near({}))
}

# Nobody sets out without a drink; the rest is the forecast's.
test_start_litres_left_to_the_forecast_where_there_is_a_route if {
	route := near({"legs": [{"id": "plan/legs/one"}]})
	count(water.finding.start_litres) == 0 with input as start(500, route)
	[f.text | some f in water.finding.start_litres] == ["the household starts with 0.001 L of water and needs 0.5 L (0.25 L for each of 2 people, as the standard requires): 0.499 L short"] with input as start(1, route)
	count(water.finding.start_litres) == 0 with input as start(500, object.union(route, {"people": [ana, ben, t.person({"water_ml": 0})]}))
	count(water.finding.start_litres) == 1 with input as start(500, object.union(route, {"people": [ana, ben, t.person({"water_ml": 1})]}))
}

test_start_litres_or_the_forecast_never_both if {
	# Nothing is named: this rule speaks of the first day, the forecast of the others.
	count(water.finding.start_litres) == 1 with input as start(5199, runs_dry)
	count(water.finding.start_litres) == 0 with input as start(5200, runs_dry)
	count(water.finding.start_litres) == 0 with input as start(5200, object.union(runs_dry, asked(3000)))

	# Water is named: the forecast speaks.
	count(water.finding.start_litres) == 0 with input as start(100, object.union(runs_dry, near({})))
}

asked(ml) := {"limits": [{"area": "water", "name": "start", "list": false, "value": ml, "values": []}]}

test_start_litres_a_head_where_a_standard_asks if {
	count(water.finding.start_litres) == 0 with input as start(6000, asked(3000))
	every plan in [t.plan({}), t.plan({"water_named": true, "legs": [{"id": "plan/legs/one"}]})] {
		[f.text | some f in water.finding.start_litres] == ["the household starts with 5.999 L of water and needs 6 L (3 L for each of 2 people, as the standard requires): 0.001 L short"] with input as start(5999, object.union(asked(3000), {"plan": plan}))
	}
	count(water.finding.start_litres) == 0 with input as start(5999, object.union(asked(3000), runs_dry))
}

# So much held by the vessels; what is drunk is there.
holds(ml, more) := start(9000, object.union({"household": {"supply": {"container_ml": ml}}}, more))

test_container_capacity_at_the_limit if {
	count(water.finding.container_capacity) == 0 with input as holds(5200, {})
}

test_container_capacity_one_too_few if {
	water.finding.container_capacity == {{
		"at": "packs/rust/c",
		"because": ["household/containers", "household/need-water"],
		"text": "the household's water containers hold 5.199 L, and everyone together drinks 5.2 L in a day: 0.001 L short",
		"lack": 1,
	}} with input as holds(5199, {})
	[f.at | some f in water.finding.container_capacity] == ["household"] with input as holds(0, {"vessels": []})
}

test_container_capacity_silent[why] if {
	some why, more in {
		"water runs out": runs_dry,
		"a route": near({"legs": [{"id": "plan/legs/one"}]}),
		"water awaits": near({"destination": {"water": true}}),
		"water is short at the start": {"household": {"supply": {"water_ml": 5199}}},
	}
	count(water.finding.container_capacity) == 0 with input as holds(5199, more)
}

vessels(list) := {"vessels": [t.vessel(v) | some v in list]}

test_one_vessel_at_the_limit if {
	count(water.finding.one_vessel) == 0 with input as start(9000, {})
	count(water.finding.one_vessel) == 0 with input as start(9000, vessels([{"carrier": "people/ben", "count": 2}, {"id": "a"}, {"id": "b"}]))
}

# At the pack of who has one, else at the person.
test_one_vessel_one_too_few if {
	water.finding.one_vessel == {
		{
			"at": "packs/rust",
			"because": ["packs/rust/bottle"],
			"text": "Ana has 1 water container and needs 2",
		},
		{
			"at": "people/ben",
			"because": [],
			"text": "Ben has no water container and needs 2",
		},
	} with input as start(9000, vessels([{}]))
}

test_one_vessel_from_an_age_on if {
	every c in [[143, 0], [144, 1]] {
		count(water.finding.one_vessel) == c[1] with input as start(9000, object.union(vessels([]), {"people": [t.person({"age_months": c[0]})]}))
	}
}

test_one_vessel_not_recorded if {
	one := start(9000, vessels([{"carrier": "people/ben", "count": 2}, {"id": "a"}]))
	t.levels(water.finding.one_vessel) == ["not recorded"] with input as t.with_unread(one, [t.unread(["container"], {})])
}

test_one_vessel_where_water_is_far if {
	awaits := {"destination": {"water": true}, "legs": [{"arrives": true, "end_hour": 13}]}
	count(water.finding.one_vessel) == 2 with input as start(9000, object.union({"vessels": []}, {"plan": awaits}))
	count(water.finding.one_vessel) == 2 with input as start(9000, object.union({"vessels": []}, {"plan": {"legs": [{"arrives": true, "end_hour": 12}]}}))
}

test_one_vessel_silent[why] if {
	some why, more in {
		"never alone": {"people": [t.person({"with": ["people/ben"]})]},
		"water runs out": runs_dry,
		"water awaits": {"plan": {"destination": {"water": true}, "legs": [{"arrives": true, "end_hour": 12}]}},
		"water is short at the start": {"household": {"supply": {"water_ml": 5199}}},
		"the vessels of all hold too little": {"household": {"supply": {"container_ml": 5199}}},
	}
	count(water.finding.one_vessel) == 0 with input as start(9000, object.union({"vessels": []}, more))
}

test_start_litres_not_recorded[what] if {
	some what, c in {
		"as much as is taken for it": [3200, ["container"], 1, "not recorded"],
		"a little more": [3199, ["container"], 1, "warning"],
		"two": [1200, ["water"], 2, "not recorded"],
		"something else": [5199, ["food"], 9, "warning"],
		"nothing lacks but much": [0, ["water"], 2, "error"],
	}
	t.levels(water.finding.start_litres) == [c[3]] with input as t.with_unread(start(c[0], {}), [t.unread(c[1], {"count": c[2]})])
}

test_one_vessel_not_recorded if {
	short := start(9000, vessels([{"id": "a"}, {"id": "b", "carrier": "people/ben"}, {"id": "c", "carrier": "people/ben"}]))
	bottle := t.unread(["container"], {})
	t.levels(water.finding.one_vessel) == ["not recorded"] with input as t.with_unread(short, [bottle])
}
