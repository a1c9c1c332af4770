package rules.base.first_aid_test

import data.lib.testing_test as t
import data.rules.base.first_aid

basic := ["plasters", "dressings", "bandages", "antiseptic", "gloves"]

contents(kinds) := [{"kind": k, "count": 1} | some k in kinds]

kit(means, kinds) := {"first_aid": contents(kinds), "can": [t.can("first_aid", means) | means != []]}

# Ana and Ben, what each has, and what the household has.
aided(ana, ben, house, more) := object.union(
	{
		"people": [
			t.person({"alone": t.supply(ana)}),
			t.person({"id": "people/ben", "name": "Ben", "key": "ben", "packs": ["packs/sage"], "alone": t.supply(ben)}),
		],
		"household": t.household({"supply": t.supply(house)}),
		"capabilities": [],
	},
	more,
)

offers(list) := {"capabilities": [t.capability("first_aid", list)]}

full := kit([], basic)

none := kit([], [])

test_basic_in_each_pack_at_the_limit if {
	count(first_aid.finding.basic_in_each_pack) == 0 with input as aided(full, full, full, {})
}

test_basic_nowhere if {
	first_aid.finding.basic_in_each_pack == {{
		"at": "household",
		"because": [],
		"text": "the household's first aid has no plasters, dressings, bandages, antiseptic or gloves",
		"level": "error",
	}} with input as aided(none, none, {"first_aid": [{"kind": "plasters", "count": 0}]}, {})
}

test_basic_one_missing_everywhere if {
	most := kit([], ["plasters", "dressings", "bandages", "antiseptic", "tape"])
	first_aid.finding.basic_in_each_pack == {{
		"at": "packs/rust/aid",
		"because": [],
		"text": "the household's first aid has no gloves",
		"level": "warning",
	}} with input as aided(most, most, most, offers([t.offer("dressings", {"id": "packs/rust/aid"})]))
}

test_basic_of_somebody_with_nothing if {
	first_aid.finding.basic_in_each_pack == {{
		"at": "packs/sage",
		"because": ["people/ben"],
		"text": "Ben has no plasters, dressings, bandages, antiseptic or gloves at hand; others in the household do",
		"level": "warning",
	}} with input as aided(full, {"first_aid": [{"kind": "plasters", "count": 0}]}, full, offers([t.offer("dressings", {})]))
}

test_basic_of_somebody_with_less if {
	first_aid.finding.basic_in_each_pack == {{
		"at": "packs/sage/aid",
		"because": ["people/ben"],
		"text": "Ben has no antiseptic or gloves at hand; others in the household do",
		"level": "note",
	}} with input as aided(full, kit([], ["plasters", "dressings", "bandages"]), full, offers([t.offer("dressings", {}), t.offer("dressings", {"id": "packs/sage/aid", "carrier": "people/ben"})]))
}

# What nobody has is said once, of the household.
test_basic_of_somebody_with_less_of_what_there_is if {
	most := kit([], ["plasters", "dressings", "bandages", "antiseptic"])
	{f.text | some f in first_aid.finding.basic_in_each_pack} == {
		"the household's first aid has no gloves",
		"Ben has no antiseptic at hand; others in the household do",
	} with input as aided(most, kit([], ["plasters", "dressings", "bandages"]), most, {})
}

beside_ana(more) := {"people": [t.person({"alone": t.supply(full)}), t.person(object.union({"id": "people/ben"}, more))]}

test_basic_at_hand_with_others if {
	count(first_aid.finding.basic_in_each_pack) == 0 with input as object.union(aided(full, none, full, {}), beside_ana({"carries": false}))
	count(first_aid.finding.basic_in_each_pack) == 0 with input as object.union(aided(full, none, full, {}), beside_ana({"with": ["people/ana"]}))
	count(first_aid.finding.basic_in_each_pack) == 1 with input as object.union(aided(full, none, full, {}), beside_ana({"with": ["people/cleo"]}))
}

test_basic_age if {
	count(first_aid.finding.basic_in_each_pack) == 0 with input as object.union(aided(full, none, full, {}), beside_ana({"age_months": 143}))
	count(first_aid.finding.basic_in_each_pack) == 1 with input as object.union(aided(full, none, full, {}), beside_ana({"age_months": 144}))
}

test_basic_in_a_kit_of_a_standard[means] if {
	some means in ["din-13157", "din-13164", "ansi-a"]
	whole := kit([means], [])
	count(first_aid.finding.basic_in_each_pack) == 0 with input as aided(whole, whole, whole, {})
	{f.at | some f in first_aid.finding.basic_in_each_pack} == {"packs/sage"} with input as aided(kit([means], basic), none, kit([means], basic), {})
}

test_basic_in_a_kit_of_a_standard_beside_recorded_ones if {
	count(first_aid.finding.basic_in_each_pack) == 0 with input as aided(kit(["ansi-a"], []), full, kit([], basic), {})
}

test_basic_in_a_kit_not_recorded if {
	closed := kit(["kit"], [])
	first_aid.finding.basic_in_each_pack == {{
		"at": "packs/rust/kit",
		"because": [],
		"text": "what is in the first-aid kit is not recorded",
		"level": "note",
	}} with input as aided(closed, none, closed, offers([t.offer("dressings", {}), t.offer("kit", {})]))
	both := kit(["kit", "ansi-a"], [])
	count(first_aid.finding.basic_in_each_pack) == 0 with input as aided(both, both, both, offers([t.offer("kit", {})]))
}

test_basic_in_a_kit_that_is_recorded if {
	open := kit(["kit"], ["plasters"])
	{f.level | some f in first_aid.finding.basic_in_each_pack} == {"warning"} with input as aided(open, open, open, offers([t.offer("kit", {})]))
}

bled(supply, more) := {"household": t.household({"supply": t.supply(supply)}), "capabilities": object.get(more, "capabilities", [])}

test_bleeding_at_the_limit[why] if {
	some why, supply in {
		"an item that can": {"first_aid": contents(["plasters"]), "can": [t.can("bleeding", ["packing-gauze"])]},
		"a pressure bandage": {"first_aid": contents(["plasters", "pressureBandage"])},
		"a tourniquet": {"first_aid": contents(["plasters", "tourniquet"])},
		"a kit of a standard": kit(["ansi-a"], ["plasters"]),
		"no first aid at all": {"first_aid": contents(["tape"])},
		"a kit not recorded": kit(["kit"], []),
	}
	count(first_aid.finding.bleeding) == 0 with input as bled(supply, {})
}

test_bleeding_nothing_there[why] if {
	some why, supply in {
		"another capability": kit(["dressings"], ["bandages"]),
		"none of it": {"first_aid": [{"kind": "gloves", "count": 1}, {"kind": "tourniquet", "count": 0}]},
	}
	first_aid.finding.bleeding == {{
		"at": "packs/rust/dressings",
		"because": [],
		"text": "the household has nothing to stop a heavy bleed, such as a pressure bandage",
	}} with input as bled(supply, offers([t.offer("dressings", {})]))
}

household_list := ["tape", "triangular", "tweezers", "scissors", "blisterPads", "rescueBlanket", "guide"]

# All of the list but some contents, with what else the household has.
house(but, has) := {
	"household": t.household({
		"has": has,
		"supply": t.supply({"first_aid": contents(array.concat(basic, [k | some k in household_list; not k in but]))}),
	}),
	"capabilities": [],
}

test_household_list_at_the_limit if {
	count(first_aid.finding.household_list) == 0 with input as house([], [])
}

test_household_list_one_too_few if {
	first_aid.finding.household_list == {{
		"at": "household",
		"because": [],
		"text": "the household's first aid has no guide",
	}} with input as house(["guide"], ["can:repair:tape", "can:warmth:wool-blanket"])
}

test_household_list_with_nothing if {
	{f.text | some f in first_aid.finding.household_list} == {"the household's first aid has no tape, triangular bandage, tweezers, scissors, blister pads, rescue blanket or guide"} with input as house(household_list, [])
}

test_household_list_takes_other_words[has] if {
	some has, kind in {
		"can:cut:scissors": "scissors",
		"can:warmth:emergency-blanket": "rescueBlanket",
		"can:shelter:emergency-blanket": "rescueBlanket",
	}
	count(first_aid.finding.household_list) == 0 with input as house([kind], [has])
}

test_household_list_takes_other_words_for_nothing_else if {
	count(first_aid.finding.household_list) == 1 with input as house(
		["tape"],
		["can:cut:scissors", "can:warmth:emergency-blanket", "can:shelter:emergency-blanket"],
	)
}

test_household_list_left_to_others[why] if {
	some why, supply in {
		"basic contents lack": {"first_aid": contents(["plasters"])},
		"a kit of a standard": kit(["din-13164"], basic),
	}
	count(first_aid.finding.household_list) == 0 with input as {"household": t.household({"supply": t.supply(supply)}), "capabilities": []}
}

hot(day_mc, packets, more) := object.union(
	{
		"plan": t.plan({"day_mc": day_mc}),
		"people": [t.person({"age_months": 779})],
		"foods": [],
		"capabilities": [],
		"household": t.household({"supply": t.supply({"first_aid": array.concat([{"kind": "plasters", "count": 9}], packets)})}),
	},
	more,
)

test_rehydration_at_the_limit if {
	count(first_aid.finding.rehydration) == 0 with input as hot(30000, [{"kind": "rehydration", "count": 1}], {})
}

test_rehydration_one_too_few[why] if {
	some why, packets in {"none written": [], "none there": [{"kind": "rehydration", "count": 0}]}
	first_aid.finding.rehydration == {{
		"at": "household",
		"because": ["plan/season"],
		"text": "days reach 30 °C, and the household has no packets of rehydration salts; from 30 °C on it needs 1",
		"level": "note",
	}} with input as hot(30000, packets, {})
}

test_rehydration_level[why] if {
	some why, case in {
		"a small child": {"person": {"age_months": 59}, "level": "warning"},
		"a child": {"person": {"age_months": 60}, "level": "note"},
		"an elder": {"person": {"age_months": 780}, "level": "warning"},
		"of unknown age": {"person": {"age_months": 0, "age_known": false}, "level": "note"},
	}
	{f.level | some f in first_aid.finding.rehydration} == {case.level} with input as hot(30000, [], {"people": [t.person(case.person)]})
}

test_rehydration_by_the_households_own_limit if {
	own := {"limits": [{"area": "first_aid", "name": "rehydration", "list": false, "value": 4, "values": []}]}
	{f.text | some f in first_aid.finding.rehydration} == {"days reach 33 °C, and the household has 3 packets of rehydration salts; from 30 °C on it needs 4"} with input as hot(33000, [{"kind": "rehydration", "count": 3}], own)
	{f.text | some f in first_aid.finding.rehydration} == {"days reach 33 °C, and the household has 1 packet of rehydration salts; from 30 °C on it needs 4"} with input as hot(33000, [{"kind": "rehydration", "count": 1}], own)
}

test_rehydration_written_both_ways if {
	own := {"limits": [{"area": "first_aid", "name": "rehydration", "list": false, "value": 4, "values": []}], "foods": [t.food({"name": "electrolytes"})]}
	{f.text | some f in first_aid.finding.rehydration} == {"days reach 33 °C, and the household has 3 packets of rehydration salts; from 30 °C on it needs 4"} with input as hot(33000, [{"kind": "rehydration", "count": 2}], own)
}

test_rehydration_written_as_food if {
	every word in ["Oral Rehydration salts", "electrolyte powder", "Elektrolytpulver", "sels de réhydratation", "sales de rehidratación", "経口補水塩"] {
		count(first_aid.finding.rehydration) == 0 with input as hot(30000, [], {"foods": [t.food({}), t.food({"name": word})]})
	}
	count(first_aid.finding.rehydration) == 1 with input as hot(30000, [], {"foods": [t.food({})]})
}

test_rehydration_not_asked_in_cooler_days if {
	count(first_aid.finding.rehydration) == 0 with input as hot(29999, [], {})
}

test_rehydration_not_asked_without_a_season if {
	count(first_aid.finding.rehydration) == 0 with input as hot(30000, [], {"plan": t.plan({"season_known": false, "day_mc": 30000})})
}

test_basic_not_recorded[what] if {
	single := [t.unread(["first-aid-contents", sprintf("first-aid-contents:%s", [k])], {"id": k, "carrier": "people/cy"}) | some k in ["plasters", "dressings", "bandages", "antiseptic", "gloves"]]
	some what, c in {
		"a kit": [[t.unread(["first-aid-contents", "first_aid", "first_aid:kit"], {"carrier": "people/cy"})], ["not recorded"]],
		"a kit without its list": [[t.unread(["first-aid-contents"], {"what": "list of contents", "carrier": "people/cy"})], ["not recorded"]],
		"single things": [single, ["not recorded"]],
		"some of them": [array.slice(single, 0, 1), ["not recorded", "warning"]],
		"others": [[t.unread(["first-aid-contents", "first-aid-contents:tweezers"], {})], ["error"]],
	}
	t.levels(first_aid.finding.basic_in_each_pack) == c[1] with input as t.with_unread(aided(none, none, {}, {}), c[0])
}

test_basic_not_recorded_in_part if {
	plasters := t.unread(["first-aid-contents", "first-aid-contents:plasters"], {})
	{f.text | some f in first_aid.finding.basic_in_each_pack; not f.unrecorded} == {"the household's first aid has no dressings, bandages, antiseptic or gloves"} with input as t.with_unread(aided(none, none, {}, {}), [plasters])
}

test_basic_not_recorded_of_one[what] if {
	some what, c in {"his": ["people/ben", "not recorded"], "another's": ["people/ana", "warning"]}
	things := [t.unread(["first-aid-contents", "first_aid:kit"], {"carrier": c[0]})]
	t.levels(first_aid.finding.basic_in_each_pack) == [c[1]] with input as t.with_unread(aided(full, none, full, {}), things)
}

test_bleeding_not_recorded if {
	facts := aided(full, full, full, {})
	t.levels(first_aid.finding.bleeding) == ["not recorded"] with input as t.with_unread(facts, [t.unread(["bleeding", "bleeding:tourniquet"], {})])
	t.levels(first_aid.finding.bleeding) == [""] with input as t.with_unread(facts, [t.unread(["first_aid"], {})])
}

test_basic_rides_along if {
	[f.level | some f in first_aid.finding.basic_in_each_pack] == ["note"] with input as aided(full, none, full, {"plan": {"ridden": true}})
	[f.level | some f in first_aid.finding.basic_in_each_pack] == ["warning"] with input as aided(full, none, full, {"plan": {"ridden": false}})
	[f.level | some f in first_aid.finding.basic_in_each_pack] == ["error"] with input as aided(none, none, none, {"plan": {"ridden": true}})
	house := {"destination": {"kind": "house"}, "legs": [{"arrives": true}]}
	count(first_aid.finding.basic_in_each_pack) == 0 with input as aided(full, none, full, {"plan": object.union(house, {"ridden": true})})
	count(first_aid.finding.basic_in_each_pack) == 1 with input as aided(full, none, full, {"plan": object.union(house, {"ridden": false})})
	count(first_aid.finding.basic_in_each_pack) == 1 with input as aided(none, none, none, {"plan": object.union(house, {"ridden": true})})
}
