package load

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/cuecontext"
	"cuelang.org/go/cue/load"
)

// hundred is a household of 100 items, half of them from a shared catalogue, in three files.
func hundred() fstest.MapFS {
	var cat, a, b strings.Builder
	cat.WriteString("package kit\n\n_catalogue: {\n")
	for i := range 50 {
		fmt.Fprintf(&cat, "\tthing%d: {name: \"thing %d\", mass: \"%d g\", weighed: \"2026-09-%02d\", can: %s}\n", i, i, 20+i, 1+i%28,
			[]string{`fire: "matches"`, `light: "headlamp"`, `cut: "knife"`, `signal: "whistle"`, `repair: "cord"`}[i%5])
	}
	cat.WriteString("}\n")
	a.WriteString("package kit\n\npacks: rust: {carrier: \"ana\", mass: \"1.2 kg\", compartments: main: {reach: \"halted\", items: {\n")
	for i := range 50 {
		fmt.Fprintf(&a, "\tthing%d: _catalogue.thing%d & {count: %d}\n", i, i, 1+i%3)
	}
	a.WriteString("}}}\n")
	b.WriteString("package kit\n\npacks: blue: {carrier: \"bo\", mass: \"2 lb 4 oz\", compartments: {\n")
	for c := range 5 {
		fmt.Fprintf(&b, "\tpart%d: {reach: \"walking\", items: {\n", c)
		for i := range 10 {
			fmt.Fprintf(&b, "\t\tfood%d: {mass: \"%d g\", weighed: \"2026-09-01\", expires: \"2027-0%d-01\", food: {energy: \"%d kcal\", salt: \"0.%d g\"}}\n", i, 60+i, 1+i%9, 200+i, 1+i)
		}
		b.WriteString("\t}}\n")
	}
	b.WriteString("}}\n")
	house := `package kit

household: "Hundred"
people: ana: {age: "42 y", bodyMass: "88 kg", height: "180 cm", sex: "female"}
people: bo: {born: "1980-02-03", bodyMass: "165 lb"}
plan: {duration: "72 h", season: "cold", seasons: cold: {day: "9 °C", night: "2 °C", daylight: "9 h 30 min"}}
`
	return fstest.MapFS{
		"valley/cue.mod/module.cue": {Data: []byte("module: \"valley.example/kits@v0\"\nlanguage: version: \"v0.17.0\"\n")},
		"valley/catalogue.cue":      {Data: []byte(cat.String())},
		"valley/fam/household.cue":  {Data: []byte(house)},
		"valley/fam/rust.cue":       {Data: []byte(a.String())},
		"valley/fam/blue.cue":       {Data: []byte(b.String())},
	}
}

// BenchmarkHousehold times reading a household of 100 items beside its floor,
// CUE's own evaluation of the same files with no schema; compare the two in one run.
func BenchmarkHousehold(b *testing.B) {
	tree := hundred()
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			inst := load.Instances([]string{"."}, &load.Config{Dir: "/valley/fam", FS: tree, Package: packageName, Registry: noRegistry{}, Env: []string{}})[0]
			v := cuecontext.New(cuecontext.CUE_DEBUG("")).BuildInstance(inst)
			if err := v.Validate(cue.Concrete(true)); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("load", func(b *testing.B) {
		for b.Loop() {
			if l := Household(tree, "valley/fam", Options{}); l.Kit == nil {
				b.Fatal(l.Faults)
			}
		}
	})
	b.Run("locate100", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			l := Household(tree, "valley/fam", Options{})
			b.StartTimer()
			for _, p := range l.Kit.Packs {
				for _, c := range p.Compartments {
					for _, i := range c.Items {
						l.Locate(i.Spot + "/mass")
					}
				}
			}
		}
	})
}
