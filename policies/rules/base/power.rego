package rules.base.power

import data.lib

# METADATA
# title: Spare cells fit the devices
# description: >-
#   A dead lamp is a dead weight, and so is a cell that fits nothing. Each device of a
#   person has one filling of spare cells with the same person, or a power bank where it is
#   charged; each spare cell has a device somewhere in the household.
#   Devices borne by animals are not asked for spares.
# custom:
#   level: warning
#   remedy: Add cells of the size named, or settle on devices that take one size.
#   mend: {work: add}
#   sources:
#     - "Spare batteries are on every household list read, such as Ready.gov/FEMA 2022 (second-hand) and NYC Emergency Management (copy of its own page); none gives a number"
#     - "One filling, with the same person: common practice, no source"
#   limits: [power.fillings, power.banks, power.devices]
#   caution: Keep loose cells in a case, button cells away from children, and lithium cells from heat and blows; follow the label.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3}}
#     	spares: {mass: "36 g", cells: {size: "AAA", chemistry: "alkaline", cells: 3}}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: {
#     	lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3}}
#     	spares: {mass: "69 g", cells: {size: "AA", chemistry: "alkaline", cells: 3}}
#     }
finding.cells_fit_devices contains f if {
	some f in (_bare | (_unpowered | _idle))
}

# Devices whose cells can be changed.
_bare contains f if {
	some device in input.devices
	not _on_animal(device)
	asked := device.cells_needed * lib.limit("power", "fillings")
	short := asked - device.spare_cells
	short > 0
	f := {
		"at": device.id,
		"text": sprintf("%s takes %s and its carrier has %d spare; %d are asked: %d too few", [
			device.name,
			lib.many(device.cells_needed, sprintf("%s cell", [device.size]), sprintf("%s cells", [device.size])),
			device.spare_cells,
			asked,
			short,
		]),
	}
}

# Devices that are charged.
_unpowered contains f if {
	some device in input.devices
	_charged(device)
	not _on_animal(device)
	short := lib.limit("power", "banks") - device.spare_cells
	short > 0
	f := {
		"at": device.id,
		"text": sprintf("%s is charged and its carrier has %s; %d asked: %d too few", [
			device.name,
			lib.many(device.spare_cells, "power bank", "power banks"),
			lib.limit("power", "banks"),
			short,
		]),
	}
}

# Cells that fit nothing.
_idle contains f if {
	some cells in input.cells
	short := lib.limit("power", "devices") - cells.fit_devices
	short > 0
	f := {
		"at": cells.id,
		"text": sprintf("%s (size %s) fits %s of the household; %d asked: %d too few", [
			cells.name,
			cells.size,
			lib.many(cells.fit_devices, "device", "devices"),
			lib.limit("power", "devices"),
			short,
		]),
	}
}

# What is wound by hand or by the sun needs no bank.
_charged(device) if {
	device.built_in
	not device.self_powered
}

_charged(device) if {
	device.size == "usb"
	not device.self_powered
}

_on_animal(device) if {
	some animal in input.animals
	animal.id == device.carrier
}

# METADATA
# title: Spare cells of one kind
# description: >-
#   Cells of one size and two chemistries look alike in the dark, and a device filled
#   with both may leak or stop early. The spare cells of one size with one carrier are of
#   one chemistry; power banks, which go into no device, are not asked. What is in a
#   device already is not known here.
# custom:
#   level: note
#   remedy: Keep one of the kinds named, and leave the others of that size at home or with another carrier.
#   mend: {work: leave}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: Do not mix kinds, or old and new cells, in one device; follow the label of the cells and of the device.
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
		"text": sprintf("the spare %s cells with one carrier (%s) are of %d kinds, %s; 1 is asked: %d too many", [
			first.size,
			lib.and_list([c.name | some c in same]),
			count(kinds),
			lib.and_list(kinds),
			count(kinds) - 1,
		]),
	}
}

# METADATA
# title: A power bank for the phone
# description: >-
#   A phone holds the numbers, the warnings and often the map, and is empty within a day
#   or two of searching for a network. Banks are counted over the whole household; of a
#   phone that is written as a device, power/cells-fit-devices asks for one with its carrier
#   as well. A charger needs a socket and a solar panel the sun, so they are not counted.
#   A household without a phone is not asked.
# custom:
#   level: warning
#   remedy: Add a charged power bank and its cable, and write it under cells as size usb.
#   mend: {work: add}
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
	phones := [o | some o in lib.offers("communicate"); o.means == "phone"]
	count(phones) > 0
	asked := lib.limit("power", "phone_banks")
	banks := sum([c.count | some c in input.cells; c.size == "usb"])
	short := asked - banks
	short > 0
	f := {
		"at": input.household.id,
		"because": [o.id | some o in phones],
		"text": sprintf("the household has %s and %s; %d asked: %d too few", [
			lib.many(lib.pieces(phones), "phone", "phones"),
			lib.many(banks, "power bank", "power banks"),
			asked,
			short,
		]),
	}
}

# METADATA
# title: The running time of each lamp is written
# description: >-
#   A lamp whose hours nobody knows cannot be held against the dark hours of the plan, so
#   endurance/light does not judge the household. Lamps borne by animals are not asked.
# custom:
#   level: note
#   remedy: Run the lamp on one filling as you would use it, or read its label, and write the hours as runTime under device.
#   mend: {work: check}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3, runTime: "30 h"}}
#   fails: |
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3}}
finding.run_time_written contains f if {
	some device in input.devices
	device.light
	not device.run_known
	not _on_animal(device)
	f := {
		"at": device.id,
		"text": sprintf("%s gives light, and how long it runs on one filling is not written", [device.name]),
	}
}
