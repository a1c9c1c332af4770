package measure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"kitmuster/lint/body"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// hotDay is the day temperature from which sweat on the walks is counted: 25 °C, our own line.
const hotDay = unit.Temperature(25_000)

const (
	walkAccount = "Naismith's rule of 1892 in its metric form: 5 km an hour and one hour more for each 600 m of climb; the family's own pace where written"
	// 0.5 L/h × 43.2 mmol/L × 22.99 mg/mmol.
	sweatPerHour = 496_584 // µg
	sweatAccount = "for each person of three years or more: 0.5 L of sweat an hour, the low end of 0.5 to 2.0 L (ACSM position stand 2007, rate from memory), " +
		"with 43.2 mmol of sodium a litre (Del Coso et al. 2016, J Int Soc Sports Nutr 13:31, Table 2) of 22.99 mg each; counted from a day temperature of 25 °C (our own line)"
	darkAccount     = "24 h less the daylight of the season"
	daylightAccount = "worked out by the CBM model of Forsythe et al. 1995, Ecological Modelling 80:87-95, with the sun's upper edge at an open horizon"
)

// sweatSodium is what one walker loses in a time in milliseconds, in micrograms.
func sweatSodium(ms int64) int64 {
	const hour = 3_600_000
	return ms/hour*sweatPerHour + (ms%hour*sweatPerHour+hour/2)/hour
}

// walkTime is the time for a leg in milliseconds.
func walkTime(l *kit.Leg) int64 {
	if l.Pace.Set { // for one kilometre, which is 1e9 µm
		return int64(l.Pace.Value) * int64(l.Distance/1000) / 1000
	}
	// 720 s a kilometre and 6 s a metre of climb.
	return int64(l.Distance)*18/25_000 + int64(l.Climb)*6/1000
}

// minutes rounds milliseconds to the minute, as a duration.
func minutes(ms int64) unit.Duration { return unit.Duration((ms + 30_000) / 60_000 * 60) }

// daylight is that of one day of a season: as written, or worked out from the plan's
// latitude, with what was worked out in words. A season with neither, which the loader
// refuses, counts as dark all day: so nobody's lamp lasts longer than it does.
func (m *measurer) daylight(s *kit.Season) (d unit.Duration, account string, inputs []Input) {
	if s.DaylightSet {
		return s.Daylight, "", nil
	}
	l := m.h.Plan.Latitude
	if !l.Set {
		return 0, "", nil
	}
	on, what := m.on, "the audit date"
	inputs = []Input{{ID: "plan/latitude", Amount: words(l.Value.String())}}
	if s.Date.Set {
		on, what = s.Date.Value, "the day of the season"
		inputs = append(inputs, Input{ID: s.Spot + "/date", Amount: amount(kinds.QuantityDate, on)})
	}
	hours := body.Daylight(l.Value.Degrees(), on.YearDay())
	d = unit.Duration(math.Round(hours*60)) * 60
	return d, fmt.Sprintf("%s, for %s on %s, %s", daylightAccount, l.Value, on, what), inputs
}

// plan measures what the packs must be enough for.
func (m *measurer) plan(season string) {
	p := &m.h.Plan
	f := &m.f.Plan
	f.ID = "plan"
	f.Minutes, f.MinutesSet = p.Duration.Minutes(), p.DurationSet
	f.Settings = sorted(p.Settings)
	f.AltitudeMM = p.Altitude.Value.Millimetres()
	f.LowProfile = p.LowProfile
	m.l.add(record{id: "plan", what: "the plan"})
	m.l.add(record{id: "plan/duration", what: "how long the packs must be enough", amount: amount(kinds.QuantityDuration, p.Duration)})
	m.l.add(record{id: "plan/settings", what: "country on the way"})
	m.l.add(record{id: "plan/lowProfile", what: "wish to draw no eyes"})
	m.l.add(record{id: "plan/altitude", what: "height above the sea", amount: amount(kinds.QuantityLength, p.Altitude.Value)})
	if p.Latitude.Set {
		m.l.add(record{id: "plan/latitude", what: "latitude", amount: words(p.Latitude.Value.String())})
	}

	f.Season = p.Season
	if season != "" {
		f.Season = season
	}
	m.l.add(record{id: "plan/season", what: "season planned for", amount: words(f.Season)})
	for i := range p.Seasons {
		s := &p.Seasons[i]
		m.l.add(record{id: s.Spot, what: "season", of: s.Key})
		m.l.add(record{id: s.Spot + "/day", what: "day temperature of", of: s.Key, amount: amount(kinds.QuantityTemperature, s.Day)})
		m.l.add(record{id: s.Spot + "/night", what: "night temperature of", of: s.Key, amount: amount(kinds.QuantityTemperature, s.Night)})
		if s.Date.Set {
			m.l.add(record{id: s.Spot + "/date", what: "typical day of", of: s.Key, amount: amount(kinds.QuantityDate, s.Date.Value)})
		}
		daylight, account, inputs := m.daylight(s)
		m.l.add(record{id: s.Spot + "/daylight", what: "daylight of", of: s.Key, amount: amount(kinds.QuantityDuration, daylight), account: account, inputs: listed(inputs)})
		if f.Season == "" || s.Key != f.Season {
			continue
		}
		dark, how := max(0, daySecs-daylight), darkAccount
		if account != "" {
			how += ", " + account
		}
		// Whole days and the rest apart, so that the product stays within 64 bits.
		total := p.Duration/daySecs*dark + (p.Duration%daySecs*dark+daySecs/2)/daySecs
		f.SeasonKnown, f.DayMC, f.NightMC, f.Humidity = true, int64(s.Day), int64(s.Night), s.Humidity.Value.Permille()
		f.HumidityKnown = s.Humidity.Set
		f.SeasonEndKnown, f.SeasonEndDay = s.Until.Set, int64(s.Until.Value)
		if s.Until.Set {
			m.l.add(record{id: "plan/season-end", spot: s.Spot + "/until", what: "last day of the season", amount: amount(kinds.QuantityDate, s.Until.Value)})
		}
		f.DarkMin, f.DarkTotal = dark.Minutes(), total.Minutes()
		m.hot = s.Day >= hotDay
		m.l.add(record{id: "plan/dark", spot: s.Spot + "/daylight", what: "darkness of one night", amount: amount(kinds.QuantityDuration, dark), account: how})
		m.l.add(record{id: "plan/dark-total", spot: s.Spot + "/daylight", alt: "plan/duration", what: "darkness of the whole plan", amount: amount(kinds.QuantityDuration, total), account: how + ", by the share of days in the plan"})
	}
	m.route(p, f)
	f.Meetings, f.Contacts = int64(len(p.MeetingPoints)), int64(len(p.Contacts))
	f.Places = make([]Place, len(p.MeetingPoints))
	for i := range p.MeetingPoints {
		mp := &p.MeetingPoints[i]
		f.Places[i] = Place{ID: mp.Spot, Key: mp.Key, AltitudeKnown: mp.Altitude.Set, AltitudeMM: mp.Altitude.Value.Millimetres()}
		m.l.add(record{id: mp.Spot, what: "meeting point", of: mp.Key})
		if mp.Altitude.Set {
			m.l.add(record{id: mp.Spot + "/altitude", what: "height above the sea of", of: mp.Key, amount: amount(kinds.QuantityLength, mp.Altitude.Value)})
		}
	}
	for i := range p.Contacts {
		if p.Contacts[i].OutOfArea {
			f.OutOfArea++
		}
		m.l.add(record{id: p.Contacts[i].Spot, what: "contact", of: p.Contacts[i].Name})
	}
	m.l.add(record{id: "plan/meetingPoints", what: "meeting points", amount: count(f.Meetings)})
	m.l.add(record{id: "plan/contacts", what: "contacts", amount: count(f.Contacts)})
}

// route measures the legs and the water on them.
func (m *measurer) route(p *kit.Plan, f *Plan) {
	legs := m.legs()
	var distance, climb unit.Length
	f.Legs = make([]Leg, 0, len(legs))
	for _, l := range legs {
		ms := walkTime(l)
		m.walkMS += ms
		distance += l.Distance
		climb += l.Climb
		f.Legs = append(f.Legs, Leg{
			ID: l.Spot, DistanceMM: l.Distance.Millimetres(), ClimbMM: l.Climb.Millimetres(), DescentMM: l.Descent.Millimetres(),
			Ground: l.Ground, WalkMin: minutes(ms).Minutes(),
		})
		m.l.add(record{id: l.Spot, what: "walk", of: l.Key, amount: amount(kinds.QuantityDuration, minutes(ms)), account: walkAccount})
		m.l.add(record{id: l.Spot + "/distance", what: "distance of walk", of: l.Key, amount: amount(kinds.QuantityLength, l.Distance)})
		m.l.add(record{id: l.Spot + "/climb", what: "climb of walk", of: l.Key, amount: amount(kinds.QuantityLength, l.Climb)})
	}
	f.DistanceMM, f.ClimbMM = distance.Millimetres(), climb.Millimetres()
	m.l.add(record{id: "plan/legs", what: "the route", amount: amount(kinds.QuantityLength, distance)})
	f.Sources = make([]Source, 0, len(p.WaterSources))
	for i := range p.WaterSources {
		w := &p.WaterSources[i]
		s := Source{ID: w.Spot, Quality: w.Quality, ML: w.Litres.Value.Millilitres(), MLKnown: w.Litres.Set}
		for _, l := range legs {
			if l.Key == w.Leg {
				s.Leg = l.Spot
			}
		}
		f.Sources = append(f.Sources, s)
		a := Amount{}
		if w.Litres.Set {
			a = amount(kinds.QuantityVolume, w.Litres.Value)
		}
		m.l.add(record{id: w.Spot, what: "water source", of: w.Key, amount: a})
	}
	slices.SortFunc(f.Sources, func(a, b Source) int { return cmp.Compare(a.ID, b.ID) })
	m.l.add(record{id: "plan/waterSources", what: "water on the way"})
}

// legs are the walks in the order walked.
func (m *measurer) legs() []*kit.Leg {
	legs := make([]*kit.Leg, len(m.h.Plan.Legs))
	for i := range legs {
		legs[i] = &m.h.Plan.Legs[i]
	}
	slices.SortFunc(legs, func(a, b *kit.Leg) int { return cmp.Or(cmp.Compare(a.Order, b.Order), cmp.Compare(a.Key, b.Key)) })
	return legs
}

func (m *measurer) legInputs() (in []Input) {
	for i := range m.h.Plan.Legs {
		l := &m.h.Plan.Legs[i]
		in = append(in, Input{ID: l.Spot, Amount: amount(kinds.QuantityDuration, minutes(walkTime(l)))})
	}
	return in
}

// record says what was weighed, looked at and practised.
func (m *measurer) record() {
	r := &m.h.Record
	f := Record{
		ID: "record", WeighedKnown: r.Weighed.Set, WeighedDay: int64(r.Weighed.Value), AuditedKnown: r.Audited.Set, AuditedDay: int64(r.Audited.Value),
		Shakedowns: make([]Shakedown, 0, len(r.Shakedowns)),
	}
	day := func(d opt[unit.Date]) Amount {
		if !d.Set {
			return Amount{}
		}
		return amount(kinds.QuantityDate, d.Value)
	}
	m.l.add(record{id: "record", what: "the record"})
	m.l.add(record{id: "record/weighed", what: "last weighing of everything", amount: day(r.Weighed)})
	m.l.add(record{id: "record/audited", what: "last audit", amount: day(r.Audited)})
	m.l.add(record{id: "record/shakedowns", what: "practice walks"})
	for i := range r.Shakedowns {
		s := &r.Shakedowns[i]
		f.Shakedowns = append(f.Shakedowns, Shakedown{
			ID: s.Spot, On: s.On.String(), Day: int64(s.On), DistanceMM: s.Distance.Millimetres(), LoadKnown: s.Load.Set, LoadMG: s.Load.Value.Milligrams(),
		})
		m.l.add(record{id: s.Spot, what: "practice walk", of: s.Key, amount: amount(kinds.QuantityDate, s.On)})
	}
	slices.SortFunc(f.Shakedowns, func(a, b Shakedown) int { return cmp.Compare(a.ID, b.ID) })
	f.Waivers = make([]Waiver, 0, len(r.Waivers))
	for i := range r.Waivers {
		w := &r.Waivers[i]
		until := w.Spot + "/until"
		f.Waivers = append(f.Waivers, Waiver{
			ID: w.Spot, UntilID: until, Rule: w.Rule, ReasonKnown: strings.TrimSpace(w.Reason) != "", Until: w.Until.String(), UntilDay: int64(w.Until),
		})
		m.l.add(record{id: until, what: "last day of the waiver of", of: w.Rule, amount: amount(kinds.QuantityDate, w.Until)})
		m.l.add(record{id: w.Spot, what: "waiver of", of: w.Rule, amount: amount(kinds.QuantityDate, w.Until)})
	}
	slices.SortFunc(f.Waivers, func(a, b Waiver) int { return cmp.Compare(a.ID, b.ID) })
	m.f.Record = f
}
