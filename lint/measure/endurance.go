package measure

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"kitmuster/lint/body"
	"kitmuster/lint/facts"
	"kitmuster/lint/forecast"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/source"
	"kitmuster/lint/unit"
)

const (
	// defaultStart: a plan that says no hour begins at eight in the morning. Our own line.
	defaultStart = 8 * 60
	// defaultPlan: a plan that says no duration is one of 72 hours, as most authorities' lists ask.
	defaultPlan = 72 * 60
	// defaultHumidity is the mean of a day where the season says nothing: our own line.
	defaultHumidity = 0.5
	// chemicalWait is how long a chemical waits where the family writes nothing: 30 minutes in clear
	// water, as the CDC and makers print for chlorine and iodine; the label decides.
	chemicalWait = 30
)

const (
	enduranceID      = "endurance"
	enduranceAccount = "hour by hour over the plan, by the assumptions that kitmuster forecast prints"
)

// lasting are the means of light to walk by, whose hours are not known where no device is written.
var lasting = []string{"headlamp", "torch", "lantern", "light-stick"}

// freezing is the night, in thousandths of a degree Celsius, below which cells of a weak chemistry give half their hours: a
// maker's page on alkaline cells between -20 and 0 °C, seen second-hand; zinc-carbon ones: common practice, no source.
const freezing = 0

// endurance walks through the plan hour by hour and takes over what comes of it.
func (m *measurer) endurance(o Options) {
	m.planInput = m.forecast(o)
	m.planHours = forecast.Of(m.planInput)
	in, res := m.planInput, m.planHours
	f := &m.f.Endurance
	f.ID, f.Hours, f.Minutes, f.StartMin, f.WaterLimit = enduranceID, int64(len(res.Hours)), in.Minutes, in.Start, res.WaterLimit
	f.Category, f.CategoryHour = int64(res.Category), int64(res.CategoryHour)
	f.HeatIndexMC, f.HottestHour, f.HeatBeyond = tenths(res.HeatIndex), int64(res.HottestHour), res.HeatBeyond
	f.WalkMC = tenths(res.WalkCelsius)
	f.RestCategory, f.RestHour, f.RestMC, f.RestBeyond = int64(res.RestCategory), int64(res.RestCategoryHour), tenths(res.RestCelsius), res.RestBeyond
	f.NightKnown, f.NightMC = res.Sleeps, tenths(res.NightCelsius)
	f.ChillKnown, f.ChillMC, f.ChillHour = in.Weather != nil, tenths(res.Chill), int64(res.ChillHour)
	m.l.Add(facts.Posting{ID: enduranceID, Spot: "plan", What: "the forecast of the plan", Account: enduranceAccount})
	f.Stocks, f.Days, f.Bodies, f.Passed = []facts.Lasting{}, []facts.PlanDay{}, []facts.Burden{}, []facts.Passed{}
	for _, e := range res.Events {
		if e.Kind == forecast.Pass {
			f.Passed = append(f.Passed, facts.Passed{ID: e.ID, Name: lastKey(e.ID), Leaves: leaves(e.Leaves)})
		}
	}
	for _, s := range res.Stocks {
		m.lasting(s)
	}
	slices.SortFunc(f.Stocks, func(a, b facts.Lasting) int { return cmp.Compare(a.ID, b.ID) })
	for i, d := range res.Days {
		f.Days = append(f.Days, facts.PlanDay{
			ID: enduranceID + "/day-" + strconv.Itoa(i+1), Day: int64(i + 1), SpentJ: d.SpentJ, EatenJ: d.EatenJ, NeedML: d.NeedML, DrunkML: d.DrunkML, FindML: d.FindML,
			CollectedML: d.CollectedML, SodiumNeedMG: d.SodiumNeedMG, SodiumMG: d.SodiumMG, WalkMin: d.WalkMin,
		})
		m.l.Add(facts.Posting{ID: f.Days[i].ID, Spot: "plan", What: "day " + strconv.Itoa(i+1) + " of", Of: "the plan", Account: enduranceAccount})
	}
	for i, b := range res.Bodies {
		x := &in.Bodies[i]
		f.Bodies = append(f.Bodies, facts.Burden{
			ID: x.ID, Name: x.Name, MostMG: b.MostMG, MostHour: int64(b.MostHour), FirstMG: b.FirstMG, LastMG: b.LastMG,
			SpentJ: b.SpentJ, DrinkML: b.DrinkML, SweatML: b.SweatML, SodiumMG: b.SodiumMG, WalkMin: b.WalkMin,
			Uncarried: !x.Walks && !x.Animal && m.f.People[i].CarriedBy == "", // an animal that nobody carries walks
		})
		m.l.Add(facts.Posting{
			ID: x.ID + "/most-load", Spot: x.ID, What: "most load on the way of", Of: x.Name, Amount: facts.AmountOf(kinds.QuantityMass, unit.Mass(b.MostMG*1000)), Account: enduranceAccount,
			Inputs: facts.Listed([]facts.Input{{ID: x.ID + "/load", Amount: facts.AmountOf(kinds.QuantityMass, unit.Mass(b.FirstMG*1000))}}),
		})
	}
	m.f.Plan.FootMin = 0
	for i, l := range res.Legs {
		p := &m.f.Plan.Legs[i]
		p.Arrives, p.BeginHour, p.EndHour, p.OnFootMin = l.End != forecast.Never, int64(l.Begin), int64(l.End), l.WalkMin
		m.f.Plan.FootMin += max(p.WalkMin, p.OnFootMin) // a leg that the plan does not reach has the rule's time alone
	}
}

// lastKey is the family's own word for an entry.
func lastKey(spot string) string {
	keys := source.Keys(spot)
	return keys[len(keys)-1]
}

// organisms are the classes in the order of forecast.Treatment, and mud.
var organisms = [forecast.Classes + 1]string{"bacteria", "viruses", "Giardia", "Cryptosporidium", "mud"}

// leaves says in words what stays in water.
func leaves(classes [forecast.Classes + 1]bool) (words []string) {
	for i, is := range classes {
		if is {
			words = append(words, organisms[i])
		}
	}
	return words
}

// tenths is a temperature in thousandths of a degree, to the nearest tenth of one.
func tenths(celsius float64) int64 { return int64(math.Round(celsius*10)) * 100 }

// lasting takes over one stock, with the entries that it is made of.
func (m *measurer) lasting(s forecast.Stock) {
	x := facts.Lasting{
		ID: enduranceID + "/" + string(s.Kind), Kind: s.Kind, Lasts: int64(s.Lasts), FirstShort: s.First, Short: s.Short, Have: s.Have, Need: s.Need, Lowest: s.Lowest, PastJ: s.Past, LastsGood: int64(s.Good),
		Known: s.Kind != kinds.StockLight || m.planInput.Weather != nil, ForOne: []facts.ForOne{},
	}
	switch s.Kind {
	case kinds.StockEnergy:
		for _, u := range m.planHours.Uneaten {
			switch {
			case u.Stock != s.Body:
			case u.For == forecast.Uncooked:
				x.RawJ = u.J
			default:
				b := &m.planInput.Bodies[u.For]
				x.ForOne = append(x.ForOne, facts.ForOne{Body: b.ID, Name: b.Name, J: u.J})
			}
		}
	case kinds.StockSodium:
		for i := range m.things {
			t := &m.things[i]
			if f := &t.it.Food.Value; t.it.Food.Set && t.count > 0 && t.eater == "" && !f.Sodium.Set && f.Energy > 0 {
				x.Unwritten++
			}
		}
	}
	spot, what, of := "plan", string(s.Kind), ""
	var owner *forecast.Body
	if s.Body != forecast.Everybody {
		owner = &m.planInput.Bodies[s.Body]
		x.Body, x.BodyName = owner.ID, owner.Name
	}
	switch {
	case s.ID != "":
		x.ID, spot = s.ID+"/endurance", s.ID
		for i := range m.f.Medications {
			if md := &m.f.Medications[i]; md.ID == s.ID {
				x.Name, of = md.Name, md.PersonName
			}
		}
		what = "doses of " + x.Name + " of"
	case owner != nil:
		x.ID, spot, what, of = owner.ID+"/endurance-energy", owner.ID, "food of", owner.Name
	}
	x.Least = x.Short > 0 && m.mayBeMore(&x, owner)
	x.Unrecorded = x.Least && x.Have == 0
	m.f.Endurance.Stocks = append(m.f.Endurance.Stocks, x)
	m.l.Add(facts.Posting{
		ID: x.ID, Spot: spot, What: "how long lasts: " + what, Of: of, Amount: facts.AmountOf(kinds.QuantityDuration, unit.Duration(s.Lasts*3600)), Account: enduranceAccount, Inputs: facts.Listed(m.drivers(s)),
	})
}

// mayBe is what things that are not recorded may be for a stock to have more of, in the words of facts.Unrecorded.
var mayBe = map[kinds.Stock][]string{
	kinds.StockWater: {"water", "container"}, kinds.StockSodium: {"food"}, kinds.StockLight: {"light", "run-time", "cells"}, kinds.StockFuel: {"fuel"}, kinds.StockDoses: {"medicine"},
}

// mayBeMore reports whether there may be more of a stock than is recorded.
func (m *measurer) mayBeMore(x *facts.Lasting, owner *forecast.Body) bool {
	may := mayBe[x.Kind]
	if x.Kind == kinds.StockEnergy {
		may = []string{"food"}
		if owner != nil {
			may = []string{"infant-food"}
			if slices.ContainsFunc(m.f.Animals, func(a facts.Animal) bool { return a.ID == owner.ID }) {
				may = []string{"animal-food"}
			}
		}
	}
	return x.Unwritten > 0 || slices.ContainsFunc(m.f.Unrecorded, func(u facts.Unrecorded) bool {
		return slices.ContainsFunc(may, func(what string) bool { return slices.Contains(u.May, what) })
	})
}

// drivers are the entries of what a stock is made of.
func (m *measurer) drivers(s forecast.Stock) (in []facts.Input) {
	if s.Kind == kinds.StockLight {
		for i := range m.f.Devices {
			if d := &m.f.Devices[i]; d.Light && d.RunKnown {
				in = append(in, facts.Input{ID: d.ID + "/run-total", Amount: facts.Amount{Kind: kinds.QuantityDuration, Value: d.RunTotalMin * 60}})
			}
		}
		return in
	}
	foods := map[string]bool{} // those of this stock
	for i := range m.planInput.Foods {
		f := &m.planInput.Foods[i]
		own := f.For != forecast.Everybody && m.planInput.Bodies[f.For].Eats == forecast.Own
		foods[f.ID] = s.Body == forecast.Everybody && !own || own && f.For == s.Body
	}
	for i := range m.things {
		t := &m.things[i]
		add := func(leaf string, kind kinds.Quantity, value int64) {
			if value > 0 {
				in = append(in, facts.Input{ID: t.id + leaf, Amount: facts.Amount{Kind: kind, Value: value}})
			}
		}
		switch s.Kind {
		case kinds.StockWater:
			add("/water", kinds.QuantityVolume, t.amounts[sumWater])
		case kinds.StockFuel:
			add("/fuel/mass", kinds.QuantityMass, t.amounts[sumFuel])
		case kinds.StockSodium:
			add("/food/sodium", kinds.QuantityMass, t.amounts[sumSodium])
			add("/firstAid", kinds.QuantityMass, salts(t)*1000)
		case kinds.StockEnergy:
			if foods[t.id] {
				add("/food/energy", kinds.QuantityEnergy, int64(t.it.Food.Value.Energy)*t.count)
			}
		case kinds.StockDoses:
			if md := m.medication(t.it); md != nil && md.Spot == s.ID {
				add("/medicine", kinds.QuantityCount, int64(t.it.Medicine.Value.Doses)*t.count)
			}
		}
	}
	return in
}

// forecast says in plain numbers what the household brings to its plan.
func (m *measurer) forecast(o Options) *forecast.Input {
	p := &m.f.Plan
	in := &forecast.Input{Minutes: p.Minutes, Start: defaultStart}
	if in.Minutes == 0 {
		in.Minutes = defaultPlan
	}
	for _, start := range []opt[unit.Clock]{m.h.Plan.Start, o.Start} {
		if start.Set {
			in.Start = int64(start.Value)
		}
	}
	if p.SeasonKnown {
		w := &forecast.Weather{Day: float64(p.DayMC) / 1000, Night: float64(p.NightMC) / 1000, Humidity: defaultHumidity, Daylight: 24*60 - p.DarkMin}
		if p.HumidityKnown {
			w.Humidity = float64(p.Humidity) / 1000
		}
		for i := range m.h.Plan.Seasons {
			if s := &m.h.Plan.Seasons[i]; s.Key == p.Season {
				w.Wind = float64(s.Wind.Value) / 1000
			}
		}
		in.Weather = w
	}
	index := map[string]int{} // of bodies, by id
	m.who(in, index)
	for _, l := range m.legs() {
		x := forecast.Leg{
			ID: l.Spot, Distance: metres(l.Distance), Climb: metres(l.Climb), Descent: metres(l.Descent), Ground: l.Ground, Pace: float64(l.Pace.Value),
		}
		if v := m.ridden(l); v != nil {
			x.Ride = m.speed(v)
			if v.Kind == kindBicycle {
				x.Work = bicycleWork
			}
		}
		if off := m.off(l); off != nil {
			x.Off = make([]float64, len(in.Bodies))
			for id, kg := range off {
				if i, ok := index[id]; ok {
					x.Off[i] = kg
				}
			}
		}
		in.Legs = append(in.Legs, x)
	}
	for j := range m.h.Plan.WaterSources {
		s := &m.h.Plan.WaterSources[j]
		leg, along := forecast.NoLeg, 0.0
		for i, l := range m.legs() {
			if l.Key == s.Leg {
				leg, along = i, in.Legs[i].Distance
			}
		}
		m.source(in, s, leg, along)
	}
	if d := &m.h.Plan.Destination; d.Set {
		in.Fed = d.Value.Food
		if last := len(in.Legs) - 1; d.Value.Water && last >= 0 {
			in.Sources = append(in.Sources, forecast.Source{ID: destinationID, Leg: last, Along: in.Legs[last].Distance, ML: forecast.NoEnd, Clean: true})
		} else if d.Value.Water {
			in.Sources = append(in.Sources, forecast.Source{ID: destinationID, Leg: forecast.NoLeg, ML: forecast.NoEnd, Clean: true})
		}
	}
	slices.SortFunc(in.Sources, func(a, b forecast.Source) int { return cmp.Compare(a.ID, b.ID) })
	m.what(in, index)
	return in
}

// source adds water on the way; foul water is never drunk.
func (m *measurer) source(in *forecast.Input, s *kit.WaterSource, leg int, along float64) {
	quality := m.quality(s.Quality)
	if quality == "foul" {
		return
	}
	x := forecast.Source{ID: s.Spot, Leg: leg, Along: along, ML: forecast.NoEnd, Clean: quality == "tap", Turbid: quality == "turbid"}
	if s.Litres.Set {
		x.ML = s.Litres.Value.WholeMillilitres()
	}
	if s.After.Set {
		x.Along = metres(s.After.Value)
	}
	in.Sources = append(in.Sources, x)
}

func metres(l unit.Length) float64 { return float64(l) / 1e6 }

// who lists the people and animals.
func (m *measurer) who(in *forecast.Input, index map[string]int) {
	carriers := map[string]*facts.Carrier{}
	for i := range m.f.Carriers {
		carriers[m.f.Carriers[i].ID] = &m.f.Carriers[i]
	}
	add := func(b forecast.Body) {
		if c := carriers[b.ID]; c != nil {
			b.CarriesPack, b.Load = len(c.Packs) > 0, float64(c.LoadMG)/1e6
			b.Extra = float64(c.OnBodyMG+c.CarriedMG) / 1e6
		}
		index[b.ID] = len(in.Bodies)
		in.Bodies = append(in.Bodies, b)
	}
	for i := range m.f.People {
		p := &m.f.People[i]
		b := forecast.Body{
			ID: p.ID, Name: p.Name, Adult: p.Adult, Mass: float64(p.BodyMassMG) / 1e6, RestJ: float64(p.EnergyJ) / forecast.CampDay,
			Walks: Walks(p), Pace: pace(p), DrinkML: float64(p.WaterML), SodiumMG: float64(p.SodiumMG),
		}
		switch {
		case infant(p) && !p.Breastfed:
			b.Eats = forecast.Own
		case p.EnergyJ == 0: // nursed
			b.Eats = forecast.Nothing
		}
		add(b)
	}
	for i := range m.f.Animals {
		a := &m.f.Animals[i]
		b := forecast.Body{
			ID: a.ID, Name: a.Name, Animal: true, Walks: a.CarriedBy == "" && !a.CrateRides, Mass: float64(a.BodyMassMG) / 1e6, RestJ: float64(a.NeedJ), DrinkML: float64(a.NeedML), Eats: forecast.Own,
		}
		if b.Grazes = m.grazes(a.Species); b.Grazes {
			b.DrinkML = 0
		}
		add(b)
	}
}

// SlowBelowMonths and OldMonths are the ages of those who walk slowly: the standard's hazard.slow_below_months and
// load.elder_months, which a test holds against them, as a forecast reads no standard. So are Unfit, its load.unfit, and
// SlowPace its hazard.slow_pace in millimetres a minute: 1.96 km/h with children or old people, of 1,877 survivors of the
// tsunami of 2011 (survey of a ministry, 2012; seen second-hand).
const (
	SlowBelowMonths = 144
	OldMonths       = 780
	SlowPace        = 32_400
)

// Unfit is the health in which people walk slowly.
var Unfit = []string{"poor", "unwell"}

// aided are the ways to move that are slow.
var aided = []string{"cane", "frame", "crutches", "prosthesis", "wheelchair"}

// pace is the most that a person walks at, in m/s; 0 where nothing says that they are slow. Whom the family writes to be in
// good fitness is not slow for being old.
func pace(p *facts.Person) float64 {
	old := p.AgeMonths >= OldMonths && p.Fitness != "good"
	if slices.Contains(aided, p.Moves) || slices.Contains(Unfit, p.Fitness) || p.AgeKnown && (p.AgeMonths < SlowBelowMonths || old) {
		return SlowPace / 1000.0 / 60
	}
	return 0
}

// FindsOwn are the species that graze and are watered on the way: the standard's animals.finds_own, which a
// test holds against it, as a forecast reads no standard.
var FindsOwn = []string{"horse"}

// grazes reports whether an animal is fed and watered by the way; a household may say of fewer that they are.
func (m *measurer) grazes(species string) bool {
	for i := range m.h.Limits {
		if l := &m.h.Limits[i]; l.Area == "animals" && l.Name == "finds_own" && l.ValuesSet && !slices.Contains(l.Values, species) {
			return false
		}
	}
	return slices.Contains(FindsOwn, species)
}

// what lists the stocks.
func (m *measurer) what(in *forecast.Input, index map[string]int) {
	at := func(id string, otherwise int) int {
		if i, ok := index[id]; ok {
			return i
		}
		return otherwise
	}
	for i := range m.things {
		t := &m.things[i]
		if t.count == 0 {
			continue
		}
		it, carrier := t.it, forecast.Nobody
		if t.pack != "" {
			carrier = at(t.carrier, forecast.Nobody)
		}
		if fd := &it.Food.Value; it.Food.Set && !closed(t, m.house) {
			n := t.count
			f := forecast.Food{
				ID: t.id, Carrier: carrier, For: at(m.idOf(fd.For), forecast.Everybody), EnergyJ: int64(fd.Energy) * n, SodiumMG: (fd.Sodium.Value * unit.Mass(n)).Milligrams(),
				NetMG: t.dry.Milligrams(), CookML: (fd.CookWater * unit.Volume(n)).Millilitres(), Cook: t.cooked(), Opened: it.Opened.Set,
			}
			f.Past = m.past(it)
			if fd.NetMass.Set {
				f.NetMG = min(f.NetMG, (fd.NetMass.Value * unit.Mass(n)).Milligrams())
			}
			last, ok := openedUntil(it)
			switch {
			case ok:
				f.Until = int64(last)
			case it.Expires.Set:
				f.Until = int64(it.Expires.Value)
			}
			in.Foods = append(in.Foods, f)
		}
		in.SaltsMG += salts(t)
		if it.Container.Value.Capacity > 0 || it.Water.Value > 0 {
			v := forecast.Vessel{ID: t.id, Carrier: carrier, WaterML: unit.Volume(t.amounts[sumWater]).WholeMillilitres()}
			v.CapacityML = max(v.WaterML, unit.Volume(t.amounts[sumContainer]).WholeMillilitres())
			in.Vessels = append(in.Vessels, v)
		}
		if it.Treat.Set && it.Treat.Value.Method != methodBoil && m.untreated(t, m.house) == "" {
			in.Treatments = append(in.Treatments, m.treatment(t))
		}
	}
	slices.SortFunc(in.Foods, func(a, b forecast.Food) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(in.Vessels, func(a, b forecast.Vessel) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(in.Treatments, func(a, b forecast.Treatment) int { return cmp.Compare(a.ID, b.ID) })
	supply := &m.f.Household.Supply
	in.FuelML = supply.BoilableML
	in.BoilTreats = slices.ContainsFunc(supply.Can, func(c facts.Can) bool {
		return c.Capability == kinds.CanTreatWater && slices.Contains(c.Means, methodBoil)
	})
	m.lamps(in)
	for i := range m.f.Medications {
		md := &m.f.Medications[i]
		in.Medications = append(in.Medications, forecast.Medication{ID: md.ID, Name: md.Name, Body: at(md.Person, forecast.Everybody), PerDay: md.PerDayMilli, Have: md.UsableMilli})
	}
}

// salts is the sodium of the packets of rehydration salts in a thing, in mg. A packet is taken to make
// one litre, as the World Health Organization's does (from memory); one that is written as food counts there.
func salts(t *thing) (mg int64) {
	for _, fa := range t.it.FirstAid {
		if fa.Kind == "rehydration" && !t.it.Food.Set {
			mg += int64(math.Round(body.ORSSodium(float64(fa.Count * t.count))))
		}
	}
	return mg
}

func (m *measurer) treatment(t *thing) forecast.Treatment {
	tr := &t.it.Treat.Value
	x := forecast.Treatment{ID: t.id, ML: t.treats.WholeMillilitres(), PerHour: (tr.PerHour.Value * unit.Volume(t.count)).Millilitres(), Filters: tr.Method == "filter" || tr.Method == "purifier"}
	if t.endless {
		x.ML = facts.NoEnd
	}
	switch {
	case tr.Wait.Set:
		x.WaitMin = tr.Wait.Value.Minutes()
	case !x.Filters && tr.Method != "uv":
		x.WaitMin = chemicalWait
	}
	for c := range x.Clears {
		x.Clears[c] = clears(t, c)
	}
	return x
}

// lamps sums the hours of light. One lamp whose hours nobody wrote, or that is charged from a
// power bank, leaves them without a known end.
func (m *measurer) lamps(in *forecast.Input) {
	for i := range m.f.Devices {
		d := &m.f.Devices[i]
		if !d.Light {
			continue
		}
		in.Lamps.Minutes += d.RunTotalMin
		if in.Weather != nil && m.f.Plan.NightMC < freezing && d.CellsNeeded > 0 {
			spare := d.RunTotalMin - d.RunMin
			in.Lamps.Minutes -= spare * m.weakCells(d) / (2 * max(1, d.SpareCells))
		}
		if !d.RunKnown || d.SelfPowered || d.CellsNeeded == 0 && d.SpareCells > 0 {
			in.Lamps.Endless = true
		}
	}
	for i := range m.things {
		t := &m.things[i]
		if !t.it.Device.Set && slices.ContainsFunc(t.can, func(o offer) bool { return o.name == kinds.CanLight && slices.Contains(lasting, o.means) }) {
			in.Lamps.Endless = true
		}
	}
}

// weakCells counts the spare cells of a device, all of its carrier's of that size, that give half their hours when it freezes.
func (m *measurer) weakCells(d *facts.Device) (n int64) {
	for i := range m.f.Cells {
		if c := &m.f.Cells[i]; c.Carrier == d.Carrier && c.Size == d.Size && (c.Chemistry == "alkaline" || c.Chemistry == "zinc-carbon") {
			n += c.Count
		}
	}
	return n
}
