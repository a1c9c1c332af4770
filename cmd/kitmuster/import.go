package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint/lines"
	"kitmuster/lint/load"
	"kitmuster/lint/table"
	"kitmuster/lint/words"
)

func (a *app) importTable() *cobra.Command {
	var o table.Options
	var maps []string
	var name string
	var sure bool
	cmd := &cobra.Command{
		Use:   "import FILE [FOLDER]",
		Short: "Make a kit of a table of things",
		Long: `Reads a table that a spreadsheet program has saved as CSV, with a row for each thing, and makes a kit of
it in a new folder (called as the file is, if none is given). First it shows what each column is taken
for, the first things, the table's own sums against what its rows come to, and what it did not understand,
each with its cell. It asks who carries each pack, and writes once you say yes.

Heads of columns are known in English, German, French, Spanish and Japanese. Packs and compartments come from columns or
from rows that stand alone. What a name says for sure is written with the note that it was guessed; an amount never is.

Exit code 0: done, or nothing written as you wished. 2: the table could not be read, and it says why.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 2 {
				return errors.New("name the table, and the folder to make if it shall be called otherwise: kitmuster import gear.csv my-kit")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			var err error
			if o.Map, err = rolesOf(maps); err != nil {
				return err
			}
			folder := load.PlainName(strings.TrimSuffix(filepath.Base(args[0]), filepath.Ext(args[0])))
			if len(args) > 1 {
				folder = args[1]
			}
			if folder == "" {
				return errors.New("name the folder to make: kitmuster import FILE my-kit")
			}
			t, err := readTable(args[0], o)
			if err != nil {
				return fmt.Errorf("%s: %w", args[0], err)
			}
			if entries, err := os.ReadDir(folder); err == nil && len(entries) > 0 {
				return fmt.Errorf("%s: the folder is there and not empty; name a new one", folder)
			} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
				return fmt.Errorf("%s: %w", folder, plain(err))
			}
			out := cmd.OutOrStdout()
			talk := &lines.Talk{In: cmd.InOrStdin(), Out: out, Echo: !seen(cmd.InOrStdin()), Width: columns(out)}
			t.Preview(talk)
			if name == "" {
				name = filepath.Base(folder)
			}
			h := table.Household{Name: name, From: filepath.Base(args[0])}
			ok, err := t.Agree(talk, &h, folder, sure)
			if err != nil || !ok {
				return err
			}
			files, err := t.Files(h)
			if err != nil {
				return err
			}
			if err := writeFiles(folder, files); err != nil {
				return err
			}
			talk.Say("Written into %s: %s.", folder, words.And(sorted(files)))
			talk.Say("Next: write who you are into it, then: kitmuster check --fix %s", words.Shell(folder))
			return nil
		},
	}
	cmd.Flags().StringArrayVar(&maps, "map", nil, "what a column holds, as `column=what`, with the column's letter or head: item, count, each (mass of one), total (mass of the row), pack, place, carrier, expires, unit, note or nothing; may be given several times")
	cmd.Flags().StringVar(&o.Unit, "unit", "", "the `unit` of masses that have none: g, kg, oz or lb")
	cmd.Flags().StringVar(&o.Pack, "pack", "", "the `name` of the pack where the table names none")
	cmd.Flags().StringVar(&name, "household", "", "what the household is called, a `name` (the folder's if not given)")
	cmd.Flags().BoolVarP(&sure, "yes", "y", false, "ask nothing, and write if the table's own sums come out")
	return cmd
}

func readTable(name string, o table.Options) (*table.Table, error) {
	if o.Unit != "" && !slices.Contains([]string{"g", "kg", "oz", "lb"}, o.Unit) {
		return nil, fmt.Errorf("--unit %q: write g, kg, oz or lb", o.Unit)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, plain(err)
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, table.MostBytes+1))
	if err != nil {
		return nil, plain(err)
	}
	s, err := table.Read(b)
	if err != nil {
		return nil, err
	}
	return table.Of(s, o)
}

// rolesOf reads --map.
func rolesOf(given []string) (map[string]table.Role, error) {
	out := map[string]table.Role{}
	for _, g := range given {
		column, role, ok := strings.Cut(g, "=")
		if !ok || column == "" {
			return nil, fmt.Errorf("--map %q: write column=what, such as --map B=each", g)
		}
		if !slices.Contains(table.Roles, table.Role(role)) {
			all := make([]string, len(table.Roles))
			for i, r := range table.Roles {
				all[i] = string(r)
			}
			return nil, errors.New(words.Suggest(fmt.Sprintf("--map %s: %q is nothing that a column can hold", g, role), role, all, "there are"))
		}
		out[column] = table.Role(role)
	}
	return out, nil
}

func sorted(files map[string][]byte) []string { return slices.Sorted(maps.Keys(files)) }
