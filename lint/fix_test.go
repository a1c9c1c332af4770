package lint_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/kinds"
)

// A slip with one sure answer carries its edit, at lines and columns as people count them; made there, the fault is gone.
func TestSlipsCarryTheirEdit(t *testing.T) {
	const kit = "package kit\r\n\r\nhousehold: \"Été\"\r\npeople: ana: {name: \"Zoé\", age: 42 y, bodyMass: \"68 kg\"}\r\npacks: rust: {carrier: \"ana\", mass: \"1.2 kgg\", compartments: lid: {reach: \"walking\", items: lamp: {name: \"é\", mas: \"8 g\"}}}\r\n"
	text, edits := kit, 0
	for edits < 9 {
		res := lint.Check(t.Context(), files(map[string]string{"kit.cue": text}), lint.Options{Patterns: []string{"."}, Rules: rulebook(t), Options: household.Options{On: day(t)}})
		i := -1
		fs := found(t, res)
		if i = slices.IndexFunc(fs, func(f finding.Finding) bool { return f.Edit != nil }); i < 0 {
			if i := slices.IndexFunc(fs, func(f finding.Finding) bool { return strings.HasPrefix(f.Rule, "input/") }); i >= 0 {
				t.Errorf("after %d edits: %s\n%s", edits, fs[i].Message, text)
			}
			break
		}
		e := fs[i].Edit
		lines := strings.SplitAfter(text, "\n")
		line := []rune(lines[e.At.Start.Line-1])
		if e.At.Start.Line != e.At.End.Line {
			t.Fatalf("%+v", e)
		}
		lines[e.At.Start.Line-1] = string(line[:e.At.Start.Col-1]) + e.New + string(line[e.At.End.Col-1:])
		text = strings.Join(lines, "")
		edits++
	}
	if want := strings.NewReplacer("42 y", "\"42 y\"", "kgg", "kg", "mas:", "mass:").Replace(kit); text != want || edits != 3 {
		t.Errorf("%d edits\n%s", edits, cmp.Diff(want, text))
	}
}

// What a rule says mends it agrees with its remedy in words, as far as the first word leaves no choice.
func TestWorkIsWhatTheRemedyNamesFirst(t *testing.T) {
	first := map[string]finding.Work{
		"Add": finding.ToAdd, "Copy": finding.ToAdd, "Move": finding.ToMove, "Replace": finding.ToExchange, "Weigh": finding.ToCheck, "Agree": finding.ToDecide,
	}
	seen, used := map[string]bool{}, map[finding.Work]bool{}
	for _, r := range rulebook(t).Rules() {
		word, _, _ := strings.Cut(r.Remedy, " ")
		if want, ok := first[word]; ok && r.Mend.Work != want {
			t.Errorf("%s: the work is %s, and the remedy says %q", r.Name, r.Mend.Work, r.Remedy)
		}
		if !slices.Contains(finding.Works, r.Mend.Work) || r.Mend.Words() == "" {
			t.Errorf("%s: the work is %q", r.Name, r.Mend.Work)
		}
		seen[word], used[r.Mend.Work] = true, true
	}
	for word := range first {
		if !seen[word] {
			t.Errorf("no remedy begins with %s", word)
		}
	}
	for _, w := range finding.Works {
		if !used[w] {
			t.Errorf("no rule of the base is mended by %s", w)
		}
	}
}

// Whatever the base standard wants brought can stand on a shopping list by a name: what is past its date has its own.
func TestWhatIsBroughtHasAName(t *testing.T) {
	n := 0
	for _, r := range rulebook(t).Rules() {
		if !r.Mend.Work.Brings() || strings.HasPrefix(r.Name, "dates/") {
			continue
		}
		if n++; r.Mend.Get == "" {
			t.Errorf("%s: %q", r.Name, r.Title)
		}
	}
	if n < 90 {
		t.Errorf("%d rules", n)
	}
}

// The capabilities that a standard may name are those that a kit can have.
func TestCapabilitiesAreThoseOfTheSchema(t *testing.T) {
	want := []string{"treat-water"} // of an item's treatment, not of #Can
	for _, m := range canLine.FindAllStringSubmatch(definition(t, "#Can"), -1) {
		want = append(want, m[1])
	}
	slices.Sort(want)
	if diff := cmp.Diff(want, kinds.Texts(kinds.CapabilityList())); diff != "" {
		t.Errorf("-schema +kinds:\n%s", diff)
	}
}

// What the rules say goes to the outputs, and people read it in words.
func TestMendIsTold(t *testing.T) {
	words := map[string]string{}
	for _, r := range household.Rules(rulebook(t)) {
		words[r.Name] = r.Mend.Words()
	}
	for name, want := range map[string]string{
		"fire/two-means": "add something and carry it (can: fire)", "access/on-the-move": "move or repack what is there", "limit/looser": "decide or agree on something",
	} {
		if words[name] != want {
			t.Errorf("%s: got %q, want %q", name, words[name], want)
		}
	}
}
