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
