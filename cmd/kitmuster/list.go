package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/packing"
	"kitmuster/lint/page"
	"kitmuster/lint/report"
)

func (a *app) list() *cobra.Command {
	in := &input{}
	var b bounds
	var format, file string
	cmd := &cobra.Command{
		Use:   "list [PATH…]",
		Short: "Write packing lists to print and tick off",
		Long: `Writes packing lists of the households found at the paths (see check): what to take from home
at the last minute, every pack from the outside in with count, mass and a box to tick, what
is worn or pocketed, and a card for each person and animal with meeting points, contacts,
allergies, medicines and what to mind; what a card tells a child goes by the ages of the
standard. --format html is one file that prints on A4 and US letter paper; csv has a line for
each thing, and no cards.

From the outside in: compartments with a layer by it, 1 first; then the others, those within
reach while walking before those that need a halt, and of these what comes off in seconds
before what does not; else in the order in which the family wrote them (files by name, then
lines), which is also the order of items and packs.

A packing list is the family's own: it tells names, medicines and where things are. For a
report to show to others, use check or measure with --share-safe.

If part of a household cannot be read, the list says so first, and holds the rest.

Exit code 0: everything was listed. 2: something could not be read, and standard error says what.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			in.paths = args
			if err := oneOf("format", format, "text", "html", "csv"); err != nil {
				return err
			}
			if err := b.Check(); err != nil {
				return err
			}
			if strings.HasSuffix(file, ".cue") {
				return fmt.Errorf("-o %s: this is the name of a kit file, which a list would take the place of; name another", file)
			}
			p, err := a.listed(in, cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			res := a.make(cmd, newJudgingWall(in, b, p, in.one(p)), in.one(p), p, &packing.Product)
			defer res.Close()
			if len(res.Run.Households) > 0 {
				if err := writeLists(res, format, file, cmd.OutOrStdout()); err != nil {
					return err
				}
			}
			if res.Run.Summary.Errors == 0 {
				return nil
			}
			errs := cmd.ErrOrStderr()
			if err := report.Lines(errs, &res.Run, report.Options{Colour: colour(errs)}); err != nil {
				return err
			}
			return exit{exitUnfit}
		},
	}
	in.judged(cmd)
	in.says(cmd)
	b.flags(cmd)
	cmd.Flags().StringVar(&format, "format", "text", "`text`, html or csv")
	cmd.Flags().StringVarP(&file, "output", "o", "", "write this `file`, whole or not at all, instead of standard output")
	return cmd
}

// writeLists writes what was made to standard output, or to a file whole or not at all.
func writeLists(res *lint.Result, format, file string, out io.Writer) error {
	ls := &packing.PackingLists{Version: res.Run.Version, On: res.Run.On, Lists: func(yield func(*packing.PackingList, error) bool) {
		for l, err := range made(res, func(h finding.Household) packing.PackingList { return packing.PackingList{Household: h} }) {
			if (err != nil || l.Household.Judged || len(l.Unread) > 0) && !yield(l, err) {
				return
			}
		}
	}}
	listed := map[string]bool{}
	for l, err := range ls.Lists {
		if err != nil {
			return err
		}
		listed[l.Household.Path] = true
	}
	if len(listed) == 0 {
		return nil
	}
	for f, err := range res.Run.Findings {
		if err != nil {
			return err
		}
		if f.Level == finding.Error && !listed[f.Path] && (len(ls.Left) == 0 || ls.Left[len(ls.Left)-1] != f.Path) {
			ls.Left = append(ls.Left, f.Path)
		}
	}
	write := map[string]func(io.Writer, *packing.PackingLists) error{"text": report.ListText, "html": page.ListHTML, "csv": report.ListCSV}[format]
	if file == "" {
		if err := write(out, ls); err != nil {
			return fmt.Errorf("the packing lists could not be written: %w", plain(err))
		}
		return nil
	}
	f, err := newWholeFile(file)
	if err == nil {
		defer f.drop()
		f.asText()
		err = write(f, ls)
	}
	if err == nil {
		err = f.Close()
	}
	if err == nil {
		err = f.keep()
	}
	if err != nil {
		return fmt.Errorf("%s could not be written: %w", file, plain(err))
	}
	return nil
}

// listed makes ready to list. What is wrong with a standard that the repository names keeps nobody from their list: its cards
// then go by the ages of the base.
func (a *app) listed(in *input, errs io.Writer) (*place, error) {
	p, err := a.place(in)
	if err == nil {
		_, err = in.rules.rulebook(errs)
	}
	if err == nil || len(in.rules.flags) > 0 {
		return p, err
	}
	why := err
	in.rules = &standards{flags: []string{onlyBase}, ctx: in.rules.ctx, errs: in.rules.errs}
	if p, err = a.place(in); err != nil {
		return nil, why
	}
	if told := (exit{}); errors.As(why, &told) { // its faults stand above
		why = errors.New("the group's standard cannot be used")
	}
	fmt.Fprintf(errs, "kitmuster: %v; the cards go by the base standard\n", why)
	return p, nil
}
