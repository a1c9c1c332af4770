package cache

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"
)

var noon = time.Date(2026, 11, 1, 12, 0, 0, 0, time.UTC)

func open(t *testing.T, dir string, max int64, now time.Time) *Store {
	t.Helper()
	s, err := Open(dir, max, now)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func key(n int) Key { return sha256.Sum256([]byte(fmt.Sprint(n))) }

func TestWhatIsPutIsGot(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir, 1<<20, noon)
	if _, ok := s.Get(key(1)); ok {
		t.Error("an empty store has an entry")
	}
	s.Put(key(1), []byte("one"))
	s.Put(key(2), nil)
	for _, s := range []*Store{s, open(t, dir, 1<<20, noon.Add(48*time.Hour))} {
		if b, ok := s.Get(key(1)); !ok || string(b) != "one" {
			t.Errorf("got %q, %v", b, ok)
		}
		if b, ok := s.Get(key(2)); !ok || len(b) != 0 {
			t.Errorf("got %q, %v", b, ok)
		}
	}
	if s.Err() != nil {
		t.Error(s.Err())
	}
	for _, name := range []string{"", entries} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || name != "" && info.Mode().Perm() != 0o700 {
			t.Errorf("%s: %v, %v", name, info.Mode(), err)
		}
	}
}

// A broken or foreign entry is a miss: cut short, with a bit flipped, of another key, empty, a folder, unreadable, too large.
func TestABrokenEntryIsAMiss(t *testing.T) {
	s := open(t, t.TempDir(), 1<<20, noon)
	write := func(b []byte) {
		_, name := s.name(key(1))
		if err := os.WriteFile(name, b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	s.Put(key(1), []byte("the answer"))
	s.Put(key(2), []byte("another answer"))
	_, name := s.name(key(1))
	whole, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	_, foreign := s.name(key(2))
	other, err := os.ReadFile(foreign)
	if err != nil {
		t.Fatal(err)
	}
	for i := range whole {
		bad := bytes.Clone(whole)
		bad[i] ^= 1
		write(bad)
		if _, ok := s.Get(key(1)); ok {
			t.Errorf("a bit flipped in byte %d is not noticed", i)
		}
	}
	for name, b := range map[string][]byte{"cut": whole[:len(whole)-1], "longer": append(bytes.Clone(whole), 0), "of another key": other, "empty": nil, "too large": make([]byte, 1<<20+1)} {
		write(b)
		if _, ok := s.Get(key(1)); ok {
			t.Errorf("%s is taken", name)
		}
	}
	write(whole)
	if _, ok := s.Get(key(1)); !ok {
		t.Error("the whole entry is not taken")
	}
	if err := os.Remove(name); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(name, 0o700); err != nil {
		t.Fatal(err)
	}
	if _, ok := s.Get(key(1)); ok {
		t.Error("a folder is taken")
	}
}

// What was used longest ago goes first, also where it was made last.
func TestTrim(t *testing.T) {
	dir := t.TempDir()
	old := open(t, dir, 1<<20, noon)
	body := make([]byte, 1000)
	for n := range 10 {
		old.Put(key(n), body)
	}
	later := open(t, dir, 6000, noon.Add(24*time.Hour))
	for n := range 3 {
		if _, ok := later.Get(key(n)); !ok {
			t.Fatal("not there")
		}
	}
	later.Trim() // nothing was put
	if _, ok := later.Get(key(9)); !ok {
		t.Error("trimmed where nothing was put")
	}
	newest := open(t, dir, 6000, noon.Add(48*time.Hour))
	newest.Put(key(10), body)
	newest.Trim()
	kept := 0
	for n := range 11 {
		if _, ok := newest.Get(key(n)); ok {
			kept++
		} else if n < 3 || n > 9 {
			t.Errorf("%d, used lately, is gone", n)
		}
	}
	if kept != 4 { // 4 of 1,032 bytes fit into 4,800
		t.Errorf("%d kept", kept)
	}
	if _, err := os.Stat(filepath.Join(dir, "CACHEDIR.TAG")); err != nil {
		t.Error(err)
	}
}

// What cannot be written is told once and hurts nobody.
func TestAStoreThatCannotBeWritten(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(file, 1, noon); err == nil {
		t.Error("a file is taken for a folder")
	}
	s := open(t, t.TempDir(), 1<<20, noon)
	if err := os.RemoveAll(s.dir); err != nil {
		t.Fatal(err)
	}
	s.Put(key(1), []byte("x"))
	if s.Err() == nil {
		t.Error("no error")
	}
	if _, ok := s.Get(key(1)); ok {
		t.Error("got what was not kept")
	}
	s.Trim()
}

// Several at once, reading, writing and trimming one folder, only ever see whole entries.
func TestManyAtOnce(t *testing.T) {
	dir := t.TempDir()
	var wg sync.WaitGroup
	for range 4 {
		s := open(t, dir, 20_000, noon)
		wg.Go(func() {
			for round := range 50 {
				k := key(round % 40)
				want := bytes.Repeat([]byte{byte(round % 40)}, 900)
				if b, ok := s.Get(k); ok && !bytes.Equal(b, want) {
					t.Error("not whole")
				}
				s.Put(k, want)
				if round%10 == 9 {
					s.Trim()
				}
			}
			if s.Err() != nil {
				t.Error(s.Err())
			}
		})
	}
	wg.Wait()
}
