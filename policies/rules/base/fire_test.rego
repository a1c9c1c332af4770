package rules.base.fire_test

import data.lib.testing_test as t
import data.rules.base.fire

# A person with these ways to make fire, the things behind them, and tinder.
burning(means, more) := {
	"people": [t.person({"alone": t.supply({"can": [t.can("fire", means), t.can("tinder", ["wax"])]})})],
	"capabilities": [t.capability("fire", [t.offer(m, more) | some m in means])],
	"plan": t.plan({}),
	"household": t.household({}),
	"stoves": [],
}

dry := {"waterproof": true}

# The same of a person with these facts.
of(means, person) := object.union(
	burning(means, dry),
	{"people": [object.union(burning(means, dry).people[0], person)]},
)

test_two_means_at_the_limit if {
	count(fire.finding.two_means) == 0 with input as burning(["gas-lighter", "matches"], dry)
}

test_two_means_one_too_few if {
	fire.finding.two_means == {{
		"at": "packs/rust",
		"because": ["packs/rust/matches"],
		"text": "Ana has 1 way to make fire (matches) and needs 2 different ones",
		"lack": 1,
	}} with input as burning(["matches"], dry)
}

test_two_means_one_that_is_wet if {
	facts := object.union(burning(["matches"], {}), {"people": [t.person({"alone": t.supply({"can": [t.can("fire", ["matches"])]})})]})
	fire.finding.two_means == {{
		"at": "packs/rust",
		"because": ["packs/rust/matches"],
		"text": "Ana has 1 way to make fire (matches) and needs 2 different ones; none of them works when wet or is packed waterproof",
		"lack": 1,
	}} with input as facts
}

test_two_means_of_who_has_no_pack if {
	fire.finding.two_means == {{
		"at": "people/ana",
		"because": [],
		"text": "Ana has no way to make fire and needs 2 different ones",
		"lack": 2,
	}} with input as of([], {"packs": [], "pack_count": 0, "alone": t.supply({})})
}

test_two_means_where_one_is_the_limit if {
	fire.finding.two_means == {{
		"at": "packs/rust",
		"because": [],
		"text": "Ana has no way to make fire and needs 1",
		"lack": 1,
	}} with input as burning([], dry) with data.limits.base.fire.means.value as 1
}

test_two_means_none_asked if {
	count(fire.finding.two_means) == 0 with input as burning([], dry) with data.limits.base.fire.means.value as 0
}

test_two_means_by_age if {
	count(fire.finding.two_means) == 0 with input as of([], {"age_months": 143})
	count(fire.finding.two_means) == 1 with input as of([], {"age_months": 144})
	count(fire.finding.two_means) == 1 with input as of([], {"age_months": 0}) with data.limits.base.people.hand_months.value as 0
}

# Whoever is never alone has what those beside them have.
test_two_means_of_those_beside if {
	facts := burning(["gas-lighter", "matches"], dry)
	ben := t.person({"id": "people/ben", "packs": [], "pack_count": 0, "carries": false, "with": ["people/ana"]})
	count(fire.finding.two_means) == 0 with input as object.union(facts, {"people": array.concat(facts.people, [ben])})
}

test_two_means_nothing_that_works_wet if {
	fire.finding.two_means == {{
		"at": "packs/rust/gas-lighter",
		"level": "warning",
		"because": ["packs/rust/gas-lighter", "packs/rust/matches"],
		"text": "Ana has 2 ways to make fire (gas-lighter and matches); none of them works when wet or is packed waterproof",
		"lack": 1,
	}} with input as burning(["gas-lighter", "matches"], {})
}

test_two_means_each_that_works_wet[means] if {
	some means, bad in {
		"ferro-rod": 0,
		"electric-lighter": 1,
		"fire-piston": 1,
		"fluid-lighter": 1,
		"gas-lighter": 1,
		"lens": 1,
	}
	count(fire.finding.two_means) == bad with input as burning(["matches", means], {})
}

# What is dry elsewhere, or is no fire, does not help.
test_two_means_counts_no_other_dry_thing[what] if {
	some what, other in {
		"person": [t.capability("fire", [t.offer("matches", {}), t.offer("gas-lighter", {}), t.offer("lens", {"carrier": "people/ben", "waterproof": true})])],
		"thing": [t.capability("fire", [t.offer("matches", {}), t.offer("gas-lighter", {})]), t.capability("light", [t.offer("headlamp", {"waterproof": true})])],
	}
	facts := object.union(burning(["matches", "gas-lighter"], {}), {"capabilities": other})
	count(fire.finding.two_means) == 1 with input as facts
}

no_tinder(more) := object.union(
	object.union(
		burning(["matches", "ferro-rod"], {}),
		{"people": [t.person({"alone": t.supply({"can": [t.can("fire", ["ferro-rod", "matches"])]})})]},
	),
	more,
)

test_tinder if {
	count(fire.finding.two_means) == 0 with input as no_tinder({})
	fire.finding.tinder == {{
		"at": "packs/rust",
		"because": ["people/ana"],
		"text": "no tinder at hand: Ana",
		"lack": 1,
	}} with input as no_tinder({})
	count(fire.finding.tinder) == 0 with input as burning(["matches"], {})
}

# A child, and somebody who has no fire, need none.
test_tinder_of_two if {
	ben := no_tinder({}).people[0]
	every c in [[{}, 2], [{"age_months": 143}, 1], [{"age_months": 144}, 2], [{"alone": t.supply({})}, 1]] {
		people := [no_tinder({}).people[0], object.union(ben, object.union({"id": "people/ben", "name": "Ben"}, c[0]))]
		{f.lack | some f in fire.finding.tinder} == {c[1]} with input as no_tinder({"people": people})
	}
}

test_tinder_of_those_beside if {
	ana := burning(["matches"], {}).people[0]
	ben := object.union(no_tinder({}).people[0], {"id": "people/ben", "with": ["people/ana"]})
	count(fire.finding.tinder) == 0 with input as no_tinder({"people": [ana, ben]})
}

soon := {"arrives": true, "end_hour": 12}

test_tinder_where_it_is_needed[what] if {
	some what, c in {
		"town": [{"plan": t.plan({"settings": ["town"]})}, 0],
		"town and woodland": [{"plan": t.plan({"settings": ["town", "woodland"]})}, 1],
		"a gas stove": [{"stoves": [t.stove(["gas-mix"], {})]}, 0],
		"to the car": [{"plan": t.plan({"legs": [{}], "foot_mm": 500000})}, 0],
		"a house within hours": [{"plan": t.plan({"legs": [soon], "foot_mm": 500001, "destination": {"kind": "house"}})}, 0],
		"a shelter within hours": [{"plan": t.plan({"legs": [soon], "foot_mm": 500001, "destination": {"kind": "shelter"}})}, 0],
		"a camp within hours": [{"plan": t.plan({"legs": [soon], "foot_mm": 500001, "destination": {"kind": "camp"}})}, 1],
		"a house later": [{"plan": t.plan({"legs": [object.union(soon, {"end_hour": 13})], "foot_mm": 500001, "destination": {"kind": "house"}})}, 1],
		"a stove for wood": [{"stoves": [t.stove(["wood"], {})]}, 1],
		"a stove for both": [{"stoves": [t.stove(["wood", "ethanol"], {})]}, 0],
	}
	count(fire.finding.tinder) == c[1] with input as no_tinder(c[0])
}

bare_fire(means) := object.union(burning(means, {}), {"people": [t.person({"alone": t.supply({"can": [t.can("fire", means)]})})]})

test_two_means_not_recorded[what] if {
	ferro := t.unread(["fire", "fire:ferro-rod"], {"id": "f", "name": "steel"})
	lighter := t.unread(["fire", "fire:gas-lighter"], {"id": "l", "name": "lighter"})
	wax := t.unread(["tinder", "tinder:wax"], {"id": "w", "name": "wax"})
	some what, c in {
		"both": [burning([], dry), [ferro, lighter], "not recorded", ["f", "l"]],
		"one of two": [burning([], dry), [ferro], "error", []],
		"the same way again": [burning(["gas-lighter"], dry), [lighter], "error", ["packs/rust/gas-lighter"]],
		"the other way": [burning(["gas-lighter"], dry), [ferro], "not recorded", ["packs/rust/gas-lighter", "f"]],
		"with tinder": [bare_fire(["gas-lighter"]), [ferro, wax], "not recorded", ["packs/rust/gas-lighter", "f"]],
		"another's": [burning(["gas-lighter"], dry), [object.union(ferro, {"carrier": "people/ben"})], "error", ["packs/rust/gas-lighter"]],
		"what works wet": [burning(["gas-lighter", "matches"], {}), [ferro], "not recorded", ["packs/rust/gas-lighter", "packs/rust/matches", "f"]],
		"nothing that works wet": [burning(["gas-lighter", "matches"], {}), [lighter, wax], "warning", ["packs/rust/gas-lighter", "packs/rust/matches"]],
	}
	got := fire.finding.two_means with input as t.with_unread(c[0], c[1])
	[[object.get({"": "error"}, t.level_of(f), t.level_of(f)), f.because] | some f in got] == [[c[2], c[3]]]
}

test_tinder_not_recorded[what] if {
	some what, c in {"hers": [{}, true], "another's": [{"carrier": "people/ben"}, false]}
	wax := t.unread(["tinder", "tinder:wax"], object.union({"id": "w", "name": "wax"}, c[0]))
	got := fire.finding.tinder with input as t.with_unread(no_tinder({}), [wax])
	{id | some f in got; some id in f.because; id == "w"} == {id | some id in ["w"]; c[1]}
}

# Ana and what the household has; to a house in a vehicle.
riding(plan, house) := object.union(of([], {"packs": []}), {
	"plan": t.plan(object.union({"ridden": true, "destination": {"kind": "house"}, "legs": [{"arrives": true}]}, plan)),
	"household": t.household({"supply": t.supply({"can": [t.can("fire", house)]})}),
})

test_two_means_ridden_to_a_house[what] if {
	some what, c in {
		"enough": [{}, ["gas-lighter", "matches"], "warning"],
		"one of two": [{}, ["matches"], "error"],
		"none": [{}, [], "error"],
		"on foot": [{"ridden": false}, ["gas-lighter", "matches"], "error"],
		"to a camp": [{"destination": {"kind": "camp"}}, ["gas-lighter", "matches"], "error"],
	}
	[object.get(f, "level", "error") | some f in fire.finding.two_means] == [c[2]] with input as riding(c[0], c[1])
}

test_two_means_beside_oxygen[what] if {
	some what, c in {
		"oxygen": [{"person": "people/ana", "name": "Oxygen concentrator"}, 0],
		"another's": [{"person": "people/ben", "name": "Oxygen concentrator"}, 1],
		"another device": [{"person": "people/ana", "name": "nebuliser"}, 1],
	}
	count(fire.finding.two_means) == c[1] with input as object.union(burning(["matches"], dry), {"care_devices": [c[0]]})
}

test_two_means_beside_oxygen_by_each_word[word] if {
	some word in ["oxygen", "sauerstoff", "oxygène", "oxígeno", "酸素"]
	count(fire.finding.two_means) == 0 with input as object.union(burning(["matches"], dry), {"care_devices": [{"person": "people/ana", "name": sprintf("%s, small", [upper(word)])}]})
}

# What cannot be read may be as many ways as it is things; of what is named alike, all are one way.
test_two_means_by_different_ways[what] if {
	some what, c in {
		"two that cannot be read": [[t.unread(["fire"], {"what": "unreadable", "count": 2})], "not recorded", ""],
		"one that cannot be read": [[t.unread(["fire"], {"what": "unreadable"})], "", "; not recorded: “thing”"],
		"two lighters": [[t.unread(["fire", "fire:gas-lighter"], {"count": 2})], "", "; not recorded: “thing”"],
	}
	facts := t.with_unread(burning([], {}), c[0])
	t.levels(fire.finding.two_means) == [c[1]] with input as facts
	[f | some f in fire.finding.two_means; not f.unrecorded; not endswith(f.text, c[2])] == [] with input as facts
}
