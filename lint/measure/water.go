package measure

import (
	"kitmuster/lint/facts"
	"kitmuster/lint/unit"
)

const noEnd = unit.Volume(facts.NoEnd) * 1000

const methodBoil = "boil"

// The organism classes of the CDC's table.
const (
	bacteria = iota
	viruses
	giardia
	crypto
	classes
)

// grade is how well a method works against a class, in the CDC's words.
type grade int

const (
	notEffective grade = iota
	lowToModerate
	moderate
	high
	veryHigh
)

// cell is one grade with how it is known: "seen" in a page that quotes the CDC,
// "summary" where only a summary of the CDC's table was seen, "derived" from
// another row, "memory".
type cell struct {
	grade grade
	known string
}

// treatments is the method by organism table of the CDC "Guide to Drinking Water
// Treatment and Sanitation for Backcountry & Travel Use", one row for each method
// of the schema. The purifier's row is the EPA "Guide Standard and Protocol for
// Testing Microbiological Water Purifiers" (1987, year from memory): 6 log of
// bacteria, 4 of viruses, 3 of cysts.
var treatments = []struct {
	method string
	cells  [classes]cell
}{
	{methodBoil, [classes]cell{{veryHigh, "summary"}, {veryHigh, "summary"}, {veryHigh, "summary"}, {veryHigh, "seen"}}},
	// An absolute pore of 0.3 µm or less; the cysts follow from the row for 1 µm.
	{"filter", [classes]cell{{moderate, "seen"}, {notEffective, "seen"}, {high, "derived"}, {high, "derived"}}},
	{"purifier", [classes]cell{{high, "seen"}, {high, "seen"}, {high, "seen"}, {high, "seen"}}},
	{"chlorine", [classes]cell{{high, "summary"}, {high, "summary"}, {lowToModerate, "memory"}, {notEffective, "seen"}}},
	{"iodine", [classes]cell{{high, "summary"}, {high, "summary"}, {lowToModerate, "memory"}, {notEffective, "seen"}}},
	{"chlorine-dioxide", [classes]cell{{high, "summary"}, {high, "summary"}, {high, "memory"}, {lowToModerate, "seen"}}},
	// Clear water only.
	{"uv", [classes]cell{{high, "memory"}, {high, "memory"}, {high, "memory"}, {high, "memory"}}},
}

const treatAccount = "litres by methods of grade high or better in the CDC Guide to Drinking Water Treatment and Sanitation for Backcountry & Travel Use " +
	"(purifier: EPA Guide Standard and Protocol 1987; chlorine dioxide that is given 4 h counts for Cryptosporidium by a label registered with the EPA); boiling counts as far as the fuel goes once the food is cooked, and needs a fire-safe pot or cup; follow the product's label"

// treats reports whether a method counts against a class.
func treats(method string, class int) bool {
	for i := range treatments {
		if treatments[i].method == method {
			return treatments[i].cells[class].grade >= high
		}
	}
	return false
}

// cryptoWait is how long chlorine dioxide takes for Cryptosporidium by a label registered with the EPA (year not seen; seen
// second-hand): tablets that are written to be given that time clear it, whatever the CDC's grade for the usual half hour.
const cryptoWait = unit.Duration(4 * 3600)

// clears reports whether a thing's treatment counts against a class.
func clears(t *thing, class int) bool {
	tr := &t.it.Treat.Value
	return treats(t.method, class) || class == crypto && t.method == "chlorine-dioxide" && tr.Wait.Set && tr.Wait.Value >= cryptoWait
}

var classKeys = [classes]struct{ key, label string }{
	{"treat-bacteria", "water that can be cleared of bacteria"},
	{"treat-viruses", "water that can be cleared of viruses"},
	{"treat-giardia", "water that can be cleared of Giardia"},
	{"treat-crypto", "water that can be cleared of Cryptosporidium"},
}
