package main

import (
	"io"
	"slices"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/report"
)

// ready gives the run and the formats what they need to be written: the rules,
// which take a while to compile and are listed by some formats only, and the level that fails.
func (o *outputs) ready(run *finding.Run, errs io.Writer, failOn string) error {
	if failOn != "never" {
		o.options.FailOn = finding.Level(failOn)
	}
	if !o.main.NeedsRules && !slices.ContainsFunc(o.extra, func(x outputFile) bool { return x.format.NeedsRules }) {
		return nil
	}
	b, err := bench(errs)
	if err == nil {
		run.Rules = lint.Rules(b)
	}
	return err
}

// terminal gives the options of the form that goes to standard output.
func (o *outputs) terminal(w io.Writer) report.Options {
	opt := o.options
	opt.Colour = colour(w)
	return opt
}
