package rules.base.food_test

import data.lib.testing_test as t
import data.rules.base.food

facts(household, supply) := {
	"household": t.household(object.union(household, {"supply": t.supply(supply)})),
	"animals": [{"id": "animals/bo"}],
	"foods": [
		{"id": "bars", "for_animal": false, "cook": false},
		{"id": "rice", "for_animal": false, "cook": true},
		{"id": "mash", "for_animal": true, "cook": true},
	],
}

# 2 people for 72 h at 8,786,400 J.
test_energy_at_the_limit if {
	count(food.finding.energy) == 0 with input as facts({}, {"food_energy_j": 52718400})
}

test_energy_one_too_few if {
	food.finding.energy == {{
		"at": "household",
		"because": ["household/food-energy"],
		"text": "the food holds 12600 kcal; 2 people for 72 h at 2100 kcal a day each take 12600 kcal: 1 J too little",
	}} with input as facts({}, {"food_energy_j": 52718399})
}

test_energy_of_a_part_of_a_day if {
	food.finding.energy == {{
		"at": "household",
		"because": ["household/food-energy"],
		"text": "the food holds 0 kcal; 1 person for 12 h 30 min at 2100 kcal a day each take 1094 kcal: 1094 kcal too little",
	}} with input as facts({"people_count": 1, "plan_min": 750}, {})
}

test_energy_not_asked_without_a_plan if {
	count(food.finding.energy) == 0 with input as facts({"plan_min": 0}, {})
}

test_no_cook_share_at_the_limit if {
	count(food.finding.no_cook_share) == 0 with input as facts({}, {"food_energy_j": 8368000, "no_cook_energy_j": 4184000})
}

test_no_cook_share_one_too_few if {
	food.finding.no_cook_share == {{
		"at": "household",
		"because": ["rice"],
		"text": "1000 kcal of the food's 2000 kcal needs no cooking, 50.0 % of it; 50.0 % is asked: 1 J too little",
	}} with input as facts({}, {"food_energy_j": 8368000, "no_cook_energy_j": 4183999})
}

test_no_cook_share_not_asked_without_food if {
	count(food.finding.no_cook_share) == 0 with input as facts({}, {})
}

# 2 people for 3 days at 1500 mg, and 500 mg of sweat.
test_sodium_at_the_limit if {
	count(food.finding.sodium) == 0 with input as facts({"sweat_mg": 500}, {"food_energy_j": 1, "sodium_mg": 9500})
}

test_sodium_one_too_few if {
	food.finding.sodium == {{
		"at": "household",
		"because": ["household/sodium"],
		"text": "the food holds 9499 mg of sodium; 2 people for 72 h at 1500 mg a day each take 9000 mg, and the walks' sweat 500 mg: 1 mg too little",
	}} with input as facts({"sweat_mg": 500}, {"food_energy_j": 1, "sodium_mg": 9499})
}

test_sodium_not_asked_without_food if {
	count(food.finding.sodium) == 0 with input as facts({}, {})
}

test_cook_fuel_at_the_limit if {
	count(food.finding.cook_fuel) == 0 with input as facts({}, {"boilable_ml": 1500, "cook_water_ml": 1500})
}

test_cook_fuel_one_too_few if {
	food.finding.cook_fuel == {{
		"at": "household",
		"because": ["household/cook-water"],
		"text": "the fuel and stoves at hand boil 1.499 L; the food takes 1.5 L, and 100.0 % of that is asked: 0.001 L too little",
	}} with input as facts({}, {"boilable_ml": 1499, "cook_water_ml": 1500})
}

test_cook_fuel_not_asked_without_cooked_food if {
	count(food.finding.cook_fuel) == 0 with input as facts({}, {})
}
