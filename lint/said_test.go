package lint_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"kitmuster/lint/finding"
	"kitmuster/lint/household"
)

var ownName = regexp.MustCompile(`^((input|limit|waiver)/[a-z-]+|data/not-shown)$`)

// Every name that the code can say stands in the table, every name in the table can be said, and none is a rule's.
func TestWhatTheProgramSaysIsListed(t *testing.T) {
	said := map[string]bool{}
	for _, p := range packages(t) {
		for _, f := range p.GoFiles {
			if f == "builtin.go" {
				continue
			}
			syntax, err := parser.ParseFile(token.NewFileSet(), filepath.Join(p.Dir, f), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(syntax, func(n ast.Node) bool {
				if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
					if s, err := strconv.Unquote(l.Value); err == nil && ownName.MatchString(s) {
						said[s] = true
					}
				}
				return true
			})
		}
	}
	if len(said) < 20 {
		t.Fatalf("only %d names found; does the code still write them as literals?", len(said))
	}
	listed := household.Said()
	if !slices.IsSortedFunc(listed, func(a, b finding.Rule) int { return strings.Compare(a.Name, b.Name) }) {
		t.Error("the table is not sorted by name")
	}
	for _, r := range listed {
		if !said[r.Name] {
			t.Errorf("%s is listed, and no code says it", r.Name)
		}
		delete(said, r.Name)
		if _, err := finding.ParseLevel(string(r.Level)); err != nil || r.Title == "" || r.Why == "" || r.Remedy == "" || !slices.Contains(finding.Works, r.Mend.Work) || r.Mend.Thing != "" {
			t.Errorf("%s is not explained", r.Name)
		}
	}
	b := rulebook(t)
	for name := range said {
		if _, ok := b.Rule(name); !ok { // an audit speaks of what rules of the standard find
			t.Errorf("the code says %s, which lint/household/builtin.go does not list", name)
		}
	}
	for _, r := range listed {
		if _, ok := b.Rule(r.Name); ok {
			t.Errorf("%s is a rule of the standard too", r.Name)
		}
	}
	if all := household.Rules(b); len(all) != len(listed)+len(b.Rules()) {
		t.Errorf("%d rules are listed together, want %d", len(all), len(listed)+len(b.Rules()))
	}
}
