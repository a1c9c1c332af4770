package rules.base.signals_test

import data.lib.testing_test as t
import data.rules.base.signals

# Somebody of unknown age, a child at the age, three younger ones, and signals.
callers(offers) := {
	"household": t.household({"pack_count": 1}),
	"people": [
		t.person({"id": "people/ben", "age_known": false, "age_months": 0}),
		t.person({"age_months": 60}),
		t.person({"id": "people/mia", "age_months": 59}),
		t.person({"id": "people/leo", "age_months": 12}),
		t.person({"id": "people/kim", "age_months": 6}),
	],
	"capabilities": [t.capability("signal", offers)],
}

test_whistle_each_at_the_limit if {
	count(signals.finding.whistle_each) == 0 with input as callers([t.offer("whistle", {"count": 2})])
}

test_whistle_each_one_too_few if {
	signals.finding.whistle_each == {{
		"at": "household",
		"because": ["packs/rust/whistle"],
		"text": "the household has 1 whistle for 2 people from the age of 5 years on; one each is asked: 1 too few",
	}} with input as callers([t.offer("whistle", {}), t.offer("mirror", {})])
}

test_whistle_each_without_any if {
	signals.finding.whistle_each == {{
		"at": "household",
		"because": [],
		"text": "the household has 0 whistles for 2 people from the age of 5 years on; one each is asked: 2 too few",
	}} with input as callers([])
}

test_whistle_each_not_asked_without_packs if {
	facts := object.union(callers([]), {"household": t.household({"pack_count": 0})})
	count(signals.finding.whistle_each) == 0 with input as facts
}

test_whistle_reach_where_it_is_at_hand if {
	every reach in ["on-body", "walking"] {
		facts := callers([t.offer("whistle", {"id": "packs/rust/spare", "reach": "halted"}), t.offer("whistle", {"reach": reach})])
		count(signals.finding.whistle_reach) == 0 with input as facts
	}
}

test_whistle_reach_where_it_is_packed_deep if {
	signals.finding.whistle_reach == {{
		"at": "people/ana",
		"because": ["packs/rust/whistle"],
		"text": "Ana has 1 whistle, none on the body or in reach while walking; 1 is asked there: 1 too few",
	}} with input as callers([t.offer("whistle", {"reach": "halted"})])
}

test_whistle_reach_of_two_packed_deep if {
	signals.finding.whistle_reach == {{
		"at": "people/ana",
		"because": ["packs/rust/whistle", "packs/rust/other"],
		"text": "Ana has 3 whistles, none on the body or in reach while walking; 1 is asked there: 1 too few",
	}} with input as callers([t.offer("whistle", {"reach": "halted"}), t.offer("whistle", {"id": "packs/rust/other", "count": 2, "reach": "halted"})])
}

test_whistle_reach_of_another_carrier_does_not_help if {
	signals.finding.whistle_reach == {{
		"at": "people/ana",
		"because": ["packs/rust/whistle"],
		"text": "Ana has 1 whistle, none on the body or in reach while walking; 1 is asked there: 1 too few",
	}} with input as callers([t.offer("whistle", {"reach": "halted"}), t.offer("whistle", {"id": "packs/moss/whistle", "carrier": "people/ben"})])
}

test_whistle_reach_of_other_signals_does_not_help if {
	count(signals.finding.whistle_reach) == 1 with input as callers([t.offer("whistle", {"reach": "halted"}), t.offer("mirror", {})])
}

test_whistle_reach_not_asked_without_a_whistle if {
	count(signals.finding.whistle_reach) == 0 with input as callers([t.offer("mirror", {"reach": "halted"})])
}

test_seen_with_each_visual_signal if {
	every means in ["mirror", "strobe", "signal-panel", "flare"] {
		count(signals.finding.seen) == 0 with input as {"packs": [t.pack_with([t.can("signal", ["beacon", means])])]}
	}
}

test_seen_by_nothing if {
	signals.finding.seen == {{
		"at": "packs/rust",
		"because": ["packs/rust/beacon", "packs/rust/whistle"],
		"text": "Rust has nothing to be seen by (mirror, strobe, signal-panel, flare); 1 is asked: 1 too few",
	}} with input as {"packs": [t.pack_with([t.can("signal", ["beacon", "whistle"])])]}
}

test_seen_not_asked_of_animals if {
	count(signals.finding.seen) == 0 with input as {"packs": [t.pack({"carrier_kind": "animal"})]}
}

test_whistle_each_not_recorded if {
	thing := {"id": "packs/rust/key", "name": "whistle", "pack": "packs/rust", "carrier": "people/ana", "may": ["signal", "signal:whistle"], "count": 1}
	facts := object.union(callers([t.offer("whistle", {})]), {"unrecorded": [thing]})
	[f.level | some f in signals.finding.whistle_each] == ["note"] with input as facts

	# Of two that are missing, one is missing for certain.
	certain := object.union(callers([]), {"unrecorded": [thing]})
	[f | some f in signals.finding.whistle_each; f.level] == [] with input as certain
}
