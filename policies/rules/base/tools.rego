package rules.base.tools

import data.lib

# METADATA
# title: Everyone old enough has a cutting tool
# description: >-
#   Cord, bandages, tape and food packs must be cut, and the one knife may be with someone else. The household has something
#   to cut with, if only blunt scissors; a person old enough who has none of their own is a note, unless all ride all the way.
# custom:
#   level: warning
#   remedy: Add scissors, a small folding knife or a multi-tool.
#   mend: {work: add, thing: cut, get: knife or scissors}
#   sources:
#     - "BBK (Germany), pocket knife, year not seen; American Red Cross, multi-purpose tool, 2020; US National Park Service, Ten Essentials, knife; year not seen; all seen second-hand"
#     - "Estero Bay CERT, operating procedure, a knife for each member, 2014; seen in a copy of its own page"
#     - "One with each, scissors and the age: common practice, no source"
#   limits: [people.bag_months, tools.cut_months, tools.cutting]
#   caution: >-
#     Check local law before you carry a blade, also in a pack, at school and on public transport: where you carry it, how
#     long it is and whether it locks can matter, and a multi-tool that locks may count as a knife. Keep it away from
#     children.
#   passes: |
#     packs: rust: compartments: lid: items: knife: {mass: "60 g", can: cut: "knife"}
#   fails: |
#     packs: rust: compartments: lid: items: saw: {mass: "30 g", can: cut: "saw"}
finding.cutting contains f if {
	_cutters == []
	bare := {
		"at": input.household.id,
		"text": sprintf("the household has nothing to cut with (%s)", [lib.or_list(lib.limit("tools", "cutting"))]),
	}
	f := lib.lack_any(bare, _may_cut(lib.anybody))
}

finding.cutting contains f if {
	_cutters != []
	not input.plan.ridden
	names := [p.name |
		some p in input.people
		lib.at_least(p, lib.limit("tools", "cut_months"))
		near := lib.beside(p)
		[o | some o in _cutters; o.carrier in near] == []
		_may_cut(near) == []
	]
	f := {
		"at": input.household.id,
		"level": "note",
		"because": [o.id | some o in _cutters],
		"text": sprintf("%s %s nothing to cut with", [lib.and_list(names), _has(count(names))]),
	}
}

_cutters := [o | means := lib.limit("tools", "cutting"); some o in lib.offers("cut"); o.means in means]

_may_cut(ids) := lib.unrecorded_means(ids, "cut", lib.limit("tools", "cutting"))

# Of nobody nothing is said.
_has(1) := "carries"

_has(n) := "carry" if n > 1

# METADATA
# title: The household has repair supplies
# description: >-
#   A torn strap or a split seam ends a walk sooner than hunger does, and a tarp without cord is a blanket. The household has
#   at least one of each repair supply, no matter who carries it. Silent if a house or beds await at the end of the way.
# custom:
#   level: note
#   remedy: Add the missing things, such as cord, tape wound on a bottle and a strong needle with thread.
#   mend: {work: add, get: repair supplies}
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
	input.plan.destination.kind != "house"
	not input.plan.destination.beds
	asked := lib.limit("tools", "mending")
	have := {o.means | some o in lib.offers("repair")}
	missing := [means | some means in asked; not means in have]
	some part in lib.parted(missing, {means: lib.unrecorded_means(lib.anybody, "repair", [means]) | some means in missing})
	bare := {
		"at": input.household.id,
		"text": sprintf("the household has no %s for repairs", [lib.or_list(part.keys)]),
	}
	f := lib.lack_any(bare, part.may)
}

# METADATA
# title: Everyone old enough has work gloves for debris
# description: >-
#   After a flood, a quake, a storm or a fire the way goes over glass, wire and debris, and a cut hand is a burden for
#   everyone. If one of these is a danger, the household has a pair for each person old enough and well enough to handle tools, no matter who
#   carries them. If it has some, but not enough, it is a note, and silent if hardly anyone walks. The thin gloves of a
#   first-aid kit do not count.
# custom:
#   level: warning
#   remedy: Add the missing pairs of sturdy gloves.
#   mend: {work: add, get: work gloves}
#   sources:
#     - "Estero Bay CERT, operating procedure, work gloves for each member, 2014; seen in a copy of its own page"
#     - "BBK (Germany), emergency pack, work gloves; year not seen; seen second-hand. Get Ready (New Zealand), supplies at home, work gloves; year not seen; seen in a copy of its own page"
#     - "For a household, the age and the dangers: common practice, no source"
#   limits: [people.hand_months, tools.glove_hazards, load.unfit, load.near_foot_mm]
#   passes: |
#     plan: hazards: ["quake"]
#     packs: rust: compartments: lid: items: gloves: {mass: "90 g", can: gloves: "work"}
#   fails: |
#     plan: hazards: ["quake"]
#     packs: rust: compartments: lid: items: gloves: {mass: "90 g", can: gloves: "nitrile"}
finding.work_gloves contains f if {
	dangers := [h | some h in input.plan.hazards; h in lib.limit("tools", "glove_hazards")]
	dangers != []
	have := [o | some o in lib.offers("gloves"); o.means == "work"]
	hands := count([p | some p in input.people; lib.at_least(p, lib.limit("people", "hand_months")); not p.fitness in lib.limit("load", "unfit")])
	short := hands - lib.pieces(have)
	short > 0
	not _some_for_a_ride(have)
	bare := object.union(
		{
			"at": input.household.id,
			"because": [o.id | some o in have],
			"text": sprintf("%s: the household has %s of work gloves for %s: %d short", [
				lib.and_list(dangers),
				_pairs(lib.pieces(have)),
				lib.people(hands),
				short,
			]),
		},
		_some_pairs(have),
	)
	f := lib.lack(bare, lib.unrecorded_means(lib.anybody, "gloves", ["work"]), short)
}

_some_for_a_ride(have) if {
	have != []
	lib.near
}

# Hands can take turns.
_some_pairs(have) := {"level": "note"} if have != []

_some_pairs([]) := {}

_pairs(0) := "no pair"

_pairs(n) := lib.many(n, "pair", "pairs") if n > 0
