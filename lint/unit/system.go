package unit

import (
	"strings"
	"unicode"
)

// System is the units in which a household hears masses, volumes, lengths and temperatures. It changes no value and no verdict.
type System string

const (
	// Metric says grams, litres, metres and degrees Celsius.
	Metric System = "metric"
	// US says pounds or ounces, gallons or fluid ounces, miles, feet or inches, and degrees Fahrenheit, each with the metric figure in
	// parentheses.
	US System = "us"
)

// Customary reports whether a mass, written so that ParseMass reads it, is in ounces or pounds.
func Customary(s string) bool {
	for _, w := range strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) }) {
		switch w {
		case "oz", "ounce", "ounces", "lb", "lbs", "pound", "pounds":
			return true
		}
	}
	return false
}

// The ladders of US units. What is too small for them has the rung of the unit "", and is said in metric units alone. The lib of the rules
// says the same; TestRulesSayUSUnits in lint/judge holds both together. The pound is 0.45359237 kg, the mile 1609.344 m and the foot 0.3048 m: NIST SP 811
// (2008) App. B.8. The US gallon of 128 fluid ounces is 3.785411784 L: NIST Handbook 44 (2024) App. C.
var (
	usMass = []rung{
		{452_174_894, "lb", rat("453592370"), 1, false}, // rounded to a tenth of an ounce, that is 16
		{28_207_776, "oz", rat("453592370/16"), 1, false},
		{1_000_000, "oz", rat("453592370/16"), 2, false},
		{0, "", rat("1"), 0, false},
	}
	usVolume = []rung{
		{3_783_934, "gal", rat("3785411784/1000"), 2, false}, // rounded to a tenth of a fluid ounce, that is 128
		{1_479, "fl oz", rat("3785411784/128000"), 1, false},
		{0, "", rat("1"), 0, false},
	}
	usLength = []rung{
		{999_500_000, "mi", rat("1609344000"), 2, false},
		{304_800, "ft", rat("304800"), 1, false},
		{1_000, "in", rat("25400"), 1, false},
		{0, "", rat("1"), 0, false},
	}
)

// Mass says a mass: "20.8 lb (9.44 kg)", "8.5 oz (241 g)".
func (s System) Mass(m Mass) string { return s.both(int64(m), usMass, m.String()) }

// Volume says a volume: "1.06 gal (4 L)", "16.9 fl oz (500 ml)".
func (s System) Volume(v Volume) string { return s.both(int64(v), usVolume, v.String()) }

// Length says a distance or a height: "3.73 mi (6 km)", "738.2 ft (225 m)".
func (s System) Length(l Length) string { return s.both(int64(l), usLength, l.String()) }

// Temperature says a temperature, not a difference of two: "40 °F (4.4 °C)".
func (s System) Temperature(t Temperature) string {
	fahrenheit := []rung{{0, "°F", rat("5000"), 1, false}}
	return s.both(int64(t)*9+160_000, fahrenheit, t.String())
}

// both says an amount in the first units and then in metric ones.
func (s System) both(v int64, ladder []rung, metric string) string {
	if s != US {
		return metric
	}
	size := max(v, -v)
	for _, r := range ladder {
		if size >= int64(r.from) && r.unit != "" {
			return write(v, ladder) + " (" + metric + ")"
		}
	}
	return metric
}
