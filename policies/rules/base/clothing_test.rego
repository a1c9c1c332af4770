package rules.base.clothing_test

import data.lib.testing_test as t
import data.rules.base.clothing

# Ana and Ben walk, and Ana carries Mia.
household(plan, more) := object.union(
	{
		"plan": t.plan(plan),
		"household": t.household({"people_count": 3}),
		"people": [t.person({}), t.person({"id": "people/ben"}), t.person({"id": "people/mia", "carried_by": "people/ana"})],
	},
	more,
)

offering(capability, offers) := {"capabilities": [t.capability(capability, offers)]}

alone := {"household": {"people_count": 1}, "people": [t.person({})]}

nobody := {"household": {"people_count": 0}, "people": []}

degrees := {"0 °C": 0, "-6.5 °C": -6500, "0.001 °C": 1, "-0.001 °C": -1}

test_rain_at_the_limit if {
	facts := household({}, offering("rain", [t.offer("jacket", {}), t.offer("poncho", {})]))
	count(clothing.finding.rain) == 0 with input as facts
}

test_rain_one_too_few if {
	facts := household({}, offering("rain", [t.offer("pack-cover", {}), t.offer("poncho", {})]))
	clothing.finding.rain == {{
		"at": "household",
		"because": ["packs/rust/poncho"],
		"text": "2 people walk, and the household has 1 of 2 jackets or ponchos against rain: 1 too few",
	}} with input as facts
}

test_rain_none if {
	clothing.finding.rain == {{
		"at": "household",
		"because": [],
		"text": "1 person walks, and the household has 0 of 1 jacket or poncho against rain: 1 too few",
	}} with input as object.union(household({}, {}), alone)
}

test_rain_each_means[means] if {
	some means, short in {
		"jacket": 0,
		"poncho": 0,
		"umbrella": 1,
		"pack-cover": 1,
	}
	facts := household({}, offering("rain", [t.offer(means, {"count": 2})]))
	count(clothing.finding.rain) == short with input as facts
}

test_rain_not_asked_without_walkers if {
	count(clothing.finding.rain) == 0 with input as object.union(household({}, {}), nobody)
}

shade(hats, tubes) := [o |
	some o in [t.offer("hat", {"count": hats}), t.offer("sunscreen", {"count": tubes})]
	o.count > 0
]

test_sun_at_the_limit if {
	facts := household({"day_mc": 25000}, offering("sun", shade(3, 1)))
	count(clothing.finding.sun) == 0 with input as facts
}

test_sun_one_hat_too_few if {
	facts := household({"day_mc": 25000}, offering("sun", shade(2, 1)))
	clothing.finding.sun == {{
		"at": "household",
		"because": ["packs/rust/hat"],
		"text": "days are 25 °C for 3 people, and the household has 2 of 3 hats against the sun: 1 too few",
	}} with input as facts
}

test_sun_no_sunscreen if {
	facts := household({"day_mc": 25000}, offering("sun", shade(3, 0)))
	clothing.finding.sun == {{
		"at": "household",
		"because": [],
		"text": "days are 25 °C for 3 people, and the household has 0 of 1 sunscreen: 1 too few",
	}} with input as facts
}

test_sun_neither if {
	facts := household({"day_mc": 31000}, offering("sun", [t.offer("sunglasses", {"count": 3})]))
	clothing.finding.sun == {{
		"at": "household",
		"because": [],
		"text": "days are 31 °C for 3 people, and the household has 0 of 3 hats against the sun: 3 too few; 0 of 1 sunscreen: 1 too few",
	}} with input as facts
}

test_sun_of_one_person_without_sunscreen if {
	facts := object.union(household({"day_mc": 25000}, offering("sun", shade(1, 0))), alone)
	clothing.finding.sun == {{
		"at": "household",
		"because": [],
		"text": "days are 25 °C for 1 person, and the household has 0 of 1 sunscreen: 1 too few",
	}} with input as facts
}

test_sun_asks_one_sunscreen_of_one_person if {
	facts := object.union(household({"day_mc": 25000}, offering("sun", shade(1, 1))), alone)
	count(clothing.finding.sun) == 0 with input as facts
}

test_sun_not_asked_when_cooler_without_a_season_or_people if {
	count(clothing.finding.sun) == 0 with input as household({"day_mc": 24999}, {})
	count(clothing.finding.sun) == 0 with input as household({"day_mc": 25000, "season_known": false}, {})
	count(clothing.finding.sun) == 0 with input as object.union(household({"day_mc": 25000}, {}), nobody)
}

wearing(insulation) := {"insulation": insulation}

test_warm_layer_at_the_limit if {
	facts := household({"night_mc": 10000}, wearing([t.insulation("jacket", {"count": 2}), t.insulation("jacket", {"id": "packs/moss/jacket"})]))
	count(clothing.finding.warm_layer) == 0 with input as facts
}

test_warm_layer_one_too_few if {
	facts := household({"night_mc": 10000}, wearing([t.insulation("jacket", {"count": 2}), t.insulation("trousers", {})]))
	clothing.finding.warm_layer == {{
		"at": "household",
		"because": ["packs/rust/jacket"],
		"text": "nights are 10 °C for 3 people, and the household has 2 of 3 warm jackets: 1 too few",
	}} with input as facts
}

test_warm_layer_in_frost[night] if {
	some night, mc in degrees
	some f in clothing.finding.warm_layer with input as household({"night_mc": mc}, {})
	startswith(f.text, sprintf("nights are %s for ", [night]))
}

test_warm_layer_not_asked_when_warmer_without_a_season_or_people if {
	count(clothing.finding.warm_layer) == 0 with input as household({"night_mc": 10001}, {})
	count(clothing.finding.warm_layer) == 0 with input as household({"night_mc": 10000, "season_known": false}, {})
	count(clothing.finding.warm_layer) == 0 with input as object.union(household({"night_mc": 10000}, {}), nobody)
}

test_spare_socks_at_the_limit if {
	facts := household({}, wearing([t.insulation("socks", {"count": 2})]))
	count(clothing.finding.spare_socks) == 0 with input as facts
}

test_spare_socks_one_too_few if {
	facts := household({}, wearing([
		t.insulation("socks", {}),
		t.insulation("socks", {"id": "people/ana/onBody/socks", "pack": ""}),
		t.insulation("hat", {}),
	]))
	clothing.finding.spare_socks == {{
		"at": "household",
		"because": ["packs/rust/socks"],
		"text": "2 people walk, and the household has 1 of 2 spare pairs of socks: 1 too few",
	}} with input as facts
}

test_spare_socks_not_asked_without_walkers if {
	count(clothing.finding.spare_socks) == 0 with input as object.union(household({}, {}), nobody)
}

warm_offer(n) := offering("gloves", [t.offer("warm", {"count": n}), t.offer("work", {"count": 5})])

test_cold_hands_head_at_the_limit if {
	facts := household({"night_mc": 5000}, wearing([t.insulation("hat", {"count": 3}), t.insulation("gloves", {"count": 3})]))
	count(clothing.finding.cold_hands_head) == 0 with input as facts
}

test_cold_hands_head_gloves_either_way if {
	facts := object.union(
		household({"night_mc": 5000}, wearing([t.insulation("hat", {"count": 3}), t.insulation("gloves", {})])),
		warm_offer(2),
	)
	count(clothing.finding.cold_hands_head) == 0 with input as facts
}

# Knitted gloves are written as insulation and as gloves: they are the same pairs.
test_cold_hands_head_gloves_count_once if {
	facts := object.union(
		household({"night_mc": 5000}, wearing([
			t.insulation("hat", {"count": 3}),
			t.insulation("gloves", {"id": "packs/rust/warm", "count": 2}),
		])),
		warm_offer(2),
	)
	clothing.finding.cold_hands_head == {{
		"at": "household",
		"because": ["packs/rust/warm"],
		"text": "nights are 5 °C for 3 people, and the household has 2 of 3 pairs of warm gloves: 1 too few",
	}} with input as facts
}

test_cold_hands_head_one_hat_too_few if {
	facts := object.union(
		household({"night_mc": 5000}, wearing([t.insulation("hat", {"count": 2}), t.insulation("jacket", {})])),
		warm_offer(3),
	)
	clothing.finding.cold_hands_head == {{
		"at": "household",
		"because": ["packs/rust/hat"],
		"text": "nights are 5 °C for 3 people, and the household has 2 of 3 warm hats: 1 too few",
	}} with input as facts
}

test_cold_hands_head_not_asked_when_warmer_without_a_season_or_people if {
	count(clothing.finding.cold_hands_head) == 0 with input as household({"night_mc": 5001}, {})
	count(clothing.finding.cold_hands_head) == 0 with input as household({"night_mc": 5000, "season_known": false}, {})
	count(clothing.finding.cold_hands_head) == 0 with input as object.union(household({"night_mc": 5000}, {}), nobody)
}

snowed(glasses, gloves, boots) := object.union(household({"settings": ["snow", "woodland"], "season_known": false}, {}), {"capabilities": [
	t.capability("footwear", [t.offer("boots", {"count": boots}), t.offer("shoes", {"count": 5})]),
	t.capability("gloves", [t.offer("warm", {"count": gloves})]),
	t.capability("sun", [t.offer("hat", {"count": 5}), t.offer("sunglasses", {"count": glasses})]),
]})

test_snow_at_the_limit if {
	count(clothing.finding.snow) == 0 with input as snowed(2, 2, 2)
}

test_snow_one_of_each_too_few if {
	clothing.finding.snow == {{
		"at": "household",
		"because": ["packs/rust/sunglasses", "packs/rust/warm", "packs/rust/boots"],
		"text": "2 people walk through snow, and the household has 1 of 2 pairs of sunglasses: 1 too few; 1 of 2 pairs of warm gloves: 1 too few; 1 of 2 pairs of boots: 1 too few",
	}} with input as snowed(1, 1, 1)
}

test_snow_each_thing[what] if {
	some what, facts in {
		"pairs of sunglasses": snowed(1, 2, 2),
		"pairs of warm gloves": snowed(2, 1, 2),
		"pairs of boots": snowed(2, 2, 1),
	}
	some f in clothing.finding.snow with input as facts
	f.text == sprintf("2 people walk through snow, and the household has 1 of 2 %s: 1 too few", [what])
}

test_snow_not_asked_elsewhere_or_without_walkers if {
	count(clothing.finding.snow) == 0 with input as household({"settings": ["coast"]}, {})
	count(clothing.finding.snow) == 0 with input as object.union(snowed(0, 0, 0), nobody)
}

# What a single person lacks is said in the singular.
test_one_person_lacks_one_of_each[what] if {
	some what, found in {
		"hat against the sun": clothing.finding.sun,
		"warm jacket": clothing.finding.warm_layer,
		"spare pair of socks": clothing.finding.spare_socks,
		"warm hat": clothing.finding.cold_hands_head,
		"pair of warm gloves": clothing.finding.cold_hands_head,
		"pair of sunglasses": clothing.finding.snow,
		"pair of boots": clothing.finding.snow,
	} with input as object.union(household({"day_mc": 25000, "night_mc": 5000, "settings": ["snow"]}, {}), alone)
	some f in found
	contains(f.text, sprintf(" 0 of 1 %s: 1 too few", [what]))
}
