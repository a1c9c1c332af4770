package rules.base.data_test

import data.lib.testing_test as t
import data.rules.base.data as entries

claim(capability, means) := {
	"capabilities": [t.capability(capability, [t.offer(means, {})])],
	"devices": [],
	"stoves": [],
}

unbacked(means, text) := {"at": sprintf("packs/rust/%s", [means]), "text": sprintf("what %s %s", [means, text])}

cells_of(example) := sprintf("runs on is not recorded; write, for example, device: %s", [example])

fuel_of(example) := sprintf("burns is not recorded; write, for example, stove: burns: [\"%s\"]", [example])

charged := cells_of(`{size: "usb", builtIn: true}`)

needs := [
	["light", "headlamp", "device", cells_of(`{size: "AAA", runTime: "20 h"}`)],
	["light", "torch", "device", cells_of(`{size: "AA", runTime: "20 h"}`)],
	["light", "lantern", "device", cells_of(`{size: "AA", runTime: "20 h"}`)],
	["communicate", "phone", "device", charged],
	["communicate", "radio", "device", charged],
	["communicate", "receiver", "device", cells_of(`{size: "AA"}`)],
	["navigate", "gps", "device", charged],
	["navigate", "phone", "device", charged],
	["treat-water", "uv", "device", charged],
	["fire", "electric-lighter", "device", charged],
	["cook", "gas-stove", "stove", fuel_of("gas-mix")],
	["cook", "alcohol-stove", "stove", fuel_of("ethanol")],
	["cook", "solid-fuel-stove", "stove", fuel_of("hexamine")],
	["cook", "wood-stove", "stove", fuel_of("wood")],
	["cook", "liquid-stove", "stove", fuel_of("kerosene")],
]

test_claim_without_means_each if {
	every n in needs {
		entries.finding.claim_without_means == {unbacked(n[1], n[3])} with input as claim(n[0], n[1])
	}
}

test_claim_without_means_borne_out if {
	every n in needs {
		facts := object.union(claim(n[0], n[1]), {
			"devices": [t.device({"id": sprintf("packs/rust/%s", [n[1]])}) | n[2] == "device"],
			"stoves": [t.stove([], {"id": sprintf("packs/rust/%s", [n[1]])}) | n[2] == "stove"],
		})
		count(entries.finding.claim_without_means) == 0 with input as facts
	}
}

test_claim_without_means_not_asked[means] if {
	some means, capability in {"candle": "light", "light-stick": "light", "map": "navigate", "whistle": "signal"}
	count(entries.finding.claim_without_means) == 0 with input as claim(capability, means)
}

test_claim_without_means_once_for_a_thing if {
	facts := {
		"capabilities": [
			t.capability("navigate", [t.offer("phone", {})]),
			t.capability("communicate", [t.offer("phone", {})]),
			t.capability("light", [t.offer("torch", {"id": "packs/rust/phone", "name": "phone"})]),
		],
		"devices": [t.device({})],
		"stoves": [t.stove([], {})],
	}
	entries.finding.claim_without_means == {unbacked("phone", charged)} with input as facts
}

thing(more) := object.union(
	{
		"id": "packs/rust/whistle",
		"name": "whistle",
		"where": "Lid",
		"pack": "packs/rust",
		"carrier": "people/ana",
		"what": "",
		"count": 1,
		"may": ["signal", "signal:whistle"],
		"write": "can: signal: \"whistle\"",
		"ask": "",
	},
	more,
)

test_not_recorded_in_a_pack_and_worn if {
	entries.finding.not_recorded == {
		{
			"at": "packs/rust/whistle",
			"text": "no use is recorded for “whistle” (Lid); if it is what its name says, write can: signal: \"whistle\"",
			"level": "note",
		},
		{
			"at": "people/ana/whistle",
			"text": "no use is recorded for “whistle” (worn); if it is what its name says, write can: signal: \"whistle\"",
			"level": "note",
		},
	} with input as {"unrecorded": [thing({}), thing({"id": "people/ana/whistle", "pack": "", "where": ""})]}
}

test_not_recorded_asks_what_else if {
	entries.finding.not_recorded == {{
		"at": "packs/rust/whistle",
		"text": "no use is recorded for “whistle” (Lid); if it is what its name says, write can: signal: \"whistle\"; whose it is",
		"level": "note",
	}} with input as {"unrecorded": [thing({"ask": "whose it is"})]}
}

test_not_recorded_none if {
	count(entries.finding.not_recorded) == 0 with input as {"unrecorded": [], "people": [t.person({})]}
}

test_not_recorded_amount if {
	entries.finding.not_recorded == {{
		"at": "packs/rust/rice/food",
		"text": "the energy of “rice” (Lid) is not recorded; write, for example, food: energy: \"450 kcal\"",
		"level": "note",
	}} with input as {"unrecorded": [thing({
		"id": "packs/rust/rice/food",
		"name": "rice",
		"what": "energy",
		"may": ["food"],
		"write": "food: energy: \"450 kcal\"",
	})]}
}

test_not_recorded_body_mass if {
	entries.finding.not_recorded == {{
		"at": "people/ana/bodyMass",
		"text": "no body weight is recorded for Ana, so 57 kg is assumed; write, for example, bodyMass: \"57 kg\"",
		"level": "note",
	}} with input as {"unrecorded": [], "people": [t.person({"body_mass_known": false, "body_mass_mg": 57000000})]}
}

test_energy_density_not_of_unknown_mass if {
	count(entries.finding.energy_density) == 0 with input as {"foods": [t.food({"energy_j": 1000, "mass_known": false})]}
}

test_vessel_density_not_of_what_is_unknown if {
	vessel := {"capacity_ml": 1000000, "mass_mg": 0}
	count(entries.finding.vessel_density) == 0 with input as {"vessels": [
		t.vessel(object.union(vessel, {"mass_known": false})),
		t.vessel(object.union(vessel, {"capacity_known": false})),
	]}
}

idle(names) := {"idle": [{"id": sprintf("packs/rust/%s", [name]), "name": name} | some name in names]}

test_no_purpose_together if {
	entries.finding.no_purpose == {{
		"at": "packs/rust/gismo",
		"because": ["packs/rust/gismo", "packs/rust/widget"],
		"text": "no use is recorded for “gismo” and “widget”",
	}} with input as idle(["gismo", "widget"])
}

test_no_purpose_none if {
	count(entries.finding.no_purpose) == 0 with input as {"idle": []}
}

test_count_zero_one if {
	entries.finding.count_zero == {{
		"at": "packs/rust/pot/count",
		"text": "Pot is listed with a count of 0",
	}} with input as {"absent": [{"id": "packs/rust/pot/count", "name": "Pot"}]}
}

test_count_zero_none if {
	count(entries.finding.count_zero) == 0 with input as {"absent": []}
}

food(energy_j, net_mass_mg) := {"foods": [t.food({"energy_j": energy_j, "net_mass_mg": net_mass_mg})]}

rich(text) := {{"at": "packs/rust/bars/food/energy", "text": sprintf("Bars is recorded with %s", [text])}}

test_energy_density_at_the_limit if {
	count(entries.finding.energy_density) == 0 with input as food(37656, 1000)
}

test_energy_density_one_too_many if {
	entries.finding.energy_density == rich("9 kcal in 1 g, where pure fat has 9 kcal: over by 1 J") with input as food(37657, 1000)
}

test_energy_density_in_words if {
	entries.finding.energy_density == rich("11 kcal in 1 g, where pure fat has 9 kcal: over by 2 kcal") with input as food(43932, 1000)
}

test_energy_density_a_hair_too_much if {
	own := {"limits": [{"area": "data", "name": "energy_density", "list": false, "value": 37651, "values": []}]}
	entries.finding.energy_density == rich("1 kcal in 149 mg, where pure fat has 1 kcal: over by 1 J") with input as object.union(own, food(5610, 149))
}

vessel(mass_mg, capacity_ml) := {"vessels": [t.vessel({"mass_mg": mass_mg, "capacity_ml": capacity_ml})]}

test_vessel_density_at_the_limit if {
	count(entries.finding.vessel_density) == 0 with input as vessel(20000, 10000)
}

test_vessel_density_one_too_few if {
	entries.finding.vessel_density == {{
		"at": "packs/rust/bottle/container/capacity",
		"text": "Bottle is recorded as holding 10 L and weighing 20 g empty; a container that size weighs at least 20 g: 1 mg short",
	}} with input as vessel(19999, 10000)
}

test_vessel_density_not_asked_of_water_in_something_else if {
	count(entries.finding.vessel_density) == 0 with input as vessel(0, 0)
}

test_duplicates_three if {
	entries.finding.duplicates == {{
		"at": "packs/rust/pot",
		"because": ["packs/rust/can", "packs/rust/pan"],
		"text": "Pot is listed 3 times in one place with the same weight (0.10 kg)",
	}} with input as {"twins": [{"id": "packs/rust/pot", "name": "Pot", "each_mg": 100000, "count": 3, "others": ["packs/rust/can", "packs/rust/pan"]}]}
}

test_duplicates_none if {
	count(entries.finding.duplicates) == 0 with input as {"twins": []}
}

planned(more) := {"plan": t.plan(object.union({"settings": ["town"], "water_said": true}, more))}

test_plan_written_whole if {
	count(entries.finding.plan_written) == 0 with input as planned({})
}

test_plan_written_each_missing[what] if {
	some what, more in {
		"duration": [{"minutes_known": false}, "how long food, water and light must last"],
		"season": [{"season_known": false}, "cold, heat and darkness"],
		"settings": [{"settings": []}, "maps and clothes for the country"],
		"water sources": [{"water_said": false}, "water on the way"],
	}
	entries.finding.plan_written == {{
		"at": "plan",
		"text": sprintf("the plan does not record its %s, so these are not judged, or only by a guess: %s", [what, more[1]]),
	}} with input as planned(more[0])
}

# Water that awaits within a day is said.
test_plan_written_water_that_awaits[what] if {
	some what, c in {
		"within a day": [{}, {}, 0],
		"later": [{"end_hour": 25}, {}, 1],
		"never": [{"arrives": false}, {}, 1],
		"no water": [{}, {"destination": {"water": false}}, 1],
		"no route": [{}, {"legs": []}, 1],
	}
	legs := [{"arrives": true, "end_hour": 30}, object.union({"arrives": true, "end_hour": 24}, c[0])]
	plan := object.union({"water_said": false, "legs": legs, "destination": {"water": true}}, c[1])
	count(entries.finding.plan_written) == c[2] with input as planned(plan)
}

# What cannot be read is written.
test_plan_written_unread[what] if {
	some what, more in {
		"duration": {"minutes_known": false, "unread": ["duration"]},
		"season": {"season_known": false, "unread": ["season"]},
		"its weather": {"season_known": false, "unread": ["contacts", "seasons"]},
		"settings": {"settings": [], "unread": ["settings"]},
		"water sources": {"water_said": false, "unread": ["waterSources"]},
	}
	count(entries.finding.plan_written) == 0 with input as planned(more)
	count(entries.finding.plan_written) == 1 with input as planned(object.union(more, {"unread": ["contacts"]}))
}

test_plan_written_two if {
	{f.text | some f in entries.finding.plan_written} == {"the plan does not record its settings and water sources, so these are not judged, or only by a guess: maps and clothes for the country; water on the way"} with input as planned({"settings": [], "water_said": false})
}

# A group may ask for more; what it is called is said then.
test_plan_written_asked_by_a_group if {
	{f.text | some f in entries.finding.plan_written} == {"the plan does not record its hazards, so these are not judged, or only by a guess: hazards"} with input as planned({}) with data.limits.base.data.plan.value as ["hazards"]
}

# Each thing is told what it runs on, whatever others do.
test_claim_without_means_of_two if {
	facts := object.union(claim("light", "headlamp"), {"capabilities": [
		t.capability("light", [t.offer("headlamp", {})]),
		t.capability("navigate", [t.offer("phone", {})]),
	]})
	entries.finding.claim_without_means == {
		unbacked("headlamp", cells_of(`{size: "AAA", runTime: "20 h"}`)),
		unbacked("phone", charged),
	} with input as facts
}
