package rules.base.fire

import data.lib

# METADATA
# title: Two means of fire in each pack
# description: >-
#   A lighter that leaks or a wet box of matches must not be the end of warmth,
#   hot food and boiled water. Two things that work the same way fail the same
#   way, so they count once. Packs borne by animals are not asked: an animal
#   cannot be counted on to stay.
# custom:
#   level: error
#   remedy: Add one thing that makes fire in another way, such as matches beside a gas lighter.
#   sources:
#     - "Two different means: common practice, no source"
#     - "US National Park Service, Ten Essentials (matches, lighter, starters), after Mountaineering: The Freedom of the Hills, 8th ed., 2010; seen second-hand"
#   limits: [fire.means]
#   caution: >-
#     Keep fire-making things out of a young child's reach; in a child's pack they are
#     for the adult alongside. Follow the maker's label and local fire rules.
#   passes: |
#     packs: rust: compartments: lid: items: {
#     	lighter: {mass: "20 g", can: fire: "gas-lighter"}
#     	matches: {mass: "15 g", can: fire: "matches"}
#     }
#   fails: |
#     packs: rust: compartments: lid: items: {
#     	lighter: {mass: "20 g", can: fire: "gas-lighter"}
#     	spare: {mass: "20 g", can: fire: "gas-lighter"}
#     }
finding.two_means contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	f := lib.too_few(pack, "fire", "fire", lib.limit("fire", "means"))
}
