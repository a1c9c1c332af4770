package judge

import (
	"context"
	"os"
	"runtime"
	"slices"
	"testing"

	"kitmuster/lint/finding"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/unit"
)

// oldest are rules that the base standard has had from the start; the cost of the whole is told in their terms.
var oldest = []string{
	"dates/expired", "dates/expires-within", "fire/two-means", "first-aid/basic-in-each-pack", "food/cook-fuel", "endurance/energy", "endurance/sodium", "food/alone-no-cook",
	"light/each-pack", "load/animal-cap", "load/body-mass-cap", "load/child-cap", "load/imbalance", "load/unweighed", "medication/days",
	"medication/expired", "power/cells-fit-devices", "separation/alone", "shelter/each-pack", "water/container-capacity", "water/turbid", "water/purification",
	"water/start-litres",
}

// BenchmarkRulebook times one evaluation of the oldest rules and of all, on one
// core, over the facts of an example household of some 100 items. Compare within one run.
func BenchmarkRulebook(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	rulebook, problems := New(Base())
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	on, err := unit.ParseDate("2026-11-01")
	if err != nil {
		b.Fatal(err)
	}
	first := *rulebook
	first.rules = slices.DeleteFunc(rulebook.Rules(), func(r *Rule) bool { return !slices.Contains(oldest, r.Name) })
	if len(first.rules) != len(oldest) {
		b.Fatalf("%d of the oldest %d rules are there", len(first.rules), len(oldest))
	}
	for _, family := range []string{"cedar", "birch", "alder"} {
		l := load.Household(os.DirFS("../.."), "examples/harrow-valley/"+family, load.Options{})
		if l.Kit == nil {
			b.Fatal(l.Faults)
		}
		facts, ledger := measure.Of(l.Kit, measure.Options{On: on})
		known := func(id string) bool { _, ok := ledger.Entry(id); return ok }
		ready := encode(facts)
		for _, c := range []struct {
			name     string
			rulebook *Rulebook
		}{{"oldest", &first}, {"all", rulebook}} {
			b.Run(family+"/"+c.name, func(b *testing.B) {
				for b.Loop() {
					c.rulebook.judge(context.Background(), ready, known, finding.Note)
				}
			})
		}
	}
}
