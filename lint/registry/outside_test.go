package registry

import (
	"context"
	"encoding/json"
	"fmt"
	"net"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// The registry of other people: Debian's docker-registry, which .ci/run starts and names in KITMUSTER_REGISTRY. It is reached
// through a proxy of ours, so that it can go away.
func TestOutsideRegistry(t *testing.T) {
	real := os.Getenv("KITMUSTER_REGISTRY")
	if real == "" {
		t.Skip("KITMUSTER_REGISTRY is not set; see .ci/run")
	}
	await(t, real)
	front := func() (host string, stop func()) {
		p := httptest.NewServer(&httputil.ReverseProxy{Rewrite: func(r *httputil.ProxyRequest) {
			r.SetURL(&url.URL{Scheme: "http", Host: real})
			r.Out.Host = r.In.Host
		}})
		t.Cleanup(p.Close)
		return strings.TrimPrefix(p.URL, "http://"), p.Close
	}
	// The registry outlives the test, so every run has paths of its own.
	run := fmt.Sprintf("run-%d", time.Now().UnixNano())
	t.Run("round trip", func(t *testing.T) {
		host, stop := front()
		roundTrip(t, host+"/"+run+"/flood", stop)
	})
	t.Run("promises", func(t *testing.T) {
		host, _ := front()
		promises(t, host+"/"+run+"/promises")
	})
	t.Run("read by the stock engine", func(t *testing.T) {
		opa := os.Getenv("KITMUSTER_OPA")
		if opa == "" {
			t.Skip("KITMUSTER_OPA is not set; see .ci/run")
		}
		address := real + "/" + run + "/stock"
		newStore(t).push(t, address, flood("1.0.0", "dry bags"))
		dir := t.TempDir()
		for name, text := range map[string]string{
			"input.json": "{}",
			"opa.yaml": "services: {valley: {url: \"http://" + real + "\", type: oci}}\n" +
				"bundles: {flood: {service: valley, resource: \"" + address + ":1.0.0\"}}\n" +
				"persistence_directory: " + filepath.Join(dir, "opa") + "\n",
		} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		ctx, stop := context.WithTimeout(t.Context(), time.Minute)
		defer stop()
		cmd := exec.CommandContext(ctx, opa, "exec", "--config-file", "opa.yaml", "--decision", "limits/flood", "input.json")
		cmd.Dir = dir
		cmd.Stderr = os.Stderr
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		var got struct{ Result []struct{ Result any } }
		if err := json.Unmarshal(out, &got); err != nil || len(got.Result) != 1 {
			t.Fatalf("%v\n%s", err, out)
		}
		if diff := cmp.Diff(map[string]any{"dry_bags": 2.0}, got.Result[0].Result); diff != "" {
			t.Error(diff)
		}
	})
}

// await waits until someone listens, since the registry is only just being started.
func await(t *testing.T, host string) {
	var err error
	for range 100 {
		var c net.Conn
		if c, err = net.Dial("tcp", host); err == nil {
			_ = c.Close()
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	t.Fatalf("KITMUSTER_REGISTRY=%s: %v", host, err)
}
