package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/intake"
	"kitmuster/lint/table"
)

func (a *app) export() *cobra.Command {
	in := &input{}
	var b bounds
	var to string
	cmd := &cobra.Command{
		Use:   "export [PATH]",
		Short: "Write a kit as a table, for a spreadsheet and back",
		Long: `Writes one household as a table: a row for each thing, pack and compartment, with masses in grams and
sums. --to says the file, which ends in .csv or .xlsx; without it CSV goes to standard output. In XLSX the
heads stay in sight, the columns have filters and the sums are formulas.

Change it in a spreadsheet and lay it over the kit with kitmuster import FILE --into PATH, which shows the
change of the files first. The keys in the first column say where each row belongs; what has no column of its own is
carried along in the last. kitmuster import FILE FOLDER makes the same kit anew. Comments of the files are not in it.

A text that a spreadsheet would take for a formula is led by an apostrophe in CSV, which import takes off again.

Exit code 0: written. 2: the household could not be read or the file not written, and it says why.`,
		Args: oneHousehold,
		RunE: func(cmd *cobra.Command, args []string) error {
			ext := strings.ToLower(filepath.Ext(to))
			if to != "" && ext != ".csv" && ext != ".xlsx" {
				return openly(fmt.Errorf("--to %s: let its name end in .csv or .xlsx", to))
			}
			if _, err := os.Lstat(to); to != "" && err == nil {
				return openly(fmt.Errorf("--to %s is there already, and may hold changes of yours; name another file, or move it away", to))
			}
			l, err := a.laid(cmd, in, b, args, nil)
			if err != nil {
				return err
			}
			rows := intake.Table(l.Rows)
			var out bytes.Buffer
			if ext == ".xlsx" {
				err = table.WriteXLSX(&out, "Kit", rows, []int{30, 18, 16, 32, 8, 16, 16, 12, 12, 40})
			} else {
				err = table.WriteCSV(&out, rows, to != "")
			}
			if err != nil {
				return err
			}
			if to == "" {
				_, err := cmd.OutOrStdout().Write(out.Bytes())
				return err
			}
			if err := writeWhole(to, out.Bytes()); err != nil {
				return openly(err)
			}
			fmt.Fprintf(cmd.ErrOrStderr(), "written: %s\n", to)
			return nil
		},
	}
	cmd.Flags().StringVar(&to, "to", "", "write this `file`, which ends in .csv or .xlsx")
	cmd.Flags().StringVar(&in.root, "root", ".", "write the paths of files relative to this `folder`")
	b.flags(cmd)
	return cmd
}

// laid has a worker list the rows of the household at the path, with others laid over it.
func (a *app) laid(cmd *cobra.Command, in *input, b bounds, args []string, orders []string) (*intake.Laid, error) {
	if err := b.Check(); err != nil {
		return nil, err
	}
	if in.paths = args; len(args) == 0 {
		in.paths = []string{"."}
	}
	p, err := a.place(in)
	if err != nil {
		return nil, err
	}
	one := household.Options{On: p.on, Show: p.disk.Show, Orders: orders}
	res := a.make(cmd, newWall(in, b, p, one), one, p, &intake.Product)
	defer res.Close()
	var all []*intake.Laid
	for l, err := range made(res, func(h finding.Household) intake.Laid {
		return intake.Laid{Household: h, Unread: "it cannot be read; kitmuster check says why"}
	}) {
		if err != nil {
			return nil, err
		}
		all = append(all, l)
	}
	switch {
	case len(all) == 0:
		return nil, openly(fmt.Errorf("%s: %w", in.paths[0], notOne(res, nil)))
	case len(all) > 1:
		return nil, openly(fmt.Errorf("one household at a time; %s is one of %d there", all[0].Household.Path, len(all)))
	case all[0].Unread != "":
		return nil, openly(errors.New(all[0].Household.Path + ": " + all[0].Unread))
	}
	return all[0], nil
}
