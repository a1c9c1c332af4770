package rules.base.power_test

import data.rules.base.power

facts(devices, cells) := {
	"animals": [{"id": "animals/bo"}],
	"devices": [object.union(
		{
			"id": "packs/rust/lamp",
			"name": "Lamp",
			"carrier": "people/ana",
			"size": "AAA",
			"built_in": false,
			"cells_needed": 3,
			"spare_cells": 3,
		},
		d,
	) |
		some d in devices
	],
	"cells": [object.union({"id": "packs/rust/spares", "name": "Spares", "size": "AA", "fit_devices": 1}, c) | some c in cells],
}

test_cells_fit_devices_at_the_limit if {
	count(power.finding.cells_fit_devices) == 0 with input as facts([{}], [{}])
}

test_cells_fit_devices_one_cell_too_few if {
	power.finding.cells_fit_devices == {{
		"at": "packs/rust/lamp",
		"text": "Lamp takes 3 AAA cells and its carrier has 2 spare; 3 are asked: 1 too few",
	}} with input as facts([{"spare_cells": 2}], [])
}

test_cells_fit_devices_of_one_cell if {
	power.finding.cells_fit_devices == {{
		"at": "packs/rust/lamp",
		"text": "Lamp takes 1 AAA cell and its carrier has 0 spare; 1 are asked: 1 too few",
	}} with input as facts([{"cells_needed": 1, "spare_cells": 0}], [])
}

charged := [
	{"size": "18650", "built_in": true, "cells_needed": 0},
	{"size": "usb", "cells_needed": 0},
]

test_cells_fit_devices_charged_at_the_limit if {
	devices := [object.union(d, {"spare_cells": 1}) | some d in charged]
	count(power.finding.cells_fit_devices) == 0 with input as facts(devices, [])
}

test_cells_fit_devices_charged_one_too_few if {
	every d in charged {
		power.finding.cells_fit_devices == {{
			"at": "packs/rust/lamp",
			"text": "Lamp is charged and its carrier has 0 power banks; 1 asked: 1 too few",
		}} with input as facts([object.union(d, {"spare_cells": 0})], [])
	}
}

test_cells_fit_devices_idle_cells if {
	power.finding.cells_fit_devices == {{
		"at": "packs/rust/spares",
		"text": "Spares (size AA) fits 0 devices of the household; 1 asked: 1 too few",
	}} with input as facts([], [{"fit_devices": 0}])
}

test_cells_fit_devices_not_asked_of_animals if {
	devices := [object.union(d, {"spare_cells": 0, "carrier": "animals/bo"}) | some d in array.concat([{}], charged)]
	count(power.finding.cells_fit_devices) == 0 with input as facts(devices, [])
}
