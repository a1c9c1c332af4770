package load

import (
	"fmt"

	"cuelang.org/go/cue/ast"

	"kitmuster/lint/source"
)

// Two entries of one name within the same braces are one entry to CUE, as long as they do not contradict each other: two lamps become
// one, and nobody is told. So they are looked for in what is written. A name that returns elsewhere (packs: rust: … on two lines) is the
// usual way to write an entry in parts, and no mistake.

// twins tells of entries that are written twice, each in braces, within the same braces.
func (e *explainer) twins(files []*ast.File) (fs []Fault) {
	for _, f := range files {
		if e.files.ours(f.Filename) {
			e.twinsAmong(f.Decls, false, e.shape, nil, &fs)
		}
	}
	return fs
}

func (e *explainer) twinsAmong(decls []ast.Decl, braces bool, s *shape, keys []string, fs *[]Fault) {
	spans, first := &places{files: e.files}, map[string]*ast.Field{}
	for _, d := range decls {
		f, ok := d.(*ast.Field)
		if !ok {
			continue
		}
		name, _, err := ast.LabelName(f.Label)
		inside, ok := f.Value.(*ast.StructLit)
		if err != nil || !ok {
			continue
		}
		here := append(keys[:len(keys):len(keys)], name)
		if braces && s.group() && inside.Lbrace.IsValid() {
			if other := first[name]; other != nil {
				*fs = append(*fs, Fault{
					Rule: "input/conflict", Spot: source.Spot(here...), At: spans.span(f.Label.Pos(), f.Label.End()), taken: true,
					Message: fmt.Sprintf("%s is written twice here, and the two count as one; give this one a name of its own, such as %s", name, strconvKey(name+"_2")),
					Also:    []Remark{{"the other one", spans.span(other.Label.Pos(), other.Label.End())}},
				})
			} else {
				first[name] = f
			}
		}
		if within := s.shapeOf(name); within != nil {
			e.twinsAmong(inside.Elts, inside.Lbrace.IsValid(), within, here, fs)
		}
	}
}
