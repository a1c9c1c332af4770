package rules.base.infant

import data.lib

# METADATA
# title: An infant's formula can be prepared and fed
# description: >-
#   Powder without safe water feeds nobody, and made with dirty water it makes an infant ill. Each infant who is fed formula
#   has enough that is ready to drink for the whole plan. If it is powder, the household can boil water, or starts with the
#   water that the feeds take. For the youngest, powder is made with boiled water only; for older
#   infants it is a note if nothing boils. If nothing says how an infant is
#   fed, or what its formula is, that is a note.
# custom:
#   level: error
#   remedy: >-
#     Pack formula that is ready to drink in single bottles, written with formula and the infant under for; or fill bottles
#     for the powder and bring a pot, a stove and fuel.
#   mend: {work: add, get: "bottle, water or formula for the infant"}
#   sources:
#     - "CDC, infant feeding in emergencies: nurse on, then formula ready to drink, powder only with safe water; seen in a copy of its own pages"
#     - "American Academy of Pediatrics, 2.5 fl oz a pound and day, at most 32; seen second-hand"
#     - "Boiling for infants under 2 months: CDC, Cronobacter; seen second-hand"
#   limits: [food.infant_months, infant.boil_months, infant.feed_share]
#   caution: >-
#     Never thin formula to make it last; use a feed within two hours and throw away what is left. What and how much an
#     infant needs is for the label and a health professional.
#   passes: |
#     plan: duration: "24 h"
#     people: bo: {age: "4 months", bodyMass: "6 kg", carries: false, fed: "formula"}
#     packs: rust: compartments: lid: items: bottles: {mass: "100 g", count: 12, food: {energy: "60 kcal", net: "90 g", for: "bo", formula: "ready"}}
#   fails: |
#     plan: duration: "24 h"
#     people: bo: {age: "4 months", bodyMass: "6 kg", carries: false, fed: "formula"}
#     packs: rust: compartments: lid: items: tin: {mass: "300 g", food: {energy: "1400 kcal", for: "bo", formula: "powder"}}
finding.feeding contains f if {
	some person in input.people
	_infant(person)
	drinks := lib.up(person.feed_ml * input.endurance.minutes, lib.day_min)
	ready := sum([food.drink_ml | some food in _of(person, "ready")])
	lib.lacking(ready, drinks, lib.limit("infant", "feed_share"))
	powder := _of(person, "powder")
	rest := drinks - ready
	bare := {
		"at": powder[0].id,
		"because": [food.id | some food in powder],
		"text": sprintf("%s needs %s of formula until the plan ends, %s of it from powder, %s", [person.name, lib.litres(drinks), lib.litres(rest), _unfit(person, rest)]),
	}
	f := lib.lack_any(bare, lib.unrecorded(lib.anybody, "infant-food"))
}

# There is water for the powder, but nothing to heat it with.
finding.feeding contains f if {
	some person in input.people
	_infant(person)
	not _young(person)
	not _boils
	powder := _of(person, "powder")
	drinks := lib.up(person.feed_ml * input.endurance.minutes, lib.day_min)
	rest := drinks - sum([food.drink_ml | some food in _of(person, "ready")])
	rest > 0
	rest <= input.household.supply.water_ml
	f := {
		"at": powder[0].id,
		"because": [food.id | some food in powder],
		"level": "note",
		"text": sprintf("%s drinks powder made with packed water, and nothing here heats it: take feeds that are ready to drink for the way", [person.name]),
	}
}

finding.feeding contains f if {
	some person in input.people
	_infant(person)
	person.feed_ml > 0
	theirs := [food | some food in input.foods; food.for == person.id]
	[food | some food in theirs; food.formula != ""] == []
	f := {
		"at": theirs[0].id,
		"because": [food.id | some food in theirs],
		"text": sprintf("%s is fed formula, and nothing says whether the food for %s is ready to drink or powder: write formula: \"ready\" or \"powder\" if it is formula", [person.name, person.name]),
		"level": "note",
	}
}

finding.feeding contains f if {
	some person in input.people
	_infant(person)
	person.fed == ""
	not person.breastfed
	f := {
		"at": person.id,
		"text": sprintf("how %s is fed is not recorded: write fed: \"breast\", \"formula\", \"mixed\" or \"solids\"", [person.name]),
		"level": "note",
	}
}

_infant(person) if lib.younger(person, lib.limit("food", "infant_months"))

_of(person, kind) := [food | some food in input.foods; food.for == person.id; food.formula == kind]

_boils if "boil" in lib.means("treat-water")

_young(person) if lib.younger(person, lib.limit("infant", "boil_months"))

# Why powder cannot be made up; undefined where it can.
_unfit(person, _) := "which at this age must be made with boiled water, and the household cannot boil any" if {
	_young(person)
	not _boils
}

_unfit(person, rest) := sprintf("and the household neither boils water nor starts with enough: %s short", [lib.litres(short)]) if {
	not _young(person)
	not _boils
	short := rest - input.household.supply.water_ml
	short > 0
}

# METADATA
# title: No small child's food is dangerous at the child's age
# description: >-
#   Honey can poison an infant, and a small child can choke on whole nuts. Food that is meant for a child by name is judged by its name.
# custom:
#   level: error
#   remedy: Take it out, or write under for who eats it; for a small child pack nuts as a smooth butter, where there is no allergy.
#   mend: {work: exchange, get: "food for the child's age"}
#   sources:
#     - "No honey below one year, because of infant botulism: CDC; from memory"
#     - "No whole nuts below five years, because of choking: NHS; from memory"
#     - "The words: common practice, no source"
#   limits: [food.infant_months, infant.honey_words, infant.nut_months, infant.nut_words, infant.soft_words]
#   caution: Words are compared, not things. What a child may eat at which age is for the label and a health professional.
#   passes: |
#     people: bo: {age: "8 months", bodyMass: "8 kg", carries: false, fed: "solids"}
#     packs: rust: compartments: lid: items: pouch: {name: "apple pouch", mass: "100 g", food: {energy: "60 kcal", for: "bo"}}
#   fails: |
#     people: bo: {age: "8 months", bodyMass: "8 kg", carries: false, fed: "solids"}
#     packs: rust: compartments: lid: items: jar: {name: "honey", mass: "100 g", food: {energy: "300 kcal", for: "bo"}}
finding.harmful_food contains f if {
	some person in input.people
	lib.younger(person, lib.limit("infant", "nut_months"))
	some food in input.foods
	food.for == person.id
	why := _harm(food, person)
	f := {
		"at": food.id,
		"because": [person.id],
		"text": sprintf("%s is meant for %s, who is %s old: %s", [food.name, person.name, lib.age(person.age_months), why]),
	}
}

_harm(food, person) := "honey is not for infants" if {
	_infant(person)
	_called(food, lib.limit("infant", "honey_words"))
} else := "whole nuts can choke a small child" if {
	_called(food, lib.limit("infant", "nut_words"))
	not _called(food, lib.limit("infant", "soft_words"))
}

_called(food, words) if {
	some word in words
	contains(lower(food.name), word)
}
