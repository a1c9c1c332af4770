package rules.base.shoes_test

import data.lib.testing_test as t
import data.rules.base.shoes

ana := t.person({})

ben := t.person({"id": "people/ben", "name": "Ben", "packs": [], "pack_count": 0})

pip := t.person({"id": "people/pip", "name": "Pip", "packs": [], "age_months": 11})

pair(means, more) := t.offer(means, object.union({"whose": "people/ana"}, more))

facts(people, plan, offers) := {
	"plan": t.plan(object.union({"night_mc": 12000}, plan)),
	"household": t.household({}),
	"people": people,
	"capabilities": [t.capability("footwear", offers)],
}

test_to_walk_in_at_the_limit if {
	count(shoes.finding.to_walk_in) == 0 with input as facts([ana, ben, pip], {}, [pair("shoes", {}), pair("boots", {"whose": "people/ben"})])
}

test_to_walk_in_stands_at_the_one_without if {
	shoes.finding.to_walk_in == {{
		"at": "people/ben",
		"because": ["people/ben"],
		"text": "Ben has no shoes to walk in",
		"level": "note",
	}} with input as facts([ana, ben], {}, [pair("shoes", {})])
}

test_to_walk_in_never_recorded_is_one_finding if {
	shoes.finding.to_walk_in == {{
		"at": "household",
		"because": ["people/ana"],
		"text": "no shoes to walk in are recorded for anyone",
		"level": "note",
	}} with input as object.union(facts([ana, pip], {}, []), {"capabilities": []})
}

test_to_walk_in_age_and_who_is_carried[what] if {
	some what, c in {"a year old": [{"age_months": 12}, 1], "carried": [{"age_months": 30, "carried_by": "people/ana"}, 0], "in a chair": [{"age_months": 300, "moves": "wheelchair"}, 0], "in a power chair": [{"age_months": 300, "moves": "power-chair"}, 0], "carried grown": [{"age_months": 300, "moves": "carried"}, 0], "younger": [{}, 0]}
	count(shoes.finding.to_walk_in) == c[1] with input as facts([object.union(pip, c[0])], {}, [pair("shoes", {})])
}

test_to_walk_in_level[what] if {
	some what, c in {
		"mild": [{"night_mc": 1}, "note"],
		"frost": [{"night_mc": 0}, "error"],
		"frost, no season": [{"night_mc": 0, "season_known": false}, "note"],
		"snow": [{"settings": ["snow"]}, "error"],
		"quake": [{"hazards": ["heat", "quake"]}, "error"],
		"fire": [{"hazards": ["fire"]}, "warning"],
		"flood": [{"hazards": ["flood"]}, "warning"],
		"industrial": [{"hazards": ["industrial"]}, "warning"],
		"storm": [{"hazards": ["storm"]}, "warning"],
		"tsunami": [{"hazards": ["tsunami"]}, "warning"],
		"volcano": [{"hazards": ["volcano"]}, "warning"],
		"flood and frost": [{"hazards": ["flood", "frost"]}, "error"],
		"heat": [{"hazards": ["heat"]}, "note"],
	}
	{f.level | some f in shoes.finding.to_walk_in} == {c[1]} with input as facts([ana, ben], c[0], [pair("boots", {})])
	unrecorded := {"error": "warning", "warning": "note", "note": "note"}
	{f.level | some f in shoes.finding.to_walk_in} == {unrecorded[c[1]]} with input as facts([ana, ben], c[0], [])
}

# Of what two lack, as many may be there.
test_to_walk_in_not_recorded[what] if {
	some what, c in {
		"one pair": [1, ["not recorded", "note"], ["not recorded", "warning"]],
		"two pairs": [2, ["not recorded"], ["not recorded"]],
	}
	boots := t.unread(["footwear", "footwear:boots"], {"count": c[0]})
	{l | some l in t.levels(shoes.finding.to_walk_in)} == {l | some l in c[1]} with input as t.with_unread(facts([ana, ben], {"night_mc": 1}, []), [boots])
	cold := t.with_unread(facts([ana, ben], {"settings": ["snow"]}, [pair("shoes", {})]), [boots])
	{l | some l in t.levels(shoes.finding.to_walk_in)} == {l | some l in c[2]} with input as cold
}

test_to_walk_in_not_recorded_in_words if {
	boots := t.unread(["footwear", "footwear:boots"], {"count": 1})
	{f.text | some f in shoes.finding.to_walk_in} == {"Ben has no shoes to walk in", "Ana has no shoes to walk in (not recorded: “thing” may do)"} with input as t.with_unread(facts([ana, ben], {}, []), [boots])
	{f.text | some f in shoes.finding.to_walk_in} == {"Ben has no boots for the snow", "Ben has no shoes to walk in; Ana has no boots for the snow (not recorded: “thing” may do)"} with input as t.with_unread(facts([ana, ben], {"settings": ["snow"]}, [pair("shoes", {})]), [boots])
	{f.text | some f in shoes.finding.to_walk_in} == {"Ana and Ben have no shoes to walk in"} with input as facts([ana, ben], {}, [pair("shoes", {"whose": "people/pip"})])
}

test_boots_for_the_snow if {
	shoes.finding.to_walk_in == {{
		"at": "packs/rust",
		"because": ["people/ana"],
		"text": "Ana has no boots for the snow",
		"level": "warning",
	}} with input as facts([ana, ben], {"settings": ["snow"]}, [pair("shoes", {}), pair("rubber-boots", {"whose": "people/ben"})])
}

test_boots_of_either_kind_are_fit_for_snow if {
	count(shoes.finding.to_walk_in) == 0 with input as facts([ana, ben], {"settings": ["snow"]}, [pair("boots", {}), pair("rubber-boots", {"whose": "people/ben"})])
}

test_barefoot_in_the_snow_comes_first if {
	shoes.finding.to_walk_in == {{
		"at": "household",
		"because": ["people/ana", "people/ben"],
		"text": "Ben has no shoes to walk in; Ana and Ben have no boots for the snow",
		"level": "error",
	}} with input as facts([ana, ben], {"settings": ["snow"]}, [pair("shoes", {})])
}

test_nobody_has_shoes_in_the_snow if {
	{f.text | some f in shoes.finding.to_walk_in} == {"no shoes to walk in are recorded for anyone"} with input as facts([ana, ben], {"settings": ["snow"]}, [])
}

beds(people, plan, footwear, lights) := object.union(facts(people, plan, []), {"capabilities": [t.capability("footwear", footwear), t.capability("light", lights)]})

test_bedside_at_the_limit if {
	two := {"place": "bed", "whose": "", "count": 2}
	count(shoes.finding.bedside) == 0 with input as beds([ana, ben, pip], {"hazards": ["quake"]}, [pair("shoes", two)], [t.offer("torch", two)])
}

test_bedside_missing if {
	shoes.finding.bedside == {{
		"at": "people/ben",
		"because": ["people/ana", "people/ben"],
		"text": "quake: Ben has no shoes by the bed; Ana and Ben have no light by the bed",
	}} with input as beds([ana, ben], {"hazards": ["heat", "quake"]}, [pair("shoes", {"place": "bed"})], [t.offer("torch", {"place": "door"})])
}

test_bedside_names_who_lacks_something if {
	{f.because | some f in shoes.finding.bedside} == {["people/ben"]} with input as beds([ana, ben], {"hazards": ["quake"]}, [pair("shoes", {"place": "bed"})], [pair("torch", {"place": "bed"})])
}

test_bedside_of_one_stands_there if {
	shoes.finding.bedside == {{
		"at": "people/ben",
		"because": ["people/ben"],
		"text": "quake: Ben has no light by the bed",
	}} with input as beds([ben], {"hazards": ["fire", "quake"]}, [pair("shoes", {"place": "bed", "whose": "people/ben"})], [])
}

test_bedside_not_asked[what] if {
	some what, c in {"no danger": [[ana], {"hazards": ["fire", "flood", "storm"]}], "too young": [[t.person({"age_months": 59})], {"hazards": ["quake"]}]}
	count(shoes.finding.bedside) == 0 with input as beds(c[0], c[1], [], [])
}

flooded := {"hazards": ["flood"], "foot_mm": 1000000}

test_flood_one_pair if {
	shoes.finding.flood == {{
		"at": "packs/rust",
		"because": ["people/ana"],
		"text": "floods: Ana has no rubber boots and no second pair of shoes",
	}} with input as facts([ana, ben], flooded, [pair("boots", {"whose": ""})])
}

test_flood_of_several if {
	shoes.finding.flood == {{
		"at": "household",
		"because": ["people/ana", "people/ben"],
		"text": "floods: Ana and Ben have no rubber boots and no second pair of shoes",
	}} with input as facts([ana, ben], flooded, [pair("boots", {}), pair("shoes", {"whose": "people/ben"})])
}

test_flood_silent[what] if {
	some what, c in {
		"rubber boots": [flooded, [pair("rubber-boots", {})]],
		"a second pair": [flooded, [pair("boots", {}), pair("shoes", {})]],
		"two of a kind": [flooded, [pair("shoes", {"count": 2})]],
		"none at all": [flooded, []],
		"in another's pack": [flooded, [pair("shoes", {"whose": "", "carrier": "people/ben"})]],
		"no flood": [{"hazards": ["quake"], "foot_mm": 1000000}, [pair("shoes", {})]],
		"a short way": [{"hazards": ["flood"], "foot_mm": 999999}, [pair("shoes", {})]],
	}
	count(shoes.finding.flood) == 0 with input as facts([ana], c[0], c[1])
}
