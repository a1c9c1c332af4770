package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"kitmuster/lint"
	"kitmuster/lint/audit"
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

// looked is how many versions are looked through for each audit that is asked for: some may be as of one day. Our own figure.
const looked = 4

// added is an audit with its history, from the audits in git or else from what was committed; mask makes it one for others.
func (p *past) added(ctx context.Context, au *audit.Audit, mask *private.Mask, o lint.Options) (*audit.Audit, error) {
	if err := p.audits(ctx, mask, au.Run.Households); err != nil {
		return nil, err
	}
	if err := p.commits(ctx, o); err != nil {
		return nil, err
	}
	au.History, au.Past = p.history, p.from
	if mask != nil {
		au = mask.Audit(au, p.masked)
	}
	return au, nil
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
	type audit struct {
		on, id string
		trends []finding.Trend
	}
	var audits []audit
	leave := func(id string, why any) {
		found.Remarks = append(found.Remarks, fmt.Sprintf("the audit in commit %.12s is left out: %v", id, why))
	}
	for v, err := range repo.Versions(ctx, file, looked*p.n) {
		if ctx.Err() != nil {
			return errors.New("interrupted while earlier audits were read, so nothing is written")
		}
		if err != nil {
			found.Remarks = append(found.Remarks, fmt.Sprintf("earlier audits could not be read: %v", err))
			break
		}
		on, shared, trends, err := report.ReadAudit(v.Bytes)
		switch {
		case err != nil:
			leave(v.ID, err)
		case shared != key:
			leave(v.ID, "it has other names than this one")
		case on > p.place.on.String():
			leave(v.ID, "it is as of a later day, "+on)
		case on == p.place.on.String(): // one that is done anew does not come before itself
		case !slices.ContainsFunc(audits, func(a audit) bool { return a.on == on }): // of several as of one day, the last
			audits = append(audits, audit{on, v.ID, trends})
		}
	}
	if len(audits) == 0 && len(found.Remarks) == 0 {
		return nil
	}
	slices.SortFunc(audits, func(a, b audit) int { return strings.Compare(b.on, a.on) })
	if len(audits) < p.n {
		_, remarks, err := repo.Log(ctx, p.n, file)
		if err != nil {
			return fmt.Errorf("--history: %w", err)
		}
		found.Remarks = append(found.Remarks, remarks...)
	}
	for _, a := range audits[:min(p.n, len(audits))] {
		there, names := map[string]bool{}, map[string]int{}
		for _, t := range a.trends {
			there[t.Path] = true
			names[t.Name]++
		}
		for _, t := range a.trends { // by its folder, else, where it has moved, by its name
			c := courses[t.Path]
			if to := now[t.Name]; c == nil && names[t.Name] == 1 && to != "" && !there[to] {
				c = courses[to]
			}
			if c != nil {
				t.Commit = a.id
				c.Points = append(c.Points, t)
			}
		}
	}
	for _, h := range hs {
		found.Households = append(found.Households, *courses[h.Path])
	}
	p.history, p.from, p.masked = found, "audits", mask != nil
	return nil
}

// commits judges what was committed, where no audits are there to be read.
func (p *past) commits(ctx context.Context, o lint.Options) error {
	if p.n == 0 || p.history != nil {
		return nil
	}
	if ctx.Err() != nil {
		return errors.New("interrupted before the history was judged, so nothing is written")
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
