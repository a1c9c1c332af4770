package rewrite

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"

	"kitmuster/lint/load"
	"kitmuster/lint/source"
)

// state is what a household says.
type state struct {
	loaded  *load.Loaded
	data    map[string]any
	unsound []string
}

func stateOf(tree fs.FS, dir string, o load.Options) (*state, error) {
	s := &state{loaded: load.Household(tree, dir, o)}
	var err error
	if s.data, err = s.loaded.Data(); err != nil {
		r := &Refusal{Text: "the files contradict each other or leave something open: " + err.Error()}
		if fs := s.loaded.Faults; len(fs) > 0 {
			r.Spot, r.At, r.Text = fs[0].Spot, fs[0].At, fs[0].Message
		}
		return nil, r
	}
	s.unsound = s.loaded.Unsound()
	return s, nil
}

// prove loads files that a change made and lets them stand where they say what was meant.
func (d *Draft) prove(now map[string][]byte, meant map[string]any, steps []Step) error {
	tree := over(d.tree, now, d.was)
	last := steps[len(steps)-1].Spot
	fail := func(spot, text string, args ...any) error {
		r := &Refusal{Spot: spot, Text: fmt.Sprintf(text, args...)}
		return d.explain(spot, r)
	}
	s, err := stateOf(tree, d.dir, d.o)
	if err != nil {
		r := err.(*Refusal)
		if r.Spot == "" {
			r.Spot = last
		}
		return fail(r.Spot, "this cannot be written here: %s", r.Text)
	}
	if spot, differs := differ(meant, s.data, ""); differs {
		if slices.ContainsFunc(steps, func(s Step) bool { return touches(s, spot) }) {
			return fail(spot, "something else than this line says it, too")
		}
		return fail(spot, "this would change with it, as it takes its value from there")
	}
	for _, u := range s.unsound {
		if !slices.Contains(d.state.unsound, u) {
			return fail(last, "the hidden field %s rests on it and would hold an error", strings.TrimPrefix(u, "/"))
		}
	}
	for _, f := range s.loaded.Faults {
		if !slices.ContainsFunc(d.state.loaded.Faults, func(o load.Fault) bool { return o.Rule == f.Rule && o.Message == f.Message }) {
			return &Refusal{Spot: f.Spot, At: d.state.loaded.Locate(f.Spot).At, Text: f.Message}
		}
	}
	below := map[string]*state{}
	for _, dir := range slices.Sorted(maps.Keys(d.below)) {
		b, err := stateOf(tree, dir, d.o)
		if err == nil {
			if _, differs := differ(d.below[dir].data, b.data, ""); !differs && slices.Equal(b.unsound, d.below[dir].unsound) {
				below[dir] = b
				continue
			}
		}
		return fail(last, "the household in %s reads these files too, and would change with it", d.show(dir))
	}
	d.now, d.state, d.below = now, s, below
	return nil
}

// touches reports whether a step is meant to change a spot.
func touches(s Step, spot string) bool {
	in := func(a string) bool {
		return a != "" && (a == spot || strings.HasPrefix(spot, a+"/") || strings.HasPrefix(a, spot+"/"))
	}
	return in(s.Spot) || in(s.To)
}

// explain gives a refusal the place that a hand must look at.
func (d *Draft) explain(spot string, err error) error {
	r := (*Refusal)(nil)
	if !errors.As(err, &r) {
		r = &Refusal{Text: err.Error()}
	}
	if r.Spot == "" {
		r.Spot = spot
	}
	if r.At.Known() {
		return r
	}
	if w := d.wild(r.Spot); w != nil {
		r.At, r.Text = w.At, w.Text
		return r
	}
	place := d.state.loaded.Locate(r.Spot)
	r.At = place.At
	if place.At.Known() && path.Dir(place.At.File) != path.Dir(d.show(path.Join(d.dir, "x"))) {
		r.Text += "; it is written in a file that several households may share, which is changed by hand only"
	}
	return r
}

// find is what stands at a spot.
func find(data map[string]any, spot string) (any, bool) {
	var at any = data
	for _, k := range source.Keys(spot) {
		switch x := at.(type) {
		case map[string]any:
			next, ok := x[k]
			if !ok {
				return nil, false
			}
			at = next
		case []any:
			i, err := strconv.Atoi(k)
			if err != nil || i < 0 || i >= len(x) {
				return nil, false
			}
			at = x[i]
		default:
			return nil, false
		}
	}
	return at, true
}

// mean does to data what a step means. The step was checked.
func (s Step) mean(data map[string]any) {
	at := func(spot string) (map[string]any, string) {
		keys := source.Keys(spot)
		in := data
		for _, k := range keys[:len(keys)-1] {
			next, ok := in[k].(map[string]any)
			if !ok {
				next = map[string]any{}
				in[k] = next
			}
			in = next
		}
		return in, keys[len(keys)-1]
	}
	in, key := at(s.Spot)
	switch s.Do {
	case Set:
		in[key] = plain(s.Value)
	case Remove:
		delete(in, key)
	case Move, Copy:
		v := in[key]
		if s.Do == Move {
			delete(in, key)
		}
		to, k := at(s.To)
		to[k] = cloned(v)
	}
}

// plain is a step's value as data.
func plain(v any) any {
	switch v := v.(type) {
	case int:
		return json.Number(strconv.Itoa(v))
	case []any:
		out := make([]any, len(v))
		for i := range v {
			out[i] = plain(v[i])
		}
		return out
	case Fields:
		out := map[string]any{}
		for _, f := range v {
			out[f.Key] = plain(f.Value)
		}
		return out
	}
	return v
}

func clone(m map[string]any) map[string]any { return cloned(m).(map[string]any) }

func cloned(v any) any {
	switch v := v.(type) {
	case map[string]any:
		out := make(map[string]any, len(v))
		for k, x := range v {
			out[k] = cloned(x)
		}
		return out
	case []any:
		out := make([]any, len(v))
		for i, x := range v {
			out[i] = cloned(x)
		}
		return out
	}
	return v
}

// differ finds the first spot at which two states of data say different things. A group with no entries is the same as none.
func differ(a, b any, spot string) (string, bool) {
	join := func(k string) string { return strings.TrimPrefix(spot+"/"+source.Spot(k), "/") }
	switch x := a.(type) {
	case map[string]any:
		y, ok := b.(map[string]any)
		if !ok {
			return spot, true
		}
		keys := maps.Clone(x)
		maps.Copy(keys, y)
		for _, k := range slices.Sorted(maps.Keys(keys)) {
			l, inL := x[k]
			r, inR := y[k]
			if inL != inR && !emptyGroup(join(k), l, r) {
				return join(k), true
			}
			if inL && inR {
				if s, differs := differ(l, r, join(k)); differs {
					return s, true
				}
			}
		}
		return "", false
	case []any:
		y, ok := b.([]any)
		if !ok || len(x) != len(y) {
			return spot, true
		}
		for i := range x {
			if s, differs := differ(x[i], y[i], join(strconv.Itoa(i))); differs {
				return s, true
			}
		}
		return "", false
	}
	switch b.(type) {
	case map[string]any, []any:
		return spot, true
	}
	return spot, a != b
}

// emptyGroup reports whether what only one of two states has is a group without entries.
func emptyGroup(spot string, a, b any) bool {
	if a == nil {
		a = b
	}
	m, ok := a.(map[string]any)
	return ok && len(m) == 0 && load.IsGroup(spot)
}
