package intake

import (
	"fmt"
	"regexp"
	"strings"

	"kitmuster/lint/table"
	"kitmuster/lint/unit"
)

// mostMass is the most that a cell may say. Our own figure, above what any household takes along: 10 t.
const mostMass = unit.Mass(10_000_000_000_000)

// style is how the numbers of a table are written.
type style struct{ comma, dot bool }

var (
	numeral   = regexp.MustCompile(`^[0-9][0-9.,' \x{00a0}\x{202f}]*$`)
	oneMark   = regexp.MustCompile(`^[0-9]+([.,])([0-9]+)$`)
	inText    = regexp.MustCompile(`[0-9]+[.,][0-9]+`)
	poundsOz  = regexp.MustCompile(`^([0-9]+)\s*[/\-: ]\s*([0-9]+(?:\.[0-9]+)?)$`)
	about     = regexp.MustCompile(`^(?i)(?:~|≈|ca\.?|circa|about|approx\.?|etwa|env\.?|environ|aprox\.?|約)\s*`)
	nothing   = regexp.MustCompile(`^(?i)(?:-+|–|—|\?+|n/?a|tbd|unknown|unbekannt|inconnu|desconocido|keine|none|不明|\.)$`)
	packOfX   = regexp.MustCompile(`^(?i)(?:x\s*([0-9]{1,4})|([0-9]{1,4})\s*(?:x|×|pcs?|pieces|stk\.?|stück|st\.|pièces|uds?|個|本|枚|袋|缶)?\.?)$`)
	thousands = regexp.MustCompile(`^[0-9]{1,3}([.,' \x{00a0}\x{202f}][0-9]{3})+$`)
)

// look looks at the amounts of a column: 1,5 has a decimal comma, 1.5 a point; of 1,250 nobody knows.
func (st *style) look(c table.Cell) {
	if c.Number {
		return
	}
	for _, m := range inText.FindAllString(c.Text, -1) {
		if k := oneMark.FindStringSubmatch(m); k != nil && (len(k[2]) != 3 || strings.HasPrefix(m, "0")) {
			st.comma, st.dot = st.comma || k[1] == ",", st.dot || k[1] == "."
		}
	}
}

// plain writes a numeral with a decimal point and without marks of thousands. doubtful: both readings are possible, and it is read as
// thousands.
func (st style) plain(text string) (out string, doubtful, ok bool) {
	text = strings.TrimSpace(text)
	if !numeral.MatchString(text) {
		return "", false, false
	}
	text = strings.NewReplacer("'", "", " ", "", "\u00a0", "", "\u202f", "").Replace(text)
	comma, dot := strings.LastIndexByte(text, ','), strings.LastIndexByte(text, '.')
	switch {
	case comma >= 0 && dot >= 0 && comma > dot:
		return strings.Replace(strings.ReplaceAll(text, ".", ""), ",", ".", 1), false, strings.Count(text, ",") == 1
	case comma >= 0 && dot >= 0:
		return strings.ReplaceAll(text, ",", ""), false, strings.Count(text, ".") == 1
	case comma < 0 && dot < 0:
		return text, false, true
	}
	mark, decimal, other := ".", st.dot, st.comma
	if comma >= 0 {
		mark, decimal, other = ",", st.comma, st.dot
	}
	if strings.Count(text, mark) > 1 {
		return strings.ReplaceAll(text, mark, ""), false, thousands.MatchString(text)
	}
	if thousands.MatchString(text) && !strings.HasPrefix(text, "0") && (!decimal || other) {
		return strings.ReplaceAll(text, mark, ""), !other, true
	}
	return strings.TrimSuffix(strings.Replace(text, mark, ".", 1), "."), false, true
}

// amount is a mass that a cell says.
type amount struct {
	// text is as a kit has it; "" where it is not known.
	text string
	mass unit.Mass
	// about: it is said to be no exact figure.
	about bool
	// doubt says what was not understood, or how it was taken.
	doubt string
	// slack is half of the last place that is written, for sums of rounded figures.
	slack unit.Mass
}

// massOf reads a cell of masses. unitIn is the unit of its column, or "".
func massOf(c table.Cell, unitIn string, st style) (a amount) {
	text := strings.Join(strings.Fields(strings.ReplaceAll(c.Text, "\u00a0", " ")), " ")
	switch {
	case c.NoValue:
		a.doubt = "a formula without its last value; open the table in a spreadsheet program and save it"
		return a
	case text == "" || nothing.MatchString(text):
		return a
	case strings.HasPrefix(text, "#"):
		a.doubt = "an error of the table's own"
		return a
	}
	if m := about.FindString(text); m != "" {
		a.about, text = true, text[len(m):]
	}
	if t := strings.TrimSpace(strings.TrimRight(text, "?")); t != text {
		a.about, text = true, t
	}
	text = strings.TrimSuffix(text, ".")
	if m := poundsOz.FindStringSubmatch(text); m != nil && unitIn == "lb/oz" {
		a.set(m[1]+" lb "+m[2]+" oz", m[2], "oz")
		return a
	}
	if n, doubtful, ok := st.plain(text); ok || c.Number {
		if c.Number {
			n, doubtful = text, false
		}
		switch {
		case unitIn == "":
			a.doubt = "a number without a unit; --unit says which"
			return a
		case unitIn == "lb/oz":
			a.set(n+" lb", n, "lb")
			a.doubt = "taken as " + a.text
			return a
		}
		if doubtful {
			if unitIn == "kg" || unitIn == "lb" { // nobody carries a thing of a ton
				n = strings.Replace(text, ",", ".", 1)
			}
			a.doubt = "taken as " + n + " " + unitIn
		}
		a.set(n+" "+unitIn, n, unitIn)
		return a
	}
	// A unit stands in the cell: numerals get points, words for units become units.
	var out, last []string
	for _, w := range amountParts(text) {
		if n, _, ok := st.plain(w); ok {
			out, last = append(out, n), append(last, n)
			continue
		}
		u, ok := units[strings.ToLower(strings.TrimSuffix(w, "."))]
		if !ok {
			u = w
		}
		out = append(out, u)
	}
	if len(out) > 0 && len(last) > 0 {
		a.set(strings.Join(out, " "), last[len(last)-1], out[len(out)-1])
		return a
	}
	a.doubt = "no mass"
	return a
}

// amountParts divides "2lbs 3oz" into numerals and words.
var amountPart = regexp.MustCompile(`[0-9][0-9.,']*(?:/[0-9]+)?|[^0-9\s]+`)

func amountParts(text string) []string {
	text = regexp.MustCompile(`([0-9]) ([0-9]{3})\b`).ReplaceAllString(text, "$1$2")
	return amountPart.FindAllString(text, -1)
}

// set takes a text as a kit would have it, where it can be read. n is its last numeral, of unit u.
func (a *amount) set(text, n, u string) {
	m, err := unit.ParseMass(text)
	if err != nil {
		a.doubt = "no mass that can be read: " + err.Error()
		return
	}
	if m <= 0 {
		a.doubt = "nothing weighs nothing; left out as not known"
		return
	}
	if m > mostMass {
		a.doubt = "more than anybody takes along; left out as not known"
		return
	}
	a.text, a.mass = text, m
	place := "1"
	if _, frac, ok := strings.Cut(n, "."); ok {
		place = "0." + strings.Repeat("0", max(0, len(frac)-1)) + "1"
	}
	if p, err := unit.ParseMass(place + " " + u); err == nil {
		a.slack = p / 2
	}
}

// countOf reads a count; ok is false where there is one that cannot be read.
func countOf(c table.Cell) (n int, known, ok bool) {
	text := strings.TrimSpace(c.Text)
	if c.NoValue {
		return 1, false, false
	}
	if text == "" || nothing.MatchString(text) {
		return 1, false, true
	}
	text = strings.TrimSuffix(strings.TrimSuffix(text, ".0"), ",0")
	m := packOfX.FindStringSubmatch(text)
	if m == nil {
		return 1, false, false
	}
	for _, r := range m[1] + m[2] {
		n = n*10 + int(r-'0')
	}
	return n, true, true
}

// grams writes a mass to the microgram, for figures that must not look the same where they differ.
func grams(m unit.Mass) string {
	s := fmt.Sprintf("%d.%06d", m/1_000_000, m%1_000_000)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".") + " g"
}
