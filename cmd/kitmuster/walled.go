package main

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"kitmuster/lint/repo"
	"kitmuster/lint/sandbox"
)

// A command that evaluates a stranger's CUE or runs a stranger's tests does so in a process of its own, which is ended
// when it oversteps. The process says before each step where it is, so that what cannot be stopped is named at its line.
const walledTime = time.Minute

// wallFlags adds the bounds of a walled command.
func (b *bounds) wallFlags(cmd *cobra.Command) {
	b.Memory = sandbox.UsualMemory
	cmd.Flags().DurationVar(&b.Time, "time-limit", walledTime, "give up after this `time`")
	cmd.Flags().Var(&b.Memory, "memory-limit", "give up beyond this much `memory`")
}

// walled runs work within bounds: in a process of its own, unless this is that process. step tells where it is, as
// file:line:column and in words.
func (a *app) walled(cmd *cobra.Command, b *bounds, work func(step func(at, what string)) error) error {
	if a.inside {
		return work(func(at, what string) { sandbox.Step(cmd.ErrOrStderr(), at, what) })
	}
	if err := b.Check(); err != nil {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	inner := &sandbox.Inner{
		Program: self, Name: filepath.Base(os.Args[0]), Args: append([]string{"walled", "--memory-limit", b.Memory.String(), "--"}, a.args...),
		Env: innerEnv(os.Environ()), Bounds: b.Bounds, Unfit: exitUnfit,
	}
	err = inner.Run(cmd.Context(), cmd.OutOrStdout(), cmd.ErrOrStderr())
	var ended sandbox.Ended
	if errors.As(err, &ended) {
		return exit{int(ended)}
	}
	return err
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

// walledCommand is the inner process: it bounds its memory and then does what it is told to.
func (a *app) walledCommand() *cobra.Command {
	var b bounds
	cmd := &cobra.Command{
		Use: "walled -- COMMAND…", Hidden: true, Args: cobra.MinimumNArgs(1),
		Short: "Run a command for another process of this program, within bounds",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := sandbox.Confine(b.Memory); err != nil {
				return err
			}
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
