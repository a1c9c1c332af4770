//go:build unix

package main

import "syscall"

// limitMemory keeps this process from taking more address space than it has now and n bytes.
func limitMemory(n uint64) error {
	return syscall.Setrlimit(syscall.RLIMIT_AS, &syscall.Rlimit{Cur: n, Max: n})
}
