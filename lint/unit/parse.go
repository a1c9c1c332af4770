package unit

import (
	"fmt"
	"math/big"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"kitmuster/lint/internal/edit"
)

// maxLen is the most bytes a written quantity may have.
const maxLen = 100

// ParseMass reads a mass in µg (also mcg), mg, g, kg, oz or lb: "28.5 oz",
// "1 lb 4 oz", "850 g".
func ParseMass(s string) (Mass, error) { return parse[Mass](massDim, s) }

// ParseVolume reads a volume in ml, cl, dl, L or in the US customary fl oz,
// cup, pt, qt, gal, tbsp and tsp. Imperial units are read only where they are
// called so, as in "2 imp gal".
func ParseVolume(s string) (Volume, error) { return parse[Volume](volumeDim, s) }

// ParseLength reads a length in mm, cm, m, km, in, ft, yd or mi: "6.5 km",
// "5 ft 11 in", `5'11"`.
func ParseLength(s string) (Length, error) { return parse[Length](lengthDim, s) }

// ParseTemperature reads a temperature in °C, °F or K: "62 °F", "-5 °C".
func ParseTemperature(s string) (Temperature, error) {
	return parse[Temperature](temperatureDim, s)
}

// ParseEnergy reads an energy in J, kJ, MJ, kcal, mWh, Wh or kWh. The capital
// Cal of food labels is a kcal; cal and the bare word "calories" are refused, as
// they are used for both the kilocalorie and a thousandth of it.
func ParseEnergy(s string) (Energy, error) { return parse[Energy](energyDim, s) }

// ParseCharge reads an electric charge in mAh or Ah.
func ParseCharge(s string) (Charge, error) { return parse[Charge](chargeDim, s) }

// ParseDuration reads a duration in s, min, h, d, weeks, months or y: "72 h",
// "1 h 30 min", "8 months". A year is 365.2425 days and a month a twelfth of
// it, as they serve for ages; between two dates, count with AgeMonths.
func ParseDuration(s string) (Duration, error) { return parse[Duration](durationDim, s) }

// ParseSpeed reads a speed in km/h, m/s or mph: "20 km/h", "5 m/s", "10 mph". Zero is
// one, and MaxSpeed the most.
func ParseSpeed(s string) (Speed, error) { return parse[Speed](speedDim, s) }

// ParsePower reads an electric power in mW, W or kW: "40 W".
func ParsePower(s string) (Power, error) { return parse[Power](powerDim, s) }

// ParseShare reads a share in % or ‰: "15 %". A bare number is refused.
func ParseShare(s string) (Share, error) { return parse[Share](shareDim, s) }

// ParseCount reads a number of pieces, which has no unit: "2", "0.5", "½". It
// is kept to the thousandth.
func ParseCount(s string) (Count, error) { return parse[Count](countDim, s) }

// read are texts of quantities that were read before: a village writes the same few hundred again and again.
var read struct {
	sync.Mutex
	of map[written]int64
}

type written struct {
	d    *dimension
	text string
}

// mostRead bounds what is remembered, to some hundred kilobytes.
const mostRead = 4096

func parse[T ~int64](d *dimension, s string) (T, error) {
	read.Lock()
	n, ok := read.of[written{d, s}]
	read.Unlock()
	if ok {
		return T(n), nil
	}
	v, err := d.sum(s)
	if err != nil {
		return 0, err
	}
	n, err = d.whole(s, v)
	if err != nil {
		return 0, err
	}
	read.Lock()
	defer read.Unlock()
	if read.of == nil || len(read.of) >= mostRead {
		read.of = map[written]int64{}
	}
	read.of[written{d, strings.Clone(s)}] = n
	return T(n), nil
}

// exampleText is an example of the dimension, in quotation marks.
func (d *dimension) exampleText() string {
	if d.first == "" {
		return quote(d.sample)
	}
	return d.example()
}

// readable refuses what no quantity holds and what would cost time to read.
func readable(noun, example, s string) *Error {
	if skip(s, 0) == len(s) {
		err := failf(0, len(s), "nothing is written here: write %s, such as %s", noun, example)
		err.Noun = noun
		return err
	}
	for i, r := range s {
		if r == utf8.RuneError {
			_, w := utf8.DecodeRuneInString(s[i:])
			return failf(i, i+w, "a character that is not UTF-8 text: write %s, such as %s", noun, example)
		}
		if r >= utf8.RuneSelf && unicode.IsDigit(r) {
			return failf(i, i+utf8.RuneLen(r), "%s is not read as a digit: write the digits 0 to 9", quote(string(r)))
		}
	}
	// After the loop, as the cut below relies on UTF-8.
	if len(s) > maxLen {
		to := maxLen
		for !utf8.RuneStart(s[to]) {
			to--
		}
		return failf(0, to, "this is longer than %d bytes: write only %s, such as %s", maxLen, noun, example)
	}
	return nil
}

// sum reads a quantity in base units without rounding.
func (d *dimension) sum(s string) (*big.Rat, *Error) {
	if err := readable(d.noun, d.exampleText(), s); err != nil {
		return nil, err
	}
	total := new(big.Rat)
	var before struct {
		unit       *measure
		value      *big.Rat
		start, end int
	}
	for at := skip(s, 0); at < len(s); {
		v, end, err := d.number(s, at)
		if err != nil {
			return nil, err
		}
		if err := d.rangeMark(s, end); err != nil {
			return nil, err
		}
		u, to, err := d.unit(s, at, end, v, before.unit)
		if err != nil {
			return nil, err
		}
		if u == nil { // a count
			return total.Mul(v, big.NewRat(1000, 1)), nil
		}
		part := new(big.Rat).Mul(v, u.factor)
		if u.offset != nil {
			part.Add(part, u.offset)
		}
		if b := before.unit; b != nil {
			text := quote(s[at:to])
			switch {
			case !d.compound:
				return nil, failf(at, to, "%s after %s: write %s as one number and one unit", text, quote(s[before.start:before.end]), d.noun)
			case u.factor.Cmp(b.factor) >= 0:
				return nil, failf(at, to, "%s after %s: write the larger unit first and each unit once", text, b.symbol)
			case !before.value.IsInt():
				return nil, failf(before.start, before.end, "%s before a smaller unit is not whole: write one unit alone, or a whole number of %s", quote(s[before.start:before.end]), b.symbol)
			case part.Cmp(b.factor) >= 0:
				return nil, failf(at, to, "%s is as much as 1 %s or more: write one unit alone, or less than 1 %s here", text, b.symbol, b.symbol)
			}
		}
		total.Add(total, part)
		before.unit, before.value, before.start, before.end = u, v, at, to
		at = skip(s, to)
	}
	return total, nil
}

// rangeMark refuses "5-6 kg", "5 to 6 kg" and "2 x 500 g".
func (d *dimension) rangeMark(s string, end int) *Error {
	at := skip(s, end)
	for _, m := range []string{"-", "–", "—", "−", "to ", "...", "..", "…"} {
		if strings.HasPrefix(s[at:], m) {
			if next := skip(s, at+len(m)); digitAt(s, next) {
				return failf(at, back(s, at, at+len(m)), "a range is not one number: write one number, such as %s%s", offer(s[next:back(s, next, len(s))]), d.guess())
			}
		}
	}
	for _, m := range []string{"x", "X", "×", "*"} {
		if strings.HasPrefix(s[at:], m) {
			if next := skip(s, at+len(m)); digitAt(s, next) {
				return failf(at, at+len(m), "a product is not one number: write how much it comes to%s", d.each(s[next:]))
			}
		}
	}
	return nil
}

// guess says how a number that is not sure is marked, where it can be: masses are the
// only ones with a field for it.
func (d *dimension) guess() string {
	if d == massDim {
		return ", and estimated: true"
	}
	return ""
}

// each says how several of a kind are written, where there is a field for it.
func (d *dimension) each(one string) string {
	if d == massDim {
		return fmt.Sprintf(", or the mass of one, %s, with count beside it", quote(strings.TrimSpace(one)))
	}
	return ""
}

// unitEnd returns where the text of a unit that begins at at ends: before the
// next number with its sign, or at the end of s.
func unitEnd(s string, at int) int {
	to := at
	for to < len(s) {
		r, w := utf8.DecodeRuneInString(s[to:])
		if digitAt(s, to) || vulgar(r) != nil {
			break
		}
		to += w
	}
	last := to == len(s)
	to = back(s, at, to)
	if last {
		return to
	}
	if r, w := utf8.DecodeLastRuneInString(s[at:to]); strings.ContainsRune("+-−~≈", r) {
		return back(s, at, to-w)
	}
	if strings.HasSuffix(s[at:to], ".") && back(s, at, to-1) < to-1 {
		return back(s, at, to-1)
	}
	return to
}

// lookalikes are signs that people type for those of the tables. Made once: a replacer costs more than a quantity.
var lookalikes = strings.NewReplacer("\u03bc", "µ", "º", "°")

// unitName brings the text of a unit to the form of the tables.
func unitName(s string) string {
	return lookalikes.Replace(strings.Join(strings.FieldsFunc(s, isSpace), " "))
}

// unit reads the unit after the number v = s[start:at], which may follow a
// part in the unit before. A count has none: then the measure is nil.
func (d *dimension) unit(s string, start, at int, v *big.Rat, before *measure) (*measure, int, *Error) {
	from := skip(s, at)
	to := unitEnd(s, from)
	number := s[start:at]
	if d == countDim {
		if from < len(s) {
			return nil, 0, failf(from, back(s, from, len(s)), "%s after the number: a count has no unit, write %s", quote(s[from:]), offer(number))
		}
		return nil, len(s), nil
	}
	if from >= to {
		suggestion := number + " " + d.first
		if before != nil && smaller(before.symbol) != "" {
			suggestion = number + " " + smaller(before.symbol)
			if all := strings.TrimSpace(s[:start]) + " " + suggestion; d.reads(all) {
				suggestion = all
			}
		}
		if d == shareDim && v.Cmp(big.NewRat(1, 1)) < 0 {
			suggestion = trimZeros(new(big.Rat).Mul(v, big.NewRat(100, 1)).FloatString(4)) + " %"
		}
		err := failf(start, at, "no unit after %s: write %s, such as %s", number, d.write, offer(suggestion))
		err.Bare, err.Noun, err.Units = true, d.noun, d.write
		return nil, 0, err
	}
	if u := d.exact[s[from:to]]; u != nil { // nearly every unit is written as the tables have it
		return u, to, nil
	}
	if u := d.lookup(unitName(s[from:to])); u != nil {
		return u, to, nil
	}
	return nil, 0, d.unknown(s, number, from, to)
}

// reads reports whether a text is a quantity of the dimension.
func (d *dimension) reads(s string) bool {
	_, err := d.sum(s)
	return err == nil
}

// unknown says why s[from:to] is no unit of the dimension.
func (d *dimension) unknown(s, number string, from, to int) *Error {
	name := unitName(s[from:to])
	such := "write " + d.write + ", such as " + quote(number+" "+d.first)
	if h := d.hints[strings.ToLower(name)]; h != "" {
		return failf(from, to, "%s %s", quote(name), h)
	}
	for _, o := range dimensions {
		if o != d && o.lookup(name) != nil {
			return failf(from, to, "%s is a unit of %s: write %s in %s", quote(name), o.name(), d.noun, d.write)
		}
	}
	// "850 g (dry)": the unit is there and something follows it.
	for end := to; ; {
		cut := strings.LastIndexFunc(s[from:end], isSpace)
		if cut <= 0 {
			break
		}
		end = back(s, from, from+cut)
		if d.lookup(unitName(s[from:end])) != nil {
			rest := skip(s, end)
			return failf(rest, to, "%s after the unit is not understood: write only the number and the unit, %s", quote(s[rest:to]), offer(number+" "+s[from:end]))
		}
	}
	if near := d.nearest(name); near != "" {
		err := failf(from, to, "%s is not a unit of %s; did you mean %s? Write %s, such as %s", quote(name), d.name(), near, d.write, offer(number+" "+near))
		err.Near = near
		return err
	}
	return failf(from, to, "%s is not a unit of %s: %s", quote(name), d.name(), such)
}

// nearest returns the symbol of the unit whose name is the least edits away, or
// nothing where none is near. The order of the table settles ties.
func (d *dimension) nearest(name string) string {
	lower := []rune(strings.ToLower(name))
	if len(lower) > 20 {
		return ""
	}
	best, most := "", 2
	if len(lower) <= 3 {
		most = 1
	}
	for i := range d.units {
		u := &d.units[i]
		for _, list := range [][]string{u.exact, u.folded} {
			for _, n := range list {
				other := []rune(strings.ToLower(n))
				// In a short name, few edits lead from anything to anything.
				limit := min(most, len(other)/2)
				if e := edit.Distance(lower, other, 2); e <= limit { // and a swap leads from one short unit to another
					best, most = u.symbol, e-1
				}
			}
		}
	}
	return best
}

// whole rounds v once to the base unit and applies the bounds.
func (d *dimension) whole(s string, v *big.Rat) (int64, *Error) {
	from := skip(s, 0)
	to := back(s, from, len(s))
	text := quote(s[from:to])
	if v.Cmp(new(big.Rat).SetInt64(d.max)) > 0 {
		return 0, failf(from, to, "%s is more than %s, the most that is read for %s: look for a slip in the number or the unit", text, d.bounds[1], d.noun)
	}
	if v.Cmp(new(big.Rat).SetInt64(d.min)) < 0 {
		if d == temperatureDim && v.Cmp(big.NewRat(-273150, 1)) < 0 {
			return 0, failf(from, to, "%s is below absolute zero, -273.15 °C: look for a slip in the number or the unit", text)
		}
		return 0, failf(from, to, "%s is less than %s, the least that is read for %s: look for a slip in the number or the unit", text, d.bounds[0], d.noun)
	}
	n, _ := round(v) // within the bounds, so it fits
	if n == 0 && v.Sign() != 0 && d != temperatureDim {
		return 0, failf(from, to, "%s is too small to be kept: write 0, or look for a slip in the number or the unit", text)
	}
	return n, nil
}
