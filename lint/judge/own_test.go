package judge

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/facts"
)

func TestStricterLimits(t *testing.T) {
	b, problems := New(smallStandard(map[string]string{limitFile: `{"a": {
		"share": {"value": 150, "unit": "permille", "stricter": "lower", "meaning": "m", "source": "s"},
		"mass": {"value": 2000, "unit": "mg", "stricter": "lower", "meaning": "m", "source": "s"},
		"litres": {"value": 2000, "unit": "ml", "stricter": "higher", "meaning": "m", "source": "s"},
		"height": {"value": 1000000, "unit": "mm", "stricter": "lower", "meaning": "m", "source": "s"},
		"stored": {"value": 1000, "unit": "mwh", "stricter": "higher", "meaning": "m", "source": "s"},
		"cold": {"value": 5000, "unit": "mc", "stricter": "higher", "meaning": "m", "source": "s"},
		"doses": {"value": 2500, "unit": "milli", "stricter": "higher", "meaning": "m", "source": "s"},
		"energy": {"value": 4184000, "unit": "j", "stricter": "higher", "meaning": "m", "source": "s"},
		"wait": {"value": 30, "unit": "min", "stricter": "higher", "meaning": "m", "source": "s"},
		"days": {"value": 7, "unit": "days", "stricter": "higher", "meaning": "m", "source": "s"},
		"age": {"value": 144, "unit": "months", "stricter": "higher", "meaning": "m", "source": "s"},
		"life": {"value": 5, "unit": "years", "stricter": "lower", "meaning": "m", "source": "s"},
		"means": {"value": 2, "unit": "count", "stricter": "higher", "meaning": "m", "source": "s"},
		"kinds": {"value": ["x", "y"], "unit": "list", "stricter": "more", "meaning": "m", "source": "s"},
		"spared": {"value": ["x", "y"], "unit": "list", "stricter": "fewer", "meaning": "m", "source": "s"}
	}}`, fireFile: ""}))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for _, c := range []struct {
		name, value string
		values      []string
		number      int64
		words       string
		why         string // part of the error
		looser      bool
	}{
		{name: "share", value: "12.5 %", number: 125, words: "12.5 %"},
		{name: "share", value: "15 %", number: 150, words: "15 %"},
		{name: "share", value: "15.1 %", why: "15.1 % is looser than the standard's 15 % for a.share; a household may only write a lower value", looser: true},
		{name: "share", value: "12.55 %", why: "finer than the limit can be"},
		{name: "share", value: "12", why: "limit a.share: "},
		{name: "mass", value: "1.5 g", number: 1500, words: "1.5 g"},
		{name: "litres", value: "1 gal", why: "finer than the limit can be"},
		{name: "litres", value: "2.5 L", number: 2500, words: "2.5 L"},
		{name: "litres", value: "1.9 L", why: "may only write a higher value", looser: true},
		{name: "height", value: "900 m", number: 900_000, words: "900 m"},
		{name: "stored", value: "2 Wh", number: 2000, words: "2 Wh"},
		{name: "cold", value: "6.5 °C", number: 6500, words: "6.5 °C"},
		{name: "doses", value: "3", number: 3000, words: "3"},
		{name: "energy", value: "1200 kcal", number: 5_020_800, words: "1200 kcal"},
		{name: "wait", value: "1 h", number: 60, words: "1 h"},
		{name: "days", value: "14 days", number: 14, words: "14 days"},
		{name: "days", value: "6 d", why: "looser", looser: true},
		{name: "age", value: "168 months", number: 168, words: "168 months"},
		{name: "age", value: "14 y", why: "write a whole number of months"},
		{name: "life", value: "1 year", number: 1, words: "1 year"},
		{name: "means", value: "3", number: 3, words: "3"},
		{name: "means", value: "2.5", why: "finer"},
		{name: "means", values: []string{"3"}, why: `is one value: write value: "2"`},
		{name: "means", why: `is one value: write value: "2"`},
		{name: "kinds", values: []string{"y", "x", "z"}, words: "y, x, z"},
		{name: "kinds", values: []string{"x"}, why: "it must also hold y", looser: true},
		{name: "kinds", value: "x", why: `is a list: write values: ["x", "y"]`},
		{name: "spared", values: []string{"x"}, words: "x"},
		{name: "spared", values: []string{"x", "z"}, why: "it may not hold z", looser: true},
		{name: "spared", values: []string{}, words: ""},
		{name: "kinds", values: []string{}, why: "is a list: write values"},
		{name: "kinds", values: []string{"x", "y", "y"}, why: `"y" is blank or stands there twice`},
		{name: "kinds", values: []string{"x", "y", " "}, why: "is blank"},
		{name: "kindz", value: "x", why: `no limit is called "a.kindz"; did you mean a.kinds?`},
		{name: "other-thing", value: "x", why: "kitmuster rules --limits lists them"},
	} {
		got, words, err := b.Stricter("a", c.name, c.value, c.values, c.values != nil)
		var looser *LooserError
		if (err == nil) != (c.why == "") || err != nil && !strings.Contains(err.Error(), c.why) || errors.As(err, &looser) != c.looser {
			t.Errorf("%s %q %q: %v, want %q", c.name, c.value, c.values, err, c.why)
			continue
		}
		if err != nil {
			continue
		}
		want := facts.OwnLimit{Area: "a", Name: c.name, List: c.values != nil, Value: c.number, Values: append([]string{}, c.values...)}
		if d := cmp.Diff(want, got); d != "" || words != c.words {
			t.Errorf("%s: words %q, want %q\n%s", c.name, words, c.words, d)
		}
		own := []facts.OwnLimit{got}
		if n, list := b.InForce("a", c.name, own); n != c.number || !cmp.Equal(list, got.Values) {
			t.Errorf("%s in force: %d %q", c.name, n, list)
		}
	}
	if n, list := b.InForce("a", "kinds", nil); n != 0 || !cmp.Equal(list, []string{"x", "y"}) {
		t.Errorf("the standard's list is %d %q", n, list)
	}
	if n, list := b.InForce("a", "nothing", nil); n != 0 || list != nil {
		t.Errorf("an unknown limit gives %d %q", n, list)
	}
}

func TestListsOfAStandard(t *testing.T) {
	const head = `"title": "T", "body": "B", "year": "2020", "known": "k", "evidence": "e", "horizon": "3 days", `
	const good = `"whistle": {"asks": "a whistle", "any": ["can:signal:whistle"], "source": "s", "known": "k"}`
	for _, c := range []struct{ text, want string }{
		{`{"valley": {` + head + `"lines": {` + good + `}}}`, ""},
		{`{"valley": {` + head + `"lines": {}}}`, "1:2: a list is a name without dots"},
		{`{"a.b": {` + head + `"lines": {` + good + `}}}`, "1:2: a list is a name without dots"},
		{`{"valley": {"title": "T", "lines": {` + good + `}}}`, `1:2: list valley needs "body", a text`},
		{`{"valley": {` + head + `"colour": "red", "lines": {` + good + `}}}`, `1:2: list valley: unknown field "colour"`},
		{`{"valley": {` + head + `"lines": {"x": {"asks": "x", "source": "s", "known": "k"}}}}`, "asks for nothing that can be looked up"},
		{`{"valley": {` + head + `"lines": {"x": {"asks": "x", "any": ["a"], "known": "k"}}}}`, `needs "asks", "source" and "known"`},
		{`{"valley": {` + head + `"lines": {"x": {"asks": "x", "water_ml_day": 3, "source": "s", "known": "k"}}}}`, "water_ml_day and days go together"},
		{`{"valley": {` + head + `"lines": {"x": {"asks": "x", "food_days": -1, "source": "s", "known": "k"}}}}`, "no amount is below zero"},
		{`{"valley": {` + head + `"lines": {"x": {"asks": "x", "all": ["a"], "each": true, "source": "s", "known": "k"}}}}`, `"each" counts what answers "any"`},
		{`{"valley": {` + head + `"left_out": "bags", "lines": {"x": {"asks": "x", "parts": {"a": ["b"]}, "source": "s", "known": "k"}, "y": {"asks": "y", "bags": true, "source": "s", "known": "k"}, "z": {"asks": "z", "animal_days": 1, "source": "s", "known": "k"}}}}`, ""},
		{`{"valley": {` + head + `"lines": {"x": {"asks": "x", "animal_days": -1, "any": ["a"], "source": "s", "known": "k"}}}}`, "no amount is below zero"},
		{`{"valley": {` + head + `"lines": {"x": {"asks": "x", "food_days": "3", "source": "s", "known": "k"}}}}`, "food_days cannot be a string"},
		{`[1]`, "1:1: lists are an object"},
		{`{} {}`, "nothing may follow here"},
		{`{"a": }`, "this is not JSON"},
	} {
		_, problems := New(smallStandard(map[string]string{"lists/base/data.json": c.text}))
		switch {
		case c.want == "" && len(problems) > 0:
			t.Errorf("%s: %v", c.text, problems)
		case c.want != "" && (len(problems) == 0 || !strings.Contains(problems[0].String(), c.want) || problems[0].File != "lists/base/data.json"):
			t.Errorf("%s: %v, want %s", c.text, problems, c.want)
		}
	}
	b := smallBench(t, map[string]string{"lists/base/data.json": `{"valley": {` + head + `"lines": {` + good + `}}}`})
	if l, ok := b.List("valley"); !ok || len(b.Lists()) != 1 || len(l.Lines) != 1 || l.Lines[0].Key != "whistle" {
		t.Errorf("list %+v", l)
	}
	if got := b.NoList("valey"); got != `no official list is called "valey"; did you mean valley?` {
		t.Error(got)
	}
}
