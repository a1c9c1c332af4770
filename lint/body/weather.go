package body

import "math"

// Fahrenheit is a temperature in °F: NIST SP 811 (2008) App. B.8, second-hand.
func Fahrenheit(celsius float64) float64 { return celsius*1.8 + 32 }

// fraction clamps a share to one whole.
func fraction(share float64) float64 { return min(1, max(0, share)) }

// saturation is the pressure of water vapour in saturated air, in hPa: the form that the
// Australian Bureau of Meteorology gives with its simple WBGT, second-hand. It
// is for weather; from -100 °C to 1000 °C it is finite.
func saturation(celsius float64) float64 {
	return 6.105 * math.Exp(17.27*celsius/(237.7+celsius))
}

// WBGT is the simple wet bulb globe temperature in °C from the air's temperature in °C and
// the relative humidity as a fraction, which is clamped to 0 to 1: 0.567 × t + 0.393 × vapour
// pressure in hPa + 3.94, Australian Bureau of Meteorology after the ACSM 1984, second-hand.
//
// It takes fairly strong sun and light wind for granted, so it reads high under cloud,
// in wind and at night. Another form (0.216 and 3.38, credited to Lemke & Kjellstrom 2012) answers
// 6.5 °C less at 30 °C and 80 %. The Bureau's is used: a public test of another program
// reproduces it, and where it errs, it errs towards more water and rest. It is meant
// for warm weather; in the cold it is carried on and says nothing.
func WBGT(celsius, humidity float64) float64 {
	return 0.567*celsius + 0.393*fraction(humidity)*saturation(celsius) + 3.94
}

// HeatIndex is how hot the air feels in the shade and in light wind, in °F, from its
// temperature in °F and the relative humidity as a fraction, which is clamped to 0
// to 1. Full sun can add 15 °F (second-hand).
//
// The method of the US National Weather Service (own page, wpc.ncep.noaa.gov): a simple form,
// averaged with the temperature, stands below 80 °F; above, Rothfusz's regression
// (NWS SR 90-23, 1990, after Steadman 1979) with its adjustments for dry and for damp
// air. The Service's chart leaves the adjustments out, so for air above 85 % at 80 to 87 °F this
// answers up to 2.1 °F more than the chart; the method is used, as it is what the Service's
// own calculator does. What lies beyond its chart is carried on and not to be trusted; see HeatIndexHolds.
func HeatIndex(fahrenheit, humidity float64) float64 {
	t, rh := fahrenheit, 100*fraction(humidity)
	simple := 0.5 * (t + 61 + (t-68)*1.2 + 0.094*rh)
	if mean := (simple + t) / 2; mean < 80 {
		return mean
	}
	index := rothfusz(t, rh)
	switch {
	case rh < 13 && t <= 112: // from 80 °F on, and air this dry never gets here below that
		index -= (13 - rh) / 4 * math.Sqrt((17-math.Abs(t-95))/17)
	case rh > 85 && t >= 80 && t <= 87:
		index += (rh - 85) / 10 * (87 - t) / 5
	}
	return index
}

// The Service's chart ends at 110 °F, and at less the damper the air: the highest of the 78 of its 135 cells that
// are at hand prints 136 °F.
const (
	chartAir   = 110
	chartIndex = 136
)

// HeatIndexHolds reports whether the heat index of air at a temperature in °F and a relative humidity as
// a fraction lies within the US National Weather Service's chart (own page, srh.noaa.gov). Beyond it no figure is
// worth printing: the regression answers 300 °F where nobody could live.
func HeatIndexHolds(fahrenheit, humidity float64) bool {
	return fahrenheit <= chartAir && math.Round(HeatIndex(fahrenheit, humidity)) <= chartIndex
}

// rothfusz is the bare regression, in °F and percent.
func rothfusz(t, rh float64) float64 {
	return -42.379 + 2.04901523*t + 10.14333127*rh - 0.22475541*t*rh - 0.00683783*t*t - 0.05481717*rh*rh +
		0.00122874*t*t*rh + 0.00085282*t*rh*rh - 0.00000199*t*t*rh*rh
}

// The wind chill holds up to a temperature in °C and above a wind in km/h: 50 °F and 3 mph.
const (
	chillC   = 10
	chillKMH = 4.828032
)

// WindChill is how cold the air feels on bare skin, in °C, from its temperature in °C and
// the wind in m/s: the metric form of the US National Weather Service of 2001, second-hand. It
// holds up to 10 °C and above 3 mph; outside, the air's own temperature is answered. It
// differs by up to 0.1 °F from the form in °F that the Service's own chart (own page,
// crh.noaa.gov) is made with, as both are printed with rounded figures.
func WindChill(celsius, wind float64) float64 {
	v := 3.6 * wind
	if celsius > chillC || v <= chillKMH {
		return celsius
	}
	p := math.Pow(v, 0.16)
	return 13.12 + 0.6215*celsius - 11.37*p + 0.3965*celsius*p
}

// The hours of local solar time at which the air is coldest and warmest. The low
// stands at the sunrise of a day of twelve hours.
const (
	coldest = 6
	warmest = 15
)

// Temperature is the air's temperature in °C at an hour of local solar time, from the
// day's high and the night's low: half a wave up from 06:00 to 15:00, half a wave
// down until the next 06:00; common practice, no source. Hours below 0 and from 24
// on belong to the days before and after. A night warmer than the day is followed as written.
func Temperature(hour, day, night float64) float64 {
	since := math.Mod(hour-coldest, 24)
	if since < 0 {
		since += 24
	}
	const rise = warmest - coldest
	phase := since / rise
	if since > rise {
		phase = 1 + (since-rise)/(24-rise)
	}
	return night + (day-night)*(1-math.Cos(math.Pi*phase))/2
}

// Humidity is the relative humidity at an hour, as a fraction, from the mean of the whole day
// and the temperatures that Temperature takes: the vapour in the air is what the
// mean humidity makes at the mean of day and night, and stays the same all day
// while the air around it warms and cools. Common practice, no source. The mean is
// clamped to 0 to 1, and so is the answer, since dew falls from colder air.
func Humidity(hour, mean, day, night float64) float64 {
	vapour := fraction(mean) * saturation((day+night)/2)
	return fraction(vapour / saturation(Temperature(hour, day, night)))
}
