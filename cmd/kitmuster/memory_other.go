//go:build !unix

package main

import "runtime/debug"

// limitMemory makes the collector work hard above n bytes; these systems offer no harder wall through the standard library.
func limitMemory(n uint64) error {
	debug.SetMemoryLimit(int64(n))
	return nil
}
