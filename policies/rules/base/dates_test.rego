package rules.base.dates_test

import data.lib.testing_test as t
import data.rules.base.dates

dated(medicine, left) := {"dates": [{
	"id": "packs/rust/bars/expires",
	"name": "Bars",
	"kind": "expires",
	"medicine": medicine,
	"on": "2026-10-31",
	"days_left": left,
}]}

test_expired_on_its_last_day if {
	count(dates.finding.expired) == 0 with input as dated(false, 0)
}

test_expired_a_day_later if {
	dates.finding.expired == {{
		"at": "packs/rust/bars/expires",
		"text": "Bars: good until 2026-10-31; that was 1 day ago",
	}} with input as dated(false, -1)
}

test_expired_not_asked_of_medicines if {
	count(dates.finding.expired) == 0 with input as dated(true, -1)
}

test_expires_within_at_the_limit if {
	count(dates.finding.expires_within) == 0 with input as dated(false, 60)
}

test_expires_within_one_too_few if {
	dates.finding.expires_within == {{
		"at": "packs/rust/bars/expires",
		"text": "Bars: good until 2026-10-31; 59 days left, 60 days asked: 1 day too few",
	}} with input as dated(false, 59)
}

test_expires_within_on_the_last_day[medicine] if {
	some medicine in [true, false]
	count(dates.finding.expires_within) == 1 with input as dated(medicine, 0)
}

test_expires_within_not_asked_of_things_past_their_date[medicine] if {
	some medicine in [true, false]
	count(dates.finding.expires_within) == 0 with input as dated(medicine, -1)
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
	every medicine in [true, false] {
		dates.finding.within_season == {{
			"at": "packs/rust/bars/expires",
			"text": "Bars: good until 2027-01-01; 99 days left, 100 days asked: 1 day too few to last through the season",
		}} with input as season({}, {"medicine": medicine})
	}
}

test_within_season_on_the_last_day if {
	every medicine in [true, false] {
		count(dates.finding.within_season) == 1 with input as season({}, {"medicine": medicine, "day": 1000, "days_left": 0})
	}
}

test_within_season_not_asked_of_things_past_their_date[medicine] if {
	some medicine in [true, false]
	count(dates.finding.within_season) == 0 with input as season({}, {"medicine": medicine, "day": 999, "days_left": 0 - 1})
}

test_within_season_not_asked_without_its_end if {
	count(dates.finding.within_season) == 0 with input as season({"season_end_known": false}, {})
}

test_undated_food if {
	dates.finding.undated == {{
		"at": "packs/rust/bars",
		"text": "Bars has neither a last day nor a day of exchange written",
	}} with input as {"foods": [t.food({"dated": false})]}
}

test_undated_not_asked_of_dated_food if {
	count(dates.finding.undated) == 0 with input as {"foods": [t.food({"dated": true})]}
}

late(days) := {
	"audit": {"on": "2026-11-01", "on_day": 1000},
	"future": days,
}

test_future_day if {
	dates.finding.future == {{
		"at": "packs/rust/pot/weighed",
		"text": "the weighing of Pot is written 2 days after the audit day, 2026-11-01",
	}} with input as late([{"id": "packs/rust/pot/weighed", "what": "the weighing of Pot", "days": 2}])
}

test_future_none if {
	count(dates.finding.future) == 0 with input as late([])
}

due(kind, medicine, left) := {"dates": [t.date({"kind": kind, "medicine": medicine, "days_left": left})]}

test_due_on_its_last_day if {
	count(dates.finding.due) == 0 with input as due("rotate", false, 0)
}

test_due_a_day_later[kind] if {
	some kind, words in {"rotate": "to be exchanged by", "licence": "valid until"}
	dates.finding.due == {{
		"at": "packs/rust/bars/expires",
		"text": sprintf("Bars: %s 2027-01-01; that was 1 day ago", [words]),
	}} with input as due(kind, false, -1)
	count(dates.finding.expired) == 0 with input as due(kind, false, -1)
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
		"text": "the season planned for (autumn) ended 1 day ago",
	}} with input as past({})
}

test_season_past_not_on_its_last_day if {
	count(dates.finding.season_past) == 0 with input as past({"season_end_day": 1000})
}

test_season_past_not_asked_without_a_day if {
	count(dates.finding.season_past) == 0 with input as past({"season_end_known": false})
}
