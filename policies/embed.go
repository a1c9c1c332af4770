// Package policies holds the base standard: its rules, its limits, the official lists, and the list
// of built-in functions that any standard may call. The folder is at the same
// time a bundle that the stock policy engine reads.
//
// # A rule
//
// A rule stands in rules/base/AREA.rego as "finding.rule_name contains f if {…}" with a METADATA block, and is shown as
// area/rule-name. It yields {at, because, text} with IDs of facts, and level, lack and unrecorded where they apply. METADATA has a title, a description (why it matters)
// and, under custom: level, remedy, mend, sources, limits, passes, fails, a lack where a finding misses by an amount, and
// a caution where the remedy can hurt. What is missing or misspelt is refused at load, at its own line.
//
// mend, such as {work: add, thing: fire}, says which kind of work settles a finding, so that a group can begin with what
// costs least. The works stand in lint/finding/fix.go, from the lightest to the heaviest. Where the remedy offers several
// ways it is the one named first; of steps that go together, the heaviest. A file that is put right by reading a label is
// "write", by weighing or trying out "check". thing, with exchange and add only, is a capability that what is brought has,
// where one such thing settles a finding, or each one of a lack in count. thing: water and thing: food go with a lack in ml
// or j that says how much of it. get, with exchange and add only, is what stands on a shopping list, in the rule's words, such as
// "rain jacket or poncho".
//
// lack, such as {what: water at the start, unit: ml}, is for findings that miss by an amount which can be added up over
// households. Every finding of the rule then has the amount as "lack", a whole number above 0, in one of the units that
// kinds.Lacks lists. What lacks is said in the rule's words, never in a family's, so that sums can be shown to others.
// Rules that state the same what in the same unit are summed together: two that object to one shortage must not.
//
// level is the gravest that the rule can be. A finding of a milder case says so itself: "level": "note".
//
// passes and fails are small kits in CUE, laid over the frame in lint/household/examples.go and run for real.
//
// # A limit
//
// A rule never holds a figure: limits stand in limits/base/data.json with value, unit, meaning, source, and stricter, which
// says which values a household may write for itself (lower, higher; of a list more, fewer). A figure without a published
// source says "common practice, no source"; one that was not looked up says "from memory"; one that names a source gets a
// row in lint/published_test.go.
//
// # Writing
//
// Unknown is not missing: a rule that misses something passes its finding through lib.lack, lib.lack_any, lib.lack_own or
// lib.unread_amount, which list as "unrecorded" the things that may be it and whose use or amount is not recorded. judge.Settle
// makes one finding of that, at such a thing and a level milder; TestWhatIsOnlyANameIsNotMissing tries every word of the vocabulary.
// A rule that misses several kinds at once takes them apart with lib.parted. A load against a body mass goes through lib.on_body.
//
// Texts have whole numbers and use the helpers of lib/lib.rego; at a limit, multiply and do not divide. There is no clock
// and no network: capabilities.json lists the functions that a rule may call. What few items have (food, radios, papers)
// stands in a list of its own among the facts: go through that, not through input.items.
//
// An official list is data: lists/base/data.json. Its lines are answered by words that package measure makes; a test holds
// that a family can write each of them.
package policies

import (
	"embed"
	"io/fs"
)

//go:embed all:rules all:limits all:lists all:lib .manifest capabilities.json facts.schema.json
var files embed.FS

//go:embed capabilities.json
var capabilities string

// FS is the base standard, its tests included.
func FS() fs.FS { return files }

// Capabilities is the allow-list of built-in functions in the engine's own JSON form.
func Capabilities() string { return capabilities }
