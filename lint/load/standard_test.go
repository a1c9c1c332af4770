package load

import (
	"maps"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

const upperHarrow = `package standard

name:        "harrow-upper"
version:     "1.2.0"
needs:       "1.0.0"
title:       "Upper Harrow"
description: "What the circle asks."

limits: flood: bags: {value: "2", unit: "count", stricter: "higher", meaning: "dry bags", source: "the circle", least: "1"}
limits: fire: wet: {values: ["ferro-rod"], unit: "list", stricter: "fewer", meaning: "means", source: "the circle"}
off: "practice/shakedown": "we walk together"
`

func standardTree(files map[string]string) fstest.MapFS {
	texts := map[string]string{StandardFile: upperHarrow, "cue.mod/module.cue": "module: \"standards.example/harrow-upper@v1\"\nlanguage: version: \"v0.17.0\"\n"}
	maps.Copy(texts, files)
	out := fstest.MapFS{}
	for name, text := range texts {
		if text != "" {
			out[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	return out
}

func TestReadStandard(t *testing.T) {
	want := &Standard{Name: "harrow-upper", Version: "1.2.0", Needs: "1.0.0", Title: "Upper Harrow", Description: "What the circle asks.",
		Limits: []StandardLimit{
			{Area: "fire", Name: "wet", Values: []string{"ferro-rod"}, List: true, Unit: "list", Stricter: "fewer", Meaning: "means", Source: "the circle"},
			{Area: "flood", Name: "bags", Value: "2", Unit: "count", Stricter: "higher", Meaning: "dry bags", Source: "the circle", Least: "1"},
		},
		Off: map[string]string{"practice/shakedown": "we walk together"}}
	for why, files := range map[string]map[string]string{
		"as it is":             nil,
		"without a module":     {"cue.mod/module.cue": ""},
		"other things beside":  {"notes.txt": "x", "rules/harrow_upper/a.rego": "package rules.harrow_upper.a", ".hidden.cue": "package standard\n\nname: 3\n"},
		"spread over packages": {"limits.cue": "package standard\n\nimport \"standards.example/harrow-upper/water\"\n\nlimits: flood: water.flood\n", StandardFile: strings.Replace(upperHarrow, "limits: flood: bags: {value: \"2\", ", "limits: flood: bags: {", 1), "water/water.cue": "package water\n\nflood: bags: value: \"2\"\n"},
	} {
		got, faults := ReadStandard(standardTree(files), Options{})
		if len(faults) > 0 {
			t.Errorf("%s: %v", why, faults)
			continue
		}
		if diff := cmp.Diff(want, got, cmpopts.IgnoreUnexported(Standard{})); diff != "" {
			t.Errorf("%s: %s", why, diff)
		}
		if at := got.Locate(got.Limits[1].Spot()); at.File != StandardFile && at.File != "limits.cue" || at.Start.Line < 3 {
			t.Errorf("%s: a limit at %v", why, at)
		}
	}
}

// Each fault of a standard at its own place; the rest of what can be wrong stands in the scripts of the program.
func TestFaultsOfStandards(t *testing.T) {
	in := func(from, to string) map[string]string {
		if !strings.Contains(upperHarrow, from) {
			t.Fatalf("%q is not there", from)
		}
		return map[string]string{StandardFile: strings.Replace(upperHarrow, from, to, 1)}
	}
	for _, c := range []struct {
		why   string
		files map[string]string
		want  string
	}{
		{"no file", map[string]string{StandardFile: ""}, "standard.cue:1:1: there is no standard.cue that can be read"},
		{"another package", in("package standard", "package kit"), "standard.cue:1:9: write `package standard` as the first line"},
		{"a file that CUE leaves out", map[string]string{"more.cue": "@if(valley)\n\npackage standard\n\nlimits: {}\n"}, "more.cue:1:1: more.cue is left out by CUE"},
		{"a misspelt field", in("title:", "titel:"), `standard.cue:6:1: unknown field "titel"; did you mean title: "Upper Harrow"?`},
		{"a field of a limit", in("least:", "leest:"), `unknown field "leest"; did you mean least: "1"?`},
		{"no value for a limit", in(`value: "2", `, ""), `standard.cue:9:16: limit flood.bags has no value: write value: "2"`},
		{"a base of another's", in(`name:        "harrow-upper"`, `name: "base"`), `standard.cue:3:7: "base" is the name of the base standard`},
		{"a module from outside", in("package standard\n", "package standard\n\nimport \"other.example/x@v0\"\n\n_x: x\n"), `there is no package "other.example/x@v0" in this repository, and standards are read without a network`},
		{"no UTF-8", in("the circle", "the c\xffrcle"), "standard.cue is not UTF-8 text from here on"},
		{"a large file", map[string]string{StandardFile: upperHarrow + strings.Repeat("//\n", 1<<19)}, "standard.cue has 2 MiB; a file of a standard may have at most 1 MiB"},
		{"a number for a value", in(`value: "2"`, `value: 2`), "value: 2 has no unit; write it in quotes"},
	} {
		s, faults := ReadStandard(standardTree(c.files), Options{})
		said := ""
		for _, f := range faults {
			said += f.At.String() + ": " + f.Message + "\n"
		}
		if s != nil || !strings.Contains(said, c.want) {
			t.Errorf("%s: %q, want %s", c.why, said, c.want)
		}
	}
}

// Whatever a group writes, it is read or refused, with every fault in a file of its own.
func FuzzStandard(f *testing.F) {
	// Short ones: the engine makes each find as short as it can before it goes on, in a time that grows with the square of its length.
	for _, text := range []string{
		`name: "a"`, `version: "1.2.0"`, `title: "\(name)"`, `off: "practice/shakedown": "x"`,
		`limits: flood: bags: {value: "2", unit: "count"}`, `limits: fire: wet: {values: ["a"], unit: "list"}`,
	} {
		f.Add("package standard\n" + text + "\n")
	}
	f.Fuzz(func(t *testing.T, text string) {
		if strings.Contains(text, "import") || strings.Contains(text, "for") || strings.Contains(text, "*") || len(text) > 2000 {
			t.Skip() // CUE cannot be stopped; the wall around it is tested with the program
		}
		s, faults := ReadStandard(standardTree(map[string]string{StandardFile: text}), Options{})
		if (s == nil) != (len(faults) > 0) {
			t.Fatalf("%v, %v", s, faults)
		}
		for _, x := range faults {
			if x.Message == "" || x.At.Start.Line < 1 {
				t.Fatalf("%+v", x)
			}
		}
	})
}
