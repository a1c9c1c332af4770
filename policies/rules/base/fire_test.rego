package rules.base.fire_test

import data.lib.testing_test as t
import data.rules.base.fire

test_two_means_at_the_limit if {
	count(fire.finding.two_means) == 0 with input as {"packs": [t.pack_with([t.can("fire", ["gas-lighter", "matches"])])]}
}

test_two_means_one_too_few if {
	fire.finding.two_means == {{
		"at": "packs/rust",
		"because": ["packs/rust/matches"],
		"text": "Rust has 1 means of fire (matches); 2 different ones are asked: 1 too few",
		"lack": 1,
	}} with input as {"packs": [t.pack_with([t.can("fire", ["matches"])])]}
}

test_two_means_not_asked_of_animals if {
	count(fire.finding.two_means) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}

# A pack with these means of fire, and the offers behind them.
burning(means, more) := {
	"packs": [t.pack_with([t.can("fire", means)])],
	"capabilities": [t.capability("fire", [t.offer(m, more) | some m in means])],
}

test_works_wet_one_too_few if {
	fire.finding.works_wet == {{
		"at": "packs/rust",
		"because": ["packs/rust/gas-lighter", "packs/rust/matches"],
		"text": "nothing for fire in Rust (gas-lighter and matches) works wet or is packed waterproof; 1 such thing is asked: 1 too few",
	}} with input as burning(["gas-lighter", "matches"], {})
}

test_works_wet_packed_dry if {
	count(fire.finding.works_wet) == 0 with input as burning(["gas-lighter", "matches"], {"waterproof": true})
}

test_works_wet_each_means[means] if {
	some means, bad in {
		"ferro-rod": 0,
		"electric-lighter": 1,
		"fire-piston": 1,
		"fluid-lighter": 1,
		"gas-lighter": 1,
		"lens": 1,
	}
	count(fire.finding.works_wet) == bad with input as burning(["matches", means], {})
}

# What is dry elsewhere, or is no fire, does not help.
test_works_wet_counts_no_other[what] if {
	some what, other in {
		"pack": t.capability("fire", [t.offer("matches", {"pack": "packs/moss", "waterproof": true})]),
		"thing": t.capability("light", [t.offer("headlamp", {"waterproof": true})]),
	}
	facts := object.union(burning(["matches"], {}), {"capabilities": [other]})
	count(fire.finding.works_wet) == 1 with input as facts
}

test_works_wet_not_asked_without_fire if {
	count(fire.finding.works_wet) == 0 with input as burning([], {})
}

test_works_wet_not_asked_of_animals if {
	facts := object.union(
		burning(["matches"], {}),
		{"packs": [t.pack({"carrier_kind": "animal", "supply": t.supply({"can": [t.can("fire", ["matches"])]})})]},
	)
	count(fire.finding.works_wet) == 0 with input as facts
}

test_tinder_present if {
	count(fire.finding.tinder) == 0 with input as {"packs": [t.pack_with([t.can("fire", ["matches"]), t.can("tinder", ["wax"])])]}
}

test_tinder_one_too_few if {
	fire.finding.tinder == {{
		"at": "packs/rust",
		"because": ["packs/rust/ferro-rod", "packs/rust/matches"],
		"text": "Rust has fire (ferro-rod and matches) and no tinder; 1 means of tinder is asked: 1 too few",
	}} with input as {"packs": [t.pack_with([t.can("fire", ["ferro-rod", "matches"])])]}
}

test_tinder_not_asked_without_fire if {
	count(fire.finding.tinder) == 0 with input as {"packs": [t.pack({})]}
}

test_tinder_not_asked_of_animals if {
	supply := t.supply({"can": [t.can("fire", ["matches"])]})
	count(fire.finding.tinder) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal", "supply": supply})]}
}

in_places(person, offers) := {
	"people": [t.person(person)],
	"capabilities": [t.capability("fire", offers)],
}

worn := {"id": "people/ana/onBody/lighter", "pack": "", "compartment": "", "person": "people/ana"}

test_spread_at_the_limit[where] if {
	some where, other in {"another compartment": {"compartment": "packs/rust/main"}, "the body": worn}
	facts := in_places({}, [t.offer("matches", {}), t.offer("gas-lighter", other)])
	count(fire.finding.spread) == 0 with input as facts
}

test_spread_one_too_few if {
	fire.finding.spread == {{
		"at": "people/ana",
		"because": ["packs/rust/gas-lighter", "packs/rust/matches"],
		"text": "Ana has 2 things for fire, in 1 place; 2 places are asked: 1 too few",
	}} with input as in_places({}, [t.offer("gas-lighter", {}), t.offer("matches", {})])
}

test_spread_counts_only_what_the_person_has if {
	facts := in_places({}, [t.offer("matches", {}), t.offer("lens", {"compartment": "packs/moss/lid", "carrier": "people/ben"})])
	fire.finding.spread == {{
		"at": "people/ana",
		"because": ["packs/rust/matches"],
		"text": "Ana has 1 thing for fire, in 1 place; 2 places are asked: 1 too few",
	}} with input as facts
}

test_spread_not_asked_without_fire if {
	count(fire.finding.spread) == 0 with input as in_places({}, [])
}

test_spread_not_asked_without_a_pack if {
	count(fire.finding.spread) == 0 with input as in_places({"pack_count": 0}, [t.offer("matches", worn)])
}
