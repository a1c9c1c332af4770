package audit

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
)

// planRules are rules of each kind of work, beside one of medicines.
var planRules = []finding.Rule{
	{Name: "medication/supply", Mend: finding.Fix{Work: finding.ToAdd}},
	{Name: "dates/expired", Mend: finding.Fix{Work: finding.ToExchange}},
	{Name: "dates/due", Mend: finding.Fix{Work: finding.ToExchange}},
	{Name: "load/cap", Mend: finding.Fix{Work: finding.ToLeave}},
	{Name: "access/reach", Mend: finding.Fix{Work: finding.ToMove}},
	{Name: "fire/two-means", Mend: finding.Fix{Work: finding.ToAdd, Thing: "fire"}},
	{Name: "water/start", Mend: finding.Fix{Work: finding.ToAdd, Thing: "water"}},
	{Name: "waiver/past", Mend: finding.Fix{Work: finding.ToDecide}},
	{Name: "practice/audited", Mend: finding.Fix{Work: finding.ToCheck}},
	{Name: "data/use", Mend: finding.Fix{Work: finding.ToWrite}},
}

// open is a finding of a rule.
func open(rule string, level finding.Level) finding.Finding {
	return finding.Finding{Rule: rule, Level: level, Message: rule}
}

// lacking is one that says how much is missing.
func lacking(rule, what string, unit kinds.Unit, amount int64) finding.Finding {
	f := open(rule, finding.Error)
	f.Lack = &finding.Shortfall{What: what, Unit: unit, Amount: amount}
	return f
}

func TestActOf(t *testing.T) {
	fixes := Fixes(planRules)
	for rule, want := range map[string]Act{
		"medication/supply": Order, "dates/expired": Swap, "load/cap": Lighten, "access/reach": Repack, "fire/two-means": PutIn, "waiver/past": Decide,
		"practice/audited": Check, "data/use": Record, "input/kit": Correct, "held back": Unnamed,
	} {
		if got := ActOf(rule, fixes[rule].Work); got != want {
			t.Errorf("%s: %s, want %s", rule, got, want)
		}
	}
	if got := ActOf("valley:medication/spare", finding.ToExchange); got != Order {
		t.Error("a medicine of a group's standard is", got)
	}
	if got := ActOf("medication/label", finding.ToWrite); got != Record {
		t.Error("a label to write is", got)
	}
	for _, w := range finding.Works {
		if act := ActOf("tools/cut", w); act == Unnamed || !slices.Contains(Acts, act) {
			t.Errorf("%s is work of no act", w)
		}
	}
}

// A household's tasks come in the order of the acts, each with its errors first, and what is waived is none.
func TestTasks(t *testing.T) {
	waived := open("fire/two-means", finding.Error)
	waived.Waived = &finding.Waiver{}
	h := &Audited{Findings: []finding.Finding{
		open("data/use", finding.Warning), open("fire/two-means", finding.Note), waived, open("fire/two-means", finding.Error), open("dates/expired", finding.Warning), open("dates/expired", finding.Warning),
	}}
	tasks := h.Tasks(Fixes(planRules))
	var got []string
	for _, x := range tasks {
		got = append(got, fmt.Sprintf("%s %d %d %d %s", x.Act, x.Errors, x.Warnings, x.Notes, x.Findings[0].Level))
	}
	if want := []string{"swap 0 2 0 warning", "put in 1 0 1 error", "write down 0 1 0 warning"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	if got := h.Next(tasks, Fixes(planRules), false); got != "Add a way to make fire" {
		t.Error(got)
	}
	if got := h.Distance(); got != 1 {
		t.Error(got)
	}
}

// What comes next is about errors before warnings; a sheet on a wall says nothing of medicines.
func TestNext(t *testing.T) {
	fixes := Fixes(planRules)
	over := &Sheet{Bearers: []Bearer{{Name: "Ana", LoadMG: 9_000_000, CapMG: 10_000_000}, {Name: "Bo", LoadMG: 11_200_000, CapMG: 10_000_000}}}
	for _, c := range []struct {
		fs          []finding.Finding
		sheet       *Sheet
		next, aloud string
	}{
		{nil, nil, "", ""},
		{[]finding.Finding{open("medication/supply", finding.Error), open("dates/expired", finding.Warning)}, nil, "Order medicine", "Replace 1 expired thing"},
		{[]finding.Finding{open("medication/supply", finding.Warning), open("load/cap", finding.Error)}, over, "Take 1.20 kg from Bo", "Take 1.20 kg from Bo"},
		{[]finding.Finding{open("load/cap", finding.Error)}, nil, "Take something out", "Take something out"},
		{[]finding.Finding{open("water/start", finding.Error)}, nil, "Add water", "Add water"},
		{[]finding.Finding{open("water/start", finding.Error), open("fire/two-means", finding.Error)}, nil, "Add 2 missing things", "Add 2 missing things"},
		{[]finding.Finding{open("dates/expired", finding.Error), open("dates/due", finding.Error)}, nil, "Swap 2 things", "Swap 2 things"},
		{[]finding.Finding{open("dates/expired", finding.Warning), open("load/cap", finding.Warning)}, over, "Take 1.20 kg from Bo", "Take 1.20 kg from Bo"},
		{[]finding.Finding{open("dates/expired", finding.Warning), open("water/start", finding.Warning), open("fire/two-means", finding.Warning)}, nil, "Add 2 missing things", "Add 2 missing things"},
		{[]finding.Finding{open("waiver/past", finding.Warning)}, nil, "Renew or end a waiver", "Renew or end a waiver"},
		{[]finding.Finding{open("practice/audited", finding.Note)}, nil, "Look through all packs", "Look through all packs"},
		{[]finding.Finding{open("input/kit", finding.Error), open("medication/supply", finding.Error)}, nil, "Correct the kit files", "Correct the kit files"},
		{[]finding.Finding{open("unheard", finding.Error)}, nil, "See its findings", "See its findings"},
	} {
		h := &Audited{Findings: c.fs, Sheet: c.sheet}
		tasks := h.Tasks(fixes)
		if next, aloud := h.Next(tasks, fixes, false), h.Next(tasks, fixes, true); next != c.next || aloud != c.aloud {
			t.Errorf("%q, on a wall %q; want %q and %q", next, aloud, c.next, c.aloud)
		}
	}
}

// plannedOf adds a household to a plan.
func plannedOf(p *Plan, judged bool, s *Sheet, fs ...finding.Finding) {
	h := &Audited{Household: finding.Household{Judged: judged}, Findings: fs, Sheet: s}
	p.Add(h, h.Tasks(Fixes(planRules)))
}

// The steps come in an order in which none undoes another, each with what it clears, who it is for, its mass, and who is ready after it.
func TestDeeds(t *testing.T) {
	p := NewPlan(planRules, false)
	plannedOf(p, true, &Sheet{RoomMG: 4_000_000, Bearers: []Bearer{{Name: "Bo", LoadMG: 11_200_000, CapMG: 10_000_000}}, Things: []Thing{{kinds.CanFire, []int64{40_000, 20_000, 30_000}}}},
		open("load/cap", finding.Warning), lacking("fire/two-means", "things for fire", kinds.UnitCount, 2), lacking("water/start", "water at the start", kinds.UnitVolume, 1500), lacking("water/start", "water at the start", kinds.UnitVolume, 500))
	plannedOf(p, true, nil, open("medication/supply", finding.Error))
	plannedOf(p, true, nil, open("practice/audited", finding.Note))
	plannedOf(p, false, nil, open("medication/supply", finding.Error), open("access/reach", finding.Warning))
	plannedOf(p, true, nil, open("unheard", finding.Error))
	var got []string
	for _, d := range p.Deeds() {
		text := fmt.Sprintf("%s: %d %d, ready %d, %d mg, %d unknown", d.Acts[0], d.Errors, d.Warnings, d.Ready, d.MassMG, d.Unknown)
		for _, of := range d.For {
			text += fmt.Sprintf("; %d", of.Household)
			for _, x := range of.Over {
				text += fmt.Sprintf(" %s %d", x.Name, x.OverMG)
			}
			for _, l := range of.Lacks {
				text += fmt.Sprintf(" %s %d %d", l.What, l.Count, l.Amount)
			}
		}
		got = append(got, text)
	}
	want := []string{
		"order: 2 0, ready 2, 0 mg, 0 unknown; 1; 3", // of those that are judged, the second and the third
		"lighten: 0 2, ready 2, -1200000 mg, 0 unknown; 0 Bo 1200000; 3",
		"put in: 3 0, ready 3, 2060000 mg, 0 unknown; 0 things for fire 2 0 water at the start 0 2000", // 2 × 30 g, 2 L
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// What is past its date is bought anew, what the kit renews on a day is renewed, what is missing is added; medicines are on no list.
func TestShopping(t *testing.T) {
	p := NewPlan(planRules, false)
	due := func(spot, name string, kind kinds.Date, medicine bool) Due {
		return Due{Spot: spot, Name: name, Kind: kind, Medicine: medicine}
	}
	at := func(rule, spot string) finding.Finding {
		f := open(rule, finding.Warning)
		f.Spot = spot
		return f
	}
	s := &Sheet{Due: []Due{due("a", "Rye bar", kinds.DateExpires, false), due("b", "rye bar ", kinds.DateExpires, false), due("c", "bottle", kinds.DateRotate, false), due("d", "pills", kinds.DateExpires, true), due("e", "nuts", kinds.DateExpires, false)}}
	note := at("dates/expired", "e")
	note.Level = finding.Note
	plannedOf(p, true, s, at("dates/expired", "a"), at("dates/expired", "b"), at("dates/due", "c"), at("dates/expired", "d"), note, lacking("fire/two-means", "things for fire", kinds.UnitCount, 1))
	plannedOf(p, true, s, at("dates/expired", "a"), lacking("fire/two-means", "things for fire", kinds.UnitCount, 2), lacking("medication/supply", "doses", kinds.UnitMilli, 3000))
	if got, want := listing(p.Shopping()), "swap Rye bar 3 [0 1]; add things for fire 3 [0 1]; renew bottle 1 [0]"; got != want {
		t.Error(got)
	}
}

// listing writes what is to get, list by list.
func listing(l Lists) string {
	var out []string
	for _, list := range []struct {
		name string
		of   []Buy
	}{{"order", l.Orders}, {"swap", l.Swaps}, {"kind", l.Kinds}, {"add", l.Adds}, {"renew", l.Renews}} {
		for _, b := range list.of {
			out = append(out, strings.TrimSpace(fmt.Sprintf("%s %s %d %v %s", list.name, b.What, b.Count+b.Amount, b.For, strings.Join(b.Says, ", "))))
		}
	}
	return strings.Join(out, "; ")
}

// Everything that a step says must be got is on the list: what states no amount is named too, by what the rule says to get, else by
// what it can do, else by the rule's title. Of one household the findings say for whom it is, and medicines are on it.
func TestTheListHasAllThatTheStepsNeed(t *testing.T) {
	rules := append(slices.Clone(planRules),
		finding.Rule{Name: "signals/whistle", Mend: finding.Fix{Work: finding.ToAdd, Get: "whistle"}},
		finding.Rule{Name: "light/each", Mend: finding.Fix{Work: finding.ToAdd, Thing: "light"}},
		finding.Rule{Name: "own/thing", Title: "Each has a thing", Mend: finding.Fix{Work: finding.ToAdd}},
		finding.Rule{Name: "shelter/warm", Mend: finding.Fix{Work: finding.ToExchange, Get: "warm bedding"}})
	says := func(rule, text string) finding.Finding {
		f := open(rule, finding.Warning)
		f.Message = text
		return f
	}
	fs := []finding.Finding{
		says("signals/whistle", "Ana has none"), says("signals/whistle", "Bo has none"), says("signals/whistle", "Bo has none"), says("light/each", "no light"), says("own/thing", "no thing"),
		says("shelter/warm", "too cold"), says("medication/supply", "no pills"), says("load/cap", "too heavy"),
	}
	for _, c := range []struct {
		alone bool
		want  string
	}{
		{true, "order medication/supply 0 [0] no pills; kind warm bedding 0 [0] too cold; add Each has a thing 0 [0] no thing; add light 0 [0] no light; add whistle 0 [0] Ana has none, Bo has none"},
		{false, "kind warm bedding 0 [0 1]; add Each has a thing 0 [0 1]; add light 0 [0 1]; add whistle 0 [0 1]"},
	} {
		p := NewPlan(rules, c.alone)
		for range map[bool]int{true: 1, false: 2}[c.alone] {
			h := &Audited{Household: finding.Household{Judged: true}, Findings: slices.Clone(fs)}
			p.Add(h, h.Tasks(Fixes(rules)))
		}
		if got := listing(p.Shopping()); got != c.want {
			t.Errorf("%t:\n%s\n%s", c.alone, got, c.want)
		}
	}
}

// Room is given away once: what comes out of a pack takes room in the others, and what then goes in has only the rest.
func TestRoomIsGivenAwayOnce(t *testing.T) {
	for _, c := range []struct {
		reason              string
		room, over, water   int64
		stays, left, excess int64
		ready               bool
	}{
		{"all of it fits", 3_000_000, 1_000_000, 2000, 0, 2_000_000, 0, true},
		{"a little more does not, but the error comes first", 2_999_999, 1_000_000, 2000, 0, 1_999_999, 1, true},
		{"not even the error's thing fits", 1_999_999, 0, 2000, 0, 1_999_999, 1, false},
		{"what comes out has no room itself", 3_390_000, 5_680_000, 8450, 2_290_000, 0, 10_740_000, false},
		{"nothing comes out", 2_000_000, 0, 2000, 0, 2_000_000, 0, true},
	} {
		p := NewPlan(planRules, true)
		s := &Sheet{RoomMG: c.room, Bearers: []Bearer{{Name: "Bo", LoadMG: 10_000_000 + c.over, CapMG: 10_000_000}}}
		fs := []finding.Finding{lacking("water/start", "water", kinds.UnitVolume, c.water)}
		if c.over > 0 {
			fs = append(fs, open("load/cap", finding.Warning))
		}
		plannedOf(p, true, s, fs...)
		ds := p.Deeds()
		last := ds[len(ds)-1]
		if of := last.For[0]; of.RoomMG != c.left || of.TooMuchMG != c.excess || last.NoRoom != (c.excess > 0) || (last.Ready == 1) != c.ready {
			t.Errorf("%s: %+v, ready %d", c.reason, of, last.Ready)
		}
		if c.over > 0 && ds[0].For[0].StaysMG != c.stays {
			t.Errorf("%s: %+v", c.reason, ds[0].For[0])
		}
		if act, _ := p.Nearer(); (act == PutIn) != c.ready {
			t.Errorf("%s: nearer by %q", c.reason, act)
		}
	}
}

// The cheapest way forward is what alone keeps most households from being ready; the earlier act where several are even.
func TestNearer(t *testing.T) {
	p := NewPlan(planRules, false)
	if act, who := p.Nearer(); act != "" || who != nil {
		t.Error(act, who)
	}
	plannedOf(p, true, nil, open("fire/two-means", finding.Error))
	plannedOf(p, true, nil, open("medication/supply", finding.Error), open("fire/two-means", finding.Error))
	plannedOf(p, false, nil, open("dates/expired", finding.Error))
	plannedOf(p, true, nil, open("dates/expired", finding.Error), open("fire/two-means", finding.Warning))
	if act, who := p.Nearer(); act != Swap || !slices.Equal(who, []int{3}) {
		t.Error(act, who)
	}
	plannedOf(p, true, nil, open("water/start", finding.Error))
	if act, who := p.Nearer(); act != PutIn || !slices.Equal(who, []int{0, 4}) {
		t.Error(act, who)
	}
}

// Who is nearest the cap is found by the share of the cap, and nobody without a cap is.
func TestNearest(t *testing.T) {
	s := &Sheet{Bearers: []Bearer{{Name: "Ana", LoadMG: 5, CapMG: 10}, {Name: "Bo", LoadMG: 4, CapMG: 5}, {Name: "Tuft", LoadMG: 9}}}
	if got := s.Nearest(); got == nil || got.Name != "Bo" {
		t.Error(got)
	}
	if got := (&Sheet{}).Nearest(); got != nil {
		t.Error(got)
	}
}
