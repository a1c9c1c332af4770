package rules.base.growth_test

import data.lib.testing_test as t
import data.rules.base.growth

child(months) := t.person({"id": "people/mia", "name": "Mia", "age_months": months})

facts(on, people, things) := {"audit": {"on_day": on}, "people": people, "sized": things}

coat := t.sized({"id": "people/mia/coat", "name": "Coat", "kind": "jacket", "seen_day": 19990})

test_outgrown_at_the_limit[months] if {
	some months, days in {47: 122, 48: 183, 143: 183}
	count(growth.finding.outgrown) == 0 with input as facts(20000 + days, [child(months)], [t.sized({})])
	count(growth.finding.outgrown) == 1 with input as facts(20001 + days, [child(months)], [t.sized({})])
}

test_outgrown_stands_at_the_oldest_day if {
	growth.finding.outgrown == {{
		"at": "people/mia/coat/sizeSeen",
		"because": ["people/mia/shoes", "people/mia/coat"],
		"text": "Mia last tried on Shoes and Coat 210 days ago; at this age it should be at most 183 days",
	}} with input as facts(20200, [child(60)], [t.sized({}), coat])
}

test_outgrown_not_asked[what] if {
	some what, c in {
		"twelve years old": [[child(144)], [t.sized({})]],
		"of unknown age": [[object.union(child(60), {"age_known": false})], [t.sized({})]],
		"somebody else's": [[child(60), t.person({})], [t.sized({"whose": "people/ana"})]],
		"nobody's": [[child(60)], [t.sized({"whose": ""})]],
	}
	count(growth.finding.outgrown) == 0 with input as facts(30000, c[0], c[1])
}

# Each child with their things; one who has none is not named.
test_outgrown_not_recorded_is_one_note if {
	kai := object.union(child(60), {"id": "people/kai", "name": "Kai"})
	zoe := object.union(child(60), {"id": "people/zoe", "name": "Zoe"})
	kais := t.sized({"id": "people/kai/shoes", "whose": "people/kai", "seen_known": false})

	things := [t.sized({"size_known": false}), t.sized({"id": "people/mia/boots", "name": "Boots"}), object.union(coat, {"seen_known": false, "seen_day": 0})]
	growth.finding.outgrown == {{
		"at": "people/mia/shoes",
		"because": ["people/mia/shoes", "people/mia/coat", "people/kai/shoes"],
		"text": "no size, or no day of trying on, is recorded for what children outgrow: Shoes and Coat (Mia); Shoes (Kai)",
		"level": "note",
	}} with input as facts(20000, [child(60), kai, zoe], array.concat(things, [kais]))
}
