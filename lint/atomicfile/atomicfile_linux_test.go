package atomicfile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// nobody is the number of a process that is gone.
func nobody(t *testing.T) int {
	t.Helper()
	cmd := exec.Command("true")
	if err := cmd.Run(); err != nil {
		t.Fatal(err)
	}
	return cmd.Process.Pid
}

// What a process of this machine that is gone left of a target is taken away, and nothing else.
func TestLeftovers(t *testing.T) {
	dir := t.TempDir()
	dead, alive, here := nobody(t), os.Getppid(), machine()
	if gone(alive) || gone(1) || !gone(dead) {
		t.Fatal("whether a process is gone is not seen")
	}
	name := func(base, host string, pid, i any) string {
		return fmt.Sprintf(".%s.%s-%v-%v.part", base, host, pid, i)
	}
	away := []string{name("audit.json", here, dead, 0), name("audit.json", here, dead, 12)}
	stay := []string{
		name("audit.json", here, alive, 0), name("audit.json", here, os.Getpid(), 0), name("audit.json", here, 1, 0), // someone may be writing
		name("audit.json", "00000000", dead, 0),                                  // where the number means another process
		name("other.json", here, dead, 0), name("audit.json.bak", here, dead, 0), // of another target
		name("audit.json", here, fmt.Sprint("0", dead), 0), name("audit.json", here, dead, "00"), name("audit.json", here, "-1", 0), name("audit.json", here, "99999999999", 0),
		name("audit.json", strings.ToUpper(here)+"x", dead, 0), fmt.Sprintf(".audit.json.%d-0.part", dead), name("audit.json", here, dead, 0) + ".txt",
		"audit.json", "notes.txt",
	}
	for _, n := range slices.Concat(away, stay) {
		if err := os.WriteFile(filepath.Join(dir, n), []byte("x"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	folder, link := name("audit.json", here, dead, 3), name("audit.json", here, dead, 4)
	if err := os.Mkdir(filepath.Join(dir, folder), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("notes.txt", filepath.Join(dir, link)); err != nil {
		t.Fatal(err)
	}
	stay = append(stay, folder, link)
	if err := Write(filepath.Join(dir, "audit.json"), []byte("new"), 0o600); err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	slices.Sort(stay)
	if diff := cmp.Diff(stay, got); diff != "" {
		t.Errorf("in the folder (-want +got):\n%s", diff)
	}
}

func listed(t *testing.T, dir string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// A file is there once it is named and not before, in a root as on the disk; what is dropped leaves nothing.
func TestWholeOrNotAtAll(t *testing.T) {
	for _, rooted := range []bool{false, true} {
		dir := t.TempDir()
		in, at := Disk, func(name string) string { return filepath.Join(dir, name) }
		if rooted {
			root, err := os.OpenRoot(dir)
			if err != nil {
				t.Fatal(err)
			}
			defer root.Close()
			in, at = root, func(name string) string { return name }
		}
		begin := func(text string) *File {
			t.Helper()
			f, err := Create(in, at("a"), 0o600)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := f.WriteString(text); err != nil {
				t.Fatal(err)
			}
			return f
		}
		must := func(err error) {
			t.Helper()
			if err != nil {
				t.Fatal(err)
			}
		}
		has := func(text string, names ...string) {
			t.Helper()
			if got := listed(t, dir); !slices.Equal(got, names) {
				t.Errorf("there are %q, want %q", got, names)
			}
			if b, err := os.ReadFile(filepath.Join(dir, "a")); text != "" && (err != nil || string(b) != text) {
				t.Errorf("%q, %v, want %q", b, err, text)
			}
		}
		one, two := begin("one"), begin("two")
		for _, n := range listed(t, dir) {
			if !IsPart(n) {
				t.Errorf("%s is not known as a part", n)
			}
		}
		must(one.Close())
		must(one.Replace())
		one.Drop()
		must(two.Close())
		if err := two.Add(); !errors.Is(err, fs.ErrExist) {
			t.Errorf("what is there is replaced: %v", err)
		}
		two.Drop()
		has("one", "a")
		three := begin("three")
		must(three.Close())
		must(three.Replace())
		has("three", "a")
		begin("four").Drop()
		has("three", "a")
		five := begin("five")
		DropAll()
		has("three", "a")
		if err := five.Replace(); err == nil {
			t.Error("what was dropped has got its name")
		}
		five.Drop()
		must(os.Remove(filepath.Join(dir, "a")))
		six := begin("six")
		must(six.Close())
		must(six.Add())
		six.Drop()
		has("six", "a")
	}
}

// What cannot be written leaves no part.
func TestNoPartIsLeft(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "folder"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := Write(filepath.Join(dir, "folder"), []byte("x"), 0o600); err == nil {
		t.Error("a folder was replaced")
	}
	if err := Write(filepath.Join(dir, "nowhere", "a"), []byte("x"), 0o600); err == nil {
		t.Error("written where there is no folder")
	}
	if got := listed(t, dir); !slices.Equal(got, []string{"folder"}) {
		t.Errorf("there are %q", got)
	}
}
