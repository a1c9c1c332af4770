package measure

import (
	"slices"

	"kitmuster/lint/facts"
)

// infantMonths: below, a person counts as an infant, who needs food and things of their own. Our own line.
const infantMonths = 24

// listWords names all that the household has and whom it must provide for, in the
// words that lines of official lists use: "can:signal:whistle", "document:map",
// "first-aid:gloves", "radio:weather", "insulation:jacket", "needs:infant".
func (m *measurer) listWords() {
	set := map[string]bool{}
	for _, c := range m.f.Capabilities {
		set["can:"+string(c.Capability)] = true
		for _, o := range c.Offers {
			set["can:"+string(c.Capability)+":"+o.Means] = true
		}
	}
	for _, c := range m.f.Household.Supply.FirstAid {
		set["first-aid"], set["first-aid:"+c.Kind] = true, true
	}
	for i := range m.f.Foods {
		f := &m.f.Foods[i]
		switch {
		case f.ForAnimal:
			set["food:animal"] = true
			continue
		case f.For != "" && m.infant(f.For):
			set["food:infant"] = true
		}
		set["food"] = true
		if !f.Cook {
			set["food:no-cook"] = true
		}
		if f.Canned {
			set["food:canned"] = true
		}
	}
	for i := range m.f.Vessels {
		set["vessel"] = true
		if m.f.Vessels[i].WaterML > 0 {
			set["water"] = true
		}
	}
	for i := range m.f.Radios {
		for _, r := range m.f.Radios[i].Receives {
			set["radio"], set["radio:"+r] = true, true
		}
	}
	for i := range m.f.Cells {
		set["cells"], set["cells:"+m.f.Cells[i].Size] = true, true
	}
	for i := range m.f.Insulation {
		set["insulation:"+m.f.Insulation[i].Kind] = true
	}
	for i := range m.f.Papers {
		p := &m.f.Papers[i]
		for _, d := range p.Documents {
			set["document:"+d] = true
			if p.Waterproof {
				set["waterproof:document:"+d] = true
			}
		}
		if p.Cash {
			set["cash"] = true
		}
		if p.SmallNotes {
			set["cash:small-notes"] = true
		}
	}
	if len(m.f.Medicines) > 0 {
		set["medicine"] = true
	}
	m.needWords(set)
	out := make([]string, 0, len(set))
	for k := range set {
		out = append(out, k)
	}
	slices.Sort(out)
	m.f.Household.Has = out
}

// needWords names whom and what the household must provide for.
func (m *measurer) needWords(set map[string]bool) {
	for i := range m.f.People {
		p := &m.f.People[i]
		set["needs:child"] = set["needs:child"] || !p.Adult
		set["needs:infant"] = set["needs:infant"] || m.infant(p.ID)
		set["needs:glasses"] = set["needs:glasses"] || p.Glasses
	}
	set["needs:animal"] = len(m.f.Animals) > 0
	for i := range m.f.Medications {
		set["needs:prescription"] = set["needs:prescription"] || !m.f.Medications[i].AsNeeded
	}
	for k, is := range set {
		if !is {
			delete(set, k)
		}
	}
}

func (m *measurer) infant(id string) bool {
	for i := range m.f.People {
		if p := &m.f.People[i]; p.ID == id {
			return p.AgeKnown && p.AgeMonths < infantMonths
		}
	}
	return false
}

// demands takes over what others ask of the kit: lines of lists, stricter limits.
func (m *measurer) demands(o Options) {
	m.l.Add(facts.Posting{ID: "plan/lists", What: "official lists"})
	m.f.Asked = append([]facts.Asked{}, o.Asked...)
	for _, a := range o.Asked {
		m.l.Add(facts.Posting{ID: a.ID, Spot: "plan/lists", What: "line " + a.Line + " of list", Of: a.List})
	}
	m.f.Limits = append([]facts.OwnLimit{}, o.Limits...)
	for i := range m.h.Limits {
		l := &m.h.Limits[i]
		m.l.Add(facts.Posting{ID: l.Spot, What: "own limit", Of: l.Area + "." + l.Name})
	}
}
