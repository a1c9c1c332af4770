package registry

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"cuelabs.dev/go/oci/ociregistry/ocimem"
	"cuelabs.dev/go/oci/ociregistry/ociserver"
	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/standard"
)

// flood is a small standard of a group.
func flood(version, remark string) fstest.MapFS {
	return fstest.MapFS{
		standard.ManifestFile:    {Data: fmt.Appendf(nil, `{"revision": %q, "metadata": {"name": "flood"}, "roots": ["rules/flood", "limits/flood"]}`, version)},
		"rules/flood/dry.rego":   {Data: []byte("package rules.flood.dry\n\n# " + remark + "\n")},
		"limits/flood/data.json": {Data: []byte(`{"dry_bags": 2}`)},
		"cue.mod/module.cue":     {Data: []byte("module: \"flood.example\"\nlanguage: version: \"v0.17.0\"\n")},
	}
}

func packed(t *testing.T, fsys fs.FS) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := standard.Pack(&b, fsys); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func digestOf(t *testing.T, fsys fs.FS) string {
	t.Helper()
	d, err := standard.Digest(fsys)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// listener is a store that remembers what was told.
type listener struct {
	*Store
	heard []string
}

func newStore(t *testing.T) *listener {
	l := &listener{Store: Open(filepath.Join(t.TempDir(), "standards"))}
	l.Told = func(s string) { l.heard = append(l.heard, s) }
	return l
}

func (l *listener) pull(t *testing.T, address, digest string) *Standard {
	t.Helper()
	st, err := l.Pull(t.Context(), address, digest)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

func (l *listener) push(t *testing.T, address string, fsys fs.FS) *Standard {
	t.Helper()
	st, err := l.Push(t.Context(), address, fsys, false)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

// refused expects an error with all of the given words.
func refused(t *testing.T, err error, words ...string) {
	t.Helper()
	if err == nil {
		t.Fatalf("nothing was refused; want an error with %q", words)
	}
	for _, w := range words {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("the error lacks %q: %v", w, err)
		}
	}
}

// serve runs the registry that the client's own library keeps for tests, on loopback.
func serve(t *testing.T) (host string, stop func()) {
	s := httptest.NewServer(ociserver.New(ocimem.New(), nil))
	t.Cleanup(s.Close)
	return strings.TrimPrefix(s.URL, "http://"), s.Close
}

func TestPushAndPull(t *testing.T) {
	host, stop := serve(t)
	address := host + "/valley/flood"
	roundTrip(t, address, stop)
}

// roundTrip pushes to an address without tag, pulls, stops the registry and goes on.
func roundTrip(t *testing.T, address string, stop func()) {
	fsys := flood("1.0.0", "dry bags")
	want := digestOf(t, fsys)
	pushed := newStore(t).push(t, address, fsys)
	if pushed.Digest != want || pushed.Address != address+"@"+pushed.Manifest || pushed.Stored {
		t.Errorf("pushed %+v", pushed)
	}
	if again := newStore(t).push(t, address+":1.0.0", fsys); !again.Stored || again.Manifest != pushed.Manifest {
		t.Errorf("pushed the same again: %+v", again)
	}

	l := newStore(t)
	got := l.pull(t, address+":1.0.0", "")
	if got.Stored || got.Name != "flood" || got.Version != "1.0.0" || got.Digest != want || got.Manifest != pushed.Manifest || got.Address != pushed.Address {
		t.Errorf("pulled %+v", got)
	}
	if !bytes.Equal(got.Packed, packed(t, fsys)) {
		t.Error("other bytes came back than were pushed")
	}
	for n, f := range fsys {
		if b, err := fs.ReadFile(got.FS, n); err != nil || !bytes.Equal(b, f.Data) {
			t.Errorf("%s: %q, %v", n, b, err)
		}
	}
	if again := l.pull(t, address+":1.0.0", want); !again.Stored {
		t.Error("fetched again what is in the store")
	}
	_, err := l.Pull(t.Context(), address+":9.9.9", "")
	refused(t, err, "there is no "+address+":9.9.9", "it has 1.0.0")
	_, err = l.Pull(t.Context(), address+":1.0.0", "sha256:"+strings.Repeat("0", 64))
	refused(t, err, want, "and you named ")
	if len(l.heard) > 0 {
		t.Errorf("told without need: %q", l.heard)
	}

	stop()
	if off := l.pull(t, pushed.Address, ""); !off.Stored || off.Digest != want {
		t.Errorf("offline, by digest: %+v", off)
	}
	if len(l.heard) > 0 {
		t.Errorf("told without need: %q", l.heard)
	}
	if off := l.pull(t, address+":1.0.0", want); !off.Stored || off.Digest != want {
		t.Errorf("offline, by tag with a digest: %+v", off)
	}
	if len(l.heard) != 1 || !strings.Contains(l.heard[0], "cannot be reached") {
		t.Errorf("heard %q", l.heard)
	}
	_, err = l.Fetch(t.Context(), address+":1.0.0", "")
	refused(t, err, "cannot be reached", "ask for it with the digest "+want)
	_, err = l.Fetch(t.Context(), address+":1.0.0", "sha256:"+strings.Repeat("0", 64))
	refused(t, err, "cannot be reached", "no standard with the digest")
	_, err = l.Fetch(t.Context(), address+":2.0.0", want)
	refused(t, err, "holds version 1.0.0")
	_, err = newStore(t).Fetch(t.Context(), pushed.Address, "")
	refused(t, err, "cannot be reached")
}

// A file of the store that is broken, missing, too large or a link is fetched anew, and the store is whole afterwards.
func TestBrokenStore(t *testing.T) {
	host, stop := serve(t)
	pushed := newStore(t).push(t, host+"/valley/flood", flood("1.0.0", "dry bags"))
	l := newStore(t)
	l.pull(t, pushed.Address, "")
	files, err := os.ReadDir(l.dir)
	if err != nil {
		t.Fatal(err)
	}
	breaks := map[string]func(name string) error{
		"cut":       func(name string) error { return os.Truncate(name, 10) },
		"empty":     func(name string) error { return os.Truncate(name, 0) },
		"missing":   os.Remove,
		"too large": func(name string) error { return os.Truncate(name, maxLayer+1) },
		"other":     func(name string) error { return os.WriteFile(name, []byte(`{"of": "x"}`), 0o600) },
		"a link": func(name string) error {
			if err := os.Rename(name, name+".moved"); err != nil {
				return err
			}
			return os.Symlink(filepath.Base(name)+".moved", name)
		},
		"longer": func(name string) error {
			b, err := os.ReadFile(name)
			if err != nil {
				return err
			}
			return os.WriteFile(name, append(b, ' '), 0o600)
		},
	}
	for why, do := range breaks {
		for _, f := range files {
			if strings.HasSuffix(f.Name(), ".note.json") {
				continue
			}
			if err := do(filepath.Join(l.dir, f.Name())); err != nil {
				t.Fatal(err)
			}
			if st := l.pull(t, pushed.Address, pushed.Digest); st.Stored {
				t.Errorf("%s: %s was taken as it is", why, f.Name())
			}
			if st := l.pull(t, pushed.Address, pushed.Digest); !st.Stored {
				t.Errorf("%s: %s was not mended", why, f.Name())
			}
		}
	}
	for _, f := range files {
		if strings.HasSuffix(f.Name(), ".note.json") {
			if err := breaks["other"](filepath.Join(l.dir, f.Name())); err != nil {
				t.Fatal(err)
			}
		}
	}
	l.pull(t, host+"/valley/flood:1.0.0", "")
	stop()
	l.pull(t, host+"/valley/flood:1.0.0", pushed.Digest)
}

// A note that leads to another standard than the one it is of does not pass for it.
func TestNoteThatLies(t *testing.T) {
	host, stop := serve(t)
	l := newStore(t)
	l.push(t, host+"/valley/flood", flood("1.0.0", "dry bags"))
	l.push(t, host+"/valley/flood", flood("1.1.0", "boots"))
	one, two := l.pull(t, host+"/valley/flood:1.0.0", ""), l.pull(t, host+"/valley/flood:1.1.0", "")
	stop()
	b, err := os.ReadFile(filepath.Join(l.dir, noteFile(two.Digest)))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(l.dir, noteFile(one.Digest)), b, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err = l.Pull(t.Context(), host+"/valley/flood:1.1.0", one.Digest)
	refused(t, err, "no standard with the digest")
}

// Where nothing can be kept, the standard is there all the same, and someone is told.
func TestStoreThatCannotKeep(t *testing.T) {
	host, _ := serve(t)
	newStore(t).push(t, host+"/valley/flood", flood("1.0.0", "dry bags"))
	blocked := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(blocked, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	l := newStore(t)
	l.dir = filepath.Join(blocked, "standards")
	l.pull(t, host+"/valley/flood:1.0.0", "")
	if len(l.heard) != 1 || !strings.Contains(l.heard[0], "could not be kept") {
		t.Errorf("heard %q", l.heard)
	}
}

// Several that fetch the same into one store at the same time all get it, whole.
func TestAtTheSameTime(t *testing.T) {
	host, _ := serve(t)
	pushed := newStore(t).push(t, host+"/valley/flood", flood("1.0.0", "dry bags"))
	dir := filepath.Join(t.TempDir(), "standards")
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			if _, err := Open(dir).Fetch(t.Context(), host+"/valley/flood:1.0.0", pushed.Digest); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	left, err := filepath.Glob(filepath.Join(dir, ".*.part"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %q, %v", left, err)
	}
}

func TestVersionsArePromises(t *testing.T) {
	host, _ := serve(t)
	promises(t, host+"/valley/flood")
}

func promises(t *testing.T, address string) {
	l := newStore(t)
	first := l.push(t, address, flood("1.0.0", "dry bags"))
	l.pull(t, address+":1.0.0", "")
	changed := flood("1.0.0", "boots")
	_, err := l.Push(t.Context(), address, changed, false)
	refused(t, err, address+":1.0.0 is there already", first.Digest, "--force")
	if still := newStore(t).pull(t, address+":1.0.0", ""); still.Digest != first.Digest {
		t.Error("a refused push changed the registry")
	}
	_, err = l.Push(t.Context(), address+":1.1.0", changed, false)
	refused(t, err, "the standard is version 1.0.0")
	_, err = l.Push(t.Context(), first.Address, changed, false)
	refused(t, err, "leave the digest out")

	signed := flood("1.0.0", "dry bags")
	signed[standard.SignatureFile] = &fstest.MapFile{Data: []byte("{}")}
	if again := l.push(t, address, signed); again.Digest != first.Digest || again.Stored {
		t.Errorf("a signature was not added: %+v", again)
	}
	if st := l.pull(t, address+":1.0.0", ""); st.Manifest == first.Manifest {
		t.Error("the signature did not arrive")
	}

	second, err := l.Push(t.Context(), address, changed, true)
	if err != nil {
		t.Fatal(err)
	}
	_, err = l.Pull(t.Context(), address+":1.0.0", "")
	refused(t, err, "a version keeps its content", first.Digest, second.Digest)
	_, err = l.Pull(t.Context(), address+":1.0.0", first.Digest)
	refused(t, err, second.Digest, "you named "+first.Digest)
	l.pull(t, address+":1.0.0", second.Digest)
	l.pull(t, address+":1.0.0", "")
	if st := l.pull(t, first.Address, ""); st.Digest != first.Digest {
		t.Error("the old one is gone from the store")
	}
}

// A tag that moves may go back; that is told until it has come up again, and refused where a digest is asked for.
func TestDowngrade(t *testing.T) {
	host, _ := serve(t)
	stable := host + "/valley/flood:stable"
	l := newStore(t)
	for i, x := range []struct {
		version string
		told    bool
	}{{"1.0.0", false}, {"1.2.0", false}, {"1.1.0", true}, {"1.1.9", true}, {"1.2.0", false}, {"1.10.0", false}} {
		l.push(t, stable, flood(x.version, "dry bags"))
		l.heard = nil
		st := l.pull(t, stable, "")
		if told := len(l.heard) == 1 && strings.Contains(l.heard[0], x.version+", and led to 1.2.0 before"); told != x.told || st.Version != x.version {
			t.Errorf("step %d, %s: got %s, heard %q", i, x.version, st.Version, l.heard)
		}
	}
	now := l.pull(t, stable, "")
	l.push(t, stable, flood("1.0.0", "dry bags"))
	_, err := l.Pull(t.Context(), stable, now.Digest)
	refused(t, err, "1.0.0", "you named "+now.Digest)
}

// A tag that promises one version and holds another, older or newer, is refused.
func TestTagThatLies(t *testing.T) {
	host, _ := serve(t)
	l := newStore(t)
	l.push(t, host+"/valley/flood:1.0.0", flood("1.0.0", "dry bags"))
	a, err := ParseAddress(host + "/valley/flood:1.0.0")
	if err != nil {
		t.Fatal(err)
	}
	c, err := l.client(t.Context(), a)
	if err != nil {
		t.Fatal(err)
	}
	m, err := c.manifest(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := c.oci.PushManifest(t.Context(), a.ref.Repository, "1.1.0", m, manifestType); err != nil {
		t.Fatal(err)
	}
	_, err = l.Pull(t.Context(), host+"/valley/flood:1.1.0", "")
	refused(t, err, "holds version 1.0.0 of flood")
}

func TestPushRefuses(t *testing.T) {
	l := newStore(t)
	for want, change := range map[string]func(fstest.MapFS){
		"there is no .manifest":     func(f fstest.MapFS) { delete(f, standard.ManifestFile) },
		"this is no manifest":       func(f fstest.MapFS) { f[standard.ManifestFile].Data = []byte("{") },
		"is the name of the base":   func(f fstest.MapFS) { f[standard.ManifestFile].Data = []byte(`{"metadata": {"name": "base"}}`) },
		"three numbers":             func(f fstest.MapFS) { f[standard.ManifestFile].Data = []byte(`{"metadata": {"name": "x"}}`) },
		"ordinary files":            func(f fstest.MapFS) { f["x"] = &fstest.MapFile{Mode: fs.ModeSymlink} },
		"127.0.0.1:1 cannot be rea": func(fstest.MapFS) {},
	} {
		f := flood("1.0.0", "dry bags")
		change(f)
		_, err := l.Push(t.Context(), "127.0.0.1:1/valley/flood", f, true)
		refused(t, err, want)
	}
}

// What is there and is no standard is replaced by force only.
func TestPushOverSomethingElse(t *testing.T) {
	host, _ := serve(t)
	l := newStore(t)
	a, err := ParseAddress(host + "/valley/flood:1.0.0")
	if err != nil {
		t.Fatal(err)
	}
	c, err := l.client(t.Context(), a)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := c.oci.PushManifest(t.Context(), a.ref.Repository, a.ref.Tag, []byte(`{"schemaVersion": 2, "mediaType": "`+indexType+`", "manifests": []}`), indexType); err != nil {
		t.Fatal(err)
	}
	_, err = l.Push(t.Context(), a.String(), flood("1.0.0", "dry bags"), false)
	refused(t, err, "a list of images")
	if _, err := l.Push(t.Context(), a.String(), flood("1.0.0", "dry bags"), true); err != nil {
		t.Error(err)
	}
	l.pull(t, a.String(), "")
}

// What a manifest of ours holds: OCI Image Specification v1.1, "Guidelines for Artifact Usage", case of a layer with an empty
// config (from memory); the digest of {} is the one that the specification gives for it.
func TestManifest(t *testing.T) {
	host, _ := serve(t)
	l := newStore(t)
	st := l.push(t, host+"/valley/flood", flood("1.0.0", "dry bags"))
	a, err := ParseAddress(st.Address)
	if err != nil {
		t.Fatal(err)
	}
	c, err := l.client(t.Context(), a)
	if err != nil {
		t.Fatal(err)
	}
	b, err := c.manifest(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var got any
	if err := json.Unmarshal(b, &got); err != nil {
		t.Fatal(err)
	}
	want := map[string]any{
		"schemaVersion": 2.0, "mediaType": "application/vnd.oci.image.manifest.v1+json", "artifactType": "application/vnd.kitmuster.standard.v1+json",
		"config": map[string]any{"mediaType": "application/vnd.oci.empty.v1+json", "digest": "sha256:44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a", "size": 2.0},
		"layers": []any{map[string]any{
			"mediaType": "application/vnd.oci.image.layer.v1.tar+gzip", "digest": sum(st.Packed), "size": float64(len(st.Packed)),
			"annotations": map[string]any{"org.opencontainers.image.title": "flood-1.0.0.tar.gz"},
		}},
		"annotations": map[string]any{"org.opencontainers.image.title": "flood", "org.opencontainers.image.version": "1.0.0"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestParseAddress(t *testing.T) {
	hex := strings.Repeat("0a", 32)
	for _, good := range []string{
		"registry.example/flood:1.2.0", "registry.example:5000/valley/flood:1.2.0", "localhost:5000/flood", "[::1]:5000/flood:stable",
		"127.0.0.1:5000/a/b/c-d_e.f:V1", "registry.example/flood@sha256:" + hex, "registry.example/flood:1.2.0@sha256:" + hex,
	} {
		a, err := ParseAddress(good)
		if err != nil || a.String() != good {
			t.Errorf("%s: %s, %v", good, a, err)
		}
	}
	for bad, want := range map[string]string{
		"":                                  "no address",
		"flood":                             "begins with the host",
		"localhost/flood:1.0.0":             "begins with the host",
		"https://registry.example/flood:1":  "leave https:// out",
		"oci://registry.example/flood:1":    "leave oci:// out",
		"registry.example/Valley/flood:1":   "small letters",
		"registry.example/flood:1/../..":    "no address",
		"registry.example/../flood:1":       "no address",
		"registry.example/flood:":           "no address",
		"registry.example/flood:-1":         "no address",
		"registry.example/flood@sha256:12":  "64 digits",
		"registry.example/flood@md5:" + hex: "64 digits",
		"registry.example/a b:1":            "no address",
		"registry.example/flood:1\x1b[31m":  "no address",
		"user:secret@registry.example/f:1":  "after @",
		"registry.example/flood?x=1":        "no address",
		"registry.example/" + hex + "/flood:" + strings.Repeat("1", 129): "no address",
		strings.Repeat("a", 1<<20):                                       "at most 1000 bytes",
		"registry.example/flood@sha512:" + hex + hex:                     "only sha256",
	} {
		_, err := ParseAddress(bad)
		refused(t, err, want)
		if strings.ContainsAny(err.Error(), "\x1b\n") || len(err.Error()) > 2000 {
			t.Errorf("%.40q: the error is unfit for a terminal: %q", bad, err)
		}
	}
	_, err := newStore(t).Pull(t.Context(), "registry.example/flood", "")
	refused(t, err, "which version")
	_, err = newStore(t).Pull(t.Context(), "registry.example/flood:1.0.0", "1234")
	refused(t, err, `digest "1234"`)
	for host, want := range map[string]bool{"localhost:5000": true, "127.0.0.9:1": true, "[::1]:5000": true, "10.0.0.1:5000": false, "localhost.example": false, "127.0.0.1.example": false} {
		a, err := ParseAddress(host + "/flood:1")
		if err != nil || a.loopback() != want {
			t.Errorf("%s: loopback is %t, %v", host, a.loopback(), err)
		}
	}
}

// An interrupted pull says so and falls back to nothing.
func TestInterrupted(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	s := httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		stop()
		<-r.Context().Done()
	}))
	defer s.Close()
	_, err := newStore(t).Pull(ctx, strings.TrimPrefix(s.URL, "http://")+"/flood:1.0.0", "")
	if err != context.Canceled {
		t.Errorf("got %v", err)
	}
}
