package lint_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"cuelang.org/go/cue"
	"cuelang.org/go/cue/cuecontext"
	cueload "cuelang.org/go/cue/load"
	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"

	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/measure"
	"kitmuster/lint/valley"
)

// BenchmarkProgram runs the real program on a valley of KITMUSTER_VALLEY households (400 where it is not set),
// of about 100 items each: with an empty cache, and again with the cache full. In the same run it does, on all
// cores too, the floor of BenchmarkScale, and, where KITMUSTER_CUE and KITMUSTER_OPA name the stock binaries, for
// twenty households what a person without this program would do: cue export | opa eval. The metrics:
//
//	of-floor      the cold run against the floor
//	warm-%        the run with a full cache, as a share of the cold one's processor time
//	next-%        the run of the next day with that cache, likewise
//	audit         an audit with an empty cache, against the cold run
//	page-MB       its page; the index where it is split
//	stock         cue export | opa eval against the cold run, per household
//	memory        the most memory at once, workers included, against that of a valley of 100
//	ms, MiB       the cold run, per household, and its memory
func BenchmarkProgram(b *testing.B) {
	n := 400
	if s := os.Getenv("KITMUSTER_VALLEY"); s != "" {
		var err error
		if n, err = strconv.Atoi(s); err != nil || n < 100 {
			b.Fatalf("KITMUSTER_VALLEY=%s: write a number of households, at least 100", s)
		}
	}
	bin := filepath.Join(b.TempDir(), "kitmuster")
	if out, err := exec.Command("go", "build", "-o", bin, "../cmd/kitmuster").CombinedOutput(); err != nil {
		b.Fatalf("%v\n%s", err, out)
	}
	small, large := writeValley(b, 100), writeValley(b, n)
	for b.Loop() {
		_, least, _ := program(b, bin, small, "check", "--cache", b.TempDir())
		cache := b.TempDir()
		cold, most, whole := program(b, bin, large, "check", "--cache", cache)
		_, _, warm := program(b, bin, large, "check", "--cache", cache)
		_, _, next := program(b, bin, large, "check", "--cache", cache, "--on", (dayOf(b, valley.On) + 1).String())
		out := filepath.Join(b.TempDir(), "audit")
		audit, _, _ := program(b, bin, large, "audit", "--cache", b.TempDir(), "-o", out)
		page, err := os.Stat(filepath.Join(out, "audit.html"))
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(audit.Seconds()/cold.Seconds(), "audit")
		b.ReportMetric(float64(page.Size())/1e6, "page-MB")
		floor := floor(b, large)
		b.ReportMetric(cold.Seconds()/floor.Seconds(), "of-floor")
		b.ReportMetric(100*warm.Seconds()/whole.Seconds(), "warm-%")
		b.ReportMetric(100*next.Seconds()/whole.Seconds(), "next-%")
		b.ReportMetric(float64(most)/float64(least), "memory")
		b.ReportMetric(1000*cold.Seconds()/float64(n), "ms")
		b.ReportMetric(float64(most>>10), "MiB")
		if pair := stockPair(b, large, 20); pair > 0 {
			b.ReportMetric(pair.Seconds()/20/(cold.Seconds()/float64(n)), "stock")
		}
		b.ReportMetric(0, "ns/op")
	}
}

func writeValley(b *testing.B, n int) string {
	b.Helper()
	dir := b.TempDir()
	for name, text := range valley.Files(valley.Options{Households: n, Items: 100, Seed: 3}) {
		p := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(p), 0o777); err != nil {
			b.Fatal(err)
		}
		if err := os.WriteFile(p, text, 0o666); err != nil {
			b.Fatal(err)
		}
	}
	return dir
}

// program runs a command on a valley; it gives the time taken, the most memory resident at once, in KiB, and the processor time.
func program(b *testing.B, bin, dir, command string, flags ...string) (took time.Duration, most int64, processor time.Duration) {
	b.Helper()
	cmd := exec.Command(bin, append([]string{command, "--on", valley.On}, flags...)...)
	cmd.Dir = dir
	var said bytes.Buffer
	cmd.Stderr = &said
	start := time.Now()
	if err := cmd.Start(); err != nil {
		b.Fatal(err)
	}
	done := make(chan int64)
	stop := make(chan bool)
	go func() {
		var most int64
		for {
			select {
			case <-stop:
				done <- most
				return
			case <-time.After(50 * time.Millisecond):
				most = max(most, resident(cmd.Process.Pid))
			}
		}
	}()
	err := cmd.Wait()
	took = time.Since(start)
	close(stop)
	if code := cmd.ProcessState.ExitCode(); code < 0 || code > 2 || said.Len() > 0 {
		b.Fatalf("%v: %s", err, said.String())
	}
	return took, <-done, cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
}

// resident is the memory of a process and its children, in KiB, as Linux tells it (proc(5)); 0 elsewhere.
func resident(pid int) (sum int64) {
	pids := []string{strconv.Itoa(pid)}
	children, _ := os.ReadFile(fmt.Sprintf("/proc/%d/task/%d/children", pid, pid))
	all, _ := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/children", pid))
	for _, f := range all {
		more, _ := os.ReadFile(f)
		children = append(children, more...)
	}
	seen := map[string]bool{}
	for _, p := range append(pids, strings.Fields(string(children))...) {
		if seen[p] {
			continue
		}
		seen[p] = true
		status, _ := os.ReadFile("/proc/" + p + "/status")
		for line := range strings.Lines(string(status)) {
			if rest, ok := strings.CutPrefix(line, "VmRSS:"); ok {
				k, _ := strconv.ParseInt(strings.Fields(rest)[0], 10, 64)
				sum += k
			}
		}
	}
	return sum
}

// floor is the least that can be done for a valley, over all cores: CUE's evaluation of the same files with no
// schema, and one evaluation of the same rules, prepared by the stock engine, on facts that are ready.
func floor(b *testing.B, dir string) (took time.Duration) {
	b.Helper()
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // as the program sets it
	tree, stock, on := os.DirFS(dir), stockRules(b), day(b)
	dirs, _ := load.Find(tree, []string{"..."}, load.Options{})
	const group = 50
	ready := make([]ast.Value, group)
	for from := 0; from < len(dirs); from += group {
		to := min(from+group, len(dirs))
		overCores(from, to, func(i int) {
			ready[i-from] = nil
			l := load.Household(tree, dirs[i], load.Options{})
			if l.Kit == nil { // the few that cannot be read have no facts
				return
			}
			f, _ := measure.Of(l.Kit, measure.Options{On: on})
			text, err := judge.FactsJSON(f)
			if err == nil {
				ready[i-from], err = ast.ValueFromReader(bytes.NewReader(text))
			}
			if err != nil {
				b.Error(err)
			}
		})
		start := time.Now()
		overCores(from, to, func(i int) {
			inst := cueload.Instances([]string{"."}, &cueload.Config{Dir: filepath.Join(dir, dirs[i]), Package: "kit", Env: []string{"CUE_REGISTRY=none"}})[0]
			_ = cuecontext.New(cuecontext.CUE_DEBUG("")).BuildInstance(inst).Validate(cue.Concrete(true))
		})
		overCores(from, to, func(i int) {
			if ready[i-from] == nil {
				return
			}
			if rs, err := stock.Eval(b.Context(), rego.EvalParsedInput(ready[i-from])); err != nil || len(rs) != 1 {
				b.Error(err, len(rs))
			}
		})
		took += time.Since(start)
	}
	return took
}

// stockPair runs cue export | opa eval for some households, as many at once as there are cores; 0 where the stock binaries are not named.
func stockPair(b *testing.B, dir string, n int) time.Duration {
	b.Helper()
	cueBin, opa := os.Getenv("KITMUSTER_CUE"), os.Getenv("KITMUSTER_OPA")
	if cueBin == "" || opa == "" {
		return 0
	}
	policies, err := filepath.Abs("../policies")
	if err != nil {
		b.Fatal(err)
	}
	dirs, _ := load.Find(os.DirFS(dir), []string{"..."}, load.Options{})
	var failed sync.Map
	start := time.Now()
	overCores(0, n, func(i int) {
		export := exec.Command(cueBin, "export", ".")
		export.Dir = filepath.Join(dir, dirs[i])
		kit, err := export.Output()
		if err != nil {
			failed.Store(dirs[i], err)
			return
		}
		eval := exec.Command(opa, "eval", "--bundle", policies, "--stdin-input", "data.rules")
		eval.Stdin = bytes.NewReader(kit)
		if err := eval.Run(); err != nil {
			failed.Store(dirs[i], err)
		}
	})
	took := time.Since(start)
	failed.Range(func(k, v any) bool { b.Errorf("%v: %v", k, v); return true })
	return took
}
