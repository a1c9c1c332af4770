package rules.base.endurance

import data.lib

# METADATA
# title: Water lasts to the end of the plan
# description: >-
#   Hour by hour over the plan, what everyone drinks at rest, walking and in the heat is taken from the containers, which
#   are filled from the sources on the way and at its end as far as containers and treatment keep up. A household that
#   runs dry stops walking. Water counts as safe only if bacteria, viruses, Giardia and Cryptosporidium are all cleared
#   from it; after a flood or a quake no tap is safe untreated, and after a fire no treatment makes one safe. If the plan
#   names no water and no way, a first day without enough is left to water/start-litres, and later days are a warning: the
#   household may know of water that is not recorded.
# custom:
#   level: error
#   remedy: >-
#     Carry more at the start, record water sources you know of, add a container, or shorten the plan; kitmuster forecast
#     shows the hours. If the treatment leaves germs in the water, add one that clears just those, or one that boils:
#     chlorine beside a filter, or a filter beside tablets, never a second of the same kind.
#   mend: {work: add, get: "water, or a way to treat it"}
#   sources:
#     - "Institute of Medicine, Dietary Reference Intakes for Water, 2005 (NAP 10925), and the US Army's work, rest and fluid table (after TB MED 507, year not seen); seen in copies of their own pages"
#     - "That it must last to the end: common practice, no source"
#   limits: [endurance.water_share, water.unread]
#   caution: >-
#     The forecast uses averages of healthy people and is not medical advice. Heat and illness raise the need. Never ration
#     water for a child or anyone unwell, and never drink more than the caps of the table. If you boil tap water after a
#     fire, you inhale what is in it.
#   passes: |
#     plan: {duration: "24 h", waterSources: tap: quality: "tap"}
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", container: capacity: "2 L", water: "2 L"}
#   fails: |
#     plan: {duration: "24 h", legs: one: {order: 1, distance: "1 km"}}
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", container: capacity: "1 L", water: "1 L"}
finding.water contains f if {
	not _first_day
	some stock in _stocks("water")
	short := lib.lacking(stock.need - stock.short, stock.need, lib.limit("endurance", "water_share"))
	bare := {
		"at": _dry_at(stock),
		"because": [p.id | some p in _passed],
		"text": sprintf("water runs out %s of %s: %s of the %s needed is missing, %s in that hour, because %s", [
			_after_hours(stock.lasts),
			_plan,
			_water(short),
			_water(stock.need),
			_water(stock.first_short),
			_why,
		]),
		"level": _dry_level,
	}
	f := _unless_unread_water(bare, short)
}

# Where treatment that is not recorded may clear enough, or containers that are not may hold what is missing; where these are too few, that
# is said.
_unless_unread_water(f, short) := lib.maybe(f, things) if {
	input.endurance.water_limit == "treatment"
	things := lib.unrecorded(lib.anybody, "treat-water")
	things != []
} else := lib.maybe(f, _may_hold) if {
	lib.pieces(_may_hold) * lib.limit("water", "unread") >= short
} else := object.union(f, {"text": sprintf("%s; what %s is not recorded", [f.text, _hold(_may_hold)])}) if {
	_may_hold != []
} else := f

_may_hold := array.concat(lib.unrecorded(lib.anybody, "water"), lib.unrecorded(lib.anybody, "container"))

_hold(things) := sprintf("%s holds", [lib.some_names(things)]) if count(things) == 1

_hold(things) := sprintf("%s hold", [lib.some_names(things)]) if count(things) > 1

# water/start-litres speaks of it.
_first_day if {
	not input.plan.water_named
	input.household.supply.water_ml < input.household.need_ml
}

_dry_level := "error" if input.plan.water_named

_dry_level := "warning" if not input.plan.water_named

# The source that nothing packed makes safe; else the walk of the hour in which water runs out; else a source that gives nothing to drink; else the plan.
_dry_at(_) := _passed[0].id if _passed != []

_dry_at(stock) := array.concat(_on_foot(stock.lasts), array.concat([s.id | some s in input.plan.water_sources; s.quality == "foul"], [stock.id]))[0] if _passed == []

_on_foot(hour) := [l.id | some l in input.plan.legs; l.begin_hour >= 0; l.begin_hour <= hour; _open_at(l, hour)]

_open_at(leg, hour) if leg.end_hour >= hour

_open_at(leg, _) if not leg.arrives

_why := "no treatment makes water on the way safe after an industrial accident" if {
	_waters != []
	"industrial" in input.plan.hazards
} else := "after a fire no treatment makes a tap safe, and the plan names no other water" if {
	_waters != []
	every s in _waters { s.written == "tap"; s.quality == "foul"}
} else := "the plan names no drinkable water on the way" if {
	not input.plan.destination.water
	every s in input.plan.water_sources { s.quality == "foul" }
} else := concat("; ", array.concat(_small, [sprintf("nothing packed clears %s from %s", [lib.and_list(p.leaves), _source(p)]) | some p in _passed])) if {
	_passed != []
} else := {
	"sources": "the sources on the way do not give enough",
	"vessels": "the containers do not hold enough to reach the next water",
	"treatment": "the treatment packed does not clear enough in time",
	"vessels and treatment": "neither containers nor treatment keep up",
}[input.endurance.water_limit]

_waters := [s | some s in input.plan.water_sources; s.written != "foul"]

# A tap that is not safe after a danger says so.
_source(p) := sprintf("%s, a tap that is not safe after a %s", [p.name, _broken]) if _unsafe_tap(p.id)

_source(p) := p.name if not _unsafe_tap(p.id)

_unsafe_tap(id) if {
	some s in input.plan.water_sources
	s.id == id
	s.written == "tap"
}

_broken := concat(" or ", [h | some h in ["flood", "quake", "tsunami"]; h in input.plan.hazards])

# Water left behind, where a better treatment would help.
_passed := [p | input.endurance.water_limit in {"treatment", "vessels and treatment"}; some p in input.endurance.passed]

_small := ["the containers do not hold enough to reach the next water" | input.endurance.water_limit == "vessels and treatment"]

_after_hours(0) := "in the first hour"

_after_hours(n) := sprintf("after %d h", [n]) if n > 0

# METADATA
# title: Food covers the energy that the plan takes
# description: >-
#   Hour by hour over the plan, the food packed is compared with a day's energy by age and sex, with pregnancy and nursing,
#   walking under the load and the cold. A healthy adult can stand a few lean days, so a part may be missing; less than
#   half is an error. Food past its date counts, is eaten last and is named apart. food/infants judges the food of infants,
#   animals/food that of animals; if all that is missing stays raw, food/cook-fuel says so, and food/can-opener if it is
#   in cans that nothing opens. A standard may also require an amount for each person.
# custom:
#   level: error
#   remedy: >-
#     Add food with more energy for its weight, or make loads lighter and walks shorter. If food stays raw, add fuel for a
#     stove that is packed, or food that needs no cooking. If it belongs to one person, add some for the others.
#   mend: {work: add, thing: food, get: food}
#   sources:
#     - "UNHCR/WFP, Guidelines for Estimating Food and Nutritional Needs, 1997, Annex I: a day's energy by age and sex, pregnancy and nursing; seen in a copy of its own pages"
#     - "Pandolf 1977 walking; seen second-hand"
#     - "The shares: common practice, no source"
#   limits: [endurance.energy_share, endurance.energy_error, food.head, data.energy_density]
#   lack: {what: food energy, unit: j}
#   caution: >-
#     Children, pregnant and nursing women and people who are unwell must not go short of food; ask a licensed
#     practitioner. The forecast uses averages of healthy people.
#   passes: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: energy: "2300 kcal"}
#   fails: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "300 g", food: energy: "1200 kcal"}
finding.energy contains f if {
	some stock in _stocks("energy")
	stock.body == ""
	eaten := stock.need - stock.short
	short := lib.lacking(eaten, stock.need, lib.limit("endurance", "energy_share"))
	not lib.raw_hunger
	not lib.shut_hunger
	stays := array.concat(_raw(stock), array.concat(_shut, _for_one(stock)))
	bare := {
		"at": stock.id,
		"because": ["household/need-energy", "household/food-energy"],
		"text": sprintf("%s%s: %s short of %s%s", [
			_eatable(stays),
			_covers(stock, eaten),
			_kcal(short),
			lib.share(lib.limit("endurance", "energy_share")),
			concat("", array.concat(stays, _past(stock))),
		]),
		"lack": short,
		"level": _hungry(eaten, stock.need),
	}
	f := _unless_unread(bare, lib.unrecorded(lib.anybody, "food"), short)
}

# A note where food that is not recorded may make up for what is missing: by its mass, as if it were pure fat.
_unless_unread(f, foods, short) := lib.maybe(f, foods) if {
	ids := {trim_suffix(food.id, "/food") | some food in foods}
	most := lib.limit("data", "energy_density")
	weighed := [i | some i in input.items; i.id in ids]
	_may_fill([i | some i in weighed; not i.mass_known], sum([j | some i in weighed; j := most * i.mass_mg]), short)
} else := object.union(f, {"text": sprintf("%s; the energy of %s is not recorded", [f.text, lib.some_names(foods)])}) if {
	foods != []
} else := f

_may_fill(unweighed, _, _) if unweighed != []

_may_fill(_, most, short) if most >= short * 1000

# What a standard asks a head, where each person's own need is covered.
finding.energy contains f if {
	head := lib.limit("food", "head")
	some stock in _stocks("energy")
	stock.body == ""
	not lib.lacking(stock.need - stock.short, stock.need, lib.limit("endurance", "energy_share"))
	house := input.household
	need := lib.up((head * house.people_count) * input.endurance.minutes, lib.day_min)
	short := need - house.supply.food_energy_j
	short > 0
	f := {
		"at": stock.id,
		"because": ["household/food-energy"],
		"text": sprintf("the food holds %s; the standard requires %s a day for each person, whatever the age, which is %s for %s over %s: %s short", [
			lib.kcal(house.supply.food_energy_j),
			lib.kcal(head),
			lib.kcal(need),
			lib.people(house.people_count),
			_plan,
			_kcal(short),
		]),
		"lack": short,
		"level": "warning",
	}
}

_hungry(eaten, need) := "error" if lib.lacking(eaten, need, lib.limit("endurance", "energy_error"))

_hungry(eaten, need) := "warning" if not lib.lacking(eaten, need, lib.limit("endurance", "energy_error"))

_covers(stock, _) := sprintf("no food is recorded, and the plan takes %s", [lib.kcal(stock.need)]) if stock.have == 0

_covers(stock, eaten) := sprintf("the food covers %s of the %s that the plan takes (%s) and runs out %s of %s", [
	lib.kcal(eaten),
	lib.kcal(stock.need),
	lib.percent_down(eaten, stock.need),
	_after_hours(stock.lasts),
	_plan,
]) if {
	stock.have > 0
}

_past(stock) := [sprintf("; %s of it is past its date, and without that it lasts %d h", [_kcal(stock.past_j), stock.lasts_good]) | stock.past_j > 0]

_eatable([]) := ""

_eatable(stays) := "of what can be eaten, " if stays != []

_kcal(j) := lib.kcal(j) if lib.kcal(j) != "0 kcal"

_kcal(j) := "less than 1 kcal" if lib.kcal(j) == "0 kcal"

_raw(stock) := [sprintf("; %s more cannot be cooked, as there is no fuel left or no stove that burns it", [_kcal(stock.raw_j)]) | stock.raw_j > 0]

_shut := [sprintf("; %s more is in cans that nothing opens", [_kcal(lib.shut_j)]) | lib.shut_j > 0]

_for_one(stock) := [sprintf("; %s more is for %s alone", [_kcal(one.j), one.name]) | some one in stock.for_one]

# METADATA
# title: Food replaces the salt of days of sweat
# description: >-
#   Much water without salt makes walkers weak and can be dangerous. What the food and the rehydration salts hold is
#   compared with everyone's daily intake by age and the sweat of the walks in the heat of their hours; food without a
#   recorded figure counts as none. Infants are left out, and so is the need of people who were told to eat little salt.
#   Judged if the season's days are hot, someone walks for long, and there is food.
# custom:
#   level: note
#   remedy: Record the sodium of food that has no figure, or add salted food or rehydration salts, as firstAid or as food with their sodium.
#   mend: {work: write}
#   sources:
#     - "NASEM, Dietary Reference Intakes for Sodium and Potassium, 2019 (NAP 25353); seen second-hand"
#     - "Del Coso et al. 2016, J Int Soc Sports Nutr 13:31, Table 2; own page"
#     - "That the food must hold all of it, and on which days: common practice, no source"
#   limits: [endurance.sodium_share, endurance.sodium_day, endurance.sodium_foot_min]
#   caution: >-
#     If you have been told to eat little salt (heart, kidney, blood pressure), follow your licensed practitioner, not
#     this sum. Use rehydration salts from packets only.
#   passes: |
#     plan: {duration: "24 h", season: "hot", seasons: hot: {day: "30 °C", night: "18 °C", daylight: "15 h"}, legs: one: {order: 1, distance: "8 km"}}
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2300 kcal", sodium: "4000 mg"}}
#   fails: |
#     plan: {duration: "24 h", season: "hot", seasons: hot: {day: "30 °C", night: "18 °C", daylight: "15 h"}, legs: one: {order: 1, distance: "8 km"}}
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2300 kcal", sodium: "900 mg"}}
finding.sodium contains f if {
	input.plan.season_known
	input.plan.day_mc >= lib.limit("endurance", "sodium_day")
	max([b.walk_min | some b in input.endurance.bodies]) > lib.limit("endurance", "sodium_foot_min")
	some food in _stocks("energy")
	food.body == ""
	food.have > 0
	some stock in _stocks("sodium")
	short := lib.lacking(stock.have, stock.need, lib.limit("endurance", "sodium_share"))
	f := {
		"at": stock.id,
		"text": sprintf("food and rehydration salts hold %s%d mg of sodium, and the plan takes %d mg for everyone together, sweat included: %d mg short%s", [
			_or_more(stock.unwritten),
			stock.have,
			stock.need,
			short,
			_unwritten(stock.unwritten),
		]),
	}
}

_or_more(0) := ""

_or_more(n) := "at least " if n > 0

_unwritten(0) := ""

_unwritten(1) := "; 1 food has no sodium recorded and counts as none"

_unwritten(n) := sprintf("; %d foods have no sodium recorded and count as none", [n]) if n > 1

# METADATA
# title: Lamps last through the dark hours of the plan
# description: >-
#   Everyone with a pack walks by their own light in the dark, and in camp one lamp burns for half of the dark time awake.
#   All lamps of the household with their spare batteries are one supply; on freezing nights alkaline and zinc-carbon
#   batteries give half their hours. Silent if the hours of some lamp are not recorded, or if nobody has a light at all:
#   light/each-pack says that.
# custom:
#   level: warning
#   remedy: Add spare batteries of the size the lamps take, lithium ones for freezing nights, or start by day.
#   mend: {work: add, get: batteries for lamps}
#   sources:
#     - "That it must last to the end: common practice, no source"
#     - "Alkaline batteries run about half the time between -20 and 0 °C: a maker's page; year not seen; seen second-hand"
#   limits: [endurance.light_share, light.means, light.walk_means, people.bag_months, people.call_months]
#   caution: In the cold keep spare batteries on the body. Keep button cells away from children.
#   passes: |
#     plan: {duration: "24 h", season: "flood", seasons: flood: {day: "14 °C", night: "6 °C", daylight: "10 h"}}
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3, runTime: "5 h"}}
#   fails: |
#     plan: {duration: "24 h", season: "flood", seasons: flood: {day: "14 °C", night: "6 °C", daylight: "10 h"}}
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3, runTime: "2 h"}}
finding.light contains f if {
	some stock in _stocks("light")
	short := lib.lacking(stock.need - stock.short, stock.need, lib.limit("endurance", "light_share"))
	_somebody_has_light
	bare := {
		"at": array.concat(_weak_in_frost, array.concat(_first_out, [stock.id]))[0],
		"text": sprintf("light runs out %s of %s; the lamps run %s and the dark hours take %s: %s short", [
			_after_hours(stock.lasts),
			_plan,
			_time(stock.have),
			_time(stock.need),
			_time(short),
		]),
	}
	f := lib.lack_any(bare, array.concat(lib.unrecorded_means(lib.anybody, "light", lib.limit("light", "walk_means")), lib.unrecorded(lib.anybody, "cells")))
}

# Batteries of the lamps that give half their hours on a night of frost.
_weak_in_frost := [c.id |
	input.plan.season_known
	input.plan.night_mc < 0
	some c in input.cells
	c.chemistry in {"alkaline", "zinc-carbon"}
	some d in input.devices
	d.light
	d.size == c.size
]

# The lamp that ends first.
_first_out := [x[1] | some x in sort([[d.run_total_min, d.id] | some d in input.devices; d.light; d.run_known])]

# If only that of a phone. Children below the age are asked for none.
_somebody_has_light if {
	months := lib.limit("people", "call_months")
	walk_by := lib.limit("light", "walk_means")
	lights := [o | some o in lib.offers("light"); o.means in walk_by]
	some person in input.people
	lib.at_least(person, months)
	not lib.lacks_own(person, lights, months, lib.limit("light", "means"))
}

_somebody_has_light if {
	some person in input.people
	"phone" in lib.at_hand(person, "communicate")
}

# METADATA
# title: No load exceeds the cap along the way
# description: >-
#   A pack that is right at the door can be too heavy once its bottles are filled on the way. The heaviest load on the way
#   is compared with the carrier's cap; a load that is too heavy at the start is left to the rules on load. For adults in
#   good health it is a note.
# custom:
#   level: warning
#   remedy: Fill the containers of the person with room, use a source nearer to where the water is drunk, or lighten the pack.
#   mend: {work: move}
#   sources:
#     - "The caps: as of load.adult_cap, load.elder_cap, load.child_cap, load.animal_cap and load.unfit_cap"
#   limits: [load.adult_cap, load.elder_months, load.elder_cap, load.child_cap, load.animal_cap, load.unfit, load.unfit_cap, load.pregnant_cap, load.pregnant_late_cap, load.pregnant_late_days]
#   caution: >-
#     A share of body weight says nothing about an illness, a child's back or an injury. In the heat, never leave water
#     behind to stay under the cap; ask a licensed practitioner if in doubt.
#   passes: |
#     plan: {
#     	duration: "24 h"
#     	legs: {one: {order: 1, distance: "1 km"}, two: {order: 2, distance: "20 km"}}
#     	waterSources: tap: {quality: "tap", leg: "one"}
#     }
#     packs: rust: compartments: lid: items: bag: {mass: "100 g", container: capacity: "4 L"}
#   fails: |
#     plan: {
#     	duration: "24 h"
#     	legs: {one: {order: 1, distance: "1 km"}, two: {order: 2, distance: "20 km"}}
#     	waterSources: tap: {quality: "tap", leg: "one"}
#     }
#     packs: rust: compartments: lid: items: {bag: {mass: "100 g", container: capacity: "4 L"}, stores: mass: "8 kg"}
finding.load_share contains f if {
	some carrier in input.carriers
	cap := lib.load_cap(carrier)
	not lib.beyond(carrier.foot_ug, carrier.body_mass_ug, cap)
	some body in input.endurance.bodies
	body.id == carrier.id
	over := lib.beyond(body.most_mg * 1000, carrier.body_mass_ug, cap)
	bare := {
		"at": _filled(carrier),
		"because": [carrier.load_id],
		"text": sprintf("%s starts with %s%s and carries %s in hour %d of the plan, with water collected on the way, %s of body weight; the cap is %s: over by %s%s", [
			carrier.name,
			_least(carrier),
			lib.kg(carrier.foot_mg),
			lib.kg(body.most_mg),
			body.most_hour,
			lib.percent_up(body.most_mg, carrier.body_mass_mg),
			lib.share(cap),
			lib.mass(lib.up(over, 1000)),
			lib.room(carrier),
		]),
		"level": _load_level(carrier),
	}
	f := lib.on_body(carrier, bare)
}

# If some mass is not recorded, the load is more than the sum.
_least(carrier) := "" if carrier.load_known

_least(carrier) := "at least " if not carrier.load_known

# The container with most room for what is collected; the load where there is none.
_filled(carrier) := max(empty)[1] if {
	empty := {[v.capacity_ml - v.water_ml, v.id] | some v in input.vessels; v.carrier == carrier.id; v.pack != ""}
} else := carrier.load_id

_load_level(carrier) := "note" if {
	carrier.adult
	carrier.kind == "person"
	lib.standard_cap(carrier) == lib.limit("load", "adult_cap")
} else := "warning"

# METADATA
# title: The route is finished before the plan ends
# description: >-
#   At its pace, with a rest each hour, halts between the legs and nights, every leg is finished before the plan ends. Food
#   and water are counted to the end of the plan only.
# custom:
#   level: warning
#   remedy: Shorten the route, plan for more hours, or start earlier in the day.
#   mend: {work: decide}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     plan: {duration: "24 h", legs: one: {order: 1, distance: "10 km"}}
#   fails: |
#     plan: {duration: "24 h", legs: one: {order: 1, distance: "90 km"}}
finding.route contains f if {
	open := [l | some l in input.plan.legs; not l.arrives]
	first := open[0]
	f := {
		"at": first.id,
		"text": sprintf("when the plan of %s ends, this leg%s%s", [_plan, _begun(first.begin_hour), _after(count(open) - 1)]),
	}
}

_after(0) := ""

_after(n) := sprintf(", and %s", [lib.many(n, "more leg follows", "more legs follow")]) if n > 0

_begun(hour) := " has not begun" if hour < 0

_begun(hour) := sprintf(", begun in hour %d, is not finished", [hour]) if hour >= 0

# METADATA
# title: No day's walk is too long for the weakest walker
# description: >-
#   Tired people stumble, and those who walk all day with a load cannot do it again tomorrow. The day of the plan with most
#   time on foot counts, rests aside. Children and old people walk for less time; if none of them walks it is a note.
# custom:
#   level: warning
#   remedy: Spread the route over more days, plan a shorter one, or go part of it by vehicle.
#   mend: {work: decide}
#   sources:
#     - "common practice, no source"
#   limits: [endurance.walk_min, endurance.walk_min_small, endurance.small_months, endurance.walk_min_young, endurance.young_months, endurance.walk_min_old, load.elder_months]
#   caution: Children, old people and people who are unwell walk less; go by the slowest, and stop early.
#   passes: |
#     plan: {duration: "24 h", legs: one: {order: 1, distance: "20 km"}}
#   fails: |
#     plan: {duration: "24 h", legs: one: {order: 1, distance: "45 km"}}
finding.long_day contains f if {
	longest := max([d.walk_min | some d in input.endurance.days])
	most := min({lib.limit("endurance", "walk_min")} | {w.most | some w in _weaker})
	over := longest - most
	over > 0
	days := [d | some d in input.endurance.days; d.walk_min == longest]
	f := {
		"at": days[0].id,
		"because": [w.id | some w in _weaker; w.most == most],
		"text": sprintf("day %d of the plan has %s of walking; the most %sis %s: over by %s", [
			days[0].day,
			_time(longest),
			_weakest(most),
			_time(most),
			_time(over),
		]),
		"level": _day_level,
	}
}

_day_level := "note" if _weaker == []

_day_level := "warning" if _weaker != []

_weakest(most) := sprintf("for %s ", [lib.and_list(names)]) if {
	names := [w.name | some w in _weaker; w.most == most]
	names != []
} else := ""

# Walkers who walk for less time than others, with the minutes of a day.
_weaker := [{"id": p.id, "name": p.name, "most": most} |
	some p in input.people
	p.age_known
	some body in input.endurance.bodies
	body.id == p.id
	body.walk_min > 0
	most := _walk_min(p.age_months)
]

_walk_min(months) := lib.limit("endurance", "walk_min_small") if {
	months < lib.limit("endurance", "small_months")
} else := lib.limit("endurance", "walk_min_young") if {
	months < lib.limit("endurance", "young_months")
} else := lib.limit("endurance", "walk_min_old") if {
	months >= lib.limit("load", "elder_months")
}

# METADATA
# title: Nobody walks in the worst heat
# description: >-
#   The US Army's table of heat categories calls for long rests and much water when heat and humidity are worst, and it is made
#   for fit soldiers who are used to the heat. Children, older, pregnant, nursing and unwell people stand it less well, and
#   so does everyone who is not recorded as acclimatised: most heat deaths fall in the first days. Judged for the hours
#   walked, if more than a short way is walked; air hotter than the heat index covers is too hot whatever its category. A
#   walk in the hottest hours of a hot day is a warning for anyone.
# custom:
#   level: error
#   remedy: Start early in the morning or in the evening, walk by shade, and plan longer halts.
#   mend: {work: decide}
#   sources:
#     - "US Army, work, rest and fluid table (after TB MED 507, year not seen): category 4 is red; seen in a copy of its own page"
#     - "US National Weather Service, chart of the heat index, which ends at air of 110 °F (43.3 °C); 78 of its 135 cells seen on its own page, the highest prints 136 °F (57.8 °C)"
#     - "Getting used to heat takes 7 to 14 days (NIOSH 2014, own poster); almost half of workers' deaths fall on the first day (OSHA, own page)"
#     - "Air above about 35 °C, the warmth of the skin, no longer cools; go out in the morning and the evening: CDC on extreme heat, from memory"
#     - "From which category whom, and which hours are the hottest: common practice, no source"
#   limits: [endurance.heat_category, endurance.heat_others, endurance.heat_carried, endurance.heat_error, endurance.heat_foot_min, endurance.heat_day, endurance.heat_hours, endurance.old_months, load.unfit, people.walk_months]
#   caution: >-
#     Confusion, hot skin or a collapse in the heat is an emergency: cool the person and call for
#     help. Never cover a pram with a dry cloth.
#   passes: |
#     plan: {duration: "24 h", season: "hot", seasons: hot: {day: "26 °C", night: "16 °C", daylight: "15 h", humidity: "40 %"}, legs: one: {order: 1, distance: "20 km"}}
#   fails: |
#     plan: {duration: "24 h", season: "hot", seasons: hot: {day: "39 °C", night: "26 °C", daylight: "15 h", humidity: "50 %"}, legs: one: {order: 1, distance: "20 km"}}
finding.heat contains f if {
	_walks_far
	worst := input.endurance.heat_category
	from := min({_stands_heat(p) | some p in input.people})
	worst >= from
	f := {
		"at": _hot_at,
		"because": _legs,
		"text": sprintf("from hour %d of the plan people walk in heat category %d of the five of the work-rest table; %s category %d%s", [
			input.endurance.heat_hour,
			worst,
			_hottest(from),
			from - 1,
			_beyond,
		]),
		"level": _heat_level(worst),
	}
}

finding.heat contains f if {
	input.endurance.heat_beyond
	_walks_far
	input.endurance.heat_category < min({_stands_heat(p) | some p in input.people})
	f := {
		"at": _hot_at,
		"because": _legs,
		"text": sprintf("people walk in heat category %d of the five of the work-rest table%s", [input.endurance.heat_category, _beyond]),
	}
}

# Not in the worst heat, but in the hottest hours of a hot day, as another start would not.
finding.heat contains f if {
	_walks_far
	not input.endurance.heat_beyond
	input.endurance.heat_category < min({_stands_heat(p) | some p in input.people})
	input.plan.day_mc >= lib.limit("endurance", "heat_day")
	input.endurance.walk_mc >= input.plan.day_mc - lib.limit("endurance", "heat_hours")
	f := {
		"at": array.concat(_on_foot(input.endurance.hottest_hour), [input.endurance.id])[0],
		"because": _legs,
		"level": "warning",
		"text": sprintf("people walk in the hottest hours of a hot day: in hour %d of the plan the air is %s, and the day reaches %s", [
			input.endurance.hottest_hour,
			lib.celsius(input.endurance.walk_mc),
			lib.celsius(input.plan.day_mc),
		]),
	}
}

_walks_far if sum([l.on_foot_min | some l in input.plan.legs]) > lib.limit("endurance", "heat_foot_min")

# The category from which a walk is too hot for a person.
_stands_heat(p) := min([_own_heat(p), _with_infant(p)])

_own_heat(p) := lib.limit("endurance", "heat_category") if _strong(p)

_own_heat(p) := lib.limit("endurance", "heat_others") if not _strong(p)

_with_infant(p) := lib.limit("endurance", "heat_carried") if _bears_infant(p)

_with_infant(p) := lib.limit("endurance", "heat_category") if not _bears_infant(p)

_bears_infant(p) if {
	some child in input.people
	child.carried_by == p.id
	lib.younger(child, lib.limit("people", "walk_months"))
}

_strong(p) if {
	p.acclimatised
	p.adult
	lib.younger(p, lib.limit("endurance", "old_months"))
	not p.fitness in lib.limit("load", "unfit")
	not p.pregnant
	p.nursing == []
}

_hottest(from) := "the hottest for people who are used to it is" if from == lib.limit("endurance", "heat_category")

_hottest(from) := "with an infant carried, the hottest is" if from == lib.limit("endurance", "heat_carried")

_hottest(from) := sprintf("the hottest for %s is", [lib.and_list([p.name | some p in input.people; not _strong(p)])]) if from == lib.limit("endurance", "heat_others")

_heat_level(worst) := "error" if worst >= lib.limit("endurance", "heat_error")

_heat_level(worst) := _beyond_level if worst < lib.limit("endurance", "heat_error")

_beyond_level := "error" if input.endurance.heat_beyond

_beyond_level := "warning" if not input.endurance.heat_beyond

# The walk of the first hour that is too hot.
_hot_at := array.concat(_on_foot(input.endurance.heat_hour), [input.endurance.id])[0]

_legs := [leg.id | some leg in input.plan.legs]

_beyond := sprintf("; hour %d is hotter than the heat index covers: do not walk in it", [input.endurance.hottest_hour]) if input.endurance.heat_beyond

_beyond := "" if not input.endurance.heat_beyond

# METADATA
# title: Wind chill stays above the frostbite limit
# description: >-
#   Wind takes warmth from bare skin, and below some wind chill skin freezes within half an hour. The coldest hour of the
#   plan counts, by the season's night and its wind. Silent if there are warm gloves for everyone and a windproof jacket
#   or poncho for everyone who walks, or if that hour is spent in a house or a shelter.
# custom:
#   level: warning
#   remedy: Pack mittens, a jacket that keeps the wind off and face cover for everyone, and plan to be in shelter in the coldest hours.
#   mend: {work: add, get: warm clothing}
#   sources:
#     - "US National Weather Service, wind chill of 2001: 0 °F and 15 mph give -19 °F, which is -28 °C, and skin freezes in 30 minutes; seen second-hand"
#     - "What answers it: common practice, no source"
#   limits: [endurance.chill_mc, endurance.wind_cover, people.walk_months]
#   caution: Numb white skin is frostbite; warm it gently, do not rub, and get help. Shivering that stops is an emergency.
#   passes: |
#     plan: {duration: "24 h", season: "cold", seasons: cold: {day: "-2 °C", night: "-12 °C", daylight: "8 h", wind: "20 km/h"}}
#   fails: |
#     plan: {duration: "24 h", season: "cold", seasons: cold: {day: "-12 °C", night: "-22 °C", daylight: "8 h", wind: "30 km/h"}}
finding.cold contains f if {
	most := lib.limit("endurance", "chill_mc")
	input.endurance.chill_known
	input.endurance.chill_mc <= most
	not _indoors
	bare := array.concat(
		_short("pairs of warm gloves needed", _pairs, count(input.people)),
		_short("windproof jackets or ponchos needed", _covers_wind, count([p | some p in input.people; lib.walks(p)])),
	)
	bare != []
	f := {
		"at": sprintf("plan/seasons/%s", [input.plan.season]),
		"text": sprintf("in hour %d of the plan the wind chill is %s, and bare skin freezes at %s or below; the household has %s", [
			input.endurance.chill_hour,
			lib.celsius(input.endurance.chill_mc),
			lib.celsius(most),
			lib.and_list(bare),
		]),
	}
}

_short(what, have, need) := [sprintf("%s of the %d %s", [_or_none(have), need, what]) | have < need]

_or_none(0) := "none"

_or_none(n) := sprintf("%d", [n]) if n > 0

_pairs := sum([g.count | some g in input.insulation; g.kind == "gloves"]) + lib.pieces([o | some o in lib.offers("gloves"); o.means == "warm"; not o.id in _as_insulation])

# A pair that is written as insulation and as gloves counts once.
_as_insulation := {g.id | some g in input.insulation; g.kind == "gloves"}

_covers_wind := lib.pieces([o | some o in lib.offers("rain"); o.means in lib.limit("endurance", "wind_cover")])

_indoors if {
	input.plan.destination.kind in {"house", "shelter"}
	every leg in input.plan.legs {
		leg.arrives
		leg.end_hour < input.endurance.chill_hour
	}
}

_plan := _time(input.endurance.minutes)

# Minutes as hours and minutes, without a part that is none.
_time(min) := trim_prefix(lib.hours(min), "0 h ")

# Water as kitmuster forecast has it: in millilitres below one litre.
_water(ml) := sprintf("%d ml", [ml]) if startswith(lib.litres(ml), "0")

_water(ml) := lib.litres(ml) if not startswith(lib.litres(ml), "0")

_stocks(kind) := [s | some s in input.endurance.stocks; s.kind == kind]
