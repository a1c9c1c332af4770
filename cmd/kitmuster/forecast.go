package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/report"
	"kitmuster/lint/unit"
)

func (a *app) forecast() *cobra.Command {
	in := &input{}
	var others sharing
	var format, start string
	cmd := &cobra.Command{
		Use:   "forecast [PATH…]",
		Short: "Show the plan hour by hour, and when something runs out",
		Long: `Walks the households found at the paths (see check) through their plan, hour by hour, and
shows who walks when under which load, what they spend, drink and eat, where they collect water,
and when a stock is first short: water, food, sodium, light, fuel and doses.

The figures are averages by published formulas; the page ends with what is taken for granted. It
is no medical advice.

Exit code 0: everything was forecast, whatever runs short. 2: something could not be read.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			in.paths = args
			if err := oneOf("format", format, "text", "json"); err != nil {
				return err
			}
			var o lint.Options
			if cmd.Flags().Changed("start") {
				var err error
				if o.Start.Value, err = unit.ParseClock(start); err != nil {
					return fmt.Errorf("--start: %w", err)
				}
				o.Start.Set = true
			}
			mask, err := others.mask(in.rules, cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			r, err := a.read(in, o)
			if err != nil {
				return err
			}
			if mask != nil {
				var hs []finding.Shared
				for _, one := range r.households {
					hs = append(hs, mask.Measured(one.Household, one.Facts))
				}
				if err := share(mask, "forecast", r.on, format, cmd.OutOrStdout(), hs, r.findings); err != nil {
					return err
				}
				return r.end()
			}
			f := report.Forecasts{Version: version(), On: r.on, Findings: r.findings}
			for _, one := range r.households {
				f.Households = append(f.Households, report.Forecast{Measured: measured(one), Plan: one.Plan, Result: one.Forecast})
			}
			out := cmd.OutOrStdout()
			write := report.ForecastText
			if format == "json" {
				write = report.ForecastJSON
			}
			if err := write(out, &f, report.Options{Colour: colour(out)}); err != nil {
				return fmt.Errorf("the forecast could not be written: %w", err)
			}
			return r.end()
		},
	}
	in.flags(cmd)
	others.flags(cmd)
	cmd.Flags().StringVar(&start, "start", "", "begin at this `time` of day, such as 18:00, instead of the hour of the plans")
	cmd.Flags().StringVar(&format, "format", "text", "`text` or json")
	return cmd
}
