package rewrite

import (
	"testing"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/cuecontext"
)

// Whatever a key is, its label is read as a field of that name: the words of the language too.
func TestLabel(t *testing.T) {
	for _, key := range []string{"lamp", "lamp_2", "for", "if", "in", "let", "import", "package", "func", "try", "else", "otherwise", "true", "false", "null", "_x", "#x", "a-b", "1st", "花", `"`, ""} {
		v := cuecontext.New().CompileString("x: {\n\t" + Label(key) + ": {mass: \"8 g\"}\n}")
		fields, err := v.LookupPath(cue.ParsePath("x")).Fields()
		if err != nil || !fields.Next() || fields.Selector().Unquoted() != key || fields.Next() {
			t.Errorf("%q is written %s: %v", key, Label(key), err)
		}
	}
}
