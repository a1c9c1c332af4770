// Command valley writes a repository of invented households, for measuring
// speed and memory: the same seed gives the same bytes.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"kitmuster/lint/valley"
)

func main() {
	if err := run(os.Args[1:], os.Stderr); err != nil {
		if !errors.Is(err, flag.ErrHelp) {
			fmt.Fprintln(os.Stderr, "valley:", err)
		}
		os.Exit(2)
	}
}

func run(args []string, messages io.Writer) error {
	f := flag.NewFlagSet("valley", flag.ContinueOnError)
	f.SetOutput(messages)
	n := f.Int("n", 100, "how many households")
	items := f.Int("items", 100, "about how many things each household has")
	seed := f.Uint64("seed", 1, "the same seed gives the same households")
	dir := f.String("o", "", "the folder to write into; it must be empty, or not be there yet")
	f.Usage = func() {
		fmt.Fprintf(messages, "valley -o DIR writes a repository of invented households.\nThey are written for checks as of %s: kitmuster check --on %[1]s ./...\n\n", valley.On)
		f.PrintDefaults()
	}
	if err := f.Parse(args); err != nil {
		return err
	}
	switch {
	case f.NArg() > 0:
		return fmt.Errorf("%q is one word more than is read here; the folder goes after -o", f.Arg(0))
	case *dir == "":
		return errors.New("say where to write: -o DIR")
	case *n < 1 || *n > 1_000_000:
		return fmt.Errorf("-n %d: there can be 1 to 1000000 households", *n)
	case *items < 1 || *items > 10_000:
		return fmt.Errorf("-items %d: a household can have 1 to 10000 things", *items)
	}
	return write(*dir, valley.Options{Households: *n, Items: *items, Seed: *seed})
}

// write refuses a folder that has something in it, so that nothing is overwritten.
func write(dir string, o valley.Options) error {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if len(entries) > 0 {
		return fmt.Errorf("%s is not empty: it has %s; give a new folder", dir, entries[0].Name())
	}
	for name, text := range valley.Files(o) {
		p := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(p), 0o777); err != nil {
			return err
		}
		if err := os.WriteFile(p, text, 0o666); err != nil {
			return err
		}
	}
	return nil
}
