package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"kitmuster/lint"
	"kitmuster/lint/judge"
	"kitmuster/lint/sandbox"
	"kitmuster/lint/words"
)

// judging is what judges households: workers behind a wall, and a memory before it.
type judging struct {
	rules  *standards
	wall   *sandbox.Pool
	store  *caching
	memory *lint.Cache
	run    func(context.Context, lint.Job) lint.Answer
	watch  *progress
	errs   io.Writer
	// alias stands for folders in what others may see; nil for the folders themselves.
	alias func(string) string
}

// judged judges what options say of a tree. The caller calls end once the result and the judging are done with.
func (a *app) judged(ctx context.Context, in *input, b bounds, p *place, s *states, errs io.Writer, tree fs.FS, o lint.Options) (j *judging, res *lint.Result, end func(), err error) {
	if j, err = a.judging(ctx, in, b, p, s, errs); err != nil {
		return nil, nil, nil, err
	}
	res = j.check(ctx, tree, o)
	return j, res, func() {
		res.Close()
		j.close()
	}, nil
}

// byThen has the earlier state judged by the standard as it was, where that has changed since. The caller calls end once all is judged.
func (a *app) byThen(ctx context.Context, in *input, b bounds, p *place, s *states, errs io.Writer, since *lint.Since) (end func(), err error) {
	end = func() {}
	if since == nil {
		return end, nil
	}
	file := in.rules.changed(p.disk, since.Changes)
	if file == "" {
		return end, nil
	}
	is, err := in.rules.rulebook(errs)
	if err != nil {
		return end, err
	}
	mine := *in
	var was *judge.Rulebook
	if mine.rules, err = in.rules.then(p.disk, since.Tree, since.Changes, a.now()); err == nil {
		was, err = mine.rules.rulebook(io.Discard)
	}
	if err != nil { // what is wrong with a standard of yesterday is nobody's fault today
		since.Remarks = append(since.Remarks, "the standard has changed too, and as it was it cannot be used: both states are judged by it as it is now")
		return end, nil
	}
	if mine.rules.salt() == in.rules.salt() {
		return end, nil
	}
	wall := newJudgingWall(&mine, b, p, in.one(p))
	_, run, err := in.store.remember(ctx, &mine, p, s, wall.Judge)
	if err != nil {
		return end, err
	}
	since.Then = &lint.Then{Run: run, Rulings: lint.Rulings(was, is), File: file}
	since.Remarks = append(since.Remarks, "the standard has changed too: each state is judged by its own")
	return wall.Close, nil
}

func (a *app) judging(ctx context.Context, in *input, b bounds, p *place, s *states, errs io.Writer) (*judging, error) {
	if len(in.rules.resolved) > 0 { // its faults are told once, before anyone is judged
		if _, err := in.rules.rulebook(errs); err != nil {
			return nil, err
		}
	}
	j := &judging{rules: in.rules, wall: newJudgingWall(in, b, p, in.one(p)), store: in.store, errs: errs, watch: a.progress(aloud(errs))}
	var err error
	if j.memory, j.run, err = in.store.remember(ctx, in, p, s, j.wall.Judge); err != nil {
		return nil, err
	}
	return j, nil
}

// check is lint.Check with everything about it.
func (j *judging) check(ctx context.Context, tree fs.FS, o lint.Options) *lint.Result {
	o.Run, o.Done = j.run, j.watch.done
	res := lint.Check(ctx, tree, o)
	j.watch.end()
	res.Run.Version, res.Run.Standards = version(), j.rules.name()
	j.alias = o.Alias
	if aloud(j.errs) != j.errs {
		j.brokenForOthers(res.Faults)
		return res
	}
	for _, f := range res.Faults {
		fmt.Fprintln(j.errs, words.Clean(f.String()))
	}
	return res
}

// brokenForOthers names the rules that broke, and where in their standard: why is the engine's text, and may quote a kit.
func (j *judging) brokenForOthers(faults []judge.Problem) {
	b, err := j.rules.rulebook(io.Discard)
	if err != nil { // its own faults have been told before anyone was judged
		return
	}
	lines := map[string]bool{}
	for _, f := range faults {
		name := "a rule"
		for _, r := range b.Rules() {
			if r.File == f.File && r.Line <= f.Line && f.Line <= r.EndLine {
				name = "rule " + r.Name
			}
		}
		lines[words.Clean(fmt.Sprintf("%s: %s broke on some household; why may quote its kit and is held back", j.rules.place(f), name))] = true
	}
	for _, l := range slices.Sorted(maps.Keys(lines)) {
		fmt.Fprintln(aloud(j.errs), l)
	}
}

// differs is an error where the memory has been found wrong.
func (j *judging) differs() error {
	if j.memory == nil {
		return nil
	}
	if j.rules.differ {
		return openly(errors.New("the cache holds other compiled rules than compiling gives; delete it, and please report this"))
	}
	bad := j.memory.Differs()
	if j.alias != nil {
		for i, path := range bad {
			bad[i] = j.alias(path)
		}
		slices.Sort(bad)
	}
	if len(bad) > 0 {
		return openly(fmt.Errorf("the cache holds other answers than judging gives for %s; delete it, and please report this", strings.Join(bad, ", ")))
	}
	return nil
}

func (j *judging) close() {
	j.wall.Close()
	j.store.close(j.errs)
}
