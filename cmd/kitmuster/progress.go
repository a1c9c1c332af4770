package main

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// progress tells a person at a terminal how far a long run is. It writes nothing
// where nobody watches, nothing in the first half second, and takes away what it wrote.
type progress struct {
	w     io.Writer
	now   func() time.Time
	mu    sync.Mutex
	next  time.Time
	wrote bool
}

const (
	progressAfter = 500 * time.Millisecond
	progressEvery = 100 * time.Millisecond
)

func (a *app) progress(w io.Writer) *progress {
	f := terminal(w)
	if f == nil {
		return &progress{}
	}
	return &progress{w: f, now: a.now, next: a.now().Add(progressAfter)}
}

// done says that so many are done.
func (p *progress) done(n, of int) {
	if p.w == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if now := p.now(); now.After(p.next) {
		p.next, p.wrote = now.Add(progressEvery), true
		fmt.Fprintf(p.w, "\r\x1b[K%d of %d households", n, of)
	}
}

// end takes the line away.
func (p *progress) end() {
	if p.w != nil && p.wrote {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}
