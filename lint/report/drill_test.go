package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
)

func lasts(water, doses int) []finding.Lasting {
	return []finding.Lasting{{Stock: "doses", Hours: doses}, {Stock: "water", Hours: water, Lost: 72 - water}}
}

// drills is one household with every kind of thing to say, and one that could not be read.
func drills() *Drills {
	fault := finding.Finding{Rule: "input/syntax", Level: finding.Error, Message: "bad", Path: "birch", Spot: "household", At: at(1, 1, 2)}
	many := []string{"pot", "tent\x1b[2J", "rope", "soap", "towel", "cup", "spoon", "hat"}
	points := []finding.Point{
		{Item: "packs/rust/stove", Name: "stove", At: at(9, 1, 4), Losses: []finding.Loss{{Capability: "cook", All: true, Who: []string{"Ana"}}, {Capability: "eat", Who: []string{"Ana", "Ben"}}}},
	}
	for range pointsShown {
		points = append(points, finding.Point{Item: "x", Name: "x", At: at(10, 1, 4), Losses: []finding.Loss{{Capability: "cut", Who: []string{"Ben"}}}})
	}
	return &Drills{Version: "v0", On: "2026-11-01", Households: []*finding.Drilled{
		{Household: finding.Household{Path: "birch"}, Findings: []finding.Finding{fault}},
		{
			Household: finding.Household{Name: "Alder", Path: "alder", Judged: true}, Base: finding.Fate{Text: "as it is", Hours: 72, Handed: true, Lasts: lasts(72, 72)},
			Drills: []finding.Fate{
				{Key: "pack-lost/rust", Kind: "pack-lost", Text: "without rust", Hours: 72, Handed: true, Lasts: lasts(31, 72),
					Lost: []finding.Loss{{Capability: "cook", All: true, Who: []string{"Ana"}}, {Capability: "fire", Who: []string{"Ana"}}, {Capability: "light", Who: []string{"Ana"}}, {Capability: "cut", Who: []string{"Ben"}}},
					New:  []finding.Finding{{Rule: "water/start-litres", Level: finding.Error, Message: "too little", Path: "alder", At: at(4, 12, 18)}}},
				{Key: "unable/ana", Kind: "unable", Text: "Ana cannot carry", Hours: 72, Lasts: lasts(72, 72), Left: many, LeftMG: 4_200_000},
				{Key: "season/hot", Kind: "season", Text: "season hot", Hours: 72, Handed: true, Lasts: lasts(72, 72)[1:]},
			},
			Pairs:  []finding.Fate{{Key: "packs-lost/blue+rust", Kind: "packs-lost", Text: "without blue and rust", Hours: 72, Handed: true, Lasts: lasts(0, 72), Lost: []finding.Loss{{Capability: "fire", All: true}, {Capability: "cut", Who: []string{"Ben"}}}}},
			Points: points,
		},
		{Household: finding.Household{Name: "Cedar", Path: "cedar", Judged: true}, PairsOf: 8, Base: finding.Fate{Text: "as it is", Hours: 24, Handed: true, Lasts: lasts(24, 24)[:1]}},
	}}
}

func TestDrillsText(t *testing.T) {
	var b bytes.Buffer
	if err := DrillsText(&b, drills(), Options{}); err != nil {
		t.Fatal(err)
	}
	want := `Alder (alder), drilled as of 2026-11-01
  hours until each stock is first short, and in brackets how many fewer than as it is; new: findings that are not there as it is

  drill             plan  doses       water  new findings
  as it is          72 h   72 h        72 h
  without rust      72 h   72 h  31 h (-41)             1
  Ana cannot carry  72 h   72 h        72 h             0
  season hot        72 h      -        72 h             0

  without rust
    gone for all of them: cook
    gone for Ana alone: fire, light
    gone for Ben alone: cut
    alder/kit.cue:4:12: error: too little [water/start-litres]

  Ana cannot carry
    8 things (4.20 kg) cannot be handed over within the others' caps and stay behind: pot, tent\u001b[2J, rope, soap, towel, cup and 2 more

  two packs lost         plan  doses      water
  without blue and rust  72 h   72 h  0 h (-72)
  without blue and rust: gone for all: fire

  single points of failure: what is gone with one item
    alder/kit.cue:9:1: stove: the household's only cook; eat of Ana, Ben alone
` + strings.Repeat("    alder/kit.cue:10:1: x: cut of Ben alone\n", pointsShown-1) + `    and 1 more, which the JSON form lists

  A drill is a calculation for averages of healthy adults, not a promise. Practise on the ground what matters; nobody who is alone or hurt should carry on because a table says so.

Cedar (cedar), drilled as of 2026-11-01
  hours until each stock is first short, and in brackets how many fewer than as it is; new: findings that are not there as it is

  drill     plan  doses  new findings
  as it is  24 h   24 h

  two packs lost: not drilled, as there are more than 8 packs

  no single item's loss takes a capability from anybody

  A drill is a calculation for averages of healthy adults, not a promise. Practise on the ground what matters; nobody who is alone or hurt should carry on because a table says so.
alder/kit.cue:1:1: error: bad [input/syntax]
3 households checked as of 2026-11-01: 1 error, 0 warnings, 0 notes. 1 household not wholly judged; once the input is mended, more may show.
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Error(diff)
	}
}

func TestDrillsJSON(t *testing.T) {
	var b bytes.Buffer
	if err := DrillsJSON(&b, drills(), Options{}); err != nil {
		t.Fatal(err)
	}
	var got jsonDrills
	d := json.NewDecoder(&b)
	d.DisallowUnknownFields()
	if err := d.Decode(&got); err != nil {
		t.Fatal(err)
	}
	h := got.Households[1]
	switch {
	case got.Tool != Tool || got.Version != "v0" || got.On != "2026-11-01" || len(got.Findings) != 1 || got.Households[0].Drilled || got.Households[0].Base != nil:
		t.Errorf("%+v", got)
	case !h.Drilled || h.Base.Hours != 72 || len(h.Drills) != 3 || len(h.Pairs) != 1 || len(h.Points) != pointsShown+1:
		t.Errorf("%+v", h)
	case h.Drills[0].Key != "pack-lost/rust" || h.Drills[0].Handed != nil || len(h.Drills[0].New) != 1 || h.Drills[0].New[0].At.Line != 4:
		t.Errorf("%+v", h.Drills[0])
	case h.Drills[1].Handed == nil || *h.Drills[1].Handed || h.Drills[1].LeftMG != 4_200_000 || len(h.Drills[1].Left) != 8:
		t.Errorf("%+v", h.Drills[1])
	case h.Drills[0].Stocks[1] != jsonLasting{"water", 31, 41}:
		t.Errorf("%+v", h.Drills[0].Stocks)
	}
	if diff := cmp.Diff([]jsonLoss{{"cook", true, []string{"Ana"}}, {"eat", false, []string{"Ana", "Ben"}}}, h.Points[0].Losses); diff != "" {
		t.Error(diff)
	}
}
