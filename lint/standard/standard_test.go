package standard

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"
)

func sample() fstest.MapFS {
	return fstest.MapFS{
		ManifestFile:         {Data: []byte(`{"revision": "1.0.0"}`)},
		"rules/a/b.rego":     {Data: []byte("package rules.a.b\n")},
		"limits/a/data.json": {Data: []byte("{}"), Mode: 0o600, ModTime: time.Now()},
		"standard.cue":       {Data: []byte("package standard\n")},
		".git/config":        {Data: []byte("secret")},
		"rules/.hidden.rego": {Data: []byte("hidden")},
		"cue.mod/module.cue": {Data: []byte("module: \"a.example\"\n")},
	}
}

// The same files give the same bytes, whatever their times and rights, and come back; the digest is that of the content.
func TestPack(t *testing.T) {
	a, b := sample(), sample()
	b["limits/a/data.json"].Mode, b["limits/a/data.json"].ModTime = 0o644, time.Unix(1, 0)
	var one, two bytes.Buffer
	for out, fsys := range map[*bytes.Buffer]fs.FS{&one: a, &two: b} {
		if err := Pack(out, fsys); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(one.Bytes(), two.Bytes()) {
		t.Error("other bytes for the same files")
	}
	back, err := Unpack(&one)
	if err != nil {
		t.Fatal(err)
	}
	names, err := Files(back)
	if diff := cmp.Diff([]string{ManifestFile, "cue.mod/module.cue", "limits/a/data.json", "rules/a/b.rego", "standard.cue"}, names); diff != "" || err != nil {
		t.Error(diff, err)
	}
	for _, n := range names {
		got, _ := fs.ReadFile(back, n)
		if string(got) != string(a[n].Data) {
			t.Errorf("%s: %q", n, got)
		}
	}
	digest := func(fsys fs.FS) string {
		d, err := Digest(fsys)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	if digest(a) != digest(back) {
		t.Error("packing changes the digest")
	}
	signed := sample()
	signed[SignatureFile] = &fstest.MapFile{Data: []byte("{}")}
	if digest(a) != digest(signed) {
		t.Error("signing changes the digest")
	}
	for n := range a {
		if strings.Contains(n, "/.") || strings.HasPrefix(n, ".git") {
			continue
		}
		c := sample()
		c[n].Data = append(bytes.Clone(c[n].Data), ' ')
		if digest(a) == digest(c) {
			t.Errorf("a change of %s leaves the digest", n)
		}
		c = sample()
		c["x"+n], c[n] = c[n], nil
		delete(c, n)
		if digest(a) == digest(c) {
			t.Errorf("another name of %s leaves the digest", n)
		}
	}
}

// entry is one entry of an archive made by hand.
type entry struct {
	name, link string
	kind       byte
	body       io.Reader
	size       int64
}

func archive(t testing.TB, entries ...entry) *bytes.Buffer {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	w := tar.NewWriter(z)
	for _, e := range entries {
		if e.kind == 0 {
			e.kind = tar.TypeReg
		}
		if err := w.WriteHeader(&tar.Header{Name: e.name, Linkname: e.link, Typeflag: e.kind, Size: e.size, Mode: 0o644}); err != nil {
			t.Fatal(err)
		}
		if e.body != nil {
			if _, err := io.Copy(w, e.body); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return &b
}

type zeros struct{}

func (zeros) Read(b []byte) (int, error) { clear(b); return len(b), nil }

// Names that a disk may take for one are refused with both, in a folder and in a packed file, in whatever order they come.
func TestNamesThatDifferInCase(t *testing.T) {
	for _, c := range []struct {
		why, a, b, first, second string // first and second are what the message names, "" where nothing is wrong
	}{
		{"files", "rules/bulk.rego", "rules/BULK.rego", "rules/BULK.rego", "rules/bulk.rego"},
		{"a letter that only Unicode folds", "rules/k.rego", "rules/\u212a.rego", "rules/k.rego", "rules/\u212a.rego"},
		{"folders with other files", "rules/a.rego", "Rules/b.rego", "Rules", "rules"},
		{"folders within", "x/deep/a/1", "x/Deep/b/2", "x/Deep", "x/deep"},
		{"a file and a folder", "bulk", "Bulk/a", "Bulk", "bulk"},
		{"the same folder", "rules/a.rego", "rules/b.rego", "", ""},
		{"the same name in two folders", "a/x.rego", "b/X.rego", "", ""},
		{"an accent", "rules/e.rego", "rules/é.rego", "", ""},
	} {
		for _, names := range [][]string{{c.a, c.b}, {c.b, c.a}} {
			var entries []entry
			tree := fstest.MapFS{}
			for _, n := range names {
				entries = append(entries, entry{name: n, body: strings.NewReader("x"), size: 1})
				tree[n] = &fstest.MapFile{Data: []byte("x")}
			}
			_, packed := Unpack(archive(t, entries...))
			_, folder := Files(tree)
			for form, err := range map[string]error{"packed": packed, "folder": folder} {
				if c.first == "" {
					if err != nil {
						t.Errorf("%s, %s: %v", c.why, form, err)
					}
				} else if want := c.first + " and " + c.second + " differ only in upper and lower case"; err == nil || !strings.HasPrefix(err.Error(), want) {
					t.Errorf("%s, %s: %v; want %s", c.why, form, err, want)
				}
			}
		}
	}
	_, err := Unpack(archive(t, entry{name: "Rules/", kind: tar.TypeDir}, entry{name: "rules/", kind: tar.TypeDir}))
	if err == nil || !strings.HasPrefix(err.Error(), "Rules and rules differ only") {
		t.Errorf("folders with nothing in them: %v", err)
	}
}

// A stranger's archive leads nowhere, and takes no more memory than a standard may have; the figures are in the log.
func TestHostileArchives(t *testing.T) {
	many := make([]entry, maxFiles+1)
	for i := range many {
		many[i] = entry{name: fmt.Sprintf("rules/a/%d.rego", i)}
	}
	sixteen := make([]entry, 17)
	for i := range sixteen {
		sixteen[i] = entry{name: fmt.Sprintf("f%d", i), body: io.LimitReader(zeros{}, maxFile), size: maxFile}
	}
	file := func(name string) entry { return entry{name: name, body: strings.NewReader("x"), size: 1} }
	for _, c := range []struct {
		why     string
		archive io.Reader
		want    string
	}{
		{"nothing", strings.NewReader(""), "this is no packed standard"},
		{"no archive", strings.NewReader("hello, this is text"), "this is no packed standard"},
		{"a climb", archive(t, file("../etc/passwd")), "leads out of the standard"},
		{"a climb inside", archive(t, file("rules/../../x")), "leads out of the standard"},
		{"a drive", archive(t, file("C:/x")), "none of"},
		{"a backslash", archive(t, file(`rules\x`)), "none of"},
		{"a control character", archive(t, file("rules/\x1b[2J")), "control characters"},
		{"a mark that turns letters round", archive(t, file("rules/a\u202eoger.b")), "control characters"},
		{"a letter that shows nothing", archive(t, file("rules/\u3164.rego")), "control characters"},
		{"something hidden", archive(t, file("rules/a/.b.rego")), "rules/a/.b.rego is hidden"},
		{"a hidden folder", archive(t, file(".git/config")), ".git/config is hidden"},
		{"a symlink", archive(t, entry{name: "rules", kind: tar.TypeSymlink, link: "/etc"}), "is a link"},
		{"a hard link", archive(t, file("a"), entry{name: "b", kind: tar.TypeLink, link: "a"}), "is a link"},
		{"a device", archive(t, entry{name: "dev", kind: tar.TypeChar}), "no ordinary file"},
		{"a pipe", archive(t, entry{name: "dev", kind: tar.TypeFifo}), "no ordinary file"},
		{"twice", archive(t, file("a"), file("a")), "a is in it twice"},
		{"twice, once with a slash", archive(t, file("a"), file("/a")), "a is in it twice"},
		{"a file and a folder", archive(t, file("a"), file("a/b")), "a is a file and a folder"},
		{"a long name", archive(t, file(strings.Repeat("a/", 150)+"a")), "at most 200 bytes"},
		{"too many files", archive(t, many...), "at most 2000 files"},
		{"a large file", archive(t, entry{name: "a", body: io.LimitReader(zeros{}, maxFile+1), size: maxFile + 1}), "1 MiB each"},
		{"too much in all", archive(t, sixteen...), "16 MiB together"},
		{"cut short", bytes.NewReader(archive(t, file("a")).Bytes()[:40]), "no whole packed standard"},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		start := time.Now()
		_, err := Unpack(c.archive)
		took := time.Since(start)
		runtime.ReadMemStats(&after)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %s", c.why, err, c.want)
		}
		made := (after.TotalAlloc - before.TotalAlloc) >> 20
		t.Logf("%s: %v, %d MiB", c.why, took.Round(time.Millisecond), made)
		if made > 3*maxAll>>20 {
			t.Errorf("%s takes %d MiB", c.why, made)
		}
	}
}

// Ten gigabytes of nothing, packed small, are not unpacked: neither as one file nor behind the last one.
func TestBomb(t *testing.T) {
	if testing.Short() {
		t.Skip("packs ten gigabytes")
	}
	name := filepath.Join(t.TempDir(), "bomb.tar.gz")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	z, err := gzip.NewWriterLevel(f, gzip.BestSpeed)
	if err != nil {
		t.Fatal(err)
	}
	w := tar.NewWriter(z)
	const size = 10 << 30
	if err := w.WriteHeader(&tar.Header{Name: "a", Size: size, Typeflag: tar.TypeReg, Format: tar.FormatPAX}); err != nil {
		t.Fatal(err)
	}
	// The whole of it need not be there: what is refused is never read.
	if _, err := io.Copy(z, io.LimitReader(zeros{}, 64<<20)); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		t.Fatal(err)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err = Unpack(f)
	runtime.ReadMemStats(&after)
	if err == nil || !strings.Contains(err.Error(), "1 MiB each") {
		t.Error(err)
	}
	if made := (after.TotalAlloc - before.TotalAlloc) >> 20; made > 1 {
		t.Errorf("%d MiB", made)
	}
	// Many names of nothing, without an end of the archive.
	var b bytes.Buffer
	z.Reset(&b)
	if _, err := io.Copy(z, io.LimitReader(zeros{}, 1<<30)); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if fsys, err := Unpack(&b); err == nil {
		if names, _ := Files(fsys); len(names) > 0 {
			t.Error(names)
		}
	}
}

// A folder with a link or a large file is no standard; nothing hidden travels with one.
func TestFilesOfAFolder(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, size int) {
		p := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(p), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, make([]byte, size), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write(ManifestFile, 2)
	write("rules/a/b.rego", 10)
	write(".git/config", 10)
	if names, err := Files(os.DirFS(dir)); err != nil || len(names) != 2 {
		t.Error(names, err)
	}
	write("rules/a/large.rego", maxFile+1)
	if _, err := Files(os.DirFS(dir)); err == nil || !strings.Contains(err.Error(), "rules/a/large.rego: a standard has at most") {
		t.Error(err)
	}
	write("rules/a/large.rego", 1)
	if err := os.Symlink("/etc/passwd", filepath.Join(dir, "rules/a/link.rego")); err != nil {
		t.Skip(err)
	}
	if _, err := Digest(os.DirFS(dir)); err == nil || !strings.Contains(err.Error(), "rules/a/link.rego is a link") {
		t.Error(err)
	}
}
