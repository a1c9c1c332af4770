package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"kitmuster/lint/unit"
	"kitmuster/lint/upkeep"
)

// lookAhead is how many days ahead things are renewed: what falls due before the next time somebody looks. Our own figure.
const lookAhead = 60

func (a *app) renew() *cobra.Command {
	k := &keeping{in: &input{}}
	var until string
	cmd := &cobra.Command{
		Use:   "renew [PATH]",
		Short: "Go through what is past its day or near it, and write down the new days",
		Long: `Asks for each thing of one household that is past its day, or will be soon, what became of it:
exchanged (type the new last day as the label has it), used up, opened today, or later. Writes the
answer into the household's files before it asks the next, and ends with a list of what to get and
what is still due. ? shows what can be typed. A day that can be read in two ways must be chosen.

The label decides how long a thing is good; for medicines ask a practitioner or a pharmacist.

Exit code 0: done, or stopped. 2: something could not be read or written, and it says what.`,
		Args: oneHousehold,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := k.talk(a, cmd, args)
			if err != nil {
				return err
			}
			last := t.On.AddDays(lookAhead)
			if cmd.Flags().Changed("until") {
				if last, err = unit.ParseDate(until); err != nil {
					return fmt.Errorf("--until: %w", err)
				}
			}
			return t.Renew(upkeep.Renewing{Until: last})
		},
	}
	k.flags(cmd)
	cmd.Flags().StringVar(&until, "until", "", "ask also for what falls due until this `date` (60 days ahead if not given)")
	return cmd
}
