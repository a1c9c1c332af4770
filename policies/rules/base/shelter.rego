package rules.base.shelter

import data.lib

# METADATA
# title: Shelter in each pack
# description: >-
#   Rain and wind take warmth faster than cold alone, and whoever is left with one
#   pack must still be able to stay dry for a night. Packs borne by animals are not asked.
# custom:
#   level: error
#   remedy: Add something that keeps rain and wind off, such as a tarp, a bivy bag or an emergency blanket.
#   sources:
#     - "US National Park Service, Ten Essentials (tent, space blanket, tarp, bivy), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#     - "American Red Cross, survival kit list (emergency blanket), 2020; seen second-hand"
#   limits: [shelter.means]
#   caution: Never burn a stove, a lantern or coal inside a shelter; carbon monoxide kills without a smell.
#   passes: |
#     packs: rust: compartments: lid: items: tarp: {mass: "400 g", can: shelter: "tarp"}
#   fails: |
#     packs: rust: compartments: lid: items: quilt: {mass: "800 g", can: warmth: "quilt"}
finding.each_pack contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	f := lib.too_few(pack, "shelter", "shelter", lib.limit("shelter", "means"))
}
