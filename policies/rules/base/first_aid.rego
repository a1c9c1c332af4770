package rules.base.first_aid

import data.lib

# METADATA
# title: Everyone old enough has basic first aid at hand
# description: >-
#   Cuts, blisters and sprains are what really happen on a walk, and the one good kit may be with the others. Everyone old
#   enough has the basic contents in a pack, on the body, or with the people beside them. No first aid in the whole
#   household is an error. If the whole household lacks something, or someone has nothing at all, it is a warning; a
#   smaller kit beside a whole one is a note, and so is a kit whose contents are not recorded, and one that rides along if
#   all ride all the way; to a house that is enough. A bought kit to a standard counts as complete.
# custom:
#   level: error
#   remedy: Add the missing contents, and write them under firstAid of the item.
#   mend: {work: add, get: basic first aid}
#   sources:
#     - "The contents: common practice, no source"
#     - "A first aid kit is on every household list read, such as Ready.gov/FEMA 2022 and the American Red Cross 2020; seen second-hand"
#     - "What whole kits hold: DIN 13164:2022 and DIN 13157, ANSI Z308.1-2014 class A; the first seen second-hand, the last in a copy of an agency's page"
#   limits: [first_aid.basic, first_aid.whole_kits, people.alone_months, people.bag_months]
#   caution: Take a first-aid course; contents do not replace training or a licensed practitioner. Mind allergies to latex and adhesive.
#   passes: |
#     packs: rust: compartments: lid: items: aid: {mass: "200 g", firstAid: {plasters: 10, dressings: 2, bandages: 2, antiseptic: 4, gloves: 2}}
#   fails: |
#     packs: rust: compartments: lid: items: aid: {mass: "60 g", firstAid: plasters: 10}
finding.basic_in_each_pack contains f if {
	some part in lib.parted(_house_lacks, {kind: _may_be(lib.anybody, kind) | some kind in _house_lacks})
	bare := {
		"at": _at_kit,
		"because": [],
		"text": sprintf("the household's first aid has no %s", [_or_list(part.keys)]),
		"level": _house_level,
	}
	f := lib.lack_any(bare, part.may)
}

finding.basic_in_each_pack contains f if {
	some person in input.people
	lib.at_least(person, lib.limit("people", "alone_months"))
	not _rides_to_it
	not _whole(_kits_of(person))
	held := _kinds_of(person)
	lacks := [k | some k in _house_basic; not k in held]
	some part in lib.parted(lacks, {kind: _may_be(lib.beside(person), kind) | some kind in lacks})
	bare := {
		"at": _first([o.id | some o in _aids_of(person)], lib.stands(person)),
		"because": [person.id],
		"text": sprintf("%s has no %s at hand; others in the household do", [person.name, _or_list(part.keys)]),
		"level": _own_level(held),
	}
	f := lib.lack_any(bare, part.may)
}

finding.basic_in_each_pack contains f if {
	not _whole(_house_kits)
	_unrecorded
	f := {
		"at": [o.id | some o in lib.offers("first_aid"); o.means == "kit"][0],
		"because": [],
		"text": "what is in the first-aid kit is not recorded",
		"level": "note",
	}
}

_any_contents(thing) if thing.what != ""

_any_contents(thing) if "first_aid:kit" in thing.may

_basic := lib.limit("first_aid", "basic")

_house_kinds := {c.kind | some c in input.household.supply.first_aid; c.count > 0}

_house_basic := [k | some k in _basic; k in _house_kinds]

_house_kits := {m | some m in lib.means("first_aid")}

# What no kit of the household has, as far as that is known.
_house_lacks := [] if {
	_covered
} else := [k | some k in _basic; not k in _house_kinds]

_house_level := "error" if {
	every k in _basic {
		not k in _house_kinds
		not _only_named(k)
	}
} else := "warning"

# One of these is there by its name.
_only_named(kind) if lib.unrecorded(lib.anybody, sprintf("first-aid-contents:%s", [kind])) != []

# The kits of the household hold all that is basic, or may: of a standard, or with contents that are not recorded.
_covered if _whole(_house_kits)

_covered if _unrecorded

_whole(kits) if {
	some m in lib.limit("first_aid", "whole_kits")
	m in kits
}

# There is a kit, and of no first aid are contents recorded.
_unrecorded if {
	"kit" in _house_kits
	_house_kinds == set()
}

_kits_of(person) := {m | some m in lib.at_hand(person, "first_aid")}

_kinds_of(person) := {c.kind |
	ids := lib.beside(person)
	some p in input.people
	p.id in ids
	some c in p.alone.first_aid
	c.count > 0
}

_aids_of(person) := [o | some o in lib.offers("first_aid"); o.carrier == person.id]

_rides_to_it if {
	input.plan.ridden
	lib.housed
}

_own_level(held) := "note" if {
	input.plan.ridden
} else := "note" if {
	some k in _basic
	k in held
} else := "warning"

# Where a finding about the household's first aid stands: at the first kit, else at the household.
_at_kit := _first([o.id | some o in lib.offers("first_aid")], input.household.id)

_first(list, _) := list[0] if list != []

_first([], otherwise) := otherwise

_or_list(xs) := lib.or_list([_words(x) | some x in xs])

# METADATA
# title: The household can stop a heavy bleed
# description: >-
#   A heavy bleed kills within minutes, and cloth alone does not stop it. The household has something made for it, as an
#   item of its own or among the first-aid contents. A bought kit to a standard has it. If there is no first aid at all,
#   or its contents are not recorded, first-aid/basic-in-each-pack says so.
# custom:
#   level: warning
#   remedy: Add a pressure bandage where it is reached first, and practise with it.
#   mend: {work: add, thing: bleeding, get: pressure bandage or tourniquet}
#   sources:
#     - "common practice, no source"
#   limits: [first_aid.basic, first_aid.bleeding_contents, first_aid.whole_kits]
#   caution: >-
#     Press on the wound first and call for help. Use a tourniquet only if you have learnt it in a course; follow the
#     course and the label.
#   passes: |
#     packs: rust: compartments: lid: items: aid: {mass: "90 g", firstAid: pressureBandage: 1}
#   fails: |
#     packs: rust: compartments: lid: items: aid: {mass: "60 g", firstAid: bandages: 2}
finding.bleeding contains f if {
	_some_first_aid
	not _covered
	lib.means("bleeding") == []
	every kind in lib.limit("first_aid", "bleeding_contents") { not kind in _house_kinds }
	bare := {
		"at": _at_kit,
		"because": [],
		"text": "the household has nothing to stop a heavy bleed, such as a pressure bandage",
	}
	f := lib.lack_any(bare, lib.unrecorded(lib.anybody, "bleeding"))
}

# Of the basic contents there is at least one.
_some_first_aid if {
	some k in _basic
	k in _house_kinds
}

# METADATA
# title: The household's first aid is complete
# description: >-
#   Beyond the basic contents, some things are needed once, no matter where: a splinter, a sprained arm and a blister each
#   need their own. All packs and pockets count together; scissors and an emergency blanket count even if they are not
#   recorded as first aid. A bought kit to a standard counts as complete. If basic contents are missing,
#   first-aid/basic-in-each-pack says so first.
# custom:
#   level: note
#   remedy: Add the missing contents to any pack, and write them under firstAid of the item.
#   mend: {work: add, get: first-aid supplies}
#   sources:
#     - "The contents: common practice, no source"
#     - "A first-aid guide is on the list of Australian agencies by ABC, an emergency blanket on that of the American Red Cross (2020); year of the first not seen; both seen second-hand"
#   limits: [first_aid.basic, first_aid.household, first_aid.whole_kits]
#   caution: Take a first-aid course; contents do not replace training or a licensed practitioner. Mind allergies to latex and adhesive.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	aid: {mass: "200 g", firstAid: {plasters: 10, dressings: 2, bandages: 2, antiseptic: 4, gloves: 2, tape: 1, triangular: 1, tweezers: 1, blisterPads: 4, guide: 1}}
#     	shears: {mass: "40 g", can: cut: "scissors"}
#     	foil: {mass: "60 g", can: warmth: "emergency-blanket"}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: aid: {mass: "200 g", firstAid: {plasters: 10, dressings: 2, bandages: 2, antiseptic: 4, gloves: 2, tape: 1}}
finding.household_list contains f if {
	not _covered
	_house_lacks == []
	missing := [kind | some kind in lib.limit("first_aid", "household"); not _somewhere(kind)]
	some part in lib.parted(missing, {kind: _may_be(lib.anybody, kind) | some kind in missing})
	bare := {
		"at": _at_kit,
		"because": [],
		"text": sprintf("the household's first aid has no %s", [_or_list(part.keys)]),
	}
	f := lib.lack_any(bare, part.may)
}

# What these people have that is not recorded and may be some contents: a kit may hold any.
_may_be(ids, kind) := array.concat(
	[thing | some thing in lib.unrecorded(ids, "first-aid-contents"); _any_contents(thing)],
	array.concat(lib.unrecorded(ids, sprintf("first-aid-contents:%s", [kind])), lib.unrecorded(ids, object.get(_as_things, kind, ""))),
)

_as_things := {"scissors": "cut:scissors", "rescueBlanket": "warmth:emergency-blanket"}

_somewhere(kind) if kind in _house_kinds

# The same things, written as what they can do.
_somewhere("scissors") if "can:cut:scissors" in input.household.has

_somewhere("rescueBlanket") if "can:warmth:emergency-blanket" in input.household.has

_somewhere("rescueBlanket") if "can:shelter:emergency-blanket" in input.household.has

# Contents as kits write them, where that is not yet plain English.
_words(kind) := object.get(
	{"triangular": "triangular bandage", "blisterPads": "blister pads", "rescueBlanket": "rescue blanket"},
	kind,
	kind,
)

# METADATA
# title: Rehydration salts are packed for hot days
# description: >-
#   Sweat and diarrhoea take water and salt together, and faster in the heat. If the planned season is hot, the household
#   has ready-made packets of rehydration salts, recorded as first aid or as food. With an infant, a small child or an
#   old person it is a warning. A plan without a season is left out.
# custom:
#   level: warning
#   remedy: Add a packet of oral rehydration salts, and write it under firstAid as rehydration.
#   mend: {work: add, get: rehydration salts}
#   sources:
#     - "WHO/UNICEF, oral rehydration salts of reduced osmolarity, 2003 (what a packet holds); seen second-hand"
#     - "The temperature, the ages and the number: common practice, no source"
#   limits: [first_aid.hot_day, first_aid.rehydration, first_aid.salt_words, first_aid.dry_below, first_aid.dry_from]
#   caution: >-
#     Packets only: published home mixtures differ by a factor of two in salt. Follow the
#     label; ask a licensed practitioner for infants and for heart or kidney disease.
#   passes: |
#     plan: {season: "summer", seasons: summer: {day: "34 °C", night: "20 °C", daylight: "15 h"}}
#     packs: rust: compartments: lid: items: salts: {mass: "22 g", firstAid: rehydration: 1}
#   fails: |
#     plan: {season: "summer", seasons: summer: {day: "34 °C", night: "20 °C", daylight: "15 h"}}
finding.rehydration contains f if {
	input.plan.season_known
	hot := lib.limit("first_aid", "hot_day")
	input.plan.day_mc >= hot
	asked := lib.limit("first_aid", "rehydration")
	have := sum([c.count | some c in input.household.supply.first_aid; c.kind == "rehydration"]) + count(_salted)
	have < asked
	bare := {
		"at": _at_kit,
		"because": ["plan/season"],
		"text": sprintf("days reach %s, and the household has %s of rehydration salts; from %s on it needs %d", [
			lib.celsius(input.plan.day_mc),
			_packets(have),
			lib.celsius(hot),
			asked,
		]),
		"level": _dry_level,
	}
	f := lib.lack_any(bare, lib.unrecorded(lib.anybody, "first-aid-contents:rehydration"))
}

_packets(0) := "no packets"

_packets(n) := lib.many(n, "packet", "packets") if n > 0

# Salts that are written as food.
_salted := {food.id |
	some food in input.foods
	name := lower(food.name)
	some word in lib.limit("first_aid", "salt_words")
	contains(name, word)
}

_dry_level := "warning" if {
	some person in input.people
	_dries_out(person)
} else := "note"

_dries_out(person) if lib.younger(person, lib.limit("first_aid", "dry_below"))

_dries_out(person) if person.age_months >= lib.limit("first_aid", "dry_from")
