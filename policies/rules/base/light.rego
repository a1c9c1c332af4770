package rules.base.light

import data.lib

# METADATA
# title: Everyone old enough has a light to walk by
# description: >-
#   Floods and fires do not wait for daylight, one lamp cannot light two people's feet on stairs, and a child without a
#   light is lost from sight. Each person old enough has a light to walk by, worn or in their own packs, with batteries; a
#   candle goes out in wind and rain and does not count. For people who are never alone, the lights of those beside them
#   count, if there is one for each. For a small child it is a warning. For a person with only a phone, which is needed for
#   calls, it is a note; if nobody has a lamp and the forecast is short of light, endurance/light says so.
# custom:
#   level: error
#   remedy: Add a headlamp or a torch for this person, small enough for a pocket.
#   mend: {work: add, thing: light, get: light to walk by}
#   sources:
#     - "City of Himeji (Japan), disaster kit page: one torch each if possible; year not seen; seen in a copy of the city's page"
#     - "A light is on every household list read: Ready.gov/FEMA 2022 (second-hand), NYC Emergency Management (copy of its own page), Prepare (UK) 2024 (second-hand)"
#     - "The ages and which lights count: common practice, no source"
#   limits: [light.means, light.walk_means, people.bag_months, people.call_months, endurance.light_share]
#   caution: Keep button cells away from children; follow the label.
#   passes: |
#     people: mia: {age: "6 y", bodyMass: "21 kg", carries: false}
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", count: 2, can: light: "headlamp"}
#   fails: |
#     people: mia: {age: "6 y", bodyMass: "21 kg", carries: false}
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp"}
finding.each_pack contains f if {
	asked := lib.limit("light", "means")
	months := lib.limit("people", "call_months")
	walk_by := lib.limit("light", "walk_means")
	lights := [o | some o in lib.offers("light"); o.means in walk_by; not _dead(o)]
	some person in input.people
	lib.at_least(person, months)
	lib.lacks_own(person, lights, months, asked)
	not _said_of_all(person, lights)
	own := [o | some o in lights; o.carrier == person.id]
	bare := object.union(
		{
			"at": array.concat([u.item | some u in _empty(person)], [lib.stands(person)])[0],
			"because": array.concat([u.item | some u in _empty(person)], [o.id | some o in own]),
			"text": sprintf("%s has %s to walk by (%s)%s%s", [
				person.name,
				_lights(lib.pieces(own)),
				concat(", ", walk_by),
				_needs(asked),
				concat("", [sprintf("; %s %s", [u.name, u.words]) | some u in _empty(person)]),
			]),
		},
		_milder(person),
	)
	may := lib.unrecorded_means(lib.beside(person), "light", walk_by)
	f := lib.lack_own(bare, person, lights, may, months, asked)
}

# A lamp with no cells in it and none for it with its carrier, though others have some. For people who are never alone, theirs count.
_dead(lamp) if {
	some person in input.people
	some u in _empty(person)
	u.item == lamp.id
	not lib.never_alone(person)
}

# The lamps of a person that do not work.
_empty(person) := [u | some u in input.useless; u.capability == "light"; u.carrier == person.id]

_lights(0) := "no light"

_lights(n) := lib.many(n, "light", "lights") if n > 0

_needs(1) := ""

_needs(n) := sprintf(" and needs %d", [n]) if n != 1

_milder(person) := {"level": "note"} if {
	_phone(person)
} else := {"level": "warning"} if {
	lib.younger(person, lib.limit("people", "bag_months"))
} else := {}

_said_of_all(person, []) if {
	_phone(person)
	some stock in input.endurance.stocks
	stock.kind == "light"
	lib.lacking(stock.need - stock.short, stock.need, lib.limit("endurance", "light_share"))
}

_phone(person) if "phone" in lib.at_hand(person, "communicate")

_phone(person) if lib.unrecorded_means(lib.beside(person), "communicate", ["phone"]) != []
