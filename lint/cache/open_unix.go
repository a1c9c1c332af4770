//go:build unix

package cache

import "syscall"

// nonblock opens a pipe that took an entry's place without waiting for whoever writes into it.
const nonblock = syscall.O_NONBLOCK
