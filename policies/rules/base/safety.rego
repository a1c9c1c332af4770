package rules.base.safety

import data.lib

# METADATA
# title: Fuel away from food
# description: >-
#   A leaking bottle or a crumbled tablet spoils the food around it, and nobody tastes for
#   fuel while fleeing. Liquid fuels and hexamine are asked to lie in another compartment than
#   food, animals' food too. Gas in its cartridge leaves nothing behind and wood does no harm,
#   so neither is asked; nor is what is worn or pocketed.
# custom:
#   level: warning
#   remedy: Move the fuel to a compartment without food, upright and in a bag of its own.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: [safety.fuels_apart]
#   caution: Throw away food that smells or tastes of fuel. Follow the label of the fuel; where somebody has swallowed some, call a poison centre.
#   passes: |
#     packs: rust: compartments: {
#     	lid: items: bars: {mass: "500 g", food: energy: "2100 kcal"}
#     	outer: {reach: "halted", items: spirit: {mass: "250 g", fuel: {kind: "ethanol", mass: "200 g"}}}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: {
#     	bars: {mass: "500 g", food: energy: "2100 kcal"}
#     	spirit: {mass: "250 g", fuel: {kind: "ethanol", mass: "200 g"}}
#     }
finding.fuel_beside_food contains f if {
	kinds := lib.limit("safety", "fuels_apart")
	some fuel in input.fuels
	fuel.kind in kinds
	fuel.compartment != ""
	foods := [food | some food in input.foods; food.compartment == fuel.compartment]
	foods != []
	f := {
		"at": fuel.id,
		"because": [food.id | some food in foods],
		"text": sprintf("%s (%s) shares its compartment with %s", [
			fuel.name,
			fuel.kind,
			lib.many(count(foods), "food", "foods"),
		]),
	}
}

# METADATA
# title: Nobody needs the stove to keep warm
# description: >-
#   Cold sleepers are tempted to heat the shelter with the stove, and carbon monoxide gives no
#   warning. Where there is a stove and the night of the season is cold, each person is asked
#   for something to sleep in that is warm enough by its comfort figure. Without a figure it
#   is not counted, since nobody knows. Not asked without a season or without a stove.
# custom:
#   level: warning
#   remedy: Add sleeping bags, quilts or blankets good for the night, and write the comfort figure of those that have one.
#   mend: {work: add}
#   sources:
#     - "No stove in a house, vehicle or tent: North Carolina Department of Health and Human Services; year not seen; seen in a copy of its own page"
#     - "Gas stoves run for 15 min in a tent made unsafe carbon monoxide: Thurman et al., Wilderness and Environmental Medicine 34:513, 2023; abstract seen"
#     - "What is a cold night, and one warm thing each: common practice, no source"
#   limits: [safety.cold_night, safety.sleep_kinds]
#   caution: >-
#     Never burn a stove or charcoal in a tent, a house or a vehicle, nor near an open window. The gas has no colour
#     and no smell, and sleepers die before they notice. Headache, dizziness, weakness or nausea:
#     everybody out at once, and call for medical help.
#   passes: |
#     plan: {season: "flood", seasons: flood: {day: "11 °C", night: "4 °C", daylight: "10 h"}}
#     packs: rust: compartments: lid: items: {
#     	stove: {mass: "90 g", stove: burns: ["ethanol"]}
#     	bag: {mass: "1200 g", insulation: {kind: "sleeping-bag", comfort: "2 °C"}}
#     }
#   fails: |
#     plan: {season: "flood", seasons: flood: {day: "11 °C", night: "4 °C", daylight: "10 h"}}
#     packs: rust: compartments: lid: items: {
#     	stove: {mass: "90 g", stove: burns: ["ethanol"]}
#     	bag: {mass: "900 g", insulation: {kind: "sleeping-bag", comfort: "8 °C"}}
#     }
finding.stove_as_heater contains f if {
	input.stoves != []
	input.plan.season_known
	night := input.plan.night_mc
	night <= lib.limit("safety", "cold_night")
	warm := sum([thing.count | some thing in _sleep_in; thing.comfort_known; thing.comfort_mc <= night])
	short := input.household.people_count - warm
	short > 0
	f := {
		"at": input.household.id,
		"because": [stove.id | some stove in input.stoves],
		"text": sprintf("the night is %s and a stove is at hand; %s to sleep in good for it, %d more without a comfort figure, for %s: %d too few", [
			lib.celsius(night),
			lib.many(warm, "thing", "things"),
			sum([thing.count | some thing in _sleep_in; not thing.comfort_known]),
			lib.people(input.household.people_count),
			short,
		]),
	}
}

_sleep_in := [thing | some thing in input.insulation; thing.kind in lib.limit("safety", "sleep_kinds")]

# METADATA
# title: Things to defend oneself
# description: >-
#   What may be carried, by whom and where differs by country, by state and by building, and
#   the pages read disagree among themselves. Each such thing is named so that somebody looks
#   it up; nothing is said of whether it may be carried. The note goes when the thing goes or
#   the family waives it after looking.
# custom:
#   level: note
#   remedy: Check local law for every place on the way, then take it out or waive this note with what you found.
#   mend: {work: decide}
#   sources:
#     - "Rules on blades carried in public (UK): gov.uk, seen second-hand; Wiltshire Police, seen in a copy of its own page; year not seen"
#     - "Limits on sprays by US state: retail pages that disagree among themselves; year not seen; seen second-hand"
#   limits: []
#   caution: Check local law. Things meant to harm are turned on their owner, and are not for a child's pack.
#   passes: |
#     packs: rust: compartments: lid: items: whistle: {mass: "10 g", can: signal: "whistle"}
#   fails: |
#     packs: rust: compartments: lid: items: spray: {mass: "60 g", can: defend: "spray"}
finding.defensive contains f if {
	some offer in lib.offers("defend")
	f := {
		"at": offer.id,
		"text": sprintf("%s (%s) is for defence, which is regulated differently from place to place: check local law", [
			offer.name,
			offer.means,
		]),
	}
}

# METADATA
# title: No fuel and no blade in a child's hands
# description: >-
#   Children up to the age in the limit are asked not to carry fuel, nor the means in the
#   limit, in a pack or on the body. Blunt scissors and a shrill alarm are left to the family.
#   Matches and lighters are left to the rules on fire, which say who keeps them. A child
#   whose age is not written is taken for grown and not asked.
# custom:
#   level: warning
#   remedy: Give these to an adult, or waive this for a child who has practised with an adult beside.
#   mend: {work: move}
#   sources:
#     - "12 years, and what not to carry: common practice, no source"
#   limits: [safety.child_months, safety.child_fuels, safety.not_for_children]
#   caution: Keep fuel closed and out of a child's reach; follow its label. For knives and sprays, check local law.
#   passes: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: kite: {carrier: "mia", mass: "500 g", compartments: lid: {reach: "walking", items: scissors: {mass: "30 g", can: cut: "scissors"}}}
#   fails: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: kite: {carrier: "mia", mass: "500 g", compartments: lid: {reach: "walking", items: knife: {mass: "80 g", can: cut: "knife"}}}
finding.not_for_children contains f if {
	least := lib.limit("safety", "child_months")
	some person in input.people
	person.age_known
	person.age_months < least
	things := _grown_ups_things[person.id]
	f := {
		"at": person.id,
		"because": [thing.id | some thing in things],
		"text": sprintf("%s is %s old and carries %s; %s are asked for that: %s too few", [
			person.name,
			lib.age(person.age_months),
			lib.and_list([thing.name | some thing in things]),
			lib.age(least),
			lib.age(least - person.age_months),
		]),
	}
}

_grown_ups_things[fuel.carrier] contains {"id": fuel.id, "name": fuel.name} if {
	some fuel in input.fuels
	fuel.kind in lib.limit("safety", "child_fuels")
}

_grown_ups_things[offer.carrier] contains {"id": offer.id, "name": offer.name} if {
	some entry in lib.limit("safety", "not_for_children")
	[capability, means] := split(entry, ":")
	some offer in lib.offers(capability)
	offer.means == means
}
