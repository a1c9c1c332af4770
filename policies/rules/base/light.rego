package rules.base.light

import data.lib

# METADATA
# title: A light in each pack
# description: >-
#   Floods and fires do not wait for daylight, and who walks apart from the others
#   needs a light of their own. A candle goes out in wind and rain and is not counted. Packs
#   borne by animals are not asked.
# custom:
#   level: error
#   remedy: Add a headlamp or a torch to the pack.
#   mend: {work: add, thing: light}
#   sources:
#     - "City of Himeji (Japan), disaster kit page: one torch each if possible; year not seen; seen in a copy of the city's page"
#     - "A light is on every household list read: Ready.gov/FEMA 2022 (second-hand), NYC Emergency Management (copy of its own page), Prepare (UK) 2024 (second-hand)"
#   limits: [light.means, light.walk_means]
#   passes: |
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp"}
#   fails: |
#     packs: rust: compartments: lid: items: map: {mass: "60 g", can: navigate: "map"}
finding.each_pack contains f if {
	asked := lib.limit("light", "means")
	walk_by := lib.limit("light", "walk_means")
	some pack in input.packs
	pack.carrier_kind == "person"
	have := [m | some m in lib.means(pack.supply, "light"); m in walk_by]
	short := asked - count(have)
	short > 0
	f := lib.lack(
		{
			"at": pack.id,
			"because": lib.items(pack.supply, "light"),
			"text": sprintf("%s has %s to walk by (%s); %d asked: %d too few", [
				pack.name,
				lib.many(count(have), "kind of light", "kinds of light"),
				concat(", ", walk_by),
				asked,
				short,
			]),
		},
		pack.id, "light", short,
	)
}

# METADATA
# title: Light for part of the dark hours
# description: >-
#   Autumn and winter nights are longer than the days, and people walk, search packs and
#   tend others in them. The lamps with each person who bears a pack, one after the other
#   and with their spare cells, run for a share of the dark hours of the whole plan. Not
#   asked without a season and a duration, of who has no lamp written as a device, or where
#   what is known is too little but more may be there: the running time of some lamp is not
#   written, or a power bank with the same person may charge it again.
# custom:
#   level: warning
#   remedy: Add spare cells of the lamp's size, add a lamp, or take one that runs longer.
#   mend: {work: add}
#   sources:
#     - "The share: common practice, no source"
#   limits: [light.dark_share]
#   passes: |
#     plan: {duration: "72 h", season: "flood", seasons: flood: {day: "14 °C", night: "6 °C", daylight: "10 h"}}
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3, runTime: "30 h"}}
#   fails: |
#     plan: {duration: "72 h", season: "flood", seasons: flood: {day: "14 °C", night: "6 °C", daylight: "10 h"}}
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3, runTime: "5 h"}}
finding.run_time contains f if {
	input.plan.season_known
	share := lib.limit("light", "dark_share")
	asked := lib.up(share * input.plan.dark_total_min, 1000)
	some person in input.people
	person.pack_count > 0
	lamps := [d | some d in input.devices; d.light; d.carrier == person.id]
	count(lamps) > 0
	every lamp in lamps { _hours_known(lamp) }
	run := sum([d.run_total_min | some d in lamps])
	short := asked - run
	short > 0
	f := {
		"at": person.id,
		"because": [d.id | some d in lamps],
		"text": sprintf("%s's lamps run %s with their spare cells; the plan has %s of darkness and %s of light is asked: %s too little", [
			person.name,
			lib.hours(run),
			lib.hours(input.plan.dark_total_min),
			lib.hours(asked),
			lib.hours(short),
		]),
	}
}

# What a lamp takes from a power bank is not written, so its hours beside one are not known.
_hours_known(lamp) if {
	lamp.run_known
	lamp.cells_needed > 0
}

_hours_known(lamp) if {
	lamp.run_known
	lamp.spare_cells == 0
}

# METADATA
# title: A light for everybody who walks
# description: >-
#   One lamp cannot light two people's feet on stairs, and a child without a light is
#   lost from sight. All lights of the household that one can walk by are counted, wherever
#   they are packed, against everybody from an age on; who has no age written is counted.
#   A candle is not counted, as wind and rain put it out.
# custom:
#   level: warning
#   remedy: Add a small torch or headlamp for each one missing.
#   mend: {work: add}
#   sources:
#     - "City of Himeji (Japan), disaster kit page: one torch each if possible; year not seen; seen in a copy of the city's page"
#     - "The age and which lights count: common practice, no source"
#   limits: [light.age_months, light.walk_means]
#   caution: Keep button cells away from children; follow the label.
#   passes: |
#     people: mia: {age: "6 y", bodyMass: "21 kg", carries: false}
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", count: 2, can: light: "headlamp"}
#   fails: |
#     people: mia: {age: "6 y", bodyMass: "21 kg", carries: false}
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp"}
finding.per_person contains f if {
	input.household.pack_count > 0
	from := lib.limit("light", "age_months")
	walkers := count([p | some p in input.people; not lib.younger(p, from)])
	means := lib.limit("light", "walk_means")
	lights := [o | some o in lib.offers("light"); o.means in means]
	short := walkers - lib.pieces(lights)
	short > 0
	f := lib.lack(
		{
			"at": input.household.id,
			"because": [o.id | some o in lights],
			"text": sprintf("the household has %s to walk by for %s from the age of %s on; one each is asked: %d too few", [
				lib.many(lib.pieces(lights), "light", "lights"),
				lib.people(walkers),
				lib.age(from),
				short,
			]),
		},
		input.household.id, "light", short,
	)
}
