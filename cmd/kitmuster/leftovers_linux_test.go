package main

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"kitmuster/lint/testkit"
)

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
	killed := left("")[0]
	if got := runs(t, dir, checkArgs("--no-cache", "--output", "json=elsewhere.json", "h000")...); got.code != exitFindings || len(left("")) != 1 {
		t.Errorf("a run that writes another file: exit %d, %v", got.code, left(""))
	}
	if got := runs(t, dir, checkArgs("--no-cache", "--output", "json=new.json", "h000")...); got.code != exitFindings || len(left("")) != 0 {
		t.Errorf("a run that writes the same file: exit %d, %v", got.code, left(""))
	}

	part := func(base string) string { return "." + base + strings.TrimPrefix(filepath.Base(killed), ".new.json") }
	for _, args := range [][]string{{"-o", "audit"}, {"-o", "shared", "--share-safe", "--share-key", filepath.Join(t.TempDir(), "share.key")}} {
		out := args[1]
		testkit.Write(t, dir, map[string]string{out + "/" + part("audit.json"): "x", out + "/" + part("audit.html"): "x", out + "/households/" + part("h-0123456789abcdef.html"): "x"})
		got := runs(t, dir, append([]string{"audit", "--no-cache", "--on", "2026-11-01", "./h000"}, args...)...)
		if got.code != exitClean || len(left(out)) > 0 || len(left(out+"/households")) > 0 {
			t.Errorf("%v: exit %d, %q; there are %v", args, got.code, got.errs, append(left(out), left(out+"/households")...))
		}
	}
}
