package rules.base.separation_test

import data.lib.testing_test as t
import data.rules.base.separation

asked := ["fire", "first_aid", "light", "shelter", "signal", "treat-water"]

alone(capabilities) := {"people": [t.person({"alone": t.supply({"can": [t.can(c, ["some"]) | some c in capabilities]})})]}

test_alone_at_the_limit if {
	count(separation.finding.alone) == 0 with input as alone(asked)
}

test_alone_one_too_few if {
	separation.finding.alone == {{
		"at": "people/ana",
		"text": "Ana alone has no means of water treatment: 5 of the 6 capabilities asked are there, 1 too few",
	}} with input as alone(array.slice(asked, 0, 5))
}

test_alone_with_nothing if {
	separation.finding.alone == {{
		"at": "people/ana",
		"text": "Ana alone has no means of water treatment, fire, shelter, light, first aid and signal: 0 of the 6 capabilities asked are there, 6 too few",
	}} with input as alone([])
}

test_alone_not_asked_of_people_without_packs if {
	count(separation.finding.alone) == 0 with input as {"people": [t.person({"pack_count": 0})]}
}

young(more, capabilities) := {"people": [t.person(object.union(
	{"age_months": 167, "alone": t.supply({"can": [t.can(c, ["some"]) | some c in capabilities]})},
	more,
))]}

test_alone_young_at_the_limit if {
	count(separation.finding.alone) == 0 with input as young({}, ["shelter", "light", "signal"])
}

test_alone_young_one_too_few if {
	separation.finding.alone == {{
		"at": "people/ana",
		"text": "Ana alone has no means of signal: 2 of the 3 capabilities asked are there, 1 too few",
	}} with input as young({}, ["shelter", "light"])
}

test_alone_young_with_nothing if {
	separation.finding.alone == {{
		"at": "people/ana",
		"text": "Ana alone has no means of shelter, light and signal: 0 of the 3 capabilities asked are there, 3 too few",
	}} with input as young({}, [])
}

test_alone_grown[why] if {
	some why, more in {
		"from fourteen years on": {"age_months": 168},
		"of unknown age": {"age_known": false, "age_months": 0},
	}
	separation.finding.alone == {{
		"at": "people/ana",
		"text": "Ana alone has no means of water treatment, fire and first aid: 3 of the 6 capabilities asked are there, 3 too few",
	}} with input as young(more, ["shelter", "light", "signal"])
}

borne(kinds) := {
	"household": t.household({}),
	"packs": [t.pack({"carrier_kind": k}) | some k in kinds],
	"people": [t.person({}), t.person({"id": "people/ben", "name": "Ben", "pack_count": 0})],
}

test_some_pack_at_the_limit if {
	count(separation.finding.some_pack) == 0 with input as borne(["person"])
}

test_some_pack_none if {
	every kinds in [[], ["animal"]] {
		separation.finding.some_pack == {{
			"at": "household",
			"text": "people bear 0 packs; 1 is asked: 1 too few",
		}} with input as borne(kinds)
	}
}

test_own_pack_missing if {
	separation.finding.own_pack == {{"at": "people/ben", "text": "Ben can carry and bears no pack"}} with input as borne(["person"])
}

test_own_pack_not_asked_where_nobody_bears_one if {
	count(separation.finding.own_pack) == 0 with input as borne(["animal"])
}

test_own_pack_not_asked[who] if {
	some who, more in {
		"a child": {"adult": false},
		"carries nothing": {"carries": false},
		"is carried": {"carried_by": "people/cleo"},
		"has one": {"pack_count": 1},
	}
	facts := object.union(borne(["person"]), {"people": [t.person(object.union({"pack_count": 0}, more))]})
	count(separation.finding.own_pack) == 0 with input as facts
}

test_some_pack_of_two_asked if {
	own := {"limits": [{"area": "separation", "name": "packs", "list": false, "value": 2, "values": []}]}
	some f in separation.finding.some_pack with input as object.union(own, borne(["person"]))
	f.text == "people bear 1 pack; 2 is asked: 1 too few"
}

test_alone_not_recorded if {
	thing := {"id": "packs/rust/x", "name": "water filter", "pack": "packs/rust", "carrier": "people/ana", "may": ["treat-water"], "count": 1}
	facts := object.union(alone(array.slice(asked, 0, 5)), {"unrecorded": [thing]})
	[f.level | some f in separation.finding.alone] == ["note"] with input as facts
	more := object.union(alone(array.slice(asked, 0, 4)), {"unrecorded": [thing]})
	[f | some f in separation.finding.alone; f.level] == [] with input as more
}
