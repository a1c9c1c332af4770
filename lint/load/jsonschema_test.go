package load

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"cuelang.org/go/cue"
	cueload "cuelang.org/go/cue/load"
)

func jsonSchema(t *testing.T) (text []byte, defs map[string]map[string]any) {
	t.Helper()
	text, err := JSONSchema()
	if err != nil {
		t.Fatal(err)
	}
	var whole struct {
		Defs map[string]map[string]any `json:"$defs"`
	}
	if err := json.Unmarshal(text, &whole); err != nil {
		t.Fatal(err)
	}
	return text, whole.Defs
}

// Every field of the schema is in it, with what the schema says of it, and it is the same bytes each time.
func TestJSONSchemaHasEveryField(t *testing.T) {
	text, defs := jsonSchema(t)
	said, err := schemaComments()
	if err != nil {
		t.Fatal(err)
	}
	fields, described := 0, 0
	for def, s := range kitShapes().done {
		if s.kind != cue.StructKind {
			continue
		}
		props, _ := defs[defName(def)]["properties"].(map[string]any)
		for name := range s.fields {
			p, ok := props[name].(map[string]any)
			if !ok {
				t.Errorf("%s.%s is missing", def, name)
				continue
			}
			fields++
			if c := said[def+"."+name]; c != "" {
				described++
				if d, _ := p["description"].(string); !strings.HasPrefix(d, c) {
					t.Errorf("%s.%s: described as %q, want %q", def, name, d, c)
				}
			}
		}
		required, _ := defs[defName(def)]["required"].([]any)
		if fmt.Sprint(required) != fmt.Sprint(s.required) {
			t.Errorf("%s requires %v, want %v", def, required, s.required)
		}
	}
	if fields < 200 || described < 150 {
		t.Errorf("%d fields, %d of them described", fields, described)
	}
	for range 5 {
		if again, _ := jsonSchema(t); !bytes.Equal(again, text) {
			t.Fatal("another time it is another text")
		}
	}
	for _, want := range []string{`A mass in g, kg, oz or lb.`, `A duration in s, min, h, d, weeks, months or y`, `A volume in ml, L, fl oz`, `"gas-lighter"`, `"minimum": 1`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%q is not in it", want)
		}
	}
}

// A quantity that is read looks like one, and one without a unit does not.
func TestJSONSchemaOfQuantities(t *testing.T) {
	for name, m := range measures {
		re := regexp.MustCompile(m.pattern())
		if m.unit == "" && m.read != nil {
			continue // a day
		}
		if !re.MatchString(m.example) {
			t.Errorf("%s: %q does not fit %s", name, m.example, re)
		}
		if m.read != nil && m.read("1") != nil && re.MatchString("1") {
			t.Errorf("%s: a bare number fits", name)
		}
	}
	mass := measures["mass"]
	for _, text := range []string{"1 lb 4 oz", "½ lb", "850g", "1.5 kg", "12 oz"} {
		if mass.read(text) == nil != regexp.MustCompile(mass.pattern()).MatchString(text) {
			t.Errorf("%q", text)
		}
	}
}

// asJSON is a household as its files say it, without the schema; nil where that is no data.
func asJSON(tree fstest.MapFS, dir string) []byte {
	files := newFiles(tree, dir, Options{})
	inst := cueload.Instances([]string{"."}, &cueload.Config{Dir: path.Join("/", dir), FS: files, Package: packageName, Registry: noRegistry{aHousehold}, Env: []string{}})[0]
	if inst.Err != nil {
		return nil
	}
	b, err := evaluate(inst).MarshalJSON()
	if err != nil {
		return nil
	}
	return b
}

// By the validator of other people, the examples and what the table of mistakes tells to write fit, and a mistake that the schema can know does not.
func TestOutsideJSONSchema(t *testing.T) {
	dir := os.Getenv("KITMUSTER_VALIDATORS")
	if dir == "" {
		t.Skip("KITMUSTER_VALIDATORS names no folder with the validators; .ci/run makes one")
	}
	home := t.TempDir()
	good, bad := filepath.Join(home, "good"), filepath.Join(home, "bad")
	put := func(folder, name string, b []byte) {
		t.Helper()
		if err := os.MkdirAll(folder, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, name+".json"), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	examples := os.DirFS("../../examples/harrow-valley")
	dirs, faults := Find(examples, []string{"..."}, Options{})
	if len(dirs) < 3 || len(faults) > 0 {
		t.Fatal(dirs, faults)
	}
	for _, d := range dirs {
		l := Household(examples, d, Options{Given: "."})
		b, err := l.places.root.MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		put(good, d, b)
	}
	known := []string{"input/unknown-field", "input/name"}
	for i, m := range readMistakes(t, mistakesFile) {
		name := fmt.Sprintf("%03d %s", i, regexp.MustCompile(`[^a-z0-9 ]`).ReplaceAllString(strings.ToLower(m.title), ""))
		if b := asJSON(m.household(t, true), "."); b != nil {
			put(good, name, b)
		}
		wrong := m.household(t, false)
		said := Household(wrong, ".", Options{}).Faults
		if b := asJSON(wrong, "."); b != nil && len(said) == 1 && (slices.Contains(known, said[0].Rule) || strings.Contains(said[0].Message, " is not a value of ")) {
			put(bad, name, b)
		}
	}
	text, _ := jsonSchema(t)
	if err := os.WriteFile(filepath.Join(home, "kit.schema.json"), text, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("node", "testdata/schema.js", dir, filepath.Join(home, "kit.schema.json"), good, bad).CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	t.Logf("%s", out)
}
