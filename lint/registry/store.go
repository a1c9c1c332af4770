package registry

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"

	"kitmuster/lint/atomicfile"
)

// What the store's folder holds: for each manifest its bytes and the packed standard, named by the manifest's digest; and
// notes, named by the hash of a tagged address or by a content digest, that lead to a manifest. What is broken is not there.

// note says what an address or a content digest led to last.
type note struct {
	Of       string `json:"of"`
	Manifest string `json:"manifest"`
	Content  string `json:"content"`
	Version  string `json:"version"`
	// Newest is the newest version that the address ever led to.
	Newest string `json:"newest"`
}

const maxNote = 8 << 10

func file(digest, suffix string) string { return strings.Replace(digest, ":", "-", 1) + suffix }

func noteFile(of string) string { return file(sum([]byte(of)), ".note.json") }

// read gives the bytes of a file of the store, at most so many, and nil where there is none.
func (s *Store) read(name string, most int64) []byte {
	root, err := os.OpenRoot(s.dir)
	if err != nil {
		return nil
	}
	defer root.Close()
	info, err := root.Lstat(name)
	if err != nil || !info.Mode().IsRegular() {
		return nil
	}
	f, err := root.Open(name)
	if err != nil {
		return nil
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, most))
	if err != nil {
		return nil
	}
	return b
}

// write keeps a file whole or not at all.
func (s *Store) write(name string, b []byte) error {
	if err := os.MkdirAll(s.dir, 0o700); err != nil {
		return err
	}
	return atomicfile.Write(filepath.Join(s.dir, name), b, 0o600)
}

// note gives what is known of a tagged address or a content digest.
func (s *Store) note(of string) (n note, ok bool) {
	b := s.read(noteFile(of), maxNote)
	ok = b != nil && json.Unmarshal(b, &n) == nil && digestForm.MatchString(n.Manifest)
	return n, ok
}

// stored gives the standard of a manifest, checked as if it had just come from a stranger.
func (s *Store) stored(a Address, manifest string) (*Standard, bool) {
	m := s.read(file(manifest, ".json"), maxManifest)
	if m == nil || sum(m) != manifest {
		return nil, false
	}
	d, err := layerOf(m)
	if err != nil {
		return nil, false
	}
	b := s.read(file(manifest, ".tar.gz"), maxLayer)
	if b == nil || sum(b) != string(d.Digest) {
		return nil, false
	}
	st, err := unpack(a, m, b)
	if err != nil {
		return nil, false
	}
	st.Stored = true
	return st, true
}

// keep puts a standard into the store, and notes what leads to it.
func (s *Store) keep(a Address, st *Standard, manifest []byte) error {
	var errs []error
	if !st.Stored {
		errs = append(errs, s.write(file(st.Manifest, ".json"), manifest), s.write(file(st.Manifest, ".tar.gz"), st.Packed))
	}
	n := note{Manifest: st.Manifest, Content: st.Digest, Version: st.Version, Newest: st.Version}
	of := []string{st.Digest}
	if a.ref.Digest == "" {
		of = append(of, a.String())
	}
	for _, x := range of {
		n.Of = x
		before, _ := s.note(x)
		n.Newest = newer(before.Newest, st.Version)
		if n == before {
			continue
		}
		b, err := json.Marshal(n)
		if err == nil {
			err = s.write(noteFile(x), b)
		}
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}
