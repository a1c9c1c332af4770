package rules.base.first_aid

import data.lib

# METADATA
# title: Basic first-aid contents in each pack
# description: >-
#   Cuts, blisters and sprains are what really happens on a walk, and the one good kit may
#   be in the other pack. Each pack holds at least one of each basic content. Packs borne
#   by animals are not asked.
# custom:
#   level: error
#   remedy: Add the missing contents, and write them under firstAid of the item.
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
	missing := [kind | some kind in basic; not _has(pack, kind)]
	count(missing) > 0
	f := {
		"at": pack.id,
		"text": sprintf("%s's first aid lacks %s: %d of the %d basic contents are there, %d too few", [
			pack.name,
			lib.and_list(missing),
			count(basic) - count(missing),
			count(basic),
			count(missing),
		]),
	}
}

_has(pack, kind) if {
	some content in pack.supply.first_aid
	content.kind == kind
	content.count > 0
}
