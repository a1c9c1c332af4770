package rules.base.money

import data.lib

# METADATA
# title: Some cash
# description: >-
#   Card readers and cash machines need power and a network. Somebody of the household has
#   money in notes or coins, in a pack or on the body. How much is for the family to say:
#   most lists give no amount and two that do differ, so none is enforced.
# custom:
#   level: warning
#   remedy: Put some notes with the papers or in a pocket, and write them under cash.
#   mend: {work: add}
#   sources:
#     - "Cash with the kit: Ready Wisconsin, year not seen, seen in a copy of its own page; American Red Cross, 2020, and CAL FIRE, year not seen, seen second-hand"
#     - "An amount: NYC Emergency Management, an older page, 50 to 100 USD, year not seen, seen in a copy; a Bavarian municipality, two weeks' shopping, year not seen, seen second-hand"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: envelope: {mass: "9 g", waterproof: true, cash: amount: "60 in notes"}
#   fails: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity"], waterproof: true}
finding.cash contains f if {
	input.household.pack_count > 0
	_cash == []
	f := {
		"at": input.household.id,
		"text": "0 of the household's things hold cash; 1 is asked: 1 too few",
	}
}

# What holds money.
_cash := [p | some p in input.papers; p.cash]

# METADATA
# title: Small notes among the cash
# description: >-
#   After a disaster nobody can give change. Some of the cash is in small notes or
#   coins. Without any cash, money/cash asks.
# custom:
#   level: note
#   remedy: Change a large note, and mark the cash smallNotes.
#   mend: {work: exchange}
#   sources:
#     - "Small notes: NYC Emergency Management, and Be Ready Lexington (1 and 5 USD), years not seen; seen in copies of their own pages"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: envelope: {mass: "9 g", waterproof: true, cash: {amount: "60 in small notes", smallNotes: true}}
#   fails: |
#     packs: rust: compartments: lid: items: envelope: {mass: "9 g", waterproof: true, cash: amount: "100 in one note"}
finding.small_notes contains f if {
	_cash != []
	[p | some p in _cash; p.small_notes] == []
	f := {
		"at": input.household.id,
		"because": [p.id | some p in _cash],
		"text": sprintf("the household's cash (%s) is not written to hold small notes: 0 of %d do, 1 is asked: 1 too few", [
			lib.and_list([p.name | some p in _cash]),
			count(_cash),
		]),
	}
}
