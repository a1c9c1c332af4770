package rules.base.power_test

import data.lib.testing_test as t
import data.rules.base.power

# Devices that are no phones, and cells; what the forecast knows of light.
facts(devices, cells) := {
	"animals": [{"id": "animals/bo"}],
	"devices": [t.device(object.union({"name": "Radio", "light": false, "run_known": false}, d)) | some d in devices],
	"cells": [t.cells(object.union({"name": "Spares"}, c)) | some c in cells],
	"capabilities": [],
	"useless": [],
	"endurance": {"minutes": 4320, "stocks": [{"kind": "light", "known": true}]},
}

test_cells_fit_devices_at_the_limit if {
	count(power.finding.cells_fit_devices) == 0 with input as facts([{}], [{}])
}

test_cells_fit_devices_one_cell_too_few if {
	power.finding.cells_fit_devices == {{
		"at": "packs/rust/lamp",
		"because": ["packs/rust/lamp"],
		"text": "Radio takes 3 spare AAA batteries, and the household has 2: 1 short",
	}} with input as facts([{}], [{"count": 2}, {"size": "AA", "count": 9}])
}

test_cells_fit_devices_of_two_cells if {
	some f in power.finding.cells_fit_devices with input as facts([{"cells_needed": 2}], [{"count": 1}])
	f.text == "Radio takes 2 spare AAA batteries, and the household has 1: 1 short"
}

test_cells_fit_devices_of_one_cell if {
	power.finding.cells_fit_devices == {{
		"at": "packs/rust/lamp",
		"because": ["packs/rust/lamp"],
		"text": "Radio takes 1 spare AAA battery, and the household has none: 1 short",
	}} with input as facts([{"cells_needed": 1}], [])
}

# One finding for each size, whoever has the spares.
test_cells_fit_devices_by_size if {
	power.finding.cells_fit_devices == {
		{
			"at": "packs/rust/lamp",
			"because": ["packs/rust/lamp", "packs/moss/gps"],
			"text": "Radio and Gps take 5 spare AAA batteries, and the household has 4: 1 short",
		},
		{
			"at": "packs/rust/set",
			"because": ["packs/rust/set"],
			"text": "Radio takes 3 spare AA batteries, and the household has none: 3 short",
		},
	} with input as facts(
		[{}, {"id": "packs/moss/gps", "name": "Gps", "cells_needed": 2}, {"id": "packs/rust/set", "size": "AA"}],
		[{"count": 2}, {"id": "packs/moss/cells", "carrier": "people/ben", "count": 2}],
	)
}

test_cells_fit_devices_of_one_size_some_charged if {
	some f in power.finding.cells_fit_devices with input as facts([{}, {"id": "packs/rust/set", "built_in": true, "cells_needed": 0}], [bank])
	f.because == ["packs/rust/lamp"]
}

charged := [
	{"size": "18650", "built_in": true, "cells_needed": 0},
	{"size": "usb", "cells_needed": 0},
]

bank := {"size": "usb", "count": 1}

test_cells_fit_devices_charged_at_the_limit if {
	count(power.finding.cells_fit_devices) == 0 with input as facts(charged, [bank])
}

test_cells_fit_devices_charged_without_a_bank if {
	every d in charged {
		power.finding.cells_fit_devices == {{
			"at": "packs/rust/lamp",
			"because": ["packs/rust/lamp"],
			"text": "Radio is charged, and the household has no power bank",
		}} with input as facts([d], [{}])
	}
}

two := {"limits": [{"area": "power", "name": "banks", "list": false, "value": 2, "values": []}]}

test_cells_fit_devices_charged_with_one_bank_of_two if {
	power.finding.cells_fit_devices == {{
		"at": "packs/rust/lamp",
		"because": ["packs/rust/lamp", "packs/rust/set"],
		"text": "Radio and Set are charged, and the household has 1 power bank: 1 short",
	}} with input as object.union(facts([charged[0], object.union(charged[1], {"id": "packs/rust/set", "name": "Set"})], [bank]), two)
}

# The bank that phones are asked serves for all.
test_cells_fit_devices_left_to_phone_bank if {
	count(power.finding.cells_fit_devices) == 0 with input as object.union(facts(charged, []), {"capabilities": [t.capability("communicate", [t.offer("phone", {})])]})
}

test_cells_fit_devices_cells_of_hearing_aids if {
	cells := facts([], [{"size": "312", "fit_devices": 0}])
	count(power.finding.cells_fit_devices) == 0 with input as object.union(cells, {"people": [t.person({"hearing_aid_size": "312"})]})
	count(power.finding.cells_fit_devices) == 1 with input as object.union(cells, {"people": [t.person({"hearing_aid_size": "13"})]})
}

test_cells_fit_devices_idle_cells if {
	power.finding.cells_fit_devices == {{
		"at": "packs/rust/cells",
		"because": ["packs/rust/cells", "packs/rust/more"],
		"text": "Spares and More: no device that takes size AA is recorded",
	}} with input as facts([], [
		{"size": "AA", "fit_devices": 0},
		{"size": "AA", "fit_devices": 0, "id": "packs/rust/more", "name": "More"},
		{"size": "C", "fit_devices": 1},
		{"size": "usb", "fit_devices": 0},
	])
}

test_cells_fit_devices_not_asked_of[what] if {
	some what, more in {
		"animals": {"carrier": "animals/bo"},
		"phones": {"phone": true},
		"what feeds itself": {"self_powered": true},
		"lamps of the forecast": {"light": true},
	}
	devices := [object.union(d, more) | some d in array.concat([{}], charged)]
	count(power.finding.cells_fit_devices) == 0 with input as facts(devices, [])
}

test_cells_fit_devices_of_what_runs_on[what] if {
	some what, c in {
		"for half the plan": {"more": {"run_min": 2160}, "asked": 0},
		"a minute less": {"more": {"run_min": 2159}, "asked": 1},
		"empty": {"more": {"run_min": 2160, "empty": true}, "asked": 1},
		"not known": {"more": {"run_min": 2160, "run_known": false}, "asked": 1},
	}
	count(power.finding.cells_fit_devices) == c.asked with input as facts([object.union({"run_known": true}, c.more)], [])
}

test_cells_fit_devices_of_lamps_that_no_forecast_knows[what] if {
	some what, stock in {"no season": {"kind": "light", "known": false}, "another stock": {"kind": "water", "known": true}}
	count(power.finding.cells_fit_devices) == 1 with input as object.union(facts([{"light": true}], []), {"endurance": {"minutes": 4320, "stocks": [stock]}})
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
		"text": "the spare AAA batteries with one carrier are of 2 types, alkaline and lithium: Set 0, Set 1 and Set 2",
	}} with input as mix([{}, {"chemistry": "alkaline"}, {}])
}

test_mixed_chemistry_of_three_kinds if {
	power.finding.mixed_chemistry == {{
		"at": "packs/rust/0",
		"because": ["packs/rust/0", "packs/rust/1", "packs/rust/2"],
		"text": "the spare AAA batteries with one carrier are of 3 types, alkaline, lithium and nimh: Set 0, Set 1 and Set 2",
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

# A household with phones, other things to speak with and cells.
phones(offers, cells) := object.union(mix(cells), {"household": t.household({}), "capabilities": [t.capability("communicate", offers)], "useless": []})

test_phone_bank_at_the_limit if {
	count(power.finding.phone_bank) == 0 with input as phones([t.offer("phone", {})], [bank])
}

test_phone_bank_missing if {
	power.finding.phone_bank == {{
		"at": "packs/moss/phone",
		"because": ["packs/moss/phone", "packs/rust/phone"],
		"text": "the household has no power bank for phones",
	}} with input as phones([t.offer("phone", {}), t.offer("phone", {"id": "packs/moss/phone"}), t.offer("radio", {})], [{}])
}

test_phone_bank_of_an_empty_phone if {
	facts := object.union(phones([], []), {"useless": [t.useless("communicate", "empty", {"means": "phone"}), t.useless("communicate", "empty", {"means": "radio", "item": "packs/a"})]})
	some f in power.finding.phone_bank with input as facts
	f.because == ["packs/rust/thing"]
}

# People take their phones along, recorded or not.
test_phone_bank_without_a_recorded_phone if {
	some f in power.finding.phone_bank with input as phones([t.offer("radio", {})], [])
	f.at == "household"
	f.because == []
}

# A household that asks itself for two.
two_banks := {"limits": [{"area": "power", "name": "phone_banks", "list": false, "value": 2, "values": []}]}

test_phone_bank_counts_every_bank if {
	facts := phones([t.offer("phone", {})], [{}, {"size": "usb", "count": 2}])
	count(power.finding.phone_bank) == 0 with input as object.union(facts, two_banks)
}

test_phone_bank_one_of_two if {
	some f in power.finding.phone_bank with input as object.union(phones([t.offer("phone", {})], [{}, bank]), two_banks)
	f.text == "the household has 1 power bank for phones: 1 short"
}

charging(night_mc, means, more) := object.union({"plan": t.plan({"night_mc": night_mc}), "capabilities": [t.capability("charge", [t.offer(means, {})])]}, more)

test_cold_charge if {
	power.finding.cold_charge == {{
		"at": "packs/rust/solar-panel",
		"because": ["packs/rust/solar-panel"],
		"text": "nights fall to -0.001 °C, and what the panel charges must be warmer than 0 °C first",
	}} with input as charging(-1, "solar-panel", {})
}

test_cold_charge_not_asked[what] if {
	some what, facts in {
		"no frost": charging(0, "solar-panel", {}),
		"a charger": charging(-1, "charger", {}),
		"no season": charging(-1, "solar-panel", {"plan": t.plan({"night_mc": -1, "season_known": false})}),
	}
	count(power.finding.cold_charge) == 0 with input as facts
}

hot(day_mc, cells, more) := object.union(
	object.union(mix(cells), {"plan": t.plan({"day_mc": day_mc}), "capabilities": [t.capability("communicate", [t.offer("phone", {})])], "useless": []}),
	more,
)

test_heat if {
	power.finding.heat == {{
		"at": "packs/rust/1",
		"because": ["packs/rust/1", "packs/rust/phone"],
		"text": "days reach 45.001 °C; lithium-ion batteries must not be charged above 45 °C, and phones in the sun switch off",
	}} with input as hot(45001, [{}, {"chemistry": "lithium-ion"}], {})
}

test_heat_not_asked[what] if {
	some what, facts in {
		"cooler": hot(45000, [{"chemistry": "lithium-ion"}], {}),
		"nothing of the kind": hot(45001, [{}], {"capabilities": []}),
		"no season": hot(45001, [], {"plan": t.plan({"day_mc": 45001, "season_known": false})}),
	}
	count(power.finding.heat) == 0 with input as facts
}

lamps(all) := {"animals": [t.animal({})], "devices": [t.device(object.union({"run_known": false}, d)) | some d in all]}

test_run_time_not_written_is_one_note if {
	power.finding.run_time_written == {{
		"at": "packs/rust/lamp",
		"because": ["packs/rust/lamp", "packs/moss/lamp"],
		"text": "no running time is recorded for Lamp and Torch",
	}} with input as lamps([{}, {"id": "packs/moss/lamp", "name": "Torch"}])
}

test_run_time_written_not_asked[what] if {
	some what, more in {
		"written": {"run_known": true},
		"no light": {"light": false},
		"animals": {"carrier": "animals/bo"},
		"it feeds itself": {"self_powered": true},
	}
	count(power.finding.run_time_written) == 0 with input as lamps([more])
}

frosty(night, cells) := {"plan": {"season_known": true, "night_mc": night}, "cells": [t.cells(c) | some c in cells]}

weak := {"chemistry": "alkaline"}

more_weak := {"id": "packs/rust/more", "size": "AA", "chemistry": "zinc-carbon"}

test_cold_cells if {
	power.finding.cold_cells == {{
		"at": "packs/rust/cells",
		"because": ["plan/season", "packs/rust/cells", "packs/rust/more"],
		"text": "nights fall to -10 °C, and all spare AA and AAA batteries are of a type that gives little in such cold (alkaline and zinc-carbon)",
	}} with input as frosty(-10000, [weak, more_weak])
	{f.at | some f in power.finding.cold_cells} == {"packs/rust/cells"} with input as frosty(-10000, [weak, object.union(more_weak, {"pack": ""})])
}

test_cold_cells_fine[why] if {
	some why, facts in {
		"warmer": frosty(-9999, [weak]),
		"lithium": frosty(-20000, [{}]),
		"lithium beside": frosty(-20000, [weak, {"id": "packs/rust/x"}]),
		"some on the body": frosty(-20000, [weak, object.union(weak, {"id": "people/ana/onBody/x", "pack": ""})]),
		"no season": object.union(frosty(-20000, [weak]), {"plan": {"season_known": false}}),
	}
	count(power.finding.cold_cells) == 0 with input as facts
}

# Radios for the news: where none works, radio/receiver says so.
test_cells_of_a_silent_radio_are_said_once if {
	silent := object.union(facts([{}], []), {"radios": [t.radio({"id": "packs/rust/lamp", "receives": ["fm"], "works": false})]})
	count(power.finding.cells_fit_devices) == 0 with input as silent
	beside := object.union(silent, {"devices": array.concat(silent.devices, [t.device({"id": "packs/rust/fan", "name": "Fan", "light": false, "run_known": false})])})
	{f.at | some f in power.finding.cells_fit_devices} == {"packs/rust/fan"} with input as beside
	other := object.union(silent, {"radios": array.concat(silent.radios, [t.radio({"id": "packs/rust/r2", "receives": ["fm"]})])})
	count(power.finding.cells_fit_devices) == 1 with input as other
}

# Ana's radio takes AA, a lamp of Ben's too; Ana's own lamp takes AAA, and these are spares.
astray(device, cells, more) := object.union(
	facts(
		[object.union({"id": "packs/rust/lamp", "light": true}, device), {"id": "packs/moss/radio", "carrier": "people/ben", "size": "AA", "run_known": true, "run_min": 9999}],
		[object.union({"id": "packs/rust/spares", "size": "AA", "fit_devices": 1, "count": 4}, cells)],
	),
	object.union({"people": [t.person({}), t.person({"id": "people/ben", "name": "Ben"})]}, more),
)

test_cells_fit_devices_of_somebody_else if {
	power.finding.cells_fit_devices == {{
		"at": "packs/rust/spares",
		"because": ["packs/rust/spares", "packs/rust/lamp"],
		"text": "Ana has Spares, and their own devices take AAA, of which the household has no spare battery",
	}} with input as astray({}, {}, {})
}

test_spares_that_fit_nothing_of_theirs_for_one_cell if {
	[f | some f in power.finding.cells_fit_devices; contains(f.text, "their own devices")] != [] with input as astray({"cells_needed": 1}, {}, {})
}

test_cells_fit_devices_of_nobody_else[what] if {
	some what, facts in {
		"hers": astray({"size": "AA"}, {}, {}),
		"Ben's": astray({}, {"carrier": "people/ben"}, {}),
		"a power bank": astray({}, {"size": "usb"}, {}),
		"her lamp winds itself": astray({"self_powered": true}, {}, {}),
		"her lamp is charged": astray({"cells_needed": 0}, {}, {}),
		"an animal's": astray({"carrier": "animals/bo"}, {"carrier": "animals/bo"}, {}),
		"nobody's": astray({"carrier": ""}, {"carrier": ""}, {"people": [t.person({"id": ""})]}),
		"a spare of the size elsewhere": astray({}, {}, {"cells": [t.cells({"id": "packs/rust/spares", "size": "AA", "fit_devices": 1, "count": 4}), t.cells({"id": "packs/moss/s", "carrier": "people/ben", "count": 3})]}),
	}
	[f | some f in power.finding.cells_fit_devices; contains(f.text, "their own devices")] == [] with input as facts
}

ours(f) := contains(f.text, "their own devices")

test_cells_fit_devices_of_several if {
	lamp := {"id": "packs/rust/lamp", "light": true}
	radio := {"id": "packs/rust/set", "size": "AA", "run_known": true, "run_min": 9999}
	spares := {"id": "packs/rust/spares", "size": "AA", "fit_devices": 1, "count": 9}
	people := {"people": [t.person({}), t.person({"id": "people/ben", "name": "Ben"})]}

	# They fit her radio.
	[f | some f in power.finding.cells_fit_devices; ours(f)] == [] with input as object.union(facts([lamp, radio], [spares]), people)

	# Hers is a power bank, and the spares are Ben's.
	bens := object.union(spares, {"id": "packs/moss/spares", "carrier": "people/ben"})
	[f | some f in power.finding.cells_fit_devices; ours(f)] == [] with input as object.union(facts([lamp, object.union(radio, {"carrier": "people/ben"})], [bens, {"id": "packs/rust/bank", "size": "usb", "count": 1, "fit_devices": 1}]), people)

	# Of the size of her compass there is a spare.
	gps := {"id": "packs/rust/gps", "size": "CR2032", "run_known": true, "run_min": 9999}
	coin := {"id": "packs/moss/coin", "carrier": "people/ben", "size": "CR2032", "fit_devices": 1, "count": 9}
	[f.because | some f in power.finding.cells_fit_devices; ours(f)] == [["packs/rust/spares", "packs/rust/lamp"]] with input as object.union(facts([lamp, gps, object.union(radio, {"id": "packs/moss/set", "carrier": "people/ben"})], [spares, coin]), people)
}

test_cells_that_fit_nothing_are_said_once if {
	[f | some f in power.finding.cells_fit_devices; contains(f.text, "their own devices")] == [] with input as astray({}, {"fit_devices": 0}, {})
}

# Loose batteries by their name may be the spare ones; a power bank is none, nor is a device of which the size is not recorded.
test_cells_fit_devices_not_recorded[what] if {
	some what, c in {
		"batteries": [t.unread(["cells"], {}), ["not recorded"]],
		"a power bank": [t.unread(["cells", "cells:usb"], {}), [""]],
		"a lamp without its size": [t.unread(["cells"], {"what": "cell size"}), [""]],
	}
	t.levels(power.finding.cells_fit_devices) == c[1] with input as t.with_unread(facts([{}], []), [c[0]])
}
