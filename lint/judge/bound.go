package judge

import (
	"fmt"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/topdown"
)

const (
	// maxResult bounds what one call of a built-in function may build, in bytes or elements.
	maxResult = 4 << 20
	// maxDigits bounds the numbers that arithmetic accepts; facts are 64-bit whole numbers.
	maxDigits = 400
	// maxPattern bounds a regular expression, and maxMatch its length times that of the text: one match takes time by both, and no
	// deadline cuts in. The worst pattern found takes a second at the bound, on the machine of the table in DEVELOPERS.md.
	maxPattern = 1000
	maxMatch   = 1 << 20
)

// bound wraps the built-in functions that can build something huge within one
// call, where no deadline can cut in. The table belongs to the whole process,
// hence once; the stock engine runs the same rules without these bounds.
var bound = sync.OnceFunc(func() {
	for name, size := range map[string]func([]*ast.Term) int{
		"concat":       func(o []*ast.Term) int { return weight(o[1]) + length(o[0])*length(o[1]) },
		"array.concat": func(o []*ast.Term) int { return length(o[0]) + length(o[1]) },
		"replace":      replaced,
		"numbers.range": func(o []*ast.Term) int {
			a, okA := whole(o[0])
			b, okB := whole(o[1])
			if !okA || !okB {
				return maxResult + 1
			}
			return max(a-b, b-a)
		},
		"sprintf": printed,
	} {
		wrap(name, func(o []*ast.Term) string {
			if n := size(o); n > maxResult || n < 0 {
				return fmt.Sprintf("%s would build more than %d bytes or elements", name, maxResult)
			}
			return ""
		})
	}
	wrap("regex.match", func(o []*ast.Term) string {
		if n := length(o[0]); n > maxPattern || n*length(o[1]) > maxMatch {
			return fmt.Sprintf("regex.match would work through %d bytes with a pattern of %d; a pattern has at most %d, and both multiplied make at most %d", length(o[1]), n, maxPattern, maxMatch)
		}
		return ""
	})
	for _, name := range []string{"plus", "minus", "mul", "div", "rem", "round", "ceil", "floor", "abs", "sum", "format_int", "to_number"} {
		wrap(name, func(o []*ast.Term) string {
			for _, t := range o {
				if wide(t) {
					return fmt.Sprintf("%s would work on a number of more than %d digits", name, maxDigits)
				}
			}
			return ""
		})
	}
})

func wrap(name string, refuse func([]*ast.Term) string) {
	inner := topdown.GetBuiltin(name)
	topdown.RegisterBuiltinFunc(name, func(b topdown.BuiltinContext, o []*ast.Term, iter func(*ast.Term) error) error {
		if why := refuse(o); why != "" {
			return topdown.Halt{Err: &topdown.Error{Code: topdown.BuiltinErr, Location: b.Location, Message: why}}
		}
		return inner(b, o, iter)
	})
}

func replaced(o []*ast.Term) int {
	text, old, with := length(o[0]), length(o[1]), length(o[2])
	if old == 0 {
		return text + (text+1)*with
	}
	return text + text/old*with
}

// printed is an upper bound: each verb may print the widest argument again
// (explicit argument indexes), padded by the widths that the format names.
func printed(o []*ast.Term) int {
	format, ok := o[0].Value.(ast.String)
	if !ok {
		return 0
	}
	widest := 0
	if list, ok := o[1].Value.(*ast.Array); ok {
		list.Foreach(func(t *ast.Term) { widest = max(widest, weight(t)) })
	}
	pad, run := 0, 0
	for _, r := range string(format) {
		switch {
		case r >= '0' && r <= '9':
			run = min(run*10+int(r-'0'), maxResult)
		case r == '*':
			pad += maxResult
		default:
			pad, run = pad+run, 0
		}
	}
	return len(format) + strings.Count(string(format), "%")*widest + pad
}

func whole(t *ast.Term) (int, bool) {
	if n, ok := t.Value.(ast.Number); ok && !wide(t) {
		return n.Int()
	}
	return 0, false
}

// wide reports a number that is long written out, or that an exponent makes
// long, and any collection or text that holds one.
func wide(t *ast.Term) bool {
	switch v := t.Value.(type) {
	case ast.Number:
		return long(string(v))
	case ast.String:
		return long(string(v))
	case *ast.Array:
		return v.Until(wide)
	case ast.Set:
		return v.Until(wide)
	}
	return false
}

func long(number string) bool {
	if len(number) > maxDigits {
		return true
	}
	i := strings.IndexAny(number, "eE")
	return i >= 0 && len(strings.TrimLeft(number[i+1:], "+-0")) > 2
}

func length(t *ast.Term) int {
	switch v := t.Value.(type) {
	case ast.String:
		return len(v)
	case *ast.Array:
		return v.Len()
	case ast.Set:
		return v.Len()
	case ast.Object:
		return v.Len()
	}
	return 0
}

// weight is about the number of bytes that a value takes when printed.
func weight(t *ast.Term) int {
	n := 2
	add := func(e *ast.Term) { n += weight(e) + 2 }
	switch v := t.Value.(type) {
	case ast.String:
		n += len(v)
	case ast.Number:
		n += len(v)
	case *ast.Array:
		v.Foreach(add)
	case ast.Set:
		v.Foreach(add)
	case ast.Object:
		v.Foreach(func(k, e *ast.Term) { add(k); add(e) })
	default:
		n += 8
	}
	return n
}
