package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/testkit"
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
		name("audit.json", here, alive, 0), name("audit.json", here, os.Getpid(), 0), name("audit.json", here, 1, 0), // somebody may be writing
		name("audit.json", "00000000", dead, 0),                                  // where the number means another process
		name("other.json", here, dead, 0), name("audit.json.bak", here, dead, 0), // of another target
		name("audit.json", here, fmt.Sprint("0", dead), 0), name("audit.json", here, dead, "00"), name("audit.json", here, "-1", 0), name("audit.json", here, "99999999999", 0),
		name("audit.json", strings.ToUpper(here)+"x", dead, 0), fmt.Sprintf(".audit.json.%d-0.part", dead), name("audit.json", here, dead, 0) + ".txt",
		"audit.json", "notes.txt",
	}
	for _, n := range slices.Concat(away, stay) {
		testkit.Write(t, dir, map[string]string{n: "x"})
	}
	folder, link := name("audit.json", here, dead, 3), name("audit.json", here, dead, 4)
	if err := os.Mkdir(filepath.Join(dir, folder), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("notes.txt", filepath.Join(dir, link)); err != nil {
		t.Fatal(err)
	}
	stay = append(stay, folder, link)
	f, err := newWholeFile(filepath.Join(dir, "audit.json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if base := filepath.Base(f.Name()); partForm.FindStringSubmatch(base) == nil {
		t.Errorf("%s is not known as a part", base)
	}
	if err := f.keep(); err != nil {
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

// A run that is killed leaves its parts, and the next good one takes them away: a check's file, an audit for others.
func TestKilledRunsAreTidiedUp(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 1)
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o600); err != nil {
		t.Skip(err)
	}
	left := func(in string) []string {
		found, _ := filepath.Glob(filepath.Join(dir, in, ".*.part"))
		return found
	}
	cmd, _ := program(t, dir, checkArgs("--no-cache", "--output", "json=new.json", "--output", "text=pipe", "./...")...)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	until(t, "it waits for somebody to read the pipe", func() bool { return len(left("")) == 1 })
	other := runs(t, dir, checkArgs("--no-cache", "--output", "json=new.json", "h000")...)
	if other.code != exitFindings || len(left("")) != 1 {
		t.Errorf("beside a run that still writes: exit %d, %v", other.code, left(""))
	}
	_ = cmd.Process.Kill()
	_ = cmd.Wait()
	if len(left("")) != 1 {
		t.Fatal("nothing was left by the run that was killed")
	}
	if got := runs(t, dir, checkArgs("--no-cache", "--output", "json=elsewhere.json", "h000")...); got.code != exitFindings || len(left("")) != 1 {
		t.Errorf("a run that writes another file: exit %d, %v", got.code, left(""))
	}
	if got := runs(t, dir, checkArgs("--no-cache", "--output", "json=new.json", "h000")...); got.code != exitFindings || len(left("")) != 0 {
		t.Errorf("a run that writes the same file: exit %d, %v", got.code, left(""))
	}

	dead := nobody(t)
	part := func(base string) string { return fmt.Sprintf(".%s.%s-%d-0.part", base, machine(), dead) }
	for _, args := range [][]string{{"-o", "audit"}, {"-o", "shared", "--share-safe", "--share-key", filepath.Join(t.TempDir(), "share.key")}} {
		out := args[1]
		testkit.Write(t, dir, map[string]string{out + "/" + part("audit.json"): "x", out + "/" + part("audit.html"): "x", out + "/households/" + part("h-0123456789abcdef.html"): "x"})
		got := runs(t, dir, append([]string{"audit", "--no-cache", "--on", "2026-11-01", "./h000"}, args...)...)
		if got.code != exitClean || len(left(out)) > 0 || len(left(out+"/households")) > 0 {
			t.Errorf("%v: exit %d, %q; there are %v", args, got.code, got.errs, append(left(out), left(out+"/households")...))
		}
	}
}
