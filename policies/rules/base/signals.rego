package rules.base.signals

import data.lib

# METADATA
# title: A whistle for everybody
# description: >-
#   A whistle carries further than a voice and costs no strength. Whistles are counted
#   over the household, against everybody from the age on at which a child can be taught
#   to stay and blow it; who has no age written is counted. How often to blow is not the
#   same everywhere: three signals and a pause in North America, six in a minute and a
#   pause in the Alps and much of Europe. The rule asks for neither; learn the local one.
# custom:
#   level: warning
#   remedy: Add a whistle on a cord for each one missing, and practise the distress signal of your region.
#   mend: {work: add}
#   sources:
#     - "Hug-A-Tree and Survive, for children of 5 to 12 years, a whistle each; year not seen; seen in copies"
#     - "A whistle is on the list of Ready.gov/FEMA, 2022; seen second-hand"
#     - "A whistle for each adult: common practice, no source"
#     - "Three signals, or six in a minute, by region: lay and encyclopedia pages; year not seen; seen second-hand"
#   limits: [signals.whistle_months]
#   caution: A cord around a young child's neck can choke; clip the whistle to the clothes or the pack.
#   passes: |
#     people: mia: {age: "6 y", bodyMass: "21 kg", onBody: whistle: {mass: "10 g", can: signal: "whistle"}}
#     packs: rust: compartments: lid: items: whistle: {mass: "10 g", can: signal: "whistle"}
#   fails: |
#     people: mia: {age: "6 y", bodyMass: "21 kg"}
#     packs: rust: compartments: lid: items: whistle: {mass: "10 g", can: signal: "whistle"}
finding.whistle_each contains f if {
	input.household.pack_count > 0
	from := lib.limit("signals", "whistle_months")
	callers := count([p | some p in input.people; not lib.younger(p, from)])
	whistles := _whistles
	short := callers - lib.pieces(whistles)
	short > 0
	f := lib.lack(
		{
			"at": input.household.id,
			"because": [o.id | some o in whistles],
			"text": sprintf("the household has %s for %s from the age of %s on; one each is asked: %d too few", [
				lib.many(lib.pieces(whistles), "whistle", "whistles"),
				lib.people(callers),
				lib.age(from),
				short,
			]),
		},
		input.household.id, "signal:whistle", short,
	)
}

_whistles := [o | some o in lib.offers("signal"); o.means == "whistle"]

# METADATA
# title: The whistle is at hand
# description: >-
#   A person who has fallen, or is held under something, cannot open a pack. Of the whistles with a
#   person, at least one is on the body or can be got at while walking. Whoever has no whistle
#   is asked by signals/whistle-each; whistles borne by animals are not looked at.
# custom:
#   level: warning
#   remedy: Move a whistle to a pocket, a strap or a part of the pack that is reached while walking.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: [signals.reach]
#   caution: A cord around a young child's neck can choke; clip the whistle to the clothes or the pack.
#   passes: |
#     people: ana: onBody: whistle: {mass: "10 g", can: signal: "whistle"}
#   fails: |
#     packs: rust: compartments: bag: {reach: "halted", items: whistle: {mass: "10 g", can: signal: "whistle"}}
finding.whistle_reach contains f if {
	some person in input.people
	own := [o | some o in _whistles; o.carrier == person.id]
	count(own) > 0
	near := [o | some o in own; o.reach in lib.limit("signals", "reach")]
	near == []
	f := {
		"at": person.id,
		"because": [o.id | some o in own],
		"text": sprintf("%s has %s, none on the body or in reach while walking; 1 is asked there: 1 too few", [
			person.name,
			lib.many(lib.pieces(own), "whistle", "whistles"),
		]),
	}
}

# METADATA
# title: Something to be seen by
# description: >-
#   Searchers in the air and across a valley hear nothing and look for what flashes or
#   does not belong. Each pack holds something made to be seen. A lamp is asked for
#   elsewhere and does not count here; packs borne by animals are not asked. Signs laid on
#   the ground for aircraft are at least 2.5 m high, such as V for help and X for medical
#   help; how many flashes mean distress differs by region, see signals/whistle-each.
# custom:
#   level: note
#   remedy: Add a signal mirror, a bright panel or a strobe to the pack.
#   mend: {work: add, thing: signal}
#   sources:
#     - "ICAO, Annex 12, 8th edition, 2004, Appendix A (ground signs); seen in copies of its text"
#     - "One in each pack: common practice, no source"
#   limits: [signals.visual]
#   caution: A flare burns and starts fires, and is bound to rules of carrying and use; follow its label and check local law.
#   passes: |
#     packs: rust: compartments: lid: items: mirror: {mass: "22 g", can: signal: "mirror"}
#   fails: |
#     packs: rust: compartments: lid: items: whistle: {mass: "10 g", can: signal: "whistle"}
finding.seen contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	visual := lib.limit("signals", "visual")
	[m | some m in lib.means(pack.supply, "signal"); m in visual] == []
	f := {
		"at": pack.id,
		"because": lib.items(pack.supply, "signal"),
		"text": sprintf("%s has nothing to be seen by (%s); 1 is asked: 1 too few", [pack.name, concat(", ", visual)]),
	}
}
