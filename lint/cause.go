package lint

import (
	"context"
	"io/fs"
	"path"
	"slices"
	"strings"

	"kitmuster/lint/finding"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
	"kitmuster/lint/source"
)

// A change of what several households read is named as the cause of what is new or fixed in a household where that is certain: nothing
// in the household's own folder has changed, and both states are judged by one standard, as of one day, so that what differs comes from
// the shared files that it reads. (Where the standard has changed too, what it does is told first: ruled.go.) Of these the fields are compared as they are written, without evaluating any. Which of several it was
// is tried: each is taken back by itself, and the household judged once more.

// mostShared is how many shared files are compared field by field. Our own figure, far above what one change touches.
const mostShared = 50

// sharing knows what has changed outside of the households' own folders.
type sharing struct {
	s       *Since
	tree    fs.FS
	show    func(string) string
	touched *touches
	// kits are the changes of kit files by their folder, modules those in module folders by the folder that these lie in; elsewhere is
	// what lies in nobody's folder. All are numbers of s.Changes.
	kits, modules map[string][]int
	elsewhere     []int
	// found are what differs by the number of the change.
	found map[int][]difference
}

// difference is a change of what several read.
type difference struct {
	finding.Cause
	// back takes it back; nil where that is not known.
	back *repo.Edit
}

// sharing looks at the changes once; homes are the folders of all households, of both states.
func (s *Since) sharing(tree fs.FS, touched *touches, show func(string) string, homes ...[]string) *sharing {
	x := &sharing{s: s, tree: tree, show: show, touched: touched, kits: map[string][]int{}, modules: map[string][]int{}, found: map[int][]difference{}}
	lived := map[string]bool{}
	for _, dirs := range homes {
		for _, d := range dirs {
			lived[d] = true
		}
	}
	for i, c := range s.Changes {
		nobodys := false
		for _, p := range ends(c) {
			home := false
			for d := p; d != "."; {
				if path.Base(d) == "cue.mod" {
					x.modules[path.Dir(d)] = appended(x.modules[path.Dir(d)], i)
				}
				d = path.Dir(d)
				home = home || lived[d]
			}
			nobodys = nobodys || !home
			if path.Ext(p) == ".cue" {
				x.kits[path.Dir(p)] = appended(x.kits[path.Dir(p)], i)
			}
		}
		if nobodys {
			x.elsewhere = append(x.elsewhere, i)
		}
	}
	return x
}

// ends are the paths of a change.
func ends(c repo.Change) (out []string) {
	for _, p := range []string{c.Old, c.New} {
		if p != "" && (len(out) == 0 || p != out[0]) {
			out = append(out, p)
		}
	}
	return out
}

func appended(to []int, i int) []int {
	if slices.Contains(to, i) {
		return to
	}
	return append(to, i)
}

// of are the changes that alone can make a difference to the household in folder dir; none where its own folder has changed too.
func (x *sharing) of(dir string) []difference {
	if x.touched.above[dir] || x.touched.paths[dir] {
		return nil
	}
	var changes []int
	wanders := x.touched.wander(dir, dir)
	for d := dir; d != "."; {
		d = path.Dir(d)
		for _, i := range slices.Concat(x.kits[d], x.modules[d]) {
			changes = appended(changes, i)
		}
		wanders = wanders || x.touched.wander(dir, d)
	}
	if wanders {
		for _, i := range x.elsewhere {
			changes = appended(changes, i)
		}
	}
	slices.Sort(changes)
	if len(changes) > mostShared {
		return several(len(changes))
	}
	var all, whole []difference
	for _, i := range changes {
		cs, ok := x.found[i]
		if !ok {
			cs = x.compared(x.s.Changes[i], dir)
			x.found[i] = cs
		}
		all = append(all, cs...)
		switch {
		case len(cs) == 1 && cs[0].Kind == finding.CauseFile:
			whole = append(whole, cs[0])
		case len(cs) > 0:
			file := source.Span{File: cs[0].Place().File}
			whole = append(whole, difference{Cause: finding.Cause{Kind: finding.CauseFile, Was: file, At: file, Count: len(cs)}})
		}
	}
	switch {
	case len(all) <= finding.MostCauses:
		return all
	case len(whole) <= finding.MostCauses:
		return whole
	}
	return several(len(whole))
}

func several(files int) []difference {
	return []difference{{Cause: finding.Cause{Kind: finding.CauseFiles, Count: files}}}
}

// compared tells what a change of a file is, as the household in folder dir may see it.
func (x *sharing) compared(c repo.Change, dir string) []difference {
	whole := []difference{{Cause: finding.Cause{Kind: finding.CauseFile}}}
	was, at := &whole[0].Was, &whole[0].At
	if c.Old != "" {
		was.File = x.show(c.Old)
	}
	if c.New != "" {
		at.File = x.show(c.New)
	}
	if c.Old != c.New || path.Ext(c.New) != ".cue" {
		return whole
	}
	before, okBefore := x.read(x.s.Tree, c.Old, dir)
	now, okNow := x.read(x.tree, c.New, dir)
	if !okBefore || !okNow {
		return whole
	}
	ds, ok := load.Differences(was.File, at.File, before, now)
	if !ok {
		return whole
	}
	out := make([]difference, len(ds))
	for i, d := range ds {
		out[i].Cause = finding.Cause{Kind: kindOf[d.Kind], What: d.What, Before: d.Before, Now: d.Now, Was: d.Was, At: d.At}
		if d.Kind == load.Altered {
			out[i].back = takeBack(c.New, before, now, d)
		}
	}
	return out
}

// takeBack puts a value back as it was; nil where more than this would change.
func takeBack(name string, before, now []byte, d load.Difference) *repo.Edit {
	e := &repo.Edit{Name: name, From: d.At.Start.Offset, To: d.At.End.Offset, Text: before[d.Was.Start.Offset:d.Was.End.Offset]}
	b, err := e.Bytes(now)
	if err != nil {
		return nil
	}
	if ds, ok := load.Differences(name, name, now, b); !ok || len(ds) != 1 || ds[0].Kind != load.Altered || ds[0].What != d.What {
		return nil
	}
	return e
}

var kindOf = map[load.Kind]finding.CauseKind{
	load.Altered: finding.CauseValue, load.Added: finding.CauseNew, load.Gone: finding.CauseGone, load.Renamed: finding.CauseRenamed,
}

// read reads a shared file as a household sees it.
func (x *sharing) read(tree fs.FS, name, dir string) ([]byte, bool) {
	view := load.NewViewer(tree).Of(dir, x.s.given(dir))
	info, err := fs.Stat(view, name)
	if err != nil || !info.Mode().IsRegular() || info.Size() > load.MostCompared {
		return nil, false
	}
	b, err := fs.ReadFile(view, name)
	return b, err == nil
}

// caused names the causes of what is new or fixed. That a household took too much may have other reasons.
func caused(fs []finding.Finding, by []difference) {
	all := causesOf(by)
	for i := range fs {
		if f := &fs[i]; stirred(f) {
			f.Causes = all
		}
	}
}

func stirred(f *finding.Finding) bool {
	return f.State != finding.Unchanged && f.State != "" && !strings.HasSuffix(f.Rule, "/too-much")
}

func causesOf(by []difference) (out []finding.Cause) {
	for _, d := range by {
		d.Sure = len(by) == 1 // nothing else differs
		out = append(out, d.Cause)
	}
	return out
}

// narrow tells apart which of several changes it was: each is taken back by itself, and what then is as it was before is caused by it.
// What is so by none alone keeps all of them.
func (c *checking) narrow(ctx context.Context, o Options, j *job, earlier, states []finding.Finding) error {
	if len(j.causes) < 2 || !slices.ContainsFunc(states, func(f finding.Finding) bool { return stirred(&f) }) ||
		slices.ContainsFunc(j.causes, func(d difference) bool { return d.back == nil }) {
		return nil
	}
	by := make([][]finding.Cause, len(states))
	for _, d := range j.causes {
		a := c.run(ctx, Job{Dir: j.dir, Given: c.given(j.dir), Commit: o.Commit, Edit: d.back})
		fs, err := a.Findings()
		if err != nil || ctx.Err() != nil {
			return err
		}
		if !a.Household.Judged && slices.ContainsFunc(fs, func(f finding.Finding) bool { return strings.HasSuffix(f.Rule, "/too-much") }) {
			return nil
		}
		left := map[stand]int{}
		for _, f := range finding.States(earlier, fs) {
			left[standing(&f)]++
		}
		for i := range states {
			f := &states[i]
			if !stirred(f) {
				continue
			}
			if left[standing(f)]--; left[standing(f)] < 0 {
				d.Sure = true
				by[i] = append(by[i], d.Cause)
			}
		}
	}
	for i := range states {
		if len(by[i]) > 0 {
			states[i].Causes = by[i]
		}
	}
	return nil
}

// stand is a finding with how it stands.
type stand struct {
	finding.Identity
	level  finding.Level
	state  finding.State
	waived bool
}

func standing(f *finding.Finding) stand {
	return stand{finding.Identity{Rule: f.Rule, Spot: f.Spot}, f.Level, f.State, f.Waived != nil}
}
