package judge

import (
	"bytes"
	"encoding/json"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/open-policy-agent/opa/v1/ast"

	"kitmuster/lint/facts"
	"kitmuster/lint/testkit"
	"kitmuster/policies"
)

// The allow-list names functions; how each is declared is the linked engine's
// word. Nothing on it may depend on clock, chance, network or machine.
func TestCapabilities(t *testing.T) {
	listed, err := ast.LoadCapabilitiesJSON(strings.NewReader(policies.Capabilities()))
	if err != nil {
		t.Fatal(err)
	}
	want := &ast.Capabilities{AllowNet: []string{}, Features: []string{ast.FeatureKeywordsInRefs, ast.FeatureRegoV1}}
	var names []string
	for _, b := range listed.Builtins {
		names = append(names, b.Name)
		own := ast.BuiltinMap[b.Name]
		if own == nil {
			t.Errorf("the engine has no function %s", b.Name)
			continue
		}
		if own.Nondeterministic {
			t.Errorf("%s may answer differently each time", b.Name)
		}
		area, _, _ := strings.Cut(b.Name, ".")
		if slices.Contains([]string{"time", "http", "net", "rand", "uuid", "opa", "crypto", "io", "graphql", "rego", "glob", "bits", "graph", "json", "yaml"}, area) {
			t.Errorf("%s: rules have no need of %s", b.Name, area)
		}
		want.Builtins = append(want.Builtins, own)
	}
	if !slices.IsSorted(names) {
		t.Error("the list is not in order")
	}
	pretty, err := json.MarshalIndent(want, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	pretty = append(pretty, '\n')
	if *testkit.Update {
		if err := os.WriteFile("../../policies/capabilities.json", pretty, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(policies.Capabilities(), string(pretty)); diff != "" {
		t.Errorf("capabilities.json is stale, run with -update (-file +engine):\n%s", diff)
	}
}

// What the stock engine is given is what the Go types say, key by key.
func TestFactsJSON(t *testing.T) {
	full, n := &facts.Facts{}, int64(0)
	fill(reflect.ValueOf(full).Elem(), &n)
	want, err := json.Marshal(full)
	if err != nil {
		t.Fatal(err)
	}
	got, err := FactsJSON(full)
	if err != nil {
		t.Fatal(err)
	}
	read := func(b []byte) (v any) {
		d := json.NewDecoder(bytes.NewReader(b))
		d.UseNumber()
		if err := d.Decode(&v); err != nil {
			t.Fatal(err)
		}
		return v
	}
	if diff := cmp.Diff(read(want), read(got)); diff != "" {
		t.Errorf("-types +ours:\n%s", diff)
	}
	empty, err := FactsJSON(&facts.Facts{})
	if err != nil || bytes.Contains(empty, []byte("null")) || !bytes.Contains(empty, []byte(`"packs": []`)) {
		t.Errorf("%v:\n%s", err, empty)
	}
}
