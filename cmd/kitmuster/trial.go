package main

import (
	"context"
	"fmt"
	"io"
	"runtime"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/judge"
	"kitmuster/lint/private"
	"kitmuster/lint/report"
	"kitmuster/lint/trial"
)

func (a *app) standardTrial() *cobra.Command {
	in := &input{}
	var b bounds
	var others sharing
	var base, format string
	cmd := &cobra.Command{
		Use:         "trial NEW [--base OLD] [PATH…]",
		Annotations: map[string]string{partial: "yes"},
		Short:       "Show what another standard would mean for every household, before it is adopted",
		Long: `Judges the households at the paths (./... if none is given) by two standards, NEW and OLD,
each a folder or a packed file, and shows who newly fails what and what is fixed, how much is missing
altogether, and what differs between the two. OLD is the base standard alone if it is not given.
What kitmuster.json names does not count here.

Exit code 0: every household was judged by both. 2: something could not be judged.`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := openly(oneOf("format", format, "text", "json")); err != nil {
				return err
			}
			if err := openly(b.Check()); err != nil {
				return err
			}
			write := map[string]func(io.Writer, *trial.Trial, report.Options) error{"text": report.TrialText, "json": report.TrialJSON}[format]
			ctx, errs, out := cmd.Context(), cmd.ErrOrStderr(), cmd.OutOrStdout()
			var sides [2]*tried
			for i, s := range []*standards{{flags: []string{base}, word: "--base"}, {flags: args[:1], word: "NEW"}} {
				mine := *in
				mine.paths, mine.rules = args[1:], s
				var err error
				if sides[i], err = a.try(&mine, errs); err != nil {
					return err
				}
			}
			old, now := sides[0], sides[1]
			mask, err := others.maskBoth(old.rulebook, now.rulebook, errs)
			if err != nil {
				return err
			}
			// One standard after the other: both together would take the memory of both.
			for _, s := range sides {
				if err := s.check(ctx, a, b, errs); err != nil {
					return err
				}
				defer s.result.Close()
			}
			if n := len(now.result.Run.Households); mask != nil && n < private.Few {
				return openly(fmt.Errorf("--share-safe: a trial tells which rules object, and among fewer than %d households that tells who lives in them; here there are %d", private.Few, n))
			}
			t, err := trial.Make(old.result, now.result, old.rulebook, now.rulebook)
			if err != nil {
				return err
			}
			t.Old, t.New = old.names(), now.names()
			if mask != nil {
				t = mask.Trial(t)
			}
			if err := write(out, t, report.Options{Colour: colour(out)}); err != nil {
				return fmt.Errorf("the trial could not be written: %w", plain(err))
			}
			if old.result.Unfit || now.result.Unfit || t.Partial != "" {
				return exit{exitUnfit}
			}
			return nil
		},
	}
	in.flags(cmd)
	in.says(cmd)
	others.flags(cmd)
	cmd.Flags().StringVar(&base, "base", onlyBase, "the `standard` that judges so far: a folder, a packed file, or base alone")
	cmd.Flags().StringVar(&format, "format", "text", "`text` or json")
	b.flags(cmd)
	return cmd
}

// tried is one of the two standards of a trial.
type tried struct {
	in       *input
	place    *place
	rulebook *judge.Rulebook
	result   *lint.Result
}

// try reads one of the standards; what is wrong with it is told before anyone is judged.
func (a *app) try(in *input, errs io.Writer) (*tried, error) {
	p, err := a.place(in)
	if err != nil {
		return nil, err
	}
	rulebook, err := in.rules.rulebook(errs)
	if err != nil {
		return nil, err
	}
	return &tried{in: in, place: p, rulebook: rulebook}, nil
}

// check judges everyone by the standard.
func (s *tried) check(ctx context.Context, a *app, b bounds, errs io.Writer) error {
	states := s.place.states()
	defer states.close()
	j, err := a.judging(ctx, s.in, b, s.place, states, errs)
	if err != nil {
		return err
	}
	defer j.close()
	s.result = j.check(ctx, s.place.disk.FS, lint.Options{
		Patterns: s.place.patterns, Options: s.in.one(s.place), Workers: runtime.GOMAXPROCS(0), Spool: temporary,
	})
	return nil
}

// names is what the standard is called.
func (s *tried) names() trial.Standard {
	if n := len(s.in.rules.resolved); n > 0 {
		r := s.in.rules.resolved[n-1]
		return trial.Standard{Name: r.name, Digest: r.digest}
	}
	return trial.Standard{Name: s.rulebook.Standards()[0].String()}
}
