package rules.base.clothing

import data.lib

# What is said of things of which the household has fewer than asked; undefined where it
# has enough of each. A row has the names of one and of more, the things and how many of them are asked.
_lacking(why, rows) := f if {
	short := [row | some row in rows; lib.pieces(row.things) < row.asked]
	short != []
	f := {
		"at": input.household.id,
		"because": [thing.id | some row in short; some thing in row.things],
		"text": sprintf("%s, and the household has %s", [why, concat("; ", [_row(row) | some row in short])]),
	}
}

_row(row) := sprintf("%d of %s: %d too few", [
	lib.pieces(row.things),
	lib.many(row.asked, row.what.one, row.what.more),
	row.asked - lib.pieces(row.things),
])

_walkers := count([p | some p in input.people; p.carried_by == ""])

_walk := lib.many(_walkers, "person walks", "people walk")

_everybody := input.household.people_count

_nights := sprintf("nights are %s for %s", [lib.celsius(input.plan.night_mc), lib.people(_everybody)])

_insulation(kind) := [i | some i in input.insulation; i.kind == kind]

_offers(capability, means) := [o | some o in lib.offers(capability); o.means == means]

# A pair that is written as insulation and as gloves counts once.
_warm_gloves := {{"id": g.id, "count": g.count} |
	some g in array.concat(_insulation("gloves"), _offers("gloves", "warm"))
}

# METADATA
# title: Rain wear for each walker
# description: >-
#   Whoever gets wet soon gets cold, in mild weather too. There is a jacket or a poncho
#   against rain for each person who walks; an umbrella takes a hand and fails in wind, and a
#   cover for the pack keeps nobody dry. What is packed and what is worn counts, whoever
#   bears it. People who are carried are not asked for.
# custom:
#   level: warning
#   remedy: Add a light poncho for each person without one.
#   mend: {work: add}
#   sources:
#     - "NYC Emergency Management, go bag, rain gear; Get Ready (New Zealand), grab bag, rain wear; years not seen; seen in copies of their own pages"
#     - "US National Park Service, Ten Essentials (rain shell), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "One for each walker: common practice, no source"
#   limits: [clothing.rain]
#   passes: |
#     packs: rust: compartments: lid: items: poncho: {mass: "268 g", can: rain: "poncho"}
#   fails: |
#     packs: rust: compartments: lid: items: cover: {mass: "80 g", can: rain: "pack-cover"}
finding.rain contains f if {
	means := lib.limit("clothing", "rain")
	f := _lacking(_walk, [{
		"what": {"one": "jacket or poncho against rain", "more": "jackets or ponchos against rain"},
		"things": [o | some o in lib.offers("rain"); o.means in means],
		"asked": _walkers,
	}])
}

# METADATA
# title: Hats and sunscreen for hot days
# description: >-
#   Sunburn and sunstroke take walkers out within hours. Where the season's days are hot,
#   there is a hat against the sun for each person, carried infants too, and sunscreen in the
#   household. A warm hat does not count. What is packed and what is worn counts.
# custom:
#   level: warning
#   remedy: Add a light hat with a brim for each person without one, and a small tube of sunscreen.
#   mend: {work: add}
#   sources:
#     - "US National Park Service, Ten Essentials (sunglasses, sunscreen, hat), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "A hat each, one sunscreen for all: common practice, no source"
#   limits: [clothing.hot_day, clothing.sun_hats, clothing.sunscreen]
#   caution: >-
#     Shade and rest come first in heat. Follow the sunscreen's label; ask a paediatrician
#     before using it on an infant.
#   passes: |
#     plan: {season: "heat", seasons: heat: {day: "31 °C", night: "18 °C", daylight: "15 h"}}
#     packs: rust: compartments: lid: items: {
#     	hat: {mass: "57 g", can: sun: "hat"}
#     	cream: {mass: "43 g", can: sun: "sunscreen"}
#     }
#   fails: |
#     plan: {season: "heat", seasons: heat: {day: "31 °C", night: "18 °C", daylight: "15 h"}}
#     packs: rust: compartments: lid: items: hat: {mass: "57 g", can: sun: "hat"}
finding.sun contains f if {
	input.plan.season_known
	input.plan.day_mc >= lib.limit("clothing", "hot_day")
	_everybody > 0
	f := _lacking(sprintf("days are %s for %s", [lib.celsius(input.plan.day_mc), lib.people(_everybody)]), [
		{
			"what": {"one": "hat against the sun", "more": "hats against the sun"},
			"things": _offers("sun", "hat"),
			"asked": lib.limit("clothing", "sun_hats") * _everybody,
		},
		{
			"what": {"one": "sunscreen", "more": "sunscreens"},
			"things": _offers("sun", "sunscreen"),
			"asked": lib.limit("clothing", "sunscreen"),
		},
	])
}

# METADATA
# title: A warm jacket for each person
# description: >-
#   After a sweaty walk comes a cold halt. Where the season's nights are cool, there is a warm jacket for each person, carried infants too. What is packed and
#   what is worn counts, whoever bears it.
# custom:
#   level: warning
#   remedy: Add a padded or fleece jacket for each person without one, and write it as insulation of kind jacket.
#   mend: {work: add}
#   sources:
#     - "US National Park Service, Ten Essentials (jacket), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "BBK (Germany), emergency pack, clothes in layers; year not seen; seen second-hand"
#     - "The night from which it is asked: common practice, no source"
#   limits: [clothing.cool_night]
#   caution: Infants, old and unwell people cool down sooner than others.
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: jacket: {mass: "328 g", insulation: kind: "jacket"}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: shirt: {mass: "150 g", insulation: kind: "base-layer"}
finding.warm_layer contains f if {
	input.plan.season_known
	input.plan.night_mc <= lib.limit("clothing", "cool_night")
	f := _lacking(_nights, [{
		"what": {"one": "warm jacket", "more": "warm jackets"},
		"things": _insulation("jacket"),
		"asked": _everybody,
	}])
}

# METADATA
# title: Spare socks for each walker
# description: >-
#   Wet socks rub feet sore, and sore feet end the walk. There is a spare pair in the packs
#   for each person who walks; the pair on somebody's feet is no spare. A count is read as
#   pairs. People who are carried are not asked for.
# custom:
#   level: note
#   remedy: Add a pair of socks for each walker, in a bag that keeps them dry.
#   mend: {work: add}
#   sources:
#     - "BBK (Germany), emergency pack, clothes for 2 days; year not seen; seen second-hand"
#     - "Socks in particular: common practice, no source"
#   limits: [clothing.spare_socks]
#   passes: |
#     packs: rust: compartments: lid: items: socks: {mass: "68 g", insulation: kind: "socks"}
#   fails: |
#     people: ana: onBody: socks: {mass: "68 g", insulation: kind: "socks"}
finding.spare_socks contains f if {
	f := _lacking(_walk, [{
		"what": {"one": "spare pair of socks", "more": "spare pairs of socks"},
		"things": [s | some s in _insulation("socks"); s.pack != ""],
		"asked": lib.limit("clothing", "spare_socks") * _walkers,
	}])
}

# METADATA
# title: Warm hats and gloves for cold nights
# description: >-
#   Cold hands cannot strike a match, open a pack or tie a knot, and a bare head gives away
#   warmth. Where the season's nights are cold, there is a warm hat and a pair of warm gloves
#   for each person, carried infants too. Work gloves do not count. What is packed and what is
#   worn counts, whoever bears it.
# custom:
#   level: warning
#   remedy: Add a knitted hat and gloves for each person without them.
#   mend: {work: add}
#   sources:
#     - "US National Park Service, Ten Essentials (hat, gloves), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "BBK (Germany), emergency pack, hat and gloves; year not seen; seen second-hand"
#     - "The night from which they are asked: common practice, no source"
#   limits: [clothing.cold_night]
#   caution: Skin that turns white and numb in the cold needs licensed medical help.
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: {
#     	hat: {mass: "54 g", insulation: kind: "hat"}
#     	gloves: {mass: "62 g", can: gloves: "warm"}
#     }
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: {
#     	hat: {mass: "54 g", insulation: kind: "hat"}
#     	gloves: {mass: "83 g", can: gloves: "work"}
#     }
finding.cold_hands_head contains f if {
	input.plan.season_known
	input.plan.night_mc <= lib.limit("clothing", "cold_night")
	f := _lacking(_nights, [
		{
			"what": {"one": "warm hat", "more": "warm hats"},
			"things": _insulation("hat"),
			"asked": _everybody,
		},
		{
			"what": {"one": "pair of warm gloves", "more": "pairs of warm gloves"},
			"things": _warm_gloves,
			"asked": _everybody,
		},
	])
}

# METADATA
# title: Eyes, hands and feet in snow
# description: >-
#   Snow throws the light back and can blind, and it soaks shoes and gloves. Where the plan
#   goes through snow, whatever the season, there are sunglasses, warm gloves and boots for
#   each person who walks. What is packed and what is worn counts, so boots that somebody
#   will put on when leaving are written under onBody. People who are carried are not asked for.
# custom:
#   level: warning
#   remedy: Add what is missing, or write the boots and gloves that are worn under onBody.
#   mend: {work: add}
#   sources:
#     - "US National Park Service, Ten Essentials (sunglasses, gloves), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "Snow, boots and one for each walker: common practice, no source"
#   limits: []
#   caution: Sore eyes after a day in snow need licensed medical help. Cover a carried child's eyes as well.
#   passes: |
#     plan: settings: ["snow"]
#     people: ana: onBody: boots: {mass: "1.2 kg", can: footwear: "boots"}
#     packs: rust: compartments: lid: items: {
#     	glasses: {mass: "30 g", can: sun: "sunglasses"}
#     	gloves: {mass: "62 g", can: gloves: "warm"}
#     }
#   fails: |
#     plan: settings: ["snow"]
#     people: ana: onBody: shoes: {mass: "800 g", can: footwear: "shoes"}
#     packs: rust: compartments: lid: items: {
#     	glasses: {mass: "30 g", can: sun: "sunglasses"}
#     	gloves: {mass: "62 g", can: gloves: "warm"}
#     }
finding.snow contains f if {
	"snow" in input.plan.settings
	f := _lacking(sprintf("%s through snow", [_walk]), [
		{
			"what": {"one": "pair of sunglasses", "more": "pairs of sunglasses"},
			"things": _offers("sun", "sunglasses"),
			"asked": _walkers,
		},
		{
			"what": {"one": "pair of warm gloves", "more": "pairs of warm gloves"},
			"things": _warm_gloves,
			"asked": _walkers,
		},
		{
			"what": {"one": "pair of boots", "more": "pairs of boots"},
			"things": _offers("footwear", "boots"),
			"asked": _walkers,
		},
	])
}
