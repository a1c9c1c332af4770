package repo

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"kitmuster/lint/words"
)

// staged begins the name of a copy of the index, which stands where the id of a commit stands otherwise.
const staged = "index:"

// Stage copies the index as it is now into folder, and gives the copy's name for Tree and Changed: what the next commit would hold.
// In a hook it is the index that git hands over, which is another one where git commit was told what to commit. An error says
// what has to be settled first, such as a conflict.
func (r *Repository) Stage(ctx context.Context, folder string) (name string, err error) {
	index := filepath.Join(folder, "index")
	handed, err := r.handed(ctx)
	if err != nil {
		return "", err
	}
	if handed == "" {
		err = r.copyIndex(ctx, index)
	} else {
		err = r.copyFrom(handed, index)
	}
	if err != nil {
		return "", err
	}
	open, err := r.runIndex(ctx, index, "", "ls-files", "-z", "--unmerged")
	if err != nil {
		return "", fmt.Errorf("the index cannot be read: %w", err)
	}
	if _, p, ok := strings.Cut(open, "\t"); ok {
		p, _, _ = strings.Cut(p, "\x00")
		return "", fmt.Errorf("%s has a conflict that is not settled, so there is nothing to commit yet; settle it, then run: git add %s", p, words.Shell(p))
	}
	return staged + index, nil
}

// handed is the index that git hands to a hook in GIT_INDEX_FILE, "" for the usual one. It lies in the repository's own folder; one
// elsewhere is of another repository.
func (r *Repository) handed(ctx context.Context) (string, error) {
	for _, v := range r.given {
		name, ok := strings.CutPrefix(v, "GIT_INDEX_FILE=")
		if !ok || name == "" {
			continue
		}
		if !filepath.IsAbs(name) {
			name = filepath.Join(r.native(r.top), name)
		}
		own, err := line(r.run(ctx, "rev-parse", "--absolute-git-dir"))
		if err != nil {
			return "", err
		}
		if Inside(own, name) {
			return name, nil
		}
	}
	return "", nil
}

// Unborn reports whether the branch that is checked out has no commit yet.
func (r *Repository) Unborn(ctx context.Context) (bool, error) {
	_, err := r.run(ctx, "rev-parse", "--verify", "--quiet", "HEAD")
	f := (*failure)(nil)
	if errors.As(err, &f) {
		return true, nil
	}
	return false, err
}

// stagedTree is Tree of a copy of the index. Files that are only meant to be added (git add -N) are no part of a commit.
func (r *Repository) stagedTree(ctx context.Context, index string) (fs.FS, error) {
	empty, err := line(r.run(ctx, "hash-object", "-t", "tree", "--stdin"))
	if err != nil {
		return nil, err
	}
	out, err := r.runIndex(ctx, index, "", "diff-index", "--cached", "-r", "--raw", "-z", "--no-abbrev", "--no-renames", "--ita-invisible-in-index", empty, "--")
	if err != nil {
		return nil, fmt.Errorf("the index cannot be read: %w", err)
	}
	t := &tree{repo: r, disk: os.DirFS(r.root), top: &node{repo: r, path: r.top}}
	t.top.hold()
	fields := strings.Split(out, "\x00")
	for i := 0; i+1 < len(fields); i += 2 {
		f := strings.Fields(strings.TrimPrefix(fields[i], ":")) // mode mode id id status
		if len(f) != 5 {
			return nil, fmt.Errorf("git diff-index answered %q", fields[i])
		}
		at, names := t.top, strings.Split(fields[i+1], "/")
		for _, name := range names[:len(names)-1] {
			if at.kids[name] == nil {
				at.add(r, folderBits, name, "")
				at.kids[name].hold()
			}
			at = at.kids[name]
		}
		if name := names[len(names)-1]; at.kids[name] == nil {
			at.add(r, f[1], name, f[3])
		}
	}
	t.top.settle()
	return t, nil
}

// folderBits is git's mode of a folder.
const folderBits = "040000"

// hold makes a folder of the index, which has no object that could be read.
func (n *node) hold() {
	n.mode, n.kids = fs.ModeDir|0o555, map[string]*node{}
	n.once.Do(func() {})
}

// settle puts the entries of such a folder, and of those in it, in order.
func (n *node) settle() {
	n.sort()
	for _, kid := range n.kids {
		if kid.kids != nil {
			kid.settle()
		}
	}
}
