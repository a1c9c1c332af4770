package report

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
	"kitmuster/lint/packing"
)

// lists is a household with one of everything, one with nothing, and a path that could not be read.
func lists() *packing.PackingLists {
	return &packing.PackingLists{Version: "v0", On: "2026-11-01", Left: []string{"cedar\x1b[2J"}, Lists: finding.Each([]packing.PackingList{
		{
			Household: finding.Household{Name: "Alder", Path: "alder", Judged: true}, Season: "flood: 11 °C by day, 4 °C by night", LoadMG: 3_500_000, WornMG: 120_000,
			Packs: []packing.PackedPack{{Name: "Rust", Carrier: "Ana", MassMG: 3_500_000, EmptyMG: 1_000_000, Parts: []packing.PackedPart{
				{Name: "lid", Reach: "walking", For: "light, fire", Layer: 1, QuickShed: true, MassMG: 2_500_000, Items: []packing.PackedItem{
					{Name: "bottle", Count: 2, MassMG: 2_484_500, EachMG: 1_242_250, WaterML: 2000, Weighed: true, Until: "2027-02-01", Notes: []string{"with 2 L of water", "replace on 2027-02-01"}},
					{Name: "cheese", Count: 1, MassMG: 15_500, EachMG: 15_500, AtLast: "stays at home", Notes: []string{"last minute: stays at home"}},
				}},
				{Name: "main", Reach: "halted", MassMG: 8000, Items: []packing.PackedItem{
					{Name: "tablets", Count: 1, MassMG: 8000, EachMG: 8000, Weighed: true, Until: "2026-10-31", Past: "PAST its last day", Notes: []string{"for Bo"}},
				}},
			}}},
			Worn:       []packing.PackedPart{{Name: "Ana", MassMG: 120_000, Items: []packing.PackedItem{{Name: "phone", Count: 1, MassMG: 120_000, EachMG: 120_000, Weighed: true}}}},
			LastMinute: []packing.LastMinute{{What: "cheese", Why: "stays at home", Where: "Rust, lid"}, {What: "lenses of Ana", Why: "needed to see", Past: "PAST its last day"}},
			Cards: []packing.Card{{Name: "Ana", About: "42 years", Sections: []packing.CardSection{
				{Title: "Takes", Lines: []packing.CardLine{{Text: "Pen, 4 a day", Past: "PAST: none"}, {Text: "2 doses", Past: "PAST its last day", Under: true}}},
				{Title: "Call", Lines: []packing.CardLine{{Text: "none recorded"}}, Missing: true},
			}}, {Name: "Tuft"}},
		},
		{Household: finding.Household{Name: "Birch", Path: "birch", Judged: true}},
	})}
}

func TestListText(t *testing.T) {
	var b bytes.Buffer
	if err := ListText(&b, lists()); err != nil {
		t.Fatal(err)
	}
	want := `Alder (alder), packing lists as of 2026-11-01
  3.50 kg in 1 pack; 120 g worn or pocketed
  planned for flood: 11 °C by day, 4 °C by night

  from home at the last minute
    [ ] cheese         stays at home                     Rust, lid
    [!] lenses of Ana  PAST its last day; needed to see

  worn or pocketed
    Ana: 120 g
      [ ] phone  1 ×  120 g

  Rust, carried by Ana: 3.50 kg, empty 1.00 kg
    lid (while walking; light, fire; comes off in seconds): 2.50 kg
      [ ] bottle  2 ×  1.24 kg = 2.48 kg  with 2 L of water; replace on 2027-02-01
      [ ] cheese  1 ×               16 g  last minute: stays at home
    main (when halted): 8.0 g
      [!] tablets  1 ×  8.0 g  PAST its last day; for Bo

  card of Ana, 42 years
    Takes
      Pen, 4 a day; PAST: none
        2 doses; PAST its last day
    Call
      none recorded

  card of Tuft

Birch (birch), packing lists as of 2026-11-01
  0 g in 0 packs; 0 g worn or pocketed
not listed, because it could not be read: cedar\u001b[2J
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Error(diff)
	}
}

func TestListCSV(t *testing.T) {
	var b bytes.Buffer
	if err := ListCSV(&b, lists()); err != nil {
		t.Fatal(err)
	}
	want := strings.ReplaceAll(`packed,household,path,list,pack,carrier,compartment,layer,reach,for,count,item,mass_g,mass_each_g,water_ml,until,notes
,Alder,alder,last minute,"Rust, lid",,,,,,,cheese,,,,,stays at home
,Alder,alder,last minute,,,,,,,,lenses of Ana,,,,,PAST its last day; needed to see
,Alder,alder,worn,,Ana,,,,,1,phone,120,120,0,,
,Alder,alder,pack,Rust,Ana,lid,1,walking,"light, fire",2,bottle,2484.5,1242.25,2000,2027-02-01,with 2 L of water; replace on 2027-02-01
,Alder,alder,pack,Rust,Ana,lid,1,walking,"light, fire",1,cheese,15.5,15.5,0,,last minute: stays at home
,Alder,alder,pack,Rust,Ana,main,,halted,,1,tablets,8,8,0,2026-10-31,PAST its last day; for Bo
`, "\n", "\r\n")
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Error(diff)
	}
}

// No text of a kit begins a formula, ends a line or reorders one, whichever field it stands in.
func TestListCSVIsNoFormula(t *testing.T) {
	for in, want := range map[string]string{
		"=cmd|' /C calc'!A0": "'=cmd|' /C calc'!A0", "+1": "'+1", "-1": "'-1", "@SUM(A1)": "'@SUM(A1)", "  =1": "'  =1", "\u00a0=1": "'\u00a0=1", "＝1": "'＝1",
		"\t=1": `\u0009=1`, "\r=1": `\u000d=1`, "a\nb": `a\u000ab`, "a\u202eb": `a\u202eb`, `say "x", y`: `say "x", y`, "plain = text": "plain = text", "'=1": "'=1", "": "",
	} {
		ls := &packing.PackingLists{Lists: finding.Each([]packing.PackingList{{
			Household:  finding.Household{Name: in, Path: in},
			LastMinute: []packing.LastMinute{{What: in, Why: in, Where: in}},
			Packs:      []packing.PackedPack{{Name: in, Carrier: in, Parts: []packing.PackedPart{{Name: in, For: in, Items: []packing.PackedItem{{Name: in, Notes: []string{in}}}}}}},
			Worn:       []packing.PackedPart{{Name: in, Items: []packing.PackedItem{{Name: in}}}},
		}})}
		var b bytes.Buffer
		if err := ListCSV(&b, ls); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil || len(rows) != 4 {
			t.Fatalf("%q: %d rows, %v", in, len(rows), err)
		}
		texts := map[string]bool{"household": true, "path": true, "item": true}
		for i, name := range rows[0] {
			for _, row := range rows[1:] {
				if texts[name] && row[i] != want {
					t.Errorf("%q in %s is written %q, want %q", in, name, row[i], want)
				}
				if strings.HasPrefix(strings.TrimSpace(row[i]), "=") {
					t.Errorf("%q in %s begins a formula: %q", in, name, row[i])
				}
			}
		}
	}
}

func TestGrams(t *testing.T) {
	for mg, want := range map[int64]string{0: "0", 1: "0.001", 1000: "1", 1500: "1.5", 100_000: "100", 1_234_567: "1234.567"} {
		if got := grams(mg); got != want {
			t.Errorf("%d mg is %s g, want %s", mg, got, want)
		}
	}
}
