package judge

import (
	"context"
	"io/fs"
	"path"
	"strings"
	"testing"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/cover"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/storage/inmem"
	"github.com/open-policy-agent/opa/v1/tester"
	"github.com/open-policy-agent/opa/v1/util"
)

// Every body of every rule and helper held at least once in the standard's own
// tests, and every expression of it was reached.
func TestPoliciesAreCovered(t *testing.T) {
	modules, data := map[string]*ast.Module{}, map[string]any{}
	err := fs.WalkDir(Base(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
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
	for range results {
	}
	report := seen.Report(modules)
	for _, file := range sortedKeys(modules) {
		if strings.HasSuffix(file, "_test.rego") {
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
