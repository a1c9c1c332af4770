package rules.base.first_aid_test

import data.lib.testing_test as t
import data.rules.base.first_aid

basic := ["plasters", "dressings", "bandages", "antiseptic", "gloves"]

contents(kinds) := [{"kind": k, "count": 1} | some k in kinds]

packs(first_aid) := {"packs": [t.pack({"supply": t.supply({"first_aid": first_aid})})]}

test_basic_in_each_pack_at_the_limit if {
	count(first_aid.finding.basic_in_each_pack) == 0 with input as packs(contents(basic))
}

test_basic_in_each_pack_one_too_few if {
	first_aid.finding.basic_in_each_pack == {{
		"at": "packs/rust",
		"text": "Rust's first aid lacks gloves: 4 of the 5 basic contents are there, 1 too few",
	}} with input as packs(array.concat(contents(array.slice(basic, 0, 4)), [{"kind": "gloves", "count": 0}]))
}

test_basic_in_each_pack_not_asked_of_animals if {
	count(first_aid.finding.basic_in_each_pack) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}

test_bleeding_at_the_limit[why] if {
	some why, supply in {
		"an item that can": t.supply({"can": [t.can("bleeding", ["packing-gauze"])]}),
		"a pressure bandage": t.supply({"first_aid": contents(["plasters", "pressureBandage"])}),
		"a tourniquet": t.supply({"first_aid": contents(["tourniquet"])}),
	}
	count(first_aid.finding.bleeding) == 0 with input as {"packs": [t.pack({"supply": supply})]}
}

test_bleeding_nothing_there[why] if {
	some why, supply in {
		"nothing": t.supply({}),
		"another capability": t.supply({"can": [t.can("first_aid", ["kit"])]}),
		"other contents": t.supply({"first_aid": contents(["bandages"])}),
		"none of it": t.supply({"first_aid": [{"kind": "tourniquet", "count": 0}]}),
	}
	first_aid.finding.bleeding == {{
		"at": "packs/rust",
		"text": "Rust holds 0 things that stop a heavy bleed, such as a pressure bandage; 1 is asked: 1 too few",
	}} with input as {"packs": [t.pack({"supply": supply})]}
}

test_bleeding_not_asked_of_animals if {
	count(first_aid.finding.bleeding) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}

household_list := ["tape", "triangular", "tweezers", "scissors", "blisterPads", "rescueBlanket", "guide"]

# All of the list but some contents, with what else the household has.
house(but, has) := {"household": t.household({
	"has": has,
	"supply": t.supply({"first_aid": contents([k | some k in household_list; not k in but])}),
})}

test_household_list_at_the_limit if {
	count(first_aid.finding.household_list) == 0 with input as house([], [])
}

test_household_list_one_too_few if {
	first_aid.finding.household_list == {{
		"at": "household",
		"text": "the household's first aid lacks guide: 6 of the 7 contents asked are there, 1 too few",
	}} with input as house(["guide"], ["can:repair:tape", "can:warmth:wool-blanket"])
}

test_household_list_with_nothing if {
	first_aid.finding.household_list == {{
		"at": "household",
		"text": "the household's first aid lacks tape, triangular bandage, tweezers, scissors, blister pads, rescue blanket and guide: 0 of the 7 contents asked are there, 7 too few",
	}} with input as house(household_list, [])
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

hot(day_mc, packets) := {
	"plan": t.plan({"day_mc": day_mc}),
	"household": t.household({"supply": t.supply({"first_aid": array.concat([{"kind": "plasters", "count": 9}], packets)})}),
}

test_rehydration_at_the_limit if {
	count(first_aid.finding.rehydration) == 0 with input as hot(25000, [{"kind": "rehydration", "count": 1}])
}

test_rehydration_one_too_few[why] if {
	some why, packets in {"none written": [], "none there": [{"kind": "rehydration", "count": 0}]}
	first_aid.finding.rehydration == {{
		"at": "household",
		"because": ["plan/season"],
		"text": "days of the season reach 25 °C, hot from 25 °C on, and the household has 0 packets of rehydration salts; 1 asked: 1 too few",
	}} with input as hot(25000, packets)
}

test_rehydration_asked_by_the_households_own_limit if {
	own := [{"area": "first_aid", "name": "rehydration", "list": false, "value": 4, "values": []}]
	facts := object.union(hot(33000, [{"kind": "rehydration", "count": 1}]), {"limits": own})
	first_aid.finding.rehydration == {{
		"at": "household",
		"because": ["plan/season"],
		"text": "days of the season reach 33 °C, hot from 25 °C on, and the household has 1 packet of rehydration salts; 4 asked: 3 too few",
	}} with input as facts
}

test_rehydration_not_asked_in_cooler_days if {
	count(first_aid.finding.rehydration) == 0 with input as hot(24999, [])
}

test_rehydration_not_asked_without_a_season if {
	facts := object.union(hot(25000, []), {"plan": t.plan({"season_known": false, "day_mc": 25000})})
	count(first_aid.finding.rehydration) == 0 with input as facts
}

test_basic_in_each_pack_not_recorded if {
	thing := {"id": "packs/rust/x", "name": "first aid kit", "pack": "packs/rust", "carrier": "people/ana", "may": ["first-aid-contents"], "count": 1}
	facts := object.union(packs([]), {"unrecorded": [thing]})
	[f.level | some f in first_aid.finding.basic_in_each_pack] == ["note"] with input as facts
}
