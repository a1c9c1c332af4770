package main

import "github.com/spf13/cobra"

func (a *app) describe() *cobra.Command {
	k := &keeping{in: &input{}}
	cmd := &cobra.Command{
		Use:   "describe [PATH]",
		Short: "Go through things of which only the name is written, and record what they are",
		Long: `Asks of each thing of one household that has a name and nothing that says its use, whether it is
what its name says: Enter writes that into its files, n leaves it. Then it asks for amounts one by one,
and Enter leaves an amount out. Nothing is guessed: what you do not confirm is not written.

Each answer is written before the next question, so you can stop anywhere.

Exit code 0: done, or stopped. 2: something could not be read or written, and it says what.`,
		Args: oneHousehold,
		RunE: func(cmd *cobra.Command, args []string) error {
			t, err := k.talk(a, cmd, args)
			if err != nil {
				return err
			}
			return t.Describe()
		},
	}
	k.flags(cmd)
	return cmd
}
