package repo

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
)

// Edit puts other bytes in the place of some in one file of a tree.
type Edit struct {
	// Name is the file, as a path of the tree; From and To count bytes from 0, To is one past the last.
	Name     string
	From, To int
	Text     []byte
}

// Bytes gives the file with the edit; the error says that it is too short for it.
func (e *Edit) Bytes(b []byte) ([]byte, error) {
	if e.From < 0 || e.From > e.To || e.To > len(b) {
		return nil, fmt.Errorf("%s has %d bytes, and those from %d to %d were to be replaced", e.Name, len(b), e.From, e.To)
	}
	return bytes.Join([][]byte{b[:e.From], e.Text, b[e.To:]}, nil), nil
}

// Of shows a tree with the edit; nil shows it as it is.
func (e *Edit) Of(tree fs.FS) fs.FS {
	if e == nil {
		return tree
	}
	return edited{tree, e}
}

// edited is a tree with one edit. What is in a folder is what was there.
type edited struct {
	fs.FS
	edit *Edit
}

// Base is the tree without the edit.
func (x edited) Base() fs.FS { return x.FS }

func (x edited) Open(name string) (fs.File, error) {
	if name != x.edit.Name {
		return x.FS.Open(name)
	}
	b, err := fs.ReadFile(x.FS, name)
	if err == nil {
		b, err = x.edit.Bytes(b)
	}
	if err != nil {
		return nil, err
	}
	return bytesFile{bytes.NewReader(b), entry{name: path.Base(name), mode: 0o444, size: int64(len(b))}}, nil
}

// Stat implements fs.StatFS.
func (x edited) Stat(name string) (fs.FileInfo, error) {
	if name != x.edit.Name {
		return fs.Stat(x.FS, name)
	}
	f, err := x.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return f.Stat()
}

// ReadDir implements fs.ReadDirFS.
func (x edited) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(x.FS, name) }
