package body

import "testing"

// Times from sunrise to sunset that someone published. All are read to the minute, so half a
// minute is theirs; the rest of each tolerance is the model's.
func TestDaylight(t *testing.T) {
	const (
		// A blog that quotes the US Naval Observatory's table for San Francisco:
		// coldcalculation.blogspot.com, 2007-03-06. Its latitude: whattime.city/san-francisco/sun.
		sanFrancisco = 37.77
		// Sunrise and sunset of 2000 from the Naval Observatory: wmueller.com/precalculus/funcdata/1_11.html.
		saintJohn = 45 + 19./60
		// Tables of the Finnish Meteorological Institute and, for Tokyo, of Japan's National Astronomical
		// Observatory, with the latitudes: blog.goo.ne.jp/supersalmiakki, 2009-07-20 and 2011-01-07.
		tokyo, helsinki, oulu, rovaniemi, sodankyla, utsjoki = 35 + 40./60, 60 + 10./60, 65., 66 + 33./60, 67 + 22./60, 69 + 45./60
		// A newspaper with its place's latitude: kinglakerangesnews.com, 2017-06-19.
		kinglake = -(37 + 32./60)
	)
	for _, c := range []struct {
		latitude       float64
		day            int
		hours, minutes float64
		tolerance      float64 // minutes
	}{
		{sanFrancisco, 64, 11, 31, 3},  // 5 March
		{sanFrancisco, 169, 14, 47, 1}, // 18 June, the first of seven alike
		{sanFrancisco, 172, 14, 47, 1}, // 21 June
		{sanFrancisco, 352, 9, 33, 1},  // 18 December, the first of eight alike
		{sanFrancisco, 359, 9, 33, 1},  // 25 December, the last
		{saintJohn, 1, 8, 48, 3},       // 1 January, 08:03 to 16:51
		{saintJohn, 32, 9, 45, 3},      // 1 February, 07:45 to 17:30
		{saintJohn, 61, 11, 10, 3},     // 1 March, 07:01 to 18:11
		{saintJohn, 92, 12, 49, 3},     // 1 April, 06:03 to 18:52
		{saintJohn, 122, 14, 18, 3},    // 1 May, 05:12 to 19:30
		{saintJohn, 153, 15, 26, 3},    // 1 June, 04:39 to 20:05
		{saintJohn, 183, 15, 35, 3},    // 1 July, 04:40 to 20:15
		{saintJohn, 214, 14, 43, 3},    // 1 August, 05:08 to 19:51
		{saintJohn, 245, 13, 14, 3},    // 1 September, 05:46 to 19:00
		{saintJohn, 275, 11, 41, 3},    // 1 October, 06:22 to 18:03
		{saintJohn, 306, 10, 7, 3},     // 1 November, 07:03 to 17:10
		{saintJohn, 336, 8, 59, 3},     // 1 December, 07:43 to 16:42
		{tokyo, 201, 14, 15, 2},        // 20 July
		{tokyo, 7, 9, 52, 2},           // 7 January
		{kinglake, 172, 9, 34, 2},      // 21 June, the southern winter
		{helsinki, 201, 17, 47, 5},     // 20 July
		{helsinki, 7, 6, 13, 5},        // 7 January
		{oulu, 201, 19, 40, 8},         // the nearer the polar day, the longer a small height of the sun lasts
		{oulu, 7, 4, 17, 8},
		{rovaniemi, 201, 20, 37, 15},
		{rovaniemi, 7, 3, 19, 15},
		{sodankyla, 201, 21, 10, 30},
		{sodankyla, 7, 2, 26, 30},
		{utsjoki, 201, 24, 0, 0}, // no sunset
		{utsjoki, 7, 0, 0, 0},    // no sunrise
	} {
		within(t, "the daylight", 60*Daylight(c.latitude, c.day), 60*c.hours+c.minutes, c.tolerance)
	}
}

func TestDaylightAtTheEdges(t *testing.T) {
	for day := 1; day <= 366; day++ {
		// At the equator the sun crosses the horizon steeply: all days are as long, but for
		// twice 0.8333° at 15° an hour, and for a slant of up to 23.45°, worked out by hand.
		if h := Daylight(0, day); h < 12+2*0.8333/15 || h > 12+2*0.8333/15/0.917 {
			t.Errorf("day %d at the equator has %v hours", day, h)
		}
		// Beyond the pole there is only the pole.
		within(t, "beyond the pole", Daylight(91, day), Daylight(90, day), 0)
		within(t, "beyond the other pole", Daylight(-1e6, day), Daylight(-90, day), 0)
	}
	for _, c := range []struct {
		latitude float64
		day      int
		hours    float64
	}{
		{90, 172, 24}, {90, 355, 0}, {-90, 172, 0}, {-90, 355, 24}, // midsummer and midwinter at the poles
	} {
		within(t, "the daylight at a pole", Daylight(c.latitude, c.day), c.hours, 0)
	}
	// A day on one side of the equator and the night of the same day on the other make 24 h,
	// but for the 0.8333°, which lengthen both.
	for _, latitude := range []float64{10, 30, 50} {
		both := Daylight(latitude, 100) + Daylight(-latitude, 100)
		if both < 24+2*2*0.8333/15 || both > 24.5 {
			t.Errorf("at %v north and south: %v hours together", latitude, both)
		}
	}
}
