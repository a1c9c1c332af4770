# Builders of facts for the tests: each holds what the rules read, and the test
# says only what matters to it.
package lib.testing_test

supply(more) := object.union(
	{
		"water_ml": 0,
		"container_ml": 0,
		"fire_safe_ml": 0,
		"food_energy_j": 0,
		"no_cook_energy_j": 0,
		"sodium_mg": 0,
		"cook_water_ml": 0,
		"boilable_ml": 0,
		"can": [],
		"first_aid": [],
	},
	more,
)

can(capability, means) := {
	"capability": capability,
	"means": means,
	"means_count": count(means),
	"items": [sprintf("packs/rust/%s", [m]) | some m in means],
}

pack(more) := object.union(
	{
		"id": "packs/rust",
		"name": "Rust",
		"carrier": "people/ana",
		"carrier_kind": "person",
		"mass_mg": 10000000,
		"unweighed_mg": 0,
		"unweighed_ids": [],
		"supply": supply({}),
	},
	more,
)

# A pack with nothing but the capabilities given.
pack_with(cans) := pack({"supply": supply({"can": cans})})

carrier(more) := object.union(
	{
		"id": "people/ana",
		"kind": "person",
		"name": "Ana",
		"adult": true,
		"fitness": "good",
		"body_mass_mg": 70000000,
		"load_id": "people/ana/load",
		"load_mg": 10000000,
		"cap_known": false,
		"cap_permille": 0,
		"packs": ["packs/rust"],
		"quick_shed_mg": 2000000,
	},
	more,
)

person(more) := object.union(
	{
		"id": "people/ana",
		"name": "Ana",
		"pack_count": 1,
		"alone": supply({}),
	},
	more,
)

household(more) := object.union(
	{
		"id": "household",
		"people_count": 2,
		"plan_min": 4320,
		"sweat_mg": 0,
		"supply": supply({}),
	},
	more,
)

item(more) := object.union(
	{
		"id": "packs/rust/pot",
		"name": "Pot",
		"pack": "packs/rust",
		"treat": "",
		"cook": false,
		"water_ml": 0,
		"container_ml": 0,
	},
	more,
)
