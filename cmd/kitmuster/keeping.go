package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/lines"
	"kitmuster/lint/rewrite"
	"kitmuster/lint/upkeep"
)

// keeping is a command that talks about one household and writes into its files. The files are evaluated and changed by workers; this
// process asks, and puts the bytes in place.
type keeping struct {
	in *input
	b  bounds
	p  *place
	// path is what people call the folder of the household, once it is known.
	path string
}

func (k *keeping) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&k.in.on, "on", "", "the `date` that is written, year-month-day (today, UTC, if not given)")
	cmd.Flags().StringVar(&k.in.root, "root", ".", "write the paths of files relative to this `folder`")
	k.b.flags(cmd)
}

// oneHousehold refuses more than one path.
func oneHousehold(cmd *cobra.Command, args []string) error {
	if len(args) > 1 {
		return fmt.Errorf("one household at a time; name one path: kitmuster %s %s", cmd.Name(), args[0])
	}
	return nil
}

// talk makes a talk about the household at the path ready.
func (k *keeping) talk(a *app, cmd *cobra.Command, args []string) (*upkeep.Talk, error) {
	if err := k.b.Check(); err != nil {
		return nil, err
	}
	path := "."
	if len(args) > 0 {
		path = args[0]
	}
	k.in.paths = []string{path}
	var err error
	if k.p, err = a.place(k.in); err != nil {
		return nil, err
	}
	if err := recoverChanges(cmd.ErrOrStderr()); err != nil {
		return nil, err
	}
	out := cmd.OutOrStdout()
	return &upkeep.Talk{
		Talk: lines.Talk{In: cmd.InOrStdin(), Out: out, Echo: !seen(cmd.InOrStdin()), Width: columns(out)}, On: k.p.on, Path: path,
		Write: func(orders []upkeep.Order) (*upkeep.Kept, error) { return k.write(a, cmd, orders) },
		Back: func(files []rewrite.File) (*upkeep.Kept, error) {
			var swapped []rewrite.File
			for _, f := range files {
				swapped = append(swapped, rewrite.File{Path: f.Path, Shown: f.Shown, Old: f.New, New: f.Old})
			}
			if len(swapped) > 0 {
				if err := applyTo(k.p, k.path, swapped); err != nil {
					return nil, plain(err)
				}
			}
			return k.write(a, cmd, nil)
		},
	}, nil
}

// write has a worker do orders, and puts what it gives back into the files.
func (k *keeping) write(a *app, cmd *cobra.Command, orders []upkeep.Order) (*upkeep.Kept, error) {
	one := k.in.one(k.p)
	for _, o := range orders {
		b, err := json.Marshal(o)
		if err != nil {
			return nil, err
		}
		one.Orders = append(one.Orders, string(b))
	}
	res := a.make(cmd, newWall(k.in, k.b, k.p, one), one, k.p, &upkeep.Product)
	defer res.Close()
	var all []*upkeep.Kept
	for kept, err := range made(res, func(h finding.Household) upkeep.Kept { return upkeep.Kept{Household: h, Unread: "it cannot be read"} }) {
		if err != nil {
			return nil, err
		}
		all = append(all, kept)
	}
	if len(all) != 1 {
		return nil, notOne(res, all)
	}
	kept := all[0]
	k.path = kept.Household.Path
	if len(kept.Files) > 0 && len(kept.Refused) == 0 {
		if err := applyTo(k.p, kept.Household.Path, kept.Files); err != nil {
			kept.Refused = []upkeep.Refused{{Why: plain(err).Error()}}
		}
	}
	return kept, nil
}

// notOne says that a path means no household, or several.
func notOne(res *lint.Result, all []*upkeep.Kept) error {
	if len(all) == 0 {
		faults, err := res.Run.Findings.All()
		if err != nil {
			return err
		}
		for _, f := range faults {
			err = errors.Join(err, errors.New(f.Message))
		}
		return err
	}
	var paths []string
	for _, k := range all[:min(len(all), 10)] {
		paths = append(paths, k.Household.Path)
	}
	if len(all) > len(paths) {
		paths = append(paths, fmt.Sprintf("%d more", len(all)-len(paths)))
	}
	return fmt.Errorf("one household at a time; name one of these: %s", strings.Join(paths, ", "))
}

// seen reports whether answers are typed at a terminal, which shows them.
func seen(in io.Reader) bool {
	f, ok := in.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// columns is how wide the terminal is that a writer leads to; 0 where it is none.
func columns(w io.Writer) int {
	s, ok := w.(*stream)
	if !ok {
		return 0
	}
	f, ok := s.to.(*os.File)
	if !ok {
		return 0
	}
	n, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return n
}
