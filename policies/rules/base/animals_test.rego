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
		"at": "animals",
		"because": ["animals/bo"],
		"text": "0 of the household's things hold papers of the animals (Bo); 1 is asked: 1 too few",
	}} with input as papers([{}], [["identity"]])
}

test_papers_not_asked_without_animals if {
	count(animals.finding.papers) == 0 with input as papers([], [])
}

held(beasts, offers) := {
	"animals": [t.animal(a) | some a in beasts],
	"capabilities": [t.capability("lead", [t.offer(o.means, o) | some o in offers])],
}

kit := {"id": "animals/kit", "name": "Kit"}

test_lead_at_the_limit[why] if {
	some why, case in {
		"a lead of its own": held([{}], [{"means": "lead", "owner": "animals/bo"}]),
		"a harness of its own": held([{}], [{"means": "harness", "owner": "animals/bo"}]),
		"a carrier of its own": held([{}], [{"means": "carrier", "owner": "animals/bo"}]),
		"a lead of a person": held([{}], [{"means": "lead", "owner": "people/ana"}]),
		"two of nobody's": held([{}, kit], [{"means": "lead", "count": 2}]),
		"one of its own and one of nobody's": held([{}, kit], [{"means": "lead", "owner": "animals/bo"}, {"means": "carrier"}]),
		"no animals": held([], []),
	}
	count(animals.finding.lead) == 0 with input as case
}

test_lead_one_too_few if {
	animals.finding.lead == {{
		"at": "animals",
		"because": ["animals/bo", "animals/kit"],
		"text": "Bo and Kit: no lead, harness or carrier of their own, and 1 that no animal owns; 2 asked: 1 too few",
	}} with input as held([{}, kit], [{"means": "lead"}, {"means": "muzzle", "owner": "animals/bo"}])
}

test_lead_of_one_animal_holds_no_other if {
	animals.finding.lead == {{
		"at": "animals",
		"because": ["animals/kit"],
		"text": "Kit: no lead, harness or carrier of their own, and 0 that no animal owns; 1 asked: 1 too few",
	}} with input as held([{}, kit], [{"means": "lead", "count": 3, "owner": "animals/bo"}])
}

burdened(more) := {"carriers": [t.carrier(object.union(
	{"id": "animals/bo", "kind": "animal", "name": "Bo", "age_months": 12, "packs": ["packs/saddle"]},
	more,
))]}

test_unfit_bearer_at_the_limit if {
	count(animals.finding.unfit_bearer) == 0 with input as burdened({})
}

test_unfit_bearer_one_too_young if {
	animals.finding.unfit_bearer == {{
		"at": "animals/bo",
		"because": ["packs/saddle"],
		"text": "Bo bears a pack and is 11 months old (12 months asked: 1 month too few)",
	}} with input as burdened({"age_months": 11})
}

test_unfit_bearer_unwell if {
	animals.finding.unfit_bearer == {{
		"at": "animals/bo",
		"because": ["packs/saddle"],
		"text": "Bo bears a pack and is unwell",
	}} with input as burdened({"fitness": "unwell"})
}

test_unfit_bearer_young_and_of_poor_fitness if {
	animals.finding.unfit_bearer == {{
		"at": "animals/bo",
		"because": ["packs/saddle"],
		"text": "Bo bears a pack and is 8 months old (12 months asked: 4 months too few) and of poor fitness",
	}} with input as burdened({"age_months": 8, "fitness": "poor"})
}

test_unfit_bearer_not_asked[why] if {
	some why, more in {
		"a person": {"kind": "person", "age_months": 8, "fitness": "poor"},
		"no pack": {"packs": [], "fitness": "poor"},
		"of unknown age": {"age_known": false, "age_months": 0},
	}
	count(animals.finding.unfit_bearer) == 0 with input as burdened(more)
}
