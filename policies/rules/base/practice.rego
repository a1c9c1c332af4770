package rules.base.practice

import data.lib

# METADATA
# title: The packs were inspected recently
# description: >-
#   Food goes stale, children grow and borrowed lamps do not come back. Sources disagree on how often to look: FEMA and a
#   CDC page say every 6 months, New Zealand and Canada once a year for food and water. 6 months is used, since that meets
#   the others too. A day that is too long ago is a warning; if none is recorded, that is a note.
# custom:
#   level: warning
#   remedy: Lay everything out, inspect it, and write the day as audited under record.
#   mend: {work: check}
#   sources:
#     - "FEMA: food and water every 6 months; year not seen; seen second-hand"
#     - "CDC, nursing page: all supplies every 6 months or as needs change; year not seen; seen second-hand"
#     - "New Zealand government (govt.nz): food and water every 12 months; year not seen; seen in a copy of its own page"
#     - "Canada: food and water yearly; year not seen; seen second-hand (Gatineau)"
#   limits: [practice.audit_days]
#   passes: |
#     record: audited: "2026-10-01"
#   fails: |
#     record: audited: "2026-01-01"
finding.audited contains f if {
	most := lib.limit("practice", "audit_days")
	input.record.audited_known
	ago := input.audit.on_day - input.record.audited_day
	ago > most
	f := {
		"at": "record/audited",
		"text": sprintf("the packs were last inspected %s ago, %s more than the %s allowed", [
			lib.days(ago),
			lib.days(ago - most),
			lib.days(most),
		]),
	}
}

finding.audited contains f if {
	most := lib.limit("practice", "audit_days")
	not input.record.audited_known
	f := {
		"at": input.record.id,
		"text": sprintf("no inspection of the packs is recorded; the last should be at most %s ago", [lib.days(most)]),
		"level": "note",
	}
}

# METADATA
# title: A recent practice walk had a realistic load
# description: >-
#   Straps that cut, shoes that rub and a child who tires show on a walk, not at the table. The household needs a practice
#   walk in the last year, with a load near the heaviest that a person carries today. It needs none if nobody carries a load
#   or goes more than a few hundred metres on foot. A walk after the audit date does not count yet.
# custom:
#   level: note
#   remedy: Walk with the packs as they are, and write the day, the distance and the load under record.
#   mend: {work: check}
#   sources:
#     - "common practice, no source"
#   limits: [practice.shakedown_days, practice.load_share, load.near_foot_mm]
#   caution: Begin short and light, and stop at pain. If you are unwell or pregnant, ask a licensed practitioner first.
#   passes: |
#     packs: rust: compartments: lid: items: stores: mass: "7 kg"
#     record: shakedowns: hill: {on: "2026-09-13", distance: "5 km", load: "7.5 kg"}
#   fails: |
#     packs: rust: compartments: lid: items: stores: mass: "7 kg"
#     record: shakedowns: hill: {on: "2026-09-13", distance: "5 km", load: "3 kg"}
finding.shakedown contains f if {
	heaviest := max([carrier.load_mg | some carrier in input.carriers; carrier.kind == "person"])
	heaviest > 0
	not lib.near
	f := {
		"at": "record/shakedowns",
		"because": [walk.id | some walk in _walks],
		"text": _lack(heaviest),
	}
}

# The walks done by the audit day, those of them that are recent, and those of these whose load is known.
_walks := [walk | some walk in input.record.shakedowns; walk.day <= input.audit.on_day]

_recent := [walk | some walk in _walks; input.audit.on_day - walk.day <= lib.limit("practice", "shakedown_days")]

_laden := [walk | some walk in _recent; walk.load_known]

# What the practice lacks, in words; undefined where it lacks nothing.
_lack(_) := text if {
	_walks == []
	most := lib.limit("practice", "shakedown_days")
	text := sprintf("no practice walk is recorded; one in the last %s is needed", [lib.days(most)])
}

_lack(_) := text if {
	_recent == []
	most := lib.limit("practice", "shakedown_days")
	ago := input.audit.on_day - max([walk.day | some walk in _walks])
	text := sprintf("the last practice walk was %s ago; it should be at most %s", [
		lib.days(ago),
		lib.days(most),
	])
}

_lack(_) := text if {
	_recent != []
	_laden == []
	most := lib.limit("practice", "shakedown_days")
	text := sprintf("no load is recorded for the practice walks of the last %s", [lib.days(most)])
}

_lack(heaviest) := text if {
	least := lib.limit("practice", "load_share")
	carried := max([walk.load_mg | some walk in _laden])
	miss := lib.excess(carried, heaviest, least)
	miss < 0
	text := sprintf("the heaviest recent practice load is %s short of %s of today's heaviest, %s", [
		lib.mass(lib.up(abs(miss), 1000)),
		lib.share(least),
		lib.kg(heaviest),
	])
}
