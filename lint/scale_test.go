package lint_test

import (
	"bytes"
	"context"
	"encoding/json"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/cuecontext"
	cueload "cuelang.org/go/cue/load"
	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage/inmem"

	"kitmuster/lint/facts"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/kit"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/valley"
)

// scale is how many households the benchmark judges, of about 100 items each.
const scale = 200

// BenchmarkScale judges a valley of households in process on all cores, and in
// the same run, turn by turn, does the least that could be done for it: CUE's
// evaluation of the same files with no schema, and one evaluation of the same
// rules, prepared once by the stock engine, on ready facts. What the metrics say:
//
//	of-floor    the whole against that floor
//	of-cue      reading a household against CUE's evaluation
//	of-rules    judging against the stock engine's evaluation
//	measure-%   measuring, as a share of the whole
//
// Each is the median over the rounds; -benchtime 5x makes five.
func BenchmarkScale(b *testing.B) {
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // as the program sets it
	dir := b.TempDir()
	for name, text := range valley.Files(valley.Options{Households: scale, Items: 100, Seed: 3}) {
		p := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(p), 0o777); err != nil {
			b.Fatal(err)
		}
		if err := os.WriteFile(p, text, 0o666); err != nil {
			b.Fatal(err)
		}
	}
	tree, rulebook, on := os.DirFS(dir), rulebook(b), day(b)
	dirs, faults := load.Find(tree, []string{"..."}, load.Options{})
	if len(dirs) != scale || len(faults) > 0 {
		b.Fatalf("%d households, %v", len(dirs), faults)
	}
	stock := stockRules(b)
	ctx := context.Background()

	// What a group of households needs before its turn; small, since in a real run little is alive at once.
	const group = 25
	var kits [group]*kit.Household
	var facts [group]*facts.Facts
	var known [group]func(string) bool
	var ready [group]ast.Value
	prepare := func(i int) {
		g := i % group
		l := load.Household(tree, dirs[i], load.Options{})
		if l.Kit == nil {
			b.Error(l.Faults)
			return
		}
		f, ledger := measure.Of(l.Kit, measure.Options{On: on})
		text, err := judge.FactsJSON(f)
		if err == nil {
			ready[g], err = ast.ValueFromReader(bytes.NewReader(text))
		}
		if err != nil {
			b.Error(err)
		}
		kits[g], facts[g], known[g] = l.Kit, f, func(id string) bool { _, ok := ledger.Entry(id); return ok }
	}
	legs := []struct {
		name string
		do   func(i int)
	}{
		{"cue", func(i int) {
			inst := cueload.Instances([]string{"."}, &cueload.Config{Dir: filepath.Join(dir, dirs[i]), Package: "kit", Env: []string{"CUE_REGISTRY=none"}})[0]
			if err := cuecontext.New(cuecontext.CUE_DEBUG("")).BuildInstance(inst).Validate(cue.Concrete(true)); err != nil {
				b.Error(err)
			}
		}},
		{"rules", func(i int) {
			if rs, err := stock.Eval(ctx, rego.EvalParsedInput(ready[i%group])); err != nil || len(rs) != 1 {
				b.Error(err, len(rs))
			}
		}},
		{"whole", func(i int) {
			if out := household.Judge(ctx, tree, rulebook, dirs[i], household.Options{On: on}); !out.Household.Judged {
				b.Error(out.Findings)
			}
		}},
		{"load", func(i int) { load.Household(tree, dirs[i], load.Options{}) }},
		{"measure", func(i int) { measure.Of(kits[i%group], measure.Options{On: on}) }},
		{"judge", func(i int) { rulebook.Judge(ctx, facts[i%group], known[i%group]) }},
	}
	metrics := map[string][]float64{}
	for b.Loop() {
		took := map[string]float64{}
		for from := 0; from < scale; from += group {
			overCores(from, from+group, prepare)
			for _, l := range legs {
				runtime.GC() // no leg pays for the one before
				start := time.Now()
				overCores(from, from+group, l.do)
				took[l.name] += time.Since(start).Seconds()
			}
		}
		say := func(name string, r float64) { metrics[name] = append(metrics[name], r) }
		for _, l := range legs {
			say(l.name+"-ms", 1000*took[l.name]/scale)
		}
		say("of-floor", took["whole"]/(took["cue"]+took["rules"]))
		say("of-cue", took["load"]/took["cue"])
		say("of-rules", took["judge"]/took["rules"])
		say("measure-%", 100*took["measure"]/took["whole"])
	}
	for name, of := range metrics {
		slices.Sort(of)
		b.ReportMetric(of[len(of)/2], name)
	}
}

// TestStockRulesSayTheSame holds that the floor of judging is one: the stock engine
// objects as often as ours does.
func TestStockRulesSayTheSame(t *testing.T) {
	tree := os.DirFS("..")
	rulebook, stock := rulebook(t), stockRules(t)
	for _, family := range []string{"alder", "birch", "cedar"} {
		m := household.Measure(tree, "examples/harrow-valley/"+family, household.Options{On: day(t)})
		text, err := judge.FactsJSON(m.Facts)
		if err != nil {
			t.Fatal(err)
		}
		var input any
		if err := json.Unmarshal(text, &input); err != nil {
			t.Fatal(err)
		}
		rs, err := stock.Eval(context.Background(), rego.EvalInput(input))
		if err != nil {
			t.Fatal(err)
		}
		said := 0
		for _, area := range rs[0].Expressions[0].Value.(map[string]any)["base"].(map[string]any) {
			for _, found := range area.(map[string]any)["finding"].(map[string]any) {
				said += len(found.([]any))
			}
		}
		verdicts, faults := rulebook.Judge(context.Background(), m.Facts, func(id string) bool { _, ok := m.Ledger.Entry(id); return ok })
		if len(faults) > 0 || len(verdicts) != said {
			t.Errorf("%s: %d verdicts, %v; the stock engine has %d", family, len(verdicts), faults, said)
		}
	}
}

// overCores does what is numbered from one to below the other, as many at once as there are cores.
func overCores(from, to int, do func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := from; i < to; i++ {
		next <- i
	}
	close(next)
	wg.Wait()
}

// stockRules prepares the base standard with the stock engine's own API: every rule in one query.
func stockRules(b testing.TB) rego.PreparedEvalQuery {
	b.Helper()
	base := judge.Base()
	data := map[string]any{"limits": map[string]any{}, "lists": map[string]any{}}
	options := []func(*rego.Rego){rego.Query("data.rules")}
	err := fs.WalkDir(base, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(base, p)
		if err != nil {
			return err
		}
		switch {
		case path.Base(p) == "data.json":
			var v any
			if err := json.Unmarshal(text, &v); err != nil {
				return err
			}
			data[path.Dir(path.Dir(p))].(map[string]any)[path.Base(path.Dir(p))] = v
		case path.Ext(p) == ".rego" && !strings.HasSuffix(p, "_test.rego"):
			options = append(options, rego.Module(p, string(text)))
		}
		return nil
	})
	if err != nil {
		b.Fatal(err)
	}
	options = append(options, rego.Store(inmem.NewFromObjectWithOpts(data, inmem.OptReturnASTValuesOnRead(true))))
	q, err := rego.New(options...).PrepareForEval(context.Background())
	if err != nil {
		b.Fatal(err)
	}
	return q
}
