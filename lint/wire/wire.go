// Package wire writes plain values down in few bytes, the same for the same values, and reads them back. What is zero takes a bit.
// Nothing in the bytes says what they are: only the program that wrote them can read them.
//
// Plain values are texts, whole numbers, truth values, and lists and structs of these. Fields that are not exported are left out.
package wire

import (
	"encoding/binary"
	"errors"
	"fmt"
	"reflect"
	"sync"
)

// errBroken is of bytes that are not whole, or none of this form.
var errBroken = errors.New("the bytes are not whole")

// Append adds the value that v points to. Two values of a type give the same bytes exactly if they are the same, an empty list and none
// told apart. It panics on a type that holds what is no plain value.
func Append(b []byte, v any) []byte { return AppendValue(b, reflect.ValueOf(v).Elem()) }

// AppendValue is Append of a value itself.
func AppendValue(b []byte, v reflect.Value) []byte { return formOf(v.Type()).write(b, v) }

// Read is the way back from Append, into what v points to, which is zero before. Texts share the memory of all the bytes.
// The error says that they are not those of such a value.
func Read(b []byte, v any) error {
	r := &reader{rest: string(b)}
	to := reflect.ValueOf(v).Elem()
	if !formOf(to.Type()).read(r, to) || r.rest != "" {
		return errBroken
	}
	return nil
}

// form is how values of one type are written and read.
type form struct {
	write func(b []byte, v reflect.Value) []byte
	// read reports whether there was such a value.
	read func(r *reader, to reflect.Value) bool
}

var forms sync.Map // reflect.Type → *form

func formOf(t reflect.Type) *form {
	if f, ok := forms.Load(t); ok {
		return f.(*form)
	}
	f := newForm(t)
	forms.Store(t, f)
	return f
}

// reader goes through what is left to read.
type reader struct{ rest string }

func (r *reader) number() (uint64, bool) {
	var n uint64
	for i := range min(len(r.rest), binary.MaxVarintLen64) {
		c := r.rest[i]
		if n |= uint64(c&0x7f) << (7 * i); c < 0x80 {
			r.rest = r.rest[i+1:]
			return n, true
		}
	}
	return 0, false
}

// count is a number of things that take a byte at least, each.
func (r *reader) count() (int, bool) {
	n, ok := r.number()
	if !ok || n > uint64(len(r.rest)) {
		return 0, false
	}
	return int(n), true
}

func newForm(t reflect.Type) *form {
	switch t.Kind() {
	case reflect.Bool:
		return &form{
			func(b []byte, v reflect.Value) []byte {
				if v.Bool() {
					return append(b, 1)
				}
				return append(b, 0)
			},
			func(r *reader, to reflect.Value) bool {
				n, ok := r.number()
				to.SetBool(n == 1)
				return ok && n <= 1
			},
		}
	case reflect.Int, reflect.Int64, reflect.Int32:
		return &form{
			func(b []byte, v reflect.Value) []byte { return binary.AppendVarint(b, v.Int()) },
			func(r *reader, to reflect.Value) bool {
				n, ok := r.number()
				i := int64(n>>1) ^ -int64(n&1)
				to.SetInt(i)
				return ok && !to.OverflowInt(i)
			},
		}
	case reflect.String:
		return &form{
			func(b []byte, v reflect.Value) []byte {
				s := v.String()
				return append(binary.AppendUvarint(b, uint64(len(s))), s...)
			},
			func(r *reader, to reflect.Value) bool {
				n, ok := r.count()
				if ok {
					to.SetString(r.rest[:n])
					r.rest = r.rest[n:]
				}
				return ok
			},
		}
	case reflect.Slice:
		return listForm(t)
	case reflect.Struct:
		return structForm(t)
	}
	panic(fmt.Sprintf("a %v is no plain value", t))
}

// listForm begins with the number of elements and one, or with 0 where there is no list.
func listForm(t reflect.Type) *form {
	each := formOf(t.Elem())
	return &form{
		func(b []byte, v reflect.Value) []byte {
			if v.IsNil() {
				return append(b, 0)
			}
			n := v.Len()
			b = binary.AppendUvarint(b, uint64(n)+1)
			for i := range n {
				b = each.write(b, v.Index(i))
			}
			return b
		},
		func(r *reader, to reflect.Value) bool {
			n, ok := r.number()
			if !ok || n > uint64(len(r.rest))+1 {
				return false
			}
			if n == 0 {
				return true
			}
			to.Set(reflect.MakeSlice(t, int(n-1), int(n-1)))
			for i := range int(n - 1) {
				if !each.read(r, to.Index(i)) {
					return false
				}
			}
			return true
		},
	}
}

// structForm begins with a bit for each field, which says whether it is other than zero, and then has those fields.
func structForm(t reflect.Type) *form {
	type field struct {
		index int
		*form
	}
	var fields []field
	for i := range t.NumField() {
		if t.Field(i).IsExported() {
			fields = append(fields, field{i, formOf(t.Field(i).Type)})
		}
	}
	bits := max(1, (len(fields)+7)/8) // one byte at least, as a list counts on
	return &form{
		func(b []byte, v reflect.Value) []byte {
			at := len(b)
			for range bits {
				b = append(b, 0)
			}
			for i := range fields {
				if f := v.Field(fields[i].index); !f.IsZero() {
					b[at+i/8] |= 1 << (i % 8)
					b = fields[i].write(b, f)
				}
			}
			return b
		},
		func(r *reader, to reflect.Value) bool {
			if len(r.rest) < bits {
				return false
			}
			set := r.rest[:bits]
			r.rest = r.rest[bits:]
			for i := range fields {
				if set[i/8]&(1<<(i%8)) != 0 && !fields[i].read(r, to.Field(fields[i].index)) {
					return false
				}
			}
			return true
		},
	}
}
