package unit

import (
	"errors"
	"fmt"
	"testing"
	"unicode/utf8"
)

// A reader parses a text and writes what it found.
type reader struct {
	name   string
	signed bool
	parse  func(string) (int64, string, error)
	// within tells how far the written text may be from the value.
	within func(int64) int64
}

func readerOf[T interface {
	~int64
	fmt.Stringer
}](name string, parse func(string) (T, error), within func(int64) int64) reader {
	return reader{name: name, within: within, parse: func(s string) (int64, string, error) {
		v, err := parse(s)
		return int64(v), v.String(), err
	}}
}

// relative allows the larger of a fixed step and a share of the value, as the
// printed decimals do.
func relative(step, divisor int64) func(int64) int64 {
	return func(v int64) int64 { return max(step, v/divisor, -v/divisor) }
}

var readers = []reader{
	readerOf("mass", ParseMass, relative(0, 18)),            // "9.5 mg" and "10 mg": 0.5 in 9.95
	readerOf("volume", ParseVolume, relative(0, 18)),        // the same rungs
	readerOf("length", ParseLength, relative(0, 18)),        // finer
	readerOf("energy", ParseEnergy, relative(1, 18)),        // a joule of rounding
	readerOf("charge", ParseCharge, relative(0, 18)),        // finer
	readerOf("duration", ParseDuration, relative(0, 1<<62)), // written in full
	readerOf("share", ParseShare, relative(0, 18)),          // 0.05 in 1
	readerOf("count", ParseCount, relative(0, 1<<62)),       // written in full
	readerOf("date", ParseDate, relative(0, 1<<62)),         // written in full
	{
		name: "temperature", signed: true, within: relative(50, 1<<62), // a tenth of a degree
		parse: func(s string) (int64, string, error) {
			v, err := ParseTemperature(s)
			return int64(v), v.String(), err
		},
	},
	readerOf("speed", ParseSpeed, relative(14, 1<<62)), // a tenth of a km/h
	readerOf("power", ParsePower, relative(0, 1<<62)),  // written in full
	readerOf("clock", ParseClock, relative(0, 1<<62)),  // written in full
	{
		name: "latitude", signed: true, within: relative(0, 1<<62), // written in full
		parse: func(s string) (int64, string, error) {
			v, err := ParseLatitude(s)
			return int64(v), v.String(), err
		},
	},
	{
		name: "pace", within: relative(0, 1<<62),
		parse: func(s string) (int64, string, error) {
			v, err := ParsePace(s)
			return int64(v), v.String() + "/km", err
		},
	},
}

// What is written for people reads as the amount again, to a twentieth of it or the least step that is written, and is then
// written alike: small amounts, each border where the decimals change, and amounts up to the largest.
func TestWrittenReadsAsTheSame(t *testing.T) {
	for _, w := range []struct {
		name  string
		write func(int64) string
		parse func(string) (int64, error)
		step  int64 // half of the last decimal of the least amounts, in base units
		most  int64
	}{
		{"mass", func(v int64) string { return Mass(v).String() }, as(ParseMass), 0, int64(MaxMass)},
		{"mass in pounds", func(v int64) string { return Mass(v).Pounds() }, as(ParseMass), 1_418, int64(MaxMass)},
		{"volume", func(v int64) string { return Volume(v).String() }, as(ParseVolume), 0, int64(MaxVolume)},
		{"length", func(v int64) string { return Length(v).String() }, as(ParseLength), 0, int64(MaxLength)},
		{"energy", func(v int64) string { return Energy(v).String() }, as(ParseEnergy), 1, int64(MaxEnergy)},
		{"energy in watt-hours", func(v int64) string { return Energy(v).WattHours() }, as(ParseEnergy), 1, int64(MaxEnergy)},
		{"charge", func(v int64) string { return Charge(v).String() }, as(ParseCharge), 0, int64(MaxCharge)},
		{"share", func(v int64) string { return Share(v).String() }, as(ParseShare), 0, int64(MaxShare)},
	} {
		bad := 0
		for v := max(1, w.step); v <= w.most && bad < 5; v += 1 + v/5_000 {
			text := w.write(v)
			again, err := w.parse(text)
			if off := max(again-v, v-again); err != nil || off > max(w.step, v/18) || w.write(again) != text {
				t.Errorf("%s: %d is written %q, which is %d and written %q; %v", w.name, v, text, again, w.write(again), err)
				bad++
			}
		}
	}
}

func as[T ~int64](parse func(string) (T, error)) func(string) (int64, error) {
	return func(s string) (int64, error) {
		v, err := parse(s)
		return int64(v), err
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"28.5 oz", "1 lb 4 oz", "1lb4oz", "0,85 kg", "½ gal", "1 1/2 gal", "3 imp gal", `5'11"`, "-5 °C",
		"\u22125 °F", "0 K", "250 Cal", "37 Wh", "2500 mAh", "8 months", "1 h 30 min", "15 %", "150 ‰",
		"2", "1/2", "2027-03-01", "31/12/2026", "12 min/km", "3 mph", "5 km per h", "~850 g", "1e3 g",
		"1 000 g", "NaN", "٣ kg", "5 g\xff", "", " ", "850\u00a0g", "1⁄2 lb", "5-6 kg", "2 x 3 L", "12:30/km",
		"1000J", "0.05 oz", "18:00", "6:30 p.m.", "25:00", "12 am", "47.5 N", "33° S", "-33.9", "47° 30′ N", "20 km/h", "5 m/s", "10 mph",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, r := range readers {
			v, text, err := r.parse(s)
			if err != nil {
				checkRange(t, r.name, s, err)
				continue
			}
			if v < 0 && !r.signed && r.name != "date" {
				t.Errorf("%s %q is negative: %d", r.name, s, v)
			}
			again, same, err := r.parse(text)
			if err != nil {
				t.Errorf("%s %q is written %q, which is refused: %v", r.name, s, text, err)
				continue
			}
			if same != text {
				t.Errorf("%s %q is written %q, and that is written %q", r.name, s, text, same)
			}
			if off := max(again-v, v-again); off > r.within(v) {
				t.Errorf("%s %q = %d is written %q, which is %d", r.name, s, v, text, again)
			}
		}
	})
}

// checkRange wants the error's range inside s, on borders of runes, and not
// empty unless s is.
func checkRange(t *testing.T, name, s string, err error) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) {
		t.Fatalf("%s %q: %T is not *Error", name, s, err)
	}
	if e.Msg == "" || !utf8.ValidString(e.Msg) {
		t.Errorf("%s %q: the message %q is not text", name, s, e.Msg)
	}
	if e.Offset < 0 || e.Len < 0 || e.Offset+e.Len > len(s) || e.Len == 0 && s != "" {
		t.Fatalf("%s %q: the range %d+%d is not in it", name, s, e.Offset, e.Len)
	}
	border := map[int]bool{len(s): true}
	for i := range s {
		border[i] = true
	}
	if !border[e.Offset] || !border[e.Offset+e.Len] {
		t.Errorf("%s %q: the range %d+%d cuts a character", name, s, e.Offset, e.Len)
	}
}
