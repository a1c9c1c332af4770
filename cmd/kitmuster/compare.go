package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"runtime"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/compare"
	"kitmuster/lint/report"
)

// comparing is one run of compare.
type comparing struct {
	in     *input
	bounds bounds
	store  caching
	others sharing
	format string
}

func (a *app) compare() *cobra.Command {
	x := &comparing{in: &input{}}
	cmd := &cobra.Command{
		Use:         "compare REV [REV] [-- PATH…]",
		Annotations: map[string]string{partial: "yes"},
		Short:       "Show what changed since a revision: masses, capabilities, days, dates, findings",
		Long: `Measures and judges the households that a change touches, as they were in a revision of the
git repository and as they lie on the disk (or in a second revision), both as of the same day,
and shows what is different. REV... means where the present branch left REV. Paths, as for
check, go after --.

Exit code 0: both states were compared. 2: something could not be judged.`,
		Args: func(cmd *cobra.Command, args []string) error {
			revs := len(args)
			if n := cmd.ArgsLenAtDash(); n >= 0 {
				revs = n
			}
			switch {
			case revs == 0:
				//lint:ignore ST1005 the dots are git's, and part of the example
				return errors.New("write the revision to compare with, such as HEAD or main...")
			case revs > 2:
				return errors.New("write one or two revisions; paths go after --")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return x.run(a, cmd, args) },
	}
	x.in.judged(cmd)
	x.in.says(cmd)
	x.bounds.flags(cmd)
	x.store.flags(cmd)
	x.in.store = &x.store
	x.others.flags(cmd)
	cmd.Flags().StringVar(&x.format, "format", "text", "`text`, markdown or json")
	return cmd
}

func (x *comparing) run(a *app, cmd *cobra.Command, args []string) error {
	revs := args
	if n := cmd.ArgsLenAtDash(); n >= 0 {
		revs, x.in.paths = args[:n], args[n:]
	}
	if err := openly(oneOf("format", x.format, "text", "markdown", "json")); err != nil {
		return err
	}
	if err := openly(cmp.Or(x.bounds.Check(), x.store.check())); err != nil {
		return err
	}
	p, err := a.place(x.in)
	if err != nil {
		return err
	}
	ctx, errs := cmd.Context(), cmd.ErrOrStderr()
	mask, err := x.others.mask(x.in.rules, errs)
	if err != nil {
		return err
	}
	states := p.states()
	defer states.close()
	o := lint.Options{Patterns: p.patterns, Options: x.in.one(p), Workers: runtime.GOMAXPROCS(0), Spool: temporary, Alias: alias(mask), Want: &compare.Product}
	if len(revs) == 2 {
		if o.Commit, _, err = states.commit(ctx, "compare", revs[1]); err != nil {
			return err
		}
	}
	tree, err := states.tree(ctx, o.Commit)
	if err != nil {
		return err
	}
	if o.Since, err = states.since(ctx, "compare", revs[0], o.Commit); err != nil {
		return err
	}
	end, err := a.byThen(ctx, x.in, x.bounds, p, states, errs, o.Since)
	if err != nil {
		return err
	}
	defer end()
	j, res, end, err := a.judged(ctx, x.in, x.bounds, p, states, errs, tree, o)
	if err != nil {
		return err
	}
	defer end()
	out := cmd.OutOrStdout()
	write := map[string]func(w io.Writer, c *compare.Comparison, o report.Options) error{"text": report.CompareText, "markdown": report.CompareMarkdown, "json": report.CompareJSON}[x.format]
	c, err := compare.Make(res)
	if err != nil {
		return fmt.Errorf("the comparison could not be made: %w", plain(err))
	}
	if mask != nil {
		c = mask.Comparison(c)
	}
	if err := write(out, c, report.Options{Colour: colour(out)}); err != nil {
		return fmt.Errorf("the comparison could not be written: %w", plain(err))
	}
	if err := j.differs(); err != nil {
		return err
	}
	if res.Unfit || res.Run.Partial != "" {
		return exit{exitUnfit}
	}
	return nil
}
