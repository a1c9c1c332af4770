package measure

import (
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// coldLife is how long a cold-chain medicine keeps out of the cold where the
// family writes nothing: 28 days at 15 to 30 °C, which the FDA's page on insulin
// in an emergency allows insulin. Other medicines may keep less: the label decides.
const coldLife = 28

// wholeDays is a time in days, rounded down: a thing is not kept longer than it may be.
func wholeDays(d unit.Duration) int64 { return int64(d) / daySecs }

// openedUntil is the last day of an opened item: what it keeps once open, but
// never past its label's date.
func openedUntil(it *kit.Item) (unit.Date, bool) {
	if !it.Opened.Set || !it.OpenedLife.Set {
		return 0, false
	}
	last := it.Opened.Value.AddDays(wholeDays(it.OpenedLife.Value))
	if it.Expires.Set {
		last = min(last, it.Expires.Value)
	}
	return last, true
}

// coldUntil is the last day of a cold-chain medicine that left the cold.
func coldUntil(it *kit.Item, md *kit.Medication) (unit.Date, bool) {
	if !it.OutOfCold.Set || md == nil || !md.ColdChain {
		return 0, false
	}
	life := int64(coldLife)
	if md.ColdLife.Set {
		life = wholeDays(md.ColdLife.Value)
	}
	return it.OutOfCold.Value.AddDays(life), true
}

// usable reports whether no date of a medicine has passed; a thing is good on its last day.
func (m *measurer) usable(t *thing, md *kit.Medication) bool {
	if t.it.Expires.Set && t.it.Expires.Value < m.on {
		return false
	}
	if last, ok := openedUntil(t.it); ok && last < m.on {
		return false
	}
	last, ok := coldUntil(t.it, md)
	return !ok || last >= m.on
}

// past reports whether a thing is past its day by its label, or since it was opened.
func (m *measurer) past(it *kit.Item) bool {
	if it.Expires.Set && it.Expires.Value < m.on {
		return true
	}
	last, ok := openedUntil(it)
	return ok && last < m.on
}

// medication is what an item is a supply of; nil where there is none.
func (m *measurer) medication(it *kit.Item) *kit.Medication {
	if !it.Medicine.Set {
		return nil
	}
	of := func(key string, list []kit.Medication) *kit.Medication {
		if key != it.Medicine.Value.Person {
			return nil
		}
		if i := slices.IndexFunc(list, func(md kit.Medication) bool { return md.Key == it.Medicine.Value.Medication }); i >= 0 {
			return &list[i]
		}
		return nil
	}
	for i := range m.h.People {
		if md := of(m.h.People[i].Key, m.h.People[i].Medications); md != nil {
			return md
		}
	}
	for i := range m.h.Animals {
		if md := of(m.h.Animals[i].Key, m.h.Animals[i].Medications); md != nil {
			return md
		}
	}
	return nil
}

// dates lists every last day with the days left to it.
func (m *measurer) dates() {
	m.f.Dates = []facts.Dated{}
	for i := range m.things {
		t := &m.things[i]
		it := t.it
		if t.count == 0 {
			continue
		}
		add := func(leaf string, kind kinds.Date, what, account string, day unit.Date) {
			id := t.id + "/" + leaf
			m.dated(facts.Dated{ID: id, Item: t.id, Name: t.name, Kind: kind, Medicine: it.Medicine.Set, Canned: it.Food.Value.Canned, Infant: m.forInfant(it)}, day)
			m.l.Add(facts.Posting{ID: id, What: what, Of: t.name, Amount: facts.AmountOf(kinds.QuantityDate, day), Account: account})
		}
		if it.Expires.Set {
			add("expires", kinds.DateExpires, "last day by the label of", "", it.Expires.Value)
		}
		if day, ok := openedUntil(it); ok {
			add("opened", kinds.DateOpened, "last day once opened of", "the day it was opened and how long it keeps then, but not past its label's date", day)
			m.l.Add(facts.Posting{ID: t.id + "/openedLife", What: "how long it keeps once opened:", Of: t.name, Amount: facts.AmountOf(kinds.QuantityDuration, it.OpenedLife.Value)})
		}
		if it.Rotate.Set {
			add("rotate", kinds.DateRotate, "day of replacement of", "", it.Rotate.Value)
		}
		if day, ok := coldUntil(it, m.medication(it)); ok {
			add("outOfCold", kinds.DateOutOfCold, "last day out of the cold of", "the day it left the cold and the medication's coldLife, or 28 days as the FDA allows insulin at 15 to 30 °C; the label decides", day)
		}
	}
	for i := range m.h.People {
		p := &m.h.People[i]
		for _, l := range p.Licences {
			if l.Until.Set {
				m.dated(facts.Dated{ID: l.Spot + "/until", Item: l.Spot, Name: l.Service, Kind: kinds.DateLicence}, l.Until.Value)
				m.l.Add(facts.Posting{ID: l.Spot + "/until", What: "last day of the " + l.Service + " licence of", Of: p.Name, Amount: facts.AmountOf(kinds.QuantityDate, l.Until.Value)})
			}
		}
	}
}

// forInfant reports whether an item is food for someone in the first year of life.
func (m *measurer) forInfant(it *kit.Item) bool {
	return slices.ContainsFunc(m.h.People, func(p kit.Person) bool {
		months, known := age(p.Born, p.Age, m.on)
		return it.Food.Set && it.Food.Value.For == p.Key && known && months < 12
	})
}

func (m *measurer) dated(d facts.Dated, day unit.Date) {
	d.On, d.Day, d.Left = day.String(), int64(day), int64(day-m.on)
	m.f.Dates = append(m.f.Dates, d)
}
