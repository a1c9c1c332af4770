package repo

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// ReadKind says what was asked of a tree.
type ReadKind string

const (
	// ReadFile: a file was opened. The sum is the SHA-256 of its bytes.
	ReadFile ReadKind = "file"
	// ReadList: a folder was listed. The sum is the SHA-256 of the names and kinds in it, in order of name.
	ReadList ReadKind = "list"
	// ReadStat: it was asked whether something is there. The sum is its kind; sizes, times and permissions are not remembered.
	ReadStat ReadKind = "stat"
)

// Read is one thing that was asked of a tree, and what it gave. Sum is a hash
// or a kind as ReadKind says; where that could not be had it says why, such as
// "absent" or "denied". It holds no line break.
type Read struct {
	Kind ReadKind
	Name string
	Sum  string
}

// maxRemembered bounds the files that are held in memory and hashed, in bytes;
// our own figure, far above any kit file. A read of a larger one never holds.
const maxRemembered = 16 << 20

// Sums that no read ever gives now, so that what is kept under them is never found again.
const (
	sumLarge   = "too large to be remembered"
	sumUnquiet = "changed while it was read"
)

// Now gives the sum that the same read would have on tree. It equals r.Sum
// exactly if nothing that r saw is different there.
func (r Read) Now(tree fs.FS) string {
	sum := ""
	switch r.Kind {
	case ReadFile:
		var f fs.File
		if f, _, sum, _ = readFile(tree, r.Name); f != nil {
			f.Close()
		}
	case ReadList:
		_, sum, _ = readList(tree, r.Name)
	case ReadStat:
		_, sum, _ = readStat(tree, r.Name)
	}
	if sum == sumLarge {
		return "large"
	}
	return sum
}

// Recording is a tree that remembers everything read through it, so that what
// was made of it can be kept under all that went into it: as long as every Read
// gives its sum again, so does the whole. Files that are not ordinary are not
// opened, since opening a pipe waits for its writer. A Recording implements
// fs.ReadDirFS, fs.ReadFileFS and fs.StatFS and may be read from several
// goroutines.
type Recording struct {
	base fs.FS
	mu   sync.Mutex
	sums map[Read]string // by a Read without its sum
}

// Record makes a recording of what is read from base.
func Record(base fs.FS) *Recording {
	return &Recording{base: base, sums: map[Read]string{}}
}

// Base is the tree that is recorded.
func (x *Recording) Base() fs.FS { return x.base }

// Reads lists what has been read so far, each thing once, by name and kind.
func (x *Recording) Reads() []Read {
	x.mu.Lock()
	defer x.mu.Unlock()
	out := make([]Read, 0, len(x.sums))
	for r, sum := range x.sums {
		r.Sum = sum
		out = append(out, r)
	}
	slices.SortFunc(out, CompareReads)
	return out
}

// CompareReads is the order of Recording.Reads.
func CompareReads(a, b Read) int {
	return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.Kind, b.Kind))
}

func (x *Recording) note(kind ReadKind, name, sum string) {
	x.mu.Lock()
	defer x.mu.Unlock()
	key := Read{Kind: kind, Name: name}
	if before, ok := x.sums[key]; ok && before != sum {
		sum = sumUnquiet
	}
	x.sums[key] = sum
}

// Open implements fs.FS. A folder is noted as listed when its entries are read.
func (x *Recording) Open(name string) (fs.File, error) {
	f, info, sum, err := readFile(x.base, name)
	x.note(ReadFile, name, sum)
	if err == nil && info.IsDir() {
		return &folderFile{name: name, info: info, list: func() ([]fs.DirEntry, error) { return x.ReadDir(name) }}, nil
	}
	return f, err
}

// ReadFile implements fs.ReadFileFS.
func (x *Recording) ReadFile(name string) ([]byte, error) {
	f, err := x.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(f)
}

// ReadDir implements fs.ReadDirFS.
func (x *Recording) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, sum, err := readList(x.base, name)
	x.note(ReadList, name, sum)
	return entries, err
}

// Stat implements fs.StatFS.
func (x *Recording) Stat(name string) (fs.FileInfo, error) {
	info, sum, err := readStat(x.base, name)
	x.note(ReadStat, name, sum)
	return info, err
}

// readFile opens what is not a folder; the file given holds the very bytes that were hashed.
func readFile(tree fs.FS, name string) (fs.File, fs.FileInfo, string, error) {
	info, err := fs.Stat(tree, name)
	if err != nil {
		return nil, nil, failed(err), err
	}
	if info.IsDir() {
		return nil, info, kind(info.Mode()), nil
	}
	if !info.Mode().IsRegular() {
		return nil, info, kind(info.Mode()), &fs.PathError{Op: "open", Path: name, Err: errSpecial}
	}
	f, err := tree.Open(name)
	if err != nil {
		return nil, nil, failed(err), err
	}
	if info, err = f.Stat(); err == nil && info.Size() > maxRemembered {
		return f, info, sumLarge, nil
	}
	var b []byte
	if err == nil {
		buf := bytes.NewBuffer(make([]byte, 0, info.Size()+bytes.MinRead))
		_, err = buf.ReadFrom(io.LimitReader(f, maxRemembered+1))
		b = buf.Bytes()
	}
	f.Close()
	switch {
	case err != nil:
		return nil, nil, failed(err), err
	case len(b) > maxRemembered:
		return nil, nil, sumLarge, &fs.PathError{Op: "read", Path: name, Err: errors.New("it grew while it was read")}
	}
	h := sha256.Sum256(b)
	return bytesFile{bytes.NewReader(b), info}, info, hex.EncodeToString(h[:]), nil
}

func readList(tree fs.FS, name string) ([]fs.DirEntry, string, error) {
	entries, err := fs.ReadDir(tree, name)
	if err != nil {
		return entries, failed(err), err
	}
	lines := make([]string, len(entries))
	for i, e := range entries {
		// A name has no slash, so that no two lists read alike.
		lines[i] = e.Name() + "/" + kind(e.Type()) + "/"
	}
	slices.Sort(lines)
	h := sha256.Sum256([]byte(strings.Join(lines, "")))
	return entries, hex.EncodeToString(h[:]), nil
}

func readStat(tree fs.FS, name string) (fs.FileInfo, string, error) {
	info, err := fs.Stat(tree, name)
	if err != nil {
		return nil, failed(err), err
	}
	return info, kind(info.Mode()), nil
}

// kind names what stands at a path.
func kind(m fs.FileMode) string {
	switch m.Type() {
	case 0:
		return "file"
	case fs.ModeDir:
		return "folder"
	case fs.ModeSymlink:
		return "symlink"
	}
	return "special " + strconv.FormatUint(uint64(m.Type()), 8)
}

// failed is the sum of a read that gave an error.
func failed(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "absent"
	case errors.Is(err, fs.ErrPermission):
		return "denied"
	}
	if pe := (*fs.PathError)(nil); errors.As(err, &pe) {
		err = pe.Err
	}
	return "error " + strconv.Quote(err.Error())
}
