package repo

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Commit is one state in the history of a repository.
type Commit struct {
	ID string
	// Day is that of the committer's date in UTC, YYYY-MM-DD.
	Day string
	// Subject is the first paragraph of its message as it was written, no matter by whom: clean it before it is shown.
	Subject string

	time int64 // of the committer, seconds since 1970
}

// Version is one file as a commit left it.
type Version struct {
	Commit
	Bytes []byte
}

// Log lists the commits that changed anything at or below paths of the tree,
// as Tree takes them, newest first: the last of each day and at most n. A path
// that ends in /*.cue, or another ending, stands for all files with that ending
// that lie right in its folder. The history is that of HEAD along first parents:
// what a merge brought in counts as of the merge. What lies outside of the work
// tree has no history; see Holds.
//
// Remarks say why there are fewer than there may be: the clone is shallow, or
// commits carry a date that no kit can have. The error says that HEAD has no commit, or
// that the history cannot be read.
func (r *Repository) Log(ctx context.Context, n int, paths ...string) (commits []Commit, remarks []string, err error) {
	specs := r.pathspecs(paths)
	if n < 1 || len(specs) == 0 {
		return nil, nil, nil
	}
	n = min(n, maxDays)
	undated := 0
	for most := 4 * n; ; most *= 4 {
		all, err := r.revisions(ctx, most, specs)
		if err != nil {
			return nil, nil, err
		}
		last := map[string]int{} // by day
		commits, undated = nil, 0
		for _, c := range all {
			i, ok := last[c.Day]
			switch {
			case c.Day == "":
				undated++
			case !ok:
				last[c.Day] = len(commits)
				commits = append(commits, c)
			case c.time > commits[i].time:
				commits[i] = c
			}
		}
		whole := len(all) < most
		if !whole && len(commits) <= n { // one day more shows that the last one is whole
			continue
		}
		if undated > 0 {
			remarks = append(remarks, fmt.Sprintf("commits are left out whose date is none that kits can have: %d; git log --format=fuller shows them", undated))
		}
		if whole && len(commits) < n && r.shallow(ctx) {
			remarks = append(remarks, fmt.Sprintf("this is a shallow clone, and its history ends after %d of the %d days asked for; fetch the rest: %s", len(commits), n, unshallow(r.remote(ctx))))
		}
		slices.SortStableFunc(commits, func(a, b Commit) int { return cmp.Compare(b.time, a.time) })
		return commits[:min(n, len(commits))], remarks, nil
	}
}

// maxDays bounds what may be asked for at once, far above any history. Our own figure.
const maxDays = 1 << 20

// Versions walks what the file at a path of the tree held in the history of
// HEAD along first parents, newest first and at most n, one in memory at a time.
// A commit that took the file away has no version of it, and a file that was
// never committed has none at all. An error ends the walk: the history cannot be
// read, or a version has more than 64 MiB.
func (r *Repository) Versions(ctx context.Context, name string, n int) iter.Seq2[Version, error] {
	return func(yield func(Version, error) bool) {
		specs := r.pathspecs([]string{name})
		if n < 1 || len(specs) == 0 {
			return
		}
		given, seen := 0, 0
		for most := 2 * min(n, maxDays); ; most *= 4 {
			all, err := r.revisions(ctx, most, specs)
			if err != nil {
				yield(Version{}, err)
				return
			}
			for _, c := range all[seen:] {
				b, err := r.version(ctx, c.ID, name)
				if errors.Is(err, fs.ErrNotExist) {
					continue
				}
				if err != nil {
					err = fmt.Errorf("in commit %s: %w", brief(c.ID), err)
				}
				if given++; !yield(Version{c, b}, err) || err != nil || given == n {
					return
				}
			}
			if seen = len(all); seen < most {
				return
			}
		}
	}
}

func (r *Repository) version(ctx context.Context, commit, name string) ([]byte, error) {
	t, err := r.Tree(ctx, commit, name)
	if err != nil {
		return nil, err
	}
	return fs.ReadFile(t, name)
}

// revisions lists at most so many commits that changed what the pathspecs name, nearest to HEAD first. Day is "" where the date is none.
func (r *Repository) revisions(ctx context.Context, most int, specs []string) (out []Commit, err error) {
	head, err := line(r.run(ctx, "rev-parse", "--verify", "--quiet", "HEAD"))
	if f := (*failure)(nil); errors.As(err, &f) && f.code == 1 {
		return nil, errors.New("the branch checked out has no commit yet, so it has no history; commit first")
	} else if err != nil {
		return nil, fmt.Errorf("the history cannot be read: %w", err)
	}
	args := []string{"--no-literal-pathspecs", "rev-list", "--first-parent", "--max-count=" + strconv.Itoa(most), "--encoding=UTF-8", "--format=%ct %s", head, "--"}
	text, err := r.finish(ctx, r.command(ctx, r.native(r.top), append(args, specs...)...), "rev-list")
	if err != nil {
		return nil, fmt.Errorf("the history cannot be read: %w", err)
	}
	lines := strings.Split(text, "\n")
	for i := 0; i+1 < len(lines); i += 2 {
		id, ok := strings.CutPrefix(lines[i], "commit ")
		if !ok || !isID(id) {
			return nil, fmt.Errorf("git rev-list answered %q", lines[i])
		}
		c := Commit{ID: id}
		var date string
		date, c.Subject, _ = strings.Cut(lines[i+1], " ")
		if c.time, err = strconv.ParseInt(date, 10, 64); err == nil {
			// Years that a kit's dates may have; see unit.ParseDate.
			if t := time.Unix(c.time, 0).UTC(); t.Year() >= 1900 && t.Year() <= 2200 {
				c.Day = t.Format(time.DateOnly)
			}
		}
		out = append(out, c)
	}
	return out, nil
}

// pathspecs are paths of the tree in git's own form, as seen from the work tree: as they are spelt, and where links lead them on the disk.
func (r *Repository) pathspecs(paths []string) (specs []string) {
	for _, p := range paths {
		ending := ""
		if base := path.Base(p); strings.HasPrefix(base, "*.") {
			p, ending = path.Dir(p), base[1:]
		}
		var places []string
		if rest, ok := r.within(p); ok {
			places = append(places, rest)
		}
		if real, err := filepath.EvalSymlinks(r.native(p)); err == nil {
			if rel, err := filepath.Rel(r.native(r.top), real); err == nil && filepath.IsLocal(rel) {
				places = append(places, filepath.ToSlash(rel))
			}
		}
		for _, at := range places {
			if ending == "" {
				specs = append(specs, ":(literal)"+at)
			} else {
				specs = append(specs, ":(glob)"+path.Join(globs.Replace(at), "*"+globs.Replace(ending)))
			}
		}
	}
	slices.Sort(specs)
	return slices.Compact(specs)
}

// globs takes the meaning from what is special in a pattern (gitglossary(7), "pathspec").
var globs = strings.NewReplacer(`\`, `\\`, "*", `\*`, "?", `\?`, "[", `\[`)
