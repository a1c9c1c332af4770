package measure

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
	"kitmuster/lint/vocabulary"
)

// slips lists what looks like a slip of the pen: entries of nothing, entries
// written twice, entries with no use, days that have not come yet. A rule would
// have to go through all items for each of these.
func (m *measurer) slips() {
	f := m.f
	f.Twins, f.Absent, f.Future, f.QuickItems = []facts.Twin{}, []facts.Absent{}, []facts.Future{}, []facts.QuickItem{}
	type alike struct {
		name, compartment, person, owner, eater string
		each                                    unit.Mass
	}
	type weighing struct {
		pack string
		day  unit.Date
	}
	twins, weighed := map[alike][]*thing{}, map[weighing][]string{}
	var unsaid []*thing
	f.Unrecorded = []facts.Unrecorded{}
	for i := range m.things {
		t := &m.things[i]
		it := t.it
		m.future(t)
		m.unread(t)
		if t.count == 0 {
			f.Absent = append(f.Absent, facts.Absent{ID: t.id + "/count", Name: t.name})
			continue
		}
		if !dated(it) && !it.Opened.Set {
			k := alike{t.name, t.compartment, t.person, it.Owner, it.Food.Value.For, it.Mass}
			twins[k] = append(twins[k], t)
		}
		if t.weighed && t.pack != "" {
			day := it.Weighed
			if !day.Set { // then everything was, on one day
				day = m.h.Record.Weighed
			}
			k := weighing{t.pack, day.Value}
			weighed[k] = append(weighed[k], t.id)
		}
		if !used(it) && len(it.Unread) == 0 {
			unsaid = append(unsaid, t)
		}
		m.amountless(t)
		if t.quickSelf {
			f.QuickItems = append(f.QuickItems, facts.QuickItem{ID: t.id + "/quickShed", Name: t.name, Reach: t.reach, MassMG: t.mass.Milligrams(), Whole: t.quick})
		}
	}
	for k, same := range twins {
		if len(same) < 2 {
			continue
		}
		ids := make([]string, len(same))
		for i, t := range same {
			ids[i] = t.id
		}
		slices.Sort(ids)
		last := len(ids) - 1
		f.Twins = append(f.Twins, facts.Twin{ID: ids[last], Name: k.name, EachMG: k.each.Milligrams(), Count: int64(len(ids)), Others: ids[:last]})
	}
	f.Weighings = make([]facts.Weighing, 0, len(weighed))
	for k, ids := range weighed {
		f.Weighings = append(f.Weighings, facts.Weighing{Pack: k.pack, Day: int64(k.day), Items: sorted(ids)})
	}
	slices.SortFunc(f.Weighings, func(a, b facts.Weighing) int { return cmp.Or(cmp.Compare(a.Pack, b.Pack), cmp.Compare(a.Day, b.Day)) })
	m.unsaid(unsaid)
	for i := range m.h.Packs {
		m.addFuture(m.h.Packs[i].Spot+"/weighed", "the weighing of "+m.h.Packs[i].Name, m.h.Packs[i].MassWeighed)
	}
	r := &m.h.Record
	m.addFuture("record/weighed", "the weighing of everything", r.Weighed)
	m.addFuture("record/audited", "the inspection of everything", r.Audited)
	for i := range r.Shakedowns {
		m.addFuture(r.Shakedowns[i].Spot, "a practice walk", opt[unit.Date]{Value: r.Shakedowns[i].On, Set: true})
	}
	slices.SortFunc(f.Twins, func(a, b facts.Twin) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Absent, func(a, b facts.Absent) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Future, func(a, b facts.Future) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.QuickItems, func(a, b facts.QuickItem) int { return cmp.Compare(a.ID, b.ID) })
}

// otherNames is how many names of things whose use is written tell the household's languages: enough to tell, and they cost time.
const otherNames = 40

// unsaid lists the things of which no use is written, by what their names say.
func (m *measurer) unsaid(things []*thing) {
	f := m.f
	f.Idle = []facts.Named{}
	names, keys := make([]string, len(things)), make([]string, len(things))
	asked := make(map[*thing]bool, len(things))
	for i, t := range things {
		names[i], keys[i], asked[t] = t.name, t.it.Key, true
	}
	infants := slices.ContainsFunc(f.People, func(p facts.Person) bool { return infant(&p) })
	var further, own []string
	for i := range m.things {
		if t := &m.things[i]; len(further) < otherNames && !asked[t] {
			further = append(further, t.name)
		}
	}
	for i := range m.bearers {
		own = append(own, m.bearers[i].key, m.bearers[i].name)
	}
	for i, g := range vocabulary.Guesses(names, keys, further, own) {
		t := things[i]
		if !infants && g.For == "infant" {
			g.May = []string{"food"}
		}
		switch {
		case len(g.May) > 0:
			count, ask := t.count, []string{}
			if g.Ask != "" {
				ask = append(ask, g.Ask)
			}
			if g.Several && t.it.Uncounted {
				count, ask = manyPieces, append(ask, "how many there are is not recorded: write count")
			}
			if strings.HasPrefix(g.Write, "medicine:") {
				var known bool
				if g.Write, known = m.takenAs(t, g.Write); !known {
					ask = append(ask, "under who takes it, write medications: "+t.it.Key+": asNeeded: true, or perDay: 1 where it is taken every day")
				}
			}
			may := g.May
			if !g.Sure {
				may, ask = []string{}, append(ask, "until then it counts for nothing, as such a name may mean something else")
			}
			f.Unrecorded = append(f.Unrecorded, facts.Unrecorded{
				ID: t.id, Name: t.name, Where: t.where, Pack: t.pack, Carrier: t.carrier, Count: count, May: may,
				Write: strings.ReplaceAll(g.Write, `for: "…"`, `for: "`+m.meant(g.For)+`"`), Ask: strings.Join(ask, "; "),
			})
		case !g.OK && !purposeful(t.it):
			f.Idle = append(f.Idle, facts.Named{ID: t.id, Name: t.name})
		}
	}
	slices.SortFunc(f.Unrecorded, func(a, b facts.Unrecorded) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(f.Idle, func(a, b facts.Named) int { return cmp.Compare(a.ID, b.ID) })
}

// takenAs fills in whose medicine a thing is and which: a medication with which its name shares a word, else one of the thing's
// own key. known: it is written as a medication.
func (m *measurer) takenAs(t *thing, write string) (filled string, known bool) {
	person, of := "…", t.it.Key
	find := func(key string, meds []kit.Medication) {
		for i := range meds {
			if !known && shareWord(t.name, meds[i].Name) {
				person, of, known = key, meds[i].Key, true
			}
		}
	}
	for i := range m.h.People {
		find(m.h.People[i].Key, m.h.People[i].Medications)
	}
	for i := range m.h.Animals {
		find(m.h.Animals[i].Key, m.h.Animals[i].Medications)
	}
	if !known && len(m.h.People) == 1 && len(m.h.Animals) == 0 {
		person = m.h.People[0].Key
	}
	return strings.NewReplacer(`person: "…"`, `person: "`+person+`"`, `of: "…"`, `of: "`+of+`"`).Replace(write), known
}

// shareWord reports whether two names have a word of more than three letters in common.
func shareWord(a, b string) bool {
	split := func(s string) []string {
		return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	}
	others := split(b)
	return slices.ContainsFunc(split(a), func(w string) bool { return len(w) > 3 && slices.Contains(others, w) })
}

// toddlerMonths is the age up to which food for an infant may be a child's: growing-up milk and jars are sold up to three
// years. Common practice, no source.
const toddlerMonths = 36

// meant is the key of the only one for whom such a thing can be (see vocabulary.Guess), or "…".
func (m *measurer) meant(whom string) string {
	var keys []string
	for i := range m.f.Animals {
		if a := &m.f.Animals[i]; whom == "animal" || whom == a.Species {
			keys = append(keys, a.Key)
		}
	}
	for i := range m.f.People {
		if p := &m.f.People[i]; whom == "infant" && p.AgeKnown && p.AgeMonths < toddlerMonths {
			keys = append(keys, p.Key)
		}
	}
	if len(keys) == 1 {
		return keys[0]
	}
	return "…"
}

// given is what an item's fields may give, in the words of vocabulary.Guess.
var given = map[string]string{
	"water": "water", "container": "container", "treat": "treat-water", "fuel": "fuel", "cells": "cells", "device": "cells",
	"insulation": "insulation", "firstAid": "first_aid", "medicine": "medicine", "documents": "documents", "cash": "cash",
}

// unread lists a thing of which something is written that could not be read, with all that this may have said.
func (m *measurer) unread(t *thing) {
	it := t.it
	if len(it.Unread) == 0 {
		return
	}
	var may []string
	count := t.count
	for _, field := range it.Unread {
		first, rest, _ := strings.Cut(field, "/")
		switch {
		case first == "can" && rest != "":
			may = append(may, rest)
		case first == "food":
			may = append(may, m.foodOf(it))
		case given[first] != "":
			may = append(may, given[first])
		case first == "count":
			may, count = append(may, m.gives(it)...), manyPieces
		}
	}
	m.f.Unrecorded = append(m.f.Unrecorded, facts.Unrecorded{
		ID: t.id, Name: t.name, Where: t.where, Pack: t.pack, Carrier: t.carrier, Count: count, What: "unreadable", May: sorted(may),
	})
}

// manyPieces stands for a number that is not recorded or could not be read: as many as any rule asks.
const manyPieces = 10_000

// gives is all that a thing may do or hold, in the words of vocabulary.Guess.
func (m *measurer) gives(it *kit.Item) (out []string) {
	for _, c := range it.Can {
		out = append(out, string(c.Name))
	}
	if it.Food.Set {
		out = append(out, m.foodOf(it))
	}
	for field, is := range map[string]bool{
		"water": it.Water.Set, "container": it.Container.Set, "treat": it.Treat.Set, "fuel": it.Fuel.Set, "cells": it.Cells.Set,
		"insulation": it.Insulation.Set, "firstAid": len(it.FirstAid) > 0, "medicine": it.Medicine.Set, "documents": len(it.Documents) > 0, "cash": it.Cash.Set,
	} {
		if is {
			out = append(out, given[field])
		}
	}
	return out
}

// sleepsIn are the kinds of insulation that bedding is, by its means.
var sleepsIn = map[string]string{"sleeping-bag": "sleeping-bag", "quilt": "quilt", "wool-blanket": "blanket"}

// amountless lists what is written of a thing without how much: it may be enough for what a rule misses.
func (m *measurer) amountless(t *thing) {
	it := t.it
	add := func(is bool, leaf, what, may, write string) {
		if is && !slices.ContainsFunc(it.Unread, func(field string) bool { return strings.HasPrefix(field, leaf) }) {
			m.f.Unrecorded = append(m.f.Unrecorded, facts.Unrecorded{
				ID: t.id + "/" + leaf, Name: t.name, Where: t.where, Pack: t.pack, Carrier: t.carrier, Count: t.count, What: what, May: []string{may}, Write: write,
			})
		}
	}
	kit := len(it.FirstAid) == 0 && slices.ContainsFunc(t.can, func(o offer) bool { return o.name == kinds.CanFirstAid && o.means == "kit" })
	bedding := slices.IndexFunc(t.can, func(o offer) bool { return o.name == kinds.CanWarmth && sleepsIn[o.means] != "" })
	if bedding >= 0 {
		kind := sleepsIn[t.can[bedding].means]
		add(!it.Insulation.Set, "can/warmth", "comfort temperature", "insulation:"+kind, fmt.Sprintf("insulation: {kind: %q, comfort: \"…\"} with what its label says", kind))
	}
	add(kit, "can/first_aid", "list of contents", "first-aid-contents", `firstAid: {plasters: 5, dressings: 2}`)
	food := `food: energy: "450 kcal"`
	if t.raw {
		food = `food: {energy: "1750 kcal", cookWater: "1 L", cookTime: "12 min"}, as it is eaten cooked`
	}
	add(it.Food.Set && it.Food.Value.EnergyUnknown, "food", "energy", m.foodOf(it), food)
	add(t.raw && !it.Food.Value.EnergyUnknown, "food", "cooking water", "cook-water", `food: {cookWater: "1 L", cookTime: "12 min"}, or cookTime: "0 min" where it is eaten as it is`)
	add(it.Container.Set && it.Container.Value.CapacityUnknown, "container", "capacity", "container", `container: capacity: "1 L"`)
	add(it.Fuel.Set && it.Fuel.Value.MassUnknown, "fuel", "mass of the fuel", "fuel", `fuel: mass: "230 g"`)
	lamp := slices.ContainsFunc(t.can, func(o offer) bool { return o.name == kinds.CanLight })
	d := &it.Device.Value
	add(it.Device.Set && lamp && (d.Size != "" || d.BuiltIn) && !d.SelfPowered && !d.RunTime.Set, "device", "run time", "run-time", `device: runTime: "20 h"`)
	add(it.Treat.Set && it.Treat.Value.Method != methodBoil && !it.Treat.Value.Litres.Set, "treat", "capacity", "treat-capacity", `treat: litres: "500 L"`)
	add(it.Device.Set && d.Size == "" && !d.BuiltIn, "device", "cell size", "cells", `device: size: "AAA"`)
}

// foodOf is what the food in an item is in the words of vocabulary.Guess: an animal and an infant eat none of the others'.
func (m *measurer) foodOf(it *kit.Item) string {
	whom := it.Food.Value.For
	switch b := m.bearer(whom); {
	case b != nil && b.kind == animal:
		return "animal-food"
	case slices.ContainsFunc(m.f.People, func(p facts.Person) bool { return p.Key == whom && infant(&p) }):
		return "infant-food"
	}
	return "food"
}

// future lists the days of an item that should have been and are still to come.
func (m *measurer) future(t *thing) {
	m.addFuture(t.id+"/weighed", "the weighing of "+t.name, t.it.Weighed)
	m.addFuture(t.id+"/opened-day", "the opening of "+t.name, t.it.Opened)
	m.addFuture(t.id+"/sizeSeen", "the trying on of "+t.name, t.it.SizeSeen)
	m.addFuture(t.id+"/out-of-cold-day", "the day out of the cold of "+t.name, t.it.OutOfCold)
}

func (m *measurer) addFuture(id, what string, day opt[unit.Date]) {
	if day.Set && day.Value > m.on {
		m.f.Future = append(m.f.Future, facts.Future{ID: id, What: what, Days: int64(day.Value - m.on)})
	}
}
