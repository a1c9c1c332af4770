package rules.base.water_test

import data.lib.testing_test as t
import data.rules.base.water

# A person with these ways to treat water.
treating(methods, more) := t.person(object.union({"alone": t.supply({"can": [t.can("treat-water", methods) | methods != []]})}, more))

# People with and without treatment, and what does not work.
group(people, useless) := {"people": people, "useless": useless}

test_purification_at_the_limit if {
	count(water.finding.purification) == 0 with input as group([treating(["filter"], {})], [])
}

test_purification_one_too_few if {
	water.finding.purification == {{
		"at": "packs/rust",
		"because": [],
		"text": "Ana carries no way to treat water",
		"lack": 1,
	}} with input as group([treating([], {})], [t.useless("cook", "no-fuel", {})])
}

test_purification_of_somebody_without_a_pack if {
	some f in water.finding.purification with input as group([treating([], {"packs": [], "pack_count": 0})], [])
	f.at == "people/ana"
}

own_means(n) := {"limits": [{
	"area": "water",
	"name": "treat_means",
	"list": false,
	"value": n,
	"values": [],
}]}

test_purification_where_two_are_asked[have] if {
	some have, text in {
		"filter": "Ana carries 1 of the 2 ways to treat water needed (filter)",
		"": "Ana carries none of the 2 ways to treat water needed",
	}
	facts := object.union(group([treating([m | some m in [have]; m != ""], {})], []), own_means(2))
	some f in water.finding.purification with input as facts
	f.text == text
}

test_purification_where_three_are_asked if {
	facts := object.union(group([treating(["filter", "uv"], {})], []), own_means(3))
	some f in water.finding.purification with input as facts
	f.text == "Ana carries 2 of the 3 ways to treat water needed (filter and uv)"
	f.lack == 1
}

test_purification_at_what_does_not_work if {
	frozen := t.useless("treat-water", "frozen", {"item": "packs/rust/filter", "name": "Filter", "means": "filter", "words": "has been wet"})
	cold := t.useless("treat-water", "cold-fuel", {"item": "packs/rust/pot", "name": "Pot", "means": "boil", "words": "is cold", "cause": "packs/rust/gas"})
	others := t.useless("treat-water", "frozen", {"carrier": "people/ben"})
	water.finding.purification == {{
		"at": "packs/rust/filter",
		"because": ["packs/rust/filter", "packs/rust/pot"],
		"text": "Ana carries no way to treat water that works: Filter (filter) has been wet; Pot (boil) is cold",
		"lack": 1,
	}} with input as group([treating([], {})], [others, frozen, cold])
	some f in water.finding.purification with input as group([treating([], {})], [cold, frozen])
	f.at == "packs/rust/gas"
	some two in water.finding.purification with input as object.union(group([treating(["uv"], {})], [frozen]), own_means(2))
	two.text == "Ana carries 1 of the 2 ways to treat water needed (uv); Filter (filter) has been wet"
}

# Where water waits at the end of the way, it is a note.
test_purification_where_water_waits if {
	facts := object.union(group([treating([], {"age_months": 100})], []), {"plan": t.plan({"destination": {"water": true}})})
	[f.level | some f in water.finding.purification] == ["note"] with input as facts
}

# A child is told of a filter bottle in a note, below the age for a bag not at all.
test_purification_by_age[months] if {
	some months, level in {72: "note", 143: "note", 144: "error", 71: "none"}
	facts := group([treating([], {"age_months": months})], [])
	levels := [object.get(f, "level", "error") | some f in water.finding.purification] with input as facts
	levels == [l | some l in [level]; l != "none"]
}

test_purification_of_a_child_names_no_tablets if {
	[f.text | some f in water.finding.purification] == ["Ana carries no way to treat water; a child treats water with a filter bottle, not with tablets"] with input as group([treating([], {"age_months": 143})], [])
}

ben(methods, more) := treating(methods, object.union({"id": "people/ben", "name": "Ben", "packs": ["packs/moss"]}, more))

mia(more) := treating([], object.union({"id": "people/mia", "name": "Mia", "packs": ["packs/kite"]}, more))

with_ben := treating([], {"with": ["people/ben"]})

# Who is never alone has what those beside them have; where these are asked, only they are.
test_purification_of_who_is_never_alone[what] if {
	some what, c in {
		"with one who has": {"people": [with_ben, ben(["uv"], {})], "at": []},
		"with one who none": {"people": [with_ben, ben([], {})], "at": ["packs/moss/filter"]},
		"with a child only": {"people": [with_ben, ben([], {"age_months": 71})], "at": ["packs/moss/filter"]},
		"with each other": {"people": [with_ben, ben([], {"with": ["people/ana"]})], "at": ["packs/moss/filter", "packs/moss/filter"]},
		"with a child, and one elsewhere": {"people": [with_ben, ben([], {"age_months": 71}), mia({})], "at": ["packs/kite", "packs/moss/filter"]},
	}
	at := [f.at | some f in water.finding.purification] with input as group(c.people, [t.useless("treat-water", "frozen", {"carrier": "people/ben", "item": "packs/moss/filter"})])
	sort(at) == c.at
}

test_purification_words_for_who_is_never_alone if {
	some f in water.finding.purification with input as group([treating([], {"with": ["people/ben"]})], [])
	startswith(f.text, "Ana and the people beside them carry no way to treat water")
}

sources(qualities) := [{"id": sprintf("plan/waterSources/%s", [q]), "quality": q} | some q in qualities]

# A supply that clears so much of bacteria, viruses, Giardia and Cryptosporidium.
clearing(bacteria, viruses, giardia, crypto, more) := t.supply(object.union(
	{
		"treat_bacteria_ml": bacteria,
		"treat_viruses_ml": viruses,
		"treat_giardia_ml": giardia,
		"treat_crypto_ml": crypto,
	},
	more,
))

with_filter := {"can": [t.can("treat-water", ["filter"])]}

germs(qualities, supply) := {
	"plan": t.plan({"water_sources": sources(qualities)}),
	"people": [t.person({"alone": supply})],
	"endurance": {"water_limit": "", "stocks": []},
}

test_organisms_at_the_limit if {
	count(water.finding.organisms) == 0 with input as germs(["clear"], clearing(1, 1, 1, 1, with_filter))
}

test_organisms_one_too_few if {
	water.finding.organisms == {{
		"at": "packs/rust/filter",
		"because": ["packs/rust/filter"],
		"text": "the water treatment of Ana (filter) does not reliably clear viruses: chlorine, chlorine dioxide or iodine, a purifier, or boiling clears bacteria and viruses",
	}} with input as germs(["clear"], clearing(1, 0, 1, 1, with_filter))
}

test_organisms_each_kind[kind] if {
	some kind, supply in {
		"bacteria": clearing(0, 1, 1, 1, with_filter),
		"viruses": clearing(1, 0, 1, 1, with_filter),
		"Giardia": clearing(1, 1, 0, 1, with_filter),
		"Cryptosporidium": clearing(1, 1, 1, 0, with_filter),
	}
	some f in water.finding.organisms with input as germs(["clear"], supply)
	contains(f.text, sprintf("reliably clear %s: ", [kind]))
}

test_organisms_of_each_water_but_a_tap[quality] if {
	some quality, asked in {"tap": 0, "clear": 1, "turbid": 1, "foul": 1}
	facts := germs(["tap", quality], clearing(0, 1, 1, 1, with_filter))
	count(water.finding.organisms) == asked with input as facts
}

test_organisms_not_asked_without_sources if {
	count(water.finding.organisms) == 0 with input as germs([], clearing(0, 1, 1, 1, with_filter))
}

test_organisms_not_asked_without_treatment if {
	count(water.finding.organisms) == 0 with input as germs(["clear"], clearing(0, 0, 0, 0, {}))
}

# Two people, one finding, at the first of their treatments.
test_organisms_of_two if {
	ben := t.person({"id": "people/ben", "name": "Ben", "alone": clearing(1, 1, 0, 0, {"can": [t.can("treat-water", ["chlorine"])]})})
	facts := object.union(germs(["clear"], {}), {"people": [t.person({"alone": clearing(0, 0, 1, 1, with_filter)}), ben]})
	water.finding.organisms == {{
		"at": "packs/rust/chlorine",
		"because": ["packs/rust/chlorine", "packs/rust/filter"],
		"text": "the water treatment of Ana (filter) does not reliably clear bacteria and viruses; the water treatment of Ben (chlorine) does not reliably clear Giardia and Cryptosporidium: a filter, a purifier, or boiling clears Giardia and Cryptosporidium; chlorine, chlorine dioxide or iodine, a purifier, or boiling clears bacteria and viruses",
	}} with input as facts
	both := [object.union(p, {"with": [id | some id in ["people/ana", "people/ben"]; id != p.id]}) | some p in facts.people]
	count(water.finding.organisms) == 0 with input as object.union(facts, {"people": both})
}

# Who has nothing is left to water/purification, and is not said to have something.
test_organisms_of_one_who_has_nothing if {
	facts := object.union(germs(["clear"], {}), {"people": [t.person({"alone": clearing(0, 0, 1, 1, with_filter)}), mia({})]})
	some f in water.finding.organisms with input as facts
	f.because == ["packs/rust/filter"]
	not contains(f.text, "Mia")
}

# What another has elsewhere clears nothing and is not named.
test_organisms_of_others_elsewhere if {
	other := t.person({"id": "people/ben", "alone": clearing(1, 1, 1, 1, {"can": [t.can("treat-water", ["purifier"])]})})
	facts := object.union(germs(["clear"], {}), {"people": [t.person({"alone": clearing(0, 0, 1, 1, with_filter)}), other]})
	some f in water.finding.organisms with input as facts
	f.because == ["packs/rust/filter"]
}

waiting := {"destination": {"water": true}}

test_organisms_where_water_waits if {
	facts := germs(["clear"], clearing(0, 1, 1, 1, with_filter))
	[f.level | some f in water.finding.organisms] == ["note"] with input as object.union(facts, {"plan": object.union(facts.plan, waiting)})
}

test_turbid_where_water_waits if {
	facts := muddy(["turbid"], ["uv"])
	[f.level | some f in water.finding.turbid] == ["note"] with input as object.union(facts, {"plan": object.union(facts.plan, waiting)})
}

# Of children alone it is a note, so that the treatment of one who has some is no graver than none.
test_organisms_of_children[what] if {
	some what, c in {
		"a child": {"months": [143], "level": "note"},
		"two": {"months": [72, 143], "level": "note"},
		"one of 12": {"months": [144], "level": ""},
		"with one of 12": {"months": [143, 144], "level": ""},
	}
	people := [t.person({"id": sprintf("people/p%d", [m]), "age_months": m, "alone": clearing(0, 1, 1, 1, with_filter)}) | some m in c.months]
	t.levels(water.finding.organisms) == [c.level] with input as object.union(germs(["clear"], {}), {"people": people})
}

test_organisms_not_asked_of_small_children if {
	facts := object.union(germs(["clear"], {}), {"people": [t.person({"age_months": 71, "alone": clearing(0, 1, 1, 1, with_filter)})]})
	count(water.finding.organisms) == 0 with input as facts
}

# Boiling clears what is graded, even with sticks, of which no litres are known.
test_organisms_of_boiling if {
	count(water.finding.organisms) == 0 with input as germs(["clear"], clearing(0, 0, 0, 0, {"can": [t.can("treat-water", ["boil"])]}))
	facts := object.union(germs(["clear"], clearing(0, 0, 0, 0, {"can": [t.can("treat-water", ["boil"])]})), own_germs(["worms"]))
	count(water.finding.organisms) == 1 with input as facts
}

# Ana's tablets of chlorine dioxide, on nights so warm.
dioxide(night_mc, treatments, people) := {
	"plan": t.plan({"night_mc": night_mc, "water_sources": germs(["clear"], {}).plan.water_sources}),
	"treatments": treatments,
	"people": people,
	"endurance": {"water_limit": "", "stocks": []},
}

with_dioxide := clearing(1, 1, 1, 0, {"can": [t.can("treat-water", ["chlorine-dioxide"])]})

tablets(more) := t.treatment("chlorine-dioxide", object.union({"id": "packs/rust/chlorine-dioxide"}, more))

test_organisms_of_chlorine_dioxide[what] if {
	some what, c in {
		"cold and long": [14999, written(240), "note", 240],
		"cold and short": [14999, written(239), "warning", 240],
		"mild and long": [15000, written(120), "note", 120],
		"mild and short": [15000, written(119), "warning", 120],
		"not written": [15000, {"wait_min": 500}, "warning", 120],
	}
	facts := dioxide(c[0], [tablets(c[1])], [t.person({"alone": with_dioxide})])
	[object.get(f, "level", "warning") | some f in water.finding.organisms] == [c[2]] with input as facts
	{f.text | some f in water.finding.organisms} == {sprintf("the water treatment of Ana (chlorine-dioxide) does not reliably clear Cryptosporidium: a filter, a purifier, or boiling clears Giardia and Cryptosporidium; chlorine dioxide clears it in part, after %d min", [c[3]])} with input as facts
	unknown := object.union(facts, {"plan": object.union(facts.plan, {"season_known": false})})
	{f.text | some f in water.finding.organisms; contains(f.text, "after 240 min")} != set() with input as unknown
}

# Whoever has something else, or misses more, is no less in danger for it.
test_organisms_of_chlorine_dioxide_and_others if {
	long := tablets(written(240))
	ben := t.person({"id": "people/ben", "name": "Ben", "alone": clearing(1, 1, 1, 0, {"can": [t.can("treat-water", ["chlorine"])]})})
	two := dioxide(5000, [long, t.treatment("chlorine", {"id": "packs/rust/chlorine"})], [t.person({"alone": with_dioxide}), ben])
	[f.level | some f in water.finding.organisms] == [] with input as two
	more := dioxide(5000, [long], [t.person({"alone": object.union(with_dioxide, {"treat_giardia_ml": 0})})])
	[f.level | some f in water.finding.organisms] == [] with input as more
	chlorine := dioxide(5000, [t.treatment("chlorine", object.union({"id": "packs/rust/chlorine"}, written(240)))], [t.person({"alone": clearing(1, 1, 1, 0, {"can": [t.can("treat-water", ["chlorine"])]})})])
	{object.get(f, "level", "warning") | some f in water.finding.organisms} == {"warning"} with input as chlorine
	elsewhere := dioxide(5000, [tablets(object.union(written(240), {"id": "packs/moss/tablets"}))], [t.person({"alone": with_dioxide})])
	{f.text | some f in water.finding.organisms; not contains(f.text, "in part")} != set() with input as elsewhere
}

# Where water runs out as nothing clears it, endurance/water says so.
dry(limit, kind, short) := {"endurance": {"water_limit": limit, "stocks": [{"kind": kind, "need": 1000, "short": short}]}}

test_organisms_left_to_endurance[what] if {
	some what, c in {
		"treatment": {"dry": dry("treatment", "water", 1), "asked": 0},
		"both": {"dry": dry("vessels and treatment", "water", 1000), "asked": 0},
		"nothing lacks": {"dry": dry("treatment", "water", 0), "asked": 1},
		"vessels": {"dry": dry("vessels", "water", 1000), "asked": 1},
		"another stock": {"dry": dry("treatment", "energy", 1000), "asked": 1},
	}
	facts := object.union(germs(["clear"], clearing(0, 1, 1, 1, with_filter)), c.dry)
	count(water.finding.organisms) == c.asked with input as facts
}

# A household may ask for a kind that nobody graded: nothing is known to clear it.
own_germs(values) := {"limits": [{
	"area": "water",
	"name": "organisms",
	"list": true,
	"value": 0,
	"values": values,
}]}

test_organisms_of_an_unknown_kind if {
	facts := object.union(germs(["clear"], clearing(1, 1, 1, 1, with_filter)), own_germs(["bacteria", "worms"]))
	water.finding.organisms == {{
		"at": "packs/rust/filter",
		"because": ["packs/rust/filter"],
		"text": "the water treatment of Ana (filter) does not reliably clear worms: a filter, a purifier, or boiling clears Giardia and Cryptosporidium",
	}} with input as facts
}

muddy(qualities, means) := {
	"plan": t.plan({"water_sources": sources(qualities)}),
	"people": [],
	"household": t.household({"supply": t.supply({"can": [t.can("treat-water", means)]})}),
	"endurance": {"water_limit": "", "stocks": []},
}

test_turbid_one_too_few if {
	water.finding.turbid == {{
		"at": "packs/rust/chlorine",
		"because": ["packs/rust/chlorine", "packs/rust/uv", "plan/waterSources/turbid"],
		"text": "the plan names 1 cloudy water source, and the household's water treatment (chlorine and uv) needs clear water; filter or purifier or boil copes with it",
	}} with input as muddy(["turbid"], ["chlorine", "uv"])
}

# One finding for one treatment: where it leaves germs in clear water too, or the plan runs dry for it, others say so.
test_turbid_left_to_others if {
	germy := {"people": [t.person({"alone": clearing(1, 1, 0, 0, {"can": [t.can("treat-water", ["chlorine"])]})})]}
	count(water.finding.turbid) == 0 with input as object.union(muddy(["turbid"], ["chlorine"]), germy)
	count(water.finding.turbid) == 0 with input as object.union(muddy(["turbid"], ["uv"]), dry("treatment", "water", 1))
}

test_turbid_of_each_cloudy_water[quality] if {
	some quality, asked in {"tap": 0, "clear": 0, "turbid": 1, "foul": 1}
	count(water.finding.turbid) == asked with input as muddy([quality], ["chlorine"])
}

test_turbid_of_two_waters if {
	some f in water.finding.turbid with input as muddy(["foul", "turbid"], ["chlorine"])
	contains(f.text, "names 2 cloudy water sources,")
}

test_turbid_each_method[method] if {
	some method, bad in {
		"filter": 0,
		"purifier": 0,
		"boil": 0,
		"chlorine": 1,
		"chlorine-dioxide": 1,
		"iodine": 1,
		"uv": 1,
	}
	count(water.finding.turbid) == bad with input as muddy(["turbid"], ["uv", method])
}

test_turbid_not_asked_without_treatment if {
	count(water.finding.turbid) == 0 with input as muddy(["turbid"], [])
}

treated(method, more) := {"treatments": [t.treatment(method, more)]}

# Chemicals of Ana's, and what else she has.
waits(method, more) := {
	"treatments": [t.treatment(method, more)],
	"plan": t.plan({"night_mc": 5001}),
	"people": [t.person({"alone": t.supply({"can": [t.can("treat-water", [method])]})})],
}

written(min) := {"wait_known": true, "wait_min": min}

least_wait := {"chlorine": 30, "iodine": 30, "chlorine-dioxide": 30}

# What is said besides of chlorine dioxide.
crypto := {"chlorine": "", "iodine": "", "chlorine-dioxide": " (240 min for Cryptosporidium)"}

test_contact_time_at_the_limit[method] if {
	some method, min in least_wait
	count(water.finding.contact_time) == 0 with input as waits(method, written(min))
}

test_contact_time_one_too_short[method] if {
	some method, min in least_wait
	water.finding.contact_time == {{
		"at": "packs/rust/treatment/treat",
		"text": sprintf("Treatment (%s) needs at least %d min before drinking%s; %d min is recorded: 1 min short", [method, min, crypto[method], min - 1]),
	}} with input as waits(method, written(min - 1))
}

test_contact_time_not_written[method] if {
	some method, min in least_wait
	water.finding.contact_time == {{
		"at": "packs/rust/treatment/treat",
		"because": ["packs/rust/treatment"],
		"level": "note",
		"text": sprintf("how long to wait before drinking is not recorded: Treatment (%s) needs at least %d min%s", [method, min, crypto[method]]),
	}} with input as waits(method, {})
}

test_contact_time_not_written_of_two_is_one_note if {
	facts := object.union(waits("iodine", {}), {"treatments": [t.treatment("iodine", {}), t.treatment("chlorine", {"id": "packs/moss/more", "name": "More"})]})
	water.finding.contact_time == {{
		"at": "packs/rust/treatment/treat",
		"because": ["packs/rust/treatment", "packs/moss/more"],
		"level": "note",
		"text": "how long to wait before drinking is not recorded: Treatment (iodine) needs at least 30 min; More (chlorine) needs at least 30 min",
	}} with input as facts
}

test_contact_time_not_asked_of[method] if {
	some method in ["boil", "filter", "purifier", "uv"]
	count(water.finding.contact_time) == 0 with input as waits(method, {})
}

test_contact_time_not_asked_of_what_does_not_work if {
	count(water.finding.contact_time) == 0 with input as waits("chlorine", {"works": false})
}

cold(method, more, means) := object.union(waits(method, more), {
	"plan": t.plan({"night_mc": 5000}),
	"people": [t.person({"alone": t.supply({"can": [t.can("treat-water", means)]})})],
})

test_contact_time_in_the_cold_at_the_limit[method] if {
	some method, min in {"chlorine": 60, "iodine": 60, "chlorine-dioxide": 60}
	count(water.finding.contact_time) == 0 with input as cold(method, written(min), [method])
	count(water.finding.contact_time) == 1 with input as cold(method, written(min - 1), [method])
}

test_contact_time_in_the_cold_one_too_short if {
	water.finding.contact_time == {{
		"at": "packs/rust/treatment/treat",
		"level": "note",
		"text": "Treatment (chlorine) needs at least 60 min before drinking on nights of 5 °C; 59 min is recorded: 1 min short",
	}} with input as cold("chlorine", written(59), ["chlorine"])
}

test_contact_time_in_the_cold_by_level[min] if {
	some min, level in {29: "warning", 30: "note"}
	some f in water.finding.contact_time with input as cold("iodine", written(min), ["iodine"])
	object.get(f, "level", "warning") == level
}

test_contact_time_in_the_cold_not_written if {
	some f in water.finding.contact_time with input as cold("iodine", {}, ["iodine"])
	f.text == "how long to wait before drinking is not recorded: Treatment (iodine) needs at least 60 min on nights of 5 °C"
}

# A way that clears every germ in the cold too makes the usual time enough; a filter does not.
test_contact_time_in_the_cold_with_another_way[method] if {
	some method, asked in {"boil": 0, "purifier": 0, "uv": 0, "filter": 1, "chlorine-dioxide": 1}
	count(water.finding.contact_time) == asked with input as cold("chlorine", written(30), ["chlorine", method])
}

test_contact_time_in_the_cold_of_another if {
	facts := object.union(cold("chlorine", written(30), []), {"people": [t.person({"id": "people/ben", "alone": t.supply({"can": [t.can("treat-water", ["uv"])]})})]})
	count(water.finding.contact_time) == 1 with input as facts
}

test_contact_time_without_a_season_is_the_usual_one if {
	facts := object.union(cold("chlorine", written(30), ["chlorine"]), {"plan": t.plan({"night_mc": 0, "season_known": false})})
	count(water.finding.contact_time) == 0 with input as facts
}

boils(altitude_mm, method, more) := {"treatments": [t.treatment(method, more)], "plan": t.plan({"altitude_mm": altitude_mm})}

test_boil_time_at_the_limit[altitude_mm] if {
	some altitude_mm, min in {1000001: 3, 1000000: 1}
	count(water.finding.boil_time) == 0 with input as boils(altitude_mm, "boil", written(min))
}

test_boil_time_one_too_short[altitude_mm] if {
	some altitude_mm, text in {
		1000001: "Treatment boils water for 2 min and needs 3 min at 1000.001 m: 1 min short",
		1000000: "Treatment boils water for 0 min and needs 1 min: 1 min short",
	}
	water.finding.boil_time == {{
		"at": "packs/rust/treatment/treat",
		"text": text,
	}} with input as boils(altitude_mm, "boil", written({1000001: 2, 1000000: 0}[altitude_mm]))
}

test_boil_time_not_asked[what] if {
	some what, facts in {
		"not written": boils(1000001, "boil", {}),
		"no boiling": boils(1000001, "filter", written(0)),
		"it does not work": boils(1000001, "boil", object.union(written(0), {"works": false})),
	}
	count(water.finding.boil_time) == 0 with input as facts
}

# hall and school take a key.
taps(key, capabilities) := {
	"plan": t.plan({"water_sources": [
		{"id": "plan/waterSources/hall", "quality": "tap", "key": key},
		{"id": "plan/waterSources/ford", "quality": "clear", "key": false},
		{"id": "plan/waterSources/school", "quality": "tap", "key": key},
	]}),
	"capabilities": capabilities,
}

test_tap_key_missing if {
	water.finding.tap_key == {{
		"at": "plan/waterSources/hall",
		"because": ["plan/waterSources/hall", "plan/waterSources/school"],
		"text": "the plan counts on 2 taps without a handle, and nobody has a tap key",
	}} with input as taps(true, [t.capability("cut", [t.offer("knife", {})])])
}

test_tap_key_present if {
	count(water.finding.tap_key) == 0 with input as taps(true, [t.capability("open_taps", [t.offer("tap-key", {})])])
}

test_tap_key_not_asked_of_other_taps if {
	count(water.finding.tap_key) == 0 with input as taps(false, [])
}

frost(night_mc, vessels) := {
	"plan": t.plan({"night_mc": night_mc}),
	"vessels": [t.vessel(object.union({"rigid": true, "water_ml": 901}, v)) | some v in vessels],
}

test_bottles_freeze if {
	water.finding.bottles_freeze == {{
		"at": "packs/rust/bottle",
		"because": ["packs/rust/bottle", "packs/rust/flask"],
		"text": "nights fall to -0.001 °C, and ice bursts hard bottles that are more than 90 % full: Bottle and Flask",
	}} with input as frost(-1, [{}, {"id": "packs/rust/flask", "name": "Flask"}, {"id": "packs/rust/can", "water_ml": 900}])
}

test_bottles_freeze_not_asked[what] if {
	some what, facts in {
		"no frost": frost(0, [{}]),
		"room for ice": frost(-1, [{"water_ml": 900}]),
		"soft": frost(-1, [{"rigid": false}]),
		"on the body": frost(-1, [{"reach": "on-body"}]),
		"no season": object.union(frost(-1, [{}]), {"plan": t.plan({"night_mc": -1, "season_known": false})}),
	}
	count(water.finding.bottles_freeze) == 0 with input as facts
}

test_organisms_says_what_clears_each[germ] if {
	chemicals := "chlorine, chlorine dioxide or iodine, a purifier, or boiling clears bacteria and viruses"
	filters := "a filter, a purifier, or boiling clears Giardia and Cryptosporidium"
	some germ, words in {"bacteria": chemicals, "viruses": chemicals, "Giardia": filters, "Cryptosporidium": filters}
	cleared := {"treat_bacteria_ml": 1, "treat_viruses_ml": 1, "treat_giardia_ml": 1, "treat_crypto_ml": 1}
	supply := object.union(cleared, {{"bacteria": "treat_bacteria_ml", "viruses": "treat_viruses_ml", "Giardia": "treat_giardia_ml", "Cryptosporidium": "treat_crypto_ml"}[germ]: 0})
	facts := germs(["clear"], t.supply(object.union(supply, with_filter)))
	some f in water.finding.organisms with input as facts
	endswith(f.text, sprintf("reliably clear %s: %s", [germ, words]))
}

test_purification_not_recorded[what] if {
	some what, c in {"hers": ["people/ana", ["not recorded"]], "another's": ["people/ben", [""]]}
	facts := group([treating([], {})], [])
	t.levels(water.finding.purification) == c[1] with input as t.with_unread(facts, [t.unread(["treat-water"], {"carrier": c[0]})])
}

# A filter that freezes, and what says that it is all that Ana has.
icy(useless, means) := {
	"plan": t.plan({"season_known": true, "night_mc": -4000}),
	"people": [t.person({"alone": t.supply({"can": [t.can("treat-water", means)]})})],
	"useless": [t.useless("treat-water", "frozen", object.union({"name": "Filter", "means": "filter", "words": "has been wet and freezes", "household": false}, useless))],
}

test_filter_frost if {
	water.finding.filter_frost == {{
		"at": "packs/rust/thing",
		"because": ["plan/season"],
		"text": "Filter has been wet and freezes: nights fall to -4 °C",
	}} with input as icy({}, ["boil"])
	{f.at | some f in water.finding.filter_frost} == {"packs/rust/thing/treat/wetted"} with input as icy({"cause": "packs/rust/thing/treat/wetted"}, ["boil"])
	count(water.finding.filter_frost) == 0 with input as icy({"why": "expired"}, ["boil"])
}

test_filter_frost_is_said_once if {
	count(water.finding.purification) == 1 with input as icy({}, [])
	count(water.finding.filter_frost) == 0 with input as icy({}, [])
}
