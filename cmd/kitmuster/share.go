package main

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"syscall"

	"github.com/spf13/cobra"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/private"
	"kitmuster/lint/report"
)

// sharing is what the flags say about showing the output to others.
type sharing struct {
	safe bool
	key  string
}

// flags adds the flags. Call it last: with --share-safe, whatever the command says on standard error is held to what others may see.
func (s *sharing) flags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&s.safe, "share-safe", false, "write what others may see, messages included: no names, body weights, ages, medicines, money, papers, addresses or text of the kits; households get pseudonyms")
	cmd.Flags().StringVar(&s.key, "share-key", "", "the `file` with the key of the pseudonyms, made if there is none (share.key in the user's configuration folder if not given); anyone who has it can tell who is who")
	before, run := cmd.PreRun, cmd.RunE
	var held *reserved
	cmd.PreRun = func(cmd *cobra.Command, args []string) {
		if s.safe {
			held = &reserved{open: cmd.ErrOrStderr()}
			cmd.SetErr(held)
		}
		if before != nil {
			before(cmd, args)
		}
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		err := run(cmd, args)
		if held == nil {
			return err
		}
		return held.end(cmd, err)
	}
}

// reserved is standard error of a run for others. Messages quote what was read: paths, branches, words of a kit. So nothing that is
// written to it is shown; what may be told is written to what lies beneath, see aloud.
type reserved struct {
	open io.Writer
	mu   sync.Mutex
	some bool
}

func (r *reserved) Write(p []byte) (int, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.some = r.some || len(p) > 0
	return len(p), nil
}

// aloud is where text goes that names nobody: w itself, or what lies beneath a reserved one.
func aloud(w io.Writer) io.Writer {
	if r, ok := w.(*reserved); ok {
		return r.open
	}
	return w
}

// tellable is an error in the program's own words and those of the standard. Others may see it.
type tellable struct{ error }

// Unwrap is what it wraps.
func (t tellable) Unwrap() error { return t.error }

// openly marks an error that names nobody; nil stays nil.
func openly(err error) error {
	if err == nil {
		return nil
	}
	return tellable{err}
}

// beginsWithFlag finds the flag that an error is about.
var beginsWithFlag = regexp.MustCompile(`^--?([a-z][a-z-]*)\b`)

// end says that messages were held back, and gives the error in words that others may see: the flag that it is about, and what in it
// is tellable, or else what the system says.
func (r *reserved) end(cmd *cobra.Command, err error) error {
	if r.some {
		fmt.Fprintln(r.open, "kitmuster: messages are held back, since they may name people or files; the same command without --share-safe shows them")
	}
	var code exit
	if err == nil || errors.As(err, &code) {
		return err
	}
	about := ""
	if m := beginsWithFlag.FindStringSubmatch(err.Error()); m != nil {
		if cmd.Flags().Lookup(m[1]) != nil || len(m[1]) == 1 && cmd.Flags().ShorthandLookup(m[1]) != nil {
			about = m[0] + ": "
		}
	}
	var ours tellable
	if errors.As(err, &ours) {
		if ours.Error() == err.Error() {
			about = ""
		}
		return fmt.Errorf("%s%w", about, ours)
	}
	why := ""
	var system syscall.Errno
	if errors.As(err, &system) {
		why = " (" + system.Error() + ")"
	}
	return fmt.Errorf("%sit did not work%s; the reason is held back, since it may name people or files: the same command without --share-safe shows it", about, why)
}

// mask is nil where nothing is to be masked; rules, once they are open, are nil for a command that does not judge.
func (s *sharing) mask(rules *standards, errs io.Writer) (*private.Mask, error) {
	if !s.safe {
		if s.key != "" {
			return nil, errors.New("--share-key goes together with --share-safe")
		}
		return nil, nil
	}
	key, err := s.readKey(errs)
	if err != nil {
		return nil, err
	}
	if rules == nil { // what the input is faulted for, the program says itself
		rules = &standards{}
	}
	b, err := rules.rulebook(errs)
	if err != nil {
		return nil, err
	}
	return private.New(key, household.Rules(b), household.Limits(b), household.Said()), nil
}

// maskBoth is mask for what two benches found; a rule that both have is told of as now has it.
func (s *sharing) maskBoth(old, now *judge.Rulebook, errs io.Writer) (*private.Mask, error) {
	if !s.safe {
		return s.mask(nil, errs)
	}
	key, err := s.readKey(errs)
	if err != nil {
		return nil, err
	}
	limits := household.Limits(old)
	maps.Copy(limits, household.Limits(now))
	return private.New(key, slices.Concat(household.Rules(old), household.Rules(now)), limits, household.Said()), nil
}

// readKey reads the key, and makes it where there is none. The file is called by its flag: its path may hold a name.
func (s *sharing) readKey(errs io.Writer) (key [private.KeySize]byte, err error) {
	file, called := s.key, "the file that --share-key names"
	wrong := func(format string, args ...any) error { return openly(fmt.Errorf("--share-safe: "+format, args...)) }
	if file == "" {
		called = "kitmuster/share.key in your configuration folder"
		if file, err = ownKey("share.key"); err != nil {
			return key, wrong("%w; name a file with --share-key", err)
		}
		if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
			return key, wrong("the folder for the key, kitmuster in your configuration folder, could not be made: %w", bare(err))
		}
	}
	k, err := openKey(file, called)
	if k.made {
		fmt.Fprintf(aloud(errs), "A new key for pseudonyms is in %s. Keep it, out of every repository: with it, and only with it, the same households get the same pseudonyms again, and anyone who has it can tell who is who.\n", called)
	}
	if err != nil {
		return key, wrong("%w", err)
	}
	if k.exposed {
		fmt.Fprintf(aloud(errs), "kitmuster: warning: others on this machine can read or change the key in %s, and anyone who has it can tell who is who; run chmod 600 on it\n", called)
	}
	return k.key, nil
}

// alias is what the order of a run and its remarks go by.
func alias(m *private.Mask) func(string) string {
	if m == nil {
		return nil
	}
	return m.Folder
}

// share writes figures and faults of the input in a form for others.
func share(m *private.Mask, did, on, format string, out io.Writer, hs []private.Shared, faults []finding.Finding) error {
	slices.SortFunc(hs, func(a, b private.Shared) int { return strings.Compare(a.Household.Path, b.Household.Path) })
	hs, remark := private.FewerShared(hs)
	write := report.SharedText
	if format == "json" {
		write = report.SharedJSON
	}
	s := &report.Shared{Version: version(), On: on, Key: m.Key(), Did: did, Remark: remark, Households: hs, Findings: m.Findings(faults)}
	if err := write(out, s, report.Options{Colour: colour(out)}); err != nil {
		return fmt.Errorf("the report could not be written: %w", plain(err))
	}
	return nil
}
