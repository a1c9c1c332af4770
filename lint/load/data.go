package load

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"

	"cuelang.org/go/cue"

	"kitmuster/lint/source"
)

// Data is what the household's files say, without the schema and without anything read from it: objects as
// map[string]any, lists as []any, numbers as json.Number. It fails where the files contradict each other or leave
// a value open. Not safe for concurrent use.
func (l *Loaded) Data() (map[string]any, error) {
	if l.places == nil {
		return nil, errNotEvaluated
	}
	b, err := l.raw.MarshalJSON()
	if err != nil {
		return nil, err
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.UseNumber()
	out := map[string]any{}
	err = d.Decode(&out)
	return out, err
}

var errNotEvaluated = &json.UnsupportedValueError{Str: "the files were not evaluated"}

// Unsound lists the paths of hidden fields and definitions that hold an error, which neither the kit nor its faults show: a sum
// over an entry that is gone, for one. Sorted.
func (l *Loaded) Unsound() []string {
	out := map[string]bool{}
	if l.places != nil {
		unsound(l.raw, "", false, out)
	}
	return slices.Sorted(maps.Keys(out))
}

func unsound(v cue.Value, path string, apart bool, out map[string]bool) {
	it, err := v.Fields(cue.Definitions(true), cue.Hidden(true))
	if err != nil {
		return
	}
	for it.Next() {
		sel := it.Selector()
		at, apart := path+"/"+sel.String(), apart || !sel.IsString()
		if apart && it.Value().Err() != nil {
			out[at] = true
		}
		unsound(it.Value(), at, apart, out)
	}
}

// Example is a value that the field at a spot may have: of a quantity one such as "72 h", of a few words one of them; "" where none is
// known.
func Example(spot string) string {
	keys := source.Keys(spot)
	if len(keys) == 0 {
		return ""
	}
	s, around := kitShape().at(keys)
	if around != nil {
		if m, ok := measureOf(around.def, keys[len(keys)-1]); ok {
			return m.example
		}
	}
	return append(s.choices(), "")[0]
}

// IsGroup reports whether a spot is that of a group of entries which the family names and may leave out, such as a compartment's items.
func IsGroup(spot string) bool {
	s, required := kitShape(), true
	for _, k := range source.Keys(spot) {
		if s == nil {
			return false
		}
		required = slices.Contains(s.required, k)
		s = s.shapeOf(k)
	}
	return s != nil && s.names != nil && !required
}
