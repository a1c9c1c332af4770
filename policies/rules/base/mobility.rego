package rules.base.mobility

import data.lib

# What keeps an aid going, any one of each group.
_spares := {
	"wheelchair": [{"words": _patches, "means": {"tube", "patch-kit"}}, {"words": "pump", "means": {"pump"}}],
	"power-chair": [{"words": "charger", "means": {"charger"}}],
	"prosthesis": [{"words": "spare socks", "means": {"stump-socks"}}],
}

_patches := "tube or patch kit"

_aids := {"cane", "frame", "crutches", "prosthesis", "wheelchair", "power-chair"}

# METADATA
# title: Each mobility aid is packed with its spares
# description: >-
#   Canes, walkers and wheelchair batteries are among what evacuees miss most. A person with a mobility aid has what keeps
#   it going: a tube or a patch kit and a pump for a wheelchair, the charger for a power chair, spare socks for a
#   prosthesis. If the aid itself is not recorded, as worn or in a pack, that is a note.
# custom:
#   level: warning
#   remedy: "Add the spare, and write can: mobility: \"patch-kit\" or what it is; write the aid itself under onBody."
#   mend: {work: add, thing: mobility, get: mobility aid or its spares}
#   sources:
#     - "A patch kit or sealant and tubes, spare battery: county and state health departments; years not seen; seen in copies of their own pages"
#     - "That aids are lacking: Ochi et al. 2014, PLoS Curr Disasters; seen in a copy of its abstract"
#     - "Socks, pump and charger: common practice, no source"
#   limits: []
#   caution: Solid tyres need no pump; waive it then. A power chair is too heavy to carry, so plan for a light chair as well.
#   passes: |
#     people: ana: {moves: "wheelchair", onBody: chair: {mass: "14 kg", can: mobility: "wheelchair"}}
#     packs: rust: compartments: lid: items: {patches: {mass: "60 g", can: mobility: "patch-kit"}, pump: {mass: "120 g", can: mobility: "pump"}}
#   fails: |
#     people: ana: {moves: "wheelchair", onBody: chair: {mass: "14 kg", can: mobility: "wheelchair"}}
#     packs: rust: compartments: lid: items: pump: {mass: "120 g", can: mobility: "pump"}
finding.aid_along contains f if {
	some person in input.people
	lacks := [s.words | some s in object.get(_spares, person.moves, []); not _there(person, s.means)]
	some part in lib.parted(lacks, {words: [thing | words == _patches; some thing in lib.unrecorded_means(lib.anybody, "repair", ["patch"])] | some words in lacks})
	bare := {
		"at": sprintf("%s/moves", [person.id]),
		"because": [o.id | some o in _theirs(person)],
		"text": sprintf("%s needs a %s and has no %s for it", [person.name, _words(person.moves), concat(" and no ", part.keys)]),
	}
	f := lib.lack_any(bare, part.may)
}

finding.aid_along contains f if {
	some person in input.people
	person.moves in _aids
	every s in object.get(_spares, person.moves, []) { _there(person, s.means) }
	not _there(person, {person.moves})
	bare := {
		"at": sprintf("%s/moves", [person.id]),
		"because": [],
		"level": "note",
		"text": sprintf("%s needs a %s, which is not recorded as worn or in a pack", [person.name, _words(person.moves)]),
	}
	f := lib.lack_any(bare, lib.unrecorded_means(lib.anybody, "mobility", [person.moves]))
}

_there(person, means) if {
	some o in _theirs(person)
	o.means in means
}

# What is the person's own or nobody's.
_theirs(person) := [o | some o in lib.offers("mobility"); o.owner in {"", person.id}]

_words("power-chair") := "power chair"

_words("crutches") := "pair of crutches"

_words(moves) := moves if not moves in {"power-chair", "crutches"}

# METADATA
# title: No leg crosses ground closed to wheelchairs or walking frames
# description: >-
#   Sand takes eleven times the work of asphalt, and bog, brush, snow and stairs stop small wheels at once. If someone uses
#   a wheelchair, no leg of the route on foot crosses such ground. More than a few steps are a warning for someone with a
#   walking frame.
# custom:
#   level: error
#   remedy: Choose another way, or a vehicle for that leg.
#   mend: {work: decide}
#   sources:
#     - "US Access Board, study of exterior surfaces, oxygen per metre: asphalt 0.12, packed dirt 0.20, wood fibre 0.31 to 0.37, sand 1.31; year not seen; seen second-hand"
#     - "Brush, bog, snow and stairs: common practice, no source"
#   limits: [mobility.chairs, mobility.closed_grounds, mobility.frame_steps]
#   caution: Never push a chair through moving water. Carry a person with straps and in turns; by hand, two people last for about 200 m.
#   passes: |
#     plan: legs: one: {order: 1, distance: "1 km", ground: "road"}
#     people: ana: moves: "wheelchair"
#   fails: |
#     plan: legs: one: {order: 1, distance: "1 km", ground: "sand"}
#     people: ana: moves: "wheelchair"
finding.ground contains f if {
	wheeled := _wheeled
	some leg in input.plan.legs
	_closed(leg)
	f := {
		"at": leg.id,
		"because": [p.id | some p in wheeled],
		"text": sprintf("this leg crosses %s, and %s a wheelchair", [_obstacle(leg), _move(wheeled)]),
	}
}

finding.ground contains f if {
	framed := [p | some p in input.people; p.moves == "frame"]
	framed != []
	some leg in input.plan.legs
	not leg.ridden
	leg.stairs > lib.limit("mobility", "frame_steps")
	f := {
		"at": leg.id,
		"because": [p.id | some p in framed],
		"text": sprintf("this leg goes over %s, and a walking frame is carried up and down them for %s", [lib.many(leg.stairs, "step", "steps"), lib.names(framed)]),
		"level": "warning",
	}
}

_wheeled := [p | some p in input.people; p.moves in lib.limit("mobility", "chairs")]

_closed(leg) if {
	not leg.ridden
	leg.ground in lib.limit("mobility", "closed_grounds")
}

_closed(leg) if {
	not leg.ridden
	leg.stairs > 0
}

_obstacle(leg) := lib.many(leg.stairs, "step", "steps") if {
	leg.stairs > 0
} else := replace(leg.ground, "-", " ")

_move([p]) := sprintf("%s uses", [p.name])

_move(people) := sprintf("%s use", [lib.and_list([p.name | some p in people])]) if count(people) > 1

# METADATA
# title: Each wheelchair has a named helper
# description: >-
#   Pushing a chair uphill for 280 m left ten of thirteen helpers out of breath. If a leg is longer than a short way, or
#   climbs, a wheelchair that is moved by hand has a named helper who carries no heavy pack.
# custom:
#   level: warning
#   remedy: "Name the helper as helpedBy, share out what is in their pack, and practise with two who take turns."
#   mend: {work: decide}
#   sources:
#     - "IDRiM Journal, pushing a wheelchair for 280.6 m with 13.9 m of climb; year not seen; seen in a copy of its abstract"
#     - "US Access Board, study of exterior surfaces, Fig. 2, slopes; year not seen; seen in a copy of its own page"
#     - "The helper's load: common practice, no source"
#   limits: [mobility.alone_mm, mobility.alone_climb, mobility.closed_grounds, mobility.helper_cap]
#   caution: Ask before you push. Two helpers, one in front, on every slope down.
#   passes: |
#     plan: legs: one: {order: 1, distance: "1 km", ground: "road"}
#     people: {ana: {moves: "wheelchair", helpedBy: "ben"}, ben: {age: "42 y", bodyMass: "80 kg"}}
#   fails: |
#     plan: legs: one: {order: 1, distance: "1 km", ground: "road"}
#     people: ana: moves: "wheelchair"
finding.helper contains f if {
	some person in input.people
	person.moves == "wheelchair"
	person.helped_by == ""
	hard := [leg | some leg in input.plan.legs; _hard(leg)]
	f := {
		"at": sprintf("%s/moves", [person.id]),
		"because": [leg.id | some leg in hard],
		"text": sprintf("%s uses a wheelchair over %s, and nobody is named to push it", [person.name, _how_hard(hard[0])]),
	}
}

finding.helper contains f if {
	some person in input.people
	person.moves == "wheelchair"
	some carrier in input.carriers
	carrier.id == person.helped_by
	some leg in input.plan.legs
	_hard(leg)
	cap := lib.limit("mobility", "helper_cap")
	over := lib.beyond(carrier.load_mg, carrier.body_mass_mg, cap)
	f := {
		"at": sprintf("%s/helpedBy", [person.id]),
		"because": [carrier.load_id],
		"text": sprintf("%s pushes the wheelchair of %s and carries %s, %s more than %s of body weight", [
			carrier.name,
			person.name,
			lib.kg(carrier.load_mg),
			lib.mass(over),
			lib.share(cap),
		]),
	}
}

_hard(leg) if {
	not leg.ridden
	not _closed(leg)
	leg.distance_mm > lib.limit("mobility", "alone_mm")
}

_hard(leg) if {
	not leg.ridden
	not _closed(leg)
	lib.beyond(leg.climb_mm, leg.distance_mm, lib.limit("mobility", "alone_climb"))
}

_how_hard(leg) := sprintf("%s with %s of climb", [lib.metres(leg.distance_mm), lib.metres(leg.climb_mm)])

# METADATA
# title: People who cannot walk stairs can be carried down
# description: >-
#   Without power there is no lift. If the home is above the ground floor and someone uses a wheelchair or is carried, there
#   are enough adult helpers who are well, and a sheet or straps to carry with.
# custom:
#   level: warning
#   remedy: "Keep a carrying sheet or straps by the door, and agree with two neighbours; write can: mobility: \"carry-sheet\"."
#   mend: {work: add, thing: mobility, get: way to carry someone down stairs}
#   sources:
#     - "Knapik 2000, Ergonomics 43:639: two people carry an adult by hand for 2.7 minutes, with shoulder straps for 14.5; seen in a copy of its abstract"
#     - "That helpers are at home: common practice, no source"
#   limits: [mobility.chairs, mobility.helpers, mobility.helper_months]
#   caution: Stop before anyone stumbles. Practise with a healthy person first, and ask the fire service about the stairs of the house.
#   passes: |
#     plan: home: floor: 3
#     people: {
#     	ana: moves: "wheelchair"
#     	ben: {age: "42 y", bodyMass: "80 kg"}
#     	cleo: {age: "40 y", bodyMass: "70 kg"}
#     }
#     packs: rust: compartments: lid: items: sheet: {mass: "900 g", can: mobility: "carry-sheet"}
#   fails: |
#     plan: home: floor: 3
#     people: {
#     	ana: moves: "wheelchair"
#     	ben: {age: "42 y", bodyMass: "80 kg"}
#     }
#     packs: rust: compartments: lid: items: sheet: {mass: "900 g", can: mobility: "carry-sheet"}
finding.carry_down contains f if {
	input.plan.home_floor_known
	input.plan.home_floor > 0
	some person in input.people
	_no_stairs(person)
	asked := lib.limit("mobility", "helpers")
	helpers := [p | some p in input.people; _can_help(p)]
	lacks := array.concat(
		[sprintf("%s (the household has %s)", [_grown(asked), _or_none(count(helpers))]) | count(helpers) < asked],
		["a sheet or straps to carry with" | not _carried_by_sheet],
	)
	lacks != []
	f := {
		"at": sprintf("%s/moves", [person.id]),
		"because": [],
		"text": sprintf("%s cannot walk down the stairs when the lift is out, and needs %s", [person.name, lib.and_list(lacks)]),
	}
}

_no_stairs(person) if person.moves in lib.limit("mobility", "chairs")

_no_stairs(person) if person.moves == "carried"

_can_help(person) if {
	lib.at_least(person, lib.limit("mobility", "helper_months"))
	not person.fitness in {"poor", "unwell"}
	not _no_stairs(person)
}

_grown(n) := lib.many(n, "helper who is well", "helpers who are well")

_or_none(0) := "none"

_or_none(n) := sprintf("%d", [n]) if n > 0

_carried_by_sheet if {
	some o in lib.offers("mobility")
	o.means in {"carry-sheet", "carry-straps"}
}
