package rules.base.hazard

import data.lib

# METADATA
# title: Each meeting point lies out of danger
# description: >-
#   If a flood or a tsunami is a danger, a meeting point no higher than home is under water when it is needed, unless the
#   authority's map says that the water does not reach it. If another point is safe it is a warning; if no altitude is
#   known, a note. A point below home that is recorded as safe from the water is a note, from a tsunami a warning. The same goes for other dangers, if one place is recorded as safe and another is not, or none is;
#   a quake is everywhere, so for it nothing need be recorded.
# custom:
#   level: error
#   remedy: Name a place uphill that you can reach on foot, and write its altitude, or safeFrom if the authority's map shows it dry.
#   mend: {work: decide}
#   sources:
#     - "US tsunami warning centre: at strong or long shaking go on foot, at once, to high ground; seen on its own page. No national number says how high; pages print 18 m and 30 m"
#     - "Higher than home: common practice, no source; the local map decides"
#   limits: [hazard.water, hazard.places]
#   caution: Higher than home may not be high enough. Go by the authority's map, and never through moving water.
#   passes: |
#     plan: {hazards: ["flood"], home: altitude: "12 m", meetingPoints: hill: {where: "the chapel", altitude: "40 m"}}
#   fails: |
#     plan: {hazards: ["flood"], home: altitude: "12 m", meetingPoints: mill: {where: "the old mill", altitude: "9 m"}}
finding.meeting_point contains f if {
	some place in input.plan.meeting_places
	_below(place)
	threats := [h | some h in _waters; not h in place.safe_from]
	threats != []
	f := {
		"at": sprintf("%s/altitude", [place.id]),
		"because": ["plan/home/altitude", "plan/hazards"],
		"text": sprintf("meeting point “%s” lies at %s and home at %s: a %s reaches both", [
			place.key,
			lib.metres(place.altitude_mm),
			lib.metres(input.plan.home_altitude_mm),
			concat(" or ", threats),
		]),
		"level": _grave(threats),
	}
}

# The family wrote that the water does not reach a place below home.
finding.meeting_point contains f if {
	some place in input.plan.meeting_places
	_below(place)
	place.altitude_mm < input.plan.home_altitude_mm
	_waters != []
	every h in _waters { h in place.safe_from }
	f := {
		"at": sprintf("%s/altitude", [place.id]),
		"because": ["plan/home/altitude", "plan/hazards"],
		"text": sprintf("meeting point “%s” is recorded as safe from %s, and at %s it lies lower than home at %s: make sure that the authority's map shows it dry", [
			place.key,
			concat(" and ", _waters),
			lib.metres(place.altitude_mm),
			lib.metres(input.plan.home_altitude_mm),
		]),
		"level": _lower_level,
	}
}

# A wave comes over everything below, while a river may flow elsewhere.
_lower_level := "warning" if "tsunami" in _waters

_lower_level := "note" if not "tsunami" in _waters

finding.meeting_point contains f if {
	unclear := [h | some h in _waters; not _dry(h)]
	unclear != []
	places := [p | some p in input.plan.meeting_places; not _below(p)]
	f := {
		"at": places[0].id,
		"because": [p.id | some p in places],
		"text": sprintf("it is not recorded whether any meeting point is safe from %s: write home: altitude and the points' altitude, or safeFrom", [concat(" or ", unclear)]),
		"level": "note",
	}
}

# Of a danger that comes by land nothing is written.
finding.meeting_point contains f if {
	unclear := [h | some h in _lands; h != "quake"; not _written_safe(h)]
	unclear != []
	places := input.plan.meeting_places
	f := {
		"at": places[0].id,
		"because": array.concat(["plan/hazards"], [p.id | some p in places]),
		"text": sprintf("no meeting point is recorded as safe from %s: write safeFrom where the map of the authority, or bare ground, says so", [concat(" or ", unclear)]),
		"level": "note",
	}
}

_written_safe(hazard) if {
	some place in input.plan.meeting_places
	hazard in place.safe_from
}

# The family wrote what is out of the way of what: one place is not, while another is.
finding.meeting_point contains f if {
	some place in input.plan.meeting_places
	threats := [h | some h in _lands; _dry(h); not h in place.safe_from]
	safe := [p | some p in input.plan.meeting_places; {h | some h in threats; h in p.safe_from} != set()]
	f := {
		"at": place.id,
		"because": array.concat(["plan/hazards"], [p.id | some p in safe]),
		"text": sprintf("meeting point “%s” is not recorded as safe from %s, and %s: write safeFrom there, or do not count on it then", [
			place.key,
			concat(" or ", threats),
			_are_safe(safe),
		]),
		"level": _spoken(place),
	}
}

# Nothing is written of a place: unknown is not missing.
_spoken(place) := "note" if place.safe_from == []

_spoken(place) := "warning" if place.safe_from != []

_are_safe([p]) := sprintf("“%s” is", [p.key])

_are_safe(places) := sprintf("%s are", [lib.and_list([sprintf("“%s”", [p.key]) | some p in places])]) if count(places) > 1

# The dangers of the place that do not come with water, and from which one place is safe and another not.
_lands := [h | some h in input.plan.hazards; h in lib.limit("hazard", "places")]

# The dangers of the place that come with water, by name.
_waters := [h | some h in input.plan.hazards; h in lib.limit("hazard", "water")]

# No higher than home, as both are known.
_below(place) if {
	input.plan.home_altitude_known
	place.altitude_known
	place.altitude_mm <= input.plan.home_altitude_mm
}

# Some meeting point is out of the way of a danger.
_dry(hazard) if {
	some place in input.plan.meeting_places
	hazard in place.safe_from
}

_dry(_) if {
	some place in input.plan.meeting_places
	input.plan.home_altitude_known
	place.altitude_mm > input.plan.home_altitude_mm
}

_grave(threats) := "warning" if {
	every h in threats { _dry(h) }
} else := "error"

# METADATA
# title: The household knows more than one way out
# description: >-
#   A fire, a flood or a jam shuts a road. If such a danger is recorded, the household knows two different ways out.
# custom:
#   level: note
#   remedy: Look for a second way on the map, try it once, and write how many ways you know.
#   mend: {work: decide}
#   sources:
#     - "CAL FIRE: plan two different ways out of your community; seen in a copy of its own page"
#   limits: [hazard.ways, hazard.shut]
#   passes: |
#     plan: {hazards: ["fire"], ways: 2}
#   fails: |
#     plan: {hazards: ["fire"], ways: 1}
finding.two_ways contains f if {
	least := lib.limit("hazard", "ways")
	threats := [h | some h in input.plan.hazards; h in lib.limit("hazard", "shut")]
	threats != []
	input.plan.ways < least
	f := {
		"at": "plan/hazards",
		"text": sprintf("a %s may shut the way out, and %s recorded; %d are needed", [
			concat(" or ", threats),
			_ways(input.plan.ways),
			least,
		]),
	}
}

_ways(0) := "no way out is"

_ways(n) := lib.many(n, "way out is", "ways out are") if n > 0

# METADATA
# title: Everyone finishes the first leg before the danger arrives
# description: >-
#   After the warning the household needs time to start, then the time of the first leg: on foot at
#   the pace of its slowest, as people walked in 2011, or riding. Children, those from 65 years on who are not in good
#   fitness, those in poor health and those who walk with an aid are slow. Judged where the time before a danger is written.
# custom:
#   level: error
#   remedy: Leave the goods, name a nearer point for the first leg, or let someone who is slow ride.
#   mend: {work: decide}
#   sources:
#     - "Survey of 1,877 survivors of the tsunami of 2011 by a ministry (2012): 2.65 km/h on average, 1.96 km/h with children or old people; seen second-hand"
#     - "Time to start and to climb, three minutes each: a Japanese prefecture's guide for tsunamis, seen second-hand"
#   limits: [hazard.start_min, hazard.pace, hazard.slow_pace, hazard.slow_below_months, load.elder_months, load.unfit]
#   caution: In a tsunami go on foot, at once, and leave everything that slows you. Nights are slower by a fifth.
#   passes: |
#     plan: {hazards: ["flood"], warning: "30 min", legs: one: {order: 1, distance: "500 m"}}
#   fails: |
#     plan: {hazards: ["flood"], warning: "10 min", legs: one: {order: 1, distance: "1 km"}}
finding.in_time contains f if {
	input.plan.warning_known
	leg := input.plan.legs[0]
	needed := lib.limit("hazard", "start_min") + _minutes(leg)
	short := needed - input.plan.warning_min
	short > 0
	f := {
		"at": leg.id,
		"because": ["plan/warning"],
		"text": sprintf("the danger arrives %s after the warning; starting and going the first leg takes %s%s: %s too long", [
			_time(input.plan.warning_min),
			_time(needed),
			_slowest(leg),
			_time(short),
		]),
		"level": _late_level,
	}
}

_minutes(leg) := leg.ride_min if leg.ridden

_minutes(leg) := lib.up(leg.distance_mm, _pace) if not leg.ridden

# In millimetres a minute.
_pace := lib.limit("hazard", "slow_pace") if _slow != []

_pace := lib.limit("hazard", "pace") if _slow == []

_slow := [p | some p in input.people; _is_slow(p)]

_is_slow(person) if lib.younger(person, lib.limit("hazard", "slow_below_months"))

_is_slow(person) if {
	lib.elder(person)
	person.fitness != "good"
}

_is_slow(person) if person.moves in {"cane", "frame", "crutches", "prosthesis", "wheelchair"}

_is_slow(person) if person.fitness in lib.limit("load", "unfit")

_slowest(leg) := sprintf(" with %s", [lib.names(_slow)]) if {
	not leg.ridden
	_slow != []
} else := ""

_late_level := "error" if "tsunami" in input.plan.hazards

_late_level := "warning" if not "tsunami" in input.plan.hazards

_time(min) := trim_prefix(lib.hours(min), "0 h ")

# METADATA
# title: Eyes are protected from ash and smoke
# description: >-
#   Ash and smoke hurt eyes, and contact lenses trap ash. If a volcano is a danger, each person old enough has goggles; if
#   a fire is, it is a note.
# custom:
#   level: warning
#   remedy: Pack closed goggles, such as for swimming or for work, and glasses in place of lenses.
#   mend: {work: add, get: goggles}
#   sources:
#     - "Volcanic ash: goggles, and glasses rather than contact lenses, as health authorities print it; seen second-hand"
#   limits: [hazard.eyes_months, people.bag_months]
#   lack: {what: goggles, unit: count}
#   caution: Goggles do not help you breathe. Leave early; a mask that fits filters ash, not gases.
#   passes: |
#     plan: hazards: ["volcano"]
#     people: ana: onBody: goggles: {mass: "60 g", can: protect: "goggles"}
#   fails: |
#     plan: hazards: ["volcano"]
finding.eyes contains f if {
	_smoky
	people := [p | some p in input.people; lib.at_least(p, lib.limit("hazard", "eyes_months"))]
	goggles := [o | some o in lib.offers("protect"); o.means == "goggles"]
	some part in lib.lacks(people, goggles, lib.unrecorded_means(lib.anybody, "protect", ["goggles"]))
	bare := {
		"at": lib.stands_of(part.lack.who),
		"because": [p.id | some p in part.lack.who],
		"text": sprintf("%s: %s", [_ash, lib.has_no(part.lack, "goggles", "pairs of goggles")]),
		"level": _eyes_level,
		"lack": part.lack.short,
	}
	f := lib.lack_part(bare, part)
}

_smoky if "volcano" in input.plan.hazards

_smoky if "fire" in input.plan.hazards

_ash := "ash" if "volcano" in input.plan.hazards

_ash := "smoke" if not "volcano" in input.plan.hazards

_eyes_level := "warning" if "volcano" in input.plan.hazards

_eyes_level := "note" if not "volcano" in input.plan.hazards

_pieces(means) := lib.pieces([o | some o in lib.offers("protect"); o.means == means])

# METADATA
# title: Heads are protected in a quake
# description: >-
#   Things fall in the first seconds and in aftershocks. If a quake is a danger, there is a helmet or a padded hood; one in
#   the household shows that it was thought of.
# custom:
#   level: note
#   remedy: Put a helmet, such as a bicycle helmet, or a padded hood by each bed.
#   mend: {work: add, get: helmet}
#   sources:
#     - "Himeji (Japan), list of what to take: helmet or disaster hood; seen on its own page"
#   limits: []
#   passes: |
#     plan: hazards: ["quake"]
#     people: ana: onBody: helmet: {mass: "300 g", can: protect: "helmet"}
#   fails: |
#     plan: hazards: ["quake"]
finding.quake_head contains f if {
	"quake" in input.plan.hazards
	_pieces("helmet") == 0
	bare := {
		"at": input.household.id,
		"text": "a quake is a danger here, and nobody has a helmet or a padded hood",
	}
	f := lib.lack_any(bare, lib.unrecorded_means(lib.anybody, "protect", ["helmet"]))
}

# METADATA
# title: The household can stay indoors after an industrial accident
# description: >-
#   After a release of gas or dust people stay indoors, shut windows and vents, and listen to the news. If such an accident
#   is a danger, the household has tape to seal a room and a radio for the news.
# custom:
#   level: note
#   remedy: Keep tape and plastic sheeting by an inner room, a radio with batteries, and water for a day.
#   mend: {work: add, get: sheeting and tape}
#   sources:
#     - "US Ready campaign: get inside, stay for 24 h, tune in; seen in a copy"
#     - "An emergency agency of Indiana: an upper inner room, plastic sheet and tape, vents off; seen on its own page"
#   limits: []
#   caution: "Stay out of the basement: gas sinks. Come out when you are told to; a sealed room is for a few hours."
#   passes: |
#     plan: hazards: ["industrial"]
#     packs: rust: compartments: lid: items: {tape: {mass: "80 g", can: repair: "tape"}, radio: {mass: "200 g", can: communicate: "receiver", radio: receives: ["am", "fm"]}}
#   fails: |
#     plan: hazards: ["industrial"]
finding.stay_in contains f if {
	"industrial" in input.plan.hazards
	some part in lib.parted(array.concat(_no_tape, _no_news), {
		_tape: lib.unrecorded_means(lib.anybody, "repair", ["tape"]),
		_news: lib.unrecorded_means(lib.anybody, "communicate", ["receiver"]),
	})
	bare := {
		"at": input.household.id,
		"text": sprintf("to stay indoors after an industrial accident the household has no %s", [concat(" and no ", part.keys)]),
	}
	f := lib.lack_any(bare, part.may)
}

_tape := "tape to seal a room"

_news := "radio for the news"

_no_tape := [_tape | lib.pieces([o | some o in lib.offers("repair"); o.means == "tape"]) == 0]

_no_news := [_news | not _hears]

_hears if {
	some radio in input.radios
	radio.receives != []
}
