package report

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/private"
)

func shared() *Shared {
	stocks := []finding.Stock{{Kind: "water", Lasts: 30, Known: true}, {Kind: "energy", Lasts: 72, Known: true}, {Kind: "light", Lasts: 72}}
	return &Shared{
		Version: "v0", On: "2026-11-01", Key: "key-bcdf", Did: "drilled",
		Households: []private.Shared{
			{
				Household: finding.Household{Name: "household-bcdf", Path: "folder-bcdf", Judged: true}, Read: true, Hours: 72, Load: 15, Can: []kinds.Capability{"fire", "treat-water", "open_cans"}, Stocks: stocks,
				WaterLimit: "vessels", Heat: 3, Single: []kinds.Capability{"open_cans"},
				Fates: []private.SharedFate{
					{Kind: "pack-lost", Hours: 72, Gone: []kinds.Capability{"first_aid"}, Stocks: stocks[:2], New: []finding.Finding{{Rule: "x/y", Level: finding.Error, Message: "the rule objects: a title"}}},
					{Kind: "late", Hours: 96, Stocks: stocks},
				},
			},
			{Household: finding.Household{Path: "folder-ghjk"}},
			{Household: finding.Household{Name: "household-mnpq", Path: "folder-mnpq", Judged: true}, Read: true, Hours: 72, Stocks: stocks},
		},
		Findings: []finding.Finding{{Rule: "input/syntax", Level: finding.Error, Message: "A file is not CUE", Path: "folder-ghjk"}},
	}
}

func TestSharedText(t *testing.T) {
	var b bytes.Buffer
	if err := SharedText(&b, shared(), Options{}); err != nil {
		t.Fatal(err)
	}
	want := `household-bcdf (folder-bcdf), drilled as of 2026-11-01
  heaviest load: 15 % of its carrier's body weight
  ways in the household: fire, treat water, open cans
  drill                  plan  water        food      light
  as it is               72 h   30 h  to the end  not known
  a pack lost            72 h   30 h  to the end          -
  help comes 24 h later  96 h   30 h        72 h  not known
  why water is short: the containers are too small, or not enough
  worst heat category on the way: 3 of the 5 of the US Army's work, rest and fluid table
  a pack lost: gone for all: first aid
  a pack lost: new error: the rule objects: a title [x/y]
  depends on one item: open cans

household-mnpq (folder-mnpq), drilled as of 2026-11-01
  lasts: water 30 h, food to the end, light not known (of 72 h)

Share-safe: households have pseudonyms of key-bcdf. Each figure is that of the person or animal who fares worst.
They are calculations for averages of healthy adults, neither a promise nor medical advice; nobody who is alone or hurt should carry on because a table says so.
folder-ghjk: error: A file is not CUE [input/syntax]
3 households checked as of 2026-11-01: 1 error, 0 warnings, 0 notes. 1 household only partly checked; once the input is corrected, more may show. Share-safe: households have pseudonyms of key-bcdf.
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Error(diff)
	}
}

func TestSharedJSON(t *testing.T) {
	var b bytes.Buffer
	if err := SharedJSON(&b, shared(), Options{}); err != nil {
		t.Fatal(err)
	}
	var got jsonSharedRun
	d := json.NewDecoder(&b)
	d.DisallowUnknownFields()
	if err := d.Decode(&got); err != nil {
		t.Fatal(err)
	}
	h := got.Households[0]
	if got.ShareSafe != "key-bcdf" || got.Did != "drilled" || len(got.Households) != 3 || len(got.Findings) != 1 || h.Load != 15 || h.Hours != 72 || h.Heat != 3 || h.WaterLimit != "vessels" {
		t.Errorf("%+v", got)
	}
	if diff := cmp.Diff([]jsonLasting{{Stock: "water", Hours: 30, Known: true}, {Stock: "energy", Hours: 72, Known: true}, {Stock: "light", Hours: 72}}, h.Stocks); diff != "" {
		t.Error(diff)
	}
	if f := h.Drills[0]; f.Kind != "pack-lost" || f.Gone[0] != "first_aid" || f.New[0].Rule != "x/y" || h.Drills[1].Hours != 96 || h.Single[0] != "open_cans" || h.Can[2] != "open_cans" {
		t.Errorf("%+v", h)
	}
	if got.Households[1].Read || got.Households[1].Stocks == nil && got.Households[2].Stocks == nil {
		t.Errorf("%+v", got.Households)
	}
}

// Of findings that nothing tells apart, one stands for all, with their number; what has a place of its own is never put together.
func TestTextCountsWhatIsAlike(t *testing.T) {
	f := finding.Finding{Rule: "x/y", Level: finding.Note, Message: "a title", Household: "household-bcdf", Path: "folder-bcdf", Remedy: "Mend it."}
	waived, other := f, f
	waived.Waived, other.Path, other.Household = &finding.Waiver{}, "folder-ghjk", ""
	twin := f
	twin.Path, twin.Household = "folder-mnpq", "household-mnpq"
	r := made(func(r *finding.Run) {
		r.Shared = "key-bcdf"
		r.Households = []finding.Household{{Name: "household-bcdf", Path: "folder-bcdf", Judged: true}, {Name: "household-mnpq", Path: "folder-mnpq", Judged: true}, {Name: "household-mnpq", Path: "folder-npqr"}}
	}, f, f, f, waived, other, twin)
	want := `household-bcdf: note: a title (3 times) [x/y]
household-bcdf: waived note: a title [x/y]
folder-ghjk: note: a title [x/y]
household-mnpq (folder-mnpq): note: a title [x/y]
`
	if diff := cmp.Diff(want+Count(r)+"\n", written(t, Lines, r)); diff != "" {
		t.Error(diff)
	}
	want = `household-bcdf: ready (3 notes, 1 waived)

note: x/y [x/y]
    a title (3 times)
  Fix: Mend it.

waived note: x/y [x/y]
    a title
    waived: the household lives with it for a time

folder-ghjk: only partly checked (1 note)

note: x/y [x/y]
    a title
  Fix: Mend it.

household-mnpq, folder-mnpq: ready (1 note)

note: x/y [x/y]
    a title
  Fix: Mend it.

`
	got := written(t, Text, r)
	if diff := cmp.Diff(want+Count(r)+"\n", got); diff != "" {
		t.Error(diff)
	}
	r.Shared = ""
	if got := written(t, Lines, r); bytes.Count([]byte(got), []byte("[x/y]")) != 6 {
		t.Error(got)
	}
}
