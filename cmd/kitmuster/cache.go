package main

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/cache"
)

// caching says where answers are remembered.
type caching struct {
	dir    string
	off    bool
	size   byteSize
	verify bool

	store *cache.Store
}

// usualCache is how much a cache may grow to. Our own figure.
const usualCache = 1 << 30

func (c *caching) flags(cmd *cobra.Command) {
	c.size = usualCache
	cmd.Flags().StringVar(&c.dir, "cache", "", "remember answers in this `folder` (a folder of your own where not given)")
	cmd.Flags().BoolVar(&c.off, "no-cache", false, "judge everything anew, and remember nothing")
	cmd.Flags().Var(&c.size, "cache-size", "let the cache grow to this much `memory` on the disk")
	cmd.Flags().BoolVar(&c.verify, "verify-cache", false, "judge everything anew and compare with what is remembered; exit 2 where it differs")
}

func (c *caching) check() error {
	if c.off && (c.dir != "" || c.verify) {
		return fmt.Errorf("--no-cache does not go together with --cache or --verify-cache; leave one out")
	}
	return nil
}

// open opens the cache; where none can be had, work goes on without, and a person who named a folder is told.
func (c *caching) open(a *app, errs io.Writer) {
	dir := c.dir
	if c.off {
		return
	}
	if dir == "" {
		base, err := os.UserCacheDir()
		if err != nil {
			return
		}
		dir = filepath.Join(base, "kitmuster")
	}
	store, err := cache.Open(dir, int64(c.size), a.now())
	if err != nil {
		if c.dir != "" {
			fmt.Fprintf(errs, "kitmuster: the cache %s cannot be used, so everything is judged anew: %s\n", dir, plain(err))
		}
		return
	}
	c.store = store
}

// close ends the use of the cache, and takes away what has become too much.
func (c *caching) close(errs io.Writer) {
	if c.store == nil {
		return
	}
	if err := c.store.Err(); err != nil {
		fmt.Fprintf(errs, "kitmuster: the cache could not keep everything, so the next run takes longer: %s\n", plain(err))
	}
	c.store.Trim()
}

// remember puts the cache before a run, where there is one.
func (c *caching) remember(ctx context.Context, in *input, against []string, p *place, s *states, run func(context.Context, lint.Job) lint.Answer) (*lint.Memory, func(context.Context, lint.Job) lint.Answer, error) {
	if c.store == nil {
		return nil, run, nil
	}
	self, err := selfSum()
	if err != nil { // without it nobody knows whether an answer is ours
		return nil, run, nil
	}
	root, err := filepath.Abs(in.root)
	if err != nil {
		return nil, nil, err
	}
	top, err := p.disk.Path(root)
	if err != nil {
		return nil, nil, err
	}
	m := &lint.Memory{
		Store: c.store, Verify: c.verify, Root: top, Show: p.disk.Show, On: p.on,
		Salt: []byte(strings.Join([]string{self, in.season, strings.Join(against, ","), in.rules.salt()}, "\x00")),
		Tree: func(commit string) (fs.FS, error) { return s.tree(ctx, commit) },
	}
	return m, m.Run(run), nil
}

// selfSum is the hash of this program's own file, the standard in it included.
func selfSum() (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", err
	}
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return fmt.Sprintf("%x", h.Sum(nil)), nil
}
