// Package kinds holds the closed vocabularies of a kit and of what is said about it: drills, dates, stocks, capabilities,
// reaches, quantities and units. Each is a type of text with its constants and one table, and a row of the table has what every
// output needs to say about the kind: its words, its order, and what others may be told of it. A new kind is a constant and a
// row; outputs have no list of their own.
//
// Tests hold that there is no other way: a kind without a row, a row with a blank, a literal in the place of a constant
// (lint/literals_test.go) and a kind that an output leaves out (lint/kinds_test.go walks every output for every row) each fail. The
// schema and the rules are held to the same tables.
package kinds

// None stands in a table where a kind has nothing to say, or nothing that others may hear.
const None = "-"

// row is that of a kind in its table; with nothing in it where the table has none such.
func row[K comparable, R any](table []R, of func(*R) K, kind K) (out R) {
	for i := range table {
		if of(&table[i]) == kind {
			return table[i]
		}
	}
	return out
}

// Texts are kinds as plain texts, in their order.
func Texts[K ~string](list []K) []string {
	out := make([]string, len(list))
	for i, k := range list {
		out[i] = string(k)
	}
	return out
}
