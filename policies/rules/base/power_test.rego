package rules.base.power_test

import data.lib.testing_test as t
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

# Cells with ids of their own.
mix(more) := {"cells": [object.union(t.cells({"id": sprintf("packs/rust/%d", [i]), "name": sprintf("Set %d", [i])}), m) | some i, m in more]}

test_mixed_chemistry_of_one_kind if {
	count(power.finding.mixed_chemistry) == 0 with input as mix([{}, {}])
}

test_mixed_chemistry_of_two_kinds if {
	power.finding.mixed_chemistry == {{
		"at": "packs/rust/0",
		"because": ["packs/rust/0", "packs/rust/1", "packs/rust/2"],
		"text": "the spare AAA cells with one carrier (Set 0, Set 1 and Set 2) are of 2 kinds, alkaline and lithium; 1 is asked: 1 too many",
	}} with input as mix([{}, {"chemistry": "alkaline"}, {}])
}

test_mixed_chemistry_of_three_kinds if {
	power.finding.mixed_chemistry == {{
		"at": "packs/rust/0",
		"because": ["packs/rust/0", "packs/rust/1", "packs/rust/2"],
		"text": "the spare AAA cells with one carrier (Set 0, Set 1 and Set 2) are of 3 kinds, alkaline, lithium and nimh; 1 is asked: 2 too many",
	}} with input as mix([{"chemistry": "nimh"}, {"chemistry": "alkaline"}, {}])
}

test_mixed_chemistry_not_asked_of_two_carriers if {
	count(power.finding.mixed_chemistry) == 0 with input as mix([{}, {"chemistry": "alkaline", "carrier": "people/ben"}])
}

test_mixed_chemistry_not_asked_of_two_sizes if {
	count(power.finding.mixed_chemistry) == 0 with input as mix([{}, {"chemistry": "alkaline", "size": "AA"}])
}

test_mixed_chemistry_not_asked_of_power_banks if {
	facts := mix([{"size": "usb", "chemistry": "lithium-ion"}, {"size": "usb"}])
	count(power.finding.mixed_chemistry) == 0 with input as facts
}

night(mc, cells) := object.union(mix(cells), {"plan": t.plan({"night_mc": mc})})

# A household with phones, other things to speak with and cells.
phones(offers, cells) := object.union(mix(cells), {"household": t.household({}), "capabilities": [t.capability("communicate", offers)]})

test_phone_bank_at_the_limit if {
	count(power.finding.phone_bank) == 0 with input as phones([t.offer("phone", {})], [{"size": "usb", "count": 1}])
}

test_phone_bank_one_too_few if {
	power.finding.phone_bank == {{
		"at": "household",
		"because": ["packs/rust/phone"],
		"text": "the household has 1 phone and 0 power banks; 1 asked: 1 too few",
	}} with input as phones([t.offer("phone", {}), t.offer("radio", {})], [{}])
}

test_phone_bank_of_two_phones if {
	power.finding.phone_bank == {{
		"at": "household",
		"because": ["packs/rust/phone"],
		"text": "the household has 2 phones and 0 power banks; 1 asked: 1 too few",
	}} with input as phones([t.offer("phone", {"count": 2})], [])
}

# A household that asks itself for two.
two_banks := {"limits": [{"area": "power", "name": "phone_banks", "list": false, "value": 2, "values": []}]}

test_phone_bank_counts_every_bank if {
	facts := phones([t.offer("phone", {})], [{}, {"size": "usb", "count": 2}])
	count(power.finding.phone_bank) == 0 with input as object.union(facts, two_banks)
}

test_phone_bank_one_of_two if {
	facts := phones([t.offer("phone", {})], [{}, {"size": "usb", "count": 1}])
	power.finding.phone_bank == {{
		"at": "household",
		"because": ["packs/rust/phone"],
		"text": "the household has 1 phone and 1 power bank; 2 asked: 1 too few",
	}} with input as object.union(facts, two_banks)
}

test_phone_bank_not_asked_without_a_phone if {
	count(power.finding.phone_bank) == 0 with input as phones([t.offer("radio", {})], [])
}

lamp(more) := {"animals": [t.animal({})], "devices": [t.device(more)]}

test_run_time_written if {
	count(power.finding.run_time_written) == 0 with input as lamp({"run_known": true})
}

test_run_time_not_written if {
	power.finding.run_time_written == {{
		"at": "packs/rust/lamp",
		"text": "Lamp gives light, and how long it runs on one filling is not written",
	}} with input as lamp({"run_known": false})
}

test_run_time_written_not_asked_of_what_gives_no_light if {
	count(power.finding.run_time_written) == 0 with input as lamp({"run_known": false, "light": false})
}

test_run_time_written_not_asked_of_animals if {
	count(power.finding.run_time_written) == 0 with input as lamp({"run_known": false, "carrier": "animals/bo"})
}

test_cells_fit_devices_not_asked_of_what_feeds_itself if {
	every d in charged {
		facts := {"devices": [t.device(object.union(d, {"spare_cells": 0, "self_powered": true}))], "cells": [], "animals": []}
		count(power.finding.cells_fit_devices) == 0 with input as facts
	}
}
