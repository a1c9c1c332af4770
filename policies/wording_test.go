package policies_test

import (
	"encoding/json"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"

	"kitmuster/policies"
)

// outOfUse are wordings that a reader stumbles over, with what to write instead.
var outOfUse = []struct {
	words   *regexp.Regexp
	instead string
}{
	{regexp.MustCompile(`(?i)\b(is|are|not|never|be) asked\b|\basked (of|too)\b|\d asked\b|%[ds] asked\b`), "needs; is judged, is left out"},
	{regexp.MustCompile(`(?i)\btoo (few|little|much|many)( to last|$|[;:,)])`), "short by, over by"},
	{regexp.MustCompile(`(?i)\bbears?\b|\bborne\b|\bbearers?\b`), "carries"},
	{regexp.MustCompile(`(?i)\bmend(s|ed)?\b`), "put right, repair"},
	{regexp.MustCompile(`(?i)\bwh(o|om)ever\b`), "a person who, people who, no matter who"},
	{regexp.MustCompile(`(?i)\bgot at\b`), "reached"},
	{regexp.MustCompile(`\b0 things\b`), "nothing"},
	{regexp.MustCompile(`(?i)\bmeans of\b.*\bmeans\b|\black(s)? of\b|\bin all\b`), "way to, short by, together"},
}

// Titles, descriptions, remedies, cautions and findings, and what a limit means, are plain words.
func TestPlainWords(t *testing.T) {
	seen := 0
	check := func(where, what, text string) {
		seen++
		for _, o := range outOfUse {
			if found := o.words.FindString(text); found != "" {
				t.Errorf("%s: %s has %q; write %s: %s", where, what, found, o.instead, text)
			}
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
