//go:build !linux

package sandbox

import (
	"math"
	"os"
	"runtime/debug"
)

// limitMemory makes the collector work hard near n bytes. Elsewhere than on Linux that is all: a household that truly
// needs more takes it, until its time is over.
func limitMemory(n uint64) error {
	debug.SetMemoryLimit(softLimit(n))
	return nil
}

// peak is not known here.
func peak(*os.ProcessState) uint64 { return 0 }

// Cramped is not known here.
func Cramped() error { return nil }

// machineMemory is not known here.
func machineMemory() uint64 { return math.MaxUint64 }
