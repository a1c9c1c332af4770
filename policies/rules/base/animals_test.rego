package rules.base.animals_test

import data.lib.testing_test as t
import data.rules.base.animals

own_limit(name, value) := {"limits": [{"area": "animals", "name": name, "list": false, "value": value, "values": []}]}

papers(beasts, documents) := {
	"animals": [t.animal(a) | some a in beasts],
	"papers": [t.paper({"documents": d}) | some d in documents],
}

test_papers_present if {
	count(animals.finding.papers) == 0 with input as papers([{}], [["identity"], ["animal-papers", "photos"]])
}

test_papers_missing if {
	animals.finding.papers == {{
		"at": "animals/bo",
		"because": ["animals/bo", "animals/kit"],
		"text": "no papers for Bo and Kit are packed",
	}} with input as papers([{}, kit], [["identity"]])
}

test_papers_of_one_animal if {
	owned := [t.paper({"documents": ["animal-papers"], "owner": "animals/bo"}), t.paper({"documents": ["identity"], "owner": "people/ana"})]
	{f.at | some f in animals.finding.papers} == {"animals/kit"} with input as object.union(papers([{}, kit], []), {"papers": owned})
	anas := [t.paper({"documents": ["animal-papers"], "owner": "people/ana"})]
	count(animals.finding.papers) == 0 with input as object.union(papers([{}, kit], []), {"papers": anas})
}

test_papers_of_species if {
	every species in ["dog", "cat", "horse"] {
		{f.text | some f in animals.finding.papers} == {"no papers for Kit are packed"} with input as papers([{"species": "other"}, object.union(kit, {"species": species})], [])
	}
	count(animals.finding.papers) == 0 with input as papers([{"species": "other"}], [])
}

test_papers_not_asked_without_animals if {
	count(animals.finding.papers) == 0 with input as papers([], [])
}

test_papers_photo_missing if {
	animals.finding.papers_photo == {{
		"at": "animals/bo",
		"because": ["animals/bo", "animals/kit"],
		"text": "neither a photo nor a chip number is recorded for Bo and Kit",
	}} with input as papers([{}, object.union(kit, {"species": "cat"}), {"species": "horse"}, {"chip": true}], [["animal-papers"]])
}

test_papers_photo_there if {
	count(animals.finding.papers_photo) == 0 with input as papers([{}], [["animal-photo"]])
	count(animals.finding.papers_photo) == 0 with input as papers([], [])
}

held(beasts, offers) := {
	"animals": [t.animal(a) | some a in beasts],
	"capabilities": [t.capability("lead", [t.offer(o.means, o) | some o in offers])],
}

kit := {"id": "animals/kit", "name": "Kit"}

cat := {"id": "animals/puss", "name": "Puss", "species": "cat"}

goat := {"id": "animals/zora", "name": "Zora", "species": "other"}

horse := {"id": "animals/star", "name": "Star", "species": "horse"}

test_lead_at_the_limit[why] if {
	some why, case in {
		"a lead of its own": held([{}], [{"means": "lead", "owner": "animals/bo"}]),
		"a harness of its own": held([{}], [{"means": "harness", "owner": "animals/bo"}]),
		"a carrier of its own": held([{}], [{"means": "carrier", "owner": "animals/bo"}]),
		"a lead of a person": held([{}], [{"means": "lead", "owner": "people/ana"}]),
		"two of nobody's": held([{}, kit], [{"means": "lead", "count": 2}]),
		"one of its own and one of nobody's": held([{}, kit], [{"means": "lead", "owner": "animals/bo"}, {"means": "carrier"}]),
		"no animals": held([], []),
		"a cat in a carrier": held([cat], [{"means": "carrier"}]),
		"a cat in its carrier, a dog on a lead": held([{}, cat], [{"means": "carrier", "owner": "animals/puss"}, {"means": "lead"}]),
		"a cat in a carrier, a dog on a lead": held([{}, cat], [{"means": "carrier"}, {"means": "lead"}]),
		"a horse by a halter": held([horse], [{"means": "halter"}]),
		"a goat by each": held([object.union(goat, {"id": sprintf("animals/%s", [m])}) | some m in ["lead", "harness", "halter", "carrier"]], [{"means": m} | some m in ["lead", "harness", "halter", "carrier"]]),
		"a goat by its own halter": held([goat], [{"means": "halter", "owner": "animals/zora"}]),
		"a goat by its halter, a dog by the lead": held([goat, {}], [{"means": "lead"}, {"means": "halter"}]),
		"a horse by a harness": held([horse], [{"means": "harness"}]),
		"a horse by a lead": held([horse], [{"means": "lead"}]),
		"a horse by its own halter, a dog on a lead": held([{}, horse], [{"means": "halter", "owner": "animals/star"}, {"means": "lead"}]),
		"a horse by a halter, a dog on a lead": held([{}, horse], [{"means": "halter"}, {"means": "lead"}]),
	}
	count(animals.finding.lead) == 0 with input as case
}

test_lead_one_too_few if {
	animals.finding.lead == {{
		"at": "animals/kit",
		"because": [],
		"text": "Kit has no lead, harness or carrier",
	}} with input as held([{}, kit], [{"means": "lead"}, {"means": "muzzle", "owner": "animals/kit"}])
}

test_lead_of_one_animal_holds_no_other if {
	{f.at | some f in animals.finding.lead} == {"animals/kit"} with input as held([{}, kit], [{"means": "lead", "count": 3, "owner": "animals/bo"}])
}

test_lead_by_species[why] if {
	some why, case in {
		"a lead holds no cat": {"facts": held([cat], [{"means": "lead"}, {"means": "harness", "owner": "animals/puss"}]), "texts": {"Puss has no carrier"}},
		"a carrier holds no horse": {"facts": held([horse], [{"means": "carrier"}]), "texts": {"Star has no halter, harness or lead"}},
		"a halter holds no dog": {"facts": held([{}], [{"means": "halter"}]), "texts": {"Bo has no lead, harness or carrier"}},
		"one carrier for a cat and a dog": {"facts": held([{}, cat], [{"means": "carrier"}]), "texts": {"Bo has no lead, harness or carrier"}},
		"one lead for a horse and a dog": {"facts": held([{}, horse], [{"means": "lead"}]), "texts": {"Bo has no lead, harness or carrier"}},
		"one carrier for two cats": {"facts": held([cat, object.union(cat, {"id": "animals/tom", "name": "Tom"})], [{"means": "carrier"}]), "texts": {"Tom has no carrier"}},
		"two halters for a horse and a dog": {"facts": held([{}, horse], [{"means": "halter", "count": 2}]), "texts": {"Bo has no lead, harness or carrier"}},
		"three halters and a lead for a horse and two dogs": {"facts": held([{}, kit, horse], [{"means": "halter", "count": 3}, {"means": "lead"}]), "texts": {"Kit has no lead, harness or carrier"}},
		"a halter for a horse, nothing for a cat": {"facts": held([cat, horse], [{"means": "halter"}]), "texts": {"Puss has no carrier"}},
		"a goat and a dog, and a halter": {"facts": held([goat, {}], [{"means": "halter", "count": 2}]), "texts": {"Bo has no lead, harness or carrier"}},
		"a goat by a muzzle": {"facts": held([goat], [{"means": "muzzle"}]), "texts": {"Zora has no lead, harness, halter or carrier"}},
		"nothing at all": {"facts": held([{}], []), "texts": {"Bo has no lead, harness or carrier"}},
	}
	{f.text | some f in animals.finding.lead} == case.texts with input as case.facts
}

taken(more) := {"animal_medications": [t.medication(object.union({"id": "animals/bo/medications/heart", "name": "heart tablets", "person": "animals/bo", "person_name": "Bo", "usable_milli": 14000}, more))]}

test_medicine_at_the_limit if {
	count(animals.finding.medicine) == 0 with input as taken({})
}

test_medicine_one_too_few if {
	animals.finding.medicine == {{
		"at": "packs/rust/tablets",
		"because": ["animals/bo/medications/heart"],
		"text": "Bo has 13.999 usable doses of heart tablets and needs 14: 0.001 short",
		"lack": 1,
	}} with input as taken({"usable_milli": 13999})
}

test_medicine_none if {
	some f in animals.finding.medicine with input as taken({"usable_milli": 0, "items": []})
	f.at == "animals/bo/medications/heart"
	f.text == "Bo has no usable dose of heart tablets and needs 14: 14 short"
	some one in animals.finding.medicine with input as taken({"usable_milli": 1000})
	one.text == "Bo has 1 usable dose of heart tablets and needs 14: 13 short"
	some g in animals.finding.medicine with input as taken({"usable_milli": 1})
	g.text == "Bo has 0.001 usable doses of heart tablets and needs 14: 13.999 short"
}

test_medicine_when_needed if {
	count(animals.finding.medicine) == 0 with input as taken({"as_needed": true, "usable_milli": 1000})
	count(animals.finding.medicine) == 1 with input as taken({"as_needed": true, "usable_milli": 999})
}

left(beasts, means) := {
	"animals": [t.animal(a) | some a in beasts],
	"capabilities": [t.capability("animal_care", [t.offer(m, {}) | some m in means])],
}

test_waste_of_both if {
	animals.finding.waste == {{
		"at": "animals/puss",
		"because": ["animals/puss", "animals/bo", "animals/kit"],
		"text": "the household has no bags or litter for animal waste",
	}} with input as left([{}, kit, cat, horse], ["tray"])
}

test_waste_of_one if {
	{f.text | some f in animals.finding.waste} == {"the household has no litter for animal waste"} with input as left([{}, cat], ["bags"])
	{f.text | some f in animals.finding.waste} == {"the household has no bags for animal waste"} with input as left([{}, cat], ["litter"])
	{f.at | some f in animals.finding.waste} == {"animals/bo"} with input as left([cat, horse, {}], ["litter"])
	{f.at | some f in animals.finding.waste} == {"animals/puss"} with input as left([{}, cat], ["bags"])
}

test_waste_of_a_dog_alone if {
	{f.text | some f in animals.finding.waste} == {"the household has no bags for animal waste"} with input as left([{}], ["tray"])
}

test_waste_fine if {
	count(animals.finding.waste) == 0 with input as left([{}, cat], ["bags", "litter"])
	count(animals.finding.waste) == 0 with input as left([horse], [])
}

bowl(beasts, foods) := {"animals": [t.animal(a) | some a in beasts], "foods": [t.food(f) | some f in foods]}

# Who carries a cat is not recorded, and no pack tells it.
test_carried if {
	animals.finding.carried == {{
		"at": "animals/puss",
		"because": ["animals/puss"],
		"text": "who carries Puss is not recorded; the loads leave out these 20.00 kg",
	}} with input as object.union(held([cat], [{"means": "carrier"}]), {"plan": t.plan({})})
}

test_carried_of_two_is_one_finding if {
	rabbit := object.union(goat, {"body_mass_mg": 2000000})
	{f.text | some f in animals.finding.carried} == {"who carries Puss and Zora is not recorded; the loads leave out these 22.00 kg"} with input as object.union(held([cat, rabbit], [{"means": "carrier"}]), {"plan": t.plan({})})
}

test_carried_of[what] if {
	some what, c in {
		"a carrier of its own": [cat, {"means": "carrier", "owner": "animals/puss"}, {}, 1],
		"another's carrier": [cat, {"means": "carrier", "owner": "animals/tom"}, {}, 0],
		"a lead": [cat, {"means": "lead"}, {}, 0],
		"somebody carries it": [object.union(cat, {"carried_by": "people/ana"}), {"means": "carrier"}, {}, 0],
		"it rides": [object.union(cat, {"crate_rides": true}), {"means": "carrier"}, {}, 0],
		"all ride": [cat, {"means": "carrier"}, {"ridden": true}, 0],
		"a dog": [{}, {"means": "carrier"}, {}, 0],
		"a rabbit": [object.union(goat, {"body_mass_mg": 2000000}), {"means": "carrier"}, {}, 1],
		"a goat": [goat, {"means": "carrier"}, {}, 0],
	}
	count(animals.finding.carried) == c[3] with input as object.union(held([c[0]], [c[1]]), {"plan": t.plan(c[2])})
}

kibble := {"id": "packs/rust/kibble", "name": "Kibble", "for": "animals/bo", "for_animal": true}

chocolate := {"id": "packs/rust/treat", "name": "Milk Chocolate"}

test_harmful_food_beside_its_own if {
	animals.finding.harmful_food == {{
		"at": "packs/rust/treat",
		"because": ["animals/bo"],
		"text": "Milk Chocolate can poison Bo and is packed with the food for Bo",
	}} with input as bowl([{}, cat], [kibble, chocolate])
}

test_harmful_food_by_each_word if {
	every word in ["chocolate", "Schokolade", "chocolat", "チョコレート", "raisins", "Rosinen", "uva pasa", "grapes", "onion soup", "Zwiebelsuppe", "oignon", "cebolla", "玉ねぎ", "Xylitol gum", "キシリトール", "macadamia nuts"] {
		count(animals.finding.harmful_food) == 1 with input as bowl([{}], [kibble, object.union(chocolate, {"name": word})])
	}
}

test_harmful_food_of_a_species if {
	cats := bowl([cat], [object.union(kibble, {"for": "animals/puss"}), chocolate])
	count(animals.finding.harmful_food) == 1 with input as cats
	horses := bowl([horse], [object.union(kibble, {"for": "animals/star"}), chocolate])
	count(animals.finding.harmful_food) == 0 with input as horses
	written := bowl([horse], [object.union(kibble, {"for": "animals/star", "harms": ["horse"]})])
	count(animals.finding.harmful_food) == 1 with input as written
}

test_harmful_food_meant_for_it if {
	count(animals.finding.harmful_food) == 1 with input as bowl([{}], [object.union(kibble, {"name": "onion rings", "compartment": ""})])
}

# Bo has a day of kibble, and a day of something else.
feeds(extra) := facts if {
	beast := {"need_j": 4184000, "food_j": 8368000}
	facts := object.union(bowl([beast], [object.union(kibble, {"energy_j": 4184000}), object.union(kibble, object.union({"id": "packs/rust/more", "energy_j": 4184000}, extra))]), {"endurance": {"minutes": 2880}})
}

test_food_that_harms_is_no_food if {
	count(animals.finding.food) == 0 with input as feeds({})
	count(animals.finding.food) == 1 with input as feeds({"harms": ["dog"]})
	count(animals.finding.food) == 1 with input as feeds({"name": "dark chocolate"})
	count(animals.finding.food) == 0 with input as feeds({"harms": ["cat"]})
	count(animals.finding.food) == 0 with input as feeds({"harms": ["dog"], "for": "animals/puss"})
}

test_harmful_food_fine[why] if {
	some why, case in {
		"elsewhere": bowl([{}], [kibble, object.union(chocolate, {"compartment": "packs/rust/main"})]),
		"no food of its own": bowl([{}], [chocolate]),
		"on a body": bowl([{}], [object.union(kibble, {"compartment": ""}), object.union(chocolate, {"compartment": ""})]),
		"harmless": bowl([{}], [kibble, {}]),
		"beside another animal's food": bowl([{}, kit], [object.union(kibble, {"compartment": "packs/rust/main"}), object.union(kibble, {"for": "animals/star"}), chocolate]),
	}
	count(animals.finding.harmful_food) == 0 with input as case
}

burdened(more) := {"carriers": [t.carrier(object.union(
	{"id": "animals/bo", "kind": "animal", "name": "Bo", "age_months": 12, "packs": ["packs/saddle"], "load_mg": 2000000, "body_mass_mg": 20000000},
	more,
))]}

test_unfit_bearer_at_the_limit if {
	count(animals.finding.unfit_bearer) == 0 with input as burdened({})
}

test_unfit_bearer_one_too_young if {
	animals.finding.unfit_bearer == {{
		"at": "packs/saddle",
		"because": ["animals/bo", "packs/saddle"],
		"text": "Bo carries a pack and is 11 months old (12 months is the minimum)",
	}} with input as burdened({"age_months": 11})
}

test_unfit_bearer_unwell if {
	animals.finding.unfit_bearer == {{
		"at": "packs/saddle",
		"because": ["animals/bo", "packs/saddle"],
		"text": "Bo carries a pack and is unwell",
	}} with input as burdened({"fitness": "unwell"})
}

test_unfit_bearer_young_and_of_poor_fitness if {
	animals.finding.unfit_bearer == {{
		"at": "packs/saddle",
		"because": ["animals/bo", "packs/saddle"],
		"text": "Bo carries a pack and is 8 months old (12 months is the minimum) and in poor condition",
	}} with input as burdened({"age_months": 8, "fitness": "poor"})
}

test_unfit_bearer_not_asked[why] if {
	some why, more in {
		"a person": {"kind": "person", "age_months": 8, "fitness": "poor"},
		"no pack": {"packs": [], "fitness": "poor"},
		"of unknown age": {"age_known": false, "age_months": 0},
		"over the cap, which says it": {"age_months": 8, "foot_ug": 2000000001},
	}
	count(animals.finding.unfit_bearer) == 0 with input as burdened(more)
}

# Bo takes 4,184,000 J a day.
unfed(food_j, energy_known) := {
	"animals": [t.animal({"need_j": 4184000, "food_j": food_j})],
	"foods": [t.food({"id": "packs/rust/kibble", "for": "animals/bo", "energy_known": energy_known}), t.food({"id": "packs/rust/bars"})],
	"endurance": {"minutes": 1440},
}

of_unknown_energy(id) := t.unread(["animal-food"], {"id": id, "name": "kibble", "what": "energy"})

test_food_of_unknown_energy if {
	[f | some f in animals.finding.food] == [{
		"at": "animals/bo",
		"because": ["packs/rust/kibble/food"],
		"text": "how much food Bo has is not recorded (“kibble”); Bo needs 1000 kcal for 24 h (1000 kcal a day)",
		"unrecorded": ["packs/rust/kibble/food"],
	}] with input as t.with_unread(unfed(3765599, false), [of_unknown_energy("packs/rust/kibble/food")])
}

test_food_that_is_only_a_name if {
	every what in ["", "unreadable"] {
		t.levels(animals.finding.food) == ["not recorded"] with input as t.with_unread(unfed(0, true), [t.unread(["animal-food"], {"what": what})])
	}
}

# What people eat, and what another animal eats, is no answer; nor is anything asked where there is enough.
test_food_of_others_unknown if {
	t.levels(animals.finding.food) == [""] with input as t.with_unread(unfed(0, true), [of_unknown_energy("packs/rust/bars/food")])
	t.levels(animals.finding.food) == [""] with input as t.with_unread(unfed(0, true), [t.unread(["food"], {})])
	count(animals.finding.food) == 0 with input as t.with_unread(unfed(4184000, true), [t.unread(["animal-food"], {})])
}

# Two carriers by name alone may be for two cats of three.
test_lead_not_recorded if {
	tom := object.union(cat, {"id": "animals/tom", "name": "Tom"})
	tim := object.union(cat, {"id": "animals/tim", "name": "Tim"})
	carriers := t.unread(["lead", "lead:carrier"], {"count": 2})
	{[f.at, t.level_of(f)] | some f in animals.finding.lead} == {["animals/puss", "not recorded"], ["animals/tom", "not recorded"], ["animals/tim", ""]} with input as t.with_unread(held([cat, tom, tim], []), [carriers])
	{[f.at, t.level_of(f)] | some f in animals.finding.lead} == {["animals/puss", "not recorded"], ["animals/star", ""]} with input as t.with_unread(held([horse, cat], []), [carriers])
	{[f.at, t.level_of(f)] | some f in animals.finding.lead} == {["animals/bo", "not recorded"], ["animals/kit", "not recorded"], ["animals/puss", ""]} with input as t.with_unread(held([{}, kit, cat], []), [t.unread(["lead", "lead:lead"], {"count": 2})])
}

test_waste_not_recorded if {
	facts := t.with_unread(left([{}, cat], []), [t.unread(["animal_care", "animal_care:litter"], {})])
	{[f.at, f.text, t.level_of(f)] | some f in animals.finding.waste} == {
		["animals/bo", "the household has no bags for animal waste", ""],
		["animals/puss", "the household has no litter for animal waste (not recorded: “thing” may do)", "not recorded"],
	} with input as facts
}

# What by its name holds one animal is not taken twice: by those before that have what they need, or could do with nothing like it.
test_lead_not_recorded_of_others if {
	tom := object.union(cat, {"id": "animals/tom", "name": "Tom"})
	carrier := t.unread(["lead", "lead:carrier"], {})
	t.levels(animals.finding.lead) == ["not recorded"] with input as t.with_unread(held([cat, tom], [{"means": "carrier"}]), [carrier])
	t.levels(animals.finding.lead) == ["not recorded", "not recorded"] with input as t.with_unread(held([cat, horse], []), [carrier, t.unread(["lead", "lead:lead"], {})])
}

hens(more) := [object.union({"id": sprintf("animals/%s", [key]), "name": key, "species": "other", "body_mass_mg": 5000000}, more) | some key in ["dot", "fern", "pearl"]]

crate := [{"means": "carrier", "owner": ""}]

test_lead_of_hens_in_a_crate if {
	count(animals.finding.lead) == 0 with input as held(hens({}), crate)
	{f.at | some f in animals.finding.lead} == {"animals/fern", "animals/pearl"} with input as held(hens({"body_mass_mg": 5000001}), crate)
	{f.at | some f in animals.finding.lead} == {"animals/fern", "animals/pearl"} with input as held(hens({}), [{"means": "lead", "owner": ""}])
	{f.at | some f in animals.finding.lead} == {"animals/fern", "animals/pearl"} with input as held(hens({}), [{"means": "carrier", "owner": "animals/dot"}])
	{f.at | some f in animals.finding.lead} == {"animals/dot"} with input as held(array.concat(hens({}), [cat]), crate)
	{f.at | some f in animals.finding.lead} == {"animals/zora"} with input as held([hens({})[0], object.union(goat, {"body_mass_mg": 46000000})], crate)
	count(animals.finding.lead) == 0 with input as held(hens({}), array.concat(crate, [{"means": "halter", "owner": "animals/dot"}]))
	{f.at | some f in animals.finding.lead} == {"animals/fern"} with input as held([object.union(hens({})[0], {"species": "dog"}), hens({})[1]], crate)
	{f.at | some f in animals.finding.lead} == {"animals/fern"} with input as held([object.union(hens({})[0], {"body_mass_mg": 5000001}), hens({})[1]], crate)
	{f.at | some f in animals.finding.lead} == {"animals/fern"} with input as held([hens({})[0], hens({})[1]], array.concat(crate, [{"means": "halter", "owner": "animals/dot"}, {"means": "carrier", "owner": "animals/dot"}])) with data.limits.base.animals.lead_other.value as ["halter"]
}
