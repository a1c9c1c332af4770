package main

import "github.com/spf13/cobra"

func (a *app) standard() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "standard",
		Short: "Try a group's standard before it is adopted",
		Args:  cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := cmd.Help(); err != nil {
				return err
			}
			return exit{exitUnfit}
		},
	}
	cmd.AddCommand(a.standardTrial())
	return cmd
}
