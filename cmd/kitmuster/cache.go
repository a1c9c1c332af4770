package main

import (
	"context"
	"crypto/sha256"
	"debug/elf"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/cespare/xxhash/v2"
	"github.com/spf13/cobra"

	"kitmuster/lint"
	"kitmuster/lint/cache"
	"kitmuster/lint/sandbox"
)

// caching says where answers are remembered.
type caching struct {
	dir    string
	off    bool
	size   sandbox.Bytes
	verify bool
	// rulesOnly is for commands without flags for it: they remember no answers, and say nothing of it.
	rulesOnly bool

	store *cache.Store
	// self is the hash of this program, once it was wanted.
	self string
}

// usualCache is how much a cache may grow to. Our own figure.
const usualCache = 1 << 30

func (c *caching) flags(cmd *cobra.Command) {
	c.size = usualCache
	cmd.Flags().StringVar(&c.dir, "cache", "", "remember answers in this `folder` (a folder of your own if not given), sealed with a key of your own, or that of "+cacheKey+" (at least 32 characters)")
	cmd.Flags().BoolVar(&c.off, "no-cache", false, "judge everything anew, and remember nothing")
	cmd.Flags().Var(&c.size, "cache-size", "let the cache grow to this much `memory` on the disk")
	cmd.Flags().BoolVar(&c.verify, "verify-cache", false, "judge everything anew and compare with what is remembered; exit 2 where it differs")
}

// cacheKey names the variable that holds the key for machines without a folder of the user's own, such as those of CI.
const cacheKey = "KITMUSTER_CACHE_KEY"

// leastKey is how many characters that key has at least: as many as the hash has bytes.
const leastKey = cache.SecretSize

func (c *caching) check() error {
	if c.off && (c.dir != "" || c.verify) {
		return fmt.Errorf("--no-cache does not go together with --cache or --verify-cache; leave one out")
	}
	if given := os.Getenv(cacheKey); !c.off && given != "" {
		if n := utf8.RuneCountInString(strings.TrimSpace(given)); n < leastKey {
			return fmt.Errorf("%s has %d characters and needs at least %d; set it to random ones, such as those that openssl rand -hex 32 prints, or leave it unset", cacheKey, n, leastKey)
		}
	}
	return nil
}

// open opens the cache; where none can be had, work goes on without. A person who named a folder is told, and everyone whose
// key file is at fault.
func (c *caching) open(a *app, in *input, errs io.Writer) {
	if c.off || c.store != nil {
		return
	}
	named := c.dir != "" || c.verify
	dir := c.dir
	if dir == "" {
		base, err := os.UserCacheDir()
		if err != nil {
			if named {
				fmt.Fprintf(errs, "kitmuster: nothing is cached: the user's cache folder is not known (%s); name a folder with --cache\n", err)
			}
			return
		}
		dir = filepath.Join(base, "kitmuster")
	}
	trees := workTrees(in.folders())
	secret, fault, err := sealingKey(trees)
	if err == nil {
		err = leadsOut(dir, trees)
		fault = err != nil
	}
	if err == nil {
		c.store, err = cache.Open(dir, secret, int64(c.size), a.now())
	}
	if err != nil && (named || fault) {
		fmt.Fprintf(errs, "kitmuster: the cache %s cannot be used, so everything is judged anew: %s\n", dir, plain(err))
	}
}

// sealingKey is what entries are sealed with: that of the environment, or else that of a file of the user's, made at first
// use. What lies in a work tree is no key, since a commit can have put it there. Of an error, fault says that someone has
// to put it right: there is a file that cannot be used. Without it this machine has no place for a key.
func sealingKey(trees []string) (secret []byte, fault bool, err error) {
	if given := strings.TrimSpace(os.Getenv(cacheKey)); given != "" {
		return []byte(given), false, nil
	}
	instead := fmt.Sprintf("set %s to at least %d random characters", cacheKey, leastKey)
	file, err := ownKey("cache.key")
	if err != nil {
		return nil, false, fmt.Errorf("there is no key to seal it with: %w; %s", err, instead)
	}
	if tree, ok := passes(file, trees); ok {
		return nil, true, fmt.Errorf("the key to seal it with would be %s, and a commit can have put that into the work tree %s; %s", file, tree, instead)
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
		return nil, false, fmt.Errorf("there is no key to seal it with: the folder %s could not be made: %w; %s", filepath.Dir(file), plain(err), instead)
	}
	_, missing := os.Lstat(file)
	k, err := openKey(file, file)
	if err != nil {
		return nil, missing == nil, fmt.Errorf("%w; or %s", err, instead)
	}
	if k.exposed {
		return nil, true, fmt.Errorf("others on this machine can read or change its key %s; write chmod 600 %[1]s, or %s", file, instead)
	}
	return k.key[:], false, nil
}

// folders are those that a command reads kits in.
func (in *input) folders() []string {
	out := []string{".", in.root}
	for _, p := range in.paths {
		out = append(out, strings.TrimSuffix(p, "..."))
	}
	return out
}

// workTrees gives the tops of the git work trees that the folders lie in, by their names and by where links lead. Of a
// submodule that is also the tree around it.
func workTrees(folders []string) (tops []string) {
	add := func(dir string) {
		for _, d := range upwards(dir) {
			info, err := os.Lstat(filepath.Join(d, ".git"))
			if err != nil {
				continue
			}
			if !slices.Contains(tops, d) {
				tops = append(tops, d)
			}
			if info.IsDir() {
				return
			} // a file stands in submodules and linked work trees, which may lie in another
		}
	}
	for _, f := range folders {
		if abs, err := filepath.Abs(f); err == nil {
			add(abs)
			if there, err := filepath.EvalSymlinks(abs); err == nil {
				add(there)
			}
		}
	}
	return tops
}

// upwards lists a path and all folders above it.
func upwards(p string) (out []string) {
	for {
		out = append(out, p)
		up := filepath.Dir(p)
		if up == p {
			return out
		}
		p = up
	}
}

// within gives the work tree in which a path lies that holds no links.
func within(p string, trees []string) (string, bool) {
	for _, d := range upwards(p) {
		info, err := os.Stat(d)
		if err != nil {
			continue
		}
		for _, tree := range trees { // by the folder itself: names may differ in case
			if top, err := os.Stat(tree); err == nil && os.SameFile(info, top) {
				return tree, true
			}
		}
	}
	return "", false
}

// passes gives the work tree that a path lies in or leads through by a link, so that a commit decides what it leads to.
func passes(p string, trees []string) (string, bool) {
	abs, err := filepath.Abs(p)
	if err != nil {
		return "", false
	}
	for _, d := range upwards(abs) {
		if there, err := filepath.EvalSymlinks(d); err == nil {
			if tree, ok := within(there, trees); ok {
				return tree, true
			}
		}
	}
	return "", false
}

// leadsOut is an error where a link in a work tree leads to a folder elsewhere: a commit is not to say where files are written.
func leadsOut(dir string, trees []string) error {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	tree, ok := passes(abs, trees)
	if !ok {
		return nil
	}
	for _, d := range upwards(abs) {
		if there, err := filepath.EvalSymlinks(d); err == nil { // the first that is there
			if _, ok := within(there, trees); ok {
				return nil
			}
			return fmt.Errorf("a link in the work tree %s leads out of it to %s; name that folder itself", tree, there)
		}
	}
	return nil
}

// close ends the use of the cache, and takes away what has become too much.
func (c *caching) close(errs io.Writer) {
	if c.store == nil {
		return
	}
	if err := c.store.Err(); err != nil && !c.rulesOnly {
		fmt.Fprintf(errs, "kitmuster: the cache could not keep everything, so the next run takes longer: %s\n", plain(err))
	}
	c.store.Trim()
	_ = c.store.Close() // nothing was written through it that is not closed
}

// remember puts the cache before a run, where there is one.
func (c *caching) remember(ctx context.Context, in *input, p *place, s *states, run func(context.Context, lint.Job) lint.Answer) (*lint.Cache, func(context.Context, lint.Job) lint.Answer, error) {
	if c.store == nil || c.rulesOnly {
		return nil, run, nil
	}
	self, ok := c.program()
	if !ok {
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
	m := &lint.Cache{
		Store: c.store, Verify: c.verify, Root: top, Show: p.disk.Show, On: p.on,
		Salt: []byte(strings.Join([]string{self, in.rules.salt(), encoded(in.one(p))}, "\x00")), Product: product,
		Tree: func(commit string) (fs.FS, error) { return s.tree(ctx, commit) },
	}
	return m, m.Run(run), nil
}

// program is the hash of this program; without it nobody knows whether something is ours.
func (c *caching) program() (string, bool) {
	if c.self == "" {
		c.self, _ = selfSum() // where that fails it is not known
	}
	return c.self, c.self != ""
}

// rulesKey is the key of the rules that this program compiled of the standards that make a salt.
func (c *caching) rulesKey(salt string) (cache.Key, bool) {
	if c == nil || c.store == nil {
		return cache.Key{}, false
	}
	self, ok := c.program()
	return sha256.Sum256([]byte("rules\x00" + self + "\x00" + salt)), ok
}

// rules gives compiled rules that were kept.
func (c *caching) rules(salt string) ([]byte, bool) {
	key, ok := c.rulesKey(salt)
	if !ok {
		return nil, false
	}
	return c.store.Get(key)
}

// keepRules keeps compiled rules.
func (c *caching) keepRules(salt string, b []byte) {
	if key, ok := c.rulesKey(salt); ok {
		c.store.Put(key, b)
	}
}

// selfSum tells this program's own file, the standard in it included, from other builds. It need not hold against someone who makes two
// files alike: who can exchange the program needs no cache. So it is what the Go tool has written into it, since every start takes it, or
// else a fast sum.
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
	info, err := f.Stat()
	if err != nil {
		return "", err
	}
	if id, ok := buildID(f); ok {
		return fmt.Sprintf("%s, %d bytes", id, info.Size()), nil
	}
	h := xxhash.New()
	if _, err := io.CopyBuffer(struct{ io.Writer }{h}, struct{ io.Reader }{f}, make([]byte, 256<<10)); err != nil {
		return "", err
	}
	return fmt.Sprintf("%016x", h.Sum64()), nil
}

// buildID is what the Go tool writes into a program on systems of the Unix kind: hashes of what it is built of and, behind the third slash,
// of the program itself.
func buildID(f io.ReaderAt) (string, bool) {
	const head = len("\x04\x00\x00\x00" + "size" + "\x04\x00\x00\x00" + "Go\x00\x00") // of a note; see debug/elf
	e, err := elf.NewFile(f)
	if err != nil {
		return "", false
	}
	s := e.Section(".note.go.buildid")
	if s == nil {
		return "", false
	}
	note, err := s.Data()
	if err != nil || len(note) < head {
		return "", false
	}
	id := strings.TrimRight(string(note[head:]), "\x00")
	return id, strings.Count(id, "/") == 3
}
