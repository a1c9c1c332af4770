package repo

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"
)

// ask makes one read of each kind of each name.
func ask(tree fs.FS, names ...string) {
	for _, n := range names {
		_, _ = fs.Stat(tree, n)
		_, _ = fs.ReadFile(tree, n)
		_, _ = fs.ReadDir(tree, n)
	}
}

func TestRecordingIsATree(t *testing.T) {
	dir := t.TempDir()
	s := &scratch{t: t, dir: dir}
	s.write(map[string]string{"a": "a", "d/b": "b", "d/e/c": ""})
	if err := fstest.TestFS(Record(os.DirFS(dir)), "a", "d/b", "d/e/c"); err != nil {
		t.Error(err)
	}
	_, err := fs.ReadFile(Record(os.DirFS(dir)), "d")
	if _, want := fs.ReadFile(os.DirFS(dir), "d"); !errors.Is(err, syscall.EISDIR) || !errors.Is(want, syscall.EISDIR) {
		t.Error(err, want)
	}
}

func TestReads(t *testing.T) {
	x := Record(fstest.MapFS{"d/a.cue": {Data: []byte("abc")}, "d/link": {Data: []byte("a.cue"), Mode: fs.ModeSymlink}})
	ask(x, "nowhere", "d")
	for range 2 {
		if b, err := fs.ReadFile(x, "d/a.cue"); string(b) != "abc" {
			t.Error(err)
		}
	}
	f, err := x.Open("d")
	if err != nil {
		t.Fatal(err)
	}
	if e, err := f.(fs.ReadDirFile).ReadDir(-1); len(e) != 2 || err != nil {
		t.Error(e, err)
	}
	got := x.Reads()
	// The sum of abc: FIPS 180-2, appendix B.1, from memory.
	want := []Read{
		{ReadFile, "d", "folder"}, {ReadList, "d", "?"}, {ReadStat, "d", "folder"},
		{ReadFile, "d/a.cue", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
		{ReadFile, "nowhere", "absent"}, {ReadList, "nowhere", "absent"}, {ReadStat, "nowhere", "absent"},
	}
	for i := range got {
		if got[i].Kind == ReadList && got[i].Name == "d" && len(got[i].Sum) == 64 {
			got[i].Sum = "?"
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// Whatever is changed, the reads that no longer hold are those named.
func TestReadsNoticeEveryChange(t *testing.T) {
	for _, c := range []struct {
		why  string
		do   func(s *scratch)
		want []string
	}{
		{"nothing", func(*scratch) {}, nil},
		{"times and rights", func(s *scratch) {
			s.must(os.Chtimes(filepath.Join(s.dir, "d/a"), time.Now(), time.Now().Add(time.Hour)))
			s.must(os.Chmod(filepath.Join(s.dir, "d/a"), 0o600))
		}, nil},
		{"what was not read", func(s *scratch) { s.write(map[string]string{"other/x": "new", "other/y": "y"}) }, nil},
		{"a file's bytes", func(s *scratch) { s.write(map[string]string{"d/a": "A"}) }, []string{"file d/a", "file d/link"}},
		{"a file vanishes", func(s *scratch) { s.must(os.Remove(filepath.Join(s.dir, "d/a"))) },
			[]string{"list d", "file d/a", "list d/a", "stat d/a", "file d/link", "list d/link", "stat d/link"}},
		{"a file appears", func(s *scratch) { s.write(map[string]string{"d/none": ""}) }, []string{"list d", "file d/none", "list d/none", "stat d/none"}},
		{"another appears", func(s *scratch) { s.write(map[string]string{"d/new": ""}) }, []string{"list d"}},
		{"a file becomes a folder", func(s *scratch) {
			s.must(os.Remove(filepath.Join(s.dir, "d/b")))
			s.write(map[string]string{"d/b/x": ""})
		},
			[]string{"list d", "file d/b", "list d/b", "stat d/b"}},
		{"a file becomes a symlink to the same", func(s *scratch) {
			s.must(os.Rename(filepath.Join(s.dir, "d/b"), filepath.Join(s.dir, "other/b")))
			s.must(os.Symlink("../other/b", filepath.Join(s.dir, "d/b")))
		}, []string{"list d"}},
		{"a symlink leads elsewhere", func(s *scratch) {
			s.must(os.Remove(filepath.Join(s.dir, "d/link")))
			s.must(os.Symlink("b", filepath.Join(s.dir, "d/link")))
		}, []string{"file d/link"}},
		{"a file becomes a pipe", func(s *scratch) {
			s.must(os.Remove(filepath.Join(s.dir, "d/b")))
			s.must(exec.Command("mkfifo", filepath.Join(s.dir, "d/b")).Run())
		}, []string{"list d", "file d/b", "stat d/b"}},
		{"a name moves to its neighbour", func(s *scratch) {
			s.must(os.Rename(filepath.Join(s.dir, "d/ab"), filepath.Join(s.dir, "d/abfile")))
		}, []string{"list d"}},
	} {
		t.Run(c.why, func(t *testing.T) {
			s := &scratch{t: t, dir: t.TempDir()}
			s.write(map[string]string{"d/a": "a", "d/b": "b", "d/ab": "", "other/x": "x"})
			s.must(os.Symlink("a", filepath.Join(s.dir, "d/link")))
			tree := os.DirFS(s.dir)
			x := Record(tree)
			ask(x, "d", "d/a", "d/b", "d/none", "d/link")
			c.do(s)
			var got []string
			for _, r := range x.Reads() {
				if r.Now(tree) != r.Sum {
					got = append(got, string(r.Kind)+" "+r.Name)
				}
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// A tree of git gives the sums of the disk, so that one store serves both.
func TestReadsOfACommit(t *testing.T) {
	s := valley(t)
	tree := s.tree(s.open(), "HEAD")
	x := Record(os.DirFS("/"))
	ask(x, s.name("alder"), s.name("alder/household.cue"), s.name("link"), s.name("link/household.cue"), s.name("nowhere"), s.name("order.cue/x"))
	for _, r := range x.Reads() {
		if now := r.Now(tree); now != r.Sum {
			t.Errorf("%s %s: %s on the disk, %s in the commit", r.Kind, r.Name, r.Sum, now)
		}
	}
	s.write(map[string]string{"alder/household.cue": "new"})
	changed := 0
	for _, r := range x.Reads() {
		if r.Now(os.DirFS("/")) != r.Now(tree) {
			changed++
		}
	}
	if changed != 2 { // by its own name and through the link
		t.Errorf("%d reads changed", changed)
	}
}

// unsteady gives other bytes each time.
type unsteady struct{ n int }

func (u *unsteady) Open(name string) (fs.File, error) {
	u.n++
	return fstest.MapFS{name: {Data: fmt.Append(nil, u.n)}}.Open(name)
}

func TestReadsThatNeverHold(t *testing.T) {
	u := &unsteady{}
	x := Record(u)
	ask(x, "a")
	ask(x, "a")
	for _, r := range x.Reads() {
		for n := range 20 { // whichever of its states the file keeps in the end
			if r.Kind == ReadFile && r.Now(&unsteady{n}) == r.Sum {
				t.Error("a file that changed between two reads holds", r)
			}
		}
	}
	large := fstest.MapFS{"film": {Data: make([]byte, maxRemembered+1)}, "whole": {Data: make([]byte, maxRemembered)}}
	x = Record(large)
	if b, err := fs.ReadFile(x, "film"); len(b) != maxRemembered+1 || err != nil {
		t.Error(len(b), err)
	}
	ask(x, "whole")
	for _, r := range x.Reads() {
		if r.Kind == ReadFile && (r.Now(large) == r.Sum) != (r.Name == "whole") {
			t.Error(r)
		}
	}
}

// The sum of a list is of what it holds, in whatever order the tree gives it.
type backwards struct{ fstest.MapFS }

func (b backwards) ReadDir(name string) ([]fs.DirEntry, error) {
	e, err := b.MapFS.ReadDir(name)
	slices.Reverse(e)
	return e, err
}

func TestListSum(t *testing.T) {
	m := fstest.MapFS{"a": {}, "b": {}, "c/d": {}}
	read := Read{Kind: ReadList, Name: "."}
	if read.Now(m) != read.Now(backwards{m}) {
		t.Error("the order of a list counts")
	}
	seen := map[string]bool{}
	for _, other := range []fstest.MapFS{m, {"a": {}, "b": {}}, {"a": {}, "b": {}, "c": {}}, {"a": {}, "bc": {}}, {"ab": {}, "c": {}}, {}} {
		if sum := read.Now(other); seen[sum] {
			t.Errorf("two lists have the sum %s", sum)
		} else {
			seen[sum] = true
		}
	}
}

// A list asks nothing of its entries but names and kinds, which cost no look at each file.
type noInfo struct{ fs.DirEntry }

func (noInfo) Info() (fs.FileInfo, error) { panic("a file is looked at for a list") }

type costly struct{ fstest.MapFS }

func (c costly) ReadDir(name string) ([]fs.DirEntry, error) {
	e, err := c.MapFS.ReadDir(name)
	for i := range e {
		e[i] = noInfo{e[i]}
	}
	return e, err
}

func TestListLooksAtNoFile(t *testing.T) {
	x := Record(costly{fstest.MapFS{"a": {}, "b": {}}})
	if e, err := fs.ReadDir(x, "."); len(e) != 2 || err != nil {
		t.Error(e, err)
	}
}

func TestManyRecorders(t *testing.T) {
	m := fstest.MapFS{}
	for i := range 50 {
		m[fmt.Sprintf("d%d/f", i)] = &fstest.MapFile{Data: fmt.Append(nil, i)}
	}
	x := Record(m)
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for name := range m {
				ask(x, path.Dir(name))
				f, err := x.Open(name)
				if err != nil {
					t.Error(err)
					return
				}
				_, _ = io.ReadAll(f)
				f.Close()
				x.Reads()
			}
		})
	}
	wg.Wait()
	if n := len(x.Reads()); n != 4*len(m) {
		t.Errorf("%d reads", n)
	}
}

// The cost of reading 2,000 files through a recording, against reading them without.
func BenchmarkRecord(b *testing.B) {
	s := &scratch{t: b, dir: b.TempDir()}
	files := map[string]string{}
	for i := range 2000 {
		files[fmt.Sprintf("h%03d/f%d.cue", i/4, i%4)] = strings.Repeat("item: mass: \"5 g\"\n", 40)
	}
	s.write(files)
	disk := os.DirFS(s.dir)
	read := func(tree fs.FS) time.Duration {
		start := time.Now()
		for i := range 500 {
			dir := fmt.Sprintf("h%03d", i)
			entries, err := fs.ReadDir(tree, dir)
			s.must(err)
			for _, e := range entries {
				_, err := fs.Stat(tree, dir+"/"+e.Name())
				s.must(err)
				_, err = fs.ReadFile(tree, dir+"/"+e.Name())
				s.must(err)
			}
		}
		return time.Since(start)
	}
	var plain, recorded, again time.Duration
	for b.Loop() {
		plain += read(disk)
		x := Record(disk)
		recorded += read(x)
		start := time.Now()
		for _, r := range x.Reads() {
			if r.Now(disk) != r.Sum {
				b.Fatal(r)
			}
		}
		again += time.Since(start)
	}
	b.ReportMetric(float64(recorded)/float64(plain), "times-plain")
	b.ReportMetric(float64(again)/float64(plain), "now-times-plain")
}
