package body

import "testing"

// UNHCR/WFP 1997, Annex I: kcal a day by age, at the first and the last month of each row.
func TestDayEnergy(t *testing.T) {
	const year = 12
	for _, c := range []struct {
		from, to     int64
		male, female float64
	}{
		{1 * year, 2*year - 1, 1250, 1190},
		{2 * year, 3*year - 1, 1430, 1330},
		{3 * year, 4*year - 1, 1560, 1440},
		{4 * year, 5*year - 1, 1690, 1540},
		{5 * year, 10*year - 1, 1980, 1730},
		{10 * year, 15*year - 1, 2370, 2040},
		{15 * year, 20*year - 1, 2700, 2120},
		{20 * year, 60*year - 1, 2460, 1990},
		{60 * year, 110 * year, 2010, 1780},
	} {
		for _, months := range []int64{c.from, c.to} {
			within(t, "male", DayEnergy(months, true, "male", 50)/4184, c.male, 1e-9)
			within(t, "female", DayEnergy(months, true, "female", 50)/4184, c.female, 1e-9)
			within(t, "unknown sex", DayEnergy(months, true, "", 50)/4184, (c.male+c.female)/2, 1e-9)
		}
	}
	within(t, "unknown age", DayEnergy(0, false, "male", 50)/4184, 2100, 1e-9)
	// The table's own mean of grown people is 2,230, of those from 60 years on 1,890.
	within(t, "mean of both", DayEnergy(400, true, "", 50)/4184, 2230, 6)
	within(t, "mean of both from 60 on", DayEnergy(800, true, "", 50)/4184, 1890, 6)
	// Butte 2005: 113 and 107 kcal a kg at one month, 80.5 and 81.5 at six.
	for months, want := range map[int64]float64{-1: 110, 0: 110, 1: 110, 6: 81, 11: 81} {
		within(t, "infant, kcal a kg", DayEnergy(months, true, "male", 7)/4184/7, want, 1e-9)
	}
	within(t, "at three and a half months, between", (DayEnergy(3, true, "", 6)+DayEnergy(4, true, "", 6))/2/4184/6, 95.5, 1e-9)
}

// 2.5 US fl oz a pound and at most 32 a day; the cap is reached at 5.8 kg.
func TestFeed(t *testing.T) {
	within(t, "by the pound", Feed(4), 2.5*29.5735295625*4/0.45359237, 9)
	within(t, "just below the cap", Feed(5.8), 957, 1e-9)
	within(t, "at most 32 fl oz", Feed(9), 32*29.5735295625, 15)
	within(t, "no body", Feed(-1), 0, 0)
}
