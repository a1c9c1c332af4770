package rules.base.money_test

import data.lib.testing_test as t
import data.rules.base.money

# Ana and Ben, adults with a pack, a child with one and an adult without.
facts(papers) := {
	"household": t.household({"pack_count": 1}),
	"people": [
		t.person({}),
		t.person({"id": "people/ben"}),
		t.person({"id": "people/mia", "adult": false}),
		t.person({"id": "people/ida", "pack_count": 0}),
	],
	"papers": papers,
}

# Things with money, with these carriers.
purses(carriers) := [t.paper({"id": sprintf("packs/%s/purse", [c]), "name": sprintf("Purse %s", [c]), "carrier": sprintf("people/%s", [c]), "cash": true}) | some c in carriers]

test_cash_there if {
	count(money.finding.cash) == 0 with input as facts(purses(["mia"]))
}

test_cash_missing if {
	money.finding.cash == {{
		"at": "household",
		"text": "0 of the household's things hold cash; 1 is asked: 1 too few",
	}} with input as facts([t.paper({"documents": ["identity"]})])
}

test_cash_not_asked_without_packs if {
	none := object.union(facts([]), {"household": t.household({"pack_count": 0})})
	count(money.finding.cash) == 0 with input as none
}

test_small_notes_there if {
	papers := array.concat(purses(["ana"]), [t.paper({"cash": true, "small_notes": true})])
	count(money.finding.small_notes) == 0 with input as facts(papers)
}

test_small_notes_missing if {
	money.finding.small_notes == {{
		"at": "household",
		"because": ["packs/ana/purse", "packs/ben/purse"],
		"text": "the household's cash (Purse ana and Purse ben) is not written to hold small notes: 0 of 2 do, 1 is asked: 1 too few",
	}} with input as facts(array.concat(purses(["ana", "ben"]), [t.paper({})]))
}

test_small_notes_not_asked_without_cash if {
	count(money.finding.small_notes) == 0 with input as facts([t.paper({})])
}
