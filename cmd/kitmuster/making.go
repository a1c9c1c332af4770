package main

import (
	"context"
	"encoding/json"
	"io"
	"io/fs"
	"iter"
	"runtime"
	"slices"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/audit"
	"kitmuster/lint/compare"
	"kitmuster/lint/drill"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/intake"
	"kitmuster/lint/judge"
	"kitmuster/lint/packing"
	"kitmuster/lint/private"
	"kitmuster/lint/remedy"
	"kitmuster/lint/report"
	"kitmuster/lint/sandbox"
	"kitmuster/lint/upkeep"
)

// products are all that is made of a household beside its findings. A worker knows them by their names.
var products = []*lint.Product{&audit.Product, &packing.Product, &drill.Product, &remedy.Product, &upkeep.Product, &intake.Product, &compare.Product, &measureProduct, &forecastProduct, &fixProduct}

// product is the one of a name, nil for none.
func product(name string) *lint.Product {
	if i := slices.IndexFunc(products, func(p *lint.Product) bool { return p.Name == name }); i >= 0 {
		return products[i]
	}
	return nil
}

// measureProduct makes a *report.Measured, forecastProduct a *report.Forecast.
var (
	measureProduct  = lint.Product{Name: "measure", Make: measured}
	forecastProduct = lint.Product{Name: "forecast", Make: forecasted}
)

func measured(_ context.Context, tree fs.FS, _ *judge.Rulebook, dir string, o household.Options) household.Outcome {
	m := household.Measure(tree, dir, o)
	out := m.Outcome()
	out.Extra = &report.Measured{Household: m.Household, Facts: m.Facts, Ledger: ledger(m)}
	return out
}

func forecasted(_ context.Context, tree fs.FS, _ *judge.Rulebook, dir string, o household.Options) household.Outcome {
	m := household.Measure(tree, dir, o)
	out := m.Outcome()
	out.Extra = &report.Forecast{Measured: report.Measured{Household: m.Household, Facts: m.Facts, Ledger: ledger(m)}, Plan: m.Plan, Result: m.Forecast}
	return out
}

// encoded writes the settings of each household down: for the workers, and for the key of what is kept of an answer. What each job
// says itself, the day, is left out.
func encoded(o household.Options) string {
	o.On, o.Show = 0, nil
	b, err := json.Marshal(o)
	if err != nil {
		panic(err) // plain values always encode
	}
	return string(b)
}

// decoded is the way back.
func decoded(text string) (o household.Options, err error) {
	err = json.Unmarshal([]byte(text), &o)
	return o, err
}

// ledger brings the ledger of a household to its lines.
func ledger(m *household.Measured) (out []report.Line) {
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
func (a *app) make(cmd *cobra.Command, w *sandbox.Pool, o household.Options, p *place, want *lint.Product) *lint.Result {
	defer w.Close()
	watch := a.progress(aloud(cmd.ErrOrStderr()))
	res := lint.Check(cmd.Context(), p.disk.FS, lint.Options{
		Patterns: p.patterns, Options: o, Workers: runtime.GOMAXPROCS(0), Spool: temporary, Run: w.Judge, Want: want, Done: watch.done,
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
func shared[T any](m *private.Mask, did, format string, out io.Writer, res *lint.Result, of func(finding.Household) T, mask func(*T) private.Shared) error {
	var hs []private.Shared
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
