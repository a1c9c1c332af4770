package rules.base.heat

import data.lib

# METADATA
# title: There is somewhere cool to wait in the heat
# description: >-
#   Most people who die of heat do not walk. The hours in which nobody walks are compared with the warmest air to rest in
#   without shade. Shade or a cool place in the plan, or a house at the end of the way, is enough, except in hours hotter
#   than the heat index covers. The worst heat without shade is an error, and so are such days before nights that are too
#   warm as well, for infants, small children and old, pregnant or unwell people; heat/night speaks of the nights.
# custom:
#   level: error
#   remedy: >-
#     Plan a cool place for the hot hours and write shade: true under plan; bring a tarp for shade and cloths to wet, keep
#     water beside the beds, and check on each other every hour.
#   mend: {work: decide}
#   sources:
#     - "WHO Europe, heat and health advice: rooms below 32 °C by day, above all for infants, people over 60 and the chronically ill; seen second-hand"
#     - "US Army, work, rest and fluid table (after TB MED 507, year not seen): category 5 is black; seen in a copy of its own page"
#     - "That air outside is held against figures for rooms, and what is an error: common practice, no source"
#   limits: [heat.day_mc, heat.night_mc, heat.category, heat.young_months, endurance.old_months, load.unfit]
#   caution: >-
#     A fan does not cool you in air above 35 °C. Never cover a pram with a dry cloth, and never leave people or animals in a closed car. Confusion, hot
#     skin or a collapse is an emergency: cool the person and call for help.
#   passes: |
#     plan: {duration: "24 h", shade: true, season: "hot", seasons: hot: {day: "34 °C", night: "18 °C", daylight: "15 h", humidity: "20 %"}}
#   fails: |
#     plan: {duration: "24 h", season: "hot", seasons: hot: {day: "34 °C", night: "18 °C", daylight: "15 h", humidity: "20 %"}}
finding.rest contains f if {
	_days != []
	f := {
		"at": sprintf("plan/seasons/%s", [input.plan.season]),
		"text": sprintf("%s%s", [concat("; ", _days), _for_whom]),
		"level": _level,
	}
}

_days := [sprintf("people rest in air of %s, hotter than the heat index covers, where shade alone is not enough", [lib.celsius(input.endurance.rest_mc)])] if {
	input.endurance.rest_beyond
} else := [] if {
	_shade
} else := [sprintf("from hour %d of the plan people rest in heat category %d of the five of the work-rest table, and the plan names no shade or cool place", [
	input.endurance.rest_hour,
	input.endurance.rest_category,
])] if {
	_worst
} else := [sprintf("people rest in air of %s, and the plan names no shade or cool place; without one, %s is the limit", [
	lib.celsius(input.endurance.rest_mc),
	lib.celsius(lib.limit("heat", "day_mc")),
])] if {
	input.endurance.rest_mc > lib.limit("heat", "day_mc")
} else := []

# Shade, or a roof at the end of the way.
_shade if input.plan.shade

_shade if input.plan.destination.kind in {"house", "shelter"}

_worst if input.endurance.rest_beyond

_worst if input.endurance.rest_category >= lib.limit("heat", "category")

# Whom the heat takes first.
_frail := [p.name | some p in input.people; _weak(p)]

_weak(p) if lib.younger(p, lib.limit("heat", "young_months"))

_weak(p) if not lib.younger(p, lib.limit("endurance", "old_months"))

_weak(p) if p.fitness in lib.limit("load", "unfit")

_weak(p) if p.pregnant

_for_whom := sprintf("; most in danger: %s", [lib.and_list(_frail)]) if _frail != []

_for_whom := "" if _frail == []

_level := "error" if {
	_worst
	not _shade
} else := "error" if {
	_warm_night
	_frail != []
} else := "warning"

# METADATA
# title: Nights are cool enough to recover from the heat
# description: >-
#   A person who does not cool down at night starts the next hot day exhausted. The hours asleep are compared with the
#   warmest night in which a body cools down. Shade does not help at night; water, wet cloths and moving air do. Silent if
#   beds await in a house or a shelter.
# custom:
#   level: note
#   remedy: Sleep in moving air and off warm ground, keep water and wet cloths by each bed, and plan for a place that is cool at night for those named.
#   mend: {work: decide}
#   sources:
#     - "WHO Europe, heat and health advice: rooms below 24 °C at night, above all for infants, people over 60 and the chronically ill; seen second-hand"
#     - "That air outside is held against a figure for rooms: common practice, no source"
#   limits: [heat.night_mc, heat.young_months, endurance.old_months, load.unfit]
#   caution: A fan does not cool you in air above 35 °C. Confusion, hot skin or a collapse is an emergency; cool the person and call for help.
#   passes: |
#     plan: {duration: "24 h", shade: true, season: "hot", seasons: hot: {day: "34 °C", night: "18 °C", daylight: "15 h", humidity: "20 %"}}
#   fails: |
#     plan: {duration: "24 h", shade: true, season: "hot", seasons: hot: {day: "38 °C", night: "27 °C", daylight: "15 h", humidity: "20 %"}}
finding.night contains f if {
	_warm_night
	not _beds
	f := {
		"at": sprintf("plan/seasons/%s", [input.plan.season]),
		"text": sprintf("the hours of sleep average %s; a body cools down at %s or less%s", [lib.celsius(input.endurance.night_mc), lib.celsius(lib.limit("heat", "night_mc")), _for_whom]),
	}
}

_warm_night if {
	input.endurance.night_known
	input.endurance.night_mc > lib.limit("heat", "night_mc")
}

_beds if {
	input.plan.destination.beds
	input.plan.destination.kind in {"house", "shelter"}
}
