package lint_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/report"
	"kitmuster/lint/unit"
)

// Garbage is collected as seldom as in the program.
func init() { debug.SetGCPercent(400) }

// on is the audit date of every test.
const on = "2026-11-01"

func day(t testing.TB) unit.Date {
	t.Helper()
	return dayOf(t, on)
}

func dayOf(t testing.TB, s string) unit.Date {
	t.Helper()
	d, err := unit.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// base is the base standard, compiled once for all tests: it judges many at once and is changed by none.
var base = sync.OnceValues(func() (*judge.Rulebook, []judge.Problem) { return judge.New(judge.Base()) })

func rulebook(t testing.TB) *judge.Rulebook {
	t.Helper()
	b, problems := base()
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return b
}

func check(t testing.TB, tree fs.FS, b *judge.Rulebook, patterns ...string) *lint.Result {
	t.Helper()
	return checkWith(t, 2, tree, b, patterns...)
}

func checkWith(t testing.TB, workers int, tree fs.FS, b *judge.Rulebook, patterns ...string) *lint.Result {
	t.Helper()
	o := lint.Options{Patterns: patterns, Options: household.Options{On: day(t)}, Workers: workers}
	o.Run = func(ctx context.Context, j lint.Job) lint.Answer {
		return lint.Pack(household.Judge(ctx, tree, b, j.Dir, o.Options))
	}
	res := lint.Check(context.Background(), tree, o)
	t.Cleanup(res.Close)
	return res
}

// found are the findings of a result.
func found(t testing.TB, res *lint.Result) []finding.Finding {
	t.Helper()
	fs, err := res.Run.Findings.All()
	if err != nil {
		t.Fatal(err)
	}
	return fs
}

var want = regexp.MustCompile(`(want|fact) (?:(\S+)) "([^"]*)"`)

// Households stand in testdata/*.txtar. A comment at the end of a line says what is expected there:
//
//	// want RULE "part of the message"   a finding that starts on this line
//	// fact ID "amount"                  the ledger's amount for an ID, wherever it stands
//
// A missing finding fails, and so does a surplus one of the rules that the file's
// first lines name: "rules: fire/two-means, waiver/*". Others are not looked at.
func TestHouseholds(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatal("no test data", err)
	}
	b := rulebook(t)
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(file)
			if err != nil {
				t.Fatal(err)
			}
			tree := fstest.MapFS{}
			for _, f := range a.Files {
				tree[f.Name] = &fstest.MapFile{Data: f.Data}
			}
			res := check(t, tree, b, "...")
			if len(res.Faults) > 0 {
				t.Error("broken rules:", res.Faults)
			}
			got := map[string][]string{}
			for _, f := range found(t, res) {
				if !looksAt(t, string(a.Comment), f.Rule) {
					continue
				}
				k := fmt.Sprintf("%s:%d %s", f.At.File, f.At.Start.Line, f.Rule)
				got[k] = append(got[k], f.Message)
			}
			expectations := 0
			for _, f := range a.Files {
				for i, line := range strings.Split(string(f.Data), "\n") {
					_, comment, _ := strings.Cut(line, "// ")
					for _, m := range want.FindAllStringSubmatch(comment, -1) {
						expectations++
						if m[1] == "fact" {
							measured := household.Measure(tree, filepath.Dir(f.Name), household.Options{On: day(t)})
							e, ok := measured.Ledger.Entry(m[2])
							if !ok || e.AmountText() != m[3] {
								t.Errorf("%s:%d: fact %s is %q, want %q", f.Name, i+1, m[2], e.AmountText(), m[3])
							}
							continue
						}
						k := fmt.Sprintf("%s:%d %s", f.Name, i+1, m[2])
						at := slices.IndexFunc(got[k], func(s string) bool { return strings.Contains(s, m[3]) })
						if at < 0 {
							t.Errorf("missing: %s %q; there: %q", k, m[3], got[k])
							continue
						}
						if got[k] = slices.Delete(got[k], at, at+1); len(got[k]) == 0 {
							delete(got, k)
						}
					}
				}
			}
			if expectations == 0 {
				t.Error("nothing is expected; a test that cannot fail")
			}
			for k, v := range got {
				t.Errorf("surplus: %s %q", k, v)
			}
		})
	}
}

// looksAt reports whether the first lines of a file of households name a rule.
func looksAt(t *testing.T, comment, rule string) bool {
	t.Helper()
	_, names, ok := strings.Cut(comment, "rules: ")
	if !ok {
		t.Fatal(`the first lines lack "rules: …", so no surplus finding would show`)
	}
	names, _, _ = strings.Cut(names, "\n")
	for name := range strings.SplitSeq(names, ", ") {
		if area, all := strings.CutSuffix(name, "*"); name == rule || all && strings.HasPrefix(rule, area) {
			return true
		}
	}
	return false
}

// frame is a small household.
const frame = `package kit

household: "Example"
people: ana: {age: "40 y", bodyMass: "70 kg"}
packs: rust: {carrier: "ana", mass: "1 kg", compartments: lid: reach: "walking"}
`

// The examples that explain a rule are run for real.
func TestRuleExamples(t *testing.T) {
	t.Parallel()
	b := rulebook(t)
	for _, r := range b.Rules() {
		for _, c := range []struct {
			what, text string
			fails      bool
		}{{"passes", r.Passes, false}, {"fails", r.Fails, true}} {
			t.Run(r.Name+"/"+c.what, func(t *testing.T) {
				if why := household.TryExample(context.Background(), b, r, c.text, c.fails); why != "" {
					t.Errorf("%s, over\n%s", why, c.text)
				}
			})
		}
	}
	// The trial itself can fail.
	r, _ := b.Rule("fire/two-means")
	for _, c := range []struct {
		text  string
		fails bool
		want  string
	}{
		{r.Fails, false, "rule fire/two-means objects to its own kit under passes: ana has 1 way to make fire (gas-lighter)"},
		{r.Passes, true, "rule fire/two-means does not object to its own kit under fails"},
		{"packs: rust: mas: \"2 kg\"", true, "rule fire/two-means: the kit under fails cannot be judged: its line 1: unknown field \"mas\""},
	} {
		if got := household.TryExample(context.Background(), b, r, c.text, c.fails); !strings.HasPrefix(got, c.want) {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestHeartRulesAreThere(t *testing.T) {
	b := rulebook(t)
	for _, name := range []string{"fire/two-means", "water/purification", "load/body-mass-cap", "medication/days"} {
		if r, ok := b.Rule(name); !ok || r.Level != finding.Error {
			t.Errorf("%s must be there, as an error", name)
		}
	}
	if n := len(b.Rules()); n < 150 {
		t.Errorf("%d rules, want at least 150", n)
	}
}

// The same input gives the same bytes, whatever the number of workers and the order of the paths.
func TestSameBytes(t *testing.T) {
	b, tree := rulebook(t), os.DirFS("..")
	render := func(workers int, patterns ...string) string {
		res := checkWith(t, workers, tree, b, patterns...)
		var out bytes.Buffer
		for _, f := range report.Formats {
			if err := f.Write(&out, &res.Run, report.Options{}); err != nil {
				t.Fatal(err)
			}
		}
		return out.String()
	}
	first := render(1, "examples/harrow-valley/...")
	for range 3 {
		if diff := cmp.Diff(first, render(2, "examples/harrow-valley/cedar", "examples/harrow-valley/birch", "examples/harrow-valley/alder", "examples/...")); diff != "" {
			t.Fatal(diff)
		}
	}
}

// TestStockParity asks the stock policy engine the same questions; .ci/run names its binary.
func TestStockParity(t *testing.T) {
	opa := os.Getenv("KITMUSTER_OPA")
	if opa == "" {
		t.Log("KITMUSTER_OPA does not name the stock binary: only our own answer is checked for its shape")
	}
	b, tree := rulebook(t), os.DirFS("..")
	for _, dir := range []string{"alder", "birch", "cedar"} {
		m := household.Measure(tree, "examples/harrow-valley/"+dir, household.Options{On: day(t)})
		if m.Facts == nil {
			t.Fatal(m.Findings)
		}
		facts, err := judge.FactsJSON(m.Facts)
		if err != nil {
			t.Fatal(err)
		}
		if !json.Valid(facts) {
			t.Fatal("facts are not JSON")
		}
		verdicts, faults := b.Judge(context.Background(), m.Facts, func(string) bool { return true })
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		var ours []string
		for _, v := range verdicts {
			ours = append(ours, fmt.Sprintf("%s %s %s %d", v.Rule.Name, v.At, v.Text, v.Lack))
		}
		slices.Sort(ours)
		if opa == "" {
			continue
		}
		input := filepath.Join(t.TempDir(), "facts.json")
		if err := os.WriteFile(input, facts, 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(opa, "eval", "--strict-builtin-errors", "--bundle", "../policies", "--input", input, "--format", "json", "data.rules.base").Output()
		if err != nil {
			t.Fatal(err)
		}
		var answer struct {
			Result []struct {
				Expressions []struct {
					Value map[string]struct {
						Finding map[string][]struct {
							At, Text string
							Lack     int64
						}
					}
				}
			}
		}
		if err := json.Unmarshal(out, &answer); err != nil {
			t.Fatal(err)
		}
		var theirs []string
		for area, a := range answer.Result[0].Expressions[0].Value {
			for rule, fs := range a.Finding {
				for _, f := range fs {
					theirs = append(theirs, fmt.Sprintf("%s %s %s %d", strings.ReplaceAll(area+"/"+rule, "_", "-"), f.At, f.Text, f.Lack))
				}
			}
		}
		slices.Sort(theirs)
		if diff := cmp.Diff(theirs, ours); diff != "" {
			t.Errorf("%s: stock (-) against ours (+):\n%s", dir, diff)
		}
	}
}

// One value that cannot be read hides no other household, and nothing else of its own.
func TestOneBadHouseholdHidesNoOther(t *testing.T) {
	tree := fstest.MapFS{
		"a/kit.cue": {Data: []byte(frame)},
		"b/kit.cue": {Data: []byte(strings.Replace(frame, "70 kg", "70 kgg", 1))},
		"c/kit.cue": {Data: []byte(frame)},
	}
	res := check(t, tree, rulebook(t), "...")
	if !res.Unfit {
		t.Error("the bad household is not told")
	}
	judged := map[string]bool{}
	rules := map[string]int{}
	for _, h := range res.Run.Households {
		judged[h.Path] = h.Judged
	}
	for _, f := range found(t, res) {
		rules[f.Path]++
	}
	if diff := cmp.Diff(map[string]bool{"a": true, "b": false, "c": true}, judged); diff != "" {
		t.Error(diff)
	}
	if rules["a"] == 0 || rules["a"] != rules["c"] || rules["b"] != rules["a"]+1 {
		t.Errorf("findings by household: %v", rules)
	}
}
