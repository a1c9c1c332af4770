package lint

import (
	"fmt"
	"os"
	"sync"
)

// spoolMemory is how many bytes of findings are kept in memory before they go to a file. Our own figure.
const spoolMemory = 4 << 20

// spool keeps the packed findings of every household until they are written out:
// in memory while they are few, in a file where they are many. Safe for concurrent use.
type spool struct {
	open func() (*os.File, error)
	mu   sync.Mutex
	mem  []byte
	file *os.File
	size int64
	at   []stretch
	err  error
}

type stretch struct {
	from int64
	long int
}

func newSpool(n int, open func() (*os.File, error)) *spool {
	return &spool{open: open, at: make([]stretch, n)}
}

// put keeps the bytes of number i. What cannot be kept is told by get.
func (s *spool) put(i int, b []byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.err != nil {
		return
	}
	if s.file == nil && s.open != nil && s.size+int64(len(b)) > spoolMemory {
		if s.file, s.err = s.open(); s.err == nil {
			_, s.err = s.file.Write(s.mem)
		}
		s.mem = nil
	}
	if s.err == nil && s.file != nil {
		_, s.err = s.file.Write(b)
	} else {
		s.mem = append(s.mem, b...)
	}
	if s.err != nil {
		s.err = fmt.Errorf("the findings could not be kept until they are written out: %w", s.err)
		return
	}
	s.at[i] = stretch{s.size, len(b)}
	s.size += int64(len(b))
}

// fail makes get tell that something could not be kept; nil changes nothing.
func (s *spool) fail(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.err == nil {
		s.err = err
	}
}

// get gives the bytes of number i.
func (s *spool) get(i int) ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.err != nil {
		return nil, s.err
	}
	at := s.at[i]
	if s.file == nil {
		return s.mem[at.from : at.from+int64(at.long)], nil
	}
	b := make([]byte, at.long)
	if _, err := s.file.ReadAt(b, at.from); err != nil {
		return nil, fmt.Errorf("the findings that were kept cannot be read back: %w", err)
	}
	return b, nil
}

// close drops everything.
func (s *spool) close() {
	if s.file != nil {
		_ = s.file.Close()
	}
}
