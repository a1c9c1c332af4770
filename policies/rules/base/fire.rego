package rules.base.fire

import data.lib

# METADATA
# title: Everyone old enough has independent ways to make fire
# description: >-
#   A lighter that leaks or a wet box of matches must not be the end of warmth, hot food and boiled water. Two fire
#   starters that work the same way fail the same way, so they count once. One of them works when wet or is packed
#   waterproof. What is worn counts; for people who are never alone, so does what those beside them have. If all ride all
#   the way to a house and have enough between them, it is a warning. A child handles no fire, nor does someone with a device
#   that gives oxygen, and what an animal carries counts for nobody.
# custom:
#   level: error
#   remedy: Add a fire starter that works in another way, such as matches beside a gas lighter, and keep one in a waterproof case.
#   mend: {work: add, thing: fire, get: way to make fire}
#   sources:
#     - "Two different means: common practice, no source"
#     - "US National Park Service, Ten Essentials (matches, lighter, starters), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "Ready.gov/FEMA, 2022, and Australian emergency agencies, year not seen: matches that stay dry; seen second-hand"
#     - "A ferro rod works wet, the age, and no fire beside oxygen: common practice, no source"
#   limits: [fire.means, fire.wet, fire.oxygen_words, people.bag_months, people.hand_months]
#   lack: {what: ways to make fire, unit: count}
#   caution: >-
#     Keep fire starters out of a young child's reach and pack. Make fire outdoors only, away from tents and dry grass;
#     follow the maker's label and local fire rules.
#   passes: |
#     packs: rust: compartments: lid: {waterproof: true, items: {
#     	lighter: {mass: "20 g", can: fire: "gas-lighter"}
#     	matches: {mass: "15 g", can: fire: "matches"}
#     	pads: {mass: "26 g", can: tinder: "wax"}
#     }}
#   fails: |
#     packs: rust: compartments: lid: items: {
#     	lighter: {mass: "20 g", can: fire: "gas-lighter"}
#     	spare: {mass: "20 g", can: fire: "gas-lighter"}
#     }
finding.two_means contains f if {
	asked := lib.limit("fire", "means")
	some person in input.people
	lib.at_least(person, lib.limit("people", "hand_months"))
	not _on_oxygen(person)
	have := sort(lib.at_hand(person, "fire"))
	things := lib.offers_beside(person, "fire")
	short := max([0, asked - count(have)])
	faults := _wet(have, things)
	short + count(faults) > 0
	may := [thing | some thing in lib.unrecorded(lib.beside(person), "fire"); not _same(thing, have)]
	bare := object.union(
		_at(person, things, short),
		{
			"because": [o.id | some o in things],
			"text": sprintf("%s has %s%s", [person.name, _ways(have), concat("; ", array.concat([_needs(short, asked)], faults))]),
			"lack": max([short, count(faults)]),
		},
	)
	riding := object.union(bare, _rides_to_it(asked))
	f := _unless_unread(riding, may, short)
}

# Flames and oxygen are kept apart.
_on_oxygen(person) if {
	some device in input.care_devices
	device.person == person.id
	some word in lib.limit("fire", "oxygen_words")
	contains(lower(device.name), word)
}

# All ride to a house, with enough between them.
_rides_to_it(asked) := {"level": "warning"} if {
	input.plan.ridden
	lib.housed
	count(lib.means("fire")) >= asked
} else := {}

# A note where things that are not recorded may be all that is missing.
_unless_unread(f, may, short) := lib.maybe(f, may) if {
	may != []
	_different_ways(may) >= short
} else := lib.too_few(f, may) if {
	may != []
} else := f

# How many different ways these things may be: one whose way is not known is one of its own.
_different_ways(things) := count({m | some thing in things; some m in thing.may; startswith(m, "fire:")}) + lib.pieces([thing | some thing in things; _way_unknown(thing)])

_way_unknown(thing) if thing.what == "unreadable"

# A thing that by its name makes fire in a way that is there already.
_same(thing, have) if {
	some means in have
	sprintf("fire:%s", [means]) in thing.may
}

# Too few ways stand at the pack; what is wrong with those that are there stands at the first of them.
_at(person, _, short) := {"at": lib.stands(person)} if short > 0

_at(_, things, 0) := {"at": min([o.id | some o in things]), "level": "warning"}

_ways([]) := "no way to make fire"

_ways(have) := sprintf("%s to make fire (%s)", [lib.many(count(have), "way", "ways"), lib.and_list(have)]) if have != []

_needs(0, _) := ""

_needs(short, asked) := sprintf(" and needs %d%s", [asked, _different(asked)]) if short > 0

_different(1) := ""

_different(n) := " different ones" if n > 1

_wet(have, things) := ["none of them works when wet or is packed waterproof" |
	have != []
	wet := lib.limit("fire", "wet")
	[m | some m in have; m in wet] == []
	[o | some o in things; o.waterproof] == []
]

# METADATA
# title: A fire can be lit with what is packed
# description: >-
#   Damp wood does not catch fire from a match. Each person who has a way to make fire has tinder with them, unless the plan
#   is for a town only or ends under a roof, hardly anyone walks, or the household has a stove that burns something other than wood.
# custom:
#   level: note
#   remedy: Add a few grams of tinder to the lighter or the matches, such as cotton with wax.
#   mend: {work: add, thing: tinder, get: tinder}
#   sources:
#     - "US National Park Service, Ten Essentials (matches, lighter, starters), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "Where tinder is not needed: common practice, no source"
#   limits: [people.bag_months, people.hand_months, load.near_foot_mm, shelter.soon_min]
#   lack: {what: people without tinder, unit: count}
#   caution: Light no fire where it is forbidden or where grass and brush are dry.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	lighter: {mass: "20 g", can: fire: "gas-lighter"}
#     	pads: {mass: "26 g", can: tinder: "wax"}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: lighter: {mass: "20 g", can: fire: "gas-lighter"}
finding.tinder contains f if {
	not _no_wood_fire
	bare := [person |
		some person in input.people
		lib.at_least(person, lib.limit("people", "hand_months"))
		lib.at_hand(person, "fire") != set()
		lib.at_hand(person, "tinder") == set()
	]
	bare != []
	near := {id | some person in bare; some id in lib.beside(person)}
	f := lib.lack(
		{
			"at": lib.stands_of(bare),
			"because": [person.id | some person in bare],
			"text": sprintf("no tinder at hand: %s", [lib.names(bare)]),
			"lack": count(bare),
		},
		lib.unrecorded(near, "tinder"), count(bare),
	)
}

_no_wood_fire if input.plan.settings == ["town"]

_no_wood_fire if lib.near

_no_wood_fire if {
	input.plan.destination.kind in {"house", "shelter"}
	lib.there_within(lib.limit("shelter", "soon_min"))
}

_no_wood_fire if {
	some stove in input.stoves
	some kind in stove.burns
	kind != "wood"
}
