package rules.base.first_aid

import data.lib

# METADATA
# title: Basic first-aid contents in each pack
# description: >-
#   Cuts, blisters and sprains are what really happen on a walk, and the one good kit may
#   be in the other pack. Each pack holds at least one of each basic content. Packs borne
#   by animals are not asked.
# custom:
#   level: error
#   remedy: Add the missing contents, and write them under firstAid of the item.
#   mend: {work: add}
#   sources:
#     - "The contents: common practice, no source"
#     - "A first aid kit is on every household list read, such as Ready.gov/FEMA 2022 and the American Red Cross 2020; seen second-hand"
#   limits: [first_aid.basic]
#   caution: Take a first-aid course; contents do not replace training or a licensed practitioner. Mind allergies to latex and adhesive.
#   passes: |
#     packs: rust: compartments: lid: items: aid: {mass: "200 g", firstAid: {plasters: 10, dressings: 2, bandages: 2, antiseptic: 4, gloves: 2}}
#   fails: |
#     packs: rust: compartments: lid: items: aid: {mass: "60 g", firstAid: plasters: 10}
finding.basic_in_each_pack contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	basic := lib.limit("first_aid", "basic")
	missing := [kind | some kind in basic; not _has(pack.supply, kind)]
	count(missing) > 0
	f := lib.lack(
		{
			"at": pack.id,
			"text": sprintf("%s's first aid lacks %s: %d of the %d basic contents are there, %d too few", [
				pack.name,
				lib.and_list(missing),
				count(basic) - count(missing),
				count(basic),
				count(missing),
			]),
		},
		pack.id, "first-aid-contents", 1,
	)
}

_has(supply, kind) if {
	some content in supply.first_aid
	content.kind == kind
	content.count > 0
}

# METADATA
# title: Something to stop a heavy bleed in each pack
# description: >-
#   A heavy bleed does not wait until somebody has run to the other pack. Each pack holds
#   something made to stop one, as an item that can or among the first-aid contents. A
#   child's pack is asked too, for the adult alongside; packs borne by animals are not.
# custom:
#   level: warning
#   remedy: Add a pressure bandage to the pack, and practise with it.
#   mend: {work: add, thing: bleeding}
#   sources:
#     - "common practice, no source"
#   limits: [first_aid.bleeding_contents]
#   caution: >-
#     Press on the wound first and call for help. A tourniquet is for those who have learnt
#     it in a course; follow the course and the label.
#   passes: |
#     packs: rust: compartments: lid: items: aid: {mass: "90 g", firstAid: pressureBandage: 1}
#   fails: |
#     packs: rust: compartments: lid: items: aid: {mass: "60 g", firstAid: bandages: 2}
finding.bleeding contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	not _stops_bleeding(pack.supply)
	f := {
		"at": pack.id,
		"text": sprintf("%s holds 0 things that stop a heavy bleed, such as a pressure bandage; 1 is asked: 1 too few", [pack.name]),
	}
}

_stops_bleeding(supply) if count(lib.means(supply, "bleeding")) > 0

_stops_bleeding(supply) if {
	some kind in lib.limit("first_aid", "bleeding_contents")
	_has(supply, kind)
}

# METADATA
# title: The household's first aid is complete
# description: >-
#   Beyond the basic contents of each pack, some things are needed once, wherever they are:
#   a splinter, a sprained arm and a blister each want their own. All packs and pockets
#   count together; a pair of scissors and an emergency blanket count also where they are
#   written as such and not as first aid.
# custom:
#   level: note
#   remedy: Add the missing contents to any pack, and write them under firstAid of the item.
#   mend: {work: add}
#   sources:
#     - "The contents: common practice, no source"
#     - "A first-aid guide is on the list of Australian agencies by ABC, an emergency blanket on that of the American Red Cross (2020); year of the first not seen; both seen second-hand"
#   limits: [first_aid.household]
#   caution: Take a first-aid course; contents do not replace training or a licensed practitioner. Mind allergies to latex and adhesive.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	aid: {mass: "200 g", firstAid: {tape: 1, triangular: 1, tweezers: 1, blisterPads: 4, guide: 1}}
#     	shears: {mass: "40 g", can: cut: "scissors"}
#     	foil: {mass: "60 g", can: warmth: "emergency-blanket"}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: aid: {mass: "100 g", firstAid: {tape: 1, triangular: 1, tweezers: 1, scissors: 1}}
finding.household_list contains f if {
	house := input.household
	asked := lib.limit("first_aid", "household")
	missing := [_words(kind) | some kind in asked; not _somewhere(house, kind)]
	count(missing) > 0
	f := {
		"at": house.id,
		"text": sprintf("the household's first aid lacks %s: %d of the %d contents asked are there, %d too few", [
			lib.and_list(missing),
			count(asked) - count(missing),
			count(asked),
			count(missing),
		]),
	}
}

_somewhere(house, kind) if _has(house.supply, kind)

# The same things, written as what they can do.
_somewhere(house, "scissors") if "can:cut:scissors" in house.has

_somewhere(house, "rescueBlanket") if "can:warmth:emergency-blanket" in house.has

_somewhere(house, "rescueBlanket") if "can:shelter:emergency-blanket" in house.has

# Contents as kits write them, where that is not yet plain English.
_words(kind) := object.get(
	{"triangular": "triangular bandage", "blisterPads": "blister pads", "rescueBlanket": "rescue blanket"},
	kind,
	kind,
)

# METADATA
# title: Salts against dehydration for the heat
# description: >-
#   Sweat and diarrhoea take water and salt together, and in the heat both go faster.
#   Where the season planned for is hot, the household has ready-made packets of
#   rehydration salts. A household without a season is not asked.
# custom:
#   level: note
#   remedy: Add a packet of oral rehydration salts, and write it under firstAid as rehydration.
#   mend: {work: add}
#   sources:
#     - "WHO/UNICEF, oral rehydration salts of reduced osmolarity, 2003 (what a packet holds); seen second-hand"
#     - "The temperature and the number: common practice, no source"
#   limits: [first_aid.hot_day, first_aid.rehydration]
#   caution: >-
#     Packets only: published home mixtures differ by a factor of two in salt. Follow the
#     label; ask a licensed practitioner for infants and for heart or kidney disease.
#   passes: |
#     plan: {season: "summer", seasons: summer: {day: "31 °C", night: "17 °C", daylight: "15 h"}}
#     packs: rust: compartments: lid: items: salts: {mass: "22 g", firstAid: rehydration: 1}
#   fails: |
#     plan: {season: "summer", seasons: summer: {day: "31 °C", night: "17 °C", daylight: "15 h"}}
finding.rehydration contains f if {
	input.plan.season_known
	hot := lib.limit("first_aid", "hot_day")
	input.plan.day_mc >= hot
	asked := lib.limit("first_aid", "rehydration")
	have := sum([c.count | some c in input.household.supply.first_aid; c.kind == "rehydration"])
	have < asked
	f := {
		"at": input.household.id,
		"because": ["plan/season"],
		"text": sprintf("days of the season reach %s °C, hot from %s °C on, and the household has %s of rehydration salts; %d asked: %d too few", [
			lib.milli(input.plan.day_mc),
			lib.milli(hot),
			lib.many(have, "packet", "packets"),
			asked,
			asked - have,
		]),
	}
}
