package rules.base.food

import data.lib

# METADATA
# title: Food energy for the plan
# description: >-
#   Hungry people get cold, slow and quarrelsome. All food for people, whoever bears it,
#   is set against everybody in the household for as long as the plan lasts. The figure is
#   a mean over a population, infants included; walking under a load takes more.
# custom:
#   level: error
#   remedy: Add food with much energy for its mass, such as bars or oil.
#   mend: {work: add, thing: food}
#   sources:
#     - "Sphere Handbook, food transfers standard 1, 2011: 2,100 kcal per person and day; seen in a copy of its own page (2018 edition the same: from memory)"
#   limits: [food.energy]
#   lack: {what: food energy, unit: j}
#   caution: Infants, pregnancy, diabetes and special diets need a plan of their own from a licensed practitioner.
#   passes: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: energy: "2100 kcal"}
#   fails: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "450 g", food: energy: "1900 kcal"}
finding.energy contains f if {
	house := input.household
	each := lib.limit("food", "energy")
	need := (each * house.people_count) * house.plan_min
	short := lib.up(need, lib.day_min) - house.supply.food_energy_j
	short > 0
	f := {
		"at": house.id,
		"because": ["household/food-energy"],
		"text": sprintf("the food holds %s; at %s a day each, %s %s for %s: %s too little", [
			lib.kcal(house.supply.food_energy_j),
			lib.kcal(each),
			lib.many(house.people_count, "person needs", "people need"),
			lib.kcal(lib.nearest(need, lib.day_min)),
			lib.hours(house.plan_min),
			lib.energy(short),
		]),
		"lack": short,
	}
}

# METADATA
# title: Enough food that needs no cooking
# description: >-
#   Fuel runs out, smoke draws eyes, and on the move nobody cooks. A share of the food's
#   energy must be ready to eat. All food of the household counts, whoever bears it.
# custom:
#   level: warning
#   remedy: Exchange some of the food that must be cooked for food that is ready to eat.
#   mend: {work: exchange}
#   sources:
#     - "The share: common practice, no source"
#     - "CDC, personal needs, NPM 2019: three days of food ready to eat; seen in a copy of its own page"
#     - "Get Ready (New Zealand), no-cook food, year not seen, a copy of its own page; Prepare (UK), 2024, seen second-hand"
#   limits: [food.no_cook_share]
#   passes: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: energy: "2100 kcal"}
#   fails: |
#     packs: rust: compartments: lid: items: rice: {mass: "500 g", food: {energy: "1800 kcal", cookWater: "1 L"}}
finding.no_cook_share contains f if {
	house := input.household
	least := lib.limit("food", "no_cook_share")
	short := lib.lacking(house.supply.no_cook_energy_j, house.supply.food_energy_j, least)
	f := {
		"at": house.id,
		"because": _cooked,
		"text": sprintf("%s of the food's %s needs no cooking, %s of it; %s is asked: %s too little", [
			lib.kcal(house.supply.no_cook_energy_j),
			lib.kcal(house.supply.food_energy_j),
			lib.percent(house.supply.no_cook_energy_j, house.supply.food_energy_j),
			lib.share(least),
			lib.energy(short),
		]),
	}
}

_cooked := [food.id | some food in input.foods; food.cook; not food.for_animal]

# METADATA
# title: Sodium for the plan and its sweat
# description: >-
#   Much water without salt makes walkers weak and can be dangerous. The food's sodium
#   is set against the daily intake of everybody for the plan, and what the plan's walks
#   cost in sweat. Children are asked a lower figure and infants none; food of which no figure
#   is written counts nothing, and the text says how many there are. Asked only where there
#   is food.
# custom:
#   level: warning
#   remedy: >-
#     Write the sodium of the food that has no figure, or add salted food; salt or rehydration
#     salts count where they are written as food with their sodium.
#   mend: {work: write}
#   sources:
#     - "NASEM, Dietary Reference Intakes for Sodium and Potassium, 2019 (NAP 25353): adequate intake 1,500 mg a day from 14 years, 1,000 mg from 4 to 8; seen second-hand"
#   limits: [food.sodium, food.sodium_child, food.sodium_months, food.sodium_from]
#   caution: >-
#     Whoever has been told to eat little salt (heart, kidney, blood pressure) follows a
#     licensed practitioner, not this sum. Rehydration salts by the packet only.
#   passes: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2100 kcal", sodium: "1600 mg"}}
#   fails: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2100 kcal", sodium: "400 mg"}}
finding.sodium contains f if {
	house := input.household
	house.supply.food_energy_j > 0
	each := sum([mg | some p in input.people; mg := _sodium_of(p)])
	intake := each * house.plan_min
	short := (lib.up(intake, lib.day_min) + house.sweat_mg) - house.supply.sodium_mg
	short > 0
	f := {
		"at": house.id,
		"because": ["household/sodium"],
		"text": sprintf("the food holds %d mg of sodium%s; everybody together needs %d mg for %s, %d mg a day, and the walks' sweat takes %d mg: %d mg too little", [
			house.supply.sodium_mg,
			_without_figure(count([f | some f in input.foods; not f.for_animal; not f.sodium_known])),
			lib.up(intake, lib.day_min),
			lib.hours(house.plan_min),
			each,
			house.sweat_mg,
			short,
		]),
	}
}

_without_figure(0) := ""

_without_figure(n) := sprintf(" (%s no figure)", [lib.many(n, "food has", "foods have")]) if n > 0

# An infant is fed by other figures and is not counted.
_sodium_of(person) := 0 if lib.younger(person, lib.limit("food", "sodium_from"))

_sodium_of(person) := lib.limit("food", "sodium_child") if {
	not lib.younger(person, lib.limit("food", "sodium_from"))
	lib.younger(person, lib.limit("food", "sodium_months"))
}

_sodium_of(person) := lib.limit("food", "sodium") if not lib.younger(person, lib.limit("food", "sodium_months"))

# METADATA
# title: Stoves have fuel for what must be cooked or boiled
# description: >-
#   Dried food without hot water is weight for nothing, and so is a stove without fuel. The water that the fuel can
#   boil in the stoves at hand must be enough for what the food takes, and for the water that nothing else
#   treats. Fuel counts where a stove burns it on the nights planned for: butane and mixed gas give up in the cold.
#   Where no food is short for it, a stove without fuel is a note, and so is food to boil without a vessel that may
#   be put on a fire. Where the same fuel is all that treats water, water/purification says so.
# custom:
#   level: warning
#   remedy: Add fuel that the stove named burns on such nights, or exchange the food named for some that needs no cooking.
#   mend: {work: add}
#   sources:
#     - "The share: common practice, no source; wind and cold take more"
#     - "Boiling points of butane -0.5 °C, isobutane -11.7 °C, propane -42 °C: an outdoor forum's FAQ, year not seen; seen second-hand. 5 °C more for a can that cools as it burns: common practice, no source"
#   limits: [food.cook_fuel_share, endurance.energy_share]
#   caution: >-
#     Burn stoves outdoors only, never in a tent, a house or a vehicle: carbon monoxide has
#     no smell. Never warm a gas can with a flame or on a stove; under the clothes it warms by itself. Follow the
#     maker's label and local fire rules.
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
	f := _kitchen
}

# The same fuel is all that would treat water: one finding, of the water.
_said_of_water if {
	lib.means(input.household.supply, "treat-water") == []
	some u in input.useless
	u.capability == "treat-water"
	u.household
	u.why in {"no-fuel", "cold-fuel"}
}

_kitchen := object.union(_hunger, {
	"at": _mended_at(_unlit[0]),
	"because": array.concat([u.item | some u in _unlit], [food.id | some food in _raw]),
	"text": sprintf("%s must be cooked, and %s", [_foods(_raw), lib.and_list([_why_not(u) | some u in _unlit])]),
}) if {
	not _heats
} else := object.union(_hunger, {
	"at": _raw[0].id,
	"because": [food.id | some food in _raw],
	"text": sprintf("%s must be cooked, and nobody has a stove", [_foods(_raw)]),
}) if {
	not _heats
} else := object.union(_hunger, {
	"at": array.concat(input.fuels, _raw)[0].id,
	"because": array.concat([fuel.id | some fuel in input.fuels], [food.id | some food in _raw]),
	"text": sprintf("the fuel boils %s, and cooking %s takes %s: %s short", [
		lib.litres(input.household.supply.boilable_ml),
		_foods(_raw),
		lib.litres(input.household.supply.cook_water_ml),
		lib.litres(_too_little),
	]),
}) if {
	_too_little
} else := {
	"at": input.fuels[0].id,
	"because": [fuel.id | some fuel in input.fuels],
	"text": sprintf("the fuel boils %s, and the food and the water that nothing else treats need %s: %s short", [
		lib.litres(_boiling.have),
		lib.litres(_boiling.need),
		lib.litres(_boiling.lack),
	]),
} if {
	input.endurance.water_limit == ""
} else := {
	"at": _raw[0].id,
	"because": [food.id | some food in _raw],
	"level": "note",
	"text": sprintf("%s must be cooked, and no vessel is recorded that may be put on a fire: write fireSafe: true under container of the pot", [_foods(_raw)]),
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
_raw := [food | some food in input.foods; food.cook; food.opens; not food.for_animal]

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

# Food is short, and some stays raw: then it is more than a note.
_hunger := {} if {
	some stock in input.endurance.stocks
	stock.kind == "energy"
	stock.body == ""
	stock.raw_j > 0
	lib.lacking(stock.need - stock.short, stock.need, lib.limit("endurance", "energy_share"))
} else := {"level": "note"}

# What the plan takes of fuel, with the water that is boiled to be drunk.
_boiling := {"have": stock.have, "need": stock.need, "lack": lack} if {
	some stock in input.endurance.stocks
	stock.kind == "fuel"
	lack := lib.lacking(stock.need - stock.short, stock.need, lib.limit("food", "cook_fuel_share"))
}

# METADATA
# title: No allergen in a person's own food
# description: >-
#   Tired people in the dark eat what is in the pack. A food that is meant for everybody,
#   or for one person, holds nothing that one of its eaters is allergic to. Names that
#   share a word are taken for the same, without regard to capitals, dashes or a plural. Food whose allergens are not written
#   is asked by another rule.
# custom:
#   level: error
#   remedy: Exchange the food, or write whom it is meant for under for, and keep it apart.
#   mend: {work: exchange}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: >-
#     Words are compared, not things: "almonds" is not known to be a nut, so write nuts as well.
#     Read the label each time you buy: recipes change, and traces may be named apart. The
#     label and whoever treats the allergy decide, not this list.
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
		"text": sprintf("%s has in it what its eaters must not meet: %s; it is meant for %s", [
			food.name,
			lib.and_list([_allergy(allergy) | some allergy in met]),
			_eater(food),
		]),
	}
}

# METADATA
# title: No severe allergen beside the allergic
# description: >-
#   Hands, cups and pots are shared, and crumbs travel. What can threaten a life stays out
#   of the packs even in food that is meant for somebody else, animals included. Food that
#   the allergic person would eat is left to food/allergens.
# custom:
#   level: warning
#   remedy: Exchange the food for one without it.
#   mend: {work: exchange}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: How far away is far enough differs from person to person; ask whoever treats the allergy.
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
		"text": sprintf("%s is meant for %s, but has in it what can threaten a life in the household: %s", [
			food.name,
			_eater(food),
			lib.and_list([_allergy(allergy) | some allergy in near]),
		]),
	}
}

# METADATA
# title: Allergens are recorded where they matter
# description: >-
#   What nobody wrote down is not free of anything. Where somebody is allergic, the
#   allergens of each food that they may eat are written, if only that there are none;
#   an allergy that is not said to be to something else counts as one to food;
#   where the allergy is severe, those of all food, also food for others and for animals.
# custom:
#   level: note
#   remedy: "Read the labels of the food named and write allergens; [] where the label names nothing."
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: Labels differ in what they must name, by country. When in doubt, leave the food at home.
#   passes: |
#     people: ana: allergies: nuts: severe: true
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2100 kcal", allergens: []}}
#   fails: |
#     people: ana: allergies: nuts: severe: true
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: energy: "2100 kcal"}
finding.allergens_written contains f if {
	# no test can tell: it only saves the time of going through the foods.
	_allergies != []
	unread := [food | some food in input.foods; not food.allergens_known; _matters(food)]
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

_eater(food) := "everybody" if food.for == ""

_eater(food) := one.name if {
	some one in array.concat(input.people, input.animals)
	one.id == food.for
}

_allergy(allergy) := sprintf("%s (%s)", [allergy.key, allergy.person_name]) if not allergy.severe

_allergy(allergy) := sprintf("%s (%s, severe)", [allergy.key, allergy.person_name]) if allergy.severe

# METADATA
# title: Cans have an opener with them
# description: >-
#   A can without an opener feeds nobody, and forcing it open cuts hands. Each person with canned food, for people or
#   for animals, has something that opens cans, or somebody always beside them has. Food in cans that nothing
#   in the household opens counts as none, so that the forecast is short of it. A multi-tool counts, as most open
#   cans; cans in an animal's pack take an opener with anybody.
# custom:
#   level: note
#   remedy: Add a can opener, or write that the multi-tool there opens cans.
#   mend: {work: add, thing: open_cans}
#   sources:
#     - "A manual can opener: Ready.gov/FEMA 2022, American Red Cross 2020, Prepare (UK) 2024, BBK (Germany), year not seen; seen second-hand"
#     - "With who has the cans: common practice, no source"
#   limits: [people.bag_months]
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	stew: {mass: "500 g", food: {energy: "600 kcal", canned: true}}
#     	opener: {mass: "20 g", can: open_cans: "can-opener"}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: stew: {mass: "500 g", food: {energy: "600 kcal", canned: true}}
finding.can_opener contains f if {
	cans := [u | some u in input.useless; u.why == "no-opener"; not _opened_beside(u)]
	f := {
		"at": cans[0].item,
		"because": [u.item | some u in cans],
		"text": sprintf("%s %s", [_foods(cans), _needs_opener(count(cans))]),
	}
}

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
# title: Food of its own for an infant
# description: >-
#   An infant cannot eat what the others eat, and shops are shut. The food meant for each
#   infant must hold at least what a body of that mass takes at rest for as long as the
#   plan lasts. That is a floor: an infant grows and needs more. Infants who are fed at the
#   breast, and people whose age is not written, are not asked.
# custom:
#   level: warning
#   remedy: Add what the infant eats now, and write the infant under for.
#   mend: {work: add}
#   sources:
#     - "Schofield 1985, as used by FAO/WHO/UNU 2001, Table 5.2, resting energy below 3 years; seen second-hand"
#     - "Infant supplies are on many household lists: Ready.gov/FEMA 2022, American Red Cross 2020 (second-hand), NYC Emergency Management, Get Ready (New Zealand) (copies of their own pages; year not seen)"
#   limits: [food.infant_months]
#   caution: >-
#     What and how much an infant takes is for the label and a health professional. Formula
#     needs safe water and clean bottles; do not change or thin it to make it last.
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
	not person.breastfed
	own := [food | some food in input.foods; food.for == person.id]
	have := sum([food.energy_j | some food in own])
	short := _short(person.rest_energy_j, have)
	short > 0
	f := {
		"at": person.id,
		"because": [food.id | some food in own],
		"text": sprintf("the food meant for %s holds %s; %s at rest, at %s a day, take at least %s: %s too little", [
			person.name,
			lib.kcal(have),
			lib.hours(input.household.plan_min),
			lib.kcal(person.rest_energy_j),
			_over_plan(person.rest_energy_j),
			lib.energy(short),
		]),
	}
}

_infant(person) if lib.younger(person, lib.limit("food", "infant_months"))

# What is missing from have to the energy of a day, for the whole plan.
_short(daily, have) := lib.up(daily * input.household.plan_min, lib.day_min) - have

_over_plan(daily) := lib.kcal(lib.nearest(daily * input.household.plan_min, lib.day_min))

# METADATA
# title: Food for each diet
# description: >-
#   Whoever cannot or will not eat what is packed has no food. For each person with a diet, the
#   food for everybody or for them that is right for all their diets must hold a day's
#   energy for as long as the plan lasts. That others may eat of it too is not counted, so
#   this is a floor. Food right for vegans counts for vegetarians and as lactose-free.
#   Infants are not asked: their food is asked by another rule.
# custom:
#   level: warning
#   remedy: Exchange the food named for some that is right for the diet, or write under suits what it is right for.
#   mend: {work: exchange}
#   sources:
#     - "Sphere Handbook, food transfers standard 1, 2011: 2,100 kcal per person and day; seen in a copy of its own page (2018 edition the same: from memory)"
#     - "Each diet apart: common practice, no source"
#   limits: [food.energy, food.diet_months, food.vegan_suits]
#   caution: A diet for an illness (coeliac disease, diabetes, kidneys) needs a plan of its own from a licensed practitioner.
#   passes: |
#     plan: duration: "24 h"
#     people: ana: diets: ["vegetarian"]
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2100 kcal", suits: ["vegetarian"]}}
#   fails: |
#     plan: duration: "24 h"
#     people: ana: diets: ["vegetarian"]
#     packs: rust: compartments: lid: items: jerky: {mass: "500 g", food: energy: "2100 kcal"}
finding.diet contains f if {
	some person in input.people
	count(person.diets) > 0
	not lib.younger(person, lib.limit("food", "diet_months"))
	each := _day_of(person)
	theirs := [food | some food in input.foods; _eats(food, person.id)]
	have := sum([food.energy_j | some food in theirs; _suits_all(food, person.diets)])
	short := _short(each, have)
	short > 0
	f := {
		"at": person.id,
		"because": [food.id | some food in theirs; not _suits_all(food, person.diets)],
		"text": sprintf("the food that is right for %s (%s) holds %s; %s at %s a day take %s: %s too little", [
			person.name,
			lib.and_list(person.diets),
			lib.kcal(have),
			lib.hours(input.household.plan_min),
			lib.kcal(each),
			_over_plan(each),
			lib.energy(short),
		]),
	}
}

# A child eats less than the mean: the resting energy is taken, as a floor.
_day_of(person) := lib.limit("food", "energy") if person.adult

_day_of(person) := person.rest_energy_j if not person.adult

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
# title: Food that needs no cooking with each person
# description: >-
#   The stove is in one pack, and a family can be parted. Each person who bears a pack has
#   food in their own packs or pockets, meant for everybody or for them, that is ready to
#   eat and holds a share of a day's energy for as long as the plan lasts. People without a
#   pack are not asked.
# custom:
#   level: warning
#   remedy: Move some food that is ready to eat to that person, or exchange food that must be cooked.
#   mend: {work: move}
#   sources:
#     - "The amount, half a day's energy of the Sphere Handbook (2011): common practice, no source"
#     - "A bag for everyone: NYC Emergency Management; Get Ready (New Zealand); year not seen; seen in copies of their own pages"
#   limits: [food.alone_no_cook]
#   caution: This is a floor for a family that was parted, not a diet; children, pregnancy and diabetes need more care than a sum.
#   passes: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "250 g", food: energy: "1050 kcal"}
#   fails: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: rice: {mass: "500 g", food: {energy: "1800 kcal", cookWater: "1 L"}}
finding.alone_no_cook contains f if {
	some person in input.people
	person.pack_count > 0
	each := lib.limit("food", "alone_no_cook")
	ready := [food | some food in _ready; food.carrier == person.id; _eats(food, person.id)]
	have := sum([food.energy_j | some food in ready])
	short := _short(each, have)
	short > 0
	f := {
		"at": person.id,
		"because": [food.id | some food in ready],
		"text": sprintf("%s alone has %s of food that needs no cooking; %s at %s a day take %s: %s too little", [
			person.name,
			lib.kcal(have),
			lib.hours(input.household.plan_min),
			lib.kcal(each),
			_over_plan(each),
			lib.energy(short),
		]),
	}
}

# Food that is eaten as it is.
_ready := [food | some food in input.foods; not food.cook]
