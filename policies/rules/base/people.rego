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
