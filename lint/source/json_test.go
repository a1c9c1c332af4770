package source

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Values come with the places of their names and elements.
func TestParseJSON(t *testing.T) {
	j := ParseJSON("a.json", []byte("{\"a\": [\n  1, {\"b\": true}],\n \"c\": \"é\", \"d\": null}"))
	want := map[string]any{"a": []any{json.Number("1"), map[string]any{"b": true}}, "c": "é", "d": nil}
	if diff := cmp.Diff(any(want), j.Value); diff != "" || j.Fault != "" {
		t.Errorf("%s\n%s", j.Fault, diff)
	}
	for path, at := range map[string]string{"a": "1:2", "a.0": "2:3", "a.1": "2:6", "a.1.b": "2:7", "c": "3:2", "d": "3:12"} {
		if p := j.Where[path]; fmt.Sprintf("%d:%d", p.Line, p.Col) != at {
			t.Errorf("%s stands at %v, want %s", path, p, at)
		}
	}
}

// What is wrong is said at its place, and then there is no value.
func TestParseJSONFaults(t *testing.T) {
	for text, want := range map[string]string{
		"":                             "1:1 this is not JSON: EOF",
		"{\n \"a\": }":                 "2:7 this is not JSON: ",
		"[1, 2":                        "1:6 this is not JSON: ",
		"[1] 2":                        "1:5 nothing may follow here",
		`{"a": 1, "a": 2}`:             `1:10 "a" is written twice`,
		`[{"a": 1, "A": 2}, 3]`:        `1:11 "a" and "A" differ only in upper and lower case, and some readers take them for one; keep one`,
		strings.Repeat("[", maxJSON+1): "1:65 brackets may not be nested deeper than 64",
	} {
		j := ParseJSON("a.json", []byte(text))
		got := fmt.Sprintf("%d:%d %s", j.FaultAt.Line, j.FaultAt.Col, j.Fault)
		if !strings.HasPrefix(got, want) || j.Value != nil || j.Doubled != strings.Contains(want, "\"a\"") {
			t.Errorf("%.20s: %s (value %v, doubled %v), want %s", text, got, j.Value, j.Doubled, want)
		}
	}
	if j := ParseJSON("a.json", []byte(strings.Repeat("[", maxJSON)+strings.Repeat("]", maxJSON))); j.Fault != "" {
		t.Error(j.Fault)
	}
}
