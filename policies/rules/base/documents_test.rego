package rules.base.documents_test

import data.lib.testing_test as t
import data.rules.base.documents

# Ana with papers.
facts(papers) := {
	"household": t.household({"pack_count": 1}),
	"people": [t.person({})],
	"papers": papers,
}

test_copies_at_the_limit if {
	papers := [t.paper({"documents": ["identity", "insurance"]}), t.paper({"documents": ["medical"]})]
	count(documents.finding.copies) == 0 with input as facts(papers)
}

test_copies_one_too_few if {
	papers := [t.paper({"documents": ["identity", "medical"]}), t.paper({"id": "packs/rust/keys", "documents": ["keys"]})]
	documents.finding.copies == {{
		"at": "household",
		"because": ["packs/rust/papers"],
		"text": "the household's papers lack insurance: 2 of the 3 papers asked are there, 1 too few",
	}} with input as facts(papers)
}

test_copies_without_any if {
	documents.finding.copies == {{
		"at": "household",
		"because": [],
		"text": "the household's papers lack identity, insurance and medical: 0 of the 3 papers asked are there, 3 too few",
	}} with input as facts([])
}

test_copies_not_asked_without_packs if {
	none := object.union(facts([]), {"household": t.household({"pack_count": 0})})
	count(documents.finding.copies) == 0 with input as none
}

test_contacts_there if {
	count(documents.finding.contacts) == 0 with input as facts([t.paper({"documents": ["contacts", "identity"]})])
}

test_contacts_missing if {
	documents.finding.contacts == {{
		"at": "people/ana",
		"text": "Ana has 0 lists of contacts on paper; 1 is asked: 1 too few",
	}} with input as facts([])
}

test_contacts_with_another_or_other_papers if {
	every more in [{"documents": ["identity"]}, {"documents": ["contacts"], "carrier": "people/ben"}] {
		count(documents.finding.contacts) == 1 with input as facts([t.paper(more)])
	}
}

test_contacts_not_asked_of_children_and_people_without_packs if {
	every more in [{"adult": false}, {"pack_count": 0}] {
		count(documents.finding.contacts) == 0 with input as object.union(facts([]), {"people": [t.person(more)]})
	}
}

test_dry_kept if {
	count(documents.finding.dry) == 0 with input as facts([t.paper({"documents": ["identity"], "cash": true, "waterproof": true})])
}

test_dry_not_kept if {
	documents.finding.dry == {{
		"at": "packs/rust/papers",
		"text": "Papers holds identity and money in a pack, and is not written to stay dry",
	}} with input as facts([t.paper({"documents": ["identity", "keys"], "cash": true})])
}

test_dry_asked_of_each_paper if {
	every kind in ["identity", "insurance", "prescription", "medical", "contacts", "animal-papers", "photos"] {
		documents.finding.dry == {{
			"at": "packs/rust/papers",
			"text": sprintf("Papers holds %s in a pack, and is not written to stay dry", [kind]),
		}} with input as facts([t.paper({"documents": [kind]})])
	}
}

test_dry_asked_of_money if {
	documents.finding.dry == {{
		"at": "packs/rust/papers",
		"text": "Papers holds money in a pack, and is not written to stay dry",
	}} with input as facts([t.paper({"cash": true})])
}

test_dry_not_asked_of_maps_and_keys if {
	count(documents.finding.dry) == 0 with input as facts([t.paper({"documents": ["keys", "map"], "map": true})])
}

test_dry_not_asked_on_the_body if {
	count(documents.finding.dry) == 0 with input as facts([t.paper({"documents": ["identity"], "cash": true, "pack": ""})])
}

test_keys_there if {
	count(documents.finding.keys) == 0 with input as facts([t.paper({"documents": ["identity", "keys"]})])
}

test_keys_missing if {
	documents.finding.keys == {{
		"at": "household",
		"text": "the household takes 0 sets of keys; 1 is asked: 1 too few",
	}} with input as facts([t.paper({"documents": ["identity"]})])
}

test_keys_not_asked_without_packs if {
	none := object.union(facts([]), {"household": t.household({"pack_count": 0})})
	count(documents.finding.keys) == 0 with input as none
}
