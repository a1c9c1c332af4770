package measure

import (
	"cmp"
	"slices"

	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
)

// powerBank is the size of what charges a device instead of going into it.
const powerBank = "usb"

// nominal is the voltage, in mV, of one cell of a size and chemistry; 0 where
// no figure is at hand. 1.5 V for alkaline and small lithium cells and 1.2 V for
// nickel-metal hydride are as cell makers print them; the others from memory.
func nominal(size, chemistry string) int64 {
	coin := size == "CR123A" || size == "CR2032" || size == "CR2025"
	switch {
	case chemistry == "lithium" && coin:
		return 3000
	case chemistry == "lithium-ion":
		return 3700
	case size == "9V" && chemistry == "nimh":
		return 8400
	case size == "9V":
		return 9000
	case chemistry == "nimh":
		return 1200
	case chemistry == "silver-oxide":
		return 1550
	case chemistry == "alkaline" || chemistry == "zinc-carbon" || chemistry == "lithium" && (size == "AA" || size == "AAA"):
		return 1500
	}
	return 0
}

// energyOf is what all cells of an item hold, in mWh; 0 where neither energy
// nor capacity is written.
func energyOf(c *kit.Cells, n int64) int64 {
	cells := max(1, c.Cells) * n
	switch {
	case c.Energy.Set: // 3.6 J is one mWh
		return (int64(c.Energy.Value)*cells*10 + 18) / 36
	case c.Capacity.Set:
		return (int64(c.Capacity.Value)*nominal(c.Size, c.Chemistry) + 500_000) / 1_000_000 * cells
	}
	return 0
}

// charged reports whether a device is charged from a power bank rather than filled with cells.
func charged(d *kit.Device) bool { return d.BuiltIn || d.Size == powerBank }

// power measures devices and what feeds them.
//
// Every device of which nothing else is written counts as filled at the start. Spare cells are shared out among
// the devices of one size that one carrier has, so that no cell counts twice:
// in rounds, by id, each takes one whole filling while enough is left. A power
// bank adds no running time: what a device takes from it is not written.
func (m *measurer) power() {
	m.f.Devices, m.f.Cells = []facts.Device{}, []facts.Cells{}
	for i := range m.things {
		t := &m.things[i]
		if t.count == 0 {
			continue
		}
		if c := &t.it.Cells.Value; t.it.Cells.Set {
			m.f.Cells = append(m.f.Cells, facts.Cells{
				ID: t.id, Name: t.name, Pack: t.pack, Carrier: t.carrier, Size: c.Size, Chemistry: c.Chemistry,
				Count: max(1, c.Cells) * t.count, EnergyMWH: energyOf(c, t.count),
			})
		}
		if d := &t.it.Device.Value; t.it.Device.Set {
			f := facts.Device{
				ID: t.id, Name: t.name, Pack: t.pack, Carrier: t.carrier, Size: d.Size, BuiltIn: d.BuiltIn,
				SelfPowered: d.SelfPowered, Empty: d.Empty, RunMin: d.RunTime.Value.Minutes() * t.count, RunKnown: d.RunTime.Set,
				Light: slices.ContainsFunc(t.can, func(o offer) bool { return o.name == kinds.CanLight }),
				Phone: slices.ContainsFunc(t.can, func(o offer) bool { return o.means == "phone" }),
			}
			if !charged(d) && d.Size != "" {
				f.CellsNeeded = max(1, d.Cells) * t.count
			}
			m.f.Devices = append(m.f.Devices, f)
		}
	}
	slices.SortFunc(m.f.Devices, func(a, b facts.Device) int { return cmp.Compare(a.ID, b.ID) })
	for i := range m.f.Devices {
		d := &m.f.Devices[i]
		for j := range m.f.Cells {
			if c := &m.f.Cells[j]; c.Carrier == d.Carrier && c.Size == feed(d) {
				d.SpareCells += c.Count
			}
		}
		if !d.Empty {
			d.RunTotalMin = d.RunMin
		}
	}
	for i := range m.f.Cells {
		c := &m.f.Cells[i]
		for j := range m.things {
			if t := &m.things[j]; t.it.Device.Set {
				if d := &t.it.Device.Value; c.Size == powerBank && charged(d) || (c.Size == d.Size || d.Size == "") && !charged(d) { // of a device of unknown size, it may be
					c.FitDevices += t.count
				}
			}
		}
	}
	m.share()
	for i := range m.f.Devices {
		d := &m.f.Devices[i]
		run := facts.Amount{}
		if d.RunKnown {
			run = facts.Amount{Kind: kinds.QuantityDuration, Value: d.RunTotalMin * 60}
		}
		m.l.Add(facts.Posting{ID: d.ID + "/run-total", Spot: d.ID + "/device", What: "running time of", Of: d.Name, Amount: run, Account: "one filling, and whole fillings of the spare cells of the same carrier, shared among the devices of one size"})
		m.l.Add(facts.Posting{ID: d.ID + "/device/runTime", What: "running time on one filling of", Of: d.Name, Amount: runTime(d)})
	}
	for i := range m.f.Cells {
		c := &m.f.Cells[i]
		m.l.Add(facts.Posting{ID: c.ID + "/stored", Spot: c.ID + "/cells", What: "energy in", Of: c.Name, Amount: facts.Amount{Kind: kinds.QuantityStored, Value: c.EnergyMWH * 36 / 10}, Account: "as written, or capacity times nominal voltage"})
	}
}

func runTime(d *facts.Device) facts.Amount {
	if !d.RunKnown {
		return facts.Amount{}
	}
	return facts.Amount{Kind: kinds.QuantityDuration, Value: d.RunMin * 60}
}

// feed is the size of what feeds a device from outside.
func feed(d *facts.Device) string {
	if d.BuiltIn {
		return powerBank
	}
	return d.Size
}

// share gives the devices their fillings from spare cells.
func (m *measurer) share() {
	done := make([]bool, len(m.f.Devices))
	for i := range m.f.Devices {
		first := &m.f.Devices[i]
		if done[i] || first.CellsNeeded == 0 {
			continue
		}
		var same []*facts.Device
		var round int64
		for j := i; j < len(m.f.Devices); j++ {
			if d := &m.f.Devices[j]; d.CellsNeeded > 0 && d.Carrier == first.Carrier && d.Size == first.Size {
				done[j] = true
				same = append(same, d)
				round += d.CellsNeeded
			}
		}
		left := first.SpareCells
		for _, d := range same {
			d.RunTotalMin += left / round * d.RunMin
		}
		left %= round
		for took := true; took; {
			took = false
			for _, d := range same {
				if left >= d.CellsNeeded {
					left -= d.CellsNeeded
					d.RunTotalMin += d.RunMin
					took = true
				}
			}
		}
	}
}
