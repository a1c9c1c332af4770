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
		"pets": {"asks": "water for pets", "animal_days": 2},
		"all": {"asks": "water for all", "water_ml_day": 2000, "days": 3, "animals": true},
		"papers": {"asks": "paper and pencil", "parts": {"paper": ["can:write:notebook"], "pencil": ["can:write:pencil", "can:write:marker"]}},
		"masks": {"asks": "a mask each", "any": ["can:breathe"], "each": true, "from_months": 24},
		"beds": {"asks": "a bed each", "any": ["can:warmth:quilt", "insulation:quilt"], "each": true},
		"bags": {"asks": "a bag each", "bags": true, "from_months": 72},
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
		"text": "Valley list (Valley office, 2020) lists something to call with: nothing in the household covers it",
	}}
	texts("call", {"has": ["can:signal:whistle"]}, []) == []
	texts("call", {"has": ["can:signal:mirror"]}, []) == []
	count(texts("call", {"has": ["can:signal"]}, [])) == 1
}

test_asked_for_all_of_several if {
	texts("shoes", {}, []) == ["Valley list (Valley office, 2020) lists dry papers and shoes: there is no footwear and there is no identity"]
	texts("shoes", {"has": ["can:footwear"]}, []) == ["Valley list (Valley office, 2020) lists dry papers and shoes: there is no identity"]
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
	texts("water", {"supply": t.supply({"water_ml": 11999})}, []) == ["Valley list (Valley office, 2020) lists water: 11.999 L carried, 12 L for 2 people and 3 days: 0.001 L short"]
}

# 2 people, 2,100 kcal a day, 2 days.
test_asked_for_food if {
	texts("food", {"supply": t.supply({"food_energy_j": 35145600})}, []) == []
	texts("food", {"supply": t.supply({"food_energy_j": 35145599})}, []) == ["Valley list (Valley office, 2020) lists food: 8400 kcal packed, 8400 kcal for 2 people and 2 days: 1 J short"]
}

cold(joules) := {"has": ["food:no-cook"], "supply": t.supply({"food_energy_j": 99999999, "no_cook_energy_j": joules})}

test_asked_for_food_without_cooking if {
	texts("bars", cold(35145600), []) == []
	texts("bars", cold(35145599), []) == ["Valley list (Valley office, 2020) lists food to eat cold: 8400 kcal packed that needs no cooking, 8400 kcal for 2 people and 2 days: 1 J short"]
}

test_asked_for_medicine if {
	texts("tablets", {}, [t.medication({"days_milli": 7000})]) == []
	texts("tablets", {}, [t.medication({"days_milli": 6999})]) == ["Valley list (Valley office, 2020) lists medicine: thyroid tablets (Ana): enough for 6.999 days, 7 days needed: 0.001 short"]
	texts("tablets", {}, [t.medication({"days_milli": 1000})]) == ["Valley list (Valley office, 2020) lists medicine: thyroid tablets (Ana): enough for 1 day, 7 days needed: 6 short"]
	texts("tablets", {}, [t.medication({"days_milli": 0, "as_needed": true})]) == []
	texts("tablets", {}, []) == []
}

test_asked_for_nothing_without_a_list if {
	count(lists.finding.asked_for) == 0 with input as {"asked": [], "household": t.household({})}
}

# 2 people and 1 animal, which needs 1 L a day.
with_beast(ml) := {"animal_count": 1, "animal_need_ml": 1000, "supply": t.supply({"water_ml": ml})}

test_asked_for_water_of_animals if {
	texts("pets", with_beast(2000), []) == []
	texts("pets", with_beast(1999), []) == ["Valley list (Valley office, 2020) lists water for pets: 1.999 L carried, and the animals need 2 L in 2 days: 0.001 L short"]
	texts("all", with_beast(18000), []) == []
	texts("all", with_beast(17999), []) == ["Valley list (Valley office, 2020) lists water for all: 17.999 L carried, 18 L for 2 people and 1 animal and 3 days: 0.001 L short"]
	texts("all", {"supply": t.supply({"water_ml": 11999})}, []) == ["Valley list (Valley office, 2020) lists water for all: 11.999 L carried, 12 L for 2 people and 3 days: 0.001 L short"]
}

test_asked_for_parts if {
	texts("papers", {}, []) == ["Valley list (Valley office, 2020) lists paper and pencil: there is no paper and there is no pencil"]
	texts("papers", {"has": ["can:write:notebook"]}, []) == ["Valley list (Valley office, 2020) lists paper and pencil: there is no pencil"]
	texts("papers", {"has": ["can:write:notebook", "can:write:marker"]}, []) == []
}

mia(months) := t.person({"id": "people/mia", "name": "Mia", "age_months": months, "pack_count": 0})

counted(line, people, more) := [f.text |
	facts := object.union(object.union(asked(line, {"has": ["can:breathe", "can:warmth:quilt", "insulation:quilt"]}, []), {"people": people, "insulation": [], "capabilities": []}), more)
	some f in lists.finding.asked_for with input as facts with data.lists.base.valley as some_list
]

masks(n) := {"capabilities": [t.capability("breathe", [t.offer("n95", {"count": n}), t.offer("ffp2", {})])]}

test_asked_for_one_each if {
	counted("masks", [t.person({}), t.person({}), mia(24)], masks(2)) == []
	counted("masks", [t.person({}), t.person({}), mia(24)], masks(1)) == ["Valley list (Valley office, 2020) lists a mask each: 2 for 3 people"]
	counted("masks", [t.person({}), t.person({}), mia(23)], masks(1)) == []
}

test_asked_for_one_each_where_there_is_none if {
	facts := object.union(asked("masks", {}, []), {"people": [t.person({})], "capabilities": []})
	{f.text | some f in lists.finding.asked_for with input as facts with data.lists.base.valley as some_list} == {"Valley list (Valley office, 2020) lists a mask each: nothing in the household covers it"}
}

test_asked_for_without_counting if {
	facts := object.union(asked("call", {"has": ["can:signal:whistle"]}, []), {"people": [t.person({}), mia(30)], "capabilities": []})
	count(lists.finding.asked_for) == 0 with input as facts with data.lists.base.valley as some_list
}

test_asked_for_one_each_from_birth if {
	counted("beds", [t.person({}), mia(0)], {"insulation": [t.insulation("quilt", {})]}) == ["Valley list (Valley office, 2020) lists a bed each: 1 for 2 people"]
}

test_asked_for_one_each_counts_a_thing_once if {
	quilts := {"capabilities": [t.capability("warmth", [t.offer("quilt", {}), t.offer("clothing", {"count": 9})])], "insulation": [t.insulation("quilt", {}), t.insulation("jacket", {"count": 9})]}
	counted("beds", [t.person({})], quilts) == []
	counted("beds", [t.person({}), mia(10)], quilts) == ["Valley list (Valley office, 2020) lists a bed each: 1 for 2 people"]
}

test_asked_for_a_bag_each if {
	counted("bags", [t.person({}), mia(71), object.union(mia(80), {"carries": false})], {}) == []
	counted("bags", [t.person({}), mia(72)], {}) == ["Valley list (Valley office, 2020) lists a bag each: no pack for Mia"]
}

# What a list names is not missing where a name alone says that it is there.
test_asked_for_not_recorded[what] if {
	some what, c in {
		"a means": ["call", {}, "signal:mirror", ["not recorded"]],
		"another means": ["call", {}, "signal:flare", [""]],
		"one of all": ["shoes", {}, "footwear", ["", "not recorded"]],
		"papers that must be dry": ["shoes", {"has": ["can:footwear"]}, "documents:identity", ["not recorded"]],
		"an infant's food": ["baby", {"has": ["needs:infant"]}, "infant-food", ["not recorded"]],
		"others' food": ["baby", {"has": ["needs:infant"]}, "food", [""]],
		"a bottle": ["water", {}, "container", ["not recorded"]],
		"water": ["water", {}, "water", ["not recorded"]],
		"water for animals": ["pets", with_beast(0), "container", ["not recorded"]],
		"food": ["food", {}, "food", ["not recorded"]],
		"one part": ["papers", {}, "write:notebook", ["", "not recorded"]],
		"either of a part": ["papers", {"has": ["can:write:notebook"]}, "write:marker", ["not recorded"]],
	}
	facts := t.with_unread(asked(c[0], c[1], []), [t.unread([c[2]], {})])
	t.levels(lists.finding.asked_for) == c[3] with input as facts with data.lists.base.valley as some_list
}

test_asked_for_medicine_not_recorded if {
	few := asked("tablets", {}, [t.medication({"days_milli": 0})])
	t.levels(lists.finding.asked_for) == ["not recorded"] with input as t.with_unread(few, [t.unread(["medicine"], {})]) with data.lists.base.valley as some_list
	t.levels(lists.finding.asked_for) == [""] with input as t.with_unread(few, [t.unread(["food"], {})]) with data.lists.base.valley as some_list
}

test_asked_for_a_bag_is_no_thing if {
	facts := object.union(asked("bags", {}, []), {"people": [mia(72)]})
	t.levels(lists.finding.asked_for) == [""] with input as t.with_unread(facts, [t.unread(["food", "container", "medicine"], {})]) with data.lists.base.valley as some_list
}
