package main

import (
	"context"
	"io"
	"io/fs"
	"iter"
	"runtime"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/private"
	"kitmuster/lint/report"
)

// What workers make of a household beside judging it; what the outcome's Extra is.
const (
	wantList     = "list"     // *finding.PackingList
	wantMeasure  = "measure"  // *report.Measured
	wantForecast = "forecast" // *report.Forecast
	wantDrill    = "drill"    // *finding.Drilled
)

// work is what a worker does with one household.
func work(ctx context.Context, want string, tree fs.FS, bench *judge.Bench, dir string, least finding.Level, o lint.Options) lint.Outcome {
	switch want {
	case wantList:
		return lint.List(tree, dir, o)
	case wantDrill:
		return lint.Drill(ctx, tree, bench, dir, least, o)
	case wantMeasure, wantForecast:
		m := lint.Measure(tree, dir, o)
		out := m.Outcome()
		one := report.Measured{Household: m.Household, Facts: m.Facts, Ledger: ledger(m)}
		if out.Extra = &one; want == wantForecast {
			out.Extra = &report.Forecast{Measured: one, Plan: m.Plan, Result: m.Forecast}
		}
		return out
	}
	return lint.Judge(ctx, tree, bench, dir, o)
}

// ledger brings the ledger of a household to its lines.
func ledger(m *lint.Measured) (out []report.Line) {
	if m.Ledger == nil {
		return nil
	}
	for _, id := range m.Ledger.IDs() {
		e, _ := m.Ledger.Entry(id)
		l := report.Line{ID: id, Label: e.Label, Amount: e.AmountText(), Account: e.Account, At: m.Place(e.Spots).At}
		for _, in := range e.Inputs {
			l.Inputs = append(l.Inputs, in.ID)
		}
		out = append(out, l)
	}
	return out
}

// make has the workers of a wall make what is wanted of the households that the paths mean. Close the result.
func (a *app) make(cmd *cobra.Command, w *wall, in *input, p *place, want string) *lint.Result {
	defer w.close()
	watch := a.progress(aloud(cmd.ErrOrStderr()))
	res := lint.Check(cmd.Context(), p.disk.FS, lint.Options{
		Patterns: p.patterns, On: p.on, Season: in.season, Show: p.disk.Show, Workers: runtime.GOMAXPROCS(0), Spool: temporary, Run: w.judge, Want: want, Done: watch.done,
	})
	watch.end()
	res.Run.Version = version()
	return res
}

// made walks what was made of each household, one at a time; of names a household of which nothing could be made.
func made[T any](res *lint.Result, of func(finding.Household) T) iter.Seq2[*T, error] {
	return func(yield func(*T, error) bool) {
		for x, err := range res.Extras {
			one := of(x.Household)
			if err == nil {
				err = x.Unpack(&one)
			}
			if !yield(&one, err) || err != nil {
				return
			}
		}
	}
}

// shared writes what was made in a form for others.
func shared[T any](m *private.Mask, did, format string, out io.Writer, res *lint.Result, of func(finding.Household) T, mask func(*T) finding.Shared) error {
	var hs []finding.Shared
	for one, err := range made(res, of) {
		if err != nil {
			return err
		}
		hs = append(hs, mask(one))
	}
	faults, err := res.Run.Findings.All()
	if err != nil {
		return err
	}
	return share(m, did, res.Run.On, format, out, hs, faults)
}

// fit is the exit code, once everything is written.
func fit(res *lint.Result) error {
	if res.Unfit {
		return exit{exitUnfit}
	}
	return nil
}
