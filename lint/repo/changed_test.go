package repo

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// changed gives the changes with paths below the scratch folder.
func (s *scratch) changed(base, head string) []Change {
	s.t.Helper()
	list, err := s.open().Changed(s.t.Context(), base, head)
	s.must(err)
	for i, c := range list {
		for _, p := range []*string{&c.Old, &c.New} {
			if *p != "" {
				rest, ok := strings.CutPrefix(*p, s.name("")+"/")
				if !ok {
					s.t.Errorf("%q is not in the path space of the tree", *p)
				}
				*p = rest
			}
		}
		list[i] = c
	}
	return list
}

// differing finds by reading every byte what Changed must tell: the paths that differ between two trees.
func (s *scratch) differing(a, b fs.FS) (out []string) {
	s.t.Helper()
	read := func(fsys fs.FS) map[string]string {
		m := map[string]string{}
		s.must(fs.WalkDir(fsys, s.name(""), func(p string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case d.Name() == ".git":
				if d.IsDir() {
					return fs.SkipDir
				}
			case d.Type() == fs.ModeSymlink:
				m[p], err = fs.ReadLink(fsys, p)
				m[p] = "link " + m[p]
			case d.Type() == 0:
				var t []byte
				t, err = fs.ReadFile(fsys, p)
				m[p] = "file " + string(t)
			}
			return err
		}))
		return m
	}
	x, y := read(a), read(b)
	for p := range x {
		if x[p] != y[p] {
			out = append(out, strings.TrimPrefix(p, s.name("")+"/"))
		}
	}
	for p := range y {
		if _, ok := x[p]; !ok {
			out = append(out, strings.TrimPrefix(p, s.name("")+"/"))
		}
	}
	slices.Sort(out)
	return out
}

func touched(list []Change) (out []string) {
	for _, c := range list {
		for _, p := range []string{c.Old, c.New} {
			if p != "" && !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	slices.Sort(out)
	return out
}

const long = "one\ntwo\nthree\nfour\nfive\nsix\nseven\neight\nnine\nten\n"

// Each case changes a repository whose only commit holds the same files.
func TestChanged(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why  string
		do   func(s *scratch)
		want []Change
	}{
		{"nothing", func(*scratch) {}, nil},
		{"a file touched only", func(s *scratch) {
			s.must(os.Chtimes(filepath.Join(s.dir, "a.cue"), time.Now(), time.Now().Add(time.Hour)))
		}, nil},
		{"written, not staged", func(s *scratch) { s.write(map[string]string{"a.cue": "new"}) }, []Change{{"a.cue", "a.cue"}}},
		{"staged", func(s *scratch) { s.write(map[string]string{"a.cue": "new"}); s.git("add", "-A") }, []Change{{"a.cue", "a.cue"}}},
		{"staged, then put back", func(s *scratch) {
			s.write(map[string]string{"a.cue": "new"})
			s.git("add", "-A")
			s.write(map[string]string{"a.cue": "a"})
		}, nil},
		{"committed", func(s *scratch) { s.write(map[string]string{"a.cue": "new"}); s.commit("next") }, []Change{{"a.cue", "a.cue"}}},
		{"of the same size and time", func(s *scratch) {
			s.git("config", "core.trustctime", "false") // or the time of the inode tells
			past := time.Now().Add(-time.Hour)
			s.must(os.Chtimes(filepath.Join(s.dir, "a.cue"), past, past))
			s.git("add", "a.cue")
			s.write(map[string]string{"a.cue": "A"})
			s.must(os.Chtimes(filepath.Join(s.dir, "a.cue"), past, past))
			s.must(os.Chtimes(filepath.Join(s.dir, ".git/index"), past, past)) // as a fast computer leaves it
		}, []Change{{"a.cue", "a.cue"}}},
		{"untracked", func(s *scratch) { s.write(map[string]string{"n/ew.cue": "n"}) }, []Change{{"", "n/ew.cue"}}},
		{"ignored by name", func(s *scratch) { s.write(map[string]string{".gitignore": "*.tmp\nprivate.cue\n", "private.cue": "p"}) },
			[]Change{{".gitignore", ".gitignore"}, {"", "private.cue"}}},
		{"ignored folder", func(s *scratch) { s.write(map[string]string{"x.tmp/kit/a.cue": "p"}) }, []Change{{"", "x.tmp/kit/a.cue"}}},
		{"ignored, yet committed before", func(s *scratch) { s.write(map[string]string{"seen.tmp": "new"}) }, []Change{{"seen.tmp", "seen.tmp"}}},
		{"taken out of the index, left on the disk", func(s *scratch) { s.git("rm", "-q", "--cached", "a.cue") }, nil},
		{"taken out of the index and changed", func(s *scratch) {
			s.git("rm", "-q", "--cached", "a.cue")
			s.write(map[string]string{"a.cue": "new"})
		}, []Change{{"a.cue", "a.cue"}}},
		{"deleted", func(s *scratch) { s.must(os.Remove(filepath.Join(s.dir, "a.cue"))) }, []Change{{"a.cue", ""}}},
		{"deleted and staged", func(s *scratch) { s.git("rm", "-q", "a.cue") }, []Change{{"a.cue", ""}}},
		{"renamed with git", func(s *scratch) { s.git("mv", "d/long.cue", "moved.cue") }, []Change{{"d/long.cue", "moved.cue"}}},
		{"renamed without git, and edited", func(s *scratch) {
			s.must(os.Remove(filepath.Join(s.dir, "d/long.cue")))
			s.write(map[string]string{"moved.cue": long + "eleven\n"})
		}, []Change{{"d/long.cue", "moved.cue"}}},
		{"intent to add", func(s *scratch) { s.write(map[string]string{"n.cue": "n"}); s.git("add", "-N", "n.cue") }, []Change{{"", "n.cue"}}},
		{"staged, then deleted", func(s *scratch) {
			s.write(map[string]string{"n.cue": "n"})
			s.git("add", "n.cue")
			s.must(os.Remove(filepath.Join(s.dir, "n.cue")))
		}, nil},
		{"assume-unchanged", func(s *scratch) {
			s.git("update-index", "--assume-unchanged", "a.cue", "b.cue", "d/long.cue")
			s.write(map[string]string{"a.cue": "new"})
			s.must(os.Remove(filepath.Join(s.dir, "b.cue")))
		}, []Change{{"a.cue", "a.cue"}, {"b.cue", ""}}},
		{"skip-worktree", func(s *scratch) {
			s.git("update-index", "--skip-worktree", "a.cue", "b.cue")
			s.write(map[string]string{"a.cue": "new"})
			s.must(os.Remove(filepath.Join(s.dir, "b.cue")))
		}, []Change{{"a.cue", "a.cue"}}},
		{"sparse", func(s *scratch) {
			s.git("sparse-checkout", "set", "--cone", "e")
			s.write(map[string]string{"e/e.cue": "new"})
		}, []Change{{"e/e.cue", "e/e.cue"}}},
		{"executable", func(s *scratch) { s.must(os.Chmod(filepath.Join(s.dir, "a.cue"), 0o755)) }, nil},
		{"executable and staged", func(s *scratch) { s.git("update-index", "--chmod=+x", "a.cue") }, nil},
		{"executable and written", func(s *scratch) {
			s.write(map[string]string{"a.cue": "new"})
			s.git("add", "a.cue")
			s.git("update-index", "--chmod=+x", "a.cue")
		}, []Change{{"a.cue", "a.cue"}}},
		{"a file becomes a symlink", func(s *scratch) {
			s.must(os.Remove(filepath.Join(s.dir, "a.cue")))
			s.must(os.Symlink("b.cue", filepath.Join(s.dir, "a.cue")))
		}, []Change{{"a.cue", "a.cue"}}},
		{"a file becomes a folder", func(s *scratch) {
			s.must(os.Remove(filepath.Join(s.dir, "a.cue")))
			s.write(map[string]string{"a.cue/x": "x"})
		}, []Change{{"a.cue", ""}, {"", "a.cue/x"}}},
		{"a folder becomes a file", func(s *scratch) {
			s.must(os.RemoveAll(filepath.Join(s.dir, "e")))
			s.write(map[string]string{"e": "x"})
		}, []Change{{"", "e"}, {"e/e.cue", ""}, {"e/longer.cue", ""}}},
		{"unmerged", func(s *scratch) {
			s.git("checkout", "-q", "-b", "one")
			s.write(map[string]string{"a.cue": "one", "e/e.cue": "one", "e/longer.cue": "one"})
			s.must(os.Remove(filepath.Join(s.dir, "b.cue")))
			s.commit("one")
			s.git("checkout", "-q", "main")
			s.write(map[string]string{"a.cue": "two", "b.cue": "two", "e/e.cue": "two", "e/longer.cue": "two"})
			s.commit("two")
			if _, err := s.try("merge", "-q", "one"); err == nil {
				s.t.Error("no conflict")
			}
			s.must(os.Remove(filepath.Join(s.dir, "b.cue")))
			s.must(os.Remove(filepath.Join(s.dir, "e/longer.cue")))
			s.write(map[string]string{"e/e.cue": "e", "longer.cue": strings.ToUpper(long)})
		}, []Change{{"a.cue", "a.cue"}, {"b.cue", ""}, {"e/longer.cue", "longer.cue"}}},
		{"odd names", func(s *scratch) {
			s.write(map[string]string{"with space": "1", "with\nnewline": "2", "\"q\"": "3", "-dash": "4", "水": "5", "*": "6", "tab\there": "7", "b\\s": "8", ":(top)x": "9"})
			s.write(map[string]string{"odd 水\n\"": "new"})
		}, []Change{{"", "\"q\""}, {"", "*"}, {"", "-dash"}, {"", ":(top)x"}, {"", "b\\s"}, {"odd 水\n\"", "odd 水\n\""}, {"", "tab\there"}, {"", "with\nnewline"}, {"", "with space"}, {"", "水"}}},
		{"names that no index holds", func(s *scratch) { s.write(map[string]string{"x/.GIT/y": "1", "git~1": "2"}) }, []Change{{"", "git~1"}, {"", "x/.GIT/y"}}},
		{"a repository inside", func(s *scratch) {
			s.write(map[string]string{"inner/a.cue": "1"})
			i := s.at(filepath.Join(s.dir, "inner"))
			i.git("init", "-q")
			i.commit("inner")
		}, []Change{{"", "inner"}}},
		{"line ends turned on checkout", func(s *scratch) {
			s.git("config", "core.autocrlf", "true")
			s.must(os.Remove(filepath.Join(s.dir, "d/long.cue")))
			s.git("checkout", "-q", "--", "d/long.cue")
			if b, _ := os.ReadFile(filepath.Join(s.dir, "d/long.cue")); !bytes.Contains(b, []byte("\r\n")) {
				s.t.Error("git turned no line ends")
			}
		}, nil},
		{"settings made to break programs", func(s *scratch) {
			s.must(os.Chtimes(filepath.Join(s.dir, "b.cue"), time.Now(), time.Now().Add(time.Hour)))
			s.must(os.Remove(filepath.Join(s.dir, "d/long.cue")))
			s.must(os.Remove(filepath.Join(s.dir, "e/longer.cue")))
			s.write(map[string]string{"moved.cue": long + "11", "moved2.cue": strings.ToUpper(long) + "11"})
			s.write(map[string]string{"a.cue": "new"})
			s.awkward()
		}, []Change{{"a.cue", "a.cue"}, {"d/long.cue", "moved.cue"}, {"e/longer.cue", "moved2.cue"}}},
		{"no index", func(s *scratch) { s.must(os.Remove(filepath.Join(s.dir, ".git/index"))) }, nil},
		{"an index of another commit", func(s *scratch) { s.git("read-tree", s.git("commit-tree", "-m", "x", s.git("mktree"))) }, nil},
		{"a split index", func(s *scratch) {
			s.git("update-index", "--split-index")
			s.write(map[string]string{"a.cue": "new", "n.cue": "n"})
		}, []Change{{"a.cue", "a.cue"}, {"", "n.cue"}}},
	} {
		t.Run(c.why, func(t *testing.T) {
			s := newScratch(t)
			s.write(map[string]string{".gitignore": "*.tmp\n", "a.cue": "a", "b.cue": "b", "d/long.cue": long, "e/e.cue": "e", "e/longer.cue": strings.ToUpper(long), "odd 水\n\"": "odd"})
			s.write(map[string]string{"seen.tmp": "seen"})
			s.git("add", "-f", "seen.tmp")
			base := s.commit("base")
			c.do(s)
			before := s.gitFiles()
			got := s.changed(base, "")
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(before, s.gitFiles()); diff != "" {
				t.Errorf("the repository was changed (-before +after):\n%s", diff)
			}
			if _, err := os.Stat(s.dir + "-ran"); err == nil {
				t.Error("a program named by the repository's settings was run")
			}
			// What a sparse checkout leaves out is the one thing that reading everything shows and Changed does not; filters are the other.
			if c.why != "sparse" && c.why != "skip-worktree" && c.why != "a repository inside" && c.why != "line ends turned on checkout" {
				if diff := cmp.Diff(s.differing(s.tree(s.open(), base), os.DirFS("/")), touched(got)); diff != "" {
					t.Errorf("(-by reading everything +Changed):\n%s", diff)
				}
			}
		})
	}
}

// gitFiles sums up the repository's own files, times included; only the time of
// a shared index moves whenever git reads it, so that it is not thrown away.
func (s *scratch) gitFiles() map[string]string {
	s.t.Helper()
	out := map[string]string{}
	dir := os.DirFS(filepath.Join(s.dir, ".git"))
	s.must(fs.WalkDir(dir, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(dir, p)
		info, _ := d.Info()
		out[p] = fmt.Sprintf("%x", sha256.Sum256(b))
		if !strings.HasPrefix(p, "sharedindex.") {
			out[p] += info.ModTime().String()
		}
		return err
	}))
	return out
}

func TestChangedBetweenCommits(t *testing.T) {
	s := valley(t)
	first, second, third := s.git("rev-parse", "HEAD~2"), s.git("rev-parse", "HEAD~1"), s.git("rev-parse", "HEAD")
	s.git("mv", "deep/er/and/er/still.cue", "still 水.cue")
	s.git("update-index", "--chmod=-x", "run")
	s.must(os.Remove(filepath.Join(s.dir, "link")))
	s.write(map[string]string{"link": "a file now"})
	s.must(os.Chmod(filepath.Join(s.dir, "run"), 0o644))
	fourth := s.commit("fourth")
	s.write(map[string]string{"order.cue": "the work tree does not count"})
	s.awkward()
	want := []Change{{"link", "link"}, {"deep/er/and/er/still.cue", "still 水.cue"}}
	if diff := cmp.Diff(want, s.changed(third, fourth)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	r := s.open()
	for _, pair := range [][2]string{{first, second}, {second, third}, {first, fourth}, {fourth, first}, {third, third}} {
		by := s.differing(s.tree(r, pair[0]), s.tree(r, pair[1]))
		if diff := cmp.Diff(by, touched(s.changed(pair[0], pair[1]))); diff != "" {
			t.Errorf("%v (-by reading everything +Changed):\n%s", pair, diff)
		}
	}
	if _, err := r.Changed(t.Context(), "--output=x", ""); err == nil {
		t.Error("an option is taken for a commit")
	}
	if _, err := r.Changed(t.Context(), strings.Repeat("0", 39)+"1", ""); err == nil {
		t.Error("a commit that is not there has no changes")
	}
}

func TestChangedSubmodule(t *testing.T) {
	kits := valley(t)
	s := newScratch(t)
	s.git("submodule", "--quiet", "add", "file://"+kits.dir, "shared")
	base := s.commit("base")
	sub := s.at(filepath.Join(s.dir, "shared"))
	s.must(os.Chtimes(filepath.Join(sub.dir, "order.cue"), time.Now(), time.Now().Add(time.Hour)))
	before := s.gitFiles()
	if got := s.changed(base, ""); got != nil {
		t.Error(got)
	}
	if diff := cmp.Diff(before, s.gitFiles()); diff != "" {
		t.Errorf("the submodule's index was written (-before +after):\n%s", diff)
	}
	for why, do := range map[string]func(){
		"ignored": func() {
			s.write(map[string]string{".git/modules/shared/info/exclude": "private.cue\n", "shared/private.cue": "p"})
		},
		"another commit": func() { sub.git("checkout", "-q", "HEAD~1") },
		"written":        func() { sub.write(map[string]string{"order.cue": "new"}) },
		"untracked":      func() { sub.write(map[string]string{"new.cue": "new"}) },
	} {
		do()
		if diff := cmp.Diff([]Change{{"shared", "shared"}}, s.changed(base, "")); diff != "" {
			t.Errorf("%s (-want +got):\n%s", why, diff)
		}
		sub.git("checkout", "-q", "--force", "main")
		sub.git("clean", "-q", "-f", "-x")
	}
	s.write(map[string]string{"a.cue": "beside it"})
	s.must(os.RemoveAll(sub.dir))
	s.must(os.Mkdir(sub.dir, 0o755))
	if diff := cmp.Diff([]Change{{"", "a.cue"}}, s.changed(base, "")); diff != "" {
		t.Errorf("not checked out (-want +got):\n%s", diff)
	}
	s.git("submodule", "--quiet", "update", "--force")
	s.must(os.Remove(filepath.Join(s.dir, "a.cue")))
	sub.git("checkout", "-q", "HEAD~1")
	if diff := cmp.Diff([]Change{{"shared", "shared"}}, s.changed(base, s.commit("moved"))); diff != "" {
		t.Error(diff)
	}
}

// The test runs itself as the pre-commit hook of a real commit.
func TestInsideHook(t *testing.T) {
	if out := os.Getenv("KITMUSTER_TEST_HOOK"); out != "" {
		inHook(t, out, os.Getenv("KITMUSTER_TEST_DIR"))
		return
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		why    string
		commit []string
		linked bool
		staged []string // what becomes part of the commit
	}{
		{"commit", []string{"commit", "-q", "-m", "x"}, false, []string{"a.cue", "new.cue"}},
		{"commit -a", []string{"commit", "-q", "-a", "-m", "x"}, false, []string{"a.cue", "b.cue", "new.cue"}},
		{"commit of one path", []string{"commit", "-q", "-m", "x", "b.cue"}, false, []string{"b.cue"}},
		{"commit in a linked work tree", []string{"commit", "-q", "-m", "x"}, true, []string{"a.cue", "new.cue"}},
	} {
		t.Run(c.why, func(t *testing.T) {
			s := newScratch(t)
			s.write(map[string]string{"a.cue": "a", "b.cue": "b", "c.cue": "c"})
			s.commit("base")
			o := s
			if c.linked {
				s.git("worktree", "add", "-q", "--detach", s.dir+"-linked")
				o = s.at(s.dir + "-linked")
			}
			other := valley(t)
			o.write(map[string]string{"a.cue": "staged", "new.cue": "staged"})
			o.git("add", "-A")
			o.write(map[string]string{"b.cue": "not staged"})
			out := s.dir + "-out"
			s.write(map[string]string{".git/hooks/pre-commit": "#!/bin/sh\nexec '" + self + "' -test.run '^TestInsideHook$' >&2\n"})
			s.must(os.Chmod(filepath.Join(s.dir, ".git/hooks/pre-commit"), 0o755))
			cmd := exec.Command("git", c.commit...)
			cmd.Dir = o.dir
			cmd.Env = append(slices.Clip(o.env), "KITMUSTER_TEST_HOOK="+out, "KITMUSTER_TEST_DIR="+o.dir+":"+other.dir)
			if b, err := cmd.CombinedOutput(); err != nil {
				t.Fatalf("%v\n%s", err, b)
			}
			b, err := os.ReadFile(out)
			s.must(err)
			change := map[string]Change{"a.cue": {o.name("a.cue"), o.name("a.cue")}, "b.cue": {o.name("b.cue"), o.name("b.cue")}, "new.cue": {"", o.name("new.cue")}}
			var staged []Change
			for _, name := range c.staged {
				staged = append(staged, change[name])
			}
			want := fmt.Sprint([]Change{change["a.cue"], change["b.cue"], change["new.cue"]}, nil, "a", []Change{}, staged, []Change{})
			if diff := cmp.Diff(want, string(b)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func inHook(t *testing.T, out, dirs string) {
	if os.Getenv("GIT_INDEX_FILE") == "" {
		t.Fatal("git sets no index for the hook, so this shows nothing")
	}
	dir, other, _ := strings.Cut(dirs, ":")
	look := func(dir string) (list, staged []Change, tree fs.FS) {
		r, err := OpenRepository(t.Context(), dir, os.Environ())
		if err != nil {
			t.Fatal(err)
		}
		head, err := r.Resolve(t.Context(), "HEAD")
		if err != nil {
			t.Fatal(err)
		}
		if tree, err = r.Tree(t.Context(), head); err != nil {
			t.Fatal(err)
		}
		if list, err = r.Changed(t.Context(), head, ""); err != nil {
			t.Fatal(err)
		}
		name, err := r.Stage(t.Context(), t.TempDir())
		if err != nil {
			t.Fatal(err)
		}
		if staged, err = r.Changed(t.Context(), head, name); err != nil {
			t.Fatal(err)
		}
		return list, staged, tree
	}
	list, staged, tree := look(dir)
	b, err := fs.ReadFile(tree, strings.TrimPrefix(dir, "/")+"/a.cue")
	elsewhere, stagedThere, _ := look(other)
	if e := os.WriteFile(out, []byte(fmt.Sprint(list, err, string(b), elsewhere, staged, stagedThere)), 0o644); e != nil {
		t.Fatal(e)
	}
}

// A work tree whose repository lies elsewhere is found by the two variables that say so.
func TestRepositoryNamedByTheEnvironment(t *testing.T) {
	s := valley(t)
	away := s.dir + "-away"
	commit := s.git("rev-parse", "HEAD")
	s.must(os.Rename(filepath.Join(s.dir, ".git"), away))
	env := append(slices.Clip(s.env), "GIT_DIR="+away, "GIT_WORK_TREE="+s.dir)
	r, err := OpenRepository(t.Context(), filepath.Join(s.dir, "alder"), env)
	s.must(err)
	defer r.Close()
	tree, err := r.Tree(t.Context(), commit)
	s.must(err)
	if b, err := fs.ReadFile(tree, s.name("order.cue")); string(b) != kits["order.cue"] {
		t.Error(err)
	}
	if list, err := r.Changed(t.Context(), commit, ""); len(list) != 0 || err != nil {
		t.Error(list, err)
	}
	if r, err := OpenRepository(t.Context(), filepath.Dir(s.dir), env); err == nil {
		t.Errorf("%s is taken for a folder of the work tree", r.dir)
	}
	if _, err := OpenRepository(t.Context(), s.dir, s.env); err == nil || errors.Is(err, fs.ErrNotExist) {
		t.Error(err)
	}
}

// The cost of finding one change among 2,000 files, against git status.
func BenchmarkChanged(b *testing.B) {
	s := newScratch(b)
	files := map[string]string{}
	for i := range 2000 {
		files[fmt.Sprintf("h%03d/f%d.cue", i/4, i%4)] = strings.Repeat(fmt.Sprintf("item%d: mass: \"5 g\"\n", i), 20)
	}
	s.write(files)
	base := s.commit("all")
	s.write(map[string]string{"h007/f0.cue": "changed", "new.cue": "new"})
	r := s.open()
	var ours, theirs time.Duration
	for b.Loop() {
		start := time.Now()
		list, err := r.Changed(b.Context(), base, "")
		ours += time.Since(start)
		if len(list) != 2 || err != nil {
			b.Fatal(list, err)
		}
		start = time.Now()
		s.git("status", "--porcelain")
		theirs += time.Since(start)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "times-status")
}
