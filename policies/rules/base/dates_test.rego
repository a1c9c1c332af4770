package rules.base.dates_test

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
