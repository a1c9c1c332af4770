package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/finding"
	"kitmuster/lint/source"
)

// CUE cannot be stopped once it evaluates, and a kit of fifty bytes can keep it
// busy for hours or eat the machine's memory. So every household is judged in a
// process of its own kind: workers of this same program that the wall can end. A
// household that takes too long or too much is named as not judged, and the
// others go on. Our own figures, far above any real kit.
const (
	maxTime   = 20 * time.Second
	maxMemory = 3 << 30 // bytes of address space a worker may add
)

// wall hands households to workers and ends those that overstep.
type wall struct {
	args []string
	show func(string) string
	mu   sync.Mutex
	idle []*worker
}

// worker is one process that judges households one after another.
type worker struct {
	cmd *exec.Cmd
	in  io.WriteCloser
	out *json.Decoder
	enc *json.Encoder
	err *tail
}

func newWall(in *input, against []string, show func(string) string) *wall {
	return &wall{args: []string{"worker", "--on", in.on, "--season", in.season, "--against", strings.Join(against, ",")}, show: show}
}

type request struct{ Dir string }

// judge is lint.Judge behind the wall.
func (w *wall) judge(ctx context.Context, dir string) lint.Outcome {
	k, err := w.take()
	if err != nil {
		return w.notJudged(dir, "no process could be started for it: "+err.Error())
	}
	type answer struct {
		out lint.Outcome
		err error
	}
	done := make(chan answer, 1)
	go func() {
		var a answer
		if a.err = k.enc.Encode(request{dir}); a.err == nil {
			a.err = k.out.Decode(&a.out)
		}
		done <- a
	}()
	timer := time.NewTimer(maxTime)
	defer timer.Stop()
	select {
	case a := <-done:
		if a.err == nil {
			w.give(k)
			return a.out
		}
		k.end()
		if said := k.err.String(); !strings.Contains(said, "out of memory") && !strings.Contains(said, "cannot allocate memory") {
			return w.notJudged(dir, "the program broke on it; please report this with the kit: "+said)
		}
		return w.notJudged(dir, fmt.Sprintf("it needed more memory than %d GiB; look for a list, template or comprehension that multiplies itself", maxMemory>>30))
	case <-timer.C:
		k.end()
		return w.notJudged(dir, fmt.Sprintf("it took longer than %v; look for a list, template or comprehension that multiplies itself", maxTime))
	case <-ctx.Done():
		k.end()
		return w.notJudged(dir, "the run was interrupted")
	}
}

// notJudged is the outcome of a household that the wall stopped.
func (w *wall) notJudged(dir, why string) lint.Outcome {
	dir = w.show(dir)
	h := finding.Household{Path: dir}
	at := source.Point{Line: 1, Col: 1}
	return lint.Outcome{Household: h, Findings: []finding.Finding{{
		Rule: "input/too-much", Level: finding.Error, Message: "this household could not be judged: " + why, Path: dir, At: source.Span{File: dir, Start: at, End: at},
	}}}
}

func (w *wall) take() (*worker, error) {
	w.mu.Lock()
	if n := len(w.idle); n > 0 {
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
	k.cmd.Stderr = k.err
	if k.in, err = k.cmd.StdinPipe(); err != nil {
		return nil, err
	}
	out, err := k.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	k.enc, k.out = json.NewEncoder(k.in), json.NewDecoder(out)
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

// worker is the other side of the wall: it reads requests and answers each with an outcome.
func (a *app) worker() *cobra.Command {
	in := &input{}
	var against []string
	cmd := &cobra.Command{
		Use: "worker", Hidden: true, Args: cobra.NoArgs,
		Short: "Judge households for another process of this program",
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := limitMemory(maxMemory); err != nil {
				return err
			}
			p, err := a.place(in)
			if err != nil {
				return err
			}
			b, err := bench(cmd.ErrOrStderr())
			if err != nil {
				return err
			}
			dec, enc := json.NewDecoder(cmd.InOrStdin()), json.NewEncoder(cmd.OutOrStdout())
			for {
				var r request
				if err := dec.Decode(&r); errors.Is(err, io.EOF) {
					return nil
				} else if err != nil {
					return err
				}
				out := lint.Judge(cmd.Context(), p.disk.FS, b, r.Dir, lint.Options{On: p.on, Season: in.season, Against: against, Show: p.disk.Show})
				if err := enc.Encode(out); err != nil {
					return err
				}
			}
		},
	}
	in.flags(cmd)
	cmd.Flags().StringSliceVar(&against, "against", nil, "official lists")
	return cmd
}
