package rules.base.dates

import data.lib

# METADATA
# title: No item is past its date
# description: >-
#   Food, water and batteries go bad quietly. A thing is good through the last day on its label, or its last day once it
#   was opened. An infant's food past its date is an error, anything else a warning; a sealed can past the day on its label
#   is mostly still good, and for a year it is a note. medication/expired judges medicines, dates/due the days that the
#   family set, radio/licence licences, and water/purification water treatment that is all its carrier has. Only one rule
#   speaks of one date.
# custom:
#   level: error
#   remedy: Replace it, and write the new date.
#   mend: {work: exchange}
#   sources:
#     - "FEMA: food and water dated and exchanged every 6 months; year not seen; seen second-hand"
#     - "A thing serves through its last day, and cans a year longer: common practice, no source"
#   limits: [dates.days_left, dates.can_days, people.bag_months, water.treat_means]
#   caution: Throw out cans that are swollen, dented or corroded, whatever the date.
#   passes: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", expires: "2027-05-31", food: energy: "2100 kcal"}
#   fails: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", expires: "2026-08-31", food: energy: "2100 kcal"}
finding.expired contains f if {
	least := lib.limit("dates", "days_left")
	some date in _past
	not date.medicine
	not date.kind in _dues
	not _said_of_water(date)
	f := {"at": date.id, "text": lib.date_text(date, least), "level": _graveness(date)}
}

# water/purification names it: its carrier has no treatment that works.
_said_of_water(date) if {
	some u in input.useless
	u.item == date.item
	u.capability == "treat-water"
	u.why == "expired"
	some person in input.people
	person.id == u.carrier
	not lib.never_alone(person)
	lib.at_hand(person, "treat-water") == set()
	not input.plan.destination.water
	lib.limit("water", "treat_means") > 0
}

# Dates that leave less than what must be left.
_past := [date | least := lib.limit("dates", "days_left"); some date in input.dates; date.days_left < least]

# Days that the family or an office set, not a label.
_dues := {"rotate", "licence"}

default _graveness(_) := "warning"

_graveness(date) := "error" if date.infant

_graveness(date) := "note" if {
	date.canned
	not date.infant
	date.kind == "expires"
	0 - date.days_left <= lib.limit("dates", "can_days")
}

# METADATA
# title: Nothing is overdue for replacement
# description: >-
#   The family sets a day on which it wants a thing replaced; what is due is not bad yet. medication/expired judges
#   medicines, radio/licence licences.
# custom:
#   level: warning
#   remedy: Replace it, and write the new day.
#   mend: {work: exchange}
#   sources:
#     - "FEMA: food and water dated and exchanged every 6 months; year not seen; seen second-hand"
#     - "A thing serves through its last day: common practice, no source"
#   limits: [dates.days_left]
#   passes: |
#     packs: rust: compartments: lid: items: bottle: {mass: "50 g", water: "1 L", container: capacity: "1 L", rotate: "2027-05-31"}
#   fails: |
#     packs: rust: compartments: lid: items: bottle: {mass: "50 g", water: "1 L", container: capacity: "1 L", rotate: "2026-08-31"}
finding.due contains f if {
	least := lib.limit("dates", "days_left")
	some date in _past
	date.kind == "rotate"
	not date.medicine
	f := {"at": date.id, "text": lib.date_text(date, least)}
}

# METADATA
# title: Nothing expires or comes due soon
# description: >-
#   What expires before the next inspection is best replaced at this one. Medicines are named here too. What expires
#   before the season or the plan ends, or is past its date, is left to the rules on those. What was opened or left the
#   cold lasts weeks at most, and is named in its last days only.
# custom:
#   level: note
#   remedy: Use it up at home and replace it now, or put its date in the calendar.
#   mend: {work: exchange}
#   sources:
#     - "The days: common practice, no source"
#   limits: [dates.ahead, dates.opened_ahead, dates.days_left, medication.days_left]
#   caution: For a medicine, the label and the pharmacist decide. For a licence, check local law.
#   passes: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", expires: "2027-05-31", food: energy: "2100 kcal"}
#   fails: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", expires: "2026-11-20", food: energy: "2100 kcal"}
finding.expires_within contains f if {
	usual := lib.limit("dates", "ahead")
	special := _ahead
	some date in input.dates
	ahead := object.get(special, date.kind, usual)
	date.days_left < ahead
	date.days_left >= _least(date)
	not _before_season_end(date)
	not _before_plan_end(date)
	f := {"at": date.id, "text": lib.date_text(date, ahead)}
}

# What was opened or left the cold never lasts long: it is due when it is nearly over.
_ahead := {kind: lib.limit("dates", "opened_ahead") | some kind in ["opened", "out-of-cold"]}

_least(date) := lib.limit("medication", "days_left") if date.medicine

_least(date) := lib.limit("dates", "days_left") if not date.medicine

_before_season_end(date) if {
	input.plan.season_end_known
	not date.kind in _dues
	date.day < input.plan.season_end_day
}

# What medication/within-plan says.
_before_plan_end(date) if {
	date.medicine
	date.kind != "rotate"
	date.days_left * lib.day_min < input.plan.minutes
}

# METADATA
# title: Everything dated lasts through the season
# description: >-
#   Packs that are inspected before a season should last through it. A medicine that does not is a warning, anything else
#   a note. Judged if the last day of the planned season is recorded. What is already past its date, or expires within the
#   plan, is left to the rules on those.
# custom:
#   level: warning
#   remedy: Replace it before the season, or correct the end of the season.
#   mend: {work: exchange}
#   sources:
#     - "common practice, no source; that a kit is made ready before the season: NSW Rural Fire Service, 2017; seen in a copy of its own page"
#   limits: [dates.days_left, medication.days_left]
#   caution: For a medicine, the label and the pharmacist decide.
#   passes: |
#     plan: {season: "flood", seasons: flood: {until: "2026-12-15", day: "11 °C", night: "4 °C", daylight: "10 h"}}
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", expires: "2026-12-15", food: energy: "2100 kcal"}
#   fails: |
#     plan: {season: "flood", seasons: flood: {until: "2026-12-15", day: "11 °C", night: "4 °C", daylight: "10 h"}}
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", expires: "2026-12-01", food: energy: "2100 kcal"}
finding.within_season contains f if {
	some date in input.dates
	_before_season_end(date)
	not _before_plan_end(date)
	date.days_left >= _least(date)
	f := {
		"at": date.id,
		"text": lib.date_text_to(date, input.plan.season_end_day - input.audit.on_day, ", to the end of the season"),
		"level": _lasting(date),
	}
}

_lasting(date) := "warning" if date.medicine

_lasting(date) := "note" if not date.medicine

# METADATA
# title: Food and water have a date
# description: >-
#   No rule can say when food or water without a date is due, so it is found stale on the day. One finding for the
#   household names all that has neither a last day from its label nor a day of replacement, animals' food too, except hay and straw. Fresh food
#   that is taken at the last minute needs none.
# custom:
#   level: note
#   remedy: Write the label's last day as expires, or the day you want to replace it as rotate.
#   mend: {work: write}
#   sources:
#     - "FEMA: food and water dated and exchanged every 6 months; year not seen; seen second-hand"
#   limits: [dates.undated_words]
#   passes: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", rotate: "2027-04-01", food: energy: "2100 kcal"}
#   fails: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", food: energy: "2100 kcal"}
finding.undated contains f if {
	first := _undated[0]
	f := {
		"at": first.id,
		"because": [thing.id | some thing in _undated],
		"text": sprintf("no expiry or replacement date is recorded for %s", [lib.some_names(_undated)]),
	}
}

# Food first, then water that is no food too.
_undated := array.concat([food | some food in _stale(input.foods); not _hay(food)], [vessel |
	some vessel in _stale(input.vessels)
	vessel.water_ml > 0
	not vessel.id in {food.id | some food in input.foods}
])

_stale(things) := [thing | some thing in things; thing.dated == false; thing.last_minute == false]

_hay(food) if {
	food.for_animal
	some word in split(replace(lower(food.name), ",", " "), " ")
	word in lib.limit("dates", "undated_words")
}

# METADATA
# title: No recorded day lies in the future
# description: >-
#   A day of weighing, opening, inspecting or walking that lies after the audit date is a slip of the pen, and hides that
#   something is due. Days that are not recorded are left out.
# custom:
#   level: warning
#   remedy: Correct the day, or write it once it has come.
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     record: audited: "2026-11-01"
#   fails: |
#     record: audited: "2026-11-02"
finding.future contains f if {
	some day in input.future
	f := {
		"at": day.id,
		"text": sprintf("%s is dated %s after the audit date, %s", [day.what, lib.days(day.days), input.audit.on]),
	}
}

# METADATA
# title: The planned season has not ended
# description: >-
#   The last day of the season says how long things must be good. Once that day has passed, nothing is compared with it
#   any more, and nobody notices. Seasons come again, so move the day on.
# custom:
#   level: warning
#   remedy: Write the last day of the next such season, or name another season.
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     plan: {season: "flood", seasons: flood: {day: "11 °C", night: "4 °C", daylight: "10 h", until: "2026-12-15"}}
#   fails: |
#     plan: {season: "flood", seasons: flood: {day: "11 °C", night: "4 °C", daylight: "10 h", until: "2025-12-15"}}
finding.season_past contains f if {
	input.plan.season_end_known
	ago := input.audit.on_day - input.plan.season_end_day
	ago > 0
	f := {"at": "plan/season-end", "text": sprintf("the planned season (%s) ended %s ago", [input.plan.season, lib.days(ago)])}
}
