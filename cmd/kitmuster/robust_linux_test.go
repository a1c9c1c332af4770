package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/cache"
	"kitmuster/lint/judge"
	"kitmuster/lint/testkit"
	"kitmuster/lint/valley"
)

// neighbours writes households with much to say.
func neighbours(t *testing.T, dir string, n int) {
	t.Helper()
	files := map[string]string{}
	for i := range n {
		files[fmt.Sprintf("h%03d/kit.cue", i)] = strings.Replace(neighbour, "Neighbour", fmt.Sprint("N", i), 1)
	}
	testkit.Write(t, dir, files)
}

// endless is a household that is never finished.
func endless(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile("testdata/walls/nested_for.cue")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// workers lists the processes whose command line holds a text.
func workers(t *testing.T, text string) (pids []int) {
	t.Helper()
	names, err := filepath.Glob("/proc/[0-9]*/cmdline")
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range names {
		b, err := os.ReadFile(n)
		if words := strings.Split(string(b), "\x00"); err == nil && slices.Contains(words, "worker") && slices.Contains(words, text) {
			pid, _ := strconv.Atoi(strings.Split(n, "/")[2])
			pids = append(pids, pid)
		}
	}
	return pids
}

// until waits for something to become true.
func until(t *testing.T, what string, is func() bool) {
	t.Helper()
	for range 600 {
		if is() {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("half a minute, and not yet: %s", what)
}

// A run that is interrupted says what it has, and that this is not all; its files are whole, its workers gone.
func TestInterrupted(t *testing.T) {
	for name, sig := range map[string]os.Signal{"interrupt": os.Interrupt, "terminate": syscall.SIGTERM} {
		for moment, ready := range map[string]int{"early": 0, "in the middle": 12} {
			t.Run(name+" "+moment, func(t *testing.T) {
				t.Parallel()
				dir := t.TempDir()
				neighbours(t, dir, 12)
				testkit.Write(t, dir, map[string]string{"zz/kit.cue": endless(t), "old.json": "old"})
				store := t.TempDir()
				cmd, end := program(t, dir, checkArgs("--root", dir, "--cache", store, "--time-limit", "10m", "--output", "json=old.json", "./...")...)
				if err := cmd.Start(); err != nil {
					t.Fatal(err)
				}
				if ready == 0 {
					until(t, "a worker", func() bool { return len(workers(t, dir)) > 0 })
				} else {
					until(t, "all but one are judged", func() bool { return len(entriesOf(t, store)) == perHousehold*ready })
				}
				_ = cmd.Process.Signal(sig)
				got := end()
				if got.code != exitUnfit || got.errs != "" {
					t.Errorf("exit %d, standard error %q", got.code, got.errs)
				}
				if ready > 0 && !strings.HasSuffix(got.out, " This is not all: interrupted after 12 of 13 households.\n") {
					t.Errorf("the last line: %s", got.out[strings.LastIndex(strings.TrimSpace(got.out), "\n")+1:])
				} else if !strings.Contains(got.out, "This is not all: interrupted after ") || !strings.Contains(got.out, " of 13 households.\n") {
					t.Errorf("it does not say that this is not all: %.300s", got.out)
				}
				file, err := os.ReadFile(filepath.Join(dir, "old.json"))
				if err != nil {
					t.Fatal(err)
				}
				if j := (ran{out: string(file)}).json(t); ready > 0 && len(j.Households) != 12 || !strings.HasPrefix(j.Partial, "interrupted after ") {
					t.Errorf("%d households in the file, partial %q", len(j.Households), j.Partial)
				}
				onlyIn(t, dir, "old.json")
				until(t, "the workers are gone", func() bool { return len(workers(t, dir)) == 0 })
			})
		}
	}
}

// onlyIn holds that a folder has only these files beside its folders.
func onlyIn(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		if !e.IsDir() {
			got = append(got, e.Name())
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("files in the folder (-want +got):\n%s", diff)
	}
}

// Where there is nothing to say halfway, the first signal ends the program, whatever CUE is at.
func TestInterruptedAlone(t *testing.T) {
	if signal.Ignored(os.Interrupt) { // as a shell has it for what it runs in the background; programs started by this one inherit it
		t.Skip("interrupts are ignored here; run go test in the foreground")
	}
	t.Parallel()
	dir := t.TempDir()
	testkit.Write(t, dir, map[string]string{"zz/kit.cue": endless(t)})
	cmd, end := program(t, dir, "measure", "--on", valley.On, "zz")
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(time.Second)
	_ = cmd.Process.Signal(os.Interrupt)
	if got := end(); !cmd.ProcessState.Sys().(syscall.WaitStatus).Signaled() {
		t.Errorf("it ended with %v\n%.300s", cmd.ProcessState, got.out)
	}
}

// The second signal ends the program at once, even where nobody takes what it says.
func TestSecondSignal(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 20) // more than a pipe holds
	cmd, _ := program(t, dir, checkArgs("--no-cache", "--root", dir, "./...")...)
	cmd.Stdout = nil
	r, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Read(make([]byte, 1)); err != nil { // it has begun to write
		t.Fatal(err)
	}
	until(t, "it ends by a signal", func() bool {
		_ = cmd.Process.Signal(syscall.SIGTERM)
		b, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", cmd.Process.Pid))
		return err != nil || strings.Contains(string(b), ") Z ")
	})
	_ = cmd.Wait()
	if s := cmd.ProcessState.Sys().(syscall.WaitStatus); !s.Signaled() || s.Signal() != syscall.SIGTERM {
		t.Errorf("it ended with %v", cmd.ProcessState)
	}
	until(t, "the workers are gone", func() bool { return len(workers(t, dir)) == 0 })
}

// Workers end themselves when the process that gave them work is no more, in the middle of an evaluation without end.
func TestOrphans(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	testkit.Write(t, dir, map[string]string{"zz/kit.cue": endless(t), "old.json": "old"})
	cmd, _ := program(t, dir, checkArgs("--no-cache", "--root", dir, "--time-limit", "10m", "--output", "json=old.json", "zz")...)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	busy(t, dir)
	_ = cmd.Process.Kill()
	_ = cmd.Wait()
	until(t, "the workers are gone", func() bool { return len(workers(t, dir)) == 0 })
	if b, err := os.ReadFile(filepath.Join(dir, "old.json")); err != nil || string(b) != "old" {
		t.Errorf("the file that was there: %q, %v", b, err)
	}
	onlyIn(t, dir, "old.json")
}

// busy waits until a worker has worked for half a second, and gives its number.
func busy(t *testing.T, dir string) (pid int) {
	t.Helper()
	until(t, "a worker works", func() bool {
		for _, pid = range workers(t, dir) {
			b, _ := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
			_, after, _ := strings.Cut(string(b), ") ")
			if f := strings.Fields(after); len(f) > 11 && f[0] != "Z" {
				if ticks, _ := strconv.Atoi(f[11]); ticks > 50 { // utime in hundredths of a second; see proc_pid_stat(5)
					return true
				}
			}
		}
		return false
	})
	return pid
}

// A household is asked once more where its worker was ended from outside, and named where that happens again.
func TestWorkerEnded(t *testing.T) {
	cases := map[string]struct {
		times int
		want  string
	}{"once": {1, "it took longer than 4s"}, "twice": {2, "the process that judged it was ended from outside"}}
	for _, name := range testkit.SomeOf(t, cases, "twice") {
		c := cases[name]
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			testkit.Write(t, dir, map[string]string{"zz/kit.cue": endless(t)})
			cmd, end := program(t, dir, checkArgs("--no-cache", "--format", "lines", "--root", dir, "--time-limit", "4s", "zz")...)
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			for range c.times {
				pid := busy(t, dir)
				_ = syscall.Kill(pid, syscall.SIGKILL)
				until(t, "it is gone", func() bool { return !slices.Contains(workers(t, dir), pid) })
			}
			if got := end(); got.code != exitUnfit || !strings.HasPrefix(got.out, "zz/kit.cue:") || !strings.Contains(got.out, c.want) {
				t.Errorf("exit %d\n%s", got.code, got.out)
			}
		})
	}
}

// A file is written whole or not at all: who is stopped between two files has changed none.
func TestOutputsAreWhole(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 2)
	testkit.Write(t, dir, map[string]string{"old.json": "old"})
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe"), 0o600); err != nil {
		t.Skip(err)
	}
	cmd, _ := program(t, dir, checkArgs("--no-cache", "--output", "json=old.json", "--output", "text=pipe", "./...")...)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	until(t, "it waits for somebody to read the pipe", func() bool {
		part, _ := filepath.Glob(filepath.Join(dir, ".old.json.*.part"))
		return len(part) == 1
	})
	time.Sleep(300 * time.Millisecond)
	_ = cmd.Process.Kill()
	_ = cmd.Wait()
	if b, err := os.ReadFile(filepath.Join(dir, "old.json")); err != nil || string(b) != "old" {
		t.Errorf("the file that was there: %.100q, %v", b, err)
	}
	// A device that is full keeps the others from being changed too, and says so.
	got := runs(t, dir, checkArgs("--no-cache", "--output", "json=old.json", "--output", "text=/dev/full", "h000")...)
	if b, err := os.ReadFile(filepath.Join(dir, "old.json")); err != nil || string(b) != "old" {
		t.Errorf("the file that was there: %.100q, %v", b, err)
	}
	if got.code != exitUnfit || got.errs != "kitmuster: /dev/full could not be written: no space left on device\n" {
		t.Errorf("exit %d, %q", got.code, got.errs)
	}
}

// small gives a folder on a disk with so much room.
func small(t *testing.T, bytes int) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%d", bytes)); err != nil {
		t.Skipf("no small disk can be had: %v", err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(dir, syscall.MNT_DETACH) })
	return dir
}

func TestFullDisk(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 12)
	whole := runs(t, dir, checkArgs("--no-cache", "./...")...)
	t.Run("output", func(t *testing.T) {
		disk := small(t, 64<<10)
		if err := os.WriteFile(filepath.Join(disk, "old.json"), []byte("old"), 0o666); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(disk, "old.json")
		got := runs(t, dir, checkArgs("--no-cache", "--output", "json="+file, "./...")...)
		if got.code != exitUnfit || got.errs != "kitmuster: "+file+" could not be written: no space left on device\n" {
			t.Errorf("exit %d, %q", got.code, got.errs)
		}
		if b, err := os.ReadFile(file); err != nil || string(b) != "old" {
			t.Errorf("the file that was there: %.100q, %v", b, err)
		}
		onlyIn(t, disk, "old.json")
	})
	t.Run("cache", func(t *testing.T) {
		got := runs(t, dir, checkArgs("--cache", small(t, 64<<10), "./...")...)
		if got.code != whole.code || got.out != whole.out {
			t.Errorf("exit %d; another answer than without a cache:\n%s", got.code, cmp.Diff(whole.out, got.out))
		}
		if got.errs != "kitmuster: the cache could not keep everything, so the next run takes longer: no space left on device\n" {
			t.Errorf("standard error %q", got.errs)
		}
	})
	t.Run("standard output", func(t *testing.T) {
		full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		if err != nil {
			t.Skip(err)
		}
		defer full.Close()
		cmd, end := program(t, dir, checkArgs("--no-cache", "./...")...)
		cmd.Stdout = full
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if got := end(); got.code != exitUnfit || got.errs != "kitmuster: the findings could not be written: no space left on device\n" {
			t.Errorf("exit %d, %q", got.code, got.errs)
		}
	})
}

// Findings wait in a file where they are many: where there is no room for it, that is said, and nobody takes it for a clean run.
func TestNoRoomToWait(t *testing.T) {
	testkit.NeedsLong(t) // TestSpoolThatCannotBeKept of package lint stands for it
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 320) // more than is kept in memory
	cases := map[string]func(t *testing.T) string{
		"no folder": func(*testing.T) string { return filepath.Join(dir, "nowhere") },
		"full":      func(t *testing.T) string { return small(t, 1<<20) },
	}
	for _, name := range testkit.SomeOf(t, cases, "no folder") {
		tmp := cases[name]
		t.Run(name, func(t *testing.T) {
			got := runsWith(t, dir, []string{"TMPDIR=" + tmp(t)}, checkArgs("--no-cache", "--format", "json", "--output", "text=new.txt", "./...")...)
			if got.code != exitUnfit || !strings.Contains(got.errs, "the findings could not be kept until they are written out: ") {
				t.Errorf("exit %d, %q", got.code, got.errs)
			}
			onlyIn(t, dir)
		})
	}
}

// A reader that has enough ends the program without a word.
func TestClosedPipe(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 20)
	cmd, _ := program(t, dir, checkArgs("--no-cache", "--root", dir, "--output", "json=new.json", "./...")...)
	var errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = nil, &errs
	r, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Read(make([]byte, 1)); err != nil {
		t.Fatal(err)
	}
	r.Close()
	_ = cmd.Wait()
	if s := cmd.ProcessState.Sys().(syscall.WaitStatus); !s.Signaled() || s.Signal() != syscall.SIGPIPE || errs.Len() > 0 {
		t.Errorf("it ended with %v and said %q", cmd.ProcessState, errs.String())
	}
	onlyIn(t, dir, "new.json")
	until(t, "the workers are gone", func() bool { return len(workers(t, dir)) == 0 })
}

// Standard streams that are closed change nothing about the rest.
func TestClosedStreams(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 1)
	want := runs(t, dir, checkArgs("--no-cache", "./...")...)
	for _, closed := range []string{"<&-", "2>&-", "<&- 2>&-"} {
		cmd, end := program(t, dir)
		cmd.Path, cmd.Args = "/bin/sh", []string{"sh", "-c", "exec kitmuster check --no-cache --on " + valley.On + " ./... " + closed}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if got := end(); got != want {
			t.Errorf("%s: exit %d, %q\n%s", closed, got.code, got.errs, cmp.Diff(want.out, got.out))
		}
	}
	cmd, end := program(t, dir)
	cmd.Path, cmd.Args = "/bin/sh", []string{"sh", "-c", "exec kitmuster check --no-cache --on " + valley.On + " --output text=new.txt ./... >&-"}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	got := end()
	if b, err := os.ReadFile(filepath.Join(dir, "new.txt")); err != nil || string(b) != want.out || got.code != want.code {
		t.Errorf("without standard output: exit %d, %q, %v\n%s", got.code, got.errs, err, cmp.Diff(want.out, string(b)))
	}
}

// entriesOf lists the entries of a cache with what tells one that was written anew; compiled rules, which are much larger, aside.
func entriesOf(t *testing.T, store string) map[string]uint64 {
	t.Helper()
	return entriesUpTo(t, store, 100<<10)
}

// perHousehold is how many entries a household has after its first check: its answer, the names of what was read, the household as it
// was read, and what the rules said.
const perHousehold = 4

// allEntriesOf is entriesOf, compiled rules included.
func allEntriesOf(t *testing.T, store string) map[string]uint64 {
	t.Helper()
	return entriesUpTo(t, store, 1<<30)
}

func entriesUpTo(t *testing.T, store string, size int64) map[string]uint64 {
	t.Helper()
	out := map[string]uint64{}
	_ = filepath.WalkDir(store, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == "CACHEDIR.TAG" || strings.HasSuffix(d.Name(), ".part") {
			return nil
		}
		if info, err := d.Info(); err == nil && info.Size() <= size {
			rel, _ := filepath.Rel(store, p)
			out[rel] = info.Sys().(*syscall.Stat_t).Ino
		}
		return nil
	})
	return out
}

// A remembered answer is the one that judging gives, byte for byte, whatever has changed. An answer that is found writes
// nothing; each household that is judged leaves an answer and a list of what was read. So the files tell what was found.
func TestCacheFollowsChange(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(t.TempDir(), "kits")
	const n = 6
	for name, text := range valley.Files(valley.Options{Households: n, Items: 10, Seed: 3}) {
		testkit.Write(t, dir, map[string]string{name: string(text)})
	}
	homes, err := filepath.Glob(filepath.Join(dir, "*/*/household.cue"))
	if err != nil || len(homes) != n {
		t.Fatal(err, homes)
	}
	home := filepath.Dir(homes[0])
	addTo := func(name, text string) {
		t.Helper()
		b, err := os.ReadFile(name)
		if err == nil {
			err = os.WriteFile(name, append(b, text...), 0o666)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	rel, _ := filepath.Rel(dir, home)
	testkit.Write(t, dir, map[string]string{
		rel + "/embed.cue": "@extern(embed)\n\npackage kit\n\n_note: _ @embed(file=note.txt,type=text)\npeople: zed: {age: \"40 y\", bodyMass: \"70 kg\", name: _note}\n",
		rel + "/note.txt":  "Zed",
	})
	on := valley.On
	steps := []struct {
		name   string
		do     func()
		judged int // how many households are judged again
	}{
		{"the first time", func() {}, n},
		{"again", func() {}, 0},
		{"a new neighbour", func() { testkit.Write(t, dir, map[string]string{filepath.Dir(rel) + "/new/kit.cue": neighbour}) }, 1},
		{"moved elsewhere with its cache", func() {
			to := filepath.Join(t.TempDir(), "elsewhere")
			if err := os.Rename(dir, to); err != nil {
				t.Fatal(err)
			}
			dir = to
		}, 0},
		{"a line more in the catalogue", func() { addTo(filepath.Join(dir, "catalogue.cue"), "\n_more: 1\n") }, n + 1},
		{"a line more in one household", func() { addTo(filepath.Join(dir, rel, "household.cue"), "\n_more2: 1\n") }, 1},
		{"a file that was embedded is other", func() { addTo(filepath.Join(dir, rel, "note.txt"), "dy") }, 1},
		{"a file that was embedded is gone", func() { _ = os.Remove(filepath.Join(dir, rel, "note.txt")) }, 1},
		{"a module of its own", func() {
			testkit.Write(t, dir, map[string]string{filepath.Dir(rel) + "/cue.mod/module.cue": "module: \"village.example/kits@v0\"\nlanguage: version: \"v0.17.0\"\n"})
		}, n + 1},
		{"a day later", func() { on = "2026-11-02" }, n + 1},
		{"the day before once more", func() { on = valley.On }, 0},
	}
	var want ran
	var wantFile string
	for i, s := range testkit.Some(t, 5, steps) {
		s.do()
		store := filepath.Join(dir, ".cache")
		before := entriesOf(t, store)
		both := func(args ...string) (r ran, file string) {
			r = runs(t, dir, append([]string{"check", "--on", on, "--output", "json=../all.json"}, append(args, "./...")...)...)
			b, err := os.ReadFile(filepath.Join(dir, "../all.json"))
			if err != nil {
				t.Fatal(err)
			}
			return r, string(b)
		}
		if i == 0 || s.judged > 0 || testkit.Long() { // otherwise what was to be said before is to be said again
			want, wantFile = both("--no-cache")
		}
		got, gotFile := both("--cache", store)
		if got != want || gotFile != wantFile {
			t.Errorf("%s: exit %d, %q; other than without a cache:\n%s%s", s.name, got.code, got.errs, cmp.Diff(want.out, got.out), cmp.Diff(wantFile, gotFile))
		}
		written := 0
		for name, ino := range entriesOf(t, store) {
			if before[name] != ino {
				written++
			}
		}
		if written < s.judged || written > perHousehold*s.judged { // what still serves is not written again
			t.Errorf("%s: %d entries were written, and %d households judged again", s.name, written, s.judged)
		}
	}
}

// Whatever lies in the cache, the answer is that of judging.
func TestCacheIsNotTrusted(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 4)
	want := runs(t, dir, checkArgs("--no-cache", "./...")...)
	if want.code != exitFindings {
		t.Fatalf("exit %d, %q", want.code, want.errs)
	}
	same := func(t *testing.T, args ...string) {
		t.Helper()
		if got := runs(t, dir, checkArgs(append(args, "./...")...)...); got != want {
			t.Errorf("exit %d, %q; other than without a cache:\n%s", got.code, got.errs, cmp.Diff(want.out, got.out))
		}
	}
	each := func(t *testing.T, store string, do func(name string, b []byte) []byte) {
		t.Helper()
		for name := range allEntriesOf(t, store) {
			p := filepath.Join(store, name)
			b, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(p, do(name, b), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	t.Run("two at once", func(t *testing.T) {
		testkit.NeedsLong(t)
		store := t.TempDir()
		var ends []func() ran
		for range 2 {
			cmd, end := program(t, dir, checkArgs("--cache", store, "./...")...)
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			ends = append(ends, end)
		}
		for _, end := range ends {
			if got := end(); got != want {
				t.Errorf("exit %d, %q\n%s", got.code, got.errs, cmp.Diff(want.out, got.out))
			}
		}
		same(t, "--cache", store)
		same(t, "--verify-cache", "--cache", store)
	})
	t.Run("broken", func(t *testing.T) {
		store := t.TempDir()
		same(t, "--cache", store)
		before := allEntriesOf(t, store)
		flips := []func(b []byte) []byte{
			func(b []byte) []byte { b[0] ^= 1; return b },
			func(b []byte) []byte { b[len(b)/2] ^= 4; return b },
			func(b []byte) []byte { b[len(b)-1] ^= 0x80; return b },
			func(b []byte) []byte { return b[:len(b)/2] },
			func([]byte) []byte { return nil },
			func(b []byte) []byte { return append(b, 0) },
		}
		i := 0
		each(t, store, func(_ string, b []byte) []byte { i++; return flips[i%len(flips)](b) })
		same(t, "--cache", store)
		for name, ino := range allEntriesOf(t, store) {
			if before[name] == ino {
				t.Errorf("%s was taken as it lay there", name)
			}
		}
	})
	t.Run("swapped", func(t *testing.T) { // a whole entry under another's name
		store := t.TempDir()
		same(t, "--cache", store)
		var last []byte
		each(t, store, func(_ string, b []byte) []byte { last, b = b, last; return b })
		same(t, "--cache", store)
	})
	t.Run("another build", func(t *testing.T) {
		testkit.NeedsLong(t)
		store := t.TempDir()
		same(t, "--cache", store)
		before := entriesOf(t, store)
		self, err := exec.LookPath("kitmuster")
		if err != nil {
			t.Fatal(err)
		}
		other := filepath.Join(t.TempDir(), "kitmuster")
		// What follows the last section of an executable is not loaded. Another process writes it: a file that this one has open
		// for writing while some other test starts a program is busy in that program, and cannot be run.
		if out, err := exec.Command("sh", "-c", `cp "$1" "$2" && printf '\0' >> "$2"`, "sh", self, other).CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		cmd, end := program(t, dir, checkArgs("--cache", store, "./...")...)
		cmd.Path = other
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if got := end(); got != want {
			t.Errorf("exit %d, %q\n%s", got.code, got.errs, cmp.Diff(want.out, got.out))
		}
		after := entriesOf(t, store)
		for name, ino := range before {
			if after[name] != ino {
				t.Errorf("%s of the first build was written anew", name)
			}
		}
		if len(after) != 2*len(before) {
			t.Errorf("%d entries of two builds; one has %d", len(after), len(before))
		}
	})
	t.Run("forged", func(t *testing.T) {
		store := t.TempDir()
		same(t, "--cache", store)
		acquit(t, store, sealing, "h003") // as only someone with the key can
		if got := runs(t, dir, checkArgs("--cache", store, "h003")...); got.code != exitClean {
			t.Fatalf("the forged answer is not a whole one: exit %d\n%.300s", got.code, got.out)
		}
		got := runs(t, dir, checkArgs("--verify-cache", "--cache", store, "./...")...)
		if got.code != exitUnfit || got.out != want.out || !strings.Contains(got.errs, "the cache holds other answers than judging gives for h003;") {
			t.Errorf("exit %d, %q\n%s", got.code, got.errs, cmp.Diff(want.out, got.out))
		}
	})
	t.Run("forged rules", func(t *testing.T) {
		c := &caching{}
		store := t.TempDir()
		var err error
		if c.store, err = cache.Open(store, []byte(sealing), usualCache, time.Now()); err != nil {
			t.Fatal(err)
		}
		book, problems := judge.New()
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		none, err := book.Pack()
		if err != nil {
			t.Fatal(err)
		}
		c.keepRules("", none) // as only someone with the key can
		if got := runs(t, dir, checkArgs("--cache", store, "h003")...); got.code != exitClean {
			t.Fatalf("the forged rules are not whole: exit %d, %q", got.code, got.errs)
		}
		got := runs(t, dir, checkArgs("--verify-cache", "--cache", store, "h001")...)
		if got.code != exitUnfit || !strings.Contains(got.errs, "the cache holds other compiled rules than compiling gives;") {
			t.Errorf("exit %d, %q", got.code, got.errs)
		}
		for name := range allEntriesOf(t, store) { // as nobody without it can
			p := filepath.Join(store, name)
			b, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			b[len(b)-1] ^= 1
			if err := os.WriteFile(p, b, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		same(t, "--cache", store)
	})
}

// The run goes on whatever becomes of the cache's folder.
func TestCacheFolder(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 4)
	want := runs(t, dir, checkArgs("--no-cache", "./...")...)
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	got := runs(t, dir, checkArgs("--cache", file, "./...")...)
	if got.code != want.code || got.out != want.out || !strings.HasPrefix(got.errs, "kitmuster: the cache "+file+" cannot be used, so everything is judged anew: ") {
		t.Errorf("a file as the folder: exit %d, %q\n%s", got.code, got.errs, cmp.Diff(want.out, got.out))
	}
	if b, err := os.ReadFile(file); err != nil || string(b) != "mine" {
		t.Errorf("the file is now %q, %v", b, err)
	}

	// It vanishes in the middle.
	store := filepath.Join(t.TempDir(), "cache")
	testkit.Write(t, dir, map[string]string{"zz/kit.cue": endless(t)})
	cmd, end := program(t, dir, checkArgs("--cache", store, "--time-limit", "3s", "zz", "h000")...)
	cmd.Env = append(cmd.Env, "GOMAXPROCS=2") // one worker for each
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	until(t, "something is kept", func() bool { return len(entriesOf(t, store)) == perHousehold })
	if err := os.RemoveAll(store); err != nil {
		t.Fatal(err)
	}
	if got := end(); got.code != exitUnfit || !strings.Contains(got.out, "2 households checked") || strings.Contains(got.errs, "goroutine") {
		t.Errorf("exit %d, %q\n%s", got.code, got.errs, got.out)
	}

	// Where none is named it lies in the user's own folder; --no-cache writes nothing there.
	own := t.TempDir()
	env := []string{"XDG_CACHE_HOME=" + own}
	if got := runsWith(t, dir, env, checkArgs("--no-cache", "h000")...); got.code != exitFindings {
		t.Errorf("exit %d, %q", got.code, got.errs)
	}
	if entries, err := os.ReadDir(own); err != nil || len(entries) != 0 {
		t.Errorf("--no-cache: %v, %v", entries, err)
	}
	runsWith(t, dir, env, checkArgs("h000")...)
	if n := len(entriesOf(t, own)); n != perHousehold {
		t.Errorf("%d entries in the user's own folder", n)
	}
}

// The parts of a repository are disjoint and together all of it, and stay what they are when a household comes.
func TestParts(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 30)
	store := t.TempDir()
	parts := func(of int) map[string]string {
		in := map[string]string{}
		for i := range of {
			part := fmt.Sprintf("%d/%d", i+1, of)
			for _, h := range runs(t, dir, checkArgs("--cache", store, "--format", "json", "--part", part, "./...")...).json(t).Households {
				if in[h.Path] != "" {
					t.Errorf("%s is in %s and %s", h.Path, in[h.Path], part)
				}
				in[h.Path] = part
			}
		}
		return in
	}
	if one := parts(1); len(one) != 30 {
		t.Errorf("%d of 30 households in 1/1", len(one))
	}
	three := parts(3)
	if len(three) != 30 {
		t.Errorf("%d of 30 households in three parts", len(three))
	}
	testkit.Write(t, dir, map[string]string{"a/kit.cue": neighbour})
	more := parts(3)
	delete(more, "a")
	if diff := cmp.Diff(three, more); diff != "" {
		t.Errorf("another household moves some (-before +after):\n%s", diff)
	}
}

// asNobody makes a run of the program by someone who may not read or write everything.
func asNobody(t *testing.T, cmd *exec.Cmd) {
	t.Helper()
	if os.Getuid() != 0 {
		return
	}
	const nobody = 65534
	// The folders of tests are closed to others, so the program goes where anyone may run it.
	dir, err := os.MkdirTemp("", "kitmuster-anybody-*")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	// Another process writes it: see "another build" in TestCacheIsNotTrusted.
	if out, err := exec.Command("sh", "-c", `cp "$1" "$2/kitmuster" && chmod 755 "$2" "$2/kitmuster"`, "sh", cmd.Path, dir).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	cmd.Path = filepath.Join(dir, "kitmuster")
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
}

// open gives a folder that anyone may read.
func openDir(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "kitmuster-open-*")
	if err == nil {
		err = os.Chmod(dir, 0o755)
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = filepath.WalkDir(dir, func(p string, d fs.DirEntry, _ error) error {
			if d != nil && d.IsDir() {
				_ = os.Chmod(p, 0o755)
			}
			return nil
		})
		_ = os.RemoveAll(dir)
	})
	return dir
}

// What may not be read is told where it lies, and the others are judged; where nothing may be written, nothing is.
func TestUnreadableAndReadOnly(t *testing.T) {
	t.Parallel()
	dir := openDir(t)
	neighbours(t, dir, 2)
	want := runs(t, dir, checkArgs("--no-cache", "--format", "json", "h000")...).json(t)
	testkit.Write(t, dir, map[string]string{"file/kit.cue": neighbour, "half/kit.cue": neighbour, "half/more.cue": "package kit\n", "folder/kit.cue": neighbour, "group/inner/kit.cue": neighbour})
	for name, mode := range map[string]fs.FileMode{"file/kit.cue": 0, "half/more.cue": 0, "folder": 0, "group": 0, "h000/kit.cue": 0o444, "h001": 0o555, ".": 0o555} {
		if err := os.Chmod(filepath.Join(dir, name), mode); err != nil {
			t.Fatal(err)
		}
	}
	run := func(args ...string) ran {
		cmd, end := program(t, dir, checkArgs(append(args, "./...")...)...)
		asNobody(t, cmd)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		return end()
	}
	got := run("--format", "json", "--cache", "kept")
	if got.code != exitUnfit || got.errs != "kitmuster: the cache kept cannot be used, so everything is judged anew: permission denied\n" {
		t.Errorf("exit %d, %q", got.code, got.errs)
	}
	j, said, theirs := got.json(t), map[string]string{}, 0
	for _, f := range j.Findings {
		switch f.Path {
		case "h000":
			theirs++
		case "h001":
		default:
			said[f.Path] += f.At.File + ": " + f.Message + "\n"
		}
	}
	if theirs != len(want.Findings) {
		t.Errorf("%d findings at a household beside; %d alone", theirs, len(want.Findings))
	}
	if diff := cmp.Diff(map[string]string{
		"file":   "file/kit.cue: kit.cue cannot be read: permission denied; give yourself the right to read it\n",
		"half":   "half/more.cue: more.cue cannot be read: permission denied; give yourself the right to read it\n",
		"folder": "folder: the folder cannot be read: permission denied\n",
		"group":  "group: the folder cannot be read: permission denied\n",
	}, said); diff != "" {
		t.Errorf("what may not be read (-want +got):\n%s", diff)
	}
	onlyIn(t, dir)
	if got := run("--no-cache", "--output", "json=new.json"); got.code != exitUnfit || got.errs != "kitmuster: new.json could not be written: permission denied\n" {
		t.Errorf("exit %d, %q", got.code, got.errs)
	}
	onlyIn(t, dir)
}

// A link is followed within the repository; one that leads out of it, or to another household, is told where it stands, and
// one that goes round in a circle ends nobody's run.
func TestLinks(t *testing.T) {
	t.Parallel()
	dir, outside := t.TempDir(), t.TempDir()
	neighbours(t, dir, 1)
	testkit.Write(t, outside, map[string]string{"kit.cue": neighbour, "shared.cue": "package kit\n\nplan: duration: \"72 h\"\n"})
	testkit.Write(t, dir, map[string]string{
		"linked/note.txt": "", "mixed/kit.cue": neighbour, "within/kit.cue": neighbour, "self/kit.cue": neighbour, "gone/kit.cue": neighbour,
		"round/kit.cue": neighbour, "all/note.txt": "", "absolute/kit.cue": neighbour,
		"_shared/plan.cue": "package kit\n\nplan: duration: \"72 h\"\n",
	})
	for name, to := range map[string]string{
		"linked/kit.cue":    filepath.Join(outside, "kit.cue"),
		"mixed/shared.cue":  filepath.Join(outside, "shared.cue"),
		"within/plan.cue":   "../_shared/plan.cue",
		"absolute/plan.cue": filepath.Join(dir, "_shared/plan.cue"),
		"folder":            outside,
		"self/self.cue":     "self.cue",
		"gone/gone.cue":     "nowhere.cue",
		"round/round":       "..",
		"round/other":       ".",
		"all/all.cue":       "../h000/kit.cue",
		"all/folder.cue":    "../h000",
	} {
		if err := os.Symlink(to, filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	testkit.Write(t, dir, map[string]string{".git/HEAD": ""})
	want := runs(t, dir, checkArgs("--no-cache", "--format", "json", "h000")...).json(t)
	got := runs(t, dir, checkArgs("--no-cache", "--format", "json", "./...", "folder")...)
	said, count := map[string]string{}, map[string]int{}
	for _, f := range got.json(t).Findings {
		count[f.Path]++
		if strings.HasPrefix(f.Rule, "input/") {
			said[f.Path] += strings.ReplaceAll(f.At.File+": "+f.Message, outside, "OUTSIDE") + "\n"
		}
	}
	if count["round"] != len(want.Findings) {
		t.Errorf("round has %d findings; %d are there without links", count["round"], len(want.Findings))
	}
	if count["within"] < len(want.Findings) || count["within"] != count["absolute"] {
		t.Errorf("a relative link within the repository gives %d findings, an absolute one %d", count["within"], count["absolute"])
	}
	const out = " is a link that leads out of the repository, to OUTSIDE%s; a kit reads only what lies in its own repository: copy it there\n"
	const other = " is a link and leads to what is in the folder of another household, h000; move what both need to a folder above both, or to one of its own\n"
	if diff := cmp.Diff(map[string]string{
		"all":    "all/all.cue: all.cue" + other,
		"folder": "folder: folder" + fmt.Sprintf(out, ""),
		"gone":   "gone/gone.cue: gone.cue cannot be read: no such file or directory\n",
		"linked": "linked/kit.cue: kit.cue" + fmt.Sprintf(out, "/kit.cue"),
		"mixed":  "mixed/shared.cue: shared.cue" + fmt.Sprintf(out, "/shared.cue"),
		"self":   "self/self.cue: self.cue cannot be read: too many levels of symbolic links\n",
	}, said); diff != "" {
		t.Errorf("what the links are told as (-want +got):\n%s", diff)
	}
	if got.code != exitUnfit || got.errs != "" {
		t.Errorf("exit %d, %q", got.code, got.errs)
	}
}

// Whatever a folder is called, its household is judged and told apart, and a line of text stays one line.
func TestOddNames(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	names := []string{"new\nline", "-dash", "--on", "\x1b[31m", "a b", "tab\there", `quo"te'`, "back\\slash", "100%d", "ünï 🍎", "star*", "a...", "#hash", "semi;colon", "$HOME", "a:1:2", "é", "e\u0301", "CON", "a,b", "x=y"}
	files := map[string]string{}
	for _, n := range names {
		files[n+"/kit.cue"] = neighbour
	}
	files["\xff\xfe/kit.cue"], files["\xff\xfd/kit.cue"] = neighbour, neighbour
	testkit.Write(t, dir, files)
	plain := t.TempDir()
	neighbours(t, plain, 1)
	want := runs(t, plain, checkArgs("--no-cache", "--format", "json", "./...")...).json(t)
	store := t.TempDir()
	got := runs(t, dir, checkArgs("--cache", store, "--format", "json", "./...")...)
	j, count, renamed := got.json(t), map[string]int{}, 0
	for _, f := range j.Findings {
		if f.Message == "the name of this folder is not UTF-8 text, so it cannot be opened; rename it" {
			renamed++
			continue
		}
		count[f.Path]++
	}
	if renamed != 2 {
		t.Errorf("%d of 2 folders are told to be renamed", renamed)
	}
	if len(j.Households) != len(names) || got.code != exitUnfit || got.errs != "" {
		t.Errorf("%d households of %d; exit %d, %q", len(j.Households), len(names), got.code, got.errs)
	}
	for _, h := range j.Households {
		if !h.Judged || h.Name != "Neighbour" {
			t.Errorf("%q is not judged", h.Path)
		}
	}
	for _, n := range names {
		if count[n] != len(want.Findings) {
			t.Errorf("%q has %d findings; %d elsewhere", n, count[n], len(want.Findings))
		}
	}
	for _, n := range testkit.Some(t, 2, names) {
		args := checkArgs("--no-cache", "--format", "json", "--", n)
		if n == "a..." { // at the end of what is typed, three dots mean what lies below
			continue
		}
		if one := runs(t, dir, args...); one.code != exitFindings || len(one.json(t).Findings) != len(want.Findings) {
			t.Errorf("%q alone: exit %d, %q, %.300s", n, one.code, one.errs, one.out)
		}
	}
	if b := runs(t, dir, checkArgs("--cache", store, "--format", "sarif", "./...")...).out; !json.Valid([]byte(b)) || !utf8.ValidString(b) {
		t.Errorf("no SARIF: %.300s", b)
	}
	suites := xml.NewDecoder(strings.NewReader(runs(t, dir, checkArgs("--cache", store, "--format", "junit", "./...")...).out))
	for n := 0; ; n++ {
		if _, err := suites.Token(); err == io.EOF && n > len(names) {
			break
		} else if err != nil {
			t.Errorf("no XML: %v after %d tokens", err, n)
			break
		}
	}
	text := runs(t, dir, checkArgs("--cache", store, "--format", "lines", "./...")...)
	for line := range strings.Lines(text.out) {
		if strings.ContainsAny(strings.TrimSuffix(line, "\n"), "\x1b\t\r") || !strings.HasPrefix(line, "    ") && !strings.Contains(line, ":1:1: error: the name") && !strings.Contains(line, ":3:") && !strings.Contains(line, ":4:") && !strings.Contains(line, ":5:") && !strings.Contains(line, ":6:") && !strings.Contains(line, "households checked") {
			t.Errorf("an odd line: %q", line)
		}
	}
	if again := runs(t, dir, checkArgs("--no-cache", "--format", "lines", "./...")...); again != text {
		t.Errorf("with a cache and without (-without +with):\n%s", cmp.Diff(again.out, text.out))
	}
}

// What is no kit costs little, however much there is of it.
func TestManyOtherFiles(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	neighbours(t, dir, 1)
	want := runs(t, dir, checkArgs("--no-cache", "./...")...)
	folders := 5
	if testkit.Whole(t) {
		folders = 100
	}
	for i := range folders {
		sub := filepath.Join(dir, fmt.Sprintf("photos/%02d", i))
		if err := os.MkdirAll(sub, 0o777); err != nil {
			t.Fatal(err)
		}
		first := map[string]string{}
		for k := range 1000 {
			kind, text := ".jpg", "\xff\xd8"
			if k%20 == 0 { // of another package, without a household
				kind, text = ".cue", "package other\n\nx: 1\n"
			}
			name, err := filepath.Join(sub, fmt.Sprintf("%03d%s", k, kind)), error(nil)
			if first[kind] == "" {
				first[kind] = name
				err = os.WriteFile(name, []byte(text), 0o666)
			} else {
				err = os.Link(first[kind], name)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	start := time.Now()
	if got := runs(t, dir, checkArgs("--no-cache", "./...")...); got != want {
		t.Errorf("exit %d, %q; other than without them:\n%s", got.code, got.errs, cmp.Diff(want.out, got.out))
	}
	if took := time.Since(start); took > time.Minute {
		t.Errorf("it took %v", took)
	}
}

// Two households of one name are two households.
func TestSameName(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	waived := neighbour + "record: waivers: fire: {rule: \"fire/two-means\", spot: \"packs/rust\", reason: \"the stove lights itself\", until: \"2026-11-20\"}\n"
	testkit.Write(t, dir, map[string]string{"one/kit.cue": neighbour, "two/kit.cue": waived, "three/kit.cue": neighbour})

	files := t.TempDir()
	asText, asSARIF := filepath.Join(files, "text"), filepath.Join(files, "sarif")
	j := runs(t, dir, checkArgs("--no-cache", "--format", "json", "--output", "lines="+asText, "--output", "sarif="+asSARIF, "./...")...).json(t)
	if len(j.Households) != 3 {
		t.Fatalf("%d households", len(j.Households))
	}
	text, err := os.ReadFile(asText)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]bool{"one": false, "two": true, "three": false} {
		if got := strings.Contains(string(text), name+"/kit.cue:5:8: waived error: ana has no way to make fire"); got != want {
			t.Errorf("%s: the finding is waived: %v, want %v", name, got, want)
		}
	}
	var sarif struct {
		Runs []struct {
			Results []struct {
				PartialFingerprints map[string]string
				Properties          struct{ Path string }
			}
		}
	}
	b, err := os.ReadFile(asSARIF)
	if err == nil {
		err = json.Unmarshal(b, &sarif)
	}
	if err != nil || len(sarif.Runs) != 1 {
		t.Fatal(err, len(sarif.Runs))
	}
	seen := map[string]string{}
	for _, r := range sarif.Runs[0].Results {
		for _, print := range r.PartialFingerprints {
			if was, ok := seen[print]; ok {
				t.Errorf("a finding of %s and one of %s have one fingerprint", was, r.Properties.Path)
			}
			seen[print] = r.Properties.Path
		}
	}
	if len(seen) != len(j.Findings) {
		t.Errorf("%d fingerprints of %d findings", len(seen), len(j.Findings))
	}
	gitIn(t, dir, "init", "-q")
	gitIn(t, dir, "add", ".")
	gitIn(t, dir, "commit", "-qm", "a")
	// Both move at once, one with a slip more: git's renames tell them apart.
	gitIn(t, dir, "mv", "one", "first")
	gitIn(t, dir, "mv", "two", "second")
	testkit.Write(t, dir, map[string]string{"second/kit.cue": strings.Replace(waived, "mass: \"1 kg\", ", "mass: \"90 kg\", ", 1)})
	got := runs(t, dir, checkArgs("--no-cache", "--format", "lines", "--since", "HEAD", "./...")...)
	for _, want := range []string{"the household at first was at one\n", "the household at second was at two\n"} {
		if !strings.Contains(got.out, want) {
			t.Errorf("it does not say %q:\n%s", want, got.out)
		}
	}
	if got.code != exitFindings || strings.Contains(got.out, "first/kit.cue") || !strings.Contains(got.out, "second/kit.cue:4:9: new error: ana carries 90.00 kg, ") {
		t.Errorf("exit %d, %q\n%s", got.code, got.errs, got.out)
	}
}
