package lint_test

import (
	"context"
	"fmt"
	"testing/fstest"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/unit"
)

// A household that is held in memory, judged in this process by the base standard.
func ExampleCheck() {
	tree := fstest.MapFS{"otter/household.cue": {Data: []byte(`package kit

household: "Otter"
people: ana: {name: "Ana", age: "34 y", bodyMass: "60 kg"}
packs: red: {
	name:    "Ana's pack"
	carrier: "ana"
	mass:    "1.4 kg"
	compartments: main: {reach: "halted", items: {
		bars: {mass: "0.8 kg", expires: "2026-08-31", food: energy: "3200 kcal"}
		tent: {mass: "1.2 kg"}
		anvil: {mass: "8.3 kg"}
	}}
}
`)}}
	on, err := unit.ParseDate("2026-11-01")
	if err != nil {
		fmt.Println(err)
		return
	}
	res := lint.Check(context.Background(), tree, lint.Options{Patterns: []string{"..."}, Options: household.Options{On: on}})
	defer res.Close()
	for f, err := range res.Run.Findings {
		if err != nil {
			fmt.Println(err)
			return
		}
		if f.Level == finding.Error { // f.Message says it in words
			fmt.Printf("%s:%d:%d: %s\n", f.At.File, f.At.Start.Line, f.At.Start.Col, f.Rule)
		}
	}
	fmt.Println(res.Run.Summary.Errors, "errors")
	// Output:
	// otter/household.cue:3:1: endurance/energy
	// otter/household.cue:3:12: first-aid/basic-in-each-pack
	// otter/household.cue:3:12: water/start-litres
	// otter/household.cue:5:8: fire/two-means
	// otter/household.cue:5:8: light/each-pack
	// otter/household.cue:5:8: water/purification
	// otter/household.cue:12:3: load/body-mass-cap
	// 7 errors
}
