package rules.base.endurance

import data.lib

# METADATA
# title: Water until the plan ends
# description: >-
#   Hour by hour over the plan: what everybody drinks at rest, walking and in the heat, out of
#   the vessels, with what the sources on the way give as far as vessels and treatment keep up. A
#   household that runs dry stops walking. Water counts as safe only if bacteria, viruses, Giardia and
#   Cryptosporidium are all cleared from it. Asked where somebody bears a pack.
# custom:
#   level: error
#   remedy: >-
#     Carry more at the start, write down the water on the way that you know of, add a vessel, or shorten
#     the plan; kitmuster forecast shows the hours. Where what is carried leaves organisms in the water, add a way that
#     clears just those, or one to boil: chlorine beside a filter, a filter beside tablets, never a second of the same.
#   mend: {work: add}
#   sources:
#     - "Institute of Medicine, Dietary Reference Intakes for Water, 2005 (NAP 10925), and the US Army's work, rest and fluid table (after TB MED 507, year not seen); seen in copies of their own pages"
#     - "That it must last to the end: common practice, no source"
#   limits: [endurance.water_share]
#   caution: >-
#     The forecast is of averages of healthy adults and no medical advice. Heat, illness, pregnancy
#     and nursing raise the need; never ration water for a child or anybody unwell, and never drink more than the
#     caps of the table.
#   passes: |
#     plan: {duration: "24 h", waterSources: tap: quality: "tap"}
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", container: capacity: "1 L", water: "1 L"}
#   fails: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", container: capacity: "1 L", water: "1 L"}
finding.water contains f if {
	some stock in _stocks("water")
	short := lib.lacking(stock.need - stock.short, stock.need, lib.limit("endurance", "water_share"))
	f := {
		"at": stock.id,
		"because": [p.id | some p in _passed],
		"text": sprintf("water runs out %s of %s: %s is lacking in that hour, %s of %s in the whole plan, and %s; on the worst day %s is to be found", [
			_after_hours(stock.lasts),
			_plan,
			_water(stock.first_short),
			_water(short),
			_water(stock.need),
			_why,
			_water(max([d.find_ml | some d in input.endurance.days])),
		]),
	}
}

_why := "the plan names no water on the way that may be drunk" if {
	every s in input.plan.water_sources { s.quality == "foul" }
} else := concat("; ", array.concat(_small, [sprintf("nothing carried clears %s from %s", [lib.and_list(p.leaves), p.name]) | some p in _passed])) if {
	_passed != []
} else := {
	"sources": "the sources on the way do not give it",
	"vessels": "the vessels do not hold enough to the next water",
	"treatment": "the treatment packed does not clear enough in time",
	"vessels and treatment": "neither vessels nor treatment keep up",
}[input.endurance.water_limit]

# Water left behind, where a better treatment would help.
_passed := [p | input.endurance.water_limit in {"treatment", "vessels and treatment"}; some p in input.endurance.passed]

_small := ["the vessels do not hold enough to the next water" | input.endurance.water_limit == "vessels and treatment"]

_after_hours(0) := "in the first hour"

_after_hours(n) := sprintf("after %d h", [n]) if n > 0

# METADATA
# title: Food for what the plan asks of everybody
# description: >-
#   Hour by hour over the plan: resting energy, walking under the load and in the cold, against the
#   food packed. A healthy adult bears a few lean days, so a part may lack. The food of an
#   animal, and of an infant who eats their own, is asked apart. Asked where there is such food.
# custom:
#   level: warning
#   remedy: >-
#     Add food with much energy for its mass, or make the loads lighter and the walks shorter. Where food stays raw, add
#     fuel that a stove packed burns, or food that needs no cooking; where it is one person's only, food for the others.
#   mend: {work: add}
#   sources:
#     - "The share: common practice, no source"
#     - "Schofield 1985 and Mifflin-St Jeor 1990 at rest, Pandolf 1977 walking; seen second-hand"
#   limits: [endurance.energy_share, animals.finds_own]
#   caution: >-
#     Children, pregnant and nursing women and the unwell bear no lean days; ask a licensed
#     practitioner. The forecast is of averages of healthy adults.
#   passes: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: energy: "2300 kcal"}
#   fails: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "300 g", food: energy: "1200 kcal"}
finding.energy contains f if {
	asked := lib.limit("endurance", "energy_share")
	some stock in _stocks("energy")
	stock.have > 0
	not stock.body in _grazing
	eaten := stock.need - stock.short
	short := lib.lacking(eaten, stock.need, asked)
	stays := array.concat(_raw(stock), _for_one(stock))
	f := {
		"at": stock.id,
		"text": sprintf("%s%s is gone %s of %s and covers %s, %s of the %s that the plan asks; %s is asked: %s too little%s", [
			_eatable(stays),
			_whose(stock),
			_after_hours(stock.lasts),
			_plan,
			lib.kcal(eaten),
			lib.percent(eaten, stock.need),
			lib.kcal(stock.need),
			lib.share(asked),
			_kcal(short),
			concat("", stays),
		]),
	}
}

_eatable([]) := ""

_eatable(stays) := "what can be eaten of " if stays != []

_kcal(j) := lib.kcal(j) if lib.kcal(j) != "0 kcal"

_kcal(j) := "less than 1 kcal" if lib.kcal(j) == "0 kcal"

_raw(stock) := [sprintf("; %s more cannot be cooked, as there is no fuel left or no stove that burns it", [_kcal(stock.raw_j)]) | stock.raw_j > 0]

_for_one(stock) := [sprintf("; %s more is for %s alone", [_kcal(one.j), one.name]) | some one in stock.for_one]

_grazing := [a.id | some a in input.animals; a.species in lib.limit("animals", "finds_own")]

_whose(stock) := "the food" if stock.body == ""

_whose(stock) := sprintf("the food of %s", [stock.body_name]) if stock.body != ""

# METADATA
# title: Sodium for what the plan asks of everybody
# description: >-
#   The daily intake of everybody who eats of the common food, and the sweat of the walks at
#   the temperature of their hours, against what all food holds; food of which no figure is
#   written counts nothing. Asked where there is food.
# custom:
#   level: note
#   remedy: Write the sodium of food that has no figure, or add salted food or rehydration salts, written as food with their sodium.
#   mend: {work: write}
#   sources:
#     - "NASEM, Dietary Reference Intakes for Sodium and Potassium, 2019 (NAP 25353); seen second-hand"
#     - "Del Coso et al. 2016, J Int Soc Sports Nutr 13:31, Table 2; own page"
#     - "That the food must hold all of it: common practice, no source"
#   limits: [endurance.sodium_share]
#   caution: >-
#     Whoever has been told to eat little salt (heart, kidney, blood pressure) follows a
#     licensed practitioner, not this sum. Rehydration salts by the packet only.
#   passes: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2300 kcal", sodium: "1600 mg"}}
#   fails: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: {energy: "2300 kcal", sodium: "900 mg"}}
finding.sodium contains f if {
	some food in _stocks("energy")
	food.body == ""
	food.have > 0
	some stock in _stocks("sodium")
	short := lib.lacking(stock.have, stock.need, lib.limit("endurance", "sodium_share"))
	f := {
		"at": stock.id,
		"text": sprintf("all food holds %d mg of sodium; hour by hour the plan asks %d mg of everybody, sweat included: %d mg too little%s", [
			stock.have,
			stock.need,
			short,
			_unwritten(stock.unwritten),
		]),
	}
}

_unwritten(0) := ""

_unwritten(1) := "; 1 food has no sodium written and counts as none"

_unwritten(n) := sprintf("; %d foods have no sodium written and count as none", [n]) if n > 1

# METADATA
# title: The lamps last for the dark hours that are walked or waited
# description: >-
#   Everybody with a pack walks by their own light in the dark, and in camp one lamp burns half
#   of the dark time awake. All lamps of the household with their spare batteries are one stock; on
#   freezing nights alkaline and zinc-carbon ones give half their hours. Silent where the hours of some lamp are
#   not recorded, or where nobody has a light at all: light/each-pack says that.
# custom:
#   level: warning
#   remedy: Add spare batteries of the size the lamps take, lithium ones for freezing nights, or start by day.
#   mend: {work: add}
#   sources:
#     - "That it must last to the end: common practice, no source"
#     - "Alkaline batteries run about half the time between -20 and 0 °C: a maker's page; year not seen; seen second-hand"
#   limits: [endurance.light_share, light.means, light.walk_means, people.bag_months, people.call_months]
#   caution: Keep spare batteries on the body in the cold, and button cells away from children.
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
	f := {
		"at": stock.id,
		"text": sprintf("light ends %s of %s; the lamps run %s and the dark hours need %s: short by %s", [
			_after_hours(stock.lasts),
			_plan,
			_time(stock.have),
			_time(stock.need),
			_time(short),
		]),
	}
}

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
# title: Doses until the plan ends
# description: >-
#   The usable doses of each regular medication are taken at their times, from eight o'clock
#   on and evenly around the clock. Asked where some are packed.
# custom:
#   level: warning
#   remedy: Pack the missing doses, and ask the prescriber or pharmacist for an extra supply.
#   mend: {work: add}
#   sources:
#     - "That they must last to the end: common practice, no source"
#   limits: [endurance.doses_share]
#   caution: Never stretch, swap or share doses. The label, the prescriber and the pharmacist decide, also on the times.
#   passes: |
#     plan: duration: "48 h"
#     people: ana: medications: thyroid: perDay: 1
#     packs: rust: compartments: lid: items: pills: {mass: "10 g", medicine: {person: "ana", of: "thyroid", doses: 2}}
#   fails: |
#     plan: duration: "48 h"
#     people: ana: medications: thyroid: perDay: 1
#     packs: rust: compartments: lid: items: pills: {mass: "10 g", medicine: {person: "ana", of: "thyroid", doses: 1}}
finding.doses contains f if {
	some stock in _stocks("doses")
	stock.have > 0
	short := lib.lacking(stock.need - stock.short, stock.need, lib.limit("endurance", "doses_share"))
	f := {
		"at": stock.id,
		"text": sprintf("doses of %s (%s) run out %s of %s; the plan asks %s doses and %s are usable: %s too few", [
			stock.name,
			stock.body_name,
			_after_hours(stock.lasts),
			_plan,
			lib.milli(stock.need),
			lib.milli(stock.have),
			lib.milli(short),
		]),
	}
}

# METADATA
# title: Fuel until the last hot meal
# description: >-
#   Hot food is eaten first at halts, and water is boiled where nothing else treats it. Fuel that
#   ends before the food that must be cooked leaves that food raw. Asked where there is fuel.
# custom:
#   level: note
#   remedy: Add fuel for a stove that is packed, exchange some of the food, or treat water another way.
#   mend: {work: add}
#   sources:
#     - "common practice, no source; wind and cold take more"
#   limits: [endurance.fuel_share]
#   caution: >-
#     Burn stoves outdoors only, never in a tent, a house or a vehicle: carbon monoxide has
#     no smell. Follow the maker's label and local fire rules.
#   passes: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: {
#     	noodles: {mass: "100 g", food: {energy: "400 kcal", cookWater: "0.5 L"}}
#     	stove: {mass: "90 g", can: cook: "gas-stove", stove: burns: ["gas-mix"]}
#     	canister: {mass: "200 g", fuel: {kind: "gas-mix", mass: "20 g"}}
#     }
#   fails: |
#     plan: duration: "24 h"
#     packs: rust: compartments: lid: items: {
#     	noodles: {mass: "100 g", food: {energy: "400 kcal", cookWater: "0.5 L"}}
#     	stove: {mass: "90 g", can: cook: "gas-stove", stove: burns: ["gas-mix"]}
#     	canister: {mass: "200 g", fuel: {kind: "gas-mix", mass: "5 g"}}
#     }
finding.fuel contains f if {
	some stock in _stocks("fuel")
	stock.have > 0
	short := lib.lacking(stock.need - stock.short, stock.need, lib.limit("endurance", "fuel_share"))
	f := {
		"at": stock.id,
		"text": sprintf("the fuel ends %s of %s: it boils %s, and %s more is to be boiled", [
			_after_hours(stock.lasts),
			_plan,
			_water(stock.have),
			_water(short),
		]),
	}
}

# METADATA
# title: No load above the cap on the way
# description: >-
#   A pack that is right at the door can be too heavy once its bottles are filled on the way to
#   reach the next water. The heaviest load walked with is held against the carrier's cap; a load that
#   is too heavy at the start is the load rules' matter.
# custom:
#   level: warning
#   remedy: Share the vessels out over the carriers, use a source nearer to where the water is drunk, or lighten the pack.
#   mend: {work: move}
#   sources:
#     - "The caps: as of load.adult_cap, load.child_cap, load.animal_cap and load.unfit_cap"
#   limits: [load.adult_cap, load.child_cap, load.animal_cap, load.unfit, load.unfit_cap]
#   caution: >-
#     A share of body mass knows nothing of an illness, a child's back or an injury. Do not leave
#     water behind to keep to it in the heat; ask a licensed practitioner where in doubt.
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
	cap := _cap(carrier)
	not lib.beyond(carrier.load_mg, carrier.body_mass_mg, cap)
	some body in input.endurance.bodies
	body.id == carrier.id
	over := lib.beyond(body.most_mg, carrier.body_mass_mg, cap)
	f := {
		"at": carrier.load_id,
		"text": sprintf("%s sets out with %s and bears %s in hour %d of the plan, with water collected on the way, %s of body mass; the cap is %s: %s too much", [
			carrier.name,
			lib.kg(carrier.load_mg),
			lib.kg(body.most_mg),
			body.most_hour,
			lib.percent(body.most_mg, carrier.body_mass_mg),
			lib.share(cap),
			lib.mass(over),
		]),
	}
}

# The strictest that the load rules ask.
_cap(carrier) := _usual(carrier) if not _unfit(carrier)

_cap(carrier) := min([_usual(carrier), lib.limit("load", "unfit_cap")]) if _unfit(carrier)

_usual(carrier) := carrier.cap_permille if {
	carrier.cap_known
} else := lib.limit("load", "animal_cap") if {
	carrier.kind == "animal"
} else := lib.limit("load", "adult_cap") if {
	carrier.adult
} else := lib.limit("load", "child_cap")

_unfit(carrier) if {
	carrier.kind == "person"
	carrier.adult
	carrier.fitness in lib.limit("load", "unfit")
}

# METADATA
# title: The route is walked before the plan ends
# description: >-
#   Walked by its paces, with a rest each hour, halts between the walks and nights, some leg is
#   not at its end when the plan is. Food and water are counted to the plan's end only.
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
		"text": sprintf("when the plan of %s ends, this walk %s%s", [_plan, _begun(first.begin_hour), _after(count(open) - 1)]),
	}
}

_after(0) := ""

_after(n) := sprintf(", nor %s after it", [lib.many(n, "walk", "walks")]) if n > 0

_begun(hour) := "has not begun" if hour < 0

_begun(hour) := sprintf("is under way since hour %d and not done", [hour]) if hour >= 0

# METADATA
# title: No day of walking that is too long
# description: >-
#   Time on foot, rests aside, in the day of the plan that has most of it. Tired people stumble, and
#   whoever walks all day with a load cannot do it again tomorrow.
# custom:
#   level: note
#   remedy: Share the route out over more days, or plan a shorter one.
#   mend: {work: decide}
#   sources:
#     - "common practice, no source"
#   limits: [endurance.walk_min]
#   caution: Children, old and unwell people walk less; go by the slowest, and stop early.
#   passes: |
#     plan: {duration: "24 h", legs: one: {order: 1, distance: "20 km"}}
#   fails: |
#     plan: {duration: "24 h", legs: one: {order: 1, distance: "45 km"}}
finding.long_day contains f if {
	most := lib.limit("endurance", "walk_min")
	longest := max([d.walk_min | some d in input.endurance.days])
	over := longest - most
	over > 0
	days := [d | some d in input.endurance.days; d.walk_min == longest]
	f := {
		"at": days[0].id,
		"text": sprintf("on day %d of the plan %s are walked; the most is %s: %s too much", [
			days[0].day,
			_time(longest),
			_time(most),
			_time(over),
		]),
	}
}

# METADATA
# title: No walk in the worst heat
# description: >-
#   The army's table of heat categories asks for long rests and much water where air and damp
#   are worst, and it is made for fit, acclimatised soldiers. Asked for the hours walked; air hotter than the
#   heat index is made for is too hot whatever its category.
# custom:
#   level: warning
#   remedy: Start early in the morning or in the evening, walk by shade, and plan longer halts.
#   mend: {work: decide}
#   sources:
#     - "US Army, work, rest and fluid table (after TB MED 507, year not seen): category 4 is red; seen in a copy of its own page"
#     - "US National Weather Service, chart of the heat index, which ends at air of 110 °F (43.3 °C); 78 of its 135 cells seen on its own page, the highest prints 136 °F (57.8 °C)"
#     - "That families should not walk in it: common practice, no source"
#   limits: [endurance.heat_category]
#   caution: >-
#     Confusion, hot skin or a collapse in the heat is an emergency: cool the person and call for
#     help. Children, old, pregnant and unwell people are in danger sooner than the table says.
#   passes: |
#     plan: {duration: "24 h", season: "hot", seasons: hot: {day: "26 °C", night: "16 °C", daylight: "15 h", humidity: "40 %"}, legs: one: {order: 1, distance: "20 km"}}
#   fails: |
#     plan: {duration: "24 h", season: "hot", seasons: hot: {day: "39 °C", night: "26 °C", daylight: "15 h", humidity: "50 %"}, legs: one: {order: 1, distance: "20 km"}}
finding.heat contains f if {
	from := lib.limit("endurance", "heat_category")
	input.endurance.heat_category >= from
	f := {
		"at": input.endurance.id,
		"because": _legs,
		"text": sprintf("from hour %d of the plan on people walk in heat category %d of the army's five; the hottest in which anybody should walk is category %d%s", [
			input.endurance.heat_hour,
			input.endurance.heat_category,
			from - 1,
			_beyond,
		]),
	}
}

finding.heat contains f if {
	input.endurance.heat_beyond
	input.endurance.heat_category < lib.limit("endurance", "heat_category")
	f := {
		"at": input.endurance.id,
		"because": _legs,
		"text": sprintf("people walk in heat category %d of the army's five%s", [input.endurance.heat_category, _beyond]),
	}
}

_legs := [leg.id | some leg in input.plan.legs]

_beyond := sprintf("; hour %d is hotter than the heat index is made for: do not walk in it", [input.endurance.hottest_hour]) if input.endurance.heat_beyond

_beyond := "" if not input.endurance.heat_beyond

# METADATA
# title: No bare skin in freezing wind
# description: >-
#   Wind takes warmth from bare skin, and from some wind chill on it freezes within
#   half an hour. The lowest of the plan's hours counts, by the season's night and its wind.
# custom:
#   level: warning
#   remedy: Pack face cover, mittens and windproof layers for everybody, and plan to be in shelter in the coldest hours.
#   mend: {work: add}
#   sources:
#     - "US National Weather Service, wind chill of 2001: 0 °F and 15 mph give -19 °F, which is -28 °C, and skin freezes in 30 minutes; seen second-hand"
#   limits: [endurance.chill_mc]
#   caution: Numb white skin is frostbite; warm it gently, do not rub, and get help. Shivering that stops is an emergency.
#   passes: |
#     plan: {duration: "24 h", season: "cold", seasons: cold: {day: "-2 °C", night: "-12 °C", daylight: "8 h", wind: "20 km/h"}}
#   fails: |
#     plan: {duration: "24 h", season: "cold", seasons: cold: {day: "-12 °C", night: "-22 °C", daylight: "8 h", wind: "30 km/h"}}
finding.cold contains f if {
	most := lib.limit("endurance", "chill_mc")
	input.endurance.chill_known
	input.endurance.chill_mc <= most
	f := {
		"at": input.endurance.id,
		"text": sprintf("in hour %d of the plan the wind chill is %s; bare skin freezes from %s on", [
			input.endurance.chill_hour,
			lib.celsius(input.endurance.chill_mc),
			lib.celsius(most),
		]),
	}
}

_plan := _time(input.endurance.minutes)

# Minutes as hours and minutes, without a part that is none.
_time(min) := trim_prefix(lib.hours(min), "0 h ")

# Water as kitmuster forecast has it: in millilitres below one litre.
_water(ml) := sprintf("%d ml", [ml]) if startswith(lib.litres(ml), "0")

_water(ml) := lib.litres(ml) if not startswith(lib.litres(ml), "0")

# The stocks of a kind, where somebody bears a pack: without one the forecast says what other rules say.
_stocks(kind) := [s |
	input.household.pack_count > 0
	some s in input.endurance.stocks
	s.kind == kind
]
