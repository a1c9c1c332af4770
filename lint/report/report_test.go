package report

import (
	"bytes"
	"encoding/json"
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
		Rule: "load/body-mass-cap", Level: finding.Error, Message: "too heavy\x1b[2J", Household: "Alder", Path: "alder", Spot: "people/ana/load", At: at(8, 9, 18),
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
	want := `alder/kit.cue:8:9: error: too heavy\u001b[2J [load/body-mass-cap]
    stove: 400 g (alder/kit.cue:9:1)
    and 3 more
    limit load.adult_cap = 15 % (base): common practice, no source
    remedy: Lighten it.
    caution: Ask a practitioner.
alder/kit.cue:10:1: waived warning: one means [fire/two-means]
    waived until 2026-12-01: ordered (alder/kit.cue:20:1)
2 households checked as of 2026-11-01: 1 error, 0 warnings, 0 notes, 1 waived. 1 household not wholly judged; once the input is mended, more may show.
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
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
		"remedy": "Lighten it.", "caution": "Ask a practitioner.", "waived": false,
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
	if _, err := Named("xml"); err == nil || !strings.Contains(err.Error(), "text, json") {
		t.Error(err)
	}
}
