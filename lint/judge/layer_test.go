package judge

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
)

const (
	valleyManifest = `{"revision": "1.2.0", "rego_version": 1, "roots": ["rules/harrow_valley", "limits/harrow_valley"], "metadata": {"name": "harrow-valley", "needs": "2.0.0"%s}}`
	valleyLimits   = `{
  "flood": {
    "bags": {"value": 2, "unit": "count", "stricter": "higher", "meaning": "dry bags in a pack", "source": "the circle", "at": "standard.cue:9:3", "least": 1, "most": 5}
  },
  "load": {
    "adult_cap": {"value": 120, "unit": "permille", "stricter": "lower", "meaning": "most load of an adult", "source": "the circle", "at": "standard.cue:14:3"}
  },
  "medication": {
    "days": {"value": 5, "unit": "days", "stricter": "higher", "meaning": "days of medicine", "source": "the circle"}
  }
}
`
	valleyRule = `package rules.harrow_valley.flood

import data.lib

# METADATA
# title: Too few dry bags
# description: A flood wets everything.
# custom:
#   level: warning
#   remedy: Add dry bags.
#   mend: {work: add}
#   sources: [the circle]
#   limits: [flood.bags]
#   passes: a
#   fails: b
finding.dry_bags contains f if {
	some pack in input.packs
	want := lib.limit_of(data.limits.harrow_valley, "flood", "bags")
	want > 0
	f := {"at": pack.id, "text": sprintf("%s needs %v dry bags", [pack.name, want])}
}
`
)

// valleyStandard is a group's standard, with some of its files replaced; "" leaves one out.
func valleyStandard(replace map[string]string) fstest.MapFS {
	texts := map[string]string{".manifest": fmt.Sprintf(valleyManifest, ""), "limits/harrow_valley/data.json": valleyLimits, "rules/harrow_valley/flood.rego": valleyRule}
	maps.Copy(texts, replace)
	out := fstest.MapFS{}
	for name, text := range texts {
		if text != "" {
			out[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	return out
}

func valley(t *testing.T, replace map[string]string) *Rulebook {
	t.Helper()
	b, problems := NewLayers(Layer{FS: Base()}, Layer{valleyStandard(replace), "standards/harrow"})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return b
}

// A later standard sets limits anew, adds its own, and says where each stands; a household's stricter one comes after both.
func TestLayers(t *testing.T) {
	b := valley(t, nil)
	for name, want := range map[string][5]string{
		"load.adult_cap":  {"12 %", "tightened", "harrow-valley 1.2.0", "standards/harrow/standard.cue:14:3", "15 %"},
		"medication.days": {"5 days", "loosened", "harrow-valley 1.2.0", "standards/harrow/limits/harrow_valley/data.json:9:5", "7 days"},
		"flood.bags":      {"2", "added", "harrow-valley 1.2.0", "standards/harrow/standard.cue:9:3", ""},
		"load.child_cap":  {"10 %", "added", "base", "", ""},
	} {
		l, ok := b.Limit(name)
		if !ok {
			t.Fatal(name)
		}
		before := ""
		if l.Before != nil {
			before = l.Before.Value
		}
		place := l.At.Span().String()
		if l.Layer == BaseLayer {
			place = ""
		}
		if diff := cmp.Diff(want, [5]string{l.Value, l.Change(), l.Layer, place, before}); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
	if diff := cmp.Diff([]facts.OwnLimit{{Area: "load", Name: "adult_cap", Value: 120, Values: []string{}}, {Area: "medication", Name: "days", Value: 5, Values: []string{}}}, b.Set()); diff != "" {
		t.Error(diff)
	}
	if n, _ := b.InForce("load", "adult_cap", nil); n != 120 {
		t.Errorf("in force is %d", n)
	}
	if _, _, err := b.Stricter("load", "adult_cap", "13 %", nil, false); err == nil {
		t.Error("a household may be looser than its group")
	}
	if _, words, err := b.Stricter("flood", "bags", "3", nil, false); err != nil || words != "3" {
		t.Error(words, err)
	}
	known := &facts.Facts{Packs: []facts.Pack{{ID: "packs/rust", Name: "Rust"}}, Limits: b.Set()}
	said := func() (texts []string) {
		verdicts, faults := b.Judge(context.Background(), known, func(string) bool { return true })
		if len(faults) > 0 {
			t.Fatal(faults)
		}
		for _, v := range verdicts {
			if v.Rule.Name == "harrow-valley:flood/dry-bags" {
				texts = append(texts, v.Text)
			}
		}
		return texts
	}
	if diff := cmp.Diff([]string{"Rust needs 2 dry bags"}, said()); diff != "" {
		t.Error(diff)
	}
	known.Limits = append(known.Limits, facts.OwnLimit{Area: "flood", Name: "bags", Value: 4, Values: []string{}})
	if diff := cmp.Diff([]string{"Rust needs 4 dry bags"}, said()); diff != "" {
		t.Error(diff)
	}
	var names []string
	for _, s := range b.Standards() {
		names = append(names, s.String())
	}
	if diff := cmp.Diff([]string{"base 2.2.0", "harrow-valley 1.2.0"}, names); diff != "" {
		t.Error(diff)
	}
}

// A rule of an earlier standard can be switched off with a reason, but none of the heart.
func TestOff(t *testing.T) {
	off := func(rules string) map[string]string {
		return map[string]string{".manifest": fmt.Sprintf(valleyManifest, `, "off": {`+rules+`}`)}
	}
	b := valley(t, off(`"practice/shakedown": "we walk together twice a year"`))
	if _, ok := b.Rule("practice/shakedown"); ok || b.Off("practice/shakedown") != "harrow-valley 1.2.0: we walk together twice a year" {
		t.Error("it is still there")
	}
	if _, ok := b.Rule("fire/two-means"); !ok {
		t.Error("another rule is gone")
	}
	for rules, want := range map[string]string{
		`"fire/two-means": "we have none"`:    "off: fire/two-means is of the heart of every standard and stays",
		`"practice/shake-down": "x"`:          "off: no rule of an earlier standard is called practice/shake-down; did you mean practice/shakedown?",
		`"harrow-valley:flood/dry-bags": "x"`: "off: no rule of an earlier standard is called",
		`"practice/shakedown": " "`:           "switched off without a reason",
	} {
		_, problems := NewLayers(Layer{FS: Base()}, Layer{valleyStandard(off(rules)), "s"})
		if len(problems) == 0 || problems[0].File != "s/.manifest" || !strings.Contains(problems[0].Text, want) {
			t.Errorf("%s: %v, want %s", rules, problems, want)
		}
	}
}

// One standard's rules read nothing of another's, change nothing of the base, and are what they say they are.
func TestIsolation(t *testing.T) {
	rule := func(expr string) map[string]string {
		return map[string]string{"rules/harrow_valley/flood.rego": strings.Replace(valleyRule, "want > 0", expr, 1)}
	}
	limit := func(from, to string) map[string]string {
		return map[string]string{"limits/harrow_valley/data.json": strings.Replace(valleyLimits, from, to, 1)}
	}
	manifest := func(from, to string) map[string]string {
		return map[string]string{".manifest": strings.Replace(fmt.Sprintf(valleyManifest, ""), from, to, 1)}
	}
	const at = "s/rules/harrow_valley/flood.rego:19:"
	for _, c := range []struct {
		why     string
		replace map[string]string
		want    string
	}{
		{"another's limits", rule("data.limits.base.load.adult_cap.value > 0"), at + "2: data.limits.base.load.adult_cap.value: a standard's rules use input, data.lib, data.limits.harrow_valley and data.rules.harrow_valley, and nothing of another standard"},
		{"another's rules", rule("count(data.rules.base.fire.finding) > 0"), at},
		{"everything", rule("count(data) > 0"), at},
		{"everything below limits", rule("some s; data.limits[s]"), at},
		{"official lists", rule("count(data.lists.base) > 0"), at},
		{"own limits past the household", rule("data.limits.harrow_valley.flood.bags.value > 0"), at + "2: data.limits.harrow_valley.flood.bags.value: read a limit as lib.limit_of(data.limits.harrow_valley"},
		{"the base set aside", rule("lib.limit(\"load\", \"adult_cap\") > 0 with data.limits.base as {}"), at},
		{"a helper of the base replaced", map[string]string{"rules/harrow_valley/lib.rego": "package lib\n\nlimit(_, _) := 1\n"}, "s/rules/harrow_valley/lib.rego:1:1: package lib"},
		{"rules in the base's name", map[string]string{"rules/harrow_valley/x.rego": "package rules.base.fire\n\nx := 1\n"}, "s/rules/harrow_valley/x.rego:1:1: package rules.base.fire"},
		{"limits in the base's name", map[string]string{"limits/base/data.json": "{}"}, "s/limits/base/data.json:1:1: limits/base lies outside the roots"},
		{"roots that are the base's", manifest(`"rules/harrow_valley", `, `"rules/base", `), "s/.manifest:1:1: root \"rules/base\" is not this standard's own"},
		{"roots that are everything", manifest(`["rules/harrow_valley", "limits/harrow_valley"]`, `[""]`), "s/.manifest:1:1: root \"\" is not"},
		{"no roots", manifest(`["rules/harrow_valley", "limits/harrow_valley"]`, `[]`), "s/.manifest:1:1: roots are missing"},
		{"the base's name", manifest(`"harrow-valley"`, `"base"`), "s/.manifest:1:1: metadata.name"},
		{"no version", manifest(`"1.2.0"`, `"latest"`), "s/.manifest:1:1: revision \"latest\""},
		{"a newer base", manifest(`"needs": "2.0.0"`, `"needs": "2.4.0"`), "s/.manifest:1:1: harrow-valley 1.2.0 needs version 2.4.0 of the base standard, and this program has 2.2.0"},
		{"an older base", manifest(`"needs": "2.0.0"`, `"needs": "1.9.0"`), "s/.manifest:1:1: harrow-valley 1.2.0 needs version 1.9.0"},
		{"an unknown word", manifest(`"needs"`, `"neads"`), "s/.manifest:1:1: this is no manifest of a standard"},
		{"another unit", limit(`"value": 5, "unit": "days"`, `"value": 5, "unit": "months"`), "s/limits/harrow_valley/data.json:9:5: limit medication.days has the unit \"days\" in base"},
		{"stricter turned round", limit(`"permille", "stricter": "lower"`, `"permille", "stricter": "higher"`), "s/limits/harrow_valley/data.json:6:5: limit load.adult_cap: stricter is \"lower\" in base and stays so"},
		{"out of its own range", limit(`"value": 2`, `"value": 9`), "s/limits/harrow_valley/data.json:3:5: limit flood.bags: its value is out of its own range"},
		{"a place that leads out", limit("standard.cue:9:3", "../../etc/passwd:1"), "limit flood.bags: at is a place such as standard.cue:14:3"},
		{"no such limit", rule(`lib.limit_of(data.limits.harrow_valley, "flood", "bag") > 0`), "no limit is called flood.bag; did you mean flood.bags?"},
	} {
		_, problems := NewLayers(Layer{FS: below(t)}, Layer{valleyStandard(c.replace), "s"})
		seen := false
		for _, p := range problems {
			seen = seen || strings.Contains(p.String(), c.want)
		}
		if !seen {
			t.Errorf("%s: %v, want %s", c.why, problems, c.want)
		}
	}
	// A range holds for the standards after it; two of one name do not go together.
	region := valleyStandard(nil)
	group := fstest.MapFS{
		".manifest":              {Data: []byte(`{"revision": "0.1.0", "roots": ["limits/upper"], "metadata": {"name": "upper"}}`)},
		"limits/upper/data.json": {Data: []byte(`{"flood": {"bags": {"value": 6, "unit": "count", "stricter": "higher", "meaning": "m", "source": "s"}}}`)},
	}
	_, problems := NewLayers(Layer{FS: below(t)}, Layer{region, "r"}, Layer{group, "g"})
	if len(problems) != 1 || problems[0].String() != "g/limits/upper/data.json:1:12: limit flood.bags: 6 is out of the range that harrow-valley 1.2.0 allows" {
		t.Error(problems)
	}
	_, problems = NewLayers(Layer{FS: below(t)}, Layer{region, "r"}, Layer{region, "g"})
	if len(problems) == 0 || problems[0].String() != "g/.manifest:1:1: a standard called harrow-valley is there already" {
		t.Error(problems)
	}
}

func TestOlder(t *testing.T) {
	ordered := []string{"0.9.0", "1.0.0", "1.0.9", "1.0.10", "1.2.0", "2.0.0", "10.0.0"}
	for i, a := range ordered {
		for j, b := range ordered {
			if Older(a, b) != (i < j) {
				t.Errorf("%s older than %s is %v", a, b, !(i < j))
			}
		}
	}
}

// What is kept ready of the limits gives way to those among the facts, also to those of facts that a rule puts in their place.
func TestLimitsKeptReady(t *testing.T) {
	b := valley(t, map[string]string{"rules/harrow_valley/flood.rego": strings.Replace(strings.Replace(valleyRule, "flood.bags", "water.start", 1), `	want := lib.limit_of(data.limits.harrow_valley, "flood", "bags")
	want > 0
	f := {"at": pack.id, "text": sprintf("%s needs %v dry bags", [pack.name, want])}
`, `	here := lib.limit("water", "start")
	there := lib.limit("water", "start") with input.limits as [{"area": "water", "name": "start", "list": false, "value": 7}]
	f := {"at": pack.id, "text": sprintf("%d %d %d", [here, there, lib.limit("water", "start")])}
`, 1)})
	n, _ := b.InForce("water", "start", nil)
	for _, c := range []struct {
		own  []facts.OwnLimit
		want string
	}{
		{nil, fmt.Sprintf("%d 7 %d", n, n)},
		{[]facts.OwnLimit{{Area: "water", Name: "vessels", Value: 9}, {Area: "light", Name: "start", Value: 9}}, fmt.Sprintf("%d 7 %d", n, n)},
		{[]facts.OwnLimit{{Area: "light", Name: "means", Value: 9}, {Area: "water", Name: "start", Value: 300}}, "300 7 300"},
	} {
		vs, faults := b.Judge(t.Context(), &facts.Facts{Packs: []facts.Pack{{ID: "packs/rust"}}, Limits: c.own}, func(string) bool { return true })
		var got []string
		for _, v := range vs {
			if v.Rule.Name == "harrow-valley:flood/dry-bags" {
				got = append(got, v.Text)
			}
		}
		for _, f := range faults {
			if f.Rule.Name == "harrow-valley:flood/dry-bags" {
				t.Error(f.Problem)
			}
		}
		if !slices.Equal(got, []string{c.want}) {
			t.Errorf("%v: %q, want %q", c.own, got, c.want)
		}
	}
}
