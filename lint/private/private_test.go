package private

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/compare"
	"kitmuster/lint/drill"
	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
	"kitmuster/lint/trial"
)

func mask(first byte) *Mask {
	var key [KeySize]byte
	for i := range key {
		key[i] = first + byte(i)
	}
	return New(key, []finding.Rule{{Name: "load/cap", Title: "Load within\nthe cap", Remedy: "Take\nout", Caution: "Ask"}, {Name: "input/value", Title: "overwritten"}},
		map[string][]finding.Limit{"load/cap": {{Name: "load.cap", Value: "15 %", Source: "a source"}}}, []finding.Rule{{Name: "input/value", Title: "A value that cannot be"}})
}

// The pseudonyms of key 00 01 … 1f, worked out by another implementation of HMAC-SHA-256 (Python's hmac module).
func TestPseudonyms(t *testing.T) {
	m := mask(0)
	for _, c := range [][2]string{
		{m.household("Birch"), "household-cxbs-jhbk-knzn"}, {m.Folder("birch"), "folder-sjlj-nhvd-kdzl"}, {m.Key(), "key-cwnj-djkl-vgmj"}, {m.Folder("."), "folder-hbzr-bhcn-mkbh"}, {m.household(""), ""},
	} {
		if c[0] != c[1] {
			t.Errorf("got %s, want %s", c[0], c[1])
		}
	}
	form := regexp.MustCompile(`^folder(-[bcdfghjklmnpqrstvwxz]{4}){3}$`)
	seen := map[string]string{}
	for i := range 20_000 {
		path := fmt.Sprint("valley/", i)
		p := m.Folder(path)
		if !form.MatchString(p) || seen[p] != "" {
			t.Fatalf("%s is %s, as is %q", path, p, seen[p])
		}
		seen[p] = path
	}
	if other := mask(1); other.Folder("valley/0") == m.Folder("valley/0") || other.Key() == m.Key() {
		t.Error("another key gives the same pseudonyms")
	}
}

func TestKindsOfSpots(t *testing.T) {
	for spot, want := range map[string]string{
		"": "", "household": "household", "household/can/fire": "household", "packs/rust": "packs/*", "packs": "packs", "people/ana/load": "people/*",
		"packs/rust/compartments/lid/items/lamp/mass": "packs/*/compartments/*/items/*", "people/items/onBody/people/mass": "people/*/onBody/*",
		"plan/seasons/hot/day": "plan/seasons/*", "record/waivers/one/rule": "record/waivers/*", "limits/load/adult_cap": "limits/*", "pakcs/rust/items/lamp": "",
		"people/a~1packs~1b/bodyMass": "people/*",
	} {
		if got := pattern(spot); got != want {
			t.Errorf("%q: got %q, want %q", spot, got, want)
		}
	}
}

// A finding keeps its rule, level and state; all else comes from the standard, also where the household has a limit of its own.
func TestRun(t *testing.T) {
	m := mask(0)
	at := func(line int) source.Span {
		return source.Span{File: "birch/kit.cue", Start: source.Point{Line: line, Col: 1}}
	}
	private := finding.Finding{
		Rule: "load/cap", Level: finding.Error, Message: "Ana bears 12 kg", Household: "Birch", Path: "birch", Spot: "people/ana/load", At: at(3), Because: []finding.Because{{Message: "lamp", At: at(4)}},
		Limits: []finding.Limit{{Name: "load.cap", Value: "9 %", Source: "my knee", At: at(5)}}, Remedy: "r", Caution: "c", State: finding.New, Waived: &finding.Waiver{Reason: "knee", Until: "2027-01-01", Agreed: "Bo", At: at(6)},
	}
	fs := []finding.Finding{
		private,
		{Rule: "input/value", Level: finding.Error, Message: "Ana is 300 y", Household: "Birch", Path: "birch", Spot: "people/ana/age", State: finding.Unchanged, At: at(9)},
		{Rule: "x:own/rule", Level: finding.Note, Message: "Ana", Household: "Birch", Path: "birch", State: finding.New, At: at(10)},
		{Rule: "input/value", Level: finding.Error, Message: "no kit", Path: "nowhere", State: finding.Mended},
	}
	r := &finding.Run{
		Version: "v0", On: "2026-11-01", Since: "anas-branch (0123456789ab)", Part: "1/2", Least: finding.Note, Partial: "interrupted after 1 of 2 households", Remarks: []string{"as made with the alias"}, Untouched: 3,
		Rules: []finding.Rule{{Name: "load/cap"}},
	}
	r.Count([]finding.Household{{Name: "Birch", Path: "birch", Judged: true}, {Path: "cedar"}}, fs...)
	got := m.Run(r)
	name, birch := m.household("Birch"), m.Folder("birch")
	want := []finding.Finding{
		{Rule: "input/value", Level: finding.Error, Title: "A value that cannot be", Message: "A value that cannot be", Household: name, Path: birch, Spot: "people/*", State: finding.Unchanged},
		{
			Rule: "load/cap", Level: finding.Error, Title: "the rule objects: Load within the cap", Message: "the rule objects: Load within the cap", Household: name, Path: birch, Spot: "people/*", State: finding.New,
			Limits: []finding.Limit{{Name: "load.cap", Value: "15 %", Source: "a source"}}, Remedy: "Take out", Caution: "Ask", Waived: &finding.Waiver{},
		},
		{Rule: "x:own/rule", Level: finding.Note, Message: untitled, Household: name, Path: birch, State: finding.New},
		{Rule: "input/value", Level: finding.Error, Title: "A value that cannot be", Message: "A value that cannot be", Path: m.Folder("nowhere"), State: finding.Mended},
	}
	found, err := got.Findings.All()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, found); diff != "" {
		t.Error(diff)
	}
	found, got.Findings = nil, nil
	rest := &finding.Run{
		Version: "v0", On: "2026-11-01", Shared: m.Key(), Since: m.name("state", r.Since), Part: "1/2", Least: finding.Note, Partial: r.Partial, Remarks: r.Remarks, Untouched: 3, Summary: r.Summary,
		Households: []finding.Household{{Name: name, Path: birch, Judged: true}, {Path: m.Folder("cedar")}},
	}
	if diff := cmp.Diff(rest, got); diff != "" {
		t.Error(diff)
	}
}

// An error ends the walk and is told; a reader that has enough is not asked on.
func TestWalkEnds(t *testing.T) {
	m := mask(0)
	broken := func(yield func(*finding.Finding, error) bool) {
		_ = yield(&finding.Finding{Path: "a"}, nil) && yield(&finding.Finding{Path: "b"}, nil) && yield(nil, fmt.Errorf("the disk is gone"))
	}
	fs, err := byHousehold(broken, m.Findings).All()
	if len(fs) != 1 || err == nil {
		t.Errorf("%v, %v", fs, err)
	}
	n := 0
	for range byHousehold(finding.List(finding.Finding{Path: "a"}, finding.Finding{Path: "b"}, finding.Finding{Path: "c"}), m.Findings) {
		if n++; n == 2 {
			break
		}
	}
	if n != 2 {
		t.Errorf("%d", n)
	}
}

// Of several of a kind the worst is told, and nothing of doses, of what tells of someone, and of masses.
func TestMeasured(t *testing.T) {
	m := mask(0)
	f := &facts.Facts{
		Carriers: []facts.Carrier{{Packs: []string{"packs/a"}, ShareP: 134}, {Packs: []string{"packs/b"}, ShareP: 145}, {ShareP: 900}},
		Endurance: facts.Endurance{Hours: 72, WaterLimit: "vessels", Category: 3, Stocks: []facts.Lasting{
			{Kind: "doses", Name: "x", Lasts: 1, Known: true}, {Kind: "energy", Body: "animals/x", Lasts: 20, Known: true}, {Kind: "energy", Lasts: 60, Known: true}, {Kind: "light", Lasts: 72},
			{Kind: "water", Lasts: 40, Known: true},
		}},
	}
	for _, c := range []kinds.Capability{"comfort", "defend", "fire", "identify", "lead", "see", "treat-water"} {
		f.Household.Supply.Can = append(f.Household.Supply.Can, facts.Can{Capability: c})
	}
	want := Shared{
		Household: finding.Household{Name: m.household("Birch"), Path: m.Folder("birch"), Judged: true}, Read: true, Hours: 72, Load: 15, Can: []kinds.Capability{"fire", "treat-water"},
		Stocks: []finding.Stock{{Kind: "water", Lasts: 40, Known: true}, {Kind: "energy", Lasts: 20, Known: true}, {Kind: "light", Lasts: 72}}, WaterLimit: "vessels", Heat: 3,
	}
	if diff := cmp.Diff(want, m.Measured(finding.Household{Name: "Birch", Path: "birch", Judged: true}, f)); diff != "" {
		t.Error(diff)
	}
	if got := m.Measured(finding.Household{Path: "x"}, nil); got.Read || got.Household.Path != m.Folder("x") {
		t.Errorf("%+v", got)
	}
}

// How many people and carriers there are shows neither in the kinds of drills nor in their number.
func TestDrilled(t *testing.T) {
	m := mask(0)
	water := func(hours int) []finding.Stock {
		return []finding.Stock{{Kind: "animal food", Lasts: int64(hours) - 1, Known: true}, {Kind: "doses", Of: "x", Lasts: 1, Known: true}, {Kind: "energy", Lasts: int64(hours), Known: true}}
	}
	base := drill.Fate{Hours: 72, Lasts: water(70)}
	one := &drill.Drilled{Household: finding.Household{Name: "Birch", Path: "birch"}, Base: base, Drills: []drill.Fate{{Kind: "late", Hours: 96, Lasts: water(60)}}}
	many := &drill.Drilled{Household: one.Household, Base: base, Drills: []drill.Fate{
		{Kind: "pack-lost", Key: "pack-lost/rust", Text: "without Rust", Hours: 72, Lasts: water(30), Lost: []finding.Loss{{Capability: "fire", All: true}, {Capability: "defend", All: true}, {Capability: "cook", Who: []string{"Ana"}}}},
		{Kind: "pack-lost", Hours: 72, Lasts: water(20), Lost: []finding.Loss{{Capability: "fire", All: true}, {Capability: "cook", All: true}}, New: []finding.Finding{{Rule: "load/cap", Spot: "people/ana", Level: finding.Error}, {Rule: "load/cap", Spot: "people/bo", Level: finding.Error}}},
		{Kind: "alone", Hours: 72, Lasts: water(50)}, {Kind: "pair", Hours: 72, Lasts: water(40)}, {Kind: "unable", Hours: 72, Lasts: water(66)}, {Kind: "late", Hours: 96, Lasts: water(60)},
	}, Points: []finding.Point{{Item: "packs/rust/items/pot", Name: "Ana's pot", Losses: []finding.Loss{{Capability: "cook", All: true}, {Capability: "see", All: true}, {Capability: "cut", Who: []string{"Ana"}}}}}}
	kindsOf := func(s Shared) (out []string) {
		for _, f := range s.Fates {
			stocks := []string{}
			for _, s := range f.Stocks {
				if s != (finding.Stock{Kind: s.Kind, Known: s.Known, Lasts: s.Lasts}) {
					t.Errorf("more is told of a stock: %+v", s)
				}
				stocks = append(stocks, fmt.Sprintf("{%s %d %t}", s.Kind, s.Lasts, s.Known))
			}
			out = append(out, fmt.Sprint(f.Kind, " ", stocks, " ", f.Gone, " ", len(f.New)))
		}
		return out
	}
	a, b := m.Drilled(one), m.Drilled(many)
	if diff := cmp.Diff([]string{"pack-lost [{energy 69 true}] [] 0", "apart [{energy 69 true}] [] 0", "unable [{energy 69 true}] [] 0", "late [{energy 59 true}] [] 0"}, kindsOf(a)); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"pack-lost [{energy 19 true}] [cook fire] 1", "apart [{energy 39 true}] [] 0", "unable [{energy 65 true}] [] 0", "late [{energy 59 true}] [] 0"}, kindsOf(b)); diff != "" {
		t.Error(diff)
	}
	if !slices.Equal(b.Single, []kinds.Capability{"cook"}) || strings.Contains(fmt.Sprintf("%+v", b), "Ana") {
		t.Errorf("%+v", b)
	}
	if got := m.Drilled(&drill.Drilled{Household: one.Household}); got.Read {
		t.Error("what could not be read was drilled")
	}
}

func TestComparison(t *testing.T) {
	m := mask(0)
	fig := func(group, id, label string, value int64) *compare.Figure {
		return &compare.Figure{Group: group, ID: group + "/" + id, Label: label, Unit: "hours", Value: value}
	}
	c := &compare.Comparison{Run: &finding.Run{Findings: finding.List(), Households: make([]finding.Household, Few)}, Households: []compare.Compared{{Household: finding.Household{Name: "Birch", Path: "birch"}, Was: "old", Changes: []compare.Change{
		{Before: fig("mass", "all", "all packs", 1), Now: fig("mass", "all", "all packs", 2)},
		{Now: fig("capabilities", "household/fire", "fire, for the household", 1)},
		{Now: fig("capabilities", "people/ana/fire", "fire, for Ana alone", 1)},
		{Before: fig("capabilities", "household/defend", "defend, for the household", 1)},
		{Before: fig("endurance", "household/stocks/water", "water lasts", 10), Now: fig("endurance", "household/stocks/water", "water lasts", 20)},
		{Before: fig("endurance", "x", "energy of Rex lasts", 10)}, {Before: fig("endurance", "x", "doses of x of Ana lasts", 10)},
		{Now: fig("food", "energy", "food energy", 1)}, {Now: fig("dates", "x", "fire, for the household", 1)},
	}}, {Household: finding.Household{Path: "new"}}}}
	want := []compare.Compared{{Household: finding.Household{Name: m.household("Birch"), Path: m.Folder("birch")}, Was: m.Folder("old"), Changes: []compare.Change{
		{Now: fig("capabilities", "fire", "fire, for the household", 1)},
		{Before: fig("endurance", "water", "water lasts", 10), Now: fig("endurance", "water", "water lasts", 20)},
	}}, {Household: finding.Household{Path: m.Folder("new")}}}
	if diff := cmp.Diff(want, m.Comparison(c).Households); diff != "" {
		t.Error(diff)
	}
}

// A trial keeps counts, rules and levels, and tells no amount, no sum, no place; households stand in the order of their pseudonyms.
func TestTrial(t *testing.T) {
	m := mask(1)
	said := finding.Finding{Rule: "load/cap", Level: finding.Error, Message: "Ana bears 12 kg", Household: "Birch", Path: "birch", Spot: "people/ana/load", At: source.Span{File: "birch/kit.cue"}, State: finding.New, Lack: &finding.Shortfall{What: "load", Unit: "mg", Amount: 12}}
	old := said
	old.Message, old.Lack = "Ana bears 11 kg", &finding.Shortfall{What: "load", Unit: "mg", Amount: 11}
	in := &trial.Trial{
		On: "2026-11-01", Old: trial.Standard{Name: "base 1.0.0"}, New: trial.Standard{Name: "valley 1.1.0", Digest: "sha256:00"}, Partial: "interrupted",
		Totals: []trial.Total{{What: "load", Unit: "mg", New: 12}},
		Rules:  []trial.RuleChange{{Name: "a/b", Change: "added"}}, Failed: []finding.Rule{{Name: "load/cap"}},
		Limits: []trial.LimitChange{{Name: "a.b", Change: "loosened", Now: finding.Limit{Name: "a.b", At: source.Span{File: "ana/standard.cue"}}}},
	}
	for _, name := range []string{"Alder", "Birch", "Cedar", "Dogwood"} {
		h := trial.Tried{Household: finding.Household{Name: name, Path: strings.ToLower(name), Judged: true}, Errors: trial.Tally{New: 1}, Unstated: 2, Doubt: "a rule broke"}
		h.Findings, h.Changed = []finding.Finding{said}, []trial.Shift{{Old: old, New: said}}
		in.Households = append(in.Households, h)
	}
	got := m.Trial(in)
	if text := fmt.Sprintf("%+v", got); regexp.MustCompile(`(?i)ana\b|birch|alder|kg|kit\.cue`).MatchString(text) || got.Totals != nil {
		t.Error(text)
	}
	for i, h := range got.Households {
		if i > 0 && got.Households[i-1].Household.Path >= h.Household.Path {
			t.Error("the order is not that of the pseudonyms")
		}
		f := append([]finding.Finding{h.Changed[0].Old, h.Changed[0].New}, h.Findings...)
		if slices.ContainsFunc(f, func(f finding.Finding) bool { return f.Lack != nil || f.At.Known() }) {
			t.Errorf("an amount or a place: %+v", f)
		}
		if h.Errors.New != 1 || h.Doubt != "a rule broke" || h.Findings[0].State != finding.New || !h.Household.Judged {
			t.Errorf("%+v", h)
		}
	}
	if got.Shared != m.Key() || got.Partial != in.Partial || got.New != in.New || len(got.Rules) != 1 || len(got.Limits) != 1 || len(got.Failed) != 1 {
		t.Errorf("%+v", got)
	}
	if in.Limits[0].Now.At.File == "" || in.Households[0].Household.Name != "Alder" {
		t.Error("what was given is changed")
	}
}
