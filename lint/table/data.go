package table

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"go.yaml.in/yaml/v3"
)

// node is a value of JSON or YAML, with the order of keys.
type node struct {
	keys   []string
	kids   []node
	text   string
	list   bool
	group  bool
	number bool
}

func fromJSON(b []byte) (*Book, error) {
	d := json.NewDecoder(bytes.NewReader(bytes.TrimPrefix(b, []byte("\xef\xbb\xbf"))))
	d.UseNumber()
	n, err := jsonNode(d, 0)
	if err == nil {
		if _, more := d.Token(); more != io.EOF {
			err = errors.New("something stands behind its end")
		}
	}
	if err != nil {
		line := 1 + bytes.Count(b[:min(int(d.InputOffset()), len(b))], []byte("\n"))
		return nil, fmt.Errorf("line %d: it is no JSON: %w", line, err)
	}
	return fromNode(n, "JSON")
}

func jsonNode(d *json.Decoder, depth int) (n node, err error) {
	if depth > mostDepth {
		return n, errors.New("it is nested too deep")
	}
	t, err := d.Token()
	if err == io.EOF {
		err = io.ErrUnexpectedEOF
	}
	if err != nil {
		return n, err
	}
	switch t := t.(type) {
	case json.Delim:
		n.list, n.group = t == '[', t == '{'
		for d.More() {
			if n.group {
				k, err := d.Token()
				if err != nil {
					return n, err
				}
				n.keys = append(n.keys, fmt.Sprint(k))
			}
			kid, err := jsonNode(d, depth+1)
			if err != nil {
				return n, err
			}
			n.kids = append(n.kids, kid)
		}
		_, err = d.Token()
		return n, err
	case json.Number:
		n.text, n.number = t.String(), true
	case string:
		n.text = t
	case bool:
		n.text = fmt.Sprint(t)
	}
	return n, nil
}

func fromYAML(b []byte) (*Book, error) {
	var y yaml.Node
	if err := yaml.Unmarshal(b, &y); err != nil {
		return nil, fmt.Errorf("it is no YAML: %s", strings.TrimPrefix(err.Error(), "yaml: "))
	}
	n, err := yamlNode(&y, 0)
	if err != nil {
		return nil, err
	}
	return fromNode(n, "YAML")
}

func yamlNode(y *yaml.Node, depth int) (n node, err error) {
	if depth > mostDepth {
		return n, errors.New("it is nested too deep")
	}
	switch y.Kind {
	case yaml.DocumentNode:
		return yamlNode(y.Content[0], depth)
	case yaml.AliasNode: // a few of them can stand for billions of values
		return n, fmt.Errorf("line %d: *%s is not followed; write out what it stands for", y.Line, y.Value)
	case yaml.ScalarNode:
		n.text, n.number = y.Value, y.Tag == "!!int" || y.Tag == "!!float"
		if y.Tag == "!!null" {
			n.text = ""
		}
		return n, nil
	}
	n.list, n.group = y.Kind == yaml.SequenceNode, y.Kind == yaml.MappingNode
	for i := 0; i < len(y.Content); i++ {
		if n.group {
			n.keys = append(n.keys, y.Content[i].Value)
			i++
		}
		kid, err := yamlNode(y.Content[i], depth+1)
		if err != nil {
			return n, err
		}
		n.kids = append(n.kids, kid)
	}
	return n, nil
}

// fromNode makes tables: a list of groups is one, and so is each list of them by its key. The keys of groups are the heads.
func fromNode(n node, kind string) (*Book, error) {
	b, count := &Book{Kind: kind}, &bounds{}
	var visit func(name string, n node) error
	visit = func(name string, n node) error {
		if n.group {
			for i, k := range n.kids {
				if !k.list && !k.group {
					continue
				}
				where := n.keys[i]
				if name != "" {
					where = name + ", " + where
				}
				if err := visit(where, k); err != nil {
					return err
				}
			}
			return nil
		}
		if len(b.Sheets) == mostSheets {
			return fmt.Errorf("it has more than %d tables", mostSheets)
		}
		s := Sheet{Name: name}
		heads := map[string]int{}
		put := func(row int, head, text string, number bool) error {
			c, ok := heads[head]
			if !ok {
				c = len(heads)
				heads[head] = c
				if err := count.put(&s, 0, c, Cell{Text: head}); err != nil {
					return err
				}
			}
			if text == "" {
				return nil
			}
			return count.put(&s, row, c, Cell{Text: text, Number: number})
		}
		for i, k := range n.kids {
			if !k.group {
				if err := put(i+1, "name", k.text, k.number); err != nil {
					return err
				}
				continue
			}
			for j, v := range k.kids {
				if err := put(i+1, k.keys[j], flat(v), v.number); err != nil {
					return err
				}
			}
		}
		b.Sheets = append(b.Sheets, s)
		return nil
	}
	if err := visit("", n); err != nil {
		return nil, err
	}
	if len(b.Sheets) == 0 {
		return nil, errors.New("it has no list of things; write one such as [{\"name\": \"whistle\", \"mass\": \"10 g\"}]")
	}
	return b, nil
}

// flat writes a value in one cell.
func flat(n node) string {
	var out []string
	for i, k := range n.kids {
		text := flat(k)
		if n.group {
			text = n.keys[i] + ": " + text
		}
		out = append(out, text)
	}
	if n.list || n.group {
		return strings.Join(out, ", ")
	}
	return strings.TrimSpace(n.text)
}
