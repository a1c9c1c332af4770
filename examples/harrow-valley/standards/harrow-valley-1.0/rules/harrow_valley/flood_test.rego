package rules.harrow_valley.flood_test

import data.rules.harrow_valley.flood

# A pack of Ana's with two warm things in it.
facts(more) := object.union(
	{
		"people": [person],
		"packs": [pack],
		"items": [item("quilt", false), item("socks", false)],
		"insulation": [warm("quilt", "quilt"), warm("socks", "socks")],
		"capabilities": [],
		"plan": {"meeting_places": []},
		"limits": [],
	},
	more,
)

person := {"id": "people/ana", "name": "Ana", "age_known": true, "age_months": 480, "carried_by": ""}

pack := {"id": "packs/rust", "name": "Rust", "carrier_kind": "person"}

item(name, dry) := {"id": sprintf("packs/rust/%s", [name]), "name": name, "pack": "packs/rust", "waterproof": dry}

warm(name, kind) := {"id": sprintf("packs/rust/%s", [name]), "pack": "packs/rust", "kind": kind}

test_dry_bags_names_what_gets_wet if {
	flood.finding.dry_bags == {{
		"at": "packs/rust",
		"because": ["packs/rust/quilt", "packs/rust/socks"],
		"text": "pack “Rust” holds 2 warm things that would get wet: quilt and socks",
		"lack": 2,
	}} with input as facts({})
}

test_dry_bags_one_of_two if {
	flood.finding.dry_bags == {{
		"at": "packs/rust",
		"because": ["packs/rust/socks"],
		"text": "pack “Rust” holds 1 warm thing that would get wet: socks",
		"lack": 1,
	}} with input as facts({"items": [item("quilt", true), item("socks", false)]})
}

test_dry_bags_all_dry if {
	count(flood.finding.dry_bags) == 0 with input as facts({"items": [item("quilt", true), item("socks", true)]})
}

test_dry_bags_other_kinds_and_other_packs if {
	count(flood.finding.dry_bags) == 0 with input as facts({"insulation": [
		warm("quilt", "pad"),
		object.union(warm("socks", "socks"), {"pack": "packs/kite"}),
	]})
}

test_dry_bags_not_asked_of_an_animal if {
	count(flood.finding.dry_bags) == 0 with input as facts({"packs": [object.union(pack, {"carrier_kind": "animal"})]})
}

test_dry_bags_by_the_household if {
	own := {"area": "flood", "name": "dry_kinds", "list": true, "value": 0, "values": ["pad"]}
	flood.finding.dry_bags == {{
		"at": "packs/rust",
		"because": ["packs/rust/socks"],
		"text": "pack “Rust” holds 1 warm thing that would get wet: socks",
		"lack": 1,
	}} with input as facts({"limits": [own], "insulation": [warm("quilt", "quilt"), warm("socks", "pad")]})
}

footwear(means, more) := {"capability": "footwear", "count": 1, "offers": [object.union({"id": "people/ana/boots", "means": means, "person": "people/ana"}, more)]}

no_boots := {{
	"at": "people/ana",
	"text": "Ana has no boots recorded under onBody",
	"lack": 1,
}}

test_boots_worn if {
	count(flood.finding.boots) == 0 with input as facts({"capabilities": [footwear("boots", {})]})
}

test_boots_shoes_are_none if {
	flood.finding.boots == no_boots with input as facts({"capabilities": [footwear("shoes", {})]})
}

test_boots_of_somebody_else if {
	flood.finding.boots == no_boots with input as facts({"capabilities": [footwear("boots", {"person": "people/ben"})]})
}

test_boots_from_an_age if {
	count(flood.finding.boots) == 0 with input as facts({"people": [object.union(person, {"age_months": 119})]})
	flood.finding.boots == no_boots with input as facts({"people": [object.union(person, {"age_months": 120})]})
}

test_boots_not_asked_of_who_is_carried if {
	count(flood.finding.boots) == 0 with input as facts({"people": [object.union(person, {"carried_by": "people/ben"})]})
}

place(key, known, mm) := {"id": sprintf("plan/meetingPoints/%s", [key]), "key": key, "altitude_known": known, "altitude_mm": mm}

places(list) := facts({"plan": {"meeting_places": list}})

test_high_ground_at_the_limit if {
	count(flood.finding.high_ground) == 0 with input as places([place("gate", true, 220000), place("school", true, 395000)])
}

test_high_ground_one_too_low if {
	flood.finding.high_ground == {{
		"at": "plan/meetingPoints",
		"because": ["plan/meetingPoints/gate", "plan/meetingPoints/school"],
		"text": "of 2 meeting points in the plan 1 is recorded at 220 m or higher; it needs 2: 1 short",
		"lack": 1,
	}} with input as places([place("gate", true, 219999), place("school", true, 395000)])
}

test_high_ground_of_a_stricter_household if {
	own := {"limits": [{"area": "flood", "name": "high_points", "list": false, "value": 3, "values": []}]}
	some f in flood.finding.high_ground with input as object.union(places([place("gate", true, 220000), place("school", true, 395000)]), own)
	f.text == "of 2 meeting points in the plan 2 are recorded at 220 m or higher; it needs 3: 1 short"
}

test_high_ground_unwritten_heights if {
	flood.finding.high_ground == {{
		"at": "plan/meetingPoints",
		"because": ["plan/meetingPoints/gate"],
		"text": "of 1 meeting point in the plan none is recorded at 220 m or higher; it needs 2: 2 short",
		"lack": 2,
	}} with input as places([place("gate", false, 400000)])
}
