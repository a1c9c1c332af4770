package sandbox

import (
	"fmt"
	"math"
	"os"
	"runtime/debug"
	"syscall"
)

// limitMemory keeps this process from taking more memory than it has now and n bytes. What is counted is what it may
// write to: the Go runtime reserves much more address space than it uses.
func limitMemory(n uint64) error {
	debug.SetMemoryLimit(softLimit(n))
	most := n + written()
	var now syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_DATA, &now); err == nil {
		most = min(most, now.Max)
	}
	return syscall.Setrlimit(syscall.RLIMIT_DATA, &syscall.Rlimit{Cur: most, Max: most})
}

// floors are the limits of a process under which the Go runtime or the engine would end with a trace of their own; measured on
// amd64 with some room. Under about a third of the first two the runtime ends before anything of ours runs.
var floors = []struct {
	limit      int
	least      uint64
	name, flag string
	inShell    string // in the shell's unit
}{
	{syscall.RLIMIT_AS, 2_000_000 << 10, "address space", "-v", "2000000"},
	{syscall.RLIMIT_DATA, 250_000 << 10, "memory that it may write to", "-d", "250000"},
	{syscall.RLIMIT_NOFILE, 32, "files that it may have open", "-n", "32"},
}

// Cramped says which limit of this process is below what the program needs; nil where none is.
func Cramped() error {
	for _, f := range floors {
		var now syscall.Rlimit
		if err := syscall.Getrlimit(f.limit, &now); err == nil && now.Cur < f.least {
			return fmt.Errorf("the limit on the %s (ulimit %s) is too low for this program; raise it to %s or more", f.name, f.flag, f.inShell)
		}
	}
	return nil
}

// machineMemory is the lower of the limits on memory that a process here has, in bytes.
func machineMemory() uint64 {
	least := uint64(math.MaxUint64)
	for _, l := range []int{syscall.RLIMIT_AS, syscall.RLIMIT_DATA} {
		var now syscall.Rlimit
		if err := syscall.Getrlimit(l, &now); err == nil {
			least = min(least, now.Cur)
		}
	}
	return least
}

// written is the memory that this process may write to, in bytes; see proc_pid_statm(5).
func written() uint64 {
	var total, resident, shared, text, lib, data uint64
	b, err := os.ReadFile("/proc/self/statm")
	if err == nil {
		_, err = fmt.Sscan(string(b), &total, &resident, &shared, &text, &lib, &data)
	}
	if err != nil {
		return 256 << 20 // no /proc here: about twice what a fresh process has
	}
	return data * uint64(os.Getpagesize())
}

// peak is the most memory that a process held that has ended, in bytes; see getrusage(2).
func peak(s *os.ProcessState) uint64 {
	if u, ok := s.SysUsage().(*syscall.Rusage); ok {
		return uint64(u.Maxrss) << 10
	}
	return 0
}
