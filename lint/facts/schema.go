package facts

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
)

// Node is the little of JSON Schema that the facts need, in the order it is printed.
type Node struct {
	Schema     string           `json:"$schema,omitempty"`
	Title      string           `json:"title,omitempty"`
	Ref        string           `json:"$ref,omitempty"`
	Type       string           `json:"type,omitempty"`
	Items      *Node            `json:"items,omitempty"`
	Properties map[string]*Node `json:"properties,omitempty"`
	Required   []string         `json:"required,omitempty"`
	Additional *bool            `json:"additionalProperties,omitempty"`
	Defs       map[string]*Node `json:"$defs,omitempty"`
}

// Schema is the JSON Schema (draft 2020-12) of Facts, made from the Go types.
// Every object is closed and needs all its properties; there is no null, no
// choice and no map, so that a checker of rules can see every misspelt field.
func Schema() []byte {
	defs := map[string]*Node{}
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

func object(t reflect.Type, defs map[string]*Node) *Node {
	n := &Node{Type: "object", Properties: map[string]*Node{}, Additional: new(bool)}
	for i := range t.NumField() {
		name := t.Field(i).Tag.Get("json")
		n.Properties[name] = describe(t.Field(i).Type, defs)
		n.Required = append(n.Required, name)
	}
	return n
}

func describe(t reflect.Type, defs map[string]*Node) *Node {
	switch t.Kind() {
	case reflect.String:
		return &Node{Type: "string"}
	case reflect.Bool:
		return &Node{Type: "boolean"}
	case reflect.Int64:
		return &Node{Type: "integer"}
	case reflect.Slice:
		return &Node{Type: "array", Items: describe(t.Elem(), defs)}
	case reflect.Struct:
		if defs[t.Name()] == nil {
			defs[t.Name()] = &Node{} // no type of the facts holds itself; this only marks it as seen
			defs[t.Name()] = object(t, defs)
		}
		return &Node{Ref: "#/$defs/" + t.Name()}
	}
	panic(fmt.Sprintf("measure: the facts may not hold a %s", t))
}
