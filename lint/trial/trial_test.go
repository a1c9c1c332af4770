package trial_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
	"kitmuster/lint/trial"
)

func ran(hs []finding.Household, fs ...finding.Finding) *finding.Run {
	r := &finding.Run{Version: "v1", On: "2026-11-01"}
	r.Count(hs, fs...)
	return r
}

func said(path, rule, message string, level finding.Level, lack int64) finding.Finding {
	f := finding.Finding{Rule: rule, Level: level, Message: message, Path: path, Spot: "household", Remedy: "r", Caution: "c", Limits: []finding.Limit{{Name: "a.b"}}}
	if lack > 0 {
		f.Lack = &finding.Shortfall{What: "water", Unit: "ml", Amount: lack}
	}
	return f
}

func try(t *testing.T, old, now *finding.Run) *trial.Trial {
	t.Helper()
	got, err := trial.Try(old, now)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func house(path string) finding.Household {
	return finding.Household{Name: path, Path: path, Judged: true}
}

// What is new, mended and different is told by household; lacks add up on either side; a finding comes without what a check says beside.
func TestTry(t *testing.T) {
	hs := []finding.Household{house("a"), house("b"), house("c"), house("d")}
	waived := said("c", "w/start", "2 L short", finding.Error, 2000)
	waived.Waived = &finding.Waiver{Reason: "x"}
	got := try(t,
		ran(hs, said("a", "w/start", "1 L short", finding.Error, 1000), said("b", "m/days", "old", finding.Warning, 0), said("b", "n/same", "same", finding.Note, 0), waived),
		ran(hs, said("a", "w/start", "3 L short", finding.Error, 3000), said("b", "f/boots", "no boots", finding.Warning, 0), said("b", "n/same", "same", finding.Note, 0), waived, said("d", "w/start", "5 L short", finding.Error, 5000)))
	bare := func(path, rule, message string, level finding.Level, lack int64, s finding.State) finding.Finding {
		f := said(path, rule, message, level, lack)
		f.Remedy, f.Caution, f.Limits, f.State = "", "", nil, s
		return f
	}
	want := &trial.Trial{
		Version: "v1", On: "2026-11-01",
		Households: []trial.Tried{
			{Household: hs[0], Errors: trial.Tally{Unchanged: 1}, Changed: []trial.Shift{{Old: bare("a", "w/start", "1 L short", finding.Error, 1000, ""), New: bare("a", "w/start", "3 L short", finding.Error, 3000, finding.Unchanged)}}},
			{
				Household: hs[1], Warnings: trial.Tally{New: 1, Mended: 1}, Notes: trial.Tally{Unchanged: 1}, Unstated: 1,
				Findings: []finding.Finding{bare("b", "f/boots", "no boots", finding.Warning, 0, finding.New), bare("b", "m/days", "old", finding.Warning, 0, finding.Mended)},
			},
			{Household: hs[2], Waived: 1},
			{Household: hs[3], Errors: trial.Tally{New: 1}, Findings: []finding.Finding{bare("d", "w/start", "5 L short", finding.Error, 5000, finding.New)}},
		},
		Totals: []trial.Total{{What: "water", Unit: "ml", Old: 1000, New: 8000, Households: 2}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// The two standards do not change places: what the one mends the other newly asks.
func TestTryTurnedRound(t *testing.T) {
	hs := []finding.Household{house("a")}
	x, y := ran(hs, said("a", "w/start", "1 L short", finding.Error, 1000)), ran(hs)
	there, back := try(t, x, y), try(t, y, x)
	if there.Households[0].Errors != (trial.Tally{Mended: 1}) || back.Households[0].Errors != (trial.Tally{New: 1}) {
		t.Error(there.Households, back.Households)
	}
	if there.Totals[0] != (trial.Total{What: "water", Unit: "ml", Old: 1000}) || back.Totals[0] != (trial.Total{What: "water", Unit: "ml", New: 1000, Households: 1}) {
		t.Error(there.Totals, back.Totals)
	}
}

// Nobody is hidden: who cannot be judged is named with the reason, and where a standard could not judge, nothing counts as fixed by it.
func TestTryWhatCouldNotBeJudged(t *testing.T) {
	un := func(path string) finding.Household { return finding.Household{Path: path} }
	broken := said("r", "input/rule", "rule x broke", finding.Error, 0)
	fault := said("p", "input/path", "there is nothing at this path", finding.Error, 0)
	got := try(t,
		ran([]finding.Household{house("n"), un("o"), house("r"), un("u")}, said("n", "w/start", "1 L short", finding.Error, 1000), fault, said("r", "w/start", "1 L short", finding.Error, 1000), said("u", "input/value", "no mass", finding.Error, 0)),
		ran([]finding.Household{un("n"), house("o"), house("r"), un("u")}, said("n", "input/limit", "which?", finding.Error, 0), said("o", "w/start", "1 L short", finding.Error, 1000), fault, broken, said("u", "input/value", "no mass", finding.Error, 0)))
	type row struct {
		path, doubt string
		judged      bool
		nowhere     bool
		errors      trial.Tally
		findings    int
	}
	var rows []row
	for _, h := range got.Households {
		rows = append(rows, row{h.Household.Path, h.Doubt, h.Household.Judged, h.Nowhere, h.Errors, len(h.Findings)})
	}
	want := []row{
		{"n", "it could not be judged wholly under the new standard, so nothing counts as fixed", false, false, trial.Tally{New: 1}, 1},
		{"o", "it could not be judged wholly under the old standard, so more counts as new than is", true, false, trial.Tally{New: 1}, 1},
		{"p", "", false, true, trial.Tally{Unchanged: 1}, 1},
		{"r", "a rule broke under the new standard, so nothing counts as fixed", true, false, trial.Tally{New: 1}, 1},
		{"u", "", false, false, trial.Tally{Unchanged: 1}, 1},
	}
	if diff := cmp.Diff(want, rows, cmp.AllowUnexported(row{})); diff != "" {
		t.Error(diff)
	}
}

// Whom an interruption left out on one side is left out, and it is said; a walk that fails is an error.
func TestTryInterrupted(t *testing.T) {
	old, now := ran([]finding.Household{house("a"), house("b")}, said("b", "w/start", "x", finding.Error, 1)), ran([]finding.Household{house("a")})
	now.Partial = "interrupted after 1 of 2 households"
	got := try(t, old, now)
	if got.Partial != now.Partial || len(got.Households) != 1 || got.Households[0].Household.Path != "a" || len(got.Totals) != 0 {
		t.Errorf("%+v", got)
	}
	now.Findings = func(yield func(*finding.Finding, error) bool) { yield(nil, errors.New("the disk is gone")) }
	if _, err := trial.Try(old, now); err == nil || err.Error() != "the disk is gone" {
		t.Error(err)
	}
	if _, err := trial.Try(now, old); err == nil {
		t.Error("an error of the old side is lost")
	}
}
