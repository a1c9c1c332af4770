// Package trial tells what another standard would mean for the households of a group.
//
// A trial is two checks: the command judges everyone by one standard and then by the other, and Try walks the two, household by
// household, from where their findings wait. It keeps counts and what differs. Nothing counts as mended where a rule broke or a
// household could not be judged. Amounts are summed from the findings' lacks, never read out of texts.
package trial
