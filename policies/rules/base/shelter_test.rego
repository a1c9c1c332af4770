package rules.base.shelter_test

import data.lib.testing_test as t
import data.rules.base.shelter

test_each_pack_at_the_limit if {
	count(shelter.finding.each_pack) == 0 with input as {"packs": [t.pack_with([t.can("shelter", ["tarp"])])]}
}

test_each_pack_one_too_few if {
	shelter.finding.each_pack == {{
		"at": "packs/rust",
		"because": [],
		"text": "Rust has no means of shelter; 1 is asked: 1 too few",
	}} with input as {"packs": [t.pack_with([t.can("warmth", ["quilt"])])]}
}

test_each_pack_not_asked_of_animals if {
	count(shelter.finding.each_pack) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}
