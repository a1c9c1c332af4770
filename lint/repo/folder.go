package repo

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Folder is the tree of one folder of the disk and nothing else: a link that leads out of it is an error, and so is opening what is
// neither an ordinary file nor a folder, since opening a pipe waits for its writer. The error says that the folder cannot be opened.
func Folder(dir string) (fs.FS, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	return folder{root}, nil
}

type folder struct{ root *os.Root }

var errSpecial = errors.New("it is neither an ordinary file nor a folder")

// Open implements fs.FS.
func (f folder) Open(name string) (fs.File, error) {
	info, err := f.Stat(name)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() && !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errSpecial}
	}
	return f.root.FS().Open(name)
}

// Stat implements fs.StatFS.
func (f folder) Stat(name string) (fs.FileInfo, error) { return fs.Stat(f.root.FS(), name) }

// Inside reports whether a file lies within a folder, links followed.
func Inside(dir, file string) bool {
	real := func(p string) string {
		abs, err := filepath.Abs(p)
		if err != nil {
			return p
		}
		if r, err := filepath.EvalSymlinks(abs); err == nil {
			return r
		}
		if r, err := filepath.EvalSymlinks(filepath.Dir(abs)); err == nil {
			return filepath.Join(r, filepath.Base(abs))
		}
		return abs
	}
	rel, err := filepath.Rel(real(dir), real(file))
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}
