package main

import (
	"cmp"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"kitmuster/lint"
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
			return cmp.Or(figures[report.Measured]{
				did: "measured", noun: "measurements", text: report.MeasureText, json: report.MeasureJSON,
				of: func(h finding.Household) report.Measured { return report.Measured{Household: h} },
				told: func(mask *private.Mask, m *report.Measured) private.Shared {
					return mask.Measured(m.Household, m.Facts)
				},
			}.write(cmd.OutOrStdout(), format, mask, res), fit(res))
		},
	}
	in.flags(cmd)
	in.says(cmd)
	b.flags(cmd)
	others.flags(cmd)
	cmd.Flags().StringVar(&format, "format", "text", "`text` or json")
	return cmd
}

// figures are how numbers of households are written.
type figures[T any] struct {
	// did is what was done to the households, and noun what came of it.
	did, noun  string
	of         func(finding.Household) T
	text, json func(io.Writer, *report.Made[T], report.Options) error
	// told is what others may see of one.
	told func(*private.Mask, *T) private.Shared
}

// write writes those of a result; under a mask it is what others may see.
func (f figures[T]) write(out io.Writer, format string, mask *private.Mask, res *lint.Result) error {
	if mask != nil {
		return shared(mask, f.did, format, out, res, f.of, func(one *T) private.Shared { return f.told(mask, one) })
	}
	write := f.text
	if format == "json" {
		write = f.json
	}
	if err := write(out, &report.Made[T]{Run: &res.Run, Households: made(res, f.of)}, report.Options{Colour: colour(out)}); err != nil {
		return fmt.Errorf("the %s could not be written: %w", f.noun, plain(err))
	}
	return nil
}
