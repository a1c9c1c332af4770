package forecast

import (
	"strconv"
	"testing"
)

// household is 72 hours of four people and a dog: 25 foods, six vessels, three legs, two sources.
func household() *Input {
	child := Body{ID: "cy", Walks: true, CarriesPack: true, Mass: 35, Load: 4, RestJ: 5_400_000, DrinkML: 2400, SodiumMG: 1200}
	in := &Input{
		Minutes: 3 * day, Start: 480, Weather: &Weather{Day: 31, Night: 17, Humidity: 0.6, Wind: 2, Daylight: 15 * 60},
		Legs: []Leg{
			{ID: "one", Distance: 12_000, Climb: 300, Descent: 100, Ground: "dirt"}, {ID: "two", Distance: 15_000, Climb: 200, Descent: 500, Ground: "grass"},
			{ID: "three", Distance: 9000, Descent: 100},
		},
		Sources: []Source{{ID: "brook", Leg: 0, Along: 12_000, ML: NoEnd}, {ID: "pool", Leg: 1, Along: 7000, ML: 20_000, Turbid: true}},
		Bodies:  []Body{grown(14), grown(12), child, child, {ID: "dog", Animal: true, Walks: true, CarriesPack: true, Mass: 20, Load: 3, RestJ: 4_000_000, DrinkML: 1000, Eats: Own}},
		Treatments: []Treatment{
			{ID: "filter", ML: 100_000, PerHour: 30_000, Clears: [Classes]bool{true, false, true, true}, Filters: true}, {ID: "drops", ML: 30_000, WaitMin: 30, Clears: [Classes]bool{true, true, true, false}},
		},
		Medications: []Medication{{ID: "m", PerDay: 2000, Have: 14_000}},
		Lamps:       Lamps{Minutes: 3000},
		FuelML:      9000, BoilTreats: true,
	}
	for i := range 25 {
		f := Food{ID: "food" + strconv.Itoa(i), Carrier: i % 5, For: Everybody, EnergyJ: 1_500_000, SodiumMG: 600, NetMG: 100_000, Cook: i%3 == 0, Until: int64(i % 4)}
		if f.Carrier == 4 {
			f.For = 4
		}
		if f.Cook {
			f.CookML = 300
		}
		in.Foods = append(in.Foods, f)
	}
	for i := range 6 {
		in.Vessels = append(in.Vessels, Vessel{ID: "v" + strconv.Itoa(i), Carrier: i % 4, WaterML: 1000, CapacityML: 1500})
	}
	return in
}

// Three milliseconds are the most that a forecast may take of a check.
func BenchmarkForecast(b *testing.B) {
	in := household()
	for b.Loop() {
		Of(in)
	}
}
