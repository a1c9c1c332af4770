package report

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/finding"
)

var startRules = []finding.Rule{
	{Name: "a/expired", Mend: finding.Fix{Work: finding.ToExchange}},
	{Name: "a/medicine", Mend: finding.Fix{Work: finding.ToExchange}},
	{Name: "a/light", Mend: finding.Fix{Work: finding.ToAdd, Thing: "light"}},
	{Name: "a/lamp", Mend: finding.Fix{Work: finding.ToAdd, Thing: "light"}},
	{Name: "a/dry", Mend: finding.Fix{Work: finding.ToMove}},
	{Name: "a/pocket", Mend: finding.Fix{Work: finding.ToMove}},
	{Name: "data/not-recorded", Mend: finding.Fix{Work: finding.ToWrite}},
}

// found is a finding in a line of its own.
func found(line int, level finding.Level, rule, spot string) finding.Finding {
	return finding.Finding{Rule: rule, Level: level, Title: "Title of " + rule, Message: "wrong", Household: "Alder", Path: "alder", Spot: spot, At: at(line, 1, 2), Remedy: "Do " + rule + ". Then rest."}
}

func saidOf(t *testing.T, o Options, change func(*finding.Run), fs ...finding.Finding) string {
	t.Helper()
	r := finding.Run{On: "2026-11-01", Rules: startRules}
	r.Count([]finding.Household{{Name: "Alder", Path: "alder", Judged: true}, {Name: "Birch", Path: "birch", Judged: true}}, fs...)
	if change != nil {
		change(&r)
	}
	var b bytes.Buffer
	if err := Text(&b, &r, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// beginning is what stands under Start here, "" where that is nothing.
func beginning(text string) string {
	_, rest, ok := strings.Cut(text, "Start here: ")
	if !ok {
		return ""
	}
	rest, _, _ = strings.Cut(rest, "\n\n")
	return rest
}

func many() []finding.Finding {
	rest := found(9, finding.Note, "a/pocket", "packs/rust")
	rest.Message, rest.MayDo = "no light (not recorded: “lamp” may do)", true
	rest.Because = []finding.Because{{Message: "lamp", At: at(8, 1, 2)}}
	return []finding.Finding{
		found(1, finding.Warning, "a/dry", "packs/rust/compartments/lid/items/socks"),
		found(2, finding.Warning, "a/dry", "packs/blue/compartments/lid/items/socks"),
		found(3, finding.Warning, "a/dry", "packs/blue/compartments/lid/items/hat"),
		found(4, finding.Error, "a/medicine", "people/ana/onBody/pen/expires"),
		found(5, finding.Warning, "a/expired", "people/ana/onBody/pen"),
		found(6, finding.Note, "a/light", "packs/rust"),
		found(7, finding.Note, "a/lamp", "people/ben"),
		found(8, finding.Note, "data/not-recorded", "packs/rust/compartments/lid/items/lamp"),
		rest,
		found(10, finding.Warning, "a/expired", "packs/rust/compartments/lid/items/nuts"),
	}
}

// What one act clears counts together: one remedy everywhere, one thing that is exchanged, such a thing brought. Errors come first, what only may
// go with an act is told apart, and what clears a single warning saves nobody a step.
func TestStartHere(t *testing.T) {
	fs := many()
	want := `4 steps clear 8 of 10 findings
  1. Do a/medicine. Do a/expired.
     Clears 2 findings, 1 error among them (alder/kit.cue:4:1 and 1 more place).
  2. Do a/dry.
     Clears 3 findings (alder/kit.cue:1:1 and 2 more places).
  3. Do a/light. Do a/lamp.
     Clears 2 findings (alder/kit.cue:6:1 and 1 more place).
  4. Do data/not-recorded.
     Clears 1 finding, and may settle 1 more (alder/kit.cue:8:1).`
	text := saidOf(t, Options{}, nil, fs...)
	if diff := cmp.Diff(want, beginning(text)); diff != "" {
		t.Error(diff)
	}
	if !strings.Contains(text, "\nNext: do what stands under “Start here”, then check again. ") {
		t.Errorf("the last line does not send anybody to the beginning:\n%s", text)
	}
}

// Whoever cannot read the whole yet reads that first.
func TestStartWithTheInput(t *testing.T) {
	fs := many()
	for i := range 2 {
		fs = append(fs, found(20+i, finding.Error, "input/quantity", fmt.Sprintf("packs/rust/mass%d", i)))
	}
	if got := beginning(saidOf(t, Options{}, nil, fs...)); !strings.Contains(got, "\n  1. Do input/quantity.\n") {
		t.Errorf("got %s", got)
	}
}

// The last of five steps is the one that clears most, whatever its level: what is not recorded of many things is one step.
func TestStartHasTheLargestStep(t *testing.T) {
	var fs []finding.Finding
	for i := range 14 {
		fs = append(fs, found(i+1, finding.Error, fmt.Sprintf("b/r%d", i/2), "household"))
	}
	for i := range 9 {
		fs = append(fs, found(30+i, finding.Note, "c/many", fmt.Sprintf("packs/rust/compartments/lid/items/i%d", i)))
	}
	if got := beginning(saidOf(t, Options{}, nil, fs...)); !strings.HasPrefix(got, "5 steps clear 17 of 23 findings\n") || !strings.Contains(got, "\n  5. Do c/many.\n     Clears 9 findings (") {
		t.Errorf("got %s", got)
	}
}

func TestNoStart(t *testing.T) {
	noError := many()
	noError[3].Level = finding.Warning
	waived := many()
	waived[3].Waived = &finding.Waiver{Reason: "ordered", Until: "2026-12-01"}
	compared := many()
	for i := range compared {
		compared[i].State = finding.New
	}
	var single []finding.Finding
	for i := range 8 {
		single = append(single, found(i+1, finding.Error, fmt.Sprintf("b/r%d", i), "household"))
	}
	for name, got := range map[string]string{
		"few findings":         saidOf(t, Options{}, nil, many()[:fewFindings]...),
		"nobody is not ready":  saidOf(t, Options{}, nil, noError...),
		"the error is waived":  saidOf(t, Options{}, nil, waived...),
		"compared":             saidOf(t, Options{}, func(r *finding.Run) { r.Since = "HEAD" }, compared...),
		"for others":           saidOf(t, Options{}, func(r *finding.Run) { r.Shared = "key" }, many()...),
		"each has its own act": saidOf(t, Options{}, nil, single...),
	} {
		if s := beginning(got); s != "" {
			t.Errorf("%s: got %s", name, s)
		}
	}
	if got := beginning(saidOf(t, Options{}, nil, many()[:fewFindings+1]...)); got == "" {
		t.Error("one finding more is not few any more")
	}
}

// No more than five steps, and what stands there depends on nothing but the findings.
func TestStartIsShort(t *testing.T) {
	var fs []finding.Finding
	for i := range 14 {
		fs = append(fs, found(i+1, finding.Error, fmt.Sprintf("b/r%d", i/2), "household"))
	}
	first := beginning(saidOf(t, Options{}, nil, fs...))
	if !strings.HasPrefix(first, "5 steps clear 10 of 14 findings\n  1. Do b/r0.\n     Clears 2 errors (") {
		t.Errorf("got %s", first)
	}
	for range 20 {
		if got := beginning(saidOf(t, Options{}, nil, fs...)); got != first {
			t.Fatalf("%s\nand then %s", first, got)
		}
	}
}

func TestNext(t *testing.T) {
	at := func(level finding.Level) finding.Finding { return found(1, level, "b/r", "household") }
	fresh := at(finding.Note)
	fresh.State = finding.New
	for want, got := range map[string]string{
		"Next: fix the errors, then check again.":               saidOf(t, Options{}, nil, at(finding.Error)),
		"Next: fix the warnings, or waive one for a time (kit":  saidOf(t, Options{}, nil, at(finding.Warning)),
		"Next: nothing is urgent. kitmuster rules NAME":         saidOf(t, Options{}, nil, at(finding.Note)),
		"Next: look at what is new, then check again.":          saidOf(t, Options{}, func(r *finding.Run) { r.Since = "HEAD" }, fresh),
		"Next: correct the input, then check again. kitmuster ": saidOf(t, Options{}, func(r *finding.Run) { r.Summary.Unjudged = 1 }, at(finding.Error)),
	} {
		if !strings.Contains(got, "\n"+want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
	nowhere := at(finding.Error)
	nowhere.Rule = "input/path"
	if got := saidOf(t, Options{}, func(r *finding.Run) { r.Households, r.Summary.Households = nil, 0 }, nowhere); !strings.Contains(got, "Next: name the folder of a household.") || strings.Contains(got, "explains a rule") {
		t.Errorf("with no household:\n%s", got)
	}
	if got := saidOf(t, Options{}, nil); strings.Contains(got, "Next") {
		t.Errorf("nothing found, and yet:\n%s", got)
	}
}

// One line for each household, in their order, those with nothing to say and paths that lead to none too; and one that counts.
func TestQuiet(t *testing.T) {
	nowhere := found(1, finding.Error, "input/no-kit", "household")
	nowhere.Household, nowhere.Path = "", "nowhere"
	fs := append(many(), nowhere)
	want := `Alder, alder: not ready (1 error, 5 warnings, 4 notes)
Birch, birch: ready
nowhere: no household (1 error)
2 households checked as of 2026-11-01: 2 errors, 5 warnings, 4 notes.
`
	if diff := cmp.Diff(want, saidOf(t, Options{Quiet: true}, nil, fs...)); diff != "" {
		t.Error(diff)
	}
	for want, change := range map[string]func(*finding.Run){
		"Birch, birch: nothing new or fixed\n": func(r *finding.Run) { r.Since = "HEAD" },
		"Birch, birch: only partly checked\n": func(r *finding.Run) {
			r.Households = slices.Clone(r.Households)
			r.Households[1].Judged = false
		},
	} {
		if got := saidOf(t, Options{Quiet: true}, change); !strings.Contains(got, want) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
}

// The rules are compiled for steps to begin with only where there may be some.
func TestRulesForTheBeginning(t *testing.T) {
	f, err := Named("text")
	if err != nil {
		t.Fatal(err)
	}
	var r finding.Run
	r.Count(nil, many()...)
	if !f.NeedsRules(&r) {
		t.Error("a run with an error among many findings does not ask for the rules")
	}
	r.Count(nil, many()[:fewFindings]...)
	if f.NeedsRules(&r) {
		t.Error("a run with few findings asks for the rules")
	}
}
