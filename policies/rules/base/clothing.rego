package rules.base.clothing

import data.lib

# What some people are short of, for the rows of things that they need: a finding for what is missing, and one for what may be among
# the things that are not recorded. level is {} or their level. They stand at the one person who lacks something, else at the household.
_lacking(why, level, rows) := [f |
	parts := [object.union(part, {"row": row}) | some row in rows; some part in lib.lacks(row.people, row.things, row.may)]
	some said in lib.parted([i | some i, _ in parts], {i: part.may | some i, part in parts})
	f := _short_of(why, level, [parts[i] | some i in said.keys])
]

_short_of(why, level, parts) := f if {
	who := {p.id | some part in parts; some p in part.lack.who}
	people := [p | some p in input.people; p.id in who]
	bare := {
		"at": lib.stands_of(people),
		"because": [p.id | some p in people],
		"text": sprintf("%s%s", [why, concat("; ", [lib.has_no(part.lack, part.row.one, part.row.more) | some part in parts])]),
	}
	f := lib.lack_part(object.union(bare, level), {
		"may": [thing | some part in parts; some thing in part.may],
		"rest": [thing | some part in parts; some thing in part.rest],
	})
}

# What is not recorded and may be insulation of these kinds, or of these means of a capability.
_may_be(of, kinds) := lib.unrecorded_means(lib.anybody, of, kinds)

# People who walk can put something on and take it off; an infant is kept warm by the person who carries it.
_walkers := [p | some p in input.people; lib.walks(p)]

_infants := [p | some p in input.people; lib.younger(p, lib.limit("clothing", "infant_months"))]

_dressed := [p | some p in input.people; not lib.younger(p, lib.limit("clothing", "infant_months"))]

_nights := sprintf("nights fall to %s: ", [lib.celsius(input.plan.night_mc)])

_insulation(kinds) := [i | some kind in kinds; some i in _of_kind[kind]]

_of_kind := {kind: [i | some i in input.insulation; i.kind == kind] | some kind in {i.kind | some i in input.insulation}}

_offers(capability, means) := [o | some o in lib.offers(capability); o.means in means]

# A pair that is written as insulation and as gloves counts once.
_warm_gloves := {{"id": g.id, "count": g.count, "whose": g.whose, "carrier": g.carrier} |
	some g in array.concat(_insulation(["gloves"]), _offers("gloves", ["warm"]))
}

# The level of what matters more from a temperature on.
_level(true) := "warning"

_level(false) := "note"

_snow if "snow" in input.plan.settings

# Whether someone goes on foot: a plan that says nothing of the way is one on foot.
_walked := input.plan.ridden == false

# Whether nights may be spent outside: a ride to a house is not that.
default _outside := true

_outside := false if {
	input.plan.ridden
	input.plan.destination.kind == "house"
}

# METADATA
# title: Each walker has a rain jacket or a poncho
# description: >-
#   Wet clothes chill a walker in mild weather too. Each person who walks needs a rain jacket or a poncho; an umbrella
#   takes a hand and fails in wind, and a cover for the pack keeps nobody dry. What is packed or worn counts, and what
#   belongs to nobody in particular counts for anyone. People who are carried stay dry under their carrier's. It is a note
#   if the whole way is by vehicle.
# custom:
#   level: warning
#   remedy: Add a light poncho or rain jacket for each person named.
#   mend: {work: add, get: rain jacket or poncho}
#   sources:
#     - "NYC Emergency Management, go bag, rain gear; Get Ready (New Zealand), grab bag, rain wear; years not seen; seen in copies of their own pages"
#     - "US National Park Service, Ten Essentials (rain shell), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "One for each walker: common practice, no source"
#   limits: [clothing.rain, people.walk_months, people.bag_months]
#   passes: |
#     packs: rust: compartments: lid: items: poncho: {mass: "268 g", can: rain: "poncho"}
#   fails: |
#     packs: rust: compartments: lid: items: cover: {mass: "80 g", can: rain: "pack-cover"}
finding.rain contains f if {
	some f in _lacking("", {"level": _level(_walked)}, [{
		"one": "rain jacket or poncho",
		"more": "rain jackets or ponchos",
		"people": _walkers,
		"things": _offers("rain", lib.limit("clothing", "rain")),
		"may": _may_be("rain", lib.limit("clothing", "rain")),
	}])
}

# METADATA
# title: Sun hats and sunscreen are packed for hot days
# description: >-
#   Sunburn and sunstroke stop walkers within hours. On warm days each person needs a sun hat, carried infants too, and
#   the household needs sunscreen unless everyone has long sleeves. An umbrella will do for a hat; a warm hat will not. On
#   hot days it is a warning, before that a note. What is packed or worn counts.
# custom:
#   level: warning
#   remedy: Add a light hat with a brim for each person named, and a small tube of sunscreen.
#   mend: {work: add, get: sun hat or sunscreen}
#   sources:
#     - "US National Park Service, Ten Essentials (sunglasses, sunscreen, hat), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "A hat each, one sunscreen for all, and the temperatures: common practice, no source"
#   limits: [clothing.warm_day, clothing.hot_day, clothing.sunscreen, people.bag_months]
#   caution: >-
#     In heat, shade and rest come first. Follow the sunscreen's label. Keep an infant under 6 months in the
#     shade, and ask a paediatrician before using sunscreen on one.
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
	input.plan.day_mc >= lib.limit("clothing", "warm_day")
	hats := lib.lacks(
		input.people,
		array.concat(_offers("sun", ["hat"]), _offers("rain", ["umbrella"])),
		array.concat(_may_be("sun", ["hat"]), _may_be("rain", ["umbrella"])),
	)
	lacks := array.concat(
		[{"who": part.lack.who, "text": lib.has_no(part.lack, "sun hat", "sun hats"), "may": part.may, "rest": part.rest} | some part in hats],
		[{"who": [], "text": text, "may": _may_be("sun", ["sunscreen", "long-sleeves"]), "rest": []} | some text in _no_sunscreen],
	)
	some part in lib.parted([i | some i, _ in lacks], {i: l.may | some i, l in lacks})
	who := [p | some i in part.keys; some p in lacks[i].who]
	bare := {
		"at": lib.stands_of(who),
		"because": [p.id | some p in who],
		"text": sprintf("days reach %s: %s", [lib.celsius(input.plan.day_mc), concat("; ", [lacks[i].text | some i in part.keys])]),
		"level": _level(input.plan.day_mc >= lib.limit("clothing", "hot_day")),
	}
	f := lib.lack_part(bare, {"may": part.may, "rest": [thing | some i in part.keys; some thing in lacks[i].rest]})
}

_no_sunscreen := ["the household has no sunscreen" |
	lib.pieces(_offers("sun", ["sunscreen"])) < lib.limit("clothing", "sunscreen")
	lib.pieces(_offers("sun", ["long-sleeves"])) < count(input.people)
]

# METADATA
# title: Everyone has a warm jacket for cool nights
# description: >-
#   After a sweaty walk comes a cold halt. If the season's nights are cool, each person needs a warm jacket. For an infant
#   a blanket or a sleeping bag of their own will do, or one with the person who carries them. What is packed or worn
#   counts, and what belongs to nobody in particular counts for anyone. It is a note if the whole way is by vehicle to a
#   house.
# custom:
#   level: warning
#   remedy: Add a padded or fleece jacket for each person named, and write it as insulation of kind jacket.
#   mend: {work: add, get: warm jacket}
#   sources:
#     - "US National Park Service, Ten Essentials (jacket), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "BBK (Germany), emergency pack, clothes in layers; year not seen; seen second-hand"
#     - "The night from which it is needed, and an infant's blanket: common practice, no source"
#   limits: [clothing.cool_night, clothing.infant_months, people.bag_months]
#   caution: Infants, old people and people who are unwell cool down sooner than others. No loose blanket over a sleeping infant's face.
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: jacket: {mass: "328 g", insulation: kind: "jacket"}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: shirt: {mass: "150 g", insulation: kind: "base-layer"}
finding.warm_layer contains f if {
	input.plan.season_known
	input.plan.night_mc <= lib.limit("clothing", "cool_night")
	some f in _lacking(_nights, {"level": _level(_outside)}, [
		{
			"one": "warm jacket",
			"more": "warm jackets",
			"people": _dressed,
			"things": _insulation(["jacket"]),
			"may": _may_be("insulation", ["jacket"]),
		},
		{
			"one": "jacket, blanket or sleeping bag",
			"more": "jackets, blankets or sleeping bags",
			"people": [p | some p in _infants; not _wrapped(p)],
			"things": [],
			"may": _may_be("insulation", ["blanket", "sleeping-bag", "quilt"]),
		},
	])
}

_wrapped(infant) if {
	some i in _insulation(["jacket", "blanket", "sleeping-bag", "quilt"])
	i.whose == infant.id
}

_wrapped(infant) if {
	some i in _insulation(["blanket", "sleeping-bag", "quilt"])
	i.whose == ""
	i.carrier == infant.carried_by
}

# METADATA
# title: Each walker has spare socks for long or wet walks
# description: >-
#   Wet socks rub feet sore, and sore feet end the walk. For a long walk, in snow or where floods are a danger, the packs
#   need a spare pair for each person who walks; the pair on someone's feet is no spare. A count is read as pairs. A few
#   hundred metres of snow need none.
# custom:
#   level: note
#   remedy: Add a pair of socks for each person named, in a bag that keeps them dry.
#   mend: {work: add, get: spare socks}
#   sources:
#     - "BBK (Germany), emergency pack, clothes for 2 days; year not seen; seen second-hand"
#     - "Socks in particular, and the length of the way: common practice, no source"
#   limits: [clothing.socks_way, load.near_foot_mm, people.walk_months, people.bag_months]
#   passes: |
#     plan: {settings: ["snow"]}
#     packs: rust: compartments: lid: items: socks: {mass: "68 g", insulation: kind: "socks"}
#   fails: |
#     plan: {settings: ["snow"]}
#     people: ana: onBody: socks: {mass: "68 g", insulation: kind: "socks"}
finding.spare_socks contains f if {
	_feet_get_wet
	some f in _lacking("the walk is long or wet: ", {}, [{
		"one": "spare pair of socks",
		"more": "spare pairs of socks",
		"people": _walkers,
		"things": [s | some s in _insulation(["socks"]); s.pack != ""],
		"may": [s | some s in _may_be("insulation", ["socks"]); s.pack != ""],
	}])
}

_feet_get_wet if input.plan.foot_mm >= lib.limit("clothing", "socks_way")

_feet_get_wet if {
	_snow
	not lib.near
}

_feet_get_wet if "flood" in input.plan.hazards

# METADATA
# title: Everyone has a warm hat and gloves for cold nights
# description: >-
#   Cold hands cannot strike a match, open a pack or tie a knot, and a bare head loses warmth. If the season's nights are
#   cold, each person needs a warm hat, carried infants too, and each person except infants a pair of warm gloves. Work
#   gloves do not count. In frost it is a warning, before that a note. In snow clothing/snow speaks of the walkers' gloves.
# custom:
#   level: warning
#   remedy: Add a knitted hat and gloves for each person named.
#   mend: {work: add, get: warm hat or gloves}
#   sources:
#     - "US National Park Service, Ten Essentials (hat, gloves), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "BBK (Germany), emergency pack, hat and gloves; year not seen; seen second-hand"
#     - "The nights from which they are needed: common practice, no source"
#   limits: [clothing.cold_night, clothing.frost_night, clothing.infant_months, people.walk_months, people.bag_months]
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
	some f in _lacking(_nights, {"level": _level(input.plan.night_mc <= lib.limit("clothing", "frost_night"))}, [
		{
			"one": "warm hat",
			"more": "warm hats",
			"people": input.people,
			"things": _insulation(["hat"]),
			"may": _may_be("insulation", ["hat"]),
		},
		{
			"one": "pair of warm gloves",
			"more": "pairs of warm gloves",
			"people": [p | some p in _dressed; not _gloved_for_snow(p)],
			"things": _warm_gloves,
			"may": _may_be("gloves", ["warm"]),
		},
	])
}

_gloved_for_snow(person) if {
	_snow
	lib.walks(person)
}

# METADATA
# title: Each walker has warm gloves and sunglasses for snow
# description: >-
#   Snow soaks gloves, and its glare can blind. If the plan goes through snow, in any season, each person who walks needs
#   warm gloves and, if the day is long enough, sunglasses or goggles. If only these are missing, or nobody walks, it is a note; over a
#   few hundred metres they are not needed.
#   What is packed or worn counts. shoes/to-walk-in speaks of boots.
# custom:
#   level: warning
#   remedy: Add what is missing, or write the gloves that are worn under onBody.
#   mend: {work: add, get: warm gloves or sunglasses}
#   sources:
#     - "US National Park Service, Ten Essentials (sunglasses, gloves), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "Snow, the daylight, and one for each walker: common practice, no source"
#   limits: [clothing.snow_light, load.near_foot_mm, people.walk_months, people.bag_months]
#   caution: Sore eyes after a day in snow need licensed medical help. Cover a carried child's eyes as well.
#   passes: |
#     plan: settings: ["snow"]
#     packs: rust: compartments: lid: items: {
#     	glasses: {mass: "30 g", can: sun: "sunglasses"}
#     	gloves: {mass: "62 g", can: gloves: "warm"}
#     }
#   fails: |
#     plan: settings: ["snow"]
#     packs: rust: compartments: lid: items: gloves: {mass: "62 g", can: gloves: "warm"}
finding.snow contains f if {
	_snow
	gloves := {
		"one": "pair of warm gloves",
		"more": "pairs of warm gloves",
		"people": _walkers,
		"things": _warm_gloves,
		"may": _may_be("gloves", ["warm"]),
	}
	glasses := {
		"one": "pair of sunglasses",
		"more": "pairs of sunglasses",
		"people": [p | some p in _walkers; _bright],
		"things": array.concat(_offers("sun", ["sunglasses"]), _offers("protect", ["goggles"])),
		"may": array.concat(_may_be("sun", ["sunglasses"]), _may_be("protect", ["goggles"])),
	}
	some f in _lacking("the way is through snow: ", {"level": _level(_cold_hands(gloves))}, [gloves, glasses])
}

_cold_hands(gloves) := _walked if lib.without(gloves.people, gloves.things)

_cold_hands(gloves) := false if not lib.without(gloves.people, gloves.things)

# Long enough in the glare to hurt the eyes.
_bright if {
	not lib.near
	_light_enough
}

_light_enough if not input.plan.season_known

_light_enough if lib.day_min - input.plan.dark_min >= lib.limit("clothing", "snow_light")
