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
#   remedy: Take out or lighten the heaviest things named, or move them to a carrier with room.
#   mend: {work: leave}
#   sources:
#     - "15 %: common practice, no source; no civil standard was found"
#     - "Lay hiking figures, day pack 10 %, overnight 20 %; no year; seen second-hand"
#     - "US Army ADP 3-90, about 30 % for trained soldiers, as an upper bound; year not seen; seen second-hand"
#   limits: [load.adult_cap]
#   lack: {what: load over the cap, unit: mg}
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
#   mend: {work: move}
#   sources:
#     - "American Academy of Pediatrics, 10 to 20 % (spokesperson, 2018); seen second-hand"
#     - "American Occupational Therapy Association, 10 % (an older list says 15 %); year not seen; seen second-hand"
#     - "Barbosa et al., BMC Pediatrics 2019;19:157, changes above 10 %; abstract seen"
#   limits: [load.child_cap]
#   lack: {what: load over the cap, unit: mg}
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
#   mend: {work: leave}
#   sources:
#     - "Lay pages for dogs, 10 to 30 %; no year; seen second-hand; no veterinary standard found"
#   limits: [load.animal_cap]
#   lack: {what: load over the cap, unit: mg}
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
	f := lib.on_body(carrier, {
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
		"lack": over,
	})
}

# METADATA
# title: An own cap is no way around the cap
# description: >-
#   A family knows its people, and may set a carrier's cap lower with a reason. A cap above
#   the standard's is not for the family alone to write: it is the rule on the load, waived in
#   other words. It judges the load all the same, so that the numbers stay honest; with a
#   waiver of this rule, or another value in the group's standard, it may stand.
# custom:
#   level: error
#   remedy: Take the own cap out or lower it, or waive this with a reason and a near last day.
#   mend: {work: decide}
#   sources:
#     - "Who may loosen a limit: common practice, no source; the caps have their own sources"
#   limits: [load.adult_cap, load.child_cap, load.animal_cap]
#   caution: Poor fitness, illness, pregnancy or an old injury call for less, never for more; ask a licensed practitioner.
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "70 kg", cap: {share: "12 %", reason: "his knees"}}
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "70 kg", cap: {share: "18 %", reason: "he guides walks"}}
finding.own_cap contains f if {
	some carrier in input.carriers
	carrier.cap_known
	usual := _usual(carrier)
	over := carrier.cap_permille - usual
	over > 0
	f := {
		"at": carrier.cap_id,
		"text": sprintf("%s's own cap is %s of body mass; the standard's is %s: %s too much", [
			carrier.name,
			lib.share(carrier.cap_permille),
			lib.share(usual),
			lib.points(over),
		]),
	}
}

_usual(carrier) := lib.limit("load", "animal_cap") if {
	carrier.kind == "animal"
} else := lib.limit("load", "adult_cap") if {
	carrier.adult
} else := lib.limit("load", "child_cap")

# METADATA
# title: Most of a pack's mass is weighed
# description: >-
#   A load is only as true as its parts. Masses from a label or a guess run low, and the
#   cap is then kept on paper only; where a mass is not written at all, the load is at least
#   what the sum says. A day under record on which everything was weighed counts for what says
#   nothing else. Animals' packs count too.
# custom:
#   level: note
#   remedy: Weigh the things named, the heaviest first, and write mass and day.
#   mend: {work: check}
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
	pack.mass_known
	most := lib.limit("load", "unweighed_share")
	lib.beyond(pack.unweighed_mg, pack.mass_mg, most)
	f := {
		"at": pack.unweighed_ids[0],
		"because": pack.unweighed_ids,
		"text": sprintf("%s of the %s in pack “%s” was never weighed; at most %s may be a guess", [
			lib.mass(pack.unweighed_mg),
			lib.kg(pack.mass_mg),
			pack.name,
			lib.share(most),
		]),
	}
}

finding.unweighed contains f if {
	some pack in input.packs
	f := {
		"at": pack.no_mass[0].id,
		"because": [thing.id | some thing in pack.no_mass],
		"text": sprintf("pack “%s” weighs at least %s: no mass is recorded for %s", [
			pack.name,
			lib.kg(pack.mass_mg),
			lib.some_names(pack.no_mass),
		]),
	}
}

# METADATA
# title: Adults share the load fairly
# description: >-
#   The group walks as fast as whoever bears the most for their body. The adults who bear
#   a pack are compared, the heaviest laden against the lightest. Those who are spared (own
#   cap, poor fitness or unwell), those who carry a person, children and animals are left out.
# custom:
#   level: warning
#   remedy: Move something shared from the heaviest laden to the lightest laden adult.
#   mend: {work: move}
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
	heavy.id == _heaviest_laden
	light.id == _lightest_laden
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

_heaviest_laden := min({a.id | some a in _compared; not _less_than_another(a)})

_lightest_laden := min({a.id | some a in _compared; not _more_than_another(a)})

_compared := [c |
	spared := lib.limit("load", "spared_fitness")
	some c in input.carriers
	c.kind == "person"
	c.adult
	count(c.packs) > 0
	not c.cap_known
	not c.fitness in spared
	c.carried_mg == 0
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
#   mend: {work: move}
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

# METADATA
# title: A compartment within its budget
# description: >-
#   A family that gives a part of a pack a budget wants to see when it creeps over. The pouch
#   and everything in it count, with the water. Compartments without a budget are not asked.
# custom:
#   level: warning
#   remedy: Take something out of the compartment, or give it a larger budget and another a smaller one.
#   mend: {work: leave}
#   sources:
#     - "The budget is the family's own; all of it may be used: common practice, no source"
#   limits: [load.budget_share]
#   passes: |
#     packs: rust: compartments: lid: {budget: "400 g", items: tarp: mass: "400 g"}
#   fails: |
#     packs: rust: compartments: lid: {budget: "400 g", items: tarp: mass: "450 g"}
finding.part_budget contains f if {
	most := lib.limit("load", "budget_share")
	some part in input.compartments
	part.budget_known
	over := lib.beyond(part.mass_mg, part.budget_mg, most)
	f := {
		"at": sprintf("%s/budget", [part.id]),
		"because": [part.mass_id],
		"text": sprintf("%s weighs %s; its budget allows %s: %s too much", [
			part.name,
			lib.mass(part.mass_mg),
			lib.mass(lib.share_of(part.budget_mg, most)),
			lib.mass(over),
		]),
	}
}

# METADATA
# title: No single thing makes the pack
# description: >-
#   Where one thing is a large share of a pack, a lighter kind of it or another carrier saves
#   more than a dozen small trades. The heaviest thing of each pack is asked: one of its count,
#   without drinking water in it. What is worn is not asked, nor are the packs of children and
#   animals, which are so light that a jacket is a large share.
# custom:
#   level: note
#   remedy: Look for a lighter kind, divide it between two packs, or give it to the carrier with the most room.
#   mend: {work: exchange}
#   sources:
#     - "common practice, no source"
#   limits: [load.item_share]
#   passes: |
#     packs: rust: compartments: lid: items: tarp: mass: "200 g"
#   fails: |
#     packs: rust: compartments: lid: items: tarp: mass: "400 g"
finding.single_item contains f if {
	most := lib.limit("load", "item_share")
	some pack in input.packs
	pack.carrier_kind == "person"
	pack.carrier_adult
	over := lib.beyond(pack.heaviest_mg, pack.mass_mg, most)
	f := {
		"at": pack.heaviest_id,
		"text": sprintf("%s weighs %s, %s of %s's %s; one thing is at most %s of it: %s too much", [
			pack.heaviest_name,
			lib.mass(pack.heaviest_mg),
			lib.percent(pack.heaviest_mg, pack.mass_mg),
			pack.name,
			lib.kg(pack.mass_mg),
			lib.mass(lib.share_of(pack.mass_mg, most)),
			lib.mass(over),
		]),
	}
}

# METADATA
# title: Everything was weighed lately
# description: >-
#   Cartridges empty, soap dries, a jacket is exchanged for another; the figure stays. Things
#   of each pack whose last weighing is old are named together, animals' packs too. A recent
#   day under record, when everything was weighed, counts for all of them. What was never
#   weighed is asked by load/unweighed.
# custom:
#   level: note
#   remedy: Weigh the things named again and write the day, or weigh everything and write the day under record.
#   mend: {work: check}
#   sources:
#     - "common practice, no source"
#   limits: [load.weighed_days]
#   passes: |
#     packs: rust: compartments: lid: items: tarp: {mass: "400 g", weighed: "2026-03-01"}
#   fails: |
#     packs: rust: compartments: lid: items: tarp: {mass: "400 g", weighed: "2025-03-01"}
finding.weighed_long_ago contains f if {
	not _all_weighed_lately
	most := lib.limit("load", "weighed_days")
	some pack in input.packs
	old := [w | some w in input.weighings; w.pack == pack.id; input.audit.on_day - w.day > most]
	things := [id | some w in old; some id in w.items]
	f := {
		"at": things[0],
		"because": things,
		"text": sprintf("in pack “%s”, %s last weighed more than %s ago, the longest %s ago", [
			pack.name,
			lib.many(count(things), "thing was", "things were"),
			lib.days(most),
			lib.days(input.audit.on_day - min([w.day | some w in old])),
		]),
	}
}

_all_weighed_lately if {
	input.record.weighed_known
	input.audit.on_day - input.record.weighed_day <= lib.limit("load", "weighed_days")
}

# METADATA
# title: Light load for those who are not well
# description: >-
#   A person in poor health or unwell tires and stumbles sooner under the same share of body
#   mass. Every adult with such a fitness written is asked, whatever own cap is written;
#   children have a cap as low, and animals are judged by animals/unfit-bearer.
# custom:
#   level: warning
#   remedy: Give the heaviest things to somebody who is well.
#   mend: {work: move}
#   sources:
#     - "10 %: common practice, no source; it is the lay hiking figure for a day pack; no year; seen second-hand"
#   limits: [load.unfit, load.unfit_cap]
#   caution: >-
#     A share of body mass knows nothing of an illness or an injury. Ask a licensed
#     practitioner whether this person should carry anything at all.
#   passes: |
#     people: ana: fitness: "unwell"
#     packs: rust: compartments: lid: items: stores: mass: "5 kg"
#   fails: |
#     people: ana: fitness: "unwell"
#     packs: rust: compartments: lid: items: stores: mass: "7 kg"
finding.unfit_carrier contains f if {
	most := lib.limit("load", "unfit_cap")
	some carrier in input.carriers
	carrier.kind == "person"
	carrier.adult
	carrier.fitness in lib.limit("load", "unfit")
	over := lib.beyond(carrier.load_mg, carrier.body_mass_mg, most)
	f := {
		"at": carrier.load_id,
		"text": sprintf("%s's fitness is written as %s and the load is %s, %s of body mass; the most for such a carrier is %s: %s too much", [
			carrier.name,
			carrier.fitness,
			lib.kg(carrier.load_mg),
			lib.percent(carrier.load_mg, carrier.body_mass_mg),
			lib.kg(lib.share_of(carrier.body_mass_mg, most)),
			lib.mass(over),
		]),
	}
}

# METADATA
# title: The others can carry on when one adult cannot
# description: >-
#   A sprained ankle puts one pack on the others' backs. For each adult who bears a pack, the
#   load of all people, less what can be dropped in seconds, is set against what the other
#   people who bear one can bear for a short way: an own cap and a child's cap as always, any
#   other adult a higher one. Households with one carrier are not asked, and animals' packs
#   and caps are left out.
# custom:
#   level: note
#   remedy: Mark more as quickShed, lighten the packs, or decide now what would be left behind and waive this.
#   mend: {work: write}
#   sources:
#     - "US Army ADP 3-90: soldiers keep most agility up to 30 % of body mass; year not seen; seen second-hand. It is a figure for trained adults, taken here for a short way only"
#     - "That the others must manage: common practice, no source"
#   limits: [load.short_way_cap, load.unfit, load.unfit_cap, load.child_cap]
#   caution: >-
#     So much load is for a short way and for healthy adults; whoever feels pain stops. What is
#     left behind must not be medicine, water treatment or papers. A child never takes more
#     than the child's own cap.
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "70 kg"}
#     packs: moss: {carrier: "ben", mass: "10 kg"}
#     packs: rust: compartments: lid: items: stores: mass: "9 kg"
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "70 kg"}
#     packs: moss: {carrier: "ben", mass: "12 kg"}
#     packs: rust: compartments: lid: items: stores: mass: "10 kg"
finding.one_cannot contains f if {
	count(_bearers) > 1
	some one in _bearers
	one.adult
	caps := _stretched - (one.body_mass_mg * _stretch(one))
	over := lib.beyond(_kept, 1, caps)
	f := {
		"at": one.load_id,
		"because": [c.load_id | some c in _bearers],
		"text": sprintf("should %s not be able to carry: all packs and who is carried weigh %s without what is dropped in seconds, and the others can bear %s for a short way (%s): %s too much", [
			one.name,
			lib.kg(_kept),
			lib.kg(lib.down(caps, 1000)),
			lib.and_list([sprintf("%s %s", [c.name, lib.share(_stretch(c))]) | some c in _bearers; c.id != one.id]),
			lib.mass(over),
		]),
	}
}

_bearers := [c |
	some c in input.carriers
	c.kind == "person"
	c.packs != []
]

# What all packs of people weigh without what is dropped in seconds, and who is carried.
_kept := sum([left | some c in _bearers; left := (c.load_mg - c.quick_shed_mg) + c.carried_mg])

# What all bearers can bear for a short way, in thousandths of a milligram.
_stretched := sum([most | some c in _bearers; most := c.body_mass_mg * _stretch(c)])

# An own cap is kept even then, and so is a child's.
_stretch(carrier) := carrier.cap_permille if carrier.cap_known

_stretch(carrier) := lib.limit("load", "unfit_cap") if {
	not carrier.cap_known
	carrier.adult
	carrier.fitness in lib.limit("load", "unfit")
}

_stretch(carrier) := lib.limit("load", "short_way_cap") if {
	not carrier.cap_known
	carrier.adult
	not carrier.fitness in lib.limit("load", "unfit")
}

_stretch(carrier) := lib.limit("load", "child_cap") if {
	not carrier.cap_known
	not carrier.adult
}

# METADATA
# title: What is quick to shed is within reach
# description: >-
#   A thing that must be dug out after a halt is not dropped in seconds. Single things marked
#   quickShed are asked; a whole compartment marked so comes off with its own buckles, however
#   one gets at what is in it, and is not asked.
# custom:
#   level: warning
#   remedy: Move it to a compartment that is reached while walking, or mark the whole compartment if that comes off at once.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: chair: {mass: "500 g", quickShed: true}
#   fails: |
#     packs: rust: compartments: main: {reach: "halted", items: chair: {mass: "500 g", quickShed: true}}
finding.quick_shed_reach contains f if {
	some item in input.quick_items
	item.reach == "halted"
	not item.whole
	f := {
		"at": item.id,
		"text": sprintf("%s (%s) is marked as dropped in seconds, but it lies where it is got at only when halted", [
			item.name,
			lib.mass(item.mass_mg),
		]),
	}
}

# METADATA
# title: What is worn is no second pack
# description: >-
#   What a person wears or pockets is not load, so that boots and clothes do not count against
#   the pack. A vest full of gear is load all the same, only out of sight of the cap. Clothes,
#   boots and full pockets stay under a share of body mass.
# custom:
#   level: warning
#   remedy: Move things from the body to a pack, where they count, or leave them.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: [load.worn_share]
#   caution: Whoever is not well feels it sooner; ask a licensed practitioner.
#   passes: |
#     people: ana: onBody: boots: {mass: "1.2 kg", can: footwear: "boots"}
#   fails: |
#     people: ana: onBody: vest: {mass: "9 kg"}
finding.worn contains f if {
	most := lib.limit("load", "worn_share")
	some carrier in input.carriers
	over := lib.beyond(carrier.on_body_mg, carrier.body_mass_mg, most)
	f := {
		"at": sprintf("%s/on-body", [carrier.id]),
		"text": sprintf("%s wears and pockets %s, %s of body mass; at most %s is no second pack: %s too much", [
			carrier.name,
			lib.kg(carrier.on_body_mg),
			lib.percent(carrier.on_body_mg, carrier.body_mass_mg),
			lib.share(most),
			lib.mass(over),
		]),
	}
}

# METADATA
# title: Whoever carries nothing bears no pack
# description: >-
#   A family writes that a person carries nothing, because of age, health or another reason.
#   A pack borne by the same person contradicts it, and one of the two is a slip.
# custom:
#   level: error
#   remedy: Give the pack to somebody else, or take the "carries" line out.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: Ask a licensed practitioner whether this person should carry anything at all.
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "70 kg", carries: false}
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "70 kg", carries: false}
#     packs: moss: {carrier: "ben", mass: "6 kg"}
finding.not_a_carrier contains f if {
	some carrier in input.carriers
	carrier.kind == "person"
	not carrier.carries
	carrier.packs != []
	f := {
		"at": sprintf("%s/carries", [carrier.id]),
		"because": carrier.packs,
		"text": sprintf("%s is written to carry nothing, and bears %s", [carrier.name, lib.many(count(carrier.packs), "pack", "packs")]),
	}
}

# METADATA
# title: A heavy pack has a hip belt
# description: >-
#   A hip belt takes much of a load off the shoulders and the back. Packs borne by people are
#   asked, from the mass in the limit upwards; a lighter pack does without.
# custom:
#   level: note
#   remedy: Lighten the pack, or use one with a hip belt that bears load; write hipBelt where it has one.
#   mend: {work: leave}
#   sources:
#     - "common practice, no source"
#   limits: [load.belt_mass]
#   passes: |
#     packs: rust: {hipBelt: true, compartments: lid: items: stores: mass: "10 kg"}
#   fails: |
#     packs: rust: compartments: lid: items: stores: mass: "10 kg"
finding.hip_belt contains f if {
	most := lib.limit("load", "belt_mass")
	some pack in input.packs
	pack.carrier_kind == "person"
	not pack.hip_belt
	over := pack.mass_mg - most
	over > 0
	f := {
		"at": pack.id,
		"text": sprintf("%s weighs %s and has no hip belt; without one it is at most %s: %s too much", [
			pack.name,
			lib.kg(pack.mass_mg),
			lib.kg(most),
			lib.mass(over),
		]),
	}
}
