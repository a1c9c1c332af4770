package rules.base.children

import data.lib

# METADATA
# title: Each child has on them who they are
# description: >-
#   A small child who is found may not know a surname or a number, and a frightened bigger one
#   may not say it. Each child wears or carries something with their name and whom to call,
#   such as a tag or a capsule; what a parent holds for them is not counted. Children of
#   unknown age are not asked.
# custom:
#   level: warning
#   remedy: Put a tag or capsule with name, birth date and telephone numbers on the child, out of strangers' sight.
#   mend: {work: add, thing: identify}
#   sources:
#     - "BBK (Germany), children wear a pouch or capsule with name, birth date and address; year not seen; seen second-hand"
#     - "The age: common practice, no source"
#   limits: [children.identity_months]
#   caution: Wear it under the clothes, without a cord that can tighten around the neck.
#   passes: |
#     people: mia: {age: "9 y", bodyMass: "30 kg", onBody: tag: {mass: "9 g", can: identify: "name-tag"}}
#   fails: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: rust: compartments: lid: items: tag: {mass: "9 g", owner: "mia", can: identify: "name-tag"}
finding.identity contains f if {
	some child in _younger(lib.limit("children", "identity_months"))
	not _identified(child)
	f := {
		"at": child.id,
		"text": sprintf("%s has nothing on them that says who they are; 1 is asked: 1 too few", [child.name]),
	}
}

_identified(child) if {
	some o in lib.offers("identify")
	o.carrier == child.id
	o.owner in {"", child.id}
}

# People of known age who are younger than that.
_younger(months) := [p |
	some p in input.people
	p.age_known
	p.age_months < months
]

# METADATA
# title: Something that comforts each child
# description: >-
#   A child who is calm walks, eats and sleeps, and one loved thing does more than a long
#   talk. There is something to hold, read or play with for each young child, whoever bears
#   it. Households without young children are not asked.
# custom:
#   level: note
#   remedy: Add a light toy, a book or a pack of cards, and let the child choose it.
#   mend: {work: add}
#   sources:
#     - "Ready.gov/FEMA 2022 (additional items), the American Red Cross 2020 and Australian agencies by ABC (year not seen) list games; seen second-hand"
#     - "The age and one for each child: common practice, no source"
#   limits: [children.comfort_months, children.comforts]
#   caution: No small parts for a child who puts things into the mouth.
#   passes: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: rust: compartments: lid: items: rabbit: {mass: "90 g", can: comfort: "toy"}
#   fails: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
finding.comfort contains f if {
	children := _younger(lib.limit("children", "comfort_months"))
	asked := lib.limit("children", "comforts") * count(children)
	things := lib.offers("comfort")
	short := asked - lib.pieces(things)
	short > 0
	f := {
		"at": input.household.id,
		"because": [o.id | some o in things],
		"text": sprintf("the household has %s of comfort for %s; %d asked: %d too few", [
			lib.many(lib.pieces(things), "thing", "things"),
			lib.and_list([c.name | some c in children]),
			asked,
			short,
		]),
	}
}

# METADATA
# title: No pack on a very young child
# description: >-
#   A small child tires early, and then somebody carries both the child and the pack. Below
#   the age asked a child bears no pack of the plan; a favourite thing in the arms is no
#   pack. Children of unknown age and animals are not asked.
# custom:
#   level: error
#   remedy: Give the pack to somebody older, or share its things out, and set carries to false for the child.
#   mend: {work: move}
#   sources:
#     - "The age: common practice, no source"
#     - "The figures of the American Academy of Pediatrics (2018) and the American Occupational Therapy Association (year not seen), both seen second-hand, are for school bags"
#   limits: [children.carry_months]
#   caution: An older child who is small, tired or unwell carries nothing either; ask a paediatrician when in doubt.
#   passes: |
#     people: mia: {age: "6 y", bodyMass: "21 kg"}
#     packs: kite: {carrier: "mia", mass: "1 kg"}
#   fails: |
#     people: mia: {age: "5 y", bodyMass: "19 kg"}
#     packs: kite: {carrier: "mia", mass: "1 kg"}
finding.bears_too_young contains f if {
	some carrier in input.carriers
	carrier.kind == "person"
	count(carrier.packs) > 0
	carrier.age_known
	least := lib.limit("children", "carry_months")
	carrier.age_months < least
	f := {
		"at": carrier.id,
		"because": carrier.packs,
		"text": sprintf("%s bears %s and is %s old; %s are asked: %s too few", [
			carrier.name,
			lib.many(count(carrier.packs), "pack", "packs"),
			lib.age(carrier.age_months),
			lib.age(least),
			lib.age(least - carrier.age_months),
		]),
	}
}

# METADATA
# title: Somebody carries each small child
# description: >-
#   On a long walk a small child is carried, and the carrier must be chosen before packs are
#   filled. Each child below the age asked names who carries them, so that their mass is
#   counted there. Children of unknown age are not asked.
# custom:
#   level: warning
#   remedy: Write the carrier as carriedBy of the child, and lighten that carrier's pack.
#   mend: {work: decide}
#   sources:
#     - "common practice, no source"
#   limits: [children.walk_months]
#   caution: Use a carrier made for the child's mass and age, with the airway free; follow its label.
#   passes: |
#     people: lin: {age: "14 months", bodyMass: "10 kg", carriedBy: "ana"}
#   fails: |
#     people: lin: {age: "14 months", bodyMass: "10 kg"}
finding.carried contains f if {
	least := lib.limit("children", "walk_months")
	some child in _younger(least)
	child.carried_by == ""
	f := {
		"at": child.id,
		"text": sprintf("%s is %s old, below %s, and it is not written who carries them", [
			child.name,
			lib.age(child.age_months),
			lib.age(least),
		]),
	}
}

# METADATA
# title: Pack and carried child within the cap
# description: >-
#   Whoever carries a child carries that mass as well as the pack. Both together stay under a
#   share of the carrier's body mass. No civil figure was found: the upper bound for trained
#   soldiers is taken, since the load caps of packs alone would forbid to carry a child
#   at all. Whoever carries nobody is not asked.
# custom:
#   level: warning
#   remedy: Give the pack's heaviest things to others, or let somebody stronger carry the child.
#   mend: {work: move}
#   sources:
#     - "US Army ADP 3-90, about 30 % for trained soldiers; year not seen; seen second-hand"
#     - "For carried people: common practice, no source"
#   limits: [children.carried_cap]
#   caution: >-
#     Poor fitness, illness, pregnancy or an old injury call for much less; ask a licensed
#     practitioner, take turns and rest often.
#   passes: |
#     people: lin: {age: "14 months", bodyMass: "10 kg", carriedBy: "ana"}
#     packs: rust: compartments: lid: items: stores: {mass: "9 kg"}
#   fails: |
#     people: lin: {age: "14 months", bodyMass: "14 kg", carriedBy: "ana"}
#     packs: rust: compartments: lid: items: stores: {mass: "9 kg"}
finding.carried_load contains f if {
	some carrier in input.carriers
	carrier.carried_mg > 0
	cap := _carried_cap(carrier)
	all := carrier.load_mg + carrier.carried_mg
	over := lib.excess(all, carrier.body_mass_mg, cap)
	over > 0
	f := {
		"at": carrier.load_id,
		"because": array.concat(carrier.carried_ids, carrier.packs),
		"text": sprintf("%s bears %s in packs and carries %s of people, %s of body mass; the most is %s or %s: %s too much", [
			carrier.name,
			lib.kg(carrier.load_mg),
			lib.kg(carrier.carried_mg),
			lib.percent(all, carrier.body_mass_mg),
			lib.percent(cap, 1000),
			lib.kg(lib.share_of(carrier.body_mass_mg, cap)),
			lib.mass(lib.up(over, 1000)),
		]),
	}
}

_carried_cap(carrier) := lib.limit("children", "carried_cap") if not carrier.cap_known

_carried_cap(carrier) := min([lib.limit("children", "carried_cap"), carrier.cap_permille]) if carrier.cap_known

# METADATA
# title: A grown and well person carries the child
# description: >-
#   Whoever carries a child must not fall. Somebody under 18, in poor health or unwell, or
#   written to carry nothing, is named where a person is to be carried by them.
# custom:
#   level: error
#   remedy: Name another person under carriedBy.
#   mend: {work: decide}
#   sources:
#     - "common practice, no source"
#   limits: [load.unfit]
#   caution: Ask a licensed practitioner when in doubt whether somebody can carry a child.
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
	f := {
		"at": carrier.id,
		"because": carrier.carried_ids,
		"text": sprintf("%s is to carry %s, and is %s", [
			carrier.name,
			lib.many(count(carrier.carried_ids), "person", "people"),
			lib.and_list(sort(reasons)),
		]),
	}
}

_unfit_to_carry(carrier) := ({"under 18" | not carrier.adult} | {"written to carry nothing" | not carrier.carries}) | {carrier.fitness | carrier.fitness in lib.limit("load", "unfit")}

# METADATA
# title: Somebody packs for those without a pack
# description: >-
#   Whoever bears no pack, a small child or a dependant, still needs warm clothes, a change and
#   a place to sleep, and they are forgotten where nobody is told to carry them. At least one
#   thing in the packs names each of them as its owner. Households without packs are not asked.
# custom:
#   level: warning
#   remedy: Pack their clothes, their warmth and their own things with somebody, and write owner on each.
#   mend: {work: add}
#   sources:
#     - "BBK (Germany) and New Zealand's Get Ready ask for a pack for everybody; year not seen; the first seen second-hand, the second in a copy of its own page"
#     - "In somebody else's pack: common practice, no source"
#   limits: []
#   passes: |
#     people: lin: {age: "14 months", bodyMass: "10 kg"}
#     packs: rust: compartments: lid: items: suit: {mass: "400 g", owner: "lin"}
#   fails: |
#     people: lin: {age: "14 months", bodyMass: "10 kg", onBody: suit: {mass: "400 g", owner: "lin"}}
finding.own_things contains f if {
	count(input.packs) > 0
	some person in input.people
	person.pack_count == 0
	person.owned_count == 0
	f := {
		"at": person.id,
		"text": sprintf("%s bears no pack, and 0 things in the packs name %s as owner; 1 is asked: 1 too few", [person.name, person.name]),
	}
}

# METADATA
# title: Nappies for the plan
# description: >-
#   Nappies run out on the second day and cannot be shared by anybody else. The nappies in the
#   household are set against the young children and the length of the plan. Children of
#   unknown age are not asked, nor a plan without a duration.
# custom:
#   level: warning
#   remedy: >-
#     Add nappies; write one nappy as the item and how many as its count. Where a child needs
#     none any more, cover the finding with a waiver that says so.
#   mend: {work: add}
#   sources:
#     - "The number and the age: common practice, no source"
#     - "Things for infants are on the lists of Ready.gov/FEMA (2022) and the American Red Cross (2020), both seen second-hand, without a number"
#   limits: [children.nappies, children.nappy_months]
#   passes: |
#     plan: duration: "72 h"
#     people: lin: {age: "14 months", bodyMass: "10 kg"}
#     packs: rust: compartments: lid: items: nappies: {count: 18, mass: "35 g", can: hygiene: "nappies"}
#   fails: |
#     plan: duration: "72 h"
#     people: lin: {age: "14 months", bodyMass: "10 kg"}
#     packs: rust: compartments: lid: items: nappies: {count: 17, mass: "35 g", can: hygiene: "nappies"}
finding.nappies contains f if {
	children := _younger(lib.limit("children", "nappy_months"))
	daily := lib.limit("children", "nappies")
	need := (daily * count(children)) * input.plan.minutes
	packed := [o | some o in lib.offers("hygiene"); o.means == "nappies"]
	lib.pieces(packed) * lib.day_min < need
	asked := lib.up(need, lib.day_min)
	f := {
		"at": input.household.id,
		"because": [o.id | some o in packed],
		"text": sprintf("the household has %s for %s; %s at %d a day each take %d: %d too few", [
			lib.many(lib.pieces(packed), "nappy", "nappies"),
			lib.and_list([c.name | some c in children]),
			lib.hours(input.plan.minutes),
			daily,
			asked,
			asked - lib.pieces(packed),
		]),
	}
}
