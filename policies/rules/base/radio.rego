package rules.base.radio

import data.lib

# METADATA
# title: All two-way radios share one service
# description: >-
#   Two radios on different services cannot hear each other. If two or more people have a two-way radio, all of them share
#   at least one service; services on shared channels count as one. Radios carried by animals and radios that only receive
#   are left out.
# custom:
#   level: note
#   remedy: Settle on one service, and give each of the people named a radio for it.
#   mend: {work: exchange, get: radio of the same service}
#   sources:
#     - "FCC, draft fact sheet of 27 April 2017 (frs and gmrs share 22 channels); seen in a copy"
#     - "One service for everybody: common practice, no source"
#   limits: [radio.shared_channels]
#   caution: Who may transmit on a service, with what power and licence, differs by country; check local law.
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "80 kg"}
#     packs: moss: {carrier: "ben", mass: "1 kg", compartments: lid: {reach: "walking", items: handheld: {mass: "200 g", radio: service: "pmr446"}}}
#     packs: rust: compartments: lid: items: handheld: {mass: "200 g", radio: service: "pmr446"}
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "80 kg"}
#     packs: moss: {carrier: "ben", mass: "1 kg", compartments: lid: {reach: "walking", items: handheld: {mass: "200 g", radio: service: "cb"}}}
#     packs: rust: compartments: lid: items: handheld: {mass: "200 g", radio: service: "pmr446"}
finding.shared_service contains f if {
	shared := lib.limit("radio", "shared_channels")
	talkers := [t |
		some person in input.people
		radios := [r | some r in input.radios; r.carrier == person.id; r.service != ""]
		count(radios) > 0
		t := {"name": person.name, "radios": radios}
	]
	common := intersection({{_channels(r.service, shared) | some r in t.radios} | some t in talkers})
	common == set()
	radios := [r | some t in talkers; some r in t.radios]
	f := {
		"at": _odd(radios, shared),
		"because": [r.id | some r in radios],
		"text": sprintf("the radios of %s have no service in common", [lib.and_list([_talker(t) | some t in talkers])]),
	}
}

# The first radio on the channels that the fewest people have.
_odd(radios, shared) := sort([[n, r.id] |
	some r in radios
	n := count({other.carrier | some other in radios; _channels(other.service, shared) == _channels(r.service, shared)})
])[0][1]

# Services on shared channels are told apart by name only.
_channels(service, shared) := "shared" if service in shared

_channels(service, shared) := service if not service in shared

_talker(t) := sprintf("%s (%s)", [t.name, concat(", ", sort({r.service | some r in t.radios}))])

# METADATA
# title: Each radio that needs a licence has one
# description: >-
#   A service that needs a licence must be learnt before the day it is needed. The carrier of a radio on such a service
#   holds a licence valid on the audit date; if one licence serves the family, or an animal carries the radio, anyone's
#   counts. The lists follow the US rules; other countries differ, and some require none or more. Radios that only receive
#   are left out.
# custom:
#   level: warning
#   remedy: Get the licence and write it under licences of the person, give the radio to someone who holds one, or take a radio for a service without a licence.
#   mend: {work: check}
#   sources:
#     - "FCC, 82 FR 41096, 2017 (frs needs none; gmrs does, for a term of 10 years); abstract seen in a copy"
#     - "47 CFR 95.179 (gmrs serves the family); year not seen; seen in a copy of its text; now 95.1705: from memory"
#     - "47 CFR 97.5 (amateur: names one person, who controls the radio); year not seen; seen in a copy of its text"
#     - "Marine: common practice, no source"
#   limits: [radio.licensed, radio.family]
#   caution: >-
#     Who may transmit, on what, with what power and in what emergency differs by country; check local law. There may be
#     rules for listening too.
#   passes: |
#     people: ana: licences: family: {service: "gmrs", until: "2031-05-31"}
#     packs: rust: compartments: lid: items: handheld: {mass: "200 g", radio: service: "gmrs"}
#   fails: |
#     packs: rust: compartments: lid: items: handheld: {mass: "200 g", radio: service: "gmrs"}
finding.licence contains f if {
	some radio in input.radios
	radio.service in lib.limit("radio", "licensed")
	not _licensed(radio)
	f := {
		"at": radio.id,
		"text": sprintf("%s transmits on the %s service, and no valid licence of %s is recorded: check local law", [
			radio.name,
			radio.service,
			_whose(radio),
		]),
	}
}

_licensed(radio) if {
	some person in input.people
	radio.service in person.licences
	person.id == radio.carrier
}

_licensed(radio) if {
	_anybodys(radio)
	some person in input.people
	radio.service in person.licences
}

_anybodys(radio) if radio.service in lib.limit("radio", "family")

_anybodys(radio) if {
	some animal in input.animals
	animal.id == radio.carrier
}

_whose(radio) := "the household" if _anybodys(radio)

_whose(radio) := "its carrier" if not _anybodys(radio)

# METADATA
# title: A radio can receive the news
# description: >-
#   When phones and the power are out, warnings and news of the way home come by radio. The household has at least one radio
#   that is recorded as receiving the news and that works, no matter who carries it. A phone does not count, since it needs
#   a network. Silent if nobody can hear. If what a receiver receives is not recorded, that is a note.
# custom:
#   level: warning
#   remedy: Add a small receiver that runs on batteries or a crank, or write under radio what yours receives.
#   mend: {work: add, thing: communicate, get: radio}
#   sources:
#     - "A radio is on every household list read, such as Ready.gov/FEMA 2022 and the American Red Cross 2020 (seen second-hand), and NYC Emergency Management (AM/FM; year not seen; copy of its own page)"
#     - "Shortwave: common practice, no source"
#   limits: [radio.news]
#   passes: |
#     packs: rust: compartments: lid: items: receiver: {mass: "170 g", can: communicate: "receiver", radio: receives: ["am", "fm"]}
#   fails: |
#     packs: rust: compartments: lid: items: handheld: {mass: "170 g", can: communicate: "radio", radio: service: "pmr446"}
finding.receiver contains f if {
	not lib.hears_news
	not _all_deaf
	f := lib.lack_any(_deaf, lib.unrecorded_means(lib.anybody, "communicate", ["receiver"]))
}

_all_deaf if {
	input.people != []
	every person in input.people { person.hears == "no" }
}

_deaf := {
	"at": lib.news_radios[0].id,
	"because": [r.id | some r in lib.news_radios],
	"text": sprintf("there are no batteries in %s, and nobody has another radio for the news", [lib.and_list([r.name | some r in lib.news_radios])]),
} if {
	lib.news_radios != []
} else := {
	"at": _unsaid[0].id,
	"because": [thing.id | some thing in _unsaid],
	"level": "note",
	"text": sprintf("what %s receives is not recorded: write radio: receives: [\"fm\"] or what its label says", [_unsaid[0].name]),
} if {
	_unsaid != []
} else := {
	"at": input.household.id,
	"because": [r.id | some r in input.radios],
	"text": sprintf("nobody has a radio for the news (%s)", [concat(", ", lib.limit("radio", "news"))]),
}

# What receives, and nobody wrote what.
_unsaid := array.concat(
	[radio | some radio in input.radios; radio.service == ""; radio.receives == []],
	[o | some o in lib.offers("communicate"); o.means == "receiver"; not o.id in {radio.id | some radio in input.radios}],
)
