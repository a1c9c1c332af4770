package judge

import (
	"context"
	"io/fs"
	"path"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/cover"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/tester"
	"github.com/open-policy-agent/opa/v1/util"

	"kitmuster/lint/testkit"
)

// Every body of every rule and helper held at least once in the standard's own
// tests, which pass, and every expression of it was reached. The default run looks at some
// areas, each under its own tests.
func TestPoliciesAreCovered(t *testing.T) {
	areas, err := fs.Glob(Base(), "rules/base/*.rego")
	if err != nil {
		t.Fatal(err)
	}
	areas = slices.DeleteFunc(areas, func(p string) bool { return strings.HasSuffix(p, "_test.rego") })
	some := testkit.Spread(t, 6, areas)
	// left reports whether a file of rules, or of their tests, is of no area that is looked at.
	left := func(p string) bool {
		return path.Dir(p) == "rules/base" && !slices.ContainsFunc(some, func(area string) bool {
			return p == area || strings.HasPrefix(p, strings.TrimSuffix(area, ".rego")+"_") && strings.HasSuffix(p, "_test.rego")
		})
	}
	modules, data := map[string]*ast.Module{}, map[string]any{}
	err = fs.WalkDir(Base(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || left(p) {
			return err
		}
		b, err := fs.ReadFile(Base(), p)
		switch {
		case err != nil:
			return err
		case path.Base(p) == "data.json":
			return util.Unmarshal(b, &data)
		case path.Ext(p) == ".rego":
			modules[p], err = ast.ParseModuleWithOpts(p, string(b), ast.ParserOptions{RegoVersion: ast.RegoV1})
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	ctx, seen := context.Background(), cover.New()
	store := inmem.NewFromObject(map[string]any{"limits": map[string]any{"base": data}})
	txn := storage.NewTransactionOrDie(ctx, store)
	defer store.Abort(ctx, txn)
	results, err := tester.NewRunner().SetStore(store).SetModules(modules).SetTimeout(10*time.Second).SetCoverageQueryTracer(seen).RunTests(ctx, txn)
	if err != nil {
		t.Fatal(err)
	}
	for r := range results {
		if r.Fail || r.Error != nil {
			t.Errorf("%s.%s at %v fails: %v", r.Package, r.Name, r.Location, r.Error)
		}
	}
	report := seen.Report(modules)
	for _, file := range sortedKeys(modules) {
		if strings.HasSuffix(file, "_test.rego") || len(some) < len(areas) && path.Dir(file) == "lib" { // helpers serve all areas
			continue
		}
		lines := report.Files[file]
		if lines == nil {
			t.Errorf("%s: no test reaches it", file)
			continue
		}
		for _, gap := range lines.NotCovered {
			t.Errorf("%s:%d: no test reaches this, down to line %d", file, gap.Start.Row, gap.End.Row)
		}
	}
}
