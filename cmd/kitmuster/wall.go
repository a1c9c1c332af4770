package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"runtime/metrics"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/fxamacker/cbor/v2"
	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/judge"
	"kitmuster/lint/load"
	"kitmuster/lint/repo"
)

// CUE cannot be stopped once it evaluates, and a kit of fifty bytes can keep it
// busy for hours or eat the machine's memory. So every household is judged in a
// process of its own kind: workers of this same program that the wall can end. A
// household that takes too long or too much is named as not judged, and the
// others go on. Our own figures, far above any real kit.
const (
	usualTime   = 20 * time.Second
	usualMemory = 3 << 30 // bytes
	// startTime is how long a worker may take to make itself ready, which is no household's fault.
	startTime = time.Minute
	// grown is when a worker is let go after its answer, so that one large household does not hold memory for good.
	grown = 1 << 30
)

// softLimit is from where on the collector works hard, so that garbage alone oversteps nothing.
func softLimit(memory uint64) int64 { return int64(memory / 4 * 3) }

// bounds are what one household may take.
type bounds struct {
	time   time.Duration
	memory byteSize
}

func (b *bounds) flags(cmd *cobra.Command) {
	b.memory = usualMemory
	cmd.Flags().DurationVar(&b.time, "time-limit", usualTime, "a household that takes longer than this `time` is named as not judged")
	cmd.Flags().Var(&b.memory, "memory-limit", "a household that needs more than this much `memory` is named as not judged")
}

func (b *bounds) check() error {
	if b.time < 100*time.Millisecond || b.time > 24*time.Hour {
		return fmt.Errorf("--time-limit %v: write a time from 100ms to 24h, such as 20s", b.time)
	}
	return nil
}

// byteSize is an amount of memory, written as "512 MiB" or "3 GiB" (IEC 80000-13 prefixes).
type byteSize uint64

var byteForm = regexp.MustCompile(`^([0-9]{1,6}) ?(MiB|GiB)$`)

func (n *byteSize) Set(s string) error {
	m := byteForm.FindStringSubmatch(s)
	if m == nil {
		return fmt.Errorf("%q is not an amount of memory; write it like 512MiB or 3GiB", s)
	}
	k, _ := strconv.ParseUint(m[1], 10, 64)
	shift := map[string]int{"MiB": 20, "GiB": 30}[m[2]]
	if *n = byteSize(k << shift); *n < 256<<20 {
		return fmt.Errorf("%s is too little to judge any household; give at least 256MiB", s)
	}
	return nil
}

func (n *byteSize) String() string {
	if *n>>30<<30 == *n {
		return fmt.Sprintf("%dGiB", *n>>30)
	}
	return fmt.Sprintf("%dMiB", *n>>20)
}

// allowed says how much memory a household may take: the flag's, or the machine's where that is less.
func (b *bounds) allowed() string {
	if n := machineMemory(); n < uint64(b.memory) {
		return fmt.Sprintf("this machine lets a process have (%d MiB, ulimit -v or -d)", n>>20)
	}
	return b.memory.String()
}

func (*byteSize) Type() string { return "memory" }

// wall hands households to workers and ends those that overstep.
type wall struct {
	args   []string
	bounds bounds
	disk   *repo.Disk
	mu     sync.Mutex
	idle   []*worker
}

// worker is one process that judges households one after another.
type worker struct {
	cmd *exec.Cmd
	in  io.WriteCloser
	out *cbor.Decoder
	// most bounds the answer that is read next.
	most *allowance
	enc  *cbor.Encoder
	err  *tail
	// ready says that it has said so, used that it has judged a household before.
	ready, used bool
}

// newJudgingWall is a wall whose workers know the standards.
func newJudgingWall(in *input, b bounds, p *place, o household.Options) (*wall, error) {
	layers, err := in.rules.forWorkers()
	if err != nil {
		return nil, fmt.Errorf("the standard could not be handed on: %w", plain(err))
	}
	return wallOf(in, b, p, o, "--layers", layers), nil
}

// newWall is a wall whose workers judge nobody.
func newWall(in *input, b bounds, p *place, o household.Options) *wall {
	return wallOf(in, b, p, o, "--unjudged")
}

func wallOf(in *input, b bounds, p *place, o household.Options, more ...string) *wall {
	args := []string{"worker", "--on", p.on.String(), "--settings", encoded(o), "--root", in.root, "--memory-limit", b.memory.String()}
	return &wall{args: append(args, more...), bounds: b, disk: p.disk}
}

// reply is what a worker says to a job.
type reply struct {
	Answer lint.Answer
	// Grown says that the worker has become large and should be let go.
	Grown bool
}

// judge is lint.Judge behind the wall.
func (w *wall) judge(ctx context.Context, j lint.Job) lint.Answer {
	for again := false; ; again = true {
		k, err := w.take(again)
		if err != nil {
			why := "no process could be started for it: " + err.Error()
			if errors.Is(err, syscall.EMFILE) {
				why += "; raise the limit on open files (ulimit -n)"
			}
			return w.notJudged(j, why)
		}
		fresh := !k.used
		answer, end := w.ask(ctx, k, j)
		switch {
		case end == nil:
			return answer
		case again, end.final, fresh && end.overstepped:
			return w.notJudged(j, end.why)
		}
		// It may not have been this household's doing: the worker still held what others left, or somebody ended it.
	}
}

// unbelievable is why an answer cannot be one.
type unbelievable struct{ error }

// errLong is of an answer that is longer than any may be.
var errLong = errors.New("the answer is too long")

// allowance lets so many bytes through.
type allowance struct {
	from io.Reader
	left int
}

func (r *allowance) Read(p []byte) (int, error) {
	if r.left <= 0 {
		return 0, errLong
	}
	n, err := r.from.Read(p[:min(len(p), r.left)])
	r.left -= n
	return n, err
}

// end is how a worker ended without an answer.
type end struct {
	why string
	// overstepped says that it needed too much; final that asking another worker cannot help.
	overstepped, final bool
}

// ask has a worker judge a household. It takes the worker back, or ends it.
func (w *wall) ask(ctx context.Context, k *worker, j lint.Job) (lint.Answer, *end) {
	type answer struct {
		reply reply
		err   error
	}
	done, ready := make(chan answer, 1), make(chan bool, 1)
	go func() {
		var a answer
		if !k.ready {
			a.err = k.out.Decode(&k.ready)
		}
		ready <- true
		if a.err == nil {
			a.err = k.enc.Encode(j)
		}
		if a.err == nil {
			k.most.left = lint.MostAnswer
			a.err = k.out.Decode(&a.reply)
		}
		if a.err == nil {
			if err := a.reply.Answer.Believable(w.disk.Show(j.Dir), product(j.Want)); err != nil {
				a.err = &unbelievable{err}
			}
		}
		done <- a
	}()
	const hint = "; look for a list, template or comprehension that multiplies itself"
	timer := time.NewTimer(startTime)
	defer timer.Stop()
	select {
	case <-ready:
		timer.Reset(w.bounds.time)
	case <-timer.C:
		k.end()
		return lint.Answer{}, &end{why: fmt.Sprintf("a process for it was not ready within %v; look whether the machine is overloaded", startTime)}
	case <-ctx.Done():
		k.end()
		return lint.Answer{}, &end{why: "the run was interrupted", final: true}
	}
	select {
	case a := <-done:
		if a.err == nil {
			if a.reply.Grown {
				k.end()
			} else {
				k.used = true
				w.give(k)
			}
			return a.reply.Answer, nil
		}
		k.end()
		said := k.err.String()
		switch u := (*unbelievable)(nil); {
		case errors.As(a.err, &u):
			return lint.Answer{}, &end{why: "what came of it cannot be believed: " + u.Error() + "; please report this with the kit", final: true}
		case errors.Is(a.err, errLong):
			return lint.Answer{}, &end{why: fmt.Sprintf("what there is to say of it is longer than %d MiB", lint.MostAnswer>>20) + hint, final: true}
		case !k.ready && much.MatchString(said):
			return lint.Answer{}, &end{why: "its process could not get the memory or threads that it needs to start; look at the limits of this machine (ulimit -a: -v, -d, -u)"}
		case deep.MatchString(said):
			return lint.Answer{}, &end{why: "it nests too deep to be followed; look for a list, template or comprehension that goes into itself", final: true}
		// Within its collector the Go runtime does not ask whether it got what it asked for.
		case much.MatchString(said), strings.HasPrefix(said, "SIGSEGV") && peak(k.cmd.ProcessState) > uint64(w.bounds.memory)/4:
			return lint.Answer{}, &end{why: "it needed more memory than " + w.bounds.allowed() + hint, overstepped: true}
		case said == "":
			return lint.Answer{}, &end{why: "the process that judged it was ended from outside"}
		}
		return lint.Answer{}, &end{why: "the program broke on it; please report this with the kit: " + said}
	case <-timer.C:
		k.end()
		return lint.Answer{}, &end{why: fmt.Sprintf("it took longer than %v", w.bounds.time) + hint, final: true}
	case <-ctx.Done():
		k.end()
		return lint.Answer{}, &end{why: "the run was interrupted", final: true}
	}
}

// deep and much are what the Go runtime and the C library say at the end of the stack and of memory.
var (
	deep = regexp.MustCompile(`stack exceeds|stack overflow`)
	much = regexp.MustCompile(`out of memory|[Cc]annot allocate memory|failed to create new OS thread|pthread_create failed`)
)

// notJudged is the answer for a household that the wall stopped, at the line where it says its name.
func (w *wall) notJudged(j lint.Job, why string) lint.Answer {
	dir := w.disk.Show(j.Dir)
	return lint.Pack(household.Outcome{Household: finding.Household{Path: dir}, Findings: []finding.Finding{{
		Rule: "input/too-much", Level: finding.Error, Message: "this household could not be judged: " + why, Path: dir,
		At: load.Opening(w.disk.FS, j.Dir, load.Options{Show: w.disk.Show, Given: j.Given}),
	}}})
}

// take gives a worker that waits for work, or a fresh one.
func (w *wall) take(fresh bool) (*worker, error) {
	w.mu.Lock()
	if n := len(w.idle); n > 0 && !fresh {
		k := w.idle[n-1]
		w.idle = w.idle[:n-1]
		w.mu.Unlock()
		return k, nil
	}
	w.mu.Unlock()
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	k := &worker{cmd: exec.Command(self, w.args...), err: &tail{}}
	k.cmd.Args[0] = filepath.Base(os.Args[0]) // what the program is called decides what a test binary runs
	k.cmd.Stderr, k.cmd.Env = k.err, childEnv()
	if k.in, err = k.cmd.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := k.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	k.most = &allowance{from: out, left: 1 << 10} // enough to say that it is ready
	k.enc, k.out = cbor.NewEncoder(k.in), lint.Packing.NewDecoder(k.most)
	return k, k.cmd.Start()
}

func (w *wall) give(k *worker) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.idle = append(w.idle, k)
}

// close ends all workers.
func (w *wall) close() {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, k := range w.idle {
		k.end()
	}
	w.idle = nil
}

func (k *worker) end() {
	_ = k.in.Close()
	_ = k.cmd.Process.Kill()
	_ = k.cmd.Wait()
}

// tail keeps the first line that a worker complains with.
type tail struct {
	mu sync.Mutex
	b  []byte
}

func (t *tail) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if n := 200 - len(t.b); n > 0 {
		t.b = append(t.b, p[:min(n, len(p))]...)
	}
	return len(p), nil
}

func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	for i, c := range t.b {
		if c == '\n' {
			return string(t.b[:i])
		}
	}
	return string(t.b)
}

// worker is the other side of the wall: it reads jobs and answers each.
func (a *app) worker() *cobra.Command {
	in := &input{}
	var b bounds
	var settings string
	var unjudged bool
	cmd := &cobra.Command{
		Use: "worker", Hidden: true, Args: cobra.NoArgs,
		Short: "Judge households for another process of this program",
		RunE: func(cmd *cobra.Command, _ []string) error {
			// A terminal interrupts its whole group; the process that handed out the work decides, and ends this one.
			signal.Ignore(os.Interrupt, syscall.SIGTERM)
			if err := limitMemory(uint64(b.memory)); err != nil {
				return err
			}
			debug.SetMaxStack(int(b.memory / 8)) // what goes into itself for good is told from what is merely large
			if unjudged {
				in.rules = nil
			}
			p, err := a.place(in)
			if err != nil {
				return err
			}
			var bench *judge.Bench
			if !unjudged {
				if bench, err = in.rules.bench(cmd.ErrOrStderr()); err != nil {
					return err
				}
			}
			states := p.states()
			defer states.close()
			views := map[string]*load.Viewer{}
			o, err := decoded(settings)
			if err != nil {
				return err
			}
			o.Show = p.disk.Show
			enc := cbor.NewEncoder(os.Stdout)        // not text, so not through a stream
			if err := enc.Encode(true); err != nil { // ready
				return err
			}
			for j := range jobs(cmd.InOrStdin()) {
				v := views[j.Commit]
				if v == nil {
					tree, err := states.tree(cmd.Context(), j.Commit)
					if err != nil {
						return err
					}
					if len(views) >= keptTrees {
						clear(views)
					}
					v = load.NewViewer(tree)
					views[j.Commit] = v
				}
				o.Figures, o.On = j.Figures, j.Day(p.on)
				reads := repo.Record(v.Of(j.Dir, j.Given))
				work := household.Judge
				if made := product(j.Want); made != nil {
					work = made.Make
				}
				r := reply{Answer: lint.Pack(work(cmd.Context(), reads, bench, j.Dir, o))}
				r.Answer.Reads = reads.Reads()
				r.Grown = heap() > grown
				if err := enc.Encode(r); err != nil {
					return err
				}
			}
			return nil
		},
	}
	in.judged(cmd)
	cmd.Flags().StringVar(&in.rules.layers, "layers", "", "the standards to judge by")
	b.flags(cmd)
	cmd.Flags().BoolVar(&unjudged, "unjudged", false, "judge nobody, and read no standard")
	cmd.Flags().StringVar(&settings, "settings", "{}", "the settings of each household")
	return cmd
}

// jobs reads jobs until there are no more. It ends the program when the other side is
// gone: an evaluation that never finishes would outlive it otherwise.
func jobs(r io.Reader) <-chan lint.Job {
	out := make(chan lint.Job)
	go func() {
		dec := lint.Packing.NewDecoder(r)
		for {
			var j lint.Job
			if dec.Decode(&j) != nil {
				os.Exit(exitClean)
			}
			out <- j
		}
	}()
	return out
}

// heap is what the program holds for its values, in bytes.
func heap() uint64 {
	s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/memory/classes/heap/unused:bytes"}, {Name: "/memory/classes/heap/free:bytes"}}
	metrics.Read(s)
	var n uint64
	for i := range s {
		n += s[i].Value.Uint64()
	}
	return n
}
