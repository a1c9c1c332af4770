package sandbox

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"strings"
	"sync"

	"kitmuster/lint/words"
)

const (
	// stepMark begins a line of the inner process that names the step under way.
	stepMark = "\x1e"
	// maxSaid bounds what is kept of what the inner process complains with.
	maxSaid = 1 << 20
)

// Inner is a process of this program that does one thing within bounds.
type Inner struct {
	// Program is the program's own file, Name what it is called, Args what it is to do, and Env its environment.
	Program, Name string
	Args, Env     []string
	Bounds        Bounds
	// Unfit is the exit code with which the program says itself what is wrong.
	Unfit int
}

// Ended is the exit code of an inner process that said itself what is wrong.
type Ended int

func (e Ended) Error() string { return fmt.Sprintf("exit code %d", int(e)) }

// Step is how an inner process says, before each step, where it is: file:line:column and in words. So what cannot be stopped is named
// at its line.
func Step(errs io.Writer, at, what string) { fmt.Fprintf(errs, "%s%s\t%s\n", stepMark, at, what) }

// Run runs it to its end, or until it oversteps, which the error tells with the step that it named last.
func (p *Inner) Run(ctx context.Context, out, errs io.Writer) error {
	ctx, stop := context.WithTimeout(ctx, p.Bounds.Time)
	defer stop()
	inner := exec.CommandContext(ctx, p.Program, p.Args...)
	inner.Args[0] = p.Name // it decides what a test binary runs
	inner.Env = p.Env
	said := &trail{}
	inner.Stdout, inner.Stderr = out, said
	hold, err := inner.StdinPipe() // its end tells the inner process that this one is gone
	if err != nil {
		return err
	}
	defer hold.Close()
	err = inner.Run()
	at, what, text := said.end()
	var ended *exec.ExitError
	switch {
	case err == nil:
		_, err = io.WriteString(errs, text)
		return err
	case ctx.Err() != nil:
		return fmt.Errorf("%s: %s took longer than %v and was stopped", at, what, p.Bounds.Time)
	case !errors.As(err, &ended):
		return err
	case deep.MatchString(text):
		return fmt.Errorf("%s: %s nests too deep to be followed; look for what goes into itself", at, what)
	case much.MatchString(text):
		return fmt.Errorf("%s: %s needed more memory than %s and was stopped", at, what, &p.Bounds.Memory)
	case ended.ExitCode() != p.Unfit || strings.Contains(text, "goroutine "):
		return fmt.Errorf("%s: the program broke on %s; please report this: %s", at, what, words.Clean(firstLine(text)))
	}
	if _, err := io.WriteString(errs, text); err != nil {
		return err
	}
	return Ended(ended.ExitCode())
}

func firstLine(s string) string {
	s, _, _ = strings.Cut(strings.TrimSpace(s), "\n")
	return s
}

// trail keeps what a process complains with, and the step that it named last.
type trail struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *trail) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.b.Write(p[:min(len(p), max(0, maxSaid-s.b.Len()))])
	return len(p), nil
}

// end parts the steps from the rest.
func (s *trail) end() (at, what, text string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	at, what = "kitmuster", "starting"
	var rest strings.Builder
	for r := bufio.NewReader(&s.b); ; {
		line, err := r.ReadString('\n')
		if step, ok := strings.CutPrefix(line, stepMark); ok {
			at, what, _ = strings.Cut(strings.TrimSuffix(step, "\n"), "\t")
		} else {
			rest.WriteString(line)
		}
		if err != nil {
			return words.Clean(at), words.Clean(what), rest.String()
		}
	}
}
