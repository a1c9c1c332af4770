package registry

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"context"
	"crypto/tls"
	"crypto/x509"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"cuelabs.dev/go/oci/ociregistry"
	"cuelabs.dev/go/oci/ociregistry/ocimem"
	"cuelabs.dev/go/oci/ociregistry/ociserver"
	"github.com/google/go-cmp/cmp"

	"kitmuster/lint/judge"
)

// good is what an honest registry has of one standard; a hostile one changes what it likes.
type good struct {
	manifest, layer []byte
	m               ociregistry.Manifest
}

func newGood(t testing.TB, layer []byte) good {
	t.Helper()
	b, err := describe(&judge.Manifest{Name: "flood", Version: "1.0.0"}, layer, []byte("{}"))
	if err != nil {
		t.Fatal(err)
	}
	g := good{manifest: b, layer: layer}
	if err := json.Unmarshal(b, &g.m); err != nil {
		t.Fatal(err)
	}
	return g
}

// with is the same after a change of the manifest.
func (g good) with(t testing.TB, change func(*ociregistry.Manifest)) good {
	t.Helper()
	g.m.Layers = slices.Clone(g.m.Layers)
	change(&g.m)
	var err error
	if g.manifest, err = json.Marshal(g.m); err != nil {
		t.Fatal(err)
	}
	return g
}

func answer(w http.ResponseWriter, kind string, b []byte) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Length", strconv.Itoa(len(b)))
	_, _ = w.Write(b)
}

func (g good) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	switch {
	case strings.Contains(r.URL.Path, "/manifests/"):
		answer(w, manifestType, g.manifest)
	case strings.Contains(r.URL.Path, "/blobs/"):
		answer(w, "application/octet-stream", g.layer)
	default:
		http.NotFound(w, r)
	}
}

// blobs serves the good manifest and something else for the layer.
func (g good) blobs(f http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if strings.Contains(r.URL.Path, "/blobs/") {
			f(w, r)
			return
		}
		g.ServeHTTP(w, r)
	}
}

// endless writes until nobody listens.
func endless(w http.ResponseWriter) {
	b := bytes.Repeat([]byte(" "), 64<<10)
	for {
		if _, err := w.Write(b); err != nil {
			return
		}
	}
}

// drip writes a byte now and then.
func drip(w http.ResponseWriter, r *http.Request, kind string, b []byte) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Length", strconv.Itoa(len(b)))
	for i := range b {
		select {
		case <-r.Context().Done():
			return
		case <-time.After(50 * time.Millisecond):
			_, _ = w.Write(b[i : i+1])
			w.(http.Flusher).Flush()
		}
	}
}

func tarball(t testing.TB, level int, headers ...tar.Header) []byte {
	t.Helper()
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, level)
	if err != nil {
		t.Fatal(err)
	}
	w := tar.NewWriter(z)
	zeros := make([]byte, 1<<20)
	for _, h := range headers {
		if err := w.WriteHeader(&h); err != nil {
			t.Fatal(err)
		}
		for n := h.Size; n > 0; n -= min(n, int64(len(zeros))) {
			if _, err := w.Write(zeros[:min(n, int64(len(zeros)))]); err != nil {
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
	return b.Bytes()
}

// Whatever a registry does, a pull ends soon, in little memory, with an error that says what is wrong; and nothing is kept.
func TestHostile(t *testing.T) {
	const patience = 1500 * time.Millisecond
	g := newGood(t, packed(t, flood("1.0.0", "dry bags")))
	redirect := func(to string) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) { http.Redirect(w, r, to, http.StatusTemporaryRedirect) }
	}
	manifest := func(kind, body string) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) { answer(w, kind, []byte(body)) }
	}
	header := func(name, value string) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set(name, value)
			g.ServeHTTP(w, r)
		}
	}
	unauthorized := func(challenge string) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("WWW-Authenticate", strings.ReplaceAll(challenge, "HOST", r.Host))
			if r.URL.Path == "/token" {
				answer(w, "application/json", []byte(`{"token": "x"}`))
				return
			}
			w.WriteHeader(http.StatusUnauthorized)
		}
	}
	bomb := tarball(t, gzip.BestSpeed, tar.Header{Name: "rules/flood/x.rego", Typeflag: tar.TypeReg, Size: 1 << 30})
	many := make([]tar.Header, 5000)
	for i := range many {
		many[i] = tar.Header{Name: fmt.Sprintf("rules/%d.rego", i), Typeflag: tar.TypeReg}
	}
	for _, x := range []struct {
		name string
		do   http.Handler
		want string
	}{
		{"endless manifest without a length", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Content-Type", manifestType)
			endless(w)
		}), "unknown content length"},
		{"endless manifest with a length", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Content-Type", manifestType)
			w.Header().Set("Docker-Content-Digest", sum(nil))
			w.Header().Set("Content-Length", strconv.Itoa(1<<40))
			endless(w)
		}), "at most 1048576"},
		{"manifest of 2 MiB", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Docker-Content-Digest", sum(nil))
			answer(w, manifestType, make([]byte, 2<<20))
		}), "at most 1048576"},
		{"manifest of another digest than the header says", header("Docker-Content-Digest", sum(nil)), "came broken"},
		{"digest of an unknown kind", header("Docker-Content-Digest", "md5:d41d8cd98f00b204e9800998ecf8427e"), "bad digest"},
		{"digest that is none", header("Docker-Content-Digest", "\x01%s"), "as a registry"},
		{"manifest that is cut off", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Content-Type", manifestType)
			w.Header().Set("Docker-Content-Digest", sum(g.manifest))
			w.Header().Set("Content-Length", strconv.Itoa(len(g.manifest)))
			_, _ = w.Write(g.manifest[:100])
		}), "came broken"},
		{"web page", manifest("text/html; charset=utf-8", "<!doctype html><title>Log in</title>"), "answers with a web page"},
		{"manifest of another content type", manifest("application/octet-stream", string(g.manifest)), "no manifest of a standard"},
		{"list of images", manifest(indexType, `{"schemaVersion": 2, "manifests": []}`), "a list of images"},
		{"manifest that is no JSON", manifest(manifestType, "\x1b[2Jhello"), "no manifest of a standard"},
		{"manifest that is an array", manifest(manifestType, "[]"), "no manifest of a standard"},
		{"manifest that is nested deeply", manifest(manifestType, strings.Repeat("[", 100_000)), "no manifest of a standard"},
		{"manifest with its layers twice", manifest(manifestType, strings.Replace(string(g.manifest), "{", `{"layers": [], `, 1)), `"layers" is written twice`},
		{"manifest with its layers twice, in another case", manifest(manifestType, strings.Replace(string(g.manifest), "{", `{"LAYERS": [], `, 1)), `"LAYERS" and "layers" differ only in upper and lower case`},
		{"manifest without layers", g.with(t, func(m *ociregistry.Manifest) { m.Layers = nil }), "has one layer"},
		{"manifest with many layers", g.with(t, func(m *ociregistry.Manifest) { m.Layers = append(m.Layers, m.Layers[0]) }), "has one layer"},
		{"artifact of another type", g.with(t, func(m *ociregistry.Manifest) { m.ArtifactType = "application/\x1b[31m" }), "it is of type"},
		{"layer without a digest", g.with(t, func(m *ociregistry.Manifest) { m.Layers[0].Digest = "../../etc/passwd" }), "no sha256 digest"},
		{"layer said to be huge", g.with(t, func(m *ociregistry.Manifest) { m.Layers[0].Size = 1 << 50 }), "at most 24 MiB"},
		{"layer said to be less than nothing", g.with(t, func(m *ociregistry.Manifest) { m.Layers[0].Size = -1 }), "at most 24 MiB"},
		{"layer of another size", g.with(t, func(m *ociregistry.Manifest) { m.Layers[0].Size++ }), "its manifest says"},
		{"layer of another digest", g.blobs(func(w http.ResponseWriter, r *http.Request) {
			b := bytes.Clone(g.layer)
			b[len(b)/2] ^= 1
			answer(w, "application/octet-stream", b)
		}), "came broken"},
		{"layer of another digest, which the header confirms", g.blobs(func(w http.ResponseWriter, r *http.Request) {
			b := bytes.Clone(g.layer)
			b[len(b)/2] ^= 1
			w.Header().Set("Docker-Content-Digest", sum(b))
			answer(w, "application/octet-stream", b)
		}), "not what its manifest says"},
		{"endless layer", g.blobs(func(w http.ResponseWriter, r *http.Request) { endless(w) }), "unknown content length"},
		{"layer that is cut off", g.blobs(func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Content-Length", strconv.Itoa(len(g.layer)))
			_, _ = w.Write(g.layer[:10])
		}), "came broken"},
		{"layer that drips", g.blobs(func(w http.ResponseWriter, r *http.Request) { drip(w, r, "application/octet-stream", g.layer) }), "within the time allowed"},
		{"manifest that drips", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { drip(w, r, manifestType, g.manifest) }), "within the time allowed"},
		{"no answer at all", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { <-r.Context().Done() }), "within the time allowed"},
		{"headers without end", header("X", strings.Repeat("x", 1<<20)), "as a registry"},
		{"redirect to itself", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { http.Redirect(w, r, r.URL.Path, http.StatusFound) }), "stopped after 10 redirects"},
		{"redirect to ever new places", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			http.Redirect(w, r, r.URL.Path+"x", http.StatusFound)
		}), "stopped after 10 redirects"},
		{"redirect to a file", redirect("file:///etc/passwd"), "only https is followed"},
		{"redirect to a file on a host", redirect("file://host/etc/passwd"), "only https is followed"},
		{"redirect to another protocol", redirect("gopher://host.example:70/"), "only https is followed"},
		{"redirect to plain http elsewhere", redirect("http://169.254.169.254/latest"), "leads to http://169.254.169.254; only https is followed"},
		{"redirect of the layer to plain http elsewhere", g.blobs(redirect("http://localhost:1/")), "leads to http://localhost:1; only https is followed"},
		{"redirect to nowhere", redirect("://"), "as a registry"},
		{"layer that is a bomb", newGood(t, bomb), "1 MiB each"},
		{"layer with too many files", newGood(t, tarball(t, gzip.BestSpeed, many...)), "at most 2000 files"},
		{"layer that leads out", newGood(t, tarball(t, gzip.BestSpeed, tar.Header{Name: "../../x", Typeflag: tar.TypeReg})), "leads out"},
		{"layer with a link", newGood(t, tarball(t, gzip.BestSpeed, tar.Header{Name: "x", Typeflag: tar.TypeSymlink, Linkname: "/etc/passwd"})), "a link"},
		{"layer that is no archive", newGood(t, []byte("hello")), "no packed standard"},
		{"layer without a manifest", newGood(t, tarball(t, gzip.BestSpeed, tar.Header{Name: "x", Typeflag: tar.TypeReg})), "there is no .manifest"},
		{"layer that claims the base", newGood(t, packed(t, floodThat(`{"revision": "1.0.0", "metadata": {"name": "base"}, "roots": ["rules/base"]}`))), "the name of the base"},
		{"layer that claims another's roots", newGood(t, packed(t, floodThat(`{"revision": "1.0.0", "metadata": {"name": "flood"}, "roots": [""]}`))), "not this standard's own"},
		{"401 for ever", unauthorized(""), "does not let you"},
		{"401 for ever, Basic", unauthorized(`Basic realm="x"`), "does not let you"},
		{"401 for ever, with tokens", unauthorized(`Bearer realm="http://HOST/token",service="x",scope="repository:flood:pull"`), "does not let you"},
		{"401 for ever, whose token server says 401", unauthorized(`Bearer realm="http://HOST/other"`), "does not let you"},
		{"401 whose token server is a file", unauthorized(`Bearer realm="file:///etc/passwd"`), "only https is followed"},
		{"401 whose token server is in plain http elsewhere", unauthorized(`Bearer realm="http://token.example/"`), "only https is followed"},
		{"401 whose token does not end", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.URL.Path == "/token" {
				endless(w)
				return
			}
			w.Header().Set("WWW-Authenticate", fmt.Sprintf(`Bearer realm="http://%s/token"`, r.Host))
			w.WriteHeader(http.StatusUnauthorized)
		}), "longer than 24 MiB"},
		{"401 and redirects without end, with tokens that are worth nothing", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			switch {
			case r.URL.Path == "/tokenxxxxxxxx":
				answer(w, "application/json", []byte(`{"token": "x", "expires_in": 1}`))
			case strings.HasPrefix(r.URL.Path, "/token"), r.Header.Get("Authorization") != "":
				http.Redirect(w, r, r.URL.Path+"x", http.StatusTemporaryRedirect)
			default:
				w.Header().Set("WWW-Authenticate", fmt.Sprintf(`Bearer realm="http://%s/token"`, r.Host))
				w.WriteHeader(http.StatusUnauthorized)
			}
		}), "more than 60 requests"},
		{"error with a message for the terminal", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Content-Type", "application/json")
			w.WriteHeader(http.StatusTeapot)
			fmt.Fprintf(w, `{"errors": [{"code": "X", "message": "\u001b]0;owned\u0007\u202e%s"}]}`, strings.Repeat("long ", 1000))
		}), "answers 418"},
		{"error without end", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			w.WriteHeader(http.StatusInternalServerError)
			endless(w)
		}), "answers 500"},
		{"not there, and the list of tags is garbage", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if strings.Contains(r.URL.Path, "/tags/") {
				answer(w, "application/json", []byte(`{"tags": ["\u001b[31m", "9.9.9\n", "1.0.0`))
				return
			}
			w.WriteHeader(http.StatusNotFound)
		}), "look at host, path and version"},
		{"not there, and the list of tags does not end", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if strings.Contains(r.URL.Path, "/tags/") {
				endless(w)
				return
			}
			w.WriteHeader(http.StatusNotFound)
		}), "look at host, path and version"},
		{"not there, and the list of tags goes in circles", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if strings.Contains(r.URL.Path, "/tags/") {
				w.Header().Set("Link", `<`+r.URL.Path+`>; rel="next"`)
				answer(w, "application/json", []byte(`{"tags": ["10.0.0", "9.0.0", "9.0.0", "latest", "\u001b"]}`))
				return
			}
			w.WriteHeader(http.StatusNotFound)
		}), "it has 9.0.0, 10.0.0"},
		{"gone for a while", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusServiceUnavailable) }), "cannot be reached: it answers 503"},
		{"too many requests", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusTooManyRequests) }), "wait a while"},
	} {
		t.Run(x.name, func(t *testing.T) {
			var requests atomic.Int32
			s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				requests.Add(1)
				if r.Header.Get("Accept-Encoding") != "" {
					t.Error("the registry may send what grows when it is read")
				}
				x.do.ServeHTTP(w, r)
			}))
			defer s.Close()
			defer s.CloseClientConnections()
			l := newStore(t)
			ctx, stop := context.WithTimeout(t.Context(), patience)
			defer stop()
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := time.Now()
			_, err := l.Pull(ctx, strings.TrimPrefix(s.URL, "http://")+"/valley/flood:1.0.0", "")
			took := time.Since(start)
			runtime.ReadMemStats(&after)
			refused(t, err, x.want)
			made := (after.TotalAlloc - before.TotalAlloc) >> 20
			t.Logf("%v, %d MiB made, %d requests: %v", took.Round(time.Millisecond), made, requests.Load(), err)
			if took > patience+time.Second || made > 200 || requests.Load() > maxRequests {
				t.Errorf("took %v, %d MiB, %d requests", took, made, requests.Load())
			}
			if text := err.Error(); len(text) > 600 || strings.ContainsAny(text, "\x1b\x07\n\r\u202e") {
				t.Errorf("the error is unfit for a terminal: %q", text)
			}
			if _, err := os.Stat(l.dir); err == nil {
				t.Error("something was kept")
			}
		})
	}
}

func floodThat(manifest string) (f fstest.MapFS) {
	f = flood("1.0.0", "dry bags")
	f[".manifest"].Data = []byte(manifest)
	return f
}

// A registry that answers a push with nonsense is told, and cannot lead the standard elsewhere.
func TestHostileToPush(t *testing.T) {
	for want, upload := range map[string]http.HandlerFunc{
		"only https is followed": func(w http.ResponseWriter, r *http.Request) {
			w.Header().Set("Location", "http://other.example/upload")
			w.WriteHeader(http.StatusAccepted)
		},
		"no Location":          func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusAccepted) },
		"answers 413":          func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusRequestEntityTooLarge) },
		"unexpected HTTP":      func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusOK) },
		"does not let you":     func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusForbidden) },
		"within the time allo": func(w http.ResponseWriter, r *http.Request) { _, _ = io.Copy(io.Discard, r.Body); <-r.Context().Done() },
	} {
		s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if r.Method == http.MethodPost {
				upload(w, r)
				return
			}
			http.NotFound(w, r)
		}))
		ctx, stop := context.WithTimeout(t.Context(), time.Second)
		_, err := newStore(t).Push(ctx, strings.TrimPrefix(s.URL, "http://")+"/valley/flood", flood("1.0.0", "dry bags"), false)
		stop()
		refused(t, err, want)
		s.CloseClientConnections()
		s.Close()
	}
	// One that forgets what it was given, and one that changes it.
	other := newGood(t, packed(t, flood("1.0.0", "boots")))
	var puts atomic.Int32
	var changes atomic.Bool
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.Method {
		case http.MethodPost:
			w.Header().Set("Location", "/upload")
			w.WriteHeader(http.StatusAccepted)
		case http.MethodPut:
			puts.Add(1)
			w.WriteHeader(http.StatusCreated)
		case http.MethodGet:
			if changes.Load() && puts.Load() > 0 {
				other.ServeHTTP(w, r)
				return
			}
			fallthrough
		default:
			w.WriteHeader(http.StatusNotFound)
		}
	}))
	defer s.Close()
	_, err := newStore(t).Push(t.Context(), strings.TrimPrefix(s.URL, "http://")+"/valley/flood", flood("1.0.0", "dry bags"), false)
	refused(t, err, "cannot be read back")
	puts.Store(0)
	changes.Store(true)
	_, err = newStore(t).Push(t.Context(), strings.TrimPrefix(s.URL, "http://")+"/valley/flood", flood("1.0.0", "dry bags"), false)
	refused(t, err, "holds another manifest", sum(other.manifest))
}

// What is asked for by digest and is something else is refused, whatever the header says.
func TestAnotherManifest(t *testing.T) {
	g := newGood(t, packed(t, flood("1.0.0", "dry bags")))
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Docker-Content-Digest", sum(g.manifest))
		g.ServeHTTP(w, r)
	}))
	defer s.Close()
	asked := "sha256:" + strings.Repeat("0", 64)
	_, err := newStore(t).Pull(t.Context(), strings.TrimPrefix(s.URL, "http://")+"/valley/flood@"+asked, "")
	refused(t, err, "sent another manifest than "+asked, sum(g.manifest))
}

// secure runs a registry with TLS; every name leads to it, on any port.
func secure(t *testing.T, h http.Handler) *http.Transport {
	s := httptest.NewUnstartedServer(h)
	s.Config.ErrorLog = log.New(io.Discard, "", 0) // refused handshakes are what some tests are about
	s.StartTLS()
	t.Cleanup(s.Close)
	roots := x509.NewCertPool()
	roots.AddCert(s.Certificate())
	return &http.Transport{
		TLSClientConfig: &tls.Config{RootCAs: roots, ServerName: "example.com"}, // the name in httptest's certificate
		DialContext: func(ctx context.Context, network, _ string) (net.Conn, error) {
			return (&net.Dialer{}).DialContext(ctx, network, s.Listener.Addr().String())
		},
	}
}

// Any host but this machine is spoken to in https, unless a person says otherwise.
func TestTLS(t *testing.T) {
	const address = "registry.example/valley/flood"
	l := newStore(t)
	l.transport = secure(t, ociserver.New(ocimem.New(), nil))
	l.push(t, address, flood("1.0.0", "dry bags"))
	l.pull(t, address+":1.0.0", "")

	plain := newStore(t)
	plain.transport = l.transport
	plain.Insecure = true
	_, err := plain.Pull(t.Context(), address+":1.0.0", "")
	refused(t, err, "registry.example answers 400")

	host, _ := serve(t)
	down := newStore(t)
	down.transport = &http.Transport{DialContext: func(ctx context.Context, network, _ string) (net.Conn, error) {
		return (&net.Dialer{}).DialContext(ctx, network, host)
	}}
	_, err = down.Pull(t.Context(), address+":1.0.0", "")
	refused(t, err, "registry.example speaks http", "--insecure")
	down.Insecure = true
	down.push(t, address, flood("1.0.0", "dry bags"))
	down.pull(t, address+":1.0.0", "")

	stranger := newStore(t)
	stranger.transport = secure(t, ociserver.New(ocimem.New(), nil))
	stranger.transport.TLSClientConfig.RootCAs = x509.NewCertPool()
	_, err = stranger.Pull(t.Context(), address+":1.0.0", "")
	refused(t, err, "no certificate that this machine trusts")

	for _, to := range []string{"http://registry.example/x", "http://other.example/x"} {
		lured := newStore(t)
		lured.transport = secure(t, http.RedirectHandler(to, http.StatusTemporaryRedirect))
		_, err = lured.Pull(t.Context(), address+":1.0.0", "")
		refused(t, err, "only https is followed")
	}

	g := newGood(t, packed(t, flood("1.0.0", "dry bags")))
	elsewhere := newStore(t)
	elsewhere.transport = secure(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Host == "registry.example" {
			http.Redirect(w, r, "https://blobs.example"+r.URL.Path, http.StatusTemporaryRedirect)
			return
		}
		g.ServeHTTP(w, r)
	}))
	elsewhere.pull(t, address+":1.0.0", "")
}

const password = "moss-lantern-4711"

// loggedIn is an environment with credentials for each host.
func loggedIn(t *testing.T, hosts ...string) []string {
	auths := map[string]any{}
	for _, h := range hosts {
		auths[h] = map[string]string{"auth": base64.StdEncoding.EncodeToString([]byte("group:" + password))}
	}
	b, err := json.Marshal(map[string]any{"auths": auths})
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "config.json"), b, 0o600); err != nil {
		t.Fatal(err)
	}
	return []string{"DOCKER_CONFIG=" + dir}
}

func TestCredentials(t *testing.T) {
	inner := ociserver.New(ocimem.New(), nil)
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if user, pass, _ := r.BasicAuth(); user != "group" || pass != password {
			w.Header().Set("WWW-Authenticate", `Basic realm="valley"`)
			w.WriteHeader(http.StatusUnauthorized)
			return
		}
		inner.ServeHTTP(w, r)
	}))
	defer s.Close()
	host := strings.TrimPrefix(s.URL, "http://")
	l := newStore(t)
	_, err := l.Push(t.Context(), host+"/valley/flood", flood("1.0.0", "dry bags"), false)
	refused(t, err, host+" does not let you", "DOCKER_CONFIG")
	l.Env = loggedIn(t, host)
	l.push(t, host+"/valley/flood", flood("1.0.0", "dry bags"))
	l.pull(t, host+"/valley/flood:1.0.0", "")
	l.Env = loggedIn(t, "other.example")
	_, err = l.Pull(t.Context(), host+"/valley/flood:1.0.0", "")
	refused(t, err, "does not let you")
}

// A registry that hands out tokens is asked for one to read with and one to write with, for this path only (Docker Registry
// Token Authentication, from memory: scope=repository:PATH:ACTIONS).
func TestTokens(t *testing.T) {
	inner := ociserver.New(ocimem.New(), nil)
	var asked []string
	var base string
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/token" {
			if user, pass, _ := r.BasicAuth(); user != "group" || pass != password {
				w.WriteHeader(http.StatusUnauthorized)
				return
			}
			asked = append(asked, r.URL.Query()["scope"]...)
			answer(w, "application/json", []byte(`{"token": "from the desk"}`))
			return
		}
		if r.Header.Get("Authorization") != "Bearer from the desk" {
			action := "pull"
			if r.Method != http.MethodGet && r.Method != http.MethodHead {
				action = "pull,push"
			}
			w.Header().Set("WWW-Authenticate", `Bearer realm="`+base+`/token",service="valley",scope="repository:valley/flood:`+action+`"`)
			w.WriteHeader(http.StatusUnauthorized)
			return
		}
		inner.ServeHTTP(w, r)
	}))
	defer s.Close()
	base = s.URL
	host := strings.TrimPrefix(s.URL, "http://")
	for _, x := range []struct {
		do   func(l *listener)
		want []string
	}{
		{func(l *listener) { l.push(t, host+"/valley/flood", flood("1.0.0", "dry bags")) }, []string{"repository:valley/flood:pull,push"}},
		{func(l *listener) { l.pull(t, host+"/valley/flood:1.0.0", "") }, []string{"repository:valley/flood:pull"}},
	} {
		asked = nil
		l := newStore(t)
		l.Env = loggedIn(t, host)
		x.do(l)
		if diff := cmp.Diff(x.want, asked); diff != "" {
			t.Error(diff)
		}
	}
	_, err := newStore(t).Pull(t.Context(), host+"/valley/flood:1.0.0", "")
	refused(t, err, "does not let you")
}

// A pinned content that is in the store is used when the registry hangs, drips or is gone, and not when it sends something else.
func TestStandsIn(t *testing.T) {
	g := newGood(t, packed(t, flood("1.0.0", "dry bags")))
	var now atomic.Value
	now.Store(http.HandlerFunc(g.ServeHTTP))
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { now.Load().(http.HandlerFunc)(w, r) }))
	defer s.Close()
	defer s.CloseClientConnections()
	address := strings.TrimPrefix(s.URL, "http://") + "/valley/flood:1.0.0"
	l := newStore(t)
	pin := l.pull(t, address, "").Digest
	for name, x := range map[string]struct {
		do   http.HandlerFunc
		want string
	}{
		"hangs":     {func(w http.ResponseWriter, r *http.Request) { <-r.Context().Done() }, ""},
		"drips":     {func(w http.ResponseWriter, r *http.Request) { drip(w, r, manifestType, g.manifest) }, ""},
		"is gone":   {func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusServiceUnavailable) }, ""},
		"is a page": {func(w http.ResponseWriter, r *http.Request) { answer(w, "text/html", []byte("<p>")) }, "web page"},
		"forgot":    {func(w http.ResponseWriter, r *http.Request) { w.WriteHeader(http.StatusNotFound) }, "there is no"},
		"sends another": {func(w http.ResponseWriter, r *http.Request) {
			newGood(t, packed(t, flood("1.0.0", "boots"))).ServeHTTP(w, r)
		}, "you named " + pin},
	} {
		now.Store(x.do)
		l.heard = nil
		ctx, stop := context.WithTimeout(t.Context(), 700*time.Millisecond)
		st, err := l.Pull(ctx, address, pin)
		stop()
		if x.want != "" {
			refused(t, err, x.want)
		} else if err != nil || st.Digest != pin || len(l.heard) != 1 {
			t.Errorf("%s: %v, heard %q", name, err, l.heard)
		}
	}
}

// Credentials of another host that a registry leads to stay at home.
func TestCredentialsStayAtHome(t *testing.T) {
	var asked atomic.Int32
	l := newStore(t)
	l.transport = secure(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Host == "registry.example" {
			http.Redirect(w, r, "https://other.example"+r.URL.Path, http.StatusTemporaryRedirect)
			return
		}
		asked.Add(1)
		if r.Header.Get("Authorization") != "" {
			t.Errorf("%s was given credentials", r.Host)
		}
		w.Header().Set("WWW-Authenticate", `Basic realm="x"`)
		w.WriteHeader(http.StatusUnauthorized)
	}))
	l.Env = loggedIn(t, "registry.example", "other.example")
	_, err := l.Pull(t.Context(), "registry.example/valley/flood:1.0.0", "")
	refused(t, err, "does not let you")
	if asked.Load() == 0 {
		t.Error("the redirect was not followed, so this test tells nothing")
	}
}

// No secret comes into an error, whatever is wrong with the credentials.
func TestSecretsAreNotPrinted(t *testing.T) {
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("WWW-Authenticate", `Basic realm="x"`)
		w.WriteHeader(http.StatusUnauthorized)
	}))
	defer s.Close()
	host := strings.TrimPrefix(s.URL, "http://")
	dir := t.TempDir()
	helper := "#!/bin/sh\necho " + password + "\necho " + password + " >&2\nexit 1\n"
	if err := os.WriteFile(filepath.Join(dir, "docker-credential-valley"), []byte(helper), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "docker-credential-slow"), []byte("#!/bin/sh\nexec sleep 30\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", dir+":"+os.Getenv("PATH"))
	for config, want := range map[string]string{
		`{"auths": {"` + host + `": {"auth": "` + base64.StdEncoding.EncodeToString([]byte("group:"+password)) + `"}}}`: "does not let you",
		`{"auths": {"` + host + `": {"auth": "` + password + `"}}}`:                                                     "cannot be read",
		`{"auths": {"` + host + `": {"identitytoken": "` + password + `", "username": "x"}}}`:                           "ambiguous auth",
		`{"auths": ` + password:                        "cannot be read",
		`{"credHelpers": {"` + host + `": "valley"}}`:  "docker-credential-valley gave no credentials",
		`{"credHelpers": {"` + host + `": "missing"}}`: "helper not found",
		`{"credHelpers": {"` + host + `": "slow"}}`:    "within the time allowed",
	} {
		if err := os.WriteFile(filepath.Join(dir, "config.json"), []byte(config), 0o600); err != nil {
			t.Fatal(err)
		}
		l := newStore(t)
		l.Env = []string{"DOCKER_CONFIG=" + dir, "PATH=" + os.Getenv("PATH")}
		ctx, stop := context.WithTimeout(t.Context(), time.Second)
		_, err := l.Pull(ctx, host+"/valley/flood:1.0.0", "")
		stop()
		refused(t, err, want)
		if strings.Contains(err.Error(), password) {
			t.Errorf("a secret is in the error: %v", err)
		}
	}
}
