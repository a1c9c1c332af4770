// Package audit is the pre-season audit of a group: what it shows of each household, who is ready, and what to do first.
//
// An audit is a check that brings sheets along: make.go adds to a household's answer a Sheet, with what a page shows beside findings.
// Sheets wait packed as findings do, and every output walks household by household.
//
// What to do first (Ranking, ranking.go) is a greedy choice: of all households, the rules of the one after which most are clear for each
// rule that is seen to. It does not look for the best order of all, and says how it chose. Masses come from lacks and from what such
// things weigh in the same kits. The kind of work is the rule's, never the finding's.
package audit
