package lint_test

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// A kind is named by its constant: a literal in its place would be a kind that no table knows.
func TestKindsAreNamedByTheirConstants(t *testing.T) {
	type listed struct {
		Dir, ImportPath, Export string
		GoFiles                 []string
	}
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=Dir,ImportPath,Export,GoFiles", "kitmuster/...")
	cmd.Stderr = os.Stderr
	b, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	exports := map[string]string{}
	var ours []listed
	for dec := json.NewDecoder(strings.NewReader(string(b))); ; {
		var p listed
		if err := dec.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		exports[p.ImportPath] = p.Export
		if strings.HasPrefix(p.ImportPath, "kitmuster/") && p.ImportPath != "kitmuster/lint/kinds" {
			ours = append(ours, p)
		}
	}
	fset := token.NewFileSet()
	imports := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) {
		if exports[path] == "" {
			return nil, errors.New("no export data of " + path)
		}
		return os.Open(exports[path])
	})
	seen := 0
	for _, p := range ours {
		var files []*ast.File
		for _, f := range p.GoFiles {
			syntax, err := parser.ParseFile(fset, filepath.Join(p.Dir, f), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, syntax)
		}
		info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
		if _, err := (&types.Config{Importer: imports}).Check(p.ImportPath, fset, files, info); err != nil {
			t.Fatal(err)
		}
		for e, tv := range info.Types {
			named, ok := tv.Type.(*types.Named)
			if !ok || named.Obj().Pkg() == nil || named.Obj().Pkg().Path() != "kitmuster/lint/kinds" {
				continue
			}
			seen++
			if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING && lit.Value != `""` {
				t.Errorf("%s: %s is a %s: write the constant of package kinds", fset.Position(lit.Pos()), lit.Value, named.Obj().Name())
			}
		}
	}
	if seen == 0 {
		t.Error("no expression of a kind was seen")
	}
}
