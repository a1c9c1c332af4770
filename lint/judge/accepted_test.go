package judge

import (
	"context"
	"io/fs"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
)

// stranger is a standard that is not known to be built in.
type stranger struct{ fs.FS }

// The base that is built in passes what a stranger's standard must pass, and says the same whether or not it was checked again.
func TestBuiltInBaseIsAccepted(t *testing.T) {
	checked, problems := NewLayers(Layer{FS: stranger{Base()}})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	accepted, problems := NewLayers(Layer{FS: Base()})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if len(checked.Rules()) != len(accepted.Rules()) {
		t.Errorf("%d rules, checked %d", len(accepted.Rules()), len(checked.Rules()))
	}
	f := &facts.Facts{Packs: []facts.Pack{{ID: "packs/rust", Name: "rust", CarrierKind: "person"}}, People: []facts.Person{{ID: "people/ana", Name: "Ana", PackCount: 1, Adult: true}}}
	known := func(string) bool { return true }
	want, faults := checked.Judge(context.Background(), f, known)
	got, others := accepted.Judge(context.Background(), f, known)
	if diff := cmp.Diff(said(want), said(got)); diff != "" || len(want) < 5 {
		t.Errorf("%d verdicts\n%s", len(want), diff)
	}
	if len(faults)+len(others) > 0 {
		t.Errorf("faults %v, %v", faults, others)
	}
}

func said(vs []Verdict) (out []string) {
	for _, v := range vs {
		out = append(out, v.Rule.Name+" "+v.At+" "+v.Text)
	}
	return out
}
