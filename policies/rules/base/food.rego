package rules.base.food

import data.lib

# METADATA
# title: Stoves have fuel for what must be cooked or boiled
# description: >-
#   Dried food without hot water is useless weight, and so is a stove without fuel. The fuel must boil enough water for the
#   food, and for drinking if nothing else treats water. Fuel counts if a stove burns it on the planned nights: butane and
#   mixed gas fail in the cold. If the food would be enough once cooked, this rule speaks instead of endurance/energy, with
#   the same severity; otherwise a stove without fuel is a note, and so is food to boil without a fire-safe pot. If the
#   same fuel is all that treats water, water/purification says so.
# custom:
#   level: error
#   remedy: Add fuel that the stove named burns on such nights, or replace the food named with some that needs no cooking.
#   mend: {work: add, get: stove fuel}
#   sources:
#     - "The share: common practice, no source; wind and cold take more"
#     - "Boiling points of butane -0.5 °C, isobutane -11.7 °C, propane -42 °C: an outdoor forum's FAQ, year not seen; seen second-hand. 5 °C more for a can that cools as it burns: common practice, no source"
#   limits: [food.cook_fuel_share, endurance.energy_share, endurance.energy_error]
#   caution: >-
#     Burn stoves outdoors only, never in a tent, a house or a vehicle: carbon monoxide has no smell. Never warm a gas can
#     with a flame or on a stove; warm it under your clothes. Follow the maker's label and local fire rules.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	noodles: {mass: "100 g", food: {energy: "400 kcal", cookWater: "0.5 L"}}
#     	pot: {mass: "180 g", container: {capacity: "1 L", fireSafe: true}}
#     	stove: {mass: "90 g", can: cook: "gas-stove", stove: burns: ["gas-mix"]}
#     	canister: {mass: "200 g", fuel: {kind: "gas-mix", mass: "100 g"}}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: noodles: {mass: "100 g", food: {energy: "400 kcal", cookWater: "0.5 L"}}
finding.cook_fuel contains f if {
	not _said_of_water
	f := _unless_unread_fuel(_kitchen)
}

# A stove, or fuel, that is only a name, or fuel of unknown mass, makes what cannot be heated a note.
_unless_unread_fuel(f) := lib.unread_amount(f, "what there is to cook with", things, _takes_heat) if {
	_unheated
	things := array.concat(lib.unrecorded(lib.anybody, "cook"), lib.unrecorded(lib.anybody, "fuel"))
	things != []
} else := f

_takes_heat := sprintf("%s must be cooked", [_foods(_to_cook)]) if _to_cook != []

_takes_heat := "there is no food to cook, but there may be water to boil" if _to_cook == []

# What a finding says of too little fuel, or of none; a container is another matter.
_unheated if not _heats

_unheated if _too_little

_unheated if lib.raw_hunger

_unheated if _boiling

_unheated if _unlit != []

# The same fuel is all that would treat water: one finding, of the water.
_said_of_water if {
	not lib.raw_hunger
	lib.means("treat-water") == []
	some u in input.useless
	u.capability == "treat-water"
	u.household
	u.why in {"no-fuel", "cold-fuel"}
}

_kitchen := object.union(_hunger, {
	"at": _mended_at(_unlit[0]),
	"because": array.concat([u.item | some u in _unlit], [food.id | some food in _to_cook]),
	"text": sprintf("%s must be cooked, and %s", [_foods(_to_cook), lib.and_list([_why_not(u) | some u in _unlit])]),
}) if {
	not _heats
} else := object.union(_hunger, {
	"at": _to_cook[0].id,
	"because": [food.id | some food in _to_cook],
	"text": sprintf("%s must be cooked, and nobody has a stove", [_foods(_to_cook)]),
}) if {
	not _heats
} else := object.union(_hunger, {
	"at": array.concat(input.fuels, _to_cook)[0].id,
	"because": array.concat([fuel.id | some fuel in input.fuels], [food.id | some food in _to_cook]),
	"text": sprintf("the fuel boils %s, and cooking %s takes %s: %s short", [
		lib.litres(input.household.supply.boilable_ml),
		_foods(_to_cook),
		lib.litres(input.household.supply.cook_water_ml),
		lib.litres(_too_little),
	]),
}) if {
	_too_little
} else := {
	"at": array.concat(input.fuels, _to_cook)[0].id,
	"because": array.concat([fuel.id | some fuel in input.fuels], [food.id | some food in _to_cook]),
	"level": lib.raw_hunger,
	"text": sprintf("there is not enough fuel for the food that must be cooked: %s", [_foods(_to_cook)]),
} if {
	lib.raw_hunger
} else := {
	"at": input.fuels[0].id,
	"because": [fuel.id | some fuel in input.fuels],
	"level": "warning",
	"text": sprintf("the fuel boils %s, and the food and the water that nothing else treats need %s: %s short", [
		lib.litres(_boiling.have),
		lib.litres(_boiling.need),
		lib.litres(_boiling.lack),
	]),
} if {
	input.endurance.water_limit == ""
} else := {
	"at": _to_cook[0].id,
	"because": [food.id | some food in _to_cook],
	"level": "note",
	"text": sprintf("%s must be cooked, and no pot or cup is recorded as fire-safe: write fireSafe: true under container of the pot", [_foods(_to_cook)]),
} if {
	input.household.supply.fire_safe_ml == 0
	[o | some o in lib.offers("eat"); o.means in {"mess-kit", "cup"}] == []
} else := {
	"at": _mended_at(_unlit[0]),
	"because": [u.item | some u in _unlit],
	"level": "note",
	"text": lib.and_list([_why_not(u) | some u in _unlit]),
} if {
	_unlit != []
}

# Food that must be cooked and can be opened.
_to_cook := [food | some food in input.foods; food.cook; food.opens; not food.for_animal]

_heats if lib.offers("cook") != []

_heats if input.household.supply.boilable_ml > 0

_too_little := lib.lacking(supply.boilable_ml, supply.cook_water_ml, lib.limit("food", "cook_fuel_share")) if {
	supply := input.household.supply
}

# The fuels that nobody can burn, then the stoves that nobody can use.
_unlit := array.concat(
	[u | some u in _cold; u.why == "no-burner"],
	[u | some u in _cold; u.why != "no-burner"],
)

_cold := [u | some u in input.useless; u.capability == "cook"; u.household]

_mended_at(u) := u.item if u.cause == ""

_mended_at(u) := u.cause if u.cause != ""

_why_not(u) := sprintf("%s %s", [u.name, u.words]) if u.cause == ""

_why_not(u) := sprintf("%s %s (%s)", [u.name, u.words, u.cause_name]) if u.cause != ""

_foods(foods) := foods[0].name if count(foods) == 1

_foods(foods) := sprintf("%s and %s", [foods[0].name, lib.many(count(foods) - 1, "other food", "other foods")]) if count(foods) > 1

# How grave it is that food stays raw.
_hunger := {"level": lib.raw_hunger} if {
	lib.raw_hunger
} else := {"level": "note"}

# What the plan takes of fuel, with the water that is boiled to be drunk.
_boiling := {"have": stock.have, "need": stock.need, "lack": lack} if {
	some stock in input.endurance.stocks
	stock.kind == "fuel"
	lack := lib.lacking(stock.need - stock.short, stock.need, lib.limit("food", "cook_fuel_share"))
}

# METADATA
# title: Nobody's food contains what they are allergic to
# description: >-
#   Tired people in the dark eat what is in the pack. No food, for everyone or for one person, contains what one of its
#   eaters is allergic to. Names that share a word count as the same, whatever their capitals, dashes or plural.
#   food/allergens-written judges food whose allergens are not recorded.
# custom:
#   level: error
#   remedy: Replace the food, or write whom it is meant for under for, and keep it apart.
#   mend: {work: exchange, get: food without the allergen}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: >-
#     The rule compares words, not ingredients: it does not know that "almonds" are nuts, so write nuts as well. Read the
#     label every time you buy: recipes change, and traces may be listed separately. The label and the doctor who treats
#     the allergy decide, not this list.
#   passes: |
#     people: ana: allergies: nuts: severe: true
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2100 kcal", allergens: ["oats"]}}
#   fails: |
#     people: ana: allergies: nuts: severe: true
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2100 kcal", allergens: ["oats", "nuts"]}}
finding.allergens contains f if {
	some food in input.foods

	# no test can tell: it only saves the time of looking further.
	food.allergens != []
	met := [allergy | some allergy in _met(food); _eats(food, allergy.person)]
	count(met) > 0
	f := {
		"at": food.id,
		"because": [allergy.id | some allergy in met],
		"text": sprintf("%s is for %s and contains an allergen: %s", [
			food.name,
			_eater(food),
			lib.and_list([_allergy(allergy) | some allergy in met]),
		]),
	}
}

# METADATA
# title: No severe allergen is packed near the allergic person
# description: >-
#   Hands, cups and pots are shared, and crumbs travel. What can threaten a life stays out of the packs, even in food for
#   someone else, animals included. Food that the allergic person would eat is left to food/allergens.
# custom:
#   level: warning
#   remedy: Replace the food with one without it.
#   mend: {work: exchange, get: food without the allergen}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: How far away is far enough differs from person to person; ask the doctor who treats the allergy.
#   passes: |
#     people: {
#     	ana: allergies: nuts: severe: true
#     	mia: {age: "9 y", bodyMass: "30 kg"}
#     }
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2100 kcal", for: "mia", allergens: ["oats"]}}
#   fails: |
#     people: {
#     	ana: allergies: nuts: severe: true
#     	mia: {age: "9 y", bodyMass: "30 kg"}
#     }
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2100 kcal", for: "mia", allergens: ["nuts"]}}
finding.severe_nearby contains f if {
	some food in input.foods

	# no test can tell: it only saves the time of looking further.
	food.allergens != []
	near := [allergy | some allergy in _met(food); allergy.severe; not _eats(food, allergy.person)]
	count(near) > 0
	f := {
		"at": food.id,
		"because": [allergy.id | some allergy in near],
		"text": sprintf("%s is for %s but contains a severe allergen for someone else: %s", [
			food.name,
			_eater(food),
			lib.and_list([_allergy(allergy) | some allergy in near]),
		]),
	}
}

# METADATA
# title: Allergens are recorded where someone is allergic
# description: >-
#   Food whose allergens are not recorded may contain any. If someone is allergic, the allergens of each food that they may
#   eat are recorded, even if there are none; an allergy counts as one to food unless recorded otherwise. If the allergy
#   is severe, the allergens of all food are recorded, also of food for others. An animal's food is left out.
# custom:
#   level: note
#   remedy: "Read the labels of the foods named and write allergens; write [] if the label names none."
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: What labels must name differs by country. If in doubt, leave the food at home.
#   passes: |
#     people: ana: allergies: nuts: severe: true
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2100 kcal", allergens: []}}
#   fails: |
#     people: ana: allergies: nuts: severe: true
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: energy: "2100 kcal"}
finding.allergens_written contains f if {
	# no test can tell: it only saves the time of going through the foods.
	_allergies != []
	unread := [food | some food in input.foods; not food.for_animal; not food.allergens_known; _matters(food)]
	f := {
		"at": unread[0].id,
		"because": [food.id | some food in unread],
		"text": sprintf("allergens are not recorded for %s; allergies in the household: %s", [
			_foods(unread),
			lib.and_list([_allergy(allergy) | some allergy in _allergies]),
		]),
	}
}

_matters(food) if {
	some allergy in _allergies
	_eats(food, allergy.person)
}

_matters(_) if {
	some allergy in _allergies
	allergy.severe
}

# The allergies that may be to food.
_allergies := [allergy | some allergy in input.allergies; allergy.to in {"", "food"}]

# The allergies that a food holds something for.
_met(food) := [allergy | some allergy in _allergies; _holds(food, allergy)]

_holds(food, allergy) if {
	some allergen in food.allergens
	_alike(_stems(allergen), _stems(allergy.key))
}

# Two names are alike where a word of the food's ends like one of the allergy's: "nuts" is
# met by "tree nuts" and "hazelnuts". That a peanut is taken for one too is on the safe side.
_alike(a, b) if {
	some word in a
	some one in b
	endswith(word, one)
}

# Allergies are keys ("tree-nuts"), allergens are free words ("Tree nuts").
_stems(text) := {stem |
	some word in split(replace(replace(replace(replace(lower(text), "_", " "), "-", " "), ",", " "), "/", " "), " ")
	stem := trim_right(word, "s")
	stem != ""
}

# Food that is meant for nobody by name is eaten by every person.
_eats(food, _) if food.for == ""

_eats(food, id) if food.for == id

_eater(food) := "everyone" if food.for == ""

_eater(food) := one.name if {
	some one in array.concat(input.people, input.animals)
	one.id == food.for
}

_allergy(allergy) := sprintf("%s (%s)", [allergy.key, allergy.person_name]) if not allergy.severe

_allergy(allergy) := sprintf("%s (%s, severe)", [allergy.key, allergy.person_name]) if allergy.severe

# METADATA
# title: Everyone with canned food has a can opener
# description: >-
#   A can without an opener feeds nobody, and forcing it open cuts hands. Each person with canned food, for people or for
#   animals, has something that opens cans, or someone always beside them has. Food in cans that nothing in the household
#   opens does not count: if the food would be enough with them open, this rule speaks instead of endurance/energy, with
#   the same severity; if not, that rule speaks of them. A multi-tool counts, as most open cans; for cans in an animal's
#   pack anyone may have the opener.
# custom:
#   level: error
#   remedy: Add a can opener, or record that the multi-tool there opens cans.
#   mend: {work: add, thing: open_cans, get: can opener}
#   sources:
#     - "A manual can opener: Ready.gov/FEMA 2022, American Red Cross 2020, Prepare (UK) 2024, BBK (Germany), year not seen; seen second-hand"
#     - "With who has the cans: common practice, no source"
#   limits: [people.bag_months, endurance.energy_share, endurance.energy_error]
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	stew: {mass: "500 g", food: {energy: "600 kcal", canned: true}}
#     	opener: {mass: "20 g", can: open_cans: "can-opener"}
#     }
#   fails: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: {
#     	stew: {mass: "500 g", food: {energy: "600 kcal", canned: true}}
#     	bars: {mass: "600 g", food: energy: "3000 kcal"}
#     }
finding.can_opener contains f if {
	cans := _closed
	first := cans[0]
	bare := {
		"at": first.item,
		"because": [u.item | some u in cans],
		"text": sprintf("%s %s%s", [_foods(cans), _needs_opener(count(cans)), _else_hungry]),
		"level": _closed_level,
	}
	f := lib.lack_any(bare, lib.unrecorded(lib.anybody, "open_cans"))
}

_closed_level := lib.shut_hunger if {
	lib.shut_hunger
} else := "note" if {
	not _said_of_energy
}

# endurance/energy names what is in them.
_said_of_energy if {
	lib.hunger
	not lib.raw_hunger
	lib.shut_j > 0
}

_else_hungry := sprintf("; without them the food covers %s of the %s that the plan takes", [
	lib.kcal(lib.hunger.eaten),
	lib.kcal(lib.hunger.need),
]) if {
	lib.shut_hunger
} else := ""

# Cans that nothing with them opens.
_closed := [u | some u in input.useless; u.why == "no-opener"; not _opened_beside(u)]

_shut := {u.item | some u in _closed}

_opened_beside(u) if {
	some person in input.people
	person.id == u.carrier
	lib.at_hand(person, "open_cans") != set()
}

_opened_beside(u) if {
	not u.household
	some animal in input.animals
	animal.id == u.carrier
}

_needs_opener(1) := "needs a can opener, and there is none with it"

_needs_opener(n) := "need a can opener, and there is none with them" if n > 1

# METADATA
# title: Each infant has food of their own
# description: >-
#   An infant cannot eat what the others eat, and shops are shut. The food for each infant must cover the need for each kg
#   of its body for as long as the plan lasts, or until it is fed at the end of the way; if the infant is nursed as well,
#   half of it. Breastfed infants, and people whose age is not recorded, are left out. For an infant who eats solids it is
#   a warning.
# custom:
#   level: error
#   remedy: Add what the infant eats now, and write the infant under for.
#   mend: {work: add, get: food for the infant}
#   sources:
#     - "Butte, Public Health Nutr 2005;8(7A):953: 110 kcal a kg and day at one month, 81 from six months on; abstract seen"
#     - "Infant supplies are on many household lists: Ready.gov/FEMA 2022, American Red Cross 2020 (second-hand), NYC Emergency Management, Get Ready (New Zealand) (copies of their own pages; year not seen)"
#     - "Half of it where an infant is nursed as well: common practice, no source"
#   limits: [food.infant_months]
#   caution: >-
#     What and how much an infant needs is for the label and a health professional. Formula needs safe water and clean
#     bottles; never change or thin it to make it last.
#   passes: |
#     plan: duration: "24 h"
#     people: bo: {age: "6 months", bodyMass: "7 kg", carries: false}
#     packs: rust: compartments: lid: items: formula: {mass: "150 g", food: {energy: "650 kcal", for: "bo"}}
#   fails: |
#     plan: duration: "24 h"
#     people: bo: {age: "6 months", bodyMass: "7 kg", carries: false}
#     packs: rust: compartments: lid: items: formula: {mass: "50 g", food: {energy: "200 kcal", for: "bo"}}
finding.infants contains f if {
	some person in input.people
	_infant(person)
	some stock in input.endurance.stocks
	stock.kind == "energy"
	stock.body == person.id
	stock.short > 0
	bare := {
		"at": person.id,
		"because": [food.id | some food in input.foods; food.for == person.id],
		"text": sprintf("%s has %s of the %s of food needed for %s (%s a day): %s short%s", [
			person.name,
			_kcal_or_none(stock.have),
			lib.kcal(stock.need),
			_time(input.endurance.minutes),
			lib.kcal(person.energy_j),
			lib.energy(stock.short),
			_raw(stock),
		]),
		"level": _infant_level(person),
	}
	takes := sprintf("%s needs %s for %s (%s a day)", [person.name, lib.kcal(stock.need), _time(input.endurance.minutes), lib.kcal(person.energy_j)])
	theirs := [food | some food in input.foods; food.for == person.id]
	f := _unless_unread(bare, "infant-food", theirs, sprintf("how much %s has to eat", [person.name]), takes)
}

# Food of these whose energy is not recorded, or what may be such food by its name, makes a lack of food a note.
_unless_unread(f, kind, foods, what, takes) := lib.unread_amount(f, what, things, takes) if {
	things := lib.unread_of(lib.unrecorded(lib.anybody, kind), {sprintf("%s/food", [food.id]) | some food in foods})
	things != []
} else := f

_infant(person) if lib.younger(person, lib.limit("food", "infant_months"))

_infant_level(person) := "warning" if person.fed == "solids"

_infant_level(person) := "error" if person.fed != "solids"

_kcal_or_none(0) := "none"

_kcal_or_none(j) := lib.kcal(j) if j > 0

_raw(stock) := "" if stock.raw_j == 0

_raw(stock) := sprintf("; %s cannot be made, as there is no fuel left or no stove that burns it", [lib.kcal(stock.raw_j)]) if stock.raw_j > 0

# Minutes as hours and minutes, without a part that is none.
_time(min) := trim_prefix(lib.hours(min), "0 h ")

# METADATA
# title: Each diet has enough suitable food
# description: >-
#   People who cannot or will not eat what is packed have no food. For each person with a diet, the food that they may eat
#   and that suits all their diets must cover their own need for the plan. That others may eat of it too is not counted, so
#   this is a minimum. Vegan food counts as vegetarian and as lactose-free. For a diet kept for health it is a warning, for
#   one of choice a note, and only if there is food enough for all. Infants have a rule of their own.
# custom:
#   level: warning
#   remedy: Replace the food named with some that suits the diet, or write under suits what it is suitable for.
#   mend: {work: exchange, get: food that suits the diet}
#   sources:
#     - "UNHCR/WFP, Guidelines for Estimating Food and Nutritional Needs, 1997, Annex I: a day's energy by age and sex; seen in a copy of its own pages"
#     - "Each diet apart, and which are for health: common practice, no source"
#   limits: [food.diet_months, food.vegan_suits, food.health_diets, endurance.energy_share, endurance.energy_error]
#   caution: A diet for an illness (coeliac disease, diabetes, kidneys) needs a plan of its own from a licensed practitioner.
#   passes: |
#     plan: duration: "24 h"
#     people: ana: diets: ["gluten-free"]
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2500 kcal", suits: ["gluten-free"]}}
#   fails: |
#     plan: duration: "24 h"
#     people: ana: diets: ["gluten-free"]
#     packs: rust: compartments: lid: items: bread: {mass: "500 g", food: energy: "2500 kcal"}
finding.diet contains f if {
	some person in input.people
	count(person.diets) > 0
	not lib.younger(person, lib.limit("food", "diet_months"))
	some body in input.endurance.bodies
	body.id == person.id
	theirs := [food | some food in input.foods; _eats(food, person.id)]
	have := sum([food.energy_j | some food in theirs; _suits_all(food, person.diets)])
	short := body.spent_j - have
	short > 0
	level := _diet_level(person)
	bare := {
		"at": person.id,
		"because": [food.id | some food in theirs; not _suits_all(food, person.diets)],
		"text": sprintf("%s (%s) has %s of the %s of suitable food needed for %s: %s short", [
			person.name,
			lib.and_list(person.diets),
			_kcal_or_none(have),
			lib.kcal(body.spent_j),
			_time(input.endurance.minutes),
			lib.energy(short),
		]),
		"level": level,
	}
	right := [food | some food in theirs; _suits_all(food, person.diets)]
	takes := sprintf("%s needs %s for %s", [person.name, lib.kcal(body.spent_j), _time(input.endurance.minutes)])
	f := _unless_unread_food(bare, right, sprintf("how much food suits %s (%s)", [person.name, lib.and_list(person.diets)]), takes)
}

# The same of food alone: what is only a name is for no diet.
_unless_unread_food(f, foods, what, takes) := lib.unread_amount(f, what, things, takes) if {
	ids := {sprintf("%s/food", [food.id]) | some food in foods}
	things := lib.unread_of(lib.unrecorded(lib.anybody, "food"), ids)
	things != []
} else := f

# A diet of choice is not judged where food is short for all: endurance/energy says that.
_diet_level(person) := "warning" if _for_health(person)

_diet_level(person) := "note" if {
	not _for_health(person)
	not _hungry
}

_for_health(person) if {
	some diet in person.diets
	diet in lib.limit("food", "health_diets")
}

_hungry if lib.hunger

_suits_all(food, diets) if {
	every diet in diets {
		_suits(food, diet)
	}
}

_suits(food, diet) if diet in food.suits

_suits(food, diet) if {
	diet in lib.limit("food", "vegan_suits")
	"vegan" in food.suits
}

# METADATA
# title: Food set aside for someone is right for their diets
# description: >-
#   What is meant for one person and not for them is eaten by nobody. Food that is meant for a person by name, and is recorded as right
#   for some diets, is right for all of theirs. Infants are left out, and food of which no diet is recorded.
# custom:
#   level: warning
#   remedy: Exchange it, write under for who eats it, or write under suits what it is right for as well.
#   mend: {work: exchange, get: food that suits the diet}
#   sources:
#     - "common practice, no source"
#   limits: [food.diet_months, food.vegan_suits]
#   caution: A diet for an illness (coeliac disease, diabetes, kidneys) needs a plan of its own from a licensed practitioner.
#   passes: |
#     people: ana: diets: ["vegan"]
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2500 kcal", for: "ana", suits: ["vegan"]}}
#   fails: |
#     people: ana: diets: ["vegan"]
#     packs: rust: compartments: lid: items: cheese: {mass: "200 g", food: {energy: "800 kcal", for: "ana", suits: ["vegetarian"]}}
finding.set_aside contains f if {
	some food in input.foods
	food.suits != []
	some person in input.people
	food.for == person.id
	not lib.younger(person, lib.limit("food", "diet_months"))
	not _suits_all(food, person.diets)
	f := {
		"at": food.id,
		"because": [person.id],
		"text": sprintf("%s is meant for %s (%s), and is recorded as right for %s only", [
			food.name,
			person.name,
			lib.and_list(person.diets),
			lib.and_list(food.suits),
		]),
	}
}

# METADATA
# title: Each person carries food that needs no cooking
# description: >-
#   The stove is in one pack, and a family can be separated. Each person old enough for a bag has food that they may eat,
#   that is ready to eat and that covers a share of their daily need; for people who are never alone the food of those
#   beside them counts. For a child it is a note. Smaller children eat what the adults beside them carry, and if food
#   awaits within hours nobody needs any. If someone who lives alone is short of food for the plan, other rules say so.
# custom:
#   level: warning
#   remedy: Move some food that is ready to eat to that person, or replace food that must be cooked.
#   mend: {work: move}
#   sources:
#     - "UNHCR/WFP, Guidelines for Estimating Food and Nutritional Needs, 1997, Annex I: a day's energy by age and sex; seen in a copy of its own pages"
#     - "Half of one day: common practice, no source"
#     - "A bag for everyone: NYC Emergency Management; Get Ready (New Zealand); year not seen; seen in copies of their own pages"
#   limits: [food.alone_share, food.soon_min, people.bag_months, people.alone_months, endurance.energy_share, endurance.energy_error]
#   caution: This is a minimum for a family that was separated, not a diet; children, pregnancy and diabetes need more care than a sum.
#   passes: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "250 g", food: energy: "1250 kcal"}
#   fails: |
#     plan: duration: "24 h"
#     people: ben: {age: "42 y", bodyMass: "70 kg"}
#     packs: moss: {carrier: "ben", mass: "1 kg", compartments: lid: {reach: "walking", items: bars: {mass: "900 g", food: energy: "4000 kcal"}}}
#     packs: rust: compartments: lid: items: rice: {mass: "500 g", food: {energy: "1800 kcal", cookWater: "1 L"}}
finding.alone_no_cook contains f if {
	not _soon_fed
	not _said_of_one
	some person in input.people
	lib.at_least(person, lib.limit("people", "bag_months"))
	need := lib.share_of(person.energy_j, lib.limit("food", "alone_share"))
	near := lib.beside(person)
	ready := [food | some food in _ready; food.carrier in near; _eats(food, person.id)]
	have := sum([food.energy_j | some food in ready])
	short := need - have
	short > 0
	bare := {
		"at": lib.stands(person),
		"because": [food.id | some food in ready],
		"text": sprintf("%s %s of the %s of ready-to-eat food needed (%s of a day): %s short", [
			lib.carries(person),
			_kcal_or_none(have),
			lib.kcal(need),
			lib.share(lib.limit("food", "alone_share")),
			lib.energy(short),
		]),
		"level": _alone_level(person),
	}
	f := _unless_unread_beside(bare, person, ready, need)
}

# Food awaits, and is reached within hours.
_soon_fed if {
	input.plan.destination.food
	lib.there_within(lib.limit("food", "soon_min"))
}

# Where there is one person, what the household lacks is what this person lacks.
_said_of_one if {
	count(input.people) == 1
	_hungry
}

_unless_unread_beside(f, person, ready, need) := lib.unread_amount(
	f, sprintf("how much ready-to-eat food %s", [lib.carries(person)]), things,
	sprintf("%s of a day is %s", [lib.share(lib.limit("food", "alone_share")), lib.kcal(need)]),
) if {
	things := lib.unread_of(lib.unrecorded(lib.beside(person), "food"), {sprintf("%s/food", [food.id]) | some food in ready})
	things != []
} else := f

_alone_level(person) := "warning" if lib.at_least(person, lib.limit("people", "alone_months"))

_alone_level(person) := "note" if lib.younger(person, lib.limit("people", "alone_months"))

# Food that is eaten as it is.
_ready := [food | some food in input.foods; food.cook == false; not food.id in _shut]

# METADATA
# title: People who must eat little salt have low-salt food
# description: >-
#   Food that keeps is salty. What a person who must eat little salt would eat in a day, of the food that is theirs and the
#   food for everyone, is compared with what such diets allow; their own food alone is judged if it is enough for the plan.
#   Food without a recorded figure is left out, and so are people of whom only an illness is recorded.
# custom:
#   level: warning
#   remedy: Pack plain food without salt for this person, and write the person under its for.
#   mend: {work: exchange, get: low-salt food}
#   sources:
#     - "About 2,000 mg of sodium a day in diets with little salt: from memory"
#   limits: [food.low_salt]
#   caution: How much salt someone may eat is for their practitioner to say. After much sweat or diarrhoea salt is needed.
#   passes: |
#     people: ana: conditions: ["low-salt"]
#     packs: rust: compartments: lid: items: oats: {mass: "500 g", food: {energy: "1900 kcal", sodium: "1000 mg"}}
#   fails: |
#     people: ana: conditions: ["low-salt"]
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "1900 kcal", sodium: "3000 mg"}}
finding.salty contains f if {
	some person in input.people
	"low-salt" in person.conditions
	foods := _eaten_by(person)
	energy := sum([food.energy_j | some food in foods])

	# no test can tell: nothing is divided by zero.
	energy > 0
	mg := lib.nearest(sum([food.sodium_mg | some food in foods]) * person.energy_j, energy)
	most := lib.limit("food", "low_salt")
	mg > most
	f := {
		"at": sprintf("%s/conditions", [person.id]),
		"because": [food.id | some food in foods],
		"text": sprintf("%s must eat little salt, and a day's food for them holds %d mg of sodium; such diets allow about %d mg", [person.name, mg, most]),
	}
}

_eaten_by(person) := _salted(person.id) if {
	sum([food.energy_j | some food in _salted(person.id)]) * lib.day_min >= person.energy_j * input.endurance.minutes
} else := array.concat(_salted(person.id), _salted(""))

# Food for everyone, or for one person, of which energy and salt are recorded.
_salted(whose) := [food |
	some food in input.foods
	not food.for_animal
	food.for == whose
	food.energy_known
	food.sodium_known
]
