package rules.base.animals_food_test

import data.lib.testing_test as t
import data.rules.base.animals

fed(minutes, more) := {"endurance": {"minutes": minutes}, "animals": [t.animal(more)]}

test_food_at_the_limit if {
	count(animals.finding.food) == 0 with input as fed(1440, {"food_j": 4000000})
	count(animals.finding.food) == 0 with input as fed(720, {"food_j": 2000000})
}

test_food_one_too_few if {
	animals.finding.food == {{
		"at": "animals/bo",
		"because": ["animals/bo/food"],
		"text": "the food for Bo holds 956 kcal of the 956 kcal that Bo takes in 24 h (956 kcal a day): 1 J short",
	}} with input as fed(1440, {"food_j": 3999999})
}

test_food_in_words if {
	animals.finding.food == {{
		"at": "animals/bo",
		"because": ["animals/bo/food"],
		"text": "the food for Bo holds 0 kcal of the 498 kcal that Bo takes in 12 h 30 min (956 kcal a day): 498 kcal short",
	}} with input as fed(750, {})
}

# 4,000,000 J a day are 2,777.8 J a minute.
test_food_is_not_rounded if {
	count(animals.finding.food) == 0 with input as fed(1, {"food_j": 2778})
	count(animals.finding.food) == 1 with input as fed(1, {"food_j": 2777})
	count(animals.finding.food) == 1 with input as fed(1, {"need_j": 1441, "food_j": 1})
}

test_food_not_asked_of_what_grazes if {
	count(animals.finding.food) == 0 with input as fed(1440, {"species": "horse"})
	count(animals.finding.food) == 1 with input as fed(1440, {"species": "cat"})
}
