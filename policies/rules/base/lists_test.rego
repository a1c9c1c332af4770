package rules.base.lists_test

import data.lib.testing_test as t
import data.rules.base.lists

# A made-up list with every kind of line.
some_list := {
	"title": "Valley list",
	"body": "Valley office",
	"year": "2020",
	"lines": {
		"call": {"asks": "something to call with", "any": ["can:signal:whistle", "can:signal:mirror"]},
		"shoes": {"asks": "dry papers and shoes", "all": ["can:footwear", "waterproof:document:identity"]},
		"baby": {"asks": "food for infants", "when": "needs:infant", "any": ["food:infant"]},
		"water": {"asks": "water", "water_ml_day": 2000, "days": 3},
		"food": {"asks": "food", "food_days": 2},
		"bars": {"asks": "food to eat cold", "any": ["food:no-cook"], "food_days": 2},
		"tablets": {"asks": "medicine", "medicine_days": 7},
	},
}

asked(line, household, meds) := {
	"asked": [{"id": sprintf("plan/lists/valley/%s", [line]), "list": "valley", "line": line}],
	"household": t.household(household),
	"medications": meds,
}

texts(line, household, meds) := [f.text |
	some f in lists.finding.asked_for with input as asked(line, household, meds) with data.lists.base.valley as some_list
]

test_asked_for_any_of_several if {
	found := lists.finding.asked_for with input as asked("call", {}, []) with data.lists.base.valley as some_list
	found == {{
		"at": "plan/lists/valley/call",
		"text": "Valley list (Valley office, 2020) asks for something to call with: nothing in the household answers",
	}}
	texts("call", {"has": ["can:signal:whistle"]}, []) == []
	texts("call", {"has": ["can:signal:mirror"]}, []) == []
	count(texts("call", {"has": ["can:signal"]}, [])) == 1
}

test_asked_for_all_of_several if {
	texts("shoes", {}, []) == ["Valley list (Valley office, 2020) asks for dry papers and shoes: there is no footwear and there is no identity"]
	texts("shoes", {"has": ["can:footwear"]}, []) == ["Valley list (Valley office, 2020) asks for dry papers and shoes: there is no identity"]
	texts("shoes", {"has": ["can:footwear", "waterproof:document:identity"]}, []) == []
}

test_asked_for_only_when_needed if {
	texts("baby", {}, []) == []
	texts("baby", {"has": ["food:infant", "needs:infant"]}, []) == []
	count(texts("baby", {"has": ["needs:infant"]}, [])) == 1
}

# 2 people, 2 L a day, 3 days.
test_asked_for_water if {
	texts("water", {"supply": t.supply({"water_ml": 12000})}, []) == []
	texts("water", {"supply": t.supply({"water_ml": 11999})}, []) == ["Valley list (Valley office, 2020) asks for water: 11.999 L carried, 12 L for 2 people and 3 days: 0.001 L too little"]
}

# 2 people, 2,100 kcal a day, 2 days.
test_asked_for_food if {
	texts("food", {"supply": t.supply({"food_energy_j": 35145600})}, []) == []
	texts("food", {"supply": t.supply({"food_energy_j": 35145599})}, []) == ["Valley list (Valley office, 2020) asks for food: 8400 kcal packed, 8400 kcal for 2 people and 2 days: 1 J too little"]
}

cold(joules) := {"has": ["food:no-cook"], "supply": t.supply({"food_energy_j": 99999999, "no_cook_energy_j": joules})}

test_asked_for_food_without_cooking if {
	texts("bars", cold(35145600), []) == []
	texts("bars", cold(35145599), []) == ["Valley list (Valley office, 2020) asks for food to eat cold: 8400 kcal packed that needs no cooking, 8400 kcal for 2 people and 2 days: 1 J too little"]
}

test_asked_for_medicine if {
	texts("tablets", {}, [t.medication({"days_milli": 7000})]) == []
	texts("tablets", {}, [t.medication({"days_milli": 6999})]) == ["Valley list (Valley office, 2020) asks for medicine: thyroid tablets (Ana): enough for 6.999 days, 7 days asked: 0.001 too few"]
	texts("tablets", {}, [t.medication({"days_milli": 1000})]) == ["Valley list (Valley office, 2020) asks for medicine: thyroid tablets (Ana): enough for 1 day, 7 days asked: 6 too few"]
	texts("tablets", {}, [t.medication({"days_milli": 0, "as_needed": true})]) == []
	texts("tablets", {}, []) == []
}

test_asked_for_nothing_without_a_list if {
	count(lists.finding.asked_for) == 0 with input as {"asked": [], "household": t.household({})}
}
