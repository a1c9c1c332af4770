package load

import (
	"slices"
	"strings"

	"kitmuster/lint/kit"
)

// doubt marks items that have faults with the fields that could not be read. Where an item would count for more without such a field than
// with it, what depends on the field is taken out: a filter whose remaining litres cannot be read would else never be used up. Rules that
// then miss something name these items as not read.
func doubt(h *kit.Household, faults []Fault) {
	at := map[string]*kit.Item{}
	mark := func(items []kit.Item) {
		for i := range items {
			at[items[i].Spot] = &items[i]
		}
	}
	for i := range h.People {
		mark(h.People[i].OnBody)
	}
	for i := range h.Packs {
		for j := range h.Packs[i].Compartments {
			mark(h.Packs[i].Compartments[j].Items)
		}
	}
	mark(h.AtHome)
	hole := map[string]bool{}
	for _, f := range faults {
		if f.taken {
			continue
		}
		hole[f.Spot] = true
		for spot := range around(f.Spot) {
			if it := at[spot]; it != nil && spot != f.Spot {
				it.Unread = append(it.Unread, f.Spot[len(spot)+1:])
			}
		}
	}
	for _, it := range at {
		doubtItem(it)
	}
	for i := range h.People {
		doubtPerson(&h.People[i], hole)
	}
	for i := range h.Animals {
		doubtMedications(h.Animals[i].Medications, hole)
	}
	h.Plan.WaterSources = slices.DeleteFunc(h.Plan.WaterSources, func(w kit.WaterSource) bool { // else a stream, clear, and open to all
		return slices.ContainsFunc([]string{"litres", "quality", "key", "leg"}, func(leaf string) bool { return hole[w.Spot+"/"+leaf] })
	})
	h.Plan.MeetingPoints = slices.DeleteFunc(h.Plan.MeetingPoints, func(m kit.MeetingPoint) bool { return hole[m.Spot+"/where"] })
	for spot := range hole {
		if field, ok := strings.CutPrefix(spot, "plan/"); ok {
			first, _, _ := strings.Cut(field, "/")
			h.Plan.Unread = append(h.Plan.Unread, first)
		}
	}
	slices.Sort(h.Plan.Unread)
	h.Plan.Unread = slices.Compact(h.Plan.Unread)
}

func doubtItem(it *kit.Item) {
	if it.Treat.Value.Method == "" {
		it.Treat = kit.Opt[kit.Treat]{}
	}
	for _, field := range it.Unread {
		switch {
		case field == "treat/litres" || field == "treat/perHour":
			it.Treat = kit.Opt[kit.Treat]{}
		case strings.HasPrefix(field, "food/allergens"):
			it.Food.Value.AllergensSet = false
		}
	}
}

// doubtPerson assumes the greater need where a field of a person could not be read.
func doubtPerson(p *kit.Person, hole map[string]bool) {
	for i := range p.Allergies {
		if a := &p.Allergies[i]; hole[a.Spot+"/severe"] {
			a.Severe = true
		}
	}
	for i := range p.Consumables {
		if c := &p.Consumables[i]; c.PerDay == 0 {
			c.PerDay = leastPerDay
		}
	}
	for i := range p.Devices { // on all day, of any power
		d := &p.Devices[i]
		if d.HoursPerDay == 0 {
			d.HoursPerDay = maxDay
		}
		d.Power = max(d.Power, leastPower)
	}
	doubtMedications(p.Medications, hole)
}

func doubtMedications(ms []kit.Medication, hole map[string]bool) {
	for i := range ms {
		m := &ms[i]
		m.ColdChain = m.ColdChain || hole[m.Spot+"/coldChain"]
		if hole[m.Spot+"/rescue"] {
			m.Rescue = kit.Some(true)
		}
		if m.PerDay == 0 && !m.AsNeeded {
			m.PerDay = leastPerDay
		}
	}
}
