package load

import (
	"os"
	"path"
	"testing"
	"testing/fstest"

	"cuelang.org/go/cue"
	cueload "cuelang.org/go/cue/load"
)

// underSchema evaluates a household both ways: alone against the shapes, and under the schema itself.
func underSchema(t *testing.T, tree *files, dir string) (fits, accepted bool) {
	t.Helper()
	load := func(closed bool) cue.Value {
		inst := cueload.Instances([]string{"."}, &cueload.Config{Dir: path.Join("/", dir), FS: tree, Package: packageName, Registry: noRegistry{}, Env: []string{}})[0]
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
		_, fits = snapshot(alone, kitShape)
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
		{item + `{}`, false},
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

// A bare number is told as the day or hour that it can only mean; else the message shows one.
func TestDayOrHour(t *testing.T) {
	for _, c := range []struct{ number, example, want string }{
		{"20261221", someDay, `"2026-12-21"`}, {"20261321", someDay, someDay}, {"1993", someDay, someDay}, {"20.61221", someDay, someDay},
		{"18", someHour, `"18:00"`}, {"0", someHour, `"00:00"`}, {"13", someHour, `"13:00"`}, {"12", someHour, someHour}, {"24", someHour, someHour}, {"6.5", someHour, someHour},
		{"23", someHour, `"23:00"`},
	} {
		if got := dayOrHour(c.number, c.example); got != c.want {
			t.Errorf("%s: %s, want %s", c.number, got, c.want)
		}
	}
}
