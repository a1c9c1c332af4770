package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"kitmuster/lint/testkit"
)

// systems are those that the program is built for.
var systems = []string{"darwin", "linux", "windows"}

// terms is how files of a licence are called.
var terms = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice)[^/]*$`)

// The licences of everything that is linked in go along with the program: notices.txt holds each text once, with the modules that it
// is of.
func TestNotices(t *testing.T) {
	t.Parallel()
	of := map[string][]string{} // modules by the text of their licence
	for name, dir := range linked(t) {
		files, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, f := range files {
			if !f.Type().IsRegular() || !terms.MatchString(f.Name()) || strings.HasSuffix(f.Name(), ".docs") { // of its documentation
				continue
			}
			text, err := os.ReadFile(filepath.Join(dir, f.Name()))
			if err != nil {
				t.Fatal(err)
			}
			found++
			of[plainText(text)] = append(of[plainText(text)], name)
		}
		if found == 0 {
			t.Errorf("%s has no licence beside its code: it may not be linked in", name)
		}
	}
	texts := slices.SortedFunc(maps.Keys(of), func(a, b string) int {
		slices.Sort(of[a])
		slices.Sort(of[b])
		return cmp.Or(slices.Compare(of[a], of[b]), strings.Compare(a, b))
	})
	var b strings.Builder
	b.WriteString("Kitmuster is under the Apache License, Version 2.0. It is built of the following works, too, each under its own terms.\n")
	for _, text := range texts {
		fmt.Fprintf(&b, "\n%s\n\n%s\n\n%s\n", strings.Repeat("=", 78), strings.Join(of[text], "\n"), text)
	}
	if *testkit.Update {
		if err := os.WriteFile("notices.txt", []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := gocmp.Diff(b.String(), notices); diff != "" {
		t.Errorf("notices.txt is not that of what is linked in; go test ./cmd/kitmuster -run TestNotices -update writes it (-linked +notices.txt):\n%s", diff)
	}
}

// plainText is a text without blanks at the ends of lines, in one form of line ends.
func plainText(b []byte) string {
	lines := strings.Split(strings.ReplaceAll(string(b), "\r\n", "\n"), "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(l, " \t\f")
	}
	return strings.Trim(strings.Join(lines, "\n"), "\n")
}

// linked are the modules that the program is built of on any system, and Go itself, with folders where their terms lie.
func linked(t *testing.T) map[string]string {
	out, version := map[string]string{}, map[string]string{}
	for _, system := range systems {
		cmd := exec.Command("go", "list", "-deps", "-json=Module", ".")
		cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=0")
		b, err := cmd.Output()
		if err != nil {
			t.Fatalf("%s: %v", system, err)
		}
		for d := json.NewDecoder(bytes.NewReader(b)); ; {
			var p struct {
				Module *struct {
					Path, Version, Dir string
					Main               bool
				}
			}
			if err := d.Decode(&p); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatal(err)
			}
			if m := p.Module; m != nil && !m.Main {
				out[m.Path+" "+m.Version], version[m.Path] = m.Dir, m.Version
			}
		}
	}
	// By the same authors under the same text, which some packages of Go leave out.
	out["the Go standard library"] = out["golang.org/x/text "+version["golang.org/x/text"]]
	return out
}
