package lint_test

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/cuecontext"
	cueload "cuelang.org/go/cue/load"

	"kitmuster/lint/household"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/report"
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

// evaluateAlone is the floor of reading: CUE evaluates the same files with no schema.
func evaluateAlone(b *testing.B, tree fstest.MapFS) {
	inst := cueload.Instances([]string{"."}, &cueload.Config{Dir: "/valley/fam", FS: tree, Package: "kit", Env: []string{"CUE_REGISTRY=none"}})[0]
	if err := cuecontext.New(cuecontext.CUE_DEBUG("")).BuildInstance(inst).Validate(cue.Concrete(true)); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkStages times each stage for one household of 100 items, on one core,
// beside the floor of the first two. The floor of judging, one evaluation of the
// same rules on ready facts, stands in lint/judge beside its own stage. Compare
// within one run only.
func BenchmarkStages(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	tree, rulebook, on := hundred(), rulebook(b), day(b)
	loaded := load.Household(tree, "valley/fam", load.Options{})
	if loaded.Kit == nil {
		b.Fatal(loaded.Faults)
	}
	facts, ledger := measure.Of(loaded.Kit, measure.Options{On: on})
	known := func(id string) bool { _, ok := ledger.Entry(id); return ok }
	res := check(b, tree, rulebook, "...")
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			evaluateAlone(b, tree)
		}
	})
	b.Run("load+measure", func(b *testing.B) {
		for b.Loop() {
			measure.Of(load.Household(tree, "valley/fam", load.Options{}).Kit, measure.Options{On: on})
		}
	})
	b.Run("load", func(b *testing.B) {
		for b.Loop() {
			load.Household(tree, "valley/fam", load.Options{})
		}
	})
	b.Run("measure", func(b *testing.B) {
		for b.Loop() {
			measure.Of(loaded.Kit, measure.Options{On: on})
		}
	})
	b.Run("judge", func(b *testing.B) {
		for b.Loop() {
			rulebook.Judge(context.Background(), facts, known)
		}
	})
	for _, f := range report.Formats {
		b.Run("render-"+f.Name, func(b *testing.B) {
			for b.Loop() {
				if err := f.Write(io.Discard, &res.Run, report.Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("whole", func(b *testing.B) {
		for b.Loop() {
			household.Judge(context.Background(), tree, rulebook, "valley/fam", household.Options{On: on})
		}
	})
}

// BenchmarkHouseholds judges 200 households of 100 items with one worker and with one for each core.
func BenchmarkHouseholds(b *testing.B) {
	one := hundred()
	tree := fstest.MapFS{}
	for name, f := range one {
		if family, is := strings.CutPrefix(name, "valley/fam/"); is {
			for i := range 200 {
				tree[fmt.Sprintf("valley/fam%03d/%s", i, family)] = f
			}
			continue
		}
		tree[name] = f
	}
	rulebook := rulebook(b)
	for _, workers := range []int{1, runtime.NumCPU()} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			for b.Loop() {
				if res := checkWith(b, workers, tree, rulebook, "..."); len(res.Run.Households) != 200 || res.Unfit {
					b.Fatal("not all were judged")
				}
			}
		})
	}
}
