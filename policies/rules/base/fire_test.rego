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
	}} with input as {"packs": [t.pack_with([t.can("fire", ["matches"])])]}
}

test_two_means_not_asked_of_animals if {
	count(fire.finding.two_means) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}
