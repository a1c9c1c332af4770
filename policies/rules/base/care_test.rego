package rules.base.care_test

import data.lib.testing_test as t
import data.rules.base.care

sugar(more) := t.offer("glucose", more)

# Ana, with insulin, and the sugar given.
sweet(offers, masses, person) := {
	"people": [t.person(object.union({"conditions": ["insulin"]}, person)), t.person({"id": "people/ben", "name": "Ben", "key": "ben"})],
	"medications": [t.medication({"name": "Insulin pen"})],
	"capabilities": [t.capability("care", array.concat(offers, [t.offer("meter", {})]))],
	"items": array.concat([t.item({})], [t.item({"id": id, "mass_mg": mg}) | some id, mg in masses]),
}

test_glucose_none if {
	care.finding.glucose == {{
		"at": "people/ana/conditions",
		"because": ["people/ana"],
		"text": "Ana takes insulin and has no quick sugar at hand",
	}} with input as sweet([], {}, {})
}

test_glucose_with_somebody_else if {
	bens := [sugar({"id": "packs/sage/sweets", "carrier": "people/ben"})]
	{f.at | some f in care.finding.glucose} == {"packs/sage/sweets"} with input as sweet(bens, {"packs/sage/sweets": 90000}, {})
	count(care.finding.glucose) == 0 with input as sweet(bens, {"packs/sage/sweets": 90000}, {"carries": false, "with": ["people/ben"]})
}

test_glucose_deep_in_the_pack if {
	deep := sugar({"id": "packs/rust/deep", "reach": "halted"})
	care.finding.glucose == {{
		"at": "packs/rust/deep",
		"because": ["people/ana"],
		"level": "warning",
		"text": "Ana takes insulin and has to stop and unpack to reach the quick sugar",
	}} with input as sweet([deep], {"packs/rust/deep": 90000}, {})
	count(care.finding.glucose) == 0 with input as sweet([deep, sugar({})], {"packs/rust/deep": 25000, "packs/rust/glucose": 20000}, {})
}

test_glucose_too_little if {
	care.finding.glucose == {{
		"at": "packs/rust/glucose",
		"because": ["people/ana"],
		"level": "warning",
		"text": "Ana takes insulin and has 44 g of quick sugar at hand; 45 g is needed for three lows",
	}} with input as sweet([sugar({})], {"packs/rust/glucose": 44000}, {})
	count(care.finding.glucose) == 1 with input as sweet([sugar({})], {"packs/rust/glucose": 44999}, {})
	count(care.finding.glucose) == 1 with input as sweet([sugar({})], {"packs/rust/glucose": 1}, {})
}

test_glucose_enough if {
	count(care.finding.glucose) == 0 with input as sweet([sugar({"reach": "on-body"})], {"packs/rust/glucose": 45000}, {})
}

test_glucose_not_weighed if {
	count(care.finding.glucose) == 0 with input as sweet([sugar({})], {"packs/rust/glucose": 0}, {})
}

test_glucose_guessed_from_a_name if {
	care.finding.glucose == {{
		"at": "people/ana/medications/thyroid",
		"because": [],
		"level": "note",
		"text": "Ana takes Insulin pen, and no quick sugar for low blood sugar is recorded",
	}} with input as sweet([], {}, {"conditions": ["heart"]})
	count(care.finding.glucose) == 0 with input as sweet([sugar({"carrier": "people/ben"})], {}, {"conditions": ["heart"]})
	count(care.finding.glucose) == 0 with input as object.union(sweet([], {}, {"conditions": []}), {"medications": [t.medication({"person": "people/ana"})]})
}

used(have, minutes) := {
	"plan": t.plan({"minutes": minutes}),
	"consumables": [t.consumable({"have_milli": have})],
}

test_consumables_at_the_limit if {
	count(care.finding.consumables) == 0 with input as used(28000, 0)
}

test_consumables_one_too_few if {
	care.finding.consumables == {{
		"at": "packs/rust/strips",
		"because": ["people/ana/consumables/strips", "packs/rust/strips"],
		"text": "test strips: Ana has 27.999 and needs 28 (4 a day, for 7 days): 0.001 short",
		"lack": 1,
		"level": "warning",
	}} with input as used(27999, 0)
}

test_consumables_none if {
	care.finding.consumables == {{
		"at": "people/ana/consumables/strips",
		"because": ["people/ana/consumables/strips"],
		"text": "test strips: Ana has none and needs 28 (4 a day, for 7 days): 28 short",
		"lack": 28000,
		"level": "error",
	}} with input as {"plan": t.plan({}), "consumables": [t.consumable({"have_milli": 0, "items": []})]}
}

test_consumables_level[why] if {
	some why, case in {
		"three days": {"milli": 12000, "minutes": 0, "level": "warning"},
		"less than three days": {"milli": 11999, "minutes": 0, "level": "error"},
		"the plan": {"milli": 16000, "minutes": 5760, "level": "warning"},
		"less than the plan": {"milli": 15999, "minutes": 5760, "level": "error"},
		"less than a long plan": {"milli": 31999, "minutes": 11520, "level": "error"},
	}
	{f.level | some f in care.finding.consumables} == {case.level} with input as used(case.milli, case.minutes)
}

test_consumables_of_a_long_plan if {
	count(care.finding.consumables) == 0 with input as used(32000, 11520)
	some f in care.finding.consumables with input as used(1, 11520)
	f.text == "test strips: Ana has 0.001 and needs 32 (4 a day, until the plan ends): 31.999 short"
}

# 40 W for 8 h of a day are 320 Wh, of which 400 Wh in a battery are the source.
powered(stored, minutes, more) := {
	"plan": t.plan({"minutes": minutes}),
	"care_devices": [t.care_device(object.union({"stored_mwh": stored}, more))],
}

test_powered_at_the_limit if {
	count(care.finding.powered) == 0 with input as powered(800000, 2880, {})
}

test_powered_one_too_little if {
	care.finding.powered == {{
		"at": "packs/rust/battery",
		"because": ["people/ana/devices/cpap", "packs/rust/battery"],
		"text": "CPAP (Ana) needs 640 Wh for 48 h, and its batteries give 639.999 Wh: 0.001 Wh short",
		"level": "warning",
	}} with input as powered(799999, 2880, {})
}

test_powered_by_nothing if {
	care.finding.powered == {{
		"at": "people/ana/devices/cpap",
		"because": ["people/ana/devices/cpap"],
		"text": "CPAP (Ana) needs 320 Wh for 24 h, and its batteries give 0 Wh: 320 Wh short",
		"level": "error",
	}} with input as powered(0, 1440, {"items": []})
}

test_powered_level[why] if {
	some why, case in {
		"a day": {"stored": 400000, "minutes": 2880, "level": "warning"},
		"less than a day": {"stored": 399999, "minutes": 2880, "level": "error"},
		"less than a short plan": {"stored": 199999, "minutes": 720, "level": "error"},
	}
	{f.level | some f in care.finding.powered} == {case.level} with input as powered(case.stored, case.minutes, {})
}

test_powered_without_a_duration if {
	unknown := {"plan": t.plan({"minutes": 0, "minutes_known": false})}
	count(care.finding.powered) == 0 with input as object.union(powered(1200000, 0, {}), unknown)
	some f in care.finding.powered with input as object.union(powered(1199999, 0, {}), unknown)
	f.text == "CPAP (Ana) needs 960 Wh for 72 h, and its batteries give 959.999 Wh: 0.001 Wh short"
}

housed(minutes, leg, kind) := object.union(powered(0, minutes, {}), {"plan": t.plan({
	"minutes": minutes,
	"destination": {"known": true, "kind": kind, "water": false, "food": false, "beds": false},
	"legs": [{"arrives": false, "end_hour": 90}, object.union({"arrives": true, "end_hour": 2}, leg)],
})})

test_powered_until_there_is_a_house[why] if {
	some why, case in {
		"on the way": {"facts": housed(4320, {}, "house"), "hours": "3 h"},
		"a short plan": {"facts": housed(60, {}, "house"), "hours": "1 h"},
		"a camp": {"facts": housed(4320, {}, "camp"), "hours": "72 h"},
		"never there": {"facts": housed(4320, {"arrives": false}, "house"), "hours": "72 h"},
	}
	some f in care.finding.powered with input as case.facts
	contains(f.text, sprintf(" for %s, ", [case.hours]))
}

test_powered_of_unknown_energy if {
	care.finding.powered == {{
		"at": "packs/rust/spare",
		"because": ["people/ana/devices/cpap", "packs/rust/spare"],
		"text": "no energy is recorded for the batteries of CPAP (Ana)",
		"level": "note",
	}} with input as powered(0, 2880, {"unknown": ["packs/rust/spare"]})
}

# Ana and Ben each with aids, and the cells given.
heard(minutes, aids, size, cells) := {
	"plan": t.plan({"minutes": minutes}),
	"people": [t.person({}), t.person({"hearing_aids": aids, "hearing_aid_size": size}), t.person({"id": "people/ben", "name": "Ben", "hearing_aids": 1, "hearing_aid_size": size})],
	"cells": array.concat([t.cells({})], [t.cells({"id": "packs/rust/strip", "size": size, "count": n}) | some n in cells]),
}

test_hearing_cells_at_the_limit[size] if {
	some size, days in {"10": 3, "312": 4, "13": 6, "675": 9}
	count(care.finding.hearing_cells) == 0 with input as heard(days * 1440, 2, size, [3])
	count(care.finding.hearing_cells) == 1 with input as heard((days * 1440) + 1, 2, size, [3])
}

test_hearing_cells_too_few if {
	care.finding.hearing_cells == {{
		"at": "packs/rust/strip",
		"because": ["people/ana/hearingAids", "people/ben/hearingAids"],
		"text": "the hearing aids of Ana and Ben need 6 batteries of size 312 for 120 h: 1 short",
		"lack": 1,
	}} with input as heard(7200, 2, "312", [2, 3])
}

test_hearing_cells_none if {
	some f in care.finding.hearing_cells with input as heard(1440, 0, "312", [])
	f.at == "people/ana/hearingAids"
	f.text == "the hearing aids of Ana and Ben need 1 battery of size 312 for 24 h: 1 short"
}

test_hearing_cells_not_asked if {
	count(care.finding.hearing_cells) == 0 with input as heard(7200, 2, "usb", [])
}

alerted(person, care_means, writes) := {
	"people": [t.person(person)],
	"capabilities": array.concat(
		[t.capability("care", [t.offer(m, {}) | some m in care_means])],
		[t.capability("write", [t.offer("pencil", {})]) | writes],
	),
}

test_alert_of_who_does_not_hear if {
	care.finding.alert == {{
		"at": "people/ana/hears",
		"because": [],
		"text": "Ana cannot hear, and there is no alarm that is felt or seen, nor anyone beside them, and no pencil to write with",
	}} with input as alerted({"hears": "no"}, ["meter"], false)
}

test_alert_without_a_pencil if {
	some f in care.finding.alert with input as alerted({"hears": "no"}, ["felt-alarm"], false)
	f.text == "Ana cannot hear, and there is no pencil to write with"
}

test_alert_fine[why] if {
	some why, case in {
		"hears": alerted({}, [], false),
		"hears badly, with an alarm": alerted({"hears": "badly"}, ["felt-alarm"], false),
		"hears badly, with somebody beside": alerted({"hears": "badly", "with": ["people/ben"]}, [], false),
		"an alarm that is felt": alerted({"hears": "no"}, ["felt-alarm"], true),
		"an alarm that is seen": alerted({"hears": "no"}, ["light-alarm"], true),
		"somebody beside": alerted({"hears": "no", "with": ["people/ben"]}, [], true),
		"a helper": alerted({"hears": "no", "helped_by": "people/ben"}, [], true),
		"sees badly": alerted({"sees": "badly"}, [], true),
		"a guide": alerted({"sees": "no", "helped_by": "people/ben"}, [], true),
		"beside": alerted({"sees": "no", "with": ["people/ben"]}, [], true),
		"carried": alerted({"sees": "no", "carried_by": "people/ben"}, [], true),
	}
	count(care.finding.alert) == 0 with input as case
}

# What may be a pencil is no alarm.
test_alert_without_an_alarm_and_with_a_name if {
	t.levels(care.finding.alert) == [""] with input as t.with_unread(alerted({"hears": "no"}, [], true), [t.unread(["write", "write:pencil"], {})])
}

test_alert_of_who_hears_badly if {
	care.finding.alert == {{
		"at": "people/ana/hears",
		"because": [],
		"text": "Ana hears badly, and there is no alarm that is felt or seen, nor anyone named beside them to wake them",
		"level": "note",
	}} with input as alerted({"hears": "badly"}, ["meter"], false)
	t.levels(care.finding.alert) == ["not recorded"] with input as t.with_unread(alerted({"hears": "badly"}, [], false), [t.unread(["care", "care:felt-alarm"], {})])
	one := alerted({"hears": "badly"}, [], true)
	count(care.finding.alert) == 1 with input as object.union(one, {"people": array.concat(one.people, [t.person({"id": "people/ben"})])})
	every c in [[{}, 0], [{"adult": false}, 1], [{"hears": "badly"}, 3], [{"hears": "no", "with": ["people/ana"]}, 1]] {
		facts := alerted({"hears": "badly"}, [], true)
		others := [object.union(t.person({"id": "people/ben"}), c[0]), object.union(t.person({"id": "people/cid"}), c[0])]
		got := [f | some f in care.finding.alert] with input as object.union(facts, {"people": array.concat(facts.people, others)})
		count(got) == c[1]
	}
}

test_alert_without_an_alarm if {
	some f in care.finding.alert with input as alerted({"hears": "no"}, [], true)
	f.text == "Ana cannot hear, and there is no alarm that is felt or seen, nor anyone beside them"
}

test_alert_of_who_does_not_see if {
	care.finding.alert == {{
		"at": "people/ana/sees",
		"because": [],
		"text": "Ana cannot see, and nobody is named as their guide",
	}} with input as alerted({"sees": "no"}, ["felt-alarm"], true)
}

test_consumables_for_how_long[minutes] if {
	some minutes, words in {"10080": "(4 a day, for 7 days)", "10081": "(4 a day, until the plan ends)"}
	some f in care.finding.consumables with input as used(1, to_number(minutes))
	contains(f.text, words)
}
