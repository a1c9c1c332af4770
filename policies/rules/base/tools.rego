package rules.base.tools

import data.lib

# METADATA
# title: Something that cuts with each adult
# description: >-
#   Cord, bandages, tape and food packs must be cut, and the one knife may be in the other
#   pack. Each adult who bears a pack has a means of cutting in their own packs or pockets.
#   Children are not asked.
# custom:
#   level: warning
#   remedy: Add a small folding knife or a multi-tool.
#   mend: {work: add, thing: cut}
#   sources:
#     - "BBK (Germany), pocket knife, year not seen; American Red Cross, multi-purpose tool, 2020; US National Park Service, Ten Essentials, knife; year not seen; all seen second-hand"
#     - "Estero Bay CERT, operating procedure, a knife for each member, 2014; seen in a copy of its own page"
#     - "One with each adult: common practice, no source"
#   limits: [tools.cutting]
#   caution: >-
#     Check local law before you carry a blade, also in a pack: where, how long and whether it
#     locks can matter, and a multi-tool that locks may count as a knife. Keep it away from children.
#   passes: |
#     packs: rust: compartments: lid: items: knife: {mass: "60 g", can: cut: "knife"}
#   fails: |
#     packs: rust: compartments: lid: items: scissors: {mass: "30 g", can: cut: "scissors"}
finding.cutting contains f if {
	some person in input.people
	person.adult
	person.pack_count > 0
	asked := lib.limit("tools", "cutting")
	have := [o | some o in lib.offers("cut"); o.carrier == person.id; o.means in asked]
	have == []
	f := lib.lack(
		{
			"at": person.id,
			"text": sprintf("%s has none of these to cut with: %s; 1 is asked, 1 too few", [person.name, concat(", ", asked)]),
		},
		person.id, "cut", 1,
	)
}

# METADATA
# title: Mending things
# description: >-
#   A torn strap or a split seam ends a walk sooner than hunger does, and a tarp without cord
#   is a blanket. The household has at least one of each means of mending, whoever bears it.
# custom:
#   level: note
#   remedy: Add the missing things, such as cord, tape wound on a bottle and a strong needle with thread.
#   mend: {work: add}
#   sources:
#     - "Tape: US National Park Service, Ten Essentials, year not seen; Ready.gov/FEMA, duct tape, 2022; seen second-hand"
#     - "Cord and needle: common practice, no source"
#   limits: [tools.mending]
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	tape: {mass: "50 g", can: repair: "tape"}
#     	needle: {mass: "5 g", can: repair: "needle"}
#     	cord: {mass: "60 g", can: repair: "cord"}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: tape: {mass: "50 g", can: repair: "tape"}
finding.mending contains f if {
	asked := lib.limit("tools", "mending")
	have := {o.means | some o in lib.offers("repair")}
	missing := [means | some means in asked; not means in have]
	count(missing) > 0
	f := {
		"at": input.household.id,
		"text": sprintf("the household has none of these to mend with: %s; of the %d asked %d are there, %d too few", [
			lib.and_list(missing),
			count(asked),
			count(asked) - count(missing),
			count(missing),
		]),
	}
}

# METADATA
# title: Work gloves for each adult
# description: >-
#   After a flood or a fire the way leads over glass, wire and wreckage, and a cut hand is
#   a burden for everybody. The household has a pair for each adult, whoever bears them.
#   Children, and thin gloves of a first aid kit, are not counted.
# custom:
#   level: note
#   remedy: Add the missing pairs of sturdy gloves.
#   mend: {work: add}
#   sources:
#     - "Estero Bay CERT, operating procedure, work gloves for each member, 2014; seen in a copy of its own page"
#     - "For a household: common practice, no source"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: gloves: {mass: "90 g", can: gloves: "work"}
#   fails: |
#     packs: rust: compartments: lid: items: gloves: {mass: "90 g", can: gloves: "nitrile"}
finding.work_gloves contains f if {
	have := [o | some o in lib.offers("gloves"); o.means == "work"]
	adults := input.household.adult_count
	short := adults - lib.pieces(have)
	short > 0
	f := {
		"at": input.household.id,
		"because": [o.id | some o in have],
		"text": sprintf("the household has %s of work gloves for %s: %s too few", [
			_pairs(lib.pieces(have)),
			lib.many(adults, "adult", "adults"),
			_pairs(short),
		]),
	}
}

_pairs(n) := lib.many(n, "pair", "pairs")
