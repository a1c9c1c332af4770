package rules.base.growth

import data.lib

# METADATA
# title: Children's shoes and jackets were tried on recently
# description: >-
#   A child's shoes and coat of last spring do not fit in autumn. A young child's shoes and packed jackets are tried on
#   every few months. A size or a day that is not recorded is a note, once for the household; a day too long ago is a
#   warning.
# custom:
#   level: warning
#   remedy: Try it on, replace what is too small, and write size and sizeSeen. The change of the clocks is a good day for it.
#   mend: {work: check}
#   sources:
#     - "CDC, families with infants: their things are looked through each month; form of 2021, seen in a copy of its own page"
#     - "A podiatrist on a local news page: half a shoe size in two to four months until three years, in four to six after; year not seen; seen in a copy of its own page"
#     - "What is tried on, and the ages: common practice, no source"
#   limits: [growth.months, growth.small_months, growth.small_days, growth.days]
#   passes: |
#     people: mia: {age: "5 y", bodyMass: "18 kg", onBody: shoes: {mass: "300 g", can: footwear: "shoes", size: "29", sizeSeen: "2026-09-20"}}
#   fails: |
#     people: mia: {age: "5 y", bodyMass: "18 kg", onBody: shoes: {mass: "300 g", can: footwear: "shoes", size: "29", sizeSeen: "2026-03-20"}}
finding.outgrown contains f if {
	some child in _children
	most := _most(child)
	old := [thing |
		some thing in _things(child)
		thing.seen_known
		input.audit.on_day - thing.seen_day > most
	]
	first := min([thing.seen_day | some thing in old])
	f := {
		"at": [sprintf("%s/sizeSeen", [thing.id]) | some thing in old; thing.seen_day == first][0],
		"because": [thing.id | some thing in old],
		"text": sprintf("%s last tried on %s %s ago; at this age it should be at most %s", [
			child.name,
			lib.names(old),
			lib.days(input.audit.on_day - first),
			lib.days(most),
		]),
	}
}

finding.outgrown contains f if {
	unwritten := [{"child": child, "things": things} |
		some child in _children
		things := [thing | some thing in _things(child); not _written(thing)]
		things != []
	]
	things := [thing | some u in unwritten; some thing in u.things]
	first := things[0]
	f := {
		"at": first.id,
		"because": [thing.id | some thing in things],
		"text": sprintf("no size, or no day of trying on, is recorded for what children outgrow: %s", [concat("; ", [
		sprintf("%s (%s)", [lib.names(u.things), u.child.name]) | some u in unwritten])]),
		"level": "note",
	}
}

_children := [child | some child in input.people; lib.younger(child, lib.limit("growth", "months"))]

# What a child has that they outgrow.
_things(child) := [thing | some thing in input.sized; thing.whose == child.id]

_written(thing) if {
	thing.size_known
	thing.seen_known
}

_most(child) := lib.limit("growth", "small_days") if lib.younger(child, lib.limit("growth", "small_months"))

_most(child) := lib.limit("growth", "days") if not lib.younger(child, lib.limit("growth", "small_months"))
