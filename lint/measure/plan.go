package measure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"kitmuster/lint/body"
	"kitmuster/lint/facts"
	"kitmuster/lint/kinds"
	"kitmuster/lint/kit"
	"kitmuster/lint/unit"
)

// hotDay is the day temperature from which sweat on the walks is counted: 25 °C, our own line.
const hotDay = unit.Temperature(25_000)

const (
	walkAccount = "Naismith's rule of 1892 in its metric form: 5 km an hour and one hour more for each 600 m of climb; the family's own pace where written"
	rideAccount = "at 30 km/h, at 9 km/h where a quake or a tsunami is a danger of the place, by bicycle at 12 km/h; the family's own pace where written"
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
func (m *measurer) daylight(s *kit.Season) (d unit.Duration, account string, inputs []facts.Input) {
	if s.DaylightSet {
		return s.Daylight, "", nil
	}
	l := m.h.Plan.Latitude
	if !l.Set {
		return 0, "", nil
	}
	on, what := m.on, "the audit date"
	inputs = []facts.Input{{ID: "plan/latitude", Amount: facts.TextOf(l.Value.String())}}
	if s.Date.Set {
		on, what = s.Date.Value, "the day of the season"
		inputs = append(inputs, facts.Input{ID: s.Spot + "/date", Amount: facts.AmountOf(kinds.QuantityDate, on)})
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
	f.Minutes, f.MinutesSet, f.Unread = p.Duration.Minutes(), p.DurationSet, sorted(p.Unread)
	f.Settings = sorted(p.Settings)
	f.AltitudeMM = p.Altitude.Value.Millimetres()
	f.LowProfile = p.LowProfile
	f.Hazards, f.Shade = sorted(p.Hazards), p.Shade
	if d := &p.Destination.Value; p.Destination.Set {
		f.Destination = facts.Destination{Known: true, Kind: d.Kind, Water: d.Water, Food: d.Food, Beds: d.Beds}
		m.l.Add(facts.Posting{ID: destinationID, What: "where the household goes", Amount: facts.TextOf(d.Kind)})
	}
	m.l.Add(facts.Posting{ID: "plan/hazards", What: "dangers that may force the household to leave"})
	m.l.Add(facts.Posting{ID: "plan", What: "the plan"})
	m.l.Add(facts.Posting{ID: "plan/duration", What: "how long the packs must last", Amount: facts.AmountOf(kinds.QuantityDuration, p.Duration)})
	m.l.Add(facts.Posting{ID: "plan/settings", What: "country on the way"})
	m.l.Add(facts.Posting{ID: "plan/lowProfile", What: "wish for a low profile"})
	m.l.Add(facts.Posting{ID: "plan/altitude", What: "height above the sea", Amount: facts.AmountOf(kinds.QuantityLength, p.Altitude.Value)})
	if p.Latitude.Set {
		m.l.Add(facts.Posting{ID: "plan/latitude", What: "latitude", Amount: facts.TextOf(p.Latitude.Value.String())})
	}

	f.Season = p.Season
	if season != "" {
		f.Season = season
	}
	m.l.Add(facts.Posting{ID: "plan/season", What: "season planned for", Amount: facts.TextOf(f.Season)})
	for i := range p.Seasons {
		s := &p.Seasons[i]
		m.l.Add(facts.Posting{ID: s.Spot, What: "season", Of: s.Key})
		m.l.Add(facts.Posting{ID: s.Spot + "/day", What: "day temperature of", Of: s.Key, Amount: facts.AmountOf(kinds.QuantityTemperature, s.Day)})
		m.l.Add(facts.Posting{ID: s.Spot + "/night", What: "night temperature of", Of: s.Key, Amount: facts.AmountOf(kinds.QuantityTemperature, s.Night)})
		if s.Date.Set {
			m.l.Add(facts.Posting{ID: s.Spot + "/date", What: "typical day of", Of: s.Key, Amount: facts.AmountOf(kinds.QuantityDate, s.Date.Value)})
		}
		daylight, account, inputs := m.daylight(s)
		m.l.Add(facts.Posting{ID: s.Spot + "/daylight", What: "daylight of", Of: s.Key, Amount: facts.AmountOf(kinds.QuantityDuration, daylight), Account: account, Inputs: facts.Listed(inputs)})
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
			m.l.Add(facts.Posting{ID: "plan/season-end", Spot: s.Spot + "/until", What: "last day of the season", Amount: facts.AmountOf(kinds.QuantityDate, s.Until.Value)})
		}
		f.DarkMin, f.DarkTotal = dark.Minutes(), total.Minutes()
		m.hot = s.Day >= hotDay
		m.l.Add(facts.Posting{ID: "plan/dark", Spot: s.Spot + "/daylight", What: "darkness of one night", Amount: facts.AmountOf(kinds.QuantityDuration, dark), Account: how})
		m.l.Add(facts.Posting{ID: "plan/dark-total", Spot: s.Spot + "/daylight", Alt: "plan/duration", What: "darkness of the whole plan", Amount: facts.AmountOf(kinds.QuantityDuration, total), Account: how + ", by the share of days in the plan"})
	}
	m.route(p, f)
	m.home(p, f)
	f.Meetings, f.Contacts = int64(len(p.MeetingPoints)), int64(len(p.Contacts))
	f.Places = make([]facts.Place, len(p.MeetingPoints))
	for i := range p.MeetingPoints {
		mp := &p.MeetingPoints[i]
		f.Places[i] = facts.Place{ID: mp.Spot, Key: mp.Key, AltitudeKnown: mp.Altitude.Set, AltitudeMM: mp.Altitude.Value.Millimetres(), SafeFrom: sorted(mp.SafeFrom)}
		m.l.Add(facts.Posting{ID: mp.Spot, What: "meeting point", Of: mp.Key})
		if mp.Altitude.Set {
			m.l.Add(facts.Posting{ID: mp.Spot + "/altitude", What: "height above the sea of", Of: mp.Key, Amount: facts.AmountOf(kinds.QuantityLength, mp.Altitude.Value)})
		}
	}
	for i := range p.Contacts {
		if p.Contacts[i].OutOfArea {
			f.OutOfArea++
		}
		m.l.Add(facts.Posting{ID: p.Contacts[i].Spot, What: "contact", Of: p.Contacts[i].Name})
	}
	m.l.Add(facts.Posting{ID: "plan/meetingPoints", What: "meeting points", Amount: facts.CountOf(f.Meetings)})
	m.l.Add(facts.Posting{ID: "plan/contacts", What: "contacts", Amount: facts.CountOf(f.Contacts)})
}

// home measures the place that the household leaves, and its dangers.
func (m *measurer) home(p *kit.Plan, f *facts.Plan) {
	f.WarningKnown, f.WarningMin, f.Ways = p.Warning.Set, p.Warning.Value.Minutes(), p.Ways
	f.HomeAltKnown, f.HomeAltMM = p.Home.Altitude.Set, p.Home.Altitude.Value.Millimetres()
	f.HomeFloorKnown, f.HomeFloor, f.HomeLift = p.Home.Floor.Set, p.Home.Floor.Value, p.Home.Lift
	if p.Home.Altitude.Set {
		m.l.Add(facts.Posting{ID: "plan/home/altitude", What: "height of home above the sea", Amount: facts.AmountOf(kinds.QuantityLength, p.Home.Altitude.Value)})
	}
	if p.Warning.Set {
		m.l.Add(facts.Posting{ID: "plan/warning", What: "time before the danger arrives", Amount: facts.AmountOf(kinds.QuantityDuration, p.Warning.Value)})
	}
}

// route measures the legs and the water on them.
func (m *measurer) route(p *kit.Plan, f *facts.Plan) {
	legs := m.legs()
	var distance, climb, foot unit.Length
	f.Ridden = len(legs) > 0
	f.Legs = make([]facts.Leg, 0, len(legs))
	for _, l := range legs {
		x := facts.Leg{
			ID: l.Spot, DistanceMM: l.Distance.Millimetres(), ClimbMM: l.Climb.Millimetres(), DescentMM: l.Descent.Millimetres(), Ground: l.Ground, Stairs: l.Stairs,
		}
		if v := m.vehicle(l.By); v != nil {
			x.By = v.Spot
		}
		distance += l.Distance
		climb += l.Climb
		what, ms := "walk", int64(0)
		if v := m.ridden(l); v != nil {
			ms = m.rideTime(l, v)
			what, x.Ridden, x.RideMin = "ride", true, minutes(ms).Minutes()
			m.l.Add(facts.Posting{ID: l.Spot, What: what, Of: l.Key, Amount: facts.AmountOf(kinds.QuantityDuration, minutes(ms)), Account: rideAccount})
		} else {
			ms = walkTime(l)
			m.walkMS += ms
			foot += l.Distance
			f.Ridden, x.WalkMin = false, minutes(ms).Minutes()
			m.l.Add(facts.Posting{ID: l.Spot, What: what, Of: l.Key, Amount: facts.AmountOf(kinds.QuantityDuration, minutes(ms)), Account: walkAccount})
		}
		f.Legs = append(f.Legs, x)
		m.l.Add(facts.Posting{ID: l.Spot + "/distance", What: "distance of " + what, Of: l.Key, Amount: facts.AmountOf(kinds.QuantityLength, l.Distance)})
		m.l.Add(facts.Posting{ID: l.Spot + "/climb", What: "climb of " + what, Of: l.Key, Amount: facts.AmountOf(kinds.QuantityLength, l.Climb)})
	}
	f.DistanceMM, f.ClimbMM = distance.Millimetres(), climb.Millimetres()
	f.FootMM = foot.Millimetres()
	m.l.Add(facts.Posting{ID: "plan/legs", What: "the route", Amount: facts.AmountOf(kinds.QuantityLength, distance)})
	f.WaterSaid = p.WaterSaid
	f.Sources = make([]facts.Source, 0, len(p.WaterSources))
	for i := range p.WaterSources {
		w := &p.WaterSources[i]
		s := facts.Source{ID: w.Spot, Quality: m.quality(w.Quality), Written: w.Quality, ML: w.Litres.Value.WholeMillilitres(), MLKnown: w.Litres.Set, Key: w.NeedsKey}
		for _, l := range legs {
			if l.Key == w.Leg {
				s.Leg = l.Spot
			}
		}
		f.Sources = append(f.Sources, s)
		a := facts.Amount{}
		if w.Litres.Set {
			a = facts.AmountOf(kinds.QuantityVolume, w.Litres.Value)
		}
		m.l.Add(facts.Posting{ID: w.Spot, What: "water source", Of: w.Key, Amount: a})
	}
	slices.SortFunc(f.Sources, func(a, b facts.Source) int { return cmp.Compare(a.ID, b.ID) })
	f.WaterNamed = len(legs) > 0 || f.Destination.Water || slices.ContainsFunc(f.Sources, func(s facts.Source) bool { return s.Quality != "foul" })
	m.l.Add(facts.Posting{ID: "plan/waterSources", What: "water on the way"})
}

const destinationID = "plan/destination"

// quality is what water on the way must be taken for after the dangers of the plan. Where pipes may be broken or flooded a
// tap is water to be treated, as boil-water notices say (CDC, in a copy of its own pages). Where they may be melted or poisoned
// neither boiling nor a chemical helps (CDC, do-not-drink advisories; benzene in taps after wildfires, second-hand). After
// an industrial accident that is so of all water.
func (m *measurer) quality(written string) string {
	has := func(hazards ...string) bool {
		return slices.ContainsFunc(hazards, func(h string) bool { return slices.Contains(m.h.Plan.Hazards, h) })
	}
	switch {
	case has("industrial"), has("fire") && written == "tap":
		return "foul"
	case has("flood", "quake", "tsunami") && written == "tap":
		return "clear"
	}
	return written
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

func (m *measurer) legInputs() (in []facts.Input) {
	for i := range m.h.Plan.Legs {
		l := &m.h.Plan.Legs[i]
		in = append(in, facts.Input{ID: l.Spot, Amount: facts.AmountOf(kinds.QuantityDuration, minutes(walkTime(l)))})
	}
	return in
}

// record says what was weighed, looked at and practised.
func (m *measurer) record() {
	r := &m.h.Record
	f := facts.Record{
		ID: "record", WeighedKnown: r.Weighed.Set, WeighedDay: int64(r.Weighed.Value), AuditedKnown: r.Audited.Set, AuditedDay: int64(r.Audited.Value),
		Shakedowns: make([]facts.Shakedown, 0, len(r.Shakedowns)),
	}
	day := func(d opt[unit.Date]) facts.Amount {
		if !d.Set {
			return facts.Amount{}
		}
		return facts.AmountOf(kinds.QuantityDate, d.Value)
	}
	m.l.Add(facts.Posting{ID: "record", What: "the record"})
	m.l.Add(facts.Posting{ID: "record/weighed", What: "last weighing of everything", Amount: day(r.Weighed)})
	m.l.Add(facts.Posting{ID: "record/audited", What: "last audit", Amount: day(r.Audited)})
	m.l.Add(facts.Posting{ID: "record/shakedowns", What: "practice walks"})
	for i := range r.Shakedowns {
		s := &r.Shakedowns[i]
		f.Shakedowns = append(f.Shakedowns, facts.Shakedown{
			ID: s.Spot, On: s.On.String(), Day: int64(s.On), DistanceMM: s.Distance.Millimetres(), LoadKnown: s.Load.Set, LoadMG: s.Load.Value.Milligrams(),
		})
		m.l.Add(facts.Posting{ID: s.Spot, What: "practice walk", Of: s.Key, Amount: facts.AmountOf(kinds.QuantityDate, s.On)})
	}
	slices.SortFunc(f.Shakedowns, func(a, b facts.Shakedown) int { return cmp.Compare(a.ID, b.ID) })
	f.Waivers = make([]facts.Waiver, 0, len(r.Waivers))
	for i := range r.Waivers {
		w := &r.Waivers[i]
		until := w.Spot + "/until"
		f.Waivers = append(f.Waivers, facts.Waiver{
			ID: w.Spot, UntilID: until, Rule: w.Rule, ReasonKnown: strings.TrimSpace(w.Reason) != "", Until: w.Until.String(), UntilDay: int64(w.Until),
		})
		m.l.Add(facts.Posting{ID: until, What: "last day of the waiver of", Of: w.Rule, Amount: facts.AmountOf(kinds.QuantityDate, w.Until)})
		m.l.Add(facts.Posting{ID: w.Spot, What: "waiver of", Of: w.Rule, Amount: facts.AmountOf(kinds.QuantityDate, w.Until)})
	}
	slices.SortFunc(f.Waivers, func(a, b facts.Waiver) int { return cmp.Compare(a.ID, b.ID) })
	m.f.Record = f
}
