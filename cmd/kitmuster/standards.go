package main

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
	"kitmuster/lint/settings"
	"kitmuster/lint/standard"
	"kitmuster/lint/words"
)

// onlyBase is what --standard takes for the base standard alone.
const onlyBase = "base"

// standards are the standards beyond the base, in the order in which they judge.
type standards struct {
	flags []string
	// word is how the flags are called in messages, "" for --standard.
	word string

	// file is the settings file that names them, "" where none does.
	file string
	// tree is an earlier state that they are read from, in the paths of disk; nil reads them from the disk.
	tree fs.FS
	disk *repo.Disk

	picks    []settings.Standard
	resolved []resolved
	// book is what they make, and bytes what that packs to, once it was wanted.
	book  *judge.Rulebook
	mu    sync.Mutex
	bytes []byte
	// store is where that is remembered between runs; differ says that something else was remembered.
	store  *caching
	differ bool
	ctx    context.Context
	errs   io.Writer
}

// resolved is a standard that was read.
type resolved struct {
	judge.Layer
	name, digest string
}

func (s *standards) addTo(cmd *cobra.Command) {
	cmd.PreRun = func(cmd *cobra.Command, _ []string) { s.ctx, s.errs = cmd.Context(), cmd.ErrOrStderr() }
	cmd.Flags().StringArrayVar(&s.flags, "standard", nil, "also judge by the standard in this `folder` or packed file, or write base for the base alone; several apply in the order given (what "+settings.File+" of the repository names if not given)")
}

// find says which standards are asked for: by flags, else by the settings file of the repository that the paths are in.
func (s *standards) find(disk *repo.Disk, wd string, bases []string) error {
	if len(s.flags) > 0 {
		for _, f := range s.flags {
			switch {
			case f == onlyBase && len(s.flags) == 1:
				return nil
			case f == onlyBase || f == "":
				return fmt.Errorf("%s %q: the base always judges; write base alone, or the standards after it", cmp.Or(s.word, "--standard"), f)
			}
			p := settings.Standard{From: f, At: cmp.Or(s.word, "--standard") + " " + f}
			if p.Shown = f; !filepath.IsAbs(f) {
				p.From = filepath.Join(wd, f)
			}
			s.picks = append(s.picks, p)
		}
		return nil
	}
	file := settings.Nearest(bases[0])
	for _, base := range bases[1:] {
		if other := settings.Nearest(base); other != file {
			return fmt.Errorf("the paths are judged by different standards, those of %s and of %s; check them apart, or name one with --standard", cmp.Or(file, "none"), cmp.Or(other, "none"))
		}
	}
	if s.file = file; file == "" {
		return nil
	}
	t, err := disk.Path(file)
	if err != nil {
		return err
	}
	if !repo.Inside(settings.Repository(file), file) {
		return fmt.Errorf("%s: this is a link that leads out of the repository; write the file itself", disk.Show(t))
	}
	b, err := readSmall(file, settings.Most)
	if err != nil {
		return fmt.Errorf("%s: %w", disk.Show(t), err)
	}
	s.picks, err = settings.Parse(file, disk.Show(t), b, func(name string) (string, error) {
		t, err := disk.Path(name)
		return disk.Show(t), err
	})
	return err
}

// read reads a standard from where it is.
func (s *standards) read(p *settings.Standard) (fs.FS, error) {
	switch {
	case p.Registry == "" && s.tree != nil:
		return s.readThen(p.From)
	case p.Registry == "":
		return readStandard(p.From)
	}
	ctx, stop := context.WithTimeout(s.ctx, usualWait)
	defer stop()
	st, err := fetchedStandards(s.errs).Pull(ctx, p.Registry, p.Digest)
	if err != nil {
		return nil, err
	}
	return standard.Unpack(bytes.NewReader(st.Packed))
}

// open reads the standards that were found, and holds each to what is asked of it.
func (s *standards) open(now time.Time) error {
	for i := range s.picks {
		p := &s.picks[i]
		fsys, err := s.read(p)
		if err != nil {
			return p.Wrong(err)
		}
		m, err := judge.ReadManifest(fsys)
		if err == nil && m.Name == "" {
			err = fmt.Errorf("it has no %s with a name, so it is no standard", standard.ManifestFile)
		}
		if err != nil {
			return p.Wrong(err)
		}
		digest, err := standard.Digest(fsys)
		if err != nil {
			return p.Wrong(err)
		}
		switch {
		case p.Version != "" && p.Version != m.Version:
			return fmt.Errorf("%s: %s is version %s, and version %s is pinned; fetch that version, or write the new one here once you have tried it", p.At, p.Shown, m.Version, p.Version)
		case p.Digest != "" && p.Digest != digest:
			return fmt.Errorf("%s: %s is not the standard that was pinned: its digest is %s, and %s is pinned; fetch the pinned one, or write the new digest here once you have looked at what changed", p.At, p.Shown, digest, p.Digest)
		}
		if p.Key != "" {
			pem, err := readKey("key", p.Key)
			if err == nil {
				_, err = standard.Verify(fsys, pem, now)
			}
			if err != nil {
				return p.Wrong(err)
			}
		}
		s.resolved = append(s.resolved, resolved{judge.Layer{FS: fsys, Shown: filepath.ToSlash(p.Shown)}, m.String(), digest})
	}
	return nil
}

// then are the standards that the same flags or the same settings file named in an earlier state, read from its tree.
func (s *standards) then(disk *repo.Disk, tree fs.FS, changes []repo.Change, now time.Time) (*standards, error) {
	t := &standards{flags: s.flags, word: s.word, file: s.file, store: s.store, ctx: s.ctx, errs: io.Discard, tree: tree, disk: disk}
	if len(s.flags) > 0 {
		t.picks = s.picks
		return t, t.open(now)
	}
	var file string
	var err error
	if s.file != "" {
		if file, err = disk.Path(s.file); err != nil {
			return nil, err
		}
	} else {
		for _, c := range changes {
			if path.Base(c.Old) != settings.File {
				continue
			}
			if file != "" {
				return nil, fmt.Errorf("there were several %s", settings.File)
			}
			file = c.Old
		}
	}
	b, err := fs.ReadFile(tree, file)
	if errors.Is(err, fs.ErrNotExist) {
		return t, nil
	}
	if err != nil || len(b) > settings.Most {
		return nil, fmt.Errorf("%s could not be read: %w", file, cmp.Or(err, errors.New("it is too large")))
	}
	t.picks, err = settings.Parse(disk.File(file), disk.Show(file), b, func(name string) (string, error) {
		t, err := disk.Path(name)
		return disk.Show(t), err
	})
	if err != nil {
		return nil, err
	}
	return t, t.open(now)
}

// readThen reads a folder or a packed file of the earlier state.
func (s *standards) readThen(name string) (fs.FS, error) {
	t, err := s.disk.Path(name)
	if err != nil {
		return nil, err
	}
	info, err := fs.Stat(s.tree, t)
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		return fs.Sub(s.tree, t)
	}
	if info.Size() > maxPacked {
		return nil, errors.New("it is too large")
	}
	b, err := fs.ReadFile(s.tree, t)
	if err != nil {
		return nil, err
	}
	return standard.Unpack(bytes.NewReader(b))
}

// changed is what tells most of what has changed of the standards, or of the file that names them, as people see it; "" where nothing has.
func (s *standards) changed(disk *repo.Disk, changes []repo.Change) string {
	var ours []string
	for _, p := range s.picks {
		if t, err := disk.Path(p.From); err == nil {
			ours = append(ours, t)
		}
	}
	best, most := "", 0
	for _, c := range changes {
		for _, p := range []string{c.Old, c.New} {
			tells := 0
			switch in := slices.ContainsFunc(ours, func(o string) bool { return p == o || strings.HasPrefix(p, o+"/") }); {
			case in && path.Base(p) == load.StandardFile:
				tells = 4
			case in && path.Ext(p) == ".rego":
				tells = 3
			case in:
				tells = 2
			case path.Base(p) == settings.File:
				tells = 1
			}
			if tells > most {
				best, most = disk.Show(p), tells
			}
		}
	}
	return best
}

// name says by which standards is judged; "" is the base alone.
func (s *standards) name() string {
	var out []string
	for _, r := range s.resolved {
		out = append(out, fmt.Sprintf("%s (%s)", r.name, r.digest[:min(len(r.digest), len("sha256:")+12)]))
	}
	return strings.Join(out, ", ")
}

// place says where in a standard something stands, without the folder that the standard lies in.
func (s *standards) place(p judge.Problem) string {
	for _, r := range s.resolved {
		if rest, ok := strings.CutPrefix(p.File, r.Shown+"/"); ok {
			p.File = r.name + ", " + rest
			break
		}
	}
	p.Text = ""
	return strings.TrimSuffix(p.String(), ": ")
}

// salt is what an answer depends on.
func (s *standards) salt() string {
	var out []string
	for _, r := range s.resolved {
		out = append(out, r.digest, path.Clean(r.Shown)) // places in the standard stand in findings
	}
	return strings.Join(out, "\x00")
}

// rulebook is the base and the standards after it, remembered or compiled; their own faults go to the user whole.
func (s *standards) rulebook(errs io.Writer) (*judge.Rulebook, error) {
	if s.book != nil {
		return s.book, nil
	}
	if kept, ok := s.store.rules(s.salt()); ok && !s.store.verify {
		if b, err := judge.Unpack(kept); err == nil {
			s.book, s.bytes = b, kept
		}
	}
	if s.book == nil {
		if err := compiling(s, errs); err != nil {
			return nil, err
		}
	}
	s.book.WatchHeap() // a command that judges by it itself is walled as a whole and has nothing else to do
	return s.book, nil
}

// compiling is how standards are compiled. Most tests are spared compiling the base in each program that they run; see ahead in main_test.go.
var compiling = (*standards).compile

func (s *standards) compile(errs io.Writer) error {
	layers := []judge.Layer{{FS: judge.Base()}}
	for _, r := range s.resolved {
		layers = append(layers, r.Layer)
	}
	b, problems := judge.NewLayers(layers...)
	if len(problems) > 0 {
		for _, p := range problems {
			fmt.Fprintln(errs, words.Clean(p.String()))
			if open := aloud(errs); open != errs { // its text may quote the folder
				fmt.Fprintln(open, cmp.Or(words.Clean(s.place(p)), "the standard")+": this is wrong with the standard; kitmuster standard test says what")
			}
		}
		return exit{exitUnfit}
	}
	if s.book = b; len(s.resolved) == 0 { // the base alone compiles when somebody is judged
		return nil
	}
	return s.pack()
}

// packed is the rulebook as workers are given it.
func (s *standards) packed() ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if _, err := s.rulebook(io.Discard); err != nil {
		return nil, err
	}
	if s.bytes == nil {
		if err := s.pack(); err != nil {
			return nil, err
		}
	}
	return s.bytes, nil
}

func (s *standards) pack() (err error) {
	if s.bytes, err = s.book.Pack(); err == nil {
		s.keep()
	}
	return err
}

// keep remembers what the rules pack to.
func (s *standards) keep() {
	kept, ok := s.store.rules(s.salt())
	s.differ = ok && !bytes.Equal(kept, s.bytes)
	s.store.keepRules(s.salt(), s.bytes)
}
