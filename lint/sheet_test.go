package lint_test

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"kitmuster/lint"
	"kitmuster/lint/audit"
	"kitmuster/lint/facts"
	"kitmuster/lint/household"
)

// sheet is that of a household of the examples, its findings beside it.
func sheet(t *testing.T, name string) *audit.Audited {
	t.Helper()
	tree := os.DirFS("../examples/harrow-valley")
	o := lint.Options{Options: household.Options{On: day(t)}, Want: &audit.Product, Patterns: []string{name}, Rules: rulebook(t)}
	res := lint.Check(context.Background(), tree, o)
	defer res.Close()
	for h, err := range audit.Households(res) {
		if err != nil {
			t.Fatal(err)
		}
		return h
	}
	t.Fatalf("%s is not there", name)
	return nil
}

// A sheet comes through the packing and the spool as it was made, and says what measuring says.
func TestSheetSaysWhatMeasuringSays(t *testing.T) {
	h := sheet(t, "birch")
	s := h.Sheet
	m := household.Measure(os.DirFS("../examples/harrow-valley"), "birch", household.Options{On: day(t)})
	f := m.Facts
	if s == nil || len(s.Bearers) != 4 {
		t.Fatalf("bearers: %+v", s)
	}
	for _, b := range s.Bearers {
		i := slices.IndexFunc(f.Carriers, func(c facts.Carrier) bool { return c.Name == b.Name })
		c := f.Carriers[i]
		var packs int64
		for _, p := range b.Packs {
			parts := p.EmptyMG
			for _, x := range p.Parts {
				parts += x.MassMG
			}
			if d := parts - p.MassMG; max(d, -d) > int64(len(p.Parts)+1)/2 { // each is rounded to a milligram
				t.Errorf("%s: the parts of %s are %d mg, the pack %d mg", b.Name, p.Name, parts, p.MassMG)
			}
			packs += p.MassMG
		}
		if d := packs - c.LoadMG; max(d, -d) > 1 || b.LoadMG != c.LoadMG || b.CapMG != b.BodyMG*b.CapP/1000 {
			t.Errorf("%s: %+v", b.Name, b)
		}
	}
	if n := len(m.Forecast.Hours); len(s.Hours.Doing) != n || len(s.Hours.Dark) != n || len(s.Hours.WaterML) != n || n != 72 {
		t.Errorf("%d hours: %+v", n, s.Hours)
	}
	if got, want := s.Hours.WaterML[71], m.Forecast.Hours[71].WaterML; got != want {
		t.Errorf("water at the end: %d, not %d", got, want)
	}
	if len(s.Abilities) != len(f.Household.Supply.Can) || len(s.People) != 4 {
		t.Errorf("%d abilities of %d people", len(s.Abilities), len(s.People))
	}
	for _, a := range s.Abilities {
		if len(a.By) != 4 || len(a.HangsBy) != 4 || a.Hangs && len(a.Means) != 1 {
			t.Errorf("%+v", a)
		}
	}
	if len(s.Points) == 0 || !s.Points[0].At.Known() {
		t.Errorf("single points: %+v", s.Points)
	}
	if i := slices.IndexFunc(s.Things, func(x audit.Thing) bool { return x.Capability == "fire" }); i < 0 || len(s.Things[i].EachMG) == 0 {
		t.Errorf("things: %+v", s.Things)
	}
	for _, p := range s.Points {
		for _, l := range p.Losses {
			i := slices.IndexFunc(s.Abilities, func(a audit.Ability) bool { return a.Capability == l.Capability })
			if l.All != s.Abilities[i].Hangs {
				t.Errorf("%s is a single point of %s for all: %v; the table says %v", p.Name, l.Capability, l.All, s.Abilities[i].Hangs)
			}
		}
	}
}

// Dates that matter: those of the things, the ends of waivers, and the next audit, which is never before this one.
func TestSheetKnowsWhatFallsDue(t *testing.T) {
	for _, c := range []struct{ household, kind, day, line string }{
		// Audited 2026-09-06, and practice.audit_days is 183: 24 days of September are left, then 31, 30, 31, 31, 28, and 8 of March.
		{"birch", "audit", "2027-03-08", "birch/household.cue"},
		// Audited 2026-04-25, more than 183 days ago: due on the day of this audit.
		{"cedar", "audit", "2026-11-01", "cedar/household.cue"},
		{"birch", "waiver", "2026-11-30", "birch/household.cue"},
	} {
		s := sheet(t, c.household).Sheet
		i := slices.IndexFunc(s.Due, func(d audit.Due) bool { return string(d.Kind) == c.kind })
		if i < 0 || s.Due[i].Day != int64(dayOf(t, c.day)) || !strings.HasPrefix(s.Due[i].At.String(), c.line) {
			t.Errorf("%s: %s is due %+v, not on %s", c.household, c.kind, s.Due[max(i, 0)], c.day)
		}
	}
	s := sheet(t, "birch").Sheet
	if !slices.IsSortedFunc(s.Due, func(a, b audit.Due) int { return int(a.Day - b.Day) }) {
		t.Error("dates are out of order")
	}
	m := household.Measure(os.DirFS("../examples/harrow-valley"), "birch", household.Options{On: day(t)})
	if len(s.Due) != len(m.Facts.Dates)+2 {
		t.Errorf("%d dates of %d, a waiver and an audit", len(s.Due), len(m.Facts.Dates))
	}
}

// Whoever asks for no sheet gets none, and a household that cannot be read has none.
func TestNoSheet(t *testing.T) {
	b := rulebook(t)
	if out := audit.Product.Make(context.Background(), one(`package kit`+"\n"+`household: "Fen"`), b, "fam", household.Options{On: day(t)}); out.Extra != nil || len(out.Findings) == 0 {
		t.Errorf("%+v", out)
	}
	if out := household.Judge(context.Background(), os.DirFS("../examples/harrow-valley"), b, "alder", household.Options{On: day(t)}); out.Extra != nil {
		t.Error("a sheet that nobody asked for")
	}
}

// Every area of the standard has its subject, so that nothing of it is taken for the group's own.
func TestEveryAreaHasItsSubject(t *testing.T) {
	last := len(audit.Subjects) - 1
	for _, r := range append(household.Rules(rulebook(t)), household.Said()...) {
		if audit.SubjectOf(r.Name) == last {
			t.Errorf("%s has no subject", r.Name)
		}
		if audit.SubjectOf("a-group:"+r.Name) != audit.SubjectOf(r.Name) {
			t.Errorf("%s of a group's standard has another subject", r.Name)
		}
	}
	if audit.SubjectOf("harrow-valley:flood/boots") != last {
		t.Error("an area of the group's own has a subject of the base")
	}
}

// Whatever a household does in an hour, its sheet comes through the doubts of a worker's answer: one that rides is audited too.
func TestSheetOfARide(t *testing.T) {
	tree := files(map[string]string{"a/kit.cue": frame + "vehicles: van: kind: \"van\"\nplan: legs: ride: {order: 1, distance: \"90 km\", by: \"van\"}\n"})
	a := lint.Pack(audit.Product.Make(t.Context(), tree, rulebook(t), "a", household.Options{On: day(t)}))
	if err := a.Believable("a", &audit.Product); err != nil {
		t.Fatal(err)
	}
	var s audit.Sheet
	if err := (lint.Extra{Packed: a.Extra}).Unpack(&s); err != nil || !strings.Contains(s.Hours.Doing, "r") {
		t.Errorf("%q, %v", s.Hours.Doing, err)
	}
}
