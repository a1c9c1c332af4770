package rules.base.safety

import data.lib

# METADATA
# title: Fuel is packed apart from food
# description: >-
#   A leaking bottle or a crumbled tablet spoils the food around it. Liquid fuels and hexamine are in another compartment
#   than food, animals' food too. Gas in its cartridge leaves nothing behind and wood does no harm, so neither is judged;
#   nor is what is worn or pocketed.
# custom:
#   level: warning
#   remedy: Move the fuel to a compartment without food, upright and in a bag of its own.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: [safety.fuels_apart]
#   caution: Throw away food that smells or tastes of fuel. Follow the label of the fuel; if someone has swallowed some, call a poison centre.
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
		"text": sprintf("%s (%s) is in one compartment with %s", [
			fuel.name,
			fuel.kind,
			lib.some_names(foods),
		]),
	}
}

# METADATA
# title: Anything carried for defence is checked against local law
# description: >-
#   What may be carried, by whom and where differs by country, by state and by building, and the pages read disagree. Each
#   such thing is named so that someone looks it up; the note does not say whether it may be carried. It goes away when the
#   thing does, or when the family waives it after looking.
# custom:
#   level: note
#   remedy: Check local law for every place on the way, then take it out or waive this note with what you found.
#   mend: {work: decide}
#   sources:
#     - "Rules on blades carried in public (UK): gov.uk, seen second-hand; Wiltshire Police, seen in a copy of its own page; year not seen"
#     - "Limits on sprays by US state: retail pages that disagree among themselves; year not seen; seen second-hand"
#   limits: []
#   caution: Check local law. A weapon can be turned on its owner, and does not belong in a child's pack.
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
# title: No child carries fire, a blade, fuel or a chemical
# description: >-
#   A child too young to handle them carries none of the fuels and things in the limits, in a pack or on the body. Blunt
#   scissors, a shrill alarm and a water filter are left to the family. A person of unknown age counts as an adult.
# custom:
#   level: warning
#   remedy: Give them to an adult.
#   mend: {work: move}
#   sources:
#     - "The age, and what not to carry: common practice, no source"
#   limits: [people.hand_months, safety.child_fuels, safety.not_for_children]
#   caution: Keep fuel and chemicals closed and out of a child's reach; follow their labels. For knives and sprays, check local law.
#   passes: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: kite: {carrier: "mia", mass: "500 g", compartments: lid: {reach: "walking", items: scissors: {mass: "30 g", can: cut: "scissors"}}}
#   fails: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: kite: {carrier: "mia", mass: "500 g", compartments: lid: {reach: "walking", items: knife: {mass: "80 g", can: cut: "knife"}}}
finding.not_for_children contains f if {
	least := lib.limit("people", "hand_months")
	some person in input.people
	lib.younger(person, least)
	things := _grown_ups_things[person.id]
	ids := [thing.id | some thing in things]
	f := {
		"at": ids[0],
		"because": ids,
		"text": sprintf("%s is %s old and carries %s; the minimum age for that is %s", [
			person.name,
			lib.age(person.age_months),
			lib.names(things),
			lib.age(least),
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
