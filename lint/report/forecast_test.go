package report

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
	"kitmuster/lint/forecast"
	"kitmuster/lint/kinds"
)

// outlooked is a plan of three hours with everything in it that the page may say.
func outlooked() *forecasts {
	stock := func(id string, kind kinds.Stock, x facts.Lasting) facts.Lasting {
		x.ID, x.Kind, x.Known = id, kind, true
		return x
	}
	facts := &facts.Facts{
		Plan: facts.Plan{
			MinutesSet: true, Season: "winter", SeasonKnown: true, DayMC: 2000, NightMC: -6000, Humidity: 850, HumidityKnown: true,
			Legs: []facts.Leg{{ID: "plan/legs/to_gate", Arrives: true}, {ID: "plan/legs/to_hill", BeginHour: 2, EndHour: -1}, {ID: "plan/legs/home", BeginHour: -1, EndHour: -1}},
		},
		Endurance: facts.Endurance{
			WaterLimit: "vessels", Category: 2, CategoryHour: 1, HeatIndexMC: 31_400, HottestHour: 2, ChillKnown: true, ChillMC: -6500, ChillHour: 2,
			Stocks: []facts.Lasting{
				stock("animals/rex/endurance-energy", kinds.StockEnergy, facts.Lasting{Body: "animals/rex", BodyName: "Rex", Have: 4_184_000, Need: 418_400, Lowest: 3_765_600, Lasts: 3}),
				stock("endurance/energy", kinds.StockEnergy, facts.Lasting{Have: 4_184_000, Need: 4_602_400, Short: 418_400, FirstShort: 209_200, Lasts: 2, RawJ: 8_368_000,
					ForOne: []facts.ForOne{{Body: "people/bib", Name: "Bib\x1b", J: 20_920_000}, {Body: "people/cy", Name: "Cy", J: 3078}}}),
				stock("endurance/fuel", kinds.StockFuel, facts.Lasting{Have: 500, Need: 700, Short: 200, Lasts: 2}),
				stock("endurance/light", kinds.StockLight, facts.Lasting{Need: 60, Lasts: 3}),
				stock("endurance/sodium", kinds.StockSodium, facts.Lasting{Have: 900, Need: 1000, Short: 100, Lasts: 2, Unwritten: 2}),
				stock("endurance/water", kinds.StockWater, facts.Lasting{Have: 1000, Need: 2000, Short: 500, FirstShort: 250, Lasts: 1}),
				stock("people/ana/medications/pill/endurance", kinds.StockDoses, facts.Lasting{Body: "people/ana", BodyName: "Ana", Name: "pill\u202e", Have: 500, Need: 1000, Short: 500, Lasts: 0}),
			},
			Days:   []facts.PlanDay{{ID: "endurance/day-1", Day: 1, SpentJ: 4_602_400, EatenJ: 4_184_000, NeedML: 2000, DrunkML: 1500, FindML: 1000, CollectedML: 500, SodiumNeedMG: 1000, SodiumMG: 900, WalkMin: 90}},
			Bodies: []facts.Burden{{ID: "people/ana", Name: "Ana", FirstMG: 7_000_000, MostMG: 7_500_000, MostHour: 1, LastMG: 3_500_000, SpentJ: 4_602_400, DrinkML: 1500, SweatML: 375, WalkMin: 90}, {ID: "animals/rex", Name: "Rex", DrinkML: 500, WalkMin: 90}},
			Passed: []facts.Passed{{ID: "plan/waterSources/brook", Name: "brook", Leaves: []string{"viruses"}}, {ID: "plan/waterSources/butt", Name: "butt", Leaves: []string{"Giardia", "Cryptosporidium", "mud"}}},
		},
	}
	in := &forecast.Input{
		Minutes: 150, Start: 23*60 + 30, Weather: &forecast.Weather{Wind: 2, Daylight: 8 * 60},
		Legs:    []forecast.Leg{{ID: "plan/legs/to_gate"}, {ID: "plan/legs/to_hill"}, {ID: "plan/legs/home"}},
		Sources: []forecast.Source{{ID: "plan/waterSources/brook"}, {ID: "plan/waterSources/butt", Leg: forecast.NoLeg}, {ID: "plan/waterSources/well"}},
		Vessels: []forecast.Vessel{{CapacityML: 1000}},
		Bodies:  []forecast.Body{{ID: "people/ana", Name: "Ana", CarriesPack: true, Mass: 70}, {ID: "animals/rex", Name: "Rex", Animal: true, Mass: 20}},
		Foods:   []forecast.Food{{For: forecast.Everybody, EnergyJ: 4_184_000}, {For: 1, EnergyJ: 4_184_000}},
		Lamps:   forecast.Lamps{Endless: true},
	}
	res := &forecast.Result{
		WaterLimit: "vessels",
		Hours: []forecast.Hour{
			{Clock: 1410, Activity: forecast.Walk, Leg: 0, WalkMin: 50, DarkMin: 60, Celsius: -5.25, WaterML: 1000, FoodJ: 3_000_000, SpentJ: 9, DrunkML: 8, LoadMG: []int64{7_000_000, 0}},
			{Clock: 30, Activity: forecast.Sleep, Leg: forecast.NoLeg, DarkMin: 29, WaterML: 0, FoodJ: 1_000_000, LoadMG: []int64{3_500_000, 0}},
			{Clock: 90, Activity: forecast.Halt, Leg: forecast.NoLeg, DarkMin: 20, WaterML: 125, FoodJ: 0, LoadMG: []int64{0, 0}},
		},
		Events: []forecast.Event{
			{Hour: 0, Until: 0, Kind: forecast.Leave, ID: "plan/legs/to_gate", Body: forecast.Everybody, Amount: 90},
			{Hour: 0, Until: 0, Kind: forecast.Short, ID: "people/ana/medications/pill", Stock: kinds.StockDoses, Body: 0, Amount: 500},
			{Hour: 1, Until: 1, Kind: forecast.Arrive, ID: "plan/legs/to_gate", Body: forecast.Everybody},
			{Hour: 1, Until: 1, Kind: forecast.Short, Stock: kinds.StockWater, Body: forecast.Everybody, Amount: 250},
			{Hour: 1, Until: 2, Kind: forecast.Collect, ID: "plan/waterSources/well", Body: forecast.Everybody, Amount: 500},
			{Hour: 1, Until: 1, Kind: forecast.Pass, ID: "plan/waterSources/brook", Body: forecast.Everybody},
			{Hour: 2, Until: 2, Kind: forecast.Pass, ID: "plan/waterSources/butt", Body: forecast.Everybody},
			{Hour: 2, Until: 2, Kind: forecast.Short, Stock: kinds.StockEnergy, Body: forecast.Everybody, Amount: 209_200},
			{Hour: 2, Until: 2, Kind: forecast.Short, Stock: kinds.StockFuel, Body: forecast.Everybody, Amount: 200},
			{Hour: 2, Until: 2, Kind: forecast.Short, Stock: kinds.StockSodium, Body: forecast.Everybody, Amount: 100},
		},
		Legs: []forecast.LegResult{{Begin: 0, End: 1}, {Begin: 2, End: forecast.Never}, {Begin: forecast.Never, End: forecast.Never}},
	}
	res.Stocks = append(res.Stocks, []forecast.Stock{
		{Kind: kinds.StockWater, Body: forecast.Everybody}, {Kind: kinds.StockEnergy, Body: forecast.Everybody}, {Kind: kinds.StockSodium, Body: forecast.Everybody}, {Kind: kinds.StockLight, Body: forecast.Everybody},
		{Kind: kinds.StockFuel, Body: forecast.Everybody}, {Kind: kinds.StockEnergy, Body: 1}, {Kind: kinds.StockDoses, Body: 0, ID: "people/ana/medications/pill"},
	}...)
	ledger := []Line{
		{ID: "endurance/water", At: at(3, 1, 9), Inputs: []string{"packs/rust/bottle", "elsewhere", "gone"}},
		{ID: "packs/rust/bottle", Label: "water in bottle", Amount: "1 L", At: at(5, 1, 9)},
		{ID: "elsewhere", Label: "a thing"},
		{ID: "people/ana", At: at(7, 1, 9)},
		{ID: "plan/legs/to_gate", At: at(8, 1, 9)},
	}
	return &forecasts{
		Version: "v0", On: "2026-11-01",
		Households: []Forecast{
			{Measured: Measured{Household: finding.Household{Path: "birch"}}},
			{Measured: Measured{Household: finding.Household{Name: "Alder\x1b", Path: "alder", Judged: true}, Facts: facts, Ledger: ledger}, Plan: in, Result: res},
		},
		Findings: []finding.Finding{{Rule: "input/value", Level: finding.Error, Message: "no mass", Path: "birch", Spot: "household", At: at(1, 1, 2)}},
	}
}

// forecasts are a run that a test may change.
type forecasts struct {
	Version, On string
	Households  []Forecast
	Findings    []finding.Finding
}

func (f *forecasts) made() *Made[Forecast] {
	return &Made[Forecast]{Run: runOf(f.Version, f.On, f.Households, func(h *Forecast) finding.Household { return h.Household }, f.Findings), Households: finding.Each(f.Households)}
}

// runOf is the run of some households and findings.
func runOf[T any](version, on string, all []T, household func(*T) finding.Household, fs []finding.Finding) *finding.Run {
	run := &finding.Run{Version: version, On: on}
	var hs []finding.Household
	for i := range all {
		hs = append(hs, household(&all[i]))
	}
	run.Count(hs, fs...)
	return run
}

func TestForecastText(t *testing.T) {
	var b bytes.Buffer
	if err := ForecastText(&b, outlooked().made(), Options{}); err != nil {
		t.Fatal(err)
	}
	page, rest, ok := strings.Cut(b.String(), "\n  assumptions:\n")
	if !ok {
		t.Fatalf("nothing is taken for granted in\n%s", b.String())
	}
	want := `Alder\u001b (alder), forecast as of 2026-11-01
  2 h 30 min from 23:30 on; hour 0 is the first, and the clock beside an hour says when it begins
  season winter: 2 °C by day, -6 °C by night, humidity 85.0 %, wind 2.0 m/s; light from 08:00 to 16:00

  hour 0, 23:30  leaves on to_gate: 1 h 30 min of walking
  hour 0, 23:30  doses of pill\u202e (Ana) run short for the first time: 0.5 is missing, 0.5 altogether
  hour 1, 00:30  arrives at the end of to_gate
  hour 1, 00:30  water is short for the first time: 250 ml is missing in this hour, 500 ml altogether
  hour 1, 00:30  collects 500 ml of water at well from then on until hour 2, 01:30
  hour 1, 00:30  passes brook and takes nothing: nothing carried clears viruses from it
  hour 2, 01:30  is at butt and takes nothing: nothing carried clears Giardia, Cryptosporidium and mud from it
  hour 2, 01:30  food is short for the first time: 50 kcal is missing at this meal, 100 kcal altogether
  hour 2, 01:30  fuel is short: 200 ml for the food that is left cannot be boiled
  hour 2, 01:30  sodium is short: by now people need more than all the food holds; 100 mg is missing by the end
  the plan ends on the way, before to_hill is done
  the plan ends before anyone starts on home

  stock                               have       need     short              lasts    lowest
  water                                1 L        2 L    500 ml  1 h of 2 h 30 min      0 ml
  food                           1000 kcal  1100 kcal  100 kcal  2 h of 2 h 30 min    0 kcal
  sodium                            900 mg      1.0 g    100 mg  2 h of 2 h 30 min       0 g
  light                      no end stated        1 h         -         to the end         -
  fuel, as water it boils           500 ml     700 ml    200 ml  2 h of 2 h 30 min      0 ml
  food of Rex                    1000 kcal   100 kcal         -         to the end  900 kcal
  doses of pill\u202e (Ana)            0.5          1       0.5  0 h of 2 h 30 min         0
  have: at the start, without what is collected; need: what the plan takes;
  short: what is missing altogether; lasts: until it is first short; lowest: the
  least left at the end of an hour
  food is short though some of it stays: 2000 kcal cannot be cooked: there is no
  fuel left or no stove that burns it; 5000 kcal is for Bib\u001b alone; 0.74
  kcal is for Cy alone
  sodium: 2 foods have none recorded and count as none, so there may be more
  than is shown
  water is short because the containers are too small to reach from one water to
  the next; treatment keeps up

  day      spent      eaten    balance  water needed  drunk  to find  collected  sodium needed  sodium eaten     walking
  1    1100 kcal  1000 kcal  -100 kcal           2 L  1.5 L      1 L     500 ml          1.0 g        900 mg  1 h 30 min
  energy and sodium of people, water of everyone; a day is 24 hours of the plan,
  the last one what is left of it; to find: of the water needed, what is not
  carried when the day begins

  who  load at start  most on the way  of body weight  in hour  at the end     spends  drinks   sweat     on foot
  Ana        7.00 kg          7.50 kg          10.8 %        1     3.50 kg  1100 kcal   1.5 L  375 ml  1 h 30 min
  Rex              -                -               -        -           -     0 kcal  500 ml    0 ml  1 h 30 min
  load: packs with all that is in them, and an animal that is carried; what is
  worn, and a child that is carried, comes on top; drinks: what is needed, if
  there is enough; sweat: of walking, and part of that

  heat: the hottest hour walked is hour 2 at 01:30 and feels like 31.4 °C in the
  shade; the worst heat category, 2 of the 5 of the US Army's work, rest and
  fluid table, is first reached in hour 1 at 00:30; rests and drink go by that
  table
  cold: feels like -6.5 °C on bare skin at the coldest, in hour 2 at 01:30;
  below freezing people spend a tenth more, and water in bottles and filters
  freezes

  hour by hour, a character an hour, as it stands at the end of the hour, in
  eighths from ▁ to █; a dot is none; marked every 6 hours
    23:30
    |
  w: walk, h: halt, z: sleep
    wzh
  #: dark for half of it or more
    #.#
  safe water; █ is 1 L
    █.▁
  food for people; █ is 1000 kcal
    ▆▂.
  load of Ana; █ is 10.0 % of body weight
    █▄.
`
	if diff := cmp.Diff(want, page); diff != "" {
		t.Error(diff)
	}
	if n := strings.Count(rest, "\n  - ") + 1; n != len(forecast.Assumptions) {
		t.Errorf("%d things are taken for granted, want %d", n, len(forecast.Assumptions))
	}
	if !strings.HasSuffix(rest, "\nalder/kit.cue:1:1: error: no mass [input/value]\n2 households checked as of 2026-11-01: 1 error, 0 warnings, 0 notes. 1 household only partly checked; once the input is corrected, more may show.\n") {
		t.Error(rest)
	}
	for _, line := range strings.Split(rest, "\n")[:10] {
		if len([]rune(line)) > 80 {
			t.Errorf("more than 80 columns: %s", line)
		}
	}
}

// A long plan has several hours in a column: of stocks the least, of loads the most.
// A ride is no walk: in words, and in the chart.
func TestForecastOfARide(t *testing.T) {
	o := outlooked()
	h := &o.Households[slices.IndexFunc(o.Households, func(h Forecast) bool { return h.Plan != nil })]
	h.Plan.Legs[0].Ride, h.Result.Hours[0].Activity = 8, forecast.Ride
	var b bytes.Buffer
	if err := ForecastText(&b, o.made(), Options{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"leaves on to_gate: 1 h 30 min of riding", "w: walk, h: halt, z: sleep, r: ride", "\n    rzh\n"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}

func TestForecastChartOfALongPlan(t *testing.T) {
	f := outlooked()
	h := &f.Households[1]
	h.Plan.Weather, h.Plan.Start, h.Facts.Endurance.Category, h.Facts.Endurance.ChillKnown = nil, 0, 0, false
	h.Result.Hours, h.Result.Events, h.Result.Legs = nil, nil, nil
	for i := range h.Facts.Endurance.Stocks {
		s := &h.Facts.Endurance.Stocks[i]
		s.Known = s.Kind != kinds.StockLight
	}
	for i := range 145 {
		x := forecast.Hour{Activity: forecast.Sleep, Leg: forecast.NoLeg, WaterML: 1000, FoodJ: 1, LoadMG: []int64{7_000_000, 0}}
		switch {
		case i == 1:
			x.WaterML, x.LoadMG[0], x.Activity = 500, 1, forecast.Walk
		case i == 144:
			x.Activity = forecast.Halt
		}
		h.Result.Hours = append(h.Result.Hours, x)
	}
	var b bytes.Buffer
	if err := ForecastText(&b, f.made(), Options{}); err != nil {
		t.Fatal(err)
	}
	page := strings.ReplaceAll(b.String(), "marked every\n  18", "marked every 18") // wherever the line ends
	for _, want := range []string{
		"\n  no season is planned for: nothing here knows of heat, cold or darkness\n",
		"\n  nobody walks, nothing is collected and nothing runs short\n",
		"\n  light                      no end stated  not known ",
		"a character for 3 hours",
		"marked every 18 hours\n    0     18    36    54    72    90    108   126   144\n    |     |     |     |     |     |     |     |     |\n",
		"\n    w" + strings.Repeat("z", 47) + "h\n",
		"\n  safe water, the least in them; █ is 1 L\n    ▄" + strings.Repeat("█", 48) + "\n",
		"\n  load of Ana, the most in them; █ is 10.0 % of body weight\n    " + strings.Repeat("█", 49) + "\n",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in\n%s", want, page)
		}
	}
	if s := b.String(); strings.Contains(s, "dark for half") || strings.Contains(s, "heat:") || strings.Contains(s, "cold:") {
		t.Errorf("weather where none is known:\n%s", s)
	}
}

func TestBlock(t *testing.T) {
	for _, c := range []struct {
		v, most float64
		want    rune
	}{{0, 8, '.'}, {-1, 8, '.'}, {1, 0, '.'}, {0.001, 8, '▁'}, {1, 8, '▁'}, {1.001, 8, '▂'}, {7, 8, '▇'}, {7.001, 8, '█'}, {8, 8, '█'}, {9, 8, '█'}} {
		if got := block(c.v, c.most); got != c.want {
			t.Errorf("%v of %v is %c, want %c", c.v, c.most, got, c.want)
		}
	}
}

func TestLight(t *testing.T) {
	for daylight, want := range map[int64]string{0: "dark all day", 1440: "light all day and night", 585: "light from 07:08 to 16:53", 1439: "light from 00:01 to 24:00", 1: "light from 12:00 to 12:01"} {
		if got := light(daylight); got != want {
			t.Errorf("%d minutes: %s, want %s", daylight, got, want)
		}
	}
}

// Each limit has a sentence of its own, and so have its absence and a want of water on the way.
func TestWaterWords(t *testing.T) {
	seen := map[string]bool{}
	for _, limit := range []kinds.WaterLimit{"vessels", "treatment", "vessels and treatment", "sources", ""} {
		for _, sources := range []bool{true, false} {
			for _, vessels := range []bool{true, false} {
				seen[waterWords(limit, sources, vessels)] = true
			}
		}
	}
	if len(seen) != 9 {
		t.Errorf("%d sentences: %v", len(seen), seen)
	}
	if s := waterWords("sources", false, true); !strings.Contains(s, "names no drinkable water on the way") {
		t.Error(s)
	}
}

// What is known of no plan: a horse, a child whom nobody carries, heat beyond the index, food that needs no fuel, nothing to draw.
func TestForecastOfOddPlans(t *testing.T) {
	page := func(change func(*Forecast)) string {
		f := outlooked()
		change(&f.Households[1])
		var b bytes.Buffer
		if err := ForecastText(&b, f.made(), Options{}); err != nil {
			t.Fatal(err)
		}
		return strings.Join(strings.Fields(b.String()), " ")
	}
	stock := func(h *Forecast, id string) *facts.Lasting {
		for i := range h.Facts.Endurance.Stocks {
			if s := &h.Facts.Endurance.Stocks[i]; s.ID == id {
				return s
			}
		}
		t.Fatalf("no %s", id)
		return nil
	}
	for _, c := range []struct {
		name    string
		change  func(*Forecast)
		has, no string
	}{
		{"grazes", func(h *Forecast) { h.Plan.Bodies[1].Grazes = true }, "food of Rex 1000 kcal 100 kcal finds its own to the end", ""},
		{"grazes", func(h *Forecast) { h.Plan.Bodies[1].Grazes = true }, "Rex finds food and water on the way: none is counted as needed", ""},
		{"uncarried", func(h *Forecast) { h.Facts.Endurance.Bodies[0].Uncarried = true }, "who carries Ana is not recorded; the loads leave out these 70.00 kg", "who carries Rex"},
		{"beyond", func(h *Forecast) { h.Facts.Endurance.HeatBeyond = true }, "hour 2 at 01:30 and is hotter than the heat index covers, whose chart ends at air of 110 °F (43.3 °C) and an index of 136 °F (57.8 °C): this is dangerous, do not walk in it;", "feels like 31.4"},
		{"treatment", func(h *Forecast) { h.Result.WaterLimit = "treatment" }, "the containers keep up; nothing carried clears viruses from brook; nothing carried clears Giardia, Cryptosporidium and mud from butt", ""},
		{"no vessel", func(h *Forecast) { h.Plan.Vessels = nil }, "there is no container to carry it in; treatment keeps up", "too small"},
		{"no fuel, none needed", func(h *Forecast) { s := stock(h, "endurance/fuel"); s.Have, s.Need, s.Short = 0, 0, 0 }, "light no end stated", "fuel, as water it boils 0"},
		{"fuel, none needed", func(h *Forecast) { s := stock(h, "endurance/fuel"); s.Need, s.Short = 0, 0 }, "fuel, as water it boils 500 ml nothing needs it - to the end", ""},
		{"one food", func(h *Forecast) { stock(h, "endurance/sodium").Unwritten = 1 }, "sodium: 1 food has none recorded and counts as none", ""},
		{"all of it written", func(h *Forecast) { stock(h, "endurance/sodium").Unwritten = 0 }, "", "none recorded"},
		{"past its date", func(h *Forecast) { s := stock(h, "animals/rex/endurance-energy"); s.PastJ, s.LastsGood = 418_400, 1 }, "food of Rex 1000 kcal 100 kcal - to the end (1 h good)", ""},
		{"past its date", func(h *Forecast) { s := stock(h, "animals/rex/endurance-energy"); s.PastJ, s.LastsGood = 418_400, 1 }, "food of Rex: 100 kcal of it is past its date and eaten last; what is not lasts 1 hour", ""},
		{"past its date, not needed", func(h *Forecast) { s := stock(h, "animals/rex/endurance-energy"); s.PastJ, s.LastsGood = 418_400, 3 }, "what is not lasts 3 hours", "h good"},
		{"light not known", func(h *Forecast) { stock(h, "endurance/light").Known = false }, "light no end stated not known not known not known -", ""},
		{"no water", func(h *Forecast) {
			stock(h, "endurance/water").Have = 0
			for i := range h.Result.Hours {
				h.Result.Hours[i].WaterML = 0
			}
		}, "food for people; █", "safe water; █"},
		{"no load", func(h *Forecast) {
			for i := range h.Result.Hours {
				h.Result.Hours[i].LoadMG = []int64{0, 0}
			}
		}, "food for people; █", "load of Ana; █"},
	} {
		got := page(c.change)
		if !strings.Contains(got, c.has) || c.no != "" && strings.Contains(got, c.no) {
			t.Errorf("%s: want %q and not %q in\n%s", c.name, c.has, c.no, got)
		}
	}
}

func TestKilocalories(t *testing.T) {
	for j, want := range map[int64]string{4183: "0 kcal", -4183: "0 kcal", -4184: "-1 kcal", 418_400: "100 kcal"} {
		if got := kilocalories(j); got != want {
			t.Errorf("%d J is %s, want %s", j, got, want)
		}
	}
}

func TestForecastJSON(t *testing.T) {
	var b bytes.Buffer
	if err := ForecastJSON(&b, outlooked().made(), Options{}); err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	households := got["households"].([]any)
	if diff := cmp.Diff(map[string]any{"name": "", "path": "birch", "measured": false}, households[0]); diff != "" {
		t.Error(diff)
	}
	if fs := got["findings"].([]any); len(fs) != 1 || got["on"] != "2026-11-01" || got["version"] != "v0" || got["tool"] != "kitmuster" {
		t.Errorf("%v", got)
	}
	f := households[1].(map[string]any)["forecast"].(map[string]any)
	place := func(line float64) map[string]any {
		return map[string]any{"file": "alder/kit.cue", "line": line, "column": 1.0, "endLine": line, "endColumn": 9.0}
	}
	for _, c := range []struct {
		what      string
		got, want any
	}{
		{"first hour", f["hours"].([]any)[0], map[string]any{
			"hour": 0.0, "clock_min": 1410.0, "activity": "walk", "leg": "plan/legs/to_gate", "walk_min": 50.0, "dark_min": 60.0, "celsius_mc": -5250.0, "water_ml": 1000.0, "food_j": 3e6,
			"fuel_ml": 0.0, "light_min": 0.0, "spent_j": 9.0, "drunk_ml": 8.0, "loads_mg": map[string]any{"people/ana": 7e6, "animals/rex": 0.0},
		}},
		{"leg of a halt", f["hours"].([]any)[1].(map[string]any)["leg"], ""},
		{"leave", f["events"].([]any)[0], map[string]any{"hour": 0.0, "until_hour": 0.0, "clock_min": 1410.0, "kind": "leave", "id": "plan/legs/to_gate", "amount": 90.0, "unit": "min"}},
		{"doses", f["events"].([]any)[1], map[string]any{"hour": 0.0, "until_hour": 0.0, "clock_min": 1410.0, "kind": "short", "id": "people/ana/medications/pill/endurance", "amount": 500.0, "unit": "thousandths of a dose"}},
		{"collect", f["events"].([]any)[4], map[string]any{"hour": 1.0, "until_hour": 2.0, "clock_min": 30.0, "kind": "collect", "id": "plan/waterSources/well", "amount": 500.0, "unit": "ml"}},
		{"place of water", f["stocks"].([]any)[5].(map[string]any)["at"], place(3)},
		{"what water is", f["stocks"].([]any)[5].(map[string]any)["made_of"], []any{
			map[string]any{"id": "packs/rust/bottle", "label": "water in bottle", "amount": "1 L", "at": place(5)}, map[string]any{"id": "elsewhere", "label": "a thing"},
		}},
		{"light", f["stocks"].([]any)[3].(map[string]any)["endless"], true},
		{"unit of light", f["stocks"].([]any)[3].(map[string]any)["unit"], "min"},
		{"what nothing is made of", f["stocks"].([]any)[3].(map[string]any)["made_of"], []any{}},
		{"place of Ana", f["bodies"].([]any)[0].(map[string]any)["at"], place(7)},
		{"mass of Ana", f["bodies"].([]any)[0].(map[string]any)["body_mass_mg"], 7e7},
		{"place of a leg", f["legs"].([]any)[0].(map[string]any)["at"], place(8)},
		{"day", f["days"].([]any)[0].(map[string]any)["find_ml"], 1000.0},
		{"heat", f["heat"], map[string]any{"category": 2.0, "hour": 1.0, "hottest_hour": 2.0, "heat_index_mc": 31400.0, "beyond_heat_index": false}},
		{"pass", f["events"].([]any)[5], map[string]any{"hour": 1.0, "until_hour": 1.0, "clock_min": 30.0, "kind": "pass", "id": "plan/waterSources/brook", "amount": 0.0, "unit": ""}},
		{"passed", f["water_passed"].([]any)[0], map[string]any{"id": "plan/waterSources/brook", "name": "brook", "leaves": []any{"viruses"}}},
		{"light is known", f["stocks"].([]any)[3].(map[string]any)["known"], true},
		{"chill", f["chill"], map[string]any{"chill_mc": -6500.0, "hour": 2.0}},
		{"limit", f["water_limit"], "vessels"},
		{"start", f["start_min"], 1410.0},
		{"assumptions", len(f["assumptions"].([]any)), len(forecast.Assumptions)},
	} {
		if diff := cmp.Diff(c.want, c.got); diff != "" {
			t.Errorf("%s: %s", c.what, diff)
		}
	}
}

// No figure stands where the heat index is not made for one.
func TestForecastJSONBeyondTheHeatIndex(t *testing.T) {
	f := outlooked()
	f.Households[1].Facts.Endurance.HeatBeyond = true
	var b bytes.Buffer
	if err := ForecastJSON(&b, f.made(), Options{}); err != nil {
		t.Fatal(err)
	}
	if s := b.String(); strings.Contains(s, "heat_index_mc") || !strings.Contains(s, `"beyond_heat_index": true`) {
		t.Error(s)
	}
}

// Without a season there is no weather in any hour.
func TestForecastJSONWithoutWeather(t *testing.T) {
	f := outlooked()
	h := &f.Households[1]
	h.Plan.Weather, h.Facts.Endurance.ChillKnown, h.Facts.Endurance.Category = nil, false, 0
	var b bytes.Buffer
	if err := ForecastJSON(&b, f.made(), Options{}); err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"celsius_mc", `"chill"`, `"heat"`} {
		if strings.Contains(b.String(), word) {
			t.Errorf("%s where no weather is known", word)
		}
	}
}
