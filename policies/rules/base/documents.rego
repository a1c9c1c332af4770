package rules.base.documents

import data.lib

# METADATA
# title: Copies of the papers that matter
# description: >-
#   Help, shelter and a claim for the house ask who you are and what you had. The
#   household's things hold a copy of each paper asked, on paper or on a memory stick,
#   whoever bears it. FEMA also names bank records, for which a kit has no word, so they
#   are not asked.
# custom:
#   level: warning
#   remedy: Copy the missing papers, and write them under documents of the thing that holds them.
#   mend: {work: add}
#   sources:
#     - "FEMA, emergency supply lists of 2014 and 2022 (copies of identification, insurance and bank records); seen second-hand"
#     - "Medical papers: common practice, no source"
#   limits: [documents.copies]
#   caution: >-
#     Copies can be stolen and misused. Carry what helps and no more, cover numbers that
#     nobody needs, and keep the originals by the rules where you live; check local law.
#   passes: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity", "insurance", "medical"], waterproof: true}
#   fails: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity", "insurance"], waterproof: true}
finding.copies contains f if {
	input.household.pack_count > 0
	asked := lib.limit("documents", "copies")
	held := {d | some p in input.papers; some d in p.documents}
	missing := [d | some d in asked; not d in held]
	count(missing) > 0
	f := {
		"at": input.household.id,
		"because": sort({p.id | some p in input.papers; some d in p.documents; d in asked}),
		"text": sprintf("the household's papers lack %s: %d of the %d papers asked are there, %d too few", [
			lib.and_list(missing),
			count(asked) - count(missing),
			count(asked),
			count(missing),
		]),
	}
}

# METADATA
# title: Numbers on paper for each adult
# description: >-
#   Few know a number by heart, and an empty phone keeps them to itself. Each adult who
#   bears a pack has the household's contacts on paper in it or on the body. Children and
#   people without a pack are not asked here.
# custom:
#   level: note
#   remedy: Write the names and numbers on a card for each adult named, and write contacts under its documents.
#   mend: {work: add}
#   sources:
#     - "Contacts on paper: NYC Emergency Management, year not seen, seen in a copy of its own page; American Red Cross, 2020, and Prepare (UK), 2024, seen second-hand"
#     - "One list for each adult: common practice, no source"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: card: {mass: "5 g", documents: ["contacts"], waterproof: true}
#   fails: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity"], waterproof: true}
finding.contacts contains f if {
	some person in input.people
	person.adult
	person.pack_count > 0
	[p | some p in input.papers; p.carrier == person.id; "contacts" in p.documents] == []
	f := {
		"at": person.id,
		"text": sprintf("%s has 0 lists of contacts on paper; 1 is asked: 1 too few", [person.name]),
	}
}

# METADATA
# title: Papers and money stay dry
# description: >-
#   A river, a night of rain or a leaking bottle turns copies and notes into pulp. What
#   is in a pack is asked, also in one borne by an animal; a wallet or a card on the body
#   is not, nor are maps, which are read in the rain, and keys.
# custom:
#   level: warning
#   remedy: Put them into a bag or a case that keeps water out, and mark it, or its compartment, waterproof.
#   mend: {work: move}
#   sources:
#     - "FEMA, emergency supply lists of 2014 and 2022 (records in a waterproof, portable container); seen second-hand"
#     - "Which papers, and money: common practice, no source"
#   limits: [documents.dry]
#   passes: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity"], waterproof: true}
#   fails: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity"]}
finding.dry contains f if {
	kinds := lib.limit("documents", "dry")
	some paper in input.papers
	paper.pack != ""
	not paper.waterproof
	papers := [d | some d in paper.documents; d in kinds]
	wet := array.concat(papers, ["money" | paper.cash])
	count(wet) > 0
	f := {
		"at": paper.id,
		"text": sprintf("%s holds %s in a pack, and is not written to stay dry", [paper.name, lib.and_list(wet)]),
	}
}

# METADATA
# title: Keys are packed or pocketed
# description: >-
#   Whoever leaves in a hurry locks the door and may come back after dark, or must move the
#   car. The keys, or spare ones, are among what the household takes, whoever has them.
# custom:
#   level: note
#   remedy: Put a spare set of house and car keys with the papers or in a pocket, and write keys under its documents.
#   mend: {work: add}
#   sources:
#     - "House and car keys: NYC Emergency Management, year not seen, seen in a copy of its own page; American Red Cross, 2020, CAL FIRE, year not seen, and BBK (Germany), year not seen, seen second-hand"
#   limits: []
#   caution: Put no name or address on the keys.
#   passes: |
#     people: ana: onBody: keys: {mass: "50 g", documents: ["keys"]}
#   fails: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity"], waterproof: true}
finding.keys contains f if {
	input.household.pack_count > 0
	[p | some p in input.papers; "keys" in p.documents] == []
	f := {
		"at": input.household.id,
		"text": "the household takes 0 sets of keys; 1 is asked: 1 too few",
	}
}
