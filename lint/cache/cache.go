// Package cache remembers what was worked out before, in a folder of files. An
// entry that is missing, broken or foreign is a miss, never an error: the worst
// that a bad cache can do is nothing.
package cache

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// Key names an entry: a hash of everything that the entry was made from.
type Key [sha256.Size]byte

// Store is a folder of entries. It is safe for concurrent use, by several processes too.
type Store struct {
	dir string
	max int64
	now time.Time

	made   sync.Map // folders that exist
	puts   atomic.Int64
	failed atomic.Pointer[error]
}

// tag marks a folder as one that backups may leave out (Cache Directory Tagging Specification, bford.info/cachedir;
// the signature is from memory).
const tag = "Signature: 8a477f597d28d172789f06886806bc55\n# Kitmuster keeps here what it worked out before. It may be deleted at any time.\n"

// entries is the folder within the folder, so that nothing that is not ours is ever trimmed away; it changes with the form of an entry.
const entries = "v1"

// part begins the name of an entry that is still being written.
const part = "part-"

// Open makes the folder ready. At most max bytes of entries are kept when Trim has
// run; now is the time that entries are said to be used at.
func Open(dir string, max int64, now time.Time) (*Store, error) {
	s := &Store{dir: filepath.Join(dir, entries), max: max, now: now}
	// Kits are private, so nobody else may read what is known of them.
	if err := os.MkdirAll(s.dir, 0o700); err != nil {
		return nil, err
	}
	if name := filepath.Join(dir, "CACHEDIR.TAG"); !exists(name) {
		if err := os.WriteFile(name, []byte(tag), 0o600); err != nil {
			return nil, err
		}
	}
	return s, nil
}

func exists(name string) bool {
	_, err := os.Lstat(name)
	return err == nil
}

func (s *Store) name(k Key) (dir, file string) {
	dir = filepath.Join(s.dir, fmt.Sprintf("%02x", k[0]))
	return dir, filepath.Join(dir, fmt.Sprintf("%x", k[1:]))
}

// seal is the hash that stands before the bytes of an entry: of its key and of them.
func seal(k Key, b []byte) [sha256.Size]byte {
	h := sha256.New()
	h.Write(k[:])
	h.Write(b)
	return [sha256.Size]byte(h.Sum(nil))
}

// fresh is how old an entry's last use may be before it is noted again.
const fresh = time.Hour

// Get gives the bytes of an entry. The hash of the bytes is checked.
func (s *Store) Get(k Key) ([]byte, bool) {
	_, name := s.name(k)
	f, err := os.Open(name)
	if err != nil {
		return nil, false
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() || info.Size() < sha256.Size || info.Size() > s.max {
		return nil, false
	}
	b := make([]byte, info.Size())
	if n, err := f.Read(b); err != nil || n != len(b) {
		return nil, false
	}
	sum := seal(k, b[sha256.Size:])
	if !bytes.Equal(b[:sha256.Size], sum[:]) {
		return nil, false
	}
	if info.ModTime().Before(s.now.Add(-fresh)) {
		_ = os.Chtimes(name, s.now, s.now)
	}
	return b[sha256.Size:], true
}

// Put keeps the bytes of an entry: whole, or not at all. That it cannot is told by Err.
func (s *Store) Put(k Key, b []byte) {
	if err := s.put(k, b); err != nil {
		s.failed.CompareAndSwap(nil, &err)
		return
	}
	s.puts.Add(1)
}

func (s *Store) put(k Key, b []byte) error {
	dir, name := s.name(k)
	if _, ok := s.made.Load(dir); !ok {
		if err := os.Mkdir(dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
			return err
		}
		s.made.Store(dir, true)
	}
	f, err := os.CreateTemp(dir, part+"*")
	if err != nil {
		return err
	}
	sum := seal(k, b)
	_, err = f.Write(append(sum[:], b...))
	err = cmp.Or(err, f.Close())
	if err == nil {
		err = os.Chtimes(f.Name(), s.now, s.now)
	}
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		_ = os.Remove(f.Name())
	}
	return err
}

// Err is why an entry could not be kept, or nil.
func (s *Store) Err() error {
	if p := s.failed.Load(); p != nil {
		return *p
	}
	return nil
}

// Trim takes away what was used longest ago until the entries fit into 4/5 of
// the most, where they do not fit any more; where nothing was put, nothing is looked at.
func (s *Store) Trim() {
	if s.puts.Load() == 0 {
		return
	}
	type entry struct {
		name string
		size int64
		used time.Time
	}
	var all []entry
	var total int64
	_ = filepath.WalkDir(s.dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return nil
		}
		info, err := d.Info()
		if err == nil && strings.HasPrefix(d.Name(), part) && info.ModTime().After(s.now.Add(-fresh)) {
			return nil // somebody is writing it; an old one was left behind
		}
		if err == nil && info.Mode().IsRegular() {
			all = append(all, entry{p, info.Size(), info.ModTime()})
			total += info.Size()
		}
		return nil
	})
	if total <= s.max {
		return
	}
	slices.SortFunc(all, func(a, b entry) int { return cmp.Or(a.used.Compare(b.used), cmp.Compare(a.name, b.name)) })
	for _, e := range all {
		if total <= s.max/5*4 {
			return
		}
		if os.Remove(e.name) == nil {
			total -= e.size
		}
	}
}
