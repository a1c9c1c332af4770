package rules.base.load

import data.lib

# METADATA
# title: Load of an adult within the cap
# description: >-
#   A pack that is too heavy slows the walk and hurts knees, back and feet first. The
#   load of each adult, all packs together, stays under a share of body mass; what is
#   worn or pocketed is not counted. The family may set its own share with a reason.
# custom:
#   level: error
#   remedy: Take out or lighten the heaviest things below, or move them to a carrier with room.
#   sources:
#     - "15 %: common practice, no source; no civil standard was found"
#     - "Lay hiking figures, day pack 10 %, overnight 20 %; no year; seen second-hand"
#     - "US Army ADP 3-90, about 30 % for trained soldiers, as an upper bound; year not seen; seen second-hand"
#   limits: [load.adult_cap]
#   caution: Poor fitness, illness, pregnancy or an old injury call for less; ask a licensed practitioner.
#   passes: |
#     packs: rust: compartments: lid: items: stores: {mass: "9 kg"}
#   fails: |
#     packs: rust: compartments: lid: items: stores: {mass: "12 kg"}
finding.body_mass_cap contains f if {
	some carrier in input.carriers
	carrier.kind == "person"
	carrier.adult
	f := _overload(carrier, lib.limit("load", "adult_cap"))
}

# METADATA
# title: Load of a child within the cap
# description: >-
#   A child's gait and posture change under a load, so everybody under 18 has a lower
#   cap than an adult. It is the low end of what is published; the family may set its
#   own share with a reason. What is worn or pocketed is not counted.
# custom:
#   level: error
#   remedy: Leave the child the lightest things that are the child's own, and give the rest to an adult with room.
#   sources:
#     - "American Academy of Pediatrics, 10 to 20 % (spokesperson, 2018); seen second-hand"
#     - "American Occupational Therapy Association, 10 % (an older list says 15 %); year not seen; seen second-hand"
#     - "Barbosa et al., BMC Pediatrics 2019;19:157, changes above 10 %; abstract seen"
#   limits: [load.child_cap]
#   caution: >-
#     School-bag figures are for short walks and healthy children. A young, small or unwell
#     child carries nothing; ask a paediatrician when in doubt.
#   passes: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: kite: {carrier: "mia", mass: "2 kg"}
#   fails: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: kite: {carrier: "mia", mass: "4 kg"}
finding.child_cap contains f if {
	some carrier in input.carriers
	carrier.kind == "person"
	not carrier.adult
	f := _overload(carrier, lib.limit("load", "child_cap"))
}

# METADATA
# title: Load of an animal within the cap
# description: >-
#   An animal cannot say that its pack is too heavy. No veterinary standard was found,
#   so this is the low end of lay figures for dogs, used for every species; the family
#   may set its own share with a reason.
# custom:
#   level: error
#   remedy: Take the heaviest things out of the animal's pack.
#   sources:
#     - "Lay pages for dogs, 10 to 30 %; no year; seen second-hand; no veterinary standard found"
#   limits: [load.animal_cap]
#   caution: >-
#     No pack for a young, old, long-backed, pregnant or unwell animal. Train with an empty
#     pack, watch for heat and sores, and ask a veterinarian first.
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg", carries: true}
#     packs: saddle: {carrier: "bo", mass: "2 kg"}
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg", carries: true}
#     packs: saddle: {carrier: "bo", mass: "3 kg"}
finding.animal_cap contains f if {
	some carrier in input.carriers
	carrier.kind == "animal"
	f := _overload(carrier, lib.limit("load", "animal_cap"))
}

_cap(carrier, _) := carrier.cap_permille if carrier.cap_known

_cap(carrier, usual) := usual if not carrier.cap_known

_whose(carrier) := "the family's own cap" if carrier.cap_known

_whose(carrier) := "the cap" if not carrier.cap_known

_overload(carrier, usual) := f if {
	cap := _cap(carrier, usual)
	over := lib.beyond(carrier.load_mg, carrier.body_mass_mg, cap)
	f := {
		"at": carrier.load_id,
		"text": sprintf("%s's load is %s (%s), %s of body mass; %s is %s or %s: %s too much", [
			carrier.name,
			lib.kg(carrier.load_mg),
			lib.lb(carrier.load_mg),
			lib.percent(carrier.load_mg, carrier.body_mass_mg),
			_whose(carrier),
			lib.share(cap),
			lib.kg(lib.share_of(carrier.body_mass_mg, cap)),
			lib.mass(over),
		]),
	}
}

# METADATA
# title: Most of a pack's mass was weighed
# description: >-
#   A load is only as true as its parts. Masses from a label or a guess run low, and the
#   cap is then kept on paper only. Packs borne by animals are asked too.
# custom:
#   level: warning
#   remedy: Weigh the heaviest unweighed things below and write the day as weighed.
#   sources:
#     - "common practice, no source"
#   limits: [load.unweighed_share]
#   passes: |
#     packs: rust: weighed: "2026-09-01"
#   fails: |
#     packs: rust: weighed: "2026-09-01"
#     packs: rust: compartments: lid: items: tarp: {mass: "400 g", estimated: true}
finding.unweighed contains f if {
	some pack in input.packs
	most := lib.limit("load", "unweighed_share")
	over := lib.beyond(pack.unweighed_mg, pack.mass_mg, most)
	f := {
		"at": pack.id,
		"because": pack.unweighed_ids,
		"text": sprintf("%s of %s's %s was never weighed, %s of it; at most %s may be: %s too much", [
			lib.mass(pack.unweighed_mg),
			pack.name,
			lib.kg(pack.mass_mg),
			lib.percent(pack.unweighed_mg, pack.mass_mg),
			lib.share(most),
			lib.mass(over),
		]),
	}
}

# METADATA
# title: Adults share the load fairly
# description: >-
#   The group walks as fast as whoever bears the most for their body. The adults who bear
#   a pack are compared, the heaviest laden against the lightest. Those who are spared (own
#   cap, poor fitness or unwell), children and animals are left out.
# custom:
#   level: warning
#   remedy: Move something shared from the heaviest laden to the lightest laden adult.
#   sources:
#     - "common practice, no source"
#   limits: [load.imbalance, load.spared_fitness]
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "70 kg"}
#     packs: moss: {carrier: "ben", mass: "2 kg"}
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "70 kg"}
#     packs: moss: {carrier: "ben", mass: "6 kg"}
finding.imbalance contains f if {
	most := lib.limit("load", "imbalance")
	some heavy in _compared
	some light in _compared
	heavy.id == min({a.id | some a in _compared; not _less_than_another(a)})
	light.id == min({a.id | some a in _compared; not _more_than_another(a)})
	apart := ((heavy.load_mg * light.body_mass_mg) - (light.load_mg * heavy.body_mass_mg)) * 1000
	bodies := heavy.body_mass_mg * light.body_mass_mg
	apart > most * bodies
	points := lib.up(apart, bodies)
	f := {
		"at": heavy.load_id,
		"because": [heavy.load_id, light.load_id],
		"text": sprintf("%s carries %s of body mass and %s %s, %s apart; the most is %s: %s too many", [
			heavy.name,
			lib.percent(heavy.load_mg, heavy.body_mass_mg),
			light.name,
			lib.percent(light.load_mg, light.body_mass_mg),
			lib.points(points),
			lib.points(most),
			lib.points(points - most),
		]),
	}
}

_compared := [c |
	spared := lib.limit("load", "spared_fitness")
	some c in input.carriers
	c.kind == "person"
	c.adult
	count(c.packs) > 0
	not c.cap_known
	not c.fitness in spared
]

# The shares of body mass are compared crosswise, so that nothing is rounded.
_less_than_another(a) if {
	some b in _compared
	a.load_mg * b.body_mass_mg < b.load_mg * a.body_mass_mg
}

_more_than_another(a) if {
	some b in _compared
	a.load_mg * b.body_mass_mg > b.load_mg * a.body_mass_mg
}

# METADATA
# title: Something can be dropped in seconds
# description: >-
#   A flight of stairs, a ford or a twisted ankle may ask for a lighter pack at once.
#   Some of each person's load should be marked as quick to shed, so that nobody has to
#   unpack or leave the whole pack. Packs borne by animals are not asked.
# custom:
#   level: note
#   remedy: Move things you could lose into a pouch that comes off at once, and mark it quickShed.
#   sources:
#     - "common practice, no source"
#   limits: [load.quick_shed_share]
#   caution: Do not make medicine, water treatment or papers quick to shed.
#   passes: |
#     packs: rust: compartments: lid: items: chair: {mass: "500 g", quickShed: true}
#   fails: |
#     packs: rust: compartments: lid: items: chair: {mass: "500 g"}
finding.quick_shed contains f if {
	some carrier in input.carriers
	carrier.kind == "person"
	least := lib.limit("load", "quick_shed_share")
	short := lib.lacking(carrier.quick_shed_mg, carrier.load_mg, least)
	f := {
		"at": carrier.load_id,
		"text": sprintf("%s can drop %s of a load of %s in seconds, %s of it; %s is asked: %s too little", [
			carrier.name,
			lib.mass(carrier.quick_shed_mg),
			lib.kg(carrier.load_mg),
			lib.percent(carrier.quick_shed_mg, carrier.load_mg),
			lib.share(least),
			lib.mass(short),
		]),
	}
}
