package rules.base.shelter

import data.lib

# METADATA
# title: Everyone old enough has shelter from rain and wind
# description: >-
#   Rain and wind take warmth faster than cold alone, and a person who is separated from the others must still be able to
#   stay dry for a night. Each person has some shelter, worn or in their own packs; for people who are never alone, that of
#   those beside them counts. If all ride all the way, shelter that rides along makes it a note, and to a house it is enough;
#   without any, to a house it is a warning. So it is where beds are hours away on foot, and a note where the household has
#   some shelter then. Younger children are left to separation/alone, and what an animal carries counts
#   for nobody. If people walk outside towns on freezing nights and the household has emergency blankets only, it is a
#   warning, or a note if beds are hours away.
# custom:
#   level: error
#   remedy: Add something that keeps rain and wind off, such as a tarp, a bivy bag or an emergency blanket.
#   mend: {work: add, thing: shelter, get: shelter}
#   sources:
#     - "US National Park Service, Ten Essentials (tent, space blanket, tarp, bivy), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "American Red Cross, survival kit list (emergency blanket), 2020; seen second-hand"
#     - "The age: common practice, no source"
#   limits: [shelter.means, shelter.flimsy, shelter.frost_night, shelter.soon_min, people.alone_months, people.bag_months]
#   lack: {what: shelters, unit: count}
#   caution: Never burn a stove, a lantern or coal inside a shelter; carbon monoxide kills without a smell.
#   passes: |
#     packs: rust: compartments: lid: items: tarp: {mass: "400 g", can: shelter: "tarp"}
#   fails: |
#     packs: rust: compartments: lid: items: quilt: {mass: "800 g", can: warmth: "quilt"}
finding.each_pack contains f if {
	asked := lib.limit("shelter", "means")
	some person in input.people
	lib.at_least(person, lib.limit("people", "alone_months"))
	have := sort(lib.at_hand(person, "shelter"))
	short := asked - count(have)
	short > 0
	not _rides_to_it(asked)
	bare := object.union(
		{
			"at": lib.stands(person),
			"because": lib.items(person.alone, "shelter"),
			"text": sprintf("%s has %s", [person.name, _shelters(have, asked)]),
			"lack": short,
		},
		_riding(asked),
	)
	f := lib.lack(bare, lib.unrecorded(lib.beside(person), "shelter"), short)
}

finding.each_pack contains f if {
	input.plan.season_known
	input.plan.night_mc < lib.limit("shelter", "frost_night")
	not input.plan.ridden
	{s | some s in input.plan.settings} - {"town"} != set()
	covers := lib.offers("shelter")
	covers != []
	every o in covers { o.means in lib.limit("shelter", "flimsy") }
	bare := {
		"at": input.household.id,
		"because": [o.id | some o in covers],
		"text": sprintf("nights are %s, the way leads through open country, and all shelter is %s", [
			lib.celsius(input.plan.night_mc),
			lib.and_list(sort({o.means | some o in covers})),
		]),
		"level": _flimsy_level,
		"lack": 1,
	}
	f := lib.lack_any(bare, [thing | some thing in lib.unrecorded(lib.anybody, "shelter"); not _flimsy(thing)])
}

_flimsy(thing) if {
	some means in lib.limit("shelter", "flimsy")
	sprintf("shelter:%s", [means]) in thing.may
}

_flimsy_level := "note" if {
	_beds_soon
} else := "warning"

_along(asked) if {
	input.plan.ridden
	count(lib.means("shelter")) >= asked
}

_rides_to_it(asked) if {
	_along(asked)
	lib.housed
}

# vehicle/lost says what is lost with the vehicle.
_riding(asked) := {"level": "note"} if {
	_along(asked)
} else := {"level": "note"} if {
	_beds_soon
	count(lib.means("shelter")) >= asked
} else := {"level": "warning"} if {
	input.plan.ridden
	input.plan.destination.kind == "house"
} else := {"level": "warning"} if {
	_beds_soon
} else := {}

# Beds await, and the way there takes hours.
_beds_soon if {
	input.plan.destination.beds
	lib.there_within(lib.limit("shelter", "soon_min"))
}

_shelters([], _) := "no shelter from rain and wind"

_shelters(have, asked) := sprintf("%s of shelter (%s) and needs %d", [lib.many(count(have), "kind", "kinds"), lib.and_list(have), asked]) if have != []

# METADATA
# title: Everyone has bedding that is warm enough
# description: >-
#   A cold night takes the strength for the next day, and can kill. If nights are cool, there is a sleeping bag, a quilt or a
#   blanket for each person that is warm enough by its label; a small child who is carried shares the carrier's. One without
#   a comfort temperature does not count; if that is the only doubt, it is a note. If beds await at the end of the way it is
#   a note too, and silent if they are reached within hours and hardly on foot. In an emergency shelter reached within hours,
#   bedding that is not warm enough is a note. On a freezing night a person with nothing to
#   sleep in is an error. All packs count; clothes and emergency blankets come on top, and what a child or an animal owns
#   serves nobody else.
# custom:
#   level: error
#   remedy: Write the comfort temperature from the label, replace what is too thin, or add a warmer one.
#   mend: {work: exchange, get: warm enough bedding}
#   sources:
#     - "Ready.gov/FEMA, 2022, a sleeping bag or a warm blanket for each person; seen second-hand"
#     - "BBK (Germany), emergency pack, a sleeping bag or blanket; year not seen; seen second-hand"
#     - "No stove in a house, vehicle or tent: North Carolina Department of Health and Human Services; year not seen; seen in a copy of its own page"
#     - "Gas stoves run for 15 min in a tent made unsafe carbon monoxide: Thurman et al., Wilderness and Environmental Medicine 34:513, 2023; abstract seen"
#     - "The label's comfort against the night, and the nights from which it is needed: common practice, no source"
#   limits: [shelter.warm_night, shelter.frost_night, shelter.sleep, shelter.ground, shelter.ground_cold, shelter.ground_night, people.walk_months, shelter.soon_min, load.near_foot_mm, people.alone_months]
#   caution: >-
#     Labels are for a rested adult who is dry: children and people who are old, thin, tired or unwell feel cold sooner. For
#     an infant's sleep follow a licensed practitioner. Never burn a stove or charcoal in a tent, a house
#     or a vehicle, nor near an open window: carbon monoxide has no colour and no smell, and sleepers die before they
#     notice. Headache, dizziness, weakness or nausea: everyone out at once, and call for medical help.
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: quilt: {mass: "800 g", insulation: {kind: "quilt", comfort: "0 °C"}}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: quilt: {mass: "600 g", insulation: {kind: "quilt", comfort: "8 °C"}}
finding.night_warmth contains f if {
	night := input.plan.night_mc
	input.plan.season_known
	not _soon_in_bed
	night <= lib.limit("shelter", "warm_night")
	kinds := lib.limit("shelter", "sleep")
	all := [i | some i in input.insulation; i.kind in kinds]
	warm := [i | some i in all; i.comfort_known; i.comfort_mc <= night]
	unwarm := [i | some i in all; not i in warm]
	sleepers := count(_sleepers)
	enough := _serving(warm)
	short := sleepers - enough
	short > 0
	bare := object.union(
		{
			"at": _where(unwarm),
			"because": [i.id | some i in all],
			"text": sprintf("for a night of %s, %s, and %s: %d short%s", [
				lib.celsius(night),
				_enough(enough),
				_need(sleepers),
				short,
				concat("", array.concat([sprintf("; %s", [_doubt(i)]) | some i in unwarm], _nothing_under)),
			]),
		},
		_milder(night, all, warm, sleepers),
	)
	f := lib.lack(bare, _may_warm, short - _serving([i | some i in all; not i.comfort_known]))
}

# How many people such things serve: what nobody in particular owns may go to anyone, and so may an adult's second one; a
# child's own is too short for others, and what a small child who sleeps with the carrier, or an animal, owns serves nobody else.
_serving(things) := lib.pieces([i | some i in things; not i.owner in _small_or_other]) + count({i.owner |
	some i in things
	i.count > 0
	some p in _sleepers
	i.owner == p.id
	lib.younger(p, lib.limit("people", "alone_months"))
})

_small_or_other := {a.id | some a in input.animals} | {p.id |
	some p in input.people
	lib.younger(p, lib.limit("people", "alone_months"))
}

# shelter/ground is silent then.
_nothing_under := ["; there is nothing to lie on either" | _no_bed; _pads_there == []]

# What someone may sleep in, by its name.
_may_warm := lib.unrecorded_means(lib.anybody, "insulation", lib.limit("shelter", "sleep"))

_enough(0) := "no bag, quilt or blanket is warm enough"

_enough(1) := "1 bag, quilt or blanket is warm enough"

_enough(n) := sprintf("%d bags, quilts or blankets are warm enough", [n]) if n > 1

_need(1) := "1 person needs one"

_need(n) := sprintf("%d people need one each", [n]) if n != 1

# Where one thing is not warm enough, that is what to change.
_where([one]) := one.id

_where(list) := input.household.id if count(list) != 1

_doubt(i) := sprintf("%s%s is for %s", [i.name, _whose(i), lib.celsius(i.comfort_mc)]) if i.comfort_known

_doubt(i) := sprintf("no comfort temperature is recorded for %s%s", [i.name, _whose(i)]) if not i.comfort_known

_whose(i) := concat("", [sprintf(" of %s", [p.name]) | some p in input.people; p.id == _sleeper(i)])

_sleeper(i) := i.owner if i.owner != ""

_sleeper(i) := i.carrier if i.owner == ""

# Where beds await nobody lies out but by mishap, and a thing without a figure may do.
_milder(night, all, warm, sleepers) := {"level": "note"} if {
	input.plan.destination.beds
} else := {"level": "note"} if {
	_serving(array.concat([i | some i in all; not i.comfort_known], warm)) >= sleepers
} else := {"level": "note"} if {
	_serving(all) >= sleepers
	input.plan.destination.kind == "shelter"
	lib.there_within(lib.limit("shelter", "soon_min"))
} else := {"level": "warning"} if {
	_serving(all) >= sleepers
} else := {"level": "warning"} if {
	night > lib.limit("shelter", "frost_night")
} else := {}

# Beds await, and nobody can get stuck far from them on foot.
_soon_in_bed if {
	_beds_soon
	lib.near
}

# All but the small children who share their carrier's.
_sleepers := [p | some p in input.people; not _shares(p)]

_shares(person) if {
	person.carried_by != ""
	lib.younger(person, lib.limit("people", "walk_months"))
}

# METADATA
# title: Everyone has something to lie on for cool nights
# description: >-
#   The ground takes warmth through the thickest bag, because lying on it presses it flat. If the season's nights are cool,
#   there is a pad to lie on for each person except a small child who is carried and lies with the carrier; a pad to sit on
#   is too small. On a night that is not cold it is a note. Silent if there is no bedding at all, as shelter/night-warmth
#   says both, and if beds await. All packs count, no matter who carries them.
# custom:
#   level: warning
#   remedy: Add an air pad, or a foam pad, cut to shoulder and hip if it must be light.
#   mend: {work: add, get: sleeping mat}
#   sources:
#     - "common practice, no source"
#   limits: [shelter.ground_night, shelter.ground_cold, shelter.ground, shelter.sleep, shelter.warm_night, people.walk_months, people.bag_months]
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: pad: {mass: "236 g", can: ground: "foam-pad"}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: pad: {mass: "48 g", can: ground: "sit-pad"}
finding.ground contains f if {
	plan := input.plan
	plan.season_known
	not plan.destination.beds
	plan.night_mc <= lib.limit("shelter", "ground_night")
	not _no_bed
	pads := _pads_there
	sleepers := count(_sleepers)
	short := sleepers - lib.pieces(pads)
	short > 0
	bare := object.union(
		{
			"at": array.concat([lib.stands(p) | some p in _padless(pads, short)], [input.household.id])[0],
			"because": [o.id | some o in pads],
			"text": sprintf("nights fall to %s, and the household has %s to lie on for %s: %d short", [
				lib.celsius(plan.night_mc),
				_pads(lib.pieces(pads)),
				lib.people(sleepers),
				short,
			]),
		},
		_cool(plan.night_mc),
	)
	f := lib.lack(bare, lib.unrecorded_means(lib.anybody, "ground", lib.limit("shelter", "ground")), short)
}

# Who is the one without a pad.
_padless(pads, 1) := [who[0] | who := lib.without(_sleepers, pads).who; count(who) == 1]

_pads_there := [o | means := lib.limit("shelter", "ground"); some o in lib.offers("ground"); o.means in means]

# Nobody has bedding, on a night that asks for it and for a pad, but is not so cold that a missing pad is more than a note.
_no_bed if {
	not input.plan.destination.beds
	input.plan.night_mc > lib.limit("shelter", "ground_cold")
	input.plan.night_mc <= min([lib.limit("shelter", "warm_night"), lib.limit("shelter", "ground_night")])
	[i | some i in input.insulation; i.kind in lib.limit("shelter", "sleep")] == []
}

_pads(0) := "nothing"

_pads(n) := lib.many(n, "pad", "pads") if n > 0

_cool(night) := {"level": "note"} if night > lib.limit("shelter", "ground_cold")

_cool(night) := {} if night <= lib.limit("shelter", "ground_cold")

# METADATA
# title: Bedding stays dry on the way
# description: >-
#   Wet bedding warms nobody, and rain finds the seams of a pack. If the household records what keeps things dry (compartments
#   that are waterproof or have a liner), everything that people sleep in is in such a place, waterproof by itself, or in a pack with a
#   rain cover. A household that records none is not judged, nor are warm nights and ways on which hardly anyone walks.
# custom:
#   level: note
#   remedy: "Line the pack with a strong bag rolled shut, and write can: cover: \"liner\" there, or waterproof: true if it keeps water out."
#   mend: {work: add, get: waterproof bag}
#   sources:
#     - "common practice, no source"
#   limits: [shelter.warm_night, shelter.sleep, load.near_foot_mm]
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: {liner: {mass: "60 g", can: cover: "liner"}, quilt: {mass: "800 g", insulation: {kind: "quilt", comfort: "0 °C"}}}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: {lid: waterproof: true, main: {reach: "halted", items: quilt: {mass: "800 g", insulation: {kind: "quilt", comfort: "0 °C"}}}}
finding.dry contains f if {
	input.plan.season_known
	input.plan.night_mc <= lib.limit("shelter", "warm_night")
	not lib.near
	_dry_places
	wet := [i |
		some i in input.insulation
		i.kind in lib.limit("shelter", "sleep")
		i.pack != ""
		not i.waterproof
		not i.pack in _rain_covered
	]
	f := {
		"at": wet[0].id,
		"because": [i.id | some i in wet],
		"text": sprintf("nothing is recorded that keeps %s dry in the rain", [lib.and_list([sprintf("%s%s", [i.name, _whose(i)]) | some i in wet])]),
	}
}

_dry_places if {
	some part in input.compartments
	part.waterproof
}

_dry_places if {
	some o in lib.offers("cover")
	o.means == "liner"
}

_rain_covered := {o.pack | some o in lib.offers("rain"); o.means == "pack-cover"}
