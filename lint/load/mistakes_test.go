package load

import (
	"fmt"
	"strings"
	"testing"
)

// What people write who have never seen CUE, and what they are told: the first fault, word for word from "part" on.
func TestMistakes(t *testing.T) {
	const frame = "package kit\n\nhousehold: \"Alder\"\npeople: ana: {age: \"42 y\", bodyMass: \"68 kg\"}\npacks: rust: {carrier: \"ana\", mass: \"1 kg\", compartments: lid: {reach: \"walking\", items: {\n\tthing: {\n\t\t%s\n\t}\n}}}\n"
	item := func(line string) string { return fmt.Sprintf(frame, line) }
	for text, want := range map[string]string{
		// A text where fields or a list are wanted, and the reverse.
		item(`can: "signal"`):                       `can: "signal" (text in quotes) stands where a group of fields in braces is wanted; write can: signal: "whistle"`,
		item(`treat: "filter"`):                     `treat: "filter" (text in quotes) stands where a group of fields in braces is wanted; write treat: method: "filter"`,
		item(`food: 450`):                           `food: 450 (whole number) stands where a group of fields in braces is wanted; write food: energy: "450 kcal"`,
		item(`documents: "identity"`):               `documents: "identity" (text in quotes) stands where a list in square brackets is wanted; write documents: ["identity"]`,
		item(`mass: {kg: 1}`):                       `mass: a group of fields in braces stands where a text in quotes is wanted; write mass: "850 g"`,
		item(`mass: ["40 g"]`):                      `mass: a list in square brackets stands where a text in quotes is wanted; write mass: "850 g"`,
		small + `people: ana: allergies: ["nuts"]`:  `allergies: a list in square brackets stands where a group of fields in braces is wanted; write allergies: nuts: {severe: true}`,
		small + `plan: contacts: [{name: "x"}]`:     `contacts: a list in square brackets stands where a group of fields in braces is wanted; write contacts: cousin: {name: "cousin", phone: "555 0100"}`,
		small + `people: ana: diets: {vegan: true}`: `diets: a group of fields in braces stands where a list in square brackets is wanted; write diets: ["vegan"]`,
		// Another word for a field.
		item(`weight: "30 g"`):                   `unknown field "weight"; write mass instead: mass: "850 g"`,
		small + `people: ana: weight: "65 kg"`:   `unknown field "weight"; write bodyMass instead: bodyMass: "68 kg"`,
		small + `people: ana: dob: "1990-01-01"`: `unknown field "dob"; write born instead: born: "2027-03-01"`,
		item(`qty: 3`):                           `unknown field "qty"; write count instead: count: 1`,
		item(`kcal: 200`):                        `unknown field "kcal"; write food instead: food: energy: "450 kcal"`,
		item(`best_before: "2027-01-01"`):        `unknown field "best_before"; write expires instead: expires: "2027-03-01"`,
		item(`use: "fire"`):                      `unknown field "use"; write can instead: can: signal: "whistle"`,
		item(`can: whistle: true`):               `unknown field "whistle"; write signal: "whistle" instead`,
		item(`can: sleeping_bag: true`):          `unknown field "sleeping_bag"; write warmth: "sleeping-bag" instead`,
		small + `pets: rex: {species: "dog"}`:    `unknown field "pets"; write animals instead: animals: rex: {species: "dog", bodyMass: "24 kg"}`,
		item(`mas: "3 g"`):                       `unknown field "mas"; did you mean mass?`,
		// What is not known.
		item(`mass: null`):      `mass: null is no value; leave mass out where it is not known`,
		item(`mass: "?"`):       `mass: "?" is no quantity; leave mass out where it is not known`,
		item(`mass: "unknown"`): `mass: "unknown" is no quantity; leave mass out where it is not known`,
		// A number without its unit.
		small + `plan: duration: "72"`:     `duration: no unit after 72: write it with its unit, such as "72 h"`,
		item(`container: capacity: "1.5"`): `capacity: no unit after 1.5: write it with its unit, such as "1.5 L"`,
		item(`mass: "40"`):                 `mass: no unit after 40: write g, kg, oz or lb, such as "40 g"`,
		// What is missing.
		small + `packs: rust: {carrier: "ana", compartments: lid: items: {}}`: `reach is missing: write reach: "walking" or "halted"`,
		small + `animals: rex: species: "dog"`:                                `bodyMass is missing: write bodyMass: "24 kg"`,
		// What CUE cannot read.
		item(`mass: 40 g`):                      `; write the value in quotes: mass: "40 g"`,
		item(`expires: 2027-05-01`):             `; write the value in quotes: expires: "2027-05-01"`,
		item(`mass: “40 g”`):                    `; write straight quotes, such as "850 g", not those of a word processor`,
		item(`# a note`):                        `; a comment begins with //`,
		item("mass: \"40 g"):                    `; a quote is missing on this line`,
		small + "head torch: {}\n":              `; a name has no blanks: write head_torch`,
		small + "big-tarp: {}\n":                `; write big_tarp, or the name in quotes: "big-tarp"`,
		small + "2p_tarp: {}\n":                 `; a name begins with a letter: write n2p_tarp`,
		small + "plan = {}\n":                   `; write a colon after the name`,
		small + "plan: {duration: \"72 h\";}\n": `; no line ends with a semicolon`,
		small + "packs: rust: {\n\tmass: \"1 kg\"\nplan: {\n\tduration: \"72 h\"\n}\n": `; the brace that opens on line 5 is not closed`,
	} {
		l := one(text)
		if len(l.Faults) == 0 {
			t.Errorf("nothing is said of\n%s\nwant %s", text, want)
			continue
		}
		said := false
		for _, f := range l.Faults {
			said = said || strings.HasSuffix(f.Message, want)
		}
		if !said {
			t.Errorf("%s\n%s\nwant %s", text, strings.Join(messages(l), "\n"), want)
		}
	}
}
