package main

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"kitmuster/lint/testkit"
	"kitmuster/lint/valley"
)

// makingAll are the commands that evaluate strangers' kits, each as it is called for everyone below.
var makingAll = map[string][]string{
	"check": {"check", "--no-cache", "./..."}, "measure": {"measure", "./..."}, "forecast": {"forecast", "./..."}, "drill": {"drill", "./..."}, "list": {"list", "./..."},
	"audit": {"audit", "--no-cache", "-o", "audit-of-all", "./..."}, "measure, JSON": {"measure", "--format", "json", "./..."}, "list, HTML": {"list", "--format", "html", "./..."},
}

// Whatever a household takes, it is named after its time, and what is said of its neighbours is the same as without it.
func TestOneWallForAll(t *testing.T) {
	t.Parallel()
	alone, both := t.TempDir(), t.TempDir()
	neighbours(t, alone, 2)
	neighbours(t, both, 2)
	testkit.Write(t, both, map[string]string{"bomb/kit.cue": endless(t)})
	for _, name := range testkit.SomeOf(t, makingAll, "check") {
		args := append(slices.Clone(makingAll[name]), "--on", valley.On, "--standard", "base")
		if args[0] == "measure" || args[0] == "forecast" || args[0] == "list" {
			args = args[:len(args)-2]
		}
		want := runs(t, alone, args...)
		got := runs(t, both, append(args, "--time-limit", "4s")...)
		said := strings.Join(strings.Fields(got.out+got.errs), " ") // lines are wrapped
		if got.code != exitUnfit || !strings.Contains(said, "this household could not be judged: it took longer than 4s") && args[0] != "audit" {
			t.Errorf("%s: exit %d\n%.500s", name, got.code, got.errs)
		}
		for _, folder := range []string{"h000", "h001"} {
			if a, b := strings.Count(want.out, folder), strings.Count(got.out, folder); a == 0 && args[0] != "audit" || a != b {
				t.Errorf("%s: %s stands there %d times alone, and %d times beside a bomb", name, folder, a, b)
			}
		}
	}
	if got := runs(t, both, "rules", "--on", valley.On, "--standard", "base", "--time", "bomb", "--time-limit", "1s"); got.code != exitUnfit || got.errs != "kitmuster: bomb: the household took longer than 1s and was stopped\n" {
		t.Errorf("rules --time: exit %d, %q", got.code, got.errs)
	}
}

// A kit of a few hundred bytes that answers with as much as it can takes neither the program's memory nor a disk, and hides nobody.
// What is measured is the process that gathers the answers; the workers have bounds of their own.
func TestLargeAnswers(t *testing.T) {
	t.Parallel()
	const most = 512 << 20 // bytes: README states it
	texts := map[string]string{
		"many, named as long as may be": `items: {for i in list.Range(0, 9000, 1) {"i\(i)": {mass: "1 g", name: strings.Repeat("n", 1990), expires: "2026-12-01"}}}`,
		"named longer":                  `items: {for i in list.Range(0, 9000, 1) {"i\(i)": {mass: "1 g", name: strings.Repeat("n", 19900), expires: "2026-12-01"}}}`,
		"each with faults":              `items: {for i in list.Range(0, 5000, 1) {"i\(i)": {mass: "1 gramm\(i)"}}}`,
	}
	commands := testkit.SomeOf(t, makingAll, "check")
	for _, what := range testkit.SomeOf(t, texts, "each with faults") {
		text := texts[what]
		dir := t.TempDir()
		neighbours(t, dir, 2)
		testkit.Write(t, dir, map[string]string{"many/kit.cue": "package kit\n\nimport (\"list\", \"strings\")\n\n_l: [list.MaxItems, strings.MinRunes]\n" +
			strings.Replace(hostileHead, "package kit\n", "", 1) + "packs: rust: {carrier: \"ana\", mass: \"1 kg\", compartments: m: {reach: \"halted\", " + text + "}}\n"})
		for _, name := range commands {
			if name != "check" && what != "each with faults" { // each answer of one command, and one of each command
				continue
			}
			args := slices.Clone(makingAll[name])
			cmd, end := program(t, dir, append(args, "--on", valley.On)...)
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			var peak atomic.Int64
			stop := make(chan bool)
			go func() {
				for {
					select {
					case <-stop:
						return
					case <-time.After(10 * time.Millisecond):
						peak.Store(max(peak.Load(), resident(cmd.Process.Pid)))
					}
				}
			}()
			got := end()
			close(stop)
			if n := peak.Load(); n == 0 || n > most {
				t.Errorf("%s, %s: the program held %d MiB", what, name, n>>20)
			}
			if len(got.out) > 64<<20 || strings.Count(got.out+got.errs, "h000") == 0 && args[0] != "audit" {
				t.Errorf("%s, %s: %d bytes are written, and of the neighbour %d times\n%.300s", what, name, len(got.out), strings.Count(got.out, "h000"), got.errs)
			}
			if args[0] == "audit" {
				size := int64(0)
				_ = filepath.WalkDir(filepath.Join(dir, "audit-of-all"), func(_ string, d fs.DirEntry, _ error) error {
					if info, err := d.Info(); err == nil {
						size += info.Size()
					}
					return nil
				})
				b, err := os.ReadFile(filepath.Join(dir, "audit-of-all", "households.csv"))
				if err != nil || size > 64<<20 || !strings.Contains(string(b), "h000") {
					t.Errorf("%s: the audit has %d MiB, %v\n%s\n%.300s", what, size>>20, err, b, got.errs)
				}
			}
			if what == "each with faults" && args[0] == "check" && !strings.Contains(got.out, "1,000 of 5,") {
				t.Errorf("%s: it is not told what is left out\n%.300s", what, got.out[max(0, len(got.out)-300):])
			}
		}
	}
}

var highWater = regexp.MustCompile(`VmHWM:\s+([0-9]+) kB`)

// resident is the most memory that a running process has held, in bytes; see proc_pid_status(5).
func resident(pid int) int64 {
	b, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if m := highWater.FindSubmatch(b); m != nil {
		n, _ := strconv.ParseInt(string(m[1]), 10, 64)
		return n << 10
	}
	return 0
}

// The first signal ends every command, whatever its households do, and where a file blocks.
func TestFirstSignal(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 1)
	testkit.Write(t, dir, map[string]string{"bomb/kit.cue": endless(t)})
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o600); err != nil {
		t.Fatal(err)
	}
	all := map[string][]string{
		"a file that blocks": {"check", "--no-cache", "--output", "json=pipe", "h000"},
		"rules --time":       {"rules", "--time", "bomb"},
	}
	for name, args := range makingAll {
		all[name] = args
	}
	names := testkit.SomeOf(t, all, "a file that blocks", "check", "rules --time")
	for _, name := range names {
		args := slices.Clone(all[name])
		for _, sig := range testkit.Some(t, 1, []syscall.Signal{syscall.SIGTERM, syscall.SIGINT}) {
			cmd, end := program(t, dir, append(args, "--on", valley.On)...)
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			time.Sleep(1500 * time.Millisecond) // long enough to be at it
			if err := cmd.Process.Signal(sig); err != nil {
				t.Fatalf("%s: it ended by itself: %v", name, err)
			}
			began := time.Now()
			end()
			// A second is promised; the machine may be busy.
			if took := time.Since(began); took > 4*time.Second {
				t.Errorf("%s: %v after %v it went on", name, took, sig)
			}
		}
	}
	left, err := filepath.Glob(filepath.Join(dir, ".*.part"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v %v", left, err)
	}
}

// A worker has nothing of the environment that it does not need.
func TestWorkersKnowNoSecret(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	testkit.Write(t, dir, map[string]string{"bomb/kit.cue": endless(t)})
	for _, args := range testkit.Some(t, 2, [][]string{{"check", "--no-cache"}, {"measure"}, {"drill"}, {"list"}, {"forecast"}}) {
		cmd, end := program(t, dir, append(args, "--on", valley.On, "--root", dir, "bomb")...)
		cmd.Env = append(cmd.Env, "DEPLOY_KEY=topsecret", "KITMUSTER_CACHE_KEY=topsecret", "GIT_SSH_COMMAND=topsecret", "HOME="+dir)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		seen := 0
		until(t, "a worker", func() bool {
			for _, pid := range workers(t, dir) {
				b, err := os.ReadFile(fmt.Sprintf("/proc/%d/environ", pid))
				if err != nil || len(b) == 0 { // it has ended since, or has only begun
					continue
				}
				if seen++; strings.Contains(string(b), "topsecret") {
					t.Errorf("%s: a worker has %q", args[0], b)
				}
			}
			return seen > 0
		})
		_ = cmd.Process.Kill()
		end()
	}
}
