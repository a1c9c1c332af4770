package main

import (
	"fmt"
	"io"
	"runtime"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/report"
)

// knownLists refuses names of official lists that the standard does not have.
func knownLists(errs io.Writer, names []string) error {
	if len(names) == 0 {
		return nil
	}
	b, err := bench(errs)
	if err != nil {
		return err
	}
	for _, n := range names {
		if _, ok := b.List(n); !ok {
			return fmt.Errorf("--against: %s", b.NoList(n))
		}
	}
	return nil
}

func (a *app) check() *cobra.Command {
	in := &input{}
	var format, failOn, show string
	var against []string
	cmd := &cobra.Command{
		Use:   "check [PATH…]",
		Short: "Judge households and print findings at the lines to change",
		Long: `Judges the households found at the paths: folders, kit files, or a folder followed by
/... for every household in it and below. Without a path: ./...

Exit code 0: nothing at or above the level of --fail-on. 1: findings. 2: something could
not be judged (bad input, a broken rule, a wrong flag).`,
		RunE: func(cmd *cobra.Command, args []string) error {
			in.paths = args
			f, err := report.Named(format)
			if err != nil {
				return fmt.Errorf("--format: %w", err)
			}
			if err := oneOf("fail-on", failOn, "error", "warning", "note", "never"); err != nil {
				return err
			}
			if err := oneOf("show", show, "error", "warning", "note"); err != nil {
				return err
			}
			p, err := a.place(in)
			if err != nil {
				return err
			}
			if err := knownLists(cmd.ErrOrStderr(), against); err != nil {
				return err
			}
			wall := newWall(in, against, p.disk.Show)
			defer wall.close()
			res := lint.Check(cmd.Context(), p.disk.FS, lint.Options{
				Patterns: p.patterns, On: p.on, Season: in.season, Show: p.disk.Show, Workers: runtime.GOMAXPROCS(0), Run: wall.judge,
			})
			if err := cmd.Context().Err(); err != nil {
				return fmt.Errorf("interrupted before every household was judged")
			}
			res.Run.Version = version()
			res.Run.Least = finding.Level(show)
			for _, f := range res.Faults {
				fmt.Fprintln(cmd.ErrOrStderr(), f)
			}
			out := cmd.OutOrStdout()
			if err := f.Write(out, &res.Run, report.Options{Colour: colour(out)}); err != nil {
				return fmt.Errorf("the findings could not be written: %w", err)
			}
			switch {
			case res.Unfit:
				return exit{exitUnfit}
			case failOn != "never" && res.Run.Worst().Rank() >= finding.Level(failOn).Rank():
				return exit{exitFindings}
			}
			return nil
		},
	}
	in.flags(cmd)
	cmd.Flags().StringSliceVar(&against, "against", nil, "hold every household against these official `lists` too; kitmuster rules --lists names them")
	cmd.Flags().StringVar(&format, "format", "text", "`text` or json")
	cmd.Flags().StringVar(&failOn, "fail-on", "error", "exit 1 at findings of this `level` or graver: error, warning, note or never")
	cmd.Flags().StringVar(&show, "show", "note", "print findings of this `level` or graver: error, warning or note; all are counted")
	return cmd
}
