package lint

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"path"
	"slices"

	"kitmuster/lint/finding"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
)

// Since is an earlier state that households are held against.
type Since struct {
	// Name is the state for people, Commit its id.
	Name, Commit string
	// Tree is the earlier tree, in the path space of the tree that is checked.
	Tree fs.FS
	// Changes are all paths that differ.
	Changes []repo.Change
	// Remarks are said beside what the comparison finds.
	Remarks []string
	// All judges also the households that no change touches.
	All bool
	// Then is the standard as it was, where it has changed; nil judges both states by the same.
	Then *Then

	// given is that of load.Given.
	given func(dir string) string
}

// pair is one household in both states; "" where it is not there.
type pair struct{ before, now string }

// pairs finds each household in the other state: at the same path, failing that by its name, failing that where git says that its files went.
func (s *Since) pairs(tree fs.FS, before, now []string) (out []pair) {
	rest := map[string]bool{} // of the earlier state, not yet found
	for _, d := range before {
		rest[d] = true
	}
	var fresh []int
	for _, d := range now {
		p := pair{now: d}
		if rest[d] {
			p.before = d
			delete(rest, d)
		} else {
			fresh = append(fresh, len(out))
		}
		out = append(out, p)
	}
	if len(fresh) > 0 && len(rest) > 0 {
		byName := map[string][]string{}
		for _, d := range before {
			if n := load.Name(s.Tree, d, s.given(d)); rest[d] && n != "" {
				byName[n] = append(byName[n], d)
			}
		}
		taken := map[string]int{}
		for _, i := range fresh {
			taken[load.Name(tree, out[i].now, s.given(out[i].now))]++
		}
		moved := s.moves()
		for _, i := range fresh {
			name := load.Name(tree, out[i].now, s.given(out[i].now))
			from := moved[out[i].now]
			if same := byName[name]; len(same) == 1 && taken[name] == 1 {
				from = same[0]
			}
			if rest[from] {
				out[i].before = from
				delete(rest, from)
			}
		}
	}
	for _, d := range before {
		if rest[d] {
			out = append(out, pair{before: d})
		}
	}
	return out
}

// moves says of each folder where most of its files were.
func (s *Since) moves() map[string]string {
	count := map[pair]int{}
	for _, c := range s.Changes {
		if c.Old != "" && c.New != "" && path.Dir(c.Old) != path.Dir(c.New) {
			count[pair{path.Dir(c.Old), path.Dir(c.New)}]++
		}
	}
	out, most := map[string]string{}, map[string]int{}
	for p, n := range count {
		if n > most[p.now] || n == most[p.now] && p.before < out[p.now] {
			out[p.now], most[p.now] = p.before, n
		}
	}
	return out
}

// touches tells which households a change can touch. A household reads what lies in its folder and below, the kit
// files of the folders above, and the module files there; with an import or a link it may read anything.
type touches struct {
	paths, above, kits, modules map[string]bool
	trees                       []fs.FS
	given                       func(dir string) string
	wanders                     map[string]bool
	any                         bool
}

func (s *Since) touches(tree fs.FS) *touches {
	t := &touches{paths: map[string]bool{}, above: map[string]bool{}, kits: map[string]bool{}, modules: map[string]bool{}, trees: []fs.FS{tree, s.Tree}, given: s.given, wanders: map[string]bool{}, any: len(s.Changes) > 0}
	for _, c := range s.Changes {
		for _, p := range []string{c.Old, c.New} {
			if p == "" {
				continue
			}
			t.paths[p] = true
			if path.Ext(p) == ".cue" {
				t.kits[path.Dir(p)] = true
			}
			for d := p; d != "."; {
				if path.Base(d) == "cue.mod" {
					t.modules[path.Dir(d)] = true
				}
				d = path.Dir(d)
				t.above[d] = true
			}
		}
	}
	return t
}

// Touches reports whether a change can touch the household in folder dir of the tree that is checked. It may say so of one that it does not touch.
func (s *Since) Touches(tree fs.FS, dir string) bool {
	one := *s
	one.given = load.Given(tree, []string{dir})
	return one.touches(tree).household(dir)
}

func (t *touches) household(dir string) bool {
	if !t.any {
		return false
	}
	if t.above[dir] {
		return true
	}
	for d := dir; ; d = path.Dir(d) {
		if t.paths[d] || t.kits[d] || t.modules[d] || t.wander(dir, d) {
			return true
		}
		if d == "." {
			return false
		}
	}
}

func (t *touches) wander(dir, at string) bool {
	w, ok := t.wanders[at]
	if !ok || dir == at { // in its own folder any link counts, above only those of kit files
		w = slices.ContainsFunc(t.trees, func(tree fs.FS) bool { return load.Wanders(tree, dir, t.given(dir), at) })
	}
	if dir != at {
		t.wanders[at] = w
	}
	return w
}

// since turns the households of both states into jobs, and says what becomes of those that get none.
func (c *checking) since(tree fs.FS, o Options, show func(string) string, dirs []string) {
	s := o.Since
	s.given = c.given
	c.remarks = append(c.remarks, s.Remarks...)
	before, _ := load.Find(s.Tree, o.Patterns, load.Options{}) // what is wrong with the paths is told of the state that is checked
	touched := s.touches(tree)
	shared := s.sharing(tree, touched, show, before, dirs)
	for _, p := range s.pairs(tree, before, dirs) {
		switch {
		case !o.Part.has(show(cmp.Or(p.now, p.before))):
		case p.now == "":
			c.remarks = append(c.remarks, fmt.Sprintf("the household at %s is gone", o.alias(show(p.before))))
		case p.before == p.now && !touched.household(p.now):
			if s.Then != nil {
				c.jobs = append(c.jobs, job{path: show(p.now), dir: p.now, same: true, causes: s.Then.all()})
				continue
			}
			if !s.All {
				c.untouched++
				continue
			}
			c.jobs = append(c.jobs, job{path: show(p.now), dir: p.now, same: true})
		default:
			if p.before != p.now && p.before != "" {
				c.remarks = append(c.remarks, fmt.Sprintf("the household at %s was at %s", o.alias(show(p.now)), o.alias(show(p.before))))
			}
			j := job{path: show(p.now), dir: p.now, before: p.before}
			if p.before == p.now {
				j.causes = shared.of(p.now)
			}
			c.jobs = append(c.jobs, j)
		}
	}
}

// compared judges the earlier state too, and says of each finding whether it is new.
func (c *checking) compared(ctx context.Context, o Options, i int, now Answer) (Answer, error) {
	j := &c.jobs[i]
	fs, err := now.Findings()
	if err != nil {
		return now, err
	}
	var earlier, then []finding.Finding
	if o.Since.Then != nil && (j.same || j.before != "") {
		job := Job{Dir: j.dir, Given: c.given(j.dir), Commit: o.Commit}
		if j.same {
			job.Want = o.Want.name()
		}
		m := o.Since.Then.Run(ctx, job)
		if then, err = m.Findings(); err != nil {
			return now, err
		}
		if j.same && c.earlier != nil {
			c.earlier.put(i, m.Extra)
			j.before, j.told = j.dir, m.Household.Judged && now.Household.Judged
		}
	}
	switch {
	case j.before == "" && !j.same:
		j.told = true
	case j.same && o.Since.Then != nil:
		earlier = then
	case j.same:
		earlier = fs
	case j.before != "":
		before := c.runBefore
		if o.Since.Then != nil {
			before = o.Since.Then.Run
		}
		b := before(ctx, Job{Dir: j.before, Given: c.given(j.before), Commit: o.Since.Commit, Want: o.Want.name()})
		j.told = b.Household.Judged && now.Household.Judged
		if c.earlier != nil {
			c.earlier.put(i, b.Extra)
		}
		if earlier, err = b.Findings(); err != nil {
			return now, err
		}
		earlier = c.comparable(j, b.Household.Judged, now.Household.Judged, earlier)
	}
	states := finding.States(earlier, fs)
	caused(states, j.causes)
	if err := c.narrow(ctx, o, j, earlier, states); err != nil {
		return now, err
	}
	if o.Since.Then != nil {
		j.untold = !o.Since.Then.blame(then, fs, states) && j.same && !o.Since.All
	}
	return now.stated(states), nil
}

// comparable are the findings of an earlier state that can be held against those of now; it says where not all can.
func (c *checking) comparable(j *job, before, now bool, earlier []finding.Finding) []finding.Finding {
	switch {
	case !before && now:
		c.remark(fmt.Sprintf("the household at %s could not be judged before: what shows now counts as new", j.alias))
	case before && !now:
		// What was found before may still be there; nobody can tell.
		c.remark(fmt.Sprintf("the household at %s could be judged before: nothing counts as fixed", j.alias))
		return nil
	}
	return earlier
}

// stated is the answer with its findings as they stand against an earlier state.
func (a *Answer) stated(states []finding.Finding) Answer {
	out := Answer{Household: a.Household, Faults: a.Faults, Extra: a.Extra}
	out.Summary.Household(&a.Household)
	for i := range states { // what is mended belongs to the household where it is now
		states[i].Path, states[i].Household = a.Household.Path, cmp.Or(a.Household.Name, states[i].Household)
	}
	out.pack(finding.Sort(states))
	return out
}

// remark says something about the comparison; it is called from several goroutines.
func (c *checking) remark(text string) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.remarks = append(c.remarks, text)
}
