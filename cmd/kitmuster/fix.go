package main

import (
	"context"
	"fmt"
	"io/fs"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/rewrite"
	"kitmuster/lint/words"
)

// fixProduct makes a *slips.
var fixProduct = lint.Product{Name: "fix", Make: fixable}

// slips are those of one household that have one sure answer, and its files without them.
type slips struct {
	Household finding.Household
	Done      []rewrite.Fixed
	Files     []rewrite.File
}

func fixable(_ context.Context, tree fs.FS, _ *judge.Rulebook, dir string, o household.Options) household.Outcome {
	show := o.Show
	if show == nil {
		show = func(p string) string { return p }
	}
	out := &slips{Household: finding.Household{Path: show(dir)}}
	out.Files, out.Done = rewrite.Fix(tree, dir, load.Options{Show: o.Show})
	return household.Outcome{Household: out.Household, Extra: out}
}

// fixSlips puts right the slips of all households at the paths, and says each with its line. What cannot be written is told, and the others
// are written all the same.
func (a *app) fixSlips(cmd *cobra.Command, in *input, b bounds, p *place) error {
	errs := cmd.ErrOrStderr()
	if err := recoverChanges(errs); err != nil {
		return err
	}
	one := in.one(p)
	res := a.make(cmd, newWall(in, b, p, one), one, p, &fixProduct)
	defer res.Close()
	for s, err := range made(res, func(h finding.Household) slips { return slips{Household: h} }) {
		if err != nil {
			return err
		}
		if len(s.Files) == 0 {
			continue
		}
		if err := applyTo(p, s.Household.Path, s.Files); err != nil {
			fmt.Fprintf(errs, "kitmuster: %s is not changed: %s\n", s.Household.Path, plain(err))
			continue
		}
		for _, d := range s.Done {
			was, now := strings.Fields(words.Clean(d.Was)), strings.Fields(words.Clean(d.Now))
			fmt.Fprintf(errs, "fixed %s: %s → %s\n", d.At, strings.Join(was, " "), strings.Join(now, " "))
		}
	}
	return nil
}
