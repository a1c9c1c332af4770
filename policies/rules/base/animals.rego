package rules.base.animals

import data.lib

# METADATA
# title: Each animal has food for the whole plan
# description: >-
#   A hungry animal is hard to lead and hard to keep quiet, and shops are shut. The food meant for each animal is
#   compared with what it needs for as long as the plan lasts, 72 hours if the plan does not say, with the same margin as
#   for people; food that harms it does not count. Species that graze on the way are left out.
# custom:
#   level: warning
#   remedy: Add dry food, and write the animal under for.
#   mend: {work: add, get: food for the animal}
#   sources:
#     - "Merck Veterinary Manual, small-animal nutrition, resting need of 70 kcal for each kg of body mass to the power of 0.75, with multipliers of veterinary tables; year not seen; seen second-hand (that of the intact cat from memory)"
#     - "Food for pets: Ready.gov/FEMA 2022 (additional items); seen second-hand"
#     - "Food meant for the animal, and that grazing species need none: common practice, no source"
#   limits: [animals.finds_own, endurance.energy_share, animals.harmful_words, animals.harmed_species]
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
#     packs: rust: compartments: lid: items: kibble: {mass: "300 g", food: {energy: "890 kcal", for: "bo"}}
finding.food contains f if {
	some animal in _fed
	need := animal.need_j * input.endurance.minutes
	harmful := [food | some food in input.foods; food.for == animal.id; _harms(food, animal)]
	eaten := animal.food_j - sum([food.energy_j | some food in harmful])
	have := eaten * lib.day_min
	lib.lacking(have, need, lib.limit("endurance", "energy_share"))
	short := need - have
	bare := {
		"at": animal.id,
		"because": [sprintf("%s/food", [animal.id])],
		"text": sprintf("%s has %s of the %s of food needed for %s (%s a day): %s short", [
			animal.name,
			_kcal_or_none(eaten),
			lib.kcal(lib.nearest(need, lib.day_min)),
			lib.hours(input.endurance.minutes),
			lib.kcal(animal.need_j),
			lib.energy(lib.up(short, lib.day_min)),
		]),
	}
	f := _unless_unread(bare, animal, need)
}

_unless_unread(f, animal, need) := lib.unread_amount(f, sprintf("how much food %s has", [animal.name]), things, sprintf("%s needs %s for %s (%s a day)", [
	animal.name,
	lib.kcal(lib.nearest(need, lib.day_min)),
	lib.hours(input.endurance.minutes),
	lib.kcal(animal.need_j),
])) if {
	theirs := {sprintf("%s/food", [food.id]) | some food in input.foods; food.for == animal.id}
	things := lib.unread_of(lib.unrecorded(lib.anybody, "animal-food"), theirs)
	things != []
} else := f

_kcal_or_none(0) := "none"

_kcal_or_none(j) := lib.kcal(j) if j != 0

_fed := [a |
	own := lib.limit("animals", "finds_own")
	some a in input.animals
	not a.species in own
]

# METADATA
# title: Each animal's papers are packed
# description: >-
#   A shelter or a boarding place may take only animals whose vaccinations are on paper or on a memory stick, and the
#   papers prove whose they are. Papers with one animal as their owner count for that one; others count for all. Only
#   the species whose papers such places require are judged; nobody wants to see those of a hen.
# custom:
#   level: warning
#   remedy: Copy the vaccination booklet and the registration, and write animal-papers under the documents of the item.
#   mend: {work: add, get: papers of the animal}
#   sources:
#     - "The papers: an animal-health association's kit list, in a copy of 2017; seen second-hand; NYC Emergency Management, year not seen, in a copy of its own page"
#     - "Pet supplies are on the lists of Ready.gov/FEMA (2022) and the American Red Cross (2020), both seen second-hand"
#   limits: [animals.papers_species]
#   caution: Which vaccinations and papers are required differs by place; check local law.
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: compartments: lid: items: booklet: {mass: "20 g", documents: ["animal-papers"]}
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: compartments: lid: items: papers: {mass: "20 g", documents: ["identity"]}
finding.papers contains f if {
	without := [a |
		some a in input.animals
		a.species in lib.limit("animals", "papers_species")
		not _has_paper(a, "animal-papers")
	]
	first := without[0]
	bare := {
		"at": first.id,
		"because": [a.id | some a in without],
		"text": sprintf("no papers for %s are packed", [lib.and_list([a.name | some a in without])]),
	}
	f := lib.lack_any(bare, lib.unrecorded_means(lib.anybody, "documents", ["animal-papers"]))
}

_has_paper(animal, kind) if {
	some paper in input.papers
	kind in paper.documents
	_of(paper, animal)
}

# A paper that no other animal owns.
_of(paper, animal) if not paper.owner in {a.id | some a in input.animals; a.id != animal.id}

# METADATA
# title: A photo or chip number shows whose each animal is
# description: >-
#   Animals that ran off are given back to people who can show that they are theirs. For each dog and cat there is a
#   photo with its owner, or its chip number is recorded.
# custom:
#   level: note
#   remedy: Print a photo of the animal with a member of the family, write animal-photo under the documents of the item, and write the chip number as chip.
#   mend: {work: write}
#   sources:
#     - "An animal-health association's kit list, in a copy of 2017, a photo with the owner and the chip; seen second-hand; NYC Emergency Management, year not seen, in a copy of its own page"
#   limits: [animals.photo_species]
#   caution: Keep the chip's registration up to date; a number that leads to an old telephone helps nobody.
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg", chip: "276 0981 0000 0001"}
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
finding.papers_photo contains f if {
	without := [a |
		some a in input.animals
		a.species in lib.limit("animals", "photo_species")
		not a.chip
		not _has_paper(a, "animal-photo")
	]
	first := without[0]
	f := {
		"at": first.id,
		"because": [a.id | some a in without],
		"text": sprintf("neither a photo nor a chip number is recorded for %s", [lib.and_list([a.name | some a in without])]),
	}
}

# METADATA
# title: Each animal has a lead, a harness or a carrier
# description: >-
#   Smoke, sirens and strange dogs make a calm animal bolt. A dog needs a lead, a harness or a carrier; a cat a carrier,
#   as no lead holds it; a horse a halter, a harness or a lead; a goat, a sheep or the like any of these. Each animal has its
#   own, or one that no animal owns and that serves one animal only; a carrier that none owns holds all of the household's hens,
#   rabbits and the like. A muzzle alone holds no animal.
# custom:
#   level: warning
#   remedy: Pack a spare lead or a carrier, and name the animal as its owner.
#   mend: {work: add, get: "lead, harness or carrier"}
#   sources:
#     - "A carrier for each cat and small animal: an animal-health association's kit list, in a copy of 2017; seen second-hand"
#     - "The others: common practice, no source"
#   limits: [animals.lead_means, animals.lead_cat, animals.lead_horse, animals.lead_other, animals.crate_mass]
#   caution: Never tie an animal where water can rise, and never leave it in a closed car.
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: compartments: lid: items: lead: {mass: "120 g", can: lead: "lead"}
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: compartments: lid: items: muzzle: {mass: "60 g", owner: "bo", can: lead: "muzzle"}
finding.lead contains f if {
	some n, animal in _without
	_left_out(n, animal)
	bare := {
		"at": animal.id,
		"because": [],
		"text": sprintf("%s has no %s", [animal.name, lib.or_list(_holds_in_order(animal))]),
	}
	may := _may_hold(animal)
	before := {a.id | some i, a in _without; i < n; _left_out(i, a); some thing in _may_hold(a); thing in may}
	f := lib.lack(bare, may, count(before) + 1)
}

_may_hold(animal) := lib.unrecorded_means(lib.anybody, "lead", _holds_in_order(animal))

_leads := lib.offers("lead")

# What no animal owns.
_loose := [o | some o in _leads; not o.owner in {a.id | some a in input.animals}]

# Animals with nothing of their own that holds them: those that few things hold come first, so that what is nobody's serves as many as it can.
_without := array.concat(
	[a | some a in input.animals; a.species == "cat"; not _held(a)],
	array.concat(
		[a | some a in input.animals; a.species == "horse"; not _held(a)],
		array.concat(
			[a | some a in input.animals; not a.species in {"cat", "horse", "other"}; not _held(a)],
			[a | some a in input.animals; a.species == "other"; not _held(a); not _in_the_crate(a)],
		),
	),
)

# Hens, rabbits and the like that go into a crate beside the first of them.
_in_the_crate(animal) if {
	some o in _loose
	o.means == "carrier"
	_small(animal)
	some other in input.animals
	other.id < animal.id
	_small(other)
	not _held(other)
}

_small(animal) if {
	animal.species == "other"
	animal.body_mass_mg <= lib.limit("animals", "crate_mass")
}

_held(animal) if {
	some o in _leads
	o.owner == animal.id
	o.means in _holds(animal)
}

# What is nobody's is not enough for an animal and those before it that could do with nothing else, or with anything like it.
_left_out(n, animal) if {
	same := [a | some i, a in _without; i < n; _holds(a) - _holds(animal) == set()]
	_pieces(_holds(animal)) <= count(same)
}

_left_out(n, animal) if {
	like := [a | some i, a in _without; i < n; _holds(a) & _holds(animal) != set()]
	_pieces(_holds(animal) | {m | some a in like; some m in _holds(a)}) <= count(like)
}

_pieces(means) := lib.pieces([o | some o in _loose; o.means in means])

_holds(animal) := {m | some m in _holds_in_order(animal)}

_holds_in_order(animal) := lib.limit("animals", "lead_cat") if {
	animal.species == "cat"
} else := lib.limit("animals", "lead_horse") if {
	animal.species == "horse"
} else := lib.limit("animals", "lead_other") if {
	animal.species == "other"
} else := lib.limit("animals", "lead_means")

# METADATA
# title: It is recorded who carries each animal that is carried
# description: >-
#   A cat in its carrier is as heavy as a full water bag, and someone has it in the hand all the way. Its weight counts in the
#   load of the person whom the household names under carriedBy, else of the one in whose pack its carrier lies. Where neither
#   says who, it is in nobody's load. Animals that walk or ride, carriers that nobody has packed and ways that are all ridden are
#   left out.
# custom:
#   level: note
#   remedy: Write carriedBy and the key of a person at the animal.
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: [animals.crate_mass]
#   caution: A cat that is held in the arms alone gets away; it stays in its carrier.
#   passes: |
#     animals: bo: {species: "cat", bodyMass: "4 kg", carriedBy: "ana"}
#     packs: rust: compartments: lid: items: crate: {mass: "900 g", owner: "bo", can: lead: "carrier"}
#   fails: |
#     animals: {bo: {species: "cat", bodyMass: "4 kg"}, cy: {species: "cat", bodyMass: "5 kg", carriedBy: "ana"}}
#     packs: rust: compartments: lid: items: crate: {mass: "900 g", can: lead: "carrier"}
finding.carried contains f if {
	not input.plan.ridden
	loose := [animal | some animal in input.animals; _unborne(animal)]
	f := {
		"at": loose[0].id,
		"because": [animal.id | some animal in loose],
		"text": sprintf("who carries %s is not recorded; the loads leave out these %s", [
			lib.names(loose),
			lib.mass(sum([animal.body_mass_mg | some animal in loose])),
		]),
	}
}

_unborne(animal) if {
	_crated(animal)
	animal.carried_by == ""
	not animal.crate_rides
	some o in _leads
	o.means == "carrier"
	o.owner in {animal.id, ""}
}

_crated(animal) if animal.species == "cat"

_crated(animal) if _small(animal)

# METADATA
# title: Enough of each animal's medication is packed
# description: >-
#   Veterinary practices close with everything else. The usable doses of what an animal takes daily last two weeks. Of
#   what it takes when needed there is at least one dose.
# custom:
#   level: warning
#   remedy: Ask the veterinarian for an extra supply, and write the animal under person of the medicine.
#   mend: {work: add, get: medication of the animal}
#   sources:
#     - "An animal-health association's kit list, 2 weeks, in a copy of 2017; seen second-hand; a university's extension service, 1 week, year not seen, in a copy of its own page"
#   limits: [animals.medicine_days]
#   lack: {what: doses for animals, unit: milli}
#   caution: Never give an animal a person's medicine, and never guess a dose. The veterinarian and the label decide.
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg", medications: heart: {name: "heart tablets", perDay: 1}}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", medicine: {person: "bo", of: "heart", doses: 14}}
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg", medications: heart: {name: "heart tablets", perDay: 1}}
#     packs: rust: compartments: lid: items: tablets: {mass: "20 g", medicine: {person: "bo", of: "heart", doses: 13}}
finding.medicine contains f if {
	some med in input.animal_medications
	need := _doses_needed(med)
	short := need - med.usable_milli
	short > 0
	bare := {
		"at": _first(med.items, med.id),
		"because": [med.id],
		"text": sprintf("%s has %s of %s and needs %s: %s short", [
			med.person_name,
			_usable(med.usable_milli),
			med.name,
			lib.milli(need),
			lib.milli(short),
		]),
		"lack": short,
	}
	f := lib.lack_any(bare, lib.unrecorded_medicine(med))
}

_doses_needed(med) := med.per_day_milli * lib.limit("animals", "medicine_days") if not med.as_needed

_doses_needed(med) := 1000 if med.as_needed

_usable(0) := "no usable dose"

_usable(1000) := "1 usable dose"

_usable(milli) := sprintf("%s usable doses", [lib.milli(milli)]) if not milli in {0, 1000}

_first(list, _) := list[0] if list != []

_first([], otherwise) := otherwise

# METADATA
# title: Each animal's waste can be cleaned up
# description: >-
#   Shelters and hosts take clean animals. A cat needs litter, a dog needs bags.
# custom:
#   level: note
#   remedy: "Pack litter and a tray, or bags, and write can: animal_care: \"litter\" or \"bags\"; newspaper serves."
#   mend: {work: add, thing: animal_care, get: bags or litter for the animal}
#   sources:
#     - "Litter, pan, scoop and bags: an animal-health association's kit list, in a copy of 2017; seen second-hand"
#   limits: []
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: compartments: lid: items: bags: {mass: "20 g", can: animal_care: "bags"}
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
finding.waste contains f if {
	there := {o.means | some o in lib.offers("animal_care")}
	lacks := [species |
		some species in ["cat", "dog"]
		species in {a.species | some a in input.animals}
		not _waste[species] in there
	]
	some part in lib.parted(lacks, {species: lib.unrecorded_means(lib.anybody, "animal_care", [means]) | some species, means in _waste})
	theirs := [a.id | some species in part.keys; some a in input.animals; a.species == species]
	bare := {
		"at": theirs[0],
		"because": theirs,
		"text": sprintf("the household has no %s for animal waste", [lib.or_list(sort([_waste[species] | some species in part.keys]))]),
	}
	f := lib.lack_any(bare, part.may)
}

_waste := {"cat": "litter", "dog": "bags"}

# METADATA
# title: No animal's food holds anything that harms it
# description: >-
#   Chocolate, raisins, onion, sweeteners and some nuts poison dogs and cats, and in a hurry an animal is fed what lies
#   beside its bowl. Food for an animal, or in the same compartment as its food, is not of a kind that harms its species,
#   as far as harms or the name says.
# custom:
#   level: warning
#   remedy: Move it into another compartment, in a closed box, and write down what else is in the animal's food.
#   mend: {work: move}
#   sources:
#     - "Chocolate from 20 mg of theobromine for a kilogram of body on, 14 g of baking chocolate for a dog of 10 kg; raisins, onion, xylitol, macadamia: pages after the ASPCA and of veterinary hospitals; years not seen; seen second-hand"
#     - "Beside its food: common practice, no source"
#   limits: [animals.harmful_words, animals.harmed_species]
#   caution: If an animal has eaten it, call a veterinarian at once, and do not wait for signs.
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: compartments: {
#     	lid: items: kibble: {mass: "300 g", food: {energy: "1000 kcal", for: "bo"}}
#     	main: {reach: "halted", items: treat: {name: "chocolate", mass: "100 g", food: energy: "540 kcal"}}
#     }
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg"}
#     packs: rust: compartments: lid: items: {
#     	kibble: {mass: "300 g", food: {energy: "1000 kcal", for: "bo"}}
#     	treat: {name: "chocolate", mass: "100 g", food: energy: "540 kcal"}
#     }
finding.harmful_food contains f if {
	some animal in input.animals
	bowls := {food.compartment | some food in input.foods; food.for == animal.id; food.compartment != ""}
	some food in input.foods
	_near_bowl(food, animal, bowls)
	_harms(food, animal)
	f := {
		"at": food.id,
		"because": [animal.id],
		"text": sprintf("%s can poison %s and is packed with the food for %s", [food.name, animal.name, animal.name]),
	}
}

_harms(food, animal) if animal.species in food.harms

_harms(food, animal) if {
	animal.species in lib.limit("animals", "harmed_species")
	name := lower(food.name)
	some word in lib.limit("animals", "harmful_words")
	contains(name, word)
}

_near_bowl(food, animal, _) if food.for == animal.id

_near_bowl(food, _, bowls) if food.compartment in bowls

# METADATA
# title: No young or unfit animal carries a pack
# description: >-
#   A load hurts joints that still grow and a body that is ill, and an animal does not complain until it lies down. An
#   animal that carries a pack is fully grown and well. An unknown age counts as old enough. If the pack is too heavy as
#   well, load/animal-cap says both.
# custom:
#   level: warning
#   remedy: Take the pack off the animal, and share its contents out.
#   mend: {work: move}
#   sources:
#     - "A dog park's page after a veterinarian: none under a year, none with bad joints, a bad heart or a long back without asking a vet; year not seen; seen in a copy of its own page"
#     - "The age in months, for every species: common practice, no source"
#   limits: [animals.bear_months, animals.unfit, load.animal_cap, load.adult_cap, load.child_cap, load.elder_cap, load.elder_months, load.pregnant_cap, load.pregnant_late_cap, load.pregnant_late_days, load.unfit, load.unfit_cap]
#   caution: >-
#     Large dogs and horses finish growing later. An old, long-backed or pregnant animal carries no pack either; ask a
#     veterinarian first.
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg", age: "4 y", fitness: "good", carries: true}
#     packs: saddle: {carrier: "bo", mass: "1 kg"}
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg", age: "11 months", fitness: "good", carries: true}
#     packs: saddle: {carrier: "bo", mass: "1 kg"}
finding.unfit_bearer contains f if {
	some carrier in input.carriers
	carrier.kind == "animal"
	not lib.overload(carrier)
	reasons := lib.unfit_to_bear(carrier)
	count(reasons) > 0
	f := {
		"at": carrier.packs[0],
		"because": array.concat([carrier.id], carrier.packs),
		"text": sprintf("%s carries a pack and is %s", [carrier.name, lib.and_list(reasons)]),
	}
}
