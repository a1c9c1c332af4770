package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"kitmuster/lint/repo"
	"kitmuster/lint/words"
)

// A command that evaluates a stranger's CUE or runs a stranger's tests does so in a process of its own, which is ended
// when it oversteps. The process says before each step where it is, so that what cannot be stopped is named at its line.
const (
	walledTime = time.Minute
	// stepMark begins a line of the inner process that names the step under way.
	stepMark = "\x1e"
	// maxSaid bounds what is kept of what the inner process complains with.
	maxSaid = 1 << 20
)

// wallFlags adds the bounds of a walled command.
func (b *bounds) wallFlags(cmd *cobra.Command) {
	b.memory = usualMemory
	cmd.Flags().DurationVar(&b.time, "time-limit", walledTime, "give up after this `time`")
	cmd.Flags().Var(&b.memory, "memory-limit", "give up beyond this much `memory`")
}

// walled runs work within bounds: in a process of its own, unless this is that process. step tells where it is, as
// file:line:column and in words.
func (a *app) walled(cmd *cobra.Command, b *bounds, work func(step func(at, what string)) error) error {
	if a.inside {
		return work(func(at, what string) { fmt.Fprintf(cmd.ErrOrStderr(), "%s%s\t%s\n", stepMark, at, what) })
	}
	if err := b.check(); err != nil {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	ctx, stop := context.WithTimeout(cmd.Context(), b.time)
	defer stop()
	inner := exec.CommandContext(ctx, self, append([]string{"walled", "--memory-limit", b.memory.String(), "--"}, a.args...)...)
	inner.Args[0] = filepath.Base(os.Args[0]) // what the program is called decides what a test binary runs
	inner.Env = innerEnv(os.Environ())
	said := &trail{}
	inner.Stdout, inner.Stderr = cmd.OutOrStdout(), said
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
		_, err = io.WriteString(cmd.ErrOrStderr(), text)
		return err
	case ctx.Err() != nil:
		return fmt.Errorf("%s: %s took longer than %v and was stopped", at, what, b.time)
	case !errors.As(err, &ended):
		return err
	case deep.MatchString(text):
		return fmt.Errorf("%s: %s nests too deep to be followed; look for what goes into itself", at, what)
	case much.MatchString(text):
		return fmt.Errorf("%s: %s needed more memory than %s and was stopped", at, what, &b.memory)
	case ended.ExitCode() != exitUnfit || strings.Contains(text, "goroutine "):
		return fmt.Errorf("%s: the program broke on %s; please report this: %s", at, what, words.Clean(firstLine(text)))
	}
	if _, err := io.WriteString(cmd.ErrOrStderr(), text); err != nil {
		return err
	}
	return exit{ended.ExitCode()}
}

// reaching are the variables that a registry is reached by; see Store.Env and http.ProxyFromEnvironment.
var reaching = []string{"DOCKER_CONFIG", "HTTP_PROXY", "HTTPS_PROXY", "NO_PROXY", "SSL_CERT_FILE", "SSL_CERT_DIR"}

// childEnv is the environment of a process of ours that evaluates what strangers wrote: no secret is in it. PWD says how the
// working directory is spelt, by which paths are shown.
func childEnv() []string {
	return append(repo.BareEnv(os.Environ()), "PWD="+os.Getenv("PWD"))
}

// innerEnv is the environment of an inner process: what children of ours need, and how a registry is reached.
func innerEnv(env []string) []string {
	out := childEnv()
	for _, v := range env {
		if name, _, _ := strings.Cut(v, "="); slices.Contains(reaching, strings.ToUpper(name)) {
			out = append(out, v)
		}
	}
	return out
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

// walledCommand is the inner process: it bounds its memory and then does what it is told to.
func (a *app) walledCommand() *cobra.Command {
	var b bounds
	cmd := &cobra.Command{
		Use: "walled -- COMMAND…", Hidden: true, Args: cobra.MinimumNArgs(1),
		Short: "Run a command for another process of this program, within bounds",
		RunE: func(cmd *cobra.Command, args []string) error {
			signal.Ignore(os.Interrupt, syscall.SIGTERM) // the process that asked decides
			if err := limitMemory(uint64(b.memory)); err != nil {
				return err
			}
			debug.SetMaxStack(int(b.memory / 8))
			go func() { // an evaluation that never finishes would outlive the process that asked otherwise
				_, _ = io.Copy(io.Discard, cmd.InOrStdin())
				os.Exit(exitUnfit)
			}()
			inner := command(a.now)
			inner.inside = true
			return inner.execute(cmd.Context(), args)
		},
	}
	b.wallFlags(cmd)
	return cmd
}
