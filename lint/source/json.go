package source

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// JSON is a JSON text with the places of its values.
type JSON struct {
	// Value is the whole, numbers as json.Number; nil where there is a fault.
	Value any
	// Where each field (at its name) and each element of a list stands, by the names and numbers that lead to it with dots
	// between: standards.0.from.
	Where map[string]Point
	// Fault says what is wrong, and FaultAt where; "" where nothing is.
	Fault   string
	FaultAt Point
	// Doubled says that the fault is a field that stands twice in its object.
	Doubled bool

	text  *Text
	dec   *json.Decoder
	depth int
}

// maxJSON is how deep brackets may be nested. Our own figure.
const maxJSON = 64

// ParseJSON reads one value and refuses a field that is named twice in whatever case: this language's reader takes names that
// differ in case for one, others do not, and readers differ on which of two counts. It walks tokens, since places matter
// more than speed where people write JSON.
func ParseJSON(file string, b []byte) *JSON {
	j := &JSON{Where: map[string]Point{}, text: NewText(file, b), dec: json.NewDecoder(bytes.NewReader(b))}
	j.dec.UseNumber()
	v := j.value("")
	if j.Fault == "" {
		at := j.next()
		if _, err := j.dec.Token(); !errors.Is(err, io.EOF) {
			j.fault(at, "nothing may follow here")
		}
	}
	if j.Fault == "" {
		j.Value = v
	}
	return j
}

func (j *JSON) fault(offset int64, text string) { j.Fault, j.FaultAt = text, j.text.Point(int(offset)) }

// next is the offset where the next token starts.
func (j *JSON) next() int64 {
	i := j.dec.InputOffset()
	for i < int64(len(j.text.Bytes)) && strings.IndexByte(" \t\r\n,:", j.text.Bytes[i]) >= 0 {
		i++
	}
	return i
}

func (j *JSON) token() (json.Token, bool) {
	at := j.next()
	t, err := j.dec.Token()
	if err != nil {
		j.fault(at, "this is not JSON: "+err.Error())
	}
	return t, err == nil
}

// value reads the next value; what it gives after a fault is not used.
func (j *JSON) value(path string) any {
	if j.depth++; j.depth > maxJSON {
		j.fault(j.next(), fmt.Sprintf("brackets may not be nested deeper than %d", maxJSON))
		return nil
	}
	defer func() { j.depth-- }()
	t, ok := j.token()
	switch {
	case !ok:
	case t == json.Delim('{'):
		return j.object(path)
	case t == json.Delim('['):
		out := []any{}
		for j.dec.More() && j.Fault == "" {
			inner := join(path, strconv.Itoa(len(out)))
			j.Where[inner] = j.text.Point(int(j.next()))
			out = append(out, j.value(inner))
		}
		if j.Fault == "" {
			_, _ = j.token()
		}
		return out
	}
	return t
}

func (j *JSON) object(path string) any {
	out, names := map[string]any{}, map[string]string{} // names by what they fold to
	for j.dec.More() && j.Fault == "" {
		at := j.next()
		k, ok := j.token()
		if !ok {
			return nil
		}
		key, _ := k.(string)
		folded := Fold(key)
		if other, twice := names[folded]; twice {
			text := fmt.Sprintf("%q is written twice", key)
			if other != key {
				text = fmt.Sprintf("%q and %q differ only in upper and lower case, and some readers take them for one; keep one", other, key)
			}
			j.fault(at, text)
			j.Doubled = true
			return nil
		}
		names[folded] = key
		inner := join(path, key)
		j.Where[inner] = j.text.Point(int(at))
		out[key] = j.value(inner)
	}
	if j.Fault == "" {
		_, _ = j.token()
	}
	return out
}

func join(path, key string) string { return strings.TrimPrefix(path+"."+key, ".") }
