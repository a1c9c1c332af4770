package judge

import (
	"context"
	"io/fs"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
)

// stranger is a standard that is not known to be built in.
type stranger struct{ fs.FS }

// The base that is built in passes what a stranger's standard must pass, and says the same whether or not it was checked again;
// so does a group's standard.
func TestAcceptedSaysTheSame(t *testing.T) {
	group := os.DirFS("../../examples/harrow-valley/standards/harrow-valley")
	for name, layers := range map[string][]Layer{
		"base":  {{FS: stranger{Base()}}},
		"group": {{FS: stranger{Base()}}, {FS: group}},
	} {
		checked, problems := NewLayers(layers...)
		if len(problems) > 0 {
			t.Fatalf("%s: %v", name, problems)
		}
		accepted, problems := Accepted(layers...)
		if len(problems) > 0 {
			t.Fatalf("%s: %v", name, problems)
		}
		if len(checked.Rules()) != len(accepted.Rules()) {
			t.Errorf("%s: %d rules, checked %d", name, len(accepted.Rules()), len(checked.Rules()))
		}
		f := &facts.Facts{Packs: []facts.Pack{{ID: "packs/rust", Name: "rust", CarrierKind: "person"}}, People: []facts.Person{{ID: "people/ana", Name: "Ana", PackCount: 1, Adult: true}}}
		known := func(string) bool { return true }
		want, faults := checked.Judge(context.Background(), f, known)
		got, others := accepted.Judge(context.Background(), f, known)
		if diff := cmp.Diff(said(want), said(got)); diff != "" || len(want) < 5 {
			t.Errorf("%s: %d verdicts\n%s", name, len(want), diff)
		}
		if len(faults)+len(others) > 0 {
			t.Errorf("%s: faults %v, %v", name, faults, others)
		}
	}
}

func said(vs []Verdict) (out []string) {
	for _, v := range vs {
		out = append(out, v.Rule.Name+" "+v.At+" "+v.Text)
	}
	return out
}

// What keeps the machine safe is refused again, whatever was said of a standard before; what only falls silent is not.
func TestAcceptedStaysSafe(t *testing.T) {
	for why, c := range map[string]struct {
		body    string
		refused bool
	}{
		"the network":       {`http.send({"method": "get", "url": "http://127.0.0.1"})`, true},
		"rules in a circle": {`count(finding.two_means) > 0`, true},
		"a misspelt fact":   {`pack.nmae == "x"`, false},
	} {
		rulebook, problems := Accepted(Layer{FS: smallStandard(with(t, "some pack in input.packs\n", "some pack in input.packs\n\t"+c.body+"\n"))})
		if (len(problems) > 0) != c.refused {
			t.Errorf("%s: %v, %v", why, problems, rulebook)
		}
		if _, problems := New(smallStandard(with(t, "some pack in input.packs\n", "some pack in input.packs\n\t"+c.body+"\n"))); len(problems) == 0 {
			t.Errorf("%s: not refused where it is checked", why)
		}
	}
}
