package rules.base.documents_test

import data.lib.testing_test as t
import data.rules.base.documents

# Ana with papers.
facts(papers) := {
	"household": t.household({}),
	"plan": t.plan({}),
	"people": [t.person({})],
	"papers": papers,
	"medications": [],
	"allergies": [],
	"capabilities": [],
}

with_more(papers, more) := object.union(facts(papers), more)

folder := t.paper({"name": "Folder", "documents": ["identity", "insurance"]})

test_copies_at_the_limit if {
	count(documents.finding.copies) == 0 with input as facts([folder])
}

test_copies_medical_for_who_needs_it[what] if {
	some what, more in {"medicine": {"medications": [t.medication({})]}, "allergy": {"allergies": [t.allergy({})]}}
	prescribed := t.paper({"documents": ["prescription", "contacts"]})
	{f.text | some f in documents.finding.copies} == {"the household has no copy of these papers: medical"} with input as with_more([folder, prescribed], more)
	papers := [folder, t.paper({"documents": ["medical"]})]
	count(documents.finding.copies) == 0 with input as with_more(papers, more)
}

test_copies_stand_at_the_one_folder if {
	papers := [t.paper({"documents": ["identity", "medical"]}), t.paper({"id": "packs/rust/keys", "documents": ["keys"]})]
	documents.finding.copies == {{
		"at": "packs/rust/papers",
		"because": ["packs/rust/papers"],
		"text": "the household has no copy of these papers: insurance and contact numbers",
	}} with input as facts(papers)
}

test_copies_without_any_or_in_two_folders if {
	documents.finding.copies == {{
		"at": "household",
		"because": [],
		"text": "the household has no copy of these papers: identity, insurance and contact numbers",
	}} with input as facts([])
	{f.at | some f in documents.finding.copies} == {"household"} with input as facts([t.paper({"documents": ["identity"]}), t.paper({"id": "packs/moss/papers", "documents": ["identity"]})])
}

mia(months, more) := t.person(object.union({"id": "people/mia", "name": "Mia", "packs": [], "adult": false, "age_months": months}, more))

card(more) := t.paper(object.union({"documents": ["contacts"]}, more))

test_contacts_there if {
	count(documents.finding.contacts) == 0 with input as facts([card({})])
}

test_contacts_missing_with_an_adult_is_a_note if {
	documents.finding.contacts == {{
		"at": "packs/rust",
		"because": ["people/ana"],
		"text": "no contact numbers on paper: Ana",
		"level": "note",
	}} with input as facts([folder, card({"carrier": "people/ben"})])
}

test_contacts_left_to_the_copies if {
	count(documents.finding.contacts) == 0 with input as facts([])
	count(documents.finding.contacts) == 1 with input as facts([folder])
	count(documents.finding.contacts) == 1 with input as facts([card({"carrier": "people/ben"})])
}

# What the copies say besides, each where nothing else does.
test_copies_name_what_else_is_missing[what] if {
	some what, c in {
		"numbers of an adult": [[], {}, "identity, insurance and contact numbers"],
		"there are numbers": [[card({"carrier": "people/ben"})], {}, "identity and insurance"],
		"a child has none": [[], {"people": [t.person({}), mia(72, {})]}, "identity and insurance"],
		"nobody asked": [[], {"people": []}, "identity and insurance"],
		"prescriptions": [[card({})], {"medications": [t.medication({})]}, "identity, insurance, medical and prescriptions"],
		"a prescription": [[card({"documents": ["contacts", "prescription"]})], {"medications": [t.medication({})]}, "identity, insurance and medical"],
		"taken as needed": [[card({})], {"medications": [t.medication({"as_needed": true})]}, "identity, insurance and medical"],
	}
	{f.text | some f in documents.finding.copies} == {concat("", ["the household has no copy of these papers: ", c[2]])} with input as with_more(c[0], c[1])
}

test_contacts_missing_with_a_teenager if {
	documents.finding.contacts == {{
		"at": "people/mia",
		"because": ["people/mia"],
		"text": "no contact numbers on paper: Mia",
		"level": "warning",
	}} with input as with_more([card({})], {"people": [t.person({}), mia(180, {})]})
}

test_contacts_missing_with_all_stands_at_the_household if {
	documents.finding.contacts == {{
		"at": "household",
		"because": ["people/ana", "people/mia"],
		"text": "no contact numbers on paper: Ana and Mia",
		"level": "warning",
	}} with input as with_more([], {"people": [t.person({}), mia(72, {})]})
}

test_contacts_of_children[what] if {
	some what, c in {
		"too young": [71, {}, 0],
		"a bag of their own": [72, {}, 1],
		"always with Ana": [72, {"with": ["people/ana"]}, 0],
	}
	count(documents.finding.contacts) == c[2] with input as with_more([card({})], {"people": [t.person({}), mia(c[0], c[1])]})
}

test_contacts_of_nobody_old_enough if {
	count(documents.finding.contacts) == 0 with input as with_more([], {"people": [mia(71, {})]})
}

test_contacts_on_a_tag[what] if {
	some what, c in {"child": [143, "people/mia", 0], "older": [144, "people/mia", 1], "another's tag": [143, "people/ana", 1]}
	more := {"people": [t.person({}), mia(c[0], {})], "capabilities": [t.capability("identify", [t.offer("name-tag", {"carrier": c[1]})])]}
	count(documents.finding.contacts) == c[2] with input as with_more([card({})], more)
}

wet := {"plan": t.plan({"foot_mm": 1})}

test_dry_kept if {
	papers := [object.union(folder, {"cash": true, "waterproof": true})]
	count(documents.finding.dry) == 0 with input as with_more(papers, wet)
}

test_dry_not_kept if {
	documents.finding.dry == {{
		"at": "packs/rust/papers",
		"because": ["packs/rust/papers", "packs/moss/purse"],
		"text": "identity, insurance and money would get wet: Folder and Purse",
		"level": "warning",
	}} with input as with_more([folder, t.paper({"id": "packs/moss/purse", "name": "Purse", "cash": true}), t.paper({"name": "Other purse", "documents": ["keys"]})], wet)
}

test_dry_names_only_what_gets_wet if {
	{f.because | some f in documents.finding.dry} == {["packs/rust/papers"]} with input as with_more([folder, t.paper({"id": "people/ana/purse", "pack": "", "cash": true})], wet)
}

# More money beside some that stays dry or is worn is nobody's worry.
test_dry_money_beside_dry_money[where] if {
	some where, more in {"worn": {"pack": ""}, "dry": {"waterproof": true}}
	papers := [object.union(folder, {"waterproof": true}), t.paper({"name": "Envelope", "cash": true}), t.paper(object.union({"id": "packs/moss/purse", "cash": true}, more))]
	count(documents.finding.dry) == 0 with input as with_more(papers, wet)
}

test_dry_money_once if {
	purses := [t.paper({"id": sprintf("packs/rust/%s", [n]), "name": n, "cash": true}) | some n in ["Purse", "Envelope"]]
	{f.text | some f in documents.finding.dry} == {"money would get wet: Purse and Envelope"} with input as with_more(array.concat([object.union(folder, {"waterproof": true})], purses), wet)
}

test_dry_with_a_dry_copy_is_a_note if {
	papers := [folder, object.union(folder, {"id": "packs/moss/papers", "waterproof": true}), t.paper({"id": "packs/rust/purse", "name": "Purse", "cash": true}), t.paper({"id": "people/ana/purse", "cash": true, "pack": ""})]
	documents.finding.dry == {{
		"at": "packs/rust/papers",
		"because": ["packs/rust/papers"],
		"text": "identity and insurance would get wet: Folder",
		"level": "note",
	}} with input as with_more(papers, wet)
}

test_dry_stands_at_what_has_no_dry_copy if {
	papers := [t.paper({"id": "packs/rust/photos", "documents": ["photos"]}), t.paper({"id": "packs/moss/photos", "documents": ["photos"], "waterproof": true}), folder]
	{f.at | some f in documents.finding.dry} == {"packs/rust/papers"} with input as with_more(papers, wet)
}

test_dry_of_each_paper[kind] if {
	some kind, level in {
		"identity": "warning",
		"insurance": "warning",
		"prescription": "note",
		"medical": "note",
		"contacts": "note",
		"animal-papers": "note",
		"photos": "note",
	}
	papers := [object.union(folder, {"id": "packs/moss/papers", "waterproof": true, "documents": [d | some d in ["identity", "insurance"]; d != kind]}), t.paper({"documents": [kind]})]
	documents.finding.dry == {{
		"at": "packs/rust/papers",
		"because": ["packs/rust/papers"],
		"text": sprintf("%s would get wet: Papers", [replace(kind, "-", " ")]),
		"level": level,
	}} with input as with_more(papers, wet)
}

test_dry_by_danger[what] if {
	some what, c in {
		"nothing written": [{}, "note"],
		"by vehicle": [{"foot_mm": 0, "hazards": ["fire"]}, "note"],
		"on foot": [{"foot_mm": 1}, "warning"],
		"floods": [{"hazards": ["flood"]}, "warning"],
	}
	{f.level | some f in documents.finding.dry} == {c[1]} with input as with_more([folder], {"plan": t.plan(c[0])})
}

test_dry_after_copies if {
	count(documents.finding.dry) == 0 with input as with_more([t.paper({"documents": ["identity"]})], wet)
}

test_dry_not_for_maps_and_keys if {
	papers := [object.union(folder, {"waterproof": true}), t.paper({"documents": ["keys", "map"], "map": true})]
	count(documents.finding.dry) == 0 with input as with_more(papers, wet)
}

test_dry_not_on_the_body if {
	count(documents.finding.dry) == 0 with input as with_more([object.union(folder, {"cash": true, "pack": ""})], wet)
}

test_keys_there if {
	count(documents.finding.keys) == 0 with input as facts([t.paper({"documents": ["identity", "keys"]})])
}

test_keys_missing if {
	documents.finding.keys == {{
		"at": "household",
		"text": "the household has no keys packed or in a pocket",
	}} with input as facts([t.paper({"documents": ["identity"]})])
}

test_copies_not_recorded[what] if {
	some what, c in {
		"what is missing": [["documents", "documents:insurance"], "", "not recorded"],
		"something else": [["documents", "documents:keys"], "", ""],
		"not read": [["documents"], "unreadable", "not recorded"],
		"not read, something else": [["food"], "unreadable", ""],
	}
	unread := [t.unread(c[0], {"what": c[1]})]
	t.levels(documents.finding.copies) == [c[2]] with input as t.with_unread(facts([t.paper({"documents": ["identity"]})]), unread)
}

test_copies_not_recorded_each_kind if {
	unread := [t.unread(["documents", "documents:insurance"], {})]
	t.levels(documents.finding.copies) == ["", "not recorded"] with input as t.with_unread(facts([]), unread)
}

test_contacts_not_recorded[what] if {
	some what, c in {
		"hers": ["people/mia", "documents:contacts", ["not recorded", "note"]],
		"elsewhere": ["people/ben", "documents:contacts", ["warning"]],
		"a map": ["people/mia", "documents:map", ["warning"]],
	}
	unread := [t.unread(["documents", c[1]], {"carrier": c[0]})]
	t.levels(documents.finding.contacts) == c[2] with input as t.with_unread(with_more([], {"people": [t.person({}), mia(150, {})]}), unread)
}

test_keys_not_recorded if {
	some f in documents.finding.keys with input as t.with_unread(facts([]), [t.unread(["documents", "documents:keys"], {})])
	endswith(f.text, "(not recorded: “thing” may do)")
	some g in documents.finding.keys with input as t.with_unread(facts([]), [t.unread(["documents", "documents:map"], {})])
	g.text == "the household has no keys packed or in a pocket"
}

# What is said with the copies is said of what is surely missing, and by its own rule where all copies may be there.
test_copies_and_what_is_not_recorded[what] if {
	some what, c in {
		"one copy, by its name": [["insurance"], {"the household has no copy of these papers: identity, medical, prescriptions and contact numbers", "the household has no copy of these papers: insurance (not recorded: “thing” may do)"}, 0],
		"prescriptions, by their name": [["prescription"], {"the household has no copy of these papers: identity, insurance, medical and contact numbers"}, 0],
		"contact numbers, by their name": [["contacts"], {"the household has no copy of these papers: identity, insurance, medical and prescriptions"}, 1],
		"all copies, by their names": [["identity", "insurance", "medical"], {"the household has no copy of these papers: identity, insurance and medical (not recorded: “thing” may do)"}, 1],
	}
	things := [t.unread(array.concat(["documents"], [sprintf("documents:%s", [k]) | some k in c[0]]), {})]
	taken := t.with_unread(with_more([], {"medications": [t.medication({})]}), things)
	got := {replace(f.text, "“thing”, “thing” and “thing”", "“thing”") | some f in documents.finding.copies} with input as taken
	got == c[1]
	count(documents.finding.contacts) == c[2] with input as taken
}
