package table

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"kitmuster/lint/unit"
)

// decimals says what a comma between digits is in this table.
type decimals int

const (
	unknownComma decimals = iota
	decimalComma
	thousandsComma
)

var (
	commaEnd   = regexp.MustCompile(`[0-9],[0-9]{1,2}($|[^0-9])|[0-9],[0-9]{4,}|(^|[^0-9])0,[0-9]`)
	commaPoint = regexp.MustCompile(`[0-9],[0-9]{3}(,[0-9]{3})*\.[0-9]|[0-9],[0-9]{3},[0-9]{3}`)
	pointComma = regexp.MustCompile(`[0-9]\.[0-9]{3}(\.[0-9]{3})*,[0-9]`)
	oneComma   = regexp.MustCompile(`^[0-9]{1,3},[0-9]{3}$`)
	figure     = regexp.MustCompile(`[0-9][0-9.,'’]*`)
)

// commas finds out from all figures of the masses what a comma is.
func (s *Sheet) commas(cols []Column, first int) decimals {
	decimal, thousands := false, false
	for _, row := range s.Rows[first:] {
		for _, c := range cols {
			if c.At < len(row) && (c.Role == Each || c.Role == Total) {
				decimal = decimal || commaEnd.MatchString(row[c.At]) || pointComma.MatchString(row[c.At])
				thousands = thousands || commaPoint.MatchString(row[c.At])
			}
		}
	}
	switch {
	case decimal && !thousands:
		return decimalComma
	case thousands && !decimal:
		return thousandsComma
	}
	return unknownComma
}

// plain writes a figure of a cell with a decimal point and no separators; why says what is not sure.
func (d decimals) plain(text string) (out, why string) {
	for _, f := range figure.FindAllString(text, -1) {
		if d == unknownComma && oneComma.MatchString(strings.TrimRight(f, ".,")) {
			return "", fmt.Sprintf("%q may be %s or %s; write it without a comma", f, strings.Replace(f, ",", ".", 1), strings.Replace(f, ",", "", 1))
		}
	}
	return figure.ReplaceAllStringFunc(text, func(f string) string {
		f = strings.NewReplacer("'", "", "’", "").Replace(f)
		switch d {
		case decimalComma:
			if strings.Contains(f, ",") {
				f = strings.ReplaceAll(f, ".", "")
			}
			return strings.Replace(f, ",", ".", 1)
		case thousandsComma:
			return strings.ReplaceAll(f, ",", "")
		}
		return f
	}), ""
}

// mass reads a cell with the unit of its column or its row, where it has none itself. Figures are those that are written, for people
// and for the file; grain is the least step that the figures show.
func (d decimals) mass(cell, massUnit string) (m unit.Mass, text string, grain unit.Mass, err error) {
	text, why := d.plain(cell)
	if why != "" {
		return 0, "", 0, errors.New(why)
	}
	text = strings.TrimSuffix(strings.TrimSpace(text), ".")
	if _, err := unit.ParseCount(text); err == nil {
		if massUnit == "" {
			return 0, "", 0, fmt.Errorf("%q has no unit, and neither has its column", cell)
		}
		text += " " + massUnit
	}
	if m, err = unit.ParseMass(text); err != nil {
		return 0, "", 0, err
	}
	return m, text, step(text), nil
}

// step is one unit in the last place of the last figure of a mass.
func step(text string) unit.Mass {
	f := figure.FindAllString(text, -1)
	if len(f) == 0 {
		return 0
	}
	last := f[len(f)-1]
	_, fraction, _ := strings.Cut(last, ".")
	word := strings.TrimSpace(text[strings.LastIndex(text, last)+len(last):])
	one, err := unit.ParseMass("1 " + word)
	for range fraction {
		one /= 10
	}
	if err != nil {
		return 0
	}
	return one
}

// hidden is how much of a sum the figures that a cell does not show may come to, where its parts are rounded: a two-hundredth. Our
// own figure.
const hidden = 200

// near reports whether two sums agree but for rounding: half a step of the one that is shown, and of what was added half a step each,
// up to the share of hidden.
func near(sum, shown, grain, parts unit.Mass) bool {
	off := sum - shown
	return max(off, -off) <= (grain+min(parts, shown/(hidden/2))+1)/2
}

var (
	countCell  = regexp.MustCompile(`(?i)^[x×]?\s*([0-9]{1,4})(?:[.,]0+)?\s*(?:[x×]|pcs?\.?|pieces?|stk\.?|stück|pairs?|paar|個|本|枚)?$`)
	countFirst = regexp.MustCompile(`^([1-9][0-9]{0,2})\s*[x×]\s+(\S.*)$`)
)

// counted takes a number from the front of a name, as in "2 x torch".
func counted(name string) (n, rest string) {
	if f := countFirst.FindStringSubmatch(name); f != nil {
		return f[1], f[2]
	}
	return "", name
}

// totalWords begin the name of a row that holds a sum.
var totalWords = []string{"total", "totals", "sum", "subtotal", "sub total", "grand total", "overall", "summe", "zwischensumme", "gesamt", "gesamtgewicht", "gesamtsumme", "total general", "sous total", "somme", "suma", "合計", "小計", "総計"}

// grandWords say that a sum is one of the whole sheet.
var grandWords = []string{"grand", "overall", "all", "everything", "gesamt", "gesamtsumme", "insgesamt", "general", "総計"}

// sums reports whether a name is that of a row of sums.
func sums(name string) bool {
	f := fold(name)
	return slices.ContainsFunc(totalWords, func(w string) bool {
		return f == fold(w) || strings.HasPrefix(f, fold(w)+" ") || strings.HasSuffix(f, " "+fold(w))
	})
}

func grand(name string) bool {
	return slices.ContainsFunc(strings.Fields(fold(name)), func(w string) bool { return slices.Contains(grandWords, w) })
}
