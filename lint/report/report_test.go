package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
	"kitmuster/lint/source"
)

func at(line, col, endCol int) source.Span {
	return source.Span{File: "alder/kit.cue", Start: source.Point{Line: line, Col: col}, End: source.Point{Line: line, Col: endCol}}
}

var run = func() finding.Run {
	r := finding.Run{Version: "v0", On: "2026-11-01"}
	r.Count([]finding.Household{{Name: "Alder", Path: "alder", Judged: true}, {Path: "birch"}}, checked...)
	return r
}()

var checked = []finding.Finding{
	{
		Rule: "load/body-mass-cap", Level: finding.Error, Title: "No load above the cap", Message: "too heavy\x1b[2J", Household: "Alder", Path: "alder", Spot: "people/ana/load", At: at(8, 9, 18),
		Because: []finding.Because{{Message: "stove: 400 g", At: at(9, 1, 2)}, {Message: "and 3 more"}},
		Limits:  []finding.Limit{{Name: "load.adult_cap", Value: "15 %", Source: "common practice, no source", Layer: "base"}},
		Remedy:  "Lighten it.", Caution: "Ask a practitioner.",
	},
	{
		Rule: "fire/two-means", Level: finding.Warning, Message: "one means", Household: "Alder", Path: "alder", Spot: "packs/rust", At: at(10, 1, 5), Remedy: "Add one.",
		Waived: &finding.Waiver{Reason: "ordered", Until: "2026-12-01", At: at(20, 1, 4)},
	},
}

func TestText(t *testing.T) {
	var b bytes.Buffer
	if err := Text(&b, &run, Options{}); err != nil {
		t.Fatal(err)
	}
	want := `Alder, alder: not ready (1 error, 1 waived)

error, not met: No load above the cap
  alder/kit.cue:8:9 [load/body-mass-cap]
    too heavy\u001b[2J
    - stove: 400 g (alder/kit.cue:9:1)
    - and 3 more
  Fix: Lighten it.
  Caution: Ask a practitioner.

waived warning: fire/two-means
  alder/kit.cue:10:1 [fire/two-means]
    one means
    waived until 2026-12-01: ordered (alder/kit.cue:20:1)

Next: correct the input, then check again. kitmuster rules NAME explains a rule
and where its limits come from.
2 households checked as of 2026-11-01: 1 error, 0 warnings, 0 notes, 1 waived. 1 household only partly checked; once the input is corrected, more may show.
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Error(diff)
	}
}

// With --long a finding says all: each limit with its source, and the spot that a waiver names.
func TestLongText(t *testing.T) {
	var b bytes.Buffer
	if err := Text(&b, &run, Options{Long: true}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"\n  alder/kit.cue:8:9 [load/body-mass-cap] spot people/ana/load\n", "\n  Limit: load.adult_cap = 15 % (base): common practice, no source\n",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%q is not in\n%s", want, b.String())
		}
	}
}

// More limits of the base than a few are one line, and what a household has set stands by itself.
func TestManyLimitsAreOneLine(t *testing.T) {
	f := finding.Finding{Rule: "x/y", Level: finding.Note, Household: "Alder", Path: "alder", At: at(1, 1, 2), Message: "one"}
	for i := range mostLimits {
		f.Limits = append(f.Limits, finding.Limit{Name: fmt.Sprintf("x.l%d", i), Value: "1 kg", Layer: "base", Source: "a source"})
	}
	f.Limits = append(f.Limits, finding.Limit{Name: "x.own", Value: "2 kg", Layer: "household", Source: "a reason", At: at(3, 1, 2)})
	long := func() string {
		var b bytes.Buffer
		r := made(func(r *finding.Run) { r.Households = []finding.Household{{Name: "Alder", Path: "alder", Judged: true}} }, f)
		if err := Text(&b, r, Options{Long: true}); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	if got := long(); strings.Count(got, ": a source\n") != mostLimits || !strings.Contains(got, "  Limit: x.own = 2 kg (household): a reason (alder/kit.cue:3:1)\n") || strings.Contains(got, "Limits:") {
		t.Error(got)
	}
	f.Limits = append(f.Limits, finding.Limit{Name: "x.more", Value: "3 kg", Layer: "base", Source: "a source"})
	if got := long(); strings.Contains(got, "a source") || strings.Count(got, "  Limit: ") != 1 || !strings.Contains(got, "  Limits: x.l0 = 1 kg; x.l1 = 1 kg;") || !strings.Contains(got, "kitmuster rules x/y") {
		t.Error(got)
	}
}

// What is not recorded comes after errors and before all else, which may rest on it, whatever its level.
func TestUnrecordedComesEarly(t *testing.T) {
	of := func(rule string, level finding.Level, title string) finding.Finding {
		return finding.Finding{Rule: rule, Level: level, Title: title, Household: "Alder", Path: "alder", At: at(1, 1, 2), Message: title}
	}
	got := written(t, Text, made(func(r *finding.Run) {}, of("a/c", finding.Warning, "Water"), of(unrecorded, finding.Note, "Recorded"), of("a/b", finding.Error, "Fire"), of("input/kit", finding.Error, "Input")))
	at := -1
	for _, head := range []string{"error, not met: Input", "error, not met: Fire", "note, not met: Recorded", "warning, not met: Water"} {
		i := strings.Index(got, "\n"+head)
		if i < at {
			t.Errorf("%s is too early in\n%s", head, got)
		}
		at = max(i, at)
	}
	b, err := os.ReadFile("../../policies/rules/base/data.rego")
	if err != nil || !strings.Contains(string(b), "finding.not_recorded contains") {
		t.Errorf("there is no rule %s: %v", unrecorded, err)
	}
}

// Many reasons are cut, and long texts wrapped at words, by the columns that they take on a terminal.
func TestTextIsWrapped(t *testing.T) {
	f := finding.Finding{Rule: "x/y", Level: finding.Note, Household: "Alder", Path: "alder", At: at(1, 1, 2), Message: strings.Repeat("three ", 40) + strings.Repeat("水", 30) + " " + strings.Repeat("x", 90)}
	for range 6 {
		f.Because = append(f.Because, finding.Because{Message: "a reason"})
	}
	got := written(t, Text, made(func(r *finding.Run) { r.Households = []finding.Household{{Name: "Alder", Path: "alder", Judged: true}} }, f))
	for l := range strings.Lines(got) {
		if n := across(strings.TrimSuffix(l, "\n")); n > textWidth && !strings.Contains(l, "xxx") && !strings.Contains(l, "checked") {
			t.Errorf("%d columns: %s", n, l)
		}
	}
	if strings.Count(got, "- a reason") != mostReasons || !strings.Contains(got, "- and 3 more (--long shows all)") {
		t.Error(got)
	}
	if across("\x1b[31merror\x1b[0m 水") != 8 {
		t.Error("paint takes columns, or a wide character one")
	}
}

// The form for editors has one line for each finding.
func TestLines(t *testing.T) {
	want := `alder/kit.cue:8:9: error: too heavy\u001b[2J [load/body-mass-cap]
alder/kit.cue:10:1: waived warning: one means [fire/two-means]
2 households checked as of 2026-11-01: 1 error, 0 warnings, 0 notes, 1 waived. 1 household only partly checked; once the input is corrected, more may show.
`
	if diff := cmp.Diff(want, written(t, Lines, &run)); diff != "" {
		t.Error(diff)
	}
}

func TestOnlyTheGraverAreShown(t *testing.T) {
	least := finding.Run{Version: "v0", On: "2026-11-01", Least: finding.Error}
	least.Count(run.Households, checked...)
	var text, js bytes.Buffer
	if err := Text(&text, &least, Options{}); err != nil {
		t.Fatal(err)
	}
	if err := JSON(&js, &least, Options{}); err != nil {
		t.Fatal(err)
	}
	if s := text.String(); strings.Contains(s, "fire/two-means") || !strings.Contains(s, "1 waived. 1 finding not shown.") {
		t.Error(s)
	}
	if s := js.String(); strings.Contains(s, "fire/two-means") || !strings.Contains(s, `"waived": 1`) {
		t.Error(s)
	}
}

func TestColourOnlyWhereAsked(t *testing.T) {
	var b bytes.Buffer
	if err := Text(&b, &run, Options{Colour: true}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "\x1b[31merror\x1b[0m") {
		t.Errorf("no colour in %q", b.String())
	}
}

func TestJSON(t *testing.T) {
	var b bytes.Buffer
	if err := JSON(&b, &run, Options{}); err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	f := got["findings"].([]any)[0].(map[string]any)
	want := map[string]any{
		"rule": "load/body-mass-cap", "level": "error", "message": "too heavy\x1b[2J", "household": "Alder", "path": "alder", "spot": "people/ana/load",
		"at": map[string]any{"file": "alder/kit.cue", "line": 8.0, "column": 9.0, "endLine": 8.0, "endColumn": 18.0},
		"because": []any{
			map[string]any{"message": "stove: 400 g", "at": map[string]any{"file": "alder/kit.cue", "line": 9.0, "column": 1.0, "endLine": 9.0, "endColumn": 2.0}},
			map[string]any{"message": "and 3 more"},
		},
		"limits": []any{map[string]any{"name": "load.adult_cap", "value": "15 %", "source": "common practice, no source", "layer": "base"}},
		"title":  "No load above the cap", "remedy": "Lighten it.", "caution": "Ask a practitioner.", "waived": false,
	}
	if diff := cmp.Diff(want, f); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]any{map[string]any{"name": "Alder", "path": "alder", "judged": true}, map[string]any{"name": "", "path": "birch", "judged": false}}, got["households"]); diff != "" {
		t.Error(diff)
	}
}

func TestNamed(t *testing.T) {
	if f, err := Named("json"); err != nil || f.Name != "json" {
		t.Error(f.Name, err)
	}
	if _, err := Named("xml"); err == nil || !strings.Contains(err.Error(), "text, lines, json") {
		t.Error(err)
	}
}
