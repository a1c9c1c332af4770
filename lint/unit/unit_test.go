package unit

import (
	"errors"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// A row is one text with the count of base units it must read as.
type row struct {
	in     string
	want   int64
	reason string
}

func check[T ~int64](t *testing.T, parse func(string) (T, error), rows []row) {
	t.Helper()
	for _, r := range rows {
		got, err := parse(r.in)
		if err != nil {
			t.Errorf("%q: %v (%s)", r.in, err, r.reason)
			continue
		}
		if int64(got) != r.want {
			t.Errorf("%q = %d, want %d (%s)", r.in, got, r.want, r.reason)
		}
	}
}

func TestParseMass(t *testing.T) {
	check(t, ParseMass, []row{
		{"1 lb", 453_592_370, "NIST SP 811 (2008), footnote 22: 0.45359237 kg, exact"},
		{"16 oz", 453_592_370, "the ounce is a sixteenth of the pound, derived"},
		{"1 oz", 28_349_523, "28.349523125 g, derived; SP 811 prints it rounded"},
		{"28.5 oz", 807_961_409, "807.9614090625 g, rounded once"},
		{"1 lb 4 oz", 566_990_463, "566990462.5 µg: summed first, then half away from zero"},
		{"1lb4oz", 566_990_463, "spaces may be left out"},
		{"28.5oz", 807_961_409, "space may be left out"},
		{"850 g", 850_000_000, "SI prefix"},
		{"0.85 kg", 850_000_000, "SI prefix"},
		{"500 mg", 500_000, "SI prefix"},
		{"250 µg", 250, "micro sign, U+00B5"},
		{"250 \u03bcg", 250, "Greek mu, U+03BC"},
		{"250 mcg", 250, "as medicine labels write it"},
		{"850\u00a0g", 850_000_000, "no-break space"},
		{"850\u202fg", 850_000_000, "narrow no-break space"},
		{"  850 g\t", 850_000_000, "spaces around"},
		{"3 Pounds", 1_360_777_110, "words in any case"},
		{"2 LBS", 907_184_740, "customary symbols in any case"},
		{"12 grams", 12_000_000, "word"},
		{"½ lb", 226_796_185, "one-character fraction"},
		{"1½ lb", 680_388_555, "mixed, without space"},
		{"1 ½ lb", 680_388_555, "mixed, with space"},
		{"1 1/2 lb", 680_388_555, "mixed, with stroke"},
		{"1 1⁄2 lb", 680_388_555, "mixed, with U+2044"},
		{"3/4 lb", 340_194_278, "340194277.5 µg, half away from zero"},
		{"1/3 g", 333_333, "a third is exact until it is rounded"},
		{"2/3 g", 666_667, "rounded, not cut off"},
		{"1.000 g", 1_000_000, "a point is always a decimal point"},
		{"1 lb 1 1/2 oz", 496_116_655, "453592370 + 42524284.6875, rounded once"},
		{"0 g", 0, "zero is an amount"},
		{"1000 kg", int64(MaxMass), "the bound itself is inside"},
		{"1.00000000000000000000000 g", 1_000_000, "24 significant digits are read"},
		{"0000000000000000000000000850 g", 850_000_000, "leading zeros are not significant"},
	})
}

// The values are the numbers that the characters are named for in Unicode.
func TestParseFractionCharacters(t *testing.T) {
	for _, r := range []struct{ char, text string }{
		{"¼", "1/4"}, {"½", "1/2"}, {"¾", "3/4"}, {"⅐", "1/7"}, {"⅑", "1/9"}, {"⅒", "1/10"},
		{"⅓", "1/3"}, {"⅔", "2/3"}, {"⅕", "1/5"}, {"⅖", "2/5"}, {"⅗", "3/5"}, {"⅘", "4/5"},
		{"⅙", "1/6"}, {"⅚", "5/6"}, {"⅛", "1/8"}, {"⅜", "3/8"}, {"⅝", "5/8"}, {"⅞", "7/8"},
	} {
		got, err := ParseMass("2" + r.char + " lb")
		want, err2 := ParseMass("2 " + r.text + " lb")
		if err != nil || err2 != nil || got != want {
			t.Errorf("%s = %d (%v), want %s = %d (%v)", r.char, got, err, r.text, want, err2)
		}
	}
}

func TestParseVolume(t *testing.T) {
	check(t, ParseVolume, []row{
		{"1 gal", 3_785_412, "231 cubic inches, 3.785411784 L: NIST Handbook 44 (2024), App. C, seen in a copy"},
		{"1000 gal", 3_785_411_784, "the same, to the last digit"},
		{"1000 qt", 946_352_946, "0.946352946 L: Handbook 44 (2024), App. C, seen in a copy"},
		{"1000 pt", 473_176_473, "0.473176473 L: Handbook 44 (2024), App. C, seen in a copy"},
		{"1 fl oz", 29_574, "29.5735295625 mL, gallon / 128"},
		{"128 US fl oz", 3_785_412, "a gallon"},
		{"1 cup", 236_588, "236.5882365 mL, 8 fl oz"},
		{"16 cups", 3_785_412, "a gallon"},
		{"1 tbsp", 14_787, "14.78676478125 mL"},
		{"1 tsp", 4_929, "4.92892159375 mL"},
		{"3 tsp", 14_787, "a tablespoon"},
		{"1 imp gal", 4_546_090, "4.54609 L: NIST SP 811 (2008), App. B.8, seen in a copy"},
		{"8 imp pt", 4_546_090, "a gallon"},
		{"4 Imperial Quarts", 4_546_090, "a gallon"},
		{"160 imp fl oz", 4_546_090, "a gallon"},
		{"½ gal", 1_892_706, "1892705.892 µl"},
		{"1 gal 2 qt", 5_678_118, "5678117.676 µl: rounded after the sum"},
		{"3 L", 3_000_000, "capital"},
		{"3 l", 3_000_000, "small"},
		{"750 ml", 750_000, "small"},
		{"750 mL", 750_000, "capital"},
		{"75 cl", 750_000, "centilitre"},
		{"7.5 dl", 750_000, "decilitre"},
		{"8 fl. oz.", 236_588, "as labels write it"},
	})
}

func TestParseLength(t *testing.T) {
	check(t, ParseLength, []row{
		{"1 in", 25_400, "25.4 mm: NIST SP 811 (2008), App. B.8, seen in a copy"},
		{"1 ft", 304_800, "0.3048 m: SP 811, App. B.8, seen in a copy"},
		{"1 yd", 914_400, "0.9144 m: SP 811, App. B.8, seen in a copy"},
		{"1 mi", 1_609_344_000, "1609.344 m: SP 811, App. B.8, seen in a copy"},
		{"5280 feet", 1_609_344_000, "a mile"},
		{"5 ft 11 in", 1_803_400, "71 inches"},
		{`5'11"`, 1_803_400, "typewriter marks"},
		{"5′ 11″", 1_803_400, "prime marks"},
		{"180 cm", 1_800_000, "SI prefix"},
		{"6.5 km", 6_500_000_000, "SI prefix"},
		{"5 mm", 5_000, "SI prefix"},
	})
}

func TestParseTemperature(t *testing.T) {
	check(t, ParseTemperature, []row{
		{"-40 °F", -40_000, "the scales meet: NIST SP 811 (2008), App. B.8, formula"},
		{"32 °F", 0, "SP 811, formula"},
		{"77 °F", 25_000, "SP 811, formula; 298.15 K seen"},
		{"298.15 K", 25_000, "SP 811, formula"},
		{"98.6 °F", 37_000, "SP 811, formula"},
		{"212 °F", 100_000, "SP 811, formula"},
		{"62 °F", 16_667, "16.666… rounded"},
		{"-5 °C", -5_000, "hyphen"},
		{"\u22125 °C", -5_000, "minus sign, U+2212"},
		{"- 5 °C", -5_000, "minus with a space"},
		{"62F", 16_667, "bare letter"},
		{"21 º C", 21_000, "ordinal mark in place of the degree sign"},
		{"21 degrees Celsius", 21_000, "words"},
		{"-1 1/2 °C", -1_500, "the sign covers the fraction"},
		{"-0.0005 °C", -1, "half away from zero below zero too"},
		{"-148 °F", -100_000, "the lower bound itself is inside"},
	})
}

func TestParseOthers(t *testing.T) {
	check(t, ParseEnergy, []row{
		{"1 kcal", 4_184, "thermochemical, 4.184 kJ: NIST SP 811 (2008), App. B.8, seen in a copy"},
		{"250 Cal", 1_046_000, "the capital of food labels is kcal"},
		{"1 kWh", 3_600_000, "1000 W for 3600 s"},
		{"37 Wh", 133_200, "a watt-hour is 3600 J"},
		{"1000 mWh", 3_600, "a watt-hour"},
		{"2 MJ", 2_000_000, "SI prefix"},
		{"1000 MJ", 1_000_000_000, "the bound itself is inside"},
	})
	check(t, ParseCharge, []row{
		{"2500 mAh", 2_500_000, "SI prefix"},
		{"2.5 Ah", 2_500_000, "SI prefix"},
	})
	check(t, ParseDuration, []row{
		{"72 h", 259_200, "hours"},
		{"1 h 30 min", 5_400, "compound"},
		{"2 weeks", 1_209_600, "14 days"},
		{"1 y", 31_556_952, "365.2425 days of 86400 s"},
		{"12 months", 31_556_952, "a year"},
		{"400 months", 1_051_898_400, "no drift"},
		{"8 months", 21_037_968, "8 times 2629746 s"},
		{"2 y 6 months", 78_892_380, "compound of an age"},
		{"1.5 min", 90, "decimal"},
	})
	check(t, ParseShare, []row{
		{"15 %", 150_000, "percent"},
		{"150 ‰", 150_000, "per mille"},
		{"15%", 150_000, "without space"},
		{"1/3 %", 3_333, "rounded once"},
	})
	check(t, ParseCount, []row{
		{"2", 2_000, "whole"},
		{"0.5", 500, "decimal"},
		{"1/2", 500, "fraction"},
		{"½", 500, "one-character fraction"},
		{"2 1/2", 2_500, "mixed"},
		{"1/3", 333, "kept to the thousandth"},
	})
	check(t, ParsePace, []row{
		{"12 min/km", 720, "as it stands"},
		{"5 km/h", 720, "3600 s / 5"},
		{"5 km per h", 720, "in words"},
		{"12 min 30 s / km", 750, "compound time"},
		{"20 min/mi", 746, "1200 s / 1.609344 = 745.6"},
		{"3 mph", 746, "a mile in 20 min, as above"},
		{"3 mi/h", 746, "the same"},
		{"1/2 km/h", 7_200, "a fraction has a stroke too"},
		{"2.5 kph", 1_440, "3600 s / 2.5"},
		{"1 m/s", 1_000, "SI"},
		{"24 h/km", 86_400, "the bound itself is inside"},
	})
	check(t, ParseSpeed, []row{
		{"18 km/h", 5_000, "18000 m / 3600 s"},
		{"18 kph", 5_000, "the same"},
		{"18 km per hour", 5_000, "in words"},
		{"5 m/s", 5_000, "SI"},
		{"10 mph", 4_470, "4.4704 m/s: the mile of SP 811 in 3600 s"},
		{"1/2 m/s", 500, "a fraction has a stroke too"},
		{"0 km/h", 0, "calm"},
		{"216 km/h", int64(MaxSpeed), "the bound itself is inside"},
	})
	check(t, ParsePower, []row{
		{"40 W", 40_000, "SI"},
		{"0.5 kW", 500_000, "SI"},
		{"250 mW", 250, "SI"},
		{"60 watts", 60_000, "in words"},
		{"10 kW", int64(MaxPower), "the bound itself is inside"},
	})
	check(t, ParseClock, []row{
		{"00:00", 0, "midnight"},
		{"18:00", 1_080, "as it stands"},
		{"6:05", 365, "one digit of hour"},
		{"23:59", 1_439, "the last minute"},
		{"6:30 pm", 1_110, "half of the day"},
		{"6 PM", 1_080, "an hour alone, in capitals"},
		{"6 a.m.", 360, "with points"},
		{"12 am", 0, "midnight is 12 am"},
		{"12:15pm", 735, "noon is 12 pm"},
		{" 18:00 ", 1_080, "spaces around"},
	})
	check(t, ParseLatitude, []row{
		{"47.5 N", 47_500, "north"},
		{"33.9 S", -33_900, "south"},
		{"33.9°s", -33_900, "degree sign, small letter"},
		{"47 1/2 deg north", 47_500, "fraction and words"},
		{"47.12345 N", 47_123, "to the thousandth"},
		{"0 S", 0, "the equator"},
		{"90 N", int64(MaxLatitude), "the pole"},
		{"90 degrees South", -int64(MaxLatitude), "the other pole"},
	})
	check(t, ParseDate, []row{
		{"1970-01-01", 0, "the first day counted from"},
		{"1969-12-31", -1, "before it"},
		{"2000-02-29", 11_016, "a leap year of a full century; 10957 days to 2000-01-01, then 59"},
		{"2027-03-01", 20_878, "57 years with 14 leap days, then 59 days"},
		{" 2027-03-01 ", 20_878, "spaces around"},
	})
}

// refused is one text that must be refused: the part that is wrong and the
// whole message.
type refused struct {
	in, part, msg, reason string
}

func checkRefused[T ~int64](t *testing.T, parse func(string) (T, error), rows []refused) {
	t.Helper()
	for _, r := range rows {
		v, err := parse(r.in)
		if err == nil {
			t.Errorf("%q = %d, want an error (%s)", r.in, v, r.reason)
			continue
		}
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q: %T is not *Error", r.in, err)
			continue
		}
		want := Error{Offset: strings.Index(r.in, r.part), Len: len(r.part), Msg: r.msg, Bare: strings.HasPrefix(r.msg, "no unit after ") && !strings.Contains(r.msg, "stroke")}
		for _, o := range e.Offers {
			if !strings.Contains(e.Msg, quote(o)) {
				t.Errorf("%q offers %q, and does not say so: %s", r.in, o, e.Msg)
			}
		}
		e.Offers, e.Near, e.Noun, e.Units = nil, "", "", "" // see TestOffers
		if diff := cmp.Diff(want, *e); diff != "" || v != 0 {
			t.Errorf("%q (%s), value %d: -want +got\n%s", r.in, r.reason, v, diff)
		}
	}
}

// TestOffers wants what other code takes from an error, so that none reads its text.
func TestOffers(t *testing.T) {
	for _, r := range []struct {
		in    string
		parse func(string) error
		want  Error
	}{
		{"", parsing(ParseMass), Error{Noun: "a mass"}},
		{"28.5", parsing(ParseMass), Error{Bare: true, Offers: []string{"28.5 g"}, Noun: "a mass", Units: "g, kg, oz or lb"}},
		{"28.5 ounzes", parsing(ParseMass), Error{Offers: []string{"28.5 oz"}, Near: "oz"}},
		{"1,000 g", parsing(ParseMass), Error{Offers: []string{"1000 g", "1.000 g"}}},
		{"850 g (dry)", parsing(ParseMass), Error{Offers: []string{"850 g"}}},
		{"1.5 lb 4 oz", parsing(ParseMass), Error{}},
		{"", parsing(ParseDate), Error{Noun: "a date"}},
		{"31/12/2026", parsing(ParseDate), Error{Offers: []string{"2026-12-31"}}},
		{"3/4/2026", parsing(ParseDate), Error{Offers: []string{"2026-04-03", "2026-03-04"}}},
		{"99/99/2026", parsing(ParseDate), Error{}},
		{"2", parsing(ParseClock), Error{Offers: []string{"02:00", "14:00"}}},
		{"47.5", parsing(ParseLatitude), Error{Offers: []string{"47.5 N", "47.5 S"}}},
	} {
		var e *Error
		if !errors.As(r.parse(r.in), &e) {
			t.Errorf("%q is no fault", r.in)
			continue
		}
		got := Error{Bare: e.Bare, Offers: e.Offers, Near: e.Near, Noun: e.Noun, Units: e.Units}
		if diff := cmp.Diff(r.want, got); diff != "" {
			t.Errorf("%q: -want +got\n%s", r.in, diff)
		}
	}
}

func parsing[T any](parse func(string) (T, error)) func(string) error {
	return func(s string) error { _, err := parse(s); return err }
}

func TestRefusedMass(t *testing.T) {
	checkRefused(t, ParseMass, []refused{
		{"", "", `nothing is written here: write a mass, such as "28.5 g"`, "empty"},
		{" \t", " \t", `nothing is written here: write a mass, such as "28.5 g"`, "only spaces"},
		{"28.5", "28.5", `no unit after 28.5: write g, kg, oz or lb, such as "28.5 g"`, "bare number"},
		{"1 lb 4", "4", `no unit after 4: write g, kg, oz or lb, such as "1 lb 4 oz"`, "bare second number"},
		{"0,85 kg", ",", `a comma in "0,85": write a decimal point, "0.85 kg"`, "decimal comma"},
		{"1,000 g", ",", `a comma in "1,000": write "1000 g" where it parts the thousands, "1.000 g" where it is a decimal comma`, "either reading"},
		{"1,000,000 g", ",", `a comma in "1,000,000": write the number without separators of thousands, and with a decimal point`, "thousands twice"},
		{"1.000,5 g", ",", `a comma in "1.000,5": write the number without separators of thousands, and with a decimal point`, "both marks"},
		{"1 000 g", " ", `a separator in "1 000": write the number without it, "1000 g"`, "space as separator"},
		{"1\u202f000 g", "\u202f", `a separator in "1 000": write the number without it, "1000 g"`, "narrow space as separator"},
		{"1'000 g", "'", `a separator in "1'000": write the number without it, "1000 g"`, "apostrophe as separator"},
		{"5 6 lb", "5 6", `two numbers without a unit between them in "5 6": write a unit after each`, "two numbers"},
		{"28.5 ounzes", "ounzes", `"ounzes" is not a unit of mass; did you mean oz? Write g, kg, oz or lb, such as "28.5 oz"`, "misspelt"},
		{"3 Kg", "Kg", `"Kg" is not a unit of mass; did you mean kg? Write g, kg, oz or lb, such as "3 kg"`, "case of an SI symbol"},
		{"5 blobs", "blobs", `"blobs" is not a unit of mass: write g, kg, oz or lb, such as "5 g"`, "nothing near"},
		{"3 L", "L", `"L" is a unit of volume: write a mass in g, kg, oz or lb`, "another quantity"},
		{"3 gr", "gr", `"gr" can be read as gram or as grain: write g`, "two readings"},
		{"850 g (dry)", "(dry)", `"(dry)" after the unit is not understood: write only the number and the unit, "850 g"`, "a remark"},
		{"-5 g", "-5", `"-5 g" is negative, and a mass cannot be: write it without the minus sign, "5 g"`, "negative"},
		{"1 lb -4 oz", "-4", `"-4 oz" is negative, and a mass cannot be: write it without the minus sign, "4 oz"`, "negative part"},
		{"+5 g", "+", `a plus sign before the number: write the number without it`, "plus"},
		{"~850 g", "~", `"~" before a number: write the number alone, "850 g", and estimated: true`, "estimate"},
		{"ca. 850 g", "ca.", `"ca." before a number: write the number alone, "850 g", and estimated: true`, "estimate"},
		{"About 850 g", "About", `"About" before a number: write the number alone, "850 g", and estimated: true`, "estimate"},
		{"5-6 kg", "-", `a range is not one number: write one number, such as "6 kg", and estimated: true`, "range"},
		{"5 to 6 kg", "to", `a range is not one number: write one number, such as "6 kg", and estimated: true`, "range in words"},
		{"2 x 500 g", "x", `a product is not one number: write how much it comes to, or the mass of one, "500 g", with count beside it`, "product"},
		{"1e3 g", "1e3", `a power of ten in "1e3": write the number out in digits`, "exponent"},
		{"1E-3 g", "1E-3", `a power of ten in "1E-3": write the number out in digits`, "exponent"},
		{"NaN kg", "NaN", `"NaN" is not a number that can be measured: write the number in digits, or leave the field out`, "no number"},
		{"Inf kg", "Inf", `"Inf" is not a number that can be measured: write the number in digits, or leave the field out`, "no number"},
		{"two kg", "two kg", `no number before "two kg": begin with digits, such as "28.5 g"`, "a word"},
		{".5 kg", ".5", `no digit before the decimal point in ".5": write "0.5"`, "a point that is easily overlooked"},
		{"5. kg", ".", `no digit after the decimal point in "5.": write "5"`, "a point at the end"},
		{"1/0 kg", "1/0", `"1/0" divides by zero`, "no value"},
		{"1 3/2 kg", "3/2", `"3/2" after a whole number is one or more: write a fraction below one, such as "1 1/2"`, "not a mixed number"},
		{"½½ kg", "½½", `"½½" is not one number: write it with a decimal point, such as "1.5"`, "two fractions"},
		{"٣ kg", "٣", `"٣" is not read as a digit: write the digits 0 to 9`, "digits of another script"},
		{"1.5 lb 4 oz", "1.5 lb", `"1.5 lb" before a smaller unit is not whole: write one unit alone, or a whole number of lb`, "probably a slip"},
		{"4 oz 1 lb", "1 lb", `"1 lb" after oz: write the larger unit first and each unit once`, "order"},
		{"1 lb 16 oz", "16 oz", `"16 oz" is as much as 1 lb or more: write one unit alone, or less than 1 lb here`, "probably a slip"},
		{"1000.1 kg", "1000.1 kg", `"1000.1 kg" is more than 1000 kg, the most that is read for a mass: look for a slip in the number or the unit`, "bound"},
		{"99999999999999999999 kg", "99999999999999999999 kg", `"99999999999999999999 kg" is more than 1000 kg, the most that is read for a mass: look for a slip in the number or the unit`, "more than 64 bits"},
		{"0.1 µg", "0.1 µg", `"0.1 µg" is too small to be kept: write 0, or look for a slip in the number or the unit`, "would become zero"},
		{"1.000000000000000000000001 g", "1.000000000000000000000001", `25 digits are more than the 24 that are read: round the number`, "digits"},
		{"5 g\xff", "\xff", `a character that is not UTF-8 text: write a mass, such as "28.5 g"`, "broken text"},
		{strings.Repeat("1", 101), strings.Repeat("1", 100), `this is longer than 100 bytes: write only a mass, such as "28.5 g"`, "length"},
	})
}

func TestRefusedOthers(t *testing.T) {
	checkRefused(t, ParseVolume, []refused{
		{"1 gal 2", "2", `no unit after 2: write ml, L, fl oz, cup, pt, qt or gal, such as "1 gal 2 qt"`, "quarts left out"},
		{"8 oz", "oz", `"oz" is a unit of mass: for a volume write fl oz`, "ounces of water"},
		{"1 UK pint", "UK pint", `"UK pint" is not read: write imp pt for the imperial pint`, "imperial only by its name"},
		{"10001 L", "10001 L", `"10001 L" is more than 10000 L, the most that is read for a volume: look for a slip in the number or the unit`, "bound"},
	})
	checkRefused(t, ParseLength, []refused{
		{"5'11", "11", `no unit after 11: write mm, cm, m, km, in, ft, yd or mi, such as "5' 11 in"`, "inches left out"},
		{"5 ft 12 in", "12 in", `"12 in" is as much as 1 ft or more: write one unit alone, or less than 1 ft here`, "a foot of inches"},
		{"5 ft 1/0 in", "1/0", `"1/0" divides by zero`, "no value"},
		{"5 ft 1 1/0 in", "1 1/0", `"1 1/0" divides by zero`, "no value in a mixed number"},
		{"1001 km", "1001 km", `"1001 km" is more than 1000 km, the most that is read for a length: look for a slip in the number or the unit`, "bound"},
	})
	checkRefused(t, ParseTemperature, []refused{
		{"-459.68 °F", "-459.68 °F", `"-459.68 °F" is below absolute zero, -273.15 °C: look for a slip in the number or the unit`, "below -459.67 °F"},
		{"-459.67 °F", "-459.67 °F", `"-459.67 °F" is less than -100 °C, the least that is read for a temperature: look for a slip in the number or the unit`, "absolute zero itself is only out of bounds"},
		{"1001 °C", "1001 °C", `"1001 °C" is more than 1000 °C, the most that is read for a temperature: look for a slip in the number or the unit`, "bound"},
		{"–5 °C", "–", `a dash before the number: for a minus sign write -`, "en dash"},
		{"5 °C 3 K", "3 K", `"3 K" after "5 °C": write a temperature as one number and one unit`, "temperatures do not add"},
		{"290 °K", "°K", `"°K" is not read, as the kelvin has no degree sign: write K`, "degree sign"},
		{"62", "62", `no unit after 62: write °C, °F or K, such as "62 °C"`, "bare"},
	})
	checkRefused(t, ParseEnergy, []refused{
		{"250 cal", "cal", `"cal" can be read as cal or as kcal: food labels mean kcal`, "some labels print cal and mean kcal"},
		{"2000 calories", "calories", `"calories" can be read as cal or as kcal: food labels mean kcal`, "a factor of 1000"},
		{"5 Ah", "Ah", `"Ah" is a unit of charge: write an energy in kcal, kJ or Wh`, "needs a voltage"},
		{"1001 MJ", "1001 MJ", `"1001 MJ" is more than 1 GJ, the most that is read for an energy: look for a slip in the number or the unit`, "bound"},
	})
	checkRefused(t, ParseCharge, []refused{
		{"37 Wh", "Wh", `"Wh" is a unit of energy: write a charge in mAh or Ah`, "another quantity"},
		{"10001 Ah", "10001 Ah", `"10001 Ah" is more than 10000 Ah, the most that is read for a charge: look for a slip in the number or the unit`, "bound"},
	})
	checkRefused(t, ParseDuration, []refused{
		{"1 h 30", "30", `no unit after 30: write s, min, h, d, weeks, months or y, such as "1 h 30 min"`, "minutes left out"},
		{"3 y 6", "6", `no unit after 6: write s, min, h, d, weeks, months or y, such as "3 y 6 months"`, "months left out"},
		{"5 m", "m", `"m" is a unit of length: for minutes write min`, "metres or minutes"},
		{"1:30", ":", `a colon in "1:30": write the units, such as "1 h 30 min" or "12 min 30 s"`, "hours or minutes"},
		{"201 y", "201 y", `"201 y" is more than 200 y, the most that is read for a duration: look for a slip in the number or the unit`, "bound"},
	})
	checkRefused(t, ParseShare, []refused{
		{"0.15", "0.15", `no unit after 0.15: write % or ‰, such as "15 %"`, "a share of one"},
		{"15", "15", `no unit after 15: write % or ‰, such as "15 %"`, "bare"},
		{"1001 %", "1001 %", `"1001 %" is more than 1000 %, the most that is read for a share: look for a slip in the number or the unit`, "bound"},
	})
	checkRefused(t, ParseCount, []refused{
		{"2\x00", "\x00", `"U+0000" after the number: a count has no unit, write "2"`, "a character that cannot be shown"},
		{"2 pcs", "pcs", `"pcs" after the number: a count has no unit, write "2"`, "no unit"},
		{"1,5", ",", `a comma in "1,5": write a decimal point, "1.5"`, "decimal comma"},
		{"-1", "-1", `"-1" is negative, and a count cannot be: write it without the minus sign, "1"`, "negative"},
		{"1000001", "1000001", `"1000001" is more than 1000000, the most that is read for a count: look for a slip in the number or the unit`, "bound"},
	})
	checkRefused(t, ParsePace, []refused{
		{"", "", `nothing is written here: write a pace, such as "12 min/km", or a speed, such as "5 km/h"`, "empty"},
		{"12 min", "12 min", `"12 min" is not a pace: write a time for a distance, such as "12 min/km", or a speed, such as "5 km/h"`, "no distance"},
		{"12", "12", `no unit after 12: write km/h, m/s or mph, such as "12 km/h"`, "bare"},
		{"5 km/", "/", `no unit after the stroke: write a pace such as "12 min/km", or a speed, such as "5 km/h"`, "half"},
		{"/km", "/km", `no number before "/km": write a pace such as "12 min/km", or a speed, such as "5 km/h"`, "half"},
		{"5 kg/h", "kg", `"kg" is a unit of mass: write a length in mm, cm, m, km, in, ft, yd or mi`, "another quantity"},
		{"5 km/lb", "lb", `"lb" is not a unit of length or of duration: write a pace such as "12 min/km", or a speed, such as "5 km/h"`, "another quantity below"},
		{"0 km/h", "0 km/h", `a speed must be more than zero: write one such as "5 km/h"`, "never arrives"},
		{"0 min/km", "0 min/km", `a pace must be more than zero: write one such as "12 min/km", or a speed, such as "5 km/h"`, "no time"},
		{"25 h/km", "25 h/km", `"25 h/km" takes more than 24 h for a kilometre, the slowest that is read: look for a slip in the number or the unit`, "bound"},
		{"9000 km/h", "9000 km/h", `"9000 km/h" takes less than a second for a kilometre: look for a slip in the number or the unit`, "would become zero"},
		{"12:30 min/km", ":", `a colon in "12:30": write the units, such as "1 h 30 min" or "12 min 30 s"`, "clock form"},
		{"4,5 km/h", ",", `a comma in "4,5": write a decimal point, "4.5 km"`, "decimal comma"},
	})
	checkRefused(t, ParsePower, []refused{
		{"40", "40", `no unit after 40: write W or kW, such as "40 W"`, "bare"},
		{"10.1 kW", "10.1 kW", `"10.1 kW" is more than 10 kW, the most that is read for a power: look for a slip in the number or the unit`, "bound"},
		{"1 hp", "hp", `"hp" is not read: write W, about 746 to the horsepower`, "of engines"},
		{"40 Wh", "Wh", `"Wh" is a unit of energy: write a power in W or kW`, "another quantity"},
	})
	checkRefused(t, ParseSpeed, []refused{
		{"20", "20", `no unit after 20: write km/h, m/s or mph, such as "20 km/h"`, "bare"},
		{"-5 m/s", "-5", `"-5 m/s" is negative, and a speed cannot be: write it without the minus sign, "5 m/s"`, "negative"},
		{"61 m/s", "61 m/s", `"61 m/s" is more than 60 m/s, the most that is read for a speed: look for a slip in the number or the unit`, "bound"},
		{"20 knots", "knots", `"knots" is not read: write km/h, 1.852 to the knot`, "of the sea"},
		{"4 bft", "bft", `"bft" is a step of a scale, not a speed: write km/h, m/s or mph`, "of the sea"},
		{"15-20 km/h", "-", `a range is not one number: write one number, such as "20 km/h"`, "as forecasts say it; nothing can be estimated here"},
		{"about 20 km/h", "about", `"about" before a number: write the number alone, "20 km/h"`, "nothing can be estimated here"},
		{"20 km", "km", `"km" is a unit of length: write a speed in km/h, m/s or mph`, "another quantity"},
	})
	checkRefused(t, ParseClock, []refused{
		{"", "", `nothing is written here: write a time of day, such as "18:00" or "6:30 pm"`, "empty"},
		{"25:00", "25", `there is no hour 25: write 00 to 23, and 00:00 for midnight`, "hour"},
		{"24:00", "24", `there is no hour 24: write 00 to 23, and 00:00 for midnight`, "the end of the day"},
		{"18:60", "18:60", `"18:60" does not end in minutes: write two digits from 00 to 59 after the colon, such as "18:00" or "6:30 pm"`, "minute"},
		{"18:5", "18:5", `"18:5" does not end in minutes: write two digits from 00 to 59 after the colon, such as "18:00" or "6:30 pm"`, "one digit"},
		{"6", "6", `no minutes after 6: write "06:00" for the morning, "18:00" for the evening`, "two readings"},
		{"18", "18", `no minutes after 18: write "18:00"`, "one reading"},
		{"13 pm", "13", `there is no hour 13 before pm: write 1 to 12, or the time without pm, such as "18:00"`, "both forms"},
		{"0:30 am", "0", `there is no hour 0 before am: write 1 to 12, or the time without am, such as "18:00"`, "both forms"},
		{"1800", "1800", `"1800" is not an hour: write hours and minutes with a colon between them, such as "18:00" or "6:30 pm"`, "no colon"},
		{"18:00:30", ":30", `":30" after the time is not understood: write only the time of day, such as "18:00" or "6:30 pm"`, "seconds"},
		{"18.30", "18.30", `a colon stands between hours and minutes: write "18:30"`, "a point"},
		{"noon", "noon", `"noon" is not a time of day: write hours and minutes, such as "18:00" or "6:30 pm"`, "a word"},
		{"-1:00", "-1:00", `"-1:00" is not a time of day: write hours and minutes, such as "18:00" or "6:30 pm"`, "negative"},
	})
	checkRefused(t, ParseLatitude, []refused{
		{"", "", `nothing is written here: write a latitude, such as "47.5 N"`, "empty"},
		{"47.5", "47.5", `no N or S after 47.5: write "47.5 N" north of the equator, "47.5 S" south of it`, "bare"},
		{"47.5°", "47.5°", `no N or S after 47.5: write "47.5 N" north of the equator, "47.5 S" south of it`, "bare, with its sign"},
		{"-33.9", "-", `a minus sign before the latitude: write N for north or S for south of the equator after the number, such as "33.9 S"`, "sign"},
		{"N 47.5", "N", `"N" before the number: write it after, such as "47.5 N"`, "as some maps write it"},
		{"47° 30′ N", "30′ N", `"30′ N" is in minutes, which are not read: write the degrees with decimals, such as "47.5 N" for 47° 30′`, "minutes"},
		{"47 30 N", "30 N", `"30 N" is in minutes, which are not read: write the degrees with decimals, such as "47.5 N" for 47° 30′`, "minutes"},
		{"47:30 N", ":30 N", `":30 N" is in minutes, which are not read: write the degrees with decimals, such as "47.5 N" for 47° 30′`, "minutes"},
		{"47,5 N", ",", `a comma in "47,5": write a decimal point, "47.5 N"`, "decimal comma"},
		{"8.5 E", "E", `"E" is of a longitude: write the latitude, which ends in N or S`, "the other one"},
		{"47.5 up", "up", `"up" after the number is not understood: write N or S, such as "47.5 N"`, "a word"},
		{"north", "north", `no number before "north": begin with digits, such as "47.5 N"`, "a word"},
		{"90.001 N", "90.001 N", `"90.001 N" is beyond the pole: write 0 to 90 degrees`, "bound"},
		{"99999999999999999999 S", "99999999999999999999 S", `"99999999999999999999 S" is beyond the pole: write 0 to 90 degrees`, "more than 64 bits"},
	})
	checkRefused(t, ParseDate, []refused{
		{"", "", `nothing is written here: write a date, such as "2027-03-01"`, "empty"},
		{"31/12/2026", "31/12/2026", `"31/12/2026" is not a date as year-month-day: write "2026-12-31"`, "one reading"},
		{"12/31/2026", "12/31/2026", `"12/31/2026" is not a date as year-month-day: write "2026-12-31"`, "one reading"},
		{"3/4/2026", "3/4/2026", `"3/4/2026" is not a date as year-month-day: write "2026-04-03" or "2026-03-04", whichever is meant`, "two readings"},
		{"5.5.2026", "5.5.2026", `"5.5.2026" is not a date as year-month-day: write "2026-05-05"`, "both readings agree"},
		{"2026-2-3", "2026-2-3", `"2026-2-3" is not a date as year-month-day: write "2026-02-03"`, "digits left out"},
		{"2026/12/31", "2026/12/31", `"2026/12/31" is not a date as year-month-day: write "2026-12-31"`, "strokes"},
		{"20261231", "20261231", `"20261231" is not a date as year-month-day: write "2026-12-31"`, "without hyphens"},
		{"2026-12-31T00:00:00Z", "2026-12-31T00:00:00Z", `"2026-12-31T00:00:00Z" is not a date as year-month-day: write "2026-12-31" without a time of day`, "date and time"},
		{"1 May 2027", "1 May 2027", `"1 May 2027" is not a date as year-month-day: write "2027-05-01"`, "a day in words"},
		{"May 1, 2027", "May 1, 2027", `"May 1, 2027" is not a date as year-month-day: write "2027-05-01"`, "a day in words, month first"},
		{"02/2028", "02/2028", `"02/2028" is not a date as year-month-day: write the day too, such as "2028-02-29" for the last of that month`, "a month as on labels"},
		{"13/2028", "13/2028", `"13/2028" is not a date as year-month-day: write it like "2027-03-01"`, "no month"},
		{"March 2027", "March 2027", `"March 2027" is not a date as year-month-day: write the day too, such as "2027-03-31" for the last of that month`, "words"},
		{"2026-02-30", "30", `there is no day 30 in 2026-02, which ends on 2026-02-28`, "a short month"},
		{"1900-02-29", "29", `there is no day 29 in 1900-02, which ends on 1900-02-28`, "no leap year"},
		{"2026-13-01", "13", `there is no month 13: write year-month-day with a month from 01 to 12`, "month"},
		{"1899-12-31", "1899", `the year 1899 is outside 1900 to 2200: look for a slip in it`, "year"},
		{"2201-01-01", "2201", `the year 2201 is outside 1900 to 2200: look for a slip in it`, "year"},
	})
}

// Here the wrong part is not the first place where its text occurs.
func TestErrorOffset(t *testing.T) {
	for _, r := range []struct {
		in   string
		want Error
	}{
		{"1 g 1 g", Error{Offset: 4, Len: 3, Msg: `"1 g" after g: write the larger unit first and each unit once`}},
		{"1.000.000 g", Error{Offset: 5, Len: 1, Msg: `two decimal points in "1.000.000": write one, and no separators of thousands`}},
		{"½ lb ½", Error{Offset: 6, Len: 2, Msg: `no unit after ½: write g, kg, oz or lb, such as "½ oz"`, Bare: true, Offers: []string{"½ oz"}, Noun: "a mass", Units: "g, kg, oz or lb"}},
	} {
		_, err := ParseMass(r.in)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q: %v is not *Error", r.in, err)
			continue
		}
		if diff := cmp.Diff(r.want, *e); diff != "" {
			t.Errorf("%q: -want +got\n%s", r.in, diff)
		}
	}
}

func TestPackByShareOfBody(t *testing.T) {
	body, err := ParseMass("190 lb")
	if err != nil {
		t.Fatal(err)
	}
	share, err := ParseShare("15 %")
	if err != nil {
		t.Fatal(err)
	}
	product, ok := MulInt(body, int64(share))
	if !ok {
		t.Fatal("190 lb times 15 % does not fit")
	}
	pack := product / 1_000_000
	// 0.15 × 190 × 0.45359237 kg = 12.927382545 kg, exact.
	if got, want := pack.String()+" = "+pack.Pounds(), "12.93 kg = 28.5 lb"; got != want {
		t.Errorf("15 %% of 190 lb is %s, want %s", got, want)
	}
}

func TestStrings(t *testing.T) {
	for _, r := range []struct{ got, want, reason string }{
		{Mass(12_927_382_545).String(), "12.93 kg", "kilograms to two decimals"},
		{Mass(3_000_000_000).String(), "3.00 kg", "decimals of kilograms are kept"},
		{Mass(999_499_999).String(), "999 g", "below the next rung"},
		{Mass(999_500_000).String(), "1.00 kg", "never 1000 g"},
		{Mass(7_600_000).String(), "7.6 g", "a decimal below 10 g"},
		{Mass(9_949_999).String(), "9.9 g", "below the next rung"},
		{Mass(9_950_000).String(), "10 g", "never 10.0 g"},
		{Mass(999_499).String(), "999 mg", "milligrams below a gram"},
		{Mass(999_500).String(), "1.0 g", "never 1000 mg"},
		{Mass(2_350).String(), "2.4 mg", "half away from zero"},
		{Mass(999).String(), "999 µg", "base units"},
		{Mass(0).String(), "0 g", "zero"},
		{Mass(-850_000_000).String(), "-850 g", "a difference can be negative"},
		{Mass(math.MinInt64).String(), "-9223372036.85 kg", "the lowest integer"},
		{Mass(453_592_370).Pounds(), "1 lb", "a pound"},
		{Mass(452_174_893).Pounds(), "15.9 oz", "ounces below a pound"},
		{Mass(452_174_894).Pounds(), "1 lb", "never 16 oz: from 15.95 oz"},
		{Mass(1_000_000).Pounds(), "0.0353 oz", "1 g / 28.349523125"},
		{Mass(0).Pounds(), "0 lb", "zero"},
		{Volume(3_000_000).String(), "3 L", "zeros are dropped"},
		{Volume(1_892_706).String(), "1.89 L", "two decimals"},
		{Volume(999_500).String(), "1 L", "never 1000 ml"},
		{Volume(750_000).String(), "750 ml", "millilitres"},
		{Volume(4_929).String(), "4.9 ml", "a decimal below 10 ml"},
		{Volume(5).String(), "0.005 ml", "never a false zero"},
		{Volume(0).String(), "0 ml", "zero"},
		{Length(1_200_000_000).String(), "1.2 km", "kilometres"},
		{Length(850_000_000).String(), "850 m", "metres"},
		{Length(1_803_400).String(), "1.8 m", "two decimals below 100 m"},
		{Length(120_000).String(), "12 cm", "centimetres"},
		{Length(5_500).String(), "5.5 mm", "millimetres"},
		{Length(999_500).String(), "1 m", "never 100 cm"},
		{Length(0).String(), "0 m", "zero"},
		{Temperature(16_667).String(), "16.7 °C", "one decimal"},
		{Temperature(-5_000).String(), "-5 °C", "negative"},
		{Temperature(-40).String(), "0 °C", "never minus zero"},
		{Energy(8_786_400).String(), "2100 kcal", "kilocalories"},
		{Energy(5_000).String(), "1.2 kcal", "a decimal below 10 kcal"},
		{Energy(500).String(), "0.12 kcal", "below one, hundredths"},
		{Energy(376).String(), "0.0899 kcal", "below a tenth"},
		{Energy(0).String(), "0 kcal", "zero"},
		{Energy(133_200).WattHours(), "37 Wh", "watt-hours"},
		{Energy(13_320).WattHours(), "3.7 Wh", "a decimal below 100 Wh"},
		{Charge(2_500_000).String(), "2500 mAh", "whole"},
		{Charge(500).String(), "0.5 mAh", "below 10 mAh"},
		{Duration(259_200).String(), "72 h", "hours are not turned into days"},
		{Duration(5_400).String(), "1 h 30 min", "compound"},
		{Duration(2_520).String(), "42 min", "minutes"},
		{Duration(3_601).String(), "1 h 1 s", "empty parts are left out"},
		{Duration(8 * month).String(), "8 months", "an age"},
		{Duration(year + month).String(), "1 y 1 month", "an age"},
		{Duration(42 * year).String(), "42 y", "an age"},
		{Duration(0).String(), "0 min", "zero"},
		{Duration(-5_400).String(), "-1 h 30 min", "a difference can be negative"},
		{Share(150_000).String(), "15 %", "zeros are dropped"},
		{Share(163_500).String(), "16.4 %", "half away from zero"},
		{Share(1).String(), "0.0001 %", "never a false zero"},
		{Speed(5_000).String(), "18 km/h", "whole"},
		{Speed(4_470).String(), "16.1 km/h", "one decimal"},
		{Power(40_000).String(), "40 W", "whole"},
		{Power(1).String(), "0.001 W", "never a false zero"},
		{Clock(1_080).String(), "18:00", "evening"},
		{Clock(5).String(), "00:05", "two digits each"},
		{Clock(1_440 + 61).String(), "01:01", "the next day"},
		{Clock(-1).String(), "23:59", "the day before"},
		{Latitude(47_500).String(), "47.5 N", "north"},
		{Latitude(-33_868).String(), "33.868 S", "south"},
		{Latitude(0).String(), "0 N", "the equator"},
		{Count(2_000).String(), "2", "whole"},
		{Count(500).String(), "0.5", "half"},
		{Date(20_878).String(), "2027-03-01", "RFC 3339 full-date"},
		{Date(math.MaxInt64).String(), "9999-12-31", "the last date there is"},
		{Date(math.MinInt64).String(), "0001-01-01", "the first date there is"},
	} {
		if r.got != r.want {
			t.Errorf("got %q, want %q (%s)", r.got, r.want, r.reason)
		}
	}
}

func mustDate(t *testing.T, s string) Date {
	t.Helper()
	d, err := ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestAddDays(t *testing.T) {
	for _, r := range []struct {
		from   string
		days   int64
		want   string
		reason string
	}{
		{"2026-12-31", 1, "2027-01-01", "over the year"},
		{"2024-02-28", 1, "2024-02-29", "leap year"},
		{"2026-02-28", 1, "2026-03-01", "common year"},
		{"2027-03-01", -1, "2027-02-28", "backwards"},
		{"2027-03-01", math.MaxInt64, "9999-12-31", "stops, never wraps"},
		{"2027-03-01", math.MinInt64, "0001-01-01", "stops, never wraps"},
	} {
		if got := mustDate(t, r.from).AddDays(r.days).String(); got != r.want {
			t.Errorf("%s + %d = %s, want %s (%s)", r.from, r.days, got, r.want, r.reason)
		}
	}
	if got := Date(math.MinInt64).AddDays(0); got != firstDate {
		t.Errorf("a date before the first stays there: %d", got)
	}
}

func TestYearDay(t *testing.T) {
	for _, r := range []struct {
		date string
		want int
	}{{"2026-01-01", 1}, {"2026-12-31", 365}, {"2024-12-31", 366}, {"2024-03-01", 61}, {"1969-03-01", 60}} {
		if got := mustDate(t, r.date).YearDay(); got != r.want {
			t.Errorf("%s is day %d, want %d", r.date, got, r.want)
		}
	}
	if got := Date(math.MaxInt64).YearDay(); got != 365 {
		t.Errorf("a date after the last is day %d of 9999, want 365", got)
	}
}

func TestAgeMonths(t *testing.T) {
	for _, r := range []struct {
		born, on string
		want     int64
		reason   string
	}{
		{"2026-01-15", "2026-01-15", 0, "the day of birth"},
		{"2026-01-15", "2026-02-14", 0, "a day short"},
		{"2026-01-15", "2026-02-15", 1, "the day itself"},
		{"2026-01-31", "2026-02-28", 0, "February has no 31st"},
		{"2026-01-31", "2026-03-01", 1, "complete on the next first"},
		{"2024-02-29", "2027-02-28", 35, "born on a leap day"},
		{"2024-02-29", "2027-03-01", 36, "born on a leap day"},
		{"2019-11-03", "2027-03-01", 87, "over years"},
		{"2026-01-15", "2026-01-14", -1, "before birth"},
	} {
		if got := AgeMonths(mustDate(t, r.born), mustDate(t, r.on)); got != r.want {
			t.Errorf("from %s to %s: %d, want %d (%s)", r.born, r.on, got, r.want, r.reason)
		}
	}
}

func TestArithmetic(t *testing.T) {
	type result struct {
		V  int64
		OK bool
	}
	mul := func(v Mass, n int64) result { p, ok := MulInt(v, n); return result{int64(p), ok} }
	for _, r := range []struct {
		got, want result
		reason    string
	}{
		{mul(3, 4), result{12, true}, "plain"},
		{mul(-3, 4), result{-12, true}, "sign"},
		{mul(-3, -4), result{12, true}, "signs"},
		{mul(0, math.MinInt64), result{0, true}, "zero"},
		{mul(math.MaxInt64, 1), result{math.MaxInt64, true}, "the highest"},
		{mul(math.MinInt64, 1), result{math.MinInt64, true}, "the lowest"},
		{mul(math.MaxInt64, 2), result{0, false}, "too high"},
		{mul(math.MinInt64, -1), result{0, false}, "the lowest has no opposite"},
		{mul(-1, math.MinInt64), result{0, false}, "the same, turned"},
		{mul(1<<32, 1<<32), result{0, false}, "wraps to zero"},
		{mul(math.MinInt64, 2), result{0, false}, "wraps to zero"},
	} {
		if diff := cmp.Diff(r.want, r.got); diff != "" {
			t.Errorf("%s: -want +got\n%s", r.reason, diff)
		}
	}
}

func TestConversions(t *testing.T) {
	for _, r := range []struct {
		got, want int64
		reason    string
	}{
		{Mass(1_499).Milligrams(), 1, "down"},
		{Mass(1_500).Milligrams(), 2, "half away from zero"},
		{Mass(-1_500).Milligrams(), -2, "half away from zero below it"},
		{Mass(-1_499).Milligrams(), -1, "towards zero"},
		{Mass(math.MinInt64).Milligrams(), -9_223_372_036_854_776, "the lowest"},
		{Mass(math.MaxInt64).Milligrams(), 9_223_372_036_854_776, "the highest"},
		{Volume(29_574).Millilitres(), 30, "a fluid ounce"},
		{Length(1_803_400).Millimetres(), 1_803, "down"},
		{Duration(89).Minutes(), 1, "down"},
		{Duration(90).Minutes(), 2, "half away from zero"},
		{Share(163_500).Permille(), 164, "half away from zero"},
		{int64(Latitude(-33_500).Degrees() * 2), -67, "half a degree is kept"},
	} {
		if r.got != r.want {
			t.Errorf("got %d, want %d (%s)", r.got, r.want, r.reason)
		}
	}
}

// Every name in the tables reads as its own unit, and none is in two tables
// where it would be read by one and suggested by the other.
func TestTables(t *testing.T) {
	for _, d := range dimensions {
		seen := map[string]string{}
		for i := range d.units {
			u := &d.units[i]
			for _, list := range [][]string{u.exact, u.folded} {
				for _, n := range list {
					if other, twice := seen[n]; twice && other != u.symbol {
						t.Errorf("%s: %q is both %s and %s", d.name(), n, other, u.symbol)
					}
					seen[n] = u.symbol
					if unitName(n) != n || !utf8.ValidString(n) || strings.ContainsAny(n, "0123456789") {
						t.Errorf("%s: %q cannot be found by the reader", d.name(), n)
					}
					if got := d.lookup(n); got == nil || got.symbol != u.symbol {
						t.Errorf("%s: %q does not read as %s", d.name(), n, u.symbol)
					}
				}
			}
			for _, n := range u.folded {
				if n != strings.ToLower(n) {
					t.Errorf("%s: %q must be in lower case", d.name(), n)
				}
			}
		}
		for n := range d.hints {
			if d.lookup(n) != nil || n != strings.ToLower(n) {
				t.Errorf("%s: the hint for %q is never given", d.name(), n)
			}
		}
	}
}

// What exceeds a limit never reads as equal to it, however little.
func TestRoundingNeverHidesALimit(t *testing.T) {
	for _, c := range []struct{ part, whole, want int64 }{
		{10_500_000, 70_000_000, 150}, {10_500_001, 70_000_000, 151}, {10_534_000, 70_000_000, 151}, {1, 1, 1000}, {0, 5, 0}, {3, 0, 3000}, {400e9, 1e12, 400}, {1e15 + 1, 1e15, 1001},
	} {
		if got := PermilleUp(c.part, c.whole); got != c.want {
			t.Errorf("%d of %d is %d ‰, want %d", c.part, c.whole, got, c.want)
		}
	}
	for v, want := range map[Volume]int64{1_999_999: 1999, 2_000_000: 2000, 2_000_999: 2000, 0: 0, -1: -1, -1000: -1, -1001: -2} {
		if got := v.WholeMillilitres(); got != want {
			t.Errorf("%d µl are %d whole ml, want %d", int64(v), got, want)
		}
	}
}
