package rules.base.shoes

import data.lib

# METADATA
# title: Everyone who walks has shoes to walk in
# description: >-
#   Barefoot or in slippers nobody gets far over glass, embers or snow. Each person who walks needs closed shoes: worn, in a
#   pack, or by the bed or the door. Snow needs boots. In frost, in snow or where quakes are a danger, a person without any
#   is an error; where floods, fires or storms are, a warning; else a note. The shoes that everyone puts on are seldom
#   recorded: a household that records none is told once, a level milder.
# custom:
#   level: error
#   remedy: Put a pair by the door for each person named, with socks in them, and write it under onBody with place door.
#   mend: {work: add, thing: footwear, get: shoes to walk in}
#   sources:
#     - "CAL FIRE, sturdy shoes by the bed, and BBK (Germany), sturdy shoes; years not seen; seen second-hand. Get Ready (New Zealand), walking shoes; year not seen; seen in a copy of its own page"
#     - "Boots in snow, the age, the night and the levels: common practice, no source"
#   limits: [shoes.from_months, shoes.frost_night, shoes.snow, shoes.barefoot, shoes.rough, people.bag_months]
#   caution: New shoes rub. Try them on a walk first.
#   passes: |
#     plan: settings: ["snow"]
#     people: ana: onBody: boots: {mass: "1.2 kg", can: footwear: "boots", place: "door"}
#   fails: |
#     plan: settings: ["snow"]
#     people: ana: onBody: shoes: {mass: "800 g", can: footwear: "shoes"}
finding.to_walk_in contains f if {
	all := array.concat(_barefoot, _no_boots)
	some said in lib.parted([i | some i, _ in all], {i: l.part.may | some i, l in all})
	lacks := [all[i] | some i in said.keys]
	who := {p.id | some l in lacks; some p in l.part.lack.who}
	people := [p | some p in input.people; p.id in who]
	bare := {
		"at": _at(people),
		"because": [p.id | some p in people],
		"text": concat("; ", [l.text | some l in lacks]),
		"level": lacks[0].level,
	}
	f := lib.lack_part(bare, {"may": _once([thing | some l in lacks; some thing in l.part.may]), "rest": _once([thing | some l in lacks; some thing in l.part.rest])})
}

# Of shoes that may be what both lists miss, each is named once.
_once(things) := [thing | some thing in {t | some t in things}]

_may_be := lib.unrecorded(lib.anybody, "footwear")

# Who walks: nobody carries or wheels them, and they are old enough.
_walkers := [p |
	some p in input.people
	p.carried_by == ""
	not p.moves in {"wheelchair", "power-chair", "carried"}
	not lib.younger(p, lib.limit("shoes", "from_months"))
]

_shoes := lib.offers("footwear")

_barefoot := [{"part": part, "text": _text(part.lack), "level": _level} | some part in lib.lacks(_walkers, _shoes, _may_be)]

_text(lack) := "no shoes to walk in are recorded for anyone" if {
	_shoes == []
	count(lack.who) == count(_walkers)
} else := lib.has_no(lack, "shoes to walk in", "pairs of shoes")

_at(_) := input.household.id if _shoes == []

_at(people) := lib.stands_of(people) if _shoes != []

# Where nobody has shoes, boots are not missed as well.
_no_boots := [{"part": part, "text": lib.has_no(part.lack, "boots for the snow", "pairs of boots"), "level": "warning"} |
	_snow
	_shoes != []
	some part in lib.lacks(_walkers, [o | some o in _shoes; o.means in lib.limit("shoes", "snow")], _may_be)
]

_snow if "snow" in input.plan.settings

# Where nobody's shoes are recorded, people wear what they wear: that is to be recorded, and no error.
_level := "error" if {
	_deadly
	_shoes != []
}

_level := "warning" if {
	_deadly
	_shoes == []
}

_level := "warning" if {
	not _deadly
	_rough
	_shoes != []
}

_level := "note" if {
	not _deadly
	_shoes == []
}

_level := "note" if {
	not _deadly
	not _rough
}

_deadly if _snow

_deadly if {
	input.plan.season_known
	input.plan.night_mc <= lib.limit("shoes", "frost_night")
}

_deadly if {
	some hazard in input.plan.hazards
	hazard in lib.limit("shoes", "barefoot")
}

_rough if {
	some hazard in input.plan.hazards
	hazard in lib.limit("shoes", "rough")
}

# METADATA
# title: Shoes and a light are kept beside each bed
# description: >-
#   After a quake at night the floor is glass, shoes have slid under the furniture and the power is off. If the plan names
#   this danger, each person old enough needs closed shoes and a light beside the bed. A group may add fires and storms.
# custom:
#   level: warning
#   remedy: "Tie a bag with old shoes and a torch to the leg of each bed, and write them under onBody with `place: \"bed\"`."
#   mend: {work: add, get: shoes or a light for beside the bed}
#   sources:
#     - "CAL FIRE: sturdy shoes and a flashlight near each bed; year not seen; seen second-hand"
#     - "Shoes slid away and drawers jammed in the quake of 1994: one survivor, in a local newspaper; seen in a copy"
#     - "The age: common practice, no source"
#   limits: [shoes.bedside, people.call_months, people.bag_months]
#   caution: Shake shoes out before putting them on.
#   passes: |
#     plan: hazards: ["quake"]
#     people: ana: onBody: {
#     	shoes: {mass: "800 g", can: footwear: "shoes", place: "bed"}
#     	lamp: {mass: "80 g", can: light: "torch", place: "bed"}
#     }
#   fails: |
#     plan: hazards: ["quake"]
#     people: ana: onBody: shoes: {mass: "800 g", can: footwear: "shoes", place: "door"}
finding.bedside contains f if {
	dangers := [h | some h in input.plan.hazards; h in lib.limit("shoes", "bedside")]
	dangers != []
	sleepers := [p | some p in input.people; lib.at_least(p, lib.limit("people", "call_months"))]
	lacks := [l |
		some means, words in {"footwear": ["shoes by the bed", "pairs of shoes by a bed"], "light": ["light by the bed", "lights by a bed"]}
		lack := lib.without(sleepers, [o | some o in lib.offers(means); o.place == "bed"])
		l := {"who": lack.who, "text": lib.has_no(lack, words[0], words[1])}
	]
	who := {p.id | some l in lacks; some p in l.who}
	people := [p | some p in sleepers; p.id in who]
	f := {
		"at": lib.stands_of(lacks[0].who),
		"because": [p.id | some p in people],
		"text": sprintf("%s: %s", [lib.and_list(dangers), concat("; ", [l.text | some l in lacks])]),
	}
}

# METADATA
# title: Everyone has rubber boots or spare shoes for flood water
# description: >-
#   Flood water carries sewage, wires and glass, and wet shoes rub feet sore for days. If the plan names floods and goes some
#   way on foot, each person who walks needs rubber boots or a second pair of shoes. shoes/to-walk-in speaks of people who
#   have no shoes at all.
# custom:
#   level: note
#   remedy: Put rubber boots or an old pair of shoes by the door for each person named.
#   mend: {work: add, thing: footwear, get: rubber boots or spare shoes}
#   sources:
#     - "OSHA and EPA, and the city of Houston: keep out of flood water, boots and gloves, wash afterwards; years not seen; seen in copies of their own pages"
#     - "BBK (Germany): weatherproof shoes or rubber boots; year not seen; seen second-hand"
#     - "A second pair instead: common practice, no source"
#   limits: [shoes.from_months, shoes.wet_way]
#   caution: "Stay out of moving water: 15 cm of it can knock over an adult."
#   passes: |
#     plan: {hazards: ["flood"], legs: hall: {order: 1, distance: "2 km"}}
#     people: ana: onBody: boots: {mass: "1.2 kg", can: footwear: "rubber-boots", place: "door"}
#   fails: |
#     plan: {hazards: ["flood"], legs: hall: {order: 1, distance: "2 km"}}
#     people: ana: onBody: shoes: {mass: "800 g", can: footwear: "shoes", place: "door"}
finding.flood contains f if {
	"flood" in input.plan.hazards
	input.plan.foot_mm >= lib.limit("shoes", "wet_way")
	some part in lib.parted_people([p | some p in _walkers; _one_pair(p)], {p.id: lib.unrecorded({p.id}, "footwear") | some p in _walkers})
	bare := {
		"at": lib.stands_of(part.people),
		"because": [p.id | some p in part.people],
		"text": sprintf("floods: %s no rubber boots and no second pair of shoes", [_has(part.people)]),
	}
	f := lib.lack_any(bare, part.may)
}

_has([person]) := sprintf("%s has", [person.name])

_has(people) := sprintf("%s have", [lib.names(people)]) if count(people) != 1

# One pair for dry ways is all that is there for a person.
_one_pair(person) if {
	theirs := [o | some o in _shoes; _belongs(o, person)]
	lib.pieces(theirs) == 1
	theirs[0].means != "rubber-boots"
}

_belongs(thing, person) if thing.whose == person.id

_belongs(thing, person) if {
	thing.whose == ""
	thing.carrier == person.id
}
