package rules.base.people_test

import data.lib.testing_test as t
import data.rules.base.people

with_ruth(more) := {"people": [t.person({}), t.person({"id": "people/ben"}), t.person(object.union({"id": "people/ruth", "name": "Ruth", "carries": false}, more))]}

test_beside_nobody_named if {
	people.finding.beside == {{
		"at": "people/ruth/carries",
		"text": "Ruth carries nothing, and who is always beside them is not recorded",
	}} with input as with_ruth({"age_months": 72})
}

test_beside_not_asked[who] if {
	some who, more in {
		"carries": {"carries": true},
		"is carried": {"carried_by": "people/ana"},
		"somebody is named": {"with": ["people/ana"]},
		"a small child": {"age_months": 71},
	}
	count(people.finding.beside) == 0 with input as with_ruth(more)
}

test_beside_not_asked_of_two if {
	facts := with_ruth({})
	count(people.finding.beside) == 0 with input as {"people": array.slice(facts.people, 1, 3)}
}

labelled(person, offers) := {
	"people": [t.person(object.union({"conditions": ["seizures"]}, person))],
	"capabilities": [t.capability("identify", [t.offer(m, {"person": p}) | some m, p in offers])],
}

test_identity if {
	people.finding.identity == {{
		"at": "people/ana",
		"because": ["people/ana"],
		"text": "no bracelet or tag says what helpers must know of Ana",
	}} with input as labelled({}, {"id-card": "people/ana", "name-tag": "people/ben"})
}

test_identity_fine[what] if {
	some what, facts in {
		"a bracelet": labelled({}, {"id-bracelet": "people/ana"}),
		"a tag": labelled({}, {"name-tag": "people/ana"}),
		"another illness": labelled({"conditions": ["thyroid"]}, {}),
		"a small child": labelled({"age_months": 71}, {}),
	}
	count(people.finding.identity) == 0 with input as facts
}

# A bracelet by its name counts where it is worn.
test_identity_not_recorded[what] if {
	some what, c in {"worn": ["", "not recorded"], "in a pack": ["packs/rust", ""]}
	bracelet := t.unread(["identify", "identify:id-bracelet"], {"pack": c[0]})
	t.levels(people.finding.identity) == [c[1]] with input as t.with_unread(labelled({}, {}), [bracelet])
}
