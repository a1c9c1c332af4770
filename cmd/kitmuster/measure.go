package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/load"
	"kitmuster/lint/report"
)

func (a *app) measure() *cobra.Command {
	in := &input{}
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
			p, err := a.place(in)
			if err != nil {
				return err
			}
			dirs, faults := load.Find(p.disk.FS, p.patterns, load.Options{Show: p.disk.Show})
			o := lint.Options{On: p.on, Season: in.season, Show: p.disk.Show}
			m := report.Measurements{Version: version(), On: p.on.String(), Findings: lint.PathFindings(faults)}
			for _, d := range dirs {
				one := lint.Measure(p.disk.FS, d, o)
				m.Findings = append(m.Findings, one.Findings...)
				m.Households = append(m.Households, report.Measured{Household: one.Household, Facts: one.Facts, Ledger: ledger(one)})
			}
			m.Findings = finding.Sort(m.Findings)
			out := cmd.OutOrStdout()
			write := report.MeasureText
			if format == "json" {
				write = report.MeasureJSON
			}
			if err := write(out, &m, report.Options{Colour: colour(out)}); err != nil {
				return fmt.Errorf("the measurements could not be written: %w", err)
			}
			if len(faults) > 0 || slices.ContainsFunc(m.Households, func(h report.Measured) bool { return !h.Household.Judged }) {
				return exit{exitUnfit}
			}
			return nil
		},
	}
	in.flags(cmd)
	cmd.Flags().StringVar(&format, "format", "text", "`text` or json")
	return cmd
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
