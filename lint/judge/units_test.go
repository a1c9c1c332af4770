package judge

import (
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/rego"

	"kitmuster/lint/unit"
)

// The rules say an amount in the same US units as everything else does. Metric figures are rounded differently in places, and left out.
func TestRulesSayUSUnits(t *testing.T) {
	lib, err := fs.ReadFile(Base(), "lib/lib.rego")
	if err != nil {
		t.Fatal(err)
	}
	query, err := rego.New(rego.Query("x = [data.lib.mass(input.n), data.lib.kg(input.n), data.lib.litres(input.n), data.lib.celsius(input.n)]"), rego.Module("lib.rego", string(lib))).PrepareForEval(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	us := func(text string) string {
		first, _, both := strings.Cut(text, " (")
		if !both {
			return ""
		}
		return first
	}
	for _, n := range []int64{
		0, 1, 2, 14, 999, 1000, 1417, 3783, 3784, 4000, 21_620, 28_207, 28_208, 99_999, 100_000, 452_174, 452_175, 453_592, 680_388, 14_270_000, 453_615_050, -1, -40, -17_750, -17_795, -40_000,
	} {
		out, err := query.Eval(t.Context(), rego.EvalInput(map[string]any{"n": n, "audit": map[string]any{"units": "us"}}))
		if err != nil || len(out) != 1 && n >= 0 {
			t.Fatal(n, out, err)
		}
		mass := us(unit.US.Mass(unit.Mass(n * 1000)))
		want := []string{mass, mass, us(unit.US.Volume(unit.Volume(n * 1000))), us(unit.US.Temperature(unit.Temperature(n)))}
		for i, got := range out[0].Bindings["x"].([]any) {
			if n < 0 && i < 3 { // no mass and no volume is below zero
				continue
			}
			if got := us(fmt.Sprint(got)); got != want[i] {
				t.Errorf("%d: the rules say %q, want %q", n, got, want[i])
			}
		}
	}
}
