package load

import (
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
)

// Viewer shows each household the tree as it matters to it: of the folders above
// its own only kit files and the module's folder. So a new neighbour is nothing
// that a household has read, and a folder of ten thousand families is listed once
// for all of them. It is safe for concurrent use.
type Viewer struct {
	tree fs.FS
	mu   sync.Mutex
	kept map[string]listing // of folders above households
}

type listing struct {
	entries []fs.DirEntry
	err     error
}

// NewViewer shows a tree that does not change meanwhile.
func NewViewer(tree fs.FS) *Viewer { return &Viewer{tree: tree, kept: map[string]listing{}} }

// Of is the tree as the household in folder dir sees it.
func (v *Viewer) Of(dir string) fs.FS { return view{v, dir} }

type view struct {
	*Viewer
	dir string
}

func (v view) Open(name string) (fs.File, error)     { return v.tree.Open(name) }
func (v view) ReadFile(name string) ([]byte, error)  { return fs.ReadFile(v.tree, name) }
func (v view) Stat(name string) (fs.FileInfo, error) { return fs.Stat(v.tree, name) }
func (v view) ReadDir(name string) ([]fs.DirEntry, error) {
	if name == v.dir || name != "." && !strings.HasPrefix(v.dir, name+"/") {
		return fs.ReadDir(v.tree, name)
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	l, ok := v.kept[name]
	if !ok {
		l.entries, l.err = fs.ReadDir(v.tree, name)
		l.entries = slices.DeleteFunc(l.entries, func(e fs.DirEntry) bool { return e.Name() != "cue.mod" && path.Ext(e.Name()) != ".cue" })
		v.kept[name] = l
	}
	return slices.Clone(l.entries), l.err
}
