package repo

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"kitmuster/lint/words"
)

// Repository is a git repository with a work tree, read by running the git
// program (2.38 or newer): no library reads shallow, shared and SHA-256
// repositories as git does. Nothing in it is changed and nothing is fetched:
// what a partial clone lacks is an error that says how to complete the clone.
// No commit, no folder of the work tree and no configuration, be it the
// clone's, a submodule's or the user's, makes git start another program. What
// git would otherwise ask a program for, such as a filter, is left as it is.
// Replaced objects and grafts (git-replace(1)) stand for the true ones, as
// everywhere in git; they come with no clone and start nothing.
//
// All methods may be called from several goroutines at once.
type Repository struct {
	ctx context.Context
	// given is the environment of OpenRepository, and env what git gets of it.
	given, env []string
	// config stands above all other configuration.
	config []setting
	// partial is the remote that a partial clone lacks objects of; "" for a complete one.
	partial string
	// named says that GIT_DIR and GIT_WORK_TREE lead to the repository.
	named bool

	// root is the volume; every other path is a slash path below it, as in Disk.FS.
	root string
	// top is the work tree with no symlink on the way to it.
	top string
	// alias is the work tree as the folder opened spells it; top if it cannot be spelt so.
	alias string
	// dir is the folder opened, and prefix its place in the work tree: "" or a/b.
	dir, prefix string

	mu      sync.Mutex
	closed  bool
	objects *objects
	blobs   map[string]object
	kept    int
	subs    map[string]*Repository
}

// OpenRepository finds the git repository that the absolute folder dir lies in.
// env is the environment, as os.Environ gives it; git gets what BareEnv leaves
// of it. If no repository is found from dir alone, GIT_DIR and GIT_WORK_TREE of
// env are tried, where both are set. A bare repository is never entered, nor a
// work tree that has no .git of its own. Cancelling ctx ends what Close ends.
// Errors say what is wrong with git or with the folder and what to do instead.
func OpenRepository(ctx context.Context, dir string, env []string) (*Repository, error) {
	r := &Repository{env: BareEnv(env)}
	if err := r.supported(ctx); err != nil {
		return nil, err
	}
	return open(ctx, dir, env)
}

// open is OpenRepository with a git that is known to be new enough.
func open(ctx context.Context, dir string, env []string) (*Repository, error) {
	disk, err := NewDisk(dir, dir)
	if err != nil {
		return nil, err
	}
	r := &Repository{ctx: ctx, given: env, root: disk.root, blobs: map[string]object{}, subs: map[string]*Repository{}}
	top, err := r.discover(ctx, dir)
	if err != nil {
		return nil, opening(dir, err)
	}
	prefix, err := line(r.runIn(ctx, dir, "rev-parse", "--show-prefix"))
	if err != nil {
		return nil, opening(dir, err)
	}
	top, err = filepath.EvalSymlinks(filepath.FromSlash(top))
	if err != nil {
		return nil, err
	}
	if r.top, err = disk.Path(top); err != nil {
		return nil, err
	}
	if r.dir, err = disk.Path(dir); err != nil {
		return nil, err
	}
	r.prefix, r.alias = strings.TrimSuffix(prefix, "/"), r.top
	if info, err := os.Stat(top); err == nil {
		for p := r.dir; ; p = path.Dir(p) {
			if i, err := os.Stat(r.native(p)); err == nil && os.SameFile(i, info) {
				r.alias = p
				break
			}
			if p == "." {
				break
			}
		}
	}
	// A folder that git places elsewhere than in the work tree, as GIT_DIR can do.
	if real, err := filepath.EvalSymlinks(dir); err != nil || real != r.native(path.Join(r.top, r.prefix)) {
		return nil, fmt.Errorf("%s is not in the work tree %s", dir, top)
	}
	if err := r.settled(ctx, dir, top); err != nil {
		return nil, err
	}
	if err := r.disarm(ctx); err != nil {
		return nil, err
	}
	return r, nil
}

// discover settles the environment and finds the work tree around dir.
func (r *Repository) discover(ctx context.Context, dir string) (top string, err error) {
	named := map[string]string{}
	for _, v := range BareEnv(r.given) {
		name, value, _ := strings.Cut(v, "=")
		switch {
		case name == "GIT_DIR" || name == "GIT_WORK_TREE":
			named[name] = value
		case !strings.HasPrefix(name, "GIT_CONFIG_KEY_") && !strings.HasPrefix(name, "GIT_CONFIG_VALUE_") && name != "GIT_CONFIG_COUNT":
			r.env = append(r.env, v)
		}
	}
	r.config = trusted(r.given)
	top, err = line(r.runIn(ctx, dir, "rev-parse", "--show-toplevel"))
	f := (*failure)(nil)
	if !errors.As(err, &f) || !strings.Contains(f.said, "not a git repository") || named["GIT_DIR"] == "" || named["GIT_WORK_TREE"] == "" {
		return top, err
	}
	for _, name := range []string{"GIT_DIR", "GIT_WORK_TREE"} {
		abs, err := filepath.Abs(named[name])
		if err != nil {
			return "", err
		}
		r.env = append(r.env, name+"="+abs)
	}
	r.named = true
	return line(r.runIn(ctx, dir, "rev-parse", "--show-toplevel"))
}

// settled holds that git, run in the work tree, finds the repository that it
// found in dir. core.worktree can lead from one into the work tree of another.
func (r *Repository) settled(ctx context.Context, dir, top string) error {
	if r.named {
		return nil
	}
	if !ownGit(top) {
		return fmt.Errorf("%s has no .git of its own, so it is not taken for a work tree; go to the folder of a clone", top)
	}
	var found [2]string
	for i, d := range []string{dir, top} {
		var err error
		if found[i], err = line(r.runIn(ctx, d, "rev-parse", "--absolute-git-dir")); err != nil {
			return opening(d, err)
		}
	}
	if found[0] != found[1] {
		return fmt.Errorf("the repository %s of %s has its work tree (core.worktree) in %s, which is that of %s; go there, or run: git -C %s config --unset core.worktree", found[0], dir, top, found[1], words.Shell(dir))
	}
	return nil
}

// ownGit reports whether a folder holds an entry .git, which no commit can bring.
func ownGit(dir string) bool {
	_, err := os.Lstat(filepath.Join(dir, ".git"))
	return err == nil
}

// opening explains why a folder's repository cannot be read.
func opening(dir string, err error) error {
	f := (*failure)(nil)
	if !errors.As(err, &f) {
		return err
	}
	switch {
	case strings.Contains(f.said, "dubious ownership"), strings.Contains(f.said, "unsafe repository"):
		repo := dir
		if _, after, ok := strings.Cut(f.said, "safe.directory "); ok {
			repo, _, _ = strings.Cut(after, "\n")
		}
		return fmt.Errorf("git refuses to read the repository of %s, since it belongs to another user (safe.directory); if you trust it, run: git config --global --add safe.directory %s", dir, repo)
	case strings.Contains(f.said, "not a git repository"):
		return fmt.Errorf("%s is in no git repository, so it has no revisions; run git init there and commit, or go to the folder of a repository", dir)
	case strings.Contains(f.said, "must be run in a work tree"), strings.Contains(f.said, "cannot use bare repository"):
		return fmt.Errorf("%s is in a bare repository or in a .git folder, where no kits are checked out; go to a clone with a work tree, or make one with git worktree add", dir)
	}
	return fmt.Errorf("the git repository of %s cannot be read: %w", dir, f)
}

// Close ends the processes that serve the trees; reading from a tree is an error afterwards.
func (r *Repository) Close() error {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.closed = true
	if r.objects != nil {
		r.objects.stop()
		r.objects = nil
	}
	for _, s := range r.subs {
		s.Close()
	}
	return nil
}

// Holds reports whether a path, spelt as in Disk.FS, lies in the work tree.
// Outside of it no revision says anything: trees give the disk as it is now.
func (r *Repository) Holds(name string) bool {
	if real, err := filepath.EvalSymlinks(r.native(name)); err == nil {
		if rel, err := filepath.Rel(r.native(r.top), real); err == nil {
			return filepath.IsLocal(rel)
		}
	}
	_, a := below(name, r.alias)
	_, b := below(name, r.top)
	return a || b
}

// native is the machine's own spelling of a path.
func (r *Repository) native(name string) string {
	return filepath.Join(r.root, filepath.FromSlash(name))
}

// spell turns a path of the work tree into the spelling of those who opened the repository.
func (r *Repository) spell(rel string) string {
	if rest, ok := below(rel, cmp.Or(r.prefix, ".")); ok {
		return path.Join(r.dir, rest)
	}
	return path.Join(r.alias, rel)
}

// below gives the rest of name below folder; ok says whether it lies there.
func below(name, folder string) (rest string, ok bool) {
	switch folder {
	case name:
		return "", true
	case ".":
		return name, true
	}
	return strings.CutPrefix(name, folder+"/")
}

// Resolve gives the id of the commit that rev names in any of git's notations
// for one revision (gitrevisions(7)). As with git diff's three dots, REV... is
// the merge base of REV and HEAD: where the present branch left REV. Errors say
// what to write or to fetch instead.
func (r *Repository) Resolve(ctx context.Context, rev string) (commit string, err error) {
	if strings.ContainsRune(rev, 0) {
		return "", fmt.Errorf("revision %q has a zero byte in it", rev)
	}
	if other, ok := strings.CutSuffix(rev, "..."); ok && !strings.Contains(other, ":") {
		a, err := r.Resolve(ctx, cmp.Or(other, "HEAD"))
		if err != nil {
			return "", err
		}
		b, err := r.Resolve(ctx, "HEAD")
		if err != nil {
			return "", err
		}
		return r.MergeBase(ctx, a, b)
	}
	id, err := line(r.run(ctx, "rev-parse", "--verify", "--end-of-options", rev))
	if err == nil && !isID(id) {
		return "", fmt.Errorf("%q names no single revision; write a branch, a tag or a commit", rev)
	}
	if err != nil {
		return "", r.unknown(ctx, rev, err)
	}
	// Apart from rev, since some notations go on to the end of the argument.
	if commit, err = line(r.run(ctx, "rev-parse", "--verify", "--end-of-options", id+"^{commit}")); err == nil && isID(commit) {
		return commit, nil
	}
	if kind, err := line(r.run(ctx, "cat-file", "-t", id)); err == nil {
		if kind == "tag" {
			kind = "tag of something else"
		}
		return "", fmt.Errorf("%q is a %s, not a commit; write a branch, a commit or a tag of a commit", rev, kind)
	}
	return "", r.unknown(ctx, rev, err)
}

// unknown explains why rev names nothing.
func (r *Repository) unknown(ctx context.Context, rev string, err error) error {
	f := (*failure)(nil)
	if !errors.As(err, &f) {
		return err
	}
	if any, err := r.run(ctx, "rev-list", "-n", "1", "--all"); err == nil && any == "" {
		if _, err := r.run(ctx, "rev-parse", "--verify", "--quiet", "HEAD"); err != nil {
			return errors.New("this repository has no commit yet; commit first, or leave the revision out")
		}
	}
	if rev == "HEAD" || rev == "@" {
		return errors.New("the branch checked out has no commit yet; commit first, or write another branch")
	}
	if strings.Contains(f.said, "is ambiguous") {
		return fmt.Errorf("revision %q fits several objects; write more of its digits", rev)
	}
	if strings.Contains(rev, "..") && !strings.Contains(rev, ":") {
		return fmt.Errorf("%q is a range of revisions; write one, or REV... for the point where the present branch left REV", rev)
	}
	name := rev
	if i := strings.IndexAny(rev, "~^:"); i >= 0 {
		name = rev[:i]
	}
	name, _, _ = strings.Cut(name, "@{")
	remote := r.remote(ctx)
	shallow := r.shallow(ctx)
	if name != rev {
		if _, err := r.run(ctx, "rev-parse", "--verify", "--quiet", "--end-of-options", cmp.Or(name, "HEAD")+"^{commit}"); err == nil {
			if shallow && strings.ContainsAny(rev[len(name):][:1], "~^") {
				return fmt.Errorf("revision %q lies beyond the cut of this shallow clone; fetch it: %s", rev, unshallow(remote))
			}
			return fmt.Errorf("there is no revision %q: %s", rev, f.reason())
		}
	}
	complaint := fmt.Sprintf("there is no revision %q", rev)
	if remote != "" && isID(name) {
		return fmt.Errorf("%s in this clone; if it is on the remote, fetch it: git fetch%s %s %s", complaint, depth(shallow), remote, name)
	}
	var names []string
	if refs, err := r.run(ctx, "for-each-ref", "--format=%(refname)"); err == nil {
		for ref := range strings.Lines(refs) {
			ref = strings.TrimSuffix(ref, "\n")
			for _, kind := range []string{"refs/heads/", "refs/tags/", "refs/remotes/"} {
				if short, ok := strings.CutPrefix(ref, kind); ok {
					names = append(names, short)
				}
			}
		}
	}
	if there := remote + "/" + name; slices.Contains(names, there) {
		return fmt.Errorf("%s; did you mean %s?", complaint, there+rev[len(name):])
	}
	if w := words.Near(name, names); w != "" {
		return fmt.Errorf("%s; did you mean %s?", complaint, w+rev[len(name):])
	}
	if shallow && len(name) >= 4 && strings.Trim(name, "0123456789abcdef") == "" {
		return fmt.Errorf("%s in this shallow clone; write all of its digits, or fetch the history it lies in: %s", complaint, unshallow(remote))
	}
	if branch, tracked := strings.CutPrefix(name, remote+"/"); remote != "" && validBranch(branch) {
		from := "git fetch" + depth(shallow) + " " + remote
		fetch := fmt.Sprintf("%s %s:refs/remotes/%s/%s", from, branch, remote, branch)
		if tracked {
			return fmt.Errorf("%s in this clone; if it is a branch of %s, fetch it: %s", complaint, remote, fetch)
		}
		return fmt.Errorf("%s in this clone; if it is a branch of %s, fetch it: %s, and write %s/%s; if it is a tag: %s tag %s", complaint, remote, fetch, remote, branch, from, branch)
	}
	return fmt.Errorf("%s; git branch --all and git tag list the names, git log the commits", complaint)
}

// MergeBase gives the best common ancestor of two commits.
func (r *Repository) MergeBase(ctx context.Context, a, b string) (commit string, err error) {
	commit, err = line(r.run(ctx, "merge-base", "--end-of-options", a, b))
	f := (*failure)(nil)
	switch {
	case err == nil && isID(commit):
		return commit, nil
	case errors.As(err, &f) && f.code == 1 && r.shallow(ctx):
		return "", fmt.Errorf("the common ancestor of %s and %s lies beyond the cut of this shallow clone; fetch it: %s", brief(a), brief(b), unshallow(r.remote(ctx)))
	case errors.As(err, &f) && f.code == 1:
		return "", fmt.Errorf("%s and %s have no common ancestor: their histories are unrelated; write a revision without the dots", brief(a), brief(b))
	case err == nil:
		return "", fmt.Errorf("git merge-base answered %q", commit)
	}
	return "", fmt.Errorf("the common ancestor of %s and %s cannot be found: %w", brief(a), brief(b), err)
}

func (r *Repository) shallow(ctx context.Context) bool {
	out, err := r.run(ctx, "rev-parse", "--is-shallow-repository")
	return err == nil && strings.TrimSpace(out) == "true"
}

// remote is where to fetch from: origin, or else the first; "" if there is none.
func (r *Repository) remote(ctx context.Context) string {
	out, err := r.run(ctx, "remote")
	names := strings.Fields(out)
	switch {
	case err != nil || len(names) == 0:
		return ""
	case slices.Contains(names, "origin"):
		return "origin"
	}
	return names[0]
}

func unshallow(remote string) string {
	return strings.TrimSpace("git fetch --unshallow " + remote)
}

func depth(shallow bool) string {
	if shallow {
		return " --depth=1"
	}
	return ""
}

// validBranch reports whether a name may be put into a command to be copied.
func validBranch(s string) bool {
	return s != "" && !strings.HasPrefix(s, "-") && !strings.ContainsFunc(s, func(c rune) bool {
		return !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || strings.ContainsRune("-_./+", c))
	}) && !strings.Contains(s, "..")
}

// isID reports whether s is a whole object id, of SHA-1 or SHA-256.
func isID(s string) bool {
	return (len(s) == 40 || len(s) == 64) && strings.Trim(s, "0123456789abcdef") == ""
}

// brief shortens an id for people.
func brief(id string) string { return id[:min(len(id), 12)] }

// line takes the newline off that ends git's answer; a path may hold others.
func line(out string, err error) (string, error) { return strings.TrimSuffix(out, "\n"), err }
