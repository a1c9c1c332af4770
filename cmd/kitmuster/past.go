package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/private"
	"kitmuster/lint/report"
)

// past finds out how households stood before.
type past struct {
	j      *judging
	states *states
	place  *place
	n      int
	dir    string // of the audit

	history *finding.History
	from    string
	// masked says that the history has pseudonyms already.
	masked bool
}

// audits takes it from the audits that git has of the folder of this one. Those for others are read for others only, by one key.
func (p *past) audits(ctx context.Context, mask *private.Mask, hs []finding.Household) error {
	if p.n == 0 {
		return nil
	}
	repo, err := p.states.repository(ctx)
	if err != nil {
		return fmt.Errorf("--history: %w", err)
	}
	file, err := p.place.disk.Path(filepath.Join(p.dir, "audit.json"))
	if err != nil || !repo.Holds(file) {
		return nil // an audit that lies outside of the repository has no history there
	}
	key := ""
	if mask != nil {
		key = mask.Key()
		hs = slices.Clone(hs)
		for i := range hs {
			hs[i] = mask.Household(hs[i])
		}
	}
	found := &finding.History{}
	courses := map[string]*finding.Course{} // by the folder of now
	now := map[string]string{}              // folders by names that one household has
	for _, h := range hs {
		courses[h.Path] = &finding.Course{Path: h.Path}
		if _, twice := now[h.Name]; twice {
			now[h.Name] = ""
		} else {
			now[h.Name] = h.Path
		}
	}
	seen := map[string]bool{}
	for v, err := range repo.Versions(ctx, file, p.n+1) {
		if err != nil {
			return fmt.Errorf("--history: %w", err)
		}
		on, shared, trends, err := report.ReadAudit(v.Bytes)
		switch {
		case err != nil:
			found.Remarks = append(found.Remarks, fmt.Sprintf("the audit in commit %.12s is left out: %v", v.ID, err))
			continue
		case shared != key:
			found.Remarks = append(found.Remarks, fmt.Sprintf("the audit in commit %.12s is left out: it has other names than this one", v.ID))
			continue
		case on >= p.place.on.String() || seen[on] || len(seen) == p.n: // one that is done anew does not come before itself
			continue
		}
		seen[on] = true
		there, names := map[string]bool{}, map[string]int{}
		for _, t := range trends {
			there[t.Path] = true
			names[t.Name]++
		}
		for _, t := range trends { // by its folder, else, where it has moved, by its name
			c := courses[t.Path]
			if to := now[t.Name]; c == nil && names[t.Name] == 1 && to != "" && !there[to] {
				c = courses[to]
			}
			if c != nil {
				t.Commit = v.ID
				c.Points = append(c.Points, t)
			}
		}
	}
	if len(seen) == 0 && len(found.Remarks) == 0 {
		return nil
	}
	for _, h := range hs {
		found.Households = append(found.Households, *courses[h.Path])
	}
	p.history, p.from, p.masked = found, "audits", mask != nil
	return nil
}

// commits judges what was committed, where no audits are there to be read.
func (p *past) commits(ctx context.Context, o lint.Options) error {
	if p.n == 0 || p.history != nil || ctx.Err() != nil {
		return nil
	}
	repo, err := p.states.repository(ctx)
	if err != nil {
		return fmt.Errorf("--history: %w", err)
	}
	for _, f := range p.states.folders {
		if !repo.Holds(f) {
			return fmt.Errorf("--history: %s is not in the git repository of this folder; change to its folder first", p.place.disk.Show(f))
		}
	}
	all, remarks, err := repo.Log(ctx, p.n, lint.Reach(p.place.disk.FS, p.place.patterns)...)
	if err != nil {
		return fmt.Errorf("--history: %w", err)
	}
	before := lint.Past{Tree: p.states.tree, Changed: repo.Changed}
	for _, c := range all {
		if c.Day <= o.On.String() {
			before.Commits = append(before.Commits, c)
		}
	}
	o.Run, o.Done = p.j.run, p.j.watch.done
	p.history, p.from = lint.History(ctx, p.place.disk.FS, o, before), "commits"
	p.j.watch.end()
	p.history.Remarks = append(remarks, p.history.Remarks...)
	return nil
}
