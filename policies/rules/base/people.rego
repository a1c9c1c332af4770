package rules.base.people

import data.lib

# METADATA
# title: Everyone who carries nothing has a named companion
# description: >-
#   Someone who carries nothing has only what the people beside them have. Agree beforehand who that is and who takes over,
#   and write it under with; until then the things of the whole household count for them. Small children, people who are
#   carried and households of one or two are left out.
# custom:
#   level: note
#   remedy: "Write under with who is always beside this person, if possible two people, such as with: [\"ana\", \"ben\"]."
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: [people.bag_months]
#   passes: |
#     people: {
#     	ben: {age: "50 y", bodyMass: "70 kg"}
#     	ruth: {age: "80 y", bodyMass: "60 kg", carries: false, with: ["ana"]}
#     }
#   fails: |
#     people: {
#     	ben: {age: "50 y", bodyMass: "70 kg"}
#     	ruth: {age: "80 y", bodyMass: "60 kg", carries: false}
#     }
finding.beside contains f if {
	some person in input.people
	count([other | some other in input.people; other.id != person.id]) > 1
	not person.carries
	person.carried_by == ""
	person.with == []
	lib.at_least(person, lib.limit("people", "bag_months"))
	f := {
		"at": sprintf("%s/carries", [person.id]),
		"text": sprintf("%s carries nothing, and who is always beside them is not recorded", [person.name]),
	}
}

# METADATA
# title: People who may be unable to speak wear medical identification
# description: >-
#   After a seizure nobody can ask, and helpers look at wrist and neck first. Someone with such a condition wears a bracelet or a tag. Of small children children/identity speaks.
# custom:
#   level: note
#   remedy: "Get a bracelet or a tag that names the illness and the medication, wear it, and write can: identify: \"id-bracelet\" under onBody."
#   mend: {work: add, thing: identify, get: medical identification}
#   sources:
#     - "common practice, no source"
#   limits: [people.speechless, people.bag_months]
#   caution: What it says is for the doctor who treats the illness; some people rather keep it in the purse.
#   passes: |
#     people: ana: {conditions: ["seizures"], onBody: band: {mass: "8 g", can: identify: "id-bracelet"}}
#   fails: |
#     people: ana: conditions: ["seizures"]
finding.identity contains f if {
	without := [p |
		some p in input.people
		lib.at_least(p, lib.limit("people", "bag_months"))
		_speechless(p)
		not _labelled(p)
	]
	some part in lib.parted_people(without, {p.id: [t | some t in lib.unrecorded_means({p.id}, "identify", ["id-bracelet", "name-tag"]); t.pack == ""] | some p in without})
	bare := {
		"at": part.people[0].id,
		"because": [p.id | some p in part.people],
		"text": sprintf("no bracelet or tag says what helpers must know of %s", [lib.names(part.people)]),
	}
	f := lib.lack_any(bare, part.may)
}

_speechless(person) if {
	some condition in person.conditions
	condition in lib.limit("people", "speechless")
}

_labelled(person) if {
	some o in lib.offers("identify")
	o.person == person.id
	o.means in {"id-bracelet", "name-tag"}
}
