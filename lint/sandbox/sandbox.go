// Package sandbox keeps what strangers wrote within bounds. CUE cannot be stopped once it evaluates, and a kit of fifty bytes can keep
// it busy for hours or eat the machine's memory. So households are judged by workers, processes of the same program that can be ended
// (Pool, Serve), and a command that evaluates one thing of a stranger runs whole in such a process (Run). A household that takes too
// long or too much is named as not judged, and the others go on. Memory is bounded by the system on Linux alone; elsewhere the
// collector works hard near the bound.
//
// Time runs from when a worker is ready. Memory is what it may write to, since address space is mostly reserved and never used. A worker
// that ends without having overstepped, or that held what others left, is replaced, and the household is judged again.
package sandbox

import (
	"fmt"
	"regexp"
	"strconv"
	"time"
)

// Our own figures, far above any real kit.
const (
	// UsualTime and UsualMemory (bytes) are what a household may take where nobody says otherwise.
	UsualTime   = 20 * time.Second
	UsualMemory = 3 << 30 // bytes
	// startTime is how long a worker may take to make itself ready, which is no household's fault.
	startTime = time.Minute
	// grown is when a worker is let go after its answer, so that one large household does not hold memory for good.
	grown = 1 << 30
)

// softLimit is from where on the collector works hard, so that garbage alone oversteps nothing.
func softLimit(memory uint64) int64 { return int64(memory / 4 * 3) }

// Bounds are what one household may take.
type Bounds struct {
	Time   time.Duration
	Memory Bytes
}

// Check says what is wrong with a time limit.
func (b *Bounds) Check() error {
	if b.Time < 100*time.Millisecond || b.Time > 24*time.Hour {
		return fmt.Errorf("--time-limit %v: write a time from 100ms to 24h, such as 20s", b.Time)
	}
	return nil
}

// Bytes is an amount of memory, written as "512 MiB" or "3 GiB" (IEC 80000-13 prefixes).
type Bytes uint64

var byteForm = regexp.MustCompile(`^([0-9]{1,6}) ?(MiB|GiB)$`)

// Set reads one, as flags do.
func (n *Bytes) Set(s string) error {
	m := byteForm.FindStringSubmatch(s)
	if m == nil {
		return fmt.Errorf("%q is not an amount of memory; write it like 512MiB or 3GiB", s)
	}
	k, _ := strconv.ParseUint(m[1], 10, 64)
	shift := map[string]int{"MiB": 20, "GiB": 30}[m[2]]
	if *n = Bytes(k << shift); *n < 256<<20 {
		return fmt.Errorf("%s is too little to judge any household; give at least 256MiB", s)
	}
	return nil
}

// String writes one as Set reads it.
func (n *Bytes) String() string {
	if *n>>30<<30 == *n {
		return fmt.Sprintf("%dGiB", *n>>30)
	}
	return fmt.Sprintf("%dMiB", *n>>20)
}

// allowed says how much memory a household may take: the flag's, or the machine's where that is less.
func (b *Bounds) allowed() string {
	if n := machineMemory(); n < uint64(b.Memory) {
		return fmt.Sprintf("this machine lets a process have (%d MiB, ulimit -v or -d)", n>>20)
	}
	return b.Memory.String()
}

// Type is what flags call it.
func (*Bytes) Type() string { return "memory" }
