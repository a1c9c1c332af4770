package repo

import (
	"io/fs"
	"testing"
	"testing/fstest"
)

// An edit shows one file otherwise, and all else as it is; one that does not fit is an error.
func TestEdit(t *testing.T) {
	base := fstest.MapFS{"a/kit.cue": {Data: []byte("mass: 80 g\n")}, "b.cue": {Data: []byte("b")}}
	for _, c := range []struct {
		edit *Edit
		want string
	}{
		{nil, "mass: 80 g\n"},
		{&Edit{Name: "a/kit.cue", From: 6, To: 8, Text: []byte("120")}, "mass: 120 g\n"},
		{&Edit{Name: "a/kit.cue", From: 11, To: 11, Text: []byte("x")}, "mass: 80 g\nx"},
		{&Edit{Name: "b.cue", From: 0, To: 1}, "mass: 80 g\n"},
	} {
		tree := c.edit.Of(base)
		b, err := fs.ReadFile(tree, "a/kit.cue")
		if err != nil || string(b) != c.want {
			t.Errorf("%q, %v", b, err)
		}
		info, err := fs.Stat(tree, "a/kit.cue")
		if err != nil || info.Size() != int64(len(c.want)) || info.Name() != "kit.cue" {
			t.Errorf("%v, %v", info, err)
		}
		if list, err := fs.ReadDir(tree, "."); err != nil || len(list) != 2 {
			t.Errorf("%v, %v", list, err)
		}
	}
	for _, e := range []Edit{{From: -1, To: 0}, {From: 3, To: 2}, {From: 0, To: 12}} {
		e.Name = "a/kit.cue"
		if _, err := fs.ReadFile(e.Of(base), e.Name); err == nil {
			t.Errorf("%+v fits", e)
		}
		if _, err := fs.Stat(e.Of(base), e.Name); err == nil {
			t.Errorf("%+v fits", e)
		}
	}
}
