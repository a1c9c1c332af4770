# METADATA
# title: Helpers of every rule
# description: >-
#   Reads limits, does exact sums with whole numbers and words quantities. A rule
#   compares whole numbers only; what is rounded here is for reading.
package lib

# Minutes in a day, for rules whose limit is per day.
day_min := 1440

# The way ends in a house, and the household gets there within the plan.
housed if {
	input.plan.destination.kind == "house"
	last := input.plan.legs[count(input.plan.legs) - 1]
	last.arrives
}

# The way on foot is a few hundred metres at most, to a vehicle or to the end of the route.
near if {
	input.plan.legs != []
	not way_unread
	input.plan.foot_mm <= limit("load", "near_foot_mm")
	not cycled
}

# A leg of the route goes by bicycle, under one's own power.
cycled if {
	some leg in input.plan.legs
	some vehicle in input.vehicles
	vehicle.id == leg.by
	vehicle.kind == "bicycle"
}

# A leg of the route could not be read, so that nobody knows how far it is.
way_unread if "legs" in input.plan.unread

# The end of the route is reached within that many minutes of the plan.
there_within(minutes) if {
	not way_unread
	last := input.plan.legs[count(input.plan.legs) - 1]
	last.arrives
	last.end_hour * hour_min <= minutes
}

# Minutes in an hour.
hour_min := 60

# The value of a limit of the base standard, or what stands in its place: a later standard's, or the stricter one of the household.
limit(area, name) := object.get(_own, [area, name], data.limits.base[area][name].value)

# The same for a limit of another standard; stated is that standard's data.limits.<standard>.
limit_of(stated, area, name) := object.get(_own, [area, name], stated[area][name].value)

_own := {area: limits |
	some area in {o.area | some o in input.limits}
	limits := {o.name: _value(o) | some o in input.limits; o.area == area}
}

_value(own) := own.values if own.list

_value(own) := own.value if not own.list

# Whole-number division of numbers that are not negative, down, to nearest (half up) and up.
# Rego's / yields a decimal, so the remainder goes first.
down(a, b) := (a - (a % b)) / b

nearest(a, b) := down((2 * a) + b, 2 * b)

up(a, b) := down((a + b) - 1, b)

# By how much part is more than permille of whole, in thousandths; negative when it is less.
excess(part, whole, permille) := (part * 1000) - (permille * whole)

# By how many whole units part is more than permille of whole, rounded up; undefined when it is not more.
beyond(part, whole, permille) := up(over, 1000) if {
	over := (part * 1000) - (permille * whole)
	over > 0
}

# By how many whole units part is less than permille of whole, rounded up; undefined when it is not less.
lacking(part, whole, permille) := up(short, 1000) if {
	short := (permille * whole) - (part * 1000)
	short > 0
}

# permille of whole, to the nearest unit of whole.
share_of(whole, permille) := nearest(whole * permille, 1000)

# The physical ways in which the household has a capability.
means(capability) := object.get(_means, capability, [])

_means := {c.capability: c.means | some c in input.household.supply.can}

# The items behind a capability of a supply.
items(supply, capability) := [i |
	some c in supply.can
	c.capability == capability
	some i in c.items
]

# The items of the household that have a capability, with their means.
offers(capability) := object.get(_offers, capability, [])

# Made once for all rules: going through the list anew for each would cost as much as most rules.
_offers := {c.capability: c.offers | some c in input.capabilities}

# How many things of these offers there are.
pieces(list) := sum([o.count | some o in list])

# A person known to be younger than some months. Who gives no age is taken for grown.
younger(person, months) if {
	person.age_known
	person.age_months < months
}

# An adult old enough for the cap of the old.
elder(carrier) if {
	carrier.age_known
	carrier.age_months >= limit("load", "elder_months")
}

# The most load of a carrier on foot, in permille of body weight: the family's own cap, or the standard's.
load_cap(carrier) := carrier.cap_permille if carrier.cap_known

load_cap(carrier) := standard_cap(carrier) if not carrier.cap_known

standard_cap(carrier) := min({usual_cap(carrier)} | pregnant_caps(carrier))

# The same without regard to a pregnancy.
usual_cap(carrier) := limit("load", "animal_cap") if {
	carrier.kind == "animal"
} else := limit("load", "child_cap") if {
	not carrier.adult
} else := min(_adult_caps(carrier))

_adult_caps(carrier) := {limit("load", "adult_cap")} | (_elder_caps(carrier) | _unfit_caps(carrier))

# The cap in a pregnancy, where the carrier is pregnant: lower in its later months. Where the day is not written, the early one.
pregnant_caps(carrier) := {_pregnant_cap(p) | some p in input.people; p.id == carrier.id; p.pregnant}

_pregnant_cap(person) := limit("load", "pregnant_late_cap") if {
	due_within(person, limit("load", "pregnant_late_days"))
} else := limit("load", "pregnant_cap")

# A pregnant person who is due within some days, or was due.
due_within(person, days) if {
	person.pregnant
	person.due_known
	person.due_days <= days
}

_elder_caps(carrier) := {limit("load", "elder_cap") | elder(carrier)}

_unfit_caps(carrier) := {limit("load", "unfit_cap") | carrier.fitness in limit("load", "unfit")}

# Thousandths of micrograms as whole milligrams, rounded down.
milligrams(x) := down(x, 1000000)

# Who of the others can carry most more, in words that end a sentence about a carrier's load.
room(carrier) := sprintf("; %s has room for %s", [found[0][1], mass(0 - found[0][0])]) if {
	found := [r | some r in _roomy; r[2] != carrier.id]
} else := "; nobody else has room"

# Someone else can carry more.
has_room(carrier) if {
	some r in _roomy
	r[2] != carrier.id
}

# Adults with room, the most first; those who carry a person are left out. Who is over the cap has none.
_roomy := sort([[0 - left, c.name, c.id] |
	some c in input.carriers
	c.kind == "person"
	c.adult
	c.carries
	c.carried_mg == 0
	left := milligrams((c.body_mass_ug * load_cap(c)) - (c.foot_ug * 1000))
	left > 0
])

# A person of that age or older, or of unknown age.
at_least(person, months) if not younger(person, months)

# Where a finding about a person stands: at the pack that they carry, where it is one, else at the person.
stands(person) := person.packs[0] if count(person.packs) == 1

stands(person) := person.id if count(person.packs) != 1

# A person who goes on their own feet.
walks(person) if {
	person.carried_by == ""
	at_least(person, limit("people", "walk_months"))
}

carried(person) if not walks(person)

# A person who, as written, is never on their own: carried, with others named beside them, or a dependant who
# carries nothing; and a child too young for a bag.
never_alone(person) if person.carried_by != ""

never_alone(person) if person.with != []

never_alone(person) if not person.carries

never_alone(person) if younger(person, limit("people", "bag_months"))

# The ids of the people whose things are at hand for a person: their own, and of those who are always beside them. Where
# nobody is named beside a person who is never alone, that is everyone.
beside(person) := {person.id} if not never_alone(person)

beside(person) := {person.id} | _named(person) if _named(person) != set()

beside(person) := {p.id | some p in input.people} if {
	never_alone(person)
	_named(person) == set()
}

_named(person) := {id | some id in array.concat(person.with, [person.carried_by]); id != ""}

# The means of a capability that are at hand for a person.
at_hand(person, capability) := {m |
	some id in beside(person)
	some m in _means_of[id][capability]
}

# By the id of a person and the capability, the means on them and in their own packs; made once for all rules.
_means_of := {p.id: {c.capability: c.means | some c in p.alone.can} | some p in input.people}

# The things of a capability that are at hand for a person.
offers_beside(person, capability) := [o |
	ids := beside(person)
	some o in offers(capability)
	o.carrier in ids
]

# What is eaten and needed in the plan, where that is less than the share asked. Of what lacks, some rule speaks:
# food/cook-fuel where raw_hunger is defined, food/can-opener where shut_hunger is, else endurance/energy.
hunger := {"eaten": eaten, "need": stock.need, "short": short, "raw": stock.raw_j, "level": _hunger(eaten, stock.need)} if {
	some stock in input.endurance.stocks
	stock.kind == "energy"
	stock.body == ""
	eaten := stock.need - stock.short
	short := lacking(eaten, stock.need, limit("endurance", "energy_share"))
}

# How grave it is that food is short only because it stays raw; undefined where it is not, or where it would be short
# cooked too. food/cook-fuel then speaks in the place of endurance/energy.
raw_hunger := hunger.level if not lacking(hunger.eaten + hunger.raw, hunger.need, limit("endurance", "energy_share"))

# The same of food in cans that nothing opens. food/can-opener then speaks.
shut_hunger := hunger.level if {
	not raw_hunger
	not lacking(hunger.eaten + shut_j, hunger.need, limit("endurance", "energy_share"))
}

# The energy of food for everyone in cans that nothing in the household opens.
shut_j := sum([food.energy_j | some food in input.foods; not food.opens; food.for == ""])

_hunger(eaten, need) := "error" if lacking(eaten, need, limit("endurance", "energy_error"))

_hunger(eaten, need) := "warning" if not lacking(eaten, need, limit("endurance", "energy_error"))

# The kinds of papers of which the household needs a copy, and those of which it has none.
needed_papers := [kind | some kind in limit("documents", "copies"); not _paper_spared(kind)]

missing_papers := [kind | some kind in needed_papers; not kind in papers_held]

# Those of which nothing that is not recorded may be one either.
absent_papers := [kind | some kind in missing_papers; unrecorded_means(anybody, "documents", [kind]) == []]

papers_held := {d | some paper in input.papers; some d in paper.documents}

_paper_spared("medical") if {
	input.medications == []
	input.allergies == []
}

# Someone takes medicine every day, and no paper says which.
unprescribed if {
	some med in input.medications
	not med.as_needed
	not "prescription" in papers_held
}

# A thing in a pack that is kept in the car.
kept_in_car(thing) if {
	some pack in input.packs
	pack.id == thing.pack
	pack.kept == "car"
}

# How hot a closed car gets on the day of the season.
hot_car_mc := input.plan.day_mc + limit("vehicle", "rise_mc")

# A medicine that a hot car spoils; what is taken along at the last minute is not there.
in_hot_car(medicine) if {
	kept_in_car(medicine)
	not medicine.last_minute
	input.plan.season_known
	hot_car_mc > limit("vehicle", "medicine_mc")
}

# The load of an animal or a person whose feet carry more than their cap allows, in micrograms over it.
overload(carrier) := beyond(carrier.foot_ug, carrier.body_mass_ug, load_cap(carrier))

# Why an animal should carry no pack: too young, or not well.
unfit_to_bear(carrier) := array.concat(_too_young(carrier), _unwell(carrier))

_too_young(carrier) := [sprintf("%s old (%s is the minimum)", [age(carrier.age_months), age(least)]) |
	least := limit("animals", "bear_months")
	carrier.age_known
	carrier.age_months < least
]

_unwell(carrier) := [_fitness(carrier.fitness) | carrier.fitness in limit("animals", "unfit")]

_fitness("poor") := "in poor condition"

_fitness(state) := state if state != "poor"

# The radios that hear some news, and whether one of them works.
news_radios := [radio |
	some radio in input.radios
	{band | some band in radio.receives} & {band | some band in limit("radio", "news")} != set()
]

hears_news if {
	some radio in news_radios
	radio.works
}

# A person who has fewer than asked of these things on them and in their own packs. For who is never alone, what those
# beside them can spare counts too: each spare thing for one of them, in the order of their ids, so that one shortage is said once.
lacks_own(person, things, months, asked) if {
	_had(person, things) < asked
	not _spared(person, things, months, asked)
}

_had(person, things) := pieces([o | some o in things; o.carrier == person.id])

_spared(person, things, months, asked) if {
	never_alone(person)
	ids := beside(person)
	spare := sum([max([0, _had(p, things) - _needs(p, months, asked)]) | some p in input.people; p.id in ids])
	first := [q | some q in input.people; q.id <= person.id; never_alone(q); ids & beside(q) != set()]
	sum([max([0, _needs(q, months, asked) - _had(q, things)]) | some q in first]) <= spare
}

_needs(person, months, asked) := asked if at_least(person, months)

_needs(person, months, _) := 0 if younger(person, months)

# For whom a household is short of some things: who has none, and how many are short; undefined where there are
# enough. What is nobody's in particular, and a second one of someone's, may go to anyone; but what is a small child's
# fits no grown one, and the reverse.
without(people, things) := {"who": who, "short": short, "have": count(people) - short} if {
	own := sum([_own_things(ids, things) | some ids in _sizes(people)])
	short := (count(people) - own) - sum([t.count | some t in things; t.whose == ""])
	short > 0
	with_one := {_theirs(t) | some t in things}
	who := [p | some p in people; not p.id in with_one]
}

# The same in parts, where some of those who have none may have one among the things that are not recorded: who has none for sure, and who
# may have one in what they carry. Of each part, may is what may be all that it is short of, and rest what is not enough for it.
lacks(people, things, may) := [{"lack": lack, "may": may, "rest": []}] if {
	lack := without(people, things)
	pieces(may) >= lack.short
} else := [part |
	lack := without(people, things)
	unsure := {p.id | some p in lack.who; some t in may; t.carrier == p.id}
	some part in [
		{
			"lack": object.union(lack, {"who": [p | some p in lack.who; not p.id in unsure], "short": lack.short - count(unsure)}),
			"may": [],
			"rest": [t | some t in may; not t.carrier in unsure],
		},
		{
			"lack": object.union(lack, {"who": [p | some p in lack.who; p.id in unsure], "short": count(unsure)}),
			"may": [t | some t in may; t.carrier in unsure],
			"rest": [],
		},
	]
	part.lack.who != []
]

# What is said of a part.
lack_part(f, part) := maybe(f, part.may) if {
	part.may != []
} else := too_few(f, part.rest) if {
	part.rest != []
} else := f

# The ids of small children among people, and those of the others.
_sizes(people) := [ids |
	small := {p.id | some p in people; younger(p, limit("people", "bag_months"))}
	some ids in [small, {p.id | some p in people} - small]

	# no test can tell: nobody has nothing.
	ids != set()
]

# How many of the people with these ids have one of the things that are theirs.
_own_things(ids, things) := min([count(ids), sum([t.count | some t in things; t.whose in ids])])

# Whose a thing is for now: who has it, where it is nobody's in particular.
_theirs(thing) := thing.whose if thing.whose != ""

_theirs(thing) := thing.carrier if thing.whose == ""

# Where a finding about some people stands: at the one, else at the household.
stands_of(people) := stands(people[0]) if count(people) == 1

stands_of(people) := input.household.id if count(people) != 1

# "Ana has no map", "Ana and Ben have no map", or, where one of them may take another's second, "3 people have 2 maps: 1 short".
has_no(lack, one, _) := sprintf("%s %s no %s", [names(lack.who), _have_verb(count(lack.who)), one]) if lack.short == count(lack.who)

has_no(lack, one, more) := sprintf("%s %s no %s of their own, and the household has %s: %d short", [
	names(lack.who),
	_have_verb(count(lack.who)),
	one,
	many(lack.have, one, more),
	lack.short,
]) if {
	lack.short != count(lack.who)
}

_have_verb(1) := "has"

_have_verb(n) := "have" if n != 1

# A person who carries something, with those whose things count for them, and the verb.
carries(person) := sprintf("%s carries", [person.name]) if not never_alone(person)

carries(person) := sprintf("%s and the people beside them carry", [person.name]) if never_alone(person)

# The names of people, or of things; what has the same name is said once, with how many there are.
names(list) := and_list([_times(name, all) |
	all := [x.name | some x in list]
	some i, name in all

	# no test can tell: array.slice takes a start below 0 for 0.
	not name in array.slice(all, 0, i)
])

_times(name, all) := name if count([n | some n in all; n == name]) == 1

_times(name, all) := sprintf("%d × %s", [n, name]) if {
	n := count([x | some x in all; x == name])
	n > 1
}

# Things whose use or amount is not recorded and that may be of a kind, such as "signal" or "food", of the carriers with these ids.
unrecorded(ids, what) := [thing | some thing in _may[what]; thing.carrier in ids]

# All who carry such a thing, for what the household has as one.
anybody := {thing.carrier | some thing in input.unrecorded}

# The same of these means of a capability only; what could not be read may be any of them.
unrecorded_means(ids, capability, means) := [thing |
	some thing in ({thing | some m in means; some thing in _may[sprintf("%s:%s", [capability, m])]} | _unread(capability))
	thing.carrier in ids
]

_unread(capability) := {thing | some thing in _may[capability]; thing.what == "unreadable"}

# Made once for all rules.
_may := {what: {thing | some thing in input.unrecorded; what in thing.may} |
	some what in {w | some thing in input.unrecorded; some w in thing.may}
}

# What is not recorded is not missing: every rule that misses something passes its finding through one of these functions. They name, as
# "unrecorded", the things that may be what is missing. The program then makes one finding of it, at such a thing, a level milder
# than f (judge.Settle). f is the finding as it stands otherwise, short how many things are missing.
lack(f, things, short) := maybe(f, things) if {
	things != []
	pieces(things) >= short
} else := too_few(f, things) if {
	things != []
} else := f

# A finding where what is not recorded may be a part of what is missing only.
too_few(f, things) := object.union(f, {"text": sprintf("%s; not recorded: %s", [f.text, some_names(things)])})

# The same where any of them is enough.
lack_any(f, things) := maybe(f, things) if things != []

lack_any(f, []) := f

# The same for a person who has fewer of some things than asked; see lacks_own.
lack_own(f, person, things, may, months, asked) := maybe(f, may) if {
	not lacks_own(person, array.concat(things, may), months, asked)
} else := f

# The finding with the things that may be what is missing.
maybe(f, things) := object.union(f, {
	"text": sprintf("%s (not recorded: %s may do)", [f.text, some_names(things)]),
	"because": array.concat(object.get(f, "because", []), [t.id | some t in things]),
	"unrecorded": [t.id | some t in things],
})

# Of what is missing, by its keys, what nothing that is not recorded may be, and what may be there: each part is a finding of its own. may
# gives the things that each may be.
parted(keys, may) := [part |
	missing := [k | some k in keys; may[k] == []]
	unknown := [k | some k in keys; may[k] != []]
	some part in [{"keys": missing, "may": []}, {"keys": unknown, "may": [thing | some k in unknown; some thing in may[k]]}]
	part.keys != []
]

# The same of people, where each needs a thing of their own: may gives the things that the one with an id may have.
parted_people(people, may) := [{"people": [p | some p in people; p.id in part.keys], "may": part.may} |
	some part in parted([p.id | some p in people], may)
]

# A finding about an amount as it is said where a part of what it is made of is not recorded. what is the amount in
# words, takes what is needed of it.
unread_amount(f, what, things, takes) := object.union(f, {
	"text": sprintf("%s is not recorded (%s); %s", [what, some_names(things), takes]),
	"because": [t.id | some t in things],
	"unrecorded": [t.id | some t in things],
})

# Medicine whose use is not recorded and that may be this medication: by its name, or by a name that is none of the others'.
unrecorded_medicine(med) := [thing |
	some thing in unrecorded(anybody, "medicine")
	_may_be_medicine(thing, med)
]

_may_be_medicine(thing, med) if _name_words(thing.name) & _name_words(med.name) != set()

_may_be_medicine(thing, _) if {
	words := _name_words(thing.name)
	every other in array.concat(input.medications, input.animal_medications) { words & _name_words(other.name) == set() }
}

_name_words(name) := {word | some word in split(replace(replace(lower(name), "_", " "), "-", " "), " "); count(word) > 3}

# Of things that are not recorded, those that are only a name, or cannot be read, and these whose amount is not written.
unread_of(things, ids) := [thing | some thing in things; _unread_of(thing, ids)]

_unread_of(thing, _) if thing.what in {"", "unreadable"}

_unread_of(thing, ids) if thing.id in ids

# What is said of a load against a body weight: a note where that is only a figure to plan with.
on_body(carrier, f) := f if carrier.body_mass_known

on_body(carrier, f) := object.union(f, {
	"level": "note",
	"text": sprintf("%s (body weight is not recorded; %s is assumed)", [f.text, inside(planned(carrier.body_mass_mg))]),
}) if {
	not carrier.body_mass_known
}

# The names of things, quoted; of many, the first five.
some_names(things) := and_list([sprintf("“%s”", [t.name]) | some t in things]) if count(things) <= 5

# no test can tell: array.slice takes a start below 0 for 0.
some_names(things) := sprintf("%s and %d more", [concat(", ", [sprintf("“%s”", [t.name]) | some t in array.slice(things, 0, 5)]), count(things) - 5]) if count(things) > 5

# A household that writes its masses in ounces and pounds hears US units first, and metric ones in parentheses. The functions of US units say "" where
# it does not, and of what is too small for them. The pound is 0.45359237 kg, the mile 1609.344 m and the foot 0.3048 m: NIST SP 811 (2008)
# App. B.8. The US gallon of 128 fluid ounces is 3.785411784 L: NIST Handbook 44 (2024) App. C.
_us if input.audit.units == "us"

_both(us, metric) := sprintf("%s (%s)", [us, metric]) if us != ""

_both("", metric) := metric

# An amount that is said within parentheses has none of its own.
inside(amount) := replace(replace(amount, " (", ", "), ")", "")

# Kilograms with two decimals.
kg(mg) := _both(_pounds(mg), _kg(mg))

_kg(mg) := sprintf("%s kg", [_fixed(nearest(mg, 10000), 2)])

# Avoirdupois pounds with one decimal, below that ounces.
_pounds(mg) := lb(mg) if {
	_us
	mg >= 452175
	# no test can tell: one more or less in so many moves no digit that is shown.
} else := sprintf("%s oz", [_trimmed(nearest(mg * 16000, 45359237), 1)]) if {
	_us
	mg >= 28208 # no test can tell: an ounce less a milligram reads the same in both forms.
	# no test can tell: one more or less in so many moves no digit that is shown.
} else := sprintf("%s oz", [_trimmed(nearest(mg * 160000, 45359237), 2)]) if {
	_us
	mg >= 1000
} else := ""

# A body weight to plan with, in whole pounds and kilograms: it is no weighing.
planned(mg) := _both(_whole_pounds(mg), sprintf("%d kg", [nearest(mg, 1000000)]))

# no test can tell: one more or less in so many moves no digit that is shown.
_whole_pounds(mg) := sprintf("%d lb", [nearest(mg * 100, 45359237)]) if _us

_whole_pounds(_) := "" if not _us

# Avoirdupois pounds with at most one decimal.
lb(mg) := sprintf("%s lb", [_trimmed(nearest(mg * 1000, 45359237), 1)])

# A mass that may be tiny: mg below a gram, g below a tenth of a kilogram, else kg.
mass(mg) := _both(_pounds(mg), metric_mass(mg))

# The same in metric units alone, for what has them on every label.
metric_mass(mg) := sprintf("%d mg", [mg]) if mg < 1000

metric_mass(mg) := sprintf("%d g", [nearest(mg, 1000)]) if {
	mg >= 1000
	mg < 100000
}

metric_mass(mg) := _kg(mg) if mg >= 100000

# A share in percent with one decimal.
percent(num, den) := sprintf("%s %%", [_fixed(nearest(num * 1000, den), 1)])

# The same rounded up and down, for a share that is told beside the limit that it exceeds or falls short of.
percent_up(num, den) := sprintf("%s %%", [_fixed(up(num * 1000, den), 1)])

percent_down(num, den) := sprintf("%s %%", [_fixed(down(num * 1000, den), 1)])

# A limit that is a share, in percent without an idle zero.
share(permille) := sprintf("%s %%", [trim_suffix(_fixed(permille, 1), ".0")])

# A figure beside the one that it exceeds, or falls short of: where rounding makes both read alike, in words.
over(shown, limit) := shown if shown != limit

over(shown, limit) := sprintf("just over %s", [limit]) if shown == limit

under(shown, limit) := shown if shown != limit

under(shown, limit) := sprintf("just under %s", [limit]) if shown == limit

# Permille points as percentage points with one decimal.
points(permille) := sprintf("%s points", [_fixed(permille, 1)])

# Millimetres as kilometres with one decimal.
km(mm) := _both(_miles(mm), sprintf("%s km", [_fixed(nearest(mm, 100000), 1)]))

# no test can tell: one more or less in so many moves no digit that is shown.
_miles(mm) := sprintf("%s mi", [_trimmed(nearest(mm * 100, 1609344), 2)]) if _us

_miles(_) := "" if not _us

# Metres of height or of a short way.
metres(mm) := _both(_feet(mm), sprintf("%s m", [milli(mm)]))

_feet(mm) := sprintf("%s ft", [_trimmed(nearest(mm * 100, 3048), 1)]) if _us

_feet(_) := "" if not _us

# Litres, exact to the millilitre.
litres(ml) := _both(_gallons(ml), sprintf("%s L", [milli(ml)]))

# US gallons with at most two decimals, below that fluid ounces.
# no test can tell: one more in so many moves no digit that is shown.
_gallons(ml) := sprintf("%s gal", [_trimmed(nearest(ml * 100000000, 3785411784), 2)]) if {
	_us
	ml >= 3784
	# no test can tell: one more or less in so many moves no digit that is shown.
} else := sprintf("%s fl oz", [_trimmed(nearest(ml * 1280000000, 3785411784), 1)]) if {
	_us
	ml >= 2
} else := ""

# Litres down to a twentieth.
litres_or_so(ml) := litres(down(ml, 50) * 50)

# Kilocalories to the nearest; thermochemical, 4.184 kJ, NIST SP 811 (2008).
kcal(j) := sprintf("%d kcal", [_kcal(j)])

_kcal(j) := nearest(j, 4184)

# An energy that may be tiny: less than half a kilocalorie is said in joules.
energy(j) := kcal(j) if _kcal(j) > 0

energy(j) := sprintf("%d J", [j]) if _kcal(j) == 0

# Thousandths of one without idle zeros: 500 is "0.5".
milli(n) := _trimmed(n, 3)

_trimmed(n, decimals) := trim_right(trim_right(_fixed(n, decimals), "0"), ".")

_fixed(n, 1) := sprintf("%d.%d", [down(n, 10), n % 10])

_fixed(n, 2) := sprintf("%d.%02d", [down(n, 100), n % 100])

_fixed(n, 3) := sprintf("%d.%03d", [down(n, 1000), n % 1000])

# Thousandths of a degree Celsius, as a temperature and not as a difference of two.
celsius(mc) := _degrees(mc, 1, 3, "°C") if not _us

# A temperature in whole degrees Fahrenheit has many decimals in Celsius.
# no test can tell: a five-hundredth of a part is below what is shown.
celsius(mc) := _both(_degrees((mc * 9) + 160000, 500, 1, "°F"), _degrees(mc, 100, 1, "°C")) if _us

# So many parts of the last decimal, to the nearest.
_degrees(n, part, decimals, unit) := sprintf("%s%s %s", [_minus(n, last), _trimmed(last, decimals), unit]) if last := nearest(abs(n), part)

_minus(n, last) := "-" if {
	n < 0 # no test can tell: of 0 and 1 the last decimal is 0 in both systems.
	last > 0
} else := ""

# Minutes as hours, with the odd minutes where there are any.
hours(min) := sprintf("%d h", [down(min, 60)]) if min % 60 == 0

hours(min) := sprintf("%d h %d min", [down(min, 60), min % 60]) if min % 60 > 0

days(n) := many(n, "day", "days")

people(n) := many(n, "person", "people")

# An age: in months below two years, then in years and the months over.
age(months) := many(months, "month", "months") if months < 24

age(months) := sprintf("%d years%s", [down(months, 12), _over(months % 12)]) if months >= 24

_over(0) := ""

_over(months) := sprintf(" and %s", [many(months, "month", "months")]) if months > 0

# A number with its noun.
many(1, one, _) := sprintf("1 %s", [one])

many(n, _, more) := sprintf("%d %s", [n, more]) if n != 1

# "a", "a or b", "a, b or c".
or_list([x]) := x

# no test can tell: array.slice takes a start below 0 for 0.
or_list(xs) := sprintf("%s or %s", [concat(", ", array.slice(xs, 0, n)), xs[n]]) if {
	n := count(xs) - 1
	n > 0
}

# "a", "a and b", "a, b and c".
and_list([]) := ""

and_list([x]) := x

# no test can tell: array.slice takes a start below 0 for 0.
and_list(xs) := sprintf("%s and %s", [concat(", ", array.slice(xs, 0, n)), xs[n]]) if {
	n := count(xs) - 1
	n > 0
}

# What is said of a date that leaves fewer days than asked; why is what must be reached, in words that end the sentence.
date_text(date, asked) := date_text_to(date, asked, "")

date_text_to(date, asked, why) := sprintf("%s: %s %s, %s", [
	date.name,
	_ends[date.kind],
	date.on,
	_left(date.days_left, asked, why),
])

_ends := {
	"expires": "good until",
	"opened": "opened, and good until",
	"out-of-cold": "out of the cold, and good until",
	"rotate": "due for replacement by",
	"licence": "valid until",
}

_left(left, _, _) := sprintf("%s ago", [days(0 - left)]) if left < 0

_left(left, asked, why) := sprintf("%s; at least %s must remain%s", [in_days(left), days(asked), why])

# When something is that many days ahead; undefined for what is past.
in_days(0) := "today"

in_days(1) := "tomorrow"

in_days(n) := sprintf("in %s", [days(n)]) if n > 1
