package report

import (
	"io"
	"math"

	"kitmuster/lint/facts"
	"kitmuster/lint/forecast"
	"kitmuster/lint/kinds"
)

// The wire form of a forecast. Hours are of the plan, the first is 0; clocks are minutes of the day.
type jsonForecastedItem struct {
	Name     string        `json:"name"`
	Path     string        `json:"path"`
	Measured bool          `json:"measured"`
	Forecast *jsonForecast `json:"forecast,omitempty"`
}

type jsonForecast struct {
	StartMin int64 `json:"start_min"` // minute of the day at which the plan begins
	Minutes  int64 `json:"minutes"`
	// MinutesKnown: the family wrote how long.
	MinutesKnown bool             `json:"minutes_known"`
	Season       string           `json:"season"`
	SeasonKnown  bool             `json:"season_known"`
	Hours        []jsonHour       `json:"hours"`
	Events       []jsonEvent      `json:"events"`
	Stocks       []jsonStock      `json:"stocks"`
	Days         []facts.PlanDay  `json:"days"`
	Bodies       []jsonBody       `json:"bodies"`
	Legs         []jsonLeg        `json:"legs"`
	WaterLimit   kinds.WaterLimit `json:"water_limit"`
	// WaterPassed is of which nothing is taken, and what nothing carried clears from it.
	WaterPassed []facts.Passed `json:"water_passed"`
	Heat        *jsonHeat      `json:"heat,omitempty"`  // where an hour walked has a category
	Chill       *jsonChill     `json:"chill,omitempty"` // where a season is planned for
	Assumptions []string       `json:"assumptions"`
}

type jsonHour struct {
	Hour      int    `json:"hour"`
	ClockMin  int64  `json:"clock_min"`
	Activity  string `json:"activity"`
	Leg       string `json:"leg"` // "" where nobody walks
	WalkMin   int64  `json:"walk_min"`
	DarkMin   int64  `json:"dark_min"`
	CelsiusMC *int64 `json:"celsius_mc,omitempty"` // thousandths of a degree; where a season is planned for
	WaterML   int64  `json:"water_ml"`
	FoodJ     int64  `json:"food_j"`
	FuelML    int64  `json:"fuel_ml"`
	LightMin  int64  `json:"light_min"`
	SpentJ    int64  `json:"spent_j"`
	DrunkML   int64  `json:"drunk_ml"`
	// LoadsMG are of the packs of each body, by its ID.
	LoadsMG map[string]int64 `json:"loads_mg"`
}

type jsonEvent struct {
	Hour      int    `json:"hour"`
	UntilHour int    `json:"until_hour"`
	ClockMin  int64  `json:"clock_min"`
	Kind      string `json:"kind"`
	ID        string `json:"id"` // of the leg, the source or the stock
	// Amount is in Unit: walking of a leg that is begun, water collected, what is lacking in the hour of the first shortage.
	Amount int64  `json:"amount"`
	Unit   string `json:"unit"`
}

// jsonStock is a stock of the facts; its amounts are in Unit.
type jsonStock struct {
	facts.Lasting
	Unit string `json:"unit"`
	// Endless: how much there is, is not stated, and so it is never short.
	Endless bool       `json:"endless"`
	MadeOf  []jsonLine `json:"made_of"`
	At      *jsonSpan  `json:"at,omitempty"`
}

type jsonBody struct {
	facts.Burden
	BodyMassMG int64     `json:"body_mass_mg"`
	At         *jsonSpan `json:"at,omitempty"`
}

type jsonLeg struct {
	facts.Leg
	At *jsonSpan `json:"at,omitempty"`
}

type jsonHeat struct {
	Category    int64 `json:"category"`
	Hour        int64 `json:"hour"` // in which that category is first reached
	HottestHour int64 `json:"hottest_hour"`
	// HeatIndexMC is of the hottest hour; left out where Beyond says that it is hotter than the heat index is made for.
	HeatIndexMC *int64 `json:"heat_index_mc,omitempty"`
	Beyond      bool   `json:"beyond_heat_index"`
}

type jsonChill struct {
	ChillMC int64 `json:"chill_mc"`
	Hour    int64 `json:"hour"`
}

// ForecastJSON writes the hours and what comes of them, with the places of what the stocks are made of.
func ForecastJSON(w io.Writer, f *Made[Forecast], _ Options) error {
	return f.json(w, func(h *Forecast) any {
		j := jsonForecastedItem{Name: h.Household.Name, Path: h.Household.Path, Measured: h.Household.Judged}
		if h.Facts != nil {
			j.Forecast = h.json()
		}
		return j
	})
}

func (h *Forecast) json() *jsonForecast {
	in, p, e := h.Plan, &h.Facts.Plan, &h.Facts.Endurance
	lines := map[string]*Line{}
	for i := range h.Ledger {
		lines[h.Ledger[i].ID] = &h.Ledger[i]
	}
	at := func(id string) *jsonSpan {
		if l := lines[id]; l != nil {
			return span(l.At)
		}
		return nil
	}
	out := &jsonForecast{
		StartMin: in.Start, Minutes: in.Minutes, MinutesKnown: p.MinutesSet, Season: p.Season, SeasonKnown: p.SeasonKnown, Days: e.Days, WaterLimit: e.WaterLimit, WaterPassed: e.Passed,
		Hours: make([]jsonHour, len(h.Result.Hours)), Events: make([]jsonEvent, len(h.Result.Events)), Assumptions: forecast.Assumptions,
		Stocks: make([]jsonStock, len(e.Stocks)), Bodies: make([]jsonBody, len(e.Bodies)), Legs: make([]jsonLeg, len(p.Legs)),
	}
	if e.Category > 0 {
		out.Heat = &jsonHeat{Category: e.Category, Hour: e.CategoryHour, HottestHour: e.HottestHour, Beyond: e.HeatBeyond}
		if !e.HeatBeyond {
			out.Heat.HeatIndexMC = &e.HeatIndexMC
		}
	}
	if e.ChillKnown {
		out.Chill = &jsonChill{e.ChillMC, e.ChillHour}
	}
	for i := range out.Hours {
		out.Hours[i] = h.hour(i)
	}
	o := outlook{page: page{f: h.Facts}, in: in, res: h.Result}
	for i, ev := range h.Result.Events {
		j := jsonEvent{Hour: ev.Hour, UntilHour: ev.Until, ClockMin: o.clock(ev.Hour), Kind: ev.Kind, ID: ev.ID, Amount: ev.Amount}
		switch ev.Kind {
		case forecast.Short:
			j.ID, j.Unit = o.lasting(ev.Stock, ev.Body, ev.ID).ID, ev.Stock.Row().Unit
		case forecast.Collect:
			j.Unit = "ml"
		case forecast.Pass: // no amount: water_passed has what it is left for
		default:
			j.Unit = "min"
		}
		out.Events[i] = j
	}
	for i, s := range e.Stocks {
		out.Stocks[i] = jsonStock{Lasting: s, Unit: s.Kind.Row().Unit, Endless: o.endless(s.Kind), MadeOf: madeOf(lines, s.ID), At: at(s.ID)}
	}
	for i, b := range e.Bodies {
		out.Bodies[i] = jsonBody{b, milligrams(in.Bodies[i].Mass), at(b.ID)}
	}
	for i, l := range p.Legs {
		out.Legs[i] = jsonLeg{l, at(l.ID)}
	}
	return out
}

func (h *Forecast) hour(i int) jsonHour {
	x := &h.Result.Hours[i]
	out := jsonHour{
		Hour: i, ClockMin: x.Clock, Activity: x.Activity, WalkMin: x.WalkMin, DarkMin: x.DarkMin, WaterML: x.WaterML, FoodJ: x.FoodJ, FuelML: x.FuelML,
		LightMin: x.LightMin, SpentJ: x.SpentJ, DrunkML: x.DrunkML, LoadsMG: make(map[string]int64, len(x.LoadMG)),
	}
	if x.Leg != forecast.NoLeg {
		out.Leg = h.Plan.Legs[x.Leg].ID
	}
	if h.Plan.Weather != nil {
		mc := int64(math.Round(x.Celsius * 1000))
		out.CelsiusMC = &mc
	}
	for b, mg := range x.LoadMG {
		out.LoadsMG[h.Plan.Bodies[b].ID] = mg
	}
	return out
}

// madeOf are the entries of a stock.
func madeOf(lines map[string]*Line, id string) []jsonLine {
	out := []jsonLine{}
	if stock := lines[id]; stock != nil {
		for _, in := range stock.Inputs {
			if l := lines[in]; l != nil {
				out = append(out, jsonLine{ID: l.ID, Label: l.Label, Amount: l.Amount, At: span(l.At)})
			}
		}
	}
	return out
}
