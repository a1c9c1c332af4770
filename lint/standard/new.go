package standard

import "strings"

// New gives the files that a group's standard starts from, by path: one limit, one rule, its test. The name is a
// standard's name; base the version of the base that it is written for.
func New(name, base string) map[string][]byte {
	title := strings.ToUpper(name[:1]) + strings.ReplaceAll(name[1:], "-", " ")
	fill := strings.NewReplacer("NAME", name, "ID", id(name), "TITLE", title, "BASE", base)
	out := map[string][]byte{}
	for file, text := range map[string]string{
		"standard.cue":            newStandard,
		"cue.mod/module.cue":      newModule,
		"rules/ID/bulk.rego":      newRule,
		"rules/ID/bulk_test.rego": newTest,
	} {
		out[fill.Replace(file)] = []byte(fill.Replace(text))
	}
	return out
}

const newStandard = `package standard

name:        "NAME"
version:     "0.1.0"
needs:       "BASE"
title:       "TITLE"
description: "What our group requires of its households beyond the base standard."

limits: bulk: most: {
	value:    "25 kg"
	unit:     "mg"
	stricter: "lower"
	meaning:  "most mass of one pack, no matter who carries it"
	source:   "common practice, no source"
}
`

const newModule = `module: "standards.example/NAME@v0"
language: {
	version: "v0.17.0"
}
`

const newRule = `package rules.ID.bulk

import data.lib

# METADATA
# title: Each pack is light enough to lift over an obstacle
# description: >-
#   Someone has to lift each pack over a wall or into a vehicle, no matter who carries
#   it. The cap on body weight in the base does not see that.
# custom:
#   level: warning
#   remedy: Move things to another pack, or leave some behind.
#   mend: {work: move}
#   sources:
#     - "common practice, no source"
#   limits: [bulk.most]
#   passes: |
#     packs: rust: compartments: lid: items: stores: {mass: "24 kg"}
#   fails: |
#     packs: rust: compartments: lid: items: stores: {mass: "25 kg"}
finding.too_heavy contains f if {
	some pack in input.packs
	most := lib.limit_of(data.limits.ID, "bulk", "most")
	pack.mass_mg > most
	f := {
		"at": pack.mass_id,
		"text": sprintf("pack “%s” weighs %s; one pack may weigh %s at most: over by %s", [
			pack.name,
			lib.mass(pack.mass_mg),
			lib.mass(most),
			lib.mass(pack.mass_mg - most),
		]),
	}
}
`

const newTest = `package rules.ID.bulk_test

import data.rules.ID.bulk

pack(mass) := {"id": "packs/rust", "name": "Rust", "mass_id": "packs/rust/mass", "mass_mg": mass}

test_too_heavy_at_the_limit if {
	count(bulk.finding.too_heavy) == 0 with input as {"packs": [pack(25000000)]}
}

test_too_heavy_a_milligram_over if {
	bulk.finding.too_heavy == {{
		"at": "packs/rust/mass",
		"text": "pack “Rust” weighs 25.00 kg; one pack may weigh 25.00 kg at most: over by 1 mg",
	}} with input as {"packs": [pack(25000001)]}
}

test_too_heavy_when_a_household_is_stricter if {
	count(bulk.finding.too_heavy) == 1 with input as {
		"packs": [pack(25000000)],
		"limits": [{"area": "bulk", "name": "most", "list": false, "value": 20000000, "values": []}],
	}
}
`
