package main

import (
	"cmp"
	"fmt"

	"github.com/spf13/cobra"

	"kitmuster/lint/finding"
	"kitmuster/lint/private"
	"kitmuster/lint/report"
)

func (a *app) measure() *cobra.Command {
	in := &input{}
	var b bounds
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
			if err := cmp.Or(oneOf("format", format, "text", "json"), b.Check()); err != nil {
				return err
			}
			mask, err := others.mask(in.rules, cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			p, err := a.place(in)
			if err != nil {
				return err
			}
			res := a.make(cmd, newWall(in, b, p, in.one(p)), in.one(p), p, &measureProduct)
			defer res.Close()
			out := cmd.OutOrStdout()
			of := func(h finding.Household) report.Measured { return report.Measured{Household: h} }
			if mask != nil {
				err := shared(mask, "measured", format, out, res, of, func(m *report.Measured) private.Shared { return mask.Measured(m.Household, m.Facts) })
				return cmp.Or(err, fit(res))
			}
			write := report.MeasureText
			if format == "json" {
				write = report.MeasureJSON
			}
			if err := write(out, &report.Made[report.Measured]{Run: &res.Run, Households: made(res, of)}, report.Options{Colour: colour(out)}); err != nil {
				return fmt.Errorf("the measurements could not be written: %w", plain(err))
			}
			return fit(res)
		},
	}
	in.flags(cmd)
	in.says(cmd)
	b.flags(cmd)
	others.flags(cmd)
	cmd.Flags().StringVar(&format, "format", "text", "`text` or json")
	return cmd
}
