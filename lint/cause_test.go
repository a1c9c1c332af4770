package lint_test

import (
	"context"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint"
	"kitmuster/lint/compare"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/private"
	"kitmuster/lint/repo"
)

// sharers is a small valley: five households that take a lamp and a pot from a catalogue, and share a plan; and one that takes nothing.
func sharers() fstest.MapFS {
	out := map[string]string{
		"cue.mod/module.cue": "module: \"valley.example/kits\"\nlanguage: version: \"v0.17.0\"\n",
		"catalogue.cue":      "package kit\n\n// What we buy together.\n_catalogue: {\n\tlamp: {name: \"lamp\", mass: \"80 g\", can: light: \"headlamp\"}\n\tpot: {name: \"pot\", mass: \"200 g\", can: eat: \"cup\"}\n}\n",
		"valley.cue":         "package kit\n\nplan: duration: \"72 h\"\npacks: [string]: style: \"outdoor\"\npacks: rust: compartments: lid: items: tent: {name: \"tent\", mass: \"1 kg\"}\n",
		"README.md":          "Kits of the valley.\n",
	}
	for i, name := range []string{"Ash", "Birch", "Cedar", "Dogwood", "Elm"} {
		text := strings.Replace(frame, "Example", name, 1) + "packs: rust: compartments: lid: items: {lamp: _catalogue.lamp, pot: _catalogue.pot}\n"
		if i == 4 {
			text = strings.Replace(frame, "Example", name, 1)
		}
		out["homes/"+strings.ToLower(name)+"/kit.cue"] = text
	}
	return files(out)
}

// causesOf are the causes of a run by one rule, "" for any, each with how many households have something new or fixed.
func causesOf(t *testing.T, run *finding.Run, rule string) (out []string) {
	t.Helper()
	list, err := run.Effects()
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range list {
		s := fmt.Sprintf("%d: %s", e.Households, finding.CauseWords(e.Causes))
		concerns := rule == ""
		for _, r := range e.Rules {
			if r.Rule == rule {
				concerns = true
				s += fmt.Sprintf("; %s %s in %d: %s", r.State.Word(), r.Level, r.Households, r.Named())
			}
		}
		if concerns {
			out = append(out, s)
		}
	}
	return out
}

// A change of what several read is named as the cause of what it did, at its line, and nothing else is.
func TestCauses(t *testing.T) {
	b := rulebook(t)
	edit := func(name, from, to string) func(now fstest.MapFS) {
		return func(now fstest.MapFS) {
			text := string(now[name].Data)
			if !strings.Contains(text, from) {
				t.Fatalf("%s has no %q", name, from)
			}
			now[name] = &fstest.MapFile{Data: []byte(strings.ReplaceAll(text, from, to))}
		}
	}
	all := func(edits ...func(fstest.MapFS)) func(fstest.MapFS) {
		return func(now fstest.MapFS) {
			for _, e := range edits {
				e(now)
			}
		}
	}
	const cap, lost = "load/body-mass-cap", "input/reference"
	heavy := edit("catalogue.cue", `mass: "80 g"`, `mass: "30 kg"`)
	for _, c := range []struct {
		why  string
		edit func(now fstest.MapFS)
		rule string
		want []string
	}{
		{"a value of the catalogue", heavy, cap, []string{"4: mass of “lamp” at catalogue.cue:5:29 went from 80 g to 30 kg; new error in 4: Ash, Birch, Cedar, Dogwood"}},
		{"… in a file with the line ends of Windows", all(heavy, edit("catalogue.cue", "\n", "\r\n")), cap, []string{"4: mass of “lamp” at catalogue.cue:5:29 went from 80 g to 30 kg; new error in 4: Ash, Birch, Cedar, Dogwood"}},
		{"a field of a template", edit("valley.cue", "mass: \"1 kg\"", "mass: \"30 kg\""), cap, []string{"5: mass of “tent” at valley.cue:5:67 went from 1 kg to 30 kg; new error in 5: Ash, Birch, Cedar, Dogwood, Elm"}},
		{"a thing in every pack", edit("valley.cue", "packs: [string]: style: \"outdoor\"\n", "packs: [string]: style: \"outdoor\"\npacks: rust: compartments: lid: items: anvil: {name: \"anvil\", mass: \"30 kg\"}\n"), cap, []string{"5: “anvil” at valley.cue:5:40 is new; new error in 5: Ash, Birch, Cedar, Dogwood, Elm"}},
		{"a limit of all households", edit("valley.cue", "plan: duration", "limits: load: adult_cap: {value: \"1 %\", reason: \"hills\"}\nplan: duration"), cap, []string{"5: limit load.adult_cap at valley.cue:3:15 is new: 1 %; new error in 5: Ash, Birch, Cedar, Dogwood, Elm"}},
		{"an entry is gone", edit("catalogue.cue", "\tlamp: {name: \"lamp\", mass: \"80 g\", can: light: \"headlamp\"}\n", ""), lost, []string{"4: “lamp” is gone from catalogue.cue, where it stood in line 5; new error in 4: Ash, Birch, Cedar, Dogwood"}},
		{"an entry has another name", edit("catalogue.cue", "\tlamp:", "\ttorch:"), lost, []string{"4: “lamp” at catalogue.cue:5:2 is now called “torch”; new error in 4: Ash, Birch, Cedar, Dogwood"}},
		{"the file is gone", func(now fstest.MapFS) { delete(now, "catalogue.cue") }, lost, []string{"4: catalogue.cue is gone; new error in 4: Ash, Birch, Cedar, Dogwood"}},
		{"a file is new", func(now fstest.MapFS) {
			now["homes/limits.cue"] = &fstest.MapFile{Data: []byte("package kit\n\nlimits: load: adult_cap: {value: \"1 %\", reason: \"hills\"}\n")}
		}, cap, []string{"5: homes/limits.cue is new; new error in 5: Ash, Birch, Cedar, Dogwood, Elm"}},
		{"the file cannot be read", edit("catalogue.cue", "_catalogue: {", "_catalogue: {{{"), "input/syntax", []string{"5: catalogue.cue changed; new error in 5: homes/ash, homes/birch, homes/cedar, homes/dogwood, homes/elm"}},
		{"one of two changes", all(heavy, edit("catalogue.cue", `mass: "200 g"`, `mass: "900 g"`)), cap, []string{"4: mass of “lamp” at catalogue.cue:5:29 went from 80 g to 30 kg; new error in 4: Ash, Birch, Cedar, Dogwood"}},
		{"two changes that it took both", all(edit("catalogue.cue", `mass: "80 g"`, `mass: "6 kg"`), edit("catalogue.cue", `mass: "200 g"`, `mass: "4 kg"`)), cap, []string{
			"4: mass of “lamp” at catalogue.cue:5:29 went from 80 g to 6 kg, and mass of “pot” at catalogue.cue:6:27 went from 200 g to 4 kg; new error in 4: Ash, Birch, Cedar, Dogwood",
		}},
		{"two changes of which either would do", all(heavy, edit("catalogue.cue", `mass: "200 g"`, `mass: "30 kg"`)), cap, []string{
			"4: mass of “lamp” at catalogue.cue:5:29 went from 80 g to 30 kg, or mass of “pot” at catalogue.cue:6:27 went from 200 g to 30 kg; new error in 4: Ash, Birch, Cedar, Dogwood",
		}},
		{"two changes that cannot be tried apart", all(heavy, edit("catalogue.cue", "\tpot: {name: \"pot\", mass: \"200 g\", can: eat: \"cup\"}\n", "")), lost, []string{
			"4: mass of “lamp” at catalogue.cue:5:29 went from 80 g to 30 kg, or “pot” is gone from catalogue.cue, where it stood in line 6; new error in 4: Ash, Birch, Cedar, Dogwood",
		}},
		{"a change of one's own beside it", all(heavy, edit("homes/ash/kit.cue", "70 kg", "71 kg")), cap, []string{"3: mass of “lamp” at catalogue.cue:5:29 went from 80 g to 30 kg; new error in 3: Birch, Cedar, Dogwood"}},
		{"a change of one's own alone", edit("homes/ash/kit.cue", "mass: \"1 kg\"", "mass: \"30 kg\""), "", nil},
		{"a change that does nothing", edit("catalogue.cue", `mass: "80 g"`, `mass: "81 g"`), "", nil},
		{"a comment", edit("catalogue.cue", "// What", "// All that"), "", nil},
		{"only line ends", edit("catalogue.cue", "\n", "\r\n"), "", nil},
		{"a page that no kit reads", edit("README.md", "Kits", "All kits"), "", nil},
	} {
		t.Run(c.why, func(t *testing.T) {
			before, now := sharers(), sharers()
			c.edit(now)
			res, _ := since(t, b, before, now, changed(before, now), false)
			got := causesOf(t, &res.Run, c.rule)
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
			for _, f := range found(t, res) {
				if f.State == finding.Unchanged && len(f.Causes) > 0 {
					t.Errorf("%s is unchanged, and is said to have a cause", f.Rule)
				}
			}
			// The other way round, the same change is the cause of what is fixed and new.
			back, _ := since(t, b, now, before, changed(now, before), false)
			if n := len(causesOf(t, &back.Run, c.rule)); n != len(got) {
				t.Errorf("there %d causes, and back %d", len(got), n)
			}
		})
	}
}

// Which file is a cause depends on what a household reads: what lies above it, and with an import what lies elsewhere.
func TestCausesReachWhoReadsThem(t *testing.T) {
	b := rulebook(t)
	before := files(map[string]string{
		"cue.mod/module.cue":       "module: \"valley.example/kits\"\nlanguage: version: \"v0.17.0\"\n",
		"shared/things/things.cue": "package things\n\nlamp: {name: \"lamp\", mass: \"50 g\"}\n",
		"upper/all.cue":            "package kit\n\nlimits: load: adult_cap: {value: \"14 %\", reason: \"hills\"}\n",
		"lower/all.cue":            "package kit\n\nplan: duration: \"72 h\"\n",
		"lower/a/kit.cue":          strings.Replace(frame, "package kit\n", "package kit\n\nimport \"valley.example/kits/shared/things\"\n\npacks: rust: compartments: lid: items: lamp2: things.lamp\n", 1),
		"lower/b/kit.cue":          frame,
		"upper/c/kit.cue":          frame,
	})
	now := maps.Clone(before)
	now["shared/things/things.cue"] = &fstest.MapFile{Data: []byte(strings.Replace(string(before["shared/things/things.cue"].Data), "50 g", "30 kg", 1))}
	now["upper/all.cue"] = &fstest.MapFile{Data: []byte("package kit\n\nlimits: load: adult_cap: {value: \"1 %\", reason: \"hills\"}\n")}
	res, _ := since(t, b, before, now, changed(before, now), false)
	got := map[string]string{}
	for _, f := range found(t, res) {
		if f.State == finding.New {
			got[f.Path] = finding.CauseWords(f.Causes)
		}
	}
	want := map[string]string{
		"lower/a": "shared/things/things.cue changed, or limit load.adult_cap at upper/all.cue:3:34 went from 14 % to 1 %", // it might read either
		"upper/c": "limit load.adult_cap at upper/all.cue:3:34 went from 14 % to 1 %",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// Many changes are told by how many and where.
func TestManyCausesAreCounted(t *testing.T) {
	b := rulebook(t)
	before, now := sharers(), sharers()
	text := func(mass string) *fstest.MapFile {
		var s strings.Builder
		s.WriteString("package kit\n\n")
		for i := range 7 {
			fmt.Fprintf(&s, "packs: rust: compartments: lid: items: thing%d: {name: \"thing\", mass: %q}\n", i, mass)
		}
		return &fstest.MapFile{Data: []byte(s.String())}
	}
	before["things.cue"], now["things.cue"] = text("5 g"), text("5 kg")
	res, _ := since(t, b, before, now, changed(before, now), false)
	if got := causesOf(t, &res.Run, ""); !slices.Equal(got, []string{"5: 7 places of things.cue changed"}) {
		t.Errorf("%q", got)
	}
	for i := range 7 {
		name := fmt.Sprintf("things%d.cue", i)
		before[name], now[name] = &fstest.MapFile{Data: []byte("package kit\n\n_x: 1\n_y: 1\n")}, &fstest.MapFile{Data: []byte("package kit\n\n_x: 1\n_y: 1\n_z: 2\n")}
	}
	res, _ = since(t, b, before, now, changed(before, now), false)
	if got := causesOf(t, &res.Run, ""); !slices.Equal(got, []string{"5: 8 files changed that several households read"}) {
		t.Errorf("%q", got)
	}
}

// A file that no kit may read is not looked into to tell a cause: neither through a link out of the repository nor a pipe.
func TestCausesLookAtNothingElse(t *testing.T) {
	b := rulebook(t)
	before, now := sharers(), sharers()
	before["link.cue"], now["link.cue"] = &fstest.MapFile{Data: []byte("catalogue.cue"), Mode: fs.ModeSymlink}, &fstest.MapFile{Data: []byte("../secret.cue"), Mode: fs.ModeSymlink}
	now["catalogue.cue"] = &fstest.MapFile{Data: []byte(strings.Replace(string(now["catalogue.cue"].Data), "80 g", "30 kg", 1))}
	res, _ := since(t, b, before, now, append(changed(before, now), repo.Change{Old: "link.cue", New: "link.cue"}), false)
	for _, f := range found(t, res) {
		if strings.Contains(finding.CauseWords(f.Causes), "secret") {
			t.Errorf("%s", finding.CauseWords(f.Causes))
		}
	}
}

// What others may see names no cause: it holds keys, values and files of the kits.
func TestCausesArePrivate(t *testing.T) {
	b := rulebook(t)
	before, now := sharers(), sharers()
	now["catalogue.cue"] = &fstest.MapFile{Data: []byte(strings.Replace(string(now["catalogue.cue"].Data), "80 g", "30 kg", 1))}
	res, _ := since(t, b, before, now, changed(before, now), false)
	if len(causesOf(t, &res.Run, "")) != 1 {
		t.Fatal("no cause, so this shows nothing")
	}
	mask := private.New([private.KeySize]byte{1}, nil, nil, nil)
	if got := causesOf(t, mask.Run(&res.Run), ""); len(got) > 0 {
		t.Errorf("%q", got)
	}
	c, err := compare.Make(res)
	if err != nil || len(c.Alike()) != 1 {
		t.Fatalf("%v %v", c.Alike(), err)
	}
	if got := mask.Comparison(c).Alike(); len(got) > 0 {
		t.Errorf("%v", got)
	}
}

// Figures of households that differ by one change are told together: those of all, from the least to the most.
func TestFiguresOfAlike(t *testing.T) {
	b := rulebook(t)
	before, now := sharers(), sharers()
	twice := string(now["homes/birch/kit.cue"].Data) + "packs: rust: compartments: lid: items: more: _catalogue.lamp\n"
	before["homes/birch/kit.cue"], now["homes/birch/kit.cue"] = &fstest.MapFile{Data: []byte(twice)}, &fstest.MapFile{Data: []byte(twice)}
	now["catalogue.cue"] = &fstest.MapFile{Data: []byte(strings.Replace(string(now["catalogue.cue"].Data), "80 g", "90 g", 1))}
	res, _ := since(t, b, before, now, changed(before, now), false)
	c, err := compare.Make(res)
	if err != nil {
		t.Fatal(err)
	}
	all := c.Alike()
	if len(all) != 1 || len(all[0].Households) != 5 || all[0].Differ != 4 {
		t.Fatalf("%+v", all)
	}
	var got []string
	for _, s := range all[0].Spans {
		got = append(got, fmt.Sprintf("%s %d %d", s.Figure.ID, s.Least, s.Most))
	}
	if want := []string{"mass/all 10000 20000", "mass/base 10000 20000", "mass/packs/rust 10000 20000"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// A driver whose words stand in a template says whose pack it is; one that a family wrote itself stands at its own line.
func TestDriversOfATemplateSayWhose(t *testing.T) {
	tree := files(map[string]string{
		"cue.mod/module.cue": "module: \"valley.example/kits\"\nlanguage: version: \"v0.17.0\"\n",
		"all.cue":            "package kit\n\n_twin: {mass: \"1 kg\", compartments: main: {reach: \"walking\", items: anvil: {name: \"anvil\", mass: \"9 kg\"}}}\n",
		"twins/kit.cue":      "package kit\n\nhousehold: \"Twins\"\npeople: ana: {age: \"41 y\", bodyMass: \"70 kg\"}\npacks: red: _twin & {carrier: \"ana\", name: \"Red\"}\npacks: blue: _twin & {carrier: \"ana\"}\npacks: blue: compartments: main: items: bust: {name: \"bust\", mass: \"8 kg\"}\n",
	})
	res := lint.Check(context.Background(), tree, lint.Options{Patterns: []string{"..."}, Rules: rulebook(t), Options: household.Options{On: day(t)}})
	defer res.Close()
	var got []string
	for _, f := range found(t, res) {
		if f.Rule == "load/body-mass-cap" {
			for _, b := range f.Because {
				got = append(got, b.Message)
			}
		}
	}
	want := []string{"used here", "load of ana: 28.00 kg", "anvil: 9.00 kg, in pack “blue”", "anvil: 9.00 kg, in pack “Red”", "bust: 8.00 kg"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}
