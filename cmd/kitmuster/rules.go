package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint/judge"
)

func (a *app) rules() *cobra.Command {
	return &cobra.Command{
		Use:   "rules [RULE…]",
		Short: "List the rulebook, or explain rules by name",
		RunE: func(cmd *cobra.Command, args []string) error {
			b, err := bench(cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			w := bufio.NewWriter(cmd.OutOrStdout())
			defer w.Flush()
			if len(args) == 0 {
				list(w, b)
				return nil
			}
			for i, name := range args {
				r, ok := b.Rule(name)
				if !ok {
					return errors.New(b.NoRule(name))
				}
				if i > 0 {
					fmt.Fprintln(w)
				}
				explain(w, r)
			}
			return nil
		},
	}
}

// list writes one line for each rule.
func list(w io.Writer, b *judge.Bench) {
	wide := 0
	for _, r := range b.Rules() {
		wide = max(wide, len(r.Name))
	}
	for _, r := range b.Rules() {
		fmt.Fprintf(w, "%-*s  %-7s  %s\n", wide, r.Name, r.Level, r.Title)
	}
	fmt.Fprintf(w, "%d rules; kitmuster rules NAME explains one.\n", len(b.Rules()))
}

// explain writes all that is known of a rule.
func explain(w io.Writer, r *judge.Rule) {
	fmt.Fprintf(w, "%s (%s)\n%s\n\n", r.Name, r.Level, r.Title)
	fmt.Fprintf(w, "Why: %s\n", r.Why)
	fmt.Fprintf(w, "Remedy: %s\n", r.Remedy)
	if r.Caution != "" {
		fmt.Fprintf(w, "Caution: %s\n", r.Caution)
	}
	for _, l := range r.Limits {
		fmt.Fprintf(w, "Limit %s = %s: %s\n    source: %s\n", l.Name, l.Value, l.Meaning, l.Source)
	}
	for _, s := range r.Sources {
		fmt.Fprintf(w, "Source: %s\n", s)
	}
	snippet(w, "Passes:", r.Passes)
	snippet(w, "Fails:", r.Fails)
}

func snippet(w io.Writer, head, text string) {
	fmt.Fprintln(w, head)
	for line := range strings.Lines(strings.TrimRight(text, "\n") + "\n") {
		fmt.Fprint(w, "    ", line)
	}
}
