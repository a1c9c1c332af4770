package rules.base.power

import data.lib

# METADATA
# title: Each device has spare power that fits
# description: >-
#   A dead radio is a dead weight, and so is a battery that fits nothing. For each size, the household has one set of spare
#   batteries for its devices, no matter who carries them, and a power bank if they are charged; what is known to run for a
#   good part of the plan on one set needs none. Each spare battery fits a recorded device or a hearing aid, and
#   if there is no spare for a person's own devices, theirs do not fit only what others have.
#   power/phone-bank speaks of phones; endurance/light of lamps, if the plan's dark hours are known; radio/receiver of radios
#   for the news, if none works. Devices carried by animals and those that power themselves need none.
# custom:
#   level: note
#   remedy: Add spare batteries of the size named, or record the device that takes those that seem to fit nothing.
#   mend: {work: add, get: spare batteries}
#   sources:
#     - "Spare batteries are on every household list read, such as Ready.gov/FEMA 2022 (second-hand) and NYC Emergency Management (copy of its own page); none gives a number"
#     - "One filling, and the part of the plan: common practice, no source"
#   limits: [power.fillings, power.banks, power.run_share, radio.news]
#   caution: Keep loose batteries in a case, button cells away from children, and lithium ones from heat and blows; follow the label.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	radio: {mass: "180 g", can: communicate: "receiver", device: {size: "AAA", cells: 3}}
#     	spares: {mass: "36 g", cells: {size: "AAA", chemistry: "alkaline", cells: 3}}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: {
#     	radio: {mass: "180 g", can: communicate: "receiver", device: {size: "AAA", cells: 3}}
#     	spares: {mass: "69 g", cells: {size: "AA", chemistry: "alkaline", cells: 3}}
#     }
finding.cells_fit_devices contains f if {
	some f in ((_bare | _astray) | (_unpowered | _idle))
}

# Devices whose batteries can be changed, by size.
_bare contains f if {
	some size in {d.size | some d in _asked}
	devices := [d | some d in _asked; d.size == size; d.cells_needed > 0]
	have := sum([c.count | some c in input.cells; c.size == size])
	need := sum([d.cells_needed | some d in devices]) * lib.limit("power", "fillings")
	short := need - have
	short > 0
	bare := {
		"at": devices[0].id,
		"because": [d.id | some d in devices],
		"text": sprintf("%s %s %d spare %s %s, and the household has %s: %d short", [
			lib.names(devices),
			_takes(count(devices)),
			need,
			size,
			_battery(need),
			_or_none(have),
			short,
		]),
	}
	f := lib.lack_any(bare, [thing | some thing in lib.unrecorded(lib.anybody, "cells"); thing.what != "cell size"; not "cells:usb" in thing.may])
}

_may_be_banks := lib.unrecorded_means(lib.anybody, "cells", ["usb"])

_or_none(0) := "none"

_or_none(n) := sprintf("%d", [n]) if n > 0

_takes(1) := "takes"

_takes(n) := "take" if n > 1

_battery(1) := "battery"

_battery(n) := "batteries" if n > 1

# A person's spares fit nothing of theirs, while of the size that their own devices take the household has none.
_astray contains f if {
	some who in {c.carrier | some c in input.cells; c.carrier != ""}
	theirs := [d | some d in input.devices; d.carrier == who; d.cells_needed > 0; not d.self_powered]
	sizes := {d.size | some d in theirs}
	bare := sizes - {c.size | some c in input.cells}
	bare != set()
	wrong := [c | some c in input.cells; c.carrier == who; c.size != "usb"; c.fit_devices > 0; not c.size in sizes]
	some person in input.people
	person.id == who
	f := {
		"at": wrong[0].id,
		"because": array.concat([c.id | some c in wrong], [d.id | some d in theirs; d.size in bare]),
		"text": sprintf("%s has %s, and their own devices take %s, of which the household has no spare battery", [
			person.name,
			lib.names(wrong),
			lib.and_list(sort(bare)),
		]),
	}
}

# Devices that are charged; where there are phones, the bank that these need serves.
_unpowered contains f if {
	_phones == []
	devices := [d | some d in _asked; d.cells_needed == 0]
	short := lib.limit("power", "banks") - _banks
	short > 0
	bare := {
		"at": devices[0].id,
		"because": [d.id | some d in devices],
		"text": sprintf("%s %s, and the household has %s", [
			lib.names(devices),
			_is_charged(count(devices)),
			_no_banks(short),
		]),
	}
	f := lib.lack(bare, _may_be_banks, short)
}

_is_charged(1) := "is charged"

_is_charged(n) := "are charged" if n > 1

_no_banks(_) := "no power bank" if _banks == 0

_no_banks(short) := sprintf("%s: %d short", [lib.many(_banks, "power bank", "power banks"), short]) if _banks > 0

# Batteries that fit nothing that is recorded, by size; a power bank always serves.
_idle contains f if {
	some size in {c.size | some c in input.cells}
	not size in _of_use
	idle := [c | some c in input.cells; c.size == size; c.fit_devices == 0]
	first := idle[0]
	bare := {
		"at": first.id,
		"because": [c.id | some c in idle],
		"text": sprintf("%s: no device that takes size %s is recorded", [lib.names(idle), size]),
	}
	f := lib.lack_any(bare, array.concat(lib.unrecorded(lib.anybody, "light"), lib.unrecorded_means(lib.anybody, "communicate", ["receiver", "radio"])))
}

_of_use := {"usb"} | {p.hearing_aid_size | some p in input.people}

# The devices that are asked for spares here.
_asked := [d |
	some d in input.devices
	not d.phone
	not d.self_powered
	not _on_animal(d)
	not _lamp_in_forecast(d)
	not _said_of_news(d)
	not _runs_on(d)
]

# radio/receiver says it: no radio for the news has cells.
_said_of_news(device) if {
	not lib.hears_news
	some radio in lib.news_radios
	radio.id == device.id
}

# A device that runs for a good part of the plan on what is in it.
_runs_on(device) if {
	device.run_known
	not device.empty
	not lib.lacking(device.run_min, input.endurance.minutes, lib.limit("power", "run_share"))
}

_lamp_in_forecast(device) if {
	device.light
	some stock in input.endurance.stocks
	stock.kind == "light"
	stock.known
}

_on_animal(device) if {
	some animal in input.animals
	animal.id == device.carrier
}

_banks := sum([c.count | some c in input.cells; c.size == "usb"])

# What speaks or shows the way as a phone, also one that is empty.
_phones := sort({o.id | some o in lib.offers("communicate"); o.means == "phone"} | {u.item | some u in input.useless; u.means == "phone"})

# METADATA
# title: Spare batteries of one size are one type
# description: >-
#   Batteries of one size and two types look alike in the dark, and a device filled with both may leak or stop early. The
#   spare batteries of one size with one carrier are of one type; power banks, which go into no device, are left out. What is
#   in a device already is not known here.
# custom:
#   level: note
#   remedy: Keep one of the types named, and leave the others of that size at home or with another carrier.
#   mend: {work: leave}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: Do not mix types, or old and new batteries, in one device; follow the labels of batteries and device.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	spares: {mass: "36 g", cells: {size: "AAA", chemistry: "lithium", cells: 3}}
#     	more: {mass: "69 g", cells: {size: "AA", chemistry: "alkaline", cells: 3}}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: {
#     	spares: {mass: "24 g", cells: {size: "AAA", chemistry: "lithium", cells: 3}}
#     	more: {mass: "36 g", cells: {size: "AAA", chemistry: "alkaline", cells: 3}}
#     }
finding.mixed_chemistry contains f if {
	some first in input.cells
	first.size != "usb"
	same := [c | some c in input.cells; c.carrier == first.carrier; c.size == first.size]
	first.id == min({c.id | some c in same})
	kinds := sort({c.chemistry | some c in same})
	count(kinds) > 1
	f := {
		"at": first.id,
		"because": [c.id | some c in same],
		"text": sprintf("the spare %s batteries with one carrier are of %d types, %s: %s", [
			first.size,
			count(kinds),
			lib.and_list(kinds),
			lib.names(same),
		]),
	}
}

# METADATA
# title: Phones have a power bank
# description: >-
#   A phone holds the numbers, the warnings and often the map, and is empty after a day or two of searching for a network.
#   People take their phones along whether or not they are recorded, so each household is judged. Power banks count for the
#   whole household. A charger needs a socket and a solar panel the sun, so they do not count.
# custom:
#   level: warning
#   remedy: Add a charged power bank and its cable, and write it under cells as size usb.
#   mend: {work: add, get: power bank}
#   sources:
#     - "A backup battery or power bank for the phone: Ready.gov/FEMA, 2022, and Prepare (UK), 2024, seen second-hand; NYC Emergency Management, year not seen, seen in a copy of its own page; none gives a number"
#     - "One for the household: common practice, no source"
#   limits: [power.phone_banks]
#   caution: Keep a power bank from heat, water and blows, and do not use one that is swollen; follow the label.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	phone: {mass: "190 g", can: communicate: "phone"}
#     	bank: {mass: "180 g", cells: {size: "usb", chemistry: "lithium-ion", energy: "37 Wh"}}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: phone: {mass: "190 g", can: communicate: "phone"}
finding.phone_bank contains f if {
	short := lib.limit("power", "phone_banks") - _banks
	short > 0
	bare := {
		"at": array.concat(_phones, [input.household.id])[0],
		"because": _phones,
		"text": sprintf("the household has %s", [_for_phones(short)]),
	}
	f := lib.lack(bare, _may_be_banks, short)
}

_for_phones(_) := "no power bank for phones" if _banks == 0

_for_phones(short) := sprintf("%s for phones: %d short", [lib.many(_banks, "power bank", "power banks"), short]) if _banks > 0

# METADATA
# title: Spare batteries work in hard frost
# description: >-
#   Alkaline batteries give little in hard frost, and a lamp is dim just then. On such nights some spare batteries of each
#   size are of a type that works in the cold, or are carried on the body.
# custom:
#   level: note
#   remedy: Take lithium batteries for the lamps, or carry the spare ones in an inner pocket and warm those from the lamp in your hand.
#   mend: {work: exchange, get: batteries for frost}
#   sources:
#     - "Makers' data sheets: alkaline cells from -18 °C on, with about half of their charge at -10 °C; lithium cells from -40 °C on; from memory"
#     - "The night from which it is said: common practice, no source"
#   limits: [power.weak_mc, power.weak_chemistries]
#   caution: Never warm a battery at a stove or a fire.
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "-4 °C", night: "-12 °C", daylight: "7 h"}}
#     packs: rust: compartments: lid: items: spares: {mass: "24 g", cells: {size: "AAA", chemistry: "lithium", cells: 3}}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "-4 °C", night: "-12 °C", daylight: "7 h"}}
#     packs: rust: compartments: lid: items: spares: {mass: "36 g", cells: {size: "AAA", chemistry: "alkaline", cells: 3}}
finding.cold_cells contains f if {
	input.plan.season_known
	input.plan.night_mc <= lib.limit("power", "weak_mc")
	weak := [c | some c in input.cells; not _works_in_frost(c.size)]
	sizes := {c.size | some c in weak}
	f := {
		"at": weak[0].id,
		"because": array.concat(["plan/season"], [c.id | some c in weak]),
		"text": sprintf("nights fall to %s, and all spare %s batteries are of a type that gives little in such cold (%s)", [
			lib.celsius(input.plan.night_mc),
			lib.and_list(sort(sizes)),
			lib.and_list(sort({c.chemistry | some c in weak})),
		]),
	}
}

_weak(cell) if {
	cell.chemistry in lib.limit("power", "weak_chemistries")
	cell.pack != ""
}

# Of this size the household has some that work in the cold.
_works_in_frost(size) if {
	some cell in input.cells
	cell.size == size
	not _weak(cell)
}

# METADATA
# title: Power banks are charged above freezing
# description: >-
#   Charging below freezing damages lithium-ion cells, and in the morning sun the power bank is still as cold as the night.
#   Judged on nights of frost if there is a solar panel to charge with.
# custom:
#   level: note
#   remedy: Carry the power bank in an inner pocket, by night too, and charge it only once it is warm; take it along full.
#   mend: {work: move}
#   sources:
#     - "Lithium-ion cells: charging 0 to 45 °C, use -20 to 60 °C; makers' questions and answers, year not seen; seen second-hand"
#   limits: [power.charge_mc]
#   caution: Never warm a battery at a stove or a fire.
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "2 °C", night: "0 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: panel: {mass: "300 g", can: charge: "solar-panel"}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "2 °C", night: "-4 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: panel: {mass: "300 g", can: charge: "solar-panel"}
finding.cold_charge contains f if {
	input.plan.season_known
	input.plan.night_mc < lib.limit("power", "charge_mc")
	panels := [o.id | some o in lib.offers("charge"); o.means == "solar-panel"]
	first := panels[0]
	f := {
		"at": first,
		"because": panels,
		"text": sprintf("nights fall to %s, and what the panel charges must be warmer than %s first", [
			lib.celsius(input.plan.night_mc),
			lib.celsius(lib.limit("power", "charge_mc")),
		]),
	}
}

# METADATA
# title: Batteries stay out of the heat
# description: >-
#   Lithium-ion cells may be charged up to 45 °C and used up to 60 °C; on a day as hot as that a phone in the sun switches
#   off, and a power bank that is charged there may swell. Judged if the plan's days are as hot.
# custom:
#   level: note
#   remedy: Keep phone and power bank in the shade in the middle of the pack, charge them at night, and keep a map and the numbers on paper.
#   mend: {work: move}
#   sources:
#     - "Lithium-ion cells: charging 0 to 45 °C, use -20 to 60 °C; makers' questions and answers, year not seen; seen second-hand"
#   limits: [power.heat_mc]
#   caution: Do not use or charge a battery that is swollen, and never leave one in a parked car.
#   passes: |
#     plan: {season: "heat", seasons: heat: {day: "44 °C", night: "30 °C", daylight: "13 h"}}
#     packs: rust: compartments: lid: items: bank: {mass: "180 g", cells: {size: "usb", chemistry: "lithium-ion", energy: "37 Wh"}}
#   fails: |
#     plan: {season: "heat", seasons: heat: {day: "46 °C", night: "30 °C", daylight: "13 h"}}
#     packs: rust: compartments: lid: items: bank: {mass: "180 g", cells: {size: "usb", chemistry: "lithium-ion", energy: "37 Wh"}}
finding.heat contains f if {
	input.plan.season_known
	input.plan.day_mc > lib.limit("power", "heat_mc")
	things := array.concat([c.id | some c in input.cells; c.chemistry == "lithium-ion"], _phones)
	f := {
		"at": things[0],
		"because": things,
		"text": sprintf("days reach %s; lithium-ion batteries must not be charged above %s, and phones in the sun switch off", [
			lib.celsius(input.plan.day_mc),
			lib.celsius(lib.limit("power", "heat_mc")),
		]),
	}
}

# METADATA
# title: Each lamp's running time is recorded
# description: >-
#   A lamp whose running time nobody knows cannot be compared with the dark hours of the plan, so endurance/light takes it
#   for endless. Lamps carried by animals are left out.
# custom:
#   level: note
#   remedy: Run the lamp on one set of batteries as you would use it, or read its label, and write the hours as runTime under device.
#   mend: {work: check}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3, runTime: "30 h"}}
#   fails: |
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3}}
finding.run_time_written contains f if {
	lamps := [d | some d in input.devices; d.light; not d.run_known; not d.self_powered; not _on_animal(d)]
	first := lamps[0]
	f := {
		"at": first.id,
		"because": [d.id | some d in lamps],
		"text": sprintf("no running time is recorded for %s", [lib.names(lamps)]),
	}
}
