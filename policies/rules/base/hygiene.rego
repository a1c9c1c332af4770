package rules.base.hygiene

import data.lib

# METADATA
# title: Clean hands in each pack
# description: >-
#   Dirty hands bring the runs, and the runs end a walk. Each pack borne by a person holds
#   something that cleans hands. Packs borne by animals are not asked.
# custom:
#   level: warning
#   remedy: Add a small soap, hand gel or wipes to the pack.
#   mend: {work: add, thing: hygiene}
#   sources:
#     - "Ready.gov/FEMA, moist towelettes, 2022; Prepare (UK), wipes and sanitiser, 2024; seen second-hand"
#     - "Get Ready (New Zealand), hand cleaner in the grab bag; year not seen; seen in a copy of its own page"
#     - "One in each pack: common practice, no source"
#   limits: [hygiene.hands]
#   caution: Hand gel burns and must not be drunk; keep it from flames, eyes and small children. It does not wash off fuel or mud.
#   passes: |
#     packs: rust: compartments: lid: items: soap: {mass: "30 g", can: hygiene: "soap"}
#   fails: |
#     packs: rust: compartments: lid: items: toothbrush: {mass: "10 g", can: hygiene: "toothbrush"}
finding.hands contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	asked := lib.limit("hygiene", "hands")
	have := [means | some means in lib.means(pack.supply, "hygiene"); means in asked]
	have == []
	f := {
		"at": pack.id,
		"text": sprintf("%s has none of these to clean hands with: %s; 1 is asked, 1 too few", [pack.name, concat(", ", asked)]),
	}
}

# METADATA
# title: Toilet things
# description: >-
#   Where water is off or there is no house, everybody still has to go. The household has
#   toilet paper or toilet bags, whoever bears them.
# custom:
#   level: warning
#   remedy: Add toilet paper in a dry bag, or toilet bags.
#   mend: {work: add, thing: hygiene}
#   sources:
#     - "City of Himeji (Japan), portable toilet; year not seen; seen in a copy of the city's page"
#     - "Ready.gov/FEMA, towelettes, bags and ties, 2022; American Red Cross, sanitation, 2020; seen second-hand"
#     - "That one of them is enough: common practice, no source"
#   limits: [hygiene.toilet]
#   caution: Keep waste away from water and from where you eat and sleep, and clean your hands afterwards.
#   passes: |
#     packs: rust: compartments: lid: items: paper: {mass: "60 g", can: hygiene: "toilet-paper"}
#   fails: |
#     packs: rust: compartments: lid: items: soap: {mass: "30 g", can: hygiene: "soap"}
finding.toilet contains f if {
	asked := lib.limit("hygiene", "toilet")
	have := [o | some o in lib.offers("hygiene"); o.means in asked]
	have == []
	f := {
		"at": input.household.id,
		"text": sprintf("the household has none of these for the toilet: %s; 1 is asked, 1 too few", [concat(", ", asked)]),
	}
}

# METADATA
# title: Period supplies
# description: >-
#   Stress and walking change the days, and shops are shut. Where somebody in the household
#   may have a period, by the sex and age written, the household has supplies. Whoever does not
#   need them waives this with the reason. People whose sex or age is not written are not asked.
# custom:
#   level: note
#   remedy: Add a few days of what each of them uses, with bags for what was used.
#   mend: {work: add}
#   sources:
#     - "Hygiene and feminine supplies: Ready.gov/FEMA 2022, American Red Cross 2020 (second-hand), NYC Emergency Management (year not seen; copy of its own page)"
#     - "The ages: common practice, no source"
#   limits: [hygiene.menses_from, hygiene.menses_to]
#   passes: |
#     people: ana: sex: "female"
#     packs: rust: compartments: lid: items: pads: {mass: "60 g", can: hygiene: "menstrual"}
#   fails: |
#     people: ana: sex: "female"
finding.menstruation contains f if {
	who := [person | some person in input.people; _may_menstruate(person)]
	who != []
	have := [o | some o in lib.offers("hygiene"); o.means == "menstrual"]
	have == []
	f := {
		"at": input.household.id,
		"because": [person.id | some person in who],
		"text": sprintf("the household has no period supplies; %s may need them: %s", [
			lib.people(count(who)),
			lib.and_list([person.name | some person in who]),
		]),
	}
}

_may_menstruate(person) if {
	person.sex == "female"
	person.age_known
	person.age_months >= lib.limit("hygiene", "menses_from")
	person.age_months <= lib.limit("hygiene", "menses_to")
}

# METADATA
# title: A mask for each person whom it fits
# description: >-
#   Smoke, and the dust of ash and dried mud, go deep into the lungs. The household has a
#   filtering mask for each person from an age on, whoever bears it. Bodies disagree about
#   that age: FEMA's list names masks from 2 years, AirNow says that none fits small
#   children. A mask that does not seal is no mask, so a later age is asked here; younger
#   children need another way, such as leaving early. A person whose age is not written counts as grown.
# custom:
#   level: note
#   remedy: Add the missing masks, each in a bag that keeps it clean. Paper and dust masks do not count.
#   mend: {work: add}
#   sources:
#     - "AirNow, NIOSH N95 or P100 with two straps; dust and surgical masks do not stop smoke; none fits small children; year not seen; seen in a copy of its own page"
#     - "Ready.gov/FEMA, masks from 2 years, 2020 and later; seen second-hand"
#     - "FFP2 and FFP3 (EN 149) as about the same: from memory"
#   limits: [hygiene.mask_months]
#   caution: >-
#     A mask makes breathing harder: with an illness of heart or lungs, ask a licensed
#     practitioner first. It must seal on bare skin, and it gives no air and stops no carbon
#     monoxide or other gas.
#   passes: |
#     packs: rust: compartments: lid: items: mask: {mass: "10 g", can: breathe: "n95"}
#   fails: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: rust: compartments: lid: items: mask: {mass: "10 g", can: breathe: "n95"}
finding.masks contains f if {
	from := lib.limit("hygiene", "mask_months")
	wearers := count([person | some person in input.people; not lib.younger(person, from)])
	have := lib.offers("breathe")
	short := wearers - lib.pieces(have)
	short > 0
	f := {
		"at": input.household.id,
		"because": [o.id | some o in have],
		"text": sprintf("the household has %s for %s of %s or more: %d too few", [
			lib.many(lib.pieces(have), "filtering mask", "filtering masks"),
			lib.people(wearers),
			lib.age(from),
			short,
		]),
	}
}
