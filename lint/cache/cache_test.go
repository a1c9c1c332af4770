package cache

import (
	"bytes"
	"crypto/hmac"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

var secret = bytes.Repeat([]byte{7}, SecretSize)

var noon = time.Date(2026, 11, 1, 12, 0, 0, 0, time.UTC)

func open(t *testing.T, dir string, max int64, now time.Time) *Store {
	t.Helper()
	s, err := Open(dir, secret, max, now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() })
	return s
}

// at is where an entry of a store in this folder lies on the disk.
func at(dir string, k Key) string {
	_, file := name(k)
	return filepath.Join(dir, file)
}

// put lays something of a test's own in an entry's place.
func put(t *testing.T, dir string, k Key, b []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(at(dir, k)), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(at(dir, k), b, 0o600); err != nil {
		t.Fatal(err)
	}
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

// A broken or foreign entry is a miss: cut short, with a bit flipped, of another key, empty, a folder, too large.
func TestABrokenEntryIsAMiss(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir, 1<<20, noon)
	write := func(b []byte) { put(t, dir, key(1), b) }
	s.Put(key(1), []byte("the answer"))
	s.Put(key(2), []byte("another answer"))
	whole, err := os.ReadFile(at(dir, key(1)))
	if err != nil {
		t.Fatal(err)
	}
	other, err := os.ReadFile(at(dir, key(2)))
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
	if err := os.Remove(at(dir, key(1))); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(at(dir, key(1)), 0o700); err != nil {
		t.Fatal(err)
	}
	if _, ok := s.Get(key(1)); ok {
		t.Error("a folder is taken")
	}
}

// Without the secret nobody can make an entry: not by a plain hash, with another secret, with a part of it or more than it, nor
// by moving bytes from the entry's own into its key.
func TestAForgedEntryIsAMiss(t *testing.T) {
	dir, text := t.TempDir(), []byte("all is well")
	s, k := open(t, dir, 1<<20, noon), key(1)
	mac := func(secret []byte, parts ...[]byte) []byte {
		h := hmac.New(sha256.New, secret)
		h.Write(bytes.Join(parts, nil))
		return append(h.Sum(nil), text...)
	}
	plain := sha256.Sum256(append(k[:], text...))
	for name, b := range map[string][]byte{
		"sealed by a plain hash":    append(plain[:], text...),
		"of another secret":         mac(bytes.Repeat([]byte{8}, SecretSize), k[:], text),
		"of no secret":              mac(nil, k[:], text),
		"of a part of the secret":   mac(secret[1:], k[:], text),
		"of more than the secret":   mac(append(bytes.Clone(secret), 7), k[:], text),
		"of the bytes alone":        mac(secret, text),
		"of a shorter key":          mac(secret, k[:31], text),
		"of the key after the text": mac(secret, text, k[:]),
		"with nothing as its seal":  append(make([]byte, sha256.Size), text...),
	} {
		put(t, dir, k, b)
		if got, ok := s.Get(k); ok {
			t.Errorf("%s: %q is believed", name, got)
		}
	}
	put(t, dir, k, mac(secret, k[:], text))
	if got, ok := s.Get(k); !ok || !bytes.Equal(got, text) {
		t.Errorf("with the secret: %q, %v", got, ok)
	}
	if _, ok := open(t, dir, 1<<20, noon).Get(k); !ok {
		t.Error("a later store with the same secret does not find it")
	}
	other, err := Open(dir, bytes.Repeat([]byte{8}, SecretSize), 1<<20, noon)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	if _, ok := other.Get(k); ok {
		t.Error("a store with another secret finds it")
	}
}

// A secret that could be guessed is none.
func TestSecretTooShort(t *testing.T) {
	for _, n := range []int{0, 1, SecretSize - 1} {
		dir := filepath.Join(t.TempDir(), "cache")
		if _, err := Open(dir, make([]byte, n), 1<<20, noon); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("%d bytes", n)) {
			t.Errorf("%d bytes: %v", n, err)
		}
		if _, err := os.Lstat(dir); err == nil {
			t.Errorf("%d bytes: the folder was made", n)
		}
	}
}

// An entry that is longer than any answer is neither kept nor read.
func TestLargest(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir, 1<<40, noon)
	s.Put(key(1), make([]byte, largest-sha256.Size+1))
	if _, err := os.Lstat(at(dir, key(1))); err == nil || s.Err() != nil {
		t.Errorf("kept, or told of: %v", s.Err())
	}
	put(t, dir, key(1), nil)
	if err := os.Truncate(at(dir, key(1)), 1<<36); err != nil { // a file with a hole, as a commit can hold
		t.Skip(err)
	}
	if _, ok := s.Get(key(1)); ok {
		t.Error("64 GiB of nothing are an answer")
	}
	s.Put(key(2), make([]byte, largest-sha256.Size))
	if b, ok := s.Get(key(2)); !ok || len(b) != largest-sha256.Size {
		t.Error("the longest entry is not found")
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
	if _, err := Open(file, secret, 1, noon); err == nil {
		t.Error("a file is taken for a folder")
	}
	dir := t.TempDir()
	s := open(t, dir, 1<<20, noon)
	if err := os.RemoveAll(filepath.Join(dir, entries)); err != nil {
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
