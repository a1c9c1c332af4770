// Package audit is the pre-season audit of a group: what it shows of each household, who is ready, and what to do first.
//
// An audit is a check whose answers have a Sheet each (make.go): what a page shows of a household beside its findings. Sheets are kept
// packed, as findings are, and every output walks them one household at a time.
//
// What to do first (Ranking, ranking.go) is a greedy choice: next come the rules of that household after which most households are
// clear for each rule that is fixed. This need not be the best order. The five steps and the shopping list (Plan, plan.go) go by kinds
// of work. Masses come from what the findings say is short, and from what such things weigh in the same kits.
package audit
