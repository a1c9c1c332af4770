package atomicfile

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"kitmuster/lint/testkit"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv("TOGETHER_DIR"); dir != "" {
		if err := Together(four(dir), filepath.Join(dir, "journal")); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func four(dir string) (out []Swap) {
	for i := range 4 {
		out = append(out, Swap{filepath.Join(dir, fmt.Sprintf("f%d.cue", i)), []byte(strings.Repeat("old\n", 500)), []byte(strings.Repeat("new\n", 500))})
	}
	return out
}

func lay(t *testing.T, dir string) []Swap {
	t.Helper()
	fs := four(dir)
	for _, f := range fs {
		if err := os.WriteFile(f.Path, f.Old, 0o640); err != nil {
			t.Fatal(err)
		}
	}
	return fs
}

// state counts the files that hold old words, new ones and others.
func state(t *testing.T, fs []Swap) (old, fresh, other int) {
	t.Helper()
	for _, f := range fs {
		b, err := os.ReadFile(f.Path)
		switch {
		case err == nil && string(b) == string(f.Old):
			old++
		case err == nil && string(b) == string(f.New):
			fresh++
		default:
			other++
		}
	}
	return old, fresh, other
}

func leftParts(t *testing.T, dir string) (out []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if IsPart(e.Name()) || e.Name() == "journal" {
			out = append(out, e.Name())
		}
	}
	return out
}

func TestTogether(t *testing.T) {
	dir := t.TempDir()
	fs := lay(t, dir)
	if err := os.Chmod(fs[0].Path, 0o604); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link.cue")
	if err := os.Symlink("f1.cue", link); err != nil {
		t.Fatal(err)
	}
	fs[1].Path = link
	if err := Together(fs, filepath.Join(dir, "journal")); err != nil {
		t.Fatal(err)
	}
	if old, fresh, other := state(t, fs); old != 0 || other != 0 || fresh != 4 {
		t.Errorf("%d old, %d new, %d other", old, fresh, other)
	}
	if info, err := os.Stat(fs[0].Path); err != nil || info.Mode().Perm() != 0o604 {
		t.Errorf("the mode of the first is %v, %v", info.Mode(), err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is %v, %v", info.Mode(), err)
	}
	if left := leftParts(t, dir); len(left) > 0 {
		t.Errorf("left: %v", left)
	}
}

func TestTogetherRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		do   func(f Swap) error
		want string
	}{
		"a hard link":     {func(f Swap) error { return os.Link(f.Path, f.Path+".2") }, "hard link"},
		"write-protected": {func(f Swap) error { return os.Chmod(f.Path, 0o444) }, "write-protected"},
		"open in an editor": {func(f Swap) error {
			return os.WriteFile(filepath.Join(filepath.Dir(f.Path), ".f2.cue.swp"), nil, 0o600)
		}, "open in an editor"},
		"unsaved in an editor": {func(f Swap) error { return os.Symlink("u@h.1:2", filepath.Join(filepath.Dir(f.Path), ".#f2.cue")) }, "open in an editor"},
		"changed":              {func(f Swap) error { return os.WriteFile(f.Path, []byte("x"), 0o640) }, "was changed"},
		"same size and time": {func(f Swap) error {
			i, err := os.Stat(f.Path)
			if err != nil {
				return err
			}
			return errors.Join(os.WriteFile(f.Path, []byte(strings.ToUpper(string(f.Old))), 0o640), os.Chtimes(f.Path, i.ModTime(), i.ModTime()))
		}, "was changed"},
		"gone":     {func(f Swap) error { return os.Remove(f.Path) }, "no such file"},
		"a folder": {func(f Swap) error { return errors.Join(os.Remove(f.Path), os.Mkdir(f.Path, 0o755)) }, "no ordinary file"},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			fs := lay(t, dir)
			if err := c.do(fs[2]); err != nil {
				t.Fatal(err)
			}
			err := Together(fs, filepath.Join(dir, "journal"))
			if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "f2.cue") {
				t.Errorf("got %v, want %q of f2.cue", err, c.want)
			}
			if _, fresh, _ := state(t, fs); fresh > 0 {
				t.Errorf("%d files are changed", fresh)
			}
			if left := leftParts(t, dir); len(left) > 0 {
				t.Errorf("left: %v", left)
			}
		})
	}
}

// TestKilledTogether kills the writing at random moments: with the journal, everything is as before or as meant.
func TestKilledTogether(t *testing.T) {
	n := 40
	if testkit.Whole(t) {
		n = 600
	}
	r := rand.New(rand.NewPCG(1, 1))
	for range n {
		dir := t.TempDir()
		fs := lay(t, dir)
		c := exec.Command(os.Args[0])
		c.Env = append(os.Environ(), "TOGETHER_DIR="+dir)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(r.IntN(14000)) * time.Microsecond)
		_ = c.Process.Kill()
		_ = c.Wait()
		if _, err := Recover(filepath.Join(dir, "journal")); err != nil {
			t.Fatal(err)
		}
		if old, fresh, other := state(t, fs); old != 4 && fresh != 4 || other != 0 {
			t.Fatalf("%d old, %d new, %d other", old, fresh, other)
		}
	}
}

// TestSavedMeanwhile lets somebody else save a file while the others are written: what they saved is there in the end.
func TestSavedMeanwhile(t *testing.T) {
	n := 200
	if testkit.Whole(t) {
		n = 3000
	}
	r := rand.New(rand.NewPCG(2, 1))
	dir := t.TempDir()
	for i := range n {
		fs := lay(t, dir)
		mark := fmt.Sprintf("somebody's words %d\n", i)
		p, wait, byRename := fs[r.IntN(4)].Path, time.Duration(r.IntN(2500))*time.Microsecond, i%2 == 0
		saved := make(chan error)
		go func() {
			time.Sleep(wait)
			if byRename {
				saved <- errors.Join(os.WriteFile(p+"~", []byte(mark), 0o640), os.Rename(p+"~", p))
				return
			}
			saved <- os.WriteFile(p, []byte(mark), 0o640)
		}()
		_ = Together(fs, filepath.Join(dir, "journal"))
		if err := <-saved; err != nil {
			t.Fatal(err)
		}
		if b, err := os.ReadFile(p); err != nil || string(b) != mark {
			t.Fatalf("round %d: %s holds %q, %v", i, p, b[:min(len(b), 20)], err)
		}
	}
}

// Who had the file open before the exchange, and writes after it, finds these words under its name; so does who saves under the name.
func TestSavedLate(t *testing.T) {
	dir := t.TempDir()
	staged := func(i int) *swapping {
		t.Helper()
		s, err := stage(lay(t, dir)[i])
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(s.file.Drop)
		return s
	}
	holds := func(s *swapping, want string) {
		t.Helper()
		if b, err := os.ReadFile(s.real); err != nil || string(b) != want {
			t.Errorf("it holds %.30q, %v, want %q", b, err, want)
		}
	}
	s := staged(1)
	f, err := os.OpenFile(s.real, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := s.in(); err != nil || s.late() {
		t.Fatal(err, s.late())
	}
	if err := errors.Join(f.Truncate(0), f.Sync()); err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteString("somebody's words"); err != nil || !s.late() {
		t.Fatal(err, "not seen")
	}
	if err := s.out(); err != nil {
		t.Fatal(err)
	}
	holds(s, "somebody's words")

	s = staged(2)
	if err := s.in(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(s.real, []byte("saved since"), 0o640); err != nil {
		t.Fatal(err)
	}
	if err := s.out(); err != nil {
		t.Fatal(err)
	}
	holds(s, "saved since")
}

func TestRecover(t *testing.T) {
	dir := t.TempDir()
	journal := filepath.Join(dir, "journal")
	if was, err := Recover(journal); was != nil || err != nil {
		t.Errorf("without a journal: %v, %v", was, err)
	}
	fs := lay(t, dir)
	write := func() {
		t.Helper()
		b, err := json.Marshal(fs)
		if err == nil {
			err = os.WriteFile(journal, b, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	write()
	if err := os.WriteFile(fs[1].Path, fs[1].New, 0o640); err != nil {
		t.Fatal(err)
	}
	if was, err := Recover(journal); len(was) != 1 || err != nil {
		t.Errorf("half done: %v, %v", was, err)
	}
	if old, _, _ := state(t, fs); old != 4 {
		t.Errorf("%d files are as they were", old)
	}
	write()
	for i, text := range []string{"mine\n", string(fs[1].New)} {
		if err := os.WriteFile(fs[i].Path, []byte(text), 0o640); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := Recover(journal); err == nil || !strings.Contains(err.Error(), "f0.cue is neither") {
		t.Errorf("somebody wrote since: %v", err)
	}
	if _, fresh, other := state(t, fs); fresh != 1 || other != 1 {
		t.Errorf("%d new, %d other: touched", fresh, other)
	}
	if err := os.WriteFile(journal, []byte("{"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Recover(journal); err == nil || !strings.Contains(err.Error(), "cannot be read as the journal") {
		t.Errorf("a journal that is none: %v", err)
	}
}
