package rules.base.separation

import data.lib

# METADATA
# title: Each person can manage on their own
# description: >-
#   A crowd, a smoke front or a closed bridge can separate a family. Rules of their own judge whether each person has fire,
#   light, a whistle, shelter, water treatment, first aid and food. This one judges what a group adds to them, and for a
#   child what helps to stay put and be found, which is a note; a person of unknown age counts as an adult. For people who
#   are never alone, what those beside them have counts. What an animal carries counts for nobody.
# custom:
#   level: error
#   remedy: Add a light one of each missing thing to that person's pack, or move a spare there.
#   mend: {work: add, get: what each lacks on their own}
#   sources:
#     - "The lists and the ages: common practice, no source"
#     - "A bag for everyone: NYC Emergency Management; CAL FIRE (year not seen, second-hand); Get Ready (New Zealand); Higashiomi (Japan), 2021; seen in copies of their own pages unless said"
#     - "A whistle and a bright bag for each child, who stays in one place: Hug-A-Tree and Survive, ages 5 to 12; year not seen; seen in copies"
#   limits: [separation.alone, separation.alone_child, people.alone_months, people.bag_months, people.call_months]
#   caution: >-
#     A child alone should stay put, whistle and be found, not make fire or treat water. Give a child fire and chemicals only
#     as far as an adult trusts the child and has practised it.
#   passes: |
#     people: mia: {age: "9 y", bodyMass: "30 kg", onBody: {
#     	cape: {mass: "90 g", can: shelter: "poncho"}
#     	lamp: {mass: "60 g", can: light: "headlamp"}
#     	whistle: {mass: "10 g", can: signal: "whistle"}
#     }}
#   fails: |
#     people: mia: {age: "9 y", bodyMass: "30 kg", onBody: {
#     	lamp: {mass: "60 g", can: light: "headlamp"}
#     	whistle: {mass: "10 g", can: signal: "whistle"}
#     }}
finding.alone contains f if {
	some person in input.people
	lib.at_least(person, lib.limit("people", "call_months"))
	missing := [c | some c in _asked(person); lib.at_hand(person, c) == set()]
	some part in lib.parted(missing, {c: lib.unrecorded(lib.beside(person), c) | some c in missing})
	bare := object.union(
		{
			"at": lib.stands(person),
			"text": sprintf("%s no %s", [lib.carries(person), concat(" and no ", [_words(c) | some c in part.keys])]),
		},
		_milder(person),
	)
	f := lib.lack_any(bare, part.may)
}

_grown(person) if lib.at_least(person, lib.limit("people", "alone_months"))

_asked(person) := _asked_of_grown if _grown(person)

_asked(person) := lib.limit("separation", "alone_child") if not _grown(person)

_milder(person) := {} if _grown(person)

_milder(person) := {"level": "note"} if not _grown(person)

_asked_of_grown := [c | some c in lib.limit("separation", "alone"); not c in _elsewhere]

# What rules of their own ask of each adult.
_elsewhere := {"fire", "first_aid", "light", "shelter", "signal", "treat-water"}

# Capabilities are written with _ in kits and facts.
_words(capability) := replace(capability, "_", " ")

# METADATA
# title: The water is shared out among people
# description: >-
#   A person who is separated from the one who carries all the water has none. Each person old enough for a bag has some of
#   their own. For people who are never alone, the water of those beside them counts. If the water does not last for the
#   plan, only the rules on the amount speak.
# custom:
#   level: warning
#   remedy: Move a bottle to a person who has none, as far as their cap allows; a child's share is small.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: [people.bag_months, separation.own_water]
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "70 kg", onBody: flask: {mass: "150 g", container: capacity: "500 ml", water: "500 ml"}}
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", container: capacity: "7 L", water: "7 L"}
#     plan: duration: "24 h"
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "70 kg"}
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", container: capacity: "7 L", water: "7 L"}
#     plan: duration: "24 h"
finding.one_basket contains f if {
	not _water_short
	asked := [p | some p in input.people; lib.at_least(p, lib.limit("people", "bag_months"))]
	count(asked) > 1
	dry := [p | some p in asked; _water(p) < lib.limit("separation", "own_water")]
	some part in lib.parted_people(dry, {p.id: array.concat(lib.unrecorded(lib.beside(p), "water"), lib.unrecorded(lib.beside(p), "container")) | some p in dry})
	bare := {
		"at": _fullest,
		"text": sprintf("of the %s that the household starts with, less than %s is with %s", [
			lib.litres(input.household.supply.water_ml),
			lib.litres(lib.limit("separation", "own_water")),
			lib.and_list([p.name | some p in part.people]),
		]),
	}
	f := lib.lack_any(bare, part.may)
}

_fullest := min({v.id | some v in input.vessels; v.water_ml == most}) if {
	most := max([v.water_ml | some v in input.vessels])
	most > 0
} else := input.household.id

_water(person) := sum([p.alone.water_ml |
	ids := lib.beside(person)
	some p in input.people
	p.id in ids
])

_water_short if {
	some stock in input.endurance.stocks
	stock.kind == "water"
	stock.short > 0
}

# METADATA
# title: At least one person carries a pack
# description: >-
#   A household in which nobody carries a pack has nothing when it must go on foot. What an animal carries may run away with
#   it. If people need a pack of their own, separation/own-pack says so.
# custom:
#   level: error
#   remedy: Pack a first pack for someone who can carry it, and write it under packs.
#   mend: {work: add, get: pack}
#   sources:
#     - "A bag for everyone: NYC Emergency Management; CAL FIRE (year not seen, second-hand); Get Ready (New Zealand); seen in copies of their own pages unless said"
#   limits: [separation.packs, people.bag_months]
#   passes: |
#     packs: rust: compartments: lid: items: matches: {mass: "15 g", can: fire: "matches"}
#   fails: |
#     household: "Example"
#     people: ana: {age: "40 y", bodyMass: "70 kg", carries: false}
finding.some_pack contains f if {
	_without_a_pack == []
	least := lib.limit("separation", "packs")
	have := count([p | some p in input.packs; p.carrier_kind == "person"])
	have < least
	f := {
		"at": input.household.id,
		"text": sprintf("%s, and the household needs %d", [_packs(have), least]),
	}
}

_packs(0) := "nobody carries a pack"

_packs(n) := sprintf("people carry %s", [lib.many(n, "pack", "packs")]) if n > 0

# METADATA
# title: Everyone who can carry has a pack of their own
# description: >-
#   A person without a pack has nothing when separated from the others, and the others carry more. Each person old enough
#   for a bag has one, however small. People who are carried are left out, and so are those who are recorded as carrying
#   nothing: people/beside speaks of who is with them.
# custom:
#   level: error
#   remedy: "Give this person a pack, however small, or write carries: false and under with who is always beside them."
#   mend: {work: add, get: pack}
#   sources:
#     - "A bag for everyone: NYC Emergency Management; CAL FIRE (year not seen, second-hand); Get Ready (New Zealand); seen in copies of their own pages unless said"
#     - "One backpack for each member: BBK (Germany); year not seen; seen second-hand"
#     - "The age: common practice, no source"
#   limits: [people.bag_months]
#   caution: Not everyone can carry; ask a licensed practitioner if in doubt.
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "70 kg", carries: false}
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "70 kg"}
finding.own_pack contains f if {
	not _stray
	some person in _without_a_pack
	f := {"at": person.id, "text": sprintf("%s can carry and has no pack", [person.name])}
}

# A pack whose carrier cannot be read may be theirs.
_stray if {
	some pack in input.packs
	pack.carrier == ""
	pack.vehicle == ""
}

_without_a_pack := [person |
	some person in input.people
	person.pack_count == 0
	person.carries
	person.carried_by == ""
	lib.at_least(person, lib.limit("people", "bag_months"))
]
