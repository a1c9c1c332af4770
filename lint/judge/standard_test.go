package judge

import (
	"context"
	"fmt"
	"io/fs"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/format"
	"github.com/open-policy-agent/opa/v1/tester"
	"github.com/open-policy-agent/opa/v1/util"

	"kitmuster/lint/facts"
	"kitmuster/lint/finding"
)

const lib = "package lib\n\nlimit(area, name) := data.limits.base[area][name].value\n"

const limits = `{"load": {"most": {"value": 100, "unit": "mg", "meaning": "most load", "source": "common practice, no source", "stricter": "lower"}}}`

const metadata = `# METADATA
# title: Too heavy
# description: Heavy packs slow the walk.
# custom:
#   level: warning
#   remedy: Take something out.
#   mend: {work: leave}
#   sources: ["common practice, no source"]
#   limits: [load.most]
#   passes: "household: \"x\""
#   fails: "household: \"x\""
`

const rule = metadata + `finding.too_heavy contains f if {
	some p in input.packs
	p.mass_mg > lib.limit("load", "most")
	f := {"at": p.id, "text": "too heavy"}
}
`

const head = "package rules.base.load\n\nimport data.lib\n\n"

// standard is a small standard with one file of rules.
func standard(rules string) fstest.MapFS {
	return fstest.MapFS{
		".manifest":                 {Data: []byte(`{"roots": ["lib", "limits/base", "rules/base"]}`)},
		"lib/lib.rego":              {Data: []byte(lib)},
		"limits/base/data.json":     {Data: []byte(limits)},
		"rules/base/load.rego":      {Data: []byte(rules)},
		"rules/base/load_test.rego": {Data: []byte("this is not read")},
	}
}

// A broken standard is refused at load, at its own file, line and column.
func TestRefusedAtLoad(t *testing.T) {
	for _, c := range []struct{ why, rules, want string }{
		{"a misspelt fact", head + strings.Replace(rule, "p.mass_mg >", "p.mas_mg >", 1), `rules/base/load.rego:18:4: .*mas_mg.*mass_mg`},
		{"a misspelt fact inside a function, which the engine's type check does not see", head + rule + "\nheavy(p) if p.mas_mg > 3\n\nx if heavy(input.packs[0])\n", `rules/base/load.rego:22:.*mas_mg`},
		{"no METADATA", head + strings.TrimPrefix(rule, metadata), `rules/base/load.rego:5:1: rule load/too-heavy has no METADATA`},
		{"no remedy", head + strings.Replace(rule, "#   remedy: Take something out.\n", "", 1), `rules/base/load.rego:5:\d+: METADATA of rule load/too-heavy lacks custom.remedy`},
		{"an unknown level", head + strings.Replace(rule, "level: warning", "level: fatal", 1), `rules/base/load.rego:9:\d+: .*"fatal" is not a level; write error, warning or note`},
		{"a misspelt key of METADATA", head + strings.Replace(rule, "# title:", "# titel:", 1), `rules/base/load.rego:6:\d+: METADATA has an unknown key "titel"; did you mean title\?`},
		{"a misspelt custom key", head + strings.Replace(rule, "#   remedy:", "#   remdy:", 1), `rules/base/load.rego:10:\d+: .*unknown key custom.remdy; did you mean remedy\?`},
		{"no source", head + strings.Replace(rule, `["common practice, no source"]`, "[]", 1), `rules/base/load.rego:12:\d+: .*custom.sources`},
		{"an unknown limit", head + strings.Replace(rule, `lib.limit("load", "most")`, `lib.limit("load", "mots")`, 1), `rules/base/load.rego:18:\d+: .*load.mots.*load.most`},
		{"a limit that METADATA does not list", head + strings.Replace(rule, "limits: [load.most]", "limits: []", 1), `rules/base/load.rego:13:5: .*load.most, which it uses at rules/base/load.rego:18:14`},
		{"a helper that does not exist", head + strings.Replace(rule, "p.mass_mg >", "lib.heavy[p.id] >", 1), `rules/base/load.rego:18:\d+: .*lib.heavy`},
		{"the clock", head + strings.Replace(rule, "p.mass_mg >", "time.now_ns() >", 1), `rules/base/load.rego:18:\d+: .*time.now_ns`},
		{"the network", head + strings.Replace(rule, "some p in input.packs", `http.send({"method": "get", "url": "x"})`, 1), `rules/base/load.rego:17:\d+: .*http.send`},
		{"an unused variable", head + strings.Replace(rule, "some p in input.packs", "some p in input.packs\n\tq := 3", 1), `rules/base/load.rego:18:\d+: .*q`},
		{"a comprehension bomb", head + rule + "\nx := " + strings.Repeat("[a | a := ", 18) + "1" + strings.Repeat("]", 18) + "\n", `rules/base/load.rego:22:46: .*nested deeper`},
		{"brackets without end", head + rule + "\nx := " + strings.Repeat("[", 500) + strings.Repeat("]", 500) + "\n", `rules/base/load.rego:22:\d+: brackets may not be nested deeper`},
		{"a syntax error", head + rule + "\nx := := 3\n", `rules/base/load.rego:22:\d+: `},
		{"a package that is nobody's", "package elsewhere\n\nx := 1\n", `rules/base/load.rego:1:\d+: package elsewhere`},
	} {
		t.Run(c.why, func(t *testing.T) {
			b, problems := New(standard(c.rules))
			if b != nil || len(problems) == 0 {
				t.Fatal("not refused")
			}
			var got []string
			for _, p := range problems {
				got = append(got, p.String())
			}
			if !matches(c.want, got) {
				t.Errorf("got:\n%s\nwant %s", strings.Join(got, "\n"), c.want)
			}
		})
	}
}

// matches reports whether one of the lines matches the pattern.
func matches(pattern string, lines []string) bool {
	re := regexp.MustCompile(`(?s)^(?:` + pattern + `)`)
	return slices.ContainsFunc(lines, re.MatchString)
}

func TestLimitsRefused(t *testing.T) {
	for why, text := range map[string]string{
		"no source":        strings.Replace(limits, `"source": "common practice, no source"`, `"source": ""`, 1),
		"an unknown unit":  strings.Replace(limits, `"mg"`, `"stone"`, 1),
		"a fraction":       strings.Replace(limits, "100", "1.5", 1),
		"not JSON":         limits + "}",
		"an unknown field": strings.Replace(limits, `"meaning"`, `"meening"`, 1),
	} {
		s := standard(head + rule)
		s["limits/base/data.json"] = &fstest.MapFile{Data: []byte(text)}
		b, problems := New(s)
		if b != nil || len(problems) == 0 || problems[0].File != "limits/base/data.json" || problems[0].Line != 1 {
			t.Errorf("%s: %v", why, problems)
		}
	}
}

// packs makes facts of n packs of a mass.
func packs(n int, mg int64) *facts.Facts {
	f := &facts.Facts{}
	for i := range n {
		f.Packs = append(f.Packs, facts.Pack{ID: fmt.Sprintf("packs/p%03d", i), MassMG: mg})
	}
	return f
}

func knows(string) bool { return true }

func mustBench(t testing.TB, rules string) *Rulebook {
	t.Helper()
	b, problems := New(standard(rules))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return b
}

func TestJudgeAtTheLimit(t *testing.T) {
	b := mustBench(t, head+rule)
	for mg, want := range map[int64]int{100: 0, 101: 2} {
		vs, faults := b.Judge(context.Background(), packs(2, mg), knows)
		if len(vs) != want || len(faults) > 0 {
			t.Errorf("%d mg: %v, %v", mg, vs, faults)
		}
	}
}

// What a rule says wrongly is the rule's fault, told at its own line, and no other rule is hidden.
func TestBadVerdicts(t *testing.T) {
	second := strings.NewReplacer("too_heavy", "second", "Too heavy", "Second").Replace(rule)
	for why, element := range map[string]string{
		"an unknown id":        `{"at": "packs/nowhere", "text": "x"}`,
		"no text":              `{"at": p.id}`,
		"an empty text":        `{"at": p.id, "text": ""}`,
		"an unknown key":       `{"at": p.id, "text": "x", "line": 3}`,
		"an unknown because":   `{"at": p.id, "text": "x", "because": ["packs/nowhere"]}`,
		"because is no list":   `{"at": p.id, "text": "x", "because": "packs/nowhere"}`,
		"not an object at all": `"too heavy"`,
	} {
		b := mustBench(t, head+strings.Replace(rule, `{"at": p.id, "text": "too heavy"}`, element, 1)+"\n"+second)
		vs, faults := b.Judge(context.Background(), packs(1, 200), func(id string) bool { return id == "packs/p000" })
		if len(faults) != 1 || faults[0].Rule.Name != "load/too-heavy" || faults[0].Problem.File != "rules/base/load.rego" || faults[0].Problem.Line < 5 {
			t.Errorf("%s: faults %v", why, faults)
		}
		if len(vs) != 1 || vs[0].Rule.Name != "load/second" {
			t.Errorf("%s: the other rule is hidden: %v", why, vs)
		}
	}
}

// A built-in that fails in one rule's helper must not turn "not helper" of the next rule true.
func TestAFailureDoesNotPoisonTheNextRule(t *testing.T) {
	rules := head + `broken if to_number("x") == 1

` + strings.Replace(rule, `p.mass_mg > lib.limit("load", "most")`, "p.mass_mg > lib.limit(\"load\", \"most\")\n\tbroken", 1) + "\n" +
		strings.Replace(strings.NewReplacer("too_heavy", "zeta").Replace(rule), `p.mass_mg > lib.limit("load", "most")`, "p.mass_mg > lib.limit(\"load\", \"most\")\n\tnot broken", 1)
	vs, faults := mustBench(t, rules).Judge(context.Background(), packs(1, 200), knows)
	if len(vs) != 0 || len(faults) != 2 {
		t.Errorf("verdicts %v, faults %v; want none and two", vs, faults)
	}
}

func TestDeadline(t *testing.T) {
	b := mustBench(t, head+strings.Replace(rule, "some p in input.packs", "some p in input.packs\n\tcount([1 | some i in numbers.range(1, 3000); some j in numbers.range(1, 3000); i + j == 0]) == 0", 1))
	b.deadline = 30 * time.Millisecond
	_, faults := b.Judge(context.Background(), packs(1, 200), knows)
	if len(faults) != 1 {
		t.Fatalf("not stopped: %v", faults)
	}
}

func TestManyAtOnce(t *testing.T) {
	b := mustBench(t, head+rule)
	want, _ := b.Judge(context.Background(), packs(50, 200), knows)
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 10 {
				if got, _ := b.Judge(context.Background(), packs(50, 200), knows); len(got) != len(want) {
					t.Errorf("%d verdicts, want %d", len(got), len(want))
				}
			}
		})
	}
	wg.Wait()
}

// fill sets every field that it can reach, so that no field is forgotten.
func fill(v reflect.Value, n *int64) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), n)
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range 2 {
			fill(v.Index(i), n)
		}
	case reflect.Int64:
		*n++
		v.SetInt(*n)
	case reflect.String:
		*n++
		v.SetString(fmt.Sprintf("s%d", *n))
	case reflect.Bool:
		v.SetBool(true)
	}
}

// The short way from facts to the engine's terms gives what the way through JSON gives.
func TestEncodeAgreesWithJSON(t *testing.T) {
	full, n := &facts.Facts{}, int64(0)
	fill(reflect.ValueOf(full).Elem(), &n)
	for name, f := range map[string]*facts.Facts{"full": full, "empty": {}} {
		b, err := FactsJSON(f)
		if err != nil {
			t.Fatal(err)
		}
		var doc any
		if err := util.Unmarshal(b, &doc); err != nil {
			t.Fatal(err)
		}
		want, err := ast.InterfaceToValue(doc)
		if err != nil {
			t.Fatal(err)
		}
		if got := encode(f); got.Value.Compare(want) != 0 {
			t.Errorf("%s: %v\nwant %v", name, got, want)
		}
	}
}

var compiled = sync.OnceValues(func() (*Rulebook, []Problem) { return New(Base()) })

// baseBook is the base, compiled once for all tests, which leave it as it is.
func baseBook(t *testing.T) *Rulebook {
	t.Helper()
	b, problems := compiled()
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return b
}

func TestBaseStandard(t *testing.T) {
	for _, r := range baseBook(t).Rules() {
		if r.Title == "" || r.Why == "" || r.Remedy == "" || r.Passes == "" || r.Fails == "" || len(r.Sources) == 0 || r.Line < 1 {
			t.Errorf("%s is not fully described: %+v", r.Name, r)
		}
		for _, l := range r.Limits {
			if l.Value == "" || l.Meaning == "" || l.Source == "" {
				t.Errorf("%s: limit %+v", r.Name, l)
			}
		}
	}
}

// Each rule has tests, and the standard is written as the stock formatter writes it. That the tests pass, package policies holds for all
// areas, and TestPoliciesAreCovered for those that it looks at.
func TestPolicies(t *testing.T) {
	tests := 0
	err := fs.WalkDir(Base(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(p) != ".rego" {
			return err
		}
		b, err := fs.ReadFile(Base(), p)
		if err != nil {
			return err
		}
		formatted, err := format.SourceWithOpts(p, b, format.Opts{RegoVersion: ast.RegoV1})
		if err != nil {
			return err
		}
		if diff := cmp.Diff(string(b), string(formatted)); diff != "" {
			t.Errorf("%s is not formatted (-file +formatted):\n%s", p, diff)
		}
		m, err := ast.ParseModuleWithOpts(p, string(b), ast.ParserOptions{ProcessAnnotation: true, RegoVersion: ast.RegoV1})
		if err != nil {
			return err
		}
		for _, r := range m.Rules {
			if strings.HasPrefix(r.Head.Ref().String(), tester.TestPrefix) {
				tests++
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if rules := len(baseBook(t).Rules()); tests < 3*rules {
		t.Errorf("%d tests of %d rules, which need at least three each", tests, rules)
	}
}

// hundredFacts are facts of a household of 100 items in two packs.
func hundredFacts() *facts.Facts {
	f := packs(2, 9_000_000)
	f.Household = facts.Household{ID: "household", PeopleCount: 2, PlanMin: 72 * 60}
	for i := range 2 {
		id := fmt.Sprintf("people/p%d", i)
		f.People = append(f.People, facts.Person{ID: id, Key: id[7:], Adult: true, PackCount: 1, BodyMassMG: 70_000_000})
		f.Carriers = append(f.Carriers, facts.Carrier{ID: id, Kind: "person", Adult: true, LoadID: id + "/load", BodyMassMG: 70_000_000, LoadMG: 11_000_000, Packs: []string{f.Packs[i].ID}})
		f.Packs[i].Carrier, f.Packs[i].CarrierKind = id, "person"
	}
	for i := range 100 {
		f.Items = append(f.Items, facts.Item{ID: fmt.Sprintf("packs/p%03d/compartments/a/items/i%03d", i%2, i), Pack: f.Packs[i%2].ID, Count: 1, MassMG: 90_000, EachMG: 90_000})
		if i%3 == 0 {
			f.Foods = append(f.Foods, facts.FoodItem{ID: f.Items[i].ID, Pack: f.Items[i].Pack, Cook: i%2 == 0})
		}
	}
	for i := range 40 {
		f.Dates = append(f.Dates, facts.Dated{ID: fmt.Sprintf("%s/expires", f.Items[i].ID), Item: f.Items[i].ID, Kind: "expires", Left: int64(i * 10)})
	}
	return f
}

// BenchmarkJudge times judging from facts to verdicts beside its floor, one
// evaluation of the same prepared rules on facts that are ready for the engine.
func BenchmarkJudge(b *testing.B) {
	rulebook, problems := New(Base())
	if len(problems) > 0 {
		b.Fatal(problems)
	}
	facts := hundredFacts()
	ready := encode(facts)
	b.Run("floor", func(b *testing.B) {
		for b.Loop() {
			rulebook.judge(context.Background(), ready, knows, finding.Note)
		}
	})
	b.Run("judge", func(b *testing.B) {
		for b.Loop() {
			rulebook.Judge(context.Background(), facts, knows)
		}
	})
	b.Run("load the standard", func(b *testing.B) {
		for b.Loop() {
			New(Base())
		}
	})
}
