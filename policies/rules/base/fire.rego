package rules.base.fire

import data.lib

# METADATA
# title: Two means of fire in each pack
# description: >-
#   A lighter that leaks or a wet box of matches must not be the end of warmth,
#   hot food and boiled water. Two things that work the same way fail the same
#   way, so they count once. Packs borne by animals are not asked: an animal
#   cannot be counted on to stay.
# custom:
#   level: error
#   remedy: Add one thing that makes fire in another way, such as matches beside a gas lighter.
#   mend: {work: add, thing: fire}
#   sources:
#     - "Two different means: common practice, no source"
#     - "US National Park Service, Ten Essentials (matches, lighter, starters), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#   limits: [fire.means]
#   lack: {what: means of fire, unit: count}
#   caution: >-
#     Keep fire-making things out of a young child's reach; in a child's pack they are
#     for the adult alongside. Follow the maker's label and local fire rules.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	lighter: {mass: "20 g", can: fire: "gas-lighter"}
#     	matches: {mass: "15 g", can: fire: "matches"}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: {
#     	lighter: {mass: "20 g", can: fire: "gas-lighter"}
#     	spare: {mass: "20 g", can: fire: "gas-lighter"}
#     }
finding.two_means contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	f := lib.too_few(pack, "fire", "fire", lib.limit("fire", "means"))
}

# METADATA
# title: Fire that works when all is wet
# description: >-
#   Whoever needs a fire most is soaked, and so is the pack. Of the things for fire in a pack, one
#   must work wet or be packed so that it stays dry. A pack with nothing for fire is left to
#   fire/two-means, and packs borne by animals are not asked.
# custom:
#   level: warning
#   remedy: Put one thing for fire into a waterproof case and mark it or its compartment waterproof, or add a ferro rod.
#   mend: {work: move}
#   sources:
#     - "Ready.gov/FEMA, 2022, and Australian emergency agencies, year not seen: matches that stay dry; seen second-hand"
#     - "A ferro rod works wet: common practice, no source"
#   limits: [fire.wet]
#   caution: >-
#     Keep fire-making things out of a young child's reach. Outdoors only, away from tents; follow the maker's label and local fire rules.
#   passes: |
#     packs: rust: compartments: lid: items: matches: {mass: "24 g", can: fire: "matches", waterproof: true}
#   fails: |
#     packs: rust: compartments: lid: items: matches: {mass: "24 g", can: fire: "matches"}
finding.works_wet contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	have := lib.means(pack.supply, "fire")
	have != []
	wet := lib.limit("fire", "wet")
	[m | some m in have; m in wet] == []
	[o | some o in lib.offers("fire"); o.pack == pack.id; o.waterproof] == []
	f := {
		"at": pack.id,
		"because": lib.items(pack.supply, "fire"),
		"text": sprintf("nothing for fire in %s (%s) works wet or is packed waterproof; 1 such thing is asked: 1 too few", [
			pack.name,
			lib.and_list(have),
		]),
	}
}

# METADATA
# title: Tinder beside the fire
# description: >-
#   A spark or a match lights no wet branch. Each pack that can make fire also holds something
#   dry that catches it. A pack with nothing for fire is left to fire/two-means, and packs
#   borne by animals are not asked.
# custom:
#   level: warning
#   remedy: Add a few grams of tinder, such as waxed cotton, in a bag that keeps it dry.
#   mend: {work: add, thing: tinder}
#   sources:
#     - "US National Park Service, Ten Essentials (matches, lighter, starters), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "In each pack: common practice, no source"
#   limits: []
#   caution: Outdoors only, away from tents and dry grass; follow local fire rules.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	rod: {mass: "31 g", can: fire: "ferro-rod"}
#     	pads: {mass: "26 g", can: tinder: "wax"}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: rod: {mass: "31 g", can: fire: "ferro-rod"}
finding.tinder contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	have := lib.means(pack.supply, "fire")
	have != []
	lib.means(pack.supply, "tinder") == []
	f := {
		"at": pack.id,
		"because": lib.items(pack.supply, "fire"),
		"text": sprintf("%s has fire (%s) and no tinder; 1 means of tinder is asked: 1 too few", [
			pack.name,
			lib.and_list(have),
		]),
	}
}

# METADATA
# title: Fire in more than one place
# description: >-
#   A pocket that is torn, soaked or left behind must not take all the fire with it. The things
#   for fire that a person with a pack has lie in different compartments, or some of them on
#   the body. Whoever has nothing for fire is left to fire/two-means, and what is borne by animals
#   counts to nobody.
# custom:
#   level: note
#   remedy: Move one of the things for fire to another compartment or into a pocket.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: [fire.places]
#   caution: Keep fire-making things out of a young child's reach; follow the maker's label on heat and pressure.
#   passes: |
#     people: ana: onBody: lighter: {mass: "20 g", can: fire: "gas-lighter"}
#     packs: rust: compartments: lid: items: matches: {mass: "15 g", can: fire: "matches"}
#   fails: |
#     packs: rust: compartments: lid: items: {
#     	lighter: {mass: "20 g", can: fire: "gas-lighter"}
#     	matches: {mass: "15 g", can: fire: "matches"}
#     }
finding.spread contains f if {
	asked := lib.limit("fire", "places")
	some person in input.people
	person.pack_count > 0
	have := [o | some o in lib.offers("fire"); o.carrier == person.id]
	have != []

	# What is on a body has no compartment.
	places := {o.compartment | some o in have}
	short := asked - count(places)
	short > 0
	f := {
		"at": person.id,
		"because": [o.id | some o in have],
		"text": sprintf("%s has %s for fire, in %s; %s are asked: %d too few", [
			person.name,
			lib.many(count(have), "thing", "things"),
			lib.many(count(places), "place", "places"),
			lib.many(asked, "place", "places"),
			short,
		]),
	}
}
