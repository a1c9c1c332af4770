package repo

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Disk is the tree of the machine's own files, seen from a working directory.
// The tree is the whole volume, so that a household may share things with the
// folders above it, as CUE modules do.
type Disk struct {
	// FS is rooted at the volume; its paths have slashes and no leading one.
	FS      fs.FS
	root    string
	working string
	shown   string
}

// NewDisk makes the tree for an absolute working directory; paths are shown relative to another.
func NewDisk(working, shown string) (*Disk, error) {
	for _, p := range []string{working, shown} {
		if !filepath.IsAbs(p) {
			return nil, fmt.Errorf("the directory %q is not absolute", p)
		}
	}
	root := filepath.VolumeName(working) + string(filepath.Separator)
	return &Disk{FS: os.DirFS(root), root: root, working: working, shown: shown}, nil
}

// Path turns what a user types, relative to the working directory or absolute, into a path of FS.
func (d *Disk) Path(arg string) (string, error) {
	if !filepath.IsAbs(arg) {
		arg = filepath.Join(d.working, arg)
	}
	rel, err := filepath.Rel(d.root, filepath.Clean(arg))
	if err != nil || strings.HasPrefix(rel, "..") {
		return "", fmt.Errorf("%s is on another volume than the working directory; change to its volume first", arg)
	}
	return filepath.ToSlash(rel), nil
}

// Show turns a path of FS into one for people, relative to the folder for that, with slashes.
func (d *Disk) Show(p string) string {
	rel, err := filepath.Rel(d.shown, filepath.Join(d.root, filepath.FromSlash(p)))
	if err != nil {
		return p
	}
	return filepath.ToSlash(rel)
}

// File is the path of the system that a path of FS leads to.
func (d *Disk) File(p string) string { return filepath.Join(d.root, filepath.FromSlash(p)) }
