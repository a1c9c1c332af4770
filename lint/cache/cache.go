// Package cache remembers what was worked out before, in a folder of files. Each
// entry is sealed with a secret that lies elsewhere, so that nobody who can merely
// write into the folder, by a commit for one, can put an answer there. An entry that
// is missing, broken or forged is a miss, never an error: the worst that a bad cache
// can do is nothing.
package cache

import (
	"cmp"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"kitmuster/lint/atomicfile"
)

// Key names an entry: a hash of everything that the entry was made from.
type Key [sha256.Size]byte

// SecretSize is how many bytes a secret has at least: as many as the hash gives (RFC 2104, section 3).
const SecretSize = sha256.Size

// Store is a folder of entries. It is safe for concurrent use, by several processes too.
type Store struct {
	root   *os.Root // nothing outside of the folder is opened or changed, whatever links lie in it
	secret []byte
	max    int64
	now    time.Time

	// folders are those that entries lie in, once one was wanted: to open a folder takes longer than to open a file in it.
	folders [16]atomic.Pointer[os.Root]
	opening sync.Mutex
	puts    atomic.Int64
	failed  atomic.Pointer[error]
}

// tag marks a folder as one that backups may leave out (Cache Directory Tagging Specification, bford.info/cachedir;
// the signature is from memory).
const tag = "Signature: 8a477f597d28d172789f06886806bc55\n# Kitmuster keeps here what it worked out before. It may be deleted at any time.\n"

// entries is the folder within the folder, so that nothing that is not ours is ever trimmed away; it changes with the form of an entry.
const entries = "v3"

// largest is how long an entry may be. A longer one is not kept, and one that was put there is not read into memory. Our own figure.
const largest = 64 << 20

// Open makes the folder ready. Entries are sealed with the secret, and only what the same secret sealed is found again. At
// most max bytes of entries are kept when Trim has run; now is the time that entries are said to be used at. It is an error
// if the secret is shorter than SecretSize or the folder cannot be made.
func Open(dir string, secret []byte, max int64, now time.Time) (*Store, error) {
	if len(secret) < SecretSize {
		return nil, fmt.Errorf("the secret has %d bytes; it needs at least %d", len(secret), SecretSize)
	}
	// Kits are private, so nobody else may read what is known of them.
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	s := &Store{root: root, secret: slices.Clone(secret), max: max, now: now}
	err = s.mkdir(entries)
	if _, missing := root.Lstat("CACHEDIR.TAG"); err == nil && missing != nil {
		err = root.WriteFile("CACHEDIR.TAG", []byte(tag), 0o600)
	}
	if err != nil {
		return nil, errors.Join(err, root.Close())
	}
	return s, nil
}

// Close ends the use of the folder.
func (s *Store) Close() error {
	for i := range s.folders {
		if r := s.folders[i].Load(); r != nil {
			_ = r.Close() // nothing is written through it that is not closed
		}
	}
	return s.root.Close()
}

// mkdir makes a folder in the store, where there is none.
func (s *Store) mkdir(name string) error {
	if err := s.root.Mkdir(name, 0o700); !errors.Is(err, fs.ErrExist) {
		return err
	}
	info, err := s.root.Lstat(name)
	if err == nil && !info.IsDir() {
		err = &fs.PathError{Op: "mkdir", Path: name, Err: errors.New("something that is no folder is in its place")}
	}
	return err
}

// name is where an entry lies.
func name(k Key) (dir, file string) {
	name := hex.EncodeToString(k[:])
	dir = path.Join(entries, name[:1])
	return dir, path.Join(dir, name[1:])
}

// folder opens the folder that an entry lies in, and makes it first where it is wanted.
func (s *Store) folder(k Key, wanted bool) (*os.Root, error) {
	at := &s.folders[k[0]>>4]
	if r := at.Load(); r != nil {
		return r, nil
	}
	s.opening.Lock()
	defer s.opening.Unlock()
	if r := at.Load(); r != nil {
		return r, nil
	}
	dir, _ := name(k)
	if wanted {
		if err := s.mkdir(dir); err != nil {
			return nil, err
		}
	} else if info, err := s.root.Lstat(dir); err != nil || !info.IsDir() {
		return nil, fs.ErrNotExist
	}
	r, err := s.root.OpenRoot(dir)
	if err == nil {
		at.Store(r)
	}
	return r, err
}

// seal stands before the bytes of an entry; only who has the secret can make it for this key and these bytes.
func (s *Store) seal(k Key, b []byte) []byte {
	h := hmac.New(sha256.New, s.secret)
	h.Write(k[:]) // always as long, so that where it ends and the bytes begin is clear
	h.Write(b)
	return h.Sum(nil)
}

// fresh is how old an entry's last use may be before it is noted again.
const fresh = time.Hour

// Get gives the bytes of an entry that this store's secret sealed. It never waits: pipes, devices, links and folders are not opened.
func (s *Store) Get(k Key) ([]byte, bool) {
	folder, err := s.folder(k, false)
	if err != nil {
		return nil, false
	}
	_, name := name(k)
	name = path.Base(name)
	info, err := folder.Lstat(name)
	if err != nil || !s.fits(info) {
		return nil, false
	}
	f, err := folder.OpenFile(name, os.O_RDONLY|nonblock, 0)
	if err != nil {
		return nil, false
	}
	defer f.Close()
	opened, err := f.Stat() // it may have been exchanged since
	if err != nil || !s.fits(opened) {
		return nil, false
	}
	b := make([]byte, opened.Size())
	if _, err := io.ReadFull(f, b); err != nil {
		return nil, false
	}
	if !hmac.Equal(b[:sha256.Size], s.seal(k, b[sha256.Size:])) {
		return nil, false
	}
	if opened.ModTime().Before(s.now.Add(-fresh)) {
		_ = folder.Chtimes(name, s.now, s.now)
	}
	return b[sha256.Size:], true
}

// fits says whether a file may be an entry, going by what it is and how long.
func (s *Store) fits(info fs.FileInfo) bool {
	return info.Mode().IsRegular() && info.Size() >= sha256.Size && info.Size() <= min(s.max, largest)
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
	if len(b) > largest-sha256.Size {
		return nil
	}
	folder, err := s.folder(k, true)
	if err != nil {
		return err
	}
	_, name := name(k)
	f, err := atomicfile.Create(folder, path.Base(name), 0o600)
	if err != nil {
		return err
	}
	defer f.Drop()
	if _, err = f.Write(append(s.seal(k, b), b...)); err != nil {
		return err
	}
	if err = f.File.Close(); err != nil { // with no sync: what a power cut breaks has a broken seal, and is worked out again
		return err
	}
	if err = f.Chtimes(s.now); err != nil {
		return err
	}
	return f.Replace()
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
	_ = fs.WalkDir(s.root.FS(), entries, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return nil
		}
		info, err := d.Info()
		if err == nil && atomicfile.IsPart(d.Name()) && info.ModTime().After(s.now.Add(-fresh)) {
			return nil // someone is writing it; an old one was left behind
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
		if s.root.Remove(e.name) == nil {
			total -= e.size
		}
	}
}
