//go:build unix

package cache

import "syscall"

// nonblock opens a pipe that took an entry's place without waiting for the one who writes into it.
const nonblock = syscall.O_NONBLOCK
