package source

import (
	"bytes"
	"io/fs"
	"time"
)

// Memory is an ordinary file that is held in memory, and what is to be said of it.
type Memory struct {
	*bytes.Reader
	name string
	size int64
}

// NewMemory is a file of a base name that holds b.
func NewMemory(name string, b []byte) Memory { return Memory{bytes.NewReader(b), name, int64(len(b))} }

// Stat implements fs.File.
func (m Memory) Stat() (fs.FileInfo, error) { return m, nil }

// Close implements fs.File.
func (Memory) Close() error { return nil }

// Name implements fs.FileInfo, as all that follow.
func (m Memory) Name() string     { return m.name }
func (m Memory) Size() int64      { return m.size }
func (Memory) Mode() fs.FileMode  { return 0o444 }
func (Memory) ModTime() time.Time { return time.Time{} }
func (Memory) IsDir() bool        { return false }
func (Memory) Sys() any           { return nil }
