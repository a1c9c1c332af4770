package rules.base.food

import data.lib

# METADATA
# title: Food energy for the plan
# description: >-
#   Hungry people get cold, slow and quarrelsome. All food for people, whoever bears it,
#   is set against everybody in the household for as long as the plan lasts. The figure is
#   a mean over a population, infants included; walking under a load takes more.
# custom:
#   level: error
#   remedy: Add food with much energy for its mass, such as nuts, bars or oil.
#   sources:
#     - "Sphere Handbook, food transfers standard 1, 2011: 2,100 kcal per person and day; seen in a copy of its own page (2018 edition the same: from memory)"
#   limits: [food.energy]
#   caution: Infants, pregnancy, diabetes and special diets need a plan of their own from a licensed practitioner.
#   passes: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: energy: "2100 kcal"}
#   fails: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "450 g", food: energy: "1900 kcal"}
finding.energy contains f if {
	house := input.household
	each := lib.limit("food", "energy")
	need := (each * house.people_count) * house.plan_min
	short := lib.up(need, lib.day_min) - house.supply.food_energy_j
	short > 0
	f := {
		"at": house.id,
		"because": ["household/food-energy"],
		"text": sprintf("the food holds %s; %s for %s at %s a day each take %s: %s too little", [
			lib.kcal(house.supply.food_energy_j),
			lib.people(house.people_count),
			lib.hours(house.plan_min),
			lib.kcal(each),
			lib.kcal(lib.nearest(need, lib.day_min)),
			lib.energy(short),
		]),
	}
}

# METADATA
# title: Enough food that needs no cooking
# description: >-
#   Fuel runs out, smoke draws eyes, and on the move nobody cooks. A share of the food's
#   energy must be ready to eat. All food of the household counts, whoever bears it.
# custom:
#   level: warning
#   remedy: Exchange some of the food that must be cooked for food that is ready to eat.
#   sources:
#     - "The share: common practice, no source"
#     - "CDC, personal needs, NPM 2019: three days of food ready to eat; seen in a copy of its own page"
#     - "Get Ready (New Zealand), no-cook food, year not seen, a copy of its own page; Prepare (UK), 2024, seen second-hand"
#   limits: [food.no_cook_share]
#   passes: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: energy: "2100 kcal"}
#   fails: |
#     packs: rust: compartments: lid: items: rice: {mass: "500 g", food: {energy: "1800 kcal", cookWater: "1 L"}}
finding.no_cook_share contains f if {
	house := input.household
	least := lib.limit("food", "no_cook_share")
	short := lib.lacking(house.supply.no_cook_energy_j, house.supply.food_energy_j, least)
	f := {
		"at": house.id,
		"because": _cooked,
		"text": sprintf("%s of the food's %s needs no cooking, %s of it; %s is asked: %s too little", [
			lib.kcal(house.supply.no_cook_energy_j),
			lib.kcal(house.supply.food_energy_j),
			lib.percent(house.supply.no_cook_energy_j, house.supply.food_energy_j),
			lib.share(least),
			lib.energy(short),
		]),
	}
}

_cooked := [food.id | some food in input.foods; food.cook; not food.for_animal]

# METADATA
# title: Sodium for the plan and its sweat
# description: >-
#   Much water without salt makes walkers weak and can be dangerous. The food's sodium
#   is set against the daily intake of everybody for the plan, and what the plan's walks
#   cost in sweat. The adult figure is used for all; children need less. Asked only where
#   there is food.
# custom:
#   level: warning
#   remedy: Add salted food or sachets of rehydration salts, and write their sodium by the label.
#   sources:
#     - "NASEM, Dietary Reference Intakes for Sodium and Potassium, 2019 (NAP 25353): adequate intake 1,500 mg a day from 14 years; seen second-hand"
#   limits: [food.sodium]
#   caution: >-
#     Whoever has been told to eat little salt (heart, kidney, blood pressure) follows a
#     licensed practitioner, not this sum. Rehydration salts by the packet only.
#   passes: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2100 kcal", sodium: "1600 mg"}}
#   fails: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2100 kcal", sodium: "400 mg"}}
finding.sodium contains f if {
	house := input.household
	house.supply.food_energy_j > 0
	each := lib.limit("food", "sodium")
	intake := (each * house.people_count) * house.plan_min
	short := (lib.up(intake, lib.day_min) + house.sweat_mg) - house.supply.sodium_mg
	short > 0
	f := {
		"at": house.id,
		"because": ["household/sodium"],
		"text": sprintf("the food holds %d mg of sodium; %s for %s at %d mg a day each take %d mg, and the walks' sweat %d mg: %d mg too little", [
			house.supply.sodium_mg,
			lib.people(house.people_count),
			lib.hours(house.plan_min),
			each,
			lib.up(intake, lib.day_min),
			house.sweat_mg,
			short,
		]),
	}
}

# METADATA
# title: Fuel for the food that must be cooked
# description: >-
#   Dried food without hot water is weight for nothing. The water that the fuel can boil
#   in the stoves at hand must be enough for what the food asks for; fuel that no stove
#   burns counts nothing. Asked only where food takes water to prepare.
# custom:
#   level: warning
#   remedy: Add fuel for a stove that is packed, or exchange the food for some that needs no cooking.
#   sources:
#     - "The share: common practice, no source; wind and cold take more"
#   limits: [food.cook_fuel_share]
#   caution: >-
#     Burn stoves outdoors only, never in a tent, a house or a vehicle: carbon monoxide has
#     no smell. Follow the maker's label and local fire rules.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	noodles: {mass: "100 g", food: {energy: "400 kcal", cookWater: "0.5 L"}}
#     	stove: {mass: "90 g", can: cook: "gas-stove", stove: burns: ["gas-mix"]}
#     	canister: {mass: "200 g", fuel: {kind: "gas-mix", mass: "100 g"}}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: noodles: {mass: "100 g", food: {energy: "400 kcal", cookWater: "0.5 L"}}
finding.cook_fuel contains f if {
	supply := input.household.supply
	share := lib.limit("food", "cook_fuel_share")
	short := lib.lacking(supply.boilable_ml, supply.cook_water_ml, share)
	f := {
		"at": input.household.id,
		"because": ["household/cook-water"],
		"text": sprintf("the fuel and stoves at hand boil %s; the food takes %s, and %s of that is asked: %s too little", [
			lib.litres(supply.boilable_ml),
			lib.litres(supply.cook_water_ml),
			lib.share(share),
			lib.litres(short),
		]),
	}
}
