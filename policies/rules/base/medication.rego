package rules.base.medication

import data.lib

# METADATA
# title: A week of each regular medication
# description: >-
#   Pharmacies close and prescriptions are lost when a valley is emptied. The usable doses
#   of everything taken daily, in the whole household, must last the days asked; expired
#   doses do not count, and medications taken only when needed are not asked.
# custom:
#   level: error
#   remedy: Pack the missing doses, and ask the prescriber or pharmacist for an extra supply.
#   sources:
#     - "American Red Cross, survival kit list, 7 days, 2020; seen second-hand"
#     - "CDC, prescriptions poster, 7 to 10 days, 2019; seen in a copy of its own file"
#     - "Civil Defence (New Zealand), an extra week; year not seen; seen in a copy of its own page"
#   limits: [medication.days]
#   caution: Never stretch, swap or share doses. The label, the prescriber and the pharmacist decide, also on storage.
#   passes: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 7}}
#   fails: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 6}}
finding.days contains f if {
	some med in input.medications
	not med.as_needed
	days := lib.limit("medication", "days")
	short := (med.per_day_milli * days) - med.usable_milli
	short > 0
	f := {
		"at": med.id,
		"because": med.items,
		"text": sprintf("%s (%s): usable doses packed %s; %s at %s a day take %s: %s too few%s", [
			med.name,
			_owner(med),
			lib.milli(med.usable_milli),
			lib.days(days),
			lib.milli(med.per_day_milli),
			lib.milli(med.per_day_milli * days),
			lib.milli(short),
			_unusable(med.doses_milli - med.usable_milli),
		]),
	}
}

_owner(med) := lib.and_list([p.name | some p in input.people; p.id == med.person])

_unusable(0) := ""

_unusable(milli) := sprintf("; past their date: %s", [lib.milli(milli)]) if milli > 0

# METADATA
# title: No medicine past its date
# description: >-
#   A medicine past its date may be weak or harmful, and the one in the pack is the one
#   nobody looks at. Every date of a medicine counts: the label's, the time since it was
#   opened or left the cold, and the day the family wants it exchanged. All packs and
#   everything on a body are asked.
# custom:
#   level: error
#   remedy: Exchange it with the supply at home, and write the new date.
#   sources:
#     - "FDA, do not use a medicine after its expiration date; year not seen; seen second-hand"
#     - "FDA, insulin in an emergency: 28 days out of the cold; year not seen; seen in a copy of its own page"
#     - "NYC Emergency Management: refill pack medicine before it expires; year not seen; seen in a copy of its own page"
#   limits: [medication.days_left]
#   caution: The label and the pharmacist decide, also on how to throw it away. Do not stop a needed medicine without asking.
#   passes: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", expires: "2027-09-30", medicine: {person: "ana", of: "thyroid", doses: 30}}
#   fails: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", expires: "2026-09-30", medicine: {person: "ana", of: "thyroid", doses: 30}}
finding.expired contains f if {
	least := lib.limit("medication", "days_left")
	some date in input.dates
	date.medicine
	date.days_left < least
	f := {"at": date.id, "text": lib.date_text(date, least)}
}
