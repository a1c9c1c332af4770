package rules.base.access

import data.lib

# METADATA
# title: Essentials are within reach while walking
# description: >-
#   Rain, thirst, a cut or dusk come while walking, and anyone who has to unpack falls behind. Each person old
#   enough for a bag can reach the kinds of thing in the limit while walking, as far as they have them: what they lack
#   altogether is left to the rules of that subject. Water is any container with water in it, a snack any food for them
#   that needs no cooking and no can opener. Silent if nobody goes more than a few hundred metres on foot.
# custom:
#   level: note
#   remedy: Move one of each kind named to a pocket, or to a compartment you can reach while walking.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: [access.on_the_move, people.bag_months, load.near_foot_mm]
#   passes: |
#     packs: rust: compartments: {
#     	lid: items: jacket: {mass: "300 g", can: rain: "jacket"}
#     	main: {reach: "halted", items: cover: {mass: "90 g", can: rain: "pack-cover"}}
#     }
#   fails: |
#     packs: rust: compartments: main: {reach: "halted", items: jacket: {mass: "300 g", can: rain: "jacket"}}
finding.on_the_move contains f if {
	not lib.near
	asked := lib.limit("access", "on_the_move")
	some person in input.people
	lib.at_least(person, lib.limit("people", "bag_months"))
	buried := [kind | some kind in asked; _buried(person.id, kind)]
	things := [thing.id | some kind in buried; some thing in _kind(kind); thing.carrier == person.id]
	first := things[0]
	f := {
		"at": first,
		"because": things,
		"text": sprintf("%s has to stop and unpack to reach %s", [
			person.name,
			lib.and_list([object.get(_words, kind, kind) | some kind in buried]),
		]),
	}
}

_buried(who, kind) if {
	reaches := {thing.reach | some thing in _kind(kind); thing.carrier == who}
	reaches == {"halted"}
}

# The things of the household of a kind asked on the move.
_kind("water") := [vessel | some vessel in input.vessels; vessel.water_ml > 0]

_kind("snack") := [food |
	some food in input.foods
	not food.cook
	not food.canned
	food.for in {"", food.carrier}
]

_kind(kind) := lib.offers(kind) if not kind in {"water", "snack"}

_words := {
	"rain": "rain gear",
	"first_aid": "first aid",
	"light": "a light",
	"navigate": "the map or compass",
	"snack": "a snack",
}

# METADATA
# title: Things that work together are packed together
# description: >-
#   A pack may be left, lost or carried off by someone else. A stove has its fuel, and a fire-safe pot or cup, in its
#   own pack. Judged where food must be cooked or water boiled, and only of what the household has: a stove that nobody
#   can use is left to food/cook-fuel. A stove that is worn or pocketed is left out.
# custom:
#   level: note
#   remedy: Pack the stove, its fuel and a pot together; with two stoves, give each a pot.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: Carry fuel closed, upright and away from food. Burn stoves outdoors only, never in a tent, a house or a vehicle (carbon monoxide).
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	noodles: {mass: "100 g", food: {energy: "400 kcal", cookWater: "0.5 L"}}
#     	stove: {mass: "90 g", stove: burns: ["ethanol"]}
#     	spirit: {mass: "250 g", fuel: {kind: "ethanol", mass: "200 g"}}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: {
#     	noodles: {mass: "100 g", food: {energy: "400 kcal", cookWater: "0.5 L"}}
#     	stove: {mass: "90 g", stove: burns: ["ethanol"]}
#     }
#     packs: moss: {
#     	carrier: "ana"
#     	mass:    "1 kg"
#     	compartments: lid: {reach: "walking", items: spirit: {mass: "250 g", fuel: {kind: "ethanol", mass: "200 g"}}}
#     }
finding.used_together contains f if {
	_kitchen
	some stove in input.stoves
	stove.pack != ""
	not _nobodys(stove)
	fuels := [fuel | some fuel in input.fuels; fuel.kind in stove.burns]
	vessels := [vessel | some vessel in input.vessels; vessel.fire_safe]
	apart := array.concat(_apart(stove, "its fuel", fuels), _apart(stove, "a fire-safe pot or cup", vessels))
	apart != []
	f := {
		"at": stove.id,
		"because": [id | some part in apart; some id in part.ids],
		"text": sprintf("%s is packed apart from %s", [
			stove.name,
			lib.and_list([part.text | some part in apart]),
		]),
	}
}

_kitchen if input.household.supply.cook_water_ml > 0

_kitchen if {
	some treatment in input.treatments
	treatment.method == "boil"
}

# A stove that nobody can use.
_nobodys(stove) if {
	some u in input.useless
	u.item == stove.id
	u.household
}

_apart(stove, what, things) := [{
	"ids": [thing.id | some thing in things],
	"text": sprintf("%s (%s)", [what, lib.names(things)]),
} |
	things != []
	here := [thing.id | some thing in things; thing.pack == stove.pack]
	here == []
]
