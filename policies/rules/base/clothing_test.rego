package rules.base.clothing_test

import data.lib.testing_test as t
import data.rules.base.clothing

# Ana and Ben walk, and Ana carries Mia, a child; Pip is a carried infant.
ana := t.person({})

ben := t.person({"id": "people/ben", "name": "Ben", "packs": [], "pack_count": 0})

mia := t.person({"id": "people/mia", "name": "Mia", "carried_by": "people/ana", "age_months": 30, "packs": []})

pip := t.person({"id": "people/pip", "name": "Pip", "carried_by": "people/ana", "age_months": 11, "packs": []})

facts(people, plan, more) := object.union({"plan": t.plan(plan), "household": t.household({}), "people": people, "capabilities": [], "insulation": []}, more)

offering(capability, offers) := {"capabilities": [t.capability(capability, offers)]}

wearing(insulation) := {"insulation": insulation}

degrees := {"0 °C": 0, "-6.5 °C": -6500, "0.001 °C": 1, "-0.001 °C": -1}

test_rain_at_the_limit if {
	offers := [t.offer("jacket", {}), t.offer("poncho", {})]
	count(clothing.finding.rain) == 0 with input as facts([ana, ben, mia], {}, offering("rain", offers))
}

test_rain_stands_at_the_one_without if {
	offers := [t.offer("pack-cover", {}), t.offer("poncho", {"whose": "people/ben"})]
	clothing.finding.rain == {{
		"at": "packs/rust",
		"because": ["people/ana"],
		"text": "Ana has no rain jacket or poncho",
		"level": "warning",
	}} with input as facts([ana, ben, mia], {}, offering("rain", offers))
}

test_rain_of_several_stands_at_the_household if {
	clothing.finding.rain == {{
		"at": "household",
		"because": ["people/ana", "people/ben"],
		"text": "Ana and Ben have no rain jacket or poncho",
		"level": "note",
	}} with input as facts([ana, ben, mia], {"ridden": true}, {})
}

test_rain_each_means[means] if {
	some means, short in {
		"jacket": 0,
		"poncho": 0,
		"umbrella": 1,
		"pack-cover": 1,
	}
	count(clothing.finding.rain) == short with input as facts([ana, ben], {}, offering("rain", [t.offer(means, {"count": 2})]))
}

test_rain_not_asked_without_walkers if {
	count(clothing.finding.rain) == 0 with input as facts([mia], {}, {})
}

shade(offers) := {"capabilities": [t.capability("sun", offers)]}

tube := t.offer("sunscreen", {})

hats(n) := t.offer("hat", {"count": n})

test_sun_at_the_limit if {
	count(clothing.finding.sun) == 0 with input as facts([ana, pip], {"day_mc": 25000}, shade([hats(2), tube]))
}

test_sun_hat_missing if {
	clothing.finding.sun == {{
		"at": "people/pip",
		"because": ["people/pip"],
		"text": "days reach 25 °C: Pip has no sun hat",
		"level": "note",
	}} with input as facts([ana, pip], {"day_mc": 25000}, shade([hats(1), tube]))
}

test_sun_no_sunscreen if {
	clothing.finding.sun == {{
		"at": "household",
		"because": [],
		"text": "days reach 30 °C: the household has no sunscreen",
		"level": "warning",
	}} with input as facts([ana, ben], {"day_mc": 30000}, shade([hats(2), t.offer("long-sleeves", {})]))
}

test_sun_below_the_hot_day_is_a_note if {
	{f.level | some f in clothing.finding.sun} == {"note"} with input as facts([ana], {"day_mc": 29999}, {})
}

test_sun_neither if {
	clothing.finding.sun == {{
		"at": "household",
		"because": ["people/ana", "people/ben"],
		"text": "days reach 31 °C: Ana and Ben have no sun hat; the household has no sunscreen",
		"level": "warning",
	}} with input as facts([ana, ben], {"day_mc": 31000}, shade([t.offer("sunglasses", {"count": 3})]))
}

test_sun_umbrella_and_long_sleeves_count if {
	more := {"capabilities": [t.capability("rain", [t.offer("umbrella", {})]), t.capability("sun", [t.offer("long-sleeves", {})])]}
	count(clothing.finding.sun) == 0 with input as facts([ana], {"day_mc": 31000}, more)
}

test_sun_not_asked_when_cooler_without_a_season_or_people if {
	count(clothing.finding.sun) == 0 with input as facts([ana], {"day_mc": 24999}, {})
	count(clothing.finding.sun) == 0 with input as facts([ana], {"day_mc": 25000, "season_known": false}, {})
	count(clothing.finding.sun) == 0 with input as facts([], {"day_mc": 25000}, {})
}

test_warm_layer_at_the_limit if {
	jackets := [t.insulation("jacket", {"count": 2}), t.insulation("jacket", {"id": "packs/moss/jacket"})]
	count(clothing.finding.warm_layer) == 0 with input as facts([ana, ben, mia], {"night_mc": 10000}, wearing(jackets))
}

test_warm_layer_names_who_has_none if {
	jackets := [t.insulation("jacket", {"whose": "people/ben"}), t.insulation("trousers", {})]
	clothing.finding.warm_layer == {{
		"at": "household",
		"because": ["people/ana", "people/mia"],
		"text": "nights fall to 10 °C: Ana and Mia have no warm jacket",
		"level": "warning",
	}} with input as facts([ana, ben, mia], {"night_mc": 10000}, wearing(jackets))
}

test_warm_layer_second_one_may_go_to_another if {
	jackets := [t.insulation("jacket", {"count": 2, "whose": "people/ben"})]
	clothing.finding.warm_layer == {{
		"at": "household",
		"because": ["people/ana", "people/mia"],
		"text": "nights fall to 10 °C: Ana and Mia have no warm jacket of their own, and the household has 2 warm jackets: 1 short",
		"level": "warning",
	}} with input as facts([ana, ben, mia], {"night_mc": 10000}, wearing(jackets))
}

test_warm_layer_in_frost[night] if {
	some night, mc in degrees
	some f in clothing.finding.warm_layer with input as facts([ana], {"night_mc": mc}, {})
	f.text == sprintf("nights fall to %s: Ana has no warm jacket", [night])
}

test_warm_layer_on_the_ride_to_a_house[what] if {
	some what, c in {
		"ride to a house": [true, "house", "note"],
		"walk to a house": [false, "house", "warning"],
		"ride to a camp": [true, "camp", "warning"],
	}
	{f.level | some f in clothing.finding.warm_layer} == {c[2]} with input as facts([ana], {"night_mc": 2000, "ridden": c[0], "destination": {"kind": c[1]}}, {})
}

test_warm_layer_not_asked_when_warmer_without_a_season_or_people if {
	count(clothing.finding.warm_layer) == 0 with input as facts([ana, pip], {"night_mc": 10001}, {})
	count(clothing.finding.warm_layer) == 0 with input as facts([ana, pip], {"night_mc": 10000, "season_known": false}, {})
	count(clothing.finding.warm_layer) == 0 with input as facts([], {"night_mc": 10000}, {})
}

test_warm_layer_of_an_infant if {
	clothing.finding.warm_layer == {{
		"at": "people/pip",
		"because": ["people/pip"],
		"text": "nights fall to 2 °C: Pip has no jacket, blanket or sleeping bag",
		"level": "warning",
	}} with input as facts([pip], {"night_mc": 2000}, wearing([t.insulation("jacket", {}), t.insulation("blanket", {"carrier": "people/ben"}), t.insulation("blanket", {"whose": "people/ana"})]))
}

test_warm_layer_from_a_year_on_is_a_jacket if {
	{f.text | some f in clothing.finding.warm_layer} == {"nights fall to 2 °C: Pip has no warm jacket"} with input as facts([object.union(pip, {"age_months": 12})], {"night_mc": 2000}, wearing([t.insulation("blanket", {})]))
}

test_warm_layer_of_an_infant_who_is_wrapped[what] if {
	some what, i in {
		"own jacket": t.insulation("jacket", {"whose": "people/pip"}),
		"own quilt": t.insulation("quilt", {"whose": "people/pip"}),
		"blanket of the carrier": t.insulation("blanket", {}),
		"bag of the carrier": t.insulation("sleeping-bag", {}),
	}
	count(clothing.finding.warm_layer) == 0 with input as facts([pip], {"night_mc": 2000}, wearing([i]))
}

test_spare_socks_on_a_long_way if {
	clothing.finding.spare_socks == {{
		"at": "household",
		"because": ["people/ana", "people/ben"],
		"text": "the walk is long or wet: Ana and Ben have no spare pair of socks",
	}} with input as facts([ana, ben, mia], {"foot_mm": 5000000}, wearing([t.insulation("socks", {"pack": "", "whose": "people/ana"})]))
}

test_spare_socks_at_the_limit if {
	count(clothing.finding.spare_socks) == 0 with input as facts([ana, ben, mia], {"foot_mm": 5000000}, wearing([t.insulation("socks", {"count": 2})]))
}

test_spare_socks_where_feet_get_wet[what] if {
	some what, c in {
		"short and dry": [{"foot_mm": 4999999, "settings": ["town"], "hazards": ["fire"]}, 0],
		"snow": [{"settings": ["snow"]}, 1],
		"snow to the car": [{"settings": ["snow"], "legs": [{}], "foot_mm": 500000}, 0],
		"flood": [{"hazards": ["flood"]}, 1],
	}
	count(clothing.finding.spare_socks) == c[1] with input as facts([ana], c[0], {})
}

test_cold_hands_head_at_the_limit if {
	more := object.union(offering("gloves", [t.offer("warm", {})]), wearing([t.insulation("hat", {"count": 3}), t.insulation("gloves", {})]))
	count(clothing.finding.cold_hands_head) == 0 with input as facts([ana, ben, pip], {"night_mc": 5000}, more)
}

test_cold_hands_head_missing if {
	clothing.finding.cold_hands_head == {{
		"at": "household",
		"because": ["people/ana", "people/pip"],
		"text": "nights fall to 5 °C: Pip has no warm hat; Ana has no pair of warm gloves",
		"level": "note",
	}} with input as facts([ana, pip], {"night_mc": 5000}, object.union(offering("gloves", [t.offer("work", {})]), wearing([t.insulation("hat", {})])))
}

test_cold_hands_head_in_frost if {
	clothing.finding.cold_hands_head == {{
		"at": "people/ben",
		"because": ["people/ben"],
		"text": "nights fall to 0 °C: Ben has no warm hat; Ben has no pair of warm gloves",
		"level": "warning",
	}} with input as facts([ben], {"night_mc": 0}, {})
	{f.level | some f in clothing.finding.cold_hands_head} == {"note"} with input as facts([ben], {"night_mc": 1}, {})
}

test_cold_hands_head_counts_a_pair_once if {
	pair := object.union(offering("gloves", [t.offer("warm", {})]), wearing([t.insulation("hat", {"count": 2}), t.insulation("gloves", {"id": "packs/rust/warm"})]))
	{f.text | some f in clothing.finding.cold_hands_head} == {"nights fall to 5 °C: Ben has no pair of warm gloves"} with input as facts([ana, ben], {"night_mc": 5000}, pair)
}

test_cold_hands_head_leaves_the_walkers_gloves_to_snow if {
	{f.text | some f in clothing.finding.cold_hands_head} == {"nights fall to 5 °C: Mia has no pair of warm gloves"} with input as facts([ana, mia], {"night_mc": 5000, "settings": ["snow"]}, wearing([t.insulation("hat", {"count": 2})]))
}

test_cold_hands_head_not_asked_when_warmer_or_without_a_season if {
	count(clothing.finding.cold_hands_head) == 0 with input as facts([ana], {"night_mc": 5001}, {})
	count(clothing.finding.cold_hands_head) == 0 with input as facts([ana], {"night_mc": 5000, "season_known": false}, {})
}

snowy := {"settings": ["snow"]}

both := {"capabilities": [t.capability("sun", [t.offer("sunglasses", {"count": 2})]), t.capability("gloves", [t.offer("warm", {"count": 2})])]}

test_snow_at_the_limit if {
	count(clothing.finding.snow) == 0 with input as facts([ana, ben, mia], snowy, both)
}

test_snow_nothing if {
	clothing.finding.snow == {{
		"at": "household",
		"because": ["people/ana", "people/ben"],
		"text": "the way is through snow: Ana and Ben have no pair of warm gloves; Ana and Ben have no pair of sunglasses",
		"level": "warning",
	}} with input as facts([ana, ben, mia], snowy, {})
}

test_snow_sunglasses_alone_are_a_note if {
	clothing.finding.snow == {{
		"at": "packs/rust",
		"because": ["people/ana"],
		"text": "the way is through snow: Ana has no pair of sunglasses",
		"level": "note",
	}} with input as facts([ana], snowy, offering("gloves", [t.offer("warm", {})]))
}

test_snow_by_vehicle_is_a_note if {
	{f.level | some f in clothing.finding.snow} == {"note"} with input as facts([ana], {"settings": ["snow"], "ridden": true}, {})
}

test_snow_sunglasses_by_daylight[dark] if {
	some dark, c in {"1080": [{"dark_min": 1080}, 1], "1081": [{"dark_min": 1081}, 0], "unknown": [{"dark_min": 1081, "season_known": false}, 1]}
	count(clothing.finding.snow) == c[1] with input as facts([ana], object.union(snowy, c[0]), offering("gloves", [t.offer("warm", {})]))
}

test_snow_to_the_car_needs_no_sunglasses if {
	to_car := {"legs": [{}], "foot_mm": 500000}
	count(clothing.finding.snow) == 0 with input as facts([ana], object.union(snowy, to_car), offering("gloves", [t.offer("warm", {})]))
	{f.text | some f in clothing.finding.snow} == {"the way is through snow: Ana has no pair of warm gloves"} with input as facts([ana], object.union(snowy, to_car), {})
	count(clothing.finding.snow) == 1 with input as facts([ana], object.union(snowy, object.union(to_car, {"foot_mm": 500001})), offering("gloves", [t.offer("warm", {})]))
}

test_snow_not_asked_elsewhere_or_without_walkers if {
	count(clothing.finding.snow) == 0 with input as facts([ana], {"settings": ["town"]}, {})
	count(clothing.finding.snow) == 0 with input as facts([mia], snowy, {})
}

test_not_recorded_in_each_rule[rule] if {
	some rule, c in {
		"rain": [{}, "rain", "jacket"],
		"sun": [{"day_mc": 31000}, "sun", "hat"],
		"warm_layer": [{"night_mc": 0}, "insulation", "jacket"],
		"cold_hands_head": [{"night_mc": 0}, "insulation", "hat"],
		"spare_socks": [{"settings": ["snow"]}, "insulation", "socks"],
	}
	gloves := {"capabilities": [t.capability("gloves", [t.offer("warm", {"count": 2})]), t.capability("sun", [tube])]}
	things := [t.unread([c[1], sprintf("%s:%s", [c[1], c[2]])], {"count": 1})]
	got := clothing.finding[rule] with input as t.with_unread(facts([ana], c[0], gloves), things)
	[[t.level_of(f), endswith(f.text, "(not recorded: “thing” may do)")] | some f in got] == [["not recorded", true]]
	short := clothing.finding[rule] with input as t.with_unread(facts([ana, ben], c[0], gloves), things)
	{[f.because[0], object.get(f, "unrecorded", [])] | some f in short} == {["people/ana", ["packs/rust/thing"]], ["people/ben", []]}
}

test_socks_that_are_worn_are_no_spare_ones if {
	worn := t.unread(["insulation", "insulation:socks"], {"pack": ""})
	some f in clothing.finding.spare_socks with input as t.with_unread(facts([ana], {"settings": ["snow"]}, {}), [worn])
	f.text == "the walk is long or wet: Ana has no spare pair of socks"
}

test_sunscreen_not_recorded if {
	cream := t.unread(["sun", "sun:sunscreen"], {})
	{t.level_of(f) | some f in clothing.finding.sun} == {"not recorded"} with input as t.with_unread(facts([ana], {"day_mc": 31000}, shade([hats(1)])), [cream])
	{t.level_of(f) | some f in clothing.finding.sun} == {"not recorded", "warning"} with input as t.with_unread(facts([ana], {"day_mc": 31000}, shade([])), [cream])
	some f in clothing.finding.sun with input as t.with_unread(facts([ana], {"day_mc": 31000}, shade([tube])), [cream, t.unread(["sun", "sun:hat"], {})])
	endswith(f.text, "(not recorded: “thing” may do)")
}

test_bedding_not_recorded_for_an_infant if {
	blanket := t.unread(["insulation", "insulation:blanket"], {})
	{t.level_of(f) | some f in clothing.finding.warm_layer} == {"not recorded"} with input as t.with_unread(facts([pip], {"night_mc": 0}, {}), [blanket])
}

test_snow_not_recorded if {
	things := [t.unread(["gloves", "gloves:warm"], {}), t.unread(["sun", "sun:sunglasses"], {})]
	{t.level_of(f) | some f in clothing.finding.snow} == {"not recorded"} with input as t.with_unread(facts([ana], {"settings": ["snow"]}, {}), things)
	{t.level_of(f) | some f in clothing.finding.snow} == {"not recorded", "warning"} with input as t.with_unread(facts([ana], {"settings": ["snow"]}, {}), [things[1]])
}

test_snow_goggles_do if {
	things := {"capabilities": [t.capability("gloves", [t.offer("warm", {})]), t.capability("protect", [t.offer("goggles", {})])]}
	count(clothing.finding.snow) == 0 with input as facts([ana], snowy, things)
	helmet := {"capabilities": [t.capability("gloves", [t.offer("warm", {})]), t.capability("protect", [t.offer("helmet", {})])]}
	count(clothing.finding.snow) == 1 with input as facts([ana], snowy, helmet)
}

# Who may have one by its name is not said to have none: it is a lack of the others, and what is theirs is not recorded.
test_too_few_not_recorded if {
	jacket := t.unread(["insulation", "insulation:jacket"], {})
	{f.text | some f in clothing.finding.warm_layer} == {"nights fall to 0 °C: Ben has no warm jacket", "nights fall to 0 °C: Ana has no warm jacket (not recorded: “thing” may do)"} with input as t.with_unread(facts([ana, ben], {"night_mc": 0}, {}), [jacket])
}

# What is with someone who has one may be a second for one of the others, and is named.
test_too_few_not_recorded_with_one_who_has_it if {
	jacket := t.unread(["insulation", "insulation:jacket"], {"carrier": "people/cleo"})
	{f.text | some f in clothing.finding.warm_layer} == {"nights fall to 0 °C: Ana and Ben have no warm jacket; not recorded: “thing”"} with input as t.with_unread(facts([ana, ben], {"night_mc": 0}, {}), [jacket])
}
