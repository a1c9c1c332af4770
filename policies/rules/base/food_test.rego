package rules.base.food_test

import data.lib.testing_test as t
import data.rules.base.food

facts(household, supply) := {"household": t.household(object.union(household, {"supply": t.supply(supply)}))}

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

# What the rules that go through the foods read; more is laid over it.
table(more) := object.union(
	{
		"household": t.household({"plan_min": 1440}),
		"plan": t.plan({}),
		"people": [t.person({})],
		"animals": [],
		"foods": [],
		"allergies": [],
		"endurance": {"minutes": 1440, "stocks": [], "bodies": []},
		"capabilities": [],
	},
	more,
)

# 3050 kcal in 900 g, and 450 kcal in 100 g: 3500 kcal in 1 kg; what is over in either is of the bars.
dense(energy_j, mass_mg) := table({
	"household": t.household({
		"supply": t.supply({"food_energy_j": 14644000 + energy_j}),
		"food_packed_mg": 1000000 + mass_mg,
	}),
	"foods": [
		t.food({"energy_j": 12761200 + energy_j, "mass_mg": 900000 + mass_mg}),
		t.food({"id": "packs/rust/nuts", "energy_j": 1882800, "mass_mg": 100000}),
		t.food({"id": "packs/rust/treats", "for_animal": true, "mass_mg": 900000}),
	],
})

test_energy_density_at_the_limit if {
	count(food.finding.energy_density) == 0 with input as dense(0, 0)
}

test_energy_density_one_too_little if {
	food.finding.energy_density == {{
		"at": "household",
		"because": ["packs/rust/bars"],
		"text": "the food weighs 1.00 kg as packed and holds 3500 kcal, 3500 kcal a kilogram; 3500 kcal a kilogram is asked: 1 J too little for its mass",
	}} with input as dense(-1, 0)
}

test_energy_density_in_words if {
	food.finding.energy_density == {{
		"at": "household",
		"because": ["packs/rust/bars"],
		"text": "the food weighs 2.00 kg as packed and holds 3500 kcal, 1750 kcal a kilogram; 3500 kcal a kilogram is asked: 3500 kcal too little for its mass",
	}} with input as dense(0, 1000000)
}

# What is exactly at the limit is no reason.
test_energy_density_names_only_what_is_below if {
	some f in food.finding.energy_density with input as object.union(dense(-1, 0), {"foods": [
		t.food({"id": "packs/rust/even", "energy_j": 1464400, "mass_mg": 100000}),
		t.food({"id": "packs/rust/thin", "energy_j": 1464399, "mass_mg": 100000}),
	]})
	f.because == ["packs/rust/thin"]
}

test_energy_density_not_asked_without_food if {
	count(food.finding.energy_density) == 0 with input as table({})
}

mia := t.person({"id": "people/mia", "key": "mia", "name": "Mia"})

bo := {"id": "animals/bo", "name": "Bo"}

milk := t.allergy({"id": "people/mia/allergies/milk", "person": "people/mia", "person_name": "Mia", "key": "milk"})

eaten(food_more, allergies) := table({
	"people": [t.person({}), mia],
	"animals": [bo],
	"foods": [t.food(food_more)],
	"allergies": allergies,
})

test_allergens_none_met if {
	facts := eaten({"allergens": ["oats"]}, [t.allergy({"severe": true}), milk])
	count(food.finding.allergens) == 0 with input as facts
}

test_allergens_of_allergies_to_other_things if {
	every to in ["medicine", "insect", "contact", "other"] {
		facts := eaten({"allergens": ["nuts"], "allergens_known": false}, [t.allergy({"severe": true, "to": to})])
		count(food.finding.allergens) == 0 with input as facts
		count(food.finding.allergens_written) == 0 with input as facts
	}
	count(food.finding.allergens) == 1 with input as eaten({"allergens": ["nuts"]}, [t.allergy({"to": "food"})])
}

test_allergens_alike if {
	every pair in [
		["nuts", "nuts"], ["Nuts", "nuts"], ["nut", "nuts"], ["Tree nuts", "nuts"], ["may contain nuts", "nuts"], ["nuts", "tree_nuts"],
		["hazel-nuts", "nuts"], ["milk powder", "milk"], ["nuts, milk", "milk"], ["milk/soy", "milk"], ["peanuts", "peanut"], [" nuts ", "nuts"], ["hazelnuts", "nuts"], ["peanuts", "nuts"], ["milk powder", "milk sugar"],
	] {
		count(food.finding.allergens) == 1 with input as eaten({"allergens": [pair[0]]}, [t.allergy({"key": pair[1]})])
	}
	every pair in [["nuts", "peanut"], ["soy", "milk"], ["", "nuts"], ["none", "nuts"], ["s", "nuts"], ["nuts", "s"]] {
		count(food.finding.allergens) == 0 with input as eaten({"allergens": [pair[0]]}, [t.allergy({"key": pair[1]})])
	}
}

test_allergens_in_food_for_everybody if {
	food.finding.allergens == {{
		"at": "packs/rust/bars",
		"because": ["people/ana/allergies/nuts", "people/mia/allergies/milk"],
		"text": "Bars has in it what its eaters must not meet: nuts (Ana, severe) and milk (Mia); it is meant for everybody",
	}} with input as eaten({"allergens": ["milk", "nuts", "oats"]}, [t.allergy({"severe": true}), milk])
}

test_allergens_in_own_food if {
	food.finding.allergens == {{
		"at": "packs/rust/bars",
		"because": ["people/mia/allergies/milk"],
		"text": "Bars has in it what its eaters must not meet: milk (Mia); it is meant for Mia",
	}} with input as eaten({"for": "people/mia", "allergens": ["milk", "nuts"]}, [t.allergy({}), milk])
}

test_allergens_not_asked_of_food_for_others if {
	facts := eaten({"for": "people/mia", "allergens": ["nuts"]}, [t.allergy({})])
	count(food.finding.allergens) == 0 with input as facts
}

test_allergens_not_asked_of_food_for_animals if {
	facts := eaten({"for": "animals/bo", "for_animal": true, "allergens": ["nuts"]}, [t.allergy({})])
	count(food.finding.allergens) == 0 with input as facts
}

test_allergens_whatever_the_spelling if {
	every word in ["tree-nuts", "Tree nuts", "TREE_NUTS"] {
		count(food.finding.allergens) == 1 with input as eaten({"allergens": [word]}, [t.allergy({"key": "tree-nuts"})])
		count(food.finding.allergens) == 1 with input as eaten({"allergens": [word]}, [t.allergy({"key": "tree_nuts"})])
	}
}

test_severe_nearby_in_food_for_another if {
	food.finding.severe_nearby == {{
		"at": "packs/rust/bars",
		"because": ["people/ana/allergies/nuts"],
		"text": "Bars is meant for Mia, but has in it what can threaten a life in the household: nuts (Ana, severe)",
	}} with input as eaten({"for": "people/mia", "allergens": ["nuts"]}, [t.allergy({"severe": true}), milk])
}

test_severe_nearby_in_food_for_an_animal if {
	food.finding.severe_nearby == {{
		"at": "packs/rust/bars",
		"because": ["people/ana/allergies/nuts"],
		"text": "Bars is meant for Bo, but has in it what can threaten a life in the household: nuts (Ana, severe)",
	}} with input as eaten({"for": "animals/bo", "allergens": ["nuts"]}, [t.allergy({"severe": true})])
}

test_severe_nearby_not_asked_of_lighter_allergies if {
	facts := eaten({"for": "people/mia", "allergens": ["nuts"]}, [t.allergy({})])
	count(food.finding.severe_nearby) == 0 with input as facts
}

test_severe_nearby_not_asked_of_what_they_eat if {
	every whom in ["", "people/ana"] {
		count(food.finding.severe_nearby) == 0 with input as eaten({"for": whom, "allergens": ["nuts"]}, [t.allergy({"severe": true})])
	}
}

test_severe_nearby_none_met if {
	facts := eaten({"for": "people/mia", "allergens": ["oats"]}, [t.allergy({"severe": true})])
	count(food.finding.severe_nearby) == 0 with input as facts
}

test_allergens_written if {
	count(food.finding.allergens_written) == 0 with input as eaten({"allergens_known": true}, [t.allergy({"severe": true})])
}

test_allergens_not_written if {
	facts := object.union(eaten({}, [t.allergy({"severe": true}), milk]), {"foods": [
		t.food({"allergens_known": false}),
		t.food({"id": "packs/rust/rice"}),
		t.food({"id": "packs/rust/mash", "allergens_known": false, "for": "people/mia"}),
	]})
	food.finding.allergens_written == {{
		"at": "household",
		"because": ["packs/rust/bars", "packs/rust/mash"],
		"text": "no allergens are written of 2 foods, and what is not written is not free of them; allergies in the household: nuts (Ana, severe) and milk (Mia)",
	}} with input as facts
}

test_allergens_not_written_where_the_allergic_eats if {
	food.finding.allergens_written == {{
		"at": "household",
		"because": ["packs/rust/bars"],
		"text": "no allergens are written of 1 food, and what is not written is not free of them; allergies in the household: milk (Mia)",
	}} with input as eaten({"allergens_known": false, "for": "people/mia"}, [milk])
}

test_allergens_not_written_anywhere_where_severe if {
	facts := eaten({"allergens_known": false, "for": "animals/bo", "for_animal": true}, [t.allergy({"severe": true})])
	count(food.finding.allergens_written) == 1 with input as facts
}

test_allergens_not_written_not_asked_of_food_for_others if {
	facts := eaten({"allergens_known": false, "for": "people/ana"}, [milk])
	count(food.finding.allergens_written) == 0 with input as facts
}

test_allergens_not_written_not_asked_without_allergies if {
	count(food.finding.allergens_written) == 0 with input as eaten({"allergens_known": false}, [])
}

canned(offers) := table({
	"people": [t.person({}), mia],
	"foods": [
		t.food({"id": "packs/rust/stew", "name": "Stew", "canned": true}),
		t.food({"id": "packs/rust/corn", "name": "Corn", "canned": true, "for": "animals/bo", "for_animal": true}),
		t.food({}),
		t.food({"id": "packs/kite/nuts", "carrier": "people/mia"}),
	],
	"capabilities": [t.capability("open_cans", offers)],
})

test_can_opener_with_the_cans if {
	count(food.finding.can_opener) == 0 with input as canned([t.offer("can-opener", {})])
}

test_can_opener_missing if {
	food.finding.can_opener == {{
		"at": "people/ana",
		"because": ["packs/rust/stew", "packs/rust/corn"],
		"text": "Ana carries canned food (Stew and Corn) and nothing that opens cans: 1 is asked, 1 too few",
	}} with input as canned([])
}

test_can_opener_with_somebody_else if {
	facts := canned([t.offer("can-opener", {"carrier": "people/mia"})])
	count(food.finding.can_opener) == 1 with input as facts
}

test_can_opener_missing_for_one_can if {
	facts := table({"foods": [t.food({"canned": true})]})
	count(food.finding.can_opener) == 1 with input as facts
}

test_can_opener_not_asked_of_animals if {
	facts := table({"foods": [t.food({"canned": true, "carrier": "animals/bo"})]})
	count(food.finding.can_opener) == 0 with input as facts
}

# An infant of 11 months, fed so, with a stock of its own that lacks so much of 24 hours.
infant(more, stock) := table({
	"people": [t.person({}), t.person(object.union({"id": "people/bo", "name": "Bo", "age_months": 11, "energy_j": 2000000, "packs": []}, more))],
	"foods": [t.food({}), t.food({"id": "packs/rust/formula", "for": "people/bo"})],
	"endurance": {"stocks": [
		{"kind": "energy", "body": "", "have": 0, "need": 9000000, "short": 9000000, "raw_j": 0},
		{"kind": "water", "body": "people/bo", "have": 0, "need": 9000000, "short": 9000000, "raw_j": 0},
		object.union({"kind": "energy", "body": "people/bo", "have": 2000000, "need": 2000000, "short": 0, "raw_j": 0}, stock),
	]},
})

test_infants_at_the_limit if {
	count(food.finding.infants) == 0 with input as infant({}, {})
}

test_infants_one_too_little if {
	food.finding.infants == {{
		"at": "people/bo",
		"because": ["packs/rust/formula"],
		"text": "the food for Bo holds 478 kcal of the 478 kcal that Bo takes in 24 h (478 kcal a day): 1 J short",
		"level": "error",
	}} with input as infant({}, {"have": 1999999, "short": 1})
}

test_infants_in_words if {
	[f.text | some f in food.finding.infants] == ["the food for Bo holds nothing of the 478 kcal that Bo takes in 24 h (478 kcal a day): 478 kcal short; 239 kcal cannot be made, as there is no fuel left or no stove that burns it"] with input as infant({}, {"have": 0, "short": 2000000, "raw_j": 1000000})
}

test_infants_of_next_to_nothing if {
	[f.text | some f in food.finding.infants] == ["the food for Bo holds 0 kcal of the 478 kcal that Bo takes in 24 h (478 kcal a day): 478 kcal short; 0 kcal cannot be made, as there is no fuel left or no stove that burns it"] with input as infant({}, {"have": 1, "short": 1999999, "raw_j": 1})
}

test_infants_level_by_how_they_are_fed if {
	every fed, level in {"": "error", "formula": "error", "mixed": "error", "solids": "warning"} {
		{f.level | some f in food.finding.infants} == {level} with input as infant({"fed": fed}, {"short": 1})
	}
}

test_infants_by_age if {
	count(food.finding.infants) == 0 with input as infant({"age_months": 12}, {"short": 1})
	count(food.finding.infants) == 0 with input as infant({"age_months": 0, "age_known": false}, {"short": 1})
}

# Ana takes 8,786,400 J until the plan of 24 hours ends.
diet(diets, foods) := table({
	"people": [t.person({"diets": diets}), mia],
	"foods": foods,
	"endurance": {"bodies": [{"id": "people/mia", "spent_j": 1}, {"id": "people/ana", "spent_j": 8786400}]},
})

test_diet_at_the_limit if {
	count(food.finding.diet) == 0 with input as diet(["halal", "vegetarian"], [
		t.food({"energy_j": 4393200, "suits": ["halal", "vegetarian"]}),
		t.food({"energy_j": 4393200, "suits": ["halal", "kosher", "vegetarian"], "for": "people/ana"}),
	])
}

test_diet_one_too_little if {
	food.finding.diet == {{
		"at": "people/ana",
		"because": ["packs/rust/stew"],
		"text": "the food that is right for Ana (halal and vegetarian) holds 2100 kcal of the 2100 kcal that Ana takes in 24 h: 1 J short",
		"level": "note",
	}} with input as diet(["halal", "vegetarian"], [
		t.food({"energy_j": 8786399, "suits": ["halal", "vegetarian"]}),
		t.food({"id": "packs/rust/stew", "energy_j": 1000000, "suits": ["halal"]}),
		t.food({"id": "packs/rust/mash", "energy_j": 1000000, "suits": ["halal", "vegetarian"], "for": "people/mia"}),
		t.food({"id": "packs/rust/curd", "energy_j": 1000000, "for": "people/mia"}),
	])
}

test_diet_kept_for_health_is_a_warning if {
	every diets, level in {["gluten-free"]: "warning", ["lactose-free", "vegan"]: "warning", ["kosher"]: "note"} {
		{f.level | some f in food.finding.diet} == {level} with input as diet(diets, [])
	}
}

# Common food covers 90 % of what is taken, or less.
test_diet_of_choice_not_asked_where_all_are_hungry if {
	every c in [[100, 1], [101, 0]] {
		hungry := {"endurance": {"stocks": [{"kind": "water", "body": "", "need": 9, "short": 9}, {"kind": "energy", "body": "animals/bo", "need": 9, "short": 9}, {"kind": "energy", "body": "", "need": 1000, "short": c[0]}]}}
		count(food.finding.diet) == c[1] with input as object.union(diet(["vegan"], []), hungry)
		count(food.finding.diet) == 1 with input as object.union(diet(["gluten-free"], []), hungry)
	}
}

test_diet_vegan_food_suits_more if {
	every one in ["vegetarian", "lactose-free"] {
		count(food.finding.diet) == 0 with input as diet([one], [t.food({"energy_j": 8786400, "suits": ["vegan"]})])
	}
}

test_diet_vegan_food_does_not_suit_all if {
	every one in ["halal", "kosher", "gluten-free"] {
		count(food.finding.diet) == 1 with input as diet([one], [t.food({"energy_j": 8786400, "suits": ["vegan"]})])
	}
}

test_diet_vegetarian_food_is_not_lactose_free if {
	count(food.finding.diet) == 1 with input as diet(["lactose-free"], [t.food({"energy_j": 8786400, "suits": ["vegetarian"]})])
}

test_diet_not_asked_without_one if {
	count(food.finding.diet) == 0 with input as diet([], [])
}

test_diet_not_asked_of_infants if {
	every c in [[11, 0], [12, 1]] {
		count(food.finding.diet) == c[1] with input as object.union(diet([], []), {"people": [t.person({"diets": ["vegan"], "age_months": c[0]})]})
	}
}

# Half of 8,786,400 J.
ready(person, food_more) := table({
	"people": [t.person(object.union({"energy_j": 8786400}, person))],
	"foods": [t.food(object.union({"energy_j": 4393200}, food_more))],
})

test_alone_no_cook_at_the_limit if {
	count(food.finding.alone_no_cook) == 0 with input as ready({}, {})
	count(food.finding.alone_no_cook) == 0 with input as ready({}, {"for": "people/ana"})
}

test_alone_no_cook_one_too_little if {
	food.finding.alone_no_cook == {{
		"at": "packs/rust",
		"because": ["packs/rust/bars"],
		"text": "Ana, on their own, has 1050 kcal to eat without cooking and needs 1050 kcal, 50.0 % of a day: 1 J short",
		"level": "warning",
	}} with input as ready({}, {"energy_j": 4393199})
}

test_alone_no_cook_counts_only_what_they_can_eat if {
	every more in [{"cook": true}, {"carrier": "people/mia"}, {"for": "people/mia"}] {
		food.finding.alone_no_cook == {{
			"at": "people/ana",
			"because": [],
			"text": "Ana, on their own, has nothing to eat without cooking and needs 1050 kcal, 50.0 % of a day: 1050 kcal short",
			"level": "warning",
		}} with input as ready({"packs": [], "pack_count": 0}, more)
	}
}

test_alone_no_cook_of_who_is_never_alone if {
	count(food.finding.alone_no_cook) == 0 with input as ready({"with": ["people/mia"]}, {"carrier": "people/mia"})
	count(food.finding.alone_no_cook) == 1 with input as ready({"with": ["people/ben"]}, {"carrier": "people/mia"})
}

test_alone_no_cook_by_age if {
	every c in [[71, set()], [72, {"note"}], [143, {"note"}], [144, {"warning"}]] {
		{f.level | some f in food.finding.alone_no_cook} == c[1] with input as ready({"age_months": c[0]}, {"energy_j": 0})
	}
}
