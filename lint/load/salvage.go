package load

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/cuecontext"

	"kitmuster/lint/source"
)

// salvaging reads of a household that does not fit the schema whatever can be read. A fault says each time what is wrong. What is
// judged is as near to what was meant as can be told, so that a mistake takes out only what depends on it, and nobody and no thing
// is left out of what the household needs: an entry that is written otherwise than in braces is there, with nothing known of it, and
// a word or field takes the sense that the fault itself offers.
type salvaging struct {
	taken map[string]bool // the spots whose faults were read in such a sense
	// echoes are the spots that something was read into from elsewhere: what the reader says of them comes from the fault there.
	// They lead to the spot of that fault.
	echoes map[string]string
	made   *cue.Context // of values that are read in another sense than they were written
}

// salvage reads of a value what has the shape, and leaves out what has not: fields that the
// schema does not know, and values of another kind, contradictory or without an end.
func salvage(v cue.Value, s *shape) (node, *salvaging) {
	x := &salvaging{taken: map[string]bool{}, echoes: map[string]string{}, made: cuecontext.New()}
	n, _ := x.rest(v, s)
	return n, x
}

func (x *salvaging) rest(v cue.Value, s *shape) (n node, ok bool) {
	n.value = v
	switch s.kind {
	case cue.StructKind:
		return x.group(v, s)
	case cue.ListKind:
		it, err := v.List()
		if err != nil {
			part, ok := x.rest(v, s.elem) // one entry without its brackets
			if ok && x.taking(v) {
				n.elems = []node{part}
			}
			return n, ok
		}
		for it.Next() {
			if part, ok := x.rest(it.Value(), s.elem); ok {
				n.elems = append(n.elems, part)
			}
		}
		return n, true
	}
	if v.Err() != nil || !v.IsConcrete() {
		return n, false
	}
	if n, ok = snapshot(v, s); ok || s.kind == cue.IntKind && v.IncompleteKind() == cue.IntKind { // the reader says what is too small or large
		return n, true
	}
	return x.meant(v, s)
}

// group reads the fields of a struct, and entries under the names that the fault offers.
func (x *salvaging) group(v cue.Value, s *shape) (n node, ok bool) {
	n.value = v
	it, err := v.Fields()
	if err != nil {
		return x.unnamed(v, s)
	}
	type other struct {
		name string
		v    cue.Value
	}
	var others []other
	for it.Next() {
		name := it.Selector().Unquoted()
		fs := s.shapeOf(name)
		if fs == nil {
			others = append(others, other{name, it.Value()})
			continue
		}
		part, ok := x.rest(it.Value(), fs)
		if ok || s.fields[name] == nil && fs.kind == cue.StructKind {
			n.fields = append(n.fields, field{name, part})
		}
	}
	for _, o := range others {
		keys := keysOf(o.v)
		var path []string
		if s.group() {
			if near := PlainName(o.name); s.names.MatchString(near) {
				path = []string{near}
			}
		} else if t, ok := kitShape().target(keys, saidOf(o.v), saidOf(v).names); ok && t.up == 0 && len(t.path) < 3 && !slices.Contains(t.path, "") {
			path = t.path
		}
		if len(path) == 0 {
			continue
		}
		if _, twice := n.get(path[0]); twice {
			continue
		}
		in := s.shapeOf(path[0])
		if len(path) == 2 {
			in = in.fields[path[1]]
		}
		part, ok := x.rest(o.v, in)
		if !ok || !x.taking(o.v) {
			continue
		}
		x.echoes[source.Spot(append(keys[:len(keys)-1:len(keys)-1], path...)...)] = source.Spot(keys...)
		part.text = withUnit(o.name, part.text)
		if len(path) == 2 {
			part = node{fields: []field{{path[1], part}}}
		}
		n.fields = append(n.fields, field{path[0], part})
	}
	return n, true
}

// unnamed reads a list where named entries are wanted: each is there, under a name made of what it says.
func (x *salvaging) unnamed(v cue.Value, s *shape) (n node, ok bool) {
	n.value = v
	it, err := v.List()
	if err != nil || !s.group() || s.elem.kind != cue.StructKind {
		return n, false
	}
	for i := 1; it.Next(); i++ {
		e := it.Value()
		called, err := e.String()
		if err != nil {
			called, _ = e.LookupPath(cue.MakePath(cue.Str("name"))).String()
		}
		name := PlainName(called)
		if _, twice := n.get(name); twice || !s.names.MatchString(name) || len(name) > maxKey {
			name = fmt.Sprintf("entry_%d", i)
		}
		part, _ := x.rest(e, s.elem)
		n.fields = append(n.fields, field{name, part})
		x.echoes[source.Spot(append(keysOf(v), name)...)] = source.Spot(keysOf(v)...)
	}
	return n, true
}

// keysOf are the keys of a value's path.
func keysOf(v cue.Value) (keys []string) {
	for _, sel := range v.Path().Selectors() {
		if sel.LabelType() == cue.IndexLabel {
			keys = append(keys, strconv.Itoa(sel.Index()))
			continue
		}
		keys = append(keys, sel.Unquoted())
	}
	return keys
}

// taking notes that a fault at a value was read in the sense that it offers.
func (x *salvaging) taking(v cue.Value) bool {
	x.taken[source.Spot(keysOf(v)...)] = true
	return true
}

// meant reads a plain value in the one sense that it can have: a word for the one that is near it, a number in quotes, yes for true. A
// number without a unit stays one, for the reader of quantities to say what is missing.
func (x *salvaging) meant(v cue.Value, s *shape) (n node, ok bool) {
	n.value = v
	text, err := v.String()
	if err != nil {
		if b, err := v.MarshalJSON(); s.kind == cue.StringKind && s.match == nil && v.IncompleteKind()&cue.NumberKind != 0 && err == nil {
			n.text = string(b)
			return n, true
		}
		return n, false
	}
	switch s.kind {
	case cue.StringKind:
		n.text = nearChoice(keysOf(v)[len(keysOf(v))-1], text, s.choices())
		return n, n.text != "" && x.taking(v)
	case cue.BoolKind:
		b, known := truths[strings.ToLower(strings.TrimSpace(text))]
		n.value = x.made.Encode(b)
		return n, known && x.taking(v)
	}
	number, err := strconv.ParseInt(strings.TrimSpace(text), 10, 64)
	if err != nil {
		return n, false
	}
	n, ok = snapshot(x.made.Encode(number), s)
	return n, ok && x.taking(v)
}
