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

_charged(device) if device.built_in

_charged(device) if device.size == "usb"

_on_animal(device) if {
	some animal in input.animals
	animal.id == device.carrier
}
