//go:build unix

package cache

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"kitmuster/lint/atomicfile"
)

// What is no ordinary file is a miss, at once: pipes, links to whatever, sockets; also where a whole folder of entries is one.
func TestNeverWaits(t *testing.T) {
	outside := t.TempDir()
	sealed := open(t, outside, 1<<20, noon)
	sealed.Put(key(1), []byte("the answer")) // what links lead to is a true entry, so that only the link speaks against it
	link := func(to string) func(string) error { return func(name string) error { return os.Symlink(to, name) } }
	kinds := map[string]func(name string) error{
		"pipe":               func(name string) error { return syscall.Mkfifo(name, 0o600) },
		"link to zeros":      link("/dev/zero"),
		"link to a terminal": link("/dev/tty"),
		"link to an entry":   link(at(outside, key(1))),
		"link to nothing":    link("gone"),
		"link to itself":     link(filepath.Base(at("", key(1)))),
		"link up":            link("../.."),
		"folder":             func(name string) error { return os.Mkdir(name, 0o700) },
		"unreadable file":    func(name string) error { return os.WriteFile(name, []byte("the answer"), 0) },
	}
	places := map[string]func(dir string) string{
		"entry":  func(dir string) string { return at(dir, key(1)) },
		"folder": func(dir string) string { return filepath.Dir(at(dir, key(1))) },
	}
	for kind, lay := range kinds {
		for place, where := range places {
			t.Run(kind+" as "+place, func(t *testing.T) {
				dir := t.TempDir()
				s := open(t, dir, 1<<20, noon)
				name := where(dir)
				if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
					t.Fatal(err)
				}
				if err := lay(name); err != nil {
					t.Fatal(err)
				}
				got := make(chan bool)
				go func() {
					_, ok := s.Get(key(1))
					got <- ok
				}()
				select {
				case ok := <-got:
					if ok {
						t.Error("it is taken for an entry")
					}
				case <-time.After(10 * time.Second):
					t.Fatal("it is waited for")
				}
			})
		}
	}
}

// A link in the folder leads nothing of ours out of it: nothing is written or trimmed where it points.
func TestLinksLeadNowhere(t *testing.T) {
	outside := t.TempDir()
	keep := filepath.Join(outside, filepath.Base(at("", key(1))))
	if err := os.WriteFile(keep, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	untouched := func(t *testing.T) {
		t.Helper()
		b, err := os.ReadFile(keep)
		names, _ := os.ReadDir(outside)
		if err != nil || string(b) != "mine" || len(names) != 1 {
			t.Errorf("outside there is now %v; the file %q, %v", names, b, err)
		}
	}
	t.Run("folder of entries", func(t *testing.T) {
		dir := t.TempDir()
		s := open(t, dir, 10, noon)
		if err := os.Symlink(outside, filepath.Dir(at(dir, key(1)))); err != nil {
			t.Fatal(err)
		}
		s.Put(key(1), []byte("x"))
		if s.Err() == nil {
			t.Error("nobody is told that nothing could be kept")
		}
		s.Put(key(2), []byte("x"))
		s.Trim()
		untouched(t)
	})
	t.Run("all", func(t *testing.T) {
		dir := t.TempDir()
		if err := os.Symlink(outside, filepath.Join(dir, entries)); err != nil {
			t.Fatal(err)
		}
		if s, err := Open(dir, secret, 10, noon); err == nil {
			t.Error("a link is taken for the folder of entries", s.Close())
		}
		untouched(t)
	})
	t.Run("tag", func(t *testing.T) {
		dir := t.TempDir()
		if err := os.Symlink(filepath.Join(outside, "new"), filepath.Join(dir, "CACHEDIR.TAG")); err != nil {
			t.Fatal(err)
		}
		open(t, dir, 10, noon)
		untouched(t)
	})
	t.Run("entry", func(t *testing.T) {
		dir := t.TempDir()
		s := open(t, dir, 1<<20, noon)
		put(t, dir, key(1), nil)
		if err := os.Remove(at(dir, key(1))); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(keep, at(dir, key(1))); err != nil {
			t.Fatal(err)
		}
		s.Put(key(1), []byte("the answer")) // takes the link's place
		if b, ok := s.Get(key(1)); !ok || string(b) != "the answer" {
			t.Errorf("%q, %v, %v", b, ok, s.Err())
		}
		untouched(t)
	})
}

// Several stores that write one entry at once never meet, and the entry is whole.
func TestPartsThatAreThere(t *testing.T) {
	dir := t.TempDir()
	a, b := open(t, dir, 1<<20, noon), open(t, dir, 1<<20, noon)
	put(t, dir, key(1), nil)
	_, entry := name(key(1))
	for range 3 { // parts of others, under way
		f, err := atomicfile.Create(a.root, entry, 0o600)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Drop()
	}
	a.Put(key(1), []byte("a"))
	b.Put(key(1), []byte("b"))
	if got, ok := a.Get(key(1)); !ok || string(got) != "b" {
		t.Errorf("%q, %v, %v, %v", got, ok, a.Err(), b.Err())
	}
}
