package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
	"kitmuster/lint/trial"
)

func tried() *trial.Trial {
	found := func(rule, message string, s finding.State, l finding.Level) finding.Finding {
		return finding.Finding{Rule: rule, Level: l, Message: message, Path: "alder", Spot: "household", At: at(8, 9, 18), State: s}
	}
	short := found("w/start", "3 L short", finding.Unchanged, finding.Error)
	short.Lack = &finding.Shortfall{What: "water", Unit: "ml", Amount: 3000}
	return &trial.Trial{
		Version: "v0", On: "2026-11-01", Partial: "interrupted after 3 of 9 households",
		Old: trial.Standard{Name: "base 1.0.0"}, New: trial.Standard{Name: "valley 1.1.0\x1b[31m", Digest: "sha256:0123456789abcdef0123"},
		Households: []trial.Tried{
			{Household: finding.Household{Name: "Alder", Path: "alder", Judged: true}, Notes: trial.Tally{Unchanged: 2}},
			{
				Household: finding.Household{Name: "Birch", Path: "birch", Judged: true}, Errors: trial.Tally{Unchanged: 2}, Warnings: trial.Tally{New: 1, Mended: 2}, Waived: 1, Unstated: 1,
				Findings: []finding.Finding{found("f/boots", "no boots \x1b[2J", finding.New, finding.Warning), found("m/days", "old", finding.Mended, finding.Warning)},
				Changed:  []trial.Shift{{Old: found("w/start", "1 L short", "", finding.Warning), New: short}},
			},
			{Household: finding.Household{Path: "fir"}, Errors: trial.Tally{Unchanged: 1}, Findings: []finding.Finding{found("input/value", "no mass", finding.Unchanged, finding.Error)}},
			{Household: finding.Household{Path: "gone"}, Nowhere: true, Errors: trial.Tally{Unchanged: 1}, Findings: []finding.Finding{found("input/path", "nothing here", finding.Unchanged, finding.Error)}},
			{Household: finding.Household{Name: "Elm", Path: "elm", Judged: true}, Doubt: "a rule broke"},
		},
		Totals: []trial.Total{
			{What: "boots", Unit: "count", Old: 3, New: 1, Households: 1}, {What: "doses", Unit: "milli", Old: 500, New: 2500, Households: 2}, {What: "energy", Unit: "j", Old: 4184000, New: 4184000, Households: 1},
			{What: "load", Unit: "mg", New: 1_820_000, Households: 1}, {What: "rest", Unit: "days", New: 1, Households: 1}, {What: "walk", Unit: "min", New: 90, Households: 1}, {What: "water", Unit: "ml", New: 2500, Households: 1},
		},
		Rules: []trial.RuleChange{
			{Name: "a/added", Title: "Added", Change: "added", New: finding.Error}, {Name: "a/again", Title: "Again", Change: "in force again", New: finding.Note, Why: "valley 1.0.0: once"},
			{Name: "a/gone", Title: "Gone", Change: "gone", Old: finding.Note}, {Name: "a/level", Title: "Level", Change: "level", Old: finding.Note, New: finding.Error},
			{Name: "a/off", Title: "Off", Change: "switched off", Old: finding.Note, Why: "valley 1.1.0: never\nmind"},
		},
		Limits: []trial.LimitChange{
			{Name: "a.added", Change: "added", New: "2", Now: finding.Limit{Name: "a.added", Value: "2", Source: "s", Layer: "valley 1.1.0", At: at(3, 1, 2)}},
			{Name: "a.gone", Change: "gone", Old: "3 days"},
			{Name: "a.less", Change: "loosened", Old: "5 %", New: "8 %"},
		},
		Failed: []finding.Rule{{Name: "f/boots", Title: "Boots", Remedy: "Buy.", Caution: "Do not\n  wade."}, {Name: "x/y", Title: "X", Remedy: "Y."}},
	}
}

func TestTrialText(t *testing.T) {
	var b bytes.Buffer
	if err := TrialText(&b, tried(), Options{}); err != nil {
		t.Fatal(err)
	}
	want := `valley 1.1.0\u001b[31m (sha256:0123456789ab) tried on 4 households judged by base 1.0.0, as of 2026-11-01

household                  errors  new  fixed  warnings  new  fixed  notes  new  fixed  waived
Alder                           0                     0                  2
Birch                           2                     1   +1     -2      0                   1
fir (only partly checked)       1                     0                  0
gone (no household)             1                     0                  0
Elm                             0                     0                  0

Birch (birch)
  new warning: no boots \u001b[2J [f/boots] (alder/kit.cue:8:9)
  fixed warning: old [m/days] (alder/kit.cue:8:9)
  changed error: 3 L short [w/start] (alder/kit.cue:8:9)
    was: warning: 1 L short

fir (fir)
  it could not be judged wholly under either standard; once the input is corrected, more may show
  unchanged error: no mass [input/value] (alder/kit.cue:8:9)

gone (gone)
  unchanged error: nothing here [input/path] (alder/kit.cue:8:9)

Elm (elm)
  a rule broke

total         old         new   difference  households
boots           3           1           -2           1
doses         0.5         2.5           +2           2
energy  1000 kcal   1000 kcal                        1
load          0 g     1.82 kg     +1.82 kg           1
rest       0 days       1 day       +1 day           1
walk        0 min  1 h 30 min  +1 h 30 min           1
water        0 ml       2.5 L       +2.5 L           1
Not in these sums, as their rules state no amount: 1 finding, new or changed, notes aside.

rule a/added: added, error: Added
rule a/again: in force again, note: Again
    was switched off by valley 1.0.0: once
rule a/gone: gone: Gone
rule a/level: error, was note: Level
rule a/off: switched off: Off
    valley 1.1.0: never mind

limit a.added: added: 2 (alder/kit.cue:3:1)
limit a.gone: gone: 3 days
limit a.less: loosened: 5 % → 8 %

caution [f/boots]: Do not wade.

Of 4 households, 1 newly fails something and 1 has something fixed, notes aside. 1 household only partly checked. This is not all: interrupted after 3 of 9 households.
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Error(diff)
	}
}

// An empty trial is still whole, and says who was asked.
func TestTrialTextOfNobody(t *testing.T) {
	var b bytes.Buffer
	if err := TrialText(&b, &trial.Trial{On: "2026-11-01", Old: trial.Standard{Name: "a 1"}, New: trial.Standard{Name: "b 1"}}, Options{}); err != nil {
		t.Fatal(err)
	}
	want := "b 1 tried on 0 households judged by a 1, as of 2026-11-01\n\nOf 0 households, 0 newly fail something and 0 have something fixed, notes aside.\n"
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Error(diff)
	}
}

func TestTrialJSON(t *testing.T) {
	var b bytes.Buffer
	if err := TrialJSON(&b, tried(), Options{}); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Old, New   struct{ Name, Digest string }
		Partial    string
		Households []struct {
			Name     string
			Judged   bool
			Errors   struct{ Unchanged int }
			Doubt    string
			Findings []struct{ State, Rule, Message string }
			Changed  []struct {
				Old, New struct {
					Message string
					Lack    struct{ Amount int64 }
				}
			}
		}
		Totals []struct {
			What string
			New  int64
		}
		Rules  []struct{ Name, Change, Why string }
		Limits []struct {
			Name, Change string
			At           struct{ Line int }
		}
		Failed []struct{ Rule, Caution string }
	}
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatalf("%v\n%s", err, b.String())
	}
	birch := got.Households[1]
	for _, c := range []struct {
		what string
		ok   bool
	}{
		{"standards", got.New.Digest == "sha256:0123456789abcdef0123" && got.Old.Name == "base 1.0.0" && got.Old.Digest == ""},
		{"partial", got.Partial != ""},
		{"everybody", len(got.Households) == 5 && got.Households[2].Name == "" && !got.Households[2].Judged && got.Households[4].Doubt == "a rule broke"},
		{"a household", birch.Errors.Unchanged == 2 && birch.Findings[0].State == "new" && birch.Changed[0].Old.Message == "1 L short" && birch.Changed[0].New.Lack.Amount == 3000},
		{"totals", len(got.Totals) == 7 && got.Totals[3].New == 1_820_000},
		{"rules", len(got.Rules) == 5 && got.Rules[4].Change == "switched off"},
		{"limits", len(got.Limits) == 3 && got.Limits[0].At.Line == 3},
		{"failed", got.Failed[0].Caution == "Do not\n  wade."},
	} {
		if !c.ok {
			t.Errorf("%s: %s", c.what, b.String())
		}
	}
	if strings.ContainsRune(b.String(), 0x1b) {
		t.Error("a terminal's escape gets through")
	}
}
