package rules.base.water_test

import data.lib.testing_test as t
import data.rules.base.water

test_purification_at_the_limit if {
	count(water.finding.purification) == 0 with input as {"packs": [t.pack_with([t.can("treat-water", ["filter"])])]}
}

test_purification_one_too_few if {
	water.finding.purification == {{
		"at": "packs/rust",
		"because": [],
		"text": "Rust has no means of water treatment; 1 is asked: 1 too few",
		"lack": 1,
	}} with input as {"packs": [t.pack_with([t.can("cook", ["gas-stove"])])]}
}

test_purification_not_asked_of_animals if {
	count(water.finding.purification) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}

boiler(fire_safe_ml, treat, pack) := {
	"packs": [t.pack({"supply": t.supply({"fire_safe_ml": fire_safe_ml})})],
	"treatments": [t.treatment(treat, {"id": "packs/rust/pot", "name": "Pot", "pack": pack})],
}

test_fire_safe_vessel_present if {
	count(water.finding.fire_safe_vessel) == 0 with input as boiler(1, "boil", "packs/rust")
}

test_fire_safe_vessel_missing if {
	water.finding.fire_safe_vessel == {{
		"at": "packs/rust",
		"because": ["packs/rust/pot"],
		"text": "Rust counts on boiling (Pot) and has no vessel that may be put on a fire",
	}} with input as boiler(0, "boil", "packs/rust")
}

test_fire_safe_vessel_asked_of_animals if {
	facts := object.union(boiler(0, "boil", "packs/rust"), {"packs": [t.pack({"carrier_kind": "animal"})]})
	count(water.finding.fire_safe_vessel) == 1 with input as facts
}

test_fire_safe_vessel_not_asked_without_boiling if {
	count(water.finding.fire_safe_vessel) == 0 with input as boiler(0, "filter", "packs/rust")
}

test_fire_safe_vessel_not_asked_of_another_pack if {
	count(water.finding.fire_safe_vessel) == 0 with input as boiler(0, "boil", "packs/moss")
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
	"packs": [t.pack({"supply": supply})],
}

test_organisms_at_the_limit if {
	count(water.finding.organisms) == 0 with input as germs(["clear"], clearing(1, 1, 1, 1, with_filter))
}

test_organisms_one_too_few if {
	water.finding.organisms == {{
		"at": "packs/rust",
		"because": ["packs/rust/filter"],
		"text": "the water treatment in Rust (filter) does not reliably clear viruses: 3 of the 4 kinds of germs asked are cleared, 1 too few; chlorine, chlorine dioxide or iodine, a purifier, or boiling clears bacteria and viruses",
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
	contains(f.text, sprintf("reliably clear %s: 3 of", [kind]))
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

test_organisms_not_asked_of_animals if {
	facts := object.union(
		germs(["clear"], t.supply({})),
		{"packs": [t.pack({"carrier_kind": "animal", "supply": clearing(0, 1, 1, 1, with_filter)})]},
	)
	count(water.finding.organisms) == 0 with input as facts
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
		"at": "packs/rust",
		"because": ["packs/rust/filter"],
		"text": "the water treatment in Rust (filter) does not reliably clear worms: 1 of the 2 kinds of germs asked are cleared, 1 too few; a filter, a purifier, or boiling clears Giardia and Cryptosporidium",
	}} with input as facts
}

muddy(qualities, means) := {
	"plan": t.plan({"water_sources": sources(qualities)}),
	"household": t.household({"supply": t.supply({"can": [t.can("treat-water", means)]})}),
}

test_turbid_one_too_few if {
	water.finding.turbid == {{
		"at": "household",
		"because": ["plan/waterSources/turbid", "packs/rust/chlorine", "packs/rust/uv"],
		"text": "the plan names 1 cloudy water source, and the household's water treatment (chlorine and uv) needs clear water; 1 means of filter or purifier or boil is asked: 1 too few",
	}} with input as muddy(["turbid"], ["chlorine", "uv"])
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

waits(method, min) := treated(method, {"wait_known": true, "wait_min": min})

least_wait := {"chlorine": 30, "iodine": 30, "chlorine-dioxide": 240}

test_contact_time_at_the_limit[method] if {
	some method, min in least_wait
	count(water.finding.contact_time) == 0 with input as waits(method, min)
}

test_contact_time_one_too_short[method] if {
	some method, min in least_wait
	water.finding.contact_time == {{
		"at": "packs/rust/treatment/treat",
		"text": sprintf("the wait for Treatment (%s) before drinking: %d min written, %d min asked: 1 min too short", [method, min - 1, min]),
	}} with input as waits(method, min - 1)
}

test_contact_time_not_written[method] if {
	some method, min in least_wait
	water.finding.contact_time == {{
		"at": "packs/rust/treatment/treat",
		"text": sprintf("the wait for Treatment (%s) before drinking: no time is written, %d min asked", [method, min]),
	}} with input as treated(method, {})
}

test_contact_time_not_asked_of[method] if {
	some method in ["boil", "filter", "purifier", "uv"]
	count(water.finding.contact_time) == 0 with input as treated(method, {})
}

cold(night_mc, means, treatments) := {
	"plan": t.plan({"night_mc": night_mc}),
	"packs": [t.pack_with([t.can("treat-water", means)])],
	"treatments": treatments,
}

tablets(method, min) := t.treatment(method, {
	"id": sprintf("packs/rust/%s", [method]),
	"wait_known": true,
	"wait_min": min,
})

test_cold_treatment_at_the_limit if {
	count(water.finding.cold_treatment) == 0 with input as cold(5000, ["chlorine"], [tablets("chlorine", 60)])
}

test_cold_treatment_one_too_short if {
	water.finding.cold_treatment == {{
		"at": "packs/rust",
		"because": ["packs/rust/chlorine", "packs/rust/iodine"],
		"text": "Rust's water treatment (chlorine and iodine) counts on chemicals, and nights are 5 °C; the longest wait: 59 min written, 60 min asked: 1 min too short",
	}} with input as cold(5000, ["chlorine", "iodine"], [tablets("chlorine", 59), tablets("iodine", 30)])
}

test_cold_treatment_takes_the_longest_wait if {
	count(water.finding.cold_treatment) == 0 with input as cold(5000, ["chlorine", "iodine"], [tablets("chlorine", 30), tablets("iodine", 60)])
}

test_cold_treatment_not_written[night] if {
	some night, mc in {"0 °C": 0, "-6.5 °C": -6500, "0.001 °C": 1, "-0.001 °C": -1}
	water.finding.cold_treatment == {{
		"at": "packs/rust",
		"because": ["packs/rust/treatment"],
		"text": sprintf("Rust's water treatment (iodine) counts on chemicals, and nights are %s; the longest wait: no time is written, 60 min asked", [night]),
	}} with input as cold(mc, ["iodine"], [t.treatment("iodine", {})])
}

# A wait counts where it is written, for a chemical, in the same pack.
test_cold_treatment_counts_no_other_wait[what] if {
	some what, other in {
		"not written": t.treatment("chlorine", {"wait_min": 60}),
		"another pack": t.treatment("chlorine", {"pack": "packs/moss", "wait_known": true, "wait_min": 60}),
		"a boil that no vessel allows": t.treatment("boil", {"wait_known": true, "wait_min": 60}),
	}
	count(water.finding.cold_treatment) == 1 with input as cold(5000, ["chlorine"], [other])
}

test_cold_treatment_each_method[method] if {
	some method, asked in {
		"chlorine": 1,
		"chlorine-dioxide": 1,
		"iodine": 1,
		"boil": 0,
		"filter": 1,
		"purifier": 0,
		"uv": 0,
	}
	facts := cold(5000, ["chlorine", method], [t.treatment(method, {})])
	count(water.finding.cold_treatment) == asked with input as facts
}

test_cold_treatment_not_asked_of_a_filter_alone if {
	count(water.finding.cold_treatment) == 0 with input as cold(5000, ["filter"], [])
}

test_cold_treatment_not_asked_when_warmer if {
	count(water.finding.cold_treatment) == 0 with input as cold(5001, ["chlorine"], [])
}

test_cold_treatment_not_asked_without_treatment if {
	count(water.finding.cold_treatment) == 0 with input as cold(5000, [], [])
}

test_cold_treatment_not_asked[what] if {
	some what, facts in {
		"no season": {"plan": t.plan({"season_known": false})},
		"animals": {"packs": [t.pack({"carrier_kind": "animal", "supply": t.supply({"can": [t.can("treat-water", ["chlorine"])]})})]},
	}
	count(water.finding.cold_treatment) == 0 with input as object.union(cold(5000, ["chlorine"], []), facts)
}

boils(altitude_mm, method, more) := object.union(treated(method, more), {"plan": t.plan({"altitude_mm": altitude_mm})})

test_boil_time_high_at_the_limit if {
	count(water.finding.boil_time) == 0 with input as boils(1000001, "boil", {"wait_known": true, "wait_min": 3})
}

test_boil_time_high_one_too_short if {
	water.finding.boil_time == {{
		"at": "packs/rust/treatment/treat",
		"because": ["plan/altitude"],
		"text": "the boil of Treatment at 1000.001 m, above 1000 m: 2 min written, 3 min asked: 1 min too short",
	}} with input as boils(1000001, "boil", {"wait_known": true, "wait_min": 2})
}

test_boil_time_high_not_written if {
	water.finding.boil_time == {{
		"at": "packs/rust/treatment/treat",
		"because": ["plan/altitude"],
		"text": "the boil of Treatment at 1500 m, above 1000 m: no time is written, 3 min asked",
	}} with input as boils(1500000, "boil", {})
}

# Too short for any height, and still said once.
test_boil_time_high_far_too_short if {
	water.finding.boil_time == {{
		"at": "packs/rust/treatment/treat",
		"because": ["plan/altitude"],
		"text": "the boil of Treatment at 1000.001 m, above 1000 m: 0 min written, 3 min asked: 3 min too short",
	}} with input as boils(1000001, "boil", {"wait_known": true, "wait_min": 0})
}

test_boil_time_low_at_the_limit if {
	count(water.finding.boil_time) == 0 with input as boils(1000000, "boil", {"wait_known": true, "wait_min": 1})
}

test_boil_time_low_one_too_short if {
	water.finding.boil_time == {{
		"at": "packs/rust/treatment/treat",
		"text": "the boil of Treatment: 0 min written, 1 min asked: 1 min too short",
	}} with input as boils(1000000, "boil", {"wait_known": true, "wait_min": 0})
}

test_boil_time_low_need_not_be_written if {
	count(water.finding.boil_time) == 0 with input as boils(1000000, "boil", {})
}

test_boil_time_of_boiling_only[altitude_mm] if {
	some altitude_mm in [1000000, 1000001]
	count(water.finding.boil_time) == 0 with input as boils(altitude_mm, "filter", {"wait_known": true, "wait_min": 0})
}

# hall and school are taps.
taps(settings, quality, capabilities) := {
	"plan": t.plan({"settings": settings, "water_sources": [
		{"id": "plan/waterSources/hall", "quality": quality},
		{"id": "plan/waterSources/ford", "quality": "clear"},
		{"id": "plan/waterSources/school", "quality": quality},
	]}),
	"household": t.household({}),
	"capabilities": capabilities,
}

test_tap_key_missing if {
	water.finding.tap_key == {{
		"at": "household",
		"because": ["plan/waterSources/hall", "plan/waterSources/school"],
		"text": "the plan names 2 taps in town and the household has no tap key; 1 is asked: 1 too few",
	}} with input as taps(["coast", "town"], "tap", [t.capability("cut", [t.offer("knife", {})])])
}

test_tap_key_present if {
	count(water.finding.tap_key) == 0 with input as taps(["town"], "tap", [t.capability("open_taps", [t.offer("tap-key", {})])])
}

test_tap_key_not_asked_out_of_town if {
	count(water.finding.tap_key) == 0 with input as taps(["coast"], "tap", [])
}

test_tap_key_not_asked_without_taps if {
	count(water.finding.tap_key) == 0 with input as taps(["town"], "clear", [])
}

test_organisms_says_what_clears_each[germ] if {
	chemicals := "chlorine, chlorine dioxide or iodine, a purifier, or boiling clears bacteria and viruses"
	filters := "a filter, a purifier, or boiling clears Giardia and Cryptosporidium"
	some germ, words in {"bacteria": chemicals, "viruses": chemicals, "Giardia": filters, "Cryptosporidium": filters}
	cleared := {"treat_bacteria_ml": 1, "treat_viruses_ml": 1, "treat_giardia_ml": 1, "treat_crypto_ml": 1}
	supply := object.union(cleared, {{"bacteria": "treat_bacteria_ml", "viruses": "treat_viruses_ml", "Giardia": "treat_giardia_ml", "Cryptosporidium": "treat_crypto_ml"}[germ]: 0})
	facts := {
		"plan": t.plan({"water_sources": [{"id": "plan/waterSources/ford", "quality": "clear"}]}),
		"packs": [t.pack({"supply": t.supply(object.union(supply, {"can": [t.can("treat-water", ["filter"])]}))})],
	}
	some f in water.finding.organisms with input as facts
	endswith(f.text, sprintf("too few; %s", [words]))
}

test_cold_treatment_each_chemical_alone[method] if {
	some method in ["chlorine", "chlorine-dioxide", "iodine"]
	count(water.finding.cold_treatment) == 1 with input as cold(5000, [method], [])
}
