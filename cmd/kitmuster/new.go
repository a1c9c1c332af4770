package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint/atomicfile"
	"kitmuster/lint/begin"
	"kitmuster/lint/lines"
	"kitmuster/lint/words"
)

func (a *app) newKit() *cobra.Command {
	var on, from string
	cmd := &cobra.Command{
		Use:   "new [FOLDER]",
		Short: "Begin a kit: answer questions, and get its first files",
		Long: `Asks who you are, what you take, what may drive you out and where you go, one line an answer, and writes the
first files of a kit into a folder: one for the household, one for each pack, and one for what several packs hold alike. Enter
alone says that something is not known; back goes to the question before; quit stops. Each answer is checked at once, and kept
in new-answers.yaml in that folder before the next question, so you can stop anywhere and go on later.

What the standard wants in a pack stands in its file as comments, still to be packed: nothing counts until you take the // away.
No weather and no amount is made up. It ends with the first check.

--answers reads a file as new-answers.yaml is, and asks nothing: what it leaves out is not known.

Exit code 0: done, or stopped. 2: something could not be read or written, and it says what.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return fmt.Errorf("one kit at a time; name one folder: kitmuster new %s", words.Shell(args[0]))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			folder := "."
			if len(args) > 0 {
				folder = args[0]
			}
			if err := freeOfKits(folder); err != nil {
				return err
			}
			name := filepath.Join(folder, begin.FileName)
			out := cmd.OutOrStdout()
			talk := &lines.Talk{In: cmd.InOrStdin(), Out: out, Echo: !seen(cmd.InOrStdin()), Width: columns(out)}
			if from != "" {
				if _, err := os.Lstat(name); err == nil {
					return fmt.Errorf("%s holds answers already; go on with kitmuster new %s, or take that file away", name, words.Shell(folder))
				}
				answers, err := readAnswers(from)
				if err != nil {
					return fmt.Errorf("--answers %s: %w", from, err)
				}
				begin.Fill(answers)
				return a.begun(cmd, talk, folder, on, answers)
			}
			answers, err := readAnswers(name)
			switch {
			case errors.Is(err, fs.ErrNotExist):
				answers = begin.Answers{}
			case err != nil:
				return fmt.Errorf("%s: %w", name, err)
			default:
				talk.Say("Going on with what %s holds.", name)
			}
			done, err := begin.Talk(talk, answers, func(now begin.Answers) error {
				if err := os.MkdirAll(folder, 0o777); err != nil {
					return fmt.Errorf("%s: the folder could not be made: %w", folder, plain(err))
				}
				// Only its owner may read it: it says who takes what.
				if err := atomicfile.Write(name, now.Text(), 0o600); err != nil {
					return fmt.Errorf("%s could not be written: %w", name, plain(err))
				}
				return nil
			})
			if err != nil {
				return err
			}
			if !done {
				if len(answers) == 0 {
					talk.Say("Stopped. Nothing was written.")
					return nil
				}
				talk.Say("Stopped. What you answered is in %s. Go on with: kitmuster new %s", name, words.Shell(folder))
				return nil
			}
			return a.begun(cmd, talk, folder, on, answers)
		},
	}
	cmd.Flags().StringVar(&from, "answers", "", "take the answers from this `file` (YAML, as new-answers.yaml), and ask nothing")
	cmd.Flags().StringVar(&on, "on", "", "the `date` of the first check, year-month-day (today, UTC, if not given)")
	return cmd
}

// freeOfKits refuses a folder that has a kit. Files that an interrupted kitmuster new wrote there are told by the answers beside them.
func freeOfKits(folder string) error {
	kits, err := kitFiles(folder)
	if err != nil || len(kits) == 0 {
		return err
	}
	if _, err := os.Lstat(filepath.Join(folder, begin.FileName)); err == nil {
		return nil
	}
	return fmt.Errorf("%s: there is a kit in this folder already (%s), and it is left as it is; look at it with kitmuster check %s, or name another folder", folder, kits[len(kits)-1], words.Shell(folder))
}

// readAnswers reads a file of answers. It may lie in a stranger's folder, where a link would lead out of it.
func readAnswers(name string) (begin.Answers, error) {
	b, err := readOrdinary(name, os.Lstat, begin.MostBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("no such file%w", silent{err})
	}
	if err != nil {
		return nil, plain(err)
	}
	return begin.Read(b)
}

// silent is an error that tells programs what happened, and people nothing more.
type silent struct{ error }

func (silent) Error() string   { return "" }
func (s silent) Unwrap() error { return s.error }

// begun writes the files, takes the answers away, and checks the kit for the first time.
func (a *app) begun(cmd *cobra.Command, talk *lines.Talk, folder, on string, answers begin.Answers) error {
	files, err := begin.Files(answers)
	if err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		target := filepath.Join(folder, name)
		if is, err := os.ReadFile(target); err == nil && !bytes.Equal(is, files[name]) {
			return fmt.Errorf("%s is there already and says something else; nothing was written. Take it away, or name another folder", target)
		} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("%s: %w", target, plain(err))
		}
	}
	kits, err := kitFiles(folder)
	if err != nil {
		return err
	}
	for _, name := range kits {
		if files[name] == nil {
			return fmt.Errorf("%s is there already; nothing was written. Name another folder", filepath.Join(folder, name))
		}
	}
	if err := writeFiles(folder, files); err != nil {
		return err
	}
	if err := os.Remove(filepath.Join(folder, begin.FileName)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: %w", begin.FileName, plain(err))
	}
	talk.Say("Written into %s: %s.", folder, words.And(slices.Sorted(maps.Keys(files))))
	talk.Say("Nothing counts as packed yet. What the standard wants in each pack stands in its file behind //: take the // away once the thing lies in the pack. The first check:")
	check := a.check()
	check.SetContext(cmd.Context())
	check.SetIn(strings.NewReader(""))
	check.SetOut(cmd.OutOrStdout())
	check.SetErr(cmd.ErrOrStderr())
	flags := []string{"--quiet"}
	if on != "" {
		flags = append(flags, "--on", on)
	}
	if !filepath.IsLocal(folder) {
		flags = append(flags, "--root", folder)
	}
	if err := check.ParseFlags(flags); err != nil {
		return err
	}
	var ended exit
	if err := check.RunE(check, []string{folder}); err != nil && !errors.As(err, &ended) {
		return err
	}
	talk.Say("Next: kitmuster check %s says what is missing, and where to write it.", words.Shell(folder))
	return nil
}
