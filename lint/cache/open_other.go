//go:build !unix

package cache

// nonblock is nothing where no pipe or device can lie in a folder.
const nonblock = 0
