package sandbox

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os/exec"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/fxamacker/cbor/v2"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/household"
	"kitmuster/lint/load"
)

// Pool hands households to workers and ends those that overstep.
type Pool struct {
	// Program is the program's own file, Name what it is called, Args what makes a worker of it, and Env its environment.
	Program, Name string
	Args, Env     []string
	Bounds        Bounds
	// Tree holds the kits, and Show turns a path of it into the path that people see.
	Tree fs.FS
	Show func(string) string
	// Product gives the product of a name, nil for none.
	Product func(name string) *lint.Product
	// Given makes what each worker is given before its first job; nil gives nothing. It is called for each, perhaps at the same time.
	Given func() ([]byte, error)

	mu   sync.Mutex
	idle []*worker
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
	// given is what it is given before its first job.
	given []byte
	// ready says that it has said so, used that it has judged a household before.
	ready, used bool
}

// Reply is what a worker says to a job.
type Reply struct {
	Answer lint.Answer
	// Grown says that the worker has become large and should be let go.
	Grown bool
}

// Judge has a worker judge a household.
func (w *Pool) Judge(ctx context.Context, j lint.Job) lint.Answer {
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
		// It may not have been this household's doing: the worker still held what others left, or someone ended it.
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
func (w *Pool) ask(ctx context.Context, k *worker, j lint.Job) (lint.Answer, *end) {
	type answer struct {
		reply Reply
		err   error
	}
	done, ready := make(chan answer, 1), make(chan bool, 1)
	go func() {
		var a answer
		if !k.ready {
			if a.err = k.enc.Encode(k.given); a.err == nil {
				a.err = k.out.Decode(&k.ready)
			}
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
			if err := a.reply.Answer.Believable(w.Show(j.Dir), w.Product(j.Want)); err != nil {
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
		timer.Reset(w.Bounds.Time)
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
		case much.MatchString(said), strings.HasPrefix(said, "SIGSEGV") && peak(k.cmd.ProcessState) > uint64(w.Bounds.Memory)/4:
			return lint.Answer{}, &end{why: "it needed more memory than " + w.Bounds.allowed() + hint, overstepped: true}
		case said == "":
			return lint.Answer{}, &end{why: "the process that judged it was ended from outside"}
		}
		return lint.Answer{}, &end{why: "the program broke on it; please report this with the kit: " + said}
	case <-timer.C:
		k.end()
		return lint.Answer{}, &end{why: fmt.Sprintf("it took longer than %v", w.Bounds.Time) + hint, final: true}
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
func (w *Pool) notJudged(j lint.Job, why string) lint.Answer {
	dir := w.Show(j.Dir)
	return lint.Pack(household.Outcome{Household: finding.Household{Path: dir}, Findings: []finding.Finding{household.InputFinding(load.Fault{
		Rule: "input/too-much", Message: "this household could not be judged: " + why, At: load.Opening(w.Tree, j.Dir, load.Options{Show: w.Show, Given: j.Given}),
	}, "", dir)}})
}

// take gives a worker that waits for work, or a fresh one.
func (w *Pool) take(fresh bool) (*worker, error) {
	w.mu.Lock()
	if n := len(w.idle); n > 0 && !fresh {
		k := w.idle[n-1]
		w.idle = w.idle[:n-1]
		w.mu.Unlock()
		return k, nil
	}
	w.mu.Unlock()
	k := &worker{cmd: exec.Command(w.Program, w.Args...), err: &tail{}}
	k.cmd.Args[0] = w.Name // it decides what a test binary runs
	k.cmd.Stderr, k.cmd.Env = k.err, w.Env
	var err error
	if w.Given != nil {
		if k.given, err = w.Given(); err != nil {
			return nil, err
		}
	}
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

func (w *Pool) give(k *worker) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.idle = append(w.idle, k)
}

// Close ends all workers.
func (w *Pool) Close() {
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
