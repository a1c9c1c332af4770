package unit

import (
	"math/big"
	"strings"
)

// A rung is one way to write a quantity, used from a magnitude upwards. Its decimals
// leave at least two digits that count, so that what is written is at most a twentieth off. from
// is where the rung below would round up to a number that belongs to this one.
type rung struct {
	from      uint64
	unit      string
	factor    *big.Rat // base units in one
	decimals  int
	keepZeros bool
}

// write writes v by the first rung that it reaches; the last begins at 0.
func write(v int64, ladder []rung) string {
	size := uint64(v)
	if v < 0 {
		size = -size
	}
	for _, r := range ladder {
		if size >= r.from {
			text := new(big.Rat).Quo(new(big.Rat).SetInt64(v), r.factor).FloatString(r.decimals)
			if !r.keepZeros {
				text = trimZeros(text)
			}
			if r.unit == "" {
				return text
			}
			return text + " " + r.unit
		}
	}
	panic("unit: a ladder must begin at 0")
}

// trimZeros drops the zeros after the last decimal, and the sign of zero.
func trimZeros(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

var (
	massLadder = []rung{
		{999_500_000, "kg", rat("1000000000"), 2, true},
		{9_950_000, "g", rat("1000000"), 0, false},
		{999_500, "g", rat("1000000"), 1, true},
		{9_950, "mg", rat("1000"), 0, false},
		{1_000, "mg", rat("1000"), 1, false},
		{1, "µg", rat("1"), 0, false},
		{0, "g", rat("1"), 0, false},
	}
	// From one pound, rounded to a tenth of an ounce, in pounds.
	poundLadder = []rung{
		{452_174_894, "lb", rat("453592370"), 1, false},
		{28_207_776, "oz", rat("453592370/16"), 1, false},
		{2_833_535, "oz", rat("453592370/16"), 2, false},
		{1, "oz", rat("453592370/16"), 4, false},
		{0, "lb", rat("1"), 0, false},
	}
	volumeLadder = []rung{
		{999_500, "L", rat("1000000"), 2, false},
		{9_950, "ml", rat("1000"), 0, false},
		{1_000, "ml", rat("1000"), 1, false},
		{0, "ml", rat("1000"), 3, false},
	}
	lengthLadder = []rung{
		{999_500_000, "km", rat("1000000000"), 2, false},
		{99_995_000, "m", rat("1000000"), 0, false},
		{999_500, "m", rat("1000000"), 2, false},
		{10_000, "cm", rat("10000"), 1, false},
		{1, "mm", rat("1000"), 3, false},
		{0, "m", rat("1"), 0, false},
	}
	temperatureLadder = []rung{{0, "°C", rat("1000"), 1, false}}
	kcalLadder        = []rung{
		{41_631, "kcal", rat("4184"), 0, false},
		{4_164, "kcal", rat("4184"), 1, false},
		{417, "kcal", rat("4184"), 2, false},
		{0, "kcal", rat("4184"), 4, false},
	}
	whLadder = []rung{
		{359_820, "Wh", rat("3600"), 0, false},
		{3_600, "Wh", rat("3600"), 1, false},
		{0, "Wh", rat("3600"), 4, false},
	}
	chargeLadder = []rung{
		{99_950, "mAh", rat("1000"), 0, false},
		{10_000, "mAh", rat("1000"), 1, false},
		{0, "mAh", rat("1000"), 3, false},
	}
	shareLadder = []rung{
		{10_000, "%", rat("10000"), 1, false},
		{0, "%", rat("10000"), 4, false},
	}
	speedLadder = []rung{{0, "km/h", rat("1000000/3600"), 1, false}}
	powerLadder = []rung{{0, "W", rat("1000"), 3, false}}
	countLadder = []rung{{0, "", rat("1000"), 3, false}}
)

// String writes the mass for people: "12.93 kg", "850 g", "7.6 g", "250 mg".
func (m Mass) String() string { return write(int64(m), massLadder) }

// Pounds writes the mass in pounds, "28.5 lb", or below one pound in ounces,
// "8.5 oz".
func (m Mass) Pounds() string { return write(int64(m), poundLadder) }

// String writes the volume for people: "3 L", "750 ml".
func (v Volume) String() string { return write(int64(v), volumeLadder) }

// String writes the length for people: "1.2 km", "850 m", "1.8 m", "12 cm".
func (l Length) String() string { return write(int64(l), lengthLadder) }

// String writes the temperature for people: "16.7 °C".
func (t Temperature) String() string { return write(int64(t), temperatureLadder) }

// String writes the energy for people, in kilocalories: "2100 kcal", "0.72 kcal".
func (e Energy) String() string { return write(int64(e), kcalLadder) }

// WattHours writes the energy in watt-hours, as for a battery: "37 Wh".
func (e Energy) WattHours() string { return write(int64(e), whLadder) }

// String writes the charge for people: "2500 mAh".
func (c Charge) String() string { return write(int64(c), chargeLadder) }

// String writes the share for people: "15 %", "16.4 %".
func (s Share) String() string { return write(int64(s), shareLadder) }

// String writes the speed for people: "18 km/h".
func (v Speed) String() string { return write(int64(v), speedLadder) }

// String writes the power for people: "40 W".
func (p Power) String() string { return write(int64(p), powerLadder) }

// String writes the count for people: "2", "0.5".
func (c Count) String() string { return write(int64(c), countLadder) }
