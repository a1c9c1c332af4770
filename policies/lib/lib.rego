# METADATA
# title: Helpers of every rule
# description: >-
#   Reads limits, does exact sums with whole numbers and words quantities. A rule
#   compares whole numbers only; what is rounded here is for reading.
package lib

# Minutes in a day, for rules whose limit is per day.
day_min := 1440

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
	over := excess(part, whole, permille)
	over > 0
}

# By how many whole units part is less than permille of whole, rounded up; undefined when it is not less.
lacking(part, whole, permille) := up(short, 1000) if {
	short := (permille * whole) - (part * 1000)
	short > 0
}

# permille of whole, to the nearest unit of whole.
share_of(whole, permille) := nearest(whole * permille, 1000)

# The physical ways in which a supply has a capability.
means(supply, capability) := [m |
	some c in supply.can
	c.capability == capability
	some m in c.means
]

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

# What is said of a pack that has fewer means of a capability than are asked;
# undefined for one that has enough. what names the capability in words. The rule's METADATA
# states the lack as a count.
too_few(pack, capability, what, asked) := f if {
	have := means(pack.supply, capability)
	count(have) < asked
	f := lack(
		{
			"at": pack.id,
			"because": items(pack.supply, capability),
			"text": sprintf("%s has %s; %s: %d too few", [
				pack.name,
				_have(have, what),
				_asked(asked),
				asked - count(have),
			]),
			"lack": asked - count(have),
		},
		pack.id, capability, asked - count(have),
	)
}

_have([], what) := sprintf("no means of %s", [what])

_have(have, what) := sprintf("%d means of %s (%s)", [count(have), what, and_list(have)]) if count(have) > 0

_asked(1) := "1 is asked"

_asked(n) := sprintf("%d different ones are asked", [n]) if n > 1

# Things with no use written whose name says that they may do something, such as "signal" or "signal:whistle"; of a pack, of
# somebody with what they wear and carry, or of the household: at is an id, or "household".
unrecorded(at, what) := [thing |
	some thing in input.unrecorded
	at in {thing.pack, thing.carrier, "household"}
	what in thing.may
]

# A lack as it is said where things that are not recorded may fill it: as a note, since unknown is not missing. f is the
# finding as it stands otherwise, short how many things are missing; at and what are those of unrecorded.
lack(f, at, what, short) := _maybe(f, things) if {
	things := unrecorded(at, what)
	pieces(things) >= short
} else := f

# The same for a finding that misses several capabilities at once: a note where something may be each of them.
lack_each(f, at, whats) := _maybe(f, [thing | some what in whats; some thing in unrecorded(at, what)]) if {
	every what in whats { unrecorded(at, what) != [] }
} else := f

_maybe(f, things) := object.union(f, {
	"level": "note",
	"text": sprintf("%s (not recorded: %s may do)", [f.text, some_names(things)]),
	"because": array.concat(object.get(f, "because", []), [t.id | some t in things]),
})

# What is said of a load against a body mass: a note where that is only a figure to plan with.
on_body(carrier, f) := f if carrier.body_mass_known

on_body(carrier, f) := object.union(f, {
	"level": "note",
	"text": sprintf("%s (the body mass is not recorded: %s is assumed)", [f.text, kg(carrier.body_mass_mg)]),
}) if {
	not carrier.body_mass_known
}

# The names of things, quoted; of many, the first five.
some_names(things) := and_list([sprintf("“%s”", [t.name]) | some t in things]) if count(things) <= 5

# no test can tell: array.slice takes a start below 0 for 0.
some_names(things) := sprintf("%s and %d more", [concat(", ", [sprintf("“%s”", [t.name]) | some t in array.slice(things, 0, 5)]), count(things) - 5]) if count(things) > 5

# Kilograms with two decimals.
kg(mg) := sprintf("%s kg", [_fixed(nearest(mg, 10000), 2)])

# Avoirdupois pounds with one decimal; 0.45359237 kg, NIST SP 811 (2008) App. B.8.
lb(mg) := sprintf("%s lb", [_fixed(nearest(mg * 1000, 45359237), 1)])

# A mass that may be tiny: mg below a gram, g below a tenth of a kilogram, else kg.
mass(mg) := sprintf("%d mg", [mg]) if mg < 1000

mass(mg) := sprintf("%d g", [nearest(mg, 1000)]) if {
	mg >= 1000
	mg < 100000
}

mass(mg) := kg(mg) if mg >= 100000

# A share in percent with one decimal.
percent(num, den) := sprintf("%s %%", [_fixed(nearest(num * 1000, den), 1)])

# A limit that is a share, in percent with one decimal.
share(permille) := percent(permille, 1000)

# Permille points as percentage points with one decimal.
points(permille) := sprintf("%s points", [_fixed(permille, 1)])

# Litres, exact to the millilitre.
litres(ml) := sprintf("%s L", [milli(ml)])

# Kilocalories to the nearest; thermochemical, 4.184 kJ, NIST SP 811 (2008).
kcal(j) := sprintf("%d kcal", [_kcal(j)])

_kcal(j) := nearest(j, 4184)

# An energy that may be tiny: less than half a kilocalorie is said in joules.
energy(j) := kcal(j) if _kcal(j) > 0

energy(j) := sprintf("%d J", [j]) if _kcal(j) == 0

# Thousandths of one without idle zeros: 500 is "0.5".
milli(n) := trim_right(trim_right(_fixed(n, 3), "0"), ".")

_fixed(n, 1) := sprintf("%d.%d", [down(n, 10), n % 10])

_fixed(n, 2) := sprintf("%d.%02d", [down(n, 100), n % 100])

_fixed(n, 3) := sprintf("%d.%03d", [down(n, 1000), n % 1000])

# Thousandths of a degree Celsius.
celsius(mc) := sprintf("%s °C", [milli(mc)]) if mc >= 0

celsius(mc) := sprintf("-%s °C", [milli(0 - mc)]) if mc < 0

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

# "a", "a and b", "a, b and c".
and_list([]) := ""

and_list([x]) := x

# no test can tell: array.slice takes a start below 0 for 0.
and_list(xs) := sprintf("%s and %s", [concat(", ", array.slice(xs, 0, n)), xs[n]]) if {
	n := count(xs) - 1
	n > 0
}

# What is said of a date that leaves fewer days than asked.
date_text(date, asked) := sprintf("%s: %s %s; %s", [
	date.name,
	_ends[date.kind],
	date.on,
	_left(date.days_left, asked),
])

_ends := {
	"expires": "good until",
	"opened": "opened, and good until",
	"out-of-cold": "out of the cold, and good until",
	"rotate": "to be exchanged by",
	"licence": "valid until",
}

_left(left, _) := sprintf("that was %s ago", [days(0 - left)]) if left < 0

_left(left, asked) := sprintf("%s left, %s asked: %s too few", [days(left), days(asked), days(asked - left)]) if left >= 0
