package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/private"
)

// knownLists refuses names of official lists that the standard does not have.
func knownLists(errs io.Writer, rules *standards, names []string) error {
	if len(names) == 0 {
		return nil
	}
	b, err := rules.rulebook(errs)
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
	var out outputs
	var b bounds
	var store caching
	var others sharing
	var failOn, show, part, since, at string
	var untouched bool
	cmd := &cobra.Command{
		Use:         "check [PATH…]",
		Annotations: map[string]string{partial: "yes"},
		Short:       "Judge households and print findings at the lines to change",
		Long: `Judges the households found at the paths: folders, kit files, or a folder followed by
/... for every household in it and below. Without a path: ./...

Exit code 0: nothing at or above the level of --fail-on. 1: findings. 2: something could
not be judged (bad input, a broken rule, a wrong flag).`,
		RunE: func(cmd *cobra.Command, args []string) error {
			in.paths = args
			if err := out.read(); err != nil {
				return err
			}
			if err := openly(cmp.Or(b.Check(), store.check())); err != nil {
				return err
			}
			if untouched && since == "" {
				return openly(errors.New("--untouched goes together with --since"))
			}
			if err := openly(oneOf("fail-on", failOn, "error", "warning", "note", "never")); err != nil {
				return err
			}
			if err := openly(oneOf("show", show, "error", "warning", "note")); err != nil {
				return err
			}
			var which lint.Shard
			if cmd.Flags().Changed("part") {
				var err error
				if which, err = lint.ParseShard(part); err != nil {
					return openly(fmt.Errorf("--part: %w", err))
				}
			}
			p, err := a.place(in)
			if err != nil {
				return err
			}
			if err := knownLists(cmd.ErrOrStderr(), in.rules, in.against); err != nil {
				return err
			}
			ctx, errs := cmd.Context(), cmd.ErrOrStderr()
			mask, err := others.mask(in.rules, errs)
			if err != nil {
				return err
			}
			states := p.states()
			defer states.close()
			o := lint.Options{
				Patterns: p.patterns, Options: in.one(p), Workers: runtime.GOMAXPROCS(0),
				Part: which, Least: finding.Level(show), Spool: temporary, Alias: alias(mask),
			}
			if cmd.Flags().Changed("at") {
				if o.Commit, _, err = states.commit(ctx, "--at", at); err != nil {
					return err
				}
			}
			tree, err := states.tree(ctx, o.Commit)
			if err != nil {
				return fmt.Errorf("--at: %w", err)
			}
			if cmd.Flags().Changed("since") {
				if o.Since, err = states.since(ctx, in.rules, "--since", since, o.Commit); err != nil {
					return err
				}
				o.Since.All = untouched
			}
			j, err := a.judging(ctx, in, b, &store, p, states, errs)
			if err != nil {
				return err
			}
			defer j.close()
			res := j.check(ctx, tree, o)
			defer res.Close()
			run := &res.Run
			if mask != nil {
				if run = mask.Run(run); which.Whole() {
					run = private.Fewer(run)
				}
			}
			if err := out.ready(run, in.rules, errs, failOn); err != nil {
				return err
			}
			if err := out.write(run, cmd.OutOrStdout()); err != nil {
				return err
			}
			if err := j.differs(); err != nil {
				return err
			}
			return verdict(&res.Run, res.Unfit, failOn)
		},
	}
	in.judged(cmd)
	in.heldAgainst(cmd)
	out.flags(cmd)
	b.flags(cmd)
	store.flags(cmd)
	others.flags(cmd)
	cmd.Flags().StringVar(&since, "since", "", "tell what is new and what is mended since this `revision` of the git repository, and fail on what is new only; REV... means where the present branch left REV")
	cmd.Flags().StringVar(&at, "at", "", "judge what was committed in this `revision` instead of what lies on the disk")
	cmd.Flags().BoolVar(&untouched, "untouched", false, "with --since, judge also the households that no change touches")
	cmd.Flags().StringVar(&part, "part", "", "judge only this `part` of the households, such as 3/8: the third of eight; kitmuster merge joins the parts")
	failOnFlag(cmd, &failOn)
	cmd.Flags().StringVar(&show, "show", "note", "print findings of this `level` or graver: error, warning or note; all are counted")
	return cmd
}

// temporary makes a file that is gone when the program ends.
func temporary() (*os.File, error) {
	f, err := os.CreateTemp("", "kitmuster-*")
	if err == nil {
		err = os.Remove(f.Name()) // open files outlive their names here; elsewhere the name stays until the folder is cleaned
	}
	return f, err
}
