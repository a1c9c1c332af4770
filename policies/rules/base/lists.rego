package rules.base.lists

import data.lib

# METADATA
# title: The kit meets the official lists it names
# description: >-
#   A household may compare its kit with the lists that authorities give out: name them under plan: lists, or with check
#   --against. Each line that nothing in the household covers is named with its list. What a page names one by one is looked
#   for one by one, what it wants for each person is counted, and a line for a need is silent if nobody has it. Lists for
#   the home, the car or another danger are lists of their own; a list that is not complete says so. The lists disagree, and
#   none is law.
# custom:
#   level: warning
#   remedy: Add the item, or waive the line with a reason; an item that is packed but not described counts as missing.
#   mend: {work: add, get: what official lists name}
#   sources:
#     - "each line names its own: kitmuster rules --lists NAME"
#   limits: [food.energy]
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	whistle: {mass: "10 g", can: signal: "whistle"}
#     }
#   fails: |
#     plan: lists: ["ready-basic"]
finding.asked_for contains f if {
	some asked in input.asked
	list := data.lists.base[asked.list]
	line := list.lines[asked.line]
	_applies(line)
	lacks := _lacks(line)
	some part in lib.parted(sort(lacks), {words: _may_answer(line, words) | some words in lacks})
	bare := {
		"at": asked.id,
		"text": sprintf("%s (%s, %s) lists %s: %s", [list.title, list.body, list.year, line.asks, lib.and_list(part.keys)]),
	}
	f := lib.lack_any(bare, part.may)
}

# What is not recorded and may answer a lack of a line.
_may_answer(line, words) := [thing |
	some tag in _tags_of(line, words)
	some thing in lib.unrecorded(lib.anybody, _unrecorded_as(tag))
]

# The tags, any of which answers a lack.
_tags_of(line, words) := tags if {
	some name, tags in line.parts
	words == _there_is_no(name)
} else := [tag] if {
	some tag in line.all
	words == _there_is_no(_words(tag))
} else := line.any if {
	line.any
} else := ["water", "vessel"] if {
	line.water_ml_day
} else := ["water", "vessel"] if {
	line.animal_days
} else := ["food"] if {
	line.food_days
} else := ["medicine"] if {
	line.medicine_days
} else := []

# A tag as package vocabulary says it: "can:signal:whistle" is signal:whistle there.
_unrecorded_as(tag) := object.get(_otherwise, bare, replace(replace(bare, "document:", "documents:"), "first-aid:", "first-aid-contents:")) if {
	bare := replace(replace(replace(tag, "packed:", ""), "waterproof:", ""), "can:", "")
}

_otherwise := {
	"cash:small-notes": "cash",
	"cells:10": "cells:zinc-air",
	"cells:13": "cells:zinc-air",
	"cells:312": "cells:zinc-air",
	"cells:675": "cells:zinc-air",
	"first-aid": "first-aid-contents",
	"food:animal": "animal-food",
	"food:canned": "food",
	"food:chosen": "food",
	"food:infant": "infant-food",
	"food:no-cook": "food",
	"medicine:animal": "medicine",
	"radio:am": "communicate:receiver",
	"radio:fm": "communicate:receiver",
	"radio:shortwave": "communicate:receiver",
	"radio:two-way": "communicate:radio",
	"radio:weather": "communicate:receiver",
	"vessel": "container",
}

_applies(line) if not line.when

_applies(line) if line.when in input.household.has

# What of a line the household lacks, in words.
_lacks(line) := ((_nothing(line) | _parts(line)) | (_water(line) | _animals(line))) | ((_food(line) | _medicine(line)) | _bags(line))

_nothing(line) := {"nothing in the household covers it" |
	line.any
	not _answered(line)
} | _too_few(line)

# What is counted by heads.
_too_few(line) := {sprintf("%d for %s", [have, lib.people(count(who))]) |
	line.each
	_answered(line)
	who := _old_enough(line)
	have := sum([thing.count | some thing in _things(line)])
	have < count(who)
}

# no test can tell: nobody is younger than 0 months, or than less.
_old_enough(line) := [p | some p in input.people; not lib.younger(p, object.get(line, "from_months", 0))]

# The things that answer a line, each once, with its count.
_things(line) := {{"id": thing.id, "count": thing.count} |
	some tag in line.any
	some thing in _tagged(split(tag, ":"))
}

_tagged(["can", capability]) := lib.offers(capability)

_tagged(["can", capability, means]) := [o | some o in lib.offers(capability); o.means == means]

_tagged(["insulation", kind]) := [i | some i in input.insulation; i.kind == kind]

_bags(line) := {sprintf("no pack for %s", [lib.names(without)]) |
	line.bags
	without := [p | some p in _old_enough(line); p.carries; p.pack_count == 0]
	without != []
}

_answered(line) if {
	some tag in line.any
	tag in input.household.has
}

_there_is_no(name) := sprintf("there is no %s", [name])

_parts(line) := {_there_is_no(_words(tag)) |
	some tag in line.all
	not tag in input.household.has
} | {_there_is_no(name) |
	some name, tags in line.parts
	not _answered({"any": tags})
}

# The last word of a tag: "can:signal:whistle" is a whistle.
_words(tag) := replace(parts[count(parts) - 1], "-", " ") if parts := split(tag, ":")

_water(line) := {sprintf("%s carried, %s for %s and %s: %s short", [
	lib.litres(have),
	lib.litres(need),
	_drinkers(line),
	lib.days(line.days),
	lib.litres(need - have),
]) |
	have := input.household.supply.water_ml
	need := (line.water_ml_day * line.days) * (input.household.people_count + _drinking_animals(line))
	need > have
}

_drinking_animals(line) := input.household.animal_count if line.animals

_drinking_animals(line) := 0 if not line.animals

_drinkers(line) := lib.people(input.household.people_count) if _drinking_animals(line) == 0

_drinkers(line) := sprintf("%s and %s", [lib.people(input.household.people_count), lib.many(n, "animal", "animals")]) if {
	n := _drinking_animals(line)
	n > 0
}

_animals(line) := {sprintf("%s carried, and the animals need %s in %s: %s short", [
	lib.litres(have),
	lib.litres(need),
	lib.days(line.animal_days),
	lib.litres(need - have),
]) |
	have := input.household.supply.water_ml
	need := input.household.animal_need_ml * line.animal_days
	need > have
}

_food(line) := {sprintf("%s %s, %s for %s and %s: %s short", [
	lib.kcal(have.joules),
	have.words,
	lib.kcal(need),
	lib.people(input.household.people_count),
	lib.days(line.food_days),
	lib.energy(need - have.joules),
]) |
	have := _packed(line)
	need := (lib.limit("food", "energy") * line.food_days) * input.household.people_count
	need > have.joules
}

# A line that asks for food without cooking counts only that.
_packed(line) := {"joules": input.household.supply.no_cook_energy_j, "words": "packed that needs no cooking"} if _cold(line)

_packed(line) := {"joules": input.household.supply.food_energy_j, "words": "packed"} if not _cold(line)

_cold(line) if "food:no-cook" in line.any

_medicine(line) := {sprintf("%s (%s): enough for %s, %s needed: %s short", [
	med.name,
	med.person_name,
	_days(med.days_milli),
	lib.days(line.medicine_days),
	lib.milli((1000 * line.medicine_days) - med.days_milli),
]) |
	some med in input.medications
	not med.as_needed
	med.days_milli < 1000 * line.medicine_days
}

# Thousandths of a day, in days.
_days(1000) := "1 day"

_days(milli) := sprintf("%s days", [lib.milli(milli)]) if milli != 1000
