package rules.base.mobility_test

import data.lib.testing_test as t
import data.rules.base.mobility

# Ana, who moves as given, with these things.
moving(moves, things) := {
	"people": [t.person({"id": "people/ben", "name": "Ben"}), t.person({"moves": moves})],
	"capabilities": [t.capability("mobility", [t.offer(means, {"owner": owner}) | some means, owner in things])],
}

test_aid_along_without_spares if {
	mobility.finding.aid_along == {{
		"at": "people/ana/moves",
		"because": ["packs/rust/wheelchair"],
		"text": "Ana needs a wheelchair and has no tube or patch kit and no pump for it",
	}} with input as moving("wheelchair", {"wheelchair": "people/ana", "pump": "people/ben"})
}

test_aid_along_fine[why] if {
	some why, case in {
		"a tube": moving("wheelchair", {"wheelchair": "people/ana", "tube": "", "pump": ""}),
		"patches": moving("wheelchair", {"wheelchair": "", "patch-kit": "", "pump": "people/ana"}),
		"a charger": moving("power-chair", {"power-chair": "people/ana", "charger": ""}),
		"socks": moving("prosthesis", {"prosthesis": "people/ana", "stump-socks": ""}),
		"a cane": moving("cane", {"cane": ""}),
		"a frame": moving("frame", {"frame": ""}),
		"crutches": moving("crutches", {"crutches": ""}),
		"alone": moving("alone", {}),
		"carried": moving("carried", {}),
		"not written": moving("", {}),
	}
	count(mobility.finding.aid_along) == 0 with input as case
}

test_aid_along_of_each_aid[why] if {
	some why, case in {
		"power chair": {"moves": "power-chair", "things": {}, "text": "Ana needs a power chair and has no charger for it"},
		"prosthesis": {"moves": "prosthesis", "things": {"prosthesis": ""}, "text": "Ana needs a prosthesis and has no spare socks for it"},
		"crutches": {"moves": "crutches", "things": {}, "text": "Ana needs a pair of crutches, which is not recorded as worn or in a pack"},
		"cane": {"moves": "cane", "things": {}, "text": "Ana needs a cane, which is not recorded as worn or in a pack"},
		"frame": {"moves": "frame", "things": {"frame": "people/ben"}, "text": "Ana needs a frame, which is not recorded as worn or in a pack"},
	}
	{f.text | some f in mobility.finding.aid_along} == {case.text} with input as moving(case.moves, case.things)
}

test_aid_along_of_an_aid_not_recorded if {
	mobility.finding.aid_along == {{
		"at": "people/ana/moves",
		"because": [],
		"level": "note",
		"text": "Ana needs a wheelchair, which is not recorded as worn or in a pack",
	}} with input as moving("wheelchair", {"tube": "", "pump": ""})
}

leg(more) := object.union({"id": "plan/legs/one", "ground": "road", "ridden": false, "stairs": 0, "distance_mm": 250000, "climb_mm": 12500}, more)

route(legs, people) := {
	"plan": t.plan({"legs": [leg(l) | some l in legs]}),
	"people": [t.person(p) | some p in people],
	"carriers": [t.carrier({"load_mg": 0}), t.carrier({"id": "people/ben", "name": "Ben", "load_id": "people/ben/load", "load_mg": 7000000})],
}

chair := {"moves": "wheelchair"}

test_ground_closed if {
	mobility.finding.ground == {{
		"at": "plan/legs/one",
		"because": ["people/ana"],
		"text": "this leg crosses heavy brush, and Ana uses a wheelchair",
	}} with input as route([{"ground": "heavy-brush"}, {"id": "plan/legs/two"}], [{"id": "people/ben"}, chair])
}

test_ground_of_each_kind if {
	every ground in ["sand", "bog", "snow", "brush", "heavy-brush"] {
		count(mobility.finding.ground) == 1 with input as route([{"ground": ground}], [chair])
	}
	every ground in ["road", "dirt", "grass", ""] {
		count(mobility.finding.ground) == 0 with input as route([{"ground": ground}], [chair])
	}
}

test_ground_with_stairs if {
	{f.text | some f in mobility.finding.ground} == {"this leg crosses 1 step, and Ana uses a wheelchair"} with input as route([{"stairs": 1, "ground": "sand"}], [chair])
	{f.text | some f in mobility.finding.ground} == {"this leg crosses 12 steps, and Ana uses a wheelchair"} with input as route([{"stairs": 12}], [chair])
}

test_ground_that_is_ridden_over if {
	count(mobility.finding.ground) == 0 with input as route([{"stairs": 1, "ridden": true}, {"ground": "sand", "ridden": true}], [chair])
}

test_ground_names_them_all if {
	some f in mobility.finding.ground with input as route([{"ground": "sand"}], [chair, {"id": "people/ben", "name": "Ben", "moves": "power-chair"}])
	f.text == "this leg crosses sand, and Ana and Ben use a wheelchair"
}

test_ground_not_asked_of_others if {
	count(mobility.finding.ground) == 0 with input as route([{"ground": "sand"}], [{"moves": "cane"}])
}

test_helper_not_named if {
	mobility.finding.helper == {{
		"at": "people/ana/moves",
		"because": ["plan/legs/two"],
		"text": "Ana uses a wheelchair over 250.001 m with 0 m of climb, and nobody is named to push it",
	}} with input as route([{}, {"id": "plan/legs/two", "distance_mm": 250001, "climb_mm": 0}], [chair])
}

test_helper_for_a_climb if {
	count(mobility.finding.helper) == 0 with input as route([{}], [chair])
	some f in mobility.finding.helper with input as route([{"climb_mm": 12501}], [chair])
	f.text == "Ana uses a wheelchair over 250 m with 12.501 m of climb, and nobody is named to push it"
}

test_helper_not_asked[why] if {
	some why, case in {
		"ridden": route([{"distance_mm": 900000, "climb_mm": 90000, "ridden": true}], [chair]),
		"stairs, which are closed anyway": route([{"distance_mm": 900000, "climb_mm": 90000, "stairs": 1}], [chair]),
		"a power chair": route([{"distance_mm": 900000}], [{"moves": "power-chair"}]),
		"ground that is closed anyway": route([{"distance_mm": 900000, "climb_mm": 90000, "ground": "sand"}], [chair]),
		"named": route([{"distance_mm": 900000}], [object.union(chair, {"helped_by": "people/ben"})]),
	}
	count(mobility.finding.helper) == 0 with input as case
}

pushed(distance, load) := object.union(
	route([{"distance_mm": distance, "climb_mm": 0}], [object.union(chair, {"helped_by": "people/ben"})]),
	{"carriers": [t.carrier({"load_mg": 30000000}), t.carrier({"id": "people/ben", "name": "Ben", "load_id": "people/ben/load", "load_mg": load})]},
)

test_helper_with_a_heavy_pack if {
	count(mobility.finding.helper) == 0 with input as pushed(900000, 7000000)
	mobility.finding.helper == {{
		"at": "people/ana/helpedBy",
		"because": ["people/ben/load"],
		"text": "Ben pushes the wheelchair of Ana and carries 7.00 kg, 1 mg more than 10 % of body weight",
	}} with input as pushed(900000, 7000001)
}

test_helper_with_a_heavy_pack_not_asked if {
	count(mobility.finding.helper) == 0 with input as pushed(250000, 9000000)
	cane := {"people": [t.person({"moves": "cane", "helped_by": "people/ben"})]}
	count(mobility.finding.helper) == 0 with input as object.union(pushed(900000, 9000000), cane)
}

# Ana on the third floor with these others.
upstairs(moves, others, things) := {
	"plan": t.plan({"home_floor_known": true, "home_floor": 3}),
	"people": array.concat([t.person({"moves": moves})], [t.person(object.union({"id": sprintf("people/%d", [i])}, o)) | some i, o in others]),
	"capabilities": [t.capability("mobility", [t.offer(m, {}) | some m in things])],
}

test_carry_down_fine[why] if {
	some why, case in {
		"a sheet": upstairs("wheelchair", [{}, {}], ["carry-sheet"]),
		"straps": upstairs("carried", [{"age_months": 192}, {"age_known": false}], ["carry-straps"]),
		"walks": upstairs("cane", [], []),
		"on the ground": object.union(upstairs("wheelchair", [], []), {"plan": t.plan({"home_floor_known": true, "home_floor": 0})}),
		"not written": object.union(upstairs("wheelchair", [], []), {"plan": t.plan({"home_floor_known": false, "home_floor": 3})}),
	}
	count(mobility.finding.carry_down) == 0 with input as case
}

test_carry_down_without_anything if {
	mobility.finding.carry_down == {{
		"at": "people/ana/moves",
		"because": [],
		"text": "Ana cannot walk down the stairs when the lift is out, and needs 2 helpers who are well (the household has none) and a sheet or straps to carry with",
	}} with input as upstairs("power-chair", [], ["tube"])
}

test_carry_down_with_one_helper[why] if {
	some why, other in {
		"nobody else": [],
		"too young": [{"age_months": 191}],
		"unwell": [{"fitness": "unwell"}],
		"in poor condition": [{"fitness": "poor"}],
		"carried": [{"moves": "carried"}],
	}
	some f in mobility.finding.carry_down with input as upstairs("carried", array.concat([{"id": "people/ben"}], other), ["carry-sheet"])
	f.text == "Ana cannot walk down the stairs when the lift is out, and needs 2 helpers who are well (the household has 1)"
}

test_carry_down_without_a_sheet if {
	some f in mobility.finding.carry_down with input as object.union(upstairs("wheelchair", [{}, {}], []), {"plan": t.plan({"home_floor_known": true, "home_floor": 1})})
	f.text == "Ana cannot walk down the stairs when the lift is out, and needs a sheet or straps to carry with"
}

test_ground_with_steps_for_a_frame if {
	mobility.finding.ground == {{
		"at": "plan/legs/one",
		"because": ["people/ana"],
		"text": "this leg goes over 4 steps, and a walking frame is carried up and down them for Ana",
		"level": "warning",
	}} with input as route([{"stairs": 4}, {"id": "plan/legs/two", "stairs": 3}, {"id": "plan/legs/three", "stairs": 9, "ridden": true}], [{"id": "people/ben"}, {"moves": "frame"}])
	count(mobility.finding.ground) == 0 with input as route([{"stairs": 40}], [{"moves": "cane"}])
}

# A patch by its name may be the patch kit of a wheelchair, and no pump.
test_spares_not_recorded if {
	patch := t.unread(["repair", "repair:patch"], {})
	{[f.text, t.level_of(f)] | some f in mobility.finding.aid_along; t.level_of(f) != "note"} == {
		["Ana needs a wheelchair and has no pump for it", ""],
		["Ana needs a wheelchair and has no tube or patch kit for it (not recorded: “thing” may do)", "not recorded"],
	} with input as t.with_unread(moving("wheelchair", []), [patch])
}
