package rules.harrow_valley.flood

import data.lib

# METADATA
# title: Warm things are packed dry
# description: >-
#   People who wade, or carry a pack through hours of rain, arrive with a wet pack, and the night after it is
#   cold. What people sleep in or change into is in a dry bag, a shut liner or a compartment that keeps
#   water out. Packs that animals carry are left out.
# custom:
#   level: warning
#   remedy: Put the things named into dry bags or a liner that is rolled shut, and write waterproof for them or for their compartment.
#   mend: {work: move}
#   sources:
#     - "the circle, spring meeting 2026"
#     - "Wet bedding warms little: common practice, no source"
#   limits: [flood.dry_kinds]
#   lack: {what: warm things not packed dry, unit: count}
#   caution: Wet and cold together kill. Get anyone who is soaked out of the wind and into dry things first.
#   passes: |
#     packs: rust: compartments: lid: items: quilt: {mass: "700 g", waterproof: true, insulation: {kind: "quilt", comfort: "2 °C"}}
#   fails: |
#     packs: rust: compartments: lid: items: quilt: {mass: "700 g", insulation: {kind: "quilt", comfort: "2 °C"}}
finding.dry_bags contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	kinds := lib.limit_of(data.limits.harrow_valley, "flood", "dry_kinds")
	wet := [i | some i in input.insulation; i.pack == pack.id; i.kind in kinds; not i.id in _dry]
	wet != []
	f := {
		"at": pack.id,
		"because": [i.id | some i in wet],
		"text": sprintf("pack “%s” holds %s that would get wet: %s", [
			pack.name,
			lib.many(count(wet), "warm thing", "warm things"),
			lib.and_list([i.name | some i in _named; i.id in {w.id | some w in wet}]),
		]),
		"lack": count(wet),
	}
}

# The things of packs that keep water out, by themselves or with their compartment.
_dry := {i.id | some i in input.items; i.waterproof}

_named := [i | some i in input.items; i.pack != ""]

# METADATA
# title: Everyone who walks wears boots
# description: >-
#   Under brown water lie glass, wire and open drains, and a shoe stays in the mud. Everyone who walks wears
#   boots, written under onBody. Young children and people who are carried need none.
# custom:
#   level: warning
#   remedy: Put boots beside the door for each person named, and write them under onBody with what they can do.
#   mend: {work: exchange, thing: footwear}
#   sources:
#     - "the circle, spring meeting 2026"
#     - "Boots in floods: common practice, no source"
#   limits: [flood.footwear, flood.footwear_months]
#   lack: {what: pairs of boots, unit: count}
#   caution: Nobody walks through moving water that reaches the knee. A cut from flood water needs washing and a licensed eye.
#   passes: |
#     people: ana: onBody: boots: {mass: "1.2 kg", can: footwear: "boots"}
#   fails: |
#     people: ana: onBody: shoes: {mass: "800 g", can: footwear: "shoes"}
finding.boots contains f if {
	some person in input.people
	person.carried_by == ""
	not lib.younger(person, lib.limit_of(data.limits.harrow_valley, "flood", "footwear_months"))
	kinds := lib.limit_of(data.limits.harrow_valley, "flood", "footwear")
	[o | some o in lib.offers("footwear"); o.person == person.id; o.means in kinds] == []
	f := {
		"at": person.id,
		"text": sprintf("%s has no %s recorded under onBody", [person.name, concat(" or ", kinds)]),
		"lack": 1,
	}
}

# METADATA
# title: Enough meeting points lie on high ground
# description: >-
#   The water decides which way is open. A household agrees on places that the river has never reached, so that
#   when one is cut off another is not. A place counts once its altitude is recorded.
# custom:
#   level: error
#   remedy: Agree on a place above the flood, look its height up on the valley map, and write it under meetingPoints of the plan.
#   mend: {work: decide}
#   sources:
#     - "the circle, spring meeting 2026"
#   limits: [flood.high_points, flood.safe_height]
#   lack: {what: meeting points on high ground, unit: count}
#   caution: A height on a map promises nothing. Leave when the warden says so, and never cross moving water to reach a meeting point.
#   passes: |
#     plan: meetingPoints: {
#     	gate: {where: "the top gate", altitude: "220 m"}
#     	school: {where: "the ridge school", altitude: "395 m"}
#     }
#   fails: |
#     plan: meetingPoints: {
#     	gate: {where: "the top gate", altitude: "219 m"}
#     	school: {where: "the ridge school", altitude: "395 m"}
#     }
finding.high_ground contains f if {
	high := [p | some p in input.plan.meeting_places; p.altitude_known; p.altitude_mm >= _safe_height]
	asked := lib.limit_of(data.limits.harrow_valley, "flood", "high_points")
	short := asked - count(high)
	short > 0
	f := {
		"at": "plan/meetingPoints",
		"because": [p.id | some p in input.plan.meeting_places],
		"text": sprintf("of %s in the plan %s recorded at %s or higher; it needs %d: %d short", [
			lib.many(count(input.plan.meeting_places), "meeting point", "meeting points"),
			_are(count(high)),
			_metres(_safe_height),
			asked,
			short,
		]),
		"lack": short,
	}
}

_are(0) := "none is"

_are(1) := "1 is"

_are(n) := sprintf("%d are", [n]) if n > 1

_safe_height := lib.limit_of(data.limits.harrow_valley, "flood", "safe_height")

_metres(mm) := sprintf("%s m", [lib.milli(mm)])
