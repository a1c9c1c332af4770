package rules.base.infant_test

import data.lib.testing_test as t
import data.rules.base.infant

# Bo, of two months, drinks 960 ml a day for 36 hours: 1,440 ml.
fed(person, foods, supply) := {
	"household": t.household({"supply": t.supply(supply)}),
	"people": [t.person({"fed": "solids"}), t.person(object.union({"id": "people/bo", "name": "Bo", "age_months": 2, "fed": "formula", "feed_ml": 960}, person))],
	"foods": [t.food(object.union({"for": "people/bo"}, f)) | some f in foods],
	"endurance": {"minutes": 2160},
}

powder := {"id": "packs/rust/tin", "formula": "powder"}

ready(ml) := {"id": "packs/rust/bottles", "formula": "ready", "drink_ml": ml}

boils := {"can": [t.can("treat-water", ["boil"])]}

test_feeding_ready_to_drink if {
	count(infant.finding.feeding) == 0 with input as fed({}, [powder, ready(1440)], {})
	count(infant.finding.feeding) == 0 with input as fed({}, [ready(1)], {})
}

test_feeding_powder_with_water if {
	infant.finding.feeding == {{
		"at": "packs/rust/tin",
		"because": ["packs/rust/tin"],
		"level": "note",
		"text": "Bo drinks powder made with packed water, and nothing here heats it: take feeds that are ready to drink for the way",
	}} with input as fed({}, [powder, ready(440)], {"water_ml": 1000})
	count(infant.finding.feeding) == 0 with input as fed({}, [powder, ready(1440)], {"water_ml": 1000})
	count(infant.finding.feeding) == 1 with input as fed({}, [powder, ready(1439)], {"water_ml": 1000})
	count(infant.finding.feeding) == 0 with input as fed({"age_months": 12}, [powder], {"water_ml": 1440})
	count(infant.finding.feeding) == 0 with input as fed({}, [powder, ready(440)], object.union(boils, {"water_ml": 1000}))
	count(infant.finding.feeding) == 0 with input as fed({}, [powder], boils)
}

test_feeding_powder_one_too_little if {
	infant.finding.feeding == {{
		"at": "packs/rust/tin",
		"because": ["packs/rust/tin"],
		"text": "Bo needs 1.44 L of formula until the plan ends, 1 L of it from powder, and the household neither boils water nor starts with enough: 0.001 L short",
	}} with input as fed({}, [powder, ready(440), {"for": "", "formula": "ready", "drink_ml": 999}], {"water_ml": 999})
	count(infant.finding.feeding) == 1 with input as fed({}, [powder, ready(1439)], {})
}

test_feeding_of_the_youngest if {
	infant.finding.feeding == {{
		"at": "packs/rust/tin",
		"because": ["packs/rust/tin"],
		"text": "Bo needs 1.44 L of formula until the plan ends, 1.44 L of it from powder, which at this age must be made with boiled water, and the household cannot boil any",
	}} with input as fed({"age_months": 1}, [powder], {"water_ml": 9000})
	count(infant.finding.feeding) == 1 with input as fed({"age_months": 1}, [powder], {})
	count(infant.finding.feeding) == 0 with input as fed({"age_months": 1}, [powder], boils)
	count(infant.finding.feeding) == 0 with input as fed({"age_months": 1}, [powder, ready(1440)], {})
}

test_feeding_of_what_is_not_recorded if {
	infant.finding.feeding == {{
		"at": "packs/rust/bars",
		"because": ["packs/rust/bars"],
		"text": "Bo is fed formula, and nothing says whether the food for Bo is ready to drink or powder: write formula: \"ready\" or \"powder\" if it is formula",
		"level": "note",
	}} with input as fed({}, [{}], {})
	count(infant.finding.feeding) == 0 with input as fed({}, [{"for": ""}], {})
	count(infant.finding.feeding) == 1 with input as fed({"feed_ml": 1}, [{}], {})
	infant.finding.feeding == {{
		"at": "people/bo",
		"text": "how Bo is fed is not recorded: write fed: \"breast\", \"formula\", \"mixed\" or \"solids\"",
		"level": "note",
	}} with input as fed({"fed": "", "feed_ml": 0}, [{}], {})
}

test_feeding_not_asked[why] if {
	some why, p in {
		"solids": {"fed": "solids", "feed_ml": 0},
		"at the breast": {"fed": "", "breastfed": true, "feed_ml": 0},
		"a child of a year": {"age_months": 12},
		"a child of a year, not recorded": {"age_months": 12, "fed": "", "feed_ml": 0},
	}
	every foods in [[powder], [{}]] {
		count(infant.finding.feeding) == 0 with input as fed(p, foods, {})
	}
}

fed_with(age, name) := {
	"people": [t.person({"id": "people/bo", "name": "Bo", "age_months": age})],
	"foods": [t.food({"id": "packs/rust/jar", "name": name, "for": "people/bo"})],
}

test_harmful_food_honey if {
	infant.finding.harmful_food == {{
		"at": "packs/rust/jar",
		"because": ["people/bo"],
		"text": "Honig-Brei is meant for Bo, who is 11 months old: honey is not for infants",
	}} with input as fed_with(11, "Honig-Brei")
	count(infant.finding.harmful_food) == 0 with input as fed_with(12, "honey")
}

test_harmful_food_nuts if {
	{f.text | some f in infant.finding.harmful_food} == {"Whole almonds is meant for Bo, who is 4 years and 11 months old: whole nuts can choke a small child"} with input as fed_with(59, "Whole almonds")
	count(infant.finding.harmful_food) == 0 with input as fed_with(60, "Whole almonds")
	count(infant.finding.harmful_food) == 0 with input as fed_with(8, "almond butter")
	count(infant.finding.harmful_food) == 0 with input as fed_with(8, "apple pouch")
	others := fed_with(8, "honey")
	count(infant.finding.harmful_food) == 0 with input as object.union(others, {"foods": [object.union(others.foods[0], {"for": ""})]})
}

test_harmful_food_by_each_word[word] if {
	some word in ["honey", "honig", "miel", "はちみつ", "ハチミツ", "蜂蜜", "almond", "cashew", "hazelnut", "peanut", "pistachio", "mixed nuts", "popcorn", "mandel", "erdn", "haseln", "waln", "amande", "cacahu", "noisette", "almendra", "avellana", "アーモンド", "ナッツ"]
	count(infant.finding.harmful_food) == 1 with input as fed_with(8, sprintf("%s, 50 g", [upper(word)]))
}

test_harmful_food_not_by_soft_words[word] if {
	some word in ["butter", "paste", "ground", "flour", "milk", "mus", "mehl", "gemahlen", "crem", "mantequilla", "molid", "poudre", "バター"]
	count(infant.finding.harmful_food) == 0 with input as fed_with(8, sprintf("Almond %s", [upper(word)]))
}
