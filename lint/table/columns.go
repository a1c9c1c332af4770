package table

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"kitmuster/lint/unit"
	"kitmuster/lint/words"
)

// Role is what a column holds.
type Role string

// The roles.
const (
	Item    Role = "item"
	Count   Role = "count"
	Each    Role = "each"  // mass of one
	Total   Role = "total" // mass of all pieces of a row
	Pack    Role = "pack"
	Place   Role = "place" // compartment
	Carrier Role = "carrier"
	Expires Role = "expires"
	Unit    Role = "unit" // of the masses in the row
	Note    Role = "note"
	Nothing Role = "nothing" // left out by the family's wish
)

// Roles are those that --map knows.
var Roles = []Role{Item, Count, Each, Total, Pack, Place, Carrier, Expires, Unit, Note, Nothing}

//go:embed heads.json
var headsJSON []byte

// heads are the folded words at the head of a column, with what it holds.
var heads = sync.OnceValue(func() map[string]Role {
	by := map[Role][]string{}
	if err := json.Unmarshal(headsJSON, &by); err != nil {
		panic("heads.json: " + err.Error()) // it is part of the program
	}
	out := map[string]Role{}
	for role, words := range by {
		for _, w := range words {
			out[fold(w)] = role
		}
	}
	return out
})

// fold brings a head to lower-case letters without accents, with single blanks.
func fold(s string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(strings.ReplaceAll(s, "ß", "ss"))) {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r), r == '\u3099', r == '\u309a': // the last two tell Japanese letters apart
			b.WriteRune(r)
		case !unicode.Is(unicode.Mn, r):
			b.WriteByte(' ')
		}
	}
	return norm.NFC.String(strings.Join(strings.Fields(b.String()), " "))
}

// A Column is one column of a table. Head is its head as it is written; Unit stands there too, or is "".
type Column struct {
	At   int
	Head string
	Role Role
	Unit string
	// By says who gave it its role.
	By string
	// again: it holds masses too, after a column that is taken for those of one piece.
	again bool
}

// massUnits are the units that a head may name, by their folded words.
var massUnits = map[string]string{
	"g": "g", "gr": "g", "gm": "g", "gms": "g", "gram": "g", "grams": "g", "gramm": "g", "gramme": "g", "grammes": "g", "gramo": "g", "gramos": "g", "グラム": "g",
	"kg": "kg", "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg", "kilogramm": "kg", "oz": "oz", "ounce": "oz", "ounces": "oz", "onzas": "oz",
	"lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb", "libras": "lb",
}

// roleOf is what a head says of its column: "" where it is not known.
func roleOf(head string) (role Role, massUnit string) {
	var left []string
	for _, w := range strings.Fields(fold(head)) {
		if u := massUnits[w]; u != "" && massUnit == "" {
			massUnit = u
			continue
		}
		left = append(left, w)
	}
	if massUnit != "" && len(left) > 0 && (left[len(left)-1] == "in" || left[len(left)-1] == "en") { // weight in g
		left = left[:len(left)-1]
	}
	known := heads()
	if role = known[strings.Join(left, " ")]; role != "" {
		return role, massUnit
	}
	if len(left) == 0 && massUnit != "" {
		return Each, massUnit
	}
	// The longest known head that stands whole in it, the last of several.
	best := ""
	for n := len(left); n > 0 && best == ""; n-- {
		for i := len(left) - n; i >= 0 && best == ""; i-- {
			if phrase := strings.Join(left[i:i+n], " "); known[phrase] != "" && len(phrase) > 2 {
				best = phrase
			}
		}
	}
	return known[best], massUnit
}

// columnsOf reads a row as one of heads, and says how many of them are known.
func columnsOf(row []string) (cols []Column, known int) {
	for i, head := range row {
		c := Column{At: i, Head: head, By: "head"}
		if head != "" {
			c.Role, c.Unit = roleOf(head)
		}
		if c.Role != "" {
			known++
		}
		cols = append(cols, c)
	}
	return cols, known
}

// headRows is how far down a row of heads is looked for.
const headRows = 20

// Columns finds the row of heads and what each column holds. Given maps a column, by its letter or its head, to a role, as the family
// says; it goes before what is found. First is the first row of things. The error says what to write instead.
func (s *Sheet) Columns(given map[string]Role) (cols []Column, first int, err error) {
	best := 1
	for i := range s.Rows[:min(len(s.Rows), headRows)] {
		found, known := columnsOf(s.Rows[i])
		if is := func(r Role) bool { return slices.ContainsFunc(found, func(c Column) bool { return c.Role == r }) }; known > best && (is(Item) || is(Each) || is(Total)) {
			cols, first, best = found, i+1, known
		}
	}
	if cols == nil {
		wide := 0
		for _, row := range s.Rows {
			wide = max(wide, len(row))
		}
		for i := range wide {
			cols = append(cols, Column{At: i})
		}
	}
	s.countOrName(cols, first)
	for _, name := range sortedKeys(given) {
		at := slices.IndexFunc(cols, func(c Column) bool { return Letters(c.At) == strings.ToUpper(name) })
		if i := slices.IndexFunc(cols, func(c Column) bool { return c.Head != "" && fold(c.Head) == fold(name) }); i >= 0 {
			at = i
		}
		if at < 0 {
			var all []string
			for _, c := range cols {
				all = append(all, c.Head)
			}
			return nil, 0, fmt.Errorf("there is no column %q; there are A to %s%s", name, Letters(max(len(cols)-1, 0)), called(all))
		}
		cols[at].Role, cols[at].By = given[name], "you"
	}
	oneEach(cols)
	has := func(r Role) bool { return slices.ContainsFunc(cols, func(c Column) bool { return c.Role == r }) }
	if !has(Item) {
		return nil, 0, fmt.Errorf("no column is known to hold the names of things%s; say which does, such as --map A=item, and which has what one weighs, such as --map B=each", called(s.firstRow()))
	}
	return cols, first, nil
}

// countOrName settles "nombre", which is a number in French and a name in Spanish, by what stands under it.
func (s *Sheet) countOrName(cols []Column, first int) {
	for i := range cols {
		if fold(cols[i].Head) != "nombre" {
			continue
		}
		figures, rest := 0, 0
		for _, row := range s.Rows[first:] {
			if i < len(row) && row[i] != "" {
				if _, err := unit.ParseCount(row[i]); err == nil {
					figures++
				} else {
					rest++
				}
			}
		}
		if cols[i].Role = Item; figures > rest {
			cols[i].Role = Count
		}
	}
}

// oneEach leaves each role to one column, the first that has it or the one that the family named; pounds and ounces may be a pair, and
// notes several.
func oneEach(cols []Column) {
	taken := map[Role]int{}
	for pass := range 2 {
		for i := range cols {
			c := &cols[i]
			if c.Role == "" || c.Role == Note || c.Role == Nothing || (c.By == "you") != (pass == 0) {
				continue
			}
			at, is := taken[c.Role]
			switch pair := is && (c.Role == Each || c.Role == Total) && cols[at].Unit == "lb" && c.Unit == "oz"; {
			case !is:
				taken[c.Role] = i
			case !pair:
				c.again = c.Role == Each
				c.Role = ""
			}
		}
	}
}

// ofOne are words of a head that say that its masses are of one piece.
var ofOne = []string{"one", "each", "unit", "piece", "per", "unitaire", "piece", "einzelgewicht", "stuckgewicht", "stuck", "unitario", "unidad"}

// saysOne reports whether the head of a column says whose its masses are.
func saysOne(head string) bool {
	return slices.ContainsFunc(strings.Fields(fold(head)), func(w string) bool { return slices.Contains(ofOne, w) })
}

func (s *Sheet) firstRow() []string {
	for _, row := range s.Rows {
		if !blank(row) {
			return row
		}
	}
	return nil
}

// called lists heads, for people.
func called(heads []string) string {
	var out []string
	for _, h := range heads {
		if h != "" && len(out) < 8 {
			out = append(out, fmt.Sprintf("%q", words.Clean(short(h))))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return ", called " + strings.Join(out, ", ")
}

// short cuts a text that is only shown.
func short(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return s
}
