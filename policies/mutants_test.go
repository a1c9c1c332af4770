package policies_test

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/tester"
	"github.com/open-policy-agent/opa/v1/topdown"
	"github.com/open-policy-agent/opa/v1/util"

	"kitmuster/lint/testkit"
	"kitmuster/policies"
)

var onlyArea = flag.String("area", "", "try the mutants of this area only")

const limitsFile = "limits/base/data.json"

// swaps are the operators and what each is exchanged for, one at a time.
var swaps = map[string][]string{
	"lt": {"lte", "gte"}, "lte": {"lt", "gt"}, "gt": {"gte", "lte"}, "gte": {"gt", "lt"}, "equal": {"neq"}, "neq": {"equal"},
	"plus": {"minus"}, "minus": {"plus"}, "mul": {"plus"}, "div": {"mul"}, "rem": {"mul"}, "and": {"or"}, "or": {"and"},
	"sum": {"count"}, "count": {"sum"}, "max": {"min"}, "min": {"max"},
}

// survives marks a change that no test can notice, with the reason, on its line or the one above.
const survives = "# no test can tell: "

// A mutant is a standard with one small change.
type mutant struct {
	at, what string
	// rows are the lines on which a reason may stand.
	file string
	row  int
	// Apply changes the copies it is given.
	apply func(m *ast.Module, limits map[string]any)
}

// points calls f on each place of a module that can be changed, in an order
// that is the same on every copy.
func points(m *ast.Module, f func(loc *ast.Location, what string, change func())) {
	for _, r := range m.Rules {
		for q := r; q != nil; q = q.Else {
			drops(&q.Body, f)
		}
		ast.NewGenericVisitor(func(x any) bool {
			switch x := x.(type) {
			case *ast.ArrayComprehension:
				drops(&x.Body, f)
			case *ast.SetComprehension:
				drops(&x.Body, f)
			case *ast.ObjectComprehension:
				drops(&x.Body, f)
			case *ast.Every:
				drops(&x.Body, f)
			case *ast.Expr:
				if x.Negated {
					f(x.Location, "remove not", func() { x.Negated = false })
				}
				if ts, ok := x.Terms.([]*ast.Term); ok && len(ts) > 0 && !x.Generated {
					call(ts, x.Location, f)
				}
			case *ast.Term:
				switch v := x.Value.(type) {
				case ast.Call:
					call(v, x.Location, f)
				case ast.Boolean:
					if x.Location != nil && string(x.Location.Text) == strconv.FormatBool(bool(v)) {
						f(x.Location, fmt.Sprintf("%v -> %v", v, !v), func() { x.Value = !v })
					}
				}
			}
			return false
		}).Walk(r)
		number(r.Head.Value, f)
	}
}

// drops leaves out one expression of a body at a time.
func drops(b *ast.Body, f func(*ast.Location, string, func())) {
	for i, e := range *b {
		_, declares := e.Terms.(*ast.SomeDecl)
		if e.Generated || len(*b) < 2 || declares || e.IsAssignment() {
			continue
		}
		f(e.Location, "drop "+e.String(), func() { *b = slices.Delete(slices.Clone(*b), i, i+1) })
	}
}

// call exchanges an operator and moves its numbers by one.
func call(ts []*ast.Term, loc *ast.Location, f func(*ast.Location, string, func())) {
	operator := ts[0]
	for _, n := range swaps[operator.String()] {
		f(loc, operator.String()+" -> "+n, func() { ts[0] = ast.NewTerm(ast.BuiltinMap[n].Ref()) })
	}
	for _, t := range ts[1:] {
		number(t, f)
	}
}

func number(t *ast.Term, f func(*ast.Location, string, func())) {
	if t == nil || t.Location == nil {
		return
	}
	n, ok := t.Value.(ast.Number)
	if !ok {
		return
	}
	i, ok := n.Int64()
	if !ok {
		return
	}
	for _, to := range []int64{i + 1, i - 1} {
		f(t.Location, fmt.Sprintf("%d -> %d", i, to), func() { t.Value = ast.Number(json.Number(strconv.FormatInt(to, 10))) })
	}
}

func mutantsOf(file string, m *ast.Module) (out []mutant) {
	points(m.Copy(), func(loc *ast.Location, what string, _ func()) {
		want := len(out)
		out = append(out, mutant{at: fmt.Sprintf("%s:%d:%d", file, loc.Row, loc.Col), what: what, file: file, row: loc.Row, apply: func(c *ast.Module, _ map[string]any) {
			var do func()
			n := 0
			points(c, func(_ *ast.Location, _ string, change func()) {
				if n == want {
					do = change
				}
				n++
			})
			do()
		}})
	})
	return out
}

// wholeHours are limits in minutes that are compared with whole hours: less than one of those makes no difference.
var wholeHours = []string{"data.water_min", "food.soon_min", "shelter.soon_min"}

// limitMutants move a number by one, or by an hour, and leave out one entry of a list.
func limitMutants(area, name string, value any) (out []mutant) {
	add := func(what string, to any) {
		out = append(out, mutant{at: limitsFile + ": " + area + "." + name, what: what, apply: func(_ *ast.Module, limits map[string]any) {
			limits[area].(map[string]any)[name].(map[string]any)["value"] = to
		}})
	}
	switch v := value.(type) {
	case json.Number:
		n, err := v.Int64()
		if err != nil {
			panic(err)
		}
		step := int64(1)
		if slices.Contains(wholeHours, area+"."+name) {
			step = 60
		}
		for _, to := range []int64{n + step, n - step} {
			add(fmt.Sprintf("%d -> %d", n, to), json.Number(strconv.FormatInt(to, 10)))
		}
	case []any:
		for i, e := range v {
			add(fmt.Sprintf("leave out %v", e), slices.Delete(slices.Clone(v), i, i+1))
		}
	default:
		panic(fmt.Sprintf("limit %s.%s is a %T", area, name, value))
	}
	return out
}

// standard is the base standard as parsed.
type standard struct {
	modules map[string]*ast.Module
	texts   map[string][]string
	limits  map[string]any
}

func readStandard(t *testing.T) *standard {
	t.Helper()
	s := &standard{modules: map[string]*ast.Module{}, texts: map[string][]string{}, limits: map[string]any{}}
	err := fs.WalkDir(policies.FS(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(policies.FS(), p)
		switch {
		case err != nil:
			return err
		case p == limitsFile:
			return util.Unmarshal(b, &s.limits)
		case path.Ext(p) == ".rego":
			s.texts[p] = strings.Split(string(b), "\n")
			s.modules[p], err = ast.ParseModuleWithOpts(p, string(b), ast.ParserOptions{RegoVersion: ast.RegoV1, ProcessAnnotation: true})
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// beside are the modules that the tests of one file need: its own, which may be several (AREA_test.rego, AREA_more_test.rego), and
// the helpers.
func (s *standard) beside(file string) map[string]*ast.Module {
	out := map[string]*ast.Module{}
	tests := strings.TrimSuffix(file, ".rego") + "_"
	for p, m := range s.modules {
		if path.Dir(p) == "lib" && p != "lib/lib_test.rego" || p == file || strings.HasPrefix(p, tests) && strings.HasSuffix(p, "_test.rego") {
			out[p] = m
		}
	}
	return out
}

// fate is what became of a mutant.
type fate int

const (
	survived fate = iota
	noticed
	refused // it does not compile
)

// run runs the tests of modules until one fails.
func run(modules map[string]*ast.Module, limits map[string]any) fate {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	store := inmem.NewFromObject(map[string]any{"limits": map[string]any{"base": limits}})
	txn := storage.NewTransactionOrDie(ctx, store)
	defer store.Abort(ctx, txn)
	results, err := tester.NewRunner().SetStore(store).SetModules(modules).SetTimeout(10*time.Second).RunTests(ctx, txn)
	if err != nil {
		return refused
	}
	out := survived
	for r := range results {
		if r.Fail || r.Error != nil {
			out = noticed
			stop()
		}
	}
	return out
}

// set is a number of modules whose tests must notice a mutant.
type set struct {
	modules map[string]*ast.Module
	limits  map[string]any

	once sync.Once
	// reach are by file and row the tests that evaluate something there.
	reach map[string]map[int]map[string]bool
}

// rows notes where a test evaluates something.
type rows map[string]map[int]bool

func (rows) Enabled() bool               { return true }
func (rows) Config() topdown.TraceConfig { return topdown.TraceConfig{} }
func (r rows) TraceEvent(ev topdown.Event) {
	if l := ev.Location; l != nil {
		if r[l.File] == nil {
			r[l.File] = map[int]bool{}
		}
		r[l.File][l.Row] = true
	}
}

// testOf names a test rule among all modules; "" is any other rule.
func testOf(m *ast.Module, r *ast.Rule) string {
	name := r.Head.Ref()[0].Value.String()
	if name = strings.Trim(name, `"`); !strings.HasPrefix(name, tester.TestPrefix) {
		return ""
	}
	return m.Package.Path.String() + "." + name
}

// watch runs each test of the set without any change and notes what it reaches.
func (s *set) watch() {
	s.reach = map[string]map[int]map[string]bool{}
	c := ast.NewCompiler()
	if c.Compile(s.modules); c.Failed() {
		panic(c.Errors)
	}
	store := inmem.NewFromObject(map[string]any{"limits": map[string]any{"base": s.limits}})
	ctx := context.Background()
	for _, m := range s.modules {
		seen := map[string]bool{"": true}
		for _, r := range m.Rules {
			test := testOf(m, r)
			if seen[test] {
				continue
			}
			seen[test] = true
			at := rows{}
			if _, err := rego.New(rego.Store(store), rego.Compiler(c), rego.Query(test), rego.QueryTracer(at)).Eval(ctx); err != nil {
				panic(err)
			}
			for file, there := range at {
				if s.reach[file] == nil {
					s.reach[file] = map[int]map[string]bool{}
				}
				for row := range there {
					if s.reach[file][row] == nil {
						s.reach[file][row] = map[string]bool{}
					}
					s.reach[file][row][test] = true
				}
			}
		}
	}
}

// near are the modules of the set with those tests alone that reach the expression at or before one of these rows of a file; nil where
// there is no such test.
func (s *set) near(file string, at ...int) map[string]*ast.Module {
	s.once.Do(s.watch)
	keep := map[string]bool{}
	for _, row := range at {
		for ; row > 0; row-- {
			if tests := s.reach[file][row]; len(tests) > 0 {
				maps.Copy(keep, tests)
				break
			}
		}
	}
	if len(keep) == 0 {
		return nil
	}
	out := map[string]*ast.Module{}
	for name, m := range s.modules {
		few := *m
		few.Rules = slices.DeleteFunc(slices.Clone(m.Rules), func(r *ast.Rule) bool {
			test := testOf(m, r)
			return test != "" && !keep[test]
		})
		out[name] = &few
	}
	return out
}

// explained reports whether the rule says beside the line why no test can notice the change.
func (s *standard) explained(m mutant) bool {
	lines := s.texts[m.file]
	for row := m.row - 1; row <= m.row; row++ {
		if row >= 1 && row <= len(lines) && strings.Contains(lines[row-1], survives) {
			return true
		}
	}
	return false
}

// trial is one mutant with the sets whose tests must notice it; each is tried in turn.
type trial struct {
	mutant
	sets []*set
	// uses are where a limit is read, by file; nil for a mutant that has a row of its own.
	uses map[string][]int
}

// Small changes of every rule and of every limit are noticed by some test of
// the rules: operators exchanged, expressions left out, numbers moved by one,
// entries of lists left out.
func TestMutants(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // many small evaluations, as the program has
	s := readStandard(t)
	var trials []trial
	users := map[string]map[string][]int{} // of a limit, the files and rows that read it
	sets := map[string]*set{}
	of := func(file string) *set {
		if sets[file] == nil {
			sets[file] = &set{modules: s.beside(file), limits: s.limits}
		}
		return sets[file]
	}
	for _, file := range slices.Sorted(maps.Keys(s.modules)) {
		if strings.HasSuffix(file, "_test.rego") {
			continue
		}
		ast.NewGenericVisitor(func(x any) bool {
			var ts []*ast.Term
			switch x := x.(type) {
			case *ast.Expr:
				ts, _ = x.Terms.([]*ast.Term)
			case ast.Call:
				ts = x
			}
			if len(ts) >= 3 && (ts[0].String() == "lib.limit" || ts[0].String() == "limit" && path.Dir(file) == "lib") {
				area, _ := ts[1].Value.(ast.String)
				name, _ := ts[2].Value.(ast.String)
				key := string(area) + "." + string(name)
				if users[key] == nil {
					users[key] = map[string][]int{}
				}
				users[key][file] = append(users[key][file], ts[0].Location.Row)
			}
			return false
		}).Walk(s.modules[file])
		area := strings.TrimSuffix(path.Base(file), ".rego")
		if *onlyArea != "" && area != *onlyArea {
			continue
		}
		by := []*set{of(file)}
		if area == "lib" {
			by = []*set{{modules: map[string]*ast.Module{file: s.modules[file], "lib/lib_test.rego": s.modules["lib/lib_test.rego"]}, limits: s.limits}}
			for _, other := range slices.Sorted(maps.Keys(s.modules)) {
				if other != file && !strings.HasSuffix(other, "_test.rego") {
					by = append(by, of(other))
				}
			}
		}
		for _, m := range mutantsOf(file, s.modules[file]) {
			trials = append(trials, trial{m, by, nil})
		}
	}
	for _, area := range slices.Sorted(maps.Keys(s.limits)) {
		if *onlyArea != "" && area != *onlyArea {
			continue
		}
		limits := s.limits[area].(map[string]any)
		for _, name := range slices.Sorted(maps.Keys(limits)) {
			uses := users[area+"."+name]
			var by []*set
			for _, file := range slices.Sorted(maps.Keys(uses)) {
				by = append(by, of(file))
			}
			for _, m := range limitMutants(area, name, limits[name].(map[string]any)["value"]) {
				trials = append(trials, trial{m, by, uses})
			}
		}
	}
	if *onlyArea == "" { // some of every area; a change of rules deserves all of its area
		step := 60
		if testkit.Whole(t) {
			step = 3
		}
		var few []trial
		for i := 0; i < len(trials); i += step {
			few = append(few, trials[i])
		}
		t.Logf("%d of %d mutants; to try all of an area: go test ./policies -run '^TestMutants$' -timeout 1h -area AREA", len(few), len(trials))
		trials = few
	}
	if len(trials) < 4 {
		t.Fatalf("only %d mutants were made", len(trials))
	}
	for file := range s.modules {
		if !strings.HasSuffix(file, "_test.rego") && run(s.beside(file), s.limits) != survived {
			t.Fatalf("%s: its tests fail without any change", file)
		}
	}
	fates := make([]fate, len(trials))
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.NumCPU() {
		wg.Go(func() {
			for i := range next {
				fates[i] = s.try(trials[i])
			}
		})
	}
	for i := range trials {
		next <- i
	}
	close(next)
	wg.Wait()
	n, excused, broken := 0, 0, 0
	for i, tr := range trials {
		switch {
		case fates[i] == refused:
			broken++
		case fates[i] == noticed:
		case s.explained(tr.mutant):
			excused++
		default:
			n++
			t.Errorf("%s: %s: no test notices", tr.at, tr.what)
		}
	}
	if broken*4 > len(trials) {
		t.Errorf("%d of %d mutants do not compile; they prove nothing", broken, len(trials))
	}
	t.Logf("%d mutants: %d unnoticed, %d explained beside the rule, %d do not compile", len(trials), n, excused, broken)
}

// try gives the tests a mutant: first those that reach it, then, where none of them notices, all.
func (s *standard) try(tr trial) fate {
	for _, set := range tr.sets {
		uses := tr.uses
		if uses == nil {
			uses = map[string][]int{tr.file: {tr.row}}
		}
		for file, at := range uses {
			if modules := set.near(file, at...); modules != nil {
				if f := s.on(modules, tr.mutant); f != survived {
					return f
				}
			}
		}
	}
	for _, set := range tr.sets {
		if f := s.on(set.modules, tr.mutant); f != survived {
			return f
		}
	}
	return survived
}

// on runs tests over a mutant.
func (s *standard) on(of map[string]*ast.Module, m mutant) fate {
	var limits map[string]any
	if err := roundTrip(s.limits, &limits); err != nil {
		panic(err)
	}
	modules := maps.Clone(of)
	var changed *ast.Module
	if own := of[m.file]; own != nil {
		changed = own.Copy()
		modules[m.file] = changed
	}
	m.apply(changed, limits)
	return run(modules, limits)
}

func roundTrip(from, into any) error {
	b, err := json.Marshal(from)
	if err != nil {
		return err
	}
	return util.Unmarshal(b, into)
}
