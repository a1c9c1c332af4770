package rules.base.animals_food_test

import data.lib.testing_test as t
import data.rules.base.animals

# 90 % of what it takes is enough, as for people.
fed(minutes, more) := {"endurance": {"minutes": minutes}, "animals": [t.animal(more)]}

test_food_at_the_limit if {
	count(animals.finding.food) == 0 with input as fed(1440, {"food_j": 3600000})
	count(animals.finding.food) == 0 with input as fed(720, {"food_j": 1800000})
}

test_food_one_too_few if {
	animals.finding.food == {{
		"at": "animals/bo",
		"because": ["animals/bo/food"],
		"text": "Bo has 860 kcal of the 956 kcal of food needed for 24 h (956 kcal a day): 96 kcal short",
	}} with input as fed(1440, {"food_j": 3599999})
}

test_food_in_words if {
	animals.finding.food == {{
		"at": "animals/bo",
		"because": ["animals/bo/food"],
		"text": "Bo has none of the 498 kcal of food needed for 12 h 30 min (956 kcal a day): 498 kcal short",
	}} with input as fed(750, {})
}

# 90 % of 4,002,000 J a day are 2,501.25 J a minute.
test_food_is_not_rounded if {
	count(animals.finding.food) == 0 with input as fed(1, {"need_j": 4002000, "food_j": 2502})
	count(animals.finding.food) == 1 with input as fed(1, {"need_j": 4002000, "food_j": 2501})
	{f.text | some f in animals.finding.food} == {"Bo has 0 kcal of the 0 kcal of food needed for 0 h 1 min (0 kcal a day): 1 J short"} with input as fed(1, {"need_j": 1601, "food_j": 1})
}

test_food_not_asked_of_what_grazes if {
	count(animals.finding.food) == 0 with input as fed(1440, {"species": "horse"})
	count(animals.finding.food) == 1 with input as fed(1440, {"species": "cat"})
}
