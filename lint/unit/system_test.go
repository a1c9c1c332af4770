package unit

import (
	"math"
	"testing"
)

// US units stand first, and the metric ones in parentheses; what is too small for them is in metric ones alone. A pound is 0.45359237 kg, a gallon
// 3.785411784 L, a mile 1609.344 m.
func TestSystems(t *testing.T) {
	for _, r := range []struct{ got, want, reason string }{
		{US.Mass(14_270_000_000), "31.5 lb (14.27 kg)", "pounds"},
		{US.Mass(452_174_894), "1 lb (452 g)", "never 16 oz: from 15.95 oz"},
		{US.Mass(452_174_893), "15.9 oz (452 g)", "ounces below a pound"},
		{US.Mass(28_207_775), "0.99 oz (28 g)", "hundredths below an ounce"},
		{US.Mass(1_000_000), "0.04 oz (1.0 g)", "the least in ounces"},
		{US.Mass(999_999), "1.0 g", "too little for ounces"},
		{US.Mass(0), "0 g", "zero"},
		{US.Mass(-850_000_000), "-1.9 lb (-850 g)", "a difference can be negative"},
		{US.Mass(math.MinInt64), "-9223372036.85 kg", "the lowest integer has no positive one"},
		{US.Volume(4_000_000), "1.06 gal (4 L)", "gallons"},
		{US.Volume(3_783_934), "1 gal (3.78 L)", "never 128 fl oz: from 127.95"},
		{US.Volume(3_783_933), "127.9 fl oz (3.78 L)", "fluid ounces below a gallon"},
		{US.Volume(1_479), "0.1 fl oz (1.5 ml)", "the least in fluid ounces"},
		{US.Volume(1_478), "1.5 ml", "too little for fluid ounces"},
		{US.Length(6_000_000_000), "3.73 mi (6 km)", "miles from 1 km on"},
		{US.Length(225_000_000), "738.2 ft (225 m)", "feet below"},
		{US.Length(304_799), "12 in (30.5 cm)", "inches below a foot"},
		{US.Length(999), "0.999 mm", "too little for inches"},
		{US.Temperature(4_444), "40 °F (4.4 °C)", "to a tenth of a degree"},
		{US.Temperature(-40_000), "-40 °F (-40 °C)", "where both are one"},
		{US.Temperature(-17_795), "0 °F (-17.8 °C)", "no zero below zero"},
		{Metric.Mass(14_270_000_000), "14.27 kg", "metric ones alone"},
		{System("").Temperature(4_444), "4.4 °C", "nothing said is metric"},
	} {
		if r.got != r.want {
			t.Errorf("got %q, want %q: %s", r.got, r.want, r.reason)
		}
	}
}

func TestCustomary(t *testing.T) {
	for text, want := range map[string]bool{
		"28.5 oz": true, "28.5oz": true, "1 lb 4 oz": true, "3 LBS": true, "1 pound": true, "½ ounce": true, "850 g": false, "1.2 kg": false, "2 pouches": false,
	} {
		if got := Customary(text); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}
