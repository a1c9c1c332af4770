package repo

import (
	"bytes"
	"io"
	"io/fs"
	"time"
)

// entry describes one file or folder of a tree whose files have no times.
type entry struct {
	name string
	mode fs.FileMode
	size int64
}

func (e entry) Name() string       { return e.name }
func (e entry) Size() int64        { return e.size }
func (e entry) Mode() fs.FileMode  { return e.mode }
func (e entry) ModTime() time.Time { return time.Time{} }
func (e entry) IsDir() bool        { return e.mode.IsDir() }
func (e entry) Sys() any           { return nil }

// bytesFile is an open file whose bytes are known.
type bytesFile struct {
	*bytes.Reader
	info fs.FileInfo
}

func (f bytesFile) Stat() (fs.FileInfo, error) { return f.info, nil }
func (bytesFile) Close() error                 { return nil }

// folderFile is an open folder; it is listed when it is first asked.
type folderFile struct {
	name string
	info fs.FileInfo
	list func() ([]fs.DirEntry, error)
	rest []fs.DirEntry
	read bool
}

func (f *folderFile) Stat() (fs.FileInfo, error) { return f.info, nil }
func (*folderFile) Close() error                 { return nil }

func (f *folderFile) Read([]byte) (int, error) {
	return 0, &fs.PathError{Op: "read", Path: f.name, Err: errIsFolder}
}

// ReadDir implements fs.ReadDirFile.
func (f *folderFile) ReadDir(n int) ([]fs.DirEntry, error) {
	if !f.read {
		entries, err := f.list()
		if err != nil {
			return nil, err
		}
		f.rest, f.read = entries, true
	}
	if n <= 0 {
		n = len(f.rest)
	} else if len(f.rest) == 0 {
		return nil, io.EOF
	}
	n = min(n, len(f.rest))
	out := f.rest[:n:n]
	f.rest = f.rest[n:]
	return out, nil
}
