package lint_test

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"kitmuster/lint/drill"
	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/unit"
)

// drilled drills a household of the examples.
func drilled(t testing.TB, name string, least finding.Level, season string) *drill.Drilled {
	t.Helper()
	d, faults := drills(t.Context(), os.DirFS("../examples/harrow-valley"), rulebook(t), name, least, household.Options{On: day(t), Season: season})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	return d
}

// drills gives the drills of a household and what could not be read or judged.
func drills(ctx context.Context, tree fs.FS, b *judge.Rulebook, dir string, least finding.Level, o household.Options) (*drill.Drilled, []finding.Finding) {
	o.From = least
	out := drill.Make(ctx, tree, b, dir, o)
	return out.Extra.(*drill.Drilled), out.Findings
}

// one is a tree of one household of one file.
func one(text string) fs.FS { return fstest.MapFS{"fam/kit.cue": {Data: []byte(text)}} }

func fateOf(t *testing.T, d *drill.Drilled, key string) drill.Fate {
	t.Helper()
	i := slices.IndexFunc(d.Drills, func(f drill.Fate) bool { return f.Key == key })
	if i < 0 {
		t.Fatalf("no drill %s", key)
	}
	return d.Drills[i]
}

func lasting(f drill.Fate, stock kinds.Stock) finding.Stock {
	for _, l := range f.Lasts {
		if l.Kind == stock {
			return l
		}
	}
	return finding.Stock{Lasts: -1}
}

// byPerson is the one of whom a finding at a spot may tell: who carries one pack and has it as the spot of what they miss.
func byPerson(f *facts.Facts, spot string) string {
	for _, p := range f.People {
		if slices.Equal(p.Packs, []string{spot}) {
			return p.ID
		}
	}
	return spot
}

// Who has no light has none without their pack either: only where it is told of moves. What the pack held is missed anew.
func TestDrillTellsNothingTwice(t *testing.T) {
	d, faults := drills(t.Context(), one(`package kit

household: "Fam"
people: ana: {age: "42 y", bodyMass: "68 kg"}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: lid: {reach: "walking", items: whistle: {mass: "20 g", can: signal: "whistle"}}}
`), rulebook(t), "fam", finding.Note, household.Options{On: day(t)})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	said := map[string]bool{}
	for _, f := range fateOf(t, d, "pack-lost/rust").New {
		said[f.Rule] = true
	}
	if said["light/each-pack"] || said["fire/two-means"] || !said["signals/whistle-each"] {
		t.Errorf("new without the pack: %v", said)
	}
}

// A drill says what measuring and judging the changed household by hand says.
func TestDrillsAgreeWithTheLongWay(t *testing.T) {
	t.Parallel()
	b := rulebook(t)
	l := load.Household(os.DirFS("../examples/harrow-valley"), "birch", load.Options{})
	d := drilled(t, "birch", finding.Note, "")
	before, ledger := measure.Of(l.Kit, measure.Options{On: day(t)})
	verdicts := func(f *facts.Facts, l *facts.Ledger) map[string]int { // the gravest level of each
		out := map[string]int{}
		vs, faults := b.Judge(context.Background(), f, func(id string) bool { _, ok := l.Entry(id); return ok })
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		for _, v := range vs {
			k := v.Rule.Name + " " + byPerson(f, v.At)
			out[k] = max(out[k], v.Level.Rank())
		}
		return out
	}
	had := verdicts(before, ledger)
	for _, x := range drill.All(l.Kit, func(string) unit.Mass { return 1 << 40 }, func(string) bool { return true }, func(string, *kit.Item) bool { return true }) {
		if x.Kind == "unable" { // has caps of its own here
			continue
		}
		f, ledger := measure.Of(x.Household, measure.Options{On: day(t)})
		got := fateOf(t, d, x.Key)
		if got.Hours != int(f.Endurance.Hours) {
			t.Errorf("%s: %d hours, want %d", x.Key, got.Hours, f.Endurance.Hours)
		}
		for _, s := range f.Endurance.Stocks {
			if s.Body == "" && s.Kind != "doses" && s.Kind != "energy" && lasting(got, s.Kind).Lasts != s.Lasts {
				t.Errorf("%s: %s lasts %+v, want %d h", x.Key, s.Kind, lasting(got, s.Kind), s.Lasts)
			}
		}
		now := verdicts(f, ledger)
		for _, n := range got.New {
			if k := n.Rule + " " + byPerson(f, n.Spot); now[k] < n.Level.Rank() || had[k] >= n.Level.Rank() {
				t.Errorf("%s: %s is not new", x.Key, k)
			}
			delete(now, n.Rule+" "+byPerson(f, n.Spot))
		}
		for k, level := range now {
			if had[k] < level && !strings.HasPrefix(k, "shelter/night-warmth household") { // waived
				t.Errorf("%s: %s is new and not told", x.Key, k)
			}
		}
	}
}

// Facts of the examples that a reader can follow in their files.
func TestDrillsOfTheExamples(t *testing.T) {
	birch := drilled(t, "birch", finding.Error, "")
	lost := fateOf(t, birch, "pack-lost/maren")
	if i := slices.IndexFunc(lost.New, func(f finding.Finding) bool { return f.Rule == "medication/days" }); i < 0 || lost.New[i].At.File != "birch/household.cue" {
		t.Errorf("without Maren's pack her tablets are gone: %v", lost.New)
	}
	if l := lasting(lost, "doses"); l.Lasts != 0 || l.LostMin != 72*60 {
		t.Errorf("doses %+v", l)
	}
	if l := lasting(fateOf(t, birch, "dry"), "water"); l.LostMin != 60*(72-l.Lasts) || l.Lasts > 12 {
		t.Errorf("with no water on the way, water lasts %+v", l)
	}
	if l := lasting(fateOf(t, birch, "late"), "light"); l.Lasts != 96 || l.LostMin != 0 {
		t.Errorf("light for a day more: %+v", l)
	}
	if l := lasting(fateOf(t, birch, "late"), "animal food"); l.Lasts >= 96 || l.LostMin != 60*(96-l.Lasts) {
		t.Errorf("the dog's food for a day more: %+v", l)
	}
	stove := finding.Loss{Capability: "cook", All: true, Who: []string{"Joss"}}
	if l := fateOf(t, birch, "pack-lost/joss").Lost; !slices.ContainsFunc(l, func(x finding.Loss) bool {
		return x.Capability == stove.Capability && x.All && slices.Contains(x.Who, "Joss")
	}) {
		t.Errorf("without Joss's pack nobody cooks: %v", l)
	}
	p := birch.Points[0]
	if !strings.Contains(p.Item, "stove") || !p.Losses[0].All || p.At.File != "birch/joss.cue" {
		t.Errorf("first single point of failure: %+v", p)
	}
	if u := fateOf(t, birch, "unable/joss"); u.Handed || len(u.Left) == 0 || u.LeftMG == 0 {
		t.Errorf("Joss's pack cannot be handed over whole: %+v", u)
	}
	if len(birch.Pairs) != 6 {
		t.Errorf("%d pairs of four packs", len(birch.Pairs))
	}
	if d := drilled(t, "birch", finding.Error, "hot"); slices.ContainsFunc(d.Drills, func(f drill.Fate) bool { return f.Key == "season/hot" }) {
		t.Error("the season chosen is no drill")
	} else if fateOf(t, d, "season/flood").Text != "season flood" {
		t.Error("the season planned for is a drill then")
	}
	for _, f := range birch.Drills {
		for _, n := range f.New {
			if n.Level != finding.Error {
				t.Errorf("%s: %s is no error", f.Key, n.Rule)
			}
		}
	}
}

// The cap that a load is handed over under is the one that rules judge by.
func TestDrillCaps(t *testing.T) {
	const kit = `package kit

household: "Caps"
people: {
	ana: {age: "40 y", bodyMass: "80 kg"}
	ben: {age: "41 y", bodyMass: "70 kg"BEN}
}
animals: rex: {species: "dog", bodyMass: "30 kg", carries: true}
packs: {
	rust: {carrier: "ana", mass: "1 kg", compartments: main: {reach: "walking", items: {
		MANY: {count: 100, mass: "100 g", can: cut: "knife"}
	}}}
	blue: {carrier: "ben", mass: "1 kg"}
	saddle: {carrier: "rex", mass: "500 g"}
}
`
	for _, c := range []struct {
		name, ben, more string
		left            int64 // g, of 10 kg
	}{
		// Ben: 15 % of 70 kg less 1 kg takes 9.5 kg; the dog 10 % of 30 kg less 0.5 kg takes 2.5 kg.
		{"well", "", "", 0},
		// 10 % of 70 kg less 1 kg: 6 kg, and 2.5 kg.
		{"unwell", `, fitness: "unwell"`, "", 1500},
		{"an own cap", `, cap: {share: "5 %", reason: "knee"}`, "", 5000},
		{"a child", `, born: "2014-01-01"`, "", 1500},
		// Knives are not for a child below the age of hands: only the dog's 2.5 kg go along.
		{"a child, and knives", `, born: "2016-01-01"`, "", 7500},
		// Stricter than the standard's: 12 % of 70 kg less 1 kg is 7.4 kg, and the dog's 2.5 kg.
		{"a stricter limit", "", "limits: load: adult_cap: value: \"12 %\"\n", 100},
	} {
		text := strings.NewReplacer("BEN", c.ben, "MANY", "tool").Replace(kit) + c.more
		if strings.HasPrefix(c.name, "a child") {
			text = strings.Replace(text, `age: "41 y", `, "", 1)
		}
		d, faults := drills(context.Background(), one(text), rulebook(t), "fam", finding.Error, household.Options{On: day(t)})
		if len(faults) > 0 {
			t.Fatalf("%s: %v", c.name, faults)
		}
		if u := fateOf(t, d, "unable/ana"); u.LeftMG != c.left*1000 || u.Handed != (c.left == 0) {
			t.Errorf("%s: %d mg stay behind, want %d g", c.name, u.LeftMG, c.left)
		}
	}
}

// Every two packs are drilled up to eight packs, and above that it is said that they are not.
func TestDrillPairsAreBounded(t *testing.T) {
	text := "package kit\n\nhousehold: \"Many\"\npeople: ana: {age: \"40 y\", bodyMass: \"80 kg\"}\n"
	for i := range 9 {
		if i == 8 {
			d, _ := drills(context.Background(), one(text), rulebook(t), "fam", finding.Error, household.Options{On: day(t)})
			if len(d.Pairs) != 28 || d.PairsOf != 0 {
				t.Errorf("%d pairs of 8 packs, only up to %d", len(d.Pairs), d.PairsOf)
			}
		}
		text += fmt.Sprintf("packs: p%d: {carrier: \"ana\", mass: \"1 kg\"}\n", i)
	}
	d, _ := drills(context.Background(), one(text), rulebook(t), "fam", finding.Error, household.Options{On: day(t)})
	if len(d.Pairs) != 0 || d.PairsOf != 8 {
		t.Errorf("%d pairs of 9 packs, only up to %d", len(d.Pairs), d.PairsOf)
	}
}

// What cannot be read is said, and not drilled.
func TestDrillOfBadInput(t *testing.T) {
	d, faults := drills(context.Background(), one("package kit\n\nhousehold: 3\n"), rulebook(t), "fam", finding.Error, household.Options{On: day(t)})
	if len(faults) == 0 || d.Household.Judged || d.Base.Hours != 0 || len(d.Drills) > 0 {
		t.Errorf("%+v", d)
	}
}

// An interrupted drill says which rules were not asked.
func TestDrillInterrupted(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	d, faults := drills(ctx, os.DirFS("../examples/harrow-valley"), rulebook(t), "alder", finding.Error, household.Options{On: day(t)})
	if d.Household.Judged || len(faults) == 0 || faults[0].Rule != "input/rule" {
		t.Errorf("%+v", faults)
	}
}

// BenchmarkDrills times every drill of a household of four people, an animal and 129 items on one core, by the rules of
// each level and graver, beside reading, measuring and judging it once. Compare within one run only.
func BenchmarkDrills(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	tree, rulebook, on := os.DirFS("../examples/harrow-valley"), rulebook(b), day(b)
	loaded := load.Household(tree, "birch", load.Options{})
	facts, ledger := measure.Of(loaded.Kit, measure.Options{On: on})
	b.Run("load-once", func(b *testing.B) {
		for b.Loop() {
			load.Household(tree, "birch", load.Options{})
		}
	})
	b.Run("measure-once", func(b *testing.B) {
		for b.Loop() {
			measure.Of(loaded.Kit, measure.Options{On: on})
		}
	})
	b.Run("judge-once", func(b *testing.B) {
		for b.Loop() {
			rulebook.Judge(context.Background(), facts, func(id string) bool { _, ok := ledger.Entry(id); return ok })
		}
	})
	for _, least := range []finding.Level{finding.Error, finding.Warning, finding.Note} {
		b.Run("drills-"+string(least), func(b *testing.B) {
			for b.Loop() {
				drill.Make(context.Background(), tree, rulebook, "birch", household.Options{On: on, From: least})
			}
		})
	}
}

// A forecast reads no standard, so what grazes stands in package measure too; it is what the standard says.
func TestWhatGrazesIsTheStandards(t *testing.T) {
	if _, standard := rulebook(t).InForce("animals", "finds_own", nil); !slices.Equal(standard, measure.FindsOwn) {
		t.Errorf("%v in the forecast, %v in the standard", measure.FindsOwn, standard)
	}
}

// Nor does it read who is slow and how slow.
func TestWhoIsSlowIsTheStandards(t *testing.T) {
	r := rulebook(t)
	for _, c := range []struct {
		area, name string
		want       int64
	}{{"hazard", "slow_below_months", measure.SlowBelowMonths}, {"load", "elder_months", measure.OldMonths}, {"hazard", "slow_pace", measure.SlowPace}} {
		if standard, _ := r.InForce(c.area, c.name, nil); standard != c.want {
			t.Errorf("%s.%s is %d in the forecast, %d in the standard", c.area, c.name, c.want, standard)
		}
	}
	if _, standard := r.InForce("load", "unfit", nil); !slices.Equal(standard, measure.Unfit) {
		t.Errorf("%v in the forecast, %v in the standard", measure.Unfit, standard)
	}
}

// Of two medicines and two animals, the column shows the one that loses most; without a season nobody knows of light; a plan
// of half hours is one; who cannot carry carries no child.
func TestDrillColumns(t *testing.T) {
	const text = `package kit

household: "Columns"
people: {
	ana: {age: "40 y", bodyMass: "80 kg", medications: {drops: perDay: 2, pill: perDay: 1}}
	ben: {age: "41 y", bodyMass: "70 kg"}
	bib: {age: "20 months", bodyMass: "11 kg", carriedBy: "ana"}
	cy: {age: "4 y", bodyMass: "16 kg", carriedBy: "ana"}
	di: {age: "30 months", bodyMass: "12 kg"}
}
animals: {
	rex: {name: "Rex", species: "dog", bodyMass: "10 kg", energyPerDay: "500 kcal"}
	tib: {name: "Tib", species: "cat", bodyMass: "4 kg", energyPerDay: "200 kcal"}
	star: {name: "Star", species: "horse", bodyMass: "400 kg"}
}
plan: {duration: "47 h 30 min", start: "8:00"}
packs: {
	rust: {carrier: "ana", mass: "1 kg", compartments: main: {reach: "walking", items: {
		drops: {mass: "10 g", medicine: {person: "ana", of: "drops", doses: 1}}
		biscuits: {mass: "500 g", food: {energy: "1000 kcal", for: "rex"}}
	}}}
	blue: {carrier: "ben", mass: "1 kg", compartments: main: {reach: "walking", items: {
		pills: {mass: "10 g", medicine: {person: "ana", of: "pill", doses: 9}}
		fish: {mass: "50 g", food: {energy: "50 kcal", for: "tib"}}
	}}}
}
`
	d, faults := drills(context.Background(), one(text), rulebook(t), "fam", finding.Error, household.Options{On: day(t)})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	is := func(f drill.Fate, want finding.Stock) {
		t.Helper()
		want.Known = want.Kind != "light"
		if got := lasting(f, want.Kind); got != want {
			t.Errorf("%s: %+v, want %+v", f.Text, got, want)
		}
	}
	// Drops last from 8 to 20 o'clock, pills to the end; the cat's food until the noon of the first day.
	is(d.Base, finding.Stock{Kind: "doses", Of: "drops of ana", Lasts: 12})
	is(d.Base, finding.Stock{Kind: "animal food", Of: "Tib", Lasts: 11})
	is(d.Base, finding.Stock{Kind: "light", Lasts: 48})
	is(fateOf(t, d, "pack-lost/rust"), finding.Stock{Kind: "doses", Of: "drops of ana", Lasts: 0, LostMin: 720})
	is(fateOf(t, d, "pack-lost/rust"), finding.Stock{Kind: "animal food", Of: "Rex", Lasts: 4, LostMin: 47*60 + 30 - 240})
	// Hidden under the drops before: the pills are gone, and they lasted to the end.
	is(fateOf(t, d, "pack-lost/blue"), finding.Stock{Kind: "doses", Of: "pill of ana", Lasts: 0, LostMin: 47*60 + 30})
	is(fateOf(t, d, "late"), finding.Stock{Kind: "doses", Of: "drops of ana", Lasts: 12})
	if d.Base.Minutes != 47*60+30 || fateOf(t, d, "late").Minutes != 71*60+30 || d.Base.People != 5 || fateOf(t, d, "alone/ben").People != 1 {
		t.Errorf("%+v", d.Base)
	}
	di := drill.Uncarried{Name: "di", MassMG: 12_000_000}
	if !slices.Equal(d.Base.Uncarried, []drill.Uncarried{di}) {
		t.Errorf("%+v", d.Base.Uncarried)
	}
	u := fateOf(t, d, "unable/ana")
	if want := []drill.Uncarried{{Name: "bib", MassMG: 11_000_000}, {Name: "cy", MassMG: 16_000_000, Walks: true}, di}; !slices.Equal(u.Uncarried, want) || u.Takers != 1 {
		t.Errorf("%+v, want %+v", u, want)
	}
	for _, f := range u.New {
		if strings.Contains(f.Message, "recorded as carrying nothing") {
			t.Errorf("nobody wrote it: %+v", f)
		}
	}
	if u := fateOf(t, d, "unable/ben"); !slices.Equal(u.Uncarried, []drill.Uncarried{di}) {
		t.Errorf("%+v", u.Uncarried)
	}
}

// As it is no season is planned for, so light that is known in the drill of one is no less than it was.
func TestLightThatWasNotKnownIsNotLost(t *testing.T) {
	const text = `package kit

household: "Dark"
people: ana: {age: "40 y", bodyMass: "80 kg"}
plan: {duration: "24 h", seasons: cold: {day: "5 °C", night: "1 °C", daylight: "8 h"}}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: main: {reach: "walking", items: {
	lamp: {mass: "80 g", can: light: "headlamp", device: {size: "AAA", cells: 3, runTime: "1 h"}}
}}}
`
	d, _ := drills(context.Background(), one(text), rulebook(t), "fam", finding.Error, household.Options{On: day(t)})
	if l := lasting(fateOf(t, d, "season/cold"), "light"); !l.Known || l.LostMin != 0 || l.Lasts >= 24 {
		t.Errorf("%+v", l)
	}
}
