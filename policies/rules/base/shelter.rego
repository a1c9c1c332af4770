package rules.base.shelter

import data.lib

# METADATA
# title: Shelter in each pack
# description: >-
#   Rain and wind take warmth faster than cold alone, and whoever is left with one
#   pack must still be able to stay dry for a night. Packs borne by animals are not asked.
# custom:
#   level: error
#   remedy: Add something that keeps rain and wind off, such as a tarp, a bivy bag or an emergency blanket.
#   mend: {work: add, thing: shelter}
#   sources:
#     - "US National Park Service, Ten Essentials (tent, space blanket, tarp, bivy), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "American Red Cross, survival kit list (emergency blanket), 2020; seen second-hand"
#   limits: [shelter.means]
#   lack: {what: means of shelter, unit: count}
#   caution: Never burn a stove, a lantern or coal inside a shelter; carbon monoxide kills without a smell.
#   passes: |
#     packs: rust: compartments: lid: items: tarp: {mass: "400 g", can: shelter: "tarp"}
#   fails: |
#     packs: rust: compartments: lid: items: quilt: {mass: "800 g", can: warmth: "quilt"}
finding.each_pack contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	f := lib.too_few(pack, "shelter", "shelter", lib.limit("shelter", "means"))
}

# METADATA
# title: Warmth for everybody's night
# description: >-
#   A cold night takes the strength for the next day, and can kill. Where nights are cool, there is
#   a sleeping bag, a quilt or a blanket for each person, infants too, whose label says that
#   it is enough for such a night. One without a figure is not counted, because nobody knows
#   what it is good for; clothes and emergency blankets come on top. All packs count.
# custom:
#   level: warning
#   remedy: Write the comfort temperature from the label, exchange what is too thin, or add a warmer one.
#   mend: {work: exchange}
#   sources:
#     - "Ready.gov/FEMA, 2022, a sleeping bag or a warm blanket for each person; seen second-hand"
#     - "BBK (Germany), emergency pack, a sleeping bag or blanket; year not seen; seen second-hand"
#     - "The label's comfort against the night, and the night from which it is asked: common practice, no source"
#   limits: [shelter.warm_night, shelter.sleep]
#   caution: >-
#     Labels are for a rested adult who is dry: children, old, thin, tired or unwell people feel
#     cold sooner. For an infant's sleep follow a licensed practitioner. Never warm a shelter with a
#     stove or coal: carbon monoxide.
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: quilt: {mass: "800 g", insulation: {kind: "quilt", comfort: "0 °C"}}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: quilt: {mass: "600 g", insulation: {kind: "quilt", comfort: "8 °C"}}
finding.night_warmth contains f if {
	plan := input.plan
	plan.season_known
	plan.night_mc <= lib.limit("shelter", "warm_night")
	sleep := lib.limit("shelter", "sleep")
	all := [i | some i in input.insulation; i.kind in sleep]
	warm := lib.pieces([i | some i in all; i.comfort_known; i.comfort_mc <= plan.night_mc])
	thin := lib.pieces([i | some i in all; i.comfort_known; i.comfort_mc > plan.night_mc])
	people := input.household.people_count
	short := people - warm
	short > 0
	f := {
		"at": input.household.id,
		"because": [i.id | some i in all],
		"text": sprintf("nights are %s and of the household's %s to sleep in %s warm enough, %s too thin and %s no comfort figure; %s: %d too few", [
			lib.celsius(plan.night_mc),
			lib.many(lib.pieces(all), "thing", "things"),
			lib.many(warm, "is", "are"),
			lib.many(thin, "is", "are"),
			lib.many((lib.pieces(all) - warm) - thin, "has", "have"),
			lib.people(people),
			short,
		]),
	}
}

# METADATA
# title: Something between each sleeper and the ground
# description: >-
#   The ground takes warmth through the thickest bag, because lying on it presses it flat.
#   Where the season's nights are cold, there is a pad to lie on for each person, children
#   too; a pad to sit on is too small. All packs count, whoever bears them.
# custom:
#   level: warning
#   remedy: Add a foam pad, cut to shoulder and hip where mass is short, or an air pad.
#   mend: {work: add}
#   sources:
#     - "common practice, no source"
#   limits: [shelter.ground_night, shelter.ground]
#   passes: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: pad: {mass: "236 g", can: ground: "foam-pad"}
#   fails: |
#     plan: {season: "frost", seasons: frost: {day: "8 °C", night: "2 °C", daylight: "9 h"}}
#     packs: rust: compartments: lid: items: pad: {mass: "48 g", can: ground: "sit-pad"}
finding.ground contains f if {
	plan := input.plan
	plan.season_known
	plan.night_mc <= lib.limit("shelter", "ground_night")
	means := lib.limit("shelter", "ground")
	pads := [o | some o in lib.offers("ground"); o.means in means]
	people := input.household.people_count
	short := people - lib.pieces(pads)
	short > 0
	f := {
		"at": input.household.id,
		"because": [o.id | some o in pads],
		"text": sprintf("nights are %s and the household has %s to lie on; %s: %d too few", [
			lib.celsius(plan.night_mc),
			lib.many(lib.pieces(pads), "pad", "pads"),
			lib.people(people),
			short,
		]),
	}
}
