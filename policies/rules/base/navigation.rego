package rules.base.navigation

import data.lib

# METADATA
# title: Paper maps cover all the planned country
# description: >-
#   A town plan ends where the road is flooded and the path over the hill begins. Paper maps, packed by anyone, cover every
#   kind of country in the plan's settings; a map on a screen needs batteries and does not count. If a map's coverage is
#   not recorded, or the way is short and well known, it is a note. Without settings nothing is judged.
# custom:
#   level: warning
#   remedy: Add a map of the missing country, or write what your map shows under covers.
#   mend: {work: add, get: paper map}
#   sources:
#     - "A local map: Ready.gov/FEMA, 2022, American Red Cross, 2020, and CAL FIRE, year not seen (with two routes); seen second-hand; NYC Emergency Management (of the region), year not seen, seen in a copy of its own page"
#     - "A map for each kind of country, and the known way: common practice, no source"
#   limits: [navigation.mapped, navigation.known_way]
#   passes: |
#     plan: settings: ["woodland"]
#     packs: rust: compartments: lid: items: map: {mass: "60 g", documents: ["map"], covers: ["woodland", "town"]}
#   fails: |
#     plan: settings: ["woodland"]
#     packs: rust: compartments: lid: items: map: {mass: "60 g", documents: ["map"], covers: ["town"]}
finding.map_for_settings contains f if {
	_unmapped != []
	bare := {
		"at": array.concat([m.id | some m in _uncovered], ["plan/settings"])[0],
		"because": [m.id | some m in _maps],
		"text": sprintf("no map is recorded as covering %s%s", [lib.and_list(_unmapped), _unsaid]),
		"level": _map_level,
	}
	f := lib.lack_any(bare, _may_be_map(lib.anybody))
}

_may_be_map(ids) := lib.unrecorded_means(ids, "documents", ["map"])

_maps := [p | some p in input.papers; p.map]

_unmapped := [s |
	some s in input.plan.settings
	s in lib.limit("navigation", "mapped")
	not s in {c | some m in _maps; some c in m.covers}
]

# Maps that may show it, as what they show is not recorded.
_uncovered := [m | some m in _maps; m.covers == []]

_unsaid := "" if _uncovered == []

_unsaid := sprintf("; what is covered is not recorded: %s", [lib.names(_uncovered)]) if _uncovered != []

default _map_level := "warning"

_map_level := "note" if _uncovered != []

_map_level := "note" if {
	input.plan.distance_mm > 0
	input.plan.distance_mm <= lib.limit("navigation", "known_way")
}

# METADATA
# title: A compass is packed for country without streets
# description: >-
#   In smoke, fog, snow or trees every slope looks alike, and a map without a direction is half a map. The household needs a
#   compass if the plan's settings name country without street names: a warning if a leg leaves road and path, else a note.
#   A phone or a satellite receiver needs batteries and does not count, and who rides all the way goes by the road. While a map is missing,
#   navigation/map-for-settings comes first.
# custom:
#   level: warning
#   remedy: Add a compass with a clear base plate, and practise with it and the map.
#   mend: {work: add, thing: navigate, get: compass}
#   sources:
#     - "US National Park Service, Ten Essentials (map, compass, satellite receiver), year not seen; seen second-hand"
#     - "In which country and on which ground: common practice, no source"
#   limits: [navigation.mapped, navigation.compass_settings, navigation.compass_ground, load.near_foot_mm]
#   passes: |
#     plan: settings: ["woodland"]
#     packs: rust: compartments: lid: items: {
#     	map: {mass: "60 g", documents: ["map"], covers: ["woodland"]}
#     	compass: {mass: "30 g", can: navigate: "compass"}
#     }
#   fails: |
#     plan: settings: ["woodland"]
#     packs: rust: compartments: lid: items: map: {mass: "60 g", documents: ["map"], covers: ["woodland"]}
finding.compass contains f if {
	_unmapped == []
	wild := [s | not lib.near; some s in input.plan.settings; s in lib.limit("navigation", "compass_settings")]
	trackless := [leg.id | some leg in input.plan.legs; leg.ground in lib.limit("navigation", "compass_ground")]
	array.concat(wild, trackless) != []
	[o | some o in lib.offers("navigate"); o.means == "compass"] == []
	bare := {
		"at": input.household.id,
		"because": array.concat(["plan/settings"], trackless),
		"text": sprintf("the way goes %s, and the household has no compass", [_where(wild)]),
		"level": _off_road(trackless),
	}
	f := lib.lack_any(bare, lib.unrecorded_means(lib.anybody, "navigate", ["compass"]))
}

_where([]) := "off road and path"

_where(wild) := sprintf("through %s", [lib.and_list(wild)]) if wild != []

_off_road([]) := "note"

_off_road(legs) := "warning" if legs != []

# METADATA
# title: Each adult has a paper map
# description: >-
#   An adult who is separated from the others has to find the way too. Each adult, or a person who is always beside them,
#   carries a paper map. While a map is missing, navigation/map-for-settings comes first.
# custom:
#   level: note
#   remedy: Add a second map or a good copy for each adult named.
#   mend: {work: add, thing: navigate, get: paper map}
#   sources:
#     - "common practice, no source"
#   limits: [navigation.mapped, people.bag_months]
#   passes: |
#     packs: rust: compartments: lid: items: map: {mass: "60 g", documents: ["map"]}
#   fails: |
#     packs: rust: compartments: lid: items: compass: {mass: "30 g", can: navigate: "compass"}
finding.map_each contains f if {
	_unmapped == []
	who := [person |
		some person in input.people
		person.adult
		[m | some m in _maps; m.carrier in lib.beside(person)] == []
	]
	some part in lib.parted_people(who, {person.id: _may_be_map(lib.beside(person)) | some person in who})
	bare := {
		"at": lib.stands_of(part.people),
		"because": [person.id | some person in part.people],
		"text": sprintf("no paper map: %s", [lib.names(part.people)]),
	}
	f := lib.lack_any(bare, part.may)
}

# METADATA
# title: The plan names its meeting points
# description: >-
#   A family is seldom together when it must leave, and the first place agreed on may be cut off. So agree on one near the
#   home and one outside the neighbourhood. Someone who lives alone needs none.
# custom:
#   level: warning
#   remedy: Agree on the missing places, write them under meetingPoints of the plan, and walk to each once.
#   mend: {work: decide}
#   sources:
#     - "common practice, no source"
#   limits: [navigation.meetings]
#   passes: |
#     people: ben: {age: "42 y", bodyMass: "80 kg"}
#     plan: meetingPoints: {near: where: "the oak at the corner", far: where: "the school on the hill"}
#   fails: |
#     people: ben: {age: "42 y", bodyMass: "80 kg"}
#     plan: meetingPoints: near: where: "the oak at the corner"
finding.meeting_points contains f if {
	input.household.people_count > 1
	asked := lib.limit("navigation", "meetings")
	input.plan.meeting_points < asked
	f := {
		"at": "plan/meetingPoints",
		"text": sprintf("the plan names %s and needs %d", [_count(input.plan.meeting_points, "meeting point", "meeting points"), asked]),
	}
}

# METADATA
# title: The plan names an out-of-area contact
# description: >-
#   When everyone near is in the same flood, one person far away can pass messages on, and calls out of the area often get
#   through when local ones do not. Someone who lives alone needs one too.
# custom:
#   level: warning
#   remedy: Ask a relative or friend who lives far away, write them under contacts of the plan as outOfArea, and put the number on paper.
#   mend: {work: decide}
#   sources:
#     - "common practice, no source"
#   limits: [navigation.out_of_area]
#   passes: |
#     plan: contacts: aunt: {name: "an aunt", outOfArea: true}
#   fails: |
#     plan: contacts: neighbour: {name: "the neighbour"}
finding.out_of_area contains f if {
	input.household.people_count > 0
	asked := lib.limit("navigation", "out_of_area")
	input.plan.contacts_out_of_area < asked
	f := {
		"at": "plan/contacts",
		"text": sprintf("the plan names %s far away and needs %d", [_count(input.plan.contacts_out_of_area, "contact", "contacts"), asked]),
	}
}

_count(0, one, _) := sprintf("no %s", [one])

_count(n, one, more) := lib.many(n, one, more) if n > 0
