//go:build !linux

package atomicfile

import "io/fs"

func (s *swapping) in() error  { return s.renameIn() }
func (s *swapping) late() bool { return false }
func (s *swapping) out() error { return s.writeBack() }

// names cannot be told everywhere; a second name then keeps the old words.
func names(fs.FileInfo) uint64 { return 1 }
