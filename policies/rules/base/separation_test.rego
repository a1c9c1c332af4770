package rules.base.separation_test

import data.lib.testing_test as t
import data.rules.base.separation

# Somebody with these capabilities.
alone(more, capabilities) := {"people": [t.person(object.union({"alone": t.supply({"can": [t.can(c, ["some"]) | some c in capabilities]})}, more))]}

test_alone_of_a_child_with_all if {
	count(separation.finding.alone) == 0 with input as alone({"age_months": 143}, ["shelter"])
}

test_alone_of_a_child_without_shelter if {
	separation.finding.alone == {{
		"at": "packs/rust",
		"level": "note",
		"text": "Ana carries no shelter",
	}} with input as alone({"age_months": 143}, [])
}

test_alone_by_age[what] if {
	some what, c in {
		"too young": [{"age_months": 59, "with": ["people/ben"]}, 0],
		"old enough": [{"age_months": 60, "with": ["people/ben"]}, 1],
		"a child": [{"age_months": 143}, 1],
		"old enough for all": [{"age_months": 144}, 0],
		"of unknown age": [{"age_known": false, "age_months": 0}, 0],
	}
	count(separation.finding.alone) == c[1] with input as alone(c[0], [])
}

# The single points of failure go by this list, too.
test_alone_list if {
	data.limits.base.separation.alone.value == ["treat-water", "fire", "shelter", "light", "first_aid", "signal"]
}

test_alone_of_what_a_group_adds if {
	list := array.concat(data.limits.base.separation.alone.value, ["first_thing", "navigate"])
	separation.finding.alone == {{
		"at": "people/ana",
		"text": "Ana carries no first thing and no navigate",
	}} with input as alone({"packs": []}, []) with data.limits.base.separation.alone.value as list
}

test_alone_of_who_is_never_alone if {
	facts := alone({}, ["shelter"])
	mia := t.person({"id": "people/mia", "age_months": 100, "with": ["people/ana"]})
	count(separation.finding.alone) == 0 with input as {"people": array.concat(facts.people, [mia])}
}

# Two people with water, and vessels.
shared(anas, bens, more) := object.union(
	{
		"household": t.household({"supply": t.supply({"water_ml": anas + bens})}),
		"plan": t.plan({}),
		"people": [
			t.person({"alone": t.supply({"water_ml": anas})}),
			t.person({"id": "people/ben", "name": "Ben", "packs": [], "alone": t.supply({"water_ml": bens})}),
		],
		"vessels": [
			t.vessel({"id": "packs/rust/small", "water_ml": anas - 500}),
			t.vessel({"water_ml": 500}),
			t.vessel({"id": "packs/rust/a", "water_ml": 100}),
		],
		"endurance": {"stocks": [{"kind": "water", "short": 0}, {"kind": "energy", "short": 9}]},
	},
	more,
)

test_one_basket_of_water_at_the_limit if {
	count(separation.finding.one_basket) == 0 with input as shared(8000, 250, {})
}

test_one_basket_of_water if {
	separation.finding.one_basket == {{
		"at": "packs/rust/small",
		"text": "of the 8.249 L that the household starts with, less than 0.25 L is with Ben",
	}} with input as shared(8000, 249, {})
}

test_one_basket_names_the_first_of_two_full_ones if {
	some f in separation.finding.one_basket with input as shared(1000, 0, {})
	f.at == "packs/rust/bottle"
}

test_one_basket_of_a_millilitre if {
	some f in separation.finding.one_basket with input as shared(1, 0, {"vessels": [t.vessel({"water_ml": 1})]})
	f.at == "packs/rust/bottle"
}

test_one_basket_where_nobody_has_any_yet if {
	separation.finding.one_basket == {{
		"at": "household",
		"text": "of the 0 L that the household starts with, less than 0.25 L is with Ana and Ben",
	}} with input as shared(0, 0, {"vessels": [t.vessel({})]})
}

test_one_basket_is_silent_where_water_is_short[what] if {
	some what, facts in {
		"over the plan": shared(8000, 0, {"endurance": {"stocks": [{"kind": "water", "short": 1}]}}),
		"one person": object.union(shared(8000, 0, {}), {"people": [t.person({})]}),
		"a small child": object.union(shared(8000, 0, {}), {"people": [t.person({}), t.person({"id": "people/mia", "age_months": 71})]}),
		"with another": object.union(shared(8000, 0, {}), {"people": [shared(8000, 0, {}).people[0], t.person({"id": "people/ben", "with": ["people/ana"]})]}),
	}
	count(separation.finding.one_basket) == 0 with input as facts
}

borne(kinds, ben) := {
	"household": t.household({}),
	"packs": [t.pack({"carrier_kind": k}) | some k in kinds],
	"people": [t.person({}), t.person(object.union({"id": "people/ben", "name": "Ben", "pack_count": 0}, ben))],
}

idle := {"carries": false}

test_some_pack_at_the_limit if {
	count(separation.finding.some_pack) == 0 with input as borne(["person"], idle)
}

test_some_pack_none if {
	every kinds in [[], ["animal"]] {
		separation.finding.some_pack == {{
			"at": "household",
			"text": "nobody carries a pack, and the household needs 1",
		}} with input as borne(kinds, idle)
	}
}

test_some_pack_is_left_to_own_pack if {
	count(separation.finding.some_pack) == 0 with input as borne([], {})
}

test_some_pack_of_two_asked if {
	own := {"limits": [{"area": "separation", "name": "packs", "list": false, "value": 2, "values": []}]}
	some f in separation.finding.some_pack with input as object.union(own, borne(["person"], idle))
	f.text == "people carry 1 pack, and the household needs 2"
}

test_own_pack_missing if {
	separation.finding.own_pack == {{"at": "people/ben", "text": "Ben can carry and has no pack"}} with input as borne([], {"age_months": 72})
}

# A pack that nobody is known to bear may be theirs; one that rides is not.
test_own_pack_with_a_pack_of_nobody if {
	facts := borne([], {"age_months": 72})
	stray := {"id": "packs/moss", "carrier": "", "vehicle": ""}
	count(separation.finding.own_pack) == 0 with input as object.union(facts, {"packs": [stray]})
	count(separation.finding.own_pack) == 1 with input as object.union(facts, {"packs": [object.union(stray, {"vehicle": "vehicles/car"})]})
	count(separation.finding.own_pack) == 1 with input as object.union(facts, {"packs": [object.union(stray, {"carrier": "people/cleo"})]})
}

test_own_pack_not_asked[who] if {
	some who, more in {
		"a small child": {"age_months": 71},
		"carries nothing": {"carries": false},
		"is carried": {"carried_by": "people/cleo"},
		"has one": {"pack_count": 1},
	}
	count(separation.finding.own_pack) == 0 with input as borne(["person"], more)
}
