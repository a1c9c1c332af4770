package rules.base.medication

import data.lib

# METADATA
# title: Enough days of each regular medication are packed
# description: >-
#   Pharmacies close and prescriptions get lost when a valley is evacuated. The usable doses of everything taken daily, in
#   the whole household, last a week, or the plan if that is longer. Less than the plan or the first days is an error, less
#   than the week a warning. Expired doses do not count; if only their dates are the problem, medication/expired says so.
#   Medications taken only when needed have rules of their own.
# custom:
#   level: error
#   remedy: Pack the missing doses, and ask the prescriber or pharmacist for an extra supply.
#   mend: {work: add, get: regular medication}
#   sources:
#     - "American Red Cross, survival kit list, 7 days, 2020; seen second-hand"
#     - "CDC, prescriptions poster, 7 to 10 days, 2019; seen in a copy of its own file"
#     - "Civil Defence (New Zealand), an extra week; year not seen; seen in a copy of its own page"
#     - "Greenough 2008, Ann Emerg Med 51:426: of evacuees with a chronic disease 48.4 % lacked medication; seen in a copy of its abstract"
#   limits: [medication.days, medication.sure_days]
#   lack: {what: doses of regular medications, unit: milli}
#   caution: Never stretch, swap or share doses. The label, the prescriber and the pharmacist decide, also on storage. If you may not have more, ask for a note that says so.
#   passes: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 7}}
#   fails: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 6}}
finding.days contains f if {
	some med in input.medications
	med.id in _short
	short := _need(med) - med.usable_milli
	bare := {
		"at": _first(_usable(med), med.id),
		"because": array.concat([med.id], med.items),
		"text": sprintf("%s has %s of %s and needs %s (%s a day for %s): %s short%s", [
			med.person_name,
			_doses(med.usable_milli),
			med.name,
			lib.milli(_need(med)),
			lib.milli(med.per_day_milli),
			_how_long(med),
			lib.milli(short),
			_past(med.doses_milli - med.usable_milli),
		]),
		"lack": short,
		"level": _short_level(med),
	}
	f := lib.lack_any(bare, lib.unrecorded_medicine(med))
}

# Regular medications of which the household has too little, in date or not.
_short := {med.id |
	some med in input.medications
	not med.as_needed
	_need(med) > med.doses_milli
}

_need(med) := max([med.per_day_milli * lib.limit("medication", "days"), _for_plan(med)])

_for_plan(med) := lib.up(med.per_day_milli * input.plan.minutes, lib.day_min)

_how_long(med) := lib.days(lib.limit("medication", "days")) if med.per_day_milli * lib.limit("medication", "days") >= _for_plan(med)

_how_long(med) := sprintf("the plan of %s", [lib.hours(input.plan.minutes)]) if {
	med.per_day_milli * lib.limit("medication", "days") < _for_plan(med)
}

_short_level(med) := "error" if {
	med.usable_milli < max([med.per_day_milli * lib.limit("medication", "sure_days"), _for_plan(med)])
} else := "warning"

# The medicines that are usable doses of a medication.
_usable(med) := [m.id | some m in input.medicines; m.medication == med.id; m.usable]

_first(list, _) := list[0] if list != []

_first([], otherwise) := otherwise

_doses(milli) := sprintf("%s usable doses", [lib.milli(milli)]) if not milli in {0, 1000}

_doses(0) := "no usable dose"

_doses(1000) := "1 usable dose"

_past(0) := ""

_past(milli) := sprintf("; %s more past their date", [lib.milli(milli)]) if milli > 0

# METADATA
# title: No medicine is past its date
# description: >-
#   A medicine past its date may be weak or harmful, and nobody looks at the one in the pack. Every date of a medicine
#   counts: the label's, the time since it was opened or left the cold, and the day the family wants it replaced. For a
#   medicine that is taken daily or must be at hand at once it is an error, for others a warning.
# custom:
#   level: error
#   remedy: Replace it with the supply at home, and write the new date.
#   mend: {work: exchange, get: medicine in date}
#   sources:
#     - "FDA, do not use a medicine after its expiration date; year not seen; seen second-hand"
#     - "FDA, insulin in an emergency: 28 days out of the cold; year not seen; seen in a copy of its own page"
#     - "NYC Emergency Management: refill pack medicine before it expires; year not seen; seen in a copy of its own page"
#   limits: [medication.days_left, medication.rescue_words, medication.allergy_doses, medication.self_months, people.bag_months]
#   caution: The label and the pharmacist decide, also on how to dispose of it. Do not stop a needed medicine without asking.
#   passes: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", expires: "2027-09-30", medicine: {person: "ana", of: "thyroid", doses: 30}}
#   fails: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", expires: "2026-09-30", medicine: {person: "ana", of: "thyroid", doses: 30}}
finding.expired contains f if {
	least := lib.limit("medication", "days_left")
	some date in _dates
	date.days_left < least
	not _said_of_allergy(date)
	f := {"at": date.id, "text": lib.date_text(date, least), "level": _expired_level(date)}
}

_dates := [date | some date in input.dates; date.medicine]

# medication/allergy-twice says it: the doses would be too few in date as well.
_said_of_allergy(date) if {
	date.kind != "rotate"
	some medicine in input.medicines
	medicine.id == date.item
	not medicine.usable
	medicine.medication in {lack.med.id | some lack in _allergy_lacks}
}

_expired_level(date) := "error" if {
	date.kind != "rotate"
	some medicine in input.medicines
	medicine.id == date.item
	some med in input.medications
	med.id == medicine.medication
	_vital(med)
} else := "warning"

# What someone takes daily, or must have at once.
_vital(med) if not med.as_needed

_vital(med) if med.id in _rescue

# Medications that must be at hand within a minute: as written, named at a severe allergy, or, of those taken when needed, by their name.
_rescue := {med.id |
	some med in input.medications
	_must_be_at_hand(med)
}

_must_be_at_hand(med) if med.rescue

_must_be_at_hand(med) if {
	some allergy in input.allergies
	allergy.severe
	allergy.medication == med.id
}

_must_be_at_hand(med) if {
	not med.rescue_known
	med.as_needed
	_named(med, lib.limit("medication", "rescue_words"))
}

_named(med, words) if {
	name := lower(med.name)
	some word in words
	contains(name, word)
}

# METADATA
# title: Everyone carries the first days of their own medication
# description: >-
#   A week of doses is no help if the family was sent over the other bridge. Everyone old enough has the first days of each
#   regular medication in their own packs or pockets. For a child, the people recorded as always beside the child have
#   them; if nobody is recorded, this is not judged. For a plan of one day the doses of a day are enough. If the household
#   as a whole is short, medication/days says so.
# custom:
#   level: warning
#   remedy: Move some of the doses into the owner's pack or pockets, in their labelled package.
#   mend: {work: move}
#   sources:
#     - "CDC officer on television, 3 days at least, 7 better; year not seen; seen second-hand"
#     - "German Red Cross Brandenburg, 1 to 2 days in the pack, year not seen; American Red Cross medical kit, 1 month, from 2020; seen in copies of their own pages"
#     - "With the owner: common practice, no source"
#   limits: [medication.days, medication.own_days, medication.own_months, people.bag_months, medication.rescue_words]
#   caution: Never stretch, swap or share doses. Keep doses in their labelled package; the label, the prescriber and the pharmacist decide.
#   passes: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 7}}
#   fails: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     people: ben: {age: "42 y", bodyMass: "80 kg", onBody: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 14}}}
finding.own_days contains f if {
	some med in input.medications
	not med.as_needed
	not med.id in _short
	some person in input.people
	person.id == med.person
	_has_own(person)
	need := med.per_day_milli * _own_days
	med.usable_milli >= need
	have := _held(med, lib.beside(person))
	have < need
	not _said_of_rescue(med, have)
	bare := {
		"at": _first(_elsewhere(med, lib.beside(person)), med.id),
		"because": array.concat([med.id], med.items),
		"text": sprintf("%s %s of %s, and %s needed (%s a day for %s); others carry the rest", [
			lib.carries(person),
			_doses(have),
			med.name,
			_are(need),
			lib.milli(med.per_day_milli),
			lib.days(_own_days),
		]),
	}
	f := lib.lack_any(bare, _may_have(med, lib.beside(person)))
}

# Medicine that is not recorded and may be this one, with these people.
_may_have(med, people) := [thing | some thing in lib.unrecorded_medicine(med); thing.carrier in people]

# medication/rescue-on-owner says it.
_said_of_rescue(med, 0) if med.id in _rescue

_has_own(person) if lib.at_least(person, lib.limit("medication", "own_months"))

_has_own(person) if person.with != []

_own_days := 1 if {
	input.plan.minutes_known
	input.plan.minutes <= lib.day_min
} else := lib.limit("medication", "own_days")

# Usable doses of a medication that some people carry, in thousandths.
_held(med, people) := sum([m.doses_milli | some m in input.medicines; m.medication == med.id; m.usable; m.carrier in people])

_elsewhere(med, people) := [m.id | some m in input.medicines; m.medication == med.id; m.usable; not m.carrier in people]

_are(1000) := "1 is"

_are(milli) := sprintf("%s are", [lib.milli(milli)]) if milli != 1000

# METADATA
# title: Vital medication is not all in one pack
# description: >-
#   A pack can be lost, stolen or left in a jam, and a person who depends on a medicine has none. A medication without which
#   someone is in danger within days, such as insulin, is not all in one pack if another adult could carry some. If all of
#   it is in the owner's own pack it is a note. If the first days are not with the owner, medication/own-days says so.
# custom:
#   level: warning
#   remedy: Share the doses between two people, each part in its labelled package, as cool as it must be kept, and with what is needed to give it.
#   mend: {work: move}
#   sources:
#     - "Advice of diabetes associations for travellers, insulin shared out over two bags; from memory"
#     - "Which medications, and with whom: common practice, no source"
#   limits: [medication.vital_words, medication.insulin_words, medication.days, medication.own_days, people.alone_months, people.bag_months]
#   caution: Keep doses in their labelled package; the label, the prescriber and the pharmacist decide, also on storage.
#   passes: |
#     people: ana: medications: insulin: {name: "insulin", perDay: 2}
#     people: ben: {age: "42 y", bodyMass: "80 kg", onBody: pen: {mass: "30 g", medicine: {person: "ana", of: "insulin", doses: 10}}}
#     packs: rust: compartments: lid: items: pens: {mass: "60 g", medicine: {person: "ana", of: "insulin", doses: 20}}
#   fails: |
#     people: ana: medications: insulin: {name: "insulin", perDay: 2}
#     people: ben: {age: "42 y", bodyMass: "80 kg"}
#     packs: rust: compartments: lid: items: pens: {mass: "60 g", medicine: {person: "ana", of: "insulin", doses: 30}}
finding.one_pack contains f if {
	some person in input.people
	some pack in input.packs
	meds := [med |
		some med in input.medications
		med.person == person.id
		_only_in(med, person, pack)
	]
	doses := [m.id | some med in meds; some m in input.medicines; m.medication == med.id]
	first := doses[0]
	others := [p |
		some p in input.people
		p.id != pack.carrier
		lib.at_least(p, lib.limit("people", "alone_months"))
	]
	others != []
	f := {
		"at": first,
		"because": array.concat([med.id | some med in meds], doses),
		"text": sprintf("all %s for %s is in one pack, and %s could carry some", [
			lib.names(meds),
			person.name,
			lib.names(others),
		]),
		"level": _one_pack_level(pack.carrier, person.id),
	}
}

# All usable doses of what someone lives by are in this pack, as far as medication/own-days has nothing to say.
_only_in(med, person, pack) if {
	not med.as_needed
	not med.id in _short
	_life(med)
	_held(med, lib.beside(person)) >= med.per_day_milli * _own_days
	{m.pack | some m in input.medicines; m.medication == med.id; m.usable} == {pack.id}
}

_life(med) if _insulin(med)

_life(med) if _named(med, lib.limit("medication", "vital_words"))

_one_pack_level(id, id) := "note"

_one_pack_level(carrier, id) := "warning" if carrier != id

# METADATA
# title: Medication for a severe allergy is with the person
# description: >-
#   One dose may fail or not be enough, and help may be far. If a severe allergy names a medication, enough usable doses are
#   with the person, in their packs or pockets; for a young child and for a dependant, with the people beside them.
# custom:
#   level: error
#   remedy: Pack the missing doses with the person, and ask the prescriber or pharmacist for a second one.
#   mend: {work: add, get: medication for a severe allergy}
#   sources:
#     - "common practice, no source"
#   limits: [medication.allergy_doses, medication.self_months, people.bag_months]
#   caution: >-
#     How many doses, which and when is for the prescriber; the written plan for the allergy comes first. Call for help even
#     if a dose has worked.
#   passes: |
#     people: ana: {allergies: nuts: {severe: true, medication: "pen"}, medications: pen: {name: "adrenaline pen", asNeeded: true}}
#     packs: rust: compartments: lid: items: pen: {count: 2, mass: "60 g", medicine: {person: "ana", of: "pen", doses: 1}}
#   fails: |
#     people: ana: {allergies: nuts: {severe: true, medication: "pen"}, medications: pen: {name: "adrenaline pen", asNeeded: true}}
#     packs: rust: compartments: lid: items: pen: {mass: "60 g", medicine: {person: "ana", of: "pen", doses: 1}}
finding.allergy_twice contains f if {
	some lack in _allergy_lacks
	bare := {
		"at": _first(_elsewhere(lack.med, lack.keepers), _first(_usable(lack.med), lack.allergy.id)),
		"because": array.concat([lack.allergy.id], lack.med.items),
		"text": sprintf("%s needs %s of %s at hand for a severe allergy (%s) and has %s%s%s", [
			lack.med.person_name,
			lib.many(lack.need, "dose", "doses"),
			lack.med.name,
			lack.allergy.key,
			_doses(lack.have),
			_others_have(lack.med.usable_milli - lack.have),
			_past(lack.med.doses_milli - lack.med.usable_milli),
		]),
	}
	f := lib.lack_any(bare, _may_have(lack.med, lack.keepers))
}

_allergy_lacks contains lack if {
	some allergy in input.allergies
	allergy.severe
	some med in input.medications
	med.id == allergy.medication
	some person in input.people
	person.id == allergy.person
	need := lib.limit("medication", "allergy_doses")
	have := _held(med, _keepers(person))
	not _enough(med, have, need)
	lack := {"allergy": allergy, "med": med, "need": need, "have": have, "keepers": _keepers(person)}
}

# Where there would be enough with the doses past their date, medication/expired says so.
_enough(med, have, need) if {
	past := med.doses_milli - med.usable_milli
	have + past >= need * 1000
}

_others_have(0) := ""

_others_have(milli) := sprintf("; %s more elsewhere", [lib.milli(milli)]) if milli > 0

# Who keeps what a person must have at once: they themselves; for a young child and for a dependant the people beside them.
_keepers(person) := {person.id} if not _kept_for(person)

_keepers(person) := lib.beside(person) if {
	_kept_for(person)
	lib.never_alone(person)
}

_keepers(person) := {p.id | some p in input.people} if {
	_kept_for(person)
	not lib.never_alone(person)
}

_kept_for(person) if lib.younger(person, lib.limit("medication", "self_months"))

_kept_for(person) if not person.carries

_kept_for(person) if person.moves == "carried"

_kept_for(person) if "memory" in person.conditions

# METADATA
# title: Each severe allergy names its medication
# description: >-
#   An allergy that can threaten life is recorded so that someone acts in time. The medication for it must be named, or
#   nobody can check that it is packed. Milder allergies need none, nor do those to a medicine, which the person simply
#   does not take.
# custom:
#   level: warning
#   remedy: >-
#     Write the medication under the person's medications and name it at the allergy; if none is prescribed, ask the
#     practitioner.
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
		"text": sprintf("no medication is named for a severe allergy of %s (%s)", [allergy.person_name, allergy.key]),
	}
}

# METADATA
# title: Rescue medicine is within its owner's reach
# description: >-
#   An attack leaves no time to look for the other pack. What must be taken within a minute (an inhaler, adrenaline,
#   nitroglycerin, a medicine for seizures, glucagon) is on its owner's body or where they can reach it in their own pack
#   while walking; for a young child and for a dependant it is with the people beside them. In someone else's pack, or
#   missing, it is an error; deep in the owner's pack a warning. If doses for a severe allergy are missing,
#   medication/allergy-twice says so, and if only the date is past, medication/expired.
# custom:
#   level: error
#   remedy: Put it into the owner's pocket or the top of their pack, and show the others where it is.
#   mend: {work: move}
#   sources:
#     - "That it is lost in evacuations: Ochi et al. 2014, PLoS Curr Disasters; seen in a copy of its abstract"
#     - "With its owner: common practice, no source"
#   limits: [medication.rescue_words, medication.self_months, medication.allergy_doses, people.bag_months]
#   caution: Which medicine, where and when is for the prescriber; the written plan comes first. Call for help even if it has worked.
#   passes: |
#     people: ana: medications: spray: {name: "relief inhaler", asNeeded: true}
#     packs: rust: compartments: lid: items: spray: {mass: "30 g", medicine: {person: "ana", of: "spray", doses: 100}}
#   fails: |
#     people: ana: medications: spray: {name: "relief inhaler", asNeeded: true}
#     people: ben: {age: "42 y", bodyMass: "80 kg", onBody: spray: {mass: "30 g", medicine: {person: "ana", of: "spray", doses: 100}}}
finding.rescue_on_owner contains f if {
	some med in input.medications
	med.id in _rescue
	not med.id in {lack.med.id | some lack in _allergy_lacks}
	some person in input.people
	person.id == med.person
	doses := [m | some m in input.medicines; m.medication == med.id; m.usable]
	kept := [m | some m in doses; m.carrier in _keepers(person)]
	not _ready(kept)
	some bare in _misplaced(med, person, doses, kept)
	f := lib.lack_any(bare, _may_have(med, _keepers(person)))
}

_ready(kept) if {
	some m in kept
	m.reach != "halted"
}

_misplaced(med, _, _, kept) := [{
	"at": kept[0].id,
	"because": [med.id],
	"level": "warning",
	"text": sprintf("%s must be at hand at once, and can be reached only at a halt", [_whose(med)]),
}] if {
	kept != []
}

_misplaced(med, person, doses, []) := [{
	"at": doses[0].id,
	"because": [med.id],
	"text": sprintf("%s must be at hand at once and is not with %s", [_whose(med), _owner_or_keeper(person)]),
}] if {
	doses != []
}

_misplaced(med, _, [], _) := [{
	"at": med.id,
	"because": [],
	"text": sprintf("%s must be at hand at once, and none is packed", [_whose(med)]),
} |
	med.as_needed
	med.doses_milli == 0
]

_whose(med) := sprintf("%s for %s", [med.name, med.person_name])

_owner_or_keeper(person) := person.name if not _kept_for(person)

_owner_or_keeper(person) := sprintf("anyone beside %s", [person.name]) if _kept_for(person)

# METADATA
# title: A medicine's time out of the cold is recorded
# description: >-
#   A medicine that must be kept cold lasts only so long once it is out. So the day it left the cold is recorded, or it
#   stays in the cold until the household leaves. How long its label allows is recorded too; if not, the 28 days that the
#   FDA allows for insulin are used, and a note says so. If the season is too hot or too cold for it, medication/heat and
#   medication/frost speak instead.
# custom:
#   level: warning
#   remedy: >-
#     Mark it lastMinute and leave it in the refrigerator until you go, or write the day it
#     came out as outOfCold, and write the days that its label allows as coldLife at the medication.
#   mend: {work: write}
#   sources:
#     - "FDA, insulin in an emergency: up to 28 days at 15 to 30 °C, two weeks once diluted or repacked, never once frozen; year not seen; seen in a copy of its own page"
#     - "For other medicines: common practice, no source; the label decides"
#   limits: [medication.frost_night, medication.heat, medication.heat_can, medication.heat_other, vehicle.frost_mc]
#   caution: >-
#     The 28 days are those of insulin; other medicines may keep for hours only. The label and the
#     pharmacist decide. Do not use what was frozen or hot, and do not stop a needed
#     medicine without asking.
#   passes: |
#     people: ana: medications: insulin: {name: "insulin", perDay: 2, coldChain: true, coldLife: "28 d"}
#     packs: rust: compartments: lid: items: pens: {mass: "60 g", lastMinute: true, medicine: {person: "ana", of: "insulin", doses: 30}}
#   fails: |
#     people: ana: medications: insulin: {name: "insulin", perDay: 2, coldChain: true}
#     packs: rust: compartments: lid: items: pens: {mass: "60 g", medicine: {person: "ana", of: "insulin", doses: 30}}
finding.cold_chain contains f if {
	some med in _all
	med.cold_chain
	uncounted := _uncounted(med)
	f := {
		"at": uncounted[0],
		"because": array.concat([med.id], uncounted),
		"text": sprintf("%s must be kept cold, and the day on which it left the cold is not recorded%s", [_whose(med), _nor_life(med)]),
	}
}

finding.cold_chain contains f if {
	some med in _all
	med.cold_chain
	med.items != []
	_uncounted(med) == []
	not med.cold_life_known
	not med.id in _spoilt
	f := {
		"at": med.id,
		"because": [],
		"level": "note",
		"text": sprintf("how long %s keeps out of the cold is not recorded, so 28 days are assumed, as for insulin", [_whose(med)]),
	}
}

# Medications of people and of animals.
_all := array.concat(input.medications, input.animal_medications)

_uncounted(med) := [m.id |
	not med.id in _spoilt
	some m in input.medicines
	m.medication == med.id
	not m.last_minute
	not m.out_of_cold_known
]

_nor_life(med) := "" if med.cold_life_known

_nor_life(med) := ", nor how long its label allows it out" if not med.cold_life_known

# METADATA
# title: Each medicine has an expiry date
# description: >-
#   Nobody notices when a medicine without a date is past it. The last day on the label is recorded for each. First-aid
#   contents have rules of their own, and if a medication is short anyway, medication/days comes first.
# custom:
#   level: warning
#   remedy: Read the label's last day and write it as expires.
#   mend: {work: write}
#   sources:
#     - "FDA, do not use a medicine after its expiration date; year not seen; seen second-hand"
#     - "Writing it down: common practice, no source"
#   limits: [medication.days, medication.rescue_words]
#   caution: If the label's date is gone, ask the pharmacist and do not guess.
#   passes: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", expires: "2027-09-30", medicine: {person: "ana", of: "thyroid", doses: 30}}
#   fails: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", medicine: {person: "ana", of: "thyroid", doses: 30}}
finding.dated contains f if {
	some medicine in input.medicines
	not medicine.dated
	not medicine.medication in _short
	f := {"at": medicine.id, "text": sprintf("no expiry date is recorded for %s", [medicine.name]), "level": _dated_level(medicine.medication)}
}

_dated_level(id) := "warning" if {
	some med in input.medications
	med.id == id
	_vital(med)
} else := "note"

# METADATA
# title: Medicines stay in date through the plan
# description: >-
#   A medicine that is good on the first day and past its date on the second is missing when it is needed. Every last day of
#   a medicine is compared with the whole plan, as if the household left on the audit date. What is already past its date
#   is left to medication/expired; the family's own day of replacement is left out, and so is a plan without a duration.
# custom:
#   level: warning
#   remedy: Replace it with a fresh supply, and write the new date.
#   mend: {work: exchange, get: medicine that stays in date}
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
	some date in _dates
	date.kind != "rotate"
	date.days_left >= lib.limit("medication", "days_left")
	date.days_left * lib.day_min < input.plan.minutes
	f := {"at": date.id, "text": lib.date_text(date, lib.up(input.plan.minutes, lib.day_min))}
}

# METADATA
# title: A copy of the prescriptions is packed
# description: >-
#   A pharmacist or doctor who does not know you can replace what was lost if you show the prescription or a list of
#   medications. One paper with it, anywhere in the household, is enough. If nobody takes anything daily none is needed, and
#   if other papers are missing too, documents/copies says so.
# custom:
#   level: warning
#   remedy: Copy the prescriptions or the list with doses, and write prescription under the documents of the item.
#   mend: {work: add, get: copy of the prescriptions}
#   sources:
#     - "CDC, prescriptions poster, an up-to-date list with dose, generic name and allergies, 2019; seen in a copy of its own file"
#     - "Ochi et al. 2014, PLoS Curr Disasters, a review of 70 studies: many evacuees bring no prescription; seen in a copy of its abstract"
#     - "German Red Cross Brandenburg, the medication plan; year not seen; seen in a copy of its own page"
#   limits: [documents.copies]
#   caution: Such papers are private; keep them dry and close. The pharmacist and local rules decide what is handed out.
#   passes: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: papers: {mass: "30 g", documents: ["identity", "prescription"]}
#   fails: |
#     people: ana: medications: thyroid: {name: "thyroid tablets", perDay: 1}
#     packs: rust: compartments: lid: items: papers: {mass: "30 g", documents: ["identity", "insurance", "medical"]}
finding.prescription_copy contains f if {
	lib.unprescribed
	lib.absent_papers == []
	regular := [med | some med in input.medications; not med.as_needed]
	takers := {med.person_name | some med in regular}
	bare := {
		"at": regular[0].id,
		"because": [med.id | some med in regular],
		"text": sprintf("no copy of a prescription is packed, and medication is taken daily (%s)", [lib.and_list(sort(takers))]),
	}
	f := lib.lack_any(bare, lib.unrecorded_means(lib.anybody, "documents", ["prescription"]))
}

# METADATA
# title: Everyone who needs glasses has a spare pair
# description: >-
#   People who cannot see well cannot read a label, follow a path or find the others, and glasses break in a fall. A person
#   who needs glasses or contact lenses has a spare in a pack: their own in any pack, or one without an owner in a pack they
#   carry. What is worn or pocketed does not count, since that is the pair on the nose.
# custom:
#   level: warning
#   remedy: Put an old pair in a hard case into the pack, with owner and the capability see.
#   mend: {work: add, thing: see, get: spare glasses}
#   sources:
#     - "Ready.gov/FEMA 2022 (additional items), the American Red Cross 2020 and CAL FIRE (year not seen) list glasses; seen second-hand"
#     - "NYC Emergency Management lists them too; year not seen; seen in a copy of its own page"
#     - "A spare pair in a pack: common practice, no source"
#   limits: [medication.glasses]
#   caution: An old pair helps only if its strength is still about right; ask the optician.
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
	lib.pieces(spares) < asked
	bare := {
		"at": sprintf("%s/glasses", [person.id]),
		"because": [o.id | some o in spares],
		"text": sprintf("%s needs glasses and has %s in a pack%s", [
			person.name,
			_pairs(lib.pieces(spares)),
			_needs_pairs(asked),
		]),
	}
	may := [thing | some thing in lib.unrecorded({person.id}, "see"); thing.pack != ""]
	f := lib.lack(bare, may, asked - lib.pieces(spares))
}

_pairs(0) := "no spare pair"

_pairs(n) := lib.many(n, "spare pair", "spare pairs") if n > 0

_needs_pairs(1) := ""

_needs_pairs(n) := sprintf(" and needs %d", [n]) if n != 1

_serves(offer, person) if offer.owner == person.id

_serves(offer, person) if {
	offer.owner == ""
	offer.carrier == person.id
}

# METADATA
# title: No medicine is within a young child's reach
# description: >-
#   A young child alone with a pack may take tablets for sweets. Someone older keeps medicines and the pain relief of a
#   first-aid kit. A child keeps what is named for their own allergies and their own pressurised inhalers; from school
#   age on, also their own medicine that must be at hand at once, and all of it if they need insulin. A child of unknown age is left out.
# custom:
#   level: warning
#   remedy: Move it into an adult's pack or pockets, in a box that a child cannot open.
#   mend: {work: move}
#   sources:
#     - "CDC, prescriptions poster, a waterproof and childproof box, 2019; seen in a copy of its own file"
#     - "The age and the exception: common practice, no source"
#   limits: [medication.child_months, medication.self_months, medication.rescue_words]
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
	_carried_by_the_child(med, child)
}

# What is inhaled is not taken for sweets.
_emergency(medicine, child) if {
	medicine.person == child.id
	some med in input.medications
	med.id == medicine.medication
	med.pressurised
}

_carried_by_the_child(_, child) if "insulin" in child.conditions

_carried_by_the_child(med, _) if med.id in _rescue

_emergency(medicine, child) if {
	some allergy in input.allergies
	allergy.person == child.id
	allergy.medication == medicine.medication
}

_too_young(child) := sprintf("%s old; the minimum age to keep medicines is %s", [
	lib.age(child.age_months),
	lib.age(lib.limit("medication", "child_months")),
])

_young(id) if _below(id, lib.limit("medication", "child_months"))

_below(id, months) if {
	some person in input.people
	person.id == id
	lib.younger(person, months)
}

# METADATA
# title: Each as-needed medication is packed
# description: >-
#   A medicine that is taken only when needed is needed at the worst hour. At least one usable dose of each is with a
#   person; what an animal carries runs away with it. What must be at hand at once has a rule of its own, and if only the
#   date is past, medication/expired says so.
# custom:
#   level: note
#   remedy: Pack a dose with the person who takes it, or take it off the list if it is no longer prescribed.
#   mend: {work: add, get: as-needed medication}
#   sources:
#     - "CDC, prescriptions poster, all that is prescribed, 2019; seen in a copy of its own file"
#     - "One dose at least: common practice, no source"
#   limits: [medication.rescue_words]
#   caution: How much to take along is for the label, the prescriber and the pharmacist to say.
#   passes: |
#     people: ana: medications: syrup: {name: "hay fever tablets", asNeeded: true}
#     packs: rust: compartments: lid: items: syrup: {mass: "30 g", medicine: {person: "ana", of: "syrup", doses: 10}}
#   fails: |
#     people: ana: medications: syrup: {name: "hay fever tablets", asNeeded: true}
finding.when_needed contains f if {
	some med in input.medications
	med.as_needed
	not med.id in _rescue
	med.people_usable_milli == 0
	not _only_past(med)
	bare := {
		"at": _first(_usable(med), med.id),
		"because": med.items,
		"text": sprintf("%s takes %s when needed, and nobody carries a usable dose", [med.person_name, med.name]),
	}
	f := lib.lack_any(bare, lib.unrecorded_medicine(med))
}

_only_past(med) if {
	med.usable_milli == 0
	med.doses_milli > 0
}

# METADATA
# title: No medicine gets hotter than its label allows
# description: >-
#   Heat weakens a medicine, and nobody can see it. The day temperature of the planned season is compared with the label's
#   temperature if it is recorded; else with 30 °C for what must be kept cold (the 28 days out of the cold are for 15 to
#   30 °C), with 49 °C for a pressurised can, and for all others with a temperature that labels allow for a day at most,
#   which is a note. What is in a cooled compartment is left out, and so is a plan without a season. What is kept in a hot
#   car is left to vehicle/storage, except for insulin that is lost.
# custom:
#   level: error
#   remedy: Carry it in a cool pouch in the middle of the pack, out of the sun, and mark that compartment as cooled.
#   mend: {work: add, get: cooling pouch}
#   sources:
#     - "FDA, insulin in an emergency: 28 days at 59 to 86 °F (15 to 30 °C); above that it loses strength and is kept as cool as possible; year not seen; seen in a copy of its own page"
#     - "Insulin is not used from 37 °C on where it is in a pump: from memory"
#     - "A can under pressure may burst from 120 °F (49 °C) on: pages of a rescue team and of a professor of pharmacy; years not seen; seen second-hand"
#     - "Labels that say 20 to 25 °C allow 15 to 30 °C, and 40 °C for a day at most: after the US Pharmacopeia, from memory"
#   limits: [medication.heat, medication.heat_insulin, medication.heat_can, medication.heat_other, medication.insulin_words, vehicle.rise_mc, vehicle.medicine_mc]
#   caution: "Never throw away the only insulin you have; ask the pharmacist or a doctor, and measure more often. Ice must not touch it: frozen insulin is lost."
#   passes: |
#     plan: {season: "hot", seasons: hot: {day: "42 °C", night: "24 °C", daylight: "15 h"}}
#     people: ana: medications: insulin: {name: "insulin", perDay: 2, coldChain: true}
#     packs: rust: compartments: lid: {cooled: true, items: pens: {mass: "60 g", lastMinute: true, medicine: {person: "ana", of: "insulin", doses: 30}}}
#   fails: |
#     plan: {season: "hot", seasons: hot: {day: "42 °C", night: "24 °C", daylight: "15 h"}}
#     people: ana: medications: insulin: {name: "insulin", perDay: 2, coldChain: true}
#     packs: rust: compartments: lid: items: pens: {mass: "60 g", lastMinute: true, medicine: {person: "ana", of: "insulin", doses: 30}}
finding.heat contains f if {
	some med in _all
	_states_heat(med)
	level := _heat_level(med)
	hot := [m | some m in _too_hot(med); not _said_of_car(m, level)]
	first := hot[0]
	f := {
		"at": first,
		"because": array.concat([med.id, "plan/season"], hot),
		"text": sprintf("%s must stay below %s%s, and days reach %s", [
			_whose(med),
			lib.celsius(_hottest(med)),
			_days_void(med),
			lib.celsius(input.plan.day_mc),
		]),
		"level": level,
	}
}

# Of those of which nothing is written, once for all.
finding.heat contains f if {
	hot := sort({id | some med in _all; not _states_heat(med); some id in _too_hot(med); not _said_of_car(id, "note")})
	first := hot[0]
	f := {
		"at": first,
		"because": array.concat(["plan/season"], hot),
		"text": sprintf("days reach %s, and medicines whose labels say nothing else stand %s for a day at most", [
			lib.celsius(input.plan.day_mc),
			lib.celsius(lib.limit("medication", "heat_other")),
		]),
		"level": "note",
	}
}

_too_hot(med) := [m.id |
	input.plan.season_known
	input.plan.day_mc > _hottest(med)
	some m in input.medicines
	m.medication == med.id
	not m.cooled
]

# vehicle/storage says it, as gravely.
_said_of_car(id, level) if {
	level != "error"
	some m in input.medicines
	m.id == id
	lib.in_hot_car(m)
}

_hottest(med) := med.keep_to_mc if {
	med.keep_to_known
	not med.cold_chain
} else := max([med.keep_to_mc, lib.limit("medication", "heat")]) if {
	med.cold_chain
} else := lib.limit("medication", "heat_can") if {
	med.pressurised
} else := lib.limit("medication", "heat_other")

_days_void(med) := " for its days out of the cold to count" if med.cold_chain

_days_void(med) := "" if not med.cold_chain

_heat_level(med) := "error" if {
	_insulin(med)
	input.plan.day_mc > lib.limit("medication", "heat_insulin")
} else := "warning" if {
	input.plan.day_mc > lib.limit("medication", "heat")
} else := "note"

_states_heat(med) if med.cold_chain

_states_heat(med) if med.pressurised

_states_heat(med) if med.keep_to_known

_insulin(med) if _named(med, lib.limit("medication", "insulin_words"))

_insulin(med) if {
	med.cold_chain
	some person in input.people
	person.id == med.person
	"insulin" in person.conditions
}

# METADATA
# title: No medicine gets colder than its label allows
# description: >-
#   Insulin that was frozen must not be used, and nobody can see it. On freezing nights a medicine that must be kept cold is
#   carried on the body, under the clothes, not in a pack. If the way ends in a house it is a warning, in an insulated
#   compartment a note. If the label of another medicine says how cold it may get, a colder night is a note too.
# custom:
#   level: error
#   remedy: Carry it on the body, in an inner pocket, and write it under onBody.
#   mend: {work: move}
#   sources:
#     - "FDA, insulin in an emergency: never once frozen; year not seen; seen in a copy of its own page"
#     - "A pen that was cold for a night is replaced only if it froze: an allergist asked by the American Academy of Allergy, Asthma and Immunology; year not seen; seen in a copy of its own page"
#     - "On the body: common practice, no source"
#   limits: [medication.frost_night, vehicle.frost_mc]
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
	some med in _all
	packed := _packed_in_frost(med)
	first := packed[0]
	f := {
		"at": first,
		"because": array.concat([med.id, "plan/season"], packed),
		"text": sprintf("%s must not freeze but is in a pack, and nights fall to %s", [_whose(med), lib.celsius(input.plan.night_mc)]),
		"level": _frost_level(packed),
	}
}

finding.frost contains f if {
	some med in _all
	med.keep_from_known
	_packed_in_frost(med) == []
	input.plan.season_known
	input.plan.night_mc < med.keep_from_mc
	cold := [m.id | some m in input.medicines; m.medication == med.id; m.reach != "on-body"; not m.cooled]
	f := {
		"at": cold[0],
		"because": array.concat([med.id, "plan/season"], cold),
		"text": sprintf("%s must be kept at %s or warmer, and nights fall to %s", [_whose(med), lib.celsius(med.keep_from_mc), lib.celsius(input.plan.night_mc)]),
		"level": "note",
	}
}

_packed_in_frost(med) := [m.id |
	med.cold_chain
	input.plan.season_known
	input.plan.night_mc <= lib.limit("medication", "frost_night")
	some m in input.medicines
	m.medication == med.id
	m.reach != "on-body"
	not _freezes_in_car(m)
]

# vehicle/storage says it, and more gravely: insulated, but kept in the car.
_freezes_in_car(m) if {
	m.cooled
	not m.last_minute
	input.plan.night_mc < lib.limit("vehicle", "frost_mc")
	some pack in input.packs
	pack.id == m.pack
	pack.kept == "car"
}

_frost_level(ids) := "note" if {
	every m in input.medicines { _sheltered(m, ids) }
} else := "warning" if {
	lib.housed
} else := "error"

_sheltered(m, _) if m.cooled

_sheltered(m, ids) if not m.id in ids

# Medicines kept cold that the season spoils where they are.
_spoilt := {med.id | some med in _all; _packed_in_frost(med) != []} | {med.id | some med in _all; _too_hot(med) != []}

# METADATA
# title: Everyone has a water treatment they may use
# description: >-
#   Iodine is not for pregnant people, people with thyroid disease or infants; a practitioner may have ruled out chlorine
#   for someone. If all the household's ways to treat water are ruled out for a person, it is an error, or a warning if the
#   disease is only guessed from the name of a medication. If the household has another way, but not at that person's hand,
#   it is a warning.
# custom:
#   level: error
#   remedy: Add another way to treat water for them, such as chlorine dioxide, a filter beside chlorine, or a pot to boil in.
#   mend: {work: add, thing: treat-water, get: water treatment that they may use}
#   sources:
#     - "CDC, water disinfection, on iodine: not for pregnant women, people with thyroid problems or a known hypersensitivity; year not seen; seen second-hand"
#     - "Infants, and whom a practitioner has told so: common practice, no source"
#   limits: [medication.infant_months, medication.thyroid_words, people.bag_months]
#   caution: A day of iodine is better than water that makes people ill; ask a practitioner. Never leave anyone thirsty because of this rule.
#   passes: |
#     people: ana: conditions: ["thyroid"]
#     packs: rust: compartments: lid: items: {iodine: {mass: "20 g", treat: {method: "iodine", litres: "20 L"}}, filter: {mass: "90 g", treat: {method: "filter", litres: "200 L"}}}
#   fails: |
#     people: ana: conditions: ["thyroid"]
#     packs: rust: compartments: lid: items: iodine: {mass: "20 g", treat: {method: "iodine", litres: "20 L"}}
finding.forbidden contains f if {
	all := lib.offers("treat-water")
	barred := [p | some p in input.people; _barred(p, all)]
	barred != []
	f := {
		"at": all[0].id,
		"because": [p.id | some p in barred],
		"text": sprintf("%s is the only way to treat water and is not for %s", [_methods(all), lib.and_list([_and_why(p) | some p in barred])]),
		"level": _barred_level(barred),
	}
}

finding.forbidden contains f if {
	all := lib.offers("treat-water")
	some person in input.people
	own := lib.offers_beside(person, "treat-water")
	_barred(person, own)
	not _barred(person, all)
	f := {
		"at": own[0].id,
		"because": [person.id],
		"text": sprintf("%s is the only way to treat water that %s has at hand and is not for %s", [_methods(own), person.name, _and_why(person)]),
		"level": "warning",
	}
}

_barred(person, offers) if {
	barred := _barred_for[person.id]
	every o in offers { o.means in barred }
}

# By the ids of people, the methods that are not for them.
_barred_for := {person.id: _not_for(person) | some person in input.people}

_methods(offers) := lib.and_list(sort({o.means | some o in offers}))

_not_for(person) := ({m | some m in person.must_not} | {"chlorine-dioxide" | "chlorine" in person.must_not}) | {"iodine" | count(_no_iodine(person)) > 0}

# Why someone must not have iodine, the surest first.
_no_iodine(person) := array.concat(
	["thyroid disease" | "thyroid" in person.conditions],
	array.concat(
		["pregnant" | person.pregnant],
		array.concat(["an infant" | _infant(person)], _by_medication(person)),
	),
)

_by_medication(person) := ["a medication for the thyroid" |
	some med in input.medications
	med.person == person.id
	_named(med, lib.limit("medication", "thyroid_words"))
]

_infant(person) if {
	lib.younger(person, lib.limit("medication", "infant_months"))
	not person.breastfed
}

_and_why(person) := sprintf("%s (%s)", [person.name, _first(_no_iodine(person), "as written")])

_barred_level(people) := "error" if {
	some p in people
	_first(_no_iodine(p), "") != "a medication for the thyroid"
} else := "warning"

# METADATA
# title: No medicine is repacked that must stay in its package
# description: >-
#   Nitroglycerin loses its strength within days in a pill box. A medication that is recorded as staying in its original
#   package is not repacked.
# custom:
#   level: warning
#   remedy: Take the whole bottle or package along, and ask the pharmacist for a second one.
#   mend: {work: exchange, get: medicine in its package}
#   sources:
#     - "The label of nitroglycerin tablets, original glass, closed tightly: a page that states it after the FDA label; year not seen; seen second-hand"
#   limits: []
#   caution: The pharmacist decides whether what was repacked may still be used. Do not throw it away before you have the new one.
#   passes: |
#     people: ana: medications: heart: {name: "nitroglycerin", asNeeded: true, original: true}
#     packs: rust: compartments: lid: items: glass: {mass: "20 g", medicine: {person: "ana", of: "heart", doses: 25}}
#   fails: |
#     people: ana: medications: heart: {name: "nitroglycerin", asNeeded: true, original: true}
#     packs: rust: compartments: lid: items: box: {mass: "20 g", medicine: {person: "ana", of: "heart", doses: 25, repacked: true}}
finding.original_package contains f if {
	some med in _all
	med.original
	some m in input.medicines
	m.medication == med.id
	m.repacked
	f := {
		"at": sprintf("%s/medicine", [m.id]),
		"because": [med.id],
		"text": sprintf("%s must stay in its original package, and %s is repacked", [_whose(med), m.name]),
	}
}

# METADATA
# title: Each child's dose is recorded and fits the child
# description: >-
#   At night and in a hurry nobody works out a dose. What a child takes when needed, for fever or pain, has its dose on the
#   box and in the kit, with the body weight for which it was worked out; for anyone under 18 who weighs a tenth more or
#   less it is the wrong dose. A dose that is not recorded is a note.
# custom:
#   level: warning
#   remedy: Ask the pharmacist for the dose for today's body weight, write it on the box, and write dose and forMass under medicine.
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: [medication.child_months, medication.grown, medication.rescue_words]
#   caution: Never halve an adult's tablet by eye. The label and the pharmacist decide.
#   passes: |
#     people: mia: {age: "4 y", bodyMass: "17 kg", medications: syrup: {name: "fever syrup", asNeeded: true}}
#     packs: rust: compartments: lid: items: syrup: {mass: "120 g", medicine: {person: "mia", of: "syrup", doses: 20, dose: "5 ml", forMass: "16 kg"}}
#   fails: |
#     people: mia: {age: "4 y", bodyMass: "18 kg", medications: syrup: {name: "fever syrup", asNeeded: true}}
#     packs: rust: compartments: lid: items: syrup: {mass: "120 g", medicine: {person: "mia", of: "syrup", doses: 20, dose: "5 ml", forMass: "16 kg"}}
finding.child_dose contains f if {
	some child in input.people
	not child.adult
	child.body_mass_known
	some m in input.medicines
	m.person == child.id
	m.for_mass_known
	masses := [child.body_mass_mg, m.for_mass_mg]
	lib.beyond(max(masses), min(masses), 1000 + lib.limit("medication", "grown"))
	f := {
		"at": sprintf("%s/medicine/forMass", [m.id]),
		"because": [sprintf("%s/bodyMass", [child.id])],
		"text": sprintf("the dose of %s is for %s, and %s weighs %s", [m.name, lib.kg(m.for_mass_mg), child.name, lib.kg(child.body_mass_mg)]),
	}
}

finding.child_dose contains f if {
	some child in input.people
	_young(child.id)
	some med in input.medications
	med.person == child.id
	med.as_needed
	not med.id in _rescue
	unwritten := [m | some m in input.medicines; m.medication == med.id; not m.dose_known]
	f := {
		"at": sprintf("%s/medicine", [unwritten[0].id]),
		"because": [med.id],
		"text": sprintf("the dose of %s for %s is not recorded", [med.name, child.name]),
		"level": "note",
	}
}

# METADATA
# title: No medicine or glove contains what someone is allergic to
# description: >-
#   In a hurry one takes what is there. Nothing that an allergic person may take or touch has in its name, or in that of the medication,
#   what they are allergic to, where the allergy is written as one to a medicine or to the touch. All penicillins count as one. What is
#   someone else's is left out, and what its name says to be free of it.
# custom:
#   level: error
#   remedy: Exchange it after asking a pharmacist or a doctor, or write its owner if it is someone else's.
#   mend: {work: exchange, get: medicine or gloves without the allergen}
#   sources:
#     - "That amoxicillin, ampicillin and the like are penicillins: common practice, no source"
#   limits: [medication.penicillin_words, medication.free_words]
#   caution: >-
#     Words are compared, not substances: a medicine under a trade name is not known here, nor are those that are no penicillin but act like
#     one. Ask the pharmacist.
#   passes: |
#     people: ana: allergies: latex: to: "contact"
#     packs: rust: compartments: lid: items: gloves: {name: "nitrile gloves", mass: "20 g", can: gloves: "nitrile"}
#   fails: |
#     people: ana: allergies: latex: to: "contact"
#     packs: rust: compartments: lid: items: gloves: {name: "latex gloves", mass: "20 g"}
finding.allergens contains f if {
	some allergy in input.allergies
	allergy.to in {"medicine", "contact"}
	some thing in input.items
	thing.owner in {"", allergy.person}
	theirs := [m | some m in input.medicines; m.id == thing.id]
	every m in theirs { m.person in {"", allergy.person} }
	names := array.concat([thing.name], [med.name | some m in theirs; some med in _all; med.id == m.medication])
	some name in names
	_of(name, allergy.key)
	f := {
		"at": thing.id,
		"because": [allergy.id],
		"text": sprintf("%s is what %s is allergic to by its name: %s", [thing.name, allergy.person_name, allergy.key]),
		"level": _allergen_level(allergy),
	}
}

_allergen_level(allergy) := "error" if allergy.severe

_allergen_level(allergy) := "warning" if not allergy.severe

# A name holds each word of the allergy's key, and none that says that it is without.
_of(name, key) if {
	words := _name_words(name)
	words & {w | some w in lib.limit("medication", "free_words")} == set()
	every one in _name_words(key) {
		some word in words
		endswith(word, one)
	}
}

_of(name, key) if {
	_penicillin(name)
	_penicillin(key)
}

_penicillin(text) if {
	some word in lib.limit("medication", "penicillin_words")
	contains(lower(text), word)
}

_name_words(text) := {word |
	some part in split(replace(replace(replace(lower(text), "_", " "), "-", " "), "/", " "), " ")
	word := trim(part, "().,;:")
}
