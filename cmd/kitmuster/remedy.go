package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/atomicfile"
	"kitmuster/lint/finding"
	"kitmuster/lint/remedy"
	"kitmuster/lint/report"
	"kitmuster/lint/rewrite"
)

// remedyTime is the most that a remedy of one household may take: the search counts judgings, and a slow machine is no fault of a kit.
const remedyTime = 2 * time.Minute

func (a *app) remedy() *cobra.Command {
	in := &input{}
	var b bounds
	var format, until string
	var apply, asDiff bool
	var steps []int
	cmd := &cobra.Command{
		Use:   "remedy [PATH…]",
		Short: "Work out a small change after which the rules are silent",
		Long: `Works out, for each household found at the paths (see check), a small change of where things
lie, after which the rules say less: things move to another compartment, pack or pocket, some
of several go, something is left at home or taken from atHome (what a household owns and has
not packed), water is filled in or poured out.

Nothing that is pinned moves. Medicine stays with whom it is for, fire and blades go to no child,
an animal carries its own. No date, prescription or mass is ever made up: what only people
can decide, fetch or record is listed as left to them. No finding of any level is there afterwards that
was not there before, by the standards in force.

Each proposal was written into a copy of the files, loaded, measured and judged again before it
is shown. It is the best of what was tried, and not proved to be the smallest.

--step takes some of the steps only, if nothing new comes of leaving out the others. --diff
shows what would change in the files, --apply changes them: all or none, and only where
nobody changed them meanwhile. What a for, a template, a data file or a shared catalogue makes
is never changed; the line is named instead.

A remedy is arithmetic, not advice: labels, practitioners and the people who carry come first.

Exit code 0: worked out. 2: something could not be read or written, and it says what.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			in.paths = args
			if err := cmp.Or(oneOf("format", format, "text", "json"), oneOf("until", until, "error", "warning", "note"), b.Check()); err != nil {
				return err
			}
			for _, n := range steps {
				if n < 1 {
					return fmt.Errorf("--step %d: steps are numbered from 1", n)
				}
			}
			if asDiff && (apply || format == "json") {
				return errors.New("--diff does not go together with --apply or --format json; leave one out")
			}
			p, err := a.place(in)
			if err != nil {
				return err
			}
			if _, err := in.rules.rulebook(cmd.ErrOrStderr()); err != nil {
				return err
			}
			if apply {
				if err := recoverChanges(cmd.ErrOrStderr()); err != nil {
					return err
				}
			}
			one := in.one(p)
			one.From, one.Steps = finding.Level(until), steps
			res := a.make(cmd, newJudgingWall(in, b, p, one), one, p, &remedy.Product)
			defer res.Close()
			out := cmd.OutOrStdout()
			of := func(h finding.Household) remedy.Remedied { return remedy.Remedied{Household: h} }
			write := report.RemedyText
			switch {
			case asDiff:
				write = report.RemedyDiff
			case format == "json":
				write = report.RemedyJSON
			}
			if err := write(out, &report.Made[remedy.Remedied]{Run: &res.Run, Households: made(res, of)}, report.Options{Colour: colour(out)}); err != nil {
				return fmt.Errorf("the remedy could not be written: %w", plain(err))
			}
			if err := applyOrTell(cmd, p, res, apply, format == "text" && !asDiff, args); err != nil {
				return err
			}
			return fit(res)
		},
	}
	b.flags(cmd)
	in.judged(cmd)
	in.says(cmd)
	longer := cmd.Flags().Lookup("time-limit")
	b.Time, longer.DefValue = remedyTime, remedyTime.String()
	cmd.Flags().StringVar(&format, "format", "text", "`text` or json")
	cmd.Flags().StringVar(&until, "until", "error", "clear the findings of this `level` and above: error, warning or note")
	cmd.Flags().IntSliceVar(&steps, "step", nil, "take these `steps` of the proposal only, such as 1,3")
	cmd.Flags().BoolVar(&asDiff, "diff", false, "show what would change in the files")
	cmd.Flags().BoolVar(&apply, "apply", false, "change the files")
	return cmd
}

// applyOrTell changes the files of each household, or says how that is done.
func applyOrTell(cmd *cobra.Command, p *place, res *lint.Result, apply, text bool, args []string) error {
	errs := cmd.ErrOrStderr()
	any, failed := false, false
	for x, err := range res.Extras {
		var h remedy.Remedied
		if err == nil {
			err = x.Unpack(&h)
		}
		if err != nil {
			return err
		}
		if len(h.Files) == 0 {
			continue
		}
		any = true
		if !apply {
			continue
		}
		if err := applyTo(p, x.Household.Path, h.Files); err != nil {
			fmt.Fprintf(errs, "kitmuster: %s is not changed: %s\n", x.Household.Path, plain(err))
			failed = true
			continue
		}
		for _, f := range h.Files {
			fmt.Fprintf(errs, "changed %s\n", p.disk.Show(f.Path))
		}
	}
	if any && !apply && text {
		where := strings.Join(append([]string{""}, args...), " ")
		fmt.Fprintf(cmd.OutOrStdout(), "\nNext: kitmuster remedy --diff%[1]s shows the change of the files, kitmuster remedy --apply%[1]s makes it.\n", where)
	}
	if failed {
		return exit{exitUnfit}
	}
	return nil
}

// mostChanged is the most that a changed file may hold, as of what is read.
const mostChanged = 1 << 20

// applyTo writes the files of one household, whose folder people see as shown. They come from a worker that evaluated a stranger's
// kit, so they are doubted: only ordinary kit files of the household's own folder are written, and only where they hold what was read.
func applyTo(p *place, shown string, files []rewrite.File) error {
	var swaps []atomicfile.Swap
	for _, f := range files {
		file := p.disk.File(f.Path)
		info, err := os.Lstat(file)
		if !fs.ValidPath(f.Path) || p.disk.Show(path.Dir(f.Path)) != shown || path.Ext(f.Path) != ".cue" || err != nil || !info.Mode().IsRegular() || len(f.New) > mostChanged {
			return errors.New("a file was named that is no kit file of this household")
		}
		swaps = append(swaps, atomicfile.Swap{Path: file, Old: f.Old, New: f.New})
	}
	dir, err := journals()
	if err != nil {
		return err
	}
	return atomicfile.Together(swaps, filepath.Join(dir, atomicfile.JournalName()))
}

// journals is the folder where a change of several files is written down while it is made: the user's own, as a commit could put
// anything else there.
func journals() (string, error) {
	base, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("the user's cache folder is not known, where a change is written down while it is made: %w", err)
	}
	dir := filepath.Join(base, "kitmuster-changes")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("the folder %s, where a change is written down while it is made, could not be made: %w", dir, plain(err))
	}
	return dir, nil
}

// recoverChanges puts back what programs that were killed left half done.
func recoverChanges(errs io.Writer) error {
	dir, err := journals()
	if err != nil {
		return err
	}
	files, err := atomicfile.RecoverAll(dir)
	for _, f := range files {
		fmt.Fprintf(errs, "put back %s, whose change was broken off before\n", f)
	}
	return err
}
