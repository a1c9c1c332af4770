package measure

import (
	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// care adds the ledger entries of what is written of a person's care.
func (m *measurer) care(p *kit.Person, add func(leaf, what string, a facts.Amount)) {
	if len(p.Conditions) > 0 {
		add("conditions", "conditions of", facts.CountOf(int64(len(p.Conditions))))
	}
	if len(p.MustNot) > 0 {
		add("mustNot", "water treatments not for", facts.CountOf(int64(len(p.MustNot))))
	}
	for _, f := range []struct{ leaf, what, text string }{
		{"moves", "way of moving of", p.Moves}, {"helpedBy", "helper of", p.HelpedBy}, {"hears", "hearing of", p.Hears}, {"sees", "sight of", p.Sees},
	} {
		if f.text != "" {
			add(f.leaf, f.what, facts.TextOf(f.text))
		}
	}
	if p.HearingAids.Set {
		add("hearingAids", "hearing aids of", facts.CountOf(p.HearingAids.Value.Count))
	}
}

// consumables counts what each person's care uses up, and what feeds each medical device.
func (m *measurer) consumables() {
	m.f.Consumables, m.f.CareDevices = []facts.Consumable{}, []facts.CareDevice{}
	for i := range m.h.People {
		p := &m.h.People[i]
		for j := range p.Consumables {
			m.consumable(p, &p.Consumables[j])
		}
		for j := range p.Devices {
			m.careDevice(p, &p.Devices[j])
		}
	}
}

func (m *measurer) consumable(p *kit.Person, c *kit.Consumable) {
	f := facts.Consumable{ID: c.Spot, Name: c.Name, Person: p.Spot, PersonName: p.Name, PerDayMilli: int64(c.PerDay), Items: []string{}}
	var in []facts.Input
	for i := range m.things {
		t := &m.things[i]
		s := t.it.Care.Value
		if !t.it.Care.Set || t.count == 0 || s.Person != p.Key || s.Consumable != c.Key || !m.usable(t, nil) {
			continue
		}
		uses := int64(s.Uses) * t.count
		f.HaveMilli += uses
		f.Items = append(f.Items, t.id)
		in = append(in, facts.Input{ID: t.id + "/care", Amount: facts.Amount{Kind: kinds.QuantityCount, Value: uses}})
	}
	f.Items = sorted(f.Items)
	m.f.Consumables = append(m.f.Consumables, f)
	m.l.Add(facts.Posting{
		ID: c.Spot, What: c.Name + " of", Of: p.Name, Amount: facts.Amount{Kind: kinds.QuantityCount, Value: f.HaveMilli},
		Account: "uses packed of which no date has passed on the audit date", Inputs: facts.Listed(in),
	})
}

func (m *measurer) careDevice(p *kit.Person, d *kit.PoweredDevice) {
	f := facts.CareDevice{
		ID: d.Spot, Name: d.Name, Person: p.Spot, PersonName: p.Name, PowerMW: int64(d.Power), MinPerDay: d.HoursPerDay.Minutes(),
		Unknown: []string{}, Items: []string{},
	}
	var in []facts.Input
	for i := range m.things {
		t := &m.things[i]
		c := &t.it.Cells.Value
		if !t.it.Cells.Set || t.count == 0 || c.For != d.Key {
			continue
		}
		f.Items = append(f.Items, t.id)
		stored := energyOf(c, t.count)
		if stored == 0 {
			f.Unknown = append(f.Unknown, t.id)
			continue
		}
		f.StoredMWH += stored
		in = append(in, facts.Input{ID: t.id + "/stored", Amount: facts.Amount{Kind: kinds.QuantityStored, Value: stored * 36 / 10}}) // 3.6 J are one mWh
	}
	f.Unknown, f.Items = sorted(f.Unknown), sorted(f.Items)
	m.f.CareDevices = append(m.f.CareDevices, f)
	m.l.Add(facts.Posting{
		ID: d.Spot, What: d.Name + " of", Of: p.Name, Amount: facts.AmountOf(kinds.QuantityStored, unit.Energy(f.StoredMWH*36/10)),
		Account: "energy of the batteries written as its own", Inputs: facts.Listed(in),
	})
}
