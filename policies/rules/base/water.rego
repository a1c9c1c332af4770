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
# title: Water carried at the start
# description: >-
#   The first hours go by without a chance to treat water. All water carried, by people
#   and animals, is set against the people who bear a pack; who bears none is not counted,
#   because the carriers cannot bear a full day's water for everybody.
# custom:
#   level: error
#   remedy: Fill a vessel that is not full, or add a full bottle.
#   mend: {work: add, thing: water}
#   sources:
#     - "Get Prepared (Canada), 2 L to drink per person and day, 2007; seen in an archived copy of its own page"
#     - "BBK (Germany), 2 L per person and day as home stock; year not seen; seen second-hand"
#     - "The US gallon (Ready.gov/FEMA, 2022; seen second-hand) covers washing and is a storage figure: three days of it weigh 11.3 kg"
#   limits: [water.start]
#   lack: {what: water at the start, unit: ml}
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
		"text": sprintf("the household carries %s of water at the start; at %s each, %s %s: %s too little", [
			lib.litres(input.household.supply.water_ml),
			lib.litres(each),
			lib.many(bearers, "person with a pack needs", "people with a pack need"),
			lib.litres(each * bearers),
			lib.litres(short),
		]),
		"lack": short,
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
#   mend: {work: add}
#   sources:
#     - "Institute of Medicine, Dietary Reference Intakes for Water, 2005 (NAP 10925): fluids 3.0 L for men, 2.2 L for women; seen in a copy of its own pages"
#     - "Sphere Project, simplified table of basic survival needs, 2011: 2.5 to 3 L, drink and food; seen second-hand"
#   limits: [water.capacity]
#   lack: {what: vessels for water, unit: ml}
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
		"lack": short,
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
# title: Treatment lasts as long as the plan
# description: >-
#   A strip of tablets is soon empty. The water that the household can clear of the kind of
#   germ it clears least of, with the water carried at the start, is set against what
#   everybody drinks for as long as the plan lasts. Treatments without an end stated by the
#   family count as endless; what animals drink is not in the sum. Asked where the plan names
#   water that must be treated; taps on the way are not counted on, they may be dry.
# custom:
#   level: warning
#   remedy: "Add what clears the kinds named: tablets, a purifier or fuel for bacteria and viruses, a filter, a purifier or fuel for Giardia and Cryptosporidium."
#   mend: {work: add}
#   sources:
#     - "Institute of Medicine, Dietary Reference Intakes for Water, 2005 (NAP 10925): fluids 3.0 L for men, 2.2 L for women; seen in a copy of its own pages"
#     - "CDC, Guide to Drinking Water Treatment and Sanitation for Backcountry & Travel Use (method by kind of germ); year not seen; seen second-hand"
#     - "The whole plan: common practice, no source"
#   limits: [water.safe_sources, water.organisms, water.capacity]
#   caution: Follow the label for dose and waiting time. Heat, illness, pregnancy and nursing raise the need.
#   passes: |
#     plan: {duration: "24 h", waterSources: ford: quality: "clear"}
#     packs: rust: compartments: lid: items: purifier: {mass: "300 g", treat: {method: "purifier", litres: "3 L"}}
#   fails: |
#     plan: {duration: "24 h", waterSources: ford: quality: "clear"}
#     packs: rust: compartments: lid: items: purifier: {mass: "300 g", treat: {method: "purifier", litres: "2 L"}}
finding.treatable contains f if {
	_untreated != []
	house := input.household
	each := lib.limit("water", "capacity")
	asked := lib.limit("water", "organisms")
	least := min([_cleared(house.supply, germ) | some germ in asked])
	germs := [germ | some germ in asked; _cleared(house.supply, germ) == least]
	need := lib.up((each * house.people_count) * house.plan_min, lib.day_min)
	short := need - (least + house.supply.water_ml)
	short > 0
	f := {
		"at": house.id,
		"because": [_sums[germ] | some germ in germs],
		"text": sprintf("the household can clear %s of %s and carries %s of water; %s for %s at %s a day each take %s: %s too little", [
			lib.litres(least),
			lib.and_list(germs),
			lib.litres(house.supply.water_ml),
			lib.people(house.people_count),
			lib.hours(house.plan_min),
			lib.litres(each),
			lib.litres(need),
			lib.litres(short),
		]),
	}
}

_sums := {
	"bacteria": "household/treat-bacteria",
	"viruses": "household/treat-viruses",
	"Giardia": "household/treat-giardia",
	"Cryptosporidium": "household/treat-crypto",
}

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
# title: More water at the start of a hot day
# description: >-
#   On a hot day a walker with a pack sweats away what the usual start was meant to last for.
#   Where the season's days are hot, all water carried, by people and animals, is set against
#   the usual start and an extra for each person who bears a pack. Published needs go up to
#   4.5 L a day for work in heat; that much few can carry beside a pack, so the extra makes it
#   the low end of what is asked for an emergency and the rest must be found on the way.
# custom:
#   level: warning
#   remedy: Fill a vessel that is not full or add a full one for the hot season, and plan the walk for the cool hours.
#   mend: {work: add}
#   sources:
#     - "WHO technical note on emergencies, 3 to 4 L to drink a day; year not seen; seen second-hand"
#     - "open.edu course text: survival takes about 2 L a day in temperate weather, 4.5 L in heat with manual work; year not seen; seen second-hand"
#     - "Institute of Medicine, Dietary Reference Intakes for Water, 2005 (NAP 10925): fluids 3.0 L for men; seen in a copy of its own pages"
#   limits: [water.hot_day, water.start, water.hot_extra]
#   caution: >-
#     Drink often and little, with salt and food; too much plain water at once is dangerous too.
#     Children, old, pregnant and unwell people need their own advice from a licensed practitioner.
#   passes: |
#     plan: {season: "heat", seasons: heat: {day: "31 °C", night: "18 °C", daylight: "15 h"}}
#     packs: rust: compartments: lid: items: bag: {mass: "60 g", water: "3 L", container: capacity: "3 L"}
#   fails: |
#     plan: {season: "heat", seasons: heat: {day: "31 °C", night: "18 °C", daylight: "15 h"}}
#     packs: rust: compartments: lid: items: bag: {mass: "60 g", water: "2 L", container: capacity: "3 L"}
finding.hot_season contains f if {
	input.plan.season_known
	input.plan.day_mc >= lib.limit("water", "hot_day")
	each := lib.limit("water", "start") + lib.limit("water", "hot_extra")
	bearers := count([p | some p in input.people; p.pack_count > 0])
	short := (each * bearers) - input.household.supply.water_ml
	short > 0
	f := {
		"at": input.household.id,
		"because": ["household/water"],
		"text": sprintf("days are %s and the household carries %s of water at the start; at %s each, %s %s: %s too little", [
			lib.celsius(input.plan.day_mc),
			lib.litres(input.household.supply.water_ml),
			lib.litres(each),
			lib.many(bearers, "person with a pack needs", "people with a pack need"),
			lib.litres(each * bearers),
			lib.litres(short),
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
#   One split seam or lost stopper must not end somebody's water. Each person who bears a
#   pack has at least two vessels in their packs or on their body, full or empty; pots count.
#   What is borne by animals counts to nobody.
# custom:
#   level: warning
#   remedy: Share the water between two smaller vessels, or add a light folding one.
#   mend: {work: add}
#   sources:
#     - "common practice, no source"
#   limits: [water.vessels]
#   passes: |
#     packs: rust: compartments: lid: items: bottle: {mass: "80 g", count: 2, container: capacity: "1 L"}
#   fails: |
#     packs: rust: compartments: lid: items: bag: {mass: "60 g", container: capacity: "3 L"}
finding.one_vessel contains f if {
	asked := lib.limit("water", "vessels")
	some person in input.people
	person.pack_count > 0
	vessels := [v | some v in input.vessels; v.carrier == person.id]
	short := asked - lib.pieces(vessels)
	short > 0
	f := {
		"at": person.id,
		"because": [v.id | some v in vessels],
		"text": sprintf("%s has %s for water; %d are asked: %d too few", [
			person.name,
			lib.many(lib.pieces(vessels), "vessel", "vessels"),
			asked,
			short,
		]),
	}
}

# METADATA
# title: Stored water has a date
# description: >-
#   Nobody remembers when a bottle was filled. Each vessel with water in it, whoever bears it,
#   has a day on which it is exchanged; dates/expired then watches that day. FEMA and CDC say
#   6 months for water filled at home, the governments of New Zealand and Canada and the
#   Australian Red Cross up to a year: any date is taken, the family chooses.
# custom:
#   level: note
#   remedy: Write the day to exchange it as rotate, half a year after filling, or the label's day of bought water as expires.
#   mend: {work: write}
#   sources:
#     - "FEMA: water dated and exchanged every 6 months; year not seen; seen second-hand"
#     - "CDC: water filled at home every 6 months, bought water by its label; year not seen; seen second-hand"
#     - "Australian Red Cross: no longer than 12 months; year not seen; seen in a copy of its own page"
#     - "New Zealand (govt.nz), 12 months, a copy of its own page; Canada, yearly, seen second-hand; years not seen"
#   limits: []
#   caution: Do not drink water that smells, tastes or looks wrong, whatever its date.
#   passes: |
#     packs: rust: compartments: lid: items: bottle: {mass: "80 g", water: "1 L", container: capacity: "1 L", rotate: "2027-03-01"}
#   fails: |
#     packs: rust: compartments: lid: items: bottle: {mass: "80 g", water: "1 L", container: capacity: "1 L"}
finding.stored_date contains f if {
	some vessel in input.vessels
	vessel.water_ml > 0
	not vessel.dated
	f := {
		"at": vessel.id,
		"text": sprintf("%s holds %s of water and no day to exchange it is written; 1 date is asked: 1 too few", [
			vessel.name,
			lib.litres(vessel.water_ml),
		]),
	}
}
