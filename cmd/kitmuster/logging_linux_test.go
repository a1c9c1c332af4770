package main

import (
	"io"
	"net"
	"strings"
	"testing"
	"time"
)

// What a library logs does not reach standard error: a server that says more than it was asked puts text of its own into the log
// line of the HTTP client.
func TestNoLibraryLogs(t *testing.T) {
	t.Parallel()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			go func() {
				defer c.Close()
				_ = c.SetDeadline(time.Now().Add(10 * time.Second))
				if _, err := c.Read(make([]byte, 4096)); err != nil {
					return
				}
				time.Sleep(300 * time.Millisecond) // the client is still there when what comes after the answer before is seen
				_, _ = io.WriteString(c, "HTTP/1.1 404 Not Found\r\nContent-Type: application/json\r\nContent-Length: 2\r\n\r\n{}HTTP/1.1 200 OK\r\n\r\n::error title=x::y\n")
				_, _ = io.Copy(io.Discard, c)
			}()
		}
	}()
	got := runsWith(t, t.TempDir(), []string{"HOME=" + t.TempDir()}, "standard", "pull", l.Addr().String()+"/valley/upper:1.2.0")
	if got.code != exitUnfit || !strings.HasPrefix(got.errs, "kitmuster: ") || strings.Count(got.errs, "\n") != 1 || strings.Contains(got.errs, "Unsolicited") {
		t.Errorf("exit %d, %q", got.code, got.errs)
	}
}
