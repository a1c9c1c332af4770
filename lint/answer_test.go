package lint

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"kitmuster/lint/finding"
	"kitmuster/lint/source"
)

// What a household says is packed and unpacked again; of more than may be shown the gravest are, and the rest is counted.
func TestPacking(t *testing.T) {
	many := func(n int) Outcome {
		out := Outcome{Household: finding.Household{Name: "A", Path: "a", Judged: true}}
		for i := range n {
			f := finding.Finding{Rule: "input/value", Level: finding.Note, Message: "\xff\xfe", Path: "a", Household: "A", Spot: fmt.Sprintf("%06d", i)}
			if i >= n-3 {
				f.Level = finding.Error
			}
			out.Findings = append(out.Findings, f)
		}
		return out
	}
	for n, want := range map[int]int{0: 0, 1: 1, mostFindings: mostFindings, mostFindings + 1: mostFindings + 1, 200_000: mostFindings + 1} {
		a := Pack(many(n))
		got, err := a.Findings()
		if err != nil || len(got) != want {
			t.Errorf("%d findings of %d: %v", len(got), n, err)
		}
		if errors := min(n, 3); a.Summary.Errors != errors {
			t.Errorf("%d errors among %d findings, want %d", a.Summary.Errors, n, errors)
		}
		told := slices.ContainsFunc(got, func(f finding.Finding) bool {
			return f.Rule == "data/not-shown" && f.Message == "1,000 of "+thousands(n)+" findings are shown"
		})
		if told != (n > mostFindings) {
			t.Errorf("of %d findings it is told %v that some are left out", n, told)
		}
		if err := a.Believable("a", nil); err != nil {
			t.Errorf("%d findings: %v", n, err)
		}
	}
}

// However long the texts and however many the rows, an answer stays within its bounds, keeps apart what is apart, and says what it left out.
func TestBounds(t *testing.T) {
	long := strings.Repeat("né", 10_000)
	out := Outcome{Household: finding.Household{Name: long, Path: "a", Judged: true}, At: source.Span{File: "a/kit.cue"}}
	for i := range 5000 {
		out.Findings = append(out.Findings, finding.Finding{
			Rule: "water/x", Level: finding.Warning, Message: long, Path: "a", Household: long, Spot: long + strconv.Itoa(i),
			Because: []finding.Because{{Message: long}}, Waived: &finding.Waiver{Reason: long, Until: "2027-01-01"}, Limits: []finding.Limit{{Source: long}},
		})
	}
	s := &finding.Sheet{Season: long, Hours: finding.Hours{Doing: strings.Repeat("w", 700)}}
	for _, h := range []*[]int64{&s.Hours.WaterML, &s.Hours.FoodJ, &s.Hours.FuelML, &s.Hours.LightMin} {
		*h = make([]int64, 700)
	}
	for range 9000 {
		s.People = append(s.People, long)
		s.Due = append(s.Due, finding.Due{Spot: long, Name: long, Where: long, Kind: "rotate", Day: 20_000})
		s.Waivers = append(s.Waivers, finding.WaiverLine{Rule: long, Spot: long, Reason: long, Agreed: long})
		s.Bearers = append(s.Bearers, finding.Bearer{Name: long, Packs: []finding.PackLoad{{Name: long}}})
	}
	s.Abilities = []finding.Ability{{Capability: "fire", By: make([]int64, 9000), HangsBy: make([]bool, 9000)}}
	out.Extra = s
	a := Pack(out)
	if err := a.Believable("a", &SheetProduct); err != nil {
		t.Fatal(err)
	}
	if len(a.Packed) > mostPacked || len(a.Extra) > mostSheet {
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
	if got := cut(long, mostName); len(got) > mostName || !utf8.ValidString(got) || !strings.HasSuffix(got, "… (cut; 30,000 bytes long)") {
		t.Error(got)
	}
}

// What no worker would say is not believed.
func TestBelievable(t *testing.T) {
	whole := func() (Outcome, *finding.Sheet) {
		s := &finding.Sheet{People: []string{"ana"}, Minutes: 120, Hours: finding.Hours{Doing: "wh", WaterML: []int64{1, 2}, FoodJ: []int64{1, 2}, FuelML: []int64{1, 2}, LightMin: []int64{1, 2}},
			Abilities: []finding.Ability{{Capability: "fire", By: []int64{1}, HangsBy: []bool{true}}}, Due: []finding.Due{{Kind: "rotate", Day: 20_000}}}
		return Outcome{
			Household: finding.Household{Name: "A", Path: "a", Judged: true}, Extra: s,
			Findings: []finding.Finding{{Rule: "water/x", Level: finding.Error, Path: "a", Message: "m", Spot: "s", At: source.Span{File: "a/kit.cue", Start: source.Point{Line: 1, Col: 1}, End: source.Point{Line: 1, Col: 2}}, Lack: &finding.Lack{What: "w", Unit: "ml", Amount: 1}}},
		}, s
	}
	sound, _ := whole()
	if a := Pack(sound); a.Believable("a", &SheetProduct) != nil {
		t.Fatal(a.Believable("a", &SheetProduct))
	}
	for name, change := range map[string]func(*Outcome, *finding.Sheet){
		"another household":       func(o *Outcome, _ *finding.Sheet) { o.Household.Path = "b" },
		"a line end in a rule":    func(o *Outcome, _ *finding.Sheet) { o.Findings[0].Rule = "water/x\n::error" },
		"no rule":                 func(o *Outcome, _ *finding.Sheet) { o.Findings[0].Rule = "" },
		"an unknown level":        func(o *Outcome, _ *finding.Sheet) { o.Findings[0].Level = "fatal" },
		"another's finding":       func(o *Outcome, _ *finding.Sheet) { o.Findings[0].Path = "b" },
		"a state":                 func(o *Outcome, _ *finding.Sheet) { o.Findings[0].State = finding.New },
		"a negative line":         func(o *Outcome, _ *finding.Sheet) { o.Findings[0].At.Start.Line = -1 },
		"a place that ends first": func(o *Outcome, _ *finding.Sheet) { o.Findings[0].At.End.Col = 0 },
		"an unknown unit":         func(o *Outcome, _ *finding.Sheet) { o.Findings[0].Lack.Unit = "kg" },
		"more than there is":      func(o *Outcome, _ *finding.Sheet) { o.Findings[0].Lack.Amount = math.MaxInt64 },
		"a figure of nothing":     func(o *Outcome, _ *finding.Sheet) { o.Figures = []finding.Figure{{Group: "x"}} },
		"a day in no calendar":    func(_ *Outcome, s *finding.Sheet) { s.Due[0].Day = math.MaxInt64 },
		"a stock of no kind":      func(_ *Outcome, s *finding.Sheet) { s.Stocks = []finding.Stock{{Kind: "x"}} },
		"a date of no kind":       func(_ *Outcome, s *finding.Sheet) { s.Due[0].Kind = "%d" },
		"fewer values":            func(_ *Outcome, s *finding.Sheet) { s.Hours.FoodJ = nil },
		"hours of nothing":        func(_ *Outcome, s *finding.Sheet) { s.Hours.Doing = "w<" },
		"nobody's ability":        func(_ *Outcome, s *finding.Sheet) { s.Abilities[0].By = nil },
		"a plan before its start": func(_ *Outcome, s *finding.Sheet) { s.Minutes = -1 },
	} {
		o, s := whole()
		change(&o, s)
		if a := Pack(o); a.Believable("a", &SheetProduct) == nil {
			t.Errorf("%s is believed", name)
		}
	}
	for name, change := range map[string]func(*Answer){
		"another count":        func(a *Answer) { a.Summary.Errors = 0 },
		"bytes that are none":  func(a *Answer) { a.Packed = []byte{0xff} },
		"a sheet that is none": func(a *Answer) { a.Extra = []byte{0x01} },
		"an endless plan":      func(a *Answer) { a.PlanHours = 1 << 40 },
		"too many figures":     func(a *Answer) { a.Figures = make([]finding.Figure, mostRows+1) },
	} {
		o, _ := whole()
		a := Pack(o)
		change(&a)
		if a.Believable("a", &SheetProduct) == nil {
			t.Errorf("%s is believed", name)
		}
	}
}
