package rules.base.separation

import data.lib

# METADATA
# title: Each person can do without the others
# description: >-
#   A crowd, a smoke front or a closed bridge can part a family. Each person who bears a
#   pack keeps the capabilities asked in what they wear and in their own packs. A young one
#   is asked only for what serves to stay put and be found; an age that is not known counts
#   as grown. People without a pack are not asked; packs borne by animals are not counted
#   to anybody.
# custom:
#   level: error
#   remedy: Add a light one of each missing thing to that person's pack, or move a spare there.
#   mend: {work: add}
#   sources:
#     - "The lists and the age: common practice, no source"
#     - "A bag for everyone: NYC Emergency Management; CAL FIRE (year not seen, second-hand); Get Ready (New Zealand); Higashiomi (Japan), 2021; seen in copies of their own pages unless said"
#     - "A whistle and a bright bag for each child, who stays in one place: Hug-A-Tree and Survive, ages 5 to 12; year not seen; seen in copies"
#   limits: [separation.alone, separation.alone_child, separation.alone_months]
#   caution: >-
#     A child alone should stay, whistle and be found, not make fire or treat water; give fire
#     and chemicals to a child only as far as an adult trusts and has practised it.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	lighter: {mass: "20 g", can: fire: "gas-lighter"}
#     	filter: {mass: "90 g", treat: {method: "filter", litres: "500 L"}}
#     	tarp: {mass: "400 g", can: shelter: "tarp"}
#     	lamp: {mass: "80 g", can: light: "headlamp"}
#     	aid: {mass: "200 g", can: first_aid: "kit"}
#     	whistle: {mass: "10 g", can: signal: "whistle"}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: whistle: {mass: "10 g", can: signal: "whistle"}
finding.alone contains f if {
	some person in input.people
	person.pack_count > 0
	asked := _asked(person)
	lacking := [c | some c in asked; lib.means(person.alone, c) == []]
	missing := [_words(c) | some c in lacking]
	count(missing) > 0
	f := lib.lack_each(
		{
			"at": person.id,
			"text": sprintf("%s alone has no means of %s: %d of the %d capabilities asked are there, %d too few", [
				person.name,
				lib.and_list(missing),
				count(asked) - count(missing),
				count(asked),
				count(missing),
			]),
		},
		person.id, lacking,
	)
}

_asked(person) := lib.limit("separation", "alone") if not _young(person)

_asked(person) := lib.limit("separation", "alone_child") if _young(person)

_young(person) if {
	person.age_known
	person.age_months < lib.limit("separation", "alone_months")
}

# Capabilities are written with _ and - in kits and facts.
_words("treat-water") := "water treatment"

_words(capability) := replace(capability, "_", " ") if capability != "treat-water"

# METADATA
# title: Somebody bears a pack
# description: >-
#   A household without a pack borne by a person has nothing along when it must go on foot,
#   and most rules have nothing to ask about. What an animal bears may run away with it.
# custom:
#   level: error
#   remedy: Pack a first pack for somebody who can carry it, and write it under packs.
#   mend: {work: add}
#   sources:
#     - "A bag for everyone: NYC Emergency Management; CAL FIRE (year not seen, second-hand); Get Ready (New Zealand); seen in copies of their own pages unless said"
#   limits: [separation.packs]
#   passes: |
#     packs: rust: compartments: lid: items: matches: {mass: "15 g", can: fire: "matches"}
#   fails: |
#     household: "Example"
#     people: ana: {age: "40 y", bodyMass: "70 kg"}
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: {carrier: "bo", mass: "1 kg"}
finding.some_pack contains f if {
	least := lib.limit("separation", "packs")
	have := count([p | some p in input.packs; p.carrier_kind == "person"])
	have < least
	f := {
		"at": input.household.id,
		"text": sprintf("people bear %s; %d is asked: %d too few", [lib.many(have, "pack", "packs"), least, least - have]),
	}
}

# METADATA
# title: Each adult has a pack
# description: >-
#   Whoever has no pack has nothing when separated, and the others bear more. Adults who are
#   written to carry nothing, or who are carried, are not asked, nor is a household in which
#   nobody bears a pack: that is another rule's.
# custom:
#   level: warning
#   remedy: "Give this person a pack, however small, or write carries: false."
#   mend: {work: add}
#   sources:
#     - "A bag for everyone: NYC Emergency Management; CAL FIRE (year not seen, second-hand); Get Ready (New Zealand); seen in copies of their own pages unless said"
#     - "One backpack for each member: BBK (Germany); year not seen; seen second-hand"
#   limits: []
#   caution: Not everybody can carry; ask a licensed practitioner when in doubt.
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "70 kg", carries: false}
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "70 kg"}
finding.own_pack contains f if {
	[p | some p in input.packs; p.carrier_kind == "person"] != []
	some person in input.people
	person.adult
	person.carries
	person.carried_by == ""
	person.pack_count == 0
	f := {"at": person.id, "text": sprintf("%s can carry and bears no pack", [person.name])}
}
