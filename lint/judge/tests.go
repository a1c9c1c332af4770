package judge

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/cover"
	"github.com/open-policy-agent/opa/v1/format"
	"github.com/open-policy-agent/opa/v1/rego"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/tester"
	"github.com/open-policy-agent/opa/v1/topdown"
)

// testTime is what one test of a rule may take.
const testTime = 5 * time.Second

// Test runs the Rego tests of a standard that stands over the base, beside the helpers of the base's lib, and holds all its
// Rego to the stock formatter and to complete coverage. The functions that rules may not call, tests may not call either.
// It gives how many tests there are, and what is wrong, sorted by place; NewLayers says what is wrong with the rules themselves.
func Test(ctx context.Context, base, own Layer) (tests int, problems []Problem) {
	defer func() {
		if r := recover(); r != nil {
			problems = append(problems, Problem{Text: fmt.Sprintf("the rules engine gave up: %v", r)})
		}
	}()
	l, err := newLoader()
	if err != nil {
		return 0, []Problem{*err}
	}
	l.manifests([]Layer{base, own})
	l.read(0)
	for file := range l.modules {
		if path.Dir(file) != "lib" {
			delete(l.modules, file)
		}
	}
	l.read(1)
	l.readTests(0, func(file string) bool { return path.Dir(file) == "lib" && path.Base(file) != "lib_test.rego" })
	l.readTests(1, func(string) bool { return true })
	if len(l.problems) > 0 {
		return 0, l.sorted()
	}
	l.formatted()
	store := inmem.NewFromObject(map[string]any{"limits": l.data, "lists": l.listData})
	txn, failed := store.NewTransaction(ctx)
	if failed != nil {
		return 0, []Problem{{Text: failed.Error()}}
	}
	defer store.Abort(ctx, txn)
	return l.run(ctx, store, txn)
}

// readTests takes in the test files of a layer that are wanted.
func (l *loader) readTests(index int, want func(string) bool) {
	y := l.layers[index]
	err := fs.WalkDir(y.FS, ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case strings.HasPrefix(d.Name(), ".") && p != ".":
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case d.IsDir() || !strings.HasSuffix(p, "_test.rego") || !want(p):
			return nil
		}
		return l.readRego(index, p, func(m *ast.Module, name string, parts []string) {
			if id := y.manifest.ID(); index > 0 && (len(parts) != 3 || parts[0] != "rules" || parts[1] != id) {
				l.add(m.Package.Location, "package %s: the tests of %s are in packages rules.%s.<area>_test", name, y.manifest.Name, id)
			}
		})
	})
	if err != nil {
		l.problems = append(l.problems, Problem{Text: err.Error()})
	}
}

// formatted holds the Rego of later standards to the stock formatter.
func (l *loader) formatted() {
	for _, file := range sortedKeys(l.modules) {
		if l.layerOf[file] == 0 {
			continue
		}
		have := l.texts[file].Bytes
		want, err := format.SourceWithOpts(file, have, format.Opts{RegoVersion: ast.RegoV1})
		if err != nil {
			l.problems = append(l.problems, Problem{File: file, Line: 1, Col: 1, Text: "the formatter cannot read this: " + err.Error()})
			continue
		}
		if bytes.Equal(have, want) {
			continue
		}
		a, b := strings.Split(string(have), "\n"), strings.Split(string(want), "\n")
		row := 0
		for row < min(len(a), len(b)) && a[row] == b[row] {
			row++
		}
		text := "the stock formatter ends the file here; opa fmt --write formats the whole file"
		if row < len(b) {
			text = fmt.Sprintf("the stock formatter writes %q here; opa fmt --write formats the whole file", b[row])
		}
		l.problems = append(l.problems, Problem{File: file, Line: row + 1, Col: 1, Text: text})
	}
}

// run compiles what was read and runs the tests of the later standard.
func (l *loader) run(ctx context.Context, store storage.Store, txn storage.Transaction) (tests int, problems []Problem) {
	seen := cover.New()
	r, err := l.runner(store)
	if err != nil {
		return 0, []Problem{*err}
	}
	results, failed := r.SetCoverageQueryTracer(seen).SetCoverageRuns(nil).RunTests(ctx, txn)
	if failed != nil {
		l.explain("", failed)
		return 0, l.sorted()
	}
	var bad []*tester.Result
	for r := range results {
		if tests++; !r.Pass() {
			bad = append(bad, r)
		}
	}
	where := l.retrace(ctx, store, txn, bad)
	for _, r := range bad {
		l.failed(r, where[r.Package+"."+r.Name])
	}
	report := seen.Report(l.modules)
	for _, file := range sortedKeys(l.modules) {
		if l.layerOf[file] == 0 || strings.HasSuffix(file, "_test.rego") {
			continue
		}
		for _, gap := range report.Files[file].NotCovered {
			text := "no test reaches this line"
			if gap.End.Row > gap.Start.Row {
				text = fmt.Sprintf("no test reaches this, down to line %d", gap.End.Row)
			}
			l.problems = append(l.problems, Problem{File: file, Line: gap.Start.Row, Col: max(gap.Start.Col, 1), Text: text})
		}
	}
	return tests, l.sorted()
}

// runner makes ready to run the tests below data.rules.
func (l *loader) runner(store storage.Store) (*tester.Runner, *Problem) {
	c, err := l.compiler()
	if err != nil {
		return nil, err
	}
	return tester.NewRunner().SetCompiler(c).AddCustomBuiltins(boundedInTests()).SetStore(store).SetModules(l.modules).SetTimeout(testTime).CapturePrintOutput(false).
		SetPrefixMatchers(ast.MustParseRef("data.rules")), nil
}

// retrace runs tests that fail once more and finds the expression at which each does: the engine tells of either that or coverage.
func (l *loader) retrace(ctx context.Context, store storage.Store, txn storage.Transaction, bad []*tester.Result) map[string]*ast.Location {
	var names []string
	for _, r := range bad {
		if r.Fail {
			names = append(names, regexp.QuoteMeta(r.Package+"."+r.Name))
		}
	}
	r, err := l.runner(store)
	if err != nil || len(names) == 0 {
		return nil
	}
	results, failed := r.EnableTracing(true).Filter("^("+strings.Join(names, "|")+")$").RunTests(ctx, txn)
	if failed != nil {
		return nil
	}
	out := map[string]*ast.Location{}
	for r := range results {
		if at := furthest(r); at != nil {
			out[r.Package+"."+r.Name] = at
		}
	}
	return out
}

// furthest is the last expression of a test that did not hold: those before it held for some values.
func furthest(r *tester.Result) (out *ast.Location) {
	last := r.Location.Row + strings.Count(string(r.Location.Text), "\n")
	for _, e := range r.Trace {
		x, ok := e.Node.(*ast.Expr)
		if !ok || e.Op != topdown.FailOp || x.Location == nil || x.Location.File != r.Location.File || x.Location.Row < r.Location.Row || x.Location.Row > last {
			continue
		}
		if out == nil || x.Location.Row > out.Row {
			out = x.Location
		}
	}
	return out
}

// failed says what a test came to, where it stands; at is the expression that did not hold, where that is known.
func (l *loader) failed(r *tester.Result, at *ast.Location) {
	var broken *topdown.Error
	var refused *rego.HaltError
	switch {
	case r.Skip:
		l.add(r.Location, "%s is left out, and what is left out proves nothing; call it test_…", r.Name)
	case topdown.IsCancel(r.Error) || errors.Is(r.Error, context.DeadlineExceeded):
		l.add(r.Location, "%s was stopped after %v", r.Name, testTime)
	case errors.As(r.Error, &broken) && errors.As(r.Error, &refused):
		l.add(cmp.Or(broken.Location, r.Location), "%s broke: %s", r.Name, refused)
	case broken != nil:
		l.add(cmp.Or(broken.Location, r.Location), "%s broke: %s", r.Name, broken.Message)
	case r.Error != nil:
		l.add(r.Location, "%s broke: %v", r.Name, r.Error)
	case len(r.SubResults) > 0:
		var cases []string
		for names, s := range r.SubResults.Iter {
			if s.Fail && len(s.SubResults) == 0 {
				cases = append(cases, strings.Join(names, "/"))
			}
		}
		slices.Sort(cases)
		l.add(r.Location, "%s fails for %s", r.Name, strings.Join(cases, ", "))
	case at != nil:
		l.add(at, "%s fails: this does not hold", r.Name)
	default:
		l.add(r.Location, "%s fails", r.Name)
	}
}
