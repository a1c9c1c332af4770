package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"testing"
	"time"

	"kitmuster/lint/valley"
)

// ran is what a run of the program came to.
type ran struct {
	code      int
	out, errs string
}

// sealing is the key that the runs of tests seal their caches with.
const sealing = "the key of all tests, which seals nothing else"

// program makes a run of the program, not yet started. The environment holds no folder that a test does not name.
func program(t *testing.T, dir string, args ...string) (cmd *exec.Cmd, end func() ran) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	t.Cleanup(cancel)
	cmd = exec.CommandContext(ctx, "kitmuster", args...)
	cmd.Dir = dir
	cmd.Env = append(sparing(), "PATH="+os.Getenv("PATH"), "TMPDIR="+os.TempDir(), cacheKey+"="+sealing)
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	return cmd, func() ran {
		_ = cmd.Wait()
		if ctx.Err() != nil {
			t.Fatalf("%v did not end\n%.2000s", args, errs.String())
		}
		return ran{cmd.ProcessState.ExitCode(), out.String(), errs.String()}
	}
}

// runs runs the program.
func runs(t *testing.T, dir string, args ...string) ran {
	t.Helper()
	return runsWith(t, dir, nil, args...)
}

// runsWith runs the program with more in its environment.
func runsWith(t *testing.T, dir string, env []string, args ...string) ran {
	t.Helper()
	cmd, end := program(t, dir, args...)
	cmd.Env = append(cmd.Env, env...)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	return end()
}

// checkArgs is a check as of the day for which the tests' households are written.
func checkArgs(args ...string) []string { return append([]string{"check", "--on", valley.On}, args...) }

type jsonRun struct {
	Households []struct {
		Name, Path string
		Judged     bool
	}
	Partial  string
	Findings []struct {
		Rule, Path, Message string
		At                  struct {
			File string
			Line int
		}
	}
}

func (r ran) json(t *testing.T) (j jsonRun) {
	t.Helper()
	if err := json.Unmarshal([]byte(r.out), &j); err != nil {
		t.Fatalf("exit %d, and no JSON: %v\n%.1000s\n%.1000s", r.code, err, r.out, r.errs)
	}
	return j
}
