package policies_test

import (
	"encoding/json"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"

	"kitmuster/lint/testkit"
	"kitmuster/policies"
)

var anybody = regexp.MustCompile(`(?i)\b(some|any|every)body\b`)

// Titles, descriptions, remedies, cautions and findings, and what a limit means, are plain words.
func TestPlainWords(t *testing.T) {
	seen := 0
	check := func(where, what, text string) {
		seen++
		if words, instead := testkit.Stumble(text); words != "" {
			t.Errorf("%s: %s has %q; write %s: %s", where, what, words, instead, text)
		}
		if words := anybody.FindString(text); words != "" {
			t.Errorf("%s: %s has %q; write someone, anyone, everyone: %s", where, what, words, text)
		}
	}
	s := readStandard(t)
	for file, m := range s.modules {
		if strings.HasSuffix(file, "_test.rego") {
			continue
		}
		for _, a := range m.Annotations {
			check(file, "the title", a.Title)
			check(file, a.Title+": the description", a.Description)
			for _, key := range []string{"remedy", "caution"} {
				text, _ := a.Custom[key].(string)
				check(file, a.Title+": the "+key, text)
			}
		}
		ast.WalkTerms(m, func(x *ast.Term) bool {
			if text, ok := x.Value.(ast.String); ok && strings.Contains(string(text), " ") {
				check(x.Location.String(), "the text", string(text))
			}
			return false
		})
	}
	for _, file := range []string{limitsFile, "lists/base/data.json"} {
		b, err := fs.ReadFile(policies.FS(), file)
		if err != nil {
			t.Fatal(err)
		}
		var of any
		if err := json.Unmarshal(b, &of); err != nil {
			t.Fatal(err)
		}
		walkTexts(of, func(key, text string) {
			if key == "meaning" || key == "title" || key == "asks" {
				check(path.Dir(file), "a "+key, text)
			}
		})
	}
	if seen < 1500 {
		t.Errorf("only %d texts were looked at", seen)
	}
}

// Two rules with one title cannot be told apart in a report that shows titles.
func TestTitlesDiffer(t *testing.T) {
	rules := map[string]string{}
	for file, m := range readStandard(t).modules {
		for _, a := range m.Annotations {
			if a.Scope != "package" {
				if other, ok := rules[a.Title]; ok {
					t.Errorf("%s and %s: %q", file, other, a.Title)
				}
				rules[a.Title] = file
			}
			if len(strings.Fields(a.Title)) > 10 {
				t.Errorf("%s: a title has ten words at most: %q", file, a.Title)
			}
		}
	}
	if len(rules) < 100 {
		t.Errorf("only %d titles", len(rules))
	}
}

func walkTexts(x any, f func(key, text string)) {
	switch x := x.(type) {
	case map[string]any:
		for key, v := range x {
			if text, ok := v.(string); ok {
				f(key, text)
			}
			walkTexts(v, f)
		}
	case []any:
		for _, v := range x {
			walkTexts(v, f)
		}
	}
}
