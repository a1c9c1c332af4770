package rules.base.dates

import data.lib

# METADATA
# title: Nothing past its date
# description: >-
#   Food, water, cells and licences run out quietly. A thing serves through the last day
#   written for it: the label's, the time since it was opened, the day the family wants
#   it exchanged, a licence's last day. Medicines are judged by medication/expired. All
#   packs, everything on a body and all licences are asked.
# custom:
#   level: error
#   remedy: Exchange it, and write the new date.
#   sources:
#     - "FEMA: food and water dated and exchanged every 6 months; year not seen; seen second-hand"
#     - "A thing serves through its last day: common practice, no source"
#   limits: [dates.days_left]
#   caution: Throw out cans that are swollen, dented or corroded, whatever the date. For a licence, check local law.
#   passes: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", expires: "2027-05-31", food: energy: "2100 kcal"}
#   fails: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", expires: "2026-08-31", food: energy: "2100 kcal"}
finding.expired contains f if {
	least := lib.limit("dates", "days_left")
	some date in input.dates
	not date.medicine
	date.days_left < least
	f := {"at": date.id, "text": lib.date_text(date, least)}
}

# METADATA
# title: Dates that are near
# description: >-
#   What runs out before the next look through the packs is best exchanged at this one.
#   Medicines are named here too; what is already past its date is left to the rules on
#   expired things.
# custom:
#   level: note
#   remedy: Use it up at home and exchange it now, or put its date in the calendar.
#   sources:
#     - "The days: common practice, no source"
#   limits: [dates.ahead, dates.days_left, medication.days_left]
#   caution: For a medicine, the label and the pharmacist decide. For a licence, check local law.
#   passes: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", expires: "2027-05-31", food: energy: "2100 kcal"}
#   fails: |
#     packs: rust: compartments: lid: items: bars: {mass: "500 g", expires: "2026-11-20", food: energy: "2100 kcal"}
finding.expires_within contains f if {
	ahead := lib.limit("dates", "ahead")
	some date in input.dates
	date.days_left < ahead
	date.days_left >= _least(date)
	f := {"at": date.id, "text": lib.date_text(date, ahead)}
}

_least(date) := lib.limit("medication", "days_left") if date.medicine

_least(date) := lib.limit("dates", "days_left") if not date.medicine
