package load

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
)

// Viewer shows each household the tree as it matters to it, and no more than a
// stranger's kit may read. It is safe for concurrent use.
//
// What a household may read lies in its repository: in the nearest folder upwards
// that has a .git entry (or is the top of a commit or of its submodule). Where there
// is none, in its CUE module or the folder that was named, whichever is higher. Links
// are followed there and nowhere else. The folder of another household is closed,
// except where it lies above.
//
// Of the folders above a household only kit files and the module's folder are listed.
// So a new neighbour is nothing that a household has read, and a folder of ten
// thousand families is listed once for all of them.
type Viewer struct {
	tree   fs.FS
	mu     sync.Mutex
	kept   map[string]listing // of folders above households
	marks  sync.Map           // folder → mark
	steps  sync.Map           // folder on a way → step
	houses sync.Map           // folder → whether a household lives there
}

type listing struct {
	entries []fs.DirEntry
	err     error
}

// NewViewer shows a tree that does not change meanwhile.
func NewViewer(tree fs.FS) *Viewer { return &Viewer{tree: tree, kept: map[string]listing{}} }

// Of is the tree as the household in folder dir sees it; given is the folder that was named and that it was found in.
func (v *Viewer) Of(dir, given string) fs.FS {
	w := view{Viewer: v, dir: dir, home: dir, top: v.top(dir, given)}
	if p, _, err := w.real(dir); err == nil {
		w.home = p
	}
	return w
}

// Common reports whether everybody who may read name reads the same there: no household lives in its folder or above it up to the top.
func (v *Viewer) Common(name, given string) bool {
	dir := path.Dir(name)
	top := v.top(dir, given)
	for f := dir; ; f = path.Dir(f) {
		if v.house(f, top) {
			return false
		}
		if f == top || f == "." {
			return true
		}
	}
}

// mark says what a folder is the top of.
type mark struct{ repository, module bool }

func (v *Viewer) mark(dir string) mark {
	if m, ok := v.marks.Load(dir); ok {
		return m.(mark)
	}
	there := func(name string) bool {
		_, err := fs.Lstat(v.tree, path.Join(dir, name))
		return err == nil
	}
	m := mark{module: there("cue.mod")}
	if t, ok := v.tree.(interface{ IsTop(dir string) bool }); ok {
		m.repository = t.IsTop(dir)
	} else {
		m.repository = there(".git")
	}
	v.marks.Store(dir, m)
	return m
}

// top is the highest folder that the household in dir may read from.
func (v *Viewer) top(dir, given string) string {
	module := dir
	for d, found := dir, false; ; d = path.Dir(d) {
		m := v.mark(d)
		if m.repository {
			return d
		}
		if m.module && !found {
			module, found = d, true
		}
		if d == "." {
			break
		}
	}
	if holds(given, module) {
		return given
	}
	return module
}

// holds reports whether name is folder or lies below it.
func holds(folder, name string) bool {
	return folder == name || folder == "." || folder != "" && strings.HasPrefix(name, folder+"/")
}

// inside is the rest of a name that lies in folder.
func inside(folder, name string) string {
	if folder == "." {
		return name
	}
	return strings.TrimPrefix(name, folder)
}

// house reports whether a household lives in a folder.
func (v *Viewer) house(dir, top string) bool {
	if h, ok := v.houses.Load(dir); ok {
		return h.(bool)
	}
	h := !slices.Contains(strings.Split(dir, "/"), "cue.mod") && look(view{Viewer: v, dir: dir, home: dir, top: top}, &files{show: Options{}.show}, dir).household
	v.houses.Store(dir, h)
	return h
}

// step is one name on a way: a link or something else, of which info tells.
type step struct {
	link   bool
	target string
	info   fs.FileInfo
	err    error
}

func (v *Viewer) step(name string, keep bool) step {
	if s, ok := v.steps.Load(name); ok {
		return s.(step)
	}
	var s step
	info, err := fs.Lstat(v.tree, name)
	switch s.info, s.err = info, err; {
	case err == nil && info.Mode()&fs.ModeSymlink != 0:
		s.link = true
		s.target, s.err = fs.ReadLink(v.tree, name)
	case err == nil && !info.IsDir(): // of files this is tried once
		keep = false
	}
	if keep {
		v.steps.Store(name, s)
	}
	return s
}

// view is the tree of one household.
type view struct {
	*Viewer
	// dir is its folder as it was named, home where that really is, top the highest folder that it reads from.
	dir, home, top string
}

// barred is why a household may not read something that is there.
type barred struct{ why string }

func (b *barred) Error() string { return b.why }

// mostLinks is how many links are followed on the way to one file, as on Linux (path_resolution(7)).
const mostLinks = 40

// real is where a name leads, with no link on the way to it, and what is there; that is nil for the top itself and for
// what ".." led to. The error says that nothing is there, or wraps a *barred.
func (w view) real(name string) (string, fs.FileInfo, error) {
	if !fs.ValidPath(name) {
		return "", nil, fs.ErrInvalid
	}
	if !holds(w.top, name) {
		return "", nil, fs.ErrNotExist
	}
	var info fs.FileInfo
	split := func(p string) []string { return strings.Split(filepath.ToSlash(p), "/") }
	at, todo, links, first := w.top, split(inside(w.top, name)), 0, ""
	out := func() error {
		return &barred{fmt.Sprintf("is a link that leads out of the repository, to %s; a kit reads only what lies in its own repository: copy it there", first)}
	}
	for len(todo) > 0 {
		c := todo[0]
		todo = todo[1:]
		switch c {
		case "", ".":
			continue
		case "..":
			if at == w.top {
				return "", nil, out()
			}
			at, info = path.Dir(at), nil
			continue
		}
		if strings.EqualFold(c, ".git") { // a checkout may keep a token there
			return "", nil, &barred{"lies in git's own folder, which is nothing that a kit reads"}
		}
		next := path.Join(at, c)
		s := w.step(next, len(todo) > 0)
		if s.err != nil {
			return "", nil, s.err
		}
		if !s.link {
			at, info = next, s.info
			continue
		}
		if first == "" {
			first = s.target
		}
		if links++; links > mostLinks {
			return "", nil, syscall.ELOOP
		}
		target := s.target
		if filepath.IsAbs(target) || strings.HasPrefix(target, "/") {
			target = strings.Trim(filepath.ToSlash(strings.TrimPrefix(target, filepath.VolumeName(target))), "/")
			if !holds(w.top, path.Clean(target)) {
				return "", nil, out()
			}
			at, info, target = w.top, nil, inside(w.top, target)
		}
		todo = append(split(target), todo...)
	}
	return at, info, nil
}

// open is real for reading: another household's folder is closed.
func (w view) open(name string) (string, fs.FileInfo, error) {
	p, info, err := w.real(name)
	if err != nil {
		return "", nil, err
	}
	for f := path.Dir(p); !holds(f, w.dir) && !holds(f, w.home); f = path.Dir(f) {
		if w.house(f, w.top) {
			is := "is"
			if p != name {
				is = "is a link and leads to what is"
			}
			return "", nil, &barred{fmt.Sprintf("%s in the folder of another household, %s; move what both need to a folder above both, or to one of its own", is, path.Base(f))}
		}
	}
	if info == nil {
		info, err = fs.Stat(w.tree, p)
	}
	return p, info, err
}

// through does something with what a name leads to; errors carry the name as it was given.
func through[T any](w view, op, name string, do func(string, fs.FileInfo) (T, error)) (out T, err error) {
	p, info, err := w.open(name)
	if err == nil {
		out, err = do(p, info)
	}
	if err != nil {
		if pe := (*fs.PathError)(nil); errors.As(err, &pe) {
			err = pe.Err
		}
		err = &fs.PathError{Op: op, Path: name, Err: err}
	}
	return out, err
}

// Open implements fs.FS. What is neither an ordinary file nor a folder is not opened: a pipe would wait for its writer.
func (w view) Open(name string) (fs.File, error) {
	return through(w, "open", name, func(p string, info fs.FileInfo) (fs.File, error) {
		if !info.Mode().IsRegular() && !info.IsDir() {
			return nil, errSpecial
		}
		return w.tree.Open(p)
	})
}

// errSpecial is of a device, a pipe or a socket.
var errSpecial = errors.New("not an ordinary file")

// Stat implements fs.StatFS.
func (w view) Stat(name string) (fs.FileInfo, error) {
	return through(w, "stat", name, func(_ string, info fs.FileInfo) (fs.FileInfo, error) { return info, nil })
}

func (w view) list(name string) ([]fs.DirEntry, error) {
	return through(w, "open", name, func(p string, _ fs.FileInfo) ([]fs.DirEntry, error) { return fs.ReadDir(w.tree, p) })
}

// ReadDir implements fs.ReadDirFS.
func (w view) ReadDir(name string) ([]fs.DirEntry, error) {
	if name == w.dir || !holds(name, w.dir) {
		return w.list(name)
	}
	if !holds(w.top, name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	l, ok := w.kept[name]
	if !ok {
		l.entries, l.err = w.list(name)
		l.entries = slices.DeleteFunc(l.entries, func(e fs.DirEntry) bool { return e.Name() != "cue.mod" && path.Ext(e.Name()) != ".cue" })
		w.kept[name] = l
	}
	return slices.Clone(l.entries), l.err
}

// seen is the tree as the household in dir sees it: a view, or a recording of one.
func seen(tree fs.FS, dir, given string) fs.FS {
	for t := tree; ; {
		if _, ok := t.(view); ok {
			return tree
		}
		b, ok := t.(interface{ Base() fs.FS })
		if !ok {
			return NewViewer(tree).Of(dir, given)
		}
		t = b.Base()
	}
}
