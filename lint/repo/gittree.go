package repo

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"

	"kitmuster/lint/words"
)

// Bounds on what one tree may cost; our own figures.
const (
	maxBlob  = 64 << 20 // bytes of one file that are read; a larger one can be listed and measured only
	maxKept  = 32 << 20 // bytes of files kept for the next reader, since most are asked about before they are read
	maxLinks = 40       // symlinks followed on the way to one file, as Linux does (path_resolution(7))
)

var errIsFolder error = syscall.EISDIR

// errLeadsOut is of a symlink in a commit: what the machine has elsewhere is not the commit's to name.
var errLeadsOut = errors.New("a link leads out of the repository")

// Tree gives what commit, an id from Resolve or a name from Stage, held in the work tree, in the
// path space of Disk.FS: a path that leads into the work tree gives what was
// committed there, any other is read from the disk as it is now. Symlinks of the
// commit are followed as on a disk, but never out of the work tree. A
// submodule is read from its own repository, where it is checked out and has
// the commit named. Bytes are those committed, with no filter: where git turns
// line ends on checkout, the work tree differs by them.
//
// In a partial clone it is an error, which says how to complete the clone, if
// anything is missing of what commit holds below folders (paths of the tree;
// none means all); elsewhere it is one when that is read.
//
// The tree implements fs.ReadDirFS, fs.ReadFileFS, fs.StatFS and
// fs.ReadLinkFS. It may be read from several goroutines until r is closed.
func (r *Repository) Tree(ctx context.Context, commit string, folders ...string) (fs.FS, error) {
	if index, ok := strings.CutPrefix(commit, staged); ok {
		return r.stagedTree(ctx, index)
	}
	if !isID(commit) {
		return nil, fmt.Errorf("%q is not the id of a commit", commit)
	}
	if err := r.present(ctx, commit, folders); err != nil {
		return nil, err
	}
	t := &tree{repo: r, disk: os.DirFS(r.root)}
	t.top = &node{repo: r, path: r.top, id: commit, mode: fs.ModeDir | 0o555, commit: true}
	if err := t.top.load(); err != nil {
		return nil, fmt.Errorf("commit %s cannot be read: %w", brief(commit), err)
	}
	return t, nil
}

// present reports what a partial clone lacks of a commit; a complete one lacks nothing.
func (r *Repository) present(ctx context.Context, commit string, folders []string) error {
	if r.partial == "" {
		return nil
	}
	// --no-walk stands before the commit, or it does nothing.
	args := []string{"rev-list", "--objects", "--no-object-names", "--missing=print", "--no-walk", commit, "--"}
	for _, f := range folders {
		if rest, ok := r.within(f); ok {
			args = append(args, rest)
		}
	}
	if len(folders) > 0 && args[len(args)-1] == "--" {
		return nil
	}
	out, err := r.run(ctx, args...)
	if err != nil {
		return fmt.Errorf("the files of %s cannot be listed: %w", brief(commit), err)
	}
	n := 0
	for l := range strings.Lines(out) {
		if strings.HasPrefix(l, "?") {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return fmt.Errorf("this is a partial clone, where files or folders of %s are missing: %d; nothing is fetched from here, so complete the clone, then run the same again: %s", brief(commit), n, r.complete())
}

// within gives the place in the work tree of a path as it is spelt, "." for the work tree itself.
func (r *Repository) within(name string) (rest string, ok bool) {
	if rest, ok = below(name, r.dir); ok {
		return path.Join(r.prefix, rest, "."), true
	}
	if rest, ok = below(name, r.alias); !ok {
		rest, ok = below(name, r.top)
	}
	return path.Join(rest, "."), ok
}

// node is one entry of a commit.
type node struct {
	repo   *Repository // that holds the object
	parent *node       // nil for the work tree
	name   string
	path   string // in the volume, with no symlink in it
	id     string
	mode   fs.FileMode
	commit bool // id names a commit: the top, or a submodule

	once   sync.Once
	err    error
	kids   map[string]*node
	sorted []fs.DirEntry
}

// load reads the entries of a folder, once.
func (n *node) load() error {
	if !n.mode.IsDir() {
		return syscall.ENOTDIR
	}
	n.once.Do(func() { n.err = n.read() })
	return n.err
}

func (n *node) read() error {
	repo, id := n.repo, n.id
	if n.commit {
		if n.parent != nil {
			var err error
			if repo, err = n.repo.submodule(n.path); err != nil {
				return err
			}
		}
		id += "^{tree}"
	}
	o, err := repo.object(id)
	if errors.Is(err, errMissing) && n.commit && n.parent != nil {
		return fmt.Errorf("submodule %s does not have commit %s, which was its state then; fetch it: git -C %s fetch --all", n.name, brief(n.id), words.Shell(n.repo.native(n.path)))
	}
	if err != nil {
		return err
	}
	if o.kind != "tree" || o.body == nil && o.size > 0 {
		return fmt.Errorf("object %s is a %s of %d bytes, not a folder that can be read; run: git fsck", brief(n.id), o.kind, o.size)
	}
	n.kids = map[string]*node{}
	for rest, raw := o.body, len(n.id)/2; len(rest) > 0; {
		head, after, ok := bytes.Cut(rest, []byte{0})
		bits, name, ok2 := strings.Cut(string(head), " ")
		if !ok || !ok2 || len(after) < raw || name == "" || name == "." || name == ".." || strings.Contains(name, "/") || n.kids[name] != nil {
			return fmt.Errorf("folder %s of the commit is damaged; run: git fsck", brief(n.id))
		}
		n.add(repo, bits, name, hex.EncodeToString(after[:raw]))
		rest = after[raw:]
	}
	n.sort()
	return nil
}

// add adds an entry of one of the modes that git writes (fast-import(1), "filemodify").
func (n *node) add(repo *Repository, bits, name, id string) {
	kid := &node{repo: repo, parent: n, name: name, path: path.Join(n.path, name), id: id, mode: 0o444}
	switch strings.TrimLeft(bits, "0") {
	case "40000":
		kid.mode = fs.ModeDir | 0o555
	case "120000":
		kid.mode = fs.ModeSymlink | 0o777
	case "160000":
		kid.mode, kid.commit = fs.ModeDir|0o555, true
	case "100755":
		kid.mode = 0o555
	}
	n.kids[name] = kid
	n.sorted = append(n.sorted, kid)
}

func (n *node) sort() {
	slices.SortFunc(n.sorted, func(a, b fs.DirEntry) int { return cmp.Compare(a.Name(), b.Name()) })
}

// Name, IsDir, Type and Info implement fs.DirEntry.
func (n *node) Name() string      { return n.name }
func (n *node) IsDir() bool       { return n.mode.IsDir() }
func (n *node) Type() fs.FileMode { return n.mode.Type() }

func (n *node) Info() (fs.FileInfo, error) {
	e := entry{name: n.name, mode: n.mode}
	if n.mode.IsDir() {
		return e, nil
	}
	o, err := n.blob()
	e.size = o.size
	return e, err
}

// blob gives the content of a file or the target of a symlink.
func (n *node) blob() (object, error) {
	o, err := n.repo.object(n.id)
	if err == nil && o.kind != "blob" {
		err = fmt.Errorf("object %s is a %s, not a file; run: git fsck", brief(n.id), o.kind)
	}
	return o, err
}

// content is blob for those who need the bytes.
func (n *node) content() (object, error) {
	o, err := n.blob()
	if err == nil && o.size > maxBlob {
		err = fmt.Errorf("it has %d MiB, and at most %d MiB are read from a commit", o.size>>20, maxBlob>>20)
	}
	return o, err
}

// tree is the fs.FS of one commit within the volume.
type tree struct {
	repo *Repository
	top  *node
	disk fs.FS
}

// place is where a path leads: a node of the commit, or else a path of the disk.
type place struct {
	node *node
	path string
}

// walk follows a path; a symlink at its end only if follow is set.
func (t *tree) walk(name string, follow bool) (at place, err error) {
	at.path = "."
	todo := strings.Split(name, "/")
	for _, base := range []string{t.repo.alias, t.repo.top} {
		if rest, ok := below(name, base); ok && (rest != "" || follow) {
			at, todo = place{node: t.top}, strings.Split(rest, "/")
			break
		}
	}
	for links := 0; len(todo) > 0; {
		c, rest := todo[0], todo[1:]
		todo = rest
		if at.node != nil && !at.node.mode.IsDir() {
			return at, syscall.ENOTDIR
		}
		if at.node == nil && (c == "" || c == "." || c == "..") {
			if info, err := fs.Lstat(t.disk, at.path); err != nil || !info.IsDir() {
				return at, cmp.Or[error](err, syscall.ENOTDIR)
			}
		}
		target, linked := "", false
		switch {
		case c == "" || c == ".":
			continue
		case c == ".." && at.node == nil:
			at.path = path.Dir(at.path)
		case c == ".." && at.node.parent == nil:
			return at, errLeadsOut
		case c == "..":
			at.node = at.node.parent
		case at.node != nil:
			if err := at.node.load(); err != nil {
				return at, err
			}
			kid := at.node.kids[c]
			if kid == nil {
				return at, fs.ErrNotExist
			}
			if kid.mode&fs.ModeSymlink == 0 || !follow && len(rest) == 0 {
				at.node = kid
				continue
			}
			o, err := kid.content()
			if err != nil {
				return at, err
			}
			target, linked = string(o.body), true
		default:
			p := path.Join(at.path, c)
			info, err := fs.Lstat(t.disk, p)
			if err != nil {
				return at, err
			}
			if info.Mode()&fs.ModeSymlink == 0 || !follow && len(rest) == 0 {
				at.path = p
				break
			}
			if target, err = fs.ReadLink(t.disk, p); err != nil {
				return at, err
			}
			linked = true
		}
		if at.node == nil && at.path == t.repo.top {
			at = place{node: t.top}
		}
		if !linked {
			continue
		}
		if target == "" {
			return at, fs.ErrNotExist
		}
		if links++; links > maxLinks {
			return at, syscall.ELOOP
		}
		if filepath.IsAbs(target) {
			rel, err := filepath.Rel(t.repo.root, target)
			if err != nil {
				return at, err
			}
			target = filepath.ToSlash(rel)
			if at.node == nil { // on the user's own way to the work tree
				at = place{path: "."}
			} else {
				within, ok := below(target, t.repo.top)
				if !ok {
					within, ok = below(target, t.repo.alias)
				}
				if !ok {
					return at, errLeadsOut
				}
				at, target = place{node: t.top}, within
			}
		}
		todo = append(strings.Split(filepath.ToSlash(target), "/"), rest...)
	}
	return at, nil
}

// at walks for one operation and names the path as it was given in errors.
func (t *tree) at(op, name string, follow bool, do func(*node) error, disk func(string) error) error {
	if !fs.ValidPath(name) {
		return &fs.PathError{Op: op, Path: name, Err: fs.ErrInvalid}
	}
	p, err := t.walk(name, follow)
	switch {
	case err != nil:
	case p.node != nil:
		err = do(p.node)
	default:
		err = disk(p.path)
	}
	if err == nil {
		return nil
	}
	if pe := (*fs.PathError)(nil); errors.As(err, &pe) {
		err = pe.Err
	}
	return &fs.PathError{Op: op, Path: name, Err: err}
}

// Open implements fs.FS.
func (t *tree) Open(name string) (f fs.File, err error) {
	err = t.at("open", name, true, func(n *node) error {
		if n.mode.IsDir() {
			f = &folderFile{name: name, info: named(n, name), list: func() ([]fs.DirEntry, error) { return t.ReadDir(name) }}
			return nil
		}
		o, err := n.blob()
		e := named(n, name)
		e.size = o.size
		switch {
		case err != nil:
		case o.size > maxBlob:
			f = largeFile{n, e}
		default:
			f = bytesFile{bytes.NewReader(o.body), e}
		}
		return err
	}, func(p string) (err error) { f, err = t.disk.Open(p); return err })
	return f, err
}

// ReadDir implements fs.ReadDirFS.
func (t *tree) ReadDir(name string) (out []fs.DirEntry, err error) {
	err = t.at("open", name, true, func(n *node) error {
		err := n.load()
		out = slices.Clone(n.sorted)
		return err
	}, func(p string) (err error) { out, err = fs.ReadDir(t.disk, p); return err })
	return out, err
}

// ReadFile implements fs.ReadFileFS.
func (t *tree) ReadFile(name string) (out []byte, err error) {
	err = t.at("read", name, true, func(n *node) error {
		if n.mode.IsDir() {
			return errIsFolder
		}
		o, err := n.content()
		out = bytes.Clone(o.body)
		return err
	}, func(p string) (err error) { out, err = fs.ReadFile(t.disk, p); return err })
	return out, err
}

// Stat implements fs.StatFS.
func (t *tree) Stat(name string) (fs.FileInfo, error) { return t.stat("stat", name, true) }

// Lstat implements fs.ReadLinkFS.
func (t *tree) Lstat(name string) (fs.FileInfo, error) { return t.stat("lstat", name, false) }

func (t *tree) stat(op, name string, follow bool) (info fs.FileInfo, err error) {
	err = t.at(op, name, follow, func(n *node) error {
		e := named(n, name)
		i, err := n.Info()
		if err == nil {
			e.size = i.Size()
			info = e
		}
		return err
	}, func(p string) (err error) { info, err = fs.Lstat(t.disk, p); return err })
	return info, err
}

// ReadLink implements fs.ReadLinkFS.
func (t *tree) ReadLink(name string) (target string, err error) {
	err = t.at("readlink", name, false, func(n *node) error {
		if n.mode&fs.ModeSymlink == 0 {
			return syscall.EINVAL
		}
		o, err := n.content()
		target = string(o.body)
		return err
	}, func(p string) (err error) { target, err = fs.ReadLink(t.disk, p); return err })
	return target, err
}

// named is a node under the name that it was asked for by.
func named(n *node, name string) entry { return entry{name: path.Base(name), mode: n.mode} }

// largeFile can be measured but not read.
type largeFile struct {
	node *node
	info entry
}

func (f largeFile) Stat() (fs.FileInfo, error) { return f.info, nil }
func (largeFile) Close() error                 { return nil }
func (f largeFile) Read([]byte) (int, error) {
	_, err := f.node.content()
	return 0, &fs.PathError{Op: "read", Path: f.info.name, Err: err}
}

var errNotCheckedOut = errors.New("a submodule that is not checked out")

// submodule opens the repository checked out at a path of the work tree.
func (r *Repository) submodule(name string) (*Repository, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if s := r.subs[name]; s != nil {
		return s, nil
	}
	if r.closed {
		return nil, fs.ErrClosed
	}
	rel, _ := below(name, r.top)
	dir := r.native(name)
	absent := fmt.Errorf("%s is %w, so nothing in it can be read; fetch it: git -C %s submodule update --init -- %s", rel, errNotCheckedOut, words.Shell(r.native(r.top)), words.Shell(rel))
	// Only a .git of its own makes a repository of the folder: without one it may be whatever a commit left there.
	if !ownGit(dir) {
		return nil, absent
	}
	s, err := open(r.ctx, dir, r.given)
	if err != nil {
		return nil, err
	}
	if s.top != name || s.named { // git passed over what is there for a .git, and went up
		return nil, absent
	}
	r.subs[name] = s
	return s, nil
}

// object is one of git's; body is nil where size is above maxBlob.
type object struct {
	kind string
	size int64
	body []byte
}

var errMissing = errors.New("it is missing")

// objects is a running git cat-file --batch.
type objects struct {
	cmd    *exec.Cmd
	cancel context.CancelFunc
	in     io.WriteCloser
	out    *bufio.Reader
	errs   bytes.Buffer
}

// stop ends the process; only then may errs be read.
func (o *objects) stop() {
	o.in.Close()
	o.cancel()
	_ = o.cmd.Wait() // it was killed
}

// object reads one object by its id, or a commit's tree by id^{tree}.
func (r *Repository) object(id string) (object, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if err := r.ctx.Err(); err != nil {
		return object{}, err
	}
	if r.closed {
		return object{}, fs.ErrClosed
	}
	if o, ok := r.blobs[id]; ok {
		return o, nil
	}
	if r.objects == nil {
		ctx, cancel := context.WithCancel(r.ctx)
		p := &objects{cmd: r.command(ctx, r.native(r.top), "cat-file", "--batch"), cancel: cancel}
		p.cmd.Stderr = &p.errs
		in, err := p.cmd.StdinPipe()
		if err != nil {
			cancel()
			return object{}, err
		}
		out, err := p.cmd.StdoutPipe()
		if err == nil {
			err = p.cmd.Start()
		}
		if err != nil {
			cancel()
			return object{}, starting(p.cmd.Dir, err)
		}
		p.in, p.out = in, bufio.NewReaderSize(out, 64<<10)
		r.objects = p
	}
	o, err := r.objects.ask(id)
	if err != nil && !errors.Is(err, errMissing) {
		// git gave up on the object; the next one needs another process.
		p := r.objects
		r.objects = nil
		p.stop()
		if err := r.ctx.Err(); err != nil {
			return object{}, err
		}
		return object{}, r.lost(id, p.errs.String(), err)
	}
	if err == nil && o.kind == "blob" {
		if r.kept += len(o.body); r.kept > maxKept {
			clear(r.blobs)
			r.kept = len(o.body)
		}
		r.blobs[id] = o
	}
	if err != nil {
		err = r.missing()
	}
	return o, err
}

// ask sends one request and reads its answer.
func (p *objects) ask(id string) (o object, err error) {
	if _, err = io.WriteString(p.in, id+"\n"); err != nil {
		return o, err
	}
	head, err := p.out.ReadString('\n')
	if err != nil {
		return o, err
	}
	words := strings.Fields(head)
	if len(words) == 2 && words[1] == "missing" {
		return o, errMissing
	}
	if len(words) != 3 {
		return o, fmt.Errorf("git cat-file answered %q", head)
	}
	o.kind = words[1]
	if o.size, err = strconv.ParseInt(words[2], 10, 64); err != nil {
		return o, err
	}
	if o.size > maxBlob {
		_, err = io.CopyN(io.Discard, p.out, o.size+1)
		return o, err
	}
	o.body = make([]byte, o.size+1)
	_, err = io.ReadFull(p.out, o.body)
	o.body = o.body[:o.size]
	return o, err
}

// lost explains why git ended over an object.
func (r *Repository) lost(id, said string, err error) error {
	f := &failure{command: "cat-file", said: said}
	switch {
	case r.fetches(said):
		return r.missing()
	case said == "":
		return fmt.Errorf("object %s cannot be read: git ended: %w", brief(id), err)
	}
	return fmt.Errorf("object %s is damaged (%s); run: git fsck, and fetch or restore it", brief(id), f.reason())
}
