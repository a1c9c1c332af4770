package policies_test

import (
	"path"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"
)

// A rule holds no figure of its own: what it compares with is a limit, with unit,
// meaning and source. Left over are nothing, one, and steps between units.
func TestRulesHoldNoFigures(t *testing.T) {
	allowed := map[string]string{"0": "nothing", "1": "one", "1000": "thousandths to ones", "1000000": "milligrams to kilograms"}
	s := readStandard(t)
	seen := 0
	for file, m := range s.modules {
		if path.Dir(file) == "lib" || strings.HasSuffix(file, "_test.rego") {
			continue
		}
		ast.WalkTerms(m, func(x *ast.Term) bool {
			n, ok := x.Value.(ast.Number)
			if !ok {
				return false
			}
			if seen++; allowed[string(n)] == "" {
				t.Errorf("%s:%d: %s is a figure of the rule's own; make it a limit", file, x.Location.Row, n)
			}
			return false
		})
	}
	if seen == 0 {
		t.Error("no number was looked at")
	}
}
