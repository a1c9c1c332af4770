package rules.base.shelter_test

import data.lib.testing_test as t
import data.rules.base.shelter

test_each_pack_at_the_limit if {
	count(shelter.finding.each_pack) == 0 with input as {"packs": [t.pack_with([t.can("shelter", ["tarp"])])]}
}

test_each_pack_one_too_few if {
	shelter.finding.each_pack == {{
		"at": "packs/rust",
		"because": [],
		"text": "Rust has no means of shelter; 1 is asked: 1 too few",
		"lack": 1,
	}} with input as {"packs": [t.pack_with([t.can("warmth", ["quilt"])])]}
}

test_each_pack_not_asked_of_animals if {
	count(shelter.finding.each_pack) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}

night(mc, insulation) := {
	"plan": t.plan({"night_mc": mc}),
	"household": t.household({}),
	"insulation": insulation,
}

rated(kind, comfort_mc) := t.insulation(kind, {"comfort_known": true, "comfort_mc": comfort_mc})

test_night_warmth_at_the_limit if {
	count(shelter.finding.night_warmth) == 0 with input as night(15000, [rated("quilt", 15000), rated("blanket", 14999)])
}

test_night_warmth_one_too_few if {
	shelter.finding.night_warmth == {{
		"at": "household",
		"because": ["packs/rust/quilt", "packs/rust/blanket", "packs/rust/sleeping-bag"],
		"text": "nights are 4 °C and of the household's 6 things to sleep in 1 is warm enough, 2 are too thin and 3 have no comfort figure; 2 people: 1 too few",
	}} with input as night(4000, [
		rated("quilt", 4000),
		object.union(rated("blanket", 4001), {"count": 2}),
		t.insulation("sleeping-bag", {"count": 3, "comfort_mc": 4000}),
		rated("jacket", 0),
	])
}

test_night_warmth_on_the_warmest_night if {
	shelter.finding.night_warmth == {{
		"at": "household",
		"because": ["packs/rust/quilt"],
		"text": "nights are 15 °C and of the household's 1 thing to sleep in 1 is warm enough, 0 are too thin and 0 have no comfort figure; 2 people: 1 too few",
	}} with input as night(15000, [rated("quilt", 15000)])
}

# A figure that nobody wrote is neither warm nor thin, though the facts hold a zero for it.
test_night_warmth_without_a_figure_in_frost if {
	some f in shelter.finding.night_warmth with input as night(-5000, [t.insulation("quilt", {})])
	contains(f.text, "0 are warm enough, 0 are too thin and 1 has no comfort figure")
}

test_night_warmth_at_a_frost[what] if {
	some what, mc in {"0 °C": 0, "-6.5 °C": -6500, "0.001 °C": 1, "-0.001 °C": -1}
	some f in shelter.finding.night_warmth with input as night(mc, [])
	startswith(f.text, sprintf("nights are %s and ", [what]))
}

test_night_warmth_each_kind[kind] if {
	some kind, short in {
		"sleeping-bag": 0,
		"quilt": 0,
		"blanket": 0,
		"pad": 1,
		"jacket": 1,
	}
	facts := night(4000, [object.union(rated(kind, 0), {"count": 2})])
	count(shelter.finding.night_warmth) == short with input as facts
}

test_night_warmth_not_asked_when_warmer_or_without_a_season if {
	count(shelter.finding.night_warmth) == 0 with input as night(15001, [])
	facts := object.union(night(15000, []), {"plan": {"season_known": false}})
	count(shelter.finding.night_warmth) == 0 with input as facts
}

test_night_warmth_not_asked_without_people if {
	facts := object.union(night(4000, []), {"household": {"people_count": 0}})
	count(shelter.finding.night_warmth) == 0 with input as facts
}

lying(mc, pads) := object.union(night(mc, []), {"capabilities": [t.capability("ground", pads)]})

test_ground_at_the_limit if {
	count(shelter.finding.ground) == 0 with input as lying(10000, [t.offer("foam-pad", {}), t.offer("air-pad", {})])
}

test_ground_one_too_few if {
	shelter.finding.ground == {{
		"at": "household",
		"because": ["packs/rust/air-pad"],
		"text": "nights are 10 °C and the household has 1 pad to lie on; 2 people: 1 too few",
	}} with input as lying(10000, [t.offer("air-pad", {}), t.offer("sit-pad", {})])
}

test_ground_each_means[means] if {
	some means, short in {"foam-pad": 0, "air-pad": 0, "sit-pad": 1}
	count(shelter.finding.ground) == short with input as lying(10000, [t.offer(means, {"count": 2})])
}

test_ground_not_asked_when_warmer_or_without_a_season if {
	count(shelter.finding.ground) == 0 with input as lying(10001, [])
	facts := object.union(lying(10000, []), {"plan": {"season_known": false}})
	count(shelter.finding.ground) == 0 with input as facts
}

test_ground_not_asked_without_people if {
	facts := object.union(lying(4000, []), {"household": {"people_count": 0}})
	count(shelter.finding.ground) == 0 with input as facts
}
