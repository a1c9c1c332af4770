package rules.base.data

import data.lib

# METADATA
# title: A stated use has the details it needs
# description: >-
#   A lamp without batteries and a stove without fuel pass every sum. A stove says what it burns, and what needs batteries
#   or a charge says which. Lamps and radios that are wound by hand have a battery of their own: write it as built in.
#   Candles, light sticks and maps need neither, and no details. What is not recorded may be there all the same, so this
#   is a note.
# custom:
#   level: note
#   remedy: Write the stove's fuels under stove, or the size of the batteries under device.
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: [data.needs_device, data.needs_stove]
#   passes: |
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3}}
#   fails: |
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp"}
finding.claim_without_means contains f if {
	some [id, name], means in _bare(lib.limit("data", "needs_device"), _devices)
	f := {
		"at": id,
		"text": sprintf("what %s runs on is not recorded; write, for example, device: %s", [name, object.get(_cells, sort(means)[0], _charged)]),
	}
}

finding.claim_without_means contains f if {
	some [id, name], means in _bare(lib.limit("data", "needs_stove"), _stoves)
	f := {
		"at": id,
		"text": sprintf("what %s burns is not recorded; write, for example, stove: burns: [\"%s\"]", [name, object.get(_burnt, sort(means)[0], "gas-mix")]),
	}
}

# The means of the things that have one of these uses and not what it takes.
_bare(needs, backed) := {[offer.id, offer.name]: means |
	some offer in _claimed(needs)
	not offer.id in backed
	means := [o.means | some o in _claimed(needs); o.id == offer.id]
}

_claimed(needs) := [offer |
	some entry in needs
	[capability, means] := split(entry, ":")
	some offer in lib.offers(capability)
	offer.means == means
]

# What a device runs on by example, and a stove.
_cells := {
	"headlamp": `{size: "AAA", runTime: "20 h"}`,
	"torch": `{size: "AA", runTime: "20 h"}`,
	"lantern": `{size: "AA", runTime: "20 h"}`,
	"receiver": `{size: "AA"}`,
}

_charged := `{size: "usb", builtIn: true}`

_burnt := {
	"alcohol-stove": "ethanol",
	"solid-fuel-stove": "hexamine",
	"wood-stove": "wood",
	"liquid-stove": "kerosene",
}

_devices := {device.id | some device in input.devices}

_stoves := {stove.id | some stove in input.stoves}

# METADATA
# title: What an item's name says is recorded
# description: >-
#   A thing with nothing recorded but its name and weight counts for no rule, though anyone who reads "whistle" knows what
#   it is for. A vocabulary of several languages suggests what to write for such names. It only suggests: a name is no
#   proof. But a rule that misses what such a thing may be is silent, and this one names it at the thing: as a warning
#   where the lack would be an error, else as a note. The same goes for food without its energy, for fuel, containers and
#   devices without their amounts, and for people without a body weight, for whom one is assumed. If your kit comes from a
#   list, start here.
# custom:
#   level: warning
#   remedy: Write the line as it stands, or what is true of the thing; if it is something else, give it a name that says what it is.
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: whistle: {mass: "20 g", can: signal: "whistle"}
#   fails: |
#     packs: rust: compartments: lid: items: whistle: mass: "20 g"
finding.not_recorded contains f if {
	some thing in input.unrecorded
	thing.what == ""
	f := {
		"at": thing.id,
		"text": sprintf("no use is recorded for “%s” (%s); if it is what its name says, write %s%s", [
			thing.name,
			_where(thing),
			thing.write,
			_ask(thing.ask),
		]),
		"level": "note",
	}
}

finding.not_recorded contains f if {
	some thing in input.unrecorded
	not thing.what in {"", "unreadable"}
	f := {
		"at": thing.id,
		"text": sprintf("the %s of “%s” (%s) is not recorded; write, for example, %s", [
			thing.what,
			thing.name,
			_where(thing),
			thing.write,
		]),
		"level": "note",
	}
}

finding.not_recorded contains f if {
	some person in input.people
	not person.body_mass_known
	f := {
		"at": sprintf("%s/bodyMass", [person.id]),
		"text": sprintf("no body weight is recorded for %s, so %s is assumed; write, for example, bodyMass: \"%s\"", [
			person.name,
			lib.planned(person.body_mass_mg),
			lib.planned(person.body_mass_mg),
		]),
		"level": "note",
	}
}

_ask("") := ""

_ask(words) := sprintf("; %s", [words]) if words != ""

_where(thing) := thing.where if thing.pack != ""

_where(thing) := "worn" if thing.pack == ""

# METADATA
# title: Every item has a recorded use
# description: >-
#   A thing that has no use may as well stay at home, and a use that is not recorded counts for no rule. One finding for
#   the household names all things whose use neither a field nor the name says; a known thing without a field of its own,
#   such as a walking stick, is left out.
# custom:
#   level: note
#   remedy: "Write can: or what it holds, or give it a name that says what it is; if no word fits, name its owner."
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: gismo: {mass: "60 g", can: repair: "cord"}
#   fails: |
#     packs: rust: compartments: lid: items: gismo: mass: "60 g"
finding.no_purpose contains f if {
	f := {
		"at": input.idle[0].id,
		"because": [thing.id | some thing in input.idle],
		"text": sprintf("no use is recorded for %s", [lib.some_names(input.idle)]),
	}
}

# METADATA
# title: No entry has a count of zero
# description: >-
#   A count of 0 keeps a line on the list while the thing is at home: it weighs nothing and counts for nothing, and on the
#   day everyone believes it is there. Things in packs and on the body are judged.
# custom:
#   level: note
#   remedy: Pack the item and count it, or take the line out.
#   mend: {work: add, get: what has a count of zero}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: cord: {count: 1, mass: "60 g"}
#   fails: |
#     packs: rust: compartments: lid: items: cord: {count: 0, mass: "60 g"}
finding.count_zero contains f if {
	some entry in input.absent
	f := {
		"at": entry.id,
		"text": sprintf("%s is listed with a count of 0", [entry.name]),
	}
}

# METADATA
# title: No food has more energy than pure fat
# description: >-
#   Pure fat is the richest food there is; a label that says more was misread, usually by taking the whole packet's energy
#   for a portion's weight. The sum of the household's food is then wrong, and someone goes hungry. The net weight counts
#   if it is recorded, else the weight as packed. Sources differ by rounding, 9 kcal or 37 kJ per gram; 9 kcal, the
#   higher, is used, so that no honest label is faulted. Animals' food is judged too.
# custom:
#   level: error
#   remedy: "Read the label again: energy and weight must be for the same amount, one of the count."
#   mend: {work: write}
#   sources:
#     - "Nutrition Coordinating Center, University of Minnesota: fat 9 kcal/g, 4.184 kJ a kcal; year not seen; seen second-hand"
#     - "FAO Food and Nutrition Paper 77, 2003: fat 37 kJ/g; seen second-hand"
#   limits: [data.energy_density]
#   passes: |
#     packs: rust: compartments: lid: items: oil: {mass: "100 g", food: energy: "900 kcal"}
#   fails: |
#     packs: rust: compartments: lid: items: oil: {mass: "100 g", food: energy: "920 kcal"}
finding.energy_density contains f if {
	most := lib.limit("data", "energy_density")
	some food in input.foods
	food.mass_known

	# In thousandths, and written out: a helper called for each food takes longer than all of this.
	over := (food.energy_j * 1000) - (most * food.net_mass_mg)
	over > 0
	f := {
		"at": sprintf("%s/food/energy", [food.id]),
		"text": sprintf("%s is recorded with %s in %s, where pure fat has %s: over by %s", [
			food.name,
			lib.energy(food.energy_j),
			lib.mass(food.net_mass_mg),
			lib.energy(lib.share_of(food.net_mass_mg, most)),
			lib.energy(lib.up(over, 1000)),
		]),
	}
}

# METADATA
# title: No water container is impossibly light
# description: >-
#   A bottle of 1000 L where 1000 ml was meant makes every sum of water wrong. The capacity is compared with the weight of
#   the container; even a thin folding bag weighs some grams per litre. Containers with water in them are judged by their
#   weight without the water. If weight or capacity is not recorded, nothing is compared.
# custom:
#   level: warning
#   remedy: Check the units of capacity and mass, and write both for one of the count.
#   mend: {work: write}
#   sources:
#     - "2 g a litre, far below any vessel weighed: common practice, no source"
#   limits: [data.vessel_mass]
#   passes: |
#     packs: rust: compartments: lid: items: bag: {mass: "20 g", container: capacity: "10 L"}
#   fails: |
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", container: capacity: "1000 L"}
finding.vessel_density contains f if {
	least := lib.limit("data", "vessel_mass")
	some vessel in input.vessels
	vessel.mass_known
	vessel.capacity_known
	short := lib.lacking(vessel.mass_mg, vessel.capacity_ml, least)
	f := {
		"at": sprintf("%s/container/capacity", [vessel.id]),
		"text": sprintf("%s is recorded as holding %s and weighing %s empty; a container that size weighs at least %s: %s short", [
			vessel.name,
			lib.litres(vessel.capacity_ml),
			lib.mass(vessel.mass_mg),
			lib.mass(lib.share_of(vessel.capacity_ml, least)),
			lib.mass(short),
		]),
	}
}

# METADATA
# title: No item is listed twice
# description: >-
#   A thing copied from one list to another is weighed twice and packed once. Entries in one compartment, or in one
#   person's pockets, with the same name, weight and owner are named. Things with a date are left out: two lots with two
#   dates are two entries. If the entries are different things, give one of them another name.
# custom:
#   level: note
#   remedy: Take one line out, write one line with a count, or give the two names that tell them apart.
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: cord: {count: 2, mass: "60 g"}
#   fails: |
#     packs: rust: compartments: lid: items: {
#     	cord: {name: "cord", mass: "60 g"}
#     	rope: {name: "cord", mass: "60 g"}
#     }
finding.duplicates contains f if {
	some twin in input.twins
	f := {
		"at": twin.id,
		"because": twin.others,
		"text": sprintf("%s is listed %d times in one place with the same weight (%s)", [
			twin.name,
			twin.count,
			lib.inside(lib.mass(twin.each_mg)),
		]),
	}
}

# METADATA
# title: The plan records what the rules need
# description: >-
#   Much is judged by the plan: food, light and nappies by how long it lasts, warmth and water by its season, maps and
#   treatment by the country and the water on the way. If the plan says nothing, those rules are silent, and silence looks
#   like praise. Water on the way need not be recorded if water awaits at the end within hours; if there is none, an empty
#   waterSources says so.
# custom:
#   level: warning
#   remedy: "Write what is missing under plan: duration, season with its weather under seasons, settings, waterSources; where there is no water on the way, waterSources: {}."
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: [data.plan, data.water_min]
#   passes: |
#     plan: {
#     	duration: "72 h", season: "flood", settings: ["town"]
#     	seasons: flood: {day: "11 °C", night: "4 °C", daylight: "10 h"}
#     	waterSources: tap: quality: "tap"
#     }
#   fails: |
#     plan: duration: "72 h"
finding.plan_written contains f if {
	asked := lib.limit("data", "plan")
	missing := [what | some what in asked; not _planned(what)]
	missing != []
	f := {
		"at": input.plan.id,
		"text": sprintf("the plan does not record its %s, so these are not judged, or only by a guess: %s", [
			lib.and_list(missing),
			concat("; ", [object.get(_silent, what, what) | some what in missing]),
		]),
	}
}

# What is not judged, or judged by a guess, without a part of the plan.
_silent := {
	"duration": "how long food, water and light must last",
	"season": "cold, heat and darkness",
	"settings": "maps and clothes for the country",
	"water sources": "water on the way",
}

# The fault at a field that could not be read says so.
_planned("duration") if "duration" in input.plan.unread

_planned("season") if {"season", "seasons"} & {field | some field in input.plan.unread} != set()

_planned("settings") if "settings" in input.plan.unread

_planned("water sources") if "waterSources" in input.plan.unread

_planned("duration") if input.plan.minutes_known

_planned("season") if input.plan.season_known

_planned("settings") if input.plan.settings != []

_planned("water sources") if input.plan.water_said

_planned("water sources") if {
	input.plan.destination.water
	lib.there_within(lib.limit("data", "water_min"))
}
