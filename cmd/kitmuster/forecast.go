package main

import (
	"cmp"
	"fmt"

	"github.com/spf13/cobra"

	"kitmuster/lint/finding"
	"kitmuster/lint/kit"
	"kitmuster/lint/private"
	"kitmuster/lint/report"
	"kitmuster/lint/unit"
)

func (a *app) forecast() *cobra.Command {
	in := &input{}
	var b bounds
	var others sharing
	var format, start string
	cmd := &cobra.Command{
		Use:   "forecast [PATH…]",
		Short: "Show the plan hour by hour, and when something runs out",
		Long: `Walks the households found at the paths (see check) through their plan, hour by hour, and
shows who walks when under which load, what they spend, drink and eat, where they collect water,
and when a stock is first short: water, food, sodium, light, fuel and doses.

The figures are averages by published formulas, not medical advice; the page ends with the
assumptions.

Exit code 0: everything was forecast, whatever runs short. 2: something could not be read.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			in.paths = args
			if err := cmp.Or(oneOf("format", format, "text", "json"), b.Check()); err != nil {
				return err
			}
			var begin kit.Opt[unit.Clock]
			if cmd.Flags().Changed("start") {
				var err error
				if begin.Value, err = unit.ParseClock(start); err != nil {
					return openly(fmt.Errorf("--start: %w", err))
				}
				begin.Set = true
			}
			mask, err := others.mask(in.rules, cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			p, err := a.place(in)
			if err != nil {
				return err
			}
			one := in.one(p)
			one.Start = begin
			res := a.make(cmd, newWall(in, b, p, one), one, p, &forecastProduct)
			defer res.Close()
			return cmp.Or(figures[report.Forecast]{
				did: "forecast", noun: "forecast", text: report.ForecastText, json: report.ForecastJSON,
				of: func(h finding.Household) report.Forecast {
					return report.Forecast{Measured: report.Measured{Household: h}}
				},
				told: func(mask *private.Mask, f *report.Forecast) private.Shared {
					return mask.Measured(f.Household, f.Facts)
				},
			}.write(cmd.OutOrStdout(), format, mask, res), fit(res))
		},
	}
	in.flags(cmd)
	in.says(cmd)
	b.flags(cmd)
	others.flags(cmd)
	cmd.Flags().StringVar(&start, "start", "", "begin at this `time` of day, such as 18:00, instead of the hour of the plans")
	cmd.Flags().StringVar(&format, "format", "text", "`text` or json")
	return cmd
}
