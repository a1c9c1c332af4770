package rules.base.signals_test

import data.lib.testing_test as t
import data.rules.base.signals

# Somebody of unknown age, a child at the age, two younger ones, and signals.
callers(offers) := {
	"people": [
		t.person({"id": "people/ben", "name": "Ben", "packs": [], "age_known": false, "age_months": 0}),
		t.person({"age_months": 60}),
		t.person({"id": "people/mia", "name": "Mia", "age_months": 59}),
		t.person({"id": "people/leo", "age_months": 12}),
	],
	"capabilities": [t.capability("signal", offers)],
}

bens := t.offer("whistle", {"id": "people/ben/onBody/whistle", "carrier": "people/ben", "reach": "on-body"})

test_whistle_each_one_each if {
	count(signals.finding.whistle_each) == 0 with input as callers([t.offer("whistle", {}), bens])
}

test_whistle_each_of_who_has_none if {
	signals.finding.whistle_each == {
		{"at": "people/ben", "text": "Ben has no whistle"},
		{"at": "packs/rust", "text": "Ana has no whistle"},
	} with input as callers([t.offer("mirror", {}), t.offer("mirror", {"carrier": "people/ben"})])
}

test_whistle_each_of_a_small_child_with_the_one_beside if {
	got := {f.at | some f in signals.finding.whistle_each} with input as callers([object.union(bens, {"count": 2})])
	got == set()
	one := {f.at | some f in signals.finding.whistle_each} with input as callers([bens])
	one == {"packs/rust"}
}

test_whistle_each_where_it_is_at_hand if {
	every reach in ["on-body", "walking"] {
		facts := callers([t.offer("whistle", {"id": "packs/rust/spare", "reach": "halted"}), t.offer("whistle", {"reach": reach}), bens])
		count(signals.finding.whistle_each) == 0 with input as facts
	}
}

test_whistle_each_packed_deep if {
	signals.finding.whistle_each == {{
		"at": "packs/rust/whistle",
		"level": "note",
		"because": ["packs/rust/whistle", "packs/rust/other"],
		"text": "Ana has to stop and unpack to reach a whistle",
	}} with input as callers([
		t.offer("whistle", {"reach": "halted"}),
		t.offer("whistle", {"id": "packs/rust/other", "reach": "halted"}),
		t.offer("mirror", {}),
		bens,
	])
}

sighted(plan, offers, items) := {
	"plan": t.plan(plan),
	"household": t.household({}),
	"capabilities": [t.capability("signal", offers)],
	"items": items,
}

test_seen_by_nothing if {
	signals.finding.seen == {{
		"at": "household",
		"text": "the plan leads through coast, and the household has nothing to be seen by (mirror, strobe, signal-panel, flare)",
	}} with input as sighted({"settings": ["coast", "town"]}, [t.offer("whistle", {})], [t.item({"visibility": "plain"})])
}

test_seen_with_each_visual_signal if {
	every means in ["mirror", "strobe", "signal-panel", "flare"] {
		count(signals.finding.seen) == 0 with input as sighted({"settings": ["snow"]}, [t.offer(means, {})], [])
	}
}

test_seen_with_bright_things if {
	every visibility in ["loud", "reflective"] {
		count(signals.finding.seen) == 0 with input as sighted({"settings": ["snow"]}, [], [t.item({"visibility": visibility})])
	}
}

test_seen_by_setting[setting] if {
	some setting, bad in {"town": 0, "woodland": 1, "desert": 1, "coast": 1, "snow": 1}
	count(signals.finding.seen) == bad with input as sighted({"settings": [setting]}, [], [])
}

test_seen_not_asked_of_a_low_profile if {
	count(signals.finding.seen) == 0 with input as sighted({"settings": ["snow"], "low_profile": true}, [], [])
}

test_seen_not_on_a_few_hundred_metres if {
	facts := sighted({"settings": ["snow"], "legs": [{}], "foot_mm": 500000}, [], [])
	count(signals.finding.seen) == 0 with input as facts
	count(signals.finding.seen) == 1 with input as object.union(facts, {"plan": {"foot_mm": 500001}})
}

test_whistle_each_not_recorded if {
	thing := t.unread(["signal", "signal:whistle"], {})
	{[f.at, t.level_of(f)] | some f in signals.finding.whistle_each} == {["packs/rust", "not recorded"], ["people/ben", ""]} with input as t.with_unread(callers([]), [thing])
	mirror := t.unread(["signal", "signal:mirror"], {})
	t.levels(signals.finding.whistle_each) == ["", ""] with input as t.with_unread(callers([]), [mirror])
}

# Also where a group gives a bag earlier.
test_whistle_each_not_below_the_age_with_a_bag if {
	facts := callers([t.offer("whistle", {}), bens])
	count(signals.finding.whistle_each) == 0 with input as facts with data.limits.base.people.bag_months.value as 12
}

# Contacts, a wallet in a pocket, and what there is to call with.
calling(capability, means, more) := object.union(
	{
		"household": t.household({}),
		"plan": t.plan({"contacts": 1}),
		"people": [t.person({})],
		"papers": [t.paper({}), t.paper({"pack": "", "documents": ["identity"]})],
		"capabilities": [t.capability(capability, [t.offer(m, {}) | some m in means])],
		"useless": [],
	},
	more,
)

test_phone if {
	signals.finding.phone == {{
		"at": "packs/rust",
		"because": ["plan/contacts"],
		"text": "contacts are recorded, and nobody has a phone to call them with",
	}} with input as calling("communicate", ["receiver"], {})
	{f.at | some f in signals.finding.phone} == {"household"} with input as calling("signal", ["whistle"], {"people": [t.person({}), t.person({"id": "people/ben"})]})
	count(signals.finding.phone) == 1 with input as calling("communicate", [], {"useless": [{"item": "packs/rust/radio", "means": "receiver"}]})
	every thing in [t.unread(["communicate", "communicate:phone"], {}), t.unread(["signal", "signal:beacon"], {})] {
		t.levels(signals.finding.phone) == ["not recorded"] with input as t.with_unread(calling("communicate", [], {}), [thing])
	}
	t.levels(signals.finding.phone) == [""] with input as t.with_unread(calling("communicate", [], {}), [t.unread(["signal", "signal:whistle"], {})])
}

test_phone_silent[why] if {
	some why, facts in {
		"a phone": calling("communicate", ["phone"], {}),
		"a two-way radio": calling("communicate", ["radio"], {}),
		"a beacon": calling("signal", ["beacon"], {}),
		"an empty phone": calling("communicate", [], {"useless": [{"item": "packs/rust/phone", "means": "phone"}]}),
		"no contacts": calling("communicate", [], {"plan": {"contacts": 0}}),
		"nothing of pockets": calling("communicate", [], {"papers": [t.paper({})]}),
	}
	count(signals.finding.phone) == 0 with input as facts
}
