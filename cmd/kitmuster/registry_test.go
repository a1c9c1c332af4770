package main

import (
	"bytes"
	"io/fs"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"cuelabs.dev/go/oci/ociregistry/ocimem"
	"cuelabs.dev/go/oci/ociregistry/ociserver"
	"github.com/google/go-cmp/cmp"
)

// runStandard runs push or pull in this process, and gives what it wrote.
func runStandard(t *testing.T, args ...string) (out, errs string, err error) {
	t.Helper()
	a := command(time.Now)
	var o, e bytes.Buffer
	a.root.SetOut(&o)
	a.root.SetErr(&e)
	err = a.execute(t.Context(), append([]string{"standard"}, args...))
	return o.String(), e.String(), err
}

func floodFolder(t *testing.T, version, remark string) string {
	dir := t.TempDir()
	for name, text := range map[string]string{
		".manifest":            `{"revision": "` + version + `", "metadata": {"name": "flood"}, "roots": ["rules/flood"]}`,
		"rules/flood/dry.rego": "package rules.flood.dry\n\n# " + remark + "\n",
	} {
		name = filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

var said = regexp.MustCompile(`^flood 1\.0\.0 ([a-z ]+)\naddress (.+@sha256:[0-9a-f]{64})\ncontent (sha256:[0-9a-f]{64})\n$`)

// A standard goes to a registry as a folder, comes back as a file, and goes to another registry as that file: the same address
// but for the host, and the same content.
func TestStandardPushAndPull(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Setenv("DOCKER_CONFIG", t.TempDir())
	var hosts []string
	var servers []*httptest.Server
	for range 2 {
		s := httptest.NewServer(ociserver.New(ocimem.New(), nil))
		defer s.Close()
		servers = append(servers, s)
		hosts = append(hosts, strings.TrimPrefix(s.URL, "http://"))
	}
	dir := floodFolder(t, "1.0.0", "dry bags")
	file := filepath.Join(t.TempDir(), "flood.tar.gz")
	var address, content string
	for i, x := range []struct {
		args []string
		want string
	}{
		{[]string{"push", dir, hosts[0] + "/valley/flood"}, "pushed"},
		{[]string{"push", dir, hosts[0] + "/valley/flood:1.0.0"}, "was there already"},
		{[]string{"pull", hosts[0] + "/valley/flood:1.0.0", "-o", file}, "pulled"},
		{[]string{"pull", hosts[0] + "/valley/flood:1.0.0"}, "was fetched before"},
		{[]string{"push", file, hosts[1] + "/valley/flood"}, "pushed"},
	} {
		out, errs, err := runStandard(t, x.args...)
		m := said.FindStringSubmatch(out)
		if err != nil || errs != "" || m == nil || m[1] != x.want {
			t.Fatalf("%q: %v\n%s%s", x.args, err, out, errs)
		}
		_, path, _ := strings.Cut(m[2], "/")
		if i == 0 {
			address, content = path, m[3]
		} else if path != address || m[3] != content {
			t.Errorf("%q: another address or content:\n%s", x.args, out)
		}
	}
	for _, s := range servers {
		s.Close()
	}
	out, errs, err := runStandard(t, "pull", hosts[0]+"/valley/flood:1.0.0", "--digest", content)
	if err != nil || !strings.Contains(out, "was fetched before") || !strings.HasPrefix(errs, "kitmuster: "+hosts[0]+" cannot be reached") {
		t.Errorf("offline: %v\n%s%s", err, out, errs)
	}
}

func TestStandardPushAndPullRefuse(t *testing.T) {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Setenv("DOCKER_CONFIG", t.TempDir())
	dir := floodFolder(t, "1.0.0", "dry bags")
	notOne := filepath.Join(dir, ".manifest")
	for _, x := range []struct{ args, want string }{
		{"push", "push takes a file or folder, and an address: kitmuster standard push FILE|DIR ADDRESS"},
		{"pull a b", "pull takes an address: kitmuster standard pull ADDRESS"},
		{"push " + dir + " flood", `address "flood": it begins with the host`},
		{"push " + dir + "/none 127.0.0.1:1/flood", dir + "/none: there is no such file"},
		{"push " + notOne + " 127.0.0.1:1/flood", notOne + ": this is no packed standard"},
		{"push " + dir + "/rules 127.0.0.1:1/flood", "there is no .manifest"},
		{"push " + dir + " 127.0.0.1:1/flood", "127.0.0.1:1 cannot be reached: connection refused"},
		{"push " + dir + " 127.0.0.1:1/flood --timeout 0", "--timeout 0s: write a time"},
		{"pull https://127.0.0.1:1/flood:1", "leave https:// out"},
		{"pull 127.0.0.1:1/flood", "which version"},
		{"pull 127.0.0.1:1/flood:1.0.0", "127.0.0.1:1 cannot be reached: connection refused"},
		{"pull 127.0.0.1:1/flood:1.0.0 --digest x", `digest "x": write sha256:`},
	} {
		out, errs, err := runStandard(t, strings.Fields(x.args)...)
		if err == nil || !strings.Contains(err.Error(), x.want) {
			t.Errorf("%s: %v; want %q", x.args, err, x.want)
		}
		if diff := cmp.Diff("", out+errs); diff != "" {
			t.Errorf("%s: %s", x.args, diff)
		}
	}
	// A pull that fails leaves the file alone.
	file := filepath.Join(t.TempDir(), "flood.tar.gz")
	if err := os.WriteFile(file, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, _, err := runStandard(t, "pull", "127.0.0.1:1/flood:1.0.0", "-o", file); err == nil {
		t.Error("nothing was refused")
	}
	if b, err := fs.ReadFile(os.DirFS(filepath.Dir(file)), "flood.tar.gz"); err != nil || string(b) != "mine" {
		t.Errorf("%q, %v", b, err)
	}
}
