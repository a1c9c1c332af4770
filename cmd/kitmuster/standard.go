package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
	"kitmuster/lint/standard"
	"kitmuster/lint/words"
)

func (a *app) standard() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "standard",
		Short: "Make, test, pack, try and look at a group's own standard",
		Long: `A standard is a folder: limits and words in standard.cue, rules in rules/. What the rules engine
and readers need is made from it by standard build. It is laid over the base standard, which it
may tighten, loosen, add to and switch rules of off; nothing of another standard can be read or changed.`,
		Args: commandFault,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := cmd.Help(); err != nil {
				return err
			}
			return exit{exitUnfit}
		},
	}
	cmd.AddCommand(
		a.standardNew(),
		a.standardBuild(),
		a.standardTest(),
		a.standardPack(),
		a.standardVerify(),
		a.standardShow(),
		a.standardTrial(),
		a.standardBase(),
		a.standardPush(),
		a.standardPull(),
	)
	return cmd
}

// folder is a standard's folder as someone named it.
type folder struct {
	fs.FS
	// shown stands before the paths of its files for people; "" for the working directory.
	shown string
	dir   string
}

func openFolder(arg string) (*folder, error) {
	if arg == "" {
		return nil, errors.New(`an empty path; write "." for this folder`)
	}
	if info, err := os.Stat(arg); err != nil || !info.IsDir() {
		return nil, fmt.Errorf("%s: there is no such folder", arg)
	}
	shown := filepath.ToSlash(filepath.Clean(arg))
	if shown == "." {
		shown = ""
	}
	tree, err := repo.Folder(arg)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", arg, plain(err))
	}
	return &folder{tree, shown, arg}, nil
}

// at is a place of a file of the folder for people.
func (f *folder) at(file string) string { return path.Join(f.shown, file) + ":1:1" }

// say writes problems, one a line, and how many there are; it gives the exit.
func say(w io.Writer, problems []judge.Problem) error {
	var b bytes.Buffer
	for _, p := range problems {
		fmt.Fprintln(&b, words.Clean(p.String()))
	}
	fmt.Fprintf(&b, "%s.\n", words.Count(len(problems), "problem"))
	if _, err := w.Write(b.Bytes()); err != nil {
		return err
	}
	return exit{exitUnfit}
}

// build reads a folder and makes its generated files in memory.
func (f *folder) build(step func(at, what string)) (*standard.Built, []judge.Problem) {
	if _, err := standard.Files(f); err != nil { // links and floods, before anything is read
		return nil, []judge.Problem{{File: f.dir, Text: err.Error()}}
	}
	step(f.at(load.StandardFile), "reading "+load.StandardFile)
	s, faults := load.ReadStandard(f, load.Options{})
	var problems []judge.Problem
	for _, x := range faults {
		problems = append(problems, judge.Problem{File: path.Join(f.shown, x.At.File), Line: x.At.Start.Line, Col: x.At.Start.Col, Text: x.Message})
	}
	if len(problems) > 0 {
		return nil, problems
	}
	step(path.Join(f.shown, "rules"), "compiling its rules")
	return standard.Build(f, s, f.shown)
}

// withBuilt goes on with what a folder's generated files should be, within bounds; what is wrong with the folder is said instead.
func (a *app) withBuilt(cmd *cobra.Command, b *bounds, f *folder, work func(built *standard.Built, step func(at, what string)) error) error {
	return a.walled(cmd, b, func(step func(at, what string)) error {
		built, problems := f.build(step)
		if len(problems) > 0 {
			return say(cmd.OutOrStdout(), problems)
		}
		return work(built, step)
	})
}

func (a *app) standardNew() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "new NAME",
		Short: "Start a standard: one limit, one rule, its test",
		Args:  exactly("the name of the standard, plain words with hyphens, such as harrow-valley"),
		RunE: func(cmd *cobra.Command, args []string) error {
			name := args[0]
			base, err := judge.ReadManifest(judge.Base())
			if err != nil {
				return err
			}
			if why := judge.NameFault(name); why != "" {
				return fmt.Errorf("the name of a standard: %s", why)
			}
			if out == "" {
				out = name
			}
			if entries, err := os.ReadDir(out); err == nil && len(entries) > 0 {
				return fmt.Errorf("-o %s: the folder is there and not empty; name a new one", out)
			} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
				return fmt.Errorf("-o %s: %w", out, plain(err))
			}
			if err := writeFiles(out, standard.New(name, base.Version)); err != nil {
				return err
			}
			f, err := openFolder(out)
			if err != nil {
				return err
			}
			b, problems := f.build(func(string, string) {})
			if len(problems) > 0 {
				return say(cmd.OutOrStdout(), problems)
			}
			if err := writeFiles(out, b.Files); err != nil {
				return err
			}
			fmt.Fprintf(cmd.OutOrStdout(), "%s: a standard with one limit, one rule and its test. Change standard.cue and rules/, then:\n    kitmuster standard build %[1]s\n    kitmuster standard test %[1]s\n", out)
			return nil
		},
	}
	cmd.Flags().StringVarP(&out, "output", "o", "", "the `folder` to make (its name if not given)")
	return cmd
}

// exactly demands one argument, and says which.
func exactly(what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) != 1 {
			return fmt.Errorf("write %s", what)
		}
		return nil
	}
}

const aFolder = "the folder of one standard"

// writeFiles writes files below a folder, each whole or not at all.
func writeFiles(dir string, files map[string][]byte) error {
	for _, name := range slices.Sorted(maps.Keys(files)) {
		target := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(target), 0o777); err != nil {
			return fmt.Errorf("%s: the folder could not be made: %w", filepath.Dir(target), plain(err))
		}
		if err := writeWhole(target, files[name]); err != nil {
			return err
		}
	}
	return nil
}

// writeWhole writes a file in one step.
func writeWhole(name string, b []byte) error {
	f, err := newWholeFile(name)
	if err != nil {
		return fmt.Errorf("%s could not be written: %w", name, plain(err))
	}
	defer f.drop()
	_, err = f.Write(b)
	if err == nil {
		err = f.Close()
	}
	if err == nil {
		err = f.keep()
	}
	if err != nil {
		return fmt.Errorf("%s could not be written: %w", name, plain(err))
	}
	return nil
}

func (a *app) standardBuild() *cobra.Command {
	var b bounds
	cmd := &cobra.Command{
		Use:   "build DIR",
		Short: "Make the manifest, the data of the limits and the page from standard.cue and the rules",
		Long: `Makes .manifest, limits/<name>/data.json and README.md. Only files that differ are written, and
none where something is wrong. A README.md that was not made by this command is not overwritten.`,
		Args: exactly(aFolder),
		RunE: func(cmd *cobra.Command, args []string) error {
			f, err := openFolder(args[0])
			if err != nil {
				return err
			}
			return a.withBuilt(cmd, &b, f, func(built *standard.Built, _ func(at, what string)) error {
				stale := built.Stale(f)
				files := map[string][]byte{}
				for _, n := range stale {
					files[n] = built.Files[n]
				}
				if err := writeFiles(f.dir, files); err != nil {
					return err
				}
				for _, n := range stale {
					fmt.Fprintf(cmd.OutOrStdout(), "%s written\n", path.Join(f.shown, n))
				}
				fmt.Fprintf(cmd.OutOrStdout(), "%d of %d files written.\n", len(stale), len(built.Files))
				return nil
			})
		},
	}
	b.wallFlags(cmd)
	return cmd
}

func (a *app) standardTest() *cobra.Command {
	var b bounds
	cmd := &cobra.Command{
		Use:   "test DIR",
		Short: "Test a standard: its source, its generated files, its rules, their tests and their examples",
		Long: `Looks whether standard.cue fits the schema, the generated files are fresh, and the rules compile
strictly, know the facts, read nothing of another standard, carry complete METADATA and are formatted as
the stock formatter would; runs their tests, which must reach every line; and judges the kits under
passes and fails of each rule, as of ` + household.ExampleDay + `. Every problem is one line; any problem is exit code 2. Tests
may use the builders of facts of the base: import data.lib.testing_test as t.`,
		Args: exactly(aFolder),
		RunE: func(cmd *cobra.Command, args []string) error {
			f, err := openFolder(args[0])
			if err != nil {
				return err
			}
			return a.withBuilt(cmd, &b, f, func(built *standard.Built, step func(at, what string)) error {
				tests, problems := f.test(cmd.Context(), built, step)
				if len(problems) > 0 {
					return say(cmd.OutOrStdout(), problems)
				}
				m := built.Rulebook.Standards()[1]
				fmt.Fprintf(cmd.OutOrStdout(), "%s: %s, %s, %s: nothing is wrong.\n", &m, words.Count(len(built.Rules), "rule"), words.Count(len(built.Limits), "limit"), words.Count(tests, "test"))
				return nil
			})
		},
	}
	b.wallFlags(cmd)
	return cmd
}

// stale says of each generated file that is not what it should be.
func (f *folder) stale(built *standard.Built) (problems []judge.Problem) {
	for _, n := range built.Stale(f) {
		problems = append(problems, judge.Problem{File: path.Join(f.shown, n), Line: 1, Col: 1, Text: "this is not what standard.cue and the rules make; run kitmuster standard build " + f.dir})
	}
	return problems
}

// test looks at what was built well for what else can be wrong.
func (f *folder) test(ctx context.Context, built *standard.Built, step func(at, what string)) (tests int, problems []judge.Problem) {
	problems = f.stale(built)
	tree, err := standard.Over(f, built.Files)
	if err != nil {
		return 0, append(problems, judge.Problem{File: f.dir, Text: err.Error()})
	}
	step(path.Join(f.shown, "rules"), "running the tests of its rules")
	tests, more := judge.Test(ctx, judge.Layer{FS: judge.Base()}, judge.Layer{FS: tree, Shown: f.shown})
	problems = append(problems, more...)
	for _, r := range built.Rules {
		at := judge.Problem{File: r.File, Line: r.Line, Col: 1}
		for _, kit := range []struct {
			what, text string
			fails      bool
		}{{"passes", r.Passes, false}, {"fails", r.Fails, true}} {
			step(at.Span().String(), fmt.Sprintf("the kit under %s of rule %s", kit.what, r.Name))
			if at.Text = household.TryExample(ctx, built.Rulebook, r, kit.text, kit.fails); at.Text != "" {
				problems = append(problems, at)
			}
			at.Text = ""
		}
	}
	return tests, problems
}

func (a *app) standardPack() *cobra.Command {
	var b bounds
	var out, key string
	cmd := &cobra.Command{
		Use:   "pack DIR -o FILE",
		Short: "Pack a standard into one file, signed where a key is given",
		Long: `Packs a standard into a .tar.gz: the same files give the same bytes, signature aside. With --sign the
rules engine's own bundle signature goes in, over every file. A key is a private key in PEM: P-256 (ES256),
Ed25519 (EdDSA) or RSA (RS256), for instance of openssl genpkey -algorithm ed25519 -out KEY.pem; its public
half is for everyone: openssl pkey -in KEY.pem -pubout -out PUB.pem. A signature that lies in the folder
is left out. The digest is told of the files without signature.`,
		Args: exactly(aFolder),
		RunE: func(cmd *cobra.Command, args []string) error {
			f, err := openFolder(args[0])
			if err != nil {
				return err
			}
			if out == "" {
				return errors.New("-o is missing: name the file to write, such as -o standard.tar.gz")
			}
			if isDir(out) {
				return fmt.Errorf("-o %s is a folder; name a file", out)
			}
			if !isDir(filepath.Dir(out)) {
				return fmt.Errorf("-o: there is no folder %s to write %s in", filepath.Dir(out), filepath.Base(out))
			}
			if repo.Inside(f.dir, out) {
				return fmt.Errorf("-o %s lies within the standard, and would be packed the next time; write it outside of %s", out, f.dir)
			}
			var pem []byte
			if cmd.Flags().Changed("sign") {
				if pem, err = readKey("--sign", key); err != nil {
					return err
				}
				if repo.Inside(f.dir, key) {
					return fmt.Errorf("--sign %s: the private key lies within the standard, and would be packed with it; keep it elsewhere", key)
				}
			}
			return a.withBuilt(cmd, &b, f, func(built *standard.Built, _ func(at, what string)) error {
				if problems := f.stale(built); len(problems) > 0 {
					return say(cmd.OutOrStdout(), problems)
				}
				tree, err := standard.Over(unsigned{f}, nil)
				if err != nil {
					return err
				}
				signer := ""
				if pem != nil {
					if tree, signer, err = standard.Sign(tree, pem); err != nil {
						var unfit *judge.KeyError
						if errors.As(err, &unfit) {
							return fmt.Errorf("--sign %s: %w", key, err)
						}
						return err
					}
				}
				digest, err := standard.Digest(tree)
				if err != nil {
					return err
				}
				var packed bytes.Buffer
				if err := standard.Pack(&packed, tree); err != nil {
					return err
				}
				if err := writeWhole(out, packed.Bytes()); err != nil {
					return err
				}
				m := built.Rulebook.Standards()[1]
				tell(cmd.OutOrStdout(), m.Name, m.Version, digest, signer)
				return nil
			})
		},
	}
	cmd.Flags().StringVarP(&out, "output", "o", "", "the `file` to write, a .tar.gz")
	cmd.Flags().StringVar(&key, "sign", "", "sign with the private key in this PEM `file`")
	b.wallFlags(cmd)
	return cmd
}

// tell writes what a standard is told by.
func tell(w io.Writer, name, version, digest, signer string) {
	fmt.Fprintf(w, "%s %s\ndigest %s\n", words.Clean(name), words.Clean(version), digest)
	if signer != "" {
		fmt.Fprintf(w, "signed by the key %s\n", signer)
	} else {
		fmt.Fprintln(w, "not signed")
	}
}

// unsigned is a folder without the signature that may lie in it.
type unsigned struct{ fs.FS }

func (u unsigned) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, err := fs.ReadDir(u.FS, name)
	if name == "." {
		entries = slices.DeleteFunc(entries, func(e fs.DirEntry) bool { return e.Name() == standard.SignatureFile })
	}
	return entries, err
}

// maxKey bounds a file of keys.
const maxKey = 64 << 10

func readKey(flag, name string) ([]byte, error) {
	b, err := readSmall(name, maxKey)
	if err != nil {
		return nil, fmt.Errorf("%s %s: %w", flag, name, err)
	}
	return b, nil
}

// readSmall reads an ordinary file of bounded size.
func readSmall(name string, most int64) ([]byte, error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, errors.New("there is no such file")
	case err != nil:
		return nil, plain(err)
	case !info.Mode().IsRegular():
		return nil, errors.New("this is no ordinary file")
	case info.Size() > most:
		return nil, fmt.Errorf("the file has %d bytes; at most %d are read", info.Size(), most)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, plain(err)
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(b)) > most {
		err = fmt.Errorf("the file is larger than %d bytes", most)
	}
	return b, err
}

// maxPacked bounds a packed standard, far above any real one.
const maxPacked = 32 << 20

// openStandard opens a standard in a folder, or packed in a file. shown stands before the paths of its files for people.
func openStandard(arg string) (tree fs.FS, shown string, err error) {
	if tree, err = readStandard(arg); err != nil {
		return nil, "", fmt.Errorf("%s: %w", arg, err)
	}
	if shown = filepath.ToSlash(filepath.Clean(arg)); shown == "." {
		shown = ""
	}
	return tree, shown, nil
}

// readStandard reads a standard in a folder, or packed in a file.
func readStandard(name string) (fs.FS, error) {
	if isDir(name) {
		tree, err := repo.Folder(name)
		return tree, plain(err)
	}
	b, err := readSmall(name, maxPacked)
	if err != nil {
		return nil, err
	}
	return standard.Unpack(bytes.NewReader(b))
}

func (a *app) standardVerify() *cobra.Command {
	var key string
	cmd := &cobra.Command{
		Use:   "verify FILE|DIR --key PUB.pem",
		Short: "Verify the signature of a standard over every file",
		Long: `Verifies with a public key in PEM that every file of a standard, packed or in a folder, is as it was
signed, none is missing and none was added; the engine signs JSON by its content, so blanks in .manifest and
data.json may differ. What a folder hides (names that begin with a dot) is no part of a standard.`,
		Args: exactly("the packed file or the folder of one standard"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if key == "" {
				return errors.New("--key is missing: name the file with the public key of those who signed")
			}
			pem, err := readKey("--key", key)
			if err != nil {
				return err
			}
			tree, _, err := openStandard(args[0])
			if err != nil {
				return err
			}
			v, err := standard.Verify(tree, pem, a.now())
			var unfit *judge.KeyError
			if errors.As(err, &unfit) {
				return fmt.Errorf("--key %s: %w", key, err)
			}
			if err != nil {
				return fmt.Errorf("%s: %s", args[0], words.Clean(err.Error()))
			}
			tell(cmd.OutOrStdout(), v.Name, v.Version, v.Digest, v.Signer)
			return nil
		},
	}
	cmd.Flags().StringVar(&key, "key", "", "the public key in this PEM `file`")
	return cmd
}

func (a *app) standardShow() *cobra.Command {
	var b bounds
	var format string
	cmd := &cobra.Command{
		Use:   "show FILE|DIR",
		Short: "Show what a standard changes against the base",
		Long: `Shows a standard, packed or in a folder: its rules, its limits (tightened, loosened, added, changed
or restated against the base), and the rules of the base that it switches off. Its CUE is not evaluated; no signature is verified.`,
		Args: exactly("the packed file or the folder of one standard"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := oneOf("format", format, "text", "json"); err != nil {
				return err
			}
			return a.walled(cmd, &b, func(step func(at, what string)) error {
				step(args[0], "the standard")
				tree, shown, err := openStandard(args[0])
				if err != nil {
					return err
				}
				digest, err := standard.Digest(tree)
				if err != nil {
					return fmt.Errorf("%s: %w", args[0], err)
				}
				if m, err := judge.ReadManifest(tree); err == nil && m.Name == "" {
					return fmt.Errorf("%s: this is no standard: it has no %s with a name; kitmuster standard build makes one", args[0], standard.ManifestFile)
				}
				rulebook, problems := judge.NewLayers(judge.Layer{FS: judge.Base()}, judge.Layer{FS: tree, Shown: shown})
				if len(problems) > 0 {
					return say(cmd.OutOrStdout(), problems)
				}
				_, err = fs.Stat(tree, standard.SignatureFile)
				d := standard.Describe(rulebook, digest, err == nil)
				if format == "json" {
					e := json.NewEncoder(cmd.OutOrStdout())
					e.SetIndent("", "  ")
					return e.Encode(d)
				}
				return showStandard(cmd.OutOrStdout(), d)
			})
		},
	}
	b.wallFlags(cmd)
	cmd.Flags().StringVar(&format, "format", "text", "write this `format`: text or json")
	return cmd
}

// showStandard writes a standard for people: what it changes comes first.
func showStandard(w io.Writer, d *standard.Described) error {
	var b bytes.Buffer
	p := func(format string, args ...any) {
		b.WriteString(words.Clean(fmt.Sprintf(format, args...)))
		b.WriteByte('\n')
	}
	p("%s %s, over base %s (needs %s)", d.Name, d.Version, d.Base, d.Needs)
	p("digest %s", d.Digest)
	if d.Signed {
		p("signed; kitmuster standard verify tells whether the signature holds")
	} else {
		p("not signed")
	}
	for _, change := range []string{"loosened", "tightened", "changed", "added", "restated"} {
		var lines []standard.LimitLine
		for _, l := range d.Limits {
			if l.Change == change {
				lines = append(lines, l)
			}
		}
		if len(lines) == 0 {
			continue
		}
		p("")
		p("%s: %s", change, words.Count(len(lines), "limit"))
		for _, l := range lines {
			was := ""
			if l.Before != "" && l.Before != l.Value {
				was = ", base: " + l.Before
			}
			p("  %s = %s%s: %s", l.Name, l.Value, was, l.Meaning)
			p("    source: %s", l.Source)
			p("    at %s", l.At)
		}
	}
	if len(d.Off) > 0 {
		p("")
		p("switched off: %s", words.Count(len(d.Off), "rule"))
		for _, o := range d.Off {
			p("  %s: %s", o.Rule, o.Reason)
		}
	}
	if len(d.Rules) > 0 {
		p("")
		p("added: %s", words.Count(len(d.Rules), "rule"))
		for _, r := range d.Rules {
			p("  %s (%s): %s", r.Name, r.Level, r.Title)
			p("    at %s", r.At)
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

func (a *app) standardBase() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "base -o DIR",
		Short: "Write out the base standard for editors and the stock tools of the rules engine",
		Long: `Writes the base standard as a bundle, with the schema of the facts (facts.schema.json) and the functions
that rules may call (capabilities.json), so that stock tools can check and test a standard beside it.`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if out == "" {
				return errors.New("-o is missing: name the folder to make, such as -o base")
			}
			if entries, err := os.ReadDir(out); err == nil && len(entries) > 0 {
				return fmt.Errorf("-o %s: the folder is there and not empty; name a new one", out)
			} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
				return fmt.Errorf("-o %s: %w", out, plain(err))
			}
			if err := os.CopyFS(out, judge.Base()); err != nil {
				return fmt.Errorf("-o %s: the files could not be written: %w", out, plain(err))
			}
			m, err := judge.ReadManifest(judge.Base())
			if err != nil {
				return err
			}
			fmt.Fprintf(cmd.OutOrStdout(), "%s written to %s\n", m, out)
			return nil
		},
	}
	cmd.Flags().StringVarP(&out, "output", "o", "", "the `folder` to make")
	return cmd
}
