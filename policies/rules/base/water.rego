package rules.base.water

import data.lib

# METADATA
# title: Water purification in each pack
# description: >-
#   Carried water lasts about a day; after that, water found on the way must be made
#   safe, also by whoever is left with one pack. Packs borne by animals are exempt:
#   their water is treated by the people.
# custom:
#   level: error
#   remedy: Add a filter, a purifier or tablets to the pack, or say that an item there boils water.
#   sources:
#     - "CDC, Guide to Drinking Water Treatment and Sanitation for Backcountry & Travel Use (what each method does); year not seen; seen second-hand"
#     - "US National Park Service, Ten Essentials (water and treatment), 2010; seen second-hand"
#     - "One means in each pack: common practice, no source"
#   limits: [water.treat_means]
#   caution: >-
#     No treatment removes fuel, metals or most chemicals, and ordinary filters do not
#     stop viruses. Follow the label for dose, waiting time and who must not use it.
#   passes: |
#     packs: rust: compartments: lid: items: filter: {mass: "90 g", treat: {method: "filter", litres: "500 L"}}
#   fails: |
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", water: "1 L", container: capacity: "1 L"}
finding.purification contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	f := lib.too_few(pack, "treat-water", "water treatment", lib.limit("water", "treat_means"))
}

# METADATA
# title: Water carried at the start
# description: >-
#   The first hours go by without a chance to treat water. All water carried, by people
#   and animals, is set against the people who bear a pack; who bears none is not counted,
#   because the carriers cannot bear a full day's water for everybody.
# custom:
#   level: error
#   remedy: Fill a vessel that is not full, or add a full bottle.
#   sources:
#     - "Get Prepared (Canada), 2 L to drink per person and day, 2007; seen in an archived copy of its own page"
#     - "BBK (Germany), 2 L per person and day as home stock; year not seen; seen second-hand"
#     - "The US gallon (Ready.gov/FEMA, 2022; seen second-hand) covers washing and is a storage figure: three days of it weigh 11.3 kg"
#   limits: [water.start]
#   caution: Heat, illness, pregnancy and nursing raise the need; follow a licensed practitioner where one has set an amount.
#   passes: |
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", water: "2 L", container: capacity: "2 L"}
#   fails: |
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", water: "1 L", container: capacity: "2 L"}
finding.start_litres contains f if {
	each := lib.limit("water", "start")
	bearers := count([p | some p in input.people; p.pack_count > 0])
	short := (each * bearers) - input.household.supply.water_ml
	short > 0
	f := {
		"at": input.household.id,
		"because": ["household/water"],
		"text": sprintf("the household carries %s of water at the start; %s with a pack at %s each make %s: %s too little", [
			lib.litres(input.household.supply.water_ml),
			lib.people(bearers),
			lib.litres(each),
			lib.litres(each * bearers),
			lib.litres(short),
		]),
	}
}

# METADATA
# title: Vessels for one day's water
# description: >-
#   Where water is found only once a day, the vessels must hold everybody's day. All
#   vessels count, full or empty, whoever bears them; what animals drink is not in the sum.
# custom:
#   level: warning
#   remedy: Add a light vessel, such as a folding bottle.
#   sources:
#     - "Institute of Medicine, Dietary Reference Intakes for Water, 2005 (NAP 10925): fluids 3.0 L for men, 2.2 L for women; seen in a copy of its own pages"
#     - "Sphere Project, simplified table of basic survival needs, 2011: 2.5 to 3 L, drink and food; seen second-hand"
#   limits: [water.capacity]
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	bottle: {mass: "150 g", container: capacity: "1 L"}
#     	bag: {mass: "40 g", container: capacity: "2 L"}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", container: capacity: "1 L"}
finding.container_capacity contains f if {
	each := lib.limit("water", "capacity")
	people := input.household.people_count
	short := (each * people) - input.household.supply.container_ml
	short > 0
	f := {
		"at": input.household.id,
		"because": ["household/containers"],
		"text": sprintf("the household's vessels hold %s; one day of %s at %s each takes %s: %s too little", [
			lib.litres(input.household.supply.container_ml),
			lib.people(people),
			lib.litres(each),
			lib.litres(each * people),
			lib.litres(short),
		]),
	}
}

# METADATA
# title: A vessel to boil in
# description: >-
#   Boiling is counted as a treatment only by a pack that can do it: a pack with an item
#   that says boil needs a vessel that may be put on a fire. Packs borne by animals are
#   asked too, since the claim is as wrong there.
# custom:
#   level: error
#   remedy: Add a metal pot or cup that may be put on a fire to the pack, or take the boil claim away.
#   sources:
#     - "WHO, Boil water, WHO/FWC/WSH/15.02, 2015 (a rolling boil is enough); seen in copies"
#     - "Vessel in the same pack: common practice, no source"
#   limits: []
#   caution: >-
#     Never heat a closed or plastic bottle. Burn stoves outdoors only, never in a tent, a
#     house or a vehicle: carbon monoxide. Boiling does not remove fuel, metals or most chemicals.
#   passes: |
#     packs: rust: compartments: lid: items: pot: {mass: "180 g", container: {capacity: "1 L", fireSafe: true}, treat: method: "boil"}
#   fails: |
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", container: capacity: "1 L", treat: method: "boil"}
finding.fire_safe_vessel contains f if {
	some pack in input.packs
	pack.supply.fire_safe_ml == 0
	claims := [it | some it in input.treatments; it.method == "boil"; it.pack == pack.id]
	count(claims) > 0
	f := {
		"at": pack.id,
		"because": [it.id | some it in claims],
		"text": sprintf("%s counts on boiling (%s) and has no vessel that may be put on a fire", [
			pack.name,
			lib.and_list([it.name | some it in claims]),
		]),
	}
}
