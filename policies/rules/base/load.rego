package rules.base.load

import data.lib

# METADATA
# title: No adult's load exceeds the cap
# description: >-
#   A pack that is too heavy slows the walk and hurts knees, back and feet first. What an adult carries on foot, all packs
#   together and an animal that is carried, stays under a share of body weight. The cap is lower from 65 years on, in poor health and in a pregnancy, most
#   of all in its later months; packs and a carried person together have a higher one, lower on a long way. What is worn or
#   pocketed does not count, nor what rides in a vehicle or hangs on a bicycle. The family may set its own cap with a reason. If only a cap for
#   age, health or pregnancy is exceeded, on short walks, or if only the water goes over the cap, it is a warning. Over a few
#   hundred metres a healthy adult may carry what load/one-cannot allows, and over any lower cap it is a note.
# custom:
#   level: error
#   remedy: Leave what is named as surplus, or move things to a person with room; if nothing can move, take turns, use a cart or a vehicle, or plan another way.
#   mend: {work: leave}
#   sources:
#     - "15 %: common practice, no source. Lay hiking figures, day pack 10 %, overnight 20 %; no year; seen second-hand"
#     - "Japanese city hazard pages (Nishinomiya 2020, Fukuchiyama 2024, Gyoda 2021) print 15 kg for men and 10 kg for women for a go bag; where that comes from none says"
#     - "Lower from 65 years and in poor health: common practice, no source; it is the lay figure for a day pack"
#     - "In a pregnancy: NIOSH's provisional limits for lifting (Waters and MacDonald 2013, abstracts seen) are lower than older ones and fall in its second half; Japanese law keeps pregnant workers from heavy loads (seen second-hand). The shares and the month: common practice, no source"
#     - "With a carried person: US Army ADP 3-90, about 30 % for trained soldiers, as an upper bound; year not seen; seen second-hand"
#   limits: [load.adult_cap, load.elder_months, load.elder_cap, load.unfit, load.unfit_cap, load.pregnant_cap, load.pregnant_late_cap, load.pregnant_late_days, load.carried_cap, load.short_foot_min, load.animal_cap, load.child_cap, load.youth_months, animals.bear_months, animals.unfit, load.short_way_cap, load.near_foot_mm, load.carried_far_cap, load.carried_far_min, load.surplus_water, water.start_near, load.surplus_food, separation.own_water, food.alone_share]
#   lack: {what: load over the cap, unit: mg}
#   caution: >-
#     Do not leave water, medicine or warm things behind to stay under the cap. Poor fitness, illness or an old injury call
#     for less; ask a licensed practitioner. In a pregnancy, lift nothing from the ground or overhead. Take turns with a
#     carried child, and rest often.
#   passes: |
#     packs: rust: compartments: lid: items: stores: {mass: "9 kg"}
#   fails: |
#     packs: rust: compartments: lid: items: stores: {mass: "12 kg"}
finding.body_mass_cap contains f if {
	some carrier in input.carriers
	carrier.kind == "person"
	carrier.adult
	f := _overload(carrier)
}

# METADATA
# title: No child's load exceeds the cap
# description: >-
#   A child's gait and posture change under a load, so everyone under 18 has a lower cap than an adult. It is the low end
#   of what is published; the family may set its own cap with a reason. What is worn or pocketed does not count, nor what
#   rides in a vehicle. From 12 years on up to an adult's cap, on short walks, or if only the water goes over the cap, it is a
#   warning, and over a few hundred metres a note.
# custom:
#   level: error
#   remedy: Leave the child their own things and something to eat and drink, and move the rest to an adult with room.
#   mend: {work: move}
#   sources:
#     - "American Academy of Pediatrics, 10 to 20 % (spokesperson, 2018); seen second-hand"
#     - "American Occupational Therapy Association, 10 % (an older list says 15 %); year not seen; seen second-hand"
#     - "Barbosa et al., BMC Pediatrics 2019;19:157, changes above 10 %; abstract seen"
#     - "Chow et al., Ergonomics 2005;48:642, girls' gait changes from about 10 %; abstract seen"
#   limits: [load.adult_cap, load.child_cap, load.youth_months, load.carried_cap, load.short_foot_min, people.bag_months, load.animal_cap, load.elder_cap, load.elder_months, load.unfit, load.unfit_cap, load.pregnant_cap, load.pregnant_late_cap, load.pregnant_late_days, animals.bear_months, animals.unfit, load.short_way_cap, load.near_foot_mm, load.carried_far_cap, load.carried_far_min, load.surplus_water, water.start_near, load.surplus_food, separation.own_water, food.alone_share]
#   lack: {what: load over the cap, unit: mg}
#   caution: >-
#     School-bag figures are for short walks and healthy children. A young, small or unwell child carries nothing; ask a
#     paediatrician if in doubt.
#   passes: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: kite: {carrier: "mia", mass: "2 kg"}
#   fails: |
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: kite: {carrier: "mia", mass: "4 kg"}
finding.child_cap contains f if {
	some carrier in input.carriers
	carrier.kind == "person"
	not carrier.adult
	not lib.younger(carrier, lib.limit("people", "bag_months"))
	f := _overload(carrier)
}

# METADATA
# title: No animal's load exceeds the cap
# description: >-
#   An animal cannot say that its pack is too heavy. The cap is what veterinarians say of dogs, used for every species; half
#   of it is better. The family may set its own cap with a reason. Over a few hundred metres it is a note.
# custom:
#   level: error
#   remedy: Take the heaviest things out of the animal's pack.
#   mend: {work: leave}
#   sources:
#     - "A veterinary surgeon (Halling) on a page for dog owners, no year: below 10 %, best 5 %; seen on its own page, the study is not named"
#     - "Other veterinarians let trained dogs carry up to 25 % of lean mass (a practice, 2013; a university's school, 2017); seen second-hand"
#   limits: [load.animal_cap, load.short_foot_min, load.carried_cap, load.adult_cap, load.child_cap, load.elder_cap, load.elder_months, load.unfit, load.unfit_cap, load.pregnant_cap, load.pregnant_late_cap, load.pregnant_late_days, load.youth_months, animals.bear_months, animals.unfit, load.short_way_cap, load.near_foot_mm, load.carried_far_cap, load.carried_far_min, load.surplus_water, water.start_near, load.surplus_food, separation.own_water, food.alone_share]
#   lack: {what: load over the cap, unit: mg}
#   caution: >-
#     A young, old, long-backed, pregnant or unwell animal carries no pack. Train with an empty pack, watch for heat and
#     sores, and ask a veterinarian first.
#   passes: |
#     animals: bo: {species: "dog", bodyMass: "24 kg", carries: true}
#     packs: saddle: {carrier: "bo", mass: "2 kg"}
#   fails: |
#     animals: bo: {species: "dog", bodyMass: "24 kg", carries: true}
#     packs: saddle: {carrier: "bo", mass: "3 kg"}
finding.animal_cap contains f if {
	some carrier in input.carriers
	carrier.kind == "animal"
	f := _overload(carrier)
}

# An animal that is carried counts as a thing in a pack does.
# What is said of a carrier who carries too much on foot; a person whom the family writes to carry nothing is told so by
# load/not-a-carrier. With a carried person both count, which says more than the packs alone.
_overload(carrier) := f if {
	not _spared(carrier)
	carrier.carried_mg > 0
	not input.plan.ridden
	cap := _carried_cap(carrier)
	all := carrier.foot_ug + (carrier.carried_mg * 1000)
	over := lib.beyond(all, carrier.body_mass_ug, cap)
	mg := lib.up(over, 1000)
	most := lib.milligrams(carrier.body_mass_ug * cap)
	f := lib.on_body(carrier, {
		"at": _lightened(carrier, mg),
		"because": array.concat(carrier.carried_ids, _burdens(carrier)),
		"text": sprintf("%s carries %s%s in packs and %s of people, %s of body weight; the cap with a carried person is %s or %s: over by %s%s", [
			carrier.name,
			_least(carrier),
			lib.kg(lib.up(carrier.foot_ug, 1000)),
			lib.kg(carrier.carried_mg),
			lib.percent_up(all, carrier.body_mass_ug),
			lib.share(cap),
			lib.kg(most),
			lib.mass(mg),
			_advice(carrier),
		]),
		"level": _together(carrier),
		"lack": mg,
	})
} else := f if {
	not _spared(carrier)
	not _short_haul(carrier)
	cap := lib.load_cap(carrier)
	mg := lib.up(lib.overload(carrier), 1000)
	load := lib.up(carrier.foot_ug, 1000)
	most := lib.milligrams(carrier.body_mass_ug * cap)
	f := lib.on_body(carrier, {
		"at": _lightened(carrier, mg),
		"because": _burdens(carrier),
		"text": sprintf("%s carries %s%s%s%s, %s of body weight; %s is %s or %s: over by %s%s", [
			carrier.name,
			_least(carrier),
			lib.over(lib.kg(load), lib.kg(most)),
			_on_foot,
			_with_animals(carrier),
			lib.percent_up(carrier.foot_ug, carrier.body_mass_ug),
			_whose(carrier),
			lib.share(cap),
			lib.kg(most),
			lib.mass(mg),
			_advice(carrier),
		]),
		"level": _gravity(carrier),
		"lack": mg,
	})
}

# Where some mass is not recorded, the load is more than the sum.
_least(carrier) := "" if carrier.load_known

_least(carrier) := "at least " if not carrier.load_known

# An animal that is carried is a part of the load, and none that can stay.
_with_animals(carrier) := "" if carrier.animal_ids == []

_with_animals(carrier) := sprintf(" with %s", [lib.and_list(all)]) if {
	carrier.animal_ids != []
	all := [sprintf("%s (%s%s)", [a.name, lib.inside(lib.mass(a.body_mass_mg)), _taken(a, carrier)]) |
		some a in input.animals
		a.id in carrier.animal_ids
	]
}

_taken(animal, _) := "" if animal.carried_by_written

_taken(animal, carrier) := sprintf(", as %s has its carrier", [carrier.name]) if not animal.carried_by_written

# As grave as the packs alone, where they are too heavy by themselves.
_together(carrier) := "note" if {
	lib.near
} else := _gravity(carrier) if {
	lib.beyond(carrier.foot_ug, carrier.body_mass_ug, lib.load_cap(carrier))
} else := "warning"

# On a few hundred metres a healthy adult may carry what they may where another cannot.
_short_haul(carrier) if {
	lib.near
	carrier.kind == "person"
	not carrier.cap_known
	lib.standard_cap(carrier) == lib.limit("load", "adult_cap")
	not _beyond_short_way(carrier)
}

_beyond_short_way(carrier) if lib.beyond(carrier.foot_ug, carrier.body_mass_ug, lib.limit("load", "short_way_cap"))

_carried_cap(carrier) := _with_person if not carrier.cap_known

_carried_cap(carrier) := min([_with_person, carrier.cap_permille]) if carrier.cap_known

# The figure for soldiers is one for a short way.
_with_person := lib.limit("load", "carried_far_cap") if {
	input.plan.foot_min > lib.limit("load", "carried_far_min")
} else := lib.limit("load", "carried_cap")

_spared(carrier) if {
	carrier.kind == "person"
	not carrier.carries
}

_on_foot := "" if input.vehicles == []

_on_foot := " on foot" if {
	input.vehicles != []
	not lib.cycled
}

_on_foot := " on the back" if lib.cycled

_whose(carrier) := "the family's own cap" if {
	carrier.cap_known
} else := "the cap in a pregnancy" if {
	lib.load_cap(carrier) in lib.pregnant_caps(carrier)
} else := "the cap for an animal" if {
	carrier.kind == "animal"
} else := "the cap under 18 years" if {
	not carrier.adult
} else := object.get({"unwell": "the cap for someone unwell"}, carrier.fitness, sprintf("the cap in %s health", [carrier.fitness])) if {
	carrier.fitness in lib.limit("load", "unfit")
} else := sprintf("the cap from %s on", [lib.age(lib.limit("load", "elder_months"))]) if {
	lib.elder(carrier)
} else := "the cap"

# Only a note: on a few hundred metres. Only a warning: on short walks; over a cap for age, health or pregnancy but not over an
# adult's; where the load without its water is within the cap, as water is drunk and no rule wants it left.
_gravity(carrier) := "note" if {
	lib.near
	not _beyond_short_way(carrier)
} else := "warning" if {
	_short_walks
} else := "warning" if {
	carrier.kind == "person"
	not _beyond_short_way(carrier)
	not lib.beyond(carrier.foot_ug - _water_ug(carrier), carrier.body_mass_ug, lib.load_cap(carrier))
} else := "warning" if {
	carrier.kind == "person"
	not carrier.cap_known
	_grown(carrier)
	not lib.beyond(carrier.foot_ug, carrier.body_mass_ug, lib.limit("load", "adult_cap"))
} else := "error"

_grown(carrier) if carrier.adult

_grown(carrier) if {
	carrier.age_months >= lib.limit("load", "youth_months")
}

# The water in the packs that a person carries all the way, in micrograms.
_water_ug(carrier) := sum([ug |
	some pack in input.packs
	pack.carrier == carrier.id
	pack.vehicle == ""
	some v in input.vessels
	v.pack == pack.id
	ug := v.water_ml * 1000000
])

_short_walks if {
	count(input.plan.legs) > 0
	not lib.way_unread
	input.plan.foot_min <= lib.limit("load", "short_foot_min")
}

# The heaviest thing that no rule needs; where all that no rule needs is not enough, the heaviest of that, of what can move,
# and of food and water that can stay; else the load.
_lightened(carrier, over_mg) := carrier.spare[0].id if {
	sum([x.mass_mg | some x in carrier.spare]) >= over_mg
} else := max(all)[1] if {
	idle := array.concat(carrier.spare, array.concat(carrier.movable, _idle_foods(carrier)))
	all := array.concat([[x.mass_mg, x.id] | some x in idle], _idle_vessels(carrier))
} else := carrier.load_id

_burdens(carrier) := array.concat([carrier.load_id], [x.id | some x in array.concat(carrier.spare, _movable(carrier))])

# What can move, where someone has room for it.
_movable(carrier) := carrier.movable if lib.has_room(carrier)

_movable(carrier) := [] if not lib.has_room(carrier)

# What no rule needs, what is more than the plan needs, what can move to someone with room; else that nothing can go.
_advice(carrier) := concat("", [
	_no_pack(carrier),
	_things(carrier.spare, "; no rule needs %s"),
	_surplus(carrier),
	_things(_movable(carrier), "; %s can move"),
	lib.room(carrier),
	_no_way(carrier),
])

_no_way(carrier) := "" if {
	carrier.kind == "animal"
} else := "" if {
	lib.has_room(carrier)
} else := "" if {
	carrier.spare != []
} else := "" if {
	_surplus(carrier) != ""
} else := ", and nothing here is surplus: take turns, use a cart or a vehicle, or plan another way"

_surplus(carrier) := concat("", array.concat(
	[sprintf("; %s of the water is more than the plan needs", [lib.litres_or_so(ml)]) | ml := _water_over(carrier); ml >= lib.limit("load", "surplus_water")],
	[sprintf("; food of %s is more than the plan needs", [lib.kcal(j)]) | j := _food_over(carrier); j >= lib.limit("load", "surplus_food")],
))

# Of the water that is never drawn on, by the forecast, a carrier's part; each keeps what they have when parted.
_water_over(carrier) := min([
	lib.down(_idle_water * have, max([input.household.supply.water_ml, 1])),
	have - lib.limit("separation", "own_water"),
]) if {
	have := sum([v.water_ml | some v in input.vessels; v.carrier == carrier.id; v.pack != ""])
}

_idle_water := min([
	min([stock.lowest | some stock in input.endurance.stocks; stock.kind == "water"]),
	input.household.supply.water_ml - _kept_water,
])

# A day's water stays, or less of it where more is found or awaits.
_kept_water := input.household.need_ml if not input.plan.water_named

_kept_water := lib.share_of(input.household.need_ml, lib.limit("water", "start_near")) if input.plan.water_named

# As of water; nobody's sodium runs out with it.
_food_over(carrier) := min([
	lib.down(have * _idle_share, 1000),
	have - lib.share_of(person.energy_j, lib.limit("food", "alone_share")),
]) if {
	some person in input.people
	person.id == carrier.id
	have := sum([food.energy_j | some food in input.foods; food.carrier == carrier.id; food.for == ""; not food.for_animal])
}

# Each vessel with water that can stay, and how much of it, a gram for a millilitre.
_idle_vessels(carrier) := [[min([ml, v.water_ml]) * 1000, v.id] |
	ml := _water_over(carrier)
	ml >= lib.limit("load", "surplus_water")
	some v in input.vessels
	v.carrier == carrier.id
	v.pack != ""
]

# Each food of a carrier that can stay whole.
_idle_foods(carrier) := [food |
	some food in input.foods
	food.carrier == carrier.id
	food.for == ""
	food.pack != ""
	food.energy_j > 0
	food.energy_j <= _food_over(carrier)
]

_idle_share := min([lib.down(stock.lowest * 1000, max([stock.have, 1])) | some stock in input.endurance.stocks; stock.kind in {"energy", "sodium"}; stock.body == ""])

# animals/unfit-bearer is silent then.
_no_pack(carrier) := sprintf("; no pack suits %s, who is %s", [carrier.name, lib.and_list(lib.unfit_to_bear(carrier))]) if {
	carrier.kind == "animal"
	lib.unfit_to_bear(carrier) != []
} else := ""

_things([], _) := ""

_things(list, words) := sprintf(words, [lib.and_list([sprintf("%s (%s)", [x.name, lib.inside(lib.mass(x.mass_mg))]) | some x in list])]) if list != []

# METADATA
# title: No family's own cap is above the standard's
# description: >-
#   A family knows its people, and may set a lower cap for a carrier with a reason. A cap above the standard's is a waiver
#   of the rule on the load in other words, and not for the family alone to set. In a pregnancy the cap of its earlier
#   months counts for this. The cap that is recorded is used all the same, so that the numbers stay honest; with a waiver of
#   this rule, or another value in the group's standard, it may stand.
# custom:
#   level: error
#   remedy: Take the cap out or lower it, or waive this with a reason and a near last day.
#   mend: {work: decide}
#   sources:
#     - "Who may loosen a limit: common practice, no source; the caps have their own sources"
#   limits: [load.adult_cap, load.elder_months, load.elder_cap, load.unfit, load.unfit_cap, load.pregnant_cap, load.pregnant_late_cap, load.pregnant_late_days, load.child_cap, load.animal_cap]
#   caution: Poor fitness, illness, pregnancy or an old injury call for less, never for more; ask a licensed practitioner.
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "70 kg", cap: {share: "12 %", reason: "his knees"}}
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "70 kg", cap: {share: "18 %", reason: "he guides walks"}}
finding.own_cap contains f if {
	some carrier in input.carriers
	carrier.cap_known
	usual := _most_own(carrier)
	over := carrier.cap_permille - usual
	over > 0
	f := {
		"at": carrier.cap_id,
		"text": sprintf("the cap set for %s is %s of body weight; the standard's is %s: over by %s", [
			carrier.name,
			lib.share(carrier.cap_permille),
			lib.share(usual),
			lib.points(over),
		]),
	}
}

# In the later months of a pregnancy a family that says why may keep to the cap of the earlier ones.
_most_own(carrier) := min({lib.usual_cap(carrier)} | {lib.limit("load", "pregnant_cap") | some _ in lib.pregnant_caps(carrier)})

# METADATA
# title: Most of each pack has been weighed
# description: >-
#   A load is only as true as its parts. Weights from a label or a guess are often too low, and then the cap is kept on
#   paper only; if a weight is not recorded at all, the load is at least what the sum says. A day under record on which
#   everything was weighed counts for things that say nothing else. Animals' packs count too.
# custom:
#   level: note
#   remedy: Weigh the things named, the heaviest first, and write their mass and the day.
#   mend: {work: check}
#   sources:
#     - "common practice, no source"
#   limits: [load.unweighed_share]
#   passes: |
#     packs: rust: weighed: "2026-09-01"
#   fails: |
#     packs: rust: weighed: "2026-09-01"
#     packs: rust: compartments: lid: items: tarp: {mass: "400 g", estimated: true}
finding.unweighed contains f if {
	some pack in input.packs
	pack.mass_known
	most := lib.limit("load", "unweighed_share")
	lib.beyond(pack.unweighed_mg, pack.mass_mg, most)
	f := {
		"at": pack.unweighed_ids[0],
		"because": pack.unweighed_ids,
		"text": sprintf("%s of the %s in pack “%s” was never weighed; at most %s may be a guess", [
			lib.mass(pack.unweighed_mg),
			lib.kg(pack.mass_mg),
			pack.name,
			lib.share(most),
		]),
	}
}

finding.unweighed contains f if {
	some pack in input.packs
	first := pack.no_mass[0]
	f := {
		"at": first.id,
		"because": [thing.id | some thing in pack.no_mass],
		"text": sprintf("%s: no weight is recorded for %s", [_weighs(pack), lib.some_names(pack.no_mass)]),
	}
}

# Nothing is said of a sum that is nothing.
_weighs(pack) := sprintf("pack “%s” weighs at least %s", [pack.name, lib.mass(pack.mass_mg)]) if pack.mass_mg > 0

_weighs(pack) := sprintf("what pack “%s” weighs is not known", [pack.name]) if pack.mass_mg == 0

# METADATA
# title: Adults share the load fairly
# description: >-
#   The group walks as fast as the person who carries the most for their body. Of the adults who carry a pack, the heaviest
#   laden is compared with the lightest. People with a cap of their own, in poor health or unwell, those who carry or help a
#   person or are helped, children and animals are left out, and so is what rides in a vehicle. A load over its cap is left
#   to the rule on the cap, and a way of a few hundred metres needs no fairness.
# custom:
#   level: note
#   remedy: Move something shared from the heaviest laden to the lightest laden adult.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: [load.imbalance, load.spared_fitness, load.adult_cap, load.animal_cap, load.carried_cap, load.child_cap, load.elder_cap, load.elder_months, load.short_foot_min, load.unfit, load.unfit_cap, load.pregnant_cap, load.pregnant_late_cap, load.pregnant_late_days, load.youth_months, animals.bear_months, animals.unfit, load.near_foot_mm, load.short_way_cap, load.carried_far_cap, load.carried_far_min, load.surplus_water, water.start_near, load.surplus_food, separation.own_water, food.alone_share]
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "70 kg"}
#     packs: moss: {carrier: "ben", mass: "2 kg"}
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "70 kg"}
#     packs: moss: {carrier: "ben", mass: "6 kg"}
finding.imbalance contains f if {
	not lib.near
	most := lib.limit("load", "imbalance")
	some heavy in _compared
	heavy.id == _heaviest_laden
	some light in _compared
	light.id == _lightest_laden
	apart := ((heavy.foot_ug * light.body_mass_ug) - (light.foot_ug * heavy.body_mass_ug)) * 1000
	bodies := heavy.body_mass_ug * light.body_mass_ug
	apart > most * bodies
	not _overload(heavy)
	points := lib.up(apart, bodies)
	f := {
		"at": heavy.load_id,
		"because": [heavy.load_id, light.load_id],
		"text": sprintf("%s carries %s of body weight and %s %s, %s apart; at most %s is fair: over by %s", [
			heavy.name,
			lib.percent_up(heavy.foot_ug, heavy.body_mass_ug),
			light.name,
			lib.percent_up(light.foot_ug, light.body_mass_ug),
			lib.points(points),
			lib.points(most),
			lib.points(points - most),
		]),
	}
}

_heaviest_laden := min({a.id | some a in _compared; not _less_than_another(a)})

_lightest_laden := min({a.id | some a in _compared; not _more_than_another(a)})

_compared := [c |
	spared := lib.limit("load", "spared_fitness")
	some c in input.carriers
	c.kind == "person"
	c.adult
	count(c.packs) > 0
	not c.cap_known
	not c.fitness in spared
	c.carried_mg == 0
	not c.id in _helping
]

# Who is helped to get about, and who helps them.
_helping := {id | some p in input.people; p.helped_by != ""; some id in {p.id, p.helped_by}}

# The shares of body weight are compared crosswise, so that nothing is rounded.
_less_than_another(a) if {
	some b in _compared
	a.foot_ug * b.body_mass_ug < b.foot_ug * a.body_mass_ug
}

_more_than_another(a) if {
	some b in _compared
	a.foot_ug * b.body_mass_ug > b.foot_ug * a.body_mass_ug
}

# METADATA
# title: Each compartment stays within its budget
# description: >-
#   A family that sets a budget for a compartment wants to see when it creeps over. The pouch and everything in it count,
#   with the water. Compartments without a budget are left out.
# custom:
#   level: warning
#   remedy: Take something out of the compartment, or give it a larger budget and another a smaller one.
#   mend: {work: leave}
#   sources:
#     - "The budget is the family's own; all of it may be used: common practice, no source"
#   limits: [load.budget_share]
#   passes: |
#     packs: rust: compartments: lid: {budget: "400 g", items: tarp: mass: "400 g"}
#   fails: |
#     packs: rust: compartments: lid: {budget: "400 g", items: tarp: mass: "450 g"}
finding.part_budget contains f if {
	most := lib.limit("load", "budget_share")
	some part in input.compartments
	part.budget_known
	over := lib.beyond(part.mass_mg, part.budget_mg, most)
	f := {
		"at": sprintf("%s/budget", [part.id]),
		"because": [part.mass_id],
		"text": sprintf("%s weighs %s; its budget allows %s: over by %s", [
			part.name,
			lib.over(lib.mass(part.mass_mg), lib.mass(lib.share_of(part.budget_mg, most))),
			lib.mass(lib.share_of(part.budget_mg, most)),
			lib.mass(over),
		]),
	}
}

# METADATA
# title: Weights are kept up to date
# description: >-
#   Cartridges empty, soap dries, a jacket makes way for another; the figure stays. Things whose last weighing is long ago
#   are named together for each pack, animals' packs too. A recent day under record, when everything was weighed, counts for
#   all of them. What was never weighed is left to load/unweighed.
# custom:
#   level: note
#   remedy: Weigh the things named again and write the day, or weigh everything and write the day under record.
#   mend: {work: check}
#   sources:
#     - "common practice, no source"
#   limits: [load.weighed_days]
#   passes: |
#     packs: rust: compartments: lid: items: tarp: {mass: "400 g", weighed: "2026-03-01"}
#   fails: |
#     packs: rust: compartments: lid: items: tarp: {mass: "400 g", weighed: "2025-03-01"}
finding.weighed_long_ago contains f if {
	not _all_weighed_lately
	most := lib.limit("load", "weighed_days")
	some pack in input.packs
	old := [w | some w in input.weighings; w.pack == pack.id; input.audit.on_day - w.day > most]
	things := [id | some w in old; some id in w.items]
	first := things[0]
	f := {
		"at": first,
		"because": things,
		"text": sprintf("in pack “%s”, %s last weighed more than %s ago, the longest %s ago", [
			pack.name,
			lib.many(count(things), "thing was", "things were"),
			lib.days(most),
			lib.days(input.audit.on_day - min([w.day | some w in old])),
		]),
	}
}

_all_weighed_lately if {
	input.record.weighed_known
	input.audit.on_day - input.record.weighed_day <= lib.limit("load", "weighed_days")
}

# METADATA
# title: The others can take over if one adult cannot carry
# description: >-
#   A sprained ankle puts one pack on the others' backs. For each adult who carries a pack or an animal, what all people
#   carry on foot, less what can be dropped in seconds, is compared with what the others who carry one can carry for a
#   short way: a cap of their own, a child's cap and one for age or health stay as they are, any other adult has a higher
#   one. If no other adult has a full cap, nothing can be done and nothing is said, nor if the way on foot is a few hundred
#   metres. What animals carry is left out, and a load over its cap comes first.
# custom:
#   level: note
#   remedy: Decide now what would be left behind, lighten the packs, or mark more as quickShed.
#   mend: {work: write}
#   sources:
#     - "US Army ADP 3-90: soldiers keep much of their agility up to 30 % of body mass; year not seen; seen second-hand. It is a figure for trained adults, taken here for a short way only"
#     - "That the others must manage: common practice, no source"
#   limits: [load.short_way_cap, load.adult_cap, load.elder_months, load.elder_cap, load.unfit, load.unfit_cap, load.pregnant_cap, load.pregnant_late_cap, load.pregnant_late_days, load.child_cap, load.animal_cap, load.carried_cap, load.short_foot_min, load.youth_months, animals.bear_months, animals.unfit, load.near_foot_mm, load.carried_far_cap, load.carried_far_min, load.surplus_water, water.start_near, load.surplus_food, separation.own_water, food.alone_share, people.bag_months]
#   caution: >-
#     A load this heavy is for a short way and for healthy adults; stop at any pain. Never leave medicine, water treatment or
#     papers behind. A child never takes more than the child's own cap.
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "70 kg"}
#     packs: moss: {carrier: "ben", mass: "10 kg"}
#     packs: rust: compartments: lid: items: stores: mass: "9 kg"
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "90 kg"}
#     packs: moss: {carrier: "ben", mass: "13 kg"}
#     packs: rust: compartments: lid: items: stores: mass: "9 kg"
finding.one_cannot contains f if {
	not lib.near
	not _someone_over
	some one in _bearers
	one.adult
	_another(one)
	caps := _stretched - (one.body_mass_ug * _stretch(one))
	over := lib.beyond(_kept, 1, caps)
	mg := lib.up(over, 1000)
	most := lib.milligrams(caps)
	f := {
		"at": one.load_id,
		"because": [c.load_id | some c in _bearers],
		"text": sprintf("if %s cannot carry, the others are %s short of room for what must go on: %s against %s (%s)", [
			one.name,
			lib.mass(mg),
			lib.over(lib.kg(lib.up(_kept, 1000)), lib.kg(most)),
			lib.kg(most),
			lib.and_list([sprintf("%s %s", [c.name, lib.share(_stretch(c))]) | some c in _bearers; c.id != one.id]),
		]),
	}
}

# Another adult has the usual cap, or a higher one of their own.
_another(one) if {
	some other in _bearers
	other.id != one.id
	other.adult
	lib.load_cap(other) >= lib.limit("load", "adult_cap")
}

_someone_over if {
	some c in _bearers
	_overload(c)
}

_bearers := [c | some c in _loaded; lib.at_least(c, lib.limit("people", "bag_months"))]

# A small child takes over nothing; the others carry what is in a pack of theirs, and an animal.
_loaded := [c |
	some c in input.carriers
	c.kind == "person"
	array.concat(c.packs, c.animal_ids) != []
	c.foot_ug > 0
]

# What people carry on foot without what is dropped in seconds, and who is carried, in micrograms.
_kept := sum([left | some c in _loaded; left := max([0, c.foot_ug - (c.quick_shed_mg * 1000)]) + (c.carried_mg * 1000)])

# What all of them can carry for a short way, in thousandths of a microgram.
_stretched := sum([most | some c in _bearers; most := c.body_mass_ug * _stretch(c)])

# An own cap is kept even then, and so is one for age, health or pregnancy.
_stretch(carrier) := lib.load_cap(carrier) if {
	carrier.cap_known
} else := lib.limit("load", "short_way_cap") if {
	carrier.adult
	lib.standard_cap(carrier) == lib.limit("load", "adult_cap")
} else := lib.standard_cap(carrier)

# METADATA
# title: Items to drop quickly are within reach
# description: >-
#   A thing that must be dug out at a halt is not dropped in seconds. Single items marked quickShed are judged; a whole
#   compartment marked so comes off with its own buckles, wherever it is, and is left out.
# custom:
#   level: note
#   remedy: Move it to a compartment you can reach while walking, or mark the whole compartment if it comes off at once.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: chair: {mass: "500 g", quickShed: true}
#   fails: |
#     packs: rust: compartments: main: {reach: "halted", items: chair: {mass: "500 g", quickShed: true}}
finding.quick_shed_reach contains f if {
	some item in input.quick_items
	item.reach == "halted"
	not item.whole
	f := {
		"at": item.id,
		"text": sprintf("%s (%s) is marked quick to drop but can be reached only at a halt", [
			item.name,
			lib.inside(lib.mass(item.mass_mg)),
		]),
	}
}

# METADATA
# title: What is worn and pocketed stays light
# description: >-
#   What a person wears or pockets is not load, so that clothes and boots do not count against the pack. But a vest full of
#   gear is a load that no cap sees. Clothing, shoes, glasses, masks and name tags are left out; everything else on the body
#   stays under a share of body weight.
# custom:
#   level: warning
#   remedy: Move things from the body to a pack, where they count, or leave them.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: [load.worn_share]
#   caution: People who are unwell feel it sooner; ask a licensed practitioner.
#   passes: |
#     people: ana: onBody: boots: {mass: "9 kg", can: footwear: "boots"}
#   fails: |
#     people: ana: onBody: vest: {mass: "9 kg"}
finding.worn contains f if {
	most := lib.limit("load", "worn_share")
	some carrier in input.carriers
	over := lib.beyond(carrier.gear_mg, carrier.body_mass_mg, most)
	f := {
		"at": carrier.gear_id,
		"because": [sprintf("%s/on-body", [carrier.id])],
		"text": sprintf("%s wears or pockets %s besides clothing and shoes, %s of body weight; above %s it is a second pack: over by %s", [
			carrier.name,
			lib.kg(carrier.gear_mg),
			lib.percent_up(carrier.gear_mg, carrier.body_mass_mg),
			lib.share(most),
			lib.mass(over),
		]),
	}
}

# METADATA
# title: Nobody recorded as carrying nothing has a pack
# description: >-
#   A family may record that a person carries nothing, because of age, health or another reason. A pack with that person as
#   its carrier, or an animal that they carry, contradicts this, and one of the two is a slip.
# custom:
#   level: error
#   remedy: Give the pack or the animal to someone else, or take the "carries" line out.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: []
#   caution: Ask a licensed practitioner whether this person should carry anything at all.
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "70 kg", carries: false}
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "70 kg", carries: false}
#     packs: moss: {carrier: "ben", mass: "6 kg"}
finding.not_a_carrier contains f if {
	some carrier in input.carriers
	carrier.kind == "person"
	not carrier.carries
	carrier.packs != []
	f := {
		"at": sprintf("%s/carries", [carrier.id]),
		"because": carrier.packs,
		"text": sprintf("%s is recorded as carrying nothing but has %s", [carrier.name, lib.many(count(carrier.packs), "pack", "packs")]),
	}
}

finding.not_a_carrier contains f if {
	some carrier in input.carriers
	not carrier.carries
	carrier.packs == []
	carrier.animal_ids != []
	f := {
		"at": sprintf("%s/carries", [carrier.id]),
		"because": carrier.animal_ids,
		"text": sprintf("%s is recorded as carrying nothing but is to carry %s", [
			carrier.name,
			lib.names([a | some a in input.animals; a.id in carrier.animal_ids]),
		]),
	}
}

# METADATA
# title: Each heavy pack has a hip belt
# description: >-
#   A hip belt takes much of a load off the shoulders and the back. Packs that people carry on foot need one if they are
#   heavy; a lighter pack does without, and so does a way of a few hundred metres. A load over its cap comes first.
# custom:
#   level: note
#   remedy: Lighten the pack, or use one with a hip belt that takes load; write hipBelt if it has one.
#   mend: {work: leave}
#   sources:
#     - "common practice, no source"
#   limits: [load.belt_mass, load.adult_cap, load.animal_cap, load.carried_cap, load.child_cap, load.elder_cap, load.elder_months, load.short_foot_min, load.unfit, load.unfit_cap, load.pregnant_cap, load.pregnant_late_cap, load.pregnant_late_days, load.youth_months, animals.bear_months, animals.unfit, load.near_foot_mm, load.short_way_cap, load.carried_far_cap, load.carried_far_min, load.surplus_water, water.start_near, load.surplus_food, separation.own_water, food.alone_share]
#   passes: |
#     packs: rust: {hipBelt: true, compartments: lid: items: stores: mass: "9 kg"}
#   fails: |
#     packs: rust: compartments: lid: items: stores: mass: "9.3 kg"
finding.hip_belt contains f if {
	not lib.near
	most := lib.limit("load", "belt_mass")
	some pack in input.packs
	pack.carrier_kind == "person"
	not pack.hip_belt
	over := pack.foot_mg - most
	over > 0
	not _carrier_over(pack.carrier)
	f := {
		"at": pack.id,
		"text": sprintf("pack “%s” weighs %s and has no hip belt; without one it may weigh %s at most: over by %s", [
			pack.name,
			lib.over(lib.kg(pack.foot_mg), lib.kg(most)),
			lib.kg(most),
			lib.mass(over),
		]),
	}
}

_carrier_over(id) if {
	some c in input.carriers
	c.id == id
	_overload(c)
}

# METADATA
# title: Packs can be carried if the vehicle must be left
# description: >-
#   A jam, a fallen tree or a breakdown ends the ride, and then everyone has their pack on the back. If all drive all the way,
#   each person's packs are compared with what that person may carry for a short way: their own cap or the one for a pregnancy,
#   a higher one for a healthy adult and from 12 years on, and an adult's usual cap for anyone else.
# custom:
#   level: note
#   remedy: Put what can be left into a box without a carrier, and keep in the pack what must go on.
#   mend: {work: move}
#   sources:
#     - "Children: changes of gait from about 10 to 15 % of body weight (Chow et al. 2005, abstract seen; a review of 2023, seen second-hand); at most 20 % (American Academy of Pediatrics, spokesperson, 2018; seen second-hand)"
#     - "US Army ADP 3-90: soldiers keep much of their agility up to 30 % of body mass; year not seen; seen second-hand. It is a figure for trained adults, taken here for a short way only"
#     - "That packs must be fit to be carried then: common practice, no source"
#   limits: [load.adult_cap, load.short_way_cap, load.youth_short_cap, load.youth_months, load.animal_cap, load.child_cap, load.elder_cap, load.elder_months, load.unfit, load.unfit_cap, load.pregnant_cap, load.pregnant_late_cap, load.pregnant_late_days]
#   passes: |
#     vehicles: car: {kind: "car", payload: "450 kg"}
#     plan: legs: one: {order: 1, distance: "20 km", by: "car"}
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: kite: {carrier: "mia", mass: "4 kg"}
#   fails: |
#     vehicles: car: {kind: "car", payload: "450 kg"}
#     plan: legs: one: {order: 1, distance: "20 km", by: "car"}
#     people: mia: {age: "9 y", bodyMass: "30 kg"}
#     packs: kite: {carrier: "mia", mass: "5 kg"}
finding.vehicle_left contains f if {
	input.plan.ridden
	not lib.cycled
	some carrier in input.carriers
	carrier.kind == "person"
	carrier.carries
	cap := _left_cap(carrier)
	over := lib.beyond(carrier.load_mg, carrier.body_mass_mg, cap)
	most := lib.share_of(carrier.body_mass_mg, cap)
	f := lib.on_body(carrier, {
		"at": carrier.load_id,
		"because": carrier.packs,
		"text": sprintf("if the vehicle must be left, %s carries %s%s%s, %s of body weight; for a short way %s or %s can be carried: over by %s", [
			carrier.name,
			_least(carrier),
			lib.over(lib.kg(carrier.load_mg), lib.kg(most)),
			_with_animals(carrier),
			lib.percent_up(carrier.load_mg, carrier.body_mass_mg),
			lib.share(cap),
			lib.kg(most),
			lib.mass(over),
		]),
	})
}

_left_cap(carrier) := carrier.cap_permille if {
	carrier.cap_known
} else := lib.standard_cap(carrier) if {
	lib.pregnant_caps(carrier) != set()
} else := lib.limit("load", "short_way_cap") if {
	lib.standard_cap(carrier) == lib.limit("load", "adult_cap")
} else := lib.limit("load", "youth_short_cap") if {
	not carrier.adult
	carrier.age_months >= lib.limit("load", "youth_months")
} else := lib.limit("load", "adult_cap")
