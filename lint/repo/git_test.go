package repo

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/testkit"
)

// scratch is a repository made by running git itself, which is also what every
// answer is held against.
type scratch struct {
	t   testing.TB
	dir string
	env []string
}

func gitEnv(home string) []string {
	return append(testkit.GitEnv(home),
		"GIT_AUTHOR_DATE=2026-03-01T12:00:00Z", "GIT_COMMITTER_DATE=2026-03-01T12:00:00Z",
		"GIT_CONFIG_COUNT=3", "GIT_CONFIG_KEY_0=protocol.file.allow", "GIT_CONFIG_VALUE_0=always", "GIT_CONFIG_KEY_1=init.defaultBranch", "GIT_CONFIG_VALUE_1=main",
		"GIT_CONFIG_KEY_2=maintenance.auto", "GIT_CONFIG_VALUE_2=false") // it goes on after a fetch, in folders that the test takes away
}

func newScratch(t testing.TB, initArgs ...string) *scratch {
	t.Helper()
	home, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	s := &scratch{t, filepath.Join(home, "valley"), gitEnv(home)}
	s.must(os.Mkdir(s.dir, 0o755))
	s.git(append([]string{"init", "-q"}, initArgs...)...)
	return s
}

func (s *scratch) must(err error) {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
}

// at is the same environment in another folder.
func (s *scratch) at(dir string) *scratch { return &scratch{s.t, dir, s.env} }

func (s *scratch) try(args ...string) (string, error) {
	cmd := exec.Command("git", args...)
	cmd.Dir, cmd.Env = s.dir, s.env
	out, err := cmd.Output()
	if e := (*exec.ExitError)(nil); errors.As(err, &e) {
		err = fmt.Errorf("git %q: %s", args, e.Stderr)
	}
	return string(out), err
}

func (s *scratch) git(args ...string) string {
	s.t.Helper()
	out, err := s.try(args...)
	s.must(err)
	return strings.TrimSuffix(out, "\n")
}

func (s *scratch) write(files map[string]string) {
	s.t.Helper()
	testkit.Write(s.t, s.dir, files)
}

func (s *scratch) commit(message string) string {
	s.t.Helper()
	s.git("add", "-A")
	s.git("commit", "-q", "--allow-empty", "-m", message)
	return s.git("rev-parse", "HEAD")
}

func (s *scratch) open() *Repository {
	s.t.Helper()
	r, err := OpenRepository(context.Background(), s.dir, s.env)
	s.must(err)
	s.t.Cleanup(func() { r.Close() })
	return r
}

func (s *scratch) tree(r *Repository, rev string, folders ...string) fs.FS {
	s.t.Helper()
	commit, err := r.Resolve(context.Background(), rev)
	s.must(err)
	tree, err := r.Tree(context.Background(), commit, folders...)
	s.must(err)
	return tree
}

// name is the path of the tree for a path below the scratch folder.
func (s *scratch) name(rel string) string { return strings.TrimPrefix(path.Join(s.dir, rel), "/") }

var kits = map[string]string{
	"alder/household.cue":      "package kit\n\nhousehold: \"Alder\"\n",
	"alder/packs/rust.cue":     "package kit\n",
	"birch/household.cue":      "package kit\r\n\r\nhousehold: \"Birch\"\r\n",
	"cue.mod/module.cue":       "module: \"valley.example\"\n",
	"empty":                    "",
	"names/with space.cue":     "a",
	"names/with\nnewline.cue":  "b",
	"names/\"quoted\".cue":     "c",
	"names/-dash.cue":          "d",
	"names/水と灯.cue":            "e",
	"names/*glob?[x].cue":      "g",
	"order/a":                  "git sorts a folder as if its name ended in a slash",
	"order.cue":                "so order.cue stands before it",
	"order-1/a":                "and this one too",
	"deep/er/and/er/still.cue": strings.Repeat("x", 70_000),
}

// valley has three commits; the second holds kits, the third other things.
func valley(t testing.TB, initArgs ...string) *scratch {
	s := newScratch(t, initArgs...)
	s.write(map[string]string{"README": "first"})
	s.commit("first")
	s.write(kits)
	s.must(os.Symlink("alder", filepath.Join(s.dir, "link")))
	s.must(os.Symlink("../alder/household.cue", filepath.Join(s.dir, "birch/neighbour.cue")))
	s.must(os.WriteFile(filepath.Join(s.dir, "run"), []byte("#!/bin/sh\n"), 0o755))
	s.commit("kits")
	s.write(map[string]string{"alder/household.cue": "package kit\n\nhousehold: \"Alder of the mill\"\n"})
	s.must(os.RemoveAll(filepath.Join(s.dir, "birch")))
	s.commit("third")
	return s
}

// listing is what git itself says stands in a commit: kinds by path.
func (s *scratch) listing(commit string) map[string]fs.FileMode {
	s.t.Helper()
	out := map[string]fs.FileMode{}
	for l := range strings.SplitSeq(s.git("ls-tree", "-r", "-t", "-z", "--full-tree", commit), "\x00") {
		head, p, ok := strings.Cut(l, "\t")
		switch {
		case !ok:
		case strings.HasPrefix(head, "12"):
			out[p] = fs.ModeSymlink
		case strings.HasPrefix(head, "04"), strings.HasPrefix(head, "16"):
			out[p] = fs.ModeDir
		default:
			out[p] = 0
		}
	}
	return out
}

// agree holds a tree against git ls-tree and git show.
func (s *scratch) agree(tree fs.FS, top, commit string) {
	s.t.Helper()
	sub, err := fs.Sub(tree, top)
	s.must(err)
	got := map[string]fs.FileMode{}
	files := 0
	s.must(fs.WalkDir(sub, ".", func(p string, d fs.DirEntry, err error) error {
		if p == "." || err != nil {
			return err
		}
		got[p] = d.Type()
		if d.Type() != 0 {
			return nil
		}
		files++
		b, err := fs.ReadFile(sub, p)
		if want, e := s.try("show", commit+":"+p); e != nil || string(b) != want {
			s.t.Errorf("%q: %d bytes, %v; git show gives %d, %v", p, len(b), err, len(want), e)
		}
		return err
	}))
	if diff := cmp.Diff(s.listing(commit), got); diff != "" || files == 0 {
		s.t.Errorf("%d files; (-git ls-tree +tree):\n%s", files, diff)
	}
}

func TestTreeIsWhatGitShows(t *testing.T) {
	t.Parallel()
	const past = "HEAD~1"
	for _, c := range []struct {
		why string
		rev string
		// make gives the folder to open, a folder where git answers for it, and the work tree's top.
		make func(s *scratch) (open *scratch, top string)
	}{
		{"loose objects", past, func(s *scratch) (*scratch, string) { return s, s.dir }},
		{"packed", past, func(s *scratch) (*scratch, string) {
			s.git("gc", "-q", "--prune=now")
			return s, s.dir
		}},
		{"from a subfolder", past, func(s *scratch) (*scratch, string) { return s.at(filepath.Join(s.dir, "alder/packs")), s.dir }},
		{"detached", past, func(s *scratch) (*scratch, string) {
			s.git("checkout", "-q", "--detach", "HEAD")
			return s, s.dir
		}},
		{"the reflog", "HEAD@{1}", func(s *scratch) (*scratch, string) { return s, s.dir }},
		{"an annotated tag of a tag", "twice", func(s *scratch) (*scratch, string) {
			s.git("tag", "-a", "-m", "once", "once", "HEAD~1")
			s.git("tag", "-a", "-m", "twice", "twice", "once")
			return s, s.dir
		}},
		{"a message", ":/kits", func(s *scratch) (*scratch, string) { return s, s.dir }},
		{"a linked work tree", past, func(s *scratch) (*scratch, string) {
			w := s.dir + "-linked"
			s.git("worktree", "add", "-q", "--detach", w)
			return s.at(w), w
		}},
		{"alternates", past, func(s *scratch) (*scratch, string) { return s.clone("--shared") }},
		{"shallow", "HEAD", func(s *scratch) (*scratch, string) { return s.clone("--depth=1") }},
		{"partial without files, completed", past, func(s *scratch) (*scratch, string) { return s.completed("--filter=blob:none") }},
		{"partial without folders, completed", past, func(s *scratch) (*scratch, string) { return s.completed("--filter=tree:0", "--sparse") }},
		{"partial and SHA-256, completed", past, func(s *scratch) (*scratch, string) {
			return valley(s.t, "--object-format=sha256").completed("--filter=blob:none")
		}},
		{"sparse", past, func(s *scratch) (*scratch, string) {
			s.git("sparse-checkout", "set", "--cone", "--sparse-index", "alder")
			return s, s.dir
		}},
		{"a split index", past, func(s *scratch) (*scratch, string) {
			s.git("update-index", "--split-index")
			return s, s.dir
		}},
		{"SHA-256", past, nil},
		{"a name with a newline", past, func(s *scratch) (*scratch, string) {
			to := s.dir + "\nnew\n"
			s.must(os.Rename(s.dir, to))
			return s.at(to), to
		}},
		{"settings made to break programs", past, func(s *scratch) (*scratch, string) {
			s.awkward()
			return s, s.dir
		}},
	} {
		t.Run(c.why, func(t *testing.T) {
			var s *scratch
			if c.make == nil {
				s = valley(t, "--object-format=sha256")
				c.make = func(s *scratch) (*scratch, string) { return s, s.dir }
			} else {
				s = valley(t)
			}
			o, top := c.make(s)
			r := o.open()
			commit, err := r.Resolve(t.Context(), c.rev)
			s.must(err)
			if want := o.git("rev-list", "-n", "1", c.rev); commit != want {
				t.Errorf("%s is %s; git says %s", c.rev, commit, want)
			}
			tree, err := r.Tree(t.Context(), commit)
			s.must(err)
			name := strings.TrimPrefix(top, "/")
			o.agree(tree, name, commit)
			// The file is spelt by Disk.
			d, err := NewDisk(o.dir, o.dir)
			s.must(err)
			p, err := d.Path(filepath.Join(top, "alder/packs/rust.cue"))
			s.must(err)
			if b, err := fs.ReadFile(tree, p); string(b) != kits["alder/packs/rust.cue"] {
				t.Errorf("%s: %q, %v", p, b, err)
			}
			sub, err := fs.Sub(tree, name)
			s.must(err)
			s.must(fstest.TestFS(sub, "alder/household.cue", "order/a", "names/水と灯.cue"))
		})
	}
}

// clone gives a clone that git reads by its own protocol, not by copying files.
func (s *scratch) clone(flags ...string) (*scratch, string) {
	s.t.Helper()
	s.git("config", "uploadpack.allowFilter", "true")
	s.git("config", "uploadpack.allowAnySHA1InWant", "true")
	to := s.dir + "-clone"
	url := "file://" + s.dir
	if slices.Contains(flags, "--shared") {
		url = s.dir
	}
	s.git(append(append([]string{"clone", "-q"}, flags...), url, to)...)
	return s.at(to), to
}

// completed gives a clone that lacks files, once the command is run that says how to complete it.
func (s *scratch) completed(flags ...string) (*scratch, string) {
	s.t.Helper()
	o, top := s.clone(flags...)
	_, err := o.open().Tree(s.t.Context(), s.git("rev-parse", "HEAD~1"))
	_, command, ok := strings.Cut(fmt.Sprint(err), "then run the same again: ")
	if !ok {
		s.t.Fatal(err)
	}
	cmd := exec.Command("sh", "-c", command)
	cmd.Dir, cmd.Env = "/", o.env
	if out, err := cmd.CombinedOutput(); err != nil {
		s.t.Fatalf("%s: %v\n%s", command, err, out)
	}
	return o, top
}

// awkward sets what is known to change or to spoil what git prints.
func (s *scratch) awkward() {
	for _, kv := range [][2]string{
		{"core.quotePath", "true"}, {"color.ui", "always"}, {"core.pager", "false"}, {"diff.external", "false"}, {"diff.renames", "false"},
		{"diff.renameLimit", "1"}, {"diff.orderFile", "/nonexistent"}, {"diff.relative", "true"}, {"diff.noPrefix", "true"}, {"diff.mnemonicPrefix", "true"},
		{"diff.autoRefreshIndex", "false"}, {"diff.ignoreSubmodules", "all"}, {"core.fsmonitor", "touch " + s.dir + "-ran; false"},
		{"core.abbrev", "5"}, {"core.untrackedCache", "true"}, {"core.splitIndex", "true"}, {"core.hooksPath", s.dir + "-hooks"}, {"core.ignoreStat", "true"},
	} {
		s.git("config", kv[0], kv[1])
	}
}

func TestRepositoryThatCannotBeOpened(t *testing.T) {
	s := valley(t)
	bare := s.dir + "-bare"
	s.git("clone", "-q", "--bare", s.dir, bare)
	outside := s.dir + "-outside"
	s.must(os.Mkdir(outside, 0o755))
	for _, c := range []struct{ why, dir, env, want string }{
		{"no repository", outside, "", "is in no git repository"},
		{"bare", bare, "", "bare repository"},
		{"in .git", filepath.Join(s.dir, ".git"), "", "in a .git folder"},
		{"no folder", s.dir + "-nowhere", "", "there is no such folder"},
		{"a file", filepath.Join(s.dir, "README"), "", "there is no such folder"},
		{"relative", "valley", "", "not absolute"},
		// A switch of git's own tests (t0033-safe-directory.sh) stands for another owner.
		{"another owner", s.dir, "GIT_TEST_ASSUME_DIFFERENT_OWNER=1", "git config --global --add safe.directory " + s.dir},
	} {
		r, err := OpenRepository(t.Context(), c.dir, append(slices.Clip(s.env), c.env))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, %v", c.why, r, err)
		}
	}
	t.Run("no git", func(t *testing.T) {
		t.Setenv("PATH", outside)
		if _, err := OpenRepository(t.Context(), s.dir, s.env); err == nil || !strings.Contains(err.Error(), "install git") {
			t.Error(err)
		}
	})
}

// git says which of its variables belong to one repository.
func TestBareEnv(t *testing.T) {
	s := newScratch(t)
	secret := []string{
		"SECRET=x", "AWS_SECRET_ACCESS_KEY=x", "path=x", "GIT_EXTERNAL_DIFF=x", "GIT_SSH=x", "GIT_SSH_COMMAND=x", "GIT_ASKPASS=x", "SSH_ASKPASS=x", "GIT_PAGER=x", "PAGER=x",
		"GIT_EDITOR=x", "GIT_PROXY_COMMAND=x", "GIT_TRACE=x", "GIT_TRACE2_EVENT=x", "GIT_EXEC_PATH=x", "GIT_TEMPLATE_DIR=x", "GIT_ALLOW_PROTOCOL=file", "GIT_NO_LAZY_FETCH=0",
		"GIT_GLOB_PATHSPECS=1", "LD_PRELOAD=x", "GIT_CONFIG_COUNT=x", "GIT_CONFIG_KEY_7=safe.directory", "GIT_CONFIG_VALUE_7=not counted", "no equals sign",
	}
	for _, v := range strings.Fields(s.git("rev-parse", "--local-env-vars")) {
		if v != "GIT_DIR" && v != "GIT_WORK_TREE" { // they lead to a work tree that has no .git; see OpenRepository
			secret = append(secret, v+"=1")
		}
	}
	if got := BareEnv(secret); len(got) != 0 {
		t.Errorf("handed on: %q", got)
	}
	want := []string{"PATH=/bin", "HOME=/h=o", "TMPDIR=", "GIT_CONFIG_GLOBAL=/g", "GIT_DIR=/d"}
	env := slices.Concat(secret, want, []string{
		"GIT_CONFIG_COUNT=4", "GIT_CONFIG_KEY_0=protocol.allow", "GIT_CONFIG_VALUE_0=always", "GIT_CONFIG_KEY_1=Safe.Directory", "GIT_CONFIG_VALUE_1=/a=b",
		"GIT_CONFIG_KEY_2=safe.directory", "GIT_CONFIG_KEY_3=safe.directory", "GIT_CONFIG_VALUE_3=*",
	})
	want = append(want, "GIT_CONFIG_KEY_0=safe.directory", "GIT_CONFIG_VALUE_0=/a=b", "GIT_CONFIG_KEY_1=safe.directory", "GIT_CONFIG_VALUE_1=*", "GIT_CONFIG_COUNT=2")
	if diff := cmp.Diff(want, BareEnv(env)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(want, BareEnv(BareEnv(env))); diff != "" {
		t.Errorf("given again (-want +got):\n%s", diff)
	}
	if got := BareEnv([]string{"GIT_CONFIG_COUNT=1000000000"}); len(got) != 0 {
		t.Error(got)
	}
}

// What the environment trusts is trusted: a repository of someone else is read.
func TestSafeDirectoryOfTheEnvironment(t *testing.T) {
	s := valley(t)
	strict := append(slices.Clip(s.env), "GIT_TEST_ASSUME_DIFFERENT_OWNER=1", "GIT_CONFIG_COUNT=1", "GIT_CONFIG_KEY_0=safe.directory", "GIT_CONFIG_VALUE_0=")
	if _, err := OpenRepository(t.Context(), s.dir, strict); err == nil {
		t.Fatal("nothing is refused, so this shows nothing")
	}
	r, err := OpenRepository(t.Context(), s.dir, append(strict, "GIT_CONFIG_VALUE_0="+s.dir))
	s.must(err)
	s.must(r.Close())
}

func TestOldGit(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("PATH", dir)
	for said, want := range map[string]string{
		"git version 2.37.9":                  "git 2.37 is too old",
		"git version 1.99.0":                  "git 1.99 is too old",
		"git version 2.38.0":                  "said nothing more",
		"git version 2.100.1 (Apple Git-154)": "said nothing more",
		"git version 3.0.0.windows.1":         "said nothing more",
		"git version unknown":                 "install git 2.38 or newer",
		"another program\nof the name git":    "install git 2.38 or newer",
	} {
		script := "#!/bin/sh\nfor last; do :; done\nif [ \"$last\" = version ]; then echo '" + said + "'; else echo said nothing more >&2; exit 9; fi\n"
		if err := os.WriteFile(filepath.Join(dir, "git"), []byte(script), 0o755); err != nil {
			t.Fatal(err)
		}
		if _, err := OpenRepository(t.Context(), dir, []string{"PATH=" + dir}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", said, err)
		}
	}
}

func TestResolve(t *testing.T) {
	s := valley(t)
	s.git("branch", "harvest", "HEAD~1")
	s.git("branch", "Hut/low", "HEAD~2")
	s.git("tag", "-a", "-m", "t", "treetag", "HEAD^{tree}")
	s.git("checkout", "-q", "-b", "side", "HEAD~1")
	s.write(map[string]string{"side": "1"})
	s.commit("side")
	s.git("checkout", "-q", "--orphan", "apart")
	s.git("commit", "-q", "--allow-empty", "-m", "apart")
	s.git("checkout", "-q", "side")
	s.git("update-ref", "refs/heads/-dash", "main~1") // git branch refuses the name, a push does not
	r := s.open()
	for rev, same := range map[string]string{
		"main": "main", "-dash": "main~1", "@": "side", "side~1": "main~1", "main^{/kits}": "main~1", "harvest": "main~1",
		"main...": "main~1", "...": "side", "harvest...": "harvest", s.git("rev-parse", "--short=8", "main"): "main",
	} {
		got, err := r.Resolve(t.Context(), rev)
		if want := s.git("rev-parse", same); got != want || err != nil {
			t.Errorf("%s: %s, %v; want %s", rev, got, err, want)
		}
	}
	none := strings.Repeat("0123456789", 4)
	for rev, want := range map[string]string{
		"":                "there is no revision \"\"",
		"mian":            "did you mean main?",
		"mian~2":          "did you mean main~2?",
		"Hut/lwo":         "did you mean Hut/low?",
		"nothing":         "git branch --all",
		"--all":           "there is no revision \"--all\"",
		"-h":              "there is no revision \"-h\"",
		"--output=x":      "there is no revision",
		"main~9":          "there is no revision \"main~9\"",
		"main..side":      "is a range",
		"main...side":     "is a range",
		"^main":           "names no single revision",
		"main:alder":      "is a tree, not a commit",
		"main:README":     "is a blob, not a commit",
		"treetag":         "is a tag of something else, not a commit",
		"main:nowhere":    "nowhere",
		"HEAD@{99}":       "log for 'HEAD' only has",
		"side@{upstream}": "no upstream configured",
		none:              "there is no revision \"" + none,
		"apart...":        "their histories are unrelated",
		"a\x00b":          "zero byte",
		"main\nside":      "there is no revision",
	} {
		got, err := r.Resolve(t.Context(), rev)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %q, %v; want %q", rev, got, err, want)
		}
	}
	if _, err := r.Tree(t.Context(), "--all"); err == nil {
		t.Error("a tree of what is no id")
	}

	none2 := newScratch(t)
	if _, err := none2.open().Resolve(t.Context(), "main"); err == nil || !strings.Contains(err.Error(), "no commit yet; commit first, or leave the revision out") {
		t.Error(err)
	}
	s.git("checkout", "-q", "--orphan", "unborn")
	if _, err := r.Resolve(t.Context(), "HEAD"); err == nil || !strings.Contains(err.Error(), "the branch checked out has no commit yet") {
		t.Error(err)
	}
}

// The commands that the errors give are run and do help.
func TestResolveInShallowClone(t *testing.T) {
	t.Parallel()
	s := valley(t)
	s.git("branch", "harvest", "HEAD~1")
	s.git("tag", "v1", "HEAD~2")
	old := s.git("rev-parse", "HEAD~2")
	for _, c := range []struct{ rev, again string }{
		{"HEAD~1", "HEAD~1"}, {"main^", "main^"}, {old[:8], old[:8]}, {"v1", "v1"}, {old, old}, {"harvest", "origin/harvest"}, {"origin/harvest", "origin/harvest"},
	} {
		t.Run(c.rev, func(t *testing.T) {
			n := &scratch{t, s.dir, s.env}
			defer os.RemoveAll(s.dir + "-clone")
			o, _ := n.clone("--depth=1")
			r := o.open()
			got, err := r.Resolve(t.Context(), c.rev)
			if err == nil {
				t.Fatalf("%s", got)
			}
			before := "fetch it: git "
			switch c.rev {
			case old[:8]:
				before = "lies in: git "
			case "v1":
				before = "if it is a tag: git "
			}
			_, command, ok := strings.Cut(err.Error(), before)
			if !ok {
				t.Fatal(err)
			}
			command, _, _ = strings.Cut(command, ",")
			o.git(strings.Fields(command)...)
			got, err = r.Resolve(t.Context(), c.again)
			if want := o.git("rev-parse", c.again); got != want || err != nil {
				t.Errorf("after git %s: %s, %v; want %s", command, got, err, want)
			}
		})
	}
	t.Run("a branch of the remote only", func(t *testing.T) {
		n := &scratch{t, s.dir, s.env}
		defer os.RemoveAll(s.dir + "-clone")
		o, _ := n.clone("--depth=1")
		o.git("checkout", "-q", "--detach")
		o.git("branch", "-q", "-D", "main")
		if got, err := o.open().Resolve(t.Context(), "main"); err == nil || !strings.HasSuffix(err.Error(), "did you mean origin/main?") {
			t.Error(got, err)
		}
	})
	t.Run("merge base", func(t *testing.T) {
		n := &scratch{t, s.dir, s.env}
		o, _ := n.clone("--depth=1")
		o.git("fetch", "-q", "--depth=1", "origin", "harvest:refs/remotes/origin/harvest")
		r := o.open()
		_, err := r.Resolve(t.Context(), "origin/harvest...")
		if err == nil || !strings.Contains(err.Error(), "fetch it: git fetch --unshallow origin") {
			t.Fatal(err)
		}
		o.git("fetch", "-q", "--unshallow", "origin")
		if got, err := r.Resolve(t.Context(), "origin/harvest..."); got != s.git("rev-parse", "harvest") {
			t.Error(got, err)
		}
	})
}

// Links lead where they lead on a disk, as long as that is in the work tree: the same paths are asked of a checkout.
func TestLinksAreFollowedAsOnDisk(t *testing.T) {
	s := newScratch(t)
	s.must(os.WriteFile(s.dir+"-shared.cue", []byte("shared"), 0o644))
	s.must(os.Symlink("valley/alder", s.dir+"-in"))
	s.write(map[string]string{"alder/household.cue": "alder", "alder/packs/a.cue": "a", "birch/b.cue": "b"})
	for name, target := range map[string]string{
		"dir": "alder", "birch/up": "..", "birch/file": "../alder/household.cue", "chain": "birch/up/dir/packs",
		"loop": "loop2", "loop2": "loop", "self": ".", "outslash": "../valley-shared.cue/", "outdots": "../valley-shared.cue/../valley/alder", "dangling": "nowhere", "out": "../valley-shared.cue", "outandin": "../valley-in",
		"through": "alder/household.cue/x", "slash": "alder/", "fileslash": "alder/household.cue/", "abs": s.dir + "/alder", "absout": s.dir + "-shared.cue",
		"root": "/", "beyond": strings.Repeat("../", 60) + strings.TrimPrefix(s.dir, "/") + "/alder", "dotdot": "birch/up/../valley/birch",
		"long": strings.Repeat("self/", 60) + "alder", "short": strings.Repeat("self/", 20) + "alder",
	} {
		s.must(os.Symlink(target, filepath.Join(s.dir, name)))
	}
	s.commit("links")
	r := s.open()
	tree := s.tree(r, "HEAD")
	disk := os.DirFS("/")
	// The work tree goes on to differ, so that what is read below is not the disk's.
	paths := []string{"valley-in", "valley-in/packs/a.cue", "valley-shared.cue", "valley/alder/household.cue/x", "valley/alder/./x", "valley"}
	s.must(fs.WalkDir(os.DirFS(filepath.Dir(s.dir)), "valley", func(p string, d fs.DirEntry, err error) error {
		if d.Name() == ".git" {
			return fs.SkipDir
		}
		for _, below := range []string{"", "/household.cue", "/packs/a.cue", "/b.cue"} {
			paths = append(paths, p+below)
		}
		return err
	}))
	type seen struct {
		Text, Kind, Target, Own string
		Names                   []string
		Err                     []bool
	}
	look := func(fsys fs.FS, p string) (out seen) {
		b, err := fs.ReadFile(fsys, p)
		out.Text = string(b)
		for _, e := range []error{fs.ErrNotExist, fs.ErrInvalid, fs.ErrPermission, nil} {
			out.Err = append(out.Err, errors.Is(err, e))
		}
		if info, err := fs.Stat(fsys, p); err == nil {
			out.Kind = kind(info.Mode())
		}
		if info, err := fs.Lstat(fsys, p); err == nil {
			out.Own = kind(info.Mode())
		}
		out.Target, _ = fs.ReadLink(fsys, p)
		entries, _ := fs.ReadDir(fsys, p)
		for _, e := range entries {
			if e.Name() != ".git" {
				out.Names = append(out.Names, e.Name()+" "+kind(e.Type()))
			}
		}
		if p == s.name("root") { // everything on the machine
			out.Names = nil
		}
		return out
	}
	want := map[string]seen{}
	for _, p := range paths {
		want[p] = look(disk, path.Join(path.Dir(s.name("")), p))
	}
	s.must(os.RemoveAll(filepath.Join(s.dir, "alder")))
	s.write(map[string]string{"alder": "now a file", "birch/b.cue": "now another"})
	for _, p := range paths {
		got := look(tree, path.Join(path.Dir(s.name("")), p))
		name, below, _ := strings.Cut(strings.TrimPrefix(p, "valley/"), "/")
		if slices.Contains([]string{"outslash", "outdots", "out", "outandin", "absout", "root", "beyond", "dotdot"}, name) && p != name {
			if got.Text != "" || got.Kind != "" || got.Names != nil || below == "" && got.Target != want[p].Target {
				t.Errorf("%s leads out of the work tree: %+v", p, got)
			}
			continue
		}
		if diff := cmp.Diff(want[p], got); diff != "" && p != "valley-in" {
			t.Errorf("%s (-disk +tree):\n%s", p, diff)
		}
	}
	if want["valley/long/household.cue"].Text != "" || want["valley/short/household.cue"].Text != "alder" || want["valley/outandin/household.cue"].Text != "alder" {
		t.Error("the disk does not do what the cases are meant to show")
	}
	if _, err := fs.ReadFile(tree, "../x"); !errors.Is(err, fs.ErrInvalid) {
		t.Error(err)
	}
	if pe := (*fs.PathError)(nil); !errors.As(func() error { _, err := tree.Open(s.name("nowhere")); return err }(), &pe) || pe.Path != s.name("nowhere") {
		t.Error("the error names another path than the one asked for")
	}
}

// Names that io/fs cannot spell are listed and not read, as on a disk.
func TestNamesOutsideOfUnicode(t *testing.T) {
	s := newScratch(t)
	s.write(map[string]string{"a/back\\slash.cue": "back", "a/latin-\xe9.cue": "latin", "b": "b"})
	s.commit("odd")
	tree := s.tree(s.open(), "HEAD")
	entries, err := fs.ReadDir(tree, s.name("a"))
	if len(entries) != 2 || entries[1].Name() != "latin-\xe9.cue" || err != nil {
		t.Error(entries, err)
	}
	for name, want := range map[string]string{"a/back\\slash.cue": "back", "a/latin-\xe9.cue": "", "b": "b"} {
		b, err := fs.ReadFile(tree, s.name(name))
		_, onDisk := fs.ReadFile(os.DirFS("/"), s.name(name))
		if string(b) != want || errors.Is(err, fs.ErrInvalid) != errors.Is(onDisk, fs.ErrInvalid) {
			t.Errorf("%q: %q, %v; on the disk %v", name, b, err, onDisk)
		}
	}
}

// A work tree reached through a symlink is spelt as its users spell it.
func TestSpelling(t *testing.T) {
	s := valley(t)
	base := path.Dir(s.dir)
	s.must(os.Symlink("valley", base+"/alias"))
	s.must(os.Symlink("valley/alder", base+"/into"))
	commit := s.git("rev-parse", "HEAD")
	s.write(map[string]string{"alder/household.cue": "changed", "order.cue": "changed"})
	for _, c := range []struct{ dir, read, alder, order string }{
		{"alias", "alias/alder/household.cue", "alias/alder/household.cue", "alias/order.cue"},
		{"alias/alder/packs", "alias/alder/household.cue", "alias/alder/household.cue", "alias/order.cue"},
		{"into", "into/household.cue", "into/household.cue", "valley/order.cue"},
	} {
		r := s.at(path.Join(base, c.dir)).open()
		tree, err := r.Tree(t.Context(), commit, strings.TrimPrefix(path.Join(base, c.dir), "/"))
		s.must(err)
		name := func(rel string) string { return strings.TrimPrefix(path.Join(base, rel), "/") }
		if b, err := fs.ReadFile(tree, name(c.read)); !strings.Contains(string(b), "mill") {
			t.Errorf("%s: %q %v", c.read, b, err)
		}
		if info, err := fs.Lstat(tree, name("alias")); err != nil || info.Mode().Type() != fs.ModeSymlink {
			t.Errorf("%s: the way to the work tree is no symlink any more: %v %v", c.dir, info, err)
		}
		got, err := r.Changed(t.Context(), commit, "")
		want := []Change{{name(c.alder), name(c.alder)}, {name(c.order), name(c.order)}}
		slices.SortFunc(want, compareChanges)
		if diff := cmp.Diff(want, got); diff != "" || err != nil {
			t.Errorf("%s: %v (-want +got):\n%s", c.dir, err, diff)
		}
		for rel, want := range map[string]bool{c.read: true, "valley/deleted": true, "elsewhere": false, "valley": true, "into": true} {
			if r.Holds(name(rel)) != want {
				t.Errorf("%s holds %s: %v", c.dir, rel, !want)
			}
		}
	}
}

func TestSubmodule(t *testing.T) {
	t.Parallel()
	kits := valley(t)
	s := newScratch(t)
	s.write(map[string]string{"alder/household.cue": "alder"})
	s.git("submodule", "--quiet", "add", "file://"+kits.dir, "shared/kits")
	s.at(filepath.Join(s.dir, "shared/kits")).git("checkout", "-q", "HEAD~1")
	s.commit("with a submodule")
	pinned := kits.git("rev-parse", "HEAD~1")
	s.at(filepath.Join(s.dir, "shared/kits")).git("checkout", "-q", "main")
	tree := s.tree(s.open(), "HEAD")
	s.at(filepath.Join(s.dir, "shared/kits")).agree(tree, s.name("shared/kits"), pinned)

	s.git("submodule", "--quiet", "deinit", "--force", "--all")
	tree = s.tree(s.open(), "HEAD")
	_, err := fs.ReadFile(tree, s.name("shared/kits/order.cue"))
	_, command, ok := strings.Cut(fmt.Sprint(err), "fetch it: git ")
	if !ok {
		t.Fatal(err)
	}
	if b, err := fs.ReadFile(tree, s.name("alder/household.cue")); string(b) != "alder" {
		t.Error(err)
	}
	s.git(strings.Fields(command)...)
	if b, err := fs.ReadFile(s.tree(s.open(), "HEAD"), s.name("shared/kits/order.cue")); len(b) == 0 {
		t.Error(err)
	}

	// The submodule has moved on to a history without the commit.
	sub := s.at(filepath.Join(s.dir, "shared/kits"))
	s.must(os.RemoveAll(filepath.Join(s.dir, ".git/modules/shared/kits")))
	s.must(os.RemoveAll(sub.dir))
	s.git("clone", "-q", "--depth=1", "file://"+kits.dir, sub.dir)
	_, err = fs.ReadDir(s.tree(s.open(), "HEAD"), s.name("shared/kits"))
	if err == nil || !strings.Contains(err.Error(), "git -C "+sub.dir+" fetch") {
		t.Error(err)
	}
}

func TestPartialClone(t *testing.T) {
	t.Parallel()
	for _, filter := range []string{"blob:none", "tree:0"} {
		t.Run(filter, func(t *testing.T) {
			s := valley(t)
			o, _ := s.clone("--filter=" + filter)
			s.must(os.WriteFile(filepath.Join(o.dir, "new.cue"), []byte(strings.Repeat("x", 60_000)), 0o644))
			before := o.git("rev-list", "--objects", "--missing=print", "--all")
			again := "complete the clone, then run the same again: git -C " + o.dir + " fetch --refetch --no-filter origin"
			r := o.open()
			head, past := o.git("rev-parse", "HEAD"), o.git("rev-parse", "HEAD~1")
			tree := o.tree(r, "HEAD")
			o.agree(tree, o.name(""), head) // the checkout has fetched all of it
			if list, err := r.Changed(t.Context(), head, ""); len(list) != 1 || err != nil {
				t.Error(list, err)
			}
			if filter == "blob:none" {
				if list, err := r.Changed(t.Context(), past, head); len(list) != 3 || err != nil {
					t.Error(list, err)
				}
				o.tree(r, "HEAD~1", o.name("order"), o.name("names"), "etc")
				tree := o.tree(r, "HEAD~1", o.name("order"))
				for range 2 {
					if _, err := fs.ReadFile(tree, o.name("birch/household.cue")); err == nil || !strings.Contains(err.Error(), again) {
						t.Error(err)
					}
					if b, err := fs.ReadFile(tree, o.name("order.cue")); string(b) != kits["order.cue"] {
						t.Errorf("what is there is not read after what is missing: %q %v", b, err)
					}
				}
			}
			// What is renamed is told by reading what was deleted, and Changed reads nothing else.
			list, err := r.Changed(t.Context(), past, "")
			if err == nil || !strings.Contains(err.Error(), again) {
				t.Error(list, err)
			}
			for _, folders := range [][]string{nil, {o.name("birch")}, {o.name("alder"), o.name("order")}} {
				if _, err := r.Tree(t.Context(), past, folders...); err == nil || !strings.Contains(err.Error(), again) {
					t.Errorf("%q: %v", folders, err)
				}
			}
			if diff := cmp.Diff(before, o.git("rev-list", "--objects", "--missing=print", "--all")); diff != "" {
				t.Errorf("something was fetched (-before +after):\n%s", diff)
			}
		})
	}
}

func TestDamagedObject(t *testing.T) {
	s := valley(t)
	loose := func(name string) string {
		id := s.git("rev-parse", "HEAD:"+name)
		return filepath.Join(s.dir, ".git/objects", id[:2], id[2:])
	}
	s.must(os.Chmod(loose("order.cue"), 0o644))
	s.must(os.WriteFile(loose("order.cue"), []byte("no zlib"), 0o644))
	s.must(os.Remove(loose("order/a")))
	s.must(os.Chmod(loose("names"), 0o644))
	s.must(os.WriteFile(loose("names"), nil, 0o644))
	tree := s.tree(s.open(), "HEAD")
	for range 2 {
		for _, name := range []string{"order.cue", "order/a", "names/with space.cue"} {
			if b, err := fs.ReadFile(tree, s.name(name)); err == nil || !strings.Contains(err.Error(), "git fsck") {
				t.Errorf("%s: %q, %v", name, b, err)
			}
		}
		if b, err := fs.ReadFile(tree, s.name("order-1/a")); string(b) != kits["order-1/a"] {
			t.Errorf("a sound file suffers: %q %v", b, err)
		}
	}
}

// No disk has a symlink to nothing; an empty path is none (path_resolution(7)).
func TestEmptyLink(t *testing.T) {
	s := valley(t)
	s.git("update-index", "--add", "--cacheinfo", "120000,"+s.git("rev-parse", "HEAD:empty")+",alder/nothing")
	s.git("commit", "-q", "-m", "empty link")
	tree := s.tree(s.open(), "HEAD")
	if info, err := fs.Stat(tree, s.name("alder/nothing")); !errors.Is(err, fs.ErrNotExist) {
		t.Error(info, err)
	}
	// What a caller does with a list is no matter to the next one.
	first, err := fs.ReadDir(tree, s.name("alder"))
	s.must(err)
	clear(first)
	if again, err := fs.ReadDir(tree, s.name("alder")); len(again) != 3 || again[0] == nil || err != nil {
		t.Error(again, err)
	}
}

// Names that a checkout never makes must not lead anywhere.
func TestHostileFolder(t *testing.T) {
	id := strings.Repeat("\x07", 20)
	for _, name := range []string{"..", ".", "a/b", "", "a\x00" + id + "100644 a"} {
		s := newScratch(t)
		cmd := exec.Command("git", "hash-object", "-t", "tree", "-w", "--literally", "--stdin")
		cmd.Dir, cmd.Env = s.dir, s.env
		cmd.Stdin = strings.NewReader("100644 " + name + "\x00" + id)
		folder, err := cmd.Output()
		s.must(err)
		commit := s.git("commit-tree", "-m", "hostile", strings.TrimSpace(string(folder)))
		if tree, err := s.open().Tree(t.Context(), commit); err == nil || !strings.Contains(err.Error(), "damaged") {
			t.Errorf("%q: %v, %v", name, tree, err)
		}
	}
}

func TestLargeFile(t *testing.T) {
	s := newScratch(t)
	f, err := os.Create(filepath.Join(s.dir, "film"))
	s.must(err)
	s.must(f.Truncate(maxBlob + 1))
	s.must(f.Close())
	s.write(map[string]string{"after": "after"})
	s.commit("large")
	r := s.open()
	tree := s.tree(r, "HEAD")
	if o, err := r.object(s.git("rev-parse", "HEAD:film")); o.body != nil || o.size != maxBlob+1 || err != nil {
		t.Errorf("%d of %d bytes are held in memory, %v", len(o.body), o.size, err)
	}
	if info, err := fs.Stat(tree, s.name("film")); err != nil || info.Size() != maxBlob+1 {
		t.Error(info, err)
	}
	file, err := tree.Open(s.name("film"))
	s.must(err)
	if _, err := io.ReadAll(file); err == nil || !strings.Contains(err.Error(), "at most 64 MiB") {
		t.Error(err)
	}
	if b, err := fs.ReadFile(tree, s.name("after")); string(b) != "after" {
		t.Error(err)
	}
}

func TestManyReaders(t *testing.T) {
	s := valley(t)
	r := s.open()
	trees := []fs.FS{s.tree(r, "HEAD~1"), s.tree(r, "HEAD~1"), s.tree(r, "HEAD")}
	var wg sync.WaitGroup
	for i := range 12 {
		wg.Go(func() {
			b, err := fs.ReadFile(trees[i%2], s.name("deep/er/and/er/still.cue"))
			if len(b) != 70_000 || err != nil {
				t.Error(len(b), err)
			}
			entries, err := fs.ReadDir(trees[i%3], s.name("alder"))
			if len(entries) != 2 || err != nil {
				t.Error(entries, err)
			}
			if b, _ := fs.ReadFile(trees[2], s.name("alder/household.cue")); !bytes.Contains(b, []byte("mill")) {
				t.Errorf("%s", b)
			}
		})
	}
	wg.Wait()
}

func TestProcessEnds(t *testing.T) {
	s := valley(t)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	for why, end := range map[string]func(*Repository){"closed": func(r *Repository) { r.Close() }, "cancelled": func(*Repository) { cancel() }} {
		if why == "closed" {
			ctx, cancel = context.WithCancel(t.Context())
			defer cancel()
		}
		r, err := OpenRepository(ctx, s.dir, s.env)
		s.must(err)
		tree, err := r.Tree(ctx, s.git("rev-parse", "HEAD"))
		s.must(err)
		process := r.objects
		end(r)
		if _, err := fs.ReadFile(tree, s.name("order.cue")); err == nil {
			t.Errorf("%s: still readable", why)
		}
		deadline := time.Now().Add(10 * time.Second)
		for {
			if _, err := process.out.Peek(1); err != nil { // git's end of the pipe is shut
				break
			}
			if time.Now().After(deadline) {
				t.Fatalf("%s: git goes on", why)
			}
		}
		if _, err := r.Resolve(ctx, "HEAD"); why == "cancelled" && !errors.Is(err, context.Canceled) {
			t.Error(err)
		}
	}
}

// The cost of a whole tree read file by file, against git's own archive of it.
func BenchmarkTree(b *testing.B) {
	s := newScratch(b)
	files := map[string]string{}
	for i := range 500 {
		for j := range 4 {
			files[fmt.Sprintf("h%03d/f%d.cue", i, j)] = strings.Repeat(fmt.Sprintf("item%d: mass: \"%d g\"\n", j, i), 20)
		}
	}
	s.write(files)
	commit := s.commit("all")
	s.git("gc", "-q")
	var ours, theirs time.Duration
	for b.Loop() {
		start := time.Now()
		r, err := OpenRepository(context.Background(), s.dir, s.env)
		s.must(err)
		tree, err := r.Tree(context.Background(), commit)
		s.must(err)
		n := 0
		s.must(fs.WalkDir(tree, s.name(""), func(p string, d fs.DirEntry, err error) error {
			if err == nil && !d.IsDir() {
				n++
				_, err = fs.ReadFile(tree, p)
			}
			return err
		}))
		r.Close()
		ours += time.Since(start)
		if n != len(files) {
			b.Fatalf("%d files", n)
		}
		start = time.Now()
		s.git("archive", "--format=tar", commit)
		theirs += time.Since(start)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "times-archive")
	runtime.KeepAlive(files)
}
