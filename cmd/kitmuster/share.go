package main

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/judge"
	"kitmuster/lint/private"
	"kitmuster/lint/report"
)

// sharing is what the flags say about showing the output to others.
type sharing struct {
	safe bool
	key  string
}

func (s *sharing) flags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&s.safe, "share-safe", false, "write what others may see: no names, body masses, ages, medicines, money, papers, addresses or text of the kits; households get pseudonyms. Messages on standard error are for you and may name files")
	cmd.Flags().StringVar(&s.key, "share-key", "", "the `file` with the key of the pseudonyms, made where there is none (share.key in the user's configuration folder where not given); whoever has it can tell who is who")
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
	b, err := rules.bench(errs)
	if err != nil {
		return nil, err
	}
	return private.New(key, lint.Rules(b), lint.Limits(b), lint.Said()), nil
}

// maskBoth is mask for what two benches found; a rule that both have is told of as now has it.
func (s *sharing) maskBoth(old, now *judge.Bench, errs io.Writer) (*private.Mask, error) {
	if !s.safe {
		return s.mask(nil, errs)
	}
	key, err := s.readKey(errs)
	if err != nil {
		return nil, err
	}
	limits := lint.Limits(old)
	maps.Copy(limits, lint.Limits(now))
	return private.New(key, slices.Concat(lint.Rules(old), lint.Rules(now)), limits, lint.Said()), nil
}

func (s *sharing) readKey(errs io.Writer) (key [private.KeySize]byte, err error) {
	file := s.key
	if file == "" {
		dir, err := os.UserConfigDir()
		if err != nil {
			return key, fmt.Errorf("the user's configuration folder is not known (%w); name a file with --share-key", err)
		}
		dir = filepath.Join(dir, "kitmuster")
		if err := os.MkdirAll(dir, 0o700); err != nil {
			return key, fmt.Errorf("--share-safe: the folder for the key, %s, could not be made: %w", dir, plain(err))
		}
		file = filepath.Join(dir, "share.key")
	}
	if _, err := os.Lstat(file); errors.Is(err, fs.ErrNotExist) {
		made, err := makeKey(file)
		if err != nil {
			return key, fmt.Errorf("--share-safe: the key could not be written to %s: %w", file, plain(err))
		}
		if made {
			fmt.Fprintf(errs, "A new key for pseudonyms is in %s. Keep it, out of every repository: with it, and only with it, the same households get the same pseudonyms again, and whoever has it can tell who is who.\n", file)
		}
	}
	info, err := os.Stat(file)
	if err == nil && !info.Mode().IsRegular() { // a pipe might keep us waiting for ever
		err = errors.New("it is not an ordinary file")
	}
	if err != nil {
		return key, fmt.Errorf("--share-safe: the key in %s cannot be read: %w", file, plain(err))
	}
	f, err := os.Open(file)
	if err != nil {
		return key, fmt.Errorf("--share-safe: the key in %s cannot be read: %w", file, plain(err))
	}
	defer f.Close()
	if runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
		fmt.Fprintf(errs, "kitmuster: warning: others on this machine can read or change the key in %s, and whoever has it can tell who is who; chmod 600 mends it\n", file)
	}
	const long = 2*private.KeySize + 2 // digits and the end of a line
	b, err := io.ReadAll(io.LimitReader(f, long+1))
	if err != nil {
		return key, fmt.Errorf("--share-safe: the key in %s cannot be read: %w", file, plain(err))
	}
	text := strings.TrimSpace(string(b))
	if n, err := hex.Decode(key[:], []byte(text[:min(len(text), 2*private.KeySize)])); err != nil || n != len(key) || len(text) != 2*private.KeySize {
		return key, fmt.Errorf("--share-safe: %s does not hold a key: it has to be %d hexadecimal digits and nothing else; name a file that is not there yet, and one is made", file, 2*private.KeySize)
	}
	return key, nil
}

// makeKey writes a new key, whole or not at all; made is false where another program was first.
func makeKey(file string) (made bool, err error) {
	var key [private.KeySize]byte
	_, _ = rand.Read(key[:])                                     // never fails
	f, err := os.CreateTemp(filepath.Dir(file), ".share-*.part") // only its owner may read it
	if err != nil {
		return false, err
	}
	defer os.Remove(f.Name())
	if _, err = fmt.Fprintln(f, hex.EncodeToString(key[:])); err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return false, err
	}
	if err = os.Link(f.Name(), file); errors.Is(err, fs.ErrExist) {
		return false, nil
	}
	return err == nil, err
}

// alias is what the order of a run and its remarks go by.
func alias(m *private.Mask) func(string) string {
	if m == nil {
		return nil
	}
	return m.Folder
}

// share writes figures and faults of the input in a form for others.
func share(m *private.Mask, did, on, format string, out io.Writer, hs []finding.Shared, faults []finding.Finding) error {
	slices.SortFunc(hs, func(a, b finding.Shared) int { return strings.Compare(a.Household.Path, b.Household.Path) })
	write := report.SharedText
	if format == "json" {
		write = report.SharedJSON
	}
	s := &report.Shared{Version: version(), On: on, Key: m.Key(), Did: did, Households: hs, Findings: m.Findings(faults)}
	if err := write(out, s, report.Options{Colour: colour(out)}); err != nil {
		return fmt.Errorf("the report could not be written: %w", plain(err))
	}
	return nil
}
