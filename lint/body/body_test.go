package body

import (
	"math"
	"testing"
)

// Printed figures carry as many places as were printed, so a test allows half a
// unit of the last of them, or what its table says; a tolerance of 0 leaves room for
// the last bits, which differ between machines.
func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= max(tolerance, 1e-9)) {
		t.Errorf("%s is %v, want %v within %v", what, got, want, tolerance)
	}
}

// What a household may write at the very bounds, and less than nothing, never makes NaN or an infinity.
func TestAlwaysANumber(t *testing.T) {
	amounts := []float64{-1e6, -40, -12, -1, -1e-9, 0, 1e-9, 0.3, 1, 12, 13, 40, 95, 112, 1000, 1e6}
	finite := func(what string, got float64, args ...float64) {
		if math.IsNaN(got) || math.IsInf(got, 0) {
			t.Errorf("%s%v is %v", what, args, got)
		}
	}
	for _, a := range amounts {
		finite("Tobler", Tobler(a), a)
		finite("SweatSodium", SweatSodium(a), a)
		finite("ORSSodium", ORSSodium(a), a)
		finite("Fluid", Fluid(a, Hard).Litres, a)
		for _, day := range []int{-1e6, 0, 1, 80, 172, 355, 366, 1e6} {
			finite("Daylight", Daylight(a, day), a, float64(day))
		}
		finite("RestWater", RestWater(int64(a), true, ""), a)
		for _, b := range amounts {
			finite("Naismith", Naismith(a, b), a, b)
			celsius := min(1000, max(-100, a)) // the bounds of package unit
			finite("WBGT", WBGT(celsius, b), celsius, b)
			finite("HeatIndex", HeatIndex(a, b), a, b)
			finite("WindChill", WindChill(a, b), a, b)
			finite("Temperature", Temperature(a, celsius, b), a, celsius, b)
			for _, night := range []float64{-100, 0, 30, 1000} {
				finite("Humidity", Humidity(a, b, celsius, night), a, b, celsius, night)
			}
			for _, c := range amounts {
				finite("Speed", Speed(a, b, "sand", c), a, b, c)
				for _, d := range amounts {
					finite("Pandolf", Pandolf(a, b, 2.1, c, d), a, b, c, d)
					finite("Walk", Walk(a, b, 2.1, c, d), a, b, c, d)
				}
			}
		}
	}
}
