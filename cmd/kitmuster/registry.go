package main

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"kitmuster/lint/registry"
)

// registering is what push and pull share.
type registering struct {
	insecure bool
	wait     time.Duration
}

// usualWait is how long a registry may take. Our own figure: a standard is small, a village's line may be slow.
const usualWait = 2 * time.Minute

func (r *registering) flags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&r.insecure, "insecure", false, "speak plain http with the registry; what is sent, credentials too, can be read on the way")
	cmd.Flags().DurationVar(&r.wait, "timeout", usualWait, "give up after this `time`")
}

// start opens the store and bounds the time.
func (r *registering) start(cmd *cobra.Command) (*registry.Store, context.Context, context.CancelFunc, error) {
	if r.wait <= 0 {
		return nil, nil, nil, fmt.Errorf("--timeout %s: write a time such as 90s or 5m", r.wait)
	}
	s := fetchedStandards(cmd.ErrOrStderr())
	s.Insecure = r.insecure
	ctx, stop := context.WithTimeout(cmd.Context(), r.wait)
	return s, ctx, stop, nil
}

// fetchedStandards is the store of standards that were fetched, in the user's cache; where the machine has none, nothing is kept.
func fetchedStandards(errs io.Writer) *registry.Store {
	dir := ""
	if base, err := os.UserCacheDir(); err == nil {
		dir = filepath.Join(base, "kitmuster", "standards")
	}
	s := registry.Open(dir)
	s.Env = os.Environ()
	s.Proxy = http.ProxyFromEnvironment
	s.Told = func(text string) { fmt.Fprintf(errs, "kitmuster: %s\n", text) }
	return s
}

func (a *app) standardPush() *cobra.Command {
	r := &registering{}
	force := false
	cmd := &cobra.Command{
		Use:   "push FILE|DIR ADDRESS",
		Short: "Publish a standard in an OCI registry",
		Long: `Publishes a standard, a folder or the file it was packed into, in a registry of the OCI Distribution
Specification, and prints where it lies by digest, and the digest of its content.

ADDRESS is host/path/name:version, such as registry.example/valley/flood:1.2.0. Without a tag, the
version in the standard's .manifest is the tag. A version is a promise: one that is there already with
another content is not replaced without --force.

Credentials are those of the registry's host in the standard configuration file: config.json in the folder
that DOCKER_CONFIG names, or .docker in the home folder. This machine itself is spoken to in http, any other in https.`,
		Args: inOrder("a file or folder, and an address", 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			s, ctx, stop, err := r.start(cmd)
			if err != nil {
				return err
			}
			defer stop()
			fsys, _, err := openStandard(args[0])
			if err != nil {
				return err
			}
			st, err := s.Push(ctx, args[1], fsys, force)
			if err != nil {
				return err
			}
			what := "pushed"
			if st.Stored {
				what = "was there already"
			}
			return sayStandard(cmd.OutOrStdout(), st, what)
		},
	}
	r.flags(cmd)
	cmd.Flags().BoolVar(&force, "force", false, "replace a version that is there with another content")
	return cmd
}

func (a *app) standardPull() *cobra.Command {
	r := &registering{}
	var out, digest string
	cmd := &cobra.Command{
		Use:   "pull ADDRESS",
		Short: "Fetch a standard from an OCI registry",
		Long: `Fetches a standard from a registry of the OCI Distribution Specification, keeps it in the user's cache
(kitmuster/standards), where it can be used without the registry afterwards, and prints where it lies by digest, and the digest
of its content.

ADDRESS is host/path/name:version, or host/path/name@sha256:… for one that never changes, which is fetched
only once. With --digest the content must be the one that is named, and is used from the cache where the registry
cannot be reached. Pulling does not judge the rules: show and trial say what a standard changes.

Credentials are read as by push.`,
		Args: inOrder("an address", 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			s, ctx, stop, err := r.start(cmd)
			if err != nil {
				return err
			}
			defer stop()
			st, err := s.Pull(ctx, args[0], digest)
			if err != nil {
				return err
			}
			if out != "" {
				if err := writeWhole(out, st.Packed); err != nil {
					return err
				}
			}
			what := "pulled"
			if st.Stored {
				what = "was fetched before"
			}
			return sayStandard(cmd.OutOrStdout(), st, what)
		},
	}
	r.flags(cmd)
	cmd.Flags().StringVarP(&out, "output", "o", "", "write the packed standard to this `file` too")
	cmd.Flags().StringVar(&digest, "digest", "", "accept only the content with this `digest`")
	return cmd
}

// inOrder demands so many arguments, and says which.
func inOrder(what string, n int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != n {
			return fmt.Errorf("%s takes %s: %s", cmd.Name(), what, cmd.UseLine())
		}
		return nil
	}
}

func sayStandard(w io.Writer, st *registry.Standard, what string) error {
	_, err := fmt.Fprintf(w, "%s %s %s\naddress %s\ncontent %s\n", st.Name, st.Version, what, st.Address, st.Digest)
	return err
}
