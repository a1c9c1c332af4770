package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"kitmuster/lint/finding"
	"kitmuster/lint/private"
	"kitmuster/lint/report"
)

func (a *app) merge() *cobra.Command {
	var out outputs
	var failOn string
	in := &input{}
	cmd := &cobra.Command{
		Use:   "merge FILE…",
		Short: "Join the parts that check --part wrote to what one check would have written",
		Long: `Reads the parts of one check, in JSON or SARIF, and writes the whole, as one check of
everything would have written it. All parts must be there, of one audit date, one version of the
program and one earlier state.

Exit codes are those of check.`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := oneOf("fail-on", failOn, "error", "warning", "note", "never"); err != nil {
				return err
			}
			var parts []*finding.Run
			for _, name := range args {
				f, run, form, err := openCheck(name)
				if err != nil {
					return err
				}
				defer f.Close()
				if v := version(); run.Version != v {
					return fmt.Errorf("%s was written by version %s of the program, and this is %s; merge with the one that judged", name, run.Version, v)
				}
				if out.format == "" {
					out.format = form
				}
				parts = append(parts, run)
			}
			if err := out.read(); err != nil {
				return err
			}
			whole, err := finding.Merge(parts)
			if err != nil {
				return err
			}
			whole = private.Fewer(whole)
			if _, err := a.place(in); err != nil {
				return err
			}
			if s := in.rules.name(); s != whole.Standards {
				return fmt.Errorf("the parts were judged by %s, and here it is %s; merge in the same repository, or name the same with --standard", cmp.Or(whole.Standards, "the base standard alone"), cmp.Or(s, "the base standard alone"))
			}
			if err := out.ready(whole, in.rules, cmd.ErrOrStderr(), failOn); err != nil {
				return err
			}
			if err := out.write(whole, cmd.OutOrStdout()); err != nil {
				return err
			}
			unfit, err := unjudged(whole)
			if err != nil {
				return err
			}
			return verdict(whole, unfit, failOn)
		},
	}
	out.flags(cmd)
	cmd.Flags().Lookup("format").DefValue = ""
	out.format = ""
	failOnFlag(cmd, &failOn)
	in.rules = &standards{}
	in.rules.addTo(cmd)
	return cmd
}

// openCheck reads what a check wrote to a file. The findings are read from the file at each walk, so close it after the last.
func openCheck(name string) (f *os.File, run *finding.Run, form string, err error) {
	if info, err := os.Stat(name); err == nil && !info.Mode().IsRegular() { // opening a pipe waits for its writer
		return nil, nil, "", fmt.Errorf("%s cannot be read: it is not an ordinary file; write what the check prints to a file first", name)
	}
	if f, err = os.Open(name); err != nil {
		return nil, nil, "", fmt.Errorf("%s cannot be read: %w", name, plain(err))
	}
	if run, form, err = readPart(f); err != nil {
		_ = f.Close() // nothing was written to it
		return nil, nil, "", fmt.Errorf("%s is no check that check --format json or sarif wrote: %w", name, err)
	}
	return f, run, form, nil
}

// readPart reads a part in whichever form it has, and names the form.
func readPart(f *os.File) (*finding.Run, string, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, "", plain(err)
	}
	head := make([]byte, 4096)
	n, err := f.ReadAt(head, 0)
	if err != nil && err != io.EOF {
		return nil, "", plain(err)
	}
	if bytes.Contains(head[:n], []byte(`"$schema"`)) {
		run, err := report.ReadSARIF(f, info.Size())
		return run, "sarif", err
	}
	run, err := report.ReadJSON(f, info.Size())
	return run, "json", err
}

// unjudged reports whether something could not be judged, as far as a check's outputs say it.
func unjudged(run *finding.Run) (bool, error) {
	if run.Since == "" && run.Summary.Unjudged > 0 {
		return true, nil
	}
	for f, err := range run.Findings {
		if err != nil {
			return false, err
		}
		if f.OfInput() && f.State != finding.Unchanged && f.State != finding.Mended {
			return true, nil
		}
	}
	return false, nil
}

func failOnFlag(cmd *cobra.Command, failOn *string) {
	cmd.Flags().StringVar(failOn, "fail-on", "error", "exit 1 at findings of this `level` or above: error, warning, note or never")
}

// verdict is the exit code of a check.
func verdict(run *finding.Run, unfit bool, failOn string) error {
	switch {
	case unfit || run.Partial != "":
		return exit{exitUnfit}
	case failOn != "never" && run.Summary.Worst.Rank() >= finding.Level(failOn).Rank():
		return exit{exitFindings}
	}
	return nil
}
