package rules.base.children

import data.lib

# METADATA
# title: Each child carries identification
# description: >-
#   A small child who is found may not know a surname or a number, and a frightened older one may not say it. Each child
#   wears or carries something with their name and whom to call, such as a tag or a capsule; a child too young for a bag
#   wears it, and what a parent holds for them does not count.
# custom:
#   level: warning
#   remedy: Put a tag or capsule with name, birth date and telephone numbers on the child, out of strangers' sight.
#   mend: {work: add, thing: identify, get: identification for the child}
#   sources:
#     - "BBK (Germany), children wear a pouch or capsule with name, birth date and address; year not seen; seen second-hand"
#     - "The ages: common practice, no source"
#   limits: [people.alone_months, people.bag_months]
#   caution: Wear it under the clothes, without a cord that can tighten around the neck.
#   passes: |
#     people: mia: {age: "9 y", bodyMass: "30 kg", onBody: tag: {mass: "9 g", can: identify: "name-tag"}}
#   fails: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: rust: compartments: lid: items: tag: {mass: "9 g", owner: "mia", can: identify: "name-tag"}
finding.identity contains f if {
	some child in _children
	not _identified(child)
	bare := {
		"at": child.id,
		"text": sprintf("%s wears or carries no identification", [child.name]),
	}
	f := lib.lack_any(bare, lib.unrecorded({child.id}, "identify"))
}

_identified(child) if {
	some o in lib.offers("identify")
	o.carrier == child.id
	o.owner in {"", child.id}
	_worn(child, o)
}

_worn(child, _) if not lib.younger(child, lib.limit("people", "bag_months"))

_worn(child, o) if o.person == child.id

_children := _younger(lib.limit("people", "alone_months"))

# People of known age who are younger than that.
_younger(months) := [p | some p in input.people; lib.younger(p, months)]

# METADATA
# title: Each young child has a comfort item
# description: >-
#   A child who is calm walks, eats and sleeps, and one loved thing does more than a long talk. There is something to
#   hold, read or play with for each child, no matter who carries it. Infants are comforted by arms.
# custom:
#   level: note
#   remedy: Add a light toy, a book or a pack of cards; let the child choose it.
#   mend: {work: add, get: comfort item}
#   sources:
#     - "Ready.gov/FEMA 2022 (additional items), the American Red Cross 2020 and Australian agencies by ABC (year not seen) list games; seen second-hand"
#     - "The ages and one for each child: common practice, no source"
#   limits: [children.comfort_from, children.comforts, people.alone_months, people.bag_months]
#   caution: No small parts for a child who puts things in the mouth.
#   passes: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: rust: compartments: lid: items: rabbit: {mass: "90 g", can: comfort: "toy"}
#   fails: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
finding.comfort contains f if {
	children := [c | some c in _children; lib.at_least(c, lib.limit("children", "comfort_from"))]
	asked := lib.limit("children", "comforts") * count(children)
	things := lib.offers("comfort")
	short := asked - lib.pieces(things)
	short > 0
	bare := {
		"at": array.concat([c.id | some c in lib.without(children, things).who], [children[0].id])[0],
		"because": [o.id | some o in things],
		"text": sprintf("the household has %s for %s: %d short", [
			_things(lib.pieces(things)),
			lib.and_list([c.name | some c in children]),
			short,
		]),
	}
	f := lib.lack(bare, lib.unrecorded(lib.anybody, "comfort"), short)
}

_things(0) := "no comfort item"

_things(n) := lib.many(n, "comfort item", "comfort items") if n > 0

# METADATA
# title: No very young child carries a pack
# description: >-
#   A small child tires early, and then someone carries both the child and the pack. A child too young for a bag carries
#   no pack, except a light one in play from the age at which children walk. Children of unknown age and animals are left
#   out.
# custom:
#   level: warning
#   remedy: "Give the pack to someone older, or share its contents out, and write carries: false for the child."
#   mend: {work: move}
#   sources:
#     - "The ages and the light bag: common practice, no source"
#     - "The figures of the American Academy of Pediatrics (2018) and the American Occupational Therapy Association (year not seen), both seen second-hand, are for school bags"
#   limits: [children.bag_mass, children.bag_share, people.bag_months, people.walk_months]
#   caution: An older child who is small, tired or unwell should carry nothing either; ask a paediatrician if in doubt.
#   passes: |
#     people: mia: {age: "5 y", bodyMass: "21 kg"}
#     packs: kite: {carrier: "mia", mass: "1 kg"}
#   fails: |
#     people: mia: {age: "5 y", bodyMass: "19 kg"}
#     packs: kite: {carrier: "mia", mass: "1 kg"}
finding.bears_too_young contains f if {
	some carrier in input.carriers
	carrier.kind == "person"
	least := lib.limit("people", "bag_months")
	lib.younger(carrier, least)
	not _in_play(carrier)
	burdens := array.concat(carrier.packs, carrier.animal_ids)
	f := {
		"at": burdens[0],
		"because": burdens,
		"text": sprintf("%s is %s old and carries %s; the minimum age is %s", [
			carrier.name,
			lib.age(carrier.age_months),
			lib.mass(carrier.load_mg),
			lib.age(least),
		]),
	}
}

_in_play(carrier) if {
	lib.at_least(carrier, lib.limit("people", "walk_months"))
	carrier.load_mg <= lib.limit("children", "bag_mass")
	not lib.beyond(carrier.load_mg, carrier.body_mass_mg, lib.limit("children", "bag_share"))
}

# METADATA
# title: Each small child has someone to carry them
# description: >-
#   On a long walk a small child is carried, and the carrier must be chosen before packs are filled. Each child too young
#   to walk far names who carries them, so that their weight counts there. Children of unknown age are left out, and so
#   is a way that is known to be short.
# custom:
#   level: warning
#   remedy: Name the carrier under carriedBy of the child, and lighten that carrier's pack.
#   mend: {work: decide}
#   sources:
#     - "common practice, no source"
#   limits: [children.carry_distance, people.walk_months]
#   caution: Use a carrier made for the child's weight and age, with the airway free; follow its label.
#   passes: |
#     people: lin: {age: "14 months", bodyMass: "10 kg", carriedBy: "ana"}
#   fails: |
#     people: lin: {age: "14 months", bodyMass: "10 kg"}
finding.carried contains f if {
	not _short_way
	some child in _younger(lib.limit("people", "walk_months"))
	child.carried_by == ""
	f := {
		"at": child.id,
		"text": sprintf("nobody is recorded as carrying %s, who is %s old", [child.name, lib.age(child.age_months)]),
	}
}

_short_way if {
	input.plan.legs != []
	input.plan.foot_mm < lib.limit("children", "carry_distance")
}

# METADATA
# title: An adult who is well carries the child
# description: >-
#   A person who carries a child must not fall. Someone who is under 18, in poor health, unwell or in the last months of a
#   pregnancy, or who is recorded as carrying nothing, carries no child. For a well youth it is a note.
# custom:
#   level: error
#   remedy: Name another person under carriedBy.
#   mend: {work: decide}
#   sources:
#     - "common practice, no source; that the limits for lifting fall in the second half of a pregnancy: NIOSH, provisional (Waters and MacDonald 2013, abstracts seen)"
#   limits: [children.carrier_months, children.carrier_due_days, load.unfit]
#   caution: Ask a licensed practitioner if you doubt that a person can carry a child.
#   passes: |
#     people: lin: {age: "14 months", bodyMass: "10 kg", carries: false, carriedBy: "ana"}
#   fails: |
#     people: ana: fitness: "unwell"
#     people: lin: {age: "14 months", bodyMass: "10 kg", carries: false, carriedBy: "ana"}
finding.carrier contains f if {
	some carrier in input.carriers
	carrier.carried_mg > 0
	reasons := _unfit_to_carry(carrier)
	count(reasons) > 0
	f := object.union(
		{
			"at": sprintf("%s/carriedBy", [carrier.carried_ids[0]]),
			"because": array.concat([carrier.id], carrier.carried_ids),
			"text": sprintf("%s is to carry %s but is %s", [
				carrier.name,
				lib.names([p | some p in input.people; p.id in carrier.carried_ids]),
				lib.and_list(sort(reasons)),
			]),
		},
		_youth(carrier, reasons),
	)
}

_unfit_to_carry(carrier) := (({"under 18" | not carrier.adult} | {"recorded as carrying nothing" | not carrier.carries}) | {_fitness(carrier.fitness) | carrier.fitness in lib.limit("load", "unfit")}) | _far_gone(carrier)

_fitness("poor") := "in poor health"

_fitness(state) := state if state != "poor"

_far_gone(carrier) := {sprintf("due %s", [lib.in_days(max([0, p.due_days]))]) |
	some p in input.people
	p.id == carrier.id
	lib.due_within(p, lib.limit("children", "carrier_due_days"))
}

_youth(carrier, reasons) := {"level": "note"} if {
	reasons == {"under 18"}
	carrier.age_months >= lib.limit("children", "carrier_months")
} else := {}

# METADATA
# title: There are nappies for the whole plan
# description: >-
#   Nappies run out on the second day, and nothing else does the job. The nappies of the household are compared with the age
#   of the young children and the length of the plan. Children of unknown age are left out.
# custom:
#   level: warning
#   remedy: >-
#     Add nappies: one nappy as the item, how many as its count. For a child who no longer needs any, write nappies:
#     false.
#   mend: {work: add, get: nappies}
#   sources:
#     - "The number by age, the upper end: pages for parents, year not seen; seen second-hand"
#     - "Things for infants are on the lists of Ready.gov/FEMA (2022) and the American Red Cross (2020), both seen second-hand, without a number"
#   limits: [children.nappies, children.nappies_infant, children.nappies_half_year, children.half_year_months, children.infant_months, children.nappy_months]
#   passes: |
#     plan: duration: "72 h"
#     people: lin: {age: "14 months", bodyMass: "10 kg"}
#     packs: rust: compartments: lid: items: nappies: {count: 18, mass: "35 g", can: hygiene: "nappies"}
#   fails: |
#     plan: duration: "72 h"
#     people: lin: {age: "14 months", bodyMass: "10 kg"}
#     packs: rust: compartments: lid: items: nappies: {count: 17, mass: "35 g", can: hygiene: "nappies"}
finding.nappies contains f if {
	children := [c | some c in _younger(lib.limit("children", "nappy_months")); c.nappies]
	minutes := input.endurance.minutes
	daily := sum([_daily(c) | some c in children])
	packed := [o | some o in lib.offers("hygiene"); o.means == "nappies"]
	have := lib.pieces(packed)
	have * lib.day_min < daily * minutes
	asked := lib.up(daily * minutes, lib.day_min)
	bare := {
		"at": array.concat([o.id | some o in packed], [children[0].id])[0],
		"because": [o.id | some o in packed],
		"text": sprintf("the household has %s; %s %s for %s, at %d a day: %d short", [
			_nappies(have),
			lib.and_list([c.name | some c in children]),
			_need(count(children), asked),
			lib.hours(minutes),
			daily,
			asked - have,
		]),
	}
	f := lib.lack_any(bare, lib.unrecorded_means(lib.anybody, "hygiene", ["nappies"]))
}

_daily(child) := lib.limit("children", "nappies_infant") if {
	lib.younger(child, lib.limit("children", "half_year_months"))
} else := lib.limit("children", "nappies_half_year") if {
	lib.younger(child, lib.limit("children", "infant_months"))
} else := lib.limit("children", "nappies")

_nappies(0) := "no nappies"

_nappies(n) := lib.many(n, "nappy", "nappies") if n > 0

_need(1, n) := sprintf("needs %d", [n])

_need(k, n) := sprintf("need %d", [n]) if k > 1
