package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint/upkeep"
)

func (a *app) weigh() *cobra.Command {
	k := &keeping{in: &input{}}
	var w upkeep.Weighing
	var sheet bool
	var from string
	cmd := &cobra.Command{
		Use:   "weigh [PATH]",
		Short: "Go through a kit beside the scale, and write down what it shows",
		Long: `Asks for each thing of one household, in packing order, what the scale shows, and writes the mass
and the day into its files. One line an answer: a number is what one of the thing weighs; Enter leaves
it as it was; ? shows what else can be typed. A figure that is far from the last one must be typed once more.

Each answer is written before the next question, so you can stop anywhere, and what was weighed today
is left out when you go on. --sheet prints lines to fill in instead, and --from reads them back.

What a for, a template, a data file or a shared catalogue makes is never changed; the line is named.

Exit code 0: done, or stopped. 2: something could not be read or written, and it says what.`,
		Args: oneHousehold,
		RunE: func(cmd *cobra.Command, args []string) error {
			if w.Unit != "" {
				if err := oneOf("unit", w.Unit, upkeep.Units...); err != nil {
					return err
				}
			}
			if sheet && from != "" {
				return errors.New("--sheet prints a sheet and --from reads one; leave one out")
			}
			t, err := k.talk(a, cmd, args)
			if err != nil {
				return err
			}
			switch {
			case sheet:
				return t.Sheet(w)
			case from == "-":
				return t.FromSheet(w, "standard input", cmd.InOrStdin())
			case from != "":
				f, err := os.Open(from)
				if err != nil {
					return fmt.Errorf("--from %s: %w", from, plain(err))
				}
				defer f.Close()
				return t.FromSheet(w, from, io.LimitReader(f, mostSheet))
			}
			return t.Weigh(w)
		},
	}
	k.flags(cmd)
	cmd.Flags().StringVar(&w.Unit, "unit", "", "plain numbers are in this `unit`: "+strings.Join(upkeep.Units, ", ")+" (if not given, g, or oz where the household writes most masses so)")
	cmd.Flags().BoolVar(&w.All, "all", false, "ask also for what was weighed today")
	cmd.Flags().BoolVar(&sheet, "sheet", false, "print lines to fill in")
	cmd.Flags().StringVar(&from, "from", "", "read a filled `sheet`; - is standard input")
	return cmd
}

// mostSheet is the most of a filled sheet that is read.
const mostSheet = 4 << 20
