package lint

import (
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
// in the household's own folder has changed, both states are judged by one standard, as of one day, so that what differs comes from
// the shared files that it reads. Of these the fields are compared as they are written, without evaluating any; which of several
// it was is not told apart.

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
	// found are the causes by the number of the change.
	found map[int][]finding.Cause
}

// sharing looks at the changes once; homes are the folders of all households, of both states.
func (s *Since) sharing(tree fs.FS, touched *touches, show func(string) string, homes ...[]string) *sharing {
	x := &sharing{s: s, tree: tree, show: show, touched: touched, kits: map[string][]int{}, modules: map[string][]int{}, found: map[int][]finding.Cause{}}
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
func (x *sharing) of(dir string) []finding.Cause {
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
		return []finding.Cause{{Kind: finding.CauseFiles, Count: len(changes)}}
	}
	var all, whole []finding.Cause
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
			whole = append(whole, finding.Cause{Kind: finding.CauseFile, Was: fileOf(cs[0].Place()), At: fileOf(cs[0].Place()), Count: len(cs)})
		}
	}
	switch {
	case len(all) <= finding.MostCauses:
		return all
	case len(whole) <= finding.MostCauses:
		return whole
	}
	return []finding.Cause{{Kind: finding.CauseFiles, Count: len(whole)}}
}

func fileOf(at source.Span) source.Span { return source.Span{File: at.File} }

// compared tells what a change of a file is, as the household in folder dir may see it.
func (x *sharing) compared(c repo.Change, dir string) []finding.Cause {
	whole := finding.Cause{Kind: finding.CauseFile}
	if c.Old != "" {
		whole.Was.File = x.show(c.Old)
	}
	if c.New != "" {
		whole.At.File = x.show(c.New)
	}
	if c.Old != c.New || path.Ext(c.New) != ".cue" {
		return []finding.Cause{whole}
	}
	before, okBefore := x.read(x.s.Tree, c.Old, dir)
	now, okNow := x.read(x.tree, c.New, dir)
	if !okBefore || !okNow {
		return []finding.Cause{whole}
	}
	ds, ok := load.Differences(whole.Was.File, whole.At.File, before, now)
	if !ok {
		return []finding.Cause{whole}
	}
	out := make([]finding.Cause, len(ds))
	for i, d := range ds {
		out[i] = finding.Cause{Kind: kindOf[d.Kind], What: d.What, Before: d.Before, Now: d.Now, Was: d.Was, At: d.At}
	}
	return out
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

// caused names the cause of what is new or fixed. That a household took too much may have other reasons.
func caused(fs []finding.Finding, by []finding.Cause) {
	for i := range fs {
		f := &fs[i]
		if f.State != finding.Unchanged && f.State != "" && !strings.HasSuffix(f.Rule, "/too-much") {
			f.Causes = by
		}
	}
}
