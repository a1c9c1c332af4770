package rules.base.data_test

import data.lib.testing_test as t
import data.rules.base.data as entries

claim(capability, means) := {
	"capabilities": [t.capability(capability, [t.offer(means, {})])],
	"devices": [],
	"stoves": [],
}

unbacked(means, text) := {{
	"at": sprintf("packs/rust/%s", [means]),
	"text": sprintf("%s claims more than is written for it: %s", [means, text]),
}}

needs := [
	["light", "headlamp", "device"],
	["light", "torch", "device"],
	["light", "lantern", "device"],
	["communicate", "phone", "device"],
	["communicate", "radio", "device"],
	["communicate", "receiver", "device"],
	["navigate", "gps", "device"],
	["navigate", "phone", "device"],
	["cook", "gas-stove", "stove"],
	["cook", "alcohol-stove", "stove"],
	["cook", "solid-fuel-stove", "stove"],
	["cook", "wood-stove", "stove"],
	["cook", "liquid-stove", "stove"],
]

test_claim_without_means_each if {
	every n in needs {
		entries.finding.claim_without_means == unbacked(
			n[1],
			sprintf("%s by %s, without a %s", n),
		) with input as claim(n[0], n[1])
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
		"capabilities": [t.capability("navigate", [t.offer("phone", {})]), t.capability("communicate", [t.offer("phone", {})])],
		"devices": [t.device({})],
		"stoves": [t.stove([], {})],
	}
	entries.finding.claim_without_means == unbacked(
		"phone",
		"communicate by phone, without a device and navigate by phone, without a device",
	) with input as facts
}

things(items) := {
	"packs": [t.pack({}), t.pack({"id": "packs/moss", "name": "Moss"})],
	"people": [t.person({}), t.person({"id": "people/ben", "name": "Ben"})],
	"items": [t.item(i) | some i in items],
}

test_no_purpose_by_place if {
	entries.finding.no_purpose == {
		{
			"at": "packs/rust",
			"because": ["packs/rust/cup", "packs/rust/pot"],
			"text": "Rust has 2 things with no use written",
		},
		{
			"at": "people/ana",
			"because": ["people/ana/cord"],
			"text": "Ana has 1 thing with no use written",
		},
	} with input as things([
		{"purpose": false},
		{"id": "packs/rust/cup", "purpose": false},
		{"id": "packs/moss/bag", "pack": "packs/moss", "purpose": true},
		{"id": "people/ana/cord", "pack": "", "person": "people/ana", "purpose": false},
	])
}

test_no_purpose_not_asked[what] if {
	some what, item in {
		"a purpose": {"purpose": true},
		"none of it": {"purpose": false, "count": 0},
	}
	count(entries.finding.no_purpose) == 0 with input as things([item])
}

test_count_zero_none if {
	entries.finding.count_zero == {{
		"at": "packs/rust/pot/count",
		"text": "Pot is listed with a count of 0",
	}} with input as things([{"count": 0}])
}

test_count_zero_one if {
	count(entries.finding.count_zero) == 0 with input as things([{"count": 1}])
}

food(energy_j, net_mass_mg) := {"foods": [t.food({"energy_j": energy_j, "net_mass_mg": net_mass_mg})]}

rich(text) := {{"at": "packs/rust/bars/food/energy", "text": sprintf("Bars: %s too much", [text])}}

test_energy_density_at_the_limit if {
	count(entries.finding.energy_density) == 0 with input as food(37656, 1000)
}

test_energy_density_one_too_many if {
	entries.finding.energy_density == rich("9 kcal in 1 g; pure fat gives 9 kcal: 1 J") with input as food(37657, 1000)
}

test_energy_density_in_words if {
	entries.finding.energy_density == rich("11 kcal in 1 g; pure fat gives 9 kcal: 2 kcal") with input as food(43932, 1000)
}

test_energy_density_a_hair_too_much if {
	own := {"limits": [{"area": "data", "name": "energy_density", "list": false, "value": 37651, "values": []}]}
	entries.finding.energy_density == rich("1 kcal in 149 mg; pure fat gives 1 kcal: 1 J") with input as object.union(own, food(5610, 149))
}

vessel(mass_mg, capacity_ml, water_ml) := {
	"items": [t.item({"id": "packs/rust/bottle", "name": "Bottle", "mass_mg": mass_mg}), t.item({})],
	"vessels": [t.vessel({"capacity_ml": capacity_ml, "water_ml": water_ml})],
}

light(text) := {{"at": "packs/rust/bottle/container/capacity", "text": sprintf("Bottle holds %s too little", [text])}}

test_vessel_density_at_the_limit if {
	count(entries.finding.vessel_density) == 0 with input as vessel(20000, 10000, 0)
}

test_vessel_density_one_too_few if {
	entries.finding.vessel_density == light("10 L and weighs 20 g; a vessel for that weighs at least 20 g: 1 mg") with input as vessel(19999, 10000, 0)
}

test_vessel_density_in_words if {
	entries.finding.vessel_density == light("10 L and weighs 19 g; a vessel for that weighs at least 20 g: 2 g") with input as vessel(18500, 10000, 0)
}

test_vessel_density_a_hair_too_little if {
	own := {"limits": [{"area": "data", "name": "vessel_mass", "list": false, "value": 2001, "values": []}]}
	entries.finding.vessel_density == light("0.001 L and weighs 2 mg; a vessel for that weighs at least 2 mg: 1 mg") with input as object.union(own, vessel(2, 1, 0))
}

test_vessel_density_not_asked_with_water_in_it if {
	count(entries.finding.vessel_density) == 0 with input as vessel(19999, 10000, 1)
}

test_vessel_density_not_asked_of_other_things if {
	facts := object.union(vessel(20000, 10000, 0), {"items": [t.item({"mass_mg": 1})]})
	count(entries.finding.vessel_density) == 0 with input as facts
}

twice(more, dates) := object.union(
	things([{}, object.union({"id": "packs/rust/pan"}, more)]),
	{"dates": [t.date(d) | some d in dates]},
)

test_duplicates_two if {
	entries.finding.duplicates == {{
		"at": "packs/rust/pot",
		"because": ["packs/rust/pan"],
		"text": "Pot is written 2 times in one place with the same mass (0.10 kg): 1 too many",
	}} with input as twice({}, [])
}

test_duplicates_three if {
	facts := object.union(twice({}, []), {"items": [t.item({}), t.item({"id": "packs/rust/pan"}), t.item({"id": "packs/rust/can"})]})
	entries.finding.duplicates == {{
		"at": "packs/rust/pot",
		"because": ["packs/rust/can", "packs/rust/pan"],
		"text": "Pot is written 3 times in one place with the same mass (0.10 kg): 2 too many",
	}} with input as facts
}

test_duplicates_not_alike[what] if {
	some what, more in {
		"another name": {"name": "Pan"},
		"another mass": {"each_mg": 100001},
		"another compartment": {"compartment": "packs/rust/main"},
		"another person": {"person": "people/ana"},
		"another owner": {"owner": "people/ben"},
		"none of it": {"count": 0},
	}
	count(entries.finding.duplicates) == 0 with input as twice(more, [])
}

test_duplicates_not_asked_of_dated_things if {
	count(entries.finding.duplicates) == 0 with input as twice({}, [{"item": "packs/rust/pan"}])
}
