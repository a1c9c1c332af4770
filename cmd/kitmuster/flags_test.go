package main

import (
	"bytes"
	"testing"
	"time"

	"kitmuster/lint/sandbox"
)

func TestAmountsOfMemory(t *testing.T) {
	for in, want := range map[string]sandbox.Bytes{"512MiB": 512 << 20, "3 GiB": 3 << 30, "1024MiB": 1 << 30} {
		var n sandbox.Bytes
		if err := n.Set(in); err != nil || n != want {
			t.Errorf("%s: %d, %v", in, n, err)
		}
		var again sandbox.Bytes
		if err := again.Set(n.String()); err != nil || again != n {
			t.Errorf("%s is written %s and read as %d, %v", in, &n, again, err)
		}
	}
	for _, bad := range []string{"", "3", "3GB", "-1GiB", "1.5GiB", "10MiB", "9999999GiB", "3GiB "} {
		var n sandbox.Bytes
		if err := n.Set(bad); err == nil {
			t.Errorf("%q is %d", bad, n)
		}
	}
}

// Nothing for a short run, at most ten lines a second for a long one, and nothing left at its end.
func TestProgress(t *testing.T) {
	now := time.Date(2026, 11, 1, 12, 0, 0, 0, time.UTC)
	var b bytes.Buffer
	p := &progress{w: &b, now: func() time.Time { return now }, next: now.Add(progressAfter)}
	p.done(1, 300)
	p.end()
	if b.Len() > 0 {
		t.Errorf("a short run writes %q", b.String())
	}
	for n := range 100 {
		now = now.Add(10 * time.Millisecond)
		p.done(n+2, 300)
	}
	p.end()
	if n := bytes.Count(b.Bytes(), []byte("households")); n < 4 || n > 6 {
		t.Errorf("%d lines in a second, half of which is silent", n)
	}
	if !bytes.HasSuffix(b.Bytes(), []byte("of 300 households\r\x1b[K")) {
		t.Errorf("%q", b.String())
	}
	// Where nobody watches, nothing is written.
	quiet := (&app{now: func() time.Time { return now }}).progress(&b)
	n := b.Len()
	quiet.done(1, 2)
	now = now.Add(time.Hour)
	quiet.done(2, 2)
	quiet.end()
	if b.Len() != n {
		t.Error("a progress line in a file")
	}
}
