package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"kitmuster/lint/load"
)

func (a *app) schema() *cobra.Command {
	var format string
	cmd := &cobra.Command{
		Use:   "schema",
		Short: "Print what a kit may say: every field, in CUE or as JSON Schema",
		Long: `Prints the schema of kits, with what each field means. A kit needs none of it. In CUE it is a
package that a kit of the same repository may import, as in schema.#Person & {age: "42 y"};
as JSON Schema (draft 2020-12) it serves editors, and kits that are kept as JSON.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return fmt.Errorf("schema takes no path, and %q is one: it prints the schema of every kit", args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := oneOf("format", format, "cue", "json-schema"); err != nil {
				return err
			}
			text, err := load.CUESchema(), error(nil)
			if format == "json-schema" {
				text, err = load.JSONSchema()
			}
			if err == nil {
				_, err = cmd.OutOrStdout().Write(text)
			}
			if err != nil {
				return fmt.Errorf("the schema could not be written: %w", plain(err))
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&format, "format", "cue", "`cue` or json-schema")
	return cmd
}
