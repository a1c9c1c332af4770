package repo

import (
	"context"
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

// trap is a program that leaves a file when it is run.
func (s *scratch) trap() (program string, sprung func() bool) {
	s.t.Helper()
	program, mark := s.dir+"-trap", s.dir+"-sprung"
	s.must(os.WriteFile(program, []byte("#!/bin/sh\n: > '"+mark+"'\nexit 1\n"), 0o755))
	return program, func() bool {
		_, err := os.Stat(mark)
		_ = os.Remove(mark) // if it is there
		return err == nil
	}
}

// configure adds a section to the clone's configuration as it is, where git config would refuse or run something.
func (s *scratch) configure(text string) {
	s.t.Helper()
	p := filepath.Join(s.dir, ".git/config")
	old, err := os.ReadFile(p)
	s.must(err)
	s.must(os.WriteFile(p, append(old, "\n"+text+"\n"...), 0o644))
}

// A filter may have any name that an attribute can hold; none is run, and a file that one would have cleaned counts as changed.
func TestFiltersAreNotRun(t *testing.T) {
	for _, name := range []string{"x", "a=b", "=", "a.b.c", ".", "UPPER", "x.clean", "x=y.z=w", `quo"te`, `back\slash`, "水", "latin-\xe9", "]", "#;", strings.Repeat("long", 500)} {
		for _, kind := range []string{"clean", "process", "required"} {
			s := newScratch(t)
			trap, sprung := s.trap()
			s.write(map[string]string{"a.cue": "a", "b.txt": "b"})
			base := s.commit("base")
			quoted := strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(name)
			text := fmt.Sprintf("[Filter \"%s\"]\n\tCLEAN = \"%s\"\n", quoted, trap)
			if kind != "clean" {
				text = strings.Replace(text, "CLEAN", "process", 1)
			}
			if kind == "required" {
				text += "\trequired = true\n"
			}
			s.configure(text)
			s.must(os.MkdirAll(filepath.Join(s.dir, ".git/info"), 0o755))
			s.write(map[string]string{".git/info/attributes": "*.cue filter=" + name + "\n", "a.cue": "b"})
			if got := s.changed(base, ""); !slices.Equal(got, []Change{{"a.cue", "a.cue"}}) || sprung() {
				t.Errorf("%s of %q: %v; run: %v", kind, name, got, sprung())
			}
			_, _ = s.try("diff")
			if !sprung() {
				t.Errorf("%s of %q: git by itself does not run it, so this shows nothing", kind, name)
			}
		}
	}
	s := newScratch(t)
	s.configure("[filter \"x\"]\n\tclean = tr a-z A-Z\n\tsmudge = tr A-Z a-z\n")
	s.write(map[string]string{".gitattributes": "*.cue filter=x\n", "a.cue": "a", "b": "b"})
	base := s.commit("base")
	if got := s.git("show", "HEAD:a.cue"); got != "A" {
		t.Fatal(got)
	}
	s.must(os.Chtimes(filepath.Join(s.dir, "a.cue"), time.Time{}, time.Now().Add(time.Hour)))
	if diff := cmp.Diff([]Change{{"a.cue", "a.cue"}}, s.changed(base, "")); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// Every way to a program that a missing object can take is shut by the protocols alone, since older gits know no GIT_NO_LAZY_FETCH.
func TestNothingIsFetched(t *testing.T) {
	all := walls
	defer func() { walls = all }()
	for why, remote := range map[string]string{
		"upload-pack":                "url = %[2]s\n\tuploadpack = %[1]s",
		"ext":                        "url = ext::%[1]s",
		"ssh":                        "url = ssh://valley.example/x\n[core]\n\tsshCommand = %[1]s",
		"ssh, short":                 "url = valley.example:x\n[core]\n\tsshCommand = %[1]s",
		"git through a proxy":        "url = git://valley.example/x\n[core]\n\tgitProxy = %[1]s",
		"a helper that is an alias":  "url = trap::x\n[alias]\n\tremote-trap = !%[1]s",
		"vcs":                        "url = x\n\tvcs = trap\n[alias]\n\tremote-trap = !%[1]s",
		"vcs named as what we allow": "url = x\n\tvcs = /\n[alias \"remote-/\"]\n\tcommand = !%[1]s",
		"a url that is rewritten":    "url = far:x\n[url \"ext::%[1]s \"]\n\tinsteadOf = far:",
	} {
		s := valley(t)
		o, _ := s.clone("--filter=blob:none")
		trap, sprung := s.trap()
		o.git("remote", "remove", "origin")
		o.configure("[protocol]\n\tallow = always\n[protocol \"ext\"]\n\tallow = always\n[protocol \"file\"]\n\tallow = always\n[protocol \"trap\"]\n\tallow = always\n[remote \"origin\"]\n\tpromisor = true\n\t" +
			fmt.Sprintf(remote, trap, "file://"+s.dir))
		id := s.git("rev-parse", "HEAD~1:birch/household.cue")
		for _, walls = range [][]string{all, all[1:], slices.Concat([]string{"GIT_NO_LAZY_FETCH=0"}, all[1:])} {
			r := o.open()
			_, err := r.object(id)
			if err == nil || !strings.Contains(err.Error(), "complete the clone") || sprung() {
				t.Errorf("%s: %v; run: %v", why, err, sprung())
			}
			if _, err := r.Changed(t.Context(), o.git("rev-parse", "HEAD~1"), ""); sprung() {
				t.Errorf("%s: run to compare; %v", why, err)
			}
			if b, err := r.object(s.git("rev-parse", "HEAD:alder/household.cue")); string(b.body) == "" || err != nil {
				t.Errorf("%s: what is there is not read: %v", why, err)
			}
		}
		if _, _ = o.try("cat-file", "-p", id); !sprung() && why != "vcs named as what we allow" {
			t.Errorf("%s: git by itself does not run it, so this shows nothing", why)
		}
	}
	if all[0] != "GIT_NO_LAZY_FETCH=1" {
		t.Error("the wall taken away is not the one meant")
	}
}

// A folder is a submodule's only by a .git of its own, whatever else lies in it.
func TestFoldersThatLookLikeRepositories(t *testing.T) {
	places := []string{"fam", "deep/er/fam", "a.cue"}
	s := newScratch(t)
	trap, sprung := s.trap()
	s.write(map[string]string{"kit.cue": "kit"})
	for _, p := range places {
		s.git("update-index", "--add", "--cacheinfo", "160000,"+strings.Repeat("1", 40)+","+p)
	}
	s.git("add", "kit.cue")
	s.git("commit", "-q", "-m", "links")
	links := s.git("rev-parse", "HEAD")
	for _, p := range places {
		s.git("rm", "-q", "--cached", p)
		s.git("init", "-q", "--bare", p)
		s.write(map[string]string{
			p + "/config":  "[core]\n\trepositoryFormatVersion = 0\n\tbare = false\n\tworktree = .\n\tfsmonitor = " + trap + "\n[remote \"origin\"]\n\tpromisor = true\n\turl = " + s.dir + "\n\tuploadpack = " + trap + "\n",
			p + "/kit.cue": "kit", p + "/refs/keep": "", p + "/objects/keep": "",
		})
	}
	bare := s.commit("folders")
	clone, _ := s.clone()
	for _, o := range []*scratch{s, clone} {
		r := o.open()
		tree := o.tree(r, links)
		for _, p := range places {
			if _, err := fs.ReadDir(tree, o.name(p)); !errors.Is(err, errNotCheckedOut) {
				t.Errorf("%s: %v", p, err)
			}
			if b, err := fs.ReadFile(o.tree(r, bare), o.name(p+"/kit.cue")); string(b) != "kit" {
				t.Errorf("%s: %q %v", p, b, err)
			}
			if _, err := OpenRepository(t.Context(), filepath.Join(o.dir, p), o.env); err == nil || !strings.Contains(err.Error(), "is in a bare repository") {
				t.Errorf("%s: %v", p, err)
			}
		}
		for _, head := range []string{"", bare} {
			if _, err := r.Changed(t.Context(), links, head); err != nil {
				t.Error(err)
			}
		}
	}
	if sprung() {
		t.Error("a program was run that a commit names")
	}
	if _, _ = s.at(filepath.Join(s.dir, "fam")).try("status"); !sprung() {
		t.Error("git by itself does not run it, so this shows nothing")
	}
}

// A .git that is there but is none, and a link to a submodule's place, are no repositories; one that a person made is read, without its programs.
func TestOddPlacesOfSubmodules(t *testing.T) {
	other := valley(t)
	for _, c := range []struct {
		why  string
		do   func(s *scratch, at string)
		want string // of an error; "" if it is read
	}{
		{"as it should be", func(s *scratch, at string) {}, ""},
		{"an empty .git folder", func(s *scratch, at string) {
			s.must(os.RemoveAll(at))
			s.must(os.MkdirAll(at+"/.git", 0o755))
		}, "not checked out"},
		{"a .git file that leads nowhere", func(s *scratch, at string) {
			s.must(os.WriteFile(at+"/.git", []byte("gitdir: ../nowhere\n"), 0o644))
		}, "is in no git repository"},
		{"a .git file that leads to another repository", func(s *scratch, at string) {
			s.must(os.WriteFile(at+"/.git", []byte("gitdir: "+other.dir+"/.git\n"), 0o644))
		}, ""},
		{"a folder that is a link", func(s *scratch, at string) {
			s.must(os.RemoveAll(at))
			s.must(os.Symlink(other.dir, at))
		}, "not checked out"},
		{"a work tree elsewhere", func(s *scratch, at string) {
			s.git("-C", at, "config", "core.worktree", other.dir)
		}, "is not in the work tree"},
	} {
		t.Run(c.why, func(t *testing.T) {
			s := newScratch(t)
			trap, sprung := s.trap()
			s.git("submodule", "--quiet", "add", "file://"+other.dir, "sub")
			s.commit("sub")
			at := filepath.Join(s.dir, "sub")
			sub := s.at(at)
			sub.git("config", "core.fsmonitor", trap)
			sub.git("config", "filter.x.clean", trap)
			s.write(map[string]string{".git/modules/sub/info/attributes": "* filter=x\n"})
			_ = sprung()
			c.do(s, at)
			r := s.open()
			b, err := fs.ReadFile(s.tree(r, "HEAD"), s.name("sub/order.cue"))
			if c.want == "" && (err != nil || string(b) != kits["order.cue"]) || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
				t.Errorf("%q %v", b, err)
			}
			_, _ = r.Changed(t.Context(), s.git("rev-parse", "HEAD"), "") // an error in some cases, and never a program
			if sprung() {
				t.Error("a program of the submodule was run")
			}
		})
	}
}

// Submodules are read in every kind of clone, and say what is missing by their own place.
func TestSubmoduleInOtherClones(t *testing.T) {
	t.Parallel()
	for _, format := range []string{"sha1", "sha256"} {
		kits := valley(t, "--object-format="+format)
		kits.git("config", "uploadpack.allowFilter", "true")
		kits.git("config", "uploadpack.allowAnySHA1InWant", "true")
		s := newScratch(t, "--object-format="+format)
		s.git("submodule", "--quiet", "add", "file://"+kits.dir, "sub")
		pinned := kits.git("rev-parse", "HEAD~1")
		s.git("-C", "sub", "checkout", "-q", pinned)
		s.commit("sub")
		shared, _ := s.clone("--shared")
		linked := s.at(s.dir + "-linked")
		s.git("worktree", "add", "-q", "--detach", linked.dir)
		for _, o := range []*scratch{s, shared, linked} {
			o.git("submodule", "--quiet", "update", "--init")
			r := o.open()
			o.at(filepath.Join(o.dir, "sub")).agree(o.tree(r, "HEAD"), o.name("sub"), pinned)
			if list, err := r.Changed(t.Context(), o.git("rev-parse", "HEAD"), ""); len(list) != 0 || err != nil {
				t.Errorf("%s: %v %v", o.dir, list, err)
			}
		}
		sub := s.at(filepath.Join(s.dir, "sub"))
		s.must(os.RemoveAll(sub.dir))
		s.git("clone", "-q", "--filter=blob:none", "file://"+kits.dir, "sub")
		_, err := fs.ReadFile(s.tree(s.open(), "HEAD"), s.name("sub/birch/household.cue"))
		if err == nil || !strings.Contains(err.Error(), "git -C "+sub.dir+" fetch --refetch --no-filter origin") {
			t.Error(err)
		}
	}
}

func TestWorkTreesElsewhere(t *testing.T) {
	s := valley(t)
	inner := s.at(filepath.Join(s.dir, "alder/inner"))
	s.must(os.MkdirAll(inner.dir, 0o755))
	inner.git("init", "-q")
	inner.git("config", "core.worktree", s.dir)
	if r, err := OpenRepository(t.Context(), inner.dir, s.env); err == nil || !strings.Contains(err.Error(), "core.worktree") {
		t.Error(r, err)
	}
	above := s.at(filepath.Dir(s.dir))
	s.git("config", "core.worktree", above.dir)
	if r, err := OpenRepository(t.Context(), s.dir, s.env); err == nil || !strings.Contains(err.Error(), "has no .git of its own") {
		t.Error(r, err)
	}
	s.git("config", "--unset", "core.worktree")
	s.must(s.open().Close())
}

// A replaced commit is read as git shows it, and starts nothing.
func TestReplacedCommit(t *testing.T) {
	s := valley(t)
	first, past := s.git("rev-parse", "HEAD~2"), s.git("rev-parse", "HEAD~1")
	s.git("replace", past, first)
	s.agree(s.tree(s.open(), past), s.name(""), past)
	if got := s.changed(first, past); len(got) != 0 {
		t.Error(got)
	}
}

// What never ends in .git ends with its caller, and nothing of it is opened by us.
func TestPipesInGit(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("mkfifo"); err != nil {
		t.Skip(err)
	}
	for _, name := range []string{"HEAD", "config", "packed-refs", "index", "info/attributes", "info/grafts", "objects/info/alternates", "refs/heads/main", "a blob", "../.gitattributes"} {
		t.Run(name, func(t *testing.T) {
			s := newScratch(t)
			s.write(map[string]string{"kit.cue": "kit"})
			base := s.commit("base")
			p := filepath.Join(s.dir, ".git", name)
			if name == "a blob" {
				id := s.git("rev-parse", "HEAD:kit.cue")
				p = filepath.Join(s.dir, ".git/objects", id[:2], id[2:])
			}
			s.must(os.RemoveAll(p))
			s.must(os.MkdirAll(filepath.Dir(p), 0o755))
			s.must(exec.Command("mkfifo", p).Run())
			s.write(map[string]string{"kit.cue": "other"})
			ctx, cancel := context.WithTimeout(t.Context(), 500*time.Millisecond)
			defer cancel()
			start := time.Now()
			err := func() error {
				r, err := OpenRepository(ctx, s.dir, s.env)
				if err != nil {
					return err
				}
				defer r.Close()
				tree, err := r.Tree(ctx, base)
				if err == nil {
					_, err = fs.ReadFile(tree, s.name("kit.cue"))
				}
				if err == nil {
					_, err = r.Changed(ctx, base, "")
				}
				return err
			}()
			if took := time.Since(start); took > 5*time.Second {
				t.Errorf("it took %v; %v", took, err)
			}
			if name == "index" && (err == nil || !strings.Contains(err.Error(), "is not an index that git wrote")) {
				t.Error(err)
			}
		})
	}
	s := newScratch(t)
	base := s.commit("base")
	s.must(os.Truncate(filepath.Join(s.dir, ".git/index"), maxIndex+1))
	if _, err := s.open().Changed(t.Context(), base, ""); err == nil || !strings.Contains(err.Error(), "at most 1024 MiB") {
		t.Error(err)
	}
}
