package main

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
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
		if file, err = ownKey("share.key"); err != nil {
			return key, fmt.Errorf("%w; name a file with --share-key", err)
		}
		if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
			return key, fmt.Errorf("--share-safe: the folder for the key, %s, could not be made: %w", filepath.Dir(file), plain(err))
		}
	}
	k, err := openKey(file)
	if k.made {
		fmt.Fprintf(errs, "A new key for pseudonyms is in %s. Keep it, out of every repository: with it, and only with it, the same households get the same pseudonyms again, and whoever has it can tell who is who.\n", file)
	}
	if err != nil {
		return key, fmt.Errorf("--share-safe: %w", err)
	}
	if k.exposed {
		fmt.Fprintf(errs, "kitmuster: warning: others on this machine can read or change the key in %s, and whoever has it can tell who is who; chmod 600 mends it\n", file)
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
