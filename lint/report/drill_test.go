package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/drill"
	"kitmuster/lint/finding"
)

func lasts(water, doses int) []finding.Stock {
	return []finding.Stock{{Kind: "doses", Of: "eye, drops of Ana", Lasts: int64(doses), Known: true}, {Kind: "light"}, {Kind: "water", Lasts: int64(water), LostMin: 60 * int64(72-water), Known: true}}
}

// drills is one household with every kind of thing to say, and one that could not be read.
func drills() *Made[drill.Drilled] {
	fault := finding.Finding{Rule: "input/syntax", Level: finding.Error, Message: "bad", Path: "birch", Spot: "household", At: at(1, 1, 2)}
	many := []string{"pot", "tent\x1b[2J", "rope", "soap", "towel", "cup", "spoon", "hat"}
	points := []finding.Point{
		{Item: "packs/rust/stove", Name: "stove", At: at(9, 1, 4), Losses: []finding.Loss{{Capability: "cook", All: true, Who: []string{"Ana"}}, {Capability: "eat", Who: []string{"Ana", "Ben"}}}},
		{Item: "packs/rust/tool", Name: "tool", At: at(9, 1, 4), Losses: []finding.Loss{{Capability: "treat-water", All: true}, {Capability: "open_cans", All: true}, {Capability: "first_aid", All: true}}},
	}
	for range pointsShown {
		points = append(points, finding.Point{Item: "x", Name: "x", At: at(10, 1, 4), Losses: []finding.Loss{{Capability: "cut", Who: []string{"Ben"}}}})
	}
	all := []drill.Drilled{
		{Household: finding.Household{Path: "birch"}},
		{
			Household: finding.Household{Name: "Alder", Path: "alder", Judged: true}, Base: drill.Fate{Text: "as it is", Hours: 72, Minutes: 4320, People: 2, Handed: true, Lasts: lasts(72, 72), Uncarried: []drill.Uncarried{{Name: "Bib", MassMG: 11_000_000}}},
			Drills: []drill.Fate{
				{Key: "pack-lost/rust", Kind: "pack-lost", Text: "without rust", Hours: 72, Minutes: 4320, People: 2, Handed: true, Lasts: lasts(31, 40),
					Lost: []finding.Loss{{Capability: "cook", All: true, Who: []string{"Ana"}}, {Capability: "fire", Who: []string{"Ana"}}, {Capability: "light", Who: []string{"Ana"}}, {Capability: "cut", Who: []string{"Ben"}}},
					New:  []finding.Finding{{Rule: "water/start-litres", Level: finding.Error, Message: "too little", Path: "alder", At: at(4, 12, 18)}}},
				{Key: "unable/ana", Kind: "unable", Text: "Ana cannot carry", Hours: 72, Minutes: 4320, Takers: 1, Lasts: lasts(72, 72), Left: many, LeftMG: 4_200_000},
				{Key: "unable/ben", Kind: "unable", Text: "Ben cannot carry", Hours: 72, Minutes: 4320, Lasts: lasts(72, 72), Left: []string{"pot, lidded", "tent"}, LeftMG: 4_200_000,
					Uncarried: []drill.Uncarried{{Name: "Bib", MassMG: 11_000_000}, {Name: "Cy", MassMG: 9_000_000}, {Name: "Di", Walks: true}}},
				{Key: "alone/ana", Kind: "alone", Text: "Ana alone", Hours: 72, Minutes: 4320, People: 1, Handed: true, Lasts: lasts(72, 72), Lost: []finding.Loss{{Capability: "cook", All: true}}},
				{Key: "season/hot", Kind: "season", Text: "season hot", Hours: 72, Minutes: 4310, Handed: true, Lasts: append(lasts(72, 72)[2:], finding.Stock{Kind: "light", Known: true, Lasts: 31, LostMin: 90})},
			},
			Pairs:  []drill.Fate{{Key: "packs-lost/blue+rust", Kind: "packs-lost", Text: "without blue and rust", Hours: 72, Minutes: 4320, Handed: true, Lasts: lasts(0, 72), Lost: []finding.Loss{{Capability: "fire", All: true}, {Capability: "cut", Who: []string{"Ben"}}}}},
			Points: points,
		},
		{Household: finding.Household{Name: "Cedar", Path: "cedar", Judged: true}, PairsOf: 8, Base: drill.Fate{Text: "as it is", Hours: 24, Minutes: 1440, Handed: true, Lasts: lasts(24, 24)[:1]}},
	}
	return &Made[drill.Drilled]{Run: runOf("v0", "2026-11-01", all, func(d *drill.Drilled) finding.Household { return d.Household }, []finding.Finding{fault}), Households: finding.Each(all)}
}

func TestDrillsText(t *testing.T) {
	var b bytes.Buffer
	if err := DrillsText(&b, drills(), Options{}); err != nil {
		t.Fatal(err)
	}
	want := `Alder (alder), drilled as of 2026-11-01
  hours until each stock first runs short, and in brackets how many fewer than as it is (of a stock that lasts to the end as it is: than the plan of that row has);
  of several stocks of a kind the one that loses most is named; new: findings that are not there as it is

  drill                    plan                   doses               light        water  new findings
  as it is                 72 h                    72 h           not known         72 h
  without rust             72 h  40 h eye, drops of Ana           not known   31 h (-41)             1
  Ana cannot carry         72 h                    72 h           not known         72 h             0
  Ben cannot carry         72 h                    72 h           not known         72 h             0
  Ana alone                72 h                    72 h           not known         72 h             0
  season hot        71 h 50 min                       -  31 h (-1 h 30 min)  71 h 50 min             0
  who carries Bib is not recorded; the loads leave out these 11.00 kg

  without rust
    gone for all of them: cook
    gone for Ana alone: fire, light
    gone for Ben alone: cut
    alder/kit.cue:4:12: error: too little [water/start-litres]

  Ana cannot carry
    8 things (4.20 kg) cannot be handed over within the others' caps and stay behind: pot, tent\u001b[2J, rope, soap, towel, cup and 2 more

  Ben cannot carry
    2 things (4.20 kg) cannot be handed over, as nobody else carries a pack, and stay behind: pot, lidded; tent
    who carries Cy is not recorded; the loads leave out these 9.00 kg
    who carries Di is not recorded, so they are taken to walk

  Ana alone
    gone: cook

  two packs lost         plan  doses      light      water
  without blue and rust  72 h   72 h  not known  0 h (-72)
  without blue and rust: gone for all of them: fire

  single points of failure: what is gone with one item
    alder/kit.cue:9:1: stove: the household's only way to cook; for Ana, Ben alone the only thing to eat with
    alder/kit.cue:9:1: tool: the household's only way to treat water, can opener and first aid
` + strings.Repeat("    alder/kit.cue:10:1: x: for Ben alone the only thing to cut with\n", pointsShown-2) + `    and 2 more, which the JSON form lists

  A drill is a calculation for averages of healthy adults, not a promise. Practise on the ground what matters; nobody who is alone or hurt should carry on because a table says so.

Cedar (cedar), drilled as of 2026-11-01
  hours until each stock first runs short, and in brackets how many fewer than as it is (of a stock that lasts to the end as it is: than the plan of that row has);
  of several stocks of a kind the one that loses most is named; new: findings that are not there as it is

  drill     plan  doses  new findings
  as it is  24 h   24 h

  two packs lost: not drilled, as there are more than 8 packs

  no single item's loss takes a capability from anyone

  A drill is a calculation for averages of healthy adults, not a promise. Practise on the ground what matters; nobody who is alone or hurt should carry on because a table says so.
alder/kit.cue:1:1: error: bad [input/syntax]
3 households checked as of 2026-11-01: 1 error, 0 warnings, 0 notes. 1 household only partly checked; once the input is corrected, more may show.
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
	var got struct {
		Tool, Version, On string
		Households        []jsonDrilled
		Findings          []jsonFinding
	}
	d := json.NewDecoder(&b)
	d.DisallowUnknownFields()
	if err := d.Decode(&got); err != nil {
		t.Fatal(err)
	}
	h := got.Households[1]
	switch {
	case got.Tool != Tool || got.Version != "v0" || got.On != "2026-11-01" || len(got.Findings) != 1 || got.Households[0].Drilled || got.Households[0].Base != nil:
		t.Errorf("%+v", got)
	case !h.Drilled || h.Base.Hours != 72 || len(h.Drills) != 5 || len(h.Pairs) != 1 || len(h.Points) != pointsShown+2:
		t.Errorf("%+v", h)
	case h.Drills[0].Key != "pack-lost/rust" || h.Drills[0].Handed != nil || len(h.Drills[0].New) != 1 || h.Drills[0].New[0].At.Line != 4:
		t.Errorf("%+v", h.Drills[0])
	case h.Drills[1].Handed == nil || *h.Drills[1].Handed || h.Drills[1].LeftMG != 4_200_000 || len(h.Drills[1].Left) != 8:
		t.Errorf("%+v", h.Drills[1])
	case lost(h.Drills[0].Stocks[2]) != 41*60 || h.Drills[0].Stocks[2].Hours != 31 || h.Drills[0].Stocks[2].Stock != "water", lost(h.Drills[0].Stocks[1]) != 0 || h.Drills[0].Stocks[1].Known, h.Drills[0].Stocks[0].Of != "eye, drops of Ana":
		t.Errorf("%+v", h.Drills[0].Stocks)
	case h.Drills[4].Min != 4310 || h.Drills[2].Uncarried[1] != jsonUncarried{"Cy", 9_000_000, false} || h.Base.Uncarried[0].Name != "Bib":
		t.Errorf("%+v", h.Drills)
	}
	if diff := cmp.Diff([]jsonLoss{{"cook", true, []string{"Ana"}}, {"eat", false, []string{"Ana", "Ben"}}}, h.Points[0].Losses); diff != "" {
		t.Error(diff)
	}
}

// lost is how many minutes of a stock are lost; -1 where it is not told.
func lost(l jsonLasting) int64 {
	if l.LostMin == nil {
		return -1
	}
	return *l.LostMin
}
