package rules.base.money_test

import data.lib.testing_test as t
import data.rules.base.money

facts(papers) := {"household": t.household({}), "papers": papers}

purse := t.paper({"id": "packs/rust/purse", "name": "Purse", "cash": true})

test_cash_there if {
	count(money.finding.cash) == 0 with input as facts([purse, t.paper({"cash": true, "small_notes": true})])
}

test_cash_missing if {
	money.finding.cash == {{
		"at": "household",
		"text": "nobody has cash in a pack or a pocket",
	}} with input as facts([t.paper({"documents": ["identity"]})])
}

test_cash_without_small_notes if {
	money.finding.cash == {{
		"at": "packs/rust/purse",
		"because": ["packs/rust/purse", "people/ben/purse"],
		"text": "no cash is recorded as small notes: Purse and Wallet",
		"level": "note",
	}} with input as facts([purse, t.paper({}), t.paper({"id": "people/ben/purse", "name": "Wallet", "cash": true})])
}
