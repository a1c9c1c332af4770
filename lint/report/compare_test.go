package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/compare"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

func comparison() *compare.Comparison {
	run := &finding.Run{Version: "v0", On: "2026-11-01", Since: "main (0123456789ab)", Remarks: []string{"the household at cedar is gone"}, Untouched: 7}
	run.Count([]finding.Household{{Name: "Alder", Path: "alder", Judged: true}, {Name: "Birch", Path: "beech", Judged: true}, {Path: "fir"}},
		finding.Finding{Rule: "load/body-mass-cap", Level: finding.Error, Message: "too <b>heavy</b> [x](http://a.example) www.b.example", Path: "alder", At: at(8, 9, 18), State: finding.New},
		finding.Finding{Rule: "fire/two-means", Level: finding.Warning, Message: "one means", Path: "alder", At: at(10, 1, 5), State: finding.Mended},
		finding.Finding{Rule: "water/days", Level: finding.Note, Message: "as before", Path: "alder", At: at(11, 1, 5), State: finding.Unchanged},
		finding.Finding{Rule: "water/days", Level: finding.Note, Message: "waived", Path: "alder", At: at(11, 1, 5), State: finding.New, Waived: &finding.Waiver{}},
		finding.Finding{Rule: "input/value", Level: finding.Error, Message: "no mass", Path: "fir", At: at(1, 1, 2), State: finding.New},
	)
	figure := func(group, id string, unit kinds.Figure, v int64) *compare.Figure {
		return &compare.Figure{Group: group, ID: group + "/" + id, Label: id + "|", Unit: unit, Value: v}
	}
	return &compare.Comparison{Run: run, Households: []compare.Compared{
		{Household: run.Households[0], Was: "alder", Changes: []compare.Change{
			{Before: figure("mass", "all packs", "mg", 9_000_000), Now: figure("mass", "all packs", "mg", 9_350_000)},
			{Before: figure("mass", "share", "permille", 150), Now: figure("mass", "share", "permille", 143)},
			{Before: figure("capabilities", "light", "", 1)}, {Now: figure("capabilities", "signal", "", 1)},
			{Before: figure("food", "energy", "J", 8_368_000), Now: figure("food", "energy", "J", 4_184_000)},
			{Before: figure("water", "carried", "ml", 2000), Now: figure("water", "carried", "ml", 3500)},
			{Before: figure("endurance", "light lasts", "hours", 72), Now: figure("endurance", "light lasts", "hours", 60)},
			{Before: figure("medication", "tablet", "millidays", 1000), Now: figure("medication", "tablet", "millidays", 7500)},
			{Before: figure("dates", "bar", "day", 20_000), Now: figure("dates", "bar", "day", 20_001)},
			{Before: figure("dates", "gone", "day", 20_000)},
		}},
		{Household: run.Households[1], Was: "birch"},
		{Household: run.Households[2]},
	}}
}

func TestCompareText(t *testing.T) {
	var b bytes.Buffer
	if err := CompareText(&b, comparison(), Options{}); err != nil {
		t.Fatal(err)
	}
	want := `Alder (alder)
  mass
    all packs|: 9.00 kg → 9.35 kg (+350 g)
    share|: 15.0 % → 14.3 % (-0.7 points)
  capabilities
    light|: gone
    signal|: new
  food
    energy|: 2000 kcal → 1000 kcal (-1000 kcal)
  water
    carried|: 2 L → 3.5 L (+1.5 L)
  endurance
    light lasts|: 72 h → 60 h (-12 h)
  medication
    tablet|: 1 day → 7.5 days (+6.5 days)
  dates
    bar|: 2024-10-04 → 2024-10-05 (+1 day)
    gone|: gone: was 2024-10-04
  findings: 1 new, 1 fixed, 1 unchanged
    new error: too <b>heavy</b> [x](http://a.example) www.b.example [load/body-mass-cap] (alder/kit.cue:8:9)
    fixed warning: one means [fire/two-means] (alder/kit.cue:10:1)

Birch (beech), was at birch
  no figure differs
  findings: 0 new, 0 fixed, 0 unchanged

not readable (fir), new
  no figure differs
  findings: 1 new, 0 fixed, 0 unchanged
    new error: no mass [input/value] (alder/kit.cue:1:1)

the household at cedar is gone
3 households checked as of 2026-11-01: 2 errors, 0 warnings, 1 note, 1 waived. Since main (0123456789ab): 2 new, 1 fixed, 1 unchanged. 7 households, touched by no change, not judged. 1 household only partly checked; once the input is corrected, more may show.
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Error(diff)
	}
}

// Nothing that a family or a branch is called becomes a link, an image, a cell or HTML.
func TestCompareMarkdown(t *testing.T) {
	var b bytes.Buffer
	if err := CompareMarkdown(&b, comparison(), Options{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"## Evacuation kits: 2 new, 1 fixed, 1 unchanged\n", "\n### Alder (alder)\n", "\n| | what | change |\n|---|---|---|\n| mass | all packs\\| | 9.00 kg → 9.35 kg (+350 g) |\n|  | share\\| |",
		"\n- **new error** too &lt;b&gt;heavy&lt;/b&gt; \\[x\\](http\\://a.example) www\\.b.example (load/body-mass-cap, alder/kit.cue\\:8\\:9)\n",
		"\n### Birch (beech), was at birch\n\nNo figure differs.\n", "it does not certify",
	} {
		want = strings.ReplaceAll(want, "&gt;", "\\>")
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}

func TestCompareJSON(t *testing.T) {
	var b bytes.Buffer
	if err := CompareJSON(&b, comparison(), Options{}); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Households []struct {
			Path, Was string
			Changes   []struct {
				ID, Unit, Text string
				Before, Now    *int64
			}
			Findings []struct{ State string }
		}
		Untouched, New, Mended, Unchanged int
	}
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	h := got.Households[0]
	if c := h.Changes[2]; c.ID != "capabilities/light" || c.Before == nil || *c.Before != 1 || c.Now != nil || c.Text != "gone" {
		t.Errorf("%+v", c)
	}
	if c := h.Changes[0]; c.Unit != "mg" || *c.Now != 9_350_000 {
		t.Errorf("%+v", c)
	}
	if got.Untouched != 7 || got.New != 2 || got.Mended != 1 || got.Unchanged != 1 || len(h.Findings) != 4 || h.Findings[0].State != "new" || got.Households[1].Was != "birch" {
		t.Errorf("%+v", got)
	}
}
