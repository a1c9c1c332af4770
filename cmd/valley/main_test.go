package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestWritesAndRefuses(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "valley")
	var said bytes.Buffer
	if err := run([]string{"-n", "3", "-seed", "9", "-o", dir}, &said); err != nil {
		t.Fatal(err)
	}
	found, _ := filepath.Glob(filepath.Join(dir, "*", "*", "household.cue"))
	if len(found) != 3 {
		t.Errorf("3 households were asked for, these are there: %v", found)
	}
	before, err := os.ReadFile(found[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := run([]string{"-n", "3", "-seed", "8", "-o", dir}, &said); err == nil || !strings.Contains(err.Error(), "is not empty") {
		t.Errorf("a folder with something in it: %v", err)
	}
	if after, _ := os.ReadFile(found[0]); !bytes.Equal(before, after) {
		t.Error("what was there was written over")
	}
}

func TestFlags(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "-o DIR"},
		{[]string{"-o", "x", "more"}, `"more" is one word more than is read here`},
		{[]string{"-n", "0", "-o", "x"}, "-n 0"},
		{[]string{"-items", "-1", "-o", "x"}, "-items -1"},
		{[]string{"-seed", "a", "-o", "x"}, "seed"},
	} {
		var said bytes.Buffer
		if err := run(c.args, &said); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v, want %q", c.args, err, c.want)
		}
	}
}
