package lint_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/report"
)

// alertID is what a code-scanning service tells an alert by. Source: GitHub Docs, "SARIF support for code scanning": the category (the
// automation ID up to its last slash), the rule, the file and the fingerprint primaryLocationLineHash.
type alertID struct{ category, rule, file, hash string }

// service is a model of such a service: an upload of a category opens an alert for each of its results, and closes those of the
// category that it does not hold. Suppressions and baseline states are ignored, as that page lists neither among what is read.
type service struct {
	open map[alertID]string // where it is now: file, line, rule and level
	ever map[alertID]bool
}

func (s *service) upload(t *testing.T, file []byte) {
	t.Helper()
	var log struct {
		Runs []struct {
			AutomationDetails struct{ ID string }
			Results           []struct {
				RuleID    string
				Level     string
				Message   struct{ Text string }
				Locations []struct {
					PhysicalLocation struct {
						ArtifactLocation struct{ URI string }
						Region           struct{ StartLine int }
					}
				}
				RelatedLocations    []struct{ ID int }
				PartialFingerprints map[string]string
			}
		}
	}
	if err := json.Unmarshal(file, &log); err != nil || len(log.Runs) != 1 {
		t.Fatalf("%v\n%s", err, file)
	}
	run := log.Runs[0]
	id := run.AutomationDetails.ID
	category := id[:strings.LastIndex(id, "/")]
	if len(run.Results) > 25_000 { // it refuses the file
		t.Fatalf("%d results", len(run.Results))
	}
	now := map[alertID]string{}
	for _, r := range run.Results {
		if len(r.Locations) == 0 || r.Locations[0].PhysicalLocation.Region.StartLine < 1 || r.Locations[0].PhysicalLocation.ArtifactLocation.URI == "" {
			t.Fatalf("no place: %+v", r)
		}
		for _, l := range r.RelatedLocations {
			if !strings.Contains(r.Message.Text, fmt.Sprintf("](%d)", l.ID)) {
				t.Errorf("no link to related location %d: %s", l.ID, r.Message.Text)
			}
		}
		at := r.Locations[0].PhysicalLocation
		a := alertID{category, r.RuleID, at.ArtifactLocation.URI, r.PartialFingerprints["primaryLocationLineHash"]}
		if _, twice := now[a]; twice || a.hash == "" {
			t.Errorf("two results are one alert: %+v", r)
		}
		now[a] = fmt.Sprintf("%s:%d %s %s", at.ArtifactLocation.URI, at.Region.StartLine, r.RuleID, r.Level)
		s.ever[a] = true
	}
	maps.DeleteFunc(s.open, func(a alertID, _ string) bool { return a.category == category })
	maps.Copy(s.open, now)
}

// push is a state of a repository, as it is on a day, judged on so many machines.
type push struct {
	files map[string]string
	on    string
	parts int
	// same says that every alert that was open stays the same one.
	same bool
}

func TestUploadsKeepTheTrueAlerts(t *testing.T) {
	const (
		lid   = "packs: rust: compartments: lid: items: "
		bars  = lid + "bars: {mass: \"500 g\", expires: \"2026-12-20\", food: energy: \"2100 kcal\"}\n"
		anvil = lid + "anvil: mass: \"30 kg\"\n"
		spoil = lid + "anvil: mass: \"30 kgg\"\n"
		waive = "record: waivers: heavy: {rule: \"load/body-mass-cap\", reason: \"a trial\", until: \"2026-11-20\", agreed: \"Ana\"}\n"
	)
	kit := func(more ...string) map[string]string {
		return map[string]string{"a/kit.cue": frame + strings.Join(more, ""), "b/kit.cue": strings.Replace(frame, "Example", "Other", 1)}
	}
	with := func(m map[string]string, more map[string]string) map[string]string {
		m = maps.Clone(m)
		for name, text := range more {
			if m[name] = text; text == "" {
				delete(m, name)
			}
		}
		return m
	}
	moved := strings.Replace(frame, "package kit\n", "package kit\n\n// A line.\n// Another.\n", 1)
	twins := with(kit(), map[string]string{"b/kit.cue": frame})
	histories := map[string][]push{
		"a push":                         {{files: kit(bars, anvil)}},
		"nothing changes":                {{files: kit(anvil)}, {files: kit(anvil), same: true}},
		"a fix":                          {{files: kit(anvil)}, {files: kit()}},
		"a fix and its revert":           {{files: kit(anvil)}, {files: kit()}, {files: kit(anvil)}},
		"lines move":                     {{files: kit()}, {files: with(kit(), map[string]string{"a/kit.cue": moved}), same: true}},
		"an amount changes":              {{files: kit(anvil)}, {files: kit(strings.Replace(anvil, "30", "31", 1)), same: true}},
		"a file has another name":        {{files: kit(anvil)}, {files: with(kit(anvil), map[string]string{"a/kit.cue": "", "a/home.cue": frame + anvil})}},
		"a thing goes into another file": {{files: kit(anvil)}, {files: with(kit(), map[string]string{"a/more.cue": "package kit\n" + anvil})}},
		"a household moves":              {{files: kit(anvil)}, {files: with(kit(anvil), map[string]string{"a/kit.cue": "", "c/kit.cue": frame + anvil})}},
		"a household has another name":   {{files: kit(anvil)}, {files: with(kit(anvil), map[string]string{"a/kit.cue": strings.Replace(frame, "Example", "Third", 1) + anvil})}},
		"a household comes":              {{files: kit()}, {files: with(kit(), map[string]string{"c/kit.cue": strings.Replace(frame, "Example", "Third", 1) + anvil}), same: true}},
		"a household goes":               {{files: kit(anvil)}, {files: with(kit(anvil), map[string]string{"b/kit.cue": ""})}},
		"a household of the same name":   {{files: with(twins, map[string]string{"b/kit.cue": ""})}, {files: twins}},
		"one of two of the same name":    {{files: twins}, {files: with(twins, map[string]string{"a/kit.cue": ""})}},
		"more machines":                  {{files: kit(anvil), parts: 1}, {files: kit(anvil), parts: 3, same: true}, {files: kit(bars), parts: 3}},
		"fewer machines":                 {{files: kit(anvil), parts: 4}, {files: kit(), parts: 2}},
		"history is written anew":        {{files: kit(anvil)}, {files: kit(anvil, bars)}, {files: kit(bars)}},
		"a waiver begins":                {{files: kit(anvil)}, {files: kit(anvil, waive)}},
		"a waiver ends":                  {{files: kit(anvil, waive)}, {files: kit(anvil, waive), on: "2026-11-21"}},
		"a waiver is taken back":         {{files: kit(anvil, waive)}, {files: kit(anvil)}},
		"a date passes":                  {{files: kit(bars)}, {files: kit(bars), on: "2026-12-21"}},
		"a value cannot be read":         {{files: kit(anvil)}, {files: kit(spoil)}, {files: kit(anvil)}},
		"all is gone but one":            {{files: kit(anvil)}, {files: map[string]string{"z/kit.cue": frame}}},
	}
	b := rulebook(t)
	for name, pushes := range histories {
		t.Run(name, func(t *testing.T) {
			s := &service{map[alertID]string{}, map[alertID]bool{}}
			for i, p := range pushes {
				before := maps.Clone(s.open)
				run := checked(t, b, p)
				var file bytes.Buffer
				run.Rules = household.Rules(b)
				if err := report.OpenSARIF(&file, run, report.Options{}); err != nil {
					t.Fatal(err)
				}
				s.upload(t, file.Bytes())
				if diff := cmp.Diff(truth(t, b, p), slices.Sorted(maps.Values(s.open))); diff != "" {
					t.Errorf("push %d (-true, +open):\n%s", i+1, diff)
				}
				for a := range before {
					if _, ok := s.open[a]; p.same && !ok {
						t.Errorf("push %d closes %v", i+1, a)
					}
				}
			}
			if len(s.ever) == 0 {
				t.Error("no alert was ever open")
			}
		})
	}
}

func checked(t *testing.T, b *judge.Rulebook, p push) *finding.Run {
	t.Helper()
	var parts []*finding.Run
	for n := range max(p.parts, 1) {
		o := uploading(t, b, p)
		if p.parts > 1 {
			var err error
			if o.Part, err = lint.ParseShard(fmt.Sprintf("%d/%d", n+1, p.parts)); err != nil {
				t.Fatal(err)
			}
		}
		res := lint.Check(context.Background(), tree(p), o)
		t.Cleanup(res.Close)
		parts = append(parts, &res.Run)
	}
	if p.parts <= 1 {
		return parts[0]
	}
	run, err := finding.Merge(parts)
	if err != nil {
		t.Fatal(err)
	}
	return run
}

// truth is what is open, told from the findings themselves.
func truth(t *testing.T, b *judge.Rulebook, p push) (out []string) {
	t.Helper()
	res := lint.Check(context.Background(), tree(p), uploading(t, b, p))
	defer res.Close()
	for _, f := range found(t, res) {
		if f.Waived == nil {
			out = append(out, fmt.Sprintf("%s:%d %s %s", f.At.File, f.At.Start.Line, f.Rule, f.Level))
		}
	}
	slices.Sort(out)
	return out
}

func tree(p push) fs.FS { return files(p.files) }

func uploading(t *testing.T, b *judge.Rulebook, p push) lint.Options {
	o := lint.Options{Patterns: []string{"..."}, Options: household.Options{On: day(t)}, Rules: b}
	if p.on != "" {
		o.On = dayOf(t, p.on)
	}
	return o
}
