package rules.base.light

import data.lib

# METADATA
# title: A light in each pack
# description: >-
#   Floods and fires do not wait for daylight, and who walks apart from the others
#   needs a light of their own. Packs borne by animals are not asked.
# custom:
#   level: error
#   remedy: Add a headlamp or a torch to the pack.
#   sources:
#     - "City of Himeji (Japan), disaster kit page: one torch each if possible; year not seen; seen in a copy of the city's page"
#     - "A light is on every household list read: Ready.gov/FEMA 2022 (second-hand), NYC Emergency Management (copy of its own page), Prepare (UK) 2024 (second-hand)"
#   limits: [light.means]
#   passes: |
#     packs: rust: compartments: lid: items: lamp: {mass: "80 g", can: light: "headlamp"}
#   fails: |
#     packs: rust: compartments: lid: items: map: {mass: "60 g", can: navigate: "map"}
finding.each_pack contains f if {
	some pack in input.packs
	pack.carrier_kind == "person"
	f := lib.too_few(pack, "light", "light", lib.limit("light", "means"))
}
