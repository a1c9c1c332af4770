package body

import (
	"math"
	"testing"
)

// The US Army's table, own page (irwin.amedd.army.mil/pages/wbgt.htm): minutes of work and of rest, quarts an hour.
func TestFluidTable(t *testing.T) {
	type cell struct {
		work, rest int
		qt         float64
	}
	for _, row := range []struct {
		category  int
		low, high float64
		cells     [3]cell // easy, moderate, hard
	}{
		{1, 78, 81.9, [3]cell{{60, 0, 0.5}, {60, 0, 0.75}, {40, 20, 0.75}}},
		{2, 82, 84.9, [3]cell{{60, 0, 0.5}, {50, 10, 0.75}, {30, 30, 1}}},
		{3, 85, 87.9, [3]cell{{60, 0, 0.75}, {40, 20, 0.75}, {30, 30, 1}}},
		{4, 88, 89.9, [3]cell{{60, 0, 0.75}, {30, 30, 0.75}, {20, 40, 1}}},
		{5, 90, 130, [3]cell{{50, 10, 1}, {20, 40, 1}, {10, 50, 1}}},
	} {
		for i, class := range []Class{Easy, Moderate, Hard} {
			c := row.cells[i]
			want := Hour{row.category, c.work, c.rest, c.qt * 0.946352946}
			for _, wbgt := range []float64{row.low, row.low + 0.05, (row.low + row.high) / 2, row.high} {
				if got := Fluid(wbgt, class); got != want {
					t.Errorf("%v °F, class %d: %+v, want %+v", wbgt, class, got, want)
				}
			}
			if l := Fluid(row.low, class).Litres; l > HourCap {
				t.Errorf("%v °F, class %d: %v litres, above what an hour may have", row.low, class, l)
			}
		}
	}
}

// What lies between the printed figures belongs to the hotter category, 90.0 to the fifth, and there is no table below 78 °F.
func TestFluidEdges(t *testing.T) {
	for _, c := range []struct {
		wbgt     float64
		category int
	}{
		{-40, 0}, {67.75, 0}, {77.95, 0}, {77.999, 0}, {78, 1},
		{81.9, 1}, {81.91, 2}, {81.95, 2}, {82, 2}, {84.9, 2}, {84.95, 3}, {85, 3}, {87.9, 3}, {87.95, 4}, {88, 4},
		{89.9, 4}, {89.95, 5}, {90, 5}, {90.1, 5}, {1e6, 5},
	} {
		if got := Fluid(c.wbgt, Moderate).Category; got != c.category {
			t.Errorf("%v °F is category %d, want %d", c.wbgt, got, c.category)
		}
	}
	for _, class := range []Class{Easy, Moderate, Hard} {
		if got, want := Fluid(77.9, class), (Hour{Work: 60}); got != want {
			t.Errorf("below the table, class %d: %+v, want %+v", class, got, want)
		}
	}
	// One copy starts the third category at 84 °F with half a quart for easy work; it is not followed.
	if got := Fluid(84.5, Easy); got.Category != 2 {
		t.Errorf("84.5 °F is category %d, want 2", got.Category)
	}
}

// Litres of the quarts, worked out apart from this code; the hour's cap reaches the day's in eight hours.
func TestCaps(t *testing.T) {
	within(t, "half a quart", Fluid(80, Easy).Litres, 0.4732, 0.00005)
	within(t, "three quarters", Fluid(80, Hard).Litres, 0.7098, 0.00005)
	within(t, "a quart", Fluid(95, Hard).Litres, 0.9464, 0.00005)
	within(t, "the hour's cap", HourCap, 1.4195, 0.00005)
	within(t, "the day's cap", DayCap, 11.3562, 0.00005)
	within(t, "hours to the day's cap", DayCap/HourCap, 8, 1e-12)
}

func TestWorkClass(t *testing.T) {
	const mph, lb = 0.44704, 0.45359237
	for _, c := range []struct {
		mph, lb float64
		ground  string
		want    Class
	}{
		// The five walks of the US Army's page.
		{2.5, 29.9, "road", Easy},
		{3.5, 39.9, "road", Moderate},
		{2.5, 0, "sand", Moderate},
		{3.5, 40, "road", Hard},
		{2.5, 10, "sand", Hard},
		// Our own lines between them.
		{2.5, 0, "", Easy}, {1, 10, "dirt", Easy}, {2.5, 10, "grass", Easy}, {2.5, 10, "brush", Easy}, {0, 0, "road", Easy},
		{2.51, 0, "road", Moderate}, {2.5, 30, "road", Moderate}, {2.5, 39.9, "road", Moderate}, {2.5, 40, "road", Moderate}, {3, 39.9, "road", Moderate},
		{2.51, 40, "road", Hard}, {3.51, 0, "road", Hard},
		{1, 0, "snow", Moderate}, {1, 0, "bog", Moderate}, {1, 0, "heavy-brush", Moderate}, {0, 0, "sand", Moderate},
		{2.51, 0, "sand", Hard}, {1, 0.1, "snow", Hard}, {1, 0.1, "bog", Hard}, {1, 0.1, "heavy-brush", Hard},
	} {
		// Products of the figures may differ from the marks by their last bit; the very marks follow below.
		speed := math.Nextafter(c.mph*mph, 0)
		load := math.Nextafter(c.lb*lb, 1000)
		if c.lb == 0 {
			load = 0
		}
		if got := WorkClass(speed, load, c.ground); got != c.want {
			t.Errorf("%v mph with %v lb on %q is class %d, want %d", c.mph, c.lb, c.ground, got, c.want)
		}
	}
}

func TestWorkClassMarks(t *testing.T) {
	within(t, "2.5 mph", strolling, 1.1176, 1e-12)
	within(t, "3.5 mph", brisk, 1.56464, 1e-12)
	within(t, "30 lb", mediumLb, 13.60777, 0.000005)
	within(t, "40 lb", heavyLb, 18.14369, 0.000005)
	for _, c := range []struct {
		speed, load float64
		ground      string
		want        Class
	}{
		{strolling, 0, "road", Easy}, {strolling, mediumLb, "road", Moderate}, {strolling, 0, "sand", Moderate}, {strolling, heavyLb, "road", Moderate},
		{brisk, 0, "road", Moderate}, {brisk, heavyLb, "road", Hard}, {brisk, mediumLb, "road", Moderate},
	} {
		if got := WorkClass(c.speed, c.load, c.ground); got != c.want {
			t.Errorf("%v m/s with %v kg on %q is class %d, want %d", c.speed, c.load, c.ground, got, c.want)
		}
	}
}

// IOM 2005, total water. Men, women and girls of 14 to 18: own pages (NAP 10925 pp. 5, 144, 145,
// 457); the others PMC4473081 Table 1, second-hand, infants too.
func TestRestWater(t *testing.T) {
	const year = 12
	for _, c := range []struct {
		from, to     int64 // completed months
		male, female float64
	}{
		{0, 6, 0.7, 0.7},
		{7, 11, 0.6, 0.6},
		{1 * year, 4*year - 1, 0.9, 0.9},
		{4 * year, 9*year - 1, 1.2, 1.2},
		{9 * year, 14*year - 1, 1.8, 1.6},
		{14 * year, 19*year - 1, 2.6, 1.8},
		{19 * year, 100 * year, 3.0, 2.2},
	} {
		for _, months := range []int64{c.from, c.to} {
			within(t, "male", RestWater(months, true, "male"), c.male, 0)
			within(t, "female", RestWater(months, true, "female"), c.female, 0)
			within(t, "unknown sex", RestWater(months, true, ""), (c.male+c.female)/2, 0)
		}
	}
	within(t, "unknown age", RestWater(0, false, "female"), 2.2, 0)
	within(t, "unknown age and sex", RestWater(0, false, ""), 2.6, 1e-12)
	within(t, "not yet born", RestWater(-3, true, "male"), 0.7, 0)
	// Of total water, 3.7 L of men and 2.7 L of women, 81 % is drunk by the IOM's own pages.
	within(t, "drinks of men", RestWater(240, true, "male"), 0.81*3.7, 0.05)
	within(t, "drinks of women", RestWater(240, true, "female"), 0.81*2.7, 0.05)
}

// IOM 2005, pp. 129 and 155: 4.5 L of soldiers who rest at a mean of 30 °C; double to triple at about 40 °C.
func TestHeatFactor(t *testing.T) {
	within(t, "soldiers in the shade at 30 °C", HeatFactor(30)*RestWater(300, true, "male"), 4.5, 1e-12)
	for mean, want := range map[float64]float64{-20: 1, 20: 1, 25: 1.25, 30: 1.5, 39: 1.95, 40: 2, 60: 3, 61: 3} {
		within(t, "factor", HeatFactor(mean), want, 1e-12)
	}
}

func TestSweatSodium(t *testing.T) {
	// Del Coso et al. 2016, Table 2, typical: 43.2 mmol/L of sodium and 31.9 of chloride, together 2.1 g/L as the masses of both.
	within(t, "sodium and chloride", SweatSodium(1)+31.9*35.45, 2124, 0.5)
	within(t, "as printed in g", (SweatSodium(1)+31.9*35.45)/1000, 2.1, 0.05)
	within(t, "their typical hour of 0.9 L", SweatSodium(0.9), 893.85, 0.005)
	within(t, "half a litre, as on the plan's walks", SweatSodium(0.5), 496.584, 1e-9)
	// 50 mmol are 1,149.5 mg; with 1.5 L an hour just over 1.7 g (second-hand). 100 mmol are 2.3 g.
	within(t, "50 mmol/L", SweatSodium(1)*50/43.2, 1149.5, 1e-9)
	within(t, "50 mmol/L and 1.5 L", SweatSodium(1.5)*50/43.2, 1724, 0.5)
	within(t, "100 mmol in g", SweatSodium(1)*100/43.2/1000, 2.3, 0.005)
	within(t, "less than nothing", SweatSodium(-1), 0, 0)
}

// The reduced formula, g/L and g/mol: 2.6 of sodium chloride and 2.9 of trisodium citrate dihydrate make
// 74.07 mmol of sodium, printed 75, which are 1.72 g.
func TestORSSodium(t *testing.T) {
	salts := 2.6/58.44 + 3*2.9/294.1
	within(t, "mmol in a litre against its salts", ORSSodium(1)/22.99, salts*1000, 1)
	within(t, "mg in a litre", ORSSodium(1), 1724, 0.5)
	within(t, "g in a litre", ORSSodium(1)/1000, 1.72, 0.005)
	within(t, "two litres", ORSSodium(2), 3448.5, 1e-9)
	within(t, "less than nothing", ORSSodium(-1), 0, 0)
}

// NASEM, Dietary Reference Intakes for Sodium and Potassium, 2019 (NAP 25353), second-hand; 9 to 13 years from memory.
func TestSodiumIntake(t *testing.T) {
	for _, c := range []struct {
		months int64
		known  bool
		mg     float64
	}{
		{-1, true, 110}, {6, true, 110}, {7, true, 370}, {11, true, 370}, {12, true, 800}, {47, true, 800}, {48, true, 1000},
		{107, true, 1000}, {108, true, 1200}, {167, true, 1200}, {168, true, 1500}, {900, true, 1500}, {0, false, 1500},
	} {
		if got := SodiumIntake(c.months, c.known); got != c.mg {
			t.Errorf("%d months (known %v): %v mg, want %v", c.months, c.known, got, c.mg)
		}
	}
}
