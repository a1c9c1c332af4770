package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/forecast"
	"kitmuster/lint/kinds"
	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Forecast is one household hour by hour. Plan is what was taken for it and Result what came of it;
// both are nil where the facts are.
type Forecast struct {
	Measured
	Plan   *forecast.Input
	Result *forecast.Result
}

// ForecastText writes, for each household, what happens when, how long each stock lasts, the days,
// the carriers, a chart of the hours and what is taken for granted.
func ForecastText(w io.Writer, f *Made[Forecast], o Options) error {
	return f.text(w, o, func(h *Forecast) bool { return h.Facts != nil }, func(w io.Writer, h *Forecast) {
		p := &outlook{page: newPage(w, h.Facts), in: h.Plan, res: h.Result}
		p.household(h.Household, f.Run.On)
	})
}

// outlook is the page of one forecast.
type outlook struct {
	page
	in  *forecast.Input
	res *forecast.Result
}

func (p *outlook) household(h finding.Household, on string) {
	p.say("%s (%s), forecast as of %s", words.Clean(h.Name), words.Clean(h.Path), on)
	p.head()
	p.events()
	p.stocks()
	p.days()
	p.bodies()
	p.weather()
	p.chart()
	p.say("")
	p.say("  assumptions:")
	for _, a := range forecast.Assumptions {
		p.wrap("  - ", a)
	}
}

// head says for how long, from when on and in which weather.
func (p *outlook) head() {
	long := minutes(p.in.Minutes)
	if !p.f.Plan.MinutesSet {
		long += " (the plan does not say how long)"
	}
	p.say("  %s from %s on; hour 0 is the first, and the clock beside an hour says when it begins", long, clock(p.in.Start))
	if p.in.Weather == nil {
		p.say("  no season is planned for: nothing here knows of heat, cold or darkness")
		return
	}
	w, pl := p.in.Weather, &p.f.Plan
	text := fmt.Sprintf("season %s: %s by day, %s by night", words.Clean(pl.Season), p.amounts.Units.Temperature(unit.Temperature(pl.DayMC)), p.amounts.Units.Temperature(unit.Temperature(pl.NightMC)))
	if pl.HumidityKnown {
		text += fmt.Sprintf(", humidity %s", percent(pl.Humidity, 1000))
	}
	if w.Wind > 0 {
		text += fmt.Sprintf(", wind %.1f m/s", w.Wind)
	}
	p.say("  %s; %s", text, light(w.Daylight))
}

// light says when there is daylight: around noon.
func light(daylight int64) string {
	switch {
	case daylight <= 0:
		return "dark all day"
	case daylight >= 24*60:
		return "light all day and night"
	}
	return fmt.Sprintf("light from %s to %s", clock(12*60-daylight/2), clock(12*60-daylight/2+daylight))
}

// clock writes a minute of the day.
func clock(minute int64) string { return fmt.Sprintf("%02d:%02d", minute/60, minute%60) }

// when writes an hour of the plan with its clock.
func (p *outlook) when(hour int) string {
	return fmt.Sprintf("hour %*d, %s", p.digits(), hour, clock(p.clock(hour)))
}

// clock is the minute of the day at which an hour of the plan begins.
func (p *outlook) clock(hour int) int64 { return (p.in.Start + 60*int64(hour)) % (24 * 60) }

// digits is how wide the number of an hour is.
func (p *outlook) digits() int { return len(fmt.Sprint(max(0, len(p.res.Hours)-1))) }

// key is the family's own word for an entry: the last part of its ID.
func key(id string) string { return words.Clean(id[strings.LastIndexByte(id, '/')+1:]) }

// events tells what happens, one line each.
func (p *outlook) events() {
	p.say("")
	if len(p.res.Events) == 0 {
		p.say("  nobody walks, nothing is collected and nothing runs short")
		return
	}
	for _, e := range p.res.Events {
		text := p.event(&e)
		if e.Kind == forecast.Short {
			switch s := p.lasting(e.Stock, e.Body, e.ID); {
			case s.Unrecorded:
				continue
			case s.Least:
				text = "of what is recorded, " + text
			}
		}
		p.say("  %s  %s", p.when(e.Hour), text)
	}
	p.unrecorded()
	for i, l := range p.res.Legs {
		switch name := key(p.in.Legs[i].ID); {
		case l.Begin == forecast.Never:
			p.say("  the plan ends before anyone starts on %s", name)
		case l.End == forecast.Never:
			p.say("  the plan ends on the way, before %s is done", name)
		}
	}
}

// unrecorded says of which stocks nothing is recorded that may be there, so that nothing is said of when they run short.
func (p *outlook) unrecorded() {
	var names []string
	for _, r := range p.res.Stocks {
		if s := p.lasting(r.Kind, r.Body, r.ID); s.Unrecorded {
			names = append(names, stockName(s))
		}
	}
	if len(names) > 0 {
		p.wrap("  ", fmt.Sprintf("how much there is of this is not recorded, nor when it runs short: %s", words.And(names)))
	}
}

func (p *outlook) event(e *forecast.Event) string {
	switch e.Kind {
	case forecast.Leave:
		how := "walking"
		if slices.ContainsFunc(p.in.Legs, func(l forecast.Leg) bool { return l.ID == e.ID && l.Ride > 0 }) {
			how = "riding"
		}
		return fmt.Sprintf("leaves on %s: %s of %s", key(e.ID), minutes(e.Amount), how)
	case forecast.Arrive:
		return fmt.Sprintf("arrives at the end of %s", key(e.ID))
	case forecast.Collect:
		text := fmt.Sprintf("collects %s of water at %s", p.amounts.Volume(e.Amount), key(e.ID))
		if e.Until > e.Hour {
			text += fmt.Sprintf(" from then on until %s", words.Line(p.when(e.Until)))
		}
		return text
	case forecast.Pass:
		return fmt.Sprintf("%s %s and takes nothing: nothing carried clears %s from it", p.by(e.ID), key(e.ID), p.leaves(e.ID))
	}
	s := p.lasting(e.Stock, e.Body, e.ID)
	now, all := p.quantity(e.Stock, e.Amount), p.quantity(e.Stock, s.Short)
	switch e.Stock {
	case kinds.StockFuel:
		return fmt.Sprintf("fuel is short: %s for the food that is left cannot be boiled", all)
	case kinds.StockSodium:
		return fmt.Sprintf("sodium is short: by now people need more than all the food holds; %s is missing by the end", all)
	case kinds.StockEnergy:
		return fmt.Sprintf("%s is short for the first time: %s is missing at this meal, %s altogether", stockName(s), now, all)
	case kinds.StockDoses:
		return fmt.Sprintf("%s run short for the first time: %s is missing, %s altogether", stockName(s), now, all)
	}
	return fmt.Sprintf("%s is short for the first time: %s is missing in this hour, %s altogether", stockName(s), now, all)
}

// by says how the household meets a source: on a leg, or where it is all the time.
func (p *outlook) by(source string) string {
	for i := range p.in.Sources {
		if s := &p.in.Sources[i]; s.ID == source && s.Leg == forecast.NoLeg {
			return "is at"
		}
	}
	return "passes"
}

// leaves is what nothing carried clears from a source.
func (p *outlook) leaves(source string) string {
	for i := range p.f.Endurance.Passed {
		if w := &p.f.Endurance.Passed[i]; w.ID == source {
			return words.And(w.Leaves)
		}
	}
	return ""
}

// lasting is what the facts say of a stock of the forecast.
func (p *outlook) lasting(kind kinds.Stock, body int, id string) *facts.Lasting {
	whose := ""
	if body != forecast.Everybody {
		whose = p.in.Bodies[body].ID
	}
	for i := range p.f.Endurance.Stocks {
		s := &p.f.Endurance.Stocks[i]
		if s.Kind == kind && s.Body == whose && (id == "" || strings.HasPrefix(s.ID, id+"/")) {
			return s
		}
	}
	return &facts.Lasting{Kind: kind}
}

func stockName(s *facts.Lasting) string {
	name := s.Kind.Row().Name
	switch {
	case s.Name != "":
		return words.Clean(name + " of " + s.Name + " (" + s.BodyName + ")")
	case s.Body != "":
		return name + " of " + words.Clean(s.BodyName)
	}
	return name
}

// quantity writes an amount of a stock.
func (p *outlook) quantity(kind kinds.Stock, n int64) string {
	return kind.Row().Text(p.amounts.Units, n)
}

// stocks is the table of how long each stock lasts, and why water is short.
func (p *outlook) stocks() {
	p.say("")
	t := &table{head: []string{"stock", "have", "need", "short", "lasts", "lowest"}}
	for _, r := range p.res.Stocks {
		s := p.lasting(r.Kind, r.Body, r.ID)
		if s.Kind == kinds.StockFuel && s.Have == 0 && s.Need == 0 { // nothing is to be boiled
			continue
		}
		q := func(n int64) string { return p.quantity(s.Kind, n) }
		have, lowest := q(s.Have), q(s.Lowest)
		if p.endless(s.Kind) {
			have, lowest = "no end stated", "-"
		}
		need := q(s.Need)
		short, lasts := "-", "to the end"
		switch {
		case !s.Known:
			need, short, lasts = "not known", "not known", "not known"
		case s.Unrecorded:
			none := words.AtLeast(true, have)
			have, short, lasts, lowest = none, none, none, "-"
		case s.Least:
			have, short, lasts = words.AtLeast(true, have), "at most "+q(s.Short), words.AtLeast(true, fmt.Sprintf("%d h of %s", s.Lasts, minutes(p.in.Minutes)))
		case s.Short > 0:
			short, lasts = q(s.Short), fmt.Sprintf("%d h of %s", s.Lasts, minutes(p.in.Minutes))
		case s.Kind == kinds.StockFuel && s.Need == 0:
			need = "nothing needs it"
		case r.Body != forecast.Everybody && p.in.Bodies[r.Body].Grazes:
			short = "finds its own"
		}
		if s.PastJ > 0 && s.LastsGood < s.Lasts {
			lasts += fmt.Sprintf(" (%d h good)", s.LastsGood)
		}
		t.row(stockName(s), have, need, short, lasts, lowest)
	}
	t.write(p, "  ")
	p.wrap("  ", "have: at the start, without what is collected; need: what the plan takes; short: what is missing altogether; lasts: until it is first short; lowest: the least left at the end of an hour")
	p.stays()
	for i := range p.f.Endurance.Stocks {
		if s := &p.f.Endurance.Stocks[i]; s.PastJ > 0 {
			p.wrap("  ", fmt.Sprintf("%s: %s of it is past its date and eaten last; what is not lasts %s", stockName(s), energy(s.PastJ), words.Count(s.LastsGood, "hour")))
		}
		if n := p.f.Endurance.Stocks[i].Unwritten; n > 0 {
			p.wrap("  ", fmt.Sprintf("sodium: %s %s none recorded and %s as none, so there may be more than is shown", words.Count(n, "food"), verb(n, "has", "have"), verb(n, "counts", "count")))
		}
	}
	if !p.lasting(kinds.StockWater, forecast.Everybody, "").Unrecorded {
		p.wrap("  ", p.waterWords())
	}
}

// stays says which food is not eaten though food is short.
func (p *outlook) stays() {
	for i := range p.f.Endurance.Stocks {
		s := &p.f.Endurance.Stocks[i]
		var parts []string
		if s.RawJ > 0 {
			parts = append(parts, energy(s.RawJ)+" cannot be cooked: there is no fuel left or no stove that burns it")
		}
		for _, one := range s.ForOne {
			parts = append(parts, energy(one.J)+" is for "+words.Clean(one.Name)+" alone")
		}
		if len(parts) > 0 {
			p.wrap("  ", fmt.Sprintf("%s is short though some of it stays: %s", stockName(s), strings.Join(parts, "; ")))
		}
	}
}

// waterWords says whether vessels, treatment and sources keep up, and what is left behind.
func (p *outlook) waterWords() string {
	text := waterWords(p.res.WaterLimit, len(p.in.Sources) > 0, len(p.in.Vessels) > 0)
	if !p.res.WaterLimit.Row().Treat {
		return text
	}
	for i := range p.f.Endurance.Passed {
		w := &p.f.Endurance.Passed[i]
		text += fmt.Sprintf("; nothing carried clears %s from %s", words.And(w.Leaves), words.Clean(w.Name))
	}
	return text
}

// endless: nobody stated how much light there is.
func (p *outlook) endless(kind kinds.Stock) bool {
	return kind == kinds.StockLight && p.in.Lamps.Endless
}

// waterWords says in a sentence whether vessels, treatment and sources keep up.
func waterWords(limit kinds.WaterLimit, sources, vessels bool) string {
	why := limit.Row()
	switch {
	case why.Kind == "":
	case !vessels && why.NoVessel != kinds.None:
		return "water is short because " + why.NoVessel
	case !sources && why.NoSource != kinds.None:
		return "water is short because " + why.NoSource
	default:
		return "water is short because " + why.Words
	}
	if !sources {
		return "water: what is carried is enough"
	}
	return "water: containers and treatment keep up with what people drink"
}

func (p *outlook) days() {
	p.say("")
	t := &table{head: []string{"day", "spent", "eaten", "balance", "water needed", "drunk", "to find", "collected", "sodium needed", "sodium eaten", "walking"}}
	for _, d := range p.f.Endurance.Days {
		t.row(fmt.Sprint(d.Day), energy(d.SpentJ), p.recorded(kinds.StockEnergy, energy(d.EatenJ)), p.recorded(kinds.StockEnergy, kilocalories(d.EatenJ-d.SpentJ)), p.amounts.Volume(d.NeedML), p.recorded(kinds.StockWater, p.amounts.Volume(d.DrunkML)), p.recorded(kinds.StockWater, p.amounts.Volume(d.FindML)), p.amounts.Volume(d.CollectedML),
			words.Mass(d.SodiumNeedMG), p.recorded(kinds.StockSodium, words.Mass(d.SodiumMG)), minutes(d.WalkMin))
	}
	t.write(p, "  ")
	p.wrap("  ", "energy and sodium of people, water of everyone; a day is 24 hours of the plan, the last one what is left of it; to find: of the water needed, what is not carried when the day begins")
	for i := range p.f.Endurance.Stocks {
		if s := &p.f.Endurance.Stocks[i]; s.Least && s.Body == "" && slices.Contains([]kinds.Stock{kinds.StockEnergy, kinds.StockSodium, kinds.StockWater}, s.Kind) {
			p.wrap("  ", stockName(s)+": of what is recorded, and there may be more")
		}
	}
}

// recorded is an amount of a stock of everybody, or that the kit does not tell how much there is.
func (p *outlook) recorded(kind kinds.Stock, amount string) string {
	for i := range p.f.Endurance.Stocks {
		if s := &p.f.Endurance.Stocks[i]; s.Kind == kind && s.Body == "" && s.Unrecorded {
			return "not recorded"
		}
	}
	return amount
}

// kilocalories writes a difference of energies, where less than one is none.
func kilocalories(j int64) string {
	const kcal = 4184
	if -kcal < j && j < kcal {
		j = 0
	}
	return energy(j)
}

func (p *outlook) bodies() {
	p.say("")
	t := &table{head: []string{"who", "load at start", "most on the way", "of body weight", "in hour", "at the end", "spends", "drinks", "sweat", "on foot"}}
	for i, b := range p.f.Endurance.Bodies {
		row := []string{words.Clean(b.Name), "-", "-", "-", "-", "-"}
		if x := &p.in.Bodies[i]; x.CarriesPack || x.Load > 0 {
			least := slices.ContainsFunc(p.f.Carriers, func(c facts.Carrier) bool { return c.ID == b.ID && !c.LoadKnown })
			row = []string{row[0], words.AtLeast(least, p.amounts.Mass(b.FirstMG)), words.AtLeast(least, p.amounts.Mass(b.MostMG)), percent(unit.PermilleUp(b.MostMG, milligrams(x.Mass)), 1000), fmt.Sprint(b.MostHour), words.AtLeast(least, p.amounts.Mass(b.LastMG))}
		}
		t.row(append(row, energy(b.SpentJ), p.amounts.Volume(b.DrinkML), p.amounts.Volume(b.SweatML), minutes(b.WalkMin))...)
	}
	t.write(p, "  ")
	p.wrap("  ", "load: packs with all that is in them, and an animal that is carried; what is worn, and a child that is carried, comes on top; drinks: what is needed, if there is enough; sweat: of walking, and part of that")
	for i, b := range p.f.Endurance.Bodies {
		if x := &p.in.Bodies[i]; b.Uncarried {
			p.wrap("  ", uncarriedWords(p.amounts, b.Name, milligrams(x.Mass)))
		} else if x.Grazes {
			p.wrap("  ", words.Clean(b.Name)+" finds food and water on the way: none is counted as needed")
		}
	}
}

func milligrams(kg float64) int64 { return int64(math.Round(kg * 1e6)) }

// weather warns of heat on the way and of frost.
func (p *outlook) weather() {
	e := &p.f.Endurance
	heat, cold := e.Category > 0, e.ChillKnown && e.ChillMC < 0
	if heat || cold {
		p.say("")
	}
	if heat {
		feels := fmt.Sprintf("feels like %s in the shade", p.amounts.Units.Temperature(unit.Temperature(e.HeatIndexMC)))
		if e.HeatBeyond {
			feels = "is hotter than the heat index covers, whose chart ends at air of 110 °F (43.3 °C) and an index of 136 °F (57.8 °C): this is dangerous, do not walk in it"
		}
		p.wrap("  ", fmt.Sprintf("heat: the hottest hour walked is hour %d at %s and %s; the worst heat category, %d of the 5 of the US Army's work, rest and fluid table, is first reached in hour %d at %s; rests and drink go by that table",
			e.HottestHour, clock(p.clock(int(e.HottestHour))), feels, e.Category, e.CategoryHour, clock(p.clock(int(e.CategoryHour)))))
	}
	if cold {
		text := fmt.Sprintf("cold: feels like %s on bare skin at the coldest, in hour %d at %s; below freezing people spend a tenth more", p.amounts.Units.Temperature(unit.Temperature(e.ChillMC)), e.ChillHour, clock(p.clock(int(e.ChillHour))))
		if p.f.Plan.NightMC < 0 { // wind chills skin, but water freezes by the air
			text += ", and water in bottles and filters freezes"
		}
		p.wrap("  ", text)
	}
}

// wrap writes words in lines of at most 80 columns; the first line begins with lead, the others under it.
func (p *outlook) wrap(lead, text string) {
	const wide = 80
	line := strings.Repeat(" ", len(lead))
	out, n := lead, len(lead)
	for i, w := range strings.Fields(text) {
		long := utf8.RuneCountInString(w)
		switch {
		case i == 0:
		case n+1+long > wide:
			p.say("%s", out)
			out, n = line, len(line)
		default:
			out, n = out+" ", n+1
		}
		out, n = out+w, n+long
	}
	p.say("%s", out)
}
