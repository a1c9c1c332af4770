# Builders of facts for the tests: each holds what the rules read, and the test
# says only what matters to it.
package lib.testing_test

supply(more) := object.union(
	{
		"water_ml": 0,
		"container_ml": 0,
		"container_known": true,
		"food_energy_known": true,
		"fuel_known": true,
		"fire_safe_ml": 0,
		"food_energy_j": 0,
		"no_cook_energy_j": 0,
		"sodium_mg": 0,
		"cook_water_ml": 0,
		"boilable_ml": 0,
		"treat_bacteria_ml": 0,
		"treat_viruses_ml": 0,
		"treat_giardia_ml": 0,
		"treat_crypto_ml": 0,
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
		"carrier_name": "Ana",
		"carrier_adult": true,
		"carrier_age_months": 480,
		"style": "everyday",
		"colours": [],
		"vehicle": "",
		"kept": "",
		"foot_mg": 10000000,
		"mass_mg": 10000000,
		"unweighed_mg": 0,
		"unweighed_ids": [],
		"mass_known": true,
		"no_mass": [],
		"supply": supply({}),
	},
	more,
)

# A pack with nothing but the capabilities given.
pack_with(cans) := pack({"supply": supply({"can": cans})})

# Borne on foot is all of the load, unless the test says otherwise.
carrier(more) := object.union({"foot_ug": c.load_mg * 1000, "foot_mg": c.load_mg, "body_mass_ug": c.body_mass_mg * 1000}, c) if {
	c := object.union(
		{
			"id": "people/ana",
			"kind": "person",
			"name": "Ana",
			"adult": true,
			"fitness": "good",
			"body_mass_mg": 70000000,
			"body_mass_known": true,
			"load_known": true,
			"load_id": "people/ana/load",
			"load_mg": 10000000,
			"on_body_mg": 0,
			"gear_mg": 0,
			"gear_id": "",
			"spare": [],
			"movable": [],
			"cap_known": false,
			"cap_permille": 0,
			"packs": ["packs/rust"],
			"quick_shed_mg": 2000000,
			"quick_shed_ids": [],
			"age_known": true,
			"age_months": 480,
			"carries": true,
			"species": "",
			"carried_mg": 0,
			"animal_ids": [],
			"carried_ids": [],
		},
		more,
	)
}

person(more) := object.union(
	{
		"id": "people/ana",
		"name": "Ana",
		"key": "ana",
		"age_known": true,
		"age_months": 480,
		"adult": true,
		"sex": "",
		"fitness": "good",
		"carries": true,
		"glasses": false,
		"body_mass_mg": 70000000,
		"body_mass_known": true,
		"pack_count": 1,
		"packs": ["packs/rust"],
		"rest_energy_j": 6000000,
		"alone": supply({}),
		"allergies": [],
		"severe_allergies": [],
		"licences": [],
		"needs": [],
		"diets": [],
		"breastfed": false,
		"fed": "",
		"nursing": [],
		"pregnant": false,
		"due_known": false,
		"due_day": 0,
		"due_days": 0,
		"acclimatised": false,
		"water_ml": 2600,
		"feed_ml": 0,
		"energy_j": 9309400,
		"sodium_mg": 1500,
		"nappies": true,
		"carried_by": "",
		"conditions": [],
		"must_not": [],
		"moves": "",
		"helped_by": "",
		"hears": "",
		"sees": "",
		"hearing_aids": 0,
		"hearing_aid_size": "",
		"with": [],
	},
	more,
)

household(more) := object.union(
	{
		"id": "household",
		"people_count": 2,
		"adult_count": 2,
		"child_count": 0,
		"animal_count": 0,
		"food_packed_mg": 0,
		"pack_count": 2,
		"has": [],
		"plan_min": 4320,
		"sweat_mg": 0,
		"need_ml": 5200,
		"need_j": 18618800,
		"supply": supply({}),
	},
	more,
)

item(more) := object.union(
	{
		"id": "packs/rust/pot",
		"name": "Pot",
		"pack": "packs/rust",
		"compartment": "packs/rust/lid",
		"person": "",
		"carrier": "people/ana",
		"reach": "walking",
		"count": 1,
		"mass_mg": 100000,
		"each_mg": 100000,
		"mass_known": true,
		"water_ml": 0,
		"weighed": true,
		"can": [],
		"owner": "",
		"shared": false,
		"quick_shed": false,
		"waterproof": false,
		"last_minute": false,
		"noisy": false,
		"colour": "",
		"visibility": "",
	},
	more,
)

# A thing that a child outgrows, written whole.
sized(more) := object.union(
	{
		"id": "people/mia/shoes",
		"name": "Shoes",
		"kind": "shoes",
		"whose": "people/mia",
		"size_known": true,
		"seen_known": true,
		"seen_day": 20000,
	},
	more,
)

# A capability with these offers.
capability(name, offers) := {
	"capability": name,
	"count": sum([o.count | some o in offers]),
	"offers": offers,
}

offer(means, more) := object.union(
	{
		"id": sprintf("packs/rust/%s", [means]),
		"name": means,
		"means": means,
		"count": 1,
		"pack": "packs/rust",
		"compartment": "packs/rust/lid",
		"person": "",
		"carrier": "people/ana",
		"owner": "",
		"whose": "",
		"place": "",
		"reach": "walking",
		"waterproof": false,
	},
	more,
)

food(more) := object.union(
	{
		"id": "packs/rust/bars",
		"name": "Bars",
		"pack": "packs/rust",
		"compartment": "packs/rust/lid",
		"carrier": "people/ana",
		"reach": "walking",
		"for": "",
		"for_animal": false,
		"energy_j": 0,
		"energy_known": true,
		"mass_known": true,
		"mass_mg": 0,
		"net_mass_mg": 0,
		"net_known": false,
		"sodium_mg": 0,
		"sodium_known": false,
		"protein_mg": 0,
		"cook": false,
		"cook_water_ml": 0,
		"cook_min": 0,
		"canned": false,
		"opens": true,
		"allergens": [],
		"allergens_known": true,
		"suits": [],
		"harms": [],
		"formula": "",
		"drink_ml": 0,
		"dated": true,
		"last_minute": false,
	},
	more,
)

vessel(more) := object.union(
	{
		"id": "packs/rust/bottle",
		"name": "Bottle",
		"pack": "packs/rust",
		"compartment": "packs/rust/lid",
		"carrier": "people/ana",
		"reach": "walking",
		"count": 1,
		"capacity_ml": 1000,
		"capacity_known": true,
		"mass_known": true,
		"water_ml": 0,
		"mass_mg": 100000,
		"fire_safe": false,
		"rigid": false,
		"dated": false,
		"last_minute": false,
	},
	more,
)

# Something that cannot do what it is for.
useless(capability, why, more) := object.union(
	{
		"id": "packs/rust/thing/use",
		"item": "packs/rust/thing",
		"name": "Thing",
		"capability": capability,
		"means": "",
		"pack": "packs/rust",
		"carrier": "people/ana",
		"why": why,
		"words": "does not work",
		"household": true,
		"cause": "",
		"cause_name": "",
	},
	more,
)

treatment(method, more) := object.union(
	{
		"id": "packs/rust/treatment",
		"name": "Treatment",
		"pack": "packs/rust",
		"carrier": "people/ana",
		"method": method,
		"ml": 100000,
		"wait_known": false,
		"wait_min": 0,
		"works": true,
	},
	more,
)

fuel(kind, more) := object.union(
	{
		"id": "packs/rust/fuel",
		"name": "Fuel",
		"pack": "packs/rust",
		"compartment": "packs/rust/lid",
		"carrier": "people/ana",
		"kind": kind,
		"mass_mg": 100000,
	},
	more,
)

stove(burns, more) := object.union(
	{
		"id": "packs/rust/stove",
		"name": "Stove",
		"pack": "packs/rust",
		"compartment": "packs/rust/lid",
		"carrier": "people/ana",
		"burns": burns,
		"cooks": true,
	},
	more,
)

insulation(kind, more) := object.union(
	{
		"id": sprintf("packs/rust/%s", [kind]),
		"name": kind,
		"pack": "packs/rust",
		"carrier": "people/ana",
		"owner": "",
		"whose": "",
		"count": 1,
		"kind": kind,
		"waterproof": false,
		"comfort_known": false,
		"comfort_mc": 0,
	},
	more,
)

radio(more) := object.union(
	{
		"id": "packs/rust/radio",
		"name": "Radio",
		"pack": "packs/rust",
		"carrier": "people/ana",
		"receives": [],
		"service": "",
		"works": true,
	},
	more,
)

paper(more) := object.union(
	{
		"id": "packs/rust/papers",
		"name": "Papers",
		"pack": "packs/rust",
		"carrier": "people/ana",
		"owner": "",
		"reach": "walking",
		"documents": [],
		"cash": false,
		"small_notes": false,
		"map": false,
		"covers": [],
		"waterproof": false,
	},
	more,
)

medicine(more) := object.union(
	{
		"id": "packs/rust/tablets",
		"name": "Tablets",
		"name": "Tablets",
		"pack": "packs/rust",
		"carrier": "people/ana",
		"reach": "walking",
		"medication": "people/ana/medications/thyroid",
		"person": "people/ana",
		"doses_milli": 7000,
		"usable": true,
		"dated": true,
		"cold_chain": false,
		"out_of_cold_known": false,
		"last_minute": false,
		"cooled": false,
		"repacked": false,
		"dose_known": true,
		"for_mass_known": false,
		"for_mass_mg": 0,
	},
	more,
)

allergy(more) := object.union(
	{
		"id": "people/ana/allergies/nuts",
		"person": "people/ana",
		"person_name": "Ana",
		"key": "nuts",
		"severe": false,
		"to": "",
		"medication": "",
		"own_usable_milli": 0,
	},
	more,
)

plan(more) := object.union(
	{
		"id": "plan",
		"minutes": 4320,
		"minutes_known": true,
		"unread": [],
		"season": "autumn",
		"season_known": true,
		"season_end_known": false,
		"season_end_day": 0,
		"day_mc": 15000,
		"night_mc": 5000,
		"humidity_permille": 600,
		"humidity_known": true,
		"dark_min": 600,
		"dark_total_min": 1800,
		"settings": [],
		"altitude_mm": 0,
		"low_profile": false,
		"hazards": [],
		"shade": false,
		"destination": {"known": false, "kind": "", "water": false, "food": false, "beds": false},
		"water_named": false,
		"water_said": false,
		"thirsty": false,
		"distance_mm": 0,
		"climb_mm": 0,
		"water_sources": [],
		"legs": [],
		"ridden": false,
		"foot_mm": 0,
		"foot_min": 0,
		"hazards": [],
		"warning_known": false,
		"warning_min": 0,
		"ways": 0,
		"home_altitude_known": false,
		"home_altitude_mm": 0,
		"meeting_places": [],
		"meeting_points": 0,
		"contacts": 0,
		"contacts_out_of_area": 0,
		"hazards": [],
		"ridden": false,
		"foot_mm": 0,
	},
	more,
)

animal(more) := object.union(
	{
		"id": "animals/bo",
		"key": "bo",
		"name": "Bo",
		"species": "dog",
		"body_mass_mg": 20000000,
		"need_j": 4000000,
		"need_ml": 1000,
		"drinks": true,
		"food_j": 0,
		"age_known": true,
		"age_months": 48,
		"fitness": "good",
		"carries": false,
		"chip": false,
		"carried_by": "",
		"carried_by_written": true,
		"crate_rides": false,
	},
	more,
)

compartment(more) := object.union(
	{
		"id": "packs/rust/lid",
		"pack": "packs/rust",
		"name": "Lid",
		"reach": "walking",
		"for": "",
		"mass_id": "packs/rust/lid/mass",
		"mass_mg": 1000000,
		"budget_known": false,
		"budget_mg": 0,
		"quick_shed": false,
		"waterproof": false,
	},
	more,
)

medication(more) := object.union(
	{
		"id": "people/ana/medications/thyroid",
		"name": "thyroid tablets",
		"person": "people/ana",
		"person_key": "ana",
		"person_name": "Ana",
		"person_packs": 1,
		"as_needed": false,
		"cold_chain": false,
		"cold_life_known": false,
		"per_day_milli": 1000,
		"doses_milli": 7000,
		"usable_milli": 7000,
		"own_milli": 7000,
		"own_usable_milli": 7000,
		"people_usable_milli": 7000,
		"days_milli": 7000,
		"items": ["packs/rust/tablets"],
		"rescue_known": false,
		"rescue": false,
		"keep_from_known": false,
		"keep_from_mc": 0,
		"keep_to_known": false,
		"keep_to_mc": 0,
		"pressurised": false,
		"original": false,
	},
	more,
)

device(more) := object.union(
	{
		"id": "packs/rust/lamp",
		"name": "Lamp",
		"pack": "packs/rust",
		"carrier": "people/ana",
		"size": "AAA",
		"built_in": false,
		"cells_needed": 3,
		"spare_cells": 3,
		"run_min": 1800,
		"run_total_min": 3600,
		"run_known": true,
		"light": true,
		"phone": false,
		"self_powered": false,
		"empty": false,
	},
	more,
)

cells(more) := object.union(
	{
		"id": "packs/rust/cells",
		"name": "Cells",
		"pack": "packs/rust",
		"carrier": "people/ana",
		"size": "AAA",
		"chemistry": "lithium",
		"count": 3,
		"energy_mwh": 0,
		"fit_devices": 1,
	},
	more,
)

date(more) := object.union(
	{
		"id": "packs/rust/bars/expires",
		"item": "packs/rust/bars",
		"name": "Bars",
		"kind": "expires",
		"medicine": false,
		"canned": false,
		"infant": false,
		"on": "2027-01-01",
		"day": 20819,
		"days_left": 61,
	},
	more,
)

record(more) := object.union(
	{
		"id": "record",
		"weighed_known": false,
		"weighed_day": 0,
		"audited_known": false,
		"audited_day": 0,
		"shakedowns": [],
		"waivers": [],
	},
	more,
)

consumable(more) := object.union(
	{
		"id": "people/ana/consumables/strips",
		"name": "test strips",
		"person": "people/ana",
		"person_name": "Ana",
		"per_day_milli": 4000,
		"have_milli": 28000,
		"items": ["packs/rust/strips"],
	},
	more,
)

care_device(more) := object.union(
	{
		"id": "people/ana/devices/cpap",
		"name": "CPAP",
		"person": "people/ana",
		"person_name": "Ana",
		"power_mw": 40000,
		"min_per_day": 480,
		"stored_mwh": 1200000,
		"unknown": [],
		"items": ["packs/rust/battery"],
	},
	more,
)

vehicle(more) := object.union(
	{
		"id": "vehicles/car",
		"key": "car",
		"name": "car",
		"kind": "car",
		"ridden": true,
		"used": true,
		"used_mm": 50000000,
		"payload_known": true,
		"payload_mg": 400000000,
		"load_mg": 0,
		"seats": 0,
		"child_seats": 0,
		"child_seats_known": false,
		"takes_chair": false,
		"takes_chair_known": false,
		"range_known": false,
		"range_mm": 0,
		"packs": [],
		"only": [],
	},
	more,
)

# A thing of Ana's of which is not recorded that it may be these.
unread(may, more) := object.union(
	{
		"id": "packs/rust/thing",
		"name": "thing",
		"where": "Lid",
		"pack": "packs/rust",
		"carrier": "people/ana",
		"count": 1,
		"what": "",
		"may": may,
		"write": "",
	},
	more,
)

# The same facts with such things.
with_unread(facts, things) := object.union(facts, {"unrecorded": things})

# The levels of findings, those of the rule as "", and "not recorded" for what may be there and is only not recorded.
levels(findings) := sort([level_of(f) | some f in findings])

level_of(f) := "not recorded" if f.unrecorded

level_of(f) := object.get(f, "level", "") if not f.unrecorded
