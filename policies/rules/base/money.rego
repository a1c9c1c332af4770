package rules.base.money

import data.lib

# METADATA
# title: Some cash is carried, part of it in small notes
# description: >-
#   Card readers and cash machines need power and a network, and after a disaster nobody can give change. Someone in the
#   household needs money in notes or coins, in a pack or on the body; if none of it is small, that is a note. How much is for
#   the family to say: most lists give no amount and two that do differ, so none is enforced.
# custom:
#   level: warning
#   remedy: Put some small notes with the papers or in a pocket, and write them under cash, with smallNotes.
#   mend: {work: add, get: cash}
#   sources:
#     - "Cash with the kit: Ready Wisconsin, year not seen, seen in a copy of its own page; American Red Cross, 2020, and CAL FIRE, year not seen, seen second-hand"
#     - "Small notes: NYC Emergency Management, and Be Ready Lexington (1 and 5 USD), years not seen; seen in copies of their own pages"
#     - "An amount: NYC Emergency Management, an older page, 50 to 100 USD, year not seen, seen in a copy; a Bavarian municipality, two weeks' shopping, year not seen, seen second-hand"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: envelope: {mass: "9 g", waterproof: true, cash: {amount: "60 in small notes", smallNotes: true}}
#   fails: |
#     packs: rust: compartments: lid: items: papers: {mass: "60 g", documents: ["identity"], waterproof: true}
finding.cash contains f if {
	_cash == []
	bare := {
		"at": input.household.id,
		"text": "nobody has cash in a pack or a pocket",
	}
	f := lib.lack_any(bare, lib.unrecorded(lib.anybody, "cash"))
}

finding.cash contains f if {
	[p | some p in _cash; p.small_notes] == []
	f := {
		"at": _cash[0].id,
		"because": [p.id | some p in _cash],
		"text": sprintf("no cash is recorded as small notes: %s", [lib.names(_cash)]),
		"level": "note",
	}
}

# What holds money.
_cash := [p | some p in input.papers; p.cash]
