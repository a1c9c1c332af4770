package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
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

// checking is what the flags of a check say.
type checking struct {
	in        *input
	out       outputs
	bounds    bounds
	store     caching
	others    sharing
	failOn    string
	show      string
	part      string
	since     string
	at        string
	report    string
	staged    bool
	fix       bool
	untouched bool
}

func (a *app) check() *cobra.Command {
	x := &checking{in: &input{}}
	cmd := &cobra.Command{
		Use:         "check [PATH…]",
		Annotations: map[string]string{partial: "yes"},
		Short:       "Judge households and print findings at the lines to change",
		Long: `Judges the households found at the paths: folders, kit files, or a folder followed by
/... for every household in it and below. Without a path: ./...

Exit code 0: nothing at or above the level of --fail-on. 1: findings. 2: something could
not be judged (bad input, a broken rule, a wrong flag).`,
		RunE: func(cmd *cobra.Command, args []string) error {
			x.in.paths = args
			return x.run(a, cmd)
		},
	}
	x.in.judged(cmd)
	x.in.says(cmd)
	x.in.heldAgainst(cmd)
	x.out.flags(cmd)
	x.bounds.flags(cmd)
	x.store.flags(cmd)
	x.in.store = &x.store
	x.others.flags(cmd)
	cmd.Flags().StringVar(&x.since, "since", "", "tell what is new and what is fixed since this `revision` of the git repository, and fail on what is new only; REV... means where the present branch left REV")
	cmd.Flags().StringVar(&x.report, "since-report", "", "tell what is new and what is fixed since the check that wrote this `file` (json or sarif), and fail on what is new only; needs no git")
	cmd.Flags().StringVar(&x.at, "at", "", "judge what was committed in this `revision` instead of what lies on the disk")
	cmd.Flags().BoolVar(&x.staged, "staged", false, "judge what is staged for the next commit instead of what lies on the disk, and tell what is new since HEAD")
	cmd.Flags().BoolVar(&x.untouched, "untouched", false, "with --since, judge also the households that no change touches")
	cmd.Flags().StringVar(&x.part, "part", "", "judge only this `part` of the households, such as 3/8: the third of eight; kitmuster merge joins the parts")
	cmd.Flags().BoolVar(&x.fix, "fix", false, "first put right slips in the files that have one sure answer, such as a quote that is missing or a name that is misspelt; no value is made up")
	failOnFlag(cmd, &x.failOn)
	cmd.Flags().StringVar(&x.show, "show", "note", "print findings of this `level` or above: error, warning or note; all are counted")
	return cmd
}

// look looks at the flags before anything is read, and gives the part of the households to judge.
func (x *checking) look(cmd *cobra.Command) (which lint.Shard, err error) {
	if err := x.out.read(); err != nil {
		return which, err
	}
	if err := openly(cmp.Or(x.bounds.Check(), x.store.check())); err != nil {
		return which, err
	}
	if x.untouched && x.since == "" && !x.staged {
		return which, openly(errors.New("--untouched goes together with --since or --staged"))
	}
	if cmd.Flags().Changed("since-report") && (cmd.Flags().Changed("since") || x.untouched) {
		return which, openly(errors.New("--since-report stands in place of --since, and judges everyone; leave --since and --untouched out"))
	}
	if x.staged && cmd.Flags().Changed("at") {
		return which, openly(errors.New("--staged does not go together with --at: one is what is staged, the other what was committed; leave one out"))
	}
	if x.fix && (x.staged || cmd.Flags().Changed("at") || x.others.safe) {
		return which, openly(errors.New("--fix changes the files on the disk and names their lines; leave --at, --staged and --share-safe out"))
	}
	if err := openly(oneOf("fail-on", x.failOn, "error", "warning", "note", "never")); err != nil {
		return which, err
	}
	if err := openly(oneOf("show", x.show, "error", "warning", "note")); err != nil {
		return which, err
	}
	if cmd.Flags().Changed("part") {
		if which, err = lint.ParseShard(x.part); err != nil {
			return which, openly(fmt.Errorf("--part: %w", err))
		}
	}
	known := finding.Run{Since: cmp.Or(x.since, x.report)}
	if x.staged {
		known.Since = cmp.Or(known.Since, "HEAD")
	}
	if cmd.Flags().Changed("part") {
		known.Part = x.part
	}
	return which, openly(x.out.fits(&known))
}

func (x *checking) run(a *app, cmd *cobra.Command) error {
	which, err := x.look(cmd)
	if err != nil {
		return err
	}
	p, err := a.place(x.in)
	if err != nil {
		return err
	}
	ctx, errs := cmd.Context(), cmd.ErrOrStderr()
	if err := knownLists(errs, x.in.rules, x.in.against); err != nil {
		return err
	}
	mask, err := x.others.mask(x.in.rules, errs)
	if err != nil {
		return err
	}
	if x.fix {
		if err := a.fixSlips(cmd, x.in, x.bounds, p); err != nil {
			return err
		}
	}
	states := p.states()
	defer states.close()
	o := lint.Options{
		Patterns: p.patterns, Options: x.in.one(p), Workers: runtime.GOMAXPROCS(0),
		Part: which, Least: finding.Level(x.show), Spool: temporary, Alias: alias(mask),
	}
	tree, err := x.state(ctx, cmd, states, &o)
	if err != nil {
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
	run := &res.Run
	if mask != nil {
		if run = mask.Run(run); which.Whole() {
			run = private.Fewer(run)
		}
	}
	if err := x.out.ready(run, x.in.rules, errs, x.failOn); err != nil {
		return err
	}
	if err := x.out.write(run, cmd.OutOrStdout()); err != nil {
		return err
	}
	if err := j.differs(); err != nil {
		return err
	}
	return verdict(&res.Run, res.Unfit, x.failOn)
}

// state finds what is to be judged, the disk, a commit or what is staged for one, and what it is compared with.
func (x *checking) state(ctx context.Context, cmd *cobra.Command, states *states, o *lint.Options) (tree fs.FS, err error) {
	from, since := "--at", x.since
	switch {
	case cmd.Flags().Changed("at"):
		o.Commit, _, err = states.commit(ctx, "--at", x.at)
	case x.staged:
		from = "--staged"
		var first bool
		o.Commit, first, err = states.stage(ctx)
		if since == "" && !first && x.report == "" {
			since = "HEAD"
		}
	}
	if err != nil {
		return nil, err
	}
	if tree, err = states.tree(ctx, o.Commit); err != nil {
		return nil, fmt.Errorf("%s: %w", from, err)
	}
	if cmd.Flags().Changed("since-report") {
		o.Earlier, err = x.earlier(o)
		return tree, err
	}
	if since != "" || cmd.Flags().Changed("since") {
		if o.Since, err = states.since(ctx, "--since", since, o.Commit); err != nil {
			return nil, err
		}
		o.Since.All = x.untouched
	}
	return tree, nil
}

// earlier reads the report of an earlier check.
func (x *checking) earlier(o *lint.Options) (*lint.Earlier, error) {
	f, run, _, err := openCheck(x.report)
	if err != nil {
		return nil, fmt.Errorf("--since-report: %w", err)
	}
	defer f.Close()
	e, err := lint.EarlierOf(x.report, run)
	if err != nil {
		return nil, fmt.Errorf("--since-report: %w", err)
	}
	if run.On > o.On.String() {
		return nil, fmt.Errorf("--since-report: %s is as of %s, a later day than that of this check, %s; write the later one as --on", x.report, run.On, o.On)
	}
	if v := version(); run.Version != v {
		e.Remarks = append(e.Remarks, fmt.Sprintf("the report was written by version %s of the program, and this is %s: what is new or fixed may come from its rules", run.Version, v))
	}
	if s := x.in.rules.name(); run.Standards != s {
		e.Remarks = append(e.Remarks, fmt.Sprintf("the report was judged by %s, and here it is %s: what is new or fixed may come from that", cmp.Or(run.Standards, "the base standard alone"), cmp.Or(s, "the base standard alone")))
	}
	return e, nil
}

// temporary makes a file that is gone when the program ends.
func temporary() (*os.File, error) {
	f, err := os.CreateTemp("", "kitmuster-*")
	if err == nil {
		err = os.Remove(f.Name()) // open files outlive their names here; elsewhere the name stays until the folder is cleaned
	}
	return f, err
}
