package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"kitmuster/lint/atomicfile"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/report"
)

// outputs are the forms in which a check is written: one to standard output, others to files.
type outputs struct {
	format string
	files  []string

	main    report.Format
	extra   []outputFile
	options report.Options
}

type outputFile struct {
	format report.Format
	name   string
}

func (o *outputs) flags(cmd *cobra.Command) {
	names := report.Names()
	cmd.Flags().StringVar(&o.format, "format", "text", "write this `format` to standard output: "+strings.Join(names[:len(names)-1], ", ")+" or "+names[len(names)-1])
	cmd.Flags().BoolVar(&o.options.Long, "long", false, "in text, write out everything: all findings and reasons, every limit, and the spots that waivers name")
	cmd.Flags().BoolVarP(&o.options.Quiet, "quiet", "q", false, "in text, say in one line for each household how it stands, and count")
	cmd.Flags().StringArrayVar(&o.files, "output", nil, "also write a file, as `format=file`; may be given several times")
}

// read holds the flags to what there is.
func (o *outputs) read() (err error) {
	if o.options.Quiet && o.options.Long {
		return openly(errors.New("--quiet and --long ask for the opposite of each other; write one of them"))
	}
	if o.main, err = report.Named(o.format); err != nil {
		return openly(fmt.Errorf("--format: %w", err))
	}
	for _, s := range o.files {
		name, file, ok := strings.Cut(s, "=")
		if !ok || file == "" {
			return fmt.Errorf("--output %q: write a format and a file, such as json=findings.json", s)
		}
		f, err := report.Named(name)
		if err != nil {
			return fmt.Errorf("--output: %w", err)
		}
		if slices.ContainsFunc(o.extra, func(x outputFile) bool { return filepath.Clean(x.name) == filepath.Clean(file) }) {
			return fmt.Errorf("--output: %s is named twice; give each format a file of its own", file)
		}
		if info, err := os.Stat(file); err == nil && info.IsDir() {
			return fmt.Errorf("--output: %s is a folder; name a file", file)
		} else if errors.Is(err, fs.ErrNotExist) {
			if dir := filepath.Dir(file); !isDir(dir) {
				return fmt.Errorf("--output: there is no folder %s to write %s in", dir, filepath.Base(file))
			}
		}
		o.extra = append(o.extra, outputFile{f, file})
	}
	text := o.main.Name == "text" || slices.ContainsFunc(o.extra, func(x outputFile) bool { return x.format.Name == "text" })
	switch {
	case o.options.Long && !text:
		return openly(fmt.Errorf("--long is for the text report; leave it out, as --format %s has everything it can hold", o.main.Name))
	case o.options.Quiet && !text:
		return openly(fmt.Errorf("--quiet is for the text report; leave it out, or leave --format %s out", o.main.Name))
	}
	return nil
}

func isDir(p string) bool {
	info, err := os.Stat(p)
	return err == nil && info.IsDir()
}

// ready gives the run and the formats what they need to be written: the rules,
// which take a while to compile and are used by some formats only, and the level that fails.
func (o *outputs) ready(run *finding.Run, rules *standards, errs io.Writer, failOn string) error {
	if failOn != "never" {
		o.options.FailOn = finding.Level(failOn)
	}
	needs := func(f report.Format) bool { return f.NeedsRules != nil && f.NeedsRules(run) }
	if !needs(o.main) && !slices.ContainsFunc(o.extra, func(x outputFile) bool { return needs(x.format) }) {
		return nil
	}
	b, err := rules.rulebook(errs)
	if err == nil {
		run.Rules = household.Rules(b)
	}
	return err
}

// fits says why what is to be judged cannot be written in one of the forms, or nil; run holds as much of it as is known.
func (o *outputs) fits(run *finding.Run) error {
	for _, f := range append([]outputFile{{format: o.main}}, o.extra...) {
		if f.format.Fits == nil {
			continue
		}
		if err := f.format.Fits(run); err != nil {
			return fmt.Errorf("%s: %w", f.format.Name, err)
		}
	}
	return nil
}

// terminal gives the options of the form that goes to standard output.
func (o *outputs) terminal(w io.Writer) report.Options {
	opt := o.options
	opt.Colour = colour(w)
	return opt
}

// write writes the files, whole or not at all, and then standard output.
func (o *outputs) write(run *finding.Run, out io.Writer) error {
	var done []*wholeFile
	defer func() {
		for _, f := range done {
			f.drop()
		}
	}()
	unfit := o.fits(run) // known only now where the run did not come to its end: all that can be written is
	for _, x := range o.extra {
		if x.format.Fits != nil && unfit != nil {
			continue
		}
		f, err := newWholeFile(x.name)
		if err != nil {
			return fmt.Errorf("%s could not be written: %w", x.name, plain(err))
		}
		done = append(done, f)
		f.asText()
		if f.shown != nil {
			f.shown.commands = x.format.Commands
		}
		err = x.format.Write(f, run, o.options)
		if err == nil {
			err = f.Close()
		}
		if err != nil {
			return fmt.Errorf("%s could not be written: %w", x.name, plain(err))
		}
	}
	for _, f := range done {
		if err := f.keep(); err != nil {
			return fmt.Errorf("%s could not be written: %w", f.target, plain(err))
		}
	}
	if o.main.Fits != nil && unfit != nil {
		return unfit
	}
	opt := o.terminal(out)
	if s, ok := out.(*stream); ok && o.main.Commands {
		c, err := s.commanding()
		if err != nil {
			return fmt.Errorf("the findings could not be written: %w", plain(err))
		}
		defer c.Close()
		out = c
	}
	if err := o.main.Write(out, run, opt); err != nil {
		return fmt.Errorf("the findings could not be written: %w", plain(err))
	}
	return unfit
}

// plain drops the name of a temporary file, which tells nobody anything. What is wrapped stays whole: it is about another file.
func plain(err error) error {
	if pe, ok := err.(*fs.PathError); ok {
		return pe.Err
	}
	return err
}

// wholeFile becomes its target in one step, once it has been written.
type wholeFile struct {
	// part is the file under way; nil for what cannot be replaced, such as /dev/stderr, which through writes to.
	part    *atomicfile.File
	through *os.File
	// shown is nil, or stands before through: see asText.
	shown  *stream
	target string
}

func newWholeFile(name string) (*wholeFile, error) {
	target := name
	info, err := os.Stat(name)
	if err == nil {
		if target, err = filepath.EvalSymlinks(name); err != nil {
			return nil, err
		}
		if !info.Mode().IsRegular() { // a pipe or a device takes what comes and cannot be replaced
			f, err := os.OpenFile(target, os.O_WRONLY, 0)
			return &wholeFile{through: f, target: target}, err
		}
	}
	f, err := atomicfile.Create(atomicfile.Disk, target, 0o666)
	if err != nil {
		return nil, err
	}
	if info != nil {
		_ = f.Chmod(info.Mode().Perm())
	}
	return &wholeFile{part: f, target: target}, nil
}

// asText says that what will be written is text, which someone may read as it comes where it is no file.
func (f *wholeFile) asText() {
	if f.through != nil {
		f.shown = newStream(f.through)
	}
}

// Write implements io.Writer.
func (f *wholeFile) Write(p []byte) (int, error) {
	if f.shown != nil {
		return f.shown.Write(p)
	}
	lastWrite.Store(time.Now().UnixNano())
	if f.through != nil {
		return f.through.Write(p)
	}
	return f.part.Write(p)
}

// Close ends the writing.
func (f *wholeFile) Close() error {
	if f.shown != nil {
		return errors.Join(f.shown.Close(), f.through.Close())
	}
	if f.through != nil {
		return f.through.Close()
	}
	lastWrite.Store(time.Now().UnixNano()) // a slow disk may take its time now
	return f.part.Close()
}

// keep makes it the target, and takes away what killed programs left of the same target.
func (f *wholeFile) keep() error {
	if f.part == nil {
		return nil
	}
	if err := f.part.Replace(); err != nil {
		return err
	}
	dir, base := filepath.Split(f.target)
	atomicfile.Sweep(dir, func(b string) bool { return b == base })
	return atomicfile.SyncFolder(dir)
}

// drop removes what did not become the target.
func (f *wholeFile) drop() {
	if f.part != nil {
		f.part.Drop()
	}
}
