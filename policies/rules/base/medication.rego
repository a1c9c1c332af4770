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
#   mend: {work: add}
#   sources:
#     - "American Red Cross, survival kit list, 7 days, 2020; seen second-hand"
#     - "CDC, prescriptions poster, 7 to 10 days, 2019; seen in a copy of its own file"
#     - "Civil Defence (New Zealand), an extra week; year not seen; seen in a copy of its own page"
#   limits: [medication.days]
#   lack: {what: doses of regular medications, unit: milli}
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
		"lack": short,
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
#   mend: {work: exchange}
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

# METADATA
# title: Some of each medication is with its owner
# description: >-
#   The week of doses helps nobody whose family was sent over the other bridge. Whoever bears
#   a pack has the first days of each regular medication in their own packs or pockets.
#   Bodies ask from one day to a month: a week is asked of the household by
#   medication/days, and of each owner the least that CDC was heard to name. People without
#   a pack are not asked, nor young children: an adult keeps theirs. Whoever is of unknown age
#   counts as grown.
# custom:
#   level: warning
#   remedy: Move some of the doses into the owner's pack or pockets, in their labelled package.
#   mend: {work: move}
#   sources:
#     - "CDC officer on television, 3 days at least, 7 better; year not seen; seen second-hand"
#     - "German Red Cross Brandenburg, 1 to 2 days in the pack, year not seen; American Red Cross medical kit, 1 month, from 2020; seen in copies of their own pages"
#     - "With the owner: common practice, no source"
#   limits: [medication.own_days, medication.own_months]
#   caution: Never stretch, swap or share doses. Keep doses in their labelled package; the label, the prescriber and the pharmacist decide.
#   passes: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 3}}
#   fails: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     people: ben: {age: "42 y", bodyMass: "80 kg", onBody: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 14}}}
finding.own_days contains f if {
	some med in input.medications
	not med.as_needed
	med.person_packs > 0
	not _too_young_to_own(med.person)
	days := lib.limit("medication", "own_days")
	short := (med.per_day_milli * days) - med.own_usable_milli
	short > 0
	f := {
		"at": med.id,
		"because": med.items,
		"text": sprintf("%s (%s): usable doses with %s %s; %s at %s a day take %s: %s too few", [
			med.name,
			med.person_name,
			med.person_name,
			lib.milli(med.own_usable_milli),
			lib.days(days),
			lib.milli(med.per_day_milli),
			lib.milli(med.per_day_milli * days),
			lib.milli(short),
		]),
	}
}

_young(id) if _below(id, lib.limit("medication", "child_months"))

_too_young_to_own(id) if _below(id, lib.limit("medication", "own_months"))

_below(id, months) if {
	some person in input.people
	person.id == id
	lib.younger(person, months)
}

# METADATA
# title: Two doses against a severe allergy
# description: >-
#   One dose may fail or not be enough, and help may be far. Where a severe allergy names
#   a medication, that many usable doses are with the person, in their packs or pockets; for
#   a person without a pack, who goes with others, all packs and pockets count.
# custom:
#   level: error
#   remedy: Pack the missing doses with the person, and ask the prescriber or pharmacist for a second one.
#   mend: {work: add}
#   sources:
#     - "common practice, no source"
#   limits: [medication.allergy_doses]
#   caution: >-
#     How many doses, which and when is for the prescriber; the written plan for the
#     allergy comes first. Call for help even where a dose has worked.
#   passes: |
#     people: ana: {allergies: nuts: {severe: true, medication: "pen"}, medications: pen: {name: "adrenaline pen", asNeeded: true}}
#     packs: rust: compartments: lid: items: pen: {count: 2, mass: "60 g", medicine: {person: "ana", of: "pen", doses: 1}}
#   fails: |
#     people: ana: {allergies: nuts: {severe: true, medication: "pen"}, medications: pen: {name: "adrenaline pen", asNeeded: true}}
#     packs: rust: compartments: lid: items: pen: {mass: "60 g", medicine: {person: "ana", of: "pen", doses: 1}}
finding.allergy_twice contains f if {
	some allergy in input.allergies
	allergy.severe
	some med in input.medications
	med.id == allergy.medication
	place := _dose_place(med)
	asked := lib.limit("medication", "allergy_doses") * 1000
	short := asked - place.milli
	short > 0
	f := {
		"at": allergy.id,
		"because": med.items,
		"text": sprintf("%s's severe allergy (%s): usable doses of %s %s %s; %s asked: %s too few", [
			med.person_name,
			allergy.key,
			med.name,
			place.words,
			lib.milli(place.milli),
			lib.milli(asked),
			lib.milli(short),
		]),
	}
}

_dose_place(med) := {"words": sprintf("with %s", [med.person_name]), "milli": med.own_usable_milli} if med.person_packs > 0

_dose_place(med) := {"words": "with people", "milli": med.people_usable_milli} if med.person_packs == 0

# METADATA
# title: A severe allergy names its medication
# description: >-
#   An allergy that can threaten life is written down so that somebody acts in time. What
#   is taken against it must be named, or nobody can count whether it is packed. Other
#   allergies are not asked, nor those to a medicine, which one simply does not take.
# custom:
#   level: warning
#   remedy: >-
#     Write the medication under the person's medications and name it at the allergy; where
#     none is prescribed, ask the practitioner.
#   mend: {work: write}
#   sources:
#     - "CDC, prescriptions poster, a list that names allergies beside doses, 2019; seen in a copy of its own file"
#     - "Naming it at the allergy: common practice, no source"
#   limits: []
#   caution: Whether and what to take is for a licensed practitioner. Some severe allergies have no medication to carry.
#   passes: |
#     people: ana: {allergies: nuts: {severe: true, medication: "pen"}, medications: pen: {name: "adrenaline pen", asNeeded: true}}
#   fails: |
#     people: ana: allergies: nuts: severe: true
finding.allergy_named contains f if {
	some allergy in input.allergies
	allergy.severe
	allergy.to != "medicine"
	allergy.medication == ""
	f := {
		"at": allergy.id,
		"text": sprintf("%s's severe allergy (%s) names no medication; 1 is asked: 1 too few", [allergy.person_name, allergy.key]),
	}
}

# METADATA
# title: A cold medicine's days can be counted
# description: >-
#   A medicine that must be kept cold lasts only so long once it is out, so the day it left
#   the cold must be written or the medicine stay in the cold until the household leaves.
#   All packs and everything on a body are asked; medicines that need no cold are not.
# custom:
#   level: error
#   remedy: >-
#     Mark it lastMinute and leave it in the refrigerator until you go, or write the day it
#     came out as outOfCold.
#   mend: {work: write}
#   sources:
#     - "FDA, insulin in an emergency: up to 28 days at 15 to 30 °C, never once frozen; year not seen; seen in a copy of its own page"
#     - "For other medicines: common practice, no source; the label decides"
#   limits: []
#   caution: >-
#     The 28 days are those of insulin; other medicines may keep less. The label and the
#     pharmacist decide. Do not use what was frozen or hot, and do not stop a needed
#     medicine without asking.
#   passes: |
#     people: ana: medications: insulin: {name: "insulin", perDay: 2, coldChain: true}
#     packs: rust: compartments: lid: items: pens: {mass: "60 g", lastMinute: true, medicine: {person: "ana", of: "insulin", doses: 30}}
#   fails: |
#     people: ana: medications: insulin: {name: "insulin", perDay: 2, coldChain: true}
#     packs: rust: compartments: lid: items: pens: {mass: "60 g", medicine: {person: "ana", of: "insulin", doses: 30}}
finding.cold_chain contains f if {
	some medicine in input.medicines
	medicine.cold_chain
	not medicine.last_minute
	not medicine.out_of_cold_known
	f := {
		"at": medicine.id,
		"text": sprintf("%s must be kept cold and is packed, but no day is written on which it left the cold: its days cannot be counted", [medicine.name]),
	}
}

# METADATA
# title: Each medicine has its last day written
# description: >-
#   A medicine without a date is never found to be past it. The last day by the label is
#   written for each, in all packs and on every body. First-aid contents are not asked.
# custom:
#   level: warning
#   remedy: Read the label's last day and write it as expires.
#   mend: {work: write}
#   sources:
#     - "FDA, do not use a medicine after its expiration date; year not seen; seen second-hand"
#     - "Writing it down: common practice, no source"
#   limits: []
#   caution: Where the label's date is gone, ask the pharmacist and do not guess.
#   passes: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", expires: "2027-09-30", medicine: {person: "ana", of: "thyroid", doses: 30}}
#   fails: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 30}}
finding.dated contains f if {
	some medicine in input.medicines
	not medicine.dated
	f := {"at": medicine.id, "text": sprintf("%s has no last day written", [medicine.name])}
}

# METADATA
# title: A medicine lasts through the plan
# description: >-
#   A medicine that is good on the day of leaving and past its date on the second day is
#   missing when it is needed. Every last day of a medicine is set against the whole plan,
#   as if the household left on the audit day. What is already past its date is left to
#   medication/expired; the family's own day of exchange is not asked, nor a plan without
#   a duration.
# custom:
#   level: warning
#   remedy: Exchange it with a fresh supply, and write the new date.
#   mend: {work: exchange}
#   sources:
#     - "FDA, do not use a medicine after its expiration date; year not seen; seen second-hand"
#     - "NYC Emergency Management: refill pack medicine before it expires; year not seen; seen in a copy of its own page"
#   limits: [medication.days_left]
#   caution: The label and the pharmacist decide. Do not stop a needed medicine without asking.
#   passes: |
#     plan: duration: "72 h"
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", expires: "2026-11-04", medicine: {person: "ana", of: "thyroid", doses: 30}}
#   fails: |
#     plan: duration: "72 h"
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", expires: "2026-11-03", medicine: {person: "ana", of: "thyroid", doses: 30}}
finding.within_plan contains f if {
	some date in input.dates
	date.medicine
	date.kind != "rotate"
	date.days_left >= lib.limit("medication", "days_left")
	date.days_left * lib.day_min < input.plan.minutes
	f := {"at": date.id, "text": lib.date_text(date, lib.up(input.plan.minutes, lib.day_min))}
}

# METADATA
# title: A copy of the prescriptions is packed
# description: >-
#   A pharmacist or doctor who does not know you can replace what was lost when the
#   prescription or the list of medications lies before them. One paper with it, anywhere in
#   the household, is enough. Households where nobody takes anything daily are not asked.
# custom:
#   level: note
#   remedy: Copy the prescriptions or the list with doses, and write prescription under the documents of the item.
#   mend: {work: add}
#   sources:
#     - "CDC, prescriptions poster, an up-to-date list with dose, generic name and allergies, 2019; seen in a copy of its own file"
#     - "German Red Cross Brandenburg, the medication plan; year not seen; seen in a copy of its own page"
#   limits: []
#   caution: Such papers are private; keep them waterproof and close. The pharmacist and local rules decide what is handed out.
#   passes: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: papers: {mass: "30 g", documents: ["identity", "prescription"]}
#   fails: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: papers: {mass: "30 g", documents: ["identity"]}
finding.prescription_copy contains f if {
	regular := [med | some med in input.medications; not med.as_needed]
	count(regular) > 0
	not _prescription_packed
	takers := {med.person_name | some med in regular}
	f := {
		"at": input.household.id,
		"because": [med.id | some med in regular],
		"text": sprintf("medication is taken daily (%s) and no paper holds a prescription; 1 is asked: 1 too few", [lib.and_list(sort(takers))]),
	}
}

_prescription_packed if {
	some paper in input.papers
	"prescription" in paper.documents
}

# METADATA
# title: Spare glasses
# description: >-
#   Whoever cannot see well cannot read a label, follow a path or find the others, and glasses
#   break in a fall. A person who needs glasses or lenses has a spare in a pack: their own in any
#   pack, or one without an owner in a pack they bear. What is worn or pocketed is not
#   counted, since the pair on the nose is written there too.
# custom:
#   level: warning
#   remedy: Put an old pair in a hard case into the pack, with owner and the capability see.
#   mend: {work: add, thing: see}
#   sources:
#     - "Ready.gov/FEMA 2022 (additional items), the American Red Cross 2020 and CAL FIRE (year not seen) list glasses; seen second-hand"
#     - "NYC Emergency Management lists them too; year not seen; seen in a copy of its own page"
#     - "A spare pair in a pack: common practice, no source"
#   limits: [medication.glasses]
#   caution: An old pair helps only if its strength is still near; ask the optician.
#   passes: |
#     people: ana: glasses: true
#     packs: rust: compartments: lid: items: spare: {mass: "60 g", can: see: "glasses"}
#   fails: |
#     people: ana: {glasses: true, onBody: worn: {mass: "30 g", can: see: "glasses"}}
finding.spare_glasses contains f if {
	some person in input.people
	person.glasses
	spares := [o | some o in lib.offers("see"); o.pack != ""; _serves(o, person)]
	asked := lib.limit("medication", "glasses")
	short := asked - lib.pieces(spares)
	short > 0
	f := {
		"at": sprintf("%s/glasses", [person.id]),
		"because": [o.id | some o in spares],
		"text": sprintf("%s needs glasses and has %s in a pack; %d asked: %d too few", [
			person.name,
			lib.many(lib.pieces(spares), "spare pair", "spare pairs"),
			asked,
			short,
		]),
	}
}

_serves(offer, person) if offer.owner == person.id

_serves(offer, person) if {
	offer.owner == ""
	offer.carrier == person.id
}

# METADATA
# title: No medicine within a young child's reach
# description: >-
#   A young child alone with a pack may take tablets for sweets. Medicines and the pain
#   relief of a first-aid kit are kept by somebody older. What is named at one of the
#   child's own allergies stays with the child, and from school age on the child's own that is
#   taken when needed, such as an inhaler. Children of
#   unknown age are not asked.
# custom:
#   level: warning
#   remedy: Move it into an adult's pack or pockets, in a box that a child cannot open.
#   mend: {work: move}
#   sources:
#     - "CDC, prescriptions poster, a waterproof and childproof box, 2019; seen in a copy of its own file"
#     - "The age and the exception: common practice, no source"
#   limits: [medication.child_months, medication.self_months]
#   caution: >-
#     What a child may keep and take alone is for the parents and the practitioner to say.
#     If a child has swallowed a medicine, call the poison service or the emergency number.
#   passes: |
#     people: {ana: medications: thyroid: perDay: 1, mia: {age: "9 y", bodyMass: "30 kg"}}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 7}}
#   fails: |
#     people: {ana: medications: thyroid: perDay: 1, mia: {age: "9 y", bodyMass: "30 kg"}}
#     packs: kite: {carrier: "mia", mass: "500 g", compartments: top: {reach: "walking", items: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 7}}}}
finding.child_reach contains f if {
	some f in (_in_reach | _pain_relief)
}

_in_reach contains f if {
	some medicine in input.medicines
	some child in input.people
	child.id == medicine.carrier
	_young(child.id)
	not _emergency(medicine, child)
	f := {"at": medicine.id, "text": sprintf("%s is with %s, who is %s", [medicine.name, child.name, _too_young(child)])}
}

_pain_relief contains f if {
	some child in input.people
	_young(child.id)
	some content in child.alone.first_aid
	content.kind == "painRelief"
	content.count > 0
	f := {"at": child.id, "text": sprintf("pain relief (%d) is with %s, who is %s", [content.count, child.name, _too_young(child)])}
}

_emergency(medicine, child) if {
	medicine.person == child.id
	not lib.younger(child, lib.limit("medication", "self_months"))
	some med in input.medications
	med.id == medicine.medication
	med.as_needed
}

_emergency(medicine, child) if {
	some allergy in input.allergies
	allergy.person == child.id
	allergy.medication == medicine.medication
}

_too_young(child) := sprintf("%s old; %s are asked: %s too few", [
	lib.age(child.age_months),
	lib.age(lib.limit("medication", "child_months")),
	lib.age(lib.limit("medication", "child_months") - child.age_months),
])

# METADATA
# title: What is taken when needed is along
# description: >-
#   A medicine that is taken only when needed is needed at the worst hour. At least one usable
#   dose of each is with people; what hangs on an animal runs away with it.
# custom:
#   level: warning
#   remedy: Pack a dose with whoever takes it, or take it out of the list where it is no longer prescribed.
#   mend: {work: add}
#   sources:
#     - "CDC, prescriptions poster, all that is prescribed, 2019; seen in a copy of its own file"
#     - "One dose at least: common practice, no source"
#   limits: []
#   caution: How much to have along is for the label, the prescriber and the pharmacist to say.
#   passes: |
#     people: ana: medications: spray: {name: "relief inhaler", asNeeded: true}
#     packs: rust: compartments: lid: items: spray: {mass: "30 g", medicine: {person: "ana", of: "spray", doses: 100}}
#   fails: |
#     people: ana: medications: spray: {name: "relief inhaler", asNeeded: true}
finding.when_needed contains f if {
	some med in input.medications
	med.as_needed
	med.people_usable_milli == 0
	f := {
		"at": med.id,
		"because": med.items,
		"text": sprintf("%s (%s) is taken when needed, and no usable dose of it is with people", [med.name, med.person_name]),
	}
}

# METADATA
# title: How long a cold medicine keeps out of the cold is written
# description: >-
#   Where a family writes nothing, the 28 days are taken that the FDA allows insulin. Other
#   medicines may keep for hours only, and insulin that was diluted or put into another
#   container two weeks. The label knows.
# custom:
#   level: warning
#   remedy: "Read the label, or ask the pharmacist, and write coldLife at the medication, such as \"28 d\"."
#   mend: {work: write}
#   sources:
#     - "FDA, insulin in an emergency: 28 days at 15 to 30 °C, two weeks once diluted or repacked; year not seen; seen in a copy of its own page"
#   limits: []
#   caution: The label and the pharmacist decide. Do not use what was frozen or hot.
#   passes: |
#     people: ana: medications: insulin: {name: "insulin", perDay: 2, coldChain: true, coldLife: "28 d"}
#   fails: |
#     people: ana: medications: insulin: {name: "insulin", perDay: 2, coldChain: true}
finding.cold_life contains f if {
	some med in input.medications
	med.cold_chain
	not med.cold_life_known
	f := {
		"at": med.id,
		"text": sprintf("%s (%s) must be kept cold, and how long its label allows it out of the cold is not written", [med.name, med.person_name]),
	}
}

# METADATA
# title: A cold medicine is kept from frost
# description: >-
#   Insulin that was frozen must not be used, and one cannot see it. On nights of frost a
#   medicine of the cold chain is carried on the body, under the clothes, not in a pack.
# custom:
#   level: warning
#   remedy: Carry it on the body, in an inner pocket, and write it under onBody.
#   mend: {work: move}
#   sources:
#     - "FDA, insulin in an emergency: never once frozen; year not seen; seen in a copy of its own page"
#     - "On the body: common practice, no source"
#   limits: [medication.frost_night]
#   caution: The label and the pharmacist decide. Do not use what was frozen or hot, and do not stop a needed medicine without asking.
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "3 °C", night: "-4 °C", daylight: "9 h"}}
#     people: ana: medications: insulin: {name: "insulin", perDay: 2, coldChain: true}
#     people: ana: onBody: pens: {mass: "60 g", lastMinute: true, medicine: {person: "ana", of: "insulin", doses: 30}}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "3 °C", night: "-4 °C", daylight: "9 h"}}
#     people: ana: medications: insulin: {name: "insulin", perDay: 2, coldChain: true}
#     packs: rust: compartments: lid: items: pens: {mass: "60 g", lastMinute: true, medicine: {person: "ana", of: "insulin", doses: 30}}
finding.frost contains f if {
	input.plan.season_known
	input.plan.night_mc <= lib.limit("medication", "frost_night")
	some medicine in input.medicines
	medicine.cold_chain
	medicine.reach != "on-body"
	f := {
		"at": medicine.id,
		"text": sprintf("%s must not freeze, nights are %s, and it is in a pack", [medicine.name, lib.celsius(input.plan.night_mc)]),
	}
}
