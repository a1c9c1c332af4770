package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/load"
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
allergies, medicines and what to mind. --format html is one file that prints on A4 and US
letter paper; csv has a line for each thing, and no cards.

From the outside in: compartments with a layer by it, 1 first; then the others, those that
are got at while walking before those that need a halt, of these what comes off in seconds
before what does not, and else in the order in which the family wrote them (files by name,
then lines). Items and packs stand as written, too.

A packing list is the family's own: it tells names, medicines and where things are. Whoever
needs a report for others takes check or measure with --share-safe.

Exit code 0: everything was listed. 2: something could not be read, and standard error says what.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			in.paths = args
			if err := oneOf("format", format, "text", "html", "csv"); err != nil {
				return err
			}
			if err := b.check(); err != nil {
				return err
			}
			if strings.HasSuffix(file, ".cue") {
				return fmt.Errorf("-o %s: this is the name of a kit file, which a list would take the place of; name another", file)
			}
			p, err := a.place(in)
			if err != nil {
				return err
			}
			ls, run, err := lists(cmd.Context(), in, b, p)
			if err != nil {
				return err
			}
			if len(ls.Lists) > 0 {
				if err := writeLists(ls, format, file, cmd.OutOrStdout()); err != nil {
					return err
				}
			}
			if run.Summary.Errors == 0 {
				return nil
			}
			errs := cmd.ErrOrStderr()
			if err := report.Text(errs, run, report.Options{Colour: colour(errs)}); err != nil {
				return err
			}
			return exit{exitUnfit}
		},
	}
	in.flags(cmd)
	b.flags(cmd)
	cmd.Flags().StringVar(&format, "format", "text", "`text`, html or csv")
	cmd.Flags().StringVarP(&file, "output", "o", "", "write this `file`, whole or not at all, instead of standard output")
	return cmd
}

// lists makes the packing lists of what the paths mean, each household behind the wall, and a run of what could not be read.
func lists(ctx context.Context, in *input, b bounds, p *place) (*finding.PackingLists, *finding.Run, error) {
	dirs, faults := load.Find(p.disk.FS, p.patterns, load.Options{Show: p.disk.Show})
	ls := &finding.PackingLists{Version: version(), On: p.on.String()}
	said := lint.PathFindings(faults)
	for _, f := range said {
		ls.Left = append(ls.Left, f.Path)
	}
	w := newListWall(in, b, p)
	defer w.close()
	var all []finding.Household
	given := load.Given(p.disk.FS, p.patterns)
	for _, dir := range dirs {
		one := w.judge(ctx, lint.Job{Dir: dir, Given: given(dir)})
		fs, err := one.Findings()
		if err != nil {
			return nil, nil, err
		}
		said = append(said, fs...)
		all = append(all, one.Household)
		if one.List != nil {
			ls.Lists = append(ls.Lists, *one.List)
		} else {
			ls.Left = append(ls.Left, one.Household.Path)
		}
	}
	run := &finding.Run{Version: ls.Version, On: ls.On}
	run.Count(all, finding.Sort(said)...)
	return ls, run, nil
}

func writeLists(ls *finding.PackingLists, format, file string, out io.Writer) error {
	write := report.ListText
	switch format {
	case "html":
		write = page.ListHTML
	case "csv":
		write = report.ListCSV
	}
	var b bytes.Buffer
	if err := write(&b, ls); err != nil {
		return err
	}
	if file != "" {
		return writeWhole(file, b.Bytes())
	}
	if _, err := out.Write(b.Bytes()); err != nil {
		return fmt.Errorf("the packing lists could not be written: %w", plain(err))
	}
	return nil
}
