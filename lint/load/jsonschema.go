package load

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/ast"
	"cuelang.org/go/cue/parser"

	"kitmuster/lint/unit"
	"kitmuster/schema"
)

// member is a field of a JSON object, object its fields in the order in which they are written.
type (
	member struct {
		name  string
		value any
	}
	object []member
)

// MarshalJSON implements json.Marshaler.
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	for i, m := range o {
		b.WriteString(map[bool]string{true: "{", false: ","}[i == 0])
		for k, v := range []any{m.name, m.value} {
			if k == 1 {
				b.WriteByte(':')
			}
			e := json.NewEncoder(&b)
			e.SetEscapeHTML(false)
			if err := e.Encode(v); err != nil {
				return nil, err
			}
		}
	}
	if len(o) == 0 {
		b.WriteByte('{')
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// CUESchema is the schema of kits as it is applied, in CUE: a package that a kit may import.
func CUESchema() []byte { return schema.Kit }

// JSONSchema is the schema of kits as JSON Schema, draft 2020-12: for editors, and for kits that are kept as JSON, which is CUE too. It
// knows the fields, the words that a field takes, and which quantity stands where; what only reading tells, such as a bottle with more
// in it than it holds, it lets through.
func JSONSchema() ([]byte, error) {
	said, err := schemaComments()
	if err != nil {
		return nil, err
	}
	defs := object{}
	for _, name := range slices.Sorted(maps.Keys(kitShapes().done)) {
		s := kitShapes().done[name]
		if s.kind != cue.StructKind && s.choices() == nil {
			continue // a quantity, a day or a name: written out where it stands
		}
		defs = append(defs, member{defName(name), s.described(said, name)})
	}
	whole := object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"title", "Kitmuster kit"},
		{"$ref", "#/$defs/Kit"},
		{"$defs", defs},
	}
	b, err := whole.MarshalJSON()
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := json.Indent(&out, b, "", "  "); err != nil {
		return nil, err
	}
	out.WriteByte('\n')
	return out.Bytes(), nil
}

func defName(def string) string { return strings.TrimPrefix(def, "#") }

// schemaComments are what the schema says of its definitions, and of their fields, as "#Item" and "#Item.mass".
func schemaComments() (map[string]string, error) {
	f, err := parser.ParseFile(schemaFile, schema.Kit, parser.ParseComments)
	if err != nil {
		return nil, err
	}
	out := map[string]string{}
	var visit func(decls []ast.Decl, prefix string)
	visit = func(decls []ast.Decl, prefix string) {
		for _, d := range decls {
			fd, ok := d.(*ast.Field)
			if !ok {
				continue
			}
			name, _, err := ast.LabelName(fd.Label)
			if err != nil {
				continue // names that the family chooses
			}
			for _, c := range ast.Comments(fd) {
				if c.Doc {
					out[prefix+name] = strings.Join(strings.Fields(c.Text()), " ")
				}
			}
			if s, ok := fd.Value.(*ast.StructLit); ok && prefix == "" {
				visit(s.Elts, name+".")
			}
		}
	}
	visit(f.Decls, "")
	return out, nil
}

// described is a definition with what the schema says of it.
func (s *shape) described(said map[string]string, def string) object {
	o := s.written(said, def, "")
	if text := said[def]; text != "" {
		o = append(object{{"description", text}}, o...)
	}
	return o
}

// placed is a shape where it stands, as a field of a definition.
func (s *shape) placed(said map[string]string, def, field string) object {
	o := object{}
	text := said[def+"."+field]
	switch {
	case kitShapes().done[s.def] == s && (s.kind == cue.StructKind || s.choices() != nil):
		o = append(o, member{"$ref", "#/$defs/" + defName(s.def)})
	case s.def == "#Date":
		o = append(o, member{"type", "string"}, member{"pattern", `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`}, member{"examples", []string{s.quantity(def, field).example}})
		text = strings.TrimSpace(text + " Year-month-day.")
	case s.def == "#Quantity":
		m := s.quantity(def, field)
		o = append(o, member{"type", "string"}, member{"pattern", m.pattern()}, member{"examples", []string{m.example}})
		such := fmt.Sprintf(", such as %q", m.example)
		if strings.Contains(text, strconv.Quote(m.example)) {
			such = ""
		}
		text = strings.TrimSpace(text + " " + m.said(such))
	default:
		o = s.written(said, def, field)
	}
	if text != "" {
		o = append(object{{"description", text}}, o...)
	}
	return o
}

func (s *shape) quantity(def, field string) measured {
	m, ok := measureOf(def, field)
	if !ok {
		panic(fmt.Sprintf("schema: nothing says what %s.%s measures", def, field))
	}
	return m
}

// hasDigit and hasUnit are what a quantity has at least; 1/2 and such may be one sign (Unicode, Number Forms and Latin-1).
const (
	hasDigit = `[0-9¼-¾⅐-⅞]`
	hasUnit  = hasDigit + `.*[A-Za-zµμ°%‰'"′″]`
)

// pattern is what a quantity looks like at least: reading it says more.
func (m measured) pattern() string {
	if m.read == nil || m.read("1") == nil { // a limit may be a plain number
		return hasDigit
	}
	return hasUnit
}

// said is what a quantity is, in which units, and such as what.
func (m measured) said(such string) string {
	if m.read == nil {
		return "A quantity with its unit" + such + "; a plain number for a count."
	}
	what, units := "a quantity", ""
	var none, bare *unit.Error
	if errors.As(m.read(""), &none) && none.Noun != "" {
		what = none.Noun
	}
	if errors.As(m.read("1"), &bare) && bare.Units != "" {
		units = " in " + bare.Units
	}
	return strings.ToUpper(what[:1]) + what[1:] + units + such + "."
}

// written is a shape written out.
func (s *shape) written(said map[string]string, def, field string) object {
	switch s.kind {
	case cue.StructKind:
		if s.group() {
			return object{{"type", "object"}, {"propertyNames", object{{"pattern", s.names.String()}}}, {"additionalProperties", s.elem.placed(said, def, field+"[]")}}
		}
		props := object{}
		for _, name := range slices.Sorted(maps.Keys(s.fields)) {
			props = append(props, member{name, s.fields[name].placed(said, def, name)})
		}
		o := object{{"type", "object"}, {"properties", props}}
		if len(s.required) > 0 {
			o = append(o, member{"required", s.required})
		}
		return append(o, member{"additionalProperties", false})
	case cue.ListKind:
		return object{{"type", "array"}, {"items", s.elem.placed(said, def, field+"[]")}}
	case cue.BoolKind:
		return object{{"type", "boolean"}}
	case cue.NumberKind:
		return object{{"type", "number"}}
	case cue.IntKind:
		o := object{{"type", "integer"}}
		if s.min != nil {
			o = append(o, member{"minimum", *s.min})
		}
		if s.max != nil {
			o = append(o, member{"maximum", *s.max})
		}
		return o
	}
	switch {
	case s.choices() != nil:
		return object{{"type", "string"}, {"enum", s.choices()}}
	case s.match != nil:
		return object{{"type", "string"}, {"pattern", s.match.String()}}
	}
	return object{{"type", "string"}}
}
