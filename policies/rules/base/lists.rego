package rules.base.lists

import data.lib

# METADATA
# title: What an official list asks for
# description: >-
#   A household may hold its kit against the lists that authorities give out: under
#   plan.lists, or with check --against. Each line of a list that nothing in the household
#   answers is named with the list that asks. Most lists mean stores at home as well as
#   packs, so their water and food may be more than anybody can carry; the lists disagree,
#   and none is law.
# custom:
#   level: warning
#   remedy: Add the thing, or waive the line with a reason; what is packed but not described counts as missing.
#   mend: {work: add}
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
	count(lacks) > 0
	f := {
		"at": asked.id,
		"text": sprintf("%s (%s, %s) asks for %s: %s", [list.title, list.body, list.year, line.asks, lib.and_list(sort(lacks))]),
	}
}

_applies(line) if not line.when

_applies(line) if line.when in input.household.has

# What of a line the household lacks, in words.
_lacks(line) := ((_nothing(line) | _parts(line)) | _water(line)) | (_food(line) | _medicine(line))

_nothing(line) := {"nothing in the household answers" |
	line.any
	not _answered(line)
}

_answered(line) if {
	some tag in line.any
	tag in input.household.has
}

_parts(line) := {sprintf("there is no %s", [_words(tag)]) |
	some tag in line.all
	not tag in input.household.has
}

# The last word of a tag: "can:signal:whistle" is a whistle.
_words(tag) := replace(parts[count(parts) - 1], "-", " ") if parts := split(tag, ":")

_water(line) := {sprintf("%s carried, %s for %s and %s: %s too little", [
	lib.litres(have),
	lib.litres(need),
	lib.people(input.household.people_count),
	lib.days(line.days),
	lib.litres(need - have),
]) |
	have := input.household.supply.water_ml
	need := (line.water_ml_day * line.days) * input.household.people_count
	need > have
}

_food(line) := {sprintf("%s %s, %s for %s and %s: %s too little", [
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

_medicine(line) := {sprintf("%s (%s): enough for %s, %s asked: %s too few", [
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
