package rules.base.water

import data.lib

# METADATA
# title: Each person can treat water
# description: >-
#   Carried water lasts about a day; after that, water found on the way must be made safe, also by someone who was separated
#   from the others. Each person old enough for a bag is judged, with a pack or without one, by what they wear and carry; for
#   people who are never alone, what those beside them have counts too. What cannot work does not count: a filter that
#   freezes, tablets past their date, boiling without a pot, a stove or fuel. For a child, who handles no chemicals and no
#   fire, it is a note that suggests a filter bottle; if water awaits at the end of the plan, it is a note for everyone.
# custom:
#   level: error
#   remedy: Add a filter, a purifier or tablets, for a child a filter bottle, or put right what the finding names.
#   mend: {work: add, thing: treat-water, get: way to treat water}
#   sources:
#     - "CDC, Guide to Drinking Water Treatment and Sanitation for Backcountry & Travel Use (what each method does); year not seen; seen second-hand"
#     - "US National Park Service, Ten Essentials (water and treatment), year not seen; seen second-hand"
#     - "A hollow-fibre filter that froze while wet cannot be relied on, and only a laboratory could tell: a maker's own answer, year not seen; seen second-hand"
#     - "One means with each person, and the ages: common practice, no source"
#   limits: [water.treat_means, people.bag_months, people.hand_months]
#   lack: {what: ways to treat water, unit: count}
#   caution: >-
#     No treatment removes fuel, metals or most chemicals, and ordinary filters do not stop viruses. Follow the label for
#     dose, waiting time and who must not use it. Never trust a filter again that may have frozen wet, however clear its
#     water; a child treats no water with chemicals.
#   passes: |
#     packs: rust: compartments: lid: items: filter: {mass: "90 g", treat: {method: "filter", litres: "500 L"}}
#   fails: |
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", water: "1 L", container: capacity: "1 L"}
finding.purification contains f if {
	asked := lib.limit("water", "treat_means")
	some person in _treaters
	have := lib.at_hand(person, "treat-water")
	short := asked - count(have)
	short > 0
	broken := _broken(person)
	ways := _ways(sort(have), asked)
	bare := object.union(_milder(person), {
		"at": array.concat([_cause(u) | some u in broken], [lib.stands(person)])[0],
		"because": [u.item | some u in broken],
		"text": sprintf("%s %s%s%s", [
			lib.carries(person),
			ways,
			_not_working(ways, broken),
			_child(person),
		]),
		"lack": short,
	})
	f := lib.lack(bare, lib.unrecorded(lib.beside(person), "treat-water"), short)
}

# Who must be able to treat water. Someone who is never alone need not, where one of those beside them must.
_treaters := [person |
	some person in input.people
	lib.at_least(person, lib.limit("people", "bag_months"))
	not _seen_to(person)
]

_seen_to(person) if {
	lib.never_alone(person)
	some other in input.people
	other.id in lib.beside(person)
	not lib.never_alone(other)
}

_milder(person) := {"level": "note"} if {
	lib.younger(person, lib.limit("people", "hand_months"))
} else := _where_water_waits

_child(person) := "; a child treats water with a filter bottle, not with tablets" if {
	lib.younger(person, lib.limit("people", "hand_months"))
} else := ""

_where_water_waits := {"level": "note"} if {
	input.plan.destination.water
} else := {}

# The treatments at hand that do not work; a person's own first.
_broken(person) := array.concat(
	[u | some u in _useless; u.carrier == person.id],
	[u | some u in _useless; u.carrier != person.id; u.carrier in lib.beside(person)],
)

_useless := [u | some u in input.useless; u.capability == "treat-water"]

_cause(u) := u.item if u.cause == ""

_cause(u) := u.cause if u.cause != ""

_ways([], 1) := "no way to treat water"

_ways([], asked) := sprintf("none of the %d ways to treat water needed", [asked]) if asked > 1

_ways(have, asked) := sprintf("%d of the %d ways to treat water needed (%s)", [count(have), asked, lib.and_list(have)]) if have != []

_not_working(_, []) := ""

_not_working(ways, broken) := sprintf("%s%s", [_but(ways), concat("; ", [sprintf("%s (%s) %s", [u.name, u.means, u.words]) | some u in broken])]) if broken != []

_but("no way to treat water") := " that works: "

_but(ways) := "; " if ways != "no way to treat water"

# METADATA
# title: No filter that was wet freezes
# description: >-
#   Ice tears the fibres of a filter that has been wet; nobody sees it, and what runs through afterwards is not filtered. On
#   a freezing night such a filter is on the body, whatever else treats water. If it is all that someone has,
#   water/purification says so.
# custom:
#   level: warning
#   remedy: Carry it in an inner pocket by day and in the sleeping bag by night, and write it under onBody; write mayFreeze if the label says so.
#   mend: {work: move}
#   sources:
#     - "Makers of hollow-fibre filters: once wetted, keep it from freezing, and replace it where it may have frozen; from memory"
#   limits: [water.treat_means, people.alone_months, people.bag_months, people.hand_months]
#   caution: Do not trust a filter that may have frozen; use tablets or boil.
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "3 °C", night: "-4 °C", daylight: "9 h"}}
#     people: ana: onBody: filter: {mass: "90 g", treat: {method: "filter", litres: "200 L", wetted: true}}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "3 °C", night: "-4 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: {
#     	filter: {mass: "90 g", treat: {method: "filter", litres: "200 L", wetted: true}}
#     	tablets: {mass: "20 g", treat: {method: "chlorine-dioxide", litres: "20 L", wait: "4 h"}}
#     }
finding.filter_frost contains f if {
	named := {id | some p in finding.purification; some id in p.because}
	some u in input.useless
	u.why == "frozen"
	not u.item in named
	f := {
		"at": _cause(u),
		"because": ["plan/season"],
		"text": sprintf("%s %s: nights fall to %s", [u.name, u.words, lib.celsius(input.plan.night_mc)]),
	}
}

# METADATA
# title: The household starts with enough water
# description: >-
#   The first hours go by without a chance to treat water. All water carried, no matter who carries it, is compared with what
#   all people and animals drink in a day of the planned season, each by age, sex, condition and heat; a nursed infant
#   drinks through its mother. If water awaits at the end and the way is not recorded, or a source is recorded without a
#   leg, half a day is enough. If a route is recorded, the forecast knows when water comes, and endurance/water speaks; it
#   also speaks instead of this rule if a day's water is carried and later days are short. Everyone needs a little at the
#   start on every route, and a standard may require more.
# custom:
#   level: error
#   remedy: Fill a container that is not full, or add a full bottle.
#   mend: {work: add, thing: water, get: water at the start}
#   sources:
#     - "Institute of Medicine, Dietary Reference Intakes for Water, 2005 (NAP 10925): fluids by age and sex, and rest in the heat, pp. 129 and 155; seen in a copy of its own pages, children and nursing seen second-hand (PMC4473081)"
#     - "One day at the start, half of it near to water, and when that is an error: common practice, no source; Get Prepared (Canada), 2007, asks 2 L a person and day, seen in an archived copy of its own page"
#   limits: [water.start, water.start_near, water.start_error, water.unread]
#   lack: {what: water at the start, unit: ml}
#   caution: >-
#     Never ration water for a child or anyone unwell. Illness raises the need; if a licensed practitioner has set an amount,
#     follow that. Do not load a child over its cap to meet this: adults carry the water for children.
#   passes: |
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", water: "3 L", container: capacity: "3 L"}
#   fails: |
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", water: "1 L", container: capacity: "2 L"}
finding.start_litres contains f if {
	_starts_short
	need := _need
	have := input.household.supply.water_ml
	bare := {
		"at": _fill,
		"because": ["household/water", "household/need-water"],
		"text": sprintf("the household starts with %s and needs %s %s: %s short", [_water(have), lib.litres(need), _for(need), lib.litres(need - have)]),
		"lack": need - have,
		"level": _start_level(have, need),
	}
	f := _unless_unread(bare, array.concat(lib.unrecorded(lib.anybody, "water"), lib.unrecorded(lib.anybody, "container")), need - have)
}

# A lack of water, or of room for it, as a note where containers that are not recorded may make up for it.
_unless_unread(f, things, short) := lib.maybe(f, things) if {
	lib.pieces(things) * lib.limit("water", "unread") >= short
} else := f

_starts_short if {
	_need > input.household.supply.water_ml
	_leads
}

_need := max(array.concat(_start, [lib.limit("water", "start") * count(_drinkers)]))

# A nursed infant drinks through its mother.
_drinkers := [p | some p in input.people; p.water_ml > 0]

# What must be there at the start; nothing beside what the forecast and a standard ask where there is a route.
_start := array.concat(
	[input.household.need_ml | not input.plan.water_named],
	[lib.share_of(input.household.need_ml, lib.limit("water", "start_near")) | input.plan.legs == []],
)

# endurance/water says it where water runs out before the plan ends, but for a first day that nothing covers.
_leads if _first_day

_leads if not _dry

_first_day if {
	not input.plan.water_named
	input.household.supply.water_ml < input.household.need_ml
}

_dry if {
	some stock in input.endurance.stocks
	stock.kind == "water"
	stock.short > 0
}

_start_level(have, need) := "error" if lib.lacking(have, need, lib.limit("water", "start_error"))

_start_level(have, need) := "warning" if not lib.lacking(have, need, lib.limit("water", "start_error"))

# What the need is made of; a standard may ask more a head.
_for(need) := sprintf("(%s for each of %s, as the standard requires)", [lib.inside(lib.litres(lib.limit("water", "start"))), lib.people(count(_drinkers))]) if not need in _start

_for(need) := sprintf("for %s (a day takes %s%s)", [
	_span,
	lib.and_list(array.concat(
		[sprintf("%s for %s", [lib.inside(lib.litres(p.water_ml)), p.name]) | some p in _drinkers],
		[sprintf("%s for %s", [lib.inside(lib.litres(a.need_ml)), a.name]) | some a in input.animals; a.drinks],
	)),
	_hot,
]) if need in _start

_span := "half a day" if input.plan.water_named

_span := "one day" if not input.plan.water_named

_hot := "" if not input.plan.thirsty

_hot := sprintf(", with days of %s and nights of %s", [lib.inside(lib.celsius(input.plan.day_mc)), lib.inside(lib.celsius(input.plan.night_mc))]) if input.plan.thirsty

_water(0) := "no water"

_water(ml) := sprintf("%s of water", [lib.litres(ml)]) if ml > 0

# The container with most room in it, where one is not full.
_fill := max([[v.capacity_ml - v.water_ml, v.id] | some v in _roomy])[1] if _roomy != []

_fill := input.household.id if _roomy == []

_roomy := [v | some v in input.vessels; v.capacity_ml > v.water_ml]

# METADATA
# title: Water containers hold one day's water
# description: >-
#   If water is found only once a day, the containers must hold what all people and animals drink in a day of the planned
#   season. All containers count, full or empty, no matter who carries them. If a route is recorded, the forecast knows how
#   far it is from water to water, and endurance/water speaks. Silent if water itself is short, or awaits at the end of the
#   way.
# custom:
#   level: warning
#   remedy: Add a light container, such as a folding bottle.
#   mend: {work: add, get: water container}
#   sources:
#     - "Institute of Medicine, Dietary Reference Intakes for Water, 2005 (NAP 10925): fluids by age and sex; seen in a copy of its own pages, children seen second-hand"
#     - "One day between waters: common practice, no source"
#   limits: [water.vessels_share, water.start, water.start_near, water.unread]
#   lack: {what: room in water containers, unit: ml}
#   passes: |
#     plan: waterSources: hall: quality: "tap"
#     packs: rust: compartments: lid: items: {
#     	bottle: {mass: "150 g", water: "2 L", container: capacity: "2 L"}
#     	bag: {mass: "40 g", container: capacity: "2 L"}
#     }
#   fails: |
#     plan: waterSources: hall: quality: "tap"
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", water: "2 L", container: capacity: "2 L"}
finding.container_capacity contains f if {
	_holds_too_little
	have := input.household.supply.container_ml
	need := input.household.need_ml
	short := lib.lacking(have, need, lib.limit("water", "vessels_share"))
	bare := {
		"at": _smallest,
		"because": ["household/containers", "household/need-water"],
		"text": sprintf("the household's water containers hold %s, and everyone together drinks %s in a day: %s short", [lib.litres(have), lib.litres(need), lib.litres(short)]),
		"lack": short,
	}
	f := _unless_unread(bare, lib.unrecorded(lib.anybody, "container"), short)
}

_holds_too_little if {
	lib.lacking(input.household.supply.container_ml, input.household.need_ml, lib.limit("water", "vessels_share"))
	input.plan.legs == []
	not input.plan.destination.water
	not _dry
	not _starts_short
}

_smallest := array.concat([v[1] | some v in sort([[v.capacity_ml, v.id] | some v in input.vessels])], [input.household.id])[0]

# Water on the way that must be treated.
_untreated := [source.id |
	some source in input.plan.water_sources
	not source.quality in lib.limit("water", "safe_sources")
]

# Water in millilitres that a supply clears of a kind of germ; undefined of a kind that nobody graded.
_cleared(supply, "bacteria") := supply.treat_bacteria_ml

_cleared(supply, "viruses") := supply.treat_viruses_ml

_cleared(supply, "Giardia") := supply.treat_giardia_ml

_cleared(supply, "Cryptosporidium") := supply.treat_crypto_ml

# METADATA
# title: Water treatment clears every kind of germ
# description: >-
#   One kind of germ left in the water makes the family as ill as no treatment: ordinary filters let viruses through,
#   chlorine and iodine leave Cryptosporidium alive. A kind counts as cleared if one method at hand is graded high for it, so
#   two methods may share the kinds. Chlorine dioxide clears Cryptosporidium in part, and only after hours: with so long a
#   wait recorded it is a note.
#   Judged if the plan names water that must be treated, for the same people as water/purification; a note if water awaits
#   at the end of the plan, or if only children are left with less. People without a treatment that works are left to that
#   rule, and a household whose water runs out for want of treatment to endurance/water.
# custom:
#   level: warning
#   remedy: Add what clears the missing kinds, as the finding says.
#   mend: {work: add, thing: treat-water, get: water treatment against all germs}
#   sources:
#     - "CDC, Guide to Drinking Water Treatment and Sanitation for Backcountry & Travel Use (method by kind of germ); year not seen; seen second-hand, the figures for ultraviolet light and for Giardia beyond boiling and filters from memory"
#     - "Filters and bacteria: that guide says moderate (0.3 µm or less), the CDC's emergency page (seen second-hand) that most portable filters do not remove them; neither is high, so a filter alone does not count"
#     - "EPA, Guide Standard and Protocol for Testing Microbiological Water Purifiers (purifiers); 1987, year from memory; seen second-hand"
#   limits: [water.safe_sources, water.organisms, people.bag_months, people.hand_months, endurance.water_share, water.wait_chlorine_dioxide, water.wait_chlorine_dioxide_mild, water.mild_mc]
#   caution: >-
#     No treatment removes fuel, metals or most chemicals. After a flood or a fire a tap may be unsafe too: follow the notices
#     of the authorities. Follow the label for dose, waiting time and who must not use it. If you are pregnant or have
#     thyroid trouble, ask a licensed practitioner before you use iodine.
#   passes: |
#     plan: {duration: "24 h", waterSources: ford: quality: "clear"}
#     packs: rust: compartments: lid: items: {
#     	bottle: {mass: "90 g", water: "4 L", container: capacity: "4 L"}
#     	filter: {mass: "90 g", treat: {method: "filter", litres: "500 L"}}
#     	tablets: {mass: "9 g", treat: {method: "chlorine", litres: "20 L"}}
#     }
#   fails: |
#     plan: {duration: "24 h", waterSources: ford: quality: "clear"}
#     packs: rust: compartments: lid: items: {
#     	bottle: {mass: "90 g", water: "4 L", container: capacity: "4 L"}
#     	filter: {mass: "90 g", treat: {method: "filter", litres: "500 L"}}
#     }
finding.organisms contains f if {
	_untreated != []
	not _untreatable
	asked := lib.limit("water", "organisms")
	leaving := [{"who": person.name, "level": _germs_level(person), "have": sort(have), "germs": germs, "things": things} |
		some person in _treaters
		have := lib.at_hand(person, "treat-water")
		have != set()
		germs := [germ | some germ in asked; not _clears_at(person, have, germ)]
		germs != []
		things := [id | some p in input.people; p.id in lib.beside(person); some id in lib.items(p.alone, "treat-water")]
	]
	things := sort({id | some l in leaving; some id in l.things})
	missing := [germ | some germ in asked; germ in {g | some l in leaving; some g in l.germs}]
	first := things[0]
	bare := object.union(object.union(_if_mild(leaving), _in_part(missing, leaving)), {
		"at": first,
		"because": things,
		"text": sprintf("%s: %s%s", [
			concat("; ", [sprintf("the water treatment of %s (%s) does not reliably clear %s", [l.who, lib.and_list(l.have), lib.and_list(l.germs)]) | some l in leaving]),
			concat("; ", sort({_clears(germ) | some germ in missing})),
			_after_hours(things),
		]),
	})
	f := lib.lack_any(bare, lib.unrecorded(lib.anybody, "treat-water"))
}

# All that is missing is Cryptosporidium, and everyone has chlorine dioxide with a wait for it.
_in_part(missing, leaving) := {"level": "note"} if {
	missing == ["Cryptosporidium"]
	every l in leaving {
		some id in l.things
		_waits_for_it(id)
	}
} else := {}

_waits_for_it(id) if {
	some t in _dioxide
	t.id == id
	t.wait_known
	t.wait_min >= _crypto_wait
}

_dioxide := [t | some t in input.treatments; t.method == "chlorine-dioxide"]

# The hours that chlorine dioxide takes for Cryptosporidium, in minutes; without a season the water counts as cold.
_crypto_wait := lib.limit("water", "wait_chlorine_dioxide_mild") if {
	input.plan.season_known
	input.plan.night_mc >= lib.limit("water", "mild_mc")
} else := lib.limit("water", "wait_chlorine_dioxide")

_after_hours(things) := sprintf("; chlorine dioxide clears it in part, after %d min", [_crypto_wait]) if {
	some t in _dioxide
	t.id in things
} else := ""

_germs_level(person) := "note" if {
	lib.younger(person, lib.limit("people", "hand_months"))
} else := "warning"

# Of children alone it is as mild as water/purification.
_if_mild(leaving) := {"level": "note"} if {
	every l in leaving { l.level == "note" }
} else := _where_water_waits

# A germ that one method at hand clears; boiling clears all that are graded, however much it boils.
_clears_at(person, _, germ) if {
	ids := lib.beside(person)
	some p in input.people
	p.id in ids
	_cleared(p.alone, germ) > 0
}

_clears_at(_, have, germ) if {
	"boil" in have
	germ in _graded
}

_graded := {"bacteria", "viruses", "Giardia", "Cryptosporidium"}

# Water runs out, as the plan's water cannot be treated: endurance/water says so.
_untreatable if {
	input.endurance.water_limit in {"treatment", "vessels and treatment"}
	some stock in input.endurance.stocks
	stock.kind == "water"
	lib.lacking(stock.need - stock.short, stock.need, lib.limit("endurance", "water_share"))
}

# What clears a kind of germ, by the same grades.
_clears(germ) := "chlorine, chlorine dioxide or iodine, a purifier, or boiling clears bacteria and viruses" if germ in {"bacteria", "viruses"}

_clears(germ) := "a filter, a purifier, or boiling clears Giardia and Cryptosporidium" if not germ in {"bacteria", "viruses"}

# METADATA
# title: Some treatment works in cloudy water
# description: >-
#   Mud uses up chlorine and hides germs from ultraviolet light, so both count in clear water only. If the plan names cloudy
#   or foul water, one of the household's treatments must cope with it. A household with no treatment is left to
#   water/purification, one whose treatment leaves germs even in clear water to water/organisms, one whose water runs out
#   for it to endurance/water. With every method, let water settle first and pour it through cloth.
# custom:
#   level: warning
#   remedy: Add a filter, a purifier that filters, or a pot and fuel for boiling; settle the water and strain it through cloth first.
#   mend: {work: add, thing: treat-water, get: filter or prefilter for cloudy water}
#   sources:
#     - "EPA, Emergency Disinfection of Drinking Water, and CDC: settle or strain cloudy water first; year not seen; seen in copies of their own pages"
#     - "WHO, Boil water, WHO/FWC/WSH/15.02, 2015 (boiling works in cloudy water); seen in copies"
#     - "Chlorine tablets cope to 20 NTU, at double dose to 100 NTU: J. Water & Health 13(2) 544, 2015 (year from memory); abstract seen; a family cannot measure that, so no chemical counts"
#     - "Ultraviolet light in clear water only: CDC, Guide to Drinking Water Treatment and Sanitation for Backcountry & Travel Use; year not seen; from memory"
#     - "Filters in cloudy water: common practice, no source"
#   limits: [water.cloudy_sources, water.clears, water.safe_sources, water.organisms, people.bag_months, endurance.water_share, people.hand_months, water.mild_mc, water.wait_chlorine_dioxide, water.wait_chlorine_dioxide_mild]
#   caution: >-
#     Foul water may hold fuel, metals or farm chemicals, which no treatment here removes: use it last. Boil outdoors only:
#     carbon monoxide.
#   passes: |
#     plan: {duration: "24 h", waterSources: ditch: quality: "turbid"}
#     packs: rust: compartments: lid: items: {
#     	bottle: {mass: "90 g", water: "4 L", container: capacity: "4 L"}
#     	purifier: {mass: "300 g", treat: {method: "purifier", litres: "500 L"}}
#     }
#   fails: |
#     plan: {duration: "24 h", waterSources: ditch: quality: "turbid"}
#     packs: rust: compartments: lid: items: {
#     	bottle: {mass: "90 g", water: "4 L", container: capacity: "4 L"}
#     	lamp: {mass: "90 g", treat: {method: "uv", litres: "20 L"}}
#     }
finding.turbid contains f if {
	finding.organisms == set()
	not _untreatable
	clears := lib.limit("water", "clears")
	cloudy := [source.id |
		some source in input.plan.water_sources
		source.quality in lib.limit("water", "cloudy_sources")
	]
	cloudy != []
	have := lib.means("treat-water")
	[m | some m in have; m in clears] == []
	things := lib.items(input.household.supply, "treat-water")
	first := things[0]
	bare := object.union(_where_water_waits, {
		"at": first,
		"because": array.concat(things, cloudy),
		"text": sprintf("the plan names %s, and the household's water treatment (%s) needs clear water; %s copes with it", [
			lib.many(count(cloudy), "cloudy water source", "cloudy water sources"),
			lib.and_list(have),
			concat(" or ", clears),
		]),
	})
	f := lib.lack_any(bare, lib.unrecorded(lib.anybody, "treat-water"))
}

# METADATA
# title: Chemical treatment has time to work
# description: >-
#   Chlorine and iodine need time to work, and nobody who is thirsty looks for the leaflet. The longest wait on the label is
#   recorded for each chemical treatment and is not below the published one, for chlorine dioxide the one for bacteria and
#   viruses; water/organisms speaks of the hours for Cryptosporidium. Cold water slows chemicals down. Nobody measures the
#   water, so on cold nights the time is longer for people who have nothing else that clears every germ; a wait that is too
#   short only then is a note, and so is one that is not recorded. What no longer works is left out.
# custom:
#   level: warning
#   remedy: Write the longest wait on the label as wait. If the label itself says less, keep to the longer time that this rule states.
#   mend: {work: write}
#   sources:
#     - "EPA, Emergency Disinfection of Drinking Water: household bleach, at least 30 min; 2 % iodine tincture, 30 min; year not seen; seen second-hand"
#     - "Chlorine dioxide tablets, 30 min for bacteria and viruses: from memory; 4 h for Cryptosporidium: a label registered with the EPA; year not seen; seen second-hand"
#     - "40 CFR 141.720(b)(1): chlorine dioxide takes 107 mg·min/L at 5 °C and 29 at 20 °C for the same effect, 3.7 times as much; year not seen; seen second-hand"
#     - "EPA, Emergency Disinfection of Drinking Water: double the dose of bleach in very cold water; year not seen; seen second-hand. Doubling the time gives the same product of dose and time"
#   limits: [water.wait_chlorine, water.wait_iodine, water.wait_chlorine_dioxide_usual, water.wait_chlorine_dioxide, water.wait_chlorine_dioxide_mild, water.mild_mc, water.chemical, water.cold_mc, water.cold_free, water.wait_cold, people.bag_months]
#   caution: >-
#     For dose and for who must not use it, the label comes before this rule; use a double dose only if it says so. If you
#     are pregnant or have thyroid trouble, ask a licensed practitioner before you use iodine.
#   passes: |
#     packs: rust: compartments: lid: items: tablets: {mass: "9 g", treat: {method: "chlorine", litres: "20 L", wait: "30 min"}}
#   fails: |
#     packs: rust: compartments: lid: items: tablets: {mass: "9 g", treat: {method: "chlorine", litres: "20 L", wait: "10 min"}}
finding.contact_time contains f if {
	some treatment in _chemicals
	treatment.wait_known
	least := _wait(treatment)
	short := least - treatment.wait_min
	short > 0
	f := object.union(_only_cold(treatment), {
		"at": sprintf("%s/treat", [treatment.id]),
		"text": sprintf("%s (%s) needs at least %d min before drinking%s%s; %d min is recorded: %d min short", [
			treatment.name,
			treatment.method,
			least,
			_as_cold(treatment),
			_for_crypto(treatment),
			treatment.wait_min,
			short,
		]),
	})
}

finding.contact_time contains f if {
	unwritten := [treatment | some treatment in _chemicals; not treatment.wait_known]
	f := {
		"at": sprintf("%s/treat", [unwritten[0].id]),
		"because": [treatment.id | some treatment in unwritten],
		"level": "note",
		"text": sprintf("how long to wait before drinking is not recorded: %s", [concat("; ", [
		sprintf("%s (%s) needs at least %d min%s%s", [treatment.name, treatment.method, _wait(treatment), _as_cold(treatment), _for_crypto(treatment)]) |
			some treatment in unwritten
		])]),
	}
}

# A wait that is long enough in warmer water may be the label's own.
_only_cold(treatment) := {"level": "note"} if treatment.wait_min >= _usual_wait(treatment.method)

_only_cold(treatment) := {} if treatment.wait_min < _usual_wait(treatment.method)

_chemicals := [treatment |
	methods := lib.limit("water", "chemical")
	some treatment in input.treatments
	treatment.works
	treatment.method in methods
]

_wait(treatment) := max([_usual_wait(treatment.method), lib.limit("water", "wait_cold")]) if _in_the_cold(treatment)

_wait(treatment) := _usual_wait(treatment.method) if not _in_the_cold(treatment)

_usual_wait("chlorine") := lib.limit("water", "wait_chlorine")

_usual_wait("iodine") := lib.limit("water", "wait_iodine")

_usual_wait("chlorine-dioxide") := lib.limit("water", "wait_chlorine_dioxide_usual")

_for_crypto(treatment) := sprintf(" (%d min for Cryptosporidium)", [_crypto_wait]) if treatment.method == "chlorine-dioxide"

_for_crypto(treatment) := "" if treatment.method != "chlorine-dioxide"

# Cold water, and nothing with the carrier that clears every germ whatever the cold. A filter beside the chemicals is no
# way out: they are there for what it lets through.
_in_the_cold(treatment) if {
	input.plan.season_known
	input.plan.night_mc <= lib.limit("water", "cold_mc")
	not _otherwise(treatment.carrier)
}

_otherwise(carrier) if {
	some person in input.people
	person.id == carrier
	some method in lib.at_hand(person, "treat-water")
	method in lib.limit("water", "cold_free")
}

_as_cold(treatment) := sprintf(" on nights of %s", [lib.celsius(input.plan.night_mc)]) if _in_the_cold(treatment)

_as_cold(treatment) := "" if not _in_the_cold(treatment)

# METADATA
# title: Water boils long enough for the altitude
# description: >-
#   The higher you are, the cooler water boils. A recorded time at a rolling boil must be long enough; if none is recorded,
#   the card gives one. A plan without an altitude counts as low. Sources disagree: EPA says 3 min above 5,000 ft, which it
#   also calls 1,000 m, CDC 3 min above 6,500 ft, WHO nowhere more than reaching the boil, and an EPA page of 1993 3 min
#   everywhere. This rule needs 3 min above 1,000 m, the strictest reading of the present pages, and CDC's 1 min below. If
#   boiling does not work at all, water/purification says so.
# custom:
#   level: note
#   remedy: Write the time at a rolling boil as wait of the item that boils water, and bring fuel for it.
#   mend: {work: write}
#   sources:
#     - "EPA, Emergency Disinfection of Drinking Water: 1 min, 3 min above 5,000 ft (1,000 m); year not seen; seen in a copy of its own file"
#     - "CDC, Making Water Safe in an Emergency: 1 min, 3 min above 6,500 ft; year not seen; seen in a copy of its own page"
#     - "WHO, Boil water, WHO/FWC/WSH/15.02, 2015 (a rolling boil is enough); seen in copies"
#     - "EPA 810/F-93-002, 1993: 3 min; seen in a copy of its own file"
#   limits: [water.boil_high_mm, water.boil_high_min, water.boil_min]
#   caution: Burn stoves outdoors only, never in a tent, a house or a vehicle. Boiling does not remove fuel, metals or most chemicals.
#   passes: |
#     plan: altitude: "1400 m"
#     packs: rust: compartments: lid: items: {
#     	pot: {mass: "180 g", container: {capacity: "1 L", fireSafe: true}, treat: {method: "boil", wait: "3 min"}}
#     	stove: {mass: "90 g", stove: burns: ["ethanol"]}
#     	spirit: {mass: "250 g", fuel: {kind: "ethanol", mass: "200 g"}}
#     }
#   fails: |
#     plan: altitude: "1400 m"
#     packs: rust: compartments: lid: items: {
#     	pot: {mass: "180 g", container: {capacity: "1 L", fireSafe: true}, treat: {method: "boil", wait: "1 min"}}
#     	stove: {mass: "90 g", stove: burns: ["ethanol"]}
#     	spirit: {mass: "250 g", fuel: {kind: "ethanol", mass: "200 g"}}
#     }
finding.boil_time contains f if {
	some treatment in input.treatments
	treatment.method == "boil"
	treatment.works
	treatment.wait_known
	short := _boil_min - treatment.wait_min
	short > 0
	f := {
		"at": sprintf("%s/treat", [treatment.id]),
		"text": sprintf("%s boils water for %d min and needs %d min%s: %d min short", [
			treatment.name,
			treatment.wait_min,
			_boil_min,
			_up_there,
			short,
		]),
	}
}

_high if input.plan.altitude_mm > lib.limit("water", "boil_high_mm")

_boil_min := lib.limit("water", "boil_high_min") if _high

_boil_min := lib.limit("water", "boil_min") if not _high

_up_there := sprintf(" at %s", [lib.metres(input.plan.altitude_mm)]) if _high

_up_there := "" if not _high

# METADATA
# title: A tap key is packed for taps without a handle
# description: >-
#   Many taps on outer walls in towns have no handle, so that passers-by cannot turn them on. Judged if the plan names such a
#   tap, marked key: true, as water on the way.
# custom:
#   level: note
#   remedy: Add a tap key that fits the usual square stems.
#   mend: {work: add, thing: open_taps, get: tap key}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: Ask the owner of the tap, and check local law before drawing water from it.
#   passes: |
#     plan: waterSources: hall: {quality: "tap", key: true}
#     packs: rust: compartments: lid: items: key: {mass: "60 g", can: open_taps: "tap-key"}
#   fails: |
#     plan: waterSources: hall: {quality: "tap", key: true}
finding.tap_key contains f if {
	taps := [source.id | some source in input.plan.water_sources; source.key]
	lib.offers("open_taps") == []
	bare := {
		"at": taps[0],
		"because": taps,
		"text": sprintf("the plan counts on %s without a handle, and nobody has a tap key", [lib.many(count(taps), "tap", "taps")]),
	}
	f := lib.lack_any(bare, lib.unrecorded(lib.anybody, "open_taps"))
}

# METADATA
# title: Hard bottles have room for ice
# description: >-
#   Water takes up a tenth more room as ice, and a hard bottle that is full bursts. Judged on freezing nights, for hard
#   bottles with water in them that are not on the body; soft ones give way, and those not recorded as rigid are left out.
# custom:
#   level: note
#   remedy: Pour some out, so that a tenth stays empty, or carry the bottle under the clothes.
#   mend: {work: move}
#   sources:
#     - "Water grows by 9 % as it freezes (densities of water and ice); seen second-hand"
#     - "Nine tenths full: common practice, no source"
#   limits: [water.frost_mc, water.frost_fill]
#   caution: "Keep bottles upside down: the mouth then freezes last. Do not eat snow instead of drinking; it cools the body."
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "2 °C", night: "-4 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", water: "0.9 L", container: {capacity: "1 L", rigid: true}}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "2 °C", night: "-4 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", water: "1 L", container: {capacity: "1 L", rigid: true}}
finding.bottles_freeze contains f if {
	input.plan.season_known
	input.plan.night_mc < lib.limit("water", "frost_mc")
	full := [vessel |
		some vessel in input.vessels
		vessel.rigid
		vessel.reach != "on-body"
		lib.beyond(vessel.water_ml, vessel.capacity_ml, lib.limit("water", "frost_fill"))
	]
	first := full[0]
	f := {
		"at": first.id,
		"because": [vessel.id | some vessel in full],
		"text": sprintf("nights fall to %s, and ice bursts hard bottles that are more than %s full: %s", [
			lib.celsius(input.plan.night_mc),
			lib.share(lib.limit("water", "frost_fill")),
			lib.names(full),
		]),
	}
}

# METADATA
# title: Each person has two water containers
# description: >-
#   One split seam or lost stopper must not be the end of someone's water. Each person old enough has at least two containers
#   in their packs or on their body, full or empty; pots count. Silent for people who are never alone, if water
#   awaits within hours, and if the household's water or containers are short.
# custom:
#   level: note
#   remedy: Share the water between two smaller containers, or add a light folding one.
#   mend: {work: add, get: water container}
#   sources:
#     - "common practice, no source"
#   limits: [water.vessels, water.vessels_share, water.start, water.start_near, people.alone_months, people.bag_months, shelter.soon_min]
#   passes: |
#     packs: rust: compartments: lid: items: bottle: {mass: "80 g", count: 2, water: "2 L", container: capacity: "2 L"}
#   fails: |
#     plan: waterSources: hall: quality: "tap"
#     packs: rust: compartments: lid: items: bag: {mass: "60 g", water: "3 L", container: capacity: "3 L"}
finding.one_vessel contains f if {
	asked := lib.limit("water", "vessels")
	not _dry
	not _starts_short
	not _holds_too_little
	not _soon_at_water
	some person in input.people
	lib.at_least(person, lib.limit("people", "alone_months"))
	not lib.never_alone(person)
	id := person.id
	vessels := [v | some v in input.vessels; v.carrier == id]
	have := lib.pieces(vessels)
	have < asked
	bare := {
		"at": lib.stands(person),
		"because": [v.id | some v in vessels],
		"text": sprintf("%s has %s and needs %d", [person.name, _vessels(have), asked]),
	}
	f := lib.lack(bare, lib.unrecorded({id}, "container"), asked - have)
}

_soon_at_water if {
	input.plan.destination.water
	lib.there_within(lib.limit("shelter", "soon_min"))
}

_vessels(0) := "no water container"

_vessels(n) := lib.many(n, "water container", "water containers") if n > 0
