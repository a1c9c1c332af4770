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
#   mend: {work: add, thing: treat-water}
#   sources:
#     - "CDC, Guide to Drinking Water Treatment and Sanitation for Backcountry & Travel Use (what each method does); year not seen; seen second-hand"
#     - "US National Park Service, Ten Essentials (water and treatment), year not seen; seen second-hand"
#     - "One means in each pack: common practice, no source"
#   limits: [water.treat_means]
#   lack: {what: means of water treatment, unit: count}
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
# title: A day's water at the start
# description: >-
#   The first hours go by without a chance to treat water. All water carried, whoever carries it, is set against what all people
#   and animals drink in a day of the season planned for, each by age, sex, state and heat; a nursed infant drinks through its mother.
#   Where water awaits at the end of a way that is not written, or a source is written with no leg, half a day is
#   asked. Where a route is written, the forecast knows when water comes, and endurance/water speaks; it also speaks in place of
#   this rule where a day's water is carried and more is lacking. Nobody sets out without a drink: a little a head is asked on every
#   route, and a standard may ask more.
# custom:
#   level: error
#   remedy: Fill a vessel that is not full, or add a full bottle.
#   mend: {work: add, thing: water}
#   sources:
#     - "Institute of Medicine, Dietary Reference Intakes for Water, 2005 (NAP 10925): fluids by age and sex, and rest in the heat, pp. 129 and 155; seen in a copy of its own pages, children and nursing seen second-hand (PMC4473081)"
#     - "One day at the start, half of it near to water, and when that is an error: common practice, no source; Get Prepared (Canada), 2007, asks 2 L a person and day, seen in an archived copy of its own page"
#   limits: [water.start, water.start_near, water.start_error]
#   lack: {what: water at the start, unit: ml}
#   caution: >-
#     Never ration water for a child or anybody unwell. Illness raises the need; follow a licensed practitioner where one has
#     set an amount. Do not load a child over its cap to meet this: water for children goes into grown people's packs.
#   passes: |
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", water: "3 L", container: capacity: "3 L"}
#   fails: |
#     packs: rust: compartments: lid: items: bottle: {mass: "150 g", water: "1 L", container: capacity: "2 L"}
finding.start_litres contains f if {
	_starts_short
	need := _need
	have := input.household.supply.water_ml
	f := {
		"at": _fill,
		"because": ["household/water", "household/need-water"],
		"text": sprintf("the household starts with %s and needs %s %s: %s short", [_water(have), lib.litres(need), _for(need), lib.litres(need - have)]),
		"lack": need - have,
		"level": _start_level(have, need),
	}
}

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
_for(need) := sprintf("(%s for each of %s, as the standard asks)", [lib.litres(lib.limit("water", "start")), lib.people(count(_drinkers))]) if not need in _start

_for(need) := sprintf("for %s (a day takes %s%s)", [
	_span,
	lib.and_list(array.concat(
		[sprintf("%s for %s", [lib.litres(p.water_ml), p.name]) | some p in _drinkers],
		[sprintf("%s for %s", [lib.litres(a.need_ml), a.name]) | some a in input.animals; a.drinks],
	)),
	_hot,
]) if need in _start

_span := "half a day" if input.plan.water_named

_span := "one day" if not input.plan.water_named

_hot := "" if not input.plan.thirsty

_hot := sprintf(", with days of %s and nights of %s", [lib.celsius(input.plan.day_mc), lib.celsius(input.plan.night_mc)]) if input.plan.thirsty

_water(0) := "no water"

_water(ml) := sprintf("%s of water", [lib.litres(ml)]) if ml > 0

# The vessel with most room in it, where one is not full.
_fill := max([[v.capacity_ml - v.water_ml, v.id] | some v in _roomy])[1] if _roomy != []

_fill := input.household.id if _roomy == []

_roomy := [v | some v in input.vessels; v.capacity_ml > v.water_ml]

# METADATA
# title: Vessels for one day's water
# description: >-
#   Where water is found only once a day, the vessels must hold what all people and animals drink in a day of the season planned
#   for. All vessels count, full or empty, whoever carries them. Where a route is written the forecast knows how far it is from water to
#   water, and endurance/water speaks; silent too where water itself is short, and where it awaits at the end of the way.
# custom:
#   level: warning
#   remedy: Add a light vessel, such as a folding bottle.
#   mend: {work: add}
#   sources:
#     - "Institute of Medicine, Dietary Reference Intakes for Water, 2005 (NAP 10925): fluids by age and sex; seen in a copy of its own pages, children seen second-hand"
#     - "One day between waters: common practice, no source"
#   limits: [water.vessels_share, water.start, water.start_near]
#   lack: {what: vessels for water, unit: ml}
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
	f := {
		"at": _smallest,
		"because": ["household/containers", "household/need-water"],
		"text": sprintf("the household's vessels hold %s and everybody drinks %s in a day: %s short", [lib.litres(have), lib.litres(need), lib.litres(short)]),
		"lack": short,
	}
}

_holds_too_little if {
	lib.lacking(input.household.supply.container_ml, input.household.need_ml, lib.limit("water", "vessels_share"))
	input.plan.legs == []
	not input.plan.destination.water
	not _dry
	not _starts_short
}

_smallest := array.concat([v[1] | some v in sort([[v.capacity_ml, v.id] | some v in input.vessels])], [input.household.id])[0]

# METADATA
# title: A vessel to boil in
# description: >-
#   Boiling is counted as a treatment only by a pack that can do it: a pack with an item
#   that says boil needs a vessel that may be put on a fire. Packs borne by animals are
#   asked too, since the claim is as wrong there.
# custom:
#   level: error
#   remedy: Add a metal pot or cup that may be put on a fire to the pack, or take the boil claim away.
#   mend: {work: add}
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

# Water on the way that must be treated.
_untreated := [source.id |
	some source in input.plan.water_sources
	not source.quality in lib.limit("water", "safe_sources")
]

# Water in millilitres that a supply clears of a kind of germ; of a kind that nobody graded, none.
_cleared(supply, germ) := object.get(
	{
		"bacteria": supply.treat_bacteria_ml,
		"viruses": supply.treat_viruses_ml,
		"Giardia": supply.treat_giardia_ml,
		"Cryptosporidium": supply.treat_crypto_ml,
	},
	germ, 0,
)

# METADATA
# title: Each pack clears water of every kind of germ
# description: >-
#   A kind of germ that is missed makes the family as ill as no treatment: ordinary filters
#   let viruses through, chlorine and iodine leave Cryptosporidium alive. A kind counts as
#   cleared where one method in the pack is graded high for it, so two methods may share the
#   kinds; boiling counts where the pack has fuel and a stove for it. Asked where the plan
#   names water that must be treated. A pack with no treatment at all is left to
#   water/purification, and packs borne by animals are not asked.
# custom:
#   level: warning
#   remedy: Add what clears the missing kinds, as the finding says.
#   mend: {work: add, thing: treat-water}
#   sources:
#     - "CDC, Guide to Drinking Water Treatment and Sanitation for Backcountry & Travel Use (method by kind of germ); year not seen; seen second-hand, the figures for ultraviolet light and for Giardia beyond boiling and filters from memory"
#     - "Filters and bacteria: that guide says moderate (0.3 µm or less), the CDC's emergency page (seen second-hand) that most portable filters do not remove them; neither is high, so a filter alone does not count"
#     - "EPA, Guide Standard and Protocol for Testing Microbiological Water Purifiers (purifiers); 1987, year from memory; seen second-hand"
#   limits: [water.safe_sources, water.organisms]
#   caution: >-
#     No treatment removes fuel, metals or most chemicals. After a flood or a fire a tap may be
#     unsafe too: follow the notices of the authorities. Follow the label for dose, waiting
#     time and who must not use it; pregnant people and people with thyroid trouble ask a licensed practitioner before using iodine.
#   passes: |
#     plan: waterSources: ford: quality: "clear"
#     packs: rust: compartments: lid: items: {
#     	filter: {mass: "90 g", treat: {method: "filter", litres: "500 L"}}
#     	tablets: {mass: "9 g", treat: {method: "chlorine", litres: "20 L"}}
#     }
#   fails: |
#     plan: waterSources: ford: quality: "clear"
#     packs: rust: compartments: lid: items: filter: {mass: "90 g", treat: {method: "filter", litres: "500 L"}}
finding.organisms contains f if {
	_untreated != []
	asked := lib.limit("water", "organisms")
	some pack in input.packs
	pack.carrier_kind == "person"
	have := lib.means(pack.supply, "treat-water")
	have != []
	missing := [germ | some germ in asked; _cleared(pack.supply, germ) == 0]
	missing != []
	f := {
		"at": pack.id,
		"because": lib.items(pack.supply, "treat-water"),
		"text": sprintf("the water treatment in %s (%s) does not reliably clear %s: %d of the %d kinds of germs asked are cleared, %d too few; %s", [
			pack.name,
			lib.and_list(have),
			lib.and_list(missing),
			count(asked) - count(missing),
			count(asked),
			count(missing),
			concat("; ", sort({_clears(germ) | some germ in missing})),
		]),
	}
}

# What clears a kind of germ, by the same grades.
_clears(germ) := "chlorine, chlorine dioxide or iodine, a purifier, or boiling clears bacteria and viruses" if germ in {"bacteria", "viruses"}

_clears(germ) := "a filter, a purifier, or boiling clears Giardia and Cryptosporidium" if not germ in {"bacteria", "viruses"}

# METADATA
# title: A treatment that works in cloudy water
# description: >-
#   Mud uses up chlorine and hides germs from ultraviolet light, so both are counted on in
#   clear water only. Where the plan names cloudy or foul water, one means of the household
#   must cope with it; whoever has no means at all is left to water/purification. Letting
#   water settle and pouring it through cloth comes first with every method.
# custom:
#   level: warning
#   remedy: Add a filter, a purifier that filters, or a pot and fuel for boiling; settle the water and strain it through cloth first.
#   mend: {work: add, thing: treat-water}
#   sources:
#     - "EPA, Emergency Disinfection of Drinking Water, and CDC: settle or strain cloudy water first; year not seen; seen in copies of their own pages"
#     - "WHO, Boil water, WHO/FWC/WSH/15.02, 2015 (boiling works in cloudy water); seen in copies"
#     - "Chlorine tablets cope to 20 NTU, at double dose to 100 NTU: J. Water & Health 13(2) 544, 2015 (year from memory); abstract seen; a family cannot measure that, so no chemical counts"
#     - "Ultraviolet light in clear water only: CDC, Guide to Drinking Water Treatment and Sanitation for Backcountry & Travel Use; year not seen; from memory"
#     - "Filters in cloudy water: common practice, no source"
#   limits: [water.cloudy_sources, water.clears]
#   caution: >-
#     Foul water may hold fuel, metals or farm chemicals, which no treatment here removes: take
#     it last. Boil outdoors only: carbon monoxide.
#   passes: |
#     plan: waterSources: ditch: quality: "turbid"
#     packs: rust: compartments: lid: items: filter: {mass: "90 g", treat: {method: "filter", litres: "500 L"}}
#   fails: |
#     plan: waterSources: ditch: quality: "turbid"
#     packs: rust: compartments: lid: items: tablets: {mass: "9 g", treat: {method: "chlorine", litres: "20 L"}}
finding.turbid contains f if {
	clears := lib.limit("water", "clears")
	cloudy := [source.id |
		some source in input.plan.water_sources
		source.quality in lib.limit("water", "cloudy_sources")
	]
	cloudy != []
	have := lib.means(input.household.supply, "treat-water")
	have != []
	[m | some m in have; m in clears] == []
	f := {
		"at": input.household.id,
		"because": array.concat(cloudy, lib.items(input.household.supply, "treat-water")),
		"text": sprintf("the plan names %s, and the household's water treatment (%s) needs clear water; 1 means of %s is asked: 1 too few", [
			lib.many(count(cloudy), "cloudy water source", "cloudy water sources"),
			lib.and_list(have),
			concat(" or ", clears),
		]),
	}
}

# What is said of treatments that leave germs less time than is asked; undefined where the
# longest time written is enough.
_too_short(treatments, asked) := _time_text([t.wait_min | some t in treatments; t.wait_known], asked)

_time_text([], asked) := sprintf("no time is written, %d min asked", [asked])

_time_text(times, asked) := sprintf("%d min written, %d min asked: %d min too short", [
	max(times),
	asked,
	asked - max(times),
]) if {
	max(times) < asked
}

# METADATA
# title: Chemical treatment has time to work
# description: >-
#   Chlorine and iodine kill nothing in the moment they are stirred in, and whoever is
#   thirsty does not look for the leaflet. The longest wait of the label is written beside
#   each chemical treatment and is not below the published one. For chlorine dioxide that is
#   the time for Cryptosporidium. Packs borne by animals are asked too.
# custom:
#   level: warning
#   remedy: Write the longest wait of the label as wait. Where the label itself says less, keep to the longer time asked here.
#   mend: {work: write}
#   sources:
#     - "EPA, Emergency Disinfection of Drinking Water: household bleach, at least 30 min; 2 % iodine tincture, 30 min; year not seen; seen second-hand"
#     - "Chlorine dioxide tablets, 4 h for Cryptosporidium: a label registered with the EPA; year not seen; seen second-hand. Its usual 30 min for bacteria and viruses (from memory) is not enough for that"
#   limits: [water.wait_chlorine, water.wait_iodine, water.wait_chlorine_dioxide]
#   caution: >-
#     The label goes before this rule for dose and for who must not use it. Pregnant people and
#     people with thyroid trouble ask a licensed practitioner before using iodine.
#   passes: |
#     packs: rust: compartments: lid: items: tablets: {mass: "9 g", treat: {method: "chlorine", litres: "20 L", wait: "30 min"}}
#   fails: |
#     packs: rust: compartments: lid: items: tablets: {mass: "9 g", treat: {method: "chlorine", litres: "20 L", wait: "10 min"}}
finding.contact_time contains f if {
	some treatment in input.treatments
	f := {
		"at": sprintf("%s/treat", [treatment.id]),
		"text": sprintf("the wait for %s (%s) before drinking: %s", [
			treatment.name,
			treatment.method,
			_too_short([treatment], _wait(treatment.method)),
		]),
	}
}

_wait("chlorine") := lib.limit("water", "wait_chlorine")

_wait("iodine") := lib.limit("water", "wait_iodine")

_wait("chlorine-dioxide") := lib.limit("water", "wait_chlorine_dioxide")

# METADATA
# title: Chemical treatment in cold water
# description: >-
#   Cold water slows chemicals down. A pack that counts on chemicals should say how long they
#   wait when it is cold; one that can boil, or has a purifier or ultraviolet light, is not
#   asked. A filter beside them is no way out: the chemicals are there for what it lets through. Air at night stands for the water, which nobody measures. Packs borne by
#   animals are not asked.
# custom:
#   level: note
#   remedy: Write the label's time for cold water as wait, or add a purifier or a pot and fuel for boiling.
#   mend: {work: write}
#   sources:
#     - "40 CFR 141.720(b)(1): chlorine dioxide takes 107 mg·min/L at 5 °C and 29 at 20 °C for the same effect, 3.7 times as much; year not seen; seen second-hand"
#     - "EPA, Emergency Disinfection of Drinking Water: double the dose of bleach in very cold water; year not seen; seen second-hand. Doubling the time gives the same product of dose and time"
#   limits: [water.cold_mc, water.chemical, water.cold_free, water.wait_cold]
#   caution: Follow the label for cold water; a double dose only where the label says so.
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: tablets: {mass: "9 g", treat: {method: "chlorine", litres: "20 L", wait: "60 min"}}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: tablets: {mass: "9 g", treat: {method: "chlorine", litres: "20 L", wait: "30 min"}}
finding.cold_treatment contains f if {
	input.plan.season_known
	input.plan.night_mc <= lib.limit("water", "cold_mc")
	chemical := lib.limit("water", "chemical")
	some pack in input.packs
	pack.carrier_kind == "person"
	have := lib.means(pack.supply, "treat-water")
	[m | some m in have; m in lib.limit("water", "cold_free")] == []
	[m | some m in have; m in chemical] != []
	used := [t | some t in input.treatments; t.pack == pack.id; t.method in chemical]
	f := {
		"at": pack.id,
		"because": [t.id | some t in used],
		"text": sprintf("%s's water treatment (%s) counts on chemicals, and nights are %s; the longest wait: %s", [
			pack.name,
			lib.and_list(have),
			lib.celsius(input.plan.night_mc),
			_too_short(used, lib.limit("water", "wait_cold")),
		]),
	}
}

# METADATA
# title: Water boils long enough for the height
# description: >-
#   Water boils cooler the higher one is. Above the height below, every item that boils
#   water says how long; lower down, a time that is written must be long enough. A plan
#   without a height counts as low. The bodies disagree: EPA asks 3 min above 5,000 ft, which
#   it also calls 1,000 m, CDC above 6,500 ft, WHO nowhere more than reaching the boil, and an
#   EPA page of 1993 3 min everywhere. Enforced is 3 min above 1,000 m, the strictest reading
#   of the present pages, and CDC's 1 min below. Packs borne by animals are asked too.
# custom:
#   level: warning
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
#     packs: rust: compartments: lid: items: pot: {mass: "180 g", container: {capacity: "1 L", fireSafe: true}, treat: {method: "boil", wait: "3 min"}}
#   fails: |
#     plan: altitude: "1400 m"
#     packs: rust: compartments: lid: items: pot: {mass: "180 g", container: {capacity: "1 L", fireSafe: true}, treat: {method: "boil", wait: "1 min"}}
finding.boil_time contains f if {
	high := lib.limit("water", "boil_high_mm")
	input.plan.altitude_mm > high
	some treatment in input.treatments
	treatment.method == "boil"
	f := {
		"at": sprintf("%s/treat", [treatment.id]),
		"because": ["plan/altitude"],
		"text": sprintf("the boil of %s at %s m, above %s m: %s", [
			treatment.name,
			lib.milli(input.plan.altitude_mm),
			lib.milli(high),
			_too_short([treatment], lib.limit("water", "boil_high_min")),
		]),
	}
}

finding.boil_time contains f if {
	input.plan.altitude_mm <= lib.limit("water", "boil_high_mm")
	some treatment in input.treatments
	treatment.method == "boil"
	treatment.wait_known
	f := {
		"at": sprintf("%s/treat", [treatment.id]),
		"text": sprintf("the boil of %s: %s", [
			treatment.name,
			_too_short([treatment], lib.limit("water", "boil_min")),
		]),
	}
}

# METADATA
# title: A key for taps without a handle
# description: >-
#   Many taps on outer walls in towns have no handle, so that passers-by cannot turn them on.
#   Asked where the plan goes through a town and names a tap as water on the way.
# custom:
#   level: note
#   remedy: Add a tap key that fits the usual square stems.
#   mend: {work: add, thing: open_taps}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: Ask whoever owns the tap, and check local law before drawing water from it.
#   passes: |
#     plan: {settings: ["town"], waterSources: hall: quality: "tap"}
#     packs: rust: compartments: lid: items: key: {mass: "60 g", can: open_taps: "tap-key"}
#   fails: |
#     plan: {settings: ["town"], waterSources: hall: quality: "tap"}
finding.tap_key contains f if {
	"town" in input.plan.settings
	taps := [source.id | some source in input.plan.water_sources; source.quality == "tap"]
	taps != []
	lib.offers("open_taps") == []
	f := {
		"at": input.household.id,
		"because": taps,
		"text": sprintf("the plan names %s in town and the household has no tap key; 1 is asked: 1 too few", [
			lib.many(count(taps), "tap", "taps"),
		]),
	}
}

# METADATA
# title: Two vessels with each person
# description: >-
#   One split seam or lost stopper must not end somebody's water. Each person from an age on has at least two vessels in their packs
#   or on their body, full or empty; pots count. Not asked of people who are never alone, nor where water or the vessels of
#   all are short.
# custom:
#   level: note
#   remedy: Share the water between two smaller vessels, or add a light folding one.
#   mend: {work: add}
#   sources:
#     - "common practice, no source"
#   limits: [water.vessels, water.vessels_share, water.start, water.start_near, people.alone_months, people.bag_months]
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
	some person in input.people
	lib.at_least(person, lib.limit("people", "alone_months"))
	not lib.never_alone(person)
	vessels := [v | some v in input.vessels; v.carrier == person.id]
	have := lib.pieces(vessels)
	have < asked
	f := {
		"at": lib.stands(person),
		"because": [v.id | some v in vessels],
		"text": sprintf("%s has %s for water and needs %d", [person.name, _vessels(have), asked]),
	}
}

_vessels(0) := "no vessel"

_vessels(n) := lib.many(n, "vessel", "vessels") if n > 0
