package load

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// differs is a difference in a line: its kind, what it is called, its values, and the lines where it stood and stands.
func differs(d Difference) string {
	s := fmt.Sprintf("%s %s: %s -> %s", d.Kind, d.What, d.Before, d.Now)
	for _, at := range []struct {
		word string
		line int
		col  int
	}{{"was", d.Was.Start.Line, d.Was.Start.Col}, {"at", d.At.Start.Line, d.At.Start.Col}} {
		if at.line > 0 {
			s += fmt.Sprintf(" %s %d:%d", at.word, at.line, at.col)
		}
	}
	return s
}

func TestDifferences(t *testing.T) {
	const head = "package kit\n\n"
	const lamp = "headlamp: _hall & {name: \"headlamp\", mass: \"86 g\", can: light: \"headlamp\"}\n"
	catalogue := func(entries ...string) string { return head + "_catalogue: {\n" + strings.Join(entries, "") + "}\n" }
	for _, c := range []struct {
		why, before, now string
		want             []string
	}{
		{"a value of a catalogue", catalogue(lamp), catalogue(strings.Replace(lamp, "86", "120", 1)), []string{"value mass of “headlamp”: 86 g -> 120 g was 4:44 at 4:44"}},
		{"only a comment, spaces and a comma", catalogue(lamp), "// Ours.\npackage kit\n_catalogue: headlamp: _hall & {\n\tname: \"headlamp\" // the good one\n\tmass: \"86 g\",\n\tcan: light: \"headlamp\"\n}\n", nil},
		{"line ends of Windows", catalogue(lamp), strings.ReplaceAll(catalogue(lamp), "\n", "\r\n"), nil},
		{"… and a value", catalogue(lamp), strings.ReplaceAll(strings.Replace(catalogue(lamp), "86", "120", 1), "\n", "\r\n"), []string{"value mass of “headlamp”: 86 g -> 120 g was 4:44 at 4:44"}},
		{"an entry is gone", catalogue(lamp, "pot: {mass: \"1 kg\"}\n"), catalogue("pot: {mass: \"1 kg\"}\n"), []string{"gone “headlamp”:  ->  was 4:1"}},
		{"an entry is new", catalogue(lamp), catalogue(lamp, "pot: {mass: \"1 kg\", name: \"pot\"}\n"), []string{"new “pot”:  ->  at 5:1"}},
		{"an entry has another name", catalogue(lamp), catalogue(strings.Replace(lamp, "headlamp:", "lamp:", 1)), []string{"renamed “headlamp”: headlamp -> lamp was 4:1 at 4:1"}},
		{"… and says something else", catalogue(lamp), catalogue("lamp: mass: \"1 g\"\n"), []string{"new “lamp”:  ->  at 4:1", "gone “headlamp”:  ->  was 4:1"}},
		{"a field is gone", catalogue(lamp), catalogue(strings.Replace(lamp, ", can: light: \"headlamp\"", "", 1)), []string{"gone can of “headlamp”:  ->  was 4:52"}},
		{"a field is new", catalogue("pot: {name: \"pot\"}\n"), catalogue("pot: {name: \"pot\", mass: \"1 kg\"}\n"), []string{"new mass of “pot”:  -> 1 kg at 4:26"}},
		{"a field within fields", catalogue("pot: container: capacity: \"1 L\"\n"), catalogue("pot: container: capacity: \"2 L\"\n"), []string{"value container.capacity of “pot”: 1 L -> 2 L was 4:27 at 4:27"}},
		{"what an entry is made of", catalogue(lamp), catalogue(strings.Replace(lamp, "_hall", "_guess", 1)), []string{"value “headlamp”: _hall -> _guess was 4:11 at 4:11"}},
		{"what all entries share", head + "_hall: weighed: \"2026-09-19\"\n", head + "_hall: weighed: \"2025-09-19\"\n", []string{"value weighed of “_hall”: 2026-09-19 -> 2025-09-19 was 3:17 at 3:17"}},
		{"a template", head + "packs: twin: compartments: lid: items: torch: mass: \"50 g\"\n", head + "packs: twin: compartments: lid: items: torch: mass: \"60 g\"\n", []string{"value mass of “torch”: 50 g -> 60 g was 3:53 at 3:53"}},
		{"a pack of all", head + "packs: [string]: mass: \"1 kg\"\n", head + "packs: [string]: mass: \"2 kg\"\n", []string{"value mass of “[string]”: 1 kg -> 2 kg was 3:24 at 3:24"}},
		{"a limit", head + "limits: load: body_mass_cap: {value: \"20 %\", reason: \"hills\"}\n", head + "limits: load: body_mass_cap: {value: \"18 %\", reason: \"steep hills\"}\n", []string{
			"value limit load.body_mass_cap: 20 % -> 18 % was 3:38 at 3:38", "value reason of limit load.body_mass_cap: hills -> steep hills was 3:54 at 3:54",
		}},
		{"a new limit", head, head + "limits: load: adult_cap: {value: \"8 %\", reason: \"hills\"}\n", []string{"new limit load.adult_cap:  -> 8 % at 3:15"}},
		{"a new field of the plan", head, head + "plan: {\n\thours: \"96 h\"\n}\n", []string{"new plan.hours:  -> 96 h at 4:9"}},
		{"a whole plan", head + "plan: {hours: \"96 h\", settings: [\"town\"]}\n", head, []string{"gone plan:  ->  was 3:1"}},
		{"a thing of a pack that all have", head, head + "packs: [string]: compartments: lid: items: torch: {mass: \"5 g\", name: \"torch\"}\n", []string{"new “[string]”:  ->  at 3:8"}},
		{"the plan", head + "plan: hours: \"72 h\"\n", head + "plan: hours: \"96 h\"\n", []string{"value plan.hours: 72 h -> 96 h was 3:14 at 3:14"}},
		{"a list", head + "plan: settings: [\"town\"]\n", head + "plan: settings: [\"town\", \"snow\"]\n", []string{"value plan.settings: [\"town\"] -> [\"town\", \"snow\"] was 3:17 at 3:17"}},
		{"one field twice", head + "plan: hours: \"72 h\"\nplan: hours: string\n", head + "plan: hours: \"72 h\"\n", []string{"gone plan.hours: string ->  was 4:14"}},
		{"a comprehension", head + "for k in [\"a\"] {packs: (k): mass: \"1 kg\"}\n", head + "for k in [\"a\"] {packs: (k): mass: \"2 kg\"}\n", []string{`value what the file says as a whole: for k in ["a"] {packs: (k): mass: "1 kg"} -> for k in ["a"] {packs: (k): mass: "2 kg"} was 3:1 at 3:1`}},
		{"a value that is long", head + "household: \"" + strings.Repeat("a", 80) + "\"\n", head + "household: \"b\"\n", []string{"value household: " + strings.Repeat("a", 60) + " … -> b was 3:12 at 3:12"}},
	} {
		t.Run(c.why, func(t *testing.T) {
			ds, ok := Differences("c.cue", "c.cue", []byte(c.before), []byte(c.now))
			var got []string
			for _, d := range ds {
				got = append(got, differs(d))
			}
			if diff := cmp.Diff(c.want, got); diff != "" || !ok {
				t.Errorf("%v (-want +got):\n%s", ok, diff)
			}
		})
	}
}

// Of a file that was not there or is not any more all entries are new or gone; what cannot be read by itself is not compared.
func TestDifferencesOfWholeFiles(t *testing.T) {
	const file = "package kit\n\n_hall: weighed: \"2026-09-19\"\n_catalogue: pot: mass: \"1 kg\"\n"
	for _, c := range []struct {
		why         string
		before, now []byte
		want        []string
		ok          bool
	}{
		{"new", nil, []byte(file), []string{"new “_hall”:  ->  at 3:1", "new “_catalogue”:  ->  at 4:1"}, true},
		{"gone", []byte(file), nil, []string{"gone “_hall”:  ->  was 3:1", "gone “_catalogue”:  ->  was 4:1"}, true},
		{"not CUE", []byte(file), []byte("package kit\n\n{{{"), nil, false},
		{"another package", []byte(file), []byte("package things\n"), nil, false},
		{"too large", []byte(file), []byte("package kit\n" + strings.Repeat("//\n", MostCompared/3)), nil, false},
		{"brackets without end", []byte(file), []byte("package kit\nx: " + strings.Repeat("(", 200_000)), nil, false},
	} {
		ds, ok := Differences("c.cue", "c.cue", c.before, c.now)
		var got []string
		for _, d := range ds {
			got = append(got, differs(d))
		}
		if diff := cmp.Diff(c.want, got); diff != "" || ok != c.ok {
			t.Errorf("%s: %v (-want +got):\n%s", c.why, ok, diff)
		}
	}
}
