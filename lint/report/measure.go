package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/kinds"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Measured is one household in numbers; Facts is nil where it could not be read.
type Measured struct {
	Household finding.Household
	Facts     *facts.Facts
	Ledger    []Line
}

// Line is one entry of the ledger with its place.
type Line struct {
	ID      string
	Label   string
	Amount  string
	Account string
	At      source.Span
	// Inputs are the IDs of what the number is made of, heaviest first.
	Inputs []string
}

type jsonMeasuredItem struct {
	Name   string       `json:"name"`
	Path   string       `json:"path"`
	Judged bool         `json:"measured"`
	Facts  *facts.Facts `json:"facts,omitempty"`
	Ledger []jsonLine   `json:"ledger,omitempty"`
}

type jsonLine struct {
	ID      string    `json:"id"`
	Label   string    `json:"label"`
	Amount  string    `json:"amount,omitempty"`
	Account string    `json:"account,omitempty"`
	At      *jsonSpan `json:"at,omitempty"`
	Inputs  []string  `json:"inputs,omitempty"`
}

// MeasureJSON writes facts and ledger.
func MeasureJSON(w io.Writer, m *Made[Measured], _ Options) error {
	return m.json(w, func(h *Measured) any {
		j := jsonMeasuredItem{Name: h.Household.Name, Path: h.Household.Path, Judged: h.Household.Judged, Facts: h.Facts}
		for _, l := range h.Ledger {
			j.Ledger = append(j.Ledger, jsonLine{l.ID, l.Label, l.Amount, l.Account, span(l.At), l.Inputs})
		}
		return j
	})
}

// MeasureText writes, for each household, a table for each pack (what it weighs,
// against what, where the mass is) and tables of what the packs hold and can do.
func MeasureText(w io.Writer, m *Made[Measured], o Options) error {
	return m.text(w, o, func(h *Measured) bool { return h.Facts != nil }, func(w io.Writer, h *Measured) {
		newPage(w, h.Facts).household(h.Household, m.Run.On)
	})
}

type page struct {
	io.Writer
	f       *facts.Facts
	amounts words.Amounts
}

// newPage is a page of one household, in its units.
func newPage(w io.Writer, f *facts.Facts) page {
	return page{Writer: w, f: f, amounts: words.Amounts{Units: f.Audit.Units}}
}

func (p page) say(format string, args ...any) {
	fmt.Fprintf(p, "%s\n", strings.TrimRight(fmt.Sprintf(format, args...), " "))
}

// Amounts stand in every table, so they have short names here.
var energy, minutes, percent, atLeast = words.Energy, words.Minutes, words.Percent, words.AtLeast

func (p page) household(h finding.Household, on string) {
	f := p.f
	p.say("%s (%s), measured as of %s", words.Clean(h.Name), words.Clean(h.Path), on)
	p.say("  %s in %s; %s worn or pocketed, which counts to the person and not to a pack's load", atLeast(!f.Household.MassKnown, p.amounts.Mass(f.Household.LoadMG)), words.Count(f.Household.PackCount, "pack"), p.amounts.Mass(f.Household.OnBodyMG))
	share := "" // of an unknown mass no share is known
	if f.Household.MassKnown {
		share = fmt.Sprintf(" (%s of all that is carried and worn)", percent(f.Household.UnweighedMG, f.Household.MassMG))
	}
	p.say("  base mass (load less water, food and fuel) %s; without a day of weighing, or estimated, %s%s%s", atLeast(!f.Household.MassKnown, p.amounts.Mass(f.Household.BaseMG)), p.amounts.Mass(f.Household.UnweighedMG), share, p.massless(func(facts.Item) bool { return true }))
	for _, c := range f.Carriers {
		p.carrier(c)
	}
	p.supplies()
	p.capabilities()
	p.medications()
	p.power()
	p.dates()
}

// carrier shows the load of one carrier beside its cap.
func (p page) carrier(c facts.Carrier) {
	p.say("")
	name := words.Clean(c.Name)
	worn := func(i facts.Item) bool { return i.Pack == "" && i.Carrier == c.ID }
	if len(c.Packs) == 0 && len(c.AnimalIDs) == 0 {
		p.say("  %s carries no pack; %s worn or pocketed%s", name, p.amounts.Mass(c.OnBodyMG), p.massless(worn))
		return
	}
	if !c.LoadKnown && c.LoadMG == 0 {
		p.say("  the mass of what %s carries is not recorded; body weight %s", name, p.amounts.BodyMass(c.BodyMassKnown, c.BodyMassMG))
	} else {
		share := percent(unit.PermilleUp(c.LoadMG, c.BodyMassMG), 1000)
		p.say("  %s carries %s, %s of %s body weight; base mass %s; can drop %s in seconds", name, p.amounts.Load(!c.LoadKnown, c.LoadMG), atLeast(!c.LoadKnown, share), p.amounts.BodyMass(c.BodyMassKnown, c.BodyMassMG), atLeast(!c.LoadKnown, p.amounts.Mass(c.BaseMG)), p.amounts.Mass(c.QuickMG))
	}
	if c.FootMG != c.LoadMG {
		p.say("  of that at most %s on foot, %s", p.amounts.Mass(c.FootMG), percent(c.ShareP, 1000))
	}
	for _, a := range p.f.Animals {
		if a.CarriedBy == c.ID {
			p.say("  %s", borneWords(p.amounts, &a))
		}
	}
	if c.OnBodyMG > 0 {
		p.say("  worn or pocketed, not in that load: %s%s", p.amounts.Mass(c.OnBodyMG), p.massless(worn))
	}
	for _, pk := range p.f.Packs {
		if pk.Carrier == c.ID {
			p.pack(pk)
		}
	}
}

// borneWords says that an animal is in a load, and where that is only taken to be so.
func borneWords(in words.Amounts, a *facts.Animal) string {
	text := fmt.Sprintf("%s, %s, is carried and in that load", words.Clean(a.Name), in.Mass(a.BodyMassMG))
	if !a.CarriedWritten {
		text += "; who carries it is not recorded, but its carrier is in that pack"
	}
	return text
}

// massless says how many of some things have no mass at all, after a mass; "" where all have one.
func (p page) massless(of func(facts.Item) bool) string {
	n := 0
	for _, i := range p.f.Items {
		if !i.MassKnown && i.Count > 0 && of(i) {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(", and %s without a recorded mass", words.Count(n, "thing"))
}

func people(n int64) string {
	if n == 1 {
		return "1 person"
	}
	return fmt.Sprintf("%d people", n)
}

// heaviest is how many items a pack's table names.
const heaviest = 5

// portion is how much of a pack's mass a part of it is: at most so much where only another part was not weighed.
func portion(known bool, mg int64, pk facts.Pack) string {
	switch share := percent(mg, pk.MassMG); {
	case pk.MassKnown:
		return share
	case known && pk.MassMG > 0:
		return "at most " + share
	}
	return "not known"
}

func (p page) pack(pk facts.Pack) {
	t := &table{head: []string{"pack " + words.Clean(pk.Name), "mass", "of the pack", "reach"}}
	emptyKnown := !slices.ContainsFunc(pk.NoMass, func(n facts.Named) bool { return n.ID == pk.ID+"/empty-mass" })
	t.row("empty pack", atLeast(!emptyKnown, p.amounts.Mass(pk.EmptyMG)), portion(emptyKnown, pk.EmptyMG, pk), "")
	for _, c := range p.f.Compartments {
		if c.Pack == pk.ID {
			t.row(words.Clean(c.Name), atLeast(!c.MassKnown, p.amounts.Mass(c.MassMG)), portion(c.MassKnown, c.MassMG, pk), string(c.Reach))
		}
	}
	t.row("whole pack", atLeast(!pk.MassKnown, p.amounts.Mass(pk.MassMG)), "", "")
	t.write(p, "    ")
	items := slices.DeleteFunc(slices.Clone(p.f.Items), func(i facts.Item) bool { return i.Pack != pk.ID || !i.MassKnown && i.MassMG == 0 })
	slices.SortStableFunc(items, func(a, b facts.Item) int { return int(min(max(b.MassMG-a.MassMG, -1), 1)) })
	var named []string
	for _, i := range items[:min(heaviest, len(items))] {
		named = append(named, words.Clean(i.Name)+" "+atLeast(!i.MassKnown, p.amounts.Mass(i.MassMG)))
	}
	if len(named) > 0 {
		p.say("    heaviest: %s", strings.Join(named, ", "))
	}
	p.say("    water %s; without a day of weighing, or estimated, %s%s", p.amounts.Mass(pk.WaterMG), p.amounts.Mass(pk.UnweighedMG), p.massless(func(i facts.Item) bool { return i.Pack == pk.ID }))
	if len(pk.NoMass) > 0 {
		var unknown []string
		for _, n := range pk.NoMass[:min(heaviest, len(pk.NoMass))] {
			unknown = append(unknown, words.Clean(n.Name))
		}
		if more := len(pk.NoMass) - heaviest; more > 0 {
			unknown = append(unknown, fmt.Sprintf("%d more", more))
		}
		p.say("    mass not known: %s", strings.Join(unknown, ", "))
	}
}

// scope is one column of the tables of supplies and capabilities.
type scope struct {
	name string
	s    *facts.Supply
}

func (p page) scopes() (out []scope) {
	for i := range p.f.Packs {
		out = append(out, scope{"pack " + words.Clean(p.f.Packs[i].Name), &p.f.Packs[i].Supply})
	}
	for i := range p.f.People {
		out = append(out, scope{words.Clean(p.f.People[i].Name) + " alone", &p.f.People[i].Alone})
	}
	return append(out, scope{"household", &p.f.Household.Supply})
}

// litresOrMore shows a treatable volume; of one without a stated end nobody wrote how much the treatment clears.
func (p page) litresOrMore(ml int64) string {
	if ml >= facts.NoEnd {
		return "not recorded"
	}
	return p.amounts.Volume(ml)
}

func (p page) supplies() {
	p.say("")
	t := &table{head: []string{"supplies", "water", "containers", "food", "energy density", "no cooking", "sodium", "boils", "fuel boils"}}
	for _, sc := range p.scopes() {
		s := sc.s
		density := "-"
		if s.FoodMassMG > 0 {
			d := (s.FoodEnergyJ*10_000 + 4184*s.FoodMassMG/2) / (4184 * s.FoodMassMG) // tenths of a kcal per gram
			density = fmt.Sprintf("%d.%d kcal/g", d/10, d%10)
		}
		t.row(sc.name, p.amounts.Volume(s.WaterML), atLeast(!s.ContainerKnown, p.amounts.Volume(s.ContainerML)), atLeast(!s.FoodEnergyKnown, energy(s.FoodEnergyJ)), density, percent(s.NoCookEnergyJ, s.FoodEnergyJ), words.Mass(s.SodiumMG), p.amounts.Volume(s.CookWaterML), atLeast(!s.FuelKnown, p.amounts.Volume(s.BoilableML)))
	}
	t.write(p, "  ")
	p.say("  food meant for animals is not in these; boils: water that the food takes to cook; fuel boils: what the fuel brings from %s to %s", p.amounts.Units.Temperature(20_000), p.amounts.Units.Temperature(100_000))
	if n := p.f.Household; n.PlanMin > 0 {
		p.say("  plan: %s for %s", minutes(n.PlanMin), people(n.PeopleCount))
	}
	p.say("")
	t = &table{head: []string{"treatable water", "bacteria", "viruses", "Giardia", "Cryptosporidium"}}
	for _, sc := range p.scopes() {
		s := sc.s
		t.row(sc.name, p.litresOrMore(s.TreatBacteriaML), p.litresOrMore(s.TreatVirusesML), p.litresOrMore(s.TreatGiardiaML), p.litresOrMore(s.TreatCryptoML))
	}
	t.write(p, "  ")
	p.say("  counted where the method's effect is high or very high; follow the label of each filter and tablet")
}

func (p page) capabilities() {
	scopes := p.scopes()
	var names []kinds.Capability
	for _, c := range p.f.Household.Supply.Can {
		names = append(names, c.Capability)
	}
	if len(names) == 0 {
		return
	}
	p.say("")
	head := []string{"capability"}
	for _, sc := range scopes {
		head = append(head, sc.name)
	}
	t := &table{head: append(head, "ways in the household"), lastLeft: true}
	for _, n := range names {
		row, means := []string{string(n)}, ""
		for _, sc := range scopes {
			cell := "-"
			for _, c := range sc.s.Can {
				if c.Capability == n {
					cell, means = fmt.Sprint(c.MeansCount), strings.Join(c.Means, ", ")
				}
			}
			row = append(row, cell)
		}
		t.row(append(row, means)...)
	}
	t.write(p, "  ")
	p.say("  how many different ways: two things that work the same way count once")
}

func (p page) medications() {
	if len(p.f.Medications) == 0 {
		return
	}
	p.say("")
	t := &table{head: []string{"medication", "doses", "usable", "with its owner", "a day", "days"}}
	for _, m := range p.f.Medications {
		days := "as needed"
		if !m.AsNeeded {
			days = unit.Count(m.DaysMilli).String()
		}
		t.row(words.Clean(m.PersonKey+": "+m.Name), unit.Count(m.DosesMilli).String(), unit.Count(m.UsableMilli).String(), unit.Count(m.OwnMilli).String(), unit.Count(m.PerDayMilli).String(), days)
	}
	t.write(p, "  ")
}

func (p page) power() {
	if len(p.f.Devices) == 0 {
		return
	}
	p.say("")
	t := &table{head: []string{"device", "cells", "spare cells", "runs", "with spares"}}
	for _, d := range p.f.Devices {
		runs, total := "not stated", "-"
		if d.RunKnown {
			runs, total = minutes(d.RunMin), minutes(d.RunTotalMin)
		}
		t.row(words.Clean(d.Name), fmt.Sprintf("%d %s", d.CellsNeeded, d.Size), fmt.Sprint(d.SpareCells), runs, total)
	}
	t.write(p, "  ")
	if p.f.Plan.SeasonKnown {
		p.say("  dark in season %s: %s a night, %s over the plan", words.Clean(p.f.Plan.Season), minutes(p.f.Plan.DarkMin), minutes(p.f.Plan.DarkTotal))
	}
}

// soon is how many dates are shown, nearest first.
const soon = 8

func (p page) dates() {
	ds := slices.Clone(p.f.Dates)
	if len(ds) == 0 {
		return
	}
	slices.SortStableFunc(ds, func(a, b facts.Dated) int { return int(min(max(a.Day-b.Day, -1), 1)) })
	p.say("")
	t := &table{head: []string{"date", "on", "days left", "what"}}
	for _, d := range ds[:min(soon, len(ds))] {
		t.row(words.Clean(d.Name), d.On, fmt.Sprint(d.Left), string(d.Kind))
	}
	t.write(p, "  ")
	if n := len(ds) - soon; n > 0 {
		p.say("  and %d later", n)
	}
}
