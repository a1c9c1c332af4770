package repo

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

// stage gives what is staged, and what of it differs from HEAD.
func (s *scratch) stage() (fs.FS, []Change) {
	s.t.Helper()
	r := s.open()
	name, err := r.Stage(context.Background(), s.t.TempDir())
	s.must(err)
	tree, err := r.Tree(context.Background(), name)
	s.must(err)
	first, err := r.Unborn(context.Background())
	s.must(err)
	if first {
		return tree, nil
	}
	head, err := r.Resolve(context.Background(), "HEAD")
	s.must(err)
	list, err := r.Changed(context.Background(), head, name)
	s.must(err)
	for i := range list {
		list[i].Old, list[i].New = strings.TrimPrefix(list[i].Old, s.name("")+"/"), strings.TrimPrefix(list[i].New, s.name("")+"/")
	}
	return tree, list
}

// What is staged is the tree that git commits: byte for byte the one that the next commit then has, whatever lies on the disk.
func TestStagedIsWhatIsCommitted(t *testing.T) {
	for _, c := range []struct {
		why  string
		make func(s *scratch)
	}{
		{"the first commit", func(s *scratch) {}},
		{"the disk goes on", func(s *scratch) {
			s.commit("base")
			s.write(map[string]string{"alder/household.cue": "staged", "new/kit.cue": "new"})
			s.git("rm", "-q", "--cached", "birch/household.cue")
			s.git("add", "alder", "new")
			s.write(map[string]string{"alder/household.cue": "not staged", "new/kit.cue": "not staged", "other/kit.cue": "not staged"})
			s.must(os.RemoveAll(filepath.Join(s.dir, "new")))
		}},
		{"only meant to be added", func(s *scratch) {
			s.commit("base")
			s.write(map[string]string{"later.cue": "later", "now.cue": "now"})
			s.git("add", "-N", "later.cue")
			s.git("add", "now.cue")
		}},
		{"links, modes and a rename", func(s *scratch) {
			s.commit("base")
			s.must(os.Symlink("alder/household.cue", filepath.Join(s.dir, "link")))
			s.must(os.Chmod(filepath.Join(s.dir, "empty"), 0o755))
			s.git("add", "-A")
			s.git("update-index", "--chmod=+x", "alder/household.cue")
			s.git("mv", "empty", "renamed")
		}},
		{"a sparse index", func(s *scratch) {
			s.commit("base")
			s.git("sparse-checkout", "set", "--cone", "--sparse-index", "alder")
			s.write(map[string]string{"alder/household.cue": "staged"})
			s.git("add", "alder")
		}},
		{"a split index", func(s *scratch) {
			s.commit("base")
			s.git("update-index", "--split-index")
			s.write(map[string]string{"alder/household.cue": "staged"})
			s.git("add", "alder")
		}},
		{"assumed to be unchanged", func(s *scratch) {
			s.commit("base")
			s.git("update-index", "--assume-unchanged", "alder/household.cue")
			s.write(map[string]string{"alder/household.cue": "not staged"})
		}},
		{"line ends that git turns", func(s *scratch) {
			s.commit("base")
			s.write(map[string]string{".gitattributes": "*.cue text eol=crlf\n", "alder/household.cue": "a\r\nb\r\n"})
			s.git("add", "-A")
		}},
	} {
		t.Run(c.why, func(t *testing.T) {
			s := newScratch(t)
			s.write(kits)
			s.git("add", "-A")
			c.make(s)
			tree, list := s.stage()
			all := map[string]string{}
			walk := func(tree fs.FS, add func(p, text string)) {
				s.must(fs.WalkDir(tree, s.name(""), func(p string, d fs.DirEntry, err error) error {
					if err != nil || d.IsDir() {
						return err
					}
					info, err := d.Info()
					if err != nil {
						return err
					}
					if d.Type() == fs.ModeSymlink {
						to, err := fs.ReadLink(tree, p)
						add(p, "link "+to)
						return err
					}
					b, err := fs.ReadFile(tree, p)
					add(p, info.Mode().String()+" "+string(b))
					return err
				}))
			}
			walk(tree, func(p, text string) { all[p] = text })
			old, _ := s.try("rev-parse", "--verify", "--quiet", "HEAD")
			s.git("commit", "-q", "--allow-empty", "-m", "next")
			now := map[string]string{}
			r := s.open()
			walk(s.tree(r, "HEAD"), func(p, text string) { now[p] = text })
			if diff := cmp.Diff(now, all); diff != "" || len(now) < 5 {
				t.Errorf("(-committed +staged):\n%s", diff)
			}
			if old == "" {
				return
			}
			want := []Change{}
			if changes := s.changed(strings.TrimSpace(old), s.git("rev-parse", "HEAD")); len(changes) > 0 {
				want = changes
			}
			if diff := cmp.Diff(want, append([]Change{}, list...)); diff != "" {
				t.Errorf("changes (-committed +staged):\n%s", diff)
			}
			if err := fstest.TestFS(mustSub(t, tree, s.name("")), "alder/household.cue"); err != nil {
				t.Error(err)
			}
		})
	}
}

func mustSub(t *testing.T, tree fs.FS, dir string) fs.FS {
	t.Helper()
	sub, err := fs.Sub(tree, dir)
	if err != nil {
		t.Fatal(err)
	}
	return sub
}

// A conflict has nothing to commit; it is named, and what to do.
func TestStageOfAConflict(t *testing.T) {
	s := newScratch(t)
	s.write(map[string]string{"a b.cue": "base"})
	s.commit("base")
	s.git("checkout", "-q", "-b", "other")
	s.write(map[string]string{"a b.cue": "other"})
	s.commit("other")
	s.git("checkout", "-q", "main")
	s.write(map[string]string{"a b.cue": "main"})
	s.commit("main")
	if _, err := s.try("merge", "-q", "other"); err == nil {
		t.Fatal("no conflict")
	}
	_, err := s.open().Stage(context.Background(), t.TempDir())
	if want := "a b.cue has a conflict that is not settled, so there is nothing to commit yet; settle it, then run: git add 'a b.cue'"; err == nil || err.Error() != want {
		t.Errorf("%v", err)
	}
}

// An index that is damaged is an error, and nothing else.
func TestStageOfADamagedIndex(t *testing.T) {
	s := newScratch(t)
	s.write(kits)
	s.commit("base")
	s.must(os.WriteFile(filepath.Join(s.dir, ".git/index"), []byte("DIRC nonsense"), 0o644))
	if _, err := s.open().Stage(context.Background(), t.TempDir()); err == nil || !strings.HasPrefix(err.Error(), "the index cannot be read: ") {
		t.Errorf("%v", err)
	}
}
