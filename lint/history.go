package lint

import (
	"context"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"sync"
	"sync/atomic"

	"kitmuster/lint/finding"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
	"kitmuster/lint/unit"
)

// Past is the history through which households are followed.
type Past struct {
	// Commits are its states, newest first, as repo.Repository.Log gives them.
	Commits []repo.Commit
	// Tree gives the tree of a commit, in the path space of the tree that is checked. Where Options.Run is nil, it is read until History returns.
	Tree func(ctx context.Context, commit string) (fs.FS, error)
	// Changed lists what differs between two commits; see repo.Repository.Changed.
	Changed func(ctx context.Context, base, head string) ([]repo.Change, error)
}

// Reach lists the paths whose changes can change the households that the patterns mean, for repo.Repository.Log: where a
// pattern begins, the kit files and modules of the folders above up to the module's, and all of that where a household
// imports something or a link leads elsewhere.
func Reach(tree fs.FS, patterns []string) (paths []string) {
	t := &touches{trees: []fs.FS{tree}, given: load.Given(tree, patterns), wanders: map[string]bool{}}
	for _, p := range patterns {
		base := load.Base(tree, p)
		paths = append(paths, base)
		top := base
		for !isModule(tree, top) && top != "." {
			top = path.Dir(top)
			paths = append(paths, path.Join(top, "*.cue"), path.Join(top, "cue.mod"))
		}
		dirs, _ := load.Find(tree, []string{p}, load.Options{})
		if top != base && slices.ContainsFunc(dirs, func(dir string) bool { return t.wanderUpTo(dir, top) }) {
			paths = append(paths, top)
		}
	}
	return paths
}

// isModule reports whether a folder is that of a module.
func isModule(tree fs.FS, dir string) bool {
	_, err := fs.Stat(tree, path.Join(dir, "cue.mod"))
	return err == nil
}

// wanderUpTo reports whether the household in folder dir may bring in something from anywhere because of it or a folder above, up to top.
func (t *touches) wanderUpTo(dir, top string) bool {
	for at := dir; ; at = path.Dir(at) {
		if t.wander(dir, at) {
			return true
		}
		if at == top || at == "." {
			return false
		}
	}
}

// History judges the households that the patterns mean in tree in each of the commits, as of the day of the commit, by the standard
// that judges now. A household is looked for where the patterns begin and below: at the folder that it has in the next newer
// commit, failing that by its name, failing that where git says that its files went. When ctx ends, it says what it has, and that
// this is not all.
func History(ctx context.Context, tree fs.FS, o Options, p Past) *finding.History {
	show := o.Show
	if show == nil {
		show = func(s string) string { return s }
	}
	f := &following{o: o, past: p, run: o.runner(), show: show, given: load.Given(tree, o.Patterns)}
	for _, pattern := range o.Patterns {
		f.below = append(f.below, path.Join(load.Base(tree, pattern), "..."))
	}
	dirs, _ := load.Find(tree, o.Patterns, load.Options{})
	for _, d := range dirs {
		h := followed{job: job{path: show(d), alias: o.alias(show(d)), dir: d}, last: d}
		if o.Part.has(h.path) { // the others are followed too, so that nobody is taken for one of them
			h.points = make([]finding.Trend, len(p.Commits))
			f.of += len(p.Commits)
		}
		f.households = append(f.households, h)
	}
	next := make(chan earlier)
	var wg sync.WaitGroup
	for range max(1, o.Workers) {
		wg.Go(func() {
			for e := range next {
				f.judge(ctx, e)
			}
		})
	}
	f.walk(ctx, tree, next)
	close(next)
	wg.Wait()
	return f.history(ctx)
}

// following is a history under way.
type following struct {
	o    Options
	past Past
	run  func(tree fs.FS) func(context.Context, Job) Answer
	show func(string) string
	// given is that of load.Given.
	given func(dir string) string
	// below are the patterns of where households are looked for in the commits: a folder that the run names need not have been a household's.
	below []string

	households []followed
	remarks    []string
	// of is how many states of households there are, done how many are done.
	of   int
	done atomic.Int64
}

// followed is one household on its way back through the commits.
type followed struct {
	job
	// last is its folder in the last state that has it; gone says that the state looked at last has not.
	last string
	gone bool
	// points stand in the order of the commits, without a day where it was not judged; nil for a household of another part.
	points []finding.Trend
}

// earlier is one household in one commit.
type earlier struct {
	point  *finding.Trend
	commit repo.Commit
	run    func(context.Context, Job) Answer
	dir    string
	on     unit.Date
}

// walk goes back through the commits and hands out what is to be judged.
func (f *following) walk(ctx context.Context, tree fs.FS, next chan<- earlier) {
	newer := f.o.Commit
	for k, c := range f.past.Commits {
		on, err := unit.ParseDate(c.Day)
		s := &Since{given: f.given}
		var run func(context.Context, Job) Answer
		if err == nil {
			s.Tree, err = f.past.Tree(ctx, c.ID)
		}
		if err == nil {
			s.Changes, err = f.past.Changed(ctx, c.ID, newer)
		}
		if ctx.Err() != nil {
			return
		}
		if err != nil {
			f.remarks = append(f.remarks, fmt.Sprintf("the commit of %s is left out: %v", c.Day, err))
		} else {
			f.step(s, tree)
			run = f.run(s.Tree)
		}
		for i := range f.households {
			h := &f.households[i]
			switch {
			case h.points == nil:
			case err != nil:
				f.count()
			case h.gone:
				h.points[k] = finding.Trend{Commit: c.ID, Day: c.Day}
				f.count()
			default:
				select {
				case next <- earlier{&h.points[k], c, run, h.last, on}:
				case <-ctx.Done():
					return
				}
			}
		}
		if err == nil {
			tree, newer = s.Tree, c.ID
		}
	}
}

// step finds the households one state further back. Who is gone may be there again, where nobody else is.
func (f *following) step(s *Since, tree fs.FS) {
	var now []string
	for i := range f.households {
		if h := &f.households[i]; !h.gone {
			now = append(now, h.last)
		}
	}
	before, _ := load.Find(s.Tree, f.below, load.Options{})
	was, free := map[string]string{}, map[string]bool{}
	for _, p := range s.pairs(tree, before, now) {
		if p.now == "" {
			free[p.before] = true
		} else {
			was[p.now] = p.before
		}
	}
	for i := range f.households {
		h := &f.households[i]
		switch {
		case h.gone && free[h.last]:
			h.gone = false
			delete(free, h.last)
		case h.gone:
		case was[h.last] == "":
			h.gone = true
		default:
			h.last = was[h.last]
		}
	}
}

// judge judges one household in one commit.
func (f *following) judge(ctx context.Context, e earlier) {
	a := e.run(ctx, Job{Dir: e.dir, Given: f.given(e.dir), Commit: e.commit.ID, On: kit.Some(e.on)})
	if ctx.Err() != nil {
		return
	}
	t := a.Trend()
	t.Commit, t.Day, t.Path = e.commit.ID, e.commit.Day, f.show(e.dir)
	*e.point = t
	f.count()
}

func (f *following) count() {
	if n := f.done.Add(1); f.o.Done != nil {
		f.o.Done(int(n), f.of)
	}
}

// history gathers what there is, in the order of a run.
func (f *following) history(ctx context.Context) *finding.History {
	out := &finding.History{Remarks: f.remarks}
	slices.SortFunc(f.households, func(a, b followed) int { return compareJobs(a.job, b.job) })
	for _, h := range f.households {
		if h.points != nil {
			points := slices.DeleteFunc(h.points, func(t finding.Trend) bool { return t.Day == "" })
			out.Households = append(out.Households, finding.Course{Path: h.path, Points: points})
		}
	}
	if ctx.Err() != nil {
		out.Partial = fmt.Sprintf("interrupted after %d of %d earlier states of households", f.done.Load(), f.of)
	}
	return out
}
