package rules.base.food_test

import data.lib.testing_test as t
import data.rules.base.food

facts(household, supply) := {"household": t.household(object.union(household, {"supply": t.supply(supply)}))}

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

# Rice and grits to cook, bars to eat: what boils, what is taken, what cannot be used, and what else is there.
kitchen(boilable_ml, useless, more) := object.union(
	table({
		"foods": [
			t.food({}),
			t.food({"id": "packs/rust/rice", "name": "Rice", "cook": true}),
			t.food({"id": "packs/rust/grits", "name": "Grits", "cook": true}),
			t.food({"id": "packs/rust/feed", "cook": true, "for_animal": true}),
			t.food({"id": "packs/rust/beans", "cook": true, "opens": false}),
		],
		"household": t.household({"supply": t.supply({"boilable_ml": boilable_ml, "cook_water_ml": 1500, "fire_safe_ml": 1000})}),
		"fuels": [],
		"useless": useless,
		"endurance": {"water_limit": "", "stocks": []},
	}),
	more,
)

# A forecast in which so much of a stock lacks, and so much food stays raw.
lasting(kind, short, raw_j) := {"endurance": {"water_limit": "", "stocks": [{"kind": kind, "body": "", "have": 1000 - short, "need": 1000, "short": short, "raw_j": raw_j}]}}

gas := {"fuels": [t.fuel("butane", {}), t.fuel("butane", {"id": "packs/moss/fuel"})]}

boiling_only := {"household": t.household({"supply": t.supply({"boilable_ml": 1000, "fire_safe_ml": 1})}), "foods": []}

gas_stove := {"capabilities": [t.capability("cook", [t.offer("gas-stove", {})])]}

empty_stove := t.useless("cook", "no-fuel", {"item": "packs/rust/stove", "name": "Stove", "words": "has no fuel with it"})

test_cook_fuel_at_the_limit if {
	count(food.finding.cook_fuel) == 0 with input as kitchen(1500, [], gas_stove)
}

test_cook_fuel_one_too_few if {
	food.finding.cook_fuel == {{
		"at": "packs/rust/fuel",
		"because": ["packs/rust/fuel", "packs/moss/fuel", "packs/rust/rice", "packs/rust/grits"],
		"level": "note",
		"text": "the fuel boils 1.499 L, and cooking Rice and 1 other food takes 1.5 L: 0.001 L short",
	}} with input as kitchen(1499, [], object.union(gas, gas_stove))
}

test_cook_fuel_of_a_trace_of_fuel if {
	some f in food.finding.cook_fuel with input as kitchen(0, [], gas_stove)
	f.at == "packs/rust/rice"
	startswith(f.text, "the fuel boils 0 L")
}

test_cook_fuel_without_a_stove if {
	food.finding.cook_fuel == {{
		"at": "packs/rust/rice",
		"because": ["packs/rust/rice", "packs/rust/grits"],
		"level": "note",
		"text": "Rice and 1 other food must be cooked, and nobody has a stove",
	}} with input as kitchen(0, [object.union(empty_stove, {"household": false}), t.useless("treat-water", "frozen", {})], gas)
}

test_cook_fuel_at_the_stove_without_fuel if {
	food.finding.cook_fuel == {{
		"at": "packs/rust/stove",
		"because": ["packs/rust/stove", "packs/rust/rice"],
		"level": "note",
		"text": "Rice must be cooked, and Stove has no fuel with it",
	}} with input as kitchen(0, [empty_stove], {"foods": [t.food({"id": "packs/rust/rice", "name": "Rice", "cook": true})]})
}

test_cook_fuel_at_the_gas_that_is_too_cold if {
	cold := object.union(empty_stove, {"why": "cold-fuel", "words": "is too cold", "cause": "packs/moss/gas", "cause_name": "Gas"})
	food.finding.cook_fuel == {{
		"at": "packs/moss/gas",
		"because": ["packs/rust/stove", "packs/rust/stove", "packs/rust/rice", "packs/rust/grits"],
		"level": "note",
		"text": "Rice and 1 other food must be cooked, and Stove is too cold (Gas) and Stove has no fuel with it",
	}} with input as kitchen(0, [cold, empty_stove], {})
}

# One millilitre is heat.
test_cook_fuel_of_a_little_heat if {
	some f in food.finding.cook_fuel with input as kitchen(1, [], gas)
	startswith(f.text, "the fuel boils 0.001 L")
}

test_cook_fuel_at_the_fuel_that_no_stove_burns if {
	wrong := t.useless("cook", "no-burner", {"item": "packs/rust/gas", "name": "Gas", "words": "has no stove"})
	some f in food.finding.cook_fuel with input as kitchen(0, [empty_stove, wrong], boiling_only)
	f.text == "Gas has no stove and Stove has no fuel with it"
	f.at == "packs/rust/gas"
}

test_allergens_of_nothing_unread if {
	count(food.finding.allergens_written) == 0 with input as table({"allergies": [milk]})
}

# Food that would be enough if it were cooked is as grave as no food; otherwise it is a note.
test_cook_fuel_by_level[what] if {
	some what, c in {
		"no other food": {"more": lasting("energy", 1000, 900), "level": "error"},
		"half of it": {"more": lasting("energy", 500, 500), "level": "warning"},
		"enough without it": {"more": lasting("energy", 100, 900), "level": "note"},
		"too little with it": {"more": lasting("energy", 1000, 899), "level": "note"},
	}
	every ml in [0, 1499] {
		some f in food.finding.cook_fuel with input as kitchen(ml, [], c.more)
		f.level == c.level
	}
}

# The fuel is enough for the food, and goes for water first.
test_cook_fuel_that_does_not_last if {
	food.finding.cook_fuel == {{
		"at": "packs/rust/fuel",
		"because": ["packs/rust/fuel", "packs/moss/fuel", "packs/rust/rice", "packs/rust/grits"],
		"level": "error",
		"text": "there is not enough fuel for the food that must be cooked: Rice and 1 other food",
	}} with input as kitchen(1500, [], object.union(gas, lasting("energy", 1000, 900)))
	some f in food.finding.cook_fuel with input as kitchen(1500, [], lasting("energy", 1000, 900))
	f.at == "packs/rust/rice"
}

# Water that nothing else treats is boiled too.
test_cook_fuel_for_water_to_drink if {
	food.finding.cook_fuel == {{
		"at": "packs/rust/fuel",
		"because": ["packs/rust/fuel", "packs/moss/fuel"],
		"level": "warning",
		"text": "the fuel boils 0.999 L, and the food and the water that nothing else treats need 1 L: 0.001 L short",
	}} with input as kitchen(0, [], object.union(object.union(gas, boiling_only), lasting("fuel", 1, 0)))
}

test_cook_fuel_for_water_not_asked[what] if {
	some what, more in {
		"enough": lasting("fuel", 0, 0),
		"another stock": lasting("sodium", 1, 0),
		"no fuel at all": object.union(lasting("fuel", 1, 0), {"fuels": []}),
		"the plan is dry": {"endurance": object.union(lasting("fuel", 1, 0).endurance, {"water_limit": "treatment"})},
	}
	count(food.finding.cook_fuel) == 0 with input as kitchen(0, [], object.union(object.union(gas, boiling_only), more))
}

no_pot := {"household": t.household({"supply": t.supply({"boilable_ml": 1500, "cook_water_ml": 1500})})}

test_cook_fuel_without_a_vessel if {
	food.finding.cook_fuel == {{
		"at": "packs/rust/rice",
		"because": ["packs/rust/rice", "packs/rust/grits"],
		"level": "note",
		"text": "Rice and 1 other food must be cooked, and no pot or cup is recorded as fire-safe: write fireSafe: true under container of the pot",
	}} with input as kitchen(0, [], object.union(no_pot, {"capabilities": [t.capability("eat", [t.offer("utensils", {})])]}))
}

test_cook_fuel_with_something_like_a_vessel[means] if {
	some means in ["mess-kit", "cup"]
	count(food.finding.cook_fuel) == 0 with input as kitchen(0, [], object.union(no_pot, {"capabilities": [t.capability("eat", [t.offer(means, {})])]}))
}

test_cook_fuel_of_a_stove_and_nothing_to_cook if {
	food.finding.cook_fuel == {{
		"at": "packs/rust/stove",
		"because": ["packs/rust/stove"],
		"level": "note",
		"text": "Stove has no fuel with it",
	}} with input as kitchen(0, [empty_stove], boiling_only)
	count(food.finding.cook_fuel) == 0 with input as kitchen(0, [], boiling_only)
}

# Where the same fuel is all that would treat water, water/purification says so.
test_cook_fuel_left_to_water[what] if {
	some what, c in {
		"no fuel": {"useless": {}, "more": {}, "asked": 0},
		"cold fuel": {"useless": {"why": "cold-fuel"}, "more": {}, "asked": 0},
		"a frozen filter": {"useless": {"why": "frozen"}, "more": {}, "asked": 1},
		"of one person alone": {"useless": {"household": false}, "more": {}, "asked": 1},
		"another capability": {"useless": {"capability": "light"}, "more": {}, "asked": 1},
		"and all food is raw": {"useless": {}, "more": lasting("energy", 1000, 900), "asked": 1},
		"tablets beside it": {"useless": {}, "more": {"household": t.household({"supply": t.supply({"can": [t.can("treat-water", ["chlorine"])]})})}, "asked": 1},
	}
	facts := kitchen(0, [empty_stove, object.union(t.useless("treat-water", "no-fuel", {}), c.useless)], c.more)
	count(food.finding.cook_fuel) == c.asked with input as facts
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
		"text": "Bars is for everyone and contains an allergen: nuts (Ana, severe) and milk (Mia)",
	}} with input as eaten({"allergens": ["milk", "nuts", "oats"]}, [t.allergy({"severe": true}), milk])
}

test_allergens_in_own_food if {
	food.finding.allergens == {{
		"at": "packs/rust/bars",
		"because": ["people/mia/allergies/milk"],
		"text": "Bars is for Mia and contains an allergen: milk (Mia)",
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
		"text": "Bars is for Mia but contains a severe allergen for someone else: nuts (Ana, severe)",
	}} with input as eaten({"for": "people/mia", "allergens": ["nuts"]}, [t.allergy({"severe": true}), milk])
}

test_severe_nearby_in_food_for_an_animal if {
	food.finding.severe_nearby == {{
		"at": "packs/rust/bars",
		"because": ["people/ana/allergies/nuts"],
		"text": "Bars is for Bo but contains a severe allergen for someone else: nuts (Ana, severe)",
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
		"at": "packs/rust/bars",
		"because": ["packs/rust/bars", "packs/rust/mash"],
		"text": "allergens are not recorded for Bars and 1 other food; allergies in the household: nuts (Ana, severe) and milk (Mia)",
	}} with input as facts
}

test_allergens_not_written_where_the_allergic_eats if {
	food.finding.allergens_written == {{
		"at": "packs/rust/bars",
		"because": ["packs/rust/bars"],
		"text": "allergens are not recorded for Bars; allergies in the household: milk (Mia)",
	}} with input as eaten({"allergens_known": false, "for": "people/mia"}, [milk])
}

test_allergens_not_written_anywhere_where_severe if {
	facts := eaten({"allergens_known": false, "for": "people/ben"}, [t.allergy({"severe": true})])
	count(food.finding.allergens_written) == 1 with input as facts
}

test_allergens_not_written_not_asked_of_an_animals_food if {
	facts := eaten({"allergens_known": false, "for": "animals/bo", "for_animal": true}, [t.allergy({"severe": true})])
	count(food.finding.allergens_written) == 0 with input as facts
}

test_allergens_not_written_not_asked_of_food_for_others if {
	facts := eaten({"allergens_known": false, "for": "people/ana"}, [milk])
	count(food.finding.allergens_written) == 0 with input as facts
}

test_allergens_not_written_not_asked_without_allergies if {
	count(food.finding.allergens_written) == 0 with input as eaten({"allergens_known": false}, [])
}

tin(more) := t.useless("", "no-opener", object.union({"item": "packs/rust/stew", "name": "Stew"}, more))

# Cans that nothing opens, and who has openers.
canned(useless, people) := table({"people": people, "animals": [t.animal({})], "useless": useless})

opener := {"alone": t.supply({"can": [t.can("open_cans", ["can-opener"])]})}

test_can_opener_missing if {
	food.finding.can_opener == {{
		"at": "packs/rust/stew",
		"because": ["packs/rust/stew", "packs/rust/corn", "packs/rust/peas"],
		"text": "Stew and 2 other foods need a can opener, and there is none with them",
		"level": "note",
	}} with input as canned(
		[tin({}), tin({"item": "packs/rust/corn", "carrier": "animals/bo"}), tin({"item": "packs/rust/peas"}), t.useless("cook", "no-fuel", {})],
		[t.person({}), mia],
	)
}

test_can_opener_missing_for_two_cans if {
	some f in food.finding.can_opener with input as canned([tin({}), tin({"item": "packs/rust/peas"})], [t.person({})])
	f.text == "Stew and 1 other food need a can opener, and there is none with them"
}

test_can_opener_missing_for_one_can if {
	some f in food.finding.can_opener with input as canned([tin({})], [t.person({})])
	f.text == "Stew needs a can opener, and there is none with it"
}

test_can_opener_with_somebody_beside[what] if {
	some what, c in {
		"always with them": {"ana": {"with": ["people/ben"]}, "asked": 0},
		"not always": {"ana": {}, "asked": 1},
	}
	people := [t.person(c.ana), t.person(object.union({"id": "people/ben"}, opener))]
	count(food.finding.can_opener) == c.asked with input as canned([tin({"household": false})], people)
}

test_can_opener_of_an_animals_cans if {
	count(food.finding.can_opener) == 0 with input as canned([tin({"carrier": "animals/bo", "household": false})], [])
	count(food.finding.can_opener) == 1 with input as canned([tin({"carrier": "", "household": false})], [])
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
		"text": "Bo has 478 kcal of the 478 kcal of food needed for 24 h (478 kcal a day): 1 J short",
		"level": "error",
	}} with input as infant({}, {"have": 1999999, "short": 1})
}

test_infants_in_words if {
	[f.text | some f in food.finding.infants] == ["Bo has none of the 478 kcal of food needed for 24 h (478 kcal a day): 478 kcal short; 239 kcal cannot be made, as there is no fuel left or no stove that burns it"] with input as infant({}, {"have": 0, "short": 2000000, "raw_j": 1000000})
}

test_infants_of_next_to_nothing if {
	[f.text | some f in food.finding.infants] == ["Bo has 0 kcal of the 478 kcal of food needed for 24 h (478 kcal a day): 478 kcal short; 0 kcal cannot be made, as there is no fuel left or no stove that burns it"] with input as infant({}, {"have": 1, "short": 1999999, "raw_j": 1})
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
		"text": "Ana (halal and vegetarian) has 2100 kcal of the 2100 kcal of suitable food needed for 24 h: 1 J short",
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
		hungry := {"endurance": {"stocks": [{"kind": "water", "body": "", "need": 9, "short": 9}, {"kind": "energy", "body": "animals/bo", "need": 9, "short": 9}, {"kind": "energy", "body": "", "need": 1000, "short": c[0], "raw_j": 0}]}}
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

# What is in cans is eaten only where something with them opens it.
test_alone_no_cook_of_cans if {
	shut := {"useless": [tin({"item": "packs/rust/bars"}), t.useless("cook", "no-fuel", {"item": "packs/rust/bars"})]}
	count(food.finding.alone_no_cook) == 1 with input as object.union(ready({}, {}), shut)
	count(food.finding.alone_no_cook) == 0 with input as object.union(ready(opener, {}), shut)
}

test_alone_no_cook_one_too_little if {
	food.finding.alone_no_cook == {{
		"at": "packs/rust",
		"because": ["packs/rust/bars"],
		"text": "Ana carries 1050 kcal of the 1050 kcal of ready-to-eat food needed (50 % of a day): 1 J short",
		"level": "warning",
	}} with input as ready({}, {"energy_j": 4393199})
}

test_alone_no_cook_counts_only_what_they_can_eat if {
	every more in [{"cook": true}, {"carrier": "people/mia"}, {"for": "people/mia"}] {
		food.finding.alone_no_cook == {{
			"at": "people/ana",
			"because": [],
			"text": "Ana carries none of the 1050 kcal of ready-to-eat food needed (50 % of a day): 1050 kcal short",
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

test_alone_no_cook_where_food_awaits[what] if {
	some what, c in {
		"within hours": [{}, true, 0],
		"later": [{"end_hour": 7}, true, 1],
		"never": [{"arrives": false}, true, 1],
		"no food": [{}, false, 1],
	}
	plan := t.plan({"legs": [object.union({"arrives": true, "end_hour": 6}, c[0])], "destination": {"food": c[1]}})
	count(food.finding.alone_no_cook) == c[2] with input as object.union(ready({}, {"energy_j": 0}), {"plan": plan})
}

# So much of 1000 lacks, so much stays raw, and this food is in cans that nothing opens.
hungry(short, raw_j, shut) := {
	"foods": [t.food({"energy_j": 0}), t.food(object.union({"opens": false, "energy_j": 400}, shut))],
	"endurance": {"minutes": 1440, "bodies": [], "stocks": [{"kind": "energy", "body": "", "have": 1000 - short, "need": 1000, "short": short, "raw_j": raw_j}]},
}

test_alone_no_cook_of_the_only_person_left_to_the_forecast if {
	count(food.finding.alone_no_cook) == 0 with input as object.union(ready({}, {}), hungry(101, 0, {}))
	count(food.finding.alone_no_cook) == 1 with input as object.union(ready({}, {}), hungry(100, 0, {}))
	two := {"people": [t.person({"energy_j": 9000}), t.person({"id": "people/ben", "energy_j": 9000})]}
	count(food.finding.alone_no_cook) == 2 with input as object.union(table(two), hungry(101, 0, {}))
}

test_can_opener_level[why] if {
	some why, c in {
		"enough to eat": [hungry(100, 0, {}), {"note"}],
		"too little even with a joule more, which endurance/energy says": [hungry(500, 0, {"energy_j": 1}), set()],
		"enough if opened": [hungry(500, 0, {}), {"warning"}],
		"hardly anything if not opened": [hungry(501, 0, {"energy_j": 401}), {"error"}],
		"too little even so, which endurance/energy says": [hungry(500, 0, {"energy_j": 399}), set()],
		"raw food would do, which food/cook-fuel says": [hungry(500, 400, {"energy_j": 399}), {"note"}],
		"for one person": [hungry(500, 0, {"for": "people/ana"}), {"note"}],
	}
	{f.level | some f in food.finding.can_opener} == c[1] with input as object.union(canned([tin({})], [t.person({})]), c[0])
}

test_can_opener_says_what_else_there_is if {
	some f in food.finding.can_opener with input as object.union(canned([tin({})], [t.person({})]), {
		"foods": [t.food({"opens": false, "energy_j": 5000000})],
		"endurance": {"stocks": [{"kind": "energy", "body": "", "have": 1000000, "need": 5000000, "short": 4000000, "raw_j": 0}]},
	})
	f.text == "Stew needs a can opener, and there is none with it; without them the food covers 239 kcal of the 1195 kcal that the plan takes"
}

names_only := ["", "unreadable"]

# Of unknown energy is the food itself, or what is only a name; the unknown energy of another's food is no answer.
test_food_of_unknown_energy[what] if {
	some what, c in {
		"infants": {"facts": infant({}, {"have": 0, "short": 1}), "may": "infant-food", "food": "packs/rust/formula", "names": 2, "text": "how much Bo has to eat is not recorded (“thing”); Bo needs 478 kcal for 24 h (478 kcal a day)"},
		"alone_no_cook": {"facts": ready({}, {"energy_j": 0}), "may": "food", "food": "packs/rust/bars", "names": 2, "text": "how much ready-to-eat food Ana carries is not recorded (“thing”); 50 % of a day is 1050 kcal"},
		"diet": {"facts": diet(["gluten-free"], [t.food({"energy_j": 0, "suits": ["gluten-free"]})]), "may": "food", "food": "packs/rust/bars", "names": 2, "text": "how much food suits Ana (gluten-free) is not recorded (“thing”); Ana needs 2100 kcal for 24 h"},
	}
	told := {"id": sprintf("%s/food", [c.food]), "what": "energy"}
	said := {f | some f in food.finding[what]} with input as t.with_unread(c.facts, [t.unread([c.may], told)])
	[[f.text, t.level_of(f), f.because] | some f in said] == [[c.text, "not recorded", [told.id]]]
	bare := {f | some f in food.finding[what]} with input as c.facts
	count(bare) == 1
	every other in [t.unread([c.may], {"id": "packs/rust/others/food", "what": "energy"}), t.unread(["fire"], told)] {
		{f | some f in food.finding[what]} == bare with input as t.with_unread(c.facts, [other])
	}
	named := [w | some w in names_only; every f in food.finding[what] { startswith(f.text, "how much") } with input as t.with_unread(c.facts, [t.unread([c.may], {"what": w})])]
	count(named) == c.names
}

# The unknown energy of food for somebody else, or of what does not suit, is no answer.
test_unknown_energy_of_other_food if {
	others := infant({}, {"have": 0, "short": 1})
	{t.level_of(f) | some f in food.finding.infants} == {"error"} with input as t.with_unread(others, [t.unread(["infant-food"], {"id": "packs/rust/bars/food", "what": "energy"})])
	bread := diet(["gluten-free"], [t.food({"energy_j": 0})])
	{t.level_of(f) | some f in food.finding.diet} == {"warning"} with input as t.with_unread(bread, [t.unread(["food"], {"id": "packs/rust/bars/food", "what": "energy"})])
}

# What Mia has is not at hand for Ana.
test_alone_no_cook_of_anothers_unknown_food if {
	facts := t.with_unread(ready({}, {"energy_j": 0}), [t.unread(["food"], {"carrier": "people/mia"})])
	{f.level | some f in food.finding.alone_no_cook} == {"warning"} with input as facts
}

test_cook_fuel_not_recorded[what] if {
	some what, facts in {
		"too little": kitchen(1499, [], object.union(gas, gas_stove)),
		"no stove": kitchen(0, [object.union(empty_stove, {"household": false})], gas),
		"all food raw": kitchen(1500, [], lasting("energy", 1000, 900)),
		"no fuel": kitchen(0, [empty_stove], {}),
	}
	every may in ["cook", "fuel"] {
		[object.remove(f, ["level"]) | some f in food.finding.cook_fuel] == [{
			"at": array.concat([f.at | some f in _said_of(facts)], [""])[0],
			"because": ["packs/rust/thing"],
			"text": "what there is to cook with is not recorded (“thing”); Rice and 1 other food must be cooked",
			"unrecorded": ["packs/rust/thing"],
		}] with input as t.with_unread(facts, [t.unread([may], {})])
	}
}

_said_of(facts) := said if {
	said := food.finding.cook_fuel with input as facts
}

test_cook_fuel_not_recorded_of_water[what] if {
	some what, facts in {
		"to boil": kitchen(0, [], object.union(object.union(gas, boiling_only), lasting("fuel", 1, 0))),
		"a stove alone": kitchen(0, [empty_stove], boiling_only),
	}
	[f.text | some f in food.finding.cook_fuel] == ["what there is to cook with is not recorded (“thing”); there is no food to cook, but there may be water to boil"] with input as t.with_unread(facts, [t.unread(["fuel"], {})])
}

# A pot is no fuel.
test_cook_fuel_not_recorded_and_a_vessel if {
	facts := kitchen(0, [], object.union(no_pot, {"capabilities": [t.capability("eat", [t.offer("utensils", {})])]}))
	_said_of(t.with_unread(facts, [t.unread(["fuel"], {})])) == _said_of(facts)
}

test_set_aside if {
	cheese := t.food({"id": "packs/rust/cheese", "name": "Cheese", "energy_j": 1, "for": "people/ana", "suits": ["gluten-free", "vegetarian"]})
	enough := t.food({"energy_j": 8786400, "suits": ["vegan"]})
	food.finding.set_aside == {{
		"at": "packs/rust/cheese",
		"because": ["people/ana"],
		"text": "Cheese is meant for Ana (vegan), and is recorded as right for gluten-free and vegetarian only",
	}} with input as diet(["vegan"], [cheese, enough])
}

test_set_aside_fine[what] if {
	some what, more in {
		"right": {"suits": ["vegan"]},
		"not recorded": {"suits": []},
		"for everybody": {"for": ""},
		"for another": {"for": "people/mia"},
	}
	some one in [t.food(object.union({"id": "packs/rust/cheese", "for": "people/ana", "suits": ["vegetarian"]}, more))]
	count(food.finding.set_aside) == 0 with input as diet(["vegan"], [one, t.food({"energy_j": 8786400, "suits": ["vegan"]})])
}

test_set_aside_for_an_infant if {
	every c in [[11, 0], [12, 1]] {
		facts := object.union(diet([], [t.food({"for": "people/ana", "suits": ["vegetarian"]}), t.food({"id": "packs/rust/x", "energy_j": 8786400, "suits": ["vegan"]})]), {"people": [t.person({"diets": ["vegan"], "age_months": c[0]})]})
		count(food.finding.set_aside) == c[1] with input as facts
	}
}

# Ana needs 9,309.4 kJ a day, here for 36 hours.
salted(foods) := {
	"people": [t.person({"conditions": ["low-salt"]}), t.person({"id": "people/ben", "conditions": ["heart"]})],
	"foods": [t.food(object.union({"sodium_known": true, "energy_j": 9309400}, f)) | some f in foods],
	"endurance": {"minutes": 2160},
}

own_food(energy, sodium) := {"id": "packs/rust/oats", "for": "people/ana", "energy_j": energy, "sodium_mg": sodium}

test_salty if {
	food.finding.salty == {{
		"at": "people/ana/conditions",
		"because": ["packs/rust/bars"],
		"text": "Ana must eat little salt, and a day's food for them holds 2001 mg of sodium; such diets allow about 2000 mg",
	}} with input as salted([{"sodium_mg": 2001}])
	{[f.because, contains(f.text, " 2500 mg")] | some f in food.finding.salty} == {[["packs/rust/oats", "packs/rust/bars"], true]} with input as salted([{"sodium_mg": 5000}, own_food(9309400, 0)])
	{f.because | some f in food.finding.salty} == {["packs/rust/oats"]} with input as salted([{"sodium_mg": 5000}, own_food(13964100, 3002)])
	{f.because | some f in food.finding.salty} == {["packs/rust/oats", "packs/rust/bars"]} with input as salted([{"sodium_mg": 5000}, own_food(13964099, 3002)])
}

test_salty_fine[why] if {
	some why, facts in {
		"at the limit": salted([{"sodium_mg": 2000}]),
		"no food": salted([]),
		"no figure": salted([{"sodium_mg": 2001, "sodium_known": false}]),
		"no energy": salted([{"sodium_mg": 2001, "energy_known": false}]),
		"an animal's": salted([{"sodium_mg": 2001, "for_animal": true}]),
		"another's": salted([{"sodium_mg": 2001, "for": "people/ben"}]),
		"their own is enough": salted([{"sodium_mg": 5000}, own_food(13964100, 3000)]),
	}
	count(food.finding.salty) == 0 with input as facts
}
