package rules.base.care

import data.lib

# METADATA
# title: Everyone who takes insulin has quick sugar at hand
# description: >-
#   Walking, fear and a missed meal bring blood sugar down within minutes. People who take insulin have quick sugar for a
#   few lows on the body, or where they can reach it in their own pack while walking; for a dependant it is with the
#   person beside them. None is an error; not enough, or deep in the pack, is a warning. If insulin is only guessed from
#   the name of a medication, it is a note.
# custom:
#   level: error
#   remedy: "Put dextrose tablets into a pocket, and write can: care: \"glucose\" there."
#   mend: {work: add, thing: care, get: quick sugar}
#   sources:
#     - "Quick sugar is on the lists of diabetes bodies and of a county health district that follows CDC; years not seen; seen second-hand"
#     - "15 g for one low, and three lows: common practice, no source"
#   limits: [care.glucose, medication.insulin_words, people.bag_months]
#   caution: Give nothing by mouth to someone who is unconscious or cannot swallow; call for help. How much, and glucagon, are for the practitioner.
#   passes: |
#     people: ana: {conditions: ["insulin"], onBody: dextrose: {mass: "50 g", can: care: "glucose"}}
#   fails: |
#     people: ana: conditions: ["insulin"]
finding.glucose contains f if {
	some person in input.people
	"insulin" in person.conditions
	f := _unless_unread(_sugar(person), person)
}

finding.glucose contains f if {
	some person in input.people
	not "insulin" in person.conditions
	some med in input.medications
	med.person == person.id
	some word in lib.limit("medication", "insulin_words")
	contains(lower(med.name), word)
	not _sugar_anywhere
	bare := {
		"at": med.id,
		"because": [],
		"level": "note",
		"text": sprintf("%s takes %s, and no quick sugar for low blood sugar is recorded", [person.name, med.name]),
	}
	f := lib.lack_any(bare, lib.unrecorded_means(lib.anybody, "care", ["glucose"]))
}

# Sugar that is not recorded may do for sugar that is not there, or not within reach, or too little.
_unless_unread(f, person) := lib.lack_any(f, lib.unrecorded_means(lib.beside(person), "care", ["glucose"]))

_sugars := [o | some o in lib.offers("care"); o.means == "glucose"]

_sugar_anywhere if count(_sugars) > 0

_sugar(person) := {
	"at": _first([o.id | some o in _sugars], sprintf("%s/conditions", [person.id])),
	"because": [person.id],
	"text": sprintf("%s takes insulin and has no quick sugar at hand", [person.name]),
} if {
	_near(person) == []
} else := {
	"at": _near(person)[0].id,
	"because": [person.id],
	"level": "warning",
	"text": sprintf("%s takes insulin and has to stop and unpack to reach the quick sugar", [person.name]),
} if {
	not _reached(person)
} else := {
	"at": _near(person)[0].id,
	"because": [person.id],
	"level": "warning",
	"text": sprintf("%s takes insulin and has %s of quick sugar at hand; %s is needed for three lows", [
		person.name,
		lib.metric_mass(_sugar_mg(person)),
		lib.metric_mass(lib.limit("care", "glucose")),
	]),
} if {
	_sugar_mg(person) < lib.limit("care", "glucose")
}

# As packed; what is not weighed is taken for enough.
_sugar_mg(person) := sum(masses) if {
	masses := [i.mass_mg | some i in input.items; i.id in {o.id | some o in _near(person)}]
	every mass in masses { mass > 0 }
}

_near(person) := [o | some o in _sugars; o.carrier in lib.beside(person)]

_reached(person) if {
	some o in _near(person)
	o.reach != "halted"
}

_first(list, _) := list[0] if list != []

_first([], otherwise) := otherwise

# METADATA
# title: Enough care supplies are packed
# description: >-
#   No shelter has test strips, needles, catheters, stoma bags or feeding sets. What a person's care uses up, as the
#   family recorded it, is packed for a week, or for the plan if that is longer. Less than the plan or the first days is
#   an error, less than the week a warning; what is past its date does not count.
# custom:
#   level: error
#   remedy: Pack the missing ones, and share them out over two packs.
#   mend: {work: add, get: care supplies}
#   sources:
#     - "CDC, personal health preparedness, 7 to 10 days of prescriptions; year not seen; seen in a copy of its own page"
#     - "Diabetes supplies for 1 to 2 weeks: a county health district in CDC's words; year not seen; seen second-hand"
#   limits: [care.days, care.sure_days]
#   lack: {what: care supplies, unit: milli}
#   caution: Put used needles into a box that they cannot pierce. Never reuse what is made for one use without asking a practitioner.
#   passes: |
#     people: ana: consumables: strips: {name: "test strips", perDay: 4}
#     packs: rust: compartments: lid: items: strips: {mass: "30 g", care: {person: "ana", of: "strips", uses: 28}}
#   fails: |
#     people: ana: consumables: strips: {name: "test strips", perDay: 4}
#     packs: rust: compartments: lid: items: strips: {mass: "30 g", care: {person: "ana", of: "strips", uses: 27}}
finding.consumables contains f if {
	some used in input.consumables
	need := max([used.per_day_milli * lib.limit("care", "days"), _for_plan(used)])
	short := need - used.have_milli
	short > 0
	f := {
		"at": _first(used.items, used.id),
		"because": array.concat([used.id], used.items),
		"text": sprintf("%s: %s has %s and needs %s (%s a day, %s): %s short", [
			used.name,
			used.person_name,
			_how_many(used.have_milli),
			lib.milli(need),
			lib.milli(used.per_day_milli),
			_how_long,
			lib.milli(short),
		]),
		"lack": short,
		"level": _short_level(used),
	}
}

# A plan may be longer than the days that are needed at least.
_how_long := "until the plan ends" if {
	input.plan.minutes > lib.limit("care", "days") * lib.day_min
} else := sprintf("for %s", [lib.days(lib.limit("care", "days"))])

_how_many(0) := "none"

_how_many(milli) := lib.milli(milli) if milli > 0

_for_plan(used) := lib.up(used.per_day_milli * input.plan.minutes, lib.day_min)

_short_level(used) := "error" if {
	used.have_milli < max([used.per_day_milli * lib.limit("care", "sure_days"), _for_plan(used)])
} else := "warning"

# METADATA
# title: Medical devices have power for the whole plan
# description: >-
#   When the mains fail, a device that helps someone breathe runs on what was packed. The energy of the batteries that are
#   recorded for a device, less what is lost on the way, covers the plan, or the first days if no duration is recorded. If
#   the way ends in a house, it covers the time until the household is there. Less than one day's is an error, less than
#   all of it a warning; a battery whose energy is not recorded is a note.
# custom:
#   level: error
#   remedy: "Add a battery or a lead for the car, name the device under for of the battery's cells, and tell the supplier and the emergency service early."
#   mend: {work: add, get: power for medical devices}
#   sources:
#     - "That 10 to 20 % are lost: a calculator's page for such devices; year not seen; seen second-hand"
#     - "Batteries as a stock for people who need power: a city's fire department on oxygen; year not seen; seen second-hand"
#     - "That they cover the plan: common practice, no source"
#   limits: [care.power_share, care.sure_days]
#   caution: The plate of the device decides, not an average. Never run a generator indoors or near a window. Ask the practitioner what to do when it stops.
#   passes: |
#     plan: duration: "24 h"
#     people: ana: devices: cpap: {name: "CPAP", power: "40 W", hoursPerDay: "8 h"}
#     packs: rust: compartments: lid: items: brick: {mass: "3 kg", cells: {size: "usb", chemistry: "lithium-ion", energy: "400 Wh", for: "cpap"}}
#   fails: |
#     plan: duration: "24 h"
#     people: ana: devices: cpap: {name: "CPAP", power: "40 W", hoursPerDay: "8 h"}
#     packs: rust: compartments: lid: items: brick: {mass: "3 kg", cells: {size: "usb", chemistry: "lithium-ion", energy: "300 Wh", for: "cpap"}}
finding.powered contains f if {
	some device in input.care_devices
	device.unknown == []
	usable := lib.down(device.stored_mwh * lib.limit("care", "power_share"), 1000)
	short := _drawn(device, _dark) - usable
	short > 0
	bare := {
		"at": _first(device.items, device.id),
		"because": array.concat([device.id], device.items),
		"text": sprintf("%s (%s) needs %s for %s, and its batteries give %s: %s short", [
			device.name,
			device.person_name,
			_wh(_drawn(device, _dark)),
			lib.hours(_dark),
			_wh(usable),
			_wh(short),
		]),
		"level": _power_level(usable, device),
	}
	f := lib.lack_any(bare, lib.unrecorded_means(lib.anybody, "cells", ["usb"]))
}

finding.powered contains f if {
	some device in input.care_devices
	f := {
		"at": device.unknown[0],
		"because": array.concat([device.id], device.unknown),
		"text": sprintf("no energy is recorded for the batteries of %s (%s)", [device.name, device.person_name]),
		"level": "note",
	}
}

# Minutes to be lived through: those of the plan, or of the first days where no duration is written.
_until := input.plan.minutes if input.plan.minutes_known

_until := lib.limit("care", "sure_days") * lib.day_min if not input.plan.minutes_known

# Minutes without mains: where the way ends in a house, those until the household is there.
_dark := min([_until, (input.plan.legs[count(input.plan.legs) - 1].end_hour + 1) * lib.hour_min]) if lib.housed

_dark := _until if not lib.housed

# What a device takes in some minutes of the plan, in mWh: its power for its share of them.
_drawn(device, minutes) := lib.up((device.power_mw * device.min_per_day) * minutes, lib.hour_min * lib.day_min)

_power_level(usable, device) := "error" if {
	usable < _drawn(device, min([_dark, lib.day_min]))
} else := "warning"

_wh(mwh) := sprintf("%s Wh", [lib.milli(mwh)])

# METADATA
# title: Hearing aids have spare batteries for the whole plan
# description: >-
#   The battery of a hearing aid lasts a few days, and runs down from the moment its tab is off. For each aid there are
#   sealed batteries of its size for the plan, or for the first days if no duration is recorded; the shortest life that
#   makers print is used. Aids that are charged need a power bank instead.
# custom:
#   level: warning
#   remedy: Pack a sealed strip of batteries of that size, and keep it dry and warm.
#   mend: {work: add, get: batteries for hearing aids}
#   sources:
#     - "A trade page for hearing care, 2018: 10 lasts 3 to 7 days, 312 4 to 10, 13 6 to 14, 675 9 to 20; seen second-hand"
#   limits: [care.cell_days_10, care.cell_days_312, care.cell_days_13, care.cell_days_675, care.sure_days]
#   lack: {what: batteries for hearing aids, unit: count}
#   caution: "A swallowed button cell burns within two hours: call for help at once. Keep button cells away from children and animals."
#   passes: |
#     plan: duration: "72 h"
#     people: ana: hearingAids: {count: 2, size: "312"}
#     packs: rust: compartments: lid: items: strip: {mass: "5 g", cells: {size: "312", chemistry: "zinc-air", cells: 2}}
#   fails: |
#     plan: duration: "72 h"
#     people: ana: hearingAids: {count: 2, size: "312"}
#     packs: rust: compartments: lid: items: strip: {mass: "5 g", cells: {size: "312", chemistry: "zinc-air", cells: 1}}
finding.hearing_cells contains f if {
	some size in {p.hearing_aid_size | some p in input.people}
	life := _cell_days(size)
	wearers := [p | some p in input.people; p.hearing_aid_size == size]
	need := sum([p.hearing_aids | some p in wearers]) * lib.up(_until, life * lib.day_min)
	spare := [c | some c in input.cells; c.size == size]
	short := need - sum([c.count | some c in spare])
	short > 0
	bare := {
		"at": _first([c.id | some c in spare], sprintf("%s/hearingAids", [wearers[0].id])),
		"because": [sprintf("%s/hearingAids", [p.id]) | some p in wearers],
		"text": sprintf("the hearing aids of %s need %s of size %s for %s: %d short", [
			lib.and_list([p.name | some p in wearers]),
			lib.many(need, "battery", "batteries"),
			size,
			lib.hours(_until),
			short,
		]),
		"lack": short,
	}
	f := lib.lack_any(bare, lib.unrecorded_means(lib.anybody, "cells", ["zinc-air"]))
}

_cell_days("10") := lib.limit("care", "cell_days_10")

_cell_days("312") := lib.limit("care", "cell_days_312")

_cell_days("13") := lib.limit("care", "cell_days_13")

_cell_days("675") := lib.limit("care", "cell_days_675")

# METADATA
# title: Warnings reach people who cannot hear or see
# description: >-
#   A siren does not warn someone who cannot hear it. A person who cannot hear has an alarm that is felt or seen, or
#   someone beside them, and something to write with; for a person who hears badly it is a note, unless two grown people
#   in the household hear. A person who cannot see has a named guide.
# custom:
#   level: warning
#   remedy: Name who is beside them (with) or guides them (helpedBy), or get an alarm that shakes or flashes and a pencil with paper.
#   mend: {work: write}
#   sources:
#     - "Civil Defence (New Zealand), plan for those who need help to be warned; year not seen; seen in a copy of its own page"
#     - "Clark-Carter 1986, Ergonomics 29:779: blind people walk near the normal pace with a guide; seen in a copy of its abstract"
#   limits: [care.hearers]
#   caution: Ask what help is wanted, and do not pull anyone along. Give a neighbour a key, and agree who comes.
#   passes: |
#     people: ana: hears: "no"
#     packs: rust: compartments: lid: items: {shaker: {mass: "90 g", can: care: "felt-alarm"}, pad: {mass: "40 g", can: write: "pencil"}}
#   fails: |
#     people: ana: hears: "no"
#     packs: rust: compartments: lid: items: pad: {mass: "40 g", can: write: "pencil"}
finding.alert contains f if {
	some person in input.people
	person.hears == "no"
	lacks := array.concat(
		["alarm that is felt or seen, nor anyone beside them" | not _warned(person)],
		[_pencil | lib.offers("write") == []],
	)
	some part in lib.parted(lacks, {word: [thing | word == _pencil; some thing in lib.unrecorded(lib.anybody, "write")] | some word in lacks})
	bare := {
		"at": sprintf("%s/hears", [person.id]),
		"because": [],
		"text": sprintf("%s cannot hear, and there is no %s", [person.name, concat(", and no ", part.keys)]),
	}
	f := lib.lack_any(bare, part.may)
}

finding.alert contains f if {
	some person in input.people
	person.sees == "no"
	not _accompanied(person)
	f := {
		"at": sprintf("%s/sees", [person.id]),
		"because": [],
		"text": sprintf("%s cannot see, and nobody is named as their guide", [person.name]),
	}
}

finding.alert contains f if {
	some person in input.people
	person.hears == "badly"
	not _warned(person)
	count([p | some p in input.people; p.adult; p.hears == ""]) < lib.limit("care", "hearers")
	bare := {
		"at": sprintf("%s/hears", [person.id]),
		"because": [],
		"text": sprintf("%s hears badly, and there is no alarm that is felt or seen, nor anyone named beside them to wake them", [person.name]),
		"level": "note",
	}
	f := lib.lack_any(bare, lib.unrecorded(lib.anybody, "care:felt-alarm"))
}

_pencil := "pencil to write with"

_warned(person) if _accompanied(person)

_warned(_) if {
	some o in lib.offers("care")
	o.means in {"felt-alarm", "light-alarm"}
}

_accompanied(person) if person.helped_by != ""

_accompanied(person) if person.with != []

_accompanied(person) if person.carried_by != ""
