package rules.base.signals

import data.lib

# METADATA
# title: Everyone old enough has a whistle at hand
# description: >-
#   A whistle carries farther than a voice and costs no strength, even under rubble. Each person old enough to be taught to
#   stay and blow it has one, worn or in their own packs; for people who are never alone, those of the people beside them
#   count, if there is one for each. One that can be reached only by unpacking is a note: a person who has fallen cannot
#   open a pack. How often to blow differs: three signals and a pause in North America, six in a minute and a pause in the
#   Alps and much of Europe; learn the local signal.
# custom:
#   level: warning
#   remedy: Add a whistle on a cord for this person, in a pocket or on a strap, and practise the distress signal of your region.
#   mend: {work: add, get: whistle}
#   sources:
#     - "Hug-A-Tree and Survive, for children of 5 to 12 years, a whistle each; year not seen; seen in copies"
#     - "A whistle is on the list of Ready.gov/FEMA, 2022; seen second-hand"
#     - "A whistle for each adult, and where: common practice, no source"
#     - "Three signals, or six in a minute, by region: lay and encyclopedia pages; year not seen; seen second-hand"
#   limits: [signals.reach, people.bag_months, people.call_months]
#   caution: A cord around the neck can choke a young child; clip the whistle to the clothes or the pack.
#   passes: |
#     people: mia: {age: "6 y", bodyMass: "21 kg", onBody: whistle: {mass: "10 g", can: signal: "whistle"}}
#     packs: rust: compartments: lid: items: whistle: {mass: "10 g", can: signal: "whistle"}
#   fails: |
#     people: mia: {age: "6 y", bodyMass: "21 kg"}
#     packs: rust: compartments: lid: items: whistle: {mass: "10 g", can: signal: "whistle"}
finding.whistle_each contains f if {
	months := lib.limit("people", "call_months")
	some person in input.people
	lib.at_least(person, months)
	lib.lacks_own(person, _whistles, months, 1)
	may := lib.unrecorded_means(lib.beside(person), "signal", ["whistle"])
	bare := {
		"at": lib.stands(person),
		"text": sprintf("%s has no whistle", [person.name]),
	}
	f := lib.lack_own(bare, person, _whistles, may, months, 1)
}

finding.whistle_each contains f if {
	some person in input.people
	own := [o | some o in _whistles; o.carrier == person.id]
	[o | some o in own; o.reach in lib.limit("signals", "reach")] == []
	f := {
		"at": own[0].id,
		"level": "note",
		"because": [o.id | some o in own],
		"text": sprintf("%s has to stop and unpack to reach a whistle", [person.name]),
	}
}

_whistles := [o | some o in lib.offers("signal"); o.means == "whistle"]

# METADATA
# title: The household has a visual signal outside towns
# description: >-
#   Searchers in the air and across a valley hear nothing and look for what flashes or stands out. If the plan leads outside
#   towns, the household has something made to be seen, or something bright or reflective. A lamp does not count here. Silent
#   if the household wants a low profile, or goes a few hundred metres on foot at most. Signs laid on the ground for aircraft are at least 2.5 m high, such as V for help
#   and X for medical help; how many flashes mean distress differs by region, see signals/whistle-each.
# custom:
#   level: note
#   remedy: Add a signal mirror, a bright panel, a reflective vest or a strobe.
#   mend: {work: add, thing: signal, get: mirror or light for signals}
#   sources:
#     - "ICAO, Annex 12, 8th edition, 2004, Appendix A (ground signs); seen in copies of its text"
#     - "One for the household: common practice, no source"
#   limits: [signals.seen_in, signals.visual, load.near_foot_mm]
#   caution: A flare burns and starts fires, and there are rules for carrying and using it; follow its label and check local law.
#   passes: |
#     plan: settings: ["coast"]
#     packs: rust: compartments: lid: items: mirror: {mass: "22 g", can: signal: "mirror"}
#   fails: |
#     plan: settings: ["coast"]
#     packs: rust: compartments: lid: items: whistle: {mass: "10 g", can: signal: "whistle"}
finding.seen contains f if {
	not input.plan.low_profile
	not lib.near
	places := [s | some s in input.plan.settings; s in lib.limit("signals", "seen_in")]
	places != []
	visual := lib.limit("signals", "visual")
	[o | some o in lib.offers("signal"); o.means in visual] == []
	[i | some i in input.items; i.visibility in {"loud", "reflective"}] == []
	bare := {
		"at": input.household.id,
		"text": sprintf("the plan leads through %s, and the household has nothing to be seen by (%s)", [lib.and_list(places), concat(", ", visual)]),
	}
	f := lib.lack_any(bare, lib.unrecorded_means(lib.anybody, "signal", visual))
}

# METADATA
# title: The household can reach its contacts
# description: >-
#   The relative far away and the emergency number are of no use without something to call them with. If contacts are recorded, and
#   so is what people have in their pockets, a phone, a two-way radio or a beacon is among it or in a pack, charged or not.
# custom:
#   level: note
#   remedy: "Write the phones that people take along under onBody, such as can: communicate: \"phone\", or pack an old one."
#   mend: {work: write}
#   sources:
#     - "A phone with chargers is on the list of the American Red Cross, 2020; seen second-hand"
#     - "One for the household: common practice, no source"
#   limits: [signals.call]
#   passes: |
#     plan: contacts: aunt: {name: "an aunt", phone: "555 0100"}
#     people: ana: onBody: {wallet: {mass: "90 g", documents: ["identity"]}, phone: {mass: "180 g", can: communicate: "phone"}}
#   fails: |
#     plan: contacts: aunt: {name: "an aunt", phone: "555 0100"}
#     people: ana: onBody: wallet: {mass: "90 g", documents: ["identity"]}
finding.phone contains f if {
	input.plan.contacts > 0
	_pockets
	_callers == []
	bare := {
		"at": lib.stands_of(input.people),
		"because": ["plan/contacts"],
		"text": "contacts are recorded, and nobody has a phone to call them with",
	}
	f := lib.lack_any(bare, array.concat(lib.unrecorded(lib.anybody, "communicate"), lib.unrecorded_means(lib.anybody, "signal", ["beacon"])))
}

# What people have on them is recorded.
_pockets if {
	some paper in input.papers
	paper.pack == ""
}

_callers := array.concat(
	[o.id | some capability in ["communicate", "signal"]; some o in lib.offers(capability); o.means in lib.limit("signals", "call")],
	[u.item | some u in input.useless; u.means in lib.limit("signals", "call")],
)
