package lint_test

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"kitmuster/lint"
	"kitmuster/lint/audit"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/source"
)

// However long the texts and however many the rows, an answer stays within its bounds, keeps apart what is apart, and says what it left out.
func TestBounds(t *testing.T) {
	long := strings.Repeat("né", 10_000)
	out := household.Outcome{Household: finding.Household{Name: long, Path: "a", Judged: true}, At: source.Span{File: "a/kit.cue"}}
	for i := range 5000 {
		out.Findings = append(out.Findings, finding.Finding{
			Rule: "water/x", Level: finding.Warning, Message: long, Path: "a", Household: long, Spot: long + strconv.Itoa(i),
			Because: []finding.Because{{Message: long}}, Waived: &finding.Waiver{Reason: long, Until: "2027-01-01"}, Limits: []finding.Limit{{Source: long}},
		})
	}
	s := &audit.Sheet{Season: long, Hours: audit.Hours{Doing: strings.Repeat("w", 700)}}
	for _, h := range []*[]int64{&s.Hours.WaterML, &s.Hours.FoodJ, &s.Hours.FuelML, &s.Hours.LightMin} {
		*h = make([]int64, 700)
	}
	for range 9000 {
		s.People = append(s.People, long)
		s.Due = append(s.Due, audit.Due{Spot: long, Name: long, Where: long, Kind: "rotate", Day: 20_000})
		s.Waivers = append(s.Waivers, audit.WaiverLine{Rule: long, Spot: long, Reason: long, Agreed: long})
		s.Bearers = append(s.Bearers, audit.Bearer{Name: long, Packs: []audit.PackLoad{{Name: long}}})
	}
	s.Abilities = []audit.Ability{{Capability: "fire", By: make([]int64, 9000), HangsBy: make([]bool, 9000)}}
	out.Extra = s
	a := lint.Pack(out)
	if err := a.Believable("a", &audit.Product); err != nil {
		t.Fatal(err)
	}
	if len(a.Packed) > lint.MostPacked || len(a.Extra) > lint.MostSheet {
		t.Errorf("%d bytes of findings, %d of a sheet", len(a.Packed), len(a.Extra))
	}
	fs, err := a.Findings()
	if err != nil {
		t.Fatal(err)
	}
	spots, told := map[string]bool{}, 0
	for _, f := range fs {
		spots[f.Spot] = true
		if f.Rule == "data/not-shown" {
			told++
		}
	}
	if len(spots) != len(fs)-told+1 || told != 5 {
		t.Errorf("%d findings at %d spots, of which %d say what is left out", len(fs), len(spots), told)
	}
	if got := lint.Cut(long, lint.MostName); len(got) > lint.MostName || !utf8.ValidString(got) || !strings.HasSuffix(got, "… (cut; 30,000 bytes long)") {
		t.Error(got)
	}
}

// What no worker would say is not believed.
func TestBelievable(t *testing.T) {
	whole := func() (household.Outcome, *audit.Sheet) {
		s := &audit.Sheet{People: []string{"ana"}, Minutes: 120, Hours: audit.Hours{Doing: "wh", WaterML: []int64{1, 2}, FoodJ: []int64{1, 2}, FuelML: []int64{1, 2}, LightMin: []int64{1, 2}},
			Abilities: []audit.Ability{{Capability: "fire", By: []int64{1}, HangsBy: []bool{true}}}, Due: []audit.Due{{Kind: "rotate", Day: 20_000}}}
		return household.Outcome{
			Household: finding.Household{Name: "A", Path: "a", Judged: true}, Extra: s,
			Findings: []finding.Finding{{Rule: "water/x", Level: finding.Error, Path: "a", Message: "m", Spot: "s", At: source.Span{File: "a/kit.cue", Start: source.Point{Line: 1, Col: 1}, End: source.Point{Line: 1, Col: 2}}, Lack: &finding.Shortfall{What: "w", Unit: "ml", Amount: 1}}},
		}, s
	}
	sound, _ := whole()
	if a := lint.Pack(sound); a.Believable("a", &audit.Product) != nil {
		t.Fatal(a.Believable("a", &audit.Product))
	}
	for name, change := range map[string]func(*household.Outcome, *audit.Sheet){
		"another household":       func(o *household.Outcome, _ *audit.Sheet) { o.Household.Path = "b" },
		"a line end in a rule":    func(o *household.Outcome, _ *audit.Sheet) { o.Findings[0].Rule = "water/x\n::error" },
		"no rule":                 func(o *household.Outcome, _ *audit.Sheet) { o.Findings[0].Rule = "" },
		"an unknown level":        func(o *household.Outcome, _ *audit.Sheet) { o.Findings[0].Level = "fatal" },
		"another's finding":       func(o *household.Outcome, _ *audit.Sheet) { o.Findings[0].Path = "b" },
		"a state":                 func(o *household.Outcome, _ *audit.Sheet) { o.Findings[0].State = finding.New },
		"a negative line":         func(o *household.Outcome, _ *audit.Sheet) { o.Findings[0].At.Start.Line = -1 },
		"a place that ends first": func(o *household.Outcome, _ *audit.Sheet) { o.Findings[0].At.End.Col = 0 },
		"an unknown unit":         func(o *household.Outcome, _ *audit.Sheet) { o.Findings[0].Lack.Unit = "kg" },
		"more than there is":      func(o *household.Outcome, _ *audit.Sheet) { o.Findings[0].Lack.Amount = math.MaxInt64 },
		"a day in no calendar":    func(_ *household.Outcome, s *audit.Sheet) { s.Due[0].Day = math.MaxInt64 },
		"a stock of no kind":      func(_ *household.Outcome, s *audit.Sheet) { s.Stocks = []finding.Stock{{Kind: "x"}} },
		"a date of no kind":       func(_ *household.Outcome, s *audit.Sheet) { s.Due[0].Kind = "%d" },
		"fewer values":            func(_ *household.Outcome, s *audit.Sheet) { s.Hours.FoodJ = nil },
		"hours of nothing":        func(_ *household.Outcome, s *audit.Sheet) { s.Hours.Doing = "w<" },
		"nobody's ability":        func(_ *household.Outcome, s *audit.Sheet) { s.Abilities[0].By = nil },
		"a plan before its start": func(_ *household.Outcome, s *audit.Sheet) { s.Minutes = -1 },
	} {
		o, s := whole()
		change(&o, s)
		if a := lint.Pack(o); a.Believable("a", &audit.Product) == nil {
			t.Errorf("%s is believed", name)
		}
	}
	for name, change := range map[string]func(*lint.Answer){
		"another count":        func(a *lint.Answer) { a.Summary.Errors = 0 },
		"bytes that are none":  func(a *lint.Answer) { a.Packed = []byte{0xff} },
		"a sheet that is none": func(a *lint.Answer) { a.Extra = []byte{0x01} },
		"an endless plan":      func(a *lint.Answer) { a.Standing.PlanHours = 1 << 40 },
		"too heavy a load":     func(a *lint.Answer) { a.Standing.LoadPermille = 1 << 60 },
	} {
		o, _ := whole()
		a := lint.Pack(o)
		change(&a)
		if a.Believable("a", &audit.Product) == nil {
			t.Errorf("%s is believed", name)
		}
	}
}
