package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/load"
	"kitmuster/lint/report"
)

func (a *app) measure() *cobra.Command {
	in := &input{}
	var others sharing
	var format string
	cmd := &cobra.Command{
		Use:   "measure [PATH…]",
		Short: "Show what the packs weigh, hold and can do",
		Long: `Measures the households found at the paths (see check) and shows the numbers: what each
pack weighs and against what, where the mass is, what it holds, what each person can do alone.
The JSON form has every number with the entries it is made of and their lines.

Exit code 0: everything was measured. 2: something could not be read.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			in.paths = args
			if err := oneOf("format", format, "text", "json"); err != nil {
				return err
			}
			mask, err := others.mask(in.rules, cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			r, err := a.read(in, lint.Options{})
			if err != nil {
				return err
			}
			if mask != nil {
				var hs []finding.Shared
				for _, one := range r.households {
					hs = append(hs, mask.Measured(one.Household, one.Facts))
				}
				if err := share(mask, "measured", r.on, format, cmd.OutOrStdout(), hs, r.findings); err != nil {
					return err
				}
				return r.end()
			}
			m := report.Measurements{Version: version(), On: r.on, Findings: r.findings}
			for _, one := range r.households {
				m.Households = append(m.Households, measured(one))
			}
			out := cmd.OutOrStdout()
			write := report.MeasureText
			if format == "json" {
				write = report.MeasureJSON
			}
			if err := write(out, &m, report.Options{Colour: colour(out)}); err != nil {
				return fmt.Errorf("the measurements could not be written: %w", err)
			}
			return r.end()
		},
	}
	in.flags(cmd)
	others.flags(cmd)
	cmd.Flags().StringVar(&format, "format", "text", "`text` or json")
	return cmd
}

// reading is what was read and measured of the households that the paths mean.
type reading struct {
	on         string
	households []*lint.Measured
	findings   []finding.Finding // faults of the input
	unfit      bool
}

// read finds the households and measures each; day, season and what people see of a path come from the flags.
func (a *app) read(in *input, o lint.Options) (*reading, error) {
	p, err := a.place(in)
	if err != nil {
		return nil, err
	}
	o.On, o.Season, o.Show = p.on, in.season, p.disk.Show
	dirs, faults := load.Find(p.disk.FS, p.patterns, load.Options{Show: p.disk.Show})
	r := &reading{on: p.on.String(), findings: lint.PathFindings(faults), unfit: len(faults) > 0}
	for _, d := range dirs {
		one := lint.Measure(p.disk.FS, d, o)
		r.households = append(r.households, one)
		r.findings = append(r.findings, one.Findings...)
		r.unfit = r.unfit || !one.Household.Judged
	}
	r.findings = finding.Sort(r.findings)
	return r, nil
}

// end is the exit code, once everything is written.
func (r *reading) end() error {
	if r.unfit {
		return exit{exitUnfit}
	}
	return nil
}

func measured(m *lint.Measured) report.Measured {
	return report.Measured{Household: m.Household, Facts: m.Facts, Ledger: ledger(m)}
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
