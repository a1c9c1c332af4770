package main

import (
	"fmt"
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
