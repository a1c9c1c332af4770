package lint_test

import (
	"bytes"
	"context"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/report"
)

// reported writes a check of a tree and reads it back.
func reported(t *testing.T, tree fstest.MapFS) *finding.Run {
	t.Helper()
	res := lint.Check(context.Background(), tree, lint.Options{Patterns: []string{"..."}, Rules: rulebook(t), Options: household.Options{On: day(t)}})
	defer res.Close()
	var b bytes.Buffer
	if err := report.JSON(&b, &res.Run, report.Options{}); err != nil {
		t.Fatal(err)
	}
	run, err := report.ReadJSON(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	return run
}

// heldAgainst checks a tree against an earlier check.
func heldAgainst(t *testing.T, tree fstest.MapFS, earlier *finding.Run) *lint.Result {
	t.Helper()
	e, err := lint.EarlierOf("kits.json", earlier)
	if err != nil {
		t.Fatal(err)
	}
	res := lint.Check(context.Background(), tree, lint.Options{Patterns: []string{"..."}, Rules: rulebook(t), Options: household.Options{On: day(t)}, Earlier: e})
	t.Cleanup(res.Close)
	return res
}

// Against a report the same is new and fixed as against the tree that it was written of.
func TestAgainstAReportIsAgainstItsTree(t *testing.T) {
	b := rulebook(t)
	named := func(name, more string) *fstest.MapFile {
		return &fstest.MapFile{Data: []byte(strings.Replace(frame, "Example", name, 1) + more)}
	}
	const anvil = "packs: rust: compartments: lid: items: anvil: {name: \"anvil\", mass: \"40 kg\", weighed: \"2026-10-01\"}\n"
	broken := &fstest.MapFile{Data: []byte("package kit\n\nhousehold: 3\n")}
	before := fstest.MapFS{
		"ash/kit.cue": named("Ash", ""), "birch/kit.cue": named("Birch", anvil), "cedar/kit.cue": named("Cedar", ""), "dogwood/kit.cue": named("Dogwood", ""),
		"elm/kit.cue": broken, "fir/kit.cue": named("Fir", ""), "hazel/kit.cue": named("Hazel", "record: waivers: heavy: {rule: \"load/body-mass-cap\", reason: \"x\", until: \"2026-12-01\"}\n"+anvil),
	}
	now := maps.Clone(before)
	now["ash/kit.cue"] = named("Ash", anvil)
	now["birch/kit.cue"] = named("Birch", "")
	delete(now, "cedar/kit.cue")
	now["moved/cypress/kit.cue"] = named("Cedar", anvil)
	delete(now, "dogwood/kit.cue")
	now["elm/kit.cue"] = named("Elm", "")
	now["fir/kit.cue"] = broken
	now["gorse/kit.cue"] = named("Gorse", "")
	now["hazel/kit.cue"] = named("Hazel", anvil)

	say := func(res *lint.Result) (out []string) {
		for _, f := range found(t, res) {
			out = append(out, strings.Join([]string{f.Path, f.Rule, f.Spot, string(f.Level), string(f.State)}, " "))
		}
		return out
	}
	trees, _ := since(t, b, before, now, changed(before, now), true)
	res := heldAgainst(t, now, reported(t, before))
	if diff := cmp.Diff(say(trees), say(res)); diff != "" || len(say(res)) < 20 {
		t.Errorf("(-tree +report):\n%s", diff)
	}
	if diff := cmp.Diff(trees.Run.Summary, res.Run.Summary); diff != "" {
		t.Errorf("(-tree +report):\n%s", diff)
	}
	remarks := slices.Clone(trees.Run.Remarks)
	i := slices.Index(remarks, "the household at dogwood is gone")
	if i < 0 {
		t.Fatal(remarks)
	}
	remarks[i] = "the household at dogwood is in the report and is not checked here"
	slices.Sort(remarks)
	if diff := cmp.Diff(remarks, res.Run.Remarks); diff != "" {
		t.Errorf("(-tree +report):\n%s", diff)
	}
	if res.Run.Since != "kits.json, as of 2026-11-01" || res.Unfit != trees.Unfit {
		t.Errorf("%q, %v", res.Run.Since, res.Unfit)
	}

	// What a report of such a comparison holds serves as a report again: nothing is new.
	again := heldAgainst(t, now, reported(t, now))
	if s := again.Run.Summary; s.New+s.Mended > 0 || s.Unchanged == 0 || len(again.Run.Remarks) > 0 {
		t.Errorf("%+v %q", s, again.Run.Remarks)
	}
}

// A report that does not hold all that there was is refused, with what to do.
func TestReportsThatAreRefused(t *testing.T) {
	for _, c := range []struct {
		change func(r *finding.Run)
		want   string
	}{
		{func(r *finding.Run) { r.Part = "3/8" }, "kits.json is part 3/8 of a check; join all parts with kitmuster merge first"},
		{func(r *finding.Run) { r.Partial = "interrupted" }, "kits.json is not whole: interrupted; compare with one that is"},
		{func(r *finding.Run) { r.Least = finding.Warning }, "kits.json holds findings from the level warning on, so that what is milder would count as new; write one with --show note"},
		{func(r *finding.Run) { r.Since, r.Untouched = "main", 3 }, "kits.json leaves out 3 households that no change touched; write one without --since, or with --untouched"},
		{func(r *finding.Run) { r.Shared = "key-x" }, "kits.json has pseudonyms and no spots, so that nothing of it can be found again; compare with a report that is not share-safe, kept where only your group reads it"},
	} {
		r := &finding.Run{On: "2026-11-01", Findings: finding.List()}
		if _, err := lint.EarlierOf("kits.json", r); err != nil {
			t.Fatal(err)
		}
		c.change(r)
		if _, err := lint.EarlierOf("kits.json", r); err == nil || err.Error() != c.want {
			t.Errorf("%v", err)
		}
	}
}
