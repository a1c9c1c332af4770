package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/load"
	"kitmuster/lint/private"
	"kitmuster/lint/report"
)

func (a *app) drill() *cobra.Command {
	in := &input{}
	var others sharing
	var format, show string
	cmd := &cobra.Command{
		Use:   "drill [PATH…]",
		Short: "Show what is left when a pack is lost, somebody is alone, or help is late",
		Long: `Changes the households found at the paths (see check) in one way after another, measures and
judges each again, and shows how many hours of every stock it costs, what nobody can do any
more, and which findings are new: each pack lost; each person alone; each pair apart from the
others; each carrier unable to carry; each other season; help a day late; no water on the
way; what is quick to shed dropped; and every two packs lost, for up to 8 packs. Then the
single points of failure, each at its line.

Exit code 0: everything was drilled. 2: something could not be read, or a rule broke.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			in.paths = args
			if err := oneOf("format", format, "text", "json"); err != nil {
				return err
			}
			if err := oneOf("show", show, "error", "warning", "note"); err != nil {
				return err
			}
			p, err := a.place(in)
			if err != nil {
				return err
			}
			mask, err := others.mask(in.rules, cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			b, err := in.rules.bench(cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			dirs, faults := load.Find(p.disk.FS, p.patterns, load.Options{Show: p.disk.Show})
			d := report.Drills{Version: version(), On: p.on.String(), Findings: lint.PathFindings(faults)}
			unfit := len(faults) > 0
			for _, dir := range dirs {
				one := lint.Drill(cmd.Context(), p.disk.FS, b, dir, finding.Level(show), lint.Options{On: p.on, Season: in.season, Show: p.disk.Show})
				if cmd.Context().Err() != nil {
					return fmt.Errorf("interrupted before every household was drilled")
				}
				d.Households = append(d.Households, one)
				unfit = unfit || !one.Household.Judged
			}
			if err := writeDrills(cmd.OutOrStdout(), &d, format, mask); err != nil {
				return err
			}
			if unfit {
				return exit{exitUnfit}
			}
			return nil
		},
	}
	in.judged(cmd)
	others.flags(cmd)
	cmd.Flags().StringVar(&format, "format", "text", "`text` or json")
	cmd.Flags().StringVar(&show, "show", "error", "judge by the rules of this `level` and graver: error, warning or note")
	return cmd
}

func writeDrills(out io.Writer, d *report.Drills, format string, mask *private.Mask) error {
	if mask != nil {
		hs, faults := make([]finding.Shared, len(d.Households)), d.Findings
		for i, h := range d.Households {
			hs[i] = mask.Drilled(h)
			faults = append(faults, h.Findings...)
		}
		return share(mask, "drilled", d.On, format, out, hs, faults)
	}
	write := report.DrillsText
	if format == "json" {
		write = report.DrillsJSON
	}
	if err := write(out, d, report.Options{Colour: colour(out)}); err != nil {
		return fmt.Errorf("the drills could not be written: %w", err)
	}
	return nil
}
