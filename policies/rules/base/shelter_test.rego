package rules.base.shelter_test

import data.lib.testing_test as t
import data.rules.base.shelter

having(capability, means, more) := {"plan": t.plan({}), "people": [t.person(object.union({"alone": t.supply({"can": [t.can(capability, means)]})}, more))]}

test_each_pack_at_the_limit if {
	count(shelter.finding.each_pack) == 0 with input as having("shelter", ["tarp"], {})
}

test_each_pack_one_too_few if {
	shelter.finding.each_pack == {{
		"at": "packs/rust",
		"because": [],
		"text": "Ana has no shelter from rain and wind",
		"lack": 1,
	}} with input as having("warmth", ["quilt"], {})
}

test_each_pack_fewer_than_the_limit if {
	shelter.finding.each_pack == {{
		"at": "people/ana",
		"because": ["packs/rust/bivy", "packs/rust/tarp"],
		"text": "Ana has 2 kinds of shelter (bivy and tarp) and needs 3",
		"lack": 1,
	}} with input as having("shelter", ["bivy", "tarp"], {"packs": []}) with data.limits.base.shelter.means.value as 3
}

test_each_pack_by_age if {
	count(shelter.finding.each_pack) == 0 with input as having("shelter", [], {"age_months": 143})
	count(shelter.finding.each_pack) == 1 with input as having("shelter", [], {"age_months": 144})
}

test_each_pack_of_those_beside if {
	facts := having("shelter", ["tarp"], {})
	ben := t.person({"id": "people/ben", "carries": false})
	count(shelter.finding.each_pack) == 0 with input as object.union(facts, {"people": array.concat(facts.people, [ben])})
}

test_each_pack_ridden_to_a_house[what] if {
	some what, c in {
		"ridden to a house": [true, "house", "warning"],
		"ridden to a camp": [true, "camp", "error"],
		"on foot to a house": [false, "house", "error"],
	}
	facts := object.union(having("shelter", [], {}), {"plan": {"ridden": c[0], "destination": {"kind": c[1]}}})
	some f in shelter.finding.each_pack with input as facts
	object.get(f, "level", "error") == c[2]
}

ana := t.person({})

ben := t.person({"id": "people/ben", "name": "Ben"})

# Ana and Ben on a night, with these things to sleep in.
night(mc, insulation) := {
	"plan": t.plan({"night_mc": mc}),
	"household": t.household({}),
	"people": [ana, ben],
	"insulation": insulation,
}

rated(kind, comfort_mc) := t.insulation(kind, {"comfort_known": true, "comfort_mc": comfort_mc})

thin := object.union(rated("blanket", 4001), {"owner": "people/ben"})

test_night_warmth_at_the_limit if {
	count(shelter.finding.night_warmth) == 0 with input as night(15000, [rated("quilt", 15000), rated("blanket", 14999)])
}

test_night_warmth_one_too_thin if {
	shelter.finding.night_warmth == {{
		"at": "packs/rust/blanket",
		"level": "warning",
		"because": ["packs/rust/quilt", "packs/rust/blanket"],
		"text": "for a night of 4 °C, 1 bag, quilt or blanket is warm enough, and 2 people need one each: 1 short; blanket of Ben is for 4.001 °C",
	}} with input as night(4000, [rated("quilt", 4000), thin])
}

test_night_warmth_without_a_figure if {
	shelter.finding.night_warmth == {{
		"at": "packs/rust/sleeping-bag",
		"level": "note",
		"because": ["packs/rust/quilt", "packs/rust/sleeping-bag", "packs/moss/x"],
		"text": "for a night of -5 °C, 1 bag, quilt or blanket is warm enough, and 2 people need one each: 1 short; no comfort temperature is recorded for sleeping-bag of Ana",
	}} with input as night(-5000, [rated("quilt", -6000), t.insulation("sleeping-bag", {}), object.union(rated("quilt", -5000), {"id": "packs/moss/x", "count": 0})])
}

test_night_warmth_two_that_are_not_enough if {
	shelter.finding.night_warmth == {{
		"at": "household",
		"level": "warning",
		"because": ["packs/rust/blanket", "packs/rust/sleeping-bag"],
		"text": "for a night of 4 °C, no bag, quilt or blanket is warm enough, and 2 people need one each: 2 short; blanket of Ben is for 4.001 °C; no comfort temperature is recorded for sleeping-bag",
	}} with input as night(4000, [thin, t.insulation("sleeping-bag", {"carrier": "animals/bo"})])
}

test_night_warmth_nothing_on_a_freezing_night[what] if {
	some what, c in {"frost": [0, "error"], "cool": [1, "warning"]}
	facts := object.union(night(c[0], []), {"people": [ana]})
	shelter.finding.night_warmth == {object.union(
		{
			"at": "household",
			"because": [],
			"text": sprintf("for a night of %s, no bag, quilt or blanket is warm enough, and 1 person needs one: 1 short", [{"frost": "0 °C", "cool": "0.001 °C"}[what]]),
		},
		{k: v | some k, v in {"level": c[1]}; v != "error"},
	)} with input as facts
}

test_night_warmth_levels_by_what_is_there[what] if {
	some what, c in {
		"thin for both, in frost": [[object.union(thin, {"count": 2})], "warning"],
		"thin for one and nothing for one, in frost": [[thin], "error"],
		"unknown for both": [[t.insulation("quilt", {"count": 2})], "note"],
		"unknown for one and thin for one": [[t.insulation("quilt", {}), thin], "warning"],
		"unknown for one and nothing for one, in frost": [[t.insulation("quilt", {})], "error"],
		"unknown for one, warm for one": [[t.insulation("quilt", {}), rated("blanket", -9000)], "note"],
	}
	some f in shelter.finding.night_warmth with input as night(-1000, c[0])
	object.get(f, "level", "error") == c[1]
}

test_night_warmth_where_beds_await[what] if {
	some what, things in {"nothing": [], "thin": [object.union(thin, {"count": 2})], "unknown": [t.insulation("quilt", {"count": 2})]}
	facts := object.union(night(-1000, things), {"plan": {"destination": {"beds": true}}})
	{f.level | some f in shelter.finding.night_warmth} == {"note"} with input as facts
}

test_night_warmth_each_kind[kind] if {
	some kind, short in {
		"sleeping-bag": 0,
		"quilt": 0,
		"blanket": 0,
		"pad": 1,
		"jacket": 1,
	}
	facts := night(4000, [object.union(rated(kind, 0), {"count": 2})])
	count(shelter.finding.night_warmth) == short with input as facts
}

test_night_warmth_of_small_children[what] if {
	some what, c in {
		"carried and small": [{"carried_by": "people/ana", "age_months": 35}, 0],
		"carried and bigger": [{"carried_by": "people/ana", "age_months": 36}, 1],
		"small and carried by nobody": [{"age_months": 35}, 1],
	}
	lin := t.person(object.union({"id": "people/lin"}, c[0]))
	facts := object.union(night(4000, [object.union(rated("quilt", 0), {"count": 2})]), {"people": [ana, ben, lin]})
	count(shelter.finding.night_warmth) == c[1] with input as facts
}

test_night_warmth_not_asked_when_warmer_or_without_a_season if {
	count(shelter.finding.night_warmth) == 1 with input as night(15000, [])
	count(shelter.finding.night_warmth) == 0 with input as night(15001, [])
	facts := object.union(night(15000, []), {"plan": {"season_known": false, "night_mc": 0}})
	count(shelter.finding.night_warmth) == 0 with input as facts
}

lying(mc, pads) := object.union(night(mc, []), {"capabilities": [t.capability("ground", pads)]})

test_ground_at_the_limit if {
	count(shelter.finding.ground) == 0 with input as lying(5000, [t.offer("foam-pad", {}), t.offer("air-pad", {})])
}

test_ground_one_too_few if {
	shelter.finding.ground == {{
		"at": "packs/rust",
		"because": ["packs/rust/air-pad"],
		"text": "nights fall to 5 °C, and the household has 1 pad to lie on for 2 people: 1 short",
	}} with input as lying(5000, [t.offer("air-pad", {}), t.offer("sit-pad", {})])
}

# Ana has two and Ben none, or nobody knows whose they are.
test_ground_stands_at_the_one_without[why] if {
	lin := t.person({"id": "people/lin", "packs": []})
	some why, c in {
		"one": [[ana, object.union(ben, {"packs": ["packs/moss"]})], [t.offer("air-pad", {})], "packs/moss"],
		"either": [[ana, ben, lin], [t.offer("air-pad", {"count": 2})], "household"],
		"two": [[ana, ben, lin], [t.offer("air-pad", {})], "household"],
	}
	{f.at | some f in shelter.finding.ground} == {c[2]} with input as object.union(lying(5000, c[1]), {"people": c[0]})
}

test_ground_on_a_cool_night[mc] if {
	some mc in [5001, 10000]
	facts := object.union(lying(mc, []), {"insulation": [t.insulation("quilt", {})]})
	shelter.finding.ground == {{
		"at": "household",
		"level": "note",
		"because": [],
		"text": sprintf("nights fall to %s, and the household has nothing to lie on for 2 people: 2 short", [{5001: "5.001 °C", 10000: "10 °C"}[mc]]),
	}} with input as facts
}

# Without bedding one finding says both, but on a cold night, where a missing pad is a warning.
test_ground_without_bedding[mc] if {
	some mc, c in {5000: [1, ""], 5001: [0, "; there is nothing to lie on either"], 10000: [0, "; there is nothing to lie on either"]}
	count(shelter.finding.ground) == c[0] with input as lying(mc, [])
	some f in shelter.finding.night_warmth with input as lying(mc, [])
	endswith(f.text, concat("", [": 2 short", c[1]]))
	count(shelter.finding.ground) == c[0] with input as object.union(lying(mc, []), {"insulation": [t.insulation("hat", {})]})
}

test_night_warmth_says_nothing_of_the_ground[why] if {
	some why, facts in {
		"one pad": lying(8000, [t.offer("foam-pad", {})]),
		"beds await": object.union(lying(8000, []), {"plan": {"destination": {"beds": true}}}),
		"a warm night by a standard that asks bedding then": object.union(lying(10001, []), {"limits": [{"area": "shelter", "name": "warm_night", "list": false, "value": 12000, "values": []}]}),
	}
	some f in shelter.finding.night_warmth with input as facts
	endswith(f.text, ": 2 short")
}

test_ground_asked_where_no_bedding_is if {
	facts := object.union(lying(8000, []), {"limits": [{"area": "shelter", "name": "warm_night", "list": false, "value": 7999, "values": []}]})
	count(shelter.finding.ground) == 1 with input as facts
}

test_ground_each_means[means] if {
	some means, short in {"foam-pad": 0, "air-pad": 0, "sit-pad": 1}
	count(shelter.finding.ground) == short with input as lying(4000, [t.offer(means, {"count": 2})])
}

test_ground_not_asked_of_a_small_child_who_is_carried if {
	lin := t.person({"id": "people/lin", "carried_by": "people/ana", "age_months": 10})
	facts := object.union(lying(4000, [t.offer("foam-pad", {"count": 2})]), {"people": [ana, ben, lin]})
	count(shelter.finding.ground) == 0 with input as facts
}

test_ground_not_asked_where_beds_await if {
	facts := object.union(lying(4000, []), {"plan": {"destination": {"beds": true}}})
	count(shelter.finding.ground) == 0 with input as facts
}

test_ground_not_asked_when_warmer_or_without_a_season if {
	count(shelter.finding.ground) == 0 with input as lying(10001, [])
	facts := object.union(lying(10000, []), {"plan": {"season_known": false, "night_mc": 0}})
	count(shelter.finding.ground) == 0 with input as facts
}

test_night_warmth_where_beds_are_near[what] if {
	some what, c in {
		"within hours": [{}, {}, 0],
		"later": [{"end_hour": 13}, {}, 1],
		"never": [{"arrives": false}, {}, 1],
		"no beds": [{}, {"destination": {"beds": false}}, 1],
		"on foot": [{}, {"foot_mm": 500001}, 1],
	}
	more := object.union({"foot_mm": 500000, "legs": [object.union({"arrives": true, "end_hour": 12}, c[0])], "destination": {"beds": true}}, c[1])
	facts := night(4000, [])
	count(shelter.finding.night_warmth) == c[2] with input as object.union(facts, {"plan": object.union(facts.plan, more)})
}

test_each_pack_not_recorded[what] if {
	some what, c in {"hers": ["people/ana", ["not recorded"]], "another's": ["people/ben", [""]]}
	t.levels(shelter.finding.each_pack) == c[1] with input as t.with_unread(having("shelter", [], {}), [t.unread(["shelter", "shelter:tarp"], {"carrier": c[0]})])
}

bags(kind, n) := [t.unread(["insulation", sprintf("insulation:%s", [kind])], {"count": n})]

test_night_warmth_not_recorded[what] if {
	some what, c in {
		"one of two": [[], bags("quilt", 1), ""],
		"two": [[], bags("sleeping-bag", 2), "not recorded"],
		"one and one without a figure": [[t.insulation("quilt", {})], bags("blanket", 1), "not recorded"],
		"one and one that is thin": [[thin], bags("blanket", 1), ""],
		"a jacket": [[], bags("jacket", 2), ""],
	}
	t.levels(shelter.finding.night_warmth) == [c[2]] with input as t.with_unread(night(-1000, c[0]), c[1])
}

# Two grown people, a child of so many months, and a bag of a given owner for each of them and for one more.
bedded(months, owners) := object.union(
	night(4000, [object.union(rated("quilt", 0), {"id": sprintf("packs/rust/q%d", [i]), "owner": o}) | some i, o in owners]),
	{"people": [ana, ben, t.person({"id": "people/lin", "age_months": months})], "animals": [t.animal({})]},
)

test_night_warmth_whose_a_thing_is[what] if {
	some what, c in {
		"each their own": [143, ["people/ana", "people/ben", "people/lin"], 0],
		"a second one of a child": [143, ["people/ana", "people/lin", "people/lin"], 1],
		"a second one of somebody grown": [144, ["people/ana", "people/lin", "people/lin"], 0],
		"an animal's": [143, ["people/ana", "people/lin", "animals/bo"], 1],
		"nobody's": [143, ["people/lin", "", ""], 0],
	}
	count(shelter.finding.night_warmth) == c[2] with input as bedded(c[1 - 1], c[1])
}

test_night_warmth_of_one_who_sleeps_with_the_carrier if {
	lin := t.person({"id": "people/lin", "age_months": 27, "carried_by": "people/ana"})
	[f.text | some f in shelter.finding.night_warmth] == ["for a night of 4 °C, 1 bag, quilt or blanket is warm enough, and 2 people need one each: 1 short"] with input as object.union(bedded(27, ["people/ana", "people/lin"]), {"people": [ana, ben, lin]})
}

test_night_warmth_of_a_bag_that_is_not_there if {
	facts := object.union(bedded(143, []), {"insulation": [object.union(rated("quilt", 0), {"owner": "people/lin", "count": 0}), object.union(rated("quilt", 0), {"count": 2})]})
	count(shelter.finding.night_warmth) == 1 with input as facts
}

test_each_pack_rides_along[what] if {
	some what, c in {
		"to a house": [true, "house", ["tarp"], [], true],
		"to a house, not reached": [true, "house", ["tarp"], ["note"], false],
		"to a camp": [true, "camp", ["tarp"], ["note"], true],
		"on foot": [false, "house", ["tarp"], ["error"], true],
		"nothing rides along": [true, "camp", [], ["error"], true],
		"nothing rides to a house": [true, "house", [], ["warning"], true],
	}
	facts := object.union(having("shelter", [], {}), {
		"plan": {"ridden": c[0], "destination": {"kind": c[1]}, "legs": [{"arrives": c[4]}]},
		"household": t.household({"supply": t.supply({"can": [t.can("shelter", c[2])]})}),
	})
	[object.get(f, "level", "error") | some f in shelter.finding.each_pack] == c[3] with input as facts
}

# Ana walks through a wood in the frost with these things to lie under.
frosty(plan, means) := object.union(having("shelter", ["tarp"], {}), {
	"plan": t.plan(object.union({"night_mc": -1, "settings": ["town", "woodland"]}, plan)),
	"household": t.household({}),
	"capabilities": [t.capability("shelter", [t.offer(m, {}) | some m in means])],
})

test_each_pack_only_blankets_in_frost if {
	shelter.finding.each_pack == {{
		"at": "household",
		"because": ["packs/rust/emergency-blanket"],
		"text": "nights are -0.001 °C, the way leads through open country, and all shelter is emergency-blanket",
		"level": "warning",
		"lack": 1,
	}} with input as frosty({}, ["emergency-blanket"])
}

test_each_pack_blankets_in_frost_do[what] if {
	some what, facts in {
		"no frost": frosty({"night_mc": 0}, ["emergency-blanket"]),
		"no season": frosty({"season_known": false}, ["emergency-blanket"]),
		"a town": frosty({"settings": ["town"]}, ["emergency-blanket"]),
		"nothing written": frosty({"settings": []}, ["emergency-blanket"]),
		"a tarp too": frosty({}, ["emergency-blanket", "tarp"]),
		"nothing at all": frosty({}, []),
		"ridden": frosty({"ridden": true}, ["emergency-blanket"]),
	}
	count(shelter.finding.each_pack) == 0 with input as facts
}

test_each_pack_blankets_in_frost_on_the_way_to_beds[what] if {
	some what, c in {
		"beds": [{"beds": true}, 12, "note"],
		"later": [{"beds": true}, 13, "warning"],
		"no beds": [{"beds": false}, 12, "warning"],
	}
	facts := frosty({"destination": c[0], "legs": [{"arrives": true, "end_hour": c[1]}]}, ["emergency-blanket"])
	[f.level | some f in shelter.finding.each_pack] == [c[2]] with input as facts
}

test_night_warmth_in_an_emergency_shelter[what] if {
	some what, c in {
		"in a shelter": [{}, {}, 2, "note"],
		"later": [{"end_hour": 13}, {}, 2, "warning"],
		"in a camp": [{}, {"destination": {"kind": "camp"}}, 2, "warning"],
		"one has none": [{}, {}, 1, "error"],
	}
	facts := night(-4000, [object.union(rated("quilt", 8000), {"count": c[2]})])
	more := object.union({"legs": [object.union({"arrives": true, "end_hour": 12}, c[0])], "destination": {"kind": "shelter", "beds": false}}, c[1])
	[object.get(f, "level", "error") | some f in shelter.finding.night_warmth] == [c[3]] with input as object.union(facts, {"plan": object.union(facts.plan, more)})
}

test_flimsy_not_recorded[what] if {
	some what, c in {"a tent": ["shelter:tent", "not recorded"], "another blanket": ["shelter:emergency-blanket", "warning"]}
	t.levels(shelter.finding.each_pack) == [c[1]] with input as t.with_unread(frosty({}, ["emergency-blanket"]), [t.unread(["shelter", c[0]], {})])
}

# Ana's quilt and Ben's bag on a night, and what keeps things dry.
rained(more) := object.union(
	{
		"household": t.household({}),
		"plan": t.plan({"night_mc": 15000}),
		"people": [t.person({}), t.person({"id": "people/ben", "name": "Ben"})],
		"insulation": [
			t.insulation("quilt", {"name": "Quilt", "owner": "people/ana"}),
			t.insulation("sleeping-bag", {"name": "Bag", "carrier": "people/ben", "pack": "packs/moss"}),
			t.insulation("jacket", {}),
			t.insulation("blanket", {"pack": ""}),
		],
		"compartments": [t.compartment({"waterproof": true})],
		"capabilities": [],
	},
	more,
)

test_dry if {
	shelter.finding.dry == {{
		"at": "packs/rust/quilt",
		"because": ["packs/rust/quilt", "packs/rust/sleeping-bag"],
		"text": "nothing is recorded that keeps Quilt of Ana and Bag of Ben dry in the rain",
	}} with input as rained({})
	liner := rained({"compartments": [], "capabilities": [t.capability("cover", [t.offer("liner", {})])]})
	count(shelter.finding.dry) == 1 with input as liner
	cover := rained({"capabilities": [t.capability("rain", [t.offer("pack-cover", {"pack": "packs/moss"}), t.offer("poncho", {"pack": "packs/rust"})])]})
	{f.because | some f in shelter.finding.dry} == {["packs/rust/quilt"]} with input as cover
	bag := rained({"insulation": [object.union(i, {"waterproof": i.kind == "quilt"}) | some i in rained({}).insulation]})
	{f.at | some f in shelter.finding.dry} == {"packs/rust/sleeping-bag"} with input as bag
}

test_dry_silent[why] if {
	some why, facts in {
		"nothing that keeps dry is recorded": rained({"compartments": [t.compartment({"waterproof": false})], "capabilities": [t.capability("cover", [t.offer("sheeting", {})])]}),
		"a warm night": rained({"plan": {"night_mc": 15001}}),
		"no season": rained({"plan": {"season_known": false}}),
		"to the car": rained({"plan": {"legs": [{}], "foot_mm": 500000}}),
		"all dry": rained({"insulation": [object.union(i, {"waterproof": true}) | some i in rained({}).insulation]}),
	}
	count(shelter.finding.dry) == 0 with input as facts
}

# Beds that await within hours: a warning without any shelter, a note where others have one.
test_each_pack_beds_soon[what] if {
	some what, c in {
		"none": [[], true, 12, "warning"],
		"others'": [["tarp"], true, 12, "note"],
		"a long way": [["tarp"], true, 13, ""],
		"no beds": [["tarp"], false, 12, ""],
	}
	plan := t.plan({"destination": {"beds": c[1], "kind": "shelter"}, "legs": [{"arrives": true, "end_hour": c[2]}]})
	facts := object.union(having("shelter", [], {}), {"plan": plan, "household": t.household({"supply": t.supply({"can": [t.can("shelter", m) | m := c[0]; m != []]})})})
	t.levels(shelter.finding.each_pack) == [c[3]] with input as facts
}
