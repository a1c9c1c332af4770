package rules.base.waiver

import data.lib

# METADATA
# title: Each waiver gives a reason
# description: >-
#   The person who reads the kit next year must know why a finding was accepted. A waiver without a reason covers nothing.
# custom:
#   level: error
#   remedy: Write the reason, or take the waiver out.
#   mend: {work: write}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     record: waivers: aid: {rule: "first-aid/basic-in-each-pack", reason: "the course is on Saturday", until: "2026-11-20"}
#   fails: |
#     record: waivers: aid: {rule: "first-aid/basic-in-each-pack", until: "2026-11-20"}
finding.reason contains f if {
	some waiver in input.record.waivers
	not waiver.reason_known
	f := {"at": waiver.id, "text": sprintf("the waiver of %s gives no reason, so it covers nothing", [waiver.rule])}
}

# METADATA
# title: No waiver is past its last day
# description: >-
#   A waiver is good through its last day. After that it covers nothing.
# custom:
#   level: warning
#   remedy: Settle the finding, or agree on a new day.
#   mend: {work: decide}
#   sources:
#     - "common practice, no source"
#   limits: []
#   passes: |
#     record: waivers: aid: {rule: "first-aid/basic-in-each-pack", reason: "the course is on Saturday", until: "2026-11-01"}
#   fails: |
#     record: waivers: aid: {rule: "first-aid/basic-in-each-pack", reason: "the course is on Saturday", until: "2026-10-31"}
finding.past contains f if {
	some waiver in input.record.waivers
	ago := input.audit.on_day - waiver.until_day
	ago > 0
	f := {"at": waiver.until_id, "text": sprintf("the waiver of %s ended on %s, %s ago, and no longer covers anything", [waiver.rule, waiver.until, lib.days(ago)])}
}

# METADATA
# title: Essential rules are waived only for a short time
# description: >-
#   Fire, water treatment, the cap on load and medicine matter most for life and health. A waiver of one of these rules must
#   end soon; one that runs longer covers nothing.
# custom:
#   level: error
#   remedy: Write a nearer last day, and settle the finding by then.
#   mend: {work: decide}
#   sources:
#     - "common practice, no source"
#   limits: [waiver.heart, waiver.heart_days]
#   caution: A waiver does not make a kit safe; it only says that the household knows.
#   passes: |
#     record: waivers: fire: {rule: "fire/two-means", reason: "the rod is on order", until: "2026-12-01"}
#   fails: |
#     record: waivers: fire: {rule: "fire/two-means", reason: "the rod is on order", until: "2026-12-02"}
finding.too_long contains f if {
	some waiver in input.record.waivers
	waiver.rule in lib.limit("waiver", "heart")
	most := lib.limit("waiver", "heart_days")
	left := waiver.until_day - input.audit.on_day
	left > most
	f := {
		"at": waiver.until_id,
		"text": sprintf("the waiver of %s runs until %s, for %s; this rule may be waived for %s at most, so the waiver covers nothing", [
			waiver.rule,
			waiver.until,
			lib.days(left),
			lib.days(most),
		]),
	}
}
