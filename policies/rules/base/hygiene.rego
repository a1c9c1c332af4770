package rules.base.hygiene

import data.lib

# METADATA
# title: The household has something to clean hands
# description: >-
#   Dirty hands bring diarrhoea, and diarrhoea ends a walk. The household needs something to clean hands, in anyone's pack
#   or pocket.
# custom:
#   level: warning
#   remedy: Add a small soap, hand gel or wipes.
#   mend: {work: add, thing: hygiene, get: soap or sanitiser}
#   sources:
#     - "Ready.gov/FEMA, moist towelettes, 2022; Prepare (UK), wipes and sanitiser, 2024; seen second-hand"
#     - "Get Ready (New Zealand), hand cleaner in the grab bag; year not seen; seen in a copy of its own page"
#     - "One for the household: common practice, no source"
#   limits: [hygiene.hands]
#   caution: Hand gel burns and must not be drunk; keep it from flames, eyes and small children. It does not wash off fuel or mud.
#   passes: |
#     packs: rust: compartments: lid: items: soap: {mass: "30 g", can: hygiene: "soap"}
#   fails: |
#     packs: rust: compartments: lid: items: toothbrush: {mass: "10 g", can: hygiene: "toothbrush"}
finding.hands contains f if {
	means := lib.limit("hygiene", "hands")
	_offers(means) == []
	bare := {
		"at": input.household.id,
		"text": sprintf("the household has no %s", [lib.or_list([replace(m, "-", " ") | some m in means])]),
	}
	f := lib.lack_any(bare, _may_be(means))
}

_may_be(means) := lib.unrecorded_means(lib.anybody, "hygiene", means)

_offers(means) := [o | some o in lib.offers("hygiene"); o.means in means]

# METADATA
# title: Toilet paper or toilet bags are packed
# description: >-
#   With the water off or without a house, everyone still has to go. The household needs toilet paper or toilet bags,
#   packed by anyone. Drains break in a quake, so if quakes are a danger, missing toilet bags are a note. If the way ends
#   in a house with water, it is a note too.
# custom:
#   level: warning
#   remedy: Add toilet paper in a dry bag, or toilet bags.
#   mend: {work: add, thing: hygiene, get: toilet paper or toilet bags}
#   sources:
#     - "City of Himeji (Japan), portable toilet, 5 uses for each person and day; year not seen; seen in a copy of the city's page"
#     - "Ready.gov/FEMA, towelettes, bags and ties, 2022; American Red Cross, sanitation, 2020; seen second-hand"
#     - "That one of them is enough: common practice, no source"
#   limits: [hygiene.toilet]
#   caution: Keep waste away from water and from where you eat and sleep, and clean your hands afterwards.
#   passes: |
#     packs: rust: compartments: lid: items: paper: {mass: "60 g", can: hygiene: "toilet-paper"}
#   fails: |
#     packs: rust: compartments: lid: items: soap: {mass: "30 g", can: hygiene: "soap"}
finding.toilet contains f if {
	means := lib.limit("hygiene", "toilet")
	_offers(means) == []
	bare := {
		"at": input.household.id,
		"text": sprintf("the household has no %s", [lib.or_list([replace(m, "-", " ") | some m in means])]),
		"level": _without_water,
	}
	f := lib.lack_any(bare, _may_be(means))
}

default _without_water := "warning"

_without_water := "note" if {
	input.plan.destination.kind == "house"
	input.plan.destination.water
}

finding.toilet contains f if {
	"quake" in input.plan.hazards
	paper := _offers(lib.limit("hygiene", "toilet"))
	_offers(["toilet-bag"]) == []
	bare := {
		"at": paper[0].id,
		"text": "drains may break in a quake, and the household has no toilet bags",
		"level": "note",
	}
	f := lib.lack_any(bare, _may_be(["toilet-bag"]))
}

# METADATA
# title: Everyone who may need them has period supplies
# description: >-
#   Stress and walking change the days, and shops are shut. Each person who may have a period, by sex and age, needs
#   supplies, such as a cup or a packet, packed by anyone. People whose sex or age is not recorded, or who are pregnant,
#   are left out. If someone does not need them, waive this and say why.
# custom:
#   level: note
#   remedy: Add what each person named uses (a period takes 12 to 15 disposable pads), and bags for used ones.
#   mend: {work: add, get: period supplies}
#   sources:
#     - "Hygiene and feminine supplies: Ready.gov/FEMA 2022, American Red Cross 2020 (second-hand), NYC Emergency Management (year not seen; copy of its own page)"
#     - "The ages: common practice, no source"
#   limits: [hygiene.menses_from, hygiene.menses_to, people.bag_months]
#   passes: |
#     people: ana: sex: "female"
#     packs: rust: compartments: lid: items: pads: {mass: "60 g", can: hygiene: "menstrual"}
#   fails: |
#     people: ana: sex: "female"
finding.menstruation contains f if {
	who := [person | some person in input.people; _may_menstruate(person)]
	some part in lib.lacks(who, _offers(["menstrual"]), _may_be(["menstrual"]))
	bare := {
		"at": lib.stands_of(part.lack.who),
		"because": [person.id | some person in part.lack.who],
		"text": lib.has_no(part.lack, "period supplies", "sets of period supplies"),
	}
	f := lib.lack_part(bare, part)
}

_may_menstruate(person) if {
	person.sex == "female"
	not person.pregnant
	person.age_known
	person.age_months >= lib.limit("hygiene", "menses_from")
	person.age_months <= lib.limit("hygiene", "menses_to")
}

# METADATA
# title: Everyone old enough has a filtering mask
# description: >-
#   Smoke, and the dust of ash and dried mud, go deep into the lungs. Each person old enough needs a filtering mask, packed
#   or worn by anyone. Sources disagree about the age: FEMA's list names masks from 2 years, paediatricians say that a
#   small N95 may fit from 7, AirNow that none fits small children. A mask that does not seal is no mask, so the age of 7
#   is used; younger children need another way, such as leaving early. A person of unknown age counts as an adult. If
#   fire, ash or an industrial accident is a danger it is a warning, else a note.
# custom:
#   level: warning
#   remedy: Add the missing masks, each in a bag that keeps it clean. Paper and dust masks do not count.
#   mend: {work: add, get: filtering mask}
#   sources:
#     - "Paediatric Environmental Health Specialty Units (US), fact sheet of July 2021: from 7 years a small N95 may fit, from 2 a child's surgical mask, below 2 none; seen in a copy of its own page"
#     - "AirNow, NIOSH N95 or P100 with two straps; dust and surgical masks do not stop smoke; none fits small children; year not seen; seen in a copy of its own page"
#     - "Ready.gov/FEMA, masks from 2 years, 2020 and later; seen second-hand"
#     - "FFP2 and FFP3 (EN 149) as about the same: from memory; which dangers: common practice, no source"
#   limits: [people.mask_months, hygiene.mask_hazards, people.bag_months]
#   caution: >-
#     A mask makes breathing harder: with heart or lung disease, ask a licensed practitioner first. It must seal on bare
#     skin, and it does not stop carbon monoxide or any other gas. Leave early with children whom no mask fits; below 2
#     years they wear none.
#   passes: |
#     packs: rust: compartments: lid: items: mask: {mass: "10 g", can: breathe: "n95"}
#   fails: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: rust: compartments: lid: items: mask: {mass: "10 g", can: breathe: "n95"}
finding.masks contains f if {
	wearers := [p | some p in input.people; lib.at_least(p, lib.limit("people", "mask_months"))]
	some part in lib.lacks(wearers, lib.offers("breathe"), lib.unrecorded(lib.anybody, "breathe"))
	dangers := [h | some h in input.plan.hazards; h in lib.limit("hygiene", "mask_hazards")]
	bare := {
		"at": lib.stands_of(part.lack.who),
		"because": [p.id | some p in part.lack.who],
		"text": lib.has_no(part.lack, "filtering mask", "filtering masks"),
		"level": _masked(dangers),
	}
	f := lib.lack_part(bare, part)
}

_masked([]) := "note"

_masked(dangers) := "warning" if dangers != []
