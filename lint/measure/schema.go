package measure

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
)

// node is the little of JSON Schema that the facts need, in the order it is printed.
type node struct {
	Schema     string           `json:"$schema,omitempty"`
	Title      string           `json:"title,omitempty"`
	Ref        string           `json:"$ref,omitempty"`
	Type       string           `json:"type,omitempty"`
	Items      *node            `json:"items,omitempty"`
	Properties map[string]*node `json:"properties,omitempty"`
	Required   []string         `json:"required,omitempty"`
	Additional *bool            `json:"additionalProperties,omitempty"`
	Defs       map[string]*node `json:"$defs,omitempty"`
}

// Schema is the JSON Schema (draft 2020-12) of Facts, made from the Go types.
// Every object is closed and needs all its properties; there is no null, no
// choice and no map, so that a checker of rules can see every misspelt field.
func Schema() []byte {
	defs := map[string]*node{}
	root := object(reflect.TypeFor[Facts](), defs)
	root.Schema, root.Title, root.Defs = "https://json-schema.org/draft/2020-12/schema", "Facts", defs
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	if err := e.Encode(root); err != nil {
		panic(err) // the types are fixed
	}
	return b.Bytes()
}

func object(t reflect.Type, defs map[string]*node) *node {
	n := &node{Type: "object", Properties: map[string]*node{}, Additional: new(bool)}
	for i := range t.NumField() {
		name := t.Field(i).Tag.Get("json")
		n.Properties[name] = describe(t.Field(i).Type, defs)
		n.Required = append(n.Required, name)
	}
	return n
}

func describe(t reflect.Type, defs map[string]*node) *node {
	switch t.Kind() {
	case reflect.String:
		return &node{Type: "string"}
	case reflect.Bool:
		return &node{Type: "boolean"}
	case reflect.Int64:
		return &node{Type: "integer"}
	case reflect.Slice:
		return &node{Type: "array", Items: describe(t.Elem(), defs)}
	case reflect.Struct:
		if defs[t.Name()] == nil {
			defs[t.Name()] = &node{} // no type of the facts holds itself; this only marks it as seen
			defs[t.Name()] = object(t, defs)
		}
		return &node{Ref: "#/$defs/" + t.Name()}
	}
	panic(fmt.Sprintf("measure: the facts may not hold a %s", t))
}
