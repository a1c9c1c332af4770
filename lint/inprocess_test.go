package lint_test

import (
	"context"
	"io/fs"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
)

// Without a Run, households are judged in this process: with the same answer, also against an earlier state and by other rules.
func TestCheckInProcess(t *testing.T) {
	const bars = "packs: rust: compartments: lid: items: bars: {mass: \"500 g\", expires: \"2026-08-31\", food: energy: \"2100 kcal\"}\n"
	before := files(map[string]string{"a/kit.cue": frame, "b/kit.cue": frame})
	now := files(map[string]string{"a/kit.cue": frame + bars, "b/kit.cue": frame})
	b := rulebook(t)
	o := lint.Options{Patterns: []string{"..."}, Options: household.Options{On: day(t)}, Workers: 2}
	since := func() *lint.Since {
		return &lint.Since{Name: "before", Commit: "before", Tree: before, Changes: changed(before, now), All: true}
	}
	tell := func(o lint.Options) (all []finding.Finding, run finding.Summary) {
		o.Since = since()
		res := lint.Check(context.Background(), now, o)
		defer res.Close()
		return found(t, res), res.Run.Summary
	}
	by := o
	by.Run = func(ctx context.Context, j lint.Job) lint.Answer {
		tree := now
		if j.Commit == "before" {
			tree = before
		}
		return lint.Pack(household.Judge(ctx, tree, b, j.Dir, o.Options))
	}
	want, sum := tell(by)
	if sum.New == 0 || sum.Unchanged == 0 {
		t.Fatalf("nothing to tell apart: %+v", sum)
	}
	for what, rules := range map[string]lint.Options{"the base standard": o, "given rules": func() lint.Options { o := o; o.Rules = b; return o }()} {
		got, s := tell(rules)
		if diff := cmp.Diff(want, got) + cmp.Diff(sum, s); diff != "" {
			t.Errorf("%s: %s", what, diff)
		}
	}
}

// faulty is a tree whose files of one folder make whoever opens them panic, once it is broken.
type faulty struct {
	fs.FS
	dir    string
	broken atomic.Bool
}

func (f *faulty) Open(name string) (fs.File, error) {
	if f.broken.Load() && strings.HasPrefix(name, f.dir+"/") {
		panic("no such luck")
	}
	return f.FS.Open(name)
}

// A household that makes the evaluator panic is named as not judged, and the others go on.
func TestPanicInProcess(t *testing.T) {
	tree := &faulty{FS: files(map[string]string{"a/kit.cue": frame, "b/kit.cue": frame, "c/kit.cue": frame}), dir: "b"}
	res := lint.Check(context.Background(), tree, lint.Options{Patterns: []string{"..."}, Options: household.Options{On: day(t)}, Done: func(int, int) { tree.broken.Store(true) }})
	defer res.Close()
	judged := ""
	for _, h := range res.Run.Households {
		if h.Judged {
			judged += h.Path
		}
	}
	var said []string
	for _, f := range found(t, res) {
		if f.Path == "b" {
			said = append(said, f.Rule+": "+f.Message)
		}
	}
	if judged != "ac" || !res.Unfit || len(said) != 1 || said[0] != "input/too-much: this household could not be judged: the evaluator gave up: no such luck" {
		t.Errorf("judged %s, unfit %v, %q", judged, res.Unfit, said)
	}
}
