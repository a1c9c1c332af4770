package main

import (
	"cmp"
	"fmt"

	"github.com/spf13/cobra"

	"kitmuster/lint/drill"
	"kitmuster/lint/finding"
	"kitmuster/lint/report"
)

func (a *app) drill() *cobra.Command {
	in := &input{}
	var b bounds
	var others sharing
	var format, show string
	cmd := &cobra.Command{
		Use:   "drill [PATH…]",
		Short: "Show what is left when a pack is lost, someone is alone, or help is late",
		Long: `Changes the households found at the paths (see check) in one way after another, measures and
judges each again, and shows how many hours of every stock it costs, what nobody can do any
more, and which findings are new: each pack lost; each person alone; each pair apart from the
others; each carrier unable to carry; each other season; help a day late; no water on the
way; what is quick to drop left behind; and every two packs lost, for up to 8 packs. Then the
single points of failure, each at its line.

Exit code 0: everything was drilled. 2: something could not be read, or a rule broke.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			in.paths = args
			if err := oneOf("format", format, "text", "json"); err != nil {
				return err
			}
			if err := cmp.Or(oneOf("show", show, "error", "warning", "note"), b.Check()); err != nil {
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
			if _, err := in.rules.rulebook(cmd.ErrOrStderr()); err != nil { // its faults are told once, before anyone is drilled
				return err
			}
			one := in.one(p)
			one.From = finding.Level(show)
			res := a.make(cmd, newJudgingWall(in, b, p, one), one, p, &drill.Product)
			defer res.Close()
			out := cmd.OutOrStdout()
			of := func(h finding.Household) drill.Drilled { return drill.Drilled{Household: h} }
			if mask != nil {
				return cmp.Or(shared(mask, "drilled", format, out, res, of, mask.Drilled), fit(res))
			}
			write := report.DrillsText
			if format == "json" {
				write = report.DrillsJSON
			}
			if err := write(out, &report.Made[drill.Drilled]{Run: &res.Run, Households: made(res, of)}, report.Options{Colour: colour(out)}); err != nil {
				return fmt.Errorf("the drills could not be written: %w", plain(err))
			}
			return fit(res)
		},
	}
	b.flags(cmd)
	in.judged(cmd)
	in.says(cmd)
	others.flags(cmd)
	cmd.Flags().StringVar(&format, "format", "text", "`text` or json")
	cmd.Flags().StringVar(&show, "show", "error", "judge by the rules of this `level` and above: error, warning or note")
	return cmd
}
