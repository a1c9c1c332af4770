package rules.base.animals

import data.lib

# METADATA
# title: Food for each animal through the plan
# description: >-
#   A hungry animal is hard to lead and hard to keep quiet, and its food is nowhere to be
#   bought. The food meant for each animal is set against its need for as long as the plan
#   lasts, 72 hours where it does not say. Species that graze on the way are not asked.
# custom:
#   level: warning
#   remedy: Add dry food, and write the animal as the one it is for.
#   mend: {work: add}
#   sources:
#     - "Merck Veterinary Manual, small-animal nutrition, resting need of 70 kcal for each kg of body mass to the power of 0.75, with multipliers of veterinary tables; year not seen; seen second-hand (that of the intact cat from memory)"
#     - "Food for pets: Ready.gov/FEMA 2022 (additional items); seen second-hand"
#     - "Food meant for the animal, and what is not asked of grazing species: common practice, no source"
#   limits: [animals.finds_own]
#   caution: >-
#     The need is an average; young, working, pregnant or unwell animals need more or other
#     food. Ask a veterinarian, also before you count on grazing, and write energyPerDay.
#   passes: |
#     plan: duration: "24 h"
#     animals: bo: {species: "dog", bodyMass: "24 kg", energyPerDay: "1000 kcal"}
#     packs: rust: compartments: lid: items: kibble: {mass: "300 g", food: {energy: "1000 kcal", for: "bo"}}
#   fails: |
#     plan: duration: "24 h"
#     animals: bo: {species: "dog", bodyMass: "24 kg", energyPerDay: "1000 kcal"}
#     packs: rust: compartments: lid: items: kibble: {mass: "300 g", food: {energy: "900 kcal", for: "bo"}}
finding.food contains f if {
	some animal in _fed
	need := animal.need_j * input.endurance.minutes
	short := need - (animal.food_j * lib.day_min)
	short > 0
	f := {
		"at": animal.id,
		"because": [sprintf("%s/food", [animal.id])],
		"text": sprintf("the food for %s holds %s of the %s that %s takes in %s (%s a day): %s short", [
			animal.name,
			lib.kcal(animal.food_j),
			lib.kcal(lib.nearest(need, lib.day_min)),
			animal.name,
			lib.hours(input.endurance.minutes),
			lib.kcal(animal.need_j),
			lib.energy(lib.up(short, lib.day_min)),
		]),
	}
}

_fed := [a |
	own := lib.limit("animals", "finds_own")
	some a in input.animals
	not a.species in own
]

# METADATA
# title: Papers of the animals
# description: >-
#   A shelter or a boarding place may take only an animal whose vaccinations are on paper,
#   and a photo proves whose it is. A household with animals has one thing that holds the
#   animals' papers, whoever bears it.
# custom:
#   level: warning
#   remedy: Copy the vaccination booklet and the registration, add a photo, and write animal-papers under the documents of the item.
#   mend: {work: add}
#   sources:
#     - "The papers: common practice, no source"
#     - "Pet supplies are on the lists of Ready.gov/FEMA (2022) and the American Red Cross (2020), both seen second-hand, and of NYC Emergency Management (year not seen; a copy of its own page)"
#   limits: []
#   caution: Which vaccinations and papers are asked for differs by place; check local law.
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: compartments: lid: items: booklet: {mass: "20 g", documents: ["animal-papers"]}
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: compartments: lid: items: papers: {mass: "20 g", documents: ["identity"]}
finding.papers contains f if {
	count(input.animals) > 0
	not _papers_packed
	f := {
		"at": "animals",
		"because": [a.id | some a in input.animals],
		"text": sprintf("0 of the household's things hold papers of the animals (%s); 1 is asked: 1 too few", [lib.and_list([a.name | some a in input.animals])]),
	}
}

_papers_packed if {
	some paper in input.papers
	"animal-papers" in paper.documents
}

# METADATA
# title: Something to hold each animal by
# description: >-
#   Smoke, sirens and strange dogs make a calm animal bolt. Each animal has a lead, a harness or
#   a carrier: its own, or one that no animal owns, of which each serves one animal. A muzzle
#   alone holds none.
# custom:
#   level: warning
#   remedy: Pack a spare lead or a carrier, and write the animal as its owner.
#   mend: {work: add}
#   sources:
#     - "common practice, no source"
#   limits: [animals.lead_means]
#   caution: Never tie an animal where water can rise, and never leave it in a closed car.
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: compartments: lid: items: lead: {mass: "120 g", can: lead: "lead"}
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: compartments: lid: items: muzzle: {mass: "60 g", owner: "bo", can: lead: "muzzle"}
finding.lead contains f if {
	accepted := lib.limit("animals", "lead_means")
	leads := [o | some o in lib.offers("lead"); o.means in accepted]
	owners := {o.owner | some o in leads}
	without := [a | some a in input.animals; not a.id in owners]
	animals := {a.id | some a in input.animals}
	loose := lib.pieces([o | some o in leads; not o.owner in animals])
	short := count(without) - loose
	short > 0
	f := {
		"at": "animals",
		"because": [a.id | some a in without],
		"text": sprintf("%s: no lead, harness or carrier of their own, and %d that no animal owns; %d asked: %d too few", [
			lib.and_list([a.name | some a in without]),
			loose,
			count(without),
			short,
		]),
	}
}

# METADATA
# title: No pack on a young or unfit animal
# description: >-
#   Joints that still grow and a body that is ill are hurt by a load, and an animal does not
#   complain until it lies down. An animal that bears a pack is grown and well. An age that is
#   not known is not asked.
# custom:
#   level: warning
#   remedy: Take the pack off the animal and share its things out.
#   mend: {work: move}
#   sources:
#     - "Lay pages for dogs, no load for pups and for unwell dogs; year not seen; seen second-hand; no veterinary standard found"
#     - "The age in months, for every species: common practice, no source"
#   limits: [animals.bear_months, animals.unfit]
#   caution: >-
#     Large dogs and horses are grown later. No pack for an old, long-backed or pregnant
#     animal either; ask a veterinarian first.
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg", age: "4 y", fitness: "good", carries: true}
#     packs: saddle: {carrier: "bo", mass: "1 kg"}
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg", age: "11 months", fitness: "good", carries: true}
#     packs: saddle: {carrier: "bo", mass: "1 kg"}
finding.unfit_bearer contains f if {
	some carrier in input.carriers
	carrier.kind == "animal"
	count(carrier.packs) > 0
	reasons := array.concat(_young(carrier), _unfit(carrier))
	count(reasons) > 0
	f := {
		"at": carrier.id,
		"because": carrier.packs,
		"text": sprintf("%s bears a pack and is %s", [carrier.name, lib.and_list(reasons)]),
	}
}

_young(carrier) := [sprintf("%s old (%s asked: %s too few)", [
	lib.age(carrier.age_months),
	lib.age(least),
	lib.age(least - carrier.age_months),
]) |
	least := lib.limit("animals", "bear_months")
	carrier.age_known
	carrier.age_months < least
]

_unfit(carrier) := [words |
	carrier.fitness in lib.limit("animals", "unfit")
	words := _fitness(carrier.fitness)
]

_fitness("poor") := "of poor fitness"

_fitness(state) := state if state != "poor"
