package rules.base.dates_test

import data.lib.testing_test as t
import data.rules.base.dates

dated(medicine, left) := {
	"plan": t.plan({}),
	"dates": [t.date({"medicine": medicine, "on": "2026-10-31", "days_left": left})],
}

test_expired_on_its_last_day if {
	count(dates.finding.expired) == 0 with input as dated(false, 0)
}

test_expired_a_day_later if {
	dates.finding.expired == {{
		"at": "packs/rust/bars/expires",
		"text": "Bars: good until 2026-10-31, 1 day ago",
		"level": "warning",
	}} with input as dated(false, -1)
}

test_expired_not_asked_of_medicines if {
	count(dates.finding.expired) == 0 with input as dated(true, -1)
}

test_expired_level if {
	cases := [
		["error", {"infant": true, "days_left": -1}],
		["error", {"infant": true, "canned": true, "days_left": -1}],
		["note", {"canned": true, "days_left": -1}],
		["note", {"canned": true, "days_left": -365}],
		["warning", {"canned": true, "days_left": -366}],
		["warning", {"canned": true, "kind": "opened", "days_left": -1}],
	]
	every c in cases {
		[f.level | some f in dates.finding.expired] == [c[0]] with input as {"dates": [t.date(c[1])]}
	}
}

test_expires_within_at_the_limit if {
	count(dates.finding.expires_within) == 0 with input as dated(false, 60)
}

test_expires_within_one_too_few if {
	dates.finding.expires_within == {{
		"at": "packs/rust/bars/expires",
		"text": "Bars: good until 2026-10-31, in 59 days; at least 60 days must remain",
	}} with input as dated(false, 59)
}

# What was opened or left the cold is named in its last week only.
test_expires_within_of_what_never_lasts_long if {
	every kind in ["opened", "out-of-cold"] {
		count(dates.finding.expires_within) == 0 with input as {"plan": t.plan({}), "dates": [t.date({"kind": kind, "days_left": 7})]}
		count(dates.finding.expires_within) == 1 with input as {"plan": t.plan({}), "dates": [t.date({"kind": kind, "days_left": 6})]}
	}
}

test_expires_within_on_the_last_day if {
	count(dates.finding.expires_within) == 1 with input as dated(false, 0)
}

# A medicine's day within the plan of three days is that of medication/within-plan, but for a day of exchange.
test_expires_within_of_medicines if {
	count(dates.finding.expires_within) == 0 with input as dated(true, 2)
	count(dates.finding.expires_within) == 1 with input as dated(true, 3)
	count(dates.finding.expires_within) == 1 with input as {
		"plan": t.plan({}),
		"dates": [t.date({"medicine": true, "kind": "rotate", "days_left": 2})],
	}
}

test_expires_within_not_asked_of_things_past_their_date[medicine] if {
	some medicine in [true, false]
	count(dates.finding.expires_within) == 0 with input as dated(medicine, -1)
}

test_expires_within_not_of_what_ends_before_the_season if {
	ends := {"audit": {"on_day": 1000}, "plan": t.plan({"season_end_known": true, "season_end_day": 1100})}
	cases := [
		[0, {"day": 1030, "days_left": 30}],
		[1, {"day": 1030, "days_left": 30, "kind": "rotate"}],
		[1, {"day": 1030, "days_left": 30, "kind": "licence"}],
	]
	every c in cases {
		count(dates.finding.expires_within) == c[0] with input as object.union(ends, {"dates": [t.date(c[1])]})
	}
	count(dates.finding.expires_within) == 1 with input as {
		"plan": t.plan({"season_end_known": true, "season_end_day": 1030}),
		"dates": [t.date({"day": 1030, "days_left": 30})],
	}
}

# The season ends on day 1100; the audit day is 1000.
season(plan, date) := {
	"audit": {"on_day": 1000},
	"plan": t.plan(object.union({"season_end_known": true, "season_end_day": 1100}, plan)),
	"dates": [t.date(object.union({"day": 1099, "days_left": 99}, date))],
}

test_within_season_at_the_limit if {
	count(dates.finding.within_season) == 0 with input as season({}, {"day": 1100, "days_left": 100})
}

test_within_season_one_too_few if {
	every medicine, level in {true: "warning", false: "note"} {
		dates.finding.within_season == {{
			"at": "packs/rust/bars/expires",
			"text": "Bars: good until 2027-01-01, in 99 days; at least 100 days must remain, to the end of the season",
			"level": level,
		}} with input as season({}, {"medicine": medicine})
	}
}

test_within_season_on_the_last_day if {
	count(dates.finding.within_season) == 1 with input as season({}, {"day": 1000, "days_left": 0})
}

# What runs out within the plan of three days is that of medication/within-plan.
test_within_season_of_medicines if {
	count(dates.finding.within_season) == 0 with input as season({}, {"medicine": true, "day": 1002, "days_left": 2})
	count(dates.finding.within_season) == 1 with input as season({}, {"medicine": true, "day": 1003, "days_left": 3})
}

test_within_season_not_asked_of_things_past_their_date[medicine] if {
	some medicine in [true, false]
	count(dates.finding.within_season) == 0 with input as season({}, {"medicine": medicine, "day": 999, "days_left": 0 - 1})
}

test_within_season_not_asked_without_its_end if {
	count(dates.finding.within_season) == 0 with input as season({"season_end_known": false}, {})
}

undated(foods, vessels) := {
	"foods": [t.food(object.union({"dated": false}, f)) | some f in foods],
	"vessels": [t.vessel(object.union({"water_ml": 1}, v)) | some v in vessels],
}

test_undated_together if {
	dates.finding.undated == {{
		"at": "packs/rust/bars",
		"because": ["packs/rust/bars", "packs/rust/bottle"],
		"text": "no expiry or replacement date is recorded for “Bars” and “Bottle”",
	}} with input as undated([{}], [{}])
}

test_undated_water_alone if {
	[f.at | some f in dates.finding.undated] == ["packs/rust/bottle"] with input as undated([], [{}])
}

test_undated_once_for_a_thing if {
	[f.because | some f in dates.finding.undated] == [["packs/rust/bottle"]] with input as undated([{"id": "packs/rust/bottle"}], [{}])
}

test_undated_not_asked[what] if {
	some what, facts in {
		"dated": undated([{"dated": true}], [{"dated": true}]),
		"fresh": undated([{"last_minute": true}], [{"last_minute": true}]),
		"empty": undated([], [{"water_ml": 0}]),
		"hay": undated([{"name": "Hay, half bale", "for_animal": true}], []),
	}
	count(dates.finding.undated) == 0 with input as facts
}

test_undated_like_hay if {
	count(dates.finding.undated) == 1 with input as undated([{"name": "hay", "for_animal": false}], [])
	count(dates.finding.undated) == 1 with input as undated([{"name": "hayflakes", "for_animal": true}], [])
}

late(days) := {
	"audit": {"on": "2026-11-01", "on_day": 1000},
	"future": days,
}

test_future_day if {
	dates.finding.future == {{
		"at": "packs/rust/pot/weighed",
		"text": "the weighing of Pot is dated 2 days after the audit date, 2026-11-01",
	}} with input as late([{"id": "packs/rust/pot/weighed", "what": "the weighing of Pot", "days": 2}])
}

test_future_none if {
	count(dates.finding.future) == 0 with input as late([])
}

due(kind, medicine, left) := {"dates": [t.date({"kind": kind, "medicine": medicine, "days_left": left})]}

test_due_on_its_last_day if {
	count(dates.finding.due) == 0 with input as due("rotate", false, 0)
}

test_due_a_day_later if {
	dates.finding.due == {{
		"at": "packs/rust/bars/expires",
		"text": "Bars: due for replacement by 2027-01-01, 1 day ago",
	}} with input as due("rotate", false, -1)
	count(dates.finding.expired) == 0 with input as due("rotate", false, -1)
}

test_licences_are_for_another_rule if {
	count(dates.finding.due) == 0 with input as due("licence", false, -1)
	count(dates.finding.expired) == 0 with input as due("licence", false, -1)
}

test_due_not_asked[what] if {
	some what, facts in {
		"a label's day": due("expires", false, -1),
		"once opened": due("opened", false, -1),
		"a medicine": due("rotate", true, -1),
	}
	count(dates.finding.due) == 0 with input as facts
}

test_within_season_not_asked_of_what_is_due[kind] if {
	some kind in ["rotate", "licence"]
	count(dates.finding.within_season) == 0 with input as season({}, {"kind": kind})
}

past(more) := {"audit": {"on_day": 1000}, "plan": t.plan(object.union({"season_end_known": true, "season_end_day": 999}, more))}

test_season_past_a_day_ago if {
	dates.finding.season_past == {{
		"at": "plan/season-end",
		"text": "the planned season (autumn) ended 1 day ago",
	}} with input as past({})
}

test_season_past_not_on_its_last_day if {
	count(dates.finding.season_past) == 0 with input as past({"season_end_day": 1000})
}

test_season_past_not_asked_without_a_day if {
	count(dates.finding.season_past) == 0 with input as past({"season_end_known": false})
}

# Ana's tablets to treat water are past their day.
tablets(person, useless, more) := object.union(
	{
		"dates": [t.date({"item": "packs/rust/tablets", "days_left": -1})],
		"useless": [t.useless("treat-water", "expired", object.union({"item": "packs/rust/tablets"}, useless))],
		"people": [t.person(person), t.person({"id": "people/ben"})],
		"plan": t.plan({}),
	},
	more,
)

test_expired_left_to_water_treatment[why] if {
	some why, c in {
		"she has nothing else": [tablets({}, {}, {}), 0],
		"old enough for a bag": [tablets({"age_months": 72}, {}, {}), 0],
		"too young": [tablets({"age_months": 71}, {}, {}), 1],
		"never alone": [tablets({"with": ["people/ben"]}, {}, {}), 1],
		"she has a filter": [tablets({"alone": t.supply({"can": [t.can("treat-water", ["filter"])]})}, {}, {}), 1],
		"an animal's": [tablets({}, {"carrier": "animals/bo"}, {}), 1],
		"another thing": [tablets({}, {"item": "packs/rust/bars"}, {}), 1],
		"another use": [tablets({}, {"capability": "cook"}, {}), 1],
		"another reason": [tablets({}, {"why": "frozen"}, {}), 1],
		"water awaits": [tablets({}, {}, {"plan": t.plan({"destination": {"water": true}})}), 1],
		"nothing is asked": [tablets({}, {}, {"limits": [{"area": "water", "name": "treat_means", "list": false, "value": 0, "values": []}]}), 1],
	}
	count(dates.finding.expired) == c[1] with input as c[0]
}

test_undated_not_asked_of_hay_by_each_word[word] if {
	some word in ["hay", "straw", "heu", "stroh", "foin", "paille", "heno", "paja", "干し草", "わら"]
	count(dates.finding.undated) == 0 with input as undated([{"name": sprintf("Some %s, dry", [upper(word)]), "for_animal": true}], [])
}
