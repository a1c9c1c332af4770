package rules.base.light_test

import data.lib.testing_test as t
import data.rules.base.light

test_each_pack_at_the_limit if {
	count(light.finding.each_pack) == 0 with input as {"packs": [t.pack_with([t.can("light", ["lantern"])])]}
}

test_each_pack_one_too_few if {
	light.finding.each_pack == {{
		"at": "packs/rust",
		"because": [],
		"text": "Rust has 0 kinds of light to walk by (headlamp, torch, lantern, light-stick); 1 asked: 1 too few",
	}} with input as {"packs": [t.pack_with([t.can("warmth", ["quilt"])])]}
}

test_each_pack_candle_is_none if {
	some f in light.finding.each_pack with input as {"packs": [t.pack_with([t.can("light", ["candle"])])]}
	f.because == ["packs/rust/candle"]
}

test_each_pack_each_kind_counts if {
	every m in ["headlamp", "torch", "lantern", "light-stick"] {
		count(light.finding.each_pack) == 0 with input as {"packs": [t.pack_with([t.can("light", ["candle", m])])]}
	}
}

test_each_pack_not_asked_of_animals if {
	count(light.finding.each_pack) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}

# Ana with lamps, and a plan of 30 hours of darkness.
dark(lamps) := {
	"plan": t.plan({"dark_total_min": 1800}),
	"people": [t.person({})],
	"devices": [t.device(object.union({"id": sprintf("packs/rust/%d", [i])}, l)) | some i, l in lamps],
}

test_run_time_at_the_limit if {
	count(light.finding.run_time) == 0 with input as dark([{"run_total_min": 450}])
}

test_run_time_one_minute_too_little if {
	light.finding.run_time == {{
		"at": "people/ana",
		"because": ["packs/rust/0"],
		"text": "Ana's lamps run 7 h 29 min with their spare cells; the plan has 30 h of darkness and 7 h 30 min of light is asked: 0 h 1 min too little",
	}} with input as dark([{"run_total_min": 449}])
}

test_run_time_of_an_odd_night_is_rounded_up if {
	facts := object.union(dark([{"run_total_min": 450}]), {"plan": {"dark_total_min": 1801}})
	light.finding.run_time == {{
		"at": "people/ana",
		"because": ["packs/rust/0"],
		"text": "Ana's lamps run 7 h 30 min with their spare cells; the plan has 30 h 1 min of darkness and 7 h 31 min of light is asked: 0 h 1 min too little",
	}} with input as facts
}

test_run_time_of_two_lamps_is_added if {
	count(light.finding.run_time) == 0 with input as dark([{"run_total_min": 225}, {"run_total_min": 225}])
}

test_run_time_counts_only_lamps_of_the_person if {
	every other in [{"run_total_min": 1, "light": false}, {"run_total_min": 1, "carrier": "people/ben"}] {
		light.finding.run_time == {{
			"at": "people/ana",
			"because": ["packs/rust/0"],
			"text": "Ana's lamps run 7 h 29 min with their spare cells; the plan has 30 h of darkness and 7 h 30 min of light is asked: 0 h 1 min too little",
		}} with input as dark([{"run_total_min": 449}, other])
	}
}

test_run_time_not_judged_while_a_running_time_is_unknown if {
	count(light.finding.run_time) == 0 with input as dark([{"run_total_min": 449}, {"run_total_min": 0, "run_known": false}])
}

test_run_time_not_known_of_a_charged_lamp_beside_a_bank if {
	count(light.finding.run_time) == 0 with input as dark([{"run_total_min": 449, "cells_needed": 0, "spare_cells": 1}])
}

test_run_time_judged_of_a_charged_lamp_without_a_bank if {
	count(light.finding.run_time) == 1 with input as dark([{"run_total_min": 449, "cells_needed": 0, "spare_cells": 0}])
}

test_run_time_not_known_of_a_charged_lamp_without_hours if {
	count(light.finding.run_time) == 0 with input as dark([{"run_total_min": 0, "run_known": false, "cells_needed": 0, "spare_cells": 0}])
}

test_run_time_judged_of_a_lamp_of_one_cell if {
	count(light.finding.run_time) == 1 with input as dark([{"run_total_min": 449, "cells_needed": 1}])
}

test_run_time_not_asked_without_lamps if {
	count(light.finding.run_time) == 0 with input as dark([])
}

test_run_time_not_asked_without_a_season if {
	facts := object.union(dark([{"run_total_min": 449}]), {"plan": {"season_known": false}})
	count(light.finding.run_time) == 0 with input as facts
}

test_run_time_not_asked_of_people_without_packs if {
	facts := object.union(dark([{"run_total_min": 449}]), {"people": [t.person({"pack_count": 0})]})
	count(light.finding.run_time) == 0 with input as facts
}

# Somebody of unknown age, a child at the age, three younger ones, and lights.
walkers(offers) := {
	"household": t.household({"pack_count": 1}),
	"people": [
		t.person({"age_known": false, "age_months": 0}),
		t.person({"age_months": 60}),
		t.person({"age_months": 59}),
		t.person({"age_months": 12}),
		t.person({"age_months": 6}),
	],
	"capabilities": [t.capability("light", offers)],
}

test_per_person_at_the_limit if {
	count(light.finding.per_person) == 0 with input as walkers([t.offer("headlamp", {"count": 2})])
}

test_per_person_one_too_few if {
	light.finding.per_person == {{
		"at": "household",
		"because": ["packs/rust/headlamp"],
		"text": "the household has 1 light to walk by for 2 people from the age of 5 years on; one each is asked: 1 too few",
	}} with input as walkers([t.offer("headlamp", {}), t.offer("candle", {})])
}

test_per_person_with_each_light_to_walk_by if {
	every means in ["headlamp", "torch", "lantern", "light-stick"] {
		count(light.finding.per_person) == 0 with input as walkers([t.offer(means, {"count": 2})])
	}
}

test_per_person_with_candles_only if {
	light.finding.per_person == {{
		"at": "household",
		"because": [],
		"text": "the household has 0 lights to walk by for 2 people from the age of 5 years on; one each is asked: 2 too few",
	}} with input as walkers([t.offer("candle", {"count": 2})])
}

test_per_person_not_asked_without_packs if {
	facts := object.union(walkers([]), {"household": t.household({"pack_count": 0})})
	count(light.finding.per_person) == 0 with input as facts
}

bearer(lights, more) := {"people": [t.person(object.union({"alone": t.supply({"can": [t.can("light", lights)]})}, more))]}

test_each_pack_of_two_kinds_asked if {
	own := {"limits": [{"area": "light", "name": "means", "list": false, "value": 2, "values": []}]}
	some f in light.finding.each_pack with input as object.union(own, {"packs": [t.pack_with([t.can("light", ["headlamp"])])]})
	f.text == "Rust has 1 kind of light to walk by (headlamp, torch, lantern, light-stick); 2 asked: 1 too few"
}

unlit := [{"id": "packs/rust/x", "name": "head torch", "pack": "packs/rust", "carrier": "people/ana", "may": ["light", "light:headlamp"], "count": 1}]

test_each_pack_not_recorded if {
	facts := {"packs": [t.pack_with([])], "unrecorded": unlit}
	[f.level | some f in light.finding.each_pack] == ["note"] with input as facts
}

test_per_person_not_recorded if {
	facts := {"household": t.household({}), "people": [t.person({})], "capabilities": [], "unrecorded": unlit}
	[f.level | some f in light.finding.per_person] == ["note"] with input as facts
	two := object.union(facts, {"people": [t.person({}), t.person({"id": "people/ben"})]})
	[f | some f in light.finding.per_person; f.level] == [] with input as two
}
