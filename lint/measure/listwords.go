package measure

import (
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
)

// The ages of list lines, in months: below nappyMonths a child may need nappies, from mensesFrom to mensesTo a period is
// possible. Common practice, as the base standard's hygiene limits.
const (
	nappyMonths = 36
	mensesFrom  = 11 * 12
	mensesTo    = 55 * 12
)

// infantMonths: below, a person counts as an infant, who needs food and things of their own. Our own line.
const infantMonths = 24

// listWords names all that the household has and whom it must provide for, in the
// words that lines of official lists use: "can:signal:whistle", "document:map",
// "first-aid:gloves", "radio:weather", "insulation:jacket", "needs:infant".
func (m *measurer) listWords() {
	set := map[string]bool{}
	m.meansWords(set)
	m.provisionWords(set)
	m.deviceWords(set)
	m.paperWords(set)
	m.careWords(set)
	m.needWords(set)
	out := make([]string, 0, len(set))
	for k := range set {
		out = append(out, k)
	}
	slices.Sort(out)
	m.f.Household.Has = out
}

// meansWords names what the household can do, by which means, and its first aid.
func (m *measurer) meansWords(set map[string]bool) {
	for _, c := range m.f.Capabilities {
		set["can:"+string(c.Capability)] = true
		for _, o := range c.Offers {
			word := "can:" + string(c.Capability) + ":" + o.Means
			set[word] = true
			if o.Waterproof && c.Capability == kinds.CanFire {
				set["waterproof:"+word] = true
			}
			if o.Pack != "" && c.Capability == kinds.CanSee {
				set["packed:"+word] = true
			}
		}
	}
	for _, c := range m.f.Household.Supply.FirstAid {
		set["first-aid"], set["first-aid:"+c.Kind] = true, true
	}
}

// provisionWords names food, water and clothing.
func (m *measurer) provisionWords(set map[string]bool) {
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
		if len(f.Suits) > 0 || f.AllergensKnown {
			set["food:chosen"] = true
		}
	}
	for i := range m.f.Vessels {
		set["vessel"] = true
		if m.f.Vessels[i].WaterML > 0 {
			set["water"] = true
		}
	}
	for i := range m.f.Insulation {
		set["insulation:"+m.f.Insulation[i].Kind] = true
	}
}

// deviceWords names radios, cells, and care devices that something feeds.
func (m *measurer) deviceWords(set map[string]bool) {
	for i := range m.f.Radios {
		for _, r := range m.f.Radios[i].Receives {
			set["radio"], set["radio:"+r] = true, true
		}
		if m.f.Radios[i].Service != "" {
			set["radio:two-way"] = true
		}
	}
	for i := range m.f.Cells {
		set["cells"], set["cells:"+m.f.Cells[i].Size] = true, true
	}
	for i := range m.f.CareDevices {
		if len(m.f.CareDevices[i].Items) > 0 {
			set["device-battery"] = true
		}
	}
}

// paperWords names documents, cash, and what is written down of the plan.
func (m *measurer) paperWords(set map[string]bool) {
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
	if m.f.Plan.Meetings > 0 {
		set["plan:meeting-points"] = true
	}
}

// careWords names medicine and what care uses up.
func (m *measurer) careWords(set map[string]bool) {
	if len(m.f.Medicines) > 0 {
		set["medicine"] = true
	}
	for i := range m.f.AnimalMedications {
		if m.f.AnimalMedications[i].DosesMilli > 0 {
			set["medicine:animal"] = true
		}
	}
	for i := range m.f.Consumables {
		if m.f.Consumables[i].HaveMilli > 0 {
			set["care-supplies"] = true
		}
	}
}

// needWords names whom and what the household must provide for.
func (m *measurer) needWords(set map[string]bool) {
	for i := range m.f.People {
		p := &m.f.People[i]
		set["needs:child"] = set["needs:child"] || !p.Adult
		infant := m.infant(p.ID)
		set["needs:infant"] = set["needs:infant"] || infant
		set["needs:infant-food"] = set["needs:infant-food"] || infant && !p.Breastfed
		set["needs:nappies"] = set["needs:nappies"] || p.AgeKnown && p.AgeMonths < nappyMonths
		set["needs:period"] = set["needs:period"] || p.Sex == "female" && p.AgeKnown && p.AgeMonths >= mensesFrom && p.AgeMonths <= mensesTo
		set["needs:glasses"] = set["needs:glasses"] || p.Glasses
		set["needs:diet"] = set["needs:diet"] || len(p.Diets) > 0 || len(p.Allergies) > 0
		set["needs:wheels"] = set["needs:wheels"] || p.Moves == "wheelchair" || p.Moves == "power-chair"
		set["needs:aid"] = set["needs:aid"] || p.Moves != "" && p.Moves != "alone" && p.Moves != "carried"
		set["needs:deaf"] = set["needs:deaf"] || p.Hears == "no"
		set["needs:hearing"] = set["needs:hearing"] || p.AidSize != "" && p.AidSize != "usb"
	}
	for i := range m.f.Vehicles {
		switch m.f.Vehicles[i].Kind {
		case "car", "van", "motorcycle":
			set["needs:car"] = true
		}
	}
	set["needs:care-supplies"] = len(m.f.Consumables) > 0
	set["needs:animal-medicine"] = len(m.f.AnimalMedications) > 0
	set["needs:device"] = len(m.f.CareDevices) > 0
	set["needs:two-packs"] = len(m.f.Packs) > 1
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
