package rules.base.access_test

import data.lib.testing_test as t
import data.rules.base.access

ana(more) := object.union({"plan": t.plan({}), "people": [t.person({})], "capabilities": [], "vessels": [], "foods": []}, more)

can(name, offers) := {"capabilities": [t.capability(name, offers)]}

halted(means) := t.offer(means, {"reach": "halted"})

told(ids, text) := {object.union({"at": ids[0], "because": ids}, {"text": text})}

test_on_the_move_each_capability if {
	cases := {
		"rain": "rain gear",
		"first_aid": "first aid",
		"light": "a light",
		"navigate": "the map or compass",
	}
	every kind, words in cases {
		access.finding.on_the_move == told(
			["packs/rust/thing"],
			sprintf("Ana has to stop and unpack to reach %s", [words]),
		) with input as ana(can(kind, [halted("thing")]))
	}
}

test_on_the_move_water if {
	access.finding.on_the_move == told(
		["packs/rust/bottle"],
		"Ana has to stop and unpack to reach water",
	) with input as ana({"vessels": [t.vessel({"reach": "halted", "water_ml": 1})]})
}

test_on_the_move_not_asked_of_empty_vessels if {
	count(access.finding.on_the_move) == 0 with input as ana({"vessels": [t.vessel({"reach": "halted", "water_ml": 0})]})
}

test_on_the_move_snack[for_whom] if {
	some for_whom in ["", "people/ana"]
	access.finding.on_the_move == told(
		["packs/rust/bars"],
		"Ana has to stop and unpack to reach a snack",
	) with input as ana({"foods": [t.food({"reach": "halted", "for": for_whom})]}) with data.limits.base.access.on_the_move.value as ["snack"]
}

test_on_the_move_no_snack[what] if {
	some what, more in {
		"takes cooking": {"cook": true},
		"takes an opener": {"canned": true},
		"for somebody else": {"for": "people/baby"},
	}
	count(access.finding.on_the_move) == 0 with input as ana({"foods": [t.food(object.union({"reach": "halted"}, more))]}) with data.limits.base.access.on_the_move.value as ["snack"]
}

test_on_the_move_several if {
	access.finding.on_the_move == told(
		["packs/rust/jacket", "packs/rust/poncho", "packs/rust/torch"],
		"Ana has to stop and unpack to reach rain gear and a light",
	) with input as ana({"capabilities": [
		t.capability("light", [halted("torch")]),
		t.capability("rain", [halted("jacket"), halted("poncho")]),
		t.capability("cut", [halted("knife")]),
	]})
}

test_on_the_move_names_the_persons_own_things if {
	access.finding.on_the_move == told(
		["packs/rust/thing"],
		"Ana has to stop and unpack to reach a light",
	) with input as ana(can("light", [halted("thing"), t.offer("bens", {"carrier": "people/ben"})]))
}

test_on_the_move_own_kinds_by_their_name if {
	own := {"limits": [{"area": "access", "name": "on_the_move", "list": true, "value": 0, "values": ["signal"]}]}
	access.finding.on_the_move == told(
		["packs/rust/whistle"],
		"Ana has to stop and unpack to reach signal",
	) with input as ana(object.union(own, can("signal", [halted("whistle")])))
}

test_on_the_move_one_at_hand_is_enough[reach] if {
	some reach in ["walking", "on-body"]
	count(access.finding.on_the_move) == 0 with input as ana(can("rain", [halted("poncho"), t.offer("jacket", {"reach": reach})]))
}

test_on_the_move_not_asked_for_what_is_not_there if {
	count(access.finding.on_the_move) == 0 with input as ana({})
}

test_on_the_move_not_asked_for_what_another_has if {
	count(access.finding.on_the_move) == 0 with input as ana(can("rain", [t.offer("jacket", {"reach": "halted", "carrier": "animals/bo"})]))
}

test_on_the_move_by_age if {
	facts := can("rain", [halted("jacket")])
	count(access.finding.on_the_move) == 0 with input as ana(object.union(facts, {"people": [t.person({"age_months": 71})]}))
	count(access.finding.on_the_move) == 1 with input as ana(object.union(facts, {"people": [t.person({"age_months": 72})]}))
}

test_on_the_move_not_asked_for_a_few_hundred_metres if {
	every mm, n in {500000: 0, 500001: 1} {
		plan := t.plan({"legs": [{"id": "plan/legs/out"}], "foot_mm": mm})
		count(access.finding.on_the_move) == n with input as ana(object.union(can("rain", [halted("jacket")]), {"plan": plan}))
	}
}

kitchen(stove, fuels, vessels) := {
	"stoves": [t.stove(["ethanol", "methanol"], stove)],
	"fuels": fuels,
	"vessels": vessels,
	"household": t.household({"supply": t.supply({"cook_water_ml": 1})}),
	"treatments": [],
	"useless": [],
}

spirit(pack) := t.fuel("ethanol", {"id": sprintf("%s/spirit", [pack]), "name": "Spirit", "pack": pack})

pot(pack) := t.vessel({"id": sprintf("%s/pot", [pack]), "name": "Pot", "pack": pack, "fire_safe": true})

test_used_together_beside_each_other if {
	facts := kitchen({}, [spirit("packs/moss"), spirit("packs/rust")], [pot("packs/moss"), pot("packs/rust")])
	count(access.finding.used_together) == 0 with input as facts
}

test_used_together_fuel_apart if {
	access.finding.used_together == {{
		"at": "packs/rust/stove",
		"because": ["packs/moss/spirit"],
		"text": "Stove is packed apart from its fuel (Spirit)",
	}} with input as kitchen({}, [spirit("packs/moss"), t.fuel("butane", {})], [pot("packs/rust")])
}

test_used_together_vessel_apart if {
	access.finding.used_together == {{
		"at": "packs/rust/stove",
		"because": ["packs/moss/pot"],
		"text": "Stove is packed apart from a fire-safe pot or cup (Pot)",
	}} with input as kitchen({}, [spirit("packs/rust")], [pot("packs/moss"), t.vessel({})])
}

test_used_together_both_apart if {
	access.finding.used_together == {{
		"at": "packs/rust/stove",
		"because": ["packs/moss/spirit", "packs/lynx/spirit", "packs/moss/pot"],
		"text": "Stove is packed apart from its fuel (2 × Spirit) and a fire-safe pot or cup (Pot)",
	}} with input as kitchen({}, [spirit("packs/moss"), spirit("packs/lynx")], [pot("packs/moss")])
}

test_used_together_not_asked_for_what_is_not_there if {
	count(access.finding.used_together) == 0 with input as kitchen({}, [t.fuel("butane", {"pack": "packs/moss"})], [t.vessel({"pack": "packs/moss"})])
}

test_used_together_not_asked_of_pockets if {
	count(access.finding.used_together) == 0 with input as kitchen({"pack": ""}, [spirit("packs/moss")], [pot("packs/moss")])
}

test_used_together_asked_of_a_kitchen[what] if {
	some what, c in {
		"food": {"more": {}, "asked": 1},
		"water": {"more": {"household": t.household({}), "treatments": [t.treatment("boil", {})]}, "asked": 1},
		"neither": {"more": {"household": t.household({}), "treatments": [t.treatment("filter", {})]}, "asked": 0},
		"nobody can use it": {"more": {"useless": [t.useless("cook", "cold-fuel", {"item": "packs/rust/stove"})]}, "asked": 0},
		"one alone cannot": {"more": {"useless": [t.useless("cook", "no-fuel", {"item": "packs/rust/stove", "household": false})]}, "asked": 1},
		"another cannot be used": {"more": {"useless": [t.useless("cook", "no-fuel", {})]}, "asked": 1},
	}
	count(access.finding.used_together) == c.asked with input as object.union(kitchen({}, [spirit("packs/moss")], [pot("packs/rust")]), c.more)
}
