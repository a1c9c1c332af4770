package rewrite

import (
	"bytes"
	"io/fs"
	"path"

	"kitmuster/lint/source"
)

// overlay shows a tree with other words in some of its files.
type overlay struct {
	fs.FS
	files map[string][]byte
}

// over shows a tree with the files that differ from what was read. What the tree can do beyond fs.FS, it still can.
func over(tree fs.FS, now, was map[string][]byte) fs.FS {
	o := overlay{tree, map[string][]byte{}}
	for p, b := range now {
		if !bytes.Equal(b, was[p]) {
			o.files[p] = b
		}
	}
	if t, ok := tree.(tops); ok {
		return topped{o, t}
	}
	return o
}

// tops is a tree that knows where repositories begin in it.
type tops interface{ IsTop(dir string) bool }

type topped struct {
	overlay
	tops
}

// Base is the tree below, so that a household's view of it is known as one.
func (o overlay) Base() fs.FS { return o.FS }

func (o overlay) Open(name string) (fs.File, error) {
	if b, ok := o.files[name]; ok {
		return source.NewMemory(path.Base(name), b), nil
	}
	return o.FS.Open(name)
}

func (o overlay) Stat(name string) (fs.FileInfo, error) {
	if b, ok := o.files[name]; ok {
		return source.NewMemory(path.Base(name), b), nil
	}
	return fs.Stat(o.FS, name)
}

func (o overlay) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(o.FS, name) }
func (o overlay) Lstat(name string) (fs.FileInfo, error)     { return fs.Lstat(o.FS, name) }
func (o overlay) ReadLink(name string) (string, error)       { return fs.ReadLink(o.FS, name) }
