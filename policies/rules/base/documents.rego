package rules.base.documents

import data.lib

# METADATA
# title: Copies of key papers are packed
# description: >-
#   To get help, shelter or money for the house you must show who you are and what you had. The household needs a copy of
#   each of these papers, on paper or on a memory stick, packed or worn by anyone; medical papers only if someone takes a
#   medicine or has an allergy. FEMA also names bank records, for which a kit has no word, so they are left out. If one is
#   missing, this names a missing prescription too, and missing contact numbers if only adults lack them.
# custom:
#   level: warning
#   remedy: Copy the missing papers, and write them under documents of the item that holds them.
#   mend: {work: add, get: copies of papers}
#   sources:
#     - "FEMA, emergency supply lists of 2014 and 2022 (copies of identification, insurance and bank records); seen second-hand"
#     - "Medical papers: common practice, no source"
#   limits: [documents.copies, people.bag_months, people.alone_months]
#   caution: >-
#     Copies can be stolen and misused. Carry only what helps, cover numbers that nobody needs, and follow local law on
#     keeping the originals.
#   passes: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity", "insurance"], waterproof: true}
#   fails: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity"], waterproof: true}
finding.copies contains f if {
	some part in lib.parted(lib.missing_papers, {kind: _may_be([kind]) | some kind in lib.missing_papers})
	bare := {
		"at": _folder,
		"because": [paper.id | some paper in _folders],
		"text": sprintf("the household has no copy of these papers: %s", [lib.and_list(array.concat(part.keys, [kind | part.may == []; some kind in _also]))]),
	}
	f := lib.lack_any(bare, part.may)
}

_may_be(kinds) := lib.unrecorded_means(lib.anybody, "documents", kinds)

# What medication/prescription-copy and documents/contacts would say.
_also := array.concat(
	["prescriptions" | lib.unprescribed; _may_be(["prescription"]) == []],
	["contact numbers" | _numberless != []; _none_called],
)

# What holds papers that are needed. Where it is one thing, the missing ones belong there too.
_folders := [paper | some paper in input.papers; some d in paper.documents; d in lib.needed_papers]

_folder := input.household.id if count({paper.id | some paper in _folders}) != 1

_folder := _folders[0].id if count({paper.id | some paper in _folders}) == 1

# METADATA
# title: Everyone has contact numbers on paper
# description: >-
#   Few people know a number by heart, and a phone with an empty battery tells none. Each person old enough for a bag
#   carries the household's contacts on paper, in a pack or on the body; for someone who is never alone, those of the
#   people beside them count, and a child's tag counts up to the age at which they may be alone. It is a warning for a
#   child or a teenager, else a note; documents/copies says so if other papers are missing too.
# custom:
#   level: warning
#   remedy: Write the names and numbers on a card for each person named, and write contacts under documents of the card.
#   mend: {work: add, get: contact numbers on paper}
#   sources:
#     - "Contacts on paper: NYC Emergency Management, year not seen, seen in a copy of its own page; American Red Cross, 2020, and Prepare (UK), 2024, seen second-hand"
#     - "One list for each person, and the ages: common practice, no source"
#   limits: [people.bag_months, people.alone_months, documents.copies]
#   passes: |
#     packs: rust: compartments: lid: items: card: {mass: "5 g", documents: ["contacts"], waterproof: true}
#   fails: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity", "insurance"], waterproof: true}
finding.contacts contains f if {
	who := _numberless
	not _said_of_copies
	some part in lib.parted_people(who, {person.id: lib.unrecorded_means(lib.beside(person), "documents", ["contacts"]) | some person in who})
	bare := {
		"at": lib.stands_of(part.people),
		"because": [person.id | some person in part.people],
		"text": sprintf("no contact numbers on paper: %s", [lib.names(part.people)]),
		"level": _level([person | some person in part.people; not person.adult] != []),
	}
	f := lib.lack_any(bare, part.may)
}

_numberless := [person |
	some person in input.people
	lib.at_least(person, lib.limit("people", "bag_months"))
	not _has_numbers(person)
]

_said_of_copies if {
	lib.absent_papers != []
	_none_called
}

# No paper of the household has the numbers, and only adults lack them.
_none_called if {
	not "contacts" in lib.papers_held
	_may_be(["contacts"]) == []
	every person in _numberless { person.adult }
}

_has_numbers(person) if {
	some paper in input.papers
	"contacts" in paper.documents
	paper.carrier in lib.beside(person)
}

_has_numbers(child) if {
	lib.younger(child, lib.limit("people", "alone_months"))
	some o in lib.offers("identify")
	o.carrier == child.id
}

_level(true) := "warning"

_level(false) := "note"

# METADATA
# title: Papers and money stay dry
# description: >-
#   A river, a night of rain or a leaking bottle turns papers and notes into pulp. Papers and money in a pack are in
#   something that keeps water out. A wallet or a card on the body may get wet; so may maps, keys, and more money beside
#   some that stays dry. On foot, or where floods are a danger, it is a warning if nothing that documents/copies or
#   money/cash needs stays dry, else a note. While a copy is missing, documents/copies comes first.
# custom:
#   level: warning
#   remedy: >-
#     Put them into a waterproof bag or case, and mark it, or its compartment, waterproof. Write a liner as can: cover:
#     "liner" in the compartment that it lines.
#   mend: {work: move}
#   sources:
#     - "FEMA, emergency supply lists of 2014 and 2022 (records in a waterproof, portable container); seen second-hand"
#     - "Which papers, money, and on foot: common practice, no source"
#   limits: [documents.dry, documents.copies]
#   passes: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity", "insurance"], waterproof: true}
#   fails: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity", "insurance"]}
finding.dry contains f if {
	lib.missing_papers == []
	at_risk := {kind | some thing in _wet; some kind in thing.kinds; not kind in _dry}
	first := array.concat([thing | some thing in _wet; some kind in thing.kinds; kind in at_risk], _wet)[0]
	f := {
		"at": first.id,
		"because": [thing.id | some thing in _wet],
		"text": sprintf("%s would get wet: %s", [
			lib.and_list([replace(kind, "-", " ") | some kind in {kind | some thing in _wet; some kind in thing.kinds}]),
			lib.names(_wet),
		]),
		"level": _level(_danger_of_water([kind | some kind in at_risk; kind in array.concat(lib.needed_papers, ["money"])])),
	}
}

# What gets wet of the papers and the money that should stay dry. Notes dry again, so money only where none stays dry.
_wet := [thing |
	some paper in input.papers
	_soaked(paper)
	thing := {"id": paper.id, "name": paper.name, "kinds": {kind | some kind in _kinds(paper); not _spare_money(kind)}}
	thing.kinds != set()
]

_spare_money("money") if "money" in _dry

_soaked(paper) if {
	paper.pack != ""
	not paper.waterproof
}

# The kinds of which something stays dry, or is worn.
_dry := {kind | some paper in input.papers; not _soaked(paper); some kind in _kinds(paper)}

_kinds(paper) := {d | some d in paper.documents; d in lib.limit("documents", "dry")} | {"money" | paper.cash}

_danger_of_water([]) := false

_danger_of_water(kinds) := _on_foot if kinds != []

default _on_foot := false

_on_foot if input.plan.foot_mm > 0

_on_foot if "flood" in input.plan.hazards

# METADATA
# title: Keys are packed or in a pocket
# description: >-
#   People who leave in a hurry lock the door and may come back after dark, or have to move the car. The keys, or spare
#   ones, are in someone's pack or pocket.
# custom:
#   level: note
#   remedy: Put a spare set of house and car keys with the papers or in a pocket, and write keys under documents of what holds them.
#   mend: {work: add, get: keys}
#   sources:
#     - "House and car keys: NYC Emergency Management, year not seen, seen in a copy of its own page; American Red Cross, 2020, CAL FIRE, year not seen, and BBK (Germany), year not seen, seen second-hand"
#   limits: []
#   caution: Put no name or address on the keys.
#   passes: |
#     people: ana: onBody: keys: {mass: "50 g", documents: ["keys"]}
#   fails: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity"], waterproof: true}
finding.keys contains f if {
	not "keys" in lib.papers_held
	bare := {
		"at": input.household.id,
		"text": "the household has no keys packed or in a pocket",
	}
	f := lib.lack_any(bare, _may_be(["keys"]))
}
