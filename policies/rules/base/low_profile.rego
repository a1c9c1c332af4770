package rules.base.low_profile

import data.lib

# METADATA
# title: No pack can be seen from afar
# description: >-
#   A family that wishes to draw no eyes is picked out by one bright pack. Colours are
#   compared as they are written: a colour that is called loud, or one with a word such as
#   bright or neon in it. Judged only where the plan wants a low profile. It works against
#   being seen on a road and being found: children's packs are therefore left out, and
#   nothing here asks reflectors away.
# custom:
#   level: warning
#   remedy: Put a dull cover over it, keeping the bright colour for when you want to be found, or give up the low profile.
#   mend: {work: add}
#   sources:
#     - "Colours that draw eyes: common practice, no source"
#     - "A lost child should be easy to see from afar: Hug-A-Tree and Survive; year not seen; seen in copies"
#   limits: [low_profile.loud, low_profile.glaring]
#   caution: On a road, in the hunting season and while rescuers search, being seen comes first.
#   passes: |
#     plan: lowProfile: true
#     packs: rust: colours: ["slate blue"]
#   fails: |
#     plan: lowProfile: true
#     packs: rust: colours: ["orange"]
finding.loud_pack contains f if {
	input.plan.low_profile
	some pack in input.packs
	pack.carrier_adult
	loud := [colour | some colour in pack.colours; _loud(lower(colour))]
	loud != []
	f := {
		"at": sprintf("%s/colours", [pack.id]),
		"text": sprintf("%s is seen from afar (%s) and the plan wants a low profile", [pack.name, lib.and_list(loud)]),
	}
}

_loud(colour) if colour in lib.limit("low_profile", "loud")

_loud(colour) if {
	some word in lib.limit("low_profile", "glaring")
	contains(colour, word)
}

# METADATA
# title: No pack looks official
# description: >-
#   A pack in the style of police, rescue or army draws people who need help, and thieves.
#   Judged only where the plan wants a low profile, of every pack with a style written. A
#   rescuer who wants to be known for one will not want a low profile.
# custom:
#   level: warning
#   remedy: Take off badges and panels, cover the pack, or use one that looks like everybody's.
#   mend: {work: leave}
#   sources:
#     - "common practice, no source"
#   limits: [low_profile.styles]
#   caution: For marks and clothes of an official service, check local law.
#   passes: |
#     plan: lowProfile: true
#     packs: rust: style: "outdoor"
#   fails: |
#     plan: lowProfile: true
#     packs: rust: style: "service"
finding.service_style contains f if {
	input.plan.low_profile
	some pack in input.packs
	pack.style in lib.limit("low_profile", "styles")
	f := {
		"at": sprintf("%s/style", [pack.id]),
		"text": sprintf("%s is of %s style and the plan wants a low profile", [pack.name, pack.style]),
	}
}

# METADATA
# title: No loud item is on show
# description: >-
#   What is worn or taken out while walking is seen. Judged only where the plan wants a low
#   profile, of things marked loud that are worn or reached while walking. Left out is what
#   signals for help and what a child has: a child should be seen. What is marked
#   reflective never counts against a pack, for the sake of roads at night.
# custom:
#   level: note
#   remedy: Pack it where it is reached when halted, or exchange it for a plain one.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#     - "A lost child should be easy to see from afar: Hug-A-Tree and Survive; year not seen; seen in copies"
#   limits: []
#   caution: On a road, in the hunting season and while rescuers search, being seen comes first.
#   passes: |
#     plan: lowProfile: true
#     packs: rust: compartments: lid: items: jacket: {mass: "300 g", visibility: "plain", can: rain: "jacket"}
#   fails: |
#     plan: lowProfile: true
#     packs: rust: compartments: lid: items: jacket: {mass: "300 g", visibility: "loud", can: rain: "jacket"}
finding.loud_item contains f if {
	input.plan.low_profile
	some item in input.items
	item.visibility == "loud"
	item.reach != "halted"
	item.count > 0
	not "signal" in item.can
	not item.carrier in _children
	f := {
		"at": sprintf("%s/visibility", [item.id]),
		"text": sprintf("%s is loud and is worn or reached while walking, and the plan wants a low profile", [item.name]),
	}
}

_children := {person.id | some person in input.people; not person.adult}

# METADATA
# title: No item makes noise while walking
# description: >-
#   A cup that rings at each step is heard further than a voice. Judged only where the plan
#   wants a low profile, of things marked noisy, wherever they are.
# custom:
#   level: note
#   remedy: Wrap it in cloth, tie it down or fill it, and take the mark away.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     plan: lowProfile: true
#     packs: rust: compartments: lid: items: cup: {mass: "80 g", can: eat: "cup"}
#   fails: |
#     plan: lowProfile: true
#     packs: rust: compartments: lid: items: cup: {mass: "80 g", noisy: true, can: eat: "cup"}
finding.noise contains f if {
	input.plan.low_profile
	some item in input.items
	item.noisy
	item.count > 0
	f := {
		"at": sprintf("%s/noisy", [item.id]),
		"text": sprintf("%s sounds at each step, and the plan wants a low profile", [item.name]),
	}
}
