package rules.base.low_profile

import data.lib

# METADATA
# title: No pack can be seen from afar
# description: >-
#   One bright pack gives away a family that wants to stay unseen. Colours are compared as they are written: a loud colour,
#   or one with a word such as bright or neon in it. Judged only if the plan wants a low profile. A low profile works
#   against being seen on a road and being found, so children's packs are left out, and nothing here speaks against
#   reflectors.
# custom:
#   level: warning
#   remedy: Put a dull cover over it and keep the bright colour for when you want to be found, or give up the low profile.
#   mend: {work: add, get: pack or cover that is not seen from afar}
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
		"text": sprintf("pack “%s” can be seen from afar (%s), and the plan wants a low profile", [pack.name, lib.and_list(loud)]),
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
#   A pack in the style of police, rescue or army draws people who need help, and thieves. Judged only if the plan wants a
#   low profile, for every pack with a recorded style.
# custom:
#   level: warning
#   remedy: Take off badges and panels, cover the pack, or use an ordinary one.
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
		"text": sprintf("pack “%s” is in the %s style, and the plan wants a low profile", [pack.name, pack.style]),
	}
}

# METADATA
# title: No loud item is on show
# description: >-
#   What is worn or taken out while walking is seen. Judged only if the plan wants a low profile, for items marked loud that
#   are worn or within reach while walking. Signals for help are left out, and so is what a child has: a child should be
#   seen. Reflective items never count against a pack, for the sake of roads at night.
# custom:
#   level: note
#   remedy: Pack it where only a halt reaches it, or replace it with a plain one.
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
		"text": sprintf("%s is loud and worn or within reach while walking, and the plan wants a low profile", [item.name]),
	}
}

_children := {person.id | some person in input.people; not person.adult}

# METADATA
# title: No item makes noise while walking
# description: >-
#   A cup that rings at each step is heard farther than a voice. Judged only if the plan wants a low profile, for items
#   marked noisy, wherever they are.
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
		"text": sprintf("%s makes noise at each step, and the plan wants a low profile", [item.name]),
	}
}
