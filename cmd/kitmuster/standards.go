package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"kitmuster/lint/judge"
	"kitmuster/lint/repo"
	"kitmuster/lint/source"
	"kitmuster/lint/standard"
	"kitmuster/lint/words"
)

// settingsFile names the standard of a repository, once, at its root.
const settingsFile = "kitmuster.json"

// onlyBase is what --standard takes for the base standard alone.
const onlyBase = "base"

// pick is a standard as a repository or a flag names it.
type pick struct {
	// From is a folder or a packed file, relative to where it is named.
	From string `json:"from"`
	// Registry is an address in a registry, in the place of From.
	Registry string `json:"registry"`
	// Version and Digest are what it must be, Key the file with the public key of those who must have signed it; "" leaves it open.
	Version string `json:"version"`
	Digest  string `json:"digest"`
	Key     string `json:"key"`
	// packed is what the registry gave, kept for the workers.
	packed []byte
	// at is where it is named, for messages.
	at string
	// shown is where people find it.
	shown string
}

// wrong says what is wrong with it, where it is named.
func (p *pick) wrong(err error) error {
	if strings.HasSuffix(p.at, " "+p.shown) {
		return fmt.Errorf("%s: %w", p.at, err)
	}
	return fmt.Errorf("%s: %s: %w", p.at, p.shown, err)
}

// layer is a verified pick as a worker is told of it.
type layer struct{ From, Digest, Shown string }

// standards are the standards beyond the base, in the order in which they judge.
type standards struct {
	flags []string
	// word is how the flags are called in messages, "" for --standard.
	word string
	// layers hands verified picks to workers.
	layers string

	picks    []pick
	resolved []resolved
	files    []string
	ctx      context.Context
	errs     io.Writer
}

// resolved is a standard that was read.
type resolved struct {
	judge.Layer
	name, digest string
}

func (s *standards) addTo(cmd *cobra.Command) {
	cmd.PreRun = func(cmd *cobra.Command, _ []string) { s.ctx, s.errs = cmd.Context(), cmd.ErrOrStderr() }
	cmd.Flags().StringArrayVar(&s.flags, "standard", nil, "judge by the standard in this `folder` or packed file too, or by base alone; several judge in the order given (what "+settingsFile+" of the repository names where not given)")
}

// find says which standards are asked for: by flags, else by the settings file of the repository that the paths are in.
func (s *standards) find(disk *repo.Disk, wd string, bases []string) error {
	if s.layers != "" {
		var layers []layer
		if err := json.Unmarshal([]byte(s.layers), &layers); err != nil {
			return err
		}
		for _, y := range layers {
			s.picks = append(s.picks, pick{From: y.From, Digest: y.Digest, shown: y.Shown, at: settingsFile})
		}
		return nil
	}
	if len(s.flags) > 0 {
		for _, f := range s.flags {
			switch {
			case f == onlyBase && len(s.flags) == 1:
				return nil
			case f == onlyBase || f == "":
				return fmt.Errorf("%s %q: the base always judges; write base alone, or the standards after it", cmp.Or(s.word, "--standard"), f)
			}
			p := pick{From: f, at: cmp.Or(s.word, "--standard") + " " + f}
			if p.shown = f; !filepath.IsAbs(f) {
				p.From = filepath.Join(wd, f)
			}
			s.picks = append(s.picks, p)
		}
		return nil
	}
	file := nearestSettings(bases[0])
	for _, base := range bases[1:] {
		if other := nearestSettings(base); other != file {
			return fmt.Errorf("the paths are judged by different standards, those of %s and of %s; check them apart, or name one with --standard", cmp.Or(file, "none"), cmp.Or(other, "none"))
		}
	}
	if file == "" {
		return nil
	}
	t, err := disk.Path(file)
	if err != nil {
		return err
	}
	if !inside(repositoryOf(file), file) {
		return fmt.Errorf("%s: this is a link that leads out of the repository; write the file itself", disk.Show(t))
	}
	b, err := readSmall(file, maxSettings)
	if err != nil {
		return fmt.Errorf("%s: %w", disk.Show(t), err)
	}
	return s.settings(file, disk.Show(t), b, disk)
}

// repositoryOf is the folder of the repository that a settings file stands for: the nearest upwards with .git, else its own.
func repositoryOf(file string) string {
	for dir := filepath.Dir(file); ; dir = filepath.Dir(dir) {
		if _, err := os.Lstat(filepath.Join(dir, ".git")); err == nil {
			return dir
		}
		if dir == filepath.Dir(dir) {
			return filepath.Dir(file)
		}
	}
}

// maxSettings bounds the settings file. Our own figure.
const maxSettings = 1 << 20

// nearestSettings is the settings file at or above a path, up to the root of its repository; "" where there is none.
func nearestSettings(from string) string {
	for dir := from; ; dir = filepath.Dir(dir) {
		name := filepath.Join(dir, settingsFile)
		if _, err := os.Lstat(name); err == nil {
			return name
		}
		if _, err := os.Lstat(filepath.Join(dir, ".git")); err == nil || dir == filepath.Dir(dir) {
			return ""
		}
	}
}

// settings reads the file that names a repository's standards. What it names lies in the repository: whoever commits it must not
// choose what is read from the machine.
func (s *standards) settings(file, shown string, b []byte, disk *repo.Disk) error {
	dir, repository := filepath.Dir(file), repositoryOf(file)
	text := source.NewText(shown, b)
	wrong := func(offset int64, format string, args ...any) error {
		p := text.Point(int(offset))
		return fmt.Errorf("%s:%d:%d: %s", shown, p.Line, p.Col, words.Clean(fmt.Sprintf(format, args...)))
	}
	const form = `write {"standards": [{"from": "standards/circle", "version": "1.2.0", "digest": "sha256:…"}]}`
	var whole struct {
		Standards json.RawMessage `json:"standards"`
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	err := d.Decode(&whole)
	if err == nil && d.More() {
		err = errors.New("nothing may follow it")
	}
	if err != nil || whole.Standards == nil {
		if err == nil {
			err = errors.New("standards is missing")
		}
		return wrong(offsetOf(err, d), "%v; %s", err, form)
	}
	if p, ok := judge.Doubled(shown, b); ok {
		return fmt.Errorf("%s:%d:%d: %s", shown, p.Line, p.Col, p.Text)
	}
	start := int64(bytes.Index(b, whole.Standards))
	list := json.NewDecoder(bytes.NewReader(whole.Standards))
	list.DisallowUnknownFields()
	if t, err := list.Token(); err != nil || t != json.Delim('[') {
		return wrong(start, "standards is a list; %s", form)
	}
	for list.More() {
		var p pick
		at := start + list.InputOffset()
		for at < int64(len(b)) && strings.IndexByte(" \t\r\n,", b[at]) >= 0 {
			at++
		}
		if err := list.Decode(&p); err != nil {
			return wrong(at, "%v; %s", err, form)
		}
		switch {
		case (p.From == "") == (p.Registry == ""):
			return wrong(at, "write from, a folder or packed file relative to this file, or registry, an address such as registry.example/valley/flood:1.2.0")
		case filepath.IsAbs(p.From) || strings.Contains(p.From, `\`) || filepath.IsAbs(p.Key) || strings.Contains(p.Key, `\`):
			return wrong(at, "write paths relative to this file, with /")
		case p.Digest != "" && !strings.HasPrefix(p.Digest, "sha256:"):
			return wrong(at, "digest: %s: write it as kitmuster standard show gives it, sha256:…", p.Digest)
		}
		pt := text.Point(int(at))
		p.at = fmt.Sprintf("%s:%d:%d", shown, pt.Line, pt.Col)
		if p.Key != "" {
			p.Key = filepath.Join(dir, filepath.FromSlash(p.Key))
		}
		if p.shown = p.Registry; p.Registry == "" {
			p.From = filepath.Join(dir, filepath.FromSlash(p.From))
			t, err := disk.Path(p.From)
			if err != nil {
				return err
			}
			p.shown = disk.Show(t)
		}
		for _, name := range []string{p.From, p.Key} {
			if name == "" || inside(repository, name) {
				continue
			}
			t, err := disk.Path(name)
			if err != nil {
				return err
			}
			return wrong(at, "%s leads out of the repository; copy it there, or name the standard with --standard", disk.Show(t))
		}
		s.picks = append(s.picks, p)
	}
	return nil
}

func offsetOf(err error, d *json.Decoder) int64 {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.As(err, &syntax):
		return syntax.Offset - 1
	case errors.As(err, &kind):
		return kind.Offset - 1
	}
	return d.InputOffset()
}

// read reads a standard from where it is.
func (s *standards) read(p *pick) (fs.FS, error) {
	if p.Registry == "" {
		return readStandard(p.From)
	}
	ctx, stop := context.WithTimeout(s.ctx, usualWait)
	defer stop()
	st, err := fetchedStandards(s.errs).Pull(ctx, p.Registry, p.Digest)
	if err != nil {
		return nil, err
	}
	p.packed = st.Packed
	return standard.Unpack(bytes.NewReader(st.Packed))
}

// open reads the standards that were found, and holds each to what is asked of it.
func (s *standards) open(now time.Time) error {
	for i := range s.picks {
		p := &s.picks[i]
		fsys, err := s.read(p)
		if err != nil {
			return p.wrong(err)
		}
		m, err := judge.ReadManifest(fsys)
		if err == nil && m.Name == "" {
			err = fmt.Errorf("it has no %s with a name, so it is no standard", standard.ManifestFile)
		}
		if err != nil {
			return p.wrong(err)
		}
		digest, err := standard.Digest(fsys)
		if err != nil {
			return p.wrong(err)
		}
		switch {
		case p.Version != "" && p.Version != m.Version:
			return fmt.Errorf("%s: %s is version %s, and %s is asked for; fetch that version, or write the new one here once you have tried it", p.at, p.shown, m.Version, p.Version)
		case p.Digest != "" && p.Digest != digest:
			return fmt.Errorf("%s: %s is not the standard that was pinned: its digest is %s, and %s is asked for; fetch the pinned one, or write the new digest here once you have looked at what changed", p.at, p.shown, digest, p.Digest)
		}
		if p.Key != "" {
			pem, err := readKey("key", p.Key)
			if err == nil {
				_, err = standard.Verify(fsys, pem, now)
			}
			if err != nil {
				return p.wrong(err)
			}
		}
		p.Digest = digest // what a worker reads must be the same
		s.resolved = append(s.resolved, resolved{judge.Layer{FS: fsys, Shown: filepath.ToSlash(p.shown)}, m.String(), digest})
	}
	return nil
}

// changed reports whether the file that names the standards, or one of them, is among what has changed.
func (s *standards) changed(disk *repo.Disk, changes []repo.Change) bool {
	var ours []string
	for _, p := range s.picks {
		if t, err := disk.Path(p.From); err == nil {
			ours = append(ours, t)
		}
	}
	return slices.ContainsFunc(changes, func(c repo.Change) bool {
		return slices.ContainsFunc([]string{c.Old, c.New}, func(p string) bool {
			return path.Base(p) == settingsFile || slices.ContainsFunc(ours, func(o string) bool { return p == o || strings.HasPrefix(p, o+"/") })
		})
	})
}

// forWorkers is what a worker needs to know. What came from a registry is put into a file for them, until close.
func (s *standards) forWorkers() (string, error) {
	layers := []layer{}
	for _, p := range s.picks {
		if p.packed != nil {
			f, err := os.CreateTemp("", "kitmuster-standard-*")
			if err != nil {
				return "", err
			}
			s.files = append(s.files, f.Name())
			_, err = f.Write(p.packed)
			if err = cmp.Or(err, f.Close()); err != nil {
				return "", err
			}
			p.From = f.Name()
		}
		layers = append(layers, layer{p.From, p.Digest, p.shown})
	}
	b, err := json.Marshal(layers)
	if err != nil {
		return "", err
	}
	return string(b), nil
}

// close takes away what was made for workers.
func (s *standards) close() {
	for _, f := range s.files {
		_ = os.Remove(f)
	}
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

// bench compiles the base and the standards after it; their own faults go to the user whole.
func (s *standards) bench(errs io.Writer) (*judge.Bench, error) {
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
		return nil, exit{exitUnfit}
	}
	b.WatchHeap() // whichever process judges has nothing else to do: a worker, or a command walled as a whole
	return b, nil
}
