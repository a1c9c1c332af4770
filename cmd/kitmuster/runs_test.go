package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"kitmuster/lint/cache"
	"kitmuster/lint/testkit"
	"kitmuster/lint/valley"
)

// ran is what a run of the program came to.
type ran struct {
	code      int
	out, errs string
}

// needsRules are the commands for which the base is compiled.
var needsRules = map[string]bool{"check": true, "audit": true, "list": true, "drill": true, "compare": true, "standard": true}

// sealing is the key that the runs of tests seal their caches with.
const sealing = "the key of all tests, which seals nothing else"

// anew is --no-cache where it is not the subject: in the default run the program finds the base compiled, and nothing else.
const anew = "--judged-anew"

// compiled is the base as the program keeps it, compiled.
var compiled = sync.OnceValues(func() ([]byte, error) { return (&standards{}).packed() })

// seeded is a cache that holds the compiled base and nothing else, in a user's folder for caches.
func seeded(t *testing.T) string {
	t.Helper()
	base, err := compiled()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	c := &caching{}
	if c.store, err = cache.Open(filepath.Join(dir, "kitmuster"), []byte(sealing), usualCache, time.Now()); err != nil {
		t.Fatal(err)
	}
	c.keepRules("", base)
	if err := errors.Join(c.store.Err(), c.store.Close()); err != nil {
		t.Fatal(err)
	}
	return dir
}

// seededStore is a folder for --cache with no answer in it; outside of the long corpus it holds the compiled base.
func seededStore(t *testing.T) string {
	t.Helper()
	if testkit.Long() {
		return t.TempDir()
	}
	return filepath.Join(seeded(t), "kitmuster")
}

// program makes a run of the program, not yet started. The environment holds no folder that a test does not name, but for a cache of its
// own with the compiled base where this is not the long corpus.
func program(t *testing.T, dir string, args ...string) (cmd *exec.Cmd, end func() ran) {
	t.Helper()
	var more []string
	args = slices.Clone(args)
	if i := slices.Index(args, anew); i >= 0 && testkit.Long() {
		args[i] = "--no-cache"
	} else if i >= 0 {
		args = slices.Delete(args, i, i+1)
	}
	if !testkit.Long() && len(args) > 0 && needsRules[args[0]] && !slices.Contains(args, "--no-cache") {
		more = []string{"XDG_CACHE_HOME=" + seeded(t)}
	}
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	t.Cleanup(cancel)
	cmd = exec.CommandContext(ctx, "kitmuster", args...)
	cmd.Dir = dir
	cmd.Env = append(append(sparing(), more...), "PATH="+os.Getenv("PATH"), "TMPDIR="+os.TempDir(), cacheKey+"="+sealing)
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
