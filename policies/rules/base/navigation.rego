package rules.base.navigation

import data.lib

# METADATA
# title: Maps of the country on the way
# description: >-
#   A town plan ends where the road is flooded and the path over the hill begins. Every
#   kind of country in the plan's settings is shown by some map on paper, whoever bears it;
#   a map on a screen needs cells and does not count. A map that does not say what it shows
#   cannot be counted and is named. Without settings nothing is asked.
# custom:
#   level: warning
#   remedy: Add a map of the missing country, or write under covers of your map what it shows.
#   mend: {work: add}
#   sources:
#     - "A local map: Ready.gov/FEMA, 2022, American Red Cross, 2020, and CAL FIRE, year not seen (with two routes); seen second-hand; NYC Emergency Management (of the region), year not seen, seen in a copy of its own page"
#     - "A map for each kind of country: common practice, no source"
#   limits: [navigation.mapped]
#   passes: |
#     plan: settings: ["woodland"]
#     packs: rust: compartments: lid: items: map: {mass: "60 g", documents: ["map"], covers: ["woodland", "town"]}
#   fails: |
#     plan: settings: ["woodland"]
#     packs: rust: compartments: lid: items: map: {mass: "60 g", documents: ["map"], covers: ["town"]}
finding.map_for_settings contains f if {
	input.household.pack_count > 0
	settings := [s | some s in input.plan.settings; s in lib.limit("navigation", "mapped")]
	maps := [p | some p in input.papers; p.map]
	shown := {c | some m in maps; some c in m.covers}
	missing := [s | some s in settings; not s in shown]
	count(missing) > 0
	f := {
		"at": "plan/settings",
		"because": [m.id | some m in maps],
		"text": sprintf("the household's maps show %d of the %d kinds of country planned for; missing: %s, %d too few%s", [
			count(settings) - count(missing),
			count(settings),
			lib.and_list(missing),
			count(missing),
			_unsaid(sort({m.name | some m in maps; m.covers == []})),
		]),
	}
}

_unsaid([]) := ""

_unsaid(names) := sprintf("; not written what it shows: %s", [lib.and_list(names)]) if names != []

# METADATA
# title: A compass off the streets
# description: >-
#   In smoke, fog, snow or trees every slope looks alike, and a map without a direction is
#   half a map. The household has a compass where the plan's settings name country without
#   street names. A phone or a satellite receiver needs cells and does not count.
# custom:
#   level: warning
#   remedy: Add a compass with a clear base plate, and practise with it and the map.
#   mend: {work: add, thing: navigate}
#   sources:
#     - "US National Park Service, Ten Essentials (map, compass, satellite receiver), year not seen; seen second-hand"
#     - "In which country: common practice, no source"
#   limits: [navigation.compass_settings]
#   passes: |
#     plan: settings: ["woodland"]
#     packs: rust: compartments: lid: items: compass: {mass: "30 g", can: navigate: "compass"}
#   fails: |
#     plan: settings: ["woodland"]
#     packs: rust: compartments: lid: items: phone: {mass: "190 g", can: navigate: "phone"}
finding.compass contains f if {
	input.household.pack_count > 0
	wild := [s | some s in input.plan.settings; s in lib.limit("navigation", "compass_settings")]
	count(wild) > 0
	[o | some o in lib.offers("navigate"); o.means == "compass"] == []
	f := {
		"at": input.household.id,
		"because": ["plan/settings"],
		"text": sprintf("the way leads through %s and the household has 0 compasses; 1 is asked: 1 too few", [lib.and_list(wild)]),
	}
}

# METADATA
# title: A map for each adult
# description: >-
#   Whoever is parted from the others needs the way as well. Each adult who bears a pack has a
#   map on paper in it or on the body. Children and people without a pack are not asked.
# custom:
#   level: note
#   remedy: Add a second map or a good copy for each adult named.
#   mend: {work: add, thing: navigate}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     packs: rust: compartments: lid: items: map: {mass: "60 g", documents: ["map"]}
#   fails: |
#     packs: rust: compartments: lid: items: compass: {mass: "30 g", can: navigate: "compass"}
finding.map_each contains f if {
	some person in input.people
	person.adult
	person.pack_count > 0
	[p | some p in input.papers; p.map; p.carrier == person.id] == []
	f := {
		"at": person.id,
		"text": sprintf("%s has 0 maps on paper; 1 is asked: 1 too few", [person.name]),
	}
}

# METADATA
# title: Meeting points
# description: >-
#   A family is seldom together when it must leave, and the first place agreed on may be
#   the one that is cut off: one near the home and one outside the neighbourhood. Not asked
#   of somebody who lives alone.
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
	people := input.household.people_count
	people > 1
	asked := lib.limit("navigation", "meetings")
	short := asked - input.plan.meeting_points
	short > 0
	f := {
		"at": "plan/meetingPoints",
		"text": sprintf("the plan of %s names %s; %d are asked: %d too few", [
			lib.people(people),
			lib.many(input.plan.meeting_points, "meeting point", "meeting points"),
			asked,
			short,
		]),
	}
}

# METADATA
# title: A contact far away
# description: >-
#   When everybody near is in the same flood, one person far away can take word from each
#   of you, and calls out of the area often get through when local ones do not. Somebody
#   who lives alone is asked too.
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
	short := asked - input.plan.contacts_out_of_area
	short > 0
	f := {
		"at": "plan/contacts",
		"text": sprintf("the plan has %s, %d of them far away; %d asked: %d too few", [
			lib.many(input.plan.contacts, "contact", "contacts"),
			input.plan.contacts_out_of_area,
			asked,
			short,
		]),
	}
}
