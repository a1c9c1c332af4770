package repo

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// Change is one path that differs between two states, in the path space of
// Disk.FS and spelt as the folder of OpenRepository is. Old is "" for what was
// added and New is "" for what was deleted; both differ for what was renamed.
// A submodule, or a repository in the work tree that is none, is one change of
// its folder: anything in it may differ.
type Change struct {
	Old, New string
}

// Changed lists what differs between the commits base and head, ordered by
// path; head may be a name from Stage, and "" stands for the work tree as it lies on the disk. The work tree
// counts whatever the index says of it: files staged or not, untracked, ignored
// (they are read from the disk like any other), marked assume-unchanged or
// conflicting. Files that a sparse checkout leaves out count as unchanged. A
// change of nothing but the executable bit is none. No filter of gitattributes(5)
// is run, so a file that one turns on checkout counts as changed.
//
// In a partial clone it is an error if a file is missing that must be read to
// tell what was renamed.
func (r *Repository) Changed(ctx context.Context, base, head string) ([]Change, error) {
	index, isStaged := strings.CutPrefix(head, staged)
	if !isID(base) || head != "" && !isID(head) && !isStaged {
		return nil, fmt.Errorf("%q or %q is not the id of a commit", base, head)
	}
	// Whatever diff.renameLimit and diff.orderFile say; 1000 is git's own default.
	flags := []string{"--raw", "-z", "--no-abbrev", "-M", "-l1000", "--ignore-submodules=dirty", "-O/dev/null", "--no-ext-diff", "--no-textconv"}
	if isStaged {
		out, err := r.runIndex(ctx, index, "", slices.Concat([]string{"diff-index", "--cached", "-r", "--ita-invisible-in-index"}, flags, []string{base, "--"})...)
		if err != nil {
			return nil, fmt.Errorf("the index cannot be compared with %s: %w", brief(base), err)
		}
		return r.changes(out)
	}
	if head != "" {
		out, err := r.run(ctx, slices.Concat([]string{"diff-tree", "-r"}, flags, []string{base, head, "--"})...)
		if err != nil {
			return nil, fmt.Errorf("%s and %s cannot be compared: %w", brief(base), brief(head), err)
		}
		return r.changes(out)
	}
	temp, err := os.MkdirTemp("", "kitmuster-index-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(temp)
	index = filepath.Join(temp, "index")
	nested, links, err := r.workIndex(ctx, index)
	if err != nil {
		return nil, err
	}
	out, err := r.runIndex(ctx, index, "", slices.Concat([]string{"diff"}, flags, []string{base, "--"})...)
	if err != nil {
		return nil, fmt.Errorf("the work tree cannot be compared with %s: %w", brief(base), err)
	}
	changes, err := r.changes(out)
	if err != nil {
		return nil, err
	}
	for _, p := range nested {
		changes = append(changes, Change{New: r.spell(p)})
	}
	for _, p := range links {
		c := Change{Old: r.spell(p), New: r.spell(p)}
		if slices.ContainsFunc(changes, func(o Change) bool { return o.Old == c.Old || o.New == c.New }) {
			continue
		}
		dirty, err := r.dirty(ctx, p)
		if err != nil {
			return nil, err
		}
		if dirty {
			changes = append(changes, c)
		}
	}
	slices.SortFunc(changes, compareChanges)
	return changes, nil
}

// dirty reports whether a submodule that is checked out differs from its own
// HEAD. git's own look at it would pass over what is ignored there.
func (r *Repository) dirty(ctx context.Context, rel string) (bool, error) {
	s, err := r.submodule(path.Join(r.top, rel))
	if errors.Is(err, errNotCheckedOut) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	head, err := s.Resolve(ctx, "HEAD")
	if err != nil {
		return false, fmt.Errorf("submodule %s: %w", rel, err)
	}
	list, err := s.Changed(ctx, head, "")
	return len(list) > 0, err
}

func compareChanges(a, b Change) int {
	return cmp.Or(cmp.Compare(cmp.Or(a.New, a.Old), cmp.Or(b.New, b.Old)), cmp.Compare(a.Old, b.Old))
}

// runIndex runs git with an index of our own and an input.
func (r *Repository) runIndex(ctx context.Context, index, input string, args ...string) (string, error) {
	cmd := r.command(ctx, r.native(r.top), args...)
	cmd.Env = append(cmd.Env, "GIT_INDEX_FILE="+index)
	cmd.Stdin = strings.NewReader(input)
	return r.finish(ctx, cmd, args[0])
}

// workIndex writes an index that knows every file of the work tree, so that one
// git diff sees them all, renames included, and the user's index stays as it
// is. Paths that no index can hold, and those of submodules, are returned.
func (r *Repository) workIndex(ctx context.Context, index string) (outside, links []string, err error) {
	if err := r.copyIndex(ctx, index); err != nil {
		return nil, nil, err
	}
	staged, err := r.runIndex(ctx, index, "", "ls-files", "-z", "-v", "--stage")
	if err != nil {
		return nil, nil, fmt.Errorf("the index cannot be read: %w", err)
	}
	others, err := r.runIndex(ctx, index, "", "ls-files", "-z", "--others")
	if err != nil {
		return nil, nil, fmt.Errorf("the work tree cannot be listed: %w", err)
	}
	// The input of git update-index --index-info: a mode of 0 takes the path out
	// with its flags. The ids written are never looked at: an
	// entry with no time is compared by the file.
	var input strings.Builder
	for record := range strings.SplitSeq(staged, "\x00") {
		head, p, ok := strings.Cut(record, "\t")
		f := strings.Fields(head) // tag mode id stage
		if !ok || len(f) != 4 {
			continue
		}
		if f[1] == "160000" && !slices.Contains(links, p) {
			links = append(links, p)
		}
		skipped, assumed := strings.EqualFold(f[0], "S"), f[0] == strings.ToLower(f[0])
		if !skipped && !assumed {
			continue
		}
		_, err := os.Lstat(filepath.Join(r.native(r.top), filepath.FromSlash(p)))
		if err != nil && skipped {
			continue
		}
		zero := strings.Repeat("0", len(f[2]))
		fmt.Fprintf(&input, "0 %s\t%s\x00", zero, p)
		if err == nil {
			fmt.Fprintf(&input, "%s %s\t%s\x00", f[1], f[2], p)
		}
	}
	var id string
	for p := range strings.SplitSeq(others, "\x00") {
		folder := strings.HasSuffix(p, "/")
		switch {
		case p == "":
			continue
		case folder || slices.ContainsFunc(strings.Split(p, "/"), func(s string) bool { return strings.EqualFold(s, ".git") }):
			outside = append(outside, strings.TrimSuffix(p, "/"))
			continue
		case id == "":
			if id, err = line(r.run(ctx, "hash-object", "--stdin")); err != nil { // of nothing
				return nil, nil, err
			}
		}
		fmt.Fprintf(&input, "100644 %s\t%s\x00", id, p)
	}
	if input.Len() == 0 {
		return outside, links, nil
	}
	if _, err := r.runIndex(ctx, index, input.String(), "update-index", "-z", "--index-info"); err != nil {
		return nil, nil, fmt.Errorf("the files of the work tree cannot be listed: %w", err)
	}
	return outside, links, nil
}

// maxIndex bounds the index that is copied, which has some 100 bytes for each file. Our own figure.
const maxIndex = 1 << 30

// copyIndex copies the user's index. Its time goes along: git trusts an entry
// only if it is older than the index.
func (r *Repository) copyIndex(ctx context.Context, index string) error {
	name, err := line(r.run(ctx, "rev-parse", "--git-path", "index"))
	if err != nil {
		return err
	}
	return r.copyFrom(name, index)
}

// copyFrom copies an index that is named as seen from the work tree.
func (r *Repository) copyFrom(name, index string) error {
	if !filepath.IsAbs(name) {
		name = filepath.Join(r.native(r.top), filepath.FromSlash(name))
	}
	// Looked at before it is opened: opening a pipe waits for the one who writes into it.
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.Mode().IsRegular() || info.Size() > maxIndex:
		return fmt.Errorf("%s is not an index that git wrote: it must be a file of at most %d MiB; remove it, then run git reset, which makes a new one", name, maxIndex>>20)
	}
	from, err := os.DirFS(filepath.Dir(name)).Open(filepath.Base(name))
	if err != nil {
		return err
	}
	defer from.Close()
	to, err := os.OpenFile(index, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = io.CopyN(to, from, info.Size())
	if err := errors.Join(err, to.Close()); err != nil {
		return fmt.Errorf("%s cannot be copied: %w", name, err)
	}
	return os.Chtimes(index, info.ModTime(), info.ModTime())
}

// changes reads git's raw output with -z: :mode mode id id status, a path, and
// for a rename another path (git-diff(1), "Raw output format").
func (r *Repository) changes(out string) (list []Change, err error) {
	fields := strings.Split(out, "\x00")
	for i := 0; i+1 < len(fields); i += 2 {
		f := strings.Fields(strings.TrimPrefix(fields[i], ":"))
		if len(f) != 5 {
			return nil, fmt.Errorf("git diff answered %q", fields[i])
		}
		old := r.spell(fields[i+1])
		c := Change{Old: old, New: old}
		switch f[4][0] {
		case 'A':
			c.Old = ""
		case 'D':
			c.New = ""
		case 'R':
			if i++; i+1 >= len(fields) {
				return nil, fmt.Errorf("git diff named no new path for %q", old)
			}
			c.New = r.spell(fields[i+1])
		case 'M':
			if f[2] == f[3] && f[0] != f[1] { // M keeps the type, so only the executable bit is left
				continue
			}
		}
		list = append(list, c)
	}
	slices.SortFunc(list, compareChanges)
	return list, nil
}
