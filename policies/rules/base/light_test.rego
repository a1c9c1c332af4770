package rules.base.light_test

import data.lib.testing_test as t
import data.rules.base.light

test_each_pack_at_the_limit if {
	count(light.finding.each_pack) == 0 with input as {"packs": [t.pack_with([t.can("light", ["lantern"])])]}
}

test_each_pack_one_too_few if {
	light.finding.each_pack == {{
		"at": "packs/rust",
		"because": [],
		"text": "Rust has no means of light; 1 is asked: 1 too few",
	}} with input as {"packs": [t.pack_with([t.can("warmth", ["quilt"])])]}
}

test_each_pack_not_asked_of_animals if {
	count(light.finding.each_pack) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}
