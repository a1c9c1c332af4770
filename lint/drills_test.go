package lint_test

import (
	"context"
	"os"
	"runtime"
	"slices"
	"testing"
	"testing/fstest"

	"kitmuster/lint"
	"kitmuster/lint/drill"
	"kitmuster/lint/finding"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/unit"
)

// BenchmarkDrills times every drill of a household of four people, an animal and 129 items on one core, beside one
// plain judging of it, and the forecast alone. Compare within one run only.
func BenchmarkDrills(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	tree, bench, on := os.DirFS("../examples/harrow-valley"), bench(b), day(b)
	loaded := load.Household(tree, "birch", load.Options{})
	o := lint.Options{On: on}
	facts, ledger := measure.Of(loaded.Kit, measure.Options{On: on})
	b.Run("load", func(b *testing.B) {
		for b.Loop() {
			load.Household(tree, "birch", load.Options{})
		}
	})
	b.Run("measure-once", func(b *testing.B) {
		for b.Loop() {
			measure.Of(loaded.Kit, measure.Options{On: on})
		}
	})
	b.Run("judge-once", func(b *testing.B) {
		for b.Loop() {
			bench.Judge(context.Background(), facts, func(id string) bool { _, ok := ledger.Entry(id); return ok })
		}
	})
	b.Run("change", func(b *testing.B) {
		for b.Loop() {
			drill.All(loaded.Kit, func(string) unit.Mass { return 0 })
		}
	})
	for _, least := range []finding.Level{finding.Error, finding.Warning, finding.Note} {
		b.Run("all-with-load-"+string(least), func(b *testing.B) {
			for b.Loop() {
				lint.Drill(context.Background(), tree, bench, "birch", least, o)
			}
		})
	}
}

var _ = slices.Contains[[]string]
var _ = finding.Error
var _ fstest.MapFS
