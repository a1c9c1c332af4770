package rules.base.pregnancy

import data.lib

# METADATA
# title: Maternity notes are packed
# description: >-
#   A hospital that does not know the mother decides by what is on paper. From the first examination in a pregnancy on, the
#   maternity notes or a copy are packed, and from the eighth month a birth kit with clothes for the child. If the due date
#   is not recorded, a note says so, and whether the notes are packed.
# custom:
#   level: warning
#   remedy: "Pack the maternity notes, with documents: [\"maternity\"], and a birth kit, with can: care: \"birth-kit\"; write the nearest open hospitals on the card."
#   mend: {work: add, get: maternity notes}
#   sources:
#     - "Maternity notes are made at the first visit, by the tenth week, and are to be taken along everywhere: NHS, from memory"
#     - "A birth kit, and from when: common practice, no source"
#   limits: [pregnancy.papers_days, pregnancy.birth_days]
#   caution: Ask the midwife or doctor what belongs in the kit and whether to leave early. Call for help as soon as labour begins.
#   passes: |
#     people: ana: pregnant: due: "2027-02-01"
#     packs: rust: compartments: lid: items: notes: {mass: "90 g", documents: ["maternity"]}
#   fails: |
#     people: ana: pregnant: due: "2027-02-01"
finding.papers contains f if {
	some person in input.people
	person.pregnant
	person.due_known
	lacks := array.concat(
		["maternity notes" | _within(person, lib.limit("pregnancy", "papers_days")); not _notes],
		["birth kit" | _within(person, lib.limit("pregnancy", "birth_days")); not _birth_kit],
	)
	f := {
		"at": lib.stands(person),
		"because": [person.id],
		"text": sprintf("%s is due %s, and no %s packed", [person.name, lib.in_days(_left(person)), _are(lacks)]),
	}
}

finding.papers contains f if {
	some person in input.people
	person.pregnant
	not person.due_known
	f := {
		"at": person.id,
		"because": [],
		"level": "note",
		"text": sprintf("the due date of %s is not recorded%s", [person.name, _nor_notes]),
	}
}

_nor_notes := "" if _notes

_nor_notes := ", and no maternity notes are packed" if not _notes

_left(person) := max([0, person.due_days])

_within(person, days) if _left(person) <= days

_notes if {
	some paper in input.papers
	"maternity" in paper.documents
}

_birth_kit if {
	some o in lib.offers("care")
	o.means == "birth-kit"
}

_are([one]) := sprintf("%s is", [one]) if one == "birth kit"

_are([one]) := sprintf("%s are", [one]) if one != "birth kit"

_are(lacks) := sprintf("%s are", [concat(" and no ", lacks)]) if count(lacks) > 1
