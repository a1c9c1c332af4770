package load

import (
	"io/fs"
	"os"
	"path"
	"testing"
	"testing/fstest"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/cuecontext"
	cueload "cuelang.org/go/cue/load"
	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/valley"
)

// underSchema evaluates a household both ways: alone against the shapes, and under the schema itself.
func underSchema(t *testing.T, tree *files, dir string) (fits, accepted bool) {
	t.Helper()
	load := func(closed bool) cue.Value {
		inst := cueload.Instances([]string{"."}, &cueload.Config{Dir: path.Join("/", dir), FS: tree, Package: packageName, Registry: noRegistry{aHousehold}, Env: []string{}})[0]
		if inst.Err != nil {
			t.Fatal(inst.Err)
		}
		if closed {
			if err := inst.AddSyntax(closing()); err != nil {
				t.Fatal(err)
			}
		}
		return evaluate(inst)
	}
	alone := load(false)
	if alone.Validate(cue.Concrete(true)) == nil {
		_, fits = snapshot(alone, kitShape())
	}
	closed := load(true)
	return fits, closed.Validate(cue.Concrete(true)) == nil && closed.Err() == nil
}

// Whatever fits the shapes, the schema accepts: the short way may never let
// through what the schema refuses. The other direction is only speed.
func TestShapesAgreeWithTheSchema(t *testing.T) {
	const item = "packs: rust: compartments: lid: items: x: "
	for _, c := range []struct {
		text string
		good bool
	}{
		{"", true},
		{item + `{mass: "1 g"}`, true},
		{item + `{mass: "1 g", worth: 5}`, true},
		{item + `{mass: "1 g", worth: 6}`, false},
		{item + `{mass: "1 g", worth: 0}`, false},
		{item + `{mass: "1 g", worth: 2.5}`, false},
		{item + `{mass: "1 g", count: 2}`, true},
		{item + `{mass: "1 g", count: "2"}`, false},
		{item + `{mass: 1}`, false},
		{item + `{}`, true},
		{item + `{mass: "1 g", can: fire: "matches"}`, true},
		{item + `{mass: "1 g", can: fire: "match"}`, false},
		{item + `{mass: "1 g", can: frie: "matches"}`, false},
		{item + `{mass: "1 g", can: "fire"}`, false},
		{item + `{mass: "1 g", documents: ["identity"]}`, true},
		{item + `{mass: "1 g", documents: ["identity", "x"]}`, false},
		{item + `{mass: "1 g", documents: "identity"}`, false},
		{item + `{mass: "1 g", stove: burns: []}`, true},
		{item + `{mass: "1 g", medicine: {person: "ana", of: "a", doses: 0.5}}`, true},
		{item + `{mass: "1 g", medicine: {person: "ana", of: "a", doses: "1"}}`, false},
		{item + `{mass: "1 g", shared: "yes"}`, false},
		{item + `{mass: null}`, false},
		{`packs: rust: compartments: "Lid 2": reach: "walking"`, false},
		{`packs: rust: compartments: lid2: reach: "walking"`, true},
		{`packs: rust: compartments: lid: layer: 2`, true},
		{`packs: rust: compartments: lid: layer: 1.5`, false},
		{`packs: rust: compartments: lid: layer: "1"`, false},
		{`people: bo: {age: "2 y", bodyMass: "12 kg", needs: sleep: "much"}`, true},
		{`people: bo: {age: "2 y", bodyMass: "12 kg", needs: sleep: {}}`, false},
		{`people: bo: {age: "2 y", bodyMass: string}`, false},
		{`people: bo: {age: "2 y", bodyMass: *"12 kg" | "13 kg"}`, true},
		{`extra: 1`, false},
		{`_extra: 1`, true},
		{`#extra: {a: 1}`, true},
		{`plan: seasons: hot: {day: "30 °C"}`, false},
		{`plan: {start: "18:00", latitude: "47.5 N", seasons: hot: {day: "30 °C", night: "18 °C", wind: "5 m/s", date: "2026-07-15"}}`, true},
		{`plan: seasons: hot: {day: "30 °C", night: "18 °C", daylight: 15}`, false},
		{`plan: {start: 18, latitude: "47.5 N"}`, false},
		{`plan: {legs: a: {order: 1, distance: "5 km"}, waterSources: s: {quality: "clear", leg: "a", after: "3 km"}}`, true},
		{item + `{mass: "1 g", treat: {method: "filter", perHour: "30 L"}}`, true},
		{`record: waivers: a: {rule: "x", reason: "y", until: "z"}`, true},
	} {
		text := small + "packs: rust: {carrier: \"ana\", mass: \"1 kg\", compartments: lid: reach: \"walking\"}\n" + c.text + "\n"
		fits, accepted := underSchema(t, newFiles(fstest.MapFS{"kit.cue": {Data: []byte(text)}}, ".", Options{}), ".")
		if fits && !accepted {
			t.Errorf("fits the shapes, and the schema refuses: %s", c.text)
		}
		if accepted != c.good {
			t.Errorf("the schema accepts: %v, want %v: %s", accepted, c.good, c.text)
		}
		if c.good && !fits {
			t.Errorf("takes the long way for nothing: %s", c.text)
		}
	}
	for _, dir := range []string{"alder", "birch", "cedar"} {
		tree := newFiles(os.DirFS("../../examples/harrow-valley"), dir, Options{})
		if fits, accepted := underSchema(t, tree, dir); !fits || !accepted {
			t.Errorf("%s: fits %v, accepted %v", dir, fits, accepted)
		}
	}
}

// spelledAgrees walks a value and holds what is read from literals against CUE's own
// listing. It gives the number of structs that were read so.
func spelledAgrees(t *testing.T, v cue.Value) (n int) {
	t.Helper()
	if l, err := v.List(); err == nil {
		for l.Next() {
			n += spelledAgrees(t, l.Value())
		}
		return n
	}
	it, err := v.Fields(cue.Hidden(true), cue.Definitions(true))
	if err != nil {
		return n
	}
	for it.Next() {
		n += spelledAgrees(t, it.Value())
	}
	fields, ok := spelled(v)
	if !ok || v.IncompleteKind() != cue.StructKind { // a required field that nobody wrote has a literal and no value
		return n
	}
	got, want := map[string]string{}, map[string]string{}
	for _, f := range fields {
		got[f.name] = f.text
	}
	for it, _ := v.Fields(); it.Next(); {
		text, _ := it.Value().String()
		if name := it.Selector().Unquoted(); got[name] == "" {
			want[name] = "" // its value is asked for in the usual way, if the name is there at all
		} else {
			want[name] = text
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%v: what CUE lists (-) and what the literal spells (+):\n%s", v.Path(), diff)
	}
	return n + 1
}

// Fields read from the one literal that makes a struct are all its fields: nothing that
// CUE can add from elsewhere goes missing.
func TestSpelledFieldsAreAllFields(t *testing.T) {
	for _, c := range []struct {
		text string
		n    int // how many structs are read from their literals
	}{
		{`a: {b: "1", c: {d: 2}}`, 2},
		{"a: {b: \"1\"}\na: {c: \"2\"}", 0},
		{"a: b: \"1\"\na: c: \"2\"", 0},
		{"a: {b: \"1\", b: string}", 0},
		{"_p: [string]: {x: \"1\"}\na: _p & {b: {y: \"2\"}}", 0},
		{"a: [string]: x: \"1\"\na: b: {y: \"2\"}", 0},
		{"a: [string]: c: x: \"1\"\na: b: {c: {y: \"2\"}}", 0},
		{"a: b: {c: {y: \"2\"}}\nfor k, _ in a {a: (k): c: x: \"1\"}", 0},
		{"_t: {c: {x: \"1\"}}\na: _t & {b: \"2\"}", 3},
		{"_t: {c: {x: \"1\"}}\na: _t & {c: {y: \"2\"}}", 2},
		{"_t: {c: {x: \"1\"}}\na: {_t, c: {y: \"2\"}}", 2},
		{"_t: {c: {x: \"1\"}}\na: {_t}\na: c: y: \"2\"", 2},
		{"_t: {c: {x: \"1\"}}\na: _t\na: c: y: \"2\"", 2},
		{`a: {b: "1", if true {c: "2"}}`, 0},
		{`if true {a: {b: "1"}}`, 1},
		{"if true {a: {b: \"1\"}}\nif true {a: {c: \"2\"}}", 0},
		{`for k in ["x", "y"] {a: {(k): "1"}}`, 0},
		{`for k in ["x", "y"] {a: {b: {c: "1"}}}`, 0},
		{`for k in ["x", "y"] {a: (k): {c: k}}`, 2},
		{`a: {b: "1"} | *{c: "2"}`, 0},
		{`a: *{b: "1"} | {c: "2"}`, 0},
		{`a: {b: "1", c?: "2", d: "3"}`, 0},
		{`a: {b: "1", _c: "2", #d: "3"}`, 0},
		{`a: {let k = "1", b: k}`, 0},
		{`a: {k=b: "1", c: k}`, 0},
		{`a: {"b": "1"}`, 0},
		{`a: {"\(k)": "1"}, k: "x"`, 0},
		{`a: {b: "1", ...}`, 0},
		{`a: {b: "x\(1)", c: 'y', d: "tab\t"}`, 1},
		{`a: close({b: "1"})`, 0},
		{"#D: {b: string, c: *\"1\" | string}\na: #D & {b: \"2\"}", 1}, // the definition itself
		{`a: [{b: "1"}, {b: "2", c: {d: "3"}}]`, 1},
		{`a: {b: {c: "1"}} & {b: {d: "2"}}`, 0},
		{`a: {b: "1"}, d: a & {c: "2"}, e: a, f: {a}`, 1},
	} {
		v := cuecontext.New().CompileString(c.text)
		if err := v.Validate(); err != nil {
			t.Errorf("%s: %v", c.text, err)
		}
		if n := spelledAgrees(t, v); n != c.n {
			t.Errorf("%d structs are read from their literals, want %d: %s", n, c.n, c.text)
		}
	}
	made := fstest.MapFS{}
	for name, text := range valley.Files(valley.Options{Households: 20, Items: 100, Seed: 11}) {
		made[name] = &fstest.MapFile{Data: text}
	}
	for _, tree := range []fs.FS{made, os.DirFS("../../examples/harrow-valley")} {
		dirs, _ := Find(tree, []string{"..."}, Options{})
		for _, dir := range dirs {
			l := Household(tree, dir, Options{})
			if n := spelledAgrees(t, l.places.root); n < 60 {
				t.Errorf("%s: only %d structs are read from their literals", dir, n)
			}
		}
	}
}

// A bare number is told as the day, the hour or the amount that it can only mean.
func TestBareNumbers(t *testing.T) {
	for _, c := range []struct{ number, field, want string }{
		{"20261221", "born", "2026-12-21"}, {"20261321", "born", ""}, {"1993", "born", ""}, {"20.61221", "born", ""},
		{"18", "start", "18:00"}, {"0", "start", "00:00"}, {"13", "start", "13:00"}, {"12", "start", ""}, {"24", "start", ""}, {"6.5", "start", ""}, {"23", "start", "23:00"},
		{"40", "mass", "40 g"}, {"-4", "night", "-4 °C"}, {"-4", "mass", ""}, {"47.5", "latitude", "47.5 N"}, {"much", "mass", ""}, {" 40 g ", "mass", "40 g"},
	} {
		if got := measures[c.field].meant(c.number, c.field); got != c.want {
			t.Errorf("%s of %s: %q, want %q", c.number, c.field, got, c.want)
		}
	}
}
